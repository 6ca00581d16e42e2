"""What a catcher draws, by other ways: at first touch, and with a front that boils."""

import numpy as np
from oracles.conduction import contact_temperature
from scipy import optimize, special

from fireheat.constants import constant
from fireheat.ember.catchers import as_catcher, wet_capacity
from fireheat.ember.ember import Ember
from fireheat.quantities import InputError, check, plain


def touch_temperature(catcher, *, ember=Ember()):
    """Temperature that the ember's underside takes at the first touch.

    Parameters
    ----------
    catcher : Catcher or str
        The catcher, or its key in the table.
    ember : Ember, optional
        The ember; its dust as loose and dry as the table says.

    Returns
    -------
    float
        Absolute temperature of the touching faces. [K]

    Raises
    ------
    InputError
        If the catcher is unknown.

    Notes
    -----
    Dust is so poor a conductor that its face cools on anything at all; the glow lives above, where
    air reaches it. This holds for a moment, before sheets are warmed through.

    References
    ----------
    .. [1] :func:`oracles.conduction.contact_temperature`.

    Examples
    --------
    >>> from scipy.constants import convert_temperature
    >>> for key in ("aluminium_foil", "leather", "thick_bark"):
    ...     print(f"{convert_temperature(touch_temperature(key), 'Kelvin', 'Celsius'):.0f} °C")
    24 °C
    178 °C
    254 °C
    """
    one = as_catcher(catcher)
    dust = constant("bulk_density") * constant("dust_heat_capacity")
    wet = wet_capacity(one.density * one.heat_capacity, one.water_content, ember)
    return contact_temperature(
        np.sqrt(constant("dust_conductivity") * dust),
        temperature_1=ember.temperature,
        effusivity_2=np.sqrt(one.conductivity * wet),
        temperature_2=ember.temperature_ambient,
    )


# ---- boiling a thick damp body dry --------------------------------------------------------------


def boiling_front(catcher, *, time, ember=Ember()):
    r"""How deep a thick damp body is boiled dry, and how greedily it draws: exact.

    .. math:: x = 2 \lambda \sqrt{\alpha t}, \quad
        \frac{e^{-\lambda^2}}{\mathrm{erf} \lambda} (T_g - T_b)
        - \frac{e^{-\lambda^2}}{\mathrm{erfc} \lambda} (T_b - T_0)
        = \frac{\sqrt\pi \lambda w L}{C}

    Parameters
    ----------
    catcher : Catcher or str
        The catcher, or its key in the table; it must hold water.
    time : float or ndarray
        Time since the ember was set down. [s]
    ember : Ember, optional
        The ember.

    Returns
    -------
    tuple of float or ndarray
        Depth boiled dry [m], and the effusivity that draws as much. [J/(m^2 K s^0.5)]

    Raises
    ------
    InputError
        If the catcher holds no water, or the ember is no hotter than boiling water.

    Notes
    -----
    Heat straight down, conductivity and the dry heat capacity the same on both sides of the front,
    liquid water's warming counted at the front too. Steam is taken to leave without more ado.

    References
    ----------
    .. [1] Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, section 11.2: Neumann's
       solution. (from memory)

    Examples
    --------
    >>> depth, effusivity = boiling_front("wet_soil", time=60.0)
    >>> print(f"{1000 * depth:.0f} mm")
    6 mm
    """
    one, time = as_catcher(catcher), check(time=time)
    boiling = constant("water_boiling_point")
    if not one.water_content > 0 or not ember.temperature > boiling:
        raise InputError(f"{one.name} holds no water, or the ember does not boil it: no front")
    capacity = one.density * one.heat_capacity
    warm = constant("water_heat_capacity") * (boiling - ember.temperature_ambient)
    latent = one.water_content * (constant("water_latent_heat") + warm) / capacity
    hot, cool = ember.temperature - boiling, boiling - ember.temperature_ambient

    def balance(place):
        flux = np.exp(-(place**2)) * hot / special.erf(place) - cool / special.erfcx(place)
        return flux - np.sqrt(np.pi) * place * latent

    place = optimize.brentq(balance, 1e-6, 20.0)
    reach = 2 * np.sqrt(one.conductivity / capacity * time)
    own = np.sqrt(one.conductivity * capacity)
    return plain(place * reach), float(own * hot / special.erf(place) / ember.rise)
