"""The estimate as one plain script: tables and arrays of the library, and what reckons with them.

The files ``kernel_*.js`` beside this one hold the lines that are written by hand, each function by
the name that it has in Python. They find every number from outside, and every array, in one object
that is collected here; closed forms come from sympy, special functions as Chebyshev series through
SciPy's values. So a number changed in ``data/`` changes both.
"""

import inspect
import json
import math
import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np
from numpy.polynomial import chebyshev
from scipy import special

from ..coach.learner import AT_LIMIT
from ..coach.pace import SWEEP
from ..coach.smoke_now import AFTER_SMOKE
from ..constants import constant, constant_band
from ..data import table
from ..derivation.bound import derived_power
from ..derivation.javascript import javascript_function
from ..derivation.thick import derived_smoke
from ..ember.ember import HEAP_SHARE
from ..ember.ignition import enough_dust
from ..estimates import HARDLY, WHY_NEVER, wood_ends
from ..heat.contact import HALF_SINE, talbot
from ..heat.shadow import LONG_ROD
from ..heat.wearing import MARCH
from ..kit.bowing import TORQUE_COEFFICIENTS, area_factor
from ..kit.kit import Kit, Try
from ..kit.wood import woods
from ..my_kit import GAUGE_READINGS, MOST_OFF
from ..person.arm import arms
from ..person.measuring import NINE_OF_TEN
from ..quantities import (
    METRIC,
    US,
    InputError,
    default,
    quantities,
    quantity,
    to_si,
    unit_text,
)
from ..spread import DRAW_RULES, GAUGES, spread
from ..trials.foretold import LATEST, dust_key
from ..trials.our_fire import OurFire
from ..unknowns import unknowns
from .tight import tight_script

_CONSTANTS = (
    *("hole_draw", "latest_answer", "longest_bowing", "water_density", "water_boiling_point"),
    *("water_heat_capacity", "water_latent_heat", "sorption_heat_dry", "sorption_heat_decay"),
    *("conductivity_a", "conductivity_b", "conductivity_c", "conductivity_temperature"),
    *("conductivity_warming", "heat_capacity_dry", "heat_capacity_bond"),
)
_DEFAULTS = ("temperature_smoke", "temperature_char", "spindle_share", "diameter", "curvature")
# What a try is made of, besides names; those that may be left out are null.
_TRIED = (
    *("diameter", "force", "friction", "speed", "moisture", "burn_in_depth", "temperature_ambient"),
    *("spindle_length", "spindle_film", "axial_factor", "block_friction", "block_radius"),
)
_SHOWN = (
    *("diameter", "force", "friction", "speed", "moisture", "burn_in_depth", "dust_mass"),
    *("stroke_length", "strokes_per_minute"),
)
# What a page asks the script for, and finds in its answers.
_PUBLIC = (
    *("try_", "estimate", "compare", "evenings", "after_smoke", "my_kit", "settable"),
    *("number_words", "quantities", "unknowns", "woods", "arms"),
    *("power", "bound", "smoke", "ember", "wood", "all", "bound_all", "power_all", "never"),
    *("never_smokes", "why_never", "dust", "enough", "pull", "mass", "times_least", "verdict"),
    *("window", "left", "gone", "strange", "overdue", "hopeless", "speed", "kind", "say"),
    *("not_say", "state", "measured", "numbers", "width", "guessed"),
    *("name", "group", "band", "caution", "range", "slider", "ends", "default", "metric", "us"),
    *("unit", "scale", "offset", "step", "digits", "parts"),
)
PARTS = ("heat", "wear", "try", "draws")
_LOOKED_UP = (
    *("unknowns", "woods", "arms", "ordinary", "quantities", "units", "torque_coefficients"),
)
_PICKED = 128  # draws that stand for a club's own evenings
_ROUNDING = 4e-15  # terms of a series below this are roundings of the values it goes through
_TAIL = 3.75  # where the tail of the normal curve is bent from near to far


@cache
def kernel_script() -> str:
    """Write the whole script.

    Returns
    -------
    str
        A plain script without a module or a framework: it defines ``fireheat``, an object with
        ``try_``, ``estimate``, ``compare``, ``evenings``, ``after_smoke`` and ``my_kit``.

    Examples
    --------
    >>> print(kernel_script().splitlines()[0])
    const fireheat = (() => {
    """
    library = _library()
    by_hand = (
        (files(__package__) / f"kernel_{part}.js").read_text(encoding="utf-8") for part in PARTS
    )
    lines = [f"const LIBRARY = {_printed(library)};", *_formulas(), *by_hand]
    tables = [library[name] for name in _LOOKED_UP] + [library["my_kit"]["gauges"]]
    kept = {*_PUBLIC, *(key for table in tables for key in table)}
    script = tight_script("\n".join(lines), known=kept)
    return f'const fireheat = (() => {{\n"use strict";{script}\n}})();'


def evenings_for_kernel(fire: OurFire) -> dict[str, Any]:
    """Tell a page what a club's own tries have left of all we do not know.

    Parameters
    ----------
    fire : OurFire
        What the tries tell.

    Returns
    -------
    dict
        For ``fireheat.evenings(state, told)`` of the script; the same bands in Python are those of
        ``fire.picked(128)``.

    Raises
    ------
    InputError
        If that is no such fire.

    Examples
    --------
    >>> from fireheat.trials.columns import TimedTry
    >>> from fireheat.trials.our_fire import our_fire
    >>> told = evenings_for_kernel(our_fire([TimedTry(time=60.0, ended="ember")] * 4))
    >>> sorted(told), len(told["numbers"])
    (['dust', 'guessed', 'measured', 'numbers', 'width'], 128)
    """
    if not isinstance(fire, OurFire):
        raise InputError(f"fire is {fire!r}; allowed: what our_fire() returns")
    few = fire.picked(_PICKED).fires
    start, key = few.start, dust_key(few.start)
    other = "dust_mass" if key == "burn_in_depth" else "burn_in_depth"
    deeper = start.changed(**{key: 2 * start.value(key)})
    theirs = fire.theirs(deeper) != deeper  # their own dust, whatever is set
    return {
        "numbers": few.numbers.tolist(),
        "width": few.width,
        "guessed": list(few.known["guessed"]),
        "measured": dict(few.known["measured"]),
        "dust": {key: start.value(key), other: None} if theirs else {},
    }


def _formulas():
    """Print what sympy found for two of the formulas, by the library's names."""
    rubbing = ["coefficient", "friction", "force", "speed", "radius", "cord_radius"]
    watts = derived_power(cord_at_tip=False)
    yield javascript_function("friction_power", expression=watts, arguments=rubbing)
    soaking = ["flux", "effusivity", "rise"]
    yield javascript_function("first_stage", expression=derived_smoke(), arguments=soaking)


def _printed(value):
    """Print numbers, lists and tables as JavaScript, each float to its last digit."""
    if isinstance(value, Mapping):
        rows = (
            f"{key if key.isidentifier() else json.dumps(key)}:{_printed(row)}"
            for key, row in value.items()
        )
        return "{" + ",".join(rows) + "}"
    if isinstance(value, list | tuple):
        return "[" + ",".join(map(_printed, value)) + "]"
    text = json.dumps(value, ensure_ascii=False)
    if not isinstance(value, float) or math.isinf(value):
        return text
    return _shortest(value)


def _shortest(value):
    """Spell a number with all its digits in the fewest letters."""
    sign, digits, power = Decimal(repr(value)).normalize().as_tuple()
    exponent = int(power)
    plain = re.sub(r"^0(?=\.)", "", f"{Decimal((0, digits, exponent)):f}")
    bare = "".join(map(str, digits)) + (f"e{exponent}" if exponent else "")
    return "-" * sign + min(plain, bare, key=len)


def _library() -> dict[str, Any]:
    """Collect every number and every word that the script needs."""
    return {
        "constants": {key: constant(key) for key in _CONSTANTS},
        "defaults": {key: default(key) for key in _DEFAULTS},
        "half_sine": len(HALF_SINE),
        "talbot": len(talbot()[0]),
        "march": {**MARCH, "long": LONG_ROD},
        "shadow": {which: _shadow(which) for which in ("smoke", "ember")},
        "torque_coefficients": dict(TORQUE_COEFFICIENTS),
        "area_factors": {contact: area_factor(contact) for contact in TORQUE_COEFFICIENTS},
        "wood_ends": {key: ends.tolist() for key, ends in wood_ends().items()},
        "heap_share": HEAP_SHARE,
        "mass_least": list(enough_dust(Kit()).mass_least),
        "why_never": {"hardly": HARDLY, "sentences": dict(WHY_NEVER)},
        "draws": _draws(),
        "evenings": {"scatter": list(constant_band("try_scatter")), "latest": LATEST},
        "after_smoke": _after_smoke(),
        "pace": dict(SWEEP),
        "arms": {key: _arm(row) for key, row in arms().items()},
        "my_kit": {"gauges": GAUGE_READINGS, "of_ten": NINE_OF_TEN, "most": MOST_OFF},
        "unknowns": {key: _unknown(key) for key in unknowns()},
        "ordinary": _ordinary(),
        **_woods(),
        **_shown(),
        **_series(),
    }


def _ordinary():
    """Return a try in which all is as it is ordinarily."""
    kit = Try().kit
    names = {"wood": kit.wood, "contact": kit.contact}
    left_out = dict.fromkeys(("dust_mass", "cord_radius", "specific_gravity"))
    return {key: default(key) for key in _TRIED} | names | left_out


def _draws():
    count = inspect.signature(spread).parameters["draws"].default
    return {**DRAW_RULES, "count": count, "gauges": GAUGES, "end": NINE_OF_TEN}


def _after_smoke():
    said = table("moves")["smoke_now"]
    return {
        **AFTER_SMOKE,
        "sooner": list(constant_band("smoke_sooner")),
        "seen": constant("smoke_seen"),
        "limit": AT_LIMIT,
        "words": said,
    }


def _arm(row):
    return [row.name, row.pull_max, row.speed_max, row.critical_power, row.work_above]


def _shadow(which):
    fit = table("shadow")[which]
    weights = fit["weights"] | dict.fromkeys(set(fit["range"]) - set(fit["weights"]), math.inf)
    rows = [[name, weight, *fit["range"][name]] for name, weight in weights.items()]  # so ordered
    return {"coefficients": fit["coefficients"], "numbers": rows}


def _unknown(key):
    """Return a row; what is added has a fourth number, the most that there may be."""
    row = unknowns()[key]
    made = [row.group, list(row.band), list(row.measured)]
    if row.kind == "factor":
        return made if row.measured else made[:2]
    return [*made, quantity(key).most if key in quantities() else math.inf]


def _woods():
    """Return each wood's name, weight and number of its caution, and the cautions."""
    cautions = list(dict.fromkeys(row.caution for row in woods().values()))
    return {
        "cautions": cautions,
        "woods": {
            key: [row.specific_gravity, cautions.index(row.caution), *_unlike(row.name, key)]
            for key, row in woods().items()
        },
    }


def _unlike(name, key):
    """Return a name that is not simply the key in words."""
    return () if name == key.replace("_", " ") else (name,)


def _shown():
    """Tell how quantities are shown to a reader, and what their units are in SI."""
    rows = {key: quantity(key) for key in _SHOWN}
    units = {unit for row in rows.values() for unit in (row.metric, row.us)}
    made: dict[str, list[Any]] = {}
    for key, row in rows.items():
        ends, slider = [row.low, row.high], list(row.slider)
        steps = [row.steps.get(system) for system in (METRIC, US)]
        made[key] = [row.name, row.default, ends, None if slider == ends else slider]
        made[key] += [list(row.ends), [row.metric, row.us], steps, row.parts]
    return {"quantities": made, "units": {unit: _unit(unit) for unit in sorted(units)}}


def _unit(unit):
    """Spell a unit, with its scale and offset to SI."""
    start = float(to_si(0.0, unit))
    return [unit_text(unit), float(to_si(1.0, unit)) - start, start]


# ---- special functions ------------------------------------------------------------------------


def _series() -> dict[str, Any]:
    """Fit Chebyshev series to SciPy's values; what is left of each is a rounding."""

    def near(x):
        y = 4 * (x + 1)
        return special.i0e(y) + special.i1e(y)

    def far(x):
        y = 16 / (x + 1)
        return np.sqrt(y) * (special.i0e(y) + special.i1e(y))

    def tail(x):
        z = _TAIL * (1 + x) / (1 - x)
        return (1 + 2 * z) * special.erfcx(z)

    return {
        "bessels_near": _fitted(near),
        "bessels_far": _fitted(far),
        "tail": _fitted(tail),
        "tail_place": _TAIL,
    }


def _fitted(function: Callable, degree: int = 48) -> list[float]:
    terms = chebyshev.chebinterpolate(function, degree)
    last = np.flatnonzero(np.abs(terms) > _ROUNDING)[-1]
    return [round(float(term), 16) for term in terms[: last + 1]]
