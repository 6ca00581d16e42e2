"""Make the notebooks' stored outputs. The only command that does.

    python tests/tools/refresh_notebooks.py [--metadata-only] [NAME ...]

Runs each notebook (all of them if none is named) in a fresh kernel and writes it back in one fixed
form. What a live widget needs is left out: where no kernel runs, a page shows the sentence and the
picture that a panel stores beside it. A notebook with an error is not written.
``--metadata-only`` runs nothing: it folds code and marks screens anew, as ``notebook_marks.py``
says, and leaves outputs as they are.
"""

import argparse
import hashlib
import os
import sys
import tempfile
from collections import Counter
from pathlib import Path

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError
from notebook_marks import marked

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
WIDGET = "application/vnd.jupyter.widget-view+json"
METADATA = {
    "kernelspec": {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"},
    "language_info": {"name": "python"},
}
CELL_METADATA = ("jupyter", "slideshow", "tags")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("names", nargs="*", metavar="NAME", help="such as 03-what-moves-the-time")
    parser.add_argument("--metadata-only", action="store_true", help="run nothing; mark cells anew")
    options = parser.parse_args()
    chosen = [NOTEBOOKS / f"{Path(name).stem}.ipynb" for name in options.names]
    make = mark if options.metadata_only else refresh
    with tempfile.TemporaryDirectory() as home:  # where nobody has chosen US sizes
        os.environ["FIREHEAT_HOME"] = home
        failed = [path.name for path in chosen or notebooks() if not make(path)]
    return f"not written: {', '.join(failed)}" if failed else 0


def notebooks():
    """Return the paths of all notebooks."""
    return sorted(NOTEBOOKS.glob("*.ipynb"))


def refresh(path):
    """Run one notebook and write it; say so. False if a cell raised."""
    notebook = normalised(nbformat.read(path, as_version=4))
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.update(outputs=[], execution_count=None)
    client = NotebookClient(
        notebook,
        kernel_name="python3",
        timeout=300,
        record_timing=False,
        store_widget_state=False,
        coalesce_streams=True,
        resources={"metadata": {"path": str(path.parent)}},
    )
    try:
        client.execute()
    except CellExecutionError as error:
        print(f"{path.name}: {error}", file=sys.stderr)
        return False
    return write(path, notebook)


def mark(path):
    """Mark the cells of one notebook anew, run nothing, and write it; say so."""
    return write(path, nbformat.read(path, as_version=4))


def write(path, notebook):
    path.write_text(text(normalised(notebook)), encoding="utf-8", newline="\n")
    print(path.name)
    return True


def normalised(notebook):
    """Return the notebook in the one form in which notebooks are kept."""
    notebook = nbformat.from_dict(notebook)
    notebook.update(nbformat=4, nbformat_minor=5, metadata=METADATA)
    seen = Counter()
    for cell in notebook.cells:
        source = cell.source.strip("\n")
        seen[source] += 1
        cell.source = source
        cell.id = hashlib.sha256(f"{seen[source]}{source}".encode()).hexdigest()[:8]
        cell.metadata = {key: cell.metadata[key] for key in CELL_METADATA if key in cell.metadata}
        for output in cell.get("outputs", []):
            output.get("data", {}).pop(WIDGET, None)
    return marked(notebook)


def text(notebook):
    """Return the notebook as the text of its file."""
    return nbformat.writes(nbformat.from_dict(notebook)).rstrip("\n") + "\n"


if __name__ == "__main__":
    sys.exit(main())
