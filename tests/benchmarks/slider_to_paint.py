"""From a slider's key press to the new picture on screen, in JupyterLab:  python FILE [STEPS].

The time explorer beside what most notebooks do: `interactive_output` and an inline pyplot figure
of the same size with the same curves. Both stand in one notebook, on one kernel, behind the
`fireheat` command. Prints median and 95th percentile of each, and their ratio.
"""

import statistics
import sys
import tempfile
from pathlib import Path

import nbformat
from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))
from lab import Lab

OURS = """
from fireheat.panels import Explorer
Explorer()
"""

PLAIN = """
import ipywidgets as widgets
import matplotlib.pyplot as plt
from fireheat import Try
from fireheat.answers.explorer import outlook

def draw(diameter, force, friction, speed):
    moved = {"diameter": diameter / 1000, "force": force, "friction": friction, "speed": speed}
    found = outlook(Try().changed(**moved), across="diameter")
    x = 1000 * found.values
    figure, axes = plt.subplots(figsize=(8, 3.36))
    smoke, ember = found.sweep.smoke_all, found.sweep.all
    axes.fill_between(x, *smoke.ends, alpha=0.2)
    axes.fill_between(x, *ember.ends, alpha=0.2)
    axes.plot(x, found.sweep.bound.likely, "--", x, smoke.likely, x, ember.likely)
    axes.plot(1000 * found.here, found.now.ember.likely, "o")
    axes.axvline(1000 * found.here)
    axes.set(yscale="log", ylim=(0.8, 2600), xlabel="Spindle diameter (mm)", ylabel="time (s)")
    plt.show()

sliders = {
    "diameter": widgets.FloatSlider(13, min=6, max=32, step=0.5, description="Diameter"),
    "force": widgets.FloatSlider(60, min=10, max=150, step=5, description="Force"),
    "friction": widgets.FloatSlider(0.35, min=0.1, max=0.8, step=0.01, description="Friction"),
    "speed": widgets.FloatSlider(1, min=0.2, max=2.5, step=0.05, description="Speed"),
}
widgets.VBox([widgets.interactive_output(draw, sliders), *sliders.values()])
"""

# Counts from the key to the frame after the one in which the new picture has been decoded.
WATCH = """
(cell) => new Promise((done, fail) => {
  setTimeout(() => fail(new Error(`no new picture: ${cell.innerText.slice(-500)}`)), 20000);
  const before = cell.querySelector('.jp-OutputArea-output img')?.src;
  let start = null;
  const down = () => { start = performance.now(); };
  document.addEventListener('keydown', down, { capture: true, once: true });
  const look = new MutationObserver(async () => {
    const image = cell.querySelector('.jp-OutputArea-output img');
    if (!image || image.src === before || start === null) return;
    try { await image.decode(); } catch { return; } // the next picture has taken its place
    look.disconnect();
    requestAnimationFrame(() => setTimeout(() => done(performance.now() - start), 0));
  });
  look.observe(cell, { childList: true, subtree: true, attributes: true });
  window.armed = true;
})
"""


def main():
    """Measure both and print."""
    steps = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    notebook = nbformat.v4.new_notebook(
        metadata={"kernelspec": {"name": "python3", "display_name": "Python 3"}},
        cells=[nbformat.v4.new_code_cell(source.strip()) for source in (OURS, PLAIN)],
    )
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        nbformat.write(notebook, Path(folder) / "race.ipynb")
        lab = Lab(folder, playwright, width=1280, height=1400)
        try:
            page = lab.open("race.ipynb")
            cells = page.locator(".jp-CodeCell")
            for slider in ("diameter", "force"):
                names = ("fireheat", "interactive_output")
                took = {
                    name: measure(page, cells.nth(i), slider, steps) for i, name in enumerate(names)
                }
                report(slider, took)
        finally:
            lab.close()


def measure(page, cell, slider, steps):
    """Press arrow keys on a slider, and return how long each picture took, in milliseconds."""
    handle = cell.locator(".noUi-handle").nth(["diameter", "force"].index(slider))
    took = []
    for step in range(steps + 5):
        handle.focus()
        watched = cell.evaluate_handle(f"(cell) => ({{ done: ({WATCH})(cell) }})")
        page.keyboard.press("ArrowRight" if step % 20 < 10 else "ArrowLeft")
        took.append(watched.evaluate("(watched) => watched.done"))
        page.wait_for_timeout(150)
    return took[5:]  # the first few warm things up


def report(slider, took):
    """Print medians, 95th percentiles and their ratio."""
    medians = {name: statistics.median(times) for name, times in took.items()}
    for name, times in took.items():
        late = statistics.quantiles(times, n=20)[-1]
        print(f"{slider:9s} {name:20s} median {medians[name]:5.0f} ms, 95 % within {late:5.0f} ms")
    ours, plain = medians.values()
    print(f"{slider:9s} {plain / ours:.1f} times as fast")


if __name__ == "__main__":
    main()
