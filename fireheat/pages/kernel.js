// The library's estimate in plain JavaScript. Each function has the name of the one in Python that it
// repeats; what stands in LIBRARY is printed from its tables and arrays, and so are the formulas
// above. Many kits at once are lists of single ones, since each has numbers only. SI units.

const { abs, asinh, atan, atan2, cbrt, cos, cosh, exp, expm1, floor, hypot, log, log10, log1p } = Math;
const { max, min, PI, sin, sinh, sqrt, trunc } = Math;
const { constants, defaults, shadow } = LIBRARY;
const never = Infinity;
const each_row = (rows, make) => Object.fromEntries(
    Object.entries(rows).map(([key, row]) => [key, make(row)]));
const unknowns = each_row(LIBRARY.unknowns, ([kind, group, band, measured, most]) =>
    ({ kind, group, band, measured, most: most ?? never }));
const woods = each_row(LIBRARY.woods, ([name, specific_gravity, caution]) =>
    ({ name, specific_gravity, caution: LIBRARY.cautions[caution] }));
const total = values => values.reduce((sum, value) => sum + value, 0);
const clip = (value, low, high) => min(max(value, low), high);

// ---- special functions, by Chebyshev series through SciPy's values ------------------------------

const chebyshev = (series, x) => {
    let newer = 0, older = 0;
    for (let n = series.length - 1; n > 0; n--) {
        const newest = 2 * x * newer - older + series[n];
        older = newer;
        newer = newest;
    }
    return x * newer - older + series[0];
};
const exprel = x => x === 0 ? 1 : expm1(x) / x;
// Exponentially scaled Bessel functions i0e and i1e, added.
const bessels = y => y > 8
    ? chebyshev(LIBRARY.bessels_far, 16 / y - 1) / sqrt(y)
    : chebyshev(LIBRARY.bessels_near, y / 4 - 1);
const ndtr = x => {
    if (x > 0) return 1 - ndtr(-x);
    if (x === -never) return 0;
    const z = -x / sqrt(2), place = (z - LIBRARY.tail_place) / (z + LIBRARY.tail_place);
    return exp(-z * z) * chebyshev(LIBRARY.tail, place) / (1 + 2 * z) / 2;
};
const ndtri = share => {
    if (share > 0.5) return -ndtri(1 - share);
    const start = sqrt(-2 * log(share));
    let x = 1.18 * (sqrt(2 * log(2)) - start);
    for (let turn = 0; turn < 5; turn++) {
        const off = (ndtr(x) - share) * sqrt(2 * PI) * exp(x * x / 2);
        x -= off / (1 + x * off / 2);
    }
    return x;
};

// ---- complex numbers, as pairs --------------------------------------------------------------------

const multiplied = ([a, b], [c, d]) => [a * c - b * d, a * d + b * c];
const divided_by = ([a, b], [c, d]) => {
    const square = c * c + d * d;
    return [(a * c + b * d) / square, (b * c - a * d) / square];
};
const complex_root = ([a, b]) => {
    const size = hypot(a, b);
    if (size === 0) return [0, 0];
    const part = sqrt((size + abs(a)) / 2), other = b / (2 * part);
    return a >= 0 ? [part, other] : [abs(other), b < 0 ? -part : part];
};
const complex_exp = ([a, b]) => [exp(a) * cos(b), exp(a) * sin(b)];

// ---- heat/contact.py ------------------------------------------------------------------------------

const effusivity_axial = body => sqrt(body.conductivity_axial * body.volumetric_heat_capacity);
const side_film = (film, radius, conductivity) => film / (1 + film * radius / (4 * conductivity));
const _rod_admittance = (s, { radius, length, film, spindle }) => {
    const { conductivity_axial: along, volumetric_heat_capacity: capacity } = spindle;
    const m = complex_root([(capacity * s[0] + 2 * film / radius) / along, capacity * s[1] / along]);
    const reach = -2 * length;
    const back = m[0] * length < 20 ? complex_exp([reach * m[0], reach * m[1]]) : [0, 0];
    const [a, b] = multiplied(m, divided_by([1 - back[0], -back[1]], [1 + back[0], back[1]]));
    const scale = along * PI * radius ** 2;
    return [scale * a, scale * b];
};
const _even_conductivity = board => sqrt(board.conductivity_radial * board.conductivity_axial);
const _disc_integral = z => {
    const x = [2 * z[0], 2 * z[1]];
    let part = [0, 0];
    if (hypot(...x) > 12) {
        const square = divided_by([1, 0], multiplied(x, x));
        part = [1575, 0];
        for (const term of [45, 3, 1]) {
            const [a, b] = multiplied(square, part);
            part = [term + a, b];
        }
        const [a, b] = multiplied(square, part);
        part = divided_by([4 / PI * (1 - a), -4 / PI * b], x);
    } else {
        for (const [sine, weight] of LIBRARY.half_sine) {
            const fading = weight * exp(-x[0] * sine);
            part[0] += fading * cos(x[1] * sine);
            part[1] -= fading * sin(x[1] * sine);
        }
    }
    return divided_by([1 - part[0], -part[1]], x);
};
const _disc_admittance = (s, { radius, board }) => {
    const place = radius * sqrt(board.volumetric_heat_capacity / board.conductivity_radial);
    const [a, b] = complex_root(s);
    const even = PI * radius * _even_conductivity(board) / 2;
    return divided_by([even, 0], _disc_integral([place * a, place * b]));
};
const [_POINTS, _POINT_WEIGHTS] = LIBRARY.talbot;
const _STEADY_WEIGHTS = _POINTS.map((point, n) => divided_by(_POINT_WEIGHTS[n], point));
const _admittances = (s, contact) => [_rod_admittance(s, contact), _disc_admittance(s, contact)];
const _warming = (contact, time) => {
    let impedance = 0, growth = 0;
    _POINTS.forEach(([a, b], n) => {
        const [rod, board] = _admittances([a / time, b / time], contact);
        const both = [rod[0] + board[0], rod[1] + board[1]];
        impedance += divided_by(_STEADY_WEIGHTS[n], both)[0];
        growth += divided_by(_POINT_WEIGHTS[n], both)[0];
    });
    return [impedance, growth / time];
};
const impedance = (contact, time) => time > 0 ? _warming(contact, time)[0] : 0;
const steady = contact => 1 / (_rod_admittance([0, 0], contact)[0]
    + 3 * PI ** 2 * _even_conductivity(contact.board) * contact.radius / 8);

// ---- heat/hole.py, heat/warming.py ------------------------------------------------------------------

const hole_draw = (depth, radius) => {
    const [most, half] = constants.hole_draw;
    return 1 + most * depth / (depth + half * radius);
};
const least_power = (contact, rise, depth, spindle_share) => {
    const { conductivity_axial: through, conductivity_radial: sideways } = contact.board;
    const hole = (1 - spindle_share) * depth * sqrt(sideways / through);
    const top = 3 * PI ** 2 / 8 * sqrt(through * sideways) * contact.radius;
    return rise * (1 / steady(contact) + (hole_draw(hole, contact.radius) - 1) * top);
};
const _LATEST = constants.latest_answer;
const in_time = time => time <= _LATEST ? time : never;
const when_reached = (contact, power, rise) => {
    const effusivity = effusivity_axial(contact.spindle) + effusivity_axial(contact.board);
    const wanted = power / rise;
    let place = 2 * wanted / (sqrt(PI) * effusivity * PI * contact.radius ** 2), growth;
    for (let turn = 0; turn < 15; turn++) {
        let now;
        [now, growth] = _warming(contact, place ** -2);
        const change = (1 / now - wanted) * now ** 2 * place ** 3 / (2 * growth);
        place = max(place - change, place / 10);
        if (abs(change) < 1e-6 * place) break;
    }
    return [place ** -2, growth];
};
const warm_up = (contact, power, rise) => power * impedance(contact, _LATEST) > rise
    ? in_time(when_reached(contact, power, rise)[0]) : never;
const _PLACES = Array.from({ length: 8 }, (_, n) => (1 + cos(PI * n / 7)) / 2);
const solve = (matrix, right) => {
    const rows = matrix.map((row, n) => [...row, right[n]]), size = rows.length;
    for (let n = 0; n < size; n++) {
        let pivot = n;
        for (let m = n + 1; m < size; m++) if (abs(rows[m][n]) > abs(rows[pivot][n])) pivot = m;
        [rows[n], rows[pivot]] = [rows[pivot], rows[n]];
        for (let m = n + 1; m < size; m++) {
            const times = rows[m][n] / rows[n][n];
            for (let k = n; k <= size; k++) rows[m][k] -= times * rows[n][k];
        }
    }
    for (let n = size - 1; n >= 0; n--) {
        for (let m = n + 1; m < size; m++) rows[n][size] -= rows[n][m] * rows[m][size];
        rows[n][size] /= rows[n][n];
    }
    return rows.map(row => row[size]);
};
const divided = (contact, time) => {
    const shares = _PLACES.slice(0, -1).map(place => total(_POINTS.map(([a, b], n) => {
        const scale = time * place ** 2;
        const [rod, board] = _admittances([a / scale, b / scale], contact);
        const share = divided_by(rod, [rod[0] + board[0], rod[1] + board[1]]);
        return multiplied(_STEADY_WEIGHTS[n], share)[0];
    })));
    const rod = effusivity_axial(contact.spindle), board = effusivity_axial(contact.board);
    const terms = solve(_PLACES.map(place => _PLACES.map((_, n) => place ** n)), [...shares, rod / (rod + board)]);
    return terms.map((term, n) => [term, (n === 0 ? 1 : 0) - term]);
};

// ---- heat/wearing.py --------------------------------------------------------------------------------

const { ample: _AMPLE, surplus: _SURPLUS, steps: _STEPS, grading: _GRADING } = LIBRARY.march;
const { early: _EARLY, late: _LATE, close: _CLOSE, tries: _TRIES } = LIBRARY.march;
const _STEP = Array.from({ length: _STEPS + 1 }, (_, n) => n / _STEPS);
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
    const { radius, length, film, spindle, board } = contact, area = PI * radius ** 2;
    const bodies = [spindle, board], each = make => bodies.map((_, n) => make(n));
    const capacity = bodies.map(body => body.volumetric_heat_capacity);
    const spread = each(n => bodies[n].conductivity_axial / capacity[n]);
    const worn = [share * depth, (1 - share) * depth];
    const held = rise * area * total(each(n => capacity[n] * worn[n]));
    const price = max(energy - held, _SURPLUS * held);
    const leaking = 2 * film / (radius * capacity[0]);
    const sideways = board.conductivity_radial / board.conductivity_axial;
    const disc_time = radius ** 2 / (2 * sideways * spread[1]);
    const grading = asinh(6 + sqrt((reached + price / power) * (leaking + 1 / disc_time)));
    const answer = each(n => 1 / (2 * capacity[n] * area * sqrt(PI * spread[n])));
    return {
        power, price, held, reached, growth, answer, leaking, disc_time,
        division: divided(contact, reached),
        level: each(n => rise / answer[n]),
        rod_time: length ** 2 / spread[0],
        hole: _MADE.map(made => hole_draw(made * worn[1] * sqrt(sideways), radius)),
        wear_time: each(n => worn[n] ** 2 / (4 * spread[n])),
        wear_heat: each(n => capacity[n] * area * worn[n] / 2),
        early: _graded(_EARLY, grading - 1),
        late: _late_places(grading),
    };
};
const _theta = x => {
    if (!(x < 40)) return 1;
    const many = max(x, PI ** 2 / x);
    return (1 + 2 * (exp(-many) + exp(-4 * many) + exp(-9 * many))) * sqrt(max(PI / x, 1));
};
const _fading = (kit, step, age) => [
    exp(-kit.leaking * age) * _theta(kit.rod_time / age),
    1 - bessels(kit.disc_time / (kit.hole[step] ** 2 * age)),
];
// What was let in is a list of: age, weight, pace of wear since, sources, and the newest's part.
const _early = (kit, step, root) => {
    const until = atan2(sqrt(kit.reached), root), time = kit.reached + root * root;
    const [young, weight] = kit.early;
    return young.map((one, n) => {
        const sine = sin(until * (1 - one)), place = sine / sin(until), age = time * (1 - sine * sine);
        const source = [0, 1].map(body =>
            2 * kit.power * kit.division.reduceRight((share, term) => share * place + term[body], 0));
        return [age, 2 * sqrt(time) * until * sine * weight[n], _MADE[step] / age, source, 0];
    });
};
const _late = (kit, past, step, root) => {
    const before = past.root.slice(0, step), after = [...past.root.slice(1, step), root];
    const slope = step === 1 ? root : (3 * root - 4 * before.at(-1) + before.at(-2)) / 2;
    const lines = before.map((then, n) =>
        [(_MADE[step] - _MADE[n]) / (root * root - then * then), ...past.source[n]]);
    lines.push([_PACE[step] / (2 * root * slope), 0, 0]);
    const [places, ages, weights] = kit.late;
    return places.map((place, n) => {
        const value = [...lines[0]];
        let into = 0;
        before.forEach((then, j) => {
            into = clip((root * place - then) / (after[j] - then), 0, 1);
            for (let k = 0; k < 3; k++) value[k] += into * (lines[j + 1][k] - lines[j][k]);
        });
        return [root * root * ages[n], root * weights[n], value[0], [value[1], value[2]], into];
    });
};
const _moment = (kit, past, step, root) => {
    const known = [0, 0], moved = [0, 0], fresh = [0, 0], fresh_moved = [0, 0];
    for (const [age, weight, pace, source, newest] of
        [..._early(kit, step, root), ..._late(kit, past, step, root)]) {
        const fading = _fading(kit, step, age);
        for (let body = 0; body < 2; body++) {
            const kernel = fading[body] * exp(-pace * pace * age * kit.wear_time[body]) * weight;
            known[body] += kernel * source[body];
            moved[body] += kernel * source[body] * pace;
            fresh[body] += kernel * newest;
            fresh_moved[body] += kernel * newest * pace;
        }
    }
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
    const carried = 4 / 3 * total([0, 1].map(body => kit.wear_heat[body] * kit.answer[body]
        * 2 * kit.power * total(kit.division.map(term => term[body]))));
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
        const past = pasts[n], root = _guess(past, step), [value, end] = _surplus(kit, past, step, root);
        return { kit, past, root, value, end, slope: past.bias * _steepness(past, step, root, end) };
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
        const rest = -value / slope, part = move === 0 ? 0 : rest / move;
        const on = (a, b) => b + part * (b - a);
        past.bias = slope / _steepness(past, step, root, end);
        past.root[step] = root + rest;
        past.source[step] = end.source.map((now, body) => on(start.source[body], now));
        past.spared[step] = on(start.spared, end.spared);
    }
};
const _ground = kits => {
    const pasts = kits.map(kit => ({
        root: [0],
        source: [[0, 1].map(body => 2 * kit.power * total(kit.division.map(term => term[body])))],
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
        const able = power > rise / impedance(contact, _LATEST);
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

// ---- heat/two_stage.py, heat/shadow.py ----------------------------------------------------------------

const curve_root = eps => {
    const y = PI / 2 * eps, small = cbrt(1.5 * y);
    let root = small < 1.5 ? small * (1 + small * small / 15)
        : 2 / PI * (1 + sqrt(max(1 + PI / 2 * (y - PI / 2), 0)));
    for (let turn = 0; turn < 2; turn++) {
        const angle = atan(root), slope = 2 * root * angle;
        const excess = (1 + root * root) * angle - root - y;
        root -= excess / (slope - excess * (angle + root / (1 + root * root)) / slope);
    }
    return root;
};
const two_stage = (flux, energy_per_area, effusivity, rise) => {
    const smoke = first_stage(flux, effusivity, rise), floor = energy_per_area / flux;
    const eps = clip(floor / smoke, 1e-150, 1e150);
    return [smoke, smoke + floor * (curve_root(eps) ** 2 / eps)];
};
const _ENTERS = { spare: log, fourier: log, ratio: log, biot: sqrt };
const _steps = weights => {
    const terms = [[0, 0]], steps = [];
    for (let before = 0; before < terms.length; before++) {
        const [weight, first] = terms[before];
        for (let by = first; by < weights.length; by++) {
            if (weight + weights[by] > 1 + 1e-9) continue;
            terms.push([weight + weights[by], by]);
            steps.push(before, by);
        }
    }
    return steps;
};
for (const fit of Object.values(shadow)) {
    fit.steps = _steps(fit.weights.map(([, weight]) => weight));
    fit.places = fit.weights.map(([name]) => {
        const enters = _ENTERS[name] ?? Number, [low, high] = fit.range[name].map(enters);
        return [name, enters, low, high - low];
    });
}
const _put_right = (which, closed, groups) => {
    const { range, places, steps, coefficients } = shadow[which], terms = [1];
    for (const name in range) {
        const [low, high] = range[name];
        if (!(low <= groups[name] && groups[name] <= high)) return NaN;
    }
    const place = places.map(([name, enters, low, wide]) =>
        2 * (enters(groups[name]) - low) / wide - 1);
    let sum = coefficients[0];
    for (let n = 0; n < steps.length; n += 2) {
        const term = terms[steps[n]] * place[steps[n + 1]];
        terms.push(term);
        sum += coefficients[terms.length - 1] * term;
    }
    return closed * exp(sum);
};
// A case has one wood in spindle and board; there is a shadow if no heat comes to the rod's far end.
const _one_wood = ({ radius, length, film, spindle }) =>
    sqrt(2 * film / (spindle.conductivity_axial * radius)) * length > LIBRARY.march.long;
const _shape = ({ radius, film, spindle, board }) => ({
    ratio: board.conductivity_axial / spindle.conductivity_axial,
    biot: film * radius / spindle.conductivity_axial,
});
const _soaking = (contact, power, rise, energy) => {
    const area = PI * contact.radius ** 2;
    const effusivity = effusivity_axial(contact.spindle) + effusivity_axial(contact.board);
    return two_stage(power / area, energy / area, effusivity, rise);
};
const _smoke = ({ contact, power, smoke_rise: rise }) => {
    const spare = 1 - rise / (steady(contact) * power);
    if (!(spare > 0)) return never;
    if (!_one_wood(contact)) return NaN;
    const [smoke] = _soaking(contact, power, rise, rise);
    return _put_right("smoke", smoke, { spare, ..._shape(contact) });
};
const _ember = ({ contact, power, rise, energy, depth, spindle_share }) => {
    const least = least_power(contact, rise, depth, spindle_share);
    if (!(power > _AMPLE * least)) return never;
    if (!_one_wood(contact)) return NaN;
    const { conductivity_axial: along, volumetric_heat_capacity: capacity } = contact.spindle;
    const held = capacity * rise * depth * PI * contact.radius ** 2;
    const dear = max(energy, (1 + _SURPLUS) * held);
    const [, ember] = _soaking(contact, power, rise, dear);
    const time = max(energy / power, _put_right("ember", ember, {
        spindle_share,
        spare: 1 - least / power,
        floor: dear / power / ember,
        fourier: along / (capacity * contact.radius ** 2) * ember,
        chi: held / dear,
        depth: depth / contact.radius,
        ..._shape(contact),
    }));
    return time > _LATEST ? never : time;
};
const quick_smoke = one => {
    const time = _smoke(one);
    return isNaN(time) ? warm_up(one.contact, one.power, one.smoke_rise) : time;
};
const quick_ember = cases => {
    const ember = cases.map(_ember), rest = cases.filter((_, n) => isNaN(ember[n]));
    const marched = wearing(rest);
    return ember.map(time => isNaN(time) ? marched.shift() : time);
};

// ---- kit/wood.py, kit/moisture.py, kit/tip.py, kit/bowing.py --------------------------------------------

const density = specific_gravity => specific_gravity * constants.water_density;
const conductivity = (specific_gravity, moisture, temperature) => {
    const slope = constants.conductivity_b + constants.conductivity_c * 100 * moisture;
    const rise = temperature - constants.conductivity_temperature;
    return (specific_gravity * slope + constants.conductivity_a)
        * (1 + constants.conductivity_warming * rise);
};
const _dry_heat_capacity = temperature =>
    constants.heat_capacity_dry[0] + constants.heat_capacity_dry[1] * temperature;
const heat_capacity = (temperature, moisture) => {
    const mixed = _dry_heat_capacity(temperature) + moisture * constants.water_heat_capacity;
    const [b1, b2, b3] = constants.heat_capacity_bond, percent = 100 * moisture;
    return mixed / (1 + moisture) + percent * (b1 + b2 * temperature + b3 * percent);
};
const heat_of_sorption = moisture =>
    constants.sorption_heat_dry * exprel(-constants.sorption_heat_decay * moisture);
const energy_parts = (burn_in_depth, dry, moisture, ambient, char) => {
    const mass = burn_in_depth * dry, boiling = constants.water_boiling_point;
    const warming = constants.water_heat_capacity * (boiling - ambient);
    const freeing = constants.water_latent_heat + heat_of_sorption(moisture);
    return {
        wood: mass * _dry_heat_capacity((ambient + char) / 2) * (char - ambient),
        water: mass * moisture * (warming + freeing),
    };
};
const worn_depth = (dust_mass, radius, dry) => dust_mass / (dry * PI * radius ** 2);
const area_factor = contact => LIBRARY.area_factors[contact];
const torque_coefficient = contact => LIBRARY.torque_coefficients[contact];

// ---- kit/kit.py: a try is a plain object, see try_() ------------------------------------------------------

const specific_gravity = state => state.specific_gravity ?? woods[state.wood].specific_gravity;
const in_grams = state => state.dust_mass !== null;
const dust = state => in_grams(state) ? state.dust_mass
    : density(specific_gravity(state)) * state.burn_in_depth * PI * (state.diameter / 2) ** 2;
const kit_pull = state => {
    const { force, friction, diameter, contact, cord_radius, block_friction, block_radius } = state;
    const torque = torque_coefficient(contact) * friction * force * diameter / 2;
    const block = torque_coefficient("uniform_pressure") * block_friction * force * block_radius;
    return (torque + block) / (cord_radius ?? diameter / 2);
};

// ---- cases.py ---------------------------------------------------------------------------------------------

const moved = (key, value, off) => key in off
    ? (unknowns[key].kind === "factor" ? value * off[key] : value + off[key]) : value;
const case_ = (state, off = {}) => {
    const now = key => moved(key, state[key], off), factor = key => off[key] ?? 1;
    const radius = now("diameter") / 2, moisture = now("moisture"), ambient = state.temperature_ambient;
    const heavy = specific_gravity(state) * factor("density"), dry = density(heavy);
    const depth = in_grams(state) ? worn_depth(now("dust_mass"), radius, dry) : now("burn_in_depth");
    const power = friction_power(torque_coefficient(state.contact), now("friction"), now("force"),
        now("speed"), radius, state.cord_radius ?? radius)
        * factor("hot_friction") * factor("tip_shape") * factor("creep");
    const smoke = defaults.temperature_smoke + (off.temperature_smoke ?? 0);
    const char = max(defaults.temperature_char + (off.temperature_char ?? 0), smoke);
    const middle = (ambient + char) / 2, k = conductivity(heavy, moisture, middle);
    const capacity = dry * (1 + moisture) * heat_capacity(middle, moisture);
    const parts = energy_parts(depth, dry, moisture, ambient, char);
    const area = PI * radius ** 2 * factor("energy");
    const wider = factor("area") * area_factor(state.contact);
    const made = {
        power,
        radius: radius * sqrt(wider),
        depth: depth / wider,
        energy: (parts.wood + parts.water) * area,
        smoke_rise: smoke - ambient,
        rise: char - ambient,
        spindle_share: defaults.spindle_share + (off.spindle_share ?? 0),
        wear: factor("wear"),
        luck: factor("luck"),
    };
    made.bound = made.energy / power * made.luck;
    made.contact = _contact(state, made, k * factor("conductivity"),
        state.axial_factor * factor("grain") * k * factor("conductivity"), capacity,
        state.spindle_film * factor("film"));
    return made;
};
const _contact = (state, { radius, rise, depth, energy }, across, along, whole, film) => {
    const capacity = min(whole, energy / (rise * depth * PI * radius ** 2));
    const material = (conductivity_radial, conductivity_axial) =>
        ({ conductivity_radial, conductivity_axial, volumetric_heat_capacity: capacity });
    return {
        radius,
        length: state.spindle_length,
        film: side_film(film, radius, across),
        spindle: material(across, along),
        board: material(sqrt(across * along), across),
    };
};
const _worn = ({ bound, wear, luck }, time) =>
    isFinite(time) ? bound + wear * (time * luck - bound) : never;
const first_smoke = one => warm_up(one.contact, one.power, one.smoke_rise) * one.luck;
const embers = cases => wearing(cases).map((time, n) => _worn(cases[n], time));
const quick = cases => {
    const smoke = cases.map(one => quick_smoke(one) * one.luck);
    const ember = quick_ember(cases).map((time, n) => max(_worn(cases[n], time), smoke[n]));
    return { smoke, ember };
};

// ---- estimates.py -----------------------------------------------------------------------------------------

const about_likely = ([low, likely, high]) => [min(low, likely), likely, max(high, likely)];
const wood_ends = end => each_row(LIBRARY.wood_ends, ends => ends[end]);
const number_words = value => value.toLocaleString("en-US", { maximumSignificantDigits: 2 });
const _why_never = (power, smoke, ember, three) => {
    if (isFinite(ember[1])) return "";
    const { contact, rise, depth, smoke_rise } = three[1], { hardly, sentences } = LIBRARY.why_never;
    const takes = least_power(contact, rise, depth, defaults.spindle_share);
    const kind = power > hardly * takes ? "hardly" : isFinite(smoke[1]) ? "smokes" : "cold";
    const watts = { makes: power, takes, smoke: smoke_rise / steady(contact) };
    return Object.entries(watts).reduce((words, [name, value]) =>
        words.replace("{" + name + "}", number_words(value)), sentences[kind]);
};
const enough_dust = state => {
    const mass = LIBRARY.heap_share * dust(state), [low, likely, high] = LIBRARY.mass_least;
    const times_least = [mass / high, mass / likely, mass / low];
    const verdict = times_least[0] > 1 ? "stays hot" : times_least[2] < 1 ? "goes out" : "perhaps";
    return { mass, times_least, verdict };
};
const times = state => {
    const three = [0, 1, 2].map(end => case_(state, wood_ends(end)));
    const smoke = about_likely(three.map(first_smoke)), ember = about_likely(embers(three));
    const { power, bound } = three[1];
    return { power, bound, smoke, ember, why_never: _why_never(power, smoke, ember, three) };
};

// ---- unknowns.py, spread.py -------------------------------------------------------------------------------

const { gauges: GAUGES, primes: _PRIMES, end: _END } = LIBRARY.draws;
const _EXPONENT = "depth_exponent";
const _shares = count => {
    const keys = [...Object.keys(unknowns), "luck of the other"];
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
    const { kind, measured } = unknowns[key];
    if (kind === "factor") return off === null ? [measured[0], 1, measured[1]] : [1 / (1 + off), 1, 1 + off];
    const error = off === null ? null : off * _value(state, key);
    return error === null ? [measured[0], 0, measured[1]] : [-error, 0, error];
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
    const told = Object.keys(GAUGES).filter(gauge => gauge in measured).flatMap(gauge => GAUGES[gauge]);
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
    const low = ordered[below], high = ordered[below + 1], between = low ** (1 - part) * high ** part;
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
const _wider = state => state.diameter / defaults.diameter;
const _depth_in_doubt = (one, other) =>
    !in_grams(one) && !in_grams(other) && one.diameter !== other.diameter;
const _ratio = (one, other) => one === never && other === never ? 1 : other / one;
// The other's ember over the one's, with the same unknowns in both; found: their estimates, if known.
const compare = (one, other, measured = {}, guessed = [], found = null) => {
    const { shares, places } = even_shares(LIBRARY.draws.count), doubt = _depth_in_doubt(one, other);
    const [least, middle, most] = unknowns[_EXPONENT].band;
    const even = { ...places, luck: places.luck.map(() => 0) };
    const drawn = [one, other].map(state => {
        const offs = _off(state, even, guessed, measured);
        if (doubt) offs.forEach((off, n) => {
            const exponent = least + (most - least) * shares[_EXPONENT][n];
            off.burn_in_depth = (off.burn_in_depth ?? 1) * _wider(state) ** -exponent;
        });
        return quick(offs.map(off => case_(state, off))).ember;
    });
    const likely = [one, other].map((state, n) => {
        const off = doubt ? { burn_in_depth: _wider(state) ** -middle } : {};
        if (!found) return embers([case_(state, off)])[0];
        if (!doubt) return found[n].ember.wood[1];
        const [as_set, then] = [{}, off].map(by => quick([case_(state, by)]).ember[0]);
        return found[n].ember.wood[1] * (isFinite(as_set) ? then / as_set : 1);
    });
    return _band(drawn[0].map((time, n) => _ratio(time, drawn[1][n])), _ratio(...likely));
};

// ---- coach/smoke_now.py, for somebody whose arm keeps up what is set ----------------------------------------

const _kept = new Map();
const _foretold = (state, measured, guessed) => {
    const asked = JSON.stringify([state, measured, guessed]);
    if (!_kept.has(asked)) {
        if (_kept.size >= 4) _kept.clear();
        const { places } = even_shares(LIBRARY.after_smoke.draws);
        const { smoke, ember } = quick(_off(state, places, guessed, measured).map(off => case_(state, off)));
        _kept.set(asked, { smoke, ember: ember.map((time, n) => time === never ? never
            : smoke[n] + (time - smoke[n]) * at("luck", places[_EXPONENT][n])) });
    }
    return _kept.get(asked);
};
const _guesses = (state, measured) => {
    const told = Object.keys(measured).flatMap(key => key in GAUGES ? ["friction", ...GAUGES[key]] : [key]);
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
    const order = ember.map((_, n) => n).sort((a, b) => ember[a] < ember[b] ? -1 : ember[a] > ember[b] ? 1 : 0);
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
    return { window, left: window.map(time => time - elapsed), never: none, gone, strange, kind, ...rules.words[kind] };
};

// ---- my_kit.py: readings are { name: [value, error] } ---------------------------------------------------------

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
const quantities = each_row(LIBRARY.quantities, ([name, usual, range, slider, ends, units, steps, parts]) => {
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
