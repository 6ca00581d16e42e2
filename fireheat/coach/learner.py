"""One learner: kit, effort and arm, and what the arm allows."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from ..kit.bowing import bow_speed
from ..kit.kit import Try
from ..person.arm import Arm
from ..person.limits import kit_pull, speed_at_force
from ..quantities import InputError, check, check_ordinary, default

AT_LIMIT = 0.99  # of the arm's speed: from here on it gives all it has


@dataclass(frozen=True, kw_only=True)
class Learner:
    """One learner, as they bow now.

    Attributes
    ----------
    state : Try
        Kit, effort and air.
    arm : Arm
        What the arm can give, measured or assumed.
    slip_pull : float or None
        Pull at which the cord slips; never, if None. [N]
    measured : mapping of str to float or None
        What was measured, and how well, as :func:`fireheat.spread.spread` takes it. [SI]
    stroke_length : float
        How far the cord runs in one pass. [m]

    Raises
    ------
    InputError
        If a part is something else, or not what a person can have.

    Examples
    --------
    >>> learner = Learner()
    >>> round(learner.pull, 1), round(learner.most_speed, 2), learner.strokes_per_minute
    (13.5, 1.0, 120.0)
    """

    state: Try = field(default_factory=Try)
    arm: Arm = field(default_factory=Arm)
    slip_pull: float | None = None
    measured: Mapping[str, float | None] = field(default_factory=dict, hash=False)
    stroke_length: float = default("stroke_length")

    def __post_init__(self):
        for name, part, kind in (("state", self.state, Try), ("arm", self.arm, Arm)):
            if not isinstance(part, kind):
                raise InputError(f"{name} is {part!r}; allowed: {kind.__name__}(...)")
        if not isinstance(self.measured, Mapping):
            raise InputError(f"measured is {self.measured!r}; allowed: a dictionary of shares")
        object.__setattr__(self, "measured", dict(self.measured))
        if self.slip_pull is not None:
            object.__setattr__(self, "slip_pull", float(check(slip_pull=self.slip_pull)))
        check_ordinary(stroke_length=self.stroke_length)

    @property
    def pull(self) -> float:
        """Pull on the bow that kit and press ask for. [N]."""
        return kit_pull(self.state.kit, force=self.state.effort.force)

    @property
    def arm_power(self) -> float:
        """What the arm gives. [W]."""
        return self.pull * self.state.effort.speed

    @property
    def hold(self) -> float:
        """How long the arm can keep this up; infinite where watts are not its limit. [s]."""
        return self.arm.hold_time(self.arm_power)

    @property
    def most_speed(self) -> float:
        """Speed that the arm can give at this press; zero if arm or cord gives way. [m/s]."""
        effort = self.state.effort
        return speed_at_force(
            self.state.kit, arm=self.arm, force=effort.force, slip_pull=self.slip_pull
        )

    @property
    def at_limit(self) -> bool:
        """Whether the arm gives all the speed it has at this press."""
        return self.state.effort.speed >= AT_LIMIT * self.most_speed

    @property
    def strokes_per_minute(self) -> float:
        """The beat, there and back being two. [1/min]."""
        return self.strokes_at(self.state.effort.speed)

    def strokes_at(self, speed: float) -> float:
        """Tell the beat at a speed, with strokes as long as this learner's. [1/min].

        Examples
        --------
        >>> Learner(stroke_length=0.4).strokes_at(1.0)
        150.0
        """
        return speed / float(bow_speed(self.stroke_length, strokes_per_minute=1.0))

    def changed(self, **values: Any) -> "Learner":
        """Make the same learner with some of the try changed, by name as in a try.

        Examples
        --------
        >>> Learner().changed(force=50.0).state.effort.force
        50.0
        """
        return replace(self, state=self.state.changed(**values))

    def within_arm(self) -> "Learner":
        """Make the same learner bowing no quicker than the arm can.

        Examples
        --------
        >>> round(Learner().changed(force=120.0).within_arm().state.effort.speed, 2)
        0.62
        """
        return self.changed(speed=min(self.state.effort.speed, self.most_speed))
