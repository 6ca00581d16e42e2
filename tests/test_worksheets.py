"""Worksheets, cards and the court on paper: all that is asked, no answer, answers as worked out."""

import html
import re

import numpy as np
import pytest

from fireheat.answers.race import LEFT, MINE, SAME, contest, pairings, starters
from fireheat.coach.population import populations
from fireheat.coach.sayings import sayings
from fireheat.coach.verdicts import HARMS, OUTCOMES, ruling
from fireheat.data import table
from fireheat.figures.three_parts import three_part_bar
from fireheat.lessons import card, prediction, self_check, worked_out
from fireheat.pages.cards import what_if_cards
from fireheat.pages.lesson_tasks import asked_first, card_answer, what_if
from fireheat.pages.sheet import sheet_page
from fireheat.pages.sheet_list import sheets
from fireheat.pages.worksheet import lessons_with_worksheets
from fireheat.quantities import METRIC, US, InputError, quantity
from fireheat.shipped import shipped_code
from fireheat.texts import both_told
from fireheat.trials.columns import COLUMNS
from fireheat.words import inch_words

LESSONS = lessons_with_worksheets()
JUDGED = [key for key, row in sayings().items() if row.change is not None]
SMALL = {"the", "of", "a", "an", "it", "as", "is", "so", "in", "to", "and", "than", "all", "time"}


# Words of right answers that other questions and headings have for reasons of their own.
EVERYDAY = {"one", "three", "little", "1", "4"}


def both(spell):
    return both_told(spell).replace("\xa0", " ")


def words_of(page):
    """Spell HTML as it reads."""
    words = re.sub(r"<style>.*?</style>|<title>.*?</title>", "", page, flags=re.DOTALL)
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", words)).replace("\xa0", " ").split())


def worksheet(lesson):
    return sheets()[f"worksheet-{lesson[:2]}"]


def asked(lesson):
    return [key for kind, key in asked_first(lesson) if kind == "predict"]


def sentences(words):
    return [one for one in re.split(r"(?<=[.?!])\s+", words) if len(one.split()) > 3]


def content(words):
    return set(re.findall(r"[a-z0-9]+", words.lower())) - SMALL


# ---- worksheets ----------------------------------------------------------------------------------


def test_each_notebook_has_a_worksheet_and_each_prediction_of_it_stands_there():
    pages = [name.removesuffix(".ipynb") for name in shipped_code() if name[0].isdigit()]
    assert list(LESSONS) == pages
    for lesson in LESSONS:
        code = "\n".join(shipped_code()[f"{lesson}.ipynb"])
        assert len(asked(lesson)) == code.count("Predict(") > 0
        found = words_of(worksheet(lesson).body)
        for kind, key in asked_first(lesson):
            read = prediction if kind == "predict" else self_check
            assert both(lambda system, read=read, key=key: read(key, system).text) in found
            for system in (METRIC, US):
                numbers = re.findall(r"\d[\d/]* (?:mm|cm|in|N|lb)\b", read(key, system).text)
                assert all(number in found for number in numbers)


@pytest.mark.parametrize("lesson", LESSONS)
def test_all_choices_are_boxes_alike_and_nothing_tells_which_is_right(lesson):
    sheet = worksheet(lesson)
    for kind, key in asked_first(lesson):
        row = prediction(key) if kind == "predict" else self_check(key)
        options = list(row.options) if kind == "predict" else [one.text for one in row.options]
        boxes = "".join(
            f'<li><span class="box"></span>{html.escape(option, quote=False)}</li>'
            for option in options
        )
        assert boxes in sheet.body
        if not options:
            assert f'<span class="mine"></span> {row.unit}' in sheet.body
    rest = words_of(re.sub(r"<ul.*?</ul>", "", f"{sheet.title} {sheet.body}", flags=re.DOTALL))
    whole = words_of(sheet_page(sheet))
    for key in asked(lesson):
        answer, row = worked_out(key), prediction(key)
        assert [one for one in sentences(answer.explain) if one in whole] == []
        assert answer.right in row.options or answer.found not in whole
        others = " ".join(option for option in row.options if option != answer.right)
        telling = content(answer.right) - content(row.text) - content(others) - EVERYDAY
        question = both(lambda system, key=key: prediction(key, system).text)
        assert telling & content(rest.replace(question, "")) == set()


@pytest.mark.parametrize("lesson", LESSONS)
def test_a_worksheet_has_axes_of_its_page_three_tries_a_line_to_explain_and_a_what_if(lesson):
    page, row = worksheet(lesson).body, table("worksheets")[lesson]
    (told,) = re.findall(r'aria-label="(Empty axes[^"]+)"', page)
    for way in ("across", "up"):
        axis = row[way]
        name = axis.get("name") or quantity(axis["quantity"]).name
        assert name.lower() in html.unescape(told).lower()
    heads, tries = re.search(r"<thead>(.*?)</thead><tbody>(.*?)</tbody>", page).groups()
    assert tries == ("<tr>" + "<td></td>" * 4 + "</tr>") * 3
    if "log" in row:
        assert set(re.findall("<th>([^<]+)</th>", heads)) <= {column.title for column in COLUMNS}
    assert "What if?" in page


def test_marks_of_empty_axes_stand_where_their_numbers_are():
    page = worksheet("00-start-here").body
    svg = re.search(r"<svg.*?</svg>", page, re.DOTALL).group()
    written = re.findall(r'<text x="([\d.]+)" y="([\d.]+)" text-anchor="(\w+)"[^>]*>([^<]+)<', svg)
    row = table("worksheets")["00-start-here"]["up"]
    bottom, top, capital = 46.0, 9.5, 0.73 * 3.2
    marked = {anchor: [] for anchor in ("end", "start")}
    for _, y, anchor, words in written:
        if anchor in marked and re.fullmatch(r"[\d/ ]+", words):
            along = (bottom - float(y) + capital / 2) / (bottom - top)
            marked[anchor].append((row["low"] + along * (row["high"] - row["low"]), words))
    assert len(marked["end"]) >= 3
    assert len(marked["start"]) >= 3
    for value, words in marked["end"]:
        assert 1000 * value == pytest.approx(float(words), abs=0.02)
    for value, words in marked["start"]:
        assert inch_words(value / 0.0254, 32) == words
    times = {words: float(x) for x, _, anchor, words in written if anchor == "middle"}
    assert times["60 s"] - times["0"] == pytest.approx(times["3 min"] - times["2 min"], abs=2e-3)


def test_the_answers_have_what_was_worked_out_and_why():
    sheet = sheets()["worksheet-answers"]
    page = "".join((sheet.body, *sheet.more))
    assert re.findall(r"(?:<p>|</b> )[a-z][^<]*", page) == []  # each begins as a sentence does
    found, bold = words_of(page), re.findall(r"<b>([^<]*)\.</b>", page)
    for lesson in LESSONS:
        for key in asked(lesson):
            answer = worked_out(key)
            assert both(lambda system, key=key: worked_out(key, system).explain) in found
            assert answer.known in found
            assert html.escape(answer.right or answer.found, quote=False) in bold


@pytest.mark.parametrize(("lesson", "number"), [("00-start-here", 1), ("02-time-to-ember", 9)])
def test_a_what_if_that_is_not_there_is_refused(lesson, number):
    with pytest.raises(InputError, match="what-if"):
        what_if(lesson, number)


def test_words_for_both_units_have_the_other_one_in_brackets():
    told = both_told(
        lambda system: {METRIC: "From 22 mm to 9 mm.", US: "From 7/8 in to 3/8 in."}[system]
    )
    assert told.replace("\xa0", " ") == "From 22 mm (7/8 in) to 9 mm (3/8 in)."
    assert both_told(lambda system: "Never mind 12 s.") == "Never mind 12 s."


# ---- cards ---------------------------------------------------------------------------------------


def test_every_card_and_every_pair_is_on_a_tag_and_no_answer_is():
    sheet, told = (
        sheets()["cards"],
        words_of("".join((sheets()["cards"].body, *sheets()["cards"].more))),
    )
    assert [page.count('class="tag"') for page in (sheet.body, *sheet.more)] == [8, 8]
    assert {key for _, key in what_if_cards()} == set(table("lessons")["card"])
    for lesson, key in what_if_cards():
        assert both(lambda system, key=key: card(key, system).task) in told
        assert card(key).hint not in told
        assert not any(one in told for one in sentences(card_answer(lesson, key)))
    for pairing in pairings().values():
        assert pairing.ask in told
        assert pairing.less in told
        assert pairing.more in told
    assert sheet.more[0].count('class="box"') == 3 * len(pairings())


def test_answers_to_pairs_are_who_wins_the_race():
    rows = re.findall(r"<tr><td>(\d)</td>(.*?)</tr>", sheets()["cards-answers"].body)
    keys = list(pairings())
    assert len(rows) == len(keys) - 1
    for number, row in rows:
        key = keys[int(number) - 1]
        assert key != MINE
        ran = contest(*starters(key))
        names = [one.name for one in ran.starters]
        first = {SAME: "the same", LEFT: names[0]}.get(ran.first, names[1])
        assert re.search("<b>(.*?)</b>", row).group(1) == first


# ---- the court -----------------------------------------------------------------------------------


def parts_of(bar):
    found = re.findall(r'data-part="([^"]+)" x="([\d.]+)"[^>]*? width="([\d.]+)"', bar)
    return {kind: (float(x), float(wide)) for kind, x, wide in found}


def test_the_poster_s_bars_are_the_verdicts_shares():
    rows = re.findall(r'<tr class="first">(.*?)</tr>', sheets()["court-poster"].body, re.DOTALL)
    assert len(rows) == len(JUDGED)
    for key, row in zip(JUDGED, rows, strict=True):
        found = ruling(key)
        assert html.escape(sayings()[key].words, quote=False) in row
        assert row.endswith(f"<td>{found.says}</td>")
        bars = re.findall(r"<svg.*?</svg>", row, re.DOTALL)
        for bar, group in zip(bars, populations(), strict=True):
            shares, parts = found.verdicts[group].shares, parts_of(bar)
            whole = sum(wide for _, wide in parts.values())
            for kind in OUTCOMES:
                drawn = parts.get(kind, (0.0, 0.0))[1] / whole
                assert drawn == pytest.approx(shares[kind].likely, abs=1e-4)
            assert list(parts) == [kind for kind in OUTCOMES if kind in parts]
            told = [int(n) for n in re.findall(r"(\d+) (?:helped|no matter|harmed)", bar)]
            assert sum(told) == 100
            likely = [100 * shares[kind].likely for kind in OUTCOMES]
            assert np.abs(np.array(told) - likely).max() < 1


def test_the_poster_says_whom_a_saying_harms_as_its_rule_does():
    rows = re.findall(
        r'<tr class="first"><td>(\d+)</td>(?:(?!</tr>).)*</tr>'
        r'<tr><td></td><td colspan="5">([^<]+)</td>',
        sheets()["court-poster"].body,
    )
    told = {JUDGED[int(number) - 1]: html.unescape(words) for number, words in rows}
    for key in JUDGED:
        ruled = [one for one in ruling(key).verdicts.values() if one.rule.parts]
        assert (key in told) == bool(ruled)
        if ruled:
            most = max(ruled, key=lambda one: one.shares[HARMS].likely)
            letter = "ABC"[list(populations()).index(most.population)]
            words = re.sub(r" \([^)]*\)", "", told[key].replace("\xa0", " "))
            assert words == f"In {letter} it harms {most.rule.told()}."


def test_harm_is_told_apart_without_colour():
    whole = {kind: 1 / 3 for kind in OUTCOMES}
    bar = three_part_bar(whole, dict.fromkeys(OUTCOMES, 33))
    (x, wide), lines = parts_of(bar)[HARMS], re.search(r'<path d="([^"]+)"', bar).group(1)
    ends = np.array(re.findall(r"[ML]([\d.]+) ([\d.]+)", lines), float)
    assert len(ends) >= 10
    assert np.all((ends[:, 0] >= x - 0.01) & (ends[:, 0] <= x + wide + 0.01))
    fills = re.findall(r'data-part="[^"]+"[^>]* fill="([^"]+)"', bar)
    assert len({fills[0], fills[1]}) == 2


def test_the_vote_tells_nothing_and_the_poster_says_that_it_comes_after():
    vote, poster = (sheets()[key] for key in ("court-vote", "court-poster"))
    assert poster.title.startswith("After the vote")
    rows = re.findall(r"<tr><td>\d+</td>(.*?)</tr>", vote.body)
    empty = '<td><span class="box"></span></td>' * 4
    assert [row.partition("</td>")[2] for row in rows] == [empty] * len(JUDGED)
    assert "<svg" not in vote.body
    assert "invented" in words_of(sheet_page(poster))
    assert "common practice, no source" in words_of(sheet_page(poster))
