"""Sayings of the craft, and what becomes of a learner who follows one.

Who follows a saying stays within arm and hand (:mod:`fireheat.person`): they go on bowing with as
large a share of the speed that these leave them, unless the saying is about speed; then they reach
for it as far as arm and hand can. Pressing harder so slows the bow: nobody counts a beat for a
group. In a plan for one learner somebody does, and it stays while the arm has speed to spare
(:mod:`fireheat.coach.offers`). Friction falls as it rubs more quickly
(:mod:`fireheat.kit.rubbing`), and what pull that saves is the arm's again.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import numpy as np

from ..constants import constant
from ..data import table
from ..kit.rubbing import quicker_friction
from ..kit.wood import my_wood
from ..quantities import InputError, choose, quantities
from ..unknowns import unknown
from .learner import Learner
from .population import Learners

TIMING, KEEPING = "ember", "keeping"
_STRAIGHT = 1e9  # Hill's law with such a curvature is a straight line
_ROUNDS = 8  # each comes ten times nearer to the speed at which pull and friction agree


@dataclass(frozen=True, kw_only=True)
class Instruction:
    """What a saying changes.

    Attributes
    ----------
    quantity : str
        One of the arrays of :class:`fireheat.coach.population.Learners`.
    factor, add : float
        Times so much, plus so much. [SI]
    at_least, at_most : float
        How far it goes; who is beyond already stays there. [SI]
    most : bool
        Whether it is all that arm and hand can.
    keeps : str
        What stays as strokes change: ``"beat"`` or ``"speed"``.
    onto : str
        What the ember falls on then.

    Examples
    --------
    >>> half = Instruction(quantity="diameter", factor=0.5, at_least=0.008)
    >>> half.of(np.array([0.02, 0.01, 0.006]))
    array([0.01 , 0.008, 0.006])
    """

    quantity: str
    factor: float = 1.0
    add: float = 0.0
    at_least: float = -np.inf
    at_most: float = np.inf
    most: bool = False
    keeps: str = ""
    onto: str = ""

    def of(self, before: np.ndarray) -> np.ndarray:
        """Return the values after the change, of an ordinary kit or person."""
        if self.onto:
            return np.full(len(before), self.onto)
        row = quantities().get(self.quantity)
        low, high = (row.low, row.high) if row else (-np.inf, np.inf)
        low, high = max(low, self.at_least), min(high, self.at_most)
        after = before * self.factor + self.add
        return np.clip(after, np.minimum(before, low), np.maximum(before, high))


@dataclass(frozen=True, kw_only=True)
class Saying:
    """One saying.

    Attributes
    ----------
    key, words : str
        Its name in code, and the saying itself.
    aimed : str
        For whom it is meant.
    change : Instruction or None
        What it changes; nothing that our model has, if None.
    measure : str
        What counts: the time of the ``"ember"``, or ``"keeping"``, how long it keeps.
    untold : str
        Why our model cannot judge it; empty where it can.
    note : str
        What a verdict leaves out.
    source : str
        Where it comes from.
    """

    key: str
    words: str
    aimed: str
    change: Instruction | None
    measure: str
    untold: str
    note: str
    source: str


@cache
def sayings() -> Mapping[str, Saying]:
    """Return all rows of ``data/sayings.toml``, by key."""
    return {
        key: Saying(
            key=key,
            words=row["words"],
            aimed=row["aimed"],
            change=_change(row["change"]) if "change" in row else None,
            measure=row.get("measure", TIMING),
            untold=row.get("untold", ""),
            note=row.get("note", ""),
            source=row["source"],
        )
        for key, row in table("sayings").items()
    }


def _change(row):
    ends = ("at_least", "at_most")
    named = {key: constant(row[key]) for key in ends if isinstance(row.get(key), str)}
    return Instruction(**row | named)


def judged(saying: str) -> Saying:
    """Look up a saying that our model can judge.

    Parameters
    ----------
    saying : str
        A key of :func:`sayings`.

    Returns
    -------
    Saying
        The row.

    Raises
    ------
    InputError
        If there is no such saying, or our model cannot judge it.

    Examples
    --------
    >>> judged("press_harder").change.factor
    1.25
    """
    row = sayings()[choose("saying", saying, sayings())]
    if row.change is None:
        allowed = [key for key, other in sayings().items() if other.change is not None]
        raise InputError(f"saying is {saying!r}: {row.untold}; allowed: {', '.join(allowed)}")
    return row


def following_all(saying: str, learners: Learners) -> Learners:
    """Return learners as they are once they follow a saying.

    Parameters
    ----------
    saying : str
        A key of :func:`sayings`.
    learners : Learners
        As they are now.

    Returns
    -------
    Learners
        As they are then.

    Raises
    ------
    InputError
        If there is no such saying, or our model cannot judge it, or the learners are none.

    Examples
    --------
    >>> from fireheat.coach.population import invented_learners
    >>> now = invented_learners("mixed_autumn", count=50)
    >>> then = following_all("press_harder", now)
    >>> bool(np.all(then.speed <= now.speed))
    True
    """
    change = judged(saying).change
    if not isinstance(learners, Learners):
        raise InputError(f"learners is {learners!r}; allowed: Learners")
    return _bowing(learners, _put(learners, change), change)


def _put(now, change):
    """Instruction the one quantity, and what hangs on it."""
    if change.quantity == "speed":
        return now
    values = {change.quantity: change.of(getattr(now, change.quantity))}
    if change.quantity == "diameter":
        wider = values["diameter"] / now.diameter
        values["cord_radius"] = now.cord_radius * wider
        values["burn_in_depth"] = (
            now.burn_in_depth * wider ** -unknown("depth_exponent").band.likely
        )
    return now.changed(**values)


def _bowing(now, then, change):
    """Find the speed at which arm, hand, pull and friction agree."""
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.nan_to_num(now.speed / now.speed_limit, posinf=1.0)
    at_most = np.maximum(share, 1.0)
    asked = _asked(now, change)
    rim = now.speed * now.diameter / 2 / now.cord_radius
    cold, speed = then.friction, now.speed
    for _ in range(_ROUNDS):
        rubs = speed * then.diameter / 2 / then.cord_radius
        then = then.changed(speed=speed, friction=quicker_friction(cold, speed_gain=rubs - rim))
        limit = then.speed_limit
        speed = share * limit if asked is None else np.minimum(asked, at_most * limit)
    return then.changed(speed=speed)


def _asked(now, change):
    """Return the speed that a saying asks for; none if it does not speak of it."""
    if change.quantity == "speed":
        return np.full(len(now), np.inf) if change.most else now.speed * change.factor
    if change.keeps:
        return now.speed * (change.factor if change.keeps == "beat" else 1.0)
    return None


# ---- one learner ---------------------------------------------------------------------------------


def as_learners(learner: Learner) -> Learners:
    """Return one learner as learners side by side, of whom there is one.

    Parameters
    ----------
    learner : Learner
        The learner, who catches the ember on bare dry soil.

    Returns
    -------
    Learners
        Arrays of one.

    Raises
    ------
    InputError
        If it is no learner.

    Examples
    --------
    >>> as_learners(Learner()).pull.round(1)
    array([13.5])
    """
    if not isinstance(learner, Learner):
        raise InputError(f"learner is {learner!r}; allowed: a Learner")
    kit, arm, values = learner.state.kit, learner.arm, learner.state.values()
    one = {
        **{key: values[key] for key in _OF_TRY},
        "cord_radius": kit.radius if kit.cord_radius is None else kit.cord_radius,
        "block_friction": kit.block_friction,
        "block_radius": kit.block_radius,
        "stroke_length": learner.stroke_length,
        "bowing_share": 1.0,
        **{key: getattr(arm, key) for key in _OF_ARM},
        **({"curvature": _STRAIGHT} if arm.law == "linear" else {}),
        "slip_pull": np.inf if learner.slip_pull is None else learner.slip_pull,
        "lies_on": "dry_soil",
        "ground": "dry soil",
    }
    return Learners(**{key: np.array([value]) for key, value in one.items()}, state=learner.state)


_OF_TRY = (
    *("diameter", "burn_in_depth", "friction", "specific_gravity", "moisture"),
    *("temperature_ambient", "force", "speed"),
)
_OF_ARM = ("pull_max", "speed_max", "curvature", "critical_power", "work_above")


def following(saying: str, learner: Learner) -> Learner:
    """Return one learner as they are once they follow a saying.

    Parameters
    ----------
    saying : str
        A key of :func:`sayings`.
    learner : Learner
        As they are now.

    Returns
    -------
    Learner
        As they are then; rests count as a slower bow.

    Raises
    ------
    InputError
        As :func:`following_all`, or if what follows is not what an ordinary kit can have.

    Examples
    --------
    >>> then = following("press_harder", Learner())
    >>> then.state.effort.force, round(then.state.effort.speed, 2)
    (75.0, 0.88)
    """
    now = as_learners(learner)
    then = following_all(saying, now)
    kit, moved = learner.state.kit, _moved(now, then)
    if "specific_gravity" in moved:
        moved["wood"] = my_wood(moved.pop("specific_gravity"))
    if "diameter" in moved:
        del moved["burn_in_depth"]  # who compares two tries knows that doubt by itself
        if kit.cord_radius is not None:
            moved["cord_radius"] = float(then.cord_radius[0])
    return replace(
        learner,
        state=learner.state.changed(**moved),
        slip_pull=None if learner.slip_pull is None else float(then.slip_pull[0]),
        stroke_length=float(then.stroke_length[0]),
    )


def _moved(now, then) -> dict[str, Any]:
    """Return what the one learner of these changes of their try; a rest makes the bow slower."""
    before = {key: float(getattr(now, key)[0]) for key in (*_OF_TRY, "block_friction")}
    after = {key: float(getattr(then, key)[0]) for key in before}
    after["speed"] *= float(then.bowing_share[0])
    return {key: value for key, value in after.items() if value != before[key]}
