"""How large the field page is, and how long a move of a slider takes on a slow phone.

Run by hand: ``python tests/benchmarks/field_page.py``. A key is pressed on a slider, as a reader
does. Work is what the page's own thread does for it (reckoning, styles, layout, painting), times
six for a phone that is six times slower. On the wall, with the browser slowed six times: from the
key to the end of the frame that shows it, the wait for that frame included; other work on the
machine makes it longer. Other threads put the picture on the screen, which is in neither.
"""

import statistics
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))
from lab import launch

from fireheat.answers.next_try import EVENING_DRAWS
from fireheat.pages.field import field_page
from fireheat.trials.log import demo_log
from fireheat.trials.our_fire import our_fire
from fireheat.trials.reading import read_log

SLOWER, MOVES = 6, 24
# After the frame that follows a key, once it is painted, how long ago the key was.
WATCH = """() => {
    window.spent = [];
    document.getElementById('diameter').addEventListener('input', event =>
        requestAnimationFrame(() => {
            const channel = new MessageChannel();
            channel.port1.onmessage = () => window.spent.push(performance.now() - event.timeStamp);
            channel.port2.postMessage(0);
        }));
}"""
SHOWN = "() => new Promise(done => requestAnimationFrame(() => setTimeout(done, 20)))"


def worked(session):
    """Seconds that the page's thread has worked."""
    found = session.send("Performance.getMetrics")["metrics"]
    return next(one["value"] for one in found if one["name"] == "TaskDuration")


def moved(page, session, moves=MOVES):
    """Press a key as often as that; return how long each was on the way, in ms."""
    page.evaluate("window.spent = []")
    for n in range(moves):
        key = "ArrowRight" if n < moves / 2 else "ArrowLeft"
        code = {"key": key, "code": key, "windowsVirtualKeyCode": 39 if n < moves / 2 else 37}
        for event in ("rawKeyDown", "keyUp"):
            session.send("Input.dispatchKeyEvent", {"type": event, **code})
        page.evaluate(SHOWN)
    return page.evaluate("window.spent")


def main():
    """Print sizes of the page, and what a move costs, with a kept one and own evenings or not."""
    fire = our_fire(read_log(demo_log()).tries, draws=EVENING_DRAWS)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        browser = launch(driver)
        for name, text in (("plain", field_page()), ("with own evenings", field_page(fire))):
            print(f"{name}: {len(text.encode()) / 1000:.1f} kB")
            path = Path(folder) / "field.html"
            path.write_text(text, encoding="utf-8")
            page = browser.new_page(viewport={"width": 390, "height": 740})
            page.goto(path.as_uri())
            page.locator("#read").click()
            page.evaluate(WATCH)
            page.locator("#diameter").focus()
            session = page.context.new_cdp_session(page)
            session.send("Performance.enable", {"timeDomain": "threadTicks"})
            for kept in ("nothing kept", "one kept as before"):
                moved(page, session, 2 * MOVES)
                before = worked(session)
                moved(page, session)
                work = 1000 * SLOWER * (worked(session) - before) / MOVES
                session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
                wall = sorted(moved(page, session))
                session.send("Emulation.setCPUThrottlingRate", {"rate": 1})
                print(
                    f"  {kept}: {work:.0f} ms of work, {statistics.median(wall):.0f} ms on the"
                    f" wall, {wall[-3]:.0f} ms at worst but two of {MOVES}"
                )
                page.locator("#pin").click()
                page.locator("#diameter").focus()
            page.close()
        browser.close()


if __name__ == "__main__":
    main()
