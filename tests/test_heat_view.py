"""The heat picture: driven as a reader does, and as it plays."""

import re

import numpy as np
import pytest
from reading import shown

from fireheat import Effort, InputError, Kit
from fireheat.answers.heat_view import (
    NO_EMBER,
    NO_SMOKE,
    WINDOW,
    allowance,
    heat_so_far,
    kit_heat,
    still,
    story,
)
from fireheat.cases import case
from fireheat.estimates import estimate, times
from fireheat.kit.kit import Air, Try
from fireheat.panels import HeatView
from fireheat.quantities import METRIC, US, default
from fireheat.spread import spread
from fireheat.words import NEVER, band_words, likely_words, number_words, time_words

WEAK = {"diameter": 0.022, "force": 30.0, "speed": 0.5}  # never smokes
HARDLY = {"diameter": 0.022, "force": 45.0, "speed": 0.65}  # smokes, and never an ember


@pytest.fixture
def heat():
    return HeatView()


def tile(panel, name):
    """Value and note of one tile."""
    found = re.search(rf"{name}</span><b>(.*?)</b>.*?<small>(.*?)</small>", panel.face.value)
    return [words.replace("\xa0", " ") for words in found.groups()]


def tried(**state):
    """The try of a state."""
    return Try().changed(**{key: value for key, value in state.items() if key != "elapsed"})


# ---- tiles and sentence say what the library says ------------------------------------------------


@pytest.mark.parametrize("seed", range(4))
def test_tiles_and_sentence_agree_with_the_library(heat, seed):
    random = np.random.default_rng(seed)
    state = {
        "diameter": random.uniform(0.009, 0.026),
        "force": random.uniform(30.0, 120.0),
        "speed": random.uniform(0.4, 1.6),
        "elapsed": float(random.integers(1, 120)),
    }
    said = heat.set(**state)
    one = tried(**state)
    found, wide, time = estimate(one.kit, one.effort), spread(one), state["elapsed"]
    value, note = tile(heat, "First smoke, estimate")
    assert value == band_words(wide.smoke_all)
    assert band_words(found.smoke) in note or "never" in note
    value, note = tile(heat, "Ember, estimate")
    assert value == band_words(wide.all)
    if np.isfinite(found.ember.likely):
        assert band_words(found.ember) in note
        assert f"first smoke {band_words(wide.smoke_all)}, ember {band_words(wide.all)}" in said
    likely = case(one)
    rise = min(likely.power * likely.contact.impedance(time), likely.rise)
    assert tile(heat, "Contact")[0] == f"{20 + rise:.0f} °C"
    assert f"after {time:.0f} s the contact is at {20 + rise:.0f} °C" in said
    parts = heat_so_far(one, time=time)
    share = 100 * parts["dust_and_water"] / (one.power * time)
    assert float(tile(heat, "Into dust and water")[0].rstrip(" %")) == pytest.approx(share, abs=1)


@pytest.mark.parametrize(
    ("state", "ending", "why"),
    [
        ({}, "first smoke 5 to 61 s, ember 25 s to 4 min", ""),
        (HARDLY, f"Most likely it {NO_EMBER}", "before the dust is hot enough"),
        (WEAK, f"Most likely it {NO_SMOKE}", "before it smokes"),
    ],
)
def test_the_sentence_names_one_of_three_endings(heat, state, ending, why):
    said = heat.set(**state)
    assert ending in said
    assert why in said
    found = times(tried(**state))
    smoke, ember = (time.likely < np.inf for time in (found.smoke, found.ember))
    assert (smoke, ember) == {"": (True, True)}.get(why, (state is HARDLY, False))


def test_a_try_that_smokes_without_an_ember_is_not_said_to_glow(heat):
    heat.set(**HARDLY)
    assert tile(heat, "Ember, estimate")[1] == f"most likely it {NO_EMBER}"
    assert tile(heat, "First smoke, estimate")[0] != NEVER
    heat.set(**WEAK)
    assert tile(heat, "Ember, estimate")[1] == f"most likely it {NO_SMOKE}"


@pytest.mark.parametrize("diameter", [0.010, 0.026, 0.032])
@pytest.mark.parametrize("speed", [0.2, 0.5, 1.0])
def test_what_comes_too_late_for_the_picture_is_told_with_its_time(heat, diameter, speed):
    said = heat.set(diameter=diameter, speed=speed, elapsed=120.0)
    found = times(Try(Kit(radius=diameter / 2), Effort(speed=speed)))
    for name, likely in (("First smoke", found.smoke.likely), ("Ember", found.ember.likely)):
        _, note = tile(heat, f"{name}, estimate")
        late = WINDOW < likely < 3600
        assert ("after the picture's 2 min" in note) == late
        if late:
            assert likely_words(likely) in note
    assert "-0" not in shown(heat) + said
    assert not re.search(r"\d{4} s", shown(heat) + said)


def test_no_share_of_the_heat_is_less_than_nothing(heat):
    # Before first smoke the dust has nothing: rounding in the run's sums must not show.
    for diameter, elapsed in ((0.010, 1.0), (0.023, 30.0), (0.026, 30.0)):
        heat.set(diameter=diameter, force=35.0, elapsed=elapsed)
        parts = heat.answer(heat.state).story.heat(elapsed)
        assert min(parts.values()) >= 0
        assert "-0" not in shown(heat) + heat.sentence()


def test_where_nothing_rubs_the_panel_says_that_no_heat_is_made(heat):
    said = heat.set(force=0.0, elapsed=60.0)
    assert "No heat is made." in said
    assert "all is cold" in said
    assert tile(heat, "Into dust and water")[0] == "no heat yet"
    assert not re.search(r"\b(nan|inf)\b|warms up", shown(heat) + said)


def test_the_tile_of_dust_and_the_sentence_say_the_same_share(heat):
    for elapsed in (5.0, 12.0, 33.0, 77.0, 120.0):
        said = heat.set(elapsed=elapsed)
        share = tile(heat, "Into dust and water")[0]
        assert f"dust and water {share}" in said or (share == "0 %" and "dust" not in said)


# ---- cool dust ----------------------------------------------------------------------------------


@pytest.mark.parametrize("state", [{}, {"force": 100.0}, {"speed": 2.0}, {"diameter": 0.012}])
def test_the_wear_that_is_too_much_takes_off_the_depth_just_at_the_bound(state):
    one = tried(**state)
    most, bound = allowance(one), times(one).bound
    # The heat of friction is mu F times the way that is rubbed; wear is per force and way.
    way = one.power / (one.kit.friction * one.effort.force) * bound
    volume = most.wear * one.effort.force * way
    assert volume == pytest.approx(0.004 * np.pi * one.kit.radius**2, rel=1e-6)
    assert most.strokes == pytest.approx(bound * one.effort.speed / 0.5)


def test_how_much_a_pair_may_wear_hangs_on_no_force_speed_or_diameter():
    wears = [
        allowance(tried(**state)).wear
        for state in ({}, {"force": 120.0}, {"speed": 0.5}, {"diameter": 0.022})
    ]
    assert wears == pytest.approx([wears[0]] * 4, rel=1e-6)
    assert allowance(Try().changed(friction=0.7)).wear == pytest.approx(2 * wears[0], rel=1e-6)


def test_the_line_of_cool_dust_has_its_numbers(heat):
    most = allowance(Try())
    assert f"more than {number_words(1e9 * most.wear)} mm³ for each newton" in shown(heat)
    assert f"4.0 mm gone in fewer than {number_words(most.strokes)} strokes" in shown(heat)
    heat.set(force=0.0)
    assert "strokes" not in shown(heat)


# ---- the heat between the moments of the run -----------------------------------------------------


@pytest.mark.parametrize("diameter", [0.011, 0.016])
def test_at_the_ember_the_heat_is_where_the_estimate_says(diameter):
    one = Try().changed(diameter=diameter)
    found = estimate(one.kit)
    parts = heat_so_far(one, time=found.ember.likely)
    dust = found.heat["dust"] + found.heat["water"]
    # Kits are marched side by side there, alone here: that moves the ember by 1e-5, and the dust
    # is what the rest leaves.
    assert parts.pop("dust_and_water") == pytest.approx(dust, rel=1e-3)
    assert parts == pytest.approx({part: found.heat[part] for part in parts}, rel=1e-3)


@pytest.mark.parametrize(("force", "speed"), [(60.0, 1.0), (60.0, 0.5), (20.0, 0.3)])
def test_the_heat_so_far_is_all_that_was_made_and_dust_only_grows(force, speed):
    one = Try().changed(force=force, speed=speed)
    time = np.linspace(0.0, 300.0, 61)
    parts = heat_so_far(one, time=time)
    np.testing.assert_allclose(sum(parts.values()), one.power * time, rtol=1e-9)
    slack = 1e-4 * one.power * time[1:]  # what the sums promise
    assert np.all(np.diff(parts["dust_and_water"]) >= -slack)
    assert all(np.all(joules >= 0) for joules in parts.values())


def test_a_story_tells_between_its_moments_what_the_heat_is():
    told = story(Try())
    for time in (0.0, 0.5, 7.3, 31.4, told.milestones[1]):
        exact = heat_so_far(Try(), time=time)
        # The sums of wear promise half a per cent of all the heat; early, dust has a kink.
        assert told.heat(time) == pytest.approx(exact, abs=0.2 + 0.005 * 10.5 * time)
        assert sum(told.heat(time).values()) == pytest.approx(told.state.power * time, abs=1e-6)


def test_a_run_is_stopped_between_two_moments_as_a_finer_run_says():
    run, fine = kit_heat(Try(), duration=20.0), kit_heat(Try(), duration=5.0)
    for at in (3, 58, 119):
        stopped = still(run, time=float(fine.time[at]))
        assert stopped.contact_mean[0] == pytest.approx(fine.contact_mean[at], abs=1.5)
        assert np.abs(stopped.rise[0] - fine.rise[at]).max() < 3.0
    assert still(run, time=0.0).rise.max() == 0
    assert still(run, time=99.0).rise[0] == pytest.approx(run.rise[-1])
    with pytest.raises(InputError, match="time bowing"):
        still(run, time=-1.0)


def test_the_contact_is_as_hot_as_smoke_at_first_smoke_and_as_dust_at_the_ember():
    for air in (Air(), Air(temperature=273.15)):
        told = story(Try(air=air))
        smoke, ember = told.milestones
        for time, key in ((smoke, "temperature_smoke"), (ember, "temperature_char")):
            hot = air.temperature + told.contact_rise(time)
            assert hot == pytest.approx(default(key), abs=0.3)
        assert told.contact_rise(0.0) == 0


def test_the_picture_s_contact_is_that_of_the_words_within_a_few_degrees():
    told = story(Try())
    for time in (1.0, 5.0, 13.0, 30.0, 90.0):
        seen = float(still(told.run, time=time).contact_mean[0])
        assert seen == pytest.approx(told.contact_rise(time), abs=6.0)


# ---- playing -------------------------------------------------------------------------------------


def play(panel):
    """Press play, and let it run until it holds by itself; return the times it showed."""
    slider, seen = panel.control["elapsed"], []
    slider.play.playing = True
    while slider.play.playing:
        slider.play.value += 1
        seen.append(panel.state["elapsed"])
    return np.array(seen)


def test_it_plays_slowly_to_first_smoke_quicker_to_the_ember_and_holds_at_both(heat):
    smoke, ember = story(Try()).milestones
    assert heat.state["elapsed"] == 0.0
    first = play(heat)
    assert first[-1] == smoke
    assert np.diff(first).max() / 0.12 == pytest.approx(2.0)  # s of bowing a second; a step 0.12 s
    assert "the contact is at 275 °C: first smoke." in heat.sentence()
    then = play(heat)
    assert then[-1] == ember
    assert np.diff(then).max() == pytest.approx(1.0)
    assert "the contact is at 350 °C: glows." in heat.sentence()
    assert play(heat)[-1] == WINDOW
    assert play(heat)[-1] == smoke  # from the start again


def test_a_try_without_milestones_plays_to_the_end(heat):
    heat.set(**WEAK, elapsed=100.0)
    assert play(heat)[-1] == WINDOW
    assert heat.to_smoke.disabled
    assert heat.to_ember.disabled


def test_buttons_jump_to_first_smoke_and_to_the_ember(heat):
    smoke, ember = story(Try()).milestones
    heat.to_ember.click()
    assert heat.state["elapsed"] == ember
    heat.to_smoke.click()
    assert heat.state["elapsed"] == smoke
    heat.set(diameter=0.022)  # whose ember lies beyond the picture
    assert (heat.to_smoke.disabled, heat.to_ember.disabled) == (False, True)
    before = heat.state
    heat.to_ember.click()
    assert heat.state == before


def test_stop_leads_back_to_the_start_also_after_the_slider_was_moved(heat):
    slider = heat.control["elapsed"]
    play(heat)
    slider.play.value = slider.play.min
    assert heat.state["elapsed"] == 0.0
    heat.set(elapsed=80.0)
    assert slider.play.value > slider.play.min  # else stopping would change nothing
    slider.play.value = slider.play.min
    assert heat.state["elapsed"] == 0.0


def test_playing_goes_on_from_where_the_slider_stands(heat):
    slider = heat.control["elapsed"]
    heat.set(elapsed=80.0)
    slider.play.playing = True
    slider.play.value += 1
    assert heat.state["elapsed"] == 81.0
    assert "after 81 s" in heat.sentence()


def test_only_playing_itself_leaves_it_playing(heat):
    player = heat.control["elapsed"].play
    player.playing = True
    player.value += 1
    assert player.playing
    heat.reset()
    assert not player.playing
    assert (player.value, heat.state["elapsed"]) == (0, 0.0)


def test_a_step_of_play_that_comes_after_a_reset_is_too_late(heat):
    player = heat.control["elapsed"].play
    heat.set(elapsed=60.0)
    player.playing = True
    player.value += 1
    heat.set(elapsed=20.0)
    player.value += 1
    assert heat.state["elapsed"] == 20.0


# ---- before, units, refusals ---------------------------------------------------------------------


def test_the_kit_before_stands_beside_the_one_now_at_the_same_moment(heat):
    heat.set(elapsed=60.0)
    heat.keep_before()
    said = heat.set(diameter=0.025)
    assert "25.0 mm spindle" in said
    assert "Before: 16.0 mm spindle, 10 W: after 60 s" in said
    drawn = heat.sketched.drawn()
    assert "before, charred" in drawn
    assert "now, charred" not in drawn
    assert "Before: 16.0 mm spindle, 10 W: after 90 s" in heat.set(elapsed=90.0)


def test_nothing_is_charred_until_well_after_first_smoke(heat):
    smoke, ember = story(Try()).milestones
    for elapsed in (3.0, 1.1 * smoke):
        heat.set(elapsed=elapsed)
        assert "now, charred" not in heat.sketched.drawn()
    heat.set(elapsed=ember)
    zone = heat.sketched.drawn()["now, charred"]
    assert np.ptp(zone.x) > 8  # mm of 16
    assert np.ptp(zone.y) < 3


def test_units_change_words_and_not_the_state(heat):
    before = heat.state
    heat.units.value = US
    assert "°F" in heat.sentence()
    assert "5/8 in spindle" in heat.sentence()
    heat.units.value = METRIC
    assert heat.state == pytest.approx(before)


def test_a_picture_that_cannot_be_is_refused_and_nothing_moves(heat):
    before = heat.sentence()
    with pytest.raises(InputError, match="time bowing"):
        heat.set(elapsed=-1.0)
    assert heat.sentence() == before


def test_two_minutes_are_followed_unless_another_time_is_asked_for():
    np.testing.assert_allclose(kit_heat(Try()).time, np.arange(1.0, 121.0))
    assert len(kit_heat(Try()).time) == len(kit_heat(Try(), duration=60.0).time)
    assert kit_heat(Try(), duration=60.0).time[-1] == pytest.approx(60.0)


def test_the_window_holds_an_ordinary_ember():
    assert times(Try()).ember.likely < WINDOW
    assert time_words(WINDOW) == "2 min"
