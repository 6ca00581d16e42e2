"""Measure the watts: a bow pulled through a luggage scale, and first smoke as a second gauge."""

from typing import Any, NamedTuple

from ..answers.watts import Gauges, Pulling, in_my_kit, watts
from ..answers.worth import parts_words
from ..figures.watts import VERDICTS, WattsPicture, watt_words
from ..quantities import quantity
from ..words import percent_words, range_words
from .base import bar, cells, tiles, unfolding
from .controls import Choice, Slider
from .mine import PutIntoMyKit
from .trying import Trying

_HOW = {True: "slowly and steadily", False: "jerky, as in bowing"}
_TIMED = {False: "not timed", True: "timed"}
_MAIN = ("scale_pull", "force", "strokes_per_minute", "stroke_length", "smoke_time")
_MORE = ("diameter", "block_friction", "block_radius", "pull_limit")
# Which parts of the error stand under which slider.
_PARTS = {
    "scale_pull": ("pull",),
    "force": ("force",),
    "strokes_per_minute": ("strokes_per_minute",),
    "stroke_length": ("stroke_length",),
    "diameter": ("cord_radius",),
    "block_friction": ("block_friction",),
    "block_radius": ("block_radius",),
}
_MAKERS = {
    "the scale": ("pull",),
    "the bearing block": ("block_friction", "block_radius"),
    "the downward force": ("force",),
    "pace and tape": ("strokes_per_minute", "stroke_length"),
    "the spindle": ("cord_radius",),
    "a cord that creeps": ("creep",),
}
_SEEN = 0.05  # less is not one of ten parts
_CAUTION = (
    "Measuring must not make an ember by accident: pull three slow strokes, the spindle hardly"
    " warm, and count your pace in the air. Everyone near wears eye protection, or stands back. An"
    " adult in charge and the whole list of page 00 come first."
)
# What is left of it in a hall, where there is room for one sentence.
_IN_A_HALL = "An adult in charge is there. Three slow strokes, hardly warm: no ember by accident."
_HOT_CAUTION = (
    "Bowing until it smokes can make an ember: only at a fire place, with a leader who knows this,"
    " and everything on that list."
)


class Reading(NamedTuple):
    """What was read, and what it says."""

    pulling: Pulling
    found: Gauges


class MeasureWatts(Trying):
    """Watts, friction and their error bars from a luggage scale between hand and bow.

    Parameters
    ----------
    kit, effort, air : optional
        Where sliders start, and whose wood and air first smoke was timed with.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "How many watts is that?"

    tried = "diameter", "block_friction", "block_radius"
    left_out = "friction", "grip", "hot_grip", "speed", "burn_in_depth", "dust_mass"
    banded = False

    def make_controls(self):
        """Make the controls, by name."""
        start = {
            "diameter": self._try.kit.diameter,
            "block_friction": self._try.kit.block_friction,
            "block_radius": self._try.kit.block_radius,
            "force": self._try.effort.force,
        }
        controls: dict[str, Any] = {key: Slider(key, start.get(key)) for key in (*_MAIN, *_MORE)}
        controls["steady"] = Choice("Pulled", _HOW)
        controls["timed"] = Choice("First smoke", _TIMED)
        return controls

    def lay_out(self, controls):
        """Stand what is read first, the rest folded away."""
        chosen = bar(controls["steady"].widget, controls["timed"].widget)
        rest = cells(controls, *_MORE)
        self.put = PutIntoMyKit(self._readings, lambda: self.system)
        more = unfolding("More: spindle, bearing block, scale", rest)
        return [chosen, cells(controls, *_MAIN), bar(more, self.put), rest]

    def follow(self):
        """Let the stopwatch follow whether it was used."""
        self.control["timed"].widget.observe(lambda _: self._follow_timed(), names="value")
        self._follow_timed()

    def _follow_timed(self):
        """Show the stopwatch's slider only where it was used."""
        shown = self.control["timed"].value
        self.control["smoke_time"].box.layout.display = None if shown else "none"

    def _readings(self):
        """Tell what goes into my kit: nothing where the block takes all, and no smoke tells."""
        pulling, found = self.answer(self.state)
        told = found.power.value or found.both
        return in_my_kit(pulling, found) if told else {}

    def answer(self, state):
        """Work out both gauges."""
        keys = (*_MAIN[:-1], *_MORE, "steady")
        pulling = Pulling(**{key: state[key] for key in keys})
        smoke = state["smoke_time"] if state["timed"] else None
        return Reading(pulling, watts(pulling, state=self.now(state), smoke_time=smoke))

    def draw(self, answer, before):
        """Draw bow, scale and gauges."""
        sketch = self.sketch(WattsPicture)
        then = None if before is None else before.found
        return sketch, sketch.update(answer.pulling, answer.found, then, self.system)

    def results(self, answer, before):
        """Spell watts, both gauges together, friction, and what the block takes."""
        rows = (
            ("fh-watts", "Watts, by the pull", _by_pull, _spread_note(answer)),
            ("fh-smoke", "Watts, by first smoke", _by_smoke, _smoke_note(answer)),
            ("", "That is a friction of", _friction, "of a worn-in tip, cold and slow"),
            ("", "Lost in the bearing block", _block, _block_note(answer)),
        )
        cautions = _CAUTION if answer.found.hot_power is None else f"{_CAUTION} {_HOT_CAUTION}"
        told = f'<div class="fh-note">{cautions}</div><div class="fh-caution">{_IN_A_HALL}</div>'
        return tiles(rows, answer, before) + told

    def effects(self, answer):
        """Say what part of the error each reading makes."""
        parts = answer.found.power.parts
        words = {
            key: f"makes {parts_words(sum(parts[part] for part in its))} of the ±"
            for key, its in _PARTS.items()
        }
        pull = quantity("pull").text(answer.pulling.scale_pull, self.system)
        words["scale_pull"] = f"{pull}; {words['scale_pull']}"
        words["strokes_per_minute"] = f"your pace, in the air; {words['strokes_per_minute']}"
        words["smoke_time"] = "from the first stroke to a steady thread of smoke"
        words["pull_limit"] = "half its smallest step, or what it says of itself"
        return words


def _by_pull(answer):
    if not answer.found.power.value:
        return "none"
    return f"{range_words(answer.found.band)} W"


def _spread_note(answer):
    found = answer.found
    if not found.power.value:
        return "the block alone would take all that pull: read the scale again"
    return (
        f"{watt_words(found.power.value)} ± {found.power.error:.1f} W; nine of ten lie between."
        f" The ± comes from {_makers(found.power.parts)}"
    )


def _makers(parts):
    """Say where most of an error comes from, the greatest first."""
    sums = {words: sum(parts[part] for part in its) for words, its in _MAKERS.items()}
    most = sorted(sums, key=lambda words: -sums[words])[:3]
    told = [f"{words} ({parts_words(sums[words])})" for words in most if sums[words] >= _SEEN]
    return ", ".join(told)


def _by_smoke(answer):
    smoke = answer.found.hot_power
    return "–" if smoke is None else f"{range_words(smoke)} W"


def _smoke_note(answer):
    found = answer.found
    if found.hot_power is None:
        return "time the first smoke as well: that tells the watts a second way"
    both = f"Both together: {watt_words(found.both.value)} ± {watt_words(found.both.error)}"
    return f"{VERDICTS[found.verdict]} {both}".strip()


def _friction(answer):
    found = answer.found.friction
    return f"{found.value:.2f} ± {found.error:.2f}"


def _block(answer):
    return watt_words(answer.found.block)


def _block_note(answer):
    whole = answer.found.block + answer.found.power.value
    return f"{percent_words(answer.found.block / whole)} of what the arm gives; less if greased"
