"""Two cuts through ember, catcher and ground: how hot it is where, beside each other."""

from collections.abc import Sequence

import numpy as np

from ..answers.under_ember import Under
from ..quantities import METRIC, US, from_si, to_si, unit_text
from ..words import below_words, number_words, range_words
from . import style
from .field import blend, draw_line, filled, mark_isotherms, places, read_degrees, tint_key, tinted
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 282
_SIZE = 340, 210  # of one cut, in pixels
_LEFTS, _TOP = (4, 356), 62
_HALF = 0.025  # what is shown to each side, in metres
_SCALE = _SIZE[0] / (2 * _HALF)  # pixels to a metre
_SKY = 66  # rows above the glow
_THIN = 10  # rows: a thinner sheet is drawn as thick as this
_KEY = 703, 120, 717, 262
_ISOTHERMS = {"degC": (100, 200, 400), "degF": (200, 400, 800)}
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
        half, (width, height) = 1000 * _HALF, _SIZE  # in millimetres, in pixels
        boxes = [(left, _TOP, left + width, _TOP + height) for left in _LEFTS]
        self.cuts = [Frame(self, box, Scale(-half, half)) for box in boxes]
        self.key = Frame(self, _KEY)
        self.shades = tint_key(_KEY[2] - _KEY[0], _KEY[3] - _KEY[1])

    def update(self, pair: Sequence[Under]) -> str:
        """Show two at one moment and return the sentence that says what is shown."""
        self.clear()
        for frame, name, under in zip(self.cuts, ("left", "right"), pair, strict=True):
            self._cut(frame, name, under)
        left, top, right, bottom = _KEY
        ends = pair[0].ember.temperature_ambient, pair[0].ember.temperature
        self.key.rescale(y=Scale(*(from_si(end, self.unit) for end in ends)))
        self.paste(self.shades, left, top, name="key", frame=self.key)
        self.write(self._degrees(ends[1]), right + 6, top + 6)
        self.write(self._degrees(ends[0]), right + 6, bottom - 6)
        return self.sentence(pair)

    def _degrees(self, kelvin):
        return f"{from_si(kelvin, self.unit):.0f} {unit_text(self.unit)}"

    def _cut(self, frame, name, under):
        left = frame.left
        kelvin, solid = _temperatures(under)
        ember = under.ember
        pixels, _ = tinted(kelvin, ember.temperature_ambient, ember.temperature)
        levels = [to_si(level, self.unit) for level in _ISOTHERMS[self.unit]]
        mark_isotherms(pixels, kelvin, levels, solid)
        pixels[~solid] = style.rgb("PAPER")
        pixels[_dome(ember.radius)] = style.rgb("EMBER")
        for row in _rows(under)[1:3]:
            if row < _SIZE[1]:
                pixels[row, solid[min(row, _SIZE[1] - 1)]] = style.rgb("EDGE")
        self._name_isotherms(pixels, left, kelvin, solid, levels)
        self.paste(pixels, left, _TOP, name=name, frame=frame)
        self._length_bar(frame, name)
        self._titles(left, under, solid)

    def _length_bar(self, frame, name):
        """Say by a bar in the open how long things are."""
        x, y, (text, length) = frame.left + 12, _TOP + _SKY - 22, _LENGTHS[self.system]
        end = x + length * _SCALE
        frame.fill(f"{name}, {text}", x, y - 1, end, y + 1, style.INK)
        for side, tip in (("start", x), ("end", end)):
            frame.fill(f"{name}, {text}, {side}", tip - 1, y - 6, tip + 1, y + 6, style.INK)
        self.write(text, (x + end) / 2, y - 14, align="center")

    def _titles(self, left, under, solid):
        middle = left + _SIZE[0] / 2
        self.write(under.catcher.name, middle, 14, size=16, align="center")
        thin = under.catcher.thickness * _SCALE < _THIN
        takes = f"takes {number_words(under.watts)} W"
        note = f"{takes}; drawn thicker than it is" if thin else takes
        self.write(note, middle, 38, color=style.QUIET, align="center")
        self.write("ember", middle, _TOP + _SKY - 12, color=style.PAPER, align="center")
        if under.catcher.thickness * _SCALE < _SIZE[1] - _SKY:
            ink = style.INK if solid[-1].any() else style.QUIET
            self.write(under.ground, middle, _TOP + _SIZE[1] - 14, color=ink, align="center")

    def _name_isotherms(self, pixels, left, kelvin, solid, levels):
        """Name each isotherm where it comes up to the open, outermost lowest, with a line to it."""
        half = _SIZE[0] // 2
        hottest = np.where(solid, kelvin, 0).max(axis=0)[half:]
        top = solid.argmax(axis=0)[half:]
        names = list(zip(levels, _ISOTHERMS[self.unit], strict=True))
        for step, (level, degrees) in enumerate(names):
            beyond = np.flatnonzero(hottest < level)
            if not beyond.size or beyond[0] == 0:
                continue
            column = int(beyond[0])
            row = _SKY - 18 - 19 * step
            draw_line(pixels, (half + column, int(top[column])), (half + column, row))
            text = f"{degrees} {unit_text(self.unit)}"
            self.write(text, min(left + half + column + 4, left + 282), _TOP + row + 4)

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
    radial = np.abs(np.linspace(-_HALF, _HALF, _SIZE[0]))
    axial = _heights(under)
    body = (axial < 0) & (axial >= -ember.crust)
    dust = body[:, np.newaxis] & (radial <= ember.radius)
    lowest = run.axial_edges[0]
    solid = dust | ((axial < -ember.crust) & (axial >= lowest))[:, np.newaxis]
    rows, columns = places(run.axial, axial), places(run.radial, radial)
    return ember.temperature_ambient + blend(filled(run, under.at), rows, columns), solid


def _dome(radius):
    """Pixels of the heap: a low dome above the glow's underside."""
    width, height = _SIZE
    across = (np.arange(width) + 0.5 - width / 2) / (radius * _SCALE)
    up = (_SKY - np.arange(height) - 0.5) / (0.8 * radius * _SCALE)
    return (across**2 + up[:, np.newaxis] ** 2 <= 1) & (up[:, np.newaxis] > 0)
