"""The ember itself: what it makes, and what it loses from its open face."""

from dataclasses import dataclass

import numpy as np
from scipy import constants

from ..bands import Band
from ..constants import constant, constant_band
from ..kit.kit import Kit
from ..quantities import (
    Numbers,
    check,
    check_kelvin,
    check_ordinary,
    default,
    quantity,
    store_floats,
)

HEAP_SHARE = default("heap_share")


def heap_mass(dust_mass: Numbers, *, heap_share: Numbers = HEAP_SHARE) -> Numbers:
    r"""Dust in the heap, of all that is worn off.

    .. math:: m = \frac{m}{m_d} \, m_d

    Parameters
    ----------
    dust_mass : float or ndarray
        Mass of dry dust worn off. [kg]
    heap_share : float or ndarray, optional
        Share of it that reaches the heap; an ordinary one if left out. [1]

    Returns
    -------
    float or ndarray
        Mass, broadcast over the arguments. [kg]

    Raises
    ------
    InputError
        If the mass is not positive, or the share not a fraction.

    References
    ----------
    .. [1] What is worn off less what goes as smoke, misses the notch or stays in the hole.

    Examples
    --------
    >>> print(f"{1000 * heap_mass(Kit().dust):.2f} g")
    0.18 g
    """
    dust_mass, heap_share = check(dust_mass=dust_mass, heap_share=heap_share)
    return heap_share * dust_mass


@dataclass(frozen=True, kw_only=True)
class Ember:
    """A small glowing heap of wood dust.

    Attributes
    ----------
    radius : float
        Radius of the disc on which it rests. [m]
    temperature : float
        Absolute temperature of the glow. [K]
    mass : float
        Dust that is to burn; what an ordinary kit makes and the heap catches, if left out. [kg]
    burning_time : float
        How long it lasts. [s]
    heat_of_smouldering : float
        Heat of a mass of dust that smoulders away, its smoke unburnt. [J/kg]
    crust : float
        Dead dust between the glow and what it rests on; none is the worst case. [m]
    film : float
        Surface heat transfer coefficient in the air around. [W/(m^2 K)]
    emissivity : float
        Emissivity of its open face. [1]
    temperature_ambient : float
        Absolute temperature of air and ground. [K]

    Raises
    ------
    InputError
        If a field is not what an ember can have, or it is no hotter than boiling water.

    Examples
    --------
    >>> ember = Ember()
    >>> print(f"{ember.power:.1f} W made, {ember.face_loss:.1f} W lost from its open face")
    3.3 W made, 2.8 W lost from its open face
    """

    radius: float = constant("ember_radius")
    temperature: float = constant("temperature_ember")
    mass: float = heap_mass(Kit().dust)
    burning_time: float = constant("burning_time")
    heat_of_smouldering: float = constant("heat_of_smouldering")
    crust: float = constant("crust")
    film: float = constant("film")
    emissivity: float = constant("ember_emissivity")
    temperature_ambient: float = default("temperature_ambient")

    def __post_init__(self):
        check_ordinary(
            ember_radius=self.radius,
            temperature_ember=self.temperature,
            mass=self.mass,
            burning_time=self.burning_time,
            heat_of_smouldering=self.heat_of_smouldering,
            crust=self.crust,
            film=self.film,
            emissivity=self.emissivity,
            temperature_ambient=self.temperature_ambient,
        )
        store_floats(self)

    @classmethod
    def of_mass(cls, mass: float, **others: float) -> "Ember":
        """Make an ember of so much dust, in the shape of the ordinary one.

        Parameters
        ----------
        mass : float
            Dust that is to burn; the radius goes with its cube root. [kg]
        **others : float
            Other fields, SI. [any]

        Returns
        -------
        Ember
            The ember. [SI]

        Raises
        ------
        InputError
            If a field is not what an ember can have.

        References
        ----------
        .. [1] Bodies of one shape: volume goes with the cube of any length.

        Examples
        --------
        Eight times the dust rests on twice the radius:

        >>> Ember.of_mass(8 * Ember().mass).radius / Ember().radius
        2.0
        """
        check_ordinary(mass=mass)
        radius = cls.radius * float(np.cbrt(mass / cls.mass))
        return cls(mass=mass, radius=radius, **others)

    @property
    def rise(self) -> float:
        """How much hotter it is than the air, in kelvin."""
        return self.temperature - self.temperature_ambient

    @property
    def area(self) -> float:
        """Area on which it rests, and that of its open face, in square metres."""
        return np.pi * self.radius**2

    @property
    def power(self) -> float:
        """Heat it makes, in watts: evenly, and all of the dust."""
        return smoulder_power(
            self.mass, heat_of_smouldering=self.heat_of_smouldering, burning_time=self.burning_time
        )

    @property
    def power_band(self) -> Band[float]:
        """Power over the table's ranges of burning time and heat. [W]."""
        fast, _, slow = constant_band("burning_time")
        poor, _, rich = constant_band("heat_of_smouldering")
        powers = [
            smoulder_power(self.mass, heat_of_smouldering=heat, burning_time=time)
            for heat in (poor, rich, self.heat_of_smouldering)
            for time in (fast, slow, self.burning_time)
        ]
        return Band(min(powers), self.power, max(powers))

    def joules_made(self, time: float) -> Band[float]:
        """Heat it makes in some seconds, in joules."""
        return self.power_band.each(lambda power: time * power)

    @property
    def face_loss(self) -> float:
        """Heat its open face loses to air and sky, in watts; a heap has more face than a disc."""
        return self.face_loss_at(self.temperature)

    def face_loss_at(self, temperature: Numbers) -> Numbers:
        """Heat its open face loses while it is as hot as this, in kelvin. [W]."""
        return self.area * _face_flux(
            temperature, self.temperature_ambient, self.film, self.emissivity
        )

    def face_loss_slope(self, temperature: Numbers) -> Numbers:
        """How much more that is for each kelvin more. [W/K]."""
        radiated = 4 * self.emissivity * constants.Stefan_Boltzmann * temperature**3
        return self.area * (self.film + radiated)


def dust_mass(burn_in_depth: Numbers, *, radius: Numbers, density: Numbers) -> Numbers:
    r"""Dust worn off spindle and board.

    .. math:: m = \rho_0 \, d_b \, \pi r^2

    Parameters
    ----------
    burn_in_depth : float or ndarray
        How much shorter spindle and board got, together. [m]
    radius : float or ndarray
        Radius of the spindle's tip. [m]
    density : float or ndarray
        Oven-dry density of the wood. [kg/m^3]

    Returns
    -------
    float or ndarray
        Mass, broadcast over the arguments. [kg]

    Raises
    ------
    InputError
        If a value is not positive.

    Notes
    -----
    Not all of it reaches the heap: see :func:`heap_mass`.

    References
    ----------
    .. [1] Density times volume.

    Examples
    --------
    >>> print(f"{1000 * dust_mass(0.004, radius=0.0065, density=320.0):.2f} g")
    0.17 g
    """
    burn_in_depth, radius, density = check(
        burn_in_depth=burn_in_depth, radius=radius, density=density
    )
    return density * burn_in_depth * np.pi * radius**2


def smoulder_power(
    mass: Numbers, *, heat_of_smouldering: Numbers, burning_time: Numbers
) -> Numbers:
    r"""Heat an ember makes, if it smoulders away evenly and leaves no char.

    .. math:: P = m H / t_b

    Parameters
    ----------
    mass : float or ndarray
        Mass of dust. [kg]
    heat_of_smouldering : float or ndarray
        Heat of a mass smouldered away. [J/kg]
    burning_time : float or ndarray
        How long it lasts. [s]

    Returns
    -------
    float or ndarray
        Power, broadcast over the arguments. [W]

    Raises
    ------
    InputError
        If a value is not positive.

    Notes
    -----
    Smoke that leaves unburnt is counted in the heat of smouldering, some two thirds of what a flame
    makes; char that is left over, dust that falls away and air that cannot get in are not.

    References
    ----------
    .. [1] Frandsen, Heat evolved from smoldering peat, Int. J. Wildland Fire 1 (1991) 197, for the
       most there can be: 14.2 MJ/kg.

    Examples
    --------
    >>> smoulder_power(0.0002, heat_of_smouldering=10.5e6, burning_time=700.0)
    3.0
    """
    mass, heat_of_smouldering, burning_time = check(
        mass=mass, heat_of_smouldering=heat_of_smouldering, burning_time=burning_time
    )
    return mass * heat_of_smouldering / burning_time


def face_flux(
    temperature: Numbers, *, temperature_ambient: Numbers, film: Numbers, emissivity: Numbers = 1.0
) -> Numbers:
    r"""Heat that a hot open face loses by radiation and to the air.

    .. math:: q'' = h (T - T_0) + \varepsilon \sigma (T^4 - T_0^4)

    Parameters
    ----------
    temperature : float or ndarray
        Absolute temperature of the face. [K]
    temperature_ambient : float or ndarray
        Absolute temperature of air and surroundings. [K]
    film : float or ndarray
        Heat transfer coefficient to the air. [W/(m^2 K)]
    emissivity : float or ndarray, optional
        Emissivity of the face. [1]

    Returns
    -------
    float or ndarray
        Flux; negative where the air is hotter. [W/m^2]

    Raises
    ------
    InputError
        If a temperature is colder than any winter's, as degrees Celsius in place of kelvin are, or
        film or emissivity out of range.

    References
    ----------
    .. [1] Stefan-Boltzmann and Newton's law of cooling; the constant from CODATA, in scipy.

    Examples
    --------
    >>> print(f"{face_flux(873.15, temperature_ambient=293.15, film=10.0):.0f}")
    38340
    """
    coldest = quantity("temperature_ambient").low
    temperature = check_kelvin("temperature", temperature, coldest)
    temperature_ambient = check_kelvin("temperature_ambient", temperature_ambient, coldest)
    film, emissivity = check(film=film, emissivity=emissivity)
    return _face_flux(temperature, temperature_ambient, film, emissivity)


def _face_flux(temperature, ambient, film, emissivity):
    """Do as :func:`face_flux` with what has been checked: a march asks thousands of times."""
    radiated = constants.Stefan_Boltzmann * (temperature**4 - ambient**4)
    return film * (temperature - ambient) + emissivity * radiated
