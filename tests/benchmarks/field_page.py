"""How large the field page is, and how long a move of a slider takes on a slow phone.

Run by hand: ``python tests/benchmarks/field_page.py``. Work of the page's own thread is counted,
times six for a phone that is six times slower; the clock on the wall, which other work on the
machine lengthens, is printed beside it.
"""

import statistics
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))
from lab import launch

from fireheat.pages.field import field_page

SLOWER, MOVES = 6, 24
MOVE = """async moves => {
    const range = document.getElementById('diameter'), spent = [];
    for (let n = 0; n < moves; n++) {
        range.value = 8 + n / 2;
        const start = performance.now();
        range.dispatchEvent(new Event('input'));
        await new Promise(done => requestAnimationFrame(() => setTimeout(done)));
        spent.push(performance.now() - start);
    }
    return spent;
}"""


def worked(session):
    """Seconds that the page's thread has worked."""
    found = session.send("Performance.getMetrics")["metrics"]
    return next(one["value"] for one in found if one["name"] == "TaskDuration")


def main():
    """Print both sizes of the page, and what a move costs with and without a kept one."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        path = Path(folder) / "field.html"
        path.write_text(field_page(), encoding="utf-8")
        print(f"{path.stat().st_size / 1000:.1f} kB")
        browser = launch(driver)
        page = browser.new_page(viewport={"width": 390, "height": 740})
        page.goto(path.as_uri())
        page.locator("#read").click()
        session = page.context.new_cdp_session(page)
        session.send("Performance.enable", {"timeDomain": "threadTicks"})
        for kept in ("nothing kept", "one kept as before"):
            page.evaluate(MOVE, MOVES)
            before = worked(session)
            page.evaluate(MOVE, MOVES)
            work = 1000 * SLOWER * (worked(session) - before) / MOVES
            session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
            wall = statistics.median(page.evaluate(MOVE, MOVES))
            session.send("Emulation.setCPUThrottlingRate", {"rate": 1})
            print(f"{kept}: {work:.0f} ms of work, {wall:.0f} ms on the wall")
            page.locator("#pin").click()
        browser.close()


if __name__ == "__main__":
    main()
