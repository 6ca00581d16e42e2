// Part 2 of 4: the march with wear. Letters as in Python: root is that of the time since the rise.

// ---- heat/wearing.py ----------------------------------------------------------------------------

const { ample: _AMPLE, surplus: _SURPLUS, steps: _STEPS, grading: _GRADING } = LIBRARY.march;
const { close: _CLOSE, tries: _TRIES } = LIBRARY.march;
const [_EARLY, _LATE] = [LIBRARY.march.early, LIBRARY.march.late].map(leggauss);
const _STEP = numbered(_STEPS + 1, n => n / _STEPS);
const _MADE = _STEP.map(step => step ** _GRADING);
const _PACE = _STEP.map(step => _GRADING * step ** (_GRADING - 1) / _STEPS);
const _graded = ([points, weights], grading) => [
    points.map(point => sinh((point + 1) / 2 * grading) / sinh(grading)),
    points.map((point, n) =>
        grading * cosh((point + 1) / 2 * grading) / sinh(grading) * weights[n] / 2),
];
const _late_places = grading => {
    const [young, weight] = _graded(_LATE, grading);
    const place = young.map(one => cos(PI / 2 * one));
    return [
        place, young.map(one => sin(PI / 2 * one) ** 2),
        place.map((one, n) => PI * one * weight[n]),
    ];
};
const _kits = (contact, { power, rise, energy, depth, spindle_share: share }, reached, growth) => {
    const { radius, length, film, capacity, along, across } = contact, area = PI * radius ** 2;
    const spread = [along, across].map(way => way / capacity);
    const worn = [share * depth, (1 - share) * depth];
    const held = rise * area * capacity * depth;
    const price = max(energy - held, _SURPLUS * held);
    const leaking = 2 * film / (radius * capacity), sideways = contact.sideways / across;
    const disc_time = radius ** 2 / (2 * sideways * spread[1]);
    const grading = asinh(6 + sqrt((reached + price / power) * (leaking + 1 / disc_time)));
    const answer = spread.map(one => 1 / (2 * capacity * area * sqrt(PI * one)));
    return {
        power, price, held, reached, growth, answer, leaking, disc_time,
        division: divided(contact, reached),
        level: answer.map(one => rise / one),
        rod_time: length ** 2 / spread[0],
        hole: _MADE.map(made => hole_draw(made * worn[1] * sqrt(sideways), radius)),
        wear_time: spread.map((one, n) => worn[n] ** 2 / (4 * one)),
        wear_heat: worn.map(one => capacity * area * one / 2),
        early: _graded(_EARLY, grading - 1),
        late: _late_places(grading),
    };
};
const _theta = x => {
    if (!(x < 40)) return 1;
    const many = max(x, PI ** 2 / x);
    return (1 + 2 * (exp(-many) + exp(-4 * many) + exp(-9 * many))) * sqrt(max(PI / x, 1));
};
const _fading = (kit, step, age, body) => body
    ? 1 - bessels(kit.disc_time / (kit.hole[step] ** 2 * age))
    : exp(-kit.leaking * age) * _theta(kit.rod_time / age);
// Both tell what was let in: age, weight, pace of wear since, both sources, and the newest's part.
const _sources = (kit, share) => [2 * kit.power * share, 2 * kit.power * (1 - share)];
const _early = (kit, step, root, tell) => {
    const until = atan2(sqrt(kit.reached), root), time = kit.reached + root * root;
    const [young, weight] = kit.early;
    for (let n = 0; n < young.length; n++) {
        const sine = sin(until * (1 - young[n])), age = time * (1 - sine * sine);
        const share = chebyshev(kit.division, 2 * sine / sin(until) - 1), all = 2 * kit.power;
        tell(age, 2 * sqrt(time) * until * sine * weight[n], _MADE[step] / age,
            all * share, all * (1 - share), 0);
    }
};
const between = (from, to, part) => from + part * (to - from);
const _NONE = [0, 0];
const _late = (kit, past, step, root, tell) => {
    const before = past.root, [places, ages, weights] = kit.late;
    const slope = step === 1 ? root : (3 * root - 4 * before[step - 1] + before[step - 2]) / 2;
    const pace = then => then < step
        ? (_MADE[step] - _MADE[then]) / (root * root - before[then] ** 2)
        : _PACE[step] / (2 * root * slope);
    let then = step - 1;
    for (let n = 0; n < places.length; n++) {
        const place = root * places[n];
        while (then && place < before[then]) then--; // places go from now back to the rise
        const newest = then === step - 1, after = newest ? root : before[then + 1];
        const into = (place - before[then]) / (after - before[then]);
        const from = past.source[then], to = newest ? _NONE : past.source[then + 1];
        tell(root * root * ages[n], root * weights[n], between(pace(then), pace(then + 1), into),
            between(from[0], to[0], into), between(from[1], to[1], into), newest ? into : 0);
    }
};
const _moment = (kit, past, step, root) => {
    const known = [0, 0], moved = [0, 0], fresh = [0, 0], fresh_moved = [0, 0];
    const tell = (age, weight, pace, one, other, newest) => {
        for (let body = 0; body < 2; body++) {
            const kernel = _fading(kit, step, age, body) * weight
                * exp(-pace * pace * age * kit.wear_time[body]);
            const source = body ? other : one;
            known[body] += kernel * source;
            moved[body] += kernel * source * pace;
            fresh[body] += kernel * newest;
            fresh_moved[body] += kernel * newest * pace;
        }
    };
    _early(kit, step, root, tell);
    _late(kit, past, step, root, tell);
    const source = known.map((old, body) => (kit.level[body] - old) / fresh[body]);
    const carried = source.map((now, body) =>
        kit.wear_heat[body] * kit.answer[body] * (moved[body] + now * fresh_moved[body]));
    const spared = kit.power - total(source.map((now, body) => now / 2 + carried[body]));
    return { source, spared, carried: total(carried) };
};
const _surplus = (kit, past, step, root) => {
    const end = _moment(kit, past, step, root), before = past.root[step - 1];
    const spared = past.spared[step - 1] * (2 * before + root) + end.spared * (before + 2 * root);
    return [(root - before) * spared / 3 - kit.price * (_MADE[step] - _MADE[step - 1]), end];
};
const _rough = kit => {
    const touch = total(kit.answer.map(answer => 1 / (2 * sqrt(PI) * answer)));
    const first = 2 / sqrt(PI) * touch * kit.growth;
    const carried = 4 / 3 * total(_sources(kit, total(kit.division)).map((source, body) =>
        kit.wear_heat[body] * kit.answer[body] * source));
    return _STEP.slice(1).map((step, n) => {
        let root = sqrt(kit.reached) * step;
        for (let turn = 0; turn < 8; turn++) {
            const part = first * root / (1 + first * root);
            const spared = kit.power * root * root * part * (2 + part) / 3;
            const cost = kit.price + kit.held * carried * root / (kit.held + carried * root);
            root *= cbrt(_MADE[n + 1] * cost / spared);
        }
        return root;
    });
};
const _guess = ({ root, rough }, step) => {
    const from = max(1, step - 3);
    const off = root.slice(from, step).map((one, n) => one / rough[from - 1 + n]);
    const carry = [[], [1], [-1, 2], [1, -3, 3]][off.length];
    const right = off.length ? total(carry.map((part, n) => part * off[n])) : 1;
    return max(right * rough[step - 1], 1.02 * root[step - 1]);
};
const _steepness = (past, step, root, end) =>
    2 * root * max(end.spared, 0) + (past.root[step - 1] + 2 * root) / 3 * end.carried;
// All kits go on until the last of them is there, as they do side by side in an array.
const _solve = (kits, pasts, step) => {
    const all = kits.map((kit, n) => {
        const past = pasts[n], root = _guess(past, step);
        const [value, end] = _surplus(kit, past, step, root);
        const slope = past.bias * _steepness(past, step, root, end);
        return { kit, past, root, value, end, slope };
    });
    for (let turn = 0; turn < _TRIES; turn++) {
        for (const one of all) {
            const { kit, past, root, value, slope } = one;
            one.move = min(max(-value / slope, (past.root[step - 1] - root) / 2), root);
            one.start = one.end;
            one.root += one.move;
            [one.value, one.end] = _surplus(kit, past, step, one.root);
            const secant = one.move === 0 ? slope : (one.value - value) / one.move;
            if (secant > 0) one.slope = secant;
        }
        if (all.every(one => abs(one.move) < _CLOSE * one.root)) break;
    }
    for (const { past, root, value, start, end, slope, move } of all) {
        const rest = -value / slope, beyond = 1 + (move === 0 ? 0 : rest / move);
        past.bias = slope / _steepness(past, step, root, end);
        past.root[step] = root + rest;
        past.source[step] = end.source.map((now, body) => between(start.source[body], now, beyond));
        past.spared[step] = between(start.spared, end.spared, beyond);
    }
};
const _ground = kits => {
    const pasts = kits.map(kit => ({
        root: [0],
        source: [_sources(kit, total(kit.division))],
        spared: [0],
        bias: 1,
        rough: _rough(kit),
    }));
    for (let step = 1; step <= _STEPS; step++) _solve(kits, pasts, step);
    return pasts.map(past => past.root.at(-1));
};
const wearing = cases => {
    const ember = cases.map(() => never), ground = [], kits = [];
    cases.forEach((one, n) => {
        const { contact, power, rise, energy, depth, spindle_share } = one;
        const able = power > rise / _at_last(contact);
        if (!able || !(power > _AMPLE * least_power(contact, rise, depth, spindle_share))) return;
        ground.push(n);
        kits.push(_kits(contact, one, ...when_reached(contact, power, rise)));
    });
    _ground(kits).forEach((root, n) => {
        const { energy, power } = cases[ground[n]];
        ember[ground[n]] = in_time(max(kits[n].reached + root ** 2, energy / power));
    });
    return ember;
};
