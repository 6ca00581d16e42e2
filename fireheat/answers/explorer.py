"""What the explorer shows of one try: two bands, a sweep of them, and what one change would do."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import NamedTuple

import numpy as np

from ..bands import Band
from ..ember.ember import heap_mass
from ..ember.ignition import Keep, enough_dust
from ..estimates import Estimate, estimated, quick_times
from ..kit.kit import Try
from ..person.arm import arms
from ..person.limits import tip_share
from ..quantities import check_whole, quantity
from ..spread import Outcomes, Spread, compare, spread, tries
from ..trials.columns import TimedTry
from .next_try import NextTry, next_try

_POINTS = 41  # of a sweep: enough for a smooth curve
_DRAWS = 96  # at each of them: a region's edge is not read as a number
_TRIES = 10  # in one go
_TWICE = 2.0
_LIKE_FORCE = ("force", "friction", "speed")  # each only multiplies the watts
_HEAP_POWER = {"diameter": 2, "burn_in_depth": 1, "dust_mass": 1}  # dust goes with it so


class Change(NamedTuple):
    """What changing one quantity would do.

    Attributes
    ----------
    factor : float
        The change itself. [1]
    ember : Band of float
        What the ember's time is multiplied by, with the same unknowns before and after. [1]
    bound : float
        What the floor is multiplied by; NaN where nothing moves. [1]
    comes_now, comes_then : bool
        Whether there is likely ever an ember, before and after.
    """

    factor: float
    ember: Band[float]
    bound: float
    comes_now: bool
    comes_then: bool


@dataclass(frozen=True, eq=False)  # it is the same only as itself: most of it are arrays
class Outlook:
    """What the explorer shows of one try.

    Attributes
    ----------
    state : Try
        The try.
    across : str
        The quantity swept.
    here : float
        Its value now. [SI]
    now : Estimate
        The try now, with its wood's band.
    spread : Spread
        Its two bands, and the floor's range.
    values : ndarray, shape (n,)
        The swept quantity, over its slider. [SI]
    sweep : Spread
        The same bands but for the swept quantity.
    dust : float
        Dust that reaches the heap. [kg]
    enough : Keep
        Whether that is enough to stay hot.
    least : float
        Value of the swept quantity below which there is likely too little dust; NaN where dust
        does not go with it. [SI]
    arm_power : float
        Most watts at this tip that the strongest of the example arms can make. [W]
    measured : mapping of str to float
        How well somebody measured what is set, as :func:`fireheat.spread.spread` takes it. [SI]
    ours : NextTry or None
        The same try after the reader's own evenings, where there are any.
    """

    state: Try
    across: str
    here: float
    now: Estimate
    spread: Spread
    values: np.ndarray
    sweep: Spread
    dust: float
    enough: Keep
    least: float
    arm_power: float
    measured: Mapping[str, float]
    ours: NextTry | None = None

    def upright(self, across: str) -> "Outlook":
        """Return the same try on the axis of another quantity; its own sweep is not redone."""
        return replace(self, across=across, here=self.state.value(across))


def outlook(
    state: Try,
    *,
    across: str,
    measured: Mapping[str, float] = {},
    evenings: Sequence[TimedTry] = (),
) -> Outlook:
    """Work out everything the explorer shows.

    Parameters
    ----------
    state : Try
        The try.
    across : str
        The quantity to sweep over its slider.
    measured : mapping, optional
        How well what is set was measured, as :func:`fireheat.spread.spread` takes it.
    evenings : sequence of TimedTry, optional
        The reader's own tries.

    Returns
    -------
    Outlook
        The try now, its bands, and the sweep.

    Raises
    ------
    InputError
        If ``across`` cannot be swept, or what was measured is not set.

    Examples
    --------
    >>> seen = outlook(Try(), across="diameter")
    >>> [round(time) for time in seen.spread.all], round(seen.now.bound), seen.enough.verdict
    ([25, 56, 247], 22, 'perhaps')
    """
    here, now, enough = state.value(across), estimated(state), enough_dust(state.kit)
    bands = spread(state, measured=measured, found=now)
    return Outlook(
        state=state,
        across=across,
        here=here,
        now=now,
        spread=bands,
        values=_values(across),
        sweep=_sweep(_without(state, across), across, tuple(sorted(measured.items()))),
        dust=float(heap_mass(state.kit.dust)),
        enough=enough,
        least=_least(state, across, enough),
        arm_power=_strongest() * tip_share(state.kit),
        measured=dict(measured),
        ours=next_try(state, evenings, measured=measured, found=bands) if evenings else None,
    )


def changes(state: Try, *, measured: Mapping[str, float] = {}) -> dict[str, Change]:
    """Work out what twice of each quantity would do.

    Parameters
    ----------
    state : Try
        The try.
    measured : mapping, optional
        As in :func:`outlook`.

    Returns
    -------
    dict of str to Change
        By quantity; those of which twice is beyond any kit are left out.

    Examples
    --------
    >>> twice = changes(Try())
    >>> [round(factor, 2) for factor in twice["force"].ember], twice["diameter"].bound
    ([0.19, 0.33, 0.38], 4.0)
    """
    dust = "burn_in_depth" if state.kit.dust_mass is None else "dust_mass"
    made = {}
    for key in ("diameter", dust, "moisture"):
        if _can_double(state, key):
            made[key] = _change(state, key, measured)
    more = next((key for key in _LIKE_FORCE if _can_double(state, key)), None)
    return made | (dict.fromkeys(_LIKE_FORCE, _change(state, more, measured)) if more else {})


def ten_tries(state: Try, turn: int, *, measured: Mapping[str, float] = {}) -> Outcomes:
    """Let ten people try, each once: other wood, grip and luck for each.

    Parameters
    ----------
    state : Try
        The try.
    turn : int
        How many tens tried before: other people each time.
    measured : mapping, optional
        As in :func:`outlook`.

    Returns
    -------
    Outcomes
        Arrays of ten.

    Raises
    ------
    InputError
        If the turn is no whole number from zero on.

    Examples
    --------
    >>> ten_tries(Try(), 0).ember.round()
    array([ 54.,  50.,  85., 117.,  69.,  26.,  58.,  85.,  53.,  33.])
    """
    turn = check_whole("turn", turn, least=0)
    return tries(state, _TRIES, first=1 + _TRIES * turn, measured=measured)


def _values(across):
    return np.linspace(*quantity(across).slider, _POINTS)


def _without(state, across):
    """Return the try with the swept quantity at one value, as it makes no odds to the sweep."""
    if across == "specific_gravity":  # the wood's
        return state
    return state.changed(**{across: quantity(across).slider[0]})


@lru_cache(maxsize=8)
def _sweep(state, across, measured):
    """Draw the bands along the swept quantity: the same while that quantity alone moves."""
    swept = {across: _values(across)}
    # the march's shadow errs by less than a curve is wide; what is read as a number is marched
    found, known = quick_times(state, **swept), dict(measured)
    return spread(state, swept=swept, draws=_DRAWS, found=found, measured=known)


def _least(state, across, enough):
    """Tell below which value of the swept quantity dust is likely too little."""
    power = _HEAP_POWER.get(across)
    if power is None or (across == "diameter" and state.kit.dust_mass is not None):
        return float("nan")
    return float(state.value(across) * enough.times_least.likely ** (-1 / power))


@cache
def _strongest():
    """Most watts that any of the example arms, and the strong one of its kind, can make."""
    strong = [arm.strong for arm in arms().values()]
    return max(float(arm.best_pull * arm.speed(arm.best_pull)) for arm in strong)


def _can_double(state, key):
    value, row = state.value(key), quantity(key)
    return value > 0 and _TWICE * value <= row.high


def _change(state, key, measured):
    then = state.changed(**{key: _TWICE * state.value(key)})
    before, after = both = quick_times(state), quick_times(then)
    with np.errstate(invalid="ignore"):
        bound = float(np.divide(after.bound, before.bound))
    comes = (bool(np.isfinite(found.ember.likely)) for found in (before, after))
    factor = compare(state, then, measured=measured, found=both)  # by the shadow: it is not read
    return Change(_TWICE, factor, bound, *comes)


def ratio(before: Outlook, now: Outlook) -> Band[float]:
    """Compare what was before with what is now, with the same unknowns in both.

    Parameters
    ----------
    before, now : Outlook
        The two.

    Returns
    -------
    Band of float
        Time of the ember now over that before. [1]

    Examples
    --------
    >>> thick, thin = (
    ...     outlook(Try().changed(diameter=d), across="force") for d in (0.022, 0.011)
    ... )
    >>> [round(factor, 2) for factor in ratio(thick, thin)]
    [0.0, 0.15, 0.25]
    """
    return _ratio(before, now)


@lru_cache(maxsize=2)
def _ratio(before, now):
    # A slider that was moved by hand has not been measured there.
    both = before.measured.items() & now.measured.items()
    return compare(before.state, now.state, measured=dict(both), found=(before.now, now.now))
