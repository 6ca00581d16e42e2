r"""How many tries tell a difference from luck, and in which order to make them.

Two sides, such as a thick and a thin spindle, are tried equally often. Exemplary tries, one at the
middle of each of 200 equal shares of all, tell by how much the log-likelihood of an evening falls
where the sides are taken for alike. As for an ordinary regression that is a distance of the
middles in standard errors, of which Student's t tells the chance to see it. Where one side has
hardly an ember, the chance that there are embers enough for a fit counts, too.
"""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from scipy import special, stats

from ..quantities import InputError, check_ordinary, check_whole, default
from .evenings import invented_evenings
from .likelihood import FEWEST_FREE, Sets, carries, coefficient_ends, tops

MOST_A_SIDE = 200  # more tries no club makes of one question
_PIECES = 200


@dataclass(frozen=True, kw_only=True)
class Plan:
    """Tries for one question.

    Attributes
    ----------
    tries_a_side : int
        How many on each side.
    chance : float
        Chance that so many tell the two sides apart. [1]
    embers : tuple of float
        How many embers to expect on the quick and on the slow side. [1]
    """

    tries_a_side: int
    chance: float
    embers: tuple[float, float]


def plan(
    ratio: float,
    *,
    time: float,
    scatter: float = default("scatter"),
    give_up: float | None = default("give_up"),
    chance: float = default("chance"),
    level: float = default("level"),
) -> Plan:
    """Plan how many tries a side tell a ratio of times from luck.

    Parameters
    ----------
    ratio : float
        How many times as long the other side takes. [1]
    time : float
        Middle time of the one side. [s]
    scatter : float, optional
        Scatter of ln time. [1]
    give_up : float, optional
        Patience; None for no end. [s]
    chance : float, optional
        Chance that is asked for. [1]
    level : float, optional
        Share of the intervals that hold the truth. [1]

    Returns
    -------
    Plan
        The fewest tries with that chance.

    Raises
    ------
    InputError
        If a number cannot be, both sides are alike, or it would take more than 200 tries a side.

    References
    ----------
    .. [1] Cohen, Statistical Power Analysis for the Behavioral Sciences, 2nd ed., 1988, chapter 2.
       (from memory)

    Examples
    --------
    Twice as long, from half a minute; and only a quarter longer:

    >>> plan(2.0, time=30.0).tries_a_side, plan(1.25, time=30.0).tries_a_side
    (6, 40)
    """
    check_ordinary(chance=chance)
    ratio, time, scatter, level = _checked(ratio, time, scatter, give_up, level)
    told = _exemplary(ratio, time, scatter, give_up)
    if _chance(told, MOST_A_SIDE, level) >= chance:
        possible = range(2, MOST_A_SIDE + 1)  # more tries never tell less
        tries = possible[bisect_left(possible, chance, key=lambda n: _chance(told, n, level))]
        return Plan(
            tries_a_side=tries,
            chance=_chance(told, tries, level),
            embers=(float(tries * told.embers.max()), float(tries * told.embers.min())),
        )
    raise InputError(
        f"ratio of times is {ratio:g}, time {time:g} s, patience {give_up} s, scatter {scatter:g},"
        f" level {level:g} and chance {chance:g}; allowed: what {MOST_A_SIDE} tries a side can tell"
        " from luck. Try settings farther apart, or wait longer before you give up."
    )


def chance_to_tell(
    ratio: float,
    *,
    tries_a_side: int,
    time: float,
    scatter: float = default("scatter"),
    give_up: float | None = default("give_up"),
    level: float = default("level"),
) -> float:
    """Tell the chance that so many tries a side tell a ratio of times from luck, by formula.

    Parameters
    ----------
    ratio : float
        How many times as long the other side takes. [1]
    tries_a_side : int
        How many.
    time : float
        Middle time of the one side. [s]
    scatter : float, optional
        Scatter of ln time. [1]
    give_up : float, optional
        Patience; None for no end. [s]
    level : float, optional
        Share of the intervals that hold the truth. [1]

    Returns
    -------
    float
        Chance. [1]

    Raises
    ------
    InputError
        If a number cannot be, or both sides are alike.

    References
    ----------
    .. [1] Power from exemplary data: O'Brien & Muller, in Edwards (ed.), Applied Analysis of
       Variance in Behavioral Science, 1993, chapter 8. (from memory)
    .. [2] :func:`simulated_chance` does the same by luck.

    Examples
    --------
    >>> round(chance_to_tell(2.0, tries_a_side=8, time=30.0), 2)
    0.96
    """
    ratio, time, scatter, level = _checked(ratio, time, scatter, give_up, level)
    tries = check_whole("tries a side", tries_a_side, least=2)
    return _chance(_exemplary(ratio, time, scatter, give_up), tries, level)


def simulated_chance(
    ratio: float,
    *,
    tries_a_side: int,
    time: float,
    count: int,
    scatter: float = default("scatter"),
    give_up: float | None = default("give_up"),
    level: float = default("level"),
    seed: int = 0,
) -> float:
    """Tell the same chance by luck: on how many invented evenings the interval leaves out one.

    Parameters
    ----------
    ratio : float
        How many times as long the other side takes. [1]
    tries_a_side : int
        How many.
    time : float
        Middle time of the one side. [s]
    count : int
        How many evenings.
    scatter : float, optional
        Scatter of ln time. [1]
    give_up : float, optional
        Patience; None for no end. [s]
    level : float, optional
        Share of the intervals that hold the truth. [1]
    seed : int, optional
        Of luck.

    Returns
    -------
    float
        Chance; an evening whose tries carry no fit tells nothing. [1]

    Raises
    ------
    InputError
        As :func:`chance_to_tell`.

    References
    ----------
    .. [1] :func:`fireheat.trials.fit.censored_fit`.

    Examples
    --------
    >>> round(simulated_chance(2.0, tries_a_side=8, time=30.0, count=500), 2)
    0.97
    """
    ratio, time, scatter, level = _checked(ratio, time, scatter, give_up, level)
    tries = check_whole("tries a side", tries_a_side, least=2)
    evenings = invented_evenings(
        {"side": np.repeat([0.0, 1.0], tries)},
        exponents={"side": np.log(ratio)},
        time=time,
        scatter=scatter,
        give_up=give_up,
        count=count,
        seed=seed,
    )
    kept = carries(evenings)
    if not np.any(kept):
        return 0.0
    sets = evenings.picked(kept)
    ends = coefficient_ends(sets, tops(sets), level=level)[:, 1]
    told = (ends[:, 0] > 0) | (ends[:, 1] < 0)
    return float(np.sum(told) / len(kept))


def _checked(ratio, time, scatter, give_up, level):
    """Check what is planned with, and give it as floats."""
    check_ordinary(ratio=ratio, elapsed=time, scatter=scatter, level=level)
    if give_up is not None:
        check_ordinary(give_up=give_up)
    if time <= 0:
        raise InputError(f"time is {time:g} s; allowed: above 0 s")
    if ratio == 1:
        raise InputError("ratio of times is 1; allowed: another, as there is nothing to tell")
    return tuple(map(float, (ratio, time, scatter, level)))


class _Exemplary(NamedTuple):
    """What a try on each side tells: how far twice the log-likelihood falls, shares of embers."""

    fall: float
    embers: np.ndarray


def _exemplary(ratio, time, scatter, give_up):
    """Put one try at the middle of each of many shares of all, and fit them with and without."""
    luck = special.ndtri((np.arange(_PIECES) + 0.5) / _PIECES)
    luck *= scatter / np.sqrt(np.mean(luck**2))
    middles = np.log(time) + np.array([0.0, np.log(ratio)])
    end = np.inf if give_up is None else np.log(float(give_up))
    times = np.concatenate([middle + luck for middle in middles])[None]
    observed = times <= end
    share = special.ndtr((end - middles) / scatter)
    sides = observed.reshape(2, -1)
    if not np.all(np.any(sides, axis=1)):
        return _Exemplary(0.0, share)
    side = np.repeat([0.0, 1.0], _PIECES)
    columns = np.stack([np.ones_like(side), side], axis=-1)[None]
    heights = [
        tops(Sets(np.minimum(times, end), observed, causes, "lognormal")).height[0]
        for causes in (columns, columns[..., :1])
    ]
    return _Exemplary(2 * float(heights[0] - heights[1]) / _PIECES, share)


def _chance(told, tries, level):
    """Tell the chance that so many tries a side carry a fit, and its interval leaves out one."""
    seen = [stats.binom.pmf(np.arange(tries + 1), tries, share) for share in told.embers]
    both = np.outer(*seen)[1:, 1:]
    many = np.add.outer(np.arange(1, tries + 1), np.arange(1, tries + 1))
    carried = both[many >= 2 + FEWEST_FREE].sum()
    half = (tries * told.embers.sum() + 2 * tries) / 2
    if half <= 2:
        return 0.0
    off = np.sqrt(half * np.expm1(tries * told.fall / half))
    cut = stats.t.ppf((1 + level) / 2, half - 2)
    beyond = stats.nct.sf(cut, half - 2, off) + stats.nct.cdf(-cut, half - 2, off)
    return float(carried * (1.0 if np.isnan(beyond) else beyond))  # none where it is as good as one


# ---- in which order -----------------------------------------------------------------------------


@dataclass(frozen=True)
class Turn:
    """Whose turn it is, and with what.

    Attributes
    ----------
    number : int
        From one on.
    round : int
        From one on; in each round everything is tried once.
    setting : str
        What to set.
    learner : str
        Whose turn it is.
    """

    number: int
    round: int
    setting: str
    learner: str


_SHUFFLES = 30


def running_order(
    settings: Sequence[str], *, rounds: int, learners: Sequence[str] = ("L01",), seed: int = 0
) -> tuple[Turn, ...]:
    """Make an order in which neither practice nor tiredness can pass for physics.

    In each round everything is tried once, in an order by lot, so that what comes with the hour
    falls on all alike. Learners take turns, so that each meets each setting equally often, or
    nearly so; of several lots that is taken in which they rest most between turns.

    Parameters
    ----------
    settings : sequence of str
        What is compared.
    rounds : int
        How often each is tried.
    learners : sequence of str, optional
        Their codes.
    seed : int, optional
        Of the lot.

    Returns
    -------
    tuple of Turn
        The order.

    Raises
    ------
    InputError
        If there are fewer than two settings or no learner, or one is named twice.

    Examples
    --------
    >>> order = running_order(["thick", "thin"], rounds=2, learners=["L01", "L02"], seed=3)
    >>> [(turn.setting, turn.learner) for turn in order]
    [('thin', 'L02'), ('thick', 'L01'), ('thick', 'L02'), ('thin', 'L01')]
    """
    settings = _names("settings", settings, least=2)
    learners = _names("learners", learners, least=1)
    rounds = check_whole("rounds", rounds, least=1)
    dice = np.random.default_rng(check_whole("seed", seed, least=0))
    order: list[tuple[int, str, str]] = []
    for turn in range(rounds):
        pairs = [(s, learners[(i + turn) % len(learners)]) for i, s in enumerate(settings)]
        lots = [[pairs[i] for i in dice.permutation(len(pairs))] for _ in range(_SHUFFLES)]
        before = order[-1][2] if order else ""
        waits = [_twice_running(before, lot) for lot in lots]
        order += [(turn + 1, *pair) for pair in lots[waits.index(min(waits))]]
    return tuple(Turn(number, *pair) for number, pair in enumerate(order, start=1))


def _twice_running(before, lot):
    """Count turns that follow one of the same learner."""
    who = [before, *(learner for _, learner in lot)]
    return sum(one == then for one, then in pairwise(who))


def _names(name, words, least):
    """Check that words are a list of so many, each once."""
    listed = isinstance(words, Sequence) and not isinstance(words, str)
    if not (listed and all(isinstance(word, str) and word for word in words)):
        raise InputError(f"{name} is {words!r}; allowed: a list of words")
    if len(set(words)) < max(len(words), least):
        raise InputError(f"{name} is {words!r}; allowed: {least} or more, each named once")
    return list(words)
