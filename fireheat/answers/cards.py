"""How the task of a card stands, and the rules by which it is judged.

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
from ..kit.kit import Kit, Try
from ..person.arm import Arm, arms
from ..person.limits import kit_pull, speed_at_force
from ..person.strokes import most_strokes
from ..quantities import InputError, choose, default
from .questions import STROKES, try_of

KINDS = ("weak", "likely", "strong")  # of an arm
# How a task stands, from not at all to best.
UNTRIED, REFUSED, LATE, LIKELY, WOOD, ALL = "untried", "refused", "late", "likely", "wood", "all"
MET = (WOOD, ALL)
_SAME = 1e-9  # relatively: what rounding may leave of a value that nobody moved
_ROUNDED = 1 + 1e-6  # how far over a limit rounding may go


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
