"""Between a factor of four and one of sixteen: the closed curve, kit by kit."""

import numpy as np
import pytest
from reading import values

from fireheat import InputError, Try
from fireheat.answers.joining import joined
from fireheat.estimates import times
from fireheat.panels import JoiningCurve
from fireheat.words import number_words, percent_words

WIDER = np.array([0.5, 1.0, 2.0])


def test_with_huge_watts_nearly_all_goes_into_dust_and_with_few_nearly_all_soaks_in():
    quick = joined(
        Try().changed(diameter=0.002, force=490.0, speed=4.9, friction=1.0, burn_in_depth=0.01),
        wider=WIDER,
    )
    slow = joined(Try().changed(diameter=0.05, force=5.0, speed=0.05), wider=WIDER)
    assert quick.twice == pytest.approx(4, rel=0.01)
    assert quick.soaked == pytest.approx(0, abs=0.01)
    assert slow.twice == pytest.approx(16, rel=0.01)
    assert slow.soaked == pytest.approx(1, abs=0.01)


def test_the_ordinary_kit_lies_between_and_thinner_is_the_inverse_of_thicker():
    kit = Try()
    here = joined(kit, wider=WIDER)
    half = joined(kit.changed(diameter=kit.kit.diameter / 2), wider=WIDER)
    assert 4 < here.twice < 16
    assert here.later[0] == pytest.approx(1 / half.twice)
    assert here.later[1] == pytest.approx(1)
    steps = np.array([1.0, 1.0 + 1e-5])
    slope = np.log(joined(kit, wider=steps).later[1]) / np.log(steps[1] ** 2)
    assert slope == pytest.approx(here.exponent, rel=1e-4)


def test_a_thickness_that_cannot_be_is_refused():
    with pytest.raises(InputError, match="diameter over that of another spindle is 0;"):
        joined(Try(), wider=np.array([0.0, 1.0]))


def test_what_soaks_in_and_what_the_dust_takes_is_all_the_heat():
    kit = Try()
    found = joined(kit, wider=WIDER)
    dust = found.ember * (1 - found.soaked) * found.power
    assert dust == pytest.approx(times(kit).bound * kit.power, rel=1e-9)


@pytest.mark.parametrize("moved", [{}, {"diameter": 0.01}, {"force": 20.0, "speed": 0.5}])
def test_tiles_and_sentence_say_what_is_found(moved):
    panel = JoiningCurve()
    panel.set(**moved)
    found = joined(Try().changed(**moved), wider=WIDER)
    assert values(panel)[:2] == [
        f"{number_words(found.twice)} times",
        percent_words(found.soaked),
    ]
    assert f"takes {number_words(found.twice)} times as long" in panel.sentence()
