"""Moisture of wood against humidity, outdoors and on a rack, and what the water costs."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..answers.weather import Stores
from ..quantities import quantity
from ..words import band_words, percent_words
from . import style
from .marks import before_dot, now_dot
from .patterns import outline, waves
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 330
_LEFT, _RIGHT, _TOP, _BOTTOM = 62, 420, 12, 270  # the curve's frame, in pixels from the top left
_MOST = 0.26  # top of the moisture axis
_BAR_LEFT, _BAR_RIGHT, _BAR = 476, 730, 46


@dataclass(frozen=True)
class Settling:
    """What the picture shows of one state.

    Attributes
    ----------
    humidity, moisture : ndarray, shape (n,)
        The curve of settled moisture outdoors.
    stores : Stores
        Outdoors, and on the rack.
    """

    humidity: np.ndarray
    moisture: np.ndarray
    stores: Stores


class WeatherPicture(Sketch):
    """The curve with two places on it; beside it, the heat that one ember's dust takes.

    Parameters
    ----------
    system : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, system: str):
        super().__init__(_WIDTH, _HEIGHT)
        self.system = system
        percent = Scale(0, 100), Scale(0, 100 * _MOST)
        self.frame = Frame(self, (_LEFT, _TOP, _RIGHT, _BOTTOM), *percent)
        self.bars = Frame(self, (_BAR_LEFT, 80, _BAR_RIGHT, 192 + _BAR))
        with style.look():
            axes = self.frame.draw_axes()
            axes.set_yticks([0, 10, 20], ["0 %", "10 %", "20 %"])
            axes.set_xticks([0, 25, 50, 75, 100])
            axes.grid(color=style.RULE, linewidth=0.8)
            axes.set_xlabel(quantity("relative_humidity").label(system), labelpad=4)
            curve: Any = {"color": style.EDGE, "lw": 2.5, "label": "moisture"}
            self.curve = self.add(axes.plot([], [], **curve)[0])
            way: Any = {"color": style.WOOD_MID, "lw": 7, "label": "rack to outdoors"}
            self.way = self.add(axes.plot([], [], **way)[0])
            dots = now_dot(style.WOOD_DARK) | {"label": "outdoors and rack"}
            self.marks = self.add(axes.plot([], [], **dots)[0])

    def update(self, now: Settling, before: Settling | None) -> str:
        """Move everything and return the sentence that says what is shown."""
        self.clear()
        self.curve.set_data(100 * now.humidity, 100 * now.moisture)
        outdoors, rack = now.stores
        between = np.linspace(rack.relative_humidity, outdoors.relative_humidity, 30)
        self.way.set_data(100 * between, 100 * np.interp(between, now.humidity, now.moisture))
        self.marks.set_data(*_places(now))
        self.write("wood moisture", _LEFT + 10, _TOP + 12, color=style.QUIET)
        self._name("outdoors", outdoors, -1)
        self._name("rack", rack, 1)
        if before is not None:
            self._before(before)
        self._bars(now.stores)
        return self.sentence(now.stores, before)

    def _before(self, then):
        humidity, moisture = _places(then)
        places = np.column_stack(
            [self.frame.across(np.array(humidity)), self.frame.down(np.array(moisture))]
        )
        for name, (x, y) in zip(("outdoors", "rack"), places, strict=True):
            before_dot(self.frame, f"{name} before", float(x), float(y))
        x, y = (float(place) for place in places[0])
        low = min(y, _BOTTOM - 12)
        ups = (-18, 4, 22, -42, 46)
        spots = [(x + 14, min(low + up, _BOTTOM - 12), "left") for up in ups]
        spots += [(x - 14, min(low + up, _BOTTOM - 12), "right") for up in ups]
        inside = [spot for spot in spots if _LEFT + 66 < spot[0] < _RIGHT - 66]
        self.write_free("before", inside or spots, halo=True)

    def _name(self, place, store, side):
        """Name a mark: outdoors above, to the left where there is room; the rack below."""
        x = self.frame.across(100 * store.relative_humidity)
        y = self.frame.down(100 * store.moisture)
        y = min(y + 13 * side, _BOTTOM - 12)
        right = side > 0 or x < _LEFT + 130
        place = f"{place} {percent_words(store.moisture)}"
        self.write(
            place, x + (13 if right else -13), y, size=15, align="left" if right else "right"
        )

    def _bars(self, stores):
        self.write("heat for one ember's dust", _BAR_LEFT, 24)
        self.bars.rescale(Scale(0.0, max(store.wood + store.water for store in stores)))
        for top, store, name in zip((66, 178), stores, ("outdoors", "from the rack"), strict=True):
            total = store.wood + store.water
            self.write(f"{name}: {float(f'{total:.2g}'):g} J", _BAR_LEFT, top, size=15)
            split, end = map(self.bars.across, (store.wood, total))
            top, bottom = top + 14, top + 14 + _BAR
            self.bars.fill(f"{name}, dry wood", _BAR_LEFT, top, split - 2, bottom, style.EMBER_BAND)
            box = split, top, end, bottom
            self.bars.fill(f"{name}, water", *box, style.QUIET, waves())
            self.bars.fill(f"{name}, edge of water", *box, style.EDGE, outline())
            self.write("dry wood", _BAR_LEFT, bottom + 14)
            water = f"water {percent_words(store.water_share)}"
            # Below its part, and clear of the other word where wood is dry.
            self.write(water, max(split, _BAR_LEFT + 110), bottom + 14)

    def sentence(self, stores: Stores, before: Settling | None) -> str:
        """Say in words what the picture shows."""
        outdoors, rack = stores
        air, wet = self._air(outdoors), percent_words(outdoors.water_share)
        words = (
            f"Wood kept outdoors at {air} settles at {percent_words(outdoors.moisture)}: ember, "
            f"estimate {_band(outdoors)}. On the rack, at {self._air(rack)}, it settles at "
            f"{percent_words(rack.moisture)}: {_band(rack)}. Water takes {wet} of the dust's heat "
            f"outdoors, {percent_words(rack.water_share)} from the rack."
        )
        if before is not None:
            then = [f"{percent_words(store.moisture)}, {_band(store)}" for store in before.stores]
            words += f" Before: outdoors {then[0]}; rack {then[1]}."
        return words

    def _air(self, store):
        warm = quantity("temperature_ambient").text(store.temperature, self.system)
        return f"{warm} and {percent_words(store.relative_humidity)} humidity"


def _places(state):
    humidity = [100 * store.relative_humidity for store in state.stores]
    return humidity, [100 * store.moisture for store in state.stores]


def _band(store):
    return band_words(store.ember)
