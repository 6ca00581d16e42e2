"""What an ember falls on: the table of catchers and grounds, ``data/catchers.toml``.

Water is counted as heat capacity: what it takes to warm and boil it, shared out evenly over the
rise to glowing. For thick damp bodies the tests have the exact answer, a front at which it boils,
and say how far off sharing out is.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import NamedTuple

import numpy as np

from ..bands import Band
from ..constants import Constant, constant, constants_under
from ..data import table
from ..quantities import InputError, Numbers, check, check_ordinary, choose, store_floats
from .ember import Ember

AIR_GAP = "air gap"
PROPERTIES = ("conductivity", "density", "heat_capacity", "thickness", "water_content")
LOW, LIKELY, HIGH = range(3)


class Ends(NamedTuple):
    """Which end of its ranges each kind of property stands at: LOW, LIKELY or HIGH.

    Attributes
    ----------
    leading : int
        Of what leads heat through the catcher.
    thickness : int
        Of its thickness.
    holding : int
        Of what holds heat, or leads it away below. It draws more from the ember, but keeps the far
        face cool for longer, so it may stand at an end of its own.
    """

    leading: int = LIKELY
    thickness: int = LIKELY
    holding: int = LIKELY


LIKELY_ENDS = Ends()


@dataclass(frozen=True, kw_only=True)
class Catcher:
    """Something an ember may fall on.

    Attributes
    ----------
    name : str
        What a reader calls it.
    conductivity : float
        Thermal conductivity, while hot on the ember's side. [W/(m K)]
    density : float
        Dry mass over volume. [kg/m^3]
    heat_capacity : float
        Heat capacity of the dry part. [J/(kg K)]
    thickness : float
        Thickness. [m]
    water_content : float
        Water in a volume. [kg/m^3]
    temperature_scorch : float or None
        Where its far face browns and weakens; none for metal, earth and stone. [K]
    ranges : mapping of str to (low, high)
        How far each property may be off, for the bands; none is taken as exact.

    Raises
    ------
    InputError
        If a property cannot be, or lies outside its own range.

    Examples
    --------
    >>> slate = Catcher(name="roof slate", conductivity=2.2, density=2400.0,
    ...                 heat_capacity=1000.0, thickness=0.005,
    ...                 ranges={"thickness": (0.004, 0.008)})
    >>> slate.spread("thickness")
    Band(low=0.004, likely=0.005, high=0.008)
    """

    name: str
    conductivity: float
    density: float
    heat_capacity: float
    thickness: float
    water_content: float = 0.0
    temperature_scorch: float | None = None
    ranges: Mapping[str, tuple[float, float]] = field(default_factory=dict, hash=False)

    def __post_init__(self):
        for key in PROPERTIES:
            check_ordinary(**{_quantity_key(key): getattr(self, key)})
        if self.temperature_scorch is not None:
            check_ordinary(temperature_scorch=self.temperature_scorch)
        if not isinstance(self.name, str):
            raise InputError(f"name of a catcher is {self.name!r}; allowed: words")
        for key, ends in self.ranges.items():
            self._check_range(key, ends)
        store_floats(self)

    def _check_range(self, key, ends):
        value = getattr(self, key) if key in (*PROPERTIES, "temperature_scorch") else None
        if value is None:
            raise InputError(f"{self.name} has no {key} to give a range for")
        ends = check(**{key: ends})
        if np.shape(ends) != (2,):
            raise InputError(f"{self.name}: range of {key} is {ends}; allowed: two ends")
        low, high = ends
        if not low <= value <= high:
            raise InputError(
                f"{self.name}: {key} is {value:g}, outside its own range {low:g} to {high:g}"
            )

    def spread(self, key: str) -> Band[float]:
        """Low, likely and high of one property."""
        value = getattr(self, key)
        low, high = self.ranges.get(key, (value, value))
        return Band(low, value, high)


def _quantity_key(key):
    """Key of the property in the table of quantities that holds its ordinary range."""
    return f"catcher_{key}" if key != "water_content" else key


@cache
def catchers() -> Mapping[str, Catcher]:
    """Return the table of catchers, by key."""
    named = {key: entry["name"] for key, entry in table("catchers")["catchers"].items()}
    return {key: _catcher(name, constants_under(f"catchers.{key}")) for key, name in named.items()}


def _catcher(name: str, rows: Mapping[str, Constant]) -> Catcher:
    values = {key: row.value for key, row in rows.items()}
    return Catcher(name=name, ranges={key: row.band.ends for key, row in rows.items()}, **values)


def catcher(key: str) -> Catcher:
    """Look up one catcher by its key.

    Parameters
    ----------
    key : str
        A key of :func:`catchers`.

    Returns
    -------
    Catcher
        The row of the table.

    Raises
    ------
    InputError
        If the table has no such catcher; the message lists those it has.

    References
    ----------
    .. [1] ``data/catchers.toml``, a source on every value.

    Examples
    --------
    >>> catcher("leather").thickness
    0.002
    """
    return catchers()[choose("catcher", key, catchers())]


def grounds() -> tuple[str, ...]:
    """Name what may lie under a sheet: an air gap first."""
    return AIR_GAP, *table("catchers")["grounds"]


def ground_row(name: str, tier: int) -> tuple[Numbers, Numbers]:
    """Conductivity and heat capacity of the ground; none for the air gap."""
    if choose("ground", name, grounds()) == AIR_GAP:
        return 0.0, 0.0
    conductivity, capacity = _ground_bands(name)
    return conductivity[tier], capacity[tier]


@cache
def _ground_bands(name):
    row = constants_under(f"grounds.{name}")
    return row["conductivity"].band, row["volumetric_heat_capacity"].band


def wet_capacity(capacity: float, water: float, ember: Ember) -> float:
    """Heat capacity of a volume, with warming and boiling its water shared over the rise."""
    warming = constant("water_heat_capacity") * (
        constant("water_boiling_point") - ember.temperature_ambient
    )
    return capacity + water * (warming + constant("water_latent_heat")) / ember.rise


def as_catcher(one: Catcher | str) -> Catcher:
    """Return the catcher itself, or the row of the table that a key names."""
    return one if isinstance(one, Catcher) else catcher(one)
