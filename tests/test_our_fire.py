"""Our own tries narrow what nobody knew, honestly, and say when they disagree with the model."""

import numpy as np
import pytest
from benchmarks.our_fire import KNOWN, evenings, fires, judged, states, turned_force

from fireheat.kit.kit import Try
from fireheat.spread import spread
from fireheat.trials.columns import AN_EMBER, GAVE_UP, TimedTry
from fireheat.trials.our_fire import our_fire

MEASURED = KNOWN["all measured"]


def alike(seconds, ended=AN_EMBER, **settings):
    return [TimedTry(time=float(one), ended=ended, **settings) for one in seconds]


def test_without_a_try_the_band_is_that_of_the_handbook():
    band, wide = our_fire([]).band(Try()), spread(Try()).all
    # Tries of one evening lie farther apart than luck alone puts them.
    assert wide.low / 1.5 < band.low < wide.low
    assert band.likely == pytest.approx(wide.likely, rel=0.2)
    assert band.high > 0.9 * wide.high


def test_tries_draw_the_band_to_themselves_and_those_given_up_draw_it_up():
    wide = our_fire([]).band(Try())
    near = our_fire(alike([40, 45, 52, 38, 44, 47])).band(Try())
    later = our_fire(alike([40, 45, 52]) + alike([60, 60, 60], GAVE_UP)).band(Try())
    assert np.log(near.high / near.low) < 0.6 * np.log(wide.high / wide.low)
    assert near.low < 45 < near.high
    assert later.likely > 1.15 * near.likely


def test_what_is_learned_of_one_diameter_holds_in_part_for_another():
    thin = Try().changed(diameter=0.011)
    before = our_fire([]).band(thin)
    after = our_fire(alike([40, 45, 52, 38, 44, 47], diameter=0.016)).band(thin)
    same = our_fire(alike([40, 45, 52, 38, 44, 47], diameter=0.011)).band(thin)
    widths = [np.log(band.high / band.low) for band in (same, after, before)]
    assert widths == sorted(widths)
    assert widths[1] < 0.75 * widths[2]


def test_nine_of_ten_next_tries_lie_in_the_band_after_twelve():
    """Another engine and dice, with learners who differ; a quarter given up."""
    held, width, told = judged(12, 0.25, MEASURED, 50)
    assert 0.82 <= held <= 0.98  # of 50: two standard errors are 8 %
    assert width <= 0.6
    assert told <= 0.1


def test_an_evening_that_disagrees_with_the_model_is_announced():
    assert our_fire(alike([40, 45, 52, 38, 44, 47])).strange == {}
    assert "level" in our_fire(alike(range(900, 1000, 10))).strange
    tried = states(np.random.default_rng(2), 13)
    made = evenings([turned_force(state) for state in tried], 10, seed=2, known=MEASURED)
    announced = ["force" in fire.strange for fire in fires(tried, made, 0.0, MEASURED)]
    assert sum(announced) >= 8


def test_a_try_that_is_worth_more_narrows_the_band_more():
    thin, thick = (Try().changed(diameter=diameter) for diameter in (0.011, 0.02))
    fire = our_fire(alike([40, 45], diameter=0.016))
    less, more = fire.worth([thick, thin], of=thin)
    assert 0 < less < more < 1
    likely = [fire.band(state).likely for state in (thick, thin)]
    widths = []
    for time, diameter in zip(likely, (0.02, 0.011), strict=True):
        longer = [*fire.tries, *alike([min(time, 1700.0)], diameter=diameter)]
        band = our_fire(longer).band(thin)
        widths.append(np.log(band.high / band.low))
    assert widths[1] < widths[0] < np.log(fire.band(thin).high / fire.band(thin).low)
