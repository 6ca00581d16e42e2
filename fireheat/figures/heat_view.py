"""A cut through spindle and board: how hot it is where, and where the heat has gone."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ..heat.volumes import HeatRun
from ..quantities import US, from_si, to_si, unit_text
from . import style
from .field import (
    blend,
    draw_line,
    edges,
    filled,
    mark_isotherms,
    places,
    read_degrees,
    tint_key,
    tinted,
)
from .heat_bar import heat_bar, where_words
from .sketch import UNIT, Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 358
_SIZE = 330, 264  # of one cut, in pixels
_LEFTS, _TOP = (4, 360), 30
_HALF, _LOW, _HIGH = 0.025, -0.015, 0.025  # what is shown, in metres: half its width, its height
_KEY = 708, 44, 728, 250  # the colour key: left, top, right, bottom
_BAR = 92, 308, 690, 352
_ISOTHERMS = {"degC": (50, 100, 200), "degF": (120, 200, 400)}
_CHARRED = 10.0  # K short of the dust's temperature, or the zone would be a line


@dataclass(frozen=True)
class Moment:
    """One moment of one run.

    Attributes
    ----------
    run : HeatRun
        The run.
    at : int
        Which of its moments.
    radius : float
        Radius of the spindle. [m]
    ambient, char : float
        Temperature of the air, and at which dust leaves. [K]
    title : str
        What the cut is called.
    heat : mapping
        Where the heat has gone by now: dust with its water, spindle, board, air. [J]
    """

    run: HeatRun
    at: int
    radius: float
    ambient: float
    char: float
    title: str
    heat: Mapping[str, float]


class HeatSection(Sketch):
    """Two cuts side by side, with isotherms and the charred zone, and a bar of the heat.

    Parameters
    ----------
    system : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, system: str):
        super().__init__(_WIDTH, _HEIGHT)
        self.unit = "degF" if system == US else "degC"
        reach = 1000 * _HALF, 1000 * _LOW, 1000 * _HIGH  # in millimetres
        along, up = Scale(-reach[0], reach[0]), Scale(*reach[1:])
        right, bottom = _SIZE[0], _TOP + _SIZE[1]
        self.cuts = [Frame(self, (at, _TOP, at + right, bottom), along, up) for at in _LEFTS]
        self.bar, self.key = Frame(self, _BAR, UNIT), Frame(self, _KEY)
        self.shades = tint_key(_KEY[2] - _KEY[0], _KEY[3] - _KEY[1])

    def update(self, here: Moment, pinned: Moment | None) -> str:
        """Move to a moment and return the sentence that says what is shown."""
        self.clear()
        self._cut(self.cuts[0], here, "now")
        if pinned is None:
            words = "Pin this kit, then change it:\nboth will stand side by side."
            self.write(words, _LEFTS[1] + 165, 150, color=style.QUIET, align="center")
        else:
            self._cut(self.cuts[1], pinned, "pinned", " (pinned)")
        left, top, right, bottom = _KEY
        self.key.rescale(y=Scale(*(from_si(end, self.unit) for end in (here.ambient, here.char))))
        self.paste(self.shades, left, top, name="key", frame=self.key)
        self.write(self._degrees(here.char), right + 6, top + 6)
        self.write(self._degrees(here.ambient), right + 6, bottom - 6)
        self.write("heat\nis in", 6, (_BAR[1] + _BAR[3]) / 2)
        heat_bar(here.heat, self.bar)
        return self.sentence(here, pinned)

    def _degrees(self, kelvin):
        return f"{from_si(kelvin, self.unit):z.0f} {unit_text(self.unit)}"

    def _cut(self, frame, moment, name, note=""):
        left = frame.left
        kelvin, solid = _temperatures(moment)
        pixels, _ = tinted(kelvin, moment.ambient, moment.char)
        levels = [to_si(level, self.unit) for level in _ISOTHERMS[self.unit]]
        mark_isotherms(pixels, kelvin, levels, solid)
        charred = (kelvin >= moment.char - _CHARRED) & solid
        pixels[charred] = style.rgb("CHAR")
        pixels[~solid] = style.rgb("PAPER")
        pixels[edges(solid.astype(int))] = style.rgb("EDGE")
        self._name_isotherms(pixels, left, moment, kelvin, levels)
        self.paste(pixels, left, _TOP, name=name, frame=frame)
        self.write(moment.title + note, left + _SIZE[0] / 2, 14, align="center")
        self._scale(frame, name)
        if charred.any():
            self.write("charred", left + 4, _contact_row() + _TOP - 24)
            draw_line(pixels, (74, _contact_row() - 18), (_edge(moment, -1) + 3, _contact_row()))

    def _scale(self, frame, name):
        """Draw a bar as long as it says, low in the board."""
        length, words = (0.0127, "½ in") if self.unit == "degF" else (0.01, "10 mm")
        start, y = frame.left + 12, frame.bottom - 12
        end = start + length / (2 * _HALF) * _SIZE[0]
        frame.fill(f"{name}, {words}", start, y - 1, end, y + 2, style.INK)
        self.write(words, end + 6, y)

    def _name_isotherms(self, pixels, left, moment, kelvin, levels):
        """Name each isotherm where it meets the spindle's side, with a line to it."""
        edge = _edge(moment, 1)
        side = kelvin[: _contact_row(), edge - 2]
        floor = _contact_row() - 14.0
        for level, degrees in sorted(zip(levels, _ISOTHERMS[self.unit], strict=True), reverse=True):
            if side.max() < level:
                continue
            row = int(np.argmax(side >= level))
            at = min(float(row), floor)
            floor = at - 20
            draw_line(pixels, (edge, row), (edge + 26, at))
            self.write(f"{degrees} {unit_text(self.unit)}", left + edge + 30, _TOP + at)

    def drawn(self):
        """Say what is drawn, and the temperatures that its colours stand for."""
        return read_degrees(super().drawn(), "now", "pinned")

    def sentence(self, here: Moment, pinned: Moment | None) -> str:
        """Say in words what the picture shows."""
        words = self._say(here)
        return words if pinned is None else f"{words} Before: {self._say(pinned)}"

    def _say(self, moment):
        run, at = moment.run, moment.at
        hot = self._degrees(moment.ambient + run.contact_mean[at])
        return (
            f"{moment.title}: after {run.time[at]:.0f} s the contact is at {hot}. "
            f"{where_words('Heat is in', moment.heat)}"
        )


def _contact_row():
    """Row of pixels at the contact."""
    return round(_SIZE[1] * _HIGH / (_HIGH - _LOW))


def _edge(moment, side):
    """Column of pixels at the spindle's side, right (1) or left (-1), or the picture's."""
    return round(_SIZE[0] / 2 * (1 + side * min(1.0, moment.radius / _HALF)))


def _temperatures(moment):
    """Temperature of each pixel, and which pixels are wood. [K]."""
    run, (width, height) = moment.run, _SIZE
    radial = np.abs(np.linspace(-_HALF, _HALF, width))
    axial = np.linspace(_HIGH, _LOW, height)
    spindle = (axial[:, np.newaxis] >= 0) & (radial <= moment.radius)
    board = np.broadcast_to(axial[:, np.newaxis] < 0, spindle.shape)
    columns, rows = places(run.radial, radial), places(run.axial, axial)
    return moment.ambient + blend(filled(run, moment.at), rows, columns), spindle | board
