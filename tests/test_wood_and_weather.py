"""All woods side by side, wood in the weather, and the questions about them."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fireheat import Air, Effort, InputError, Kit
from fireheat.answers.questions import try_of
from fireheat.answers.weather import stores
from fireheat.answers.woods import woodpile
from fireheat.constants import constant
from fireheat.estimates import estimate, times
from fireheat.kit.kit import Try
from fireheat.kit.moisture import equilibrium_moisture, saturation_pressure, warmed_humidity
from fireheat.kit.wood import woods
from fireheat.lessons import card, change_ratio, measured, self_check, worked_out
from fireheat.quantities import to_si

few = settings(max_examples=15)
KITS = st.builds(
    Kit,
    radius=st.floats(0.004, 0.014),
    moisture=st.floats(0.03, 0.24),
    wood=st.sampled_from(sorted(woods())),
)
EFFORTS = st.builds(Effort, force=st.floats(20.0, 150.0), speed=st.floats(0.3, 2.5))
AIRS = st.builds(Air, temperature=st.floats(263.15, 313.15), relative_humidity=st.floats(0.1, 0.95))


# ---- woods side by side ----------------------------------------------------------------------


@few
@given(KITS, EFFORTS)
def test_every_row_is_what_that_wood_gives_alone(kit, effort):
    pile = woodpile(Try(kit, effort), region="asia")
    assert pile.woods[pile.chosen].key == kit.wood
    for at, row in enumerate(pile.woods):
        alone = times(Try(kit, effort).changed(wood=row.key))
        assert pile.bounds[at] == pytest.approx(alone.bound)
        # Kits side by side go on until the last has settled; one alone stops at its 1e-5 in x.
        np.testing.assert_allclose(pile.embers.at(at), alone.ember, rtol=3e-5)


@few
@given(KITS, EFFORTS)
def test_lighter_wood_is_never_later(kit, effort):
    pile = woodpile(Try(kit, effort))
    assert set(pile.woods) == set(woods().values())
    for seconds in (pile.bounds, *pile.embers):
        finite = np.minimum(seconds, 1e9)  # never is not later than never
        assert np.all(np.diff(finite) >= -1e-9 * finite[1:])
    light, _, heavy = pile.boards
    assert light <= pile.ember.likely <= heavy
    assert math.isinf(heavy) or light < heavy


def test_the_bound_goes_with_the_weight_of_the_wood():
    # Energy = layer x density x (what a mass of this wood takes): straight in specific gravity.
    pile = woodpile(Try())
    gravities = np.array([row.specific_gravity for row in pile.woods])
    np.testing.assert_allclose(pile.bounds / gravities, pile.bounds[0] / gravities[0])


def test_boards_are_a_tenth_lighter_and_heavier_than_the_average():
    state, scatter = Try(Kit(wood="white_ash")), constant("board_scatter")
    pile = woodpile(state)
    for seconds, factor in zip(pile.boards, (1 - scatter, 1, 1 + scatter), strict=True):
        alone = times(state, specific_gravity=0.60 * factor)
        assert seconds == pytest.approx(alone.ember.likely)


def test_conductivity_along_the_grain_moves_the_ember_but_not_the_floor():
    # Wood Handbook ch. 4: along over across is 1.5 to 2.8, mean 1.8.
    swept = times(Try(), axial_factor=np.array([1.5, 1.8, 2.8]))
    assert np.ptp(swept.bound) == 0
    assert np.all(np.diff(swept.smoke) > 0)
    assert np.all(np.diff(swept.ember) > 0)
    np.testing.assert_allclose(swept.ember.at(1), estimate().ember)
    kit = Try(Kit(axial_factor=2.8))  # a kit may have its own
    np.testing.assert_allclose(swept.ember.at(2), times(kit).ember)


# ---- air and the water in it -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("celsius", "pascal"),
    [(0.01, 611.657), (10, 1228.2), (20, 2339.3), (30, 4247.0), (40, 7384.9), (60, 19946.0)],
)
def test_saturation_pressure_is_that_of_steam_tables(celsius, pascal):
    # Wagner & Pruss, IAPWS-95, J. Phys. Chem. Ref. Data 31 (2002) 387, table of saturation (from
    # memory). The Magnus form is good to half a percent.
    assert saturation_pressure(to_si(celsius, "degC")) == pytest.approx(pascal, rel=0.005)


def test_saturated_air_is_at_its_own_dew_point():
    # Dew point of 25 degC air at 50 %: 13.9 degC, any psychrometric chart (from memory). Air at
    # 13.9 degC that is full becomes half full when warmed to 25 degC.
    full = to_si(13.9, "degC")
    assert warmed_humidity(full, relative_humidity=1.0, warming=25 - 13.9) == pytest.approx(
        0.50, abs=0.005
    )


@given(AIRS, st.floats(0.0, 20.0), st.floats(0.0, 20.0))
def test_warming_in_two_steps_is_warming_at_once(air, first, second):
    half = warmed_humidity(
        air.temperature, relative_humidity=air.relative_humidity, warming=first / 2
    )
    both = warmed_humidity(air.temperature + first / 2, relative_humidity=half, warming=second / 2)
    once = warmed_humidity(
        air.temperature, relative_humidity=air.relative_humidity, warming=(first + second) / 2
    )
    assert both == pytest.approx(once)
    assert both <= air.relative_humidity * (1 + 1e-12)


def test_air_out_of_range_is_refused():
    allowed = r"allowed: 228\.15 to 333\.15 K"
    with pytest.raises(InputError, match=f"air temperature is 20 K; {allowed}"):
        saturation_pressure(20.0)  # degC by mistake
    with pytest.raises(InputError, match=f"air temperature is 350 K; {allowed}"):
        warmed_humidity(np.array([293.15, 330.0]), relative_humidity=0.5, warming=20.0)
    with pytest.raises(InputError, match="rack warmer"):
        warmed_humidity(293.15, relative_humidity=0.5, warming=-1.0)
    with pytest.raises(InputError, match="relative humidity"):
        warmed_humidity(293.15, relative_humidity=50, warming=5.0)


# ---- outdoors and on the rack ----------------------------------------------------------------


@pytest.mark.parametrize(("humidity", "moisture"), [(0.30, 0.062), (0.50, 0.092), (0.65, 0.120)])
def test_wood_outdoors_settles_where_the_handbook_says(humidity, moisture):
    # FPL Wood Handbook (2010), table 4-2, row of 70 degF.
    air = Air(temperature=to_si(70.0, "degF"), relative_humidity=humidity)
    outdoors, _ = stores(Try(air=air), warming=10.0)
    assert outdoors.moisture == pytest.approx(moisture, abs=0.0006)


@few
@given(KITS, EFFORTS, AIRS, st.floats(0.1, 20.0))
def test_a_rack_makes_wood_drier_and_embers_sooner(kit, effort, air, warming):
    outdoors, rack = stores(Try(kit, effort, air), warming=warming)
    assert rack.relative_humidity < outdoors.relative_humidity == air.relative_humidity
    assert rack.moisture < outdoors.moisture
    assert rack.bound < outdoors.bound
    assert rack.water_share < outdoors.water_share
    pairs = zip(rack.ember, outdoors.ember, strict=True)
    assert all(dry <= damp * (1 + 1e-9) for dry, damp in pairs)
    assert rack.temperature == pytest.approx(air.temperature + warming)


@few
@given(KITS, EFFORTS, AIRS)
def test_a_store_agrees_with_the_estimate_and_its_books_balance(kit, effort, air):
    outdoors, same = stores(Try(kit, effort, air), warming=0.0)
    assert same.moisture == outdoors.moisture
    settled = equilibrium_moisture(air.temperature, relative_humidity=air.relative_humidity)
    now = estimate(replace(kit, moisture=settled), effort, air)
    np.testing.assert_allclose(outdoors.ember, now.ember, rtol=1e-6)
    assert outdoors.wood + outdoors.water == pytest.approx(now.bound * now.power)
    if not now.never:
        assert outdoors.water == pytest.approx(now.heat["water"])


def test_air_too_damp_for_the_model_is_refused():
    with pytest.raises(InputError, match="moisture"):
        stores(Try(air=Air(relative_humidity=0.99)), warming=0.0)


# ---- questions -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "right"),
    [
        ("twice_heavy_wood", "three and a half times as long"),
        ("twice_water", "1.4 times as long"),
        ("rack_share", "about a third of it"),
    ],
)
def test_the_right_answer_is_computed_and_wins_by_a_clear_margin(key, right):
    assert worked_out(key).right == right


def test_the_predictions_say_what_theory_says():
    # Twice the weight is twice the energy; soaked heat goes with the effusivity, which grows too.
    assert change_ratio("bound", {"specific_gravity": 2.0}) == pytest.approx(2.0)
    assert change_ratio("ember", {"specific_gravity": 2.0}) > 2.5
    assert 1.3 < change_ratio("ember", {"moisture": 2.0}) < 1.5
    # By the chart: 10 degC at 85 % becomes 25 degC at 33 %; table 4-2 has 6.3 to 6.8 % for it.
    air = Air(temperature=283.15, relative_humidity=0.85)
    outdoors, rack = stores(Try(air=air), warming=15.0)
    assert 0.063 < rack.moisture < 0.068
    assert measured("stored", Try(air=air), kept="rack") == rack.moisture
    assert measured("stored", Try(air=air), kept="outdoors") == outdoors.moisture


def test_oak_is_twice_as_heavy_as_redcedar_as_the_question_says():
    oak, cedar = (woods()[key] for key in ("northern_red_oak", "western_redcedar"))
    assert oak.specific_gravity == pytest.approx(2 * cedar.specific_gravity, rel=0.03)


@pytest.mark.parametrize("key", ["which_wood", "what_dries", "one_board"])
def test_each_self_check_has_one_right_answer_and_a_reply_to_each(key):
    options = self_check(key).options
    assert sum(option.right for option in options) == 1
    assert all(option.reply for option in options)


@pytest.mark.parametrize(
    ("moved", "solves"),
    [
        ({}, False),
        ({"moisture": 0.07}, True),  # the maple from the rack
        ({"wood": "eastern_white_pine"}, True),  # as damp, but light
        ({"wood": "northern_red_oak"}, False),
    ],
)
def test_the_card_of_the_hedge_has_two_ways_out(moved, solves):
    rules = card("wood_from_the_hedge").rules
    start = {key: rules.at_start(key) for key in rules.free}
    ember = times(try_of(rules.settings(start | moved))).ember
    assert bool(ember.high < rules.below) is solves


# ---- frost --------------------------------------------------------------------------------------


@pytest.mark.parametrize("celsius", [-40.0, -20.0, -5.0, 0.0])
@pytest.mark.parametrize("humidity", [0.3, 0.5, 0.8])
def test_in_frost_wood_is_as_moist_as_at_freezing(celsius, humidity):
    # The equation would dry it: at -40 degC by a fifth.
    frozen = equilibrium_moisture(celsius + 273.15, relative_humidity=humidity)
    assert frozen == pytest.approx(equilibrium_moisture(273.15, relative_humidity=humidity))


def test_colder_air_never_makes_noticeably_drier_wood():
    kelvin = np.linspace(-40, 40, 81) + 273.15
    for humidity in (0.1, 0.5, 0.9):
        moist = equilibrium_moisture(kelvin, relative_humidity=humidity)
        assert np.all(np.diff(moist) <= 2e-4)


@pytest.mark.parametrize("kelvin", [273.15 - 40, 405.37])
def test_the_ends_of_the_range_of_temperatures_are_allowed_however_they_are_reckoned(kelvin):
    assert equilibrium_moisture(kelvin, relative_humidity=0.5) > 0
    with pytest.raises(InputError, match=r"temperature is .*; allowed: 233\.15 to 405\.37 K"):
        equilibrium_moisture(kelvin - 0.5 if kelvin < 300 else kelvin + 0.5, relative_humidity=0.5)


def test_water_s_share_is_of_all_the_heat_that_the_dust_takes():
    outdoors, rack = stores(Try(), warming=10.0)
    for kept in (outdoors, rack):
        assert kept.water_share * (kept.wood + kept.water) == pytest.approx(kept.water)
    assert 0 < rack.water_share < outdoors.water_share < 1
