"""Joules asked in the first minute against the thickness of a sheet."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..catcher import Draw, catchers
from ..quantities import METRIC, US, quantity
from ..words import below_words, number_words
from . import style
from .sketch import Sketch

_WIDTH, _HEIGHT = 800, 340
_LEFT, _RIGHT, _TOP, _BOTTOM = 106, 600, 14, 278  # the frame, in pixels from the top left
_THICK = (1e-7, 3e-3)  # along the picture, in metres
_JOULES = (15.0, 2e5)
_TICKS = {METRIC: (0.0001, 0.001, 0.01, 0.1, 1), US: (0.00001, 0.0001, 0.001, 0.01, 0.1)}


@dataclass(frozen=True)
class Sheet:
    """A sheet of some thickness, and curves of it and others.

    Attributes
    ----------
    key : str
        The chosen catcher.
    thickness : float
        Its thickness. [m]
    draw : Draw
        What it asks.
    bare : float
        What the ember would ask in the first minute with no sheet at all. [J]
    along : ndarray
        Thicknesses along the curves. [m]
    curves : mapping of str to ndarray
        Joules along them, by catcher. [J]
    ground : str
        What lies below.
    """

    key: str
    thickness: float
    draw: Draw
    bare: float
    along: np.ndarray
    curves: Mapping[str, np.ndarray]
    ground: str

    @property
    def added(self) -> float:
        """What the sheet adds to the heat asked; negative if it saves some. [J]."""
        return self.draw.joules_first_minute - self.bare


class SheetCurve(Sketch):
    """Curves of heat against thickness, both in even factors, with a dot for the sheet.

    Parameters
    ----------
    system : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, system: str = METRIC):
        super().__init__(_WIDTH, _HEIGHT)
        self.row, self.system = quantity("catcher_thickness"), system
        size = (_RIGHT - _LEFT) / _WIDTH, (_BOTTOM - _TOP) / _HEIGHT
        mark: Any = {"mec": "white", "mew": 2, "ls": ""}
        with style.look():
            axes = self.figure.add_axes((_LEFT / _WIDTH, 1 - _BOTTOM / _HEIGHT, *size))
            ends = [self.row.shown(end, system) for end in _THICK]
            axes.set(xscale="log", yscale="log", xlim=ends, ylim=_JOULES)
            ticks = _TICKS[system]
            axes.set_xticks(ticks, [number_words(tick) for tick in ticks])
            joules = (100, 1000, 10000, 100000)
            axes.set_yticks(joules, [f"{joule:,} J" for joule in joules])
            axes.tick_params(which="minor", length=0)
            axes.xaxis.set_minor_formatter("")
            axes.yaxis.set_minor_formatter("")
            axes.grid(color=style.FAINT, linewidth=0.8)
            axes.set_xlabel(self.row.label(system), labelpad=4)
            self.bare = self.add(axes.plot(ends, [1, 1], "--", color=style.SMOKE, lw=2)[0])
            self.lines = [self.add(axes.plot([], [])[0]) for _ in range(3)]
            self.band = self.add(axes.plot([], [], color=style.SOAKED, lw=9, alpha=0.35)[0])
            self.pinned_dot = self.add(axes.plot([], [], "D", color=style.PINNED, ms=12, **mark)[0])
            self.dot = self.add(axes.plot([], [], "o", color=style.SOAKED, ms=16, **mark)[0])

    def update(self, sheet: Sheet, pinned: Sheet | None) -> str:
        """Move curves and dots and return the sentence that says what is shown."""
        self.clear()
        along = self.row.shown(sheet.along, self.system)
        for line, (key, joules) in zip(self.lines, sheet.curves.items(), strict=True):
            chosen = key == sheet.key
            line.set_data(along, joules)
            line.set(color=style.SOAKED if chosen else style.SMOKE, linewidth=4 if chosen else 2)
            ink = style.SOAKED if chosen else style.SMOKE_TEXT
            self.write(catchers()[key].name, _RIGHT + 8, _pixel_y(joules[-1]), color=ink)
        self.bare.set_ydata([sheet.bare] * 2)
        self._name_bare(sheet)
        place = self.row.shown(sheet.thickness, self.system)
        self.band.set_data([place, place], sheet.draw.joules_band)
        self.dot.set_data([place], [sheet.draw.joules_first_minute])
        self.pinned_dot.set_visible(pinned is not None)
        if pinned is not None:
            then = [self.row.shown(pinned.thickness, self.system)]
            self.pinned_dot.set_data(then, [pinned.draw.joules_first_minute])
            self.write("◆ pinned", _LEFT + 12, _TOP + 10, color=style.PINNED)
        return self.sentence(sheet, pinned)

    def _name_bare(self, sheet):
        y = _pixel_y(sheet.bare)
        words = f"no sheet at all: {number_words(sheet.bare)} J"
        self.write(words, _LEFT + 12, y + 14, color=style.SMOKE_TEXT)

    def sentence(self, sheet: Sheet, pinned: Sheet | None) -> str:
        """Say in words what the picture shows."""
        more = "more" if sheet.added >= 0 else "less"
        words = (
            f"{self._name(sheet)} over {below_words(sheet.ground)}: "
            f"{number_words(sheet.draw.joules_first_minute)} J in the first minute, "
            f"{number_words(abs(sheet.added))} J {more} than with no sheet at all."
        )
        if pinned is not None:
            joules = number_words(pinned.draw.joules_first_minute)
            words += f" Pinned: {self._name(pinned)} over {below_words(pinned.ground)}, {joules} J."
        return words

    def _name(self, sheet):
        shown = number_words(self.row.shown(sheet.thickness, self.system))
        return f"{catchers()[sheet.key].name}, {shown} {self.row.shown_unit(self.system)},"


def _pixel_y(joules):
    """Place of an amount of heat, in pixels from the top."""
    low, high = np.log(_JOULES)
    share = (np.log(joules) - low) / (high - low)
    return float(np.clip(_BOTTOM - share * (_BOTTOM - _TOP), _TOP + 8, _BOTTOM - 8))
