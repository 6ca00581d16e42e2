"""What a drawn kit does by the clock: from the course of a try to places and colours of its parts.

The browser does the same, frame by frame, from what :meth:`KitScript.plain` tells it.
"""

from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from matplotlib.colors import to_hex
from scipy.constants import zero_Celsius

from ..answers.course import Course
from ..ember.ignition import heap_radius
from ..quantities import default
from . import style
from .field import tinted
from .kit_shapes import CORDS, PER_METRE, TRAVEL, WISPS, Ink, pivots

COLD, HOT = zero_Celsius + 20.0, zero_Celsius + 330.0  # K at both ends of the ramp of heat
PALE, BROWN, SMOKING, GLOWING = range(4)  # looks of a tip
LOOKS = ("pale wood", "brown", "smoke", "glow")
DRIFT = 3.0  # s in which a wisp of smoke goes up
_STROKE = default("stroke_length")
_RISE = 36.0  # how far it goes, in drawing units
_COVERED = 0.85  # of the colour of heat, by char
_WARM = 100.0  # K above cold from which on only the colour of heat is seen
_CHARRED = (0.0, 0.5, 0.96, 1.0)  # how much of the tip is charred as each look begins
_SAYS = ("Pale wood", "It turns brown", "It smokes", "It glows")
_NOTES = (
    "The tip gets warm. Keep going.",
    "Hot, and not hot enough. Keep going.",
    "Smoke is not an ember yet. Keep going.",
    "Stop. An ember is never touched.",
)


class Cue(NamedTuple):
    """Something that begins: when, which look the tip has from then on, and what is said.

    Attributes
    ----------
    time : float
        When. [s]
    look : int
        Place among :data:`LOOKS`.
    says, note : str
        Words for it, and for what to do.
    """

    time: float
    look: int
    says: str
    note: str


@dataclass(frozen=True, eq=False)
class KitScript:
    """What one drawn kit does by the clock.

    Attributes
    ----------
    diameter, force : float
        How thick the spindle is, and how hard it is pressed. [m and N]
    stroke : float
        How long one pass of the bow takes; infinite if it rests. [s]
    travel : float
        How far the bow goes to each side, in drawing units.
    times : ndarray
        Moments from zero to the end. [s]
    temperature : ndarray
        How hot the tip is at each. [K]
    heap : ndarray
        Radius of the heap at each, in drawing units.
    cues : tuple of Cue
        What begins, in order.
    name : str
        What the kit is called, where there is another beside it.
    """

    diameter: float
    force: float
    stroke: float
    travel: float
    times: np.ndarray
    temperature: np.ndarray
    heap: np.ndarray
    cues: tuple[Cue, ...]
    name: str = ""

    @property
    def end(self) -> float:
        """When it ends. [s]."""
        return float(self.times[-1])

    def cue(self, time: float) -> Cue:
        """Tell what began last."""
        return [cue for cue in self.cues if cue.time <= time or not cue.time][-1]

    def swing(self, time: float) -> float:
        """Where the bow is, from -1 to 1: slow at both turns, at its true speed on the whole."""
        if not np.isfinite(self.stroke):
            return 0.0
        return float(-np.cos(np.pi * min(time, self.end) / self.stroke))

    def charred(self, time: float) -> float:
        """How much of the tip is charred, from 0 to 1."""
        begins = [cue.time for cue in self.cues]
        return float(np.interp(time, begins, [_CHARRED[cue.look] for cue in self.cues]))

    def pose(self, time: float, *, still: bool = False) -> dict[str, dict[str, Any]]:
        """Tell places and colours of what moves, by part, as SVG's attributes.

        Parameters
        ----------
        time : float
            When. [s]
        still : bool, optional
            As a kept picture has it: bow in the middle, one wisp of smoke.
        """
        x = 0.0 if still else self.swing(time)
        look, kelvin = self.cue(time).look, self._kelvin(time)
        charred = self.charred(time)
        hot = _warm(kelvin) * (1 - _COVERED * charred)
        held, grown = pivots(self.diameter), np.interp(time, self.times, self.heap)
        glow = float(look == GLOWING)
        made: dict[str, dict[str, Any]] = {
            "bow": {"transform": f"translate({self.travel * x:.2f} 0)"},
            "mark": {"stroke-dashoffset": f"{-self.travel * x:.2f}"},
            "heap": {"transform": f"translate(0 {held['heap'][1]}) scale({grown:.3f})"},
            "tip": {"fill": heat_ink(kelvin), "opacity": f"{hot:.3f}"},
            "char": {"opacity": f"{charred:.3f}"},
            **{part: {"opacity": glow} for part in ("glow", "heart", "halo")},
        }
        made["heart"] |= made["heap"]
        for part, (_, end, _) in CORDS.items():
            across, down = held[part]
            long = (end - across + self.travel * x) / (end - across)
            made[part] = {"transform": f"translate({across:.2f} {down}) scale({long:.4f} 1)"}
        for i in range(WISPS):
            along = 0.5 if still else (time / DRIFT + i / WISPS) % 1
            seen = (look >= SMOKING) * (float(i == 0) if still else np.sin(np.pi * along))
            made[f"smoke-{i + 1}"] = {
                "transform": f"translate(0 {_RISE * (0.5 - along):.2f})",
                "opacity": f"{seen:.3f}",
            }
        return made

    def _kelvin(self, time):
        return float(np.interp(time, self.times, self.temperature))

    def plain(self) -> dict[str, Any]:
        """Tell the browser all it needs, as lists and numbers."""
        lists = ("times", "temperature", "heap")
        held = pivots(self.diameter)
        cords = {
            part: {"x": held[part][0], "y": held[part][1], "long": end - held[part][0]}
            for part, (_, end, _) in CORDS.items()
        }
        return {
            "name": self.name,
            "cords": cords,
            "travel": self.travel,
            "ground": held["heap"][1],
            **{name: np.round(getattr(self, name), 4).tolist() for name in lists},
            "stroke": self.stroke if np.isfinite(self.stroke) else 0.0,
            "end": self.end,
            "cues": [cue._asdict() | {"char": _CHARRED[cue.look]} for cue in self.cues],
        }


def kit_script(course: Course, *, name: str = "", stroke_length: float = _STROKE) -> KitScript:
    """Write the script of one kit from its course.

    Parameters
    ----------
    course : Course
        What becomes of it.
    name : str, optional
        What it is called, where there is another beside it.
    stroke_length : float, optional
        How far the bow goes in one pass. [m]

    Examples
    --------
    >>> from fireheat import Try
    >>> from fireheat.answers.course import course
    >>> [cue.look for cue in kit_script(course(Try())).cues]
    [0, 1, 2, 3]
    """
    tried = course.state
    speed = tried.effort.speed
    return KitScript(
        diameter=tried.kit.diameter,
        force=tried.effort.force,
        stroke=stroke_length / speed if speed else np.inf,
        travel=TRAVEL * stroke_length / _STROKE,
        times=course.times,
        temperature=course.temperature,
        heap=np.array([PER_METRE * heap_radius(dust) if dust else 0.0 for dust in course.dust]),
        cues=tuple(_cues(course)),
        name=name,
    )


def _cues(course):
    begins = (0.0, course.brown, course.smoke, course.ember)
    last = PALE
    for look, time in enumerate(begins):
        if time <= course.end:
            last = look
            yield Cue(float(time), look, _SAYS[look], _NOTES[look])
    if last != GLOWING:
        yield Cue(course.end, last, "No ember", f"Most likely never: {course.never}.")


def _warm(kelvin):
    """How much of its colour of heat a tip shows: none of it cold, where it is bare wood."""
    return float(np.clip((kelvin - COLD) / _WARM, 0, 1))


def heat_ink(kelvin: float) -> str:
    """Look up the colour of heat for a temperature, in the theme that is drawn in now.

    Examples
    --------
    >>> heat_ink(COLD), heat_ink(HOT)
    ('#eaddc2', '#fff0a6')
    """
    shade, _ = tinted(np.array(kelvin), COLD, HOT)
    return _hex(shade)


def _hex(shade):
    return to_hex(shade / 255)


def ramp() -> list[str]:
    """List the colours of heat, cold first, in the theme that is drawn in now."""
    return [_hex(shade) for shade in style.heat()]


def ink(color: Ink, heat: str = "") -> str:
    """Look up a shape's colour in the theme that is drawn in now; ``"HEAT"`` is what is told."""
    if color is None:
        return "none"
    if isinstance(color, float):
        return heat_ink(COLD + color * (HOT - COLD))
    return heat if color == "HEAT" else style.color(color)
