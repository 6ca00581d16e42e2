"""A stack of round bodies, divided into cells.

Spindle on board, or ember on foil on soil, is a *stack* of round blocks with one axis. Each block
has its own radius, thickness and material, and conducts differently along the axis and across it.
The grid is graded, fine at the contact and its rim.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..quantities import (
    InputError,
    check,
    check_or_infinite,
    check_whole,
    choose,
    store_floats,
)
from .material import Material

PLATEAUS = ("mean", "pointwise")


@dataclass(frozen=True)
class Block:
    """One round body of the stack.

    Attributes
    ----------
    name : str
        What a reader calls it.
    material : Material
        What it is made of.
    radius, thickness : float
        Its size across and along the axis. [m]
    film : float
        Surface heat transfer coefficient on all its faces that touch no other block; zero keeps
        the heat in. [W/(m^2 K)]
    initial_rise : float
        Its rise above the surroundings at the start. [K]
    """

    name: str
    material: Material
    radius: float
    thickness: float
    film: float = 0.0
    initial_rise: float = 0.0

    def __post_init__(self):
        check(radius=self.radius, thickness=self.thickness, film=self.film)
        check(initial_rise=self.initial_rise)
        for kind, part in ((str, self.name), (Material, self.material)):
            if not isinstance(part, kind):
                raise InputError(f"a block has {part!r}; allowed there: {kind.__name__}")
        store_floats(self)


@dataclass(frozen=True)
class Source:
    """Heat made evenly over a disc on the top face of one block, which the next may cover.

    Attributes
    ----------
    radius : float
        Radius of the disc. [m]
    power : float
        Heat made. [W]
    below : int
        Which block of the stack, counted from the bottom, has the disc on its top face.
    rise_char : float
        Rise that the contact does not pass, since what no longer fits in is carried away as hot
        dust; infinite when nothing holds it. [K]
    plateau : str
        What is held there: ``"mean"``, the mean over the disc, with the heat still spread evenly
        (what :mod:`fireheat.estimates` assumes), or ``"pointwise"``, every ring for itself.

    Notes
    -----
    To hold a disc at one temperature from the start, as an ember does, make that ``rise_char`` with
    ``"pointwise"`` and give more power than can go in: ``power_in`` is then what is drawn.
    """

    radius: float
    power: float
    below: int = 0
    rise_char: float = math.inf
    plateau: str = "mean"

    def __post_init__(self):
        check(radius=self.radius, power=self.power)
        check_or_infinite("rise_char", self.rise_char)
        below = check_whole("block under the source", self.below, least=0)
        store_floats(self)
        object.__setattr__(self, "below", below)
        choose("plateau", self.plateau, PLATEAUS)


@dataclass(frozen=True)
class Grid:
    """How finely space and time are divided.

    Attributes
    ----------
    finest : float
        Thickness of the cells at the contact, as a share of the source's radius. [1]
    finest_radial : float
        Width of the cells at the rim of the contact, as a share of the source's radius. [1]
    growth : float
        How much wider cells get per distance from there. [1]
    steps : int
        Time steps for each doubling of the time.
    """

    finest: float = 0.01
    finest_radial: float = 0.02
    growth: float = 0.25
    steps: int = 4

    def refined(self, times=2):
        """Return a grid that many times finer in space and time."""
        return Grid(
            finest=self.finest / times,
            finest_radial=self.finest_radial / times,
            growth=self.growth / times,
            steps=self.steps * times,
        )

    def __post_init__(self):
        check_whole("number of time steps for each doubling", self.steps, least=1)
        for name, part in vars(self).items():
            number = isinstance(part, int | float | np.number) and not isinstance(part, bool)
            if not (number and 0 < part < math.inf):
                raise InputError(f"{name} of the grid is {part!r}; allowed: above 0, and finite")


@dataclass(frozen=True)
class Mesh:
    """The cells of a stack: rings, row upon row; the contact is at axial zero.

    Attributes
    ----------
    radial, axial : ndarray
        Edges of the cells. [m]
    radial_middle, axial_middle : ndarray
        Where each cell's temperature is taken. [m]
    block : ndarray of int
        Which block each cell belongs to, axial by radial; -1 for none. [1]
    row : int
        First row of cells above the contact.
    rings : int
        Columns of cells under the source.
    """

    radial: np.ndarray
    axial: np.ndarray
    radial_middle: np.ndarray
    axial_middle: np.ndarray
    block: np.ndarray
    row: int
    rings: int

    @property
    def inside(self):
        """Which cells belong to a block at all."""
        return self.block >= 0

    @property
    def ring_area(self):
        """Area of each ring of cells seen from above, in square metres."""
        return math.pi * np.diff(self.radial**2)


def _graded(breaks, focus, finest, growth):
    """Cell edges through all the breaks, and middles: wider in proportion away from the focus.

    Both are even marks on a stretched scale. A middle is then not half way between its edges,
    and that is what keeps the error of the growing cells small: on the stretched scale the
    differences are central.
    """
    breaks = np.unique([*breaks, focus])
    away = breaks - focus
    marks = np.sign(away) * np.log1p(growth * np.abs(away) / finest) / growth
    cells = np.maximum(2, np.ceil(np.diff(marks))).astype(int)
    pieces = [
        np.linspace(low, high, 2 * count, endpoint=False)
        for (low, high), count in zip(pairwise(marks), cells, strict=True)
    ]
    even = np.concatenate(pieces)
    points = focus + np.sign(even) * np.expm1(growth * np.abs(even)) * finest / growth
    edges = np.append(points[::2], breaks[-1])
    edges[np.cumsum([0, *cells])] = breaks
    return edges, points[1::2]


def build_mesh(stack: Sequence[Block], source: Source, grid: Grid) -> Mesh:
    """Divide a stack into cells.

    Parameters
    ----------
    stack : sequence of Block
        The bodies, from the bottom up.
    source : Source
        Where heat is made.
    grid : Grid
        How finely to divide.

    Returns
    -------
    Mesh
        The cells.

    Examples
    --------
    >>> wall = Block("wall", Material(0.1, 0.1, 5e5), radius=0.01, thickness=0.02)
    >>> mesh = build_mesh([wall], Source(radius=0.01, power=1.0), Grid())
    >>> round(float(mesh.axial[0]), 6), bool(mesh.inside.all())
    (-0.02, True)
    """
    faces = np.cumsum([0.0, *(block.thickness for block in stack)])
    faces -= faces[source.below + 1]
    radii = [block.radius for block in stack]
    size = source.radius
    radial, middle_r = _graded([0.0, *radii], size, grid.finest_radial * size, grid.growth)
    axial, middle_z = _graded(faces, 0.0, grid.finest * size, grid.growth)
    row_block = np.searchsorted(faces, middle_z) - 1
    block = np.where(middle_r < np.take(radii, row_block)[:, None], row_block[:, None], -1)
    row, rings = int(np.searchsorted(axial, 0.0)), int(np.sum(middle_r < size))
    return Mesh(radial, axial, middle_r, middle_z, block, row, rings)


def _in_series(one, other):
    """Conductance of two in series; none if either is none."""
    both = one + other
    return np.divide(one * other, both, out=np.zeros_like(both), where=both > 0)


@dataclass(frozen=True)
class HalfConductances:
    """Conductances from each cell's middle to its four faces, axial by radial.

    Attributes
    ----------
    inner, outer, lower, upper : ndarray
        Towards the axis and away from it, down and up. [W/K]
    """

    inner: np.ndarray
    outer: np.ndarray
    lower: np.ndarray
    upper: np.ndarray


def half_conductances(mesh: Mesh, stack: Sequence[Block], rise: np.ndarray) -> HalfConductances:
    """Conductances within the cells, for the rises they have.

    Parameters
    ----------
    mesh : Mesh
        The cells.
    stack : sequence of Block
        The bodies, from the bottom up.
    rise : ndarray
        Rise of every cell, axial by radial. [K]

    Returns
    -------
    HalfConductances
        To the four faces of each cell; zero outside.

    References
    ----------
    .. [1] Patankar, Numerical Heat Transfer and Fluid Flow, 1980, ch. 4: conductances in series.
       (from memory)

    Examples
    --------
    A whole wall of 0.1 W/(m K), 2 cm thick and of one square metre, lets 5 W through per kelvin:

    >>> wall = Block("wall", Material(0.1, 0.1, 5e5), radius=0.5641896, thickness=0.02)
    >>> mesh = build_mesh([wall], Source(radius=0.5641896, power=1.0), Grid())
    >>> halves = half_conductances(mesh, [wall], np.zeros(mesh.block.shape))
    >>> column = (1 / halves.lower + 1 / halves.upper).sum(axis=0)
    >>> print(f"{np.sum(1 / column):.3f}")
    5.000
    """
    materials = [block.material for block in stack]
    across, along, slope = (
        np.take([getattr(material, key) for material in materials], mesh.block)
        for key in ("conductivity_radial", "conductivity_axial", "conductivity_slope")
    )
    stiffening = (1 + slope * rise) * mesh.inside
    around = 2 * math.pi * across * stiffening * np.diff(mesh.axial)[:, None]
    through = along * stiffening * mesh.ring_area
    r, z = mesh.radial_middle, mesh.axial_middle[:, None]
    return HalfConductances(
        inner=around * mesh.radial[:-1] / (r - mesh.radial[:-1]),
        outer=around * mesh.radial[1:] / (mesh.radial[1:] - r),
        lower=through / (z - mesh.axial[:-1, None]),
        upper=through / (mesh.axial[1:, None] - z),
    )


def links(mesh: Mesh, halves: HalfConductances) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Pairs of touching cells and the conductance between them, in W/K, over the whole stack."""
    number = np.arange(mesh.block.size).reshape(mesh.block.shape)
    across = _in_series(halves.outer[:, :-1], halves.inner[:, 1:])
    along = _in_series(halves.upper[:-1], halves.lower[1:])
    first = np.concatenate([number[:, :-1].ravel(), number[:-1].ravel()])
    second = np.concatenate([number[:, 1:].ravel(), number[1:].ravel()])
    return first, second, np.concatenate([across.ravel(), along.ravel()])


def film_conductance(mesh: Mesh, stack: Sequence[Block], halves: HalfConductances) -> np.ndarray:
    """Conductance of each cell to the air, in W/K: through its free faces, not the contact."""
    film = np.take([block.film for block in stack], mesh.block) * mesh.inside
    framed = np.pad(mesh.inside, 1)
    side, top, bottom = ~framed[1:-1, 2:], ~framed[2:, 1:-1], ~framed[:-2, 1:-1]
    top[mesh.row - 1, : mesh.rings] = False
    around = film * 2 * math.pi * mesh.radial[1:] * np.diff(mesh.axial)[:, None]
    end = film * mesh.ring_area
    open_ends = top * _in_series(end, halves.upper) + bottom * _in_series(end, halves.lower)
    return side * _in_series(around, halves.outer) + open_ends
