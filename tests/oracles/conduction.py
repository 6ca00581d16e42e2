"""Textbook closed forms of heat conduction, against which the library's solvers are held.

Every function is one formula for constant properties and a body at one temperature before time
zero.
"""

import numpy as np
from scipy import constants, special

from fireheat.quantities import InputError, check, plain

# Abscissae and weights on 0 to 1 for the one integral below; 24 are enough for 12 digits.
_NODES, _WEIGHTS = (column / 2 for column in np.polynomial.legendre.leggauss(24))
_NODES = _NODES + 0.5


def _ratio(numerator, denominator):
    """Divide, with x/0 = inf and 0/0 = 0: what the formulas need at time zero."""
    numerator, denominator = np.broadcast_arrays(numerator, denominator)
    with np.errstate(divide="ignore", invalid="ignore"):
        return plain(np.where(numerator == 0, 0.0, numerator / denominator))


def _ierfc(x):
    """Integral of erfc from x to infinity; zero in floating point from x = 28 on."""
    x = np.minimum(x, 28.0)
    return np.exp(-(x**2)) * (1 / np.sqrt(np.pi) - x * special.erfcx(x))


def depth_rise(flux, *, time, depth, conductivity, diffusivity):
    r"""Temperature rise at a depth in a thick solid under a constant heat flux.

    .. math:: \Delta T = \frac{2 q'' \sqrt{\alpha t}}{k}
              \,\mathrm{ierfc}\!\left(\frac{x}{2\sqrt{\alpha t}}\right)

    Parameters
    ----------
    flux : float or ndarray
        Heat flux into the surface from time zero on. [W/m^2]
    time : float or ndarray
        Time since the flux began. [s]
    depth : float or ndarray
        Distance below the surface. [m]
    conductivity : float or ndarray
        Thermal conductivity along the depth. [W/(m K)]
    diffusivity : float or ndarray
        Thermal diffusivity along the depth. [m^2/s]

    Returns
    -------
    float or ndarray
        Rise above the initial temperature, broadcast over the arguments. [K]

    Raises
    ------
    InputError
        If a property is not positive, or flux, time or depth is negative.

    References
    ----------
    .. [1] Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, section 2.9.
       (from memory)

    Examples
    --------
    >>> wood = {"conductivity": 0.159, "diffusivity": 1.75e-7}
    >>> print(f"{depth_rise(1250.0, time=1200.0, depth=0.0, **wood):.2f}")
    128.55
    """
    flux, time, depth, conductivity, diffusivity = check(
        flux=flux, time=time, depth=depth, conductivity=conductivity, diffusivity=diffusivity
    )
    reach = 2 * np.sqrt(diffusivity * time)
    return plain(flux * reach / conductivity * _ierfc(_ratio(depth, reach)))


def fixed_surface_rise(surface_rise, *, time, depth, diffusivity):
    r"""Temperature rise at a depth in a thick solid whose surface is held at one temperature.

    .. math:: \Delta T = \Delta T_s \,\mathrm{erfc}\!\left(\frac{x}{2\sqrt{\alpha t}}\right)

    Parameters
    ----------
    surface_rise : float or ndarray
        Step in the temperature of the surface at time zero, up or down. [K]
    time : float or ndarray
        Time since the step. [s]
    depth : float or ndarray
        Distance below the surface. [m]
    diffusivity : float or ndarray
        Thermal diffusivity along the depth. [m^2/s]

    Returns
    -------
    float or ndarray
        Rise above the initial temperature, broadcast over the arguments. [K]

    Raises
    ------
    InputError
        If the diffusivity is not positive, or time or depth is negative.

    References
    ----------
    .. [1] Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, section 2.4.
       (from memory)

    Examples
    --------
    >>> print(f"{fixed_surface_rise(280.0, time=60.0, depth=0.003, diffusivity=1.6e-7):.1f}")
    138.2
    """
    surface_rise, time, depth, diffusivity = check(
        surface_rise=surface_rise, time=time, depth=depth, diffusivity=diffusivity
    )
    return plain(surface_rise * special.erfc(_ratio(depth, 2 * np.sqrt(diffusivity * time))))


def film_rise(fluid_rise, *, time, depth, film, conductivity, diffusivity):
    r"""Temperature rise at a depth in a thick solid warmed or cooled by a fluid over its surface.

    .. math:: \Delta T = \Delta T_f \left[ \mathrm{erfc}\,\eta - e^{hx/k + h^2 \alpha t/k^2}\,
              \mathrm{erfc}\!\left(\eta + \frac{h\sqrt{\alpha t}}{k}\right) \right],
              \quad \eta = \frac{x}{2\sqrt{\alpha t}}

    Parameters
    ----------
    fluid_rise : float or ndarray
        Step in the temperature of the fluid at time zero, up or down. [K]
    time : float or ndarray
        Time since the step. [s]
    depth : float or ndarray
        Distance below the surface. [m]
    film : float or ndarray
        Heat transfer coefficient between fluid and surface. [W/(m^2 K)]
    conductivity : float or ndarray
        Thermal conductivity along the depth. [W/(m K)]
    diffusivity : float or ndarray
        Thermal diffusivity along the depth. [m^2/s]

    Returns
    -------
    float or ndarray
        Rise above the initial temperature, broadcast over the arguments. [K]

    Raises
    ------
    InputError
        If a property is not positive, or time, depth or film is negative.

    Notes
    -----
    Worked with the scaled function erfcx, since the exponential overflows for strong films.

    References
    ----------
    .. [1] Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, semi-infinite solid with
       surface convection. (from memory)

    Examples
    --------
    >>> wood = {"conductivity": 0.12, "diffusivity": 1.6e-7}
    >>> print(f"{film_rise(280.0, time=60.0, depth=0.0, film=25.0, **wood):.1f}")
    126.5
    """
    fluid_rise, time, depth, film, conductivity, diffusivity = check(
        fluid_rise=fluid_rise,
        time=time,
        depth=depth,
        film=film,
        conductivity=conductivity,
        diffusivity=diffusivity,
    )
    reach = np.sqrt(diffusivity * time)
    eta, strength = _ratio(depth, 2 * reach), film * reach / conductivity
    fraction = special.erfcx(eta) - special.erfcx(eta + strength)
    return plain(fluid_rise * np.exp(-(eta**2)) * fraction)


def disc_centre_rise(flux, *, time, radius, conductivity, diffusivity):
    r"""Temperature rise at the centre of a disc of constant heat flux on a thick solid.

    .. math:: \Delta T = \frac{2 q'' \sqrt{\alpha t}}{k} \left[ \frac{1}{\sqrt{\pi}}
              - \mathrm{ierfc}\!\left(\frac{a}{2\sqrt{\alpha t}}\right) \right]

    Parameters
    ----------
    flux : float or ndarray
        Heat flux into the disc from time zero on; none enters or leaves round it. [W/m^2]
    time : float or ndarray
        Time since the flux began. [s]
    radius : float or ndarray
        Radius a of the disc. [m]
    conductivity : float or ndarray
        Thermal conductivity of the solid, the same every way. [W/(m K)]
    diffusivity : float or ndarray
        Thermal diffusivity of the solid. [m^2/s]

    Returns
    -------
    float or ndarray
        Rise above the initial temperature, broadcast over the arguments. [K]

    Raises
    ------
    InputError
        If radius or a property is not positive, or flux or time is negative.

    Notes
    -----
    Tends to :func:`fireheat.heat.surface.surface_rise` at first and to
    ``flux * radius / conductivity`` in the end.

    References
    ----------
    .. [1] Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, section 10.5.
       (from memory)

    Examples
    --------
    >>> one = {"radius": 1.0, "conductivity": 1.0, "diffusivity": 1.0}
    >>> print(f"{disc_centre_rise(1.0, time=0.1, **one):.5f}")
    0.35288
    """
    flux, time, radius, conductivity, diffusivity = _checked_disc(
        flux, time, radius, conductivity, diffusivity
    )
    reach = 2 * np.sqrt(diffusivity * time)
    ratio = _ratio(radius, reach)
    # the bracket above, multiplied out so that nothing cancels when the ratio is small
    spread = radius * special.erfc(ratio) - reach * np.expm1(-(ratio**2)) / np.sqrt(np.pi)
    return plain(flux / conductivity * spread)


def disc_mean_rise(flux, *, time, radius, conductivity, diffusivity):
    r"""Mean temperature rise of a disc of constant heat flux on a thick solid.

    .. math:: \overline{\Delta T} = \frac{2 q'' a}{k} \int_0^\infty
              \frac{J_1(x)^2}{x^2}\, \mathrm{erf}\!\left(x \sqrt{Fo}\right) dx
              = \frac{4 q'' a}{\pi k} \int_0^1 \mathrm{erfc}\!\left(\frac{y}{\sqrt{Fo}}\right)
              \left[\arccos y - y\sqrt{1-y^2}\right] dy,
              \quad Fo = \frac{\alpha t}{a^2}

    Parameters
    ----------
    flux : float or ndarray
        Heat flux into the disc from time zero on; none enters or leaves round it. [W/m^2]
    time : float or ndarray
        Time since the flux began. [s]
    radius : float or ndarray
        Radius a of the disc. [m]
    conductivity : float or ndarray
        Thermal conductivity of the solid, the same every way. [W/(m K)]
    diffusivity : float or ndarray
        Thermal diffusivity of the solid. [m^2/s]

    Returns
    -------
    float or ndarray
        Rise above the initial temperature, broadcast over the arguments. [K]

    Raises
    ------
    InputError
        If radius or a property is not positive, or flux or time is negative.

    Notes
    -----
    The first integral is the book's. The second is the same thing seen another way: every bit of
    the disc warms every other by ``erfc(distance / (2 sqrt(alpha t))) / (2 pi k distance)``, and
    the bracket counts the pairs of points that are ``2 a y`` apart. Its integrand is smooth and
    of one sign, so two dozen Gauss points give 12 digits at any time. Tends to
    :func:`fireheat.heat.surface.surface_rise` at first and to ``8 q a / (3 pi k)`` in the end.

    References
    ----------
    .. [1] Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, section 10.5.
       (from memory)

    Examples
    --------
    >>> print(f"{disc_mean_rise(1.0, time=0.1, radius=1.0, conductivity=1.0, diffusivity=1.0):.5f}")
    0.29398
    """
    flux, time, radius, conductivity, diffusivity = _checked_disc(
        flux, time, radius, conductivity, diffusivity
    )
    scale = np.asarray(_ratio(radius, np.sqrt(diffusivity * time)))[..., np.newaxis]
    end = np.minimum(1.0, _ratio(6.0, scale))  # erfc is nothing beyond 6
    bend = _NODES * (2 - _NODES)  # runs into 1 flat, which smooths the arccos there
    y = end * bend
    pairs = np.arccos(y) - y * np.sqrt(1 - y**2)
    near = special.erfc(np.minimum(scale, 6.0) * bend)
    integral = np.sum(_WEIGHTS * 2 * (1 - _NODES) * end * near * pairs, axis=-1)
    return plain(4 * flux * radius / (np.pi * conductivity) * integral)


def _checked_disc(flux, time, radius, conductivity, diffusivity):
    return check(
        flux=flux, time=time, radius=radius, conductivity=conductivity, diffusivity=diffusivity
    )


def receding_surface_rise(flux, *, time, speed_recession, conductivity, density, heat_capacity):
    r"""Temperature rise of a surface that wears back into the solid under a constant heat flux.

    .. math:: \Delta T = \frac{q''}{\rho c w} \left[ \mathrm{erf}\,u
              + 2 u \,\mathrm{ierfc}\,u \right], \quad u = \frac{w}{2} \sqrt{\frac{t}{\alpha}}

    Parameters
    ----------
    flux : float or ndarray
        Heat flux into the surface from time zero on. [W/m^2]
    time : float or ndarray
        Time since flux and wear began. [s]
    speed_recession : float or ndarray
        Speed w at which the surface moves into the solid. [m/s]
    conductivity : float or ndarray
        Thermal conductivity along the depth. [W/(m K)]
    density : float or ndarray
        Density of the solid. [kg/m^3]
    heat_capacity : float or ndarray
        Heat capacity of the solid. [J/(kg K)]

    Returns
    -------
    float or ndarray
        Rise above the initial temperature, broadcast over the arguments. [K]

    Raises
    ------
    InputError
        If a property or the speed is not positive, or flux or time is negative.

    Notes
    -----
    What is worn off leaves at the surface's temperature and takes its heat along, so the rise never
    passes ``flux / (density * heat_capacity * speed_recession)`` and is never above
    :func:`fireheat.heat.surface.surface_rise`, to which it tends for slow wear.

    References
    ----------
    .. [1] The same as the one-dimensional moving-medium problem of Carslaw & Jaeger, Conduction of
       Heat in Solids, 2nd ed., 1959, section 15.2 (from memory); tested by a finite-volume run.

    Examples
    --------
    >>> wood = {"conductivity": 0.12, "density": 500.0, "heat_capacity": 1500.0}
    >>> print(f"{receding_surface_rise(63.15e3, time=60.0, speed_recession=1e-4, **wood):.1f}")
    788.5
    """
    flux, time, speed_recession, conductivity, density, heat_capacity = check(
        flux=flux,
        time=time,
        speed_recession=speed_recession,
        conductivity=conductivity,
        density=density,
        heat_capacity=heat_capacity,
    )
    capacity = density * heat_capacity
    u = speed_recession / 2 * np.sqrt(time * capacity / conductivity)
    return plain(flux / (capacity * speed_recession) * (special.erf(u) + 2 * u * _ierfc(u)))


def contact_temperature(effusivity_1, *, temperature_1, effusivity_2, temperature_2):
    r"""Temperature at once taken where two thick bodies touch.

    .. math:: T_c = \frac{e_1 T_1 + e_2 T_2}{e_1 + e_2}

    Parameters
    ----------
    effusivity_1 : float or ndarray
        Thermal effusivity of the first body. [J/(m^2 K s^0.5)]
    temperature_1 : float or ndarray
        Temperature of the first body before they touch. [K]
    effusivity_2 : float or ndarray
        Thermal effusivity of the second body. [J/(m^2 K s^0.5)]
    temperature_2 : float or ndarray
        Temperature of the second body before they touch. [K]

    Returns
    -------
    float or ndarray
        Absolute temperature of the shared surface, broadcast over the arguments. [K]

    Raises
    ------
    InputError
        If an effusivity or an absolute temperature is not positive.

    Notes
    -----
    It stays so until one of the bodies is warmed through, or heat arrives from the sides.

    References
    ----------
    .. [1] Lienhard & Lienhard, A Heat Transfer Textbook, transient conduction. (from memory)

    Examples
    --------
    Softwood that glows, set down on aluminium at room temperature:

    >>> metal = {"effusivity_2": 24000.0, "temperature_2": 293.15}
    >>> print(f"{contact_temperature(300.0, temperature_1=873.15, **metal):.1f}")
    300.3
    """
    effusivity_1, temperature_1, effusivity_2, temperature_2 = check(
        effusivity_1=effusivity_1,
        temperature_1=temperature_1,
        effusivity_2=effusivity_2,
        temperature_2=temperature_2,
    )
    total = effusivity_1 + effusivity_2
    return (effusivity_1 * temperature_1 + effusivity_2 * temperature_2) / total


def ignition_time_thick(flux, *, rise, thermal_inertia):
    r"""Time for the surface of one thick solid to rise to ignition under a constant heat flux.

    .. math:: t = \frac{\pi}{4} k \rho c \left( \frac{\Delta T}{q''} \right)^2

    Parameters
    ----------
    flux : float or ndarray
        Net heat flux into the surface. [W/m^2]
    rise : float or ndarray
        Rise from the initial to the ignition temperature. [K]
    thermal_inertia : float or ndarray
        Conductivity times density times heat capacity. [J^2/(m^4 K^2 s)]

    Returns
    -------
    float or ndarray
        Time, infinite where the flux is zero. [s]

    Raises
    ------
    InputError
        If rise or thermal inertia is not positive, or the flux is negative.

    Notes
    -----
    One body. Two alike bodies that share the heat of rubbing have twice the effusivity between
    them, so four times the thermal inertia: the time is four times as long, not twice.

    References
    ----------
    .. [1] Quintiere, Fundamentals of Fire Phenomena, 2006, ignition of thermally thick solids.
       (from memory)

    Examples
    --------
    >>> print(f"{ignition_time_thick(30e3, rise=365.0, thermal_inertia=0.46e6):.1f}")
    53.5
    """
    flux, rise, thermal_inertia = check(flux=flux, rise=rise, thermal_inertia=thermal_inertia)
    return np.pi / 4 * thermal_inertia * _ratio(rise, flux) ** 2


def ignition_time_thin(flux, *, rise, heat_capacity_per_area):
    r"""Time for a thin sheet, warm all through, to rise to ignition under a constant heat flux.

    .. math:: t = \frac{\rho c d \, \Delta T}{q''}

    Parameters
    ----------
    flux : float or ndarray
        Net heat flux into the sheet. [W/m^2]
    rise : float or ndarray
        Rise from the initial to the ignition temperature. [K]
    heat_capacity_per_area : float or ndarray
        Density times heat capacity times thickness. [J/(m^2 K)]

    Returns
    -------
    float or ndarray
        Time, infinite where the flux is zero. [s]

    Raises
    ------
    InputError
        If rise or heat capacity is not positive, or the flux is negative.

    References
    ----------
    .. [1] Quintiere, Fundamentals of Fire Phenomena, 2006, ignition of thermally thin solids.
       (from memory)

    Examples
    --------
    >>> print(f"{ignition_time_thin(30e3, rise=300.0, heat_capacity_per_area=1000.0):.1f}")
    10.0
    """
    flux, rise, heat_capacity_per_area = check(
        flux=flux, rise=rise, heat_capacity_per_area=heat_capacity_per_area
    )
    return heat_capacity_per_area * _ratio(rise, flux)


def critical_heat_flux_for_ignition(
    temperature_ignition, *, temperature_ambient, film, emissivity=1.0
):
    r"""Heat flux below which a surface loses all it gets before it is hot enough to ignite.

    .. math:: q''_{cr} = h (T_{ig} - T_0) + \varepsilon \sigma (T_{ig}^4 - T_0^4)

    Parameters
    ----------
    temperature_ignition : float or ndarray
        Absolute temperature of the surface at ignition. [K]
    temperature_ambient : float or ndarray
        Absolute temperature of air and surroundings. [K]
    film : float or ndarray
        Heat transfer coefficient by convection alone. [W/(m^2 K)]
    emissivity : float or ndarray, optional
        Emissivity of the surface, which absorbs as well as it emits. [1]

    Returns
    -------
    float or ndarray
        Critical heat flux, broadcast over the arguments. [W/m^2]

    Raises
    ------
    InputError
        If a temperature is not positive, ignition is below ambient, or the film is negative.

    Notes
    -----
    A steady balance at the surface: heat that soaks in is left out, as in the long run it stops.

    References
    ----------
    .. [1] ASTM E1321, Standard Test Method for Determining Material Ignition and Flame Spread
       Properties. (from memory)

    Examples
    --------
    >>> flux = critical_heat_flux_for_ignition(663.15, temperature_ambient=298.15, film=15.0)
    >>> print(f"{flux:.0f}")
    15993
    """
    temperature_ignition, temperature_ambient, film, emissivity = check(
        temperature_ignition=temperature_ignition,
        temperature_ambient=temperature_ambient,
        film=film,
        emissivity=emissivity,
    )
    for ignition, ambient in np.broadcast(temperature_ignition, temperature_ambient):
        if ignition < ambient:
            raise InputError(
                f"ignition temperature is {ignition:g} K; allowed: {ambient:g} K, that of the"
                " air, or more"
            )
    radiated = constants.sigma * (temperature_ignition**4 - temperature_ambient**4)
    return film * (temperature_ignition - temperature_ambient) + emissivity * radiated
