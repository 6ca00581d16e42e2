// The explorer of a page without a kernel: sliders, one estimate, results in words, and one lane.
// It stands in each place of class "explorer", once that is looked at.

{
    const MAIN = ["diameter", "force", "friction", "speed"];
    const MORE = ["stroke_length", "strokes_per_minute", "moisture", "burn_in_depth", "dust_mass"];
    const DUST = { burn_in_depth: "depth worn off", dust_mass: "grams" }; // for one ember, as one of these
    const STROKES = { stroke_length: "strokes_per_minute", strokes_per_minute: "stroke_length" };
    const SPOKEN = 400; // ms after the last move
    const TWICE_AFTER = 60; // ms: what twice would do is worked out once the hand rests
    const STROKE = fireheat.quantities.stroke_length.default;

    const capital = words => words[0].toUpperCase() + words.slice(1);
    const make = (tag, look, words = "") => Object.assign(document.createElement(tag), { className: look, textContent: words });
    const system = () => document.documentElement.dataset.units ?? "metric";
    const strokes_of = speed => ({ stroke_length: STROKE, strokes_per_minute: 60 * speed / STROKE });

    const range_of = key => {
        const row = fireheat.quantities[key], { scale, offset, step, parts } = row[system()];
        const apart = parts ? 1 / parts : step;
        const [low, high] = row.slider.map(end => (end - offset) / scale);
        const marks = (value, round) => round(value / apart + (round === Math.ceil ? -1e-6 : 1e-6)) * apart;
        return { min: marks(low, Math.ceil), max: marks(high, Math.floor), step: apart };
    };
    const to_si = (key, shown) => {
        const { scale, offset } = fireheat.quantities[key][system()];
        return shown * scale + offset;
    };
    const to_shown = (key, si) => {
        const { scale, offset } = fireheat.quantities[key][system()];
        return (si - offset) / scale;
    };
    const tile = (look, what, big, note) =>
        `<div class="tile ${look}"><dt>${what}</dt><dd><b>${unbroken(big)}</b><span>${unbroken(note)}</span></dd></div>`;
    const results = (found, change) => {
        const { wood, all } = found.ember, never = found.why_never;
        const change_words = change ? `against before: ${factor_words(change)}; ` : "";
        const likely = never ? `most likely never: ${never}`
            : `with wood like yours ${band_words(wood)}; ${likely_words(wood[1])}`;
        return tile("ember", "Ember, estimate", band_words(all), change_words + likely)
            + tile("floor", "Floor", floor_words(found.bound),
                `${SAID.floor_note}; ${band_words(found.bound_all)} with all we do not know`)
            + tile("smoke", "First smoke, estimate", band_words(found.smoke.all), likely_words(found.smoke.wood[1]))
            + tile("dust", "Enough dust?", never ? "no hot dust" : SAID.enough[found.enough.verdict], "")
            + tile("watts", "Heat made", `${fireheat.number_words(found.power)} W`, "");
    };
    const sentence = (found, key, value, change) => {
        const at = `at ${fireheat.quantities[key].name} ${quantity_words(key, value, system())}`;
        const { wood, all } = found.ember;
        const ember = all[0] >= LANE.too_long
            ? `Never an ember ${at}: ${found.why_never}. ${SAID.ways_out}`
            : `Ember, estimate ${band_words(all)} (with wood like yours ${band_words(wood)}, `
                + `${likely_words(wood[1])}) ${at}.`;
        const lead = change ? `Against before: ${factor_words(change)}. ` : "";
        return `${lead}${ember} Floor ${floor_words(found.bound)}.`;
    };
    const twice_words = (state, key, found) => {
        const row = fireheat.quantities[key];
        if (key === "stroke_length") return "at the same bow speed, changes nothing";
        if (key === "strokes_per_minute") return "bow speed is stroke length times strokes";
        if (!(state[key] > 0) || 2 * state[key] > row.range[1]) return "";
        const other = { ...state, [key]: 2 * state[key] }, then = fireheat.estimate(other);
        const comes = one => one.ember.wood[1] < LANE.too_long;
        if (!comes(found) && !comes(then)) return "Twice this: still most likely never";
        if (!comes(then)) return "Twice this: most likely never";
        if (!comes(found)) return "Twice this: most likely an ember at last";
        return `Twice this: ${factor_words(fireheat.compare(state, other, {}, [], [found, then]))}`;
    };

    const stand = place => {
        // A card leaves only a few things free, keeps its start in view, and has a goal.
        const { before, after, free, goal } = JSON.parse(place.dataset.start), start = fireheat.try_(before);
        const sliding = (free ?? [...MAIN, ...MORE]).filter(key => key !== "wood"), [first] = sliding;
        Object.assign(start, { ...strokes_of(start.speed), dust: "burn_in_depth", dust_mass: 0, ...before });
        let state = { ...start, ...after }, kept = null, moved = Object.keys(after)[0] ?? first;
        let found, change, waiting = 0, speaking = 0, counting = 0;
        // A try as the kernel takes it: its dust as a depth or in grams, its speed without strokes.
        const tried = one => {
            const { stroke_length, strokes_per_minute, dust, ...rest } = one;
            for (const key in DUST) if (key !== dust) rest[key] = null;
            return rest;
        };
        const keep = one => {
            const state = tried(one);
            kept = { state, found: fireheat.estimate(state) };
        };
        if (free || Object.keys(after).length) keep(start);

        const seen = make("div", "seen"), tiles = make("dl", "tiles"), drawn = make("div", "drawn");
        const says = make("p", "says");
        seen.append(tiles, drawn);
        says.setAttribute("role", "status");
        const rows = {}, main = make("div", "sliders"), more = make("details", "more");
        const rest = free ? main : make("div", "sliders");
        more.append(make("summary", "", "More: strokes, wood, water, dust"), rest);
        for (const key of sliding) {
            const { name, ends } = fireheat.quantities[key];
            const row = make("div", "slider"), label = make("label", "", capital(name));
            const value = make("b", "value"), input = make("input", ""), note = make("p", "note");
            label.htmlFor = input.id = `${key}-${document.querySelectorAll(".slider").length}-${place.dataset.number}`;
            input.type = "range";
            const low_high = make("span", "ends");
            if (ends?.length) low_high.append(make("i", "", ends[0]), make("i", "", ends[1]));
            low_high.setAttribute("aria-hidden", "true");
            input.addEventListener("input", () => set(key, to_si(key, Number(input.value))));
            row.append(label, value, input, low_high, note);
            (MAIN.includes(key) ? main : rest).append(row);
            rows[key] = { input, value, note, at: null };
        }
        const choose = (words, options, act) => {
            const label = make("label", "slider choice", `${words} `), choice = make("select", "");
            for (const [key, name] of options) choice.append(new Option(name, key));
            choice.addEventListener("change", () => act(choice.value));
            label.append(choice);
            rest.append(label);
            return choice;
        };
        const woods = Object.entries(fireheat.woods).map(([key, { name }]) => [key, name]);
        const wood = free && !free.includes("wood") ? {} : choose("Wood", woods, key => set("wood", key));
        // The same dust, given otherwise: what wears off goes with the depth.
        const dust = free ? {} : choose("Dust for one ember given as", Object.entries(DUST), key => {
            const { burn_in_depth } = start, deep = { ...state, dust: "burn_in_depth", burn_in_depth };
            const worn = fireheat.estimate(tried(deep)).dust;
            const other = key === "dust_mass" ? found.dust : burn_in_depth * found.dust / worn;
            state = { ...state, dust: key };
            set(key, other);
        });

        const press = (words, act) => {
            const made = make("button", "", words);
            made.type = "button";
            made.addEventListener("click", act);
            return made;
        };
        const buttons = make("p", "buttons");
        const pin = press("Keep this as “before”", () => {
            kept ? kept = null : keep(state);
            show();
        });
        const twice = press("What would twice do?", () => {
            twice.setAttribute("aria-pressed", String(twice.ariaPressed !== "true"));
            show();
        });
        twice.setAttribute("aria-pressed", "false");
        buttons.append(pin, twice, press("Back to the start", () => {
            state = { ...start };
            kept = null;
            if (free) keep(start);
            moved = first;
            show();
        }));

        const set = (key, value) => {
            state = { ...state, [key]: value };
            if (key in STROKES) state.speed = state.stroke_length * state.strokes_per_minute / 60;
            if (key === "speed") state.strokes_per_minute = 60 * value / state.stroke_length;
            if (key in rows) moved = key;
            waiting ||= requestAnimationFrame(() => { waiting = 0; show(); });
        };
        const stand_sliders = () => {
            for (const [key, row] of Object.entries(rows)) {
                const { input, value, note } = row, words = quantity_words(key, state[key], system());
                if (twice.ariaPressed !== "true") note.textContent = "";
                if (row.at === state[key] && value.textContent === words) continue; // it has not moved
                row.at = state[key];
                const { min, max, step } = range_of(key);
                Object.assign(input, { min, max, step });
                input.value = to_shown(key, state[key]);
                value.textContent = words;
                input.setAttribute("aria-valuetext", words.replace("\u00a0", " "));
            }
            for (const key in DUST) if (!free) rows[key].input.parentElement.hidden = key !== state.dust;
            wood.value = state.wood;
            dust.value = state.dust;
        };
        const draw = () => {
            const width = Math.max(280, Math.min(drawn.clientWidth || 640, 760));
            draw_lane(drawn, found, { before: kept?.found, goal, flag: goal ? goal_flag(goal) : null, width })
                .setAttribute("aria-label", sentence(found, moved, state[moved], change));
        };
        const say = () => { says.textContent = unbroken(sentence(found, moved, state[moved], change)); };
        const show = () => {
            found = fireheat.estimate(tried(state));
            const moves = kept && !(free && sliding.every(key => state[key] === start[key]) && state.wood === start.wood);
            change = moves ? fireheat.compare(kept.state, tried(state), {}, [], [kept.found, found]) : null;
            pin.textContent = kept ? "Drop “before”" : "Keep this as “before”";
            tiles.innerHTML = results(found, change);
            stand_sliders();
            draw();
            clearTimeout(speaking);
            speaking = setTimeout(say, SPOKEN);
            clearTimeout(counting);
            if (twice.ariaPressed === "true") counting = setTimeout(() => {
                for (const key in rows) rows[key].note.textContent = twice_words(tried(state), key, found);
            }, TWICE_AFTER);
            place.dispatchEvent(new CustomEvent("shown", { detail: { start, state, found } }));
        };
        place.replaceChildren(seen, main, buttons, ...(free ? [] : [more]), says);
        place.classList.add("alive");
        show();
        say();
        let wide = drawn.clientWidth;
        new ResizeObserver(() => {
            if (drawn.clientWidth && drawn.clientWidth !== wide) { wide = drawn.clientWidth; draw(); }
        }).observe(drawn);
        addEventListener("units", show);
    };

    const seen = new IntersectionObserver(entries => {
        for (const { isIntersecting, target } of entries) {
            if (!isIntersecting) continue;
            seen.unobserve(target);
            stand(target);
        }
    }, { rootMargin: "400px" });
    document.querySelectorAll(".explorer").forEach((place, number) => {
        place.dataset.number = number;
        seen.observe(place);
    });
    addEventListener("beforeprint", () => {
        for (const place of document.querySelectorAll("main .explorer:not(.alive)")) {
            if (place.checkVisibility()) { seen.unobserve(place); stand(place); }
        }
    });
}
