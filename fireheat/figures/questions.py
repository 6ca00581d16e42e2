"""A guess beside what came of it: as lanes above a plank, or as bars."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf
from typing import Any

import numpy as np
from matplotlib.patches import Polygon
from matplotlib.ticker import MaxNLocator

from ..bands import Band
from ..spread import Spread
from ..words import TOO_LONG, band_words, time_words
from . import style
from .lane import Flag, Lane, Plank, SpindleEnd, page
from .sketch import Frame, Scale, Sketch

_WIDTH = 800
_LEFT, _RIGHT = 166, 770  # of the plank, in pixels
_MILLIMETRE = 2.4  # of a spindle's end, in pixels
_DASH: Any = (0, (4, 2.5))
_NEVER = Band(inf, inf, inf)
_FAR = 8.0  # times what was found: so far a picture reaches for a guess


@dataclass(frozen=True)
class Shown:
    """One of two tries, as a guess is measured by it.

    Attributes
    ----------
    found : Spread
        What a stopwatch might see.
    diameter : float or None
        Of its spindle, where the two differ in that. [m]
    note : str
        What stands beside its lane.
    """

    found: Spread
    diameter: float | None
    note: str


class _Gap:
    """The way from a flag to what came of it, measured with a bar."""

    def __init__(self, sketch: Sketch, name: str):
        ink: Any = {"color": style.INK, "lw": 2, "solid_capstyle": "butt"}
        self._line = sketch.add(page(sketch).plot([], [], label=name, **ink)[0])
        self._line.set_visible(False)

    def show(self, one: float, other: float, y: float) -> None:
        """Show it between two places, at a height, in pixels."""
        ends = [one, one, one, other, other, other]
        self._line.set_data(ends, [y - 6, y + 6, y, y, y + 6, y - 6])
        self._line.set_visible(abs(one - other) > 1)

    def hide(self) -> None:
        """Show nothing."""
        self._line.set_visible(False)


class GuessLanes(Sketch):
    """A guess about a time: what was before, what it becomes, and where it was thought to land.

    Parameters
    ----------
    floor : bool
        Whether the floor is asked about, and not the ember.
    """

    _before, _after, _gap, _flag = 70, 176, 222, 250  # heights, in pixels

    def __init__(self, floor: bool = False):
        super().__init__(_WIDTH, 330)
        self.floor = floor
        with style.look():
            self.plank = Plank(self, _LEFT, 20, _RIGHT, 274)
            self.wall = self._outline("before, floor")
            way: Any = {"color": style.EMBER, "ls": (0, (1, 1.6)), "lw": 2, "label": "way"}
            self.way = self.add(page(self).plot([], [], **way)[0])
            self.flag = Flag(self.plank, "guess")
            self.lanes = (
                Lane(self.plank, "before", outline=True),
                Lane(self.plank, "after"),
            )
            scale = 1000 * _MILLIMETRE
            self.ends = tuple(SpindleEnd(self, f"{name}, spindle", scale) for name in _NAMES)
            self.gap = _Gap(self, "gap")

    def _outline(self, name):
        look: Any = {"facecolor": "none", "edgecolor": style.INK, "lw": 1.8, "ls": _DASH}
        return self.add(page(self).add_patch(Polygon(np.zeros((3, 2)), label=name, **look)))

    def update(self, before: Shown, after: Shown, *, guess: float, found: float) -> str:
        """Show a guess and what was found, both in seconds, and say it in words."""
        self.clear()
        pair = (self._asked(before), self._asked(after))
        self.plank.fit(*self._times(pair, guess, found))
        for lane, end, shown, name, y in zip(
            self.lanes, self.ends, pair, _NAMES, (self._before, self._after), strict=True
        ):
            lane.show(shown.found, y)
            end.hide()
            if shown.diameter is not None:
                end.show(_LEFT - 40, y, shown.diameter)
            right = _LEFT - 12 if shown.diameter is None else _LEFT - 78
            self.write(name, right, y - 11, align="right")
            self.write(shown.note, right, y + 11, color=style.QUIET, align="right")
        self._before_wall(before.found.bound.likely)
        self._way(self._mark(before), found)
        self._name_bars(before, after)
        self._guess(guess, found)
        self.lanes[1].name_range(self._after, self.plank.across(guess))
        return self.sentence(before, after, guess=guess, found=found)

    def _asked(self, shown):
        """Leave out the bars, where the floor alone is asked about."""
        if not self.floor:
            return shown
        return replace(shown, found=replace(shown.found, wood=_NEVER, all=_NEVER))

    def _mark(self, shown):
        return shown.found.bound.likely if self.floor else shown.found.wood.likely

    def _times(self, pair, guess, found):
        must = [*(self._mark(shown) for shown in pair), found]
        seen = min(guess, _FAR * max(time for time in must if time < TOO_LONG))
        return [*must, seen], [
            high for shown in pair for high in (shown.found.wood.high, shown.found.all.high)
        ]

    def _before_wall(self, bound):
        x, y = self.plank.across(bound), self._before
        self.wall.set_visible(self.floor)
        self.wall.set_xy([(_LEFT, y - 17), (x, y - 17), (x, y + 17), (_LEFT, y + 17)])

    def _way(self, start, end):
        """Show the way that the mark took: down in a bow, from before to after."""
        shown = self.plank.holds(start) and self.plank.holds(end)
        self.way.set_visible(shown)
        if shown:
            part = np.linspace(0, 1, 30)
            one, other = self.plank.across(start), self.plank.across(end)
            bow = part**2 * (3 - 2 * part)
            down = self._before + 22 + (self._after - self._before - 70) * part
            self.way.set_data(one + (other - one) * bow, down)

    def _name_bars(self, before, after):
        for shown, y, color in (
            (before, self._before, style.INK),
            (after, self._after, style.EMBER),
        ):
            x = self.plank.across(
                min(shown.found.all.low if not self.floor else 0.0, self.plank.end)
            )
            words = f"floor {time_words(self._mark(shown))}" if self.floor else _all_words(shown)
            self.write(words, min(x, _RIGHT - 240), y - 31, color=color)

    def _guess(self, guess, found):
        beyond = ", far beyond" if guess > self.plank.end else ""
        words = f"you said {time_words(guess)}{beyond}"
        self.flag.show(guess, words, self._flag, top=self._after - 20)
        if self.plank.holds(found):
            self.gap.show(self.plank.across(guess), self.plank.across(found), self._gap)
        else:
            self.gap.hide()

    def sentence(self, before: Shown, after: Shown, *, guess: float, found: float) -> str:
        """Say in words what the picture shows."""
        what = "floor" if self.floor else "ember, most likely"
        words = f"Before: {what} {time_words(self._mark(before))}. You said {time_words(guess)}."
        words += f" It is {time_words(found)}"
        return words + ("." if self.floor else f", with all we do not know {_all(after)}.")


_NAMES = ("before", "after")


def _all(shown):
    return band_words(shown.found.all)


def _all_words(shown):
    return f"{_all(shown)}, all we do not know"


class _Ruler:
    """A plain axis from zero, in even steps, for numbers that are no times."""

    def __init__(self, sketch: Sketch, top: float, bottom: float):
        self.sketch, self.end = sketch, 1.0
        self.frame = Frame(sketch, (_LEFT, top, _RIGHT, bottom), Scale(0.0, 1.0))
        base: Any = {"color": style.INK, "lw": 1.2}
        page(sketch).plot([_LEFT, _RIGHT], [bottom, bottom], **base)
        tick: Any = {"color": style.INK, "mew": 1.2, "ms": 8, "label": "ticks"}
        self._ticks = sketch.add(page(sketch).plot([], [], "|", **tick)[0])

    def fit(self, values: Sequence[float], unit: str, factor: float, *, share: bool) -> None:
        """Reach beyond all values, or to the whole, and name round numbers of a unit along it."""
        end = 1.0 if share else 1.08 * max(values)
        steps = np.asarray(MaxNLocator(5, steps=[1, 2, 2.5, 5, 10]).tick_values(0, factor * end))
        self.end = float(steps[-1]) / factor
        self.frame.rescale(x=Scale(0.0, self.end))
        places = self.frame.across(steps / factor)
        self._ticks.set_data(places, np.full(len(steps), self.frame.bottom))
        for step, place in zip(steps, places, strict=True):
            words = f"{step:,g} {unit}".strip()
            self.sketch.write(
                words, place, self.frame.bottom + 20, color=style.QUIET, align="center"
            )

    def across(self, value: float) -> float:
        """Place of a value in pixels from the left; what is beyond the end is put at the end."""
        return float(self.frame.across(min(value, self.end)))


class GuessBars(Sketch):
    """A guess about a number: a bar for before, if there is one, and a bar for what it becomes.

    Parameters
    ----------
    unit : str
        The unit along it.
    factor : float
        How many of them one SI unit is. [1]
    """

    _before, _after, _gap, _flag = 56, 136, 178, 204  # heights, in pixels

    def __init__(self, unit: str, factor: float = 1.0):
        super().__init__(_WIDTH, 284)
        self.unit, self.factor = unit, factor
        with style.look():
            self.ruler = _Ruler(self, 20, 232)
            outline: Any = {"facecolor": style.PAPER, "edgecolor": style.INK, "lw": 1.8}
            self.bars = (
                self._bar("before", ls=_DASH, **outline),
                self._bar("after", facecolor=style.EMBER_BAND, lw=0),
            )
            self.flag = Flag(self.ruler, "guess")  # type: ignore[arg-type]  # an axis all the same
            self.gap = _Gap(self, "gap")

    def _bar(self, name, **look):
        return self.add(page(self).add_patch(Polygon(np.zeros((3, 2)), label=name, **look)))

    def update(
        self,
        before: float,
        after: float,
        *,
        guess: float,
        words: Sequence[str],
        names: tuple[str, str],
        share: bool = False,
    ) -> str:
        """Show a guess and what was found, spelled in words: before, after, guess.

        Of a share, the bar of before is the whole.
        """
        self.clear()
        seen = min(guess, _FAR * max(before, after))
        self.ruler.fit((before, after, seen), self.unit, self.factor, share=share)
        rows = zip(
            self.bars, names, (before, after), words, (self._before, self._after), strict=False
        )
        for bar, name, value, said, y in rows:
            bar.set_visible(value > 0)
            if value > 0:
                right = self.ruler.across(value)
                bar.set_xy([(_LEFT, y - 17), (right, y - 17), (right, y + 17), (_LEFT, y + 17)])
                self.write(name, _LEFT - 12, y, align="right")
                filled = name != names[0]
                pole = self.ruler.across(seen) if filled else None
                self._beside(said, right, y, style.CHAR if filled else style.INK, pole)
        beyond = ", far beyond" if guess > seen else ""
        self.flag.show(seen, f"you said {words[2]}{beyond}", self._flag, top=self._after - 30)
        self.gap.show(self.ruler.across(seen), self.ruler.across(after), self._gap)
        opening = f"{names[0].capitalize()}: {words[0]}. " if before > 0 else ""
        return f"{opening}You said {words[2]}. It is {words[1]}."

    def _beside(self, words, right, y, inside, pole):
        """Write at the end of a bar, where the flag's pole does not go through the words."""
        wide = self.width(words) + 14
        clear = pole is None or not right < pole < right + wide
        if right + wide < _WIDTH and clear:
            self.write(words, right + 10, y)
        elif right - wide > _LEFT:
            self.write(words, right - 10, y, color=inside, align="right")
        else:  # a short bar, with the pole just behind it
            self.write(words, pole + 10, y)
