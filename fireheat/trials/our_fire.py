r"""Our fire: what a club's own tries tell of all that nobody knew.

Some thousand draws of all we do not know (:mod:`fireheat.trials.foretold`) each foretell every try
of the evening. A draw that foretold them well counts more, by its likelihood

.. math:: w \propto \prod_{embers} \frac{1}{\sigma} \varphi(z) \prod_{given\ up} \Phi(-z),
   \qquad z = \frac{\ln t - \ln \hat t}{\sigma}

and the band of the next try is that of the weighted draws. How far tries lie apart is drawn, too.
Depths worn, grams of dust and first smoke weigh the draws in the same way, where they were read.
Draws that were never true do not tell: so the evening is first held against evenings that the
draws themselves would have made, and what is out of the ordinary is announced.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from scipy import special, stats

from ..bands import Band
from ..kit.kit import Try
from ..quantities import InputError, check_whole
from .columns import TimedTry
from .foretold import LATEST, VARIED, Fires, dust_key, error_of, fires

DRAWS = 4000
_SEED = 16
_LEVEL, _SLOPES = 0.02, 0.02  # false alarms, of the level and of all settings together
_APART = 0.1  # ln of settings that are not alike
_DUST = ("burn_in_depth", "dust_mass")
_SHARES = np.array([0.05, 0.5, 0.95])
_HALVINGS = 34  # of two hours' logarithm: to some parts in a thousand million
_TENTHS = 500  # draws that tell a tenth of all fires
_MORE = 8  # times as many, of which dust picks
_STEADY = 2  # a prime that no row of the draws has
_COUNTS = 1e-6  # of the heaviest draw: what weighs less moves no end


@dataclass(frozen=True, eq=False)
class OurFire:
    """All we do not know, as it is left after some tries.

    Attributes
    ----------
    fires : Fires
        The fires that the handbook holds possible.
    tries : tuple of TimedTry
        The tries.
    weights : ndarray
        How much each draw counts; their sum is one. [1]
    strange : dict of str to float
        What about the evening is out of the ordinary, ``"level"`` or a setting: how probable an
        evening so strange is, if the draws are right. [1]
    slower_than : float
        Which share of the handbook's fires ours is slower than: the place of its level among the
        draws, by an even chance. [1]
    """

    fires: Fires
    tries: tuple[TimedTry, ...]
    weights: np.ndarray
    strange: dict[str, float]
    slower_than: float

    def band(self, state: Try) -> Band:
        """Tell the band of the next try's time, luck included, after these tries.

        Parameters
        ----------
        state : Try
            The next try. Where the tries tell how much dust an ember takes, that is theirs.

        Returns
        -------
        Band of float
            From 5 % to 95 %, and the middle. [s]

        Examples
        --------
        >>> fire = our_fire([TimedTry(time=60.0, ended="ember")] * 4)
        >>> handbook = our_fire([])
        >>> ends, wide = fire.band(Try()), handbook.band(Try())
        >>> ends.high / ends.low < 0.6 * wide.high / wide.low
        True
        """
        fires, weights = self._counting
        foretold = fires.foretold(self.theirs(state)).ember
        foretold = np.where(foretold < LATEST, foretold, np.inf)[:, None]
        scatter, wanted = fires.scatter[:, None], _SHARES * weights.sum()
        low, high = np.full(3, -LATEST), np.full(3, 2 * LATEST)
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            sooner = weights @ special.ndtr((middle - foretold) / scatter) < wanted
            low, high = np.where(sooner, middle, low), np.where(sooner, high, middle)
        return Band(*(float(np.exp(end)) if end < LATEST else np.inf for end in high))

    def worth(self, candidates: Sequence[Try], *, of: Try) -> list[float]:
        r"""Tell by how much of its variance one try more, of each kind, would narrow a time.

        .. math:: \frac{\mathrm{cov}^2(\ln \hat t_{try}, \ln \hat t_{of})}
           {(\mathrm{var} \ln \hat t_{try} + \sigma^2) \, \mathrm{var} \ln \hat t_{of}}

        Parameters
        ----------
        candidates : sequence of Try
            Tries that could be next.
        of : Try
            What one would like to know.

        Returns
        -------
        list of float
            For each, from none to one. [1]

        Examples
        --------
        >>> thin, thick = (Try().changed(diameter=d) for d in (0.011, 0.018))
        >>> other, same = our_fire([]).worth([thick, thin], of=thin)
        >>> same > other
        True
        """
        fires, weights = self._counting
        weights = weights / weights.sum()
        scatter = weights @ fires.scatter**2

        def off(state):
            foretold = fires.foretold(self.theirs(state)).ember
            return foretold - weights @ foretold

        found, wanted = [], off(of)
        for one in map(off, candidates):
            both, own = weights @ (one * wanted), weights @ one**2
            found.append(float(both**2 / ((own + scatter) * (weights @ wanted**2))))
        return found

    def picked(self, count: int) -> "OurFire":
        """Pick few draws that stand for all, each counting alike.

        Their numbers are in ``fires.numbers``: from those a copy in another language remakes them.

        Parameters
        ----------
        count : int
            How many. A draw of much weight comes several times.

        Returns
        -------
        OurFire
            The same tries, and bands by these draws alone. They are picked evenly by weight, from
            the quickest of ordinary fires to the slowest.

        Raises
        ------
        InputError
            If that is no whole number from 1 on.

        Examples
        --------
        >>> fire = our_fire([TimedTry(time=60.0, ended="ember")] * 4)
        >>> few = fire.picked(100)
        >>> few.fires.numbers.dtype.kind, len(few.fires.numbers)
        ('i', 100)
        >>> [round(one / other, 1) for one, other in zip(few.band(Try()), fire.band(Try()))]
        [1.0, 1.0, 1.0]
        """
        count = check_whole("count", count, least=1)
        order = np.argsort(self.fires.foretold(self.fires.start).ember, kind="stable")
        chosen = order[_picked(self.weights[order], count)]
        return replace(self, fires=self.fires.of(chosen), weights=np.full(count, 1 / count))

    @cached_property
    def _counting(self):
        """The draws that count, and their weights."""
        counts = self.weights > _COUNTS * self.weights.max()
        return self.fires.of(counts), self.weights[counts]

    def theirs(self, state: Try) -> Try:
        """Put into a try how much dust an ember takes, where these tries tell.

        Parameters
        ----------
        state : Try
            The try.

        Returns
        -------
        Try
            With the dust of the start, from which draws go off; or as it was.

        Examples
        --------
        >>> deep = Try().changed(burn_in_depth=0.006)
        >>> told = our_fire([TimedTry(time=60.0, ended="ember", burn_in_depth=0.003)])
        >>> [fire.theirs(deep).value("burn_in_depth") for fire in (our_fire([]), told)]
        [0.006, 0.004]
        """
        if not _dusty(self.tries):
            return state
        key, start = dust_key(self.fires.start), self.fires.start
        return state.changed(**{key: start.value(key)})


def our_fire(
    tries: Sequence[TimedTry],
    *,
    start: Try | None = None,
    guessed: Collection[str] = (),
    measured: Mapping[str, float | None] = {},
    draws: int = DRAWS,
) -> OurFire:
    """Let tries tell which draws of all we do not know foretold them.

    Parameters
    ----------
    tries : sequence of TimedTry
        The tries; none, and all draws count alike, as in the handbook.
    start : Try, optional
        What nobody wrote down of a try; an ordinary one if left out.
    guessed, measured : optional
        As in :func:`fireheat.spread.spread`. Where tries tell depths or grams, the dust of the
        start is a guess, unless it was measured.
    draws : int, optional
        How many.

    Returns
    -------
    OurFire
        The weighted draws.

    Raises
    ------
    InputError
        If something is no try, or as :func:`fireheat.spread.spread`.

    Notes
    -----
    Without a try the band is that of the handbook, :func:`fireheat.spread.spread`, to a tenth at
    the ordinary diameter: 24 to 235 s, and 25 to 247 s there. What differs from learner to learner
    is in the handbook's band already, so it is taken out of what an evening has in common. At
    other diameters it is wider, and later for thin ones. The handbook takes the depth that is set
    as true there; what carries over from one diameter to another must doubt whether the depth is
    the same, or the grams.

    The depth that was worn when a try was given up is less than an ember would have taken.

    References
    ----------
    .. [1] Weighting draws by their likelihood: Smith & Gelfand, Bayesian statistics without tears,
       The American Statistician 46 (1992) 84. (from memory)
    .. [2] Holding data against what the draws would have made: Box, J. R. Statist. Soc. A 143
       (1980) 383. (from memory)

    Examples
    --------
    >>> fire = our_fire([TimedTry(time=900.0, ended="ember")] * 6)
    >>> sorted(fire.strange), round(fire.slower_than, 2)
    (['level'], 0.99)
    """
    listed = isinstance(tries, Sequence) and all(isinstance(one, TimedTry) for one in tries)
    if not (listed and (start is None or isinstance(start, Try))):
        raise InputError(f"tries is {tries!r}, start {start!r}; allowed: TimedTry(...), and a Try")
    dust = dust_key(start or Try())
    more = (dust,) if _dusty(tries) and dust not in {*guessed, *measured} else ()
    handbook = fires(start, guessed=guessed, measured=measured, draws=draws)
    if not tries:
        return OurFire(handbook, (), np.full(draws, 1 / draws), {}, 0.5)
    states = [_state(one, handbook.start) for one in tries]
    possible = among = handbook
    if _dusty(tries):
        among = handbook.of(slice(_TENTHS))
        many = fires(start, guessed=(*guessed, *more), measured=measured, draws=_MORE * draws)
        possible = many.of(_steadily(_normed(_dust_told(tries, many)), draws))
    smoke, embers = possible.foretold_each(states)
    scatter = possible.scatter[:, None]
    times, seen = np.log([one.time for one in tries]), np.array([one.observed for one in tries])
    z = (times - embers) / scatter
    told = -0.5 * z * z - np.log(scatter)
    told[:, ~seen] = special.log_ndtr(-z[:, ~seen])
    weights = _normed(told.sum(axis=-1) + _smoke_told(tries, smoke, possible))
    ours = _middle(embers.mean(axis=-1), weights)
    theirs = among.foretold_each(states).ember.mean(axis=-1)
    place = (np.mean(theirs < ours) + np.mean(theirs <= ours)) / 2
    strange = _strange(times, seen, embers, scatter, states)
    return OurFire(possible, tuple(tries), weights, strange, float(place))


def _state(one, start):
    """Put what was written down of a try into the one that all have in common."""
    values = {key: getattr(one, key) for key in VARIED}
    return start.changed(**{key: value for key, value in values.items() if value is not None})


def _dusty(tries):
    return any(getattr(one, key) is not None for one in tries for key in _DUST)


def _normed(told):
    weights = np.exp(told - told.max())
    return weights / weights.sum()


def _dust_told(tries, possible):
    """Hold what was read of the dust against each draw.

    A worn end is as hard to measure on each try: the error of a reading is the same for all, and
    luck is each one's own. What was worn when a try was given up is less than an ember would take.
    """
    told, own = 0.0, error_of("luck")
    for number, key in enumerate(_DUST):
        same, count, total = error_of(key), 0, 0.0
        for one in tries:
            if (read := getattr(one, key)) is None:
                continue
            off = np.log(read) - possible.worn(one.diameter)[number]
            if one.observed:
                count, total, told = count + 1, total + off, told - 0.5 * (off / own) ** 2
            else:
                told = told + special.log_ndtr(-off / np.hypot(own, same))
        told = told + 0.5 * (same * total / own) ** 2 / (own**2 + count * same**2)
    return told


def _picked(weights, count):
    """Pick so many draws by number, each as often as its weight asks, evenly."""
    places = np.searchsorted(np.cumsum(weights), (np.arange(count) + 0.5) / count)
    return np.minimum(places, len(weights) - 1)


def _steadily(weights, count):
    """Pick about so many draws, each as often as its weight asks; most again after a try more.

    Each rounds up or down at an even place of its own, which stays.
    """
    places = np.arange(len(weights)) * np.sqrt(_STEADY) % 1
    return np.repeat(np.arange(len(weights)), np.floor(count * weights + places).astype(int))


def _smoke_told(tries, smoke, possible):
    """Hold the first smoke of tries that were given up against each draw.

    Smoke goes with the square of the watts, an ember with little more than their first power: so
    what a learner does to the ember, smoke has up to twice. Where an ember came, its own time says
    more, and how the two belong together is then least known of all.
    """
    told = np.zeros(len(possible.scatter))
    apart = error_of("smoke_time") ** 2 + error_of("luck") ** 2 + (2 * possible.learners) ** 2
    for one, each in zip(tries, smoke.T, strict=True):
        if one.smoke_time is not None and not one.observed:
            off = np.log(one.smoke_time) - each
            told -= 0.5 * (off * off / apart + np.log(apart))
    return told


def _middle(values, weights):
    """Tell below which value half of the weight lies."""
    ordered = np.argsort(values)
    rising = np.cumsum(weights[ordered])
    return values[ordered][np.searchsorted(rising, 0.5 * rising[-1])]


def _strange(times, seen, foretold, scatter, states):
    """Hold the evening against those that the draws would have made."""
    patience = np.where(seen, np.max(times, where=~seen, initial=-np.inf), times)
    patience = np.where(np.isinf(patience), np.inf, np.maximum(patience, times))
    luck = np.random.default_rng(_SEED).standard_normal(foretold.shape)
    made = np.minimum(foretold + scatter * luck, patience)
    names, columns = ["level"], [np.ones(len(times))]
    for key in VARIED:
        column = np.log([max(state.value(key), 1e-3) for state in states])
        if np.ptp(column) > _APART:
            names.append(key)
            columns.append(column - column.mean())
    # Each time as a place among those made, so that settings with a long tail weigh no more.
    ranks = stats.rankdata(np.vstack([times, made]), axis=0)
    scores = special.ndtri((ranks - 0.5) / len(ranks))
    ours, *theirs = scores @ np.linalg.pinv(np.stack(columns, axis=-1)).T
    below = (1 + np.sum(theirs < ours, axis=0)) / (2 + len(theirs))
    chances = 2 * np.minimum(below, 1 - below)
    allowed = np.array([_LEVEL, *[_SLOPES / max(len(names) - 1, 1)] * (len(names) - 1)])
    return {
        name: float(chance)
        for name, chance, most in zip(names, chances, allowed, strict=True)
        if chance < most
    }
