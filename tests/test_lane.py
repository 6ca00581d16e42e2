"""Time on a plank: where it ends, how it is notched, what stands above it."""

from itertools import pairwise

import numpy as np
import pytest

from fireheat.figures import style
from fireheat.figures.lane import Flag, Lane, Plank, plank_end
from fireheat.figures.sketch import Sketch
from fireheat.kit.kit import Try
from fireheat.spread import spread
from fireheat.words import TOO_LONG

TIMES = np.geomspace(1.0, 3599.0, 400)


@pytest.fixture
def plank():
    sketch = Sketch(800, 300)
    with style.look():
        return Plank(sketch, 100, 20, 760, 220)


def test_a_plank_holds_what_it_must_and_moves_in_few_steps():
    ends = [plank_end([time]) for time in TIMES]
    assert np.all(np.array(ends) >= TIMES)
    assert np.all(np.diff(ends) >= 0)
    assert len(set(ends)) <= 12
    # so that what must be seen is not lost in a corner; the shortest plank is for anything quick
    assert np.all(np.array(ends)[TIMES > 15] <= 2.5 * TIMES[TIMES > 15])


def test_what_would_be_good_to_see_stretches_a_plank_only_so_far():
    assert plank_end([50.0], [140.0]) >= 140.0
    assert plank_end([50.0], [1000.0]) == plank_end([50.0])
    assert plank_end([50.0, TOO_LONG, np.inf]) == plank_end([50.0])
    assert plank_end([]) == plank_end([np.inf], [np.inf]) == 15.0


@pytest.mark.parametrize(
    "time", [3.0, 29.0, 45.0, 100.0, 170.0, 230.0, 290.0, 500.0, 1000.0, 3000.0]
)
def test_notches_are_few_even_and_say_where_they_are(plank, time):
    plank.sketch.clear()
    plank.fit([time])
    words = plank.sketch.written()
    seconds = np.array([seconds_of(word.text) for word in words])
    assert 4 <= len(words) <= 9
    np.testing.assert_allclose(np.diff(seconds), seconds[1])
    np.testing.assert_allclose([word.x for word in words], plank.frame.across(seconds), atol=1.0)
    assert seconds[-1] == plank.end
    boxes = [(word.x - word.width / 2, word.x + word.width / 2) for word in words]
    assert all(end < start for (_, end), (start, _) in pairwise(boxes))


def seconds_of(words):
    number, _, unit = words.replace("½", ".5").partition(" ")
    return float(number) * (60 if unit == "min" else 1)


def test_a_bar_that_runs_off_the_plank_ends_in_a_point_and_says_its_time(plank):
    found = spread(Try().changed(diameter=0.022))
    lane = Lane(plank, "now")
    plank.sketch.clear()
    plank.fit([found.wood.likely])
    lane.show(found, 100.0)
    bar = plank.sketch.drawn()["now, wood"]
    assert found.wood.high > plank.end
    assert bar.x.max() > plank.end  # its point
    assert np.sum(bar.x == bar.x.max()) == 1
    assert "to never" in [word.text for word in plank.sketch.written()]
    plank.fit([found.wood.high])
    lane.show(found, 100.0)
    assert plank.sketch.drawn()["now, wood"].x.max() == pytest.approx(found.wood.high)


def test_what_is_never_has_a_wall_and_no_bar(plank):
    lane = Lane(plank, "now")
    found = spread(Try().changed(force=15.0, speed=0.4))
    plank.fit([found.bound.likely])
    lane.show(found, 100.0)
    drawn = plank.sketch.drawn()
    assert "now, floor" in drawn
    assert not {"now, wood", "now, all", "now, likely"} & set(drawn)


@pytest.mark.parametrize("words", ["ember before 2½ min", "mmmmmmmmmmmmmmm", "iii"])
def test_a_flag_is_as_wide_as_its_words_with_its_cut_end_bare(plank, words):
    flag = Flag(plank, "goal")
    plank.fit([50.0])
    flag.show(5.0, words, 60.0)
    cloth = plank.sketch.drawn()["goal, flag"]
    (word,) = (word for word in plank.sketch.written() if word.text == words)
    middle = np.sort(np.unique(cloth.x))[-2]  # where the cut reaches
    assert 6 < middle - word.box[2] < 14


@pytest.mark.parametrize(("seconds", "way"), [(10.0, 1), (55.0, -1), (300.0, -1)])
def test_a_flag_stands_at_its_time_and_flies_where_there_is_room(plank, seconds, way):
    flag = Flag(plank, "guess")
    plank.fit([50.0])
    flag.show(seconds, "you said: a quarter", 60.0)
    pole, cloth = (plank.sketch.drawn()[f"guess, {part}"] for part in ("pole", "flag"))
    there = plank.frame.across(min(seconds, plank.end))
    np.testing.assert_allclose(pole.x, there, atol=0.1)
    assert pole.y.max() == pytest.approx(plank.frame.bottom)
    assert np.sign(cloth.x.mean() - there) == way
    (word,) = (word for word in plank.sketch.written() if word.text.startswith("you said"))
    assert cloth.x.min() < word.box[0] < word.box[2] < cloth.x.max()
