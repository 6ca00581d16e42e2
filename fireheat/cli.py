"""The ``fireheat`` command: put the notebooks where the reader wants them, and open them."""

import argparse
import io
import os
import sys
from contextlib import suppress
from pathlib import Path
from typing import Any

from . import __version__
from .launch.lab import open_lab
from .launch.notebooks import named_notebook
from .putting import put_files
from .shipped import START, shipped_notebooks

ABOUT = """\
Why does one bow-drill kit make an ember in half a minute, and another never?
Teaching notebooks with sliders, worked out from the physics.

To begin, type:  fireheat learn
In a hall:       fireheat present
Off the laptop:  fireheat pages FOLDER
"""

LEARN = """\
Put the notebooks into FOLDER and open them in your browser.

A notebook you have changed is never overwritten: you get a fresh copy beside it,
with ".new" in its name. To stop, press Ctrl+C here, twice.
"""

ON_A_WALL = """\
Show the notebooks on a wall: one section a screen, large, the panels live, no code and no bars.

Page Down and Page Up turn the screens, as a presenter's remote does, and so do the arrow
keys, Home and End. N and P go to the next page and the one before. Enter unfolds what is
folded. On a panel, B keeps what it shows as "before", and R puts its sliders back. Esc
leads to the ordinary view, and P there back. No network is needed.

NOTEBOOK is a name, or how it begins, such as 03. At another address of the server,
/lab?present=03-what-moves-the-time&panel=2 shows the second panel of that page, and
panel=explorer the panel whose cell has this word.
"""

OFF_THE_LAPTOP = """\
Write into FOLDER what works without a laptop and without a network: a page for a phone, the
lessons as single files, and sheets to print, with a list that names them all.

Where Chromium, Chrome or Edge is found, each sheet is a PDF, too, on A4 and on Letter. A file
you have changed is never overwritten: you get a fresh copy beside it, with ".new" in its name.

With --log FILE, a log of your own tries as page 09 reads it, your evenings stand beside the
handbook. The log is only read, and no learner's code gets into a page.
"""

CAUTION = """\
These notebooks estimate times. They do not make a place or a day safe for fire:
local fire law, and an adult in charge, come first.
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
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # a folder's name may have letters it lacks
            stream.reconfigure(errors="replace")
    given = sys.argv[1:] if argv is None else argv
    ours, extra = _split(given)
    parser = _parser()
    options = parser.parse_args(ours)
    if options.command is None:
        parser.print_help()
        return 0
    if options.command == "pages":
        return _pages(options.folder, pdf=not options.no_pdf, log=options.log)
    if options.command == "present":
        options.folder, options.notebook = _where(options.folder, options.notebook)
    doing = "cannot put notebooks there"
    try:
        folder = _prepare(options.folder.expanduser().resolve())
        if options.copy_only:
            return 0
        doing = "JupyterLab cannot start"
        _say("Opening JupyterLab. To stop it, press Ctrl+C here, twice.")
        return open_lab(
            folder,
            browser=not options.no_browser,
            port=options.port,
            extra=extra,
            present=options.notebook,
        )
    except (OSError, RuntimeError) as error:  # Python 3.11 and 3.12: a loop of links, ~nobody
        print(f"fireheat: {doing}: {error}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:  # before JupyterLab asks whether to stop
        return 130


def _pages(folder: Path, *, pdf: bool, log: Path | None) -> int:
    """Write the pages for phone and paper, say what was done, and return the exit code."""
    from .pages.writing import write_pages  # it loads what draws and derives: `learn` needs none
    from .trials.reading import LogError

    slow = " Sheets take a minute or two the first time." if pdf else ""
    _say(f"Writing the pages.{slow}")
    try:
        log = log.expanduser() if log else None
        _say(write_pages(folder.expanduser().resolve(), pdf=pdf, log=log).text())
    except LogError as error:
        print(f"fireheat: cannot use that log: {error}", file=sys.stderr)
        return 1
    except (OSError, RuntimeError) as error:
        print(f"fireheat: cannot write pages there: {error}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130
    return 0


def _say(words: str) -> None:
    """Say it, if anybody reads it: into a closed pipe or a full file it is said in vain."""
    try:
        print(words, flush=True)
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # nor again at the end


def _split(given: list[str]) -> tuple[list[str], list[str]]:
    """Split the words at ``--``: ours before it, JupyterLab's after."""
    at = given.index("--") if "--" in given else len(given)
    return given[:at], given[at + 1 :]


def _port(word: str) -> int:
    if word.isdecimal() and 1 <= int(word) <= 65535:
        return int(word)
    raise argparse.ArgumentTypeError(f"a port is a number from 1 to 65535, not {word}")


def _parser() -> argparse.ArgumentParser:
    look: Any = {"formatter_class": argparse.RawDescriptionHelpFormatter, "epilog": CAUTION}
    parser = argparse.ArgumentParser(prog="fireheat", description=ABOUT, **look)
    parser.add_argument("--version", action="version", version=f"fireheat {__version__}")
    commands = parser.add_subparsers(dest="command", title="commands", metavar="COMMAND")
    learn = commands.add_parser(
        "learn", help="open the notebooks in your browser", description=LEARN, **look
    )
    _add_folder(learn)
    learn.set_defaults(notebook=None)
    learn.add_argument(
        "--copy-only", action="store_true", help="put the notebooks there and open nothing"
    )
    present = commands.add_parser(
        "present", help="show the notebooks on a wall", description=ON_A_WALL, **look
    )
    _add_folder(present)
    present.set_defaults(copy_only=False)
    present.add_argument(
        "notebook",
        metavar="NOTEBOOK",
        nargs="?",
        type=_notebook,
        help="the page to begin with, such as 03 (default: the front page)",
    )
    pages = commands.add_parser(
        "pages",
        help="write pages for a phone and for paper",
        description=OFF_THE_LAPTOP,
        **look,
    )
    pages.add_argument(
        "folder", metavar="FOLDER", type=Path, help="where they go; made if it is not there"
    )
    pages.add_argument(
        "--log", metavar="FILE", type=Path, help="a log of your own tries, for your evenings"
    )
    pages.add_argument("--no-pdf", action="store_true", help="print no sheets as PDFs")
    for name, command in (("learn", learn), ("present", present)):
        command.add_argument(
            "--no-browser", action="store_true", help="start JupyterLab; print its address only"
        )
        command.add_argument(
            "--port", type=_port, help="port of JupyterLab (default: one that is free)"
        )
        words = "[FOLDER] [NOTEBOOK]" if name == "present" else "[FOLDER]"
        command.usage = f"fireheat {name} {words} [options] [-- JUPYTERLAB OPTIONS]"
    return parser


def _add_folder(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "folder",
        metavar="FOLDER",
        nargs="?",
        type=Path,
        default=Path(),
        help="where the notebooks go; made if it is not there (default: this folder)",
    )


def _where(folder: Path, notebook: str | None) -> tuple[Path, str]:
    """Tell folder and notebook apart: a word alone that names a notebook of ours is that."""
    if notebook is None and not folder.exists():
        with suppress(ValueError):
            return Path(), named_notebook(str(folder))
    return folder, notebook or START


def _notebook(word: str) -> str:
    try:
        return named_notebook(word)
    except ValueError as error:
        raise argparse.ArgumentTypeError(str(error)) from error


def _prepare(folder: Path) -> Path:
    """Make the notebooks ready in a folder, say what was done, and return where they are."""
    if (folder / "fireheat" / "cli.py").is_file() and (folder / "notebooks").is_dir():
        folder = folder / "notebooks"
        _say(f"Using this clone's own notebooks: {folder}")
        return folder
    if folder == shipped_notebooks().resolve():
        return folder
    _say(put_files(shipped_notebooks(), folder).text("Notebooks"))
    return folder
