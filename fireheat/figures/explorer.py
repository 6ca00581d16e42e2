"""Time to smoke and to an ember against one quantity, with "you are here" and a pinned state."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..bands import Band
from ..quantities import Quantity
from ..words import TOO_LONG, band_words, floor_words
from . import style
from .heat_bar import heat_bar, where_words
from .sketch import UNIT, Frame, Scale, Sketch, band_corners, band_patch
from .time_axis import LAST, TimeAxis

_TIMES = TimeAxis(0.8, (1, 3, 10, 30, 120, 600, 1800))
_CURVE, _BAR = (92, 6, 630, 228), (92, 288, 630, 332)  # left, top, right, bottom, in pixels
_WIDTH, _HEIGHT = 800, 336


@dataclass(frozen=True)
class Curve:
    """Times against one quantity.

    Attributes
    ----------
    values : ndarray, shape (n,)
        The quantity. [SI]
    bound : ndarray, shape (n,)
        The energy bound. [s]
    smoke, ember : Band of ndarray, shape (n,)
        Low end, likely value and high end of the estimate. [s]
    """

    values: np.ndarray
    bound: np.ndarray
    smoke: Band
    ember: Band


@dataclass(frozen=True)
class Spot:
    """One state on the curve: where it is, and where its heat goes.

    Attributes
    ----------
    value : float
        The quantity on the axis. [SI]
    bound : float
        The energy bound. [s]
    ember : Band of float
        Low end, likely value and high end of the estimate. [s]
    heat : mapping
        Where the heat goes: dust, water, spindle, board, air. [J]
    """

    value: float
    bound: float
    ember: Band[float]
    heat: Mapping[str, float]


_NAMES = {
    "ember": ("ember,\nestimate", "EMBER"),
    "smoke": ("smoke,\nestimate", "SMOKE"),
    "bound": ("energy floor:\ndust alone", "INK"),
}


class TimeCurve(Sketch):
    """The explorer's picture: three curves, the state now, a pinned state, and a heat bar.

    Parameters
    ----------
    row : Quantity
        The quantity along the axis.
    system : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, row: Quantity, system: str):
        super().__init__(_WIDTH, _HEIGHT)
        self.row, self.system = row, system
        along = Scale(*(row.shown(end, system) for end in row.slider))
        self.frame, self.bar = Frame(self, _CURVE, along, _TIMES.scale), Frame(self, _BAR, UNIT)
        with style.look():
            self._still_part()
            self._moving_part()

    def _still_part(self):
        axes = self.axes = self.frame.draw_axes()
        _TIMES.dress(axes, "y")
        axes.grid(axis="y", color=style.RULE, linewidth=0.8)
        axes.set_axisbelow(True)
        axes.set_xlabel(self.row.label(self.system), labelpad=2)
        middle = 1 - (self.bar.top + self.bar.bottom) / 2 / _HEIGHT
        self.figure.text(4 / _WIDTH, middle, "heat\ngoes to", va="center", linespacing=1.0)

    def _moving_part(self):
        axes, add = self.axes, self.add
        self.bands = {
            name: add(axes.add_patch(band_patch(color, f"{name}, low to high")))
            for name, color in (("smoke", style.SMOKE), ("ember", style.EMBER))
        }
        dots: Any = {"color": style.INK, "ls": (0, (1, 1.2))}
        self.pinned_line = add(axes.plot([], [], label="pinned, likely", **dots)[0])
        dashes: Any = {"color": style.INK, "ls": (0, (4, 2)), "lw": 2.5}
        self.lines = {
            "bound": add(axes.plot([], [], label="energy floor", **dashes)[0]),
            "smoke": add(axes.plot([], [], label="smoke, likely", color=style.SMOKE)[0]),
            "ember": add(axes.plot([], [], label="ember, likely", color=style.EMBER)[0]),
        }
        here: Any = {"color": style.INK, "lw": 1, "label": "you are here"}
        self.here_line = add(axes.plot([], [], **here)[0])
        mark: Any = {"mec": style.PAPER, "mew": 2, "clip_on": False}
        pin: Any = {"color": style.INK, "ms": 12, "label": "pinned"}
        self.pinned_mark = add(axes.plot([], [], "D", **pin, **mark)[0])
        dot: Any = {"color": style.EMBER, "ms": 14, "label": "now"}
        self.here_mark = add(axes.plot([], [], "o", **dot, **mark)[0])

    def update(
        self, curve: Curve, here: Spot, pinned: Spot | None, pinned_curve: Curve | None
    ) -> str:
        """Move everything to new numbers and return the sentence that says what is shown."""
        self.clear()
        x = self.row.shown(curve.values, self.system)
        rows = {"bound": curve.bound, "smoke": curve.smoke.likely, "ember": curve.ember.likely}
        for name, seconds in rows.items():
            self.lines[name].set_data(x, _TIMES.place(seconds))
        for name, band in self.bands.items():
            low, _, high = _TIMES.place(getattr(curve, name))
            band.set_xy(band_corners(x, low, high))
        self._mark_pinned(pinned, pinned_curve)
        self._mark_here(here)
        self._name_curves({name: self._height(seconds[-1]) for name, seconds in rows.items()})
        heat_bar(here.heat, self.bar)
        return self.sentence(here, pinned)

    def _height(self, seconds):
        return float(self.frame.down(_TIMES.place(seconds)))

    def _mark_pinned(self, pinned, curve):
        for artist in (self.pinned_line, self.pinned_mark):
            artist.set_visible(pinned is not None)
        if pinned is not None:
            x = self.row.shown(curve.values, self.system)
            self.pinned_line.set_data(x, _TIMES.place(curve.ember.likely))
            at = self.row.shown(pinned.value, self.system)
            self.pinned_mark.set_data([at], [float(_TIMES.place(pinned.ember.likely))])
            self._beside(self.frame.across(at), self._height(pinned.ember.likely) - 22)

    def _beside(self, x, y):
        """Write that a mark is pinned, on the side where there is room."""
        side = "left" if x < (self.frame.left + self.frame.right) / 2 else "right"
        self.write("pinned", x, max(y, self.frame.top + 32), color=style.INK, align=side)

    def _mark_here(self, here):
        x = self.row.shown(here.value, self.system)
        self.here_line.set_data([x, x], [_TIMES.first, LAST])
        self.here_mark.set_data([x], [float(_TIMES.place(here.ember.likely))])
        at, side = self.frame.across(x), 1 if self.frame.x.share(x) < 0.5 else -1
        height = (
            20 if here.ember.likely < TOO_LONG else 48
        )  # below the strip, where the dot is then
        self.write("you are here", at + 8 * side, height, align="left" if side > 0 else "right")

    def _name_curves(self, heights):
        """Write the curves' names at their right ends, pushed apart where they would overlap."""
        names = sorted(heights, key=lambda name: -heights[name])
        gap, low = 45, self.frame.bottom - 16
        at = [min(heights[name], low) for name in names]
        for i in range(1, len(at)):
            at[i] = min(at[i], at[i - 1] - gap)
        at[-1] = max(at[-1], self.frame.top + 18)
        for i in range(len(at) - 2, -1, -1):
            at[i] = max(at[i], at[i + 1] + gap)
        for name, y in zip(names, at, strict=True):
            text, token = _NAMES[name]
            self.write(text, self.frame.right + 10, y, color=style.color(token))

    def sentence(self, here: Spot, pinned: Spot | None) -> str:
        """Say in words what the picture shows."""
        soonest, band = floor_words(here.bound), band_words(here.ember)
        words = f"At {self.row.name} {self.row.text(here.value, self.system)}: "
        if here.bound >= TOO_LONG:
            words += "never an ember."
        else:
            words += f"floor {soonest}; ember, estimate {band}."
        words += f" {where_words('Heat goes to', here.heat)}"
        if pinned is not None:
            words += f" Before: estimate {band_words(pinned.ember)}."
        return words
