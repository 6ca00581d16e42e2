"""From bowing to heat: torque, pull, speed and the watts at the spindle's tip.

A flat tip of radius r turns under a downward force F. Ring by ring the friction torque is
``dT = mu p(s) s dA``. How the pressure p is spread decides the coefficient C in ``T = C mu F r``:

- a *fresh* flat tip presses evenly (``contact="uniform_pressure"``): C = 2/3;
- a *worn-in* tip has worn most where it runs fastest, at the rim, until pressure times distance
  from the axis is the same everywhere (``contact="uniform_wear"``): C = 1/2, and the heat is
  then spread evenly over the disc;
- a *domed* tip (``contact="domed"``) is a cap of a ball worn in so that it sinks evenly: its slopes
  wedge, so C is a little more than one half, and it rubs on more than its disc.

The coefficients are derived in :mod:`fireheat.derivation.bound` and :mod:`fireheat.derivation.tip`.
"""

import numpy as np

from ..quantities import InputError, Numbers, check, choose, default, plain

DOME_HEIGHT = default("dome_height")


def dome_coefficient(dome_height: Numbers = DOME_HEIGHT) -> Numbers:
    r"""Coefficient C of the friction torque of a domed tip that sinks evenly as it wears.

    .. math:: C = \left( \frac{1 - h^2}{1 + h^2} + \frac{1 + h^2}{h} \arctan h \right)^{-1}

    Parameters
    ----------
    dome_height : float or ndarray, optional
        Height of the dome over the tip's radius; one is half a ball. [1]

    Returns
    -------
    float or ndarray
        From one half, nearly flat, to two over pi. [1]

    Raises
    ------
    InputError
        If the height is not above zero and at most one.

    References
    ----------
    .. [1] Derived in :func:`fireheat.derivation.tip.derived_dome_coefficient`.

    Examples
    --------
    >>> [round(dome_coefficient(height), 3) for height in (0.25, 0.5, 1.0)]
    [0.52, 0.568, 0.637]
    """
    h = check(dome_height=dome_height)
    square = h * h
    return plain(1 / ((1 - square) / (1 + square) + (1 + square) / h * np.arctan(h)))


def dome_area_factor(dome_height: Numbers = DOME_HEIGHT) -> Numbers:
    r"""Area of a domed tip over that of its disc.

    .. math:: A / (\pi r^2) = 1 + h^2

    Parameters
    ----------
    dome_height : float or ndarray, optional
        Height of the dome over the tip's radius; one is half a ball. [1]

    Returns
    -------
    float or ndarray
        From one to two. [1]

    Raises
    ------
    InputError
        If the height is not above zero and at most one.

    References
    ----------
    .. [1] Area of a cap of a ball, pi (r^2 + h^2): any book of formulas.

    Examples
    --------
    >>> dome_area_factor(0.5)
    1.25
    """
    return 1 + check(dome_height=dome_height) ** 2


TORQUE_COEFFICIENTS = {
    "uniform_wear": 1 / 2,
    "uniform_pressure": 2 / 3,
    "domed": dome_coefficient(),
}
FLAT = ("uniform_wear", "uniform_pressure")


def area_factor(contact: str) -> float:
    """Area on which a tip rubs, over that of its disc; heat per area is less by as much.

    Parameters
    ----------
    contact : str
        How the pressure is spread, see :func:`torque_coefficient`.

    Returns
    -------
    float
        One for a flat tip. [1]

    Raises
    ------
    InputError
        If there is no such contact.

    References
    ----------
    .. [1] :func:`dome_area_factor`.

    Examples
    --------
    >>> area_factor("uniform_wear"), area_factor("domed")
    (1.0, 1.0625)
    """
    return 1.0 if choose("contact", contact, TORQUE_COEFFICIENTS) in FLAT else dome_area_factor()


def torque_coefficient(contact: str) -> float:
    """Coefficient C of the friction torque of a tip, T = C mu F r.

    Parameters
    ----------
    contact : str
        ``"uniform_wear"`` (worn-in tip), ``"uniform_pressure"`` (fresh flat tip) or ``"domed"``
        (a worn, slightly rounded one, see :func:`dome_coefficient`).

    Returns
    -------
    float
        One half, two thirds, or what the dome makes of it. [1]

    Raises
    ------
    InputError
        If ``contact`` is none of them.

    References
    ----------
    .. [1] Shigley, Mechanical Engineering Design, axial clutches. (from memory)

    Examples
    --------
    >>> torque_coefficient("uniform_wear")
    0.5
    """
    return TORQUE_COEFFICIENTS[choose("contact", contact, TORQUE_COEFFICIENTS)]


def friction_torque(
    force: Numbers, *, friction: Numbers, radius: Numbers, contact: str = "uniform_wear"
) -> Numbers:
    r"""Friction torque on a spindle tip.

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
    Real tips are a little rounded, and lie between the two flat laws once bedded in.

    References
    ----------
    .. [1] Shigley, Mechanical Engineering Design, axial clutches. (from memory)

    Examples
    --------
    >>> round(friction_torque(60.0, friction=0.35, radius=0.0065), 5)
    0.06825
    """
    force, friction, radius = check(force=force, friction=friction, radius=radius)
    return torque_coefficient(contact) * friction * force * radius


def friction_power(
    force: Numbers,
    *,
    friction: Numbers,
    speed: Numbers,
    contact: str = "uniform_wear",
    radius: Numbers = None,
    cord_radius: Numbers = None,
) -> Numbers:
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
    >>> round(friction_power(60.0, friction=0.35, speed=1.0), 6)
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
    force: Numbers,
    *,
    friction: Numbers,
    radius: Numbers,
    contact: str = "uniform_wear",
    cord_radius: Numbers = None,
    block_friction: Numbers = 0.0,
    block_radius: Numbers = default("block_radius"),
    block_contact: str = "uniform_pressure",
) -> Numbers:
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
    >>> round(bow_pull(60.0, friction=0.35, radius=0.0065), 6)
    10.5
    """
    force, block_friction = check(force=force, block_friction=block_friction)
    torque = friction_torque(force, friction=friction, radius=radius, contact=contact)
    cord_radius = check(cord_radius=radius if cord_radius is None else cord_radius)
    block_radius = check(block_radius=block_radius)
    block_torque = friction_torque(
        force, friction=block_friction, radius=block_radius, contact=block_contact
    )
    return (torque + block_torque) / cord_radius


def bow_speed(stroke_length: Numbers, *, strokes_per_minute: Numbers) -> Numbers:
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
    >>> bow_speed(0.5, strokes_per_minute=120)
    1.0
    """
    stroke_length, strokes_per_minute = check(
        stroke_length=stroke_length, strokes_per_minute=strokes_per_minute
    )
    return stroke_length * strokes_per_minute / 60


def cord_slip_pull(
    slack_tension: Numbers, *, cord_friction: Numbers, wrap_angle: Numbers
) -> Numbers:
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
    >>> round(cord_slip_pull(10.0, cord_friction=0.3, wrap_angle=6.283185307179586), 2)
    55.86
    """
    slack_tension, cord_friction, wrap_angle = check(
        slack_tension=slack_tension, cord_friction=cord_friction, wrap_angle=wrap_angle
    )
    gain = np.expm1(cord_friction * wrap_angle)
    return slack_tension * (gain if np.ndim(gain) else float(gain))
