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

// ---- complex numbers, as pairs; most of the time goes here, and to take them apart costs more -----

const multiplied = (a, b) => [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]];
const divided_by = (a, b) => {
    const square = b[0] * b[0] + b[1] * b[1];
    return [(a[0] * b[0] + a[1] * b[1]) / square, (a[1] * b[0] - a[0] * b[1]) / square];
};
const complex_root = z => {
    const a = z[0], b = z[1], size = sqrt(a * a + b * b);
    if (size === 0) return [0, 0];
    const part = sqrt((size + abs(a)) / 2), other = b / (2 * part);
    return a >= 0 ? [part, other] : [abs(other), b < 0 ? -part : part];
};
const complex_exp = z => [exp(z[0]) * cos(z[1]), exp(z[0]) * sin(z[1])];

// ---- heat/contact.py, heat/material.py, heat/warming.py -----------------------------------------

const side_film = (film, radius, conductivity) => film / (1 + film * radius / (4 * conductivity));
const _rod_admittance = (s, { radius, length, film, along, capacity }) => {
    const leak = 2 * film / radius;
    const m = complex_root([(capacity * s[0] + leak) / along, capacity * s[1] / along]);
    const reach = -2 * length;
    const back = m[0] * length < 20 ? complex_exp([reach * m[0], reach * m[1]]) : [0, 0];
    const part = divided_by([1 - back[0], -back[1]], [1 + back[0], back[1]]);
    const scale = along * PI * radius ** 2;
    return multiplied([scale * m[0], scale * m[1]], part);
};
const _even_conductivity = ({ sideways, across }) => sqrt(sideways * across);
const [_ANGLES, _ANGLE_WEIGHTS] = leggauss(LIBRARY.half_sine);
const [_SINES, _SINE_WEIGHTS] = [sin, (angle, n) => cos(angle) ** 2 * _ANGLE_WEIGHTS[n]].map(
    part => _ANGLES.map((place, n) => part(PI / 4 * (place + 1), n)));
const _disc_integral = z => {
    const x = 2 * z[0], y = 2 * z[1];
    let part = 0, other = 0;
    if (x * x + y * y > 144) {
        const square = divided_by([1, 0], multiplied([x, y], [x, y]));
        let sum = [0, 0];
        for (const term of [1575, 45, 3, 1]) {
            sum = multiplied(square, sum);
            sum[0] += term;
        }
        const [real, imaginary] = multiplied(square, sum);
        [part, other] = divided_by([4 / PI * (1 - real), -4 / PI * imaginary], [x, y]);
    } else {
        for (let n = 0; n < _SINES.length; n++) {
            const sine = _SINES[n], fading = _SINE_WEIGHTS[n] * exp(-x * sine);
            part += fading * cos(y * sine);
            other -= fading * sin(y * sine);
        }
    }
    return divided_by([1 - part, -other], [x, y]);
};
const _disc_admittance = (s, contact) => {
    const place = contact.radius * sqrt(contact.capacity / contact.sideways);
    const root = complex_root(s);
    const even = PI * contact.radius * _even_conductivity(contact) / 2;
    return divided_by([even, 0], _disc_integral([place * root[0], place * root[1]]));
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
const _admittances = (contact, time) => _POINTS.map(point => {
    const s = [point[0] / time, point[1] / time], rod = _rod_admittance(s, contact);
    const board = _disc_admittance(s, contact);
    return [rod, [rod[0] + board[0], rod[1] + board[1]]];
});
const _warming = (contact, time) => {
    let impedance = 0, growth = 0;
    _admittances(contact, time).forEach((bodies, n) => {
        impedance += divided_by(_STEADY_WEIGHTS[n], bodies[1])[0];
        growth += divided_by(_POINT_WEIGHTS[n], bodies[1])[0];
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
        return total(_admittances(contact, time * place ** 2).map((bodies, n) =>
            multiplied(_STEADY_WEIGHTS[n], divided_by(...bodies))[0]));
    });
    const [rod, board] = [contact.along, contact.across].map(sqrt);
    shares.push(rod / (rod + board));
    const half = n => n % _LAST ? 1 : 1 / 2;
    return numbered(_LAST + 1, n => half(n) * 2 / _LAST
        * total(shares.map((share, k) => half(k) * cos(PI * n * k / _LAST) * share)));
};
