"""The court of advice: a hundred stand for all, and the panel tells nothing before a vote."""

import json
import re
from dataclasses import replace

import numpy as np
import pytest
from reading import alt, read, shown

from fireheat import InputError, Try
from fireheat.answers.court import hearing, hundred
from fireheat.coach.learner import Learner
from fireheat.coach.population import populations
from fireheat.coach.sayings import sayings
from fireheat.coach.verdicts import OUTCOMES, for_learner, verdict
from fireheat.figures.court import reach_of, reaches, stacked
from fireheat.my_kit import MyKit
from fireheat.panels import Court
from fireheat.panels.mine import my_kit
from fireheat.person.measuring import well_measured
from fireheat.quantities import US
from fireheat.words import factor_words, shares_words

NAMELESS = re.compile(r'src="data:[^"]*"|IPY_MODEL_\w+')
SEEDS = np.random.default_rng(16)


@pytest.fixture
def court():
    my_kit.clear()
    yield Court("press_harder")
    my_kit.clear()


def everything(widget):
    """A widget and all inside it."""
    yield widget
    for child in getattr(widget, "children", ()):
        yield from everything(child)


def sent(court):
    """All words and numbers that a browser has of it, but the pixels of pictures."""
    states = []
    for widget in everything(court):
        state = {key: str(value) for key, value in widget.get_state().items() if key[0] != "_"}
        states.append({key: NAMELESS.sub("", value) for key, value in state.items()})
    return json.dumps(states, ensure_ascii=False)


# ---- a hundred who stand for all ----------------------------------------------------------------


@pytest.mark.parametrize("count", [20, 101, 1999])
def test_a_hundred_stand_for_all_as_many_of_each_kind_as_its_share_and_its_spread(count):
    kinds = SEEDS.choice(OUTCOMES, count, p=[0.5, 0.1, 0.4])
    effect = SEEDS.lognormal(0.0, 0.5, count)
    found = replace(verdict("bark_under", "mixed_autumn"), effect=effect, kinds=kinds)
    chosen, their = hundred(found)
    assert len(chosen) == len(their) == 100
    shares = shares_words({kind: np.sum(kinds == kind) for kind in OUTCOMES})
    assert shares == {kind: f"{np.sum(their == kind)} %" for kind in OUTCOMES}
    for kind in OUTCOMES:
        own, all_of_them = chosen[their == kind], effect[kinds == kind]
        assert set(own) <= set(all_of_them)
        if count > 1000 and len(own) > 20:
            for share in (0.2, 0.5, 0.8):
                near = np.mean(all_of_them <= np.quantile(own, share))
                assert near == pytest.approx(share, abs=0.04)


@pytest.mark.parametrize("saying", ["whole_weight", "tighten_cord", "bark_under"])
def test_where_a_learner_stands_is_what_it_did_to_them(saying):
    effect, kinds = hundred(verdict(saying, "mixed_autumn"))
    for kind, ratio in zip(kinds, effect, strict=True):
        sooner, later = ratio < 1 / 1.05, ratio > 1.05
        assert kind == ("helps" if sooner else "harms" if later else "no matter")


def test_one_learner_is_told_what_the_coach_has_drawn_for_them_and_a_catcher_tells_nothing():
    learner = Learner(state=Try().changed(force=45.0))
    assert hearing("press_harder", "ten_to_twelve", learner=learner).own == for_learner(
        "press_harder", learner
    )
    assert hearing("foil_under", "ten_to_twelve", learner=learner).own is None


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (("nobody", "ten_to_twelve"), "saying is 'nobody'; allowed: "),
        (("wider_notch", "ten_to_twelve"), "our model knows no notch"),
        (("press_harder", "nobody"), "population is 'nobody'; allowed: "),
    ],
)
def test_what_cannot_be_heard_is_refused_by_name(given, words):
    with pytest.raises(InputError, match=words):
        hearing(*given)


def test_however_alike_all_are_a_hundred_find_room_and_none_covers_another():
    for effect in (1.3, 0.99, np.inf, 0.0, np.nan, 50.0):
        places = stacked(np.full(100, effect), reach_of(np.array([effect])))
        apart = np.abs(places[:, None] - places[None]).max(axis=2)
        assert np.sort(apart, axis=1)[:, 1].min() > 12
        assert places[:, 1].min() > 46
        assert places[:, 1].max() < 252


def test_a_scale_reaches_no_farther_than_it_must():
    for reach in reaches():
        assert reach_of(np.full(9, 0.999 * reach)) == reach
        assert reach_of(np.full(9, 1.001 / reach)) == reach


# ---- the panel ----------------------------------------------------------------------------------


def test_before_a_vote_a_browser_has_the_saying_and_nothing_else_of_it(court):
    plain = sent(court)
    court.bench.count_votes()  # nobody has voted
    assert sent(court) == plain
    bare = set()
    for saying, row in sayings().items():
        if row.change is not None:
            court.set(saying=saying)
            words = sent(court)
            for own in (row.words, row.aimed, saying):
                words = words.replace(own, "")
            bare.add(words)
    assert len(bare) == 1
    assert alt(court.bench).startswith("A hundred learners wait.")
    court.bench.show_all()
    assert [row["counts"] for row in court.bench.docket.rows].count([]) >= 15
    assert {row["says"] for row in court.bench.docket.rows} == {"no vote yet"}


def test_hands_are_a_vote_and_stand_beside_what_came_of_it(court):
    boxes = court.bench.hands.boxes
    assert court.bench.count.disabled
    boxes["harms"].value, boxes["depends"].value = 3, 9
    assert not court.bench.count.disabled
    court.bench.count.click()
    assert "You said: depends · hands: 3 harms, 9 depends" in read(court.bench.found.value)
    court.bench.again.click()
    assert shown(court.bench) == ""
    assert court.bench.hands.most() is None


def test_a_vote_opens_its_saying_in_all_groups_and_no_other_saying(court):
    for group in populations():
        court.set(population=group)
        court.commit("helps")
        counts = list(hearing("press_harder", group).counts.values())
        court.bench.all.click()
        rows = {row["key"]: row for row in court.bench.docket.rows}
        assert rows["press_harder"]["counts"] == counts
        assert rows["press_harder"]["says"] == verdict("press_harder", group).told
        assert sum(bool(row["counts"]) for row in rows.values()) == 1
        assert len(rows) >= 15
        court.bench.all.click()
        assert court.bench.docket.rows == []


def test_next_calls_who_was_not_heard_yet_and_a_row_calls_its_own(court):
    keys = [key for _, key in court.bench.control["saying"].widget.options]
    for key in keys[:2]:
        court.set(saying=key)
        court.commit("no matter")
    court.set(saying=keys[0])
    court.bench.following.click()
    assert court.bench.saying == keys[2]
    court.set(saying=keys[-1])
    court.bench.following.click()
    assert court.bench.saying == keys[2]
    court.bench.all.click()
    court.bench.docket.chosen = "steady"
    assert court.bench.saying == "steady"
    assert not court.bench.listed
    assert court.bench.docket.chosen == ""


def test_my_kit_is_a_learner_beside_the_hundred(court):
    court.commit("helps")
    court.bench.mine.click()
    assert "Nothing is in my kit yet" in read(court.bench.mine_said.value)
    force = well_measured("force", 40.0)
    my_kit.put(force=force)
    court.bench.mine.click()
    kit = MyKit(force=force)
    own = for_learner("press_harder", Learner(state=kit.state(Try()), measured=kit.measured))
    assert f"My kit: {factor_words(own)}." in read(court.bench.found.value)
    assert "◆ measured: downward force 40 ± " in read(court.bench.found.value)
    assert "my kit, band" in court.bench.sketched.drawn()
    court.set(saying="foil_under")
    court.commit("helps")
    assert "My kit: it plays no part here." in read(court.bench.found.value)
    court.set(saying="press_harder")
    court.bench.mine.click()
    assert "my kit, band" not in court.bench.sketched.drawn()


def test_a_rule_is_told_in_the_units_of_the_reader():
    metric, us = Court("press_harder", "mixed_autumn"), Court("roughen_tip", units=US)
    for one in (metric, us):
        one.commit("depends")
    rule = verdict("roughen_tip", "ten_to_twelve").rule
    assert rule.told(US) in read(us.bench.found.value)
    assert rule.told(US) != rule.told()
