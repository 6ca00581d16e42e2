"""Our own tries by the clock and beside the physics, from any log; a stopwatch that writes them."""

import re
from datetime import UTC, datetime

import numpy as np
import pytest
from lifelines import KaplanMeierFitter
from reading import read, shown, values

from fireheat import InputError, panels
from fireheat.answers.fitted import fitted
from fireheat.answers.next_try import next_try
from fireheat.answers.our_tries import our_tries, survival
from fireheat.kit.kit import Try
from fireheat.panels.our_log import our_log
from fireheat.trials.columns import TimedTry
from fireheat.trials.plan import plan
from fireheat.trials.reading import read_log
from fireheat.words import band_words

HEAD = "learner,spindle diameter (mm),downward force (N),time (s),ended with\n"


@pytest.fixture(autouse=True)
def demo_again():
    """Leave the demo log to the next test."""
    yield
    our_log.clear()


def timed(time, ended="ember", **how):
    return TimedTry(time=time, ended=ended, **how)


# ---- by the clock -------------------------------------------------------------------------------


def test_the_share_without_an_ember_is_the_published_one_of_remissions():
    """The 6-MP group of Freireich and others, Blood 21 (1963) 699, from memory."""
    seen = [6, 6, 6, 7, 10, 13, 16, 22, 23]
    left = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
    found = survival(seen + left, observed=[True] * len(seen) + [False] * len(left))
    assert found.times.tolist() == [6, 7, 10, 13, 16, 22, 23]
    printed = [0.857, 0.807, 0.753, 0.690, 0.627, 0.538, 0.448]
    assert found.shares == pytest.approx(printed, abs=5e-4)
    assert (found.middle, found.last) == (23, 35)


def test_the_share_is_that_of_another_program_for_any_tries():
    chance = np.random.default_rng(3)
    times = np.ceil(chance.exponential(60, 40)) + 5  # some of them at the same second
    seen = chance.random(40) < 0.6
    found = survival(times, observed=seen)
    theirs = KaplanMeierFitter().fit(times, seen)
    moments = np.arange(0.0, times.max(), 3.0)
    assert found.at(moments) == pytest.approx(theirs.predict(moments).to_numpy())


def test_tries_are_parted_by_each_of_a_few_settings_or_in_two_halves():
    three = [timed(30.0, diameter=d) for d in (0.022, 0.011, 0.016, 0.011)]
    assert [g.tries for g in our_tries(three, by="diameter").groups] == [2, 1, 1]
    many = [timed(30.0, force=float(f)) for f in (40, 50, 60, 70, 80, 90)]
    found = our_tries([*many, timed(40.0)], by="force")
    assert [(g.low, g.high) for g in found.groups] == [(40, 60), (70, 90)]
    assert (found.left_out, found.whole.tries) == (1, 6)
    lopsided = [timed(30.0, force=float(f)) for f in (40, 40, 40, 40, 50, 60, 70)]
    low, high = our_tries(lopsided, by="force").groups
    assert low.high < high.low
    assert our_tries([], by="all").groups == ()
    with pytest.raises(InputError, match="by is 'wood'"):
        our_tries(three, by="wood")


# ---- beside the physics -------------------------------------------------------------------------


def test_tries_that_cannot_be_of_this_physics_are_said_to_disagree():
    """Twice as thick took half as long, as if physics stood on its head."""
    quick = [timed(20.0 + 2 * i, diameter=0.022) for i in range(6)]
    slow = [timed(60.0 + 5 * i, diameter=0.011) for i in range(6)]
    found = fitted(quick + slow, question="thickness")
    assert (found.verdict, found.found.disagree) == ("yes", ("diameter",))
    our_log.hand_over("ours.csv", as_log(quick + slow))
    panel = looked_at(panels.FitTries())
    panel.set(question="thickness")
    assert values(panel)[0] == "yes"
    assert "disagree on thickness" in panel.sentence()


def looked_at(panel):
    """Put a panel where a reader sees it: what nobody sees is answered only once somebody asks."""
    panel.voice.views = 1
    return panel


def as_log(tries):
    rows = [f",{1000 * (one.diameter or 0):g},60,{one.time:g},{one.ended}\n" for one in tries]
    return (HEAD + "".join(rows)).encode()


def test_what_nobody_sees_is_answered_only_once_somebody_asks(monkeypatch):
    panel, asked = panels.FitTries(), []
    answer = panel.answer
    monkeypatch.setattr(panel, "answer", lambda state: asked.append(state) or answer(state))
    our_log.hand_over("few.csv", as_log([timed(30.0, diameter=0.011)]))
    assert asked == []
    assert "to tell 2 causes from luck" in panel.sentence()
    assert len(asked) == 1
    our_log.clear()
    panel.voice.views = 1  # scrolled to
    assert len(asked) == 2


def test_too_few_tries_are_told_what_to_measure_next():
    panel, few = (
        looked_at(panels.FitTries()),
        [timed(30.0, diameter=0.011), timed(60.0, diameter=0.022)],
    )
    our_log.hand_over("few.csv", as_log(few))
    assert values(panel)[0] == "too few tries"
    panel.set(question="thickness")
    assert "Time at least 2 more tries that end with an ember" in read(panel.face.value)
    our_log.hand_over("bare.csv", b"time (s),ended with\n30,ember\n")
    assert "Not one try says how it was set. Write that down" in panel.sentence()


def test_both_wrong_ways_are_shown_beside_the_right_one():
    """Slow settings are given up most, so both take their slowness away."""
    found = fitted(our_log.log.tries, question="thickness")
    right = found.found.powers["diameter"].found
    assert found.wrong["left out"]["diameter"] < right - 0.1
    assert found.wrong["as embers"]["diameter"] < right - 0.1
    said = shown(looked_at(panels.FitTries()))
    assert "With failed tries left out it would be" in said
    assert "both wrong" in said


# ---- which log ----------------------------------------------------------------------------------


def test_a_log_from_a_path_is_read_by_all_panels_and_its_problems_are_told_by_row(tmp_path):
    clock, fit = looked_at(panels.OurTries()), looked_at(panels.FitTries())
    place = tmp_path / "ours.csv"
    rows = "L01,16,60,75,ember\nL02,16,sixty,90,gave up\nL03,16,60,80,gave up\n"
    place.write_text(HEAD + rows, encoding="utf-8")
    clock.which.path.value = str(place)
    clock.which.read()
    assert values(clock)[:2] == ["2", "1"]  # good rows are used
    told = read(clock.which.said.value).replace("\xa0", " ")
    assert "From ours.csv: 2 tries, 1 ember; 1 row not read." in told
    assert "Row 3, “downward force (N)”: “sixty”" in told
    assert "From ours.csv" in read(fit.face.value)
    # A place where there is no log is told of, and what was shown stays.
    clock.which.path.value = str(tmp_path / "nowhere.csv")
    clock.which.read()
    assert "Not read: cannot read" in clock.which.said.value
    assert ". The tries shown are those of before." in clock.which.said.value
    assert values(clock)[:2] == ["2", "1"]
    # So does it where not one row can be read, and each heading is told with what to write.
    place.write_text("time (s),endet with\n75,ember\n", encoding="utf-8")
    clock.which.path.value = str(place)
    clock.which.read()
    assert "there is no column “ended with”; add it" in clock.which.said.value
    assert "if you mean “ended with”, write that. The tries" in clock.which.said.value
    assert values(clock)[:2] == ["2", "1"]
    clock.which.demo()
    assert values(clock)[0] == f"{len(our_log.log.tries)}" == "24"


def test_a_file_that_was_handed_over_is_read():
    clock = looked_at(panels.OurTries())
    content, now = memoryview(as_log([timed(30.0, diameter=0.011)])), datetime.now(UTC)
    clock.which.upload.value = [
        {
            "name": "mine.csv",
            "type": "",
            "size": 9,
            "content": content,
            "last_modified": now,
        }
    ]
    assert values(clock)[:2] == ["1", "1"]
    assert "From mine.csv" in read(clock.face.value)


# ---- the stopwatch writes -----------------------------------------------------------------------


def test_a_finished_try_goes_into_the_log_once_and_panels_see_it(tmp_path):
    watch, clock, place = panels.Stopwatch(), looked_at(panels.OurTries()), tmp_path / "ours.csv"
    watch.path.value = str(place)
    told = []
    watch.watches.send = told.append
    one = {"lane": 1, "start": 1e12, "learner": "L07", "ended": "gave up", "time": 75.2,
           "smoke_time": 11.0, "diameter": 0.016, "force": 60.0}  # fmt: skip
    for _ in range(2):
        watch.watches._handle_custom_msg({"add": one}, [])
    assert [answer["done"] for answer in told] == [True, True]
    (written,) = read_log(place).tries
    assert written.date == datetime.fromtimestamp(1e9).date().isoformat()
    kept = (written.learner, written.ended, written.time, written.smoke_time, written.diameter)
    assert kept == ("L07", "gave up", 75.2, 11.0, pytest.approx(0.016))
    assert values(clock)[:2] == ["1", "0"]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"learner": ""}, "Choose whose try it was, by code"),
        ({"learner": "Somebody"}, "allowed: a code"),
        ({"time": 0.4}, "time is 0.4 s"),
        ({"time": float("nan")}, "is no number"),
        ({"time": None}, "Not written"),
        ({"smoke_time": 80.0}, "smoke before the end"),
    ],
)
def test_what_cannot_be_a_try_is_refused_in_words_and_nothing_is_written(tmp_path, change, words):
    watch, place = panels.Stopwatch(), tmp_path / "ours.csv"
    watch.path.value = str(place)
    one = {"lane": 0, "start": 1.0, "learner": "L01", "ended": "ember", "time": 30.0}
    done, said = watch.add(one | change)
    assert not done
    assert words in said
    assert not place.exists()


def test_the_hot_heap_is_in_view_at_the_stopwatch():
    caution = read(panels.Stopwatch().watches.caution)
    assert caution.startswith("A try that failed is hot, too.")
    for words in ("Wet heap, tip and board", "Outdoors only", "adult in charge", "water in reach"):
        assert words in caution


# ---- the plan -----------------------------------------------------------------------------------


def test_a_plan_is_for_what_physics_expects_and_its_order_has_each_side_as_often():
    panel = panels.PlanTries()
    panel.set(change="harder", diameter=0.016, force=60.0, learners=3)
    found = panel.answer(panel.state)
    told = plan(1 / found.pairs.ratio.likely, time=found.pairs.other.wood.likely)
    assert found.plan == told
    assert values(panel)[0] == f"{told.tries_a_side}"
    order = read(panel.order.value)
    assert order.count(": 60 N") == order.count(": 80 N") == told.tries_a_side
    assert {f"L{number:02}" for number in (1, 2, 3)} == set(re.findall(r"L\d\d", order))


def test_where_no_side_ever_glows_nobody_is_sent_to_try():
    panel = panels.PlanTries()
    panel.set(change="drier", diameter=0.03, force=10.0)
    assert values(panel)[0] == "over 200"
    assert "one side hardly ever glows" in read(panel.face.value)
    assert "<li>" not in panel.order.value


# ---- our fire -----------------------------------------------------------------------------------


def test_our_evenings_narrow_the_band_of_the_next_try_and_strange_ones_are_announced():
    panel = looked_at(panels.NextEmber())
    found = panel.answer(panel.state)
    ours, theirs = (band.high / band.low for band in (found.evenings, found.handbook))
    assert ours < theirs**0.6
    assert found.handbook.low < found.evenings.low < found.evenings.high < found.handbook.high
    assert "Nothing about them is out of the ordinary" in read(panel.face.value)
    late = [timed(800.0 + 10 * i, diameter=0.011, force=90.0) for i in range(6)]
    rows = [f"L01,11,90,{one.time:g},ember\n" for one in late]
    our_log.hand_over("late.csv", (HEAD + "".join(rows)).encode())
    assert "Out of the ordinary for this physics: how long they all took" in read(panel.face.value)


def test_the_explorer_shows_the_readers_own_evenings_and_never_the_invented_one():
    panel = looked_at(panels.Explorer())
    bare = panel.face.value, panel.sentence()
    own = [timed(80.0 + 5 * n, diameter=0.016) for n in range(6)]
    rows = "".join(f"L01,16,60,{one.time:g},ember\n" for one in own)
    our_log.hand_over("ours.csv", (HEAD + rows).encode())
    panel.set(diameter=0.014)
    then = next_try(Try().changed(diameter=0.014), our_log.own)
    words = f"your evenings, 6 tries: {band_words(then.evenings)}"
    assert words in read(panel.face.value)
    assert f"By {words}." in panel.sentence().replace("\xa0", " ")
    assert "out of the ordinary" not in panel.sentence()
    late = "".join(f"L01,11,90,{800 + 10 * n},ember\n" for n in range(6))
    our_log.hand_over("late.csv", (HEAD + late).encode())
    assert "out of the ordinary for this physics: see page 09" in panel.sentence()
    panel.reset()
    our_log.clear()
    assert (panel.face.value, panel.sentence()) == bare
    assert our_log.log.tries
    assert not our_log.own


def test_the_next_ember_says_where_our_fire_stands_and_whose_tries_they_are():
    panel = looked_at(panels.NextEmber())
    assert "These evenings" in read(panel.face.value)
    slow = "".join(f"L01,16,60,{300 + 10 * n},ember\n" for n in range(6))
    our_log.hand_over("slow.csv", (HEAD + slow).encode())
    assert "Your evenings" in read(panel.face.value)
    assert "Our fire is slower than 9 of 10 fires that the handbook expects." in panel.sentence()
    near = "".join(f"L01,16,60,{60 + 5 * n},ember\n" for n in range(6))
    our_log.hand_over("near.csv", (HEAD + near).encode())
    assert "Our fire is much like those that the handbook expects." in panel.sentence()
