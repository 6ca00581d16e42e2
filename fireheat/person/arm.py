"""What an arm can give: how fast it moves against a pull, and how long it keeps that up.

An arm that pulls hard moves slowly, and at its hardest pull it stands still. Two laws say how:

- *Hill's* (``law="hill"``) for muscle: at first a little more pull costs much speed;
- a straight line (``law="linear"``), which cranking and pedalling people come close to.

Either way watts are pull times speed, so they are nought at both ends and most in between.
:mod:`fireheat.kit.bowing` turns pull into force on a spindle. Both best pulls are derived in
:func:`fireheat.derivation.arm.arm_steps`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from ..data import table
from ..quantities import (
    Numbers,
    check,
    check_or_infinite,
    check_ordinary,
    choose,
    default,
    plain,
    store_floats,
)

LAWS = ("hill", "linear")
CURVATURE = default("curvature")


def arm_speed(
    pull: Numbers, *, pull_max: Numbers, speed_max: Numbers, curvature: Numbers = CURVATURE
) -> Numbers:
    r"""Speed at which an arm moves against a pull, by Hill's law.

    .. math:: v = v_{max} \, \kappa \, \frac{1 - x}{x + \kappa}, \qquad x = B / B_{max}

    Parameters
    ----------
    pull : float or ndarray
        Pull the arm has to give. [N]
    pull_max : float or ndarray
        Hardest pull, at which the arm stands still. [N]
    speed_max : float or ndarray
        Speed with nothing to pull. [m/s]
    curvature : float or ndarray, optional
        Hill's kappa; the smaller, the more speed a small pull costs. [1]

    Returns
    -------
    float or ndarray
        Speed, broadcast over the arguments; zero from the hardest pull on. [m/s]

    Raises
    ------
    InputError
        If the pull is negative, or another value is not positive.

    Notes
    -----
    The law of a fresh muscle shortening. An arm moves a bow with many muscles, both ways; the
    shape is borrowed, the ends are the person's own.

    References
    ----------
    .. [1] Hill, The heat of shortening and the dynamic constants of muscle, Proc. R. Soc. B 126
       (1938) 136. (from memory)
    .. [2] McMahon, Muscles, Reflexes, and Locomotion, 1984, for kappa. (from memory)

    Examples
    --------
    >>> round(arm_speed(25.0, pull_max=100.0, speed_max=2.0), 3)
    0.75
    >>> arm_speed(100.0, pull_max=100.0, speed_max=2.0)
    0.0
    """
    x, speed_max = _pull_fraction(pull, pull_max, speed_max)
    curvature = check(curvature=curvature)
    return plain(speed_max * curvature * (1 - x) / (x + curvature))


def arm_speed_linear(pull: Numbers, *, pull_max: Numbers, speed_max: Numbers) -> Numbers:
    r"""Speed at which an arm moves against a pull, by a straight line.

    .. math:: v = v_{max} (1 - x), \qquad x = B / B_{max}

    Parameters
    ----------
    pull : float or ndarray
        Pull the arm has to give. [N]
    pull_max : float or ndarray
        Hardest pull, at which the arm stands still. [N]
    speed_max : float or ndarray
        Speed with nothing to pull. [m/s]

    Returns
    -------
    float or ndarray
        Speed, broadcast over the arguments; zero from the hardest pull on. [m/s]

    Raises
    ------
    InputError
        If the pull is negative, or another value is not positive.

    Notes
    -----
    What Hill's law becomes as kappa grows without end.

    References
    ----------
    .. [1] Vandewalle et al., Force-velocity relationship and maximal power on a cycle ergometer,
       Eur. J. Appl. Physiol. 56 (1987) 650. (from memory)

    Examples
    --------
    >>> arm_speed_linear(25.0, pull_max=100.0, speed_max=2.0)
    1.5
    """
    x, speed_max = _pull_fraction(pull, pull_max, speed_max)
    return plain(speed_max * (1 - x))


def _pull_fraction(pull, pull_max, speed_max):
    """Pull over the hardest pull, never above one, and the checked free speed."""
    pull, pull_max, speed_max = check(pull=pull, pull_max=pull_max, speed_max=speed_max)
    x = pull / pull_max
    return np.where(x > 1 - 1e-12, 1.0, x), speed_max  # rounding moves no stalled bow


def best_pull_fraction(curvature: Numbers = CURVATURE) -> Numbers:
    r"""Share of the hardest pull at which an arm gives most watts, by Hill's law.

    .. math:: x^* = \sqrt{\kappa^2 + \kappa} - \kappa

    Parameters
    ----------
    curvature : float or ndarray, optional
        Hill's kappa. [1]

    Returns
    -------
    float or ndarray
        Share of the hardest pull; also the share of the free speed, since Hill's law is the same
        with the two exchanged. [1]

    Raises
    ------
    InputError
        If the curvature is not positive.

    Notes
    -----
    One half by the straight line, which this nears as kappa grows.

    References
    ----------
    .. [1] Derived in :func:`fireheat.derivation.arm.arm_steps`.

    Examples
    --------
    >>> round(best_pull_fraction(0.25), 6)
    0.309017
    """
    curvature = check(curvature=curvature)
    return plain(1 / (1 + np.sqrt(1 + 1 / curvature)))  # the same, safe for a large kappa


def hold_time(power: Numbers, *, critical_power: Numbers, work_above: Numbers) -> Numbers:
    r"""How long a person can keep up a power.

    .. math:: t = W' / (P - P_c)

    Parameters
    ----------
    power : float or ndarray
        Power the arm gives. [W]
    critical_power : float or ndarray
        Power that can be kept up for long. [W]
    work_above : float or ndarray
        Work that can be done above it before it is spent. [J]

    Returns
    -------
    float or ndarray
        Time; infinite up to the critical power. [s]

    Raises
    ------
    InputError
        If a value is negative or not finite.

    Notes
    -----
    Made for efforts of some two to fifteen minutes. For shorter ones it promises too much, and
    "infinite" means "not this model's limit": nobody bows for ever.

    References
    ----------
    .. [1] Monod & Scherrer, The work capacity of a synergic muscular group, Ergonomics 8 (1965)
       329. (from memory)

    Examples
    --------
    >>> hold_time(24.0, critical_power=14.0, work_above=1000.0)
    100.0
    >>> hold_time(10.0, critical_power=14.0, work_above=1000.0)
    inf
    """
    power, critical_power, work_above = check(
        power=power, critical_power=critical_power, work_above=work_above
    )
    above = np.asarray(power - critical_power)
    time = np.full(np.broadcast_shapes(above.shape, np.shape(work_above)), np.inf)
    np.divide(work_above, above, out=time, where=above > 0)
    return plain(time)


def ember_inside_hold(
    time: Numbers, *, power: Numbers, critical_power: Numbers, work_above: Numbers
) -> Numbers:
    """Whether the ember comes before the person has to stop.

    Parameters
    ----------
    time : float or ndarray
        Time to the ember; infinite where it never comes. [s]
    power : float or ndarray
        Power the arm gives. [W]
    critical_power : float or ndarray
        Power that can be kept up for long. [W]
    work_above : float or ndarray
        Work that can be done above it before it is spent. [J]

    Returns
    -------
    bool or ndarray of bool
        True where it comes in time; an ember that never comes is never in time. [1]

    Raises
    ------
    InputError
        If a value is negative or not a number.

    References
    ----------
    .. [1] As :func:`hold_time`.

    Examples
    --------
    >>> ember_inside_hold(60.0, power=24.0, critical_power=14.0, work_above=1000.0)
    True
    """
    time = np.asarray(check_or_infinite("time", time))
    hold = hold_time(power, critical_power=critical_power, work_above=work_above)
    inside = np.less_equal(time, hold) & (time != np.inf)
    return inside if inside.ndim else bool(inside)


@dataclass(frozen=True, kw_only=True)
class Arm:
    """One person's arm on the bow.

    Attributes
    ----------
    pull_max : float
        Hardest pull, at which the bow stands still. [N]
    speed_max : float
        Speed of the bow with nothing to pull; average, both ways counted. [m/s]
    curvature : float
        Hill's kappa; without effect on the straight line. [1]
    critical_power : float
        Power that can be kept up for long. [W]
    work_above : float
        Work that can be done above it before it is spent. [J]
    law : str
        ``"hill"`` or ``"linear"``.

    Raises
    ------
    InputError
        If a field is not what an arm can have.

    Examples
    --------
    >>> Arm(pull_max=100.0, speed_max=2.0, law="linear").speed(25.0)
    1.5
    """

    pull_max: float = default("pull_max")
    speed_max: float = default("speed_max")
    curvature: float = default("curvature")
    critical_power: float = default("critical_power")
    work_above: float = default("work_above")
    law: str = "hill"

    def __post_init__(self):
        check_ordinary(
            pull_max=self.pull_max,
            speed_max=self.speed_max,
            curvature=self.curvature,
            critical_power=self.critical_power,
            work_above=self.work_above,
        )
        choose("law", self.law, LAWS)
        store_floats(self)

    def speed(self, pull):
        """Speed of the bow against a pull, in metres a second."""
        ends = {"pull_max": self.pull_max, "speed_max": self.speed_max}
        if self.law == "linear":
            return arm_speed_linear(pull, **ends)
        return arm_speed(pull, curvature=self.curvature, **ends)

    @property
    def best_pull(self) -> float:
        """Pull at which this arm gives most watts, in newtons."""
        share = 1 / 2 if self.law == "linear" else best_pull_fraction(self.curvature)
        return share * self.pull_max

    def hold_time(self, power):
        """How long this arm can keep up a power, in seconds; see :func:`hold_time`."""
        return hold_time(power, critical_power=self.critical_power, work_above=self.work_above)


@dataclass(frozen=True, kw_only=True)
class ExampleArm(Arm):
    """An invented arm with a label, and a weak and a strong one of its kind.

    Attributes
    ----------
    name : str
        What a reader calls it.
    weak, strong : Arm
        All low values together, and all high ones.
    source, status : str
        Where it comes from: these are assumptions.

    Examples
    --------
    >>> child = arms()["ten_year_old"]
    >>> child.name, child.weak.pull_max, child.pull_max, child.strong.pull_max
    ('a ten-year-old', 40.0, 60.0, 85.0)
    """

    name: str
    weak: Arm
    strong: Arm
    source: str
    status: str


@cache
def arms() -> Mapping[str, ExampleArm]:
    """Return the example arms of ``data/arms.toml``, by key, weakest first."""
    return {key: _example_arm(entry) for key, entry in table("arms").items()}


def _example_arm(entry):
    words = {key: entry[key] for key in ("name", "source", "status")}
    numbers = [key for key in entry if key not in words]
    low, likely, high = ({key: entry[key][i] for key in numbers} for i in range(3))
    return ExampleArm(**words, **likely, weak=Arm(**low), strong=Arm(**high))
