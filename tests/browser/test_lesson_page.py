"""Lessons as files, opened from a folder with no network: they fit, move, and print."""

import math
import re

import pytest
from axe_playwright_python.sync_playwright import Axe

from fireheat import Try
from fireheat.figures.lane import plank_end
from fireheat.pages.lesson_page import lesson_names, lesson_page
from fireheat.quantities import quantity
from fireheat.spread import compare, spread
from fireheat.words import band_words, factor_words, floor_words, likely_words, time_words

MOVES = "03-what-moves-the-time"
MATHS = "02-time-to-ember"
ALIVE = "main > .explorer.alive"
CAME = "words => document.querySelector('.says').textContent.includes(words)"
# Whatever of a page is wider than its window.
SIDEWAYS = """() => document.documentElement.scrollWidth - innerWidth"""
SPELL = """times => [
    times.map(time_words), times.map(floor_words), times.map(likely_words),
    times.map((time, n) => band_words([time, time, times[Math.min(n + 2, times.length - 1)]])),
    times.map((time, n) => factor_words([time, times[Math.min(n + 2, times.length - 1)]])),
]"""
FRACTIONS = "inches => inches.map(one => quantity_words('diameter', one * 0.0254, 'us'))"
# Where things of the lane stand, from left to right, as shares of the plank.
PLACES = """() => {
    const lane = document.querySelector('main > .explorer .lane');
    const one = look => lane.querySelector(look), plank = one('.plank').x.baseVal.value;
    const across = x => (x - plank) / one('.plank').width.baseVal.value;
    const ends = look => {
        const { x, width } = one(look).getBBox();
        return [x, x + width].map(across);
    };
    return {
        floor: [across(one('.floor').getBBox().x)],
        range: ends('.range'),
        likely: [across(one('.likely').cx.baseVal.value)],
        wood: ends('.wood'),
        all: ends('.all'),
        end: [...lane.querySelectorAll('text')].at(-1).textContent,
    };
}"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("lessons")
    for name in lesson_names():
        (folder / f"{name}.html").write_text(lesson_page(name), encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def page(browser, folder):
    """A page in a browser whose network is off; whatever goes wrong or asks for more fails."""
    context = browser.new_context(offline=True, viewport={"width": 1280, "height": 800})
    page, wrong = context.new_page(), []
    page.set_default_timeout(20_000)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("request", lambda asked: wrong.append(asked.url) if "data:" not in asked.url[:5] else 0)
    page.wrong = wrong
    yield page
    context.close()


@pytest.fixture
def turn_to(page, folder):
    """Open a lesson; nothing but the file itself may be asked for."""

    def turned(name):
        address = (folder / f"{name}.html").as_uri()
        page.wrong.clear()
        page.goto(address)
        return page

    yield turned
    assert [one for one in page.wrong if not one.startswith("file:")] == []
    assert len(page.wrong) <= len(lesson_names())


def tiles(page):
    told = page.locator("main > .explorer .tile").evaluate_all(
        "all => all.map(e => [e.classList[1], e.querySelector('b').textContent,"
        " e.querySelector('span').textContent])"
    )
    return {key: (big.replace("\xa0", " "), note.replace("\xa0", " ")) for key, big, note in told}


def wanted(state, before=None):
    found = spread(state)
    change = "" if before is None else f"against before: {factor_words(compare(before, state))}; "
    return {
        "ember": (
            band_words(found.all),
            f"{change}with wood like yours {band_words(found.wood)};"
            f" {likely_words(found.wood.likely)}",
        ),
        "smoke": (band_words(found.smoke_all), likely_words(found.smoke_wood.likely)),
    }, floor_words(found.bound.likely)


def test_no_page_is_wider_than_its_window(turn_to):
    for name in lesson_names():
        page = turn_to(name)
        for width in (320, 1280):
            page.set_viewport_size({"width": width, "height": 800})
            assert page.evaluate(SIDEWAYS) <= 0, (name, width)


def test_the_explorer_moves_by_keys_and_says_and_draws_what_the_library_says(turn_to):
    page = turn_to(MOVES)
    page.locator("main > .explorer").scroll_into_view_if_needed()
    page.locator(ALIVE).wait_for()
    told, floor = wanted(Try())
    assert {key: tiles(page)[key] for key in told} == told
    assert tiles(page)["floor"][0] == floor

    page.locator(ALIVE).get_by_role("button", name="Keep this").press("Enter")
    thick = page.locator(ALIVE).get_by_role("slider", name="Spindle diameter")
    thick.focus()
    for _ in range(8):
        page.keyboard.press("ArrowLeft")
    state = Try().changed(diameter=0.012)
    told, floor = wanted(state, Try())
    page.wait_for_function(CAME, arg="12.0")
    assert {key: tiles(page)[key] for key in told} == told
    assert thick.get_attribute("aria-valuetext") == "12.0 mm"

    found, before = spread(state), spread(Try())
    both = [one.wood.likely for one in (found, before)] + [one.wood.high for one in (found, before)]
    end = plank_end([*both, before.bound.likely], [found.all.high, before.all.high])
    drawn = page.evaluate(PLACES)
    times = {
        "floor": [found.bound.likely],
        "range": [found.bound.low, found.bound.high],
        "likely": [found.wood.likely],
        "wood": [found.wood.low, found.wood.high],
        "all": [found.all.low, found.all.high],
    }
    for key, those in times.items():
        assert drawn[key] == pytest.approx([time / end for time in those], abs=0.002), key
    assert drawn["end"] == time_words(end)

    said = page.locator(ALIVE).get_by_role("status")
    assert said.inner_text().startswith("Against before: ")
    page.get_by_role("button", name="in, lb").press("Enter")
    assert thick.get_attribute("aria-valuetext") == "15/32 in"
    page.get_by_role("button", name="cm, N").press("Enter")

    page.locator(f"{ALIVE} .more summary").press("Enter")
    page.locator(ALIVE).get_by_label("Dust for one ember").select_option("grams")
    page.wait_for_function(CAME, arg="dust worn off")
    thick.focus()
    page.keyboard.press("ArrowLeft")
    page.wait_for_function(CAME, arg="11.5")
    told, _ = wanted(state.changed(dust_mass=state.kit.dust, diameter=0.0115), Try())
    assert {key: tiles(page)[key] for key in told} == told


def test_times_are_spelled_as_by_the_library(turn_to):
    page = turn_to(MOVES)
    times = [0.05, 0.52, 8.5, 9.6, 40.3, 92.0, 104.0, 135.0, 140.0, 590.0, 726.0, 3500.0, 4000.0]
    nexts = [times[min(n + 2, len(times) - 1)] for n in range(len(times))]
    assert page.evaluate(SPELL, times) == [
        [time_words(time) for time in times],
        [floor_words(time) for time in times],
        [likely_words(time) for time in times],
        [band_words((time, then)) for time, then in zip(times, nexts, strict=True)],
        [factor_words((time, then)) for time, then in zip(times, nexts, strict=True)],
    ]
    bands = ((0, 0), (0, 0.25), (0.35, 1), (2.2, math.inf), (0, math.inf))
    for low, high in (*bands, (0.0031, 0.35), (0.0962, 0.44), (1.4, 316.0), (0.03, math.inf)):
        assert page.evaluate("factor_words", [low, high]) == factor_words((low, high))
    inches, row = [0.25, 0.63, 0.875, 1.0, 1.25], quantity("diameter")
    assert page.evaluate(FRACTIONS, inches) == [
        row.text(0.0254 * one, "us").replace(" in", "\xa0in") for one in inches
    ]


def test_steps_come_one_by_one(turn_to):
    page = turn_to(MATHS)
    steps = page.locator(".steps").first.locator("> div")
    assert [one.is_visible() for one in steps.all()[:3]] == [True, False, False]
    page.get_by_role("button", name="Next step").first.press("Enter")
    assert [one.is_visible() for one in steps.all()[:3]] == [True, True, False]


def test_on_paper_answers_stand_at_the_end_and_nothing_slides(turn_to):
    page = turn_to(MOVES)
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    try:
        for hidden in (".answer", ".option > p", "input", "button", ".code", ".top", ".hint"):
            assert not any(one.is_visible() for one in page.locator(hidden).all()), hidden
        assert page.locator(".answers").is_visible()
        assert page.locator(f"{ALIVE} .lane").is_visible()
        assert "60\xa0N" in page.locator(f"{ALIVE} .sliders").first.inner_text()
        asked = page.locator(".answers h3").count()
        numbers = re.findall(r"Answer (\d+) stands", page.locator("main").inner_text())
        assert numbers == [str(n + 1) for n in range(asked)]
        for paper in ("A4", "Letter"):
            pdf = page.pdf(format=paper)
            assert 5 < len(re.findall(rb"/Type\s*/Page\b", pdf)) < 14, paper
    finally:
        page.emulate_media(media="screen")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_serious(turn_to, scheme):
    page = turn_to(MOVES)
    page.emulate_media(color_scheme=scheme)
    page.locator("main > .explorer").scroll_into_view_if_needed()
    page.locator(ALIVE).wait_for()
    page.locator(".answer").first.evaluate("one => { one.open = true; }")
    found = Axe().run(page).response
    assert {"color-contrast", "label", "image-alt"} <= {rule["id"] for rule in found["passes"]}
    assert [
        f"{rule['id']}: {node['html'][:120]}"
        for rule in found["violations"]
        if rule["impact"] in ("serious", "critical")
        for node in rule["nodes"]
    ] == []
