"""Wood that conducts and holds as it is warm, worn away under a tip: many tries at once, stepped.

Another way to the ember that shares no formula with the march with wear: no Laplace transform, no
superposition, no mean properties. Both bodies are divided into slices that travel with the rubbing
face. The spindle is a rod with a film at its side; the board opens like a horn, so that early and
in the end as much gets through as into a half-space under an evenly heated disc. Conductivity and
heat capacity of each slice are those of its own temperature. Time is stepped backward Euler, each
step a fixed part of the time gone by, and the speed of wear is sought in every step.

What it leaves out: a hole's bottom draws more than a face on top, which makes its embers early.
"""

from typing import NamedTuple

import numpy as np

from fireheat.kit.wood import conductivity, density, energy_parts, heat_capacity

CELLS, GROWTH, FINEST = 24, 1.28, 0.05  # of the way that heat goes until a plane face is hot
EDGE, FAR = 2 / np.pi, 2.15  # of a disc on a half-space: what early leaves its edge; steady state
STEP, START = 0.08, 2e-3  # of the time gone by; of the time until a plane face is hot
LATEST = 4e4  # s
STEAM = 0.02  # dust takes at least so much more than its wood held


class Bodies(NamedTuple):
    """Tries side by side, in the last axis; all SI."""

    power: np.ndarray
    radius: np.ndarray
    depth: np.ndarray
    spindle_share: np.ndarray
    film: np.ndarray
    specific_gravity: np.ndarray
    moisture: np.ndarray
    conducting: np.ndarray  # a factor on conductivity
    axial_factor: np.ndarray
    energy: np.ndarray  # a factor on what dust takes
    ambient: np.ndarray
    smoke: np.ndarray
    char: np.ndarray

    def only(self, which):
        return Bodies(*(value[which] for value in self))


class Wood(NamedTuple):
    """Straight lines in the rise, and what a volume of dust takes beyond what it held."""

    across: tuple
    capacity: tuple
    price: np.ndarray


def wood_of(tries):
    """Properties of each try's wood, from the handbook's formulas at both ends of the rise."""
    rise = tries.char - tries.ambient
    kept = {"moisture": tries.moisture}

    def line(formula):
        ends = [formula(temperature) for temperature in (tries.ambient, tries.char)]
        return ends[0], (ends[1] - ends[0]) / rise

    across = line(lambda kelvin: conductivity(tries.specific_gravity, temperature=kelvin, **kept))
    dry = density(tries.specific_gravity)
    capacity = line(lambda kelvin: dry * (1 + tries.moisture) * heat_capacity(kelvin, **kept))
    energy = energy_parts(
        np.ones_like(dry),
        density=dry,
        temperature_ambient=tries.ambient,
        temperature_char=tries.char,
        **kept,
    )
    taken = tries.energy * energy.total
    held = rise * (capacity[0] + capacity[1] * rise / 2)
    fits = np.minimum(1, taken / held)  # no wood holds more than its dust leaves with
    return Wood(
        tuple(tries.conducting * term for term in across),
        tuple(fits * term for term in capacity),
        np.maximum(taken - fits * held, STEAM * held),
    )


class Slices:
    """One body in slices from its face on: sizes do not change, for they travel with the face."""

    def __init__(self, finest, opens, tries, *, more, leaks):
        size = finest * GROWTH ** np.arange(CELLS)[:, np.newaxis]
        edge = np.concatenate([0 * size[:1], np.cumsum(size, axis=0)])
        middle = (edge[1:] + edge[:-1]) / 2
        place = np.concatenate([edge[:1], middle])
        self.volume = np.diff(_room(edge, opens, tries.radius), axis=0)
        area = _opening(place, opens, tries.radius)
        self.area = area[1:]
        self.way = np.diff(place, axis=0) / np.sqrt(area[1:] * area[:-1])
        self.more, self.leaks, self.radius = more, leaks, tries.radius
        self.side = 2 * np.pi * tries.radius * size * leaks
        self.film = tries.film
        # a face between two slices lies nearer the smaller one
        self.near = size[1:] / (size[1:] + size[:-1])

    def only(self, which):
        kept = object.__new__(Slices)
        for name, value in vars(self).items():
            kept.__dict__[name] = value[..., which] if np.ndim(value) else value
        return kept

    def step(self, rise, face, wood, wear, lasting):
        """Heat let in at the face, as a line in the face's rise; and the new rises, likewise."""
        warm = np.concatenate([face[np.newaxis], rise])
        across = wood.across[0] + wood.across[1] * warm
        link = self.more * (across[1:] + across[:-1]) / 2 / self.way
        held = (wood.capacity[0] + wood.capacity[1] * rise) * self.volume / lasting
        film = self.film / (1 + self.film * self.radius / (4 * across[1:]))
        carried = (wood.capacity[0] + wood.capacity[1] * rise) * self.area * wear
        below, above = -link.copy(), np.zeros_like(link)
        above[:-1] = -link[1:]
        diagonal = held + link + self.side * film
        diagonal[:-1] += link[1:]
        # wood comes toward the face: each slice gains its far edge's rise and loses its near one's
        near = self.near
        diagonal[:-1] -= carried[:-1] * near
        above[:-1] -= carried[:-1] * (1 - near)
        below[1:] += carried[1:] * near
        diagonal[1:] += carried[1:] * (1 - near)
        below[0] += carried[0]
        base, unit = _solved(below, diagonal, above, held * rise)
        return -link[0] * base[0], link[0] * (1 - unit[0]), base, unit


def _opening(depth, opens, radius):
    """Area through which heat goes at a depth: the edge at first, half a sphere in the end."""
    deep = opens * depth
    return np.pi * (radius**2 + 2 * EDGE * radius * deep + FAR * deep**2)


def _room(depth, opens, radius):
    """What lies before that depth."""
    deep = opens * depth
    return np.pi * depth * (radius**2 + EDGE * radius * deep + FAR * deep**2 / 3)


def _solved(below, diagonal, above, right):
    """Solve the slices for no rise of the face, and for what one kelvin of the face adds."""
    base, unit, upper = right.copy(), np.zeros_like(right), np.zeros_like(right)
    unit[0] = -below[0]
    pivot = diagonal[0]
    for row in range(len(right)):
        if row:
            pivot = diagonal[row] - below[row] * upper[row - 1]
            base[row] -= below[row] * base[row - 1]
            unit[row] = -below[row] * unit[row - 1]
        upper[row] = above[row] / pivot
        base[row] /= pivot
        unit[row] /= pivot
    for row in range(len(right) - 2, -1, -1):
        base[row] -= upper[row] * base[row + 1]
        unit[row] -= upper[row] * unit[row + 1]
    return base, unit


class March:
    """Tries that still go on."""

    def __init__(self, tries):
        self.tries, self.wood = tries, wood_of(tries)
        hot = tries.char - tries.ambient
        across = self.wood.across[0] + self.wood.across[1] * hot / 2
        capacity = self.wood.capacity[0] + self.wood.capacity[1] * hot / 2
        root = np.sqrt(across * capacity) * (1 + np.sqrt(tries.axial_factor))
        self.tip = np.pi * tries.radius**2
        plane = np.pi / 4 * (root * hot * self.tip / tries.power) ** 2
        finest = FINEST * np.sqrt(across / capacity * plane)
        opens = tries.axial_factor**0.25
        along = tries.axial_factor
        self.board = Slices(finest, opens, tries, more=np.ones_like(along), leaks=0.0)
        self.spindle = Slices(np.sqrt(along) * finest, 0.0, tries, more=along, leaks=1.0)
        self.time = START * plane
        self.warm = [np.zeros((CELLS, hot.size)) for _ in range(2)]
        self.face, self.wear, self.worn = np.zeros_like(hot), np.zeros_like(hot), np.zeros_like(hot)
        self.slope = self.tip * (self.wood.price + capacity * hot)

    def only(self, which):
        kept = object.__new__(March)
        kept.tries, kept.warm = self.tries.only(which), [warm[:, which] for warm in self.warm]
        kept.board, kept.spindle = self.board.only(which), self.spindle.only(which)
        wood = self.wood
        kept.wood = Wood(
            tuple(term[which] for term in wood.across),
            tuple(term[which] for term in wood.capacity),
            wood.price[which],
        )
        for name in ("tip", "time", "face", "wear", "worn", "slope"):
            setattr(kept, name, getattr(self, name)[which])
        return kept

    def heat(self, wear, lasting):
        """What spindle and board take in, as a line in the face's rise; with their new rises."""
        shares = self.tries.spindle_share, 1 - self.tries.spindle_share
        found = [
            body.step(warm, self.face, self.wood, wear * share, lasting)
            for body, warm, share in zip((self.spindle, self.board), self.warm, shares, strict=True)
        ]
        return found[0][0] + found[1][0], found[0][1] + found[1][1], [one[2:] for one in found]

    def step(self):
        """Go on by a part of the time gone by."""
        lasting, hot = STEP * self.time, self.tries.char - self.tries.ambient
        wear, before = self.wear, None
        for _ in range(3):
            start, growth, bodies = self.heat(wear, lasting)
            face = np.minimum((self.tries.power - start) / growth, hot)
            spare = self.tries.power - start - growth * face - wear * self.tip * self.wood.price
            spare = np.where(face < hot, 0.0, spare)
            if before is not None:
                moved = wear - before[0]
                change = np.divide(
                    before[1] - spare, moved, out=self.slope.copy(), where=abs(moved) > 1e-12
                )
                self.slope = np.where(change > 0, change, self.slope)
            before = wear, spare
            wear = np.where(face < hot, 0.0, np.maximum(wear + spare / self.slope, 0.0))
        self.face, self.wear = face, wear
        self.warm = [base + unit * face for base, unit in bodies]
        self.worn = self.worn + wear * lasting
        self.time = self.time + lasting


def horn(tries):
    """First smoke and the ember of tries in which nothing is left to luck, in s."""
    size = tries.power.size
    smoke, ember = np.full(size, np.inf), np.full(size, np.inf)
    march, number = March(tries), np.arange(size)
    while number.size:
        time, face, worn = march.time, march.face, march.worn
        march.step()
        now, wanted = march.time, march.tries.smoke - march.tries.ambient
        fresh = (march.face >= wanted) & (face < wanted)
        smoke[number[fresh]] = _between(fresh, (face, wanted, march.face), (time, now))
        done = march.worn >= march.tries.depth
        ember[number[done]] = _between(done, (worn, march.tries.depth, march.worn), (time, now))
        left = ~done & (now < LATEST)
        if not np.all(left):
            march, number = march.only(left), number[left]
    return smoke, ember


def _between(which, values, times):
    """When the middle one of three values was passed, of the times of the outer two."""
    (before, wanted, after), (start, end) = (
        [one[which] for one in many] for many in (values, times)
    )
    return start + (wanted - before) / (after - before) * (end - start)
