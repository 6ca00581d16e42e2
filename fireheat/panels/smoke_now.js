// One watch for the minute after first smoke: two buttons, then one. It holds a moment of the wall
// clock, so a page that sleeps loses no second; the kernel hears now and then how far it is.
const TICK = 200; // ms between two looks at the clock
const TOLD = 5; // s between two words to the kernel: words that change each second nobody reads
const clockWords = (s) => `${Math.floor(s / 60)}:${String(Math.floor(s % 60)).padStart(2, "0")}`;

function render({ model, el }) {
  el.classList.add("fh-smoke-clock");
  el.setAttribute("data-lm-suppress-shortcuts", "true"); // JupyterLab would take the space bar
  const clock = document.createElement("div");
  clock.className = "fh-smoke-time";
  clock.setAttribute("role", "timer");
  clock.setAttribute("aria-label", "Since the first stroke");
  const keys = Object.fromEntries(
    [["stroke", "First stroke"], ["smoke", "Smoke!"], ["stop", "Stop"]].map(([name, words]) => {
      const key = document.createElement("button");
      key.type = "button";
      key.className = `fh-smoke-key fh-smoke-${name}`;
      key.textContent = words;
      return [name, key];
    }),
  );
  el.append(clock, keys.stroke, keys.smoke, keys.stop);

  const put = (all) => {
    model.set(all);
    model.save_changes();
  };
  const since = () => Math.min(model.get("most"), Math.max(0, (Date.now() - model.get("start")) / 1000));
  const running = () => model.get("start") > 0;
  const tell = (elapsed) => put({ elapsed: Math.round(10 * elapsed) / 10 });

  const look = () => {
    const smoked = model.get("smoke") > 0;
    clock.textContent = clockWords(running() ? since() : model.get("shown"));
    keys.stroke.hidden = running();
    keys.smoke.hidden = running() && smoked;
    keys.stop.hidden = !running();
    if (!running()) return;
    if (since() >= model.get("most")) stop();
    else if (smoked && since() - model.get("elapsed") >= TOLD) tell(since());
  };
  const stop = () => {
    if (model.get("smoke") > 0) tell(since());
    put({ start: 0 });
  };
  const at = {
    stroke: () => put({ start: Date.now(), smoke: 0, elapsed: 0 }),
    smoke: () => {
      // Who did not press at the first stroke has typed how long ago it was.
      if (!running()) put({ start: Date.now() - 1000 * model.get("typed") });
      const now = Math.max(model.get("least"), Math.round(10 * since()) / 10);
      put({ smoke: now, elapsed: now });
    },
    stop,
  };
  for (const [name, act] of Object.entries(at))
    keys[name].addEventListener("click", () => {
      act();
      look();
      if (keys[name].hidden) (keys.smoke.hidden ? keys.stop.hidden ? keys.stroke : keys.stop : keys.smoke).focus();
    });

  model.on("change", look);
  const timer = setInterval(look, TICK);
  look();
  return () => {
    clearInterval(timer);
    model.off("change", look);
  };
}

export default { render };
