"""Our fire: what our own evenings leave of the handbook's band for the next try."""

import html
from math import inf

from ..answers.next_try import next_try
from ..figures.next_try import NextTryBars, strange_words
from ..kit.kit import Try
from ..quantities import quantity
from ..words import band_words, number_words
from .base import cells, tiles
from .controls import Slider
from .our_log import LogFollower, our_log
from .units import GivenUnits

_SET = ("diameter", "force", "speed")


class NextEmber(LogFollower):
    """The next try by the handbook and by our own evenings, and the try that would tell most.

    Parameters
    ----------
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "How soon will our next ember be?"

    def __init__(self, units: GivenUnits = None):
        controls = {key: Slider(key, continuous=False) for key in _SET}
        super().__init__(controls, [cells(controls, *_SET)], units)
        our_log.follow(self)

    def answer(self, state):
        """Weigh the draws by our tries."""
        return next_try(Try().changed(**state), our_log.log.tries)

    def draw(self, answer, before):
        """Draw both bands."""
        sketch = self.sketch(NextTryBars)
        return sketch, sketch.update(answer, before, whose=_whose())

    def results(self, answer, before):
        """Spell both bands, what is strange, and the try that would tell most."""
        rows = (
            (
                "fh-yours",
                _whose().capitalize(),
                lambda one: band_words(one.evenings),
                _apart(answer),
            ),
            ("fh-ember", "Handbook", lambda one: band_words(one.handbook), "all we do not know"),
            ("", "Worth trying next", self._worth, "of it our evenings know least"),
        )
        note = f"{our_log.words()}. {strange_words(answer)}"
        return tiles(rows, answer, before) + f'<div class="fh-note">{html.escape(note)}</div>'

    def _worth(self, answer):
        told = (quantity(key).text(answer.worth.value(key), self.system) for key in _SET[:2])
        return ", ".join(told)


def _whose():
    """Name the tries: the invented ones are nobody's."""
    return "your evenings" if our_log.own else "these evenings"


def _apart(answer):
    bands = answer.evenings, answer.handbook
    if inf in (band.high for band in bands):
        return "a band that ends in never has no far end"
    ours, theirs = (number_words(band.high / band.low) for band in bands)
    return f"the latest is {ours} times the soonest; handbook {theirs} times"
