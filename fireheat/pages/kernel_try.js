// Part 3 of 4: the march's shadow, a kit in the numbers that both need, and the estimate.

// ---- heat/two_stage.py, heat/shadow.py ----------------------------------------------------------

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
// The second of both times.
const two_stage = (flux, energy_per_area, effusivity, rise) => {
    const smoke = first_stage(flux, effusivity, rise), floor = energy_per_area / flux;
    const eps = clip(floor / smoke, 1e-150, 1e150);
    return smoke + floor * (curve_root(eps) ** 2 / eps);
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
    fit.coefficients = Float64Array.from(fit.coefficients);
    fit.terms = new Float64Array(fit.coefficients.length).fill(1);
    fit.steps = _steps(fit.numbers.map(([, weight]) => weight));
    fit.place = new Float64Array(fit.numbers.length);
    fit.numbers = fit.numbers.map(([name, , low, high]) => {
        const enters = _ENTERS[name] ?? Number;
        return [name, low, high, enters, enters(low), enters(high) - enters(low)];
    });
}
const _put_right = (which, closed, groups) => {
    const { numbers, place, steps, coefficients, terms } = shadow[which];
    for (let n = 0; n < numbers.length; n++) {
        const [name, low, high, enters, from, wide] = numbers[n], now = groups[name];
        if (!(low <= now && now <= high)) return NaN;
        place[n] = 2 * (enters(now) - from) / wide - 1;
    }
    let sum = coefficients[0];
    for (let n = 1; n < terms.length; n++) {
        terms[n] = terms[steps[2 * n - 2]] * place[steps[2 * n - 1]];
        sum += coefficients[n] * terms[n];
    }
    return closed * exp(sum);
};
// There is a shadow if no heat comes to the rod's far end.
const _one_wood = ({ radius, length, film, along }) =>
    sqrt(2 * film / (along * radius)) * length > LIBRARY.march.long;
const _shape = ({ radius, film, along, across }) => [across / along, film * radius / along];
const _smoke = ({ contact, power, smoke_rise: rise }) => {
    const spare = 1 - rise / (contact.steady * power);
    if (!(spare > 0)) return never;
    if (!_one_wood(contact)) return NaN;
    const [ratio, biot] = _shape(contact), flux = power / (PI * contact.radius ** 2);
    const smoke = first_stage(flux, contact.effusivity, rise);
    return _put_right("smoke", smoke, { spare, ratio, biot });
};
const _ember = ({ contact, power, rise, energy, depth, spindle_share }) => {
    const least = least_power(contact, rise, depth, spindle_share);
    if (!(power > _AMPLE * least)) return never;
    if (!_one_wood(contact)) return NaN;
    const { radius, along, capacity, effusivity } = contact, area = PI * radius ** 2;
    const held = capacity * rise * depth * area, dear = max(energy, (1 + _SURPLUS) * held);
    const [ratio, biot] = _shape(contact);
    const ember = two_stage(power / area, dear / area, effusivity, rise);
    const time = max(energy / power, _put_right("ember", ember, {
        spare: 1 - least / power,
        floor: dear / power / ember,
        fourier: along / (capacity * radius ** 2) * ember,
        chi: held / dear,
        depth: depth / radius,
        spindle_share, ratio, biot,
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

// ---- kit/wood.py, kit/moisture.py, kit/tip.py, kit/bowing.py ------------------------------------

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
// Both parts together.
const energy_parts = (burn_in_depth, dry, moisture, ambient, char) => {
    const mass = burn_in_depth * dry, boiling = constants.water_boiling_point;
    const warming = constants.water_heat_capacity * (boiling - ambient);
    const freeing = constants.water_latent_heat + heat_of_sorption(moisture);
    const wood = mass * _dry_heat_capacity((ambient + char) / 2) * (char - ambient);
    return wood + mass * moisture * (warming + freeing);
};
const worn_depth = (dust_mass, radius, dry) => dust_mass / (dry * PI * radius ** 2);
const area_factor = contact => LIBRARY.area_factors[contact];
const torque_coefficient = contact => LIBRARY.torque_coefficients[contact];

// ---- kit/kit.py, person/limits.py: a try is a plain object, see try_() --------------------------

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

// ---- cases.py, unknowns.py ----------------------------------------------------------------------

// How far off rows of the table are: lists by name, of which a case takes number n.
const case_ = (state, off, n) => {
    const factor = key => off[key] ? off[key][n] : 1, added = key => off[key] ? off[key][n] : 0;
    const now = key => state[key] * factor(key), ambient = state.temperature_ambient;
    const radius = now("diameter") / 2, moisture = state.moisture + added("moisture");
    const heavy = specific_gravity(state) * factor("density"), dry = density(heavy);
    const depth = in_grams(state)
        ? worn_depth(now("dust_mass"), radius, dry) : now("burn_in_depth");
    const power = friction_power(torque_coefficient(state.contact), now("friction"), now("force"),
        now("speed"), radius, state.cord_radius ?? radius)
        * factor("hot_friction") * factor("tip_shape") * factor("creep");
    const smoke = defaults.temperature_smoke + added("temperature_smoke");
    const char = max(defaults.temperature_char + added("temperature_char"), smoke);
    const middle = (ambient + char) / 2;
    const across = conductivity(heavy, moisture, middle) * factor("conductivity");
    const whole = dry * (1 + moisture) * heat_capacity(middle, moisture);
    const area = PI * radius ** 2 * factor("energy");
    const energy = energy_parts(depth, dry, moisture, ambient, char) * area;
    const wider = factor("area") * area_factor(state.contact);
    const made = {
        power, energy,
        bound: energy / power,
        radius: radius * sqrt(wider),
        depth: depth / wider,
        smoke_rise: smoke - ambient,
        rise: char - ambient,
        spindle_share: defaults.spindle_share + added("spindle_share"),
        wear: factor("wear"),
    };
    made.contact = _contact(state, made, across, state.axial_factor * factor("grain") * across,
        whole, state.spindle_film * factor("film"));
    return made;
};
const _contact = (state, { radius, rise, depth, energy }, across, along, whole, film) => {
    const made = {
        radius, along, across,
        length: state.spindle_length,
        film: side_film(film, radius, across),
        sideways: sqrt(across * along),
        capacity: min(whole, energy / (rise * depth * PI * radius ** 2)),
        steady: 0, effusivity: 0, at_last: 0,
    };
    made.steady = steady(made);
    made.effusivity = sqrt(made.capacity) * (sqrt(along) + sqrt(across));
    return made;
};
const _worn = ({ bound, wear }, time) => isFinite(time) ? bound + wear * (time - bound) : never;
const first_smoke = one => warm_up(one.contact, one.power, one.smoke_rise);
const embers = cases => wearing(cases).map((time, n) => _worn(cases[n], time));
const quick = cases => {
    const smoke = cases.map(quick_smoke);
    const ember = quick_ember(cases).map((time, n) => max(_worn(cases[n], time), smoke[n]));
    return { smoke, ember };
};

// ---- estimates.py, bands.py, words.py, ember/ignition.py ----------------------------------------

const about_likely = ([low, likely, high]) => [min(low, likely), likely, max(high, likely)];
const number_words = value => value.toLocaleString(
    "en-US", { maximumSignificantDigits: 2, roundingMode: "halfEven" });
const _why_never = (power, smoke, ember, three) => {
    if (isFinite(ember[1])) return "";
    const { contact, rise, depth, smoke_rise } = three[1];
    const { hardly, sentences } = LIBRARY.why_never;
    const takes = least_power(contact, rise, depth, defaults.spindle_share);
    const kind = power > hardly * takes ? "hardly" : isFinite(smoke[1]) ? "smokes" : "cold";
    const watts = { makes: power, takes, smoke: smoke_rise / contact.steady };
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
    const three = [0, 1, 2].map(end => case_(state, LIBRARY.wood_ends, end));
    const smoke = about_likely(three.map(first_smoke)), ember = about_likely(embers(three));
    const { power, bound } = three[1];
    return { power, bound, smoke, ember, why_never: _why_never(power, smoke, ember, three) };
};
