"""What was seen of a try that failed: the planted cause is found, and none too surely."""

from itertools import product
from math import prod

import numpy as np
import pytest
from oracles.seen import WRONG, failed
from reading import pixels, png, read, rgb, shown
from test_paths import GRADE, grade

from fireheat import InputError, Try
from fireheat.answers.seen import looked
from fireheat.coach.learner import Learner
from fireheat.coach.planted import planted
from fireheat.coach.seen import MODEL, PRACTICE, causes, likely_causes, observations
from fireheat.data import table
from fireheat.figures import style
from fireheat.panels import WhatWasSeen

TABLE = table("seen")
LEARNERS = 24  # of each cause here; tests/benchmarks/seen.py has 500


@pytest.fixture(scope="module")
def tries():
    """What was seen of learners drawn another way, by the cause that was planted in them."""
    return failed(LEARNERS)


# ---- is it right? -------------------------------------------------------------------------------


def test_the_planted_cause_is_among_the_first_two(tries):
    hits = {
        cause: np.mean([cause in keys(likely_causes(signs).first_two) for signs in seen])
        for cause, seen in tries.items()
    }
    assert {*WRONG} == {key for key, one in causes().items() if one.known_by == MODEL}
    assert min(map(len, tries.values())) >= 20
    assert np.mean([*hits.values()]) >= 0.8, hits
    # A thick spindle and heavy wood show nothing of their own, but slow smoke like much else.
    assert min(hits[cause] for cause in {*hits} - {"thick_spindle", "heavy_wood"}) >= 0.7, hits


def test_what_is_said_of_the_first_two_comes_true(tries):
    """A leader who misses three signs of ten is told so by the shares, and not misled."""
    rng, told, true = np.random.default_rng(0), [], []
    for cause, seen in tries.items():
        for signs in seen:
            left = [sign for sign in sorted(signs) if rng.random() > 0.3] or sorted(signs)[:1]
            two = likely_causes(left).first_two
            told.append(sum(one.weight for one in two))
            true.append(cause in keys(two))
    told, true = np.array(told), np.array(true)
    assert np.mean(true) == pytest.approx(np.mean(told), abs=0.08)
    assert np.mean(true[told > 0.9]) > 0.93
    assert np.mean(true[told < 0.5]) < 0.7


def keys(found):
    return [one.cause.key for one in found]


# ---- as the formula says ------------------------------------------------------------------------


@pytest.mark.parametrize("ticked", [("smoke_only", "steam"), ("shiny", "easy"), ("walks",)])
def test_causes_are_weighed_by_bayes_rule(ticked):
    """The same by a plain loop over every invented learner and every sign."""
    made, leader = planted(), TABLE["leader"]
    weights = {}
    for key, row in TABLE["causes"].items():
        rows = [{}]
        if key in made.causes:
            own = made.seen[made.cause == made.causes.index(key)]
            rows = [dict(zip(made.signs, seen, strict=True)) for seen in own]
        total = 0.0
        for there in rows:
            chances = []
            for sign in TABLE["observations"]:
                missed = leader["missed_plain" if sign in leader["plain"] else "missed"]
                word = next((w for w in ("often", "sometimes") if sign in row.get(w, ())), "seldom")
                shows = float(there.get(sign, leader[word]))
                ticks = shows * (1 - missed) + (1 - shows) * leader["wrong"]
                chances.append(ticks if sign in ticked else 1 - ticks)
            total += prod(chances)
        weights[key] = total / len(rows)
    whole = sum(weights.values())
    for one in likely_causes(ticked).causes:
        assert one.weight == pytest.approx(weights[one.cause.key] / whole, rel=1e-9)


def test_order_and_repetition_of_what_was_seen_do_not_matter():
    one, other = (likely_causes(seen) for seen in (["slow", "easy"], ("easy", "slow", "easy")))
    assert one == other


def test_causes_come_in_order_and_make_up_the_whole():
    for seen in (["slow"], ["dies"], ["walks", "steam"]):
        weights = [one.weight for one in likely_causes(seen).causes]
        assert weights == sorted(weights, reverse=True)
        assert sum(weights) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("seen", "first"),
    [
        (["stands"], "slipping_cord"),
        (["stalls"], "hard_press"),
        (["steam"], "wet_wood"),
        (["easy"], "light_press"),
        (["easy", "shiny"], "polished_tip"),
        (["top_hot", "slow"], "dry_block"),
        (["slow", "dust_out"], "spent_arm"),
        (["slow", "smoke_only"], "slow_bow"),
        (["dies"], "cold_catcher"),
        (["dust_out"], "stopped"),
        (["no_smoke", "pale_dust"], "thick_spindle"),
        (["walks"], "leaning"),
    ],
)
def test_a_telling_sign_names_its_cause(seen, first):
    assert likely_causes(seen).causes[0].cause.key == first


def test_invented_learners_show_what_their_cause_must_show():
    made = planted()
    share = {
        (cause, sign): made.seen[made.cause == place, made.signs.index(sign)].mean()
        for (place, cause), sign in product(enumerate(made.causes), made.signs)
    }
    assert share["wet_wood", "steam"] > 0.9 > 0.1 > share["heavy_wood", "steam"]
    assert share["slipping_cord", "stands"] == 1.0
    assert share["stopped", "smoke_only"] == 0.0  # nobody of them bowed for 90 s
    assert share["cold_catcher", "dies"] == share["damp_ground", "dies"] == 1.0
    assert share["notch", "little_dust"] > 0.9 > share["heavy_wood", "little_dust"]
    assert share["light_press", "easy"] > 0.7 > 0.1 > share["slow_bow", "easy"]


# ---- what the model knows, and what it does not -------------------------------------------------


def test_where_only_the_craft_knows_no_share_is_told():
    for one in likely_causes(["walks", "shiny"]).causes:
        assert (one.known_by, one.share) == (PRACTICE, None)
    found = {one.cause.key: one for one in likely_causes(["walks", "smoke_only"]).causes}
    assert found["leaning"].share is None
    assert found["heavy_wood"].share == found["heavy_wood"].weight
    assert found["slipping_cord"].share is None  # shows neither


def test_what_cannot_be_of_one_try_is_told_and_no_cause_with_it():
    found = likely_causes(["no_smoke", "dies", "steam"])
    assert (found.clash, found.causes, found.next_step, found.tell_apart) == (
        ("no_smoke", "dies"),
        (),
        "",
        "",
    )
    assert looked(["no_smoke", "dies"]).word == (
        "One try cannot show “no smoke at all” and “ember dies on catcher”. Take one off."
    )


def test_two_things_wrong_at_once_are_not_told_as_one():
    found = looked(["stands", "steam"])
    assert "two things may be wrong" in found.word or {"wet_wood", "slipping_cord"} == {
        *keys(found.found.first_two)
    }
    assert "two things" in looked(["stands", "dies", "walks"]).word
    assert looked(["stands"]).word == ""
    assert "Much else fits" in looked(["smoke_only"]).word


def test_what_was_measured_of_a_learner_speaks_for_a_cause_or_against_it():
    def weight(thick, **measured):
        learner = Learner(state=Try().changed(diameter=thick), measured=measured)
        found = likely_causes(["pale_dust"], learner=learner).causes
        return next(one.weight for one in found if one.cause.key == "thick_spindle")

    assert weight(0.024, diameter=None) > 2 * weight(0.024) == 2 * weight(0.014)
    assert weight(0.014, diameter=None) < weight(0.014) / 5


@pytest.mark.parametrize(
    ("seen", "words"),
    [(["nobody"], "what was seen"), ("steam", "allowed: a list"), (3, "allowed: a list")],
)
def test_what_nobody_can_see_is_refused_by_name(seen, words):
    with pytest.raises(InputError, match=words):
        likely_causes(seen)
    with pytest.raises(InputError, match="learner is 'nobody'"):
        likely_causes(["steam"], learner="nobody")


# ---- the table ----------------------------------------------------------------------------------


def test_every_cause_is_apart_from_what_is_sound():
    for key, row in TABLE["planted"].items():
        for quantity, ends in row.items():
            if quantity in TABLE["sound"] and isinstance(ends[0], float):
                low, high = TABLE["sound"][quantity]
                assert ends[1] <= low or high <= ends[0], (key, quantity)


def test_signs_and_words_of_the_table_hang_together():
    assert 10 <= len(observations()) <= 14
    for row in TABLE["causes"].values():
        assert {*row.get("often", ()), *row.get("sometimes", ())} <= {*observations()}
    for one in observations().values():
        assert {*one.never_with} < {*observations()}
        assert len(one.name) <= 24  # a line in a hall
    form = {"loose_hand", "leaning", "notch"}
    assert form <= {*causes()}


def test_words_can_be_read_by_a_twelve_year_old():
    for one in causes().values():
        assert grade(f"{one.why} {one.next_step} {one.look}") <= GRADE, one.key
        assert one.next_step.endswith(".")
        assert one.look.endswith(", it was this.")


# ---- the panel ----------------------------------------------------------------------------------


def test_a_leader_ticks_and_is_told_one_thing_to_try_and_what_tells_two_apart():
    panel = WhatWasSeen()
    assert panel.sentence() == "Tick what you saw."
    panel.control["smoke_only"].widget.value = True
    panel.control["steam"].widget.value = True
    assert "Most likely: wood too wet" in panel.sentence()
    told, found = shown(panel), likely_causes(["smoke_only", "steam"])
    assert told.count(found.next_step) == 1
    assert all(one.cause.next_step not in told for one in found.causes[1:])
    apart = [f"{n} {one.cause.name}? {one.cause.look}" for n, one in enumerate(found.first_two, 1)]
    assert told.endswith(" ".join(apart))
    assert f"{found.causes[0].cause.why} {apart[0]}" in told


def test_the_caution_stands_beside_what_is_ticked():
    words = " ".join(
        read(part.value)
        for part in WhatWasSeen().stage.children[3].children[:2]
        if hasattr(part, "value")
    )
    for fact in ("A failed try is hot", "do not touch", "Wet the heap", "leader", "local rules"):
        assert fact in words


def test_discs_of_who_has_it_not_are_hollow():
    panel = WhatWasSeen()
    panel.set(dies=True)  # five of ten
    dots = pixels(png(panel))
    row = 54
    paper, ink = (rgb(color) for color in (style.PAPER, style.INK))
    for disc in range(10):
        assert tuple(dots[row, 330 + 34 * disc]) == tuple(ink if disc < 5 else paper)
