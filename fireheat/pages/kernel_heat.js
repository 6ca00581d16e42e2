// The library's estimate in plain JavaScript, part 1 of 4: until the contact is hot enough.
//
// Each function has the name of the one in Python that it repeats. What stands in LIBRARY is
// printed from the library's tables and arrays, and the formulas above from sympy. Many kits at
// once are lists of single ones. SI units. A contact has one wood in both bodies: along the grain,
// across it, and sideways in the board, where one of the two ways runs along the grain.

const { abs, asinh, atan, atan2, cbrt, cos, cosh, exp, expm1, floor, log, log10 } = Math;
const { log1p, max, min, PI, sin, sinh, sqrt, tan, tanh, trunc } = Math;
const { constants, defaults, shadow } = LIBRARY;
const never = Infinity;
const numbered = (count, make) => Array.from({ length: count }, (_, n) => make(n));
const each_row = (rows, make) => Object.fromEntries(
    Object.entries(rows).map(([key, row]) => [key, make(row, key)]));
const unknowns = each_row(LIBRARY.unknowns, ([group, band, measured = [], most]) =>
    ({ kind: most ? "added" : "factor", group, band, measured, most }));
const woods = each_row(LIBRARY.woods, ([specific_gravity, caution, name], key) =>
    ({ name: name ?? key.replace(/_/g, " "), specific_gravity, caution: LIBRARY.cautions[caution] }));
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
    for (let turn = 0; turn < 3; turn++) { // to the last digit
        const off = (ndtr(x) - share) * sqrt(2 * PI) * exp(x * x / 2);
        x -= off / (1 + x * off / 2);
    }
    return x;
};

// Points and weights of Gauss and Legendre between -1 and 1, by Newton's steps.
const leggauss = count => {
    const points = [], weights = [];
    for (let n = count; n > 0; n--) {
        let x = cos(PI * (n - 0.25) / (count + 0.5)), slope;
        for (let turn = 0; turn < 6; turn++) {
            let now = 1, before = 0;
            for (let m = 0; m < count; m++) {
                [before, now] = [now, ((2 * m + 1) * x * now - m * before) / (m + 1)];
            }
            slope = count * (x * now - before) / (x * x - 1);
            x -= now / slope;
        }
        points.push(x);
        weights.push(2 / ((1 - x * x) * slope * slope));
    }
    return [points, weights];
};

// ---- complex numbers, as pairs ------------------------------------------------------------------

const multiplied = ([a, b], [c, d]) => [a * c - b * d, a * d + b * c];
const divided_by = ([a, b], [c, d]) => {
    const square = c * c + d * d;
    return [(a * c + b * d) / square, (b * c - a * d) / square];
};
const complex_root = ([a, b]) => {
    const size = sqrt(a * a + b * b);
    if (size === 0) return [0, 0];
    const part = sqrt((size + abs(a)) / 2), other = b / (2 * part);
    return a >= 0 ? [part, other] : [abs(other), b < 0 ? -part : part];
};
const complex_exp = ([a, b]) => [exp(a) * cos(b), exp(a) * sin(b)];

// ---- heat/contact.py, heat/material.py, heat/warming.py -----------------------------------------

const side_film = (film, radius, conductivity) => film / (1 + film * radius / (4 * conductivity));
const _rod_admittance = (s, { radius, length, film, along, capacity }) => {
    const leak = 2 * film / radius;
    const m = complex_root([(capacity * s[0] + leak) / along, capacity * s[1] / along]);
    const reach = -2 * length;
    const back = m[0] * length < 20 ? complex_exp([reach * m[0], reach * m[1]]) : [0, 0];
    const [a, b] = multiplied(m, divided_by([1 - back[0], -back[1]], [1 + back[0], back[1]]));
    const scale = along * PI * radius ** 2;
    return [scale * a, scale * b];
};
const _even_conductivity = ({ sideways, across }) => sqrt(sideways * across);
const [_ANGLES, _ANGLE_WEIGHTS] = leggauss(LIBRARY.half_sine);
const HALF_SINE = _ANGLES.map((place, n) => {
    const angle = PI / 4 * (place + 1);
    return [sin(angle), cos(angle) ** 2 * _ANGLE_WEIGHTS[n]];
});
const _disc_integral = z => {
    const x = [2 * z[0], 2 * z[1]];
    let part = [0, 0];
    if (x[0] ** 2 + x[1] ** 2 > 144) {
        const square = divided_by([1, 0], multiplied(x, x));
        for (const term of [1575, 45, 3, 1]) {
            const [a, b] = multiplied(square, part);
            part = [term + a, b];
        }
        const [a, b] = multiplied(square, part);
        part = divided_by([4 / PI * (1 - a), -4 / PI * b], x);
    } else {
        for (const [sine, weight] of HALF_SINE) {
            const fading = weight * exp(-x[0] * sine);
            part[0] += fading * cos(x[1] * sine);
            part[1] -= fading * sin(x[1] * sine);
        }
    }
    return divided_by([1 - part[0], -part[1]], x);
};
const _disc_admittance = (s, contact) => {
    const place = contact.radius * sqrt(contact.capacity / contact.sideways);
    const [a, b] = complex_root(s);
    const even = PI * contact.radius * _even_conductivity(contact) / 2;
    return divided_by([even, 0], _disc_integral([place * a, place * b]));
};
const talbot = terms => {
    const points = [[0.4 * terms, 0]], slopes = [[0.2, 0]];
    for (let n = 1; n < terms; n++) {
        const angle = n * PI / terms, cotangent = 1 / tan(angle), most = points[0][0];
        points.push([most * angle * cotangent, most * angle]);
        slopes.push([0.4, 0.4 * (angle * (1 + cotangent ** 2) - cotangent)]);
    }
    return [points, points.map((point, n) => multiplied(complex_exp(point), slopes[n]))];
};
const [_POINTS, _POINT_WEIGHTS] = talbot(LIBRARY.talbot);
const _STEADY_WEIGHTS = _POINTS.map((point, n) => divided_by(_POINT_WEIGHTS[n], point));
// What a contact admits at each point on the contour of a time: the rod, and both.
const _admittances = (contact, time) => _POINTS.map(([a, b]) => {
    const s = [a / time, b / time], rod = _rod_admittance(s, contact);
    const board = _disc_admittance(s, contact);
    return [rod, [rod[0] + board[0], rod[1] + board[1]]];
});
const _warming = (contact, time) => {
    let impedance = 0, growth = 0;
    _admittances(contact, time).forEach(([, both], n) => {
        impedance += divided_by(_STEADY_WEIGHTS[n], both)[0];
        growth += divided_by(_POINT_WEIGHTS[n], both)[0];
    });
    return [impedance, growth / time];
};
const impedance = (contact, time) => time > 0 ? _warming(contact, time)[0] : 0;
const _top = contact => 3 * PI ** 2 / 8 * _even_conductivity(contact) * contact.radius;
const steady = contact => {
    const { radius, length, film, along } = contact, m = sqrt(2 * film / (along * radius));
    return 1 / (along * PI * radius ** 2 * m * tanh(m * length) + _top(contact));
};

// ---- heat/hole.py, heat/warming.py --------------------------------------------------------------

const hole_draw = (depth, radius) => {
    const [most, half] = constants.hole_draw;
    return 1 + most * depth / (depth + half * radius);
};
const least_power = (contact, rise, depth, spindle_share) => {
    const hole = (1 - spindle_share) * depth * sqrt(contact.sideways / contact.across);
    const wider = hole_draw(hole, contact.radius) - 1;
    return rise * (1 / contact.steady + wider * _top(contact));
};
const _LATEST = constants.latest_answer;
const in_time = time => time <= _LATEST ? time : never;
const when_reached = (contact, power, rise) => {
    const { radius, effusivity } = contact, wanted = power / rise;
    let place = 2 * wanted / (sqrt(PI) * effusivity * PI * radius ** 2), growth;
    for (let turn = 0; turn < 15; turn++) {
        let now;
        [now, growth] = _warming(contact, place ** -2);
        const change = (1 / now - wanted) * now ** 2 * place ** 3 / (2 * growth);
        place = max(place - change, place / 10);
        if (abs(change) < 1e-6 * place) break;
    }
    return [place ** -2, growth];
};
const _at_last = contact => contact.at_last ||= impedance(contact, _LATEST);
const warm_up = (contact, power, rise) => power * _at_last(contact) > rise
    ? in_time(when_reached(contact, power, rise)[0]) : never;
// The spindle's share as a Chebyshev series in the root of the time; the board has the rest.
const _LAST = 7; // of eight terms
const divided = (contact, time) => {
    const shares = numbered(_LAST, k => {
        const place = (1 + cos(PI * k / _LAST)) / 2;
        return total(_admittances(contact, time * place ** 2).map(([rod, both], n) =>
            multiplied(_STEADY_WEIGHTS[n], divided_by(rod, both))[0]));
    });
    const [rod, board] = [contact.along, contact.across].map(sqrt);
    shares.push(rod / (rod + board));
    const half = n => n % _LAST ? 1 : 1 / 2;
    return numbered(_LAST + 1, n => half(n) * 2 / _LAST
        * total(shares.map((share, k) => half(k) * cos(PI * n * k / _LAST) * share)));
};
