"""The one curve that joins thin and thick: smoke and ember while two thick bodies soak up heat.

Derived in :mod:`fireheat.derivation.two_stage`. Letters in short bodies: T = sqrt(t/t1 - 1), with
t the ember's time and t1 the smoke's, and eps = E/(q t1), the energy the dust needs over the heat
made until smoke.
"""

import numpy as np

from ..quantities import Numbers, check, plain


def two_stage(
    flux: Numbers, *, energy_per_area: Numbers, effusivity: Numbers, rise: Numbers
) -> tuple[Numbers, Numbers]:
    r"""Time to first steady smoke and to the ember, while two thick bodies soak up heat.

    .. math:: t_1 = \frac{\pi}{4} \left( \frac{e \, \Delta T}{q} \right)^2, \qquad
        s - \frac{2}{\pi} \left[ s \arcsin \frac{1}{\sqrt{s}} + \sqrt{s - 1} \right]
        = \frac{E}{q t_1}, \qquad t = s \, t_1

    Parameters
    ----------
    flux : float or ndarray
        Heat flux made in the contact, for both bodies together. [W/m^2]
    energy_per_area : float or ndarray
        Energy to grind off and char one ember's dust, over the contact area. [J/m^2]
    effusivity : float or ndarray
        Thermal effusivities of both bodies, added. [J/(m^2 K s^0.5)]
    rise : float or ndarray
        Charring temperature less the temperature at the start. [K]

    Returns
    -------
    smoke : float or ndarray
        Time at which the contact chars; infinite without flux. [s]
    ember : float or ndarray
        Time at which the dust has had its energy; infinite without flux. [s]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Exact for bodies so thick and wide that heat flows straight in. A real tip is narrow, so heat
    spreads sideways in the board and leaks to the air: later than some ten seconds this errs
    early, and it never says "never" to a flux above zero.

    References
    ----------
    .. [1] The thermally thick ignition time in Quintiere, Fundamentals of Fire Phenomena,
       chapter 7. (from memory)
    .. [2] The second stage is derived in :func:`fireheat.derivation.two_stage.two_stage_steps`.

    Examples
    --------
    >>> smoke, ember = two_stage(126e3, energy_per_area=1.03e6, effusivity=700.0, rise=300.0)
    >>> round(smoke, 3), round(ember, 2)
    (2.182, 15.37)
    """
    flux, energy_per_area, effusivity, rise = check(
        flux=flux, energy_per_area=energy_per_area, effusivity=effusivity, rise=rise
    )
    soaking = effusivity * rise
    eps = energy_ratio(flux, energy_per_area=energy_per_area, soaking=soaking)
    smoke = over_rate(np.pi / 4 * soaking * soaking, rate=flux * flux)
    # Later than smoke by t1 T^2, written (E/q)(T^2/eps) so that no limit is infinity times zero.
    return smoke, smoke + over_rate(energy_per_area, rate=flux) * (curve_root(eps) ** 2 / eps)


def area_exponent(
    flux: Numbers, *, energy_per_area: Numbers, effusivity: Numbers, rise: Numbers
) -> Numbers:
    r"""Power of the contact area with which the ember's time grows, at the same watts.

    .. math:: n = \frac{\partial \ln t}{\partial \ln A}
        = 2 - \frac{E / (q t_1)}{s \left( 1 - \frac{2}{\pi} \arcsin \frac{1}{\sqrt{s}} \right)}

    Parameters
    ----------
    flux : float or ndarray
        Heat flux made in the contact, for both bodies together. [W/m^2]
    energy_per_area : float or ndarray
        Energy to grind off and char one ember's dust, over the contact area. [J/m^2]
    effusivity : float or ndarray
        Thermal effusivities of both bodies, added. [J/(m^2 K s^0.5)]
    rise : float or ndarray
        Charring temperature less the temperature at the start. [K]

    Returns
    -------
    float or ndarray
        From 1 (all heat goes into dust) to 2 (all soaks in). The exponent of the radius is twice
        this. [1]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    With leak to the air, which this leaves out, the true exponent can pass 2.

    References
    ----------
    .. [1] Derived in :func:`fireheat.derivation.two_stage.two_stage_steps`.

    Examples
    --------
    >>> round(area_exponent(126e3, energy_per_area=1.03e6, effusivity=700.0, rise=300.0), 3)
    1.295
    """
    flux, energy_per_area, effusivity, rise = check(
        flux=flux, energy_per_area=energy_per_area, effusivity=effusivity, rise=rise
    )
    eps = energy_ratio(flux, energy_per_area=energy_per_area, soaking=effusivity * rise)
    T = curve_root(eps)  # noqa: N806
    exponent = 2 - eps / (1 + T * T) / (2 / np.pi * np.arctan(T))
    return plain(np.clip(exponent, 1, 2))  # rounding would end a hair outside


def area_exponent_with_depth(
    exponent: Numbers, *, depth_exponent: Numbers, depth_slope: Numbers = None
) -> Numbers:
    r"""Power of the contact area, if what is worn off for an ember hangs on the diameter, too.

    .. math:: d_b \propto D^{-p}: \qquad
        n_p = n - \frac{p}{2} \frac{\partial \ln t}{\partial \ln d_b}
        \quad \left( = 2 - \left( 1 + \frac{p}{2} \right) (2 - n) \text{ on the curve} \right)

    Parameters
    ----------
    exponent : float or ndarray
        Power of the area at one depth. [1]
    depth_exponent : float or ndarray
        The p: zero if an ember needs the same depth, two if it needs the same grams. [1]
    depth_slope : float or ndarray, optional
        Power of the depth with which the time grows; that of the curve, 2 - n, if left out. A real
        kit leaks to the air and wears its own: take it from estimates beside each other. [1]

    Returns
    -------
    float or ndarray
        From 0 (same grams, all heat into dust) to 2 (all soaks in). [1]

    Raises
    ------
    InputError
        If a value is out of its range.

    References
    ----------
    .. [1] Derived in :func:`fireheat.derivation.two_stage.derived_area_exponent_with_depth`.

    Examples
    --------
    >>> [round(area_exponent_with_depth(1.3, depth_exponent=p), 2) for p in (0.0, 1.0, 2.0)]
    [1.3, 0.95, 0.6]
    """
    exponent, depth_exponent = check(exponent=exponent, depth_exponent=depth_exponent)
    slope = 2 - exponent if depth_slope is None else check(depth_slope=depth_slope)
    return exponent - depth_exponent / 2 * slope


def over_rate(amount: Numbers, *, rate: Numbers) -> Numbers:
    """How long a rate takes for an amount; for ever where the rate is zero, whatever the amount."""
    if np.all(rate > 0):
        return amount / rate
    time = np.full(np.broadcast_shapes(np.shape(amount), np.shape(rate)), np.inf)
    np.divide(amount, rate, out=time, where=rate > 0)
    return plain(time)


def energy_ratio(flux: Numbers, *, energy_per_area: Numbers, soaking: Numbers) -> Numbers:
    """Energy that the dust needs over the heat made until smoke.

    Parameters
    ----------
    flux : float or ndarray
        Heat flux made in the contact, for both bodies together. [W/m^2]
    energy_per_area : float or ndarray
        Energy to grind off and char one ember's dust, over the contact area. [J/m^2]
    soaking : float or ndarray
        Both effusivities, added, times the rise to charring. [SI]

    Returns
    -------
    float or ndarray
        The eps of the curve, kept inside what floats can square and divide by; both ends are
        limits. [1]

    References
    ----------
    .. [1] Derived in :func:`fireheat.derivation.two_stage.two_stage_steps`.

    Examples
    --------
    >>> round(energy_ratio(126e3, energy_per_area=1.03e6, soaking=700.0 * 300.0), 3)
    3.747
    """
    made = over_rate(np.multiply(energy_per_area, flux), rate=np.pi / 4 * np.square(soaking))
    return plain(np.clip(made, 1e-150, 1e150))


def curve_root(eps: Numbers) -> Numbers:
    r"""Solve the universal curve for T, the root of the time since smoke over that of smoke.

    .. math:: (1 + T^2) \arctan T - T = \frac{\pi}{2} \varepsilon

    Parameters
    ----------
    eps : float or ndarray
        Energy that the dust needs over the heat made until smoke; above zero. [SI]

    Returns
    -------
    float or ndarray
        The root. [1]

    References
    ----------
    .. [1] Derived in :func:`fireheat.derivation.two_stage.two_stage_steps`.

    Examples
    --------
    The root of three has a third of pi for its arctan:

    >>> eps = (4 * np.pi / 3 - np.sqrt(3)) * 2 / np.pi
    >>> round(curve_root(eps) ** 2, 9)
    3.0
    """
    y = np.pi / 2 * np.asarray(eps)
    small = np.cbrt(1.5 * y)
    large = 2 / np.pi * (1 + np.sqrt(np.maximum(1 + np.pi / 2 * (y - np.pi / 2), 0)))
    T = np.where(small < 1.5, small * (1 + small * small / 15), large)  # noqa: N806
    for _ in range(2):  # Halley steps: within 8 % of s to start with, then 1e-4, then 3e-13
        angle = np.arctan(T)
        slope = 2 * T * angle
        excess = (1 + T * T) * angle - T - y
        T = T - excess / (slope - excess * (angle + T / (1 + T * T)) / slope)  # noqa: N806
    return plain(T)
