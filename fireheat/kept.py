"""What a reader asked to keep on this computer, from one evening to the next.

One small JSON file for each name, in the folder that this computer keeps settings in, or in the one
that ``FIREHEAT_HOME`` names. Nobody is stopped by it: where nothing can be kept, nothing is, and a
file that cannot be read counts as none. It knows no names of people.
"""

import json
import os
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from .quantities import InputError

HOME = "FIREHEAT_HOME"  # environment: the folder to keep things in


def kept_folder() -> Path:
    """Return the folder that things are kept in; it may not be there yet.

    Examples
    --------
    >>> kept_folder().is_absolute()
    True
    """
    from platformdirs import user_config_path

    named = os.environ.get(HOME)
    return Path(named).absolute() if named else user_config_path("fireheat", appauthor=False)


def read_kept(name: str) -> dict[str, Any]:
    """Read what was kept under a name.

    Parameters
    ----------
    name : str
        A plain word.

    Returns
    -------
    dict
        What was kept; empty if nothing was, or if it cannot be read.

    Raises
    ------
    InputError
        If the name is no plain word.

    Examples
    --------
    >>> read_kept("nothing_of_the_kind")
    {}
    """
    return _read(_file(name)) or {}


def write_kept(name: str, values: Mapping[str, Any]) -> bool:
    """Keep values under a name, in the place of those kept before.

    The file is written aside and then renamed: whoever reads, or pulls the plug, finds the old one
    or the new one, whole. What cannot be read is not written over, but set aside as ``.damaged``.

    Parameters
    ----------
    name : str
        A plain word.
    values : mapping
        What JSON can hold, by name.

    Returns
    -------
    bool
        Whether this computer let us.

    Raises
    ------
    InputError
        If the name is no plain word, or JSON cannot hold the values.

    Examples
    --------
    >>> write_kept("example", {"units": "us"}), read_kept("example")
    (True, {'units': 'us'})
    >>> forget_kept("example")
    True
    """
    path = _file(name)
    try:
        text = json.dumps(dict(values), allow_nan=False, indent=1)
    except (TypeError, ValueError) as error:
        allowed = "a mapping that JSON can hold"
        raise InputError(f"{name} cannot be kept as {values!r}; allowed: {allowed}") from error
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        _set_damaged_aside(path)
        _replace(path, text + "\n")
    except OSError:
        return False
    return True


def forget_kept(name: str) -> bool:
    """Forget what was kept under a name.

    Parameters
    ----------
    name : str
        A plain word.

    Returns
    -------
    bool
        Whether nothing is kept under it now.

    Raises
    ------
    InputError
        If the name is no plain word.

    Examples
    --------
    >>> forget_kept("nothing_of_the_kind")
    True
    """
    try:
        _file(name).unlink(missing_ok=True)
    except OSError:
        return False
    return True


def _file(name):
    if not (isinstance(name, str) and name.isascii() and name.isidentifier()):
        raise InputError(f"a name to keep things under is {name!r}; allowed: a plain word")
    return kept_folder() / f"{name}.json"


def _read(path):
    """Read a file; None if it is not there or holds something else."""
    try:
        values = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return None
    return values if isinstance(values, dict) else None


def _set_damaged_aside(path):
    if path.is_file() and _read(path) is None:
        path.replace(path.with_suffix(".damaged"))


def _replace(path, text):
    """Put a whole file in the place of the old one."""
    handle, aside = tempfile.mkstemp(prefix=f".{path.stem}-", dir=path.parent)
    try:
        with open(handle, "w", encoding="utf-8") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.replace(aside, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(aside)
        raise
