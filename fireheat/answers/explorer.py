"""What the explorer shows of one try: the estimate, a sweep, and what one change would do."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from ..estimates import Estimate, Times, explained, quick_times, times
from ..kit.kit import Try
from ..quantities import quantity

_POINTS = 21  # of a sweep: enough for a smooth curve, few enough for a slider to feel immediate
# What is tried of each quantity to say what it would do: half the spindle, twice the effort.
_TRIED = {"diameter": 0.5, "force": 2.0, "burn_in_depth": 0.5}
_LIKE_FORCE = ("friction", "speed")  # these, too, only multiply the watts


class Ratio(NamedTuple):
    """What changing one quantity would do.

    Attributes
    ----------
    factor : float
        The change itself. [1]
    ember : float
        What the ember's time is multiplied by: 0 where one that never came now comes, infinite
        where it no longer does, NaN where it never comes either way. [1]
    bound : float
        What the bound is multiplied by; NaN where nothing moves. [1]
    """

    factor: float
    ember: float
    bound: float


@dataclass(frozen=True)
class Outlook:
    """What the explorer shows of one try.

    Attributes
    ----------
    across : str
        The quantity swept.
    here : float
        Its value now. [SI]
    now : Estimate
        The try now.
    values : ndarray, shape (n,)
        The swept quantity, over its slider. [SI]
    sweep : Times
        The same try but for the swept quantity.
    ratios : mapping
        What changing one quantity would do, by quantity.
    """

    across: str
    here: float
    now: Estimate
    values: np.ndarray
    sweep: Times
    ratios: Mapping[str, Ratio]


def outlook(state: Try, *, across: str) -> Outlook:
    """Work out everything the explorer shows.

    Parameters
    ----------
    state : Try
        The try.
    across : str
        The quantity to sweep over its slider.

    Returns
    -------
    Outlook
        The try now, the sweep, and what changing one thing would do.

    Raises
    ------
    InputError
        If ``across`` cannot be swept.

    Examples
    --------
    >>> outlook(Try(), across="diameter").ratios["diameter"].bound
    0.25
    """
    here, tried = state.value(across), times(state, **_tried(state))
    values = _values(across)
    return Outlook(
        across=across,
        here=here,
        now=explained(state, found=tried.at(0)),
        values=values,
        # the march's shadow errs by less than a curve is wide; what is read as a number is marched
        sweep=quick_times(state, **{across: values}),
        ratios=_ratios(tried),
    )


def _values(across):
    return np.linspace(*quantity(across).slider, _POINTS)


def _tried(state):
    """List the try as it is, and with one quantity at a time halved or doubled."""
    turns, grams = np.arange(len(_TRIED) + 1), state.kit.dust_mass is not None
    tried = {}
    for turn, (key, factor) in enumerate(_TRIED.items(), start=1):
        name = "dust_mass" if grams and key == "burn_in_depth" else key  # which is kept
        tried[name] = state.value(name) * np.where(turns == turn, factor, 1.0)
    return tried


def _ratios(found):
    """Say what the times would become if one quantity at a time were halved or doubled."""
    with np.errstate(invalid="ignore"):
        ember, bound = found.ember.likely / found.ember.likely[0], found.bound / found.bound[0]
    ratios = {
        key: Ratio(factor, float(ember[turn]), float(bound[turn]))
        for turn, (key, factor) in enumerate(_TRIED.items(), start=1)
    }
    return ratios | dict.fromkeys(_LIKE_FORCE, ratios["force"])
