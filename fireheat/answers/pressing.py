"""What pressing harder does for one person with one kit: the bow slows, and the ember's time dips.

A little force makes little heat. A lot of force stalls the bow, and that makes none either. In
between lies a valley of the ember's time, over the same best force as the peak of the watts.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from ..bands import Band
from ..estimates import Times, times
from ..kit.kit import Air, Kit, Try
from ..person.arm import Arm, ember_inside_hold
from ..person.limits import best_force, kit_pull, speed_at_force, stall_force
from ..quantities import Numbers, check, plain, quantity
from ..spread import spread
from ..words import TOO_LONG

_STEP = 0.1  # of the force: a small step
_POINTS, _HAIR = 41, 1e-9  # of a sweep, and how near to its cliff


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
    smoke, ember : Band of float or ndarray
        Estimates; infinite where the bow stalls. [s]
    hold : float or ndarray
        How long the arm can keep it up. [s]
    inside : Band of bool or ndarray
        Whether each of the ember's times comes inside the hold time.
    """

    force: float
    pull: float
    speed: float
    power: float
    arm_power: float
    bound: float
    smoke: Band
    ember: Band
    hold: float
    inside: Band


def press(
    kit: Kit, *, arm: Arm, force: Numbers, air: Air = Air(), slip_pull: float | None = None
) -> Pressing:
    """Work out what happens when somebody presses with a force.

    Parameters
    ----------
    kit : Kit
        The kit.
    arm : Arm
        The person's arm.
    force : float or ndarray
        Downward force; an array sweeps it, and an empty one gives empty results. [N]
    air : Air, optional
        The air; a mild day if left out.
    slip_pull : float, optional
        Pull at which the cord slips, see :func:`fireheat.kit.bowing.cord_slip_pull`. [N]

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
    .. [1] :func:`fireheat.person.limits.speed_at_force`, :func:`fireheat.estimates.times` and
       :func:`fireheat.person.arm.hold_time`.

    Examples
    --------
    >>> gentle = press(Kit(), arm=Arm(), force=60.0)
    >>> round(gentle.speed, 2), round(gentle.power, 1), round(gentle.arm_power, 1)
    (1.0, 10.5, 13.5)
    """
    force, pull = check(force=force), kit_pull(kit, force=force)
    speed = speed_at_force(kit, arm=arm, force=force, slip_pull=slip_pull)
    found = times(Try(kit, air=air), force=force, speed=speed)
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
        inside=found.ember.each(lambda time: ember_inside_hold(time, power=arm_power, **ends)),
    )


@dataclass(frozen=True)
class Valley:
    """What pressing looks like from one force: the state, the whole range, and which way to go.

    Attributes
    ----------
    now, firmer : Pressing
        The state at the force set, and with a tenth more.
    all : Band of float
        Time of the ember at the force set, with all we do not know but the arm. [s]
    sweep : Pressing
        The same over a range of forces.
    best, stall : float
        Force of most watts, and force at which the spindle stands still. [N]
    slips : bool
        Whether it stands still because the cord slips; if not, the arm stalls.
    """

    now: Pressing
    firmer: Pressing
    all: Band[float]
    sweep: Pressing
    best: float
    stall: float
    slips: bool

    @property
    def hold_known(self) -> bool:
        """Whether the model can say how long the arm holds out.

        Few watts can be kept up for long, says the model. That is fair for a light pull. But past
        the best force the watts are few because the pull is so hard that the bow hardly moves, and
        an arm tires of that as well.
        """
        return self.now.hold < TOO_LONG or self.now.force <= self.best


def valley(
    kit: Kit,
    *,
    arm: Arm,
    air: Air,
    force: float,
    slip_pull: float,
    measured: Mapping[str, float | None] = {},
) -> Valley:
    """Look round from one force: how the watts rise and fall, and what a small step would do.

    Parameters
    ----------
    kit : Kit
        The kit.
    arm : Arm
        The person's arm.
    air : Air
        The air.
    force : float
        Downward force. [N]
    slip_pull : float
        Pull at which the cord slips, see :func:`fireheat.kit.bowing.cord_slip_pull`. [N]
    measured : mapping, optional
        How well what is set was measured, as :func:`fireheat.spread.spread` takes it.

    Returns
    -------
    Valley
        The state, the sweep, and the state a small step away.

    Raises
    ------
    InputError
        If a value is negative or not finite.

    References
    ----------
    .. [1] :func:`press`.

    Examples
    --------
    >>> round(valley(Kit(), arm=Arm(), air=Air(), force=60.0, slip_pull=55.9).best)
    137
    """
    force, slip_pull = check(force=force, slip_pull=slip_pull)
    steps = np.array([1.0, 1 + _STEP])
    near = press(kit, arm=arm, air=air, force=force * steps, slip_pull=slip_pull)
    now, firmer = (_pick(near, i) for i in range(2))
    swept = {"force": force * steps, "speed": near.speed}
    near_times = _as_times(near)
    wide = spread(Try(kit, air=air), swept=swept, draws=128, found=near_times, measured=measured)
    return Valley(
        now=now,
        firmer=firmer,
        all=wide.all.at(0),
        sweep=_sweep(kit, arm, air, slip_pull),
        best=best_force(kit, arm=arm, slip_pull=slip_pull),
        stall=stall_force(kit, arm=arm, slip_pull=slip_pull),
        slips=slip_pull < arm.pull_max,
    )


def _as_times(pressing):
    return Times(pressing.power, np.nan, pressing.bound, pressing.smoke, pressing.ember)


def _pick(pressing, i):
    """Take one force out of many."""
    parts: dict[str, Any] = {
        name: value.at(i) if isinstance(value, Band) else plain(value[i])
        for name, value in vars(pressing).items()
    }
    return Pressing(**parts)


@lru_cache(maxsize=8)
def _sweep(kit, arm, air, slip_pull):
    """Press over the whole range; moving along it asks for the same again and again."""
    low, high = quantity("force_tried").slider
    stall = stall_force(kit, arm=arm, slip_pull=slip_pull)
    # On both sides of the stall, so that a cord that lets go at once is drawn as a cliff.
    edge = np.clip(stall * np.array([1 - _HAIR, 1 + _HAIR]), low, high)
    forces = np.union1d(np.linspace(low, high, _POINTS), edge)
    return press(kit, arm=arm, air=air, force=forces, slip_pull=slip_pull)
