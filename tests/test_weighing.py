"""My wood weighs: from scale and ruler to the draws, and the panel that asks for them."""

import fit_shadow
import numpy as np
import pytest
from reading import alt, shown

from fireheat import InputError, Kit
from fireheat.answers.weighing import weigh
from fireheat.answers.woods import woodpile
from fireheat.answers.worth import doubts
from fireheat.cases import case
from fireheat.constants import constant
from fireheat.heat import shadow
from fireheat.heat.warming import warm_up
from fireheat.heat.wearing import wearing
from fireheat.kit.kit import Try
from fireheat.kit.wood import Wood, my_wood, wood, woods
from fireheat.lessons import setting_words
from fireheat.my_kit import MyKit
from fireheat.panels import Explorer, Weather, WeighMyWood, WoodsSideBySide
from fireheat.panels.mine import my_kit
from fireheat.person.measuring import NINE_OF_TEN, Measured, weighed_gravity
from fireheat.spread import drawn_case, even_shares, spread
from fireheat.unknowns import unknown
from fireheat.words import band_words

STICK = {"piece_length": 0.2, "piece_width": 0.016, "moisture": 0.09}
READING = Measured(0.41, 0.02)


@pytest.fixture(autouse=True)
def nothing_measured():
    my_kit.clear()
    yield
    my_kit.clear()


# ---- scale and ruler -----------------------------------------------------------------------------


def test_a_stick_and_a_block_of_the_same_wood_weigh_alike():
    block = {**STICK, "piece_width": 0.03, "piece_thickness": 0.02}
    volumes = np.pi / 4 * 0.016**2 * 0.2, 0.03 * 0.02 * 0.2
    for sides, volume in zip((STICK, block), volumes, strict=True):
        found = weighed_gravity(volume * 400 * 1.09, **sides)  # 400 kg/m^3 dry, and its water
        assert found.value == pytest.approx(0.40)
        assert found.error == pytest.approx(0.40 * constant("same_stick_scatter"))


@pytest.mark.parametrize("thickness", [None, 0.012])
def test_the_uncertainty_is_that_of_many_readings(thickness):
    # JCGM 100:2008: limits are even within, the rest normal; first order, so for small ones.
    dice, count = np.random.default_rng(3), 40000
    limits = {"scale_limit": 0.0008, "ruler_limit": 0.0004}

    def read(value, limit):
        return value + limit * dice.uniform(-1, 1, count)

    length, width, mass = read(0.2, 4e-4), read(0.016, 4e-4), read(0.014, 8e-4)
    across = np.pi / 4 * width**2 if thickness is None else width * read(thickness, 4e-4)
    moist = 0.09 + 0.012 * dice.normal(size=count)
    scatter = 1 + 0.05 * dice.normal(size=count)
    many = mass / (length * across) / (1 + moist) / 1000 * scatter
    found = weighed_gravity(
        0.014, **STICK, piece_thickness=thickness, **limits, moisture_error=0.012
    )
    assert found.error == pytest.approx(np.std(many), rel=0.02)
    assert found.value == pytest.approx(np.mean(many), rel=0.004)


def test_a_small_piece_is_known_less_well_and_no_piece_better_than_a_stick_differs():
    small, large = (
        weighed_gravity(
            mass, piece_length=length, piece_width=0.016, moisture=0.09, scale_limit=0.001
        )
        for mass, length in ((0.0035, 0.05), (0.07, 1.0))
    )
    assert small.value == pytest.approx(large.value)
    assert small.error > 2 * large.error
    assert large.error > 0.05 * large.value


def test_it_floats_as_deep_as_it_weighs():
    found = weigh(0.0155, **STICK)  # Archimedes: as much water as it weighs
    pushed = 0.0155 / 1000
    assert found.afloat == pytest.approx(pushed / (np.pi / 4 * 0.016**2 * 0.2))


def test_what_weighs_alike_is_of_the_list_and_within_the_reading():
    found = weigh(0.0155, **STICK)
    assert [row.name for row in found.alike][:2] == ["white willow", "eastern white pine"]
    for row in found.alike:
        assert abs(row.specific_gravity - found.reading.value) <= found.reading.error


# ---- what it does to a kit -----------------------------------------------------------------------


def test_my_wood_stands_in_a_try_and_others_are_what_the_table_says():
    made = MyKit(specific_gravity=READING).state(Try())
    assert made.kit.specific_gravity == 0.41
    assert made.kit.wood == my_wood(0.41)
    assert made.changed(wood="white_ash").kit.specific_gravity == 0.60
    assert setting_words("wood", made.kit.wood) == "my wood"
    assert Try(Kit(wood=my_wood(0.32))).kit.specific_gravity == wood().specific_gravity
    assert hash(made) == hash(MyKit(specific_gravity=READING).state(Try()))


@pytest.mark.parametrize("gravity", [0.15, 2.7, 11.3])
def test_balsa_stone_and_lead_are_no_wood_of_mine(gravity):
    with pytest.raises(InputError, match=r"specific gravity is .*; allowed"):
        my_wood(gravity)
    with pytest.raises(InputError, match="specific gravity is"):
        MyKit(specific_gravity=Measured(gravity, 0.01))


def test_a_wood_of_ones_own_is_refused_if_it_grows_nowhere_known():
    with pytest.raises(InputError, match="region is 'the moon'"):
        Wood(key="x", name="x", specific_gravity=0.4, regions=("the moon",), source="", status="")


def test_draws_take_the_reading_in_place_of_the_scatter_between_boards():
    mine = MyKit(specific_gravity=READING)
    off = NINE_OF_TEN * 0.02 / 0.41
    assert mine.measured == {"density": pytest.approx(off)}
    assert unknown("density").band.high > 1 + off
    shares = even_shares(3) | {"density": np.array([0.05, 0.5, 0.95])}
    one = {key: np.full(3, 0.5) for key in shares} | {"density": shares["density"]}
    heavy = drawn_case(mine.state(Try()), one, measured=mine.measured)
    mean = case(mine.state(Try())).dry_energy
    np.testing.assert_allclose(heavy.dry_energy / mean, [1 / (1 + off), 1, 1 + off], rtol=1e-6)


def test_a_wood_that_was_weighed_makes_the_band_narrower_but_not_by_much():
    state, mine = Try().changed(wood=my_wood(0.41)), MyKit(specific_gravity=READING)
    guessed, known = spread(state).all, spread(state, measured=mine.measured).all
    assert known.high / known.low < guessed.high / guessed.low
    assert known.likely == guessed.likely
    found = {one.key: one for one in doubts(state, mine)}
    assert found["density"].state == "measured"
    assert found["density"].share < found["wood"].share


def test_boards_of_my_wood_are_as_far_apart_as_it_was_weighed():
    pile = woodpile(Try().changed(wood=my_wood(0.41)), region="africa", measured={"density": 0.08})
    loose = woodpile(Try().changed(wood=my_wood(0.41)), region="africa")
    assert pile.boards.likely == loose.boards.likely
    assert loose.boards.low < pile.boards.low < pile.boards.high < loose.boards.high
    assert [row.name for row in pile.woods].index("my wood") == pile.chosen


def test_the_shadow_holds_for_every_wood_and_for_those_that_somebody_weighs():
    gravities = [*(row.specific_gravity for row in woods().values()), 0.30, 0.75, 0.9, 1.1]
    dice = np.random.default_rng(5).random((30, fit_shadow.dimensions()))
    some = fit_shadow.joined(
        [
            case(Try(), swept={"specific_gravity": np.full(30, each), "force": 40 + 80 * dice[:, 0],
                               "diameter": 0.008 + 0.012 * dice[:, 1]})
            for each in gravities
        ]
    )  # fmt: skip
    quick = shadow.quick_ember(some.contact, **some.march)
    march = wearing(some.contact, **some.march).ember
    both = np.isfinite(quick) & np.isfinite(march) & (march < 600)
    assert np.sum(both) > 400
    assert np.max(np.abs(quick[both] / march[both] - 1)) < 0.05
    smoke = shadow.quick_smoke(some.contact, power=some.power, rise=some.smoke_rise)
    slow = warm_up(some.contact, power=some.power, rise=some.smoke_rise)
    both = np.isfinite(slow) & (slow < 600)
    np.testing.assert_allclose(smoke[both], slow[both], rtol=0.05)


# ---- the panel, and my kit in others -------------------------------------------------------------


def test_the_panel_puts_the_wood_into_my_kit_and_others_take_it():
    panel = WeighMyWood()
    panel.set(piece_mass=0.018)
    panel.mine.put()
    reading = my_kit.kit.specific_gravity
    assert reading == weigh(0.018, **STICK).reading
    assert "dry wood beside water 0.41 ± 0.03" in panel.mine.said.value.replace("\xa0", " ")
    other = Explorer()
    other.mine.turn()
    assert other.state["wood"] == my_wood(reading.value)
    assert other.control["wood"].widget.label == "my wood · weighed"
    state = Try().changed(wood=my_wood(reading.value))
    assert band_words(spread(state, measured=my_kit.kit.measured).all) in shown(other)
    other.mine.turn()
    assert other.state["wood"] == "western_redcedar"
    assert band_words(spread(Try()).all) in shown(other)


def test_a_panel_without_a_list_of_woods_has_my_wood_in_its_try():
    my_kit.put(specific_gravity=READING)
    panel = Weather()
    panel.mine.turn()
    assert panel.now().kit.wood == my_wood(0.41)


def test_my_wood_stands_among_those_of_a_region():
    my_kit.put(specific_gravity=READING)
    panel = WoodsSideBySide()
    panel.mine.turn()
    panel.set(region="europe")
    assert panel.sentence().startswith("my wood: floor")
    assert len(panel.answer(panel.state).woods) == 11
    assert panel.known(panel.state) == my_kit.kit.measured
    panel.set(wood="common_hazel")  # by hand: that was not weighed
    assert panel.known(panel.state) == {}
    panel.set(wood=my_wood(0.41))
    assert panel.known(panel.state) == my_kit.kit.measured


@pytest.mark.parametrize(
    ("mass", "words"), [(0.4, "No wood is so heavy"), (0.004, "Lighter than the woods")]
)
def test_what_no_wood_weighs_is_told_in_words_and_stays_out_of_my_kit(mass, words):
    panel = WeighMyWood()
    panel.set(piece_mass=mass)
    assert words in shown(panel)
    panel.mine.put()
    assert not my_kit.kit
    assert "nothing to put in" in panel.mine.said.value.replace("\xa0", " ")


def test_a_round_stick_has_no_third_side():
    panel = WeighMyWood()
    side = panel.control["piece_thickness"].box.layout
    assert side.display == "none"
    said = panel.set(shape="block", piece_thickness=0.02)
    assert side.display is None
    found = weigh(0.014, **STICK, piece_thickness=0.02)
    assert said.startswith(f"Dry, it is {100 * found.reading.value:.0f} % ±")
    assert alt(panel) == said


@pytest.mark.parametrize("key", ["western_redcedar", "obeche", "common_hazel"])
def test_what_to_know_of_a_wood_stands_where_it_is_chosen(key):
    panel = WoodsSideBySide()
    panel.set(wood=key)
    told = panel.control["wood"].effect.value.replace("\xa0", " ")
    assert wood(key).caution in told
    assert bool(wood(key).caution) == bool(told)
