"""How much dust keeps itself hot: one strip from too little to plenty."""

from dataclasses import dataclass

import numpy as np

from ..ember.ember import Ember
from ..ember.ignition import Keep
from ..words import number_words
from . import style
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 196
_LEFT, _RIGHT, _TOP, _BOTTOM = 20, 780, 72, 138  # the strip, in pixels from the top left
_ENDS = (3e-7, 1e-2)  # of the axis, in kilograms
_TICKS = (0.001, 0.01, 0.1, 1.0)  # in grams
ENOUGH = {"stays hot": "enough", "perhaps": "perhaps", "goes out": "too little"}


def grams(mass: float) -> str:
    """Spell a mass of dust to two figures, however little it is.

    Examples
    --------
    >>> grams(0.18e-3), grams(5e-6)
    ('0.18 g', '0.005 g')
    """
    return f"{number_words(1000 * mass)} g"


@dataclass(frozen=True)
class Heap:
    """A heap of hot dust.

    Attributes
    ----------
    ember : Ember
        What it is if all of it glows.
    keep : Keep
        Whether it keeps.
    """

    ember: Ember
    keep: Keep


class KeepStrip(Sketch):
    """A strip of dust by mass: too small, perhaps, keeps itself hot; the reader's heap on it."""

    def __init__(self):
        super().__init__(_WIDTH, _HEIGHT)
        low, high = (1000 * end for end in _ENDS)
        grams = Scale(low, high, factors=True)
        self.frame = Frame(self, (_LEFT, _TOP, _RIGHT, _BOTTOM), grams)
        with style.look():
            axes = self.frame.draw_axes()
            axes.set(yticks=[], xlabel="dust in the heap")
            axes.set_xticks(_TICKS, [f"{tick:g} g" for tick in _TICKS])
            axes.xaxis.set_tick_params(which="minor", length=0)
            axes.xaxis.set_minor_formatter("")
            axes.spines["left"].set_visible(False)

    def update(self, heap: Heap, before: Heap | None) -> str:
        """Move everything and return the sentence that says what is shown."""
        self.clear()
        low, likely, high = self._across(heap.keep.mass_least)
        bottom, fill = _BOTTOM - 1, self.frame.fill
        fill("goes out", _LEFT, _TOP, low, bottom, style.SHADE)
        fill("perhaps", low, _TOP, high, bottom, style.EMBER_PALE)
        fill("stays hot", high, _TOP, _RIGHT, bottom, style.EMBER)
        fill("least, likely", likely - 1, _BOTTOM - 14, likely + 1, bottom, style.SMOKE)
        middle, place = (_TOP + _BOTTOM) / 2, self._across(heap.ember.mass)
        for text, left, right, ink in (  # a name steps aside for the heap's mark
            ("goes out", _LEFT, low, style.INK),
            ("perhaps", low, high, style.INK),
            ("stays hot", high, _RIGHT, style.PAPER),
        ):
            if left < place < right and abs((left + right) / 2 - place) < 5.5 * len(text) + 8:
                left, right = max((left, place), (place, right), key=lambda ends: ends[1] - ends[0])
            if right - left > 9 * len(text):
                self.write(text, (left + right) / 2, middle, color=ink, align="center")
        self.write(f"your heap, {grams(heap.ember.mass)}", place, 32, size=16, align="center")
        fill("your heap", place - 2, 46, place + 2, _BOTTOM, style.INK)
        if before is not None:
            then = self._across(before.ember.mass)
            self.write("◆", then, _TOP - 10, color=style.INK, size=18, align="center")
            self.write("◆ before", 4, 14, color=style.INK)
        return self.sentence(heap, before)

    def _across(self, mass):
        """Place of masses in kilograms, in pixels; what is off the axis stands at its end."""
        return self.frame.across(1000 * np.clip(mass, *_ENDS))

    def sentence(self, heap: Heap, before: Heap | None) -> str:
        """Say in words what the picture shows."""
        words = f"Rough: {_say(heap)}."
        return words if before is None else f"{words} Before: {_say(before)}."


def _say(heap):
    low, likely, high = (number_words(1000 * mass) for mass in heap.keep.mass_least)
    return (
        f"{grams(heap.ember.mass)} of dust; the smallest heap that stays hot has "
        f"some {likely} g, anywhere from {low} to {high} g. Verdict: {ENOUGH[heap.keep.verdict]}"
    )
