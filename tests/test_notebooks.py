"""Every notebook keeps the rules, and every rule can be broken."""

import nbformat
import notebook_rules as rules
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output
from refresh_notebooks import METADATA, WIDGET, mark, normalised, notebooks, text

NOTEBOOKS = notebooks()
TITLE = ("markdown", f"# A question?\n\n{rules.WAKE}", [])


def stream(words, name="stdout"):
    return new_output("stream", text=words, name=name)


def shown(**data):
    return new_output("display_data", data={k.replace("_", "/"): v for k, v in data.items()})


def code(source="1 + 1", *outputs):
    return ("code", source, list(outputs))


def sample(cells):
    """Make a notebook, in its kept form, from (kind, source, outputs) triples."""
    notebook = new_notebook(metadata=METADATA)
    for kind, source, outputs in cells:
        if kind == "markdown":
            notebook.cells.append(new_markdown_cell(source))
            continue
        count = 1 + sum(cell.cell_type == "code" for cell in notebook.cells)
        notebook.cells.append(new_code_cell(source, outputs=outputs, execution_count=count))
    return normalised(notebook)


def test_there_are_notebooks_to_check():
    assert NOTEBOOKS
    assert NOTEBOOKS[0].name == "00-start-here.ipynb"


@pytest.mark.parametrize("rule", rules.RULES, ids=lambda rule: rule.__name__)
@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_the_notebook_keeps_the_rule(path, rule):
    assert rule(nbformat.read(path, as_version=4)) == []


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_the_file_is_as_the_refresh_command_writes_it(path):
    assert path.read_text(encoding="utf-8") == text(nbformat.read(path, as_version=4))


FINE = [
    [TITLE, ("markdown", "## A\n### B\n```\n# not a heading\n```\n## C", []), code()],
    [TITLE, ("markdown", "![a spindle](kit.svg) [more](https://example.org/a)", [])],
    [TITLE, code("1 + 1", shown(text_html='<img src="data:x" alt="about 14 s">'))],
    [TITLE, code("\n\n".join(["x = 1"] * rules.MOST_CELL_LINES), stream("14.2 s"))],
    [TITLE, code("a = A()\na"), code("print(a)"), code("for a in b:\n    display(a)")],
    [TITLE, code("1", stream("60 N (1,200 J) takes 2, 3 or (at most) 4 s; “so” (25 to 60 W)"))],
    [
        TITLE,
        code("Predict('x')"),
        ("markdown", "<details><summary>Why?</summary>\n\n**Explain.** So.</details>", []),
        *[code()] * 3,
        ("markdown", "We explain.", []),
        ("markdown", "**Explain.** The other thing.", []),
    ],
]


@pytest.mark.parametrize("rule", rules.RULES, ids=lambda rule: rule.__name__)
@pytest.mark.parametrize("cells", FINE)
def test_a_good_notebook_passes_every_rule(cells, rule):
    assert rule(sample(cells)) == []


BROKEN = [
    (rules.one_title_and_headings_in_order, [code()]),
    (rules.one_title_and_headings_in_order, [TITLE, TITLE]),
    (rules.one_title_and_headings_in_order, [("markdown", "## A\n# B", [])]),
    (rules.one_title_and_headings_in_order, [TITLE, ("markdown", "### skips a level", [])]),
    (rules.the_first_cell_ends_by_telling_how_panels_wake, [("markdown", "# A question?", [])]),
    (
        rules.links_to_pages_bear_their_titles,
        [("markdown", "[02 What moves it?](02-time-to-ember.ipynb)", [])],
    ),
    (
        rules.stated_minutes_are_true,
        [("markdown", "# A question?\n\n**Time:** 5 minutes.\n" + "word " * 3000, [])],
    ),
    (rules.no_stored_errors, [code("1 / 0", new_output("error", ename="E", evalue="no"))]),
    (rules.no_stored_errors, [code("1", stream("careful", "stderr"))]),
    (rules.no_semicolon_hides_a_result, [code("x = 1\nx + 1; ")]),
    (rules.code_is_short, [code("x = 1\n" * (rules.MOST_CELL_LINES + 1))]),
    (rules.code_is_short, [code("x = 1\ny = 2")] * (rules.MOST_CODE_LINES // 2 + 1)),
    (rules.a_panel_is_shown_once, [code("a = A()\na"), code("a")]),
    (rules.a_panel_is_shown_once, [code("a = A()\nPredict('x', then=a)"), code("a.set(x=1)\na")]),
    (rules.a_panel_is_shown_once, [code("a = A()\ndisplay(a)\na")]),
    (rules.pictures_have_text_alternatives, [("markdown", "![](kit.svg)", [])]),
    (rules.pictures_have_text_alternatives, [("markdown", '<img src="a.svg" alt="">', [])]),
    (rules.pictures_have_text_alternatives, [code("1", shown(text_html='<img src="data:x">'))]),
    (rules.results_read_like_numbers, [code("1", stream("np.float64(1.0)"))]),
    (rules.results_read_like_numbers, [code("1", shown(text_plain="<A object at 0x7f00>"))]),
    (rules.nothing_is_fetched_from_elsewhere, [("markdown", "![a](https://a.org/b.png)", [])]),
    (rules.nothing_is_fetched_from_elsewhere, [("markdown", "![a](//a.org/b.png)", [])]),
    (rules.nothing_is_fetched_from_elsewhere, [code("HTML('<script src=\"https://a.org/b\">')")]),
    (rules.results_are_sentences, [code("1", stream("{'diameter': 0.5}: floor x 0.25"))]),
    (rules.results_are_sentences, [code("1", stream("spent (12.5, -3)"))]),
    (rules.results_are_sentences, [code("1", shown(text_plain="array([1., 2.])"))]),
    (rules.only_ideas_are_open, [code(f"{n} + 1") for n in range(rules.MOST_OPEN_CELLS + 1)]),
    (
        rules.no_explanation_stands_open_below_its_prediction,
        [code("Predict('x')"), *[code()] * 4, ("markdown", "**Task.**\n\n**Explain.** So.", [])],
    ),
    (
        rules.no_explanation_stands_open_below_its_prediction,
        [code("Predict('x')"), ("markdown", "## Explain the difference", [])],
    ),
    (
        rules.nothing_is_fetched_from_elsewhere,
        [code("1", shown(text_html="<style>@import 'https://a.org/b.css'</style>"))],
    ),
]


@pytest.mark.parametrize(("rule", "cells"), BROKEN)
def test_a_broken_rule_is_seen(rule, cells):
    assert rule(sample(cells)) != []


def test_a_notebook_not_run_or_run_out_of_order_is_seen():
    notebook = sample([TITLE, code(), code()])
    assert rules.executed_from_top_to_bottom(notebook) == []
    for count in (None, 7):
        notebook.cells[2].execution_count = count
        assert rules.executed_from_top_to_bottom(notebook) != []


def test_stored_widgets_and_strange_forms_are_seen():
    notebook = sample([TITLE, code()])
    notebook.cells[1].outputs = [new_output("display_data", data={WIDGET: {"model_id": "a"}})]
    assert rules.no_widget_state(notebook) != []
    assert rules.kept_as_the_refresh_command_writes_it(notebook) != []
    notebook = sample([TITLE, code()])
    notebook.metadata = {**notebook.metadata, "widgets": {}}
    assert rules.no_widget_state(notebook) != []
    assert rules.kept_as_the_refresh_command_writes_it(notebook) != []


FROM = "from fireheat.panels import Explorer, Predict"


@pytest.mark.parametrize(
    ("source", "folded"),
    [
        ("import numpy as np", True),
        (f"import math\n{FROM}\nexplorer = Explorer()\nexplorer", True),
        (f"{FROM}\nPredict('x', then=Explorer())", True),
        (f"{FROM}\ne = Explorer()\nsteps = (1, 2)\nprint(e.set(count=steps))\ne.reset()", True),
        ("print(bound(3))", False),
        ("force = 60", False),
        (f"{FROM}\nExplorer = bound\nExplorer(3)", False),
        (f"{FROM}\nfor e in range(3):\n    display(Explorer())", False),
        (f"{FROM}\nfound = bound(3)\nprint(found, Explorer())", False),
    ],
)
def test_only_code_that_makes_and_moves_panels_is_folded(source, folded):
    notebook = sample([TITLE, code(source)])
    assert rules.is_folded(notebook.cells[1]) == folded
    notebook.cells[1].metadata = {"tags": ["open"], "jupyter": {"outputs_hidden": False}}
    again = normalised(notebook).cells[1].metadata
    assert again["jupyter"] == {"outputs_hidden": False}


def test_panels_named_in_one_cell_are_known_in_the_next():
    notebook = sample([TITLE, code(f"{FROM}\ne = Explorer()"), code("print(e)\ne.reset()")])
    assert rules.is_folded(notebook.cells[2])


def test_cells_are_marked_with_the_screen_they_begin():
    said = stream("4 s")
    notebook = sample(
        [
            TITLE,
            code(FROM),
            ("markdown", "Words of this section.", []),
            ("markdown", "### And more", []),
            code("e = Explorer()\ne", shown(text_plain="a panel")),
            ("markdown", "What is seen.", []),
            code("print(e)", said),
            ("markdown", "## The next section", []),
            code("print(e)", said),
        ]
    )
    notebook.cells[3].metadata = {"slideshow": {"slide_type": "notes"}}
    notebook.cells[2].metadata = {"slideshow": {"slide_type": "slide"}}
    told = [c.metadata.get("slideshow", {}).get("slide_type") for c in normalised(notebook).cells]
    expected = ["slide", "skip", None, "notes", "subslide", "subslide", None, "slide", None]
    assert told == expected


def test_marking_alone_runs_nothing_and_keeps_what_is_stored(tmp_path):
    path = tmp_path / "page.ipynb"
    notebook = sample([TITLE, code("1 / 0", stream("kept"))])
    notebook.cells[1].metadata = {"collapsed": True}
    path.write_text(nbformat.writes(notebook), encoding="utf-8")
    assert mark(path)
    after = nbformat.read(path, as_version=4)
    assert after.cells[1].outputs[0].text == "kept"
    assert after.cells[1].metadata == {}
    assert path.read_text(encoding="utf-8") == text(after)


def test_the_strokes_that_a_guess_compares_are_those_on_show_when_a_reader_moves_them():
    path = next(path for path in NOTEBOOKS if path.name.startswith("06"))
    first, *cells = rules.code_cells(nbformat.read(path, as_version=4))
    (asking,) = (cell.source for cell in cells if 'Predict("longest_stroke"' in cell.source)
    names = {}
    exec(first.source, names)
    asked = eval(asking, names)
    asked.commit("half the time")
    asked.move_it()
    (panel,) = (each for each in asked.children if isinstance(each, names["Warmth"]))
    assert panel.sentence().startswith("60 cm strokes")
    assert "Before: 30 cm strokes" in panel.sentence()
