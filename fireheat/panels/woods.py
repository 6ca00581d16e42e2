"""Which wood: all woods side by side."""

from typing import Any

from ..answers.woods import woodpile
from ..figures.woods import WoodRows
from ..kit.wood import woods
from ..words import band_words, factor_words, floor_words, percent_words
from .base import bar, cells, tiles
from .controls import Choice, Slider
from .trying import Trying
from .two_bands import EMBER, FLOOR_NOTE, against_words, with_outer, wood_note


def wood_choice(start: str | None) -> Choice:
    """Let the reader choose a wood."""
    return Choice("Wood", {key: row.name for key, row in woods().items()}, start)


class WoodsSideBySide(Trying):
    """Every wood of the table on the same kit and effort, the chosen one on top in big numbers.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start.
    units : str
        ``"metric"`` or ``"us"``.
    """

    question = "Which wood is soonest?"

    tried = "wood", "diameter", "force", "speed", "moisture"

    def make_controls(self):
        """Make the controls, by name."""
        controls: dict[str, Any] = {"wood": wood_choice(self._try.kit.wood)}
        return controls | {key: Slider(key, self._try.value(key)) for key in self.tried[1:]}

    def lay_out(self, controls):
        """Stand the wood above the sliders."""
        return [bar(controls["wood"].widget), cells(controls, *self.tried[1:])]

    def answer(self, state):
        """Make the one pure call."""
        return woodpile(self.now(state), measured=self.known(state))

    def draw(self, answer, before):
        """Draw a row for each wood."""
        sketch = self.sketch(WoodRows, len(woods()))
        words = sketch.update(answer, before)
        return sketch, with_outer(words, answer.spread.all, f"{answer.wood.name} ")

    def results(self, answer, before):
        """Spell the chosen wood's ember, floor, boards and density."""
        row = answer.wood
        other, at = _other(answer)
        change = against_words(before and before.state, answer.state)
        density = f"dry density {percent_words(row.specific_gravity)} of water's; {row.kind}"
        rows = (
            ("", other, lambda p: factor_words(p.ratios.at(at)), f"of {row.name}, at equal grip"),
            ("fh-ember", EMBER, lambda p: band_words(p.spread.all),
             f"{change}{row.name}; {wood_note(answer.ember)}"),
            ("fh-floor", "Floor", lambda p: floor_words(p.bound), FLOOR_NOTE),
            ("", "Board to board", lambda p: band_words(p.boards),
             f"likely time, a light and a heavy board; {density}"),
        )  # fmt: skip
        return tiles(rows, answer, before)

    def effects(self, answer):
        """Say what each slider does to all rows."""
        return {
            "diameter": "thicker: all later, and heavy woods lose most",
            "force": "more: all sooner, and heavy woods gain most",
            "speed": "more: all sooner, and heavy woods gain most",
            "moisture": "wetter: all later",
        }


def _other(pile):
    """Name the wood that is farthest from the chosen one in the list, and its place there."""
    soonest, last = 0, len(pile.woods) - 1
    at = soonest if pile.chosen > last / 2 else last
    what = "Soonest" if at == soonest else "Latest"
    return f"{what}: {pile.woods[at].name}", at
