"""My wood weighs: a kitchen scale and a ruler instead of a name in a list."""

from typing import Any

from ..answers.weighing import weigh
from ..answers.woods import woods_of
from ..figures.weighing import WeighingPicture, deep_words, weighed_words
from ..kit.kit import Kit, Try
from ..words import factor_words
from .base import Panel, bar, cells, tiles, unfolding
from .controls import Choice, Slider
from .mine import PutIntoMyKit
from .units import GivenUnits

_SHAPES = {"stick": "a round stick", "block": "a block"}
_SIZES = ("piece_mass", "piece_length", "piece_width", "piece_thickness", "moisture")
_MORE = ("scale_limit", "ruler_limit")
_WRONG = {
    "heavy": "No wood is so heavy. Look again at the grams, and at the unit of the ruler.",
    "light": "Lighter than the woods that these formulas were made for: they say nothing of it.",
}


class WeighMyWood(Panel):
    """How heavy a piece of wood is, dry, beside water; what weighs alike; and what that does.

    Parameters
    ----------
    kit : Kit, optional
        Whose moisture it starts with.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "What does your wood weigh?"

    def __init__(self, kit: Kit | None = None, *, units: GivenUnits = None):
        start = {"moisture": Try(kit).kit.moisture}
        controls: dict[str, Any] = {"shape": Choice("The piece is", _SHAPES)}
        controls |= {key: Slider(key, start.get(key)) for key in (*_SIZES, *_MORE)}
        rest = cells(controls, *_MORE)
        self.mine = PutIntoMyKit(self._readings, lambda: self.system)
        more = bar(unfolding("More: scale, ruler", rest), self.mine)
        layout = [bar(controls["shape"].widget), cells(controls, *_SIZES), more, rest]
        super().__init__(controls, layout, units)
        controls["shape"].widget.observe(lambda _: self._follow_shape(), names="value")
        self._follow_shape()

    def _follow_shape(self):
        """Ask a round stick for no third side."""
        round_one = self.control["shape"].value == "stick"
        self.control["piece_thickness"].box.layout.display = "none" if round_one else None

    def _readings(self):
        """Tell what goes into my kit: nothing, if that is no wood."""
        found = self.answer(self.state)
        return {"specific_gravity": found.reading} if found.verdict == "wood" else {}

    def answer(self, state):
        """Make the one pure call."""
        sizes = {key: state[key] for key in (*_SIZES, *_MORE)}
        if state["shape"] == "stick":
            sizes["piece_thickness"] = None
        return weigh(sizes.pop("piece_mass"), **sizes)

    def draw(self, answer, before):
        """Draw the piece afloat, and its reading among the woods."""
        sketch = self.sketch(_picture)
        return sketch, sketch.update(answer, before)

    def results(self, answer, before):
        """Spell how heavy it is, how it floats, and what that does."""
        rows = (
            ("", "Dry wood, beside water", weighed_words, "water is 1; true in 2 cases of 3"),
            ("", "In water", lambda found: deep_words(found.afloat), "try it: is it so?"),
            ("fh-ember", "Ember, beside redcedar", _ratio, "time, ordinary kit, all else alike"),
        )
        wrong = _WRONG.get(answer.verdict, "Bark, cracks and a taper fool the ruler.")
        return tiles(rows, answer, before) + f'<div class="fh-note">{wrong}</div>'

    def effects(self, answer):
        """Say what to do."""
        return {
            "piece_mass": "bigger pieces are known better",
            "piece_width": "its diameter, if it is round",
            "moisture": "the water in it is taken off",
        }


def _picture():
    return WeighingPicture(woods_of())


def _ratio(found):
    return f"too {found.verdict}" if found.ratio is None else factor_words(found.ratio)
