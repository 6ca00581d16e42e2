"""The spindle's tip, ring by ring: who presses, who holds back.

How the pressing is spread (``contact``, see :mod:`fireheat.kit.bowing`) says how much force the
rings inside a distance s carry: ``F (s/r)^n``, with n = 1 for a worn-in and n = 2 for a fresh tip.
All else follows: the rings inside s are themselves a tip of radius s, so their torque is
``C mu F(s) s``, and a ring is what lies inside its outer edge less what lies inside its inner one.
"""

import numpy as np

from ..quantities import InputError, Numbers, check, choose
from .bowing import FLAT, torque_coefficient


def force_exponent(contact: str) -> int:
    """Power of the distance with which the force carried inside it grows; C = n / (n + 1).

    Parameters
    ----------
    contact : str
        How the pressure is spread, see :func:`fireheat.kit.bowing.torque_coefficient`.

    Returns
    -------
    int
        One for a worn-in tip, two for a fresh one.

    Raises
    ------
    InputError
        If ``contact`` is neither: the rings of a domed tip follow no power.

    Examples
    --------
    >>> force_exponent("uniform_wear"), force_exponent("uniform_pressure")
    (1, 2)
    """
    share = torque_coefficient(choose("contact of rings, which must be flat,", contact, FLAT))
    return round(share / (1 - share))


def worn_depth(dust_mass: Numbers, *, radius: Numbers, density: Numbers) -> Numbers:
    r"""How much shorter spindle and board get, together, for so much dust.

    .. math:: d_b = \frac{m}{\rho_0 \, \pi r^2}

    Parameters
    ----------
    dust_mass : float or ndarray
        Mass of dry dust worn off. [kg]
    radius : float or ndarray
        Radius of the spindle's tip. [m]
    density : float or ndarray
        Oven-dry density of the wood. [kg/m^3]

    Returns
    -------
    float or ndarray
        Burn-in depth, broadcast over the arguments. [m]

    Raises
    ------
    InputError
        If a value is not positive.

    References
    ----------
    .. [1] Mass over density and area; the inverse of :func:`fireheat.ember.ember.dust_mass`.

    Examples
    --------
    >>> print(f"{1000 * worn_depth(0.25e-3, radius=0.008, density=320.0):.1f} mm")
    3.9 mm
    """
    dust_mass, radius, density = check(dust_mass=dust_mass, radius=radius, density=density)
    return dust_mass / (density * np.pi * radius**2)


def wear_limit(friction: Numbers, *, rise: Numbers, volumetric_heat_capacity: Numbers) -> Numbers:
    r"""Wear of a pair, from which on it never gets hot: the dust takes all heat along.

    .. math:: K = \frac{\mu}{C \, \Delta T}

    Parameters
    ----------
    friction : float or ndarray
        Friction coefficient between spindle and board. [1]
    rise : float or ndarray
        Rise to where dust chars. [K]
    volumetric_heat_capacity : float or ndarray
        Heat that a volume of wood takes for each kelvin, its water's included. [J/(m^3 K)]

    Returns
    -------
    float or ndarray
        Wood worn off, of both, for a force and a way slid. A pair that wears faster makes cool
        brown dust, whatever force, speed and diameter. [m^3/(N m)]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Heat that goes anywhere but into the dust only makes it worse, so less wear than this is needed,
    but may not do.

    References
    ----------
    .. [1] Derived in :func:`fireheat.derivation.tip.derived_wear_limit`; wear as in Archard, J.
       Applied Physics 24 (1953) 981. (from memory)

    Examples
    --------
    The ordinary pair, in cubic millimetres for a newton and a metre:

    >>> limit = wear_limit(0.35, rise=330.0, volumetric_heat_capacity=8.5e5)
    >>> print(f"{1e9 * limit:.1f}")
    1.2
    """
    friction, rise, volumetric_heat_capacity = check(
        friction=friction, rise=rise, volumetric_heat_capacity=volumetric_heat_capacity
    )
    return friction / (rise * volumetric_heat_capacity)


def check_place(distance: Numbers, *, radius: Numbers) -> Numbers:
    """Check a place on the tip.

    Parameters
    ----------
    distance : float or ndarray
        Distance from the axis. [m]
    radius : float or ndarray
        Radius of the tip. [m]

    Returns
    -------
    distance, radius : float or ndarray
        Both, as floats or float arrays. [m]

    Raises
    ------
    InputError
        If the radius is not positive, or the distance is negative or beyond it.

    References
    ----------
    .. [1] A tip ends at its radius.

    Examples
    --------
    >>> check_place(0.005, radius=0.010)
    (0.005, 0.01)
    """
    distance, radius = check(distance=distance, radius=radius)
    outside = np.asarray(distance > radius)
    if np.any(outside):
        far = np.extract(outside, np.broadcast_to(distance, outside.shape))[0]
        raise InputError(f"distance from the axis is {far:g} m; allowed: 0 m to the tip's radius")
    return distance, radius


def force_within(
    distance: Numbers, *, force: Numbers, radius: Numbers, contact: str = "uniform_wear"
) -> Numbers:
    r"""Force that the tip carries inside a distance from its axis.

    .. math:: F(s) = F (s/r)^n

    Parameters
    ----------
    distance : float or ndarray
        Distance from the axis. [m]
    force : float or ndarray
        Downward force on the whole tip. [N]
    radius : float or ndarray
        Radius of the tip. [m]
    contact : str, optional
        How the pressure is spread, see :func:`fireheat.kit.bowing.torque_coefficient`.

    Returns
    -------
    float or ndarray
        Force, from zero at the axis to the whole at the rim. [N]

    Raises
    ------
    InputError
        If a value is out of its range, or the distance lies outside the tip.

    References
    ----------
    .. [1] Integral of the pressures derived in :func:`fireheat.derivation.bound.derived_pressure`.

    Examples
    --------
    >>> force_within(0.005, force=60.0, radius=0.010)
    30.0
    >>> force_within(0.005, force=60.0, radius=0.010, contact="uniform_pressure")
    15.0
    """
    distance, radius = check_place(distance, radius=radius)
    return check(force=force) * (distance / radius) ** force_exponent(contact)


def torque_within(
    distance: Numbers,
    *,
    force: Numbers,
    friction: Numbers,
    radius: Numbers,
    contact: str = "uniform_wear",
) -> Numbers:
    r"""Friction torque of the rings inside a distance from the axis.

    .. math:: T(s) = C \mu F(s) s

    Parameters
    ----------
    distance : float or ndarray
        Distance from the axis. [m]
    force : float or ndarray
        Downward force on the whole tip. [N]
    friction : float or ndarray
        Friction coefficient between spindle and board. [1]
    radius : float or ndarray
        Radius of the tip. [m]
    contact : str, optional
        How the pressure is spread, see :func:`fireheat.kit.bowing.torque_coefficient`.

    Returns
    -------
    float or ndarray
        Torque, from zero at the axis to the whole at the rim. [N m]

    Raises
    ------
    InputError
        If a value is out of its range, or the distance lies outside the tip.

    References
    ----------
    .. [1] Shigley, Mechanical Engineering Design, axial clutches, for a tip of radius s.
       (from memory)

    Examples
    --------
    >>> place = np.array([0.0, 0.005, 0.010])
    >>> torque_within(place, force=60.0, friction=0.4, radius=0.010).round(4).tolist()
    [0.0, 0.03, 0.12]
    """
    carried = force_within(distance, force=force, radius=radius, contact=contact)
    distance, friction = check(distance=distance, friction=friction)
    return torque_coefficient(contact) * friction * carried * distance


def turning_speed(speed: Numbers, *, cord_radius: Numbers) -> Numbers:
    r"""Find how fast a running cord turns its spindle.

    .. math:: \omega = v / R

    Parameters
    ----------
    speed : float or ndarray
        Average speed of the cord, both ways counted. [m/s]
    cord_radius : float or ndarray
        Radius where the cord wraps. [m]

    Returns
    -------
    float or ndarray
        Average turning speed, both ways counted. [rad/s]

    Raises
    ------
    InputError
        If the speed is negative or the radius is not positive.

    References
    ----------
    .. [1] A cord that does not slip runs as fast as the surface it turns.

    Examples
    --------
    >>> round(turning_speed(1.0, cord_radius=0.0065), 1)
    153.8
    """
    speed, cord_radius = check(speed=speed, cord_radius=cord_radius)
    return speed / cord_radius
