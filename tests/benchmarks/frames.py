"""Time the frames of a race as a reader sees it: in JupyterLab, in a real browser.

Run: python tests/benchmarks/frames.py [seconds]

Printed is the work of a frame, from when the browser begins it until it has painted, and the time
from one frame to the next. A screen shows 60 frames a second: the work should take no more than
16 ms.
"""

import sys
import tempfile
from pathlib import Path

import numpy as np
from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))

from lab import Lab  # a tool beside the tests is no package

PAGE = "03-what-moves-the-time.ipynb"
RACE = ".fireheat:has(.fh-race)"
# A message that a frame posts is heard once that frame is painted.
MEASURE = """seconds => new Promise(done => {
    const work = [], starts = [], end = performance.now() + 1000 * seconds;
    const channel = new MessageChannel();
    channel.port1.onmessage = () => work.push(performance.now() - starts.at(-1));
    const frame = () => {
        starts.push(performance.now());
        channel.port2.postMessage(null);
        if (starts.at(-1) < end) requestAnimationFrame(frame);
        else setTimeout(() => done([work, starts]), 100);
    };
    requestAnimationFrame(frame);
})"""


def line(name, times):
    """Spell the middle, the slowest of a hundred, and the slowest of all."""
    middle, slow, worst = np.percentile(times, [50, 99, 100])
    return f"{name:24s} {middle:6.1f} ms {slow:6.1f} ms {worst:6.1f} ms   {len(times)} frames"


def main(seconds=10.0):
    """Print the timings."""
    print(f"{'':24s} {'median':>9s} {'99 %':>9s} {'worst':>9s}")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        lab = Lab(Path(folder) / "notebooks", playwright, width=1366, height=768)
        try:
            page = lab.open(PAGE)
            race = page.locator(RACE)
            race.evaluate("race => race.scrollIntoView({ block: 'start' })")
            for what in ("standing", "racing", "racing, shown big"):
                if what == "racing":
                    race.get_by_label("Thin", exact=True).check()
                    race.get_by_role("button", name="Go!").click()
                    race.get_by_role("button", name="Hold").wait_for()
                elif what.endswith("big"):
                    page.set_viewport_size({"width": 1280, "height": 720})
                    race.locator("> .fh-show").click()
                lab.settle()
                work, starts = page.evaluate(MEASURE, seconds)
                print(line(f"{what}: work", work))
                print(line(f"{what}: apart", np.diff(starts)))
        finally:
            lab.close()


if __name__ == "__main__":
    main(*map(float, sys.argv[1:]))
