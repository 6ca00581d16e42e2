"""A try in the numbers that the march needs, as it is set or off from that.

What nobody knows exactly (``data/spread.toml``) makes a case differ from what is set: by a factor,
or by something added. What is not named is as it is set.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields

import numpy as np

from .heat.contact import Contact, side_film
from .heat.material import Material
from .heat.shadow import quick_ember, quick_smoke
from .heat.warming import warm_up
from .heat.wearing import Path, wearing, wearing_with_path
from .kit.bowing import area_factor, friction_power
from .kit.kit import Kit, Try
from .kit.tip import worn_depth
from .kit.wood import EnergyParts, HotWood, density, energy_parts, hot_properties
from .quantities import InputError, Numbers, check, check_ordinary, default
from .unknowns import unknown

_WATTS = ("hot_friction", "tip_shape", "creep")  # each only multiplies the watts


@dataclass(frozen=True)
class Case:
    """A try, or many side by side, in the numbers that the march needs.

    Attributes
    ----------
    power : float or ndarray
        Heat made in the contact. [W]
    radius : float or ndarray
        Of the contact. [m]
    depth : float or ndarray
        Worn off spindle and board, together, for one ember. [m]
    dry_energy, water_energy : float or ndarray
        What one ember's dust takes, and its water. [J]
    smoke_rise, rise : float or ndarray
        First smoke's temperature, and the dust's, above the air's. [K]
    spindle_share : float or ndarray
        How much of the depth is the spindle's. [1]
    wear, luck : float or ndarray
        Factors on the time beyond the bound, and on all times. [1]
    contact : Contact
        Spindle and board.
    """

    power: Numbers
    radius: Numbers
    depth: Numbers
    dry_energy: Numbers
    water_energy: Numbers
    smoke_rise: Numbers
    rise: Numbers
    spindle_share: Numbers
    wear: Numbers
    luck: Numbers
    contact: Contact

    @property
    def energy(self):
        """What one ember's dust takes, water and all, in joules."""
        return self.dry_energy + self.water_energy

    @property
    def bound(self):
        """Least time, from energy alone, in seconds; infinite where no heat is made."""
        with np.errstate(divide="ignore"):
            return self.energy / self.power * self.luck

    @property
    def smoke(self):
        """Time of first steady smoke, in seconds; infinite if never."""
        return warm_up(self.contact, power=self.power, rise=self.smoke_rise) * self.luck

    @property
    def march(self) -> dict[str, Numbers]:
        """What :mod:`fireheat.heat.wearing` asks besides the contact, by name."""
        names = ("power", "rise", "energy", "depth", "spindle_share")
        return {name: getattr(self, name) for name in names}

    @property
    def ember(self):
        """Time of the ember, in seconds; infinite if never."""
        return self._worn(wearing(self.contact, **self.march).ember)

    def followed(self, which: int) -> tuple[np.ndarray, Path | None]:
        """March as ``ember`` does, and keep the way of one case.

        Parameters
        ----------
        which : int
            Its number, all counted in a row.

        Returns
        -------
        ember : ndarray
            As the attribute. [s]
        path : Path or None
            Its way, see :func:`fireheat.heat.wearing.wearing_with_path`.
        """
        wear, path = wearing_with_path(self.contact, **self.march, which=which)
        return self._worn(wear.ember), path

    def quick(self) -> tuple[np.ndarray, np.ndarray]:
        """Smoke and ember by the shadow of the march: some per mille off, and much quicker.

        Returns
        -------
        smoke, ember : ndarray
            As the attributes of these names, see :mod:`fireheat.heat.shadow`. [s]
        """
        smoke = quick_smoke(self.contact, power=self.power, rise=self.smoke_rise) * self.luck
        return smoke, np.maximum(self._worn(quick_ember(self.contact, **self.march)), smoke)

    def _worn(self, time):
        """Add to the march what it leaves out, and luck."""
        time = time * self.luck
        with np.errstate(invalid="ignore"):  # where there is neither
            later = self.bound + self.wear * (time - self.bound)
        return np.where(np.isfinite(time), later, np.inf)


_NUMBERS = [row.name for row in fields(Case) if row.name != "contact"]


def case(state: Try, *, swept: Mapping = {}, off: Mapping = {}) -> Case:
    """Turn a try into a case, some of its quantities swept, some values off from what is set.

    Parameters
    ----------
    state : Try
        The try.
    swept : mapping of str to float or ndarray
        Quantities to use instead, of those in :meth:`fireheat.kit.kit.Try.values`. [SI]
    off : mapping of str to float or ndarray
        How far rows of ``data/spread.toml`` are off, as a factor or as what is added; arrays
        broadcast with those swept. [SI]

    Returns
    -------
    Case
        The numbers, broadcast.

    Raises
    ------
    InputError
        If a name is none of those, or a quantity is out of its range.

    References
    ----------
    .. [1] :func:`fireheat.kit.bowing.friction_power`, :func:`fireheat.kit.wood.hot_properties`,
       :func:`fireheat.kit.wood.energy_parts`, :class:`fireheat.heat.contact.Contact`.

    Examples
    --------
    Wood that conducts better takes longer:

    >>> made = case(Try(), off={"conductivity": np.array([0.8, 1.0, 1.5])})
    >>> made.ember.round()
    array([48., 56., 83.])
    """
    now = _values(state, swept)
    off = _deviations(off)
    for key in set(off) & set(now):
        now[key] = unknown(key).moved(now[key], off[key])
    kit, radius = state.kit, np.divide(now["diameter"], 2)
    now["specific_gravity"] = now["specific_gravity"] * off.get("density", 1.0)
    if "dust_mass" in swept or (kit.dust_mass is not None and "burn_in_depth" not in swept):
        dry = density(now["specific_gravity"])
        now["burn_in_depth"] = worn_depth(now["dust_mass"], radius=radius, density=dry)
    power = friction_power(
        now["force"],
        friction=now["friction"],
        speed=now["speed"],
        contact=kit.contact,
        radius=radius,
        cord_radius=kit.cord_radius,
    )
    for key in _WATTS:
        power = power * off.get(key, 1.0)
    smoke, char = (
        default(key) + off.get(key, 0.0) for key in ("temperature_smoke", "temperature_char")
    )
    char = np.maximum(char, smoke)
    hot, parts = _hot_wood_and_energy(now, char, off)
    area, ambient = np.pi * radius**2, now["temperature_ambient"]
    wider = off.get("area", 1.0) * area_factor(kit.contact)
    numbers = np.broadcast_arrays(
        power,
        radius * np.sqrt(wider),
        now["burn_in_depth"] / wider,  # as much wood is worn off, from more of a face
        parts.wood * area,
        parts.water * area,
        smoke - ambient,
        char - ambient,
        default("spindle_share") + off.get("spindle_share", 0.0),
        off.get("wear", 1.0),
        off.get("luck", 1.0),
        hot.conductivity_along,
        off.get("conductivity", 1.0),
        state.air.film * off.get("film", 1.0),
    )
    return Case(**dict(zip(_NUMBERS, numbers, strict=False)), contact=_contact(kit, hot, numbers))


def _values(state, swept):
    now = state.values()
    unknown = set(swept) - set(now)
    if unknown:
        raise InputError(f"cannot sweep {sorted(unknown)}; allowed: {sorted(now)}")
    for key, value in swept.items():
        now[key] = check(**{key: value})
        if isinstance(now[key], float):  # a sweep may go to the ends of the world
            check_ordinary(**{key: now[key]})
    return now


def _deviations(off):
    return {unknown(key).key: np.asarray(value, dtype=float) for key, value in off.items()}


def _hot_wood_and_energy(now, char, off) -> tuple[HotWood, EnergyParts]:
    """Return the hot wood of a try, and the energy that its dust takes."""
    ambient = now["temperature_ambient"]
    hot = hot_properties(
        now["specific_gravity"],
        moisture=now["moisture"],
        temperature=np.add(ambient, char) / 2,
        axial_factor=now["axial_factor"] * off.get("grain", 1.0),
    )
    parts = energy_parts(
        now["burn_in_depth"],
        density=hot.density,
        moisture=now["moisture"],
        temperature_ambient=ambient,
        temperature_char=char,
    )
    more = off.get("energy", 1.0)
    return hot, EnergyParts(parts.wood * more, parts.water * more)


def _contact(kit: Kit, hot, numbers):
    """Put spindle and board together. Hot wood holds no more heat than its own dust leaves with."""
    _, radius, depth, dry, water, _, rise, *_, conducting, film = numbers
    held = (dry + water) / (rise * depth * np.pi * radius**2)
    capacity = np.minimum(hot.volumetric_heat_capacity, held)
    across, along = hot.conductivity * conducting, hot.conductivity_along * conducting
    return Contact(
        radius=radius,
        length=kit.spindle_length,
        film=side_film(film, radius=radius, conductivity=across),
        spindle=Material(across, along, capacity),
        # of the two ways sideways, one runs along the grain of the board
        board=Material(np.sqrt(across * along), across, capacity),
    )
