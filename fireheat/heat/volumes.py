"""Heat spreading through a stack: the picture of the heat, and the check on Z(t).

Heat is made on the plane between two blocks of :mod:`fireheat.heat.mesh`, divides itself so that
both have the same temperature at every point of the contact, spreads, and leaks to the air. Time
is marched by :mod:`fireheat.heat.stepping`. Temperatures are rises above the surroundings.

When the contact reaches charring it stays there, and the power that no longer fits into the wood
goes into dust: see :class:`fireheat.heat.mesh.Source`.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from scipy import interpolate
from scipy.constants import year

from ..quantities import InputError, Numbers, check
from .contact import Contact
from .mesh import Block, Grid, Source, build_mesh
from .stepping import build_system, march_states

_LATEST = 100 * year  # all is steady by then; steps double with time, so few lead there


@dataclass(frozen=True)
class HeatRun:
    """What happened in the stack; time is the first axis of every history.

    Attributes
    ----------
    time : ndarray
        When. [s]
    radial, axial : ndarray
        Where temperatures are taken; the contact is at axial zero, up is positive. [m]
    radial_edges, axial_edges : ndarray
        Edges of the cells round those places. [m]
    inside : ndarray of bool
        Which cells, axial by radial, belong to a block at all.
    rise : ndarray
        Cell temperatures above the surroundings, time by axial by radial; zero outside. [K]
    contact_radius : ndarray
        Where on each ring of the contact the temperature is taken. [m]
    contact_rise : ndarray
        Temperature of each ring above the surroundings, time by ring. [K]
    contact_mean : ndarray
        Area mean of the contact's rise. [K]
    power_in : ndarray
        Power that goes into the blocks. [W]
    dust : ndarray
        Energy carried away by dust since the contact reached charring. [J]
    stored, lost : ndarray
        Energy in each block, and given to the air by each, time by block. [J]
    names : tuple of str
        The blocks, from the bottom.
    power : float
        Heat made. [W]
    smoke : float
        When the contact first reached charring; infinite if it did not. [s]
    """

    time: np.ndarray
    radial: np.ndarray
    axial: np.ndarray
    radial_edges: np.ndarray
    axial_edges: np.ndarray
    inside: np.ndarray
    rise: np.ndarray
    contact_radius: np.ndarray
    contact_rise: np.ndarray
    contact_mean: np.ndarray
    power_in: np.ndarray
    dust: np.ndarray
    stored: np.ndarray
    lost: np.ndarray
    names: tuple[str, ...]
    power: float
    smoke: float


def solve(stack: Sequence[Block], *, source: Source, time: Numbers, grid: Grid = Grid()) -> HeatRun:
    r"""March the heat through a stack of blocks.

    .. math:: \rho c\,\frac{\partial T}{\partial t} = \frac{1}{r}\frac{\partial}{\partial r}
        \left(k_r r \frac{\partial T}{\partial r}\right)
        + \frac{\partial}{\partial z}\left(k_z \frac{\partial T}{\partial z}\right)

    Parameters
    ----------
    stack : sequence of Block
        The bodies, from the bottom up, each on the one before.
    source : Source
        Where heat is made, how much, and what limits it.
    time : float or ndarray
        When to look, in rising order. [s]
    grid : Grid, optional
        How finely to divide.

    Returns
    -------
    HeatRun
        Temperatures, contact, dust, and energies at those times.

    Raises
    ------
    InputError
        If there are no times, they do not rise or go beyond a century, the source's block is not in
        the stack, or the source is wider than the block under it.

    Notes
    -----
    Left out: the rubbing surfaces recede, water boils off, and wood that chars changes. The error
    falls by four when the grid is refined by two; at the usual grid the mean contact temperature
    of a disc on thick wood is within 0.5 % of the exact one from 1 s on.

    References
    ----------
    .. [1] Patankar, Numerical Heat Transfer and Fluid Flow, 1980, ch. 4: finite volumes and
       conductances in series. (from memory)
    .. [2] Hosea & Shampine, Analysis and implementation of TR-BDF2, Appl. Numer. Math. 20 (1996)
       21: the step used. (from memory)

    Examples
    --------
    A watt over one square metre of a thick wall that lets nothing out: all of it is inside.

    >>> from fireheat.heat.material import Material
    >>> wall = Block("wall", Material(0.1, 0.1, 5e5), radius=0.5641896, thickness=1.0)
    >>> run = solve([wall], source=Source(radius=0.5641896, power=1.0), time=[1.0, 60.0])
    >>> [round(float(joules), 6) for joules in run.stored[:, 0]]
    [1.0, 60.0]
    """
    time = _checked_times(stack, source, time)
    mesh = build_mesh(stack, source, grid)
    rise = np.take([block.initial_rise for block in stack], mesh.block)[mesh.inside]
    build = partial(build_system, mesh, stack, source)
    states, smoke = march_states(
        build,
        rise,
        varies=any(b.material.conductivity_slope or b.material.capacity_slope for b in stack),
        until=time[-1],
        first=_first_step(stack, source, grid),
        steps=grid.steps,
    )
    return _read_off(mesh, stack, source, build(rise), states, time, smoke)


def drill(
    time: Numbers,
    *,
    contact: Contact,
    power: float,
    board_thickness: float,
    board_radius: float,
    board_film: float | None = None,
    ground: Block | None = None,
    rise_char: float = math.inf,
    plateau: str = "mean",
    grid: Grid = Grid(),
) -> HeatRun:
    """Heat of a turning spindle in spindle and board: a rod standing on a slab.

    Parameters
    ----------
    time : float or ndarray
        When to look, in rising order. [s]
    contact : Contact
        Spindle and board; its film is that of the free faces themselves.
    power : float
        Friction power, spread evenly over the tip. [W]
    board_thickness : float
        Thickness of the board. [m]
    board_radius : float
        Half the width of the board, which is taken as round. [m]
    board_film : float, optional
        Surface heat transfer coefficient of the board, if not the spindle's. [W/(m^2 K)]
    ground : Block, optional
        What the board lies on; air if not given.
    rise_char : float, optional
        Rise that the contact does not pass. [K]
    plateau : str, optional
        ``"mean"`` or ``"pointwise"``, see :class:`Source`.
    grid : Grid, optional
        How finely to divide.

    Returns
    -------
    HeatRun
        Blocks ``"board"`` and ``"spindle"``, over the ground if there is one.

    Raises
    ------
    InputError
        If a value is out of its range, there are no times, or they do not rise.

    References
    ----------
    .. [1] As :func:`solve`.

    Examples
    --------
    Ten watts on a 13 mm softwood kit: charring in a few seconds.

    >>> from fireheat.heat.contact import Contact
    >>> from fireheat.heat.material import Material
    >>> spindle, board = Material(0.11, 0.2, 6e5), Material(0.11, 0.11, 6e5)
    >>> kit = Contact(radius=0.0065, length=0.15, film=10.0, spindle=spindle, board=board)
    >>> run = drill([5.0, 30.0], contact=kit, power=10.0, board_thickness=0.015,
    ...             board_radius=0.04, rise_char=280.0)
    >>> print(f"smoke at {run.smoke:.1f} s; {run.dust[-1]:.0f} of 300 J into dust by 30 s")
    smoke at 4.3 s; 146 of 300 J into dust by 30 s
    """
    slab_film = contact.film if board_film is None else board_film
    board = Block("board", contact.board, board_radius, board_thickness, slab_film)
    spindle = Block("spindle", contact.spindle, contact.radius, contact.length, contact.film)
    under = () if ground is None else (ground,)
    source = Source(contact.radius, power, len(under), rise_char, plateau)
    return solve((*under, board, spindle), source=source, time=time, grid=grid)


def _checked_times(stack, source, time):
    time = np.atleast_1d(check(time=time))
    if time.ndim > 1 or not time.size:
        raise InputError(f"times have the shape {time.shape}; allowed: one list of 1 or more")
    if time[-1] > _LATEST:
        raise InputError(f"time is {time[-1]:g} s; allowed: up to {_LATEST:g} s, a century")
    gaps = np.diff(time)
    if np.any(gaps <= 0):
        at = np.argmax(gaps <= 0)
        raise InputError(
            f"time number {at + 2} is {gaps[at]:g} s after the one before; allowed: above 0 s"
        )
    if not 0 <= source.below < len(stack):
        raise InputError(
            f"source is on block {source.below} of a stack of {len(stack)};"
            f" allowed: 0 to {len(stack) - 1}"
        )
    _check_heat(stack, source)
    return time


def _check_heat(stack, source):
    hottest = max(block.initial_rise for block in stack)
    if hottest > source.rise_char:
        raise InputError(
            f"temperature rise at the start is {hottest:g} K; allowed: up to the rise at charring,"
            f" {source.rise_char:g} K"
        )
    under = stack[source.below]
    if source.radius > under.radius:
        raise InputError(
            f"source radius is {source.radius:g} m; allowed: up to {under.radius:g} m, the radius"
            f" of the {under.name} under it"
        )


def _first_step(stack, source, grid):
    """Time for heat to cross about one of the finest cells. [s]."""
    touching = [block.material for block in stack[source.below : source.below + 2]]
    slowest = min(m.conductivity_axial / m.volumetric_heat_capacity for m in touching)
    return (grid.finest * source.radius) ** 2 / (4 * slowest)


def _read_off(mesh, stack, source, system, states, time, smoke):
    """Read the march off at the times asked for."""
    marched = np.array([state.time for state in states])
    history = {
        key: np.array([getattr(state, key) for state in states])
        for key in ("rise", "heat", "flow", "loss", "lost", "given", "contact")
    }
    cubic = partial(_cubic_curve, marched, time)
    rise = cubic(history["rise"], system.warming(history["rise"], history["flow"]))
    owner = np.eye(len(stack))[mesh.block[mesh.inside]]
    area = mesh.ring_area[: mesh.rings]
    monotone = partial(_monotone_curve, marched, time)
    power_in = history["heat"].sum(axis=1)
    pictures = np.zeros((len(time), *mesh.block.shape))
    pictures[:, mesh.inside] = rise
    return HeatRun(
        time=time,
        radial=mesh.radial_middle,
        axial=mesh.axial_middle,
        radial_edges=mesh.radial,
        axial_edges=mesh.axial,
        inside=mesh.inside,
        rise=pictures,
        contact_radius=mesh.radial_middle[: mesh.rings],
        contact_rise=monotone(history["contact"]),
        contact_mean=monotone(history["contact"] @ area / area.sum()),
        power_in=monotone(power_in),
        # Before charring all goes into the blocks; what rounding leaves of that is no dust.
        dust=np.maximum(source.power * time - cubic(history["given"], power_in), 0.0),
        stored=cubic(system.energy(history["rise"]) @ owner, history["flow"] @ owner),
        lost=cubic(history["lost"] @ owner, history["loss"] @ owner),
        names=tuple(block.name for block in stack),
        power=source.power,
        smoke=smoke,
    )


def _cubic_curve(marched, time, values, slopes):
    """Cubics through values and slopes: a sum that holds at the steps holds between them too."""
    return interpolate.CubicHermiteSpline(marched, values, slopes)(time)


def _monotone_curve(marched, time, values):
    """Curves through values whose slopes are not known, without overshoot."""
    return interpolate.PchipInterpolator(marched, values)(time)
