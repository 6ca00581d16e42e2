r"""What happens within a stroke: how the speed rises and falls, and the contact's warmth with it.

The hand speeds up, slows down and turns round, so the heat comes in pulses. The contact answers
each pulse with its thermal impedance Z(t), kelvin per watt of steady heating after a time t, and
all answers add up (Duhamel's superposition). With power P_k in the k-th short step,

.. math:: \Delta T(t_n) = \sum_k P_k \left[ Z(t_n - t_{k-1}) - Z(t_n - t_k) \right]

Histories here hold the *average* speed in each step, not samples of it, so their sum is the
distance and no stroke is gained or lost by rounding.

Letters in short bodies: L, T and v are a stroke's length, time and average speed, L = v T.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy import constants, interpolate

from ..kit.bowing import bow_speed
from ..quantities import InputError, Numbers, check, choose, default, plain

_MOST_STEPS = 10_000_000  # in one history: beyond that they fill a computer's memory
STROKE_SHAPES = ("steady", "sinusoid", "trapezoid")


@dataclass(frozen=True)
class SpeedHistory:
    """Speed of the cord, whichever way it runs, in short steps of equal time.

    Attributes
    ----------
    step : float
        Length of each step. [s]
    speed : ndarray, shape (n,)
        Average speed in each step. [m/s]

    Raises
    ------
    InputError
        If there are no speeds, or step or speeds cannot be.
    """

    step: float
    speed: np.ndarray

    def __post_init__(self):
        step, speed = check(step=self.step, speed=self.speed)
        if np.ndim(speed) != 1 or not np.size(speed):
            raise InputError(f"bow speeds have the shape {np.shape(speed)}; allowed: one list")
        object.__setattr__(self, "step", step)
        object.__setattr__(self, "speed", speed)

    @property
    def time(self):
        """End of each step, in seconds."""
        return self.step * np.arange(1, len(self.speed) + 1)

    @property
    def duration(self) -> float:
        """End of the last step, in seconds."""
        return float(self.step * len(self.speed))

    @property
    def average(self) -> float:
        """Average speed over the whole history, rests included, in metres a second."""
        return float(np.mean(self.speed))


def stroke_history(
    stroke_length: float,
    *,
    strokes_per_minute: float,
    shape: str = "sinusoid",
    acceleration: float | None = None,
    duration: float | None = None,
    step: float | None = None,
    bout: float | None = None,
    pause: float = 0.0,
) -> SpeedHistory:
    r"""Speed of the cord over a stretch of bowing.

    Parameters
    ----------
    stroke_length : float
        How far the cord runs in one pass. [m]
    strokes_per_minute : float
        Single passes a minute while bowing; there and back are two. [1/min]
    shape : str, optional
        ``"steady"`` (as fast at the turn as in the middle: no hand can, but it is the simplest),
        ``"sinusoid"`` (a hand that swings) or ``"trapezoid"`` (as hard as it can to a steady
        speed, and as hard as it can to a stop).
    acceleration : float, optional
        The most the hand can speed up or slow down, for the trapezoid. [m/s^2]
    duration : float, optional
        How long; a minute if left out. [s]
    step : float, optional
        Time step; a millisecond if left out. [s]
    bout : float, optional
        Bowing between rests; without it there are none. [s]
    pause : float, optional
        Rest after each bout. [s]

    Returns
    -------
    SpeedHistory
        Average speed in each step. [m/s]

    Raises
    ------
    InputError
        If a value is out of its range, the duration is less than a step, the shape is unknown, or
        the hand cannot speed up fast enough for so short a stroke.

    References
    ----------
    .. [1] Kinematics; no source needed.

    Examples
    --------
    >>> long = stroke_history(0.6, strokes_per_minute=100)
    >>> short = stroke_history(0.2, strokes_per_minute=300)
    >>> round(long.average, 6), round(short.average, 6)
    (1.0, 1.0)
    >>> round(stroke_history(0.6, strokes_per_minute=100, bout=9.0, pause=1.0).average, 6)
    0.9
    """
    duration = check(duration=default("duration") if duration is None else duration)
    step = check(step=default("step") if step is None else step)
    if duration < step:
        raise InputError(f"duration is {duration:g} s; allowed: the time step, {step:g} s, or more")
    if duration > _MOST_STEPS * step:
        least = duration / _MOST_STEPS
        raise InputError(f"time step is {step:g} s; allowed in {duration:g} s: {least:g} s or more")
    speed = bow_speed(stroke_length, strokes_per_minute=strokes_per_minute)
    ramp = _ramp_share(shape, stroke_length, speed, acceleration)
    clock = _time_bowing(step * np.arange(round(duration / step) + 1), bout, pause)
    whole, part = np.divmod(clock * strokes_per_minute / constants.minute, 1.0)
    distance = stroke_length * (whole + _progress(part, shape, ramp))
    return SpeedHistory(step=step, speed=np.diff(distance) / step)


def _time_bowing(time, bout, pause):
    """Time spent bowing, out of the time gone by."""
    pause = check(pause=pause)
    if bout is None:
        return time
    bout = check(bout=bout)
    rounds, within = np.divmod(time, bout + pause)
    return rounds * bout + np.minimum(within, bout)


def _progress(part, shape, ramp):
    """Share of the stroke's length behind the hand when a share of its time is gone."""
    if shape == "sinusoid":
        return (1 - np.cos(np.pi * part)) / 2
    if ramp == 0:
        return part
    left = np.minimum(part, 1 - part)  # the second half is the first one backwards
    near = np.where(left < ramp, left**2 / (2 * ramp), left - ramp / 2) / (1 - ramp)
    return np.where(part <= 1 / 2, near, 1 - near)


def _ramp_share(shape, stroke_length, speed, acceleration):
    """Share of the stroke's time spent speeding up; zero for the shapes that need not."""
    if choose("shape", shape, STROKE_SHAPES) != "trapezoid" or speed == 0:
        return 0.0
    acceleration = check(acceleration=_or_usual(acceleration))
    peak = peak_speed(stroke_length, speed=speed, acceleration=acceleration)
    if np.isinf(peak):
        shortest = shortest_stroke(speed, acceleration=acceleration)
        raise InputError(
            f"stroke length is {stroke_length:g} m; allowed at {speed:g} m/s: {shortest:.3g} m or"
            f" more, since the hand speeds up by {acceleration:g} m/s^2 at the most"
        )
    return 1 - speed / peak


def _or_usual(acceleration):
    """Acceleration of the hand; the table's if not given."""
    return default("acceleration") if acceleration is None else acceleration


# ---- what a short stroke costs ------------------------------------------------------------------


def peak_speed(stroke_length: Numbers, *, speed: Numbers, acceleration: Numbers = None) -> Numbers:
    r"""Speed that the hand must reach within a stroke to keep up an average.

    .. math:: \hat v = \frac{2 v}{1 + \sqrt{1 - 4 v^2 / (a L)}}

    Parameters
    ----------
    stroke_length : float or ndarray
        How far the cord runs in one pass. [m]
    speed : float or ndarray
        Average of the speed, both ways counted. [m/s]
    acceleration : float or ndarray, optional
        The most the hand can speed up or slow down. [m/s^2]

    Returns
    -------
    float or ndarray
        Peak speed, broadcast over the arguments; infinite for a stroke shorter than
        :func:`shortest_stroke`, in which no hand so slow to speed up can keep the average. [m/s]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    This is what a short stroke costs: a faster hand in mid-stroke, up to twice the average. What
    it does not cost is heat, which follows the average. Letting the cord's slack, and the bow's
    spring, take part of the turn is left out: both help.

    References
    ----------
    .. [1] Kinematics of a trapezoid: L = peak T - peak^2/a and T = L/v, solved for the peak.

    Examples
    --------
    >>> print(peak_speed(np.array([0.6, 0.3, 0.2, 0.1]), speed=1.0, acceleration=20.0).round(2))
    [1.1  1.27 2.    inf]
    """
    stroke_length, speed, acceleration = check(
        stroke_length=stroke_length, speed=speed, acceleration=_or_usual(acceleration)
    )
    spare = np.asarray(1 - shortest_stroke(speed, acceleration=acceleration) / stroke_length)
    root = np.sqrt(np.maximum(spare, 0.0))
    peak = np.where(spare >= -1e-12, 2 * speed / (1 + root), np.inf)  # the limit itself can be
    return plain(peak)


def shortest_stroke(speed: Numbers, *, acceleration: Numbers = None) -> Numbers:
    r"""Shortest stroke in which a hand can keep up an average speed.

    .. math:: L = 4 v^2 / a

    Parameters
    ----------
    speed : float or ndarray
        Average of the speed, both ways counted. [m/s]
    acceleration : float or ndarray, optional
        The most the hand can speed up or slow down. [m/s^2]

    Returns
    -------
    float or ndarray
        Length, broadcast over the arguments. [m]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    There the hand speeds up through one half of the stroke and slows down through the other, and
    its peak is twice the average.

    References
    ----------
    .. [1] Kinematics: half the stroke in half the time from rest.

    Examples
    --------
    >>> shortest_stroke(1.0, acceleration=20.0)
    0.2
    """
    speed, acceleration = check(speed=speed, acceleration=_or_usual(acceleration))
    return 4 * speed * speed / acceleration


def most_strokes(stroke_length: Numbers, *, acceleration: Numbers = None) -> Numbers:
    r"""Strokes a minute above which a hand cannot turn round in time.

    .. math:: N = 30 \sqrt{a / L}

    Parameters
    ----------
    stroke_length : float or ndarray
        How far the cord runs in one pass. [m]
    acceleration : float or ndarray, optional
        The most the hand can speed up or slow down. [m/s^2]

    Returns
    -------
    float or ndarray
        Strokes a minute, broadcast over the arguments. [1/min]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    :func:`shortest_stroke` turned round: the average speed there is sqrt(a L)/2, so long strokes
    allow a hand that is slow to turn more speed. This is what is true in "use the whole bow".

    References
    ----------
    .. [1] Kinematics: half the stroke in half the time from rest.

    Examples
    --------
    >>> print(most_strokes([0.2, 0.8], acceleration=20.0))
    [300. 150.]
    """
    stroke_length, acceleration = check(
        stroke_length=stroke_length, acceleration=_or_usual(acceleration)
    )
    return plain(constants.minute / 2 * np.sqrt(acceleration / stroke_length))


# ---- the heat it makes ---------------------------------------------------------------------------


@dataclass(frozen=True)
class StrokeHeat:
    """How the contact warms while somebody bows.

    Attributes
    ----------
    history : SpeedHistory
        The bowing.
    power : ndarray, shape (n,)
        Heat made in each step, on average. [W]
    rise : ndarray, shape (n,)
        Rise of the contact at the end of each step. [K]
    """

    history: SpeedHistory
    power: np.ndarray
    rise: np.ndarray

    def mean(self, duration):
        """Mean rise over the last stretch of that many seconds, in kelvin."""
        return float(np.mean(self._last_stretch(duration)))

    def ripple(self, duration):
        """Highest less lowest rise over the last whole strokes, in kelvin.

        The slow climb from the stretch's first to its last moment is taken off.
        """
        last = self._last_stretch(duration)
        return float(np.ptp(last - np.linspace(last[0], last[-1], len(last))))

    def time_to(self, rise, duration=None) -> float:
        """First time at which the contact has risen so far, in seconds; infinite if never.

        Given the duration of a stroke, or of bout and rest, its mean over the last of them counts:
        without it, the first touch, which the peaks of a long stroke reach a little sooner.
        """
        felt = self.rise if duration is None else self._running_mean(duration)
        there = felt >= check(rise=rise)
        return float(self.history.time[np.argmax(there)]) if there.any() else np.inf

    def _running_mean(self, duration):
        count = self._step_count(duration)
        total = np.cumsum(self.rise)
        return (total - np.pad(total, (count, 0))[: len(total)]) / count

    def _last_stretch(self, duration):
        return self.rise[-self._step_count(duration) :]

    def _step_count(self, duration):
        return max(1, round(check(duration=duration) / self.history.step))


def stroke_heat(
    history: SpeedHistory, *, impedance: Callable[[Numbers], Numbers], pull: float
) -> StrokeHeat:
    r"""Temperature of the contact under a speed history.

    .. math:: P = B v, \qquad \Delta T(t) = \int_0^t P(\tau) \, Z'(t - \tau) \, d\tau

    Parameters
    ----------
    history : SpeedHistory
        The bowing.
    impedance : callable
        Rise per watt of steady heating after a time: seconds in, kelvin per watt out, arrays
        both. It must grow smoothly from zero. [K/W]
    pull : float
        The tip's part of the bow pull, :func:`fireheat.kit.bowing.bow_pull` without the bearing
        block; taken to stay the same as the speed changes. [N]

    Returns
    -------
    StrokeHeat
        Power and rise at each step.

    Raises
    ------
    InputError
        If the pull is negative or the impedance is not positive and finite.

    Notes
    -----
    Exact for power that is steady within each step, but for the interpolation of the impedance
    between some two hundred times, which costs less than one part in a hundred thousand. Friction
    falls a little as speed grows, and wood that chars stops getting hotter: both are left out, so
    a rise beyond charring means only that smoke has come.

    References
    ----------
    .. [1] Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, sec. 1.14, Duhamel's
       theorem. (from memory)

    Examples
    --------
    >>> def thick_wood(time):
    ...     return 2 * np.sqrt(time / np.pi) / 0.1
    >>> history = stroke_history(0.5, strokes_per_minute=120, duration=10.0)
    >>> heat = stroke_heat(history, impedance=thick_wood, pull=10.5)
    >>> print(round(heat.mean(0.5)), round(heat.ripple(0.5)))
    370 40
    """
    power = check(pull=pull) * history.speed
    answer = np.diff(_step_response(impedance, history.time), prepend=0.0)
    size = 2 * len(power)  # so that the end does not come round to the start
    both = np.fft.rfft(power, size) * np.fft.rfft(answer, size)
    rise = np.fft.irfft(both, size)[: len(power)]
    return StrokeHeat(history=history, power=power, rise=rise)


def _step_response(impedance, time):
    """Impedance at many times, from a few: it is smooth when both scales are logarithmic."""
    few = len(time) <= 2 * _KNOTS
    knots = time if few else np.geomspace(time[0], time[-1], _KNOTS)
    values = np.asarray(impedance(knots), dtype=float)
    wrong = values[~((values > 0) & np.isfinite(values))]
    if wrong.size:
        raise InputError(
            f"thermal impedance is {wrong[0]:g} K/W; allowed: finite and above 0 K/W at every"
            " time above 0"
        )
    if few:
        return values
    curve = interpolate.CubicSpline(np.log(knots), np.log(values))
    return np.exp(curve(np.log(time)))


_KNOTS = 200  # over five decades of time: forty a decade
