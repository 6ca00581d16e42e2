"""Write a log of timed tries: a new one, or one try more, so that no row is ever lost.

The file is written aside, to the disk, and then takes the old one's name in one step. So whoever
reads it, or pulls the plug, finds the old log or the new one, whole. A lock beside it lets two
notebooks write one after the other. Learners are minors: a log knows codes, and no names.
"""

import csv
import io
import os
import secrets
import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from importlib.resources import files
from pathlib import Path
from typing import Any

from filelock import FileLock, Timeout

from ..quantities import InputError
from .cells import learner_warning, spell_number
from .columns import COLUMNS, TimedTry
from .reading import Layout, LogError, file_bytes, read_bytes

PATIENCE = 10.0  # seconds that one writer waits for another
_ABOUT = (
    "# A log of timed tries. One row a try; leave empty what nobody measured.",
    "# Learners are minors: write codes such as L01 and never names.",
)


def demo_log() -> Path:
    """Return the place of the invented evening that comes with the library.

    Examples
    --------
    >>> demo_log().name
    'demo-tries.csv'
    """
    return Path(str(files("fireheat.data") / "demo-tries.csv"))


def new_log(path: str | Path) -> Path:
    """Begin a log with its headings; one that is there already stays as it is.

    Parameters
    ----------
    path : str or Path
        Where.

    Returns
    -------
    Path
        The file.

    Raises
    ------
    LogError
        If it cannot be written there.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     print(new_log(folder + "/tries.csv").read_text("utf-8").splitlines()[-1])
    date,learner,wood,spindle diameter (mm),downward force (N),bow pull (N),...
    """
    place = _place(path)
    with _locked(place):
        if not place.exists():
            _replace(place, log_text(()).encode("utf-8"))
    return place


def add_try(path: str | Path, timed: TimedTry) -> Path:
    """Add a try to a log, in the way in which it is written; begin one if there is none.

    Parameters
    ----------
    path : str or Path
        The log.
    timed : TimedTry
        The try.

    Returns
    -------
    Path
        The file.

    Raises
    ------
    LogError
        If it cannot be written, is no log, or has no column for what was measured. The file stays
        as it was.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from fireheat.trials.reading import read_log
    >>> with TemporaryDirectory() as folder:
    ...     path = add_try(folder + "/tries.csv", TimedTry(time=75.0, ended="ember"))
    ...     print(read_log(path).tries[0].time)
    75.0
    """
    if not isinstance(timed, TimedTry):
        raise InputError(f"timed is {timed!r}; allowed: TimedTry(...)")
    if words := learner_warning(timed.learner):
        raise InputError(f"learner is {timed.learner!r}, which {words}; allowed: a code")
    place = _place(path)
    with _locked(place):
        old = file_bytes(place) if place.exists() else log_text(()).encode("utf-8")
        _replace(place, _longer(old, timed))
    return place


def log_text(tries: Sequence[TimedTry], about: Sequence[str] = ()) -> str:
    """Write a whole log as text, with the headings and units of a new one.

    Parameters
    ----------
    tries : sequence of TimedTry
        Its rows.
    about : sequence of str, optional
        Lines above, after those that every log has; each begins with a hash.

    Returns
    -------
    str
        The log.

    Examples
    --------
    >>> print(log_text(()).splitlines()[1])
    # Learners are minors: write codes such as L01 and never names.
    """
    columns = tuple((column, column.units[0] if column.units else "") for column in COLUMNS)
    layout = Layout(encoding="utf-8", parting=",", ending="\n", columns=columns, comma=False)
    lines = [*_ABOUT, *about, ",".join(column.title for column in COLUMNS)]
    return "\n".join(lines) + "\n" + "".join(_row(one, layout) for one in tries)


def _row(timed, layout):
    """Write one try as the row of a file."""
    cells = []
    for column, unit in layout.columns:
        value: Any = getattr(timed, column.key) if column else None
        if value is None or value == "":
            cells.append("")
        elif column.row:
            # A heading without a unit: the cell has its own.
            own = unit or (column.units[0] if column.units else "")
            text = spell_number(value, unit=own, comma=layout.comma)
            cells.append(text if unit or not own else f"{text} {own}")
        else:
            cells.append(str(value))
    out = io.StringIO()
    csv.writer(out, delimiter=layout.parting, lineterminator=layout.ending).writerow(cells)
    return out.getvalue()


def _longer(old, timed):
    """Return what a file holds with one row more, which reads back as the same try."""
    log = read_bytes(old)
    layout = log.layout
    there = {column.key for column, _ in layout.columns if column}
    given = {c.key: c for c in COLUMNS if getattr(timed, c.key) not in (None, "")}
    if missing := [c.title for key, c in given.items() if key not in there]:
        raise LogError(f"the log has no column for {', '.join(missing)}; add the heading first")
    coding = {"utf-8-sig": "utf-8"}.get(layout.encoding, layout.encoding)
    if coding == "utf-16":
        coding = "utf-16-le" if old[:2] == b"\xff\xfe" else "utf-16-be"
    ended = old.decode(layout.encoding)[-1:] in ("\n", "\r")
    row = ("" if ended else layout.ending) + _row(timed, layout)
    try:
        new = old + row.encode(coding)
    except UnicodeError:
        raise LogError("the log's file cannot hold these letters; save it as UTF-8") from None
    found = read_bytes(new)
    if len(found.tries) != len(log.tries) + 1 or not _same(found.tries[-1], timed):
        raise LogError("the try would not read back from this log as it was; use a new log")
    return new


def _same(one, other):
    """Tell whether two tries are the same, but for the last digits."""
    for column in COLUMNS:
        a, b = getattr(one, column.key), getattr(other, column.key)
        if isinstance(a, float) and isinstance(b, float):
            alike = abs(a - b) <= 1e-6 * abs(b)
        else:  # spaces and lines of words are read as single spaces
            alike = str(a).split() == str(b).split()
        if not alike:
            return False
    return True


# ---- to the disk --------------------------------------------------------------------------------


def _place(path):
    """Return the file itself, where a name leads elsewhere."""
    if not isinstance(path, str | Path) or not str(path) or "\0" in str(path):
        raise LogError(f"path is {path!r}; allowed: the place of a file")
    return Path(os.path.realpath(path))


@contextmanager
def _locked(place: Path) -> Iterator[None]:
    """Let one writer in at a time, and put its failures into words."""
    if not os.access(place.parent, os.W_OK):
        raise LogError(
            f"cannot write {place}: its folder is not there, or takes no files; choose another"
        )
    try:
        with FileLock(place.with_name(f".{place.name}.lock"), timeout=PATIENCE):
            yield
    except Timeout:
        raise LogError(f"another program is writing {place}; try again") from None
    except OSError as error:
        raise LogError(
            f"cannot write {place}: {error.strerror or error}. The log is as it was; write the try"
            " down on paper, or choose another place"
        ) from None


def _replace(place, data):
    """Write a file aside, and give it the name in one step; leave nothing half done."""
    for left in place.parent.glob(f".{place.name}.*.part"):
        with suppress(OSError):  # of a writer that was killed
            left.unlink()
    aside = place.with_name(f".{place.name}.{secrets.token_hex(4)}.part")
    try:
        with aside.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if place.exists():
            shutil.copymode(place, aside)
        os.replace(aside, place)
    finally:
        with suppress(OSError):
            aside.unlink(missing_ok=True)
