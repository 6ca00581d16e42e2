"""Questions that answer back: right answers computed, cards that can be solved."""

import dataclasses
import math
import re
import tomllib
from importlib.resources import files

import pytest

from fireheat import Air, InputError, Kit
from fireheat.ember.catchers import catchers
from fireheat.estimates import times
from fireheat.kit.kit import Try
from fireheat.kit.wood import density, energy_parts
from fireheat.lessons import Card, card, change_ratio, measured, prediction, self_check
from fireheat.quantities import quantity

TABLE = tomllib.loads((files("fireheat") / "data" / "lessons.toml").read_text(encoding="utf-8"))
PREDICTIONS, CHECKS, CARDS = (sorted(TABLE[kind]) for kind in ("predict", "check", "card"))
CHOICES = [key for key in PREDICTIONS if "options" in TABLE["predict"][key]]
NUMBERS = [key for key in PREDICTIONS if key not in CHOICES]


@pytest.mark.parametrize(
    ("read", "keys"), [(prediction, PREDICTIONS), (self_check, CHECKS), (card, CARDS)]
)
def test_a_lesson_that_is_not_there_is_refused_with_those_that_are(read, keys):
    with pytest.raises(InputError) as refused:
        read("no such lesson")
    assert all(repr(key) in str(refused.value) for key in keys)


@pytest.mark.parametrize("question", [*map(prediction, CHOICES), *map(self_check, CHECKS)])
def test_every_question_has_one_right_answer_and_a_reply_to_each(question):
    assert sum(option.right for option in question.options) == 1
    assert len(question.options) >= 3
    assert len({option.text for option in question.options}) == len(question.options)
    assert all(option.reply for option in question.options)


@pytest.mark.parametrize(
    ("key", "right"),
    [
        ("half_diameter", "a quarter of the time"),
        ("twice_force", "half the time"),
        ("same_speed", "the same time"),
        ("twice_diameter_ember", "ten times as long"),
        ("twice_diameter_watts", "the same watts"),
    ],
)
def test_the_right_answer_is_what_theory_says(key, right):
    # Time = energy per area times area over power: area goes with diameter squared, power with
    # force. Heat lost to soaking makes the estimate grow by more than the area does.
    assert [option.text for option in prediction(key).options if option.right] == [right]


@pytest.mark.parametrize("key", CHOICES)
def test_the_right_answer_is_marked_by_the_model_and_not_in_the_table(key):
    assert not any("right" in str(option) for option in TABLE["predict"][key]["options"])
    options = dict(TABLE["predict"][key]["options"])
    right = next(option.text for option in prediction(key).options if option.right)
    computed = model(key)
    gaps = {text: abs(math.log(value / computed)) for text, value in options.items()}
    first, second = sorted(gaps, key=gaps.get)[:2]
    assert first == right
    assert gaps[second] > 2 * gaps[first]  # by a clear margin, not by a hair


def model(key):
    """Ask the library for a prediction's number."""
    entry, start = TABLE["predict"][key], TABLE["predict"][key].get("start", {})
    if "change" in entry:
        return change_ratio(entry["measure"], entry["change"], start)
    state = Try(air=Air(**entry.get("air", {})))
    against = measured(entry["measure"], state, **entry["against"]) if "against" in entry else 1
    return measured(entry["measure"], state, **start) / against


@pytest.mark.parametrize(
    ("key", "low", "high"),
    [
        # Half of friction times force times speed, a worn-in tip.
        ("watts", 0.5 * 0.35 * 60 * 1.0 * (1 - 1e-9), 0.5 * 0.35 * 60 * 1.0 * (1 + 1e-9)),
        # 20 s without rests. With power cut to two thirds a contact far from its least power takes
        # half as long again, a thick one 9/4 times as long: it is between the two.
        ("rests", 1.5 * 20, 2.25 * 20),
    ],
)
def test_a_number_to_guess_is_the_one_that_theory_gives(key, low, high):
    number = prediction(key).number
    assert low < number.value < high
    assert number.within > 1
    assert number.unit


def test_every_number_to_guess_is_held_against_theory():
    assert NUMBERS == ["rests", "watts"]


@pytest.mark.parametrize("measure", ["bound", "ember", "smoke", "power", "dust_share"])
def test_what_is_measured_is_a_plain_number(measure):
    assert type(measured(measure, Try())) is float


def test_the_card_fixes_what_its_task_forbids():
    for key in CARDS:
        # else a reader could swap the speed of the story for free strokes
        assert "by_strokes" in card(key).fixed


@pytest.mark.parametrize("key", CARDS)
def test_every_start_lies_on_its_slider(key):
    for name, value in card(key).start.items():
        if name not in ("by_strokes", "wood"):  # these are choices
            low, high = quantity(name).slider
            assert low <= value <= high


def slow_end(task: Card, **moved):
    """Judge a card's state at the slow end of its measure."""
    state = {**task.start, **moved}
    if state.pop("by_strokes", False):
        state["speed"] = state.pop("stroke_length") * state.pop("strokes_per_minute") / 60
    kit = Kit(wood=state.pop("wood", Kit().wood))
    value = getattr(times(Try(kit), **state), task.measure)
    return float(value.high if task.measure == "ember" else value)


@pytest.mark.parametrize("key", CARDS)
def test_no_card_is_solved_before_it_is_tried(key):
    assert slow_end(card(key)) > card(key).below


@pytest.mark.parametrize(
    ("key", "moved"),
    [
        ("heavy_spindle", {"diameter": 0.011}),
        ("shouted_advice", {"stroke_length": 0.3, "strokes_per_minute": 210.0}),
        ("shouted_advice", {"stroke_length": 0.6}),
        ("slippery_pair", {"force": 100.0, "speed": 1.2}),
        ("damp_morning", {"moisture": 0.08}),  # the dry spare set of the story
        ("damp_morning", {"force": 75.0}),  # the friend who leans on the block
        ("tired_arms", {"diameter": 0.009}),
        ("wood_from_the_hedge", {"moisture": 0.07}),  # the maple from the rack
        ("wood_from_the_hedge", {"wood": "eastern_white_pine"}),  # as damp, but light
        ("whole_bow", {"stroke_length": 0.4, "strokes_per_minute": 156.0}),
    ],
)
def test_every_card_can_be_solved_with_what_it_leaves_free(key, moved):
    task = card(key)
    assert not set(moved) & set(task.fixed)
    assert slow_end(task, **moved) < task.below


def test_longer_strokes_at_the_same_speed_do_not_solve_the_shouted_advice():
    task = card("shouted_advice")
    longer = slow_end(task, stroke_length=0.6, strokes_per_minute=60.0)
    assert longer == pytest.approx(slow_end(task))


def test_the_foil_that_robs_an_ember_weighs_what_the_question_says():
    foil = catchers()["aluminium_foil"]
    grams = 1000 * foil.density * foil.thickness * math.pi * 0.06**2
    assert grams == pytest.approx(0.5, abs=0.05)
    assert "12 cm (5 in) across, weighs half a gram" in self_check("why_thin_robs").text


def test_the_share_of_the_water_is_what_the_damp_kit_is_told():
    for moisture, least, most in ((0.09, 0.3, 1 / 3), (0.18, 0.45, 0.5)):
        parts = energy_parts(
            0.004,
            density=density(0.32),
            moisture=moisture,
            temperature_ambient=293.15,
            temperature_char=quantity("temperature_char").default,
        )
        assert least < parts.water / parts.total < most
    told = prediction("twice_water").options[0].reply
    assert "At 9 % the water took nearly a third" in told
    assert "nearly half of the heat goes into it" in told


WORDS = str(TABLE)


@pytest.mark.parametrize(
    "other",
    ["person in charge", "responsible adult", "dult beside", "in the hedge"],
)
def test_who_watches_over_a_fire_and_which_wood_is_cut_is_said_in_one_way(other):
    assert other not in WORDS


def test_where_an_ember_is_made_or_moved_or_a_friend_leans_in_a_leader_is_there():
    right = {
        key: next(option for option in self_check(key).options if option.right)
        for key in ("before_lighting", "move_it")
    }
    assert "an adult in charge is here, a leader who knows this" in right["before_lighting"].text
    assert "A leader who knows this stands beside you" in right["move_it"].reply
    assert "larger than a hand" in self_check("move_it").text
    assert "under the leader's eye, hair and hands clear" in card("damp_morning").story
    assert "The leader knows the tree" in card("wood_from_the_hedge").story


@pytest.mark.parametrize("key", CARDS)
def test_no_card_of_ours_has_anybody_shouting(key):
    assert not re.search(r"shout|yell", str(TABLE["card"][key]))


def test_a_card_cannot_be_written_on():
    with pytest.raises(dataclasses.FrozenInstanceError):
        card("tired_arms").below = 1e9
