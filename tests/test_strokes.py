"""Strokes: what a history's average, ripple, rests and turns do to the heat of the contact."""

import itertools
from functools import partial

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import integrate, interpolate
from scipy.sparse import diags_array, linalg

from fireheat import InputError, Kit
from fireheat.answers.warmth import Rhythm, contact_heat
from fireheat.heat.contact import Contact
from fireheat.heat.material import Material
from fireheat.heat.mesh import Block, Grid, Source, build_mesh
from fireheat.heat.stepping import build_system
from fireheat.heat.volumes import solve
from fireheat.kit.bowing import bow_pull, bow_speed
from fireheat.person.strokes import (
    STROKE_SHAPES,
    SpeedHistory,
    peak_speed,
    shortest_stroke,
    stroke_heat,
    stroke_history,
)

TAKEN = 0.1  # effusivity times area of a 13 mm tip on soft wood, W s^0.5/K
PULL = bow_pull(60.0, friction=0.35, radius=0.0065)
SPINDLE, BOARD = Material(0.12, 0.22, 6e5), Material(0.12, 0.12, 6e5)
SOFTWOOD = Contact(radius=0.0065, length=0.1, film=10.0, spindle=SPINDLE, board=BOARD)
kit = SOFTWOOD.impedance
LENGTHS, COUNTS, KINDS = st.floats(0.05, 1.0), st.integers(20, 400), st.sampled_from(STROKE_SHAPES)


def thick(time):
    """Impedance of two thick bodies: the early limit of any."""
    return 2 * np.sqrt(time / np.pi) / TAKEN


def heated(length, count, impedance=thick, **how):
    return stroke_heat(
        stroke_history(length, strokes_per_minute=count, **how), impedance=impedance, pull=PULL
    )


# ---- histories ---------------------------------------------------------------------------------


@given(LENGTHS, COUNTS, KINDS, st.integers(1, 12))
def test_whole_strokes_average_length_times_count_whatever_the_shape(length, count, shape, passes):
    step = 60 / count / 97
    speed = bow_speed(length, strokes_per_minute=count)
    history = stroke_history(
        length,
        strokes_per_minute=count,
        shape=shape,
        acceleration=5 * speed**2 / length,
        duration=passes * 60 / count,
        step=step,
    )
    assert len(history.speed) == 97 * passes
    assert history.average == pytest.approx(speed, rel=1e-9)
    assert history.speed.min() >= 0


@given(LENGTHS, COUNTS, st.floats(1.0, 50.0))
def test_the_trapezoid_never_asks_more_of_the_hand_than_it_has(length, count, spare):
    speed = bow_speed(length, strokes_per_minute=count)
    acceleration = spare * 4 * speed**2 / length
    step = 60 / count / 500
    history = stroke_history(
        length,
        strokes_per_minute=count,
        shape="trapezoid",
        acceleration=acceleration,
        step=step,
        duration=240 / count,
    )
    # Averages over steps change by no more than the acceleration allows, turns aside, where the
    # speed counted without its sign falls to zero and rises again.
    assert np.abs(np.diff(history.speed)).max() <= acceleration * step * (1 + 1e-6)
    top = peak_speed(length, speed=speed, acceleration=acceleration)
    assert history.speed.max() <= top * (1 + 1e-9)
    assert history.speed.max() >= top * (1 - 0.01)
    assert 1 - 1e-12 <= top / speed <= 2 + 1e-12


def test_a_sinusoid_peaks_at_half_pi_times_its_average():
    history = stroke_history(0.5, strokes_per_minute=120, step=1e-4)
    assert history.speed.max() == pytest.approx(np.pi / 2, rel=1e-6)
    assert history.average == pytest.approx(1.0, rel=1e-12)


def test_rests_count_in_the_average():
    worked = stroke_history(0.5, strokes_per_minute=120, bout=10.0, pause=2.0)
    assert worked.average == pytest.approx(10 / 12, rel=1e-12)
    resting = worked.time % 12 > 10.0005
    assert np.all(worked.speed[resting] == 0)
    assert np.all(worked.speed[~resting & (worked.time % 12 > 0.001)] > 0)
    same = stroke_history(0.5, strokes_per_minute=120, bout=10.0, pause=0.0)
    np.testing.assert_allclose(
        same.speed, stroke_history(0.5, strokes_per_minute=120).speed, atol=1e-9
    )


# ---- the honest exception ------------------------------------------------------------------------


@given(st.floats(0.05, 1.0), st.floats(0.2, 2.0), st.floats(2.0, 100.0))
def test_the_peak_speed_makes_the_stroke_take_as_long_as_the_average_says(length, speed, hand):
    assume(length >= shortest_stroke(speed, acceleration=hand))
    top = peak_speed(length, speed=speed, acceleration=hand)
    speeding_up, steady = top / hand, length / top - top / hand
    assert steady >= -1e-9
    assert 2 * speeding_up + steady == pytest.approx(length / speed, rel=1e-9)


def test_a_very_short_stroke_costs_peak_speed_until_it_cannot_be_done():
    lengths = np.array([0.8, 0.6, 0.4, 0.3, 0.25, 0.2])
    peaks = peak_speed(lengths, speed=1.0, acceleration=20.0)
    assert np.all(np.diff(peaks) > 0)
    assert peaks[0] < 1.08  # a long stroke costs next to nothing
    assert peaks[-1] == pytest.approx(2.0)
    assert peak_speed(0.199, speed=1.0, acceleration=20.0) == np.inf
    with pytest.raises(InputError, match=r"0\.2 m or more"):
        stroke_history(0.15, strokes_per_minute=400, shape="trapezoid", acceleration=20.0)


# ---- heat --------------------------------------------------------------------------------------


def test_steady_power_gives_power_times_impedance():
    heat = heated(0.5, 120, kit, shape="steady")
    np.testing.assert_allclose(heat.rise, heat.power[0] * kit(heat.history.time), rtol=1e-5)


def test_the_ripple_of_thick_wood_is_the_fourier_series():
    # A half-space under a flux of frequency w answers with 1/(e sqrt(i w)): Carslaw & Jaeger,
    # Conduction of Heat in Solids, 2nd ed., 1959, sec. 2.6 (from memory). The sinusoid's |sin| is
    # 1 - 2 sum cos(n w t)/(4 n^2 - 1), the mean climbs as the square root of time.
    heat = heated(0.5, 120)
    last = heat.history.time > 59.0
    time, mean = heat.history.time[last], PULL * 1.0
    n = np.arange(1, 200)[:, None]
    w = 2 * np.pi * 2.0 * n
    wave = -2 / (4 * n**2 - 1) * np.exp(1j * w * time) / (TAKEN * np.sqrt(1j * w))
    series = mean * (thick(time) + np.sum(wave, axis=0).real)
    np.testing.assert_allclose(heat.rise[last], series, atol=0.2)
    assert np.ptp(series - mean * thick(time)) > 30  # against which 0.2 K is nothing


@pytest.mark.parametrize("moment", [0.3, 2.1, 7.77])
@pytest.mark.parametrize("impedance", [thick, kit])
def test_duhamels_sum_is_the_integral_by_quadrature(impedance, moment):
    heat = heated(0.5, 120, impedance, duration=8.0)

    # By parts, so that Z itself is enough: the integral of P'(t - age) Z(age), P(0) being zero.
    def part(age):
        phase = np.pi * 2.0 * (moment - age)
        slope = PULL * np.pi / 2 * np.pi * 2.0 * np.cos(phase % np.pi)
        return slope * float(impedance(np.array([age]))[0])

    turns = moment - np.arange(0.0, moment, 0.5)[::-1]
    ends = np.unique(np.concatenate([[0.0], turns]))
    total = sum(
        integrate.quad(part, low, high, epsrel=1e-9)[0] for low, high in itertools.pairwise(ends)
    )
    found = heat.rise[round(moment / heat.history.step) - 1]
    assert found == pytest.approx(total, rel=1e-4)


def test_the_answer_does_not_hang_on_the_time_step():
    coarse, fine = (heated(0.5, 120, kit, duration=10.0, step=step) for step in (0.01, 0.0005))
    np.testing.assert_allclose(fine.rise[19::20], coarse.rise, rtol=1e-3, atol=0.3)


def cells(**grid):
    """Give the finite-volume solver the same kit."""
    stack = [
        Block("board", BOARD, radius=0.05, thickness=0.03),
        Block("spindle", SPINDLE, SOFTWOOD.radius, SOFTWOOD.length, film=SOFTWOOD.film),
    ]
    return stack, Source(radius=SOFTWOOD.radius, power=1.0), Grid(**grid)


def driven(stack, source, grid, power, step):
    """Contact's mean rise from the solver's own equations, stepped evenly under a history."""
    mesh = build_mesh(stack, source, grid)  # the solver itself takes steady power only
    system = build_system(mesh, stack, source, np.zeros(int(mesh.inside.sum())))
    spread = system.spread.toarray().ravel()
    keep = diags_array(system.capacity / step)
    halfway = linalg.splu((keep - system.conduction / 2).tocsc()).solve
    rise, contact = np.zeros(len(spread)), []
    for watts in power:
        middle = halfway(keep @ rise + spread * watts / 2)  # half of a trapezoidal step
        rise = 2 * middle - rise
        contact.append(spread @ rise + system.slack.item() * watts)
    return np.array(contact)


def test_duhamel_agrees_with_the_heat_map_driven_by_the_same_history():
    step = 0.01
    history = stroke_history(
        0.5, strokes_per_minute=120, duration=12.0, step=step, bout=4.0, pause=1.0
    )
    stack, source, grid = cells(finest=0.004)
    contact = driven(stack, source, grid, PULL * history.speed, step)
    # With the heat map's own step response: the same physics, so only the sum is on trial.
    times = np.geomspace(1e-3, 12.0, 120)
    run = solve(stack, source=source, time=times, grid=grid)
    curve = interpolate.PchipInterpolator(np.log(times), np.log(run.contact_mean))
    heat = stroke_heat(history, impedance=lambda time: np.exp(curve(np.log(time))), pull=PULL)
    late = history.time > 1.0
    np.testing.assert_allclose(contact[late], heat.rise[late], rtol=0.003)
    # With the closed-form impedance: another model of the same wood, within a few per cent.
    np.testing.assert_allclose(contact[late], heated_like(history).rise[late], rtol=0.02)


def heated_like(history):
    return stroke_heat(history, impedance=kit, pull=PULL)


# ---- which advice is good ------------------------------------------------------------------------


@given(KINDS, st.sampled_from([(1.0, 60), (0.5, 120), (0.25, 240), (0.2, 300)]))
def test_at_equal_average_speed_the_mean_is_the_same_for_all_strokes(shape, stroke):
    # Common practice, no source: stroke and bow length do not matter at equal speed.
    how = {"shape": shape, "acceleration": 25.0}
    mean = heated(*stroke, duration=20.0, step=0.002, **how).mean(2.0)
    steady = heated(1.0, 60, duration=20.0, step=0.002, shape="steady").mean(2.0)
    assert mean == pytest.approx(steady, rel=5e-3)


def test_shorter_quicker_strokes_ripple_less():
    # As one over the root of the count, which is how deep into the wood a pulse gets.
    strokes = [(1.0, 60), (0.5, 120), (0.25, 240)]
    ripples = [heated(*stroke).ripple(60 / stroke[1]) for stroke in strokes]
    assert ripples[0] / ripples[1] == pytest.approx(np.sqrt(2), rel=0.02)
    assert ripples[1] / ripples[2] == pytest.approx(np.sqrt(2), rel=0.02)


def test_time_to_a_temperature_falls_as_average_speed_rises_and_not_with_stroke_length():
    # Common practice, no source. On thick wood twice the speed is a quarter of the time to smoke.
    rise = 280.0
    slow, fast, short = (
        heated(length, count).time_to(rise, 60 / count)
        for length, count in ((0.5, 120), (0.5, 240), (0.125, 480))
    )
    assert slow / fast == pytest.approx(4, rel=0.15)
    # A stroke's mean is that of its middle, so a long one is counted up to half of itself late.
    assert abs(short - slow) < 0.25


def test_the_peaks_of_a_long_stroke_touch_a_temperature_a_little_sooner():
    # The other side of the ripple: the first touch is earlier, though the mean is not.
    long, short = heated(1.0, 60), heated(0.25, 240)
    assert 0.05 < 1 - long.time_to(280.0) / short.time_to(280.0) < 0.2


def test_a_pause_costs_more_than_a_short_stroke():
    whole, short = heated(0.6, 100, kit), heated(0.15, 400, kit)
    paused = heated(0.6, 100, kit, bout=9.0, pause=3.0)
    # A quarter of the stroke: nothing lost. A quarter of the time resting: at least a fifth lost.
    assert short.mean(6.0) == pytest.approx(whole.mean(6.0), rel=0.005)
    assert paused.mean(12.0) < 0.8 * whole.mean(12.0)
    # Even the hottest moment of the last bout stays below.
    assert paused.rise[-12000:].max() < whole.rise[-12000:].max()
    rise = 0.9 * whole.mean(6.0)
    assert short.time_to(rise, 0.6) == pytest.approx(whole.time_to(rise, 0.6), rel=0.02)
    assert paused.time_to(rise, 12.0) > 1.5 * whole.time_to(rise, 0.6)


# ---- what cannot be is refused -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("length", "count", "how", "words"),
    [
        (0.0, 120, {}, "stroke length is 0 m"),
        (0.5, -1, {}, "strokes a minute is -1"),
        (0.5, 120, {"shape": "square"}, "shape is 'square'; allowed: steady, "),
        (0.5, 120, {"duration": np.inf}, "duration is inf s"),
        (0.5, 120, {"step": 0.0}, "time step is 0 s"),
        (0.5, 120, {"bout": 5.0, "pause": -1.0}, "rest between bouts is -1 s"),
        (0.5, 120, {"pause": -3.0}, "rest between bouts is -3 s"),
        (0.5, 120, {"duration": 1.0, "step": 10.0}, "1 s; allowed: the time step, 10 s, or more"),
    ],
)
def test_a_history_that_cannot_be_is_refused_in_words(length, count, how, words):
    with pytest.raises(InputError, match=words):
        stroke_history(length, strokes_per_minute=count, **how)


def test_no_strokes_no_heat_and_no_smoke():
    heat = heated(0.5, 0, kit)
    assert np.all(heat.rise == 0)
    assert heat.time_to(280.0) == np.inf


@pytest.mark.parametrize("duration", [0.2, 60.0])  # asked at every step, and at some
@pytest.mark.parametrize("wrong", [0.0, -1.0, np.nan, np.inf])
def test_an_impedance_that_is_not_positive_and_finite_is_refused(duration, wrong):
    words = f"thermal impedance is {wrong:g} K/W; allowed: finite and above 0 K/W"
    with pytest.raises(InputError, match=words):
        heated(0.5, 120, lambda time: np.full_like(time, wrong), duration=duration)


def test_a_contact_watched_for_less_than_a_time_step_is_refused():
    with pytest.raises(
        InputError, match=r"duration is 0\.0005 s; allowed: the time step, 0\.002 s"
    ):
        contact_heat(Kit(), rhythm=Rhythm(), duration=0.0005)


def test_a_mean_over_less_than_a_time_step_is_that_of_the_last_step():
    heat = heated(0.5, 120, duration=2.0)
    assert heat.mean(1e-4) == heat.rise[-1]
    assert heat.ripple(1e-4) == 0
    assert heat.time_to(100.0, 1e-4) == heat.time_to(100.0) < 2


def test_a_history_of_ones_own_can_be_used():
    heat = stroke_heat(
        SpeedHistory(step=0.5, speed=np.ones(4)), impedance=partial(np.multiply, 2.0), pull=3
    )
    np.testing.assert_allclose(heat.rise, [3, 6, 9, 12], rtol=1e-12)


@pytest.mark.parametrize("hand", [{}, {"stroke_length": 0.9, "strokes_per_minute": 66.0}])
def test_a_rhythm_s_history_peaks_where_the_rhythm_says(hand):
    rhythm = Rhythm(shape="trapezoid", **hand)
    assert rhythm.history(4.0).speed.max() == pytest.approx(rhythm.peak, rel=1e-3)


def test_a_hand_too_slow_for_its_stroke_is_followed_as_the_slowest_that_could():
    rhythm = Rhythm(shape="trapezoid", stroke_length=0.2, strokes_per_minute=360.0)
    assert rhythm.peak == np.inf
    assert rhythm.history(4.0).speed.max() == pytest.approx(2 * rhythm.speed, rel=0.03)


def test_a_rhythm_by_hand():
    rhythm = Rhythm(stroke_length=np.array(0.6), strokes_per_minute=100.0, acceleration=20.0)
    assert rhythm.stroke_time == rhythm.cycle == pytest.approx(0.6)
    assert rhythm.shortest == pytest.approx(4 * 1.0**2 / 20.0)
    assert rhythm in {rhythm}  # plain numbers, so that what was worked out for it is found again


def test_pressing_harder_smokes_sooner_by_strokes_and_by_an_even_speed():
    soft, hard = (
        contact_heat(Kit(), rhythm=Rhythm(), force=force, duration=20.0) for force in (60.0, 90.0)
    )
    assert hard.first_smoke.likely < 0.7 * soft.first_smoke.likely
    assert hard.steady_smoke.likely < 0.7 * soft.steady_smoke.likely
