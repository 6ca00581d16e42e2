"""Friction from a ramp: up to five readings, the mean, its error bar, and the watts."""

from typing import Any, NamedTuple

from scipy.constants import degree

from ..everyday import known_friction
from ..figures.ramp import RampPicture
from ..kit.bowing import friction_power
from ..kit.kit import Effort, Try
from ..person.measuring import Measured, mean_angle, ramp_friction
from ..quantities import quantity
from .base import Panel, bar, cells, tiles, unfolding
from .controls import Choice, Slider
from .mine import PutIntoMyKit
from .units import GivenUnits

_READINGS = (18.0, 19.5, 17.5, 18.5, 19.0)  # degrees; invented
_KINDS = {
    "kinetic": "keeps sliding",
    "static": "starts to slide",
}


class Sliding(NamedTuple):
    """Readings of one kind, in radians, with their mean, the friction, and its ends in watts."""

    kind: str
    angles: list[float]
    mean: Measured
    friction: Measured
    watts: list[float]


class Ramp(Panel):
    """A friction coefficient with its error bar, from the angles of a ramp.

    Parameters
    ----------
    *readings : float
        Angles to start with, one to five. [rad]
    effort : Effort, optional
        Whose watts are shown.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "How rough are your two woods?"

    def __init__(self, *readings: float, effort: Effort | None = None, units: GivenUnits = None):
        self._effort = Try(effort=effort).effort
        start = readings or tuple(reading * degree for reading in _READINGS)
        more = start[-1:] * (len(_READINGS) - len(start))
        counts = {count: str(count) for count in range(1, len(_READINGS) + 1)}
        controls: dict[str, Any] = {
            "kind": Choice("Angle where it", _KINDS),
            "count": Choice("Readings", counts, len(start)),
        }
        controls |= {
            f"reading_{number}": Slider("angle", angle, name=f"angle, reading {number}")
            for number, angle in enumerate([*start, *more], start=1)
        }
        controls["angle_limit"] = Slider("angle_limit")
        rest = cells(controls, "kind", "angle_limit")
        choose = bar(controls["count"].widget, unfolding("More: sliding, protractor", rest))
        self.put = PutIntoMyKit(self._readings, lambda: self.system)
        layout = [choose, cells(controls, *list(controls)[2:-1]), self.put, rest]
        super().__init__(controls, layout, units)
        controls["count"].widget.add_class("fh-short")
        controls["count"].widget.observe(lambda _: self._follow_count(), names="value")
        self._follow_count()

    def _readings(self):
        """Tell what goes into my kit: the friction of wood that slides, since that makes heat."""
        found = self.answer(self.state)
        return {"friction": found.friction} if found.kind == "kinetic" else {}

    def _follow_count(self):
        """Show as many sliders as there are readings."""
        for number in range(1, len(_READINGS) + 1):
            hidden = number > self.control["count"].value
            box = self.control[f"reading_{number}"].box
            box.layout.display = "none" if hidden else None

    def answer(self, state):
        """Work out mean angle, friction and watts, each with its error."""
        angles = [state[f"reading_{number}"] for number in range(1, state["count"] + 1)]
        mean = mean_angle(angles, angle_limit=state["angle_limit"])
        friction = ramp_friction(mean.value, angle_error=mean.error)
        force, speed = self._effort.force, self._effort.speed
        watts = [
            friction_power(force, friction=max(end, 0.0), speed=speed) for end in friction.band.ends
        ]
        return Sliding(state["kind"], angles, mean, friction, watts)

    def draw(self, answer, before):
        """Draw the ramp and the line of friction."""
        sketch = self.sketch(_picture)
        words = sketch.update(answer.angles, answer.mean, answer.friction)
        words = f"{words} {self._effort_words()}: {_watts(answer)}."
        if before is not None:
            words += f" Before: {_friction(before)}."
        return sketch, words

    def _effort_words(self):
        force = quantity("force").text(self._effort.force, self.system)
        return f"{force} at {quantity('speed').text(self._effort.speed, self.system)}"

    def results(self, answer, before):
        """Spell friction and watts as bands."""
        count = len(answer.angles)
        note = {
            "kinetic": "kinetic: this one makes the heat",
            "static": "static: holds the block, makes no heat",
        }[answer.kind]
        rows = (
            ("", f"Mean of {count}" if count > 1 else "One reading", _angle, ""),
            ("fh-ember", "Friction coefficient", _friction, note),
            ("", "Heat made", _watts, f"{self._effort_words()}, tip worn in"),
        )
        return tiles(rows, answer, before) + f'<div class="fh-note">{_advice(answer)}</div>'

    def effects(self, answer):
        """Say what the protractor's slider means."""
        return {"angle_limit": "half the smallest step, or how well you can hold it"}


def _angle(answer):
    return f"{answer.mean.value / degree:.1f}° ± {answer.mean.error / degree:.1f}°"


def _picture():
    return RampPicture(known_friction())


def _friction(answer):
    return f"{answer.friction.value:.2f} ± {answer.friction.error:.2f}"


def _watts(answer):
    if answer.kind == "static":
        return "none at rest"
    low, high = (f"{watt:.1f}" for watt in answer.watts)
    return f"{low} W" if low == high else f"{low} to {high} W"


def _advice(answer):
    if len(answer.angles) < 3:
        return "One or two readings cannot show how far readings scatter: take three or more."
    if answer.kind == "static":
        return "Wood at rest grips better than wood that slides: for the watts, measure sliding."
    return (
        "In about two cases out of three the true value of such woods, dry and cold, is in the ±."
    )
