"""All catchers in rows: joules taken from an ember in its first minute, along one axis."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ..ember.catchers import catchers
from ..ember.draw import Draw
from ..ember.ember import Ember
from ..ember.scorch import Scorch
from ..words import below_words, number_words, range_words, whole_range_words, whole_words
from . import style
from .sketch import Frame, Scale, Sketch

_TICKS = (30, 100, 300, 1000, 3000, 10000)
_LEAST, _MOST = 15.0, 30000.0
_LEFT, _RIGHT, _TOP, _ROW = 230, 700, 34, 23  # in pixels from the top left
_WIDTH = 800


@dataclass(frozen=True)
class Laid:
    """One ember, laid on every catcher in turn.

    Attributes
    ----------
    draws : mapping of str to Draw
        What each catcher takes.
    chosen : str
        Key of the one looked at.
    ground : str
        What lies below.
    ember : Ember
        The ember.
    scorch : Scorch
        When the chosen one's far face scorches.
    """

    draws: Mapping[str, Draw]
    chosen: str
    ground: str
    ember: Ember
    scorch: Scorch

    @property
    def draw(self) -> Draw:
        """What the chosen catcher takes."""
        return self.draws[self.chosen]

    @property
    def name(self) -> str:
        """Name of the chosen catcher."""
        return catchers()[self.chosen].name

    @property
    def order(self) -> list[str]:
        """Keys, the least greedy first."""
        return sorted(self.draws, key=lambda key: self.draws[key].joules.likely)


class CatcherRows(Sketch):
    """A row a catcher, the least greedy on top, beside what the ember makes and loses."""

    def __init__(self):
        self.bottom = _TOP + len(catchers()) * _ROW + 4
        height = self.bottom + 56
        super().__init__(_WIDTH, height)
        box = _LEFT, _TOP, _RIGHT, self.bottom
        self.frame = Frame(self, box, Scale(_LEAST, _MOST, factors=True))
        with style.look():
            axes = self.frame.draw_axes()
            axes.set_yticks([])
            axes.spines["left"].set_visible(False)
            axes.set_xticks(_TICKS, [f"{joules:,}" for joules in _TICKS])
            axes.xaxis.set_tick_params(which="minor", length=0)
            axes.xaxis.set_minor_formatter("")
            axes.set_xlabel("joules taken from the ember in its first minute", labelpad=4)
            axes.grid(axis="x", color=style.RULE, linewidth=0.8)

    def update(self, laid: Laid, pinned: Laid | None) -> str:
        """Move every row and return the sentence that says what is shown."""
        self.clear()
        self._marks(laid.draw)
        for at, key in enumerate(laid.order):
            self._row(laid.draws[key], at, catchers()[key].name, key == laid.chosen)
        if pinned is not None:
            self.write("◆ pinned", 4, 14, color=style.INK)
            for at, key in enumerate(laid.order):
                size = 18 if key == pinned.chosen else 12
                place = self._across(pinned.draws[key].joules.likely)
                self.write("◆", place, _middle(at), color=style.INK, size=size, align="center")
        return self.sentence(laid, pinned)

    def _marks(self, draw):
        """Mark what the ember makes, with its band, and what its face loses, in a minute."""
        weak, strong = self._across(draw.made.ends)
        made, lost = self._across((draw.made.likely, draw.joules_lost))
        fill = self.frame.fill
        fill("ember makes, low to high", weak, 24, strong, self.bottom, style.EMBER_PALE)
        fill("open face loses", lost - 1, 24, lost + 1, self.bottom, style.EDGE)
        fill("ember makes", made - 1.5, 24, made + 1.5, self.bottom, style.EMBER)
        self.write("open face loses", lost + 2, 14, color=style.QUIET, align="right")
        self.write("ember makes", made, 14, color=style.EMBER)
        self.write("first minute", _WIDTH - 4, 14, align="right")

    def _row(self, draw, at, name, chosen):
        y, fill = _middle(at), self.frame.fill
        if chosen:
            fill("chosen", 0, y - _ROW / 2, _LEFT - 6, y + _ROW / 2, style.SHADE)
        ink = style.INK if chosen else style.QUIET
        self.write(f"{'▸ ' if chosen else ''}{name}", _LEFT - 12, y, color=ink, align="right")
        low, high = self._across(draw.joules.ends)
        band = style.SPINDLE if chosen else style.WOOD
        fill(f"{name}, low to high", low, y - 7, max(high, low + 2), y + 7, band)
        likely = self._across(draw.joules.likely)
        line = style.PAPER if chosen else style.INK
        fill(f"{name}, likely", likely - 1.5, y - 7, likely + 1.5, y + 7, line)
        self.write("J", _WIDTH - 4, y, color=ink, align="right")
        self.count(number_words(draw.joules.likely), _WIDTH - 18, y, color=ink)

    def _across(self, joules):
        """Place of amounts of heat, in pixels; what is off the axis stands at its end."""
        return self.frame.across(np.clip(joules, _LEAST, _MOST))

    def sentence(self, laid: Laid, pinned: Laid | None) -> str:
        """Say in words what the picture shows."""
        draw, order = laid.draw, laid.order
        names = [f"{catchers()[key].name}, {_joules(laid.draws[key])}" for key in order]
        made = whole_words(draw.share_of_made.likely)
        words = (
            f"{_where(laid)} takes {_joules(draw)} in the first minute (band {_band(draw)}), "
            f"{made} {'of ' if made.endswith('%') else ''}what the ember makes "
            f"(band {whole_range_words(draw.share_of_made.ends)}), "
            f"and then {number_words(draw.watts.likely)} W. "
            f"Of {len(order)}: least {names[0]}; most {names[-1]}."
        )
        if laid.ground == "wet soil":
            words += " Wet soil is taken to stay wet under a sheet, and to boil dry when bare."
        if pinned is not None:
            words += f" Before: {_where(pinned)}, {_joules(pinned.draw)}."
        return words


def _where(laid):
    return f"{laid.name[0].upper()}{laid.name[1:]} over {below_words(laid.ground)}"


def _joules(draw):
    return f"{number_words(draw.joules.likely)} J"


def _band(draw):
    return f"{range_words(draw.joules.ends)} J"


def _middle(at):
    """Middle of a row, in pixels from the top."""
    return _TOP + (at + 0.5) * _ROW
