"""The heat map of a kit, and when it smokes: a run of :func:`fireheat.heat.volumes.drill`."""

from dataclasses import replace
from functools import lru_cache

import numpy as np

from ..cases import case
from ..constants import constant
from ..estimates import contacts
from ..heat.volumes import HeatRun, drill
from ..heat.wear_course import wearing_heat
from ..kit.kit import Try
from ..quantities import Numbers, check, default, plain


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
    Wood and temperatures are those of :func:`fireheat.estimates.estimate`, but here the faces stay
    where they are: nothing is worn off, so the heat reaches a little further. How much of it is
    where is told by :func:`heat_so_far`.

    References
    ----------
    .. [1] :func:`fireheat.heat.volumes.drill` over :func:`fireheat.estimates.contacts`.

    Examples
    --------
    >>> run = kit_heat(Try(), duration=20.0)
    >>> print(f"{run.contact_mean[-1]:.0f} K above the air")
    306 K above the air
    """
    return _run(state, check(duration=duration))


@lru_cache(maxsize=12)
def _run(state, duration):
    """Run a try; what is remembered has been checked, since a list cannot be looked up."""
    return drill(
        np.linspace(0, duration, 121)[1:],
        contact=replace(contacts(state).likely, film=state.air.film),
        power=state.power,
        board_thickness=default("board_thickness"),
        board_radius=constant("board_half_width"),
        board_film=default("film"),
        rise_char=default("temperature_char") - state.air.temperature,
    )


def first_smoke(run: HeatRun, *, rise: float) -> float:
    """Moment at which the contact of a run is hot enough to smoke.

    The run itself marks only when its contact is as hot as the dust, which is later.

    Parameters
    ----------
    run : HeatRun
        The run.
    rise : float
        Temperature of first smoke less that of the air. [K]

    Returns
    -------
    float
        The moment, by a straight line between those of the run; infinite if the run is over
        before. [s]

    Raises
    ------
    InputError
        If the rise is not positive.

    References
    ----------
    .. [1] ``temperature_smoke`` in ``data/quantities.toml``.

    Examples
    --------
    >>> round(first_smoke(kit_heat(Try(), duration=20.0), rise=255.0), 1)
    13.3
    """
    rise = check(rise=rise)
    warm = np.flatnonzero(run.contact_mean >= rise)
    if not warm.size:
        return np.inf
    until = warm[0] + 1  # later it may hover
    time, mean = (np.append(0.0, history[:until]) for history in (run.time, run.contact_mean))
    return float(np.interp(rise, mean, time))


def heat_so_far(state: Try, *, time: Numbers) -> dict[str, Numbers]:
    """Where the heat of a try has gone, as the estimate has it: wear and all.

    Parameters
    ----------
    state : Try
        The try; its effort is steady from the start.
    time : float or ndarray
        When to look. [s]

    Returns
    -------
    dict of str to float or ndarray
        Heat in ``"dust_and_water"``, in ``"spindle"`` and ``"board"``, and given to ``"air"``; at
        the ember what :func:`fireheat.estimates.estimate` says. [J]

    Raises
    ------
    InputError
        If a time is negative.

    References
    ----------
    .. [1] :func:`fireheat.heat.wear_course.wearing_heat`.

    Examples
    --------
    >>> {part: round(joules) for part, joules in heat_so_far(Try(), time=20.0).items()}
    {'dust_and_water': 0, 'spindle': 109, 'board': 95, 'air': 6}
    """
    time, likely = check(time=time), case(state)
    spindle, board, air = wearing_heat(likely.contact, **likely.march, time=time)
    dust = np.maximum(likely.power * time - spindle - board - air, 0.0)
    parts = {"dust_and_water": dust, "spindle": spindle, "board": board, "air": air}
    return {part: plain(joules) for part, joules in parts.items()}
