"""What nobody knows exactly: the table, its curves and their inverse."""

import numpy as np
import pytest
from scipy.stats import lognorm, norm

from fireheat import InputError
from fireheat.bands import Band
from fireheat.constants import constant
from fireheat.quantities import quantities
from fireheat.unknowns import unknown, unknowns

ROWS = [pytest.param(row, id=key) for key, row in unknowns().items()]
SHARES = np.linspace(0.001, 0.999, 999)


@pytest.mark.parametrize("row", ROWS)
def test_a_row_has_its_three_values_at_5_50_and_95_in_a_hundred(row):
    np.testing.assert_allclose(row.at(np.array([0.05, 0.5, 0.95])), row.band, atol=1e-12)
    assert row.band.low <= row.band.likely <= row.band.high
    assert row.band.low < row.band.high


@pytest.mark.parametrize("row", ROWS)
def test_a_greater_share_is_never_a_smaller_value(row):
    assert np.all(np.diff(row.at(SHARES)) >= 0)
    assert np.all(np.isfinite(row.at(SHARES)))
    if row.kind == "factor":
        assert np.all(row.at(SHARES) > 0)


@pytest.mark.parametrize("row", ROWS)
def test_the_closed_inverse_is_that_of_a_normal_curve_on_each_side(row):
    """Against scipy.stats: half a curve to the likely value, half from there on."""
    low, likely, high = row.band
    values = row.at(SHARES)
    for end, side in ((low, SHARES <= 0.5), (high, SHARES >= 0.5)):
        if end == likely:
            assert np.all(values[side] == likely)
        elif row.kind == "factor":
            width = abs(np.log(end / likely)) / norm.ppf(0.95)
            curve = lognorm(width, scale=likely)
            np.testing.assert_allclose(curve.cdf(values[side]), SHARES[side], rtol=1e-9)
        else:
            width = abs(end - likely) / norm.ppf(0.95)
            np.testing.assert_allclose(
                norm(likely, width).cdf(values[side]), SHARES[side], rtol=1e-9
            )


@pytest.mark.parametrize("row", ROWS)
def test_what_is_neutral_moves_nothing(row):
    for value in (0.09, 60.0, np.array([1.0, 2.0])):
        np.testing.assert_array_equal(row.moved(value, row.neutral), value)
    assert row.kind in ("factor", "added")


def test_another_band_of_the_same_kind_may_be_asked():
    row = unknown("force")
    assert row.at(0.95, Band(0.9, 1.0, 1.1)) == pytest.approx(1.1, rel=1e-12)
    assert row.at(0.95, Band(*(row.measured[0], 1.0, row.measured[1]))) < row.band.high
    assert type(row.at(0.3)) is float


def test_a_measurement_is_narrower_than_a_guess_and_of_what_is_set_or_weighed():
    for row in unknowns().values():
        assert bool(row.measured) == (row.group == "set" or row.key == "density")
        if row.measured:
            assert row.band.low < row.measured[0] < row.neutral < row.measured[1] < row.band.high


def test_what_is_set_is_a_quantity_and_every_row_has_a_group():
    assert {row.group for row in unknowns().values()} == {"wood", "set", "open", "luck"}
    for key, row in unknowns().items():
        if row.group == "set":
            assert key in quantities()
        assert row.key == key


def test_the_row_of_density_is_the_scatter_between_boards():
    # the same number of the handbook stands in two tables
    width = norm.ppf(0.95) * constant("board_scatter")
    np.testing.assert_allclose(unknown("density").band, [1 - width, 1.0, 1 + width], atol=5e-4)


def test_no_such_unknown_is_refused_by_name():
    with pytest.raises(InputError, match="weather"):
        unknown("weather")


@pytest.mark.parametrize("key", ["friction", "moisture"])
def test_one_share_gives_a_plain_float(key):
    assert type(unknown(key).at(0.7)) is float
