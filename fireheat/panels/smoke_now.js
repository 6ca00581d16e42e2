// One watch for the minute after first smoke: two buttons, then one. It holds a moment of the wall
// clock, so a page that sleeps loses no second; the kernel hears now and then how far it is.
const TICK = 200; // ms between two looks at the clock
const TOLD = 5; // s between two words to the kernel: words that change each second nobody reads
const AHEAD = 1.2; // s of beats that are set: the clock of a page that is not looked at is slow
const PITCH = 660, RING = 0.08, LOUD = 0.15; // Hz, s, share of full scale: as soft as it can be heard
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
  const beat = document.createElement("button");
  beat.type = "button";
  beat.className = "fh-smoke-beat";
  el.append(clock, keys.stroke, keys.smoke, keys.stop, beat);

  // ---- the beat: one soft ring for each pass of the bow -----------------------------------------
  let audio = null, next = 0;
  const ring = (at) => {
    const tone = audio.createOscillator(), loud = audio.createGain();
    tone.frequency.value = PITCH;
    loud.gain.setValueAtTime(LOUD, at);
    loud.gain.exponentialRampToValueAtTime(0.001, at + RING);
    tone.connect(loud).connect(audio.destination);
    tone.start(at);
    tone.stop(at + RING);
  };
  const sound = () => {
    for (const gap = 60 / model.get("beat"); audio && next < audio.currentTime + AHEAD; next += gap) ring(next);
  };
  const hush = () => {
    audio?.close();
    audio = null;
  };
  beat.addEventListener("click", () => {
    if (audio) hush();
    else {
      audio = new AudioContext();
      next = audio.currentTime + 0.1;
    }
    look();
  });

  const put = (all) => {
    model.set(all);
    model.save_changes();
  };
  const since = () => Math.min(model.get("most"), Math.max(0, (Date.now() - model.get("start")) / 1000));
  const running = () => model.get("start") > 0;
  const tell = (elapsed) => put({ elapsed: Math.round(10 * elapsed) / 10 });

  const look = () => {
    sound();
    beat.hidden = !(model.get("beat") > 0);
    if (beat.hidden) hush();
    beat.classList.toggle("fh-on", audio !== null);
    beat.textContent = `${audio ? "Stop" : "Hear"} the beat: ${Math.round(model.get("beat"))} a minute`;
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
    hush();
    clearInterval(timer);
    model.off("change", look);
  };
}

export default { render };
