"""Water in the air and water in the wood.

Warming air adds no water to it, but warm air could hold more: its relative humidity falls, and
relative humidity is what wood answers to. Moisture is mass of water over oven-dry mass, a
fraction: 0.12, not 12. Constants are in ``data/constants.toml``.
"""

import numpy as np
from numpy.polynomial.polynomial import polyval
from scipy.special import exprel

from ..constants import constant
from ..quantities import Numbers, check, check_kelvin, from_si, plain


def saturation_pressure(temperature: Numbers) -> Numbers:
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
    return plain(pressure)


def warmed_humidity(
    temperature: Numbers, *, relative_humidity: Numbers, warming: Numbers
) -> Numbers:
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

    >>> round(warmed_humidity(283.15, relative_humidity=0.85, warming=15.0), 2)
    0.33
    """
    temperature, relative_humidity, warming = check(
        temperature=temperature, relative_humidity=relative_humidity, warming=warming
    )
    before, after = saturation_pressure(temperature), saturation_pressure(temperature + warming)
    return relative_humidity * (before / after)  # unwarmed air keeps its humidity to the last digit


def equilibrium_moisture(temperature: Numbers, *, relative_humidity: Numbers) -> Numbers:
    r"""Moisture that wood settles at in air that stays the same.

    .. math::

        M = \frac{18}{W} \left[ \frac{K h}{1 - K h}
            + \frac{K_1 K h + 2 K_1 K_2 K^2 h^2}{1 + K_1 K h + K_1 K_2 K^2 h^2} \right]

    Parameters
    ----------
    temperature : float or ndarray
        Temperature of the air. [K]
    relative_humidity : float or ndarray
        Relative humidity, a fraction. [1]

    Returns
    -------
    float or ndarray
        Mass of water over oven-dry mass, broadcast over the arguments. [1]

    Raises
    ------
    InputError
        If the humidity is not a fraction, or the temperature is outside -40 to 132 degC.

    Notes
    -----
    An average over species. Wood that dries stops a little wetter than wood that takes up water.
    The table behind it begins at 30 degF, -1 degC, with a row that hardly differs from the next.
    In frost the moisture of 0 degC is held: the equation turns round near 3 degC, to drier wood in
    colder air, of which nothing is known.

    References
    ----------
    .. [1] USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, eq. 4-5, table 4-2
       (Hailwood & Horrobin's sorption equation).
    .. [2] Simpson, Equilibrium Moisture Content of Wood in Outdoor Locations, FPL-RN-0268, 1998.

    Examples
    --------
    >>> round(equilibrium_moisture(294.26, relative_humidity=0.5), 3)
    0.092
    """
    relative_humidity = check(relative_humidity=relative_humidity)
    return plain(_sorbed(relative_humidity, *_sorption_constants(temperature)))


def _sorption_constants(temperature):
    """W, K, K1 and K2 of the sorption equation."""
    kelvin = check_kelvin("temperature", temperature, *constant("equilibrium_temperature"))
    celsius = np.maximum(from_si(kelvin, "degC"), 0.0)
    return [polyval(celsius, constant(f"equilibrium_{key}")) for key in ("w", "k", "k1", "k2")]


def _sorbed(relative_humidity, w, k, k1, k2):
    """Moisture held at a humidity: dissolved water, and water bound in one and two layers."""
    a = k * relative_humidity
    bound = (k1 * a + 2 * k1 * k2 * a**2) / (1 + k1 * a + k1 * k2 * a**2)
    return constant("equilibrium_numerator") / w * (a / (1 - a) + bound)


def heat_of_sorption(moisture: Numbers) -> Numbers:
    r"""Extra heat to free the water from dry wood, beyond boiling it; mean over all of it.

    .. math:: \bar h_s = \frac{1}{M} \int_0^M Q e^{-b m} \, dm = Q \frac{1 - e^{-b M}}{b M}

    Parameters
    ----------
    moisture : float or ndarray
        Mass of water over oven-dry mass, at most 0.25. [1]

    Returns
    -------
    float or ndarray
        Heat for a mass of water. [J/kg]

    Raises
    ------
    InputError
        If the moisture is out of its range.

    References
    ----------
    .. [1] Siau, Wood: Influence of Moisture on Physical Properties, 1995. (from memory)

    Examples
    --------
    >>> round(heat_of_sorption(0.09))
    665178
    """
    decay = constant("sorption_heat_decay") * check(moisture=moisture)
    return plain(constant("sorption_heat_dry") * exprel(-decay))
