// Part 1 of 5 of what the field page does, in one function: what is kept on this phone, and numbers in
// the reader's units. Moments are of the wall clock, so a locked screen loses no second.

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
