"""Will it keep: how big a heap of hot dust must be.

Wood dust that is hot enough makes heat of its own, faster the hotter it is; a heap loses heat
through its skin. Inside a small heap, loss wins. Inside a big one the heat cannot get out in
time, and it runs away into a glow. Frank-Kamenetskii put the two into one number, delta; beyond a
critical value that depends on the shape there is no balance.

The heap's kinetics are not known well. They are tied here to one measured fact, how hot a plate
must be to set a 15 mm layer of wood dust off, so that only the way from there to other sizes and
temperatures hangs on the activation energy. It stays ROUGH: read its answers as orders of size.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from itertools import product
from typing import Any

import numpy as np
from scipy import constants, integrate, optimize

from ..bands import Band
from ..constants import constant, constant_band
from ..kit.kit import Kit
from ..quantities import (
    InputError,
    Numbers,
    check,
    check_kelvin,
    check_or_infinite,
    check_ordinary,
    choose,
    default,
    plain,
    quantity,
)
from .ember import HEAP_SHARE, heap_mass

HEAP_SHAPES = {"slab": 0, "cylinder": 1, "sphere": 2}
SURROUNDINGS = ("cold", "hot")
ACTIVATION_ENERGY = default("activation_energy")
TEMPERATURE_LAYER = default("temperature_layer")
TEMPERATURE_HEAP = default("temperature_heap")
TEMPERATURE_AMBIENT = default("temperature_ambient")
DUST_CONDUCTIVITY = default("dust_conductivity")
BULK_DENSITY = default("bulk_density")
HEAP_FILM = default("heap_film")


@cache
def _balance_profile(index):
    """Drop below the centre, and its slope, of a heap that just balances: Emden's equation."""

    def slopes(x, state):
        _, slope = state
        bend = slope / x if x > 0 else 1 / (index + 1)
        return slope, np.exp(-state[0]) - index * bend

    ends = (0.0, 5.0)  # past the critical point of every shape: 1.70, 2.83, 4.07
    solution = integrate.solve_ivp(
        slopes, ends, (0.0, 0.0), "DOP853", dense_output=True, rtol=1e-12, atol=1e-14
    )
    return solution.sol


def critical_parameter(shape: str, *, biot: Numbers = np.inf) -> Numbers:
    r"""Frank-Kamenetskii's critical parameter: self-heating beyond it runs away.

    .. math:: \delta = \frac{E}{R T^2} \frac{q r^2}{k}, \qquad
        \nabla^2\theta + \delta e^\theta = 0, \quad -\theta' = Bi \, \theta \text{ at the skin}

    Parameters
    ----------
    shape : str
        ``"slab"`` (r is half its thickness), ``"cylinder"`` or ``"sphere"``.
    biot : float or ndarray, optional
        Film times r over conductivity; infinite if the skin is held at one temperature. [1]

    Returns
    -------
    float or ndarray
        Critical delta: 0.878, 2 and 3.322 for an infinite Biot number. [1]

    Raises
    ------
    InputError
        If the shape is none of these, or the Biot number is not positive.

    Notes
    -----
    With heat at the centre theta_m and x = r sqrt(delta exp(theta_m)), every balance of a shape is
    the same curve psi(x), cut at another x: delta = x^2 exp(-psi - x psi'/Bi). The greatest delta
    is critical. A small Biot number gives Semenov's Bi (j + 1)/e, j the shape's index 0, 1, 2.
    Reaction that uses the dust up is left out; so is air that cannot get in.

    References
    ----------
    .. [1] Frank-Kamenetskii, Diffusion and Heat Transfer in Chemical Kinetics, 2nd ed., 1969.
       (from memory)
    .. [2] Thomas, Trans. Faraday Soc. 54 (1958) 60: finite Biot number. (from memory)

    Examples
    --------
    >>> [round(critical_parameter(shape), 4) for shape in ("slab", "cylinder", "sphere")]
    [0.8785, 2.0, 3.322]
    >>> round(critical_parameter("sphere", biot=1.0), 3)
    0.901
    """
    index, biot = _shape_index(shape), np.asarray(check_or_infinite("biot", biot))
    values = [_greatest_delta(index, one) for one in biot.ravel()]
    return np.reshape(values, biot.shape) if biot.ndim else values[0]


def _shape_index(shape):
    return HEAP_SHAPES[choose("shape", shape, HEAP_SHAPES)]


def _greatest_delta(index, biot):
    """Greatest delta over all balances of one shape."""
    profile = _balance_profile(index)

    def growth(x):
        """Give the slope of ln(delta) in x."""
        drop, slope = profile(x)
        return 2 / x - slope - (x * np.exp(-drop) + (1 - index) * slope) / biot

    x = optimize.brentq(growth, 1e-2 * np.sqrt(min(biot, 1.0)), 5.0, xtol=1e-12)
    drop, slope = profile(x)
    return float(x**2 * np.exp(-drop - x * slope / biot))


def layer_critical_parameter(biot: float, *, excess: float) -> float:
    """Critical parameter of a layer on a hot plate, its other face in cool air.

    Parameters
    ----------
    biot : float
        Film times half the layer's thickness over its conductivity. [1]
    excess : float
        Plate over air temperature, in units of R T^2/E at the plate. [1]

    Returns
    -------
    float
        Critical delta, with half the thickness as size and the plate's temperature. [1]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Balances are theta = theta_m - 2 ln cosh(D (x - x_m)), with theta 0 on the plate; for each D the
    place of the hottest layer follows from the open face, and the greatest delta is critical.

    References
    ----------
    .. [1] Thomas & Bowes, Thermal ignition in a slab with one face at a constant high temperature,
       Trans. Faraday Soc. 57 (1961) 2007. (from memory)

    Examples
    --------
    With air as hot as the plate and no film to speak of it is a slab:

    >>> round(layer_critical_parameter(1e9, excess=0.0), 4)
    0.8785
    """
    biot, excess = check(biot=biot, excess=excess)

    def log_cosh(x):
        return np.logaddexp(x, -x) - np.log(2)

    def delta(steep):
        def open_face(lead):
            rest = 2 * steep - lead
            warmth = 2 * log_cosh(lead) - 2 * log_cosh(rest) + excess
            return biot * warmth - 2 * steep * np.tanh(rest)

        lead = optimize.brentq(open_face, -2 * steep - 40, 2 * steep + 40)
        return 2 * steep**2 * np.exp(-2 * log_cosh(lead))

    # Below the first the plate's heat alone is steeper than that.
    least = biot * excess / (4 * biot + 2) + 1e-9
    best = optimize.minimize_scalar(
        lambda steep: -delta(steep), bounds=(least, least + 3), method="bounded"
    )
    return float(-best.fun)


def hot_spot_critical_parameter(shape: str, *, excess: Numbers) -> Numbers:
    r"""Critical parameter of a hot heap in cold surroundings as conducting as itself.

    .. math:: \delta_c = A (\ln \theta_0)^n

    Parameters
    ----------
    shape : str
        ``"slab"``, ``"cylinder"`` or ``"sphere"``.
    excess : float or ndarray
        Heap over surrounding temperature, in units of R T^2/E at the heap; above one. [1]

    Returns
    -------
    float or ndarray
        Critical delta, with the heap's own temperature: less, and it cools. [1]

    Raises
    ------
    InputError
        If the shape is none of these, or the excess is not above one.

    Notes
    -----
    A fit, within 8 % of a numerical solution for an excess of 7 to 20 (see the tests); for a slab
    it asks for up to a quarter too much below that. Ordinary dust has 8 to 15. The heap
    must make up for its cold surroundings before they have cooled its middle, so it must be wider
    than one kept hot: a sphere 2.5 times at an excess of 10, if that one's skin is held at its
    temperature; 9 times at 300 degC and 34 at 400 degC, if hot air round that one keeps its heat in
    as well, as in :func:`critical_size`.

    References
    ----------
    .. [1] Merzhanov, On critical conditions for thermal explosion of a hot spot, Combustion and
       Flame 10 (1966) 341. (from memory)

    Examples
    --------
    >>> cold, hot = hot_spot_critical_parameter("sphere", excess=10.0), critical_parameter("sphere")
    >>> print(f"{cold:.1f}; as wide as one kept hot: {np.sqrt(cold / hot):.1f} times")
    20.0; as wide as one kept hot: 2.5 times
    """
    factor, power = constant("hot_spot")[_shape_index(shape)]
    excess = check(excess=excess)
    if np.any(excess <= 1):
        raise InputError(f"hot spot's excess is {np.min(excess):g}; allowed: above 1")
    return plain(factor * np.log(excess) ** power)


def critical_size(
    temperature_heap: float,
    *,
    shape: str = "sphere",
    surroundings: str = "cold",
    activation_energy: float = ACTIVATION_ENERGY,
    temperature_layer: float = TEMPERATURE_LAYER,
    dust_conductivity: float = DUST_CONDUCTIVITY,
    heap_film: float = HEAP_FILM,
    temperature_ambient: float = TEMPERATURE_AMBIENT,
) -> float:
    r"""Size from which a heap of hot wood dust heats itself into a glow. ROUGH.

    .. math:: r_c^2 = r_l^2 \, \frac{\delta_c}{\delta_l}\, \frac{T^2}{T_l^2}
        \, e^{\frac{E}{R}(1/T - 1/T_l)}

    Parameters
    ----------
    temperature_heap : float
        Absolute temperature of the dust. [K]
    shape : str, optional
        ``"slab"``, ``"cylinder"`` or ``"sphere"``.
    surroundings : str, optional
        ``"cold"``: set down in the open, see :func:`hot_spot_critical_parameter`; or ``"hot"``: all
        round as hot as the dust, through a film, see :func:`critical_parameter`.
    activation_energy : float, optional
        How steeply self-heating grows with temperature. [J/mol]
    temperature_layer : float, optional
        Plate temperature at which the layer of the table ignites. [K]
    dust_conductivity : float, optional
        Thermal conductivity of the dust. [W/(m K)]
    heap_film : float, optional
        Surface heat transfer coefficient at the skin of heap and layer. [W/(m^2 K)]
    temperature_ambient : float, optional
        Absolute temperature of the cold surroundings, and of the air over the layer. [K]

    Returns
    -------
    float
        Radius, or half thickness of a slab. [m]

    Raises
    ------
    InputError
        If a value is not positive or a word is unknown.

    Notes
    -----
    Air that must get in, smoke that carries heat off and dust used up are left out: all three ask
    for more than this. An ember in its notch is somewhere between cold and hot.

    References
    ----------
    .. [1] Frank-Kamenetskii (1969), as :func:`critical_parameter`.
    .. [2] Applied Sciences 10 (2020) 5779: wood-dust layer on a hot plate.

    Examples
    --------
    >>> print(f"{1000 * critical_size(573.15):.0f} mm, {1000 * critical_size(673.15):.0f} mm")
    9 mm, 2 mm
    """
    for key, kelvin in {
        "temperature_heap": temperature_heap,
        "temperature_layer": temperature_layer,
        "temperature_ambient": temperature_ambient,
    }.items():
        check_kelvin(key, kelvin, quantity(key).low)
    check(activation_energy=activation_energy, dust_conductivity=dust_conductivity)
    check(heap_film=heap_film)
    choose("kind of surroundings", surroundings, SURROUNDINGS)
    scale = constants.R / activation_energy
    half = constant("layer_thickness") / 2
    excess, layer_excess = (
        (hot - temperature_ambient) / (scale * hot**2)
        for hot in (temperature_heap, temperature_layer)
    )
    if layer_excess < 0:
        raise InputError(
            f"{quantity('temperature_layer').name} is {temperature_layer:g} K;"
            f" allowed: that of the air, {temperature_ambient:g} K, or more"
        )
    if surroundings == "cold" and excess <= 1:
        least = temperature_ambient + scale * temperature_heap**2
        raise InputError(
            f"{quantity('temperature_heap').name} is {temperature_heap:g} K; allowed: above"
            f" {least:g} K in air of {temperature_ambient:g} K at this activation energy"
        )
    film = heap_film / dust_conductivity
    layer = layer_critical_parameter(film * half, excess=layer_excess)
    slowing = np.exp((1 / temperature_heap - 1 / temperature_layer) / scale)
    square = half**2 / layer * (temperature_heap / temperature_layer) ** 2 * slowing
    if surroundings == "cold":
        return float(np.sqrt(hot_spot_critical_parameter(shape, excess=excess) * square))
    return _kept_hot_size(shape, film, square)


def _kept_hot_size(shape, film, square):
    """Size at which delta, size^2/square, is critical; the Biot number grows with the size too."""

    def short(log_size):
        size = np.exp(log_size)
        return critical_parameter(shape, biot=film * size) * square - size**2

    largest = 0.5 * np.log(4 * square)
    return float(np.exp(optimize.brentq(short, min(np.log(film * square), largest) - 3, largest)))


@dataclass(frozen=True)
class Keep:
    """Whether a heap keeps itself hot. ROUGH: the kinetics of hot wood dust are not known well.

    Attributes
    ----------
    mass_least : Band of float
        Least dust that keeps, as half a ball on something that keeps heat in. [kg]
    times_least : Band of float
        How many times that the heap is; above one it keeps. [1]
    """

    mass_least: Band[float]
    times_least: Band[float]

    @property
    def verdict(self) -> str:
        """Say whether it stays hot, goes out, or perhaps: the band holds both."""
        low, _, high = self.times_least
        if low > 1:
            return "stays hot"
        return "goes out" if high < 1 else "perhaps"


def will_it_keep(mass: float, *, temperature_heap: float = TEMPERATURE_HEAP) -> Keep:
    """Whether a heap of hot dust heats itself faster than it can lose heat. ROUGH.

    Parameters
    ----------
    mass : float
        Dust in the heap. [kg]
    temperature_heap : float, optional
        Absolute temperature of the dust itself; all round it is cold. [K]

    Returns
    -------
    Keep
        The least dust that does, and how many times that the heap is, each with a band over
        activation energy, layer temperature and film.

    Raises
    ------
    InputError
        If mass or temperature is not what a heap can have.

    Notes
    -----
    The band does not hold what the model leaves out, see :func:`critical_size`.

    References
    ----------
    .. [1] As :func:`critical_size`.

    Examples
    --------
    >>> keep = will_it_keep(0.00018)
    >>> low, likely, high = keep.times_least
    >>> print(f"{likely:.1f} times the least that keeps; {low:.2f} to {high:.0f}")
    6.1 times the least that keeps; 0.79 to 133
    """
    check_ordinary(mass=mass, temperature_heap=temperature_heap)
    return _keep(mass, temperature_heap)


def enough_dust(
    kit: Kit, *, heap_share: float = HEAP_SHARE, temperature_heap: float = TEMPERATURE_HEAP
) -> Keep:
    """Whether the dust that a kit makes for one ember is enough to keep itself hot. ROUGH.

    Parameters
    ----------
    kit : Kit
        The kit.
    heap_share : float, optional
        Share of its dust that reaches the heap. [1]
    temperature_heap : float, optional
        Absolute temperature of the dust as it falls. [K]

    Returns
    -------
    Keep
        As :func:`will_it_keep`, with its verdict.

    Raises
    ------
    InputError
        If share or temperature is not what a heap can have.

    References
    ----------
    .. [1] As :func:`critical_size`.

    Examples
    --------
    >>> [enough_dust(Kit(radius=0.01, burn_in_depth=d)).verdict for d in (0.002, 0.01)]
    ['perhaps', 'stays hot']
    """
    check_ordinary(heap_share=heap_share, temperature_heap=temperature_heap)
    return _keep(heap_mass(kit.dust, heap_share=heap_share), temperature_heap)


def _keep(mass, temperature_heap):
    size = heap_radius(mass)
    least = _least_sizes(temperature_heap).each(lambda keeps: float(mass * (keeps / size) ** 3))
    return Keep(least, Band(*(mass / enough for enough in reversed(least))))


@cache
def _least_sizes(temperature_heap):
    """Least size that keeps: low, likely and high over all corners of the ranges."""
    keys = ("activation_energy", "temperature_layer", "heap_film")
    corners: Iterable[dict[str, Any]] = (
        dict(zip(keys, corner, strict=True))
        for corner in product(*(constant_band(key).ends for key in keys))
    )
    sizes = [critical_size(temperature_heap, **corner) for corner in corners]
    return Band(min(sizes), critical_size(temperature_heap), max(sizes))


def heap_radius(mass: Numbers, *, bulk_density: Numbers = BULK_DENSITY) -> Numbers:
    r"""Radius of a heap of dust, as half a ball.

    .. math:: r = \left( \frac{3 m}{2 \pi \rho_b} \right)^{1/3}

    Parameters
    ----------
    mass : float or ndarray
        Dust in the heap. [kg]
    bulk_density : float or ndarray, optional
        Density of the dust as it lies. [kg/m^3]

    Returns
    -------
    float or ndarray
        Radius. [m]

    Raises
    ------
    InputError
        If a value is not positive.

    References
    ----------
    .. [1] Volume of half a ball.

    Examples
    --------
    >>> print(f"{1000 * heap_radius(0.00018):.1f} mm")
    7.4 mm
    """
    mass, bulk_density = check(mass=mass, bulk_density=bulk_density)
    return (3 * mass / (2 * np.pi * bulk_density)) ** (1 / 3)
