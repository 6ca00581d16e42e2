"""The frame around every panel: what stands where, before, theme and dots of its picture."""

import base64
import io

import numpy as np
import pytest
from PIL import Image
from reading import face, pixels, png, rgb, shown

from fireheat.figures import style
from fireheat.panels import Rings, WattLadder
from fireheat.panels.controls import Slider
from fireheat.quantities import quantities, quantity

SLIDERS = [key for key, row in quantities().items() if row.ends]


@pytest.fixture
def panel():
    return WattLadder()


def look(panel, theme, scale):
    """Say what the browser says: both at once."""
    panel.voice.set_state({"theme": theme, "scale": scale})


def size(picture):
    return Image.open(io.BytesIO(picture)).size


# ---- the picture follows the screen -------------------------------------------------------------


def test_a_picture_is_painted_with_the_dots_of_the_screen_and_laid_out_as_before(panel):
    words, width = panel.sentence(), panel.sketched.size[0]
    look(panel, "light", 2.0)
    assert size(png(panel)) == tuple(2 * side for side in panel.sketched.size)
    assert f'<img width="{width}"' in panel.shot.value
    assert panel.sentence() == words


def test_a_dark_page_gets_a_dark_picture_and_the_light_one_comes_back(panel):
    panel.watch()
    light, results = panel.shot.value, panel.face.value
    look(panel, "dark", 1.0)
    assert (pixels(png(panel))[0, 0] == rgb(style.TOKENS["dark"]["PAPER"])).all()
    panel.set(force=90.0)
    assert (pixels(png(panel))[0, 0] == rgb(style.TOKENS["dark"]["PAPER"])).all()
    panel.reset()
    look(panel, "light", 1.0)
    assert (panel.shot.value, panel.face.value) == (light, results)


def test_a_notebook_keeps_the_light_picture_whatever_is_on_the_screen(panel):
    kept = panel.png
    assert kept == png(panel)
    look(panel, "dark", 1.5)
    assert png(panel) != kept
    assert panel.png == kept
    assert panel.png == kept  # asking has moved nothing
    assert size(png(panel)) == tuple(1.5 * side for side in panel.sketched.size)


def test_nothing_is_painted_until_somebody_looks_on_but_its_place_is_kept(panel, monkeypatch):
    painted = []
    monkeypatch.setattr(type(panel.sketched), "png", lambda *_: painted.append(1) or b"picture")
    width, height = panel.sketched.size
    panel.set(force=80.0)
    assert not painted
    assert f'<img width="{width}" height="{height}" alt=' in panel.shot.value
    assert "image/gif" in panel.shot.value
    panel.voice.set_state({"views": 1})
    panel.set(force=90.0)
    assert len(painted) == 2
    assert base64.b64encode(b"picture").decode() in panel.shot.value


def test_another_look_is_painted_once_and_nothing_is_answered_anew(panel, monkeypatch):
    painted, answered = [], []
    monkeypatch.setattr(panel, "answer", answered.append)
    panel.shot.observe(painted.append, names="value")
    look(panel, "dark", 2.0)
    look(panel, "dark", 2.0)
    assert (len(painted), answered) == (1, [])


# ---- before keeps its place ---------------------------------------------------------------------


def test_there_is_room_for_what_was_before_from_the_start(panel):
    places = face(panel).count('class="fh-before"')
    assert places == face(panel).count("<b>") == 3
    panel.keep_before()
    assert face(panel).count('class="fh-before"') == places
    assert shown(panel).count("before: ") == places


def test_keeping_and_dropping_take_turns_in_one_place(panel):
    one, other = panel.keep_button, panel.drop_button
    for _ in range(2):
        assert (one.layout.display, other.layout.display) == (None, "none")
        one.click()
        assert panel.before == panel.state
        one, other = other, one
        one.click()
        assert panel.before is None
        one, other = other, one
    assert (one.layout.display, other.layout.display) == (None, "none")


# ---- what stands where --------------------------------------------------------------------------


def inside(box, part):
    return part is box or any(inside(child, part) for child in getattr(box, "children", ()))


def place(panel, part):
    """Name of the part of the stage in which something stands."""
    (found,) = (box for box in panel.stage.children if inside(box, part))
    return found._dom_classes[0]


@pytest.mark.parametrize(("make", "where"), [(WattLadder, "fh-side"), (Rings, "fh-foot")])
def test_buttons_stand_under_the_shorter_column(make, where):
    panel = make()
    for each in (panel.keep_button, panel.drop_button, panel.reset_button):
        assert place(panel, each) == where
    for control in panel.control.values():
        assert place(panel, control.widget) == "fh-side"
    names = [box._dom_classes[0] for box in panel.stage.children]
    assert names == ["fh-head", "fh-face", "fh-shot", "fh-side", "fh-below", "fh-foot"]


@pytest.mark.parametrize("key", SLIDERS)
def test_words_stand_at_both_ends_of_a_slider_and_fit_under_it(key):
    low, high = quantity(key).ends
    assert low != high
    assert 0 < len(low) + len(high) <= 28  # as many as stand beside each other
    start = quantity(key).slider[0] if quantity(key).default is None else None
    words = [child.value for child in Slider(key, start).box.children[1:-1]]
    assert words == [f"<span>{low}</span><span>{high}</span>"]


def test_every_slider_has_words_at_its_ends():
    with_ends = {key for key, row in quantities().items() if row.ends}
    of_panels = {control.row.key for control in Rings().control.values() if hasattr(control, "row")}
    assert of_panels <= with_ends
    assert np.all([quantity(key).slider[0] < quantity(key).slider[1] for key in with_ends])
