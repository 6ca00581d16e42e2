"""The panels of what the ember lands on and of how big it must be, driven as a reader does."""

import html
import io
import re

import numpy as np
import pytest
from PIL import Image

from fireheat import Ember, InputError
from fireheat.catcher import catchers, draw, grounds, scorch_time
from fireheat.ember import dust_mass, will_it_keep
from fireheat.figures import style
from fireheat.panels import Catchers, SheetThickness, UnderTheEmber, WillItKeep
from fireheat.quantities import METRIC, US
from fireheat.words import NEVER, number_words, share_words, time_words


@pytest.fixture
def rows():
    return Catchers()


@pytest.fixture
def under():
    return UnderTheEmber()


@pytest.fixture
def sheet():
    return SheetThickness()


@pytest.fixture
def heap():
    return WillItKeep()


PANELS = (Catchers, UnderTheEmber, SheetThickness, WillItKeep)


def shown(panel):
    """Words of the results, without their tags."""
    return html.unescape(re.sub(r"<[^>]+>", " ", panel.face.value.partition("<img")[0]))


def pixels(panel):
    return np.asarray(Image.open(io.BytesIO(panel.png)))


def painted(panel, color):
    """Where the picture has exactly this colour: row and column of each pixel."""
    rgb = [int(color[i : i + 2], 16) for i in (1, 3, 5)]
    return np.argwhere((pixels(panel) == rgb).all(axis=2))


@pytest.mark.parametrize("make", PANELS)
def test_the_sentence_is_the_text_alternative(make):
    panel = make()
    alt = re.search(r'<img [^>]*alt="([^"]*)"', panel.face.value).group(1)
    assert html.unescape(alt) == panel.sentence()


@pytest.mark.parametrize("make", PANELS)
def test_changing_units_changes_no_state(make):
    panel = make()
    before = panel.state
    panel.units.value = US
    panel.units.value = METRIC
    assert panel.state == pytest.approx(before)


@pytest.mark.parametrize("make", PANELS)
def test_a_pinned_state_is_told_and_goes_again(make):
    panel = make()
    plain = panel.sentence()
    panel.pin()
    first = next(key for key, part in panel.control.items() if hasattr(part, "row"))
    low, _ = panel.control[first].row.slider
    assert "Pinned: " in panel.set(**{first: 2 * low or 0.001})
    panel.unpin()
    panel.reset()
    assert panel.sentence() == plain


# ---- all catchers ---------------------------------------------------------------------------


@pytest.mark.parametrize("ground", grounds())
@pytest.mark.parametrize("key", ["aluminium_foil", "leather"])
def test_the_big_numbers_are_those_of_the_model(rows, key, ground):
    rows.set(catcher=key, ground=ground)
    asks = draw(key, ground)
    assert f"{number_words(asks.joules_first_minute)} J" in shown(rows)
    assert f"{number_words(asks.watts_now)} W" in shown(rows)
    assert share_words(asks.share_of_made) in shown(rows)
    least, _, most = scorch_time(key, ground)
    scorch = NEVER if np.isinf(least) else f"{time_words(least)} to {time_words(most)}"
    assert scorch.split()[0] in shown(rows)


def test_the_picture_puts_the_least_greedy_first_and_marks_the_chosen_one(rows):
    order = rows.answer(rows.state).order
    joules = [draw(key, "dry soil").joules_first_minute for key in order]
    assert joules == sorted(joules)
    at = {}
    for key in (order[0], order[-1]):
        rows.set(catcher=key)
        at[key] = painted(rows, style.SOAKED)
    assert at[order[0]][:, 0].max() < at[order[-1]][:, 0].min()  # a higher row
    assert at[order[0]][:, 1].max() < at[order[-1]][:, 1].min()  # and further left


def test_foil_on_dry_ground_asks_for_more_than_the_ember_makes_and_bark_for_less(rows):
    """Foil robs an ember, dry bark keeps it: common practice, no source."""
    assert "times what the ember makes" in rows.set(catcher="aluminium_foil")
    assert "% of what the ember makes" in rows.set(catcher="thick_bark")


def test_a_bed_of_dead_dust_brings_foil_below_what_the_ember_makes(rows):
    rows.set(catcher="aluminium_foil")
    bare = rows.answer(rows.state).draw.share_of_made
    rows.set(crust=0.002)
    assert rows.answer(rows.state).draw.share_of_made < 1 < bare


def test_a_bigger_ember_can_afford_more(rows):
    small, big = (rows.set(mass=mass) and rows.answer(rows.state).draw for mass in (1e-4, 5e-4))
    assert big.joules_first_minute > small.joules_first_minute
    assert big.share_of_made < small.share_of_made


# ---- under the ember ------------------------------------------------------------------------


def test_heat_drawn_only_grows_with_time(under):
    drawn = []
    for seconds in (5.0, 30.0, 120.0):
        under.set(elapsed=seconds)
        drawn.append([side.joules for side in under.answer(under.state)])
    assert (np.diff(drawn, axis=0) > 0).all()


def test_warmth_reaches_further_under_foil_than_under_leather(under):
    dark = (pixels(under)[:, :, 2] < 90).sum(axis=0)  # columns with hot pixels
    middle = pixels(under).shape[1] // 2 - 40
    assert np.count_nonzero(dark[:middle]) > np.count_nonzero(dark[middle:700])


def test_playing_moves_the_time_and_the_picture(under):
    before = under.png
    under.play.value = 20
    assert under.state["elapsed"] == 20
    assert under.sentence().startswith("After 20 s")
    assert under.png != before


def test_the_same_catcher_on_both_sides_looks_the_same(under):
    under.set(left="leather", right="leather", elapsed=60.0)
    first, second = under.answer(under.state)
    assert first.joules == second.joules
    seen = pixels(under)
    # The hue key and its numbers stand to the right of both.
    assert (seen[64:260, 6:340] == seen[64:260, 358:692]).all()


@pytest.mark.parametrize("ground", grounds())
def test_every_catcher_can_be_looked_at_on_every_ground(under, ground):
    for key in catchers():
        words = under.set(left=key, ground=ground, elapsed=120.0)
        assert catchers()[key].name in words
        assert "nan" not in words


# ---- thickness ------------------------------------------------------------------------------


def test_the_dot_stands_on_its_curve(sheet):
    for thickness in (1e-6, 16e-6, 3e-4, 3e-3):
        sheet.set(catcher_thickness=thickness)
        now = sheet.answer(sheet.state)
        there = np.interp(np.log(now.thickness), np.log(now.along), now.curves[now.key])
        assert now.draw.joules_first_minute == pytest.approx(there, rel=0.02)


def test_thick_leather_saves_heat_on_wet_soil_and_foil_never_does(sheet):
    assert "less than with no sheet" in sheet.set(sheet="leather", ground="wet soil")
    for thickness in (1e-6, 1e-3):
        words = sheet.set(sheet="aluminium_foil", catcher_thickness=thickness)
        assert "more than with no sheet" in words


def test_steps_of_the_slider_multiply_and_its_stops_hold_the_value(sheet):
    slider = sheet.control["catcher_thickness"]
    for units in (METRIC, US):
        sheet.units.value = units
        widget = slider.widget
        stops = (np.log10(widget.value) - widget.min) / widget.step
        assert stops == pytest.approx(round(stops), abs=1e-6)
        assert slider.value == pytest.approx(16e-6)


def test_a_moved_slider_is_taken_in_the_units_on_show(sheet):
    sheet.units.value = US
    sheet.control["catcher_thickness"].widget.value = 0.01  # inch
    assert sheet.state["catcher_thickness"] == pytest.approx(2.54e-4)


# ---- will it keep ---------------------------------------------------------------------------


def test_dust_and_margin_are_those_of_the_model(heap):
    heap.set(burn_in_depth=0.006, diameter=0.015)
    now = heap.answer(heap.state)
    keep = will_it_keep(now.mass, temperature_heap=heap.state["temperature_heap"])
    assert keep.margin == pytest.approx(now.keep.margin)
    assert f"{number_words(keep.margin[1])} times" in shown(heap)
    assert shown(heap).count("ROUGH") == 2
    assert "Rough" in heap.sentence()


def test_twice_the_diameter_makes_four_times_the_dust(heap):
    thin, thick = (
        heap.set(diameter=wide) and heap.answer(heap.state).mass for wide in (0.01, 0.02)
    )
    assert thick == pytest.approx(4 * thin)
    assert dust_mass(0.004, 0.01, 400.0) == pytest.approx(4 * dust_mass(0.004, 0.005, 400.0))


def test_hotter_dust_keeps_in_a_smaller_heap(heap):
    cool, hot = (
        heap.set(temperature_heap=kelvin) and heap.answer(heap.state).keep.mass_least[1]
        for kelvin in (600.0, 700.0)
    )
    assert hot < cool
    # Then the part of the strip that is surely enough is wider, too.
    wide = {}
    for kelvin in (600.0, 700.0):
        heap.set(temperature_heap=kelvin)
        wide[kelvin] = len(painted(heap, style.EMBER))
    assert wide[700.0] > wide[600.0]


def test_every_corner_of_the_sliders_answers(heap):
    for depth in heap.control["burn_in_depth"].row.slider:
        for diameter in heap.control["diameter"].row.slider:
            for kelvin in heap.control["temperature_heap"].row.slider:
                words = heap.set(burn_in_depth=depth, diameter=diameter, temperature_heap=kelvin)
                assert "nan" not in words
                assert "inf" not in words


# ---- refusals and the ember of a given mass -------------------------------------------------


@pytest.mark.parametrize(
    ("make", "changes", "words"),
    [
        (Catchers, {"mass": -0.001}, "mass of dust"),
        (Catchers, {"crust": 1.0}, "dead dust"),
        (UnderTheEmber, {"elapsed": -1.0}, "time"),
        (SheetThickness, {"catcher_thickness": 0.0}, "thickness"),
        (WillItKeep, {"temperature_heap": 20.0}, "temperature round the heap"),
        (Catchers, {"catcher": "wool"}, "wool"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_moves(make, changes, words):
    panel = make()
    before = panel.sentence()
    with pytest.raises(InputError, match=words):
        panel.set(**changes)
    assert panel.sentence() == before


def test_an_ember_of_more_dust_has_the_same_shape():
    one, more = Ember.of_mass(1e-4), Ember.of_mass(8e-4)
    assert more.radius == pytest.approx(2 * one.radius)
    assert more.power == pytest.approx(8 * one.power)
    with pytest.raises(InputError, match="mass of dust"):
        Ember.of_mass(0.0)
