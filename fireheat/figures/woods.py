"""Woods in rows: floor and ember band of each along one axis of time."""

import numpy as np

from ..answers.woods import Woodpile
from ..bands import Band
from ..words import (
    NEVER,
    TOO_LONG,
    band_words,
    floor_words,
    number_words,
    range_words,
    time_words,
)
from . import style
from .lane import Plank
from .marks import before_box, likely_dot
from .patterns import hatching, outline
from .sketch import Sketch

_LEFT, _RIGHT, _TOP = 232, 664, 32  # in pixels from the top left
_WIDTH, _PLANK, _HEIGHT = 800, 52, 476  # as high however few the rows are: nothing jumps
_LEAST, _MOST = 21, 40  # pixels that a row may take
_SAME = 1e-3  # of a time: kits side by side settle together, to some millionths
_SPACE = 6  # pixels between words that are written one by one
_HALF = 6  # height of a bar, half
_BEYOND = 10  # pixels that a bar sticks out where it goes on behind the plank's end


class WoodRows(Sketch):
    """A row a wood, soonest first, above one plank of time; the chosen one is marked.

    Parameters
    ----------
    count : int
        How many woods there are.
    """

    def __init__(self, count: int):
        self.row = np.clip((_HEIGHT - _TOP - _PLANK - 4) / count, _LEAST, _MOST)
        self.bottom = _TOP + count * self.row + 4
        super().__init__(_WIDTH, max(_HEIGHT, self.bottom + _PLANK))
        with style.look():
            self.plank = Plank(self, _LEFT, _TOP, _RIGHT, self.bottom)
        self.frame = self.plank.frame

    def update(self, pile: Woodpile, before: Woodpile | None) -> str:
        """Move every row and return the sentence that says what is shown."""
        self.clear()
        then = [] if before is None else [before.ember.likely]
        must = *pile.embers.likely, *pile.bounds, *then
        self.plank.fit(map(float, must), map(float, pile.embers.high))
        for at in range(len(pile.woods)):
            self._row(pile, at)
        past = {} if before is None else _moved(pile, before)
        for at, band in past.items():
            self._bar(f"{pile.woods[at].name}, before", band, self._middle(at), before_box)
        self._head(pile, past.get(0))
        return self.sentence(pile, before)

    def _head(self, pile, past):
        """Name the columns, and the bars by the first row's; its own from before, if it moved."""
        self.write("time, ▸ = 1", _WIDTH - 4, 14, align="right")
        floor, low = self.plank.across(pile.bounds[0]), self.plank.across(pile.embers.low[0])
        end = max(floor, _LEFT + 50)
        self.write("floor", end, 14, align="right")
        if self.plank.holds(pile.embers.low[0]):
            spots = [(max(low, end + 14), 14, "left"), (low + 60, 14, "left")]
            self.write_free("your wood", spots, color=style.EMBER)
        if past is not None and self.plank.holds(past.low):
            then = self.plank.across(past.low)
            spots = [(then + aside, 14, "left") for aside in (0, 60, 110, 160, 210, -80)]
            self.write_free("before", spots)

    def _row(self, pile, at):
        y, chosen = self._middle(at), at == pile.chosen
        wood, fill = pile.woods[at].name, self.frame.fill
        if chosen:
            fill("chosen", 0, y - self.row / 2, _LEFT - 6, y + self.row / 2, style.SHADE)
        name = f"{'▸ ' if chosen else ''}{wood}"
        ink = style.INK if chosen else style.QUIET
        self.write(name, _LEFT - 12, y, color=ink, align="right")
        floor = self.plank.across(pile.bounds[at])
        wall = y - self.row / 2, floor, y + self.row / 2
        fill(f"{wood}, wall", _LEFT, *wall, style.EDGE, hatching())
        fill(f"{wood}, floor", floor - 1.5, wall[0], floor + 1.5, wall[2], style.INK)
        if chosen:
            self._bar(f"{wood}, all", pile.spread.all, y, self._pale)
        self._bar(wood, pile.embers.at(at), y, self._solid)
        likely = float(pile.embers.likely[at])
        if self.plank.holds(likely):
            likely_dot(self.frame, f"{wood}, likely", self.plank.across(likely), y)
        self._beside("1" if chosen else beside_words(pile.ratios.at(at), likely), y, ink)

    def _beside(self, words, y, ink):
        """Write a wood's time beside the chosen one's, word by word.

        Setting type is slow, and is done once for each text: numbers come again, pairs seldom do.
        """
        right = _WIDTH - 4
        for word in reversed(words.split(" ")):
            self.write(word, right, y, color=ink, align="right")
            right -= self.width(word) + _SPACE

    def _bar(self, name, band, y, draw):
        """Draw a bar from low to high; one that goes on behind the plank's end sticks out."""
        low, _, high = map(float, band)
        if not self.plank.holds(low):
            return
        right = self.plank.across(high) + (0 if self.plank.holds(high) else _BEYOND)
        left = self.plank.across(low)
        draw(self.frame, name, left, y - _HALF, max(right, left + 2), y + _HALF)

    @staticmethod
    def _solid(frame, name, left, top, right, bottom):
        frame.fill(f"{name}, low to high", left, top, right, bottom, style.EMBER_BAND)

    @staticmethod
    def _pale(frame, name, left, top, right, bottom):
        box = left, top + 2, right, bottom - 2
        frame.fill(name, *box, style.EMBER_PALE)
        frame.fill(f"{name}, edge", *box, style.EMBER_BAND, outline(1.3, 5, 3))

    def _middle(self, at):
        """Middle of a row, in pixels from the top."""
        return _TOP + (at + 0.5) * self.row

    def sentence(self, pile: Woodpile, before: Woodpile | None) -> str:
        """Say in words what the picture shows."""
        floor, likely = floor_words(pile.bound), pile.embers.likely
        words = f"{_name(pile)}: "
        words += (
            f"{NEVER} an ember."
            if pile.bound >= TOO_LONG
            else f"floor {floor}; ember, estimate {band_words(pile.ember)}."
        )
        words += (
            f" Of {len(pile.woods)} woods, most likely: {pile.woods[0].name} first, "
            f"{time_words(likely[0])}; {pile.woods[-1].name} last, {time_words(likely[-1])}."
        )
        if before is not None:
            words += f" Before: {_name(before)}, estimate {band_words(before.ember)}."
        return words


def _moved(pile, before):
    """Find the bars of before, by row: those of another place, and that of the wood then chosen."""
    rows = {wood: at for at, wood in enumerate(pile.woods)}
    found = {}
    for then, wood in enumerate(before.woods):
        if (at := rows.get(wood)) is not None:
            band = before.embers.at(then)
            stays = np.allclose(list(band), list(pile.embers.at(at)), rtol=_SAME)
            if then == before.chosen or not stays:
                found[at] = band
    return found


def beside_words(ratio: Band, likely: float) -> str:
    """Spell briefly a wood's time over that of the chosen one.

    Examples
    --------
    >>> beside_words(Band(0.54, 0.7, 0.76), 40.0), beside_words(Band(1.4, 1.6, np.inf), 90.0)
    ('0.54 to 0.76', '1.4 to never')
    >>> beside_words(Band(0.0, 0.0, 0.4), 90.0), beside_words(Band(1.0, 1.0, 1.0), np.inf)
    ('at most 0.4', 'never')
    """
    low, _, high = map(float, ratio)
    if low == np.inf or (likely == np.inf and low == high == 1):
        return NEVER
    if high == np.inf:
        return "not known" if low == 0 else f"{number_words(low)} to {NEVER}"
    if low == 0:
        return f"at most {number_words(high)}" if high else "at last"
    return range_words((low, high))


def _name(pile):
    return pile.wood.name
