"""Against downward force: the hill of watts at the tip, and the bow slowing below it."""

from typing import Any

import numpy as np
from matplotlib.patches import Polygon, Rectangle
from matplotlib.ticker import MaxNLocator

from ..answers.pressing import Valley
from ..quantities import quantity
from ..words import TOO_LONG, band_words, number_words, time_words
from . import style
from .marks import BEFORE_LINE, before_dot, now_dot
from .sketch import Frame, Scale, Sketch, band_corners

_WIDTH, _HEIGHT = 800, 474
_LEFT, _RIGHT = 60, 776
_LANES = {"power": (56, 330), "speed": (372, 422)}  # top, bottom, in pixels
_NEAR = 0.05  # of the best force: no nearer can be found by small steps
_FASTEST = 3.2  # end of the speed axis, SI
_MOST_WATTS = {30.0: (0, 10, 20, 30), 60.0: (0, 20, 40, 60), 150.0: (0, 50, 100, 150)}
_ABOVE_TOP, _ABOVE_SPENT = 40, (66, 92)  # pixels from the hill's top up to what is written


def watts_axis(power: float) -> float:
    """Choose the axis of so many watts: one for all middling arms, so that hills compare.

    Examples
    --------
    >>> watts_axis(7.6), watts_axis(28.5), watts_axis(51.0)
    (30.0, 30.0, 60.0)
    """
    return next((most for most in _MOST_WATTS if power <= most), max(_MOST_WATTS))


class PressCurve(Sketch):
    """A hill of watts over force, what lies below it, and the state now and before.

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
        ends = Scale(0.0, self.force.shown(self.force.slider[1], system))
        ups = {"power": Scale(0, most_watts), "speed": Scale(0, self.speed.shown(_FASTEST, system))}
        self.lanes = {
            name: Frame(self, (_LEFT, top, _RIGHT, bottom), ends, ups[name])
            for name, (top, bottom) in _LANES.items()
        }
        with style.look():
            self.axes = {name: self._lane(name) for name in _LANES}
            self._still_part()
            self._moving_part()

    def _lane(self, name):
        axes = self.lanes[name].draw_axes()
        axes.grid(axis="y", linewidth=0.8)
        axes.set_axisbelow(True)
        return axes

    def _still_part(self):
        power, speed = self.axes["power"], self.axes["speed"]
        power.set(yticks=_MOST_WATTS[self.most_watts])
        power.set_xticklabels([])
        power.tick_params(axis="x", length=0)
        speed.yaxis.set_major_locator(MaxNLocator(2))
        speed.set_xlabel(self.force.label(self.system), labelpad=2)
        for words, lane in (
            ("Heat at the tip (W)", "power"),
            (self.speed.label(self.system), "speed"),
        ):
            place = 1 - (self.lanes[lane].top - 22) / _HEIGHT
            self.figure.text(8 / _WIDTH, place, words, va="center")

    def _moving_part(self):
        axes, add = self.axes, self.add
        grounds = {name: _block(f"{name}, stopped") for name in axes}
        self.still = {name: add(axes[name].add_patch(grounds[name])) for name in axes}
        hill: Any = {"fc": style.EMBER_BAND, "alpha": 0.3, "lw": 0, "label": "hill"}
        self.hill = add(axes["power"].add_patch(Polygon(np.zeros((3, 2)), **hill)))
        spent: Any = {"fc": style.PAPER, "alpha": 0.6, "lw": 0, "label": "arm is spent first"}
        self.spent = add(axes["power"].add_patch(Polygon(np.zeros((3, 2)), hatch="//", **spent)))
        self.spent.set_hatchcolor(style.INK)
        dashes = {"color": style.INK, "ls": BEFORE_LINE, "lw": 2}
        self.then = self._line("before", **dashes)
        self.lines = self._line("likely", {"power": style.EMBER_BAND, "speed": style.INK})
        dots = {
            name: now_dot(color) for name, color in (("power", style.EMBER), ("speed", style.INK))
        }
        self.marks = {name: add(axes[name].plot([], [], **dots[name])[0]) for name in axes}
        for name, mark in self.marks.items():
            mark.set_label(f"{name}, now")

    def _line(self, what, colors=None, **look):
        """Add a line to every lane, in the lane's own colour if asked."""

        def draw(axes, name):
            own = {"color": colors[name]} if colors else {}
            return self.add(axes.plot([], [], label=f"{name}, {what}", **own, **look)[0])

        return {name: draw(axes, name) for name, axes in self.axes.items()}

    def update(self, here: Valley, before: Valley | None) -> str:
        """Move everything to new numbers and return the sentence that says what is shown."""
        self.clear()
        values, now = self._values(here.sweep), self._values(here.now)
        stall = self.force.shown(here.stall, self.system)
        for name, lane in self.lanes.items():
            self.lines[name].set_data(*values[name])
            self.marks[name].set_data(*np.reshape(now[name], (2, 1)))
            self.still[name].set_bounds(stall, 0, max(0.0, lane.x.high - stall), lane.y.high)
        x, power = values["power"]
        self.hill.set_xy(band_corners(x, np.zeros_like(x), power))
        spent = (here.sweep.hold < here.sweep.ember.likely) & (here.sweep.hold < TOO_LONG)
        self.spent.set_visible(bool(spent.any()))
        self.spent.set_xy(band_corners(x, np.zeros_like(x), np.where(spent, power, 0.0)))
        self._write_places(here)
        self._keep(before)
        self._name_stopped(here)
        self._name_spent(here, x[spent])
        return self.sentence(here, before)

    def _keep(self, before):
        for line in self.then.values():
            line.set_visible(before is not None)
        if before is None:
            return
        values, now = self._values(before.sweep), self._values(before.now)
        for name, lane in self.lanes.items():
            self.then[name].set_data(*values[name])
            x, y = now[name]
            before_dot(lane, f"{name}, dot of before", lane.across(x), lane.down(y))
        x, y = (float(place) for place in self._place(before.now))
        spots = [(x + 12, y + 20, "left"), (x + 12, y - 18, "left"), (x - 12, y - 18, "right")]
        below = y + 32 < _LANES["power"][1]
        self.write_free("before", spots if below else spots[1:])

    def _values(self, pressing):
        x = self.force.shown(pressing.force, self.system)
        return {
            "power": (x, pressing.power),
            "speed": (x, self.speed.shown(pressing.speed, self.system)),
        }

    def _place(self, pressing):
        """Pixels of a state on the hill."""
        lane, (x, y) = self.lanes["power"], self._values(pressing)["power"]
        return lane.across(x), lane.down(y)

    def _write_places(self, here):
        """Name the dot, beside the hill on its own side, and the hill's top, above it."""
        (x, y), best = self._place(here.now), self._pixel(here.best)
        words = f"you are here: {number_words(here.now.power)} W"
        at_top = abs(here.now.force - here.best) < _NEAR * here.best and here.now.speed > 0
        if at_top:
            words = f"you are here: the top, {number_words(here.now.power)} W"
            half = self.width(words) / 2
            x = float(np.clip(x, _LEFT + half + 8, _RIGHT - half))
            self.write(words, x, y - 22, align="center")
            return
        if best <= _RIGHT:
            self._name_top(here, best)
        wide = self.width(words)
        if here.now.force > here.best:
            self.write(words, min(x + 14, _RIGHT - wide), y - 14)
        elif x - 12 - wide > _LEFT + 6:
            self.write(words, x - 12, y - 12, align="right")
        else:  # no room beside the slope: inside the hill, or above where that is low
            ups = (22, -40) if y + 36 < _LANES["power"][1] else (-40, self._top(here) - y - 70)
            self.write_free(words, [(x + 14, y + up, "left") for up in ups], halo=True)

    def _name_top(self, here, best):
        top, lane = self._top(here), self.lanes["power"]
        words = f"top of the hill: {number_words(here.sweep.power.max())} W"
        half = self.width(words) / 2
        middle = float(np.clip(best, _LEFT + half + 8, _RIGHT - half))
        self.write(words, middle, top - _ABOVE_TOP, align="center")
        ends = (best, top - _ABOVE_TOP + 14), (best, top - 4)
        self.line(*ends, style.EDGE, name="to the top", frame=lane)

    def _top(self, here):
        """Pixels from the picture's top down to the hill's."""
        return float(self.lanes["power"].down(here.sweep.power.max()))

    def _name_stopped(self, here):
        stall = max(self._pixel(here.stall), _LEFT)
        words = "the cord slips" if here.slips else "the arm stalls"
        if stall + 10 + self.width(words) < _RIGHT:
            middle = sum(_LANES["speed"]) / 2
            self.write(words, stall + 8, middle - 4, color=style.QUIET)

    def _name_spent(self, here, spent):
        """Say what the hatched part of the hill is, with a leader to it."""
        if not spent.size:
            return
        lane, top = self.lanes["power"], self._top(here)
        end = 0.1 * spent[0] + 0.9 * spent[-1]
        x, foot = self._pixel_shown(end), np.interp(end, *self._values(here.sweep)["power"])
        words = "the arm is spent before the ember"
        left = min(x + 8, _RIGHT - self.width(words))
        self.write_free(words, [(left, top - up, "left") for up in (14, *_ABOVE_SPENT)])
        height = self.written()[-1].y
        ends = (left - 6, height), (x - 4, lane.down(0.6 * float(foot)))
        self.line(*ends, style.EDGE, name="to arm is spent", frame=lane)

    def _pixel(self, force):
        return self._pixel_shown(self.force.shown(force, self.system))

    def _pixel_shown(self, force):
        return float(self.lanes["power"].across(force))

    def sentence(self, here: Valley, before: Valley | None) -> str:
        """Say in words what the picture shows."""
        words = self._say(here)
        return words if before is None else f"{words} Before: {self._say(before)}"

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
