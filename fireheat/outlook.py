"""What a kit, an effort and a day promise: bound, estimates with their band, and what would help.

The band of an estimate covers what is not known of the wood: how much heat it soaks up while it
is rubbed, from the cold wood of handbooks to the hot, drying wood of ignition tests. It does not
cover friction, force, speed or burn-in depth, which a reader sets or measures.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from .bowing import friction_power
from .kit import Air, Effort, Kit
from .milestones import two_stage
from .quantities import InputError, default, quantity
from .wood import energy_per_area, hot_properties, wood

# Quantities that can be swept or changed, and their values in a state of kit, effort and air.
_STATE = {
    "diameter": lambda kit, effort, air: kit.diameter,
    "friction": lambda kit, effort, air: kit.friction,
    "burn_in_depth": lambda kit, effort, air: kit.burn_in_depth,
    "moisture": lambda kit, effort, air: kit.moisture,
    "force": lambda kit, effort, air: effort.force,
    "speed": lambda kit, effort, air: effort.speed,
    "temperature_ambient": lambda kit, effort, air: air.temperature,
}


def state_of(kit: Kit, effort: Effort, air: Air) -> dict[str, float]:
    """Return the quantities that can be changed, with their values in a state, in SI.

    Examples
    --------
    >>> state_of(Kit(), Effort(), Air())["force"]
    60.0
    """
    return {key: read(kit, effort, air) for key, read in _STATE.items()}


@dataclass(frozen=True)
class Estimate:
    """Bound and estimates; each a float, or an array over a swept quantity.

    Attributes
    ----------
    power : float or ndarray
        Heat made at the tip. [W]
    flux : float or ndarray
        The same over the area of the tip. [W/m^2]
    energy_per_area : float or ndarray
        What one ember's dust needs. [J/m^2]
    bound : float or ndarray
        No ember sooner than this, from energy alone. [s]
    smoke, ember : ndarray, shape (3,) or (3, n)
        Estimates of first steady smoke and of the ember: low end, likely, high end. [s]
    dust_share : float or ndarray
        Part of the heat that has gone into dust when the ember is there; the rest soaks in. [1]
    """

    power: float
    flux: float
    energy_per_area: float
    bound: float
    smoke: np.ndarray
    ember: np.ndarray
    dust_share: float


def estimate(
    kit: Kit | None = None,
    effort: Effort | None = None,
    air: Air | None = None,
    **changed,
) -> Estimate:
    """Estimate when a kit smokes and when its ember is there.

    Parameters
    ----------
    kit : Kit, optional
        The kit; an ordinary one if left out.
    effort : Effort, optional
        The effort; an ordinary one if left out.
    air : Air, optional
        The air; a mild day if left out.
    **changed : float or ndarray
        Quantities to use instead of those in kit, effort or air, in SI; arrays sweep them.

    Returns
    -------
    Estimate
        Bound and estimates.

    Raises
    ------
    InputError
        If a changed quantity is not one of those that can change, or out of its range.

    Notes
    -----
    Bodies are taken as thick, heat as flowing straight in, and no heat as lost to the air: true
    for the first seconds, ever too hopeful after. Wood properties are those at the middle
    temperature between air and charring.

    References
    ----------
    .. [1] :func:`fireheat.milestones.two_stage` and :func:`fireheat.wood.hot_properties`.

    Examples
    --------
    >>> ordinary = estimate()
    >>> round(ordinary.power, 1), round(ordinary.bound)
    (10.5, 13)
    """
    kit, effort, air = kit or Kit(), effort or Effort(), air or Air()
    unknown = set(changed) - set(_STATE)
    if unknown:
        raise InputError(f"cannot change {sorted(unknown)}; allowed: {sorted(_STATE)}")
    now = state_of(kit, effort, air) | changed
    radius = np.divide(now["diameter"], 2)
    power = friction_power(
        now["force"],
        now["friction"],
        now["speed"],
        contact=kit.contact,
        radius=radius,
        cord_radius=kit.cord_radius,
    )
    return _answer(power, np.pi * radius**2, kit, now)


def _answer(power, area, kit, now):
    """Put bound and estimates together from power, area and wood."""
    char = default("temperature_char")
    gravity = wood(kit.wood).specific_gravity
    hot = hot_properties(gravity, now["moisture"], (now["temperature_ambient"] + char) / 2)
    energy = energy_per_area(
        now["burn_in_depth"],
        hot.density,
        now["moisture"],
        temperature_ambient=now["temperature_ambient"],
        temperature_char=char,
    )
    power, area, energy, soaking = np.broadcast_arrays(
        power, area, energy, hot.effusivity + hot.effusivity_along
    )
    band = np.stack([soaking * hot.effusivity_low, soaking, soaking * hot.effusivity_high])
    rise = char - now["temperature_ambient"]
    smoke, ember = two_stage(power / area, energy, band, rise)
    with np.errstate(divide="ignore", invalid="ignore"):  # a bow that stands makes no heat
        bound = energy * area / power
        dust_share = np.where(np.isfinite(ember[1]), bound / ember[1], 0.0)
    plain = (lambda x: x) if power.ndim else float
    return Estimate(
        power=plain(power),
        flux=plain(power / area),
        energy_per_area=plain(energy),
        bound=plain(bound),
        smoke=smoke,
        ember=ember,
        dust_share=plain(dust_share),
    )


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
    sweep : Estimate
        The same state but for the swept quantity.
    ratios : mapping
        Quantity to (factor on it, factor on the ember's time, factor on the bound).
    """

    across: str
    here: float
    now: Estimate
    values: np.ndarray
    sweep: Estimate
    ratios: Mapping[str, tuple[float, float, float]]


# What is tried of each quantity to say what it would do: half the spindle, twice the effort.
_TRIED = {"diameter": 0.5, "force": 2.0, "friction": 2.0, "speed": 2.0, "burn_in_depth": 0.5}


def outlook(kit: Kit, effort: Effort, air: Air, across: str, points: int = 81) -> Outlook:
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
    points : int, optional
        How finely. [1]

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
    if across not in _STATE:
        raise InputError(f"cannot sweep {across!r}; allowed: {sorted(_STATE)}")
    values = np.linspace(*quantity(across).slider, points)
    return Outlook(
        across=across,
        here=state_of(kit, effort, air)[across],
        now=estimate(kit, effort, air),
        values=values,
        sweep=estimate(kit, effort, air, **{across: values}),
        ratios=_ratios(kit, effort, air),
    )


def _ratios(kit, effort, air):
    """Say what the times would become if one quantity at a time were halved or doubled."""
    now = state_of(kit, effort, air)
    tried = {
        key: now[key] * np.where(np.arange(len(_TRIED) + 1) == i, factor, 1.0)
        for i, (key, factor) in enumerate(_TRIED.items(), start=1)
    }
    then = estimate(kit, effort, air, **tried)
    with np.errstate(invalid="ignore"):
        ember, bound = then.ember[1] / then.ember[1, 0], then.bound / then.bound[0]
    return {
        key: (factor, float(ember[i]), float(bound[i]))
        for i, (key, factor) in enumerate(_TRIED.items(), start=1)
    }
