"""Wood really taken away under a turning tip: finite volumes round an axis, one layer a step.

A check on the march with wear that shares no formula with it. Until the contact has the wanted
rise, in the mean over the tip, all heat soaks in, spread evenly over the tip. From then on each
step lasts as long as it takes to grind off one layer of both bodies: while a layer goes, the
rubbing face is half-way through it on average, so the layer's middle is the face. Ground cells are
gone, the hole has walls, and the spindle comes down. Time is stepped backward Euler, and how long a
step takes is what is sought; so the heat balance of every step closes. Errors are of first order in
the number of layers, which :func:`extrapolated` takes out.
"""

import itertools
from typing import NamedTuple

import numpy as np
from scipy import optimize, sparse
from scipy.sparse.linalg import splu


class Grid(NamedTuple):
    """How finely to divide, how far the wood goes, and what the hole's walls and contact do."""

    layers: int = 12
    rings: int = 10
    growth: float = 1.3
    reach: float = 0.03  # m
    wall_film: float = 0.0  # W/(m^2 K)
    pointwise: bool = False  # the whole tip at the rise, not only its mean


USUAL = Grid()


class Removed(NamedTuple):
    """When the contact has the rise and when all layers are gone, in s; where the heat is, in J."""

    reached: float
    ember: float
    made: float
    dust: float
    stored: float
    lost: float


class Body:
    """Cells of the board or the spindle, from the face on, and what joins them."""

    def __init__(self, material, edges, worn, film, rings, grid):
        across, along, capacity = material
        self.rings, self.film = rings, film
        self.thick = np.append(np.full(grid.layers, worn), _wider(worn, grid))
        middle, self.area = (edges[1:] + edges[:-1]) / 2, np.pi * np.diff(edges**2)
        self.number = np.arange(self.thick.size * self.area.size).reshape(-1, self.area.size)
        self.capacity = capacity * np.outer(self.thick, self.area)
        self.along = along * self.area
        self.across = across * 2 * np.pi / np.log(middle[1:] / middle[:-1])  # for each metre
        column = min(rings, self.area.size - 1)  # of the cells behind the wall, or under the side
        way = abs(np.log(middle[column] / edges[rings])) / (2 * np.pi * across)
        bare = 2 * np.pi * edges[rings] * film
        self.leak = bare / (1 + bare * way)  # for each metre

    def links(self, gone, going, face):
        """Pairs of cells and their conductances; ``going``: the next layer's middle is the face."""
        tip, number = slice(self.rings), self.number.copy()
        left, part = np.ones(number.shape, bool), np.outer(self.thick, np.ones(self.area.size))
        left[:gone, tip] = False
        if going:
            number[gone, tip], part[gone, tip] = face, part[gone, tip] / 2
        else:
            yield face, number[gone, tip], 2 * self.along[tip] / self.thick[gone]
        there = left[:, 1:] & left[:, :-1]
        beside = self.across * np.minimum(part[:, 1:], part[:, :-1])
        yield number[:, :-1][there], number[:, 1:][there], beside[there]
        there = left[1:] & left[:-1]
        below = 2 * self.along / (self.thick[1:] + self.thick[:-1])[:, np.newaxis]
        yield number[:-1][there], number[1:][there], below[there]

    def losses(self, gone, going, face):
        """Cells that touch the air, and their conductance: a spindle's side, a hole's wall."""
        whole = self.thick * (np.arange(self.thick.size) >= gone)
        whole[gone] *= 1 - going / 2
        if self.area.size > self.rings:
            return self.number[:, self.rings], self.leak * (self.thick - whole)
        cells = self.number[:, -1].copy()
        if going:
            cells[gone] = face[-1]
        return cells, self.leak * whole

    def held(self, gone):
        """Heat capacity of what is left."""
        left = self.capacity.copy()
        left[:gone, : self.rings] = 0
        return left


def _wider(finest, grid):
    """Cells each wider than the one before, as far as the wood goes."""
    growth = grid.growth
    count = int(np.ceil(np.log1p((growth - 1) * grid.reach / finest) / np.log(growth)))
    return finest * growth ** np.arange(1, count + 1)


class Stack:
    """Board and spindle, joined at the rings of the contact."""

    def __init__(self, kit, grid):
        self.rise, self.grid = kit["rise"], grid
        roots = (np.sqrt(kit[body][1] * kit[body][2]) for body in ("board", "spindle"))
        self.effusivity = np.pi * kit["radius"] ** 2 * sum(roots)  # times area
        inner = kit["radius"] * (1 - np.linspace(1, 0, grid.rings + 1) ** 1.5)  # finer at the rim
        outer = np.append(inner, inner[-1] + np.cumsum(_wider(inner[-1] - inner[-2], grid)))
        worn = (
            kit["depth"] / grid.layers * np.array([1 - kit["spindle_share"], kit["spindle_share"]])
        )
        self.board = Body(kit["board"], outer, worn[0], grid.wall_film, grid.rings, grid)
        self.spindle = Body(kit["spindle"], inner, worn[1], kit["film"], grid.rings, grid)
        self.bodies = self.board, self.spindle
        self.spindle.number += self.board.number.size
        self.cells = self.board.number.size + self.spindle.number.size
        self.face = np.arange(self.cells, self.cells + grid.rings)
        self.tip = self.spindle.area / self.spindle.area.sum()

    def settle(self, gone, going):
        """Take so many layers away: set conduction, losses and capacities."""
        size = self.cells + self.grid.rings
        links = [link for body in self.bodies for link in body.links(gone, going, self.face)]
        one, other, value = map(np.concatenate, zip(*links, strict=True))
        matrix = sparse.coo_array((value, (one, other)), shape=(size, size)).tocsr()
        matrix = matrix + matrix.T
        self.conduction = sparse.diags_array(matrix.sum(axis=1)) - matrix
        self.loss, self.held = np.zeros(size), np.zeros(size)
        for body in self.bodies:
            np.add.at(self.loss, *body.losses(gone, going, self.face))
            self.held[body.number] = body.held(gone + going)

    def step(self, rise, lasting, power=None):
        """Rises a step later, and the power let in: what holds the contact, if none is given."""
        idle = (self.conduction.diagonal() == 0) * 1.0  # cells that are gone
        matrix = self.conduction + sparse.diags_array(self.held / lasting + self.loss + idle)
        right = self.held * rise / lasting
        if self.grid.pointwise and power is None:
            return self._held_all_over(matrix.tocsc(), right)
        even = np.zeros_like(right)
        even[self.face] = self.tip
        solve = splu(matrix.tocsc()).solve
        base, answer = solve(right), solve(even)
        if power is None:
            power = (self.rise - even @ base) / (even @ answer)
        return base + power * answer, power

    def _held_all_over(self, matrix, right):
        inside = slice(self.cells)
        new = np.full(right.size, self.rise)
        pull = matrix[inside, self.cells :] @ new[self.cells :]
        new[inside] = splu(matrix[inside, inside].tocsc()).solve(right[inside] - pull)
        return new, (matrix @ new - right)[self.face].sum()

    def contact(self, rise):
        return self.tip @ rise[self.face]


def removing(kit, grid=USUAL):
    """March one kit until all its layers are ground off.

    ``kit``, all SI: power, rise, energy, depth, radius, film, spindle_share, and ``board``,
    ``spindle`` = (conductivity across, along, heat capacity of a volume).
    """
    stack = Stack(kit, grid)
    time, rise, lost = _warmed(stack, kit["power"], 4 * grid.layers)
    reached, lasting = time, time / grid.layers
    for gone in range(grid.layers):
        whole = stack.held @ rise
        stack.settle(gone, going=True)
        price = kit["energy"] / grid.layers - (whole - stack.held @ rise)  # part is warm already

        def spared(lasting, rise=rise, price=price):
            return (kit["power"] - stack.step(rise, lasting)[1]) * lasting - price

        lasting = _root(spared, lasting)
        rise = stack.step(rise, lasting)[0]
        time, lost = time + lasting, lost + lasting * (stack.loss @ rise)
    stored = stack.held @ rise
    return Removed(reached, time, kit["power"] * time, kit["energy"], float(stored), float(lost))


def _warmed(stack, power, steps):
    """Let all heat soak in until the contact has the rise; the last step ends there."""
    stack.settle(0, going=False)
    time, lost, rise = 0.0, 0.0, np.zeros(stack.held.size)
    plane = np.pi / 4 * (stack.rise / power * stack.effusivity) ** 2  # if both faces were plane
    first = plane / steps**2
    for number in itertools.count(1):  # the rise begins like a root: steps grow with time
        lasting = first * (2 * number - 1)

        def short(lasting, rise=rise):
            return stack.contact(stack.step(rise, lasting, power)[0]) - stack.rise

        done = short(lasting) >= 0
        if done:
            lasting = optimize.brentq(short, 1e-6 * lasting, lasting, rtol=1e-9)
        rise = stack.step(rise, lasting, power)[0]
        time, lost = time + lasting, lost + lasting * (stack.loss @ rise)
        if done:
            return time, rise, lost
    return None


def _root(function, guess):
    low = high = guess
    while function(low) > 0:
        low /= 2
    while function(high) < 0:
        high *= 2
    return optimize.brentq(function, low, high, rtol=1e-9)


def extrapolated(kit, grid=USUAL):
    """Both times with the error of first order taken out, and how much that was of the ember."""
    coarse, fine = (removing(kit, grid._replace(layers=n * grid.layers)) for n in (1, 2))
    reached, ember = (2 * fine[i] - coarse[i] for i in (0, 1))
    return reached, ember, fine.ember / ember - 1
