// Part 4 of 4: all we do not know, two tries compared, a club's own evenings, first smoke as a
// gauge, my kit.

// ---- unknowns.py, spread.py, estimates.py -------------------------------------------------------

// What was asked last is asked again: each second after smoke, and of a try that is pinned.
const kept = (answers, question, answer) => {
    const asked = JSON.stringify(question), found = answers.get(asked) ?? answer();
    answers.delete(asked);
    answers.set(asked, found);
    const [oldest] = answers.keys();
    if (answers.size > 8) answers.delete(oldest);
    return found;
};
const { gauges: GAUGES, primes: _PRIMES, end: _END, other: _OTHER_LUCK } = LIBRARY.draws;
const _EXPONENT = "depth_exponent";
const _ROOTS = Object.fromEntries([...Object.keys(unknowns), _OTHER_LUCK].map((key, row) =>
    [key, sqrt(_PRIMES[row])]));
// Draws by number. Where each lies on the normal curve is always the same, so reckoned once; and so
// are the values of rows that nobody told otherwise. Some have in common a part of what is drawn.
const draws_of = (numbers, common) =>
    ({ numbers, common, places: {}, usual: {}, answers: new Map() });
const _even = {};
const even_shares = count => _even[count] ??= draws_of(numbered(count, Number));
const _shares = ({ numbers }, key) => numbers.map(n => (0.5 + n * _ROOTS[key]) % 1);
const places_of = (draws, key) => draws.places[key] ??= _shares(draws, key).map((share, n) =>
    ndtri(share) / _END * (draws.common ? draws.common[n] : 1));
const at = (key, place, [low, likely, high] = unknowns[key].band) => unknowns[key].kind === "factor"
    ? likely * (place < 0 ? likely / low : high / likely) ** place
    : likely + (place < 0 ? likely - low : high - likely) * place;
const luck_of = (draws, key = "luck") =>
    draws.usual[key] ??= places_of(draws, key).map(place => at("luck", place));
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
const _known = (state, measured, guessed) => {
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
// How far off each row of the table is, in each draw; luck only multiplies all times, so later.
const _off = (state, draws, measured, guessed) => {
    const known = _known(state, measured, guessed), off = {};
    const told = Object.keys(measured).flatMap(key => GAUGES[key] ?? []);
    for (const key in unknowns) {
        const { kind, group } = unknowns[key], set = group === "set" && !(key in known);
        if (set || key === _EXPONENT || group === "luck" || told.includes(key)) continue;
        const drawn = () => places_of(draws, key).map(place => {
            const value = at(key, place, known[key]);
            return kind === "added" ? _possible(state, key, value) : value;
        });
        off[key] = key in known ? drawn() : draws.usual[key] ??= drawn();
    }
    return off;
};
const _wider = state => state.diameter / defaults.diameter;
const _doubted_depth = (state, draws, { burn_in_depth: deep }) => {
    const [least, , most] = unknowns[_EXPONENT].band;
    return _shares(draws, _EXPONENT).map((share, n) =>
        (deep ? deep[n] : 1) * _wider(state) ** -(least + (most - least) * share));
};
const _outcomes = (state, draws, measured, guessed, in_doubt = false) =>
    kept(draws.answers, [state, measured, guessed, in_doubt], () => {
        const off = _off(state, draws, measured, guessed);
        if (in_doubt) off.burn_in_depth = _doubted_depth(state, draws, off);
        const cases = draws.numbers.map((_, n) => case_(state, off, n));
        const [power, bound] = ["power", "bound"].map(key => cases.map(one => one[key]));
        return { power, bound, ...quick(cases) };
    });
const _end = (ordered, share) => {
    const place = share * ordered.length - 0.5, below = trunc(place), part = place - below;
    const low = ordered[below], high = ordered[below + 1];
    const between = low ** (1 - part) * high ** part;
    return isNaN(between) ? (part < 0.5 ? low : high) : between;
};
const _band = (values, likely) => {
    const ordered = new Float64Array(values).sort(), [low, high] = LIBRARY.draws.ends;
    return about_likely([_end(ordered, low), likely, _end(ordered, high)]);
};
const never_in = values => values.filter(time => time === never).length / values.length;
const estimate = (state, measured = {}, guessed = []) => {
    const own = times(state), draws = even_shares(LIBRARY.draws.count), luck = luck_of(draws);
    const { power, bound, smoke, ember } = _outcomes(state, draws, measured, guessed);
    const lucky = (times, likely) => _band(times.map((time, n) => time * luck[n]), likely);
    return {
        power: own.power,
        bound: own.bound,
        smoke: { wood: own.smoke, all: lucky(smoke, own.smoke[1]) },
        ember: { wood: own.ember, all: lucky(ember, own.ember[1]) },
        bound_all: lucky(bound, own.bound),
        power_all: _band(power, own.power),
        never: never_in(ember),
        never_smokes: never_in(smoke),
        why_never: own.why_never,
        dust: dust(state),
        enough: enough_dust(state),
        pull: kit_pull(state),
    };
};
const _depth_in_doubt = (one, other) =>
    !in_grams(one) && !in_grams(other) && one.diameter !== other.diameter;
const _ratio = (one, other) => one === never && other === never ? 1 : other / one;
// The other's ember over the one's, the same unknowns in both; found: their estimates, if known.
const compare = (one, other, measured = {}, guessed = [], found = null) => {
    const draws = even_shares(LIBRARY.draws.count), in_doubt = _depth_in_doubt(one, other);
    const [, middle] = unknowns[_EXPONENT].band;
    const drawn = [one, other].map(state =>
        _outcomes(state, draws, measured, guessed, in_doubt).ember);
    const likely = [one, other].map((state, n) => {
        const off = in_doubt ? { burn_in_depth: [_wider(state) ** -middle] } : {};
        if (!found) return embers([case_(state, off, 0)])[0];
        if (!in_doubt) return found[n].ember.wood[1];
        const [as_set, then] = [{}, off].map(by => quick([case_(state, by, 0)]).ember[0]);
        return found[n].ember.wood[1] * (isFinite(as_set) ? then / as_set : 1);
    });
    return _band(drawn[0].map((time, n) => _ratio(time, drawn[1][n])), _ratio(...likely));
};

// ---- trials/foretold.py, trials/our_fire.py: what tries tell is carried as numbers of draws -----

const { scatter: _SCATTER, latest: LATEST } = LIBRARY.evenings;
const error_of = key => {
    const [low, , high] = unknowns[key].band;
    return log(high / low) / 2 / _END;
};
const _carried = new Map();
const fires = ({ numbers, width }) => kept(_carried, [numbers, width], () => {
    const place = places_of(draws_of(numbers), _OTHER_LUCK);
    const scatter = place.map(one => at("luck", one, _SCATTER));
    const common = scatter.map(one =>
        sqrt(max(1 - max(one ** 2 - error_of("luck") ** 2, 0) / width ** 2, 0)));
    return { scatter, draws: draws_of(numbers, common) };
});
// The place below which a share of what is foretold lies, by Newton's steps between halvings.
const _below = (foretold, scatter, share) => {
    let low = -LATEST, high = LATEST, place = high / 2, step = high;
    while (abs(step) > 1e-11) {
        let off = -share * foretold.length, slope = 0;
        foretold.forEach((time, n) => {
            const z = (place - time) / scatter[n];
            off += ndtr(z);
            slope += exp(-z * z / 2) / scatter[n];
        });
        if (off < 0) low = place;
        else high = place;
        step = -off * sqrt(2 * PI) / slope;
        if (!(low < place + step && place + step < high)) step = (low + high) / 2 - place;
        place += step;
    }
    return place;
};
// After the club's own tries: told is what evenings_for_kernel in pages/kernel.py writes.
const evenings = (state, told) => {
    const { scatter, draws } = fires(told), theirs = { ...state, ...told.dust };
    const { ember } = _outcomes(theirs, draws, told.measured, told.guessed, !in_grams(theirs));
    const foretold = ember.map(time => log(time * unknowns.luck.band[1]))
        .map(time => time < LATEST ? time : never);
    return LIBRARY.after_smoke.shares.map(share => {
        const end = _below(foretold, scatter, share);
        return end < LATEST - 1e-9 ? exp(end) : never;
    });
};

// ---- person/arm.py, person/limits.py, coach/pace.py ---------------------------------------------

const arms = each_row(LIBRARY.arms, row => Object.fromEntries(
    ["name", "pull_max", "speed_max", "critical_power", "work_above"].map((key, n) => [key, row[n]])));
const hold_time = (power, { critical_power, work_above }) =>
    power > critical_power ? work_above / (power - critical_power) : never;
const arm_speed = (pull, { pull_max, speed_max }) => {
    const x = pull / pull_max, { curvature } = defaults;
    return x > 1 - 1e-12 ? 0 : speed_max * curvature * (1 - x) / (x + curvature);
};
const speed_at_force = (state, arm) => arm_speed(kit_pull(state), arm);
const _in_time = (state, arm, speeds) =>
    embers(speeds.map(speed => case_({ ...state, speed }, {}, 0))).map((time, n) => time
        <= min(hold_time(kit_pull(state) * speeds[n], arm), constants.longest_bowing));
const { points: _POINTS_SWEPT, slowest: _SLOWEST } = LIBRARY.pace;
const linspace = (low, high) => {
    const last = _POINTS_SWEPT - 1;
    return numbered(_POINTS_SWEPT, n => n < last ? low + n * ((high - low) / last) : high);
};
const _longest = inside => {
    let [first, last] = [0, -1], start = 0;
    inside.forEach((now, n) => {
        if (!now) start = n + 1;
        else if (n - start > last - first) [first, last] = [start, n];
    });
    return [first, last];
};
const _edge = (state, arm, from, beyond) => {
    if (beyond === undefined) return from;
    const between = linspace(from, beyond);
    return between.at(_in_time(state, arm, between).findIndex(still => !still) - 1);
};
const _paces = new Map();
// The speeds at which the ember comes before the arm is spent; none if the first is not below.
const pace = (state, arm) => kept(_paces, [state, arm], () => {
    const most = speed_at_force(state, arm), speeds = linspace(_SLOWEST * most, most);
    if (!most) return [1, 0];
    const [first, last] = _longest(_in_time(state, arm, speeds));
    return last < first ? [1, 0] : [[first, -1], [last, 1]].map(([place, way]) =>
        _edge(state, arm, speeds[place], speeds[place + way]));
});

// ---- coach/smoke_now.py -------------------------------------------------------------------------

const _foretold = (state, measured, guessed) => {
    const draws = even_shares(LIBRARY.after_smoke.draws);
    const { smoke, ember } = _outcomes(state, draws, measured, guessed);
    const luck = luck_of(draws), later = luck_of(draws, _EXPONENT);
    return {
        smoke: smoke.map((time, n) => time * luck[n]),
        ember: ember.map((time, n) => time === never ? never
            : luck[n] * (smoke[n] + (time - smoke[n]) * later[n])),
    };
};
const _guesses = (state, measured) => {
    const told = Object.keys(measured).flatMap(key =>
        key in GAUGES ? ["friction", ...GAUGES[key]] : [key]);
    return settable(state).filter(key => !told.includes(key));
};
const _off_smoke = (smoke, seen) => {
    const [low, likely, high] = LIBRARY.after_smoke.sooner;
    const doubt = sqrt((log(high / low) / 2) ** 2 + log1p(LIBRARY.after_smoke.seen) ** 2) / _END;
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
    let so_far = 0;
    const rising = order.map(n => so_far += weights[n]);
    return LIBRARY.after_smoke.shares.map(share => {
        const place = rising.findIndex(one => one / sum >= share);
        return ember[order[place < 0 ? order.length - 1 : place]];
    });
};
const _steadied = (speed, [low, high]) => {
    if (low > high || (low <= speed && speed <= high)) return [speed, "tired"];
    const beat = (low + high) / 2;
    return [beat, speed > beat ? "spent" : "quicker"];
};
const _to_do = (state, arm, { hopeless, window }, elapsed) => {
    const { soon, limit } = LIBRARY.after_smoke, { speed } = state;
    if (hopeless) return [speed, "late"];
    const hold = arm ? hold_time(kit_pull(state) * speed, arm) : never;
    if (min(hold, constants.longest_bowing) < window[1]) {
        return arm ? _steadied(speed, pace(state, arm)) : [speed, "tired"];
    }
    if (window[0] - elapsed > soon) return [speed, "early"];
    return [speed, arm && speed >= limit * speed_at_force(state, arm) ? "limit" : "soon"];
};
// Without an arm, somebody who keeps up what is set.
const after_smoke = (set, smoke_time, elapsed, measured = {}, arm = null) => {
    const { odd, late, words } = LIBRARY.after_smoke;
    const state = arm ? { ...set, speed: min(set.speed, speed_at_force(set, arm)) } : set;
    let { smoke, ember } = _foretold(state, measured, []);
    const below = total(_off_smoke(smoke, smoke_time).map(ndtr)) / smoke.length;
    const strange = min(below, 1 - below) < odd / 2;
    if (strange) ({ smoke, ember } = _foretold(state, measured, _guesses(state, measured)));
    const weights = _weights(_off_smoke(smoke, smoke_time));
    const open_yet = weights.map((weight, n) => ember[n] > elapsed ? weight : 0);
    const gone = total(weights.filter((_, n) => !(ember[n] > elapsed)));
    const window = _window(ember, open_yet), open_in_all = total(open_yet);
    const none = open_in_all > 0
        ? total(open_yet.filter((_, n) => ember[n] === never)) / open_in_all : 1;
    const overdue = gone > late, hopeless = overdue || none > 1 / 2;
    const [speed, kind] = _to_do(state, arm, { hopeless, window }, elapsed);
    const left = window.map(time => time - elapsed);
    return {
        window, left, never: none, gone, strange, overdue, hopeless, speed, kind, ...words[kind],
    };
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
    try_, estimate, compare, evenings, after_smoke, my_kit, settable, number_words, arms, woods,
    quantities, unknowns,
};
