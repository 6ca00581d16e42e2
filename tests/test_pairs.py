"""A change in many worlds: known better than either time."""

import numpy as np
import pytest
from reading import values

from fireheat import InputError, Try
from fireheat.answers.pairs import CHANGES, paired
from fireheat.panels import SameWorlds
from fireheat.spread import compare, pairs, spread
from fireheat.words import band_words, factor_words


def test_ends_of_the_ratio_are_those_of_the_pairs():
    one, other = Try().changed(force=90.0), Try().changed(force=110.0)
    before, after = pairs(one, other)
    ends = np.quantile(after / before, [0.05, 0.95], method="hazen")
    assert ends == pytest.approx(compare(one, other).ends, rel=0.005)
    lucky = pairs(one, other, luck=True)
    assert np.ptp(np.log(lucky[1] / lucky[0])) > np.ptp(np.log(after / before))


@pytest.mark.parametrize("change", CHANGES)
def test_every_change_is_known_better_than_its_two_times_tell(change):
    found = paired(Try(), change=change)
    assert found.ratio.high / found.ratio.low < 0.5 * found.apart.high / found.apart.low
    assert np.all(found.after < found.before)


def test_too_few_worlds_are_refused_under_their_own_name():
    with pytest.raises(InputError, match="worlds is 3; allowed: a whole number, 20 or more"):
        paired(Try(), change="harder", worlds=3)


def test_tiles_and_sentence_say_what_is_found():
    panel = SameWorlds()
    panel.set(change="drier", diameter=0.012)
    one = Try().changed(diameter=0.012)
    other = one.changed(moisture=one.value("moisture") / 2)
    said = [factor_words(compare(one, other)), *(band_words(spread(t).all) for t in (one, other))]
    assert values(panel) == said
    assert all(words in panel.sentence() for words in said)
