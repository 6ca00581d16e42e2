"""When things happen: the energy bound, first steady smoke, and the ember.

Two answers that must never be mistaken for one another. The *bound* counts only the energy that
the dust itself needs: no kit can beat it. The *two-stage estimate* lets both bodies soak up heat:
first the contact must reach charring (*smoke*), then what is not soaked up makes dust until there
is enough of it (*ember*). Both formulas are derived in :mod:`fireheat.relation`.

Letters in short bodies: T = sqrt(t/t1 - 1), with t the ember's time and t1 the smoke's, and
eps = E/(q t1), the energy the dust needs over the heat made until smoke.
"""

import numpy as np

from .bowing import friction_power
from .quantities import check


def energy_bound(
    energy_per_area,
    force,
    friction,
    speed,
    radius,
    *,
    contact="uniform_wear",
    cord_radius=None,
):
    r"""Least time in which bowing could deliver the energy that an ember's dust needs.

    .. math:: t_{bound} = \frac{E \pi r^2}{P}, \qquad P = C \mu F v \, r / R

    Parameters
    ----------
    energy_per_area : float or ndarray
        Energy to grind off and char one ember's dust, over the contact area. [J/m^2]
    force : float or ndarray
        Downward force on the tip. [N]
    friction : float or ndarray
        Friction coefficient between spindle and board. [1]
    speed : float or ndarray
        Average speed of the cord, both ways counted. [m/s]
    radius : float or ndarray
        Radius of the tip. [m]
    contact : str, optional
        How the pressure is spread, see :func:`fireheat.bowing.torque_coefficient`.
    cord_radius : float or ndarray, optional
        Radius where the cord wraps; the tip's if left out. [m]

    Returns
    -------
    float or ndarray
        Time, broadcast over the arguments; infinite where no heat is made. [s]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    A lower bound, not an estimate: all heat soaked up by the wood or lost to the air is left out,
    so a real try takes longer, often several times as long.

    References
    ----------
    .. [1] The thermally thin ignition time, rho c d DT/q, in Quintiere, Fundamentals of Fire
       Phenomena, chapter 7. (from memory)

    Examples
    --------
    >>> round(energy_bound(1e6, 60.0, 0.35, 1.0, 0.0065), 2)
    12.64
    """
    energy_per_area, radius = check(energy_per_area=energy_per_area, radius=radius)
    power = friction_power(
        force,
        friction,
        speed,
        contact=contact,
        radius=radius,
        cord_radius=cord_radius,
    )
    return _over(energy_per_area * np.pi * radius * radius, power)


def two_stage(flux, energy_per_area, effusivity, rise):
    r"""Time to first steady smoke and to the ember, while two thick bodies soak up heat.

    .. math:: t_1 = \frac{\pi}{4} \left( \frac{e \, \Delta T}{q} \right)^2, \qquad
        s - \frac{2}{\pi} \left[ s \arcsin \frac{1}{\sqrt{s}} + \sqrt{s - 1} \right]
        = \frac{E}{q t_1}, \qquad t = s \, t_1

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
    smoke : float or ndarray
        Time at which the contact chars; infinite without flux. [s]
    ember : float or ndarray
        Time at which the dust has had its energy; infinite without flux. [s]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Exact for bodies so thick and wide that heat flows straight in. A real tip is narrow, so heat
    spreads sideways in the board and leaks to the air: later than some ten seconds this errs
    early, and it never says "never" to a flux above zero.

    References
    ----------
    .. [1] The thermally thick ignition time in Quintiere, Fundamentals of Fire Phenomena,
       chapter 7. (from memory)
    .. [2] The second stage is derived in :func:`fireheat.relation.two_stage_steps`.

    Examples
    --------
    >>> smoke, ember = two_stage(126e3, 1.03e6, 700.0, 300.0)
    >>> round(smoke, 3), round(ember, 2)
    (2.182, 15.37)
    """
    flux, energy_per_area, effusivity, rise = check(
        flux=flux, energy_per_area=energy_per_area, effusivity=effusivity, rise=rise
    )
    soaking = effusivity * rise
    eps = _dust_ratio(flux, energy_per_area, soaking)
    smoke = _over(np.pi / 4 * soaking * soaking, flux * flux)
    # Later than smoke by t1 T^2, written (E/q)(T^2/eps) so that no limit is infinity times zero.
    return smoke, smoke + _over(energy_per_area, flux) * _plain(_root(eps) ** 2 / eps)


def area_exponent(flux, energy_per_area, effusivity, rise):
    r"""Power of the contact area with which the ember's time grows, at the same watts.

    .. math:: n = \frac{\partial \ln t}{\partial \ln A}
        = 2 - \frac{E / (q t_1)}{s \left( 1 - \frac{2}{\pi} \arcsin \frac{1}{\sqrt{s}} \right)}

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
        From 1 (all heat goes into dust) to 2 (all soaks in). The exponent of the radius is twice
        this. [1]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    With leak to the air, which this leaves out, the true exponent can pass 2.

    References
    ----------
    .. [1] Derived in :func:`fireheat.relation.two_stage_steps`.

    Examples
    --------
    >>> round(area_exponent(126e3, 1.03e6, 700.0, 300.0), 3)
    1.295
    """
    flux, energy_per_area, effusivity, rise = check(
        flux=flux, energy_per_area=energy_per_area, effusivity=effusivity, rise=rise
    )
    eps = _dust_ratio(flux, energy_per_area, effusivity * rise)
    T = _root(eps)  # noqa: N806
    exponent = 2 - eps / (1 + T * T) / (2 / np.pi * np.arctan(T))
    return _plain(np.clip(exponent, 1, 2))  # rounding would end a hair outside


def power_exponent(flux, energy_per_area, effusivity, rise):
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
    .. [1] Derived in :func:`fireheat.relation.two_stage_steps`.

    Examples
    --------
    >>> round(power_exponent(126e3, 1.03e6, 700.0, 300.0), 3)
    -1.295
    """
    return -area_exponent(flux, energy_per_area, effusivity, rise)


def heat_split(flux, energy_per_area, effusivity, rise):
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
    .. [1] Derived in :func:`fireheat.relation.two_stage_steps`.

    Examples
    --------
    >>> dust, soaked = heat_split(126e3, 1.03e6, 700.0, 300.0)
    >>> dust, round(soaked, -3)
    (1030000.0, 906000.0)
    """
    flux, energy_per_area, effusivity, rise = check(
        flux=flux, energy_per_area=energy_per_area, effusivity=effusivity, rise=rise
    )
    soaking = effusivity * rise
    T = _root(_dust_ratio(flux, energy_per_area, soaking))  # noqa: N806
    share = 2 / np.pi * ((1 + T * T) * np.arctan(1 / T) + T)
    return energy_per_area, _over(np.pi / 4 * soaking * soaking, flux) * _plain(share)


def _plain(value):
    """Turn a NumPy number into a plain float, so that notebooks print it plainly."""
    return value if np.ndim(value) else float(value)


def _over(amount, rate):
    """Amount over rate; for ever where the rate is zero, whatever the amount."""
    if np.all(rate > 0):
        return amount / rate
    time = np.full(np.broadcast_shapes(np.shape(amount), np.shape(rate)), np.inf)
    np.divide(amount, rate, out=time, where=rate > 0)
    return _plain(time)


def _dust_ratio(flux, energy_per_area, soaking):
    """Return eps, kept inside what floats can square and divide by; both ends are limits."""
    eps = _over(energy_per_area * flux, np.pi / 4 * soaking * soaking)
    return np.clip(eps, 1e-150, 1e150)


def _root(eps):
    """Solve (1 + T^2) arctan(T) - T = (pi/2) eps, the universal curve, for T."""
    y = np.pi / 2 * eps
    small = np.cbrt(1.5 * y)
    large = 2 / np.pi * (1 + np.sqrt(np.maximum(1 + np.pi / 2 * (y - np.pi / 2), 0)))
    T = np.where(small < 1.5, small * (1 + small * small / 15), large)  # noqa: N806
    for _ in range(2):  # Halley steps: within 8 % of s to start with, then 1e-4, then 3e-13
        angle = np.arctan(T)
        slope = 2 * T * angle
        excess = (1 + T * T) * angle - T - y
        T = T - excess / (slope - excess * (angle + T / (1 + T * T)) / slope)  # noqa: N806
    return T
