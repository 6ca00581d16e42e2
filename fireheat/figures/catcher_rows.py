"""All catchers in rows: joules asked of an ember in its first minute, along one axis."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ..catcher import Draw, catchers
from ..ember import Ember
from ..words import below_words, number_words, range_words, whole_words
from . import style
from .sketch import Sketch

_TICKS = (30, 100, 300, 1000, 3000, 10000)
_LEAST, _MOST = 15.0, 30000.0
_LEFT, _RIGHT, _TOP, _ROW = 230, 700, 34, 23  # in pixels from the top left
_WIDTH = 800
_QUIET = "#B5D3E7"  # the hue of soaked-up heat, for the catchers that are not chosen
_CHOSEN = "#F4F4F4"


@dataclass(frozen=True)
class Laid:
    """One ember, laid on every catcher in turn.

    Attributes
    ----------
    draws : mapping of str to Draw
        What each catcher asks.
    chosen : str
        Key of the one looked at.
    ground : str
        What lies below.
    ember : Ember
        The ember.
    scorch : tuple of float
        When the chosen one's far face scorches: least, likely, most. [s]
    """

    draws: Mapping[str, Draw]
    chosen: str
    ground: str
    ember: Ember
    scorch: tuple[float, float, float]

    @property
    def draw(self) -> Draw:
        """What the chosen catcher asks."""
        return self.draws[self.chosen]

    @property
    def name(self) -> str:
        """Name of the chosen catcher."""
        return catchers()[self.chosen].name

    @property
    def order(self) -> list[str]:
        """Keys, the least greedy first."""
        return sorted(self.draws, key=lambda key: self.draws[key].joules_first_minute)


class CatcherRows(Sketch):
    """A row a catcher, the least greedy on top, beside what the ember makes and loses."""

    def __init__(self):
        self.bottom = _TOP + len(catchers()) * _ROW + 4
        height = self.bottom + 56
        super().__init__(_WIDTH, height)
        size = (_RIGHT - _LEFT) / _WIDTH, (self.bottom - _TOP) / height
        with style.look():
            axes = self.figure.add_axes((_LEFT / _WIDTH, 1 - self.bottom / height, *size))
            axes.set(xscale="log", xlim=(_LEAST, _MOST), yticks=[])
            axes.spines["left"].set_visible(False)
            axes.set_xticks(_TICKS, [f"{joules:,}" for joules in _TICKS])
            axes.xaxis.set_tick_params(which="minor", length=0)
            axes.xaxis.set_minor_formatter("")
            axes.set_xlabel("joules asked of the ember in its first minute", labelpad=4)
            axes.grid(axis="x", color=style.FAINT, linewidth=0.8)

    def update(self, laid: Laid, pinned: Laid | None) -> str:
        """Move every row and return the sentence that says what is shown."""
        self.clear()
        self._marks(laid.draw)
        for at, key in enumerate(laid.order):
            self._row(laid.draws[key], at, catchers()[key].name, key == laid.chosen)
        if pinned is not None:
            self.write("◆ pinned", 4, 14, color=style.PINNED)
            for at, key in enumerate(laid.order):
                size = 18 if key == pinned.chosen else 12
                place = _pixel_x(pinned.draws[key].joules_first_minute)
                self.write("◆", place, _middle(at), color=style.PINNED, size=size, align="center")
        return self.sentence(laid, pinned)

    def _marks(self, draw):
        """Lines for what the ember makes and what its face loses, in a minute."""
        made, lost = map(_pixel_x, (draw.joules_made, draw.joules_lost))
        self.fill(lost - 1, 24, lost + 1, self.bottom, style.LEAKED)
        self.fill(made - 1.5, 24, made + 1.5, self.bottom, style.EMBER)
        self.write("open face loses", lost + 2, 14, color="#2A7CAB", align="right")
        self.write("ember makes", made, 14, color=style.EMBER_TEXT)
        self.write("first minute", _WIDTH - 4, 14, align="right")

    def _row(self, draw, at, name, chosen):
        y = _middle(at)
        if chosen:
            self.fill(0, y - _ROW / 2, _LEFT - 6, y + _ROW / 2, _CHOSEN)
        ink = style.INK if chosen else style.SMOKE_TEXT
        self.write(f"{'▸ ' if chosen else ''}{name}", _LEFT - 12, y, color=ink, align="right")
        low, high = (_pixel_x(joules) for joules in draw.joules_band)
        self.fill(low, y - 7, max(high, low + 2), y + 7, style.SOAKED if chosen else _QUIET)
        likely = _pixel_x(draw.joules_first_minute)
        line = style.PAPER if chosen else style.INK
        self.fill(likely - 1.5, y - 7, likely + 1.5, y + 7, line)
        self.write("J", _WIDTH - 4, y, color=ink, align="right")
        self.count(number_words(draw.joules_first_minute), _WIDTH - 18, y, color=ink)

    def sentence(self, laid: Laid, pinned: Laid | None) -> str:
        """Say in words what the picture shows."""
        draw, order = laid.draw, laid.order
        names = [f"{catchers()[key].name}, {_joules(laid.draws[key])}" for key in order]
        made = whole_words(draw.share_of_made)
        words = (
            f"{_where(laid)}: asks for {number_words(draw.watts_now)} W after a minute, "
            f"{_joules(draw)} in that minute (band {_band(draw)}), "
            f"{made} {'of ' if made.endswith('%') else ''}what the ember makes. "
            f"Of {len(order)}: least {names[0]}; most {names[-1]}."
        )
        if laid.ground == "wet soil":
            words += " Wet soil is taken to stay wet under a sheet, and to boil dry when bare."
        if pinned is not None:
            words += f" Pinned: {_where(pinned)}, {_joules(pinned.draw)}."
        return words


def _where(laid):
    return f"{laid.name[0].upper()}{laid.name[1:]} over {below_words(laid.ground)}"


def _joules(draw):
    return f"{number_words(draw.joules_first_minute)} J"


def _band(draw):
    return f"{range_words(draw.joules_band)} J"


def _middle(at):
    """Middle of a row, in pixels from the top."""
    return _TOP + (at + 0.5) * _ROW


def _pixel_x(joules):
    """Place of an amount of heat, in pixels from the left; what is off the axis at its end."""
    shown = np.clip(joules, _LEAST, _MOST)
    return float(_LEFT + np.log(shown / _LEAST) / np.log(_MOST / _LEAST) * (_RIGHT - _LEFT))
