"""What is worth measuring next: shares of the doubt, and what they become once measured."""

import numpy as np
import pytest
from scipy.stats import qmc, sobol_indices

from fireheat.answers.worth import (
    Doubt,
    doubts,
    narrowing,
    next_words,
    parts_words,
    total_indices,
)
from fireheat.figures.worth import DoubtBars, doubt_name
from fireheat.kit.kit import Try
from fireheat.my_kit import MyKit
from fireheat.person.measuring import Measured
from fireheat.spread import drawn_case, settable
from fireheat.unknowns import unknowns

START = Try()
BARS_BEGIN = 262  # pixels from the left


def ishigami(shares):
    one, two, three = 2 * np.pi * shares - np.pi
    return np.sin(one) + 7 * np.sin(two) ** 2 + 0.1 * three**4 * np.sin(one)


def test_indices_are_the_published_ones_of_ishigamis_function():
    """0.5576, 0.4424, 0.2437: Saltelli et al., Global Sensitivity Analysis (2008), from memory."""
    groups = {"one": [0], "two": [1], "three": [2]}
    found = total_indices(ishigami, groups, draws=2**15)
    assert list(found.values()) == pytest.approx([0.5576, 0.4424, 0.2437], abs=0.012)


def test_a_group_counts_together_what_its_members_do_together():
    """All but the second: one less the second's own, 0.4424, which meets no other."""
    found = total_indices(ishigami, {"rest": [0, 2], "two": [1]}, draws=2**15)
    assert found["rest"] == pytest.approx(1 - 0.4424, abs=0.012)


def test_indices_are_those_of_scipy_with_many_draws():
    """All that a reader sets, one by one, as scipy.stats.sobol_indices has it."""
    rows, guessed = list(unknowns()), settable(START)

    def answer(shares):
        drawn = drawn_case(START, dict(zip(rows, shares, strict=True)), guessed=guessed)
        return np.log(np.minimum(drawn.quick()[1], 3600.0))

    one, other = np.split(qmc.Sobol(2 * len(rows), seed=2).random(2048).T, 2)
    mixed = [
        np.where(np.arange(len(rows))[:, np.newaxis] == row, other, one) for row in range(len(rows))
    ]
    given = {
        "f_A": answer(one)[np.newaxis],
        "f_B": answer(other)[np.newaxis],
        "f_AB": np.array([answer(shares)[np.newaxis] for shares in mixed]),
    }
    found = sobol_indices(func=given, n=2048)
    theirs = dict(zip(rows, np.ravel(found.total_order), strict=True))
    ours = {one.key: one.share for one in doubts(START)}
    for key in (*guessed, "luck"):
        assert ours[key] == pytest.approx(theirs[key], abs=0.03), key


def test_what_never_varies_has_no_share():
    found = total_indices(lambda shares: np.ones(shares.shape[1]), {"all": [0]}, draws=8)
    assert found == {"all": 0.0}


def test_measuring_what_matters_most_makes_it_matter_less():
    first = next(one for one in doubts(START) if one.state == "guessed")
    mine = MyKit(**{first.key: Measured(START.value(first.key), 0.03 * START.value(first.key))})
    after = {one.key: one for one in doubts(START, mine)}
    assert first.key == "friction"
    assert after["friction"] == Doubt("friction", after["friction"].share, "measured")
    assert after["friction"].share < 0.1 * first.share
    told = next_words(doubts(START, mine))
    assert told.startswith("Of what you can measure still, downward force matters most: it makes 2")
    assert told.endswith("Measure it with a bathroom scale under the board (page 06).")


@pytest.mark.parametrize(
    ("reading", "gone", "left"),
    [
        ("grip", {"friction", "force"}, {"pull", "speed"}),
        ("hot_grip", {"friction", "force", "speed"}, {"power"}),
    ],
)
def test_a_gauge_stands_for_all_that_it_tells(reading, gone, left):
    mine = MyKit(**{reading: Measured(0.175, 0.01)})
    found = {one.key: one.share for one in doubts(START, mine)}
    assert not gone & set(found)
    assert left <= set(found)
    before = {one.key: one.share for one in doubts(START)}
    assert found["pull" if reading == "grip" else "power"] < 0.2 * before["friction"]


def test_what_cannot_make_an_ember_has_nothing_to_measure():
    hopeless = START.changed(force=5.0, speed=0.1)
    assert all(one.share == 0.0 for one in doubts(hopeless))
    assert next_words(doubts(hopeless)).startswith("As it is set no ember comes")


def test_never_counts_as_an_hour_so_that_half_hopeless_kits_have_shares():
    hard = START.changed(force=25.0, speed=0.5)
    found = doubts(hard)
    assert all(np.isfinite(one.share) for one in found)
    assert found[0].share > 0.2


def test_who_measured_all_is_told_so():
    all_of_it = tuple(Doubt(key, 0.1, "measured") for key in settable(START))
    assert next_words(all_of_it).startswith("All is measured.")
    little = (Doubt("open", 0.9, "unknown"), Doubt("moisture", 0.01, "guessed"))
    assert next_words(little).startswith("What you could still measure hardly matters")


def test_every_name_stands_left_of_its_bar():
    weighed = MyKit(specific_gravity=Measured(0.4, 0.03), grip=Measured(0.17, 0.01))
    kits = MyKit(), weighed, weighed.put(hot_grip=Measured(0.17, 0.01))
    keys = {one.key for kit in kits for one in doubts(kit.state(START), kit)}
    sketch = DoubtBars()
    wide = {key: sketch.width(doubt_name(key)) for key in keys}
    assert {"density", "pull", "power", "open"} <= set(wide)
    assert max(wide.values()) <= BARS_BEGIN - 10


def test_parts_are_of_ten():
    assert [parts_words(share) for share in (0.04, 0.06, 0.35, 0.94, 0.96)] == [
        "less than 1 of 10 parts",
        "1 of 10 parts",
        "4 of 10 parts",
        "9 of 10 parts",
        "nearly all",
    ]


def test_everything_a_reader_sets_can_be_measured_with_something():
    for row in unknowns().values():
        assert bool(row.how) == bool(row.measured), row.key


def test_the_better_a_kit_is_measured_the_shorter_its_band():
    poor, good = (
        narrowing(START, MyKit(friction=Measured(0.35, 0.35 * off), force=Measured(60.0, 2.0)))
        for off in (0.2, 0.01)
    )
    assert good < poor < 1.0
    assert narrowing(START, MyKit()) == 1.0
