"""How much dust keeps itself hot: one strip from too little to plenty."""

from dataclasses import dataclass

import numpy as np

from ..ember import Ember, Keep
from ..quantities import quantity
from ..words import number_words
from . import style
from .sketch import Sketch

_WIDTH, _HEIGHT = 800, 196
_LEFT, _RIGHT, _TOP, _BOTTOM = 20, 780, 72, 138  # the strip, in pixels from the top left
_ENDS = (3e-7, 1e-2)  # of the axis, in kilograms
_TICKS = (0.001, 0.01, 0.1, 1.0)  # in grams
_PERHAPS = "#F2CBB0"  # the ember's hue, half sure


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
        with style.look():
            size = (_RIGHT - _LEFT) / _WIDTH, (_BOTTOM - _TOP) / _HEIGHT
            axes = self.figure.add_axes((_LEFT / _WIDTH, 1 - _BOTTOM / _HEIGHT, *size))
            ends = [1000 * end for end in _ENDS]
            axes.set(xscale="log", xlim=ends, yticks=[], xlabel="dust in the heap")
            axes.set_xticks(_TICKS, [f"{tick:g} g" for tick in _TICKS])
            axes.xaxis.set_tick_params(which="minor", length=0)
            axes.xaxis.set_minor_formatter("")
            axes.spines["left"].set_visible(False)

    def update(self, heap: Heap, pinned: Heap | None) -> str:
        """Move everything and return the sentence that says what is shown."""
        self.clear()
        low, likely, high = (_pixel_x(mass) for mass in heap.keep.mass_least)
        bottom = _BOTTOM - 1
        self.fill(_LEFT, _TOP, low, bottom, "#EEEEEE")
        self.fill(low, _TOP, high, bottom, _PERHAPS)
        self.fill(high, _TOP, _RIGHT, bottom, style.EMBER)
        self.fill(likely - 1, _BOTTOM - 14, likely + 1, bottom, style.SMOKE)
        middle, place = (_TOP + _BOTTOM) / 2, _pixel_x(heap.ember.mass)
        for text, left, right, ink in (  # a name steps aside for the heap's mark
            ("goes out", _LEFT, low, style.INK),
            ("perhaps", low, high, style.INK),
            ("keeps itself hot", high, _RIGHT, style.PAPER),
        ):
            if left < place < right and abs((left + right) / 2 - place) < 5.5 * len(text) + 8:
                left, right = max((left, place), (place, right), key=lambda ends: ends[1] - ends[0])
            if right - left > 9 * len(text):
                self.write(text, (left + right) / 2, middle, color=ink, align="center")
        grams = quantity("mass").text(heap.ember.mass)
        self.write(f"your heap, {grams}", place, 32, size=16, align="center")
        self.fill(place - 2, 46, place + 2, _BOTTOM, style.INK)
        if pinned is not None:
            then = _pixel_x(pinned.ember.mass)
            self.write("◆", then, _TOP - 10, color=style.PINNED, size=18, align="center")
            self.write("◆ pinned", 4, 14, color=style.PINNED)
        return self.sentence(heap, pinned)

    def sentence(self, heap: Heap, pinned: Heap | None) -> str:
        """Say in words what the picture shows."""
        words = f"Rough: {_say(heap)}."
        return words if pinned is None else f"{words} Pinned: {_say(pinned)}."


def _say(heap):
    low, likely, high = (number_words(1000 * mass) for mass in heap.keep.mass_least)
    return (
        f"{quantity('mass').text(heap.ember.mass)} of dust; the least that keeps itself hot is "
        f"some {likely} g, anywhere from {low} to {high} g"
    )


def _pixel_x(mass):
    """Place of a mass, in pixels from the left; what is off the axis at its end."""
    share = np.log(np.clip(mass, *_ENDS) / _ENDS[0]) / np.log(_ENDS[1] / _ENDS[0])
    return float(_LEFT + share * (_RIGHT - _LEFT))
