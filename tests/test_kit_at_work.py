"""The kit at work: one description in two renderings, a clock that holds, and no answer told."""

import re
from xml.etree import ElementTree

import numpy as np
import pytest
from matplotlib.path import Path
from reading import shown

from fireheat import Effort, InputError, Kit, Try
from fireheat.answers.course import course
from fireheat.data import table
from fireheat.figures import style
from fireheat.figures.kit_at_work import KitPicture, kept_time, named
from fireheat.figures.kit_picture import Placed, live_picture, placed_shapes
from fireheat.figures.kit_script import kit_script
from fireheat.figures.kit_shapes import kit_shapes
from fireheat.figures.kit_still import placing, traced
from fireheat.kit.making import Carved, sizes
from fireheat.panels import KitAtWork, KitToMake

THIN, THICK = 0.012, 0.020


@pytest.fixture
def panel():
    return KitAtWork()


def scripted(**changed):
    return kit_script(course(Try().changed(**changed)))


# ---- one description, two renderings ------------------------------------------------------------


def parts_of(svg):
    """Each part of a live drawing: outlines in pixels, with fill and opacity, in order."""
    root = ElementTree.fromstring(svg)
    kit = next(one for one in root.iter() if "data-kit" in one.attrib)
    whole = placing(kit.attrib["transform"])
    for group in kit:
        where = placing(group.attrib.get("transform", "")) + whole
        dim = float(group.attrib.get("opacity", 1))
        for path in group:
            fill = path.attrib.get("fill", group.attrib.get("fill"))
            opacity = dim * float(path.attrib.get("opacity", 1))
            corners = where.transform(traced(path.attrib["d"]).vertices)
            yield group.attrib["data-part"], corners, fill.lower(), opacity


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("diameter", [THIN, THICK])
def test_the_live_drawing_and_the_kept_picture_show_the_same(panel, diameter, theme):
    script = scripted(diameter=diameter)
    kit = Placed(script, 322, 336, 0.84)
    with style.theme(theme):
        sketch, time = KitPicture(), kept_time(script)
        sketch.kit.update(kit, time)
        # As it bows, but for bow, cords and smoke, which stand still in the kept one.
        live = list(parts_of(live_picture([kit], (664, 446), time=time)))
    names = [name for name, _ in placed_shapes(kit)]
    drawn = sketch.drawn()
    moving = {"bow", "left", "right", "smoke-1", "smoke-2", "smoke-3"}
    assert len(live) == len(names)
    for name, (part, corners, fill, opacity) in zip(names, live, strict=True):
        if part in moving:
            continue
        assert (name in drawn) == (opacity > 0), name
        if name in drawn:
            there = np.column_stack([drawn[name].x, drawn[name].y])
            assert there == pytest.approx(corners, abs=0.01), name
            assert fill in ("none", drawn[name].color), name


def test_words_lead_to_what_they_name_however_thick_the_spindle_is():
    on = {"bearing block": "block", "spindle": "spindle", "fireboard": "front", "notch": "notch"}
    for diameter in np.linspace(THIN, THICK, 5):
        script = scripted(diameter=diameter)
        ends = named(script)
        shapes = kit_shapes(diameter, force=60.0)
        for word, part in on.items():
            place = (np.array(ends[word]) - (322, 336)) / 0.84
            insides = [
                Path(traced(shape.path).to_polygons()[0]).contains_point(place)
                for shape in shapes
                if shape.part == part and shape.fill
            ]
            assert any(insides), word
            covered = {"fireboard": ("old", "hole", "notch"), "notch": ("heap",)}.get(word, ())
            for shape in shapes:
                if shape.part in covered and shape.fill and shape.part != "heap":
                    assert not Path(traced(shape.path).to_polygons()[0]).contains_point(place)


# ---- what happens when --------------------------------------------------------------------------


def test_each_look_begins_when_the_course_says_and_a_kit_without_an_ember_says_why():
    found = course(Try())
    cues = kit_script(found).cues
    assert [cue.time for cue in cues] == [0.0, found.brown, found.smoke, found.ember]
    weak = course(Try().changed(force=20.0, speed=0.3))
    last = kit_script(weak).cues[-1]
    assert (last.time, last.says) == (weak.end, "No ember")
    assert weak.never in last.note


def test_the_bow_goes_as_fast_as_is_set_on_the_whole_and_rests_where_it_rests():
    script = scripted(speed=2.0)
    assert script.stroke == pytest.approx(0.25)
    swing = [script.swing(time) for time in np.linspace(0, 0.5, 501)]
    assert np.sum(np.abs(np.diff(swing))) == pytest.approx(4.0, abs=1e-3)  # two strokes, two each
    assert scripted(speed=0.0).swing(3.0) == 0.0


def test_the_tip_is_bare_wood_when_cold_and_chars_as_it_goes():
    script = scripted()
    assert float(script.pose(0.0)["tip"]["opacity"]) == 0.0
    charred = [script.charred(time) for time in np.linspace(0, script.end, 40)]
    assert charred == sorted(charred)
    assert (charred[0], charred[-1]) == (0.0, 1.0)
    glows = [float(script.pose(time)["glow"]["opacity"]) for time in (script.end - 0.1, script.end)]
    assert glows == [0.0, 1.0]


# ---- the panel ----------------------------------------------------------------------------------


def test_it_bows_at_once_and_can_be_paused_and_started_again(panel):
    scene = panel.scene
    assert scene.running
    assert panel.pause_button.description == "Pause"
    panel.pause_button.click()
    assert not scene.running
    assert panel.pause_button.description == "Go on"
    panel.pause_button.click()
    assert scene.running
    scene.at, takes = 31.0, scene.take
    panel.again_button.click()
    assert (scene.at, scene.running, scene.take) == (0.0, True, takes + 1)


def test_a_slider_begins_a_new_try_and_one_that_was_paused_stays_so(panel):
    scene = panel.scene
    scene.at = 12.0
    panel.set(force=80.0)
    assert (scene.at, scene.running) == (0.0, True)
    scene.at = 12.0
    panel.pause()
    panel.set(force=90.0)
    assert (scene.at, scene.running) == (0.0, False)
    scene.set_state({"at": 50.0, "running": False, "ended": True})  # as the browser tells it
    assert panel.pause_button.disabled
    panel.set(diameter=0.014)
    assert (scene.at, scene.running, scene.ended) == (0.0, True, False)


def test_other_units_and_another_theme_leave_the_clock_alone(panel):
    panel.scene.at, takes = 12.0, panel.scene.take
    light = panel.scene.svg, panel.face.value
    panel.units.value = "us"
    assert "ft/s" in panel.scene.svg
    panel.units.value = "metric"
    panel.scene.theme = "dark"
    assert (panel.scene.at, panel.scene.take) == (12.0, takes)
    assert style.TOKENS["dark"]["WOOD"] in panel.scene.svg
    assert style.TOKENS["dark"]["WOOD"] in panel.face.value
    panel.scene.theme = "light"
    assert (panel.scene.svg, panel.face.value) == light


def test_no_two_thicknesses_answer_the_prediction_that_follows(panel):
    asked = table("lessons")["predict"]["half_diameter"]
    low, high = panel.control["diameter"].row.slider
    assert (low, high) == (sizes()["spindle_thickness"].low, sizes()["spindle_thickness"].high)
    assert high < 2 * low
    assert not any(low <= asked[when]["diameter"] <= high for when in ("before", "after"))
    assert not re.search(r"\bfloor\b|\d W\b", shown(panel) + panel.sentence())


def test_it_starts_with_what_it_is_given():
    thick = KitAtWork(Kit(radius=0.009), Effort(force=75.0))
    assert thick.state["diameter"] == pytest.approx(0.018)
    assert thick.scene.courses[0]["end"] == pytest.approx(
        course(Try(Kit(radius=0.009), Effort(force=75.0))).end
    )


# ---- a kit to make ------------------------------------------------------------------------------


def test_every_size_has_a_range_a_unit_and_a_source_and_what_is_drawn_is_usual():
    for key, one in sizes().items():
        assert one.low <= one.value <= one.high, key
        assert one.unit in ("m", "1"), key
        assert (one.status, one.source.endswith("no source")) == ("common practice", True), key


def test_the_notch_is_an_eighth_of_the_circle_from_the_middle_of_the_hole():
    carved = Carved(0.016)
    half = np.degrees(np.arctan2(carved.notch_mouth / 2, carved.notch_depth))
    assert 2 * half == pytest.approx(360 / 8)
    assert carved.notch_depth > carved.hole / 2  # its rim does not break out
    with pytest.raises(InputError, match="spindle diameter"):
        Carved(0.5)


def test_all_sizes_are_told_in_words_with_cautions_beside_them():
    panel = KitToMake()
    words = panel.list.value
    for one in sizes().values():
        assert f"<td>{one.name}</td>" in words
    assert len(re.findall("<th>", words)) == len(sizes()) + 2
    said = " ".join(
        str(child.value) for child in panel.stage.children[3].children if hasattr(child, "value")
    )
    for fact in ("knife rules", "adult in charge", "tired hands", "Before-anything-burns"):
        assert fact in said
