"""Every way of bowing on one map of stroke length and count."""

from functools import cache

import numpy as np
from scipy.constants import foot

from ..answers.warmth import Rhythm
from ..estimates import times
from ..everyday import like_power
from ..figures.stroke_map import Stroke, StrokeMap, lengths
from ..kit.kit import Air, Kit, Try
from ..person.strokes import most_strokes
from ..quantities import METRIC, US, quantity
from ..words import NEVER, band_words, floor_words, number_words
from .base import Panel, Slider, cells, tiles

_LINES = {METRIC: (0.5, 1.0, 1.5, 2.0, 3.0), US: tuple(v * foot for v in (2, 4, 6, 8, 10))}


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
        self._try = Try(kit, air=air)
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
        return rhythm, times(self._try.changed(force=state["force"]), speed=speeds)

    def draw(self, answer, pinned):
        """Draw the map."""
        rhythm, found = answer
        sketch = self._sketch(self.system)
        first = 1 if self.system == METRIC else 1 + len(_LINES[METRIC])
        embers = [found.ember.at(first + line) for line in range(len(_LINES[self.system]))]
        quickest = most_strokes(lengths(), acceleration=rhythm.acceleration)
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
    return Stroke(rhythm.stroke_length, rhythm.strokes_per_minute, found.ember.at(0))


def _band(answer):
    return band_words(answer[1].ember.at(0))
