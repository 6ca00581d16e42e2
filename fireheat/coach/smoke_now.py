"""From the moment of first smoke on: when the ember may come, what to say, and what not.

The time of first smoke is a gauge. A draw of all we do not know (:mod:`fireheat.spread`) counts
more, the nearer its smoke comes to the smoke that was seen; a draw whose ember would be there by
now does not count any more. Two things are known less well than draws say: wisps come and go
(``smoke_seen``), and real smoke comes a little sooner than the march has it (``smoke_sooner``).
What happens after smoke, a slip or a draught, has a luck of its own.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType
from typing import Any

import numpy as np
from scipy import special

from ..bands import Band
from ..constants import constant, constant_band
from ..data import table
from ..quantities import InputError, check_ordinary
from ..spread import GAUGES, drawn_case, even_shares, settable
from ..unknowns import unknown
from .learner import Learner
from .pace import pace

_DRAWS = 2000
_SHARES = (0.05, 0.5, 0.95)
_NINE_OF_TEN = float(special.ndtri(0.95))  # standard deviations, either way
_LATE, _ODD = 0.9, 0.02  # shares of cases: that had an ember by now; smoke so soon or late
_SOON = 10.0  # before the window: too early to wait for it. [s]
AFTER_SMOKE: Mapping[str, Any] = MappingProxyType(
    {"draws": _DRAWS, "shares": _SHARES, "late": _LATE, "odd": _ODD, "soon": _SOON}
)
"""How draws are weighed after smoke, for a copy in another language."""


@dataclass(frozen=True)
class AfterSmoke:
    """What a coach needs in the minute after first smoke.

    Attributes
    ----------
    window : Band of float
        When the ember comes, from the first stroke on: nine of ten; infinite means never. [s]
    left : Band of float
        The same from now on. [s]
    never : float
        Share of cases in which it never comes. [1]
    gone : float
        Share of cases that had an ember by now, and are ruled out since there is none. [1]
    strange : bool
        Whether smoke at that time is out of the ordinary for what is set of this learner; what was
        not measured then counts as guessed.
    strokes_per_minute : float
        The beat to hold. [1/min]
    say, not_say : str
        One thing to say, and one not to say.
    """

    window: Band
    left: Band
    never: float
    gone: float
    strange: bool
    strokes_per_minute: float
    say: str
    not_say: str

    @property
    def overdue(self) -> bool:
        """Whether all but a few such tries had an ember by now."""
        return self.gone > _LATE

    @property
    def hopeless(self) -> bool:
        """Whether it is time to stop: overdue, or most likely never."""
        return self.overdue or self.never > 1 / 2


def after_smoke(learner: Learner, *, smoke_time: float, elapsed: float) -> AfterSmoke:
    """Tell when the ember may come, now that it smokes and there is none yet.

    Parameters
    ----------
    learner : Learner
        The learner.
    smoke_time : float
        When first steady smoke was seen. [s]
    elapsed : float
        How long the learner has been bowing by now, without an ember. [s]

    Returns
    -------
    AfterSmoke
        The window, and what to do and say in it.

    Raises
    ------
    InputError
        If that is no learner, or it smokes only later than now.

    References
    ----------
    .. [1] Weighting draws by their likelihood, as a club's tries weigh them: Smith & Gelfand,
       Bayesian statistics without tears, The American Statistician 46 (1992) 84. (from memory)

    Examples
    --------
    >>> found = after_smoke(Learner(), smoke_time=13.0, elapsed=20.0)
    >>> [round(time) for time in found.window]
    [42, 64, 106]
    """
    if not isinstance(learner, Learner):
        raise InputError(f"learner is {learner!r}; allowed: Learner(...)")
    check_ordinary(smoke_time=smoke_time, elapsed=elapsed)
    smoke_time, elapsed = float(smoke_time), float(elapsed)
    if elapsed < smoke_time:
        raise InputError(
            f"elapsed is {elapsed:g} s; allowed: from first smoke, {smoke_time:g} s, on"
        )
    bowing = learner.within_arm()
    smoke, ember = _foretold(bowing, ())
    strange = _strange(smoke, smoke_time)
    if strange:  # what was set, and not measured, is then no more than a guess
        smoke, ember = _foretold(bowing, _guesses(bowing))
    weights = _weights(smoke, smoke_time)
    open_yet = weights * (ember > elapsed)
    gone = float(weights[ember <= elapsed].sum())
    window = _window(ember, open_yet)
    never = float(open_yet[np.isinf(ember)].sum() / open_yet.sum()) if open_yet.any() else 1.0
    found = AfterSmoke(
        window=window,
        left=window.each(lambda time: time - elapsed),
        never=never,
        gone=gone,
        strange=strange,
        strokes_per_minute=bowing.strokes_per_minute,
        say="",
        not_say="",
    )
    speed, kind = _to_do(bowing, found, elapsed)
    words, strokes = table("moves")["smoke_now"][kind], bowing.strokes_at(speed)
    return replace(found, strokes_per_minute=strokes, **words)


@lru_cache(maxsize=8)
def _foretold(learner, guessed):
    """Draw smoke and ember of one learner; a clock asks for the same again and again."""
    known = {"guessed": guessed, "measured": learner.measured}
    shares = even_shares(_DRAWS)
    smoke, ember = drawn_case(learner.state, shares, **known).quick()
    # How depths go with diameters is not asked here, so its draws are free for the luck to come.
    luck = unknown("luck").at(shares["depth_exponent"])
    with np.errstate(invalid="ignore"):  # where there is neither
        later = smoke + (ember - smoke) * luck
    return smoke, np.where(np.isinf(ember), np.inf, later)


def _guesses(learner):
    """Name what is set of a learner, and was measured neither itself nor by a gauge."""
    told = set(learner.measured)
    for gauge in told & set(GAUGES):
        told |= {"friction", *GAUGES[gauge]}
    return tuple(key for key in settable(learner.state) if key not in told)


_beat = lru_cache(maxsize=8)(pace)


def _off(smoke, seen):
    """Tell how many standard deviations the smoke that was seen lies after that of each draw."""
    sooner = constant_band("smoke_sooner")
    doubt = np.log(sooner.high / sooner.low) / 2, np.log1p(constant("smoke_seen"))
    with np.errstate(divide="ignore"):
        return np.log(seen / (smoke * sooner.likely)) / (np.hypot(*doubt) / _NINE_OF_TEN)


def _weights(smoke, seen):
    """Return how much each draw counts, by its own time of first smoke; all in all one."""
    told = -0.5 * _off(smoke, seen) ** 2
    if not np.isfinite(told).any():  # none ever smokes, and yet it did: none knows better
        told = np.zeros_like(told)
    weights = np.exp(told - told.max())
    return weights / weights.sum()


def _strange(smoke, seen):
    """Tell whether few draws smoke so soon, or so late, as a person sees it."""
    below = float(np.mean(special.ndtr(_off(smoke, seen))))
    return min(below, 1 - below) < _ODD / 2


def _window(ember, weights):
    if not weights.any():
        return Band(np.inf, np.inf, np.inf)
    order = np.argsort(ember)
    rising = np.cumsum(weights[order]) / weights.sum()
    places = np.minimum(np.searchsorted(rising, _SHARES), len(order) - 1)
    return Band(*(float(ember[order[place]]) for place in places))


def _to_do(learner, found, elapsed):
    """Return the speed to hold, and which words fit."""
    speed, window = learner.state.effort.speed, found.window
    if found.hopeless:
        return speed, "late"
    if min(learner.hold, constant("longest_bowing")) < window.likely:
        return _steadied(speed, _beat(learner))
    if window.low - elapsed > _SOON:
        return speed, "early"
    return speed, "limit" if learner.at_limit else "soon"


def _steadied(speed, beat):
    """Return a beat that the arm lasts through, if there is another one that it would."""
    if beat.speed is None or beat.holds(speed):
        return speed, "tired"
    return beat.speed, "spent" if speed > beat.speed else "quicker"
