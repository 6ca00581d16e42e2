"""The notebooks that came with the library: where they lie, in which order, what they say first."""

import json
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from .quantities import InputError, choose

START = "index.ipynb"  # the front page
_PACKAGE = Path(__file__).parent
_CAUTIONS = "## Before anything burns\n"
_HEADING = re.compile(r"\*\*(.+)\*\*")
_STATED = re.compile(r"\*\*Time:\*\* (\d+) minutes")


def shipped_notebooks() -> Path:
    """Return the folder of the notebooks that came with the library: in a wheel, or a clone.

    Examples
    --------
    >>> (shipped_notebooks() / "00-start-here.ipynb").is_file()
    True
    """
    inside = _PACKAGE / "notebooks"
    return inside if inside.is_dir() else _PACKAGE.parent / "notebooks"


def shipped_code() -> dict[str, list[str]]:
    """Return the code of each notebook, by name, cell by cell; the front page comes first.

    Examples
    --------
    >>> next(iter(shipped_code()))
    'index.ipynb'
    """
    return {path.name: _code(path) for path in _paths()}


def shipped_titles() -> dict[str, str]:
    """Return the title of each notebook, by name, in their order.

    Examples
    --------
    >>> shipped_titles()["05-press-and-speed.ipynb"]
    'How hard is too hard?'
    """
    return {path.name: _first(path).splitlines()[0].lstrip("# ") for path in _paths()}


def shipped_cells(name: str) -> list[dict[str, Any]]:
    """Return the cells of a notebook with their stored outputs, as its file has them.

    Parameters
    ----------
    name : str
        The file's name.

    Returns
    -------
    list of dict
        In their order.

    Raises
    ------
    InputError
        If there is no such notebook.

    Examples
    --------
    >>> shipped_cells("05-press-and-speed.ipynb")[0]["cell_type"]
    'markdown'
    """
    choose("notebook", name, [path.name for path in _paths()])
    return json.loads((shipped_notebooks() / name).read_bytes())["cells"]


@cache
def shipped_cautions() -> Mapping[str, tuple[str, ...]]:
    """Return the list that stands before anything burns, in the words the notebooks have.

    Returns
    -------
    mapping of str to tuple of str
        Its lines by what they stand under: ``"Before"``, ``"While bowing"``, ``"After"``; under
        an empty name the words above them. Words between two stars are strong.

    Examples
    --------
    >>> shipped_cautions()["While bowing"][0]
    'Knees and knuckles away from the spindle. Its ends, the notch and the dust burn skin.'
    """
    told: dict[str, list[str]] = {"": []}
    for line in _section(_CAUTIONS).splitlines():
        if heading := _HEADING.fullmatch(line):
            told[heading.group(1)] = []
        elif line:
            told[next(reversed(told))].append(line.removeprefix("- "))
    return MappingProxyType({name: tuple(lines) for name, lines in told.items()})


def stated_minutes(name: str) -> int:
    """Return the minutes that a notebook says at its top that it takes.

    Parameters
    ----------
    name : str
        The file's name.

    Returns
    -------
    int
        So many minutes.

    Raises
    ------
    InputError
        If there is no such notebook, or it states none.

    Examples
    --------
    >>> 15 <= stated_minutes("02-time-to-ember.ipynb") <= 60
    True
    """
    choose("notebook", name, [path.name for path in _paths()])
    stated = _STATED.search(_first(shipped_notebooks() / name))
    if stated is None:
        raise InputError(f"notebook is {name!r}; it states no minutes")
    return int(stated.group(1))


def _paths() -> list[Path]:
    paths = shipped_notebooks().glob("*.ipynb")
    return sorted(paths, key=lambda path: (path.name != START, path.name))


def _code(path: Path) -> list[str]:
    return [source for source in _sources(path, "code") if source.strip()]


def _section(heading: str) -> str:
    texts = (text for path in _paths() for text in _sources(path, "markdown"))
    return next(text for text in texts if text.startswith(heading)).removeprefix(heading)


def _first(path: Path) -> str:
    return next(iter(_sources(path, "markdown")))


@cache
def _sources(path: Path, kind: str) -> list[str]:
    cells = json.loads(path.read_bytes())["cells"]
    return ["".join(cell["source"]) for cell in cells if cell["cell_type"] == kind]
