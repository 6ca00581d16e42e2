"""When things happen: the energy bound, first steady smoke, and the ember.

Two answers that must never be mistaken for one another. The *bound* counts only the energy that
the dust itself needs: no kit can beat it. The *two-stage estimate* lets both bodies soak up heat:
first the contact must reach charring (*smoke*), then what is not soaked up makes dust until there
is enough of it (*ember*). Both formulas are derived in :mod:`fireheat.relation`.

Letters in short bodies: T = sqrt(t/t1 - 1), with t the ember's time and t1 the smoke's, and
eps = E/(q t1), the energy the dust needs over the heat made until smoke.
"""

from dataclasses import dataclass
from functools import lru_cache, partial

import numpy as np
from scipy.constants import minute
from scipy.interpolate import CubicSpline

from .bowing import friction_power
from .constants import constant
from .impedance import contact_impedance, side_film, soaked_heat, steady_impedance
from .kit import Air, Effort, Kit
from .quantities import InputError, check, default, plain
from .wood import energy_parts, hot_properties, wood


def energy_bound(
    energy_per_area,
    force,
    friction,
    speed,
    radius,
    *,
    contact="uniform_wear",
    cord_radius=None,
):
    r"""Least time in which bowing could deliver the energy that an ember's dust needs.

    .. math:: t_{bound} = \frac{E \pi r^2}{P}, \qquad P = C \mu F v \, r / R

    Parameters
    ----------
    energy_per_area : float or ndarray
        Energy to grind off and char one ember's dust, over the contact area. [J/m^2]
    force : float or ndarray
        Downward force on the tip. [N]
    friction : float or ndarray
        Friction coefficient between spindle and board. [1]
    speed : float or ndarray
        Average speed of the cord, both ways counted. [m/s]
    radius : float or ndarray
        Radius of the tip. [m]
    contact : str, optional
        How the pressure is spread, see :func:`fireheat.bowing.torque_coefficient`.
    cord_radius : float or ndarray, optional
        Radius where the cord wraps; the tip's if left out. [m]

    Returns
    -------
    float or ndarray
        Time, broadcast over the arguments; infinite where no heat is made. [s]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    A lower bound, not an estimate: all heat soaked up by the wood or lost to the air is left out,
    so a real try takes longer, often several times as long.

    References
    ----------
    .. [1] The thermally thin ignition time, rho c d DT/q, in Quintiere, Fundamentals of Fire
       Phenomena, chapter 7. (from memory)

    Examples
    --------
    >>> round(energy_bound(1e6, 60.0, 0.35, 1.0, 0.0065), 2)
    12.64
    """
    energy_per_area, radius = check(energy_per_area=energy_per_area, radius=radius)
    power = friction_power(
        force,
        friction,
        speed,
        contact=contact,
        radius=radius,
        cord_radius=cord_radius,
    )
    return _over(energy_per_area * np.pi * radius * radius, power)


def two_stage(flux, energy_per_area, effusivity, rise):
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
    .. [2] The second stage is derived in :func:`fireheat.relation.two_stage_steps`.

    Examples
    --------
    >>> smoke, ember = two_stage(126e3, 1.03e6, 700.0, 300.0)
    >>> round(smoke, 3), round(ember, 2)
    (2.182, 15.37)
    """
    flux, energy_per_area, effusivity, rise = check(
        flux=flux, energy_per_area=energy_per_area, effusivity=effusivity, rise=rise
    )
    soaking = effusivity * rise
    eps = _dust_ratio(flux, energy_per_area, soaking)
    smoke = _over(np.pi / 4 * soaking * soaking, flux * flux)
    # Later than smoke by t1 T^2, written (E/q)(T^2/eps) so that no limit is infinity times zero.
    return smoke, smoke + _over(energy_per_area, flux) * plain(_root(eps) ** 2 / eps)


def area_exponent(flux, energy_per_area, effusivity, rise):
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
    .. [1] Derived in :func:`fireheat.relation.two_stage_steps`.

    Examples
    --------
    >>> round(area_exponent(126e3, 1.03e6, 700.0, 300.0), 3)
    1.295
    """
    flux, energy_per_area, effusivity, rise = check(
        flux=flux, energy_per_area=energy_per_area, effusivity=effusivity, rise=rise
    )
    eps = _dust_ratio(flux, energy_per_area, effusivity * rise)
    T = _root(eps)  # noqa: N806
    exponent = 2 - eps / (1 + T * T) / (2 / np.pi * np.arctan(T))
    return plain(np.clip(exponent, 1, 2))  # rounding would end a hair outside


def power_exponent(flux, energy_per_area, effusivity, rise):
    r"""Power of the watts with which the ember's time grows, on the same tip.

    .. math:: \frac{\partial \ln t}{\partial \ln P} = -n

    Force, friction and speed each act through the watts alone, so it is theirs too.

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
        From -1 to -2: area and watts act only through the flux P/A, so it is
        :func:`area_exponent` with its sign turned. [1]

    Raises
    ------
    InputError
        If a value is out of its range.

    References
    ----------
    .. [1] Derived in :func:`fireheat.relation.two_stage_steps`.

    Examples
    --------
    >>> round(power_exponent(126e3, 1.03e6, 700.0, 300.0), 3)
    -1.295
    """
    return -area_exponent(flux, energy_per_area, effusivity, rise)


def heat_split(flux, energy_per_area, effusivity, rise):
    r"""Where the heat of the two-stage estimate has gone when the ember is there.

    .. math:: q t = E + \frac{2}{\pi} q t_1
        \left[ s \arcsin \frac{1}{\sqrt{s}} + \sqrt{s - 1} \right]

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
    dust : float or ndarray
        What went into the dust: the energy it needs. [J/m^2]
    soaked : float or ndarray
        What soaked into spindle and board; infinite without flux. [J/m^2]

    Raises
    ------
    InputError
        If a value is out of its range.

    References
    ----------
    .. [1] Derived in :func:`fireheat.relation.two_stage_steps`.

    Examples
    --------
    >>> dust, soaked = heat_split(126e3, 1.03e6, 700.0, 300.0)
    >>> dust, round(soaked, -3)
    (1030000.0, 906000.0)
    """
    flux, energy_per_area, effusivity, rise = check(
        flux=flux, energy_per_area=energy_per_area, effusivity=effusivity, rise=rise
    )
    soaking = effusivity * rise
    T = _root(_dust_ratio(flux, energy_per_area, soaking))  # noqa: N806
    share = 2 / np.pi * ((1 + T * T) * np.arctan(1 / T) + T)
    return energy_per_area, _over(np.pi / 4 * soaking * soaking, flux) * plain(share)


def _over(amount, rate):
    """Amount over rate; for ever where the rate is zero, whatever the amount."""
    if np.all(rate > 0):
        return amount / rate
    time = np.full(np.broadcast_shapes(np.shape(amount), np.shape(rate)), np.inf)
    np.divide(amount, rate, out=time, where=rate > 0)
    return plain(time)


def _dust_ratio(flux, energy_per_area, soaking):
    """Return eps, kept inside what floats can square and divide by; both ends are limits."""
    eps = _over(energy_per_area * flux, np.pi / 4 * soaking * soaking)
    return np.clip(eps, 1e-150, 1e150)


def _root(eps):
    """Solve (1 + T^2) arctan(T) - T = (pi/2) eps, the universal curve, for T."""
    y = np.pi / 2 * eps
    small = np.cbrt(1.5 * y)
    large = 2 / np.pi * (1 + np.sqrt(np.maximum(1 + np.pi / 2 * (y - np.pi / 2), 0)))
    T = np.where(small < 1.5, small * (1 + small * small / 15), large)  # noqa: N806
    for _ in range(2):  # Halley steps: within 8 % of s to start with, then 1e-4, then 3e-13
        angle = np.arctan(T)
        slope = 2 * T * angle
        excess = (1 + T * T) * angle - T - y
        T = T - excess / (slope - excess * (angle + T / (1 + T * T)) / slope)  # noqa: N806
    return T


# ---- any impedance: the march --------------------------------------------------------------
#
# After smoke the contact is held at charring, and the surplus g = P - p, what is not conducted
# away, solves  integral of Z(T - s) dg(s) = P [Z(t1 + T) - Z(t1)]  for every T since smoke. In the
# angle x = arctan(sqrt(T/t1)) the surplus of thick bodies is the straight line g = P (2/pi) x, and
# any other is a smooth curve near it. So g is taken as a polynomial in x, made to satisfy the
# equation at as many angles as it has terms: one small linear system a kit. (Its constant term is
# zero for solid bodies, but lets a lump of metal, say, be a body too.)

_TERMS = 14
_ANGLES = (1 - np.cos(np.pi * np.arange(1, _TERMS + 1) / _TERMS)) / 2  # of the largest, 0 to 1
_NODES, _WEIGHTS = (column / 2 for column in np.polynomial.legendre.leggauss(20))
_NODES = _NODES + 0.5
_LATEST = constant("latest_answer")
_HARDLY = 0.95  # of the least power: with more than this it never is only because it is too late
_TIMES = np.geomspace(1e-3, 2 * _LATEST, 46)  # where Z is asked for; below, it grows as sqrt(t)


def march(power, rise, energy, impedance):
    r"""Time to first steady smoke and to the ember, for a contact of any thermal impedance.

    .. math:: P Z(t_1) = \Delta T, \qquad
        \int_0^t Z'(t - s) \, p(s) \, ds = \Delta T \;\; (t > t_1), \qquad
        \int_{t_1}^t (P - p) \, ds = E_A

    Until t1 all the power P is conducted away and the contact warms. From then on it stays at its
    charring temperature; that takes the power p, and the surplus makes dust.

    Parameters
    ----------
    power : float or ndarray
        Heat made in the contact, steady from time zero on. [W]
    rise : float or ndarray
        Charring temperature less the temperature at the start. [K]
    energy : float or ndarray
        Energy that one ember's dust needs. [J]
    impedance : callable
        Temperature rise of the contact for each watt, as a function of time: seconds to K/W, such
        as :func:`fireheat.impedance.contact_impedance` with a kit filled in. It is asked for an
        array of times; where ``power``, ``rise`` or ``energy`` are arrays, the times have one axis
        more, in front, so that every kit may have an impedance of its own.

    Returns
    -------
    smoke : float or ndarray
        Time at which the contact chars; infinite if never. [s]
    ember : float or ndarray
        Time at which the dust has had its energy; infinite if never. [s]

    Raises
    ------
    InputError
        If a value is out of its range, or the impedance is not above zero and finite.

    Notes
    -----
    What the bodies have taken up by the ember's time is ``power * ember - energy``, in J.

    Error: below 0.02 % for solid bodies, against :func:`two_stage` and against a march in thousands
    of steps; 0.3 % for lumped ones, whose net power jumps at smoke. "Never" means not within six
    days; an answer so late would hang on the last digit of the power.

    References
    ----------
    .. [1] The second line is a Volterra equation of the first kind; collocation for such is in
       Brunner, Collocation Methods for Volterra Integral and Related Functional Equations, 2004.
       (from memory)

    Examples
    --------
    Thick bodies, as in :func:`two_stage`, on one square metre:

    >>> smoke, ember = march(126e3, 300.0, 1.03e6, lambda t: 2 * np.sqrt(t / np.pi) / 700.0)
    >>> round(smoke, 3), round(ember, 2)
    (2.182, 15.37)
    """
    power, rise, energy = np.broadcast_arrays(*check(power=power, rise=rise, energy=energy))
    shape = power.shape
    if power.size == 0:
        return np.empty(shape), np.empty(shape)
    table = _impedance_table(impedance, shape)
    power, rise, energy = power.ravel(), rise.ravel(), energy.ravel()
    smoke = _when_reached(table, np.log(_finite(_over(rise, power))))
    start = np.minimum(smoke, _LATEST)  # a placeholder where never; never plus anything is never
    largest = np.arctan(np.sqrt(_LATEST / start))
    share = _surplus_share(table, start, largest)
    later = _when_delivered(share, start, largest, _finite(_over(energy, power)))
    ember = np.where(energy > 0, smoke + later, smoke)
    return plain(smoke.reshape(shape)), plain(ember.reshape(shape))


def _impedance_table(impedance, shape):
    """Spline of ln Z over the step number in ln t: coefficient, step, kit."""
    times = _TIMES.reshape(-1, *(1 for _ in shape))
    try:
        values = impedance(times)
    except (TypeError, ValueError):  # it takes one time only
        values = np.vectorize(impedance, otypes=[float])(times)
    values = np.broadcast_to(values, (_TIMES.size, *shape)).reshape(_TIMES.size, -1)
    if not np.all((values > 0) & np.isfinite(values)):
        raise InputError("thermal impedance must be a finite number of K/W above 0 at every time")
    return CubicSpline(np.arange(_TIMES.size), np.log(values)).c


def _read(table, time):
    """Impedance at times of shape (kit, ...)."""
    kit = np.arange(table.shape[2]).reshape(-1, *(1 for _ in time.shape[1:]))
    place = np.log(np.maximum(time, _TIMES[0]) / _TIMES[0]) / np.log(_TIMES[1] / _TIMES[0])
    step = np.minimum(place.astype(int), table.shape[1] - 1)
    a, b, c, d = table[:, step, kit]
    u = place - step
    return np.exp(d + u * (c + u * (b + u * a))) * np.sqrt(np.minimum(time / _TIMES[0], 1))


def _finite(value):
    """Put a huge number for infinity, which cannot be subtracted from itself."""
    return np.minimum(value, 1e300)


def _when_reached(table, wanted):
    """Find when ln Z rises past a value, a number a kit; infinite if not by the latest time."""
    knots, kit = table[3], np.arange(table.shape[2])
    step = np.maximum(np.sum(knots <= wanted, axis=0) - 1, 0)
    a, b, c, d = table[:, step, kit]
    u = np.full(wanted.shape, 0.5)
    for _ in range(6):  # Newton's method inside one piece of the spline
        value = d - wanted + u * (c + u * (b + u * a))
        u = np.clip(u - value / np.maximum(c + u * (2 * b + u * 3 * a), 1e-300), 0, 1)
    early = np.minimum(2 * (wanted - knots[0]), 0)  # below the table Z grows as the square root
    time = _TIMES[0] * np.exp(early) * (_TIMES[1] / _TIMES[0]) ** (step + u)
    latest = np.log(_read(table, np.full(kit.shape, _LATEST)))
    return np.where(wanted > latest, np.inf, time)


def _when_delivered(share, smoke, largest, wanted):
    """Find how long after smoke the dust has had its energy; infinite if not by the latest time.

    What is delivered rises, ever faster. So Newton's method, in the logarithm of time, homes in
    from above; where a step would leave the bracket, the bracket is halved instead.
    """
    low, high = np.full(smoke.shape, np.log(1e-12)), np.full(smoke.shape, np.log(_LATEST))
    never = _delivered(share, smoke, largest, np.exp(high))[0] < wanted
    thick = smoke * _root(np.clip(wanted / smoke, 1e-150, 1e150)) ** 2
    place = np.clip(np.log(thick), low, high)
    for _ in range(60):
        value, slope = _delivered(share, smoke, largest, np.exp(place))
        short = value < wanted
        low, high = np.where(short, place, low), np.where(short, high, place)
        after = place - (value - wanted) / np.maximum(slope * np.exp(place), 1e-300)
        after = np.where((after > low) & (after < high), after, (low + high) / 2)
        moved, place = np.max(np.abs(after - place)), after
        if moved < 1e-9:
            break
    return np.where(never, np.inf, np.exp(place))


def _surplus_share(table, smoke, largest):
    """Surplus over power, a row a kit: coefficients of 1, x, x^2 and on, x = angle / largest."""
    smoke, largest = smoke[:, np.newaxis], largest[:, np.newaxis]
    now = smoke * np.tan(largest * _ANGLES) ** 2
    warming = _read(table, smoke + now) - _read(table, smoke)
    x = _ANGLES[:, np.newaxis] * _NODES * (2 - _NODES)  # close where Z begins like a square root
    before = smoke[..., np.newaxis] * np.tan(largest[..., np.newaxis] * x) ** 2
    kernel = _read(table, now[..., np.newaxis] - before)
    powers = np.arange(1, _TERMS)
    slopes = powers * x[..., np.newaxis] ** (powers - 1)
    steps = _ANGLES[:, np.newaxis] * _WEIGHTS * 2 * (1 - _NODES)
    growing = np.einsum("kiq,iqp->kip", kernel, steps[..., np.newaxis] * slopes, optimize=True)
    matrix = np.concatenate([_read(table, now)[..., np.newaxis], growing], axis=-1)
    return np.linalg.solve(matrix, warming[..., np.newaxis])[..., 0]


def _delivered(share, smoke, largest, time):
    """Time since smoke that full power would need for what the dust has had, and its rate."""
    end = np.sqrt(time / smoke)[:, np.newaxis]
    x = np.arctan(end * np.append(_NODES, 1.0)) / largest[:, np.newaxis]
    value = np.zeros_like(x)
    for coefficient in share.T[::-1]:
        value = value * x + coefficient[:, np.newaxis]
    return time * (value[:, :-1] @ (2 * _NODES * _WEIGHTS)), value[:, -1]


# ---- a kit, an effort, a day ---------------------------------------------------------------


@dataclass(frozen=True)
class Times:
    """Bound and estimates of one state, or of many at once.

    Attributes
    ----------
    power : float or ndarray
        Heat made at the tip. [W]
    flux : float or ndarray
        The same over the area of the tip. [W/m^2]
    bound : float or ndarray
        No ember sooner than this, from energy alone. [s]
    smoke, ember : ndarray, shape (3,) or (3, n)
        Estimates of first steady smoke and of the ember: low end, likely, high end. [s]
    """

    power: float
    flux: float
    bound: float
    smoke: np.ndarray
    ember: np.ndarray


@dataclass(frozen=True)
class Estimate(Times):
    """Bound and estimates of one state, and where its heat goes.

    Attributes
    ----------
    least_power : float
        With less than this the contact never reaches charring; likely value. [W]
    least_power_band : tuple of float
        The same at the low and the high end of the band. [W]
    heat : dict of str to float
        Heat in ``"dust"``, in its ``"water"``, in ``"spindle"`` and ``"board"``, and given to
        ``"air"``, when the ember is there; if it never is, after ten minutes. [J]
    never : str
        Why there is never an ember; empty if there is one.
    """

    least_power: float
    least_power_band: tuple[float, float]
    heat: dict[str, float]
    never: str


# What can be changed without making a new kit, and where a state keeps it.
_CHANGEABLE = {
    "diameter": lambda kit, effort, air: kit.diameter,
    "friction": lambda kit, effort, air: kit.friction,
    "burn_in_depth": lambda kit, effort, air: kit.burn_in_depth,
    "moisture": lambda kit, effort, air: kit.moisture,
    "specific_gravity": lambda kit, effort, air: wood(kit.wood).specific_gravity,
    "axial_factor": lambda kit, effort, air: default("axial_factor"),
    "force": lambda kit, effort, air: effort.force,
    "speed": lambda kit, effort, air: effort.speed,
    "temperature_ambient": lambda kit, effort, air: air.temperature,
}


def changeable(kit, effort, air):
    """Return the quantities of a state that can be changed or swept, by name, in SI.

    Examples
    --------
    >>> changeable(Kit(), Effort(), Air())["force"]
    60.0
    """
    return {key: read(kit, effort, air) for key, read in _CHANGEABLE.items()}


def times(kit, effort, air, **changed):
    """Bound, smoke and ember of a state, with some of its quantities changed or swept.

    Parameters
    ----------
    kit : Kit
        The kit.
    effort : Effort
        The effort.
    air : Air
        The air.
    **changed : float or ndarray
        Quantities to use instead, of those in :func:`changeable`; arrays sweep them. [SI]

    Returns
    -------
    Times
        Bound and estimates.

    Raises
    ------
    InputError
        If a changed quantity is not one of those that can change, or out of its range.

    References
    ----------
    .. [1] :func:`energy_bound`; :func:`march` over :func:`fireheat.impedance.contact_impedance`.

    Examples
    --------
    >>> times(Kit(), Effort(), Air(), diameter=np.array([0.01, 0.02])).bound.round()
    array([ 8., 30.])
    """
    case = _case(kit, effort, air, changed)
    with np.errstate(divide="ignore"):
        bound = case.energy / case.power
    smoke, ember = march(
        case.power,
        case.rise,
        np.broadcast_to(case.energy, (3, *np.shape(case.power))),
        _recalled(case.contact),
    )
    return Times(
        power=plain(case.power),
        flux=plain(case.power / case.area),
        bound=plain(bound),
        smoke=smoke,
        ember=ember,
    )


@dataclass(frozen=True)
class _Case:
    """A state in the numbers that the march needs; the contact has a band in front."""

    power: np.ndarray
    area: np.ndarray
    rise: np.ndarray
    dry_energy: np.ndarray
    water_energy: np.ndarray
    contact: dict

    @property
    def energy(self):
        return self.dry_energy + self.water_energy


def _case(kit, effort, air, changed):
    unknown = set(changed) - set(_CHANGEABLE)
    if unknown:
        raise InputError(f"cannot change {sorted(unknown)}; allowed: {sorted(_CHANGEABLE)}")
    check(**changed)
    now = changeable(kit, effort, air) | changed
    radius = np.divide(now["diameter"], 2)
    power = friction_power(
        now["force"],
        now["friction"],
        now["speed"],
        contact=kit.contact,
        radius=radius,
        cord_radius=kit.cord_radius,
    )
    char, ambient = default("temperature_char"), now["temperature_ambient"]
    hot = hot_properties(
        now["specific_gravity"],
        now["moisture"],
        np.add(ambient, char) / 2,
        axial_factor=now["axial_factor"],
    )
    parts = energy_parts(
        now["burn_in_depth"],
        hot.density,
        now["moisture"],
        temperature_ambient=ambient,
        temperature_char=char,
    )
    area = np.pi * radius**2
    power, area, rise, dry, water, _ = np.broadcast_arrays(
        power,
        area,
        char - ambient,
        parts.wood * area,
        parts.water * area,
        hot.conductivity_along,
    )
    return _Case(power, area, rise, dry, water, _contact(kit, air, radius, hot, power.ndim))


def _contact(kit, air, radius, hot, axes):
    """Gather what the impedance needs, at the low end, the middle and the high end of the band.

    The band is one on effusivity; taking it in equal parts on conductivity and heat capacity
    leaves how fast heat spreads as it is. Only what differs between states has more than one
    value along their axis, so that a sweep of force asks for one impedance, not for many.
    """
    band = np.stack(np.broadcast_arrays(hot.effusivity_low, 1.0, hot.effusivity_high))
    band = band.reshape(3, *(1,) * (axes - band.ndim + 1), *band.shape[1:])
    return {
        "radius": radius,
        "length": float(kit.spindle_length),
        "film": side_film(air.film, radius, hot.conductivity),
        "spindle_conductivity": hot.conductivity_along * band,
        "spindle_heat_capacity": hot.volumetric_heat_capacity * band,
        "board_conductivity": hot.conductivity * band,
        "board_heat_capacity": hot.volumetric_heat_capacity * band,
    }


def _recalled(contact):
    """Return the impedance of a contact, remembered: a slider that moves watts leaves it alone."""
    key = tuple(
        (name, np.shape(value), np.ravel(value).tobytes()) for name, value in contact.items()
    )
    return lambda time: _remembered(time.shape, time.tobytes(), key)


@lru_cache(maxsize=64)
def _remembered(shape, time, key):
    contact = {name: np.frombuffer(value).reshape(form) for name, form, value in key}
    return contact_impedance(np.frombuffer(time).reshape(shape), **contact)


def kit_impedances(kit, air):
    """Thermal impedance of a kit's contact as a function of time, at both ends of its band.

    Parameters
    ----------
    kit : Kit
        The kit.
    air : Air
        The air.

    Returns
    -------
    tuple of callable
        Seconds in, kelvin per watt out, arrays both: for wood that soaks up little heat, the
        likely heat, and much.

    Examples
    --------
    >>> little, likely, much = kit_impedances(Kit(), Air())
    >>> print(f"{likely(10.0):.0f} K/W")
    34 K/W
    """
    contact = _case(kit, Effort(), air, {}).contact
    return tuple(partial(contact_impedance, **_one_end(contact, end)) for end in range(3))


def _one_end(contact, end):
    """Pick one end of the band of what the impedance needs; 1 is the likely value."""
    return {
        key: float(value[end]) if np.ndim(value) else float(value) for key, value in contact.items()
    }


def estimate(kit=None, effort=None, air=None):
    """Estimate when a kit smokes, when its ember is there, and where the heat goes.

    Parameters
    ----------
    kit : Kit, optional
        The kit; an ordinary one if left out.
    effort : Effort, optional
        The effort; an ordinary one if left out.
    air : Air, optional
        The air; a mild day if left out.

    Returns
    -------
    Estimate
        Bound, estimates with their band, least power, heat, and why never.

    Notes
    -----
    The band covers what is not known of the wood: how much heat it soaks up while it is rubbed,
    from the cold wood of handbooks to the hot, drying wood of ignition tests. It does not cover
    friction, force, speed or burn-in depth, which a reader sets or measures. What the impedance
    leaves out is listed in :mod:`fireheat.impedance`; the largest is that the rubbing faces eat
    into wood already warm, which would bring an ember about a quarter sooner and is not in the
    band.

    References
    ----------
    .. [1] :func:`march` over :func:`fireheat.impedance.contact_impedance`, with the wood of
       :func:`fireheat.wood.hot_properties`.

    Examples
    --------
    >>> ordinary = estimate()
    >>> round(ordinary.power, 1), round(ordinary.bound), ordinary.never
    (10.5, 13, '')
    >>> estimate(effort=Effort(force=20.0, speed=0.3)).never
    'this kit makes 1.1 W, and wood carries away 1.7 W before it can char'
    """
    kit, effort, air = kit or Kit(), effort or Effort(), air or Air()
    found, case = times(kit, effort, air), _case(kit, effort, air, {})
    low, least, high = (float(case.rise / steady) for steady in steady_impedance(**case.contact))
    return Estimate(
        **vars(found),
        least_power=least,
        least_power_band=(low, high),
        heat=_heat(found, case),
        never="" if np.isfinite(found.ember[1]) else _why_never(found.power, least),
    )


def _why_never(power, least):
    if power > _HARDLY * least:
        return (
            f"this kit makes hardly more than the {least:.2g} W that wood carries away: "
            "an ember would take days, if it came at all"
        )
    return f"this kit makes {power:.2g} W, and wood carries away {least:.2g} W before it can char"


def _heat(found, case):
    """Share out the heat made until the ember, or until time is up."""
    up = 10 * minute
    done = found.ember[1] if np.isfinite(found.ember[1]) else up
    smoke = min(found.smoke[1], done)
    likely = _one_end(case.contact, 1)
    spindle, board, air = soaked_heat(float(done), float(smoke), float(case.power), **likely)
    dusty = float(done) == found.ember[1]
    return {
        "dust": float(case.dry_energy) if dusty else 0.0,
        "water": float(case.water_energy) if dusty else 0.0,
        "spindle": spindle,
        "board": board,
        "air": air,
    }
