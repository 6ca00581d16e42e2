"""Energy bound, smoke and ember: right numbers, right limits, and never NaN."""

import math

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from oracles.two_stage import heat_split, power_exponent
from scipy import integrate

from fireheat import InputError
from fireheat.estimates import energy_bound, times
from fireheat.heat.two_stage import area_exponent, area_exponent_with_depth, two_stage
from fireheat.kit import bowing
from fireheat.kit.kit import Effort, Kit, Try


def magnitudes(low, high):
    """Numbers spread evenly over the decades from low to high."""
    return st.floats(math.log(low), math.log(high)).map(math.exp)


FLUX, ENERGY, EFFUSIVITY, RISE = (
    magnitudes(1e2, 1e7),
    magnitudes(1e2, 1e8),
    magnitudes(10, 2e4),
    magnitudes(50, 1000),
)
CASE = st.fixed_dictionaries(
    {"flux": FLUX, "energy_per_area": ENERGY, "effusivity": EFFUSIVITY, "rise": RISE}
)
BOWING = st.fixed_dictionaries(
    {
        "energy_per_area": ENERGY,
        "force": magnitudes(1, 500),
        "friction": magnitudes(0.01, 1.5),
        "speed": magnitudes(0.01, 5),
        "radius": magnitudes(1e-3, 0.05),
    }
)
FACTOR = magnitudes(1.01, 100)


# ---- the energy bound ------------------------------------------------------------------------


def test_halving_the_diameter_quarters_the_bound():
    # Common practice, no source: half the spindle diameter, all else equal, about a quarter of
    # the time. The trade's "about" is this bound's exact four.
    ratio = energy_bound(1e6, force=60, friction=0.35, speed=1.0, radius=0.0065) / energy_bound(
        1e6, force=60, friction=0.35, speed=1.0, radius=0.00325
    )
    assert ratio == pytest.approx(4, rel=1e-14)


def test_the_bound_depends_on_strokes_only_through_their_speed():
    # Common practice, no source: time falls in proportion as average bow speed rises; stroke
    # length does not matter at equal speed.
    long, short = (
        bowing.bow_speed(length, strokes_per_minute=count)
        for length, count in ((0.8, 60), (0.2, 240))
    )
    times = [
        energy_bound(1e6, force=60, friction=0.35, speed=speed, radius=0.0065)
        for speed in (long, short, 2 * long)
    ]
    assert times[0] == pytest.approx(times[1], rel=1e-14)
    assert times[0] == pytest.approx(2 * times[2], rel=1e-14)


def test_the_bound_is_the_textbook_time_of_a_thermally_thin_body():
    # PyPI ofire 0.1.16 (openfire), introduction_to_fire_dynamics, chapter 6, equation 6.33, the
    # example of its docstring: 1190 kg/m^3, 1420 J/(kg K), 1 mm, 298 to 573 K, 20 kW/m^2: 23.23475.
    # Here the 20 kW/m^2 come from bowing.
    radius = 0.0065
    force = 20e3 * math.pi * radius**2 / bowing.friction_power(1.0, friction=0.35, speed=1.0)
    energy = 1190 * 1420 * 1e-3 * (573 - 298)
    assert energy_bound(
        energy, force=force, friction=0.35, speed=1.0, radius=radius
    ) == pytest.approx(23.23475, rel=1e-9)


@given(BOWING, FACTOR)
def test_the_bound_scales_as_the_relation_says(case, factor):
    first = energy_bound(**case)
    powers = {"energy_per_area": 1, "force": -1, "friction": -1, "speed": -1, "radius": 2}
    for key, power in powers.items():
        stretched = energy_bound(**case | {key: factor * case[key]})
        assert stretched == pytest.approx(factor**power * first)


def test_a_thinner_cord_radius_spins_faster_and_shortens_the_bound():
    same = energy_bound(1e6, force=60, friction=0.35, speed=1.0, radius=0.0065)
    thin = energy_bound(1e6, force=60, friction=0.35, speed=1.0, radius=0.0065, cord_radius=0.004)
    assert thin == pytest.approx(same * 0.004 / 0.0065)


def test_a_fresh_tip_makes_four_thirds_of_the_heat_of_a_worn_in_one():
    worn = energy_bound(1e6, force=60, friction=0.35, speed=1.0, radius=0.0065)
    fresh = energy_bound(
        1e6, force=60, friction=0.35, speed=1.0, radius=0.0065, contact="uniform_pressure"
    )
    assert worn / fresh == pytest.approx(4 / 3, rel=1e-14)


@pytest.mark.parametrize("idle", [{"force": 0}, {"friction": 0}, {"speed": 0}])
@pytest.mark.parametrize("energy", [0, 1e6])
def test_without_heat_there_is_never_an_ember(idle, energy):
    kit = {"force": 60, "friction": 0.35, "speed": 1.0, "radius": 0.0065} | idle
    assert energy_bound(energy, **kit) == math.inf


# ---- smoke and ember -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("flux", "energy", "smoke", "ember"),
    [(126e3, 1.03e6, 2.182, 15.37), (60e3, 0.2e6, 9.621, 18.91)],
)
def test_two_cases_worked_by_hand(flux, energy, smoke, ember):
    # Worked here from the same formulas: examples. The march and the quadrature below check them.
    found = two_stage(flux, energy_per_area=energy, effusivity=700.0, rise=300.0)
    assert found[0] == pytest.approx(smoke, abs=5e-4)
    assert found[1] == pytest.approx(ember, abs=5e-3)


@pytest.mark.parametrize(("flux", "seconds"), [(30e3, 53.48), (50e3, 19.25)])
def test_with_no_dust_to_make_smoke_is_the_thick_ignition_time(flux, seconds):
    # Plywood, 0.635 cm: k rho c 0.46 (kW/m^2 K)^2 s, ignition 390 degC, Quintiere & Harkleroad, in
    # Quintiere, Fundamentals of Fire Phenomena. The times, from 25 degC, are worked here from the
    # textbook's formula: an example. One body alone.
    smoke, ember = two_stage(
        flux, energy_per_area=0, effusivity=math.sqrt(0.46) * 1e3, rise=390 - 25
    )
    assert smoke == pytest.approx(seconds, abs=5e-3)
    assert ember == smoke


def test_acrylic_ignites_when_an_independent_library_says():
    # PyPI ofire 0.1.16 (openfire), introduction_to_fire_dynamics, chapter 6, equation 6.32, run
    # with k 0.19, rho 1190, c 1420, 298 to 573 K, 20 kW/m^2; its own unit test has the same value.
    effusivity = math.sqrt(0.19 * 1190 * 1420)
    assert two_stage(20e3, energy_per_area=0, effusivity=effusivity, rise=573 - 298)[
        0
    ] == pytest.approx(47.67428456490953, rel=1e-12)


def march(flux, energy, effusivity, rise, cells=400, steps_per_smoke=4000):
    """Smoke and ember by a 1-D explicit march of one body, in its own units; no formula of ours.

    Depth is counted so that conductivity and heat capacity both are the effusivity.
    """
    guess = (effusivity * rise / flux) ** 2
    dt = guess / steps_per_smoke
    dx = math.sqrt(2.5 * dt)
    warm, dust, now, smoke = np.zeros(cells), 0.0, 0.0, None
    while True:
        inflow = effusivity * (rise - warm[0]) / (dx / 2) if smoke else flux
        if not smoke and warm[0] + flux * dx / (2 * effusivity) >= rise:
            smoke = now
            continue
        if smoke:
            dust += (flux - inflow) * dt
            if dust >= energy:
                return smoke, now + dt
        fluxes = np.concatenate(([inflow], effusivity * -np.diff(warm) / dx, [0.0]))
        warm = warm - np.diff(fluxes) * dt / (effusivity * dx)
        now += dt


@pytest.mark.parametrize(("flux", "energy"), [(126e3, 1.03e6), (60e3, 0.2e6)])
def test_a_finite_difference_march_agrees(flux, energy):
    smoke, ember = march(flux, energy, effusivity=700.0, rise=300.0)
    closed = two_stage(flux, energy_per_area=energy, effusivity=700.0, rise=300.0)
    assert closed == pytest.approx((smoke, ember), rel=0.01)


@given(CASE)
def test_the_surplus_added_up_by_quadrature_is_the_energy_of_the_dust(case):
    flux, energy = case["flux"], case["energy_per_area"]
    smoke, ember = two_stage(**case)
    if ember / smoke > 1e4:  # all but energy over flux; the quadrature would only see noise
        return

    def surplus(root):  # time is smoke (1 + root^2): smooth where the stages meet
        return flux * (1 - 2 / math.pi * math.asin(1 / math.hypot(1, root))) * 2 * smoke * root

    end = math.sqrt((ember - smoke) / smoke)
    delivered = integrate.quad(surplus, 0, end, epsabs=0, epsrel=1e-12, limit=200)[0]
    # Close to first smoke, ember - smoke has lost digits before it gets here.
    lost = 4e-16 * ember / max(ember - smoke, 1e-300)
    assert delivered == pytest.approx(energy, rel=1e-9 + 4 * lost, abs=1e-12 * flux * smoke)


def test_the_curve_is_solved_to_twelve_digits_from_one_end_to_the_other():
    # mpmath, 60 digits: the root lies between a hair sooner and a hair later.
    effusivity, rise, flux = 700.0, 300.0, 6e4
    smoke = math.pi / 4 * (effusivity * rise / flux) ** 2
    ratios = np.geomspace(1e-12, 1e12, 97)
    embers = two_stage(
        flux, energy_per_area=ratios * flux * smoke, effusivity=effusivity, rise=rise
    )[1]
    with mpmath.workdps(60):

        def excess(s, ratio):
            soaked = s * mpmath.asin(1 / mpmath.sqrt(s)) + mpmath.sqrt(s - 1)
            return s - 2 / mpmath.pi * soaked - ratio

        for ratio, ember in zip(ratios, embers, strict=True):
            near = mpmath.mpf(float(ember / smoke))
            early, late = (near * (1 + way * mpmath.mpf("1e-12")) for way in (-1, 1))
            assert excess(max(early, mpmath.mpf(1)), float(ratio)) < 0, ratio
            assert excess(late, float(ratio)) > 0, ratio


@given(CASE)
def test_neither_bound_nor_smoke_comes_after_the_ember(case):
    smoke, ember = two_stage(**case)
    assert smoke <= ember
    assert case["energy_per_area"] / case["flux"] <= ember * (1 + 1e-12)


@given(CASE, FACTOR)
def test_more_flux_is_sooner_and_more_of_anything_else_later(case, factor):
    first = two_stage(**case)[1]
    assert two_stage(**case | {"flux": case["flux"] * factor})[1] < first
    for key in ("energy_per_area", "effusivity", "rise"):
        assert two_stage(**case | {key: case[key] * factor})[1] >= first * (1 - 1e-12)


@given(CASE, FACTOR)
def test_all_times_stretch_alike_when_energy_and_effusivity_do(case, factor):
    stretched = {"energy_per_area": case["energy_per_area"] * factor**2}
    stretched["effusivity"] = case["effusivity"] * factor
    slow = two_stage(**case | stretched)
    assert slow == pytest.approx([factor**2 * time for time in two_stage(**case)], rel=1e-11)


def test_half_the_diameter_is_between_a_quarter_and_a_sixteenth_of_the_time():
    for energy, least, most in ((1e9, 3.9, 4.2), (1e6, 4.0, 16.0), (1e1, 15.5, 16.0)):
        thick = two_stage(6e4, energy_per_area=energy, effusivity=700.0, rise=300.0)[1]
        thin = two_stage(4 * 6e4, energy_per_area=energy, effusivity=700.0, rise=300.0)[1]
        assert least < thick / thin < most


def test_zero_flux_is_never():
    assert two_stage(0, energy_per_area=1e6, effusivity=700, rise=300) == (math.inf, math.inf)
    assert two_stage(0, energy_per_area=0, effusivity=0, rise=300) == (math.inf, math.inf)
    smoke, ember = two_stage(np.array([0.0, 6e4]), energy_per_area=1e6, effusivity=700, rise=300)
    assert np.isinf(smoke).tolist() == np.isinf(ember).tolist() == [True, False]


def test_no_dust_to_make_is_first_smoke_and_no_soaking_is_the_bound():
    smoke, ember = two_stage(6e4, energy_per_area=0, effusivity=700, rise=300)
    assert ember == smoke > 0
    assert two_stage(6e4, energy_per_area=1e6, effusivity=0, rise=300) == pytest.approx(
        (0, 1e6 / 6e4)
    )
    assert two_stage(6e4, energy_per_area=0, effusivity=0, rise=300) == (0, 0)


def test_arrays_broadcast_and_numbers_come_back_plain():
    smoke, ember = two_stage(
        np.full((3, 1), 6e4), energy_per_area=np.full(5, 1e6), effusivity=700, rise=300
    )
    assert smoke.shape == (3, 1)
    assert ember.shape == (3, 5)
    single = (
        *two_stage(6e4, energy_per_area=1e6, effusivity=700, rise=300),
        area_exponent(6e4, energy_per_area=1e6, effusivity=700, rise=300),
    )
    assert [type(number) for number in single] == [float] * 3


# ---- local exponents and the split -----------------------------------------------------------


@given(CASE)
def test_the_area_exponent_is_the_slope_of_log_time_in_log_area(case):
    step = 1e-4  # same watts on a bigger area: the flux goes down
    later, sooner = (
        two_stage(**case | {"flux": case["flux"] * math.exp(-way * step)})[1] for way in (1, -1)
    )
    slope = math.log(later / sooner) / (2 * step)
    assert area_exponent(**case) == pytest.approx(slope, abs=1e-6)


@given(CASE)
def test_the_area_exponent_lies_between_one_and_two_and_the_watts_answer_it(case):
    n = area_exponent(**case)
    assert 1 <= n <= 2
    assert power_exponent(**case) == -n


def test_the_exponent_reaches_both_ends():
    ends = area_exponent(6e4, energy_per_area=np.array([1e-6, 1e18]), effusivity=700, rise=300)
    assert ends == pytest.approx([2, 1], abs=1e-4)
    assert area_exponent(6e4, energy_per_area=1e6, effusivity=0, rise=300) == 1
    assert area_exponent(6e4, energy_per_area=0, effusivity=700, rise=300) == 2


@given(CASE, st.floats(0, 2))
def test_with_depth_the_exponent_is_the_slope_of_log_time_where_the_depth_falls(case, p):
    step = 1e-4  # same watts on a bigger area; the energy goes with the depth, D^-p, so A^(-p/2)
    later, sooner = (
        two_stage(
            case["flux"] * math.exp(-way * step),
            energy_per_area=case["energy_per_area"] * math.exp(-way * step * p / 2),
            effusivity=case["effusivity"],
            rise=case["rise"],
        )[1]
        for way in (1, -1)
    )
    slope = math.log(later / sooner) / (2 * step)
    found = area_exponent_with_depth(area_exponent(**case), depth_exponent=p)
    assert found == pytest.approx(slope, abs=1e-6)


def log_slope(state, step=0.01, **powers):
    """Slope of ln(ember) as quantities of a try are stretched together, each to its own power."""
    later, sooner = (
        times(state, **{k: state.value(k) * math.exp(way * step * n) for k, n in powers.items()})
        for way in (1, -1)
    )
    pairs = (later.bound, sooner.bound), (later.ember.likely, sooner.ember.likely)
    return [math.log(one / other) / (2 * step) for one, other in pairs]


@pytest.mark.parametrize("p", [0.5, 1.0, 2.0])
@pytest.mark.parametrize("weak", [Try(), Try(Kit(radius=0.011), Effort(force=45.0, speed=0.8))])
def test_a_real_kit_has_an_exponent_with_depth_of_its_own(weak, p):
    _, alone = log_slope(weak, diameter=0.5)  # a power of one for the area
    _, deeper = log_slope(weak, burn_in_depth=1.0)
    bound, along = log_slope(weak, diameter=0.5, burn_in_depth=-p / 2)
    found = area_exponent_with_depth(alone, depth_exponent=p, depth_slope=deeper)
    assert found == pytest.approx(along, abs=2e-3)
    on_the_curve = area_exponent_with_depth(alone, depth_exponent=p)
    assert abs(on_the_curve - along) > 0.02  # a real kit leaks and wears: the curve's slope is off
    assert bound == pytest.approx(1 - p / 2, abs=1e-9)  # the same grams: the same floor


@given(CASE)
def test_dust_and_soaked_heat_add_up_to_the_heat_made(case):
    dust, soaked = heat_split(**case)
    assert dust == case["energy_per_area"]
    assert soaked > 0
    assert dust + soaked == pytest.approx(case["flux"] * two_stage(**case)[1], rel=1e-11)


# ---- what may come in, and what never goes out -------------------------------------------------

FLUX_CASE = {"flux": 6e4, "energy_per_area": 1e6, "effusivity": 700.0, "rise": 300.0}
BOUND_CASE = {
    "energy_per_area": 1e6,
    "force": 60.0,
    "friction": 0.35,
    "speed": 1.0,
    "radius": 0.0065,
}


def test_a_radius_or_rise_of_zero_is_refused():
    with pytest.raises(InputError, match="spindle tip radius is 0 m; allowed: above 0 m"):
        energy_bound(1e6, force=60, friction=0.35, speed=1.0, radius=0)
    with pytest.raises(InputError, match="temperature rise is 0 K; allowed: above 0 K"):
        two_stage(6e4, energy_per_area=1e6, effusivity=700, rise=0)


ANY = st.one_of(st.just(0.0), magnitudes(1e-30, 1e30))


@given(flux=ANY, energy_per_area=ANY, effusivity=ANY, rise=magnitudes(1e-6, 1e6))
def test_nothing_is_ever_nan(**case):
    smoke, ember = two_stage(**case)
    numbers = [smoke, ember, *heat_split(**case), area_exponent(**case)]
    assert not np.isnan(numbers).any(), numbers
    assert smoke <= ember
