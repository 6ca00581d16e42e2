"""The teacher's guide: minutes add up, links open, safety stands first, the key stands apart."""

import re
from urllib.parse import urldefrag

import notebook_rules as rules
import pytest
from notebook_marks import NOTES
from refresh_notebooks import normalised
from test_notebooks import TITLE, sample, stream
from test_paths import GRADE, GUIDE, MOST_WORDS, grade, headings, opened, page

from fireheat import InputError, Try
from fireheat.answers.questions import change_ratio, compared, measured, try_of
from fireheat.coach.learner import Learner
from fireheat.coach.moves import advice
from fireheat.data import table
from fireheat.guide import answer_key
from fireheat.lessons import worked_out
from fireheat.paths import door, lesson_plan
from fireheat.person.arm import arms
from fireheat.spread import spread
from fireheat.words import band_words, factor_words

PLANS = list(table("guide")["plan"])
QUESTIONS = list(table("guide")["question"])
LINK = re.compile(r"\]\(([^)\s]+)\)")
HEAD = re.compile(r"^#{2,3} (.*(?:minute|evening).*)$", re.MULTILINE)
STRETCH = re.compile(r"(\d+)[- ]minute")
# What stands in the cell of each panel that a plan shows, so that no other bears its word.
SHOWN = {
    "KitAtWork": "KitAtWork(",
    "Race": "Race(",
    "hard": 'Predict("press_hard"',
    "strokes": 'Predict("same_speed"',
    "heavy_spindle": 'WhatIf("heavy_spindle")',
    "watts": 'Predict("watts"',
    "Ramp": "Ramp()",
    "TapCounter": "TapCounter(",
    "foil": 'Predict("foil_or_leather"',
    "MyKitTable": "MyKitTable(",
    "tries": "PlanTries()",
    "OurTries": "OurTries(",
    "failed": 'Predict("left_out"',
    "first": 'Predict("first_change"',
    "WhatWasSeen": "WhatWasSeen(",
    "Court": "Court(",
    "Before-anything-burns": "Before-anything-burns",
}
# Each belief that the guide has to name, and the question whose wrong answer it stands behind.
BELIEFS = {
    "Longer strokes make more heat": "strokes",
    "Harder is always better": "harder",
    "Fat is strong, so it is better": "fat",
    "Foil keeps food warm": "foil",
    "Smoke means nearly done": "smoke",
    "A hot day helps": "heat",
}


@pytest.fixture(scope="module")
def guide():
    return page(GUIDE)


@pytest.fixture(scope="module")
def key():
    return answer_key()


def cell_of(guide, call):
    return next(at for at, cell in enumerate(guide.cells) if call in cell.source.splitlines())


# ---- plans ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", PLANS)
def test_the_minutes_of_each_table_are_those_that_its_heading_promises(guide, name):
    at = cell_of(guide, f'lesson_plan("{name}")')
    promised = int(STRETCH.search(HEAD.findall(guide.cells[at - 1].source)[-1]).group(1))
    rows = lesson_plan(name).rows()
    steps = [tuple(map(int, when.split("–"))) for when, _, _ in rows]
    assert steps[0][0] == 0
    assert [start for start, _ in steps[1:]] == [end for _, end in steps[:-1]]
    assert all(start < end for start, end in steps)
    assert steps[-1][1] == lesson_plan(name).minutes == promised
    shown = guide.cells[at].outputs[0]["data"]["text/markdown"]
    assert shown == lesson_plan(name)._repr_markdown_()


@pytest.mark.parametrize("name", PLANS)
def test_each_stop_is_told_whole_and_opens_what_it_says(name):
    for stop in lesson_plan(name).stops:
        assert stop.words
        assert 3 <= len(stop.do.split()) <= MOST_WORDS
        word = urldefrag(stop.link).fragment.removeprefix("present-")
        if word in SHOWN:
            assert SHOWN[word] in opened(stop.link)
        elif stop.link:
            assert opened(stop.link)
    assert grade(" ".join(stop.do for stop in lesson_plan(name).stops)) <= GRADE


def test_a_plan_has_only_links_of_its_own_in_the_column_of_the_wall():
    for name in PLANS:
        for stop in lesson_plan(name).stops:
            assert LINK.findall(stop.do) == []  # it would become a stop of the path
    assert lesson_plan("demonstration").stops == door("show").stops
    assert not any(stop.link for stop in lesson_plan("no_electricity").stops)
    with pytest.raises(InputError, match="plan is 'nap'; allowed: demonstration, lesson"):
        lesson_plan("nap")


def test_what_a_leader_is_told_to_choose_is_in_the_list():
    stops = lesson_plan("workshop").stops
    (race,) = (stop for stop in stops if "Race" in stop.link and "choose" in stop.do)
    chosen = re.search("choose “([^”]+)”", race.do).group(1)
    assert chosen in {row["words"] for row in table("races").values()}


def test_safety_comes_before_every_stroke_outdoors():
    for name in PLANS:
        stops = lesson_plan(name).stops
        tries = [at for at, stop in enumerate(stops) if stop.link.endswith("#Run")]
        for at in tries:
            assert stops[at - 1].do.startswith("**Before the first stroke** the adult in charge")
            assert "a leader who knows this" in stops[at].do
            assert stops[at + 1].words == "Wet and cold"
            assert "Pack nothing warm" in stops[at + 1].do
        bowed = [stop for stop in stops if "strokes" in stop.words or "bow?" in stop.words]
        assert all("in the air, the tip off the board" in stop.do.lower() for stop in bowed)
    assert len(tries) <= 1


def test_every_plan_has_aims_things_to_bring_and_its_safety_before_its_table(guide):
    for name in ("demonstration", "lesson", "workshop", "first_evening", "no_electricity"):
        above = guide.cells[cell_of(guide, f'lesson_plan("{name}")') - 1].source
        for part in ("**Aims.**", "**Bring.**", "**Safety.**"):
            assert part in above


# ---- the page ------------------------------------------------------------------------------------


def test_the_first_paragraph_leads_from_a_closed_laptop_to_the_race(guide):
    first = guide.cells[0].source.split("\n\n")[1]
    assert "fireheat present" in first
    assert "two minutes" in first
    named = re.search(r"\*(Race two kits[^*]+)\*", first).group(1)
    assert f"[{named}](" in page("index.ipynb").cells[0].source.split("\n\n")[1]
    (link,) = LINK.findall(first)
    assert "Race(" in opened(link)


def test_every_link_of_the_page_opens(guide):
    links = LINK.findall(rules.markdown(guide))
    assert len(links) > 15
    for link in links:
        if link.startswith("#"):
            assert link.removeprefix("#") in headings(GUIDE)
        else:
            assert opened(link)


def test_the_key_stands_last_folded_and_never_on_a_wall(guide, key):
    *before, words, answers = guide.cells
    for cell in (words, answers):
        assert cell.metadata["slideshow"]["slide_type"] == NOTES
    assert words.source.startswith("## Answer key")
    shown = answers.outputs[0]["data"]["text/markdown"]
    assert shown == key._repr_markdown_()
    assert rules.FOLDED.fullmatch(shown)
    told = " ".join(c.source + str(c.get("outputs", "")) for c in before)
    for entry in key.entries:
        assert entry.expect not in told
        assert all(wrong.belief not in told for wrong in entry.wrong)


def test_what_is_marked_as_notes_stays_so_even_if_it_comes_of_code():
    notebook = sample([TITLE, ("code", "print(4)", [stream("4")])])
    notebook.cells[1].metadata = {"slideshow": {"slide_type": NOTES}}
    assert normalised(notebook).cells[1].metadata["slideshow"]["slide_type"] == NOTES


def test_a_leader_who_knows_this_has_two_hot_kits_at_most(guide):
    cell = next(c.source for c in guide.cells if c.source.startswith("## Kits, people"))
    row = r"^\| (\d+) \| (\d+), in (pairs|threes) \| (\d+) \|.*and (\d) lead"
    rows = re.findall(row, cell, re.MULTILINE)
    assert [int(learners) for learners, *_ in rows] == [6, 12, 24]
    for learners, kits, group, hot, leaders in rows:
        assert int(kits) * {"pairs": 2, "threes": 3}[group] == int(learners)
        assert int(hot) == 2 * int(leaders) <= int(kits)


def test_rough_costs_add_up(guide):
    cell = next(c.source for c in guide.cells if c.source.startswith("## Kits, people"))
    costs = {
        words.strip(): (int(low), int(high))
        for words, low, high in re.findall(r"\| ([^|]+) \| (\d+) to (\d+) \|", cell)
    }
    (person,) = (costs.pop(words) for words in list(costs) if "each person" in words)
    kit = [cost for words, cost in costs.items() if "for all" not in words]
    low, high = (sum(ends) for ends in zip(*kit, strict=True))
    assert f"{low} to {high} a kit, and {person[0]} to {person[1]} a head" in cell
    assert "assumptions" in cell


def test_a_leader_can_read_it_in_plain_words(guide):
    quoted = r"\*\*Sources.*|^\|.*\||“[^”]*”|[*`#]|\]\([^)]*\)"  # not our words, or none
    assert grade(re.sub(quoted, "", rules.markdown(guide), flags=re.M)) <= GRADE


# ---- the key -------------------------------------------------------------------------------------


def test_every_question_is_put_in_a_plan_and_every_number_is_one_of_the_key(key):
    asked = {stop.ask for name in PLANS for stop in lesson_plan(name).stops} - {""}
    assert asked == set(QUESTIONS)
    assert [entry.key for entry in key.entries] == QUESTIONS
    rows = lesson_plan("demonstration").rows()
    numbers = [int(n) for _, _, do in rows for n in re.findall(r"\*Question (\d+)\.\*", do)]
    assert numbers == [1 + QUESTIONS.index(stop.ask) for stop in door("show").stops if stop.ask]


def test_the_beliefs_behind_the_common_wrong_answers_are_named(key):
    entries = {entry.key: entry for entry in key.entries}
    for belief, question in BELIEFS.items():
        assert any(wrong.belief.startswith(belief) for wrong in entries[question].wrong)
    for entry in key.entries:
        assert len(entry.wrong) >= 2
        for wrong in entry.wrong:
            assert wrong.reply[-1] in ".?!"


def test_numbers_of_the_key_are_the_library_s(key):
    told = {entry.key: entry.expect for entry in key.entries}
    race = compared(try_of({"diameter": 0.022}), try_of({"diameter": 0.011})).ratio
    assert factor_words(race) in told["fat"]
    found = spread(Try())
    for band in (found.smoke_all, found.all):
        assert band_words(band) in told["smoke"]
    assert change_ratio("bound", {"diameter": 0.5}) == pytest.approx(0.25)
    assert "The floor becomes a quarter of the time" in told["quarter"]
    assert f"{measured('power', Try()):.2g} W" in told["watts"]
    assert worked_out("foil_or_leather").found in told["foil"]
    days = (try_of({"temperature_ambient": kelvin}) for kelvin in (283.15, 303.15))
    assert f"20 °C (36 °F) take {factor_words(compared(*days).ratio)}" in told["heat"]


def test_the_key_is_read_in_plain_words_and_no_place_is_left_empty(key):
    said = [f"{entry.text} {entry.expect}" for entry in key.entries]
    said += [f"{wrong.belief} {wrong.reply}" for entry in key.entries for wrong in entry.wrong]
    assert not any("{" in words for words in said)
    assert grade(" ".join(said)) <= GRADE


def test_the_first_change_for_a_thick_stick_is_what_the_coach_says_for_every_arm(key):
    (told,) = (entry.expect for entry in key.entries if entry.key == "change")
    assert told.startswith("A thinner stick.")
    thick = try_of({"diameter": 0.022})
    first = [advice(Learner(state=thick, arm=arm)).moves[0].key for arm in arms().values()]
    assert set(first) <= {"thinner", "thinnest"}


def test_no_number_of_an_answer_is_typed_in():
    for name, row in table("guide")["question"].items():
        typed = re.findall(r"\d+", re.sub(r"page \d\d|L\d\d|80 s", "", row["expect"]))
        assert typed == [], name
        assert set(re.findall(r"\{(\w+)\}", row["expect"])) == set(row.get("facts", {}))
