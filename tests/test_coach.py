"""One learner: single changes, the beat, and the minute after first smoke."""

import re
from functools import partial

import numpy as np
import pytest
from oracles.coach import pull_of, savings, some_learners
from oracles.outcomes import followed, kits, thrown
from scipy import stats
from test_paths import GRADE, grade

import fireheat.coach.offers as module
from fireheat import Arm, Effort, InputError, Kit, Try, compare, estimate
from fireheat.coach.learner import Learner
from fireheat.coach.moves import advice
from fireheat.coach.offers import offers
from fireheat.coach.pace import pace
from fireheat.coach.smoke_now import after_smoke
from fireheat.constants import constant
from fireheat.data import table
from fireheat.kit.strength import bending_strength, spindle_stress
from fireheat.person.arm import arms
from fireheat.spread import drawn_case, even_shares, settable, spread
from fireheat.texts import in_units
from fireheat.unknowns import unknown

STRONG = Learner(arm=arms()["adult"])  # bows at the ordinary beat with strength to spare
SPENT = Learner(arm=Arm(critical_power=5.0, work_above=300.0)).changed(force=80.0, speed=0.85)


def by_key(listed):
    return {one.key: one for one in listed}


# ---- what to change -----------------------------------------------------------------------------


def test_moves_are_ranked_as_a_plain_loop_over_the_estimate_ranks_them():
    ranked = 0
    for learner in some_learners(30, seed=7):
        found = [move for move in advice(learner, draws=20).moves if move.key != "thinnest"]
        _, expected = savings(learner)
        # A march of many goes by its own steps: so near are the two.
        near = pytest.approx(expected, rel=1e-4)
        assert {move.key: move.ember.likely for move in found} == near
        times = [expected[move.key] for move in found]
        assert times == pytest.approx(sorted(times), rel=1e-4)
        ranked += len(found) > 1
    assert ranked > 12


def test_times_and_savings_are_those_of_the_same_draws_as_elsewhere():
    found, now = advice(STRONG), STRONG.state
    moves = by_key(found.moves)
    assert found.now == pytest.approx(spread(now, draws=128).all, rel=5e-3)
    firmer = spread(moves["firmer"].then.state, draws=128).all
    assert moves["firmer"].ember == pytest.approx(firmer, rel=5e-3)
    for key, other in {
        "firmer": now.changed(force=66.0),
        "drier": now.changed(moisture=0.07),
        "thinner": now.changed(diameter=0.014),
    }.items():
        assert moves[key].ratio == pytest.approx(compare(now, other, draws=128), rel=2e-3)
    assert moves["firmer"].saved.likely == pytest.approx(
        estimate().ember.likely - estimate(effort=Effort(force=66.0)).ember.likely, rel=1e-3
    )


def test_pressing_harder_helps_below_the_best_force_and_costs_beyond_it():
    gentle, hard = (advice(Learner().changed(force=force, speed=2.0)) for force in (60.0, 160.0))
    assert by_key(gentle.moves)["firmer"].saved.low > 0
    assert "would cost" in by_key(hard.refused)["firmer"].why
    assert by_key(hard.moves)["lighter"].saved.likely > 0
    then = by_key(gentle.moves)["firmer"].then
    assert then.state.effort.speed == pytest.approx(then.most_speed)  # no quicker than the arm


def test_grease_saves_time_only_for_an_arm_at_its_limit():
    at_limit, spare = advice(Learner()), advice(STRONG)
    assert by_key(at_limit.moves)["grease"].saved.low > 0
    before, after = pull_of(Kit(), 60.0), pull_of(Kit(block_friction=0.08), 60.0)
    words = in_units(by_key(spare.asides)["grease"].why)
    assert f"{before:.0f} N to {after:.0f} N" in words
    assert "saves no time" in words


@pytest.mark.parametrize("learner", [Learner(), STRONG, SPENT, Learner(slip_pull=12.0)])
def test_what_changes_no_time_is_never_ranked_as_a_saving(learner):
    found = advice(learner)
    assert {"catcher", "rest"} <= set(by_key(found.asides))
    assert all(move.saved.likely > 0.005 * found.now.likely for move in found.moves)


def test_what_is_not_ranked_stands_in_the_order_of_the_table():
    found, order = advice(STRONG), list(table("moves")["moves"])
    assert [one.key for one in found.asides] == ["grease", "rest", "catcher"]
    assert [one.key for one in found.refused] == ["lighter", "slower"]
    refused = list(by_key(advice(Learner(slip_pull=12.0)).refused))
    assert refused[:2] == ["thinner", "beat"]
    assert refused == sorted(refused, key=order.index)


def test_changes_that_make_the_same_watts_share_a_place():
    ranks = {move.key: move.rank for move in advice(STRONG).moves}
    assert ranks == {"thinner": 1, "beat": 2, "firmer": 2, "drier": 4}
    assert advice(STRONG).tied == ()
    deep = Learner(state=Try(Kit(burn_in_depth=0.019)))
    assert advice(deep).tied == ("grease", "drier")


REFUSED = [  # a learner, what is refused, and which limit with which number is named
    (Learner(), "beat", "120 strokes a minute at most"),
    (Learner(slip_pull=13.6), "firmer", "slips at a pull of 14 N"),
    (Learner().changed(force=440.0, speed=1.0), "firmer", "this arm gives 100 N"),
    (Learner(slip_pull=150.0).changed(force=440.0, speed=1.0), "firmer", "this arm gives 100 N"),
    (Learner(slip_pull=10.0), "lighter", "turns up to a press of 44 N"),
    (Learner().changed(diameter=0.008), "thinner", "the thinnest of the usual sizes"),
    (
        Learner().changed(diameter=0.01),
        "thinner",
        "too weak. This press and pull make 35 %",
    ),
    (Learner().changed(diameter=0.01), "thinner", "we stop at 33 %"),
    (Learner(state=Try(Kit(dust_mass=2e-5))), "thinner", "needs about 0.03 g"),
    (Learner(state=Try(Kit(burn_in_depth=0.019))), "thinner", "more than 20 mm"),
    (Learner(state=Try(Kit(block_friction=0.08))), "grease", "as slippery as a greased one"),
    (Learner(state=Try(Kit(moisture=0.07))), "drier", "7 % water"),
    (STRONG, "lighter", "not at its limit"),
    (SPENT, "slower", "spent before the ember"),
]


@pytest.mark.parametrize(("learner", "key", "words"), REFUSED)
def test_what_is_past_a_limit_is_refused_with_the_limit(learner, key, words):
    refused = by_key(advice(learner, draws=20).refused)[key]
    assert words in in_units(refused.why)
    assert "{" not in in_units(refused.why, "us")


def test_the_next_size_is_one_that_an_eye_can_tell_and_a_bow_that_crawls_has_no_beat():
    for diameter, size in ((0.0126, 0.010), (0.0127, 0.012)):
        thinner = offers(STRONG.changed(diameter=diameter))["thinner"]
        assert thinner.state.kit.diameter == size
    crawls, barely = (offers(STRONG.changed(speed=s * 0.5 / 60))["beat"] for s in (0.90, 0.92))
    assert crawls.reason == "still"
    assert barely.strokes_per_minute > 1.0


def test_a_thinner_spindle_than_people_use_is_refused(monkeypatch):
    monkeypatch.setattr(
        module, "constant", lambda key: [0.006] if key == "move_sizes" else constant(key)
    )
    why = by_key(advice(Learner().changed(diameter=0.008), draws=20).refused)["thinner"].why
    assert "We stop at 8 mm" in in_units(why)


def test_what_saves_time_beyond_the_arms_hold_is_marked():
    found = advice(SPENT)
    assert not found.in_time
    marks = {move.key: move.in_time for move in found.moves}
    assert marks == {
        move.key: move.ember.likely <= min(move.then.hold, 300.0) for move in found.moves
    }
    assert set(marks.values()) == {True, False}
    assert found.moves[0].key == "thinnest"  # a step is not enough, so it may be more than one


def test_a_slower_beat_helps_where_the_arm_is_spent_too_soon():
    tiring = Learner(arm=Arm(critical_power=8.0, work_above=300.0))
    found = advice(tiring)
    slower = by_key(found.asides)["slower"]
    now, then = (estimate(effort=Effort(speed=share * tiring.most_speed)) for share in (1.0, 0.9))
    assert tiring.hold < now.ember.likely
    assert tiring.changed(speed=0.9 * tiring.most_speed).hold > then.ember.likely
    assert slower.in_time
    later = then.ember.likely - now.ember.likely
    assert f"{later:.0f} s longer" in slower.why or f"{later:.1f} s longer" in slower.why


def test_who_is_said_to_bow_quicker_than_the_arm_can_is_taken_at_the_arms_speed():
    learner = Learner().changed(force=120.0)
    assert advice(learner).learner.state.effort.speed == learner.most_speed < 1.0


def test_a_learner_of_something_else_is_refused():
    for ask in (advice, pace, lambda learner: after_smoke(learner, smoke_time=9.0, elapsed=9.0)):
        with pytest.raises(InputError, match="learner is 'L01'"):
            ask("L01")
    with pytest.raises(InputError, match=r"elapsed is 10 s; allowed: from first smoke, 12 s, on"):
        after_smoke(Learner(), smoke_time=12.0, elapsed=10.0)


# ---- how thin a spindle may be ------------------------------------------------------------------


def bent_by_differences(pull, *, force, diameter, spindle_length, stiffness, cells=200):
    """Most stress of a strut with a load in its middle, by differences: Y I y'' + F y = -M."""
    x = np.linspace(0.0, spindle_length, cells + 1)[1:-1]
    inertia, step = np.pi * diameter**4 / 64, spindle_length / cells
    curved = np.diag(np.full(cells - 2, 1.0), 1) + np.diag(np.full(cells - 2, 1.0), -1)
    curved -= 2 * np.eye(cells - 1)
    left = stiffness * inertia * curved / step**2 + force * np.eye(cells - 1)
    moment = pull * np.minimum(x, spindle_length - x) / 2
    sideways = np.linalg.solve(left, -moment)
    most = np.max(moment + force * sideways)
    return force / (np.pi * diameter**2 / 4) + most * diameter / 2 / inertia


@pytest.mark.parametrize("diameter", [0.0055, 0.008, 0.016])
def test_the_stress_of_a_spindle_is_that_of_a_strut_bent_step_by_step(diameter):
    given = {"force": 60.0, "diameter": diameter, "spindle_length": 0.15}
    stiffness = 2.8e6 * 6894.757 * 0.32
    expected = bent_by_differences(13.5, **given, stiffness=stiffness)
    assert spindle_stress(13.5, **given, specific_gravity=0.32) == pytest.approx(expected, rel=1e-3)


def test_a_spindle_buckles_at_eulers_load():
    # F = pi^2 Y I / l^2, with Y and I worked out by hand for 5 mm, 150 mm and 0.32
    load = np.pi**2 * 6.178e9 * 3.068e-11 / 0.15**2
    stress = spindle_stress(
        0.0,
        force=load * np.array([0.999, 1.001]),
        diameter=0.005,
        spindle_length=0.15,
        specific_gravity=0.32,
    )
    assert np.isinf(stress).tolist() == [False, True]


@pytest.mark.parametrize(
    ("gravity", "psi"),
    # 12 % moisture: western redcedar and Sitka spruce, Wood Handbook table 5-3 (from memory);
    # light red meranti, its table 5-5b (seen)
    [(0.32, 7_500), (0.40, 10_200), (0.34, 9_500)],
)
def test_woods_are_as_strong_as_the_handbook_prints_or_a_little_stronger(gravity, psi):
    assert 0.65 < bending_strength(gravity) / (psi * 6894.757) < 1.0


# ---- the beat -----------------------------------------------------------------------------------


TWO_WINDOWS = Learner(  # slow and long, or quick and soon; in between the arm is spent
    state=Try(Kit(radius=0.0087, burn_in_depth=0.0023)).changed(force=94.0),
    arm=Arm(pull_max=185.0, speed_max=3.5, critical_power=7.8, work_above=310.0),
)


def ember_in_time(learner, speed):
    state = learner.state.changed(speed=speed)
    watts = pull_of(state.kit, state.effort.force) * speed - learner.arm.critical_power
    longest = learner.arm.work_above / watts if watts > 0 else np.inf
    return estimate(state.kit, state.effort).ember.likely <= min(300.0, longest)


@pytest.mark.parametrize(
    "learner", [Learner(), STRONG, Learner(arm=arms()["ten_year_old"]), TWO_WINDOWS]
)
def test_the_window_of_beats_is_where_the_ember_comes_before_the_arm_is_spent(learner):
    found, in_time = pace(learner), partial(ember_in_time, learner)
    assert in_time(1.01 * found.low)
    assert in_time(0.99 * found.high)
    assert not in_time(0.97 * found.low)
    assert found.high == pytest.approx(learner.most_speed) or not in_time(1.03 * found.high)
    assert found.speed == (found.low + found.high) / 2
    assert found.strokes_per_minute == pytest.approx(60 * found.speed / learner.stroke_length)


def test_of_two_windows_of_beats_the_wider_one_is_told():
    found = pace(TWO_WINDOWS)
    slow = 0.2 * found.low + 0.1 * TWO_WINDOWS.most_speed
    assert ember_in_time(TWO_WINDOWS, slow)
    assert not found.holds(slow)
    assert not found.holds(1.01 * found.high)
    assert found.holds(found.speed)
    lighter = TWO_WINDOWS.changed(force=56.0)  # the slow window is the wider one, and comes first
    assert ember_in_time(lighter, 0.99 * lighter.most_speed)
    assert pace(lighter).high < 0.5 * lighter.most_speed


@pytest.mark.parametrize(
    ("learner", "words"),
    [
        (Learner(slip_pull=12.0), "The cord slips at a pull of 12 N, and this press asks for 14 N"),
        (Learner().changed(force=460.0), "asks for a pull of 100 N, and this arm gives 100 N"),
        (Learner(arm=arms()["tired_beginner"]).changed(force=30.0), "wood carries the heat away"),
        (Learner(state=Try(Kit.from_diameter(0.03))), "takes 11 min, and hardly anybody"),
        (SPENT, "this arm is spent after 29 s"),
    ],
)
def test_why_there_is_no_beat_is_said(learner, words):
    found = pace(learner)
    assert found.low is found.high is found.speed is found.strokes_per_minute is None
    assert words in in_units(found.why)
    assert not found.holds(1.0)


# ---- from first smoke on ------------------------------------------------------------------------


def test_the_window_after_smoke_holds_nine_of_ten_embers_of_another_engine():
    states, dice = kits(6, seed=2), np.random.default_rng(2)
    off = thrown(dice, (len(states), 60))
    with np.errstate(all="ignore"):
        smoke, ember = (times * off["luck"] for times in followed(states, off))
    seen = smoke * np.exp(
        np.log1p(constant("smoke_seen")) / 1.645 * dice.standard_normal(smoke.shape)
    )
    elapsed = seen * dice.uniform(1.0, 3.0, seen.shape)
    inside = []
    for row, state in enumerate(states):
        learner = Learner(state=state, arm=Arm(pull_max=200.0, speed_max=5.0))
        for first, now, end in zip(seen[row], elapsed[row], ember[row], strict=True):
            if first > 0.5 and now < end and now < 600:
                low, _, high = after_smoke(learner, smoke_time=first, elapsed=now).window
                inside.append(low <= end <= high)
    assert len(inside) > 250
    assert 0.85 < np.mean(inside) < 0.95


def test_no_ember_yet_rules_out_early_ones_and_late_smoke_means_a_late_ember():
    asked = {now: after_smoke(Learner(), smoke_time=13.0, elapsed=now) for now in (20, 60, 100)}
    assert all(found.window.low > now for now, found in asked.items())
    assert [found.window.high for found in asked.values()] == sorted(
        found.window.high for found in asked.values()
    )
    gone = [found.gone for found in asked.values()]
    assert gone == sorted(gone)
    assert gone[0] < 0.05 < 0.9 < gone[2]
    sooner, later = (after_smoke(Learner(), smoke_time=t, elapsed=20.0).window for t in (9, 18))
    assert sooner.likely < later.likely
    for now, found in asked.items():
        assert found.left == tuple(end - now for end in found.window)


SLOW = Learner().changed(diameter=0.018, force=36.0, speed=0.8)


@pytest.mark.parametrize(
    ("learner", "smoke_time", "elapsed"), [(Learner(), 13.0, 60.0), (SLOW, 120.0, 130.0)]
)
def test_the_window_is_that_of_draws_weighed_one_by_one(learner, smoke_time, elapsed):
    shares = even_shares(2000)
    smoke, ember = drawn_case(learner.within_arm().state, shares).quick()
    luck = unknown("luck").at(shares["depth_exponent"])
    seen, sooner = np.log(1.2), np.log(1.0 / 0.73) / 2
    off_by = np.hypot(seen, sooner) / 1.6448536
    counted = {}
    for first, end, after in zip(smoke, ember, luck, strict=True):
        late = np.inf if np.isinf(end) else first + (end - first) * after
        if np.isfinite(first):
            counted[late] = counted.get(late, 0.0) + stats.norm.pdf(
                np.log(smoke_time), np.log(0.87 * first), off_by
            )
    left = {end: weight for end, weight in sorted(counted.items()) if end > elapsed}
    rising, all_left = np.cumsum(list(left.values())), sum(left.values())
    found = after_smoke(learner, smoke_time=smoke_time, elapsed=elapsed)
    for share, end in zip((0.05, 0.5, 0.95), found.window, strict=True):
        assert end == pytest.approx(list(left)[np.searchsorted(rising, share * all_left)])
    assert found.never == pytest.approx(left.get(np.inf, 0.0) / all_left, rel=1e-6)
    assert found.gone == pytest.approx(1 - all_left / sum(counted.values()))


def test_smoke_from_a_bow_that_stands_still_is_strange_and_leads_nowhere():
    found = after_smoke(Learner(slip_pull=12.0), smoke_time=13.0, elapsed=20.0)
    assert (found.strange, found.never, found.gone) == (True, 1.0, 0.0)
    assert found.say == table("moves")["smoke_now"]["late"]["say"]


def test_what_a_gauge_told_is_no_guess_after_strange_smoke():
    gauged = Learner(measured={"pull": 0.05})
    known, guessed = (
        after_smoke(learner, smoke_time=200.0, elapsed=200.0) for learner in (gauged, Learner())
    )
    assert known.strange
    assert known.window != guessed.window


def test_smoke_out_of_the_ordinary_makes_what_is_set_a_guess():
    usual, odd = (after_smoke(Learner(), smoke_time=t, elapsed=200.0) for t in (13.0, 200.0))
    assert not usual.strange
    assert odd.strange
    known = dict.fromkeys(settable(Try()), 0.01)
    sure = after_smoke(Learner(measured=known), smoke_time=200.0, elapsed=200.0)
    assert sure.strange
    assert sure.window.high / sure.window.low < odd.window.high / odd.window.low


NEW_BEAT = ("spent", "quicker")


@pytest.mark.parametrize(
    ("learner", "smoke_time", "elapsed", "kind"),
    [
        (Learner(), 13.0, 15.0, "early"),
        (Learner(), 13.0, 60.0, "limit"),
        (STRONG, 13.0, 60.0, "soon"),
        (Learner(), 13.0, 80.0, "limit"),
        (Learner(), 13.0, 100.0, "late"),
        (SPENT, 13.0, 20.0, "tired"),
        (Learner(arm=Arm(critical_power=8.0, work_above=250.0)), 13.0, 15.0, "spent"),
        (SLOW, 60.0, 70.0, "quicker"),
    ],
)
def test_what_to_say_fits_the_moment(learner, smoke_time, elapsed, kind):
    found = after_smoke(learner, smoke_time=smoke_time, elapsed=elapsed)
    words = table("moves")["smoke_now"]
    assert {"say": found.say, "not_say": found.not_say} == words[kind]
    beat, held = found.strokes_per_minute, learner.within_arm().strokes_per_minute
    assert beat == pytest.approx(pace(learner).strokes_per_minute if kind in NEW_BEAT else held)
    assert {"spent": beat < held, "quicker": beat > held}.get(kind, True)


@pytest.mark.parametrize("state", [Try(), Try().changed(diameter=0.018, force=75.0)])
def test_from_steady_smoke_on_a_minute_is_within_the_window(state):
    # about 60 s from first steady smoke to an ember; common practice, no source
    smoke = estimate(state.kit, state.effort).smoke.likely
    found = after_smoke(Learner(state=state), smoke_time=smoke, elapsed=smoke)
    assert found.left.low < 60.0 < found.left.high
    assert 30.0 < found.left.likely < 90.0


# ---- words --------------------------------------------------------------------------------------


def test_all_words_can_be_read_at_twelve():
    said = [text for part in ("moves", "refusals", "pace", "smoke_now") for text in texts(part)]
    assert len(said) > 40
    assert grade(re.sub(r"\{\w+\}", "ten", " ".join(said))) <= GRADE


def texts(part):
    """Whole sentences of the table."""
    rows = table("moves")[part].values()
    listed = [text for row in rows for text in (row.values() if isinstance(row, dict) else [row])]
    return [text for text in listed if text.endswith((".", "!"))]
