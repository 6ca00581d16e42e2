// A large button to tap at each pass of the bow. Times are taken here, in the browser, from the
// moment each event happened; the kernel hears them once the tapping has paused.
const QUIET = 1200; // ms without a tap, after which the taps so far are handed on
const AFRESH = 6000; // ms without a tap, after which the next one begins a new count

function render({ model, el }) {
  const pad = document.createElement("button");
  pad.type = "button";
  pad.className = "fh-pad";
  // JupyterLab would take the space bar and Enter for its own shortcuts.
  pad.setAttribute("data-lm-suppress-shortcuts", "true");
  const words = document.createElement("span");
  words.textContent = model.get("words");
  const count = document.createElement("b");
  count.setAttribute("aria-hidden", "true"); // spoken at each tap it would drown the beat
  pad.append(words, count);
  el.append(pad);

  let stamps = [];
  let timer = null;
  let handled = false;

  const show = () => {
    if (!stamps.length) count.textContent = "space bar, Enter, click or touch";
    else {
      const last = (stamps[stamps.length - 1] - stamps[0]) / 1000;
      count.textContent = `${stamps.length} taps in ${last.toFixed(0)} s`;
    }
  };
  const handOn = () => {
    timer = null;
    model.set("value", stamps.map((stamp) => (stamp - stamps[0]) / 1000));
    model.save_changes();
  };
  const tap = (stamp) => {
    if (stamps.length && stamp - stamps[stamps.length - 1] > AFRESH) stamps = [];
    if (stamps.length && stamp <= stamps[stamps.length - 1]) return;
    stamps.push(stamp);
    show();
    clearTimeout(timer);
    timer = setTimeout(handOn, QUIET);
  };
  const isPress = (event) => event.key === " " || event.key === "Enter";

  pad.addEventListener("keydown", (event) => {
    if (!isPress(event)) return;
    event.preventDefault(); // no click on top of it, no scrolling
    event.stopPropagation();
    if (!event.repeat) tap(event.timeStamp);
  });
  pad.addEventListener("keyup", (event) => {
    if (isPress(event)) event.preventDefault();
  });
  pad.addEventListener("pointerdown", (event) => {
    handled = true;
    tap(event.timeStamp);
  });
  pad.addEventListener("click", (event) => {
    // Screen readers and switches press the button without a key or a pointer.
    if (!handled) tap(event.timeStamp);
    handled = false;
  });

  const heard = () => {
    if (model.get("value").length === 0 && timer === null) {
      stamps = [];
      show();
    }
  };
  model.on("change:value", heard);
  show();
  return () => {
    clearTimeout(timer);
    model.off("change:value", heard);
  };
}

export default { render };
