"""Which wood: those of a region side by side, and the choice of one anywhere."""

from collections.abc import Mapping
from typing import Any

from ..answers.woods import woodpile, woods_of
from ..figures.woods import WoodRows, beside_words
from ..kit.wood import REGIONS, Wood, wood
from ..words import FLOOR_NOTE, band_words, floor_words, percent_words
from .base import bar, cells, tiles
from .controls import Choice, Slider
from .trying import Trying
from .two_bands import EMBER, against_words, with_outer, wood_note


class WoodChoice(Choice):
    """A choice among all woods, by where they grow; and a wood that somebody weighed.

    Parameters
    ----------
    start : str or Wood, optional
        Where it starts.
    named : mapping, optional
        Woods with their words; all there are, if left out.
    """

    def __init__(self, start: str | Wood | None, named: Mapping[str, str] | None = None):
        self._named = named or {
            row.key: f"{row.name} · {where}"
            for region, where in REGIONS.items()
            for row in woods_of(region)
            if row.regions[0] == region
        }
        super().__init__("Wood", self._named, None if isinstance(start, Wood) else start)
        if isinstance(start, Wood):
            self.start = self.value = start

    def offer(self, key: Any) -> None:
        """Make an option of a wood that was weighed."""
        if isinstance(key, Wood) and key not in dict(self.widget.options).values():
            weighed = {key: f"{key.name} · weighed"}
            pairs = [(words, each) for each, words in (weighed | dict(self._named)).items()]
            self.widget.options = pairs  # which chooses the first


def wood_choice(start: str | Wood | None) -> Choice:
    """Let the reader choose a wood."""
    return WoodChoice(start)


class WoodsSideBySide(Trying):
    """The woods of a region on the same kit and effort, the chosen one in big numbers.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start.
    units : str
        ``"metric"`` or ``"us"``.
    """

    question = "Which wood is soonest?"

    tried = "wood", "diameter", "force", "speed", "moisture"
    view = ("region",)

    def make_controls(self):
        """Make the controls, by name."""
        own = self._try.kit.wood
        controls: dict[str, Any] = {
            "region": Choice("Woods of", REGIONS, next(iter(wood(own).regions), None)),
            "wood": wood_choice(own),
        }
        return controls | {key: Slider(key, self._try.value(key)) for key in self.tried[1:]}

    def lay_out(self, controls):
        """Stand region and wood above the sliders."""
        own = controls["wood"]
        chosen = [bar(controls["region"].widget), bar(own.widget), own.effect]
        return [*chosen, cells(controls, *self.tried[1:])]

    def answer(self, state):
        """Make the one pure call."""
        return woodpile(self.now(state), region=state["region"], measured=self.known(state))

    def draw(self, answer, before):
        """Draw a row for each wood."""
        sketch = self.sketch(WoodRows, len(answer.woods))
        words = sketch.update(answer, before)
        return sketch, with_outer(words, answer.spread.all, f"{answer.wood.name} ")

    def results(self, answer, before):
        """Spell the chosen wood's ember, floor, boards and density."""
        row = answer.wood
        what, other = _other(answer)
        change = against_words(before and before.state, answer.state)
        density = f"dry density {percent_words(row.specific_gravity)} of water's"
        if row.kind:
            density += f"; {row.kind}"
        rows = (
            ("", f"{what}: {other.name}", lambda p: _beside(p, other),
             f"its time, if {row.name} takes 1; at equal grip"),
            ("fh-ember", EMBER, lambda p: band_words(p.spread.all),
             f"{change}{row.name}; {wood_note(answer.ember)}"),
            ("fh-floor", "Floor", lambda p: floor_words(p.bound), FLOOR_NOTE),
            ("", "Board to board", lambda p: band_words(p.boards),
             f"likely time, a light and a heavy board; {density}"),
        )  # fmt: skip
        return tiles(rows, answer, before)

    def effects(self, answer):
        """Say what each slider does to all rows, and what to know of the wood."""
        return {
            "wood": answer.wood.caution,
            "diameter": "thicker: all later, and heavy woods lose most",
            "force": "more: all sooner, and heavy woods gain most",
            "speed": "more: all sooner, and heavy woods gain most",
            "moisture": "wetter: all later",
        }


def _other(pile):
    """Find the wood that is farthest from the chosen one in the list, and what it is there."""
    soonest, *_, latest = pile.woods
    far = pile.chosen > (len(pile.woods) - 1) / 2
    return ("Soonest", soonest) if far else ("Latest", latest)


def _beside(pile, other):
    """Spell a wood's time over that of the chosen one."""
    at = pile.woods.index(other)
    return beside_words(pile.ratios.at(at), float(pile.embers.likely[at]))
