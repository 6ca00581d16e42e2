"""The arm: both laws, the best force, stall, slip and staying power."""

import dataclasses
import math

import numpy as np
import pytest
import sympy
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize

from fireheat import Arm, InputError, Kit
from fireheat.answers.pressing import press
from fireheat.derivation import symbols
from fireheat.derivation.arm import arm_bend, derived_arm_speed, derived_best_pull_fraction
from fireheat.derivation.symbols import SYMBOLS
from fireheat.kit.bowing import cord_slip_pull, friction_power
from fireheat.person.arm import (
    arm_speed,
    arm_speed_linear,
    arms,
    best_pull_fraction,
    ember_inside_hold,
    hold_time,
)
from fireheat.person.limits import best_force, kit_pull, speed_at_force, stall_force, tip_share
from fireheat.quantities import default

EXAMPLES = sorted(arms())
CURVATURE = st.floats(0.05, 20)
ARM = st.builds(
    Arm,
    pull_max=st.floats(20, 300),
    speed_max=st.floats(0.5, 4),
    curvature=CURVATURE,
    law=st.sampled_from(["hill", "linear"]),
)
KIT = st.builds(
    Kit,
    radius=st.floats(0.004, 0.02),
    friction=st.floats(0.1, 0.8),
    contact=st.sampled_from(["uniform_wear", "uniform_pressure"]),
    block_friction=st.floats(0, 0.6),
    block_radius=st.floats(0.002, 0.01),
)


def tip_power(kit, arm, force):
    speed = speed_at_force(kit, arm=arm, force=force)
    sizes = {"radius": kit.radius, "cord_radius": kit.cord_radius}
    return friction_power(force, friction=kit.friction, speed=speed, contact=kit.contact, **sizes)


# ---- against the outside -----------------------------------------------------------------------


def test_hills_optimum_is_at_0_309_of_pull_and_speed_and_a_tenth_of_their_product():
    # McMahon, Muscles, Reflexes, and Locomotion, 1984: kappa 0.25, peak near 0.31 v_max and about
    # a tenth of B_max v_max (from memory); digits from the closed form, which is the golden
    # ratio's half here: (sqrt(5) - 1)/4.
    share = best_pull_fraction(0.25)
    assert share == pytest.approx((math.sqrt(5) - 1) / 4, rel=1e-14)
    speed = arm_speed(share, pull_max=1.0, speed_max=1.0)
    assert speed == pytest.approx(0.309017, abs=5e-7)
    assert share * speed == pytest.approx(0.0954915, abs=5e-8)


def test_more_downward_force_helps_until_it_slows_the_bow():
    # Common practice, no source.
    kit, arm = Kit(), Arm()
    best, stall = best_force(kit, arm=arm), stall_force(kit, arm=arm)
    force = np.concatenate([np.linspace(0.01, 1, 40) * best, np.linspace(best, stall, 40)])
    ember = press(kit, arm=arm, force=force).ember.likely
    # Too little force never makes an ember, nor does too much: finite in between only.
    made = np.flatnonzero(np.isfinite(ember))
    assert np.all(np.diff(made) == 1)
    assert np.isinf(ember[0])
    assert np.isinf(ember[-1])
    assert np.all(np.diff(ember[made[0] : 40]) < 0)
    assert np.all(np.diff(ember[40 : made[-1]]) > 0)


def test_no_example_arm_pulls_harder_than_its_own_elbow_could():
    # Elbow flexion held still: boys of 9.7 years 19.5 N m, men 68.5 N m: "Child-adult differences
    # in muscle strength and activation pattern during isometric elbow flexion and extension",
    # Appl. Physiol. Nutr. Metab. 34 (2009) 609, abstract. Girls 17.0, women 40.5 N m: "Muscle
    # strength and contractile kinetics of isometric elbow flexion in girls and women", Pediatr.
    # Exerc. Sci. 21 (2009) 354, abstract. Elbow to grip: 0.22 m and 0.30 m (no source).
    assert arms()["ten_year_old"].strong.pull_max < 19.5 / 0.22
    assert arms()["adult"].strong.pull_max <= 68.5 / 0.30 * 1.05
    # The child to the adult, within what boys to men and girls to women leave open.
    ratio = arms()["ten_year_old"].pull_max / arms()["adult"].pull_max
    assert 19.5 / 68.5 <= ratio <= 17.0 / 40.5


def test_the_example_teenager_is_between_child_and_adult_and_under_one_elbow_s_strength():
    # Elbow flexors held still at 16 to 19 years: 281 N in boys, 182 N in girls: "Maximal voluntary
    # isometric strength in Danish adolescents 16-19 years of age", PubMed 3830148, abstract seen.
    child, teenager, adult = (arms()[key] for key in ("ten_year_old", "teenager", "adult"))
    assert child.pull_max < teenager.pull_max < adult.pull_max
    assert teenager.strong.pull_max < 182
    assert teenager.weak.pull_max > 182 / 4


def test_no_example_arm_outdoes_half_of_two_cranking_arms():
    # Both arms cranking against 4 % of body mass, 20 adults, best watts 546 +- 267: "A comparison
    # of two anaerobic test measurement systems using an upper body Wingate test", Res. Sports Med.
    # 22 (2014) 265, abstract.
    strong = arms()["adult"].strong
    most = strong.best_pull * strong.speed(strong.best_pull)
    assert 0.1 * 546 / 2 < most < 546 / 2


def test_no_example_arm_keeps_up_what_two_legs_do_nor_moves_faster_than_a_champion_rower():
    # Legs: critical power 189 to 194 W in 20 young men: "Critical power can be estimated from
    # nonexhaustive tests", J. Strength Cond. Res. 22 (2008) 937, abstract. Rowers: 3.80 m/s, the
    # peak of the best of 81 men: "Peak force, velocity, and power during five and ten maximal
    # rowing ergometer strokes by world class female and male rowers", Int. J. Sports Med.,
    # abstract. An arm has well under half a leg's muscle (no source).
    strongest = [example.strong for example in arms().values()]
    assert max(arm.critical_power for arm in strongest) < 189 / 2 / 2
    assert max(arm.speed_max for arm in strongest) < 3.80


# ---- sympy and the optimiser agree ---------------------------------------------------------------


def test_both_speeds_and_the_best_pull_are_the_derived_ones():
    x, kappa = symbols.x, SYMBOLS["curvature"]
    pull, curvature = np.meshgrid(np.linspace(0, 1, 41), np.geomspace(0.05, 20, 21))
    hill = sympy.lambdify([x, kappa], derived_arm_speed("hill"))(pull, curvature)
    model = arm_speed(100 * pull, pull_max=100.0, speed_max=2.0, curvature=curvature)
    np.testing.assert_allclose(model, 2 * hill, atol=1e-14)
    line = sympy.lambdify(x, derived_arm_speed("linear"))(pull)
    model = arm_speed_linear(100 * pull, pull_max=100.0, speed_max=2.0)
    np.testing.assert_allclose(model, 2 * line, atol=1e-14)
    best = sympy.lambdify(kappa, derived_best_pull_fraction("hill"))(curvature)
    np.testing.assert_allclose(best_pull_fraction(curvature), best, rtol=1e-13)


def test_sympy_finds_both_best_pulls_and_that_they_are_tops():
    kappa = SYMBOLS["curvature"]
    written = sympy.sqrt(kappa**2 + kappa) - kappa
    assert sympy.simplify(derived_best_pull_fraction("hill") - written) == 0
    assert derived_best_pull_fraction("linear") == sympy.Rational(1, 2)
    for law in ("hill", "linear"):
        assert arm_bend(law).is_negative
    assert sympy.simplify(arm_bend("hill") + 2 * sympy.sqrt(kappa / (kappa + 1))) == 0


@given(KIT, ARM)
def test_the_best_force_is_what_an_optimiser_finds(kit, arm):
    stall = stall_force(kit, arm=arm)
    found = optimize.minimize_scalar(
        lambda share: -tip_power(kit, arm, share * stall),
        bounds=(0, 1),
        method="bounded",
        options={"xatol": 1e-9},
    )
    assert found.x * stall == pytest.approx(best_force(kit, arm=arm), rel=1e-4)
    assert -found.fun == pytest.approx(tip_power(kit, arm, best_force(kit, arm=arm)), rel=1e-9)


@pytest.mark.parametrize("key", EXAMPLES)
def test_the_embers_valley_lies_over_the_peak_of_the_watts(key):
    kit, arm = Kit(), arms()[key]
    stall = stall_force(kit, arm=arm)
    found = optimize.minimize_scalar(
        lambda force: press(kit, arm=arm, force=force).ember.likely,
        bounds=(0.05 * stall, 0.95 * stall),
    )
    assert found.x == pytest.approx(best_force(kit, arm=arm), rel=1e-3)


# ---- limits ------------------------------------------------------------------------------------


@given(ARM)
def test_with_nothing_to_pull_the_bow_is_free_and_at_the_hardest_pull_it_stands(arm):
    assert arm.speed(0.0) == pytest.approx(arm.speed_max, rel=1e-12)
    assert arm.speed(arm.pull_max) == 0
    assert arm.speed(2 * arm.pull_max) == 0


@given(KIT, ARM)
def test_no_force_and_stalling_force_both_mean_never(kit, arm):
    run = press(kit, arm=arm, force=np.array([0.0, 1.001 * stall_force(kit, arm=arm)]))
    assert np.all(run.power == 0)
    assert np.all(np.isinf(run.ember))
    assert not np.any(run.inside)
    assert run.speed[0] == pytest.approx(arm.speed_max, rel=1e-12)


@given(KIT, ARM)
def test_at_the_stalling_force_itself_the_bow_stands(kit, arm):
    # A sweep of one: some of these kits need more than anybody's force, which alone is refused.
    run = press(kit, arm=arm, force=np.array([stall_force(kit, arm=arm)]))
    assert run.speed[0] == run.power[0] == 0
    assert run.bound[0] == np.inf


def test_no_forces_give_no_results():
    run = press(Kit(), arm=Arm(), force=[])
    assert run.speed.shape == run.hold.shape == run.bound.shape == (0,)
    assert np.shape(run.smoke) == np.shape(run.ember) == np.shape(run.inside) == (3, 0)


def test_a_large_kappa_is_the_straight_line():
    pull = np.linspace(0, 100, 21)
    ends = {"pull_max": 100.0, "speed_max": 2.0}
    hill = arm_speed(pull, curvature=1e9, **ends)
    np.testing.assert_allclose(hill, arm_speed_linear(pull, **ends), rtol=1e-8)
    assert best_pull_fraction(1e9) == pytest.approx(0.5, abs=1e-9)


@given(st.floats(0.001, 1), CURVATURE)
def test_hills_law_is_the_same_with_pull_and_speed_exchanged(share, curvature):
    ends = {"pull_max": 1.0, "speed_max": 1.0, "curvature": curvature}
    assert arm_speed(arm_speed(share, **ends), **ends) == pytest.approx(share, rel=1e-9)


def test_the_valley_is_lopsided():
    # Half the best force costs less time than twice the best force.
    kit, arm = Kit(), Arm()
    best = best_force(kit, arm=arm)
    half, now, twice = press(kit, arm=arm, force=best * np.array([0.5, 1.0, 2.0])).ember.likely
    assert now < half < twice


# ---- block and cord ------------------------------------------------------------------------------


def test_what_a_better_block_buys_is_the_ratio_of_the_tips_shares():
    arm, dry, greased = Arm(), Kit(block_friction=0.4), Kit(block_friction=0.05)
    best = [tip_power(kit, arm, best_force(kit, arm=arm)) for kit in (dry, greased)]
    assert best[1] / best[0] == pytest.approx(tip_share(greased) / tip_share(dry), rel=1e-12)
    assert tip_share(Kit(block_friction=0.0)) == 1
    assert tip_share(Kit(block_radius=0.002)) > tip_share(Kit(block_radius=0.006))


def test_a_thicker_hub_for_the_cord_lightens_the_pull_but_not_the_tips_share():
    kit = Kit(cord_radius=2 * Kit().radius)  # twice the tip's
    assert kit_pull(kit, force=60.0) == pytest.approx(kit_pull(Kit(), force=60.0) / 2)
    assert tip_share(kit) == pytest.approx(tip_share(Kit()))


def test_the_shares_of_pull_by_hand():
    # Worn tip: 0.35/2 of the force. Block: 2/3 x 0.15 x 4 mm over a 6.5 mm cord radius.
    kit = Kit(radius=0.0065, friction=0.35, block_friction=0.15, block_radius=0.004)
    block = 2 / 3 * 0.15 * 4 / 6.5
    assert kit_pull(kit, force=100.0) == pytest.approx(17.5 + 100 * block, rel=1e-12)
    assert tip_share(kit) == pytest.approx(0.175 / (0.175 + block), rel=1e-12)


def test_a_slipping_cord_is_a_reason_of_its_own_to_stop():
    kit, arm = Kit(), Arm()
    slip = cord_slip_pull(
        2.0, cord_friction=default("cord_friction"), wrap_angle=default("wrap_angle")
    )
    assert slip < arm.best_pull
    edge = best_force(kit, arm=arm, slip_pull=slip)
    assert edge < best_force(kit, arm=arm)
    assert edge == stall_force(kit, arm=arm, slip_pull=slip)
    assert kit_pull(kit, force=edge) == pytest.approx(slip)
    assert speed_at_force(kit, arm=arm, force=0.999 * edge, slip_pull=slip) > 0.5
    assert speed_at_force(kit, arm=arm, force=1.001 * edge, slip_pull=slip) == 0
    run = press(kit, arm=arm, force=1.001 * edge, slip_pull=slip)
    assert np.all(np.isinf(run.ember))
    # A cord tight enough leaves the arm's own limit.
    assert best_force(kit, arm=arm, slip_pull=1e3) == best_force(kit, arm=arm)


@given(KIT, ARM, st.floats(0.05, 0.95))
def test_at_its_best_force_a_cord_about_to_slip_still_turns_the_spindle(kit, arm, share):
    slip = share * arm.best_pull
    edge = best_force(kit, arm=arm, slip_pull=slip)
    assert speed_at_force(kit, arm=arm, force=edge, slip_pull=slip) == pytest.approx(
        arm.speed(slip)
    )
    assert press(kit, arm=arm, force=np.array([edge]), slip_pull=slip).power[0] > 0
    assert speed_at_force(kit, arm=arm, force=edge * (1 + 1e-9), slip_pull=slip) == 0


def test_a_kit_without_friction_has_no_best_force():
    with pytest.raises(InputError, match="no friction"):
        best_force(Kit(friction=0.0, block_friction=0.0), arm=Arm())


# ---- staying power -------------------------------------------------------------------------------


def test_hold_time_is_the_work_over_the_excess_and_endless_without_one():
    power = np.array([0.0, 14.0, 15.0, 24.0])
    found = hold_time(power, critical_power=14.0, work_above=1000.0)
    np.testing.assert_array_equal(found, [np.inf, np.inf, 1000.0, 100.0])


@given(st.floats(0.1, 200), st.floats(0, 100), st.floats(1, 1e4))
def test_exactly_the_work_above_is_spent_in_the_hold_time(excess, critical_power, work_above):
    held = hold_time(critical_power + excess, critical_power=critical_power, work_above=work_above)
    assert held * excess == pytest.approx(work_above, rel=1e-9)


def test_an_ember_that_never_comes_is_never_in_time():
    ends = {"critical_power": 14.0, "work_above": 1000.0}
    time = np.array([99.0, 101.0, np.inf])
    np.testing.assert_array_equal(ember_inside_hold(time, power=24.0, **ends), [True, False, False])
    np.testing.assert_array_equal(ember_inside_hold(time, power=1.0, **ends), [True, True, False])
    for wrong in (np.nan, -1.0, -np.inf, [np.inf, np.nan], "x", None):
        with pytest.raises(InputError, match="time"):
            ember_inside_hold(wrong, power=1.0, **ends)


def test_the_arms_power_is_the_tips_heat_and_the_blocks():
    kit, arm = Kit(), Arm()
    run = press(kit, arm=arm, force=np.linspace(5, 400, 20))
    np.testing.assert_allclose(run.power / run.arm_power, tip_share(kit), rtol=1e-12)
    np.testing.assert_allclose(run.arm_power, run.pull * run.speed, rtol=1e-12)


# ---- what a reader meets -------------------------------------------------------------------------


@pytest.mark.parametrize("key", EXAMPLES)
def test_the_example_arms_are_labelled_assumptions_with_a_range(key):
    example = arms()[key]
    assert example.status == "assumption"
    assert example.source.startswith("invented")
    for field in ("pull_max", "speed_max", "critical_power", "work_above"):
        low, likely, high = (getattr(arm, field) for arm in (example.weak, example, example.strong))
        assert low < likely < high


def test_the_default_arm_is_the_teenager():
    same = [field.name for field in dataclasses.fields(Arm)]
    teenager = arms()["teenager"]
    assert {name: getattr(teenager, name) for name in same} == vars(Arm())


def test_the_teenager_bows_the_ordinary_kit_as_an_ordinary_effort_says():
    speed = speed_at_force(Kit(), arm=arms()["teenager"], force=default("force"))
    assert speed == pytest.approx(default("speed"), abs=0.005)
    assert press(Kit(), arm=Arm(), force=60.0).power == pytest.approx(10.5, abs=0.05)


def test_from_a_tired_beginner_to_an_adult_every_arm_is_stronger_and_quicker():
    order = [arms()[key] for key in ("tired_beginner", "ten_year_old", "teenager", "adult")]
    for field in ("pull_max", "speed_max", "critical_power", "work_above"):
        for arms_of in (
            [arm.weak for arm in order], order, [arm.strong for arm in order],
        ):  # fmt: skip
            values = [getattr(arm, field) for arm in arms_of]
            assert values == sorted(values), field


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"pull_max": 0.0}, "hardest pull is 0 N; allowed: 5 to 500 N"),
        ({"speed_max": 50.0}, "bow speed with nothing to pull is 50 m/s"),
        ({"curvature": -0.25}, "curvature of the arm's law is -0.25"),
        ({"critical_power": np.nan}, "power that can be kept up is nan W"),
        ({"law": "cubic"}, "law is 'cubic'; allowed: hill, linear"),
    ],
)
def test_an_arm_that_cannot_be_is_refused_in_words(fields, words):
    with pytest.raises(InputError, match=words):
        Arm(**fields)


@pytest.mark.parametrize("wrong", [-1.0, np.nan, np.inf, "ten"])
def test_a_pull_that_cannot_be_is_refused(wrong):
    with pytest.raises(InputError, match="bow pull"):
        arm_speed(wrong, pull_max=100.0, speed_max=2.0)


def test_arrays_and_numbers_give_the_same():
    kit, arm, force = Kit(), Arm(), np.array([[0.0, 30.0], [120.0, 900.0]])
    many = speed_at_force(kit, arm=arm, force=force, slip_pull=60.0)
    one = [
        [speed_at_force(kit, arm=arm, force=value, slip_pull=60.0) for value in row]
        for row in force
    ]
    np.testing.assert_array_equal(many, one)
    assert isinstance(one[0][0], float)
