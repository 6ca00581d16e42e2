// The library's estimate in plain JavaScript, part 1 of 4: until the contact is hot enough.
//
// Each function has the name of the one in Python that it repeats. What stands in LIBRARY is
// printed from the library's tables and arrays, and the formulas above from sympy. Many kits at
// once are lists of single ones. SI units.

const { abs, asinh, atan, atan2, cbrt, cos, cosh, exp, expm1, floor, hypot, log, log10 } = Math;
const { log1p, max, min, PI, sin, sinh, sqrt, tanh, trunc } = Math;
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

// ---- complex numbers, as pairs ------------------------------------------------------------------

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

// ---- heat/contact.py, heat/material.py, heat/warming.py -----------------------------------------

const effusivity_axial = body => sqrt(body.conductivity_axial * body.volumetric_heat_capacity);
const side_film = (film, radius, conductivity) => film / (1 + film * radius / (4 * conductivity));
const _rod_admittance = (s, { radius, length, film, spindle }) => {
    const { conductivity_axial: along, volumetric_heat_capacity: capacity } = spindle;
    const leak = 2 * film / radius;
    const m = complex_root([(capacity * s[0] + leak) / along, capacity * s[1] / along]);
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
const steady = ({ radius, length, film, spindle, board }) => {
    const along = spindle.conductivity_axial, m = sqrt(2 * film / (along * radius));
    const rod = along * PI * radius ** 2 * m * tanh(m * length);
    return 1 / (rod + 3 * PI ** 2 * _even_conductivity(board) * radius / 8);
};

// ---- heat/hole.py, heat/warming.py --------------------------------------------------------------

const hole_draw = (depth, radius) => {
    const [most, half] = constants.hole_draw;
    return 1 + most * depth / (depth + half * radius);
};
const least_power = (contact, rise, depth, spindle_share) => {
    const { conductivity_axial: through, conductivity_radial: sideways } = contact.board;
    const hole = (1 - spindle_share) * depth * sqrt(sideways / through);
    const top = 3 * PI ** 2 / 8 * sqrt(through * sideways) * contact.radius;
    return rise * (1 / contact.steady + (hole_draw(hole, contact.radius) - 1) * top);
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
    shares.push(rod / (rod + board));
    const terms = solve(_PLACES.map(place => _PLACES.map((_, n) => place ** n)), shares);
    return terms.map((term, n) => [term, (n === 0 ? 1 : 0) - term]);
};
