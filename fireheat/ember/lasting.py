"""How long an ember keeps on what it fell on, left alone and fed. ROUGH.

Its dust makes heat as it smoulders away; its open face and the catcher take heat, less the cooler
it gets. Where they take more than it makes, it cools, and below some 450 degC it is out. Where it
holds its own, it lasts until its dust is gone; fed with more, on a bed of its own dead dust, for
as long as somebody feeds it.
"""

from dataclasses import replace
from itertools import product
from typing import NamedTuple

import numpy as np

from ..bands import Band
from ..constants import constant, constant_band
from .catchers import AIR_GAP, Catcher
from .draw import draw, draw_history
from .ember import Ember, face_flux, smoulder_power

_TIMES = np.geomspace(0.02, 3600.0, 240)  # an hour: longer than anybody feeds one


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
    bed = replace(ember, crust=max(ember.crust, constant_band("crust").high))
    alone, fed = (_until_out(one, _drawn(catcher, ground, one)) for one in (ember, bed))
    times = _burning_times(ember)
    return Lasting(_over(np.minimum(alone, times)), _over(fed))


def _over(times):
    """Least, likely and most of all corners, the likely one first."""
    return Band(*map(float, (times.min(), times[0], times.max())))


def _drawn(catcher, ground, ember):
    """Joules drawn up to each time: likely, most and least."""
    _, joules = draw_history(catcher, time=_TIMES, ground=ground, ember=ember)
    minute = draw(catcher, ground=ground, ember=ember).joules
    return [joules * end / minute.likely for end in (minute.likely, minute.high, minute.low)]


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
    power, taken = np.repeat(powers, 3), np.tile(drawn, (len(powers), 1))
    stored = ember.mass * constant("dust_heat_capacity")
    least = constant_band("temperature_ember").low
    hot = np.full(len(power), ember.temperature)
    out = np.full(len(power), np.inf)
    before, had = 0.0, np.zeros(len(power))
    for time, joules in zip(_TIMES, taken.T, strict=True):
        step = time - before
        leads = (joules - had) / step / ember.rise

        def gain(kelvin, leads=leads):
            loss = ember.area * face_flux(
                kelvin,
                temperature_ambient=ember.temperature_ambient,
                film=ember.film,
                emissivity=ember.emissivity,
            )
            return (power - loss - leads * (kelvin - ember.temperature_ambient)) / stored

        now, slope = gain(hot), gain(hot + 1) - gain(hot)
        cooler = hot + step * now / (1 - step * slope)  # half implicit: steady where steps are long
        falls = (cooler < least) & (hot >= least)
        share = (hot - least) / np.where(falls, hot - cooler, 1.0)
        out = np.where(falls & np.isinf(out), before + share * step, out)
        hot, before, had = np.maximum(cooler, ember.temperature_ambient), time, joules
    return out
