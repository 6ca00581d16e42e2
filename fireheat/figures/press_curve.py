"""Against downward force: the bow slowing, the watts peaking, the ember's valley."""

from typing import Any

import numpy as np
from matplotlib.patches import Polygon

from ..pressing import Valley
from ..quantities import quantity
from ..words import NEVER, band_words, number_words, time_words
from . import style
from .sketch import Sketch

_WIDTH, _HEIGHT = 800, 440
_LEFT, _RIGHT = 92, 640
_LANES = {"speed": (24, 108), "power": (124, 208), "ember": (224, 380)}  # top, bottom, in pixels
_FIRST, _LONG, _LAST = 5.0, 1200.0, 2400.0  # the time axis; from _LONG up is the strip "never"
_NEVER = (_LONG * _LAST) ** 0.5
_TICKS = (10, 30, 60, 180, 600)
_FASTEST, _MOST_WATTS = 2.6, 32.0  # ends of the other two axes, SI


def _on_axis(seconds):
    """Put times beyond the axis into the strip where a reader still sees them."""
    return np.where(np.asarray(seconds) < _LONG, np.maximum(seconds, _FIRST), _NEVER)


class PressCurve(Sketch):
    """Three lanes over one force axis, with the state now, the best force, stall and a pin.

    Parameters
    ----------
    system : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, system: str):
        super().__init__(_WIDTH, _HEIGHT)
        self.system = system
        self.force, self.speed = quantity("force_tried"), quantity("speed")
        self.low, self.high = (self.force.shown(end, system) for end in self.force.slider)
        with style.look():
            self.axes = {name: self._lane(name, *ends) for name, ends in _LANES.items()}
            self._still_part()
            self._moving_part()

    def _lane(self, name, top, bottom):
        frame = (
            _LEFT / _WIDTH,
            1 - bottom / _HEIGHT,
            (_RIGHT - _LEFT) / _WIDTH,
            (bottom - top) / _HEIGHT,
        )
        axes = self.figure.add_axes(frame)
        axes.set_xlim(self.low, self.high)
        axes.grid(axis="y", color=style.FAINT, linewidth=0.8)
        axes.set_axisbelow(True)
        if name != "ember":
            axes.set_xticklabels([])
            axes.tick_params(axis="x", length=0)
        return axes

    def _still_part(self):
        fastest = self.speed.shown(_FASTEST, self.system)
        self.axes["speed"].set(ylim=(0, fastest))
        self.axes["power"].set(ylim=(0, _MOST_WATTS), yticks=[0, 10, 20, 30])
        axes = self.axes["ember"]
        axes.set(yscale="log", ylim=(_FIRST, _LAST), xlabel=self.force.label(self.system))
        words = [f"{t} s" if t < 60 else f"{t // 60} min" for t in _TICKS]
        axes.set_yticks((*_TICKS, _NEVER), [*words, NEVER])
        axes.yaxis.set_tick_params(which="minor", length=0)
        axes.yaxis.set_minor_formatter("")
        axes.axhspan(_LONG, _LAST, color="#EEEEEE", linewidth=0)

    def _moving_part(self):
        add = self.add
        colors = {"speed": style.INK, "power": style.DUST, "ember": style.EMBER}
        self.band = add(
            self.axes["ember"].add_patch(
                Polygon(np.zeros((3, 2)), color=style.EMBER, alpha=0.22, lw=0)
            )
        )
        self.ghosts = {
            name: add(axes.plot([], [], color=style.PINNED, ls=(0, (1, 1.2)), lw=2.5)[0])
            for name, axes in self.axes.items()
        }
        self.hold = add(self.axes["ember"].plot([], [], color=style.BOUND, ls=(0, (4, 2)))[0])
        self.lines = {
            name: add(axes.plot([], [], color=colors[name])[0]) for name, axes in self.axes.items()
        }
        mark: Any = {"mec": "white", "mew": 2}
        self.marks = {
            name: add(axes.plot([], [], "o", color=colors[name], ms=13, **mark)[0])
            for name, axes in self.axes.items()
        }
        self.best = {
            name: add(axes.plot([], [], color=style.INK, lw=1.5)[0])
            for name, axes in self.axes.items()
        }

    def update(self, here: Valley, pinned: Valley | None) -> str:
        """Move everything to new numbers and return the sentence that says what is shown."""
        self.clear()
        for name, values in self._values(here.sweep).items():
            x, y = values
            self.lines[name].set_data(x, y)
            now = self._values(here.now)[name]
            self.marks[name].set_data([now[0]], [float(now[1])])
            best = self.force.shown(here.best, self.system)
            self.best[name].set_data([best, best], self.axes[name].get_ylim())
        x = self.force.shown(here.sweep.force, self.system)
        low, _, high = _on_axis(here.sweep.ember)
        self.band.set_xy(np.column_stack([np.r_[x, x[::-1]], np.r_[low, high[::-1]]]))
        self.hold.set_data(x, np.clip(here.sweep.hold, _FIRST, _LAST))
        for name, ghost in self.ghosts.items():
            ghost.set_visible(pinned is not None)
            if pinned is not None:
                ghost.set_data(*self._values(pinned.sweep)[name])
        self._write(here, pinned)
        return self.sentence(here, pinned)

    def _values(self, pressing):
        x = self.force.shown(pressing.force, self.system)
        return {
            "speed": (x, self.speed.shown(pressing.speed, self.system)),
            "power": (x, pressing.power),
            "ember": (x, _on_axis(pressing.ember[1])),
        }

    def _write(self, here, pinned):
        unit = self.speed.label(self.system).partition("(")[2].rstrip(")")
        for name, words, color in (
            ("speed", f"bow speed,\n{unit}", style.INK),
            ("power", "heat at\nthe tip, W", "#8A5A00"),
            ("ember", "ember,\nestimate", style.EMBER),
        ):
            top, bottom = _LANES[name]
            self.write(words, _RIGHT + 14, (top + bottom) / 2 - 8, color=color)
        self.write("arm is spent\n(dashed)", _RIGHT + 14, _LANES["ember"][1] - 26)
        share = (self.force.shown(here.best, self.system) - self.low) / (self.high - self.low)
        if share < 1:
            at = _LEFT + share * (_RIGHT - _LEFT)
            self.write("best force", at, 11, align="center")
        if pinned is not None:
            self.write("pinned (dotted)", _RIGHT + 14, 11, color=style.PINNED)

    def sentence(self, here: Valley, pinned: Valley | None) -> str:
        """Say in words what the picture shows."""
        words = self._say(here)
        return words if pinned is None else f"{words} Pinned: {self._say(pinned)}"

    def _say(self, valley):
        now, force = valley.now, self.force.text(valley.now.force, self.system)
        if now.speed == 0:
            return f"Pressing with {force}: the spindle stands still, and there is never an ember."
        best = self.force.text(valley.best, self.system)
        return (
            f"Pressing with {force}: bow speed {self.speed.text(now.speed, self.system)}, "
            f"{number_words(now.power)} W, ember {band_words(now.ember[0], now.ember[2])}; the arm "
            f"is spent after {time_words(now.hold)}. Most watts at {best}."
        )
