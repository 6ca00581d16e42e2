"""Wood's isotherm the other way round, and the dust's energy as one number."""

import numpy as np

from fireheat.kit.moisture import equilibrium_moisture
from fireheat.kit.wood import energy_parts
from fireheat.quantities import InputError, check, plain


def equilibrium_humidity(temperature, *, moisture):
    r"""Relative humidity at which wood keeps its moisture; inverse of :func:`equilibrium_moisture`.

    Parameters
    ----------
    temperature : float or ndarray
        Temperature of the air. [K]
    moisture : float or ndarray
        Mass of water over oven-dry mass, at most 0.25. [1]

    Returns
    -------
    float or ndarray
        Relative humidity, broadcast over the arguments. [1]

    Raises
    ------
    InputError
        If a value is out of its range, or the moisture is more than saturated air would give.

    References
    ----------
    .. [1] USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, eq. 4-5, solved by
       bisection.

    Examples
    --------
    >>> round(equilibrium_humidity(294.26, moisture=0.12), 2)
    0.65
    """
    moisture = check(moisture=moisture)
    high = np.ones(np.broadcast(moisture, temperature).shape)
    saturated = equilibrium_moisture(temperature, relative_humidity=high)
    for wet, most in np.broadcast(moisture, saturated):
        if wet > most:
            raise InputError(
                f"wood moisture is {wet:g}; allowed: up to {most:g}, what saturated air gives it"
            )
    low = np.zeros_like(high)
    for _ in range(np.finfo(float).nmant):  # each pass settles one more binary digit
        middle = (low + high) / 2
        wetter = equilibrium_moisture(temperature, relative_humidity=middle) > moisture
        low, high = np.where(wetter, low, middle), np.where(wetter, middle, high)
    return plain((low + high) / 2)


def energy_per_area(burn_in_depth, *, density, moisture, temperature_ambient, temperature_char):
    r"""Energy to bring a layer of wood over the contact to charring, its water boiled off.

    .. math::

        E = \rho_0 d \left[ \bar c_0 (T_c - T_0)
            + M \left( c_w (T_b - T_0) + h_{fg} + \bar h_s \right) \right]

    Parameters
    ----------
    burn_in_depth : float or ndarray
        Thickness ground off, spindle and board together. [m]
    density : float or ndarray
        Oven-dry density. [kg/m^3]
    moisture : float or ndarray
        Mass of water over oven-dry mass, at most 0.25. [1]
    temperature_ambient : float or ndarray
        Temperature of the air, and of the wood at the start. [K]
    temperature_char : float or ndarray
        Temperature at which the wood chars. [K]

    Returns
    -------
    float or ndarray
        Energy per area of contact, broadcast over the arguments. [J/m^2]

    Raises
    ------
    InputError
        If a value is out of its range, the air is hotter than boiling water, or the charring
        temperature is below boiling.

    Notes
    -----
    The steam leaves at the boiling point, and what the wood gives or takes as it breaks down is
    left out. The heat capacity of dry wood is extrapolated above about 147 degC.

    References
    ----------
    .. [1] USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, eq. 4-16a.
    .. [2] Siau, Wood: Influence of Moisture on Physical Properties, 1995, heat of sorption. (from
       memory)

    Examples
    --------
    >>> round(energy_per_area(0.004, density=320.0, moisture=0.09, temperature_ambient=293.15,
    ...                       temperature_char=573.15) / 1e6, 2)
    1.01
    """
    return energy_parts(
        burn_in_depth,
        density=density,
        moisture=moisture,
        temperature_ambient=temperature_ambient,
        temperature_char=temperature_char,
    ).total
