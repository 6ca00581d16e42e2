"""Consequences of the two-stage curve: the power's exponent, and where the heat has gone."""

import numpy as np

from fireheat.heat.two_stage import area_exponent, curve_root, energy_ratio, over_rate
from fireheat.quantities import check, plain


def power_exponent(flux, *, energy_per_area, effusivity, rise):
    r"""Power of the watts with which the ember's time grows, on the same tip.

    .. math:: \frac{\partial \ln t}{\partial \ln P} = -n

    Force, friction and speed each act through the watts alone, so it is theirs too.

    Parameters
    ----------
    flux : float or ndarray
        Heat flux made in the contact, for both bodies together. [W/m^2]
    energy_per_area : float or ndarray
        Energy to grind off and char one ember's dust, over the contact area. [J/m^2]
    effusivity : float or ndarray
        Thermal effusivities of both bodies, added. [J/(m^2 K s^0.5)]
    rise : float or ndarray
        Charring temperature less the temperature at the start. [K]

    Returns
    -------
    float or ndarray
        From -1 to -2: area and watts act only through the flux P/A, so it is
        :func:`area_exponent` with its sign turned. [1]

    Raises
    ------
    InputError
        If a value is out of its range.

    References
    ----------
    .. [1] Derived in :func:`fireheat.derivation.two_stage.two_stage_steps`.

    Examples
    --------
    >>> round(power_exponent(126e3, energy_per_area=1.03e6, effusivity=700.0, rise=300.0), 3)
    -1.295
    """
    return -area_exponent(flux, energy_per_area=energy_per_area, effusivity=effusivity, rise=rise)


def heat_split(flux, *, energy_per_area, effusivity, rise):
    r"""Where the heat of the two-stage estimate has gone when the ember is there.

    .. math:: q t = E + \frac{2}{\pi} q t_1
        \left[ s \arcsin \frac{1}{\sqrt{s}} + \sqrt{s - 1} \right]

    Parameters
    ----------
    flux : float or ndarray
        Heat flux made in the contact, for both bodies together. [W/m^2]
    energy_per_area : float or ndarray
        Energy to grind off and char one ember's dust, over the contact area. [J/m^2]
    effusivity : float or ndarray
        Thermal effusivities of both bodies, added. [J/(m^2 K s^0.5)]
    rise : float or ndarray
        Charring temperature less the temperature at the start. [K]

    Returns
    -------
    dust : float or ndarray
        What went into the dust: the energy it needs. [J/m^2]
    soaked : float or ndarray
        What soaked into spindle and board; infinite without flux. [J/m^2]

    Raises
    ------
    InputError
        If a value is out of its range.

    References
    ----------
    .. [1] Derived in :func:`fireheat.derivation.two_stage.two_stage_steps`.

    Examples
    --------
    >>> dust, soaked = heat_split(126e3, energy_per_area=1.03e6, effusivity=700.0, rise=300.0)
    >>> dust, round(soaked, -3)
    (1030000.0, 906000.0)
    """
    flux, energy_per_area, effusivity, rise = check(
        flux=flux, energy_per_area=energy_per_area, effusivity=effusivity, rise=rise
    )
    soaking = effusivity * rise
    eps = energy_ratio(flux, energy_per_area=energy_per_area, soaking=soaking)
    T = curve_root(eps)  # noqa: N806
    share = 2 / np.pi * ((1 + T * T) * np.arctan(1 / T) + T)
    return energy_per_area, over_rate(np.pi / 4 * soaking * soaking, rate=flux) * plain(share)
