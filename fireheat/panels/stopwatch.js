// Three watches for three patrols. A watch holds moments of the wall clock, not a count, so neither a
// closed lid nor a page that sleeps loses a second. What was pressed is kept in this browser at once,
// and told to the kernel.
const PLACE = "fireheat-stopwatch";
const TICK = 250; // ms between two looks at the clock
const LONG = 3600e3; // ms after which a try was surely forgotten
const KEYS = [["1", "2", "3", "4"], ["5", "6", "7", "8"], ["Q", "W", "E", "R"]];
const ACTS = { start: "Start", smoke: "Smoke", ember: "Ember", up: "Gave up" };
const NOTES = { start: "first stroke", smoke: "first steady", ember: "when it glows", up: "counts too" };
const SIGNS = { start: "▸", smoke: "≈", ember: "▲", up: "✕" };
const TYPED = "input, select, textarea, [contenteditable]";

const fresh = (lane) => ({ who: lane?.who ?? "", set: lane?.set ?? {}, start: null, smoke: null, end: null, how: null });
const clockWords = (ms) => {
  const all = Math.max(0, Math.floor(ms / 1000));
  return `${Math.floor(all / 60)}:${String(all % 60).padStart(2, "0")}`;
};
const spoken = (ms) => `${Math.round(ms / 1000)} seconds`;

function make(kind, className, words = "") {
  const part = document.createElement(kind);
  part.className = className;
  part.textContent = words;
  if (kind === "button") part.type = "button";
  return part;
}

// ---- what is kept -------------------------------------------------------------------------------

function isState(one) {
  const moment = (at) => at === null || Number.isFinite(at);
  return Number.isFinite(one?.at) && Array.isArray(one.lanes) && one.lanes.length === KEYS.length &&
    one.lanes.every((lane) => lane && typeof lane.who === "string" && typeof lane.set === "object" && lane.set !== null &&
      [lane.start, lane.smoke, lane.end].every(moment));
}

function readKept() {
  try {
    const kept = JSON.parse(localStorage.getItem(PLACE));
    return isState(kept) ? kept : null;
  } catch {
    return null;
  }
}

function keep(state) {
  try {
    localStorage.setItem(PLACE, JSON.stringify(state));
    return true;
  } catch {
    return false; // private windows and strict schools refuse
  }
}

// ---- the watches --------------------------------------------------------------------------------

function render({ model, el }) {
  el.className = `${el.className} fh-watches`;
  el.setAttribute("data-lm-suppress-shortcuts", "true"); // JupyterLab would take the keys
  const row = make("div", "fh-watch-row");
  const status = make("div", "fh-heard");
  status.setAttribute("role", "status");
  const kept = make("p", "fh-watch-kept");
  const hot = make("p", "fh-watch-hot");
  hot.innerHTML = model.get("caution");
  el.append(row, hot, kept, status);

  let state = { at: 0, lanes: KEYS.map(() => fresh()) };
  const told = KEYS.map(() => ""); // what the kernel said of each
  let asked = KEYS.map(() => null); // the start of what was sent to the log
  const lanes = KEYS.map((keys, number) => build(number, keys));

  function build(number, keys) {
    const name = `Patrol ${number + 1}`;
    const box = make("section", "fh-watch");
    box.setAttribute("aria-label", name);
    const head = make("div", "fh-watch-head");
    const title = make("b", "", name);
    const who = make("select", "fh-watch-who");
    who.setAttribute("aria-label", `${name}: whose try, by code`);
    for (const code of ["", ...model.get("learners")]) who.append(new Option(code || "who?", code));
    who.addEventListener("change", () => change(() => (state.lanes[number].who = who.value)));
    const clock = make("div", "fh-watch-clock");
    clock.setAttribute("role", "timer");
    clock.setAttribute("aria-label", `${name}: clock`);
    head.append(title, who, clock);
    box.append(head);
    const buttons = {};
    Object.entries(ACTS).forEach(([act, words], at) => {
      const one = (buttons[act] = make("button", `fh-watch-key fh-watch-${act}`));
      const sign = make("span", "fh-watch-sign", SIGNS[act]);
      sign.setAttribute("aria-hidden", "true");
      const note = make("small", "", NOTES[act]);
      one.append(sign, make("b", "", words), note, make("kbd", "", keys[at]));
      one.setAttribute("aria-keyshortcuts", keys[at]);
      one.addEventListener("click", () => press(number, act));
      box.append(one);
    });
    const after = make("div", "fh-watch-after");
    const add = make("button", "fh-watch-add", "Add to our log");
    const out = make("button", "fh-watch-out", "Leave out");
    const back = make("button", "fh-watch-back", "Take back");
    add.addEventListener("click", () => addTry(number));
    out.addEventListener("click", () => leaveOut(number));
    back.addEventListener("click", () => takeBack(number));
    for (const one of [add, out, back]) one.setAttribute("aria-label", `${name}: ${one.textContent.toLowerCase()}`);
    after.append(add, out, back);
    const set = make("details", "fh-watch-set");
    const summary = make("summary", "");
    const fields = make("div", "fh-watch-fields");
    set.append(summary, fields);
    const words = make("p", "fh-watch-words");
    box.append(after, words, set);
    row.append(box);
    return { name, who, clock, buttons, add, out, back, summary, fields, words };
  }

  // ---- what is pressed

  function change(act) {
    act();
    state.at = Math.max(Date.now(), state.at + 1);
    tell(keep(state));
    show();
  }

  function tell(safe) {
    kept.textContent = safe
      ? "Kept in this browser: close the lid or load the page again, and each clock is still right."
      : "This browser keeps nothing. Do not load the page again while a try runs, and write times on paper too.";
    model.set("state", structuredClone(state));
    model.save_changes();
  }

  const can = (lane, act) => {
    if (act === "start") return lane.start === null;
    return lane.start !== null && lane.end === null && (act !== "smoke" || lane.smoke === null);
  };

  function press(number, act) {
    const lane = state.lanes[number], now = Date.now();
    if (!can(lane, act)) return;
    told[number] = "";
    change(() => {
      if (act === "start") Object.assign(lane, fresh(lane), { start: now });
      else if (act === "smoke") lane.smoke = now;
      else Object.assign(lane, { end: now, how: act === "ember" ? "ember" : "gave up" });
    });
    const after = act === "start" ? "the clock runs" : `${ACTS[act].toLowerCase()} after ${spoken(now - lane.start)}`;
    const hotter = act === "up" ? ". The heap is hot, too: wet it" : "";
    status.textContent = `${lanes[number].name}: ${after}${hotter}.`;
  }

  function takeBack(number) {
    const lane = state.lanes[number];
    told[number] = "";
    change(() => {
      if (lane.end !== null) Object.assign(lane, { end: null, how: null });
      else if (lane.smoke !== null) lane.smoke = null;
      else if (lane.start !== null) lane.start = null;
      else if (lane.out) state.lanes[number] = lane.out;
    });
    status.textContent = `${lanes[number].name}: taken back.`;
  }

  function leaveOut(number) {
    const lane = state.lanes[number];
    told[number] = "";
    change(() => (state.lanes[number] = { ...fresh(lane), out: { ...lane, out: undefined } }));
    status.textContent = `${lanes[number].name}: left out of the log.`;
  }

  function addTry(number) {
    const lane = state.lanes[number];
    if (lane.end === null || asked[number] === lane.start) return;
    asked[number] = lane.start;
    told[number] = "Asking the notebook to write it down…";
    const seconds = (at) => (at === null ? null : Math.round((at - lane.start) / 100) / 10);
    const { who, set, how } = lane;
    model.send({ add: { lane: number, start: lane.start, learner: who, ended: how, time: seconds(lane.end), smoke_time: seconds(lane.smoke), ...set } });
    show();
  }

  function answered({ lane: number, start, done, words }) {
    const lane = state.lanes[number];
    if (!lane || lane.start !== start) return;
    asked[number] = null;
    told[number] = words;
    status.textContent = `${lanes[number].name}: ${words}`;
    if (done) change(() => (state.lanes[number] = fresh(lane)));
    else show();
  }

  // ---- what is seen

  function buildFields() {
    lanes.forEach(({ fields, name }, number) => {
      fields.textContent = "";
      for (const { key, label, per, step } of model.get("fields")) {
        const one = make("label", "", label);
        const box = make("input", "");
        Object.assign(box, { type: "number", min: 0, step });
        const si = state.lanes[number].set[key];
        box.value = si === undefined ? "" : String(Number((si / per).toPrecision(4)));
        box.setAttribute("aria-label", `${name}: ${label}`);
        box.addEventListener("change", () => change(() => {
          const { [key]: _, ...rest } = state.lanes[number].set;
          const number_ = Number(box.value);
          state.lanes[number].set = box.value && number_ > 0 ? { ...rest, [key]: number_ * per } : rest;
        }));
        one.append(box);
        fields.append(one);
      }
    });
  }

  function show() {
    const now = Date.now();
    state.lanes.forEach((lane, number) => {
      const { who, clock, buttons, add, out, back, summary, words } = lanes[number];
      if (who.value !== lane.who) who.value = lane.who;
      const runs = lane.start !== null && lane.end === null;
      const until = lane.end ?? now;
      clock.textContent = lane.start === null ? "0:00" : clockWords(until - lane.start);
      const focus = document.activeElement;
      for (const [act, one] of Object.entries(buttons)) {
        one.setAttribute("aria-disabled", String(!can(lane, act)));
        const marked = { start: lane.start, smoke: lane.smoke, ember: lane.how === "ember" && lane.end, up: lane.how === "gave up" && lane.end }[act];
        const at = marked && act !== "start" ? `✓ ${clockWords(marked - lane.start)}` : "";
        one.children[2].textContent = at || (act === "start" && runs ? "✓ running" : NOTES[act]);
        one.classList.toggle("fh-done", Boolean(marked));
      }
      add.disabled = lane.end === null || asked[number] === lane.start;
      out.disabled = lane.end === null;
      back.disabled = lane.start === null && !lane.out;
      const next = buttons[runs ? "ember" : "start"];
      if (focus?.disabled && lanes[number].add.parentElement.contains(focus)) next.focus();
      const forgotten = runs && (now - lane.start > LONG || now < lane.start);
      words.textContent = forgotten ? "This clock cannot be right. Take it back." : told[number];
      summary.textContent = setWords(lane.set) || "What is set? (spindle, press, strokes)";
    });
  }

  function setWords(set) {
    return model.get("fields").filter(({ key }) => set[key])
      .map(({ key, per, unit, short }) => `${Number((set[key] / per).toPrecision(3))} ${unit || short}`).join(", ");
  }

  // ---- keys: one row of them for each patrol

  function hear(event) {
    if (event.ctrlKey || event.metaKey || event.altKey || event.repeat) return;
    if (event.target.matches?.(TYPED)) return;
    const pressed = event.key.toUpperCase();
    KEYS.forEach((keys, number) => {
      // Some keyboards have digits only with Shift.
      const at = keys.findIndex((key) => key === pressed || event.code === `Digit${key}`);
      if (at < 0) return;
      event.preventDefault();
      event.stopPropagation();
      press(number, Object.keys(ACTS)[at]);
    });
  }

  function take(found) {
    state = structuredClone(found);
    buildFields();
    show();
  }

  const fromKernel = () => {
    const found = model.get("state");
    if (isState(found) && found.at > state.at) take(found);
  };
  const fromPage = (event) => {
    if (event.key !== PLACE) return;
    const found = readKept();
    if (found && found.at > state.at) take(found);
  };
  // A key counts wherever in the panel somebody is; the panel is there a little later.
  let root = el;
  const frame = requestAnimationFrame(() => {
    root = el.closest(".fireheat:not(.fireheat .fireheat)") || el;
    root.addEventListener("keydown", hear, true);
  });
  const timer = setInterval(show, TICK);
  window.addEventListener("storage", fromPage);
  document.addEventListener("visibilitychange", show);
  model.on("msg:custom", answered);
  model.on("change:state", fromKernel);
  const renamed = () => (buildFields(), show());
  model.on("change:fields", renamed);

  const [one, other] = [readKept(), model.get("state")];
  const newest = [one, other].filter(isState).sort((a, b) => b.at - a.at)[0];
  take(newest ?? state);
  tell(keep(state));
  return () => {
    cancelAnimationFrame(frame);
    clearInterval(timer);
    root.removeEventListener("keydown", hear, true);
    window.removeEventListener("storage", fromPage);
    document.removeEventListener("visibilitychange", show);
    model.off("msg:custom", answered);
    model.off("change:state", fromKernel);
    model.off("change:fields", renamed);
  };
}

export default { render };
