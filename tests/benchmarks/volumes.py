"""Time the heat map, alone and beside FiPy on the same problem.

Run: python tests/benchmarks/volumes.py    (FiPy: pip install fipy; without it, the rest is timed)

Two problems. The disc on thick wood has an exact answer (Carslaw & Jaeger, section 10.5, from
memory), so that the errors of both can be printed and FiPy's grid and steps chosen until its error
is no more than ours. The kit, an L-shaped body with films, shows that both give the same answer.
FiPy: Guyer, Wheeler & Warren, FiPy: partial differential equations with Python, Computing in
Science & Engineering 11 (2009) 6.
"""

import math
import time
from dataclasses import replace
from itertools import pairwise

import numpy as np
from scipy import integrate, special

from fireheat.heat.contact import Contact
from fireheat.heat.material import Material
from fireheat.heat.mesh import Block, Grid, Source
from fireheat.heat.volumes import drill, solve

POWER, RADIUS, CONDUCTIVITY, CAPACITY = 10.0, 0.0065, 0.12, 6e5
SPINDLE = Material(CONDUCTIVITY, 0.22, CAPACITY)
BOARD = Material(CONDUCTIVITY, CONDUCTIVITY, CAPACITY)
CONTACT = Contact(radius=RADIUS, length=0.15, film=10.0, spindle=SPINDLE, board=BOARD)
KIT = {"contact": CONTACT, "power": POWER, "board_thickness": 0.015, "board_radius": 0.04}
LOOKS = np.array([1.0, 3.0, 10.0, 30.0])


def timed(call, repeats=3):
    """Best wall-clock time of a few, and what was returned."""
    best = math.inf
    for _ in range(repeats):
        start = time.perf_counter()
        result = call()
        best = min(best, time.perf_counter() - start)
    return best, result


def exact_disc_mean(moment):
    """Mean rise of a disc under even flux on a half-space."""
    fourier = CONDUCTIVITY / CAPACITY * moment / RADIUS**2
    pieces = np.linspace(0.0, 2000.0, 101)
    total = 1 / (2 * math.pi * 2000.0**2) + sum(
        integrate.quad(
            lambda x: special.j1(x) ** 2 * special.erf(x * math.sqrt(fourier)) / x**2, a, b
        )[0]
        for a, b in pairwise(pieces)
    )
    return 2 * POWER / (math.pi * RADIUS * CONDUCTIVITY) * total


def disc(grid):
    """Solve the disc on thick wood here."""
    board = Block("board", BOARD, 20 * RADIUS, 20 * RADIUS)
    return solve([board], source=Source(RADIUS, POWER), time=LOOKS, grid=grid)


def fipy_march(run, conductivity, capacity, film, heat, growth):
    """Solve the same cells in FiPy by backward Euler with growing steps; return the rises.

    ``conductivity`` is (across, along) and like ``capacity`` [J/(m^3 K)] given for each cell;
    ``film`` [W/(m^3 K)] and ``heat`` [W/m^3] are spread over the cells that they touch.
    """
    import fipy

    mesh = fipy.CylindricalGrid2D(dr=np.diff(run.radial_edges), dz=np.diff(run.axial_edges))
    cell = {
        name: fipy.CellVariable(mesh=mesh, value=np.ravel(value))
        for name, value in {
            "rise": np.zeros(run.inside.shape),
            "across": conductivity[0],
            "along": conductivity[1],
            "capacity": capacity,
            "film": film,
            "heat": heat,
        }.items()
    }
    sideways = np.abs(np.asarray(mesh.faceNormals)[0]) > 0.5
    faces = np.where(
        sideways, cell["across"].harmonicFaceValue.value, cell["along"].harmonicFaceValue.value
    )
    equation = fipy.TransientTerm(coeff=cell["capacity"]) == (
        fipy.DiffusionTerm(coeff=fipy.FaceVariable(mesh=mesh, value=faces))
        - fipy.ImplicitSourceTerm(coeff=cell["film"])
        + cell["heat"]
    )
    solver = fipy.LinearLUSolver()
    now, step, pictures = 0.0, min(0.01, growth), []
    for look in LOOKS:
        while now < look * (1 - 1e-9):
            step = max(step, growth * now)
            taken = min(step, look - now)
            equation.solve(var=cell["rise"], dt=taken, solver=solver)
            now += taken
        pictures.append(cell["rise"].value.reshape(run.inside.shape).copy())
    return np.array(pictures)


def volumes(run):
    """Volume of each cell."""
    return np.diff(run.axial_edges)[:, None] * math.pi * np.diff(run.radial_edges**2)


def fipy_disc(grid, growth):
    """Solve the disc on thick wood in FiPy; return its mean contact rise, and how many cells."""
    run = disc(grid)
    full = np.ones(run.inside.shape)
    rings = len(run.contact_radius)
    flux = POWER / (math.pi * RADIUS**2)
    heat = np.zeros(full.shape)
    top = run.axial_edges[-1] - run.axial_edges[-2]
    heat[-1, :rings] = flux / top
    wood = CONDUCTIVITY * full
    rise = fipy_march(run, (wood, wood), CAPACITY * full, 0 * full, heat, growth)
    area = np.diff(run.radial_edges[: rings + 1] ** 2)
    return rise[:, -1, :rings] @ area / area.sum() + flux * top / 2 / CONDUCTIVITY, full.size


def fipy_kit(run, growth):
    """Solve the kit in FiPy, outside cells kept from conducting; return the rises."""
    rings, row = len(run.contact_radius), int(np.searchsorted(run.axial_edges, 0.0))
    spindle = np.arange(len(run.axial))[:, None] >= row
    nothing = 1e-12
    across = np.where(run.inside, CONDUCTIVITY, nothing)
    along = np.where(run.inside, np.where(spindle, 0.22, CONDUCTIVITY), nothing)
    height, ring = np.diff(run.axial_edges)[:, None], math.pi * np.diff(run.radial_edges**2)
    framed = np.pad(run.inside, 1)
    side, top, bottom = ~framed[1:-1, 2:], ~framed[2:, 1:-1], ~framed[:-2, 1:-1]
    around = 2 * math.pi * run.radial_edges[1:] * height
    width = np.diff(run.radial_edges)
    film = side * around / (0.1 + width / 2 / across) + (top * 1.0 + bottom) * ring / (
        0.1 + height / 2 / along
    )
    heat = np.zeros(run.inside.shape)
    half = along[row - 1 : row + 1, 0] / height[row - 1 : row + 1, 0]
    flux = POWER / (math.pi * RADIUS**2)
    heat[row - 1, :rings], heat[row, :rings] = flux * half / half.sum() / height[[row - 1, row], 0]
    film = np.where(run.inside, film, 0.0) / volumes(run)
    return fipy_march(run, (across, along), CAPACITY + 0 * across, film, heat, growth)


def report_ours():
    """Print how long a kit takes, and what a finer grid would change."""
    looks = np.linspace(2.0, 120.0, 60)
    spindle, board = (replace(body, conductivity_slope=0.0025) for body in (SPINDLE, BOARD))
    finest = drill(looks, **KIT, grid=Grid().refined(4)).contact_mean
    print("One kit, 120 s, 60 pictures")
    for name, more in {
        "conduction only": {},
        "held at charring (mean)": {"rise_char": 280.0},
        "held at charring (ring by ring)": {"rise_char": 280.0, "plateau": "pointwise"},
        "conductivity growing with heat": {
            "contact": replace(CONTACT, spindle=spindle, board=board)
        },
    }.items():
        seconds, run = timed(lambda more=more: drill(looks, **KIT | more))
        print(f"  {name:32s} {seconds:6.3f} s  {run.inside.sum()} cells")
    error = np.abs(drill(looks, **KIT).contact_mean / finest - 1).max()
    print(f"  contact rise against a grid four times as fine: within {error:.2%}\n")


def report_disc():
    """Print time and error of both on the disc with the exact answer."""
    exact = np.array([exact_disc_mean(moment) for moment in LOOKS])
    seconds, run = timed(lambda: disc(Grid()))
    ours = np.abs(run.contact_mean / exact - 1).max()
    print(f"Disc on thick wood, mean contact rise, worst error of those at {LOOKS} s")
    print(f"  here {run.inside.sum():6d} cells            {seconds:8.3f} s   error {ours:.3%}")
    for times, growth in ((1, 0.3), (1, 0.1), (1, 0.03), (2, 0.1), (2, 0.03), (2, 0.01)):
        grid = Grid().refined(times)
        took, (mean, cells) = timed(lambda g=grid, h=growth: fipy_disc(g, h), repeats=1)
        error = np.abs(mean / exact - 1).max()
        print(
            f"  FiPy {cells:6d} cells, step {growth:4.0%} {took:8.3f} s   error {error:.3%}"
            f"   {took / seconds:5.0f} times as long"
        )
        if error <= ours:
            break
    print()


def furthest(run, rise):
    """How far the rises are apart in any cell at any look, over the hottest."""
    return np.abs(rise - run.rise)[:, run.inside].max() / run.rise.max()


def report_kit():
    """Print time of both on the kit, and how far apart they are."""
    print(f"The kit at {LOOKS} s, every cell")
    for times, growth in ((1, 0.03), (2, 0.01)):
        seconds, run = timed(lambda n=times: drill(LOOKS, **KIT, grid=Grid().refined(n)))
        took, rise = timed(lambda run=run, h=growth: fipy_kit(run, h), repeats=1)
        print(
            f"  here {seconds:.3f} s, FiPy {took:.2f} s, {took / seconds:.0f} times as long;"
            f" furthest apart {furthest(run, rise):.2%} of the hottest"
        )


if __name__ == "__main__":
    report_ours()
    try:
        import fipy  # noqa: F401
    except ImportError:
        print("FiPy is not installed: nothing to stand beside.")
    else:
        report_disc()
        report_kit()
