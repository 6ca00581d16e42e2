"""What a body is made of, and how it takes up heat."""

from dataclasses import dataclass

import numpy as np

from ..quantities import Numbers, check, plain, store_floats


@dataclass(frozen=True)
class Material:
    """What a solid body is made of, the same for every solver.

    Attributes
    ----------
    conductivity_radial, conductivity_axial : float or ndarray
        Thermal conductivity across and along the spindle's axis. [W/(m K)]
    volumetric_heat_capacity : float or ndarray
        Heat capacity per volume. [J/(m^3 K)]
    conductivity_slope : float
        Growth of both conductivities per kelvin of rise, as a share of their value at rest. [1/K]
    capacity_slope : float
        Growth of the heat capacity per kelvin of rise, as a share of its value at rest. [1/K]

    Raises
    ------
    InputError
        If a conductivity or the capacity is not positive, or a slope is negative.

    Examples
    --------
    >>> softwood = Material(0.12, 0.22, 6e5)
    >>> round(softwood.effusivity_axial)
    363
    """

    conductivity_radial: float
    conductivity_axial: float
    volumetric_heat_capacity: float
    conductivity_slope: float = 0.0
    capacity_slope: float = 0.0

    def __post_init__(self):
        check(**vars(self))
        store_floats(self)

    @property
    def effusivity_axial(self):
        """Heat that the body takes in along the axis, see :func:`thermal_effusivity`."""
        return thermal_effusivity(
            self.conductivity_axial, volumetric_heat_capacity=self.volumetric_heat_capacity
        )


def thermal_inertia(conductivity: Numbers, *, volumetric_heat_capacity: Numbers) -> Numbers:
    r"""Thermal inertia: how hard a thick solid's surface is to warm.

    .. math:: k \rho c

    Parameters
    ----------
    conductivity : float or ndarray
        Thermal conductivity. [W/(m K)]
    volumetric_heat_capacity : float or ndarray
        Heat capacity of a volume. [J/(m^3 K)]

    Returns
    -------
    float or ndarray
        Thermal inertia, broadcast over the arguments. [J^2/(m^4 K^2 s)]

    Raises
    ------
    InputError
        If a value is not positive.

    References
    ----------
    .. [1] Quintiere, Fundamentals of Fire Phenomena, ignition of solids. (from memory)

    Examples
    --------
    >>> thermal_inertia(0.125, volumetric_heat_capacity=600000.0)
    75000.0
    """
    conductivity, volumetric_heat_capacity = check(
        conductivity=conductivity, volumetric_heat_capacity=volumetric_heat_capacity
    )
    return conductivity * volumetric_heat_capacity


def thermal_effusivity(conductivity: Numbers, *, volumetric_heat_capacity: Numbers) -> Numbers:
    r"""Thermal effusivity: how fast a thick solid soaks up heat at its surface.

    .. math:: e = \sqrt{k \rho c}

    Parameters
    ----------
    conductivity : float or ndarray
        Thermal conductivity. [W/(m K)]
    volumetric_heat_capacity : float or ndarray
        Heat capacity of a volume. [J/(m^3 K)]

    Returns
    -------
    float or ndarray
        Effusivity, broadcast over the arguments. [J/(m^2 K s^0.5)]

    Raises
    ------
    InputError
        If a value is not positive.

    References
    ----------
    .. [1] Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, sec. 2.9. (from memory)

    Examples
    --------
    >>> thermal_effusivity(0.125, volumetric_heat_capacity=720000.0)
    300.0
    """
    return plain(
        np.sqrt(thermal_inertia(conductivity, volumetric_heat_capacity=volumetric_heat_capacity))
    )


def thermal_diffusivity(conductivity: Numbers, *, volumetric_heat_capacity: Numbers) -> Numbers:
    r"""Thermal diffusivity: how fast warmth spreads within.

    .. math:: \alpha = k / (\rho c)

    Parameters
    ----------
    conductivity : float or ndarray
        Thermal conductivity. [W/(m K)]
    volumetric_heat_capacity : float or ndarray
        Heat capacity of a volume. [J/(m^3 K)]

    Returns
    -------
    float or ndarray
        Diffusivity, broadcast over the arguments. [m^2/s]

    Raises
    ------
    InputError
        If a value is not positive.

    References
    ----------
    .. [1] USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, ch. 4, thermal
       diffusivity. (from memory)

    Examples
    --------
    >>> thermal_diffusivity(0.12, volumetric_heat_capacity=600000.0)
    2e-07
    """
    conductivity, volumetric_heat_capacity = check(
        conductivity=conductivity, volumetric_heat_capacity=volumetric_heat_capacity
    )
    return conductivity / volumetric_heat_capacity
