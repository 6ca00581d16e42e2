"""How dry: the weather in the wood."""

import numpy as np

from ..answers.weather import stores
from ..figures.weather import Settling, WeatherPicture
from ..kit.kit import Air, Effort, Kit, Try
from ..kit.moisture import equilibrium_moisture
from ..quantities import METRIC, quantity
from ..words import band_words, factor_words
from .base import Panel, cells, tiles
from .controls import Slider
from .two_bands import EMBER, wood_note


class Weather(Panel):
    """Wood in balance with the air: kept outdoors, and on a rack where the same air is warmer.

    Parameters
    ----------
    kit, effort, air : optional
        Where it starts.
    units : str
        ``"metric"`` or ``"us"``.
    """

    question = "How damp does wood get?"

    def __init__(
        self,
        kit: Kit | None = None,
        effort: Effort | None = None,
        air: Air | None = None,
        *,
        units: str = METRIC,
    ):
        self._try = Try(kit, effort, air)
        controls = {
            "temperature_ambient": Slider("temperature_ambient", self._try.air.temperature),
            "relative_humidity": Slider("relative_humidity", self._try.air.relative_humidity),
            "warming": Slider("warming"),
            "diameter": Slider("diameter", self._try.kit.diameter),
        }
        super().__init__(controls, [cells(controls, *controls)], units)

    def answer(self, state):
        """Work out both stores, and the curve they lie on."""
        temperature = state["temperature_ambient"]
        keys = ("temperature_ambient", "relative_humidity", "diameter")
        tried = self._try.changed(**{key: state[key] for key in keys})
        humidity = np.linspace(0, quantity("relative_humidity").slider[1], 60)
        moisture = equilibrium_moisture(temperature, relative_humidity=humidity)
        return Settling(humidity, moisture, stores(tried, warming=state["warming"]))

    def draw(self, answer, before):
        """Draw the curve, both places and what the water costs."""
        sketch = self.sketch(WeatherPicture, self.system)
        outdoors, rack = answer.stores
        said, before, then = sketch.update(answer, before).partition(" Before: ")
        words = (
            f"{said} With all we do not know: {band_words(outdoors.all)} outdoors, "
            f"{band_words(rack.all)} from the rack; against outdoors that is "
            f"{factor_words(rack.ratio)}, all else alike.{before}{then}"
        )
        return sketch, words

    def results(self, answer, before):
        """Spell moisture and ember of both stores."""
        rows = []
        for what, place in (("Kept outdoors", "outdoors"), ("Kept on the rack", "rack")):
            store = getattr(answer.stores, place)
            rows += [
                ("", what, _moisture(place), self._where(store)),
                ("fh-ember", EMBER, _band(place), _note(place, store)),
            ]
        return tiles(rows, answer, before)

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


def _moisture(place):
    return lambda answer: f"{getattr(answer.stores, place).moisture * 100:.0f} %"


def _band(place):
    return lambda answer: band_words(getattr(answer.stores, place).all)


def _note(place, store):
    if place == "outdoors":
        return wood_note(store.ember)
    return f"against outdoors: {factor_words(store.ratio)}; {wood_note(store.ember)}"
