"""The contact's impedance against exact discs and rods, another inversion, and thin boards."""

import itertools

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, special

from fireheat import InputError
from fireheat.conduction import disc_mean_rise, surface_rise
from fireheat.impedance import (
    _POINT_WEIGHTS,
    _POINTS,
    _phi,
    _spindle_admittance,
    contact_impedance,
    soaked_heat,
    steady_impedance,
)

WOOD = {
    "spindle_conductivity": 0.22,
    "spindle_heat_capacity": 6e5,
    "board_conductivity": 0.12,
    "board_heat_capacity": 6e5,
}
KIT = {"radius": 0.0065, "length": 0.15, "film": 10.0, **WOOD}
KITS = [
    {**KIT, "radius": radius, "film": film, "length": length}
    for radius, film, length in itertools.product((0.004, 0.0065, 0.0125), (0.0, 20.0), (0.05, 0.3))
]
NO_SPINDLE = {"spindle_conductivity": 1e-15, "spindle_heat_capacity": 1e-3, "film": 0.0}
NO_BOARD = {"board_conductivity": 1e-15, "board_heat_capacity": 1e-3}


def test_phi_has_its_known_values():
    # computed beforehand with mpmath from the Bessel integral
    known = [0.40050, 0.25606, 0.087400, 0.024205]
    np.testing.assert_allclose(_phi(np.array([0.1, 1.0, 5.0, 20.0])), known, atol=6e-6)
    assert _phi(np.array([1e-8]))[0] == pytest.approx(4 / (3 * np.pi), rel=1e-6)


def test_phi_is_the_bessel_integral_and_the_struve_form_for_complex_arguments():
    z = np.array([0.3, 2.0, 5.9, 6.1, 25.0])[:, np.newaxis] * np.exp(1j * np.array([0, 0.5, 1.0]))

    def struve(z):
        x = 2 * mpmath.mpc(z)
        bracket = 1 - (mpmath.besseli(1, x) - mpmath.struvel(1, x)) * 2 / x
        return complex(bracket / x)

    with mpmath.workdps(60):
        exact = np.vectorize(struve, otypes=[complex])(z)
    np.testing.assert_allclose(_phi(z[:, :2]), exact[:, :2], rtol=3e-6)
    # far off the real axis the series is coarser, where the contour's weights are next to nothing
    np.testing.assert_allclose(_phi(z[:, 2]), exact[:, 2], rtol=1e-4)
    # NIST DLMF 10.22 has the integral's family; here plain quadrature of the definition
    ours = _phi(np.array([2.0]))[0]
    head = integrate.quad(
        lambda x: special.j1(x) ** 2 / (x * np.hypot(x, 2.0)), 1e-12, 400.0, limit=1000
    )[0]
    assert ours == pytest.approx(head + 1 / (2 * np.pi * 400.0**2), rel=1e-6)


@pytest.mark.parametrize("kit", KITS)
def test_at_first_heat_flows_straight_into_both_bodies(kit):
    area = np.pi * kit["radius"] ** 2
    both = np.sqrt(0.22 * 6e5) + np.sqrt(0.12 * 6e5)
    for time in (1e-7, 1e-5):
        early = surface_rise(1 / area, time, both)
        assert contact_impedance(time, **kit) == pytest.approx(early, rel=2e-3)
    assert contact_impedance(1e-9, **kit) == pytest.approx(
        surface_rise(1 / area, 1e-9, both), rel=2e-5
    )


@pytest.mark.parametrize("kit", KITS)
def test_in_the_end_it_is_the_steady_impedance(kit):
    late = contact_impedance(np.array([1e9, 1e12]), **kit)
    np.testing.assert_allclose(late, steady_impedance(**kit), rtol=2e-3)


def test_a_long_rod_ends_at_the_fin_and_disc_of_the_textbooks():
    # very long fin: Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, table of fins; the
    # disc: Carslaw & Jaeger section 10.5 (both from memory)
    kit = {**KIT, "length": 5.0}
    fin = np.pi * 0.0065 * np.sqrt(2 * 10.0 * 0.22 * 0.0065)
    disc = 3 * np.pi**2 * 0.12 * 0.0065 / 8
    assert steady_impedance(**kit) == pytest.approx(1 / (fin + disc), rel=1e-12)
    assert contact_impedance(1e12, **kit) == pytest.approx(1 / (fin + disc), rel=1e-5)


def test_with_the_spindle_taken_away_it_is_the_exact_disc():
    time = np.logspace(-3, 5, 40)
    kit = {**KIT, **NO_SPINDLE}
    flux = 1 / (np.pi * kit["radius"] ** 2)
    exact = disc_mean_rise(flux, time, 0.0065, 0.12, 0.12 / 6e5)
    np.testing.assert_allclose(contact_impedance(time, **kit), exact, rtol=1e-6)


def test_with_the_board_taken_away_it_is_the_exact_rod():
    # insulated rod of finite length under constant flux, Carslaw & Jaeger section 3.8 (from
    # memory): images of the thick solid
    kit = {**KIT, **NO_BOARD, "film": 0.0, "length": 0.01}
    time, alpha = np.logspace(-1, 3, 30), 0.22 / 6e5
    reach = 2 * np.sqrt(alpha * time)

    def ierfc(x):
        return np.exp(-(x**2)) / np.sqrt(np.pi) - x * special.erfc(x)

    images = 2 * sum(ierfc(2 * n * 0.01 / reach) for n in range(1, 300))
    exact = reach / 0.22 / (np.pi * 0.0065**2) * (1 / np.sqrt(np.pi) + images)
    np.testing.assert_allclose(contact_impedance(time, **kit), exact, rtol=1e-5)


@pytest.mark.parametrize("time", [0.5, 20.0, 300.0])
def test_a_third_opinion_inverts_the_same_transform_at_high_precision(time):
    # mpmath.invertlaplace in 50 digits, with phi from mpmath's own Bessel and Struve functions
    radius, length, film = (mpmath.mpf(KIT[name]) for name in ("radius", "length", "film"))

    def transform(s):
        m = mpmath.sqrt((mpmath.mpf(6e5) * s + 2 * film / radius) / mpmath.mpf(0.22))
        rod = mpmath.mpf(0.22) * mpmath.pi * radius**2 * m * mpmath.tanh(m * length)
        x = 2 * radius * mpmath.sqrt(mpmath.mpf(6e5) * s / mpmath.mpf(0.12))
        with mpmath.workdps(200):  # two huge numbers nearly alike
            phi = (1 - (mpmath.besseli(1, x) - mpmath.struvel(1, x)) * 2 / x) / x
        return 1 / (s * (rod + mpmath.pi * radius * mpmath.mpf(0.12) / (2 * phi)))

    with mpmath.workdps(50):
        exact = float(mpmath.invertlaplace(transform, time, method="talbot", degree=24))
    assert contact_impedance(time, **KIT) == pytest.approx(exact, rel=1e-6)


def board_impedances(time, kit, thickness, ground_film):
    """Kit on a board of finite thickness, by a Hankel integral.

    ``1/Y = (2/(pi r k)) * integral of J1(x)^2/(x q(x)) T(q)`` with ``q^2 = x^2 + z^2`` and T the
    hyperbolic ratio of a layer with a film under it; a huge ``ground_film`` is a cold ground.
    """
    radius, conductivity = kit["radius"], kit["board_conductivity"]
    nodes, weights = np.polynomial.legendre.leggauss(40)
    half, top = ((nodes + 1) / 2 + np.arange(60)[:, np.newaxis]).reshape(-1, 1) / 60, 600.0
    x, weights = top * half**2, np.tile(weights, 60)[:, np.newaxis] / 60 * half * top
    answer = []
    for s in _POINTS / np.asarray(time)[:, np.newaxis]:
        q = np.sqrt(x**2 + radius**2 * kit["board_heat_capacity"] * s / conductivity)
        tanh = np.tanh(q * thickness / radius)
        biot = ground_film * radius / conductivity / q
        layer = (1 + biot * tanh) / (tanh + biot)
        integral = np.sum(weights * special.j1(x) ** 2 / x / q * layer, axis=0)
        integral += 1 / (2 * np.pi * top**2)  # the tail, where J1^2 is 1/(pi x) on average
        rod = _spindle_admittance(s, radius, kit["length"], kit["film"], 0.22, 6e5)
        admittance = rod + np.pi * radius * conductivity / (2 * integral)
        answer.append(np.sum(np.real(_POINT_WEIGHTS / _POINTS / admittance)))
    return np.array(answer)


@pytest.mark.parametrize("radius", [0.0065, 0.0125])
@pytest.mark.parametrize("under", [0.0, 10.0, 1e9])
def test_a_board_of_ten_millimetres_is_thick_enough_for_three_minutes(radius, under):
    kit, time = {**KIT, "radius": radius}, np.array([1.0, 10.0, 60.0, 180.0])
    thick = contact_impedance(time, **kit)
    change = board_impedances(time, kit, 0.010, under) / thick - 1
    assert np.all(np.abs(change) < [1e-6, 1e-6, 1e-4, 5e-3])
    thin = board_impedances(time, kit, 0.006, under) / thick - 1
    assert abs(thin[-1]) > 0.02  # 6 mm is not


def test_an_isothermal_disc_is_eight_per_cent_easier_to_feed():
    # Incropera & DeWitt, table of conduction shape factors: disc on a half-space, S = 2 D = 4 a;
    # k 0.30, a 5 mm: 166.67 K/W
    isothermal = 1 / (4 * 0.30 * 0.005)
    assert isothermal == pytest.approx(166.67, abs=0.01)
    kit = {**KIT, **NO_SPINDLE, "radius": 0.005, "board_conductivity": 0.30}
    assert steady_impedance(**kit) / isothermal == pytest.approx(32 / (3 * np.pi**2), rel=1e-6)


def test_time_zero_is_cold_and_shapes_broadcast():
    radius = np.array([[0.004], [0.008]])
    table = contact_impedance([0.0, 1.0, 10.0], **{**KIT, "radius": radius})
    assert table.shape == (2, 3)
    np.testing.assert_array_equal(table[:, 0], 0)
    assert table[1, 2] == pytest.approx(contact_impedance(10.0, **{**KIT, "radius": 0.008}))
    assert np.ndim(contact_impedance(1.0, **KIT)) == 0
    assert steady_impedance(**{**KIT, "radius": radius}).shape == (2, 1)


PROPERTIES = {
    "radius": st.floats(0.002, 0.03),
    "length": st.floats(0.1, 0.5),
    "film": st.floats(0.0, 50.0),
    "spindle_conductivity": st.floats(0.05, 0.5),
    "spindle_heat_capacity": st.floats(3e5, 3e6),
    "board_conductivity": st.floats(0.05, 0.5),
    "board_heat_capacity": st.floats(3e5, 3e6),
}


@given(
    kit=st.fixed_dictionaries(PROPERTIES),
    time=st.floats(1e-3, 600.0),
    factor=st.floats(1.05, 2),
    which=st.sampled_from(sorted(PROPERTIES)),
)
def test_it_rises_with_time_and_falls_with_all_that_takes_up_heat(kit, time, factor, which):
    rounding = 1 + 2e-6
    now = contact_impedance(time, **kit)
    assert 0 < now < steady_impedance(**kit) * rounding
    assert contact_impedance(time * factor, **kit) > now
    # No theorem: in a short rod that leaks nothing, heat that went further in comes back later,
    # when a worse conductor would have lost it to the board. Wood within ten minutes is far from
    # that.
    grown = contact_impedance(time, **{**kit, which: kit[which] * factor})
    assert grown <= now * rounding


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"radius": 0.0}, "spindle tip radius is 0 m"),
        ({"film": -1.0}, "coefficient is -1"),
        ({"board_heat_capacity": np.nan}, "board heat capacity"),
        ({"length": np.inf}, "spindle length is inf m"),
    ],
)
def test_what_cannot_be_is_refused_by_name(change, words):
    with pytest.raises(InputError, match=words):
        contact_impedance(1.0, **{**KIT, **change})
    with pytest.raises(InputError, match=words):
        steady_impedance(**{**KIT, **change})


@pytest.mark.parametrize(("time", "smoke"), [(5.0, 6.0), (5.0, 0.0), (0.0, 0.0)])
def test_heat_cannot_be_counted_before_first_smoke(time, smoke):
    words = f"first smoke is {smoke:g} s; allowed: above 0, up to the time asked for, {time:g} s"
    with pytest.raises(InputError, match=words):
        soaked_heat(time, smoke, 10.0, **KIT)


def test_a_time_before_the_start_is_refused():
    with pytest.raises(InputError, match="time is -1 s"):
        contact_impedance(-1.0, **KIT)
