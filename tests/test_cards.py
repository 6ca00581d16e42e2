"""Cards judge as they are written: what meets the goal, and what no arm, heap or story allows."""

import dataclasses
import math
import re
from types import SimpleNamespace

import numpy as np
import pytest
from reading import read

from fireheat import InputError, Kit
from fireheat.answers import cards
from fireheat.answers.cards import Level, Rules, judge
from fireheat.answers.questions import STROKES, try_of
from fireheat.bands import Band
from fireheat.data import table
from fireheat.ember.ignition import enough_dust
from fireheat.estimates import quick_times, times
from fireheat.kit.wood import woods
from fireheat.lessons import card, stands
from fireheat.panels import WhatIf
from fireheat.panels import cards as card_panels
from fireheat.person.arm import arms
from fireheat.person.limits import kit_pull
from fireheat.quantities import METRIC, US, quantity
from fireheat.spread import spread
from fireheat.words import time_words

WRITTEN = table("lessons")["card"]
CARDS = sorted(WRITTEN)


def start_of(task):
    return {key: task.rules.at_start(key) for key in task.rules.free}


def judged(key, **moved):
    """Judge a card as the library does, with the march."""
    task = card(key)
    state = start_of(task) | moved
    return judge(task.rules, state, spread(try_of(task.rules.settings(state)), draws=64))


# ---- what is refused, and what is not -----------------------------------------------------------

ABSURD = [
    ("heavy_spindle", {"diameter": 0.006}, "dust"),
    ("heavy_spindle", {"force": 130.0}, "reach"),
    ("heavy_spindle", {"speed": 2.5}, "reach"),
    ("heavy_spindle", {"diameter": 0.012, "force": 55.0}, "change"),
    ("tired_arms", {"friction": 0.80}, "friction"),
    ("tired_arms", {"diameter": 0.010, "friction": 0.40}, "change"),
    ("tired_arms", {"burn_in_depth": 0.001}, "burn_in_depth"),
    ("tired_arms", {"moisture": 0.03}, "moisture"),
    ("damp_morning", {"force": 150.0}, "reach"),
    ("damp_morning", {"moisture": 0.03}, "moisture"),
    ("damp_morning", {"moisture": 0.08, "force": 75.0}, "change"),
    ("missing_column", {"stroke_length": 0.9}, "reach"),  # 120 of them a minute: 1.8 m/s
    ("missing_column", {"stroke_length": 0.3, "strokes_per_minute": 300.0}, "turn"),
    ("alder_at_the_elbow", {"strokes_per_minute": 300.0}, "reach"),  # 75 cm: 3.75 m/s
    ("alder_at_the_elbow", {"strokes_per_minute": 80.0}, "stroke_length"),
    ("slippery_pair", {"force": 150.0, "speed": 2.5}, "reach"),
    ("wood_from_the_hedge", {"moisture": 0.03}, "moisture"),
    ("wood_from_the_hedge", {"moisture": 0.07, "wood": "western_redcedar"}, "change"),
]


@pytest.mark.parametrize(("key", "moved", "broken"), ABSURD)
def test_what_is_absurd_is_refused_with_a_reply(key, moved, broken):
    verdict = judged(key, **moved)
    assert (verdict.level, verdict.broken) == (Level.REFUSED, broken)
    task, state = card(key), start_of(card(key)) | moved
    for system in (METRIC, US):
        found = spread(try_of(task.rules.settings(state)), draws=32)
        said = stands(task, verdict, state, found=found, system=system)
        assert said.mark == "✘"
        assert said.opening
        assert "{" not in said.opening


def test_replies_tell_what_was_tried():
    def said(key, **moved):
        task, state = card(key), start_of(card(key)) | moved
        found = spread(try_of(task.rules.settings(state)), draws=32)
        return str(stands(task, judge(task.rules, state, found), state, found=found))

    fast = said("alder_at_the_elbow", strokes_per_minute=300.0)
    assert fast == "✘ That works on paper: 60 N and 3.75 m/s. Who can bow that?"
    dust = 1000 * 0.7 * Kit(radius=0.003).dust
    assert f"{dust:.2g} g of dust is cold before it can glow" in said(
        "heavy_spindle", diameter=0.006
    )
    assert "Strokes of 75 cm hit the alder" in said("alder_at_the_elbow", strokes_per_minute=80.0)
    assert "you took 3 %" in said("damp_morning", moisture=0.03)
    assert "That is 2 changes, and the task allows 1." in said(
        "heavy_spindle", diameter=0.012, force=55.0
    )


SOLVED = [
    ("heavy_spindle", {"diameter": 0.012}),
    ("missing_column", {"strokes_per_minute": 210.0}),
    ("missing_column", {"stroke_length": 0.6}),
    ("slippery_pair", {"force": 100.0, "speed": 1.2}),
    ("damp_morning", {"moisture": 0.08}),  # the dry spare set of the story
    ("damp_morning", {"force": 75.0}),  # the friend who leans on the block
    ("tired_arms", {"diameter": 0.009}),
    ("wood_from_the_hedge", {"moisture": 0.07}),  # the maple from the rack
    ("wood_from_the_hedge", {"wood": "eastern_white_pine"}),  # as damp, but light
    ("alder_at_the_elbow", {"stroke_length": 0.4, "strokes_per_minute": 156.0}),
]


@pytest.mark.parametrize(("key", "moved"), SOLVED)
def test_every_card_can_be_solved_with_what_it_leaves_free(key, moved):
    task = card(key)
    assert judged(key, **moved).level.met
    # and by the march alone, without the rules
    slow = times(try_of(task.rules.settings(start_of(task) | moved))).ember.high
    assert slow < task.rules.below


def test_every_card_has_a_solution_here():
    assert {key for key, _ in SOLVED} == set(CARDS)


@pytest.mark.parametrize("key", CARDS)
def test_no_card_is_solved_before_it_is_tried(key):
    assert judged(key).level == Level.UNTRIED
    task = card(key)
    slow = times(try_of(task.rules.settings(start_of(task)))).ember.high
    assert slow > task.rules.below


def test_longer_strokes_at_the_same_speed_do_not_find_the_missing_column():
    assert judged("missing_column", stroke_length=0.6, strokes_per_minute=60.0).level == Level.LATE


@pytest.mark.parametrize("key", CARDS)
def test_every_start_and_every_limit_lies_on_its_slider(key):
    entry = WRITTEN[key]
    for values in (entry["start"], entry.get("at_least", {}), entry.get("at_most", {})):
        for name, value in values.items():
            if name != "wood":
                low, high = quantity(name).slider
                assert low <= value <= high
    limits = {*entry.get("at_least", {}), *entry.get("at_most", {})}
    assert limits <= set(entry["free"])
    assert limits <= set(entry.get("replies", {}))  # each of them has its own reply


@pytest.mark.parametrize("key", CARDS)
def test_a_card_names_its_goal_in_the_words_of_the_tiles(key):
    assert f"under {time_words(card(key).rules.below)}" in card(key).task


@pytest.mark.parametrize("key", CARDS)
def test_no_card_of_ours_has_anybody_shouting(key):
    assert not re.search(r"shout|yell", str(WRITTEN[key]))


def test_a_card_cannot_be_written_on():
    with pytest.raises(dataclasses.FrozenInstanceError):
        card("tired_arms").rules.below = 1e9


# ---- each yes meets what is written -------------------------------------------------------------

DRAWN = 2000  # states, over all cards


def drawn_states(key, count, chance):
    """Random states of what a card leaves free: any number of things moved, to anywhere."""
    task = card(key)
    states = []
    for _ in range(count):
        state = start_of(task)
        for name in chance.permutation(task.rules.free)[: chance.integers(1, 1 + len(state))]:
            name = str(name)
            if name == "wood":
                state[name] = str(chance.choice(sorted(woods())))
            else:
                state[name] = float(chance.uniform(*quantity(name).slider))
        states.append(state)
    return states


def spreads(task, states):
    """What a stopwatch might see of many states: those of one wood at once."""
    found = [None] * len(states)
    settings = [task.rules.settings(state) for state in states]
    of_wood = [each.get("wood", "western_redcedar") for each in settings]
    for wood in set(of_wood):
        places = [place for place, own in enumerate(of_wood) if own == wood]
        tries = [try_of(settings[place]) for place in places]
        swept = {
            name: np.array([one.value(name) for one in tries])
            for name in ("diameter", "force", "speed", "friction", "burn_in_depth", "moisture")
        }
        made = spread(tries[0], swept=swept, draws=32, found=quick_times(tries[0], **swept))
        for index, place in enumerate(places):
            found[place] = SimpleNamespace(wood=made.wood.at(index), all=made.all.at(index))
    return found


def test_each_yes_meets_what_is_written():
    chance, met, seen = np.random.default_rng(20240607), 0, set()
    for key in CARDS:
        task, entry = card(key), WRITTEN[key]
        states = drawn_states(key, -(-DRAWN // len(CARDS)), chance)
        for state, found in zip(states, spreads(task, states), strict=True):
            verdict = judge(task.rules, state, found)
            seen.add(verdict.broken)
            if not verdict.level.met:
                continue
            met += 1
            start = {name: task.rules.at_start(name) for name in state}
            moved = [name for name in state if state[name] != start[name]]
            assert 1 <= len(moved) <= entry["change_at_most"]
            assert found.wood.high < entry["below"]
            assert all(state[name] >= least for name, least in entry.get("at_least", {}).items())
            assert all(state[name] <= most for name, most in entry.get("at_most", {}).items())
            one = try_of({**entry["start"], **state})
            assert enough_dust(one.kit).times_least.likely >= 1
            who, kind = entry["arm"]
            arm = arms()[who] if kind == "likely" else getattr(arms()[who], kind)
            pull = kit_pull(one.kit, force=one.effort.force)
            assert one.effort.speed <= arm.speed(pull) * (1 + 1e-5)
            assert found.wood.high <= arm.hold_time(pull * one.effort.speed)
            if set(STROKES) <= set(state):  # L < a T^2 / 4 in each stroke: 20 m/s^2
                stroke_time = 60 / state["strokes_per_minute"]
                assert state["stroke_length"] <= 20 * stroke_time**2 / 4 * (1 + 1e-5)
    assert met > 100
    assert {"change", "reach", "dust", "turn"} <= seen


# ---- rules, one by one --------------------------------------------------------------------------


@pytest.fixture
def rules():
    return Rules(
        start={"force": 50.0, "speed": 0.9},
        free=("diameter", "force"),
        below=90.0,
        change_at_most=1,
        at_least={},
        at_most={"diameter": 0.02},
        arm=("teenager", "likely"),
    )


def found_of(low, likely, high, at_most):
    return SimpleNamespace(wood=Band(low, likely, high), all=Band(low, likely, at_most))


@pytest.mark.parametrize(
    ("high", "at_most", "level"),
    [
        (60.0, 89.0, Level.ALL),
        (60.0, 90.0, Level.WOOD),
        (89.9, math.inf, Level.WOOD),
        (90.0, math.inf, Level.LIKELY),
    ],
)
def test_the_goal_is_on_the_band_of_the_wood_and_better_on_that_of_all(rules, high, at_most, level):
    verdict = judge(rules, {"diameter": 0.012}, found_of(20.0, 40.0, high, at_most))
    assert verdict == (level, "", ("diameter",))
    assert verdict.level.met is (level in (Level.WOOD, Level.ALL))


def test_a_likely_ember_that_is_too_late_is_not_yet(rules):
    assert judge(rules, {"diameter": 0.012}, found_of(20.0, 90.0, 99.0, 200.0)).level == Level.LATE


def test_what_came_back_to_its_start_is_not_changed(rules):
    found = found_of(20.0, 40.0, 60.0, 80.0)
    assert judge(rules, {"diameter": 0.016, "force": 50.0}, found).level == Level.UNTRIED
    verdict = judge(rules, {"diameter": 0.012, "force": 50.0}, found)
    assert verdict.changed == ("diameter",)


def test_an_arm_that_is_spent_before_is_no_yes(rules):
    # Of what this arm makes at the bow it can keep up 14 W; above that it has 1000 J.
    hard = dataclasses.replace(rules, start={"force": 100.0, "speed": 0.7}, free=("diameter",))
    state = {"diameter": 0.018}
    one = try_of(hard.settings(state))
    spent = cards.hold(hard, one)
    assert spent == 1000 / (kit_pull(one.kit, force=100.0) * 0.7 - 14)
    slow = dataclasses.replace(hard, below=10 * spent)
    for high, broken in ((0.99 * spent, ""), (1.01 * spent, "hold")):
        assert judge(slow, state, found_of(20.0, 40.0, high, math.inf)).broken == broken


def test_what_is_locked_cannot_be_judged_as_moved(rules):
    with pytest.raises(InputError, match=r"\['speed'\] stay as they are in this task; free: \["):
        judge(rules, {"speed": 2.0}, found_of(1.0, 2.0, 3.0, 4.0))


@pytest.mark.parametrize("arm", [("nobody", "likely"), ("teenager", "tired")])
def test_an_arm_that_is_not_there_is_refused(rules, arm):
    with pytest.raises(InputError, match="arm"):
        dataclasses.replace(rules, arm=arm)


@pytest.mark.parametrize(
    "settings",
    [{"stroke_length": 0.4}, {"speed": 1.0, "stroke_length": 0.4, "strokes_per_minute": 150.0}],
)
def test_a_speed_that_is_given_twice_or_by_half_is_refused(settings):
    with pytest.raises(InputError, match="bow speed is given by"):
        try_of(settings)


@pytest.mark.parametrize(
    ("slow", "words"),
    [
        (89.4, "✔ Goal met with this wood: 89 s at the slow end."),
        (89.96, "✔ Goal met with this wood: just under 90 s at the slow end."),
        (90.0, "≈ Likely, but not sure"),
        (math.inf, "≈ Likely, but not sure"),
    ],
)
def test_at_the_edge_the_verdict_is_right_and_its_words_agree_with_it(slow, words):
    task, state = card("heavy_spindle"), start_of(card("heavy_spindle")) | {"diameter": 0.012}
    found = found_of(20.0, 40.0, slow, math.inf)
    said = stands(task, judge(task.rules, state, found), state, found=found)
    assert str(said).startswith(words)


@pytest.mark.parametrize(
    ("likely", "words"),
    [
        (90.0, "even the likely ember is not quite under 90 s."),
        (91.0, "the ember most likely takes 91 s, and it has to come under 90 s."),
        (math.inf, "most likely there is never an ember, and it has to come under 90 s."),
    ],
)
def test_what_is_late_says_how_late(likely, words):
    task, state = card("heavy_spindle"), start_of(card("heavy_spindle")) | {"diameter": 0.012}
    found = found_of(20.0, likely, 2 * likely, math.inf)
    said = stands(task, judge(task.rules, state, found), state, found=found)
    assert said.opening == f"Not yet, because {words}"
    assert said.more == task.hint


# ---- the panel ----------------------------------------------------------------------------------


def shown(panel):
    return read(panel.face.value)


@pytest.mark.parametrize("key", CARDS)
def test_a_card_starts_untried_at_its_story_and_opens_alone(key):
    panel, task = WhatIf(key), card(key)
    assert "Not tried yet" in shown(panel)
    assert task.title in panel.sentence()
    assert task.title in read(panel.stage.children[0].children[0].value)
    assert list(panel.control) == list(task.rules.free)
    assert panel.state == start_of(task)
    assert read(task.story) in shown(panel)
    assert read(task.task) in shown(panel)


def test_what_is_locked_is_one_line_and_has_no_slider():
    panel = WhatIf("heavy_spindle")
    locked = read(panel.locked.value)
    assert locked == (
        "Locked: friction coefficient 0.35, burn-in depth 4.0 mm, western redcedar,"
        " wood moisture 9 %, air temperature 20 °C."
    )
    panel.units.value = US
    assert "air temperature 68 °F" in read(panel.locked.value)
    strokes = WhatIf("missing_column", units=METRIC)
    assert "bow speed" not in read(strokes.locked.value)
    assert strokes.control["strokes_per_minute"].effect.value == "bow speed 0.60\xa0m/s"


def test_a_card_says_not_yet_and_why_and_then_yes_and_starts_again():
    panel = WhatIf("heavy_spindle")
    panel.set(diameter=0.020)
    assert "✘ Not yet, because" in shown(panel)
    assert card("heavy_spindle").hint in shown(panel)
    assert "fh-missed" in panel.face.value
    assert panel.sentence().startswith("What if, The broom-handle spindle: ✘ Not yet")
    panel.set(diameter=0.012)
    assert "✔ Goal met with this wood" in shown(panel)
    assert "fh-met" in panel.face.value
    assert "✓ ember before 90 s" in written(panel)
    panel.reset()
    assert "Not tried yet" in shown(panel)
    assert "ember before 90 s" in written(panel)


def written(panel):
    return [text for text, *_ in panel.sketched.letters]


def test_the_second_way_is_asked_for_and_found():
    panel = WhatIf("damp_morning")
    panel.set(moisture=0.08)
    assert "That is one way, by wood moisture. The task asks for two." in shown(panel)
    panel.set(moisture=0.20, force=90.0)
    assert "Both ways are found: by downward force, and by wood moisture." in shown(panel)
    panel.reset()
    panel.set(moisture=0.08)
    assert "The task asks for two" in shown(panel)


def test_what_stood_for_a_while_is_kept_as_a_try(monkeypatch):
    clock = iter(np.arange(0.0, 1e6, 5.0))
    monkeypatch.setattr(card_panels.time, "monotonic", lambda: next(clock))
    panel = WhatIf("heavy_spindle")
    for diameter in (0.020, 0.018, 0.016, 0.014, 0.012, 0.011, 0.010):
        panel.control["diameter"].widget.value = 1000 * diameter
    assert [one["diameter"] for one in panel.tries] == pytest.approx(
        [0.020, 0.018, 0.016, 0.014, 0.012, 0.011]
    )
    names = [text for text in written(panel) if text == "start" or text.startswith("try")]
    assert names == ["start", "try 4", "try 5", "try 6"]
    panel.reset()
    assert panel.tries == []
    assert not any(text.startswith("try") for text in written(panel))


def test_what_only_passed_by_is_no_try(monkeypatch):
    monkeypatch.setattr(card_panels.time, "monotonic", lambda: 7.0)
    panel = WhatIf("heavy_spindle")
    for diameter in (20.0, 18.0, 12.0):
        panel.control["diameter"].widget.value = diameter
    assert panel.tries == []


def test_what_a_browser_says_again_is_no_try(monkeypatch):
    clock = iter(np.arange(0.0, 1e6, 5.0))
    monkeypatch.setattr(card_panels.time, "monotonic", lambda: next(clock))
    panel = WhatIf("heavy_spindle")
    panel.set(diameter=0.012)
    panel._control_moved(None)  # as it does with a slider's stop
    assert panel.tries == []


def test_a_try_is_kept_once_and_the_start_is_none():
    panel = WhatIf("heavy_spindle")
    moved = panel.state | {"diameter": 0.012}
    for state in (panel.state, moved, dict(moved)):
        panel.remember(state)
    assert panel.tries == [moved]


def test_why_it_works_can_be_written_and_is_kept_nowhere():
    panel = WhatIf("heavy_spindle")
    panel.why.value = "the spot is smaller"
    kept, _ = panel._repr_mimebundle_()
    assert "smaller" not in kept["text/plain"]
    assert "smaller" not in str(panel.state)
