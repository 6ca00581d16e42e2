"""Why a change is known better than a time: one change, in many worlds."""

from ..answers.pairs import CHANGES, Pairs, paired
from ..figures.pairs import PairLanes
from ..words import band_words, factor_words, likely_words
from .base import bar, cells, tiles
from .controls import Choice, Slider
from .trying import Trying


class SameWorlds(Trying):
    """Two times that nobody knows well, and their ratio, which is known much better.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start.
    units : str
        ``"metric"`` or ``"us"``.
    """

    question = "How well is a change known?"

    tried = "diameter", "force"

    def make_controls(self):
        """Make the controls, by name."""
        names = {key: words for key, (words, *_) in CHANGES.items()}
        sliders = {key: Slider(key, self._try.value(key)) for key in self.tried}
        return {"change": Choice("What changes", names, "harder"), **sliders}

    def lay_out(self, controls):
        """Stand the change above the sliders."""
        return [bar(controls["change"].widget), cells(controls, *self.tried)]

    def answer(self, state):
        """Make the one pure call."""
        return paired(self.now(state), change=state["change"], measured=self.known(state))

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
