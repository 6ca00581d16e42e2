"""My kit in panels: measured here, put into the kit, taken elsewhere and taken off again."""

import json
import re
from functools import partial

import numpy as np
import pytest
from reading import shown, values

from fireheat import InputError, panels
from fireheat.answers.watts import Pulling, in_my_kit, watts
from fireheat.answers.worth import doubted, each_worth, narrowing
from fireheat.kit.kit import Try
from fireheat.my_kit import MyKit
from fireheat.panels import (
    Explorer,
    HeatView,
    MeasureNext,
    MeasureWatts,
    MyKitTable,
    Ramp,
    Strokes,
    TapCounter,
    WattLadder,
    WhatIf,
    WillItKeep,
    mine,
)
from fireheat.panels.mine import (
    BADGE,
    Holder,
    PutIntoMyKit,
    my_kit,
    narrowing_words,
    reading_words,
)
from fireheat.panels.trying import Trying
from fireheat.person.measuring import (
    NINE_OF_TEN,
    Measured,
    standard,
    tap_rate,
    tapped_speed,
    well_measured,
)
from fireheat.quantities import METRIC, US
from fireheat.spread import spread
from fireheat.words import band_words, range_words

FRICTION = Measured(0.33, 0.012)


@pytest.fixture(autouse=True)
def _nothing_measured():
    my_kit.clear()
    yield
    my_kit.clear()


def words_of(widget):
    return widget.said.value.replace("\xa0", " ")


# ---- measuring the watts ------------------------------------------------------------------------


@pytest.fixture(scope="module")
def measuring():
    return MeasureWatts()


@pytest.fixture
def panel(measuring):
    measuring.drop_before()
    measuring.reset()
    return measuring


def test_watts_shown_are_those_of_the_library(panel):
    said = panel.set(scale_pull=20.0, force=80.0, timed=True, smoke_time=9.0)
    found = watts(Pulling(scale_pull=20.0, force=80.0), smoke_time=9.0)
    for band in (found.band, found.hot_power):
        assert f"{range_words(band)} W" in said
        assert f"{range_words(band)} W" in shown(panel)
    assert f"{found.friction.value:.2f} ± {found.friction.error:.2f}" in shown(panel)
    assert f"{found.block:.1f} W" in shown(panel)


def test_each_reading_tells_what_it_adds_to_the_error(panel):
    assert "makes 5 of 10 parts of the ±" in panel.control["block_friction"].effect.value
    assert "The ± comes from the bearing block (6 of 10 parts), the scale (1 of 10" in shown(panel)
    panel.set(steady=False)
    assert "The ± comes from the scale (7 of 10 parts), the bearing block" in shown(panel)
    assert "makes 7 of 10 parts of the ±" in panel.control["scale_pull"].effect.value.replace(
        "\xa0", " "
    )


def test_cautions_stand_where_somebody_pulls_and_more_where_it_smokes(panel):
    face = shown(panel)
    for words in ("three slow strokes", "eye protection, or stands back", "adult in charge"):
        assert words in face
    assert "a leader who knows this" not in face
    panel.set(timed=True)
    assert "only at a fire place, with a leader who knows this" in shown(panel)


def test_the_stopwatch_is_there_only_where_smoke_was_timed(panel):
    box = panel.control["smoke_time"].box
    assert box.layout.display == "none"
    panel.set(timed=True)
    assert box.layout.display is None


def test_a_pull_that_the_block_takes_all_of_is_said_and_puts_nothing_in(panel):
    panel.set(scale_pull=2.0)
    assert "the block alone would take all that pull" in shown(panel)
    panel.put.put()
    assert my_kit.kit == MyKit()
    assert words_of(panel.put).endswith("There is nothing to put in yet.</span>")


def test_the_button_puts_what_is_measured_into_my_kit(panel):
    panel.set(scale_pull=16.0, stroke_length=0.6)
    panel.put.put_button.click()
    pulling = Pulling(scale_pull=16.0, stroke_length=0.6)
    assert my_kit.kit == MyKit(**in_my_kit(pulling, watts(pulling)))
    assert "In my kit now: bow pull ± " in words_of(panel.put)


# ---- the ramp and the taps ----------------------------------------------------------------------


def test_the_ramp_puts_in_sliding_friction_and_never_that_at_rest():
    ramp = Ramp()
    ramp.set(kind="static")
    ramp.put.put()
    assert not my_kit.kit
    ramp.set(kind="kinetic")
    ramp.put.put()
    found = my_kit.kit.friction
    assert f"{found.value:.2f} ± {found.error:.2f}" in shown(ramp)


def test_taps_put_in_the_speed_and_show_the_embers_time_at_once():
    counter = TapCounter()
    counter.put.put()
    assert not my_kit.kit
    taps = tuple(0.5 * number + 0.01 * (-1) ** number for number in range(25))
    counter.set(taps=taps)
    counter.put.put()
    speed = tapped_speed(tap_rate(taps), stroke_length=0.5)
    assert my_kit.kit.speed.value == speed.likely
    assert my_kit.kit.speed.error == pytest.approx((speed.high - speed.low) / 2 / 1.95996, rel=1e-5)
    state = Try().changed(speed=speed.likely)
    assert band_words(spread(state, measured=my_kit.kit.measured).all) in shown(counter)


def test_a_speed_that_nobody_has_is_no_error_and_goes_nowhere():
    counter = TapCounter()
    counter.set(taps=(0.0, 0.001, 0.002, 0.003))
    counter.put.put()
    assert not my_kit.kit


# ---- what is in my kit, in words ----------------------------------------------------------------


def test_readings_are_spelled_in_the_units_of_the_reader():
    kit = MyKit(diameter=Measured(0.016, 0.0003), moisture=Measured(0.08, 0.005), friction=FRICTION)
    assert reading_words(kit, METRIC) == (
        "friction coefficient 0.33 ± 0.01, spindle diameter 16.0 ± 0.3 mm,"
        " wood moisture 8.0 ± 0.5 %"
    )
    assert "spindle diameter 5/8 ± 1/64 in" in reading_words(kit, US)
    finer = MyKit(diameter=Measured(0.016, 0.0001))  # than any mark of a rule
    assert reading_words(finer, US) == "spindle diameter 0.630 ± 0.004 in"


@pytest.mark.parametrize(
    ("ratio", "words"),
    [(0.5, "It is half as long now"), (0.75, "three quarters as long"), (0.95, "hardly shorter")],
)
def test_what_measuring_did_to_the_band_is_said_in_fractions(ratio, words):
    assert words in narrowing_words(ratio)


def test_a_holder_keeps_the_newest_and_forgets_on_request():
    holder = Holder()
    holder.put(friction=FRICTION)
    holder.put(grip=Measured(0.17, 0.01), force=Measured(60.0, 4.0))
    assert set(holder.kit.readings) == {"grip", "force"}
    holder.remove("force")
    assert set(holder.kit.readings) == {"grip"}
    holder.clear()
    assert not holder.kit


# ---- kept on this computer, on request ----------------------------------------------------------


@pytest.fixture
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("FIREHEAT_HOME", str(tmp_path / "kept"))
    return tmp_path / "kept"


def test_nothing_is_written_unless_somebody_asks(home):
    my_kit.put(friction=FRICTION)
    panel = WattLadder()
    panel.mine.button.click()
    table = MyKitTable()
    table.put.put_button.click()
    table.take_out()
    assert not home.exists()
    assert "Kept nowhere" in table.where.value


def test_a_kept_kit_is_there_in_another_kernel_and_what_is_measured_there_joins_it(home):
    my_kit.put(friction=FRICTION)
    table = MyKitTable()
    table.keep_kit_button.click()
    assert f"Kept in {home / 'my_kit.json'}: numbers only, no names." in table.where.value
    assert json.loads((home / "my_kit.json").read_text()) == {"friction": [0.33, 0.012]}
    other = Holder()  # as in another kernel, or on another day
    assert other.kit == my_kit.kit
    other.put(force=Measured(70.0, 4.0))
    other.put(friction=Measured(0.3, 0.01))
    assert my_kit.kit.readings == {
        "friction": Measured(0.3, 0.01),
        "force": Measured(70.0, 4.0),
    }
    table.refresh()
    table.inside.value = "force"
    table.out_button.click()
    assert set(other.kit.readings) == {"friction"}
    table.keep_kit_button.click()
    assert (other.kit, set(my_kit.kit.readings)) == (MyKit(), {"friction"})
    assert not list(home.iterdir())


def test_a_kept_kit_is_taken_by_a_panel_of_another_kernel_which_says_where_it_is_from(
    home, monkeypatch
):
    here = Holder()
    here.put(friction=FRICTION)
    here.keep()
    monkeypatch.setattr(mine, "my_kit", Holder())
    panel = WattLadder()
    panel.mine.button.click()
    assert panel.state["friction"] == 0.33
    said = "◆ measured, kept on this computer: friction coefficient 0.33 ± 0.01."
    assert said in words_of(panel.mine)
    here.clear()
    assert not home.exists() or not list(home.iterdir())


@pytest.mark.parametrize(
    "text",
    ["{", "[]", '{"friction": [0.33]}', '{"force": [-5, 1], "age": [12, 1], "speed": "quick"}'],
)
def test_a_damaged_or_strange_file_counts_as_no_kit(home, text):
    home.mkdir()
    (home / "my_kit.json").write_text(text)
    panel = WattLadder()
    panel.mine.button.click()
    assert "Nothing is in my kit yet" in words_of(panel.mine)
    my_kit.put(friction=FRICTION)
    assert my_kit.keep()
    assert Holder().kit == MyKit(friction=FRICTION)


def test_a_computer_that_does_not_let_us_keep_is_said_so_and_the_kit_stays(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv("FIREHEAT_HOME", str(tmp_path / "file" / "folder"))
    my_kit.put(friction=FRICTION)
    table = MyKitTable()
    table.keep_kit_button.click()
    assert "This computer does not let us." in table.where.value
    assert my_kit.kit == MyKit(friction=FRICTION)


# ---- my kit as a list ---------------------------------------------------------------------------


def test_rulers_and_scales_go_into_my_kit_as_far_off_as_somebody_says():
    table = MyKitTable()
    table.set(what="force", reading=15.0, rest=8.0, care=2.0)
    table.put.put_button.click()
    force = my_kit.kit.force
    assert force.value == pytest.approx(7 * 9.80665)
    assert force.error == pytest.approx(2 * well_measured("force", force.value).error)
    table.set(what="diameter", diameter=0.02, care=1.0)
    assert "20.0 ± 0.4 mm" in table.control["diameter"].effect.value.replace("\xa0", " ")
    table.put.put_button.click()
    assert my_kit.kit.diameter == well_measured("diameter", 0.02)
    assert "downward force 69 ± 8 N" in shown(table)


def test_the_list_says_what_each_reading_did_and_the_tiles_what_all_of_them_did():
    my_kit.put(friction=FRICTION, diameter=Measured(0.016, 0.0003))
    table = MyKitTable()
    now = my_kit.kit.state(Try())
    ends = [doubted(now, my_kit.kit), doubted(now, MyKit())]
    assert values(table)[:2] == [band_words(ends[1]), band_words(ends[0])]
    for key, share in each_worth(now, my_kit.kit).items():
        left = doubted(now, my_kit.kit.without(key)).ends
        assert share == pytest.approx(np.ptp(ends[0].ends) / np.ptp(np.minimum(left, 3600.0)))
    assert "friction coefficient 0.33 ± 0.01: the range is a third as long" in shown(table)
    assert "spindle diameter 16.0 ± 0.3 mm: hardly changes the range" in shown(table)


def test_the_list_shows_at_once_what_another_panel_puts_in_or_another_page_kept():
    table, ramp = MyKitTable(), Ramp()
    table.voice.views = 1
    ramp.put.put_button.click()
    assert "friction coefficient 0.33" in shown(table)
    table.keep_kit_button.click()
    Holder().put(diameter=Measured(0.018, 0.0003))  # the holder of another kernel
    assert "18.0 ± 0.3 mm" not in shown(table)
    table.voice.looks += 1
    assert "spindle diameter 18.0 ± 0.3 mm" in shown(table)
    my_kit.clear()
    assert "Nothing yet" in shown(table)


def test_sliders_of_the_list_begin_where_my_kit_is():
    my_kit.put(diameter=Measured(0.018, 0.0003), moisture=Measured(0.12, 0.01))
    state = MyKitTable().state
    assert (state["diameter"], state["moisture"]) == (0.018, 0.12)


def test_a_reading_on_the_sliders_counts_once_it_is_put_in():
    table = MyKitTable()
    table.set(what="diameter", diameter=0.02)
    more = MyKit(**table.readings(table.state))
    assert values(table)[2] == band_words(doubted(more.state(Try()), more))
    assert not my_kit.kit
    assert "Nothing yet" in shown(table)
    assert table.out_button.disabled
    table.put.put_button.click()
    assert values(table)[1] == values(table)[2]
    table.clear_button.click()
    assert (my_kit.kit, table.put.said.value) == (MyKit(), "")


def test_a_pull_that_no_friction_explains_is_refused_and_if_it_was_kept_listed_and_not_counted():
    panel = MeasureWatts()
    panel.set(scale_pull=80.0, force=30.0)
    panel.put.put_button.click()
    assert "That is not put in: friction coefficient is" in words_of(panel.put)
    assert not my_kit.kit
    my_kit.put(grip=Measured(5.0, 0.2), force=Measured(60.0, 4.0))  # as a file may have it
    table = MyKitTable()
    assert "This cannot all be so, and is not counted: friction coefficient is 10" in shown(table)
    assert values(table)[0] == values(table)[1] == band_words(doubted(Try(), MyKit()))
    table.inside.value = "grip"
    table.out_button.click()
    assert "cannot all be so" not in shown(table)


def test_a_scale_that_shows_less_while_pressing_shows_no_force():
    table = MyKitTable()
    table.set(what="force", reading=5.0, rest=8.0)
    table.put.put_button.click()
    assert my_kit.kit.force.value == 0.0


# ---- taken into every panel that shows a try, and off again -------------------------------------

MINE = MyKit(
    friction=Measured(0.31, 0.04),
    force=Measured(70.0, 8.0),
    speed=Measured(0.9, 0.05),
    diameter=Measured(0.014, 0.0006),
    burn_in_depth=Measured(0.005, 0.0005),
    moisture=Measured(0.11, 0.01),
)
TRYING = [
    one
    for one in map(partial(getattr, panels), panels.__all__)
    if isinstance(one, type) and issubclass(one, Trying)
]
BEFORE = '"fh-before">(.*?)<'
TAPS = tuple(0.5 * number + 0.02 * (-1) ** number for number in range(25))


@pytest.fixture(scope="module", params=TRYING, ids=lambda one: one.__name__)
def whichever(request):
    """A panel that shows a try, made once; taps are there where taps are counted."""
    panel = request.param("tired_arms") if request.param is WhatIf else request.param()
    if "taps" in panel.control:
        panel.set(taps=TAPS)
    return panel


def words_under(panel):
    return {
        key: control.effect.value
        for key, control in panel.control.items()
        if hasattr(control, "effect")
    }


def seen(panel):
    panel.watch()
    return panel.state, panel.sentence(), panel.face.value, panel.shot.value, words_under(panel)


def test_many_panels_show_a_try():
    names = {one.__name__ for one in TRYING}
    assert {"Explorer", "WhatIf", "HeatView", "TapCounter", "MeasureNext", "Weather"} <= names
    assert len(names) >= 16


def test_one_button_puts_my_kit_into_any_panel_and_takes_it_off_again(whichever):
    panel = whichever
    before = seen(panel)
    panel.mine.button.click()
    assert "Nothing is in my kit yet" in words_of(panel.mine)
    my_kit.put(**MINE.readings)
    panel.mine.button.click()
    said = words_of(panel.mine)
    assert panel.mine.button.description == "Take my kit off"
    assert re.sub("<.*?>", "", said).startswith("◆ measured: ")
    taken = len(panel.mine.taken.readings)  # many of them are folded away, to be asked for
    assert (f": {taken} readings." in said) == ("<details>" in said) == (taken > 2)
    for key, reading in MINE.readings.items():
        if panel.uses(key):
            assert reading_words(MyKit(**{key: reading}), METRIC) in said
            assert panel.now().value(key) == pytest.approx(reading.value) or key in panel.control
        if key in panel.control:
            assert panel.state[key] == (reading.value if panel.uses(key) else before[0][key])
            assert (BADGE in panel.control[key].effect.value) == panel.uses(key)
    assert seen(panel)[1:4] != before[1:4]
    if panel.banded:
        share = narrowing(panel.now(), panel.mine.standing(panel.state))
        assert share <= 1.0
        assert narrowing_words(share) in said
    panel.mine.button.click()
    assert seen(panel) == before
    assert panel.mine.button.description == "Use my kit"


def test_how_well_it_was_measured_reaches_what_is_shown(whichever, monkeypatch):
    panel = whichever
    if not panel.banded:
        assert "range of times" not in words_of(panel.mine)
        return
    my_kit.put(**MINE.readings)
    panel.mine.button.click()
    known = panel.face.value
    monkeypatch.setattr(panel.mine, "standing", lambda state: MyKit(**_exactly(panel)))
    panel.refresh()
    assert panel.face.value != known
    monkeypatch.undo()
    panel.mine.button.click()


def _exactly(panel):
    """The same readings, as if nothing could be off."""
    return {key: Measured(one.value, 0.0) for key, one in panel.mine.taken.readings.items()}


def test_what_was_before_stays_without_my_kit(whichever):
    panel = whichever
    before = panel.face.value
    panel.keep_before()
    pinned = re.findall(BEFORE, panel.face.value)
    my_kit.put(**MINE.readings)
    panel.mine.button.click()
    assert re.findall(BEFORE, panel.face.value) == pinned
    panel.drop_before()
    panel.reset()
    if "taps" in panel.control:
        panel.set(taps=TAPS)
    assert (panel.face.value, panel.mine.taken) == (before, MyKit())


def test_before_stays_without_my_kit_when_it_is_looked_at_in_another_way():
    plain, panel = HeatView(), HeatView()
    panel.keep_before()
    my_kit.put(friction=Measured(0.2, 0.01))  # which has no slider here
    panel.mine.button.click()
    for one in (plain, panel):
        one.set(elapsed=20.0)
    then = [words.removeprefix("before: ") for words in re.findall(BEFORE, panel.face.value)]
    assert then == re.findall("<b>(.*?)</b>", plain.face.value)


# ---- one panel as an example --------------------------------------------------------------------


@pytest.fixture(scope="module")
def ladder():
    return WattLadder()


@pytest.fixture
def taking(ladder):
    ladder.reset()
    return ladder


def test_a_slider_moved_by_hand_is_not_measured_any_more(taking):
    my_kit.put(grip=Measured(0.17, 0.01), force=Measured(70.0, 4.0))
    taking.mine.button.click()
    assert set(taking.mine.standing(taking.state).keys) == {"friction", "force"}
    taking.set(force=50.0)
    assert set(taking.mine.standing(taking.state).readings) == {"grip"}
    assert taking.known(taking.state).keys() == {"pull"}
    assert "downward force" not in words_of(taking.mine)
    taking.set(friction=0.4)
    assert not taking.mine.standing(taking.state)
    assert "nothing here is measured any more" in words_of(taking.mine)


def test_what_has_no_slider_goes_into_the_try_and_what_is_not_asked_for_is_named():
    panel = HeatView()
    my_kit.put(friction=FRICTION, moisture=Measured(0.12, 0.01))
    panel.mine.button.click()
    assert (panel.now().kit.friction, panel.now().kit.moisture) == (0.33, 0.12)
    strokes = Strokes()
    my_kit.put(speed=Measured(0.9, 0.03))
    strokes.mine.button.click()
    assert "Left out here: bow speed." in words_of(strokes.mine)
    card = WhatIf("slippery_pair")  # which locks the friction
    locked = card.now().kit.friction
    card.mine.button.click()
    assert card.now().kit.friction == locked
    assert "Left out here: friction coefficient, wood moisture." in words_of(card.mine)


def test_a_card_that_locks_all_of_it_takes_nothing():
    card = WhatIf("missing_column")
    my_kit.put(friction=FRICTION)
    before = seen(card)
    card.mine.button.click()
    assert "Nothing of my kit plays a part here" in words_of(card.mine)
    assert seen(card) == before


def test_the_line_follows_the_units(taking):
    my_kit.put(force=Measured(70.0, 4.0))
    taking.mine.button.click()
    taking.units.value = US
    taking.sentence()
    assert "15.7 ± 0.9 lb" in words_of(taking.mine)
    taking.units.value = METRIC


def test_what_is_worth_measuring_changes_once_it_is_measured():
    panel = MeasureNext()
    assert "friction matters most" in panel.sentence()
    assert band_words(doubted(Try(), MyKit())) in shown(panel)
    kit = MyKit(friction=FRICTION, force=Measured(60.0, 3.0))
    my_kit.put(**kit.readings)
    panel.mine.button.click()
    assert "bow speed matters most" in panel.sentence()
    assert band_words(doubted(kit.state(Try()), kit)) in shown(panel)


def test_taps_show_the_embers_time_of_my_kit_as_they_come():
    counter = TapCounter()
    my_kit.put(friction=FRICTION, force=Measured(70.0, 4.0))
    counter.mine.button.click()
    for count in range(4, 25, 10):
        counter.pad.widget.value = list(TAPS[:count])
        speed = standard(tapped_speed(tap_rate(TAPS[:count]), stroke_length=0.5))
        kit = my_kit.kit.put(speed=speed)
        ember = spread(kit.state(Try()), measured=kit.measured).all
        assert band_words(ember) == values(counter)[-1]
    assert "this kit, pressed with 70 N" in shown(counter)


def test_readings_are_asked_for_when_the_button_is_pressed():
    given = {}
    put = PutIntoMyKit(lambda: given, lambda: METRIC)
    given["friction"] = FRICTION
    put.put_button.click()
    assert my_kit.kit == MyKit(friction=FRICTION)


@pytest.mark.parametrize(
    ("key", "value", "error"), [("dust_mass", 3e-4, 0.1 * 3e-4), ("moisture", 0.09, 0.01)]
)
def test_a_good_reading_is_as_far_off_as_the_table_says(key, value, error):
    found = well_measured(key, value)
    assert (found.value, found.error * NINE_OF_TEN) == pytest.approx((value, error))


def test_what_nobody_measures_is_refused():
    with pytest.raises(InputError, match="one try against the next is not what a reader measures"):
        well_measured("luck", 1.0)


# ---- the explorer takes it ----------------------------------------------------------------------


@pytest.fixture(scope="module")
def explorer():
    return Explorer()


def test_the_explorer_shows_the_band_with_my_kit_and_takes_it_off_again(explorer):
    explorer.reset()
    before, start = shown(explorer), explorer.state
    my_kit.put(grip=Measured(0.2, 0.008), force=Measured(70.0, 3.0), speed=Measured(0.9, 0.03))
    explorer.mine.button.click()
    state, known = my_kit.kit.state(Try()), my_kit.kit.measured
    assert explorer.state["friction"] == pytest.approx(0.4)
    assert band_words(spread(state, measured=known).all) in shown(explorer)
    for key, badge in {"friction": True, "force": True, "speed": True, "diameter": False}.items():
        assert (BADGE in explorer.control[key].effect.value) == badge
    explorer.set(speed=1.1)
    del known["speed"]
    assert band_words(spread(state.changed(speed=1.1), measured=known).all) in shown(explorer)
    assert BADGE not in explorer.control["speed"].effect.value
    explorer.mine.button.click()
    assert (explorer.state, shown(explorer)) == (start, before)
    assert not any(BADGE in control.effect.value for control in explorer.control.values())


def test_grams_of_my_kit_turn_the_explorer_to_grams_and_reset_takes_it_off(explorer):
    explorer.reset()
    my_kit.put(dust_mass=Measured(3e-4, 2e-5))
    explorer.mine.button.click()
    assert (explorer.state["dust"], explorer.state["dust_mass"]) == ("dust_mass", 3e-4)
    assert BADGE in explorer.control["dust_mass"].effect.value
    explorer.reset()
    assert not explorer.mine.taken
    assert explorer.mine.button.description == "Use my kit"
    explorer.worth_button.click()
    assert "friction matters most" in words_of(explorer.mine)


def test_what_does_not_fit_is_said_and_moves_nothing(explorer):
    explorer.reset()
    start = explorer.state
    my_kit.put(grip=Measured(5.0, 0.2))
    explorer.mine.button.click()
    assert "My kit does not fit here: friction coefficient is 10" in words_of(explorer.mine)
    assert (explorer.state, explorer.mine.taken) == (start, MyKit())


def test_grams_of_my_kit_are_a_depth_where_only_a_depth_can_be_set():
    panel = WillItKeep()
    my_kit.put(dust_mass=Measured(3e-4, 2e-5))
    panel.mine.button.click()
    assert panel.now().kit.dust == pytest.approx(3e-4)
    assert BADGE in panel.control["burn_in_depth"].effect.value
