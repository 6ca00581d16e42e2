"""Pictures: the quick way of drawing gives the pixels of the slow one, and says what it shows."""

import re
import zlib
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays
from PIL import Image
from reading import pixels, rgb

from fireheat.figures import style
from fireheat.figures.heat_bar import heat_bar, heat_words, where_words
from fireheat.figures.letters import halo_width, lettering
from fireheat.figures.sketch import UNIT, Frame, Scale, Sketch, png_bytes

HEAT = {"dust": 30.0, "water": 0.0, "spindle": 45.0, "board": 0.0, "air": 0.0}


def mixed():
    """Make a sketch with everything that can be drawn: axes, a line, a box, pixels and letters."""
    sketch = Sketch(200, 151)
    frame = Frame(sketch, (40, 20, 190, 120), Scale(0, 1), Scale(0, 1))
    with style.look():
        axes = frame.draw_axes()
        sketch.add(axes.plot([0.1, 0.9], [0.2, 0.8], color=style.EMBER, label="line")[0])
    sketch.fill(50, 30, 90, 60, style.YOURS, name="box")
    sketch.fill(100, 25, 101, 65, style.INK, name="hair")
    shades = np.linspace(0, 255, 20)[:, np.newaxis, np.newaxis] * np.ones((20, 30, 3))
    sketch.paste(shades, 120, 70, name="field", under=True)
    sketch.write("ember", 60, 100, weight="bold")
    return sketch


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


def test_what_is_sent_is_what_is_on_the_canvas():
    sketch = mixed()
    sent = pixels(sketch.png())
    np.testing.assert_array_equal(sent, np.asarray(sketch.canvas.buffer_rgba())[..., :3])
    assert sent.shape == (151, 200, 3)


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
    assert (off > 60).mean() < 0.02  # letters are set on whole dots
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


def test_the_bar_is_filled_in_proportion():
    sketch = Sketch(600, 90)
    heat_bar(HEAT, Frame(sketch, (20, 40, 580, 80), UNIT))
    row = pixels(sketch.png())[60]
    wide = {
        name: np.all(row == np.array(rgb(color)), axis=-1).sum()
        for name, color in (("dust", style.EMBER_BAND), ("spindle", style.SPINDLE))
    }
    assert wide["dust"] / (wide["dust"] + wide["spindle"]) == pytest.approx(0.4, abs=0.01)
    assert [word.text for word in sketch.written()] == ["dust 40 %", "spindle 60 %"]


@settings(max_examples=40)
@given(st.lists(st.floats(0, 100), min_size=5, max_size=5))
def test_each_part_of_the_bar_keeps_its_word_and_no_two_words_meet(parts):
    heat = dict(zip(("air", "board", "water", "dust", "spindle"), parts, strict=True))
    sketch = Sketch(800, 90)
    heat_bar(heat, Frame(sketch, (92, 40, 690, 80), UNIT))
    whole = sum(parts) or 1.0
    order = [key for key in ("dust", "water", "spindle", "board", "air") if heat[key]]
    words, drawn = sketch.written(), sketch.drawn()
    seen = [word.text.split()[0] for word in words]
    assert seen == [key for key in order if 598 * heat[key] / whole > 2]
    ends = [(word.x - word.width / 2, word.x + word.width / 2) for word in words]
    for (_, end), (start, _) in pairwise(ends):
        assert end + 6 <= start
    for key, word in zip(seen, words, strict=True):
        part = drawn["edge of heat in air" if key == "air" else f"heat in {key}"]
        left, right = part.frame.across(part.x)
        above = left - 1 <= word.x <= right + 1
        assert above or f"to {word.text}" in drawn


def test_parts_of_the_bar_differ_in_grey_print_too():
    # Dust, spindle and board by their grey; water by its waves, air by being empty.
    sketch = Sketch(600, 90)
    parts = ("dust", "water", "spindle", "board", "air")
    heat_bar(dict.fromkeys(parts, 1.0), Frame(sketch, (0, 40, 600, 80), UNIT))
    shown = pixels(sketch.png())[44:76] @ (0.2126, 0.7152, 0.0722)
    patches = {part: shown[:, 120 * i + 6 : 120 * i + 110] for i, part in enumerate(parts)}
    assert patches["water"].std() > 20 > 1 > patches["air"].std()
    flat = sorted(patches[part].mean() for part in ("dust", "spindle", "board", "air"))
    assert min(np.diff(flat)) > 20


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


@pytest.mark.parametrize("scale", [0.79, 0.823, 1.0, 1.08, 1.25, 2.0])
@pytest.mark.parametrize("halo", ["", "#FFFFFF"])
def test_no_letter_is_cut_at_any_scale(scale, halo):
    words = "thinner than this: likely too little dust to stay hot"
    letters = lettering(words, "#000000", 14, "right", "normal", scale, halo)
    dark = (letters[..., 3] > 0.5) & (letters[..., 0] < 100)
    columns, around = np.flatnonzero(dark.any(axis=0)), halo_width(halo, scale)
    assert min(columns[0], letters.shape[1] - 1 - columns[-1]) >= around - 1
