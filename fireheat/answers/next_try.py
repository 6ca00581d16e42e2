"""The next try, by the handbook and by our own evenings: two bands of the same draws."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ..bands import Band
from ..kit.kit import Try
from ..quantities import InputError, default
from ..trials.columns import TimedTry
from ..trials.our_fire import OurFire, our_fire

_DRAWS = 1000
_LATEST = 7200.0  # what is later counts as never. [s]
# Tries among which the one that tells most is looked for.
_CANDIDATES = tuple((diameter, force) for diameter in (0.011, 0.016, 0.022) for force in (45, 75))


@dataclass(frozen=True)
class NextTry:
    """What to expect of a try.

    Attributes
    ----------
    handbook : Band of float
        Nine of ten tries, luck included, by all we do not know. [s]
    evenings : Band of float
        The same, after our own tries. [s]
    tries : int
        How many there were.
    strange : tuple of str
        What about our tries is out of the ordinary: ``"level"``, or a setting.
    worth : Try
        The try of which our evenings know least, and which can still end with an ember.
    """

    handbook: Band
    evenings: Band
    tries: int
    strange: tuple[str, ...]
    worth: Try


def next_try(state: Try, tries: Sequence[TimedTry]) -> NextTry:
    """Tell what to expect of a try, and which one would tell most.

    Parameters
    ----------
    state : Try
        The try.
    tries : sequence of TimedTry
        Our own tries.

    Returns
    -------
    NextTry
        Both bands.

    Raises
    ------
    InputError
        If something is no try.

    References
    ----------
    .. [1] :func:`fireheat.trials.our_fire.our_fire`.

    Examples
    --------
    >>> found = next_try(Try(), [TimedTry(time=60.0, ended="ember")] * 4)
    >>> found.evenings.high < found.handbook.high
    True
    """
    if not isinstance(state, Try) or not isinstance(tries, Sequence):
        raise InputError(f"state is {state!r}, tries {tries!r}; allowed: a Try, a list of tries")
    fire, worth = _fire(tuple(tries))
    return NextTry(
        handbook=_fire(())[0].band(state),
        evenings=fire.band(state),
        tries=len(tries),
        strange=tuple(fire.strange),
        worth=worth,
    )


@lru_cache(maxsize=8)
def _fire(tries: tuple[TimedTry, ...]) -> tuple[OurFire, Try]:
    """Weigh the draws, and find the try that they know least of; once for each log."""
    fire = our_fire(tries, draws=_DRAWS)
    states = [Try().changed(diameter=wide, force=float(force)) for wide, force in _CANDIDATES]
    bands = {state: fire.band(state) for state in states}
    able = [state for state in states if bands[state].likely < default("give_up")] or states
    return fire, max(able, key=lambda state: _width(bands[state]))


def _width(band):
    """Tell the width in ln time, by what lies within reach of a clock."""
    low, high = (min(end, _LATEST) for end in band.ends)
    return np.log(high / low)
