"""Every lesson and the list, walked whole at four widths: what is cut off, too small, or not named.

Run by hand: ``python tests/benchmarks/lessons.py``. All folds are open and all explorers and cards
are alive. A line is printed for whatever runs over the window, is lower than a finger, has an id
twice or scrolls sideways, and for each finding of axe at 390 and 1280 pixels; then each size.
"""

import sys
import tempfile
from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))
from lab import launch

from fireheat.pages.lesson_page import lesson_names, lesson_page
from fireheat.pages.page_list import page_list

WIDTHS = {320: False, 390: True, 820: False, 1280: True}  # and whether axe looks
OPEN = """async () => {
    for (const one of document.querySelectorAll('details')) one.open = true;
    for (const look of ['unseen', 'later']) {
        for (const one of document.querySelectorAll(`.${look}`)) one.classList.remove(look);
    }
    for (let y = 0; y < document.documentElement.scrollHeight; y += 700) {
        scrollTo(0, y);
        await new Promise(done => setTimeout(done, 30));
    }
    dispatchEvent(new Event('resize'));
}"""
LOOK = """() => {
    const seen = [...document.querySelectorAll('body *')].filter(one => one.checkVisibility());
    const over = seen.filter(one => one.getBoundingClientRect().right > innerWidth + 1
        && !one.closest('.wide, .shown, .sideways, svg'));
    const low = seen.filter(one => one.getBoundingClientRect().height < 43.5
        && one.matches('button, summary, select, label:has([type=radio]), nav a, .pages a'));
    const wide = seen.filter(one => one.matches('.wide, .shown, .sideways')
        && one.scrollWidth > one.clientWidth + 1);
    const ids = seen.map(one => one.id).filter(Boolean);
    const twice = ids.filter((id, at) => ids.indexOf(id) !== at);
    const told = ones => ones.map(one => one.textContent.trim().slice(0, 40));
    return { over: told(over), low: told(low), sideways: told(wide), twice };
}"""

if __name__ == "__main__":
    files = {name: lesson_page(name) for name in lesson_names()} | {"list": page_list({})}
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        page = launch(playwright).new_context(offline=True).new_page()
        for name, text in files.items():
            file = Path(folder) / f"{name}.html"
            file.write_text(text, encoding="utf-8")
            page.goto(file.as_uri())
            for width, axe in WIDTHS.items():
                page.set_viewport_size({"width": width, "height": 900})
                page.evaluate(OPEN)
                for what, ones in page.evaluate(LOOK).items():
                    if ones:
                        print(f"{name} at {width}: {what}: {ones[:4]}")
                for rule in Axe().run(page).response["violations"] if axe else []:
                    print(f"{name} at {width}: axe: {rule['id']}, {rule['impact']}")
            print(f"{name}: {len(text.encode()) / 1000:.0f} kB")
