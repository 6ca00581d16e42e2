"""The march to smoke and ember: closed forms, another algorithm, and never."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import interpolate, linalg, optimize

from fireheat import InputError
from fireheat.heat.contact import Contact
from fireheat.heat.march import march
from fireheat.heat.material import Material
from fireheat.heat.two_stage import two_stage

SPINDLE, BOARD = Material(0.12, 0.22, 6e5), Material(0.12, 0.12, 6e5)
KIT = Contact(radius=0.0065, length=0.15, film=10.0, spindle=SPINDLE, board=BOARD)
RISE = 280.0


def of_kit(**changes):
    """Impedance of a kit, as a function of time."""
    return replace(KIT, **changes).impedance


def thick(effusivity=1.0, area=1.0):
    """Impedance of two bodies that heat flows straight into."""
    return lambda time: 2 * np.sqrt(time / np.pi) / (effusivity * area)


def dust(radius, per_area=1e6):
    return per_area * np.pi * radius**2


def in_small_steps(power, energy, impedance, until, count):
    """Ember's time by product integration with piecewise constant net power; order 1.5."""
    low = math.log(1e-6)
    smoke = math.exp(
        optimize.brentq(
            lambda x: power * impedance(math.exp(x)) - RISE, low, math.log(5e5), xtol=1e-13
        )
    )
    since = smoke * np.tan(np.arctan(np.sqrt(until / smoke)) * np.linspace(0, 1, count + 1)) ** 2
    ago = np.maximum(since[:, np.newaxis] - since, 0)
    answer = impedance(ago)
    matrix = np.tril(answer[1:, :-1] - answer[1:, 1:])
    warming = power * (impedance(smoke + since[1:]) - impedance(smoke))
    surplus = linalg.solve_triangular(matrix, warming, lower=True)
    given_to_dust = np.append(0, np.cumsum(surplus * np.diff(since)))
    angle = interpolate.PchipInterpolator(given_to_dust, np.arctan(np.sqrt(since / smoke)))(energy)
    return smoke, smoke + smoke * np.tan(angle) ** 2


def test_thick_bodies_follow_the_closed_two_stage_curve():
    eps, flux = np.meshgrid(np.logspace(-5, 4, 19), np.logspace(-2, 2, 9))
    energy = eps * np.pi / 4 / flux
    smoke, ember = march(flux, rise=1.0, energy=energy, impedance=thick())
    exact = two_stage(flux, energy_per_area=energy, effusivity=1.0, rise=1.0)
    soon = exact[1] < 4e5  # later counts as never
    assert np.mean(soon) > 0.9
    np.testing.assert_allclose(smoke, exact[0], rtol=1e-8)
    np.testing.assert_allclose(ember[soon], exact[1][soon], rtol=2e-5)
    assert np.all(ember[exact[1] > 6e5] == np.inf)


@pytest.mark.parametrize(
    ("flux", "energy", "smoke", "ember"),
    [(126e3, 1.03e6, 2.182, 15.37), (60e3, 0.2e6, 9.621, 18.91)],
)
def test_a_finite_volume_march_found_the_same_two_times(flux, energy, smoke, ember):
    # a separate one-dimensional finite-volume run, e 700, rise 300 K
    times = march(flux, rise=300.0, energy=energy, impedance=thick(700.0))
    np.testing.assert_allclose(times, (smoke, ember), rtol=4e-4)


@pytest.mark.parametrize(
    ("radius", "power", "per_area", "until"),
    [
        (0.0065, 10.0, 1e6, 40.0),
        (0.0125, 10.0, 1e6, 250.0),
        (0.0065, 2.0, 1e6, 3000.0),
        (0.0065, 60.0, 1e6, 5.0),
        (0.003, 10.0, 1e5, 2.0),
    ],
)
def test_real_kits_agree_with_a_march_in_small_steps(radius, power, per_area, until):
    energy, impedance = dust(radius, per_area), of_kit(radius=radius)
    smoke, coarse = in_small_steps(power, energy, impedance, until, 150)
    _, fine = in_small_steps(power, energy, impedance, until, 300)
    exact = fine + (fine - coarse) / (2**1.5 - 1)
    assert abs(exact / fine - 1) < 3e-4  # the other algorithm has settled
    np.testing.assert_allclose(
        march(power, rise=RISE, energy=energy, impedance=impedance), (smoke, exact), rtol=2e-4
    )


@pytest.mark.parametrize("power", [3.0, 10.0, 50.0])
def test_a_lump_of_metal_has_its_own_closed_answer(power):
    # one heat capacity behind one resistance R: from smoke on, rise/R leaks and the rest is surplus
    resistance, settling, energy = 100.0, 20.0, 100.0
    smoke, ember = march(
        power, rise=RISE, energy=energy, impedance=lambda t: -resistance * np.expm1(-t / settling)
    )
    exact = -settling * math.log1p(-RISE / (power * resistance))
    assert smoke == pytest.approx(exact, rel=1e-3)
    assert ember == pytest.approx(exact + energy / (power - RISE / resistance), rel=3e-3)


def test_too_little_power_is_never():
    least = RISE / KIT.steady
    assert march(0.99 * least, rise=RISE, energy=100.0, impedance=of_kit()) == (math.inf, math.inf)
    assert march(0.0, rise=RISE, energy=100.0, impedance=of_kit()) == (math.inf, math.inf)
    smoke, ember = march(1.05 * least, rise=RISE, energy=100.0, impedance=of_kit())
    assert math.isfinite(smoke)
    assert math.isfinite(ember)


def test_smoke_without_surplus_never_makes_an_ember():
    # so near the least power that what is left over cannot pay for a whole board of dust
    least = RISE / KIT.steady
    smoke, ember = march(1.01 * least, rise=RISE, energy=1e5, impedance=of_kit())
    assert math.isfinite(smoke)
    assert ember == math.inf


def test_with_no_dust_to_make_the_ember_comes_with_the_smoke():
    smoke, ember = march(10.0, rise=RISE, energy=0.0, impedance=of_kit())
    assert ember == smoke


def test_much_dust_and_little_soak_is_the_energy_bound():
    assert march(10.0, rise=RISE, energy=1e5, impedance=thick(1e-5))[1] == pytest.approx(
        1e4, rel=1e-5
    )


def test_kits_side_by_side_are_the_kits_one_by_one():
    radius = np.linspace(0.003, 0.016, 7)
    together = march(10.0, rise=RISE, energy=dust(radius), impedance=of_kit(radius=radius))
    alone = [
        march(10.0, rise=RISE, energy=dust(one), impedance=of_kit(radius=one)) for one in radius
    ]
    np.testing.assert_allclose(np.transpose(together), alone, rtol=1e-9)
    table = march([[5.0], [20.0]], rise=RISE, energy=dust(radius), impedance=of_kit(radius=radius))
    assert table[1].shape == (2, 7)
    assert all(
        isinstance(time, float) for time in march(10.0, rise=RISE, energy=100.0, impedance=of_kit())
    )


def test_an_impedance_that_takes_one_time_only_will_do():
    one_by_one = march(
        126e3, rise=300.0, energy=1.03e6, impedance=lambda t: 2 * math.sqrt(t / math.pi) / 700.0
    )
    assert one_by_one == pytest.approx(
        march(126e3, rise=300.0, energy=1.03e6, impedance=thick(700.0)), rel=1e-12
    )


@given(
    power=st.floats(4.0, 80.0),
    radius=st.floats(0.003, 0.015),
    per_area=st.floats(1e5, 3e6),
    factor=st.floats(1.02, 3.0),
)
def test_everything_moves_the_right_way(power, radius, per_area, factor):
    smoke, ember = march(
        power, rise=RISE, energy=dust(radius, per_area), impedance=of_kit(radius=radius)
    )
    quicker = march(
        power * factor, rise=RISE, energy=dust(radius, per_area), impedance=of_kit(radius=radius)
    )
    wider = march(
        power,
        rise=RISE,
        energy=dust(radius * factor, per_area),
        impedance=of_kit(radius=radius * factor),
    )
    hotter = march(
        power, rise=RISE * factor, energy=dust(radius, per_area), impedance=of_kit(radius=radius)
    )
    more = march(
        power, rise=RISE, energy=dust(radius, per_area * factor), impedance=of_kit(radius=radius)
    )
    assert smoke <= ember
    assert ember >= dust(radius, per_area) / power
    assert quicker[0] <= smoke
    assert quicker[1] <= ember
    assert wider[0] >= smoke
    assert min(wider[1], hotter[1], more[1]) >= ember
    assert more[0] == smoke


@given(power=st.floats(4.0, 80.0), per_area=st.floats(1e5, 3e6))
def test_a_narrow_tip_that_leaks_is_never_before_the_closed_curve(power, per_area):
    # spreading sideways and leak only take heat away from what soaks straight in
    area, both = np.pi * KIT.radius**2, np.sqrt(0.22 * 6e5) + np.sqrt(0.12 * 6e5)
    smoke, ember = march(power, rise=RISE, energy=per_area * area, impedance=of_kit())
    early = two_stage(power / area, energy_per_area=per_area, effusivity=both, rise=RISE)
    assert smoke >= early[0] * (1 - 1e-4)
    assert ember >= early[1] * (1 - 2e-4)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ((-1.0, 280.0, 100.0, thick()), "friction power is -1 W"),
        ((10.0, 0.0, 100.0, thick()), "temperature rise is 0 K"),
        ((10.0, 280.0, math.inf, thick()), "energy is inf J"),
        ((10.0, 280.0, 100.0, lambda t: 0 * t), "thermal impedance must be"),
        ((10.0, 280.0, 100.0, lambda t: t * math.nan), "thermal impedance must be"),
    ],
)
def test_what_cannot_be_is_refused(values, words):
    names = ("power", "rise", "energy", "impedance")
    with pytest.raises(InputError, match=words):
        march(**dict(zip(names, values, strict=True)))
