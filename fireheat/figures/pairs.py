"""One change in many worlds: two wide times above, and the narrow range of their ratio below."""

from typing import Any

import numpy as np

from ..answers.pairs import Pairs
from ..words import band_words, factor_words, number_words
from . import style
from .lane import Lane, Plank, page
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 440
_LEFT, _RIGHT = 130, 770  # of plank and rail, in pixels
_BEFORE, _AFTER, _RAIL = 44, 168, 372  # heights, in pixels
_MOST = 2.0  # where the rail ends: twice the time
_HALF, _PALE = 15, 9  # half heights of its bars, in pixels


class PairLanes(Sketch):
    """Two lanes, a line for each world from the one to the other, and their ratio on a rail."""

    def __init__(self) -> None:
        super().__init__(_WIDTH, _HEIGHT)
        with style.look():
            self.plank = Plank(self, _LEFT, 8, _RIGHT, 216)
            self.rail = Frame(self, (_LEFT, _RAIL - 24, _RIGHT, _RAIL + 24), Scale(0.0, _MOST))
            thin: Any = {"color": style.SMOKE, "lw": 1.2, "alpha": 0.9}
            # One line for all worlds, broken between them.
            lines = self.plank.axes.plot([], [], label="worlds", **thin)
            self._worlds = self.add(lines[0])
            self._lanes = Lane(self.plank, "as it is"), Lane(self.plank, "changed")
            self._still()

    def _still(self):
        page(self).plot([_LEFT, _RIGHT], [_RAIL + 24] * 2, color=style.INK, lw=2)
        for times in np.arange(0.0, _MOST + 0.01, 0.5):
            x = float(self.rail.across(times))
            page(self).plot([x, x], [_RAIL + 24, _RAIL + 31], color=style.INK, lw=2)

    def update(self, now: Pairs, before: Pairs | None = None) -> str:
        """Move everything and return the sentence that says what is shown.

        Parameters
        ----------
        now : Pairs
            The change.
        before : Pairs, optional
            What was shown before: its ratio is told.

        Returns
        -------
        str
            The sentence.
        """
        self.clear()
        self.plank.fit([now.one.wood.high, now.other.wood.high], [now.one.all.high])
        for lane, found, y in zip(
            self._lanes, (now.one, now.other), (_BEFORE, _AFTER), strict=True
        ):
            lane.show(found, y)
        self._draw_worlds(now)
        self.write("as it is", _LEFT - 14, _BEFORE, align="right")
        self.write("changed", _LEFT - 14, _AFTER, align="right")
        self._draw_ratio(now)
        self._lanes[0].name_range(_BEFORE)
        return self.sentence(now, before)

    def _draw_worlds(self, now):
        both = np.isfinite(now.before) & np.isfinite(now.after) & (now.before <= self.plank.end)
        one, other = now.before[both], now.after[both]
        gap = np.full_like(one, np.nan)
        across = np.column_stack([one, other, gap]).ravel()
        heights = np.tile([_BEFORE + 40.0, _AFTER - 30.0, np.nan], len(one))
        self._worlds.set_data(across, heights)

    def _draw_ratio(self, now):
        for what, band, half, color in (
            ("from the two times alone", now.apart, _PALE, style.EMBER_PALE),
            ("the change", now.ratio, _HALF, style.EMBER_BAND),
        ):
            low, high = (min(end, _MOST) for end in band.ends)
            across = (float(self.rail.across(end)) for end in (low, high))
            left, right = across
            self.fill(left, _RAIL - half, max(right, left + 2), _RAIL + half, color, name=what)
        if now.ratio.likely <= _MOST:
            x, tall = float(self.rail.across(now.ratio.likely)), _HALF + 5
            self.fill(x - 2, _RAIL - tall, x + 2, _RAIL + tall, style.INK, name="likely")
        for times in (0.0, 0.5, 1.0, 1.5, 2.0):
            words = f"× {number_words(times)}" if times else "0"
            self.write(words, float(self.rail.across(times)), _RAIL + 44, align="center")
        self.write("the change", _LEFT - 14, _RAIL, align="right")
        far = now.apart.high
        if far > _MOST:
            end = f"up to × {number_words(far)}" if np.isfinite(far) else "anything"
            words = f"the two times alone would say: {end}"
            self.write(words, _RIGHT, _RAIL - 30, color=style.QUIET, align="right")

    @staticmethod
    def sentence(now: Pairs, before: Pairs | None) -> str:
        """Say in words what the picture shows."""
        words = (
            f"As it is: {band_words(now.one.all)}. If it is {now.change}: "
            f"{band_words(now.other.all)}. With the same unknowns in both: "
            f"{factor_words(now.ratio)}."
        )
        if before is not None:
            words += f" Before: {before.change}, {factor_words(before.ratio)}."
        return words
