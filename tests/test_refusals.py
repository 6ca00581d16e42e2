"""What cannot be is refused in words that name it, whatever kind of thing it is."""

import math

import numpy as np
import pytest

from fireheat import Air, Arm, Catcher, Effort, Ember, InputError, Kit, Try
from fireheat.answers.explorer import outlook
from fireheat.answers.heat_view import kit_heat
from fireheat.answers.pressing import valley
from fireheat.answers.rings import cut
from fireheat.answers.warmth import Rhythm, contact_heat
from fireheat.answers.weather import stores
from fireheat.ember.catchers import catcher
from fireheat.ember.ember import face_flux
from fireheat.ember.ignition import critical_parameter, critical_size
from fireheat.ember.scorch import solve_catcher
from fireheat.estimates import times
from fireheat.figures.practice import TapLine
from fireheat.heat.material import Material
from fireheat.heat.mesh import Block, Grid, Source
from fireheat.heat.volumes import solve
from fireheat.lessons import measured
from fireheat.panels import Explorer, TapCounter
from fireheat.person.arm import ember_inside_hold
from fireheat.person.beat import beat_track
from fireheat.person.strokes import SpeedHistory, stroke_history

WOOD = Material(0.1, 0.1, 5e5)
WALL = Block("wall", WOOD, radius=0.01, thickness=0.02)
DISC = Source(radius=0.01, power=1.0)
HOLD = {"power": 24.0, "critical_power": 14.0, "work_above": 1000.0}
SLATE = {
    "name": "slate",
    "conductivity": 2.2,
    "density": 2400.0,
    "heat_capacity": 1000.0,
    "thickness": 0.005,
}
WORDS = np.array(["force", "speed"])


def pressed(**what):
    return valley(Kit(), arm=Arm(), air=Air(), **{"force": 60.0, "slip_pull": 56.0} | what)


KINDS = {
    "force that is a yes": (lambda: pressed(force=True), "downward force .* not True"),
    "warming that is a yes": (lambda: stores(Try(), warming=True), "warmer .* not True"),
    "rings that are a yes": (lambda: cut(Try(), count=True), "number of rings is True"),
    "rings in part": (lambda: cut(Try(), count=2.5), "number of rings is 2.5"),
    "rings in words": (lambda: cut(Try(), count="two"), "number of rings is 'two'"),
    "cells that are a yes": (lambda: Grid(finest=True), "finest of the grid is True"),
    "cells in a list": (lambda: Grid(growth=[0.1, 0.2]), r"growth of the grid is \[0.1"),
    "steps that are a yes": (lambda: Grid(steps=True), "number of time steps .* is True"),
    "a block without a name": (lambda: Block(3, WOOD, 0.01, 0.02), "block has 3"),
    "a block of nothing": (lambda: Block("wall", 0.1, 0.01, 0.02), "block has 0.1.*Material"),
    "a block in part": (lambda: Source(0.01, 1.0, below=0.5), "block under the source is 0.5"),
    "a block in words": (lambda: Source(0.01, 1.0, below="dust"), "source is 'dust'"),
    "beats before the first": (lambda: beat_track(100, count_in=-1), "count in is -1"),
    "beats in part": (lambda: beat_track(100, count_in=2.5), "count in is 2.5"),
    "beats not known": (lambda: beat_track(100, count_in=math.nan), "count in is nan"),
    "beats in words": (lambda: beat_track(100, count_in="four"), "count in is 'four'"),
    "a step back": (lambda: SpeedHistory(step=-0.1, speed=[1.0]), "time step is -0.1"),
    "speeds in words": (lambda: SpeedHistory(step=0.1, speed="fast"), "bow speed .* 'fast'"),
    "speeds in rows": (lambda: SpeedHistory(step=0.1, speed=[[1.0]]), "speeds have the shape"),
    "no speeds": (lambda: SpeedHistory(step=0.1, speed=[]), "speeds have the shape"),
    "time in words": (lambda: ember_inside_hold("soon", **HOLD), "time must be .* 'soon'"),
    "time not given": (lambda: ember_inside_hold(None, **HOLD), "time must be .* None"),
    "film in words": (lambda: critical_parameter("slab", biot="thick"), "Biot .* 'thick'"),
    "name in numbers": (lambda: Catcher(**SLATE | {"name": 3}), "name of a catcher is 3"),
    "one end": (lambda: Catcher(**SLATE, ranges={"thickness": 0.004}), "range of thickness"),
    "law in a list": (lambda: Arm(law=["hill"]), r"law is \['hill'\]"),
    "catchers": (lambda: catcher(WORDS), "catcher is array"),
    "quantities": (lambda: outlook(Try(), across=["force"]), r"no \['force'\]; allowed: axial"),
    "units": (lambda: Explorer(units=WORDS), "units is array.*metric, us"),
    "imperial units": (lambda: Explorer(units="imperial"), "units is 'imperial'"),
    "a measure misspelt": (lambda: measured("embre", Try()), "'embre'; allowed: bound, ember"),
    "what is no measure": (lambda: measured("at", Try()), "measure is 'at'"),
}


@pytest.mark.parametrize(("asked", "words"), KINDS.values(), ids=KINDS)
def test_the_wrong_kind_of_thing_is_refused_by_name(asked, words):
    with pytest.raises(InputError, match=words):
        asked()


SLIPS = {
    "a heap in Celsius": (lambda: critical_size(350.0), "hot dust is 350 K.*in kelvin"),
    "a heap as a share": (lambda: critical_size(0.6), "hot dust is 0.6 K"),
    "a plate in Celsius": (lambda: critical_size(623.0, temperature_layer=290.0), "is 290 K"),
    "air in Celsius": (lambda: critical_size(623.0, temperature_ambient=20.0), "air .* is 20 K"),
    "a face in cold air": (
        lambda: face_flux(600.0, temperature_ambient=20.0, film=10.0),
        "air temperature is 20 K.*in kelvin",
    ),
    "a cold face": (
        lambda: face_flux(150.0, temperature_ambient=293.15, film=10.0),
        "temperature is 150 K.*in kelvin",
    ),
    "a spindle in millimetres": (lambda: times(Try(), diameter=13.0), "mean 13 mm"),
    "a burn-in in millimetres": (lambda: times(Try(), burn_in_depth=4.0), "mean 4 mm"),
    "friction in percent": (lambda: times(Try(), friction=35), "friction coefficient is 35"),
    "a stroke in either unit": (
        lambda: Effort.from_strokes(stroke_length=20, strokes_per_minute=100),
        "Did you mean 20 cm, which is 0.2 m, or 20 in, which is 0.508 m?",
    ),
}


@pytest.mark.parametrize(("asked", "words"), SLIPS.values(), ids=SLIPS)
def test_a_slip_of_units_is_refused_by_name(asked, words):
    with pytest.raises(InputError, match=words):
        asked()


def test_a_sweep_may_go_beyond_what_is_ordinary():
    assert np.all(np.diff(times(Try(), force=np.array([400.0, 800.0])).bound) < 0)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"activation_energy": 1.0}, "temperature of the heap's hot dust is 623 K"),
        (
            {"temperature_layer": 380.0, "temperature_ambient": 400.0},
            "ignition temperature of a dust layer on a hot plate is 380 K",
        ),
    ],
)
def test_the_size_of_a_heap_names_only_what_it_was_given(given, words):
    with pytest.raises(InputError, match=words):
        critical_size(623.0, **given)


ENDLESS = {
    "a kit's heat": lambda: kit_heat(Try(), duration=1e300),
    "a contact's heat": lambda: contact_heat(Kit(), rhythm=Rhythm(), duration=1e300),
    "a stack": lambda: solve([WALL], source=DISC, time=1e300),
    "a catcher": lambda: solve_catcher("leather", time=1e300),
    "a track": lambda: beat_track(100, duration=1e300),
    "strokes": lambda: stroke_history(0.5, strokes_per_minute=120, duration=1e300),
    "tiny steps": lambda: stroke_history(0.5, strokes_per_minute=120, step=1e-12),
}


@pytest.mark.parametrize("asked", ENDLESS.values(), ids=ENDLESS)
def test_what_would_never_end_is_refused(asked):
    with pytest.raises(InputError, match="allowed"):
        asked()


def test_heat_is_followed_for_a_year():
    assert solve([WALL], source=DISC, time=3.15e7).time.tolist() == [3.15e7]


@pytest.mark.parametrize(
    "made",
    [
        lambda radius: Ember(radius=radius),
        lambda radius: Source(radius, 1.0),
        lambda radius: Block("wall", WOOD, radius, 0.02),
        lambda pause: Rhythm(pause=pause),
        lambda thickness: Catcher(**SLATE | {"thickness": thickness}, ranges={"density": (1, 9e3)}),
    ],
)
def test_what_is_made_from_arrays_of_one_number_is_what_plain_numbers_make(made):
    assert made(np.array(0.01)) == made(0.01)
    assert hash(made(np.array(0.01))) == hash(made(0.01))


@pytest.mark.parametrize("across", [WORDS, ["force"], {}, None])
def test_a_panel_that_refuses_a_word_has_moved_nothing(across):
    panel = Explorer()
    before = panel.state
    with pytest.raises(InputError, match="Picture across cannot be"):
        panel.set(force=100.0, across=across)
    assert panel.state == before


def test_a_panel_goes_back_whatever_goes_wrong(monkeypatch):
    panel = Explorer()
    before = panel.state

    def wrong(*_):
        monkeypatch.undo()
        raise ZeroDivisionError

    monkeypatch.setattr(Explorer, "answer", wrong)
    with pytest.raises(ZeroDivisionError):
        panel.set(force=100.0)
    assert panel.state == before


def test_an_uncertainty_longer_than_any_stroke_is_refused():
    with pytest.raises(InputError, match="uncertainty of the stroke length"):
        TapCounter().set(stroke_length_error=1e9)


@pytest.mark.parametrize("last", [10.0, 239.0, 1e4, 1e9])
def test_a_line_of_taps_has_no_more_marks_than_there_is_room_for(last):
    line = TapLine()
    line.update(np.array([0.0, last]), 0)
    marks = [name for name in line.drawn() if name.endswith(" s")]
    assert 2 <= len(marks) <= 13
