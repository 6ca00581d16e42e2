"""Watts on a ladder: each step up is so many times as much, with familiar things beside it."""

from collections.abc import Sequence

import numpy as np

from ..words import number_words
from . import style
from .marks import before_box
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 344
_RAIL, _TOP, _BOTTOM = 330, 14, 330
_LOW, _HIGH = 0.3, 250.0  # ends of the ladder, in watts


class Ladder(Sketch):
    """The ladder, a mark for the reader and one for before.

    Parameters
    ----------
    familiar : sequence of (float, str)
        Watts and name of what stands beside it.
    """

    def __init__(self, familiar: Sequence[tuple[float, str]]):
        super().__init__(_WIDTH, _HEIGHT)
        self.familiar = tuple(familiar)
        self.frame = Frame(self, (_RAIL - 40, _TOP, _RAIL + 2, _BOTTOM), y=Scale(_LOW, _HIGH, True))

    def update(self, power: float, before: float | None) -> str:
        """Move the marks and return the sentence that says what is shown."""
        self.clear()
        fill = self.frame.fill
        fill("rail", _RAIL - 2, _TOP, _RAIL + 2, _BOTTOM, style.INK)
        for watts in (1.0, 10.0, 100.0):
            y = self._height(watts)
            fill(f"{watts:g} W", 70, y, 84, y + 1, style.RULE)  # a name may begin right of it
            self.write(f"{watts:g} W", 64, y, align="right")
        for watts, name in self.familiar:
            y = self._height(watts)
            fill(name, _RAIL, y - 1, _RAIL + 16, y + 1, style.INK)
            self.write(f"{name}, {watts:g} W", _RAIL + 26, y)
        aside = 0.0
        if before is not None:
            apart = self._height(before) - self._height(power)
            aside = max(0.0, 24 - abs(apart)) / 2 * (1 if apart < 0 else -1)
            self._before(before, -aside)
        self._mark(power, aside)
        return self.sentence(power, before)

    def _mark(self, power, aside):
        """Point at the rail; the name steps aside where two would overlap."""
        y = self._height(power)
        self.frame.fill("your tip", _RAIL - 40, y - 3, _RAIL + 2, y + 3, style.EMBER)
        self._name("your tip", power, y + aside, color=style.EMBER, weight="bold")

    def _before(self, power, aside):
        y = self._height(power)
        before_box(self.frame, "before", _RAIL - 40, y - 5, _RAIL - 3, y + 5)
        self._name("before", power, y + aside)

    def _name(self, name, power, y, **look):
        words = f"{name}: {number_words(power)} W"
        self.write(words, _RAIL - 48, y, size=16, align="right", **look)

    def _height(self, watts):
        """Height on the ladder, in pixels; what is off the ladder stands at its end."""
        return float(self.frame.down(np.clip(watts, _LOW, _HIGH)))

    def sentence(self, power: float, before: float | None) -> str:
        """Say in words what the picture shows."""
        words = f"Your tip makes {number_words(power)} W, {self._between(power)}."
        if before is not None:
            words += f" Before: {number_words(before)} W, {self._between(before)}."
        return words

    def _between(self, power):
        below = [name for watts, name in self.familiar if watts <= power]
        above = [name for watts, name in self.familiar if watts > power]
        if below and above:
            return f"between {below[-1]} and {above[0]}"
        return f"less than {above[0]}" if above else f"more than {below[-1]}"
