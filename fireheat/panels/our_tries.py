"""Our own tries by the clock: steps of those without an ember yet, and the physics' bands."""

import html

from ..answers.our_tries import our_tries
from ..figures.our_tries import TriesPicture
from ..words import NEVER, band_words, time_words
from .base import BELOW, bar, tiles, unfolding
from .controls import Choice
from .our_log import LogFollower, WhichLog, our_log
from .units import GivenUnits

_BY = {"diameter": "thickness", "all": "all as one", "force": "press", "speed": "bow speed"}


class OurTries(LogFollower):
    """Which share of tries has no ember yet, by the clock; a try that was given up is a tick.

    Parameters
    ----------
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "When did our tries glow?"

    def __init__(self, units: GivenUnits = None):
        controls = {"by": Choice("Parted by", _BY)}
        self.which = WhichLog()
        self.which.add_class(BELOW)
        layout = [bar(controls["by"].widget), bar(unfolding("Our own log", self.which)), self.which]
        super().__init__(controls, layout, units)
        our_log.follow(self)

    def log_moved(self) -> None:
        """Show the log there is now."""
        self.which.say()
        super().log_moved()

    def answer(self, state):
        """Part the tries of the log."""
        return our_tries(our_log.log.tries, by=state["by"])

    def draw(self, answer, before):
        """Draw steps and lanes."""
        sketch = self.sketch(TriesPicture)
        return sketch, sketch.update(answer, self.system, before)

    def results(self, answer, before):
        """Spell how many tries, how many embers, and when half of the quickest group glow."""
        rows = (
            ("fh-yours", "Tries timed", _tries, "those given up count, too"),
            ("fh-yours", "Embers", _embers, "the steps go down at each"),
            ("fh-yours", "Half glow by", _half, "of all that are shown"),
            ("fh-ember", "Physics, our middle try", _expected, "with all we do not know"),
        )
        which = f"{our_log.words()}. {_left(answer)}"
        return tiles(rows, answer, before) + f'<div class="fh-note">{html.escape(which)}</div>'

    def effects(self, answer):
        """Say how the picture is read."""
        return {"by": "a small tick: one gave up there"}


def _tries(answer):
    return f"{sum(group.tries for group in answer.groups)}"


def _embers(answer):
    return f"{sum(group.embers for group in answer.groups)}"


def _half(answer):
    return "–" if answer.whole is None else _by(answer.whole.survival.middle)


def _by(seconds):
    words = time_words(seconds)
    return "not yet" if words == NEVER else words


def _expected(answer):
    return "–" if answer.whole is None else band_words(answer.whole.expected.all)


def _left(answer):
    if not answer.left_out:
        return ""
    return f"{answer.left_out} left out: nobody wrote down how they were set."
