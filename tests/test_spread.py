"""All we do not know about a try: draws, their two bands, and tries compared on the same draws."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from oracles.outcomes import kits
from scipy.special import ndtri
from scipy.stats import qmc

import fireheat.spread
from fireheat import InputError
from fireheat.bands import Band
from fireheat.cases import case
from fireheat.estimates import times
from fireheat.kit.kit import Try
from fireheat.spread import compare, drawn_case, even_shares, ratios, settable, spread, tries
from fireheat.unknowns import unknown, unknowns

ORDINARY = Try()
ALL = settable(ORDINARY)
BROOM, HALF = ORDINARY.changed(diameter=0.022), ORDINARY.changed(diameter=0.011)
KITS = (
    ORDINARY,
    ORDINARY.changed(force=80.0, speed=1.2),
    ORDINARY.changed(diameter=0.011),
    ORDINARY.changed(moisture=0.14, friction=0.45),
)
STATES = st.fixed_dictionaries(
    {
        "diameter": st.floats(0.006, 0.03),
        "force": st.one_of(st.just(0.0), st.floats(1, 150)),
        "friction": st.floats(0.05, 0.7),
        "speed": st.floats(0.05, 2.5),
        "burn_in_depth": st.floats(0.0005, 0.02),
        "moisture": st.floats(0, 0.25),
        "temperature_ambient": st.floats(234, 333),
    }
)


def in_grams(state, mass=None):
    """The same try with its dust given by mass."""
    kit = state.kit.changed(dust_mass=mass or state.kit.dust)
    return Try(kit, state.effort, state.air)


# ---- draws --------------------------------------------------------------------------------------


@pytest.mark.parametrize("count", [256, 512])
def test_each_unknown_is_drawn_evenly_and_no_two_go_together(count):
    shares = np.array(list(fireheat.spread._shares(count).values()))
    even = (np.arange(count) + 0.5) / count
    assert np.max(np.abs(np.sort(shares, axis=1) - even)) < 3.5 / count
    for values in (shares, ndtri(shares)):
        together = np.corrcoef(values) - np.eye(len(shares))
        assert np.max(np.abs(together)) < 0.1


def test_three_lines_remake_a_draw():
    number, primes = 7, iter(fireheat.spread._PRIMES)
    share = {key: math.modf(0.5 + number * math.sqrt(next(primes)))[0] for key in unknowns()}
    off = {
        key: row.at(share[key])
        for key, row in unknowns().items()
        if row.group != "set" and key != "depth_exponent"
    }
    drawn, made = tries(ORDINARY, 1, first=number).ember[0], case(ORDINARY, off=off)
    assert drawn == pytest.approx(float(made.quick()[1]))
    assert drawn == pytest.approx(float(made.ember), rel=0.02)  # the shadow of the march


@pytest.mark.parametrize("state", KITS)
def test_bands_are_those_of_the_march(state, monkeypatch):
    def marched(state, off, swept):
        made = case(state, swept=swept, off=off)
        return fireheat.spread.Outcomes(made.power, made.bound, made.smoke, made.ember)

    known = {"guessed": ALL}
    quick = spread(state, **known)
    monkeypatch.setattr(fireheat.spread, "_outcomes", marched)
    slow = spread(state, **known)
    assert np.array(quick.all) == pytest.approx(np.array(slow.all), rel=0.02)
    assert np.array(quick.smoke_all) == pytest.approx(np.array(slow.smoke_all), rel=0.003)
    assert (quick.never, quick.never_smokes) == (slow.never, slow.never_smokes)


@pytest.mark.parametrize("state", KITS)
@pytest.mark.parametrize("guessed", [(), ALL])
def test_bands_are_those_of_other_even_draws(state, guessed):
    rows = [
        row
        for row in unknowns().values()
        if row.key != "depth_exponent" and (row.group != "set" or row.key in guessed)
    ]
    many = qmc.Sobol(len(rows), seed=1).random(2048)
    off = {row.key: row.at(share) for row, share in zip(rows, many.T, strict=True)}
    off["spindle_share"] = np.clip(off["spindle_share"], -0.5, 0.5)
    found = case(state, off=off).ember
    low, _, high = spread(state, guessed=guessed, draws=512).all
    assert np.mean(found < low) == pytest.approx(0.05, abs=0.012)
    assert np.mean(found > high) == pytest.approx(0.05, abs=0.012)


@pytest.mark.parametrize("state", KITS)
@pytest.mark.parametrize("known", [{}, {"guessed": ALL}, {"measured": dict.fromkeys(ALL)}])
def test_256_draws_say_what_2048_say(state, known):
    few, many = (np.array(spread(state, draws=count, **known).all) for count in (256, 2048))
    assert np.log(few) == pytest.approx(np.log(many), rel=0.03)


def test_other_people_try_from_another_draw_on():
    found = tries(ORDINARY, 20)
    assert found.ember[5:10] == pytest.approx(tries(ORDINARY, 5, first=6).ember, rel=1e-4)
    assert len(np.unique(found.ember)) == 20


# ---- order --------------------------------------------------------------------------------------


@settings(max_examples=40)
@given(STATES)
def test_every_draw_is_in_order_and_a_number(state):
    state = ORDINARY.changed(**state)
    power, bound, smoke, ember = tries(state, 64, guessed=settable(state))
    for values in (power, bound, smoke, ember):
        assert not np.any(np.isnan(values))
    assert np.all(bound <= ember)
    assert np.all(smoke <= ember)


@settings(max_examples=20)
@given(STATES)
def test_bands_are_in_order_and_numbers(state):
    found = spread(ORDINARY.changed(**state), draws=32)
    for band in (found.all, found.smoke_all, found.bound, found.power, found.wood):
        assert band.low <= band.high
        assert not np.any(np.isnan(band))
    assert 0 <= found.never_smokes <= found.never <= 1


def test_all_we_do_not_know_holds_the_wood_and_the_likely_value_of_nine_kits_in_ten():
    inside = []
    for state in kits(20, seed=5):
        found = spread(state)
        assert found.all.likely == found.wood.likely
        assert found.all.low <= found.all.likely <= found.all.high
        inside.append(found.all.low <= found.wood.low and found.wood.high <= found.all.high)
    assert np.mean(inside) >= 0.9


@pytest.mark.parametrize("state", KITS)
def test_a_guess_is_wider_than_a_measurement_and_that_wider_than_the_truth(state):
    def width(**known):
        low, _, high = spread(state, draws=512, **known).all
        return high / low

    true, guessed = width(), width(guessed=ALL)
    measured = width(measured=dict.fromkeys(ALL))
    assert true < measured < guessed
    for key in ("friction", "burn_in_depth"):
        others = tuple(other for other in ALL if other != key)
        assert width(guessed=others, measured={key: None}) < guessed
    assert width(measured={"friction": 0.3}) > width(measured={"friction": 0.1}) > true
    assert width(measured={"friction": 0.0}) == pytest.approx(true)


def test_measured_moisture_is_off_by_a_share_of_its_value():
    wet = ORDINARY.changed(moisture=0.2)
    both = [spread(wet, measured={"moisture": off}).bound for off in (0.01 / 0.2, None)]
    assert both[0] == pytest.approx(both[1])


# ---- never --------------------------------------------------------------------------------------


def test_never_is_later_than_any_time_and_counted():
    weak = ORDINARY.changed(diameter=0.022, force=50.0)
    found, single = spread(weak), tries(weak, 256, first=0).ember
    assert found.never == np.mean(np.isinf(single))
    assert 0.05 < found.never < 0.5
    assert found.all.high == math.inf
    assert math.isfinite(found.all.low)
    assert spread(weak.changed(force=0.0)).all == Band(math.inf, math.inf, math.inf)


def test_an_end_lies_between_its_draws_by_ratio():
    values = np.array([1.0, 2.0, 4.0, 8.0, *[math.inf] * 16])
    assert fireheat.spread._band(values, 5.0) == Band(math.sqrt(2.0), 5.0, math.inf)
    assert fireheat.spread._end(np.array([1.0, 4.0, math.inf, math.inf]), 0.5) == math.inf
    assert fireheat.spread._end(np.array([0.0, math.inf]), 0.6) == math.inf


# ---- swept --------------------------------------------------------------------------------------


def test_times_that_are_known_are_not_marched_again(monkeypatch):
    known, whole = times(ORDINARY), spread(ORDINARY)
    monkeypatch.setattr(fireheat.spread, "times", None)
    assert spread(ORDINARY, found=known) == whole


def test_swept_quantities_have_each_the_band_of_a_try_of_its_own():
    diameters = np.array([0.01, 0.016, 0.02])
    known = {"guessed": ("diameter", "moisture"), "measured": {"force": 0.1}}
    found = spread(ORDINARY, swept={"diameter": diameters}, **known)
    for index, diameter in enumerate(diameters):
        alone = spread(ORDINARY.changed(diameter=diameter), **known)
        assert np.array(found.all)[:, index] == pytest.approx(np.array(alone.all), rel=1e-4)
        assert np.array(found.power)[:, index] == pytest.approx(np.array(alone.power))
        assert found.never[index] == alone.never


def test_two_quantities_swept_make_a_map():
    swept = {"force": np.array([[40.0], [80.0]]), "moisture": np.array([0.0, 0.1, 0.25])}
    found = spread(ORDINARY, swept=swept, guessed=("moisture",), draws=32)
    assert np.shape(found.all.high) == np.shape(found.never) == (2, 3)
    assert np.all(np.diff(found.all.low, axis=1) > 0)


# ---- comparing ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("one", "other"), [(ORDINARY, KITS[1]), (KITS[1], HALF), (BROOM, HALF)])
@pytest.mark.parametrize("guessed", [(), ALL])
def test_turned_round_a_ratio_is_turned_over(one, other, guessed):
    there, back = compare(one, other, guessed=guessed), compare(other, one, guessed=guessed)
    with np.errstate(divide="ignore"):
        assert np.array(there) == pytest.approx(1 / np.array(back)[::-1])


def test_the_same_try_is_no_later_than_itself_but_for_luck():
    for known in ({}, {"guessed": ALL}):
        assert np.array(compare(ORDINARY, ORDINARY, **known)) == pytest.approx(1.0)
    ends = compare(ORDINARY, ORDINARY, luck=True, draws=1024)
    two = math.exp(math.sqrt(2) * math.log(1.25))  # of two independent tries
    assert ends.low == pytest.approx(1 / two, rel=0.03)
    assert ends.high == pytest.approx(two, rel=0.03)


def test_a_change_is_known_better_than_a_time():
    ratio, now = compare(ORDINARY, KITS[1]), spread(ORDINARY).all
    assert ratio.high / ratio.low < 0.5 * now.high / now.low


def test_pressing_harder_is_never_later_in_any_draw():
    for state in kits(8, seed=2):
        pair = [tries(state.changed(force=force), 256, guessed=ALL).ember for force in (60.0, 75.0)]
        assert np.all(pair[1] <= pair[0])
        assert compare(state.changed(force=60.0), state.changed(force=75.0)).high <= 1


def test_half_the_diameter_lies_between_the_same_grams_and_the_same_depth():
    strong = {"force": 90.0, "speed": 1.2}
    one, other = BROOM.changed(**strong), HALF.changed(**strong)
    drawn = compare(one, other, draws=512)
    mass = ORDINARY.kit.dust  # of the ordinary diameter, where the depth is taken to hold
    grams = compare(in_grams(one, mass), in_grams(other, mass), draws=512)
    both = [tries(state, 512, first=0).ember for state in (one, other)]
    depth = np.quantile(both[1] / both[0], [0.05, 0.95])
    assert depth[0] < drawn.low < grams.low
    assert depth[1] < drawn.high < grams.high
    assert drawn.likely < grams.likely


def test_kits_in_grams_do_not_ask_how_depth_goes(monkeypatch):
    grams, depths = [in_grams(state, 2e-4) for state in (BROOM, HALF)], (BROOM, HALF)
    known, shares = (compare(*grams), compare(*depths)), fireheat.spread._shares

    def other_exponents(count):
        return shares(count) | {"depth_exponent": np.full(count, 0.1)}

    monkeypatch.setattr(fireheat.spread, "_shares", other_exponents)
    assert compare(*grams) == known[0]
    assert compare(*depths) != known[1]


def test_where_one_is_never_the_ratio_has_no_end_and_where_both_are_it_is_one():
    never = ORDINARY.changed(force=10.0)
    assert compare(ORDINARY, never) == Band(math.inf, math.inf, math.inf)
    assert compare(never, ORDINARY) == Band(0.0, 0.0, 0.0)
    assert compare(never, never.changed(force=9.0)) == Band(1.0, 1.0, 1.0)


def test_a_guess_that_both_share_hardly_matters_to_a_ratio():
    known = compare(KITS[0], KITS[1])
    guessed = compare(KITS[0], KITS[1], guessed=("friction",))
    assert guessed.high / guessed.low < 2 * known.high / known.low


# ---- what is refused ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: spread("kit"), "state is 'kit'; allowed: a Try"),
        (lambda: spread(ORDINARY, guessed=("luck",)), "is 'luck'; allowed: friction, force"),
        (lambda: spread(ORDINARY, guessed="force"), "guessed is 'force'"),
        (lambda: spread(ORDINARY, measured=("force",)), "measured"),
        (lambda: spread(ORDINARY, guessed=("dust_mass",)), "is 'dust_mass'"),
        (lambda: spread(in_grams(ORDINARY), guessed=("burn_in_depth",)), "is 'burn_in_depth'"),
        (lambda: spread(ORDINARY, guessed=("force",), measured={"force": 0.1}), "one of the two"),
        (lambda: spread(ORDINARY, measured={"force": 1.5}), "downward force .* 1.5; allowed: 0 to"),
        (lambda: spread(ORDINARY, measured={"force": math.nan}), "share of nan"),
        (lambda: spread(ORDINARY, draws=3), "draws is 3; allowed: a whole number, 20 or more"),
        (lambda: spread(ORDINARY, draws=256.0), "draws is 256.0"),
        (lambda: spread(ORDINARY, swept={"luck": 1.0}), "cannot sweep"),
        (lambda: tries(ORDINARY, 0), "count is 0"),
        (lambda: tries(ORDINARY, 5, first=-1), "first is -1"),
        (lambda: compare(ORDINARY, ORDINARY.kit), "other is Kit"),
        (lambda: compare(ORDINARY, ORDINARY, measured={"wood": None}), "is 'wood'"),
    ],
)
def test_what_cannot_be_is_refused_by_name(call, words):
    with pytest.raises(InputError, match=words):
        call()


def test_shares_of_one_try_are_plain_numbers():
    found = spread(Try(), draws=20)
    assert type(found.never) is type(found.never_smokes) is float


# ---- gauges that read several unknowns at once --------------------------------------------------


@pytest.mark.parametrize(
    ("gauge", "left"), [("pull", ("hot_friction", "creep", "speed")), ("power", ())]
)
def test_a_gauge_stands_for_what_it_reads_and_leaves_the_rest(gauge, left):
    shares = even_shares(64)
    share = {"speed": None} if "speed" in left else {}
    made = drawn_case(ORDINARY, shares, measured={gauge: 0.2, **share}).power / ORDINARY.power
    own = unknown("friction").at(shares["friction"], Band(1 / 1.2, 1.0, 1.2))
    for key in left:
        row = unknown(key)
        known = Band(*np.insert(row.measured, 1, 1.0)) if row.measured else None
        own = own * row.at(shares[key], known)
    assert made == pytest.approx(own)


def test_an_exact_gauge_of_the_watts_leaves_no_doubt_of_them():
    assert np.ptp(drawn_case(ORDINARY, even_shares(64), measured={"power": 0.0}).power) < 1e-9
    sure = spread(ORDINARY, measured={"power": 0.0}).all
    assert np.log(sure.high / sure.low) < 0.8 * np.log(np.divide(*spread(ORDINARY).all.ends[::-1]))


@pytest.mark.parametrize(
    ("known", "words"),
    [
        ({"measured": {"pull": None}}, "pull is measured to a share of None; allowed: 0 to"),
        ({"measured": {"pull": 0.2, "friction": 0.1}}, "'friction'. measured twice; allowed: once"),
        ({"measured": {"pull": 0.2, "force": 0.1}}, "'force'. measured twice"),
        ({"measured": {"pull": 0.2, "power": 0.1}}, "measured twice"),
        ({"measured": {"power": 0.2}, "guessed": ["speed"]}, "'speed'. guessed and measured"),
        ({"guessed": ["pull"]}, "what is guessed is 'pull'; allowed"),
    ],
)
def test_what_is_read_twice_or_not_at_all_is_refused_by_name(known, words):
    with pytest.raises(InputError, match=words):
        spread(ORDINARY, **known)


def test_many_at_once_compare_as_two_do():
    moistures = np.array([0.05, 0.09, 0.15])
    together = ratios(Try(), swept={"moisture": moistures}, against=1, draws=256)
    for at, moisture in enumerate(moistures):
        alone = compare(
            Try().changed(moisture=0.09), Try().changed(moisture=float(moisture)), draws=256
        )
        assert list(together.at(at)) == pytest.approx(list(alone), rel=2e-3)


def test_what_never_glows_in_both_is_the_same_and_in_one_is_endless():
    band = ratios(Try(), swept={"force": np.array([0.0, 60.0, 0.0])}, against=0)
    assert list(band.at(0)) == list(band.at(2)) == [1.0, 1.0, 1.0]
    assert list(band.at(1)) == [0.0, 0.0, 0.0]
    band = ratios(Try(), swept={"force": np.array([0.0, 60.0])}, against=1)
    assert list(band.at(0)) == [math.inf] * 3


def test_one_that_is_not_there_is_refused():
    with pytest.raises(InputError, match="against is 3; allowed: 0 to 2"):
        ratios(Try(), swept={"force": np.array([40.0, 60.0, 80.0])}, against=3)


@pytest.mark.parametrize("swept", [{}, {"force": 60.0}, {"force": np.full((2, 2), 60.0)}])
def test_what_does_not_lie_along_one_axis_is_refused(swept):
    with pytest.raises(InputError, match=r"swept is [\s\S]*; allowed: .* along one axis"):
        ratios(Try(), swept=swept, against=0)
