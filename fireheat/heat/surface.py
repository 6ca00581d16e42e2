"""How fast the surface of a thick body warms.

"Thick" means that the far side has not felt the heat yet: thicker than about
``4 sqrt(diffusivity * time)``, which is 17 mm for softwood after two minutes.
"""

import numpy as np

from ..quantities import InputError, Numbers, check, plain


def surface_rise(flux: Numbers, *, time: Numbers, effusivity: Numbers) -> Numbers:
    r"""Temperature rise of the surface of a thick solid under a constant heat flux.

    .. math:: \Delta T = \frac{2 q''}{e} \sqrt{\frac{t}{\pi}}

    Parameters
    ----------
    flux : float or ndarray
        Heat flux into the surface from time zero on. [W/m^2]
    time : float or ndarray
        Time since the flux began. [s]
    effusivity : float or ndarray
        Thermal effusivity of the solid; of two solids that touch, the sum. [J/(m^2 K s^0.5)]

    Returns
    -------
    float or ndarray
        Rise above the initial temperature, broadcast over the arguments. [K]

    Raises
    ------
    InputError
        If the effusivity is not positive, or flux or time is negative.

    Notes
    -----
    Nothing leaks away and the flux reaches as far sideways as it likes: a small hot disc is cooler
    than this.

    References
    ----------
    .. [1] Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, section 2.9.
       (from memory)

    Examples
    --------
    >>> print(f"{surface_rise(126e3, time=1.0, effusivity=700.0):.1f}")
    203.1
    """
    flux, time, effusivity = check(flux=flux, time=time, effusivity=effusivity)
    if np.any(effusivity == 0):
        raise InputError("thermal effusivity is 0; a surface needs one above 0 J/(m^2 K s^0.5)")
    return plain(2 * flux * np.sqrt(time / np.pi) / effusivity)
