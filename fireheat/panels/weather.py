"""How dry: the weather in the wood."""

import numpy as np

from ..answers.weather import stores
from ..figures.weather import Settling, WeatherPicture
from ..kit.moisture import equilibrium_moisture
from ..quantities import quantity
from ..words import band_words, factor_words
from .base import cells, tiles
from .controls import Slider
from .trying import Trying
from .two_bands import EMBER, wood_note


class Weather(Trying):
    """Wood in balance with the air: kept outdoors, and on a rack where the same air is warmer.

    Parameters
    ----------
    kit, effort, air : optional
        Where it starts.
    units : str
        ``"metric"`` or ``"us"``.
    """

    question = "How damp does wood get?"

    tried = "temperature_ambient", "relative_humidity", "diameter"
    left_out = ("moisture",)  # the air makes it

    def make_controls(self):
        """Make the controls, by name."""
        return {
            "temperature_ambient": Slider("temperature_ambient", self._try.air.temperature),
            "relative_humidity": Slider("relative_humidity", self._try.air.relative_humidity),
            "warming": Slider("warming"),
            "diameter": Slider("diameter", self._try.kit.diameter),
        }

    def lay_out(self, controls):
        """Stand the controls."""
        return [cells(controls, *controls)]

    def answer(self, state):
        """Work out both stores, and the curve they lie on."""
        temperature = state["temperature_ambient"]
        humidity = np.linspace(0, quantity("relative_humidity").slider[1], 60)
        moisture = equilibrium_moisture(temperature, relative_humidity=humidity)
        found = stores(self.now(state), warming=state["warming"], measured=self.known(state))
        return Settling(humidity, moisture, found)

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
