"""The four doors: each leads to a path whose links open, whose minutes add up, cautions first."""

import re
from urllib.parse import urldefrag

import nbformat
import notebook_rules as rules
import pytest
from refresh_notebooks import NOTEBOOKS, notebooks

from fireheat import InputError
from fireheat.data import table
from fireheat.paths import door, doors
from fireheat.shipped import START, shipped_titles, stated_minutes

GUIDE = "teacher-guide.ipynb"  # for whoever teaches; no page to learn from
PAGES = [path.name for path in notebooks() if path.name not in (START, GUIDE)]
THE_LIST = "00-start-here.ipynb#Before-anything-burns"
STOPS = [
    pytest.param(stop, id=f"{key}-{stop.words}") for key in doors() for stop in door(key).stops
]
# What stands in the cell of each panel that a leader shows, so that no other bears its word.
SHOWN = {
    "KitAtWork": "KitAtWork(",
    "Race": "Race(",
    "hard": 'Predict("press_hard"',
    "strokes": 'Predict("same_speed"',
}
GRADE = 7  # of school, that can read it
MOST_WORDS = 60  # of a stop: a line or two


def page(name):
    return nbformat.read(NOTEBOOKS / name, as_version=4)


def headings(name):
    """Places that a page can be opened at."""
    found = re.findall(r"^#{1,4} +(.+)$", rules.markdown(page(name)), re.MULTILINE)
    return {heading.replace(" ", "-") for heading in found}


def opened(link):
    """What a link opens: a whole page, a heading, or the source of a panel's cell; or nothing."""
    name, place = urldefrag(link)
    if not (NOTEBOOKS / name).is_file():
        return None
    word = place.removeprefix("present-")
    if not place or word in headings(name):
        return word or name
    if word == place:
        return None
    panels = [cell for cell in rules.code_cells(page(name)) if cell.outputs]
    named = (cell.source for cell in panels if word in re.split(r"\W+", cell.source))
    return next(named, None)


def test_there_are_four_doors_in_their_order():
    assert list(doors()) == ["show", "alone", "cards", "outside"]
    with pytest.raises(InputError, match="door is 'back'; allowed: show, alone, cards, outside"):
        door("back")


@pytest.mark.parametrize("stop", STOPS)
def test_every_stop_is_told_whole_and_its_link_opens(stop):
    assert opened(stop.link)
    assert stop.minutes > 0
    assert stop.words
    assert 3 <= len(stop.do.split()) <= MOST_WORDS
    assert stop.do[-1] in ".!?”"


def test_a_link_that_opens_nothing_would_be_seen():
    for broken in ("99-none.ipynb", THE_LIST + "-today", "03-what-moves-the-time.ipynb#present-no"):
        assert opened(broken) is None


def test_rows_of_the_table_have_no_words_that_nobody_reads():
    known = {"page", "panel", "place", "card", "words", "minutes", "do", "ask"}
    for row in table("paths").values():
        assert set(row) == {"words", "heading", "about", "time", "shown", "asked", "stops"}
        for stop in row["stops"]:
            assert set(stop) <= known
            assert len({"panel", "place", "card"} & set(stop)) <= 1
            whole = not {"panel", "place", "card"} & set(stop)
            assert whole == ("minutes" not in stop)
            assert ("words" in stop) == bool({"panel", "place"} & set(stop))


def test_minutes_of_a_path_are_those_of_its_stops_and_a_whole_page_takes_what_it_states():
    for one in doors().values():
        assert one.minutes == sum(stop.minutes for stop in one.stops)
        numbers = {int(number) for number in re.findall(r"\d+", one.time + one.heading)}
        each = {stop.minutes for stop in one.stops}
        assert numbers <= {one.minutes, min(each), max(each)}
        assert numbers
    for stop in door("alone").stops:
        stated = rules.MINUTES.search(page(stop.link).cells[0].source)
        assert stop.minutes == int(stated.group(1))
    with pytest.raises(InputError, match=r"'index\.ipynb'; it states no minutes"):
        stated_minutes(START)


def test_a_group_is_shown_something_for_twenty_minutes_and_the_race_is_in_it():
    show = door("show")
    assert show.minutes == 20
    assert len(show.stops) in (5, 6)
    *stops, last = show.stops
    assert last.link == THE_LIST.replace("#", "#present-")
    assert "adult in charge" in last.do
    words = [urldefrag(stop.link).fragment.removeprefix("present-") for stop in stops]
    assert words == list(SHOWN)
    for stop, word in zip(stops, words, strict=True):
        assert SHOWN[word] in opened(stop.link)


def test_who_learns_alone_reads_every_page_once_and_none_before_those_it_needs():
    order = [stop.link for stop in door("alone").stops]
    assert sorted(order) == PAGES
    for at, name in enumerate(order):
        needed = re.search(r"\*\*You need:\*\*(.*)", page(name).cells[0].source).group(1)
        firmly = re.split(r"; | The why| If you| best", needed)[0]
        for before in re.findall(r"\(([\w-]+\.ipynb)\)", firmly):
            assert before in order[:at], (name, before)
    assert order[:2] == [PAGES[0], "03-what-moves-the-time.ipynb"]  # the fun comes early
    assert order[-1] == "02-time-to-ember.ipynb"


def test_every_card_is_dealt_once_and_its_link_opens_that_card():
    keys = [urldefrag(stop.link).fragment.removeprefix("present-") for stop in door("cards").stops]
    assert sorted(keys) == sorted(table("lessons")["card"])
    for key, stop in zip(keys, door("cards").stops, strict=True):
        assert f'WhatIf("{key}")' in opened(stop.link)
        assert stop.words == table("lessons")["card"][key]["title"]


def test_outside_begins_with_the_cautions_and_pressing_is_short_or_with_a_leader():
    first, *others = door("outside").stops
    assert first.link == THE_LIST
    assert "adult in charge" in first.do
    pull = next(stop for stop in others if "scale" in stop.do)
    assert "Three strokes" in pull.do
    assert "could make an ember" in pull.do
    timed = next(stop for stop in others if "watch" in stop.do)
    assert "a leader who knows this" in timed.do
    assert timed.link == "09-test-it-yourself.ipynb#Run"
    run = next(
        c.source for c in page("09-test-it-yourself.ipynb").cells if c.source.startswith("## Run")
    )
    first = run.split("\n\n")[1]  # before any key is pressed
    assert first.startswith("**Before the first stroke** an adult in charge reads")
    assert f"]({THE_LIST})" in first
    assert timed.do.endswith("wait until it is cold.")
    assert "in the air" in next(stop for stop in others if "taps" in stop.do).do


# ---- the front page ------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def front():
    return page(START)


def test_the_front_page_comes_first_and_races_on_the_wall_by_its_first_paragraph(front):
    assert next(iter(shipped_titles())) == START
    first = front.cells[0].source.split("\n\n")[1]
    (link,) = re.findall(r"\]\(([^)]+)\)", first)
    assert "Race(" in opened(link)


def test_nothing_is_predicted_or_answered_on_the_front_page(front):
    made = "\n".join(cell.source for cell in rules.code_cells(front))
    assert set(re.findall(r"(\w+)\(", made)) == {"Front", "door"}
    said = rules.markdown(front) + " ".join(str(door(key)) for key in doors())
    for title in shipped_titles().values():
        said = said.replace(title, "")
    assert re.findall(r"\d+ ?(?:%|s\b|W\b|°)|of the time", said) == []


def test_each_path_stands_under_its_own_heading_with_its_cautions_above(front):
    sections = re.split(r"^## +(?=.+$)", "\n".join(c.source for c in front.cells), flags=re.M)[1:]
    for section, one in zip(sections, doors().values(), strict=True):
        heading, _, below = section.partition("\n")
        assert heading == one.heading
        assert one.link.removeprefix("#") in headings(START)
        assert f'door("{one.key}")' in below
    above, _, _ = sections[-1].partition("door(")
    for word in ("fire is allowed", "adult in charge", "a leader who knows this", "Water"):
        assert word in above


@pytest.mark.parametrize("key", doors())
def test_a_twelve_year_old_can_read_it(key):
    one = door(key)
    words = " ".join([one.about, *(stop.do for stop in one.stops)])
    assert grade(words) <= GRADE


def grade(words):
    """School grade that can read it: Kincaid et al. (1975), from memory, syllables by vowels."""
    tokens = re.findall(r"[a-z]+", words.lower())
    sentences = len(re.findall(r"[.?!:]+", words))
    syllables = sum(max(1, len(re.findall(r"[aeiouy]+", re.sub("e$", "", t)))) for t in tokens)
    return 0.39 * len(tokens) / sentences + 11.8 * syllables / len(tokens) - 15.59
