"""From bowing to heat: torque, pull, speed and the watts at the spindle's tip.

A flat tip of radius r turns under a downward force F. Ring by ring the friction torque is
``dT = mu p(s) s dA``. How the pressure p is spread decides the coefficient C in ``T = C mu F r``:

- a *fresh* flat tip presses evenly (``contact="uniform_pressure"``): C = 2/3;
- a *worn-in* tip has worn most where it runs fastest, at the rim, until pressure times distance
  from the axis is the same everywhere (``contact="uniform_wear"``): C = 1/2, and the heat is
  then spread evenly over the disc.

Both coefficients are derived in :mod:`fireheat.relation`.

Pressing harder asks for more pull, and an arm that pulls harder moves slower. The last part of
this module puts a kit and an arm (:mod:`fireheat.arm`) together: so for each of the two there is
a best force. A ``kit`` there is anything with the fields of :class:`fireheat.kit.Kit`.
"""

import numpy as np

from .arm import (
    Arm,
    arm_speed,
    arm_speed_linear,
    arms,
    best_pull_fraction,
    ember_inside_hold,
    hold_time,
)
from .quantities import InputError, check, default

__all__ = [
    "Arm",
    "arm_speed",
    "arm_speed_linear",
    "arms",
    "best_force",
    "best_pull_fraction",
    "bow_pull",
    "bow_speed",
    "cord_slip_pull",
    "ember_inside_hold",
    "friction_power",
    "friction_torque",
    "hold_time",
    "kit_pull",
    "speed_at_force",
    "stall_force",
    "tip_share",
    "torque_coefficient",
]

TORQUE_COEFFICIENTS = {"uniform_wear": 1 / 2, "uniform_pressure": 2 / 3}


def torque_coefficient(contact):
    """Coefficient C of the friction torque of a flat tip, T = C mu F r.

    Parameters
    ----------
    contact : str
        ``"uniform_wear"`` (worn-in tip) or ``"uniform_pressure"`` (fresh flat tip).

    Returns
    -------
    float
        One half or two thirds. [1]

    Raises
    ------
    InputError
        If ``contact`` is neither.

    References
    ----------
    .. [1] Shigley, Mechanical Engineering Design, axial clutches. (from memory)

    Examples
    --------
    >>> torque_coefficient("uniform_wear")
    0.5
    """
    try:
        return TORQUE_COEFFICIENTS[contact]
    except (KeyError, TypeError):
        allowed = " or ".join(repr(name) for name in TORQUE_COEFFICIENTS)
        raise InputError(f"contact is {contact!r}; allowed: {allowed}") from None


def friction_torque(force, friction, radius, *, contact="uniform_wear"):
    r"""Friction torque on a flat spindle tip.

    .. math:: T = C \mu F r

    Parameters
    ----------
    force : float or ndarray
        Downward force on the tip. [N]
    friction : float or ndarray
        Friction coefficient between spindle and board. [1]
    radius : float or ndarray
        Radius of the tip. [m]
    contact : str, optional
        How the pressure is spread, see :func:`torque_coefficient`.

    Returns
    -------
    float or ndarray
        Torque about the axis, broadcast over the arguments. [N m]

    Raises
    ------
    InputError
        If force or friction is negative, the radius is not positive, or a value is not finite.

    Notes
    -----
    Real tips are a little rounded and lie between the two laws once bedded in.

    References
    ----------
    .. [1] Shigley, Mechanical Engineering Design, axial clutches. (from memory)

    Examples
    --------
    >>> round(friction_torque(60.0, 0.35, 0.0065), 5)
    0.06825
    """
    force, friction, radius = check(force=force, friction=friction, radius=radius)
    return torque_coefficient(contact) * friction * force * radius


def friction_power(
    force, friction, speed, *, contact="uniform_wear", radius=None, cord_radius=None
):
    r"""Heat made at the spindle's tip.

    .. math:: P = T \omega = C \mu F v \, r / R

    Where the cord wraps at the tip's own radius, R = r, the radius drops out.

    Parameters
    ----------
    force : float or ndarray
        Downward force on the tip. [N]
    friction : float or ndarray
        Friction coefficient between spindle and board. [1]
    speed : float or ndarray
        Average speed of the cord, both ways counted. [m/s]
    contact : str, optional
        How the pressure is spread, see :func:`torque_coefficient`.
    radius : float or ndarray, optional
        Radius of the tip; needed only with ``cord_radius``. [m]
    cord_radius : float or ndarray, optional
        Radius where the cord wraps, if it differs from the tip's. [m]

    Returns
    -------
    float or ndarray
        Power, broadcast over the arguments. [W]

    Raises
    ------
    InputError
        If a value is out of its range, or ``cord_radius`` comes without ``radius``.

    References
    ----------
    .. [1] Torque as in Shigley, Mechanical Engineering Design, axial clutches (from memory),
       times the angular speed v/R.

    Examples
    --------
    >>> round(friction_power(60.0, 0.35, 1.0), 6)
    10.5
    """
    force, friction, speed = check(force=force, friction=friction, speed=speed)
    ratio = _radius_ratio(radius, cord_radius)
    return torque_coefficient(contact) * friction * force * speed * ratio


def _radius_ratio(radius, cord_radius):
    """Tip radius over cord radius; one where they are the same."""
    if radius is None:
        if cord_radius is None:
            return 1.0
        raise InputError("cord radius given without the spindle tip radius; give both")
    radius = check(radius=radius)
    return radius / (radius if cord_radius is None else check(cord_radius=cord_radius))


def bow_pull(
    force,
    friction,
    radius,
    *,
    contact="uniform_wear",
    cord_radius=None,
    block_friction=0.0,
    block_radius=default("block_radius"),
    block_contact="uniform_pressure",
):
    r"""Pull on the bow that keeps the spindle turning.

    .. math:: B = C \mu F r / R + C_b \mu_b F r_b / R

    The second part turns the top end in its bearing block and heats the wrong end.

    Parameters
    ----------
    force : float or ndarray
        Downward force. [N]
    friction : float or ndarray
        Friction coefficient between spindle and board. [1]
    radius : float or ndarray
        Radius of the tip. [m]
    contact : str, optional
        How the pressure is spread at the tip, see :func:`torque_coefficient`.
    cord_radius : float or ndarray, optional
        Radius where the cord wraps; the tip's if left out. [m]
    block_friction : float or ndarray, optional
        Friction coefficient in the bearing block. [1]
    block_radius : float or ndarray, optional
        Radius of the contact in the bearing block; an ordinary one if left out. [m]
    block_contact : str, optional
        How the pressure is spread in the bearing block.

    Returns
    -------
    float or ndarray
        Pull, broadcast over the arguments. [N]

    Raises
    ------
    InputError
        If a value is out of its range.

    References
    ----------
    .. [1] Moments about the spindle's axis; torque as in :func:`friction_torque`.

    Examples
    --------
    >>> round(bow_pull(60.0, 0.35, 0.0065), 6)
    10.5
    """
    force, block_friction = check(force=force, block_friction=block_friction)
    torque = friction_torque(force, friction, radius, contact=contact)
    cord_radius = check(cord_radius=radius if cord_radius is None else cord_radius)
    block_radius = check(block_radius=block_radius)
    block_torque = friction_torque(force, block_friction, block_radius, contact=block_contact)
    return (torque + block_torque) / cord_radius


def bow_speed(stroke_length, strokes_per_minute):
    r"""Average speed of the cord from counted strokes.

    .. math:: v = L N / 60

    Parameters
    ----------
    stroke_length : float or ndarray
        How far the cord runs in one pass, not the length of the bow. [m]
    strokes_per_minute : float or ndarray
        Single passes a minute; there and back are two. [1/min]

    Returns
    -------
    float or ndarray
        Average of the speed, both ways counted. [m/s]

    Raises
    ------
    InputError
        If the stroke is not positive or the count is negative.

    References
    ----------
    .. [1] Distance over time; sixty seconds to the minute.

    Examples
    --------
    >>> bow_speed(0.5, 120)
    1.0
    """
    stroke_length, strokes_per_minute = check(
        stroke_length=stroke_length, strokes_per_minute=strokes_per_minute
    )
    return stroke_length * strokes_per_minute / 60


def cord_slip_pull(slack_tension, cord_friction, wrap_angle):
    r"""Largest bow pull before the cord slips on the spindle.

    .. math:: B_{max} = T_s (e^{\mu_c \theta} - 1)

    Parameters
    ----------
    slack_tension : float or ndarray
        Tension of the cord on its slack side. [N]
    cord_friction : float or ndarray
        Friction coefficient between cord and spindle. [1]
    wrap_angle : float or ndarray
        Angle over which the cord touches; a full turn is two pi. [rad]

    Returns
    -------
    float or ndarray
        Tight-side less slack-side tension at the limit. [N]

    Raises
    ------
    InputError
        If a value is negative or not finite.

    References
    ----------
    .. [1] Capstan (Euler-Eytelwein) equation; Meriam & Kraige, Engineering Mechanics: Statics,
       flexible belts. (from memory)

    Examples
    --------
    >>> round(cord_slip_pull(10.0, 0.3, 6.283185307179586), 2)
    55.86
    """
    slack_tension, cord_friction, wrap_angle = check(
        slack_tension=slack_tension, cord_friction=cord_friction, wrap_angle=wrap_angle
    )
    gain = np.expm1(cord_friction * wrap_angle)
    return slack_tension * (gain if np.ndim(gain) else float(gain))


# ---- a kit in somebody's hands ----------------------------------------------------------------


def kit_pull(kit, force):
    """Pull on the bow that a kit asks for, bearing block included.

    Parameters
    ----------
    kit : Kit
        The kit.
    force : float or ndarray
        Downward force. [N]

    Returns
    -------
    float or ndarray
        Pull; it grows in step with the force. [N]

    Raises
    ------
    InputError
        If the force is negative or not finite.

    References
    ----------
    .. [1] As :func:`bow_pull`.

    Examples
    --------
    >>> from fireheat import Kit
    >>> round(kit_pull(Kit(), 60.0), 2)
    14.19
    """
    return bow_pull(
        force,
        kit.friction,
        kit.radius,
        contact=kit.contact,
        cord_radius=kit.cord_radius,
        block_friction=kit.block_friction,
        block_radius=kit.block_radius,
    )


def tip_share(kit):
    r"""Share of the pull that turns the tip; the bearing block has the rest.

    .. math:: \frac{C \mu r}{C \mu r + C_b \mu_b r_b}

    Parameters
    ----------
    kit : Kit
        The kit.

    Returns
    -------
    float
        From 0 to 1. [1]

    Raises
    ------
    InputError
        If nothing rubs at all, so that there is no pull to share.

    Notes
    -----
    At each arm's own best force the pull and the speed are the same for every kit, so the best
    watts at the tip go as this share: that is what a greased or better shaped block buys.

    References
    ----------
    .. [1] Ratio of the two parts of :func:`bow_pull`.

    Examples
    --------
    >>> from fireheat import Kit
    >>> round(tip_share(Kit()), 2), round(tip_share(Kit(block_friction=0.05)), 2)
    (0.74, 0.9)
    """
    tip = bow_pull(1.0, kit.friction, kit.radius, contact=kit.contact, cord_radius=kit.cord_radius)
    return tip / _pull_per_force(kit)


def _pull_per_force(kit):
    per_force = kit_pull(kit, 1.0)
    if not per_force > 0:
        raise InputError("spindle and bearing block have no friction: pressing makes no heat")
    return per_force


def speed_at_force(kit, arm, force, *, slip_pull=None):
    """Speed of the bow when somebody presses with a force.

    Parameters
    ----------
    kit : Kit
        The kit.
    arm : Arm
        The person's arm.
    force : float or ndarray
        Downward force. [N]
    slip_pull : float, optional
        Pull at which the cord slips, see :func:`cord_slip_pull`; never, if left out. [N]

    Returns
    -------
    float or ndarray
        Speed at which the cord turns the spindle; zero where the arm stalls or the cord slips,
        whichever comes first. [m/s]

    Raises
    ------
    InputError
        If a value is negative or not finite.

    Notes
    -----
    A cord that slips lets go all at once: the bow runs on, the spindle stands. A real one first
    creeps, and polishes itself.

    References
    ----------
    .. [1] :meth:`fireheat.arm.Arm.speed` at the pull of :func:`kit_pull`.

    Examples
    --------
    >>> from fireheat import Arm, Kit
    >>> [round(speed_at_force(Kit(), Arm(), force), 2) for force in (0.0, 60.0, 120.0, 430.0)]
    [2.1, 1.15, 0.7, 0.0]
    >>> speed_at_force(Kit(), Arm(), 120.0, slip_pull=20.0)
    0.0
    """
    pull = kit_pull(kit, force)
    speed = arm.speed(pull)
    if slip_pull is None:
        return speed
    held = np.where(pull <= check(slip_pull=slip_pull), speed, 0.0)
    return held if held.ndim else float(held)


def best_force(kit, arm, *, slip_pull=None):
    r"""Force at which a person makes the most heat at the tip of a kit.

    .. math:: F^* = x^* B_{max} / b, \qquad b = B / F

    Parameters
    ----------
    kit : Kit
        The kit.
    arm : Arm
        The person's arm.
    slip_pull : float, optional
        Pull at which the cord slips, see :func:`cord_slip_pull`; never, if left out. [N]

    Returns
    -------
    float
        Force; past it, pressing harder slows the bow by more than it gains. Where the cord slips
        before, the force at which it is about to. [N]

    Raises
    ------
    InputError
        If nothing rubs, so that no force is best.

    Notes
    -----
    Best for the watts of the moment. Whether the person can keep them up is another question: see
    :func:`fireheat.arm.hold_time`. Nor does it ask whether the person can press so hard with the
    other hand.

    References
    ----------
    .. [1] Derived in :func:`fireheat.relation.arm_steps`.

    Examples
    --------
    >>> from fireheat import Arm, Kit
    >>> round(best_force(Kit(), Arm()), 1)
    130.6
    >>> round(best_force(Kit(), Arm(law="linear")), 1)
    211.4
    """
    return _force_for(kit, arm.best_pull, slip_pull)


def stall_force(kit, arm, *, slip_pull=None):
    """Force at which the spindle stands still.

    Parameters
    ----------
    kit : Kit
        The kit.
    arm : Arm
        The person's arm.
    slip_pull : float, optional
        Pull at which the cord slips, see :func:`cord_slip_pull`; never, if left out. [N]

    Returns
    -------
    float
        Force, from the arm's hardest pull, or from the cord's where that slips before. [N]

    Raises
    ------
    InputError
        If nothing rubs, so that no force stalls it.

    References
    ----------
    .. [1] As :func:`kit_pull`.

    Examples
    --------
    >>> from fireheat import Arm, Kit
    >>> round(stall_force(Kit(), Arm())), round(stall_force(Kit(), Arm(), slip_pull=55.9))
    (423, 236)
    """
    return _force_for(kit, arm.pull_max, slip_pull)


def _force_for(kit, pull, slip_pull):
    """Force that asks for a pull, or for the cord's limit if that is less."""
    if slip_pull is not None:
        pull = min(pull, check(slip_pull=slip_pull))
    return pull / _pull_per_force(kit)
