"""What questions ask about, and how two tries compare."""

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any, NamedTuple

import numpy as np

from ..bands import Band
from ..coach.verdicts import HARMS, HELPS, NO_MATTER, verdict
from ..ember.catchers import AIR_GAP, catchers
from ..ember.draw import joules_by_thickness
from ..ember.ember import Ember
from ..estimates import times
from ..kit.bowing import bow_speed, friction_power
from ..kit.kit import Try
from ..kit.wood import density, energy_parts
from ..person.arm import arms
from ..quantities import InputError, choose, default
from ..spread import Spread, compare, spread
from ..trials.columns import fit_columns
from ..trials.log import demo_log
from ..trials.plan import plan
from ..trials.reading import read_log
from ..trials.wrong_ways import three_ways
from ..unknowns import unknown
from .pressing import press
from .rings import cut
from .warmth import Rhythm, contact_heat
from .weather import stores

STROKES = ("stroke_length", "strokes_per_minute")
_TIMES = ("bound", "ember", "smoke", "power", "flux")  # measures that every try has


# ---- what is asked about ------------------------------------------------------------------------


def measured(measure: str, state: Try, **changed: Any) -> float:
    """Return one number that questions ask about.

    Parameters
    ----------
    measure : str
        ``"bound"``, ``"ember"`` or ``"smoke"`` (likely values, s), ``"power"`` (W),
        ``"dust_share"``, the part of all heat that an ember's dust and its water have had,
        ``"water_share"``, the water's part of that, ``"rim_share"``, the part of the heat that is
        made beyond half the tip's radius, ``"stored"``, the moisture of wood ``kept`` outdoors or
        on a warm rack, ``"pressed_power"``, the watts that a teenager's arm makes at a force (W),
        ``"dust_rise"``, how hot dust could be that wears off so fast, and ``"char_rise"``, how hot
        charring is, above the air (K), of a way of bowing, ``"swing"`` (K) and ``"first_smoke"``
        (likely value, s), or, of an ember that lies on a ``catcher`` over a ``ground``,
        ``"joules"`` drawn from it in the first minute; of tries, ``"tries_needed"`` on each side to
        tell a ``ratio`` from luck, and ``"thick_factor"``, how many times as long twice as thick
        takes by the demo log, with tries that were given up counted in one ``way``; of a
        ``population`` that follows a ``saying``, the ``"helped_share"``, ``"unmoved_share"`` and
        ``"harmed_share"``.
    state : Try
        The try.
    **changed : float or str
        Quantities to use instead, and the words ``wood``, ``catcher``, ``ground`` and ``kept``
        where they count. [SI]

    Returns
    -------
    float
        The number. [SI]

    Raises
    ------
    InputError
        If there is no such measure, or a quantity cannot be.

    References
    ----------
    .. [1] What each of the panels asks: :func:`fireheat.estimates.times` for times and watts.

    Examples
    --------
    >>> measured("power", Try())
    10.5
    """
    choose("measure", measure, (*_TIMES, *MEASURES))
    if measure in MEASURES:
        return float(MEASURES[measure](state, **changed))
    value = getattr(_times(state, changed), measure)
    return float(value.likely if isinstance(value, Band) else value)


def _times(state, changed):
    """Return times of a try with words changed, and quantities, even of its wood, used instead."""
    words = {key: value for key, value in changed.items() if isinstance(value, str)}
    numbers = {key: value for key, value in changed.items() if key not in words}
    return times(state.changed(**words), **numbers)


def _rim_share(state, **_):
    """Part of the heat beyond half the radius; the same at any force, friction and speed."""
    inner, outer = cut(state, count=2).power
    return outer / (inner + outer)


def _stored(state, kept, temperature_ambient=None, relative_humidity=None):
    """Moisture of wood kept in a place."""
    given = {"temperature": temperature_ambient, "relative_humidity": relative_humidity}
    air = replace(state.air, **{key: value for key, value in given.items() if value is not None})
    outdoors, rack = stores(Try(state.kit, state.effort, air), warming=default("warming"))
    return {"outdoors": outdoors, "rack": rack}[kept].moisture


def _energy(state, **changed):
    kit, air = state.kit.changed(**changed), state.air
    return energy_parts(
        kit.burn_in_depth,
        density=density(kit.specific_gravity),
        moisture=kit.moisture,
        temperature_ambient=air.temperature,
        temperature_char=default("temperature_char"),
    )


def _water_share(state, **changed):
    parts = _energy(state, **changed)
    return parts.water / parts.total


def _char_rise(state, **_):
    return default("temperature_char") - state.air.temperature


def _dust_rise(state, wear, **changed):
    """Rise of dust that takes all heat along: heat made, over what so much wood takes a kelvin."""
    now = state.changed(**changed)
    rubbed = friction_power(
        now.effort.force, friction=1.0, speed=now.effort.speed, contact=now.kit.contact
    )
    layer = now.kit.burn_in_depth * _char_rise(now)
    return now.power / (wear * rubbed * _energy(now).total / layer)


def _pressed_power(state, force, **_):
    return press(state.kit, arm=arms()["teenager"], air=state.air, force=force).power


def _dust_share(state, **changed):
    found = _times(state, changed)
    return found.bound / found.ember.likely


def _joules(_, catcher, ground=AIR_GAP, crust=0.0, catcher_thickness=None):
    """Joules asked of an ordinary ember in its first minute."""
    thickness = catchers()[catcher].thickness if catcher_thickness is None else catcher_thickness
    ember = Ember(crust=crust)
    return joules_by_thickness(catcher, thickness=thickness, ground=ground, ember=ember)


_RHYTHM = ("stroke_length", "strokes_per_minute", "bout", "pause")


def _stroked(state, **changed):
    """Follow the contact; of all that can change, only force and the way of bowing count here."""
    rhythm = Rhythm(**{key: changed[key] for key in _RHYTHM if key in changed})
    return contact_heat(
        state.kit,
        rhythm=rhythm,
        air=state.air,
        force=changed.get("force", state.effort.force),
    )


def _tries_needed(_, ratio):
    return plan(ratio, time=30.0).tries_a_side


def _thick_factor(_, way):
    """Tell by the demo log what twice as thick does, failed tries counted rightly or wrongly."""
    given, _ = fit_columns(read_log(demo_log()).tries, ("diameter",))
    design = {name: np.log(column) for name, column in given["settings"].items()}
    fits = three_ways(given["times"], observed=given["observed"], design=design)
    found = fits[choose("way", way, tuple(fits))]
    return math.inf if found is None else 2.0 ** found.coefficients["diameter"]


def _share_that(outcome):
    """Make the measure of whom a saying does so much to."""
    return lambda _, saying, population: verdict(saying, population).shares[outcome].likely


# What is no field of the times; some heed only what they name.
MEASURES: Mapping[str, Callable[..., float]] = {
    "rim_share": _rim_share,
    "water_share": _water_share,
    "stored": _stored,
    "char_rise": _char_rise,
    "dust_rise": _dust_rise,
    "pressed_power": _pressed_power,
    "dust_share": _dust_share,
    "swing": lambda state, **changed: _stroked(state, **changed).swing,
    "first_smoke": lambda state, **changed: _stroked(state, **changed).first_smoke.likely,
    "joules": _joules,
    "tries_needed": _tries_needed,
    "thick_factor": _thick_factor,
    "helped_share": _share_that(HELPS),
    "unmoved_share": _share_that(NO_MATTER),
    "harmed_share": _share_that(HARMS),
}


def asked_of(measure: str, settings: Mapping[str, Any]) -> float:
    """Return a measure at settings.

    Parameters
    ----------
    measure : str
        See :func:`measured`.
    settings : mapping
        As :func:`try_of` takes, or what the measure asks for. [SI]

    Returns
    -------
    float
        The number.

    Examples
    --------
    >>> asked_of("power", {"stroke_length": 0.4, "strokes_per_minute": 150.0})
    10.5
    """
    if choose("measure", measure, (*_TIMES, *MEASURES)) in _TIMES:
        return measured(measure, try_of(settings))
    return measured(measure, Try(), **settings)


def change_ratio(
    measure: str, change: Mapping[str, float], start: Mapping[str, float] | None = None
) -> float:
    """Return how a number changes when quantities of an ordinary kit are multiplied.

    Parameters
    ----------
    measure : str
        See :func:`measured`.
    change : mapping
        Quantity to the factor on it.
    start : mapping, optional
        Quantity to its value before, where that is not the ordinary one. [SI]

    Returns
    -------
    float
        New over old. [1]

    Examples
    --------
    >>> change_ratio("bound", {"diameter": 0.5})
    0.25
    """
    state = Try()
    now = dict(start or {})
    now |= {key: state.value(key) for key in change if key not in now}
    changed = now | {key: now[key] * factor for key, factor in change.items()}
    return measured(measure, state, **changed) / measured(measure, state, **now)


def try_of(settings: Mapping[str, Any]) -> Try:
    """Make the try that settings describe; all else is ordinary.

    Parameters
    ----------
    settings : mapping
        Values by the names that :meth:`fireheat.kit.kit.Try.changed` takes; bow speed may be given
        by its strokes, ``"stroke_length"`` and ``"strokes_per_minute"``. [SI]

    Returns
    -------
    Try
        The try.

    Raises
    ------
    InputError
        If a value cannot be, or the speed is given twice or by half.

    Examples
    --------
    >>> try_of({"stroke_length": 0.4, "strokes_per_minute": 150.0}).effort.speed
    1.0
    """
    given = dict(settings)
    strokes = {key: given.pop(key) for key in STROKES if key in given}
    if strokes:
        if len(strokes) < len(STROKES) or "speed" in given:
            raise InputError(
                f"bow speed is given by {sorted({*strokes, *({'speed'} & set(given))})}; allowed:"
                f" speed, or {' and '.join(STROKES)}"
            )
        given["speed"] = float(bow_speed(**strokes))
    return Try().changed(**given)


# ---- two tries compared -------------------------------------------------------------------------


class Compared(NamedTuple):
    """Two tries beside each other, and what is known of the ratio of their embers' times.

    Attributes
    ----------
    before, after : Spread
        What a stopwatch might see of each.
    ratio : Band of float
        Time of the ember after over that before, with the same unknowns in both. [1]
    same_depth, same_grams : float
        Its likely value if both spindles wore off as many millimetres for an ember, or as many
        grams, as an ordinary one does; the same where both are equally thick. [1]
    """

    before: Spread
    after: Spread
    ratio: Band
    same_depth: float
    same_grams: float


def compared(before: Try, after: Try, *, as_set: bool = False) -> Compared:
    """Compare the embers of two tries.

    Parameters
    ----------
    before, after : Try
        The two. Where they are not equally thick, each is taken to wear off what
        :func:`fireheat.spread.compare` takes as likely.
    as_set : bool, optional
        Show both with the burn-in depth that is set, and not with that.

    Returns
    -------
    Compared
        Their spreads and the ratio.

    Examples
    --------
    >>> found = compared(try_of({"diameter": 0.022}), try_of({"diameter": 0.011}))
    >>> [round(ratio, 2) for ratio in (found.same_depth, found.ratio.likely, found.same_grams)]
    [0.1, 0.15, 0.22]
    """
    ends = unknown("depth_exponent").band
    likely = [as_compared(one, other) for one, other in ((before, after), (after, before))]
    depth, grams = (
        _ratio(_at_exponent(before, after, end), _at_exponent(after, before, end))
        for end in (ends.low, ends.high)
    )
    one, other = (before, after) if as_set else likely
    return Compared(spread(one), spread(other), compare(before, after), depth, grams)


def as_compared(state: Try, beside: Try) -> Try:
    """Return a try with the burn-in depth that it has beside one of another diameter.

    Nobody knows whether a thinner spindle wears off as many millimetres for an ember, or as many
    grams. So the depth that is set is taken to hold at the ordinary diameter.

    Parameters
    ----------
    state, beside : Try
        The try, and the one that it is compared with.

    Returns
    -------
    Try
        The same, where both are equally thick or one is given in grams.

    References
    ----------
    .. [1] As :func:`fireheat.spread.compare`.

    Examples
    --------
    >>> thick, thin = try_of({"diameter": 0.032}), try_of({"diameter": 0.008})
    >>> [1000 * as_compared(one, Try()).kit.burn_in_depth for one in (thick, Try(), thin)]
    [2.0, 4.0, 8.0]
    """
    return _at_exponent(state, beside, unknown("depth_exponent").band.likely)


def _at_exponent(state, beside, power):
    """Return the same, where depth goes with so high a power of one over the diameter."""
    alike = state.kit.diameter == beside.kit.diameter
    if alike or state.kit.dust_mass is not None or beside.kit.dust_mass is not None:
        return state
    depth = state.kit.burn_in_depth * (state.kit.diameter / default("diameter")) ** -power
    return state.changed(burn_in_depth=depth)


def _ratio(one, other):
    return float(times(other).ember.likely / times(one).ember.likely)
