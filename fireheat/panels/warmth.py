"""What the contact feels of strokes, bouts and rests."""

from typing import Any, NamedTuple

import numpy as np

from ..answers.warmth import ContactHeat, Rhythm, contact_heat
from ..figures.warmth import Bowed, Ripple, swing_words
from ..kit.kit import Air, Effort, Kit
from ..quantities import InputError, quantity
from ..words import band_words, moment_words, time_words
from .base import bar, cells, tiles
from .controls import Choice, Slider
from .trying import Trying
from .two_bands import SMOKE
from .units import GivenUnits

_SHAPES = {
    "sinusoid": "swings to and fro",
    "trapezoid": "quick turns, steady between",
    "steady": "perfectly even",
}


class Followed(NamedTuple):
    """The contact under a way of bowing, and for how long the picture shows it, in seconds."""

    bowed: Bowed
    shown: float

    @property
    def contact(self) -> ContactHeat:
        """What the contact feels."""
        return self.bowed.contact


class Warmth(Trying):
    """What the contact feels: temperature while the bow goes to and fro, and rests.

    Parameters
    ----------
    kit, effort, air : optional
        The kit, how it is pressed, and the air around it.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    **start : float
        Where sliders start, by name. [SI]

    Raises
    ------
    InputError
        If there is no such slider, or it cannot start there.
    """

    question = "Does the tip cool between strokes?"
    view = ("shown",)

    tried = ("force",)
    left_out = ("speed",)  # strokes and rests make it

    def __init__(
        self,
        kit: Kit | None = None,
        effort: Effort | None = None,
        air: Air | None = None,
        *,
        units: GivenUnits = None,
        **start: float,
    ):
        self._starts = start
        super().__init__(kit, effort, air, units=units)

    def make_controls(self):
        """Make the controls, by name."""
        # A minute of bowing is worked out anew each time: sliders answer when they are let go.
        keys = ("stroke_length", "strokes_per_minute", "bout", "pause", "force")
        start = {"force": self._try.effort.force, **self._starts}
        controls: dict[str, Any] = {
            key: Slider(key, start.get(key), continuous=False) for key in keys
        }
        controls["shape"] = Choice("The hand", _SHAPES)
        unknown = sorted(set(start) - set(keys) - {"shown"})
        if unknown:
            raise InputError(f"nothing starts at {unknown}; allowed: {[*keys, 'shown']}")
        durations = {15.0: "first 15 s", 30.0: "first 30 s", 60.0: "first minute"}
        controls["shown"] = Choice("Picture shows", durations, start.get("shown"))
        return controls

    def lay_out(self, controls):
        """Stand both choices above the sliders."""
        choose = bar(controls["shape"].widget, controls["shown"].widget)
        return [choose, cells(controls, *list(controls)[:5])]

    def answer(self, state):
        """Follow the contact for a minute."""
        keys = ("stroke_length", "strokes_per_minute", "shape", "bout", "pause")
        rhythm = Rhythm(**{key: state[key] for key in keys})
        now, known = self.now(state), self.known(state)
        contact = contact_heat(
            now.kit, rhythm=rhythm, air=now.air, force=state["force"], measured=known
        )
        return Followed(Bowed(contact, now.air.temperature), state["shown"])

    def draw(self, answer, before):
        """Draw the climb and the strokes close up."""
        sketch = self.sketch(Ripple, answer.shown, self.system)
        words = sketch.update(answer.bowed, before and before.bowed)
        said, before, then = words.partition(" Before: ")
        smokes = f"first smoke {_smokes(answer)}"
        return sketch, f"{said} With all we do not know: {smokes}.{before}{then}"

    def results(self, answer, before):
        """Spell average speed, ripple, first smoke, and the same for an even speed."""
        contact = answer.contact
        rows = (
            ("", "Average bow speed", self._average, self._average_note(contact.rhythm)),
            ("", "Contact swings by", self._swing, _swing_note(contact.rhythm)),
            ("fh-smoke", SMOKE, _smokes, f"{_wood(contact)}; {_likely(contact)}, at first touch"),
            ("", "An even hand", _even, f"{_even_likely(contact)}, same average"),
        )
        return tiles(rows, answer, before)

    def _average(self, answer):
        return quantity("speed").text(answer.contact.rhythm.average, self.system)

    def _average_note(self, rhythm):
        if rhythm.shape == "trapezoid" and np.isinf(rhythm.peak):
            shortest = quantity("stroke_length").text(rhythm.shortest, self.system)
            return f"an ordinary hand cannot: it needs strokes of {shortest} or more"
        return "rests counted in" if rhythm.pause else "length times count"

    def _swing(self, answer):
        return " ".join(swing_words(answer.contact.swing, self.system))

    def effects(self, answer):
        """Say what each slider does."""
        no_rest = "" if answer.contact.rhythm.pause else ": none now"
        return {
            "stroke_length": "at the same bow speed: more ripple, same mean",
            "strokes_per_minute": "single passes: there and back are two",
            "bout": f"how long before each rest{no_rest}",
            "pause": "while you rest, the wood cools",
            "force": "more watts at the same speed",
        }


def _swing_note(rhythm):
    return "from bout to rest" if rhythm.pause else "at each stroke, around the same mean"


def _smokes(answer):
    return _watched(answer.contact, answer.contact.first_all)


def _wood(contact):
    return f"with wood like yours {_watched(contact, contact.first_smoke)}"


def _watched(contact, band):
    """Spell a band of moments, as far as the contact is watched."""
    watched = contact.heat.history.duration
    last, (low, high) = time_words(watched), band.ends
    if low > watched:
        return f"over {last}"
    return f"{time_words(low)} to over {last}" if high > watched else band_words((low, high))


def _likely(contact):
    """Spell the likely moment, which may be later than anybody looked."""
    likely = contact.first_smoke.likely
    return f"most likely {moment_words(likely)}" if np.isfinite(likely) else "most likely later"


def _even_likely(contact):
    return f"most likely {moment_words(contact.steady_smoke.likely)}"


def _even(answer):
    return band_words(answer.contact.steady_all)
