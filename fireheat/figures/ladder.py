"""Watts on a ladder: each step up is so many times as much, with familiar things beside it."""

from collections.abc import Sequence

import numpy as np

from ..words import number_words
from . import style
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 344
_RAIL, _TOP, _BOTTOM = 330, 14, 330
_LOW, _HIGH = 0.3, 250.0  # ends of the ladder, in watts


class Ladder(Sketch):
    """The ladder, a mark for the reader and one for a pinned state.

    Parameters
    ----------
    familiar : sequence of (float, str)
        Watts and name of what stands beside it.
    """

    def __init__(self, familiar: Sequence[tuple[float, str]]):
        super().__init__(_WIDTH, _HEIGHT)
        self.familiar = tuple(familiar)
        self.frame = Frame(self, (_RAIL - 40, _TOP, _RAIL + 2, _BOTTOM), y=Scale(_LOW, _HIGH, True))

    def update(self, power: float, pinned: float | None) -> str:
        """Move the marks and return the sentence that says what is shown."""
        self.clear()
        fill = self.frame.fill
        fill("rail", _RAIL - 2, _TOP, _RAIL + 2, _BOTTOM, style.INK)
        for watts in (1.0, 10.0, 100.0):
            y = self._height(watts)
            fill(f"{watts:g} W", 60, y, 110, y + 1, style.RULE)
            self.write(f"{watts:g} W", 52, y, align="right")
        for watts, name in self.familiar:
            y = self._height(watts)
            fill(name, _RAIL, y - 1, _RAIL + 16, y + 1, style.INK)
            self.write(f"{name}, {watts:g} W", _RAIL + 26, y)
        aside = 0.0
        if pinned is not None:
            apart = self._height(pinned) - self._height(power)
            aside = max(0.0, 24 - abs(apart)) / 2 * (1 if apart < 0 else -1)
            self._mark(pinned, "◆ pinned", style.INK, -aside)
        self._mark(power, "your tip", style.EMBER, aside)
        return self.sentence(power, pinned)

    def _mark(self, power, name, color, aside):
        """Point at the rail; the name steps aside where two would overlap."""
        y = self._height(power)
        self.frame.fill(name, _RAIL - 40, y - 3, _RAIL + 2, y + 3, color)
        words = f"{name}: {number_words(power)} W"
        self.write(words, _RAIL - 48, y + aside, color=color, size=16, align="right")

    def _height(self, watts):
        """Height on the ladder, in pixels; what is off the ladder stands at its end."""
        return float(self.frame.down(np.clip(watts, _LOW, _HIGH)))

    def sentence(self, power: float, pinned: float | None) -> str:
        """Say in words what the picture shows."""
        words = f"Your tip makes {number_words(power)} W, {self._between(power)}."
        if pinned is not None:
            words += f" Before: {number_words(pinned)} W, {self._between(pinned)}."
        return words

    def _between(self, power):
        below = [name for watts, name in self.familiar if watts <= power]
        above = [name for watts, name in self.familiar if watts > power]
        if below and above:
            return f"between {below[-1]} and {above[0]}"
        return f"less than {above[0]}" if above else f"more than {below[-1]}"
