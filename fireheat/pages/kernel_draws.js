// Part 4 of 4: all we do not know, two tries compared, first smoke as a gauge, my kit.

// ---- unknowns.py, spread.py, estimates.py -------------------------------------------------------

const { gauges: GAUGES, primes: _PRIMES, end: _END } = LIBRARY.draws;
const _EXPONENT = "depth_exponent";
const _shares = count => {
    const keys = [...Object.keys(unknowns), LIBRARY.draws.other];
    return Object.fromEntries(keys.map((key, row) => [key, Array.from({ length: count }, (_, n) =>
        (0.5 + n * sqrt(_PRIMES[row])) % 1)]));
};
// Where on the normal curve each draw lies: always the same, so reckoned once.
const _drawn = {};
const even_shares = count => _drawn[count] ??= (shares => ({
    shares, places: each_row(shares, row => row.map(share => ndtri(share) / _END)),
}))(_shares(count));
const at = (key, place, [low, likely, high] = unknowns[key].band) => unknowns[key].kind === "factor"
    ? likely * (place < 0 ? likely / low : high / likely) ** place
    : likely + (place < 0 ? likely - low : high - likely) * place;
const settable = state => Object.keys(unknowns).filter(key => unknowns[key].group === "set"
    && key !== (in_grams(state) ? "burn_in_depth" : "dust_mass"));
const _value = (state, key) => state[key] ?? defaults[key];
const _measured = (state, key, off) => {
    const { kind, measured: [low, high] } = unknowns[key], neutral = kind === "factor" ? 1 : 0;
    if (off === null) return [low, neutral, high];
    if (neutral) return [1 / (1 + off), 1, 1 + off];
    const error = off * _value(state, key);
    return [-error, 0, error];
};
const _known = (state, guessed, measured) => {
    const bands = {};
    for (const [key, off] of Object.entries(measured)) {
        const told = key in GAUGES ? "friction" : key;
        bands[told] = _measured(state, told, off);
    }
    for (const key of guessed) bands[key] = unknowns[key].band;
    return bands;
};
const _possible = (state, key, added) => {
    const value = _value(state, key);
    return clip(value + added, 0, LIBRARY.draws.below * unknowns[key].most) - value;
};
// For each draw, how far off each row of the table is.
const _off = (state, places, guessed, measured) => {
    const known = _known(state, guessed, measured);
    const told = Object.keys(measured).flatMap(key => GAUGES[key] ?? []);
    const keys = Object.keys(unknowns).filter(key => key !== _EXPONENT && !told.includes(key)
        && (unknowns[key].group !== "set" || key in known));
    return places.luck.map((_, n) => {
        const off = {};
        for (const key of keys) {
            off[key] = at(key, places[key][n], known[key]);
            if (unknowns[key].kind === "added") off[key] = _possible(state, key, off[key]);
        }
        return off;
    });
};
const _end = (ordered, share) => {
    const place = share * ordered.length - 0.5, below = trunc(place), part = place - below;
    const low = ordered[below], high = ordered[below + 1];
    const between = low ** (1 - part) * high ** part;
    return isNaN(between) ? (part < 0.5 ? low : high) : between;
};
const _band = (values, likely) => {
    const ordered = Float64Array.from(values).sort(), [low, high] = LIBRARY.draws.ends;
    return about_likely([_end(ordered, low), likely, _end(ordered, high)]);
};
const never_in = values => total(values.map(time => time === never ? 1 : 0)) / values.length;
const estimate = (state, measured = {}, guessed = []) => {
    const own = times(state), { places } = even_shares(LIBRARY.draws.count);
    const cases = _off(state, places, guessed, measured).map(off => case_(state, off));
    const { smoke, ember } = quick(cases);
    return {
        power: own.power,
        bound: own.bound,
        smoke: { wood: own.smoke, all: _band(smoke, own.smoke[1]) },
        ember: { wood: own.ember, all: _band(ember, own.ember[1]) },
        bound_all: _band(cases.map(one => one.bound), own.bound),
        power_all: _band(cases.map(one => one.power), own.power),
        never: never_in(ember),
        never_smokes: never_in(smoke),
        why_never: own.why_never,
        dust: dust(state),
        enough: enough_dust(state),
        pull: kit_pull(state),
    };
};
// What was asked last is asked again: each second after smoke, and of a try that is pinned.
const _answers = new Map();
const kept = (question, answer) => {
    const asked = JSON.stringify(question);
    if (!_answers.has(asked)) {
        if (_answers.size >= 8) _answers.clear();
        _answers.set(asked, answer());
    }
    return _answers.get(asked);
};
const _wider = state => state.diameter / defaults.diameter;
const _depth_in_doubt = (one, other) =>
    !in_grams(one) && !in_grams(other) && one.diameter !== other.diameter;
const _ratio = (one, other) => one === never && other === never ? 1 : other / one;
// The other's ember over the one's, the same unknowns in both; found: their estimates, if known.
const compare = (one, other, measured = {}, guessed = [], found = null) => {
    const { shares, places } = even_shares(LIBRARY.draws.count);
    const doubt = _depth_in_doubt(one, other);
    const [least, middle, most] = unknowns[_EXPONENT].band;
    const even = { ...places, luck: places.luck.map(() => 0) };
    const drawn = [one, other].map(state => kept([state, doubt, measured, guessed], () => {
        const offs = _off(state, even, guessed, measured);
        if (doubt) offs.forEach((off, n) => {
            const exponent = least + (most - least) * shares[_EXPONENT][n];
            off.burn_in_depth = (off.burn_in_depth ?? 1) * _wider(state) ** -exponent;
        });
        return quick(offs.map(off => case_(state, off))).ember;
    }));
    const likely = [one, other].map((state, n) => {
        const off = doubt ? { burn_in_depth: _wider(state) ** -middle } : {};
        if (!found) return embers([case_(state, off)])[0];
        if (!doubt) return found[n].ember.wood[1];
        const [as_set, then] = [{}, off].map(by => quick([case_(state, by)]).ember[0]);
        return found[n].ember.wood[1] * (isFinite(as_set) ? then / as_set : 1);
    });
    return _band(drawn[0].map((time, n) => _ratio(time, drawn[1][n])), _ratio(...likely));
};

// ---- coach/smoke_now.py, for somebody whose arm keeps up what is set ----------------------------

const _foretold = (state, measured, guessed) => kept([state, measured, guessed], () => {
    const { places } = even_shares(LIBRARY.after_smoke.draws);
    const offs = _off(state, places, guessed, measured);
    const { smoke, ember } = quick(offs.map(off => case_(state, off)));
    const later = ember.map((time, n) => time === never ? never
        : smoke[n] + (time - smoke[n]) * at("luck", places[_EXPONENT][n]));
    return { smoke, ember: later };
});
const _guesses = (state, measured) => {
    const told = Object.keys(measured).flatMap(key =>
        key in GAUGES ? ["friction", ...GAUGES[key]] : [key]);
    return settable(state).filter(key => !told.includes(key));
};
const _off_smoke = (smoke, seen) => {
    const [low, likely, high] = LIBRARY.after_smoke.sooner;
    const doubt = hypot(log(high / low) / 2, log1p(LIBRARY.after_smoke.seen)) / _END;
    return smoke.map(time => log(seen / (time * likely)) / doubt);
};
const _weights = off => {
    let told = off.map(one => -0.5 * one ** 2);
    if (!told.some(isFinite)) told = told.map(() => 0);
    const most = told.reduce((a, b) => max(a, b)), weights = told.map(one => exp(one - most));
    const sum = total(weights);
    return weights.map(weight => weight / sum);
};
const _window = (ember, weights) => {
    const sum = total(weights);
    if (!(sum > 0)) return [never, never, never];
    const order = ember.map((_, n) => n).sort((a, b) =>
        ember[a] < ember[b] ? -1 : ember[a] > ember[b] ? 1 : 0);
    const rising = [];
    order.reduce((so_far, n) => (rising.push(so_far + weights[n]), so_far + weights[n]), 0);
    return LIBRARY.after_smoke.shares.map(share => {
        const place = rising.findIndex(one => one / sum >= share);
        return ember[order[place < 0 ? order.length - 1 : place]];
    });
};
const after_smoke = (state, smoke_time, elapsed, measured = {}) => {
    const rules = LIBRARY.after_smoke;
    let { smoke, ember } = _foretold(state, measured, []);
    const below = total(_off_smoke(smoke, smoke_time).map(ndtr)) / smoke.length;
    const strange = min(below, 1 - below) < rules.odd / 2;
    if (strange) ({ smoke, ember } = _foretold(state, measured, _guesses(state, measured)));
    const weights = _weights(_off_smoke(smoke, smoke_time));
    const open_yet = weights.map((weight, n) => ember[n] > elapsed ? weight : 0);
    const gone = total(weights.filter((_, n) => !(ember[n] > elapsed)));
    const window = _window(ember, open_yet), open_in_all = total(open_yet);
    const none = open_in_all > 0
        ? total(open_yet.filter((_, n) => ember[n] === never)) / open_in_all : 1;
    const kind = gone > rules.late || none > 1 / 2 ? "late"
        : constants.longest_bowing < window[1] ? "tired"
            : window[0] - elapsed > rules.soon ? "early" : "soon";
    const left = window.map(time => time - elapsed), words = rules.words[kind];
    return { window, left, never: none, gone, strange, kind, ...words };
};

// ---- my_kit.py: readings are { name: [value, error] } -------------------------------------------

const my_kit = (readings, start) => {
    const state = { ...start }, measured = {}, { gauges, of_ten, most } = LIBRARY.my_kit;
    for (const [key, [value, error]] of Object.entries(readings)) {
        const share = value ? min(of_ten * error / value, most) : 0;
        if (key in gauges) measured[gauges[key][0]] = share;
        else {
            if (key === "dust_mass") state.burn_in_depth = null;
            if (key === "burn_in_depth") state.dust_mass = null;
            state[key] = value;
            measured[key === "specific_gravity" ? "density" : key] = share;
        }
    }
    for (const key of Object.keys(gauges).filter(gauge => gauge in readings)) {
        for (const besides of gauges[key][1]) delete measured[besides];
        const radius = state.diameter / 2;
        state.friction = readings[key][0] / friction_power(
            torque_coefficient(state.contact), 1, 1, 1, radius, state.cord_radius ?? radius);
    }
    return { state, measured };
};

// Sets everything as it is ordinarily, but for some: grams or depth of the dust, the other is null.
const try_ = (changes = {}) => {
    const made = { ...LIBRARY.ordinary, ...changes };
    if (changes.dust_mass != null) made.burn_in_depth = null;
    return made;
};
// How each quantity is shown: si = shown * scale + offset, in either system of units.
const quantities = each_row(LIBRARY.quantities, row => {
    const [name, usual, range, slider, ends, units, steps, parts] = row;
    const [metric, us] = units.map((key, system) => {
        const [unit, scale, offset] = LIBRARY.units[key], step = steps[system];
        const digits = step ? max(0, -floor(log10(step) + 1e-9)) : 1;
        return { unit, scale, offset, step, digits };
    });
    if (parts) us.parts = parts;
    return { name, default: usual, range, slider: slider ?? range, ends, metric, us };
});
return {
    try_, estimate, compare, after_smoke, my_kit, settable, number_words, woods,
    quantities, unknowns,
};
