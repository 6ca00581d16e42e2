"""The field page as a phone has it: from a file, without network, by touch, keys and voice."""

import math
import re
from functools import cache

import pytest
from axe_playwright_python.sync_playwright import Axe
from test_kernel import TIRELESS
from test_paths import GRADE, grade

from fireheat.answers.next_try import EVENING_DRAWS, after_evenings
from fireheat.coach.learner import Learner
from fireheat.coach.smoke_now import after_smoke
from fireheat.ember.ignition import enough_dust
from fireheat.estimates import estimated
from fireheat.figures.keeping import ENOUGH
from fireheat.figures.next_try import place_words
from fireheat.kit.kit import Try
from fireheat.my_kit import MyKit
from fireheat.pages.field import field_page
from fireheat.person.arm import arms
from fireheat.person.measuring import well_measured
from fireheat.quantities import quantity
from fireheat.shipped import shipped_cautions
from fireheat.spread import compare, spread
from fireheat.trials.columns import TimedTry
from fireheat.trials.log import log_text
from fireheat.trials.our_fire import our_fire
from fireheat.trials.reading import read_bytes
from fireheat.words import band_words, factor_words, floor_words, percent_words

MOST_BYTES, MOST_BYTES_WITH_A_LOG = 80_000, 82_000
VIEWS = ("move", "time", "tries", "kit", "safety")
SET = """shown => { for (const [key, value] of Object.entries(shown)) {
    const range = document.getElementById(key);
    range.value = value;
    range.dispatchEvent(new Event('input', { bubbles: true }));
    range.dispatchEvent(new Event('change', { bubbles: true }));
} }"""
SMALL = """() => [...document.querySelectorAll(
    'button, a, select, summary, input:not([type=checkbox]), label:has([type=checkbox])')]
    .map(e => [e.id || e.textContent, e.getBoundingClientRect()])
    .filter(([, box]) => box.width && (box.height < 43.5 || box.width < 43.5)).map(([e]) => e)"""
# Whether a thumb, or an eye, finds what has the focus: not under what stays in view.
HIDDEN = """() => {
    const one = document.activeElement, box = one.getBoundingClientRect();
    const found = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
    return one.contains(found) ? '' : one.id || one.textContent;
}"""
# Two moves before the next frame, and what is seen after each; which parts of the lane are new.
MOVES = """() => {
    const range = document.getElementById('diameter'), said = document.getElementById('ember');
    const parts = [...document.querySelectorAll('#lane g *')], seen = [];
    for (const value of [12, 26]) {
        range.value = value;
        range.dispatchEvent(new Event('input', { bubbles: true }));
        seen.push(said.textContent);
    }
    return new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => done([
        ...seen, said.textContent,
        ['plank', 'wood', 'all', 'likely'].filter(look =>
            !parts.includes(document.querySelector(`#lane .${look}`)))]))));
}"""
LETTERS = """size => {
    document.documentElement.style.fontSize = size;
    dispatchEvent(new Event('resize'));
}"""
LARGER = """() => {
    const lane = document.querySelector('#lane svg');
    return lane.getBoundingClientRect().width / lane.viewBox.baseVal.width;
}"""
# The bracket of own evenings and the dot of the likely ember, as shares of the plank.
DRAWN = """() => {
    const plank = document.querySelector('#lane .plank').getBoundingClientRect();
    const at = x => (x - plank.left) / plank.width;
    const ours = document.querySelector('#lane path.ours').getBBox();
    const dot = document.querySelector('#lane .likely').getBoundingClientRect();
    const left = document.querySelector('#lane svg').getBoundingClientRect().left;
    return [at(left + ours.x), at(left + ours.x + ours.width), at(dot.x + dot.width / 2)];
}"""
BESIDE = """() => {
    const kept = JSON.parse(localStorage.getItem('fireheat-field'));
    kept.tries = [{ id: 7, at: 7, time: 33, ended: 'ember' }];
    localStorage.setItem('fireheat-field', JSON.stringify(kept));
}"""
AWAKE = """window.awake = 0; Object.defineProperty(navigator, 'wakeLock', { value: {
    request: async () => { awake += 1; return { release: async () => { awake -= 1; } }; } } });"""
DAMAGED = """() => localStorage.setItem('fireheat-field', JSON.stringify({
    at: 9e15, read: true, units: 'furlongs', log: null, kit: { diameter: null },
    run: { start: 5, smoke: 'soon' },
    tries: [null, { id: 1, at: 1, time: 40, ended: 'ember', smoke_time: 'x', learner: 'L07' }],
}))"""
FULL = """() => { Storage.prototype.setItem = () => {
    throw new DOMException('full', 'QuotaExceededError'); }; }"""
REFUSED = """Object.defineProperty(window, 'localStorage', {
    get: () => { throw new DOMException('refused', 'SecurityError'); } })"""


@cache
def club():
    """Weigh a few tries of our own."""
    tries = [TimedTry(time=60.0, ended="ember")] * 3 + [TimedTry(time=90.0, ended="gave up")]
    return our_fire(tries, draws=EVENING_DRAWS)


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    """Keep the page as a file."""
    path = tmp_path_factory.mktemp("phone") / "field.html"
    path.write_text(field_page(), encoding="utf-8")
    return path.as_uri()


@pytest.fixture(scope="module")
def phone(browser, file):
    """Make a phone on which nothing is kept yet: `phone(script)` opens the page anew on it."""
    made, wrong, asked = [], [], []

    def opened(script="", phone=None, text=None):
        if phone is None:
            phone = browser.new_context(viewport={"width": 390, "height": 740}, has_touch=True)
            phone.set_offline(True)
            made.append(phone)
        page = phone.new_page()
        page.set_default_timeout(5_000)
        page.on("pageerror", lambda error: wrong.append(error))
        page.on("request", lambda request: asked.append(request.url))
        if script:
            page.add_init_script(script)
        page.clock.install(time="2030-01-01T20:00:00Z")
        page.clock.pause_at("2030-01-01T20:00:10Z")
        if text is None:
            page.goto(file)
        else:
            page.set_content(text)
        page.clock.run_for(50)
        if page.locator("#read").is_visible():
            page.locator("#read").tap()
        page.clock.run_for(50)
        return page

    yield opened
    for one in made:
        one.close()
    assert wrong == []
    assert {url for url in asked if not url.startswith("blob:")} == {
        file,
        *filter(_here(file), asked),
    }


def _here(file):
    return lambda url: url.startswith(f"{file}#")


@pytest.fixture(scope="module")
def page(phone):
    """One page for all that leaves it as it was; its clock goes."""
    page = phone()
    page.clock.resume()
    return page


TURN = """view => new Promise(done => {
    if (document.body.dataset.view === view) return done();
    addEventListener('hashchange', done, { once: true });
    location.hash = view;
})"""


def turn_to(page, view):
    page.evaluate(f"async view => {{ await ({TURN})(view); }}", view)
    page.clock.run_for(50)


def words(page, name):
    return page.locator(f"#{name}").inner_text().replace("\xa0", " ")


def told(page, name):
    slider = page.get_by_role("slider", name=name)
    return slider.get_attribute("aria-valuetext").replace("\xa0", " ")


def log(page):
    turn_to(page, "tries")
    return read_bytes(page.locator("#log").input_value().encode("utf-8"))


def put(page, **shown):
    page.evaluate(SET, shown)
    page.clock.run_for(1_000)


# ---- what it is ----------------------------------------------------------------------------------


def test_it_is_one_small_file_that_asks_for_nothing_and_may_ask_for_nothing():
    text = field_page()
    assert len(text.encode("utf-8")) <= MOST_BYTES
    assert len(field_page(club()).encode("utf-8")) <= MOST_BYTES_WITH_A_LOG
    assert not re.search(r"""(src|href)="(?!#)|@import|url\((?!#)|https?:|fetch\(""", text)
    assert "default-src 'none'" in text


def test_cautions_come_first_once_and_are_one_tap_away_after_that(phone):
    page = phone()
    assert words(page, "title") == "How soon an ember?"  # read, and put away by the fixture
    page.get_by_role("link", name="Safety").tap()
    said = page.locator("#safety").inner_text()
    for lines in shipped_cautions().values():
        for line in lines:
            assert line.replace("**", "") in said
    other = phone(phone=page.context)
    assert not other.locator("#safety").is_visible()


def test_no_view_is_wider_than_the_phone_and_all_can_be_hit_by_a_thumb(page):
    for width in (320, 390, 820, 1280):
        page.set_viewport_size({"width": width, "height": 740})
        for view in VIEWS:
            turn_to(page, view)
            wide = page.evaluate("document.documentElement.scrollWidth")
            assert wide <= width, (view, width)
            small = page.evaluate(SMALL)
            assert small == [], (view, width)
            if width == 390:  # somebody reads letters twice as large
                page.evaluate(LETTERS, "200%")
                assert page.evaluate("document.documentElement.scrollWidth") <= width, view
                if view == "move":  # and those in the lane grow as well
                    assert page.evaluate(LARGER) == pytest.approx(2.0, rel=0.05)
                page.evaluate(LETTERS, "")
    turn_to(page, "time")
    for name in ("press_smoke", "press_ember", "press_up", "start"):
        assert page.locator(f"#{name}").bounding_box()["height"] >= 70
    page.set_viewport_size({"width": 390, "height": 740})


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_serious(page, scheme):
    page.emulate_media(color_scheme=scheme)
    for view in VIEWS if scheme == "light" else ("move", "time"):
        turn_to(page, view)
        found = Axe().run(page).response["violations"]
        assert [rule["id"] for rule in found if rule["impact"] not in ("minor", None)] == [], view
    page.emulate_media(color_scheme="light")


def test_a_twelve_year_old_can_read_it(page):
    said = []
    for view in ("move", "time", "tries", "kit"):
        turn_to(page, view)
        said += page.locator(f"#{view}").inner_text().splitlines()
    lines = [line for line in said if len(line.split()) > 4]
    assert len(lines) > 8
    assert grade(" ".join(f"{line.rstrip('.')}." for line in lines)) <= GRADE


# ---- move it -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "shown",
    [{}, {"diameter": 11, "force": 80, "friction": 0.5, "moisture": 12, "strokes_per_minute": 150},
     {"diameter": 22, "force": 30, "friction": 0.2, "burn_in_depth": 6}],
    ids=["ordinary", "quick", "never"],
)  # fmt: skip
def test_tiles_say_what_the_library_says(page, shown):
    turn_to(page, "move")
    page.locator("#reset").tap()
    put(page, **shown)
    si = {key: quantity(key).si(value) for key, value in shown.items()}
    strokes = si.pop("strokes_per_minute", 120.0)
    state = Try().changed(**si, speed=strokes * 0.5 / 60)
    now, bands = estimated(state), spread(state)
    assert words(page, "ember") == band_words(bands.all)
    assert words(page, "smoke") == band_words(bands.smoke_all)
    assert words(page, "floor") == floor_words(now.bound)
    verdict = "no hot dust" if now.never else ENOUGH[enough_dust(state.kit).verdict]
    assert words(page, "dust").removeprefix("✓ ").removeprefix("✕ ") == verdict
    assert (now.never or band_words(bands.wood)) in words(page, "ember_note")
    told = page.locator("#lane svg").get_attribute("aria-label").replace("\xa0", " ")
    assert band_words(bands.all) in told
    assert words(page, "heard") == told  # and is spoken once the hand rests
    drawn = {name: page.locator(f"#lane .{name}").count() for name in ("all", "wood", "likely")}
    holds = math.isfinite(bands.wood.low)
    assert (drawn["wood"] == 1) is holds
    assert page.locator("#lane .floor").count() == 1


def test_a_move_is_seen_at_once_and_only_what_it_changes_is_drawn(page):
    turn_to(page, "move")
    page.locator("#reset").tap()
    first, second, last, anew = page.evaluate(MOVES)
    said = [band_words(spread(Try().changed(diameter=mm / 1000)).all) for mm in (12, 26)]
    assert [text.replace("\xa0", " ") for text in (first, last)] == said
    assert second == first  # it waits for the frame
    assert anew == []
    page.locator("#reset").tap()
    page.evaluate("scrollTo(0, 0)")
    place = page.locator("#force").bounding_box()["y"]
    high = page.locator("#seen").bounding_box()["height"]
    put(page, diameter=22, force=30)  # never, which takes more lines
    assert page.locator("#seen").bounding_box()["height"] > high + 10
    assert page.locator("#force").bounding_box()["y"] == pytest.approx(place, abs=1.0)
    page.locator("#reset").tap()
    told = " ".join(page.locator(".tiles").all_inner_texts())
    assert re.search(r"\d\xa0min", told)
    assert not re.search(r"\d (s|min|W)\b", told)  # no line ends between them


def test_what_has_the_focus_is_never_under_what_stays_in_view(page):
    turn_to(page, "move")
    page.locator("#reset").tap()
    page.locator("#pin").tap()
    page.evaluate("document.querySelector('#move details').open = true")
    hidden = []
    for key, end in (("Tab", "reset"), ("Shift+Tab", "diameter")):
        page.locator("#title" if key == "Tab" else "#reset").focus()
        while page.evaluate("document.activeElement.id") != end:
            page.keyboard.press(key)
            hidden.append(page.evaluate(HIDDEN))
    assert len(hidden) > 16
    assert not any(hidden), hidden
    page.locator("#reset").tap()


def test_own_evenings_stand_beside_the_handbook_if_the_page_was_made_with_a_log(page, phone):
    turn_to(page, "move")
    assert page.locator("#lane .ours").count() == 0
    assert (words(page, "ours"), words(page, "ours_note")) == ("", "")
    ours = phone(text=field_page(club()))
    band = club().picked(128).band(Try())
    assert words(ours, "ours") == f"your evenings, 4 tries: {band_words(band)}"
    assert "Ember, handbook" in words(ours, "seen")
    assert words(ours, "ember") == band_words(spread(Try()).all)
    low, high, likely = ours.evaluate(DRAWN)
    end = estimated(Try()).ember.likely / likely
    assert (low * end, high * end) == pytest.approx((band.low, band.high), rel=0.02)
    assert "4 tries, 3 embers" in words(ours, "ours_note")
    assert place_words(after_evenings(club(), Try())) in words(ours, "ours_note")
    told = words(ours, "ours")
    assert f"By {told}." in words(ours, "heard")
    turn_to(ours, "time")  # where it says whose expectation is whose
    handbook = band_words(spread(Try()).all)
    assert words(ours, "expect") == f"glow by the handbook: {handbook}; {told}"
    assert ours.locator("#bar .ours").count() == 1


def test_before_stays_as_an_outline_and_the_change_is_the_librarys(page):
    turn_to(page, "move")
    page.locator("#reset").tap()
    page.locator("#pin").tap()
    put(page, diameter=12)
    ratio = compare(Try(), Try().changed(diameter=0.012))
    assert factor_words(ratio) in words(page, "against")
    assert page.locator("#lane .was").count() >= 2
    page.locator("#pin").tap()
    assert page.locator("#lane .was").count() == 0


def test_sliders_go_by_keys_and_units_turn_without_moving_anything(page):
    turn_to(page, "move")
    page.locator("#reset").tap()
    put(page, diameter=16)
    page.get_by_role("slider", name="Spindle diameter").press("ArrowRight")
    page.clock.run_for(50)
    assert told(page, "Spindle diameter") == "16.5 mm"
    ember = words(page, "ember")
    page.locator("#units").tap()
    assert told(page, "Spindle diameter") == "21/32 in"
    assert told(page, "Downward force").endswith(" lb")
    assert words(page, "ember") == ember
    turn_to(page, "kit")
    page.locator("#kit").get_by_label("Spindle diameter (in)").fill("5/8")
    page.locator("#kit").get_by_label("Spindle diameter (in)").press("Tab")
    long = page.locator("#kit").get_by_label("Stroke length (in)")
    long.fill("99")
    long.press("Tab")
    ends = page.get_by_role("alert").filter(visible=True).inner_text()
    assert long.get_attribute("aria-invalid") == "true"
    for end in re.findall(r"[\d.]+\d", ends):  # what it asks for, it takes
        long.fill(end)
        long.press("Tab")
        assert long.get_attribute("aria-invalid") == "false", end
    long.fill("")
    long.press("Tab")
    page.locator("#kit_in").tap()
    turn_to(page, "move")
    assert told(page, "Spindle diameter") == "5/8 in"
    page.locator("#units").tap()
    turn_to(page, "kit")
    page.locator("#kit_empty").tap()


def test_my_kit_narrows_the_range_as_the_library_has_it(phone):
    page = phone()
    turn_to(page, "kit")
    given = {
        "Spindle diameter (mm)": "14",
        "Downward force (N)": "55,5",
        "Friction coefficient": "0.4",
    }
    for name, value in given.items():
        page.locator("#kit").get_by_role("textbox", name=name, exact=True).fill(value)
        page.locator("#kit").get_by_role("textbox", name=name, exact=True).press("Tab")
    page.locator("#kit_in").tap()
    readings = {"diameter": 0.014, "force": 55.5, "friction": 0.4}
    mine = MyKit(**{key: well_measured(key, value) for key, value in readings.items()})
    bands = spread(mine.state(Try()), measured=mine.measured)
    assert band_words(bands.all) in words(page, "kit_told")
    turn_to(page, "move")
    assert words(page, "ember") == band_words(bands.all)
    assert page.locator(".badge:visible").count() == 3
    put(page, diameter=20)  # moved by hand: not measured there
    assert page.locator("#move .badge:visible").count() == 2
    again = phone(phone=page.context)  # it was not asked to be kept
    turn_to(again, "kit")
    assert again.locator("#kit").get_by_label("Spindle diameter (mm)").input_value() == ""
    turn_to(page, "kit")
    page.locator("#kit_kept").check()
    again.reload()
    again.clock.run_for(50)
    turn_to(again, "kit")
    assert again.locator("#kit").get_by_label("Spindle diameter (mm)").input_value() == "14"


# ---- time it -------------------------------------------------------------------------------------


def test_a_try_outlives_reload_lock_and_a_closed_page_and_goes_into_the_log_as_it_was(phone):
    page = phone()
    turn_to(page, "time")
    assert "hot" in page.locator("#hot").inner_text()
    assert page.locator("#hot").is_visible()
    page.locator("#change summary").tap()
    page.locator("#set_fields").get_by_label("Learner").fill("Alex")
    page.locator("#set_fields").get_by_label("Learner").press("Tab")
    assert (
        "looks like a name" in page.get_by_role("alert").filter(visible=True).inner_text().lower()
    )
    assert words(page, "who") == "who?"
    for name, value in {
        "Learner": "L07",
        "Spindle diameter (mm)": "15,5",
        "Downward force (N)": "62",
    }.items():
        page.locator("#set_fields").get_by_label(name).fill(value)
        page.locator("#set_fields").get_by_label(name).press("Tab")
    page.locator("#change summary").tap()
    page.locator("#start").tap()
    page.clock.run_for(13_000)
    page.reload()
    page.clock.run_for(50)
    assert words(page, "clock") == "0:13"
    page.locator("#press_smoke").focus()
    page.keyboard.press("Enter")
    # What is said then is the coach's, and the window, too.
    state = Try().changed(diameter=0.0155, force=62.0)
    run = page.evaluate("JSON.parse(localStorage.getItem('fireheat-field')).run")
    smoke = (run["smoke"] - run["start"]) / 1000
    found = after_smoke(Learner(state=state, arm=TIRELESS), smoke_time=smoke, elapsed=smoke)
    page.clock.run_for(250)
    assert found.say in words(page, "say")
    assert found.not_say in words(page, "not_say")
    assert band_words([found.left.low, found.left.high]) in words(page, "expect")
    page.clock.fast_forward(30_000)  # the screen is locked: no timer fires on the way
    context = page.context
    page.close()
    page = phone(phone=context)  # its clock stands at ten seconds again
    page.clock.fast_forward(65_000)
    turn_to(page, "time")
    assert words(page, "clock") in ("1:03", "1:04", "1:05")
    page.get_by_role("button", name=re.compile("^Ember")).tap()
    assert "Kept as try 1" in words(page, "say")
    page.locator("#back").tap()  # pressed by mistake
    page.clock.run_for(2_000)
    page.locator("#press_up").tap()
    assert "hot" in words(page, "say")
    run = page.evaluate("JSON.parse(localStorage.getItem('fireheat-field')).run")
    page.locator("#start").tap()
    page.clock.run_for(3_000)
    page.locator("#press_ember").tap()  # too soon for any try: it is told so, and stays out
    assert "stays out" in words(page, "say")
    found = log(page)
    assert found.problems == ()
    (one,) = found.tries
    assert (one.learner, one.ended, one.diameter, one.force) == ("L07", "gave up", 0.0155, 62.0)
    assert (one.smoke_time, one.date) == (pytest.approx(smoke, abs=0.051), "2030-01-01")
    assert one.time == pytest.approx((run["end"] - run["start"]) / 1000, abs=0.051)
    # What is measured afterwards goes into the same row.
    page.locator("#list summary").first.tap()
    page.locator("#list").get_by_label("Depth worn (mm)").first.fill("3.125")
    page.locator("#list").get_by_role("textbox", name="Note").first.fill('wet, "green" board')
    page.locator("#list").get_by_role("textbox", name="Note").first.press("Tab")
    (one,) = log(page).tries
    assert page.locator("#log").input_value() == log_text([one])  # letter for letter
    assert (one.burn_in_depth, one.note) == (pytest.approx(0.003125), 'wet, "green" board')


def test_an_arm_and_a_late_ember_are_told_as_on_the_coachs_page(phone):
    page = phone()
    page.set_viewport_size({"width": 390, "height": 664})
    turn_to(page, "time")
    page.locator("#change summary").tap()
    page.get_by_label("Whose arm").select_option("tired_beginner")
    page.locator("#change summary").tap()
    page.locator("#start").tap()
    outcomes = [page.locator(f"#press_{what}") for what in ("smoke", "ember", "up")]
    edge = page.locator("#foot").bounding_box()["y"]
    before = [one.bounding_box()["y"] for one in outcomes]
    assert all(0 < y < edge - 70 for y in before)
    assert "Arm hurts? Stop." in words(page, "say")
    page.clock.run_for(16_000)
    outcomes[0].tap()
    page.clock.run_for(250)
    after = [one.bounding_box()["y"] for one in outcomes]
    assert after == pytest.approx(before, abs=1.0)  # none slips from a thumb
    run = page.evaluate("JSON.parse(localStorage.getItem('fireheat-field')).run")
    smoke = (run["smoke"] - run["start"]) / 1000
    weak = Learner(arm=arms()["tired_beginner"])
    found = after_smoke(weak, smoke_time=smoke, elapsed=smoke)
    assert found.say in words(page, "say")
    assert f"Hold {found.strokes_per_minute:.0f} strokes a minute." in words(page, "say")
    assert found.strokes_per_minute < 100
    page.locator("#beat").tap()
    assert words(page, "beat_words") == f"{found.strokes_per_minute:.0f}"
    page.clock.fast_forward(1_500_000)
    page.clock.run_for(300)
    late = after_smoke(weak, smoke_time=smoke, elapsed=1_500)
    assert late.overdue
    assert f"overdue: {percent_words(late.gone)} of such tries" in words(page, "expect")
    assert late.say in words(page, "say")
    assert "Hold" not in words(page, "say")
    assert words(page, "beat_words") == "rests"
    page.locator("#back").tap()  # it would lose a start, or a smoke: once is not enough
    assert words(page, "back") == "Surely?"
    assert page.evaluate("JSON.parse(localStorage.getItem('fireheat-field')).run") == run
    page.locator("#back").tap()
    assert "first steady" in words(page, "press_smoke")


def test_taps_are_counted_into_the_try_and_the_beat_can_be_turned_on(phone):
    page = phone(AWAKE)
    page.set_viewport_size({"width": 320, "height": 568})
    turn_to(page, "time")
    page.locator("#start").tap()
    assert page.evaluate("awake") == 1
    up, foot = (page.locator(name).bounding_box() for name in ("#press_up", "#foot"))
    assert up["y"] + up["height"] <= foot["y"]  # a small phone has all three in view
    page.evaluate("""() => { for (let n = 0; n < 13; n++) {
        const event = new Event('pointerdown');
        Object.defineProperty(event, 'timeStamp', { value: 1000 + 500 * n });
        document.getElementById('tap').dispatchEvent(event);
    } }""")
    assert words(page, "rate") == "120"
    page.reload()
    page.clock.run_for(50)
    assert page.evaluate("awake") == 1
    page.locator("#beat").tap()
    assert page.locator("#beat").get_attribute("aria-pressed") == "true"
    page.locator("#beat").tap()
    page.clock.run_for(40_000)
    page.locator("#press_ember").tap()
    assert page.evaluate("awake") == 0  # the screen may sleep again
    (one,) = log(page).tries
    assert (one.strokes_per_minute, one.ended) == (120.0, "ember")
    with page.expect_download() as saved:
        page.locator("#save").tap()
    assert read_bytes(saved.value.path().read_bytes()).tries == (one,)
    page.locator("#copy").tap()
    page.locator("#handed", has_text=re.compile("Copied|by hand")).wait_for()


def test_what_is_damaged_on_the_phone_is_left_out_and_the_rest_is_there(phone):
    page = phone()
    page.evaluate(DAMAGED)
    page.reload()
    page.clock.run_for(50)
    for view in VIEWS:
        turn_to(page, view)
        said = page.locator(f"#{view}").inner_text()
        assert not re.search("NaN|undefined|null", said), view
    (one,) = log(page).tries
    assert (one.time, one.smoke_time, one.learner) == (40.0, None, "L07")
    assert words(page, "units") == "mm"


@pytest.mark.parametrize("stub", ["full", "refused"])
def test_where_nothing_can_be_kept_it_says_so_and_loses_no_try(phone, stub):
    page = phone(f"({FULL})()" if stub == "full" else REFUSED)
    assert "keeps nothing" in words(page, "refused")
    turn_to(page, "time")
    page.locator("#start").tap()
    page.clock.run_for(20_000)
    page.reload()
    page.clock.run_for(50)
    assert words(page, "clock") == "0:20"
    page.locator("#press_up").tap()
    assert [one.time for one in log(page).tries] == pytest.approx([20.0], abs=0.11)


def test_two_pages_on_one_phone_do_not_lose_each_others_tries(phone):
    one = phone()
    other = phone(phone=one.context)
    for page, seconds in ((one, 20_000), (other, 30_500)):
        turn_to(page, "time")
        page.clock.run_for(seconds / 10)
        page.locator("#start").tap()
        page.clock.run_for(seconds)
        page.locator("#press_ember").tap()
    assert sorted(found.time for found in log(other).tries) == [20.0, 30.5]
    other.locator("#list summary").first.tap()
    other.get_by_role("textbox", name="Note").first.fill("half written")
    one.locator("#units").tap()  # the other hears of it, and keeps what stands there before
    other.locator("#units", has_text="in").wait_for()
    assert "half written" in other.locator("#log").input_value()
    one.locator("#units").tap()
    page = phone(phone=one.context)
    page.evaluate(BESIDE)  # by a page that slept when it was told
    page.locator("#units").tap()
    page.locator("#units", has_text="in").wait_for()  # or it would be kept later than what follows
    assert len(log(page).tries) == 3
    page.evaluate("localStorage.setItem('fireheat-field', '{\"tries\": [3')")  # somebody else's
    page.reload()
    assert page.evaluate("localStorage.getItem('fireheat-field-unread')") == '{"tries": [3'
    page.locator("#forget").tap()
    page.locator("#forget").tap()
    assert log(page).tries == ()
