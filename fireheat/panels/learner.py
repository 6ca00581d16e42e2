"""The base of panels about one learner: what a leader sees and measures, as controls."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from ..coach.learner import Learner
from ..kit.bowing import bow_speed
from ..kit.kit import Air, Effort, Kit
from ..kit.wood import Wood, wood
from ..person.arm import Arm, arms
from ..quantities import quantity
from .controls import Choice, Slider
from .trying import Trying
from .units import GivenUnits
from .woods import WoodChoice

_SET = "diameter", "force", "moisture", "friction", "block_friction"
_STROKES = "strokes_per_minute", "stroke_length"
_OWN = "pull_max", "speed_max"  # of an arm that was measured
_MEASURED = "measured"
_SLACK = 1.005  # how much quicker than the arm can is no difference
_WEIGHTS = {  # a wood that stands for others of its weight
    "western_redcedar": "light, such as cedar or willow",
    "silver_maple": "middling, such as soft maple",
    "northern_red_oak": "heavy, such as oak or ash",
}
_CORD = {False: "holds", True: "slips if pulled harder"}


class ByWeight(WoodChoice):
    """A choice of wood by its weight, as a hand tells it; a named or a weighed wood comes in, too.

    Parameters
    ----------
    start : str or Wood
        Where it starts.
    """

    def __init__(self, start: str | Wood):
        own = {start: wood(start).name} if isinstance(start, str) else {}
        super().__init__(start, _WEIGHTS if start in _WEIGHTS else own | _WEIGHTS)


class OneLearner(Trying):
    """A panel about one learner, whose kit, strokes and arm are set.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start; what has no slider stays so.
    arm : str
        One of the example arms, which are assumptions.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    tried = (*_SET, "wood")
    left_out: tuple[str, ...] = ("speed",)  # the strokes make it

    def __init__(
        self,
        kit: Kit | None = None,
        effort: Effort | None = None,
        air: Air | None = None,
        *,
        arm: str = "teenager",
        units: GivenUnits = None,
    ):
        self._arm = arm
        super().__init__(kit, effort, air, units=units)

    def make_controls(self) -> dict[str, Any]:
        """Make the controls, by name."""
        start, stroke = self._try.value, quantity("stroke_length").default
        beat = start("speed") / float(bow_speed(stroke, strokes_per_minute=1.0))
        kinds = {key: row.name for key, row in arms().items()} | {_MEASURED: "one we measured"}
        return {
            "diameter": Slider("diameter", start("diameter")),
            "force": Slider("force", start("force")),
            "strokes_per_minute": Slider("strokes_per_minute", beat),
            "stroke_length": Slider("stroke_length", stroke),
            "arm": Choice("Whose arm", kinds, self._arm),
            "wood": ByWeight(self._try.kit.wood),
            "moisture": Slider("moisture", start("moisture")),
            "friction": Slider("friction", start("friction")),
            "block_friction": Slider("block_friction", self._try.kit.block_friction),
            "cord": Choice("The cord", _CORD),
            **{key: Slider(key) for key in _OWN},
        }

    def bare(self, state: Mapping[str, Any]):
        """Return the try as the sliders have it, its speed by the strokes."""
        speed = float(bow_speed(**{key: state[key] for key in reversed(_STROKES)}))
        return super().bare(state).changed(speed=speed)

    def learner(self, state: Mapping[str, Any]) -> Learner:
        """Return the learner as set, with what of my kit has no slider."""
        learner = Learner(
            state=self.now(state),
            arm=self._arm_of(state),
            measured=self.known(state),
            stroke_length=state["stroke_length"],
        )
        # It holds as it is bowed now, and not any more than that.
        return replace(learner, slip_pull=learner.pull) if state["cord"] else learner

    @staticmethod
    def _arm_of(state):
        if state["arm"] == _MEASURED:
            return Arm(**{key: state[key] for key in _OWN})
        return arms()[state["arm"]]

    def spoken_learner(self, learner: Learner) -> dict[str, str]:
        """Say under the controls what they come to."""
        speed = quantity("speed").text(learner.state.effort.speed, self.system)
        most = learner.strokes_at(learner.most_speed)
        too_quick = learner.state.effort.speed > learner.most_speed * _SLACK
        limit = f"{most:.0f} a minute at most"
        own = "used where “one we measured” is chosen"
        return {
            "strokes_per_minute": f"too quick for this arm: {limit}"
            if too_quick
            else f"bow speed {speed}",
            "stroke_length": "of the cord, one way: measure it",
            "arm": f"invented; {limit}, so pressed" if most else "so pressed, it stalls",
            "cord": "a slack cord or a shiny stick slips",
            **dict.fromkeys(_OWN, own),
        }
