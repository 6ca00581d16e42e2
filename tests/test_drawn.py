"""Every picture is held to its numbers: what is drawn, read back, is what the model says.

Each row of ``ROWS`` names a panel, the states it is put in, and a function that works out anew from
the model what its picture has to show there: every curve, band, dot, bar and word, all of them and
nothing else. Places of words are the layout's, in pixels; so are the sizes of marks.
"""

import dataclasses
import importlib
import itertools
import pkgutil
import re
import textwrap
from collections import Counter
from collections.abc import Mapping
from fractions import Fraction
from functools import partial
from itertools import combinations, pairwise
from types import MappingProxyType
from typing import Any, NamedTuple

import numpy as np
import pytest
from break_figures import CHOSEN, chosen
from learners import learner_of
from matplotlib.colors import to_hex, to_rgb
from matplotlib.path import Path as MatplotlibPath
from reading import pixels, rgb
from scipy.constants import minute
from scipy.interpolate import RegularGridInterpolator

from fireheat import figures, panels
from fireheat.answers.cards import judge
from fireheat.answers.coaching import coaching
from fireheat.answers.course import course
from fireheat.answers.explorer import outlook
from fireheat.answers.fitted import fitted
from fireheat.answers.heat_view import heat_so_far, kit_heat, still, story
from fireheat.answers.next_try import next_try
from fireheat.answers.our_tries import our_tries
from fireheat.answers.pressing import press, valley
from fireheat.answers.questions import asked_of, try_of
from fireheat.answers.race import pairings, starters
from fireheat.answers.rings import cut
from fireheat.answers.warmth import Rhythm, contact_heat
from fireheat.answers.watts import Pulling, watts
from fireheat.answers.weather import stores
from fireheat.answers.woods import woodpile
from fireheat.answers.worth import doubts
from fireheat.bands import Band
from fireheat.cases import case as case_of
from fireheat.coach.learner import Learner
from fireheat.coach.moves import advice
from fireheat.coach.seen import likely_causes
from fireheat.coach.smoke_now import after_smoke
from fireheat.coach.verdicts import for_learner, verdict
from fireheat.data import table
from fireheat.ember.catchers import catchers
from fireheat.ember.draw import catcher_sheet, draw, draw_history, draws, joules_by_thickness
from fireheat.ember.ember import Ember, dust_mass
from fireheat.ember.ignition import heap_radius, will_it_keep
from fireheat.ember.lasting import lasting
from fireheat.ember.scorch import solve_catcher
from fireheat.estimates import times
from fireheat.everyday import familiar_powers, known_friction
from fireheat.figures import style
from fireheat.figures.sketch import UNIT, Frame, Scale, Sketch
from fireheat.figures.weighing import float_words
from fireheat.figures.woods import beside_words
from fireheat.heat.two_stage import two_stage
from fireheat.kit.bowing import cord_slip_pull
from fireheat.kit.kit import Air, Effort, Kit, Try
from fireheat.kit.moisture import equilibrium_moisture
from fireheat.kit.wood import density, wood, woods
from fireheat.lessons import card
from fireheat.my_kit import MyKit
from fireheat.panels.mine import my_kit
from fireheat.panels.our_log import our_log
from fireheat.person.arm import arms
from fireheat.person.beat import beat_track
from fireheat.person.measuring import mean_angle, ramp_friction, well_measured
from fireheat.person.strokes import most_strokes
from fireheat.quantities import METRIC, US, default, from_si, quantity, to_si, unit_text
from fireheat.spread import compare, pairs, spread
from fireheat.trials.log import demo_log
from fireheat.trials.our_fire import our_fire
from fireheat.trials.reading import read_log
from fireheat.unknowns import unknown
from fireheat.words import (
    NEVER,
    TOO_LONG,
    band_words,
    inch_words,
    number_words,
    percent_words,
    saved_words,
    shares_words,
    time_words,
)

HALF = 0.51  # of a pixel: boxes have whole pixels
SLACK = 0.6  # pixels that a word may be off: it is stamped at a whole one


# ---- what is meant -----------------------------------------------------------------------------


class Text(NamedTuple):
    words: str
    x: float
    y: float
    align: str = "left"
    slack: float = SLACK  # in pixels, up and down
    perhaps: bool = False  # only written where there is room


class Meant:
    """What a picture is to show, in pixels: marks by name with their colour, and texts."""

    def __init__(self):
        self.marks: dict[str, tuple[np.ndarray, Any]] = {}
        self.texts: list[Text] = []
        self.still: set[str] = set()  # words that stay: names of axes, titles
        self.counted = False  # whether numbers are stamped digit by digit
        self.fields: dict[str, Any] = {}  # name to what is to be asked of a field of pixels

    def line(self, name, frame, x, y, color):
        self.marks[name] = at(frame, x, y), color

    def shape(self, name, frame, x, y, color):
        points = at(frame, x, y)
        points = points if np.all(points[0] == points[-1]) else np.vstack([points, points[:1]])
        self.marks[name] = points, color

    def box(self, name, left, top, right, bottom, color=None):
        corners = np.array([(left, bottom), (right, top)], float)
        self.marks[name] = corners, color

    def plank(self, sketch, plank):
        """The axis of time: its notches stand at even steps from zero, and are named."""
        notches = at(sketch.whole, *sketch.drawn()["notches"][1:3])
        steps = np.diff(notches[:, 0])
        assert steps == pytest.approx(steps[0], abs=0.01)
        assert notches[[0, -1], 0] == pytest.approx(plank.frame.box[::2], abs=0.01)
        self.marks["notches"] = notches, style.CHAR
        low = plank.frame.bottom + 32
        named = [word for word in sketch.written() if word.y == pytest.approx(low, abs=SLACK)]
        every = 1 if steps[0] > 58 else 2  # on a short plank
        numbers = range(0, len(notches), every)
        assert len(named) == len(numbers)
        for word, (x, _), number_of in zip(named, notches[::every], numbers, strict=True):
            seconds = number_of * plank.end / (len(notches) - 1)
            halves = word.text.replace("½", ".5")
            assert number(halves) == pytest.approx(seconds, abs=0.01)
            self.text(word.text, x, low, "center")

    def before_dot(self, name, frame, x, y):
        """An empty dashed circle."""
        ((across_it, down_it),) = at(frame, [x], [y])
        half = 8.5
        box = across_it - half, down_it - half, across_it + half, down_it + half
        self.box(name, *box, style.INK)

    def near(self, sketch, words, place, reach):
        """Words that stand where there is room, their box not further than that from a place."""
        found = [word for word in sketch.written() if word.text == words]
        assert len(found) == 1, words
        left, top, right, bottom = found[0].box
        beside = max(left - place[0], place[0] - right, 0)
        assert np.hypot(beside, max(top - place[1], place[1] - bottom, 0)) <= reach, words
        self.texts.append(Text(*found[0][:4]))

    def leader(self, sketch, name, start, end):
        """A thin line, whose box has a few pixels of room round it."""
        self.boxes_of(sketch, name)
        corners = np.sort([start, end], axis=0), np.sort(self.marks[name][0], axis=0)
        np.testing.assert_allclose(*corners, rtol=0, atol=5, err_msg=name)

    def boxes_of(self, sketch, name):
        """Take over the box of a leader, whose ends the caller has looked at."""
        seen = sketch.drawn()[name]
        self.marks[name] = at(seen.frame, seen.x, seen.y), None

    def text(self, *args, **kwargs):
        self.texts.append(Text(*args, **kwargs))


def at(frame, x, y):
    """Pixels of values, from the top left: by matplotlib's own axes where there are some."""
    x, y = np.broadcast_arrays(np.asarray(x, float), np.asarray(y, float))
    if frame.axes is None:
        return np.column_stack([frame.across(x), frame.down(y)])
    height = frame.sketch.figure.bbox.height
    return np.array([0, height]) + frame.axes.transData.transform(np.column_stack([x, y])) * (1, -1)


def across(frame, x):
    low = frame.y.low
    return float(at(frame, [x], [low])[0, 0])


def down(frame, y):
    low = frame.x.low
    return float(at(frame, [low], [y])[0, 1])


class Shown(NamedTuple):
    """A picture as it is now, and the states that it shows."""

    panel: Any
    sketch: Any
    now: dict
    then: dict | None
    system: str


class Case(NamedTuple):
    name: str
    moved: Mapping = MappingProxyType({})
    before: dict | None = None
    units: str = METRIC
    start: Mapping = MappingProxyType({})


def maker(panel):
    """What makes a panel, given itself or by its name."""
    return panel if callable(panel) else getattr(panels, panel)


def show(panel_name, case):
    """Put a panel in a state as a reader would; return it with the picture it drew last."""
    panel = maker(panel_name)(units=case.units, **case.start)
    panel.watch()
    then = None
    if case.before is not None:
        panel.set(**case.before)
        panel.keep_before()
        then = panel.state
    panel.set(**case.moved)
    now = panel.state
    if then is not None:
        then |= {key: now[key] for key in panel.view}
    return Shown(panel, DRAWING[-1], now, then, case.units)


DRAWING: list[Sketch] = []  # every sketch that made a picture, in order


@pytest.fixture(autouse=True)
def _watch(monkeypatch):
    """Note each sketch that is made a picture of."""
    png = Sketch.png

    def watched(sketch, *scale):
        DRAWING.append(sketch)
        return png(sketch, *scale)

    monkeypatch.setattr(Sketch, "png", watched)
    yield
    DRAWING.clear()


def tried(state):
    """The try of a state."""
    kit = {
        key: state[key]
        for key in (
            "friction",
            "wood",
            "contact",
            "burn_in_depth",
            "moisture",
            "block_friction",
            "block_radius",
        )
        if key in state
    }
    kit |= {"radius": state["diameter"] / 2} if "diameter" in state else {}
    if state.get("dust") == "dust_mass":
        kit |= {"burn_in_depth": None, "dust_mass": state["dust_mass"]}
    air = {"temperature_ambient": "temperature", "relative_humidity": "relative_humidity"}
    effort = {key: state[key] for key in ("force", "speed") if key in state}
    return Try(
        Kit(**kit),
        Effort(**effort),
        Air(**{name: state[key] for key, name in air.items() if key in state}),
    )


def placed(frame, seconds):
    """Times as they stand on an axis of times: what is too long stands in the strip at its end."""
    first, last = (frame.axes.get_ylim if frame.y.factors else frame.axes.get_xlim)()
    strip = (TOO_LONG * last) ** 0.5
    return np.where(np.asarray(seconds) >= TOO_LONG, strip, np.maximum(seconds, first))


def outline(low, high):
    """Go along one end of a band and back along the other."""
    return np.r_[low, np.asarray(high)[::-1]]


def closed(left, right, low, high):
    """Corners of a rectangle, as matplotlib goes round it."""
    return [left, right, right, left], [low, low, high, high]


HEAT = {
    "dust": "EMBER_BAND",
    "dust_and_water": "EMBER_BAND",
    "water": "QUIET",
    "spindle": "SPINDLE",
    "board": "BOARD",
    "air": "EDGE",
}


def heat_parts(meant, shown, frame, heat):
    """Parts of the bar of heat, in order, each with its word above it; leaders where it is thin."""
    whole, place, shares = sum(heat.values()) or 1.0, frame.left, shares_words(heat)
    words = [word for word in shown.sketch.written() if word.y == pytest.approx(frame.top - 26)]
    for key, token in HEAT.items():
        label, end = (
            key.replace("_", " "),
            place + heat.get(key, 0.0) / whole * np.ptp(frame.box[::2]),
        )
        if end - place > 2:
            box = place, frame.top, end - 2, frame.bottom
            if key != "air":
                meant.box(f"heat in {label}", *box, style.color(token))
            if key in ("water", "air"):
                meant.box(f"edge of heat in {label}", *box, style.EDGE)
            (word,) = (word for word in words if word.text == f"{label} {shares[key]}")
            meant.text(word.text, word.x, frame.top - 26, "center")
            leader = f"to {word.text}"
            within = place <= word.x <= end - 2 and word.width <= 2 * (end - 2 - place)
            assert within or leader in shown.sketch.drawn()
            if leader in shown.sketch.drawn():
                left, right = sorted((*shown.sketch.drawn()[leader].x, word.x))[::2]
                assert left - 3 <= (place + end - 2) / 2 <= right + 3
                meant.boxes_of(shown.sketch, leader)
        place = end


# ---- what each picture is to show --------------------------------------------------------------


UPRIGHT = ("diameter", "force", "friction", "speed", "burn_in_depth", "dust_mass", "moisture")
NOTCHES = {
    **{15: 5, 30: 5, 60: 10, 120: 30, 180: 30, 240: 30, 300: 60, 600: 120, 1200: 240},
    **{1800: 300, 3600: 600},
}  # seconds apart, by the end of the plank


def explored(shown):
    """What the explorer has to show, now and before, upright the quantity moved last."""
    start = {key: control.start for key, control in shown.panel.control.items()}
    stood, upright = shown.then or start, shown.now["across"]
    if upright == "moved":
        upright = next((key for key in UPRIGHT if shown.now[key] != stood[key]), "diameter")
    upright = shown.now["dust"] if upright == "burn_in_depth" else upright
    now, then = (
        state and outlook(tried(state), across=upright, evenings=our_log.own)
        for state in (shown.now, shown.then)
    )
    return now, then


def explorer(shown):
    meant, sketch, (found, past) = Meant(), shown.sketch, explored(shown)
    row, plank, field = quantity(found.across), sketch.plank.frame, sketch.frame
    end = notches(meant, sketch, plank)
    assert end >= max(t for t in (0, found.now.bound, *found.now.ember[1:]) if t < TOO_LONG)
    assert plank.axes.get_xlim() == field.axes.get_xlim() == (0, end)
    up = row.shown(found.values, shown.system)
    for name, band, color in (
        ("all we do not know", found.sweep.all, paler("EMBER_PALE", 0.7)),
        ("your wood", found.sweep.wood, paler("EMBER_BAND", 0.45)),
    ):
        low, _, high = np.minimum(band, 2 * end)
        meant.shape(name, field, outline(low, high), outline(up, up), color)
    floor, likely = np.minimum((found.sweep.bound.likely, found.sweep.wood.likely), 2 * end)
    meant.shape("too soon", field, [*floor, 0, 0], [*up, up[-1], up[0]], None)
    meant.line("floor", field, floor, up, style.INK)
    meant.line("likely", field, likely, up, style.EMBER)
    least = row.shown(found.least, shown.system)
    if up.min() < least < up.max():
        meant.line("too little dust", field, [0.4 * end, end], [least, least], style.QUIET)
        less = "thinner" if found.across == "diameter" else "less"
        words = f"{less} than this: likely too little dust to stay hot"
        meant.near(sketch, words, (field.right, down(field, least)), 50)
    height = down(field, row.shown(found.here, shown.system))
    lanes = {"now": (found, height)}
    if past:
        then = down(field, row.shown(past.here, shown.system))
        if abs(then - height) < 60:  # beside the lane of now, on this side if there is room
            (then,) = at(plank, 0, sketch.drawn()["before, wood"].y[[0, 2]].mean())[:, 1]
            assert abs(then - height) == pytest.approx(60)
        lanes["before"] = past, then
    for name, (seen, y) in lanes.items():
        lane(meant, sketch, plank, name, seen.spread, y)
        value_of(meant, shown, name, seen, y)
    right = 92 if found.across == "diameter" else 130
    for word in sketch.written():
        if re.fullmatch(r"[\d.]+", word.text) and word.x <= right + 1:
            assert min(abs(word.y - y) for _, y in lanes.values()) > 20
            meant.text(word.text, right, down(field, float(word.text)), "right")
    meant.text(row.label(shown.system), 4, 12)
    wood, every = found.spread.wood, found.spread.all
    places = {"too soon: the floor": (field.left, height)}
    if every.low >= end:
        places["no ember: never"] = across(plank, min(found.now.bound, end)), height
    if wood.low < end:
        middle = (across(plank, wood.low) + across(plank, min(wood.high, end))) / 2
        places["your wood"] = middle, height - 17
    if every.high <= end:
        above = "your evenings" in sketch.drawn()  # the bracket has its name below
        places["all we do not know"] = across(plank, every.high), height + (-17 if above else 17)
    if our_log.own:
        ours = our_fire(our_log.own, draws=2000).band(tried(shown.now))
        foot = [height + 24] * 2
        left, right = (across(plank, min(time, end)) for time in ours.ends)
        tip, up = ([right], [height + 17]) if ours.high < end else ([], [])
        bracket = [left, left, right, *tip], [height + 17, *foot, *up]
        meant.line("your evenings", sketch.whole, *bracket, style.YOURS)
        places["your evenings"] = (left + right) / 2, height + 24
    for words, place in places.items():
        if words[:3] != "too" or words in [word.text for word in sketch.written()]:
            meant.near(sketch, words, place, 400 if words[:3] == "too" else 60)
    heat_parts(meant, shown, sketch.bar, found.now.heat)
    meant.text("heat goes to", 4, (sketch.bar.top + sketch.bar.bottom) / 2)
    return meant


def paler(token, share):
    """Mix a colour with paper."""
    ink, paper = (np.array(to_rgb(style.color(name))) for name in (token, "PAPER"))
    return to_hex(share * ink + (1 - share) * paper)


def notches(meant, sketch, plank):
    """Notches of a plank and their names; return its end."""
    end = plank.axes.get_xlim()[1]
    times, low = np.arange(0, end + 1, NOTCHES[end]), plank.bottom
    assert len(times) <= 9
    places = [across(plank, time) for time in times]
    meant.line("notches", sketch.whole, places, np.full(len(times), low + 4.5), style.CHAR)
    for time, place in zip(times, places, strict=True):
        minutes = f"{time / 60:g} min".replace("0.5", "½").replace(".5", "½")
        words = minutes if time >= 60 and time % 30 == 0 else f"{time:g} s" if time else "0"
        meant.text(words, place, low + 32, "center")
    return end


def lane(meant, sketch, plank, name, found, y, outlined=None, wall=True):
    """Wall, bars and dot of one try; or empty outlines before."""
    end, pixel = plank.axes.get_xlim()[1], np.ptp(plank.axes.get_xlim()) / np.ptp(plank.box[::2])

    def bar(what, low, high, half, color):
        tip = [(end + 14 * pixel, y)] if high > end or high >= TOO_LONG else []
        high = end if tip else high
        corners = [(low, y - half), (high, y - half), *tip, (high, y + half), (low, y + half)]
        meant.shape(f"{name}, {what}", plank, *zip(*corners, strict=True), color)

    before = name == "before" if outlined is None else outlined
    for what, band, half, color in (
        ("all", found.all, 11, style.EMBER_PALE),
        ("wood", found.wood, 17, style.PAPER if before else style.EMBER_BAND),
    ):
        if band.low > end or band.low >= TOO_LONG:
            continue
        if before and what == "all":
            meant.line(f"{name}, all", plank, [band.low, min(band.high, end)], [y, y], style.INK)
            continue
        bar(what, band.low, band.high, half, color)
        if not before:
            low, high = band.low - 4 * pixel, band.high + 4 * pixel
            bar(f"paper round {what}", low, high, half + 4, style.PAPER)
    if found.wood.likely <= end and found.wood.likely < TOO_LONG:
        color = style.PAPER if before else style.EMBER
        meant.line(f"{name}, likely", plank, [found.wood.likely], [y], color)
    late = [band.high for band in (found.all, found.wood) if band.low <= end < band.high]
    if late:
        meant.text(f"to {time_words(late[0])}", plank.right, y + 30, "right")
    if before or not wall:
        return
    low, floor, high = np.minimum(found.bound, end)
    for what, more in (("paper round wall", 4), ("wall", 0)):
        sides, ends = (
            [0, *2 * [floor + more * pixel], 0],
            [*2 * [y - 17 - more], *2 * [y + 17 + more]],
        )
        meant.shape(f"{name}, {what}", plank, sides, ends, style.PAPER)
    if found.bound.likely <= end:
        meant.line(f"{name}, floor", plank, [floor, floor], [y - 17, y + 17], style.INK)
        foot = y + 22 + np.array([-4, 4, 0, 0, 4, -4])
        meant.line(f"{name}, floor's range", plank, [*3 * [low], *3 * [high]], foot, style.INK)


def name_of_range(meant, sketch, plank, found, y, pole=0.0):
    """What the bracket under a wall is, beside it, if there is room and no other word there."""
    words, place = "too soon ends about here", across(plank, found.bound.high) + 10
    right = place + sketch.width(words)
    others = [word.box for word in sketch.written() if word.text != words]
    taken = [box for box in others if box[1] < y + 35 and box[3] > y + 19]
    meet = any(box[0] <= right and box[2] >= place for box in taken)
    room = right < sketch.size[0] and found.bound.likely <= plank.axes.get_xlim()[1]
    if room and not meet and not place - 4 < pole < right + 4:
        meant.text(words, place, y + 27)


def value_of(meant, shown, name, seen, y):
    """Value of a lane at its left, on paper, beside the end of its spindle."""
    sketch, row = shown.sketch, quantity(seen.across)
    paper = sketch.drawn()[f"{name}, paper"]
    assert paper.y.min() <= y - 20 < y + 20 <= paper.y.max()
    assert paper.x.max() <= sketch.frame.left
    meant.boxes_of(sketch, f"{name}, paper")
    words = row.text(seen.here, shown.system)
    right = 92 if row.key == "diameter" else 130
    meant.text(words if name == "now" else f"before\n{words}", right, y, "right")
    if row.key == "diameter":
        radius = 1150 * seen.here / 2
        disc = MatplotlibPath.unit_circle().vertices * radius + (117, y)
        meant.line(f"{name}, spindle", sketch.whole, *disc.T, style.WOOD)
        rings = sketch.drawn()[f"{name}, spindle, rings"]
        assert np.ptp(rings.x) == pytest.approx(0.72 * 2 * radius)
        meant.boxes_of(sketch, f"{name}, spindle, rings")


def named_ends(meant, x, ends, room):
    """Names of curves at their right ends, pushed apart where they would overlap."""
    highest, lowest, gap = room
    heights = sorted(ends.values())
    roomy = min(np.diff(heights)) >= gap and heights[0] >= highest and heights[-1] <= lowest
    for name, y in ends.items():
        meant.text(name, x, y, slack=SLACK if roomy else 2.2 * gap)


def heat_view(shown):
    meant, sketch = Meant(), shown.sketch
    unit = "degF" if shown.system == US else "degC"
    char, ambient = default("temperature_char"), default("temperature_ambient")
    both = shown.then is not None
    half = max(
        max(0.015, state["diameter"] / 2 + 0.006) for state in (shown.now, shown.then) if state
    )
    cuts = {"now": (sketch.left if both else sketch.alone, shown.now)}
    cuts |= {"before": (sketch.right, shown.then)} if both else {}
    for name, (place, state) in cuts.items():
        cut_open(meant, shown, name, place.frame, state, half)
    told, time = story(tried(shown.now)), shown.now["elapsed"]
    heat_parts(meant, shown, sketch.bar, heat_near(told, time))
    meant.text("heat\nis in", 6, 372)
    meant.text(f"after {time:.0f} s", 588, 16)
    smoke, ember = told.found.smoke.likely, told.found.ember.likely
    warm = told.state.power * time > 0
    stage = "warming" if warm else "cold"
    if time >= smoke:
        stage = "first smoke" if time == smoke else "smokes"
    if time >= ember:
        stage = "ember: glows"
        meant.line("it glows", sketch.whole, [598], [42], style.EMBER)
    meant.text(stage, 614 if time >= ember else 588, 42)
    meant.box("key", 588, 74, 608, 310)
    low = np.array([ambient, *(to_si(n, unit) for n in ISOTHERMS[shown.system])])
    words = [" air", "", " boils", ""]
    rows = [*zip(low, words, strict=True), (default("temperature_smoke"), " smokes")]
    for kelvin, note in (*rows, (char, " charred")):
        y = 310 - (kelvin - ambient) / (char - ambient) * 236
        text = f"{from_si(kelvin, unit):z.0f} {unit_text(unit)}{note}"
        meant.text(text, 616, y, slack=20)
    meant.box("key, charred", 588, 74, 608, 74 + 10 / (char - ambient) * 236, style.CHAR)
    plank(meant, sketch, time, smoke, ember)
    return meant


def heat_near(told, time):
    """Heat of a story, worked out at this one time."""
    exact = heat_so_far(told.state, time=time)
    known = told.heat(time)
    # Within what the sums promise; then the bar is held to the very numbers.
    assert known == pytest.approx(exact, abs=0.2 + 0.006 * told.state.power * time)
    return known


def plank(meant, sketch, time, smoke, ember):
    """Notches stand where it smokes and glows, the mark where it is now; what is late is named."""
    middle, notch = 411, 409
    across_ = [92 + mark / 120 * 694 for mark in (smoke, ember) if mark <= 120]
    meant.line("notches", sketch.whole, across_, [notch] * len(across_), style.CHAR)
    meant.line("now on the plank", sketch.whole, [92 + time / 120 * 694], [middle], style.INK)
    meant.text("time", 6, 411)
    if smoke >= TOO_LONG:
        names = ["never smokes, never an ember"]
    else:
        late = {True: "", False: " →"}
        names = [f"first smoke, likely {time_words(smoke)}{late[smoke <= 120]}"]
        names += [
            f"ember, likely {time_words(ember)}{late[ember <= 120]}"
            if ember < TOO_LONG
            else "never an ember"
        ]
    for text in names:
        (word,) = (word for word in sketch.written() if word.text == text)
        meant.text(text, word.x, 444, "center")
        mark = smoke if text.startswith("first") else ember
        if mark <= 120 and abs(word.x - (92 + mark / 120 * 694)) > 1:
            others = [one for one in sketch.written() if one.text in names and one.text != text]
            beside = [abs(one.x - word.x) - (one.width + word.width) / 2 for one in others]
            edge = word.x - word.width / 2 < 12 or word.x + word.width / 2 > 788
            assert edge or min(beside, default=0) < 60  # pushed aside by the other


ISOTHERMS = {METRIC: (50, 100, 200), US: (120, 200, 400)}


def cut_open(meant, shown, name, frame, state, half):
    """One cut: how hot each of its pixels is, how wide the spindle, what is charred, and names."""
    unit = "degF" if shown.system == US else "degC"
    char, ambient = default("temperature_char"), default("temperature_ambient")
    one = tried(state)
    run, radius = still(kit_heat(one), time=state["elapsed"]), 500 * state["diameter"]
    both, wide = shown.then is not None, frame.right - frame.left
    tall = 2 * half * 280 / wide
    assert frame.box[1::2] == (34, 314)
    assert frame.x[:2] == pytest.approx((-1000 * half, 1000 * half))
    assert frame.y[:2] == pytest.approx((-420 * tall, 580 * tall))
    meant.box(name, frame.left, 34, frame.right, 314)
    length, words = (6.35, "1/4 in") if shown.system == US else (5.0, "5 mm")
    end = frame.left + 12 + length / 2000 / half * wide
    meant.box(f"{name}, {words}", frame.left + 12, 299, end, 302, style.INK)
    meant.text(words, end + 6, 300)
    thick = quantity("diameter").text(one.kit.diameter, shown.system)
    watts_made = f"{number_words(one.power)} W"
    title = f"{name}: {thick}, {watts_made}" if both else f"{thick} spindle, {watts_made}"
    meant.text(title, frame.left, 16)
    nothing, top = np.nan, frame.y.high
    meant.line(
        f"{name}, sides",
        frame,
        [-1000 * half, 1000 * half, nothing, -radius, -radius, nothing, radius, radius],
        [0, 0, nothing, 0, top, nothing, 0, top],
        style.EDGE,
    )
    field = Section(run, radius, (ambient, char), unit)
    meant.fields[name] = field.check_paper
    meant.fields[f"{name}, degrees"] = field.check
    edge, lowest = frame.across(radius), frame.down(0) - 14.0
    for level in reversed(ISOTHERMS[shown.system]):
        kelvin = to_si(level, unit)
        field.expect(meant, shown, f"{name}, {level} degrees", frame, kelvin)
        side = field.kelvin(np.full(400, radius - 0.1), np.linspace(0.05, top, 400))
        word = f"{level} {unit_text(unit)}" if frame.right - edge - 30 > 74 else f"{level}"
        hot, written = side >= kelvin, [one.text for one in shown.sketch.written()]
        if side.max() > kelvin + 15 or (hot.any() and word in written):
            height = min(frame.down(np.linspace(0.05, top, 400)[hot].max()), lowest)
            meant.text(word, edge + 26, height, slack=8)
            lowest = height - 20
    if frame.across(-radius) - frame.left > 84:
        meant.text("spindle", frame.across(-radius) - 8, 48, "right")
        meant.text("air", frame.across(-radius) - 8, 74, "right")
    if not both:
        meant.text("fireboard", frame.right - 8, 300, "right")
    field.expect_char(meant, shown, name, frame, char - 10)
    if f"{name}, leads" in shown.sketch.drawn():
        leads = shown.sketch.drawn()[f"{name}, leads"]
        meant.boxes_of(shown.sketch, f"{name}, leads")
        starts = at(leads.frame, leads.x, leads.y)[::3]
        on_side = np.abs(starts[:, 0] - edge) < 1
        assert on_side.sum() >= len(starts) - 1


class Section:
    """A cut through spindle and board, interpolated anew wherever a picture shows something."""

    def __init__(self, run, radius, ends, unit):
        self.radius, self.unit, (self.ambient, self.char) = radius, unit, ends
        columns = run.radial <= 0.001 * radius
        how = {"bounds_error": False, "fill_value": None}
        above = RegularGridInterpolator(
            (run.axial, run.radial[columns]), run.rise[0][:, columns], **how
        )
        under = run.axial < 0
        below = RegularGridInterpolator((run.axial[under], run.radial), run.rise[0][under], **how)
        self.ways = above, below

    def kelvin(self, across_mm, up_mm):
        """Temperature at places in millimetres; nothing in the air."""
        points = np.column_stack([np.ravel(up_mm), np.abs(np.ravel(across_mm))]) / 1000
        above, below = (self.ambient + way(points) for way in self.ways)
        inside = points[:, 1] <= 0.001 * self.radius + 1e-9
        found = np.where(inside, above, np.where(points[:, 0] <= 1e-9, below, np.nan))
        return np.where((points[:, 0] > 1e-9) & ~inside, np.nan, found)

    def grid(self, seen):
        """Places of a picture's pixels, in millimetres."""
        height, width = seen.color.shape[:2]
        (left, right), (low, high) = seen.x, seen.y
        x = left + (np.arange(width) + 0.5) / width * (right - left)
        y = high - (np.arange(height) + 0.5) / height * (high - low)
        return np.meshgrid(x, y)

    def check(self, seen):
        """Colours say the temperature, to three shades and half a pixel."""
        x, y = self.grid(seen)
        there = self.kelvin(x, y).reshape(x.shape)
        steep = np.hypot(*np.gradient(there))
        shown = np.minimum(there, self.char)  # where the key ends
        off = np.abs(to_si(seen.color, self.unit) - shown)
        sure = np.isfinite(seen.color) & np.isfinite(steep)
        assert sure.sum() > 0.8 * np.isfinite(steep).sum()
        shade = (self.char - self.ambient) / 236
        assert np.mean(off[sure] <= (3 * shade + 1.2 * steep)[sure]) > 0.995

    def check_paper(self, seen):
        """Where there is neither spindle nor board there is paper."""
        x, y = self.grid(seen)
        air = np.isnan(self.kelvin(x, y)).reshape(x.shape)
        paper = np.all(np.abs(seen.color - style.rgb("PAPER")) < 1, axis=-1)
        assert np.mean(air == paper) > 0.99

    def expect(self, meant, shown, name, frame, kelvin):
        """A line is where the temperature is passed, and is there if it is."""
        x, y = np.meshgrid(np.linspace(*frame.x[:2], 120), np.linspace(*frame.y[:2], 90))
        there = self.kelvin(x, y)
        crossed = np.nanmin(there) < kelvin - 8 and np.nanmax(there) > kelvin + 8
        assert not crossed or name in shown.sketch.drawn(), name
        if name in shown.sketch.drawn():
            meant.boxes_of(shown.sketch, name)
            meant.fields[name] = lambda seen: self.passes(seen, kelvin)

    def passes(self, seen, kelvin):
        points = np.column_stack([seen.x, seen.y])
        points = points[np.isfinite(points).all(axis=1)]
        found = self.kelvin(*points.T)
        found = found[np.isfinite(found)]
        assert len(found) > 5
        assert np.mean(np.abs(found - kelvin) < 12) > 0.9  # of the coarser grid that is drawn

    def expect_char(self, meant, shown, name, frame, charred):
        x, y = np.meshgrid(np.linspace(*frame.x[:2], 200), np.linspace(*frame.y[:2], 200))
        hot = self.kelvin(x, y) >= charred
        zone = f"{name}, charred"
        if zone not in shown.sketch.drawn():
            assert hot.mean() < 0.002
            return
        cell = np.ptp(frame.x[:2]) * np.ptp(frame.y[:2]) / hot.size
        meant.boxes_of(shown.sketch, zone)
        meant.fields[zone] = lambda seen: self.encloses(seen, hot.sum() * cell, charred)
        words = [word for word in shown.sketch.written() if word.text == "charred"]
        for word in words:
            if frame.left <= word.x < frame.right:
                meant.text("charred", frame.left + 4, frame.down(0) - 34)

    def encloses(self, seen, area, charred):
        """What is hatched is as hot as that on its edge, and as large as it should be."""
        x, y = seen.x, seen.y
        found = self.kelvin(x, y)
        assert np.mean(np.abs(found[np.isfinite(found)] - charred) < 15) > 0.9
        drawn = abs(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))) / 2
        assert drawn == pytest.approx(area, rel=0.25, abs=1.0)


class Field:
    """A temperature field, interpolated anew at a picture's pixels."""

    def __init__(self, run, moment, ends, unit, heights, width):
        (ambient, hot), radial = ends, np.abs((np.arange(width) + 0.5) / 8500 - 0.02)
        points = np.meshgrid(heights, np.maximum(radial, run.radial[0]), indexing="ij")
        grid, how = (run.axial, run.radial), {"bounds_error": False}
        self.kelvin = ambient + RegularGridInterpolator(grid, run.rise[moment], **how)(
            tuple(points)
        )
        inside = RegularGridInterpolator(grid, run.inside.astype(float), **how)(tuple(points))
        self.kelvin[~(inside > 0.999)] = np.nan
        self.unit, self.shade = unit, (hot - ambient) / 196  # a key of 196 rows
        steep = np.gradient(self.kelvin)
        self.steep = np.hypot(*steep)  # kelvin a pixel

    def check(self, seen):
        """Colours say the temperature, to two shades and half a pixel."""
        off = np.abs(to_si(seen.color, self.unit) - self.kelvin)
        there = np.isfinite(seen.color) & np.isfinite(self.steep)
        assert there.sum() > 0.85 * np.isfinite(self.steep).sum()
        assert np.all(off[there] <= (2 * self.shade + 0.6 * self.steep)[there])

    def at(self, columns, rows):
        """Temperature at pixels of the cut."""
        points = np.clip(np.column_stack([rows, columns]) - 0.5, 0, np.array(self.kelvin.shape) - 1)
        found = RegularGridInterpolator(
            tuple(np.arange(size) for size in self.kelvin.shape), self.kelvin
        )
        return found(points), RegularGridInterpolator(found.grid, self.steep)(points)


def ladder(shown):
    meant, rail, (least, most) = Meant(), 330, (0.3, 250.0)  # pixels; watts at the ends

    def height(watts):
        share = np.log(np.clip(watts, least, most) / least) / np.log(most / least)
        return 330 - share * 316

    meant.box("rail", rail - 2, 14, rail + 2, 330, style.INK)
    for rung in (1, 10, 100):
        y = height(rung)
        meant.box(f"{rung} W", 70, y, 84, y + 1, style.RULE)
        meant.text(f"{rung} W", 64, y, "right")
    for much, name in familiar_powers():
        y = height(much)
        meant.box(name, rail, y - 1, rail + 16, y + 1, style.INK)
        meant.text(f"{name}, {much:g} W", rail + 26, y)
    marks = {"your tip": tried(shown.now).power}
    y = height(marks["your tip"])
    meant.box("your tip", rail - 40, y - 3, rail + 2, y + 3, style.EMBER)
    if shown.then:
        marks["before"] = tried(shown.then).power
        y = height(marks["before"])
        meant.box("before", rail - 40, y - 5, rail - 3, y + 5, style.INK)
    apart = np.ptp([height(much) for much in marks.values()])
    for name, much in marks.items():
        aside = 12 if shown.then and apart < 24 else 0  # where two names would overlap
        words = f"{name}: {number_words(much)} W"
        meant.text(words, rail - 48, height(much), "right", slack=SLACK + aside)
    return meant


def taps(shown):
    meant, frame = Meant(), shown.sketch.frame
    found = np.array(shown.now["taps"])
    found = found - found[0] if len(found) else found
    last = max(10.0, found[-1] if len(found) else 0.0)

    def place(seconds):
        return 24 + seconds / last * (776 - 24)

    assert frame.x.high == last
    meant.box("line of time", 24, 66, 776, 67, style.INK)
    step = 5 if last < 40 else 20
    for second in range(0, int(last) + 1, step):
        x = place(second)
        meant.box(f"{second} s", x, 66, x + 1, 74, style.INK)
        meant.text(f"{second} s", x, 86, "center")
    for number, tap in enumerate(found):
        meant.box(f"tap {number}", place(tap) - 1, 32, place(tap) + 2, 66, style.INK)
    gaps = np.diff(found)
    for start in found[:-1][gaps >= 1.5 * np.median(gaps)] if len(gaps) > 1 else ():
        meant.text("missed?", place(start + np.median(gaps)), 20, "center")
    return meant


def beats(shown):
    meant = Meant()
    beat = beat_track(shown.now["strokes_per_minute"], sample_rate=8000)
    meant.box("line of time", 24, 66, 776, 67, style.INK)
    for number, time in enumerate(beat.times[beat.times < 10]):
        start, x = round(time * 8000), 24 + time / 10 * (776 - 24)
        loud = np.abs(beat.samples[start : start + 240]).max()
        color = style.EDGE if number < beat.count_in else style.INK
        meant.box(f"beat {number}", x, 66 - 58 * loud, x + 4, 66, color)
    meant.text("counting in", 24, 82)
    start = max(24 + beat.count_in * beat.times[1] / 10 * (776 - 24), 24 + 128)
    if start < 576:
        meant.text("one beat, one pass of the bow …", start, 82)
    return meant


def press_and_speed(shown):
    meant, sketch, system = Meant(), shown.sketch, shown.system
    lanes = sketch.lanes
    force, speed = quantity("force_tried"), quantity("speed")

    def answer(state):
        one = tried({**state, "force": default("force")})
        arm = arms()[state["arm"]]
        arm = arm if state["kind"] == "likely" else getattr(arm, state["kind"])
        slips = cord_slip_pull(
            state["slack_tension"],
            cord_friction=default("cord_friction"),
            wrap_angle=default("wrap_angle"),
        )
        arm = type(arm)(**{**vars(arm), "law": state["law"]})
        how = {"arm": arm, "air": one.air, "force": state["force"], "slip_pull": float(slips)}
        return valley(one.kit, **how), press(one.kit, **how)

    def values(pressing):
        return {"speed": speed.shown(pressing.speed, system), "power": pressing.power}

    meant.still = {force.label(system), speed.label(system), "Heat at the tip (W)"}
    found, now = answer(shown.now)
    x, best, stall = (
        force.shown(each, system) for each in (found.sweep.force, found.best, found.stall)
    )
    here, low = force.shown(shown.now["force"], system), 0.0
    colors = {"speed": (style.INK, style.INK), "power": (style.EMBER_BAND, style.EMBER)}
    for name, lane in lanes.items():
        assert lane.axes.get_xlim()[0] == lane.axes.get_ylim()[0] == 0
        line, dot = colors[name]
        meant.line(f"{name}, likely", lane, x, values(found.sweep)[name], line)
        meant.line(f"{name}, now", lane, [here], [values(now)[name]], dot)
        high = lane.axes.get_ylim()[1]
        end = max(stall, lane.x.high)
        meant.shape(f"{name}, stopped", lane, *closed(stall, end, low, high), style.SHADE)
    zero, power = np.zeros_like(x), found.sweep.power
    hill, height = lanes["power"], found.sweep.power.max()
    meant.shape("hill", hill, outline(x, x), outline(zero, power), style.EMBER_BAND)
    spent = found.sweep.hold < np.minimum(found.sweep.ember.likely, TOO_LONG)
    if spent.any():
        part = np.where(spent, power, 0)
        meant.shape("arm is spent first", hill, outline(x, x), outline(zero, part), style.PAPER)
        middle = across(hill, x[spent][-1]), down(hill, height) - 30
        meant.near(shown.sketch, "the arm is spent before the ember", middle, 90)
        meant.boxes_of(shown.sketch, "to arm is spent")
    place = np.minimum(at(hill, [here], [now.power])[0], (776, 480))
    on_top = abs(here - best) < 0.05 * best and now.speed > 0
    words = "the top, " if on_top else ""
    reach = 26 if here > best else 70  # where the hill is low, the top's name is in between
    meant.near(shown.sketch, f"you are here: {words}{number_words(now.power)} W", place, reach)
    if best <= hill.x.high and not on_top:
        top = at(hill, [best], [height])[0]
        meant.near(shown.sketch, f"top of the hill: {number_words(height)} W", top, 42)
        meant.leader(shown.sketch, "to the top", top - (0, 26), top - (0, 4))
    words = "the cord slips" if found.slips else "the arm stalls"
    if across(hill, stall) < 636:
        meant.text(words, max(across(hill, stall), 60) + 8, 393)
    if shown.then:
        past, then = answer(shown.then)
        at_then = force.shown(shown.then["force"], system)
        line_x = force.shown(past.sweep.force, system)
        for name, lane in lanes.items():
            meant.line(f"{name}, before", lane, line_x, values(past.sweep)[name], style.INK)
            meant.before_dot(f"{name}, dot of before", lane, at_then, values(then)[name])
        meant.near(shown.sketch, "before", at(hill, [at_then], [then.power])[0], 42)
    return meant


def ramp(shown):
    meant, sketch = Meant(), shown.sketch
    state = shown.now
    angles = [state[f"reading_{number + 1}"] for number in range(state["count"])]
    mean = mean_angle(angles, angle_limit=state["angle_limit"])
    friction = ramp_friction(mean.value, angle_error=mean.error)
    turn, foot = np.exp(-1j * mean.value), 24 + 226j  # pixels, across and down

    def pixels(points):
        turned = foot + np.asarray(points) * turn
        return turned.real, turned.imag

    whole = sketch.board.axes
    frame = next(each for each in sketch.frames if each.axes is whole)
    meant.line("ramp", frame, *pixels([4j, 262 + 4j]), style.INK)
    block = np.array([0.42, 0.66, 0.66 - 0.14j, 0.42 - 0.14j]) * 262
    meant.shape("block", frame, *pixels(block), style.WOOD_MID)
    bow = foot + 78 * np.exp(-1j * np.linspace(0, mean.value, 30))
    meant.line("angle", frame, bow.real, bow.imag, style.INK)
    meant.text(f"{np.degrees(mean.value):.1f}°", 80, 244)

    def place(value):
        return 330 + np.clip(value, 0, 0.8) / 0.8 * (780 - 330)

    meant.box("line of friction", 330, 131, 780, 133, style.INK)
    for value in ("0.0", "0.2", "0.4", "0.6", "0.8"):
        x = place(float(value))
        meant.box(value, x - 1, 132, x + 1, 139, style.INK)
        meant.text(value, x, 152, "center")
    meant.text("friction", 320, 178)
    for row, (name, value) in enumerate(known_friction().items()):
        x, y = place(value), 202 + 24 * row
        meant.box(name, x - 1, 134, x + 1, y, style.EDGE)
        meant.text(f"{name} {value:g}", x + (6 if row else -6), y, "left" if row else "right")
    for number, angle in enumerate(angles):
        x = place(np.tan(angle))
        meant.box(f"reading {number}", x - 1, 92, x + 1, 110, style.YOURS)
    low, high = place(friction.value - friction.error), place(friction.value + friction.error)
    middle = place(friction.value)
    meant.box("yours, ±", low, 116, max(high, low + 1), 128, style.YOURS)
    meant.box("yours", middle - 2, 112, middle + 2, 132, style.INK)
    meant.text("each reading", middle, 78, "center")
    meant.text(f"yours: {friction.value:.2f} ± {friction.error:.2f}", middle, 48, "center")
    return meant


def rings(shown):
    meant, sketch, system = Meant(), shown.sketch, shown.system
    key = shown.now["shown"]
    piled, row = key in ("torque", "force", "power"), quantity(shown.now["shown"])

    def answer(state):
        found = cut(tried(state), count=state["count"])
        values = getattr(found, key)
        whole = values.sum() if piled else np.average(values, weights=found.area)
        return found, row.shown(values, system), row.shown(whole, system)

    found, values, whole = answer(shown.now)
    then = answer(shown.then) if shown.then else None
    top = ring_scale(
        meant, sketch, key, piled, max([whole, *values, *(then[1:2][0] if then else [])])
    )

    def height(value):  # by the numbers beside the bars, from 0 at 354 to the highest at 44
        return 354 - value / top * 310

    bars = piled_bars if piled else level_bars
    bars(meant, values, whole, height)
    flux = quantity("flux").shown(found.flux, system)
    for number in range(len(values)):
        for name in (f"ring {number}", f"total, ring {number}"):
            if name in meant.marks:
                meant.fields[name] = lambda seen, wanted=flux[number]: ring_color(seen, wanted)
    unit = unit_text(row.shown_unit(system))
    words = shown.panel.control["shown"].widget.label
    so_far = ", added up ring by ring" if piled else ", on each ring"
    meant.text(f"{words[0].upper()}{words[1:]} in {unit}{so_far}", 404, 14)
    meant.text("middle", 404, 370)
    meant.text("rim", 652, 370, "right")
    disc(meant, sketch, found, flux, shown.then, system)
    if then:
        bars_before(meant, sketch, then[1], then[2], height, piled)
    return meant


def ring_scale(meant, sketch, key, piled, most):
    """Read the scale of the bars as a reader does: the number at its top."""
    numbers = [word for word in sketch.written() if word.align == "right" and word.x < 396]
    top = float(min(numbers, key=lambda word: word.y).text.replace(",", ""))
    assert 0.35 * top <= most <= 0.95 * top or most == 0
    for value, y in ((0, 354), (top / 2, 199), (top, 44)):
        color = style.RULE if value else style.INK
        meant.box(number_words(value), 398, y, 708 if piled else 652, y + 1, color)
        meant.text(number_words(value), 394, y, "right")
    return top


def piled_bars(meant, values, whole, height):
    edges, heights = np.linspace(404, 652, len(values) + 1), np.r_[0, np.cumsum(values)]
    for number, (left, right) in enumerate(pairwise(edges)):
        low, high = height(heights[number]), height(heights[number + 1])
        meant.box(f"below ring {number}", left, low, right - 1, 354, style.RULE)
        edged(meant, f"ring {number}", left, high, right - 1, low)
        edged(meant, f"total, ring {number}", 668, high, 708, low)
        share = values[number] / (whole or 1)
        if len(values) <= 8 and share > 0.005:
            meant.text(percent_words(share), right - 2, high - 11, "right", perhaps=number > 0)
    meant.text("total", 688, 370, "center")
    meant.text(number_words(whole), 688, height(whole) - 11, "center")


def level_bars(meant, values, whole, height):
    edges = np.linspace(404, 652, len(values) + 1)
    for number, (left, right) in enumerate(pairwise(edges)):
        edged(meant, f"ring {number}", left, height(values[number]), right - 1, 354)
    meant.box("mean", 404, height(whole) - 1, 668, height(whole) + 1, style.INK)
    meant.text(f"mean\n{number_words(whole)}", 672, height(whole))


def edged(meant, name, left, top, right, bottom):
    """A bar with an edge of one pixel, where it is tall enough for one."""
    edge = 1 if bottom - top > 5 else 0
    if edge:
        meant.box(f"edge of {name}", left, top, right, bottom, style.INK)
    meant.box(name, left + edge, top + edge, right - edge, bottom - edge)


def bars_before(meant, sketch, values, whole, height, piled):
    edges, heights = np.linspace(404, 652, len(values) + 1), np.cumsum(values) if piled else values
    for number, (left, right) in enumerate(pairwise(edges)):
        y = height(heights[number])
        meant.box(f"before, ring {number}", left, y - 1.5, right, y + 1.5, style.INK)
    y = height(whole if piled else values[-1])
    if piled:
        meant.box("before, total", 662, y - 1.5, 714, y + 1.5, style.INK)
    meant.near(sketch, "before", (720 if piled else 658, y), 40)


def ring_color(seen, flux):
    """A ring's colour is that of its heat per area: even factors from 1 to 1000."""
    share = np.clip(np.log10(max(flux, 1e-9)) / 3, 0, 1)
    wanted = np.round(style.HEAT).astype(int)[int(share * 255)]
    assert np.abs(wanted - rgb(seen.color)).max() <= 2


def disc(meant, sketch, found, flux, then, system):
    """The tip from below: as wide as its bar says, each ring shaded by heat per area; its key."""
    meant.text("the tip from below", 168, 14, "center")
    meant.box("key", 8, 376, 328, 390)
    for flux_there in (1, 10, 100, 1000):
        meant.text(f"{flux_there}", 8 + np.log10(flux_there) / 3 * 320, 404, "center")
    meant.text(f"heat per area, {unit_text(quantity('flux').shown_unit(system))}", 364, 404)
    (words,) = {"5 mm", "10 mm", "1/4 in", "1/2 in"} & set(sketch.drawn())
    metres = {"5 mm": 0.005, "10 mm": 0.01, "1/4 in": 0.25 * 0.0254, "1/2 in": 0.5 * 0.0254}[words]
    ((left, _), (right, _)) = at(sketch.disc, *sketch.drawn()[words][1:3])
    scale = (right - left) / metres  # pixels a metre, as a reader finds it
    meant.box(words, 10, 349, right, 352, style.INK)
    meant.text(words, 10, 336)
    widest = max(found.edges[-1], then["diameter"] / 2 if then else 0)
    assert 0.25 * 320 < 2 * widest * scale < 0.97 * 320
    shades = np.round(style.HEAT).astype(int)
    for number, outer in enumerate(found.edges[1:]):
        share = np.clip(np.log10(max(flux[number], 1e-9)) / 3, 0, 1)
        color = "#" + "".join(f"{part:02x}" for part in shades[int(share * 255)])
        circle(meant, sketch, f"disc, ring {number}", outer * scale, color)
    circle(meant, sketch, "rim", found.edges[-1] * scale)
    if then:
        circle(meant, sketch, "rim before", then["diameter"] / 2 * scale)
    for name in ("turning", "turning, head"):
        x, y = at(sketch.disc, *sketch.drawn()[name][1:3]).T - np.array([[168], [194]])
        assert np.hypot(x, y) == pytest.approx(found.edges[-1] * scale + 0.03 * 160, abs=1)
        meant.marks[name] = at(sketch.disc, *sketch.drawn()[name][1:3]), style.INK


def circle(meant, sketch, name, radius, color=None):
    """A circle round the tip's middle, so many pixels wide; curves are bent a little."""
    seen = sketch.drawn()[name]
    x, y = at(sketch.disc, seen.x, seen.y).T - np.array([[168], [194]])
    assert (np.abs(x).max(), np.abs(y).max()) == pytest.approx((radius, radius), abs=1)
    meant.marks[name] = at(sketch.disc, seen.x, seen.y), color


def warmth(shown):
    meant, sketch, system = Meant(), shown.sketch, shown.system
    climb, speed, close = sketch.places
    duration, warm = shown.now["shown"], quantity("temperature_ambient")
    smoke = warm.shown(default("temperature_smoke"), system)
    keys = ("stroke_length", "strokes_per_minute", "shape", "bout", "pause")
    bowed = {}
    for name, state in (("", shown.now), ("before ", shown.then)):
        if state:
            rhythm = Rhythm(**{key: state[key] for key in keys})
            bowed[name] = contact_heat(Kit(), rhythm=rhythm, force=state["force"])
    lasts = {
        name: min(each.first_smoke.likely, each.heat.history.time[-1])
        for name, each in bowed.items()
    }
    end = min(duration, *lasts.values())
    strokes = 3 * max(each.rhythm.stroke_time for each in bowed.values())
    start = max(0.0, end - np.clip(strokes, 1.5, 6.0))
    assert speed.axes.get_xlim() == close.axes.get_xlim() == pytest.approx((start, end))
    for name, each in bowed.items():
        color = style.INK
        history, ambient = each.heat.history, Air().temperature
        heat = (
            np.append(0.0, history.time),
            warm.shown(np.append(0.0, each.heat.rise) + ambient, system),
        )
        fast = history.time, quantity("speed").shown(history.speed, system)
        until = min(end, lasts[name])
        follow(meant, sketch, f"{name}climb", climb, heat, (0, min(duration, lasts[name])), color)
        follow(meant, sketch, f"{name}speed", speed, fast, (start, until), color)
        follow(meant, sketch, f"{name}temperature", close, heat, (start, until), color)
        smokes = each.first_smoke.likely <= duration
        if smokes and name:
            meant.before_dot("before smokes", climb, lasts[name], smoke)
        elif smokes:
            meant.line("smokes", climb, [lasts[name]], [smoke], color)
        if name:
            last = min(duration, lasts[name])
            warm_there = smoke if smokes else np.interp(last, *heat)
            meant.near(sketch, "before", at(climb, [last], [warm_there])[0], 45)
    rests(meant, climb, shown.now, duration)
    (line,) = set(climb.axes.lines) - set(sketch.moving)
    assert set(line.get_ydata()) == {smoke}
    degrees, fast = (unit_text(each.shown_unit(system)) for each in (warm, quantity("speed")))
    titles = f"Contact temperature, {degrees}", f"Close up: bow speed, {fast}"
    meant.still = {*titles, "seconds of bowing"}
    beside = across(climb, min(lasts.values())) < 58 + 150
    x, align = (434, "right") if beside else (66, "left")
    meant.text("first smoke", x, down(climb, smoke) - 16, align)
    full = closed(start, end, 0, climb.axes.get_ylim()[1])
    meant.shape("close up", climb, *full, style.SMOKE)
    warmth_words(meant, sketch, (start, end, duration))
    return meant


def rests(meant, climb, state, duration):
    """Bars for the bouts, gaps for the rests between them."""
    bout, pause = state["bout"], state["pause"]
    if not pause:
        return
    starts = np.arange(0, duration, bout + pause)
    for number, start in enumerate(starts):
        left, right = (across(climb, min(end, duration)) for end in (start, start + bout))
        meant.box(f"bowing, bout {number}", left, 36, right, 43, style.EDGE)
    if bout < duration:
        meant.text("bowing, resting", 438, 16, "right")
    else:
        meant.text(f"first rest after {bout:g}\xa0s", 434, 364, "right")


def follow(meant, sketch, name, frame, curve, ends, color):
    """A drawn line lies on the curve of the model, from end to end, and in its frame."""
    x = sketch.drawn()[name].x
    time, values = curve
    inside = time[(time >= ends[0] - 1e-9) & (time <= ends[1] + 1e-9)]
    assert len(x) > min(100, len(inside) / 2)
    step = np.diff(x).max() * 1.01
    assert (x[0], x[-1]) == pytest.approx((inside[0], inside[-1]), abs=step)
    assert np.all(np.diff(x) > 0)
    meant.line(name, frame, x, np.interp(x, time, values), color)


def warmth_words(meant, sketch, window):
    """Numbers beside the close-ups stand where they say, and the frames' ends are named."""
    start, end, duration = window
    _, speed, close = sketch.places
    for name, frame in (("speed", speed), ("temperature", close)):
        low, high = frame.axes.get_ylim()
        lines = [each.y for key, each in sketch.drawn().items() if key.endswith(name)]
        assert low <= min(map(min, lines)) <= max(map(max, lines)) <= high
        assert max(map(max, lines)) - min(map(min, lines)) > 0.8 * (high - low) - 4
        ticks = [
            float(word.text)
            for word in sketch.written()
            if word.align == "right"
            and abs(word.x - 511) < 2
            and frame.top - 2 <= word.y <= frame.bottom + 2
        ]
        steps = np.diff(sorted(ticks))
        assert steps == pytest.approx(steps.mean() if len(steps) else 0)
        least = 1.001 * min(steps, default=high - low)
        assert min(ticks) - low < least  # none is left out at an end
        assert high - max(ticks) < least
        for tick in ticks:
            y = down(frame, tick)
            meant.box(f"{name} {tick:g}", 515, y, 520, y + 1, style.INK)
            meant.text(f"{tick:g}", 511, y, "right")
    meant.text(f"{start:.1f}\xa0s", 520, 396)
    meant.text(f"{end:.1f}\xa0s", 786, 396, "right")
    if end - start < duration / 3:
        meant.text("grey strip", 653, 396, "center")


SHEETS = ("aluminium_foil", "steel", "leather")


def sheets(shown):
    meant, frame, system = Meant(), shown.sketch.frame, shown.system
    row = quantity("catcher_thickness")
    ends = frame.axes.get_xlim()
    meant.still = {row.label(system), "Heat taken in the first minute"}

    def answer(state):
        ember = Ember(crust=state["crust"])
        return catcher_sheet(
            state["sheet"],
            thickness=state["catcher_thickness"],
            ground=state["ground"],
            ember=ember,
        )

    now, then = answer(shown.now), shown.then and answer(shown.then)
    heights = {}
    for key in SHEETS:
        name, chosen = catchers()[key].name, key == now.key
        x = shown.sketch.drawn()[name].x
        assert (x[0], x[-1]) == pytest.approx(ends)
        assert len(x) > 20
        ember = Ember(crust=shown.now["crust"])
        joules = joules_by_thickness(
            key, thickness=row.si(x, system), ground=shown.now["ground"], ember=ember
        )
        meant.line(name, frame, x, joules, style.EMBER_BAND if chosen else style.EDGE)
        heights[name] = np.clip(down(frame, joules[-1]), 54, 314)
    named_ends(meant, 606, heights, (54, 314, 20))
    place = row.shown(shown.now["catcher_thickness"], system)
    meant.line("no sheet", frame, ends, [now.bare.likely] * 2, style.INK)
    meant.line("low to high", frame, [place] * 2, now.draw.joules.ends, style.EMBER_BAND)
    meant.line("now", frame, [place], [now.draw.joules.likely], style.EMBER)
    words = f"no sheet at all: {number_words(now.bare.likely)} J"
    meant.text(words, 118, np.clip(down(frame, now.bare.likely), 54, 314) + 14)
    if then:
        place = row.shown(shown.then["catcher_thickness"], system)
        meant.before_dot("before", frame, place, then.draw.joules.likely)
        then_at = at(frame, [place], [then.draw.joules.likely])[0]
        meant.near(shown.sketch, "before", then_at, 40)
    return meant


EQUAL_SPEEDS = {METRIC: (0.5, 1, 1.5, 2, 3), US: (2, 4, 6, 8, 10)}


def factors(shown):
    """Times by the closed curve itself, each kit's watts spread over the tip of each thickness."""
    meant, frame = Meant(), shown.sketch.frame
    wider = np.geomspace(0.5, 2.0, 33)

    def later(state, factor):
        kit = tried(state)
        one = case_of(kit)
        area = np.pi * kit.kit.radius**2
        bodies = one.contact.spindle, one.contact.board
        wood = {
            "energy_per_area": one.energy / area,
            "effusivity": sum(
                np.sqrt(body.conductivity_axial * body.volumetric_heat_capacity) for body in bodies
            ),
            "rise": one.rise,
        }
        flux = kit.power / (area * np.r_[1.0, factor**2])
        embers = two_stage(flux, **wood)[1]
        return embers[1:] / embers[0]

    ends = np.array([0.5, 2.0])
    meant.line("all into dust", frame, ends, ends**2, style.QUIET)
    meant.line("all soaks in", frame, ends, ends**4, style.QUIET)
    meant.line("your kit", frame, wider, later(shown.now, wider), style.EMBER)
    if shown.then:
        meant.line("before", frame, wider, later(shown.then, wider), style.INK)
    (twice,) = later(shown.now, np.array([2.0]))
    meant.line("twice as thick", frame, [2.0], [twice], style.EMBER)
    top, low = down(frame, 16.0), down(frame, 4.0)
    meant.text("× 16: all soaks in", 606, top)
    meant.text("× 4: all into dust", 606, low)
    meant.still = {"thickness of a spindle, beside yours", "time to the ember, beside yours"}
    at_kit = min(max(down(frame, twice), top + 25), low - 25)
    meant.text(f"× {number_words(twice)}: your kit", 606, at_kit)
    return meant


def same_worlds(shown):
    """Both tries and each pair of worlds, asked of the model one by one; the ratio of the pairs."""
    meant, sketch, plank = Meant(), shown.sketch, shown.sketch.plank.frame
    key, factor = {
        "thinner": ("diameter", 0.5),
        "harder": ("force", 4 / 3),
        "faster": ("speed", 4 / 3),
        "drier": ("moisture", 0.5),
    }[shown.now["change"]]
    one = tried(shown.now)
    other = one.changed(**{key: factor * one.value(key)})
    bands = spread(one), spread(other)
    end = notches(meant, sketch, plank)
    for name, found, y in (("as it is", bands[0], 44), ("changed", bands[1], 168)):
        lane(meant, sketch, plank, name, found, y)
        meant.text(name, 116, y, "right")
    embers = np.column_stack(pairs(one, other, draws=24))
    seen = embers[np.all(np.isfinite(embers), axis=1) & (embers[:, 0] <= end)]
    across_it = np.column_stack([seen, np.full(len(seen), np.nan)]).ravel()
    meant.line("worlds", plank, across_it, np.tile([84, 138, np.nan], len(seen)), style.SMOKE)
    name_of_range(meant, sketch, plank, bands[0], 44)
    ratio = compare(one, other)
    apart = bands[1].all.low / bands[0].all.high, bands[1].all.high / bands[0].all.low

    def place(ratio):
        return 130 + min(ratio, 2.0) / 2 * 640

    meant.box("the change", place(ratio.low), 357, place(ratio.high), 387, style.EMBER_BAND)
    meant.box(
        "from the two times alone", place(apart[0]), 363, place(apart[1]), 381, style.EMBER_PALE
    )
    middle = place(ratio.likely)
    meant.box("likely", middle - 2, 352, middle + 2, 392, style.INK)
    for factor, words in ((0, "0"), (0.5, "× 0.5"), (1, "× 1"), (1.5, "× 1.5"), (2, "× 2")):
        meant.text(words, place(factor), 416, "center")
    meant.text("the change", 116, 372, "right")
    if apart[1] > 2:
        words = f"up to × {number_words(apart[1])}" if np.isfinite(apart[1]) else "anything"
        words = f"the two times alone would say: {words}"
        meant.text(words, 770, 342, "right")
    return meant


def strokes(shown):
    meant, frame, system = Meant(), shown.sketch.frame, shown.system
    length, fast = quantity("stroke_length"), quantity("speed")
    longest, most = length.slider[1], quantity("strokes_per_minute").slider[1]
    meant.still = {length.label(system), quantity("strokes_per_minute").name}
    assert frame.axes.get_xlim() == (0, length.shown(longest, system))
    assert frame.axes.get_ylim() == (0, most)

    def bend(name, speed, color):
        x = shown.sketch.drawn()[name].x
        assert (x[0], x[-1]) == pytest.approx((0, length.shown(longest, system)), abs=0.3)
        meant.line(name, frame, x, minute * speed / length.si(x, system), color)

    for line in EQUAL_SPEEDS[system]:
        speed = fast.si(line, system)
        bend(fast.text(speed, system), speed, style.EDGE)
        found = times(Try(effort=Effort(force=shown.now["force"], speed=speed)))
        band = band_words(found.ember)
        words = f"{line:g} {unit_text(fast.shown_unit(system))}: {band}"
        y = down(frame, minute * speed / longest)
        meant.text(words, 530, y)
    meant.text("at equal bow speed,\nember, estimate:", 530, y - 42)
    for name, state, color in (
        ("now", shown.now, style.EMBER),
        ("before", shown.then, style.INK),
    ):
        if state:
            x, count = length.shown(state["stroke_length"], system), state["strokes_per_minute"]
            bend(f"{name}, equal speed", max(state["stroke_length"] * count / minute, 1e-6), color)
            if name == "before":
                meant.before_dot(name, frame, x, count)
                meant.near(shown.sketch, name, at(frame, [x], [count])[0], 40)
            else:
                meant.line(name, frame, [x], [count], color)
    x, count = length.shown(shown.now["stroke_length"], system), shown.now["strokes_per_minute"]
    meant.shape("bow speed", frame, *closed(0, x, 0, count), style.YOURS)
    size = x / length.shown(longest, system), count / most
    if min(size) > 0.25:
        roomy = size[0] > 0.28 and size[1] > 0.3
        meant.text("size of the box:\nthe bow speed", 90, 288, perhaps=not roomy)
    too_quick(meant, shown, frame)
    speed = shown.now["stroke_length"] * count / minute
    words = f"you are here: {fast.text(speed, system)}"
    place, y = at(frame, [x], [count])[0]
    if size[0] < 0.5:
        meant.text(words, place + 14, max(y - 16, 50))
    else:
        meant.text(words, place - 14, y + 22 if y < 274 else y - 20, "right")
    return meant


def too_quick(meant, shown, frame):
    """Above this no hand turns."""
    drawn, most = shown.sketch.drawn()["too quick"], frame.axes.get_ylim()[1]
    x = drawn.x[:-3]  # then two corners, and back
    longest = frame.axes.get_xlim()[1]
    assert len(x) > 100
    assert (x[0], x[-1]) == pytest.approx((0, longest), abs=0.01 * longest)
    lengths = quantity("stroke_length").si(x, shown.system)
    quickest = most_strokes(lengths, acceleration=shown.now["acceleration"])
    corners = np.r_[np.minimum(quickest, most), most, most]
    meant.shape("too quick", frame, np.r_[x, longest, 0], corners, style.SHADE)
    if quickest[-1] < 0.82 * most:
        meant.text("too quick for this hand", 512, 28, "right")


def under_the_ember(shown):
    meant, system, state = Meant(), shown.system, shown.now
    unit = "degF" if system == US else "degC"
    ember = Ember(crust=state["crust"])
    for name, place in zip(("left", "right"), shown.sketch.cuts, strict=True):
        under(meant, shown, name, place.frame, ember)
    meant.box("key", 706, 114, 722, 310)
    ends = ember.temperature_ambient, ember.temperature
    degrees = (200, 400, 800) if system == US else (100, 200, 400)
    for kelvin in (ends[0], *(to_si(level, unit) for level in degrees), ends[1]):
        y = 310 - (kelvin - ends[0]) / np.ptp(ends) * 196
        meant.text(f"{from_si(kelvin, unit):.0f} {unit_text(unit)}", 727, y, slack=20)
    return meant


def under(meant, shown, name, frame, ember):
    """One cut under an ember: names, watts, a bar of length, and a temperature for every pixel."""
    state, system = shown.now, shown.system
    key, left, middle = state[name], frame.left, frame.left + 170
    one = catchers()[key]
    time = np.linspace(0, 120, 121)[1:]
    run = solve_catcher(key, time=time, ground=state["ground"], ember=ember)
    moment = int(np.argmin(np.abs(time - state["elapsed"])))
    watts = draw_history(key, time=time, ground=state["ground"], ember=ember)[0][moment]
    scale = 340 / 0.04  # pixels a metre
    sheet_rows, crust = max(round(one.thickness * scale), 10), round(ember.crust * scale)
    meant.box(name, left, 62, left + 340, 312)
    meant.text(one.name, middle, 14, "center")
    thin = "; drawn too thick" if one.thickness * scale < 10 else ""
    meant.text(f"takes {number_words(watts)} W{thin}", middle, 38, "center")
    meant.text("ember", middle, 148, "center")
    if 98 + crust + sheet_rows < 210:
        meant.text(state["ground"], left + 10, 296)
    length, words = (12.7, "1/2 in") if system == US else (10.0, "1 cm")
    start, end = left + 12, left + 12 + length / 1000 * scale
    meant.box(f"{name}, {words}", start, 141, end, 143, style.INK)
    for tip, x in (("start", start), ("end", end)):
        meant.box(f"{name}, {words}, {tip}", x - 1, 136, x + 1, 148, style.INK)
    meant.text(words, (start + end) / 2, 126, "center")
    rows = np.cumsum([98, crust, sheet_rows, 250])
    depths = np.cumsum([0, ember.crust, one.thickness, 250 / scale])
    heights = -np.interp(np.arange(250) + 0.5, rows, depths, left=np.nan)
    unit = "degF" if system == US else "degC"
    ends = ember.temperature_ambient, ember.temperature
    field = Field(run, moment, ends, unit, heights, 340)
    meant.fields[f"{name}, degrees"] = field.check
    whole, edges = shown.sketch.whole, [62 + row for row in rows[1:3] if row < 250]
    ys = edges
    meant.line(
        f"{name}, edges",
        whole,
        np.array([(left, left + 340, np.nan)] * len(ys)).ravel(),
        np.array([(y, y, np.nan) for y in ys]).ravel(),
        style.EDGE,
    )
    turn = np.linspace(0, np.pi, 40)
    dome = middle + ember.radius * scale * np.cos(turn), 160 - 34 * np.sin(turn)
    meant.shape(f"{name}, ember", whole, *dome, style.HEAT[-1] / 255)
    leads = 0
    for step, level in enumerate((200, 400, 800) if system == US else (100, 200, 400)):
        kelvin = to_si(level, unit)
        isotherm(meant, shown, f"{name}, {level} degrees", field, kelvin, left)
        column = open_end(run, moment, ember, kelvin)
        if column:
            leads += 1
            fits = middle + column <= left + 264
            x = middle + column + (5 if fits else -5)
            text = f"{level} {unit_text(unit)}"
            near = [word.x for word in shown.sketch.written() if word.text == text]
            x = min(near, key=lambda place: abs(place - x))
            assert x == pytest.approx(middle + column + (5 if fits else -5), abs=1.5)
            meant.text(text, x, 62 + 98 - 22 - 22 * step, "left" if fits else "right", slack=SLACK)
    drawn = shown.sketch.drawn()
    assert (f"{name}, leads" in drawn) == (leads > 0)
    if leads:
        meant.boxes_of(shown.sketch, f"{name}, leads")
        assert np.isfinite(drawn[f"{name}, leads"].x).sum() == 2 * leads


def isotherm(meant, shown, name, field, kelvin, left):
    """A line is where the temperature is passed, and is there if it is."""
    drawn = shown.sketch.drawn()
    crossed = np.nanmin(field.kelvin) < kelvin - 20 and np.nanmax(field.kelvin) > kelvin + 20
    assert not crossed or name in drawn, name
    if name not in drawn:
        return

    def check(seen):
        points = at(seen.frame, seen.x, seen.y)
        points = points[np.isfinite(points).all(axis=1)] - (left, 62)
        found, steep = field.at(*points.T)
        sure = np.isfinite(found) & np.isfinite(steep)
        assert np.mean(np.abs(found - kelvin)[sure] <= 1.6 * steep[sure] + 6) > 0.95

    meant.boxes_of(shown.sketch, name)
    meant.fields[name] = check


def open_end(run, moment, ember, kelvin):
    """How many pixels from the middle the hottest of the solids is no longer so hot."""
    hottest = (ember.temperature_ambient + np.where(run.inside, run.rise[moment], -1e9)).max(axis=0)
    radial = (np.arange(170) + 0.5) / 8500
    beyond = np.flatnonzero(np.interp(radial, run.radial, hottest) < kelvin)
    return beyond[0] if beyond.size else None


def weather(shown):
    meant, frame = Meant(), shown.sketch.frame

    def answer(state):
        return stores(tried(state), warming=state["warming"])

    found = answer(shown.now)
    meant.still = {quantity("relative_humidity").label(shown.system)}
    temperature = shown.now["temperature_ambient"]
    x = shown.sketch.drawn()["moisture"].x
    assert (x[0], x[-1]) == pytest.approx((0, 100 * quantity("relative_humidity").slider[1]))
    assert len(x) > 40
    settled = equilibrium_moisture(temperature, relative_humidity=np.maximum(x, 0) / 100)
    meant.line("moisture", frame, x, 100 * settled, style.EDGE)
    ends = sorted(100 * store.relative_humidity for store in found)
    way = np.linspace(*ends, 30)
    meant.line("rack to outdoors", frame, way, np.interp(way, x, 100 * settled), style.WOOD_MID)
    humidity = [100 * store.relative_humidity for store in found]
    moisture = [100 * store.moisture for store in found]
    meant.line("outdoors and rack", frame, humidity, moisture, style.WOOD_DARK)
    if shown.then:
        for name, store in zip(("outdoors", "rack"), answer(shown.then), strict=True):
            place = 100 * store.relative_humidity, 100 * store.moisture
            meant.before_dot(f"{name} before", frame, *place)
            if name == "outdoors":
                meant.near(shown.sketch, "before", at(frame, *np.reshape(place, (2, 1)))[0], 45)
    meant.text("wood moisture", 72, 24)
    for name, store, side in (("outdoors", found[0], -1), ("rack", found[1], 1)):
        place, y = at(frame, [100 * store.relative_humidity], [100 * store.moisture])[0]
        right = side > 0 or place < 192
        y = min(y + 13 * side, 258)
        words = f"{name} {percent_words(store.moisture)}"
        meant.text(words, place + (13 if right else -13), y, "left" if right else "right")
    dust_bars(meant, found)
    return meant


def dust_bars(meant, found):
    """What the dust takes of each store, and its water's part, on one scale."""
    meant.text("heat for one ember's dust", 476, 24)
    most = max(store.wood + store.water for store in found)
    for top, store, name in zip((80, 192), found, ("outdoors", "from the rack"), strict=True):
        split = 476 + store.wood / most * 254
        end = 476 + (store.wood + store.water) / most * 254
        meant.box(f"{name}, dry wood", 476, top, split - 2, top + 46, style.EMBER_BAND)
        meant.box(f"{name}, water", split, top, end, top + 46, style.QUIET)
        meant.box(f"{name}, edge of water", split, top, end, top + 46, style.EDGE)
        meant.text(f"{name}: {number_words(store.wood + store.water)} J", 476, top - 14)
        meant.text("dry wood", 476, top + 60)
        words = f"water {percent_words(store.water_share)}"
        meant.text(words, max(split, 586), top + 60)


def wood_rows(shown):
    meant, sketch, frame = Meant(), shown.sketch, shown.sketch.frame
    found, past = (state and woodpile(tried(state), region=state["region"]) for state in shown[2:4])
    end, row = frame.x.high, sketch.row
    assert frame.x.low == 0
    assert not frame.x.factors
    all_likely = [*found.embers.likely, *([past.ember.likely] if past else ())]
    assert max((time for time in all_likely if time < TOO_LONG), default=0) <= end
    meant.plank(sketch, sketch.plank)

    def place(seconds):
        return 232 + min(seconds, end) / end * (664 - 232)

    def bar(name, band, y, half, color):
        low, _, high = band
        if low <= end:
            right = place(high) + (10 if high > end else 0)
            meant.box(name, place(low), y - half, max(right, place(low) + 2), y + half, color)

    for at_row, one in enumerate(found.woods):
        y, chosen = 32 + row * (at_row + 0.5), one == wood(shown.now["wood"])
        single = times(tried({**shown.now, "wood": one}))
        floor, likely = place(single.bound), single.ember.likely
        top, bottom = y - row / 2, y + row / 2
        meant.box(f"{one.name}, wall", 232, top, floor, bottom, style.EDGE)
        meant.box(f"{one.name}, floor", floor - 1.5, top, floor + 1.5, bottom, style.INK)
        bar(f"{one.name}, low to high", single.ember, y, 6, style.EMBER_BAND)
        if likely <= end:
            x = place(likely)
            meant.box(f"{one.name}, likely", x - 5.5, y - 5.5, x + 5.5, y + 5.5, style.EMBER)
            ring = f"ring of {one.name}, likely"
            meant.box(ring, x - 7.5, y - 7.5, x + 7.5, y + 7.5, style.PAPER)
        if chosen:
            meant.box("chosen", 0, top, 226, bottom, style.SHADE)
            doubt = found.spread.all
            bar(f"{one.name}, all", doubt, y, 4, style.EMBER_PALE)
            bar(f"{one.name}, all, edge", doubt, y, 4, style.EMBER_BAND)
        meant.text("▸ " * chosen + one.name, 220, y, "right")
        beside = {"wood": found.wood}, {"wood": one}  # of the woods alone
        ratio = compare(*(tried({**shown.now, **each}) for each in beside), draws=96)
        right = 796
        for word in reversed(("1" if chosen else beside_words(ratio, likely)).split(" ")):
            meant.text(word, right, y, "right")
            right -= sketch.width(word) + 6
        if past and one in past.woods:
            bar_before = past.embers.at(past.woods.index(one))
            stays = np.allclose(list(bar_before), list(found.embers.at(at_row)), rtol=1e-3)
            if not stays or one == past.wood:
                bar(f"{one.name}, before", bar_before, y, 6, style.INK)
    meant.text("time, ▸ = 1", 796, 14, "right")
    meant.text("floor", max(place(found.bounds[0]), 282), 14, "right")
    if found.embers.low[0] <= end:
        meant.near(sketch, "your wood", (place(found.embers.low[0]), 14), 80)
    first = f"{found.woods[0].name}, before"
    if first in meant.marks:
        meant.near(sketch, "before", (meant.marks[first][0][0, 0], 14), 220)
    return meant


def weighed(shown):
    meant, state = Meant(), shown.now

    def piece(state):
        sides = [state[key] for key in ("piece_length", "piece_width", "piece_thickness")]
        volume = np.pi / 4 * sides[0] * sides[1] ** 2
        if state["shape"] == "block":
            volume = np.prod(sides)
        return state["piece_mass"] / volume / 1000  # water is 1000 kg/m^3

    def error(state):
        sides = [state["piece_length"], state["piece_width"]]
        sides += sides[1:] if state["shape"] == "stick" else [state["piece_thickness"]]
        ruler = [state["ruler_limit"] / side for side in sides]
        if state["shape"] == "stick":  # the same reading twice
            ruler = [ruler[0], 2 * ruler[1]]
        damp = 0.02 / 1.6449 / (1 + state["moisture"])
        limits = [state["scale_limit"] / state["piece_mass"], *ruler]
        return np.sqrt(0.05**2 + damp**2 + np.sum(np.square(limits)) / 3)

    afloat = piece(state)
    dry = afloat / (1 + state["moisture"])
    off = dry * error(state)
    top = min(84 - 74 * (1 - afloat), 216 - 74)
    meant.box("piece", 56, top, 218, top + 74, style.WOOD)
    meant.box("edge of the piece", 56, top, 218, top + 74, style.WOOD_DARK)
    for row in (1, 2, 3):
        y = top + row * 18.5
        meant.box(f"grain {row}", 64, y - 0.6, 210, y + 0.6, style.WOOD_MID)
    meant.box("water", 16, 84, 258, 216, style.EDGE)
    meant.box("surface", 16, 83, 258, 85, style.INK)
    meant.text(float_words(afloat), 137, 238, "center")

    def place(gravity):
        return 320 + min(gravity, 1.1) / 1.1 * (768 - 320)

    meant.box("line of weights", 320, 131, 768, 133, style.INK)
    for words in ("0.0", "0.2", "0.4", "0.6", "0.8", "1.0"):
        x = place(float(words))
        meant.box(words, x - 1, 132, x + 1, 139, style.INK)
        meant.text(words, x, 152, "center")
    meant.text("water", place(1.0), 174, "center")
    meant.text("how heavy, dry", 310, 174)
    for key, row in woods().items():
        x = place(row.specific_gravity)
        meant.box(f"wood {key}", x - 1, 123, x + 1, 131, style.WOOD_DARK)
    if shown.then:
        x = place(piece(shown.then) / (1 + shown.then["moisture"]))
        meant.box("before", x - 7, 108, x + 7, 132, style.INK)
    x = place(dry)
    meant.box("yours, ±", place(dry - off), 108, max(place(dry + off), place(dry - off) + 1), 120,
              style.YOURS)  # fmt: skip
    meant.box("yours", x - 2, 104, x + 2, 132, style.INK)
    words = f"yours: {dry:.2f} ± {off:.2f}"
    half = shown.sketch.width(words, size=17, weight="bold") / 2
    meant.text(words, np.clip(x, 300 + half, 788 - half), 80, "center")
    ordered = sorted(woods().values(), key=lambda row: (row.specific_gravity, row.name))
    near = sorted(ordered, key=lambda row: abs(row.specific_gravity - dry))[:3]
    near = [row for row in near if abs(row.specific_gravity - dry) <= off]
    for at_row, row in enumerate(near):
        meant.text(f"like {row.name} {row.specific_gravity:.2f}", 310, 204 + 22 * at_row)
    return meant


def catcher_rows(shown):
    meant, frame = Meant(), shown.sketch.frame
    meant.counted, bottom = True, frame.bottom
    if shown.now["shown"] == "time":
        return keeping_rows(shown, meant, frame)
    meant.still = {"joules taken from the ember in its first minute"}

    def answer(state):
        ember = Ember.of_mass(state["mass"], crust=state["crust"])
        return {key: draw(key, ground=state["ground"], ember=ember) for key in catchers()}

    def place(joules):
        return across(frame, np.clip(joules, 15, 30000))

    found, chosen = answer(shown.now), shown.now["catcher"]
    one = found[chosen]
    weak, strong = map(place, one.made.ends)
    made, lost = place(one.made.likely), place(one.joules_lost)
    meant.box("ember makes, low to high", weak, 24, strong, bottom, style.EMBER_PALE)
    meant.box("open face loses", lost - 1, 24, lost + 1, bottom, style.EDGE)
    meant.box("ember makes", made - 1.5, 24, made + 1.5, bottom, style.EMBER)
    gap, *sides = (4, "right", "left") if lost < made else (-4, "left", "right")
    meant.text("open face loses", lost - gap, 14, sides[0])
    meant.text("ember makes", made + gap, 14, sides[1])
    meant.text("first minute", 796, 14, "right")
    order = sorted(found, key=lambda key: found[key].joules.likely)
    past = shown.then and answer(shown.then)
    for row, key in enumerate(order):
        name, y, mine = catchers()[key].name, 34 + 23 * (row + 0.5), key == chosen
        (low, high), likely = (
            map(place, found[key].joules.ends),
            place(found[key].joules.likely),
        )
        band, line = (style.SPINDLE, style.PAPER) if mine else (style.WOOD, style.INK)
        meant.box(f"{name}, low to high", low, y - 7, max(high, low + 2), y + 7, band)
        meant.box(f"{name}, likely", likely - 1.5, y - 7, likely + 1.5, y + 7, line)
        if mine:
            meant.box("chosen", 0, y - 11.5, 224, y + 11.5, style.SHADE)
        meant.text("▸ " * mine + name, 218, y, "right")
        meant.text("J", 796, y, "right")
        meant.text(number_words(found[key].joules.likely), 782, y, "right")
        if past:
            meant.text("◆", place(past[key].joules.likely), y, "center")
    if past:
        meant.text("◆ before", 4, 14)
    return meant


def keeping_rows(shown, meant, frame):
    """Rows of how long an ember keeps, left alone."""
    meant.counted = False
    meant.still = {"how long an ember keeps, left alone: rough"}

    def answer(state):
        ember = Ember.of_mass(state["mass"], crust=state["crust"])
        return {key: lasting(key, ground=state["ground"], ember=ember).alone for key in catchers()}

    def place(seconds):
        return across(frame, np.clip(seconds, 0.03, 2000))

    found, past = answer(shown.now), shown.then and answer(shown.then)
    least = draws(ground=shown.now["ground"], ember=Ember.of_mass(shown.now["mass"]))
    order = sorted(found, key=lambda key: least[key].joules.likely)
    order = sorted(order, key=lambda key: -found[key].likely)
    meant.text("likely", 796, 14, "right")
    for row, key in enumerate(order):
        name, y, mine = catchers()[key].name, 34 + 23 * (row + 0.5), key == shown.now["catcher"]
        low, likely, high = map(place, found[key])
        band = style.EMBER_BAND if mine else style.EMBER_PALE
        meant.box(f"{name}, low to high", low, y - 7, max(high, low + 2), y + 7, band)
        meant.box(f"{name}, likely", likely - 1.5, y - 7, likely + 1.5, y + 7, style.INK)
        if mine:
            meant.box("chosen", 0, y - 11.5, 224, y + 11.5, style.SHADE)
        meant.text("▸ " * mine + name, 218, y, "right")
        meant.text(time_words(found[key].likely), 796, y, "right")
        if past:
            meant.text("◆", place(past[key].likely), y, "center")
    if past:
        meant.text("◆ before", 4, 14)
    return meant


def keeps(shown):
    meant, frame = Meant(), shown.sketch.frame

    def answer(state):
        weight = density(wood(state["wood"]).specific_gravity)
        worn = dust_mass(state["burn_in_depth"], radius=state["diameter"] / 2, density=weight)
        mass = 0.7 * worn
        return mass, will_it_keep(mass, temperature_heap=state["temperature_heap"]).mass_least

    def place(kilograms):
        return across(frame, np.clip(1000 * kilograms, 3e-4, 10))

    meant.still = {"dust in the heap"}
    mass, least = answer(shown.now)
    low, likely, high = map(place, least)
    heap = place(mass)
    meant.box("goes out", 20, 72, low, 137, style.SHADE)
    meant.box("perhaps", low, 72, high, 137, style.EMBER_PALE)
    meant.box("stays hot", high, 72, 780, 137, style.EMBER)
    meant.box("least, likely", likely - 1, 124, likely + 1, 137, style.SMOKE)
    meant.box("your heap", heap - 2, 46, heap + 2, 138, style.INK)
    meant.text(f"your heap, {number_words(1000 * mass)} g", heap, 32, "center")
    for name, left, right in (
        ("goes out", 20, low),
        ("perhaps", low, high),
        ("stays hot", high, 780),
    ):
        middle = (left + right) / 2
        if left < heap < right and abs(middle - heap) < 5.5 * len(name) + 8:
            left, right = max((left, heap), (heap, right), key=np.ptp)
        if right - left > 9 * len(name):
            meant.text(name, (left + right) / 2, 105, "center")
    if shown.then:
        meant.text("◆", place(answer(shown.then)[0]), 62, "center")
        meant.text("◆ before", 4, 14)
    return meant


# ---- the table ---------------------------------------------------------------------------------


def gauges(shown):
    """Bow, scale and block with their forces; two gauges of the watts on one scale."""
    meant, sketch = Meant(), shown.sketch
    whole = sketch.whole

    def read(state):
        keys = ("scale_pull", "pull_limit", "steady", "force", "diameter", "block_friction")
        keys += ("block_radius", "strokes_per_minute", "stroke_length")
        pulling = Pulling(**{key: state[key] for key in keys})
        smoke = state["smoke_time"] if state["timed"] else None
        return pulling, watts(pulling, smoke_time=smoke)

    pulling, found = read(shown.now)
    before = read(shown.then)[1] if shown.then else None
    half, top = 850 * pulling.diameter, 1700 * pulling.block_radius
    trunk = [(250 - top, 84), (250 + top, 84), (250 + half, 98), (250 + half, 196)]
    trunk += [(250 - half, 196), (250 - half, 98)]
    meant.shape("spindle", whole, *np.transpose(trunk), style.SPINDLE)
    for name, (left, right, low, high), color in (
        ("block", (206, 294, 62, 88), "WOOD_MID"),
        ("tip", (247 - half, 253 + half, 195, 205), "EMBER_BAND"),
    ):
        meant.shape(name, whole, *closed(left, right, low, high), style.color(color))
    cord = [(250 - half, 141.5), (250 + half, 134.5), (250 - half, 134.5), (250 + half, 141.5)]
    meant.line("cord round the spindle", whole, *np.transpose(cord), style.INK)
    pull = 26 + 134 * min(pulling.scale_pull / 50, 1)
    press = 14 + 30 * min(pulling.force / 200, 1)
    shaft = np.array([4, 4, 11, 0, -11, -4, -4])
    for name, length, place in (
        ("pull", pull, lambda far, out: (618 + far, 138 + out)),
        ("force", press, lambda far, out: (250 - out, 58 - press + far)),
    ):
        neck = max(length - 16, 0)
        far = np.array([0, neck, neck, length, neck, neck, 0])
        meant.shape(name, whole, *place(far, shaft), style.YOURS)
    shown_pull = quantity("scale_pull").text(pulling.scale_pull, shown.system)
    meant.text(shown_pull, 552, 138, "center")
    meant.text("luggage scale", 552, 98, "center")
    newtons, pounds = pulling.scale_pull, pulling.scale_pull / 4.44822
    pull = f"{pounds:.1f} lb" if shown.system == US else f"{newtons:.1f} N"
    meant.text(f"{pull} pull", 618, 168)
    meant.text(f"{quantity('force').text(pulling.force, shown.system)} down", 270, 34)
    meant.text("bearing block", 196, 75, "right")
    meant.text("tip", 132, 184)

    tip, arm = found.power.value, found.power.value + found.block
    bands = [band for band in (found.band, found.hot_power, before and before.band) if band]
    most = max(arm, *(band.high for band in bands))
    end = next(end for end in (10, 20, 40, 80, 160, 400, 1000, 2000, 5000) if end >= most)

    def place(power):
        return 172 + power / end * (764 - 172)

    for number in range(5):
        x, words = place(end * number / 4), f"{end * number / 4:g} W"
        meant.box(words, x - 1, 396, x + 1, 403, style.EDGE)
        meant.text(words if number else "0", x, 418, "center")
    meant.box("tip's watts", 172, 262, place(tip), 290, style.EMBER_BAND)
    meant.box("block's watts", place(tip), 262, place(arm), 290, style.EDGE)
    words = f"tip {tip:.1f} W", f"block {found.block:.1f} W"
    if place(tip) - 172 > sketch.width(words[0]) + 12:
        meant.text(words[0], 180, 276)
        meant.text(words[1], place(arm) + 8, 276)
    else:
        meant.text(", ".join(words), place(arm) + 8, 276)
    for name, band, y in (
        ("by the pull", found.band, 322),
        ("by first smoke", found.hot_power, 364),
    ):
        meant.text(name, 162, y, "right")
        if band:
            low, likely, high = map(place, band)
            meant.shape(name, whole, *closed(low, high, y - 10, y + 10), style.EMBER_PALE)
            meant.line(f"{name}, likely", whole, [likely], [y], style.EMBER)
        else:
            meant.text("not timed", 180, y)
    meant.text("your arm gives", 162, 276, "right")
    if before:
        low, _, high = map(place, before.band)
        meant.shape("before", whole, *closed(low, high, 305, 339), style.PAPER)
    return meant


def measuring(measured="", **how):
    """A panel that takes a kit of which one thing was measured."""
    panel = panels.MeasureNext(**how)
    if measured:
        my_kit.put(**{measured: well_measured(measured, Try().value(measured))})
        panel.mine.turn()
        my_kit.clear()
    return panel


def doubt_bars(shown):
    """A bar for each group of unknowns, the greatest first."""
    meant, sketch, kit = Meant(), shown.sketch, shown.panel.mine.standing(shown.now)
    found = doubts(tried(shown.now), kit)
    end = max(0.5, found[0].share)

    def place(share):
        return 262 + share / end * (566 - 262)

    meant.text("who makes the doubt about the ember's time", 262, 14)
    for tenths in range(int(10 * end + 1e-9) + 1):
        x = place(tenths / 10)
        meant.box(f"{tenths} of 10", x - 1, 380, x + 1, 387, style.EDGE)
        meant.text(f"{tenths}", x, 402, "center")
    meant.text("of 10 parts", 590, 402)
    names = {"open": "what nobody knows", "wood": "this piece of wood", "luck": "luck"}
    states = {"measured": "◆ measured", "guessed": "guessed", "unknown": "not yours to measure"}
    pale = 0
    for row, one in enumerate(found):
        y, right = 34 + 38 * (row + 0.5), place(one.share)
        name = names.get(one.key) or unknown(one.key).name
        meant.text(name, 252, y, "right")
        color = style.YOURS if one.state == "measured" else style.EMBER_BAND
        if one.state == "unknown":
            corners = closed(262, right, y - 12, y + 12)
            meant.shape(f"pale {pale}", sketch.whole, *corners, style.EMBER_PALE)
            pale += 1
        else:
            meant.box(name, 262, y - 12, max(right, 264), y + 12, color)
        meant.text(states[one.state], max(right, 264) + 8, y)
    return meant


def flag(meant, sketch, name, x, words, y, top):
    """A flag on its pole, which stands on the axis, with words on it."""
    foot = sketch.drawn()[f"{name}, pole"].y.max()
    meant.line(f"{name}, pole", sketch.whole, [x, x], [top, foot], style.YOURS)
    cloth = sketch.drawn()[f"{name}, flag"]
    (word,) = (word for word in sketch.written() if word.text == words)
    long = word.width + 9 + 9 + 8  # bare cloth before and behind the words, and the cut
    way = 1 if x + long < sketch.size[0] else -1
    assert way * cloth.x.min() == pytest.approx(x, abs=HALF) or cloth.x.max() == pytest.approx(
        x, abs=HALF
    )
    assert np.ptp(cloth.x) == pytest.approx(long, abs=1)
    assert (cloth.y.min(), cloth.y.max()) == pytest.approx((y - 14, y + 14))
    meant.boxes_of(sketch, f"{name}, flag")
    meant.text(words, x + 9 * way, y, "left" if way > 0 else "right")


class Guess:
    """A prediction with what somebody says of it, in the place of a panel: nothing is kept."""

    view = ()

    def __init__(self, key="half_diameter", units=METRIC):
        self.key, self.units = key, units
        self.reset()

    def reset(self):
        options = dict(table("lessons")["predict"][self.key].get("options", {3.0: None}))
        self.set(given=next(iter(options)))

    def set(self, given):
        panel = panels.Predict(self.key, units=self.units)
        panel.commit(given)
        self.png, self.state = panel.png, {"key": self.key, "given": given}

    def keep_before(self):
        """Nothing is before a guess."""

    drop_before = watch = keep_before


def guess_lanes(shown):
    """Both lanes as the draws say, the guess where it would land, and the gap."""
    meant, sketch, key = Meant(), shown.sketch, shown.now["key"]
    row = table("lessons")["predict"][key]
    plank, floor = sketch.plank.frame, row["measure"] == "bound"
    end = notches(meant, sketch, plank)
    tries = [try_of(row[side]) for side in ("before", "after")]
    thick = [one.kit.diameter for one in tries]
    if not floor:
        wider = [one / default("diameter") if len(set(thick)) > 1 else 1.0 for one in thick]
        depths = [one.kit.burn_in_depth / wide for one, wide in zip(tries, wider, strict=True)]
        tries = [one.changed(burn_in_depth=depth) for one, depth in zip(tries, depths, strict=True)]
    found = [spread(one) for one in tries]
    ratio = compare(*(try_of(row[side]) for side in ("before", "after"))).likely
    marks = [one.bound.likely if floor else one.wood.likely for one in found]
    land = dict(row["options"])[shown.now["given"]] * marks[0]
    came = marks[1] if floor else marks[0] * ratio
    never = Band(np.inf, np.inf, np.inf)
    for name, one, y in zip(("before", "after"), found, (70, 176), strict=True):
        seen = dataclasses.replace(one, wood=never, all=never) if floor else one
        lane(meant, sketch, plank, name, seen, y)
    if floor:
        sides, ends = [166, *2 * [across(plank, marks[0])], 166], [53, 53, 87, 87]
        meant.shape("before, floor", sketch.whole, sides, ends, None)
    places = [across(plank, min(time, end)) for time in (land, came, *marks)]
    if came <= end and abs(places[0] - places[1]) > 1:
        sides = [*3 * places[:1], *3 * places[1:2]]
        meant.line("gap", sketch.whole, sides, [216, 228, 222, 222, 228, 216], style.INK)
    if came <= end and marks[0] <= end:
        way = sketch.drawn()["way"]
        assert (way.x[0], way.x[-1]) == pytest.approx((places[2], places[1]), abs=HALF)
        assert 70 < way.y[0] < way.y[-1] < 176
        meant.boxes_of(sketch, "way")
    far = ", far beyond" if land > end else ""
    flag(meant, sketch, "guess", places[0], f"you said {time_words(land)}{far}", 250, 156)
    name_of_range(meant, sketch, plank, found[1], 176, places[0])
    for name, own, one, y in zip(("before", "after"), thick, found, (70, 176), strict=True):
        right = 154
        if len(set(thick)) > 1:
            right = 88
            disc = MatplotlibPath.unit_circle().vertices * 1200 * own + (126, y)
            meant.line(f"{name}, spindle", sketch.whole, *disc.T, style.WOOD)
            meant.boxes_of(sketch, f"{name}, spindle, rings")
        meant.text(name, right, y - 11, "right")
        words = [word.text for word in sketch.written() if word.x == right or word.align == "right"]
        noted = ", ".join(_noted(row["before" if name == "before" else "after"], shown.system))
        assert noted in words
        meant.text(noted, right, y + 11, "right")
        low = min(one.all.low, end)
        said = f"{band_words(one.all)}, all we do not know"
        said = f"floor {time_words(one.bound.likely)}" if floor else said
        left = 166 if floor else min(across(plank, low), 530)
        meant.text(said, left, y - 31)
    return meant


def _noted(settings, system):
    for key, value in settings.items():
        yield {"wood": lambda value=value: wood(value).name.split()[-1]}.get(
            key, lambda key=key, value=value: quantity(key).text(value, system)
        )()


def guess_bars(shown):
    """A bar for before, one for what it becomes, the guess and the gap."""
    meant, sketch, key = Meant(), shown.sketch, shown.now["key"]
    row = table("lessons")["predict"][key]
    after = asked_of(row["measure"], row.get("after", {}))
    share = "before" not in row and "within" not in row
    before = asked_of(row["measure"], row["before"]) if "before" in row else float(share)
    given = shown.now["given"]
    land = given if "within" in row else dict(row["options"])[given] * before
    units = {"dust_share": ("%", 100), "helped_share": ("%", 100), "joules": ("J", 1)}
    unit, factor = units.get(row["measure"], ("W", 1))
    frame = sketch.ruler.frame
    ticks = sketch.drawn()["ticks"]
    numbers = [word for word in sketch.written() if word.y > 240]
    for word, x in zip(numbers, ticks.x, strict=True):
        assert number(word.text) == pytest.approx(factor * frame.values([x], [0])[0][0])
        assert word.text.endswith(f" {unit}")
        meant.text(word.text, x, 252, "center")
    meant.boxes_of(sketch, "ticks")

    def spelled(value):
        return percent_words(value) if unit == "%" else f"{number_words(value)} {unit}"

    seen = min(land, 8 * max(before, after))
    unnamed = ["before", "after"] if "before" in row else ["all of it", "it is"]
    names = row.get("names", unnamed)
    for mark, name, value, y in (
        ("before", names[0], before, 56),
        ("after", names[1], after, 136),
    ):
        if value == 0:
            continue
        right = frame.across(value)
        color = style.PAPER if mark == "before" else style.EMBER_BAND
        meant.shape(
            mark, sketch.whole, [166, right, right, 166], [y - 17, y - 17, y + 17, y + 17], color
        )
        meant.text(name, 154, y, "right")
        written = [word for word in sketch.written() if word.y == y and word.x != 154]
        sides = (right + 10, "left"), (right - 10, "right"), (frame.across(seen) + 10, "left")
        (word,) = written
        place = float(word.x), word.align
        assert any(place == (pytest.approx(float(x), abs=SLACK), align) for x, align in sides)
        assert word.box[2] <= 800
        if mark == "after":  # the pole of the flag does not go through the words
            assert not word.box[0] < frame.across(seen) < word.box[2]
        meant.text(spelled(value), word.x, y, word.align)
    x, came = frame.across(seen), frame.across(after)
    if abs(x - came) > 1:
        meant.line(
            "gap", sketch.whole, 3 * [x] + 3 * [came], [172, 184, 178, 178, 184, 172], style.INK
        )
    far = ", far beyond" if land > seen else ""
    flag(meant, sketch, "guess", x, f"you said {spelled(land)}{far}", 204, 106)
    return meant


def card_lanes(shown):
    """The start, what was before, and now, below the flag of the goal."""
    meant, sketch, rules = Meant(), shown.sketch, card("heavy_spindle").rules
    plank = sketch.plank.frame
    end = notches(meant, sketch, plank)
    start = {key: rules.at_start(key) for key in rules.free}
    states = {"start": start} | ({"before": shown.then} if shown.then else {})
    found = {name: spread(try_of(rules.settings(state))) for name, state in states.items()}
    now = spread(try_of(rules.settings(shown.now)))
    goal = across(plank, rules.below)
    sides, ends = [166, goal, goal, 166], [34, 34, 362, 362]
    meant.shape("goal, field", sketch.whole, sides, ends, style.YOURS_PALE)
    met = judge(rules, shown.now, now).level.met
    flag(meant, sketch, "goal", goal, f"{'✓ ' if met else ''}ember before 90 s", 34, 20)
    for row, (name, one) in enumerate(found.items()):
        _card_row(meant, shown, (f"row {row}", name), one, states[name], 72 + 62 * row)
    _card_row(meant, shown, ("now", "now"), now, shown.now, 320)
    if now.wood.low <= end:
        meant.text("your wood", across(plank, now.wood.low), 289)
    if now.all.high <= 0.68 * end:
        meant.text("all we do not know", across(plank, now.all.high) + 10, 320)
    name_of_range(meant, sketch, plank, now, 320, goal)
    return meant


def _card_row(meant, shown, names, found, state, y):
    (mark, name), plank = names, shown.sketch.plank.frame
    lane(meant, shown.sketch, plank, mark, found, y, name != "now")
    start = card("heavy_spindle").rules.start
    changed = [key for key in state if state[key] != start[key]] or ["diameter"]
    meant.text(name, 154, y - 11, "right")
    words = ", ".join(quantity(key).text(state[key], shown.system) for key in changed[:2])
    meant.text(words, 154, y + 11, "right")
    if found.all.low > plank.axes.get_xlim()[1]:
        words = "never" if found.all.low >= TOO_LONG else f"from {time_words(found.all.low)}"
        meant.text(words, 762, y, "right")


class Racing:
    """A race at a moment, in the place of a panel: live, or as a notebook keeps it."""

    view = ()

    def __init__(self, kept=False, units=METRIC):
        self.kept, self.units = kept, units
        self.reset()

    def reset(self):
        self.set()

    def set(self, kits="thickness", time=None, **ends):
        """Race to a time; nobody has bet if there is none."""
        race = panels.Race(kits, units=self.units)
        row = pairings()[kits].quantity
        race.set(**{f"{side}_{row}": value for side, value in ends.items()})
        if time is not None:
            race.commit("a tie")
            if time < np.inf:
                race.track.live.look_at(time)
        self.state = {"kits": kits, "time": time, "ends": ends}
        self.png = race.png if self.kept else race.track.sketched.png(1.0)

    def keep_before(self):
        """Nothing is before a race."""

    drop_before = watch = keep_before


def race_lanes(shown, top=0):
    """Both lanes on one plank, or empty boxes; what is to come is veiled in a kept picture."""
    meant, sketch, now = Meant(), shown.sketch, shown.now
    plank, rows = sketch.plank.frame, (top + 38, top + 116)
    end = notches(meant, sketch, plank)
    pair = starters(now["kits"], **now["ends"])
    for name, one, y in zip(("left", "right"), pair, rows, strict=True):
        disc = MatplotlibPath.unit_circle().vertices * 800 * one.state.kit.diameter + (146, y)
        meant.line(f"{name}, spindle", sketch.whole, *disc.T, style.WOOD)
        meant.boxes_of(sketch, f"{name}, spindle, rings")
        meant.text(one.name, 118, y, "right")

    def box(what, left, right, y, color):
        sides, ends = [left, right, right, left], [y - 19, y - 19, y + 19, y + 19]
        meant.shape(what, sketch.whole, sides, ends, color)

    if now["time"] is None:
        assert end == 120
        meant.text("empty until all hands are counted", 465, rows[0], "center")
        for name, y in zip(("left", "right"), rows, strict=True):
            box(f"{name}, empty", 178, 752, y, None)
        return meant
    found = [spread(one.state) for one in pair]
    embers = [one.wood.likely for one in found]
    last = max((ember for ember in embers if ember < np.inf), default=120.0)
    time = min(now["time"], last)
    assert end >= last
    if top and time < last:
        here = across(plank, time)
        for name, y in zip(("left", "right"), rows, strict=True):
            box(f"{name}, to come", here, 800, y, style.PAPER)
        ends = [end for y in rows for end in (y - 22, y + 22, np.nan)]
        meant.line("now", sketch.whole, 2 * [here, here, np.nan], ends, style.INK)
    for name, one, ember, y in zip(("left", "right"), found, embers, rows, strict=True):
        lane(meant, sketch, plank, name, one, y)
        wall = across(plank, min(one.bound.likely, end))
        if wall - 178 > sketch.width("too soon") + 12:  # else its name has no room on it
            meant.text("too soon", 186, y)
        written = {word.text: word for word in sketch.written() if abs(word.y - (y - 26)) < 1}
        if one.all.low > end:
            meant.text(f"no ember: {NEVER}", wall + 14, y)
        elif time >= ember:
            words = [f"glowed at {time_words(ember)}", f"could be {band_words(one.all)}"]
            glowed, could = (written[each] for each in words)
            assert glowed.x <= across(plank, ember)
            assert 0 <= could.box[0] - glowed.box[2] < 20
            assert could.box[2] <= 800
            for word in (glowed, could):
                meant.text(word.text, word.x, word.y)
        else:
            wood, known = written["your wood"], written["all we do not know"]
            for word, bar in ((wood, one.wood), (known, one.all)):  # each over its own bar
                low, high = (across(plank, min(time, end)) for time in bar.ends)
                assert word.box[0] < high
                assert low < word.box[2]
            meant.text("your wood", wood.x, wood.y, "center")
            meant.text("all we do not know", known.x, known.y)
    name_of_range(meant, sketch, plank, found[0], rows[0])
    return meant


def race_picture(shown):
    """Lanes, and over them both kits: tip, heap and glow as the course has them then."""
    meant, sketch, now = race_lanes(shown, 200), shown.sketch, shown.now
    drawn, pair = sketch.drawn(), starters(now["kits"], **now["ends"])
    clock = 0.0 if now["time"] is None else now["time"]
    courses = [course(one.state) for one in pair]
    last = max((way.ember for way in courses if way.ember < np.inf), default=120.0)
    clock = min(clock, last)
    heat = style.heat() / 255
    for name, way, one, x in zip(("left", "right"), courses, pair, (8, 792), strict=True):
        parts = [key for key in drawn if key.startswith(f"{name}, ") and key not in meant.marks]
        for part in parts:
            meant.boxes_of(sketch, part)
        kelvin = np.interp(clock, way.times, way.temperature)
        shade = heat[int(np.clip((kelvin - 293.15) / 310, 0, 1) * 255)]
        if clock:
            tip = next(drawn[part] for part in parts if part.startswith(f"{name}, tip"))
            assert to_rgb(tip.color) == pytest.approx(shade, abs=0.02)
        glows = any(part.startswith(f"{name}, glow") for part in parts)
        assert glows == (clock >= way.ember)
        heap = [drawn[part] for part in parts if part.startswith(f"{name}, heap")]
        dusty = bool(np.interp(clock, way.times, way.dust) > 0)
        assert (np.ptp(heap[0].x) > 0.5) == dusty
        align = "left" if name == "left" else "right"
        meant.text(one.name, x, 20, align)
        row = pairings()[now["kits"]].quantity
        value = one.stroke_length if row == "stroke_length" else one.state.value(row)
        meant.text(quantity(row).text(value, shown.system).replace(".0 ", " "), x, 42, align)
        past = sum(when <= clock for when in (way.brown, way.smoke, way.ember))
        states = ("Warm stick", "It turns brown", "It smokes", "It glows")
        if now["time"] is not None:
            lost = way.never and clock >= last
            meant.text("No ember" if lost else states[past], x, 66, align)
    meant.text(f"{int(clock)} s", 400, 28, "center")
    return meant


class Voting:
    """A court in the place of a panel: nobody has voted, or a saying is heard by a group."""

    view = ()

    def __init__(self, units=METRIC):
        self.units = units
        self.reset()

    def reset(self):
        self.set()

    def set(self, saying="press_harder", population="ten_to_twelve", voted=True, force=None):
        """Vote on a saying; with a force measured, my kit is in."""
        court = panels.Court(saying, population, units=self.units)
        my_kit.clear()
        if force is not None:
            my_kit.put(force=well_measured("force", force))
            court.bench.turn_mine()
        if voted:
            court.commit("depends")
        my_kit.clear()
        self.state = {"saying": saying, "population": population, "voted": voted, "force": force}
        self.png = court.bench.sketched.png(1.0)

    def keep_before(self):
        """Nothing is before a vote."""

    drop_before = watch = keep_before


PLACES = {"comes": (4, 92), "sooner": (108, 256), "same": (256, 344), "later": (344, 492)}
PLACES |= {"gone": (508, 596)}
ENDS_OF_COURT = {
    "a fifth\nless time": (1.25, "a quarter\nmore time"),
    "a third\nless time": (1.5, "half more\ntime"),
    "half\nthe time": (2.0, "twice\nthe time"),
    "a quarter\nof the time": (4.0, "4 times\nthe time"),
    "a tenth\nor less": (10.0, "10 times\nor more"),
}


def court_dots(shown):
    """A hundred marks: where learners of each kind stand, as many as their share, on the ground."""
    meant, sketch, now = Meant(), shown.sketch, shown.now
    marks = {name: seen for name, seen in sketch.drawn().items() if name.startswith("learner ")}
    assert len(marks) == 100
    for name in marks:
        meant.boxes_of(sketch, name)
    if not now["voted"]:
        assert {seen.color for seen in marks.values()} == {style.EDGE.lower()}
        for words, x in (("sooner", 182), ("the same", 300), ("later", 418)):
            meant.text(words, x, 284, "center")
        meant.text("A hundred learners. Vote first!", 300, 150, "center")
        return meant
    found = verdict(now["saying"], now["population"])
    keeping = now["saying"] == "foil_under"
    ratio, before, after = found.effect, found.now.in_time, found.then.in_time
    if not keeping:  # an ember that comes too late is none
        ratio = np.where(before, np.where(after, ratio, np.inf), np.where(after, 0.0, np.nan))
    kinds = {"helps": "EMBER_BAND", "no matter": "EDGE", "harms": "INK"}
    for kind, (token, word, x) in zip(
        kinds,
        (("EMBER_BAND", "helped", 122), ("EDGE", "no matter", 300), ("INK", "harmed", 478)),
        strict=True,
    ):
        color = style.color(token).lower()
        own = [seen for seen in marks.values() if seen.color == color]
        share = 100 * np.mean(found.kinds == kind)
        assert abs(len(own) - share) < 1
        words = f"{len(own)} {word}"
        wide = sketch.width(words, weight="bold") + 20
        meant.text(words, x - wide / 2 + 20, 18)
        meant.boxes_of(sketch, f"sign of {kind}")
        assert sketch.drawn()[f"sign of {kind}"].color == color
        if own:
            stand_where_they_should(own, np.sort(ratio[found.kinds == kind]), sketch)
    stacked_on_the_ground(marks.values())
    first, same, second = (
        ("keeps\nfor good", "about\nthe same", "goes out\nat once")
        if keeping
        else ("an ember\nat last", "the same,\nor no ember", "no ember\nany more")
    )
    less, more = ends_of_scale(sketch)
    for words, x, align in (
        (first, 48, "center"),
        (less, 108, "left"),
        (same, 300, "center"),
        (more, 492, "right"),
        (second, 552, "center"),
    ):
        meant.text(words, x, 284, align)
    if now["force"] is not None:
        state = Try().changed(force=now["force"])
        measured = MyKit(force=well_measured("force", now["force"])).measured
        own = for_learner(now["saying"], Learner(state=state, measured=measured))
        low, likely, high = (place_of(sketch, end) for end in own)
        meant.box("my kit, band", low, 320, high, 324, style.YOURS)
        meant.text("◆", likely, 322, "center")
        meant.text("my kit", max(high, likely + 8) + 8, 322)
    return meant


def ends_of_scale(sketch):
    """What is written at the ends of the scale; where embers are to keep, longer is left."""
    places = {word.text: word.align for word in sketch.written()}
    for less, (_, more) in ENDS_OF_COURT.items():
        if {less, more} <= set(places):
            return (less, more) if places[less] == "left" else (more, less)
    raise AssertionError(places)


def place_of(sketch, ratio):
    """Where a ratio stands: even steps of factors from the end of the scale to a twentieth."""
    names = ends_of_scale(sketch)
    reach = next(ENDS_OF_COURT[name][0] for name in names if name in ENDS_OF_COURT)
    if ratio in (0.0, np.inf):
        return 48 if ratio == 0 else 552
    if 1 / 1.05 <= ratio <= 1.05:
        return 300 + 44 * np.log(ratio) / np.log(1.05)
    along = np.log(max(ratio, 1 / ratio) / 1.05) / np.log(reach / 1.05)
    off = 44 + 148 * min(along, 1.0)
    return 300 - off if ratio < 1 else 300 + off


def stand_where_they_should(own, ratios, sketch):
    """Marks of one kind, in order, stand for its learners in order; beside, if a stack is full."""
    chosen = ratios[((np.arange(len(own)) + 0.5) * len(ratios) / len(own)).astype(int)]
    across_it = np.array([np.mean(seen.x) for seen in own])
    for ratio, x, seen in zip(chosen, across_it, own, strict=True):
        within = np.isnan(ratio) or 1 / 1.05 <= ratio <= 1.05
        beyond = {0.0: "comes", np.inf: "gone"}.get(ratio, "sooner" if ratio < 1 else "later")
        zone = "same" if within else beyond
        left, right = PLACES[zone]
        assert left - 1 < x < right + 1, (ratio, zone)
        if zone in ("sooner", "later"):
            place = np.clip(place_of(sketch, ratio), left + 4, right - 4)
            full = np.sum(np.abs(across_it - place) < 7) >= 16
            assert full or x == pytest.approx(place, abs=7)
        assert (np.ptp(seen.x) < 8) == np.isnan(ratio)  # who has none either way is a speck
    apart = (chosen > 0) & (chosen < 1 / 1.05) | (chosen > 1.05) & (chosen < np.inf)
    assert np.all(np.diff(across_it[apart]) > -1)


def stacked_on_the_ground(marks):
    """No mark hangs in the air: each column has them one on the other."""
    middles = np.array([(np.mean(seen.x), 252 - np.mean(seen.y)) for seen in marks])
    middles = middles[np.argsort(middles[:, 0])]
    ends = np.flatnonzero(np.diff(middles[:, 0]) > 4) + 1
    for column in np.split(middles[:, 1], ends):
        steps = np.arange(len(column)) + 0.5
        np.testing.assert_allclose(np.sort(column), 148 / 12 * steps, atol=1)


class KeptKit(panels.KitAtWork):
    """The kit as a notebook keeps it: nothing else paints that picture."""

    def set(self, **values):
        said = super().set(**values)
        assert self.png
        return said


def kit_at_work(shown):
    """The kit shortly before it glows: to scale, as hot as its course has it, named where it is."""
    meant, sketch, now = Meant(), shown.sketch, shown.now
    drawn, way = sketch.drawn(), course(tried(now))
    for part in drawn:
        meant.boxes_of(sketch, part)
    x, per = 322, 0.84 * 2.7  # the spindle's middle, and pixels to a millimetre
    time = way.smoke / 4 + 3 * way.ember / 4 if way.ember < np.inf else way.end

    def ends(part):
        there = at(drawn[part].frame, drawn[part].x, drawn[part].y)
        return there.min(axis=0), there.max(axis=0)

    def thick(state):
        half = 500 * state["diameter"] * per
        return pytest.approx((x - half, x + half), abs=0.01)

    (left, _), (right, _) = ends("spindle 1")
    assert (left, right) == thick(now)
    shade = style.heat()[int(np.clip((way.temperature_at(time) - 293.15) / 310, 0, 1) * 255)] / 255
    assert {drawn[part].color for part in drawn if part.startswith("tip")} == {to_hex(shade)}
    mass = way.dust_at(time)
    wide = 2 * 1.15 * 1000 * per * (heap_radius(mass) if mass else 0.0)
    assert np.ptp(drawn["heap 1"].x) == pytest.approx(wide, abs=0.01)
    smokes = {part for part in drawn if part.startswith("smoke")}
    assert smokes == ({"smoke-1"} if way.smoke <= way.times[-1] else set())
    tail, (_, tip) = ends("press 1")[0][1], ends("press 2")[1]
    assert tip - tail == pytest.approx(0.84 * 0.6 * now["force"], abs=0.01)
    meant.line("pace", sketch.whole, *_pace(now["speed"]).T, None)
    if shown.then:
        (left, _), (right, _) = ends("before 1")
        assert (left, right) == thick(shown.then)
        (_, tail), (_, tip) = ends("before 2")
        assert tip - tail == pytest.approx(0.84 * 0.6 * shown.then["force"], abs=0.01)
    texts = {key: quantity(key).text(now[key], shown.system) for key in ("force", "speed")}
    meant.text(texts["force"], 346, 32)
    in_kilograms = now["force"] / 9.80665
    # in pounds the press itself says how heavy the bag is
    meant.text(
        "a bag this heavy" if shown.system == US else f"a {in_kilograms:.0f} kg bag", 346, 51
    )
    meant.text(texts["speed"], 580, 152, "center")
    for word, note, place, align in KIT_WORDS:
        meant.text(word, *place, align)
        if note:
            meant.text(note, place[0], place[1] + 19, align)
        (_, end), dot = (at(drawn[n].frame, drawn[n].x, drawn[n].y) for n in _to(word))
        assert dot[0] == pytest.approx(end)
        thing = drawn[ON[word]]
        corners = at(thing.frame, thing.x, thing.y)
        if word == "bow and cord":
            way_along = (end[0] - corners[0, 0]) / (corners[1, 0] - corners[0, 0])
            assert 0.2 < way_along < 0.8
            assert end[1] == pytest.approx(corners[0, 1] + way_along * np.ptp(corners[:, 1]), abs=2)
        else:
            assert MatplotlibPath(corners).contains_point(end, radius=-4), word
    return meant


def _to(word):
    return f"to {word}", f"on {word}"


def _pace(speed):
    """Corners of an arrow to both sides of (580, 172), fifty pixels to a metre a second."""
    left, right, head = 580 - 25 * speed, 580 + 25 * speed, min(9, 25 * speed)
    sides = (left, head), (right, -head)
    heads = [((end + turn, 165), (end, 172), (end + turn, 179)) for end, turn in sides]
    return np.array([(left, 172), (right, 172), *heads[0], *heads[1]])


KIT_WORDS = (
    ("bearing block", "presses, stays still", (406, 78), "left"),
    ("bow and cord", "turn the spindle", (6, 116), "left"),
    ("spindle", "", (406, 279), "left"),
    ("fireboard", "", (138, 406), "right"),
    ("notch", "hot dust falls in here", (452, 406), "left"),
)
ON = {
    **{"bearing block": "block 1", "bow and cord": "left 1", "spindle": "spindle 1"},
    **{"fireboard": "front 1", "notch": "notch 2"},
}


def to_make(shown):
    """Parts of a kit at one scale, each dimension line as long as what it measures."""
    meant, sketch, thick = Meant(), shown.sketch, 1000 * shown.now["diameter"]
    drawn, per = sketch.drawn(), 1.35
    for part in drawn:
        meant.boxes_of(sketch, part)
    deep = thick / 2 + 6
    mouth = 2 * deep * np.tan(np.pi / 8)
    across_it = {
        **{"spindle": thick, "board": 250, "hole": thick, "notch": mouth, "open notch": mouth},
        **{"side": 250, "block": 100, "size of spindle": thick, "size of board_length": 250},
        **{"size of mouth": mouth, "size of block_length": 100},
        "size of bow_length": 600 * 0.3 / per,
    }
    up_it = {
        **{"spindle": 150, "board": 50, "hole": thick, "notch": deep, "side": 15, "block": 40},
        **{"size of spindle_point": 20, "size of spindle_length": 150, "size of board_width": 50},
        **{"size of hole": thick, "size of board_thickness": 15, "size of block_thickness": 40},
        **{"size of socket_depth": 10},
    }
    for sides, millimetres in ((0, across_it), (1, up_it)):
        for part, long in millimetres.items():
            there = at(drawn[part].frame, drawn[part].x, drawn[part].y)
            assert np.ptp(there[:, sides]) == pytest.approx(per * long, abs=0.02), part
    ((x, y), (right, low)) = (
        getattr(at(drawn["hole"].frame, drawn["hole"].x, drawn["hole"].y), end)(axis=0)
        for end in ("min", "max")
    )
    near = 76 + per * 50
    assert near - (y + low) / 2 == pytest.approx(per * deep, abs=0.02)
    assert (x + right) / 2 == pytest.approx(282 + per * 125, abs=0.02)
    if shown.then:
        there = at(drawn["before"].frame, drawn["before"].x, drawn["before"].y)
        assert np.ptp(there[:, 0]) == pytest.approx(per * 1000 * shown.then["diameter"], abs=0.02)

    def told(low, high):
        if shown.system == METRIC:
            return f"{low} to {high} mm"
        rule = ((200, 1), (100, 2), (40, 4), (20, 8), (0, 16))  # what is long is read roughly
        parts = next(parts for least, parts in rule if high >= least)
        return " to ".join(inch_words(end / 25.4, parts) for end in (low, high)) + " in"

    own = quantity("diameter").text(shown.now["diameter"], shown.system).replace(".0 ", " ")
    wide = f"{mouth:.0f} mm" if shown.system == METRIC else f"{inch_words(mouth / 25.4, 16)} in"
    half = per * thick / 2
    for words, x, y, align in (
        ("spindle", 10, 18, "left"),
        (told(15, 30), 62 + half + 26, 60 + per * 10, "left"),
        (f"{told(130, 250)} long", 62 + half + 16, 60 + per * 75, "left"),
        (f"{own} thick", 10, 60 + per * 150 + 38, "left"),
        ("fireboard, from above", 282, 18, "left"),
        ("from its edge", 282 + per * 250, 186, "right"),
        (told(200, 400), 282 + per * 250, 44, "right"),
        (told(40, 80), 282 + per * 250 + 26, 76 + per * 25, "left"),
        (told(10, 20), 282 + per * 250 + 26, 200 + per * 7.5, "left"),
        (f"hole {own}", 282 + per * 125 - half - 22, near - per * deep, "right"),
        (f"notch {wide}", 282 + per * (125 + mouth / 2) + 12, near + 16, "left"),
        ("bearing block", 282, 264, "left"),
        (told(80, 120), 282, 286, "left"),
        (told(30, 50), 282 + per * 100 + 26, 318 + per * 20, "left"),
        (f"socket {told(6, 12)} deep", 282, 318 + per * 40 + 20, "left"),
        ("bow and cord, smaller", 528, 264, "left"),
        (told(500, 750), 528, 376, "left"),
        (f"cord {told(200, 300)} longer", 528, 400, "left"),
    ):
        meant.text(words, x, y, align)
    return meant


def tries_by_clock(shown):
    """Steps of each group, a tick where one gave up, and the physics' lane of its middle try."""
    meant, sketch = Meant(), shown.sketch
    plank, end = sketch.plank.frame, notches(meant, sketch, sketch.plank.frame)
    tries = read_log(demo_log()).tries
    groups = our_tries(tries, by=shown.now["by"]).groups

    def across_it(seconds):
        return 160 + np.asarray(seconds) / end * 610

    def down_it(share):
        return 224 - np.asarray(share) * 190

    meant.text("tries without an ember yet", 160, 14)
    for words, share in (("10 of 10", 1.0), ("5", 0.5), ("0", 0.0)):
        meant.text(words, 148, down_it(share), "right")
    for row in range(3):  # what is not needed is empty
        for what in ("steps", "gave up"):
            meant.line(f"{what} {row}", sketch.whole, [], [], style.YOURS)
    for row, group in enumerate(groups):
        steps, found = [(160.0, down_it(1.0))], group.survival
        for time in found.times:
            x, y = across_it(time), down_it(found.at(time))
            steps += [(x, steps[-1][1]), (x, y)]
        steps.append((across_it(found.last), steps[-1][1]))
        ticks = np.zeros((0, 2))
        if len(found.given_up):
            x, y = across_it(found.given_up), down_it(found.at(found.given_up))
            gap = np.full_like(x, np.nan)
            ticks = np.column_stack([x, y - 7, x, y + 7, gap, gap]).reshape(-1, 2)
        meant.line(f"steps {row}", sketch.whole, *np.transpose(steps), style.YOURS)
        meant.line(f"gave up {row}", sketch.whole, *ticks.T, style.YOURS)
        lane(meant, sketch, plank, f"lane {row}", group.expected, 268 + 54 * row)
        if row == 0:
            name_of_range(meant, sketch, plank, group.expected, 268)
        words = "all tries"
        if shown.now["by"] != "all":
            setting = quantity(shown.now["by"])
            low, high = (setting.text(end, shown.system) for end in (group.low, group.high))
            low, high = low.replace(".0 ", " "), high.replace(".0 ", " ")
            words = low if low == high else f"{low.split()[0]} to {high}"
        meant.text(words, 148, 268 + 54 * row, "right")
        named = [word for word in sketch.written() if word.text == words and word.y < 230]
        assert len(named) == 1
        beside = np.subtract(steps, (named[0].x, named[0].y))  # its name stands at its line
        assert np.hypot(*beside.T).min() < 90
        left, top, right, bottom = named[0].box
        for (x, y), (later, lower) in itertools.pairwise(steps):  # and no line goes through it
            assert later < left or x > right or lower < top + 3 or y > bottom - 3
        meant.text(words, named[0].x, named[0].y, named[0].align)
    return meant


def coach_lanes(shown):
    """Now, and before, as outlines; the first changes below, each with its arm's end."""
    meant, sketch, plank = Meant(), shown.sketch, shown.sketch.plank.frame
    end, found = notches(meant, sketch, plank), coaching(learner_of(shown.now))
    outlines = {"now": found.now}
    outlines |= {"before": coaching(learner_of(shown.then)).now} if shown.then else {}
    changes = list(zip(found.moves, found.thens, strict=False))[: 4 - len(outlines)]
    rows = [(name, name, seen) for name, seen in outlines.items()]
    rows += [(f"change {row}", move.name, seen) for row, (move, seen) in enumerate(changes)]
    hold = advice(learner_of(shown.now)).learner.hold
    if hold <= end:
        flag(meant, sketch, "arm", across(plank, hold), f"arm spent: {time_words(hold)}", 22, 8)
    else:
        words = f"after {time_words(hold)}" if hold < TOO_LONG else "not in this time"
        meant.text(f"arm spent: {words}", 770, 22, "right")
    for place, (mark, name, seen) in enumerate(rows):
        y = 82 + 80 * place
        lane(meant, sketch, plank, mark, seen, y, mark in outlines, wall=False)
        meant.text(textwrap.fill(name, 13), 154, y, "right")
        if seen.all.low > end:
            words = "never" if seen.all.low >= TOO_LONG else f"from {time_words(seen.all.low)}"
            meant.text(words, 762, y, "right")
    for row, (move, seen) in enumerate(changes):
        y, words = 82 + 80 * (len(outlines) + row), saved_words(move.saved)
        left = across(plank, min(seen.all.low, end))
        meant.text(words, min(left, 770 - sketch.width(words)), y - 31)
        spent = move.then.hold
        if spent <= end:
            sides = [across(plank, spent)] * 2
            mark = f"change {row}, arm"
            meant.line(mark, sketch.whole, sides, [y - 21, y + 21], style.YOURS)
    return meant


def smoke_plank(shown):
    """When it smoked, now, and the bar in which the ember comes; an empty one of before."""
    meant, sketch, plank = Meant(), shown.sketch, shown.sketch.plank.frame
    end = notches(meant, sketch, plank)

    def window(state):
        smoke = state["smoke_time"]
        times = {"smoke_time": smoke, "elapsed": max(smoke, state["elapsed"])}
        return after_smoke(learner_of(state), **times).window, times

    def bar(name, band, half, color):
        low, high = (across(plank, min(one, end)) for one in band.ends)
        tip = [(high + 16, 112)] if band.high > end else []
        corners = [(low, 112 - half), (high, 112 - half), *tip, (high, 112 + half)]
        meant.shape(name, sketch.whole, *np.transpose([*corners, (low, 112 + half)]), color)
        return low, high

    now, times = window(shown.now)
    if now.low <= end:
        low, high = bar("ember", now, 26, style.EMBER_PALE)
        meant.near(sketch, "ember", (high if high - low > 130 else low, 112), 11)
    if shown.then:
        bar("before", window(shown.then)[0], 31, "#000000")
    if now.likely <= end:
        x = across(plank, now.likely)
        meant.box("likely", x - 2.5, 80, x + 2.5, 144, style.EMBER)
    for (name, color), time in zip(
        (("smoke", style.SMOKE), ("now", style.INK)), times.values(), strict=True
    ):
        x = across(plank, time)
        meant.box(name, x - 4, 66, x + 4, 170, color)
        meant.near(sketch, f"{name} {time_words(time)}", (x, 60), 45)
    return meant


def next_bars(shown):
    """The handbook's band, that of our evenings below it, and an empty one of before."""
    meant, sketch, plank = Meant(), shown.sketch, shown.sketch.plank.frame
    end = notches(meant, sketch, plank)
    tries = read_log(demo_log()).tries
    keys = ("diameter", "force", "speed")
    now, then = (
        state and next_try(Try().changed(**{key: state[key] for key in keys}), tries)
        for state in (shown.now, shown.then)
    )
    rows = [
        ("handbook", "handbook", now.handbook, 66, style.EMBER_PALE),
        ("evenings", "these evenings", now.evenings, 146, style.YOURS_PALE),
    ]
    rows += [("before", "before", then.evenings, 216, style.PAPER)] if then else []
    for name, words, band, y, color in rows:
        meant.text(words, 138, y, "right")
        low, likely, high = (150 + min(each, end) / end * 620 for each in band)
        tip = [(high + 12, y)] if band.high > end else []
        if tip:
            meant.text(f"to {time_words(band.high)}", 770, y + 32, "right")
        corners = [(low, y - 17), (high, y - 17), *tip, (high, y + 17), (low, y + 17)]
        meant.shape(name, sketch.whole, *np.transpose(corners), color)
        if name != "before" and band.likely <= end:
            meant.box(f"{name}, likely", likely - 2.5, y - 22, likely + 2.5, y + 22, style.EMBER)
    return meant


def power_bars(shown):
    """Of each cause the physics' range, ours below it, and where two wrong ways would put it."""
    meant, sketch = Meant(), shown.sketch
    now = fitted(read_log(demo_log()).tries, question=shown.now["question"])
    names = {"diameter": "thickness", "force": "press", "speed": "bow speed"}

    def place(power):
        return 150 + (np.clip(power, -4, 5) + 4) / 9 * 620

    def bar(name, ends, y, color):
        left, right = place(np.array(ends))
        meant.shape(name, sketch.whole, *closed(left, right, y - 9, y + 9), color)

    def dot(name, power, y, color):
        meant.box(name, place(power) - 2.5, y - 12, place(power) + 2.5, y + 12, color)

    meant.text("← less time, less depth", 150, 16)
    meant.text("more time, more depth →", 770, 16, "right")
    meant.text("power", 130, 414, "right")
    for power in range(-4, 6):
        meant.text(str(power).replace("-", "−"), place(power), 414, "center")
    rows = [*now.found.powers.items()]
    for row, (cause, power) in enumerate(rows):
        y = 62 + 86 * row
        meant.text(names[cause], 138, y + 12, "right")
        bar(f"physics {row}", power.physics.ends, y, style.EMBER_PALE)
        bar(f"ours {row}", power.interval.ends, y + 24, style.YOURS_PALE)
        dot(f"likely {row}", power.physics.likely, y, style.EMBER)
        dot(f"found {row}", power.found, y + 24, style.YOURS)
        for way, down in (("left out", y + 44), ("as embers", y + 63)):
            x = place(now.wrong[way][cause])
            meant.box(f"{way} {row}", x - 1.5, down - 6, x + 1.5, down + 6, style.INK)
            if row == 0:
                meant.text(f"failed tries {way}", x - 12, down, "right")
    first = rows[0][1]
    for words, band, y in (("physics", first.physics, 62), ("our tries", first.interval, 86)):
        wide, right = sketch.width(words), place(band.high) + 10
        if right + wide < 770:
            meant.text(words, right, y)
        elif place(band.low) - 10 - wide > 150:
            meant.text(words, place(band.low) - 10, y, "right")
        else:
            meant.text(words, place(band.low) + 8, y)
    y = 62 + 86 * len(rows)
    meant.text("depth worn", 138, y + 12, "right")
    bar(f"physics {len(rows)}", (-2, 0), y, style.EMBER_PALE)
    low, high = now.depth.interval.ends
    bar(f"ours {len(rows)}", (-high, -low), y + 24, style.YOURS_PALE)
    dot(f"found {len(rows)}", -now.depth.found, y + 24, style.YOURS)
    return meant


def cause_discs(shown):
    """Four causes in order, each with ten discs, so many filled; none where the craft knows."""
    meant, sketch = Meant(), shown.sketch
    found = likely_causes([key for key, ticked in shown.now.items() if ticked])
    meant.text("by the model: of 10 made-up tries that look so, this many have it", 318, 12)
    causes = [one for one in found.causes if one.weight >= 0.02][:4]
    for row in range(4):
        y, one = 28 + 52 * (row + 0.5), causes[row] if row < len(causes) else None
        empty = not causes  # four rows to be filled
        counted = empty or (one is not None and one.share is not None)
        places = [330 + 34 * disc for disc in range(10)] if counted else []
        have = round(10 * one.share) if counted and one else 0
        meant.line(f"has it {row}", sketch.whole, places[:have], [y] * have, style.INK)
        rest = places[have:]
        meant.line(f"has it not {row}", sketch.whole, rest, [y] * len(rest), style.EDGE)
        if empty or one:
            meant.text(f"{row + 1}", 10, y)
        if one:
            meant.text(one.cause.name, 36, y)
            words = f"{have} of 10" if have else "under 1 of 10"
            meant.text(*(words, 670, y) if counted else ("common practice, no number", 318, y))
    return meant


class Row(NamedTuple):
    panel: Any
    meant: Any
    cases: tuple[Case, ...]


def tapped(*gaps):
    return {"taps": tuple(np.cumsum(gaps))}


ROWS = {
    "CauseDiscs": Row(
        "WhatWasSeen",
        cause_discs,
        (
            Case("wet", {"smoke_only": True, "steam": True}),
            Case("form", {"walks": True}, {"dies": True}),
            Case("nothing"),
        ),
    ),
    "TriesPicture": Row(
        "OurTries",
        tries_by_clock,
        (
            Case("thickness"),
            Case("before", {"by": "force"}, {"by": "all"}),
            Case("US", {"by": "speed"}, None, US),
        ),
    ),
    "NextTryBars": Row(
        "NextEmber",
        next_bars,
        (
            Case("ordinary"),
            Case("before", {"diameter": 0.011, "force": 80.0}, {"diameter": 0.019}),
        ),
    ),
    "CoachLanes": Row(
        "CoachPlan",
        coach_lanes,
        (
            Case("ordinary"),
            Case(
                "before", {"arm": "ten_year_old"}, {"diameter": 0.022, "block_friction": 0.35}, US
            ),
            Case("never", {"diameter": 0.030, "force": 25.0, "arm": "tired_beginner"}),
        ),
    ),
    "SmokePlank": Row(
        "SmokeNow",
        smoke_plank,
        (
            Case("ordinary"),
            Case("before", {"smoke_time": 30.0, "elapsed": 34.0}, {"diameter": 0.022}, US),
            Case("late", {"elapsed": 118.0}),
        ),
    ),
    "PowerBars": Row(
        "FitTries",
        power_bars,
        (
            Case("two"),
            Case("before", {"question": "all three"}, {"question": "press"}),
            Case("one", {"question": "bow speed"}),
        ),
    ),
    "TimeField": Row(
        "Explorer",
        explorer,
        (
            Case("ordinary"),
            Case("before", {"diameter": 0.011}, {"diameter": 0.022, "force": 50.0}),
            Case("before, beside it", {"diameter": 0.028}, {"speed": 1.4, "diameter": 0.027}),
            Case("never", {"force": 10.0, "speed": 0.2, "diameter": 0.03}, {}),
            Case("early", {"force": 150.0, "speed": 2.0, "diameter": 0.006}),
            Case("wet", {"moisture": 0.22}, start={"across": "moisture"}),
            Case("US", {"force": 90.0}, {"speed": 0.8}, US, {"across": "force"}),
            Case("speed", {"speed": 2.5}),
            Case("thin", {"diameter": 0.0065}),
            Case("grams", {"dust_mass": 0.0001}, {"dust": "dust_mass"}),
            Case("slow", {"diameter": 0.030}),
        ),
    ),
    "GuessLanes": Row(
        Guess,
        guess_lanes,
        (
            Case("ordinary", {"given": "half the time"}),
            Case("right", {"given": "a quarter of the time"}),
            Case("ember", {"given": "half the time"}, start={"key": "twice_force_ember"}),
            Case("far", {"given": "eight times as long"}, None, US, {"key": "twice_heavy_wood"}),
            Case("thick", {"given": "twice as long"}, start={"key": "twice_diameter_ember"}),
            Case("no change", {"given": "the same time"}, start={"key": "twice_water"}),
        ),
    ),
    "GuessBars": Row(
        partial(Guess, key="press_hard"),
        guess_bars,
        (
            Case("ordinary", {"given": "twice as many"}),
            Case("right", {"given": "fewer than before"}),
            Case("share", {"given": "nearly all of it"}, start={"key": "dust_share"}),
            Case("people", {"given": "about a third of them"}, start={"key": "court_faster"}),
            Case("a number", {"given": 4.0}, start={"key": "watts"}),
            Case("far", {"given": 2000.0}, start={"key": "watts"}),
            Case("joules", {"given": "twice as much as leather"}, start={"key": "foil_or_leather"}),
        ),
    ),
    "CardLanes": Row(
        partial(panels.WhatIf, "heavy_spindle"),
        card_lanes,
        (
            Case("ordinary"),
            Case("met", {"diameter": 0.012}),
            Case("before", {"diameter": 0.009}, {"diameter": 0.014}),
            Case("US", {"diameter": 0.016, "force": 70.0}, {"speed": 1.1}, US),
            Case("weak", {"force": 10.0, "speed": 0.2}),
        ),
    ),
    "HeatSection": Row(
        "HeatView",
        heat_view,
        (
            Case("start"),
            Case("early", {"elapsed": 2.0}),
            Case("glows", {"elapsed": 57.0}),
            Case("before", {"diameter": 0.010, "elapsed": 60.0}, {"diameter": 0.022}),
            Case("late", {"diameter": 0.026, "elapsed": 80.0}),
            Case("US", {"elapsed": 90.0, "force": 90.0}, {"force": 40.0}, US),
            Case("cold", {"elapsed": 100.0, "force": 15.0, "speed": 0.3}),
            Case("still", {"elapsed": 30.0, "speed": 0.0}),
        ),
    ),
    "Ladder": Row(
        "WattLadder",
        ladder,
        (
            Case("ordinary"),
            Case("before", {"force": 100.0, "speed": 1.8}, {"force": 30.0}),
            Case("before, close by", {"force": 62.0}, {"force": 60.0}),
            Case("nothing", {"speed": 0.0}),
            Case("US", {"friction": 0.5}, {"friction": 0.2}, US),
        ),
    ),
    "TapLine": Row(
        "TapCounter",
        taps,
        (
            Case("none"),
            Case("ordinary", tapped(3.0, 0.8, 0.7, 0.82, 0.78, 0.8, 0.75)),
            Case("missed", tapped(0.0, 0.8, 0.82, 1.62, 0.8, 0.79, 0.81)),
            Case("long", tapped(1.0, *[0.9] * 60)),
        ),
    ),
    "BeatLine": Row(
        "PracticeBeat",
        beats,
        (
            Case("ordinary"),
            Case("slow", {"strokes_per_minute": 40.0}),
            Case("quick", {"strokes_per_minute": 220.0}, units=US),
        ),
    ),
    "KitPicture": Row(
        KeptKit,
        kit_at_work,
        (
            Case("ordinary"),
            Case("before", {"diameter": 0.0135, "force": 110.0}, {"diameter": 0.019}),
            Case("never", {"force": 20.0, "speed": 0.25, "diameter": 0.02}),
            Case("US", {"speed": 2.4, "force": 30.0}, {"force": 140.0}, US),
        ),
    ),
    "MakingPicture": Row(
        "KitToMake",
        to_make,
        (
            Case("ordinary"),
            Case("before", {"diameter": 0.0125}, {"diameter": 0.02}),
            Case("US", {"diameter": 0.019}, {}, US),
        ),
    ),
    "PressCurve": Row(
        "PressAndSpeed",
        press_and_speed,
        (
            Case("ordinary"),
            Case("before", {"force": 120.0}, {"force": 40.0, "diameter": 0.022}),
            Case("too hard", {"force": 380.0}),
            Case("best", {"force": 65.0}, start={"arm": "tired_beginner"}),
            Case("slips", {"slack_tension": 3.0, "force": 100.0}),
            Case("weak", {"kind": "weak", "force": 100.0}, {"kind": "strong"}),
            Case("US", {"force": 60.0, "law": "linear"}, {"force": 20.0}, US),
        ),
    ),
    "RampPicture": Row(
        "Ramp",
        ramp,
        (
            Case("ordinary"),
            Case("one", {"count": 1, "reading_1": 0.6}),
            Case("wide", {"count": 3, "reading_1": 0.2, "reading_2": 0.7, "angle_limit": 0.03}),
            Case("steep", {f"reading_{number}": 0.78 for number in range(1, 6)}),
        ),
    ),
    "RingPicture": Row(
        "Rings",
        rings,
        (
            Case("ordinary"),
            Case("before", {"diameter": 0.011, "shown": "force"}, {"diameter": 0.022}),
            Case("fresh", {"contact": "uniform_pressure", "shown": "power"}, {"force": 90.0}),
            Case("levels", {"contact": "uniform_pressure", "shown": "flux"}, {"force": 30.0}),
            Case("pressure", {"shown": "pressure", "count": 4}),
            Case("many", {"count": 16, "shown": "power", "diameter": 0.03}),
            Case("still", {"speed": 0.0, "shown": "power"}),
            Case("US", {"shown": "flux", "speed": 1.5}, {"speed": 0.5}, US),
        ),
    ),
    "Ripple": Row(
        "Warmth",
        warmth,
        (
            Case("ordinary"),
            Case("before", {"stroke_length": 0.2}, {"stroke_length": 0.6}),
            Case("rests", {"pause": 3.0, "shown": 60.0, "force": 30.0}, {}),
            Case("steady", {"shape": "steady", "shown": 30.0, "force": 20.0}),
            Case("US", {"force": 25.0, "shown": 30.0}, {"force": 50.0}, US),
        ),
    ),
    "SheetCurve": Row(
        "SheetThickness",
        sheets,
        (
            Case("ordinary"),
            Case("before", {"sheet": "leather"}, {"sheet": "steel", "catcher_thickness": 0.001}),
            Case("thin", {"catcher_thickness": 2e-6, "ground": "wet soil"}),
            Case("bedded", {"crust": 0.002, "ground": "air gap"}, {"crust": 0.0}),
            Case("US", {"catcher_thickness": 0.002}, {"ground": "board"}, US),
        ),
    ),
    "FactorCurve": Row(
        "JoiningCurve",
        factors,
        (
            Case("ordinary"),
            Case("before", {"diameter": 0.03}, {"burn_in_depth": 0.006}),
            Case("nearly all into dust", {"diameter": 0.006, "force": 150.0, "speed": 2.0}),
            Case("nearly all soaks in", {"diameter": 0.032, "force": 20.0}, {}, US),
        ),
    ),
    "PairLanes": Row(
        "SameWorlds",
        same_worlds,
        (
            Case("ordinary"),
            Case("thinner", {"change": "thinner", "diameter": 0.022}, {"force": 90.0}),
            Case("drier", {"change": "drier"}, {}),
            Case("hardly", {"force": 24.0, "change": "faster"}, None, US),
        ),
    ),
    "StrokeMap": Row(
        "Strokes",
        strokes,
        (
            Case("ordinary"),
            Case("before", {"stroke_length": 0.7}, {"strokes_per_minute": 90.0}),
            Case("small", {"stroke_length": 0.1, "strokes_per_minute": 60.0}),
            Case("slow hand", {"acceleration": 4.0, "strokes_per_minute": 250.0}),
            Case("long and slow", {"stroke_length": 0.75, "strokes_per_minute": 20.0}),
            Case("US", {"force": 30.0, "stroke_length": 0.6}, {"stroke_length": 0.2}, US),
        ),
    ),
    "UnderEmber": Row(
        "UnderTheEmber",
        under_the_ember,
        (
            Case("ordinary"),
            Case("early", {"elapsed": 3.0}),
            Case("bedded", {"crust": 0.003, "right": "steel", "ground": "wet soil"}),
            Case("US", {"elapsed": 110.0, "left": "leather", "ground": "air gap"}, {}, US),
        ),
    ),
    "WeatherPicture": Row(
        "Weather",
        weather,
        (
            Case("ordinary"),
            Case("before", {"relative_humidity": 0.9}, {"relative_humidity": 0.4}),
            Case("dry", {"relative_humidity": 0.1, "warming": 20.0}),
            Case("US", {"temperature_ambient": 300.0}, {"warming": 2.0}, US),
        ),
    ),
    "WoodRows": Row(
        "WoodsSideBySide",
        wood_rows,
        (
            Case("ordinary"),
            Case("before", {"wood": list(woods())[5], "diameter": 0.016}, {"diameter": 0.022}),
            Case("never", {"force": 12.0, "speed": 0.3}, {}),
            Case("elsewhere", {"region": "africa", "wood": "obeche"}, {"region": "europe"}),
            Case("early", {"region": "europe", "force": 150.0, "speed": 2.0, "diameter": 0.006}),
            Case("US", {"moisture": 0.2}, {"moisture": 0.05}, US),
        ),
    ),
    "WeighingPicture": Row(
        "WeighMyWood",
        weighed,
        (
            Case("ordinary"),
            Case(
                "block",
                {"shape": "block", "piece_mass": 0.06, "piece_width": 0.04},
                {"moisture": 0.2},
            ),
            Case("sinks", {"piece_mass": 0.25}),
            Case("light", {"piece_mass": 0.004}, {"piece_mass": 0.03}, US),
        ),
    ),
    "CatcherRows": Row(
        "Catchers",
        catcher_rows,
        (
            Case("ordinary"),
            Case("before", {"catcher": "steel", "mass": 0.0002}, {"mass": 0.0005}),
            Case("bedded", {"crust": 0.003, "ground": "wet soil"}),
            Case("US", {"mass": 0.0001, "ground": "air gap"}, {"crust": 0.001}, US),
            Case("time", {"shown": "time"}),
            Case("time, before", {"shown": "time", "catcher": "stone"}, {"mass": 0.0005}),
        ),
    ),
    "KeepStrip": Row(
        "WillItKeep",
        keeps,
        (
            Case("ordinary"),
            Case("before", {"burn_in_depth": 0.01}, {"diameter": 0.010}),
            Case("little", {"burn_in_depth": 0.0005, "diameter": 0.006}),
            Case("hot", {"temperature_heap": 750.0, "diameter": 0.03}, {}, US),
        ),
    ),
    "WattsPicture": Row(
        "MeasureWatts",
        gauges,
        (
            Case("ordinary"),
            Case("timed", {"timed": True, "smoke_time": 25.0, "steady": False}),
            Case("before", {"scale_pull": 30.0, "force": 120.0, "diameter": 0.03}, {"force": 40.0}),
            Case("hardly", {"scale_pull": 4.0, "block_radius": 0.006, "timed": True}),
            Case("US", {"stroke_length": 0.8, "block_friction": 0.05}, {"timed": True}, US),
        ),
    ),
    "RaceLanes": Row(
        Racing,
        race_lanes,
        (
            Case("nobody has bet"),
            Case("running", {"time": 20.0}),
            Case("over", {"kits": "press", "time": np.inf}),
            Case("never", {"kits": "press", "time": np.inf, "left": 10.0}),
        ),
    ),
    "RacePicture": Row(
        partial(Racing, True),
        race_picture,
        (
            Case("nobody has bet"),
            Case("running", {"time": 20.0}),
            Case("US", {"kits": "press", "time": np.inf}, None, US),
        ),
    ),
    "CourtDots": Row(
        Voting,
        court_dots,
        (
            Case("nobody has voted", {"voted": False}),
            Case("both ways", {"saying": "whole_weight", "force": 40.0}),
            Case("a strong one", {"saying": "steady", "population": "strong_practised"}),
            Case("keeping", {"saying": "foil_under"}, None, US),
        ),
    ),
    "DoubtBars": Row(
        measuring,
        doubt_bars,
        (
            Case("ordinary"),
            Case("ruler", {"force": 80.0}, start={"measured": "diameter"}),
            Case("scale", {"speed": 1.2}, {"speed": 0.8}, start={"measured": "force"}),
            Case("US", {"diameter": 0.012}, None, US),
        ),
    ),
}
CASES = [
    pytest.param(figure, row, case, id=f"{figure}: {case.name}")
    for figure, row in ROWS.items()
    for case in row.cases
]


def kinds(of):
    for kind in of.__subclasses__():
        yield kind
        yield from kinds(kind)


# ---- the tests ---------------------------------------------------------------------------------


def test_every_picture_has_a_row():
    for module in pkgutil.walk_packages(figures.__path__, f"{figures.__name__}."):
        importlib.import_module(module.name)
    ours = {kind.__name__ for kind in kinds(Sketch) if kind.__module__.startswith("fireheat.")}
    assert ours == set(ROWS)


@pytest.mark.parametrize(
    "case",
    [
        Case("ordinary"),
        Case("before", {"diameter": 0.014}, {"diameter": 0.022, "force": 50.0}),
        Case("runs off", {"diameter": 0.014, "force": 30.0}),
    ],
)
def test_the_readers_own_evenings_stand_as_a_bracket_under_the_explorers_lane(case):
    rows = "".join(f"{70 + 6 * n},14,60,ember\n" for n in range(5))
    head = "time (s),spindle diameter (mm),downward force (N),ended with\n"
    our_log.hand_over("ours.csv", (head + rows).encode())
    try:
        shown = show("Explorer", case)
        meant = explorer(shown)
        assert "your evenings" in meant.marks
        compare_marks(shown.sketch, meant)
        compare_words(shown.sketch, meant)
        no_text_lies_on_another(shown.sketch)
    finally:
        our_log.clear()


@pytest.mark.parametrize(("figure", "row", "case"), CASES)
def test_what_is_drawn_and_written_is_what_the_model_says(figure, row, case):
    shown = show(row.panel, case)
    assert type(shown.sketch).__name__ == figure
    meant = row.meant(shown)
    compare_marks(shown.sketch, meant)
    compare_words(shown.sketch, meant)
    no_text_lies_on_another(shown.sketch)
    figure = shown.sketch.figure
    labels = {label for axes in figure.axes for label in (axes.get_xlabel(), axes.get_ylabel())}
    assert labels | {text.get_text() for text in figure.texts} == meant.still | {""} & labels


@pytest.fixture
def made(monkeypatch):
    """Note of each sketch what it was made of and what it was last asked to show."""
    noted: dict[Sketch, dict] = {}

    def note(kind, method):
        done = getattr(kind, method)

        def noting(self, *args, **kwargs):
            if type(self) is kind:
                noted.setdefault(self, {})[method] = args, kwargs
            return done(self, *args, **kwargs)

        monkeypatch.setattr(kind, method, noting)

    for kind in kinds(Sketch):
        for method in ("__init__", "update"):
            note(kind, method)
    return noted


LIGHT_ONLY = set(style.TOKENS["light"].values()) - set(style.TOKENS["dark"].values())


@pytest.mark.parametrize(("figure", "row"), ROWS.items())
def test_nothing_of_the_light_theme_is_left_in_the_dark(figure, row, made):
    sketch = show(row.panel, row.cases[0]).sketch
    args, kwargs = made[sketch]["__init__"]
    with style.theme("dark"):
        dark = type(sketch)(*args, **kwargs)
        args, kwargs = made[sketch]["update"]
        dark.update(*args, **kwargs)
        shown = pixels(dark.png())
    used = [drawn.color for drawn in dark.drawn().values() if isinstance(drawn.color, str)]
    used += [color for _, _, _, color, *_ in dark.letters]
    assert not {color.upper() for color in used} & LIGHT_ONLY
    assert not np.any(np.all(shown == rgb(style.TOKENS["light"]["PAPER"]), axis=-1))
    paper = np.all(shown == rgb(style.TOKENS["dark"]["PAPER"]), axis=-1)
    assert paper.mean() > 0.2


ENDS = {"even": Scale(-5.0, 20.0), "factors": Scale(0.3, 250.0, factors=True)}


@pytest.mark.parametrize("x", ENDS)
@pytest.mark.parametrize("y", ENDS)
def test_a_frame_places_values_where_matplotlib_does_and_reads_them_back(x, y):
    sketch = Sketch(300, 200)
    bare, dressed = (Frame(sketch, (40, 30, 270, 160), ENDS[x], ENDS[y]) for _ in range(2))
    dressed.draw_axes()
    values = np.array([ENDS[x].value(UNIT.value(0.3)), 7.0]), np.array([5.0, ENDS[y].high])
    for frame in (bare, dressed):
        places = frame.across(values[0]), frame.down(values[1])
        np.testing.assert_allclose(np.column_stack(places), at(dressed, *values), atol=1e-6)
        np.testing.assert_allclose(frame.values(*places), values, rtol=1e-9)
        frame.rescale(x=Scale(1.0, 3.0, ENDS[x].factors))
        assert frame.values(*places)[0] != pytest.approx(values[0])
        frame.rescale(x=ENDS[x])


@pytest.mark.parametrize("box", [(10, 20, 40, 31.4), (-8, 5, 20, 60), (100.5, 70.2, 140, 99)])
def test_a_box_is_painted_where_it_is_read_back(box):
    sketch = Sketch(120, 90)
    sketch.fill(*box, style.EMBER, name="box")
    painted = np.all(pixels(sketch.png()) == rgb(style.EMBER), axis=-1)
    box = sketch.drawn()["box"]
    assert box.color == style.EMBER.lower()
    (left, right), (bottom, top) = box.x, box.y
    inside = np.zeros((90, 120), bool)
    inside[int(top) : int(bottom), int(left) : int(right)] = True
    np.testing.assert_array_equal(painted, inside)


def test_pixels_are_pasted_where_and_as_they_are_read_back():
    sketch, colors = Sketch(120, 90), np.arange(20 * 30 * 3).reshape(20, 30, 3) % 256
    sketch.paste(colors, 11, 7, name="field")
    field = sketch.drawn()["field"]
    (left, right), (bottom, top) = (ends.astype(int) for ends in (field.x, field.y))
    np.testing.assert_array_equal(pixels(sketch.png())[top:bottom, left:right], field.color)
    assert np.all(np.delete(pixels(sketch.png()), range(left, right), axis=1) == 255)


@pytest.mark.parametrize("align", ["left", "center", "right"])
@pytest.mark.parametrize("place", [(60, 45), (2, 1), (119, 300)])
def test_letters_are_stamped_where_they_are_read_back(align, place):
    sketch = Sketch(120, 90)
    sketch.write("Hxg", *place, align=align, size=16)
    (word,) = sketch.written()
    rows, columns = np.nonzero(np.any(pixels(sketch.png()) < 200, axis=-1))
    left = word.x - {"left": 0, "center": 0.5, "right": 1}[align] * word.width
    assert (columns.min(), columns.max() + 1) == pytest.approx((left, left + word.width), abs=3)
    assert (rows.min() + rows.max() + 1) / 2 == pytest.approx(word.y, abs=3)


def test_what_is_hidden_is_not_drawn_and_what_is_drawn_is_read_from_its_artist():
    sketch = Sketch(120, 90)
    axes = Frame(sketch, (0, 0, 120, 90), Scale(0, 12), Scale(0, 9)).draw_axes()
    line = sketch.add(axes.plot([], [], color=style.INK, label="line")[0])
    line.set_data([1, 2], [3, 4])
    np.testing.assert_allclose(sketch.drawn()["line"][1:3], [[1, 2], [3, 4]])
    line.set_visible(False)
    assert not sketch.drawn()


PLAIN = [param for param in CASES if param.values[2].name in ("ordinary", "US")]


@pytest.mark.parametrize(("figure", "row", "case"), PLAIN)
def test_numbers_beside_axes_say_where_they_stand(figure, row, case):
    sketch = show(row.panel, case).sketch
    for axes in sketch.figure.axes:
        for axis in (axes.xaxis, axes.yaxis) if axes.axison else ():
            low, high = sorted(axis.get_view_interval())
            for place, label in zip(axis.get_ticklocs(), axis.get_ticklabels(), strict=True):
                if low <= place <= high and label.get_text() == NEVER:
                    assert place > TOO_LONG
                elif low <= place <= high and label.get_text():
                    assert number(label.get_text()) == pytest.approx(place, abs=1e-9)


def number(words):
    """Number of a tick's words, in the axis's unit; minutes stand on an axis of seconds."""
    digits, _, unit = words.replace(",", "").replace("\N{MINUS SIGN}", "-").partition(" ")
    return float(Fraction(digits)) * (minute if unit == "min" else 1)


@pytest.mark.parametrize(("figure", "row"), ROWS.items())
def test_what_was_shown_before_leaves_no_trace(figure, row):
    first, *others = (case for case in row.cases if case.units == METRIC and not case.start)
    panel = maker(row.panel)()
    for case in others[:3]:
        panel.keep_before()
        panel.set(**case.moved)
    panel.drop_before()
    panel.reset()
    panel.set(**first.moved)
    used = panel.png
    show(row.panel, first)
    fresh = maker(row.panel)()
    fresh.set(**first.moved)
    assert used == fresh.png


def compare_marks(sketch, meant):
    drawn = sketch.drawn()
    moving = sum(artist.get_visible() for artist in sketch.moving)
    fields = {name for name in meant.fields if name not in meant.marks}
    assert len(drawn) - len(fields) == moving + len(sketch.blocks)  # no name stands for two things
    assert set(drawn) - fields == set(meant.marks)
    for name, (points, color) in meant.marks.items():
        there = at(drawn[name].frame, drawn[name].x, drawn[name].y)
        np.testing.assert_allclose(there, points, rtol=0, atol=HALF, err_msg=name)
        assert color is None or drawn[name].color == to_hex(color), name
    for name, check in meant.fields.items():
        check(drawn[name])


def compare_words(sketch, meant):
    written = [word for word in sketch.written() if word.text]
    written = joined(written) if meant.counted else written
    needed = Counter(text.words for text in meant.texts if not text.perhaps)
    allowed = Counter(text.words for text in meant.texts)
    found = Counter(word.text for word in written)
    assert needed <= found <= allowed, (needed - found, found - allowed)
    for word in written:
        places = [text for text in meant.texts if text.words == word.text]
        near = min(places, key=lambda text: abs(text.x - word.x) + abs(text.y - word.y))
        assert word.align == near.align, word
        before = {"left": 0, "center": 0.5, "right": 1}[word.align] * word.width
        inside = np.clip(near.x, before, sketch.size[0] - word.width + before)
        assert word.x == pytest.approx(inside, abs=SLACK), (word, near)
        assert word.y == pytest.approx(near.y, abs=near.slack), (word, near)
        meant.texts.remove(near)


LEAST_LETTERS = 14  # pt: 15 px where a picture is 640 wide, 20 where it is 860


def no_text_lies_on_another(sketch):
    """Letters are as large as agreed, and inside the picture each has its own place."""
    sizes = [size for *_, size, _ in sketch.letters]
    boxes = [(word.text, *word.box) for word in sketch.written() if word.text.strip()]
    for axes in sketch.figure.axes:
        for axis in (axes.xaxis, axes.yaxis) if axes.axison else ():
            texts = [axis.label, *axis.get_ticklabels()]
            low, high = sorted(axis.get_view_interval())
            for place, label in zip((low, *axis.get_ticklocs()), texts, strict=True):
                if label.get_text() and low <= place <= high:
                    boxes.append(still_box(sketch, label))
                    sizes.append(label.get_size())
    boxes += [still_box(sketch, text) for text in sketch.figure.texts]
    assert min(sizes, default=LEAST_LETTERS) >= LEAST_LETTERS
    width, height = sketch.size
    assert height <= 480
    for text, left, top, right, bottom in boxes:
        assert -1 <= left < right <= width + 1, text
        assert -4 <= top < bottom <= height + 4, text
    for (one, *first), (other, *second) in combinations(boxes, 2):
        deep = np.minimum(first[2:], second[2:]) - np.maximum(first[:2], second[:2])
        assert not np.all(deep > TOUCH), (one, other, deep)


TOUCH = (1.0, 5.0)  # pixels across and down: a box is higher than most of its letters


def still_box(sketch, text):
    """A text of matplotlib's with its box, in pixels from the top left."""
    box, height = text.get_window_extent(), sketch.size[1]
    return text.get_text(), box.x0, height - box.y1, box.x1, height - box.y0


def joined(words):
    """Digits stamped one by one in a row read as one number."""
    single = [word for word in words if len(word.text) == 1 and word.text in "0123456789.,"]
    rows: dict[int, list] = {}
    for word in single:
        rows.setdefault(round(word.y / 8), []).append(word)
    numbers = []
    for row in rows.values():
        row.sort(key=lambda word: word.x)
        digit = 0.636 * 14 * 96 / 72
        ends = row[-1].x + (digit if row[-1].text.isdigit() else digit / 2) / 2
        text = "".join(word.text for word in row)
        numbers.append(row[0]._replace(text=text, x=ends, align="right"))
    return [word for word in words if word not in single] + numbers


def test_the_faults_put_in_by_hand_can_all_still_be_put_in():
    assert len(list(chosen())) == len(CHOSEN)
