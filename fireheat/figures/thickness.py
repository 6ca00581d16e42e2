"""Joules taken in the first minute against the thickness of a sheet."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..ember.catchers import catchers
from ..ember.draw import Sheet
from ..quantities import METRIC, US, quantity
from ..words import below_words, number_words, range_words, signed_range_words
from . import style
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 340
_LEFT, _RIGHT, _TOP, _BOTTOM = 106, 592, 14, 278  # the frame, in pixels from the top left
ALONG = np.geomspace(1e-7, 3e-3, 28)  # thicknesses along the picture, in metres
_JOULES = (5.0, 1e5)
_GAP = 20  # between the names of curves, in pixels
_TICKS = {METRIC: (0.0001, 0.001, 0.01, 0.1, 1), US: (0.00001, 0.0001, 0.001, 0.01, 0.1)}


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
        thin, thick = (self.row.shown(end, system) for end in ALONG[[0, -1]])
        thickness = Scale(thin, thick, factors=True)
        box = _LEFT, _TOP, _RIGHT, _BOTTOM
        self.frame = Frame(self, box, thickness, Scale(*_JOULES, factors=True))
        mark: Any = {"mec": style.PAPER, "mew": 2, "ls": "", "clip_on": False}
        with style.look():
            axes = self.frame.draw_axes()
            ticks = _TICKS[system]
            axes.set_xticks(ticks, [number_words(tick) for tick in ticks])
            joules = (10, 100, 1000, 10000, 100000)
            axes.set_yticks(joules, [f"{joule:,} J" for joule in joules])
            axes.tick_params(which="minor", length=0)
            axes.xaxis.set_minor_formatter("")
            axes.yaxis.set_minor_formatter("")
            axes.grid(color=style.RULE, linewidth=0.8)
            axes.set_xlabel(self.row.label(system), labelpad=4)
            dashes: Any = {"color": style.SMOKE, "ls": "--", "lw": 2, "label": "no sheet"}
            self.bare = self.add(axes.plot(thickness[:2], [1, 1], **dashes)[0])
            self.lines = [self.add(axes.plot([], [])[0]) for _ in range(3)]
            faint: Any = {"color": style.SPINDLE, "lw": 9, "alpha": 0.35, "label": "low to high"}
            self.band = self.add(axes.plot([], [], **faint)[0])
            pin: Any = {"color": style.INK, "ms": 12, "label": "pinned"}
            self.pinned_dot = self.add(axes.plot([], [], "D", **pin, **mark)[0])
            dot: Any = {"color": style.SPINDLE, "ms": 16, "label": "now"}
            self.dot = self.add(axes.plot([], [], "o", **dot, **mark)[0])

    def update(self, sheet: Sheet, pinned: Sheet | None, curves: Mapping[str, np.ndarray]) -> str:
        """Move curves and dots and return the sentence that says what is shown.

        Parameters
        ----------
        sheet, pinned : Sheet
            The sheet now, and the pinned one if there is one.
        curves : mapping of str to ndarray
            Joules in the first minute along the picture, for each of three catchers. [J]

        Returns
        -------
        str
            The sentence.
        """
        self.clear()
        along = self.row.shown(ALONG, self.system)
        for line, (key, joules) in zip(self.lines, curves.items(), strict=True):
            chosen = key == sheet.key
            line.set_data(along, joules)
            line.set(color=style.SPINDLE if chosen else style.SMOKE, linewidth=4 if chosen else 2)
            line.set_label(catchers()[key].name)
        self._name_curves(sheet.key, curves)
        self.bare.set_ydata([sheet.bare.likely] * 2)
        self._name_bare(sheet)
        place = self.row.shown(sheet.thickness, self.system)
        self.band.set_data([place, place], sheet.draw.joules.ends)
        self.dot.set_data([place], [sheet.draw.joules.likely])
        self.pinned_dot.set_visible(pinned is not None)
        if pinned is not None:
            then = [self.row.shown(pinned.thickness, self.system)]
            self.pinned_dot.set_data(then, [pinned.draw.joules.likely])
            self.write("◆ pinned", _LEFT + 12, _TOP + 10, color=style.INK)
        return self.sentence(sheet, pinned)

    def _name_curves(self, chosen, curves):
        """Write the curves' names at their right ends, pushed apart where they would overlap."""
        ends = {key: self._height(joules[-1]) for key, joules in curves.items()}
        keys = sorted(ends, key=lambda key: ends[key])
        for key, y in zip(keys, _apart([ends[key] for key in keys]), strict=True):
            ink = style.SPINDLE if key == chosen else style.QUIET
            self.write(catchers()[key].name, _RIGHT + 14, y, color=ink)

    def _name_bare(self, sheet):
        words = f"no sheet at all: {number_words(sheet.bare.likely)} J"
        self.write(words, _LEFT + 12, self._height(sheet.bare.likely) + 14, color=style.QUIET)

    def _height(self, joules):
        """Height of an amount of heat, in pixels, where a name has room."""
        return float(np.clip(self.frame.down(joules), _TOP + 8, _BOTTOM - 8))

    def sentence(self, sheet: Sheet, pinned: Sheet | None) -> str:
        """Say in words what the picture shows."""
        more = "more" if sheet.added.likely >= 0 else "less"
        words = (
            f"{self._name(sheet)} over {below_words(sheet.ground)}: "
            f"{number_words(sheet.draw.joules.likely)} J in the first minute "
            f"(band {range_words(sheet.draw.joules.ends)} J, faint behind the dot), "
            f"{number_words(abs(sheet.added.likely))} J {more} than with no sheet at all "
            f"(band {signed_range_words(sheet.added.ends)} J)."
        )
        if sheet.boiled is not None:
            words += (
                " Both for soil that stays wet. Bare, it boils dry and takes "
                f"{number_words(sheet.boiled.joules.likely)} J "
                f"({range_words(sheet.boiled.joules.ends)} J)."
            )
        if pinned is not None:
            joules = number_words(pinned.draw.joules.likely)
            words += f" Before: {self._name(pinned)} over {below_words(pinned.ground)}, {joules} J."
        return words

    def _name(self, sheet):
        shown = number_words(self.row.shown(sheet.thickness, self.system))
        return f"{catchers()[sheet.key].name}, exactly {shown} {self.row.shown_unit(self.system)},"


def _apart(ends):
    """Push places apart, half up and half down; they come sorted."""
    steps = _GAP * np.arange(len(ends))
    down = np.maximum.accumulate(ends - steps) + steps
    up = np.minimum.accumulate((ends - steps)[::-1])[::-1] + steps
    return (down + up) / 2
