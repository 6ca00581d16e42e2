"""The one table of quantities: units, ranges, defaults, and what is refused."""

import math
import re

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fireheat.constants import constants
from fireheat.quantities import (
    METRIC,
    US,
    InputError,
    check,
    check_or_infinite,
    check_ordinary,
    check_whole,
    default,
    from_si,
    quantities,
    quantity,
    read_row,
    to_si,
    unit_text,
)

ROWS = [pytest.param(row, id=key) for key, row in quantities().items()]
SLIDERS = [pytest.param(row, id=key) for key, row in quantities().items() if row.steps]
SYSTEMS = (METRIC, US)
UNITS = sorted({row.shown_unit(s) for row in quantities().values() for s in SYSTEMS})

# NIST Special Publication 811 (2008), appendix B.8, "Factors for units listed alphabetically"
# (from memory): the unit, a number of it, and the same in SI.
PRINTED = [
    ("in", 1.0, 2.54e-2),
    ("ft", 1.0, 3.048e-1),
    ("lbf", 1.0, 4.448222),
    ("lb", 1.0, 4.535924e-1),
    ("W/in^2", 1.0, 1.550003e3),
    ("degF", 32.0, 273.15),
    ("degF", 212.0, 373.15),
    ("degC", -40.0, 233.15),
    ("degF", -40.0, 233.15),
    ("K rise in degF", 9.0, 5.0),
]


@pytest.mark.parametrize(("unit", "shown", "si"), PRINTED)
def test_conversions_are_those_of_the_national_standards_institute(unit, shown, si):
    assert to_si(shown, unit) == pytest.approx(si, rel=2e-7)


@pytest.mark.parametrize("row", ROWS)
@pytest.mark.parametrize("system", SYSTEMS)
def test_every_shown_unit_converts_as_pint_converts_it(row, system):
    # Outside check: pint, whose unit definitions are its own.
    shown = row.shown_unit(system)
    if shown == row.unit:
        assert row.si(3.0, system) == 3.0
        return
    spelled = {"%": "percent", "in": "inch"}.get(shown, shown.replace("K rise in ", "delta_"))
    si = "" if row.unit == "1" else row.unit
    expected = pint.get_application_registry().Quantity(3.0, spelled).to(si).magnitude
    assert row.si(3.0, system) == pytest.approx(expected, rel=1e-12)


@given(st.sampled_from(UNITS), st.floats(-1e6, 1e6))
def test_there_and_back_again_is_the_same_number(unit, value):
    assert from_si(to_si(value, unit), unit) == pytest.approx(value, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize("row", ROWS)
def test_every_row_says_where_it_comes_from(row):
    assert row.source.strip()
    assert row.status in {"published", "common practice", "assumption", "memory"}
    assert row.name
    assert row.symbol
    assert row.sign in {"positive", "non-negative", "any"}


@pytest.mark.parametrize("row", ROWS)
def test_defaults_lie_in_the_ordinary_range(row):
    assert row.low < row.high
    if row.default is not None:
        check_ordinary(**{row.key: row.default})
        check(**{row.key: row.default})


@pytest.mark.parametrize("row", SLIDERS)
def test_sliders_lie_in_the_ordinary_range_and_hold_the_default(row):
    first, last = row.slider
    assert -math.inf < row.low <= first < last <= row.high < math.inf
    if row.default is not None:
        assert first <= row.default <= last


@pytest.mark.parametrize("row", SLIDERS)
@pytest.mark.parametrize("system", SYSTEMS)
def test_a_slider_has_between_ten_and_three_hundred_steps(row, system):
    first, last = sorted(row.shown(end, system) for end in row.slider)
    assert 10 <= (last - first) / row.steps[system] <= 300


@pytest.mark.parametrize("row", SLIDERS)
@pytest.mark.parametrize("system", SYSTEMS)
def test_a_label_is_the_name_with_the_unit_that_is_shown(row, system):
    unit = unit_text(row.shown_unit(system))
    label = row.label(system)
    assert label.lower().startswith(row.name.lower())
    assert label.endswith(f" ({unit})") if unit else label.lower() == row.name.lower()
    assert not any(sign in label for sign in "$\\^_")  # words, never LaTeX


@pytest.mark.parametrize("row", SLIDERS)
@pytest.mark.parametrize("system", SYSTEMS)
def test_neighbouring_steps_of_a_slider_read_differently(row, system):
    first = row.slider[0]
    step = row.si(row.shown(first, system) + row.steps[system], system)
    assert row.text(first, system) != row.text(step, system)


def test_a_value_reads_in_the_unit_of_its_reader():
    assert quantity("diameter").text(0.0127, METRIC) == "12.7 mm"
    assert quantity("diameter").text(0.0127, US) == "1/2 in"
    assert quantity("temperature_ambient").text(293.15, US) == "68 °F"
    assert quantity("friction").text(0.35) == "0.35"
    assert quantity("angle").text(math.radians(18.5)) == "18.5°"  # as everywhere, without a gap


BAD = [math.nan, math.inf, -math.inf, "13", None, True, 1j, [1, math.nan], [[1], ["a"]]]
BAD += [[[1, 2], [3]], np.ma.array([1.0, 2.0], mask=[False, True])]


@pytest.mark.parametrize("value", BAD)
@pytest.mark.parametrize("key", ["force", "radius", "friction"])
def test_what_is_no_finite_number_is_refused_by_name(key, value):
    with pytest.raises(InputError, match=quantity(key).name):
        check(**{key: value})


@pytest.mark.parametrize("value", [0, -0.0065, np.array([0.01, 0.0])])
def test_a_radius_must_be_above_nothing(value):
    with pytest.raises(InputError, match=r"spindle tip radius is .*allowed: above 0"):
        check(radius=value)


@given(st.floats(1e-300, 1e300))
def test_any_positive_number_passes_a_formula_unchanged(value):
    assert check(radius=value) == value


def test_arrays_pass_as_arrays_and_numbers_as_floats():
    force, radius = check(force=[1, 2], radius=1)
    np.testing.assert_array_equal(force, [1.0, 2.0])
    assert type(radius) is float


@pytest.mark.parametrize(
    ("slip", "words"),
    [
        ({"diameter": 0.5}, "Did you mean 0.5 in, which is 0.0127 m"),
        ({"diameter": 13.0}, "Did you mean 13 mm"),
        ({"relative_humidity": 50}, "Did you mean 50 %, which is 0.5"),
        ({"moisture": 9}, "Did you mean 9 %, which is 0.09"),
        ({"temperature_ambient": 20.0}, "Did you mean 20 °C, which is 293.1"),
        ({"temperature_ambient": 68.0}, "Did you mean 68 °F"),
        ({"stroke_length": 20.0}, "20 cm, which is 0.2 m, or 20 in, which is 0.508 m?"),
        ({"stroke_length": 50.0}, "Did you mean 50 cm"),
    ],
)
def test_a_likely_slip_of_units_is_pointed_out(slip, words):
    with pytest.raises(InputError) as refused:
        check_ordinary(**slip)
    assert words in str(refused.value)
    assert "allowed: " in str(refused.value)


def test_a_refusal_names_quantity_value_unit_and_range():
    with pytest.raises(InputError) as refused:
        check_ordinary(force=900.0)
    assert str(refused.value).startswith("downward force is 900 N; allowed: 0 to 500 N (")


def test_one_number_is_not_several():
    with pytest.raises(InputError, match=r"one number, not \[1.0, 2.0\]; allowed: 0 to 500 N \("):
        check_ordinary(force=[1.0, 2.0])


def test_a_ratio_has_no_unit_in_a_refusal():
    with pytest.raises(InputError, match="friction coefficient must be a number, not 'rough'"):
        check(friction="rough")


@pytest.mark.parametrize("value", [-0.0, [-0.0], np.float32(-0.0)])
def test_nothing_has_no_sign(value):
    assert not np.any(np.signbit(check(time=value)))


@pytest.mark.parametrize("value", [math.inf, 3, [1.0, math.inf]])
def test_what_may_be_infinite_may_be_finite_too(value):
    np.testing.assert_array_equal(check_or_infinite("time", value), value)


@pytest.mark.parametrize("value", [-math.inf, math.nan, -1.0, [math.inf, -1.0], "x", True])
def test_what_may_be_infinite_may_not_be_anything(value):
    with pytest.raises(InputError, match="time"):
        check_or_infinite("time", value)


@pytest.mark.parametrize("value", [3, np.int64(3), np.uint8(3)])
def test_a_whole_number_is_counted_with(value):
    assert check_whole("number of rings", value, least=3) == 3


@pytest.mark.parametrize("value", [3, 4.0, True, "4", [4], np.array(4), math.nan, None])
def test_what_does_not_count_is_refused(value):
    with pytest.raises(InputError, match=r"rings is .*allowed: a whole number, 4 or more"):
        check_whole("number of rings", value, least=4)


def test_what_has_no_default_says_so():
    with pytest.raises(KeyError, match="no default"):
        default("flux")


# ---- rows that point at other rows -------------------------------------------------------------

HAMMER = {
    "name": "blow of the hammer",
    "symbol": "F",
    "unit": "N",
    "sign": "positive",
    "range": [1.0, 9.0],
    "default": 4.0,
    "slider": [2.0, 8.0],
    "step": {"metric": 0.5},
    "source": "a book",
    "status": "published",
}
MALLET = {"name": "blow of the mallet", "symbol": "G", "unit": "N", "sign": "positive"}


def test_a_row_takes_from_another_what_it_does_not_say_itself():
    entries = {"hammer": HAMMER, "mallet": MALLET | {"same_as": "hammer"}}
    row, other = read_row("mallet", entries), read_row("hammer", entries)
    for name in ("default", "low", "high", "slider", "steps", "source", "status"):
        assert getattr(row, name) == getattr(other, name), name
    assert (row.key, row.name, row.symbol) == ("mallet", "blow of the mallet", "G")
    assert (other.default, other.slider) == (4.0, (2.0, 8.0))


def test_a_row_takes_value_source_and_status_from_a_constant():
    row = read_row("mallet", {"mallet": MALLET | {"range": [0.0, 50.0], "constant": "film"}})
    film = constants()["film"]
    assert (row.default, row.source, row.status) == (film.value, film.source, film.status)
    assert (row.low, row.high) == (0.0, 50.0)


def test_a_row_that_is_the_same_as_one_with_a_constant_takes_that_constant():
    hammer = MALLET | {"range": [0.0, 50.0], "constant": "film"}
    row = read_row("mallet", {"hammer": hammer, "mallet": MALLET | {"same_as": "hammer"}})
    assert (row.default, row.high) == (constants()["film"].value, 50.0)


@pytest.mark.parametrize(
    ("mallet", "words"),
    [
        ({"same_as": "axe"}, "names no row"),
        ({"same_as": "chain"}, "names no row"),
        ({"same_as": "mallet"}, "names no row"),
        ({"same_as": "hammer", "default": 4.0}, "says itself what it takes"),
        ({"constant": "phlogiston"}, "names no row"),
        ({"constant": "film", "source": "a book"}, "says itself what it takes"),
    ],
)
def test_a_row_that_points_nowhere_on_or_says_a_thing_twice_is_refused(mallet, words):
    chain = MALLET | {"same_as": "hammer"}
    with pytest.raises(KeyError, match=words):
        read_row("mallet", {"hammer": HAMMER, "chain": chain, "mallet": MALLET | mallet})


def test_a_refusal_tells_the_most_that_is_allowed():
    bounded = [row for row in quantities().values() if math.isfinite(row.most)]
    assert bounded
    for row in bounded:
        with pytest.raises(InputError, match=re.escape(f"up to {row.most:g}")):
            check(**{row.key: 1.001 * row.most + 1e-9})
    assert "up to" not in quantity("force").allowed()
