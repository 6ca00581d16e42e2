"""Low, likely, high: three of anything, kept together."""

import importlib
import inspect
import math
import pkgutil
import re
from pathlib import Path

import numpy as np
import pytest

import fireheat
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


def test_what_is_most_likely_lies_in_its_band():
    assert SECONDS.about_likely() == SECONDS
    assert Band(6.0, 5.9, 5.8).about_likely() == Band(5.9, 5.9, 5.9)
    assert Band(1.0, math.inf, 6.0).about_likely() == Band(1.0, math.inf, math.inf)
    held = Band(*np.array([[1.0, 3.0], [2.0, 2.0], [1.5, 4.0]])).about_likely()
    np.testing.assert_array_equal(held, [[1.0, 2.0], [2.0, 2.0], [2.0, 4.0]])


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


# ---- no band without its name -------------------------------------------------------------------

BARE = re.compile(r"[tT]uple\[(float|int|np\.ndarray)(, \1){1,2}\]")
NAMED = re.compile(r"(_band|_range|^ends)$")
PLACE = "a place in a picture, across and down"
# Pairs and triples that are no low, likely and high, or hold the two ends of one.
ALLOWED = {
    "answers.working.Row.ends": "a result with one number at its ends; nothing there is likely",
    "answers.working.Working.band": "the two ends about its number, which is the likely value",
    "bands.Band.ends": "the two ends of a band, which knows its likely value itself",
    "coach.population.Population.ranges": "where a group's learners lie, evenly; none is likely",
    "coach.verdicts.CourtVerdict.middle": "two numbers: a time now, and what a saying does to it",
    "ember.catchers.Catcher.ranges": "the ends of each field; the field itself is the likely value",
    "figures.chart_ticks.ChartTicks.between": "from where to where ticks run, and their step",
    "figures.kit_at_work.named": PLACE,
    "figures.kit_picture.Leader.end": PLACE,
    "figures.kit_picture.Leader.start": PLACE,
    "figures.kit_picture.Placed.at": PLACE,
    "figures.kit_shapes.pivots": PLACE,
    "quantities.Quantity.ends": "words at the ends of a slider, no numbers",
    "quantities.Quantity.slider": "from where to where a slider goes; nothing there is likely",
    "trials.fit.CensoredFit.intervals": "ends about each coefficient, which is the likely value",
    "trials.plan.Plan.embers": "one number for each of two sides",
    "words.saved_range": "words, no numbers",
}


def returned():
    """What each public function, property and field of the library is said to be."""
    for found in pkgutil.walk_packages(fireheat.__path__, "fireheat."):
        if found.name.startswith(("fireheat.jupyter", "fireheat.__main__")):
            continue
        home = importlib.import_module(found.name)
        for name, thing in vars(home).items():
            if getattr(thing, "__module__", "") == home.__name__ and name[0] != "_":
                place = f"{home.__name__.removeprefix('fireheat.')}.{name}"
                yield from said(place, inspect.unwrap(thing))


def said(place, thing):
    if inspect.isfunction(thing):
        yield place, spelled(thing.__annotations__.get("return"))
    elif inspect.isclass(thing):
        for name, kind in inspect.get_annotations(thing).items():
            yield f"{place}.{name}", spelled(kind)
        for name, member in vars(thing).items():
            makes = member.fget if isinstance(member, property) else member
            if inspect.isfunction(makes) and name[0] != "_":
                yield f"{place}.{name}", spelled(makes.__annotations__.get("return"))


def spelled(kind):
    return kind if isinstance(kind, str) else inspect.formatannotation(kind)


def bare(place, kind):
    """Whether this is a band without its name."""
    named = NAMED.search(place.rpartition(".")[2]) and kind != "None"
    return bool(BARE.search(kind) or (named and "Band" not in kind))


def test_nothing_public_gives_a_band_as_a_bare_pair_or_triple():
    assert {place for place, kind in returned() if bare(place, kind)} == set(ALLOWED)


def test_a_bare_band_would_be_seen():
    assert bare("heat.loss", "tuple[float, float, float]")
    assert bare("heat.loss", "Mapping[str, tuple[float, float]]")
    assert bare("heat.loss_band", "tuple")
    assert not bare("heat.loss_band", "Band[float]")
    assert not bare("heat.loss", "tuple[float, ...]")


def test_nobody_picks_the_ends_of_a_band_by_number():
    for path in Path(fireheat.__file__).parent.rglob("*.py"):
        assert "[[0, 2]]" not in path.read_text(encoding="utf-8"), path
