"""All catchers in rows: joules taken from an ember in its first minute, or how long it keeps."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ..ember.catchers import catchers
from ..ember.draw import Draw
from ..ember.ember import Ember
from ..ember.lasting import Lasting
from ..ember.scorch import Scorch
from ..words import (
    band_words,
    below_words,
    number_words,
    range_words,
    time_words,
    whole_range_words,
    whole_words,
)
from . import style
from .sketch import Frame, Scale, Sketch

_JOULES: Mapping[float, str] = {
    joules: f"{joules:,}" for joules in (30, 100, 300, 1000, 3000, 10000)
}
_TIMES: Mapping[float, str] = {0.1: "0.1 s", 1: "1 s", 10: "10 s", 60: "1 min", 600: "10 min"}
# What a picture shows: ends of its axis, ticks and their words, and what stands along it.
_AXES: Mapping[str, tuple[float, float, Mapping[float, str], str]] = {
    "heat": (15.0, 30000.0, _JOULES, "joules taken from the ember in its first minute"),
    "time": (0.03, 2000.0, _TIMES, "how long an ember keeps, left alone: rough"),
}
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
    keeps : mapping of str to Lasting
        How long the ember keeps on each, or on the chosen one alone.
    """

    draws: Mapping[str, Draw]
    chosen: str
    ground: str
    ember: Ember
    scorch: Scorch
    keeps: Mapping[str, Lasting]

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

    @property
    def longest(self) -> list[str]:
        """Keys, those on which an ember left alone keeps longest first."""
        return sorted(self.order, key=lambda key: -self.keeps[key].alone.likely)


class CatcherRows(Sketch):
    """A row a catcher, the least greedy on top.

    Parameters
    ----------
    shows : str
        ``"heat"``, beside what the ember makes and loses, or ``"time"``.
    """

    def __init__(self, shows: str = "heat"):
        self.bottom = _TOP + len(catchers()) * _ROW + 4
        height = self.bottom + 56
        super().__init__(_WIDTH, height)
        self.shows, (self.least, self.most, ticks, words) = shows, _AXES[shows]
        box = _LEFT, _TOP, _RIGHT, self.bottom
        self.frame = Frame(self, box, Scale(self.least, self.most, factors=True))
        with style.look():
            axes = self.frame.draw_axes()
            axes.set_yticks([])
            axes.spines["left"].set_visible(False)
            axes.set_xticks(list(ticks), list(ticks.values()))
            axes.xaxis.set_tick_params(which="minor", length=0)
            axes.xaxis.set_minor_formatter("")
            axes.set_xlabel(words, labelpad=4)
            axes.grid(axis="x", color=style.RULE, linewidth=0.8)

    def update(self, laid: Laid, before: Laid | None) -> str:
        """Move every row and return the sentence that says what is shown."""
        self.clear()
        if self.shows == "heat":
            self._marks(laid.draw)
            order = laid.order
            bands = {key: draw.joules for key, draw in laid.draws.items()}
        else:
            self.write("likely", _WIDTH - 4, 14, align="right")
            order = laid.longest
            bands = {key: keeps.alone for key, keeps in laid.keeps.items()}
        for at, key in enumerate(order):
            self._row(bands[key], at, catchers()[key].name, key == laid.chosen)
        if before is not None:
            self._before(order, before)
        return self.sentence(laid, before)

    def _before(self, order, before):
        self.write("◆ before", 4, 14, color=style.INK)
        for at, key in enumerate(order):
            size = 18 if key == before.chosen else 14
            then = before.draws[key].joules if self.shows == "heat" else before.keeps[key].alone
            place = self._across(then.likely)
            self.write("◆", place, _middle(at), color=style.INK, size=size, align="center")

    def _marks(self, draw):
        """Mark what the ember makes, with its band, and what its face loses, in a minute."""
        weak, strong = self._across(draw.made.ends)
        made, lost = self._across((draw.made.likely, draw.joules_lost))
        fill = self.frame.fill
        fill("ember makes, low to high", weak, 24, strong, self.bottom, style.EMBER_PALE)
        fill("open face loses", lost - 1, 24, lost + 1, self.bottom, style.EDGE)
        fill("ember makes", made - 1.5, 24, made + 1.5, self.bottom, style.EMBER)
        # Each beside its line, away from the other: a weak ember loses more than it makes.
        gap, face, ember = (4, "right", "left") if lost < made else (-4, "left", "right")
        self.write("open face loses", lost - gap, 14, color=style.QUIET, align=face)
        self.write("ember makes", made + gap, 14, color=style.EMBER, align=ember)
        self.write("first minute", _WIDTH - 4, 14, align="right")

    def _row(self, band, at, name, chosen):
        y, fill = _middle(at), self.frame.fill
        if chosen:
            fill("chosen", 0, y - _ROW / 2, _LEFT - 6, y + _ROW / 2, style.SHADE)
        ink = style.INK if chosen else style.QUIET
        self.write(f"{'▸ ' if chosen else ''}{name}", _LEFT - 12, y, color=ink, align="right")
        low, high = self._across(band.ends)
        heat = self.shows == "heat"
        dark, pale = ("SPINDLE", "WOOD") if heat else ("EMBER_BAND", "EMBER_PALE")
        color = style.color(dark if chosen else pale)
        fill(f"{name}, low to high", low, y - 7, max(high, low + 2), y + 7, color)
        likely = self._across(band.likely)
        line = style.PAPER if chosen and heat else style.INK
        fill(f"{name}, likely", likely - 1.5, y - 7, likely + 1.5, y + 7, line)
        if heat:
            self.write("J", _WIDTH - 4, y, color=ink, align="right")
            self.count(number_words(band.likely), _WIDTH - 18, y, color=ink)
        else:
            self.write(time_words(band.likely), _WIDTH - 4, y, color=ink, align="right")

    def _across(self, values):
        """Place of values, in pixels; what is off the axis stands at its end."""
        return self.frame.across(np.clip(values, self.least, self.most))

    def sentence(self, laid: Laid, before: Laid | None) -> str:
        """Say in words what the picture shows."""
        words = _say_heat(laid) if self.shows == "heat" else _say_time(laid)
        if laid.ground == "wet soil":
            words += " Wet soil is taken to stay wet under a sheet, and to boil dry when bare."
        if before is not None:
            told = _joules(before.draw) if self.shows == "heat" else _keeps(before)
            words += f" Before: {_where(before)}, {told}."
        return words


def keeping_words(keeps: Lasting) -> str:
    """Say how long an ember keeps if it is fed.

    Examples
    --------
    >>> from ..bands import Band
    >>> alone, endless = Band(1.6, 5.8, 600.0), Band(15.6, np.inf, np.inf)
    >>> keeping_words(Lasting(alone, endless))
    'as long as you feed it (at worst 16 s)'
    """
    low, likely, _ = keeps.fed
    if np.isinf(low):
        return "as long as you feed it"
    if np.isinf(likely):
        return f"as long as you feed it (at worst {time_words(low)})"
    return f"{band_words(keeps.fed)}"


def _say_time(laid):
    keeps, order = laid.keeps[laid.chosen], laid.longest
    names = [f"{catchers()[key].name}, {_alone(laid.keeps[key])}" for key in order]
    return (
        f"{_where(laid)}: left alone, an ember keeps {_alone(keeps)} (rough: "
        f"{band_words(keeps.alone)}); fed, on a bed of dead dust, {keeping_words(keeps)}. "
        f"Of {len(order)}, left alone: longest {names[0]}; shortest {names[-1]}."
    )


def _keeps(laid):
    return f"left alone {_alone(laid.keeps[laid.chosen])}"


def _alone(keeps):
    words = time_words(keeps.alone.likely)
    return f"about {words}" if words[0].isdigit() else words


def _say_heat(laid):
    draw, order = laid.draw, laid.order
    names = [f"{catchers()[key].name}, {_joules(laid.draws[key])}" for key in order]
    made = whole_words(draw.share_of_made.likely)
    return (
        f"{_where(laid)} takes {_joules(draw)} in the first minute (band {_band(draw)}), "
        f"{made} {'of ' if made.endswith('%') else ''}what the ember makes "
        f"(band {whole_range_words(draw.share_of_made.ends)}), "
        f"and then {number_words(draw.watts.likely)} W. "
        f"Of {len(order)}: least {names[0]}; most {names[-1]}."
    )


def _where(laid):
    return f"{laid.name[0].upper()}{laid.name[1:]} over {below_words(laid.ground)}"


def _joules(draw):
    return f"{number_words(draw.joules.likely)} J"


def _band(draw):
    return f"{range_words(draw.joules.ends)} J"


def _middle(at):
    """Middle of a row, in pixels from the top."""
    return _TOP + (at + 0.5) * _ROW
