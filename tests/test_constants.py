"""Numbers taken from outside: one reader for all their tables."""

import numpy as np
import pytest

from fireheat.constants import constant, constant_band, constants, constants_under
from fireheat.ember.catchers import catchers
from fireheat.quantities import quantities

ROWS = [pytest.param(key, row, id=key) for key, row in constants().items()]


@pytest.mark.parametrize(("key", "row"), ROWS)
def test_every_constant_says_where_it_comes_from_and_lies_in_its_range(key, row):
    assert row.unit
    assert row.source.strip()
    assert row.status in {"published", "common practice", "assumption", "memory"}
    assert np.all(np.asarray(row.low) <= np.asarray(row.value))
    assert np.all(np.asarray(row.value) <= np.asarray(row.high))
    assert (constant(key), constant_band(key).likely) == (row.value, row.value)


def test_constants_of_every_table_are_read():
    assert constant("water_boiling_point") == 373.15
    assert constant("sun") == 1000.0
    assert constant_band("burning_time") == (300.0, 600.0, 900.0)
    assert constant_band("catchers.leather.conductivity") == (0.063, 0.1, 0.16)


def test_a_constant_without_a_range_is_taken_as_exact():
    assert constant_band("layer_thickness") == (0.015, 0.015, 0.015)


def test_what_no_table_has_is_not_found():
    with pytest.raises(KeyError, match="phlogiston"):
        constant("phlogiston")
    assert constants_under("phlogiston") == {}


def test_constants_are_in_the_units_of_the_quantities_they_stand_for():
    rows = quantities()
    for key, row in constants().items():
        kind = key.rsplit(".", 1)[-1]
        alike = f"catcher_{kind}" if key.startswith("catchers.") else kind
        for quantity in {kind if alike not in rows else alike} & rows.keys():
            assert row.unit == rows[quantity].unit, key


def test_a_catcher_has_what_its_rows_say():
    for key, one in catchers().items():
        for kind, row in constants_under(f"catchers.{key}").items():
            assert one.spread(kind) == row.band
