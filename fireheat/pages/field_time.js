// Part 3 of 5: the stopwatch, what to say after smoke, taps and beat.

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
