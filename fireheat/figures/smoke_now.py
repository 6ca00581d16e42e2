"""The minute after first smoke, on the plank: when it smoked, now, and when the ember may come."""

from typing import Any

import numpy as np
from matplotlib.patches import Polygon

from ..coach.smoke_now import AfterSmoke
from ..words import TOO_LONG, band_words, time_words
from . import style
from .lane import Plank, page
from .sketch import Sketch

_WIDTH, _HEIGHT = 800, 226
_LEFT, _RIGHT, _FOOT = 40, 760, 170  # of the plank, in pixels
_BAR, _HALF, _POINT = 112, 26, 16  # height of the bar, half of how thick it is, its point
_DASH: Any = (0, (4, 2.5))
_LETTERS, _NARROW = 16, 130  # pt, and a bar too narrow for its name, in pixels
_MARKS = {"smoke": "SMOKE", "now": "INK"}
_TOP = 66  # where the marks begin, in pixels


class SmokePlank(Sketch):
    """A grey mark for first smoke, a black one for now, and a bar for the ember."""

    def __init__(self) -> None:
        super().__init__(_WIDTH, _HEIGHT)
        with style.look():
            self.plank = Plank(self, _LEFT, 20, _RIGHT, _FOOT)
            self.bar = self._shape("ember", fc=style.EMBER_PALE, ec=style.EMBER_BAND, lw=1.2)
            self.before = self._shape("before", fc="none", ec=style.INK, lw=1.8)

    def _shape(self, name, **look):
        shape = Polygon(np.zeros((3, 2)), label=name, ls=_DASH, **look)
        return self.add(page(self).add_patch(shape))

    def update(
        self,
        found: AfterSmoke,
        *,
        smoke_time: float,
        elapsed: float,
        before: AfterSmoke | None = None,
    ) -> str:
        """Show when it smoked, now, and when the ember may come; say it in words.

        Parameters
        ----------
        found : AfterSmoke
            What is expected.
        smoke_time, elapsed : float
            First smoke, and now, since the first stroke. [s]
        before : AfterSmoke, optional
            What was expected before.

        Returns
        -------
        str
            The sentence.
        """
        self.clear()
        self.plank.fit([elapsed, smoke_time, found.window.likely], [found.window.high])
        self._stretch(self.bar, found.window, _HALF)
        self.before.set_visible(before is not None)
        if before is not None:
            self._stretch(self.before, before.window, _HALF + 5)
        for name, time in (("smoke", smoke_time), ("now", elapsed)):
            x, color = self.plank.across(time), style.color(_MARKS[name])
            self.fill(x - 4, _TOP, x + 4, _FOOT, color, name=name)
        self._name(found.window, smoke_time, elapsed)
        return self.sentence(found, smoke_time, elapsed, before)

    def _stretch(self, shape, band, half):
        """Draw a bar from low to high; one that runs off the plank ends in a point."""
        shape.set_visible(self.plank.holds(band.low))
        left, right = (self.plank.across(end) for end in band.ends)
        tip = [] if self.plank.holds(band.high) else [(right + _POINT, _BAR)]
        up, down = _BAR - half, _BAR + half
        shape.set_xy([(left, up), (right, up), *tip, (right, down), (left, down)])

    def _name(self, window, smoke_time, elapsed):
        """Name bar and marks; now stands above smoke, where they are near each other."""
        if self.plank.holds(window.likely):
            x = self.plank.across(window.likely)
            self.fill(x - 2.5, _BAR - 32, x + 2.5, _BAR + 32, style.EMBER, name="likely")
        look: Any = {"weight": "bold", "size": _LETTERS}
        for name, time in (("smoke", smoke_time), ("now", elapsed)):
            x, words = self.plank.across(time), f"{name} {time_words(time)}"
            wide = self.width(words, size=_LETTERS, weight="bold")
            left = min(x - 4, _RIGHT - wide)
            self.write_free(words, [(left, _TOP - 14, "left"), (left, _TOP - 44, "left")], **look)
        if self.plank.holds(window.low):
            left, right = (self.plank.across(end) for end in window.ends)
            spots = [(right - 10, _BAR, "right"), (left + 10, _BAR, "left")]
            self.write_free("ember", spots[right - left < _NARROW :], halo=True, **look)

    @staticmethod
    def sentence(
        found: AfterSmoke, smoke_time: float, elapsed: float, before: AfterSmoke | None
    ) -> str:
        """Say in words what the picture shows."""
        words = f"First smoke at {time_words(smoke_time)}, now {time_words(elapsed)}."
        if found.window.low >= TOO_LONG:
            words += " The ember most likely does not come any more."
        else:
            words += f" From the first stroke, the ember comes in {band_words(found.window)}."
        if before is not None:
            words += f" Before: {band_words(before.window)}."
        return words
