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
    fit.terms = new Float64Array(fit.coefficients.length).fill(1);
    fit.places = fit.weights.map(([name]) => {
        const enters = _ENTERS[name] ?? Number, [low, high] = fit.range[name].map(enters);
        return [name, enters, low, high - low];
    });
}
const _put_right = (which, closed, groups) => {
    const { range, places, steps, coefficients, terms } = shadow[which];
    for (const name in range) {
        const [low, high] = range[name];
        if (!(low <= groups[name] && groups[name] <= high)) return NaN;
    }
    const place = places.map(([name, enters, low, wide]) =>
        2 * (enters(groups[name]) - low) / wide - 1);
    let sum = coefficients[0];
    for (let n = 1; n < terms.length; n++) {
        terms[n] = terms[steps[2 * n - 2]] * place[steps[2 * n - 1]];
        sum += coefficients[n] * terms[n];
    }
    return closed * exp(sum);
};
// A case has one wood in both; there is a shadow if no heat comes to the rod's far end.
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
    const spare = 1 - rise / (contact.steady * power);
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

const moved = (key, value, off) => key in off
    ? (unknowns[key].kind === "factor" ? value * off[key] : value + off[key]) : value;
const case_ = (state, off = {}) => {
    const now = key => moved(key, state[key], off), factor = key => off[key] ?? 1;
    const { temperature_ambient: ambient } = state;
    const radius = now("diameter") / 2, moisture = now("moisture");
    const heavy = specific_gravity(state) * factor("density"), dry = density(heavy);
    const depth = in_grams(state)
        ? worn_depth(now("dust_mass"), radius, dry) : now("burn_in_depth");
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
    const contact = {
        radius,
        length: state.spindle_length,
        film: side_film(film, radius, across),
        spindle: material(across, along),
        board: material(sqrt(across * along), across),
    };
    return { ...contact, steady: steady(contact) };
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

// ---- estimates.py, bands.py, words.py, ember/ignition.py ----------------------------------------

const about_likely = ([low, likely, high]) => [min(low, likely), likely, max(high, likely)];
const wood_ends = end => each_row(LIBRARY.wood_ends, ends => ends[end]);
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
    const three = [0, 1, 2].map(end => case_(state, wood_ends(end)));
    const smoke = about_likely(three.map(first_smoke)), ember = about_likely(embers(three));
    const { power, bound } = three[1];
    return { power, bound, smoke, ember, why_never: _why_never(power, smoke, ember, three) };
};
