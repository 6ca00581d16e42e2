"""The contact's impedance against exact discs and rods, another inversion, and thin boards."""

import itertools
from dataclasses import replace

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from oracles.conduction import disc_mean_rise
from scipy import integrate, special

from fireheat import InputError
from fireheat.heat.contact import (
    Contact,
    _disc_integral,
    _rod_admittance,
    contact_impedance,
    talbot,
)
from fireheat.heat.material import Material
from fireheat.heat.surface import surface_rise

PLAIN = {
    "radius": 0.0065,
    "length": 0.15,
    "film": 10.0,
    "spindle_conductivity": 0.22,
    "spindle_volumetric_heat_capacity": 6e5,
    "board_conductivity": 0.12,
    "board_volumetric_heat_capacity": 6e5,
}


def contact(plain):
    """Contact of a kit in plain numbers."""
    sizes = {key: plain[key] for key in ("radius", "length", "film")}
    woods = {
        part: Material(
            plain[f"{part}_conductivity"],
            plain[f"{part}_conductivity"],
            plain[f"{part}_volumetric_heat_capacity"],
        )
        for part in ("spindle", "board")
    }
    return Contact(**sizes, **woods)


KIT = contact(PLAIN)
KITS = [
    replace(KIT, radius=radius, film=film, length=length)
    for radius, film, length in itertools.product((0.004, 0.0065, 0.0125), (0.0, 20.0), (0.05, 0.3))
]
NOTHING = Material(1e-15, 1e-15, 1e-3)
POINTS, WEIGHTS = talbot()


def test_phi_has_its_known_values():
    # computed beforehand with mpmath from the Bessel integral
    known = [0.40050, 0.25606, 0.087400, 0.024205]
    np.testing.assert_allclose(_disc_integral(np.array([0.1, 1.0, 5.0, 20.0])), known, atol=6e-6)
    assert _disc_integral(np.array([1e-8]))[0] == pytest.approx(4 / (3 * np.pi), rel=1e-6)


def test_phi_is_the_bessel_integral_and_the_struve_form_for_complex_arguments():
    z = np.array([0.3, 2.0, 5.9, 6.1, 25.0])[:, np.newaxis] * np.exp(1j * np.array([0, 0.5, 1.0]))

    def struve(z):
        x = 2 * mpmath.mpc(z)
        bracket = 1 - (mpmath.besseli(1, x) - mpmath.struvel(1, x)) * 2 / x
        return complex(bracket / x)

    with mpmath.workdps(60):
        exact = np.vectorize(struve, otypes=[complex])(z)
    np.testing.assert_allclose(_disc_integral(z[:, :2]), exact[:, :2], rtol=3e-6)
    # far off the real axis the series is coarser, where the contour's weights are next to nothing
    np.testing.assert_allclose(_disc_integral(z[:, 2]), exact[:, 2], rtol=1e-4)
    # NIST DLMF 10.22 has the integral's family; here plain quadrature of the definition
    ours = _disc_integral(np.array([2.0]))[0]
    head = integrate.quad(
        lambda x: special.j1(x) ** 2 / (x * np.hypot(x, 2.0)), 1e-12, 400.0, limit=1000
    )[0]
    assert ours == pytest.approx(head + 1 / (2 * np.pi * 400.0**2), rel=1e-6)


@pytest.mark.parametrize("kit", KITS)
def test_at_first_heat_flows_straight_into_both_bodies(kit):
    area = np.pi * kit.radius**2
    both = np.sqrt(0.22 * 6e5) + np.sqrt(0.12 * 6e5)
    for time in (1e-7, 1e-5):
        early = surface_rise(1 / area, time=time, effusivity=both)
        assert kit.impedance(time) == pytest.approx(early, rel=2e-3)
    assert kit.impedance(1e-9) == pytest.approx(
        surface_rise(1 / area, time=1e-9, effusivity=both), rel=2e-5
    )


@pytest.mark.parametrize("kit", KITS)
def test_in_the_end_it_is_the_steady_impedance(kit):
    late = kit.impedance(np.array([1e9, 1e12]))
    np.testing.assert_allclose(late, kit.steady, rtol=2e-3)


def test_a_long_rod_ends_at_the_fin_and_disc_of_the_textbooks():
    # very long fin: Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, table of fins; the
    # disc: Carslaw & Jaeger section 10.5 (both from memory)
    kit = replace(KIT, length=5.0)
    fin = np.pi * 0.0065 * np.sqrt(2 * 10.0 * 0.22 * 0.0065)
    disc = 3 * np.pi**2 * 0.12 * 0.0065 / 8
    assert kit.steady == pytest.approx(1 / (fin + disc), rel=1e-12)
    assert kit.impedance(1e12) == pytest.approx(1 / (fin + disc), rel=1e-5)


def test_with_the_spindle_taken_away_it_is_the_exact_disc():
    time = np.logspace(-3, 5, 40)
    kit = replace(KIT, spindle=NOTHING, film=0.0)
    flux = 1 / (np.pi * kit.radius**2)
    exact = disc_mean_rise(
        flux, time=time, radius=0.0065, conductivity=0.12, diffusivity=0.12 / 6e5
    )
    np.testing.assert_allclose(kit.impedance(time), exact, rtol=1e-6)


def test_with_the_board_taken_away_it_is_the_exact_rod():
    # insulated rod of finite length under constant flux, Carslaw & Jaeger section 3.8 (from
    # memory): images of the thick solid
    kit = replace(KIT, board=NOTHING, film=0.0, length=0.01)
    time, alpha = np.logspace(-1, 3, 30), 0.22 / 6e5
    reach = 2 * np.sqrt(alpha * time)

    def ierfc(x):
        return np.exp(-(x**2)) / np.sqrt(np.pi) - x * special.erfc(x)

    images = 2 * sum(ierfc(2 * n * 0.01 / reach) for n in range(1, 300))
    exact = reach / 0.22 / (np.pi * 0.0065**2) * (1 / np.sqrt(np.pi) + images)
    np.testing.assert_allclose(kit.impedance(time), exact, rtol=1e-5)


@pytest.mark.parametrize("time", [0.5, 20.0, 300.0])
def test_a_third_opinion_inverts_the_same_transform_at_high_precision(time):
    # mpmath.invertlaplace in 50 digits, with phi from mpmath's own Bessel and Struve functions
    radius, length, film = map(mpmath.mpf, (KIT.radius, KIT.length, KIT.film))

    def transform(s):
        m = mpmath.sqrt((mpmath.mpf(6e5) * s + 2 * film / radius) / mpmath.mpf(0.22))
        rod = mpmath.mpf(0.22) * mpmath.pi * radius**2 * m * mpmath.tanh(m * length)
        x = 2 * radius * mpmath.sqrt(mpmath.mpf(6e5) * s / mpmath.mpf(0.12))
        with mpmath.workdps(200):  # two huge numbers nearly alike
            phi = (1 - (mpmath.besseli(1, x) - mpmath.struvel(1, x)) * 2 / x) / x
        return 1 / (s * (rod + mpmath.pi * radius * mpmath.mpf(0.12) / (2 * phi)))

    with mpmath.workdps(50):
        exact = float(mpmath.invertlaplace(transform, time, method="talbot", degree=24))
    assert KIT.impedance(time) == pytest.approx(exact, rel=1e-6)
    assert contact_impedance(time, **PLAIN) == pytest.approx(exact, rel=1e-6)


def board_impedances(time, kit, thickness, ground_film):
    """Kit on a board of finite thickness, by a Hankel integral.

    ``1/Y = (2/(pi r k)) * integral of J1(x)^2/(x q(x)) T(q)`` with ``q^2 = x^2 + z^2`` and T the
    hyperbolic ratio of a layer with a film under it; a huge ``ground_film`` is a cold ground.
    """
    radius, conductivity = kit.radius, kit.board.conductivity_axial
    nodes, weights = np.polynomial.legendre.leggauss(40)
    half, top = ((nodes + 1) / 2 + np.arange(60)[:, np.newaxis]).reshape(-1, 1) / 60, 600.0
    x, weights = top * half**2, np.tile(weights, 60)[:, np.newaxis] / 60 * half * top
    answer = []
    for s in POINTS / np.asarray(time)[:, np.newaxis]:
        q = np.sqrt(x**2 + radius**2 * kit.board.volumetric_heat_capacity * s / conductivity)
        tanh = np.tanh(q * thickness / radius)
        biot = ground_film * radius / conductivity / q
        layer = (1 + biot * tanh) / (tanh + biot)
        integral = np.sum(weights * special.j1(x) ** 2 / x / q * layer, axis=0)
        integral += 1 / (2 * np.pi * top**2)  # the tail, where J1^2 is 1/(pi x) on average
        rod = _rod_admittance(s, radius, kit.length, kit.film, 0.22, 6e5)
        admittance = rod + np.pi * radius * conductivity / (2 * integral)
        answer.append(np.sum(np.real(WEIGHTS / POINTS / admittance)))
    return np.array(answer)


@pytest.mark.parametrize("radius", [0.0065, 0.0125])
@pytest.mark.parametrize("under", [0.0, 10.0, 1e9])
def test_a_board_of_ten_millimetres_is_thick_enough_for_three_minutes(radius, under):
    kit, time = replace(KIT, radius=radius), np.array([1.0, 10.0, 60.0, 180.0])
    thick = kit.impedance(time)
    change = board_impedances(time, kit, 0.010, under) / thick - 1
    assert np.all(np.abs(change) < [1e-6, 1e-6, 1e-4, 5e-3])
    thin = board_impedances(time, kit, 0.006, under) / thick - 1
    assert abs(thin[-1]) > 0.02  # 6 mm is not


def test_an_isothermal_disc_is_eight_per_cent_easier_to_feed():
    # Incropera & DeWitt, table of conduction shape factors: disc on a half-space, S = 2 D = 4 a;
    # k 0.30, a 5 mm: 166.67 K/W
    isothermal = 1 / (4 * 0.30 * 0.005)
    assert isothermal == pytest.approx(166.67, abs=0.01)
    board = Material(0.30, 0.30, 6e5)
    kit = replace(KIT, spindle=NOTHING, film=0.0, radius=0.005, board=board)
    assert kit.steady / isothermal == pytest.approx(32 / (3 * np.pi**2), rel=1e-6)


def test_time_zero_is_cold_and_shapes_broadcast():
    radius = np.array([[0.004], [0.008]])
    kits = replace(KIT, radius=radius)
    table = kits.impedance([0.0, 1.0, 10.0])
    assert table.shape == (2, 3)
    np.testing.assert_array_equal(table[:, 0], 0)
    assert table[1, 2] == pytest.approx(replace(KIT, radius=0.008).impedance(10.0))
    assert type(KIT.impedance(1.0)) is type(KIT.impedance(np.array(1))) is type(KIT.steady) is float
    assert kits.steady.shape == (2, 1)


@pytest.mark.parametrize("time", [0.1, 10.0, 1e5])
def test_a_board_that_conducts_one_way_better_is_an_even_one_stretched(time):
    # Counting depth in units of sqrt(k_axial/k_radial), the equation is that of an even board of
    # the mean conductivity sqrt(k_radial k_axial): Carslaw & Jaeger, section 1.17 and after (from
    # memory).
    across, along, capacity = 0.3, 0.12, 6e5
    even = np.sqrt(across * along)
    kit = replace(KIT, board=Material(across, along, capacity))
    stretched = replace(KIT, board=Material(even, even, capacity * np.sqrt(along / across)))
    assert kit.impedance(time) == pytest.approx(stretched.impedance(time), rel=1e-9)
    assert kit.steady == pytest.approx(stretched.steady, rel=1e-9)


@pytest.mark.parametrize("number", [np.array, np.float64])
def test_a_contact_keeps_a_number_of_numpy_as_a_plain_one(number):
    kit = contact({key: number(value) for key, value in PLAIN.items()})
    assert kit == KIT
    assert hash(kit) == hash(KIT)
    for part in (kit, kit.spindle, kit.board):
        assert {type(value) for value in vars(part).values()} <= {float, Material}


@pytest.mark.parametrize("part", ["spindle", "board"])
@pytest.mark.parametrize("wrong", [None, 0.12, "western_redcedar"])
def test_a_contact_of_what_is_no_material_is_refused_by_name(part, wrong):
    with pytest.raises(InputError, match=f"{part} is {wrong!r}; allowed: a Material"):
        replace(KIT, **{part: wrong})


PROPERTIES = {
    "radius": st.floats(0.002, 0.03),
    "length": st.floats(0.1, 0.5),
    "film": st.floats(0.0, 50.0),
    "spindle_conductivity": st.floats(0.05, 0.5),
    "spindle_volumetric_heat_capacity": st.floats(3e5, 3e6),
    "board_conductivity": st.floats(0.05, 0.5),
    "board_volumetric_heat_capacity": st.floats(3e5, 3e6),
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
    assert 0 < now < contact(kit).steady * rounding
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
        ({"board_volumetric_heat_capacity": np.nan}, "board heat capacity"),
        ({"length": np.inf}, "spindle length is inf m"),
    ],
)
def test_what_cannot_be_is_refused_by_name(change, words):
    with pytest.raises(InputError, match=words):
        contact_impedance(1.0, **PLAIN | change)
    with pytest.raises(InputError, match=words.removeprefix("board ")):
        contact(PLAIN | change)


@pytest.mark.parametrize(("time", "smoke"), [(5.0, 6.0), (5.0, 0.0), (0.0, 0.0)])
def test_heat_cannot_be_counted_before_first_smoke(time, smoke):
    words = f"first smoke is {smoke:g} s; allowed: above 0, up to the time asked for, {time:g} s"
    with pytest.raises(InputError, match=words):
        KIT.soaked(time, smoke=smoke, power=10.0)


def test_a_time_before_the_start_is_refused():
    with pytest.raises(InputError, match="time is -1 s"):
        KIT.impedance(-1.0)
