r"""Our fire: what a club's own tries tell of all that nobody knew.

Some thousand draws of all we do not know (:mod:`fireheat.spread`) each foretell every try of the
evening. A draw that foretold them well counts more, by its likelihood

.. math:: w \propto \prod_{embers} \frac{1}{\sigma} \varphi(z) \prod_{given\ up} \Phi(-z),
   \qquad z = \frac{\ln t - \ln \hat t}{\sigma}

and the band of the next try is that of the weighted draws. How far tries lie apart is drawn, too.
Draws that were never true do not tell: so the evening is first held against evenings that the
draws themselves would have made, and what is out of the ordinary is announced.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from scipy import special, stats

from ..bands import Band
from ..constants import constant_band
from ..kit.kit import Try
from ..quantities import InputError, check_whole
from ..spread import FEWEST_DRAWS, drawn_case, even_shares
from .columns import TimedTry

DRAWS = 4000
_LATEST = np.log(7200.0)  # a time that is never, where a logarithm is asked for
_SEED = 15
_LUCKS = special.ndtri((np.arange(9) + 0.5) / 9)  # the middle of each ninth
_LEVEL, _SLOPES = 0.03, 0.02  # false alarms, of the level and of all settings together
_APART = 0.1  # ln of settings that are not alike
_SETTINGS = ("diameter", "force", "speed", "moisture")


@dataclass(frozen=True, eq=False)
class OurFire:
    """All we do not know, as it is left after some tries.

    Attributes
    ----------
    start : Try
        What all tries have in common.
    tries : tuple of TimedTry
        The tries.
    weights : array
        How much each draw counts; their sum is one.
    strange : dict of str to float
        What about the evening is out of the ordinary, ``"level"`` or a setting: how probable an
        evening so strange is, if the draws are right. [1]
    known : dict
        What is guessed and measured, as in :func:`fireheat.spread.spread`.
    """

    start: Try
    tries: tuple[TimedTry, ...]
    weights: np.ndarray
    strange: dict[str, float]
    known: dict[str, Any]

    def band(self, state: Try) -> Band:
        """Tell the band of the next try's time, luck included, after these tries.

        Parameters
        ----------
        state : Try
            The next try.

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
        foretold = _foretold(state, len(self.weights), self.known)
        times = foretold[:, None] + _scatters(len(self.weights))[:, None] * _LUCKS
        ordered = np.argsort(times, axis=None)
        rising = np.cumsum(np.repeat(self.weights, len(_LUCKS))[ordered]) / self.weights.sum()
        places = [np.searchsorted(rising, share * len(_LUCKS)) for share in (0.05, 0.5, 0.95)]
        ends = [float(times.ravel()[ordered[min(p, times.size - 1)]]) for p in places]
        return Band(*(float(np.exp(end)) if end < _LATEST else np.inf for end in ends))

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
        wanted = self._off(of)
        scatter = self.weights @ _scatters(len(self.weights)) ** 2
        found = []
        for candidate in candidates:
            off = self._off(candidate)
            both, own = self.weights @ (off * wanted), self.weights @ off**2
            found.append(float(both**2 / ((own + scatter) * (self.weights @ wanted**2))))
        return found

    def _off(self, state):
        """Tell how far each draw's ln time lies off the middle of all."""
        foretold = _foretold(state, len(self.weights), self.known)
        return foretold - self.weights @ foretold


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
        As in :func:`fireheat.spread.spread`.
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

    References
    ----------
    .. [1] Weighting draws by their likelihood: Smith & Gelfand, Bayesian statistics without tears,
       The American Statistician 46 (1992) 84. (from memory)
    .. [2] Holding data against what the draws would have made: Box, J. R. Statist. Soc. A 143
       (1980) 383. (from memory)

    Examples
    --------
    >>> fire = our_fire([TimedTry(time=900.0, ended="ember")] * 6)
    >>> sorted(fire.strange)
    ['level']
    """
    start = Try() if start is None else start
    listed = isinstance(tries, Sequence) and all(isinstance(one, TimedTry) for one in tries)
    if not (listed and isinstance(start, Try)):
        raise InputError(f"tries is {tries!r}, start {start!r}; allowed: TimedTry(...), and a Try")
    draws = check_whole("draws", draws, least=FEWEST_DRAWS)
    drawn_case(start, even_shares(1), guessed=guessed, measured=measured)  # or say what is wrong
    known = {"guessed": tuple(guessed), "measured": dict(measured)}
    if not tries:
        count = len(_foretold(start, draws, known))
        return OurFire(start, (), np.full(count, 1 / count), {}, known)
    states = [_state(one, start) for one in tries]
    distinct = {state: _foretold(state, draws, known) for state in dict.fromkeys(states)}
    foretold = np.stack([distinct[state] for state in states], axis=-1)
    times, seen = np.log([one.time for one in tries]), np.array([one.observed for one in tries])
    scatter = _scatters(draws)[:, None]
    z = (times - foretold) / scatter
    told = np.where(seen, -0.5 * z * z - np.log(scatter), special.log_ndtr(-z)).sum(axis=-1)
    weights = np.exp(told - told.max())
    strange = _strange(times, seen, foretold, scatter, states)
    return OurFire(start, tuple(tries), weights / weights.sum(), strange, known)


def _state(one, start):
    """Put what was written down of a try into the one that all have in common."""
    values = {key: getattr(one, key) for key in _SETTINGS}
    return start.changed(**{key: value for key, value in values.items() if value is not None})


def _foretold(state, draws, known):
    return _foretold_by(state, draws, known["guessed"], tuple(known["measured"].items()))


@lru_cache(maxsize=64)  # an evening has a few settings, and each further try asks for all of them
def _foretold_by(state, draws, guessed, measured):
    """Tell ln time of the ember in each draw, before luck."""
    known = {"guessed": guessed, "measured": dict(measured)}
    shares = even_shares(draws)
    shares["luck"] = np.full(draws, 0.5)
    ember = drawn_case(state, shares, **known, depth_in_doubt=True).quick()[1]
    with np.errstate(divide="ignore"):
        foretold = np.minimum(np.log(ember), _LATEST)
    foretold.flags.writeable = False
    return foretold


def _scatters(draws):
    """Draw how far tries lie apart, whatever else is drawn."""
    ends = constant_band("try_scatter")
    place = np.random.default_rng(_SEED).standard_normal(draws) / special.ndtri(0.95)
    reach = np.where(place < 0, ends.likely / ends.low, ends.high / ends.likely)
    return ends.likely * reach**place


def _strange(times, seen, foretold, scatter, states):
    """Hold the evening against those that the draws would have made."""
    patience = np.where(seen, np.max(times, where=~seen, initial=-np.inf), times)
    patience = np.where(np.isinf(patience), np.inf, np.maximum(patience, times))
    luck = np.random.default_rng(_SEED + 1).standard_normal(foretold.shape)
    made = np.minimum(foretold + scatter * luck, patience)
    names, columns = ["level"], [np.ones(len(times))]
    for key in _SETTINGS:
        column = np.log([max(state.value(key), 1e-3) for state in states])
        if np.ptp(column) > _APART:
            names.append(key)
            columns.append(column - column.mean())
    # Each time as a place among those made, so that settings with a long tail weigh no more.
    ranks = stats.rankdata(np.vstack([times, made]), axis=0)
    scores = special.ndtri((ranks - 0.5) / len(ranks))
    features = scores @ np.linalg.pinv(np.stack(columns, axis=-1)).T
    below = stats.rankdata(features, axis=0)[0] / (len(features) + 1)
    chances = 2 * np.minimum(below, 1 - below)
    allowed = np.array([_LEVEL, *[_SLOPES / max(len(names) - 1, 1)] * (len(names) - 1)])
    return {
        name: float(chance)
        for name, chance, most in zip(names, chances, allowed, strict=True)
        if chance < most
    }
