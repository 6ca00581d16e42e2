"""The panel of one arm and one kit, and the valley behind it."""

import re

import numpy as np
import pytest

from fireheat import Air, Arm, InputError, Kit
from fireheat.arm import arms
from fireheat.bowing import best_force, stall_force
from fireheat.figures.press_curve import watts_axis
from fireheat.panels import PressAndSpeed
from fireheat.pressing import press, valley


@pytest.fixture
def panel():
    return PressAndSpeed()


def test_the_watts_peak_at_the_best_force_of_the_sweep():
    found = valley(Kit(), Arm(), Air(), 60.0, 500.0)
    peak = found.sweep.force[np.argmax(found.sweep.power)]
    assert peak == pytest.approx(found.best, abs=5)
    assert found.best == pytest.approx(best_force(Kit(), Arm()))


def test_below_the_best_force_more_is_sooner_and_above_it_less_is():
    """More force helps until it slows the bow: common practice, no source."""
    soft, hard = (valley(Kit(), Arm(), Air(), force, 500.0) for force in (40.0, 300.0))
    assert soft.firmer.ember[1] < soft.now.ember[1] < soft.softer.ember[1]
    assert hard.softer.ember[1] < hard.now.ember[1] < hard.firmer.ember[1]


def test_a_sweep_goes_right_up_to_the_cliff_where_the_cord_slips():
    found = valley(Kit(), Arm(), Air(), 60.0, 30.0)
    assert found.slips
    assert found.stall == pytest.approx(stall_force(Kit(), Arm(), slip_pull=30.0))
    moving = found.sweep.force[found.sweep.speed > 0]
    assert moving.max() == pytest.approx(found.stall, rel=1e-6)
    assert found.sweep.speed[found.sweep.force == moving.max()] > 0.5


def test_small_steps_up_end_within_a_step_of_the_best_force():
    force, kit, arm = 20.0, Kit(), Arm()
    while press(kit, arm, force=1.05 * force).power > press(kit, arm, force=force).power:
        force *= 1.05
    assert force == pytest.approx(best_force(kit, arm), rel=0.06)


def test_pressing_past_the_stall_is_never(panel):
    sentence = panel.set(force=300.0)
    assert "never an ember" in sentence
    assert "but there is never an ember" in panel.face.value
    assert "press less" in panel.control["force"].effect.value


def test_too_soft_is_never_too_but_nobody_is_told_to_press_less():
    panel = PressAndSpeed(Kit(radius=0.0125), arm="tired_beginner")
    assert "never" in panel.set(force=10.0)
    assert "worth it" in panel.control["force"].effect.value


def test_the_line_under_the_force_changes_its_mind_at_the_best_force(panel):
    panel.set(slack_tension=30.0)
    best = stall_and_best(panel)[1]
    for share, words in ((0.8, "worth it"), (0.955, "at the top"), (1.2, "ease off")):
        panel.set(force=share * best)
        assert words in panel.control["force"].effect.value


def test_a_weak_and_a_strong_arm_of_a_kind_lie_on_both_sides_of_a_middling_one(panel):
    best = {}
    for kind in ("weak", "likely", "strong"):
        panel.set(kind=kind, slack_tension=30.0)
        best[kind] = stall_and_best(panel)[1]
    assert best["weak"] < best["likely"] < best["strong"]


def test_a_finer_point_sends_more_to_the_tip(panel):
    blunt, fine = panel.set(block_radius=0.006), panel.set(block_radius=0.001)
    assert watts(fine) > watts(blunt)


@pytest.mark.parametrize("who", list(arms()))
@pytest.mark.parametrize("kind", ["weak", "likely", "strong"])
@pytest.mark.parametrize("law", ["hill", "linear"])
def test_no_arm_runs_off_the_axis_of_watts(panel, who, kind, law):
    panel.set(arm=who, kind=kind, law=law, block_friction=0.02, slack_tension=30.0)
    most = valley_of(panel).sweep.power.max()
    assert most <= watts_axis(most)


def valley_of(panel):
    return panel.answer(panel.state)[-1]


def stall_and_best(panel):
    found = valley_of(panel)
    return found.stall, found.best


def watts(sentence):
    return float(re.search(r"([\d.]+) W", sentence).group(1))


def test_a_loose_cord_slips_before_the_arm_stalls(panel):
    panel.set(slack_tension=4.0)
    words = panel.control["slack_tension"].effect.value
    assert "the cord slips" in words
    slips = stall_force(Kit(), arms()["teenager"], slip_pull=4.0 * np.expm1(0.3 * 2 * np.pi))
    assert f"{slips:.0f} N" in words


def test_a_tight_cord_lets_the_arm_stall_first(panel):
    panel.set(arm="tired_beginner", slack_tension=30.0)
    assert "the arm stalls" in panel.control["slack_tension"].effect.value


def test_grease_sends_more_of_the_arms_watts_to_the_tip(panel):
    share = []
    for friction in (0.3, 0.05):
        panel.set(block_friction=friction)
        share.append(float(panel.control["block_friction"].effect.value.partition("%")[0]))
    assert share[1] > share[0] + 10


def test_a_tired_beginner_is_spent_too_soon_at_the_best_force_but_not_at_a_gentler_one(panel):
    beginner = arms()["tired_beginner"]
    hard, soft = (press(Kit(), beginner, force=force) for force in (65.0, 35.0))
    assert not hard.inside[1]
    assert soft.inside[1]
    panel.set(arm="tired_beginner", force=65.0, slack_tension=30.0)
    assert "the ember comes too late" in panel.face.value or "may come" in panel.face.value


def test_the_two_laws_have_their_own_best_force(panel):
    hill = panel.sentence()
    straight = panel.set(law="linear")
    assert hill.split("Most watts")[1] != straight.split("Most watts")[1]


def test_units_change_words_and_not_the_state(panel):
    state = panel.state
    panel.units.value = "us"
    assert panel.state == pytest.approx(state)
    assert "lbf" in panel.sentence()
    assert "ft/s" in panel.sentence()


def test_a_pin_stays_and_is_told(panel):
    panel.pin()
    assert "Pinned: Pressing with 60 N" in panel.set(force=100.0)


def test_the_picture_says_what_the_sentence_says(panel):
    assert panel.sentence() in panel.face.value.replace("&#x27;", "'")


def test_a_force_that_cannot_be_is_refused_and_nothing_moves(panel):
    before = panel.sentence()
    with pytest.raises(InputError, match="downward force"):
        panel.set(force=-5.0)
    assert panel.sentence() == before
