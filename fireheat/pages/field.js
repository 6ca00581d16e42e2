// What the field page does. It reckons by the kernel, keeps what was pressed on this phone, and hands
// tries on only where asked. Moments are of the wall clock, so a locked screen loses no second.
(() => {
"use strict";
const PLACE = "fireheat-field";
const TICK = 250, ANEW = 5000, LONG = 3600e3, TWICE = 4000; // ms
const HURTS = "Arm hurts? Stop.";
const SOON = 1.5; // s: less is now
const FRAME = 17; // ms
const SHARE = 0.55; // of a screen that results may cover for good
const LEAST_LANE = 170; // px that its words need
const HEADER = 60; // px that the header may cover as well
const QUIET = 900; // ms without a move, after which a screen reader hears what came out
const PAUSE = 4000, RECENT = 12, ENOUGH_TAPS = 8; // ms without a tap that parts two counts; taps
const AHEAD = 1.2, PITCH = 660, RING = 0.08, LOUD = 0.15; // s of beats that are set; Hz, s, share
const RARE = 0.05; // share of tries without an ember that is not worth a word
const KEYS = [...FIELD.main, ...FIELD.more];
const COLUMN = FIELD.columns, finite = Number.isFinite, pairs = Object.entries, from_pairs = Object.fromEntries;
const [AN_EMBER, GAVE_UP] = FIELD.ended;
const WATCHED = ["learner", "wood", "diameter", "force", "stroke_length", "strokes_per_minute"];
const TITLES = {
    move: "How soon an ember?", time: "Time it", tries: "Our tries", kit: "My kit",
    safety: "Before anything burns",
};
const $ = id => document.getElementById(id);
const { quantities, unknowns, woods, arms } = fireheat;
const capital = spelling => spelling[0].toUpperCase() + spelling.slice(1);
const percent_words = share => `${(100 * share).toFixed(0)}\u00a0%`;
const clock_words = ms => {
    const all = Math.max(0, Math.floor(ms / 1000));
    return `${Math.floor(all / 60)}:${String(all % 60).padStart(2, "0")}`;
};
const date_words = day => [day.getFullYear(), day.getMonth() + 1, day.getDate()]
    .map(number => String(number).padStart(2, "0")).join("-");
const made = (kind, words = "", rest = {}) =>
    Object.assign(document.createElement(kind), { textContent: words }, rest);
const said = {}; // what was written where: only what changes is written
const word = (id, spelling) => {
    if (said[id] === spelling) return;
    said[id] = spelling;
    $(id).textContent = unbroken(spelling);
};

// ---- what is kept on this phone ------------------------------------------------------------------

const usual = () => ({
    ...from_pairs(KEYS.map(key => [key, quantities[key].default])), wood: fireheat.try_().wood,
});
const standing = () => ({ start: null, smoke: null, end: null, how: null, taps: 0, tapping: 0 });
const fresh = () => ({
    at: 0, units: "metric", read: false, set: usual(), before: null, kit: {}, kit_in: false,
    kit_kept: false, arm: "", log: {}, run: standing(), tries: [],
});
const ordinary = (key, amount) => {
    const [low, high] = COLUMN[key].range, hair = 1e-9 * Math.abs(amount);
    return finite(amount) && amount >= low - hair && amount <= high + hair;
};
const is_code = spelling => spelling === "" || new RegExp(FIELD.code).test(spelling);
const is_try = one => finite(one?.id) && finite(one.at) && (one.gone || (finite(one.time) && FIELD.ended.includes(one.ended)));
const as_chosen = given => {
    const chosen = usual();
    for (const key of KEYS) if (ordinary(key, given?.[key])) chosen[key] = given[key];
    if (Object.hasOwn(woods, given?.wood)) chosen.wood = given.wood;
    return chosen;
};
const as_kit = given => from_pairs(pairs(given ?? {}).filter(([key, row]) => KEYS.includes(key) && ordinary(key, row?.[0]) && finite(row[1])));
// Without cells that are not of their column's kind; what is beside the columns stays.
const as_cells = given => from_pairs(pairs(given ?? {}).filter(([key, to]) =>
    !(key in COLUMN) || (COLUMN[key].range ? finite(to) : typeof to === "string")));
const as_run = given => {
    const run = { ...standing(), ...given }, { start, smoke, end, how, taps, tapping } = run;
    const whole = [start ?? 0, smoke ?? 0, end ?? 0, taps, tapping].every(finite);
    return whole && (end === null || FIELD.ended.includes(how)) ? run : standing();
};
function known(spelling) {
    try {
        const old = { ...fresh(), ...JSON.parse(spelling) };
        const { before, kit, run, tries: all } = old;
        return { ...old, set: as_chosen(old.set), before: before && as_chosen(before), kit: as_kit(kit),
            units: old.units === "us" ? "us" : "metric", log: as_cells(old.log), run: as_run(run),
            tries: all.filter(is_try).map(as_cells) };
    } catch {
        try { localStorage.setItem(`${PLACE}-unread`, spelling); } catch { /* refused */ }
        return null; // somebody else wrote it: it is put aside, not lost
    }
}
// Of each try the newest word counts, whichever page of this phone it came from.
function merged(...lists) {
    const found = new Map();
    for (const one of lists.flat()) if (!(found.get(one.id)?.at >= one.at)) found.set(one.id, one);
    return [...found.values()].sort((a, b) => a.id - b.id);
}
function stored() {
    const texts = [];
    try { texts.push(localStorage.getItem(PLACE)); } catch { /* refused */ }
    texts.push(history.state?.fireheat); // outlives a reload, though no closed page
    return texts.filter(Boolean).map(known).filter(Boolean).sort((a, b) => a.at - b.at);
}
let page = fresh(), refused = false, handed = true;
function keep() {
    page.at = later(page);
    page.tries = merged(page.tries, ...stored().map(one => one.tries));
    const kit = page.kit_kept ? {} : { kit: {}, kit_in: false };
    const spelling = JSON.stringify({ ...page, ...kit });
    refused = false;
    try { localStorage.setItem(PLACE, spelling); } catch { refused = true; }
    try { history.replaceState({ fireheat: spelling }, ""); } catch { /* it is a help only */ }
    $("refused").hidden = !refused;
}
const tries = () => page.tries.filter(one => !one.gone);
// The newest word counts even where a phone's clock was set back.
const later = one => Math.max(Date.now(), one.at + 1);
const put_try = (id, how) => {
    page.tries = page.tries.map(old => old.id === id ? how(old) : old);
    keep();
};
const changed = (one, more) => {
    handed = false;
    put_try(one.id, old => ({ ...old, ...more, at: later(old) }));
};
const left_out = one => put_try(one.id, old => ({ id: old.id, at: later(old), gone: true }));

// ---- numbers in the reader's units -------------------------------------------------------------------

const unit_of = key => COLUMN[key][page.units] ?? COLUMN[key].metric;
const spelled = (key, amount) => {
    const { parts } = COLUMN[key], [unit, scale] = unit_of(key), shown = amount / scale;
    if (unit === "in" && parts && Math.abs(shown * parts - Math.round(shown * parts)) < 0.02) return inch_words(shown, parts);
    return String(Number(shown.toPrecision(4)));
};
const with_unit = (key, amount) => `${spelled(key, amount)}\u00a0${unit_of(key)[0]}`.trim();
function read_number(spelling, key) {
    const [unit, scale] = unit_of(key);
    const part = unit === "in" && /^(?:(\d{1,3})[ -])?(\d{1,2})\/(\d{1,2})$/.exec(spelling);
    if (part) return (Number(part[1] ?? 0) + part[2] / part[3]) * scale;
    return /^\d*[.,]?\d+$/.test(spelling) ? Number(spelling.replace(",", ".")) * scale : NaN;
}
// A list of named rows to choose from, under its label.
function choice(label, none, rows, chosen = "", put) {
    const box = made("select");
    box.setAttribute("aria-label", label.textContent);
    box.append(new Option(none, ""), ...pairs(rows).map(([key, { name }]) => new Option(name, key)));
    box.value = chosen;
    box.onchange = () => put(box.value || undefined);
    label.append(box);
    return label;
}
// A box for one cell of a log; put hears what can be, and the box says what cannot.
function field(key, amount, put, name = "") {
    const column = COLUMN[key], unit = column.range ? unit_of(key)[0] : "";
    const words = capital(column.heading) + (unit ? ` (${unit})` : "");
    const label = made("label", name || words), says = made("small", "", { hidden: true });
    says.setAttribute("role", "alert");
    if (key === "wood") return choice(label, "not noted", woods, amount, put);
    const box = made("input", "", { type: "text", autocomplete: "off", inputMode: column.range ? "decimal" : "text" });
    box.setAttribute("autocapitalize", key === "learner" ? "characters" : "off");
    box.value = amount === undefined ? "" : column.range ? spelled(key, amount) : amount;
    box.onchange = () => {
        const spelling = box.value.replace(/[\x00-\x1f]/g, " ").trim();
        let wrong = "", to = spelling || undefined;
        if (key === "learner") wrong = is_code(spelling) ? "" : capital(FIELD.no_name);
        else if (column.range && spelling) {
            to = read_number(spelling, key);
            wrong = ordinary(key, to) ? "" : `Write a number from ${ends_words(key)}.`;
        } else if (/^[=+\-@#]/.test(spelling)) wrong = "Begin with a letter or a digit.";
        box.setAttribute("aria-invalid", String(Boolean(wrong)));
        says.textContent = wrong;
        says.hidden = !wrong;
        if (!wrong) put(to);
    };
    label.append(box, says);
    return label;
}
// Two figures of either end, rounded inwards, so that both can be written.
function ends_words(key) {
    const [, scale] = unit_of(key);
    return COLUMN[key].range.map((end, last) => {
        const shown = end / scale, apart = 10 ** (Math.floor(Math.log10(shown || 1)) - 1);
        const steps = last ? Math.floor(shown / apart + 1e-6) : Math.ceil(shown / apart - 1e-6);
        return String(Number((steps * apart).toPrecision(2)));
    }).join(" to ");
}
const put_in = (holder, key, to) => {
    if (to === undefined) delete holder[key];
    else holder[key] = to;
};

// ---- move it -----------------------------------------------------------------------------------------

const speed_of = chosen => chosen.strokes_per_minute * chosen.stroke_length / 60;
const state_of = chosen => fireheat.try_({
    diameter: chosen.diameter, force: chosen.force, friction: chosen.friction, speed: speed_of(chosen),
    moisture: chosen.moisture, burn_in_depth: chosen.burn_in_depth, wood: chosen.wood,
});
const good = (key, amount) => unknowns[key].kind === "factor" ? (unknowns[key].measured[1] - 1) * amount : unknowns[key].measured[1];
// A slider that was moved by hand has not been measured there.
const is_measured = (chosen, key) => page.kit_in && key in page.kit
    && Math.abs(chosen[key] - page.kit[key][0]) <= 1e-9 * Math.abs(chosen[key]);
function measured_of(chosen) {
    const mine = KEYS.filter(key => is_measured(chosen, key)), readings = {};
    const reading = (key, amount, care) => { readings[key] = [amount, care * good(key, amount) / FIELD.of_ten]; };
    for (const key of mine) if (key in unknowns) reading(key, chosen[key], page.kit[key][1]);
    if (mine.includes("strokes_per_minute") && mine.includes("stroke_length")) {
        reading("speed", speed_of(chosen), Math.max(page.kit.strokes_per_minute[1], page.kit.stroke_length[1]));
    }
    return fireheat.my_kit(readings, state_of(chosen)).measured;
}
const reckoned = chosen => {
    const state = state_of(chosen), measured = measured_of(chosen);
    return { state, measured, found: fireheat.estimate(state, measured) };
};
const evenings_of = state => FIELD.ours && fireheat.evenings(state, FIELD.ours);
const ours_told = ours => ours ? `${FIELD.ours_words}: ${band_words(ours)}` : "";
const sliders = {};
let seen = null, before = null, frame = 0, again = false, wide = 0, quiet = 0;
function slider(key, place) {
    const box = made("div", "", { className: "slider" }), head = made("div"), output = made("output");
    const label = made("label", capital(quantities[key].name), { htmlFor: key });
    const badge = made("span", "◆ measured", { className: "badge", hidden: true });
    const range = made("input", "", { type: "range", id: key });
    output.htmlFor = key;
    range.oninput = () => {
        const { scale, offset } = quantities[key][page.units];
        page.set[key] = range.valueAsNumber * scale + offset;
        move();
    };
    range.onchange = keep;
    head.append(label, badge, output);
    box.append(head, range);
    place.append(box);
    sliders[key] = { badge, output, range };
}
function scale_sliders() {
    for (const [key, { range }] of pairs(sliders)) {
        const { slider: ends, [page.units]: { scale, offset, step } } = quantities[key];
        const [low, high] = ends.map(end => (end - offset) / scale);
        range.min = String(Math.ceil(low / step - 1e-6) * step);
        range.max = String(Math.floor(high / step + 1e-6) * step);
        range.step = String(step);
        range.value = String((page.set[key] - offset) / scale);
    }
    $("wood").value = page.set.wood;
}
// A move is reckoned at once; those that come before it is seen are one more, in the next frame.
// What it is against before follows when that is painted.
function move() {
    again = frame > 0;
    if (again) return;
    frame = requestAnimationFrame(() => {
        frame = 0;
        if (again) move();
        else setTimeout(show_against, FRAME);
    });
    show_move();
}
function show_sliders() {
    for (const [key, row] of pairs(sliders)) {
        const words = quantity_words(key, page.set[key], page.units);
        if (row.words !== words) {
            row.output.textContent = row.words = words;
            row.range.setAttribute("aria-valuetext", words);
        }
        const measured = is_measured(page.set, key);
        if (row.measured !== measured) row.badge.hidden = !(row.measured = measured);
    }
    word("speed", quantity_words("speed", speed_of(page.set), page.units));
    word("wood_note", woods[page.set.wood].caution);
}
// How much larger than usual a reader has letters, and a lane with them, as far as it has room.
const letters = room => Math.max(1, Math.min(parseFloat(getComputedStyle(document.documentElement).fontSize) / 16, room / LEAST_LANE));
function show_move() {
    wide ||= ($("lane").clientWidth || 332) / letters($("lane").clientWidth);
    show_sliders();
    seen = reckoned(page.set);
    const { found } = seen, { wood, all } = found.ember;
    word("ember", band_words(all));
    const never = found.never > RARE ? `; ${percent_words(found.never)} of such tries never glow` : "";
    const note = found.why_never ? `most likely never: ${found.why_never}. ${FIELD.ways_out}`
        : `with wood like yours ${band_words(wood)}; ${likely_words(wood[1])}${never}`;
    word("ember_note", note);
    const ours = evenings_of(seen.state), ours_words = ours_told(ours);
    word("ours", ours_words);
    const floor = floor_words(found.bound);
    word("floor", floor);
    word("smoke", band_words(found.smoke.all));
    word("smoke_note", likely_words(found.smoke.wood[1]));
    const verdict = found.why_never ? "no hot dust" : FIELD.enough[found.enough.verdict];
    word("dust", `${{ enough: "✓ ", "too little": "✕ " }[verdict] ?? ""}${verdict}`);
    const grams = mass => quantity_words("dust_mass", mass, page.units);
    word("dust_note", `${grams(found.dust)} worn off, ${grams(found.enough.mass)} in the heap`);
    const lane = draw_lane($("lane"), found, { before: before?.found, ours, width: wide });
    clearTimeout(quiet);
    const speak = () => {
        word("heard", `Ember, estimate ${band_words(all)}, ${note}${note.endsWith(".") ? "" : "."} ${ours_words && `By ${ours_words}. `}Floor ${floor}. First smoke ${band_words(found.smoke.all)}. Dust: ${verdict}. ${said.against ?? ""}`.trim());
        lane.setAttribute("aria-label", $("heard").textContent);
    };
    if (lane.ariaLabel) quiet = setTimeout(speak, QUIET); // once the hand rests
    else speak();
}
word("ours_note", FIELD.ours_note ?? "");
function show_against() {
    if (!before) return word("against", "");
    const { measured, state, found } = seen;
    const both = from_pairs(pairs(measured).filter(([key, off]) => before.measured[key] === off));
    const ratio = fireheat.compare(before.state, state, both, [], [before.found, found]);
    word("against", `Against before: ${factor_words(ratio)}. Before: ${band_words(before.found.ember.all)}.`);
}
const show_mine = () => word("mine", page.kit_in ? "My kit is in: what it measured is marked. A slider that you move is no longer measured." : "");
function show_pin() {
    $("pin").setAttribute("aria-pressed", String(Boolean(page.before)));
    word("pin", page.before ? "Take “before” off" : "Keep as “before”");
}

// ---- time it -------------------------------------------------------------------------------------------

let expected = { asked: "" }, smoked = { at: -Infinity }, held = null, wide_bar = 0;
function expecting() {
    const chosen = { ...page.set };
    for (const key of KEYS) if (finite(page.log[key])) chosen[key] = page.log[key];
    if (Object.hasOwn(woods, page.log.wood)) chosen.wood = page.log.wood;
    const asked = JSON.stringify([chosen, page.kit_in, page.kit]);
    if (expected.asked === asked) return expected;
    const told = reckoned(chosen);
    return expected = { asked, stroke: chosen.stroke_length, ours: evenings_of(told.state), ...told };
}
const runs = () => page.run.start !== null && page.run.end === null;
const since = () => page.run.start === null ? 0 : Math.max(0, (page.run.end ?? Date.now()) - page.run.start);
const tenths = ms => Math.round(ms / 100) / 10;
function press(what) {
    const { run } = page, at = Date.now();
    let news = "";
    if (what === "start" ? runs() : !runs() || (what === "smoke" && run.smoke !== null)) return;
    if (what === "start") {
        page.run = { ...standing(), start: at };
    } else if (what === "smoke") run.smoke = at;
    else {
        Object.assign(run, { end: at, how: what === "ember" ? AN_EMBER : GAVE_UP });
        page.tries.push(timed(run));
        handed = false;
        const hot = what === "up" ? " The heap is hot, too: wet it." : "";
        news = `Kept as try ${tries().length}.${trouble(page.tries.at(-1))}${hot} `;
    }
    keep();
    stay_awake();
    show_time(news);
    if (what !== "start") return;
    const box = id => $(id).getBoundingClientRect();
    if (box("tap").bottom > Math.min(box("foot").top, innerHeight)) scrollBy(0, box("watch").top - 4);
}
// One try, as the log has it.
function timed(run) {
    const smoke = run.smoke === null ? {} : { smoke_time: tenths(run.smoke - run.start) };
    const tapped = run.taps >= ENOUGH_TAPS ? { strokes_per_minute: Math.round(60e3 * run.taps / run.tapping) } : {};
    const kit = from_pairs(["friction", "moisture"].filter(key => page.kit_in && key in page.kit)
        .map(key => [key, page.kit[key][0]]));
    const old = page.tries.find(one => one.id === run.start); // taken back
    return { id: run.start, at: later(old ?? { at: 0 }), date: date_words(new Date(run.start)), ...kit, ...page.log, ...tapped, ...smoke,
        time: tenths(run.end - run.start), ended: run.how };
}
function take_back() {
    const { run } = page;
    if (run.end !== null) {
        left_out({ id: run.start });
        Object.assign(run, { end: null, how: null });
    } else if (run.smoke !== null) run.smoke = null;
    else run.start = null;
    keep();
    stay_awake();
    show_time("Taken back. ");
}
let lock = null;
async function stay_awake() {
    try {
        await lock?.release();
        lock = runs() ? await navigator.wakeLock.request("screen") : null;
    } catch { /* it may sleep */ }
}
function show_time(news = "") {
    const { run, log } = page, { found, ours } = expecting();
    word("who", log.learner || "who?");
    const chosen = ["diameter", "force"].filter(key => finite(log[key]));
    word("set_words", chosen.length ? `· ${chosen.map(key => with_unit(key, log[key])).join(", ")}` : "");
    $("time_badge").hidden = !["diameter", "force"].some(key => is_measured(log, key));
    const can = { start: !runs(), smoke: runs() && run.smoke === null, ember: runs(), up: runs() };
    $("start").setAttribute("aria-disabled", String(!can.start));
    word("start_words", runs() ? "Runs" : run.end ? "Next try" : "Start");
    word("start_note", runs() ? "" : "first stroke");
    const told = {
        smoke: run.smoke !== null && run.smoke, ember: run.how === AN_EMBER && run.end, up: run.how === GAVE_UP && run.end,
    };
    const notes = { smoke: "first steady", ember: "when it glows", up: "counts too" };
    for (const [what, note] of pairs(notes)) {
        const one = $(`press_${what}`);
        one.setAttribute("aria-disabled", String(!can[what]));
        one.classList.toggle("done", Boolean(told[what]));
        one.lastElementChild.textContent = told[what] ? `✓ ${clock_words(told[what] - run.start)}` : note;
    }
    $("back").style.visibility = run.start === null ? "hidden" : "visible";
    smoked = { at: -Infinity };
    held = null;
    const wide = found.ember.all;
    word("expect", run.end !== null ? `${run.how} after ${time_words((run.end - run.start) / 1000)}`
        : ours ? `glow by the handbook: ${band_words(wide)}; ${ours_told(ours)}`
            : wide[0] >= LANE.too_long ? "we expect no ember" : `we expect a glow from ${band_words(wide)}`);
    word("say", news + (runs() ? `Press Smoke at the first steady smoke. What to say then stands here. ${HURTS}`
        : `Press Start at the first stroke${run.end ? " of the next try" : ""}.`));
    word("not_say", "");
    tick();
}
function smoke_now() {
    const { run } = page, { state, measured, stroke } = expecting();
    if (run.smoke === null || run.end !== null || Date.now() - smoked.at < ANEW) return;
    const smoke = Math.max((run.smoke - run.start) / 1000, 0.5);
    const told = fireheat.after_smoke(state, smoke, Math.max(since() / 1000, smoke), measured, arms[page.arm] ?? null);
    smoked = { at: Date.now(), window: told.window };
    const [low, likely, high] = told.left, lead = told.strange ? "smoke at such a time is odd; " : "";
    const never = told.never > RARE ? `; ${percent_words(told.never)} of such tries never glow` : "";
    word("expect", told.overdue ? `overdue: ${percent_words(told.gone)} of such tries had an ember by now`
        : likely >= LANE.too_long ? "most likely it does not come any more"
            : `ember likely in: ${low < SOON ? `now to ${time_words(high)}` : band_words([low, high])}; ${lead}`
                + `most likely ${likely < SOON ? "now" : `in about ${time_words(likely)}`}${never}`);
    held = told.hopeless ? 0 : 60 * told.speed / stroke;
    word("say", `Say: “${told.say}”${held ? ` Hold ${Math.round(held)} strokes a minute.` : ""}`);
    word("not_say", `Not: “${told.not_say}” ${HURTS}`);
}
function tick() {
    beat_on();
    if (document.body.dataset.view !== "time") return;
    const { run } = page, ms = since();
    word("clock", clock_words(ms));
    $("clock").classList.toggle("long", ms >= 600e3);
    smoke_now();
    if (runs() && (ms > LONG || Date.now() < run.start)) word("say", "This clock cannot be right. Take it back.");
    draw_bar(ms / 1000);
}
function draw_bar(elapsed) {
    const { found, ours } = expecting(), { wood, all } = smoked.window ? { all: smoked.window } : found.ember;
    const width = wide_bar ||= $("bar").clientWidth || 332, { run } = page, shapes = [];
    const [end] = plank_end([elapsed, all[1], wood?.[2] ?? all[1]], [all[2]]);
    const across = time => Math.round(10 * (4 + (width - 8) * Math.min(time, end) / end)) / 10;
    const rect = ([low, , high], y, height, look) => {
        if (low <= end) shapes.push(["rect", { class: look, x: across(low), y, width: across(high) - across(low), height }]);
    };
    const mark = (time, look) => shapes.push(["path", { class: look, d: `M${across(time)} 1v28` }]);
    rect([0, 0, end], 8, 14, "plank");
    rect(all, 8, 14, "all");
    if (wood) rect(wood, 10, 10, "wood");
    if (ours?.[0] <= end && !smoked.window) shapes.push(["path", { class: "ours", d: `M${across(ours[0])} 27H${across(ours[2])}` }]);
    if (run.smoke !== null) mark((run.smoke - run.start) / 1000, "smoked");
    if (run.start !== null) mark(elapsed, "now");
    put_shapes($("bar"), shapes);
}

// ---- taps and beat

let stamps = [], pointed = false;
function tap(stamp) {
    const gap = stamp - stamps.at(-1);
    if (gap > PAUSE) stamps = [];
    else if (gap > 0 && runs()) {
        page.run.taps += 1;
        page.run.tapping += gap;
        keep();
    }
    if (!(gap <= 0)) stamps.push(stamp);
    stamps = stamps.slice(-RECENT);
    const rate = 60e3 * (stamps.length - 1) / (stamps.at(-1) - stamps[0]);
    word("rate", stamps.length > 2 ? String(Math.round(rate)) : "…");
}
let audio = null, beating = false, next = 0;
const beat_rate = () => held ?? page.log.strokes_per_minute ?? page.set.strokes_per_minute;
const beat_clock = () => audio ? audio.currentTime : performance.now() / 1000;
function beat_on() {
    word("beat_words", !beating ? "off" : beat_rate() > 0 ? String(Math.round(beat_rate())) : "rests");
    if (!beating || !(beat_rate() > 0)) return;
    next = Math.max(next, beat_clock());
    for (; next < beat_clock() + AHEAD; next += 60 / beat_rate()) {
        setTimeout(() => beating && navigator.vibrate?.(30), 1000 * (next - beat_clock()));
        if (!audio) continue;
        const tone = audio.createOscillator(), loud = audio.createGain();
        tone.frequency.value = PITCH;
        loud.gain.setValueAtTime(LOUD, next);
        loud.gain.exponentialRampToValueAtTime(0.001, next + RING);
        tone.connect(loud).connect(audio.destination);
        tone.start(next);
        tone.stop(next + RING);
    }
}
function turn_beat() {
    beating = !beating;
    if (beating) {
        try { audio = new AudioContext(); } catch { audio = null; }
        next = beat_clock() + 0.1;
    } else {
        audio?.close();
        audio = null;
    }
    $("beat").setAttribute("aria-pressed", String(beating));
    beat_on();
}

// ---- tries, as the log has them -----------------------------------------------------------------------------

function spell_number(amount, [, scale]) {
    const spelling = (amount / scale).toFixed(8).replace(/0+$/, "").replace(/\.$/, "");
    const [whole, decimals = ""] = spelling.split(".");
    return decimals.length === 3 && whole !== "0" ? `${spelling}0` : spelling;
}
const cell = spelling => /[",\n\r]/.test(spelling) ? `"${spelling.replaceAll('"', '""')}"` : spelling;
const log_row = one => pairs(COLUMN).map(([key, { range, metric, log = metric }]) => one[key] === undefined ? ""
    : cell(range ? spell_number(one[key], log) : one[key])).join(",");
function trouble(one) {
    const wrong = Object.keys(COLUMN).find(key => COLUMN[key].range && one[key] !== undefined && !ordinary(key, one[key]));
    if (wrong) return ` ${capital(COLUMN[wrong].heading)} ${with_unit(wrong, one[wrong])} is no usual try: it stays out of the log.`;
    return one.smoke_time > one.time ? " Smoke after the end: it stays out of the log." : "";
}
const log_text = () => FIELD.head + tries().filter(one => !trouble(one)).map(one => `${log_row(one)}\n`).join("");
const summary_words = one => {
    const smoke = one.smoke_time === undefined ? "" : `, smoke ${clock_words(1000 * one.smoke_time)}`;
    const chosen = ["diameter", "force"].filter(key => one[key] !== undefined).map(key => `, ${with_unit(key, one[key])}`).join("");
    return `${one.learner || "who?"}: ${one.ended} ${clock_words(1000 * one.time)}${smoke}${chosen}.${trouble(one)}`;
};
function show_tries() {
    const all = tries();
    const show_log = () => { $("log").value = log_text(); };
    word("count", all.length ? `${all.length} ${all.length === 1 ? "try" : "tries"} on this phone. Open one to add what was measured.` : "No tries yet.");
    $("list").replaceChildren(...all.map(one => {
        const item = made("li"), box = made("details"), summary = made("summary", summary_words(one));
        const fields = made("div", "", { className: "fields" });
        const current = () => page.tries.find(other => other.id === one.id);
        for (const key of Object.keys(COLUMN)) {
            if (["date", "time", "ended"].includes(key)) continue;
            fields.append(field(key, one[key], to => {
                changed(one, { [key]: to });
                summary.textContent = summary_words(current());
                show_log();
            }));
        }
        const out = made("button", "Leave this try out", { type: "button" });
        twice(out, "Surely leave it out?", () => { left_out(one); show_tries(); });
        box.append(summary, fields, out);
        item.append(box);
        return item;
    }));
    $("share").hidden = !navigator.share;
    show_log();
}
// What cannot be taken back is asked for twice.
function twice(button, words, act, lost = () => true) {
    const first = button.textContent;
    let sure = 0;
    button.onclick = () => {
        if (sure || !lost()) {
            clearTimeout(sure);
            sure = 0;
            button.textContent = first;
            return act();
        }
        button.textContent = words;
        sure = setTimeout(() => { sure = 0; button.textContent = first; }, TWICE);
    };
}
const file_name = () => `tries-${date_words(new Date())}.csv`;
async function hand_on(how) {
    const spelling = log_text(), out = tries().filter(trouble).length;
    let words = "This phone would not. Mark the text below and copy it by hand.";
    try {
        if (how === "share") {
            const file = new File([spelling], file_name(), { type: "text/csv" });
            await navigator.share(navigator.canShare?.({ files: [file] }) ? { files: [file] } : { text: spelling });
            words = "Shared.";
        } else if (how === "copy") {
            try { await navigator.clipboard.writeText(spelling); } catch {
                $("log").select();
                if (!document.execCommand("copy")) throw new Error("refused");
            }
            words = "Copied.";
        } else {
            const address = URL.createObjectURL(new Blob([spelling], { type: "text/csv" }));
            made("a", "", { href: address, download: file_name() }).click();
            setTimeout(() => URL.revokeObjectURL(address), ANEW);
            words = "Saved among your downloads.";
        }
        handed = true;
    } catch (wrong) { // the words say so
        if (wrong.name === "AbortError") words = "Not shared.";
    }
    word("handed", `${words}${out ? ` Left out: ${out}, see the list.` : ""} Your tries stay here.`);
}

// ---- my kit ---------------------------------------------------------------------------------------------------

function show_kit() {
    $("kit_rows").replaceChildren(...KEYS.map(key => {
        const row = made("div"), name = capital(quantities[key].name);
        const unit = unit_of(key)[0];
        const care = made("select");
        care.setAttribute("aria-label", `${name}: how well measured`);
        care.append(...FIELD.care.map(([times, words]) => new Option(words, times)));
        care.value = String(page.kit[key]?.[1] ?? FIELD.care[0][0]);
        const put = to => {
            put_in(page.kit, key, to === undefined ? undefined : [to, Number(care.value)]);
            if (page.kit_in) put_kit_in();
            keep();
            show_kit_words();
        };
        care.onchange = () => { if (key in page.kit) put(page.kit[key][0]); };
        const box = field(key, page.kit[key]?.[0], put, `${name}${unit ? ` (${unit})` : ""}`);
        row.append(box, made("label", "How well"));
        row.lastChild.append(care);
        return row;
    }));
    $("kit_kept").checked = page.kit_kept;
    show_kit_words();
}
function put_kit_in() {
    page.kit_in = Object.keys(page.kit).length > 0;
    for (const [key, [amount]] of pairs(page.kit)) {
        page.set[key] = amount;
        if (WATCHED.includes(key)) page.log[key] = amount;
    }
    scale_sliders();
}
function show_kit_words() {
    $("kit_in").setAttribute("aria-pressed", String(page.kit_in));
    word("kit_in", page.kit_in ? "Take my kit off" : "Put my kit in");
    const some = Object.keys(page.kit).length;
    if (!page.kit_in) return word("kit_told", some ? "Not in yet: the sliders stand as they stood." : "Nothing is measured yet.");
    const { state, found } = reckoned(page.set), guessed = fireheat.estimate(state, {}, fireheat.settable(state));
    word("kit_told", `My kit is in. Ember, estimate ${band_words(found.ember.all)}; if all of it were guessed, ${band_words(guessed.ember.all)}.`);
}

// ---- the page ----------------------------------------------------------------------------------------------------

function show_fields() {
    $("set_fields").replaceChildren(...WATCHED.map(key => field(key, page.log[key], to => {
        put_in(page.log, key, to);
        keep();
        show_time();
    })), choice(made("label", "Whose arm (invented)"), "not asked", arms, page.arm, (arm = "") => {
        page.arm = arm;
        keep();
        show_time();
    }));
}
const SHOW = { move: () => { scale_sliders(); show_move(); show_against(); show_mine(); }, time: () => { show_fields(); show_time(); }, tries: show_tries, kit: show_kit, safety: () => {} };
function show() {
    const wish = location.hash.slice(1);
    const view = page.read && wish in TITLES ? wish : page.read ? "move" : "safety";
    const turned = document.body.dataset.view !== view;
    document.body.dataset.view = view;
    for (const one of document.querySelectorAll("main > section")) one.hidden = one.id !== view;
    word("title", TITLES[view]);
    document.title = `${TITLES[view]} · fireheat`;
    for (const link of document.querySelectorAll("nav a")) {
        if (link.hash === `#${view === "tries" ? "time" : view}`) link.setAttribute("aria-current", "page");
        else link.removeAttribute("aria-current");
    }
    $("to_tries").hidden = view !== "time";
    $("units").hidden = view === "safety";
    word("units", page.units === "us" ? "in" : "mm");
    $("units").setAttribute("aria-label", page.units === "us" ? "in, lb: change to mm and N" : "mm, N: change to in and lb");
    SHOW[view]();
    if (turned) scrollTo(0, 0);
    return turned;
}
function take_stored() {
    const [newest] = stored().reverse();
    if (!newest) return;
    const { kit, kit_in, kit_kept } = page;
    const mine = page.at && !newest.kit_kept ? { kit, kit_in, kit_kept } : {};
    if (newest.at > page.at) page = { ...newest, ...mine, tries: merged(page.tries, newest.tries) };
    else page.tries = merged(page.tries, newest.tries);
    before = page.before ? reckoned(page.before) : null;
    show_pin();
}

// What another page of this phone kept. What is half written here is kept on top of that.
function hear() {
    if ((stored().at(-1)?.at ?? page.at) === page.at) return tick();
    take_stored();
    document.activeElement?.blur();
    show();
}

for (const key of FIELD.main) slider(key, $("main_sliders"));
for (const key of FIELD.more) slider(key, $("more_sliders"));
$("wood").append(...pairs(woods).map(([key, { name }]) => new Option(name, key)));
$("wood").onchange = () => { page.set.wood = $("wood").value; keep(); move(); };
$("pin").onclick = () => {
    page.before = page.before ? null : { ...page.set };
    before = page.before && seen;
    keep();
    show_pin();
    show_move();
    show_against();
};
$("reset").onclick = () => {
    Object.assign(page, { set: usual(), before: null });
    before = null;
    keep();
    show_pin();
    show();
};
$("units").onclick = () => { page.units = page.units === "us" ? "metric" : "us"; keep(); show(); };
$("read").onclick = () => {
    page.read = true;
    keep();
    location.hash = "#move";
    show();
};
$("start").onclick = () => press("start");
for (const what of ["smoke", "ember", "up"]) $(`press_${what}`).onclick = () => press(what);
twice($("back"), "Surely?", take_back, () => page.run.end === null);
$("take").onclick = () => {
    for (const key of WATCHED.filter(one => one !== "learner")) page.log[key] = page.set[key];
    keep();
    show_fields();
    show_time();
};
$("tap").onpointerdown = event => { pointed = true; tap(event.timeStamp); };
$("tap").onclick = event => {
    if (!pointed) tap(event.timeStamp); // by a key, a switch or a screen reader
    pointed = false;
};
$("beat").onclick = turn_beat;
for (const how of ["share", "copy", "save"]) $(how).onclick = () => hand_on(how);
twice($("forget"), "Surely forget them all?", () => { tries().forEach(left_out); show_tries(); });
$("kit_in").onclick = () => {
    if (page.kit_in) page.kit_in = false;
    else put_kit_in();
    keep();
    show_kit_words();
};
$("kit_empty").onclick = () => { Object.assign(page, { kit: {}, kit_in: false }); keep(); show_kit(); };
$("kit_kept").onchange = () => { page.kit_kept = $("kit_kept").checked; keep(); };
addEventListener("hashchange", () => { if (show()) { keep(); $("title").focus({ preventScroll: true }); } });
addEventListener("storage", hear);
// Results stay in view while sliders move, if these have room; what is focused is not under them.
new ResizeObserver(([{ target }]) => {
    const high = target.offsetHeight;
    target.style.position = high > SHARE * innerHeight ? "static" : "";
    const stays = high && getComputedStyle(target).position === "sticky";
    document.documentElement.style.scrollPaddingTop = stays ? `${high + HEADER}px` : "";
}).observe($("seen"));
addEventListener("resize", () => {
    wide = wide_bar = 0;
    if (document.body.dataset.view === "move") move();
    else tick();
});
addEventListener("beforeunload", event => { if (refused && !handed && tries().length) event.preventDefault(); });
document.addEventListener("visibilitychange", () => { if (!document.hidden) { hear(); stay_awake(); } });
setInterval(tick, TICK);
take_stored();
keep();
show();
})();
