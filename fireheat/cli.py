"""The ``fireheat`` command: put the notebooks where the reader wants them, and open them."""

import argparse
import hashlib
import json
import os
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from typing import Any

from . import __version__

START = "00-start-here.ipynb"
RECORD = ".fireheat.json"
WORKSPACE = "fireheat"
PACKAGE = Path(__file__).parent

ABOUT = """\
Why does one bow-drill kit make an ember in half a minute, and another never?
Teaching notebooks with sliders, worked out from the physics.

To begin, type:  fireheat learn
"""

LEARN = """\
Put the notebooks into FOLDER and open them in your browser.

A notebook you have changed is never overwritten: you get a fresh copy beside it,
with ".new" in its name. To stop, press Ctrl+C here, twice.
"""

CAUTION = """\
These notebooks estimate times. They do not make a place or a day safe for fire:
local fire law, and an adult responsible and present, come first.
"""


def main(argv: list[str] | None = None) -> int:
    """Run the command line; return the exit code.

    Parameters
    ----------
    argv : list of str, optional
        The words after ``fireheat``; those of the command line if left out.

    Returns
    -------
    int
        Zero if all went well.
    """
    given = sys.argv[1:] if argv is None else argv
    ours, extra = _split(given)
    parser = _parser()
    options = parser.parse_args(ours)
    if options.command is None:
        parser.print_help()
        return 0
    try:
        folder = _prepare(options.folder.expanduser().resolve())
    except OSError as error:
        print(f"fireheat: cannot put notebooks there: {error}", file=sys.stderr)
        return 1
    if options.copy_only:
        return 0
    return _open_lab(folder, browser=not options.no_browser, port=options.port, extra=extra)


def _split(given: list[str]) -> tuple[list[str], list[str]]:
    """Split the words at ``--``: ours before it, JupyterLab's after."""
    at = given.index("--") if "--" in given else len(given)
    return given[:at], given[at + 1 :]


def _parser() -> argparse.ArgumentParser:
    look: Any = {"formatter_class": argparse.RawDescriptionHelpFormatter, "epilog": CAUTION}
    parser = argparse.ArgumentParser(prog="fireheat", description=ABOUT, **look)
    parser.add_argument("--version", action="version", version=f"fireheat {__version__}")
    commands = parser.add_subparsers(dest="command", title="commands", metavar="COMMAND")
    learn = commands.add_parser(
        "learn", help="open the notebooks in your browser", description=LEARN, **look
    )
    learn.add_argument(
        "folder",
        metavar="FOLDER",
        nargs="?",
        type=Path,
        default=Path(),
        help="where the notebooks go; made if it is not there (default: this folder)",
    )
    learn.add_argument(
        "--copy-only", action="store_true", help="put the notebooks there and open nothing"
    )
    learn.add_argument(
        "--no-browser", action="store_true", help="start JupyterLab; print its address only"
    )
    learn.add_argument("--port", type=int, help="port of JupyterLab (default: one that is free)")
    learn.usage = "fireheat learn [FOLDER] [options] [-- JUPYTERLAB OPTIONS]"
    return parser


# ---- putting the notebooks there -------------------------------------------------------------


def shipped_notebooks() -> Path:
    """Return the folder of the notebooks that came with the library: in a wheel, or a clone."""
    inside = PACKAGE / "notebooks"
    return inside if inside.is_dir() else PACKAGE.parent / "notebooks"


def _prepare(folder: Path) -> Path:
    """Make the notebooks ready in a folder, say what was done, and return where they are."""
    if (folder / "fireheat" / "cli.py").is_file() and (folder / "notebooks").is_dir():
        folder = folder / "notebooks"
        print(f"Using this clone's own notebooks: {folder}")
        return folder
    if folder == shipped_notebooks().resolve():
        return folder
    print(put_notebooks(shipped_notebooks(), folder).text())
    return folder


@dataclass(frozen=True)
class Put:
    """What putting the notebooks somewhere did.

    Attributes
    ----------
    folder : Path
        Where they are.
    written : list of str
        Files new there, or brought up to date.
    beside : dict
        For each file a reader had changed, the name of the fresh copy beside it.
    """

    folder: Path
    written: list[str] = field(default_factory=list)
    beside: dict[str, str] = field(default_factory=dict)

    def text(self) -> str:
        """Say it in words."""
        lines = [f"Notebooks are in {self.folder}"]
        for name, copy in self.beside.items():
            lines.append(f"You changed {name}: it is kept as it is. A fresh copy is {copy}")
        return "\n".join(lines)


def put_notebooks(source: Path, folder: Path) -> Put:
    """Copy the notebooks into a folder, losing nothing that a reader has written there.

    A file there is replaced only if it is, byte for byte, what an earlier call put there; the
    sums of those are kept in a small file. A notebook whose cells are those of ours has only
    been run: it is left alone. Anything else is the reader's own, and ours goes beside it.

    Parameters
    ----------
    source : Path
        Folder with the notebooks.
    folder : Path
        Where to put them; made if it is not there.

    Returns
    -------
    Put
        What was done.

    Raises
    ------
    OSError
        If the folder cannot be made or written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    known = _read_record(folder)
    done = Put(folder)
    for name in _names(source):
        ours = (source / name).read_bytes()
        copy = next(copy for copy in _copies(name) if not _is_readers(folder, copy, ours, known))
        if _is_untouched(folder / copy, known.get(copy)) and not _holds(folder / copy, ours):
            _write(folder / copy, ours)
            known[copy] = _sum(ours)
            done.written.append(copy)
        if copy != name:
            done.beside[name] = copy
    _write(folder / RECORD, json.dumps({"put": known}, indent=1).encode())
    return done


def _names(source: Path) -> list[str]:
    """Files to put, with forward slashes; a folder's hidden files are not ours to give."""
    paths = (path.relative_to(source) for path in source.rglob("*") if path.is_file())
    return sorted(p.as_posix() for p in paths if not any(part[0] == "." for part in p.parts))


def _copies(name: str) -> Iterator[str]:
    """Names for a file: its own, then those for a fresh copy beside it."""
    stem, suffix = os.path.splitext(name)
    yield name
    yield f"{stem}.new{suffix}"
    for number in count(2):
        yield f"{stem}.new-{number}{suffix}"


def _is_readers(folder: Path, name: str, ours: bytes, known: dict[str, str]) -> bool:
    path = folder / name
    return not (_is_untouched(path, known.get(name)) or (path.is_file() and _is_run(path, ours)))


def _is_untouched(path: Path, put: str | None) -> bool:
    """Tell whether nothing is there, or just what was put there."""
    if path.is_file():
        return _sum(path.read_bytes()) == put
    return not (path.exists() or path.is_symlink())


def _holds(path: Path, ours: bytes) -> bool:
    return path.is_file() and path.read_bytes() == ours


def _is_run(path: Path, ours: bytes) -> bool:
    """Tell whether a file is ours, at most run since."""
    theirs = path.read_bytes()
    return theirs == ours or (path.suffix == ".ipynb" and _cells(theirs) == _cells(ours))


def _cells(notebook: bytes):
    """Everything a reader can write in a notebook: not outputs, counts and bookkeeping."""
    try:
        cells = json.loads(notebook)["cells"]
        return [(c["cell_type"], "".join(c["source"]), c.get("attachments")) for c in cells]
    except (ValueError, KeyError, TypeError):
        return notebook


def _sum(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _read_record(folder: Path) -> dict[str, str]:
    """Read what was put there before; nothing, if that cannot be told."""
    try:
        put = json.loads((folder / RECORD).read_bytes())["put"]
        return {str(name): str(sum_) for name, sum_ in put.items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}


def _write(path: Path, content: bytes) -> None:
    """Write a file whole or not at all."""
    path.parent.mkdir(parents=True, exist_ok=True)
    draft = path.with_name(f".{path.name}.part")
    try:
        draft.write_bytes(content)
        os.replace(draft, path)
    finally:
        draft.unlink(missing_ok=True)


# ---- opening JupyterLab ----------------------------------------------------------------------


def _open_lab(folder: Path, *, browser: bool, port: int | None, extra: list[str]) -> int:
    """Run JupyterLab in this process until the reader stops it."""
    print("Opening JupyterLab. To stop it, press Ctrl+C here, twice.", flush=True)
    from jupyterlab.labapp import main as run_lab

    theirs = os.environ.get("JUPYTER_CONFIG_PATH")
    paths = [str(PACKAGE / "jupyter"), *([theirs] if theirs else [])]
    os.environ["JUPYTER_CONFIG_PATH"] = os.pathsep.join(paths)
    _fold_side_bar()
    run_lab(lab_options(folder, browser=browser, port=port) + extra)
    return 0


def _fold_side_bar() -> None:
    """Give a reader's first visit a folded side bar: panels need the width.

    Later visits find the layout as the reader left it.
    """
    from jupyterlab.commands import get_workspaces_dir
    from jupyterlab_server.workspaces_handler import WorkspacesManager

    manager = WorkspacesManager(get_workspaces_dir())
    if any(known["metadata"]["id"].strip("/") == WORKSPACE for known in manager.list_workspaces()):
        return
    side = {"collapsed": True, "visible": True, "widgets": [], "current": None}
    layout = {"left": side, "right": side, "main": {"dock": None, "current": None}}
    data = {"layout-restorer:data": layout}
    manager.save(WORKSPACE, json.dumps({"data": data, "metadata": {"id": WORKSPACE}}))


def lab_options(folder: Path, *, browser: bool = True, port: int | None = None) -> list[str]:
    """List the words that JupyterLab is started with.

    Parameters
    ----------
    folder : Path
        Where the notebooks are.
    browser : bool, optional
        Whether to open the reader's browser.
    port : int, optional
        Port to listen on; JupyterLab's choice if left out.

    Returns
    -------
    list of str
        Options of ``jupyter lab``.
    """
    options = [
        f"--ServerApp.root_dir={folder}",
        # A workspace of our own: tabs left open elsewhere do not come back here.
        f"--LabApp.default_url=/lab/workspaces/{WORKSPACE}/tree/{START}",
    ]
    if not browser:
        options.append("--no-browser")
    if port is not None:
        options += [f"--ServerApp.port={port}", "--ServerApp.port_retries=0"]
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        options.append("--allow-root")
    return options
