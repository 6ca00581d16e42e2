"""How much dust is made, and whether a heap of it keeps itself hot. ROUGH."""

from scipy.constants import minute

from ..ember.ember import HEAP_SHARE, Ember, heap_mass
from ..ember.ignition import enough_dust
from ..figures.keeping import ENOUGH, Heap, KeepStrip, grams
from ..quantities import quantity
from ..words import number_words
from .base import cells, tiles
from .controls import Slider
from .trying import Trying
from .woods import wood_choice


class WillItKeep(Trying):
    """Dust from burn-in depth, tip and wood, against the least that keeps itself hot.

    Parameters
    ----------
    kit, effort, air : optional
        Where it starts; only the kit plays a part.
    units : str
        ``"metric"`` or ``"us"``.
    """

    question = "Is there enough dust?"

    tried = "burn_in_depth", "diameter", "wood"
    left_out = "friction", "grip", "hot_grip", "force", "speed", "moisture"  # dry dust in a heap
    banded = False

    def make_controls(self):
        """Make the controls, by name."""
        kit = self._try.kit
        return {
            "burn_in_depth": Slider("burn_in_depth", kit.burn_in_depth),
            "diameter": Slider("diameter", kit.diameter),
            "temperature_heap": Slider("temperature_heap", name="temperature of the hot dust"),
            "wood": wood_choice(kit.wood),
        }

    def lay_out(self, controls):
        """Stand the controls."""
        return [cells(controls, *controls)]

    def answer(self, state):
        """Weigh the dust, and see whether it keeps."""
        kit = self.now(state).kit
        keep = enough_dust(kit, temperature_heap=state["temperature_heap"])
        return Heap(Ember.of_mass(heap_mass(kit.dust)), keep)

    def draw(self, answer, before):
        """Draw the strip."""
        sketch = self.sketch(KeepStrip)
        return sketch, sketch.update(answer, before)

    def results(self, answer, before):
        """Spell the dust, the least, and how many times that it is."""
        low, _, high = (number_words(1000 * mass) for mass in answer.keep.mass_least)
        least, _, most = (number_words(ratio) for ratio in answer.keep.times_least)
        weak, strong = map(number_words, answer.ember.power_band.ends)
        minutes = number_words(answer.ember.burning_time / minute)
        times = number_words(answer.keep.times_least.likely)
        size = "as big as" if times == "1" else f"{times} times"
        enough = f"{size} the smallest that stays hot (rough: {least} to {most} times)"
        burns = f"if all of it smoulders away in {minutes} minutes; band {weak} to {strong} W"
        caught = f"{quantity('heap_share').text(HEAP_SHARE)} of what is worn off"
        rows = (
            ("", "Dust in the heap", _grams, f"{caught}; the rest flies off"),
            ("", "Smallest that stays hot", _least, f"rough: {low} to {high} g"),
            ("fh-ember", "Enough dust?", _enough, enough),
            ("", "Heat while glowing", _power, burns),
        )
        return tiles(rows, answer, before)

    def effects(self, answer):
        """Say what each control does."""
        return {
            "burn_in_depth": "deeper: more dust",
            "diameter": "twice as wide: four times the dust, and four times the work",
            "temperature_heap": "hotter dust: far less of it is needed",
            "wood": "heavy wood: more dust for the same depth",
        }


def _grams(heap):
    return grams(heap.ember.mass)


def _least(heap):
    return grams(heap.keep.mass_least.likely)


def _enough(heap):
    return ENOUGH[heap.keep.verdict]


def _power(heap):
    return f"{number_words(heap.ember.power)} W"
