"""What is worth measuring next: who makes how much of the doubt about a try."""

from typing import NamedTuple

from ..answers.worth import Doubt, doubted, doubts, parts_words
from ..bands import Band
from ..figures.worth import DoubtBars, doubt_name
from ..my_kit import MyKit
from ..unknowns import unknown
from ..words import band_words
from .base import cells, tiles
from .controls import Slider
from .trying import Trying


class Worth(NamedTuple):
    """What of my kit stands in a try, who makes the doubt that is left, and the ember's time."""

    kit: MyKit
    doubts: tuple[Doubt, ...]
    ember: Band[float]


class MeasureNext(Trying):
    """Parts of the doubt about the ember's time, all guessed that is not of my kit.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "What is worth measuring next?"

    tried = "diameter", "force", "friction", "speed"

    def make_controls(self):
        """Make the controls, by name."""
        return {key: Slider(key, self._try.value(key)) for key in self.tried}

    def lay_out(self, controls):
        """Stand the controls."""
        return [cells(controls, *self.tried)]

    def answer(self, state):
        """Count the doubts."""
        now, mine = self.now(state), self.mine.standing(state)
        return Worth(mine, doubts(now, mine), doubted(now, mine))

    def draw(self, answer, before):
        """Draw the bars."""
        sketch = self.sketch(DoubtBars)
        words = sketch.update(answer.doubts)
        if before is not None:
            words += f" Before: an ember in {band_words(before.ember)}."
        return sketch, words

    def results(self, answer, before):
        """Spell what to measure next, and the ember's time."""
        rows = (
            ("", "Worth measuring next", _next, _next_note(answer)),
            (
                "fh-ember",
                "Ember, estimate",
                lambda worth: band_words(worth.ember),
                "where all that was not measured is a guess",
            ),
        )
        return tiles(rows, answer, before)


def _first(answer):
    """Return the greatest doubt that a reader can still take away."""
    left = [one for one in answer.doubts if one.state == "guessed" and one.share]
    return left[0] if left else None


def _next(answer):
    first = _first(answer)
    return "nothing" if first is None else doubt_name(first.key)


def _next_note(answer):
    first = _first(answer)
    if not any(one.share for one in answer.doubts):
        return "as it is set no ember comes, whatever you measure: change something first"
    if first is None:
        return "what is left nobody can measure"
    return f"makes {parts_words(first.share)} of the doubt; measure it {unknown(first.key).how}"
