"""Do our tries disagree with the physics? Powers beside powers, in words with numbers."""

import html

from ..answers.fitted import QUESTIONS, fitted
from ..bands import Band
from ..figures.fitted import NAMES, PowerBars
from ..words import factor_words
from .base import bar, tiles
from .controls import Choice
from .our_log import LogFollower, our_log
from .units import GivenUnits

_TWICE = {"diameter": "Twice as thick", "force": "Twice the press", "speed": "Twice as quick"}


class FitTries(LogFollower):
    """What twice as much does to the time by our tries and by physics, with both their ranges.

    Parameters
    ----------
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "Do our tries disagree with the physics?"

    def __init__(self, units: GivenUnits = None):
        names = {question: question for question in QUESTIONS}
        controls = {"question": Choice("Ask about", names)}
        super().__init__(controls, [bar(controls["question"].widget)], units)
        our_log.follow(self)

    def answer(self, state):
        """Fit the tries of the log."""
        return fitted(our_log.log.tries, question=state["question"])

    def draw(self, answer, before):
        """Draw the powers."""
        sketch = self.sketch(PowerBars)
        return sketch, sketch.update(answer, before)

    def results(self, answer, before):
        """Spell whether they disagree, and what twice as much does."""
        rows = [("", "Do they disagree?", lambda one: one.verdict, _why(answer))]
        for cause in QUESTIONS[answer.question]:
            note = f"physics: {_twice(answer, cause, 'physics')}" if answer.found else "–"
            rows.append(("fh-yours", _TWICE[cause], _spell(cause), note))
        note = f"{our_log.words()}. {_wrong(answer)}"
        return tiles(rows, answer, before) + f'<div class="fh-note">{html.escape(note)}</div>'

    def effects(self, answer):
        """Say what a power is."""
        return {"question": "power 1: twice as much takes twice as long; −1: half as long"}


def _spell(cause):
    return lambda answer: _twice(answer, cause, "interval")


def _twice(answer, cause, which):
    """Spell what twice as much does to the time."""
    power = answer.found and answer.found.powers.get(cause)
    if not power:
        return "–"
    return factor_words(Band(*(2.0**end for end in getattr(power, which))))


def _why(answer):
    if answer.found is None:
        return answer.measure_next
    if answer.found.disagree:
        named = " and ".join(NAMES[cause] for cause in answer.found.disagree)
        return f"on {named}: their ranges have nothing in common"
    if answer.verdict == "no":
        return "their ranges have a part in common"
    return "ours is wider than what physics leaves open: set it farther apart, and time more"


def _wrong(answer):
    """Spell what two wrong ways would have said of the first cause."""
    if answer.found is None or not all(answer.wrong.values()):
        return ""
    cause = next(iter(answer.found.powers))
    told = [answer.found.powers[cause].found, *(one[cause] for one in answer.wrong.values())]
    right, left_out, as_embers = (f"{2.0**power:.1f}" for power in told)
    return (
        f"{_TWICE[cause]}: {right} times the time. With failed tries left out it would be"
        f" {left_out}, counted as embers {as_embers}: both wrong."
    )
