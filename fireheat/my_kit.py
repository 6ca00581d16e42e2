"""My kit: what somebody measured of their own, each reading with how far off it may be.

It knows no names of people. :meth:`MyKit.state` puts
it into a try, and :attr:`MyKit.measured` tells :mod:`fireheat.spread` how well each part is known,
so that what was measured takes the place of what was guessed.

A bow's pull and the time of first smoke do not read the friction, but what makes the watts of it:
the *grip*, pull at the tip over downward force, which is friction, shape of the tip and radii in
one. The newest reading of the friction or the grip takes the place of the others, and so does the
newest of the dust, by depth or by mass.
"""

import math
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, fields, replace
from typing import Any

from .kit.bowing import friction_power
from .kit.kit import Try
from .kit.wood import my_wood
from .person.measuring import NINE_OF_TEN, Measured
from .quantities import InputError, check_ordinary, choose

# Of these the newest reading stands: each tells what the others do.
_INSTEAD = (("friction", "grip", "hot_grip"), ("burn_in_depth", "dust_mass"))
# The gauge of draws that a reading is, and what it tells besides the friction.
GAUGE_READINGS = {"grip": ("pull", ("force",)), "hot_grip": ("power", ("force", "speed"))}
# How well somebody measures: so many times as far off as a good reading.
CARE = {1.0: "with care", 2.0: "so-so", 4.0: "roughly"}
MOST_OFF = 0.99  # share of a value that it may be off: draws take less than one


@dataclass(frozen=True, kw_only=True, repr=False)
class MyKit:
    """What was measured; what was not is None.

    Attributes
    ----------
    friction : Measured or None
        By a ramp: cold and slow. [1]
    grip : Measured or None
        By a bow pulled slowly through a scale: pull at the tip over downward force. [1]
    hot_grip : Measured or None
        The same of hot wood at full speed: watts at first smoke over force and speed. [1]
    force : Measured or None
        By a bathroom scale. [N]
    speed : Measured or None
        By taps and a tape. [m/s]
    diameter : Measured or None
        By a ruler. [m]
    burn_in_depth : Measured or None
        By a ruler, before and after. [m]
    dust_mass : Measured or None
        By a kitchen scale. [kg]
    moisture : Measured or None
        By a meter, or by weighing before and after drying. [1]
    specific_gravity : Measured or None
        By a kitchen scale and a ruler; with it the wood of a try is my wood. [1]

    Raises
    ------
    InputError
        If a reading is no :class:`fireheat.person.measuring.Measured`, is not what an ordinary kit
        can have, or tells what another one does.

    Examples
    --------
    >>> mine = MyKit(friction=Measured(0.33, 0.01), diameter=Measured(0.02, 0.0003))
    >>> mine.state(Try()).kit.friction, {key: round(off, 3) for key, off in mine.measured.items()}
    (0.33, {'friction': 0.05, 'diameter': 0.025})
    """

    friction: Measured | None = None
    grip: Measured | None = None
    hot_grip: Measured | None = None
    force: Measured | None = None
    speed: Measured | None = None
    diameter: Measured | None = None
    burn_in_depth: Measured | None = None
    dust_mass: Measured | None = None
    moisture: Measured | None = None
    specific_gravity: Measured | None = None

    def __post_init__(self):
        for key, reading in self.readings.items():
            if not isinstance(reading, Measured):
                raise InputError(f"{key} of my kit is {reading!r}; allowed: Measured(...)")
            if not all(_amount(number) for number in vars(reading).values()):
                raise InputError(f"{key} of my kit is {reading!r}; allowed: finite, 0 or more")
            if key not in GAUGE_READINGS:
                check_ordinary(**{key: reading.value})
        for alike in _INSTEAD:
            if len(both := [key for key in alike if key in self.readings]) > 1:
                raise InputError(f"my kit has {both}; allowed: one of them, each tells the others")

    @property
    def readings(self) -> Mapping[str, Measured]:
        """What was measured, by name."""
        given = {row.name: getattr(self, row.name) for row in fields(self)}
        return {key: reading for key, reading in given.items() if reading is not None}

    def __bool__(self):
        return bool(self.readings)

    @property
    def numbers(self) -> dict[str, list[float]]:
        """Value and standard uncertainty of each reading, by name, as a file holds them. [SI]."""
        return {key: [one.value, one.error] for key, one in self.readings.items()}

    @classmethod
    def read(cls, numbers: Mapping[str, Any]) -> "MyKit":
        """Make a kit of what was written of one; what cannot be a reading is left out.

        Parameters
        ----------
        numbers : mapping
            As of :attr:`numbers`, by whatever hand. [SI]

        Returns
        -------
        MyKit
            The kit.

        Examples
        --------
        >>> MyKit.read({"diameter": [0.016, 0.0003], "force": ["much", 1.0], "age": [12, 0]})
        MyKit(diameter=Measured(value=0.016, error=0.0003))
        """
        made = cls()
        for key, pair in numbers.items():
            with suppress(ValueError, TypeError):
                value, error = (float(number) for number in pair)
                made = made.put(**{key: Measured(value, error)})
        return made

    def __repr__(self):
        inside = ", ".join(f"{key}={reading!r}" for key, reading in self.readings.items())
        return f"MyKit({inside})"

    def put(self, **readings: Measured) -> "MyKit":
        """Make the same kit with more that was measured; the newest reading stands.

        Parameters
        ----------
        **readings : Measured
            By name. [SI]

        Returns
        -------
        MyKit
            The fuller kit.

        Raises
        ------
        InputError
            If there is no such reading, or it cannot be.

        Examples
        --------
        >>> mine = MyKit(friction=Measured(0.33, 0.01)).put(grip=Measured(0.17, 0.01))
        >>> sorted(mine.readings)
        ['grip']
        """
        self._check_names(readings)
        old = {key for alike in _INSTEAD if set(alike) & set(readings) for key in alike}
        return replace(self, **dict.fromkeys(old) | readings)

    def without(self, *names: str) -> "MyKit":
        """Make the same kit with some of its readings forgotten.

        Raises
        ------
        InputError
            If there is no such reading.
        """
        self._check_names(names)
        return replace(self, **dict.fromkeys(names))

    def _check_names(self, names):
        allowed = [row.name for row in fields(self)]
        if strange := sorted(set(names) - set(allowed)):
            raise InputError(f"my kit has no {strange}; allowed: {', '.join(allowed)}")

    def state(self, start: Try) -> Try:
        """Put what was measured into a try; all else stays as it is there.

        Parameters
        ----------
        start : Try
            The try.

        Returns
        -------
        Try
            The same with my kit in it.

        Raises
        ------
        InputError
            If that is no try.

        Examples
        --------
        >>> MyKit(grip=Measured(0.175, 0.01)).state(Try()).kit.friction
        0.35
        """
        if not isinstance(start, Try):
            raise InputError(f"start is {start!r}; allowed: a Try")
        plain: dict[str, Any] = {
            key: one.value for key, one in self.readings.items() if key not in GAUGE_READINGS
        }
        if "specific_gravity" in plain:
            plain["wood"] = my_wood(plain.pop("specific_gravity"))
        made = start.changed(**plain)
        for key in set(GAUGE_READINGS) & set(self.readings):
            made = made.changed(friction=self.readings[key].value / _grip_of_one(made))
        return made

    @property
    def measured(self) -> dict[str, float]:
        """How well each is known, for draws: nine of ten such readings are no further off.

        As a share of the value, by row of ``data/spread.toml`` or by name of a gauge. [1]
        """
        told = {"specific_gravity": "density"}
        for key in set(GAUGE_READINGS) & set(self.readings):
            gauge, besides = GAUGE_READINGS[key]
            told |= {key: gauge} | dict.fromkeys(besides, "")
        return {
            told.get(key, key): _share(one)
            for key, one in self.readings.items()
            if told.get(key, key)
        }

    @property
    def keys(self) -> tuple[str, ...]:
        """Which quantities of a try it sets, as controls have them."""
        return tuple(dict.fromkeys(map(shown_as, self.readings)))


def shown_as(key: str) -> str:
    """Name the control on which a reading shows.

    Parameters
    ----------
    key : str
        A reading of :class:`MyKit`.

    Returns
    -------
    str
        A quantity of a try, or ``"wood"``.

    Raises
    ------
    InputError
        If there is no such reading.

    Examples
    --------
    >>> shown_as("grip"), shown_as("specific_gravity"), shown_as("force")
    ('friction', 'wood', 'force')
    """
    choose("key of a reading", key, [row.name for row in fields(MyKit)])
    return "friction" if key in GAUGE_READINGS else {"specific_gravity": "wood"}.get(key, key)


def _amount(number):
    """Tell whether a number can be a value, or how far it may be off."""
    return isinstance(number, int | float) and 0 <= number < math.inf


def _grip_of_one(state):
    """Tell the pull at the tip for each newton of force, if the friction were one."""
    kit = state.kit
    return friction_power(
        1.0,
        friction=1.0,
        speed=1.0,
        contact=kit.contact,
        radius=kit.radius,
        cord_radius=kit.cord_radius,
    )


def _share(reading):
    """Tell how far off nine of ten such readings are at most, as a share."""
    return min(NINE_OF_TEN * reading.error / reading.value, MOST_OFF) if reading.value else 0.0
