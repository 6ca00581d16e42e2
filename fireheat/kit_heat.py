"""The heat map of a kit: one run of :func:`fireheat.heatmap.drill` for a kit, effort and day."""

from functools import lru_cache

import numpy as np

from .constants import constant
from .heatmap import HeatRun, drill
from .kit import Air, Effort, Kit, kit_power
from .quantities import check, default
from .wood import hot_properties, wood


@lru_cache(maxsize=12)
def kit_heat(kit: Kit, effort: Effort, air: Air, duration: float = 120.0) -> HeatRun:
    """Follow the heat of a kit through spindle and board; the same kit is run only once.

    Parameters
    ----------
    kit : Kit
        The kit.
    effort : Effort
        The effort, steady from the start.
    air : Air
        The air.
    duration : float, optional
        How long to bow. [s]

    Returns
    -------
    HeatRun
        Temperatures and heat at 120 moments, evenly spaced.

    Raises
    ------
    InputError
        If the duration is not positive, or the tip wider than this picture's board, 40 mm in
        radius.

    Notes
    -----
    Wood properties are those at the middle temperature between air and charring, as in
    :func:`fireheat.milestones.estimate`, so that both tell the same story.

    References
    ----------
    .. [1] :func:`fireheat.heatmap.drill`, with the wood of :func:`fireheat.wood.hot_properties`.

    Examples
    --------
    >>> run = kit_heat(Kit(), Effort(), Air(), 20.0)
    >>> print(f"{run.contact_mean[-1]:.0f} K above the air")
    280 K above the air
    """
    duration, char = check(duration=duration), default("temperature_char")
    hot = hot_properties(
        wood(kit.wood).specific_gravity, kit.moisture, (air.temperature + char) / 2
    )
    return drill(
        np.linspace(0, duration, 121)[1:],
        power=float(kit_power(kit, effort)),
        radius=kit.radius,
        length=kit.spindle_length,
        film=air.film,
        spindle_conductivity=hot.conductivity_along,
        spindle_heat_capacity=hot.volumetric_heat_capacity,
        board_conductivity=hot.conductivity,
        board_heat_capacity=hot.volumetric_heat_capacity,
        board_thickness=default("board_thickness"),
        board_radius=constant("board_half_width"),
        rise_char=char - air.temperature,
    )
