"""A steady beat to practise to: a sound track, one minute long, made of numbers."""

import io
import wave
from dataclasses import dataclass

import numpy as np
from scipy import constants

from ..quantities import InputError, check, check_whole, default


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


def beat_track(
    strokes_per_minute: float,
    *,
    duration: float | None = None,
    sample_rate: int | None = None,
    count_in: int = 4,
) -> Beat:
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
    rate = _whole_rate(sample_rate)
    length = check(duration=default("duration") if duration is None else duration)
    gap = _beat_gap(strokes_per_minute)
    times = np.arange(int(np.ceil(length / gap))) * gap
    times = times[times + _RING <= length]
    count_in = check_whole("number of beats to count in", count_in, least=0)
    ramp = np.interp(np.arange(len(times)), [0, max(count_in, 1)], [_SOFTEST, _LOUDEST])
    samples = np.zeros(round(length * rate), dtype=np.float32)
    for number, (time, loudness) in enumerate(zip(times, ramp, strict=True)):
        ring = loudness * _struck(_PITCH_COUNT_IN if number < count_in else _PITCH, rate)
        start = round(time * rate)
        samples[start : start + len(ring)] = ring[: len(samples) - start]
    return Beat(samples=samples, sample_rate=rate, times=times, count_in=min(count_in, len(times)))


def _whole_rate(sample_rate):
    """How many samples a second, a whole number."""
    rate = check(sample_rate=default("sample_rate") if sample_rate is None else sample_rate)
    if rate < 1:
        raise InputError(f"sound samples a second is {rate:g} 1/s; allowed: 1 or more 1/s")
    return round(rate)


def _beat_gap(strokes_per_minute):
    """Time from beat to beat."""
    fastest = constants.minute / _RING
    strokes = check(strokes_per_minute=strokes_per_minute)
    if not 0 < strokes <= fastest:
        raise InputError(
            f"strokes a minute is {strokes:g}; allowed in a beat: above 0, up to {fastest:g}"
        )
    return constants.minute / strokes


def _struck(pitch, sample_rate):
    """One beat: a sine with soft edges that dies away."""
    time = np.arange(round(_RING * sample_rate)) / sample_rate
    edges = np.clip(np.minimum(time, _RING - time) / _FADE_IN, 0, 1)
    return np.sin(2 * np.pi * pitch * time) * edges * np.exp(-time / _FADE_AWAY)


def wav_bytes(samples: np.ndarray, *, sample_rate: int | None = None) -> bytes:
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
    >>> wav_bytes(track.samples, sample_rate=track.sample_rate)[:4]
    b'RIFF'
    """
    rate, samples = _whole_rate(sample_rate), check(samples=samples)
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
