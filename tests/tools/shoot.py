"""Save pictures of a notebook as JupyterLab shows it.

    python tests/tools/shoot.py NOTEBOOK OUT_DIR [--width 1280] [--height 720] [--dark] [--big]

Runs all cells and saves the window (``window.png``), then each code cell's output
(``cell-03.png``, counted from 1) and, in cells with widgets, each of those (``cell-03-panel.png``).
With ``--big`` each panel is shown big, as a hall sees it, and the window saved
(``cell-03-panel-1-big.png``).
"""

import argparse
import shutil
import sys
import tempfile
from pathlib import Path

from lab import Lab
from playwright.sync_api import sync_playwright


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("notebook", type=Path)
    parser.add_argument("out_dir", type=Path)
    parser.add_argument("--width", type=int, default=1280)
    parser.add_argument("--height", type=int, default=720)
    parser.add_argument("--dark", action="store_true")
    parser.add_argument("--big", action="store_true")
    options = parser.parse_args()
    options.out_dir.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        shutil.copy(options.notebook, folder)
        lab = Lab(folder, playwright, width=options.width, height=options.height, dark=options.dark)
        try:
            lab.open(options.notebook.name)
            (shoot_big if options.big else shoot)(lab, options.out_dir)
            errors = lab.errors()
        finally:
            lab.close()
    print("\n".join([f"saved in {options.out_dir}", *errors]))
    return 1 if errors else 0


def shoot(lab, out_dir):
    """Save the window, then each output area and each panel in it."""
    page = lab.page
    lab.screenshot(out_dir / "window.png")
    make_room(page)
    cells = page.locator(".jp-Notebook .jp-CodeCell")
    for number in range(cells.count()):
        outputs = cells.nth(number).locator(".jp-OutputArea.jp-Cell-outputArea")
        if not outputs.count() or not outputs.first.locator(".jp-OutputArea-child").count():
            continue
        outputs.first.scroll_into_view_if_needed()
        outputs.first.screenshot(path=str(out_dir / f"cell-{number + 1:02d}.png"))
        panels = outputs.first.locator(".jp-OutputArea-output > .jupyter-widgets")
        for index in range(panels.count()):
            suffix = f"-{index + 1}" if panels.count() > 1 else ""
            panels.nth(index).screenshot(
                path=str(out_dir / f"cell-{number + 1:02d}-panel{suffix}.png")
            )


def shoot_big(lab, out_dir):
    """Save the window with each panel shown big in it."""
    cells = lab.page.locator(".jp-Notebook .jp-CodeCell")
    for number in range(cells.count()):
        for index, show in enumerate(cells.nth(number).locator(".fh-show").all(), start=1):
            show.press("Enter")
            lab.page.wait_for_timeout(1000)
            lab.screenshot(out_dir / f"cell-{number + 1:02d}-panel-{index}-big.png")
            lab.page.keyboard.press("Escape")


def make_room(page):
    """Make the window so high that the tallest output fits; JupyterLab would cut it off."""
    heights = page.evaluate(
        "() => [...document.querySelectorAll('.jp-Cell-outputArea')].map(e => e.offsetHeight)"
    )
    width, height = page.viewport_size["width"], page.viewport_size["height"]
    page.set_viewport_size({"width": width, "height": height + round(max(heights, default=0))})
    page.wait_for_timeout(500)


if __name__ == "__main__":
    sys.exit(main())
