// The spoken half of a panel. It says each new result to screen readers, and gives every
// control the name that is written beside it, because slider handles come without one.
const PLAY = { "fa-play": "Play", "fa-pause": "Pause", "fa-stop": "Back to the start" };

function name(part, words) {
  if (part.getAttribute("aria-label") !== words) part.setAttribute("aria-label", words);
}

function namePlay(play) {
  for (const [icon, words] of Object.entries(PLAY)) {
    for (const part of play.querySelectorAll(`button:has(.${icon})`)) name(part, words);
  }
}

function nameControls(root) {
  for (const box of root.querySelectorAll(".jupyter-widgets")) {
    const label = box.querySelector(":scope > .widget-label");
    if (!label) continue;
    const words = label.textContent.trim();
    if (!words) continue;
    for (const part of box.querySelectorAll(".noUi-handle, input:not([type=radio]), select, .widget-readout")) {
      name(part, words);
    }
  }
  for (const play of root.querySelectorAll(".widget-play")) {
    namePlay(play);
    if (play.fhSeen) continue;
    play.fhSeen = new MutationObserver(() => namePlay(play)); // its icons change without a word
    play.fhSeen.observe(play, { subtree: true, childList: true, attributeFilter: ["class"] });
  }
  for (const ask of root.querySelectorAll(".fh-ask")) {
    const group = ask.querySelector(".widget-radio-box");
    const question = ask.querySelector(".fh-question");
    if (!group || !question) continue;
    group.setAttribute("role", "radiogroup");
    // One name makes them one group, in which arrow keys choose.
    const shared = group.querySelector("input")?.name || `fh-${Math.random().toString(36).slice(2)}`;
    for (const radio of group.querySelectorAll("input")) radio.name = shared;
    name(group, question.textContent.trim());
  }
}

// A key pressed on a control is for that control; JupyterLab would take arrows and letters to move
// among cells. Keys with Ctrl, Shift and the like, and Escape, still go to JupyterLab.
function keepKey(event) {
  const chord = event.ctrlKey || event.metaKey || event.altKey || event.shiftKey;
  if (!chord && event.key !== "Escape") event.stopPropagation();
}

// A number typed into a readout counts when the readout is left, too, not only after Enter.
function watchReadout(event) {
  const part = event.target.closest(".widget-readout");
  if (!part) return;
  if (event.type === "focusin") part.dataset.was = part.textContent;
  else if (part.textContent !== part.dataset.was) {
    part.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", keyCode: 13, bubbles: true }));
  }
}

function render({ model, el }) {
  el.classList.add("fh-voice");
  el.setAttribute("role", "status");
  el.setAttribute("aria-live", "polite");
  const speak = () => {
    const words = model.get("text");
    if (el.textContent !== words) el.textContent = words; // the same words are not spoken twice
    const root = el.closest(".fireheat");
    if (!root) return;
    nameControls(root);
    root.addEventListener("keydown", keepKey); // the same listener is only ever added once
    root.addEventListener("focusin", watchReadout);
    root.addEventListener("focusout", watchReadout);
  };
  model.on("change:text", speak);
  speak();
  // Controls beside this line may be built after it: look again until they stand.
  const timer = setInterval(speak, 300);
  setTimeout(() => clearInterval(timer), 3000);
  return () => {
    clearInterval(timer);
    model.off("change:text", speak);
  };
}

export default { render };
