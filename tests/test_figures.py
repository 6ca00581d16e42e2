"""Pictures: the quick way of drawing gives the pixels of the slow one, and says what it shows."""

import re
import zlib

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays
from PIL import Image
from reading import pixels, rgb

from fireheat.bands import Band
from fireheat.figures import style
from fireheat.figures.explorer import Curve, Spot, TimeCurve
from fireheat.figures.heat_bar import heat_bar, heat_words, where_words
from fireheat.figures.sketch import UNIT, Frame, Scale, Sketch, png_bytes
from fireheat.quantities import METRIC, US, quantity
from fireheat.words import band_words, time_words

HEAT = {"dust": 30.0, "water": 0.0, "spindle": 45.0, "board": 0.0, "air": 0.0}


def curve(scale=1.0):
    """Times that grow with the square of the diameter."""
    values = np.linspace(*quantity("diameter").slider, 41)
    bound = scale * 13.0 * (values / 0.013) ** 2
    band = Band(1.5, 2.0, 3.0).each(lambda times: times * bound)
    return Curve(values, bound, band.each(lambda seconds: seconds / 10), band)


def spot(diameter=0.013, bound=13.0):
    return Spot(diameter, bound, Band(1.5 * bound, 2 * bound, 3 * bound), HEAT)


@pytest.fixture
def picture():
    return TimeCurve(quantity("diameter"), METRIC)


@settings(max_examples=30)
@given(
    arrays.arrays(
        np.uint8, st.tuples(st.integers(1, 40), st.integers(1, 40), st.sampled_from([3, 4]))
    )
)
def test_pillow_reads_back_exactly_the_pixels_that_were_written(drawn):
    # Outside check: Pillow's own PNG reader.
    np.testing.assert_array_equal(pixels(png_bytes(drawn)), drawn[..., :3])


def test_every_chunk_has_the_length_and_the_check_sum_of_the_standard():
    # W3C, Portable Network Graphics (PNG) Specification, section 5.3, chunk layout (from memory)
    data, seen = png_bytes(np.zeros((2, 3, 3), np.uint8)), []
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    at = 8
    while at < len(data):
        length = int.from_bytes(data[at : at + 4], "big")
        body = data[at + 4 : at + 8 + length]
        assert zlib.crc32(body).to_bytes(4, "big") == data[at + 8 + length : at + 12 + length]
        seen.append(body[:4])
        at += 12 + length
    assert seen == [b"IHDR", b"IDAT", b"IEND"]


def test_what_is_sent_is_what_is_on_the_canvas(picture):
    picture.update(curve(), spot(), spot(0.025, 50.0), curve(2.0))
    sent = pixels(picture.png())
    np.testing.assert_array_equal(sent, np.asarray(picture.canvas.buffer_rgba())[..., :3])
    assert sent.shape == (336, 800, 3)


def test_the_still_part_is_drawn_once_and_used_again(picture, monkeypatch):
    drawn = []
    draw = picture.canvas.draw
    monkeypatch.setattr(picture.canvas, "draw", lambda: drawn.append(1) or draw())
    for diameter in (0.010, 0.013, 0.020):
        picture.update(curve(), spot(diameter), None, None)
        picture.png()
    assert len(drawn) == 1


def test_a_used_picture_and_a_fresh_one_show_the_same(picture):
    for diameter, ghost in ((0.03, spot(0.02)), (0.006, None), (0.02, spot(0.01))):
        picture.update(curve(3.0), spot(diameter), ghost, curve(2.0) if ghost else None)
        picture.png()
    picture.update(curve(), spot(), None, None)
    fresh = TimeCurve(quantity("diameter"), METRIC)
    fresh.update(curve(), spot(), None, None)
    assert picture.png() == fresh.png()


def test_the_same_state_drawn_twice_is_the_same_picture(picture):
    picture.update(curve(), spot(), spot(0.02), curve(2.0))
    assert picture.png() == picture.png()


def test_drawing_by_parts_is_drawing_the_whole():
    sketch = Sketch(200, 150)
    axes = sketch.figure.add_axes((0.2, 0.2, 0.7, 0.7))
    line = sketch.add(axes.plot([0, 1], [0, 1], color=style.EMBER)[0])
    by_parts = pixels(sketch.png())
    line.set_animated(False)
    with style.look():
        sketch.canvas.draw()
    whole = np.asarray(sketch.canvas.buffer_rgba())[..., :3]
    off = np.any(by_parts != whole, axis=-1)  # where the axes' own lines are crossed, order differs
    assert off.mean() < 0.005
    assert np.any(by_parts != 255)


def mixed():
    """Make a sketch with everything that can be drawn: axes, a line, a box, pixels and letters."""
    sketch = Sketch(200, 151)
    frame = Frame(sketch, (40, 20, 190, 120), Scale(0, 1), Scale(0, 1))
    with style.look():
        axes = frame.draw_axes()
        line = sketch.add(axes.plot([0.1, 0.9], [0.2, 0.8], color=style.EMBER, label="line")[0])
    sketch.fill(50, 30, 90, 60, style.YOURS, name="box")
    sketch.fill(100, 25, 101, 65, style.INK, name="hair")
    shades = np.linspace(0, 255, 20)[:, np.newaxis, np.newaxis] * np.ones((20, 30, 3))
    sketch.paste(shades, 120, 70, name="field", under=True)
    sketch.write("ember", 60, 100, weight="bold")
    assert line.get_visible()
    return sketch


@pytest.mark.parametrize("scale", [0.5, 0.8, 1.5, 2.0])
def test_a_picture_is_the_same_at_every_scale_but_for_its_dots(scale):
    sketch = mixed()
    plain = pixels(sketch.png())
    places = sketch.drawn(), sketch.written()
    scaled = pixels(sketch.png(scale))
    assert scaled.shape == (round(151 * scale), round(200 * scale), 3)
    # Outside check: Pillow makes both pictures equally small, and there they look alike.
    small = [
        np.asarray(Image.fromarray(each.astype(np.uint8)).resize((50, 38), Image.Resampling.BOX))
        for each in (plain, scaled)
    ]
    off = np.abs(np.subtract(*(each.astype(float) for each in small))).max(axis=-1)
    assert off.mean() < 5
    assert (off > 60).mean() < 0.01
    for before, after in zip(places[0].items(), sketch.drawn().items(), strict=True):
        np.testing.assert_allclose(before[1].x, after[1].x, atol=1e-9)
        np.testing.assert_allclose(before[1].y, after[1].y, atol=1e-9)
    assert places[1] == sketch.written()
    assert np.array_equal(plain, pixels(sketch.png()))


def test_boxes_are_sharp_at_every_scale_and_hairlines_do_not_vanish():
    sketch = mixed()
    for scale in (0.5, 0.9, 1.3, 2.0):
        shown = pixels(sketch.png(scale))
        inside = np.all(shown == rgb(style.YOURS), axis=-1)
        rows, columns = np.flatnonzero(inside.any(axis=1)), np.flatnonzero(inside.any(axis=0))
        ends = (columns[0], columns[-1] + 1, rows[0], rows[-1] + 1)
        assert ends == pytest.approx(scale * np.array([50, 90, 30, 60]), abs=0.51)
        hair = np.all(shown[round(45 * scale)] == rgb(style.INK), axis=-1)
        assert hair.sum() == max(1, round(101 * scale) - round(100 * scale))


def test_letters_are_set_anew_at_each_scale_and_not_blown_up():
    sketch = Sketch(100, 40)
    sketch.write("ember", 50, 20, align="center")
    once, twice = (pixels(sketch.png(scale)) for scale in (1.0, 2.0))
    blown = once.repeat(2, axis=0).repeat(2, axis=1)
    grey = [np.mean((each > 80) & (each < 240)) for each in (blown, twice)]
    assert grey[1] < 0.75 * grey[0]  # half-covered dots at edges: finer is fewer


def test_the_still_part_is_kept_for_a_few_scales_and_no_more(monkeypatch):
    sketch, drawn = mixed(), []
    draw = sketch.figure.draw
    monkeypatch.setattr(sketch.figure, "draw", lambda to: drawn.append(1) or draw(to))
    for scale in (1.0, 0.8, 1.6, 0.8, 1.0, 1.6):
        sketch.png(scale)
    assert len(drawn) == 3
    for scale in np.linspace(0.5, 2, 8):
        sketch.png(scale)
    assert len(sketch._stills) <= 3


def test_a_hidden_artist_is_not_drawn():
    sketch = Sketch(100, 80)
    axes = sketch.figure.add_axes((0, 0, 1, 1))
    axes.set_axis_off()
    line = sketch.add(axes.plot([0, 1], [0, 1])[0])
    line.set_visible(False)
    assert np.all(pixels(sketch.png()) == 255)


@pytest.mark.parametrize("align", ["left", "center", "right"])
@pytest.mark.parametrize("x", [-500, 50, 5000])
def test_writing_never_leaves_the_picture(align, x):
    sketch = Sketch(100, 80)
    sketch.write("ember", x, -20, align=align)
    sketch.write("ember,\nestimate", x, 900, align=align)
    ink = np.any(pixels(sketch.png()) < 128, axis=-1)
    assert ink[:25].any()
    assert ink[-25:].any()


def test_clearing_takes_off_all_that_was_written_and_filled():
    sketch = Sketch(60, 40)
    sketch.write("ember", 5, 20)
    sketch.fill(0, 0, 30, 40, style.EMBER)
    assert np.any(pixels(sketch.png()) != 255)
    sketch.clear()
    assert np.all(pixels(sketch.png()) == 255)


def test_the_bar_is_filled_in_proportion(picture):
    picture.update(curve(), spot(), None, None)
    row = pixels(picture.png())[290]  # just inside the bar's upper edge
    wide = {
        name: np.all(row == np.array(rgb(color)), axis=-1).sum()
        for name, color in (("dust", style.EMBER_BAND), ("spindle", style.SPINDLE))
    }
    assert wide["dust"] / (wide["dust"] + wide["spindle"]) == pytest.approx(0.4, abs=0.01)
    named = [text for text, *_ in picture.letters if "%" in text]
    assert named == ["dust\n40 %", "spindle\n60 %"]


@pytest.mark.parametrize("system", [METRIC, US])
def test_the_sentence_is_computed_from_what_is_drawn(system):
    row = quantity("diameter")
    here, then = spot(), spot(0.025, 50.0)
    said = TimeCurve(row, system).update(curve(), here, then, curve(2.0))
    assert row.text(0.013, system) in said
    assert f": floor {time_words(13.0)}; ember, estimate" in said
    assert band_words((19.5, 39.0)) in said
    assert f"Before: estimate {band_words((75.0, 150.0))}" in said


def test_what_never_comes_is_said_and_drawn(picture):
    never = curve(np.inf)
    said = picture.update(
        never, Spot(0.013, np.inf, Band(np.inf, np.inf, np.inf), HEAT), None, None
    )
    assert ": never an ember." in said
    slow = Spot(0.013, 200.0, Band(500.0, np.inf, np.inf), HEAT)
    assert "8½ min to never" in picture.update(never, slow, None, None)
    assert picture.png()


def test_the_mark_stands_at_the_state(picture):
    picture.update(curve(), spot(0.019), None, None)
    shown = pixels(picture.png())
    at = round(92 + (19 - 6) / (32 - 6) * (630 - 92))
    dark = np.all(shown[60:70, at - 3 : at + 4] < 100, axis=-1)
    assert dark.any(axis=1).all()


def test_curve_names_never_overlap(picture):
    for scale in (1e-3, 1.0, 1e3):
        picture.update(curve(scale), spot(), spot(0.02), curve(scale))
        names = [letter for letter in picture.letters if letter[1] == 640]
        heights = sorted(y for _, _, y, *_ in names)
        assert len(names) == 3
        assert min(np.diff(heights)) >= 44


def test_heat_in_words_adds_up_to_the_whole():
    said = heat_words({"dust": 1.0, "water": 2.0, "spindle": 3.0, "board": 0.0, "air": 4.0})
    shares = [int(share) for share in re.findall(r"(\d+) %", said)]
    assert shares == [10, 20, 30, 40]
    assert "board" not in said


def test_heat_in_words_stands_as_in_the_bar_and_adds_up_to_a_hundred():
    # By hand: rounded one by one these are 101; the board's 26.55 has the least to gain.
    parts = {"spindle": 29.4, "board": 26.55, "dust": 26.7, "water": 15.65, "air": 1.7}
    assert heat_words(parts) == "dust 27 %, water 16 %, spindle 29 %, board 26 %, air 2 %"


def test_where_no_heat_is_made_that_is_said():
    assert where_words("Heat goes to", {"dust": 0.0, "air": 0.0}) == "No heat is made."
    assert where_words("Heat goes to", {"dust": 1.0, "air": 0.0}) == "Heat goes to: dust 100 %."


LETTERS = "INK", "QUIET", "EMBER", "YOURS", "SMOKE"
ON = (
    *((ink, ground) for ink in LETTERS for ground in ("PAPER", "SHADE")),
    ("YOURS", "YOURS_PALE"),
    ("INK", "YOURS_PALE"),
    ("INK", "EMBER_PALE"),
)
LINES = "INK", "QUIET", "EDGE", "EMBER", "EMBER_BAND", "YOURS", "SMOKE", "WOOD_DARK", "SPINDLE"


def luminance(color):
    """Relative luminance: W3C, WCAG 2.1, its definition (from memory)."""
    parts = [c / 255 for c in rgb(color)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return float(np.dot(linear, (0.2126, 0.7152, 0.0722)))


def contrast(one, other):
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("theme", style.TOKENS)
def test_letters_and_lines_stand_out_from_what_they_are_on(theme):
    # W3C, WCAG 2.1, success criteria 1.4.3 and 1.4.11: 4.5 to 1 and 3 to 1 (from memory)
    tokens = style.TOKENS[theme]
    letters = {pair: contrast(*(tokens[token] for token in pair)) for pair in ON}
    assert {pair: found for pair, found in letters.items() if found < 4.5} == {}
    lines = {token: contrast(tokens[token], tokens["PAPER"]) for token in LINES}
    assert {token: found for token, found in lines.items() if found < 3} == {}


@pytest.mark.parametrize("part", HEAT)
def test_words_on_the_heat_bar_can_be_read(part):
    sketch = Sketch(400, 60)
    heat_bar({part: 1.0}, Frame(sketch, (0, 0, 400, 60), UNIT))
    (_, fill, *_), (_, _, _, ink, *_) = sketch.blocks[0], sketch.letters[0]
    assert contrast(ink, "#" + "".join(f"{round(c):02X}" for c in fill)) >= 4.5


@pytest.mark.parametrize("theme", style.TOKENS)
def test_no_colour_is_green_since_red_and_green_look_alike_to_many(theme):
    for token, color in style.TOKENS[theme].items():
        red, green, blue = rgb(color)
        assert green <= max(red, blue), token
    with style.theme(theme):
        assert np.all(style.HEAT[:, 1] <= style.HEAT[:, 0])


@pytest.mark.parametrize(("theme", "rises_from"), [("light", 0.62), ("dark", 0.0)])
def test_hot_looks_hot(theme, rises_from):
    # On white, wood is pale, so it gets darker first; from there on hotter is brighter.
    with style.theme(theme):
        bright = [
            luminance("#" + "".join(f"{round(c):02X}" for c in shade)) for shade in style.HEAT
        ]
    rising = np.array(bright[int(rises_from * 255) :])
    assert np.all(np.diff(rising) > -0.002)  # of 1: steps of a 255th round up and down
    assert rising[-1] > 0.85
    assert rising[-1] == max(bright)


def test_a_colour_is_looked_up_when_something_is_drawn():
    light = style.PAPER, style.HEAT
    with style.theme("dark"):
        dark = style.PAPER, style.HEAT
        with style.theme("light"):
            assert light[0] == style.PAPER
        assert style.PAPER == dark[0] == style.TOKENS["dark"]["PAPER"]
    assert light[0] == style.PAPER != dark[0]
    assert not np.array_equal(light[1], dark[1])
    with pytest.raises(KeyError, match="sepia"), style.theme("sepia"):
        pass
    with pytest.raises(AttributeError, match="GREEN"):
        style.GREEN  # noqa: B018


def test_letters_in_pictures_are_large_enough_for_a_hall():
    picture = TimeCurve(quantity("diameter"), METRIC)
    picture.update(curve(), spot(), None, None)
    ticks = picture.axes.get_xticklabels() + picture.axes.get_yticklabels()
    sizes = [text.get_size() for text in (*ticks, picture.axes.xaxis.label)]
    assert min(sizes + [size for *_, size, _ in picture.letters]) >= 14
    assert not re.search(r"[$\\]", picture.axes.get_xlabel())
