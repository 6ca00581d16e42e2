"""Why a change is known better than a time: one change, in many worlds."""

from ..answers.pairs import CHANGES, Pairs, paired
from ..figures.pairs import PairLanes
from ..kit.kit import Air, Effort, Kit, Try
from ..quantities import METRIC
from ..words import band_words, factor_words, likely_words
from .base import Panel, bar, cells, tiles
from .controls import Choice, Slider

_KEYS = ("diameter", "force")


class SameWorlds(Panel):
    """Two times that nobody knows well, and their ratio, which is known much better.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start.
    units : str
        ``"metric"`` or ``"us"``.
    """

    question = "How well is a change known?"

    def __init__(
        self,
        kit: Kit | None = None,
        effort: Effort | None = None,
        air: Air | None = None,
        *,
        units: str = METRIC,
    ):
        self._try = Try(kit, effort, air)
        names = {key: words for key, (words, *_) in CHANGES.items()}
        sliders = {key: Slider(key, self._try.value(key)) for key in _KEYS}
        controls = {"change": Choice("What changes", names, "harder"), **sliders}
        super().__init__(controls, [bar(controls["change"].widget), cells(controls, *_KEYS)], units)

    def answer(self, state):
        """Make the one pure call."""
        tried = self._try.changed(**{key: state[key] for key in _KEYS})
        return paired(tried, change=state["change"])

    def draw(self, answer, before):
        """Draw both lanes, the worlds between them, and the ratio."""
        sketch = self.sketch(PairLanes)
        return sketch, sketch.update(answer, before)

    def results(self, answer, before):
        """Spell both times and the ratio, with what the two ranges alone would tell."""
        rows = (
            ("fh-ember", "The change", _change, "with the same unknowns in both"),
            ("", "Ember as it is", lambda one: band_words(one.one.all), _likely(answer.one)),
            ("", "Ember, changed", lambda one: band_words(one.other.all), _likely(answer.other)),
        )
        return tiles(rows, answer, before)


def _change(one: Pairs) -> str:
    return factor_words(one.ratio)


def _likely(found):
    return f"all we do not know; {likely_words(found.wood.likely)}"
