"""Wood: how it stores, carries and swallows heat, the water in it included.

The formulas are those of the *Wood Handbook* of the USDA Forest Products Laboratory, chapter 4;
their constants are in ``data/constants.toml``, the woods in ``data/woods.toml``. Specific gravity
is oven-dry mass over the mass of as much water as the wood is big, as it stands; moisture is mass
of water over oven-dry mass, a fraction: 0.12, not 12.

Handbook values are for cold wood. Under a spindle it is hot, so :func:`hot_properties` takes them
at a middle temperature, and carries a band from cold wood to what ignition tests see.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from ..constants import constant
from ..data import table
from ..heat.material import thermal_diffusivity, thermal_effusivity
from ..quantities import (
    InputError,
    Numbers,
    check,
    check_kelvin,
    check_ordinary,
    choose,
    default,
    from_si,
    quantity,
)
from .moisture import heat_of_sorption

# ---- the woods ------------------------------------------------------------------------------


REGIONS: Mapping[str, str] = {
    "north_america": "North America",
    "europe": "Europe",
    "asia": "Asia",
    "africa": "Africa",
    "south_america": "South America",
    "pacific": "Australia and Pacific",
}


@dataclass(frozen=True, kw_only=True)
class Wood:
    """One kind of wood, or a piece that somebody weighed.

    Attributes
    ----------
    key, name, latin : str
        The name used in code, the words a reader sees, and the species.
    kind : str
        ``"softwood"`` (from a conifer) or ``"hardwood"``; it says nothing of hardness.
    specific_gravity : float
        Average, at 12 % moisture; of a piece that was weighed its own. [1]
    regions : tuple of str
        Where it grows wild or is widely planted: keys of ``REGIONS``.
    caution : str
        What somebody who picks it should know; mostly empty.
    source, status : str
        Where the value comes from.

    Raises
    ------
    InputError
        If no wood is so light or so heavy, or there is no such region.
    """

    key: str
    name: str
    latin: str = ""
    kind: str = ""
    specific_gravity: float
    regions: tuple[str, ...] = ()
    caution: str = ""
    source: str
    status: str

    def __post_init__(self):
        check_ordinary(specific_gravity=self.specific_gravity)
        if not isinstance(self.regions, tuple):
            raise InputError(f"regions of {self.name} are {self.regions!r}; allowed: a tuple")
        for region in self.regions:
            choose("region", region, REGIONS)


@cache
def woods() -> Mapping[str, Wood]:
    """Return the table of woods, by key."""
    return {key: _read(key, dict(entry)) for key, entry in table("woods").items()}


def _read(key, entry):
    """Make a wood of a row; from what was weighed with its water the water is taken off."""
    if "air_dry_density" in entry:
        entry["specific_gravity"] = specific_gravity_of(
            entry.pop("air_dry_density"), moisture=constant("air_dry_moisture")
        )
    return Wood(key=key, **entry | {"regions": tuple(entry["regions"])})


def wood(key: "str | Wood" = "western_redcedar") -> Wood:
    """Look up one wood by its key.

    Parameters
    ----------
    key : str or Wood
        A key of :func:`woods`; a wood, such as :func:`my_wood`, is returned as it is.

    Returns
    -------
    Wood
        The row of the table.

    Raises
    ------
    InputError
        If the table has no such wood; the message lists those it has.

    References
    ----------
    .. [1] ``data/woods.toml``; each row tells its own source.

    Examples
    --------
    >>> wood("eastern_cottonwood").specific_gravity
    0.4
    """
    return key if isinstance(key, Wood) else woods()[choose("wood", key, woods())]


def my_wood(specific_gravity: float) -> Wood:
    """Make a wood of what somebody weighed.

    Parameters
    ----------
    specific_gravity : float
        As :func:`fireheat.person.measuring.weighed_gravity` finds it. [1]

    Returns
    -------
    Wood
        Named "my wood", of no species.

    Raises
    ------
    InputError
        If no wood is so light or so heavy.

    References
    ----------
    .. [1] Whoever weighed it.

    Examples
    --------
    >>> my_wood(0.41).name
    'my wood'
    """
    return Wood(
        key="my_wood",
        name="my wood",
        specific_gravity=specific_gravity,
        source="weighed by whoever uses it",
        status="measured",
    )


def specific_gravity_of(air_dry_density: Numbers, *, moisture: Numbers) -> Numbers:
    r"""Specific gravity of wood that was weighed with its water.

    .. math:: G = \frac{\rho}{\rho_w (1 + M)}

    Parameters
    ----------
    air_dry_density : float or ndarray
        Mass over volume as the wood stands, its water counted. [kg/m^3]
    moisture : float or ndarray
        Mass of water over oven-dry mass. [1]

    Returns
    -------
    float or ndarray
        Oven-dry mass over the mass of as much water, as the wood stands. [1]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Both volumes are at this moisture, as the equation for conductivity asks. Between oven-dry and
    12 % wood swells by some 4 % of its volume, which is left out where moisture is moved.

    References
    ----------
    .. [1] USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, ch. 4, density, and
       table 4-6. (from memory)

    Examples
    --------
    A table has 405 kg/m^3 at 12 % for spruce:

    >>> round(specific_gravity_of(405.0, moisture=0.12), 3)
    0.362
    """
    air_dry_density, moisture = check(air_dry_density=air_dry_density, moisture=moisture)
    return air_dry_density / (constant("water_density") * (1 + moisture))


# ---- carrying heat ----------------------------------------------------------------------------


def conductivity(
    specific_gravity: Numbers, *, moisture: Numbers, temperature: Numbers = None
) -> Numbers:
    r"""Thermal conductivity of wood across the grain.

    .. math:: k = [G (B + C x) + A] \, [1 + w (T - T_{ref})], \quad x = 100 M

    Parameters
    ----------
    specific_gravity : float or ndarray
        Oven-dry mass over the mass of as much water, as the wood stands. [1]
    moisture : float or ndarray
        Mass of water over oven-dry mass, at most 0.25. [1]
    temperature : float or ndarray, optional
        Temperature of the wood; 24 degC, where the handbook's equation holds, if left out. [K]

    Returns
    -------
    float or ndarray
        Conductivity, broadcast over the arguments. [W/(m K)]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    For a specific gravity above 0.3; a single board may be a fifth off. Wood carries 2 to 3 % more
    for each 10 degC; the middle of that is taken, and taken beyond the near-room temperatures it
    was measured at.

    References
    ----------
    .. [1] USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, eq. 4-15 and the text
       below it.

    Examples
    --------
    >>> round(conductivity(0.38, moisture=0.12), 4)
    0.1109
    """
    specific_gravity, moisture = check(specific_gravity=specific_gravity, moisture=moisture)
    slope = constant("conductivity_b") + constant("conductivity_c") * from_si(moisture, "%")
    cold = specific_gravity * slope + constant("conductivity_a")
    return cold if temperature is None else cold * _warm_over_cold(temperature)


def _warm_over_cold(temperature):
    """Conductivity over that at the handbook's temperature."""
    temperature = check_kelvin("temperature", temperature, _coldest())
    rise = temperature - constant("conductivity_temperature")
    return 1 + constant("conductivity_warming") * rise


def _coldest():
    """Coldest temperature that is not taken for degrees Celsius."""
    return quantity("temperature").low


def conductivity_along(
    specific_gravity: Numbers,
    *,
    moisture: Numbers,
    temperature: Numbers = None,
    axial_factor: Numbers = None,
) -> Numbers:
    r"""Thermal conductivity of wood along the grain, as in a spindle.

    .. math:: k_a = f k

    Parameters
    ----------
    specific_gravity : float or ndarray
        Oven-dry mass over the mass of as much water, as the wood stands. [1]
    moisture : float or ndarray
        Mass of water over oven-dry mass, at most 0.25. [1]
    temperature : float or ndarray, optional
        Temperature of the wood, see :func:`conductivity`. [K]
    axial_factor : float or ndarray, optional
        Along over across; the published mean 1.8 (range 1.5 to 2.8) if left out. [1]

    Returns
    -------
    float or ndarray
        Conductivity, broadcast over the arguments. [W/(m K)]

    Raises
    ------
    InputError
        If a value is out of its range.

    References
    ----------
    .. [1] USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, ch. 4, thermal
       conductivity.

    Examples
    --------
    >>> round(conductivity_along(0.38, moisture=0.12), 4)
    0.1997
    """
    across = conductivity(specific_gravity, moisture=moisture, temperature=temperature)
    return _along_over_across(axial_factor) * across


def _along_over_across(axial_factor):
    """Check the ratio of the two conductivities; the published mean if not given."""
    return check(axial_factor=default("axial_factor") if axial_factor is None else axial_factor)


# ---- storing heat -----------------------------------------------------------------------------


def density(specific_gravity: Numbers) -> Numbers:
    r"""Oven-dry density: dry mass in a volume of wood as it stands.

    .. math:: \rho_0 = G \rho_w

    Parameters
    ----------
    specific_gravity : float or ndarray
        Oven-dry mass over the mass of as much water, as the wood stands. [1]

    Returns
    -------
    float or ndarray
        Oven-dry mass over volume; the water in the wood comes on top. [kg/m^3]

    Raises
    ------
    InputError
        If the specific gravity is not positive.

    References
    ----------
    .. [1] USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, ch. 4, specific
       gravity. (from memory)

    Examples
    --------
    >>> density(0.32)
    320.0
    """
    return check(specific_gravity=specific_gravity) * constant("water_density")


def heat_capacity(temperature: Numbers, *, moisture: Numbers = 0.0) -> Numbers:
    r"""Heat capacity of a mass of wood, water included.

    .. math::

        c = \frac{c_0 + x c_w/100}{1 + x/100} + x (b_1 + b_2 T + b_3 x), \quad c_0 = a_0 + a_1 T

    Parameters
    ----------
    temperature : float or ndarray
        Temperature of the wood. [K]
    moisture : float or ndarray, optional
        Mass of water over oven-dry mass, at most 0.25; oven-dry if left out. [1]

    Returns
    -------
    float or ndarray
        Heat capacity, broadcast over the arguments. [J/(kg K)]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Holds from about 7 to 147 degC. Hotter than that it is extrapolated, not refused: real wood then
    begins to break down, and its water has boiled off. The last term, for the bond between wood
    and water, grows without end.

    References
    ----------
    .. [1] USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, eqs. 4-16a to 4-18.

    Examples
    --------
    >>> round(heat_capacity(340.0, moisture=0.12), 1)
    1914.6
    """
    temperature = check_kelvin("temperature", temperature, _coldest())
    moisture = check(moisture=moisture)
    mixed = _dry_heat_capacity(temperature) + moisture * constant("water_heat_capacity")
    b1, b2, b3 = constant("heat_capacity_bond")
    percent = from_si(moisture, "%")
    return mixed / (1 + moisture) + percent * (b1 + b2 * temperature + b3 * percent)


def _dry_heat_capacity(temperature):
    """Heat capacity of a mass of oven-dry wood."""
    a0, a1 = constant("heat_capacity_dry")
    return a0 + a1 * temperature


def volumetric_heat_capacity(
    density: Numbers, *, heat_capacity: Numbers, moisture: Numbers = 0.0
) -> Numbers:
    r"""Heat capacity of a volume of wood, water included.

    .. math:: \rho c = \rho_0 (1 + M) c

    Parameters
    ----------
    density : float or ndarray
        Oven-dry density. [kg/m^3]
    heat_capacity : float or ndarray
        Heat capacity of a mass of this wood, at this moisture. [J/(kg K)]
    moisture : float or ndarray, optional
        Mass of water over oven-dry mass. [1]

    Returns
    -------
    float or ndarray
        Heat capacity of a volume, broadcast over the arguments. [J/(m^3 K)]

    Raises
    ------
    InputError
        If a value is out of its range.

    References
    ----------
    .. [1] Mass times heat capacity; moisture as counted in the Wood Handbook.

    Examples
    --------
    >>> volumetric_heat_capacity(400.0, heat_capacity=1500.0, moisture=0.25)
    750000.0
    """
    density, heat_capacity, moisture = check(
        density=density, heat_capacity=heat_capacity, moisture=moisture
    )
    return density * (1 + moisture) * heat_capacity


# ---- wood under a hot spindle -----------------------------------------------------------------


@dataclass(frozen=True)
class HotWood:
    """Properties of wood at one middle temperature; each a float or an array.

    Attributes
    ----------
    conductivity, conductivity_along : float or ndarray
        Across and along the grain. [W/(m K)]
    density : float or ndarray
        Oven-dry density. [kg/m^3]
    volumetric_heat_capacity : float or ndarray
        Heat capacity of a volume, water included. [J/(m^3 K)]
    """

    conductivity: float
    conductivity_along: float
    density: float
    volumetric_heat_capacity: float

    @property
    def effusivity(self):
        """Effusivity where heat flows across the grain, in J/(m^2 K s^0.5)."""
        return thermal_effusivity(
            self.conductivity, volumetric_heat_capacity=self.volumetric_heat_capacity
        )

    @property
    def effusivity_along(self):
        """Effusivity of end grain, in J/(m^2 K s^0.5)."""
        return thermal_effusivity(
            self.conductivity_along, volumetric_heat_capacity=self.volumetric_heat_capacity
        )

    @property
    def diffusivity(self):
        """Diffusivity across the grain, in m^2/s."""
        return thermal_diffusivity(
            self.conductivity, volumetric_heat_capacity=self.volumetric_heat_capacity
        )


def hot_properties(
    specific_gravity: Numbers,
    *,
    moisture: Numbers,
    temperature: Numbers,
    axial_factor: Numbers = None,
) -> HotWood:
    """Properties of wood at one temperature.

    Parameters
    ----------
    specific_gravity : float or ndarray
        Oven-dry mass over the mass of as much water, as the wood stands. [1]
    moisture : float or ndarray
        Mass of water over oven-dry mass, at most 0.25. [1]
    temperature : float or ndarray
        Middle of the temperatures the wood goes through, air to charring. [K]
    axial_factor : float or ndarray, optional
        Conductivity along over across the grain, see :func:`conductivity_along`. [1]

    Returns
    -------
    HotWood
        The properties, broadcast over the arguments.

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    One value stands for a range of temperatures, and above about 147 degC it is extrapolated. The
    wood is taken to keep its water: boiling it off would swallow more heat than this. What ignition
    tests see is about twice the thermal inertia that comes of it. How far one piece of wood may be
    off, and why not so far, says ``data/spread.toml``.

    References
    ----------
    .. [1] USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, ch. 4.
    .. [2] Quintiere & Harkleroad, thermal inertia of plywood, reprinted in Quintiere, Fundamentals
       of Fire Phenomena.

    Examples
    --------
    >>> hot = hot_properties(0.32, moisture=0.09, temperature=433.15)
    >>> round(hot.effusivity), round(hot.effusivity_along)
    (317, 426)
    """
    k = conductivity(specific_gravity, moisture=moisture, temperature=temperature)
    return HotWood(
        conductivity=k,
        conductivity_along=_along_over_across(axial_factor) * k,
        density=density(specific_gravity),
        volumetric_heat_capacity=volumetric_heat_capacity(
            density(specific_gravity),
            heat_capacity=heat_capacity(temperature, moisture=moisture),
            moisture=moisture,
        ),
    )


# ---- the energy that an ember's dust takes ----------------------------------------------------


@dataclass(frozen=True)
class EnergyParts:
    """Energy that a layer of wood takes, by what takes it.

    Attributes
    ----------
    wood : float or ndarray
        To warm the dry wood to charring. [J/m^2]
    water : float or ndarray
        To warm its water, free it and boil it off. [J/m^2]
    """

    wood: Numbers
    water: Numbers

    @property
    def total(self):
        """Both together, in J/m^2."""
        return self.wood + self.water


def energy_parts(
    burn_in_depth: Numbers,
    *,
    density: Numbers,
    moisture: Numbers,
    temperature_ambient: Numbers,
    temperature_char: Numbers,
) -> EnergyParts:
    r"""Energy to bring a layer of wood to charring, split into dry wood and water.

    .. math::

        E = \rho_0 d \left[ \bar c_0 (T_c - T_0)
            + M \left( c_w (T_b - T_0) + h_{fg} + \bar h_s \right) \right]

    Parameters
    ----------
    burn_in_depth : float or ndarray
        Thickness ground off, spindle and board together. [m]
    density : float or ndarray
        Oven-dry density. [kg/m^3]
    moisture : float or ndarray
        Mass of water over oven-dry mass, at most 0.25. [1]
    temperature_ambient : float or ndarray
        Temperature of the air, and of the wood at the start. [K]
    temperature_char : float or ndarray
        Temperature at which the wood chars. [K]

    Returns
    -------
    EnergyParts
        The two parts, broadcast over the arguments.

    Raises
    ------
    InputError
        If a value is out of its range, the air is hotter than boiling water, or the charring
        temperature is below boiling.

    Notes
    -----
    The steam leaves at the boiling point, and what the wood gives or takes as it breaks down is
    left out. The heat capacity of dry wood is extrapolated above about 147 degC.

    References
    ----------
    .. [1] USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, eq. 4-16a.
    .. [2] Siau, Wood: Influence of Moisture on Physical Properties, 1995, heat of sorption. (from
       memory)

    Examples
    --------
    >>> parts = energy_parts(0.004, density=320.0, moisture=0.09, temperature_ambient=293.15,
    ...                      temperature_char=573.15)
    >>> round(parts.wood), round(parts.water)
    (637268, 375158)
    """
    burn_in_depth, density, moisture = check(
        burn_in_depth=burn_in_depth, density=density, moisture=moisture
    )
    boiling = constant("water_boiling_point")
    ambient = check_kelvin("temperature_ambient", temperature_ambient, _coldest(), boiling)
    char = check_kelvin("temperature_char", temperature_char, boiling)
    dry_mass = burn_in_depth * density
    warming = constant("water_heat_capacity") * (boiling - ambient)
    freeing = constant("water_latent_heat") + heat_of_sorption(moisture)
    return EnergyParts(
        # linear in temperature, so its mean over the range is its value in the middle
        wood=dry_mass * _dry_heat_capacity((ambient + char) / 2) * (char - ambient),
        water=dry_mass * moisture * (warming + freeing),
    )
