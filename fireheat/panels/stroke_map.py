"""Every way of bowing on one map of stroke length and count."""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
from scipy.constants import foot

from ..answers.warmth import Rhythm
from ..bands import Band
from ..estimates import Times, times
from ..everyday import like_power
from ..figures.stroke_map import Stroke, StrokeMap, lengths
from ..person.strokes import most_strokes
from ..quantities import METRIC, US, quantity
from ..spread import spread
from ..words import band_words, number_words
from .base import cells, floor_note, tiles
from .controls import Slider
from .trying import Trying
from .two_bands import EMBER, with_outer, wood_note

_LINES = {METRIC: (0.5, 1.0, 1.5, 2.0, 3.0), US: tuple(v * foot for v in (2, 4, 6, 8, 10))}


class Bowing(NamedTuple):
    """A way of bowing, its times, and the estimate at each speed that has a line."""

    rhythm: Rhythm
    times: Times
    all: Band[float]
    lines: Mapping[float, Band[float]]

    @property
    def stroke(self) -> Stroke:
        """Where it stands on the map."""
        return Stroke(self.rhythm, self.times.ember)


class Strokes(Trying):
    """Stroke length and strokes a minute on one map, with lines of equal bow speed.

    Parameters
    ----------
    kit, effort, air : optional
        The kit, how it is pressed, and the air around it.
    units : str
        ``"metric"`` or ``"us"``.
    """

    question = "Long strokes, or many?"

    tried = ("force",)
    left_out = ("speed",)  # strokes make it

    def make_controls(self):
        """Make the controls, by name."""
        return {
            "stroke_length": Slider("stroke_length"),
            "strokes_per_minute": Slider("strokes_per_minute"),
            "force": Slider("force", self._try.effort.force),
            "acceleration": Slider("acceleration"),
        }

    def lay_out(self, controls):
        """Stand the controls."""
        return [cells(controls, *controls)]

    def answer(self, state):
        """Work out speed, peak and times of this stroke, and of the lines of equal speed."""
        rhythm = Rhythm(
            stroke_length=state["stroke_length"],
            strokes_per_minute=state["strokes_per_minute"],
            acceleration=state["acceleration"],
        )
        speeds = [rhythm.speed, *_LINES[METRIC], *_LINES[US]]
        tried = self.now(state)
        found = times(tried, speed=np.array(speeds))
        now, *lines = map(found.at, range(len(speeds)))
        embers = {speed: line.ember for speed, line in zip(speeds[1:], lines, strict=True)}
        # As an array: the sliders' ends make more speed than an effort may have.
        swept, known = {"speed": np.array([rhythm.speed])}, self.known(state)
        wide = spread(tried, swept=swept, draws=128, found=now, measured=known).all
        outer = Band(float(wide.low[0]), now.ember.likely, float(wide.high[0]))
        return Bowing(rhythm, now, outer, embers)

    def draw(self, answer, before):
        """Draw the map."""
        sketch = self.sketch(StrokeMap, _LINES[self.system], self.system)
        embers = [answer.lines[speed] for speed in _LINES[self.system]]
        quickest = most_strokes(lengths(), acceleration=answer.rhythm.acceleration)
        words = sketch.update(answer.stroke, before and before.stroke, embers, quickest)
        return sketch, with_outer(words, answer.all)

    def results(self, answer, before):
        """Spell bow speed, watts, ember and the speed in mid-stroke."""
        note = like_power(answer.times.power)
        rows = (
            ("", "Bow speed", lambda a: self._speed(a.rhythm.speed), "length times count"),
            ("", "Heat made", lambda a: f"{number_words(a.times.power)} W", note),
            (
                "fh-ember",
                EMBER,
                lambda a: band_words(a.all),
                self._ember_note(answer),
            ),
            ("", "Fastest in mid-stroke", self._peak, self._peak_note(answer.rhythm)),
        )
        return tiles(rows, answer, before)

    def _speed(self, speed):
        return quantity("speed").text(speed, self.system)

    def _ember_note(self, answer):
        wood = wood_note(answer.times.ember)
        if np.isinf(answer.rhythm.peak):
            return f"{wood}; if a quicker hand kept this up"
        return f"{wood}; {floor_note(answer.times.bound, 'no rubbing, no heat')}"

    def _peak(self, answer):
        return "cannot" if np.isinf(answer.rhythm.peak) else self._speed(answer.rhythm.peak)

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
