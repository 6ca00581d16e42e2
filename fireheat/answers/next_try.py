"""The next try, by the handbook and by our own evenings."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ..bands import Band
from ..kit.kit import Try
from ..quantities import InputError, default
from ..spread import GAUGES, Spread, spread
from ..trials.columns import TimedTry
from ..trials.our_fire import OurFire, our_fire

EVENING_DRAWS = 2000  # weighed by a log
_LATEST = 7200.0  # what is later counts as never. [s]
# Tries among which the one that tells most is looked for.
_CANDIDATES = tuple((diameter, force) for diameter in (0.011, 0.016, 0.022) for force in (45, 75))
_READS = {"density": "specific_gravity"} | dict.fromkeys(GAUGES, "friction")


@dataclass(frozen=True)
class NextTry:
    """What to expect of a try.

    Attributes
    ----------
    handbook : Band of float
        Nine of ten tries, luck included, by all we do not know: as the explorer has it. [s]
    evenings : Band of float
        The same, after our own tries; without any, the handbook's. [s]
    tries : int
        How many there were.
    strange : tuple of str
        What about our tries is out of the ordinary: ``"level"``, or a setting.
    slower_than : float
        Which share of the fires that the handbook expects ours is slower than. [1]
    worth : Try
        The try of which our evenings know least, and which can still end with an ember.
    """

    handbook: Band
    evenings: Band
    tries: int
    strange: tuple[str, ...]
    slower_than: float
    worth: Try


def next_try(
    state: Try,
    tries: Sequence[TimedTry],
    *,
    measured: Mapping[str, float | None] = {},
    found: Spread | None = None,
) -> NextTry:
    """Tell what to expect of a try, and which one would tell most.

    Parameters
    ----------
    state : Try
        The try.
    tries : sequence of TimedTry
        Our own tries. What was measured of the try holds for them, too, where nobody wrote down
        anything else; all else is as in an ordinary one.
    measured : mapping, optional
        How well what is set was measured, as :func:`fireheat.spread.spread` takes it.
    found : Spread, optional
        What that says of the try, where it is known already.

    Returns
    -------
    NextTry
        Both bands.

    Raises
    ------
    InputError
        If something is no try, or as :func:`fireheat.spread.spread`.

    References
    ----------
    .. [1] :func:`fireheat.trials.our_fire.our_fire`.

    Examples
    --------
    >>> found = next_try(Try(), [TimedTry(time=60.0, ended="ember")] * 4)
    >>> [round(time) for time in found.handbook], found.evenings.high < found.handbook.high
    ([25, 56, 247], True)
    """
    if not isinstance(state, Try) or not isinstance(tries, Sequence):
        raise InputError(f"state is {state!r}, tries {tries!r}; allowed: a Try, a list of tries")
    found = spread(state, measured=measured) if found is None else found
    held = {_READS.get(key, key) for key in measured}
    start = Try().changed(**{key: state.value(key) for key in sorted(held)})
    fire = _fire(tuple(tries), start, tuple(sorted(measured.items())))
    return after_evenings(fire, state, found)


def after_evenings(fire: OurFire, state: Try, found: Spread | None = None) -> NextTry:
    """Tell the same by a fire whose draws are weighed already.

    Parameters
    ----------
    fire : OurFire
        The fire, best of ``EVENING_DRAWS`` draws: so it says the same everywhere.
    state : Try
        The try.
    found : Spread, optional
        What :func:`fireheat.spread.spread` says of the try, where it is known already.

    Returns
    -------
    NextTry
        Both bands.

    Raises
    ------
    InputError
        If that is no fire, or no try.

    Examples
    --------
    >>> found = after_evenings(our_fire([TimedTry(time=60.0, ended="ember")] * 4), Try())
    >>> [round(time) for time in found.evenings], found.tries
    ([45, 60, 80], 4)
    """
    if not isinstance(fire, OurFire) or not isinstance(state, Try):
        raise InputError(f"fire is {fire!r}, state {state!r}; allowed: an OurFire, a Try")
    found = spread(state) if found is None else found
    return NextTry(
        handbook=found.all,
        evenings=fire.band(state) if fire.tries else found.all,
        tries=len(fire.tries),
        strange=tuple(fire.strange),
        slower_than=fire.slower_than,
        worth=_worth(fire),
    )


@lru_cache(maxsize=8)
def _fire(tries: tuple[TimedTry, ...], start: Try, readings: tuple) -> OurFire:
    """Weigh the draws, once for each log."""
    return our_fire(tries, start=start, measured=dict(readings), draws=EVENING_DRAWS)


@lru_cache(maxsize=8)
def _worth(fire: OurFire) -> Try:
    """Find the try that its draws know least of."""
    states = [Try().changed(diameter=wide, force=float(force)) for wide, force in _CANDIDATES]
    bands = {state: fire.band(state) for state in states}
    able = [state for state in states if bands[state].likely < default("give_up")] or states
    return max(able, key=lambda state: _width(bands[state]))


def _width(band):
    """Tell the width in ln time, by what lies within reach of a clock."""
    low, high = (min(end, _LATEST) for end in band.ends)
    return np.log(high / low)
