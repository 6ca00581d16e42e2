"""The stopwatch's script in a bare page: what was pressed survives a reload and a closed lid."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from bare import MODEL, PAGE, ROOT

from fireheat import panels
from fireheat.panels.base import Voice

# A page with an address keeps things, as JupyterLab does; nothing is fetched from there.
ADDRESS = "http://127.0.0.1:9/"
AROUND = '<div class="fireheat fh-stopwatch jupyter-widgets">{}</div>'
REFUSED = """() => Object.defineProperty(window, 'localStorage', {
    get: () => { throw new DOMException('refused', 'SecurityError'); } })"""
LANE = "number => model.get('state').lanes[number]"


@pytest.fixture
def show(browser):
    """Open a page with the watches, or load it again; the wall clock is the test's."""
    watches = panels.Stopwatch().watches
    html = PAGE.format(css=f"{Voice._css}{watches._css}", around=AROUND.format(ROOT))
    plain = {key: one for key, one in watches.get_state().items() if key[0] != "_"}
    page, wrong = browser.new_page(viewport={"width": 1100, "height": 700}), []
    page.on("pageerror", lambda error: wrong.append(error))
    page.route(ADDRESS, lambda route: route.fulfill(body=html, content_type="text/html"))
    page.clock.install(time="2030-01-01T20:00:00Z")
    page.clock.pause_at("2030-01-01T20:00:10Z")  # it goes on when the test says so

    def shown(refused=False, state=None):
        page.goto(ADDRESS)
        page.evaluate(REFUSED) if refused else None
        page.evaluate(MODEL, {"esm": str(watches._esm), "state": plain | {"state": state or {}}})
        page.clock.run_for(50)
        page.set_default_timeout(5_000)
        return page

    yield shown
    page.close()
    assert wrong == []


def clocks(page):
    return page.locator(".fh-watch-clock").all_inner_texts()


def press(page, patrol, words):
    page.locator(".fh-watch").nth(patrol).get_by_role("button", name=words).first.click()


def test_three_patrols_by_keys_and_by_buttons_are_written_down_each_for_itself(show):
    page = show()
    page.locator(".fh-watch-start").first.focus()
    page.keyboard.press("1")
    page.clock.run_for(5_000)
    page.keyboard.press("5")
    press(page, 2, "Start")
    page.clock.run_for(11_000)
    page.keyboard.press("2")  # smoke of the first
    page.keyboard.press("w")  # and of the third
    page.clock.run_for(26_000)
    page.keyboard.press("7")  # the second has an ember
    press(page, 2, "Gave up")
    page.clock.run_for(1_300)
    assert clocks(page) == ["0:43", "0:37", "0:37"]
    one, two, three = (page.evaluate(LANE, number) for number in range(3))
    assert (one["smoke"] - one["start"], one["end"]) == (16_000, None)
    assert (two["how"], two["smoke"], three["how"]) == ("ember", None, "gave up")
    assert "hot" in page.locator(".fh-watch-hot").inner_text()
    assert (
        "Patrol 3: gave up after 37 seconds. The heap is hot"
        in page.get_by_role("status").inner_text()
    )
    # What was pressed by mistake is taken back, and the clock had never stopped.
    press(page, 1, "take back")
    page.clock.run_for(1_000)
    assert clocks(page)[1] == "0:39"
    page.keyboard.press("6")
    assert page.evaluate(LANE, 1)["smoke"] is not None
    # It is written down once, in the words of the log.
    page.locator(".fh-watch-who").nth(2).select_option("L07")
    page.evaluate("window.sent.length = 0")
    for _ in range(2):
        page.locator(".fh-watch-add").nth(2).dispatch_event("click")
    asked = [one["add"] for one in page.evaluate("window.sent") if "add" in one]
    assert len(asked) == 1
    told = {key: asked[0][key] for key in ("lane", "learner", "ended", "time", "smoke_time")}
    assert told == {
        "lane": 2,
        "learner": "L07",
        "ended": "gave up",
        "time": 37.0,
        "smoke_time": 11.0,
    }
    answer = {"lane": 2, "start": asked[0]["start"], "done": True, "words": "Written: 1 try."}
    page.evaluate("answer => kernel.send(answer)", answer)
    assert clocks(page)[2] == "0:00"
    assert page.locator(".fh-watch-words").nth(2).inner_text() == "Written: 1 try."
    assert page.locator(".fh-watch-who").nth(2).input_value() == "L07"


def test_a_refusal_leaves_the_try_where_it_is(show):
    page = show()
    press(page, 0, "Start")
    page.clock.run_for(20_000)
    press(page, 0, "Ember")
    press(page, 0, "add to our log")
    start = page.evaluate(LANE, 0)["start"]
    no = {
        "lane": 0,
        "start": start,
        "done": False,
        "words": "Not written: the folder is not there.",
    }
    page.evaluate("answer => kernel.send(answer)", no)
    assert clocks(page)[0] == "0:20"
    assert "Not written" in page.locator(".fh-watch-words").first.inner_text()
    assert page.locator(".fh-watch-add").first.is_enabled()
    press(page, 0, "leave out")
    assert clocks(page)[0] == "0:00"
    press(page, 0, "take back")
    assert clocks(page)[0] == "0:20"


def test_a_reload_and_a_closed_lid_lose_no_second(show):
    page = show()
    press(page, 0, "Start")
    press(page, 1, "Start")
    page.clock.run_for(10_000)
    press(page, 1, "Smoke")
    page.clock.fast_forward(60_000)  # the lid: no timer fires on the way
    page = show()
    assert clocks(page)[:2] == ["1:10", "1:10"]
    assert page.evaluate(LANE, 1)["smoke"] is not None
    assert page.evaluate("window.sent.at(-1).state.lanes[0].start") is not None  # told anew
    assert "Kept in this browser" in page.locator(".fh-watch-kept").inner_text()
    # A kernel that has something newer, such as from another browser, is believed.
    state = page.evaluate("model.get('state')")
    state["at"] += 1e9
    state["lanes"][0]["how"], state["lanes"][0]["end"] = "ember", state["lanes"][0]["start"] + 30e3
    page.evaluate("state => kernel.set({ state })", state)
    assert clocks(page)[0] == "0:30"
    # What somebody else wrote there is no state, and does no harm.
    page.evaluate("localStorage.setItem('fireheat-stopwatch', '{\"at\": 9, \"lanes\": [1]}')")
    assert clocks(show()) == ["0:00"] * 3


def test_where_the_browser_keeps_nothing_it_says_so_and_the_kernel_still_knows(show):
    page = show(refused=True)
    press(page, 0, "Start")
    page.clock.run_for(10_000)
    assert "keeps nothing" in page.locator(".fh-watch-kept").inner_text()
    known = page.evaluate("window.sent.at(-1).state")
    assert clocks(show(refused=True, state=known))[0] == "0:10"


def test_keys_are_large_have_names_and_leave_those_who_write_alone(show):
    page = show()
    small = page.evaluate("""() => [...document.querySelectorAll('button, select, summary')]
        .map(e => [e.textContent, e.getBoundingClientRect()])
        .filter(([, box]) => box.width < 44 || box.height < 44).map(([words]) => words)""")
    assert small == []
    page.locator("summary").first.click()
    field = page.locator(".fh-watch-fields input").first
    field.fill("")
    field.press("1")
    assert clocks(page)[0] == "0:00"
    assert page.evaluate(LANE, 0)["start"] is None
    field.fill("16")
    field.press("Tab")
    assert page.evaluate(LANE, 0)["set"] == {"diameter": pytest.approx(0.016)}
    assert page.locator("summary").first.inner_text() == "16 mm"
    page.clock.resume()
    found = Axe().run(page, ".fh-watches").response["violations"]
    assert [rule["id"] for rule in found if rule["impact"] != "minor"] == []
