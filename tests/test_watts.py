"""Watts from the bow's pull and from first smoke: formulas, their errors, and both as an answer."""

import numpy as np
import pytest

from fireheat import InputError
from fireheat.answers.watts import Pulling, in_my_kit, smoke_power, watts
from fireheat.estimates import times
from fireheat.kit.bowing import bow_pull, friction_power
from fireheat.kit.kit import Try
from fireheat.my_kit import MyKit
from fireheat.person.measuring import (
    NINE_OF_TEN,
    Measured,
    propagated,
    pulled_friction,
    pulled_power,
    simulated,
    tip_pull,
)
from fireheat.spread import drawn_case, even_shares
from fireheat.unknowns import unknown

# ---- the bow's pull -----------------------------------------------------------------------------

KIT = {"radius": 0.007, "cord_radius": 0.009}
BLOCK = {"block_friction": 0.2, "block_radius": 0.005}


@pytest.mark.parametrize("contact", ["uniform_wear", "uniform_pressure", "domed"])
@pytest.mark.parametrize("friction", [0.1, 0.35, 0.8])
def test_what_the_pull_tells_is_what_the_friction_made(contact, friction):
    pull = bow_pull(55.0, friction=friction, contact=contact, **KIT, **BLOCK)
    read = {"force": 55.0, "cord_radius": KIT["cord_radius"], **BLOCK}
    made = friction_power(55.0, friction=friction, speed=0.8, contact=contact, **KIT)
    assert pulled_power(pull, speed=0.8, **read) == pytest.approx(made)
    assert tip_pull(pull, **read) == pytest.approx(made / 0.8)
    told = pulled_friction(pull, radius=KIT["radius"], contact=contact, **read)
    assert told == pytest.approx(friction)


def test_a_block_that_takes_all_the_pull_leaves_no_watts():
    read = {"force": 60.0, "cord_radius": 0.008}
    assert pulled_power(3.0, speed=1.0, **read) == pytest.approx(0.0)
    assert tip_pull(1.0, **read) == 0.0
    assert pulled_friction(1.0, **read) == 0.0


def test_a_hand_of_joules_is_what_the_scale_and_the_tape_say():
    """A hundred strokes of half a metre against 12 N, in a minute, a slippery block: 600 J."""
    made = pulled_power(12.0, speed=50 / 60, force=60.0, cord_radius=0.008, block_friction=0.0)
    assert made * 60 == pytest.approx(600.0)


# ---- errors handed on ---------------------------------------------------------------------------

READ = {
    "pull": Measured(13.5, 0.6),
    "force": Measured(60.0, 3.6),
    "cord_radius": Measured(0.008, 0.00015),
    "block_friction": Measured(0.15, 0.045),
    "block_radius": Measured(0.004, 0.0006),
}


def test_errors_are_those_of_the_slopes_worked_out_by_hand():
    found = propagated(pulled_power, speed=Measured(1.0, 0.05), **READ)
    block = 2 / 3 * 0.15 * 60.0 * 0.004 / 0.008
    parts = {
        "speed": (13.5 - block) * 0.05,
        "pull": 0.6,
        "force": block * 3.6 / 60.0,
        "cord_radius": block * 0.00015 / 0.008,
        "block_friction": block * 0.045 / 0.15,
        "block_radius": block * 0.0006 / 0.004,
    }
    variance = sum(np.square(list(parts.values())))
    assert found.value == pytest.approx(13.5 - block)
    assert found.error == pytest.approx(np.sqrt(variance), rel=1e-6)
    for key, part in parts.items():
        assert found.parts[key] == pytest.approx(part**2 / variance, rel=1e-5), key


@pytest.mark.parametrize("formula", [pulled_friction, tip_pull])
def test_propagation_and_simulation_agree(formula):
    found = propagated(formula, **READ)
    drawn = formula(**simulated(READ, count=2048))
    assert np.std(drawn) == pytest.approx(found.error, rel=0.03)
    assert np.mean(drawn) == pytest.approx(found.value, rel=0.01)


def test_what_is_known_exactly_adds_nothing():
    sure = {key: Measured(one.value, 0.0) for key, one in READ.items()}
    found = propagated(tip_pull, **sure)
    assert (found.error, set(found.parts.values())) == (0.0, {0.0})


def test_draws_are_even_and_go_their_own_ways():
    draws = np.array(list(simulated(READ, count=512).values()))
    assert np.max(np.abs(np.corrcoef(draws) - np.eye(len(draws)))) < 0.1
    for row, one in zip(draws, READ.values(), strict=True):
        assert np.mean(row < one.value + 1.2816 * one.error) == pytest.approx(0.9, abs=0.01)


def test_no_draw_is_of_nothing_or_less():
    draws = simulated({"pull": Measured(1.0, 2.0)})["pull"]
    assert np.min(draws) == 1e-3


def test_draws_are_refused_by_name_where_they_cannot_be():
    with pytest.raises(InputError, match="count of draws is 0"):
        simulated(READ, count=0)
    with pytest.raises(InputError, match="values to draw are 11; allowed: up to 10"):
        simulated({str(number): Measured(1.0, 0.1) for number in range(11)})


# ---- first smoke as a gauge ---------------------------------------------------------------------

KITS = [
    Try(),
    Try().changed(diameter=0.011, friction=0.3),
    Try().changed(moisture=0.14, force=80.0, speed=1.2),
]


@pytest.mark.parametrize("state", KITS)
def test_the_watts_that_smoke_tells_are_those_that_made_it(state):
    """The march says when it smokes; turned round by the impedance it gives the watts back."""
    smoke = times(state).smoke.likely
    assert smoke_power(state, smoke_time=smoke).likely == pytest.approx(state.power, rel=1e-4)


def test_the_sooner_it_smokes_the_more_watts_nearly_as_one_over_the_root():
    seconds = np.array([2.0, 4.0, 8.0, 16.0, 32.0])
    found = np.array([smoke_power(Try(), smoke_time=time) for time in seconds])
    assert np.all(np.diff(found, axis=0) < 0)
    slopes = np.diff(np.log(found[:, 1])) / np.log(2)
    assert np.all((slopes > -0.5) & (slopes < -0.4))  # later, heat spreads sideways, too
    assert np.all(np.diff(slopes) > 0)


def test_nine_of_ten_first_smokes_are_of_watts_within_the_band():
    """Draws of wood and luck that this band never saw, smoking by the march's own solver."""
    state, other = Try(), np.random.default_rng(4)
    shares = {key: other.random(300) for key in even_shares(1)}
    made = drawn_case(state, shares, guessed=["moisture"], measured={"diameter": None})
    seen = made.smoke * 1.2 ** (other.standard_normal(300) / NINE_OF_TEN)
    bands = [smoke_power(state, smoke_time=time) for time in np.geomspace(2.0, 100.0, 12)]
    low, high = (
        np.exp(np.interp(np.log(seen), np.log(np.geomspace(2.0, 100.0, 12)), np.log(ends)))
        for ends in (np.array(bands)[:, 0], np.array(bands)[:, 2])
    )
    within = (low <= made.power) & (made.power <= high) | ~np.isfinite(seen)
    assert np.mean(within) == pytest.approx(0.9, abs=0.05)


# ---- both gauges --------------------------------------------------------------------------------


def test_an_ordinary_pull_tells_an_ordinary_kit():
    found = watts(Pulling())
    assert found.power.value == pytest.approx(Try().power)
    assert found.friction.value == pytest.approx(Try().kit.friction)
    assert found.speed.value == pytest.approx(Try().effort.speed)
    assert found.block == pytest.approx(3.0)
    assert sum(found.power.parts.values()) == pytest.approx(1.0)
    assert found.verdict == "alone"


def test_the_band_is_the_error_bar_and_a_cord_that_creeps():
    found = watts(Pulling())
    sure = {key: one for key, one in Pulling().readings.items() if not key.startswith("stroke")}
    assert set(found.friction.parts) == set(sure)
    low, likely, high = found.band
    reach = NINE_OF_TEN * found.power.error
    assert likely - low > 1.05 * reach  # a cord only ever takes away
    assert high - likely < 0.95 * reach
    assert (high - low) / (2 * reach) == pytest.approx(1.0, abs=0.1)


def test_jerks_make_the_scale_the_worst_of_all_readings():
    steady, jerky = watts(Pulling()), watts(Pulling(steady=False))
    assert max(steady.power.parts, key=steady.power.parts.get) == "block_friction"
    assert max(jerky.power.parts, key=jerky.power.parts.get) == "pull"
    assert jerky.power.error > steady.power.error
    share = jerky.power.parts["pull"] ** 0.5 * jerky.power.error * NINE_OF_TEN
    assert share == pytest.approx(0.2 * 13.5, rel=0.1)  # and the scale itself


def test_a_block_that_is_greased_leaves_less_doubt():
    greased = watts(Pulling(block_friction=0.05, scale_pull=11.5))
    assert greased.power.value == pytest.approx(10.5)
    assert greased.power.error < 0.8 * watts(Pulling()).power.error


@pytest.mark.parametrize(
    ("pull", "smoke", "verdict"),
    [
        (13.5, 13.0, "agree"),
        (20.0, 20.0, "less"),
        (9.0, 11.0, "more"),
        (40.0, 120.0, "apart"),
        (7.0, 2.0, "apart"),
    ],
)
def test_gauges_agree_or_differ_by_what_hot_wood_may_do(pull, smoke, verdict):
    found = watts(Pulling(scale_pull=pull), smoke_time=smoke)
    assert found.verdict == verdict, found.hotter
    assert found.hotter.likely == pytest.approx(found.hot_power.likely / found.power.value)


def test_two_gauges_together_are_surer_than_either_where_they_agree():
    found = watts(Pulling(), smoke_time=13.0)
    bands = (found.band, unknown("hot_friction").band, found.hot_power)
    read, hot, smoke = (np.log(band.high / band.low) / 2 / NINE_OF_TEN for band in bands)
    cold = np.hypot(read, hot)
    share = found.both.error / found.both.value
    assert share == pytest.approx((cold**-2 + smoke**-2) ** -0.5, rel=1e-3)
    assert share < min(cold, smoke)
    apart = watts(Pulling(), smoke_time=2.0)
    assert apart.both.error / apart.both.value > 1.3 * share
    assert apart.power.value < apart.both.value < apart.hot_power.likely


def test_a_block_that_takes_all_leaves_smoke_to_tell():
    found = watts(Pulling(scale_pull=2.0), smoke_time=13.0)
    assert (found.power.value, found.hotter) == (0.0, None)
    assert found.both.value == found.hot_power.likely
    assert found.verdict == "alone"


@pytest.mark.parametrize("smoke", [None, 20.0])
def test_my_kit_makes_the_watts_that_were_measured(smoke):
    pulling = Pulling(scale_pull=16.0, force=70.0, diameter=0.02, stroke_length=0.6)
    found = watts(pulling, smoke_time=smoke)
    mine = MyKit(**in_my_kit(pulling, found))
    told = found.power if smoke is None else found.both
    assert mine.state(Try()).power == pytest.approx(told.value)
    assert mine.state(Try()).kit.diameter == pytest.approx(0.02)
    gauge = "pull" if smoke is None else "power"
    reading = found.grip if smoke is None else found.both
    assert mine.measured[gauge] == pytest.approx(NINE_OF_TEN * reading.error / reading.value)


def test_a_pull_of_hardly_more_than_the_block_is_hardly_sure_of_anything():
    found = watts(Pulling(scale_pull=3.05), smoke_time=13.0)
    assert 0 < found.power.value < 0.1
    assert found.band.low == 0.0
    assert np.all(np.isfinite([*found.hotter, found.both.value, found.both.error]))


@pytest.mark.parametrize("key", ["scale_pull", "force", "strokes_per_minute"])
def test_where_nothing_is_pulled_pressed_or_moved_nothing_was_measured(key):
    with pytest.raises(InputError, match="is 0; allowed: above 0, or nothing was measured"):
        Pulling(**{key: 0.0})


def test_readings_that_cannot_be_are_refused_by_name():
    with pytest.raises(InputError, match="pull on the scale is -1 N"):
        Pulling(scale_pull=-1.0)
    with pytest.raises(InputError, match="first smoke after is 0 s"):
        watts(Pulling(), smoke_time=0.0)
