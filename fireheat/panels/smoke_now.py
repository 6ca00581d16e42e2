"""Smoke now: the minute between first smoke and ember, for a coach beside the learner."""

import html
from pathlib import Path
from typing import NamedTuple

import anywidget
import traitlets

from ..coach.learner import Learner
from ..coach.smoke_now import AfterSmoke, after_smoke
from ..figures.smoke_now import SmokePlank
from ..quantities import quantity
from ..words import NEVER, TOO_LONG, band_words, percent_words, time_words
from .base import ROW, bar, cells, tiles, unfolding
from .controls import Slider
from .learner import OneLearner

_HERE = Path(__file__).parent
_TIMED = "smoke_time", "elapsed"
_SOON = 1.5  # s: less is now
_NONE = "none"  # where no beat is to be held
_RARE = 0.05  # share of tries that are not worth a word in a minute of stress


class SmokeClock(anywidget.AnyWidget):
    """The watch in the browser: pressed at first stroke and first smoke, or at smoke only."""

    _esm = _HERE / "smoke_now.js"
    _css = _HERE / "smoke_now.css"
    start = traitlets.Float(0.0).tag(sync=True)  # ms of the wall clock; none while it stands
    smoke = traitlets.Float(0.0).tag(sync=True)  # s since the first stroke; none before
    elapsed = traitlets.Float(0.0).tag(sync=True)  # s since the first stroke, as last told
    typed = traitlets.Float(0.0).tag(sync=True)  # s: first smoke, where only smoke is pressed
    shown = traitlets.Float(0.0).tag(sync=True)  # s: what it shows while it stands
    beat = traitlets.Float(0.0).tag(sync=True)  # strokes a minute that can be heard
    least = traitlets.Float(0.0).tag(sync=True)  # s: no smoke before
    most = traitlets.Float(0.0).tag(sync=True)  # s: the watch stops there


class Burning(NamedTuple):
    """One learner whose kit smokes: since when, for how long they bow, and what to expect."""

    learner: Learner
    smoke_time: float
    elapsed: float
    found: AfterSmoke


class SmokeNow(OneLearner):
    """The likely window to the ember from first smoke on, the beat to hold, one thing to say.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start; what has no slider stays so.
    arm : str
        One of the example arms, which are assumptions.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "It smokes! What now?"

    left_out = (*OneLearner.left_out, "smoke_time")  # it is timed here

    def make_controls(self):
        """Make both times, and what is set of a learner."""
        smoke = quantity("smoke_time")
        self.clock = SmokeClock(least=smoke.low, most=smoke.high)
        self.clock.observe(self._timed, names=("smoke", "elapsed"))
        times = {"smoke_time": Slider("smoke_time"), "elapsed": Slider("elapsed")}
        return times | super().make_controls()

    def lay_out(self, controls):
        """Stand the watch above both times; who bows is folded away."""
        whose = cells(controls, *(key for key in controls if key not in _TIMED))
        buttons = bar(unfolding("Who bows, and with what?", whose))
        buttons.add_class(ROW)
        return [self.clock, cells(controls, *_TIMED), buttons, whose]

    def _timed(self, _):
        """Take what the watch tells; before smoke there is nothing to tell."""
        clock = self.clock
        if clock.smoke > 0:
            least, most = quantity("smoke_time").low, quantity("smoke_time").high
            smoke = min(max(clock.smoke, least), most)
            self.set(smoke_time=smoke, elapsed=min(max(clock.elapsed, smoke), most))

    def answer(self, state):
        """Make the one pure call."""
        learner, smoke = self.learner(state), state["smoke_time"]
        elapsed = max(state["elapsed"], smoke)  # it smokes already
        found = after_smoke(learner, smoke_time=smoke, elapsed=elapsed)
        return Burning(learner, smoke, elapsed, found)

    def draw(self, answer, before):
        """Draw smoke, now, and when the ember may come; give the watch its times and beat."""
        self.clock.typed, self.clock.shown = answer.smoke_time, answer.elapsed
        self.clock.beat = answer.found.strokes_per_minute
        sketch = self.sketch(SmokePlank)
        words = sketch.update(
            answer.found,
            smoke_time=answer.smoke_time,
            elapsed=answer.elapsed,
            before=before.found if before else None,
        )
        return sketch, f"{self._told(answer)} {words}"

    @staticmethod
    def _told(answer):
        beat = _beat(answer)
        hold = "" if beat == _NONE else f" Hold {beat} strokes a minute."
        return f"Say: “{answer.found.say}”{hold}"

    def results(self, answer, before):
        """Spell how long it may still take, the beat, what to say and what not."""
        rows = (
            ("fh-ember", "Ember likely in", _left, _note(answer)),
            ("fh-yours", "Beat to hold", _beat, "strokes a minute"),
        )
        say, back = (html.escape(text) for text in (answer.found.say, answer.found.not_say))
        return (
            f'{tiles(rows, answer, before)}<div class="fh-say"><span>Say</span><b>“{say}”</b>'
            f"<span>Not</span><s>“{back}”</s></div>"
        )

    def effects(self, answer):
        """Say what the times are, and what the learner's controls come to."""
        return self.spoken_learner(answer.learner) | {
            "smoke_time": "first steady smoke, since the first stroke",
            "elapsed": "now, since the first stroke",
        }


def _beat(answer):
    found = answer.found
    stands = found.hopeless or not found.strokes_per_minute
    return _NONE if stands else f"{found.strokes_per_minute:.0f}"


def _left(answer):
    """Spell how long it may still take."""
    low, _, high = answer.found.left
    if answer.found.overdue:
        return "overdue"
    if low >= TOO_LONG:
        return NEVER
    return f"now to {time_words(high)}" if low < _SOON else band_words((low, high))


def _note(answer):
    found = answer.found
    likely = found.left.likely
    if found.overdue:
        return f"{percent_words(found.gone)} of such tries had an ember by now"
    if likely >= TOO_LONG:
        return "most likely it does not come any more"
    words = "most likely now" if likely < _SOON else f"most likely in about {time_words(likely)}"
    if found.never > _RARE:
        words += f"; {percent_words(found.never)} of such tries never glow"
    return f"smoke at such a time is odd; {words}" if found.strange else words
