"""Watts from the bow's pull and from first smoke: formulas, their errors, and both as an answer."""

import numpy as np
import pytest

from fireheat import InputError
from fireheat.kit.bowing import bow_pull, friction_power
from fireheat.person.measuring import (
    Measured,
    propagated,
    pulled_friction,
    pulled_power,
    simulated,
    tip_pull,
)

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
    with pytest.raises(InputError, match="number of draws is 0"):
        simulated(READ, count=0)
    with pytest.raises(InputError, match="values to draw are 11; allowed: up to 10"):
        simulated({str(number): Measured(1.0, 0.1) for number in range(11)})
