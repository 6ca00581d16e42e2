"""One learner's plan and card, and the minute after first smoke, as a coach meets them."""

from dataclasses import replace
from math import inf

import pytest
from learners import learner_of
from reading import read, shown, values

from fireheat import Kit, Try
from fireheat.answers.coaching import coaching
from fireheat.answers.next_try import next_try
from fireheat.bands import Band
from fireheat.coach.learner import Learner
from fireheat.coach.smoke_now import after_smoke
from fireheat.data import table
from fireheat.kit.wood import my_wood
from fireheat.panels import CoachPlan, SmokeNow
from fireheat.panels.mine import my_kit
from fireheat.panels.our_log import our_log
from fireheat.person.arm import Arm
from fireheat.person.measuring import Measured
from fireheat.trials.columns import TimedTry
from fireheat.trials.log import add_try
from fireheat.words import band_words, percent_words, saved_words

# An arm with little to spend: quicker and firmer save time, and it is spent before the ember.
SHORT = Learner(
    state=Try().changed(
        diameter=0.008, force=55.035, speed=0.92829, block_friction=0.08, moisture=0.07
    ),
    arm=Arm(pull_max=112.537, critical_power=3.8652, work_above=68.379),
)
# Most of its pull is lost in a bearing block of bare wood.
SQUEAKY = {"diameter": 0.014, "force": 90.0, "block_friction": 0.4, "arm": "ten_year_old"}


@pytest.fixture(autouse=True)
def nothing_in_my_kit():
    my_kit.clear()
    yield
    my_kit.clear()
    our_log.clear()


# ---- what comes first ---------------------------------------------------------------------------


def test_a_beat_that_the_arm_keeps_up_goes_before_time_saved_that_it_cannot():
    found = coaching(SHORT)
    assert found.moves
    assert not any(move.in_time for move in found.moves)
    assert (found.first.key, found.first.in_time) == ("slower", True)
    assert found.then == found.learner
    assert "the arm lasts" in found.card("L07")[1]


def test_changes_that_come_in_time_stand_before_those_that_do_not():
    panel = CoachPlan()
    panel.set(**SQUEAKY)
    moves = panel.answer(panel.state).moves
    in_time = [move.in_time for move in moves]
    assert in_time == sorted(in_time, reverse=True)
    assert len(set(in_time)) == 2  # there are both
    likely = [move.ember.likely for move in moves if move.in_time]
    assert likely == sorted(likely)
    assert moves[0].key == "grease"


def test_who_cannot_gain_is_told_to_keep_on():
    done = Learner(
        state=Try().changed(
            diameter=0.008, force=82.0, speed=1.5, block_friction=0.08, moisture=0.07
        ),
        arm=Arm(pull_max=60.0, speed_max=1.7, critical_power=7.0, work_above=400.0),
    )
    found = coaching(done)
    assert (found.first, found.moves) == (None, ())
    assert "No single change saves time" in found.card("L07")[1]


def test_the_beat_to_hold_is_in_the_window_and_the_nearest_to_the_learners_own():
    for learner in (Learner(), SHORT, Learner().changed(diameter=0.025, speed=0.5)):
        found = coaching(learner)
        own, ends = found.then.state.effort.speed, (found.beat.low, found.beat.high)
        held = found.strokes_per_minute
        if None in ends:
            assert held is None
            assert found.beat.why
            continue
        low, high = (found.then.strokes_at(end) for end in ends)
        assert low <= held <= high
        assert held == pytest.approx(sorted([low, found.then.strokes_at(own), high])[1])


def test_what_was_measured_counts_though_the_learner_is_the_same():
    plain, loose = Learner(), Learner(measured={"force": 0.5})  # to half of it
    narrow, wide = (coaching(one).advice.now for one in (plain, loose))
    assert wide.high / wide.low > 1.1 * narrow.high / narrow.low


# ---- words --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("saved", "words"),
    [
        ((4.3, 15.6, 84.6), "about 16 s sooner: 4 to 85 s"),
        ((0.2, 15.6, 84.6), "about 16 s sooner: nothing to 85 s"),
        ((0.0, 400.0, inf), "about 6½ min sooner: nothing to far more"),
        ((-3.0, 5.0, 20.0), "about 5 s sooner: 3 s later to 20 s"),
        ((0.0, inf, inf), "an ember at last"),
        ((inf, inf, inf), "an ember at last"),
    ],
)
def test_time_saved_is_said_with_its_band(saved, words):
    assert saved_words(Band(*saved)) == words


def test_each_change_has_its_row_of_the_card_and_no_row_is_left_over():
    assert {*table("coach_cards")} == {*table("moves")["moves"], "nothing", "stuck"}
    for row in table("coach_cards").values():
        assert len(row["say"].split()) <= 12  # said in one breath


def test_whom_no_small_step_brings_an_ember_is_not_told_to_keep_all_as_it_is():
    panel = CoachPlan()
    panel.set(arm="tired_beginner", diameter=0.025, force=250.0)
    told = read(panel.face.value)
    assert "No small step brings an ember in time. No beat will do." in told
    assert "Press less." in told
    assert "eep" not in panel.sentence() + told  # neither all as it is nor the beat
    panel.reset()
    panel.set(arm="adult", diameter=0.009, force=20.0, strokes_per_minute=20.0)
    told = read(panel.face.value)
    assert f"in time. {coaching(learner_of(panel.state)).beats()}." in told
    panel.set(strokes_per_minute=100.0)
    assert "No small step" not in read(panel.face.value)


def test_the_card_bears_a_code_the_one_thing_the_beat_and_what_to_say():
    panel = CoachPlan()
    panel.set(**SQUEAKY)
    said, panel.code.value = panel.sentence(), "L07"
    card = read(panel.card.value)
    row = table("coach_cards")["grease"]
    assert card.startswith("Card for L07 Change one thing. Grease the bearing block")
    assert all(row[part] in card for part in ("look", "say"))
    assert f"Hold this beat: {values(panel)[-1].removesuffix(' a minute')} strokes" in card
    assert panel.sentence() == said  # whose card it is changes nothing else
    panel.units.value = "us"
    panel.set(diameter=0.022)
    assert " in place of 7/8 in" in read(panel.card.value)


# ---- the panel ----------------------------------------------------------------------------------


def test_a_cord_that_slips_bars_a_firmer_press_and_says_so():
    panel = CoachPlan()
    assert "firmer" in {move.key for move in panel.answer(panel.state).moves}
    panel.set(cord=True)
    assert "firmer" not in {move.key for move in panel.answer(panel.state).moves}
    assert "The cord would slip" in read(panel.against.value)


def test_an_arm_that_was_measured_is_taken_and_one_that_was_not_is_left():
    panel = CoachPlan()
    start = panel.sentence()
    assert panel.set(pull_max=60.0) == start
    weaker = panel.set(arm="measured")
    assert panel.answer(panel.state).learner.arm == Arm(pull_max=60.0)
    assert weaker != start


def test_my_kit_comes_in_with_how_well_it_was_measured():
    panel = CoachPlan()
    my_kit.put(force=Measured(48.0, 9.6), diameter=Measured(0.018, 0.0002))
    panel.mine.turn()
    found = panel.answer(panel.state)
    assert (panel.state["force"], panel.state["diameter"]) == (48.0, 0.018)
    assert found.learner.measured["force"] == my_kit.kit.measured["force"] > 0.2
    assert found == coaching(found.learner) != coaching(replace(found.learner, measured={}))


def test_a_kit_given_at_the_door_is_where_the_plan_starts():
    for wood in ("white_willow", my_wood(0.4)):
        kit = Kit.from_diameter(0.011, block_friction=0.35, wood=wood)
        panel = CoachPlan(kit, arm="tired_beginner")
        assert panel.answer(panel.state).learner.state.kit == kit
    assert panel.state["arm"] == "tired_beginner"


def test_a_readers_own_evenings_stand_beside_the_handbook_and_the_demo_log_does_not(tmp_path):
    panel, path = CoachPlan(), tmp_path / "ours.csv"
    plain = panel.sentence()
    for time in (58.0, 64.0, 71.0, 60.0):
        add_try(path, TimedTry(time=time, ended="ember"))
    our_log.read(str(path))
    ours = next_try(panel.answer(panel.state).learner.state, our_log.own)
    told = f"our evenings, 4 tries: {band_words(ours.evenings)}"
    assert told in panel.sentence()
    assert told in shown(panel)
    our_log.clear()
    assert panel.sentence() == plain


# ---- smoke now ----------------------------------------------------------------------------------


def test_the_watch_moves_both_times_and_before_smoke_it_says_nothing():
    panel = SmokeNow()
    start = panel.state
    panel.clock.elapsed = 9.0
    assert panel.state == start
    panel.clock.smoke = 20.0
    panel.clock.elapsed = 35.0
    found = after_smoke(learner_of(panel.state), smoke_time=20.0, elapsed=35.0)
    assert (panel.state["smoke_time"], panel.state["elapsed"]) == (20.0, 35.0)
    assert band_words(found.left.ends) in shown(panel)
    assert (panel.clock.typed, panel.clock.shown) == (20.0, 35.0)


def test_a_try_that_is_overdue_or_stands_still_is_given_no_window_and_no_beat():
    panel = SmokeNow()
    panel.set(smoke_time=13.0, elapsed=200.0)
    found = after_smoke(learner_of(panel.state), smoke_time=13.0, elapsed=200.0)
    assert found.gone > 0.9
    assert values(panel)[:2] == ["overdue", "none"]
    assert f"{percent_words(found.gone)} of such tries had an ember by now" in shown(panel)
    panel.set(elapsed=30.0)
    assert "overdue" not in shown(panel)
    panel.set(arm="tired_beginner", force=250.0)
    assert values(panel)[:2] == ["never", "none"]
    assert "does not come any more" in panel.sentence()
    assert "Hold" not in panel.sentence()


def test_now_is_never_before_smoke():
    panel = SmokeNow()
    panel.set(smoke_time=50.0, elapsed=10.0)
    assert panel.answer(panel.state).elapsed == 50.0
    assert panel.clock.shown == 50.0


def test_in_that_minute_there_is_one_thing_to_say_and_one_not_to_say():
    panel = SmokeNow()
    for elapsed in (15.0, 60.0, 118.0):
        panel.set(elapsed=elapsed)
        found = panel.answer(panel.state).found
        words = shown(panel)
        assert f"Say “{found.say}” Not “{found.not_say}”" in words
