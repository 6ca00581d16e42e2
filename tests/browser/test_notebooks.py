"""Every notebook, run whole in a real browser: what its panels then say is what is stored."""

import re
from pathlib import Path

import nbformat
import pytest

from fireheat.lessons import worked_out
from fireheat.shipped import START

# What a reader sees of a page, but for the questions themselves, whose options hold the right one.
SEEN = """() => {
    const asked = [...document.querySelectorAll('.jp-Notebook:not([hidden]) .fh-ask')];
    asked.forEach(one => { one.style.display = 'none'; });
    const seen = document.querySelector('.jp-Notebook').innerText;
    asked.forEach(one => { one.style.display = ''; });
    return seen;
}"""
# A number that is as before tells nothing: that it is as before would.
NUMBER = re.compile(r"(?:about )?(\d[\d.,]* (?:%|times|W|J|s))(?![\w,]).*")
GUIDE = "teacher-guide.ipynb"
NOTEBOOKS = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_after_running_all_cells_every_panel_says_what_is_stored(lab, path):
    page = lab.turn_to(path.name)
    assert lab.errors() == []
    said = [
        panel.locator(".fh-voice").first.text_content().replace("\xa0", " ")
        for panel in page.locator(".jp-OutputArea-output .fireheat:not(.fireheat .fireheat)").all()
    ]
    stored = [
        "".join(output["data"]["text/plain"])
        for cell in nbformat.read(path, as_version=4).cells
        for output in cell.get("outputs", [])
        if output["output_type"] == "execute_result"
    ]
    if path.name not in (START, GUIDE):  # doors say nothing until units move; plans never do
        assert len(said) == len(stored)
        for now, then in zip(said, stored, strict=True):
            assert now in then
    asked = re.findall(r'Predict\(\s*"(\w+)"', path.read_text(encoding="utf-8").replace('\\"', '"'))
    seen = plain(page.evaluate(SEEN))
    assert [(key, told) for key in asked for told in answers(key) if holds(seen, told)] == []


def test_on_a_wall_the_guide_keeps_its_key_to_itself(lab):
    page = lab.page if lab.shows(GUIDE) else lab.turn_to(GUIDE)
    page.evaluate("() => window.jupyterapp.commands.execute('fireheat:present')")
    page.locator(".fh-hall-count").wait_for()
    page.keyboard.press("Home")
    many = int(page.locator(".fh-hall-count").inner_text().split(" of ")[1])
    seen = []
    for _ in range(many - 1):
        seen.append(page.evaluate("() => document.querySelector('.fh-shown').innerText"))
        page.keyboard.press("PageDown")
    assert "A 45-minute lesson without electricity" in seen[1]
    assert not [words for words in seen if "hands have been counted" in words]
    page.keyboard.press("Escape")


def plain(words):
    """Words alone, whatever their case and spaces."""
    return " ".join(words.split()).lower()


def answers(key):
    """What would tell the answer of a prediction: its right option, what was found, its number."""
    found = worked_out(key)
    number = NUMBER.fullmatch(found.found)
    return {found.right, found.found, number.group(1) if number else ""} - {""}


def holds(seen, told):
    """Tell whether a page holds words, and not only as part of others."""
    return re.search(rf"(?<!\w){re.escape(plain(told))}(?!\w)", seen) is not None


@pytest.mark.parametrize("told", ["half the time", "5.3 times", "a quarter of the time"])
def test_a_page_that_tells_is_seen(told):
    assert holds(plain(f"Pressed harder it takes\u00a0{told.upper()}."), told)
    assert not holds(plain(f"x{told}x"), told)
