"""How long an ember keeps on what it fell on, left alone and fed. ROUGH.

Its dust makes heat as it smoulders away; its open face and the catcher take heat, less the cooler
it gets. Where they take more than it makes, it cools, and below some 450 degC it is out. Where it
holds its own, it lasts until its dust is gone; fed with more, on a bed of its own dead dust, for
as long as somebody feeds it.
"""

from collections.abc import Mapping
from dataclasses import replace
from itertools import product
from typing import NamedTuple

import numpy as np
from scipy.interpolate import CubicSpline

from ..bands import Band
from ..constants import constant, constant_band
from ..heat.layered import disc_draw
from .catchers import AIR_GAP, Catcher, as_catcher, catchers
from .draw import draws, layers
from .ember import Ember, smoulder_power

_TIMES = np.geomspace(0.02, 3600.0, 120)  # an hour: longer than anybody feeds one
_SOME_TIMES = np.geomspace(0.02, 3600.0, 16)


class Lasting(NamedTuple):
    """How long an ember keeps.

    Attributes
    ----------
    alone : Band of float
        Left alone, over the ranges of what it makes and what the catcher takes. [s]
    fed : Band of float
        Fed, on a bed of dead dust: no end where it holds its own. [s]
    """

    alone: Band[float]
    fed: Band[float]


def lasting(catcher: Catcher | str, *, ground: str = AIR_GAP, ember: Ember = Ember()) -> Lasting:
    r"""How long an ember keeps on a catcher, left alone and fed. ROUGH.

    .. math:: m c \, \dot T = P - A q''(T) - \dot J(t) \, \frac{T - T_0}{T_g - T_0}

    Parameters
    ----------
    catcher : Catcher or str
        The catcher, or its key in the table.
    ground : str, optional
        What lies below.
    ember : Ember, optional
        The ember as it is left alone. Fed, it lies on as much dead dust as a well-fed heap, or on
        its own if that is more.

    Returns
    -------
    Lasting
        Bands of seconds; their ends are the ends of all ranges.

    Raises
    ------
    InputError
        If the catcher or the ground is unknown.

    Notes
    -----
    P is even, as :attr:`fireheat.ember.ember.Ember.power`; J is what the catcher draws from an
    ember held at its glow, see :func:`fireheat.ember.draw.draw_history`, and less in proportion as
    it cools. Errs short where seconds are told: the heap is taken at one temperature and touching
    all over, while real ones go dark below first and so make their own bed. Errs long in that a
    cooler smoulder burns slower. Left out are ash that covers the face, wind, and catchers that
    smoulder along. A catcher may be burnt through sooner, see
    :func:`fireheat.ember.scorch.scorch_time`.

    References
    ----------
    .. [1] A balance of heat; smouldering ends some way below 450 degC: Rein, Smouldering Combustion
       Phenomena in Science and Technology, Int. Rev. Chem. Eng. 1 (2009) 3. (from memory)

    Examples
    --------
    >>> for key in ("aluminium_foil", "thick_bark"):
    ...     low, likely, high = lasting(key, ground="dry soil").alone
    ...     print(f"{likely:.1f} s, {low:.1f} to {high:.1f}")
    0.6 s, 0.4 to 1.2
    600.0 s, 3.7 to 900.0
    """
    return lastings({"this": as_catcher(catcher)}, ground=ground, ember=ember)["this"]


def lastings(
    rows: Mapping[str, Catcher] | None = None, *, ground: str = AIR_GAP, ember: Ember = Ember()
) -> dict[str, Lasting]:
    """How long an ember keeps on each of many catchers. ROUGH.

    Parameters
    ----------
    rows : mapping of str to Catcher, optional
        The catchers; the whole table if not given.
    ground : str, optional
        What lies below.
    ember : Ember, optional
        As in :func:`lasting`.

    Returns
    -------
    dict of str to Lasting
        In the order of the rows.

    Raises
    ------
    InputError
        If the ground is unknown.

    References
    ----------
    .. [1] As :func:`lasting`.

    Examples
    --------
    >>> keeps = lastings(ground="dry soil")
    >>> keeps["aluminium_foil"].alone.likely < keeps["leather"].alone.likely
    True
    """
    rows = catchers() if rows is None else rows
    bed = replace(ember, crust=max(ember.crust, constant_band("crust").high))
    alone, fed = _until_out(ember, _drawn(rows, ground, (ember, bed)))
    alone = np.minimum(alone, _burning_times(ember))
    return {
        key: Lasting(_over(first), _over(then))
        for key, first, then in zip(rows, alone, fed, strict=True)
    }


def _over(times):
    """Least, likely and most of all corners, the likely one first."""
    return Band(*map(float, (times.min(), times[0], times.max())))


def _drawn(rows, ground, embers):
    """Joules drawn up to each time, ember by ember on each catcher: likely, most and least.

    The embers differ in their crust alone.
    """
    alike, *_ = embers
    stacks = [[layers(one, ground=ground, ember=each) for one in rows.values()] for each in embers]
    together = {key: np.array([[stack[key]] for stack in stacks[0]]) for key in stacks[0][0]}
    together["crust_resistance"] = np.array(
        [[[stack["crust_resistance"]] for stack in line] for line in stacks]
    )
    _, joules, _ = disc_draw(_SOME_TIMES, radius=alike.radius, **together)
    # It grows so evenly, both axes in factors, that a curve through some times tells all of them.
    curve = CubicSpline(np.log(_SOME_TIMES), np.log(alike.rise * joules), axis=-1)
    likely = np.exp(curve(np.log(_TIMES)))
    ends = [
        [
            (1.0, *(end / one.joules.likely for end in one.joules.ends[::-1]))
            for one in draws(rows, ground=ground, ember=each).values()
        ]
        for each in embers
    ]
    return np.array(ends)[..., np.newaxis] * likely[..., np.newaxis, :]


def _corners(ember):
    """Heat of smouldering and burning time at their ends, the likely ones first."""
    heats, times = constant_band("heat_of_smouldering"), constant_band("burning_time")
    return list(
        product(
            (ember.heat_of_smouldering, heats.low, heats.high),
            (ember.burning_time, times.low, times.high),
        )
    )


def _burning_times(ember):
    return np.repeat([time for _, time in _corners(ember)], 3)


def _until_out(ember, drawn):
    """March the ember's temperature until it is out, for all corners at once; never is infinite."""
    powers = [
        smoulder_power(ember.mass, heat_of_smouldering=heat, burning_time=time)
        for heat, time in _corners(ember)
    ]
    ends = drawn.shape[-2]
    count = *drawn.shape[:-2], len(powers) * ends
    power = np.broadcast_to(np.repeat(powers, ends), count)
    taken = np.moveaxis(np.tile(drawn, (len(powers), 1)), -1, 0)
    stored = ember.mass * constant("dust_heat_capacity")
    least, ambient = constant_band("temperature_ember").low, ember.temperature_ambient
    hot, out = np.full(count, ember.temperature), np.full(count, np.inf)
    before, had = 0.0, np.zeros(count)
    for time, joules in zip(_TIMES, taken, strict=True):
        step = time - before
        leads = (joules - had) / step / ember.rise
        gain = (power - ember.face_loss_at(hot) - leads * (hot - ambient)) / stored
        slope = -(ember.face_loss_slope(hot) + leads) / stored
        cooler = hot + step * gain / (1 - step * slope)  # half implicit: steady in long steps
        falls = (cooler < least) & (hot >= least)
        share = (hot - least) / np.where(falls, hot - cooler, 1.0)
        out = np.where(falls & np.isinf(out), before + share * step, out)
        hot, before, had = np.maximum(cooler, ambient), time, joules
    return out
