"""Predict, then see; self-checks; and every sentence that answers, read once."""

import html
import re

import ipywidgets as widgets
import pytest
from reading import read, values

from fireheat import InputError
from fireheat.answers.cards import judge
from fireheat.answers.questions import try_of
from fireheat.data import table
from fireheat.lessons import RISES, card, headline, prediction, self_check, stands, worked_out
from fireheat.panels import (
    Catchers,
    Explorer,
    Predict,
    PressAndSpeed,
    Rings,
    SelfCheck,
    SheetThickness,
    Warmth,
)
from fireheat.panels.questions import _AXES
from fireheat.quantities import METRIC, US, quantity
from fireheat.spread import spread

PREDICTIONS, CARDS = (sorted(table("lessons")[kind]) for kind in ("predict", "card"))
CHOICES = [key for key in PREDICTIONS if prediction(key).options]


# ---- every sentence that answers ----------------------------------------------------------------


def everything_said_of_cards():
    """All that a card can say: each verdict and each rule, at what is offered of each slider."""
    for key in CARDS:
        task = card(key)
        for turn, moved in enumerate(tried_of(task)):
            found = spread(try_of(task.rules.settings(moved)), draws=32)
            verdict = judge(task.rules, moved, found)
            how = {"ways": [verdict.changed] * verdict.level.met, "system": (METRIC, US)[turn % 2]}
            said = stands(task, verdict, moved, found=found, **how)
            yield f"card {key} {moved}", verdict, str(said)


def tried_of(task):
    """Each free thing at its ends and in between, one at a time, and all of them at an end."""
    offered = {}
    for key in task.rules.free:
        if key == "wood":
            offered[key] = ["western_redcedar", "northern_red_oak", "eastern_white_pine"]
        else:
            low, high = quantity(key).slider
            offered[key] = [low, low + 0.12 * (high - low), low + 0.45 * (high - low), high]
    start = {key: task.rules.at_start(key) for key in task.rules.free}
    yield start
    for key, several in offered.items():
        yield from (start | {key: one} for one in several)
    for end in (0, 1, 2, -1):
        yield {key: several[end] for key, several in offered.items()}


def told_by_predictions():
    for key in PREDICTIONS:
        asked, answer = prediction(key), worked_out(key)
        given = list(asked.options)
        if not given:
            value, within = answer.after, asked.within
            given = [0.01, 0.9 * value / within, value, 1.1 * value * within, 1e6]
        yield from ((f"predict {key}: {one}", headline(asked, answer, one)) for one in given)
        panel = Predict(key)
        yield f"all of {key}", panel.commit(given[0])
        yield f"picture of {key}", panel.reveal.sentence()


def told_by_checks():
    for key in table("lessons")["check"]:
        check = SelfCheck(key)
        for option in self_check(key).options:
            check.asked[0].radio.value = option.text
            yield f"check {key}: {option.text}", check.asked[0].voice.text


BROKEN = {
    "a small start": r"^[^A-Z✔✘≈]",
    "no end": r"[^.!?)]$",
    "a clause that does not follow": r"because (but|and|or|not|if|that is because)\b",
    "an answer that is a mere afterthought": r"Yes: (and|but|or|if|not)\b",
    "two marks": r"[.,;:!?…]\s*[.,;:!?…]",
    "one time": r"\b1 times|100 % of",
    "one word twice": r"(?i)\b(\w+) \1\b",
    "two spaces": r"  ",
    "a small letter after a point": r"[.!?] [a-z]",
    "powers of ten": r"\de[+-]\d",
    "no number": r"\b(nan|inf|None)\b",
    "code": r"[{}_]",
    "from a thing to the same": r"(?<![\d.,])([\d.,]+ \S+) (to|becomes) \1(?![\d.,])",
}


def faults_of(answer):
    found = [fault for fault, pattern in BROKEN.items() if re.search(pattern, answer)]
    pairs = all(answer.count(one) == answer.count(other) for one, other in ("“”", "()"))
    return found if pairs else [*found, "half a pair"]


@pytest.mark.parametrize("told", [told_by_predictions, told_by_checks])
def test_every_answer_to_a_question_is_a_whole_sentence(told):
    assert [(asked, said, faults_of(said)) for asked, said in told() if faults_of(said)] == []


def test_all_that_a_card_can_say_is_whole_sentences_and_each_of_its_replies_is_said():
    levels, broken, faults = set(), set(), []
    for asked, verdict, said in everything_said_of_cards():
        levels.add(verdict.level)
        broken.add(verdict.broken)
        faults += [(asked, said, faults_of(said))] if faults_of(said) else []
    assert not faults
    assert levels == {"untried", "refused", "late", "likely", "wood", "all"}
    replies = {*table("lessons")["reply"]}
    for entry in table("lessons")["card"].values():
        replies |= set(entry.get("replies", {}))
    assert (
        replies - {"turn", "hold"} <= broken
    )  # for these the corners of the sliders are too coarse


def test_what_is_broken_is_found():
    for said in (
        "but fewer.",
        "Yes: and so.",
        "It is 1 times as much.",
        "Not yet, because but no.",
    ):
        assert faults_of(said)
    assert not faults_of("✔ Goal met with this wood: 61 s at the slow end.")


# ---- predict ------------------------------------------------------------------------------------


@pytest.fixture
def predict():
    return Predict("half_diameter", then=Explorer())


def test_nothing_is_revealed_before_a_prediction_stands(predict):
    for step in (lambda: None, predict._commit.click):  # even if the button could be pressed
        step()
        assert predict.children == (predict.asked,)
        assert "not tried yet" in predict.sentence()
        assert worked_out("half_diameter").explain[:40] not in predict.sentence()
        assert predict.png is None
    assert predict._commit.disabled


def test_choosing_alone_is_not_yet_committing(predict):
    predict.asked.radio.value = "half the time"
    assert not predict._commit.disabled
    assert "not tried yet" in predict.sentence()
    assert predict.children == (predict.asked,)


@pytest.mark.parametrize("given", ["a quarter of the time", "the same time"])
def test_what_came_of_it_opens_with_the_commitment(predict, given):
    answer = predict.commit(given)
    assert answer.startswith("As you said" if "quarter" in given else "Sooner than you said")
    found = worked_out("half_diameter")
    assert values(predict.reveal) == [found.found, given]
    why = read(predict.reveal.why.value)
    assert why == " ".join(found.explain.split())
    assert why in answer
    assert predict.png == predict.reveal.png
    assert not {"fh-yes", "fh-no"} & set(predict.asked._dom_classes)  # nobody is judged
    assert predict._then not in predict.children


def test_a_prediction_is_made_once(predict):
    first = predict.commit("half the time")
    assert predict.commit("a quarter of the time") == first
    assert predict.asked.radio.disabled
    assert all(box.disabled for box in predict.hands.boxes.values())


def test_it_can_be_asked_again_for_the_next_group(predict):
    predict.hands.boxes["half the time"].value = 7
    predict.commit("half the time")
    predict.move_it()
    predict._again.click()
    assert predict.children == (predict.asked,)
    assert predict.asked.radio.value is None
    assert set(predict.hands.counts.values()) == {0}
    assert predict._commit.disabled
    assert not predict.asked.radio.disabled
    assert "not tried yet" in predict.sentence()
    assert predict.commit("a quarter of the time").startswith("As you said")


def test_a_number_can_be_asked_again():
    predict = Predict("watts")
    predict.commit(3.0)
    predict.ask_again()
    assert predict.asked.radio.value == 0.0
    assert predict._commit.disabled


def test_hands_that_are_up_are_a_guess_and_a_choice_outdoes_them(predict):
    boxes = predict.hands.boxes
    assert list(boxes) == list(prediction("half_diameter").options)
    boxes["an eighth of the time"].value = 4
    boxes["half the time"].value = 9
    assert not predict._commit.disabled
    predict._committed()
    assert predict.hands.layout.display is None  # what was counted stays to be seen
    assert values(predict.reveal)[1] == "half the time"
    predict.ask_again()
    boxes["half the time"].value = 9
    assert predict.commit("the same time").startswith("Sooner than you said")
    assert values(predict.reveal)[1] == "the same time"
    predict.ask_again()
    predict.commit("the same time")
    assert predict.hands.layout.display == "none"  # nobody counted
    predict.ask_again()
    assert predict.hands.layout.display is None


def test_hands_say_to_a_screen_reader_what_they_are_up_for(predict):
    for text, box in predict.hands.boxes.items():
        assert read(box.description) == f"hands up for {text}"


def test_nothing_counted_or_said_is_kept_in_a_notebook(predict):
    predict.hands.boxes["half the time"].value = 7
    kept, _ = predict._repr_mimebundle_()
    assert "7" not in kept["text/plain"].replace("7/8", "")


def test_the_panel_opens_with_what_was_before_kept_and_the_change_made(predict):
    predict.commit("half the time")
    assert predict._then not in predict.children
    predict._move.click()
    assert predict.children[-1] is predict._then
    assert predict._then.before["diameter"] == 0.022
    assert predict._then.state["diameter"] == 0.011
    predict._move.click()  # pressed again, it changes nothing
    assert predict.children.count(predict._then) == 1


@pytest.mark.parametrize(
    ("panel", "keys"),
    [
        (Warmth, ("half_stroke_ripple", "longest_stroke")),
        (Rings, ("twice_diameter_watts",)),
        (PressAndSpeed, ("press_soft", "press_hard")),
        (SheetThickness, ("thin_foil",)),
        (Catchers, ("foil_or_leather", "bed_of_dust")),
    ],
)
def test_the_changes_of_other_pages_can_be_made_in_their_panels(panel, keys):
    there = set(panel().control)
    for key in keys:
        asked = prediction(key)
        assert {name for name in asked.panel_after if name in there}, key
        changed = [
            k for k, value in asked.panel_after.items() if asked.panel_before.get(k) != value
        ]
        assert set(changed) <= there | {"catcher"}, key


def test_a_change_of_strokes_opens_the_explorer_set_by_strokes():
    predict = Predict("same_speed", then=Explorer())
    predict.commit("the same time")
    predict.move_it()
    state, before = predict._then.state, predict._then.before
    assert (before["stroke_length"], state["stroke_length"]) == (0.3, 0.6)
    assert before["by_strokes"] is state["by_strokes"] is True
    assert state["speed"] == pytest.approx(1.0)


def test_any_widget_may_open_then():
    predict = Predict("watts", then=widgets.HTML("more"))
    predict.commit(3.0)
    predict.move_it()
    assert predict.children[-1].value == "more"


def test_without_a_panel_there_is_nothing_to_move():
    predict = Predict("watts")
    predict.commit(3.0)
    predict.move_it()
    assert len(predict.children) == 3
    assert predict._move not in predict.children[-1].children


def test_what_comes_then_must_be_a_widget():
    with pytest.raises(InputError, match="allowed: a panel or another widget"):
        Predict("watts", then="Explorer()")


def test_a_guess_within_what_nobody_knows_is_told_so():
    predict = Predict("twice_force_ember")
    predict.commit("a third of the time")
    assert "that lies within what nobody knows" in read(predict.reveal.face.value)
    predict.ask_again()
    predict.commit("a tenth of the time")
    assert "within" not in read(predict.reveal.face.value)
    assert "with all we do not know: 0.19 to 0.38 of the time" in read(predict.reveal.face.value)


def test_every_measure_that_no_lane_shows_has_an_axis():
    for key in PREDICTIONS:
        assert prediction(key).measure in {*_AXES, *RISES, "ember", "bound"}


def test_no_number_is_torn_from_its_unit_in_what_opens():
    for key in ("twice_water", "twice_force", "press_soft"):
        predict = Predict(key)
        predict.commit(next(iter(prediction(key).options)))
        shown = html.unescape(predict.reveal.why.value + predict.reveal.face.value)
        assert not re.search(r"\d (W|s|min|%|°C|J|N|mm)\b", shown), shown


# ---- self-check ---------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["why_four", "units", "before_lighting"])
def test_a_self_check_answers_every_choice_and_never_raises(key):
    check = SelfCheck(key)
    assert "not tried yet" in check.sentence()
    for option in self_check(key).options:
        check.asked[0].radio.value = option.text
        opening = "Yes:" if option.right else "Not yet, because"
        assert check.asked[0].voice.text == f"{opening} {option.reply}"
        assert f"fh-{'yes' if option.right else 'no'}" in check.asked[0]._dom_classes
        assert f"fh-{'no' if option.right else 'yes'}" not in check.asked[0]._dom_classes


def test_answers_do_not_run_into_each_other():
    check = SelfCheck("why_four", "units")
    check.asked[1].radio.value = "W / J = s"
    assert check.asked[0].voice.text == "not tried yet"


def test_one_question_is_one_question():
    assert SelfCheck("why_four").sentence() == "Self-check, 1 question: not tried yet"
    assert SelfCheck("why_four", "units").sentence().startswith("Self-check, 2 questions: ")
