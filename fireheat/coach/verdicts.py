"""What a saying does to many learners, and to one: helps, no matter, harms.

Advice helps where an ember then comes before arm and patience are spent that would not have come,
or comes sooner by more than a twentieth. It harms where one no longer comes, or later by as much.
Else it does not matter: also to those who get no ember either way. A catcher is judged by how long
an ordinary ember keeps on it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ..bands import Band
from ..constants import constant
from ..ember.lasting import Lasting, lastings
from ..quantities import InputError, check_whole, choose
from ..spread import compare
from ..trials.plan import plan as planned_tries
from .learner import Learner
from .population import Learners, invented_learners, populations
from .rules import Rule, rule_for
from .sayings import KEEPING, following, following_all, judged, sayings

HELPS, NO_MATTER, HARMS = "helps", "no matter", "harms"
DEPENDS, UNTOLD = "depends", "our model cannot tell"
OUTCOMES = (HELPS, NO_MATTER, HARMS)


@dataclass(frozen=True, eq=False, kw_only=True)
class CourtVerdict:
    """What became of a population that following_all a saying.

    Attributes
    ----------
    saying, population : str
        Keys of both.
    now, then : Learners
        Before and after.
    effect : ndarray
        Time of the ember after over that before, or how long it keeps before over after: below one
        is better. Infinite or zero where there is never one on one side, one where on neither. [1]
    kinds : ndarray of str
        What it did to each. [1]
    shares : mapping of str to Band of float
        Share of each kind, with its margin: nine of ten, and half of the rest, of other lots lie
        within. [1]
    rule : Rule
        Whom it harms.
    tries : int or None
        Timed tries a side that tell the middle effect from luck four times in five; None where 200
        do not, or a stopwatch cannot.
    """

    saying: str
    population: str
    now: Learners
    then: Learners
    effect: np.ndarray
    kinds: np.ndarray
    shares: Mapping[str, Band]
    rule: Rule
    tries: int | None

    @property
    def middle(self) -> tuple[float, float] | None:
        """Middle time now, and middle effect, of those who have an ember in time both times."""
        return _middle(self.now, self.then, self.effect)

    @property
    def says(self) -> str:
        """Name what it does to most of those to whom it matters, if there are enough of them."""
        helped, harmed = (int(np.sum(self.kinds == kind)) for kind in (HELPS, HARMS))
        if helped + harmed < constant("advice_few") * len(self.kinds):
            return NO_MATTER
        share = _share(helped, helped + harmed)
        if share.low > constant("advice_sure"):
            return HELPS
        return HARMS if share.high < 1 - constant("advice_sure") else DEPENDS

    @property
    def told(self) -> str:
        """Say the same, and that it is some where it is fewer than half of all."""
        some = self.says in (HELPS, HARMS) and self.shares[self.says].likely < 1 / 2
        return f"{self.says} some" if some else self.says


def verdict(saying: str, population: str, *, count: int = 2000, seed: int = 0) -> CourtVerdict:
    """Try a saying on invented learners.

    Parameters
    ----------
    saying : str
        A key of :func:`fireheat.coach.sayings.sayings`.
    population : str
        A key of :func:`fireheat.coach.population.populations`.
    count : int, optional
        How many learners.
    seed : int, optional
        Of the lots.

    Returns
    -------
    CourtVerdict
        What became of them.

    Raises
    ------
    InputError
        If there is no such saying or population, our model cannot judge it, or a number is not a
        whole one.

    References
    ----------
    .. [1] Margin: Wilson, J. Am. Stat. Assoc. 22 (1927) 209. (from memory)

    Examples
    --------
    >>> found = verdict("flat_out", "ten_to_twelve")
    >>> found.says
    'helps'
    """
    judged(saying)
    choose("population", population, populations())
    return _verdict(
        saying,
        population,
        check_whole("count", count, least=20),
        check_whole("seed", seed, least=0),
    )


@lru_cache(maxsize=256)
def _learners(population, count, seed):
    return invented_learners(population, count=count, seed=seed)


@lru_cache(maxsize=256)
def _verdict(saying, population, count, seed):
    now = _learners(population, count, seed)
    then = following_all(saying, now)
    keeping = judged(saying).measure == KEEPING
    effect = _worse(_kept(then), _kept(now)) if keeping else _worse(now.ember, then.ember)
    kinds = _kinds(effect) if keeping else _kinds(effect, now.in_time, then.in_time)
    return CourtVerdict(
        saying=saying,
        population=population,
        now=now,
        then=then,
        effect=effect,
        kinds=kinds,
        shares={kind: _share(int(np.sum(kinds == kind)), count) for kind in OUTCOMES},
        rule=rule_for(kinds == HARMS, now),
        tries=None if keeping else _tries(_middle(now, then, effect)),
    )


def _worse(one, other):
    """Tell the other over the one; one if neither ever."""
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.where(np.isinf(one) & np.isinf(other), 1.0, other / one)


def _kinds(effect, before: np.ndarray | None = None, after: np.ndarray | None = None):
    """Name what an effect does to each; only embers in time count where these are given."""
    matters = 1 + constant("advice_matters")
    comes, goes = effect < 1 / matters, effect > matters
    if before is not None and after is not None:
        comes = after & (~before | comes)
        goes = before & (~after | goes)
    return np.where(comes, HELPS, np.where(goes, HARMS, NO_MATTER))


def _share(some, count):
    """Return a share of so many, and Wilson's margin at 1.96 standard errors."""
    share, square = some / count, 1.96**2 / count
    middle = (share + square / 2) / (1 + square)
    half = 1.96 / (1 + square) * np.sqrt((share * (1 - share) + square / 4) / count)
    return Band(float(middle - half), share, float(middle + half)).about_likely().each(float)


def _middle(now, then, effect):
    both = now.in_time & then.in_time
    if not both.any():
        return None
    return float(np.median(now.ember[both])), float(np.median(effect[both]))


def _tries(middle):
    """Tell how many tries a side show a middle effect."""
    if middle is None:
        return None
    time, ratio = middle
    try:
        return planned_tries(ratio, time=time).tries_a_side
    except InputError:  # alike, or too close for so many tries as a plan has at most
        return None


# ---- how long an ember keeps --------------------------------------------------------------------


@lru_cache(maxsize=8)
def _keeps(ground) -> Mapping[str, Lasting]:
    return lastings(ground=ground)


def _kept(learners):
    """Tell how long an ordinary ember keeps, by what it lies on."""
    return np.array(
        [
            _keeps(under)[on].alone.likely
            for on, under in zip(learners.lies_on, learners.ground, strict=True)
        ]
    )


# ---- all populations, and one learner -----------------------------------------------------------


@dataclass(frozen=True, eq=False, kw_only=True)
class Ruling:
    """What all populations say of a saying.

    Attributes
    ----------
    saying : str
        Its key.
    verdicts : mapping of str to CourtVerdict
        By population; none, where our model cannot judge it.
    """

    saying: str
    verdicts: Mapping[str, CourtVerdict]

    @property
    def says(self) -> str:
        """Say helps, no matter or harms where all agree; else it depends, or we cannot tell."""
        found = {one.says for one in self.verdicts.values()}
        if not found:
            return UNTOLD
        return found.pop() if len(found) == 1 else DEPENDS


def ruling(saying: str, *, count: int = 2000, seed: int = 0) -> Ruling:
    """Try a saying on all populations.

    Parameters
    ----------
    saying : str
        A key of :func:`fireheat.coach.sayings.sayings`.
    count, seed : int, optional
        As in :func:`verdict`.

    Returns
    -------
    Ruling
        Verdicts, and what they say together.

    Raises
    ------
    InputError
        If there is no such saying, or a number is not a whole one.

    Examples
    --------
    >>> ruling("wider_notch").says
    'our model cannot tell'
    """
    row = sayings()[choose("saying", saying, sayings())]
    places = populations() if row.change is not None else ()
    return Ruling(
        saying=saying,
        verdicts={key: verdict(saying, key, count=count, seed=seed) for key in places},
    )


def for_learner(saying: str, learner: Learner, *, draws: int = 256) -> Band:
    """Draw by which factor the ember of one learner is later once they follow a saying.

    Parameters
    ----------
    saying : str
        A key of :func:`fireheat.coach.sayings.sayings`.
    learner : Learner
        As they are now.
    draws : int, optional
        How many.

    Returns
    -------
    Band of float
        As :func:`fireheat.spread.compare`, with the same wood and luck on both sides; of a cord
        that slips, as of an ember that never comes. [1]

    Raises
    ------
    InputError
        As :func:`fireheat.coach.sayings.following`, or if the saying is about where an ember lies.

    References
    ----------
    .. [1] As :func:`fireheat.spread.compare`.

    Examples
    --------
    >>> [round(number, 2) for number in for_learner("drier_wood", Learner())]
    [0.88, 0.91, 0.92]
    """
    if judged(saying).measure == KEEPING:
        raise InputError(f"saying is {saying!r}; allowed: one about the time of an ember")
    then = following(saying, learner)
    slips = [_slips(one) for one in (learner, then)]
    if any(slips):
        ratio = 1.0 if all(slips) else 0.0 if slips[0] else np.inf
        return Band(ratio, ratio, ratio)
    return compare(learner.state, then.state, measured=learner.measured, draws=draws)


def _slips(learner):
    return learner.slip_pull is not None and learner.pull > learner.slip_pull
