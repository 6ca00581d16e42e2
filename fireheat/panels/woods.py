"""Which wood: all woods side by side."""

from typing import Any

from ..answers.woods import woodpile
from ..figures.woods import WoodRows
from ..kit.kit import Air, Effort, Kit, Try
from ..kit.wood import woods
from ..quantities import METRIC
from ..words import band_words, likely_words, percent_words
from .base import Choice, Panel, Slider, bar, cells, least, tiles


def wood_choice(start: str | None) -> Choice:
    """Let the reader choose a wood."""
    return Choice("Wood", {key: row.name for key, row in woods().items()}, start)


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
        self._try = Try(kit, effort, air)
        controls: dict[str, Any] = {"wood": wood_choice(self._try.kit.wood)} | {
            key: Slider(key, self._try.value(key))
            for key in ("diameter", "force", "speed", "moisture")
        }
        super().__init__(
            controls, [bar(controls["wood"].widget), cells(controls, *list(controls)[1:])], units
        )

    def answer(self, state):
        """Make the one pure call."""
        return woodpile(self._try.changed(**state))

    def draw(self, answer, before):
        """Draw a row for each wood."""
        sketch = self.sketch(WoodRows, len(woods()))
        return sketch, sketch.update(answer, before)

    def results(self, answer, before):
        """Spell the chosen wood's ember, floor, boards and density."""
        row, likely = answer.wood, likely_words(answer.ember.likely)
        rows = (
            ("fh-ember", "Ember, estimate", lambda p: band_words(p.ember), f"{row.name}, {likely}"),
            ("fh-floor", "Energy floor", lambda p: least(p.bound), "heat for the dust alone"),
            (
                "",
                "Board to board",
                lambda p: band_words(p.boards),
                "most likely time, a light and a heavy board",
            ),
            ("", "Dry density", _density, f"of water's; {row.kind}, {row.latin}"),
        )
        return tiles(rows, answer, before)

    def effects(self, answer):
        """Say what each slider does to all rows."""
        return {
            "diameter": "thicker: all later, and heavy woods lose most",
            "force": "more: all sooner, and heavy woods gain most",
            "speed": "more: all sooner, and heavy woods gain most",
            "moisture": "wetter: all later",
        }


def _density(pile):
    return percent_words(pile.wood.specific_gravity)
