// The spoken half of a panel, and what only a browser can do for it. It says each new result to
// screen readers, gives every control the name that is written beside it, tells the kernel which
// theme and how many dots a picture has, and fills the window with a panel.
const PLAY = { "fa-play": "Play", "fa-pause": "Pause", "fa-stop": "Back to the start" };
const SETTLED = 150; // milliseconds without a change of size, after which a picture is asked for
const YOUNG = 3000; // milliseconds, in which a panel is still being built
const STEPS = { PageUp: "back", ArrowLeft: "back", PageDown: "next", ArrowRight: "next" };
const TYPED = "input:not([type=radio]):not([type=checkbox]), textarea, select, [contenteditable]";

// ---- names --------------------------------------------------------------------------------------

function name(part, words) {
  if (part.getAttribute("aria-label") !== words) part.setAttribute("aria-label", words);
}

function namePlay(play) {
  for (const [icon, words] of Object.entries(PLAY)) {
    for (const part of play.querySelectorAll(`button:has(.${icon})`)) name(part, words);
  }
}

// "Bow speed (m/s)" is the whole name; on screen the unit stands behind the number instead.
function splitLabel(label, readout) {
  const words = label.textContent.trim();
  if (words !== label.dataset.shown) {
    const [, shown, unit] = readout ? words.match(/^(.*?)(?: \(([^()]+)\))?$/) : [, words, ""];
    Object.assign(label.dataset, { whole: words, shown });
    if (shown !== words) label.textContent = shown;
    if (readout) readout.dataset.unit = unit || "";
  }
  return label.dataset.whole;
}

function nameControls(root) {
  for (const box of root.querySelectorAll(".jupyter-widgets")) {
    const label = box.querySelector(":scope > .widget-label");
    if (!label) continue;
    const readout = box.querySelector(":scope > .widget-readout");
    const words = splitLabel(label, readout);
    if (!words) continue;
    if (readout && box.matches(".widget-slider")) watchNumber(readout);
    for (const part of box.querySelectorAll(".noUi-handle, input:not([type=radio]), select, .widget-readout")) {
      name(part, words);
    }
  }
  for (const choice of root.querySelectorAll(".widget-toggle-buttons")) {
    choice.setAttribute("role", "group");
    name(choice, choice.querySelector(".widget-label")?.textContent.trim() || "");
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

// ---- numbers typed in ---------------------------------------------------------------------------

// Much of the world writes 13,5, and a rule in inches has 1 1/4. The slider reads 13.5 and 1.25.
function plainNumber(words) {
  const plain = words.replace(/[¼-¾⅐-⅞]/g, (one) => ` ${one.normalize("NFKD").replace("⁄", "/")}`);
  const [, whole, over, under] = plain.match(/^\s*(?:(\d+)[\s-]+)?(\d+)\s*\/\s*([1-9]\d*)\s*(?:in|")?\s*$/) || [];
  if (under) return String(Number(whole || 0) + over / under);
  return /^\s*[-−]?\d*,\d+\s*$/.test(words) ? words.replace(",", ".").replace("−", "-") : words;
}

// Spells a number in fractions of an inch, as the kernel does.
function spelled(inches, parts) {
  const marks = Math.floor(inches * parts + 0.5);
  const whole = Math.floor(marks / parts);
  let [over, under] = [marks % parts, parts];
  if (!over) return `${whole}`;
  while (over % 2 === 0) [over, under] = [over / 2, under / 2];
  return `${whole || ""} ${over}/${under}`.trim();
}

// Shows a slider's number in fractions where its kernel asked for them, but not under the fingers.
function showFraction(readout) {
  const parts = Number(readout.closest(".widget-slider")?.className.match(/fh-parts-(\d+)/)?.[1]);
  if (!parts || readout.fhTyping || !/^\d+(\.\d+)?$/.test(readout.textContent)) return;
  const words = spelled(Number(readout.textContent), parts);
  if (words !== readout.textContent) readout.textContent = words;
}

function watchNumber(readout) {
  if (readout.fhNumber) return;
  // Once the slider has read what was typed, and before anything is painted.
  const later = () => requestAnimationFrame(() => showFraction(readout));
  readout.fhNumber = new MutationObserver(later);
  readout.fhNumber.observe(readout, { childList: true, characterData: true, subtree: true });
  readout.fhNumber.observe(readout.closest(".widget-slider"), { attributeFilter: ["class"] });
  readout.addEventListener("input", () => (readout.fhTyping = true));
  later();
}

function readTyped(part) {
  part.fhTyping = false;
  const plain = plainNumber(part.textContent);
  if (plain !== part.textContent) part.textContent = plain;
}

// A number typed into a readout counts when the readout is left, too, not only after Enter.
function watchReadout(event) {
  const part = event.target.closest?.(".widget-readout");
  if (!part) return;
  if (event.type === "focusin") part.dataset.was = part.textContent;
  else if (part.textContent !== part.dataset.was) {
    readTyped(part);
    part.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", keyCode: 13, bubbles: true }));
  }
}

function leaveReadout(event) {
  if (event.target.matches?.(".widget-readout")) readTyped(event.target);
}

function typeComma(event) {
  const part = event.target;
  if (event.key === "Enter" && part.matches(".widget-readout")) readTyped(part);
  if (event.key === "," && part.matches("input[type=number]")) {
    event.preventDefault(); // a browser that reads English would drop it and make 135 of 13,5
    document.execCommand("insertText", false, ".");
  }
}

// ---- the whole window ---------------------------------------------------------------------------

const big = (root) => root.classList.contains("fh-big");
const outermost = (root) => {
  while (root.parentElement?.closest(".fireheat")) root = root.parentElement.closest(".fireheat");
  return root;
};

function able(root) {
  const parts = root.querySelectorAll("button, input, select, textarea, audio, a[href], summary, [tabindex]");
  return [...parts].filter((part) =>
    !part.disabled && part.tabIndex >= 0 && part.checkVisibility({ visibilityProperty: true }));
}

// As a popover a panel stands above all of JupyterLab without leaving its place in the page, so
// its widgets stay alive; nothing around it can cut it off.
function showBig(root, on) {
  if (on === big(root)) return;
  const from = document.activeElement;
  if (on) {
    root.fhFrom = root.contains(from) ? from : null;
    // The page below must not move, neither as the panel leaves it nor as focus goes about.
    const { top, height } = root.getBoundingClientRect();
    root.parentElement.style.minHeight = `${height}px`;
    root.fhTop = top;
    root.fhScrolled = [];
    for (let part = root.parentElement; part; part = part.parentElement) {
      if (part.scrollTop) root.fhScrolled.push([part, part.scrollTop]);
    }
    root.classList.add("fh-big");
    root.setAttribute("popover", "manual");
    root.setAttribute("role", "dialog");
    root.setAttribute("aria-modal", "true");
    root.setAttribute("aria-label", root.querySelector(".fh-question")?.textContent.trim() || "Shown big");
    root.showPopover?.();
    tellKeys(root);
    document.addEventListener("keydown", root.fhKeys, true);
    // Buttons inside a player of sound keep their keys to themselves: Escape comes from here alone.
    if (window.CloseWatcher) (root.fhClosing = new CloseWatcher()).onclose = () => showBig(root, false);
    const first = root.querySelector(".noUi-handle, input, .fh-next") || root.querySelector("button");
    (root.fhFrom?.checkVisibility() && !root.fhFrom.matches(".fh-show") ? root.fhFrom : first)?.focus();
  } else {
    document.removeEventListener("keydown", root.fhKeys, true);
    root.fhClosing?.destroy();
    root.hidePopover?.();
    root.classList.remove("fh-big");
    for (const attribute of ["popover", "role", "aria-modal", "aria-label"]) root.removeAttribute(attribute);
    root.parentElement.style.minHeight = "";
    (root.contains(from) && from.checkVisibility() ? from : root.fhShow)?.focus({ preventScroll: true });
    for (const [part, top] of root.fhScrolled) part.scrollTop = top;
    // What stands above may have grown meanwhile, as panels answer late: the reader's place is the panel.
    const moved = () => root.getBoundingClientRect().top - root.fhTop;
    for (let part = root.parentElement, by; part && Math.abs(by = moved()) >= 1; part = part.parentElement) {
      if (/auto|scroll/.test(getComputedStyle(part).overflowY)) part.scrollTop += by;
    }
  }
}

function press(root, kind) {
  const part = root.querySelector(`.fh-key-${kind}`);
  if (part && !part.disabled) part.click();
}

// Keys while a panel fills the window; nothing behind it hears them.
function bigKeys(root, event) {
  const chord = event.ctrlKey || event.metaKey || event.altKey;
  if (chord) return;
  const typing = event.target.matches?.(TYPED), parts = able(root), at = parts.indexOf(event.target);
  let done = true;
  if (event.key === "Escape") showBig(root, false);
  else if (event.key === "Tab") {
    const step = event.shiftKey ? -1 : 1;
    if (at < 0 || !parts[at + step]) parts.at(event.shiftKey ? -1 : 0)?.focus();
    else done = false;
  } else if (/^Arrow(Up|Down)$/.test(event.key) && event.target.matches?.(".noUi-handle")) {
    const handles = parts.filter((part) => part.matches(".noUi-handle"));
    const next = handles.indexOf(event.target) + (event.key === "ArrowUp" ? -1 : 1);
    handles[(next + handles.length) % handles.length].focus();
  } else done = false;
  if (done) event.preventDefault();
  if (done || !root.contains(event.target)) event.stopPropagation();
}

// A key pressed on a control is for that control; JupyterLab would take arrows and letters to move
// among cells. Keys with Ctrl, Shift and the like, and Escape, still go to JupyterLab.
function keepKey(event) {
  const root = event.currentTarget;
  const chord = event.ctrlKey || event.metaKey || event.altKey || event.shiftKey;
  if (!chord && !event.target.matches?.(TYPED)) {
    const whole = outermost(root);
    const key = event.key.toLowerCase();
    if (key === "f") showBig(whole, !big(whole));
    else if (big(whole) && key === "b") press(root, root.querySelector(".fh-has-before") ? "drop" : "keep");
    else if (big(whole) && key === "r") press(root, "reset");
    else if (root.matches(".fh-steps") && STEPS[event.key]) {
      root.focus(); // a button that was pressed last may go dead, and take the focus with it
      press(root, STEPS[event.key]);
    } else if (event.key !== "Escape") return event.stopPropagation();
    else return;
    event.preventDefault();
    event.stopPropagation();
  } else if (!chord && event.key !== "Escape") event.stopPropagation();
}

// What keys do, in the top right corner; a panel in this one may have come later.
function tellKeys(root) {
  const hints = root.querySelector(":scope > .fh-hints");
  const seen = (kind) => root.querySelector(kind)?.checkVisibility();
  const keys = root.querySelector(".fh-steps, .fh-step")
    ? [["←", "→", "step"]]
    : seen(".noUi-handle") ? [["↑", "↓", "which"], ["←", "→", "move"]] : [];
  if (root.querySelector(".fh-key-keep")) keys.push(["B", "before"]);
  // A panel that starts again tells that key itself.
  if (root.querySelector(".fh-key-keep ~ .fh-key-reset")) keys.push(["R", "reset"]);
  keys.push(["Esc", "back"]);
  hints.replaceChildren(...keys.map((key) => {
    const hint = document.createElement("span");
    hint.append(...key.slice(0, -1).map((words) => {
      const cap = document.createElement("kbd");
      cap.textContent = words;
      return cap;
    }), ` ${key.at(-1)}`);
    return hint;
  }));
  const unit = Math.min(innerWidth / 100, innerHeight / 56.25); // as --fh-u
  root.style.setProperty("--fh-told", hints.offsetWidth / unit);
}

// What was unfolded is below the screen, more often than not.
function showUnfolded({ target, currentTarget: root }) {
  const below = target.closest?.(".fh-more") && root.querySelector(".fh-below");
  if (!below) return;
  let sizes = 0;
  const grown = new ResizeObserver(() => {
    if (sizes++) below.scrollIntoView({ block: "nearest" });
    if (sizes > 1) grown.disconnect();
  });
  grown.observe(below);
}

function addShow(root) {
  if (root.fhShow || root !== outermost(root)) return;
  const show = (root.fhShow = document.createElement("button"));
  show.type = "button";
  show.className = "fh-show";
  show.innerHTML = "Show big <kbd>F</kbd>";
  show.addEventListener("click", () => showBig(root, true));
  const hints = document.createElement("div");
  hints.className = "fh-hints";
  hints.addEventListener("click", () => showBig(root, false));
  root.append(show, hints); // last, for what counts the children before it
}

// ---- theme and size -----------------------------------------------------------------------------

function theme() {
  return document.body.dataset.jpThemeLight === "false" ? "dark" : "light";
}

// Ask for pictures in the theme and with the dots that are on the screen, once it holds still. How
// large a picture is shown never hangs on how many dots it has, so one asks for no other.
function watchLook(model, root) {
  const own = (part) => part && part.closest(".fireheat") === root;
  let timer = null;
  const tell = () => {
    const image = root.querySelector(".fh-shot img");
    if (!own(image)) return;
    const { width, height } = image.getBoundingClientRect();
    const fits = Math.min(width, (height * image.getAttribute("width")) / image.getAttribute("height"));
    const dots = Math.round(fits * window.devicePixelRatio) / image.getAttribute("width");
    const scale = Math.min(6, Math.max(0.25, dots));
    if (width && Math.abs(scale - model.get("scale")) > 0.004) model.set("scale", scale);
    if (model.get("theme") !== theme()) model.set("theme", theme());
    model.save_changes();
  };
  const later = () => {
    clearTimeout(timer);
    timer = setTimeout(tell, SETTLED);
  };
  const sizes = new ResizeObserver(() => {
    later();
    requestAnimationFrame(() => keepRoom(root));
  });
  const themes = new MutationObserver(tell);
  themes.observe(document.body, { attributeFilter: ["data-jp-theme-light"] });
  window.addEventListener("resize", later); // a zoom, or another screen
  const shot = [...root.querySelectorAll(".fh-shot")].find(own);
  if (shot) sizes.observe(shot);
  later();
  return () => {
    clearTimeout(timer);
    sizes.disconnect();
    themes.disconnect();
    window.removeEventListener("resize", later);
  };
}

// What was as high as that once stays so until the width changes: nothing jumps while sliders move.
function keepRoom(root) {
  const parts = [...root.querySelectorAll(".fh-face, .fh-effect, .fh-foot .fh-voice, .fh-step")];
  // Until it stands still after it was built, letters and style sheets may still be missing.
  const width = performance.now() < root.fhYoung ? null : `${root.clientWidth} ${big(root)}`;
  if (!width || root.fhWidth !== width) for (const part of parts) part.style.minHeight = "";
  root.fhWidth = width;
  if (!width) return;
  const heights = parts.map((part) => part.offsetHeight); // all are read before one is written
  parts.forEach((part, i) => {
    if (heights[i] > (parseFloat(part.style.minHeight) || 0)) part.style.minHeight = `${heights[i]}px`;
  });
}

function render({ model, el }) {
  el.classList.add("fh-voice");
  el.setAttribute("role", "status");
  el.setAttribute("aria-live", "polite");
  let root = null, leave = () => {};
  const speak = () => {
    const words = model.get("shown");
    if (el.textContent !== words) el.textContent = words; // the same words are not spoken twice
    if (!el.closest(".fireheat")) return;
    if (root !== el.closest(".fireheat")) {
      leave();
      root = el.closest(".fireheat");
      root.fhKeys ||= (event) => bigKeys(root, event);
      if (root.matches(".fh-steps")) root.tabIndex = -1;
      root.fhYoung = performance.now() + YOUNG;
      leave = watchLook(model, root);
      // The same listener is only ever added once.
      root.addEventListener("keydown", keepKey);
      root.addEventListener("click", showUnfolded);
      root.addEventListener("keydown", typeComma, true);
      root.addEventListener("focusin", watchReadout);
      root.addEventListener("focusout", watchReadout);
      root.addEventListener("blur", leaveReadout, true); // before the slider hears of it
    }
    nameControls(root);
    addShow(root);
    requestAnimationFrame(() => keepRoom(root));
  };
  model.on("change:shown", speak);
  speak();
  const stands = (more) => {
    model.set("views", Math.max(0, model.get("views") + more));
    model.save_changes();
  };
  stands(1);
  const seen = new IntersectionObserver(([{ isIntersecting }]) => {
    if (!isIntersecting) return;
    model.set("looks", model.get("looks") + 1);
    model.save_changes();
  });
  if (model.get("counted")) seen.observe(el);
  // Controls beside this line may be built after it: look again until they stand.
  const timer = setInterval(speak, 300);
  setTimeout(() => clearInterval(timer), YOUNG + 200);
  return () => {
    clearInterval(timer);
    seen.disconnect();
    leave();
    model.off("change:shown", speak);
    stands(-1);
  };
}

export default { render };
