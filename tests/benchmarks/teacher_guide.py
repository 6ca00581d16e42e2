"""The teacher's guide, walked through with a clock in a real browser.

First from a closed laptop, as the first paragraph says: the command, the front page on the wall,
its link, the race. Then along the links of the 20-minute plan, doing at each stop what a machine
has to do there; people talk in the minutes that are left.
"""

import shutil
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "tests" / "tools")]

from lab import NOTEBOOK, Lab  # noqa: E402
from playwright.sync_api import sync_playwright  # noqa: E402

from fireheat.paths import lesson_plan  # noqa: E402

PANEL = ".fh-hall-panel"
WALL = {"width": 1280, "height": 720}
AWAKE = f"() => {NOTEBOOK}.node.dataset.fireheat === 'awake'"


class Wall(Lab):
    """JupyterLab as ``fireheat present`` starts it."""

    word = "present"


def since(start):
    return f"{time.perf_counter() - start:6.1f} s"


def to_the_race(folder, playwright):
    """Time the way from the command to a race on the wall."""
    start = time.perf_counter()
    wall = Wall(folder, playwright, **WALL)
    try:
        print(f"{since(start)}  the server answers, a browser is open")
        page = wall.new_page()
        page.goto(wall.printed_address)
        link = page.get_by_role("link", name="Race two kits on the wall")
        link.wait_for()
        print(f"{since(start)}  the front page is on the wall, its link to be pressed")
        link.click()
        page.locator(PANEL).get_by_role("button", name="Go!").wait_for()
        print(f"{since(start)}  the race is on the wall")
        bet(page)
        page.get_by_role("button", name="Hold").wait_for()
        print(f"{since(start)}  bets are in, the bows move")
    finally:
        wall.close()


def bet(page):
    """Bet as a group does, and press Go."""
    page.locator(PANEL).locator("input[type=radio], .fh-bets input").first.wait_for()
    hands = page.locator(f"{PANEL} input[type=number], {PANEL} .fh-bets input[type=text]")
    for field in hands.all()[:3]:
        field.fill("7")
        field.press("Enter")
    page.get_by_role("button", name="Go!").click()


def guess(page):
    """Commit to the first option, and wait for what came of it."""
    page.locator(".fh-hall-question input[type=radio]").first.check()
    page.locator(".fh-hall-question button", has_text="This is my prediction").click()
    page.locator(f"{PANEL}.fh-reveal").wait_for()


def race(page):
    bet(page)
    running = page.locator(PANEL).get_by_role("button", name="To the end")
    running.wait_for()
    running.wait_for(state="hidden", timeout=600_000)


def glow(page):
    page.locator(f"{PANEL} [data-says]", has_text="glow").first.wait_for(timeout=300_000)


DOING = {"KitAtWork": glow, "Race": race, "hard": guess, "strokes": guess}


def along_the_plan(folder, playwright):
    """Time each link of the plan, and what a machine does at each stop."""
    lab = Lab(folder, playwright, **WALL)
    try:
        page = lab.open("teacher-guide.ipynb")
        plan = lesson_plan("demonstration")
        first = page.get_by_role("link", name=plan.stops[0].words, exact=True).first
        first.scroll_into_view_if_needed()
        for number, stop in enumerate(plan.stops):
            start = time.perf_counter()
            if number:
                page.keyboard.press("PageDown")
            else:
                first.click()
            page.locator(".fh-hall-count", has_text=f"stop {number + 1} of").wait_for()
            page.wait_for_function(AWAKE, polling=50)
            word = stop.link.partition("#present-")[2]
            seen = page.locator(
                f"{PANEL}, .fh-hall-question" if word in DOING else ".fh-hall-title"
            )
            seen.first.wait_for()
            there = since(start)
            start = time.perf_counter()
            DOING.get(word, lambda page: None)(page)
            print(f"{there} to  {stop.words}: {since(start)} of its {stop.minutes} minutes")
    finally:
        lab.close()


def main():
    with tempfile.TemporaryDirectory() as home, sync_playwright() as playwright:
        for walk in (to_the_race, along_the_plan):
            folder = Path(home) / walk.__name__
            shutil.copytree(ROOT / "notebooks", folder)
            walk(folder, playwright)


if __name__ == "__main__":
    main()
