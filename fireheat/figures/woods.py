"""All woods in rows: floor and ember band of each along one axis of time."""

from ..answers.woods import Woodpile
from ..words import NEVER, TOO_LONG, band_words, floor_words, time_words
from . import style
from .sketch import Frame, Sketch
from .time_axis import TimeAxis

_TIMES = TimeAxis(2.0, (3, 10, 30, 120, 600))
_LEFT, _RIGHT, _TOP, _ROW = 232, 690, 30, 23  # in pixels from the top left
_WIDTH = 800


class WoodRows(Sketch):
    """A row a wood, soonest first, the chosen one marked, and a pinned state.

    Parameters
    ----------
    count : int
        How many woods there are.
    """

    def __init__(self, count: int):
        self.bottom = _TOP + count * _ROW + 4
        height = self.bottom + 34
        super().__init__(_WIDTH, height)
        self.frame = Frame(self, (_LEFT, _TOP, _RIGHT, self.bottom), _TIMES.scale)
        with style.look():
            axes = self.frame.draw_axes()
            axes.set_yticks([])
            axes.spines["left"].set_visible(False)
            _TIMES.dress(axes, "x")
            axes.grid(axis="x", color=style.RULE, linewidth=0.8)

    def update(self, pile: Woodpile, pinned: Woodpile | None) -> str:
        """Move every row and return the sentence that says what is shown."""
        self.clear()
        floor, low = self._across(pile.bounds[0]), self._across(pile.embers.low[0])
        self.write("energy floor", floor + 2, 14, color=style.INK, align="right")
        self.write("ember, estimate", min(low, _RIGHT - 160), 14, color=style.EMBER)
        self.write("most likely", _WIDTH - 4, 14, align="right")
        for at in range(len(pile.woods)):
            self._row(pile, at)
        if pinned is not None:
            self.write("◆ pinned", 4, 14, color=style.INK)
            for at, seconds in enumerate(pinned.embers.likely):
                size, place = 18 if at == pinned.chosen else 12, self._across(seconds)
                self.write("◆", place, _middle(at), color=style.INK, size=size, align="center")
        return self.sentence(pile, pinned)

    def _row(self, pile, at):
        y, chosen = _middle(at), at == pile.chosen
        wood, fill = pile.woods[at].name, self.frame.fill
        if chosen:
            fill("chosen", 0, y - _ROW / 2, _LEFT - 6, y + _ROW / 2, style.SHADE)
        name = f"{'▸ ' if chosen else ''}{wood}"
        ink = style.INK if chosen else style.QUIET
        self.write(name, _LEFT - 12, y, color=ink, align="right")
        floor = self._across(pile.bounds[at])
        low, likely, high = map(self._across, pile.embers.at(at))
        band = style.EMBER_BAND if chosen else style.EMBER_PALE
        fill(f"{wood}, low to high", low, y - 7, max(high, low + 2), y + 7, band)
        fill(f"{wood}, likely", likely - 1.5, y - 7, likely + 1.5, y + 7, style.INK)
        fill(f"{wood}, floor", floor - 1.5, y - 8, floor + 1.5, y + 8, ink)
        self.write(time_words(pile.embers.likely[at]), _WIDTH - 4, y, color=ink, align="right")

    def _across(self, seconds):
        """Place of times, in pixels from the left; what is off the axis stands at its end."""
        return self.frame.across(_TIMES.place(seconds))

    def sentence(self, pile: Woodpile, pinned: Woodpile | None) -> str:
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
        if pinned is not None:
            words += f" Before: {_name(pinned)}, estimate {band_words(pinned.ember)}."
        return words


def _name(pile):
    return pile.wood.name


def _middle(at):
    """Middle of a row, in pixels from the top."""
    return _TOP + (at + 0.5) * _ROW
