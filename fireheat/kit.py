"""What a reader sets: the kit, the effort put into it, and the air around it.

Three small frozen dataclasses that check themselves on construction. Use
:func:`dataclasses.replace` to change one field.
"""

from dataclasses import dataclass

from .bowing import bow_speed, friction_power, torque_coefficient
from .quantities import check_ordinary, default, plain
from .wood import wood


def _store_floats(made):
    """Store the checked numbers of a kit, effort or air as floats: an array has no hash."""
    for name, value in vars(made).items():
        if not isinstance(value, str | None):
            object.__setattr__(made, name, plain(value))


@dataclass(frozen=True, kw_only=True)
class Kit:
    """A spindle on a fireboard.

    Attributes
    ----------
    radius : float
        Radius of the spindle's tip. [m]
    cord_radius : float or None
        Radius where the cord wraps; the tip's if None. [m]
    contact : str
        ``"uniform_wear"`` (worn-in tip) or ``"uniform_pressure"`` (fresh flat tip).
    friction : float
        Friction coefficient between spindle and board. [1]
    wood : str
        A name from :func:`fireheat.wood.woods`, for spindle and board.
    moisture : float
        Mass of water over oven-dry mass; 0.09 is 9 %. [1]
    burn_in_depth : float
        How much shorter spindle and board get, together, for one ember. [m]
    spindle_length : float
        Length of the spindle. [m]
    block_friction : float
        Friction coefficient in the bearing block. [1]
    block_radius : float
        Radius of the contact in the bearing block. [m]

    Raises
    ------
    InputError
        If a field is not what an ordinary kit can have.

    Examples
    --------
    >>> Kit().radius
    0.0065
    >>> Kit.from_diameter(0.025, friction=0.4).radius
    0.0125
    """

    radius: float = default("radius")
    cord_radius: float | None = None
    contact: str = "uniform_wear"
    friction: float = default("friction")
    wood: str = "western_redcedar"
    moisture: float = default("moisture")
    burn_in_depth: float = default("burn_in_depth")
    spindle_length: float = default("spindle_length")
    block_friction: float = default("block_friction")
    block_radius: float = default("block_radius")

    def __post_init__(self):
        check_ordinary(
            radius=self.radius,
            friction=self.friction,
            moisture=self.moisture,
            burn_in_depth=self.burn_in_depth,
            spindle_length=self.spindle_length,
            block_friction=self.block_friction,
            block_radius=self.block_radius,
        )
        if self.cord_radius is not None:
            check_ordinary(cord_radius=self.cord_radius)
        torque_coefficient(self.contact)
        wood(self.wood)
        _store_floats(self)

    @classmethod
    def from_diameter(cls, diameter: float, **fields) -> "Kit":
        """Make a kit from the spindle's diameter, which is what a ruler measures."""
        check_ordinary(diameter=diameter)
        return cls(radius=diameter / 2, **fields)

    @property
    def diameter(self) -> float:
        """Diameter of the spindle's tip, in metres."""
        return 2 * self.radius


@dataclass(frozen=True, kw_only=True)
class Effort:
    """What the person with the bow puts in.

    Attributes
    ----------
    force : float
        Downward force on the spindle. [N]
    speed : float
        Average speed of the cord, both ways counted. [m/s]

    Raises
    ------
    InputError
        If a field is not what a person can do.

    Examples
    --------
    >>> Effort.from_strokes(force=60.0, stroke_length=0.4, strokes_per_minute=150).speed
    1.0
    """

    force: float = default("force")
    speed: float = default("speed")

    def __post_init__(self):
        check_ordinary(force=self.force, speed=self.speed)
        _store_floats(self)

    @classmethod
    def from_strokes(
        cls, *, stroke_length: float, strokes_per_minute: float, force: float = default("force")
    ) -> "Effort":
        """Make an effort from counted strokes; there and back are two."""
        check_ordinary(stroke_length=stroke_length, strokes_per_minute=strokes_per_minute)
        return cls(force=force, speed=float(bow_speed(stroke_length, strokes_per_minute)))


@dataclass(frozen=True, kw_only=True)
class Air:
    """The air around the kit.

    Attributes
    ----------
    temperature : float
        Temperature of the air, and of the wood at the start. [K]
    relative_humidity : float
        Relative humidity; 0.5 is 50 %. [1]
    film : float
        Heat transfer coefficient of wood in air, radiation included. [W/(m^2 K)]

    Raises
    ------
    InputError
        If a field is not what outdoor air can have.

    Examples
    --------
    >>> Air().temperature
    293.15
    """

    temperature: float = default("temperature_ambient")
    relative_humidity: float = default("relative_humidity")
    film: float = default("film")

    def __post_init__(self):
        check_ordinary(
            temperature_ambient=self.temperature,
            relative_humidity=self.relative_humidity,
            film=self.film,
        )
        _store_floats(self)


def kit_power(kit: Kit, effort: Effort) -> float:
    """Return the heat made at the tip of a kit, in watts."""
    return friction_power(
        effort.force,
        kit.friction,
        effort.speed,
        contact=kit.contact,
        radius=kit.radius,
        cord_radius=kit.cord_radius,
    )
