"""How friction falls as wood rubs more quickly."""

import numpy as np

from ..constants import constant
from ..quantities import Numbers, check, plain


def quicker_friction(friction: Numbers, *, speed_gain: Numbers) -> Numbers:
    r"""Friction once it rubs more quickly, or more slowly, than it did.

    .. math:: \mu' = \mu \left( \frac{\mu_q}{\mu_0} \right)^{\Delta v / v_q}

    Parameters
    ----------
    friction : float or ndarray
        Friction coefficient as it rubbed before. [1]
    speed_gain : float or ndarray
        Speed of the tip's rim now less that before. [m/s]

    Returns
    -------
    float or ndarray
        Friction coefficient now, broadcast over the arguments. [1]

    Raises
    ------
    InputError
        If the friction is negative, or a value is not finite.

    Notes
    -----
    Two speeds were measured, rest and 4 m/s; the curve between them is ours. Hot wood rubs less,
    too, and wet wood loses more: both are left out, which errs in favour of who bows fast.

    References
    ----------
    .. [1] McKenzie & Karpovich, The frictional behaviour of wood, Wood Science and Technology 2
       (1968) 139. (abstract seen)

    Examples
    --------
    >>> round(quicker_friction(0.65, speed_gain=4.0), 2)
    0.4
    >>> round(quicker_friction(0.35, speed_gain=0.25), 3)
    0.34
    """
    friction, speed_gain = check(friction=friction, speed_gain=speed_gain)
    falls = constant("rubbing_friction_quick") / constant("rubbing_friction_still")
    return plain(friction * np.power(falls, speed_gain / constant("rubbing_speed_quick")))
