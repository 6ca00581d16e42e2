"""Make every picture of the README anew, as a reader's browser shows it.

    python tests/tools/readme_pictures.py

Writes ``notebooks/images/``: the front page, the kit at work, a race on a wall, the explorer on a
laptop, a guess and what came of it, the same explorer shown big, and what leaves the laptop: the
field page, a lesson, a sheet and the paper computer. The tests see that the README shows these, and
no others.
"""

import sys
import tempfile
from pathlib import Path

from lab import Lab, launch
from playwright.sync_api import sync_playwright

IMAGES = Path(__file__).parents[2] / "notebooks" / "images"
FRONT, START, PAGE = "index.ipynb", "00-start-here.ipynb", "03-what-moves-the-time.ipynb"
OFF_THE_LAPTOP = ("field.png", "lesson.png", "sheet.png", "chart.png")
PICTURES = ("front.png", "kit.png", "race.png", "explorer.png", "guess.png", "big.png")
PICTURES += OFF_THE_LAPTOP
PHONES = """<style>body{display:flex;gap:24px;margin:0;background:#fff}
iframe{width:360px;height:740px;border:2px solid #7A756C;border-radius:16px}</style>
<iframe src=field.html></iframe><iframe src=field.html></iframe>"""
PANEL = ".jp-OutputArea-output .fireheat:not(.fireheat .fireheat)"


def main():
    IMAGES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        lab = Lab(folder, playwright, width=1560, height=900)
        try:
            lab.open(FRONT).locator(PANEL).first.screenshot(path=str(IMAGES / "front.png"))
            shoot_kit(lab.open(START))
            shoot(lab.open(PAGE))
        finally:
            lab.close()
        shoot_pages(playwright, Path(folder) / "pages")
    print("\n".join(PICTURES))


def shoot_kit(page):
    """Save the kit of the first page as soon as it smokes."""
    kit = page.locator(PANEL).first
    kit.get_by_text("It smokes", exact=True).wait_for()
    kit.screenshot(path=str(IMAGES / "kit.png"))


def shoot(page):
    """Save the pictures from the page of advice."""
    race, explorer, guess = page.locator(PANEL).all()[:3]
    explorer.screenshot(path=str(IMAGES / "explorer.png"))
    guess.get_by_role("radio").first.check()
    guess.get_by_role("button", name="This is my prediction").click()
    guess.get_by_text("You guessed").wait_for()
    page.wait_for_timeout(1500)  # the picture is painted for this screen
    guess.screenshot(path=str(IMAGES / "guess.png"))
    page.set_viewport_size({"width": 1280, "height": 720})
    explorer.locator(".fh-show").first.press("Enter")
    page.wait_for_timeout(1500)
    page.screenshot(path=str(IMAGES / "big.png"))
    page.keyboard.press("Escape")
    shoot_race(page, race)


def shoot_race(page, race):
    """Save the race on a wall as soon as one of the two glows."""
    race.locator(".fh-show").first.press("Enter")
    race.get_by_role("radio", name="Thin").check()
    race.get_by_role("button", name="Go!").click()
    race.get_by_text("It glows", exact=True).wait_for()
    race.get_by_role("button", name="Hold").click()
    page.wait_for_timeout(1500)
    page.screenshot(path=str(IMAGES / "race.png"))


def shoot_pages(playwright, folder):
    """Save what leaves the laptop: two phones, the explorer of a lesson, two sheets."""
    # Loaded here: a test that only wants the names of pictures waits for nothing else.
    from fireheat.pages.page_list import lesson_place, sheet_place
    from fireheat.pages.writing import write_pages

    write_pages(folder, pdf=False)
    (folder / "phones.html").write_text(PHONES, encoding="utf-8")
    browser = launch(playwright)
    page = browser.new_page(viewport={"width": 752, "height": 744})
    page.goto((folder / "phones.html").as_uri())
    left, right = (page.frame_locator("iframe").nth(at) for at in range(2))
    left.locator("#read").click()
    left.locator("#pin").click()
    left.locator("#main_sliders input[type=range]").first.press("PageDown")
    left.locator("body").evaluate("() => scrollTo(0, 0)")
    right.get_by_role("link", name="Time it").click()
    right.locator("#start").click()
    page.screenshot(path=str(IMAGES / "field.png"))
    page.set_viewport_size({"width": 900, "height": 760})
    page.goto((folder / lesson_place("03-what-moves-the-time")).as_uri())
    page.locator(".explorer").first.scroll_into_view_if_needed()
    page.locator(".explorer.alive").first.evaluate("one => scrollTo(0, one.offsetTop - 90)")
    page.screenshot(path=str(IMAGES / "lesson.png"))
    for picture, key, at in (("sheet.png", "gauge", 0), ("chart.png", "chart", 1)):
        page.goto((folder / sheet_place(key)).as_uri())
        page.locator(".page").nth(at).screenshot(path=str(IMAGES / picture))
    browser.close()


if __name__ == "__main__":
    sys.exit(main())
