"""Closed forms of conduction, held against books, a package, finite volumes and each other."""

from functools import partial

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from oracles.conduction import (
    contact_temperature,
    critical_heat_flux_for_ignition,
    depth_rise,
    disc_centre_rise,
    disc_mean_rise,
    film_rise,
    fixed_surface_rise,
    ignition_time_thick,
    ignition_time_thin,
    receding_surface_rise,
)
from pychemengg.heattransfer import transient
from scipy import integrate, special
from scipy.constants import zero_Celsius
from scipy.linalg import solve_banded

from fireheat import InputError
from fireheat.heat.surface import surface_rise

# Çengel & Ghajar, Heat and Mass Transfer, wood block under a constant solar flux (the example in
# the documentation of the package pychemengg): k 0.159 W/mK, alpha 1.75e-7 m2/s, 1250 W/m2.
CONDUCTIVITY, DIFFUSIVITY, FLUX = 0.159, 1.75e-7, 1250.0
UNIT_DISC = {"radius": 1.0, "conductivity": 1.0, "diffusivity": 1.0}
FOURIER = np.logspace(-6, 6, 25)


def package_rise(boundary, depth, time, **given):
    """Temperature rise by pychemengg, from 0 degrees."""
    body = transient.SemiInfinite(
        boundarycondition=boundary,
        xposition_tofindtemp=depth,
        time=time,
        thermalconductivity=CONDUCTIVITY,
        thermaldiffusivity=DIFFUSIVITY,
        T_initial=0.0,
        **given,
    )
    return body.calc_temperature()


def test_the_wood_block_of_cengel_and_ghajar_reaches_149_degrees():
    effusivity = CONDUCTIVITY / np.sqrt(DIFFUSIVITY)
    assert 20 + surface_rise(FLUX, time=1200.0, effusivity=effusivity) == pytest.approx(
        148.55, abs=0.005
    )
    assert depth_rise(
        FLUX, time=1200.0, depth=0.0, conductivity=CONDUCTIVITY, diffusivity=DIFFUSIVITY
    ) == pytest.approx(surface_rise(FLUX, time=1200.0, effusivity=effusivity), rel=1e-12)


@pytest.mark.parametrize("depth", [1e-6, 0.001, 0.01, 0.05])
@pytest.mark.parametrize("time", [5.0, 60.0, 1200.0])
def test_three_kinds_of_heating_agree_with_pychemengg(depth, time):
    flux = package_rise("heatflux_specified", depth, time, heatflux=FLUX)
    fixed = package_rise("surfacetemperature_specified", depth, time, constantsurfacetemperature=99)
    film = package_rise(
        "surfaceconvection_specified", depth, time, heattransfercoefficient=25.0, T_infinity=99.0
    )
    ours = pytest.approx
    assert depth_rise(
        FLUX, time=time, depth=depth, conductivity=CONDUCTIVITY, diffusivity=DIFFUSIVITY
    ) == ours(flux, abs=1e-9)
    assert fixed_surface_rise(99.0, time=time, depth=depth, diffusivity=DIFFUSIVITY) == ours(
        fixed, abs=1e-9
    )
    assert film_rise(
        99.0, time=time, depth=depth, film=25.0, conductivity=CONDUCTIVITY, diffusivity=DIFFUSIVITY
    ) == ours(film, abs=1e-9)


def test_film_rise_gives_the_worked_value_of_the_ees_heat_transfer_library():
    # F-Chart Software, EES heat transfer library, function semiinf3 (after Nellis & Klein, Heat
    # Transfer, table 3-2): body at 393 K, fluid at 355 K, h 50, k 10, alpha 4.029e-6, x 3 mm,
    # 100 s gives 389.5 K
    assert 393 + film_rise(
        355 - 393, time=100.0, depth=0.003, film=50.0, conductivity=10.0, diffusivity=4.029e-6
    ) == pytest.approx(389.5, abs=0.05)


def test_water_mains_freeze_no_deeper_than_incropera_says():
    # Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, burial depth of a water main:
    # soil at 20 °C, surface at -15 °C for 60 days, alpha 0.138e-6: 0 °C at 0.68 m. (from memory)
    assert fixed_surface_rise(
        -35.0, time=60 * 86400.0, depth=0.68, diffusivity=0.138e-6
    ) == pytest.approx(-20, abs=0.1)


def test_film_rise_keeps_its_digits_where_the_book_formula_overflows():
    with mpmath.workdps(700):
        for film, depth, time in [(5e4, 0.001, 900.0), (1e3, 0.02, 30.0), (0.01, 0.0, 1e-3)]:
            reach = mpmath.sqrt(mpmath.mpf(DIFFUSIVITY) * time)
            eta, beta = depth / (2 * reach), film * reach / CONDUCTIVITY
            grown = mpmath.exp(2 * eta * beta + beta**2) * mpmath.erfc(eta + beta)
            exact = float(mpmath.erfc(eta) - grown)
            ours = film_rise(
                1.0,
                time=time,
                depth=depth,
                film=film,
                conductivity=CONDUCTIVITY,
                diffusivity=DIFFUSIVITY,
            )
            assert ours == pytest.approx(exact, rel=1e-9)


def test_a_strong_film_is_a_fixed_surface_and_a_weak_one_a_constant_flux():
    strong = film_rise(
        300.0, time=20.0, depth=0.002, film=1e9, conductivity=CONDUCTIVITY, diffusivity=DIFFUSIVITY
    )
    assert strong == pytest.approx(
        fixed_surface_rise(300.0, time=20.0, depth=0.002, diffusivity=DIFFUSIVITY), rel=1e-6
    )
    weak = film_rise(
        300.0, time=20.0, depth=0.002, film=1e-4, conductivity=CONDUCTIVITY, diffusivity=DIFFUSIVITY
    )
    assert weak == pytest.approx(
        depth_rise(
            0.03, time=20.0, depth=0.002, conductivity=CONDUCTIVITY, diffusivity=DIFFUSIVITY
        ),
        rel=1e-5,
    )


def test_nothing_has_warmed_at_time_zero():
    assert surface_rise(1e5, time=0.0, effusivity=700.0) == 0
    for depth in (0.0, 0.01):
        assert depth_rise(1e5, time=0.0, depth=depth, conductivity=0.12, diffusivity=1.6e-7) == 0
        assert (
            film_rise(
                300.0, time=0.0, depth=depth, film=25.0, conductivity=0.12, diffusivity=1.6e-7
            )
            == 0
        )
    for disc in (disc_centre_rise, disc_mean_rise):
        assert disc(1e5, time=0.0, radius=0.005, conductivity=0.12, diffusivity=1.6e-7) == 0
    assert (
        receding_surface_rise(
            1e5,
            time=0.0,
            speed_recession=1e-4,
            conductivity=0.12,
            density=500.0,
            heat_capacity=1500.0,
        )
        == 0
    )
    np.testing.assert_array_equal(
        fixed_surface_rise(9.0, time=0.0, depth=[0.0, 1.0], diffusivity=1e-7), [9.0, 0.0]
    )


@pytest.mark.parametrize(
    ("fourier", "centre", "mean"), [(0.1, 0.35288, 0.29398), (1e12, 1, 8 / (3 * np.pi))]
)
def test_discs_give_the_late_limit_of_carslaw_and_jaeger_and_the_early_digits_of_its_formula(
    fourier, centre, mean
):
    # Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., section 10.5 (from memory). The book
    # prints 1 and 8/(3 pi), and a formula: the early digits were worked from it, an example.
    assert disc_centre_rise(1.0, time=fourier, **UNIT_DISC) == pytest.approx(centre, abs=6e-6)
    assert disc_mean_rise(1.0, time=fourier, **UNIT_DISC) == pytest.approx(mean, abs=6e-6)


@pytest.mark.parametrize("fourier", [0.003, 0.1, 1.0, 30.0])
def test_the_disc_is_the_bessel_integral_of_carslaw_and_jaeger(fourier):
    # eqs. 10.5(1)-(3) there, from memory: integrals of J1(x) erf(x sqrt(Fo)) times 1 or J1(x)/x
    root = np.sqrt(fourier)
    end = 400 / min(root, 1)

    def spread(x):  # what is missing until the steady state falls off quickly
        return special.j1(x) * special.erfc(x * root) / x if x else 0.5

    late = integrate.quad(spread, 0, end, limit=2000)[0]
    assert disc_centre_rise(1.0, time=fourier, **UNIT_DISC) == pytest.approx(1 - late, rel=1e-7)
    late = integrate.quad(
        lambda x: spread(x) * 2 * special.j1(x) / x if x else 0.5, 0, end, limit=2000
    )
    assert disc_mean_rise(1.0, time=fourier, **UNIT_DISC) == pytest.approx(
        8 / (3 * np.pi) - late[0], rel=1e-7
    )


def test_disc_mean_keeps_twelve_digits_early_and_late():
    def pairs(y, fourier):
        near = mpmath.erfc(y / mpmath.sqrt(fourier))
        return near * (mpmath.acos(y) - y * mpmath.sqrt(1 - y * y))

    for fourier in (1e-9, 1e-4, 0.03, 1.0, 1e3, 1e9):
        with mpmath.workdps(25):
            end = min(1, 8 * mpmath.sqrt(fourier))
            exact = mpmath.quad(partial(pairs, fourier=fourier), mpmath.linspace(0, end, 6))
        ours = disc_mean_rise(1.0, time=fourier, **UNIT_DISC)
        assert ours == pytest.approx(float(4 / mpmath.pi * exact), rel=4e-12)


def test_a_disc_starts_like_a_wide_surface_and_its_centre_stays_hottest():
    wide = surface_rise(1.0, time=FOURIER, effusivity=1.0)
    centre, mean = (
        disc(1.0, time=FOURIER, **UNIT_DISC) for disc in (disc_centre_rise, disc_mean_rise)
    )
    assert np.all(mean <= centre)
    assert np.all(centre <= wide * (1 + 1e-12))
    np.testing.assert_allclose([centre[0], mean[0]], wide[0], rtol=1e-3)


def test_a_wearing_surface_stays_cooler_and_levels_off():
    wood = {"conductivity": 0.12, "density": 500.0, "heat_capacity": 1500.0}
    time = np.array([1.0, 10.0, 60.0])
    # Digits worked here from the same closed form, after Carslaw & Jaeger section 15.2 (from
    # memory): an example; the run of finite volumes below is the check.
    worn = receding_surface_rise(63.15e3, time=time, speed_recession=1e-4, **wood)
    np.testing.assert_allclose(worn, [212.4, 526.5, 788.5], atol=0.06)
    assert np.all(worn < surface_rise(63.15e3, time=time, effusivity=np.sqrt(0.12 * 500 * 1500)))
    assert receding_surface_rise(63.15e3, time=1e6, speed_recession=1e-4, **wood) == pytest.approx(
        842, abs=0.01
    )
    assert receding_surface_rise(
        63.15e3, time=60.0, speed_recession=1e-12, **wood
    ) == pytest.approx(surface_rise(63.15e3, time=60.0, effusivity=300.0), rel=1e-6)


def test_a_finite_volume_run_finds_the_same_wearing_surface():
    # the wood moves up past a fixed surface at w: dT/dt = w dT/dx + alpha d2T/dx2, and what wears
    # off carries its heat away; implicit steps, upwind, 20 micrometres
    wear, alpha, capacity, flux, size, step = 1e-4, 1.6e-7, 7.5e5, 63.15e3, 2e-5, 0.01
    count = 700
    up, down = alpha / size**2, (alpha / size + wear) / size
    bands = np.zeros((3, count))
    bands[0, 1:], bands[2, :-1] = -step * down, -step * up
    bands[1] = 1 + step * (up + down)
    bands[1, 0] = 1 + step * (up + wear / size)  # worn off at the top face
    rise = np.zeros(count)
    for _ in range(1000):
        source = rise.copy()
        source[0] += step * flux / (capacity * size)
        rise = solve_banded((1, 1), bands, source)
    surface = rise[0] + (flux - capacity * wear * rise[0]) * size / 2 / 0.12
    assert receding_surface_rise(
        flux,
        time=10.0,
        speed_recession=wear,
        conductivity=0.12,
        density=500.0,
        heat_capacity=1500.0,
    ) == pytest.approx(surface, rel=0.01)


def test_when_published_plywood_ignites_worked_by_hand():
    # Only k rho c 0.46 (kW/m2K)2 s and ignition at 390 °C are Quintiere & Harkleroad's, reprinted
    # in Quintiere, Fundamentals of Fire Phenomena. The times are worked here from the same formula,
    # pi/4 k rho c (T/q)^2: an example, not a check.
    times = ignition_time_thick(np.array([30e3, 50e3]), rise=390.0 - 25.0, thermal_inertia=0.46e6)
    np.testing.assert_allclose(times, [53.48, 19.25], atol=0.005)


def test_plywood_needs_sixteen_kilowatts_a_square_metre():
    # The same table prints both: ignition at 390 °C, critical flux 16 kW/m2, in whole kilowatts.
    # The film of 15 W/m2K is the convention of ASTM E1321, from memory.
    ambient, ignition = zero_Celsius + 25, zero_Celsius + 390
    flux = critical_heat_flux_for_ignition(ignition, temperature_ambient=ambient, film=15.0)
    assert flux == pytest.approx(16e3, abs=0.5e3)


def test_wood_needs_ten_to_fourteen_kilowatts_a_square_metre():
    # Bartlett, Hadden & Bisby, Fire Technology 55 (2019): critical flux of wood 12 +- 2 kW/m2. The
    # ignition temperature of wood, some 350 °C, and the film of calm air, 10 W/m2K: from memory.
    flux = critical_heat_flux_for_ignition(
        zero_Celsius + 350, temperature_ambient=zero_Celsius + 20, film=10.0
    )
    assert 10e3 < flux < 14e3


def test_the_thick_ignition_time_undoes_the_surface_rise():
    time = ignition_time_thick(40e3, rise=300.0, thermal_inertia=0.2e6)
    assert surface_rise(40e3, time=time, effusivity=np.sqrt(0.2e6)) == pytest.approx(300.0)


def test_two_alike_bodies_take_four_times_as_long_as_one():
    one = ignition_time_thick(40e3, rise=300.0, thermal_inertia=300.0**2)
    assert ignition_time_thick(
        40e3, rise=300.0, thermal_inertia=(300.0 + 300.0) ** 2
    ) == pytest.approx(4 * one)


def test_the_thin_ignition_time_is_heat_over_power():
    # 6 mm of wood, 500 kg/m3 and 2000 J/kgK, takes 6 kJ/m2 for each kelvin
    assert ignition_time_thin(20e3, rise=250.0, heat_capacity_per_area=6000.0) == pytest.approx(
        75.0
    )


def test_without_flux_nothing_ignites():
    assert ignition_time_thick(0.0, rise=300.0, thermal_inertia=1e5) == np.inf
    assert ignition_time_thin(0.0, rise=300.0, heat_capacity_per_area=1e3) == np.inf


def test_glowing_wood_barely_warms_aluminium():
    # An example worked here from the formula of Lienhard & Lienhard, A Heat Transfer Textbook (from
    # memory), contact of two semi-infinite bodies; the package below is the check. Aluminium k 237,
    # rho 2702, c 903 (Incropera table A.1, from memory).
    metal = np.sqrt(237.0 * 2702.0 * 903.0)
    warm = contact_temperature(
        300.0, temperature_1=zero_Celsius + 600, effusivity_2=metal, temperature_2=zero_Celsius + 20
    )
    assert warm - zero_Celsius == pytest.approx(27.1, abs=0.1)


def test_pychemengg_agrees_on_the_contact_temperature():
    wood = transient.SemiInfinite(
        density=500.0, specificheat=1500.0, thermalconductivity=0.12, T_initial=600.0
    )
    stone = transient.SemiInfinite(
        density=2600.0, specificheat=800.0, thermalconductivity=2.8, T_initial=300.0
    )
    ours = contact_temperature(
        np.sqrt(0.12 * 500 * 1500),
        temperature_1=600.0,
        effusivity_2=np.sqrt(2.8 * 2600 * 800),
        temperature_2=300.0,
    )
    assert ours == pytest.approx(wood.calc_contacttemperature(stone), rel=1e-12)


@given(
    flux=st.floats(1, 1e6),
    time=st.floats(1e-3, 1e4),
    radius=st.floats(1e-4, 0.1),
    factor=st.floats(1.001, 10),
)
def test_more_flux_more_time_or_a_wider_disc_is_hotter(flux, time, radius, factor):
    for disc in (disc_centre_rise, disc_mean_rise):
        given = {"time": time, "radius": radius, "conductivity": 0.12, "diffusivity": 1.6e-7}
        rise = disc(flux, **given)
        assert 0 < rise <= surface_rise(flux, time=time, effusivity=300.0) * (1 + 1e-9)
        assert disc(flux * factor, **given) > rise
        assert disc(flux, **given | {"time": time * factor}) > rise * (1 - 1e-12)
        assert disc(flux, **given | {"radius": radius * factor}) >= rise * (1 - 1e-12)


@given(depth=st.floats(0, 0.1), time=st.floats(1e-3, 1e5), film=st.floats(0, 1e4))
def test_no_depth_passes_the_surface_and_no_surface_its_fluid(depth, time, film):
    surface = film_rise(1.0, time=time, depth=0.0, film=film, conductivity=0.12, diffusivity=1.6e-7)
    inside = film_rise(
        1.0, time=time, depth=depth, film=film, conductivity=0.12, diffusivity=1.6e-7
    )
    rounding = 4e-15  # two numbers near 1 are subtracted, each good to a few of its last digits
    assert -rounding <= inside <= surface + rounding
    assert surface <= 1
    assert inside <= fixed_surface_rise(1.0, time=time, depth=depth, diffusivity=1.6e-7) + rounding
    assert depth_rise(
        1.0, time=time, depth=depth, conductivity=0.12, diffusivity=1.6e-7
    ) <= surface_rise(1.0, time=time, effusivity=300.0) * (1 + 1e-12)


def test_arguments_broadcast():
    time, radius = np.array([1.0, 10.0, 100.0]), np.array([[0.003], [0.006]])
    table = disc_mean_rise(1e4, time=time, radius=radius, conductivity=0.12, diffusivity=1.6e-7)
    assert table.shape == (2, 3)
    assert table[1, 2] == disc_mean_rise(
        1e4, time=100.0, radius=0.006, conductivity=0.12, diffusivity=1.6e-7
    )


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: surface_rise(1e3, time=1.0, effusivity=0.0), "thermal effusivity is 0"),
        (lambda: surface_rise(1e3, time=-1.0, effusivity=700.0), "time is -1 s"),
        (
            lambda: depth_rise(1e3, time=1.0, depth=np.nan, conductivity=0.1, diffusivity=1e-7),
            "depth below the surface is nan",
        ),
        (
            lambda: film_rise(
                1.0, time=1.0, depth=0.0, film=-5.0, conductivity=0.1, diffusivity=1e-7
            ),
            "coefficient is -5",
        ),
        (
            lambda: disc_mean_rise(1e3, time=1.0, radius=0.0, conductivity=0.1, diffusivity=1e-7),
            "radius is 0 m",
        ),
        (
            lambda: ignition_time_thick(1e3, rise=0.0, thermal_inertia=1e5),
            "temperature rise is 0 K",
        ),
        (
            lambda: contact_temperature(
                300.0, temperature_1=-20.0, effusivity_2=300.0, temperature_2=293.0
            ),
            "first body is -20 K",
        ),
        (
            lambda: critical_heat_flux_for_ignition(280.0, temperature_ambient=300.0, film=15.0),
            "ignition temperature is 280 K; allowed: 300 K, that of the air, or more",
        ),
        (
            lambda: critical_heat_flux_for_ignition(
                [600.0, 400.0], temperature_ambient=[700.0, 300.0], film=10.0
            ),
            "ignition temperature is 600 K; allowed: 700 K",
        ),
        (
            lambda: receding_surface_rise(
                1e3,
                time=1.0,
                speed_recession=0.0,
                conductivity=0.1,
                density=500.0,
                heat_capacity=1e3,
            ),
            "speed of wear is 0",
        ),
    ],
)
def test_what_cannot_be_is_refused_by_name(call, words):
    with pytest.raises(InputError, match=words):
        call()
