"""The learner that controls of a panel set, made anew from their values."""

from dataclasses import replace

from fireheat.coach.learner import Learner
from fireheat.kit.bowing import bow_speed
from fireheat.kit.kit import Try
from fireheat.person.arm import Arm, arms

_TRIED = ("diameter", "force", "moisture", "friction", "block_friction", "wood")


def learner_of(state):
    """Make a learner of a state of the coach's panels."""
    strokes, length = state["strokes_per_minute"], state["stroke_length"]
    speed = float(bow_speed(length, strokes_per_minute=strokes))
    own = Arm(pull_max=state["pull_max"], speed_max=state["speed_max"])
    learner = Learner(
        state=Try().changed(speed=speed, **{key: state[key] for key in _TRIED}),
        arm=own if state["arm"] == "measured" else arms()[state["arm"]],
        stroke_length=length,
    )
    return replace(learner, slip_pull=learner.pull) if state["cord"] else learner
