r"""Smoke and ember for a contact of any thermal impedance Z(t).

After smoke the contact is held at charring, and the surplus g = P - p, what is not conducted
away, solves  integral of Z(T - s) dg(s) = P [Z(t1 + T) - Z(t1)]  for every T since smoke. In the
angle x = arctan(sqrt(T/t1)) the surplus of thick bodies is the straight line g = P (2/pi) x, and
any other is a smooth curve near it. So g is taken as a polynomial in x, made to satisfy the
equation at as many angles as it has terms: one small linear system a kit. (Its constant term is
zero for solid bodies, but lets a lump of metal, say, be a body too.)
"""

from collections.abc import Callable

import numpy as np
from scipy.interpolate import CubicSpline

from ..constants import constant
from ..quantities import InputError, Numbers, check, plain
from .two_stage import curve_root, over_rate

_TERMS = 14  # of the polynomial
_ANGLES = (1 - np.cos(np.pi * np.arange(1, _TERMS + 1) / _TERMS)) / 2  # of the largest, 0 to 1
_NODES, _WEIGHTS = (column / 2 for column in np.polynomial.legendre.leggauss(20))
_NODES = _NODES + 0.5
_LATEST = constant("latest_answer")
_TIMES = np.geomspace(1e-3, 2 * _LATEST, 46)  # where Z is asked for; below, it grows as sqrt(t)


def march(
    power: Numbers, *, rise: Numbers, energy: Numbers, impedance: Callable[[Numbers], Numbers]
) -> tuple[Numbers, Numbers]:
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
        as :meth:`fireheat.heat.contact.Contact.impedance`. It is asked for an
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

    Error: below 0.02 % for solid bodies, against :func:`fireheat.heat.two_stage.two_stage` and
    against a march in thousands of steps; 0.3 % for lumped ones, whose net power jumps at smoke.
    "Never" means not within six days; an answer so late would hang on the last digit of the power.

    References
    ----------
    .. [1] The second line is a Volterra equation of the first kind; collocation for such is in
       Brunner, Collocation Methods for Volterra Integral and Related Functional Equations, 2004.
       (from memory)

    Examples
    --------
    Thick bodies, as in :func:`fireheat.heat.two_stage.two_stage`, on one square metre:

    >>> def thick(time):
    ...     return 2 * np.sqrt(time / np.pi) / 700.0
    >>> smoke, ember = march(126e3, rise=300.0, energy=1.03e6, impedance=thick)
    >>> round(smoke, 3), round(ember, 2)
    (2.182, 15.37)
    """
    power, rise, energy = np.broadcast_arrays(*check(power=power, rise=rise, energy=energy))
    shape = power.shape
    if power.size == 0:
        return np.empty(shape), np.empty(shape)
    table = _impedance_table(impedance, shape)
    power, rise, energy = power.ravel(), rise.ravel(), energy.ravel()
    smoke = _when_reached(table, np.log(_finite(over_rate(rise, rate=power))))
    start = np.minimum(smoke, _LATEST)  # a placeholder where never; never plus anything is never
    largest = np.arctan(np.sqrt(_LATEST / start))
    share = _surplus_share(table, start, largest)
    later = _when_delivered(share, start, largest, _finite(over_rate(energy, rate=power)))
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


def _impedance_at(table, time):
    """Look impedances up at times of shape (kit, ...)."""
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
    latest = np.log(_impedance_at(table, np.full(kit.shape, _LATEST)))
    return np.where(wanted > latest, np.inf, time)


def _when_delivered(share, smoke, largest, wanted):
    """Find how long after smoke the dust has had its energy; infinite if not by the latest time.

    What is delivered rises, ever faster. So Newton's method, in the logarithm of time, homes in
    from above; where a step would leave the bracket, the bracket is halved instead.
    """
    low, high = np.full(smoke.shape, np.log(1e-12)), np.full(smoke.shape, np.log(_LATEST))
    never = _delivered(share, smoke, largest, np.exp(high))[0] < wanted
    thick = smoke * curve_root(np.clip(wanted / smoke, 1e-150, 1e150)) ** 2
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
    warming = _impedance_at(table, smoke + now) - _impedance_at(table, smoke)
    x = _ANGLES[:, np.newaxis] * _NODES * (2 - _NODES)  # close where Z begins like a square root
    before = smoke[..., np.newaxis] * np.tan(largest[..., np.newaxis] * x) ** 2
    kernel = _impedance_at(table, now[..., np.newaxis] - before)
    powers = np.arange(1, _TERMS)
    slopes = powers * x[..., np.newaxis] ** (powers - 1)
    steps = _ANGLES[:, np.newaxis] * _WEIGHTS * 2 * (1 - _NODES)
    growing = np.einsum("kiq,iqp->kip", kernel, steps[..., np.newaxis] * slopes, optimize=True)
    matrix = np.concatenate([_impedance_at(table, now)[..., np.newaxis], growing], axis=-1)
    return np.linalg.solve(matrix, warming[..., np.newaxis])[..., 0]


def _delivered(share, smoke, largest, time):
    """Time since smoke that full power would need for what the dust has had, and its rate."""
    end = np.sqrt(time / smoke)[:, np.newaxis]
    x = np.arctan(end * np.append(_NODES, 1.0)) / largest[:, np.newaxis]
    value = np.zeros_like(x)
    for coefficient in share.T[::-1]:
        value = value * x + coefficient[:, np.newaxis]
    return time * (value[:, :-1] @ (2 * _NODES * _WEIGHTS)), value[:, -1]
