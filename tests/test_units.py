"""Units are chosen once: what follows, what keeps its own, what is kept, and how texts are told."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reading import FOREIGN, read, shown

from fireheat import lessons
from fireheat.data import table
from fireheat.derivation.thick import thick_steps
from fireheat.kept import read_kept, write_kept
from fireheat.panels import Explorer, Predict, SelfCheck, Stepper, WhatIf
from fireheat.panels.controls import Slider
from fireheat.panels.units import ChosenUnits, Units, chosen_units, followed
from fireheat.panels.working import page_words
from fireheat.quantities import METRIC, US, InputError, quantities, quantity
from fireheat.texts import in_units
from fireheat.words import inch_words

TABLE = table("lessons")
RULED = [key for key, row in quantities().items() if row.parts]


# ---- one choice ---------------------------------------------------------------------------------


def test_what_has_no_units_of_its_own_follows_wherever_they_were_chosen():
    one, other, card, own = Explorer(), Explorer(), WhatIf("heavy_spindle"), Explorer(units=METRIC)
    one.units.value = US  # as a reader presses it
    assert "5/8 in" in one.voice.text
    assert "5/8 in" in other.sentence()
    assert "7/8 in" in card.sentence() + shown(card)
    assert Explorer().system == US  # shown later
    assert {other.units.value, card.units.value, chosen_units.system} == {US}
    assert (own.units.value, own.system) == (METRIC, METRIC)
    own.units.value = US
    own.units.value = METRIC
    assert chosen_units.system == one.system == US


def test_a_panel_follows_a_holder_that_it_is_given():
    both = Units(US)
    one, other = Explorer(units=both), Stepper(thick_steps(), units=both)
    both.choose(METRIC)
    assert "16.0 mm" in one.sentence()
    assert followed(both) is other.holder is both


def test_units_that_nobody_has_are_refused():
    with pytest.raises(InputError, match="units is 'imperial'; allowed: metric, us"):
        chosen_units.choose("imperial")
    assert chosen_units.system == METRIC


def test_the_choice_is_kept_and_read_as_a_kernel_starts(monkeypatch, tmp_path):
    monkeypatch.setenv("FIREHEAT_HOME", str(tmp_path))
    assert ChosenUnits().system == METRIC
    ChosenUnits().choose(METRIC)  # as it is: nobody has chosen
    assert list(tmp_path.iterdir()) == []
    ChosenUnits().choose(US)
    assert read_kept("units") == {"system": US}
    assert ChosenUnits().system == US
    write_kept("units", {"system": "imperial"})
    assert ChosenUnits().system == METRIC


def test_of_two_pages_that_disagree_the_last_choice_counts():
    holder, panel = ChosenUnits(), Explorer(units=METRIC)
    panel.holder = holder
    holder.follow(panel)
    holder.choose(US)
    _, at = holder._link.said
    assert panel.system == METRIC or panel.sentence()
    holder._link.said = METRIC, at - 1.0  # older: it was under way meanwhile
    assert holder.system == US
    holder._link.said = METRIC, at + 1.0
    assert holder.system == METRIC
    assert "16.0 mm" in panel.sentence()
    holder.choose(US)  # by a clock that is behind
    assert holder._link.said[0] == US
    assert holder._link.said[1] > at + 1.0


def test_a_panel_that_nobody_sees_waits_and_none_is_answered_anew(monkeypatch):
    seen, hidden = Explorer(), Explorer()
    seen.voice.views = 1
    asked = []
    monkeypatch.setattr(Explorer, "answer", lambda self, state: asked.append(self))
    monkeypatch.setattr(Explorer, "show_answer", lambda self: asked.append((self, self.system)))
    chosen_units.choose(US)
    assert asked == [(seen, US)]
    chosen_units.choose(METRIC)
    chosen_units.choose(US)
    hidden.voice.views = 1  # scrolled to
    assert asked == [(seen, US), (seen, METRIC), (seen, US), (hidden, US)]


# ---- what is asked and told ---------------------------------------------------------------------


def test_a_prediction_is_asked_and_answered_in_the_units_chosen():
    predict = Predict("brown_dust")
    predict.commit("twice as much")
    chosen_units.choose(US)
    assert "300 °F" in predict.told()
    assert "°C" not in predict.told() + read(predict.reveal.why.value) + shown(predict.reveal)
    thick = Predict("half_diameter")
    assert "7/8 in" in thick.asked.question.value.replace("\xa0", " ")
    chosen_units.choose(METRIC)
    assert "160 °C" in predict.told()
    assert "22 mm" in thick.asked.question.value.replace("\xa0", " ")


def test_a_check_is_answered_again_in_the_units_chosen():
    check = SelfCheck("what_dries")
    check.asked[0].radio.value = check.asked[0].radio.options[2]
    assert "15 °C more is little on the way to 350 °C" in check.sentence()
    chosen_units.choose(US)
    assert "27 °F more is little on the way to 660 °F" in check.sentence()


def test_steps_and_what_is_left_out_are_told_in_the_units_chosen():
    steps = Stepper(thick_steps())
    chosen_units.choose(US)
    number = next(i for i, step in enumerate(steps.steps) if step.title.startswith("Smoke first"))
    assert "Smoke at 527 °F" in steps.go(number)
    assert "527 °F" in steps._repr_mimebundle_()[0]["text/markdown"]
    explorer = Explorer()
    made = explorer._working("ember")
    assert "297 °F" in page_words(made, "left_out", US)
    assert "147 °C" in page_words(made, "left_out")


def texts(system):
    """Everything that lessons say, by name."""
    for key in TABLE["predict"]:
        asked, answer = lessons.prediction(key, system), lessons.worked_out(key, system)
        yield f"predict {key}", f"{asked.text} {answer.found} {answer.explain}"
    for key in TABLE["check"]:
        question = lessons.self_check(key, system)
        yield f"check {key}", " ".join([question.text, *(one.reply for one in question.options)])
    for key in TABLE["card"]:
        card = lessons.card(key, system)
        yield f"card {key}", f"{card.story} {card.task} {card.hint}"


def options():
    for key in TABLE["predict"]:
        yield from lessons.prediction(key).options
    for key in TABLE["check"]:
        yield from (option.text for option in lessons.self_check(key).options)


@pytest.mark.parametrize("system", [METRIC, US])
def test_no_text_of_a_lesson_mixes_units(system):
    found = {name: re.search(FOREIGN[system], words) for name, words in texts(system)}
    assert {name: one.group() for name, one in found.items() if one} == {}


def test_options_are_the_same_in_all_units():
    for words in options():
        assert not any(re.search(foreign, words) for foreign in FOREIGN.values()), words


def test_a_place_for_a_quantity_that_is_not_there_is_a_slip():
    with pytest.raises(KeyError):
        in_units("{thickness_of_ice:0.1}")
    assert in_units("{diameter:0.0127} of {what}", US, what="ash") == "1/2 in of ash"
    assert in_units("{speed:1.0}, {force:0.4}") == "1 m/s, 0 N"


# ---- fractions of an inch -----------------------------------------------------------------------


@given(st.integers(0, 5000), st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_a_mark_of_a_rule_is_spelled_in_lowest_terms_and_reads_back(marks, parts):
    words = inch_words(marks / parts, parts)
    assert sum(map(Fraction, words.split())) == Fraction(marks, parts)
    for part in words.split():
        over, _, under = part.partition("/")
        assert not under or (int(over) < int(under) and int(over) % 2 == 1)


@given(st.floats(0, 80), st.sampled_from([1, 4, 32, 64]))
def test_any_length_is_told_by_the_mark_that_is_nearest(inches, parts):
    told = sum(map(Fraction, inch_words(inches, parts).split()))
    assert abs(float(told) - inches) <= 0.5 / parts + 1e-9


@pytest.mark.parametrize("key", RULED)
def test_a_slider_in_inches_stands_on_marks_and_reckons_with_what_it_shows(key):
    row, slider = quantity(key), Slider(key)
    start = slider.value
    slider.show_in(US)
    assert slider.value == start  # looking at it in inches moves nothing
    widget = slider.widget
    assert row.parts == pytest.approx(1 / widget.step)
    for share in (0.0, 0.3, 0.71, 1.0):
        stops = round(share * (widget.max - widget.min) / widget.step)
        widget.value = widget.min + stops * widget.step  # as dragged
        told = row.text(slider.value, US).removesuffix(" in")
        assert float(sum(map(Fraction, told.split()))) == pytest.approx(widget.value)
        assert slider.value == pytest.approx(row.si(widget.value, US))
    widget.value = typed = widget.min + 2.3 * widget.step
    assert slider.value == pytest.approx(row.si(widget.value, US))
    assert widget.value == pytest.approx(typed - 0.3 * widget.step)
    assert f"fh-parts-{row.parts}" in widget._dom_classes
    slider.show_in(METRIC)
    assert not any(name.startswith("fh-parts") for name in widget._dom_classes)
