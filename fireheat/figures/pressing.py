"""Against downward force: the bow slowing, the watts peaking, the ember's valley."""

from typing import Any

import numpy as np
from matplotlib.patches import Rectangle
from scipy.ndimage import minimum_filter1d

from ..answers.pressing import Valley
from ..quantities import quantity
from ..words import TOO_LONG, band_words, number_words, time_words
from . import style
from .sketch import Frame, Scale, Sketch, band_corners, band_patch
from .time_axis import LAST, TimeAxis

_WIDTH, _HEIGHT = 800, 440
_LEFT, _RIGHT = 92, 640
_LANES = {"speed": (24, 108), "power": (124, 208), "ember": (224, 380)}  # top, bottom, in pixels
_TIMES = TimeAxis(3.0, (10, 30, 120, 600, 1800))
_TOP = 11  # where places on the force axis are named, in pixels
_SAME, _APART = 8, 4  # pixels: what names keep from each other, and from their lines
_NEAR = 0.05  # of the best force: no nearer can be found by small steps
_HERE_WIDE, _SPENT_WIDE = 124, 120  # pixels of "you are here" and "arm is spent"
_FASTEST = 3.2  # end of the speed axis, SI
_MOST_WATTS = {10.0: (0, 5, 10), 35.0: (0, 10, 20, 30), 150.0: (0, 50, 100, 150)}  # and its ticks


def watts_axis(power: float) -> float:
    """Choose the axis that shows so many watts large."""
    return next((most for most in _MOST_WATTS if power <= most), max(_MOST_WATTS))


class PressCurve(Sketch):
    """Three lanes over one force axis, with the state now, the best force, stall and a pin.

    Parameters
    ----------
    system : str
        ``"metric"`` or ``"us"``.
    most_watts : float
        End of the axis of watts, of :func:`watts_axis`. [W]
    """

    def __init__(self, system: str, most_watts: float):
        super().__init__(_WIDTH, _HEIGHT)
        self.system, self.most_watts = system, most_watts
        self.force, self.speed = quantity("force_tried"), quantity("speed")
        ends = Scale(*(self.force.shown(end, system) for end in self.force.slider))
        up = Scale(0, self.speed.shown(_FASTEST, system)), Scale(0, most_watts), _TIMES.scale
        self.lanes = {
            name: Frame(self, (_LEFT, top, _RIGHT, bottom), ends, scale)
            for (name, (top, bottom)), scale in zip(_LANES.items(), up, strict=True)
        }
        with style.look():
            self.axes = {name: self._lane(name) for name in _LANES}
            self._still_part()
            self._moving_part()

    def _lane(self, name):
        axes = self.lanes[name].draw_axes()
        axes.grid(axis="y", color=style.RULE, linewidth=0.8)
        axes.set_axisbelow(True)
        if name != "ember":
            axes.set_xticklabels([])
            axes.tick_params(axis="x", length=0)
        return axes

    def _still_part(self):
        self.axes["power"].set(yticks=_MOST_WATTS[self.most_watts])
        axes = self.axes["ember"]
        axes.set_xlabel(self.force.label(self.system))
        _TIMES.dress(axes, "y")

    def _moving_part(self):
        colors = {"speed": style.INK, "power": style.EMBER_BAND, "ember": style.EMBER}
        mark: Any = {"mec": style.PAPER, "mew": 2, "clip_on": False}  # whole at the ends, too
        self.still = self._each(lambda axes, name: axes.add_patch(_block(f"{name}, stopped")))
        shape = band_patch(style.EMBER, "ember, low to high")
        self.band = self.add(self.axes["ember"].add_patch(shape))
        dashes = {"lw": 1.5, "ls": (0, (8, 3, 1, 3)), "clip_on": False}
        self.best = self._line("best force", color=style.INK, **dashes)
        self.here = self._line("you are here", color=style.INK, lw=1)
        self.ghosts = self._line("pinned, likely", color=style.INK, ls=(0, (1, 1.2)), lw=2.5)
        spent: Any = {"color": style.INK, "ls": (0, (4, 2)), "label": "arm is spent"}
        self.hold = self.add(self.axes["ember"].plot([], [], **spent)[0])
        self.lines = self._line("likely", colors)
        self.pins = self._line("pinned", marker="D", ls="", color=style.INK, ms=11, **mark)
        self.marks = self._line("now", colors, marker="o", ls="", ms=13, **mark)

    def _each(self, make):
        """Add one moving artist to every lane."""
        return {name: self.add(make(axes, name)) for name, axes in self.axes.items()}

    def _line(self, what, colors=None, **look):
        """Add a line to every lane, in the lane's own colour if asked."""

        def draw(axes, name):
            own = {"color": colors[name]} if colors else {}
            return axes.plot([], [], label=f"{name}, {what}", **own, **look)[0]

        return self._each(draw)

    def update(self, here: Valley, pinned: Valley | None) -> str:
        """Move everything to new numbers and return the sentence that says what is shown."""
        self.clear()
        values, now = self._values(here.sweep), self._values(here.now)
        best, stall = (self.force.shown(force, self.system) for force in (here.best, here.stall))
        for name, axes in self.axes.items():
            self.lines[name].set_data(*values[name])
            self.marks[name].set_data(*np.reshape(now[name], (2, 1)))
            (low, high), last = axes.get_ylim(), self.lanes[name].x.high
            self.best[name].set_data([best, best], [low, high])
            self.best[name].set_visible(self._on_picture(here.best))
            self.here[name].set_data([now[name][0]] * 2, [low, high])
            self.still[name].set_bounds(stall, low, last - stall, high - low)
        x = values["ember"][0]
        low, high = map(_TIMES.place, here.sweep.ember.ends)
        self.band.set_xy(band_corners(x, low, high))
        # Without an end it leaves through the top; where nothing turns there is nothing to hold.
        hold = np.where(here.sweep.speed > 0, np.minimum(here.sweep.hold, 2 * LAST), np.nan)
        self.hold.set_data(x, hold)
        self._name_hold(here.sweep, hold)
        self._pin(pinned)
        self._write(here, pinned)
        return self.sentence(here, pinned)

    def _pin(self, pinned):
        for name in self.axes:
            for artist in (self.ghosts[name], self.pins[name]):
                artist.set_visible(pinned is not None)
            if pinned is not None:
                self.ghosts[name].set_data(*self._values(pinned.sweep)[name])
                self.pins[name].set_data(*np.reshape(self._values(pinned.now)[name], (2, 1)))

    def _values(self, pressing):
        x = self.force.shown(pressing.force, self.system)
        return {
            "speed": (x, self.speed.shown(pressing.speed, self.system)),
            "power": (x, pressing.power),
            "ember": (x, _TIMES.place(pressing.ember.likely)),
        }

    def _write(self, here, pinned):
        unit = self.speed.label(self.system).partition("(")[2].rstrip(")")
        for name, words, color in (
            ("speed", f"bow speed,\n{unit}", style.INK),
            ("power", "heat at\nthe tip, W", style.EMBER),
            ("ember", "ember,\nestimate", style.EMBER),
        ):
            top, bottom = _LANES[name]
            self.write(words, _RIGHT + 14, (top + bottom) / 2 - 8, color=color)
        if pinned is not None:
            self.write("pinned (dotted)", _RIGHT + 14, _LANES["ember"][1] + 42, color=style.INK)
        self._write_places(here)

    def _write_places(self, here):
        """Name the places on the force axis, each on its own side of its line."""
        now, best, stall = (self._pixel(f) for f in (here.now.force, here.best, here.stall))
        seen = self._on_picture(here.best)
        if seen and abs(here.now.force - here.best) < _NEAR * here.best and here.now.speed > 0:
            self.write("you are here: best force", now, _TOP, align="center")
        elif now < best:
            end = max(now - _APART, _HERE_WIDE)  # further left is no room for it
            self.write("you are here", end, _TOP, align="right")
            if seen:
                self.write("best force", max(best, end + _SAME) + _APART, _TOP)
        else:
            self.write("you are here", now + _APART, _TOP)
            if seen:
                self.write("best force", best - _APART, _TOP, align="right")
        words = "cord slips" if here.slips else "arm stalls"
        if stall + 100 < _RIGHT:
            self.write(words, max(stall, _LEFT) + 8, sum(_LANES["power"]) / 2)

    def _name_hold(self, sweep, hold):
        """Name the hold time's curve: above it, or below where the ember's is above."""
        if not np.any(hold < TOO_LONG):
            return
        lane = self.lanes["ember"]
        x, y = self._pixel(sweep.force), lane.down(np.nan_to_num(hold, nan=LAST))
        low, half = np.nanargmin(hold), _SPENT_WIDE // 2
        pixels = np.arange(_LEFT, _RIGHT)
        room = minimum_filter1d(np.interp(pixels, x, y), _SPENT_WIDE)[half:-half]
        if hold[low] > sweep.ember.high[low] and room.max() > lane.top + 38:
            left, level = pixels[np.argmax(room)], room.max() - 14
            ends = left, level - 10, left + _SPENT_WIDE, level + 10
            self.fill(*ends, style.PAPER, name="paper for arm is spent")
        else:
            left, level = min(x[low] + _APART, _RIGHT - _SPENT_WIDE), y[low] + 16
        self.write("arm is spent", left, level, color=style.INK)

    def _pixel(self, force):
        return self.lanes["ember"].across(self.force.shown(force, self.system))

    def _on_picture(self, force):
        return _LEFT - 1 <= self._pixel(force) <= _RIGHT + 1

    def sentence(self, here: Valley, pinned: Valley | None) -> str:
        """Say in words what the picture shows."""
        words = self._say(here)
        return words if pinned is None else f"{words} Before: {self._say(pinned)}"

    def _say(self, valley):
        now, force = valley.now, self.force.text(valley.now.force, self.system)
        best = self.force.text(valley.best, self.system)
        if valley.best == valley.stall:
            best = f"just under {best}, where the cord slips"
        best = f"This invented arm makes most watts at {best}."
        if now.speed == 0:
            reason = "the cord slips" if valley.slips else "the arm stalls"
            return f"Pressing with {force}: {reason}, and there is never an ember. {best}"
        hold = hold_words(valley)
        return (
            f"Pressing with {force}: bow speed {self.speed.text(now.speed, self.system)}, "
            f"{number_words(now.power)} W, ember {band_words(now.ember)}; "
            f"{_HOLD_SENTENCES.get(hold, f'the arm is spent after {hold}')}. {best}"
        )


NO_END, NOT_KNOWN, NO_HOLD = "no end seen", "not known", "–"
_HOLD_SENTENCES = {
    NO_END: "the arm can keep this up",
    NOT_KNOWN: "how long the arm lasts is not known",
}


def hold_words(valley: Valley) -> str:
    """Say how long an arm holds out, and where the model cannot say.

    Examples
    --------
    >>> from fireheat import Air, Arm, Kit
    >>> from fireheat.answers.pressing import valley
    >>> rest = {"arm": Arm(), "air": Air(), "slip_pull": 200.0}
    >>> [hold_words(valley(Kit(), force=force, **rest)) for force in (30, 100, 290, 460)]
    ['no end seen', '7 min', 'not known', '–']
    """
    now = valley.now
    if now.speed == 0:
        return NO_HOLD
    if now.hold < TOO_LONG:
        return time_words(now.hold)
    return NO_END if valley.hold_known else NOT_KNOWN


def _block(name):
    return Rectangle((0, 0), 1, 1, color=style.SHADE, linewidth=0, label=name)
