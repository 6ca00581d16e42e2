"""How hard is too hard: a kit in somebody's hands.

Pressing harder asks for more pull, and an arm that pulls harder moves slower. So for each kit and
each arm (:mod:`fireheat.person.arm`) there is a best force, and one at which the bow stands still.
"""

import numpy as np

from ..kit.bowing import bow_pull
from ..kit.kit import Kit
from ..quantities import InputError, Numbers, check
from .arm import Arm


def kit_pull(kit: Kit, *, force: Numbers) -> Numbers:
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
    .. [1] As :func:`fireheat.kit.bowing.bow_pull`.

    Examples
    --------
    >>> from fireheat import Kit
    >>> round(kit_pull(Kit(), force=60.0), 2)
    13.5
    """
    return bow_pull(
        force,
        friction=kit.friction,
        radius=kit.radius,
        contact=kit.contact,
        cord_radius=kit.cord_radius,
        block_friction=kit.block_friction,
        block_radius=kit.block_radius,
    )


def tip_share(kit: Kit) -> float:
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
    .. [1] Ratio of the two parts of :func:`fireheat.kit.bowing.bow_pull`.

    Examples
    --------
    >>> from fireheat import Kit
    >>> round(tip_share(Kit()), 2), round(tip_share(Kit(block_friction=0.05)), 2)
    (0.78, 0.91)
    """
    tip = bow_pull(
        1.0,
        friction=kit.friction,
        radius=kit.radius,
        contact=kit.contact,
        cord_radius=kit.cord_radius,
    )
    return tip / _pull_per_force(kit)


def _pull_per_force(kit):
    per_force = kit_pull(kit, force=1.0)
    if not per_force > 0:
        raise InputError("spindle and bearing block have no friction: pressing makes no heat")
    return per_force


def speed_at_force(
    kit: Kit, *, arm: Arm, force: Numbers, slip_pull: float | None = None
) -> Numbers:
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
        Pull at which the cord slips, see :func:`fireheat.kit.bowing.cord_slip_pull`; never, if left
        out. [N]

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
    .. [1] :meth:`fireheat.person.arm.Arm.speed` at the pull of :func:`kit_pull`.

    Examples
    --------
    >>> from fireheat import Arm, Kit
    >>> speeds = speed_at_force(Kit(), arm=Arm(), force=np.array([0.0, 60.0, 120.0, 450.0]))
    >>> speeds.round(2).tolist()
    [1.78, 1.0, 0.62, 0.0]
    >>> speed_at_force(Kit(), arm=Arm(), force=120.0, slip_pull=20.0)
    0.0
    """
    pull = kit_pull(kit, force=force)
    speed = arm.speed(pull)
    if slip_pull is None:
        return speed
    # The force worked out from the pull at which a cord slips asks for that pull but for rounding.
    held = np.where(pull <= check(slip_pull=slip_pull) * (1 + 1e-12), speed, 0.0)
    return held if held.ndim else float(held)


def best_force(kit: Kit, *, arm: Arm, slip_pull: float | None = None) -> float:
    r"""Force at which a person makes the most heat at the tip of a kit.

    .. math:: F^* = x^* B_{max} / b, \qquad b = B / F

    Parameters
    ----------
    kit : Kit
        The kit.
    arm : Arm
        The person's arm.
    slip_pull : float, optional
        Pull at which the cord slips, see :func:`fireheat.kit.bowing.cord_slip_pull`; never, if left
        out. [N]

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
    :func:`fireheat.person.arm.hold_time`. Nor does it ask whether the person can press so hard
    with the other hand.

    References
    ----------
    .. [1] Derived in :func:`fireheat.derivation.arm.arm_steps`.

    Examples
    --------
    >>> from fireheat import Arm, Kit
    >>> round(best_force(Kit(), arm=Arm()), 1)
    137.3
    >>> round(best_force(Kit(), arm=Arm(law="linear")), 1)
    222.2
    """
    return _force_for(kit, arm.best_pull, slip_pull)


def stall_force(kit: Kit, *, arm: Arm, slip_pull: float | None = None) -> float:
    """Force at which the spindle stands still.

    Parameters
    ----------
    kit : Kit
        The kit.
    arm : Arm
        The person's arm.
    slip_pull : float, optional
        Pull at which the cord slips, see :func:`fireheat.kit.bowing.cord_slip_pull`; never, if left
        out. [N]

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
    >>> round(stall_force(Kit(), arm=Arm())), round(stall_force(Kit(), arm=Arm(), slip_pull=55.9))
    (444, 248)
    """
    return _force_for(kit, arm.pull_max, slip_pull)


def _force_for(kit, pull, slip_pull):
    """Force that asks for a pull, or for the cord's limit if that is less."""
    if slip_pull is not None:
        pull = min(pull, check(slip_pull=slip_pull))
    return pull / _pull_per_force(kit)
