"""What becomes of a kit, second by second: its course, held to the estimate and to the march."""

import numpy as np
import pytest

from fireheat import InputError, Try, estimate
from fireheat.answers.course import course
from fireheat.answers.heat_view import heat_so_far, story
from fireheat.constants import constant
from fireheat.ember.ember import heap_mass
from fireheat.quantities import default
from fireheat.spread import spread

GLOWS = {
    "ordinary": Try(),
    "thick": Try().changed(diameter=0.022),
    "thin": Try().changed(diameter=0.011),
    "strong": Try().changed(force=150.0, speed=2.0),
    "in grams": Try().changed(dust_mass=0.3e-3),
    "wet and cold": Try().changed(moisture=0.18, temperature_ambient=263.15),
}
COLD = Try().changed(diameter=0.022, force=30.0, speed=0.55)
SMOKES = Try().changed(diameter=0.016, force=60.0, speed=0.32)
MARCH = 1e-6  # one kit marched alone stops its last move a little elsewhere than beside two others


@pytest.fixture(params=GLOWS, scope="module")
def kit(request):
    return course(GLOWS[request.param])


def test_a_course_ends_at_the_likely_ember_with_all_its_dust_hot(kit):
    found = estimate(kit.state.kit, kit.state.effort, kit.state.air)
    assert kit.end == kit.ember == found.ember.likely
    assert kit.smoke == found.smoke.likely
    assert kit.never is None
    assert kit.dust[-1] == pytest.approx(heap_mass(kit.state.kit.dust), rel=MARCH)
    assert kit.temperature[-1] == pytest.approx(default("temperature_char"))


def test_a_course_only_goes_up(kit):
    assert kit.times[0] == 0
    assert np.all(np.diff(kit.times) > 0)
    for rising in (kit.temperature, kit.dust):
        assert len(rising) == len(kit.times)
        assert np.all(np.diff(rising) >= 0)
    assert kit.temperature[0] == pytest.approx(kit.state.air.temperature)


def test_each_milestone_stands_in_the_arrays_at_its_temperature(kit):
    assert 0 < kit.brown < kit.smoke < kit.ember
    for time, kelvin in (
        (kit.brown, constant("temperature_brown")),
        (kit.smoke, default("temperature_smoke")),
    ):
        assert time in kit.times
        assert kit.temperature_at(time) == pytest.approx(kelvin, abs=0.1)


def test_no_dust_lies_there_before_the_contact_is_as_hot_as_dust_that_leaves(kit):
    hot = kit.temperature > default("temperature_char") - 0.1
    assert np.all(kit.dust[~hot] == 0)
    assert np.all(kit.dust[hot][1:] > 0)


@pytest.mark.parametrize("share", [0.15, 0.5, 0.8])
def test_between_two_moments_the_course_is_that_of_the_estimate(kit, share):
    time = share * kit.ember
    told = story(kit.state)
    rise = kit.temperature_at(time) - kit.state.air.temperature
    assert rise == pytest.approx(told.contact_rise(time), abs=0.5)
    made = heat_so_far(kit.state, time=np.array([time, kit.ember]))["dust_and_water"]
    share = kit.dust_at(time) / kit.dust[-1]
    assert share == pytest.approx(made[0] / made[1], abs=2e-3)


def test_both_bands_are_those_of_the_spread_and_narrow_by_what_was_measured():
    assert course(Try()).spread == spread(Try())
    measured = {"force": 0.05}
    assert course(Try(), measured=measured).spread == spread(Try(), measured=measured)
    assert course(Try()) is course(Try())


def test_a_kit_that_never_smokes_stays_a_warm_stick_until_nobody_looks_on():
    kit = course(COLD, duration=200.0)
    assert kit.end == 200
    assert (kit.smoke, kit.ember) == (np.inf, np.inf)
    assert kit.never == estimate(COLD.kit, COLD.effort).never
    assert np.all(kit.dust == 0)
    assert kit.temperature[-1] < default("temperature_smoke")


def test_a_kit_that_smokes_and_never_glows_is_followed_past_its_smoke():
    kit = course(SMOKES, duration=600.0)
    assert kit.smoke in kit.times
    assert kit.ember == np.inf
    assert "it smokes, but" in kit.never
    assert kit.temperature[-1] < default("temperature_char")


def test_a_bow_that_stands_still_warms_nothing():
    kit = course(Try().changed(force=0.0))
    assert np.all(kit.temperature == kit.temperature[0])
    assert kit.brown == np.inf


@pytest.mark.parametrize("wrong", [{"state": 3}, {"duration": 0.0}, {"measured": {"luck": 0.1}}])
def test_a_wrong_course_is_refused_by_name(wrong):
    with pytest.raises(InputError):
        course(**{"state": Try()} | wrong)
