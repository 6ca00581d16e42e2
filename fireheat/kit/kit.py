"""What a reader sets: the kit, the effort put into it, the air around it, and all three as a try.

Small frozen dataclasses that check themselves on construction. :meth:`Try.changed` changes
quantities by their names in the table, whichever part they belong to. How much dust one ember takes
is given as a depth or in grams, and what was given is kept when the rest changes.
"""

import math
from dataclasses import dataclass, fields, replace
from typing import Any

from ..quantities import InputError, check_ordinary, default, store_floats
from .bowing import bow_speed, friction_power, torque_coefficient
from .tip import worn_depth
from .wood import Wood, density, wood


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
    wood : str or Wood
        A name from :func:`fireheat.kit.wood.woods`, for spindle and board; or a wood of its own,
        such as :func:`fireheat.kit.wood.my_wood`.
    moisture : float
        Mass of water over oven-dry mass; 0.09 is 9 %. [1]
    burn_in_depth : float
        How much shorter spindle and board get, together, for one ember; an ordinary depth if
        neither this nor a mass is given, and what follows from the mass if that is. [m]
    dust_mass : float or None
        Dry dust of one ember, as a kitchen scale shows it, if the kit was given in grams. Such a
        kit keeps its grams, and not its depth, when the diameter changes. [kg]
    spindle_length : float
        Length of the spindle. [m]
    block_friction : float
        Friction coefficient in the bearing block. [1]
    block_radius : float
        Radius of the contact in the bearing block. [m]
    axial_factor : float
        Conductivity of the wood along over across its grain. [1]

    Raises
    ------
    InputError
        If a field is not what an ordinary kit can have, or both depth and mass are given.

    Examples
    --------
    >>> Kit().radius
    0.008
    >>> Kit.from_diameter(0.025, friction=0.4).radius
    0.0125
    >>> [round(1000 * Kit(radius=r, dust_mass=0.25e-3).burn_in_depth, 1) for r in (0.008, 0.004)]
    [3.9, 15.5]
    """

    radius: float = default("radius")
    cord_radius: float | None = None
    contact: str = "uniform_wear"
    friction: float = default("friction")
    wood: str | Wood = "western_redcedar"
    moisture: float = default("moisture")
    burn_in_depth: float = None  # type: ignore[assignment]  # filled in on construction
    dust_mass: float | None = None
    spindle_length: float = default("spindle_length")
    block_friction: float = default("block_friction")
    block_radius: float = default("block_radius")
    axial_factor: float = default("axial_factor")

    def __post_init__(self):
        check_ordinary(
            radius=self.radius,
            friction=self.friction,
            moisture=self.moisture,
            spindle_length=self.spindle_length,
            block_friction=self.block_friction,
            block_radius=self.block_radius,
            axial_factor=self.axial_factor,
        )
        if self.cord_radius is not None:
            check_ordinary(cord_radius=self.cord_radius)
        torque_coefficient(self.contact)
        wood(self.wood)
        object.__setattr__(self, "burn_in_depth", self._depth())
        store_floats(self)

    def _depth(self):
        """Tell the depth, which is given or follows from the mass."""
        if self.dust_mass is None:
            depth = default("burn_in_depth") if self.burn_in_depth is None else self.burn_in_depth
            check_ordinary(burn_in_depth=depth)
            return depth
        if self.burn_in_depth is not None:
            raise InputError(
                f"burn-in depth is {self.burn_in_depth!r} m and mass of dust {self.dust_mass!r} kg;"
                " allowed: one of them, the other follows"
            )
        check_ordinary(dust_mass=self.dust_mass)
        return worn_depth(
            self.dust_mass, radius=self.radius, density=density(self.specific_gravity)
        )

    @classmethod
    def from_diameter(cls, diameter: float, **fields) -> "Kit":
        """Make a kit from the spindle's diameter, which is what a ruler measures."""
        check_ordinary(diameter=diameter)
        return cls(radius=diameter / 2, **fields)

    @property
    def specific_gravity(self) -> float:
        """Oven-dry mass over that of as much water: its wood's. [1]."""
        return wood(self.wood).specific_gravity

    @property
    def diameter(self) -> float:
        """Diameter of the spindle's tip, in metres."""
        return 2 * self.radius

    @property
    def dust(self) -> float:
        """Mass of dry dust worn off for one ember. [kg]."""
        if self.dust_mass is not None:
            return self.dust_mass
        return density(self.specific_gravity) * self.burn_in_depth * math.pi * self.radius**2

    def changed(self, **fields: Any) -> "Kit":
        """Make the same kit with some fields changed; what was given in grams stays in grams."""
        if "dust_mass" in fields or self.dust_mass is not None:
            fields = {"burn_in_depth": None, **fields}
        if fields.get("burn_in_depth") is not None:
            fields = {"dust_mass": None, **fields}
        return replace(self, **fields)


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
        store_floats(self)

    @classmethod
    def from_strokes(
        cls, *, stroke_length: float, strokes_per_minute: float, force: float = default("force")
    ) -> "Effort":
        """Make an effort from counted strokes; there and back are two."""
        check_ordinary(stroke_length=stroke_length, strokes_per_minute=strokes_per_minute)
        return cls(
            force=force,
            speed=float(bow_speed(stroke_length, strokes_per_minute=strokes_per_minute)),
        )


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
        Heat transfer coefficient of the turning spindle's side, radiation included. [W/(m^2 K)]

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
    film: float = default("spindle_film")

    def __post_init__(self):
        check_ordinary(
            temperature_ambient=self.temperature,
            relative_humidity=self.relative_humidity,
            spindle_film=self.film,
        )
        store_floats(self)


# Where a quantity of the table stands in a try.
_PLACES = {
    "diameter": ("kit", "diameter"),
    "friction": ("kit", "friction"),
    "burn_in_depth": ("kit", "burn_in_depth"),
    "dust_mass": ("kit", "dust"),
    "moisture": ("kit", "moisture"),
    "force": ("effort", "force"),
    "speed": ("effort", "speed"),
    "temperature_ambient": ("air", "temperature"),
    "specific_gravity": ("kit", "specific_gravity"),
    "axial_factor": ("kit", "axial_factor"),
}


@dataclass(frozen=True, init=False)
class Try:
    """One try: a kit, an effort and the air. What is left out is ordinary.

    Attributes
    ----------
    kit : Kit
        The kit.
    effort : Effort
        The effort.
    air : Air
        The air.

    Raises
    ------
    InputError
        If a part is something else.

    Examples
    --------
    >>> ordinary = Try()
    >>> thin = ordinary.changed(diameter=0.01, force=50.0)
    >>> thin.kit.radius, thin.effort.force, ordinary.effort.force
    (0.005, 50.0, 60.0)
    """

    kit: Kit
    effort: Effort
    air: Air

    def __init__(
        self, kit: Kit | None = None, effort: Effort | None = None, air: Air | None = None
    ):
        for (name, kind), part in zip(_PARTS.items(), (kit, effort, air), strict=True):
            made = kind() if part is None else part
            if not isinstance(made, kind):
                raise InputError(f"{name} is {part!r}; allowed: {kind.__name__}(...)")
            object.__setattr__(self, name, made)

    @property
    def power(self) -> float:
        """Heat made at the tip. [W]."""
        return friction_power(
            self.effort.force,
            friction=self.kit.friction,
            speed=self.effort.speed,
            contact=self.kit.contact,
            radius=self.kit.radius,
            cord_radius=self.kit.cord_radius,
        )

    def value(self, key: str) -> float:
        """Look up one quantity by its name in the table. [SI].

        Raises
        ------
        InputError
            If a try has no such quantity.
        """
        if not isinstance(key, str) or key not in _PLACES:
            raise InputError(f"a try has no {key!r}; allowed: {', '.join(sorted(_PLACES))}")
        part, name = _PLACES[key]
        return getattr(getattr(self, part), name)

    def values(self) -> dict[str, float]:
        """Return all quantities of the table that a try has, by name. [SI].

        Examples
        --------
        >>> Try().values()["force"]
        60.0
        """
        return {key: self.value(key) for key in _PLACES}

    def changed(self, **values: Any) -> "Try":
        """Make the same try with some quantities changed.

        Parameters
        ----------
        **values : float or str
            By name in the table, or by name of a part's own field, such as ``wood`` or
            ``contact``. [SI]

        Returns
        -------
        Try
            The changed try.

        Raises
        ------
        InputError
            If there is no such quantity, it is out of its range, or the same one is given by two
            names.
        """
        parts: dict[str, dict[str, Any]] = {name: {} for name in _PARTS}
        named: dict[tuple[str, str], str] = {}
        for key, value in values.items():
            part, field, value = _as_field(key, value)
            if named.setdefault((part, field), key) != key:
                raise InputError(
                    f"cannot change both {named[part, field]!r} and {key!r} of a try, which are"
                    f" the {part}'s {field}; allowed: one of them"
                )
            parts[part][field] = value
        return Try(
            self.kit.changed(**parts["kit"]),
            replace(self.effort, **parts["effort"]),
            replace(self.air, **parts["air"]),
        )


_PARTS = {"kit": Kit, "effort": Effort, "air": Air}


def _as_field(key, value):
    """Say which part's field a name stands for, and what value that field gets."""
    if key == "specific_gravity":
        raise InputError("specific gravity belongs to the wood: change the wood instead")
    if key == "diameter":
        check_ordinary(diameter=value)
        return "kit", "radius", value / 2
    if key in _PLACES and key != "dust_mass":  # which is read of every kit, and set in grams
        return *_PLACES[key], value
    return _part_with(key), key, value


def _part_with(name):
    """Name the part of a try that has a field of this name."""
    for part, kind in _PARTS.items():
        if name in {row.name for row in fields(kind)}:
            return part
    allowed = {row.name for kind in _PARTS.values() for row in fields(kind)} | set(_PLACES)
    allowed -= {"specific_gravity"}  # the wood's
    raise InputError(f"cannot change {name!r} of a try; allowed: {', '.join(sorted(allowed))}")
