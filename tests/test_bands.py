"""Low, likely, high: three of anything, kept together."""

import math

import numpy as np
import pytest

from fireheat.bands import Band

SECONDS = Band(2.9, 5.9, 15.5)
MANY = Band(*np.array([[1.0, 2.0, 3.0], [4.0, 5.0, math.inf], [7.0, math.inf, math.inf]]))


def test_the_ends_are_low_and_high_and_the_three_are_in_order():
    assert SECONDS.ends == (SECONDS.low, SECONDS.high) == (2.9, 15.5)
    assert tuple(SECONDS) == (SECONDS.low, SECONDS.likely, SECONDS.high)
    low, high = MANY.ends
    np.testing.assert_array_equal(low, [1.0, 2.0, 3.0])
    np.testing.assert_array_equal(high, [7.0, math.inf, math.inf])


def test_a_band_is_a_value_that_nobody_changes():
    assert Band(2.9, 5.9, 15.5) == SECONDS
    assert hash(Band(2.9, 5.9, 15.5)) == hash(SECONDS)
    with pytest.raises(AttributeError):
        SECONDS.likely = 1.0


def test_each_changes_all_three_alike():
    minutes = SECONDS.each(lambda seconds: seconds / 60)
    assert isinstance(minutes, Band)
    assert minutes == (2.9 / 60, 5.9 / 60, 15.5 / 60)
    assert SECONDS.each("{:.0f} s".format) == Band("3 s", "6 s", "16 s")


def test_each_makes_a_band_of_yes_and_no():
    assert SECONDS.each(lambda seconds: seconds < 10) == Band(True, True, False)
    soon = MANY.each(np.isfinite)
    np.testing.assert_array_equal(soon, [[True] * 3, [True, True, False], [True, False, False]])


def test_at_picks_one_from_bands_of_many_as_plain_numbers():
    assert MANY.at(0) == Band(1.0, 4.0, 7.0)
    assert MANY.at(-1) == Band(3.0, math.inf, math.inf)
    assert {type(seconds) for seconds in MANY.at(1)} == {float}


def test_at_picks_yes_or_no_as_plainly():
    picked = MANY.each(np.isfinite).at(2)
    assert picked == Band(True, False, False)
    assert {type(answer) for answer in picked} == {bool}


def test_at_goes_along_the_last_axis_and_takes_lists_too():
    table = MANY.each(lambda row: np.stack([row, 10 * row]))
    assert table.at(0) == Band([1.0, 10.0], [4.0, 40.0], [7.0, 70.0])
    assert table.at(0).at(1) == Band(10.0, 40.0, 70.0)


@pytest.mark.parametrize("index", [3, -4])
def test_at_refuses_a_place_that_is_not_there(index):
    with pytest.raises(IndexError):
        MANY.at(index)
