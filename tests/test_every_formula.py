"""What every formula owes who calls it: what it takes, gives back and refuses, and its units.

A new formula is held to this from its birth: it is found by its docstring, which promises a float
or an array.
"""

import inspect
import math
import re

import numpy as np
import pint
import pytest
from numpydoc.docscrape import FunctionDoc
from test_docstrings import READERS, UNIT, documented, public_things

from fireheat import Air, Arm, InputError, Kit, estimates
from fireheat.answers.pressing import press, valley
from fireheat.answers.weather import stores
from fireheat.heat.contact import Contact
from fireheat.heat.material import Material
from fireheat.kit.kit import Try
from fireheat.kit.wood import energy_parts, hot_properties
from fireheat.quantities import default, quantity

# An ordinary value of each argument that the table has no default for.
ORDINARY = {
    "air_dry_density": 500.0,
    "arm": Arm(),
    "board_conductivity": 0.12,
    "board_volumetric_heat_capacity": 6e5,
    "biot": 1.0,
    "catcher": "leather",
    "conductivity": 0.12,
    "contact": Contact(
        radius=0.0065,
        length=0.15,
        film=10.0,
        spindle=Material(0.12, 0.22, 6e5),
        board=Material(0.12, 0.12, 6e5),
    ),
    "cord_radius": 0.008,
    "crust_resistance": 0.01,
    "density": 320.0,
    "depth": 0.001,
    "depth_exponent": 1.0,
    "depth_slope": 0.6,
    "diffusivity": 2e-7,
    "distance": 0.004,
    "effusivity": 700.0,
    "effusivity_1": 300.0,
    "effusivity_2": 24000.0,
    "energy": 130.0,
    "energy_per_area": 1e6,
    "dust_mass": 0.25e-3,
    "eps": 4.0,
    "excess": 10.0,
    "exponent": 1.4,
    "faces": 2.0,
    "film_below": 10.0,
    "fluid_rise": 280.0,
    "flux": 5e4,
    "ground_conductivity": 0.3,
    "ground_volumetric_heat_capacity": 1.3e6,
    "heat_capacity": 1500.0,
    "heat_capacity_per_area": 1000.0,
    "impedance": lambda time: 10 * np.sqrt(time),
    "kit": Kit(),
    "mass": 1.8e-4,
    "power": 20.0,
    "pull": 20.0,
    "reading": 18.0,
    "rest": 8.0,
    "rise": 280.0,
    "shape": "sphere",
    "soaking": 2.1e5,
    "speed_gain": 0.25,
    "speed_recession": 1e-4,
    "state": Try(),
    "spindle_conductivity": 0.22,
    "spindle_volumetric_heat_capacity": 6e5,
    "surface_rise": 280.0,
    "temperature": 300.0,
    "temperature_1": 873.15,
    "temperature_2": 293.15,
    "temperature_ignition": 663.15,
    "thermal_inertia": 4.6e5,
    "thickness": 0.01,
    "time": 60.0,
    "volumetric_heat_capacity": 6e5,
}


def formulas():
    """Every public function whose docstring promises a float or an array."""
    for case in public_things():
        home, thing = case.values
        if home not in READERS and inspect.isfunction(inspect.unwrap(thing)):
            returned = FunctionDoc(inspect.unwrap(thing))["Returns"]
            if any("float or ndarray" in entry.type for entry in returned):
                yield pytest.param(thing, id=case.id)


FORMULAS = list(formulas())


def places(formula):
    """Arguments that may be arrays, by what the docstring says."""
    said = documented(FunctionDoc(inspect.unwrap(formula))["Parameters"])
    return [name for name, (kind, _) in said.items() if "ndarray" in kind]


def ordinary(formula):
    """Ordinary values of these, and of what the formula cannot do without."""
    given = inspect.signature(formula).parameters.values()
    needed = [one.name for one in given if one.default is one.empty]
    return {
        name: ORDINARY[name] if name in ORDINARY else default(name)
        for name in dict.fromkeys(needed + places(formula))
    }


def parts(result):
    if isinstance(result, dict):
        return tuple(result.values())
    return result if isinstance(result, tuple) else (result,)


def test_the_formulas_are_found():
    names = {case.id for case in FORMULAS}
    assert len(names) > 60
    known = {"heat.march.march", "heat.contact.side_film", "kit.moisture.saturation_pressure"}
    assert known | {"estimates.energy_bound", "oracles.conduction.depth_rise"} <= names


@pytest.mark.parametrize("formula", FORMULAS)
def test_only_the_first_number_of_a_formula_may_come_without_its_name(formula):
    first, *rest = inspect.signature(formula).parameters.values()
    assert first.kind == first.POSITIONAL_OR_KEYWORD
    assert {one.kind for one in rest} <= {first.KEYWORD_ONLY}


@pytest.mark.parametrize("formula", FORMULAS)
@pytest.mark.parametrize("number", [float, np.float64, np.array])
def test_a_formula_gives_floats_for_floats(formula, number):
    given = ordinary(formula)
    given = {k: number(v) if isinstance(v, float) else v for k, v in given.items()}
    assert {type(part) for part in parts(formula(**given))} == {float}


@pytest.mark.parametrize("formula", FORMULAS)
def test_a_formula_gives_arrays_for_arrays_in_any_of_its_places(formula):
    given = ordinary(formula)
    alone = parts(formula(**given))
    assert places(formula)
    for key in places(formula):
        found = parts(formula(**given | {key: [given[key]] * 2}))
        assert any(np.shape(part) == (2,) for part in found), key  # not all hang on each place
        for part, one in zip(found, alone, strict=True):
            np.testing.assert_allclose(part, np.broadcast_to(one, np.shape(part)), rtol=1e-8)


# ---- what cannot be is refused by name ----------------------------------------------------------

# A step of a formula that has checked its numbers already, under names of its own.
CHECKED = {"heat.two_stage.energy_ratio", "heat.two_stage.curve_root"}
# What the message calls it, where an argument is a quantity under a shorter name.
CALLED = {(name, "depth"): "burn_in_depth" for name in ("least_power", "quick_ember")}


def arguments():
    """Every argument of a formula that is a quantity."""
    for case in FORMULAS:
        (formula,) = case.values
        for key in places(formula) if case.id not in CHECKED else ():
            yield pytest.param(formula, key, id=f"{case.id}-{key}")


def refused(formula, key):
    """Values that a quantity cannot have."""
    row, left_out = quantity(key), inspect.signature(formula).parameters[key].default
    wrong = [math.nan, math.inf, "60", 1j, [1.0, math.nan], *([None] if left_out else [])]
    wrong += {"positive": [0.0, -1.0], "non-negative": [-1.0], "any": []}[row.sign]
    wrong += [2 * row.most] if math.isfinite(row.most) else []
    return [value for value in wrong if value != left_out]


@pytest.mark.parametrize(("formula", "key"), list(arguments()))
def test_a_value_that_cannot_be_is_refused_by_name(formula, key):
    given = ordinary(formula)
    name = quantity(CALLED.get((formula.__name__, key), key)).name
    for value in refused(formula, key):
        with pytest.raises(InputError, match=name):
            formula(**given | {key: value})


# ---- units --------------------------------------------------------------------------------------

PINT = pint.get_application_registry()  # which loads its table at its first use
# So many of the new metres, kilograms, seconds and kelvins are one old one.
OTHER = {"[length]": 2.0, "[mass]": 3.0, "[time]": 1.25, "[temperature]": 1.5}
# These cannot be told in other base units, and why.
BUILT_IN = {
    "a constant of nature is built in": (
        "ember.ember.face_flux",
        "kit.wood.density",
        "kit.wood.specific_gravity_of",
        "person.measuring.scale_force",
        "oracles.conduction.critical_heat_flux_for_ignition",
        "oracles.wood.energy_per_area",
    ),
    "a fit of measurements holds in its own units": (
        "kit.moisture.equilibrium_moisture",
        "kit.moisture.heat_of_sorption",
        "kit.moisture.saturation_pressure",
        "kit.moisture.warmed_humidity",
        "kit.rubbing.quicker_friction",
        "kit.strength.bending_strength",
        "kit.strength.spindle_stress",
        "kit.wood.conductivity",
        "kit.wood.conductivity_along",
        "kit.wood.heat_capacity",
        "oracles.wood.equilibrium_humidity",
    ),
    "an arm, a contact, a catcher or a try given with it is made in SI": (
        "answers.heat_view.heat_so_far",
        "ember.draw.draw_history",
        "ember.draw.joules_by_thickness",
        "heat.march.march",
        "heat.shadow.quick_ember",
        "heat.shadow.quick_smoke",
        "heat.warming.least_power",
        "heat.warming.warm_up",
        "oracles.catcher.boiling_front",
        "person.limits.speed_at_force",
    ),
    "what it takes has no unit of its own": tuple(sorted(CHECKED)),
}
WHY = {name: why for why, names in BUILT_IN.items() for name in names}


def larger(unit):
    """Say how much larger a number with this unit gets where all base units are others."""
    dimensions = PINT.Quantity(1.0, "" if unit == "1" else unit).dimensionality
    return math.prod(OTHER[base] ** power for base, power in dimensions.items())


def units(entries):
    words = " ".join(" ".join(entry.desc) for entry in entries)
    return re.findall(r"\[([^\[\]]+)\]", words)


def test_a_torque_is_no_power_in_other_base_units():
    assert larger("W") == pytest.approx(larger("N m/s"))
    assert larger("W") != pytest.approx(larger("N m"))


def follows(formula):
    """Whether a formula, given numbers in other base units, gives its own in them."""
    given, doc = ordinary(formula), FunctionDoc(inspect.unwrap(formula))
    said = documented(doc["Parameters"])
    other = {key: given[key] * larger(UNIT.search(said[key][1])[1]) for key in places(formula)}
    alone, found = parts(formula(**given)), parts(formula(**given | other))
    named = units(doc["Returns"])
    named *= len(alone) if len(named) == 1 else 1  # one unit for all of them
    expected = [part * larger(unit) for part, unit in zip(alone, named, strict=True)]
    return found == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("formula", [c for c in FORMULAS if c.id not in WHY])
def test_in_other_base_units_a_formula_says_the_same(formula):
    assert follows(formula)


@pytest.mark.parametrize("formula", [c for c in FORMULAS if c.id in WHY])
def test_none_is_excused_that_could_be_told_in_other_base_units(formula):
    try:
        told = follows(formula)
    except (InputError, LookupError, TypeError, pint.UndefinedUnitError):  # no unit to speak of
        told = False
    assert not told


@pytest.mark.parametrize(
    "answer",
    [
        lambda: estimates.times(Try()),
        lambda: estimates.times(Try(), diameter=np.array([0.01, 0.02])).at(0),
        lambda: estimates.estimate(),
        lambda: press(Kit(), arm=Arm(), force=60.0),
        lambda: valley(Kit(), arm=Arm(), air=Air(), force=60.0, slip_pull=50.0).now,
        lambda: stores(Try(), warming=10.0)[0],
        lambda: hot_properties(0.32, moisture=0.09, temperature=433.15),
        lambda: energy_parts(
            0.004, density=320.0, moisture=0.1, temperature_ambient=290.0, temperature_char=570.0
        ),
    ],
)
def test_the_answer_to_one_try_is_in_plain_numbers(answer):
    values = [*vars(answer()).values()]
    values += [part for value in values if isinstance(value, tuple) for part in value]
    values += [part for value in values if isinstance(value, dict) for part in value.values()]
    assert not [value for value in values if isinstance(value, np.generic | np.ndarray)]
    assert [value for value in values if isinstance(value, float)]
