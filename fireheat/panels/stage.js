// Kits that bow by the clock. What happens when was worked out by the kernel; here it is only
// looked up, and parts of the drawing that have names are moved: the drawing is never built anew.
const STROKES = 1000; // of a second, as the browser counts
const DRIFT = 3, RISE = 36, WARM = 100, COVERED = 0.85, WISPS = 3; // as in the kept picture
const GLOWS = 3, SMOKES = 2;

// ---- what is when -------------------------------------------------------------------------------

// Between two moments all goes evenly.
function between(times, values, time) {
  let low = 0, high = times.length - 1;
  if (time <= times[0]) return values[0];
  if (time >= times[high]) return values[high];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (times[middle] <= time) low = middle;
    else high = middle;
  }
  const share = (time - times[low]) / (times[high] - times[low]);
  return values[low] + share * (values[high] - values[low]);
}

function cueAt(course, time) {
  let now = course.cues[0];
  for (const cue of course.cues) if (cue.time <= time) now = cue;
  return now;
}

function heatInk([cold, hot, ...colors], kelvin) {
  const share = Math.min(1, Math.max(0, (kelvin - cold) / (hot - cold)));
  return colors[Math.floor(share * (colors.length - 1))];
}

// A cold tip is bare wood.
const warm = ([cold], kelvin) => Math.min(1, Math.max(0, (kelvin - cold) / WARM));

// ---- the drawing --------------------------------------------------------------------------------

// Take over what is different, so that what stays is not built anew.
function takeOver(old, fresh) {
  const same = old.tagName === fresh.tagName && old.children.length === fresh.children.length;
  if (!same) return old.replaceWith(fresh);
  for (const { name, value } of fresh.attributes) {
    if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  }
  for (const { name } of [...old.attributes]) if (!fresh.hasAttribute(name)) old.removeAttribute(name);
  if (!fresh.children.length && old.textContent !== fresh.textContent) old.textContent = fresh.textContent;
  [...old.children].forEach((child, i) => takeOver(child, fresh.children[i]));
}

function partsOf(svg) {
  return [...svg.querySelectorAll("[data-kit]")].map((kit) => {
    const parts = {};
    for (const part of kit.querySelectorAll("[data-part]")) (parts[part.dataset.part] ||= []).push(part);
    return { kit, parts };
  });
}

function set(parts, name, values) {
  for (const part of parts[name] || []) {
    for (const [key, value] of Object.entries(values)) {
      if (part.getAttribute(key) !== value) part.setAttribute(key, value);
    }
  }
}

function move({ parts }, course, clock, heat, still) {
  const cue = cueAt(course, clock), time = Math.min(clock, course.end);
  const seen = still ? Math.min(cue.time, course.end) : time; // in steps, for who wants no motion
  const swing = still || !course.stroke ? 0 : -Math.cos((Math.PI * time) / course.stroke);
  const cues = course.cues;
  set(parts, "bow", { transform: `translate(${(course.travel * swing).toFixed(2)} 0)` });
  set(parts, "mark", { "stroke-dashoffset": (-course.travel * swing).toFixed(2) });
  for (const [side, { x, y, long }] of Object.entries(course.cords)) {
    set(parts, side, {
      transform: `translate(${x.toFixed(2)} ${y}) scale(${((long + course.travel * swing) / long).toFixed(4)} 1)`,
    });
  }
  const grown = between(course.times, course.heap, seen);
  for (const part of ["heap", "heart"]) set(parts, part, { transform: `translate(0 ${course.ground}) scale(${grown.toFixed(3)})` });
  const kelvin = between(course.times, course.temperature, seen);
  const charred = between(cues.map((one) => one.time), cues.map((one) => one.char), seen);
  const hot = warm(heat, kelvin) * (1 - COVERED * charred);
  set(parts, "tip", { fill: heatInk(heat, kelvin), opacity: hot.toFixed(3) });
  set(parts, "char", { opacity: charred.toFixed(3) });
  for (const light of ["glow", "heart", "halo"]) set(parts, light, { opacity: String(+(cue.look === GLOWS)) });
  for (let i = 0; i < WISPS; i++) {
    const along = still ? 0.5 : (clock / DRIFT + i / WISPS) % 1;
    const shown = still ? +(i === 0) : Math.sin(Math.PI * along);
    set(parts, `smoke-${i + 1}`, {
      transform: `translate(0 ${(RISE * (0.5 - along)).toFixed(2)})`,
      opacity: (cue.look >= SMOKES ? shown : 0).toFixed(3),
    });
  }
  return cue;
}

// ---- words --------------------------------------------------------------------------------------

function write(part, words) {
  if (part.textContent !== words) part.textContent = words;
}

// Elements that the panel has marked, wherever they stand in it; some come after this one.
function tell(root, kit, cue, course, clock) {
  for (const part of root.querySelectorAll(`[data-says="${kit}"]`)) {
    write(part, cue.says);
    part.dataset.look = cue.look;
  }
  for (const part of root.querySelectorAll(`[data-note="${kit}"]`)) write(part, cue.note);
  for (const part of root.querySelectorAll(`[data-looks="${kit}"]`)) part.dataset.now = cue.look;
  if (kit) return;
  for (const part of root.querySelectorAll("[data-clock]")) write(part, `${Math.floor(clock)} s`);
  for (const part of root.querySelectorAll("[data-share-of]")) {
    part.style.setProperty("--fh-share", Math.min(1, clock / part.dataset.shareOf).toFixed(5));
  }
}

function theme() {
  return document.body.dataset.jpThemeLight === "false" ? "dark" : "light";
}

// ---- the clock ----------------------------------------------------------------------------------

function render({ model, el }) {
  el.classList.add("fh-live");
  const picture = document.createElement("div");
  picture.className = "fh-live-picture";
  const spoken = document.createElement("div"); // only what begins is spoken, never the clock
  spoken.className = "fh-heard";
  spoken.setAttribute("role", "status");
  el.append(picture, spoken);
  const calm = window.matchMedia("(prefers-reduced-motion: reduce)");
  let kits = [], frame = 0, base = 0, since = null, visible = false, cues = [], telling = false;
  let take = model.get("take");

  const courses = () => model.get("courses");
  const end = () => Math.max(0, ...courses().map((course) => course.end));
  const clock = () => {
    const ran = since === null ? 0 : ((performance.now() - since) / STROKES) * model.get("pace");
    return Math.min(base + ran, end());
  };
  const root = () => el.closest(".fireheat") || el;

  function tellBack(values) {
    telling = true;
    for (const [key, value] of Object.entries(values)) model.set(key, value);
    telling = false;
    model.save_changes();
  }

  function draw() {
    const now = clock();
    const begun = courses().map((course, i) => {
      const cue = kits[i] ? move(kits[i], course, now, model.get("heat"), calm.matches) : course.cues[0];
      tell(root(), i, cue, course, now);
      return cue;
    });
    el.classList.toggle("fh-live-runs", since !== null);
    const key = begun.map((cue) => `${cue.look} ${cue.says}`).join("; ");
    if (key !== cues.join("; ")) {
      const fresh = begun.map((cue, i) => ({ ...cue, whose: courses()[i].name }))
        .filter((cue, i) => `${cue.look} ${cue.says}` !== cues[i]);
      cues = begun.map((cue) => `${cue.look} ${cue.says}`);
      if (since !== null) {
        write(spoken, fresh.map(({ whose, says, note, time }) =>
          `${whose ? `${whose}: ` : ""}${says}, after ${Math.round(time)} s. ${note}`).join(" "));
        tellBack({ at: now });
      }
    }
    return now;
  }

  function step() {
    frame = 0;
    const now = draw();
    if (since === null) return;
    if (now >= end()) {
      base = now;
      since = null;
      tellBack({ at: now, running: false, ended: true });
      draw();
    } else frame = requestAnimationFrame(step);
  }

  // Run or hold, as it is asked for and as somebody can see it; first of all, stand where it is set.
  function follow() {
    if (telling) return;
    if (model.get("take") !== take) return jump();
    const run = model.get("running") && visible && !document.hidden && courses().length > 0;
    if (run && since === null) since = performance.now();
    else if (!run && since !== null) {
      base = clock();
      since = null;
      if (!model.get("running")) tellBack({ at: base });
    }
    if (!frame) frame = requestAnimationFrame(step);
  }

  function jump() {
    if (telling) return;
    take = model.get("take");
    base = model.get("at");
    since = null;
    cues = [];
    write(spoken, ""); // who begins anew is not told how it went
    follow();
  }

  function redraw() {
    const made = document.createElement("template");
    made.innerHTML = model.get("svg");
    const fresh = made.content.firstElementChild, old = picture.firstElementChild;
    if (!fresh) return;
    if (old) takeOver(old, fresh);
    else picture.append(fresh);
    kits = partsOf(picture);
    draw();
  }

  // Space holds what moves; on a button or in a field it has its own meaning.
  const keys = (event) => {
    if (event.key !== " " || event.target.closest("button, a, input, textarea, select, summary, [contenteditable]")) return;
    event.preventDefault();
    if (clock() < end()) model.set("running", !model.get("running"));
    model.save_changes();
  };
  let around = null;
  const listen = () => {
    if (around === root()) return;
    around?.removeEventListener("keydown", keys);
    around = root();
    around.addEventListener("keydown", keys);
  };
  const seen = new IntersectionObserver((entries) => {
    visible = entries.at(-1).isIntersecting;
    listen(); // by now it stands in its panel
    follow();
  });
  const themes = new MutationObserver(() => tellBack({ theme: theme() }));
  const events = {
    "change:svg": redraw,
    "change:courses": draw,
    "change:heat": draw,
    "change:running": follow,
    "change:take": follow,
    "change:at": jump,
  };
  let pace = model.get("pace");
  const paced = () => {
    // What has run so far ran at the pace before.
    if (since !== null) base += ((performance.now() - since) / STROKES) * pace;
    pace = model.get("pace");
    if (since !== null) since = performance.now();
  };
  for (const [name, act] of Object.entries(events)) model.on(name, act);
  model.on("change:pace", paced);
  document.addEventListener("visibilitychange", follow);
  calm.addEventListener("change", draw);
  themes.observe(document.body, { attributeFilter: ["data-jp-theme-light"] });
  seen.observe(el);
  base = model.get("at");
  redraw();
  if (model.get("theme") !== theme()) tellBack({ theme: theme() });
  return () => {
    cancelAnimationFrame(frame);
    seen.disconnect();
    around?.removeEventListener("keydown", keys);
    themes.disconnect();
    document.removeEventListener("visibilitychange", follow);
    calm.removeEventListener("change", draw);
    for (const [name, act] of Object.entries(events)) model.off(name, act);
    model.off("change:pace", paced);
  };
}

export default { render };
