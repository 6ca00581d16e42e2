"""What tries tell of the physics, how many more are worth it, and in which order to make them."""

from itertools import pairwise

import numpy as np
import pytest
from scipy.stats import linregress

from fireheat.estimates import times
from fireheat.kit.kit import Try
from fireheat.trials.exponents import club_exponents, depth_power, physics_exponent
from fireheat.trials.fit import TooFewTriesError
from fireheat.trials.plan import chance_to_tell, plan, running_order, simulated_chance
from fireheat.trials.wrong_ways import three_ways, which_way_errs

# ---- powers --------------------------------------------------------------------------------------


def evening(count, *, seed, patience=150.0, **off):
    """Tries with settings by lot, timed by the march, with luck; some settings turned around."""
    dice = np.random.default_rng(seed)
    settings = {
        "diameter": dice.choice([0.011, 0.014, 0.018], count),
        "force": dice.choice([45.0, 60.0, 80.0], count),
    }
    asked = {name: column ** off.get(name, 1) for name, column in settings.items()}
    for name in off:  # the same middle, the other way round
        asked[name] *= np.exp(2 * np.mean(np.log(settings[name])))
    made = times(Try(), **asked).ember.likely * np.exp(dice.normal(0, 0.25, count))
    return np.minimum(made, patience), made <= patience, settings


def test_tries_timed_by_the_model_agree_with_it():
    seconds, observed, settings = evening(24, seed=5)
    assert 0 < np.sum(~observed) < 12
    found = club_exponents(seconds, observed=observed, settings=settings)
    assert found.disagree == ()
    assert found.powers["diameter"].found > 1
    assert -3 < found.powers["force"].found < -0.8
    assert found.middle.kit.diameter == pytest.approx(np.exp(np.log(settings["diameter"]).mean()))


@pytest.mark.parametrize("turned", ["diameter", "force"])
def test_a_power_of_the_wrong_sign_is_announced(turned):
    seconds, observed, settings = evening(24, seed=5, **{turned: -1})
    found = club_exponents(seconds, observed=observed, settings=settings)
    assert found.disagree == (turned,)


def test_the_likely_power_of_physics_is_the_slope_of_its_times():
    force = np.linspace(50, 70, 9)
    line = linregress(np.log(force), np.log(times(Try(), force=force).ember.likely))
    band = physics_exponent("force", state=Try())
    assert band.likely == pytest.approx(line.slope, abs=0.05)
    assert band.low < band.likely < band.high < -1


def test_settings_too_near_to_tell_a_power_say_so():
    near = {"force": [60.0, 61.0, 62.0, 60.0, 61.0, 62.0]}
    with pytest.raises(TooFewTriesError, match="nearly the same downward force"):
        club_exponents([20, 22, 31, 25, 27, 24], observed=[True] * 6, settings=near)


def test_grams_and_millimetres_tell_the_same_power():
    wide = np.array([0.008, 0.008, 0.012, 0.012, 0.02, 0.02])
    deep = 0.004 * (wide / 0.012) ** -1.3 * np.array([1.1, 0.9, 1.05, 0.95, 1.0, 1.0])
    by_depth = depth_power(wide, worn=deep)
    by_mass = depth_power(wide, worn=320 * np.pi * wide**2 / 4 * deep, measured="dust_mass")
    assert by_depth.found == pytest.approx(1.3, abs=0.05)
    assert list(by_mass.interval) == pytest.approx(list(by_depth.interval))
    assert by_depth.interval.high - by_depth.interval.low < 0.6


@pytest.mark.parametrize("wide", [[0.01] * 6, [0.01, 0.02]])
def test_worn_wood_of_one_diameter_or_of_two_embers_tells_no_power(wide):
    with pytest.raises(TooFewTriesError):
        depth_power(wide, worn=np.linspace(0.003, 0.004, len(wide)))


# ---- wrong ways ----------------------------------------------------------------------------------

SIDES = {"diameter": np.log([0.7, 1.4] * 8)}


def test_both_wrong_ways_make_a_cause_weaker_and_slow_kits_quicker():
    found = which_way_errs(SIDES, exponents={"diameter": 2.0}, time=60.0, give_up=100.0)
    right, *wrong = found.values()
    assert abs(right.exponents["diameter"]) < 0.12
    assert right.time_ratio == pytest.approx(1, abs=0.03)
    for way in wrong:
        assert way.exponents["diameter"] < -0.3
        assert way.time_ratio < 0.9
        assert way.scatter_ratio < right.scatter_ratio


def test_three_ways_of_one_evening_differ_only_where_some_were_given_up():
    seconds = [22, 31, 26, 95, 80, 120]
    given = {"design": {"diameter": np.log([1, 1, 1, 2, 2, 2])}}
    same = three_ways(seconds, observed=[True] * 6, **given)
    assert len({round(fit.coefficients["diameter"], 6) for fit in same.values()}) == 1
    fits = three_ways(seconds, observed=[True] * 5 + [False], **given)
    powers = [fit.coefficients["diameter"] for fit in fits.values()]
    assert powers[0] > max(powers[1:])


# ---- plans ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ratio", "tries", "time", "scatter", "give_up"),
    [
        (2.0, 4, 30.0, 0.35, 120.0),
        (1.5, 12, 30.0, 0.35, 60.0),
        (0.5, 8, 80.0, 0.35, 90.0),
        (1.5, 16, 60.0, 0.5, 75.0),
        (3.0, 10, 60.0, 0.5, 120.0),
        (4.0, 6, 60.0, 0.35, 90.0),  # hardly an ember on the slow side
        (1.6, 10, 40.0, 0.4, None),
    ],
)
def test_the_chance_by_formula_is_that_of_many_evenings(ratio, tries, time, scatter, give_up):
    given = {"tries_a_side": tries, "time": time, "scatter": scatter, "give_up": give_up}
    by_luck = simulated_chance(ratio, count=1500, **given)
    assert chance_to_tell(ratio, **given) == pytest.approx(by_luck, abs=0.04)


def test_a_plan_has_the_fewest_tries_with_the_chance_that_is_asked_for():
    found = plan(2.0, time=60.0, give_up=120.0, chance=0.8)
    given = {"time": 60.0, "give_up": 120.0}
    assert found.chance == chance_to_tell(2.0, tries_a_side=found.tries_a_side, **given) >= 0.8
    assert chance_to_tell(2.0, tries_a_side=found.tries_a_side - 1, **given) < 0.8
    quick, slow = found.embers
    assert slow == pytest.approx(found.tries_a_side / 2)  # half are slower than their middle
    assert quick == pytest.approx(0.976 * found.tries_a_side, abs=0.01)
    patient = plan(1.5, time=60.0, give_up=None).tries_a_side
    assert patient < plan(1.5, time=60.0, give_up=75.0).tries_a_side


def test_in_a_running_order_each_round_has_all_and_each_learner_meets_all():
    settings, learners = ["thick", "thin", "light"], ["L01", "L02", "L03"]
    order = running_order(settings, rounds=6, learners=learners, seed=2)
    assert [turn.number for turn in order] == list(range(1, 19))
    for round_ in range(1, 7):
        assert {turn.setting for turn in order if turn.round == round_} == set(settings)
    met = {(turn.setting, turn.learner) for turn in order}
    assert len(met) == 9
    assert sum(a.learner == b.learner for a, b in pairwise(order)) <= 2
    assert order == running_order(settings, rounds=6, learners=learners, seed=2)
    assert order != running_order(settings, rounds=6, learners=learners, seed=3)


def test_practice_does_not_pass_for_physics_in_a_running_order():
    """Each turn is a fiftieth quicker than the one before; the two settings are alike."""
    effects = []
    for seed in range(200):
        order = running_order(["thick", "thin"], rounds=8, learners=["L01", "L02"], seed=seed)
        gain = {"thick": 0.0, "thin": 0.0}
        for turn in order:
            gain[turn.setting] -= 0.02 * turn.number / 8
        effects.append(gain["thin"] - gain["thick"])
    assert abs(np.mean(effects)) < 0.005
    assert np.abs(effects).max() < 0.03
    one_after_the_other = 0.02 * 8  # all thick ones first
    assert one_after_the_other > 5 * np.abs(effects).max()
