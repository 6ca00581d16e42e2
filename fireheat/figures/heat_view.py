"""A cut through spindle and board: how hot it is where, where the heat is, what comes when."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.patches import PathPatch, Polygon
from matplotlib.path import Path

from ..heat.volumes import HeatRun
from ..quantities import US, default, from_si, to_si, unit_text
from ..words import TOO_LONG, time_words
from . import style
from .field import blend, filled, places, read_degrees, tint_key, tinted
from .heat_bar import heat_bar, where_words
from .lane import page
from .sketch import UNIT, Frame, Scale, Sketch
from .zones import Zones

_WIDTH, _HEIGHT = 800, 462
_TOP, _BOTTOM = 34, 314  # of a cut, in pixels
_ALONE, _PAIR = (4, 564), ((4, 280), (288, 564))  # left and right of cuts
_HALF, _ROOM = 0.015, 0.006  # m: shown to each side, and at least beside the spindle
_UP = 0.58  # of a cut's height is above the contact
_KEY = 588, 74, 608, 310  # the colour key: left, top, right, bottom
_BAR = 92, 356, 796, 388
_PLANK = 92, 404, 786, 418
_ISOTHERMS = {"degC": (50, 100, 200), "degF": (120, 200, 400)}
_BOILS = 1  # the middle one, which is drawn whole
_CHARRED = 10.0  # K short of the dust's temperature, or the zone would be a line
_FINE = 0.5  # dots of the field to a pixel, each way: it is smooth


@dataclass(frozen=True)
class Moment:
    """One moment of one try.

    Attributes
    ----------
    run : HeatRun
        Its heat, stopped at this moment.
    time : float
        How long it has been bowed. [s]
    contact : float
        Temperature of the contact. [K]
    radius : float
        Radius of the spindle. [m]
    ambient : float
        Temperature of the air. [K]
    smoke, ember : float
        Likely times of first smoke and ember; infinite if never. [s]
    window : float
        For how long it is watched. [s]
    title : str
        What the cut is called.
    heat : mapping
        Where the heat has gone by now: dust with its water, spindle, board, air. [J]
    """

    run: HeatRun
    time: float
    contact: float
    radius: float
    ambient: float
    smoke: float
    ember: float
    window: float
    title: str
    heat: Mapping[str, float]

    @property
    def stage(self) -> str:
        """Say how far it has come."""
        if self.time >= self.ember:
            return "ember: glows"
        if self.time < self.smoke:
            return "warming" if any(self.heat.values()) else "cold"
        return "first smoke" if self.time == self.smoke else "smokes"

    @property
    def char(self) -> float:
        """Temperature at which dust leaves, in kelvin."""
        return default("temperature_char")


class HeatSection(Sketch):
    """A cut, or two side by side, with isotherms and the charred zone; a bar of heat; a plank.

    Parameters
    ----------
    system : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, system: str):
        super().__init__(_WIDTH, _HEIGHT)
        self.unit = "degF" if system == US else "degC"
        self.alone = _Cut(self, "now", *_ALONE)
        self.left, self.right = (
            _Cut(self, name, *ends) for name, ends in zip(("now", "before"), _PAIR, strict=True)
        )
        self.bar, self.key = Frame(self, _BAR, UNIT), Frame(self, _KEY)
        self.plank = Frame(self, _PLANK, Scale(0.0, 1.0))
        self.shades = tint_key(_KEY[2] - _KEY[0], _KEY[3] - _KEY[1])
        with style.look():
            axes = page(self)
            left, top, right, bottom = _PLANK
            for high, token in ((top, "WOOD"), (bottom - 4, "WOOD_MID")):
                corners = [(left, high), (right, high), (right, bottom), (left, bottom)]
                axes.add_patch(Polygon(corners, color=style.color(token), lw=0))
            notch: Any = {"color": style.CHAR, "ms": 12, "mec": style.INK, "mew": 0.8}
            self.notches = self.add(axes.plot([], [], "v", ls="", label="notches", **notch)[0])
            now: Any = {"color": style.INK, "ms": 15, "mec": style.PAPER, "mew": 3}
            self.now = self.add(axes.plot([], [], "o", label="now on the plank", **now)[0])
            dot: Any = {"color": style.EMBER, "ms": 15, "mec": style.PAPER, "mew": 2.2}
            self.dot = self.add(axes.plot([], [], "o", label="it glows", **dot)[0])

    def update(self, here: Moment, before: Moment | None) -> str:
        """Move to a moment and return the sentence that says what is shown."""
        self.clear()
        for cut in (self.alone, self.left, self.right):
            cut.hide()
        if before is None:
            self.alone.show(here, half=_half(here), title=here.title)
        else:
            half = max(map(_half, (here, before)))
            self.left.show(here, half=half, title=f"now: {_short(here)}")
            self.right.show(before, half=half, title=f"before: {_short(before)}")
        self._stage(here)
        self._key(here)
        self.write("heat\nis in", 6, (_BAR[1] + _BAR[3]) / 2)
        heat_bar(here.heat, self.bar)
        self._plank(here)
        return self.sentence(here, before)

    def _stage(self, here):
        """Say how far it has come, beside the cut."""
        self.write(f"after {here.time:.0f} s", _KEY[0], 16)
        glows, smokes = here.time >= here.ember, here.time >= here.smoke
        self.dot.set_visible(glows)
        self.dot.set_data([_KEY[0] + 10], [42])
        ink = style.EMBER if glows else style.SMOKE if smokes else style.QUIET
        self.write(here.stage, _KEY[0] + 26 * glows, 42, color=ink, weight="bold")

    def _key(self, here):
        left, top, right, bottom = _KEY
        ends = (from_si(end, self.unit) for end in (here.ambient, here.char))
        self.key.rescale(y=Scale(*ends))
        self.paste(self.shades, left, top, name="key", frame=self.key)
        end = self.key.down(from_si(here.char - _CHARRED, self.unit))
        hatch: Any = {"name": "key, charred", "frame": self.key, "cover": _hatched}
        self.fill(left, top, right, end, style.CHAR, **hatch)
        smoke, low = default("temperature_smoke"), bottom + 4.0
        names = [(here.ambient, " air"), *((to_si(n, self.unit), "") for n in self.levels)]
        names[1 + _BOILS] = names[1 + _BOILS][0], " boils"
        for kelvin, note in [*names, (smoke, " smokes"), (here.char, " charred")]:
            degrees = from_si(kelvin, self.unit)
            low = min(self.key.down(degrees), low - 19)
            self.write(f"{self._degrees(kelvin)}{note}", right + 8, low)

    @property
    def levels(self):
        """Degrees that have a line."""
        return _ISOTHERMS[self.unit]

    def _degrees(self, kelvin):
        return f"{from_si(kelvin, self.unit):z.0f} {unit_text(self.unit)}"

    def _plank(self, here):
        """Show the time bowed on a plank, with a notch where it smokes and where it glows."""
        top, bottom = _PLANK[1::2]
        self.plank.rescale(x=Scale(0.0, here.window))
        self.write("time", 6, (top + bottom) / 2)
        across = self.plank.across
        marks = {"first smoke": here.smoke, "ember": here.ember}
        seen = [across(time) for time in marks.values() if time <= here.window]
        self.notches.set_data(seen, [top + 5] * len(seen))
        self.now.set_data([across(here.time)], [(top + bottom) / 2])
        words = [_mark_words(name, time, here.window) for name, time in marks.items()]
        if here.smoke >= TOO_LONG:
            words = ["never smokes, never an ember"]
        places = [across(min(time, here.window)) for time in marks.values()]
        for text, place in _apart(words, places):
            self.write(text, place, bottom + 26, align="center")

    def drawn(self):
        """Say what is drawn, and the temperatures that its colours stand for."""
        return read_degrees(super().drawn(), "now", "before")

    def sentence(self, here: Moment, before: Moment | None) -> str:
        """Say in words what the picture shows."""
        words = self._say(here)
        return words if before is None else f"{words} Before: {self._say(before)}"

    def _say(self, moment):
        stage = {"cold": "all is cold", "warming": "it warms up"}.get(moment.stage, moment.stage)
        return (
            f"{moment.title}: after {moment.time:.0f} s the contact is at "
            f"{self._degrees(moment.contact)}: {stage.removeprefix('ember: ')}. "
            f"{where_words('Heat is in', moment.heat)}"
        )


def _mark_words(name, time, window):
    """Name a milestone and its likely time, where it is not on the plank, too."""
    if time >= TOO_LONG:
        return f"never an {name}"
    return f"{name}, likely {time_words(time)}{'' if time <= window else ' →'}"


def _short(moment):
    return moment.title.replace(" spindle", "")


def _half(moment):
    """How far a picture reaches to each side, so that names have room beside the spindle. [m]."""
    return max(_HALF, moment.radius + _ROOM)


def _apart(words, places):
    """Push names apart along the plank, in their order, and keep them in the picture."""
    widths = [10.6 * len(text) for text in words]
    low, made = 0.0, []
    for text, place, width in zip(words, places, widths, strict=False):
        place = max(place, low + width / 2)
        low = place + width / 2 + 14
        made.append([text, place])
    high = float(_WIDTH)
    for row, width in zip(reversed(made), reversed(widths), strict=True):
        row[1] = min(row[1], high - width / 2)
        high = row[1] - width / 2 - 14
    return made


def _hatched(height, width, scale):
    """Cover with slanting lines."""
    rows, columns = np.indices((height, width))
    return ((rows + columns) % round(7 * scale) < 1.6 * scale).astype(np.float32)


class _Cut:
    """One cut in its place: the field below, lines and names over it."""

    def __init__(self, sketch: HeatSection, name: str, left: float, right: float):
        self.sketch, self.name = sketch, name
        self.frame = Frame(sketch, (left, _TOP, right, _BOTTOM), Scale(-1, 1), Scale(-1, 1))
        with style.look():
            axes = self.frame.draw_axes()
            axes.set_axis_off()
            self.lines = [self._line(axes, level, at) for at, level in enumerate(sketch.levels)]
            self.sides = sketch.add(
                axes.plot([], [], color=style.EDGE, lw=2, label=f"{name}, sides")[0]
            )
            leads: Any = {"color": style.INK, "lw": 1.2, "clip_on": False}
            self.leads = sketch.add(page(sketch).plot([], [], label=f"{name}, leads", **leads)[0])
            look: Any = {"facecolor": "none", "edgecolor": style.CHAR, "lw": 1.2, "hatch": "///"}
            zone = PathPatch(Path(np.zeros((3, 2))), label=f"{name}, charred", **look)
            self.charred = sketch.add(axes.add_patch(zone))

    def _line(self, axes, level, at):
        dashes = "-" if at == _BOILS else (0, (5, 3))
        look: Any = {"color": style.INK, "lw": 1.6, "ls": dashes, "dash_capstyle": "butt"}
        return self.sketch.add(axes.plot([], [], label=f"{self.name}, {level} degrees", **look)[0])

    def hide(self):
        """Show nothing."""
        for artist in (*self.lines, self.sides, self.leads, self.charred):
            artist.set_visible(False)

    def show(self, moment: Moment, *, half: float, title: str):
        """Show a moment, as far as this to each side of the axis. [m]."""
        frame, sketch = self.frame, self.sketch
        width, height = frame.right - frame.left, frame.bottom - frame.top
        tall = 2 * half * height / width
        low, high = 1000 * (_UP - 1) * tall, 1000 * _UP * tall
        frame.rescale(Scale(-1000 * half, 1000 * half), Scale(low, high))
        across = (np.arange(round(_FINE * width)) + 0.5) / _FINE + frame.left
        down = (np.arange(round(_FINE * height)) + 0.5) / _FINE + frame.top
        along = frame.values(across, np.full_like(across, frame.top))[0]
        up = frame.values(np.full_like(down, frame.left), down)[1]
        kelvin, solid = _temperatures(moment, along / 1000, up / 1000)
        pixels, _ = tinted(kelvin, moment.ambient, moment.char)
        pixels = np.where(solid[..., np.newaxis], pixels, style.rgb("PAPER"))
        box: Any = {"frame": frame, "per": _FINE, "under": True}
        sketch.paste(pixels, frame.left, frame.top, name=self.name, **box)
        self._outline(moment)
        self._zones(Zones(along, up, kelvin, solid), moment)
        self._name_zones(moment, kelvin, along, up)
        sketch.write(title, frame.left, 16)
        self._scale()
        if frame.right - frame.left > 400:
            sketch.write("fireboard", frame.right - 8, frame.bottom - 14, align="right")
        side = frame.across(-1000 * moment.radius)
        if side - frame.left > 84:
            sketch.write("spindle", side - 8, frame.top + 14, align="right")
            sketch.write("air", side - 8, frame.top + 40, color=style.QUIET, align="right")

    def _outline(self, moment):
        radius, (low, high) = 1000 * moment.radius, self.frame.x[:2]
        nothing = np.nan
        self.sides.set_data(
            [low, high, nothing, -radius, -radius, nothing, radius, radius],
            [0, 0, nothing, 0, self.frame.y.high, nothing, 0, self.frame.y.high],
        )
        self.sides.set_visible(True)

    def _zones(self, zones, moment):
        """Draw a line where a temperature is passed, and hatch what is charred."""
        for line, level in zip(self.lines, self.sketch.levels, strict=True):
            points = zones.line(to_si(level, self.sketch.unit))
            line.set_visible(points is not None)
            if points is not None:
                line.set_data(*points.T)
        path = zones.above(moment.char - _CHARRED)
        self.charred.set_visible(path is not None)
        if path is not None:
            self.charred.set_path(path)

    def _name_zones(self, moment, kelvin, along, up):
        """Name each isotherm where it meets the spindle's side, with a line to it."""
        frame, sketch = self.frame, self.sketch
        radius = 1000 * moment.radius
        inside = int(np.searchsorted(along, radius)) - 2
        side, edge = kelvin[up > 0, inside], frame.across(radius)
        heights, lowest, leads = up[up > 0], frame.down(0) - 14.0, self._lead_to_char()
        room = frame.right - edge - 30
        for level in reversed(sketch.levels):
            there = np.flatnonzero(side >= to_si(level, sketch.unit))
            if not there.size:
                continue
            row = frame.down(heights[there[0]])
            at = min(row, lowest)
            lowest = at - 20
            leads += [(edge, row), (edge + 22, at), (np.nan, np.nan)]
            words = f"{level} {unit_text(sketch.unit)}"
            sketch.write(words if room > 74 else f"{level}", edge + 26, at)
        self.leads.set_visible(bool(leads))
        if leads:
            self.leads.set_data(*np.transpose(leads))

    def _lead_to_char(self):
        """Name what is charred, where there is room beside the spindle."""
        if not self.charred.get_visible():
            return []
        left, low = self.frame.left, self.frame.down(0)
        tip = self.frame.across(self.charred.get_path().vertices[:, 0].min())
        if tip - left < 110:
            return []
        self.sketch.write("charred", left + 4, low - 34)
        return [(left + 82, low - 30), (tip + 4, low - 1), (np.nan, np.nan)]

    def _scale(self):
        """Draw a bar as long as it says, low in the board."""
        frame = self.frame
        length, words = (6.35, "1/4 in") if self.sketch.unit == "degF" else (5.0, "5 mm")
        start, y = frame.left + 12, frame.bottom - 14
        end = start + frame.across(length) - frame.across(0)
        frame.fill(f"{self.name}, {words}", start, y - 1, end, y + 2, style.INK)
        self.sketch.write(words, end + 6, y)


def _temperatures(moment, along, up):
    """Temperature at places, and which of them are wood. [K]."""
    run, radial = moment.run, np.abs(along)
    spindle = (up[:, np.newaxis] >= 0) & (radial <= moment.radius)
    board = np.broadcast_to(up[:, np.newaxis] < 0, spindle.shape)
    values = filled(run, 0)
    rise = blend(values, places(run.axial, up), places(run.radial, radial))
    # Beside the spindle the board ends at its top: no blending with what is above.
    beside, top = radial > moment.radius, run.axial[run.axial < 0].max()
    edge = places(run.axial, np.minimum(up, top))
    rise[:, beside] = blend(values, edge, places(run.radial, radial[beside]))
    return moment.ambient + rise, spindle | board
