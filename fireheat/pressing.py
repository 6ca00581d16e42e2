"""What pressing harder does for one person with one kit: the bow slows, and the ember's time dips.

A little force makes little heat. A lot of force stalls the bow, and that makes none either. In
between lies a valley of the ember's time, over the same best force as the peak of the watts.
"""

from dataclasses import dataclass

import numpy as np

from .arm import Arm, ember_inside_hold
from .bowing import kit_pull, speed_at_force
from .kit import Air, Effort, Kit
from .milestones import times
from .quantities import check


@dataclass(frozen=True)
class Pressing:
    """What a person and a kit do at a force; each a float, or an array over the forces.

    Attributes
    ----------
    force : float or ndarray
        Downward force. [N]
    pull : float or ndarray
        Pull on the bow that it asks for, bearing block included. [N]
    speed : float or ndarray
        Speed at which the arm can give that pull. [m/s]
    power : float or ndarray
        Heat made at the tip. [W]
    arm_power : float or ndarray
        What the arm gives: the tip's heat and the bearing block's. [W]
    bound : float or ndarray
        No ember sooner than this, from energy alone. [s]
    smoke, ember : ndarray, shape (3,) or (3, n)
        Estimates: low end, likely, high end; infinite where the bow stalls. [s]
    hold : float or ndarray
        How long the arm can keep it up. [s]
    inside : ndarray of bool, shape (3,) or (3, n)
        Whether low end, likely and high end of the ember's time come inside the hold time.
    """

    force: float
    pull: float
    speed: float
    power: float
    arm_power: float
    bound: float
    smoke: np.ndarray
    ember: np.ndarray
    hold: float
    inside: np.ndarray


def press(kit: Kit, arm: Arm, air: Air | None = None, *, force, slip_pull=None) -> Pressing:
    """Work out what happens when somebody presses with a force.

    Parameters
    ----------
    kit : Kit
        The kit.
    arm : Arm
        The person's arm.
    air : Air, optional
        The air; a mild day if left out.
    force : float or ndarray
        Downward force; an array sweeps it. [N]
    slip_pull : float, optional
        Pull at which the cord slips, see :func:`fireheat.bowing.cord_slip_pull`. [N]

    Returns
    -------
    Pressing
        Speed, watts, times, and whether they come before the arm is spent.

    Raises
    ------
    InputError
        If a value is negative or not finite.

    Notes
    -----
    The times are those of a steady effort, kept up until the ember comes. Nothing here says that
    a person can press so hard with the other hand.

    References
    ----------
    .. [1] :func:`fireheat.bowing.speed_at_force`, :func:`fireheat.milestones.times` and
       :func:`fireheat.arm.hold_time`.

    Examples
    --------
    >>> gentle = press(Kit(), Arm(), force=60.0)
    >>> round(gentle.speed, 2), round(gentle.power, 1), round(gentle.arm_power, 1)
    (1.15, 12.1, 16.3)
    """
    force, pull = check(force=force), kit_pull(kit, force)
    speed = speed_at_force(kit, arm, force, slip_pull=slip_pull)
    found = times(kit, Effort(), air or Air(), force=force, speed=speed)
    arm_power = pull * speed
    ends = {"critical_power": arm.critical_power, "work_above": arm.work_above}
    return Pressing(
        force=force,
        pull=pull,
        speed=speed,
        power=found.power,
        arm_power=arm_power,
        bound=found.bound,
        smoke=found.smoke,
        ember=found.ember,
        hold=arm.hold_time(arm_power),
        inside=ember_inside_hold(found.ember, arm_power, **ends),
    )
