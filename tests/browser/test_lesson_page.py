"""Lessons as files, opened from a folder with no network: they fit, move, and print."""

import dataclasses
import html
import json
import math
import re

import pytest
from axe_playwright_python.sync_playwright import Axe

from fireheat import Try
from fireheat.answers.cards import judge
from fireheat.answers.questions import try_of
from fireheat.figures import style
from fireheat.figures.lane import plank_end
from fireheat.lessons import card, stands
from fireheat.pages.lesson_page import lesson_names, lesson_page
from fireheat.pages.lesson_tasks import cards_dealt
from fireheat.quantities import quantity
from fireheat.spread import compare, spread
from fireheat.words import band_words, factor_words, floor_words, likely_words, time_words

MOVES = "03-what-moves-the-time"
MATHS = "02-time-to-ember"
ALIVE = "main > .explorer.alive"
CAME = "words => document.querySelector('.says').textContent.includes(words)"
CATCHERS = "08-holding-the-ember"
# States of each card, in their order.
TRIES = {
    "heavy_spindle": [
        {"diameter": 0.022},
        *({"diameter": size} for size in (0.006, 0.007, 0.011, 0.012, 0.01322, 0.018, 0.0221)),
        {"force": 120.0},
        {"force": 120.0, "diameter": 0.012},
    ],
    "missing_column": [
        {"stroke_length": 0.3, "strokes_per_minute": count} for count in (120.0, 200.0, 246.0)
    ],
    "damp_morning": [{"moisture": 0.08}, {"force": 90.0}, {"moisture": 0.07}],
    "tired_arms": [{"diameter": 0.009}, {"friction": 0.6}, {"burn_in_depth": 0.0015}],
    "slippery_pair": [
        *({"force": 90.0, "speed": 1.2}, {"force": 60.0}, {"force": 40.0, "speed": 1.6}),
    ],
    "alder_at_the_elbow": [
        {"stroke_length": 0.4, "strokes_per_minute": count} for count in (100.0, 170.0, 240.0)
    ],
    "wood_from_the_hedge": [
        {"wood": "western_redcedar"},
        {"moisture": 0.1},
        {"moisture": 0.05},
        {"moisture": 0.24},
    ],
}
JUDGED = """([system, title, start, states]) => {
    document.documentElement.dataset.units = system;
    const card = [...document.querySelectorAll('.card')]
        .find(one => one.textContent.includes(title));
    const first = fireheat.try_(start);
    return states.map(changed => {
        const state = { ...first, ...changed };
        const { stroke_length, strokes_per_minute, ...rest } = state;
        const found = fireheat.estimate({ dust_mass: null, ...rest });
        const detail = { start: first, state, found };
        card.querySelector('.explorer').dispatchEvent(new CustomEvent('shown', { detail }));
        return card.querySelector('.verdict').textContent;
    });
}"""
# The first and the brightest pixel of a painted picture.
SHADES = """sheet => {
    const { data } = sheet.getContext('2d').getImageData(0, 0, sheet.width, sheet.height);
    let bright = 0;
    for (let at = 0; at < data.length; at += 4) {
        bright = Math.max(bright, data[at] + data[at + 1] + data[at + 2]);
    }
    return [[...data.slice(0, 3)], bright];
}"""
# What somebody touches, but is lower than a finger.
TOUCHED = "button, summary, select, label:has([type=radio]), nav a, .pages a"
SMALL = """look => [...document.querySelectorAll(look)]
    .filter(one => one.checkVisibility() && one.getBoundingClientRect().height < 43.5)
    .map(one => one.textContent)"""
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


def of_try(state):
    """Return what a page's script has of a try."""
    speed = state.effort.speed  # where no strokes are set, a page has those that make the speed
    return {"speed": speed, "stroke_length": 0.5, "strokes_per_minute": 120 * speed}


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


def test_no_page_is_wider_than_its_window_in_any_letters_and_nothing_is_too_small_to_touch(turn_to):
    for name in lesson_names():
        page = turn_to(name)
        for width in (320, 1280):
            page.set_viewport_size({"width": width, "height": 800})
            assert page.evaluate(SIDEWAYS) <= 0, (name, width)
        assert page.evaluate(SMALL, TOUCHED) == [], name
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        page.set_viewport_size({"width": 390, "height": 800})
        assert page.evaluate(SIDEWAYS) <= 0, (name, "large letters")


def test_an_answer_opens_after_a_guess_and_what_was_found_after_all(turn_to):
    page = turn_to(CATCHERS)
    asks, found = page.locator(".ask.guess"), page.locator("main > .answer").last
    picture, waits = page.locator(".telling"), page.locator(".waits").last
    assert not found.is_visible()
    assert not picture.is_visible()
    assert "3 to go" in waits.inner_text()
    first, button = asks.first, asks.first.get_by_role("button")
    button.press("Enter")
    assert first.get_by_role("status").inner_text() == "Choose one first."
    assert not first.locator(".answer").is_visible()
    first.get_by_role("radio").nth(1).press("Space")
    page.keyboard.press("ArrowDown")
    button.press("Enter")
    assert first.get_by_role("status").inner_text() == "You said: twice as much as leather."
    assert first.locator(".answer").get_by_text("D: five times as much").is_visible()
    assert first.get_by_role("radio").nth(2).is_disabled()
    assert "2 to go" in waits.inner_text()
    for ask in asks.all()[1:]:
        ask.get_by_role("radio").first.check()
        ask.get_by_role("button").press("Enter")
    assert found.is_visible()
    assert picture.is_visible()
    button.press("Enter")  # once more, with what was learnt
    assert not first.locator(".answer").is_visible()
    assert not picture.is_visible()


def test_a_number_is_a_guess_too_in_either_spelling(turn_to):
    page = turn_to("00-start-here")
    ask = page.locator(".ask.guess").first
    number, button, said = ask.get_by_role("textbox"), ask.get_by_role("button"), "status"
    for typed, heard in (("", "Type a number first."), ("lots", "Type a number first.")):
        number.fill(typed)
        button.press("Enter")
        assert ask.get_by_role(said).inner_text() == heard
    number.fill("13,5")
    button.press("Enter")
    assert ask.get_by_role(said).inner_text() == "You said: 13,5 W."
    assert ask.locator(".answer").is_visible()


def judged(page, key, moves, **changed):
    """Hold what a page says of a card's tries to the library; return how they stand."""
    rules, kinds, ways = dataclasses.replace(card(key).rules, **changed), set(), set()
    start = {**of_try(try_of(rules.settings({}))), **rules.start}
    tries = [(moved, try_of(rules.settings(moved))) for moved in moves]
    found = [spread(now) for _, now in tries]
    states = [{**of_try(now), **rules.settings(moved)} for moved, now in tries]
    for system in ("metric", "us"):
        task, told = card(key, system), []
        task = dataclasses.replace(task, rules=rules)
        for (moved, _), seen in zip(tries, found, strict=True):
            verdict = judge(rules, moved, seen)
            ways |= {verdict.changed} if verdict.level.met else set()
            told.append(str(stands(task, verdict, moved, found=seen, ways=ways, system=system)))
            kinds.add(verdict.broken or str(verdict.level))
        said = page.evaluate(JUDGED, [system, task.title, start, states])
        assert [words.replace("\xa0", " ") for words in said] == [
            words.replace("\xa0", " ") for words in told
        ]
    return kinds


def test_each_card_is_judged_as_in_the_notebook(turn_to):
    """In either units, by each rule, from what is refused to what is met come what may."""
    kinds = set()
    for name in (MOVES, "01-rubbing-makes-heat", "06-strokes", "07-wood-and-weather"):
        page = turn_to(name)
        for key in cards_dealt(name):
            kinds |= judged(page, key, TRIES[key])
    rules = {"change", "reach", "turn", "dust", "moisture", "friction", "burn_in_depth"}
    assert {"untried", "late", "likely", "wood", "all", *rules} <= kinds


def test_an_arm_that_is_spent_before_is_no_yes_on_a_page_either(turn_to, folder):
    key, who = "slippery_pair", ("tired_beginner", "strong")
    rules = card(key).rules
    there, tired = (
        html.escape(json.dumps(dataclasses.asdict(one.person), ensure_ascii=False))
        for one in (rules, dataclasses.replace(rules, arm=who))
    )
    page = lesson_page("01-rubbing-makes-heat")
    assert there in page
    (folder / "tired.html").write_text(page.replace(there, tired), encoding="utf-8")
    tries = [{"force": 120.0, "speed": 0.6}]
    assert judged(turn_to("tired"), key, tries, arm=who) == {"hold"}


def test_a_card_moves_by_keys_with_its_goal_on_the_plank(turn_to):
    page = turn_to(MOVES)
    dealt = page.locator(".card").first
    dealt.scroll_into_view_if_needed()
    dealt.locator(".explorer.alive").wait_for()
    assert [one.inner_text() for one in dealt.locator("label").all()] == [
        "Spindle diameter",
        "Downward force",
        "Bow speed",
    ]
    assert dealt.locator(".verdict").inner_text().startswith("Not tried yet.")
    dealt.get_by_role("slider", name="Spindle diameter").press("ArrowLeft")
    dealt.get_by_text("Not yet, because").wait_for()
    pole, plank = dealt.locator(".pole").bounding_box(), dealt.locator(".plank").bounding_box()
    task = card("heavy_spindle")
    now, start = (
        spread(try_of(task.rules.settings(moved))) for moved in ({"diameter": 0.0215}, {})
    )
    end = plank_end(
        [task.rules.below]
        + [time for one in (now, start) for time in (one.wood.likely, one.wood.high)],
        [now.all.high, start.all.high],
    )
    share = (pole["x"] + pole["width"] / 2 - plank["x"]) / plank["width"]
    assert share == pytest.approx(task.rules.below / end, abs=0.005)
    drawn = dealt.locator(".lane g > *").evaluate_all("all => all.map(e => e.classList[0])")
    assert drawn.index("field") < drawn.index("pole") < drawn.index("wood") < drawn.index("strong")
    ids = page.evaluate("() => [...document.querySelectorAll('[id]')].map(one => one.id)")
    assert len(ids) == len(set(ids))


def test_pictures_are_dark_in_the_dark_light_on_paper_and_larger_if_asked(turn_to):
    page = turn_to(MOVES)
    picture, sheet = page.locator("figure img").first, page.locator("figure canvas").first
    page.set_viewport_size({"width": 390, "height": 800})
    try:
        page.emulate_media(color_scheme="dark")
        sheet.wait_for()
        assert not picture.is_visible()
        assert sheet.get_attribute("aria-label") == picture.get_attribute("alt")
        paper = tuple(int(style.TOKENS[style.DARK]["PAPER"][at : at + 2], 16) for at in (1, 3, 5))
        first, bright = sheet.evaluate(SHADES)
        assert tuple(first) == paper
        assert bright > 3 * 200  # what was ink
        large = page.locator(".larger").first
        box = page.locator("figure .wide").first
        assert box.get_attribute("tabindex") is None
        large.press("Enter")
        assert box.get_attribute("tabindex") == "0"
        assert sheet.bounding_box()["width"] == 800
        page.emulate_media(media="print", color_scheme="dark")
        assert picture.is_visible()
        assert not sheet.is_visible()
    finally:
        page.emulate_media(media="screen", color_scheme="light")


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
    assert not re.search(r"\d (s|min)\b", said.text_content())  # no line ends between them
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
        unseen = (".answer", ".option > p", "[type=range]", "button", ".code", ".top", ".hint")
        for hidden in (*unseen, ".notebook", ".commit", ".onscreen"):
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
    ask = page.locator(".ask").first
    ask.get_by_role("radio").first.check()
    ask.get_by_role("button").click()
    found = Axe().run(page).response
    named = "image-alt" if scheme == "light" else "role-img-alt"
    assert {"color-contrast", "label", named} <= {rule["id"] for rule in found["passes"]}
    assert [
        f"{rule['id']}: {node['html'][:120]}"
        for rule in found["violations"]
        if rule["impact"] in ("serious", "critical")
        for node in rule["nodes"]
    ] == []
