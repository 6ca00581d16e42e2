"""What questions and cards are judged by: two tries compared, and a task with its rules.

A task may ask for less than what the formulas would allow. An arm has its limits, a heap of dust
has to keep itself hot, and a story has only so much to give: what goes beyond is refused, by the
name of the rule that it breaks.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from ..bands import Band
from ..ember.ember import heap_mass
from ..ember.ignition import enough_dust
from ..estimates import times
from ..kit.bowing import bow_speed
from ..kit.kit import Kit, Try
from ..person.arm import Arm, arms
from ..person.limits import kit_pull, speed_at_force
from ..person.strokes import most_strokes
from ..quantities import InputError, choose, default
from ..spread import Spread, compare, spread
from ..unknowns import unknown

STROKES = ("stroke_length", "strokes_per_minute")
KINDS = ("weak", "likely", "strong")  # of an arm
# How a task stands, from not at all to best.
UNTRIED, REFUSED, LATE, LIKELY, WOOD, ALL = LEVELS = (
    *("untried", "refused", "late", "likely", "wood", "all"),
)
MET = (WOOD, ALL)
_SAME = 1e-9  # relatively: what rounding may leave of a value that nobody moved
_ROUNDED = 1 + 1e-6  # how far over a limit rounding may go


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
        Its likely value if the other spindle wore off as many millimetres for an ember, or as many
        grams; the same where both are equally thick. [1]
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
    [0.09, 0.15, 0.25]
    """
    one, other = before, after
    if not as_set:
        one, other = as_compared(before, after), as_compared(after, before)
    ratio = compare(before, after)
    depth = grams = ratio.likely
    if one.kit.diameter != other.kit.diameter:
        depth = _ratio(one, other.changed(burn_in_depth=one.kit.burn_in_depth))
        grams = _ratio(one, other.changed(dust_mass=one.kit.dust))
    return Compared(spread(one), spread(other), ratio, depth, grams)


def as_compared(state: Try, beside: Try) -> Try:
    """Return a try with the burn-in depth that is likely beside one of another diameter.

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
    alike = state.kit.diameter == beside.kit.diameter
    if alike or state.kit.dust_mass is not None or beside.kit.dust_mass is not None:
        return state
    wider = state.kit.diameter / default("diameter")
    depth = state.kit.burn_in_depth * wider ** -unknown("depth_exponent").band.likely
    return state.changed(burn_in_depth=depth)


def _ratio(one, other):
    return float(times(other).ember.likely / times(one).ember.likely)


# ---- a task and its rules -----------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class Rules:
    """What a task allows, and what is to be reached.

    Attributes
    ----------
    start : mapping
        Where everything stands that is not ordinary. [SI]
    free : tuple of str
        What may be moved; all else stays.
    below : float
        What the ember has to come under. [s]
    change_at_most : int
        How many of them may differ from the start. [1]
    at_least, at_most : mapping
        Ends beyond which the story has nothing. [SI]
    arm : tuple of str
        A name from :func:`fireheat.person.arm.arms`, and which of its kind bows: ``"weak"``,
        ``"likely"`` or ``"strong"``.

    Raises
    ------
    InputError
        If there is no such arm.
    """

    start: Mapping[str, Any]
    free: tuple[str, ...]
    below: float
    change_at_most: int
    at_least: Mapping[str, float]
    at_most: Mapping[str, float]
    arm: tuple[str, str]

    def __post_init__(self):
        choose("arm", self.arm[0], arms())
        choose("kind of arm", self.arm[1], KINDS)

    @property
    def person(self) -> Arm:
        """The arm that has to do it."""
        who, kind = self.arm
        return arms()[who] if kind == "likely" else getattr(arms()[who], kind)

    def settings(self, moved: Mapping[str, Any]) -> dict[str, Any]:
        """Return all that is not ordinary, with what was moved."""
        return {**self.start, **moved}

    def changed(self, moved: Mapping[str, Any]) -> tuple[str, ...]:
        """Name what of the free differs from the start."""
        return tuple(
            key for key in self.free if key in moved and not _alike(moved[key], self.at_start(key))
        )

    def at_start(self, key: str) -> Any:
        """Return where something stands at the start. [SI]."""
        if key in self.start:
            return self.start[key]
        return Try().kit.wood if key == "wood" else default(key)


def _alike(one, other):
    if isinstance(one, str) or isinstance(other, str):
        return one == other
    return math.isclose(one, other, rel_tol=_SAME)


class Verdict(NamedTuple):
    """How a task stands.

    Attributes
    ----------
    level : str
        ``"untried"``; ``"refused"`` if a rule is broken; ``"late"``, if not even the likely ember
        is under the goal; ``"likely"``, if that alone is; ``"wood"``, if it is with nine of ten
        pieces of such wood; ``"all"``, if it is whatever we do not know.
    broken : str
        The rule that is broken: ``"change"`` (too much was changed), a quantity's name (beyond what
        the story has), ``"reach"`` (no such arm bows so fast against that pull), ``"turn"`` (no
        hand turns round so often), ``"hold"`` (the arm is spent before), or ``"dust"`` (too little
        to keep itself hot); empty if none is.
    changed : tuple of str
        What differs from the start.
    """

    level: str
    broken: str
    changed: tuple[str, ...]


def judge(rules: Rules, moved: Mapping[str, Any], *, wood: Band, everything: Band) -> Verdict:
    """Say how a task stands.

    Parameters
    ----------
    rules : Rules
        The task.
    moved : mapping
        Where the free things stand. [SI]
    wood, everything : Band of float
        Time of that try's ember, as far as its wood is unknown, and everything. [s]

    Returns
    -------
    Verdict
        How it stands.

    Raises
    ------
    InputError
        If something was moved that is not free.

    Examples
    --------
    >>> rules = Rules(
    ...     start={"force": 50.0, "speed": 0.9}, free=("diameter",), below=90.0, change_at_most=1,
    ...     at_least={}, at_most={}, arm=("teenager", "likely"),
    ... )
    >>> judge(rules, {"diameter": 0.006}, wood=Band(3, 4, 6), everything=Band(2, 4, 9)).broken
    'dust'
    >>> judge(rules, {"diameter": 0.012}, wood=Band(30, 40, 70), everything=Band(20, 40, 150)).level
    'wood'
    """
    if locked := sorted(set(moved) - set(rules.free)):
        raise InputError(f"{locked} stay as they are in this task; free: {sorted(rules.free)}")
    changed = rules.changed(moved)
    if not changed:
        return Verdict(UNTRIED, "", changed)
    if broken := _broken(rules, moved, changed, wood):
        return Verdict(REFUSED, broken, changed)
    if everything.high < rules.below:
        level = ALL
    elif wood.high < rules.below:
        level = WOOD
    else:
        level = LIKELY if wood.likely < rules.below else LATE
    return Verdict(level, "", changed)


def _broken(rules, moved, changed, wood):
    """Name the first rule that is broken."""
    if len(changed) > rules.change_at_most:
        return "change"
    settings = rules.settings(moved)
    state = try_of(settings)
    if state.effort.speed > _ROUNDED * most_speed(rules, state):
        return "reach"
    if beyond := _beyond(rules, settings):
        return beyond
    if set(STROKES) <= set(settings):
        length, count = (settings[key] for key in STROKES)
        if count > _ROUNDED * most_strokes(length):
            return "turn"
    if wood.high < math.inf and wood.high > hold(rules, state):
        return "hold"
    return "" if enough(state.kit) else "dust"


def _beyond(rules, settings):
    for key, least in rules.at_least.items():
        if settings.get(key, least) * _ROUNDED < least:
            return key
    for key, most in rules.at_most.items():
        if settings.get(key, most) > _ROUNDED * most:
            return key
    return ""


def most_speed(rules: Rules, state: Try) -> float:
    """Return how fast the arm of a task can bow a kit at its force. [m/s].

    Parameters
    ----------
    rules : Rules
        The task.
    state : Try
        The try.

    Returns
    -------
    float
        The speed. [m/s]
    """
    return float(speed_at_force(state.kit, arm=rules.person, force=state.effort.force))


def hold(rules: Rules, state: Try) -> float:
    """Return how long the arm of a task can keep a try up. [s].

    Parameters
    ----------
    rules : Rules
        The task.
    state : Try
        The try.

    Returns
    -------
    float
        The time; infinite if that is not what ends it. [s]
    """
    pull = kit_pull(state.kit, force=state.effort.force)
    return float(rules.person.hold_time(pull * state.effort.speed))


def enough(kit: Kit) -> bool:
    """Tell whether a kit most likely makes enough dust to keep itself hot. ROUGH.

    Parameters
    ----------
    kit : Kit
        The kit.

    Returns
    -------
    bool
        Whether it does.

    Examples
    --------
    >>> enough(Kit.from_diameter(0.006)), enough(Kit.from_diameter(0.008))
    (False, True)
    """
    return enough_dust(kit).times_least.likely >= 1


def heap(kit: Kit) -> float:
    """Return the dust that a kit heaps up for one ember. [kg].

    Parameters
    ----------
    kit : Kit
        The kit.

    Returns
    -------
    float
        Its mass. [kg]
    """
    return float(heap_mass(kit.dust))
