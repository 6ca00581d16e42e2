"""Pressure and heat on a flat tip, point by point: what the rings of the library add up to."""

import numpy as np

from fireheat.kit.tip import check_place, force_exponent
from fireheat.quantities import InputError, check


def pressure(distance, *, force, radius, contact="uniform_wear"):
    r"""Pressure between tip and board.

    .. math:: p(s) = \frac{n F}{2 \pi r^2} \left(\frac{s}{r}\right)^{n-2}

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
        Pressure. [Pa]

    Raises
    ------
    InputError
        If a value is out of its range, the distance lies outside the tip, or it is zero on a
        worn-in tip, whose law has no end there.

    Notes
    -----
    A real worn-in tip crushes a little at its middle; there the law stops. The middle carries so
    little that torque and heat hardly notice.

    References
    ----------
    .. [1] Derived in :func:`fireheat.derivation.bound.derived_pressure`.

    Examples
    --------
    >>> round(pressure(0.005, force=60.0, radius=0.010, contact="uniform_pressure"))
    190986
    >>> round(pressure(0.005, force=60.0, radius=0.010))
    190986
    """
    distance, radius = check_place(distance, radius=radius)
    growth = force_exponent(contact)
    if growth < 2 and np.any(np.equal(distance, 0)):
        raise InputError("distance from the axis is 0 m; on a worn-in tip allowed: above 0 m")
    level = growth * check(force=force) / (2 * np.pi * radius**2)
    return level * (distance / radius) ** (growth - 2.0)


def heat_flux(distance, *, force, friction, radius, speed, contact="uniform_wear"):
    r"""Heat made on each bit of area, where the cord wraps at the tip's own radius.

    .. math:: q(s) = \mu \, p(s) \, s \, \frac{v}{r}
              = \frac{n \mu F v}{2 \pi r^2} \left(\frac{s}{r}\right)^{n-1}

    Parameters
    ----------
    distance : float or ndarray
        Distance from the axis. [m]
    force : float or ndarray
        Downward force on the whole tip. [N]
    friction : float or ndarray
        Friction coefficient between spindle and board. [1]
    radius : float or ndarray
        Radius of the tip, and of the cord's wrap. [m]
    speed : float or ndarray
        Average speed of the cord, both ways counted. [m/s]
    contact : str, optional
        How the pressure is spread, see :func:`fireheat.kit.bowing.torque_coefficient`.

    Returns
    -------
    float or ndarray
        Heat flux: the same everywhere on a worn-in tip; from zero at the axis to half as much
        again as the mean at the rim of a fresh one. [W/m^2]

    Raises
    ------
    InputError
        If a value is out of its range, or the distance lies outside the tip.

    References
    ----------
    .. [1] Derived in :func:`fireheat.derivation.bound.bound_steps`, "A worn-in tip heats evenly".

    Examples
    --------
    >>> bowing = {"force": 60.0, "friction": 0.35, "radius": 0.0065, "speed": 1.0}
    >>> [round(heat_flux(place, **bowing)) for place in (0.0, 0.003, 0.0065)]
    [79107, 79107, 79107]
    >>> round(heat_flux(0.0065, **bowing, contact="uniform_pressure"))
    158213
    """
    distance, radius = check_place(distance, radius=radius)
    force, friction, speed = check(force=force, friction=friction, speed=speed)
    growth = force_exponent(contact)
    level = growth * friction * force * speed / (2 * np.pi * radius**2)
    return level * (distance / radius) ** (growth - 1.0)
