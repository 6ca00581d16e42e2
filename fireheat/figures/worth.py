"""Who makes how much of the doubt about an ember's time: one bar each, the greatest first."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from matplotlib.patches import Polygon

from ..answers.worth import Doubt, next_words, parts_words
from ..unknowns import unknowns
from . import style
from .lane import page
from .sketch import Frame, Scale, Sketch

MOST_ROWS = 9  # what a reader sets, wood, luck, and what nobody knows
_WIDTH, _TOP, _STEP = 800, 34, 38
_HEIGHT = _TOP + _STEP * MOST_ROWS + 44
_LEFT, _RIGHT, _HALF = 262, 566, 12
_AXIS = _TOP + _STEP * MOST_ROWS + 4
_DASH: Any = (0, (4, 2.5))
_NAMES = {
    "wood": "this piece of wood",
    "open": "what nobody knows",
    "luck": "luck",
    "pull": "bow pull",
    "power": "watts at first smoke",
}
_STATES = {"guessed": "guessed", "measured": "◆ measured", "unknown": "not yours to measure"}


def doubt_name(key: str) -> str:
    """Name a group of unknowns as a reader sees it.

    Examples
    --------
    >>> doubt_name("open"), doubt_name("diameter")
    ('what nobody knows', 'spindle diameter')
    """
    return _NAMES.get(key) or unknowns()[key].name


class DoubtBars(Sketch):
    """A bar for each group: solid if guessed, blue if measured, pale and dashed for the rest."""

    def __init__(self):
        super().__init__(_WIDTH, _HEIGHT)
        self.frame = Frame(self, (_LEFT, _TOP, _RIGHT, _HEIGHT), Scale(0.0, 1.0))
        pale: Any = {"fc": style.EMBER_PALE, "ec": style.EMBER_BAND, "ls": _DASH, "lw": 1.2}
        axes = page(self)
        self._pale = [
            self.add(axes.add_patch(Polygon(np.zeros((3, 2)), label=f"pale {row}", **pale)))
            for row in range(3)
        ]

    def update(self, found: Sequence[Doubt]) -> str:
        """Move to new shares and return the sentence that says what is shown."""
        self.clear()
        end = max(0.5, max(one.share for one in found))
        self.frame.rescale(x=Scale(0.0, end))
        self._axis(end)
        for part in self._pale:
            part.set_visible(False)
        pale = iter(self._pale)
        for row, one in enumerate(found[:MOST_ROWS]):
            self._bar(one, _TOP + _STEP * (row + 0.5), pale)
        return self.sentence(found)

    def _axis(self, end):
        self.write("who makes the doubt about the ember's time", _LEFT, 14, color=style.QUIET)
        for tenths in range(int(10 * end + 1e-9) + 1):
            x = float(self.frame.across(tenths / 10))
            self.frame.fill(f"{tenths} of 10", x - 1, _AXIS, x + 1, _AXIS + 7, style.EDGE)
            self.write(f"{tenths}", x, _AXIS + 22, align="center")
        self.write("of 10 parts", _RIGHT + 24, _AXIS + 22)

    def _bar(self, one, y, pale):
        right = float(self.frame.across(one.share))
        self.write(doubt_name(one.key), _LEFT - 10, y, align="right")
        if one.state == "unknown":
            patch = next(pale)
            corners = [(_LEFT, y - _HALF), (right, y - _HALF), (right, y + _HALF)]
            patch.set_xy([*corners, (_LEFT, y + _HALF)])
            patch.set_visible(True)
        else:
            color = style.YOURS if one.state == "measured" else style.EMBER_BAND
            box = _LEFT, y - _HALF, max(right, _LEFT + 2), y + _HALF
            self.frame.fill(doubt_name(one.key), *box, color)
        color = style.YOURS if one.state == "measured" else style.QUIET
        self.write(_STATES[one.state], max(right, _LEFT + 2) + 8, y, color=color)

    def sentence(self, found: Sequence[Doubt]) -> str:
        """Say in words what the picture shows."""
        most, *others = [(doubt_name(one.key), parts_words(one.share)) for one in found[:3]]
        parts = [" makes ".join(most), *map(" ".join, others)]
        return (
            f"Of the doubt about the ember's time, {', '.join(parts)}. {next_words(tuple(found))}"
        )
