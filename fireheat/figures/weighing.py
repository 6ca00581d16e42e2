"""A piece of wood afloat, and how heavy it is, dry, on a line from nothing to water."""

from collections.abc import Iterable

import numpy as np

from ..answers.weighing import Weighing
from ..kit.wood import Wood
from ..words import percent_words
from . import style
from .patterns import outline, waves
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 262
_POOL = (16, 84, 258, 216)  # left, surface, right and bottom of the water, in pixels
_PIECE = (56, 218, 74)  # left and right of the piece, and how thick it is
_LEFT, _RIGHT, _LINE = 320, 768, 132  # the line of weights
_MOST = 1.1  # its right end, water being one
_EVERY = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)


class WeighingPicture(Sketch):
    """The piece in water, and its reading on a line with all woods.

    Parameters
    ----------
    woods : iterable of Wood
        Those that stand on the line.
    """

    def __init__(self, woods: Iterable[Wood]):
        super().__init__(_WIDTH, _HEIGHT)
        self.woods = tuple(woods)
        self.line_of = Frame(self, (_LEFT, _LINE - 40, _RIGHT, _LINE), Scale(0.0, _MOST))

    def update(self, found: Weighing, before: Weighing | None) -> str:
        """Move to another piece and return the sentence that says what is shown."""
        self.clear()
        self._pool(found)
        self._line()
        if before is not None:
            x = self._across(before.reading.value)
            fill = self.line_of.fill
            fill("before", x - 7, _LINE - 24, x + 7, _LINE, style.INK, outline(1.8, 5, 3))
        self._reading(found)
        return sentence(found, before)

    def _pool(self, found):
        fill = self.whole.fill
        left, surface, right, bottom = _POOL
        start, end, thick = _PIECE
        top = min(surface - thick * (1 - found.afloat), bottom - thick)
        fill("piece", start, top, end, top + thick, style.WOOD)
        for row in range(1, 4):  # its grain
            y = top + row * thick / 4
            fill(f"grain {row}", start + 8, y - 0.6, end - 8, y + 0.6, style.WOOD_MID)
        fill("edge of the piece", start, top, end, top + thick, style.WOOD_DARK, outline(1.6))
        fill("water", left, surface, right, bottom, style.EDGE, waves())
        fill("surface", left, surface - 1, right, surface + 1, style.INK)
        self.write(float_words(found.afloat), (left + right) / 2, bottom + 22, align="center")

    def _across(self, gravity):
        """Place on the line, in pixels; what is off it stands at its end."""
        return float(self.line_of.across(np.clip(gravity, 0.0, _MOST)))

    def _line(self):
        fill = self.line_of.fill
        fill("line of weights", _LEFT, _LINE - 1, _RIGHT, _LINE + 1, style.INK)
        for value in _EVERY:
            x = self._across(value)
            fill(f"{value:.1f}", x - 1, _LINE, x + 1, _LINE + 7, style.INK)
            self.write(f"{value:.1f}", x, _LINE + 20, align="center")
        self.write("water", self._across(1.0), _LINE + 42, color=style.QUIET, align="center")
        self.write("how heavy, dry", _LEFT - 10, _LINE + 42)
        for row in self.woods:
            x = self._across(row.specific_gravity)
            fill(f"wood {row.key}", x - 1, _LINE - 9, x + 1, _LINE - 1, style.WOOD_DARK)

    def _reading(self, found):
        fill, reading = self.line_of.fill, found.reading
        low, middle, high = map(
            self._across,
            (reading.value - reading.error, reading.value, reading.value + reading.error),
        )
        fill("yours, ±", low, _LINE - 24, max(high, low + 1), _LINE - 12, style.YOURS)
        fill("yours", middle - 2, _LINE - 28, middle + 2, _LINE, style.INK)
        look = {"color": style.YOURS, "weight": "bold", "size": 17}
        words = f"yours: {weighed_words(found)}"
        half = self.width(words, size=17, weight="bold") / 2
        x = float(np.clip(middle, _LEFT + half - 20, _RIGHT + 20 - half))
        self.write(words, x, _LINE - 52, align="center", **look)
        for at, row in enumerate(found.alike):
            self.write(f"like {row.name} {row.specific_gravity:.2f}", _LEFT - 10,
                       _LINE + 72 + 22 * at, color=style.QUIET)  # fmt: skip


def weighed_words(found: Weighing) -> str:
    """Spell how heavy dry wood of the piece is beside water.

    Examples
    --------
    >>> from fireheat.answers.weighing import weigh
    >>> weighed_words(weigh(0.0155, piece_length=0.2, piece_width=0.016, moisture=0.09))
    '0.35 ± 0.03'
    """
    return f"{found.reading.value:.2f} ± {found.reading.error:.2f}"


def deep_words(afloat: float) -> str:
    """Say how deep the piece lies in water.

    Examples
    --------
    >>> deep_words(0.39), deep_words(0.99), deep_words(1.2), deep_words(0.02)
    ('4 tenths under', 'hardly floats', 'sinks', 'hardly gets wet')
    """
    tenths = round(10 * afloat)
    if afloat >= 1:
        return "sinks"
    if tenths in (0, 10):
        return "hardly floats" if tenths else "hardly gets wet"
    return f"{tenths} tenth{'s' * (tenths > 1)} under"


def float_words(afloat: float) -> str:
    """Say that it floats, and how.

    Examples
    --------
    >>> float_words(0.39), float_words(1.2)
    ('floats, 4 tenths under water', 'sinks')
    """
    words = deep_words(afloat)
    return f"floats, {words} water" if words.endswith("under") else words


def sentence(found: Weighing, before: Weighing | None) -> str:
    """Say in words what the picture shows.

    Examples
    --------
    >>> from fireheat.answers.weighing import weigh
    >>> sentence(weigh(0.4, piece_length=0.2, piece_width=0.016, moisture=0.09), None)
    'Dry, this would be 9.13 times as heavy as water: no wood is. It sinks.'
    """
    value, floats = found.reading.value, float_words(found.afloat)
    if found.verdict == "heavy":
        words = f"Dry, this would be {value:.2f} times as heavy as water: no wood is. It {floats}."
    else:
        light = ", lighter than the woods that these formulas know" * (found.verdict == "light")
        error = percent_words(found.reading.error)
        words = f"Dry, it is {percent_words(value)} ± {error} as heavy as water{light}."
        words += f" It {floats}."
    if found.alike:
        words += f" As heavy: {', '.join(row.name for row in found.alike)}."
    if before is not None:
        words += f" Before: {weighed_words(before)}."
    return words
