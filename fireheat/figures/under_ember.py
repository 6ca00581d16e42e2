"""Two cuts through ember, catcher and ground: how hot it is where, beside each other."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from matplotlib.patches import Polygon

from ..answers.under_ember import Under
from ..quantities import METRIC, US, from_si, to_si, unit_text
from ..words import below_words, number_words, range_words
from . import style
from .field import blend, filled, places, read_degrees, tint_key, tinted
from .lane import page
from .sketch import Frame, Scale, Sketch
from .zones import Zones

_WIDTH, _HEIGHT = 800, 322
_SIZE = 340, 250  # of one cut, in pixels
_LEFTS, _TOP = (4, 352), 62
_HALF = 0.02  # what is shown to each side, in metres
_SCALE = _SIZE[0] / (2 * _HALF)  # pixels to a metre
_SKY = 98  # rows above the glow
_THIN = 10  # rows: a thinner sheet is drawn as thick as this
_KEY = 706, 114, 722, 310
_ISOTHERMS = {"degC": (100, 200, 400), "degF": (200, 400, 800)}
_WIDE = 76  # pixels of a name of an isotherm
_LENGTHS = {METRIC: ("1 cm", to_si(1, "cm")), US: ("1/2 in", to_si(0.5, "in"))}
_UNITS = {METRIC: ("degC", "cm"), US: ("degF", "in")}


class UnderEmber(Sketch):
    """Two cuts side by side, with isotherms; thin sheets are drawn thicker than they are.

    Parameters
    ----------
    system : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, system: str = METRIC):
        super().__init__(_WIDTH, _HEIGHT)
        self.system = system
        self.unit, self.length = _UNITS[system]
        self.cuts = [
            _Cut(self, name, left) for name, left in zip(("left", "right"), _LEFTS, strict=True)
        ]
        self.key = Frame(self, _KEY)
        self.shades = tint_key(_KEY[2] - _KEY[0], _KEY[3] - _KEY[1])

    def update(self, pair: Sequence[Under]) -> str:
        """Show two at one moment and return the sentence that says what is shown."""
        self.clear()
        for cut, under in zip(self.cuts, pair, strict=True):
            cut.show(under)
        self._key(pair[0].ember)
        return self.sentence(pair)

    def _key(self, ember):
        left, top, right, bottom = _KEY
        ends = ember.temperature_ambient, ember.temperature
        self.key.rescale(y=Scale(*(from_si(end, self.unit) for end in ends)))
        self.paste(self.shades, left, top, name="key", frame=self.key)
        low = bottom + 10.0
        for degrees in (from_si(ends[0], self.unit), *self.levels, from_si(ends[1], self.unit)):
            low = min(self.key.down(degrees), low - 19)
            self.write(f"{degrees:.0f} {unit_text(self.unit)}", right + 5, low)

    @property
    def levels(self):
        """Degrees that have a line."""
        return _ISOTHERMS[self.unit]

    def drawn(self):
        """Say what is drawn, and the temperatures that its colours stand for."""
        return read_degrees(super().drawn(), "left", "right")

    def sentence(self, pair: Sequence[Under]) -> str:
        """Say in words what the picture shows."""
        first, second = (self._say(under) for under in pair)
        return (
            f"After {pair[0].seconds:.0f} s over {below_words(pair[0].ground)}: {first}; {second}."
        )

    def _say(self, under):
        beside = number_words(from_si(under.beside, self.unit))
        away = number_words(from_si(under.away, self.length))
        return (
            f"{under.catcher.name} takes {number_words(under.watts)} W "
            f"({range_words(under.watts_band)} W) and has taken {number_words(under.joules)} J "
            f"({range_words(under.joules_band)} J), its top, {away} {self.length} from the middle, "
            f"at some {beside} {unit_text(self.unit)}"
        )


class _Cut:
    """One cut in its place: the field below, lines and names over it; all in pixels."""

    def __init__(self, sketch: UnderEmber, name: str, left: float):
        self.sketch, self.name, self.left = sketch, name, left
        box = left, _TOP, left + _SIZE[0], _TOP + _SIZE[1]
        self.frame = Frame(sketch, box, Scale(-1000 * _HALF, 1000 * _HALF))
        with style.look():
            axes = page(sketch)
            edge: Any = {"color": style.EDGE, "lw": 2, "solid_capstyle": "butt"}
            self.edges = sketch.add(axes.plot([], [], label=f"{name}, edges", **edge)[0])
            self.lines = [
                self._line(axes, level, "-" if level == sketch.levels[0] else (0, (5, 3)))
                for level in sketch.levels
            ]
            lead: Any = {"color": style.INK, "lw": 1.2, "label": f"{name}, leads"}
            self.leads = sketch.add(axes.plot([], [], **lead)[0])
            glow: Any = {"fc": style.HEAT[-1] / 255, "ec": style.EMBER, "lw": 1.5}
            heap = Polygon(np.zeros((3, 2)), label=f"{name}, ember", **glow)
            self.heap = sketch.add(axes.add_patch(heap))

    def _line(self, axes, level, dashes):
        look: Any = {"color": style.INK, "lw": 1.6, "ls": dashes, "dash_capstyle": "butt"}
        return self.sketch.add(axes.plot([], [], label=f"{self.name}, {level} degrees", **look)[0])

    def show(self, under: Under):
        """Show what lies under one ember."""
        sketch, ember = self.sketch, under.ember
        kelvin, solid = _temperatures(under)
        pixels, _ = tinted(kelvin, ember.temperature_ambient, ember.temperature)
        pixels = np.where(solid[..., np.newaxis], pixels, style.rgb("PAPER"))
        sketch.paste(pixels, self.left, _TOP, name=self.name, frame=self.frame, under=True)
        along = self.left + np.arange(_SIZE[0]) + 0.5
        down = _TOP + np.arange(_SIZE[1]) + 0.5
        zones = Zones(along, down, kelvin, solid)
        for line, level in zip(self.lines, sketch.levels, strict=True):
            points = zones.line(to_si(level, sketch.unit))
            line.set_visible(points is not None)
            if points is not None:
                line.set_data(*points.T)
        self._edges(under)
        self._heap(ember)
        self._name_isotherms(kelvin, solid)
        self._length_bar()
        self._titles(under)

    def _edges(self, under):
        """Draw where the catcher begins and ends."""
        rows = [row for row in _rows(under)[1:3] if row < _SIZE[1]]
        right = self.left + _SIZE[0]
        points = [
            point
            for row in rows
            for point in ((self.left, _TOP + row), (right, _TOP + row), (np.nan, np.nan))
        ]
        self.edges.set_data(*np.reshape(points, (-1, 2)).T)  # none, where all is deeper

    def _heap(self, ember):
        """Draw the ember as a low dome, its name in it."""
        turn = np.linspace(0, np.pi, 40)
        wide, middle = ember.radius * _SCALE, self.left + _SIZE[0] / 2
        high, foot = 0.8 * wide, _TOP + _SKY
        self.heap.set_xy(
            np.column_stack([middle + wide * np.cos(turn), foot - high * np.sin(turn)])
        )
        self.sketch.write("ember", middle, foot - 12, color=style.CHAR, align="center")

    def _length_bar(self):
        """Say by a bar in the open how long things are."""
        text, length = _LENGTHS[self.sketch.system]
        x, y = self.left + 12, _TOP + _SKY - 18
        end = x + length * _SCALE
        self.frame.fill(f"{self.name}, {text}", x, y - 1, end, y + 1, style.INK)
        for side, tip in (("start", x), ("end", end)):
            self.frame.fill(
                f"{self.name}, {text}, {side}", tip - 1, y - 6, tip + 1, y + 6, style.INK
            )
        self.sketch.write(text, (x + end) / 2, y - 16, align="center")

    def _titles(self, under):
        sketch, middle = self.sketch, self.left + _SIZE[0] / 2
        sketch.write(under.catcher.name, middle, 14, size=16, align="center")
        thin = under.catcher.thickness * _SCALE < _THIN
        takes = f"takes {number_words(under.watts)} W"
        note = f"{takes}; drawn too thick" if thin else takes
        sketch.write(note, middle, 38, color=style.QUIET, align="center")
        if _rows(under)[2] < _SIZE[1] - 40:
            x, y = self.left + 10, _TOP + _SIZE[1] - 16
            sketch.write(under.ground, x, y)

    def _name_isotherms(self, kelvin, solid):
        """Name each isotherm where it comes up to the open, outermost lowest, with a line to it."""
        half = _SIZE[0] // 2
        hottest = np.where(solid, kelvin, 0).max(axis=0)[half:]
        top = solid.argmax(axis=0)[half:]
        leads, end = [], self.left + _SIZE[0] - _WIDE
        for step, level in enumerate(self.sketch.levels):
            beyond = np.flatnonzero(hottest < to_si(level, self.sketch.unit))
            if not beyond.size or beyond[0] == 0:
                continue
            column = int(beyond[0])
            x, row = self.left + half + column, _TOP + _SKY - 22 - 22 * step
            leads += [(x, _TOP + int(top[column])), (x, row), (np.nan, np.nan)]
            name = f"{level} {unit_text(self.sketch.unit)}"
            fits = x <= end
            way: Any = {"align": "left" if fits else "right", "halo": not fits}
            self.sketch.write(name, x + 5 if fits else x - 5, row, **way)
        self.leads.set_visible(bool(leads))
        if leads:
            self.leads.set_data(*np.transpose(leads))


def _rows(under):
    """Rows of pixels at the glow, at the catcher's top and at its underside."""
    crust = round(under.ember.crust * _SCALE)
    sheet = max(round(under.catcher.thickness * _SCALE), _THIN)
    return _SKY, _SKY + crust, _SKY + crust + sheet


def _heights(under):
    """Height of each row of pixels; the sheet stretched to what can be seen. [m]."""
    glow, top, under_side = _rows(under)
    crust, thickness = under.ember.crust, under.catcher.thickness
    depth = crust + thickness
    rows = [0.0, glow, top, under_side, under_side + _SIZE[1]]
    heights = [glow / _SCALE, 0.0, -crust, -depth, -depth - _SIZE[1] / _SCALE]
    return np.interp(np.arange(_SIZE[1]) + 0.5, rows, heights)


def _temperatures(under):
    """Temperature of each pixel, and which pixels are solid. [K]."""
    run, ember = under.run, under.ember
    radial = np.abs((np.arange(_SIZE[0]) + 0.5) / _SCALE - _HALF)
    axial = _heights(under)
    body = (axial < 0) & (axial >= -ember.crust)
    dust = body[:, np.newaxis] & (radial <= ember.radius)
    lowest = run.axial_edges[0]
    solid = dust | ((axial < -ember.crust) & (axial >= lowest))[:, np.newaxis]
    rows, columns = places(run.axial, axial), places(run.radial, radial)
    return ember.temperature_ambient + blend(filled(run, under.at), rows, columns), solid
