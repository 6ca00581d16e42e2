"""A long walk through every panel: whatever a reader does, each step says what can be.

Moves are drawn from a seed, so that a red walk is red again. A new panel, card, question or
derivation joins by itself; a new kind of control has to be named in ``touch``.

    FIREHEAT_WALK=10000 python -m pytest tests/test_walk.py

takes so many steps through each. On every step all words are read, on every tenth the picture is
painted as well: painting takes longer than all the rest.
"""

import html
import importlib
import inspect
import math
import os
import pkgutil
import random
import re
import sys
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from fractions import Fraction
from itertools import count

import ipywidgets as widgets
import numpy as np
import pytest
from reading import alt, read

from fireheat import InputError, derivation, estimates, panels, spread, words
from fireheat.bands import Band
from fireheat.coach import moves, smoke_now
from fireheat.data import table
from fireheat.estimates import wood_ends
from fireheat.figures import explorer, heat_bar
from fireheat.figures.sketch import Sketch
from fireheat.heat import wear_course
from fireheat.heat.contact import Contact
from fireheat.panels import Stepper, base, heat_view, ladder, stroke_map, woods
from fireheat.panels.base import Panel, Voice
from fireheat.panels.controls import Choice, Slider
from fireheat.panels.court import Docket
from fireheat.panels.front import Doors
from fireheat.panels.practice import TapPad
from fireheat.panels.race import RaceKeys
from fireheat.panels.smoke_now import SmokeClock
from fireheat.panels.stage import Stage
from fireheat.panels.stopwatch import Watches

STEPS = int(os.environ.get("FIREHEAT_WALK", "120"))
A_STORY = STEPS // 4  # of many stories that one panel tells, each
PAINTED = 10  # one step in so many
DRAWS = 24  # at each step, where readers have some hundred
EVEN = 1e-9  # how far off what is ordered may be, relatively: the last digits
SUMS = 1e-3  # how far off what adds up may be, relatively: as in the tests of the solvers


# ---- where walks start --------------------------------------------------------------------------


def derivations():
    """Every function of the derivations that gives steps."""
    for found in pkgutil.iter_modules(derivation.__path__, "fireheat.derivation."):
        for name, thing in vars(importlib.import_module(found.name)).items():
            own = inspect.isfunction(thing) and thing.__module__ == found.name
            if own and name.endswith("_steps") and name[0] != "_":
                yield pytest.param(Stepper, thing, id=f"Stepper-{name}")


def starts():
    """Every panel; where it tells one story of many, with each of them."""
    stories = {"WhatIf": "card", "Predict": "predict", "SelfCheck": "check"}
    for name in panels.__all__:
        if name in stories:
            for key in table("lessons")[stories[name]]:
                yield pytest.param(getattr(panels, name), key, id=f"{name}-{key}")
        elif name == "Stepper":
            yield from derivations()
        else:
            yield pytest.param(getattr(panels, name), None, id=name)


STARTS = list(starts())


def made(panel, start):
    if start is None:
        return panel()
    return panel(start() if callable(start) else start)


# ---- what is said -------------------------------------------------------------------------------

FLAWS = {
    "no number": r"\b(nan|inf|NaN|Infinity|None)\b",
    "minus nothing": r"(?<![\w.])[-−]0(?:\.0+)?(?!\d|\.\d|½)",
    "powers of ten": r"\d[eE][-+]?\d",
    "an empty list": r":\s*(?:[.;,]|$)|,\s*[.;,]|\(\s*\)|\[\s*\]|\{\s*\}",
    "twice a point": r"\.\.(?!\.)",
    "a limit of a limit": r"(at least|sooner than|about|after|floor:) (under|over) \d",
    "one time": r"(?<!to )(?<![\d.,])1 times",
    "from one number to the same": r"(?<![\d.,])([\d.,]+\d) to \1(?![\d.,])",
    "never beside a time": r"never (\d|after)",
    "code": r"\b(array|np\.\w+|Band|function)\(|<\w+ object|\bat 0x",
}
UNITS = r"(s|min|N|W|mm|cm|m|m/s|in|ft/s|lbf|lb|kg|g|J|°C|°F|%|kW/m²|W/in²|N mm|lbf in|rpm|rad/s)"
TORN = re.compile(rf"[\d½] {UNITS}(?![\w/])")  # a line could end between a number and its unit
SOUND = re.compile(r' src="data:[^"]*"')
# Where a line ends in a colon, something follows that is no word.
OPENS = re.compile(r":$")


def told(panel):
    """Every text on the screen, by where it stands; what is laid out by LaTeX is left out."""
    for place, widget in enumerate(everything(panel)):
        where = f"{type(widget).__name__} {place}"
        if isinstance(widget, widgets.HTML | widgets.HTMLMath):
            face, picture, _ = widget.value.partition("<img")
            face = re.sub(r"\$\$.*?\$\$", " ", SOUND.sub("", face), flags=re.DOTALL)
            yield where, read(face)
            if picture:
                words = re.search(r'<img [^>]*alt="([^"]*)"', widget.value)
                yield f"alt of {where}", html.unescape(words.group(1))
        elif isinstance(widget, Voice):
            yield where, widget.text
        elif getattr(widget, "description", ""):
            yield f"name of {where}", widget.description
    yield "sentence", panel.sentence()


def everything(box):
    """All widgets, from the outside in."""
    yield box
    for child in getattr(box, "children", ()):
        yield from everything(child)


SIZES = {"s": 1.0, "min": 60.0, "%": 0.01, "times": 1.0}


def one_number(end):
    """What one number looks like, under a name of its own, with a unit of its own or without."""
    number = rf"(?P<{end}>(?:\d+ )?\d+/\d+|[-−+]?\d[\d,]*(?:\.\d+)?½?|never)"
    return rf"{number}(?: (?P<{end}_unit>s|min|%|times)(?!\w))?"


RANGE = re.compile(f"(?P<under>under )?{one_number('low')} to (?:over )?{one_number('high')}")
LIKELY = re.compile(f"most likely (?:about )?{one_number('low')}")
SHARES = re.compile(r"[Hh]eat (?:is in|goes to): ([^.]+)\.")


def size(found, end, other=None):
    """Read one number: in seconds, as a share, or in whatever both ends are told in."""
    text, unit = found[end], found[f"{end}_unit"] or (found[f"{other}_unit"] if other else None)
    if text == "never":
        return math.inf
    if "/" in text:
        return float(sum(map(Fraction, text.split())))
    half = 0.5 if text.endswith("½") else 0.0
    number = float(text.rstrip("½").replace(",", "").replace("−", "-"))
    return (number + half) * SIZES.get(unit, 1.0)


def ranges(text):
    """Both ends of every range in a text."""
    for found in RANGE.finditer(text.replace("\xa0", " ")):
        low = 0.0 if found["under"] else size(found, "low", "high")
        yield low, size(found, "high", "low"), found[0]


def flaws(text):
    """What no text may hold."""
    for what, pattern in FLAWS.items():
        found = re.search(pattern, OPENS.sub("", text))
        if found:
            yield f"{what}: {text[max(0, found.start() - 40) : found.end() + 10]!r}"
    for low, high, said in ranges(text):
        if low > high:
            yield f"upside down: {said!r}"
    for parts in SHARES.findall(text):
        whole = sum(map(int, re.findall(r"(\d+) %", parts)))
        if whole != 100:
            yield f"parts make {whole} %: {parts!r}"


TILE = re.compile(
    r'fh-what">(.*?)</span><b>(.*?)</b>(?:<span[^>]*>(.*?)</span>)?<small>(.*?)</small>'
)


def tile_flaws(face):
    """Whether every tile has a value, and whether what is likely lies in its band."""
    for what, value, before, note in TILE.findall(face):
        value, note = read(value), read(note)
        if not value or read(before) == "before:":
            yield f"an empty tile: {what}"
        for low, high, said in ranges(value):
            for likely in LIKELY.finditer(note):
                if not low <= size(likely, "low") <= high:
                    yield f"{what}: {likely[0]!r} is not in {said!r}"
        # A clause of its own: what follows tells of other numbers, with ranges of their own.
        for low, high, said in ranges(note.partition("band ")[2].partition(";")[0]):
            for number in re.findall(r"[-−+]?\d[\d,]*(?:\.\d+)?", value)[:1]:
                share = 0.01 if "%" in value else 1.0
                middle = share * float(number.replace(",", "").replace("−", "-"))
                if not low <= middle <= high:
                    yield f"{what}: {value!r} is not in {said!r}"


# ---- what is answered ---------------------------------------------------------------------------


def inside(answer):
    """Yield an answer and all that it holds, but for the numbers in arrays."""
    yield answer
    if isinstance(answer, Mapping):
        parts = answer.values()
    elif is_dataclass(answer):
        parts = (getattr(answer, field.name) for field in fields(answer))
    else:
        parts = answer if isinstance(answer, tuple) else ()
    for part in parts:
        yield from inside(part)


def below(low, high):
    """Whether one number, or each, is at most the other; but for the solvers' last digits."""
    low, high = np.asarray(low, float), np.asarray(high, float)
    slack = np.where(np.isfinite(high), EVEN * np.abs(high), 0.0)
    return bool(np.all(low <= high + slack))


def soonest(sooner):
    """Return what an ember's band may not go below, at each of its ends.

    A bound is for exactly the numbers set. The low end of an ember's band is of lighter wood, whose
    dust takes less energy by as much, and may lie so much under the bound; nothing else may.
    """
    if isinstance(sooner, Band):
        return sooner
    lighter = wood_ends()["density"].flat[0]
    return Band(lighter * np.asarray(sooner), sooner, sooner)


def answer_flaws(answer):
    """What contradicts itself in an answer: order of times and bands, sums of heat."""
    for part in inside(answer):
        if isinstance(part, Band) and np.asarray(part.low).dtype.kind in "iufb":
            falling = np.asarray(part.low).dtype.kind == "b"  # in time soon, but not late
            ends = [*part][::-1] if falling else [*part]
            if not (below(ends[0], ends[1]) and below(ends[1], ends[2])):
                yield f"a band upside down: {part}"
        for first, then in (("smoke", "ember"), ("bound", "ember"), ("bounds", "embers")):
            sooner, later = getattr(part, first, None), getattr(part, then, None)
            if sooner is None or not isinstance(later, Band):
                continue
            if not all(map(below, soonest(sooner), later)):
                yield f"{first} {sooner} after {then} {later}"
        yield from heat_flaws(part)


def heat_flaws(part):
    """Whether all heat that was made is somewhere."""
    if hasattr(part, "heat") and hasattr(part, "never"):  # an estimate, at its ember or later
        likely = part.ember.likely
        made = part.power * (likely if math.isfinite(likely) else 600.0)
        if sum(part.heat.values()) != pytest.approx(made, rel=SUMS, abs=1e-9):
            yield f"heat {part.heat} makes no {made} J"
        if min(part.heat.values()) < 0:
            yield f"less than no heat: {part.heat}"
    if hasattr(part, "stored") and hasattr(part, "power_in"):  # a run
        there = part.stored.sum(axis=1) + part.lost.sum(axis=1) + part.dust
        if hasattr(part, "smoke") and not np.allclose(there, part.power * part.time, rtol=SUMS):
            yield f"heat adds up to {there}"
        if (part.dust < 0).any():
            yield "less than no dust"


# ---- what anybody can do ------------------------------------------------------------------------

SILENT = (widgets.Box | widgets.HTML | widgets.HTMLMath | widgets.FileUpload) | (
    Voice | RaceKeys | Watches | Doors | SmokeClock
)


def somewhere(chance, low, high):
    """A number between two ends, at one of them, or well beyond."""
    wide = high - low
    return chance.choice(
        [low, high, low - chance.random() * wide, high + chance.random() * wide]
        + 4 * [chance.uniform(low, high)]
    )


def tapped(chance):
    """Times of taps as a browser sends them: even, uneven, few or many."""
    beat, uneven = chance.uniform(0.15, 2.0), chance.choice([0.0, 0.05, 0.3, 0.9])
    gaps = [beat * chance.uniform(1 - uneven, 1 + uneven) for _ in range(chance.randrange(30))]
    if gaps and chance.random() < 0.3:
        gaps[-1] *= 2  # a tap was missed
    return [0.0, *np.cumsum(gaps)] if gaps or chance.random() < 0.5 else []


def stops(chance, slider):
    """A place of a slider: a stop, an end, or typed in between or beyond."""
    low, high = slider.min, slider.max
    whole = low + slider.step * chance.randrange(int((high - low) / slider.step + 1.5))
    return chance.choice([whole, whole, somewhere(chance, low, high)])


def run_on(stage, chance):
    """Let the clock go on for a while, as the browser would tell it."""
    end = max(course["end"] for course in stage.courses)
    if stage.running:
        stage.at = min(end, stage.at + chance.uniform(0.0, 60.0))
        if stage.at == end:
            stage.running, stage.ended = False, True
    return f"the clock tells {stage.at:g} s"


def touch(widget, chance):
    """Use a control as a reader does, and say what was done."""
    if isinstance(widget, widgets.Button):
        if not widget.disabled:
            widget.click()
        return f"press {widget.description!r}"
    if isinstance(widget, widgets.ToggleButton | widgets.Checkbox):
        value = not widget.value
    elif isinstance(widget, widgets.FloatLogSlider):
        value = widget.base ** min(widget.max, max(widget.min, stops(chance, widget)))
    elif isinstance(widget, widgets.FloatSlider):
        value = stops(chance, widget)
    elif isinstance(widget, widgets.Dropdown | widgets.RadioButtons | widgets.ToggleButtons):
        if widget.disabled:
            return "leave it"
        widget.index = chance.randrange(len(widget.options))
        return f"choose {widget.value}"
    elif isinstance(widget, widgets.Play):
        widget.playing = chance.random() < 0.5
        value = chance.randint(widget.min, widget.max)
    elif isinstance(widget, widgets.BoundedIntText):
        value = chance.randint(widget.min, 30)
    elif isinstance(widget, widgets.Textarea | widgets.Text):
        value = chance.choice(["", "the spot is smaller"])
    elif isinstance(widget, widgets.BoundedFloatText):
        value = chance.choice([0.0, 1e-3, 1.0, somewhere(chance, 0.0, 100.0), 1e9])
    elif isinstance(widget, Stage):
        return run_on(widget, chance)
    elif isinstance(widget, Docket):
        widget.chosen = chosen = chance.choice(widget.rows)["key"] if widget.rows else ""
        return f"call {chosen}"
    else:
        assert isinstance(widget, TapPad), f"nobody knows how to use {widget!r}"
        value = tapped(chance)
    widget.value = value
    return f"move {getattr(widget, 'description', '') or type(widget).__name__} to {value}"


def anything(control, chance):
    """A value that a control may take, or may refuse as out of its range."""
    if isinstance(control, Slider):
        row = control.row
        low, high = (row.low, row.high) if math.isfinite(row.high - row.low) else row.slider
        return chance.choice([somewhere(chance, *row.slider), somewhere(chance, low, high)])
    if isinstance(control, Choice):
        return chance.choice([value for _, value in control.widget.options])
    return tapped(chance)


NOTHING = (math.nan, math.inf, -math.inf, "", "much", None, True, [], [1.0, 2.0], 1j, {}, object())


def wished(panel, chance):
    """Values for some controls by name, right or wrong."""
    keys = chance.sample(sorted(panel.control), chance.randint(1, len(panel.control)))
    if chance.random() < 0.6:
        keys = keys[:1]
    if panel.view and chance.random() < 0.5:  # what is worked out already, looked at in another way
        keys = [chance.choice(panel.view)]
    given = {key: anything(panel.control[key], chance) for key in keys}
    if chance.random() < 0.2:
        given[chance.choice([keys[0], "nobody"])] = chance.choice(NOTHING)
    return given


def ask(panel, given):
    """Set controls by name; return what was done, and what is wrong afterwards."""
    before = panel.state, panel.sentence()
    try:
        said = panel.set(**given)
    except InputError:
        stays = (panel.state, panel.sentence()) == before
        return f"refuse {given}", [] if stays else ["a refused value moved it"]
    return f"set {given}", [] if said == panel.sentence() else ["set said something else"]


def corners(panel):
    """Each slider at the ends of what may be set, where there is no force, no speed, no water.

    Then all at once at the low ends of their tracks, at the high ends, and at what is best.
    """
    controls = getattr(panel, "control", {})
    start = {key: control.start for key, control in controls.items()}
    tracks = {key: one.row.slider for key, one in controls.items() if isinstance(one, Slider)}
    for key in tracks:
        for end in (controls[key].row.low, controls[key].row.high):
            yield start | {key: end}
    if tracks:
        best = {key: track[key not in LESS_IS_BETTER] for key, track in tracks.items()}
        for ends in (
            {k: t[0] for k, t in tracks.items()},
            {k: t[1] for k, t in tracks.items()},
            best,
        ):
            yield start | ends


LESS_IS_BETTER = ("diameter", "burn_in_depth", "moisture")


def step(panel, chance):
    """Do one thing; return it, and what was wrong with how it went."""
    if isinstance(panel, Panel) and chance.random() < 0.45:
        return ask(panel, wished(panel, chance))
    able = [one for one in everything(panel) if not isinstance(one, SILENT)]
    widget = chance.choice(able)
    before = getattr(panel, "state", None)
    try:
        done = touch(widget, chance)
    except InputError as refusal:  # two values that cannot be together, one of them set by name
        stays = panel.state == before
        return f"{refusal}", [] if stays else ["what was refused moved it"]
    shows = (getattr(panel, name, None) for name in ("units", "keep_button", "drop_button"))
    moved = widget in [*shows] and getattr(panel, "state", None) != before
    return done, ["what is only shown moved the state"] if moved else []


# ---- the walk -----------------------------------------------------------------------------------


class Watched:
    """A panel with what it answers and writes on its picture from one step to the next."""

    def __init__(self, panel):
        self.panel, self.answers, self.turn = panel, [], count()
        if isinstance(panel, Panel):
            answer = panel.answer
            panel.answer = lambda state: self.keep(answer(state))

    def keep(self, answer):
        self.answers.append(answer)
        return answer

    def complaints(self):
        """What is wrong with what is shown now."""
        panel, answers = self.panel, self.answers[:]
        self.answers.clear()
        for where, text in told(panel):
            yield from (f"{where}: {flaw}" for flaw in flaws(text))
        if not repr(panel) == str(panel) == panel.sentence() != "":
            yield "repr is another sentence"
        if isinstance(panel, Panel):
            yield from self.of_a_panel()
        for answer in answers:
            yield from answer_flaws(answer)

    def of_a_panel(self):
        panel = self.panel
        yield from tile_flaws(panel.face.value.replace("\xa0", " "))
        effects = [one.effect.value for one in panel.control.values() if hasattr(one, "effect")]
        for text in map(html.unescape, (panel.face.value, *effects)):
            yield from (f"torn: {found[0]!r}" for found in TORN.finditer(SOUND.sub("", text)))
        if alt(panel) != panel.voice.text or not panel.sentence().endswith(panel.voice.text):
            yield f"picture says {alt(panel)!r}, the line below it {panel.voice.text!r}"
        for key, control in panel.control.items():
            if isinstance(control, Slider):
                here = control.row.shown(control.value, panel.system), control.widget.value
                if control.row.in_parts(panel.system):  # it stands at a mark of a rule
                    seen = [words.inch_words(one, control.row.parts) for one in here]
                else:
                    seen = [format(one, control.widget.readout_format) for one in here]
                if seen[0] != seen[1]:
                    yield f"{key} is {here[0]}, but its slider stands at {here[1]}"


@pytest.fixture(autouse=True, scope="module")
def few_draws():
    """Draw what is not known a few times only: ends of bands move, the words around them do not.

    What is kept of few draws is forgotten before other tests ask the same.
    """
    check = spread.check_whole

    def fewer(name, value, **least):
        return min(check(name, value, **least), DRAWS if name == "draws" else value)

    with pytest.MonkeyPatch.context() as patch:
        for drawing in (spread, moves):
            patch.setattr(drawing, "check_whole", fewer)
        patch.setattr(smoke_now, "_DRAWS", DRAWS)
        forget_answers()
        yield
    forget_answers()


def forget_answers():
    """Empty whatever keeps answers of models."""
    rooms = ("answers", "coach", "trials", "lessons", "panels", "spread")
    for name, module in list(sys.modules.items()):
        if name.startswith(tuple(f"fireheat.{room}" for room in rooms)):
            for thing in vars(module).values():
                if inspect.isfunction(getattr(thing, "__wrapped__", None)) and hasattr(
                    thing, "cache_clear"
                ):
                    thing.cache_clear()


@pytest.fixture(autouse=True)
def brush(monkeypatch):
    """Paint one picture in ten; read what is written on all of them."""
    paint, turn, written = Sketch.png, count(), []

    def png(sketch, *scale):
        written.extend(text for text, *_ in sketch.letters)
        return b"" if next(turn) % PAINTED else paint(sketch, *scale)

    monkeypatch.setattr(Sketch, "png", png)
    return written


def walk(panel, start, brush, steps=None):
    """Walk through a panel; yield each step with all that is wrong after it."""
    steps = steps or (STEPS if start is None else A_STORY)
    chance = random.Random(f"{panel.__name__} {start}")
    brush.clear()
    watched = Watched(made(panel, start))
    yield "start", [*watched.complaints()]
    for number, given in enumerate([*corners(watched.panel), *[None] * steps], start=1):
        done, wrong = ask(watched.panel, given) if given else step(watched.panel, chance)
        wrong += watched.complaints()
        wrong += [f"on the picture: {flaw}" for text in brush for flaw in flaws(text)]
        brush.clear()
        yield f"step {number}: {done}", wrong


@pytest.mark.parametrize(("panel", "start"), STARTS)
def test_every_step_of_a_walk_says_what_can_be(panel, start, brush):
    for done, wrong in walk(panel, start, brush):
        assert wrong == [], done


# ---- faults put back, one after the other -------------------------------------------------------


def minus_nothing(monkeypatch):
    """A rounding error's worth of dust less than none, as a share."""
    monkeypatch.setattr(heat_view, "_dust", lambda answer: f"{-2e-14:.0f} %")


def powers_of_ten(monkeypatch):
    monkeypatch.setattr(stroke_map, "number_words", lambda watts: f"{watts:.2g}")


def share_of_nothing(monkeypatch):
    def dust(answer):
        heat = answer.story.heat(answer.time)
        with np.errstate(invalid="ignore"):
            share = np.divide(heat["dust_and_water"], sum(heat.values()))
        return f"{100 * share:.0f} %"

    monkeypatch.setattr(heat_view, "_dust", dust)


def empty_list(monkeypatch):
    monkeypatch.setattr(
        explorer, "where_words", lambda opening, heat: f"{opening}: {heat_bar.heat_words(heat)}."
    )


def said_backwards(monkeypatch):
    monkeypatch.setattr(woods, "band_words", lambda band: words.band_words([*band][::-1]))


def answered_backwards(monkeypatch):
    answer = panels.Strokes.answer

    def swapped(panel, state):
        found = answer(panel, state)
        ember = Band(*[*found.times.ember][::-1])
        return found._replace(times=replace(found.times, ember=ember))

    monkeypatch.setattr(panels.Strokes, "answer", swapped)


def unlike_its_picture(monkeypatch):
    picture = base.picture
    monkeypatch.setattr(
        base, "picture", lambda png, words, width: picture(png, words.upper(), width)
    )


def heat_lost(monkeypatch):
    soaked = Contact.soaked
    monkeypatch.setattr(
        Contact, "soaked", lambda *args, **given: tuple(0.99 * q for q in soaked(*args, **given))
    )


def heat_less_than_none(monkeypatch):
    def heat(*args, **given):
        spindle, board, air = wear_course.wearing_heat(*args, **given)
        return wear_course.WearHeat(-1e-6, board + spindle + 1e-6, air)

    monkeypatch.setattr(estimates, "wearing_heat", heat)


def ember_too_far_under_its_bound(monkeypatch):
    answer = panels.Strokes.answer

    def sooner(panel, state):
        found = answer(panel, state)
        smoke, ember, bound = found.times.smoke, found.times.ember, found.times.bound
        low = np.maximum(smoke.low, np.minimum(ember.low, 0.88 * np.asarray(bound)))
        ember = ember._replace(low=low)
        return found._replace(times=replace(found.times, ember=ember))

    monkeypatch.setattr(panels.Strokes, "answer", sooner)


def moved_by_what_is_refused(monkeypatch):
    def set_them(panel, **values):
        for key, value in values.items():
            if key not in panel.control:
                raise InputError(f"no control {key}")
            panel.control[key].value = value
        return panel.sentence()

    monkeypatch.setattr(base.Panel, "set", set_them)


def empty_tile(monkeypatch):
    monkeypatch.setattr(ladder, "_share", lambda answer: "")


FAULTS = [
    (minus_nothing, panels.HeatView),
    (powers_of_ten, panels.Strokes),
    (share_of_nothing, panels.HeatView),
    (empty_list, panels.Explorer),
    (said_backwards, panels.WoodsSideBySide),
    (answered_backwards, panels.Strokes),
    (unlike_its_picture, panels.WattLadder),
    (heat_lost, panels.Explorer),
    (heat_less_than_none, panels.Explorer),
    (ember_too_far_under_its_bound, panels.Strokes),
    (moved_by_what_is_refused, panels.WattLadder),
    (empty_tile, panels.WattLadder),
]


@pytest.mark.parametrize(("fault", "panel"), FAULTS)
def test_a_walk_sees_a_fault_that_is_put_back(fault, panel, brush, monkeypatch):
    fault(monkeypatch)
    assert any(wrong for _, wrong in walk(panel, None, brush))


def test_a_tile_whose_likely_time_is_outside_its_band_is_seen():
    tile = '<span class="fh-what">Ember</span><b>{}</b><small>{}</small>'
    assert [*tile_flaws(tile.format("15 to 41 s", "most likely about 30 s"))] == []
    assert [*tile_flaws(tile.format("15 to 41 s", "most likely 1½ min"))] != []
    assert [*tile_flaws(tile.format("20 J", "alone; band 12 to 30 J"))] == []
    assert [*tile_flaws(tile.format("40 J", "alone; band 12 to 30 J"))] != []
    assert [*tile_flaws(tile.format("20 J", "band 12 to 30 J; then 2 W (1 to 3 W)"))] == []
    assert [*tile_flaws(tile.format("", ""))] != []


@pytest.mark.parametrize(
    ("text", "sound"),
    [
        ("50 s to 2 min", True),
        ("under 0.1 s to 0.1 s", True),
        ("2 min to 50 s", False),
        ("2 min to never", True),
        ("73 % to 2.1 times", True),
        ("−79 to +270 J", True),
        ("+270 to −79 J", False),
        ("at −0.4 °C", True),
        ("at −0 °C", False),
        ("-0.0 mm", False),
        ("dust 30 %, air 70 %. Heat is in: dust 30 %, air 70 %.", True),
        ("Heat is in: dust 30 %, air 60 %.", False),
        ("Heat goes to: .", False),
        ("1.2e+02 W", False),
        ("None of it", False),
    ],
)
def test_flaws_of_words_are_seen_and_no_others(text, sound):
    assert ([*flaws(text)] == []) is sound
