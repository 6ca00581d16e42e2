"""The heat map of a kit: one run of :func:`fireheat.heat.volumes.drill` for a try."""

from functools import lru_cache

import numpy as np

from ..constants import constant
from ..heat.contact import Contact
from ..heat.material import Material
from ..heat.volumes import HeatRun, drill
from ..kit.kit import Try
from ..kit.wood import hot_properties
from ..quantities import check, default


def kit_heat(state: Try, *, duration: float = 120.0) -> HeatRun:
    """Follow the heat of a try through spindle and board; the same try is run only once.

    Parameters
    ----------
    state : Try
        The try; its effort is steady from the start.
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
    :func:`fireheat.estimates.estimate`, so that both tell the same story.

    References
    ----------
    .. [1] :func:`fireheat.heat.volumes.drill`, with the wood of
       :func:`fireheat.kit.wood.hot_properties`.

    Examples
    --------
    >>> run = kit_heat(Try(), duration=20.0)
    >>> print(f"{run.contact_mean[-1]:.0f} K above the air")
    280 K above the air
    """
    return _run(state, check(duration=duration))


@lru_cache(maxsize=12)
def _run(state, duration):
    """Run a try; what is remembered has been checked, since a list cannot be looked up."""
    kit, air, char = state.kit, state.air, default("temperature_char")
    hot = hot_properties(
        kit.specific_gravity,
        moisture=kit.moisture,
        temperature=(air.temperature + char) / 2,
        axial_factor=kit.axial_factor,
    )
    across, capacity = hot.conductivity, hot.volumetric_heat_capacity
    contact = Contact(
        radius=kit.radius,
        length=kit.spindle_length,
        film=air.film,
        spindle=Material(across, hot.conductivity_along, capacity),
        board=Material(across, across, capacity),
    )
    return drill(
        np.linspace(0, duration, 121)[1:],
        contact=contact,
        power=state.power,
        board_thickness=default("board_thickness"),
        board_radius=constant("board_half_width"),
        rise_char=char - air.temperature,
    )
