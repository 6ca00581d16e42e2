"""Numbers as words: no more digits than they deserve, and never out of order."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fireheat.everyday import like_power, suns
from fireheat.quantities import METRIC, US, quantity
from fireheat.words import (
    NEVER,
    TOO_LONG,
    band_words,
    factor_words,
    floor_words,
    likely_words,
    moment_words,
    number_words,
    percent_words,
    ratio_words,
    shares_words,
    signed_words,
    time_words,
    whole_range_words,
    whole_words,
)

SECONDS = st.floats(0.1, 3599.0)


def seconds(words):
    """Read a time back from its words."""
    number, half, unit = re.fullmatch(r"([\d.]*)(½?) (s|min)", words).groups()
    return (float(number or 0) + (0.5 if half else 0)) * {"s": 1, "min": 60}[unit]


@given(SECONDS)
def test_words_stay_within_a_fifth_of_the_time(time):
    last_digit = 0.05 if time < 0.95 else 0.5
    assert seconds(time_words(time)) == pytest.approx(time, rel=0.2, abs=last_digit + 1e-9)


@given(SECONDS, SECONDS)
def test_a_longer_time_never_reads_as_a_shorter_one(one, other):
    low, high = sorted((one, other))
    assert seconds(time_words(low)) <= seconds(time_words(high))


@given(SECONDS)
def test_no_time_has_more_than_two_figures(time):
    digits = re.sub(r"\D", "", time_words(time)).strip("0")
    assert len(digits) <= 2


@pytest.mark.parametrize("time", [TOO_LONG, 1e9, math.inf])
def test_what_nobody_bows_for_is_never(time):
    assert time_words(time) == NEVER


def test_a_tiny_time_is_not_spelled_in_powers_of_ten():
    assert time_words(8e-5) == time_words(0.0) == "under 0.1 s"


@given(st.floats(-1e15, 1e15, allow_subnormal=False))
def test_a_number_has_two_figures_and_no_powers_of_ten(value):
    words = number_words(value)
    assert re.fullmatch(r"-?\d[\d,]*(\.\d*[1-9])?", words)
    assert float(words.replace(",", "")) == pytest.approx(value, rel=0.051)
    assert len(re.sub(r"\D", "", words).strip("0")) <= 2


@pytest.mark.parametrize(
    ("value", "words"),
    [(5.1e-05, "0.000051"), (1e-05, "0.00001"), (2.5e11, "250,000,000,000"), (9.96, "10")],
)
def test_the_smallest_and_largest_numbers_are_written_out(value, words):
    assert number_words(value) == words


@given(st.floats(-1e6, 1e6, allow_subnormal=False))
def test_a_signed_number_has_one_sign_and_the_words_of_its_size(value):
    sign, size = signed_words(value)[0], signed_words(value)[1:]
    assert (sign, size) == ("+" if value >= 0 else "−", number_words(abs(value)))


@given(st.floats(-0.004, 0.0))
def test_what_rounds_to_nothing_has_no_minus_sign(share):
    assert percent_words(share) == "0 %"


@pytest.mark.parametrize("system", [METRIC, US])
@pytest.mark.parametrize("key", ["temperature_ambient", "force", "diameter", "friction"])
def test_a_quantity_that_rounds_to_nothing_has_no_minus_sign(key, system):
    row = quantity(key)
    hair = -0.4 * 10.0 ** -row.digits(system)
    assert re.match(r"0[. ]|0$", row.text(row.si(hair, system), system))


PARTS = st.dictionaries(
    st.sampled_from(["dust", "water", "spindle", "board", "air"]), st.floats(0.0, 1e6), min_size=1
)


@given(PARTS)
def test_shares_of_one_whole_add_up_to_a_hundred(parts):
    whole = sum(parts.values())
    shares = {key: int(words.removesuffix(" %")) for key, words in shares_words(parts).items()}
    assert list(shares) == list(parts)
    if whole == 0:
        assert set(shares.values()) == {0}
        return
    assert sum(shares.values()) == 100
    for key, share in shares.items():
        assert abs(share - 100 * parts[key] / whole) < 1


def test_the_point_that_rounding_loses_goes_to_the_part_that_lost_most():
    # By hand, largest remainders: 28.6 + 27.4 + 27.4 + 16.6 are 98 whole points and two to give.
    assert shares_words({"a": 28.6, "b": 27.4, "c": 27.4, "d": 16.6}) == {
        "a": "29 %",
        "b": "27 %",
        "c": "27 %",
        "d": "17 %",
    }


@pytest.mark.parametrize(
    ("bound", "words"),
    [(13.0, "13 s"), (3599.0, "60 min"), (3600.0, "over an hour"), (1e7, "over an hour")],
)
def test_a_lower_limit_that_is_finite_is_never_never(bound, words):
    assert floor_words(bound) == words


@pytest.mark.parametrize(
    ("moment", "words"),
    [(5.08, "5.1 s"), (21.04, "21 s"), (71.1, "71 s"), (459.5, "7½ min"), (math.inf, NEVER)],
)
def test_a_moment_has_two_figures_even_below_ten_seconds(moment, words):
    assert moment_words(moment) == words


def test_the_least_and_the_likeliest_are_no_limits_of_a_limit():
    assert floor_words(0.034) == "0.034 s"  # not "at least under 0.1 s"
    assert likely_words(0.034) == "most likely under 0.1 s"


def test_what_is_most_likely_is_about_so_much_or_never():
    assert likely_words(30.2) == "most likely about 30 s"
    assert likely_words(math.inf) == "most likely never"


def test_where_nothing_moves_even_the_lower_limit_is_never():
    assert floor_words(math.inf) == NEVER


@given(st.floats(0.001, 100.0), st.floats(1.0, 10.0))
def test_a_share_of_the_whole_is_never_once_it_nor_are_the_ends_of_its_band(share, times):
    assert whole_words(share) != "1 times"
    low, high = whole_range_words((share, times * share)).split(" to ")
    assert high == whole_words(times * share)
    assert low in {whole_words(share), whole_words(share).removesuffix(" times")}


def test_what_is_not_a_number_is_refused_and_not_spelled():
    with pytest.raises(ValueError, match="NaN"):
        time_words(math.nan)
    with pytest.raises(ValueError, match="NaN"):
        ratio_words(math.nan)


@pytest.mark.parametrize(
    ("band", "words"),
    [
        ((15.2, 41.0), "15 to 41 s"),
        ((15.2, 15.4), "15 s"),
        ((98.0, 102.0), "98 to 100 s"),
        ((50.0, 130.0), "50 s to 2 min"),
        ((110.0, math.inf), "2 min to never"),
        ((math.inf, math.inf), "never"),
        ((0.01, 0.3), "under 0.1 s to 0.3 s"),
    ],
)
def test_a_band_names_its_unit_once_and_both_ends(band, words):
    assert band_words(band) == words


@pytest.mark.parametrize("short", [False, True])
@pytest.mark.parametrize(
    ("ratio", "words"),
    [
        (1 / 16, "a sixteenth of the time"),
        (1 / 10, "a tenth of the time"),
        (0.136, "a seventh of the time"),
        (1 / 4, "a quarter of the time"),
        (1 / 2, "half the time"),
        (1.0, "the same time"),
        (2.0, "twice the time"),
        (2.4, "twice the time"),
        (4.0, "4 times the time"),
        (16.0, "16 times the time"),
        (0.0, "a tiny part of the time"),
        (math.inf, NEVER),
    ],
)
def test_a_ratio_reads_as_a_fraction_or_a_multiple(ratio, words, short):
    short_words = words.replace(" of the time", "").replace("half the time", "half")
    if words not in ("the same time", NEVER):
        short_words = short_words.replace(" the time", "")
    assert ratio_words(ratio, short=short) == (short_words if short else words)


@given(st.floats(0.01, 100.0))
def test_a_ratio_below_one_never_reads_as_more(ratio):
    more = ("more", "one and a half", "twice", "times")
    less = ("less", "half the", " of the time")
    words = ratio_words(ratio)
    if ratio < 0.93:
        assert any(w in words for w in less)
        assert not any(w in words for w in more)
    elif ratio > 1.07:
        assert any(w in words for w in more)


@given(st.floats(0.2, 300.0))
def test_the_everyday_thing_is_within_a_factor_of_three(power):
    watts = float(re.search(r"\(([\d.]+) W\)", like_power(power)).group(1))
    assert max(watts / power, power / watts) <= 3.01


@pytest.mark.parametrize(
    ("power", "words"),
    [
        (0.2, "less than a small pocket torch (0.5 W)"),
        (0.3, "like a small pocket torch (0.5 W)"),
        (150.0, "like the body heat of someone sitting still (100 W)"),
        (360.0, "more than the body heat of someone sitting still (100 W)"),
    ],
)
def test_what_is_off_the_list_of_everyday_things_is_not_like_its_last(power, words):
    assert like_power(power) == words


def test_no_rubbing_is_like_nothing():
    assert like_power(0.0) == "no rubbing, no heat"


def test_one_sun_is_the_flux_that_solar_panels_are_rated_at():
    # 1000 W/m^2: standard test conditions, IEC 60904-3 (from memory)
    assert suns(1000.0) == 1.0


@pytest.mark.parametrize(
    ("ratio", "words"),
    [
        ((0.19, 0.33, 0.382), "0.19 to 0.38 of the time"),
        ((1.36, 1.43, 1.7), "1.4 to 1.7 times the time"),
        ((0.8, 1.0, 1.3), "0.8 to 1.3 times the time"),
        ((2.8, 3.6, math.inf), "2.8 times or more, even never"),
        ((0.0, 0.146, 0.255), "at most 0.26 of the time"),
        ((1.0, 1.0, 1.0), "the same time"),
        ((0.35, 0.9, 0.998), "0.35 of the time to the same time"),
        ((1.0, 1.1, 1.3), "1 to 1.3 times the time"),
        ((0.999, 2.0, math.inf), "the same time or more, even never"),
        ((0.0, 0.6, 1.0), "at most the same time"),
        ((0.0031, 0.2, 0.35), "at most 0.35 of the time"),
        ((0.0962, 0.2, 0.44), "0.1 to 0.44 of the time"),
        ((0.052, 0.2, 0.44), "0.05 to 0.44 of the time"),
        ((1.4, 6.0, 316.0), "1.4 times or more"),
        ((0.8, 6.0, 316.0), "0.8 of the time or more"),
    ],
)
def test_what_is_known_of_a_ratio_is_said_in_numbers(ratio, words):
    assert factor_words(ratio) == words
