"""The cells of a stack as equations, and their march in time.

Finite volumes, so that no heat is lost in the sums; in time TR-BDF2, second order and free of
ripples, with steps that double as things slow down, so that one factorised matrix serves many
steps. Temperatures are rises above the surroundings.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property

import numpy as np
from scipy import interpolate, sparse
from scipy.sparse.linalg import splu

from ..quantities import Numbers
from .mesh import Block, Mesh, Source, film_conductance, half_conductances, links

# TR-BDF2: the trapezium over the first part of a step, then second-order backward differences,
# with the one split that gives both the same matrix.
_DIAGONAL = 1 - math.sqrt(2) / 2
_WEIGHT = math.sqrt(2) / 4
# Where heat capacity varies: most passes of one stage, and the change that counts as none.
_PASSES, _SAME = 40, 1e-14


@dataclass(frozen=True)
class System:
    """The cells as equations: rate of energy = conduction @ rise + spread @ heat.

    ``heat`` has one entry (plateau "mean") or one for each ring ("pointwise"), and meets the
    contact's temperature ``spread.T @ rise + slack @ heat``.

    Attributes
    ----------
    expected : ndarray
        Rise for which conductances, and the capacities of the matrix, are taken. [K]
    capacity : ndarray
        Heat capacity of each cell at rest. [J/K]
    swelling : ndarray
        Growth of that capacity per kelvin of rise, as a share. [1/K]
    leak : ndarray
        Conductance of each cell to the air. [W/K]
    conduction : sparse array
        Flow into each cell for the rise of each, loss to the air included. [W/K]
    share : sparse array
        How each ring's heat divides between the cells below and above. [1]
    give : ndarray
        Rise of each ring's face above its cells, per watt. [K/W]
    ways : ndarray
        Shares in which heat may enter the rings, a column for each way. [1]
    spread : sparse array
        Share of each way's heat that each cell gets. [1]
    slack : ndarray
        Rise of the contact above its cells, by way, per watt let in by each way. [K/W]
    power : ndarray
        Heat made, by way. [W]
    cap : float
        Rise that the contact does not pass. [K]
    """

    expected: np.ndarray
    capacity: np.ndarray
    swelling: np.ndarray
    leak: np.ndarray
    conduction: sparse.csc_array
    share: sparse.csc_array
    give: np.ndarray
    ways: np.ndarray
    spread: sparse.csc_array
    slack: np.ndarray
    power: np.ndarray
    cap: float

    @cached_property
    def gather(self):
        """Mean rise of the cells that each way's heat goes to: the spread, read the other way."""
        return self.spread.T

    @cached_property
    def rings(self):
        """The same for each ring of the contact."""
        return self.share.T

    @cached_property
    def uncapped(self):
        """The same equations before anything chars."""
        return replace(self, cap=math.inf)

    def energy(self, rise):
        """Energy of each cell above rest, in joules."""
        return self.capacity * rise * (1 + self.swelling * rise / 2)

    def warming(self, rise, flow):
        """How fast each cell warms, in kelvin a second."""
        return flow / (self.capacity * (1 + self.swelling * rise))

    def rates(self, rise, heat):
        """Flow into each cell, and loss from each to the air, in watts."""
        return self.conduction @ rise + self.spread @ heat, self.leak * rise

    def contact_rise(self, rise, heat):
        """Rise of each ring of the contact, in kelvin."""
        return self.rings @ rise + self.give * (self.ways @ heat)

    def free_contact(self, rise):
        """Rise of what the cap holds, were all the power let in, in kelvin."""
        return self.gather @ rise + self.slack @ self.power


def _heat_shares(mesh, halves):
    """How heat made on each ring of the contact divides, and what it costs in temperature."""
    under = halves.upper[mesh.row - 1, : mesh.rings]
    above = np.pad(halves.lower, ((0, 1), (0, 0)))[mesh.row, : mesh.rings]
    share = np.zeros((len(halves.lower) + 1, halves.lower.shape[1], mesh.rings))
    ring = np.arange(mesh.rings)
    share[mesh.row - 1, ring, ring] = under / (under + above)
    share[mesh.row, ring, ring] = above / (under + above)
    return share[:-1], 1 / (under + above)


def _ways_in(source, area):
    """Shares in which heat may enter the rings, one column for each way, and the power of each."""
    share = area / area.sum()
    if source.plateau == "mean":
        return share[:, None], np.array([source.power])
    return np.eye(len(area)), source.power * share


def build_system(mesh: Mesh, stack: Sequence[Block], source: Source, rise: np.ndarray) -> System:
    """Write the cells of a stack as equations.

    Parameters
    ----------
    mesh : Mesh
        The cells.
    stack : sequence of Block
        The bodies, from the bottom up.
    source : Source
        Where heat is made.
    rise : ndarray
        Rise of each cell inside, for which conductances are taken. [K]

    Returns
    -------
    System
        The equations.

    References
    ----------
    .. [1] Patankar, Numerical Heat Transfer and Fluid Flow, 1980, ch. 4. (from memory)

    Examples
    --------
    A wall at one temperature and without a film keeps its heat:

    >>> from fireheat.heat.material import Material
    >>> from fireheat.heat.mesh import Block, Grid, Source, build_mesh
    >>> wall, source = Block("wall", Material(0.1, 0.1, 5e5), 0.01, 0.02), Source(0.01, 1.0)
    >>> mesh = build_mesh([wall], source, Grid())
    >>> even = np.full(mesh.inside.sum(), 50.0)
    >>> flow, loss = build_system(mesh, [wall], source, even).rates(even, np.zeros(1))
    >>> bool(np.abs(flow).max() < 1e-9), float(np.abs(loss).max())
    (True, 0.0)
    """
    inside = mesh.inside
    everywhere = np.zeros(inside.shape)
    everywhere[inside] = rise
    halves = half_conductances(mesh, stack, everywhere)
    leak = film_conductance(mesh, stack, halves)[inside]
    share, give = _heat_shares(mesh, halves)
    ways, power = _ways_in(source, mesh.ring_area[: mesh.rings])
    return System(
        expected=rise,
        capacity=_capacity(mesh, stack)[inside],
        swelling=np.take([block.material.capacity_slope for block in stack], mesh.block[inside]),
        leak=leak,
        conduction=_conduction(links(mesh, halves), leak, inside.ravel()),
        share=sparse.csc_array(share[inside]),
        give=give,
        ways=ways,
        spread=sparse.csc_array(share[inside] @ ways),
        slack=ways.T @ (give[:, None] * ways),
        power=power,
        cap=source.rise_char,
    )


def _capacity(mesh, stack):
    volumetric = [block.material.volumetric_heat_capacity for block in stack]
    return np.take(volumetric, mesh.block) * mesh.ring_area * np.diff(mesh.axial)[:, None]


def _conduction(links, leak, inside):
    first, second, conductance = links
    count = len(conductance)
    ends, rows = np.concatenate([first, second]), np.tile(np.arange(count), 2)
    signs = np.repeat([1.0, -1.0], count)
    difference = sparse.csc_array((signs, (rows, ends)), shape=(count, inside.size))[:, inside]
    exchange = difference.T @ sparse.diags_array(conductance) @ difference
    return sparse.csc_array(-exchange - sparse.diags_array(leak))


# ---- time -----------------------------------------------------------------------------------


@dataclass(frozen=True)
class State:
    """The stack at one moment, with how fast it changes.

    Attributes
    ----------
    time : float
        When. [s]
    rise : ndarray
        Rise of each cell. [K]
    heat : ndarray
        Let into the contact, by way. [W]
    flow : ndarray
        Into each cell, all told. [W]
    loss : ndarray
        From each cell to the air. [W]
    lost : ndarray
        The same since the start. [J]
    given : float
        Heat let in since the start. [J]
    contact : ndarray
        Rise of each ring of the contact. [K]
    """

    time: float
    rise: np.ndarray
    heat: np.ndarray
    flow: np.ndarray
    loss: np.ndarray
    lost: np.ndarray
    given: float
    contact: np.ndarray


def _factorised(system, step):
    """Prepare the implicit equation of a step: its solver, and its answer to the contact's heat."""
    part = _DIAGONAL * step
    capacity = system.capacity * (1 + system.swelling * system.expected)
    matrix = sparse.diags_array(capacity) - part * system.conduction
    symmetric = {"SymmetricMode": True}
    solver = splu(matrix.tocsc(), "MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options=symmetric).solve
    answer = part * solver(system.spread.toarray())
    return solver, answer, system.gather @ answer + system.slack


def heat_let_in(system: System, contact: np.ndarray, stiffness: np.ndarray) -> np.ndarray:
    """Heat entering by each way: all of it, or what keeps the contact at charring.

    ``contact`` is the contact's rise without heat, ``stiffness`` what heat adds. Ways are moved
    between free and held until every free one is below the cap and every held one has a surplus.
    """
    heat = system.power
    held = contact + stiffness @ heat > system.cap
    for _ in range(2 * len(heat)):
        if not held.any():
            return system.power
        heat = np.where(held, 0.0, system.power)
        room = (system.cap - contact - stiffness @ heat)[held]
        heat[held] = np.linalg.solve(stiffness[np.ix_(held, held)], room)
        hot = contact + stiffness @ heat > system.cap
        now_held = np.where(held, heat < system.power, hot)
        if np.array_equal(now_held, held):
            break
        held = now_held
    return heat


def _first_state(system, rise):
    heat = heat_let_in(system, system.gather @ rise, system.slack)
    flow, loss = system.rates(rise, heat)
    return State(0.0, rise, heat, flow, loss, 0.0 * loss, 0.0, system.rings @ rise)


def _implicit_stage(system, factor, right):
    """Solve one implicit stage: the rises, and the heat let in.

    Only where capacity varies is there more than one pass: the matrix has the expected capacity,
    and what that misses of the energy is put right until nothing changes.
    """
    solver, answer, stiffness = factor
    rise = system.expected
    for _ in range(_PASSES):
        bend = system.capacity * system.swelling * rise * (system.expected - rise / 2)
        base = solver(right + bend)
        heat = heat_let_in(system, system.gather @ base, stiffness)
        before, rise = rise, base + answer @ heat
        if not system.swelling.any() or np.abs(rise - before).max() <= _SAME * np.abs(rise).max():
            return rise, heat
    raise ArithmeticError("heat capacity varies too much within one time step; use a finer grid")


def _next_state(system, factor, step, now):
    """Take one TR-BDF2 step. All sums have the same weights, so that no heat goes missing."""
    stored = system.energy(now.rise)
    rise, heat = _implicit_stage(system, factor, stored + _DIAGONAL * step * now.flow)
    flow, loss = (
        _WEIGHT * (a + b)
        for a, b in zip(system.rates(rise, heat), (now.flow, now.loss), strict=True)
    )
    given = _WEIGHT * (now.heat + heat).sum()
    rise, heat = _implicit_stage(system, factor, stored + step * flow)
    end_flow, end_loss = system.rates(rise, heat)
    return State(
        time=now.time + step,
        rise=rise,
        heat=heat,
        flow=end_flow,
        loss=end_loss,
        lost=now.lost + step * (loss + _DIAGONAL * end_loss),
        given=now.given + step * (given + _DIAGONAL * heat.sum()),
        contact=system.contact_rise(rise, heat),
    )


def _crossing(system, now, end):
    """Time after ``now`` at which the contact, rising freely to ``end``, reaches charring. [s]."""
    rises = [system.free_contact(state.rise) for state in (now, end)]
    slopes = [system.gather @ system.warming(s.rise, s.flow) for s in (now, end)]
    way = int(np.argmax(rises[1]))
    (low, high), (slope, end_slope) = ([x[way] for x in xs] for xs in (rises, slopes))
    step = end.time - now.time
    curve = interpolate.CubicHermiteSpline([0.0, step], [low, high], [slope, end_slope])
    return float(curve.solve(system.cap, extrapolate=False)[0])


def _step_size(since, first, steps):
    """Length of a step: doubled each time the time since the last change has doubled. [s]."""
    return first * 2 ** max(0, math.floor(math.log2(max(since, first) / (steps * first))))


def _equations(build, rise, varies):
    """Return a function that gives the equations of a step, and their factors.

    Where properties vary they are built afresh for the rise expected halfway through the
    step; otherwise each step size is factorised once.
    """
    if not varies:
        system = build(rise)
        factor = cache(lambda step: _factorised(system, step))
        return lambda states, step: (system, factor(step), states[-1])

    def halfway(states, step):
        now = states[-1]
        change = now.rise - states[-2].rise if len(states) > 1 else 0.0
        last = now.time - states[-2].time if len(states) > 1 else 1.0
        system = build(now.rise + change * step / (2 * last))
        flow, loss = system.rates(now.rise, now.heat)
        return system, _factorised(system, step), replace(now, flow=flow, loss=loss)

    return halfway


def march_states(
    build: Callable[[Numbers], Numbers],
    start: np.ndarray,
    *,
    varies: bool,
    until: float,
    first: float,
    steps: int,
) -> tuple[Numbers, Numbers]:
    """March to the end; land on the moment of first charring, and begin with short steps again.

    Parameters
    ----------
    build : callable
        Gives the :class:`System` for the rises of the cells.
    start : ndarray
        Rises at the start. [SI]
    varies : bool
        Whether conductivity or capacity varies with the rise.
    until : float
        How long. [SI]
    first : float
        Length of the first step. [SI]
    steps : int
        Steps for each doubling of the time.

    Returns
    -------
    states : list of State
        The stack at every step.
    smoke : float
        When the contact first reached its cap; infinite if it did not. [s]

    References
    ----------
    .. [1] Hosea & Shampine, Analysis and implementation of TR-BDF2, Appl. Numer. Math. 20 (1996)
       21: the step used. (from memory)

    Examples
    --------
    One kelvin a second into a lump of one joule a kelvin, up to three kelvin:

    >>> one, none = np.ones((1, 1)), sparse.csc_array((1, 1))
    >>> lump = System(
    ...     expected=np.zeros(1), capacity=np.ones(1), swelling=np.zeros(1), leak=np.zeros(1),
    ...     conduction=none, share=sparse.csc_array(one), give=np.zeros(1), ways=one,
    ...     spread=sparse.csc_array(one), slack=0 * one, power=np.ones(1), cap=3.0,
    ... )
    >>> states, smoke = march_states(
    ...     lambda rise: lump, np.zeros(1), varies=False, until=5.0, first=0.1, steps=4
    ... )
    >>> round(smoke, 9), round(states[-1].rise.item(), 9)
    (3.0, 3.0)
    """
    equations, system = _equations(build, start, varies), build(start)
    states = [_first_state(system, start)]
    smoke = 0.0 if np.any(system.free_contact(start) > system.cap) else math.inf
    while states[-1].time < until or len(states) < 2:
        time = states[-1].time
        step = _step_size(time - smoke if time >= smoke else time, first, steps)
        system, factor, now = equations(states, step)
        held = system if time >= smoke else system.uncapped
        new = _next_state(held, factor, step, now)
        if time < smoke and np.any(system.free_contact(new.rise) > system.cap):
            step = _crossing(system, now, new)
            new = _next_state(held, _factorised(held, step), step, now)
            smoke = new.time
        states.append(new)
    return states, smoke
