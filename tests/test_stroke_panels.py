"""Stroke panels driven as a reader drives them, and the contact under a rhythm behind them."""

import base64
import io
import re
import wave

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from reading import shown

from fireheat import Effort, InputError, Kit
from fireheat.answers.warmth import Rhythm, contact_heat
from fireheat.estimates import contacts, times
from fireheat.figures.stroke_map import lengths
from fireheat.heat.contact import Contact
from fireheat.kit.bowing import friction_power
from fireheat.kit.kit import Try
from fireheat.lessons import measured, prediction, worked_out
from fireheat.panels import PracticeBeat, Strokes, TapCounter, Warmth
from fireheat.panels.two_bands import wood_note
from fireheat.person.measuring import missed_taps, scale_force, tap_rate, tapped_speed
from fireheat.person.strokes import most_strokes, peak_speed, shortest_stroke
from fireheat.quantities import default
from fireheat.spread import spread
from fireheat.words import band_words

GENTLE = {"stroke_length": 0.5, "strokes_per_minute": 96.0}


# ---- the contact under a rhythm -----------------------------------------------------------------


def test_an_even_hand_smokes_when_the_estimate_says_so():
    # Two ways to one number: Duhamel's sum over a steady history, and the march's smoke.
    contact = contact_heat(Kit(), rhythm=Rhythm(shape="steady"))
    np.testing.assert_allclose(contact.first_smoke, contact.steady_smoke, rtol=2e-3)
    np.testing.assert_allclose(contact.steady_smoke, times(Try()).smoke)


def test_the_band_of_the_impedance_is_that_of_the_estimate():
    ends = contacts(Try())
    little, likely, much = (end.impedance(10.0) for end in ends)
    assert little > likely > much
    # The early limit, 2 sqrt(t/pi)/((e1 + e2) A): Carslaw & Jaeger, Conduction of Heat in Solids,
    # 2nd ed., sec. 2.9 (from memory), with the wood's own effusivities.
    early, kept = 1e-4, ends.likely
    assert type(kept) is Contact
    taken = sum(
        np.sqrt(body.conductivity_axial * body.volumetric_heat_capacity)
        for body in (kept.spindle, kept.board)
    )
    wanted = 2 * np.sqrt(early / np.pi) / (taken * np.pi * kept.radius**2)
    assert kept.impedance(early) == pytest.approx(wanted, rel=0.01)


@pytest.mark.parametrize("length", [0.9, 0.5, 0.25])
def test_at_one_speed_the_mean_is_the_same_for_every_stroke(length):
    # Common practice, no source: stroke length does not matter at equal bow speed.
    rhythm = Rhythm(stroke_length=length, strokes_per_minute=60 / length)
    heat, even = (contact_heat(Kit(), rhythm=r).heat for r in (rhythm, Rhythm(shape="steady")))
    assert heat.mean(9.0) == pytest.approx(even.mean(9.0), rel=0.005)


def test_peaks_of_long_strokes_smoke_a_little_sooner_and_by_less_than_the_band():
    # Whether the last rise just catches a peak or just misses it is luck: so several forces.
    gains = []
    for force in np.linspace(55.0, 70.0, 6):
        long, short = (
            contact_heat(
                Kit(),
                rhythm=Rhythm(stroke_length=length, strokes_per_minute=60 / length),
                force=force,
            ).first_smoke
            for length in (0.9, 0.3)
        )
        gains.append(1 - long.likely / short.likely)
        assert short.likely - long.likely < (long.high - long.low) / 10
    assert 0.02 < np.mean(gains) < 0.15


def test_a_third_of_the_time_resting_costs_far_more_than_a_third_of_the_stroke():
    whole, rests = (
        contact_heat(Kit(), rhythm=Rhythm(**GENTLE, bout=6.0, pause=pause), force=60.0)
        for pause in (0.0, 3.0)
    )
    short = Rhythm(stroke_length=1 / 3, strokes_per_minute=144.0)
    short = contact_heat(Kit(), rhythm=short, force=60.0)
    assert short.first_smoke.likely < 1.1 * whole.first_smoke.likely
    assert rests.first_smoke.likely > 1.5 * whole.first_smoke.likely
    assert rests.rhythm.average == pytest.approx(whole.rhythm.average * 2 / 3)


def test_the_number_in_the_question_about_rests_is_the_models():
    asked, answer = prediction("rests"), worked_out("rests")
    whole = {key: value for key, value in asked.before.items() if key not in ("bout", "pause")}
    assert whole == GENTLE | {"force": asked.before["force"]}
    gentle = measured("first_smoke", Try(), **whole)
    assert f"after about {gentle:.0f} s" in asked.text
    assert answer.after / gentle == pytest.approx(1.9, abs=0.2)
    assert answer.before == pytest.approx(gentle, rel=0.01)


@given(st.floats(0.05, 1.0), st.floats(5.0, 60.0))
def test_the_most_strokes_are_those_whose_shortest_stroke_is_this_one(length, hand):
    speed = length * most_strokes(length, acceleration=hand) / 60
    assert shortest_stroke(speed, acceleration=hand) == pytest.approx(length)
    assert peak_speed(length, speed=speed * (1 - 1e-9), acceleration=hand) == pytest.approx(
        2 * speed, rel=1e-3
    )


@pytest.mark.parametrize(
    ("how", "words"),
    [
        ({"strokes_per_minute": 0.0}, "strokes a minute is 0"),
        ({"shape": "square"}, "shape is 'square'"),
        ({"pause": -1.0}, "rest between bouts"),
        ({"stroke_length": 5.0}, "stroke length is 5"),
    ],
)
def test_a_rhythm_that_cannot_be_is_refused_in_words(how, words):
    with pytest.raises(InputError, match=words):
        Rhythm(**how)


# ---- the map ------------------------------------------------------------------------------------


def test_all_spots_on_one_line_have_the_same_watts_and_ember():
    panel = Strokes()
    tiles = [
        shown(panel).partition("Fastest")[0]
        for length in (0.3, 0.5, 0.75)
        if panel.set(stroke_length=length, strokes_per_minute=60 / length)
    ]
    assert tiles[0] == tiles[1] == tiles[2]
    assert "1.00 m/s" in tiles[0]
    now = times(Try(effort=Effort(speed=1.0)))
    assert band_words(now.ember) in tiles[0]
    assert f"{now.power:.2g} W" in tiles[0]


def test_a_short_stroke_asks_for_more_speed_and_then_cannot_be_done():
    panel = Strokes()
    panel.set(stroke_length=0.25, strokes_per_minute=240.0)
    assert f"{peak_speed(0.25, speed=1.0, acceleration=20.0):.2f} m/s" in shown(panel)
    panel.set(stroke_length=0.15, strokes_per_minute=400.0)
    assert "cannot" in shown(panel)
    assert "needs strokes of 20 cm or more" in shown(panel)
    assert "if a quicker hand kept this up" in shown(panel)
    assert not re.search(r"\b(nan|inf)\b", shown(panel))


def test_a_pin_says_whether_both_strokes_are_as_fast():
    panel = Strokes()
    panel.keep_before()
    said = panel.set(stroke_length=0.25, strokes_per_minute=240.0)
    assert said.endswith("same line of equal speed.")
    assert panel.set(strokes_per_minute=200.0).endswith("another line of equal speed.")


def test_the_grey_corner_is_where_the_hand_cannot_turn():
    panel = Strokes()
    panel.set(acceleration=8.0)
    edge = panel.sketched.too_short.get_xy()
    at = np.argmin(np.abs(lengths() - 0.5))
    assert edge[at, 1] == pytest.approx(most_strokes(lengths()[at], acceleration=8.0))
    # At 8 m/s^2 a stroke of half a metre allows just 1 m/s: L = 4 v^2/a.
    assert shortest_stroke(1.0, acceleration=8.0) == pytest.approx(0.5)


# ---- the ripple ---------------------------------------------------------------------------------


def test_the_curve_ends_where_the_contact_first_smokes():
    panel = Warmth()
    bowed, _ = panel.answer(panel.state)
    time, warm = panel.sketched.lines[0].get_data()
    assert time[-1] == pytest.approx(bowed.contact.first_smoke.likely, abs=0.01)
    assert warm[0] == pytest.approx(20.0)
    assert warm[-1] == pytest.approx(default("temperature_smoke") - 273.15, abs=2)
    assert warm.max() < default("temperature_smoke") - 273.15 + 2


def test_long_and_short_bow_stand_side_by_side():
    panel = Warmth()
    panel.set(stroke_length=0.9, strokes_per_minute=60 / 0.9)
    panel.keep_before()
    said = panel.set(stroke_length=0.3, strokes_per_minute=200.0)
    now, then = re.findall(r"ripples by (\d+) °C", said)
    assert int(then) / int(now) == pytest.approx(np.sqrt(3), rel=0.06)
    sketch = panel.sketched
    assert all(line.get_visible() for line in sketch.lines_before)


def test_rests_count_in_the_average_and_swing_the_contact():
    panel = Warmth(**GENTLE, bout=6.0, force=40.0, shown=60.0)
    before = panel.sentence()
    said = panel.set(pause=3.0)
    assert "0.80 m/s on average: contact ripples" in before
    assert "3 s rest after every 6 s, 0.53 m/s on average: contact swings" in said
    panel.reset()
    assert panel.sentence() == before


def test_a_hand_that_cannot_turn_in_time_is_told_so():
    panel = Warmth()
    panel.set(shape="trapezoid", stroke_length=0.15, strokes_per_minute=300.0)
    assert "an ordinary hand cannot" not in shown(panel)
    panel.set(strokes_per_minute=400.0)
    assert "an ordinary hand cannot: it needs strokes of 20 cm or more" in shown(panel)


def test_smoke_that_does_not_come_is_said():
    panel = Warmth(force=20.0)
    said = panel.set(stroke_length=0.2, strokes_per_minute=60.0)
    assert "first smokes not within 60 s" in said
    assert "over 60 s" in shown(panel)


# ---- taps and beat ------------------------------------------------------------------------------

STEADY = tuple(0.5 * np.arange(25) + 0.01 * (-1) ** np.arange(25))


def test_taps_become_a_count_a_speed_and_watts():
    panel = TapCounter()
    assert "not yet" in shown(panel)
    said = panel.set(taps=STEADY)
    rate = tap_rate(STEADY)
    speed = tapped_speed(rate, stroke_length=0.5, stroke_length_error=0.03)
    assert rate.likely == pytest.approx(120, rel=0.01)
    assert f"{rate.low:.0f} to {rate.high:.0f} strokes a minute" in said
    assert f"{speed.low:.2g} to {speed.high:.2g} m/s" in shown(panel)
    watts = [friction_power(60.0, friction=0.35, speed=end) for end in (speed.low, speed.high)]
    assert f"{watts[0]:.2g} to {watts[1]:.2g} W" in shown(panel)


def test_taps_from_the_browser_arrive_by_the_trait():
    panel = TapCounter()
    panel.pad.widget.value = list(STEADY)
    assert "25 taps" in panel.sentence()
    panel.reset()
    assert panel.pad.widget.value == []
    assert panel.sentence().startswith("No taps yet")


def test_a_missed_tap_is_mentioned():
    panel = TapCounter()
    taps = np.delete(STEADY, 7)
    assert missed_taps(taps) == 1
    assert "1 pass perhaps missed" in panel.set(taps=taps)
    assert "Start again" in shown(panel)


@pytest.mark.parametrize("taps", [(), (0.0,), (0.0, 0.5)])
def test_too_few_taps_are_no_error(taps):
    panel = TapCounter()
    panel.set(taps=taps)
    assert "not yet: at least 3 taps" in shown(panel)


def test_wild_taps_are_no_error():
    said = TapCounter().set(taps=(0.0, 0.1, 5.0, 5.1))
    assert "too uneven to tell" in said
    assert not re.search(r"\b(nan|inf)\b", said)


def sound(panel):
    data = re.search(r'src="data:audio/wav;base64,([^"]+)"', panel.sound.value).group(1)
    return wave.open(io.BytesIO(base64.b64decode(data)))


def test_the_beat_is_a_minute_of_sound_with_a_name_and_none_of_it_is_stored():
    panel = PracticeBeat()
    track = sound(panel)
    assert track.getnframes() / track.getframerate() == pytest.approx(60.0)
    assert 'aria-label="Practice beat, 120 strokes a minute, one minute"' in panel.sound.value
    assert "Start with the volume low" in panel.sound.value
    stored, _ = panel._repr_mimebundle_()
    assert "audio" not in str(stored)
    assert sum(len(str(part)) for part in stored.values()) < 50_000


def test_the_beats_in_the_sound_are_those_chosen():
    panel = PracticeBeat()
    panel.set(strokes_per_minute=90.0)
    track = sound(panel)
    rate, frames = track.getframerate(), track.getnframes()
    loud = np.abs(np.frombuffer(track.readframes(frames), "<i2"))
    starts = np.flatnonzero(
        np.diff((loud.reshape(-1, rate // 100).max(axis=1) > 500).astype(int)) == 1
    )
    assert 88 <= len(starts) <= 90  # the first begins with the track
    assert np.diff(starts).mean() / 100 == pytest.approx(60 / 90, rel=1e-3)
    before = panel.sound.value
    panel.set(stroke_length=0.4)
    assert panel.sound.value == before  # another stroke length is no reason to stop the music


def test_ten_kilograms_more_on_the_scale_are_98_newtons():
    # Standard gravity 9.80665 m/s^2: 3rd CGPM (1901).
    assert scale_force(18.0, rest=8.0) == pytest.approx(98.0665)


# ---- both bands ---------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(3))
def test_strokes_and_beat_tell_both_bands_as_the_library_has_them(seed):
    random = np.random.default_rng(seed)
    state = {"stroke_length": random.uniform(0.3, 0.7), "strokes_per_minute": 120.0}
    one = Try().changed(speed=2 * state["stroke_length"])
    wide, wood = spread(one, draws=128).all, wood_note(times(one).ember)
    for panel, draws in ((Strokes(), 128), (PracticeBeat(), 256)):
        said, wide = panel.set(**state), spread(one, draws=draws).all
        assert f"Ember, estimate {band_words(wide)}" in shown(panel)
        assert wood in shown(panel)
        assert f"ith all we do not know: {band_words(wide)}." in said


def test_first_smoke_of_strokes_lies_as_far_apart_as_that_of_an_even_hand():
    panel = Warmth()
    said = panel.set(stroke_length=0.8, strokes_per_minute=90.0)
    contact = panel.answer(panel.state).contact
    one = Try().changed(speed=1.2)
    wide = spread(one, draws=128).smoke_all
    assert list(contact.steady_all) == pytest.approx(list(wide))
    shift = contact.first_smoke.likely / times(one).smoke.likely
    assert contact.first_all.low == pytest.approx(shift * wide.low)
    assert contact.first_all.high == pytest.approx(shift * wide.high)
    assert f"First smoke, estimate {band_words(contact.first_all)}" in shown(panel)
    assert f"first smoke {band_words(contact.first_all)}." in said


def test_what_is_not_seen_within_a_minute_is_over_a_minute():
    panel = Warmth(force=35.0)
    panel.set(stroke_length=0.5, strokes_per_minute=90.0)
    assert panel.answer(panel.state).contact.first_all.high > 60
    assert "to over 60 s" in shown(panel)
