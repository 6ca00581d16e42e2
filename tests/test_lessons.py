"""Questions that answer back: right answers computed, explanations true; cards in test_cards.py."""

import math
import re
import tomllib
from importlib.resources import files

import pytest

from fireheat import InputError, Kit
from fireheat.answers.questions import as_compared, asked_of, change_ratio, measured, try_of
from fireheat.coach.learner import Learner
from fireheat.coach.moves import advice
from fireheat.ember.catchers import catchers
from fireheat.estimates import times
from fireheat.kit.kit import Try
from fireheat.kit.tip import wear_limit
from fireheat.kit.wood import density, energy_parts
from fireheat.lessons import (
    card,
    headline,
    prediction,
    said_value,
    self_check,
    worked_out,
)
from fireheat.person.arm import arms
from fireheat.quantities import default
from fireheat.spread import compare
from fireheat.words import factor_words, number_words, percent_words, ratio_words, time_words

TABLE = tomllib.loads((files("fireheat") / "data" / "lessons.toml").read_text(encoding="utf-8"))
PREDICTIONS, CHECKS, CARDS = (sorted(TABLE[kind]) for kind in ("predict", "check", "card"))
CHOICES = [key for key in PREDICTIONS if "options" in TABLE["predict"][key]]
NUMBERS = [key for key in PREDICTIONS if key not in CHOICES]
FIRST = [key for key in CHOICES if TABLE["predict"][key]["measure"] == "first_change"]


@pytest.mark.parametrize(
    ("read", "keys"),
    [(prediction, PREDICTIONS), (worked_out, PREDICTIONS), (self_check, CHECKS), (card, CARDS)],
)
def test_a_lesson_that_is_not_there_is_refused_with_those_that_are(read, keys):
    with pytest.raises(InputError) as refused:
        read("no such lesson")
    assert all(repr(key) in str(refused.value) for key in keys)


@pytest.mark.parametrize("key", CHECKS)
def test_every_check_has_one_right_answer_and_a_reply_to_each(key):
    options = self_check(key).options
    assert sum(option.right for option in options) == 1
    assert len(options) >= 3
    assert len({option.text for option in options}) == len(options)
    assert all(option.reply for option in options)


# ---- right answers ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "right"),
    [
        # Time = energy per area times area over power: area goes with diameter squared, power with
        # force. Heat lost to soaking makes the estimate grow by more than the area does.
        ("half_diameter", "a quarter of the time"),
        ("twice_force", "half the time"),
        ("twice_force_ember", "a third of the time"),
        ("same_speed", "the same time"),
        ("twice_diameter_watts", "the same watts"),
        ("rim_share", "three quarters of it"),  # 1 - (1/2)^2 of the area of a worn-in tip
        # Twice the weight is twice the energy; soaked heat goes with the effusivity, which grows.
        ("twice_heavy_wood", "three and a half times as long"),
        ("rack_share", "about a third of it"),  # see the table of the Wood Handbook, 4-2
        # 1/sqrt(frequency): Carslaw & Jaeger, 2nd ed., sec. 2.6 (from memory), for thick wood.
        ("half_stroke_ripple", "seven tenths as large"),
        # Heat made and dust worn off both go with the force.
        ("brown_dust", "as much as before"),
        # Most gain by speed; a few tire too soon, and of some no speed brings an ember.
        ("court_faster", "about two thirds of them"),
    ],
)
def test_the_right_answer_is_what_theory_says(key, right):
    assert worked_out(key).right == right


def model(key):
    """Ask the library for what a prediction's options stand for."""
    entry = TABLE["predict"][key]
    if key in FIRST:
        return min(changes(entry["before"]).values())
    if "before" not in entry:
        return asked_of(entry["measure"], entry.get("after", {}))
    if entry["measure"] == "ember":
        return compare(try_of(entry["before"]), try_of(entry["after"])).likely
    return asked_of(entry["measure"], entry["after"]) / asked_of(entry["measure"], entry["before"])


def changes(story):
    """Ask for what each change leaves of a learner's time, each marched alone."""
    state = try_of({key: value for key, value in story.items() if key != "arm"})
    found = advice(Learner(state=state, arm=arms()[story["arm"]]))
    now = times(found.learner.state).ember.likely
    return {move.key: times(move.then.state).ember.likely / now for move in found.moves}


@pytest.mark.parametrize("key", CHOICES)
def test_the_right_answer_is_marked_by_the_model_and_not_in_the_table(key):
    assert not any("right" in str(option) for option in TABLE["predict"][key]["options"])
    options, computed = dict(TABLE["predict"][key]["options"]), model(key)
    if key in FIRST:
        left = changes(TABLE["predict"][key]["before"])
        options = {text: left.get(change, 1.0) for text, change in options.items()}
    gaps = {text: abs(math.log(value / computed)) for text, value in options.items()}
    first, second = sorted(gaps, key=gaps.get)[:2]
    assert first == worked_out(key).right
    assert gaps[second] > 2 * gaps[first]  # by a clear margin, not by a hair
    answer = worked_out(key)
    assert answer.after / answer.before == pytest.approx(computed, rel=1e-9)


@pytest.mark.parametrize("key", [key for key in CHOICES if key not in FIRST])
def test_options_stand_in_order_of_size_and_no_change_last(key):
    texts, values = zip(*TABLE["predict"][key]["options"], strict=True)
    assert len(texts) >= 3
    assert len(set(texts)) == len(texts)
    changes = [value for value in values if value != 1.0]
    assert changes in (sorted(changes), sorted(changes, reverse=True))
    assert 1.0 not in values[:-1]


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
    asked = prediction(key)
    assert low < worked_out(key).after < high
    assert asked.within > 1
    assert asked.unit
    assert not asked.options


def test_every_number_to_guess_is_held_against_theory():
    assert NUMBERS == ["rests", "watts"]


@pytest.mark.parametrize("measure", ["bound", "ember", "smoke", "power", "dust_share"])
def test_what_is_measured_is_a_plain_number(measure):
    assert type(measured(measure, Try())) is float


def test_a_question_is_read_without_working_anything_out(monkeypatch):
    monkeypatch.setattr("fireheat.lessons.asked_of", pytest.fail)
    monkeypatch.setattr("fireheat.lessons.compared", pytest.fail)
    assert all(prediction(key).text for key in PREDICTIONS)


# ---- how much thinner, how much quicker ---------------------------------------------------------


def test_a_spindle_of_another_thickness_wears_off_between_as_deep_and_as_much():
    thick, thin = (try_of({"diameter": diameter}) for diameter in (0.022, 0.011))
    tries = worked_out("twice_diameter_ember").tries
    deep = times(thick).ember.likely / times(thin).ember.likely
    assert tries.same_depth == pytest.approx(deep)
    grams = [Try(Kit(radius=one.kit.radius, dust_mass=Try().kit.dust)) for one in (thick, thin)]
    heavy = times(grams[0]).ember.likely / times(grams[1]).ember.likely
    assert tries.same_grams == pytest.approx(heavy, rel=1e-6)
    assert heavy < tries.ratio.likely < deep
    # what the lanes show is what the ratio says
    shown = tries.after.wood.likely / tries.before.wood.likely
    assert shown == pytest.approx(tries.ratio.likely, rel=0.01)


@pytest.mark.parametrize("key", ["half_diameter", "twice_diameter_ember"])
def test_thinner_is_always_sooner_as_the_explanation_says(key):
    thick, thin = (try_of({"diameter": diameter}) for diameter in (0.022, 0.011))
    assert compare(thick, thin).high < 0.5
    for grams in (0.5, 1.0, 2.0):  # of an ordinary ember's dust
        kits = [
            Kit(radius=one.kit.radius, dust_mass=grams * Try().kit.dust) for one in (thick, thin)
        ]
        assert compare(*map(Try, kits)).high < 0.75
    explain = worked_out(key).explain
    assert re.search(r"It is always (sooner|later)\.", explain)
    assert "as deep a layer" in explain
    assert "as many grams" in explain


def test_the_numbers_of_the_assumption_about_thickness_are_the_librarys():
    thick, thin = (try_of({"diameter": diameter}) for diameter in (0.022, 0.011))
    deep = times(thin).ember.likely / times(thick).ember.likely
    grams = [Try(Kit(radius=one.kit.radius, dust_mass=Try().kit.dust)) for one in (thick, thin)]
    heavy = times(grams[1]).ember.likely / times(grams[0]).ember.likely
    explain = worked_out("half_diameter").explain
    assert f"{ratio_words(deep)} if as deep a layer wears off" in explain
    assert f"{ratio_words(heavy)} if as many grams do" in explain


def test_a_panel_that_opens_then_wears_off_what_the_lanes_show():
    asked = prediction("twice_diameter_ember")
    for side, other in (
        (asked.panel_before, asked.panel_after),
        (asked.panel_after, asked.panel_before),
    ):
        one, two = (try_of({"diameter": each["diameter"]}) for each in (side, other))
        assert side["burn_in_depth"] == as_compared(one, two).kit.burn_in_depth
    assert "burn_in_depth" not in prediction("half_diameter").panel_after


# ---- what is said -------------------------------------------------------------------------------


def test_no_explanation_has_a_number_typed_in_that_was_worked_out():
    allowed = (
        r"9 %|L\d\d|\{\w+(:[\d.]+)?\}"  # what is worked out, and settings as the question has them
    )
    for key, entry in TABLE["predict"].items():
        assert not re.search(r"\d", re.sub(allowed, "", entry["explain"])), key


def test_facts_in_explanations_are_the_models():
    explain = {key: worked_out(key).explain for key in PREDICTIONS}
    twice = try_of({"force": 120.0})
    assert (
        f"{number_words(Try().power)} W becomes {number_words(twice.power)} W"
        in explain["twice_force"]
    )
    share = percent_words(times(twice).bound / times(twice).ember.likely)
    assert f"With twice the watts {share} goes into the dust" in explain["dust_share"]
    cedar, oak = times(Try()).bound, times(try_of({"wood": "northern_red_oak"})).bound
    assert f"from {time_words(cedar)} to {time_words(oak)}" in explain["twice_heavy_wood"]
    even = measured("first_smoke", Try(), force=60.0, stroke_length=0.5, strokes_per_minute=64.0)
    assert f"would smoke after {time_words(even)}" in explain["rests"]
    assert "like a bright LED lamp" in explain["watts"]


def test_the_share_of_the_water_is_what_the_damp_kit_is_told():
    for moisture, least, most in ((0.09, 0.3, 1 / 3), (0.18, 0.45, 0.5)):
        parts = energy_parts(
            0.004,
            density=density(0.32),
            moisture=moisture,
            temperature_ambient=293.15,
            temperature_char=default("temperature_char"),
        )
        share = parts.water / parts.total
        assert least < share < most
        assert measured("water_share", Try(), moisture=moisture) == pytest.approx(share)
        assert f" {percent_words(share)}" in worked_out("twice_water").explain


def test_a_pair_that_wears_away_too_fast_is_one_beyond_the_limit():
    # The limit is where dust that takes all heat along just chars: so dust of a pair that wears
    # twice as fast rises half as far, whatever its force and speed.
    entry = TABLE["predict"]["brown_dust"]
    parts = energy_parts(
        0.004,
        density=density(0.32),
        moisture=0.09,
        temperature_ambient=293.15,
        temperature_char=default("temperature_char"),
    )
    rise = default("temperature_char") - 293.15
    limit = wear_limit(0.35, rise=rise, volumetric_heat_capacity=parts.total / 0.004 / rise)
    assert measured("dust_rise", Try(), wear=float(limit)) == pytest.approx(rise)
    assert entry["before"]["wear"] > 1.5 * limit
    for effort in ({"force": 150.0}, {"speed": 2.0}, {"diameter": 0.008}):
        rises = measured("dust_rise", Try(), wear=float(2 * limit), **effort)
        assert rises == pytest.approx(rise / 2)
    assert measured("char_rise", Try()) == pytest.approx(rise)


def test_the_rack_keeps_what_the_weather_says():
    asked, answer = prediction("rack_share"), worked_out("rack_share")
    assert answer.before == asked_of("stored", asked.before)
    assert (
        answer.found == f"{percent_words(answer.after)} instead of {percent_words(answer.before)}"
    )


@pytest.mark.parametrize(
    ("key", "given", "words"),
    [
        ("half_diameter", "a quarter of the time", "As you said: a quarter of the time."),
        ("half_diameter", "half the time", "Sooner than you said: a quarter of the time."),
        ("half_diameter", "an eighth of the time", "Later than you said: a quarter of the time."),
        ("press_hard", "twice as many", "Less than you said: 0.76 times as many."),
        ("watts", 10.5, "As you said, near enough: 10 W."),
        ("watts", 15.6, "As you said, near enough: 10 W."),
        ("watts", 15.9, "Less than you said: 10 W."),
        ("watts", 6.9, "More than you said: 10 W."),
        ("watts", 0.0, "More than you said: 10 W."),
        ("rests", 30.0, "Later than you said: 40 s."),
    ],
)
def test_what_was_found_is_said_beside_what_was_guessed(key, given, words):
    assert headline(prediction(key), worked_out(key), given) == words


def test_nobody_is_told_to_be_wrong():
    for key in CHOICES:
        for text in prediction(key).options:
            said = headline(prediction(key), worked_out(key), text) + worked_out(key).explain
            assert not re.search(r"\b(wrong|right|correct|mistake|no,)\b", said, re.IGNORECASE)


def test_a_guess_stands_where_it_would_land():
    asked, answer = prediction("twice_diameter_ember"), worked_out("twice_diameter_ember")
    assert said_value(asked, answer, "twice as long") == 2 * answer.tries.before.wood.likely
    asked, answer = prediction("half_diameter"), worked_out("half_diameter")
    assert said_value(asked, answer, "half the time") == answer.tries.before.bound.likely / 2
    assert said_value(prediction("watts"), worked_out("watts"), 3.0) == 3.0


def test_the_ratio_with_all_we_do_not_know_is_that_of_the_draws():
    for key, entry in TABLE["predict"].items():
        if entry["measure"] == "ember":
            ratio = compare(try_of(entry["before"]), try_of(entry["after"]))
            assert worked_out(key).tries.ratio == ratio
            assert worked_out(key).known == factor_words(ratio)
        elif key not in FIRST:
            assert worked_out(key).known == ""


# ---- words that stand for something -------------------------------------------------------------


def test_a_change_of_the_ordinary_kit_is_told_by_its_ratio():
    assert change_ratio("bound", {"diameter": 0.5}) == 0.25
    assert change_ratio("power", {"speed": 2.0}, {"force": 30.0}) == pytest.approx(2.0)


def test_the_foil_that_robs_an_ember_weighs_what_the_question_says():
    foil = catchers()["aluminium_foil"]
    grams = 1000 * foil.density * foil.thickness * math.pi * 0.06**2
    assert grams == pytest.approx(0.5, abs=0.05)
    assert "12 cm across, weighs half a gram" in self_check("why_thin_robs").text


def test_the_order_of_catchers_is_asked_before_its_panel_and_does_not_say_the_answer_first():
    asked = self_check("catcher_order")
    right = next(option for option in asked.options if option.right)
    assert "See the panel" not in str(asked)
    replies = [option.reply for option in asked.options if not option.right]
    named = ("bark", "leather", "leaf", "foil")
    for reply in replies:  # a reply to another answer points to the panel, and orders nothing
        assert sum(name in reply for name in named) < 2, reply
    assert "too close to call" in right.reply


WORDS = str(TABLE)


@pytest.mark.parametrize(
    "other",
    ["person in charge", "responsible adult", "dult beside", "in the hedge", "energy floor"],
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
