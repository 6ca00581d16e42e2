r"""Measuring what a person really does, and a steady beat to practise to.

- *Taps*: press a key at each pass of the bow for ten to fifteen seconds. The mean interval gives
  the strokes a minute, and the scatter of the intervals how well it is known.
- *Bow speed*: strokes a minute times the length of a stroke, both with their uncertainty.
- *Downward force*: a bathroom scale under the board, read twice.
- *The beat*: a sound track, one minute long, made of numbers.
"""

import io
import wave
from dataclasses import dataclass

import numpy as np
from scipy import constants, special

from .bowing import bow_speed
from .quantities import InputError, check, default


@dataclass(frozen=True)
class Reading:
    """A measured value, and the interval that holds the true one 95 times in 100.

    Attributes
    ----------
    value, low, high : float
        Best value and both ends of the interval. [any]
    """

    value: float
    low: float
    high: float


CONFIDENCE = 0.95
_FEWEST = 3  # two taps give one interval, and one interval says nothing of its own scatter


def tap_rate(tap_times):
    r"""Strokes a minute from taps, with its uncertainty.

    .. math:: N = \frac{60}{\bar d}, \qquad
              \bar d \pm t_{0.975} \frac{s}{\sqrt{n}}

    with the n intervals d between taps, their mean, their standard deviation s, and Student's t
    for n - 1 degrees of freedom.

    Parameters
    ----------
    tap_times : ndarray, shape (n + 1,)
        When each pass was tapped, in order. [s]

    Returns
    -------
    Reading
        Strokes a minute; the interval's ends are those of the mean interval, turned round. [1/min]

    Raises
    ------
    InputError
        If there are fewer than three taps, or they are not in order.

    Notes
    -----
    Takes each interval to scatter on its own. Taps that are late now and then on a steady beat
    scatter less than this says, so it errs on the careful side. A missed tap makes an interval
    twice as long: see :func:`missed_taps`.

    References
    ----------
    .. [1] Confidence interval of a mean: NIST/SEMATECH e-Handbook of Statistical Methods, section
       1.3.5.2. (from memory)

    Examples
    --------
    >>> tap_rate([0.0, 0.5, 1.0, 1.5]).value
    120.0
    >>> reading = tap_rate([0.0, 0.45, 1.0, 1.5, 2.05, 2.5])
    >>> round(reading.value), round(reading.low), round(reading.high)
    (120, 107, 137)
    """
    gaps = _gaps(tap_times)
    mean, error = np.mean(gaps), np.std(gaps, ddof=1) / np.sqrt(len(gaps))
    reach = special.stdtrit(len(gaps) - 1, (1 + CONFIDENCE) / 2) * error
    ends = np.array([mean, mean + reach, max(mean - reach, 0.0)])
    with np.errstate(divide="ignore"):  # scatter so wild that no count is too high
        return Reading(*(constants.minute / ends).tolist())


def _gaps(tap_times):
    """Intervals between taps, checked."""
    gaps = np.diff(np.atleast_1d(check(tap_times=tap_times)))
    if gaps.ndim > 1 or len(gaps) < _FEWEST - 1:
        raise InputError(f"taps: {np.size(tap_times)} is too few; allowed: {_FEWEST} or more")
    if np.any(gaps <= 0):
        at = np.argmax(gaps <= 0)
        raise InputError(
            f"times of the taps: tap {at + 2} is {gaps[at]:g} s after the one before;"
            " allowed: above 0 s"
        )
    return gaps


def missed_taps(tap_times):
    """How many passes went by without a tap, as far as the intervals tell.

    Parameters
    ----------
    tap_times : ndarray, shape (n,)
        When each pass was tapped, in order. [s]

    Returns
    -------
    int
        Missed taps: an interval about twice the usual one hides one. [1]

    Raises
    ------
    InputError
        If there are fewer than three taps, or they are not in order.

    References
    ----------
    .. [1] A count against the median interval; no source.

    Examples
    --------
    >>> missed_taps([0.0, 0.5, 1.0, 2.0, 2.5])
    1
    """
    gaps = _gaps(tap_times)
    return int(np.sum(np.maximum(np.round(gaps / np.median(gaps)) - 1, 0)))


def tapped_speed(strokes, stroke_length, stroke_length_error=None):
    r"""Bow speed from tapped strokes and a measured stroke length.

    .. math:: v = \frac{L N}{60}, \qquad
              \left(\frac{u_v}{v}\right)^2 = \left(\frac{u_L}{L}\right)^2
              + \left(\frac{u_N}{N}\right)^2

    Parameters
    ----------
    strokes : Reading
        Strokes a minute, from :func:`tap_rate`. [1/min]
    stroke_length : float
        How far the cord runs in one pass. [m]
    stroke_length_error : float, optional
        How far off that may be, 95 times in 100. [m]

    Returns
    -------
    Reading
        Bow speed; each end of the interval from its own side's uncertainties. [m/s]

    Raises
    ------
    InputError
        If there are no strokes, their interval does not hold them, the length is not positive, or
        its error is negative.

    References
    ----------
    .. [1] Law of propagation of uncertainty: JCGM 100:2008 (GUM), eq. 12. (from memory)

    Examples
    --------
    >>> speed = tapped_speed(Reading(120.0, 114.0, 126.0), 0.5, 0.03)
    >>> round(speed.value, 3), round(speed.low, 3), round(speed.high, 3)
    (1.0, 0.922, 1.078)
    """
    error = default("stroke_length_error") if stroke_length_error is None else stroke_length_error
    speed = bow_speed(stroke_length, strokes.value)
    if not 0 <= strokes.low <= strokes.value <= strokes.high or strokes.value == 0:
        raise InputError(
            f"strokes a minute is {strokes.value:g}, between {strokes.low:g} and {strokes.high:g};"
            " allowed: above 0, between ends of 0 or more"
        )
    length_part = check(stroke_length_error=error) / stroke_length
    below, above = (
        float(np.hypot(length_part, end / strokes.value - 1)) for end in (strokes.low, strokes.high)
    )
    return Reading(value=speed, low=max(speed * (1 - below), 0.0), high=speed * (1 + above))


def scale_force(reading, rest):
    r"""Downward force from a bathroom scale under the board.

    .. math:: F = (m_1 - m_0) g

    Parameters
    ----------
    reading : float or ndarray
        What the scale shows while somebody presses and bows. [kg]
    rest : float or ndarray
        What it shows with board, spindle and the foot that holds them, nobody pressing. [kg]

    Returns
    -------
    float or ndarray
        Force on the spindle. [N]

    Raises
    ------
    InputError
        If it shows less while pressing than before: then something else has changed.

    Notes
    -----
    The subtraction takes off the board, and whatever of the foot's weight rests on the scale. A
    foot that leans in as the hand presses is counted as force, and is the usual error.

    References
    ----------
    .. [1] Standard gravity, 9.80665 m/s^2: scipy.constants.g.

    Examples
    --------
    >>> round(scale_force(14.1, 8.0), 1)
    59.8
    """
    reading, rest = check(reading=reading, rest=rest)
    for pressing, before in np.broadcast(reading, rest):
        if pressing < before:
            raise InputError(
                f"scale reading while pressing is {pressing:g} kg; allowed: {before:g} kg, that"
                " before pressing, or more"
            )
    return (reading - rest) * constants.g


# ---- the beat ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Beat:
    """A practice track.

    Attributes
    ----------
    samples : ndarray of float32
        Sound between -1 and 1. [1]
    sample_rate : int
        Samples a second. [1/s]
    times : ndarray
        When each beat begins, counted-in ones first; one beat is one pass of the bow. [s]
    count_in : int
        How many of them are counted in.
    """

    samples: np.ndarray
    sample_rate: int
    times: np.ndarray
    count_in: int


# Choices for the ear, no source: both pitches carry on a small loudspeaker and are a fifth apart,
# so that the count-in cannot be taken for the beat; each rings for less than the quickest stroke.
_PITCH, _PITCH_COUNT_IN = 660.0, 990.0  # Hz
_RING, _FADE_IN, _FADE_AWAY = 0.08, 0.005, 0.02  # s: whole length, soft edge, time to 1/e
_SOFTEST, _LOUDEST = 0.2, 0.8  # share of full scale, first beat and after the count-in


def beat_track(strokes_per_minute, *, duration=None, sample_rate=None, count_in=4):
    """Sound track with one beat for each pass of the bow.

    Parameters
    ----------
    strokes_per_minute : float
        Beats a minute. [1/min]
    duration : float, optional
        Length of the track, count-in included; a minute if left out. [s]
    sample_rate : int, optional
        Samples a second. [1/s]
    count_in : int, optional
        How many beats come first, higher, and growing from soft to full. [1]

    Returns
    -------
    Beat
        Samples and the times of the beats.

    Raises
    ------
    InputError
        If the beats are none, or so quick that they run into one another, or another value is out
        of its range.

    References
    ----------
    .. [1] A sine that dies away, struck at even times; no source needed.

    Examples
    --------
    >>> track = beat_track(120)
    >>> len(track.samples) / track.sample_rate, len(track.times)
    (60.0, 120)
    """
    rate = _rate(sample_rate)
    length = check(duration=default("duration") if duration is None else duration)
    gap = _gap(strokes_per_minute)
    times = np.arange(int(np.ceil(length / gap * (1 - 1e-12)))) * gap
    times = times[times + _RING <= length]
    ramp = np.interp(np.arange(len(times)), [0, max(count_in, 1)], [_SOFTEST, _LOUDEST])
    samples = np.zeros(round(length * rate), dtype=np.float32)
    for number, (time, loudness) in enumerate(zip(times, ramp, strict=True)):
        ring = loudness * _ring(_PITCH_COUNT_IN if number < count_in else _PITCH, rate)
        start = round(time * rate)
        samples[start : start + len(ring)] = ring[: len(samples) - start]
    return Beat(samples=samples, sample_rate=rate, times=times, count_in=min(count_in, len(times)))


def _rate(sample_rate):
    """How many samples a second, a whole number."""
    rate = check(sample_rate=default("sample_rate") if sample_rate is None else sample_rate)
    if rate < 1:
        raise InputError(f"sound samples a second is {rate:g} 1/s; allowed: 1 or more 1/s")
    return round(rate)


def _gap(strokes_per_minute):
    """Time from beat to beat."""
    fastest = constants.minute / _RING
    strokes = check(strokes_per_minute=strokes_per_minute)
    if not 0 < strokes <= fastest:
        raise InputError(
            f"strokes a minute is {strokes:g}; allowed in a beat: above 0, up to {fastest:g}"
        )
    return constants.minute / strokes


def _ring(pitch, sample_rate):
    """One beat: a sine with soft edges that dies away."""
    time = np.arange(round(_RING * sample_rate)) / sample_rate
    edges = np.clip(np.minimum(time, _RING - time) / _FADE_IN, 0, 1)
    return np.sin(2 * np.pi * pitch * time) * edges * np.exp(-time / _FADE_AWAY)


def wav_bytes(samples, sample_rate=None):
    """Sound as the bytes of a WAV file: one channel, 16 bits.

    Parameters
    ----------
    samples : ndarray
        Sound between -1 and 1. [1]
    sample_rate : int, optional
        Samples a second. [1/s]

    Returns
    -------
    bytes
        The file, header and all.

    Raises
    ------
    InputError
        If a sample is beyond full scale, or there is less than one a second.

    References
    ----------
    .. [1] The standard library's ``wave``.

    Examples
    --------
    >>> track = beat_track(120, duration=2.0)
    >>> wav_bytes(track.samples, track.sample_rate)[:4]
    b'RIFF'
    """
    rate, samples = _rate(sample_rate), check(samples=samples)
    if np.any(samples < -1):
        raise InputError(f"sound samples is {np.min(samples):g}; allowed: -1 to 1")
    whole = np.round(samples * np.iinfo(np.int16).max).astype("<i2")
    file = io.BytesIO()
    with wave.open(file, "wb") as sound:
        sound.setnchannels(1)
        sound.setsampwidth(whole.itemsize)
        sound.setframerate(rate)
        sound.writeframes(whole.tobytes())
    return file.getvalue()
