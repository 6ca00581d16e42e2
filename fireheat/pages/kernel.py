"""The estimate as one plain script: tables and arrays of the library, and what reckons with them.

``kernel.js`` beside this file holds the lines that are written by hand, each function by the name
that it has in Python. They find every number from outside, and every array, in one object that is
collected here; closed forms come from sympy, special functions as Chebyshev series through SciPy's
values. So a number changed in ``data/`` changes both.
"""

import inspect
import json
from collections.abc import Callable, Iterable
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np
from numpy.polynomial import chebyshev
from scipy import special

from ..coach.smoke_now import AFTER_SMOKE
from ..constants import constant, constant_band
from ..data import table
from ..derivation.javascript import javascript_function
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
from ..person.measuring import NINE_OF_TEN
from ..quantities import METRIC, US, Quantity, default, quantity, unit_text
from ..spread import DRAWS, GAUGES, spread
from ..unknowns import unknowns

_CONSTANTS = (
    *("hole_draw", "latest_answer", "longest_bowing", "water_density", "water_boiling_point"),
    *("water_heat_capacity", "water_latent_heat", "sorption_heat_dry", "sorption_heat_decay"),
    *("conductivity_a", "conductivity_b", "conductivity_c", "conductivity_temperature"),
    *("conductivity_warming", "heat_capacity_dry", "heat_capacity_bond"),
)
_DEFAULTS = ("temperature_smoke", "temperature_char", "spindle_share", "diameter")
# What a try is made of, besides names; those that may be left out are null.
_TRIED = (
    *("diameter", "force", "friction", "speed", "moisture", "burn_in_depth", "temperature_ambient"),
    *("spindle_length", "spindle_film", "axial_factor", "block_friction", "block_radius"),
)
_SHOWN = (
    *_TRIED,
    *("dust_mass", "specific_gravity", "cord_radius", "power", "time", "smoke_time", "elapsed"),
    *("stroke_length", "strokes_per_minute"),
)
_TAIL = 3.75  # where the tail of the normal curve is bent from near to far


@cache
def kernel_script() -> str:
    """Write the whole script.

    Returns
    -------
    str
        A plain script without a module or a framework: it defines ``fireheat``, an object with
        ``try_``, ``estimate``, ``compare``, ``after_smoke`` and ``my_kit``.

    Examples
    --------
    >>> print(kernel_script().splitlines()[0])
    const fireheat = (() => {
    """
    parts = (
        "const fireheat = (() => {",
        '"use strict";',
        f"const LIBRARY = {_printed(_library())};",
        *_formulas(),
        _bare((files(__package__) / "kernel.js").read_text(encoding="utf-8")),
        "})();",
    )
    return "\n".join(parts)


def _formulas():
    """Print what sympy found for two of the formulas, by the library's names."""
    rubbing = ["coefficient", "friction", "force", "speed", "radius", "cord_radius"]
    yield javascript_function("friction_power", expression="power", arguments=rubbing)
    soaking = ["flux", "effusivity", "rise"]
    yield javascript_function("first_stage", expression="smoke", arguments=soaking)


def _bare(script):
    """Leave out comments and indents, which are for whoever reads the file."""
    lines = (line.strip() for line in script.splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//"))


def _printed(value):
    """Print numbers, lists and tables as JavaScript, each float to its last digit."""
    return json.dumps(value, separators=(",", ":"), ensure_ascii=False)


def _library() -> dict[str, Any]:
    """Collect every number and every word that the script needs."""
    points, weights = talbot()
    return {
        "constants": {key: constant(key) for key in _CONSTANTS},
        "defaults": {key: default(key) for key in _DEFAULTS},
        "half_sine": [[float(sine), float(weight)] for sine, weight in HALF_SINE],
        "talbot": [_pairs(points), _pairs(weights)],
        "march": {key: _plain(value) for key, value in MARCH.items()} | {"long": LONG_ROD},
        "shadow": {which: _shadow(which) for which in ("smoke", "ember")},
        "torque_coefficients": dict(TORQUE_COEFFICIENTS),
        "area_factors": {contact: area_factor(contact) for contact in TORQUE_COEFFICIENTS},
        "wood_ends": {key: ends.tolist() for key, ends in wood_ends().items()},
        "heap_share": HEAP_SHARE,
        "mass_least": list(enough_dust(Kit()).mass_least),
        "why_never": {"hardly": HARDLY, "sentences": dict(WHY_NEVER)},
        "draws": _draws(),
        "after_smoke": _after_smoke(),
        "my_kit": {"gauges": GAUGE_READINGS, "of_ten": NINE_OF_TEN, "most": MOST_OFF},
        "unknowns": {key: _unknown(key) for key in unknowns()},
        "woods": {key: _wood(key) for key in woods()},
        "quantities": {key: _quantity(quantity(key)) for key in _SHOWN},
        "ordinary": _ordinary(),
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
    return {**DRAWS, "count": count, "gauges": GAUGES, "end": NINE_OF_TEN}


def _after_smoke():
    said = table("moves")["smoke_now"]
    return {
        **AFTER_SMOKE,
        "sooner": list(constant_band("smoke_sooner")),
        "seen": constant("smoke_seen"),
        "words": {kind: said[kind] for kind in ("late", "tired", "early", "soon")},
    }


def _shadow(which):
    fit = table("shadow")[which]
    return {
        "coefficients": fit["coefficients"],
        "range": fit["range"],
        "weights": list(fit["weights"].items()),  # in this order
    }


def _unknown(key):
    row = unknowns()[key]
    made = {"name": row.name, "kind": row.kind, "group": row.group, "band": list(row.band)}
    if row.measured:
        made["measured"] = list(row.measured)
    if row.kind == "added" and key != "depth_exponent":
        made |= {"most": quantity(key).most}
    return made


def _wood(key):
    row = woods()[key]
    made = {"name": row.name, "specific_gravity": row.specific_gravity}
    return made | ({"caution": row.caution} if row.caution else {})


def _quantity(row: Quantity) -> dict[str, Any]:
    """Tell how a quantity is shown: ``si = shown * scale + offset`` in either unit system."""
    made = {
        "name": row.name,
        "default": row.default,
        "range": [row.low, row.high],
        "slider": list(row.slider),
        "ends": list(row.ends),
    }
    for system in (METRIC, US):
        start = float(row.si(0.0, system))
        made[system] = {
            "unit": unit_text(row.shown_unit(system)),
            "scale": float(row.si(1.0, system)) - start,
            "offset": start,
            "step": row.steps.get(system),
            "digits": row.digits(system),
        }
    if row.parts:
        made[US]["parts"] = row.parts
    return made


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
        "bessels_near": _fitted(near, 36),
        "bessels_far": _fitted(far, 30),
        "tail": _fitted(tail, 30),
        "tail_place": _TAIL,
    }


def _fitted(function: Callable, degree: int) -> list[float]:
    terms = chebyshev.chebinterpolate(function, degree)
    last = np.flatnonzero(np.abs(terms) > 1e-16)[-1]
    return [round(float(term), 17) for term in terms[: last + 1]]


def _pairs(values: Iterable[complex]) -> list[list[float]]:
    return [[float(value.real), float(value.imag)] for value in values]


def _plain(value):
    """Turn arrays inside into lists."""
    return [part.tolist() for part in value] if isinstance(value, tuple) else value
