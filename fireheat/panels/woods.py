"""Which wood, how dry: all woods side by side, and the weather in the wood."""

from dataclasses import replace
from functools import cache
from typing import Any

import ipywidgets as widgets
import numpy as np

from ..figures.weather import Settling, WeatherPicture
from ..figures.wood_rows import WoodRows
from ..kit import Air, Effort, Kit
from ..quantities import METRIC, quantity
from ..weather import stores
from ..wood import equilibrium_moisture, woods
from ..woodpile import woodpile
from ..words import band_words, likely_words, percent_words
from .base import Choice, Panel, Slider, cells, least, tiles


class WoodsSideBySide(Panel):
    """Every wood of the table on the same kit and effort, the chosen one on top in big numbers.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start.
    units : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(
        self,
        kit: Kit | None = None,
        effort: Effort | None = None,
        air: Air | None = None,
        *,
        units: str = METRIC,
    ):
        self._kit, self._air = kit or Kit(), air or Air()
        effort = effort or Effort()
        self._sketch = WoodRows(len(woods()))
        names = {key: row.name for key, row in woods().items()}
        controls: dict[str, Any] = {
            "wood": Choice("Wood", names, self._kit.wood),
            "diameter": Slider("diameter", self._kit.diameter),
            "force": Slider("force", effort.force),
            "speed": Slider("speed", effort.speed),
            "moisture": Slider("moisture", self._kit.moisture),
        }
        choose = widgets.HBox([controls["wood"].widget])
        choose.add_class("fh-bar")
        super().__init__(controls, [choose, cells(controls, *list(controls)[1:])], units)

    def answer(self, state):
        """Make the one pure call."""
        kit = replace(
            self._kit,
            wood=state["wood"],
            radius=state["diameter"] / 2,
            moisture=state["moisture"],
        )
        return woodpile(kit, Effort(force=state["force"], speed=state["speed"]), self._air)

    def draw(self, answer, pinned):
        """Draw a row for each wood."""
        words = self._sketch.update(answer, pinned)
        return self._sketch.png(), words

    def results(self, answer, pinned):
        """Spell the chosen wood's ember, floor, boards and density."""
        row, likely = answer.woods[answer.chosen], likely_words(answer.ember[1])
        rows = (
            ("fh-ember", "Ember, estimate", _pile_band, f"{row.name}, {likely}"),
            ("fh-floor", "Energy floor", lambda p: least(p.bound), "not an estimate: never sooner"),
            ("", "Board to board", _boards, "most likely time, a light and a heavy board"),
            ("", "Dry density", _density, f"of water's; {row.kind}, {row.latin}"),
        )
        return tiles(rows, answer, pinned)

    def effects(self, answer):
        """Say what each slider does to all rows."""
        return {
            "diameter": "thicker: all later, and heavy woods lose most",
            "force": "more: all sooner, and heavy woods gain most",
            "speed": "more: all sooner, and heavy woods gain most",
            "moisture": "wetter: all later",
        }


def _pile_band(pile):
    return band_words(pile.ember[0], pile.ember[2])


def _boards(pile):
    return band_words(*pile.boards)


def _density(pile):
    return percent_words(pile.woods[pile.chosen].specific_gravity)


class Weather(Panel):
    """Wood in balance with the air: kept outdoors, and on a rack where the same air is warmer.

    Parameters
    ----------
    kit, effort, air : optional
        Where it starts.
    units : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(
        self,
        kit: Kit | None = None,
        effort: Effort | None = None,
        air: Air | None = None,
        *,
        units: str = METRIC,
    ):
        self._kit, self._effort, self._air = kit or Kit(), effort or Effort(), air or Air()
        self._sketch = cache(WeatherPicture)
        controls = {
            "temperature_ambient": Slider("temperature_ambient", self._air.temperature),
            "relative_humidity": Slider("relative_humidity", self._air.relative_humidity),
            "warming": Slider("warming"),
            "diameter": Slider("diameter", self._kit.diameter),
        }
        super().__init__(controls, [cells(controls, *controls)], units)

    def answer(self, state):
        """Work out both stores, and the curve they lie on."""
        temperature = state["temperature_ambient"]
        air = replace(
            self._air, temperature=temperature, relative_humidity=state["relative_humidity"]
        )
        kit = replace(self._kit, radius=state["diameter"] / 2)
        humidity = np.linspace(0, quantity("relative_humidity").slider[1], 60)
        moisture = equilibrium_moisture(temperature, humidity)
        return Settling(humidity, moisture, stores(kit, self._effort, air, state["warming"]))

    def draw(self, answer, pinned):
        """Draw the curve, both places and what the water costs."""
        sketch = self._sketch(self.system)
        words = sketch.update(answer, pinned)
        return sketch.png(), words

    def results(self, answer, pinned):
        """Spell moisture and ember of both stores."""
        outdoors, rack = answer.stores
        rows = (
            ("", "Kept outdoors", _moisture(0), self._where(outdoors)),
            ("fh-ember", "Ember, estimate", _store_band(0), likely_words(outdoors.ember[1])),
            ("", "Kept on the rack", _moisture(1), self._where(rack)),
            ("fh-ember", "Ember, estimate", _store_band(1), likely_words(rack.ember[1])),
        )
        return tiles(rows, answer, pinned)

    def _where(self, store):
        warm = quantity("temperature_ambient").text(store.temperature, self.system)
        return f"water, in air of {warm}, {store.relative_humidity * 100:.0f} % humidity"

    def effects(self, answer):
        """Say what each slider does."""
        return {
            "temperature_ambient": "by itself, hardly moves the wood's water",
            "relative_humidity": "this is what wood answers to",
            "warming": "no water leaves the air, yet its relative humidity falls",
            "diameter": "same water in each gram, more grams",
        }


def _moisture(at):
    return lambda answer: f"{answer.stores[at].moisture * 100:.0f} %"


def _store_band(at):
    return lambda answer: band_words(*answer.stores[at].ember[[0, 2]])
