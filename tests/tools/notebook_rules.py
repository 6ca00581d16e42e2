"""Rules that every notebook keeps; run as a script, it says which are broken.

    python tests/tools/notebook_rules.py [NOTEBOOK ...]

Each rule is a function from a notebook to a list of complaints.
"""

import ast
import re
import sys
from collections import Counter
from itertools import pairwise
from pathlib import Path

import nbformat
from refresh_notebooks import NOTEBOOKS, WIDGET, normalised, notebooks, text

MOST_CODE_LINES = 60
MOST_CELL_LINES = 8
MOST_OPEN_CELLS = 4  # those that carry an idea, and invite a reader to change a number
FAR = 5  # cells below a prediction, within which its answer is in view
WAKE = (
    "*The panels wake up by themselves. If one does not move, "
    "choose **Run → Run All Cells** in the menu above.*"
)

FENCE = re.compile(r"^(```|~~~).*?^\1", re.MULTILINE | re.DOTALL)
HEADING = re.compile(r"^(#{1,6}) +\S", re.MULTILINE)
PICTURE = re.compile(r"!\[(?P<alt>[^\]]*)\]\((?P<address>[^)]*)\)")
IMG = re.compile(r"<img\b[^>]*>", re.IGNORECASE)
ALT = re.compile(r"""\balt\s*=\s*("[^"]*\w[^"]*"|'[^']*\w[^']*')""", re.IGNORECASE)
FOLDED = re.compile(r"<details\b.*?</details>", re.DOTALL | re.IGNORECASE)
EXPLAINED = re.compile(r"^(\*\*|#+ +)Explain", re.MULTILINE)
# Numbers or words between brackets with commas or colons, as Python shows its own.
DATA = re.compile(
    r"""[\[({]\s*(['"])[^'"\n]*\1\s*[,:\])}]|[\[(]\s*-?\d[\d.e+-]*,\s+-?\d|\barray\(|\{\d[^\n{}]*:"""
)
FETCHED = re.compile(
    r"""<(script|link|iframe|img)\b[^>]*\b(src|href)\s*=\s*["']?\s*(https?:)?//"""
    r"""|@import\s|\burl\(\s*["']?\s*(https?:)?//|\bimport\s*\(\s*["'](https?:)?//""",
    re.IGNORECASE,
)


def markdown(notebook):
    """Text of the markdown cells, without what is quoted as code."""
    cells = [c.source for c in notebook.cells if c.cell_type == "markdown"]
    return FENCE.sub("", "\n\n".join(cells))


def code_cells(notebook):
    return [cell for cell in notebook.cells if cell.cell_type == "code"]


def outputs(notebook):
    return [output for cell in code_cells(notebook) for output in cell.outputs]


def words(notebook):
    """Yield every text that outputs hold, as (mime type, text)."""
    for output in outputs(notebook):
        yield "text/plain", output.get("text", "")
        for mime, data in output.get("data", {}).items():
            if mime.startswith("text/") or mime.endswith("xml"):
                yield mime, data


def is_folded(cell):
    return cell.metadata.get("jupyter", {}).get("source_hidden", False)


def code_lines(cell):
    return [line for line in cell.source.splitlines() if line.strip()]


def one_title_and_headings_in_order(notebook):
    levels = [len(marks) for marks in HEADING.findall(markdown(notebook))]
    found = []
    if levels.count(1) != 1 or levels[0] != 1:
        found.append(f"one first-level heading, at the top: levels are {levels}")
    steps = [f"level {low} after {high}" for high, low in pairwise(levels) if low > high + 1]
    return found + steps


def the_first_cell_ends_by_telling_how_panels_wake(notebook):
    last = notebook.cells[0].source.splitlines()[-1:]
    return [] if last == [WAKE] else [f"the first cell ends with {last}, not with {WAKE}"]


def executed_from_top_to_bottom(notebook):
    counts = [cell.execution_count for cell in code_cells(notebook)]
    expected = list(range(1, len(counts) + 1))
    return [] if counts == expected else [f"execution counts are {counts}"]


def no_stored_errors(notebook):
    found = [f"{o.ename}: {o.evalue}" for o in outputs(notebook) if o.output_type == "error"]
    return found + [o.text for o in outputs(notebook) if o.get("name") == "stderr"]


def no_widget_state(notebook):
    found = ["widget state in the metadata"] if "widgets" in notebook.metadata else []
    return found + [
        "a widget's view is stored" for o in outputs(notebook) if WIDGET in o.get("data", {})
    ]


def kept_as_the_refresh_command_writes_it(notebook):
    same = text(notebook) == text(normalised(nbformat.from_dict(notebook)))
    return [] if same else ["run tests/tools/refresh_notebooks.py"]


def no_semicolon_hides_a_result(notebook):
    lines = [line for cell in code_cells(notebook) for line in code_lines(cell)]
    return [line for line in lines if line.rstrip().endswith(";")]


def code_is_short(notebook):
    shown = [c for c in code_cells(notebook) if not is_folded(c)]
    total = sum(len(code_lines(cell)) for cell in shown)
    found = [f"{total} lines of code"] if total > MOST_CODE_LINES else []
    long = [cell for cell in code_cells(notebook) if len(code_lines(cell)) > MOST_CELL_LINES]
    return found + [f"{len(code_lines(c))} lines in one cell: {code_lines(c)[0]}" for c in long]


def names_shown(statement, last):
    """Return the names a statement shows: last in its cell, displayed, or after a prediction."""
    calls = [node for node in ast.walk(statement) if isinstance(node, ast.Call)]
    found = [keyword.value for call in calls for keyword in call.keywords if keyword.arg == "then"]
    found += [each for call in calls if ast.unparse(call.func) == "display" for each in call.args]
    if last and isinstance(statement, ast.Expr):
        found.append(statement.value)
    return [node.id for node in found if isinstance(node, ast.Name)]


def a_panel_is_shown_once(notebook):
    """Two views of one panel move each other; a name given to a new object starts afresh."""
    times: Counter[str] = Counter()
    found = []
    for cell in code_cells(notebook):
        body = ast.parse(cell.source).body
        for statement in body:
            nodes = [node for node in ast.walk(statement) if isinstance(node, ast.Name)]
            times.update({n.id: -times[n.id] for n in nodes if isinstance(n.ctx, ast.Store)})
            shown = names_shown(statement, last=statement is body[-1])
            times.update(shown)
            found += [f"{name} is shown again" for name in shown if times[name] > 1]
    return found


def pictures_have_text_alternatives(notebook):
    said = markdown(notebook)
    found = [p.group() for p in PICTURE.finditer(said) if not p["alt"].strip()]
    pages = [said, *(data for mime, data in words(notebook) if mime == "text/html")]
    return found + [tag[:80] for page in pages for tag in IMG.findall(page) if not ALT.search(tag)]


def results_read_like_numbers(notebook):
    plain = [data for mime, data in words(notebook) if mime == "text/plain"]
    return [data[:80] for data in plain if "np." in data or re.search(r" at 0x[0-9a-f]+>", data)]


def results_are_sentences(notebook):
    """A dictionary or a tuple of Python's looks like an accident to those who do not write it."""
    plain = [data for mime, data in words(notebook) if mime == "text/plain"]
    return [found.group() for data in plain for found in DATA.finditer(data)]


def only_ideas_are_open(notebook):
    shown = [c for c in code_cells(notebook) if not is_folded(c)]
    return [f"{len(shown)} cells with open code"] if len(shown) > MOST_OPEN_CELLS else []


def no_explanation_stands_open_below_its_prediction(notebook):
    """Whoever sees the answer has nothing to predict."""
    found = []
    for number, cell in enumerate(notebook.cells):
        if cell.cell_type == "code" and "Predict(" in cell.source:
            below = notebook.cells[number + 1 : number + 1 + FAR]
            open_words = [FOLDED.sub("", c.source) for c in below if c.cell_type == "markdown"]
            found += [f"below {cell.source}" for said in open_words if EXPLAINED.search(said)]
    return found


def nothing_is_fetched_from_elsewhere(notebook):
    pages = [markdown(notebook), *(data for _, data in words(notebook))]
    pages += [cell.source for cell in code_cells(notebook)]
    found = [match.group() for page in pages for match in FETCHED.finditer(page)]
    pictures = PICTURE.finditer(markdown(notebook))
    return found + [p.group() for p in pictures if re.match(r"\s*(https?:)?//", p["address"])]


LINK = re.compile(r"\[(\d\d) ([^\]]*)\]\((\d\d-[a-z-]+\.ipynb)")


def links_to_pages_bear_their_titles(notebook):
    """A link that gives a page's number and words gives its title's words."""
    found = []
    for number, said, name in LINK.findall(markdown(notebook)):
        title = HEADING_TEXT.search(nbformat.read(NOTEBOOKS / name, as_version=4).cells[0].source)
        if number != name[:2] or said != title.group(1):
            found.append(f"[{number} {said}] leads to {title.group(1)}")
    return found


HEADING_TEXT = re.compile(r"^# +(.*)$", re.MULTILINE)
MINUTES = re.compile(r"\*\*Time:\*\* (\d+) minutes")
# Words a minute of a young reader, and minutes for each question, card, derivation or panel: a
# guess and what comes of it, a task done, steps said aloud. Our estimate; no class was timed.
WORDS_A_MINUTE = 150
TAKES = {"Predict(": 3.0, "SelfCheck(": 1.5, "WhatIf(": 6.0, "Stepper(": 8.0}
A_PANEL = 4.0
ROUGHLY = 1.35  # how far off the stated minutes may be


def minutes(notebook):
    """Tell how long a page takes: its words, folded ones too, its questions and its panels."""
    words = len(re.findall(r"\w+", re.sub(r"\|.*\||\$[^$]*\$", "", markdown(notebook))))
    made = "\n".join(cell.source for cell in code_cells(notebook))
    asked = sum(each * made.count(call) for call, each in TAKES.items())
    shown = [c for c in code_cells(notebook) if is_folded(c) and "import" not in c.source]
    alone = [c for c in shown if not any(call in c.source for call in TAKES)]
    return words / WORDS_A_MINUTE + asked + A_PANEL * len(alone)


def stated_minutes_are_true(notebook):
    """The time a page asks for is what its words, questions and panels take."""
    stated = MINUTES.search(notebook.cells[0].source)
    if stated is None:
        return []
    said, takes = int(stated.group(1)), minutes(notebook)
    near = takes / ROUGHLY <= said <= takes * ROUGHLY
    return [] if near else [f"says {said} minutes and takes {takes:.0f}"]


RULES = [
    one_title_and_headings_in_order,
    the_first_cell_ends_by_telling_how_panels_wake,
    executed_from_top_to_bottom,
    no_stored_errors,
    no_widget_state,
    kept_as_the_refresh_command_writes_it,
    no_semicolon_hides_a_result,
    code_is_short,
    a_panel_is_shown_once,
    pictures_have_text_alternatives,
    results_read_like_numbers,
    nothing_is_fetched_from_elsewhere,
    results_are_sentences,
    only_ideas_are_open,
    no_explanation_stands_open_below_its_prediction,
    links_to_pages_bear_their_titles,
    stated_minutes_are_true,
]


def main():
    broken = 0
    for path in [Path(name) for name in sys.argv[1:]] or notebooks():
        notebook = nbformat.read(path, as_version=4)
        for rule in RULES:
            for complaint in rule(notebook):
                broken += 1
                print(f"{path.name}: {rule.__name__.replace('_', ' ')}: {complaint}")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
