"""The tip ring by ring, the ramp, and what stands beside the watts."""

import math

import numpy as np
import pytest
import sympy
from hypothesis import given
from hypothesis import strategies as st
from oracles.tip import heat_flux, pressure
from scipy import integrate
from scipy.constants import degree

from fireheat import Effort, InputError, Kit
from fireheat.answers.rings import cut
from fireheat.cases import case
from fireheat.derivation import bound, symbols
from fireheat.everyday import familiar_powers, hung_mass, like_power
from fireheat.kit.bowing import area_factor, friction_power, friction_torque, torque_coefficient
from fireheat.kit.kit import Try
from fireheat.kit.tip import force_within, torque_within, turning_speed, wear_limit
from fireheat.person.measuring import mean_angle, ramp_friction
from fireheat.quantities import from_si, to_si
from fireheat.unknowns import unknown

CONTACTS = ("uniform_wear", "uniform_pressure")
FORCE, FRICTION, SPEED, RADIUS, SHARE = (
    st.floats(0.1, 500),
    st.floats(0.01, 1.5),
    st.floats(0.01, 5),
    st.floats(1e-3, 0.05),
    st.floats(0.001, 1),
)
both = pytest.mark.parametrize("contact", CONTACTS)
FRESH = Try(Kit(contact="uniform_pressure"))


# ---- rings against the outside ----------------------------------------------------------------


def test_the_rings_of_a_flat_pivot_lose_what_the_exam_says():
    # Jharkhand Staff Selection Commission, Junior Engineer (Mechanical), re-examination of
    # 23 October 2022, paper II, with its printed answer (seen in a public bank of questions): flat
    # pivot, uniform wear, 20 kN, diameter 16 cm, mu 0.05, 10 rad/s: 400 W lost to friction.
    edges = np.linspace(0, 0.08, 9)
    watts = np.diff(torque_within(edges, force=20e3, friction=0.05, radius=0.08)) * 10
    assert watts.sum() == pytest.approx(400, rel=1e-12)


def test_a_ring_shaped_plate_takes_the_mean_radius_when_worn():
    # Shigley, Mechanical Engineering Design, axial clutches: with uniform wear, torque over
    # friction and force is the mean of inner and outer radius; with uniform pressure it is
    # (2/3) (R^3 - r^3) / (R^2 - r^2). (from memory)
    inner, outer = 0.025, 0.125
    arms = {
        "uniform_wear": (inner + outer) / 2,
        "uniform_pressure": 2 / 3 * (outer**3 - inner**3) / (outer**2 - inner**2),
    }
    for contact, arm in arms.items():
        edges = np.array([inner, outer])
        carried = np.diff(force_within(edges, force=60, radius=outer, contact=contact))
        held = np.diff(torque_within(edges, force=60, friction=0.3, radius=outer, contact=contact))
        assert held / carried == pytest.approx(0.3 * arm)


def as_numpy(expression):
    """Turn an expression into a NumPy function of distance, force, friction, radius and speed."""
    letters = [symbols.s, *(symbols.SYMBOLS[k] for k in ("force", "friction", "radius", "speed"))]
    return sympy.lambdify(letters, expression, "numpy")


GRID = [
    axis.ravel()
    for axis in np.meshgrid(
        np.geomspace(1e-3, 1, 9),
        np.geomspace(0.1, 500, 5),
        np.geomspace(0.01, 1.5, 5),
        np.geomspace(1e-3, 0.05, 5),
        np.geomspace(0.01, 5, 5),
    )
]
GRID[0] = GRID[0] * GRID[3]


@both
def test_pressure_force_torque_and_flux_are_what_sympy_derives(contact):
    s, r, mu, v = symbols.s, symbols.r, symbols.mu, symbols.v
    p = bound.derived_pressure(contact)
    out = sympy.Symbol("out", positive=True)
    carried = sympy.integrate(2 * sympy.pi * out * p.subs(s, out), (out, 0, s))
    held = sympy.integrate(2 * sympy.pi * mu * out**2 * p.subs(s, out), (out, 0, s))
    distance, force, friction, radius, speed = GRID
    law = {"contact": contact}
    found = {
        p: pressure(distance, force=force, radius=radius, **law),
        carried: force_within(distance, force=force, radius=radius, **law),
        held: torque_within(distance, force=force, friction=friction, radius=radius, **law),
        mu * p * s * v / r: heat_flux(
            distance, force=force, friction=friction, radius=radius, speed=speed, **law
        ),
    }
    for expression, values in found.items():
        np.testing.assert_allclose(values, as_numpy(expression)(*GRID), rtol=1e-12)


# ---- laws that rings must obey -----------------------------------------------------------------


@both
def test_the_pressure_adds_up_to_the_force_and_its_drag_to_the_torque(contact):
    force, friction, radius = 60.0, 0.35, 0.0065
    carried, _ = integrate.quad(
        lambda s: 2 * math.pi * s * pressure(s, force=force, radius=radius, contact=contact),
        0,
        radius,
    )
    held, _ = integrate.quad(
        lambda s: (
            2
            * math.pi
            * s
            * s
            * friction
            * pressure(s, force=force, radius=radius, contact=contact)
        ),
        0,
        radius,
    )
    assert carried == pytest.approx(force)
    assert held == pytest.approx(
        friction_torque(force, friction=friction, radius=radius, contact=contact)
    )


@given(FORCE, FRICTION, SPEED, RADIUS, st.sampled_from(CONTACTS), st.integers(1, 40))
def test_however_many_rings_they_add_up_to_the_whole(
    force, friction, speed, radius, contact, count
):
    kit = Kit(radius=radius, friction=friction, contact=contact)
    found = cut(Try(kit, Effort(force=force, speed=speed)), count=count)
    assert len(found.torque) == count
    assert found.force.sum() == pytest.approx(force)
    assert found.area.sum() == pytest.approx(math.pi * radius**2)
    assert found.torque.sum() == pytest.approx(
        torque_coefficient(contact) * friction * force * radius
    )
    watts = friction_power(force, friction=friction, speed=speed, contact=contact)
    assert found.power.sum() == pytest.approx(watts)
    assert found.mean_flux == pytest.approx(watts / (math.pi * radius**2))


@given(SHARE, FORCE, FRICTION, RADIUS, SPEED)
def test_a_worn_in_tip_heats_evenly_and_a_fresh_one_in_step_with_the_distance(
    share, force, friction, radius, speed
):
    given = {"force": force, "friction": friction, "radius": radius, "speed": speed}
    worn = heat_flux(share * radius, **given)
    assert worn == pytest.approx(heat_flux(0.0, **given))
    fresh = [heat_flux(s * radius, **given, contact="uniform_pressure") for s in (share, 1)]
    assert fresh[0] == pytest.approx(share * fresh[1])
    mean = friction_power(force, friction=friction, speed=speed, contact="uniform_pressure") / (
        math.pi * radius**2
    )
    assert fresh[1] == pytest.approx(1.5 * mean)


def test_the_rings_of_a_worn_in_tip_all_make_the_same_heat_per_area():
    flux = cut(Try(), count=8).flux
    assert flux == pytest.approx(np.full(8, flux[0]))
    fresh = cut(FRESH, count=8).flux
    assert np.all(np.diff(fresh) > 0)


def test_a_fresh_tip_presses_evenly_and_a_worn_in_one_harder_near_the_axis():
    fresh = cut(FRESH, count=8).pressure
    assert fresh == pytest.approx(np.full(8, fresh[0]))
    assert np.all(np.diff(cut(Try(), count=8).pressure) < 0)


@both
def test_torque_over_friction_and_carried_force_is_the_same_share_of_any_inner_radius(contact):
    # The coefficient and the growth of the carried force are one law: C = n / (n + 1).
    growth = math.log2(1 / force_within(0.5, force=1.0, radius=1.0, contact=contact))
    assert torque_coefficient(contact) == pytest.approx(growth / (growth + 1))


def test_the_cord_turns_a_thin_spindle_faster_and_a_tapered_one_by_its_wrap():
    assert turning_speed(1.0, cord_radius=0.005) == 2 * turning_speed(1.0, cord_radius=0.010)
    tapered = cut(Try(Kit(cord_radius=2 * Kit().radius)))
    assert tapered.power.sum() == pytest.approx(cut(Try()).power.sum() / 2)


# ---- what rings refuse ------------------------------------------------------------------------

CALLS = [
    (force_within, {"distance": 0.004, "force": 60.0, "radius": 0.0065}, "N"),
    (
        torque_within,
        {"distance": 0.004, "force": 60.0, "friction": 0.35, "radius": 0.0065},
        "N m",
    ),
    (pressure, {"distance": 0.004, "force": 60.0, "radius": 0.0065}, "Pa"),
    (
        heat_flux,
        {"distance": 0.004, "force": 60.0, "friction": 0.35, "radius": 0.0065, "speed": 1.0},
        "W/m^2",
    ),
    (turning_speed, {"speed": 1.0, "cord_radius": 0.0065}, "rad/s"),
]
NAMES = [function.__name__ for function, *_ in CALLS]


@pytest.mark.parametrize(("function", "case", "_unit"), CALLS[:4], ids=NAMES[:4])
def test_a_place_outside_the_tip_is_refused(function, case, _unit):
    with pytest.raises(InputError, match=r"axis is 0\.007 m; allowed: 0 m to the tip's radius"):
        function(**case | {"distance": np.array([0.001, 0.007])})
    with pytest.raises(InputError, match="allowed: uniform_wear, uniform_pressure"):
        function(**case, contact="worn")


def test_rings_of_a_domed_tip_are_refused_by_name():
    kit = Kit(contact="domed")  # such a kit is well: only its rings are not told apart
    words = "rings, which must be flat, is 'domed'; allowed: uniform_wear, uniform_pressure"
    with pytest.raises(InputError, match=words):
        cut(Try(kit))
    with pytest.raises(InputError, match=words):
        torque_within(0.004, force=60.0, friction=0.35, radius=0.0065, contact="domed")


def wear_by_marching(friction, wear, force, speed, capacity):
    """Rise of a rubbed half-space that wears, after long: finite volumes that lose their top."""
    area, conductivity = 2e-4, 0.15
    flux, sinking = friction * force * speed / area, wear * force * speed / area
    size = conductivity / capacity / sinking / 10
    rise, step = np.zeros(400), 0.2 * size**2 * capacity / conductivity
    for _ in range(20_000):
        into = np.concatenate([[flux], conductivity / size * -np.diff(rise), [0.0]])
        moved = capacity * sinking * np.concatenate([rise, [0.0]])  # each takes in its lower one
        rise = rise + step / (capacity * size) * (-np.diff(into) + np.diff(moved))
    return rise[0]


@pytest.mark.parametrize(("force", "speed"), [(60.0, 1.0), (20.0, 0.5), (200.0, 2.0)])
def test_a_pair_that_wears_at_the_limit_just_gets_hot_whatever_force_and_speed(force, speed):
    capacity, rise = 8.5e5, 330.0
    limit = wear_limit(0.35, rise=rise, volumetric_heat_capacity=capacity)
    for times in (0.8, 1.0, 1.5):
        found = wear_by_marching(0.35, times * limit, force, speed, capacity)
        assert found == pytest.approx(rise / times, rel=0.01)


def test_the_ordinary_pair_may_wear_as_much_as_the_lesson_says(repository):
    # With the heat that its own dust leaves with, water included, at 350 degC.
    made = case(Try())
    held = (made.energy / (made.depth * math.pi * made.radius**2)) / made.rise
    limit = wear_limit(Kit().friction, rise=made.rise, volumetric_heat_capacity=held)
    assert 1e9 * limit == pytest.approx(1.2, abs=0.05)
    page = (repository / "notebooks" / "01-rubbing-makes-heat.ipynb").read_text(encoding="utf-8")
    assert f"has C = {torque_coefficient('domed'):.2f} (a flat one has 0.5)" in page
    assert f"{100 * (area_factor('domed') - 1):.0f} % more face to rub on" in page
    assert f"by up to {100 * (1 - unknown('creep').band.low):.0f} %" in page


def test_the_endless_pressure_at_a_worn_in_axis_is_refused_not_returned():
    with pytest.raises(InputError, match="on a worn-in tip allowed: above 0 m"):
        pressure(np.array([0.0, 0.001]), force=60, radius=0.0065)
    assert pressure(0.0, force=60, radius=0.0065, contact="uniform_pressure") > 0


def test_a_tip_without_rings_is_refused():
    with pytest.raises(InputError, match="number of rings is 0"):
        cut(Try(), count=0)


# ---- the ramp ---------------------------------------------------------------------------------


def test_a_ramp_at_the_angle_of_a_friction_gives_that_friction():
    # Villar-Garcia et al., Int. Agrophysics 34 (2020) 65 (abstract seen): chestnut on chestnut,
    # static 0.46, kinetic 0.33. The angles were worked here from them: an example, not a check.
    for friction, angle in ((0.46, 24.702), (0.33, 18.263)):
        assert ramp_friction(angle * degree).value == pytest.approx(friction, abs=1e-5)


def test_the_error_of_a_tangent_is_half_the_printed_spread():
    # A public question and answer (Mathematics Stack Exchange 1392729): for 59.3 deg give or take
    # 1.2 deg, tan 60.5 deg - tan 58.1 deg = 0.160926831. First-order propagation leaves out the
    # curve of the tangent, here 0.3 %.
    found = ramp_friction(59.3 * degree, angle_error=1.2 * degree)
    assert found.error == pytest.approx(0.160926831 / 2, rel=4e-3)
    assert found.value == pytest.approx(1.6842, abs=5e-5)


def test_four_bromine_readings_scatter_as_the_course_says():
    # Shodor Education Foundation, UNChem, Simple Statistics: 36.0, 36.3, 35.8 and 36.3 have mean
    # 36.1 (36.10 to two decimals) and standard deviation 0.245.
    found = mean_angle(np.array([36.0, 36.3, 35.8, 36.3]) * degree)
    assert found.value / degree == pytest.approx(36.1)
    assert found.error / degree == pytest.approx(0.245 / math.sqrt(4), abs=3e-4)


def test_twenty_temperatures_have_the_uncertainty_of_the_gum():
    # JCGM 100:2008 (GUM), 4.4.3 and table 1: twenty readings, mean 100.145, standard deviation
    # 1.489, standard uncertainty of the mean 0.333. (from memory)
    readings = [96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07]
    readings += [100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72]
    found = mean_angle(np.array(readings) / 100)
    assert found.value * 100 == pytest.approx(100.145, abs=5e-4)
    assert found.error * 100 == pytest.approx(0.333, abs=5e-4)


def test_a_scale_read_within_limits_has_the_limit_over_the_root_of_three():
    # JCGM 100:2008 (GUM), 4.3.7: copper's expansion within 0.40e-6 of 16.52e-6, uncertainty
    # 0.23e-6. (from memory)
    found = mean_angle(0.1652, angle_limit=0.0040)
    assert found.error == pytest.approx(0.0023, abs=5e-5)


def test_propagation_agrees_with_drawing_a_hundred_thousand_angles():
    draws = np.random.default_rng(7).normal(20 * degree, 1.0 * degree, 100_000)
    found = ramp_friction(20 * degree, angle_error=1.0 * degree)
    assert np.tan(draws).std() == pytest.approx(found.error, rel=0.01)
    assert np.tan(draws).mean() == pytest.approx(found.value, rel=2e-3)


@given(st.lists(st.floats(0.05, 1.0), min_size=2, max_size=5), st.floats(0, 0.1))
def test_the_order_of_readings_does_not_matter_and_a_coarse_scale_only_blurs(angles, limit):
    forth, back = mean_angle(angles, angle_limit=limit), mean_angle(angles[::-1], angle_limit=limit)
    assert back.value == pytest.approx(forth.value)
    assert back.error == pytest.approx(forth.error)
    assert min(angles) - 1e-12 <= forth.value <= max(angles) + 1e-12
    assert forth.error >= mean_angle(angles).error


def test_more_of_the_same_readings_narrow_the_scatter_but_never_the_scale():
    few, many = (np.tile([0.30, 0.34], times) for times in (2, 200))
    assert mean_angle(many).error < mean_angle(few).error / 5
    assert mean_angle(many, angle_limit=0.02).error > 0.02 / math.sqrt(3)


def test_an_angle_known_exactly_gives_a_friction_known_exactly():
    assert ramp_friction(0.3).error == 0


def test_two_readings_already_show_how_far_they_scatter():
    found = mean_angle([0.30, 0.34])
    assert (found.value, found.error) == (pytest.approx(0.32), pytest.approx(0.02))
    assert found.band.low == pytest.approx(0.30)
    assert found.band.high == pytest.approx(0.34)


def test_one_reading_leaves_only_the_scale():
    assert mean_angle(0.3).error == 0
    assert mean_angle([0.3], angle_limit=0.03).error == pytest.approx(0.03 / math.sqrt(3))


@given(FORCE, SPEED, st.floats(0.05, 1.0), st.floats(0.001, 0.1))
def test_the_watts_are_uncertain_by_the_same_share_as_the_friction(force, speed, angle, error):
    found = ramp_friction(angle, angle_error=error)
    watts, blur = (
        friction_power(force, friction=part, speed=speed) for part in (found.value, found.error)
    )
    assert blur / watts == pytest.approx(found.error / found.value)


@pytest.mark.parametrize("angle", [-0.1, 1.58, float("nan"), "20", math.inf])
def test_an_impossible_ramp_is_refused(angle):
    for call in (ramp_friction, mean_angle):
        with pytest.raises(InputError, match="ramp angle"):
            call(angle)


def test_no_reading_has_no_mean():
    with pytest.raises(InputError, match="ramp angle: no readings; allowed: 1 or more"):
        mean_angle([])


def test_a_negative_error_is_refused_by_name():
    with pytest.raises(InputError, match="standard uncertainty of the angle"):
        ramp_friction(0.3, angle_error=-0.1)
    with pytest.raises(InputError, match="protractor right to within"):
        mean_angle(0.3, angle_limit=-0.1)


# ---- units and familiar things ---------------------------------------------------------------


def test_the_new_units_convert_as_the_definitions_say():
    # BIPM, The International System of Units, 9th ed., tables 4 and 8 (minute, degree); pound-force
    # times inch, 0.112 984 8 N m: NIST SP 811, appendix B.8. (from memory)
    assert to_si(1.0, "lbf in") == pytest.approx(0.1129848, rel=1e-6)
    assert from_si(2 * math.pi, "rpm") == pytest.approx(60)
    assert from_si(0.06825, "N mm") == pytest.approx(68.25)


def test_a_hung_mass_is_what_a_reader_can_work_out_by_hand():
    # One newton is the weight of about 102 g: standard gravity 9.80665 m/s^2, CGPM 1901.
    assert hung_mass(1.0, 1.0) == pytest.approx(1 / 9.80665)


def test_familiar_powers_rise_and_the_nearest_is_named():
    watts = [power for power, _ in familiar_powers()]
    assert watts == sorted(watts)
    assert all(power > 0 for power in watts)
    for power, name in familiar_powers():
        assert name in like_power(power)
