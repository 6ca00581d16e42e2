"""A lesson as one file: it asks for nothing, drops nothing, and opens no answer by itself."""

import ast
import html
import re
from functools import cache
from html.parser import HTMLParser
from urllib.parse import unquote

import pytest

from fireheat.data import table
from fireheat.lessons import card, prediction, self_check, worked_out
from fireheat.pages.lesson_page import lesson_names, lesson_page
from fireheat.pages.lesson_still import CONTROLS, LEFT_OUT, NOT_HERE
from fireheat.pages.lesson_text import equations
from fireheat.pages.page_list import page_list
from fireheat.shipped import shipped_cells

NAMES = lesson_names()
LESSONS = NAMES[1:]
MOST = 700_000  # bytes of a file: to be passed on from phone to phone
VOID = {"img", "meta", "br", "input", "hr"}
FOLDED = {"answer", "answers", "option", "hint", "notebook"}
# What only a notebook has: cells to run, and controls of panels that stand still in a file.
ONLY_THERE = re.compile(
    r"\bcell\b|Shift|Go!|[Mm]y kit (?:on|and|under)|(?:Use|Put into|Keep) my kit|ten tries"
    r"|The working|heat bar|the tile|in the panel|Run All|[Pp]ress play|First stroke|\bpanel above"
    r"|arrow key|this computer|Open More|Under More|what damp wood would do"
)
FOR_THERE = re.compile(r"\w+, in the notebook\. .*?(?=Reach|Argue)")
EQUATION = re.compile(r"\$\$([^$]+)\$\$|\$([^$\n]+)\$")
DETAILS = re.compile(r"<details><summary>(.*?)</summary>\n(.*?)</details>", re.DOTALL)


class Reader(HTMLParser):
    """What stands in a page: names, links, pictures, and the words that nobody has to open."""

    def __init__(self, page):
        super().__init__()
        self.ids, self.links, self.alts, self.levels, self.asked_for = [], [], [], [], []
        self.open_words, self.all_words, self._inside = [], [], []
        self.pressed = set()
        self.opened = False
        self.feed(page)
        assert not self._inside, self._inside

    def handle_starttag(self, tag, attrs):
        told = dict(attrs)
        self.ids += [told["id"]] if "id" in told else []
        self.links += [told["href"]] if "href" in told else []
        self.asked_for += [told["src"]] if "src" in told else []
        self.alts += [told["alt"]] if tag == "img" else []
        self.levels += [int(tag[1])] if re.fullmatch("h[1-6]", tag) else []
        self.opened |= tag == "details" and "open" in told
        if tag not in VOID:
            self._inside.append((tag, bool(FOLDED & set((told.get("class") or "").split()))))

    def handle_endtag(self, tag):
        assert self._inside.pop()[0] == tag

    def handle_data(self, data):
        tags = [tag for tag, _ in self._inside]
        if "script" in tags or "style" in tags:
            return
        self.all_words.append(data)
        folds = [n for n, (_, folded) in enumerate(self._inside) if folded]
        if not folds or "summary" in tags[folds[0] :]:
            if tags[-1:] == ["strong"] and re.search(
                r"\b[Pp]ress $", "".join(self.open_words[-1:])
            ):
                self.pressed.add(data)
            self.open_words.append(data)


@pytest.fixture(scope="module")
def pages():
    return {name: lesson_page(name) for name in NAMES}


@pytest.fixture(scope="module")
def read(pages):
    return {name: Reader(page) for name, page in pages.items()}


def plain(words):
    return " ".join("".join(words).split())


def texts(name):
    """Return the words of a notebook: its prose, and what came of its code in Markdown."""
    for cell in shipped_cells(f"{name}.ipynb"):
        if cell["cell_type"] == "markdown":
            yield "".join(cell["source"])
        for output in cell.get("outputs", []):
            yield "".join(output.get("data", {}).get("text/markdown", []))


@cache
def all_calls(name):
    """Return every call in a notebook's code, with the word that is called."""
    code = (cell for cell in shipped_cells(f"{name}.ipynb") if cell["cell_type"] == "code")
    nodes = (node for cell in code for node in ast.walk(ast.parse("".join(cell["source"]))))
    return [(getattr(n.func, "id", ""), n) for n in nodes if isinstance(n, ast.Call)]


def calls(name, panel):
    return [call for word, call in all_calls(name) if word == panel]


def count(text):
    return sum(len(equations(shown or said)) for shown, said in EQUATION.findall(text))


def test_every_file_is_small_and_asks_for_nothing(pages, read):
    for name, page in pages.items():
        assert len(page.encode()) <= MOST, name
        assert "http" not in page, name
        assert "@import" not in page, name
        assert not re.search(r"url\((?!#)", page), name
        assert all(one.startswith("data:image/png;base64,") for one in read[name].asked_for), name


def test_every_link_leads_to_a_heading_of_a_file_beside(read):
    for name, page in read.items():
        for link in page.links:
            file, _, place = unquote(link).partition("#")
            target = file.removesuffix(".html") or name
            assert target in NAMES, (name, link)
            assert not place or place in read[target].ids, (name, link)
    assert "03-what-moves-the-time.html#A-race-first" in read["teacher-guide"].links
    assert {f"{name}.html" for name in LESSONS} <= set(read["index"].links)


def test_one_title_and_headings_in_order(read):
    for name, page in read.items():
        assert page.levels.count(1) == 1, name
        assert page.levels[0] == 1, name
        assert all(b - a <= 1 for a, b in zip(page.levels, page.levels[1:], strict=False)), name
        assert len(set(page.ids)) == len(page.ids), name


@pytest.mark.parametrize("name", LESSONS)
def test_every_equation_is_mathml_once_and_again_among_the_answers(name, pages):
    told = list(texts(name))
    folded = [part for text in told for _, part in DETAILS.findall(text)]
    assert pages[name].count("<math") == count("\n".join(told)) + count("\n".join(folded))
    for made in re.findall(r"<math.*?</math>", pages[name]):
        assert "\\" not in html.unescape(made)


def test_equations_of_prose_and_of_every_step_of_sympy_are_among_them():
    counts = {name: sum(map(count, texts(name))) for name in LESSONS}
    assert sum(counts.values()) > 150
    assert counts["02-time-to-ember"] > 60  # three derivations, step by step


@pytest.mark.parametrize("name", LESSONS)
def test_every_picture_says_its_stored_sentence(name, read):
    stored = [
        output["metadata"]["image/png"]["alt"]
        for cell in shipped_cells(f"{name}.ipynb")
        for output in cell.get("outputs", [])
        if "image/png" in output.get("data", {})
    ]
    assert read[name].alts == stored
    assert all(plain([sentence]) in plain(read[name].open_words) for sentence in stored)


@pytest.mark.parametrize("name", LESSONS)
def test_no_answer_is_open(name, read):
    page, shut = read[name], []
    assert not page.opened
    for call in calls(name, "Predict"):
        for system in ("metric", "us"):
            asked, answer = (f(call.args[0].value, system) for f in (prediction, worked_out))
            assert plain([asked.text]) in plain(page.open_words)
            assert all(plain([option]) in plain(page.open_words) for option in asked.options)
            shut += [answer.explain, *{answer.known}.difference(asked.options)]
    for call in calls(name, "SelfCheck"):
        for key in call.args:
            for option in self_check(key.value).options:
                assert plain([option.text]) in plain(page.open_words)
                shut.append(option.reply)
    for call in calls(name, "WhatIf"):
        dealt = card(call.args[0].value, "us")
        assert plain([dealt.task]) in plain(page.open_words)
        shut.append(dealt.hint)
    for words in filter(None, map(plain, shut)):
        assert words in plain(page.all_words), words
        assert words not in plain(page.open_words), words
    for summary, folded in (pair for text in texts(name) for pair in DETAILS.findall(text)):
        told = max(re.split(r"[*$`\[\]\n]", folded), key=len).strip()
        assert plain([summary]) in plain(page.all_words)
        assert html.unescape(told) not in plain(page.open_words), told


def test_every_panel_that_stands_still_says_what_it_is(read):
    said, lines = set(), table("still_panels")
    for name in LESSONS:
        words, there = plain(read[name].open_words), {word for word, _ in all_calls(name)}
        said |= {
            key for key, told in table("still_panels").items() if key in there and told in words
        }
    assert said == set(lines)


def test_the_explorer_stands_where_it_or_a_card_stands_in_the_notebooks(pages):
    for name in LESSONS:
        places = pages[name].count('class="explorer"')
        assert places == len(calls(name, "Explorer")) + len(calls(name, "WhatIf")), name
        assert ("const fireheat" in pages[name]) is bool(places), name


def test_nothing_speaks_of_what_a_file_cannot_do(pages, read):
    for name, page in read.items():
        words = plain(page.open_words)
        assert "wake up" not in words, name
        assert ".ipynb" not in plain(page.all_words), name
        assert not re.search(r"[a-z]\*+[A-Z.]|\*\*[A-Z]", words), name  # a cut went through marks
        if name != "teacher-guide":  # that one tells what to do on a laptop
            here = FOR_THERE.sub("", words)
            said = ONLY_THERE.search(here)
            assert not said, (name, here[said.start() - 90 : said.end() + 90])
            assert ("Move it yourself" in words) <= ('class="move"' in pages[name]), name
            for button in page.pressed:
                spelled = (f"<summary>{button}<", f'"{button}"')
                assert any(one in pages[name] for one in spelled), (name, button)
    assert {"Move it yourself", "What would twice do?"} <= read["03-what-moves-the-time"].pressed


@pytest.mark.parametrize("words", [*LEFT_OUT, *CONTROLS, *NOT_HERE])
def test_what_is_left_out_or_kept_for_the_notebook_stands_in_one(words):
    unfolded = (DETAILS.sub("", text) for name in LESSONS for text in texts(name))
    assert any(re.search(words, text) for text in unfolded)


@pytest.mark.parametrize("name", LESSONS)
def test_what_was_found_waits_for_the_guesses(name, pages):
    # lesson.js knows it by these words.
    waits = r'<details class="answer"><summary>[^<]*predictions?\.</summary>'
    assert bool(re.search(waits, pages[name])) is bool(calls(name, "Predict"))


def test_the_list_of_lessons_leads_to_the_cautions(read):
    assert "the whole list come first" in plain(read["index"].open_words)


def test_what_is_for_the_notebook_is_kept_there_and_no_caution_with_it(read):
    folded = {name: plain(page.all_words) for name, page in read.items()}
    for name, task in (
        ("00-start-here", "Let it bow until the tip glows."),
        ("01-rubbing-makes-heat", "Put into my kit"),
        ("01-rubbing-makes-heat", "Switch the tip"),
        ("01-rubbing-makes-heat", "this page stops"),
        ("05-press-and-speed", "compare the best force"),
        ("03-what-moves-the-time", "type in how many hands are up"),
        ("10-coach-a-learner", "Now put others on trial"),
        ("03-what-moves-the-time", "Then press Go! or the space bar."),
        ("10-coach-a-learner", "Hold a ruler across the spindle."),
    ):
        assert task in folded[name]
        assert task not in plain(read[name].open_words), name
    for name, caution in (
        ("05-press-and-speed", "Is the bearing block hot or thin? Stop."),
        ("08-holding-the-ember", "Do not wait for the end of the range."),
        ("09-test-it-yourself", "the heap, the tip and the board are hot. Wet them."),
        ("10-coach-a-learner", "Nobody leans in to look"),
    ):
        assert caution in plain(read[name].open_words), name


def test_each_guess_has_a_name_of_its_own_and_room_for_one_answer(pages):
    for name in LESSONS:
        asks = re.findall(r'<section class="ask guess">.*?</section>', pages[name], re.DOTALL)
        asked = [call.args[0].value for call in calls(name, "Predict")]
        assert len(asks) == len(asked)
        for key, ask in zip(asked, asks, strict=True):
            options = prediction(key).options
            assert set(re.findall(r'type="radio" name="(\w+)"', ask)) == (
                {key} if options else set()
            )
            assert ('inputmode="decimal"' in ask) is not bool(options)


def test_no_two_links_of_the_list_sound_alike():
    names = [f"sheets/worksheet-{number:02}-A4.pdf" for number in range(3)]
    listed = page_list(dict.fromkeys(names, 1000))
    links = re.findall(r'<a href="([^"]+)"(?: aria-label="([^"]+)")?>(.*?)</a>', listed)
    heard = [label or words for _, label, words in links]
    assert len(links) > len(LESSONS) + len(names)
    assert len(set(heard)) == len(heard)
