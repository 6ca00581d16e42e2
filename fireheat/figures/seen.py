"""Causes of a failed try, the likeliest first: of ten tries that look so, how many have each."""

from typing import Any

import numpy as np
from matplotlib.lines import Line2D

from ..answers.seen import MOST_CAUSES, Looked, Ranked
from . import style
from .lane import page
from .sketch import Sketch

_WIDTH, _TOP, _STEP = 800, 28, 52
_HEIGHT = _TOP + _STEP * MOST_CAUSES + 6
_LEFT, _FIRST, _GAP = 10, 330, 34  # where rows begin, and the first of ten discs
_TEN = 10
_DISC: Any = {"ls": "", "marker": "o", "ms": 15, "mew": 1.6}
_COUNTED = "by the model: of 10 made-up tries that look so, this many have it"
_OPEN = Ranked("", 0, "")  # a row to be filled


class CauseDiscs(Sketch):
    """A row of ten discs for each cause: filled for each of ten tries that has it."""

    def __init__(self):
        super().__init__(_WIDTH, _HEIGHT)
        axes = page(self)
        looks: dict[str, dict[str, Any]] = {
            "has it": {"color": style.INK},
            "has it not": {"color": style.EDGE, "mfc": style.PAPER},
        }
        self._discs = {
            (name, row): self.add(
                axes.add_line(Line2D([], [], label=f"{name} {row}", **_DISC, **look))
            )
            for name, look in looks.items()
            for row in range(MOST_CAUSES)
        }

    def update(self, now: Looked, before: Looked | None = None) -> str:
        """Move to new causes and return the sentence that says what is shown."""
        self.clear()
        self.write(
            _COUNTED,
            _FIRST - 12,
            12,
            color=style.QUIET,
        )
        for row, one in enumerate(now.rows or [_OPEN] * MOST_CAUSES):
            self._show(row, one)
        for row in range(len(now.rows) or MOST_CAUSES, MOST_CAUSES):
            self._place(row, 0, 0)
        return f"{said(now)}{f' Before: {before_words(before)}' if before else ''}"

    def _show(self, row, one):
        y = _TOP + _STEP * (row + 0.5)
        weight = "bold" if row < 2 else "normal"
        self.write(f"{row + 1}", _LEFT, y, size=16, weight=weight)
        self.write(one.name, _LEFT + 26, y, size=16, weight=weight)
        self._place(row, one.tenths or 0, 0 if one.tenths is None else _TEN)
        if one.tenths is None:
            self.write("common practice, no number", _FIRST - 12, y, color=style.QUIET)
        else:
            self.write(one.share, _FIRST + _GAP * _TEN, y)

    def _place(self, row, have, count):
        """Place so many discs, the first of them filled."""
        y, places = _TOP + _STEP * (row + 0.5), _FIRST + _GAP * np.arange(count)
        for name, some in (("has it", places[:have]), ("has it not", places[have:])):
            self._discs[name, row].set_data(some, np.full(len(some), y))


def said(now: Looked) -> str:
    """Say in words what was found.

    Examples
    --------
    >>> from fireheat.answers.seen import looked
    >>> said(looked(["dies"]))
    'Most likely: catcher draws heat (5 of 10), then damp below the catcher (5 of 10).'
    """
    if not now.rows:
        return now.word
    told = ", then ".join(f"{one.name} ({one.share})" for one in now.rows[:2])
    return f"Most likely: {told}.{f' {now.word}' if now.word else ''}"


def before_words(before: Looked) -> str:
    """Say what was likely before.

    Examples
    --------
    >>> from fireheat.answers.seen import looked
    >>> before_words(looked(["dies"])), before_words(looked([]))
    ('catcher draws heat.', 'nothing ticked.')
    """
    if before.rows:
        return f"{before.rows[0].name}."
    return "two that cannot be." if before.found.clash else "nothing ticked."
