"""How the task of a card stands, and the rules by which it is judged.

A task may ask for less than what the formulas would allow. An arm has its limits, a heap of dust
has to keep itself hot, and a story has only so much to give: what goes beyond is refused, by the
name of the rule that it breaks.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, NamedTuple

from ..ember.ember import heap_mass
from ..ember.ignition import enough_dust
from ..kit.kit import Kit, Try
from ..person.arm import Arm, arms
from ..person.limits import kit_pull, speed_at_force
from ..person.strokes import most_strokes
from ..quantities import InputError, check_whole, choose, default
from ..spread import Spread
from .questions import STROKES, try_of

KINDS = ("weak", "likely", "strong")  # of an arm
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
        If there is no such arm, or a rule is none.
    """

    start: Mapping[str, Any]
    free: tuple[str, ...]
    below: float
    change_at_most: int
    at_least: Mapping[str, float]
    at_most: Mapping[str, float]
    arm: tuple[str, str]

    def __post_init__(self):
        if not (isinstance(self.arm, tuple) and len(self.arm) == 2):
            raise InputError(f"arm is {self.arm!r}; allowed: a name, and which of its kind")
        choose("arm", self.arm[0], arms())
        choose("kind of arm", self.arm[1], KINDS)
        if not (isinstance(self.free, tuple) and all(isinstance(key, str) for key in self.free)):
            raise InputError(f"free is {self.free!r}; allowed: names of what may be moved")
        if not (isinstance(self.below, float) and 0 < self.below < math.inf):
            raise InputError(f"below is {self.below!r} s; allowed: a time above 0 s")
        check_whole("change_at_most", self.change_at_most, least=1)

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


class Level(StrEnum):
    """How far a task has come, from not at all to best."""

    UNTRIED = "untried"
    REFUSED = "refused"
    LATE = "late"
    LIKELY = "likely"
    WOOD = "wood"
    ALL = "all"

    @property
    def met(self) -> bool:
        """Whether the goal is met, with this wood at least."""
        return self in (Level.WOOD, Level.ALL)


class Verdict(NamedTuple):
    """How a task stands.

    Attributes
    ----------
    level : Level
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

    level: Level
    broken: str
    changed: tuple[str, ...]


def judge(rules: Rules, moved: Mapping[str, Any], found: Spread) -> Verdict:
    """Say how a task stands.

    Parameters
    ----------
    rules : Rules
        The task.
    moved : mapping
        Where the free things stand. [SI]
    found : Spread
        What a stopwatch might see of that try.

    Returns
    -------
    Verdict
        How it stands.

    Raises
    ------
    InputError
        If something was moved that is not free.

    References
    ----------
    .. [1] :func:`most_speed`, :func:`hold` and :func:`enough`.

    Examples
    --------
    >>> from fireheat.spread import spread
    >>> rules = Rules(
    ...     start={"force": 50.0, "speed": 0.9}, free=("diameter",), below=90.0, change_at_most=1,
    ...     at_least={}, at_most={}, arm=("teenager", "likely"),
    ... )
    >>> for diameter in (0.006, 0.012, 0.022):
    ...     moved = {"diameter": diameter}
    ...     verdict = judge(rules, moved, spread(try_of(rules.settings(moved))))
    ...     print(verdict.level, verdict.broken)
    refused dust
    wood
    late
    """
    if locked := sorted(set(moved) - set(rules.free)):
        raise InputError(f"{locked} stay as they are in this task; free: {sorted(rules.free)}")
    changed = rules.changed(moved)
    if not changed:
        return Verdict(Level.UNTRIED, "", changed)
    if broken := _broken(rules, moved, changed, found.wood):
        return Verdict(Level.REFUSED, broken, changed)
    if found.all.high < rules.below:
        level = Level.ALL
    elif found.wood.high < rules.below:
        level = Level.WOOD
    else:
        level = Level.LIKELY if found.wood.likely < rules.below else Level.LATE
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
