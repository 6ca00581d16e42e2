"""Measuring and practising: counting taps, and a beat."""

import base64
from pathlib import Path
from typing import NamedTuple

import anywidget
import ipywidgets as widgets
import numpy as np
import traitlets

from ..bands import Band
from ..estimates import Times, times
from ..figures.practice import BeatLine, TapLine
from ..kit.bowing import bow_speed
from ..kit.kit import Kit, Try
from ..person.beat import Beat, beat_track, wav_bytes
from ..person.measuring import missed_taps, standard, tap_rate, tapped_speed
from ..quantities import check, quantity, unit_text
from ..spread import spread
from ..words import band_words, range_words
from .base import cells, tiles
from .controls import Slider
from .mine import PutIntoMyKit
from .trying import Trying
from .two_bands import EMBER, wood_note

_HERE = Path(__file__).parent
_TELEPHONE = 8000  # samples a second, ITU-T G.711, from memory: a beat needs no more


_LENGTHS = ("stroke_length", "stroke_length_error")
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
        self.widget.value = np.ravel(check(tap_times=taps)).tolist()

    def show_in(self, system: str) -> None:
        """Seconds are seconds everywhere."""


class Tapping(NamedTuple):
    """Taps, the try; how many were missed; count, speed and ember where they are enough to tell."""

    taps: np.ndarray
    state: Try
    missed: int = 0
    rate: Band[float] | None = None
    speed: Band[float] | None = None
    ember: Band[float] | None = None


class TapCounter(Trying):
    """Taps at each pass of a bow: strokes a minute, bow speed, watts and ember, each as a range.

    Parameters
    ----------
    kit, effort, air : optional
        Whose watts and ember are shown.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "How fast do you bow?"

    left_out = ("speed",)  # the taps tell it

    def make_controls(self):
        """Make the pad, and sliders for the length of a stroke."""
        self.pad = _Tapped()
        return {"taps": self.pad} | {key: Slider(key) for key in _LENGTHS}

    def lay_out(self, controls):
        """Stand the pad above the sliders."""
        self.put = PutIntoMyKit(self._readings, lambda: self.system)
        return [self.pad.widget, cells(controls, *_LENGTHS), self.put]

    def _readings(self):
        """Tell what goes into my kit: the speed, once there are taps enough."""
        speed = self.answer(self.state).speed
        return {} if speed is None or not _ordinary(speed) else {"speed": standard(speed)}

    def answer(self, state):
        """Work out count and speed; nothing, while the taps are too few or too uneven."""
        taps, now = np.array(state["taps"]), self.now(state)
        if len(taps) < _FEWEST:
            return Tapping(taps, now)
        rate = tap_rate(taps)
        if np.isinf(rate.high):  # so uneven that no count is too high
            return Tapping(taps, now, missed_taps(taps))
        speed = tapped_speed(
            rate,
            stroke_length=state["stroke_length"],
            stroke_length_error=state["stroke_length_error"],
        )
        ember = self._ember(state, speed) if _ordinary(speed) else None
        return Tapping(taps, now, missed_taps(taps), rate, speed, ember)

    def _ember(self, state, speed):
        """Tell the ember's time at such a speed, as well as that and the rest is known."""
        mine = self.mine.standing(state).put(speed=standard(speed))
        now = self.now(state).changed(speed=speed.likely)
        return spread(now, measured=mine.measured).all

    def draw(self, answer, before):
        """Draw the taps on a line of time."""
        sketch = self.sketch(TapLine)
        words = self._say(answer, sketch.update(answer.taps, answer.missed))
        if before and before.rate:
            words += f" Before: {self._spell(before)}."
        return sketch, words

    def _say(self, answer, taps):
        if answer.rate is None:
            uneven = ", too uneven to tell" if len(answer.taps) >= _FEWEST else ""
            return f"{taps}{uneven}: tap at each pass of the bow for 10 to 15 seconds."
        return f"{taps}: {self._spell(answer)}."

    def _spell(self, answer):
        return f"{_rate(answer)} strokes a minute, bow speed {self._speed(answer)}"

    def results(self, answer, before):
        """Spell strokes a minute, bow speed and watts."""
        then = before if before and before.rate else None
        rows = (
            ("", "Strokes a minute", _rate, _tap_note(answer)),
            ("", "Bow speed", self._speed, "95 times in 100 it is between these"),
            ("", "Heat made", self._watts, self._watts_note()),
            ("fh-ember", "Ember, estimate", _ember_words, "at this pace, with all we do not know"),
        )
        return tiles(rows, answer, then)

    def _speed(self, answer):
        if answer.rate is None:
            return "–"
        row = quantity("speed")
        ends = [row.shown(end, self.system) for end in answer.speed.ends]
        return f"{range_words(ends)} {unit_text(row.shown_unit(self.system))}"

    def _watts(self, answer):
        if answer.rate is None:
            return "–"
        of_one = answer.state.changed(speed=1.0).power  # heat goes with the speed
        return f"{range_words(of_one * speed for speed in answer.speed.ends)} W"

    def _watts_note(self):
        force = quantity("force").text(self.now().effort.force, self.system)
        whose = "ordinary kit" if self.now().kit == Kit() else "this kit"
        return f"{whose}, pressed with {force}"

    def effects(self, answer):
        """Say what each slider means."""
        return {
            "stroke_length": "how far the cord runs in one pass: measure it",
            "stroke_length_error": "how far off your tape may be",
        }


def _ordinary(speed):
    """Tell whether somebody can bow so fast."""
    row = quantity("speed")
    return row.low <= speed.likely <= row.high


def _ember_words(answer):
    return "–" if answer.ember is None else band_words(answer.ember)


def _rate(answer):
    if answer.rate is None:
        return "–"
    low, high = (f"{end:.0f}" for end in answer.rate.ends)
    return f"{low} to {high}" if low != high else f"about {low}"


def _tap_note(answer):
    taps = answer.taps
    if answer.rate is None:
        uneven = len(taps) >= _FEWEST
        return "too uneven to tell: tap on" if uneven else f"not yet: at least {_FEWEST} taps"
    if answer.missed:
        return "a gap twice as long: a missed tap makes the count too low. Start again"
    if taps[-1] - taps[0] < 8:
        return "short: go on for 10 to 15 s"
    return f"most likely {answer.rate.likely:.0f}"


class Beaten(NamedTuple):
    """Strokes a minute, their track, the bow speed they make, in m/s, and its estimate."""

    strokes: float
    track: Beat
    speed: float
    times: Times
    all: Band[float]


class PracticeBeat(Trying):
    """A beat to bow to, one minute long, and the bow speed it makes.

    Parameters
    ----------
    kit, effort, air : optional
        The kit whose ember is estimated, how it is pressed, and the air around it.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "Can you keep to a beat?"

    left_out = ("speed",)  # the beat makes it

    def make_controls(self):
        """Make the controls, by name."""
        keys = ("strokes_per_minute", "stroke_length")
        return {key: Slider(key, continuous=False) for key in keys}

    def lay_out(self, controls):
        """Stand the player above the sliders."""
        self.sound = widgets.HTML()
        return [self.sound, cells(controls, *controls)]

    def answer(self, state):
        """Make the track, and work out the speed and the estimate."""
        count = state["strokes_per_minute"]
        speed = float(bow_speed(state["stroke_length"], strokes_per_minute=count))
        tried, known = self.now(state).changed(speed=speed), self.known(state)
        now, track = times(tried), beat_track(count, sample_rate=_TELEPHONE)
        return Beaten(count, track, speed, now, spread(tried, found=now, measured=known).all)

    def draw(self, answer, before):
        """Draw the first beats, and put the sound in its place."""
        sketch = self.sketch(BeatLine)
        words = sketch.update(answer.track, answer.strokes)
        self.sound.value = _player(answer.track, answer.strokes)
        words = f"{words}. At this stroke length it is {self._speed(answer)}."
        if before:
            words += f" Before: {before.strokes:.0f} strokes a minute, {self._speed(before)}."
        whose = "An ordinary kit's" if self.now().kit == Kit() else "This kit's"
        words += f" {whose} ember, with all we do not know: {band_words(answer.all)}."
        return sketch, words

    def results(self, answer, before):
        """Spell the beat, the bow speed and the ember."""
        force = quantity("force").text(self.now().effort.force, self.system)
        whose = "ordinary kit" if self.now().kit == Kit() else "this kit"
        rows = (
            ("", "Strokes a minute", lambda a: f"{a.strokes:.0f}", "one beat, one pass"),
            ("", "Bow speed", self._speed, "beat times stroke length"),
            (
                "fh-ember",
                EMBER,
                lambda a: band_words(a.all),
                f"{whose}, {force}, no rests; {wood_note(answer.times.ember)}",
            ),
        )
        return tiles(rows, answer, before)

    def _speed(self, answer):
        return quantity("speed").text(answer.speed, self.system)

    def effects(self, answer):
        """Say what each slider does."""
        return {
            "strokes_per_minute": "let go of the slider, and a new track is made",
            "stroke_length": "your own, measured; the beat stays",
        }


def _player(beat, count):
    """Spell a player with its name; the sound itself is in the page, nothing is fetched."""
    data = base64.b64encode(wav_bytes(beat.samples, sample_rate=beat.sample_rate)).decode("ascii")
    name = f"Practice beat, {count:.0f} strokes a minute, one minute"
    return (
        f'<audio controls preload="auto" aria-label="{name}" '
        f'src="data:audio/wav;base64,{data}"></audio>'
        '<div class="fh-note">Start with the volume low and turn it up until you just hear the '
        "beat. If you have to raise your voice over it, it is too loud. Leave one ear free for "
        "the adult in charge.</div>"
    )
