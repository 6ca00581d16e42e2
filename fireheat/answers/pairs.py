"""Two tries in the same worlds: why a change is known better than a time."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ..bands import Band
from ..estimates import times
from ..kit.kit import Try
from ..quantities import check_whole, choose
from ..spread import FEWEST_DRAWS, Spread, compare, pairs, spread

# What changes: words, the quantity, and how many times what it was it becomes.
CHANGES: Mapping[str, tuple[str, str, float]] = {
    "thinner": ("half as thick", "diameter", 0.5),
    "harder": ("pressed a third harder", "force", 4 / 3),
    "faster": ("bowed a third faster", "speed", 4 / 3),
    "drier": ("half as moist", "moisture", 0.5),
}


@dataclass(frozen=True)
class Pairs:
    """One change, in many worlds.

    Attributes
    ----------
    change : str
        What changes, in words.
    one, other : Spread
        Bands of the try as it is, and changed.
    before, after : ndarray, shape (n,)
        Embers of both in so many worlds, pair by pair, luck left out. [s]
    ratio : Band of float
        Time of the other over that of the one, with the same unknowns in both. [1]
    apart : Band of float
        All ratios that the two bands alone allow, from one's end to the other's. [1]
    """

    change: str
    one: Spread
    other: Spread
    before: np.ndarray
    after: np.ndarray
    ratio: Band
    apart: Band


def paired(
    state: Try, *, change: str, worlds: int = 24, measured: Mapping[str, float | None] = {}
) -> Pairs:
    """Draw one change in many worlds.

    Parameters
    ----------
    state : Try
        The try as it is.
    change : str
        A key of ``CHANGES``.
    worlds : int, optional
        How many pairs to show.
    measured : mapping, optional
        How well what is set was measured, as :func:`fireheat.spread.spread` takes it.

    Returns
    -------
    Pairs
        Bands of both times, pairs, and the band of their ratio.

    Raises
    ------
    InputError
        If there is no such change, or the worlds are no whole number or too few to draw.

    Examples
    --------
    >>> found = paired(Try(), change="harder")
    >>> found.ratio.high / found.ratio.low < found.apart.high / found.apart.low
    True
    """
    choose("change", change, CHANGES)
    worlds = check_whole("worlds", worlds, least=FEWEST_DRAWS)
    words, key, factor = CHANGES[change]
    other = state.changed(**{key: factor * state.value(key)})
    found = times(state), times(other)
    one, two = (
        spread(each, measured=measured, found=its)
        for each, its in zip((state, other), found, strict=True)
    )
    before, after = pairs(state, other, measured=measured, draws=worlds)
    # of another diameter the likely ratio is marched at other depths
    known = None if key == "diameter" else found
    ratio = compare(state, other, measured=measured, found=known)
    low, high = (_apart(one.all[2 - end], two.all[end]) for end in (0, 2))
    return Pairs(
        change=words,
        one=one,
        other=two,
        before=before,
        after=after,
        ratio=ratio,
        apart=Band(low, ratio.likely, high).about_likely().each(float),
    )


def _apart(one, other):
    """Tell the other time over the one; neither with an ember is the same, as in the ratio."""
    return 1.0 if one == other == np.inf else other / one
