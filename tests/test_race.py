"""Two kits that race: who is first, when it ends, how well it is known; nothing before bets."""

import numpy as np
import pytest
from reading import alt, shown

from fireheat import InputError, Try
from fireheat.answers.course import course
from fireheat.answers.race import contest, pairings, starters
from fireheat.figures.kit_script import GLOWING
from fireheat.figures.race import RaceLanes, race_words, racing
from fireheat.my_kit import MyKit
from fireheat.panels import Race
from fireheat.panels.mine import my_kit
from fireheat.person.measuring import Measured
from fireheat.quantities import US
from fireheat.spread import compare, pairs

DIFFER = [key for key, row in pairings().items() if row.quantity]
NEVER = {"left": 10.0, "right": 80.0}  # N: with the first, wood carries away more than is made


# ---- who is first, and how well that is known ---------------------------------------------------


@pytest.mark.parametrize("key", DIFFER)
def test_the_first_has_the_sooner_ember_whichever_side_it_stands_on(key):
    row = pairings()[key]
    ran = contest(*starters(key))
    turned = contest(*starters(key, left=row.right, right=row.left))
    left, right = (course(one.state).ember for one in ran.starters)
    assert [way.ember for way in ran.courses] == [left, right]
    assert ran.first == ("left" if left < right else "right" if right < left else "same")
    mirrored = {"left": "right", "right": "left", "same": "same"}
    assert turned.first == mirrored[ran.first]
    assert turned.ratio == pytest.approx(ran.ratio)
    assert {one.name for one in turned.starters} == {one.name for one in ran.starters}
    assert ran.end == max(left, right)


def test_the_same_kit_ties_with_itself_and_so_do_strokes_at_one_speed():
    for pair in (starters("thickness", left=0.016, right=0.016), starters("strokes")):
        ran = contest(*pair)
        assert ran.first == "same"
        assert tuple(ran.ratio) == (1.0, 1.0, 1.0)
        assert race_words(ran).startswith("A tie: both glow after 56 s.")


def test_nine_of_ten_pairs_of_draws_lie_within_the_ratio_s_band():
    ran = contest(*starters("water"))
    slow, quick = (one.state for one in ran.starters)
    one, other = pairs(slow, quick)
    share = np.mean((ran.ratio.low * one <= other) & (other <= ran.ratio.high * one))
    assert share == pytest.approx(0.9, abs=0.01)
    assert tuple(ran.ratio) == pytest.approx(tuple(compare(slow, quick)), rel=1e-3)


@pytest.mark.parametrize("key", ["bow", "water", "grip"])
def test_the_ratio_is_known_better_than_either_time(key):
    ran = contest(*starters(key))
    for way in ran.courses:
        assert ran.ratio.high / ran.ratio.likely < way.spread.all.high / way.spread.all.likely


def test_who_never_has_an_ember_bows_on_until_the_other_has_one():
    ran = contest(*starters("press", **NEVER))
    lost, won = ran.courses
    assert ran.first == "right"
    assert ran.end == won.ember == lost.end
    assert (won.never, bool(lost.never)) == (None, True)
    assert f"most likely never: {lost.never}." in race_words(ran)
    assert [one.look == GLOWING for one in (script.cues[-1] for script in racing(ran))] == [
        False,
        True,
    ]


def test_a_race_that_nobody_can_win_is_called_off():
    ran = contest(*starters("press", left=10.0, right=12.0))
    assert (ran.first, ran.end) == ("same", 120.0)
    assert race_words(ran).startswith("Called off after 2 min: most likely neither ever glows.")


def test_my_kit_races_as_well_as_it_was_measured():
    mine = MyKit(diameter=Measured(0.013, 0.0002), force=Measured(70.0, 3.0))
    usual, own = starters("mine", kit=mine)
    assert (usual.state, own.state) == (Try(), mine.state(Try()))
    assert own.measured == mine.measured
    ran = contest(usual, own)
    assert ran.courses[1].spread == course(own.state, measured=mine.measured).spread
    assert ran.courses[1].spread != course(own.state).spread


def test_words_over_a_lane_stand_below_where_the_bar_above_runs_to():
    lanes, ran = RaceLanes(), contest(*starters("water"))
    lanes.update(ran.starters, ran, veiled=False)
    boxes = {word.text: word.box for word in lanes.written()}
    end, _, known = (box for text, box in boxes.items() if text.startswith(("to ", "could be ")))
    assert end[3] <= known[1] + 4  # letters do not fill the height of their boxes
    assert known[2] <= lanes.size[0]


@pytest.mark.parametrize("key", ["grip", "water"])
def test_what_they_race_in_is_not_called_the_same_on_both_sides(key):
    words = race_words(contest(*starters(key)))
    assert "All else is the same on both sides: " in words
    assert "Same" not in words


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        (lambda: starters("nobody"), "race is 'nobody'; allowed: thickness"),
        (lambda: starters("thickness", left=-1.0), "spindle diameter is -1"),
        (lambda: contest(*starters("press")[:1], Try()), "right is Try"),
    ],
)
def test_what_cannot_race_is_refused_by_name(wrong, words):
    with pytest.raises(InputError, match=words):
        wrong()


# ---- the panel --------------------------------------------------------------------------------


@pytest.fixture
def race():
    my_kit.clear()
    yield Race()
    my_kit.clear()


def told(track):
    """All that a reader, or a browser, could have from a race."""
    words = [track.voice.text, track.beside.value, track.head.value, alt(track), shown(track)]
    return " ".join(words), [script["times"] for script in track.live.courses]


def test_until_a_bet_is_made_nothing_tells_what_comes_of_it(race):
    track = race.track
    words, times = told(track)
    assert "glow" not in words.replace("Which glows first?", "")
    assert times == [[0.0], [0.0]]
    assert track.go.disabled
    track.press_go()  # as the space bar does
    assert track.told is None
    assert told(track) == (words, times)


def test_one_hand_is_a_bet_and_hands_stand_beside_their_kits(race):
    track = race.track
    boxes = list(track.hands.boxes.values())
    boxes[0].value, boxes[2].value = 6, 1
    assert not track.go.disabled
    track.press_go()
    assert track.live.running
    assert "<em>6 hands</em>" in track.beside.value
    assert "<em>1 hand</em>" in track.beside.value
    assert "Hands: 6 for Thick, 1 for Thin." in race.sentence()
    ends = [script["end"] for script in track.live.courses]
    assert ends == [way.ember for way in contest(*starters("thickness")).courses]


def test_space_holds_and_goes_on_and_r_runs_it_again(race):
    track = race.track
    track.bet.value = "Thin"
    track.press_go()
    track.live.at = 20.0
    track.press_go()
    assert not track.live.running
    assert race.sentence() == "After 20 s: Thick is a warm stick, Thin glows."
    track.press_go()
    assert track.live.running
    track.run_again()
    assert (track.live.at, track.live.running) == (0.0, True)


def test_at_the_end_all_is_said_in_full_and_the_next_group_bets_anew(race):
    said = race.commit("Thick")
    assert said == race_words(contest(*starters("thickness")))
    assert " hidden " in race.track.veil.value
    assert race.track.go.description == "Again"
    race.track.ask_again()
    assert race.track.told is None
    assert "The lanes are empty" in race.sentence()
    assert race.track.hands.most() is None


def test_a_late_word_of_the_clock_does_not_bring_an_ended_race_back(race):
    race.commit("Thin")
    race.track.live.at = 1.0  # as the browser had it when the race was run out
    assert race.sentence().startswith("Thin glows first")


def test_other_kits_are_asked_about_anew_and_have_names_that_fit(race):
    race.commit("Thin")
    assert "Thin, 20 mm, against Thick, 24 mm" in race.set(
        left_diameter=0.020, right_diameter=0.024
    )
    assert race.track.told is None
    assert race.set(kits="strokes").startswith("Long stroke, 60 cm, against Short stroke, 30 cm.")
    assert race.commit("a tie").startswith("A tie")


def test_twice_as_quick_is_said_on_the_screen(race):
    assert "real seconds" in race.track.beside.value
    race.track.twice.value = True
    assert race.track.live.pace == 2
    assert "twice as quick as real" in race.track.beside.value


def test_my_kit_runs_once_something_is_in_it(race):
    race.set(kits="mine")
    assert "Nothing is in my kit yet" in race.track.mine.value
    my_kit.put(diameter=Measured(0.012, 0.0003))
    race.track.refresh()
    assert "spindle diameter 12.0\xa0±\xa00.3\xa0mm" in race.track.mine.value
    assert "My kit, ◆ measured" in race.sentence()
    assert race.commit("My kit").startswith("My kit glows first")


def test_other_units_change_words_and_no_race(race):
    us = Race(units=US)
    assert us.track.pair == race.track.pair
    assert "mm" not in us.sentence()
    assert us.commit("Thin") == race.commit("Thin")
