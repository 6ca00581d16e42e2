"""Joules taken in the first minute against the thickness of a sheet."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..ember.catchers import catchers
from ..ember.draw import CatcherSheet
from ..quantities import METRIC, US, quantity
from ..words import below_words, number_words, range_words, signed_range_words
from . import style
from .marks import before_dot, now_dot
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 384
_LEFT, _RIGHT, _TOP, _BOTTOM = 106, 592, 46, 322  # the frame, in pixels from the top left
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
            title = "Heat taken in the first minute"
            self.figure.text(8 / _WIDTH, 1 - 16 / _HEIGHT, title, va="center")
            dashes: Any = {"color": style.INK, "ls": (0, (5, 3)), "lw": 2, "label": "no sheet"}
            self.bare = self.add(axes.plot(thickness[:2], [1, 1], **dashes)[0])
            self.lines = [self.add(axes.plot([], [])[0]) for _ in range(3)]
            faint: Any = {"color": style.EMBER_BAND, "lw": 10, "alpha": 0.45}
            faint |= {"label": "low to high", "solid_capstyle": "butt"}
            self.band = self.add(axes.plot([], [], **faint)[0])
            self.dot = self.add(axes.plot([], [], **now_dot(style.EMBER))[0])

    def update(
        self, sheet: CatcherSheet, before: CatcherSheet | None, curves: Mapping[str, np.ndarray]
    ) -> str:
        """Move curves and dots and return the sentence that says what is shown.

        Parameters
        ----------
        sheet, before : CatcherSheet
            The sheet now, and the before one if there is one.
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
            line.set(color=style.EMBER_BAND if chosen else style.EDGE, linewidth=4 if chosen else 2)
            line.set_label(catchers()[key].name)
        self._name_curves(sheet.key, curves)
        self.bare.set_ydata([sheet.bare.likely] * 2)
        self._name_bare(sheet)
        place = self.row.shown(sheet.thickness, self.system)
        self.band.set_data([place, place], sheet.draw.joules.ends)
        self.dot.set_data([place], [sheet.draw.joules.likely])
        if before is not None:
            self._before(before)
        return self.sentence(sheet, before)

    def _before(self, sheet):
        x = float(self.frame.across(self.row.shown(sheet.thickness, self.system)))
        y = float(self.frame.down(sheet.draw.joules.likely))
        before_dot(self.frame, "before", x, y)
        sides = ((x - 12, "right"), (x + 12, "left"))
        spots = [(at, y + up, side) for up in (-18, 22, -42, 46) for at, side in sides]
        inside = [spot for spot in spots if _LEFT + 70 < spot[0] < _RIGHT - 70]
        self.write_free("before", inside or spots, halo=True)

    def _name_curves(self, chosen, curves):
        """Write the curves' names at their right ends, pushed apart where they would overlap."""
        ends = {key: self._height(joules[-1]) for key, joules in curves.items()}
        keys = sorted(ends, key=lambda key: ends[key])
        for key, y in zip(keys, _apart([ends[key] for key in keys]), strict=True):
            ink = style.EMBER if key == chosen else style.QUIET
            self.write(catchers()[key].name, _RIGHT + 14, y, color=ink)

    def _name_bare(self, sheet):
        words = f"no sheet at all: {number_words(sheet.bare.likely)} J"
        self.write(words, _LEFT + 12, self._height(sheet.bare.likely) + 14, halo=True)

    def _height(self, joules):
        """Height of an amount of heat, in pixels, where a name has room."""
        return float(np.clip(self.frame.down(joules), _TOP + 8, _BOTTOM - 8))

    def sentence(self, sheet: CatcherSheet, before: CatcherSheet | None) -> str:
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
        if before is not None:
            joules = number_words(before.draw.joules.likely)
            words += f" Before: {self._name(before)} over {below_words(before.ground)}, {joules} J."
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
