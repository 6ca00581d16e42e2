"""The spindle's tip, ring by ring: who presses, who holds back, who makes the heat.

Cut the tip into rings round the axis. How the pressing is spread (``contact``, see
:mod:`fireheat.bowing`) says how much force the rings inside a distance s carry:
``F (s/r)^n``, with n = 1 for a worn-in and n = 2 for a fresh tip. All else follows: the rings
inside s are themselves a tip of radius s, so their torque is ``C mu F(s) s``, and a ring is what
lies inside its outer edge less what lies inside its inner one.
"""

from dataclasses import dataclass

import numpy as np

from .bowing import torque_coefficient
from .kit import Effort, Kit
from .quantities import InputError, check


def _growth(contact):
    """Power n of the distance with which the carried force grows; C = n / (n + 1)."""
    share = torque_coefficient(contact)
    return round(share / (1 - share))


def _inside(distance, radius):
    """Check a place on the tip; return it with the radius."""
    distance, radius = check(distance=distance, radius=radius)
    outside = np.asarray(distance > radius)
    if np.any(outside):
        far = np.extract(outside, np.broadcast_to(distance, outside.shape))[0]
        raise InputError(f"distance from the axis is {far:g} m; allowed: 0 m to the tip's radius")
    return distance, radius


def force_within(distance, force, radius, *, contact="uniform_wear"):
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
        How the pressure is spread, see :func:`fireheat.bowing.torque_coefficient`.

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
    .. [1] Integral of the pressures derived in :func:`fireheat.relation.pressure`.

    Examples
    --------
    >>> force_within(0.005, 60.0, 0.010)
    30.0
    >>> force_within(0.005, 60.0, 0.010, contact="uniform_pressure")
    15.0
    """
    distance, radius = _inside(distance, radius)
    return check(force=force) * (distance / radius) ** _growth(contact)


def torque_within(distance, force, friction, radius, *, contact="uniform_wear"):
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
        How the pressure is spread, see :func:`fireheat.bowing.torque_coefficient`.

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
    >>> [round(torque_within(s, 60.0, 0.4, 0.010), 4) for s in (0.0, 0.005, 0.010)]
    [0.0, 0.03, 0.12]
    """
    carried = force_within(distance, force, radius, contact=contact)
    return torque_coefficient(contact) * check(friction=friction) * carried * distance


def pressure(distance, force, radius, *, contact="uniform_wear"):
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
        How the pressure is spread, see :func:`fireheat.bowing.torque_coefficient`.

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
    .. [1] Derived in :func:`fireheat.relation.pressure`.

    Examples
    --------
    >>> round(pressure(0.005, 60.0, 0.010, contact="uniform_pressure"))
    190986
    >>> round(pressure(0.005, 60.0, 0.010))
    190986
    """
    distance, radius = _inside(distance, radius)
    growth = _growth(contact)
    if growth < 2 and np.any(np.equal(distance, 0)):
        raise InputError("distance from the axis is 0 m; on a worn-in tip allowed: above 0 m")
    level = growth * check(force=force) / (2 * np.pi * radius**2)
    return level * (distance / radius) ** (growth - 2.0)


def heat_flux(distance, force, friction, radius, speed, *, contact="uniform_wear"):
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
        How the pressure is spread, see :func:`fireheat.bowing.torque_coefficient`.

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
    .. [1] Derived in :func:`fireheat.relation.bound_steps`, "A worn-in tip heats evenly".

    Examples
    --------
    >>> [round(heat_flux(s, 60.0, 0.35, 0.0065, 1.0)) for s in (0.0, 0.003, 0.0065)]
    [79107, 79107, 79107]
    >>> round(heat_flux(0.0065, 60.0, 0.35, 0.0065, 1.0, contact="uniform_pressure"))
    158213
    """
    distance, radius = _inside(distance, radius)
    force, friction, speed = check(force=force, friction=friction, speed=speed)
    growth = _growth(contact)
    level = growth * friction * force * speed / (2 * np.pi * radius**2)
    return level * (distance / radius) ** (growth - 1.0)


def turning_speed(speed, cord_radius):
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
    >>> round(turning_speed(1.0, 0.0065), 1)
    153.8
    """
    speed, cord_radius = check(speed=speed, cord_radius=cord_radius)
    return speed / cord_radius


@dataclass(frozen=True)
class Rings:
    """A tip cut into rings, from the axis out.

    Attributes
    ----------
    edges : ndarray, shape (n + 1,)
        Where it is cut: distances from the axis, from zero to the radius. [m]
    force : ndarray, shape (n,)
        Force each ring carries. [N]
    torque : ndarray, shape (n,)
        Torque each ring takes. [N m]
    turning_speed : float
        How fast all of them turn. [rad/s]
    """

    edges: np.ndarray
    force: np.ndarray
    torque: np.ndarray
    turning_speed: float

    @property
    def area(self):
        """Area of each ring, in square metres."""
        return np.pi * np.diff(self.edges**2)

    @property
    def power(self):
        """Heat each ring makes, in watts."""
        return self.torque * self.turning_speed

    @property
    def pressure(self):
        """Mean pressure on each ring, in pascals."""
        return self.force / self.area

    @property
    def flux(self):
        """Mean heat flux of each ring, in watts per square metre."""
        return self.power / self.area

    @property
    def mean_flux(self):
        """Heat flux of the whole tip, in watts per square metre."""
        return self.power.sum() / self.area.sum()


def cut(kit: Kit, effort: Effort, count: int = 8) -> Rings:
    """Cut the tip of a kit into rings of equal width.

    Parameters
    ----------
    kit : Kit
        The kit.
    effort : Effort
        The effort.
    count : int, optional
        How many rings.

    Returns
    -------
    Rings
        What each ring carries, takes and makes; exact, however few the rings.

    Raises
    ------
    InputError
        If there is not at least one ring.

    References
    ----------
    .. [1] Differences of :func:`force_within` and :func:`torque_within`.

    Examples
    --------
    >>> rings = cut(Kit(), Effort(), count=4)
    >>> [round(float(share), 4) for share in rings.torque / rings.torque.sum()]
    [0.0625, 0.1875, 0.3125, 0.4375]
    """
    if count < 1:
        raise InputError(f"number of rings is {count}; allowed: 1 or more")
    edges = np.linspace(0.0, kit.radius, count + 1)
    law = {"contact": kit.contact}
    return Rings(
        edges=edges,
        force=np.diff(force_within(edges, effort.force, kit.radius, **law)),
        torque=np.diff(torque_within(edges, effort.force, kit.friction, kit.radius, **law)),
        turning_speed=turning_speed(effort.speed, kit.cord_radius or kit.radius),
    )
