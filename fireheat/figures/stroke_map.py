"""Stroke length and strokes a minute on one picture, with lines of equal bow speed."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.patches import Polygon, Rectangle
from scipy.constants import minute

from ..answers.warmth import Rhythm
from ..bands import Band
from ..quantities import METRIC, quantity, unit_text
from ..words import NEVER, band_words
from . import style
from .marks import BEFORE_LINE, before_dot, now_dot
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 372
_LEFT, _TOP, _RIGHT, _BOTTOM = 82, 14, 520, 314  # the frame, in pixels from the top left
_LENGTHS, _COUNTS = quantity("stroke_length"), quantity("strokes_per_minute")
_LONGEST, _MOST = _LENGTHS.slider[1], _COUNTS.slider[1]
_ALONG = np.linspace(0.001, _LONGEST, 200)
_BESIDE = 0.5  # of the frame's width: from there on words stand left of the mark


@dataclass(frozen=True)
class Stroke:
    """One way of bowing on the map.

    Attributes
    ----------
    rhythm : Rhythm
        Length and count of its strokes.
    ember : Band of float
        Low and high end of the estimate. [s]
    """

    rhythm: Rhythm
    ember: Band[float]

    @property
    def length(self) -> float:
        """Stroke length, in metres."""
        return self.rhythm.stroke_length

    @property
    def count(self) -> float:
        """Strokes a minute."""
        return self.rhythm.strokes_per_minute

    @property
    def speed(self) -> float:
        """Bow speed, in metres a second."""
        return self.rhythm.speed


class StrokeMap(Sketch):
    """The map: lines of equal speed, you are here, a before stroke, and where no hand turns.

    Parameters
    ----------
    speeds : sequence of float
        Speeds whose lines are drawn; each must leave the frame on its right side. [m/s]
    system : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, speeds: Sequence[float], system: str = METRIC):
        super().__init__(_WIDTH, _HEIGHT)
        self.speeds, self.system = tuple(speeds), system
        along = Scale(0, _LENGTHS.shown(_LONGEST, system))
        self.frame = Frame(self, (_LEFT, _TOP, _RIGHT, _BOTTOM), along, Scale(0, _MOST))
        with style.look():
            self._still_part()
            self._moving_part()

    def _still_part(self):
        axes = self.axes = self.frame.draw_axes()
        axes.set_xlabel(_LENGTHS.label(self.system), labelpad=4)
        axes.set_ylabel(_COUNTS.name, labelpad=6)
        axes.set_yticks(np.arange(0, _MOST + 1, 100))

    def _moving_part(self):
        axes, add = self.axes, self.add
        shade: Any = {"color": style.SHADE, "lw": 0, "label": "too quick"}
        self.too_short = add(axes.add_patch(Polygon(np.zeros((3, 2)), **shade)))
        shade = {"fc": style.YOURS, "alpha": 0.14, "lw": 0, "label": "bow speed"}
        self.box = add(axes.add_patch(Rectangle((0, 0), 1, 1, **shade)))
        for speed in self.speeds:
            words = quantity("speed").text(speed, self.system)
            line = add(axes.plot([], [], color=style.EDGE, lw=1.5, label=words)[0])
            self._bend(line, speed)
        then: Any = {
            "color": style.INK,
            "ls": BEFORE_LINE,
            "lw": 1.8,
            "label": "before, equal speed",
        }
        self.line_before = add(axes.plot([], [], **then)[0])
        here: Any = {"color": style.EMBER, "label": "now, equal speed"}
        self.line_now = add(axes.plot([], [], **here)[0])
        self.mark = add(axes.plot([], [], **now_dot(style.EMBER))[0])

    def _bend(self, line, speed):
        """Lay a line along all strokes of one speed."""
        line.set_data(_LENGTHS.shown(_ALONG, self.system), minute * speed / _ALONG)

    def update(
        self,
        here: Stroke,
        before: Stroke | None,
        embers: Sequence[Band[float]],
        quickest: np.ndarray,
    ) -> str:
        """Move everything to new numbers and return the sentence that says what is shown.

        Parameters
        ----------
        here, before : Stroke
            The stroke now, and the before one.
        embers : sequence of Band
            Ember estimate at each of the speeds. [s]
        quickest : ndarray
            Strokes a minute above which the hand cannot turn, at :func:`lengths`. [1/min]
        """
        self.clear()
        self._shade(quickest)
        self.mark.set_data([_LENGTHS.shown(here.length, self.system)], [here.count])
        self._bend(self.line_now, max(here.speed, 1e-6))
        self.line_before.set_visible(before is not None)
        self.box.set_bounds(0, 0, _LENGTHS.shown(here.length, self.system), here.count)
        if here.length > 0.28 * _LONGEST and here.count > 0.3 * _MOST:
            self.write("size of the box:\nthe bow speed", _LEFT + 8, _BOTTOM - 26, halo=True)
        self._name_lines(embers)
        self._name_mark(here)
        if before is not None:
            self._before(before)
        return self.sentence(here, before)

    def _shade(self, quickest):
        x = _LENGTHS.shown(_ALONG, self.system)
        y = np.minimum(quickest, _MOST)
        corners = [(x[-1], _MOST), (0, _MOST)]
        self.too_short.set_xy(np.vstack([np.column_stack([x, y]), corners]))
        if quickest[-1] < 0.82 * _MOST:
            self.write("too quick for this hand", _RIGHT - 8, _TOP + 14, align="right", halo=True)

    def _before(self, stroke):
        self._bend(self.line_before, max(stroke.speed, 1e-6))
        x = float(self.frame.across(_LENGTHS.shown(stroke.length, self.system)))
        y = float(self.frame.down(stroke.count))
        before_dot(self.frame, "before", x, y)
        low = _BOTTOM - 14
        sides = ((x + 14, "left"), (x - 14, "right"))
        spots = [(at, min(y + up, low), side) for up in (-16, 20, -40, 44) for at, side in sides]
        inside = [spot for spot in spots if _LEFT + 70 < spot[0] < _RIGHT - 70]
        self.write_free("before", inside or spots, halo=True)

    def _name_lines(self, embers):
        unit = unit_text(quantity("speed").shown_unit(self.system))
        for speed, ember in zip(self.speeds, embers, strict=True):
            y = self.frame.down(minute * speed / _LONGEST)
            words = f"{quantity('speed').shown(speed, self.system):.3g} {unit}: {band_words(ember)}"
            self.write(words, _RIGHT + 10, y, color=style.QUIET)
        self.write("at equal bow speed,\nember, estimate:", _RIGHT + 10, y - 42)

    def _name_mark(self, here):
        x = self.frame.across(_LENGTHS.shown(here.length, self.system))
        y = self.frame.down(here.count)
        words = f"you are here: {quantity('speed').text(here.speed, self.system)}"
        if here.length < _BESIDE * _LONGEST:  # above the line, which falls away to the right
            self.write(words, x + 14, max(y - 16, _TOP + 36), halo=True)
        else:  # below it, since it rises to the left
            low = y + 22 if y < _BOTTOM - 40 else y - 20
            self.write(words, x - 14, low, align="right", halo=True)

    def sentence(self, here: Stroke, before: Stroke | None) -> str:
        """Say in words what the picture shows."""
        words = self._say(here)
        if before is None:
            return f"{words}."
        same = abs(here.speed - before.speed) < 0.005 * here.speed
        verdict = "the same line of equal speed" if same else "another line of equal speed"
        return f"{words}. Before: {self._say(before)}: {verdict}."

    def _say(self, stroke):
        length = _LENGTHS.text(stroke.length, self.system)
        speed = quantity("speed").text(stroke.speed, self.system)
        band = band_words(stroke.ember)
        ember = "never an ember" if band == NEVER else f"ember estimate {band}"
        return f"{length} strokes, {stroke.count:.0f} a minute, are {speed}: {ember}"


def lengths() -> np.ndarray:
    """Stroke lengths along the map, in metres."""
    return _ALONG.copy()
