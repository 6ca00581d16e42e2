"""Taps, scale and practice beat: what is measured, and what is heard."""

import io
import wave

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import signal, stats

from fireheat import InputError
from fireheat.bands import Band
from fireheat.person.beat import beat_track, wav_bytes
from fireheat.person.measuring import missed_taps, scale_force, tap_rate, tapped_speed

# ---- taps --------------------------------------------------------------------------------------


def test_the_mean_interval_has_the_interval_of_a_handbooks_worked_example():
    # NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.5.2, ZARR13.DAT (from memory):
    # 195 values, mean 9.261460, standard deviation 0.022789, 95 % interval 9.258242 to 9.264679.
    mean, spread, count = 9.261460, 0.022789, 195
    shape = np.linspace(-1, 1, count)  # any sample with this mean and standard deviation will do
    gaps = mean + shape * spread / np.std(shape, ddof=1)
    found = tap_rate(np.concatenate([[0.0], np.cumsum(gaps)]))
    assert 60 / found.likely == pytest.approx(9.261460, abs=1e-6)
    assert 60 / found.high == pytest.approx(9.258242, abs=2e-6)
    assert 60 / found.low == pytest.approx(9.264679, abs=2e-6)


@given(st.lists(st.floats(0.1, 2.0), min_size=2, max_size=60), st.floats(-100, 100))
def test_the_interval_is_scipys_wherever_the_clock_starts(gaps, start):
    taps = start + np.concatenate([[0.0], np.cumsum(gaps)])
    found, seen = tap_rate(taps), np.diff(taps)
    low, high = stats.t.interval(0.95, len(seen) - 1, seen.mean(), max(stats.sem(seen), 1e-300))
    assert found.likely == pytest.approx(60 / seen.mean(), rel=1e-9)
    assert found.low == pytest.approx(60 / high, rel=1e-9)
    assert found.high == (pytest.approx(60 / low, rel=1e-6) if low > 0 else np.inf)


def test_nineteen_intervals_in_twenty_hold_the_true_rate():
    # Simulated bowing at 120 strokes a minute, each interval off by a tenth, tapped for 12 s.
    random = np.random.default_rng(24)
    gaps = random.normal(0.5, 0.05, size=(2000, 24))
    taps = np.pad(np.cumsum(gaps, axis=1), ((0, 0), (1, 0)))
    held = np.mean([found.low <= 120 <= found.high for found in map(tap_rate, taps)])
    assert held == pytest.approx(0.95, abs=0.015)


def test_longer_tapping_is_surer():
    random = np.random.default_rng(5)
    gaps = random.normal(0.5, 0.05, size=(200, 60))

    def width(count):
        found = [tap_rate(np.cumsum(row[:count])) for row in gaps]
        return np.mean([one.high - one.low for one in found])

    assert width(10) > 1.5 * width(30)


def test_missed_taps_are_counted():
    taps = np.delete(np.arange(20) * 0.5, [5, 11, 12])
    assert missed_taps(taps) == 3
    assert missed_taps(np.arange(20) * 0.5) == 0


@pytest.mark.parametrize(
    ("taps", "words"),
    [
        ([], "0 is too few"),
        ([0.0, 0.5], "2 is too few; allowed: 3 or more"),
        ([0.0, 0.5, 0.5], "tap 3 is 0 s after the one before; allowed: above 0 s"),
        ([1.0, 0.5, 0.2], "tap 2 is -0.5 s after the one before"),
        ([0.0, np.nan, 1.0], "times of the taps is nan"),
    ],
)
def test_taps_that_cannot_be_are_refused(taps, words):
    with pytest.raises(InputError, match=words):
        tap_rate(taps)


@given(st.floats(20, 300), st.floats(0.01, 0.2), st.floats(0.1, 1.0), st.floats(0.0, 0.2))
def test_the_speeds_uncertainties_add_up_in_quadrature(rate, scatter, length, error):
    reading = Band(rate * (1 - scatter), rate, rate * (1 + scatter))
    speed = tapped_speed(reading, stroke_length=length, stroke_length_error=error * length)
    assert speed.likely == pytest.approx(rate * length / 60, rel=1e-12)
    # First-order propagation, redone here by adding up the two single changes in quadrature.
    alone = [
        tapped_speed(reading, stroke_length=length, stroke_length_error=0.0).high - speed.likely,
        tapped_speed(
            Band(rate, rate, rate), stroke_length=length, stroke_length_error=error * length
        ).high
        - speed.likely,
    ]
    assert speed.high - speed.likely == pytest.approx(np.hypot(*alone), rel=1e-9, abs=1e-12)
    assert speed.likely - speed.low == pytest.approx(speed.high - speed.likely, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(
    ("reading", "words"),
    [
        (Band(0.0, 0.0, 0.0), "strokes a minute is 0, between 0 and 0; allowed: above 0"),
        (Band(np.nan, 120.0, 130.0), "is 120, between nan and 130; allowed"),
        (Band(-1.0, 120.0, 130.0), "is 120, between -1 and 130; allowed"),
        (Band(130.0, 120.0, 110.0), "is 120, between 130 and 110; allowed"),
        (Band(110.0, np.nan, 130.0), "strokes a minute is nan"),
    ],
)
def test_a_count_that_cannot_be_has_no_speed(reading, words):
    with pytest.raises(InputError, match=words):
        tapped_speed(reading, stroke_length=0.5)


def test_a_count_without_an_upper_end_has_a_speed_without_one():
    speed = tapped_speed(Band(30.0, 120.0, np.inf), stroke_length=0.5)
    assert (speed.likely, speed.high) == (1.0, np.inf)


# ---- the scale -----------------------------------------------------------------------------------


def test_the_scale_gives_force_by_subtraction():
    # Standard gravity 9.80665 m/s^2: CIPM 1901, in NIST SP 330. (from memory)
    assert scale_force(18.0, rest=8.0) == pytest.approx(98.0665, rel=1e-12)
    np.testing.assert_allclose(scale_force(np.array([8.0, 14.0]), rest=8.0), [0.0, 58.8399])
    with pytest.raises(InputError, match="pressing is 7 kg; allowed: 8 kg, that before pressing"):
        scale_force(np.array([9.0, 7.0]), rest=8.0)


# ---- the beat ------------------------------------------------------------------------------------


def loudness(track):
    """How loud the track is, smoothed over twenty milliseconds, and where it peaks."""
    width = round(0.02 * track.sample_rate)
    smooth = np.convolve(np.abs(track.samples), np.ones(width) / width, mode="same")
    quietest = 0.5 * smooth[: round(0.1 * track.sample_rate)].max()
    peaks, _ = signal.find_peaks(smooth, height=quietest, distance=round(0.07 * track.sample_rate))
    return smooth, peaks


@pytest.mark.parametrize("strokes", [20, 97.3, 120, 240, 600])
def test_the_beats_heard_are_those_asked_for(strokes):
    track = beat_track(strokes)
    _, peaks = loudness(track)
    assert len(track.samples) == 60 * track.sample_rate
    assert len(peaks) == len(track.times)
    assert abs(len(peaks) - strokes) < 1.5
    heard = peaks / track.sample_rate
    np.testing.assert_allclose(np.diff(heard), 60 / strokes, atol=0.003)
    np.testing.assert_allclose(heard - track.times, np.mean(heard - track.times), atol=0.003)
    assert tap_rate(heard).likely == pytest.approx(strokes, rel=1e-3)


def pitch(track, number):
    """Strongest frequency of one beat."""
    start = round(track.times[number] * track.sample_rate)
    one = track.samples[start : start + round(0.08 * track.sample_rate)]
    power = np.abs(np.fft.rfft(one, 2**16))
    return np.argmax(power) * track.sample_rate / 2**16


@pytest.mark.parametrize("count_in", [0, 1, 4, 8])
def test_the_count_in_has_a_pitch_of_its_own(count_in):
    track = beat_track(120, count_in=count_in)
    pitches = np.array([pitch(track, number) for number in range(12)])
    assert track.count_in == count_in
    assert np.all(np.abs(pitches[:count_in] - 990) < 15)
    assert np.all(np.abs(pitches[count_in:] - 660) < 15)


def test_it_starts_softly_and_stays_even():
    track = beat_track(120)
    smooth, peaks = loudness(track)
    heights = smooth[peaks]
    assert np.all(np.diff(heights[:5]) > 0)
    assert heights[0] < heights[10] / 3
    np.testing.assert_allclose(heights[5:], heights[5], rtol=0.02)
    assert np.abs(track.samples).max() < 1
    assert track.samples[0] == 0
    assert track.samples.dtype == np.float32


@pytest.mark.parametrize(("rate", "length"), [(8000, 10.0), (44100, 61.5)])
def test_rate_and_length_are_those_asked_for(rate, length):
    track = beat_track(100, duration=length, sample_rate=rate)
    assert track.sample_rate == rate
    assert len(track.samples) == round(length * rate)
    assert len(loudness(track)[1]) == len(track.times)


def test_a_beat_that_could_not_ring_out_before_the_end_is_left_out():
    assert beat_track(120, duration=2.02).times.tolist() == [0.0, 0.5, 1.0, 1.5]
    assert beat_track(120, duration=2.1).times.tolist() == [0.0, 0.5, 1.0, 1.5, 2.0]


def test_a_beat_dies_away_from_the_start_and_is_never_louder_than_its_fall():
    track = beat_track(120)
    time = np.arange(0, 0.08, 1 / track.sample_rate)
    start = round(20 * track.sample_rate)  # a beat in full loudness, four fifths of full scale
    heard = np.abs(track.samples[start : start + len(time)])
    fall = 0.8 * np.exp(-time / 0.02)
    assert np.all(heard <= fall * (1 + 1e-6))
    assert np.max(heard / fall) == pytest.approx(1.0, abs=0.01)


def test_four_beats_count_in_and_one_alone_is_the_soft_one():
    assert beat_track(120).count_in == 4
    track = beat_track(120, count_in=1)
    parts = np.split(track.samples[: 3 * round(0.5 * track.sample_rate)], 3)
    first, second, third = (np.abs(part).max() for part in parts)
    assert first < 0.3 * second
    assert second == pytest.approx(third, rel=1e-3)


def test_one_sample_a_second_is_the_least():
    assert beat_track(60, sample_rate=1, duration=5.0).sample_rate == 1


def test_the_file_holds_what_was_made():
    track = beat_track(120)
    with wave.open(io.BytesIO(wav_bytes(track.samples, sample_rate=track.sample_rate))) as sound:
        assert sound.getframerate() == track.sample_rate
        assert sound.getnchannels() == 1
        assert sound.getsampwidth() == 2
        assert sound.getnframes() / sound.getframerate() == 60
        back = np.frombuffer(sound.readframes(sound.getnframes()), "<i2") / 32767
    np.testing.assert_allclose(back, track.samples, atol=0.51 / 32767)


@pytest.mark.parametrize("wrong", [0, -120, 751, np.inf])
def test_a_beat_that_cannot_be_is_refused(wrong):
    with pytest.raises(InputError, match="strokes a minute"):
        beat_track(wrong)


@pytest.mark.parametrize("wrong", [1.5, -1.5, np.nan])
def test_sound_beyond_full_scale_is_refused(wrong):
    with pytest.raises(InputError, match="sound samples"):
        wav_bytes(np.array([0.0, wrong]))


@pytest.mark.parametrize(
    "make", [lambda: wav_bytes([0.0], sample_rate=0.2), lambda: beat_track(120, sample_rate=0.2)]
)
def test_less_than_one_sample_a_second_is_refused(make):
    with pytest.raises(InputError, match=r"a second is 0\.2 1/s; allowed: 1 or more"):
        make()
