r"""What each draw of all we do not know foretells of a try, before learners and luck differ.

The handbook's band (:func:`fireheat.spread.spread`) is of single tries by somebody. On an evening
part of what nobody knew is the same for all tries, and part differs from learner to learner. Both
parts are in that band already. So how far learners lie apart, L in ln time, is taken out of what
the evening has in common: places of a draw on the normal curve of each unknown are multiplied by

.. math:: c = \sqrt{1 - L^2 / V}

where V is the variance of ln time over all draws. Common part, learners and luck together then
spread as far as the handbook says, whatever L is.

A draw is remade anywhere from its number alone, see :func:`fireheat.spread.even_shares`: how far
tries lie apart is the row that two tries' own luck would need, and each other place on its normal
curve is multiplied by c.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np
from scipy import special

from ..constants import constant, constant_band
from ..kit.bowing import area_factor
from ..kit.kit import Try
from ..kit.wood import density
from ..quantities import InputError, check_whole, choose
from ..spread import DRAW_RULES, FEWEST_DRAWS, drawn_case, even_shares, settable
from ..unknowns import unknown

LATEST = float(np.log(7200.0))  # a time that is never, where a logarithm is asked for
_READINGS = ("burn_in_depth", "dust_mass", "smoke_time", "luck")
_END = float(special.ndtri(0.95))
_FEW = 256  # draws that tell how wide the band is
_BLOCK = 6000  # draws reckoned at once: so many stay near the processor
VARIED = ("diameter", "force", "speed", "friction", "moisture")
"""What differs from try to try of an evening."""
_FREE = DRAW_RULES["other"]  # no two tries are compared here, so its row is free
_ALIKE = ("luck", _FREE, "depth_exponent")  # no learner's: of one try, and of nature


class Foretold(NamedTuple):
    """What the draws foretell, as logarithms; a time that is never is two hours.

    Attributes
    ----------
    smoke, ember : ndarray
        Time of first smoke, and of the ember. [1]
    """

    smoke: np.ndarray
    ember: np.ndarray


@dataclass(frozen=True, eq=False)
class Fires:
    """The fires that the handbook holds possible: many draws of all we do not know.

    Attributes
    ----------
    start : Try
        What all tries have in common.
    known : dict
        What is guessed and measured, as :func:`fireheat.spread.spread` takes it.
    shares : dict of str to ndarray
        Where each draw stands in what an evening has in common, by row of the table. [1]
    scatter : ndarray
        How far tries of an evening lie apart in each draw, in ln time. [1]
    learners : ndarray
        How far learners lie apart: what luck leaves of that. [1]
    numbers : ndarray of int
        Which of :func:`fireheat.spread.even_shares` each draw is, from 0. [1]
    width : float
        Standard deviation of ln time in the handbook's band: the root of V. [1]
    whole : Fires or None
        Those of which these are some; None if these are all.
    """

    start: Try
    known: dict[str, Any]
    shares: dict[str, np.ndarray]
    scatter: np.ndarray
    learners: np.ndarray
    numbers: np.ndarray
    width: float
    whole: "Fires | None" = None

    def foretold(self, state: Try) -> Foretold:
        """Tell what each draw foretells of a try.

        Parameters
        ----------
        state : Try
            The try.

        Returns
        -------
        Foretold
            Arrays as long as there are draws.
        """
        return _foretold(self, state)

    def foretold_each(self, states: Sequence[Try]) -> Foretold:
        """Tell what each draw foretells of each try of an evening.

        What a draw once foretold is kept by its number, for all fires of which it is one. So a try
        more asks only for what is new, and that all at once.

        Parameters
        ----------
        states : sequence of Try
            The tries.

        Returns
        -------
        Foretold
            Arrays of draws by tries.
        """
        whole, numbers = self.whole or self, np.unique(self.numbers)
        kept = {state: _kept(whole, state) for state in states}
        asked: dict[Try, list] = {}
        for state, told in kept.items():
            if len(new := numbers[np.isnan(told[0, numbers])]):
                alike = state.changed(**{key: self.start.value(key) for key in VARIED})
                asked.setdefault(alike, []).append((state, new))
        for alike, some in asked.items():
            sizes = [len(new) for _, new in some]
            chosen = np.concatenate([new for _, new in some])
            swept = {
                key: np.repeat([state.value(key) for state, _ in some], sizes) for key in VARIED
            }
            found = np.split(_told(whole, alike, chosen, swept), np.cumsum(sizes)[:-1], axis=-1)
            for (state, new), each in zip(some, found, strict=True):
                kept[state][:, new] = each
        return Foretold(*np.stack([kept[state][:, self.numbers] for state in states], axis=-1))

    def worn(self, diameter: float | None = None) -> tuple[np.ndarray, np.ndarray]:
        """Tell what a ruler and a scale read of the dust of one ember, as logarithms.

        Parameters
        ----------
        diameter : float, optional
            Of the spindle; that of the start if left out. [m]

        Returns
        -------
        depth, mass : ndarray
            For each draw. [1]
        """
        depth, mass, falling = (each[self.numbers] for each in _worn(self.whole or self))
        start = self.start.kit.diameter
        wider = np.log((start if diameter is None else diameter) / start)
        return depth - falling * wider, mass + (2 - falling) * wider

    def of(self, chosen: np.ndarray | slice) -> "Fires":
        """Keep some of the draws, by number."""
        shares = {key: share[chosen] for key, share in self.shares.items()}
        own = {key: getattr(self, key)[chosen] for key in ("scatter", "learners", "numbers")}
        return replace(self, shares=shares, **own, whole=self.whole or self)

    def _case(self, state, chosen=slice(None), swept: Mapping = {}):
        shares = {key: share[chosen] for key, share in self.shares.items()}
        return drawn_case(state, shares, swept=swept, **self.known, depth_in_doubt=True)


def fires(
    start: Try | None = None,
    *,
    guessed: Collection[str] = (),
    measured: Mapping[str, float | None] = {},
    draws: int = 4000,
) -> Fires:
    """Name the fires that the handbook holds possible.

    Parameters
    ----------
    start : Try, optional
        What all tries have in common; an ordinary one if left out.
    guessed, measured : optional
        As in :func:`fireheat.spread.spread`.
    draws : int, optional
        How many.

    Returns
    -------
    Fires
        The draws.

    Raises
    ------
    InputError
        If the start is no try, or as :func:`fireheat.spread.spread`.

    References
    ----------
    .. [1] Variance within groups and between them: Gelman & Hill, Data Analysis Using Regression
       and Multilevel/Hierarchical Models, 2007, chapter 12. (from memory)

    Examples
    --------
    >>> found = fires(draws=1000)
    >>> round(float(np.exp(np.median(found.foretold(Try()).ember))))
    62
    >>> [f"{np.exp(each[0]):.5f}" for each in found.worn()]
    ['0.00400', '0.00026']
    """
    start = Try() if start is None else start
    if not isinstance(start, Try):
        raise InputError(f"start is {start!r}; allowed: a Try")
    draws = check_whole("draws", draws, least=FEWEST_DRAWS)
    drawn_case(start, even_shares(1), guessed=guessed, measured=measured)  # or say what is wrong
    return _fires(start, tuple(guessed), tuple(sorted(measured.items())), draws)


@lru_cache(maxsize=8)
def _fires(start, guessed, readings, count):
    known = {"guessed": guessed, "measured": dict(readings)}
    shares = even_shares(count) | {"luck": np.full(count, 0.5)}
    ends = constant_band("try_scatter")
    place = special.ndtri(shares[_FREE]) / _END
    scatter = (
        ends.likely * np.where(place < 0, ends.likely / ends.low, ends.high / ends.likely) ** place
    )
    learners = np.sqrt(np.maximum(scatter**2 - error_of("luck") ** 2, 0.0))
    few = {key: share[:_FEW] for key, share in shares.items()}
    wide = _width(drawn_case(start, few, **known).quick()[1])
    common = np.sqrt(np.maximum(1 - (learners / wide) ** 2, 0.0))
    for key in set(shares) - set(_ALIKE):
        shares[key] = special.ndtr(common * special.ndtri(shares[key]))
    return Fires(start, known, shares, scatter, learners, np.arange(count), wide)


def _width(ember):
    """Tell the deviation of ln time that a normal curve would have between the same ends."""
    low, high = np.quantile(ember, (0.05, 0.95), method="nearest")
    return max((min(np.log(high), LATEST) - np.log(low)) / (2 * _END), 1e-6)


@lru_cache(maxsize=32)
def _foretold(fires, state):
    told = _told(fires, state, np.arange(len(fires.scatter)), {})
    told.flags.writeable = False
    return Foretold(*told)


@lru_cache(maxsize=96)  # a few long evenings' settings: 25 MB, where dust picks 2000 draws
def _kept(fires, _state):
    """Keep smoke and ember by the number of each draw: not a number, until somebody asks."""
    return np.full((2, len(fires.scatter)), np.nan)


def _told(fires, state, chosen, swept):
    """Reckon smoke and ember for draws by number, each with its own value of what is swept."""
    told = np.empty((2, len(chosen)))
    for first in range(0, len(chosen), _BLOCK):
        block = slice(first, first + _BLOCK)
        some = {key: values[block] for key, values in swept.items()}
        told[:, block] = fires._case(state, chosen[block], some).quick()
    with np.errstate(divide="ignore"):
        return np.minimum(np.log(told), LATEST)


@lru_cache(maxsize=4)
def _worn(fires):
    """Read depth and mass of the start, and with which power of the diameter the depth falls."""
    wider = unknown("area").at(fires.shares["area"]) * area_factor(fires.start.kit.contact)
    heavy = unknown("density").at(fires.shares["density"])
    heavy = 1.0 if "density" in fires.known["measured"] else heavy
    dry = density(fires.start.kit.specific_gravity) * heavy
    twice = np.full(len(fires.scatter), 2 * fires.start.kit.diameter)
    made, doubled = (fires._case(fires.start, swept=at) for at in ({}, {"diameter": twice}))
    falling = np.log(made.depth / doubled.depth) / np.log(2)
    mass = made.depth * np.pi * made.radius**2 * dry
    return np.log(made.depth * wider), np.log(mass), falling


def error_of(reading: str) -> float:
    """Tell how far off one reading may be in a try of its own, as a deviation of its logarithm.

    Parameters
    ----------
    reading : str
        ``"burn_in_depth"``, ``"dust_mass"``, ``"smoke_time"``, or ``"luck"``: of a time itself.

    Returns
    -------
    float
        One standard deviation. [1]

    Raises
    ------
    InputError
        If there is no such reading.

    References
    ----------
    .. [1] ``data/spread.toml``, and ``smoke_seen`` of ``data/constants.toml``.

    Examples
    --------
    >>> round(error_of("luck"), 3), round(error_of("dust_mass"), 3)
    (0.136, 0.058)
    """
    choose("reading", reading, _READINGS)
    if reading == "smoke_time":
        return float(np.log1p(constant("smoke_seen")) / _END)
    row = unknown(reading)
    low, high = row.measured or row.band.ends
    return float(np.log(high / low) / (2 * _END))


def dust_key(state: Try) -> str:
    """Name how the dust of one ember is set: ``"burn_in_depth"`` or ``"dust_mass"``.

    Examples
    --------
    >>> dust_key(Try())
    'burn_in_depth'
    """
    return "dust_mass" if "dust_mass" in settable(state) else "burn_in_depth"
