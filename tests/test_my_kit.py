"""My kit: what was measured goes into a try, and takes the place of guesses in the draws."""

import re

import numpy as np
import pytest

from fireheat import InputError, Kit
from fireheat.kit.kit import Try
from fireheat.my_kit import MyKit
from fireheat.person.measuring import NINE_OF_TEN, Measured
from fireheat.spread import settable, spread

START = Try()
PLAIN = {
    "friction": Measured(0.33, 0.01),
    "force": Measured(70.0, 4.0),
    "speed": Measured(0.9, 0.04),
    "diameter": Measured(0.02, 0.0003),
    "burn_in_depth": Measured(0.004, 0.0004),
    "moisture": Measured(0.08, 0.004),
}


def test_an_empty_kit_changes_nothing():
    assert not MyKit()
    assert MyKit().state(START) == START
    assert (MyKit().measured, MyKit().keys) == ({}, ())


def test_what_was_measured_stands_in_the_try_and_the_rest_stays():
    mine = MyKit(**PLAIN)
    made = mine.state(START)
    assert {key: made.value(key) for key in PLAIN} == pytest.approx(
        {key: one.value for key, one in PLAIN.items()}
    )
    assert made.air == START.air
    assert made.kit.wood == START.kit.wood
    assert set(mine.keys) == set(mine.measured) == set(PLAIN)


def test_shares_hold_nine_of_ten_readings():
    for key, share in MyKit(**PLAIN).measured.items():
        assert share == pytest.approx(NINE_OF_TEN * PLAIN[key].error / PLAIN[key].value)
    drawn = np.random.default_rng(1).normal(0.33, 0.01, 20000)
    within = np.abs(drawn - 0.33) < MyKit(friction=PLAIN["friction"]).measured["friction"] * 0.33
    assert np.mean(within) == pytest.approx(0.9, abs=0.01)


def test_a_reading_that_says_nothing_is_off_by_nearly_all_of_it():
    assert MyKit(friction=Measured(0.3, 0.5)).measured == {"friction": 0.99}


@pytest.mark.parametrize("contact", ["uniform_wear", "uniform_pressure", "domed"])
def test_the_watts_are_those_of_the_grip_whatever_the_tip(contact):
    start = Try(Kit(contact=contact, cord_radius=0.012))
    mine = MyKit(grip=Measured(0.16, 0.01), force=PLAIN["force"], speed=PLAIN["speed"])
    assert mine.state(start).power == pytest.approx(0.16 * 70.0 * 0.9)


def test_a_gauge_takes_the_place_of_what_it_tells():
    cold = MyKit(grip=Measured(0.16, 0.01), force=PLAIN["force"], speed=PLAIN["speed"])
    assert set(cold.measured) == {"pull", "speed"}
    hot = cold.put(hot_grip=Measured(0.15, 0.01))
    assert set(hot.measured) == {"power"}
    assert set(hot.keys) == {"friction", "force", "speed"}
    for mine in (cold, hot):
        band = spread(mine.state(START), measured=mine.measured).all
        assert band.low < band.likely < band.high


def test_the_newest_of_readings_that_tell_the_same_stands():
    mine = MyKit(friction=PLAIN["friction"]).put(grip=Measured(0.16, 0.01))
    assert set(mine.readings) == {"grip"}
    assert set(mine.put(friction=PLAIN["friction"]).readings) == {"friction"}
    grams = MyKit(burn_in_depth=PLAIN["burn_in_depth"]).put(dust_mass=Measured(3e-4, 2e-5))
    assert set(grams.readings) == {"dust_mass"}
    state = grams.state(START)
    assert state.kit.dust_mass == 3e-4
    assert set(grams.measured) <= set(settable(state))


def test_a_reading_can_be_forgotten():
    mine = MyKit(**PLAIN)
    assert set(mine.without("force").readings) == set(PLAIN) - {"force"}
    assert mine.without(*PLAIN) == MyKit()


def test_measuring_narrows_what_guessing_left_wide():
    mine = MyKit(friction=PLAIN["friction"], force=PLAIN["force"])
    state = mine.state(START)
    ends = [
        np.log(np.divide(*spread(state, **known).all.ends))
        for known in ({"measured": mine.measured}, {"guessed": list(mine.measured)})
    ]
    assert abs(ends[0]) < 0.8 * abs(ends[1])


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: MyKit(friction=0.3), "friction of my kit is 0.3; allowed: Measured(...)"),
        (lambda: MyKit(friction=Measured(3.0, 0.1)), "friction coefficient is 3"),
        (lambda: MyKit(force=Measured(60.0, -1.0)), "error=-1.0); allowed: finite, 0 or more"),
        (lambda: MyKit(grip=Measured(float("nan"), 0.1)), "grip of my kit is Measured(value=nan"),
        (
            lambda: MyKit(friction=PLAIN["friction"], grip=Measured(0.16, 0.01)),
            "my kit has ['friction', 'grip']; allowed: one of them",
        ),
        (lambda: MyKit().put(name=Measured(1.0, 0.1)), "my kit has no ['name']; allowed: friction"),
        (lambda: MyKit().without("age"), "my kit has no ['age']"),
        (lambda: MyKit().state("mine"), "start is 'mine'; allowed: a Try"),
    ],
)
def test_what_cannot_be_is_refused_by_name(make, words):
    with pytest.raises(InputError, match=re.escape(words)):
        make()
