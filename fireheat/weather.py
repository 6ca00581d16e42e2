"""Weather in the wood: how moist it settles outdoors and on a warm rack, and what that costs.

Warming air adds no water to it, but warm air could hold more: its relative humidity falls, and
relative humidity is what wood answers to.
"""

from dataclasses import dataclass

import numpy as np

from .constants import constant
from .kit import Air, Effort, Kit
from .milestones import times
from .quantities import check, check_kelvin, default, from_si
from .wood import density, energy_parts, equilibrium_moisture, wood


def saturation_pressure(temperature):
    r"""Pressure of water vapour in air that can hold no more.

    .. math:: p_s = a \, \exp \frac{b \, t}{c + t}, \quad t \text{ in degC}

    Parameters
    ----------
    temperature : float or ndarray
        Temperature of the air. [K]

    Returns
    -------
    float or ndarray
        Vapour pressure over liquid water. [Pa]

    Raises
    ------
    InputError
        If the temperature is outside -45 to 60 degC.

    Notes
    -----
    Over liquid water even below freezing: so is relative humidity reckoned in weather reports.

    References
    ----------
    .. [1] World Meteorological Organization, Guide to Instruments and Methods of Observation,
       WMO-No. 8, annex 4.B, as reprinted in the documentation of the packages pvlib and bigleaf.

    Examples
    --------
    >>> round(saturation_pressure(293.15))
    2333
    """
    ends = constant("saturation_temperature")
    temperature = check_kelvin("temperature_ambient", temperature, *ends)
    a, b, c = constant("saturation_pressure")
    celsius = from_si(temperature, "degC")
    pressure = a * np.exp(b * celsius / (c + celsius))
    return pressure if np.ndim(pressure) else float(pressure)


def warmed_humidity(temperature, relative_humidity, warming):
    r"""Relative humidity of air that is warmed while its water stays the same.

    .. math:: h' = h \, \frac{p_s(T)}{p_s(T + \Delta T)}

    Parameters
    ----------
    temperature : float or ndarray
        Temperature of the air before. [K]
    relative_humidity : float or ndarray
        Relative humidity before, a fraction. [1]
    warming : float or ndarray
        How much warmer the air becomes. [K]

    Returns
    -------
    float or ndarray
        Relative humidity after, broadcast over the arguments. [1]

    Raises
    ------
    InputError
        If the humidity is not a fraction, the air is cooled, or a temperature is out of range.

    References
    ----------
    .. [1] The vapour's own pressure stays as air is warmed in the open; the rest is the definition
       of relative humidity. See :func:`saturation_pressure`.

    Examples
    --------
    Damp autumn air, 10 degC and 85 %, warmed by 15 degrees:

    >>> round(warmed_humidity(283.15, 0.85, 15.0), 2)
    0.33
    """
    temperature, relative_humidity, warming = check(
        temperature=temperature, relative_humidity=relative_humidity, warming=warming
    )
    before, after = saturation_pressure(temperature), saturation_pressure(temperature + warming)
    return relative_humidity * (before / after)  # unwarmed air keeps its humidity to the last digit


@dataclass(frozen=True)
class Store:
    """Wood that has long been kept in one air, and what an ember from it takes, bowed outdoors.

    Attributes
    ----------
    temperature : float
        Temperature of the air where it is kept. [K]
    relative_humidity : float
        Relative humidity there. [1]
    moisture : float
        Moisture that it settles at: water over dry wood. [1]
    bound : float
        No ember sooner than this. [s]
    ember : ndarray, shape (3,)
        Estimate: low end, likely, high end. [s]
    wood, water : float
        Heat that one ember's dust takes, and what its water takes. [J]
    """

    temperature: float
    relative_humidity: float
    moisture: float
    bound: float
    ember: np.ndarray
    wood: float
    water: float

    @property
    def water_share(self) -> float:
        """Part of the dust's heat that only boils water."""
        return self.water / (self.wood + self.water)


def stores(kit: Kit, effort: Effort, air: Air, warming: float) -> tuple[Store, Store]:
    """Compare wood kept outdoors with wood kept on a rack in the same air, warmed.

    Parameters
    ----------
    kit : Kit
        The kit; its moisture is replaced by what the wood settles at.
    effort : Effort
        The effort.
    air : Air
        The air outdoors, where the bowing is done too.
    warming : float
        How much warmer it is at the rack. [K]

    Returns
    -------
    tuple of Store
        Outdoors, and on the rack.

    Raises
    ------
    InputError
        If the wood would settle wetter than 25 %, or the air is out of range.

    Notes
    -----
    For wood that has had its time: days for a thin stick, weeks for a board (common practice, no
    source). Rain is left out: it puts water into wood that no air can. So is the breath of people
    and the steam of kettles, which make the air at a rack moister than this.

    References
    ----------
    .. [1] :func:`fireheat.wood.equilibrium_moisture` in the air of :func:`warmed_humidity`.

    Examples
    --------
    >>> outdoors, rack = stores(Kit(), Effort(), Air(temperature=283.15), 15.0)
    >>> outdoors.moisture > rack.moisture
    True
    """
    temperature = air.temperature + np.array([0.0, warming])
    humidity = warmed_humidity(air.temperature, air.relative_humidity, np.array([0.0, warming]))
    moisture = equilibrium_moisture(temperature, humidity)
    found = times(kit, effort, air, moisture=moisture)
    parts = energy_parts(
        kit.burn_in_depth,
        density(wood(kit.wood).specific_gravity),
        moisture,
        temperature_ambient=air.temperature,
        temperature_char=default("temperature_char"),
    )
    area = np.pi * kit.radius**2
    outdoors, rack = (
        Store(
            temperature=float(temperature[at]),
            relative_humidity=float(humidity[at]),
            moisture=float(moisture[at]),
            bound=float(found.bound[at]),
            ember=found.ember[:, at],
            wood=float(parts.wood * area),
            water=float(parts.water[at] * area),
        )
        for at in (0, 1)
    )
    return outdoors, rack
