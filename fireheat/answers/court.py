"""The court of advice: one saying before one group, and a hundred learners who stand for all."""

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cache

import numpy as np

from ..bands import Band
from ..coach.learner import Learner
from ..coach.population import Population, populations
from ..coach.sayings import KEEPING, Saying, judged, sayings
from ..coach.verdicts import (
    OUTCOMES,
    CourtVerdict,
    for_learner,
    ruling,
)
from ..constants import constant
from ..quantities import InputError, choose

HUNDRED = 100
SLIGHT = 1 + constant("advice_matters")  # times the time: less than that does not matter


@dataclass(frozen=True, eq=False)
class Hearing:
    """What came of one saying before one group.

    Attributes
    ----------
    saying : Saying
        The advice.
    population : Population
        Who was asked to follow it.
    verdict : CourtVerdict
        What it does to this group, with all its learners.
    overall : str
        What it comes to in all groups: helps, no matter, harms, or depends.
    says : mapping of str to str
        What it comes to in each of them, by its key; where fewer than half feel it, that it is
        some.
    effect : ndarray, shape (100,)
        Time with the advice over the time without, of a hundred who stand for the group: 0 where
        an ember comes at last before arm or patience is spent, infinite where it comes no more, NaN
        where it comes neither way. Of a catcher, how long an ember keeps without over with it. [1]
    kinds : ndarray of str, shape (100,)
        What it does to each of them: helps, no matter, or harms. [1]
    own : Band of float or None
        The same ratio for one learner; none if nobody is asked about, or it has nothing to say. [1]
    """

    saying: Saying
    population: Population
    verdict: CourtVerdict
    overall: str
    says: Mapping[str, str]
    effect: np.ndarray
    kinds: np.ndarray
    own: Band[float] | None = None

    @property
    def counts(self) -> dict[str, int]:
        """How many of the hundred it helps, is no matter to, and harms."""
        return {kind: int(np.sum(self.kinds == kind)) for kind in OUTCOMES}

    @property
    def neither(self) -> int:
        """How many have no ember in time either way."""
        return int(np.sum(np.isnan(self.effect)))


def hundred(verdict: CourtVerdict) -> tuple[np.ndarray, np.ndarray]:
    """Choose a hundred who stand for all: as many of each kind as its share, evenly from it.

    Parameters
    ----------
    verdict : CourtVerdict
        What became of all of them.

    Returns
    -------
    effect : ndarray, shape (100,)
        As in a :class:`Hearing`, within each kind in order. [1]
    kinds : ndarray of str, shape (100,)
        As there. [1]

    Raises
    ------
    InputError
        If it is no verdict.

    References
    ----------
    .. [1] Shares by the method of largest remainders; within a kind the middles of so many equal
       parts of its ordered learners.

    Examples
    --------
    >>> from fireheat.coach.verdicts import verdict
    >>> effect, kinds = hundred(verdict("flat_out", "ten_to_twelve"))
    >>> [int(np.sum(kinds == kind)) for kind in OUTCOMES], int(np.sum(np.isinf(effect)))
    ([64, 31, 5], 5)
    """
    if not isinstance(verdict, CourtVerdict):
        raise InputError(f"verdict is {verdict!r}; allowed: a CourtVerdict")
    effect, kinds = _felt(verdict), verdict.kinds
    shares = np.array([np.sum(kinds == kind) for kind in OUTCOMES]) * HUNDRED / len(kinds)
    counts = np.floor(shares).astype(int)
    most = np.argsort(counts - shares, kind="stable")
    counts[most[: HUNDRED - counts.sum()]] += 1
    chosen = [
        np.sort(effect[kinds == kind])[_middles(np.sum(kinds == kind), count)]
        for kind, count in zip(OUTCOMES, counts, strict=True)
    ]
    return np.concatenate(chosen), np.repeat(OUTCOMES, counts)


def _middles(there, count):
    """Places of so many middles among those there."""
    return np.floor((np.arange(count) + 0.5) * there / max(count, 1)).astype(int)


def _felt(verdict):
    """Tell what a saying does as learners feel it: an ember that comes too late is none."""
    if sayings()[verdict.saying].measure == KEEPING:
        return verdict.effect
    before, after = verdict.now.in_time, verdict.then.in_time
    return np.select([before & after, after, before], [verdict.effect, 0.0, np.inf], default=np.nan)


@cache
def _stand_ins(saying, population):
    """Return the hundred for a saying and a group, the same each time."""
    return hundred(ruling(saying).verdicts[population])


def hearing(saying: str, population: str, *, learner: Learner | None = None) -> Hearing:
    """Hear a saying: what it does to a group, to a hundred of it, and to one learner.

    Parameters
    ----------
    saying : str
        A row of ``data/sayings.toml``.
    population : str
        A row of ``data/populations.toml``.
    learner : Learner, optional
        Whose own change is asked about.

    Returns
    -------
    Hearing
        What came of it.

    Raises
    ------
    InputError
        If there is no such saying or group, or our model cannot judge it.

    References
    ----------
    .. [1] :func:`fireheat.coach.verdicts.ruling`.

    Examples
    --------
    >>> first = next(iter(populations()))
    >>> sum(hearing(next(iter(sayings())), first).counts.values())
    100
    """
    row = judged(saying)
    choose("population", population, populations())
    found, (effect, kinds) = ruling(saying), _stand_ins(saying, population)
    return Hearing(
        saying=row,
        population=populations()[population],
        verdict=found.verdicts[population],
        overall=found.says,
        says={key: one.told for key, one in found.verdicts.items()},
        effect=effect,
        kinds=kinds,
        own=_own(row, learner),
    )


def _own(saying, learner):
    """Draw what it does to one learner; nothing where it asks for what their kit cannot be."""
    if learner is None or saying.measure == KEEPING:
        return None
    with suppress(InputError):
        return for_learner(saying.key, learner)
    return None
