"""A kit, an effort and a day: what `estimate` and `times` say, and where the heat goes."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from oracles.volumes import ember_time
from oracles.wood import energy_per_area

from fireheat import Air, Effort, InputError, Kit, estimate
from fireheat.answers.heat_view import kit_heat
from fireheat.cases import case
from fireheat.estimates import contacts, estimated, explained, times, wood_ends
from fireheat.heat import wearing as march
from fireheat.heat.contact import Contact
from fireheat.heat.material import Material
from fireheat.heat.plain_wearing import wearing_march
from fireheat.heat.two_stage import two_stage
from fireheat.heat.warming import least_power
from fireheat.heat.wearing import wearing
from fireheat.kit.kit import Try
from fireheat.kit.wood import hot_properties, wood
from fireheat.spread import tries

STATES = st.fixed_dictionaries(
    {
        "diameter": st.floats(0.005, 0.03),
        "force": st.floats(10, 150),
        "friction": st.floats(0.15, 0.7),
        "speed": st.floats(0.2, 2.5),
        "burn_in_depth": st.floats(0.001, 0.008),
        "moisture": st.floats(0.03, 0.21),
        "temperature_ambient": st.floats(260, 310),
    }
)

# The march is done when its slowest kit is, so what stands beside a kit moves its last digits.
BESIDE = 1e-5


def ordinary(**changed):
    return times(Try(), **changed)


@given(STATES)
def test_no_estimate_is_sooner_than_the_bound_and_no_ember_than_its_smoke(state):
    found = ordinary(**state)
    assert found.bound <= found.ember.likely
    for smoke, ember in zip(found.smoke, found.ember, strict=True):
        assert smoke <= ember
        assert not np.isnan([smoke, ember]).any()


@given(STATES)
def test_each_end_of_the_band_keeps_the_bound_of_its_own_wood(state):
    # Lighter wood's dust takes less: the low end may be under the bound of the numbers set.
    ends = case(Try(), swept=state, off=wood_ends())
    assert np.all(ends.bound <= ends.ember)
    assert ends.bound[1] == ordinary(**state).bound


@given(STATES)
def test_the_band_is_in_order(state):
    found = ordinary(**state)
    for milestone in (found.smoke, found.ember):
        assert milestone.low <= milestone.likely <= milestone.high


@given(STATES, st.floats(1.01, 1.3))
def test_more_watts_are_never_later_and_more_wood_never_sooner(state, factor):
    now = np.array(ordinary(**state).ember)
    for key, sign in (
        ("force", -1), ("friction", -1), ("speed", -1),
        ("diameter", 1), ("burn_in_depth", 1),
    ):  # fmt: skip
        then = np.array(ordinary(**state | {key: state[key] * factor}).ember)
        finite = np.isfinite(now) & np.isfinite(then)
        assert np.all(sign * (then[finite] - now[finite]) >= 0), key
        never, still = (now, then) if sign > 0 else (then, now)
        assert not np.any(np.isinf(never) & np.isfinite(still)), key


@given(STATES, st.floats(1.05, 1.15))
def test_damper_and_colder_wood_is_never_sooner(state, factor):
    now = ordinary(**state).ember.likely
    damper = ordinary(**state | {"moisture": state["moisture"] * factor})
    colder = ordinary(**state | {"temperature_ambient": state["temperature_ambient"] - 10})
    for then in (damper.ember.likely, colder.ember.likely):
        assert not np.isfinite([now, then]).all() or then >= now


def test_half_the_diameter_quarters_the_bound_and_more_than_quarters_the_ember():
    found = ordinary(diameter=np.array([0.013, 0.0065]))
    assert found.bound[1] / found.bound[0] == pytest.approx(0.25)
    assert found.ember.likely[1] / found.ember.likely[0] < 0.25


def test_only_the_product_of_force_friction_and_speed_counts():
    a = ordinary(force=60.0, friction=0.2, speed=1.0)
    b = ordinary(force=30.0, friction=0.4, speed=1.0)
    c = ordinary(force=30.0, friction=0.2, speed=2.0)
    np.testing.assert_allclose([b.ember, c.ember], [a.ember, a.ember])


@settings(max_examples=40)
@given(STATES)
def test_the_heat_adds_up(state):
    found = estimate(**vars(Try().changed(**state)))
    assert min(found.heat.values()) >= 0
    until = found.ember.likely if np.isfinite(found.ember.likely) else 600.0
    assert sum(found.heat.values()) == pytest.approx(found.power * until, rel=1e-3)


def test_the_early_limit_without_wear_is_the_closed_two_stage_curve():
    """A hundred times the power: over before heat can spread sideways or leak.

    Smoke and dust have two temperatures, so the curve is asked twice.
    """
    kit = Kit(burn_in_depth=0.001)
    made = case(Try(kit, Effort(force=500.0, speed=5.0)), swept={"friction": 1.5})
    hot = hot_properties(wood(kit.wood).specific_gravity, moisture=kit.moisture, temperature=458.15)
    energy = energy_per_area(
        kit.burn_in_depth, density=hot.density, moisture=kit.moisture,
        temperature_ambient=293.15, temperature_char=623.15,
    )  # fmt: skip
    flux = made.power / (np.pi * kit.radius**2)
    total = hot.effusivity + hot.effusivity_along
    smoke, _ = two_stage(flux, energy_per_area=energy, effusivity=total, rise=255.0)
    hot_dust, ember = two_stage(flux, energy_per_area=energy, effusivity=total, rise=330.0)
    assert made.smoke == pytest.approx(smoke, rel=0.002)
    stays = wearing(made.contact, **made.march | {"depth": 1e-9})
    assert stays.reached == pytest.approx(hot_dust, rel=0.002)
    assert stays.ember == pytest.approx(ember, rel=0.002)


def test_estimate_is_the_plain_formulas_of_its_parts():
    """By hand from the table's defaults, given to the formulas one by one.

    The plain march has one conductivity for the board, and the estimate's board two, the better one
    sideways; so one is held to it with a board alike in all directions, the other to the contact.
    """
    hot = hot_properties(
        wood("western_redcedar").specific_gravity, moisture=0.09, temperature=458.15
    )
    energy = np.pi * 0.008**2 * energy_per_area(
        0.004, density=hot.density, moisture=0.09,
        temperature_ambient=293.15, temperature_char=623.15,
    )  # fmt: skip
    across, along = hot.conductivity, hot.conductivity_along
    capacity = hot.volumetric_heat_capacity
    assert capacity * 330.0 * 0.004 * np.pi * 0.008**2 < energy
    contact = Contact(
        radius=0.008, length=0.15, film=25 / (1 + 25 * 0.008 / (4 * across)),
        spindle=Material(across, along, capacity),
        board=Material(np.sqrt(across * along), across, capacity),
    )  # fmt: skip
    numbers = {"power": 10.5, "rise": 330.0, "energy": energy, "depth": 0.004}
    found = estimate()
    assert found.bound == pytest.approx(energy / 10.5, rel=1e-12)
    assert 10.5 * contact.impedance(found.smoke.likely) == pytest.approx(255.0, rel=1e-6)
    assert found.ember.likely == pytest.approx(wearing(contact, **numbers).ember, rel=1e-9)
    alike = Material(across, across, capacity)
    plain = wearing_march(
        **numbers, radius=0.008, film=contact.film, spindle_conductivity=along,
        board_conductivity=across, volumetric_heat_capacity=capacity,
    )  # fmt: skip
    same = wearing(replace(contact, board=alike), **numbers)
    assert plain.ember == pytest.approx(same.ember, rel=1e-6)
    assert plain.ember < found.ember.likely < 1.15 * plain.ember


def test_each_end_of_the_band_is_the_march_over_its_own_contact():
    state = Try(Kit.from_diameter(0.018), Effort(force=90.0), Air(film=30.0))
    found = explained(state, found=times(state))
    density_off = wood_ends()["density"]
    made = found.heat["dust"] + found.heat["water"]
    for end, contact in enumerate(contacts(state)):
        energy = made * density_off[end].item()  # so much wood is in the dust
        marched = wearing(contact, power=found.power, rise=330.0, energy=energy, depth=0.004)
        assert marched.ember == pytest.approx(found.ember[end], rel=BESIDE)
        smoke = found.power * contact.impedance(found.smoke[end])
        assert smoke == pytest.approx(255.0, rel=1e-6)
        least = least_power(contact, rise=330.0, depth=0.004)
        assert found.least_power[end] == pytest.approx(least, rel=1e-12)
        assert found.least_smoke_power[end] == pytest.approx(255.0 / contact.steady, rel=1e-12)


@pytest.mark.parametrize(
    ("diameter", "force", "speed"), [(0.008, 60, 1.0), (0.013, 60, 1.0), (0.019, 90, 1.2)]
)
def test_the_heat_map_of_the_kit_agrees_as_long_as_its_faces_stay(diameter, force, speed):
    """Hold the estimate's contact against finite volumes, up to the ember of faces that stay.

    The map's board is 15 mm thick and loses heat to the air on its faces, and its faces stay: so it
    is held to the march without wear, within 5 %.
    """
    state = Try(Kit.from_diameter(diameter), Effort(force=force, speed=speed))
    made, run = case(state), kit_heat(state)
    hot, ember = wearing(made.contact, **made.march | {"depth": 1e-9})
    assert 0.05 < made.smoke < hot
    assert ember_time(run, energy=made.energy) == pytest.approx(ember, rel=0.05)


def with_power(power):
    """An ordinary kit with so many watts."""
    return estimate(effort=Effort(force=60.0 * power / estimate().power))


def test_there_are_three_outcomes_and_two_least_powers():
    least = estimate()
    smoke, ember = least.least_smoke_power.likely, least.least_power.likely
    assert smoke < 0.8 * ember
    for power, smokes, comes, words in (
        (0.995 * smoke, False, False, f"and wood carries away {smoke:.2g} W before it smokes"),
        (1.01 * smoke, True, False, f"it smokes, but wood carries away {ember:.2g} W before"),
        (0.97 * ember, True, False, "hardly more than the"),
        (1.05 * ember, True, True, ""),
    ):
        found = with_power(power)
        assert np.isfinite(found.smoke.likely) == smokes
        assert np.isfinite(found.ember.likely) == comes
        assert words in found.never
        assert (found.never == "") == comes


def test_what_is_left_over_when_no_ember_comes_makes_a_little_dust():
    # More than the contact carries away on top of the board, less than at the bottom of its hole.
    kit = Kit.from_diameter(0.005, burn_in_depth=0.0078)
    least = estimate(kit).least_power.likely
    found = estimate(kit, Effort(force=60.0 * 0.99 * least / estimate(kit).power))
    assert np.isinf(found.ember.likely)
    whole = case(Try(kit)).energy
    assert 0 < found.heat["dust"] + found.heat["water"] < 0.5 * whole
    assert sum(found.heat.values()) == pytest.approx(600 * found.power, rel=1e-9)


def test_less_than_the_least_power_is_never_and_says_why():
    found = estimate(effort=Effort(force=20.0, speed=0.3))
    assert found.power < found.least_power.likely
    assert np.isinf(found.ember.likely)
    assert "carries away" in found.never
    assert found.heat["dust"] == found.heat["water"] == 0.0


def test_just_above_the_least_power_never_is_a_matter_of_days():
    ordinary = estimate()
    force = 60.0 * ordinary.least_power.likely / ordinary.power
    for factor in (0.97, 1.001):
        found = estimate(effort=Effort(force=factor * force))
        assert np.isinf(found.ember.likely)
        assert "hardly more than" in found.never
        assert "days" in found.never


def test_least_power_has_a_band_at_whose_ends_the_bands_ember_stops_coming():
    found = estimate()
    for end in ("low", "high"):
        least = getattr(found.least_power, end)
        above, below = (
            getattr(estimate(effort=Effort(force=60.0 * factor * least / found.power)).ember, end)
            for factor in (1.05, 0.99)
        )
        assert np.isfinite(above)
        assert np.isinf(below)
    assert found.least_power.low < found.least_power.likely < found.least_power.high


def test_a_little_more_than_the_least_power_gets_there_in_the_end():
    least = estimate().least_power.likely
    effort = Effort(force=60.0 * 1.05 * least / estimate().power)
    found = estimate(effort=effort)
    assert found.power > found.least_power.likely
    assert np.isfinite(found.ember.likely)
    assert found.never == ""


def test_the_same_effort_on_a_heavy_spindle_takes_minutes_or_never():
    """Usual spindle about 13 mm, a heavy one 25 mm: common practice, no source."""
    usual, heavy = (estimate(Kit.from_diameter(diameter)) for diameter in (0.013, 0.025))
    assert usual.ember.likely < 60
    assert heavy.smoke.likely > 60
    assert heavy.ember.likely > 180


def test_it_is_about_a_minute_from_smoke_to_ember_for_a_modest_effort():
    """From first steady smoke, with good form, about a minute: common practice, no source.

    "Good form" is that of learners, so less than the ordinary effort; nobody says how much, nor
    how near "about" is. Hence a factor of three either way.
    """
    found = estimate(effort=Effort(force=45.0, speed=0.9))
    assert 20 < found.ember.likely - found.smoke.likely < 120


def test_sweeping_gives_the_same_as_asking_one_by_one():
    swept = ordinary(diameter=np.array([0.01, 0.02]), moisture=np.array([0.05, 0.2]))
    for i, (diameter, moisture) in enumerate(((0.01, 0.05), (0.02, 0.2))):
        alone = ordinary(diameter=diameter, moisture=moisture)
        np.testing.assert_allclose(swept.at(i).ember, alone.ember, rtol=BESIDE)
        np.testing.assert_allclose(swept.at(i).smoke, alone.smoke, rtol=1e-9)
        np.testing.assert_allclose(swept.at(i).bound, alone.bound)


def test_sweeping_two_quantities_on_two_axes_gives_the_same_as_asking_one_by_one():
    forces, moistures = np.array([30.0, 60.0, 90.0]), np.array([0.05, 0.2])
    swept = ordinary(force=forces[:, np.newaxis], moisture=moistures)
    assert np.shape(swept.ember) == (3, 3, 2)
    for i, force in enumerate(forces):
        for j, moisture in enumerate(moistures):
            alone = ordinary(force=force, moisture=moisture)
            np.testing.assert_allclose(swept.ember.at(j).at(i), alone.ember, rtol=BESIDE)
            np.testing.assert_allclose(swept.smoke.at(j).at(i), alone.smoke, rtol=1e-9)


@pytest.mark.parametrize("key", list(Try().values()))
def test_a_list_or_a_number_of_numpy_sweeps_as_well(key):
    value = float(np.float32(Try().value(key)))
    alone = ordinary(**{key: value})
    listed, single = ordinary(**{key: [value, value]}), ordinary(**{key: np.float32(value)})
    for found in (listed.at(0), listed.at(1), single):
        np.testing.assert_allclose(found.ember, alone.ember, rtol=1e-6)
        assert found.bound == pytest.approx(alone.bound, rel=1e-6)
    assert type(single.bound) is float


def test_sweeping_nothing_gives_nothing():
    swept = ordinary(force=np.array([]))
    assert swept.bound.shape == (0,)
    assert np.shape(swept.ember) == (3, 0)


def test_a_thicker_cord_wrap_turns_slower_and_makes_less_heat():
    narrow, wide = Kit(), replace(Kit(), cord_radius=0.016)
    assert estimate(wide).power == pytest.approx(estimate(narrow).power / 2)


def test_what_cannot_change_is_refused_by_name():
    with pytest.raises(InputError, match="stroke_length"):
        ordinary(stroke_length=0.5)
    assert "stroke_length" not in Try().values()


@pytest.mark.parametrize(
    "changed",
    [
        {},
        {"diameter": 0.009, "force": 120.0},
        {"diameter": 0.024, "speed": 1.3, "moisture": 0.2},
        {"force": 20.0, "speed": 0.3},
        {"force": 33.0, "speed": 0.6},
    ],
)
def test_marched_once_a_try_is_what_it_is_marched_twice(changed):
    state = Try().changed(**changed)
    once, twice = estimated(state), explained(state, found=times(state))
    assert once.never == twice.never
    for name in ("power", "bound", "smoke", "ember", "least_power", "least_smoke_power"):
        np.testing.assert_allclose(getattr(once, name), getattr(twice, name), rtol=BESIDE)
    whole = sum(twice.heat.values())
    for part, joules in twice.heat.items():
        assert once.heat[part] == pytest.approx(joules, abs=1e-4 * whole)


def test_the_march_is_done_once_for_a_whole_estimate(monkeypatch):
    grounds = []
    ground = march._ground
    monkeypatch.setattr(march, "_ground", lambda kits: grounds.append(1) or ground(kits))
    estimated(Try())
    assert len(grounds) == 1


def test_with_all_we_do_not_know_an_ember_may_come_before_the_floor_but_seldom():
    early = np.mean(tries(Try(), 2048).ember < estimate().bound)
    assert 0.005 < early < 0.1
