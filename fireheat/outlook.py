"""What the explorer shows of one state: the estimate, a sweep, and what one change would do."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from .kit import Air, Effort, Kit
from .milestones import Estimate, Times, changeable, estimate, times
from .quantities import InputError, quantity

_POINTS = 21  # of a sweep: enough for a smooth curve, few enough for a slider to feel immediate
# What is tried of each quantity to say what it would do: half the spindle, twice the effort.
_TRIED = {"diameter": 0.5, "force": 2.0, "burn_in_depth": 0.5}
_LIKE_FORCE = ("friction", "speed")  # these, too, only multiply the watts


@dataclass(frozen=True)
class Outlook:
    """What the explorer shows of one state.

    Attributes
    ----------
    across : str
        The quantity swept.
    here : float
        Its value now. [SI]
    now : Estimate
        The state now.
    values : ndarray, shape (n,)
        The swept quantity, over its slider. [SI]
    sweep : Times
        The same state but for the swept quantity.
    ratios : mapping
        Quantity to (factor on it, factor on the ember's time, factor on the bound). The second is 0
        where an ember that never came now comes, infinite where it no longer does, and NaN where it
        never comes either way; so is the third where nothing moves.
    """

    across: str
    here: float
    now: Estimate
    values: np.ndarray
    sweep: Times
    ratios: Mapping[str, tuple[float, float, float]]


def outlook(kit: Kit, effort: Effort, air: Air, across: str) -> Outlook:
    """Work out everything the explorer shows.

    Parameters
    ----------
    kit : Kit
        The kit.
    effort : Effort
        The effort.
    air : Air
        The air.
    across : str
        The quantity to sweep over its slider.

    Returns
    -------
    Outlook
        The state now, the sweep, and what changing one thing would do.

    Raises
    ------
    InputError
        If ``across`` cannot be swept.

    Examples
    --------
    >>> outlook(Kit(), Effort(), Air(), "diameter").ratios["diameter"][2]
    0.25
    """
    now = changeable(kit, effort, air)
    if across not in now:
        raise InputError(f"cannot sweep {across!r}; allowed: {sorted(now)}")
    values = np.linspace(*quantity(across).slider, _POINTS)
    return Outlook(
        across=across,
        here=now[across],
        now=estimate(kit, effort, air),
        values=values,
        sweep=_sweep(*_without(across, kit, effort, air), across),
        ratios=_ratios(kit, effort, air),
    )


def _without(across, kit, effort, air):
    """Forget the swept quantity, on which the sweep does not depend."""
    if across in ("force", "speed"):
        return kit, replace(effort, **{across: getattr(Effort(), across)}), air
    if across == "temperature_ambient":
        return kit, effort, replace(air, temperature=Air().temperature)
    field = "radius" if across == "diameter" else across
    if not hasattr(kit, field):  # a property of the wood, which a kit holds only by name
        return kit, effort, air
    return replace(kit, **{field: getattr(Kit(), field)}), effort, air


@lru_cache(maxsize=8)
def _sweep(kit, effort, air, across):
    """Sweep a quantity; moving along the curve asks for the same one again and again."""
    values = np.linspace(*quantity(across).slider, _POINTS)
    return times(kit, effort, air, **{across: values})


def _ratios(kit, effort, air):
    """Say what the times would become if one quantity at a time were halved or doubled."""
    now, turns = changeable(kit, effort, air), np.arange(len(_TRIED) + 1)
    tried = {
        key: now[key] * np.where(turns == turn, factor, 1.0)
        for turn, (key, factor) in enumerate(_TRIED.items(), start=1)
    }
    then = times(kit, effort, air, **tried)
    with np.errstate(invalid="ignore"):
        ember, bound = then.ember[1] / then.ember[1, 0], then.bound / then.bound[0]
    ratios = {
        key: (factor, float(ember[turn]), float(bound[turn]))
        for turn, (key, factor) in enumerate(_TRIED.items(), start=1)
    }
    return ratios | dict.fromkeys(_LIKE_FORCE, ratios["force"])
