"""Panels driven as a reader drives them: sliders move, words and picture answer."""

import base64
import html
import re

import numpy as np
import pytest
from reading import alt, notes, png, shown, values

from fireheat import Effort, InputError, Kit, panels
from fireheat.answers.explorer import changes, ten_tries
from fireheat.data import table
from fireheat.derivation.bound import bound_steps
from fireheat.ember.ignition import enough_dust
from fireheat.estimates import estimate
from fireheat.figures.sketch import Sketch
from fireheat.kit.kit import Try
from fireheat.panels import Explorer, Stepper
from fireheat.panels.base import Panel, Voice
from fireheat.panels.controls import Slider
from fireheat.quantities import METRIC, US, quantity, unit_text
from fireheat.spread import compare, spread
from fireheat.words import band_words, factor_words, floor_words, likely_words, time_words

SLIDERS = [key for key, control in Explorer().control.items() if isinstance(control, Slider)]
CARDS = sorted(table("lessons")["card"])


@pytest.fixture
def explorer():
    return Explorer()


def drag(panel, key, value):
    """Move a slider's handle to a number in the unit that is shown."""
    panel.control[key].widget.value = value


# ---- words, numbers and picture follow ------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "value"), [("diameter", 20.0), ("force", 90.0), ("friction", 0.5), ("speed", 1.5)]
)
def test_moving_a_slider_changes_numbers_picture_and_spoken_line(explorer, key, value):
    before, face = seen(explorer), explorer.face.value
    drag(explorer, key, value)
    assert explorer.state[key] == pytest.approx(quantity(key).si(value))
    words, spoken, drawn = seen(explorer)
    assert words != before[0]
    assert spoken != before[1]
    assert drawn != before[2]
    explorer.reset()  # the picture stands upright as at the start, too
    assert (seen(explorer), explorer.face.value) == (before, face)


def seen(panel):
    """Numbers, spoken line and picture."""
    return shown(panel), panel.voice.text, png(panel)


def test_what_is_spoken_seen_and_printed_is_one_sentence(explorer):
    for value in (9.0, 25.0):
        drag(explorer, "diameter", value)
        assert alt(explorer) == explorer.voice.text == explorer.sentence()
        assert str(explorer) == repr(explorer) == explorer.sentence()


GRID = [
    {"diameter": 0.016, "force": 80.0, "friction": 0.4, "speed": 1.2, "moisture": 0.12},
    {"diameter": 0.009, "force": 120.0, "burn_in_depth": 0.002},
    {"diameter": 0.024, "speed": 1.4, "wood": "eastern_cottonwood"},
    {"diameter": 0.022, "force": 30.0, "speed": 0.55},
    {"dust": "dust_mass", "dust_mass": 0.0002, "diameter": 0.012},
]


@pytest.mark.parametrize("state", GRID)
def test_headline_tiles_and_spoken_line_are_those_of_the_library(explorer, state):
    explorer.set(**state)
    tried = Try().changed(**{key: value for key, value in state.items() if key != "dust"})
    now = estimate(tried.kit, tried.effort, tried.air)
    both, spoken = spread(tried), explorer.sentence()
    ember, smoke, floor, dust, watts = values(explorer)
    assert ember == band_words(both.all)
    assert smoke == band_words(both.smoke_all)
    assert floor == floor_words(now.bound)
    assert watts == f"{now.power:.2g} W"
    words = {"stays hot": "enough", "perhaps": "perhaps", "goes out": "too little"}
    keeps = enough_dust(tried.kit)
    assert dust == ("no hot dust" if now.never else words[keeps.verdict])
    note, smokes, range_, *_ = notes(explorer)
    assert band_words(both.bound) in range_
    assert smokes == likely_words(now.smoke.likely)
    assert f"Floor {floor_words(now.bound)}." in spoken
    if now.never:
        assert now.never in note
        assert (
            f"{now.never}. Ways out: a thinner spindle" in spoken or band_words(both.all) in spoken
        )
        return
    inner = f"with wood like yours {band_words(both.wood)}"
    assert inner in note
    assert likely_words(now.ember.likely) in note
    headline = f"Ember, estimate {band_words(both.all)} ({inner}, {likely_words(now.ember.likely)})"
    assert spoken.startswith(headline)  # what a stopwatch would see leads


def test_what_an_arm_cannot_give_and_too_little_dust_are_said_so(explorer):
    assert "see page" not in shown(explorer)
    explorer.set(force=150.0, speed=2.5, friction=0.8)
    assert "no arm gives 150 W: see page 05" in shown(explorer)
    explorer.set(diameter=0.006, burn_in_depth=0.002)
    assert "in the heap may not keep itself hot: see page 08" in shown(explorer)
    assert "perhaps" in values(explorer)


def test_all_buttons_stand_in_one_row_and_notes_are_short(explorer):
    *_, below, foot = explorer.stage.children
    row = below.children[0]
    buttons = {explorer.twice, explorer.ten, explorer.more, explorer.working.button}
    buttons |= {explorer.mine.button, explorer.worth_button}
    assert buttons | {explorer.keep_button, explorer.reset_button} <= set(row.children)
    assert foot.children == (explorer.voice,)
    for state in ({}, {"force": 150.0, "speed": 2.5}, {"force": 10.0}, {"diameter": 0.006}):
        explorer.set(**state)
        _, _, *short = notes(explorer)
        assert all(len(note) <= 76 for note in short)  # two lines
        explorer.reset()


def test_the_floor_cannot_be_taken_for_an_estimate_nor_for_a_promise(explorer):
    said = shown(explorer)
    assert re.search(r"Floor [\d½.]+ (s|min) no sooner, at just these numbers; ", said)
    assert re.search(r"Ember, estimate [^A-Z]* to ", said)
    assert not re.search(r"(?i)never sooner|promise|bound|energy floor", said + explorer.sentence())


def test_a_floor_of_more_than_an_hour_is_no_never():
    explorer, pile, strokes = Explorer(), panels.WoodsSideBySide(), panels.Strokes()
    said = explorer.set(diameter=0.032, force=10.0, friction=0.1, speed=0.1)
    assert "Never an ember at" in said
    assert "Floor over an hour." in said
    pile.set(diameter=0.032, force=3.0, speed=0.1)
    for panel in (explorer, pile):
        assert re.search(r"loor\s+over an hour", shown(panel))
    strokes.set(stroke_length=0.1, strokes_per_minute=20.0, force=0.5)
    assert "over an hour" in shown(strokes)


def effects(explorer):
    return {
        key: control.effect.value.replace("\xa0", " ") for key, control in explorer.control.items()
    }


def test_nothing_says_what_twice_would_do_before_it_is_asked(explorer):
    assert not any(effects(explorer).values())
    explorer.twice.value = True
    said, twice = effects(explorer), changes(Try())
    for key in ("diameter", "force", "friction", "speed", "burn_in_depth", "moisture"):
        assert said[key] == f"Twice this: {factor_words(twice[key].ember)}"
    drag(explorer, "diameter", 24.0)
    assert effects(explorer)["force"] != said["force"]
    explorer.twice.value = False
    assert not any(effects(explorer).values())


@pytest.mark.parametrize("idle", ["force", "speed", "friction"])
def test_a_bow_that_does_nothing_never_makes_an_ember_and_breaks_nothing(explorer, idle):
    explorer.twice.value = True
    said = explorer.set(**{idle: 0.0})
    assert "Never an ember" in said
    assert "no rubbing, no heat" in shown(explorer)
    assert not re.search(r"\b(nan|inf)\b", explorer.face.value + said)
    assert "still most likely never" in effects(explorer)["diameter"]


def test_a_change_that_brings_an_ember_at_last_is_said_so(explorer):
    explorer.set(force=30.0, speed=0.6)  # 3.2 W, where 3.7 are carried away
    explorer.twice.value = True
    assert np.isinf(estimate(effort=Effort(force=30.0, speed=0.6)).ember.likely)
    assert "an ember at last" in effects(explorer)["force"]


@pytest.mark.parametrize("across", ["diameter", "force", "friction", "speed", "moisture"])
def test_the_picture_stands_upright_in_the_quantity_moved_last_or_in_one_that_is_chosen(
    explorer, across
):
    row = quantity(across)
    moved = explorer.set(**{across: 1.1 * explorer.state[across]})
    assert f" at {row.name} {row.text(explorer.state[across])}." in moved
    explorer.set(across=across)
    elsewhere = explorer.set(temperature_ambient=280.0, diameter=0.02)
    assert f" at {row.name} {row.text(explorer.state[across])}." in elsewhere


def test_dust_is_given_as_a_depth_or_in_grams_and_what_is_given_is_kept(explorer):
    explorer.set(diameter=0.012)
    assert explorer.state["dust_mass"] == pytest.approx(Kit(radius=0.006).dust)
    assert explorer.control["dust_mass"].box.layout.display == "none"
    said = explorer.sentence()
    # its band differs, since a lighter wood wears off deeper for the same grams
    likely = likely_words(estimate(Kit(radius=0.006)).ember.likely)
    assert all(likely in words for words in (said, explorer.set(dust="dust_mass")))
    assert explorer.control["burn_in_depth"].box.layout.display == "none"
    grams = explorer.state["dust_mass"]
    explorer.set(diameter=0.008)
    assert explorer.state["dust_mass"] == grams
    assert explorer.state["burn_in_depth"] == pytest.approx(0.004 * (12 / 8) ** 2)
    assert Explorer(Kit(dust_mass=2e-4)).state["dust"] == "dust_mass"
    explorer.set(burn_in_depth=0.003)  # what is set is what is kept
    assert explorer.state["dust"] == "burn_in_depth"
    explorer.set(dust_mass=2e-4, diameter=0.014)
    assert (explorer.state["dust"], explorer.state["dust_mass"]) == ("dust_mass", 2e-4)
    explorer.set(dust="burn_in_depth", diameter=0.010)
    explorer.reset()
    assert (explorer.state["dust"], explorer.state["burn_in_depth"]) == ("burn_in_depth", 0.004)


def test_before_and_now_are_compared_by_a_ratio_that_leads(explorer):
    explorer.keep_before()
    said = explorer.set(diameter=0.011)
    words = factor_words(compare(Try(), Try().changed(diameter=0.011)))
    assert said.startswith(f"Against before: {words}. Ember")
    assert notes(explorer)[0].startswith(f"against before: {words}")


def test_ten_tries_come_one_after_another_and_others_at_the_next_press(explorer):
    plain, shown_before = png(explorer), []
    for turn in (0, 1):
        explorer.ten.click()
        assert explorer.play.playing
        for count in range(1, 11):
            explorer.play.value = count
            ember = explorer.sketched.drawn()["tries"].x
            first, last = ten_tries(Try(), turn).ember[:count], explorer.sketched.plank.end
            np.testing.assert_allclose(ember, first[first <= last])
            newest = f"try {count} of 10: ember after {time_words(first[-1])}"
            assert newest in [word.text for word in explorer.sketched.written()]
            told = f"Ten tries by ten people: {band_words((min(first), max(first)))}."
            assert explorer.sentence().startswith(told) is (count == 10)
        shown_before.append(list(ember))
    assert shown_before[0] != shown_before[1]
    drag(explorer, "force", 65.0)
    assert not explorer.play.playing
    assert "tries" not in explorer.sketched.drawn()
    explorer.reset()
    assert png(explorer) == plain


def test_strokes_count_only_by_their_product(explorer):
    one = explorer.set(by_strokes=True, stroke_length=0.4, strokes_per_minute=150.0)
    other = explorer.set(stroke_length=0.8, strokes_per_minute=75.0)
    assert one == other
    assert explorer.set(by_strokes=False, speed=1.0) == one


def test_the_speed_that_strokes_make_stands_on_its_slider(explorer):
    explorer.set(by_strokes=True, stroke_length=0.3, strokes_per_minute=120.0)
    assert explorer.control["speed"].widget.value == pytest.approx(0.6)
    explorer.control["strokes_per_minute"].widget.value = 150.0
    assert explorer.control["speed"].widget.value == pytest.approx(0.75)
    explorer.reset()
    assert explorer.state["speed"] == 1.0


def idle_controls(panel):
    return {key for key in SLIDERS if panel.control[key].widget.disabled}


def test_only_one_way_to_set_the_speed_is_open(explorer):
    assert idle_controls(explorer) == {"stroke_length", "strokes_per_minute"}
    explorer.set(by_strokes=True)
    assert idle_controls(explorer) == {"speed"}


def test_a_state_before_does_not_close_the_sliders_of_the_state_now(explorer):
    explorer.keep_before()
    explorer.set(by_strokes=True)
    explorer.set(across="force")  # asks the state before anew
    assert idle_controls(explorer) == {"speed"}


# ---- names and units ------------------------------------------------------------------------


@pytest.mark.parametrize("units", [METRIC, US])
@pytest.mark.parametrize("key", SLIDERS)
def test_every_slider_carries_the_tables_name_and_unit(key, units):
    control = Explorer(units=units).control[key]
    row = quantity(key)
    assert control.widget.description == row.label(units)
    assert row.name in control.widget.description.lower()
    assert unit_text(row.shown_unit(units)) in control.widget.description
    off = 0.5 / row.parts if row.in_parts(units) else 1e-6  # in fractions, the nearest mark
    assert control.widget.value == pytest.approx(row.shown(control.value, units), rel=0, abs=off)


def test_switching_units_changes_every_number_and_no_state(explorer):
    explorer.set(diameter=0.0147, force=61.7, temperature_ambient=291.0)
    before, words, face = explorer.state, explorer.sentence(), shown(explorer)
    for _ in range(3):
        explorer.units.value = US
        assert explorer.state == before
        assert "19/32 in" in explorer.sentence()
        assert shown(explorer) == face  # times, grams and watts are the same everywhere
        assert explorer.control["force"].widget.description == "Downward force (lb)"
        explorer.units.value = METRIC
        assert explorer.state == before
    assert explorer.sentence() == words
    assert "14.7 mm" in words


def test_a_slider_moved_in_inches_moves_the_state_in_metres(explorer):
    explorer.units.value = US
    drag(explorer, "diameter", 0.5)
    assert explorer.state["diameter"] == pytest.approx(0.0127)
    drag(explorer, "temperature_ambient", 50.0)
    assert explorer.state["temperature_ambient"] == pytest.approx(283.15)


@pytest.mark.parametrize("key", SLIDERS)
def test_a_readout_that_is_only_tabbed_through_moves_nothing(key):
    # The browser's half sends the rounded text of a readout back when the focus leaves it.
    panel = Explorer(units=US)
    before = panel.state
    widget = panel.control[key].widget
    widget.value = float(format(widget.value, widget.readout_format))
    assert panel.state == before


@pytest.mark.parametrize("units", [METRIC, US])
@pytest.mark.parametrize("key", SLIDERS)
def test_a_value_is_always_one_of_the_stops_that_the_browser_can_show(key, units):
    row, control = quantity(key), Slider(key, Explorer().control[key].start)
    control.show_in(units)
    first, last = sorted(row.shown(end, units) for end in row.slider)
    for share in (None, 0.31, 0.77):  # as it starts, then numbers typed in
        typed = control.widget.value if share is None else first + share * (last - first)
        value = typed if share is None else round(typed, row.digits(units))
        control.widget.value = value
        stops = (control.widget.value - control.widget.min) / control.widget.step
        assert stops == pytest.approx(round(stops), abs=1e-6)
        mark = round(value * row.parts) / row.parts if row.in_parts(units) else value
        assert control.widget.value == pytest.approx(mark)
        assert control.widget.min >= first - 1e-9
        assert control.widget.max <= last + 1e-9
        assert control.widget.max - control.widget.min > last - first - 2 * control.widget.step


@pytest.mark.parametrize("continuous", [True, False])
def test_while_its_ends_move_a_slider_does_not_answer(continuous):
    # The browser would send back values that it had to squeeze in between old and new ends.
    slider, sent = Slider("diameter", continuous=continuous), []
    slider.show_in(METRIC)
    slider.widget.observe(lambda change: sent.append((change.name, change.new)))
    slider.show_in(US)
    names = [name for name, _ in sent]
    if continuous:
        assert sent[0] == ("continuous_update", False)
        assert sent[-1] == ("continuous_update", True)
    assert {"min", "max", "value", "step", "description"} <= set(names)
    sent.clear()
    slider.value = slider.start
    assert sent == []


# ---- before, reset ---------------------------------------------------------------------------


def test_a_state_before_stays_while_the_sliders_move(explorer):
    band = re.search(r"estimate (.*?) \(", explorer.sentence()).group(1)
    explorer.keep_before()
    first = shown(explorer)
    drag(explorer, "diameter", 25.0)
    assert f"Before: estimate {band}" in explorer.sentence()
    assert f"before: {band}" in shown(explorer)
    assert first != shown(explorer)
    drag(explorer, "force", 100.0)
    assert f"Before: estimate {band}" in explorer.sentence()


def test_a_state_before_is_seen_in_the_picture_and_gone_without_it(explorer):
    explorer.keep_before()
    drag(explorer, "diameter", 25.0)
    with_before = png(explorer)
    explorer.drop_before()
    assert png(explorer) != with_before
    assert "before: " not in (explorer.sentence() + shown(explorer)).lower()


def test_buttons_do_what_they_say(explorer):
    start = explorer.face.value
    drag(explorer, "diameter", 25.0)
    explorer.keep_button.click()
    assert explorer.before["diameter"] == pytest.approx(0.025)
    assert explorer.drop_button.layout.display is None
    explorer.drop_button.click()
    assert explorer.before is None
    assert explorer.drop_button.layout.display == "none"
    explorer.reset()
    assert explorer.face.value == start


def test_reset_puts_everything_back_but_the_readers_units(explorer):
    start = explorer.state
    explorer.units.value = US
    explorer.set(diameter=0.03, wood="silver_maple", across="force", by_strokes=True)
    explorer.reset()
    assert explorer.state == start
    assert explorer.system == US


def test_a_state_before_follows_the_units(explorer):
    explorer.keep_before()
    drag(explorer, "diameter", 25.0)
    explorer.units.value = US
    assert explorer.before["diameter"] == Kit().diameter
    assert "Before: " in explorer.sentence()


# ---- what cannot be -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("moved", "words"),
    [
        ({"force": 80.0, "diameter": 0.5}, "Did you mean 0.5 in"),
        ({"force": 80.0, "speed": -1.0}, "bow speed is -1 m/s"),
        ({"force": 80.0, "friction": "high"}, "friction coefficient must be a number"),
        ({"force": 80.0, "moisture": np.nan}, "wood moisture is nan"),
        ({"force": 80.0, "wood": "granite"}, "Wood cannot be 'granite'"),
        ({"force": 80.0, "bow_length": 0.7}, "no control ['bow_length']"),
        ({"by_strokes": True, "stroke_length": 1.5, "strokes_per_minute": 600.0}, "bow speed is"),
    ],
)
def test_a_bad_value_is_refused_and_nothing_has_moved(explorer, moved, words):
    state, face = explorer.state, explorer.face.value
    with pytest.raises(InputError) as refused:
        explorer.set(**moved)
    assert words in str(refused.value)
    assert (explorer.state, explorer.face.value) == (state, face)
    assert explorer.set(force=80.0) == explorer.sentence()  # and it still answers
    assert explorer.state["force"] == 80.0


# ---- what a notebook keeps ------------------------------------------------------------------


def test_a_notebook_that_is_only_read_keeps_sentence_and_picture(explorer):
    data, metadata = explorer._repr_mimebundle_()
    assert data["text/plain"] == explorer.sentence()
    assert base64.b64decode(data["image/png"]) == png(explorer)
    assert metadata["image/png"]["alt"] == explorer.sentence()


def test_the_spoken_line_is_a_polite_status(explorer):
    assert isinstance(explorer.voice, Voice)
    assert 'setAttribute("aria-live", "polite")' in str(explorer.voice._esm)


# ---- stepper --------------------------------------------------------------------------------


def test_a_derivation_goes_forth_and_back_and_not_beyond():
    steps = bound_steps()
    stepper = Stepper(steps)
    assert (stepper._back.disabled, stepper._next.disabled) == (True, False)
    for number, step in enumerate(steps):
        assert stepper.at == number
        assert step.title in stepper.voice.text
        assert f"{number + 1} of {len(steps)}" in stepper.sentence()
        assert html.escape(step.latex) in stepper.page.value
        stepper._next.click()
    assert stepper.at == len(steps) - 1
    assert (stepper._back.disabled, stepper._next.disabled) == (False, True)
    assert stepper.go(-5) == Stepper(steps).sentence()
    kept = stepper._repr_mimebundle_()[0]["text/markdown"]
    assert all(f"**{number}. {step.title}.**" in kept for number, step in enumerate(steps, 1))
    assert all(step.latex in kept and step.sentence in kept for step in steps)


# ---- what a panel must say for itself -----------------------------------------------------------


@pytest.mark.parametrize("missing", ["answer", "results", "draw"])
def test_a_panel_that_leaves_something_unsaid_cannot_be_made(missing):
    made = {"answer": lambda *_: 0, "results": lambda *_: "", "draw": lambda *_: (Sketch(8, 6), "")}
    whole = type("Whole", (Panel,), made)
    assert whole({}, []).sentence() == ""
    del made[missing]
    with pytest.raises(TypeError, match=missing):
        type("Part", (Panel,), made)({}, [])
