"""How thin may a spindle be: pressed along its length, and pulled sideways by the cord.

Clear dry wood, straight in its grain, with the cord half-way up: the best case. A knot, a slanting
grain or a jerk of the bow asks for more, so advice stays well below what breaks a clear stick.
"""

import numpy as np

from ..constants import constant
from ..quantities import Numbers, check, plain


def bending_strength(specific_gravity: Numbers) -> Numbers:
    r"""Stress at which a clear stick of dry wood breaks when bent: its modulus of rupture.

    .. math:: \sigma_b = S G^n

    Parameters
    ----------
    specific_gravity : float or ndarray
        Oven-dry mass over that of as much water. [1]

    Returns
    -------
    float or ndarray
        Stress. [Pa]

    Raises
    ------
    InputError
        If it is negative or not finite.

    References
    ----------
    .. [1] Forest Products Laboratory, as printed in US Army TM 5-852-4, table 2-2, for 12 %
       moisture: 25,700 G^1.25 psi.

    Examples
    --------
    >>> print(f"{bending_strength(0.32) / 1e6:.0f} MPa")
    43 MPa
    """
    specific_gravity = check(specific_gravity=specific_gravity)
    return plain(constant("wood_strength") * specific_gravity ** constant("wood_strength_power"))


def spindle_stress(
    pull: Numbers,
    *,
    force: Numbers,
    diameter: Numbers,
    spindle_length: Numbers,
    specific_gravity: Numbers,
) -> Numbers:
    r"""Greatest stress in a spindle that is pressed along its length and pulled in its middle.

    .. math:: \sigma = \frac{4 F}{\pi d^2} + \frac{8 B l}{\pi d^3} \, \frac{\tan u}{u},
        \qquad u = \frac{\pi}{2} \sqrt{F/F_e}, \quad F_e = \frac{\pi^3 Y d^4}{64 \, l^2}

    Parameters
    ----------
    pull : float or ndarray
        Pull on the bow, which the cord hands on to the middle of the spindle. [N]
    force : float or ndarray
        Downward force. [N]
    diameter : float or ndarray
        Diameter of the spindle. [m]
    spindle_length : float or ndarray
        Length between board and bearing block, whose holes let it tilt. [m]
    specific_gravity : float or ndarray
        Oven-dry mass over that of as much water, which tells how stiff its wood is. [1]

    Returns
    -------
    float or ndarray
        Stress; infinite from the force on under which it buckles. [Pa]

    Raises
    ------
    InputError
        If a value is negative, a length is not positive, or one is not finite.

    Notes
    -----
    Torsion is left out: its shear is d/l of the bending. So is the tension of the slack cord.

    References
    ----------
    .. [1] Timoshenko, Theory of Elastic Stability, 1936, chapter 1: a beam-column
       with a load in its middle. (from memory)
    .. [2] Stiffness: as :func:`bending_strength`, 2,800,000 G psi.

    Examples
    --------
    >>> for diameter in (0.006, 0.008, 0.016):
    ...     stress = spindle_stress(
    ...         13.5, force=60.0, diameter=diameter, spindle_length=0.15, specific_gravity=0.32
    ...     )
    ...     print(f"{1e3 * diameter:.0f} mm: {stress / 1e6:.0f} MPa")
    6 mm: 36 MPa
    8 mm: 12 MPa
    16 mm: 2 MPa
    """
    pull, force = check(pull=pull, force=force)
    diameter, spindle_length = check(diameter=diameter, spindle_length=spindle_length)
    specific_gravity = check(specific_gravity=specific_gravity)
    stiffness = constant("wood_stiffness") * specific_gravity
    buckling = np.pi**3 * stiffness * diameter**4 / (64 * spindle_length**2)
    with np.errstate(divide="ignore", invalid="ignore"):
        u = np.pi / 2 * np.sqrt(np.minimum(force / buckling, 1.0))
        more = np.where(u > 0, np.tan(u) / u, 1.0)
    bent = 8 * pull * spindle_length / (np.pi * diameter**3) * more
    stress = 4 * force / (np.pi * diameter**2) + bent
    return plain(np.where(force < buckling, stress, np.inf))
