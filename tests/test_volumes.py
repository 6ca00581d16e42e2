"""The finite-volume solver against exact solutions, an outside library, and its own bookkeeping."""

import math
from dataclasses import replace
from itertools import pairwise
from types import SimpleNamespace

import numpy as np
import pytest
from oracles.volumes import ember_time
from pychemengg.heattransfer import transient
from scipy import integrate, optimize, special

from fireheat.heat.contact import Contact, side_film
from fireheat.heat.march import march
from fireheat.heat.material import Material
from fireheat.heat.mesh import Block, Grid, Source
from fireheat.heat.stepping import heat_let_in
from fireheat.heat.volumes import drill, solve
from fireheat.quantities import InputError

WOOD = Material(0.12, 0.12, 6e5)
ALPHA = 0.12 / 6e5
RADIUS = 0.0065
FLUX = 10.0 / (math.pi * RADIUS**2)  # of ten watts
SPINDLE = Material(0.12, 0.22, 6e5)
KIT = Contact(radius=RADIUS, length=0.15, film=10.0, spindle=SPINDLE, board=WOOD)
BOARD = {"board_thickness": 0.015, "board_radius": 0.04}
TIMES = np.array([1.0, 3.0, 10.0, 30.0, 100.0, 300.0])


def half_space(source_radius=RADIUS, size=30.0, material=WOOD, **more):
    """Make a block so large beside the source that its far faces stay cold."""
    return Block("board", material, size * source_radius, size * source_radius, **more)


def wall(thickness=0.3, material=WOOD, radius=0.02, **more):
    """Make a block as wide as its source: heat runs straight down."""
    return Block("wall", material, radius, thickness, **more)


def share_missing(run):
    """Energy that is neither in a block, nor in the air, nor in dust, over the energy made."""
    found = run.stored.sum(axis=1) + run.lost.sum(axis=1) + run.dust
    return (found - run.power * run.time) / (run.power * run.time)


def disc_centre_exact(time):
    """Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., section 10.5. (from memory)."""
    reach = np.sqrt(ALPHA * time)
    x = RADIUS / (2 * reach)
    ierfc = np.exp(-(x**2)) / math.sqrt(math.pi) - x * special.erfc(x)
    return 2 * FLUX * reach / WOOD.conductivity_axial * (1 / math.sqrt(math.pi) - ierfc)


def disc_mean_exact(time):
    """As above: 2 q a/k times the integral of J1(x)^2 erf(x sqrt(Fo))/x^2. (from memory)."""
    end = 2000.0
    fourier = ALPHA * time / RADIUS**2

    def integrand(x):
        return special.j1(x) ** 2 * special.erf(x * math.sqrt(fourier)) / x**2

    pieces = np.linspace(0.0, end, 101)
    total = sum(
        integrate.quad(integrand, low, high, limit=200)[0] for low, high in pairwise(pieces)
    )
    tail = 1 / (2 * math.pi * end**2)  # there J1^2 is 1/(pi x) on average
    return 2 * FLUX * RADIUS / WOOD.conductivity_axial * (total + tail)


# ---- order of accuracy, and exact solutions -------------------------------------------------


def test_the_mean_rise_of_a_disc_on_thick_wood_is_the_exact_one():
    run = solve([half_space()], source=Source(RADIUS, 10.0), time=TIMES)
    exact = [disc_mean_exact(time) for time in TIMES]
    np.testing.assert_allclose(run.contact_mean, exact, rtol=4e-3)


def test_the_centre_of_a_disc_on_thick_wood_is_the_exact_one():
    run = solve([half_space()], source=Source(RADIUS, 10.0), time=TIMES, grid=Grid().refined(3))
    np.testing.assert_allclose(run.contact_rise[:, 0], disc_centre_exact(TIMES), rtol=2e-3)


def test_a_grid_twice_as_fine_has_a_quarter_of_the_error():
    exact = disc_mean_exact(10.0)
    coarse = Grid(finest=0.04, finest_radial=0.08, growth=0.4, steps=4)
    errors = [
        abs(
            solve([half_space()], source=Source(RADIUS, 10.0), time=10.0, grid=grid).contact_mean[0]
            - exact
        )
        for grid in (coarse, coarse.refined(2), coarse.refined(4))
    ]
    orders = np.log2(errors[:-1]) - np.log2(errors[1:])
    assert np.all(orders > 1.6)


def test_steps_twice_as_short_have_a_quarter_of_the_error():
    def cooled(steps):
        hot = Block("ember", WOOD, RADIUS, 0.004, initial_rise=500.0)
        stack = [half_space(size=10.0), hot]
        grid = Grid(finest=0.05, finest_radial=0.1, growth=0.4, steps=steps)
        return solve(stack, source=Source(RADIUS, 0.0), time=10.0, grid=grid).rise

    exact = cooled(256)
    errors = [np.abs(cooled(steps) - exact).max() for steps in (4, 8, 16)]
    orders = np.log2(errors[:-1]) - np.log2(errors[1:])
    assert np.all(orders > 1.8)


@pytest.mark.parametrize(("fourier", "centre", "mean"), [(0.1, 0.35288, 0.29398)])
def test_an_early_disc_has_the_shape_of_the_textbooks_formula(fourier, centre, mean):
    # Carslaw & Jaeger, section 10.5, from memory, prints a formula; digits worked from it here.
    time = fourier * RADIUS**2 / ALPHA
    run = solve([half_space()], source=Source(RADIUS, 10.0), time=time, grid=Grid().refined(2))
    scale = FLUX * RADIUS / WOOD.conductivity_axial
    assert run.contact_rise[0, 0] / scale == pytest.approx(centre, rel=2e-3)
    assert run.contact_mean[0] / scale == pytest.approx(mean, rel=2e-3)


def test_an_even_disc_settles_at_eight_over_three_pi():
    # Carslaw & Jaeger, section 10.5. (from memory). What is missing falls as 1/sqrt(time).
    time = 1e6 * RADIUS**2 / ALPHA
    run = solve([half_space(size=1e4)], source=Source(RADIUS, 10.0), time=time)
    late = 1 / math.sqrt(math.pi * 1e6)
    scale = FLUX * RADIUS / WOOD.conductivity_axial
    assert run.contact_mean[0] / scale == pytest.approx(8 / (3 * math.pi) - late / 2, rel=2e-3)


def test_a_disc_held_at_one_temperature_settles_at_four_conductivity_radius():
    # Shape factor of an isothermal disc on a half-space, 4 a k: Incropera et al., Fundamentals of
    # Heat and Mass Transfer, table of conduction shape factors. k 0.30, a 5 mm: 166.67 K/W.
    material, radius = Material(0.30, 0.30, 6e5), 0.005
    block = half_space(radius, 1e4, material)
    held = Source(radius, 1e4, rise_char=100.0, plateau="pointwise")
    time = 1e4 * radius**2 / (0.30 / 6e5)
    run = solve([block], source=held, time=time, grid=Grid(finest_radial=0.005))
    late = 2 / math.pi**1.5 / math.sqrt(1e4)  # what a point source has yet to warm, far out
    assert 100.0 / run.power_in[0] / (1 - late) == pytest.approx(166.67, rel=4e-3)


def test_a_thick_wall_under_steady_heat_warms_as_in_the_handbook():
    # Cengel & Ghajar, Heat and Mass Transfer, the example of a wood block: 148.55 degC after 20 min
    # under 1250 W/m^2 from 20 degC; PyPI pychemengg carries the formula.
    outside = transient.SemiInfinite(
        boundarycondition="heatflux_specified",
        xposition_tofindtemp=0.0,
        time=1200.0,
        thermalconductivity=0.159,
        thermaldiffusivity=1.75e-7,
        heatflux=1250.0,
        T_initial=20.0,
    ).calc_temperature()
    radius = 0.02
    block = wall(material=Material(0.159, 0.159, 0.159 / 1.75e-7), radius=radius)
    run = solve([block], source=Source(radius, 1250.0 * math.pi * radius**2), time=1200.0)
    assert 20 + run.contact_mean[0] == pytest.approx(148.55, abs=0.05)
    assert 20 + run.contact_mean[0] == pytest.approx(outside, abs=0.05)


def test_a_short_cylinder_cools_as_slab_times_cylinder():
    # Product solution, Cengel & Ghajar, Heat and Mass Transfer, ch. 4 (from memory); its two
    # factors from PyPI pychemengg. Two halves laid together make the whole.
    radius, thickness, film, along, across, capacity, time = 0.01, 0.03, 40.0, 0.3, 0.15, 6e5, 90.0
    common = {"heattransfercoefficient": film, "T_infinity": 0.0, "T_initial": 1.0}
    slab = transient.NonLumpedSlab(
        thickness=thickness,
        thermalconductivity=along,
        thermaldiffusivity=along / capacity,
        **common,
    )
    rod = transient.NonLumpedCylinder(
        radius=radius,
        thermalconductivity=across,
        thermaldiffusivity=across / capacity,
        **common,
    )
    for part in (slab, rod):
        part.calc_Bi()
        part.calc_Fo(time=time)
        part.calc_eigenvalues(numberof_eigenvalues_desired=20)
    half = Block("half", Material(across, along, capacity), radius, thickness / 2, film, 1.0)
    grid = Grid(0.02, 0.02, 0.05, 16)
    run = solve([half, half], source=Source(radius, 0.0), time=time, grid=grid)
    exact = np.outer(
        [slab.calc_temperature_of_solid_at_time_t(xposition_tofindtemp=z) for z in run.axial],
        [rod.calc_temperature_of_solid_at_time_t(rposition_tofindtemp=r) for r in run.radial],
    )
    np.testing.assert_allclose(run.rise[0], exact, atol=5e-4)


def test_a_rod_with_a_film_settles_at_the_series_of_bessel_functions():
    # Separation of variables, Carslaw & Jaeger, section 8.3 (from memory): unlike a fin, this
    # knows that heat must cross the rod to reach the air.
    along, across, film = 0.22, 0.12, 25.0
    biot = film * RADIUS / across

    def crossing(x):
        return x * special.j1(x) - biot * special.j0(x)

    zeros = np.concatenate([[0.0], special.jn_zeros(1, 400)])
    roots = np.array([optimize.brentq(crossing, a, b) for a, b in pairwise(zeros)])
    j0, j1 = special.j0(roots), special.j1(roots)
    terms = 4 * j1**2 / (roots**3 * (j0**2 + j1**2))
    exact = FLUX * RADIUS / math.sqrt(along * across) * terms.sum()
    rod = Block("rod", Material(across, along, 6e5), RADIUS, 0.3, film)
    run = solve([rod], source=Source(RADIUS, 10.0), time=1e5, grid=Grid().refined(2))
    assert run.contact_mean[0] == pytest.approx(exact, rel=1e-3)


def test_a_thin_foil_draws_what_a_radial_fin_draws():
    # Radial fin with Bessel functions: 16 um aluminium, disc 5 mm, film 10 on both faces, 580 K
    # above the air: 10.25 W beyond the disc's rim.
    radius, film, rise = 0.005, 10.0, 580.0
    foil = Block("foil", Material(237.0, 237.0, 2.4e6), 0.3, 16e-6, film)
    held = Source(radius, 1e4, rise_char=rise, plateau="pointwise")
    run = solve([foil], source=held, time=3e3, grid=Grid(0.01, 0.005, 0.1))
    under_the_disc = film * math.pi * radius**2 * rise
    assert run.power_in[0] - under_the_disc == pytest.approx(10.25, rel=3e-3)


def test_layers_pass_heat_as_resistances_in_series():
    radius = 0.02
    area = math.pi * radius**2
    ground = Block("cold plate", Material(1e4, 1e4, 1e3), radius, 1e-4, film=1e9)
    layers = [Block("a", Material(1.0, 0.5, 1e3), radius, 0.01), Block("b", WOOD, radius, 0.003)]
    run = solve([ground, *layers], source=Source(radius, 5.0, below=2), time=1e6)
    assert run.contact_mean[0] == pytest.approx(5.0 / area * (0.01 / 0.5 + 0.003 / 0.12), rel=1e-5)


def test_conductivity_that_grows_with_heat_settles_as_kirchhoff_says():
    # Kirchhoff's transformation: rise + slope rise^2 / 2 = q L / k.
    radius, slope = 0.02, 0.0025
    material = Material(0.12, 0.12, 6e5, conductivity_slope=slope)
    plate = Block("cold plate", Material(1e4, 1e4, 1e3), radius, 1e-4, film=1e9)
    stack = [plate, Block("wood", material, radius, 0.01)]
    grid = Grid(0.02, 0.1, 0.05)
    run = solve(stack, source=Source(radius, 5.0, below=1), time=1e6, grid=grid)
    right = 5.0 / (math.pi * radius**2) * 0.01 / 0.12
    exact = (math.sqrt(1 + 2 * slope * right) - 1) / slope
    assert run.contact_mean[0] == pytest.approx(exact, rel=2e-3)


def test_two_hot_and_cold_bodies_meet_at_the_temperature_their_effusivities_set():
    # Lienhard & Lienhard, A Heat Transfer Textbook (from memory): a body of effusivity 300 at 600
    # degC on aluminium at 20 degC; the skin is at 27.1 degC.
    radius = 0.02
    ember = Block("ember", Material(0.1, 0.1, 9e5), radius, 0.05, initial_rise=580.0)
    metal = Block("aluminium", Material(237.0, 237.0, 2.43e6), radius, 2.0)
    run = solve([metal, ember], source=Source(radius, 0.0), time=1.0, grid=Grid(0.001, 0.1, 0.1))
    assert 20 + run.contact_mean[0] == pytest.approx(27.1, abs=0.1)


@pytest.mark.parametrize(
    ("flux", "energy", "smoke", "ember"),
    [(126e3, 1.03e6, 2.182, 15.37), (60e3, 0.2e6, 9.621, 18.91)],
)
@pytest.mark.parametrize("plateau", ["mean", "pointwise"])
def test_straight_heat_keeps_the_two_stage_times(flux, energy, smoke, ember, plateau):
    # Closed form: smoke (pi/4)(e dT/q)^2, then the surplus over a surface held at dT, solved for
    # the energy; with e = 700 and dT = 300 K. Values computed from that form by quadrature.
    radius = 0.02
    area = math.pi * radius**2
    board = wall(material=Material(0.1, 0.1, 300.0**2 / 0.1))
    spindle = wall(material=Material(0.2, 0.2, 400.0**2 / 0.2))
    source = Source(radius, flux * area, rise_char=300.0, plateau=plateau)
    time = np.linspace(0.0, 25.0, 101)
    run = solve([board, spindle], source=source, time=time, grid=Grid(0.003, 0.2, 0.1))
    assert run.smoke == pytest.approx(smoke, rel=5e-3)
    assert ember_time(run, energy=energy * area) == pytest.approx(ember, rel=2e-3)


# ---- beside the semi-analytic impedance -----------------------------------------------------


def thick(kit, size=30):
    """Board of a kit, so large beside its tip that the far faces stay cold."""
    return {"board_thickness": size * kit.radius, "board_radius": size * kit.radius}


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"radius": 0.004},
        {"radius": 0.0125, "length": 0.3},
        {"film": 5.0},
        {"spindle": Material(0.12, 0.336, 6e5)},
        {"spindle": Material(0.12, 0.18, 6e5)},
        {"spindle": Material(0.12, 0.35, 1.1e6)},
        {"spindle": Material(0.2, 0.22, 6e5), "board": Material(0.2, 0.2, 1.1e6)},
        {"length": 0.05},
        # Boards that conduct better along their own face, as wood does, and better into it.
        {"board": Material(0.24, 0.12, 6e5)},
        {"board": Material(0.12, 0.24, 6e5)},
    ],
)
def test_the_impedance_agrees_within_three_per_cent(changes):
    kit = replace(KIT, **changes)
    run = drill(TIMES, contact=kit, power=1.0, **thick(kit), board_film=0.0)
    np.testing.assert_allclose(run.contact_mean, kit.impedance(TIMES), rtol=0.03)


@pytest.mark.parametrize("radius", [0.003, RADIUS])
def test_a_strong_film_agrees_too_once_it_is_reached_through_the_wood(radius):
    # The impedance has the rod at one temperature across, so that at film 25 it is up to 7 % low
    # after minutes. With r/(4 k) of wood between middle and film (a rod that loses
    # heat evenly is a parabola across: mean less rim is q r/(4 k)) it is back within 3 %.
    kit = replace(KIT, radius=radius, film=25.0)
    run = drill(TIMES, contact=kit, power=1.0, **thick(kit), board_film=0.0)
    through = replace(kit, film=side_film(25.0, radius=radius, conductivity=0.12))
    assert through.film == pytest.approx(25.0 / (1 + 25.0 * radius / (4 * 0.12)), rel=1e-12)
    np.testing.assert_allclose(run.contact_mean, through.impedance(TIMES), rtol=0.03)
    assert run.contact_mean[-1] > 1.03 * kit.impedance(TIMES[-1])


@pytest.mark.parametrize("changes", [{}, {"radius": 0.004}, {"radius": 0.009, "length": 0.25}])
def test_smoke_and_ember_agree_with_the_march_over_the_impedance(changes):
    kit = replace(KIT, **changes)
    power, energy = 10.0 * kit.radius / RADIUS, 1.0e6 * math.pi * kit.radius**2
    held = {"power": power, "rise_char": 280.0, "board_film": 0.0}
    run = drill(np.linspace(1.0, 200.0, 200), contact=kit, **held, **thick(kit, 20))
    smoke, ember = march(power, rise=280.0, energy=energy, impedance=kit.impedance)
    assert run.smoke == pytest.approx(smoke, rel=0.03)
    assert ember_time(run, energy=energy) == pytest.approx(ember, rel=0.03)


# ---- bookkeeping and plain sense ------------------------------------------------------------


def that_grows(conductivity_slope, capacity_slope=0.0):
    """Return the kit with properties that grow with heat."""
    slopes = {"conductivity_slope": conductivity_slope, "capacity_slope": capacity_slope}
    return replace(KIT, spindle=replace(SPINDLE, **slopes), board=replace(WOOD, **slopes))


@pytest.mark.parametrize("plateau", ["mean", "pointwise"])
@pytest.mark.parametrize(("slope", "capacity_slope"), [(0.0, 0.0), (0.0025, 0.0), (0.0025, 0.003)])
def test_no_heat_goes_missing(plateau, slope, capacity_slope):
    ground = Block("soil", Material(0.5, 0.5, 1.5e6), 0.1, 0.1, film=10.0)
    run = drill(
        np.linspace(0.7, 60.0, 23),
        power=10.0,
        rise_char=280.0,
        plateau=plateau,
        contact=that_grows(slope, capacity_slope),
        ground=ground,
        **BOARD,
    )
    assert 0 < run.smoke < 30
    assert run.dust[-1] > 10
    assert run.lost.sum(axis=1)[-1] > 10
    assert np.abs(share_missing(run)).max() < 1e-12


def test_heat_a_block_has_at_the_start_is_all_accounted_for():
    ember = Block("ember", WOOD, 0.005, 0.005, film=20.0, initial_rise=550.0)
    run = solve([half_space(0.005, film=10.0), ember], source=Source(0.005, 0.0), time=TIMES)
    start = 550.0 * 6e5 * math.pi * 0.005**3
    np.testing.assert_allclose(run.stored.sum(axis=1) + run.lost.sum(axis=1), start, rtol=1e-12)


def test_nothing_is_colder_than_the_air_or_hotter_than_the_contact():
    run = drill(np.geomspace(0.05, 300.0, 40), contact=KIT, power=10.0, **BOARD)
    hottest = run.contact_rise.max(axis=1)
    assert run.rise.min() > -1e-6 * run.rise.max()
    assert np.all(run.rise.max(axis=(1, 2)) <= hottest * (1 + 1e-9))
    assert np.all(np.diff(run.contact_mean) > 0)


def test_a_contact_held_ring_by_ring_is_nowhere_above_charring():
    held = {"power": 20.0, "rise_char": 280.0, "plateau": "pointwise"}
    run = drill(np.linspace(1.0, 120.0, 40), contact=KIT, **held, **BOARD)
    assert run.contact_rise.max() == pytest.approx(280.0, rel=1e-3)
    assert run.rise.max() <= 280.0 * (1 + 1e-6)
    assert np.all(np.diff(run.power_in) <= 1e-9)


def test_rings_held_at_charring_are_those_that_bounded_least_squares_holds():
    # "Heat up to the power, contact up to the cap, one of them met" is the optimum of a quadratic
    # under bounds: scipy.optimize.lsq_linear on the Cholesky factor finds it another way.
    random = np.random.default_rng(5)
    for _ in range(20):
        away = np.abs(np.subtract.outer(np.arange(8), np.arange(8)))
        stiffness = np.exp(-away / 2.0) * 30.0
        power, contact = random.uniform(0.5, 3.0, 8), random.uniform(0.0, 150.0, 8)
        system = SimpleNamespace(power=power, cap=200.0)
        factor = np.linalg.cholesky(stiffness).T
        goal = np.linalg.solve(factor.T, 200.0 - contact)
        expected = optimize.lsq_linear(factor, goal, (-np.inf, power), tol=1e-14).x
        np.testing.assert_allclose(heat_let_in(system, contact, stiffness), expected, atol=1e-5)


def test_the_mean_held_at_charring_stays_there():
    run = drill(np.linspace(6.0, 120.0, 40), contact=KIT, power=10.0, rise_char=280.0, **BOARD)
    assert run.smoke < 6.0
    np.testing.assert_allclose(run.contact_mean, 280.0, rtol=1e-9)


def test_a_body_and_its_mirror_image_share_the_heat():
    block = half_space(size=10.0)
    run = solve([block, block], source=Source(RADIUS, 10.0), time=TIMES)
    np.testing.assert_allclose(run.rise, run.rise[:, ::-1], atol=1e-9 * run.rise.max())
    np.testing.assert_allclose(run.stored[:, 0], run.stored[:, 1], rtol=1e-9)


def test_twice_the_power_is_twice_the_rise():
    once, twice = (drill(TIMES, contact=KIT, power=power, **BOARD) for power in (5.0, 10.0))
    np.testing.assert_allclose(twice.rise, 2 * once.rise, rtol=1e-9, atol=1e-12)


def test_upside_down_the_stack_is_the_same():
    spindle = Block("spindle", Material(0.12, 0.22, 6e5), RADIUS, 0.1, 10.0)
    board = Block("board", WOOD, 0.04, 0.015, 10.0)
    up, down = (
        solve(stack, source=Source(RADIUS, 10.0), time=TIMES)
        for stack in ([board, spindle], [spindle, board])
    )
    np.testing.assert_allclose(up.contact_mean, down.contact_mean, rtol=1e-9)
    np.testing.assert_allclose(up.stored, down.stored[:, ::-1], rtol=1e-9)


def test_too_little_power_never_chars():
    run = drill([10.0, 1000.0], contact=KIT, power=1.0, rise_char=280.0, **BOARD)
    assert run.smoke == math.inf
    assert ember_time(run, energy=1.0) == math.inf
    np.testing.assert_allclose(run.dust, 0.0, atol=1e-9)


def test_more_power_smokes_and_embers_sooner():
    runs = [
        drill(np.linspace(1.0, 200.0, 100), contact=KIT, power=power, rise_char=280.0, **BOARD)
        for power in (6.0, 10.0, 20.0)
    ]
    assert np.all(np.diff([run.smoke for run in runs]) < 0)
    assert np.all(np.diff([ember_time(run, energy=150.0) for run in runs]) < 0)


def test_when_to_look_does_not_change_what_happens():
    kit = {"contact": KIT, "power": 10.0, "rise_char": 280.0, **BOARD}
    few, many = drill([40.0], **kit), drill(np.linspace(0.0, 40.0, 201), **kit)
    assert few.smoke == many.smoke
    np.testing.assert_allclose(few.rise[-1], many.rise[-1], rtol=1e-12)
    assert np.all(many.rise[0] == 0)


def test_conductivity_that_grows_with_heat_delays_smoke():
    fixed, growing = (
        drill([30.0], contact=that_grows(slope), power=10.0, rise_char=280.0, **BOARD)
        for slope in (0.0, 0.0025)
    )
    assert growing.smoke > 1.1 * fixed.smoke


def test_properties_that_grow_alike_act_as_at_the_middle_temperature():
    # With k and C both growing as 1 + slope * rise, rise + slope rise^2 / 2 obeys the equation
    # with the properties at rest: Carslaw & Jaeger, section 1.6 (from memory). So smoke comes when
    # it would with both properties taken halfway to charring.
    slope, rise_char, radius = 0.003, 280.0, 0.02
    middle = 1 + slope * rise_char / 2
    smoke = [
        solve(
            [wall(material=material)],
            source=Source(radius, 30e3 * math.pi * radius**2, rise_char=rise_char),
            time=20.0,
            grid=Grid(0.005, 0.2, 0.1, 8),
        ).smoke
        for material in (
            Material(0.1, 0.1, 5e5, slope, slope),
            Material(0.1 * middle, 0.1 * middle, 5e5 * middle),
        )
    ]
    assert smoke[0] == pytest.approx(smoke[1], rel=3e-3)
    assert smoke[1] == pytest.approx(math.pi / 4 * 5e4 * middle**2 * (280 / 30e3) ** 2, rel=3e-3)


@pytest.mark.parametrize(
    ("stack", "source", "time", "words"),
    [
        (
            [half_space()],
            Source(RADIUS, 1.0),
            [1.0, 3.0, 2.0],
            "time number 3 is -1 s after .* above 0 s",
        ),
        ([half_space()], Source(RADIUS, 1.0), [], r"shape \(0,\); allowed: one list of 1 or more"),
        ([half_space()], Source(RADIUS, 1.0), [[1.0, 2.0]], r"shape \(1, 2\); allowed: one list"),
        ([half_space()], Source(RADIUS, 1.0), [math.nan], "time"),
        (
            [half_space()],
            Source(RADIUS, 1.0, below=1),
            [1.0],
            "block 1 of a stack of 1; allowed: 0 to 0",
        ),
        ([wall(initial_rise=9.0)], Source(0.01, 1.0, rise_char=5.0), [1.0], "start is 9 K"),
        ([wall()], Source(0.03, 1.0), [1.0], "source radius is 0.03 m; allowed: up to 0.02 m"),
    ],
)
def test_a_stack_that_cannot_be_is_refused(stack, source, time, words):
    with pytest.raises(InputError, match=words):
        solve(stack, source=source, time=time)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Material(0.0, 1.0, 1.0), "conductivity across the axis is 0"),
        (lambda: Block("x", WOOD, -1.0, 1.0), "-1 m; allowed: above 0"),
        (lambda: Source(RADIUS, -1.0), "friction power is -1 W"),
        (lambda: Source(RADIUS, 1.0, rise_char=0.0), "above 0 K"),
        (lambda: Source(RADIUS, 1.0, plateau="rim"), "'rim'; allowed: mean, pointwise"),
        (lambda: Grid(steps=0), "steps for each doubling is 0; allowed: a whole number, 1 or more"),
        (lambda: Grid(growth=math.nan), "growth of the grid is nan"),
    ],
)
def test_a_part_that_cannot_be_is_refused(make, words):
    with pytest.raises(InputError, match=words):
        make()


def test_a_drill_is_as_fine_as_its_grid():
    runs = [
        drill(
            [2.0],
            contact=Contact(
                radius=0.0065,
                length=0.15,
                film=10.0,
                spindle=Material(0.12, 0.22, 6e5),
                board=Material(0.12, 0.12, 6e5),
            ),
            power=10.0,
            board_thickness=0.015,
            board_radius=0.04,
            grid=grid,
        )
        for grid in (Grid(), Grid(finest=0.04))
    ]
    assert runs[0].axial.size > runs[1].axial.size
