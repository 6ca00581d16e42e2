"""Every notebook, run whole in a real browser: what its panels then say is what is stored."""

from pathlib import Path

import nbformat
import pytest

NOTEBOOKS = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_after_running_all_cells_every_panel_says_what_is_stored(lab, path):
    page = lab.turn_to(path.name)
    assert lab.errors() == []
    said = [
        panel.locator(".fh-voice").first.text_content()
        for panel in page.locator(".jp-OutputArea-output .fireheat:not(.fireheat .fireheat)").all()
    ]
    stored = [
        "".join(output["data"]["text/plain"])
        for cell in nbformat.read(path, as_version=4).cells
        for output in cell.get("outputs", [])
        if output["output_type"] == "execute_result"
    ]
    assert len(said) == len(stored)
    for now, then in zip(said, stored, strict=True):
        assert now in then
