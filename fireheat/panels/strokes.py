"""Strokes: one map of length and count, what the contact feels, counting taps, and a beat."""

import base64
from functools import cache
from pathlib import Path
from typing import Any

import anywidget
import ipywidgets as widgets
import numpy as np
import traitlets
from scipy.constants import foot

from ..bowing import bow_speed, friction_power
from ..everyday import like_power
from ..figures.practice import BeatLine, TapLine
from ..figures.ripple import Bowed, Ripple, swing_words
from ..figures.stroke_map import Stroke, StrokeMap, lengths
from ..kit import Air, Effort, Kit
from ..milestones import times
from ..practice import beat_track, missed_taps, tap_rate, tapped_speed, wav_bytes
from ..quantities import METRIC, US, default, quantity, unit_text
from ..rhythm import Rhythm, contact_heat
from ..strokes import most_strokes
from ..words import (
    NEVER,
    band_words,
    floor_words,
    moment_words,
    number_words,
    range_words,
    time_words,
)
from .base import Choice, Panel, Slider, cells, tiles

_HERE = Path(__file__).parent
_LINES = {METRIC: (0.5, 1.0, 1.5, 2.0, 3.0), US: tuple(v * foot for v in (2, 4, 6, 8, 10))}
_TELEPHONE = 8000  # samples a second, ITU-T G.711, from memory: a beat needs no more


class Strokes(Panel):
    """Stroke length and strokes a minute on one map, with lines of equal bow speed.

    Parameters
    ----------
    kit, air : optional
        The kit, and the air around it.
    units : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, kit: Kit | None = None, air: Air | None = None, *, units: str = METRIC):
        self._kit, self._air = kit or Kit(), air or Air()
        self._sketch = cache(lambda system: StrokeMap(_LINES[system], system))
        controls = {
            "stroke_length": Slider("stroke_length"),
            "strokes_per_minute": Slider("strokes_per_minute"),
            "force": Slider("force"),
            "acceleration": Slider("acceleration"),
        }
        super().__init__(controls, [cells(controls, *controls)], units)

    def answer(self, state):
        """Work out speed, peak and times of this stroke, and of the lines of equal speed."""
        rhythm = Rhythm(
            stroke_length=state["stroke_length"],
            strokes_per_minute=state["strokes_per_minute"],
            acceleration=state["acceleration"],
        )
        speeds = np.array([rhythm.speed, *_LINES[METRIC], *_LINES[US]])
        effort = Effort(force=state["force"], speed=rhythm.speed)
        return rhythm, times(self._kit, effort, self._air, speed=speeds)

    def draw(self, answer, pinned):
        """Draw the map."""
        rhythm, found = answer
        sketch = self._sketch(self.system)
        lines = dict(zip((METRIC, US), np.split(found.ember[::2, 1:], 2, axis=1), strict=True))
        embers = [(float(low), float(high)) for low, high in lines[self.system].T]
        quickest = most_strokes(lengths(), rhythm.acceleration)
        words = sketch.update(_stroke(answer), pinned and _stroke(pinned), embers, quickest)
        return sketch.png(), words

    def results(self, answer, pinned):
        """Spell bow speed, watts, ember and the speed in mid-stroke."""
        rhythm, power = answer[0], answer[1].power[0]
        rows = (
            ("", "Bow speed", lambda a: self._speed(a[0].speed), "length times count"),
            ("", "Heat made", lambda a: f"{number_words(a[1].power[0])} W", like_power(power)),
            ("fh-ember", "Ember, estimate", _band, self._ember_note(answer)),
            ("", "Fastest in mid-stroke", self._peak, self._peak_note(rhythm)),
        )
        return tiles(rows, answer, pinned)

    def _speed(self, speed):
        return quantity("speed").text(speed, self.system)

    def _ember_note(self, answer):
        rhythm, found = answer
        if np.isinf(rhythm.peak):
            return "if a quicker hand kept this up"
        floor = floor_words(found.bound[0])
        return "no rubbing, no heat" if floor == NEVER else f"energy floor: {floor}"

    def _peak(self, answer):
        return "cannot" if np.isinf(answer[0].peak) else self._speed(answer[0].peak)

    def _peak_note(self, rhythm):
        if np.isinf(rhythm.peak):
            shortest = quantity("stroke_length").text(rhythm.shortest, self.system)
            return f"at this speed this hand needs strokes of {shortest} or more"
        ratio = number_words(rhythm.peak / rhythm.speed)
        how = "hardly more than" if ratio == "1" else f"{ratio} times"
        return f"{how} the average: the hand has to turn"

    def effects(self, answer):
        """Say what each slider does."""
        return {
            "stroke_length": "twice this at half the count: nothing changes",
            "strokes_per_minute": "single passes: there and back are two",
            "force": "more watts at the same speed, if the arm keeps it up",
            "acceleration": "how quickly this hand gets up to speed; a guess, try others",
        }


def _stroke(answer):
    rhythm, found = answer
    low, _, high = found.ember[:, 0]
    return Stroke(rhythm.stroke_length, rhythm.strokes_per_minute, (float(low), float(high)))


def _band(answer):
    return band_words(*answer[1].ember[[0, 2], 0])


_SHAPES = {
    "sinusoid": "swings to and fro",
    "trapezoid": "quick turns, steady between",
    "steady": "perfectly even",
}


class Warmth(Panel):
    """What the contact feels: temperature while the bow goes to and fro, and rests.

    Parameters
    ----------
    kit, air : optional
        The kit, and the air around it.
    units : str
        ``"metric"`` or ``"us"``.
    **start : float
        Where sliders start, by name. [SI]
    """

    view = ("shown",)

    def __init__(
        self, kit: Kit | None = None, air: Air | None = None, *, units: str = METRIC, **start: float
    ):
        self._kit, self._air = kit or Kit(), air or Air()
        self._sketch = cache(Ripple)
        # A minute of bowing is worked out anew each time: sliders answer when they are let go.
        keys = ("stroke_length", "strokes_per_minute", "bout", "pause", "force")
        controls: dict[str, Any] = {
            key: Slider(key, start.get(key), continuous=False) for key in keys
        }
        controls["shape"] = Choice("The hand", _SHAPES)
        durations = {10.0: "first 10 s", 30.0: "first 30 s", 60.0: "first minute"}
        controls["shown"] = Choice("Picture shows", durations, start.get("shown"))
        choose = widgets.HBox([controls["shape"].widget, controls["shown"].widget])
        choose.add_class("fh-bar")
        super().__init__(controls, [choose, cells(controls, *keys)], units)

    def answer(self, state):
        """Follow the contact for a minute."""
        keys = ("stroke_length", "strokes_per_minute", "shape", "bout", "pause")
        rhythm = Rhythm(**{key: state[key] for key in keys})
        contact = contact_heat(self._kit, rhythm, self._air, force=state["force"])
        return Bowed(contact, self._air.temperature), state["shown"]

    def draw(self, answer, pinned):
        """Draw the climb and the strokes close up."""
        bowed, shown = answer
        sketch = self._sketch(shown, self.system)
        words = sketch.update(bowed, pinned and pinned[0])
        return sketch.png(), words

    def results(self, answer, pinned):
        """Spell average speed, ripple, first charring, and the same for an even speed."""
        contact = answer[0].contact
        rows = (
            ("", "Average bow speed", self._average, self._average_note(contact.rhythm)),
            ("", "Contact swings by", self._swing, _swing_note(contact.rhythm)),
            ("", "First charring, estimate", _chars, f"{_likely(contact)}, at first touch"),
            ("", "An even hand", _even, f"{_even_likely(contact)}, same average"),
        )
        return tiles(rows, answer, pinned)

    def _average(self, answer):
        return quantity("speed").text(answer[0].contact.rhythm.average, self.system)

    def _average_note(self, rhythm):
        if rhythm.shape == "trapezoid" and np.isinf(rhythm.peak):
            shortest = quantity("stroke_length").text(rhythm.shortest, self.system)
            return f"an ordinary hand cannot: it needs strokes of {shortest} or more"
        return "rests counted in" if rhythm.pause else "length times count"

    def _swing(self, answer):
        return " ".join(swing_words(answer[0].contact.swing, self.system))

    def effects(self, answer):
        """Say what each slider does."""
        no_rest = "" if answer[0].contact.rhythm.pause else ": none now"
        return {
            "stroke_length": "at the same bow speed: more ripple, same mean",
            "strokes_per_minute": "single passes: there and back are two",
            "bout": f"how long before each rest{no_rest}",
            "pause": "while you rest, the wood cools",
            "force": "more watts at the same speed",
        }


def _swing_note(rhythm):
    return "from bout to rest" if rhythm.pause else "at each stroke, around the same mean"


def _chars(answer):
    contact = answer[0].contact
    last = time_words(float(contact.heat.history.time[-1]))
    low, _, high = contact.first_char
    if np.isinf(low):
        return f"over {last}"
    return f"{time_words(low)} to over {last}" if np.isinf(high) else band_words(low, high)


def _likely(contact):
    """Spell the likely moment, which may be later than anybody looked."""
    likely = contact.first_char[1]
    return f"most likely {moment_words(likely)}" if np.isfinite(likely) else "most likely later"


def _even_likely(contact):
    return f"most likely {moment_words(contact.steady_char[1])}"


def _even(answer):
    return band_words(*answer[0].contact.steady_char[[0, 2]])


# ---- measuring and practising -------------------------------------------------------------------


_FEWEST = 3  # taps: one interval says nothing of its scatter


class TapPad(anywidget.AnyWidget):
    """A button that notes when it is tapped, in seconds since the first tap."""

    _esm = _HERE / "taps.js"
    words = traitlets.Unicode("Tap at each pass of the bow").tag(sync=True)
    value = traitlets.List(traitlets.Float()).tag(sync=True)


class _Tapped:
    """The tap pad as a control of a panel: its value is the times of the taps."""

    def __init__(self):
        self.start: tuple[float, ...] = ()
        self.widget = TapPad()

    @property
    def value(self) -> tuple[float, ...]:
        """Times of the taps, in seconds."""
        return tuple(self.widget.value)

    @value.setter
    def value(self, taps):
        self.widget.value = [float(tap) for tap in taps]

    def show_in(self, system: str) -> None:
        """Seconds are seconds everywhere."""


class TapCounter(Panel):
    """Taps at each pass of a bow: strokes a minute, bow speed and watts, each with its interval.

    Parameters
    ----------
    kit, effort : optional
        Whose watts are shown.
    units : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(
        self, kit: Kit | None = None, effort: Effort | None = None, *, units: str = METRIC
    ):
        self._kit, self._effort = kit or Kit(), effort or Effort()
        self._sketch = TapLine()
        self.pad = _Tapped()
        controls = {
            "taps": self.pad,
            "stroke_length": Slider("stroke_length"),
            "stroke_length_error": Slider("stroke_length_error"),
        }
        lower = cells(controls, "stroke_length", "stroke_length_error")
        super().__init__(controls, [self.pad.widget, lower], units)

    def answer(self, state):
        """Work out count and speed; nothing, while the taps are too few or too uneven."""
        taps = np.array(state["taps"])
        if len(taps) < _FEWEST:
            return taps, 0, None
        rate = tap_rate(taps)
        if np.isinf(rate.high):  # so uneven that no count is too high
            return taps, missed_taps(taps), None
        speed = tapped_speed(rate, state["stroke_length"], state["stroke_length_error"])
        return taps, missed_taps(taps), (rate, speed)

    def draw(self, answer, pinned):
        """Draw the taps on a line of time."""
        words = self._say(answer, self._sketch.update(*answer[:2]))
        if pinned is not None and pinned[2]:
            words += f" Pinned: {self._spell(pinned)}."
        return self._sketch.png(), words

    def _say(self, answer, taps):
        if answer[2] is None:
            uneven = ", too uneven to tell" if len(answer[0]) >= _FEWEST else ""
            return f"{taps}{uneven}: tap at each pass of the bow for 10 to 15 seconds."
        return f"{taps}: {self._spell(answer)}."

    def _spell(self, answer):
        return f"{_rate(answer)} strokes a minute, bow speed {self._speed(answer)}"

    def results(self, answer, pinned):
        """Spell strokes a minute, bow speed and watts."""
        then = pinned if pinned and pinned[2] else None
        rows = (
            ("", "Strokes a minute", _rate, _tap_note(answer)),
            ("", "Bow speed", self._speed, "95 times in 100 it is between these"),
            ("", "Heat made", self._watts, self._watts_note()),
        )
        return tiles(rows, answer, then)

    def _speed(self, answer):
        if answer[2] is None:
            return "–"
        row, speed = quantity("speed"), answer[2][1]
        ends = row.shown(speed.low, self.system), row.shown(speed.high, self.system)
        return f"{range_words(ends)} {unit_text(row.shown_unit(self.system))}"

    def _watts(self, answer):
        if answer[2] is None:
            return "–"
        return f"{range_words((self._made(answer[2][1].low), self._made(answer[2][1].high)))} W"

    def _made(self, speed):
        """Heat made at one bow speed."""
        kit = self._kit
        return float(friction_power(self._effort.force, kit.friction, speed, contact=kit.contact))

    def _watts_note(self):
        return (
            f"ordinary kit, pressed with {quantity('force').text(self._effort.force, self.system)}"
        )

    def effects(self, answer):
        """Say what each slider means."""
        return {
            "stroke_length": "how far the cord runs in one pass: measure it",
            "stroke_length_error": "how far off your tape may be",
        }


def _rate(answer):
    if answer[2] is None:
        return "–"
    low, high = (f"{end:.0f}" for end in (answer[2][0].low, answer[2][0].high))
    return f"{low} to {high}" if low != high else f"about {low}"


def _tap_note(answer):
    taps, missed, found = answer
    if found is None:
        uneven = len(taps) >= _FEWEST
        return "too uneven to tell: tap on" if uneven else f"not yet: at least {_FEWEST} taps"
    if missed:
        return "a gap twice as long: a missed tap makes the count too low. Start again"
    if taps[-1] - taps[0] < 8:
        return "short: go on for 10 to 15 s"
    return f"most likely {found[0].value:.0f}"


class PracticeBeat(Panel):
    """A beat to bow to, one minute long, and the bow speed it makes.

    Parameters
    ----------
    kit, air : optional
        The kit whose ember is estimated, and the air around it.
    units : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, kit: Kit | None = None, air: Air | None = None, *, units: str = METRIC):
        self._kit, self._air = kit or Kit(), air or Air()
        self._sketch, self.sound = BeatLine(), widgets.HTML()
        controls = {
            "strokes_per_minute": Slider("strokes_per_minute", continuous=False),
            "stroke_length": Slider("stroke_length", continuous=False),
        }
        super().__init__(controls, [self.sound, cells(controls, *controls)], units)

    def answer(self, state):
        """Make the track, and work out the speed and the estimate."""
        count = state["strokes_per_minute"]
        speed = float(bow_speed(state["stroke_length"], count))
        now = times(self._kit, Effort(speed=speed), self._air)
        return count, beat_track(count, sample_rate=_TELEPHONE), speed, now

    def draw(self, answer, pinned):
        """Draw the first beats, and put the sound in its place."""
        count, beat, speed, _ = answer
        words = self._sketch.update(beat, count)
        self.sound.value = _player(beat, count)
        return self._sketch.png(), f"{words}. {self._speed_words(speed)}."

    def _speed_words(self, speed):
        return f"At this stroke length it is {quantity('speed').text(speed, self.system)}"

    def results(self, answer, pinned):
        """Spell the beat, the bow speed and the ember."""
        force = quantity("force").text(default("force"), self.system)
        rows = (
            ("", "Strokes a minute", lambda a: f"{a[0]:.0f}", "one beat, one pass"),
            ("", "Bow speed", self._speed, "beat times stroke length"),
            ("fh-ember", "Ember, estimate", _beat_band, f"ordinary kit, {force}, no rests"),
        )
        return tiles(rows, answer, pinned)

    def _speed(self, answer):
        return quantity("speed").text(answer[2], self.system)

    def effects(self, answer):
        """Say what each slider does."""
        return {
            "strokes_per_minute": "let go of the slider, and a new track is made",
            "stroke_length": "your own, measured; the beat stays",
        }


def _beat_band(answer):
    return band_words(*answer[3].ember[[0, 2]])


def _player(beat, count):
    """Spell a player with its name; the sound itself is in the page, nothing is fetched."""
    data = base64.b64encode(wav_bytes(beat.samples, beat.sample_rate)).decode("ascii")
    name = f"Practice beat, {count:.0f} strokes a minute, one minute"
    return (
        f'<audio controls preload="auto" aria-label="{name}" '
        f'src="data:audio/wav;base64,{data}"></audio>'
        '<div class="fh-note">Start with the volume low and turn it up until you just hear the '
        "beat. If you have to raise your voice over it, it is too loud. Leave one ear free for "
        "the adult in charge.</div>"
    )
