"""My kit in panels: measured here, put into the kit, taken elsewhere and taken off again."""

from types import SimpleNamespace

import pytest
from reading import shown

from fireheat import InputError
from fireheat.answers.watts import Pulling, in_my_kit, watts
from fireheat.answers.worth import doubted
from fireheat.kit.kit import Try
from fireheat.my_kit import MyKit
from fireheat.panels import Explorer, MeasureNext, MeasureWatts, Ramp, TapCounter
from fireheat.panels.mine import (
    BADGE,
    Holder,
    PutIntoMyKit,
    TakeMyKit,
    my_kit,
    narrowing_words,
    reading_words,
)
from fireheat.person.measuring import (
    NINE_OF_TEN,
    Measured,
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
    panel.mine.put()
    assert my_kit.kit == MyKit()
    assert words_of(panel.mine).endswith("There is nothing to put in yet.</span>")


def test_the_button_puts_what_is_measured_into_my_kit(panel):
    panel.set(scale_pull=16.0, stroke_length=0.6)
    panel.mine.put_button.click()
    pulling = Pulling(scale_pull=16.0, stroke_length=0.6)
    assert my_kit.kit == MyKit(**in_my_kit(pulling, watts(pulling)))
    assert "In my kit now: bow pull ± " in words_of(panel.mine)


# ---- the ramp and the taps ----------------------------------------------------------------------


def test_the_ramp_puts_in_sliding_friction_and_never_that_at_rest():
    ramp = Ramp()
    ramp.set(kind="static")
    ramp.mine.put()
    assert not my_kit.kit
    ramp.set(kind="kinetic")
    ramp.mine.put()
    found = my_kit.kit.friction
    assert f"{found.value:.2f} ± {found.error:.2f}" in shown(ramp)


def test_taps_put_in_the_speed_and_show_the_embers_time_at_once():
    counter = TapCounter()
    counter.mine.put()
    assert not my_kit.kit
    taps = tuple(0.5 * number + 0.01 * (-1) ** number for number in range(25))
    counter.set(taps=taps)
    counter.mine.put()
    speed = tapped_speed(tap_rate(taps), stroke_length=0.5)
    assert my_kit.kit.speed.value == speed.likely
    assert my_kit.kit.speed.error == pytest.approx((speed.high - speed.low) / 2 / 1.95996, rel=1e-5)
    state = Try().changed(speed=speed.likely)
    assert band_words(spread(state, measured=my_kit.kit.measured).all) in shown(counter)


def test_a_speed_that_nobody_has_is_no_error_and_goes_nowhere():
    counter = TapCounter()
    counter.set(taps=(0.0, 0.001, 0.002, 0.003))
    counter.mine.put()
    assert not my_kit.kit


# ---- what is in my kit, in words ----------------------------------------------------------------


def test_readings_are_spelled_in_the_units_of_the_reader():
    kit = MyKit(diameter=Measured(0.016, 0.0003), moisture=Measured(0.08, 0.005), friction=FRICTION)
    assert reading_words(kit, METRIC) == (
        "friction coefficient 0.33 ± 0.01, spindle diameter 16.0 ± 0.3 mm,"
        " wood moisture 8.0 ± 0.5 %"
    )
    assert "spindle diameter 0.63 ± 0.01 in" in reading_words(kit, US)


@pytest.mark.parametrize(
    ("ratio", "words"),
    [(0.5, "it is half as long now"), (0.75, "three quarters as long"), (0.95, "hardly shorter")],
)
def test_what_measuring_did_to_the_band_is_said_in_fractions(ratio, words):
    assert words in narrowing_words(ratio)


def test_a_holder_keeps_the_newest_and_forgets_on_request():
    holder = Holder()
    holder.put(friction=FRICTION)
    holder.put(grip=Measured(0.17, 0.01), force=Measured(60.0, 4.0))
    assert set(holder.kit.readings) == {"grip", "force"}
    holder.clear()
    assert not holder.kit


# ---- taken into a panel and off again -----------------------------------------------------------


class Told:
    """As much of a panel as my kit needs: sliders by name, and a way to move them."""

    system = METRIC

    def __init__(self, **values):
        self.control = {key: SimpleNamespace(value=value) for key, value in values.items()}

    def set(self, **values):
        for key, value in values.items():
            self.control[key].value = value

    @property
    def state(self):
        return {key: control.value for key, control in self.control.items()}

    def now(self, state=None):
        return Try().changed(**(state or self.state))


@pytest.fixture
def taking():
    panel = Told(friction=0.5, force=40.0, speed=1.0, diameter=0.016)
    return panel, TakeMyKit(panel, panel.now)


def test_an_empty_kit_cannot_be_taken(taking):
    panel, take = taking
    before = panel.state
    take.button.click()
    assert panel.state == before
    assert "Nothing is in my kit yet" in words_of(take)
    assert not take.standing(panel.state)


def test_taking_it_moves_what_was_measured_and_taking_it_off_puts_it_back(taking):
    panel, take = taking
    before = panel.state
    my_kit.put(friction=FRICTION, force=Measured(70.0, 4.0))
    take.button.click()
    assert panel.state == before | {"friction": 0.33, "force": 70.0}
    assert take.button.description == "My kit: take it off"
    assert words_of(take).startswith('<span role="status">◆ measured: friction coefficient 0.33')
    assert "as long now" in words_of(take)
    take.button.click()
    assert panel.state == before
    assert (take.button.description, take.standing(panel.state)) == ("My kit: put it in", MyKit())


def test_a_slider_moved_by_hand_is_not_measured_any_more(taking):
    panel, take = taking
    my_kit.put(grip=Measured(0.17, 0.01), force=Measured(70.0, 4.0))
    take.button.click()
    assert set(take.standing(panel.state).keys) == {"friction", "force"}
    panel.set(force=50.0)
    assert set(take.standing(panel.state).readings) == {"grip"}
    assert take.standing(panel.state).measured.keys() == {"pull"}
    panel.set(friction=0.4)
    assert not take.standing(panel.state)


def test_the_badge_stands_before_what_was_measured_only(taking):
    panel, take = taking
    my_kit.put(friction=FRICTION)
    take.button.click()
    words = take.badges({"friction": "slippery", "force": ""}, panel.state)
    assert words["friction"].startswith(f'<b class="fh-mine">{BADGE}</b>')
    assert words["force"] == ""


def test_what_is_worth_measuring_changes_once_it_is_measured(taking):
    _, take = taking
    take.worth_button.click()
    assert "friction matters most" in words_of(take)
    my_kit.put(friction=FRICTION)
    take.button.click()
    take.worth_button.click()
    assert "downward force matters most" in words_of(take)


def test_readings_are_asked_for_when_the_button_is_pressed():
    given = {}
    put = PutIntoMyKit(lambda: given, lambda: METRIC)
    given["friction"] = FRICTION
    put.put_button.click()
    assert my_kit.kit == MyKit(friction=FRICTION)


# ---- what is worth measuring next, as a picture -------------------------------------------------


def test_what_is_on_the_slider_counts_as_measured_and_stays_once_it_is_put_in():
    panel = MeasureNext()
    assert "friction matters most" in panel.sentence()
    panel.set(reading="diameter", diameter=0.02)
    assert "spindle diameter 20.0 ± 0.4 mm" in shown(panel)
    assert not my_kit.kit
    panel.mine.put_button.click()
    assert my_kit.kit.diameter == well_measured("diameter", 0.02)
    panel.set(reading="nothing")
    assert "spindle diameter 20.0 ± 0.4 mm" in shown(panel)
    panel.clear_button.click()
    assert (my_kit.kit, panel.mine.said.value) == (MyKit(), "")
    assert "In my kit: nothing yet." in shown(panel)


def test_the_more_is_measured_the_shorter_the_band():
    panel = MeasureNext()
    kit = MyKit(friction=FRICTION, force=Measured(60.0, 3.0))
    assert band_words(doubted(Try(), MyKit())) in shown(panel)
    my_kit.put(**kit.readings)
    panel.refresh()
    assert "bow speed matters most" in panel.sentence()
    assert band_words(doubted(kit.state(Try()), kit)) in shown(panel)


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
    assert explorer.mine.button.description == "My kit: put it in"


def test_what_does_not_fit_is_said_and_moves_nothing(explorer):
    explorer.reset()
    start = explorer.state
    my_kit.put(grip=Measured(5.0, 0.2))
    explorer.mine.button.click()
    assert "My kit does not fit here: friction coefficient is 10" in words_of(explorer.mine)
    assert (explorer.state, explorer.mine.taken) == (start, MyKit())
