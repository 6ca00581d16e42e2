"""The beat: how quick this learner may bow so that the ember comes before the arm is spent."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from ..cases import case
from ..constants import constant
from ..data import table
from ..quantities import InputError
from ..words import time_words
from .learner import Learner

_POINTS, _SLOWEST = 33, 0.1  # of a sweep, and its start as a share of the quickest
SWEEP: Mapping[str, float] = MappingProxyType({"points": _POINTS, "slowest": _SLOWEST})
"""How speeds are swept, for a copy in another language."""


@dataclass(frozen=True)
class Pace:
    """The window of bow speeds in which the likely ember comes before the arm is spent.

    Attributes
    ----------
    low, high : float or None
        Its ends; None if there is no window. [m/s]
    speed : float or None
        Its middle. [m/s]
    strokes_per_minute : float or None
        The beat in its middle, with strokes as long as the learner's. [1/min]
    why : str
        Why there is none, for :func:`fireheat.texts.in_units`; empty if there is one.
    """

    low: float | None
    high: float | None
    speed: float | None
    strokes_per_minute: float | None
    why: str

    def holds(self, speed: float) -> bool:
        """Tell whether a speed lies in the window.

        Examples
        --------
        >>> pace(Learner()).holds(0.9)
        True
        """
        return self.low is not None and self.high is not None and self.low <= speed <= self.high


def pace(learner: Learner) -> Pace:
    """Find the bow speeds at which a learner's ember comes before the arm is spent.

    Parameters
    ----------
    learner : Learner
        The learner; press and kit stay as they are.

    Returns
    -------
    Pace
        The window, and the beat in its middle; or why there is none.

    Raises
    ------
    InputError
        If that is no learner.

    References
    ----------
    .. [1] :func:`fireheat.estimates.times` over speeds, against
       :meth:`fireheat.person.arm.Arm.hold_time`, and at most ``longest_bowing``.

    Examples
    --------
    >>> found = pace(Learner())
    >>> [round(speed, 2) for speed in (found.low, found.speed, found.high)]
    [0.5, 0.75, 1.0]
    """
    if not isinstance(learner, Learner):
        raise InputError(f"learner is {learner!r}; allowed: Learner(...)")
    most = learner.most_speed
    if most <= 0:
        return _none(learner, "slip" if _slips(learner) else "stall")
    speeds = np.linspace(_SLOWEST * most, most, _POINTS)
    ember, inside = _in_time(learner, speeds)
    if not inside.any():
        return _too_late(learner, speeds, ember)
    first, last = _longest(inside)
    low, high = _edge(learner, speeds, first, -1), _edge(learner, speeds, last, 1)
    middle = (low + high) / 2
    return Pace(low, high, middle, learner.strokes_at(middle), "")


def _slips(learner):
    return learner.slip_pull is not None and learner.slip_pull < min(
        learner.pull, learner.arm.pull_max
    )


def _in_time(learner, speeds):
    """Return likely embers, and whether they come before the arm is spent."""
    ember = case(learner.state, swept={"speed": speeds}).ember
    hold = np.minimum(learner.arm.hold_time(learner.pull * speeds), constant("longest_bowing"))
    return ember, ember <= hold


def _longest(inside):
    """Return the first and the last place of the longest row of true ones."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], inside, [False]]).astype(int)))
    starts, ends = edges[::2], edges[1::2]
    longest = np.argmax(ends - starts)
    return starts[longest], ends[longest] - 1


def _edge(learner, speeds, place, way):
    """Find where the window ends, between a speed inside and the next one outside."""
    beyond = place + way
    if not 0 <= beyond < len(speeds):
        return float(speeds[place])
    between = np.linspace(speeds[place], speeds[beyond], _POINTS)
    _, still = _in_time(learner, between)
    return float(between[np.argmin(still) - 1])


def _too_late(learner, speeds, ember):
    soonest = int(np.argmin(ember))
    if not np.isfinite(ember[soonest]):
        return _none(learner, "never")
    if ember[soonest] > constant("longest_bowing"):
        return _none(learner, "long", ember=time_words(ember[soonest]))
    hold = learner.arm.hold_time(learner.pull * speeds[soonest])
    return _none(learner, "spent", ember=time_words(ember[soonest]), hold=time_words(hold))


def _none(learner, reason, **words):
    text = table("moves")["pace"][reason]
    pulls = {"pull": learner.pull, "most": learner.arm.pull_max, "slip": learner.slip_pull}
    places = {key: f"{{pull:~{value:.6f}}}" for key, value in pulls.items() if value is not None}
    return Pace(None, None, None, None, text.format(**places, **words))
