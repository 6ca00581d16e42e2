"""A card's tries above one plank, and the goal that the ember has to come before."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.patches import Polygon

from ..spread import Spread
from ..words import TOO_LONG, band_words, time_words
from . import style
from .lane import Flag, Lane, Plank, page
from .sketch import Sketch

_WIDTH = 800
_LEFT, _RIGHT = 166, 770  # of the plank, in pixels


@dataclass(frozen=True)
class Tried:
    """One try of a card.

    Attributes
    ----------
    name, note : str
        Which it is, and what was moved for it.
    found : Spread
        What a stopwatch might see.
    """

    name: str
    note: str
    found: Spread


class CardLanes(Sketch):
    """A card's tries, one lane each, below a flag that says before when the ember has to come."""

    rows = 5  # at most: the start, three tries, and now; more would make the letters too small
    _top, _step, _foot = 72, 62, 362  # in pixels

    def __init__(self):
        super().__init__(_WIDTH, 418)
        with style.look():
            field: Any = {"facecolor": style.YOURS_PALE, "lw": 0, "label": "goal, field"}
            self.field = self.add(page(self).add_patch(Polygon(np.zeros((3, 2)), **field)))
            self.plank = Plank(self, _LEFT, 20, _RIGHT, self._foot)
            self.flag = Flag(self.plank, "goal")
            self.outlines = [
                Lane(self.plank, f"row {row}", outline=True) for row in range(self.rows - 1)
            ]
            self.now = Lane(self.plank, "now")

    def update(self, rows: Sequence[Tried], *, below: float, words: str, met: bool) -> str:
        """Show tries, the last of them as it is now, and the goal; say it in words."""
        self.clear()
        *earlier, now = rows[-self.rows :]
        likely = [row.found.wood.likely for row in rows]
        self.plank.fit(
            [1.3 * below, *likely[-1:]], [*likely, now.found.wood.high, now.found.all.high]
        )
        x = self.plank.across(below)
        self.field.set_xy([(_LEFT, 34), (x, 34), (x, self._foot), (_LEFT, self._foot)])
        self.flag.show(below, f"{'✓ ' if met else ''}{words}", 34)
        for number, lane in enumerate(self.outlines):
            lane.hide()
            if number < len(earlier):
                y = self._top + self._step * number
                lane.show(earlier[number].found, y)
                self._name(earlier[number], y)
        y = self._foot - 42
        self.now.show(now.found, y)
        self._name(now, y)
        self._name_bars(now.found, y)
        self.now.name_range(y, x)
        return self.sentence(now, below)

    def _name(self, row, y):
        if row.note:
            self.write(row.name, _LEFT - 12, y - 11, align="right")
            self.write(row.note, _LEFT - 12, y + 11, color=style.QUIET, align="right")
        else:
            self.write(row.name, _LEFT - 12, y, align="right")
        low = row.found.all.low
        if not self.plank.holds(low):  # nothing of it stands on the plank
            words = "never" if low >= TOO_LONG else f"from {time_words(low)}"
            self.write(words, _RIGHT - 8, y, align="right")

    def _name_bars(self, found, y):
        """Name both bars where they are on the plank."""
        if self.plank.holds(found.wood.low):
            self.write("your wood", self.plank.across(found.wood.low), y - 31)
        if found.all.high <= 0.68 * self.plank.end:
            self.write("all we do not know", self.plank.across(found.all.high) + 10, y)

    def sentence(self, now: Tried, below: float) -> str:
        """Say in words what the picture shows."""
        return (
            f"Now: ember {band_words(now.found.wood)} with this wood,"
            f" {band_words(now.found.all)} with all we do not know; the goal is"
            f" under {time_words(below)}."
        )
