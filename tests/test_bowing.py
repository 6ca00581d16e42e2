"""Torque, power, pull, speed and cord: against exams, textbooks and the laws they must obey."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate

from fireheat import InputError
from fireheat.kit.bowing import (
    FLAT,
    TORQUE_COEFFICIENTS,
    area_factor,
    bow_pull,
    bow_speed,
    cord_slip_pull,
    dome_area_factor,
    dome_coefficient,
    friction_power,
    friction_torque,
    torque_coefficient,
)
from fireheat.quantities import quantity

CONTACTS = tuple(TORQUE_COEFFICIENTS)
FORCE, FRICTION, SPEED, RADIUS = (
    st.floats(0.1, 500),
    st.floats(0.01, 1.5),
    st.floats(0.01, 5),
    st.floats(1e-3, 0.05),
)


# ---- against the outside -----------------------------------------------------------------------


def test_a_flat_pivot_loses_what_the_exam_says():
    # Jharkhand Staff Selection Commission, Junior Engineer (Mechanical), re-examination of
    # 23 October 2022, paper II, with its printed answer (seen in a public bank of questions): flat
    # pivot, uniform wear, 20 kN, diameter 16 cm, mu 0.05, 10 rad/s: 400 W lost to friction.
    assert friction_power(20e3, friction=0.05, speed=10 * 0.08) == pytest.approx(400, rel=1e-12)
    assert friction_torque(20e3, friction=0.05, radius=0.08) * 10 == pytest.approx(400, rel=1e-12)


def test_the_coefficients_are_those_of_axial_clutches():
    # Shigley, Mechanical Engineering Design, axial clutches without a hole: 2/3 and 1/2.
    # (from memory)
    assert torque_coefficient("uniform_pressure") == pytest.approx(2 / 3)
    assert torque_coefficient("uniform_wear") == 0.5


def ring_torque(contact, outer, inner, pressing=1.0):
    """Torque of a ring-shaped plate: the whole disc less its hole, each with its own force."""
    level = {"uniform_pressure": lambda r: r * r, "uniform_wear": lambda r: r}[contact]
    share = pressing / (level(outer) - level(inner))
    return sum(
        sign * friction_torque(share * level(radius), friction=1.0, radius=radius, contact=contact)
        for sign, radius in ((1, outer), (-1, inner))
    )


def test_a_new_clutch_needs_less_force_than_a_worn_one_by_the_exam_ratio():
    # GATE mechanical engineering question with printed answer: diameters 250 and 50 mm, same
    # torque; force when new (uniform pressure) over force when worn (uniform wear) is 0.871.
    worn, new = (ring_torque(contact, 0.125, 0.025) for contact in FLAT)
    assert FLAT == ("uniform_wear", "uniform_pressure")
    assert worn / new == pytest.approx(0.871, abs=5e-4)


@pytest.mark.parametrize(
    ("turns", "friction", "ratio"),
    [(1, 0.3, 6.6), (2, 0.3, 43), (5, 0.6, 153552935)],
)
def test_the_cord_holds_by_the_capstan_ratio(turns, friction, ratio):
    # Tension ratios of the capstan equation: one turn at 0.3, 6.6, and two, 43, a teaching page on
    # belt friction (openknowledgegraph.com); five turns at 0.6, 153552935, the table in Wikipedia,
    # "Capstan equation".
    digits = {6.6: 1e-2, 43: 2e-2, 153552935: 1e-8}[ratio]
    slack = 10.0
    tight = slack + cord_slip_pull(slack, cord_friction=friction, wrap_angle=2 * math.pi * turns)
    assert tight / slack == pytest.approx(ratio, rel=digits)


@pytest.mark.parametrize("contact", FLAT)
def test_rings_added_up_by_quadrature_give_the_torque(contact):
    force, friction, radius = 60.0, 0.35, 0.0065
    pressure = {
        "uniform_pressure": lambda s: force / (math.pi * radius**2),
        "uniform_wear": lambda s: force / (2 * math.pi * radius * s),
    }[contact]
    total, _ = integrate.quad(lambda s: friction * pressure(s) * 2 * math.pi * s**2, 0, radius)
    assert friction_torque(
        force, friction=friction, radius=radius, contact=contact
    ) == pytest.approx(total)


@pytest.mark.parametrize("height", [0.02, 0.25, 0.5, 1.0])
def test_a_dome_that_sinks_evenly_has_its_torque_and_area_by_rings(height):
    # Small rings of a ball's cap, with nothing taken from the formula: each wears across its own
    # slope as pressure times sliding speed, and all must sink alike.
    ball = (1 + height**2) / (2 * height)
    place = (np.arange(200_000) + 0.5) / 200_000
    upright = np.sqrt(1 - (place / ball) ** 2)  # cosine of the slope
    face = 2 * math.pi * place / upright / len(place)
    pressure = upright / place  # sinking, p s / cos, is one everywhere
    force, torque = (pressure * upright * face).sum(), (pressure * place * face).sum()
    assert dome_coefficient(height) == pytest.approx(torque / force, rel=1e-3)
    assert dome_area_factor(height) == pytest.approx(face.sum() / math.pi, rel=2e-3)


def test_the_dome_goes_from_a_flat_worn_in_tip_to_half_a_ball():
    assert dome_coefficient(1.0) == pytest.approx(2 / math.pi, rel=1e-14)
    assert dome_coefficient(1e-6) == pytest.approx(torque_coefficient("uniform_wear"), rel=1e-9)
    assert torque_coefficient("domed") == dome_coefficient(0.25) == pytest.approx(0.520, abs=5e-4)
    assert dome_coefficient(0.5) == pytest.approx(0.568, abs=5e-4)
    assert [area_factor(contact) for contact in CONTACTS] == [1.0, 1.0, 1.0625]
    assert np.all(np.diff(dome_coefficient(np.linspace(0.01, 1.0, 50))) > 0)
    with pytest.raises(InputError, match="height of a domed tip"):
        dome_coefficient(1.5)
    with pytest.raises(InputError, match="contact is 'pointed'"):
        area_factor("pointed")


def test_the_capstan_formula_is_the_belt_built_up_bit_by_bit():
    # Each small bit of wrap adds mu T d(angle): 1e5 bits of one turn, no exponential.
    bits = 100_000
    tension = 10.0
    for _ in range(bits):
        tension += 0.3 * tension * (2 * math.pi / bits)
    assert cord_slip_pull(10.0, cord_friction=0.3, wrap_angle=2 * math.pi) == pytest.approx(
        tension - 10.0, rel=1e-4
    )


def test_power_pull_and_speed_agree_on_the_work_done():
    # What the hand puts in is what the tip and the bearing block take up.
    kit = {"radius": 0.0065, "cord_radius": 0.009}
    block = {"block_friction": 0.15, "block_radius": 0.004}
    pulled = bow_pull(60, friction=0.35, **kit, **block) * 0.8
    top = friction_torque(60, friction=0.15, radius=0.004, contact="uniform_pressure") * 0.8 / 0.009
    assert pulled == pytest.approx(friction_power(60, friction=0.35, speed=0.8, **kit) + top)


# ---- laws it must obey -----------------------------------------------------------------------


@given(FORCE, FRICTION, SPEED, RADIUS, st.sampled_from(CONTACTS))
def test_the_radius_drops_out_of_the_power_where_the_cord_wraps_at_the_tip(
    force, friction, speed, radius, contact
):
    plain = friction_power(force, friction=friction, speed=speed, contact=contact)
    wrapped = friction_power(
        force, friction=friction, speed=speed, contact=contact, radius=radius, cord_radius=radius
    )
    assert wrapped == pytest.approx(plain)
    assert plain == pytest.approx(
        friction_torque(force, friction=friction, radius=radius, contact=contact) * speed / radius
    )


@given(FORCE, FRICTION, RADIUS, st.floats(0.1, 10))
def test_torque_goes_with_force_friction_and_radius(force, friction, radius, factor):
    first = friction_torque(force, friction=friction, radius=radius)
    for stretched in (
        friction_torque(factor * force, friction=friction, radius=radius),
        friction_torque(force, friction=factor * friction, radius=radius),
        friction_torque(force, friction=friction, radius=factor * radius),
    ):
        assert stretched == pytest.approx(factor * first)


@given(FORCE, FRICTION, RADIUS, st.floats(0.01, 0.5), st.floats(1e-3, 0.02))
def test_a_rubbing_bearing_block_only_adds_to_the_pull(force, friction, radius, top, top_radius):
    free = bow_pull(force, friction=friction, radius=radius)
    rubbing = bow_pull(
        force, friction=friction, radius=radius, block_friction=top, block_radius=top_radius
    )
    assert rubbing > free
    assert rubbing - free == pytest.approx(2 / 3 * top * force * top_radius / radius, rel=1e-6)


def test_two_half_metre_strokes_a_second_are_a_metre_a_second():
    assert bow_speed(0.5, strokes_per_minute=2 * 60) == 1.0


@given(st.floats(0.05, 1.5), st.floats(1, 600))
def test_strokes_twice_as_long_at_half_the_count_are_the_same_speed(length, count):
    # Common practice, no source: stroke length does not matter at equal speed.
    assert bow_speed(2 * length, strokes_per_minute=count / 2) == pytest.approx(
        bow_speed(length, strokes_per_minute=count)
    )
    assert bow_speed(length, strokes_per_minute=2 * count) == pytest.approx(
        2 * bow_speed(length, strokes_per_minute=count)
    )


def test_a_cord_without_wrap_grip_or_tension_holds_nothing():
    assert (
        cord_slip_pull(10, cord_friction=0.3, wrap_angle=0)
        == cord_slip_pull(10, cord_friction=0, wrap_angle=6.3)
        == cord_slip_pull(0, cord_friction=0.3, wrap_angle=6)
        == 0
    )


def test_arrays_broadcast():
    power = friction_power(
        np.array([[30.0], [60.0]]), friction=0.35, speed=np.array([0.5, 1.0, 1.5])
    )
    assert power.shape == (2, 3)
    assert power[1, 1] == pytest.approx(10.5)


def test_what_makes_no_difference_broadcasts_too():
    power = friction_power(60.0, friction=0.35, speed=1.0, radius=np.array([0.004, 0.0065, 0.01]))
    pull = bow_pull(
        60.0, friction=0.35, radius=0.0065, block_friction=np.zeros(3), block_radius=0.004
    )
    assert power.tolist() == [friction_power(60.0, friction=0.35, speed=1.0)] * 3
    assert pull.tolist() == [bow_pull(60.0, friction=0.35, radius=0.0065)] * 3


# ---- what may come in ------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["radius", "cord_radius"])
def test_a_radius_of_zero_is_refused(key):
    with pytest.raises(InputError, match=f"{quantity(key).name} is 0 m; allowed: above 0 m"):
        bow_pull(60, friction=0.35, **{"radius": 0.0065, key: 0})


@pytest.mark.parametrize("wrong", [math.nan, -0.004, 0.0])
def test_a_block_radius_that_cannot_be_is_refused_without_friction_too(wrong):
    with pytest.raises(InputError, match="bearing block contact radius"):
        bow_pull(60.0, friction=0.35, radius=0.0065, block_friction=0.0, block_radius=wrong)


def test_a_cord_radius_needs_its_tip_radius():
    with pytest.raises(InputError, match="give both"):
        friction_power(60, friction=0.35, speed=1.0, cord_radius=0.009)


@pytest.mark.parametrize("contact", ["worn", "", None, 0.5, ["uniform_wear"]])
def test_an_unknown_contact_is_refused_with_the_allowed_ones(contact):
    with pytest.raises(InputError, match="allowed: uniform_wear, uniform_pressure"):
        friction_torque(60, friction=0.35, radius=0.0065, contact=contact)


def test_tip_and_block_are_each_pressed_in_their_own_way():
    # Worked from the formula: (2/3 0.3 60 0.01 + 1/2 0.2 60 0.005) / 0.02.
    block = {"block_friction": 0.2, "block_radius": 0.005, "block_contact": "uniform_wear"}
    tip = {"friction": 0.3, "radius": 0.01, "contact": "uniform_pressure"}
    assert bow_pull(60.0, **tip, **block, cord_radius=0.02) == pytest.approx(7.5)
