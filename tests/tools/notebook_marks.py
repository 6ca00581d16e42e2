"""What a notebook's cells are marked with: which code is folded, and what is on which screen.

A cell is folded if it only imports, ends in a panel, or does nothing but move panels: a reader has
no use for its code. The few that carry an idea stay open. A cell tagged ``open`` is never folded.
"""

import ast
import re

OPEN = "open"
SAID = {"print", "display"}
SECTION = re.compile(r"#{1,2} +\S")
NOTES = "notes"
KEPT = ("skip", NOTES)  # a writer's own marks of words: not in a hall; notes may come of code


def marked(notebook):
    """Mark each cell of a notebook, and return it."""
    panels, after_panel = set(), False
    for cell in notebook.cells:
        shows = False
        if cell.cell_type == "code":
            body = ast.parse(cell.source).body
            shows = _ends_in_panel(body, panels)
            folded = shows or _only_works_panels(body, panels)
            _fold(cell.metadata, folded and OPEN not in cell.metadata.get("tags", []))
        told = _slide_type(cell, shows, after_panel)
        cell.metadata.pop("slideshow", None)
        if told:
            cell.metadata["slideshow"] = {"slide_type": told}
        after_panel = shows or (after_panel and told == "skip")
    return notebook


def _fold(metadata, folded):
    """Fold a cell's code, or unfold it; what else is said of the cell stays."""
    own = {key: said for key, said in metadata.get("jupyter", {}).items() if key != "source_hidden"}
    metadata.pop("jupyter", None)
    if folded or own:
        metadata["jupyter"] = {**own, **({"source_hidden": True} if folded else {})}


def _slide_type(cell, shows, after_panel):
    """Name the place of a cell in the standard words for slides; None: with the one before."""
    own = cell.metadata.get("slideshow", {}).get("slide_type")
    if own == NOTES:
        return own
    if cell.cell_type == "markdown":
        if own in KEPT:
            return own
        if SECTION.match(cell.source):
            return "slide"
    elif not cell.outputs:
        return "skip"
    return "subslide" if shows or after_panel else None


def _names(node, kind=ast.Load):
    found = (part for part in ast.walk(node) if isinstance(part, ast.Name))
    return {name.id for name in found if isinstance(name.ctx, kind)}


def _ends_in_panel(body, panels):
    """Tell whether a cell shows a panel at its end; panels named in it are noted on the way."""
    for statement in body:
        if isinstance(statement, ast.ImportFrom) and statement.module == "fireheat.panels":
            panels |= {name.asname or name.name for name in statement.names}
        if isinstance(statement, ast.Assign):
            made = _is_panel(statement.value, panels)
            names = set().union(*(_names(target, ast.Store) for target in statement.targets))
            panels |= names if made else set()
            panels -= set() if made else names
    last = body[-1] if body else None
    return isinstance(last, ast.Expr) and _is_panel(last.value, panels)


def _is_panel(node, panels):
    node = node.func if isinstance(node, ast.Call) else node
    return isinstance(node, ast.Name) and node.id in panels


def _only_works_panels(body, panels):
    """Tell whether a cell does nothing but import, name plain values, and move panels."""
    known = {*panels, *SAID}
    others = [each for each in body if not isinstance(each, ast.Import | ast.ImportFrom)]
    for statement in others:
        if not isinstance(statement, ast.Assign | ast.Expr) or _names(statement) - known:
            return False
        known |= _names(statement, ast.Store)
    return not others or any(_names(statement) & panels for statement in others)
