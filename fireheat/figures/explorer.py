"""Time to an ember against one quantity: both bands as a field, this try as a lane, on a plank."""

import math
from typing import Any

import numpy as np
from matplotlib.colors import to_hex, to_rgb
from matplotlib.patches import Polygon
from matplotlib.ticker import MaxNLocator

from ..answers.explorer import Outlook
from ..answers.next_try import NextTry
from ..bands import Band
from ..quantities import Quantity
from ..spread import Outcomes
from ..words import (
    NEVER,
    TOO_LONG,
    band_words,
    factor_words,
    floor_words,
    inch_words,
    likely_words,
    time_words,
)
from . import style
from .heat_bar import heat_bar, where_words
from .lane import Lane, Plank, SpindleEnd, page, still_spindle
from .sketch import UNIT, Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 480
_LEFT, _TOP, _RIGHT, _BOTTOM = 140, 26, 766, 356  # of the field, in pixels
_ABOVE, _BELOW = 50, 40  # the first value and the last: room for a lane and its words
_BAR = (_LEFT, 446, _RIGHT, 474)
_LANE = 60  # how far apart two lanes stand at least
_SCALE = 1150.0  # pixels of a spindle's end for each metre
_NAMED = 90  # pixels of a wall, for its name to stand in it
_NEAR = 24  # names of values nearer than this to a lane's own are left out
_ENDLESS = 2.0  # planks: where a band's end stands that is never
_FOOT, _TICK, _WIDE = 24, 7, 146  # of a bracket under a lane, its ends, and a band's name
_NUMBERS, _ENDS = 92, 117  # right end of numbers, and middle of the spindles beside them


class TimeField(Sketch):
    """The explorer's picture: field, lane, what was before, and a bar of heat.

    Parameters
    ----------
    row : Quantity
        The quantity upright; small values are above.
    system : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, row: Quantity, system: str):
        super().__init__(_WIDTH, _HEIGHT)
        self.row, self.system = row, system
        self.low, self.high = sorted(row.shown(end, system) for end in row.slider)
        pixel = (self.high - self.low) / (_BOTTOM - _TOP - _ABOVE - _BELOW)
        up = Scale(self.high + _BELOW * pixel, self.low - _ABOVE * pixel)
        with style.look():
            self.plank = Plank(self, _LEFT, _TOP, _RIGHT, _BOTTOM)
            self.frame = Frame(self, (_LEFT, _TOP, _RIGHT, _BOTTOM), Scale(0.0, 60.0), up)
            self.axes = self.frame.draw_axes()
            self.axes.set_axis_off()
            self.bar = Frame(self, _BAR, UNIT)
            self._still_spindles()
            self._field()
            self._lanes()

    @property
    def _thickness(self):
        return self.row.key == "diameter"

    def _still_spindles(self):
        ticks = np.asarray(MaxNLocator(7).tick_values(self.low, self.high))
        if self.row.in_parts(self.system):  # halves of halves
            step = 2.0 ** math.ceil(math.log2((self.high - self.low) / 6))
            ticks = step * np.arange(1, self.high // step + 1)
        self.ticks = [float(tick) for tick in ticks if self.low <= tick <= self.high]
        if self._thickness:
            for tick in self.ticks:
                thick = self.row.si(tick, self.system)
                still_spindle(self, _ENDS, self.frame.down(tick), diameter=thick, scale=_SCALE)

    def _field(self):
        axes, add = self.axes, self.add

        def region(name, **look):
            return add(axes.add_patch(Polygon(np.zeros((3, 2)), label=name, lw=0, **look)))

        self.regions = {
            "all": region("all we do not know", color=_paler(style.EMBER_PALE, 0.7)),
            "wood": region("your wood", color=_paler(style.EMBER_BAND, 0.45)),
        }
        self.wall = region("too soon", facecolor="none", edgecolor=style.EDGE, hatch="//")
        self.likely = add(axes.plot([], [], color=style.EMBER, lw=1.5, label="likely")[0])
        self.floor = add(axes.plot([], [], color=style.INK, lw=2.5, label="floor")[0])
        dots: Any = {"color": style.QUIET, "lw": 1.6, "ls": (0, (1, 2)), "label": "too little dust"}
        self.least = add(axes.plot([], [], **dots)[0])

    def _lanes(self):
        self.before = Lane(self.plank, "before", outline=True)
        self.now = Lane(self.plank, "now")
        self.blanks, self.ends = {}, {}
        for name in ("before", "now"):
            blank = Polygon(np.zeros((3, 2)), color=style.PAPER, lw=0, label=f"{name}, paper")
            self.blanks[name] = self.add(page(self).add_patch(blank))
            if self._thickness:
                self.ends[name] = SpindleEnd(self, f"{name}, spindle", _SCALE)
        blue: Any = {"color": style.YOURS, "lw": 2.5, "clip_on": False, "label": "your evenings"}
        self.ours = self.add(self.plank.axes.plot([], [], solid_joinstyle="miter", **blue)[0])
        mark: Any = {"ls": "", "clip_on": False, "color": style.EMBER, "mec": style.PAPER}
        plot = self.plank.axes.plot
        self.tried = self.add(plot([], [], "o", ms=9, label="tries", **mark)[0])
        self.failed = self.add(plot([], [], "X", ms=10, label="tries without an ember", **mark)[0])

    # ---- moving ---------------------------------------------------------------------------------

    def update(
        self,
        now: Outlook,
        before: Outlook | None = None,
        change: Band | None = None,
        tried: Outcomes | None = None,
    ) -> str:
        """Move everything to new numbers and return the sentence that says what is shown.

        Parameters
        ----------
        now, before : Outlook
            The try now, and the one before if it was kept.
        change : Band of float, optional
            Time now over time before. [1]
        tried : Outcomes, optional
            Single tries, to be marked.
        """
        self.clear()
        self._fit(now, before)
        at = self._height(now)
        self._move_field(now)
        self._move_least(now, at)
        then = self._move_before(before, at)
        self.now.show(now.spread, at)
        self._bracket(now.ours, at)
        self._name_bars(now, at, tried)
        self._name_values(now, at, then)
        self._mark(tried, at)
        heat_bar(now.now.heat, self.bar)
        self.write("heat goes to", 4, (self.bar.top + self.bar.bottom) / 2)
        words = self.sentence(now, before, change)
        return words if tried is None else f"{_all_tries_words(tried.ember)}{words}"

    def _fit(self, now, before):
        found = now.spread
        must, may = [found.wood.likely, found.wood.high, found.bound.likely], [found.all.high]
        if found.all.low >= TOO_LONG:  # then the wall stands alone, with words beside it
            must += [1.5 * found.bound.likely]
        if now.ours:
            must += [now.ours.evenings.low]
            may += [now.ours.evenings.high]
        if before is not None:
            must += [before.spread.wood.likely]
            may += [before.spread.wood.high, before.spread.all.high]
        self.plank.fit(must, may)
        self.frame.rescale(x=self.plank.frame.x)

    def _height(self, seen):
        """Tell how high a lane stands; what is beyond the slider stands at its end."""
        shown = self.row.shown(seen.here, self.system)
        return float(self.frame.down(np.clip(shown, self.low, self.high)))

    def _seconds(self, times):
        """Place what is never beyond the plank."""
        return np.minimum(times, _ENDLESS * max(self.plank.end, 1.0))

    def _move_field(self, now):
        up, sweep = self.row.shown(now.values, self.system), now.sweep
        for name, region in self.regions.items():
            low, _, high = map(self._seconds, getattr(sweep, name))
            region.set_xy(np.column_stack([np.r_[low, high[::-1]], np.r_[up, up[::-1]]]))
        floor = self._seconds(sweep.bound.likely)
        self.wall.set_xy(np.column_stack([np.r_[floor, 0, 0], np.r_[up, up[-1], up[0]]]))
        self.floor.set_data(floor, up)
        self.likely.set_data(self._seconds(sweep.wood.likely), up)

    def _move_least(self, now, at):
        least = self.row.shown(now.least, self.system)
        self.least.set_visible(shown := bool(self.low < least < self.high))
        if not shown:
            return
        self.least.set_data([0.4 * self.plank.end, self.plank.end], [least, least])
        line = float(self.frame.down(least))
        above = min(line, at - 37) if abs(line - at) < _LANE else line
        words = f"{_LESS.get(self.row.key, 'less')} than this: likely too little dust to stay hot"
        look: Any = {"color": style.QUIET, "align": "right", "halo": True}
        self.write(words, _RIGHT, max(above - 15, 26), **look)

    def _move_before(self, before, at):
        self.before.hide()
        if before is None:
            self._name("before", None, at)
            return at
        then = self._height(before)
        if abs(then - at) < _LANE:  # beside the lane, where there is room
            way = 1 if then > at else -1
            inside = _TOP + 24 < at + way * _LANE < _BOTTOM - 24
            then = at + _LANE * (way if inside else -way)
        self.before.show(before.spread, then)
        self._name("before", before, then)
        return then

    def _bracket(self, ours, at):
        """Stand what our evenings leave as a bracket under the lane, open if it runs off."""
        shown = ours is not None and self.plank.holds(ours.evenings.low)
        self.ours.set_visible(shown)
        if shown:
            low, high = ours.evenings.low, min(ours.evenings.high, self.plank.end)
            foot = at + _FOOT
            ends = [(low, foot - _TICK), (low, foot), (high, foot), (high, foot - _TICK)]
            self.ours.set_data(*np.transpose(ends[: 4 if high < self.plank.end else 3]))

    def _name_bars(self, now, at, tried):
        wood, wide, plank = now.spread.wood, now.spread.all, self.plank
        middle = max((plank.across(wood.low) + plank.across(wood.high)) / 2, _LEFT + 48)
        if plank.holds(wood.low):
            self.write("your wood", middle, at - 31, align="center", halo=True)
        ours = now.ours if self.ours.get_visible() and tried is None else None
        if ours:
            place = sum(map(plank.across, ours.evenings.ends)) / 2
            place = min(max(place, _LEFT + 60), _RIGHT - 60)
            look: Any = {"color": style.YOURS, "align": "center", "halo": True}
            self.write("your evenings", place, at + 36, **look)
        if plank.holds(wide.high) and tried is None:
            right = max(plank.across(wide.high), _LEFT + 190)
            if not ours:
                self.write("all we do not know", right, at + 33, align="right", halo=True)
            elif right - _WIDE > middle + 48:  # above, where there is room
                self.write("all we do not know", right, at - 31, align="right", halo=True)
        if not plank.holds(wide.low):
            place = plank.across(now.now.bound) + 14
            self.write(f"no ember: {NEVER}", place, at, weight="bold", halo=True)

    def _name_values(self, now, at, then):
        right = _NUMBERS if self._thickness else _LEFT - 10
        for tick in self.ticks:
            place = float(self.frame.down(tick))
            if abs(place - at) > _NEAR and abs(place - then) > _NEAR + 8:
                self.write(self._number(tick), right, place, color=style.QUIET, align="right")
        self._name("now", now, at)
        self.write(self.row.label(self.system), 4, 12, color=style.QUIET)
        self._name_wall(now, [at, then])

    def _number(self, tick):
        parts = self.row.parts if self.row.in_parts(self.system) else 0
        return inch_words(tick, parts) if parts else f"{tick:g}"

    def _name(self, name, seen, at):
        """Write a lane's value at its left, with the end of its spindle."""
        blank, end = self.blanks[name], self.ends.get(name)
        blank.set_visible(seen is not None)
        if end is not None:
            end.hide()
        if seen is None:
            return
        left, edge = 0, _LEFT - 3
        top, bottom = self._hidden(at, _NEAR + 8 * (name == "before"))
        blank.set_xy([(left, top), (edge, top), (edge, bottom), (left, bottom)])
        right = _NUMBERS if self._thickness else _LEFT - 10
        words, look = self.row.text(seen.here, self.system), {"weight": "bold"}
        if name == "before":
            words, look = f"before\n{words}", {}
        self.write(words, right, at, align="right", **look)
        if end is not None:
            end.show(_ENDS, at, seen.here)

    def _hidden(self, at, reach):
        """Tell from where to where ends of spindles are blotted out, whole ones, round a lane."""
        top, bottom = at - 21, at + 21
        for tick in self.ticks if self._thickness else ():
            place, radius = self.frame.down(tick), _SCALE * self.row.si(tick, self.system) / 2 + 2
            if abs(place - at) <= reach:
                top, bottom = min(top, place - radius), max(bottom, place + radius)
        return top, bottom

    def _name_wall(self, now, lanes):
        """Name the floor inside its wall, where that is widest and no lane is."""
        up, floor = self.frame.down(self.row.shown(now.values, self.system)), now.sweep.bound.likely
        wide = self.frame.across(np.minimum(floor, self.plank.end)) - _LEFT
        near = [abs(up - lane) < _LANE for lane in lanes]
        wide[np.any(near, axis=0) | (up < up[0] + 12) | (up > up[-1] - 12)] = 0.0
        if wide.max() > _NAMED:
            self.write("too soon: the floor", _LEFT + 6, float(up[np.argmax(wide)]), halo=True)

    def _mark(self, tried, at):
        ember = np.array([]) if tried is None else np.asarray(tried.ember)
        comes = ember <= min(self.plank.end, TOO_LONG)
        for artist, times in ((self.tried, ember[comes]), (self.failed, ember[~comes])):
            artist.set_data(np.minimum(times, self.plank.end), np.full(len(times), at + 34))
            artist.set_visible(bool(len(times)))
        if len(ember):
            self.write(_try_words(ember), _RIGHT, 9, align="right")

    # ---- words ----------------------------------------------------------------------------------

    def sentence(self, now: Outlook, before: Outlook | None, change: Band | None) -> str:
        """Say in words what the picture shows."""
        at = f"at {self.row.name} {self.row.text(now.here, self.system)}"
        found, words = now.spread, []
        if change is not None:
            words.append(f"Against before: {factor_words(change)}.")
        if found.all.low >= TOO_LONG:
            words.append(f"Never an ember {at}: {now.now.never}. {WAYS_OUT}")
        else:
            words.append(
                f"Ember, estimate {band_words(found.all)} (with wood like yours "
                f"{band_words(found.wood)}, {likely_words(found.wood.likely)}) {at}."
            )
        if now.ours:
            words.append(
                f"By {evenings_words(now.ours)}.{ODD_EVENINGS if now.ours.strange else ''}"
            )
        words.append(f"Floor {floor_words(found.bound.likely)}.")
        words.append(where_words("Heat goes to", now.now.heat))
        if before is not None:
            words.append(f"Before: estimate {band_words(before.spread.all)}.")
        return " ".join(words)


def evenings_words(ours: NextTry) -> str:
    """Say what our own evenings leave of a band, and of how many tries that is.

    Examples
    --------
    >>> from fireheat.answers.next_try import Try, next_try
    >>> from fireheat.trials.columns import TimedTry
    >>> evenings_words(next_try(Try(), [TimedTry(time=60.0, ended="ember")] * 4))
    'your evenings, 4 tries: 46 to 79 s'
    """
    count = "1 try" if ours.tries == 1 else f"{ours.tries} tries"
    return f"your evenings, {count}: {band_words(ours.evenings)}"


ODD_EVENINGS = " They are out of the ordinary for this physics: see page 09."
_LESS = {"diameter": "thinner"}
WAYS_OUT = "Ways out: a thinner spindle, more force, a faster bow."


_TEN = 10  # tries in one go


def _try_words(ember):
    """Say how the newest of some single tries went."""
    time = f"ember after {time_words(ember[-1])}" if ember[-1] < TOO_LONG else "no ember"
    return f"try {len(ember)} of {_TEN}: {time}"


def _all_tries_words(ember):
    """Say how ten tries went, once all were made, and nothing before: a voice would never end."""
    if len(ember) < _TEN:
        return ""
    comes = np.sort(ember[ember < TOO_LONG])
    if not len(comes):
        return "Ten tries by ten people: no ember. "
    missed = f", and {_TEN - len(comes)} without an ember" if len(comes) < _TEN else ""
    return f"Ten tries by ten people: {band_words(comes[[0, -1]])}{missed}. "


def _paler(color, share):
    """Mix a colour with paper, so that a field is paler than a lane's bar of the same colour."""
    mixed = share * np.array(to_rgb(color)) + (1 - share) * np.array(to_rgb(style.PAPER))
    return to_hex(mixed)
