// Part 2 of 5: sliders, and what comes out.

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
