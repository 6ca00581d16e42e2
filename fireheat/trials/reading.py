"""Read a log of timed tries as spreadsheets and people leave it; nothing is guessed in silence.

Every problem is told at once, by the row and the column that a spreadsheet shows, with what to
write instead. A row without a problem is used; the file is only read.
"""

import csv
import re
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

from ..quantities import InputError
from ..words import tries_words
from .cells import (
    CellError,
    bare_word,
    comma_column,
    learner_warning,
    read_number,
    spelled_unit,
    tidy,
)
from .columns import AN_EMBER, COLUMNS, GAVE_UP, NEEDED, WORDS, Column, TimedTry

MOST_BYTES = 2_000_000
_LONGEST_LINE = 10_000
_MOST_NOTE_LINES = 10
_MOST_TOLD = 4  # problems that find room
_PARTING = (",", ";", "\t")
_ENDED = {
    **dict.fromkeys(("ember", "ember!", "yes", "y", "coal"), AN_EMBER),
    **dict.fromkeys(("gaveup", "givenup", "noember", "no", "n", "failed", "stopped"), GAVE_UP),
}
_HEADINGS = {
    bare_word(word): column
    for column in COLUMNS
    for word in (column.heading, column.key, *column.others)
}


class LogError(InputError):
    """A log that cannot be read or written at all; its words say what to do."""


@dataclass(frozen=True)
class Problem:
    """Something in a log that could not be read.

    Attributes
    ----------
    row : int
        As a spreadsheet counts them.
    column : str
        Its heading; empty if it is the whole row.
    words : str
        What is wrong, and what to write instead.
    """

    row: int
    column: str
    words: str

    def __str__(self):
        place = f"Row {self.row}, “{self.column}”" if self.column else f"Row {self.row}"
        return f"{place}: {self.words}{'' if self.words.endswith(('.', '?')) else '.'}"


@dataclass(frozen=True, kw_only=True)
class Layout:
    """How a file is written, so that a further row is written likewise.

    Attributes
    ----------
    encoding, parting, ending : str
        Of its letters, between its cells, and after its lines.
    columns : tuple of tuple
        For each place: the column or None, and its unit.
    comma : bool
        Whether decimals stand after a comma.
    """

    encoding: str
    parting: str
    ending: str
    columns: tuple[tuple[Column | None, str], ...]
    comma: bool


@dataclass(frozen=True, kw_only=True)
class Log:
    """What a log says.

    Attributes
    ----------
    tries : tuple of TimedTry
        Of all rows without a problem.
    problems : tuple of Problem
        What could not be read.
    warnings : tuple of Problem
        What was read, and looks odd.
    layout : Layout
        How it is written.
    """

    tries: tuple[TimedTry, ...]
    problems: tuple[Problem, ...]
    warnings: tuple[Problem, ...]
    layout: Layout

    def words(self, name: str) -> str:
        r"""Say which log it is and how much of it was read.

        Examples
        --------
        >>> read_bytes(b"time (s),ended with\n75,ember\n90,who knows\n").words("ours.csv")
        'From ours.csv: 1 try, 1 ember; 1 row not read'
        """
        counted = tries_words(len(self.tries), sum(one.observed for one in self.tries))
        bad = len({problem.row for problem in self.problems})
        rest = f"; {bad} row{'' if bad == 1 else 's'} not read" if bad else ""
        return f"From {name}: {counted}{rest}"

    def lines(self) -> list[str]:
        """Tell the first problems, then what looks odd, and how many more there are."""
        told = [str(problem) for problem in (*self.problems, *self.warnings)]
        left = len(told) - _MOST_TOLD
        more = [f"And {left} more. Mend these first."] if left > 0 else []
        return [*told[:_MOST_TOLD], *more]


def read_log(path: str | Path) -> Log:
    """Read a log.

    Parameters
    ----------
    path : str or Path
        The file.

    Returns
    -------
    Log
        Its tries, and all problems.

    Raises
    ------
    LogError
        If it is not there, is no log, or too large to be one.

    Examples
    --------
    >>> from fireheat.trials.log import demo_log
    >>> log = read_log(demo_log())
    >>> len(log.tries) > 20, log.problems
    (True, ())
    """
    if not isinstance(path, str | Path) or not str(path) or "\0" in str(path):
        raise LogError(f"path is {path!r}; allowed: the place of a file")
    return read_bytes(file_bytes(Path(path)))


def file_bytes(path: Path) -> bytes:
    """Return what a file holds, or a little more of it than a log may have.

    Raises
    ------
    LogError
        If it cannot be read.
    """
    try:
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except OSError as error:
        raise LogError(f"cannot read {path}: {error.strerror or error}") from None
    return data


def read_bytes(data: bytes) -> Log:
    r"""Read what a log's file holds, such as one that was handed over in the browser.

    Parameters
    ----------
    data : bytes
        All of it.

    Returns
    -------
    Log
        Its tries, and all problems.

    Raises
    ------
    LogError
        If it is no log.

    Examples
    --------
    >>> log = read_bytes(b"time (s);ended with\n75;ember\n90;who knows\n")
    >>> log.tries[0].time, str(log.problems[0])
    (75.0, 'Row 3, “ended with”: “who knows” is neither; write ember or gave up.')
    """
    if not isinstance(data, bytes):
        raise LogError(f"data is {data!r}; allowed: bytes of a file")
    if len(data) > MOST_BYTES:
        raise LogError(f"this is larger than {MOST_BYTES // 1_000_000} MB, too large for a log")
    text, encoding = _decoded(data)
    ending = "\r\n" if "\r\n" in text else "\n"
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if max(map(len, lines)) > _LONGEST_LINE:
        raise LogError("a line is too long for a row of a log; is this another file?")
    start, parting, headings = _find_headings(lines)
    problems: list[Problem] = []
    warnings: list[Problem] = []
    columns = _told_columns(headings, start + 1, problems, warnings)
    rows = list(_records(lines, start, parting, len(headings), problems))
    commas = _commas(rows, columns, parting)
    if rows and lines[-1] and not lines[-1].startswith("#"):
        words = "is the last, and its line does not end; is all of the file there?"
        warnings.append(Problem(rows[-1][0], "", words))
    tries = [
        made
        for number, cells in rows
        if (made := _one_try(number, cells, columns, commas, problems, warnings))
    ]
    layout = Layout(
        encoding=encoding,
        parting=parting,
        ending=ending,
        columns=tuple((column, unit or "") for column, unit, _ in columns),
        comma=True in commas or (parting != "," and False not in commas),
    )
    for told in (problems, warnings):
        told.sort(key=lambda one: one.row)
    return Log(
        tries=tuple(tries), problems=tuple(problems), warnings=tuple(warnings), layout=layout
    )


# ---- letters and lines --------------------------------------------------------------------------


def _decoded(data):
    """Turn bytes into letters, and say how."""
    if not data.strip():
        raise LogError("the file is empty; a log begins with a row of headings")
    if data[:2] == b"PK":
        raise LogError("this is a spreadsheet's own file; save it as CSV there, and take that one")
    marks = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
    guesses = [name for mark, name in marks if data.startswith(mark)] or ["utf-8", "cp1252"]
    for encoding in guesses:
        try:
            text = data.decode(encoding)
        except UnicodeError:
            continue
        if not re.search(r"[\x00-\x08\x0e-\x1f\x7f]", text):
            return text, encoding
    raise LogError("this is no text file; save the log as CSV, and take that one")


def _find_headings(lines):
    """Find the row of headings, and what parts its cells."""
    for place, line in enumerate(lines):
        bare = line.lstrip("\ufeff").strip().strip('"')
        if not bare.strip(",;\t ") or bare.startswith("#") or re.fullmatch(r"(?i)sep=.?", bare):
            continue
        split = {parting: next(csv.reader([line], delimiter=parting)) for parting in _PARTING}
        best = max(_PARTING, key=lambda parting: sum(map(_is_known, split[parting])))
        if not any(map(_is_known, split[best])):
            break
        return place, best, split[best]
    titles = ", ".join(column.title for column in COLUMNS if column.key in NEEDED)
    raise LogError(f"there is no row of headings; a log begins with one that has {titles}")


def _heading_parts(heading):
    """Part a heading into its words and the unit in brackets."""
    match = re.fullmatch(r"(.*?)\s*[(\[]([^()\[\]]*)[)\]]", tidy(heading))
    words, unit = (match[1], match[2]) if match else (tidy(heading), "")
    return _HEADINGS.get(bare_word(words)), unit


def _is_known(heading):
    return _heading_parts(heading)[0] is not None


def _told_columns(headings, row, problems, warnings):
    """Say for each heading which column it is and its unit, and what is wrong with it."""
    columns: list[tuple[Column | None, str | None, str]] = []
    seen: dict[str, str] = {}
    for heading in headings:
        column, word = _heading_parts(heading)
        unit = spelled_unit(word) if word else None
        title = tidy(heading)
        if column is None and title:
            words = f"nobody knows this heading, so it is not read; {_instead(title)}"
            warnings.append(Problem(row, title, words))
        elif column is not None and column.key in seen:
            words = f"stands there twice, as “{seen[column.key]}” too; keep one of them"
            problems.append(Problem(row, title, words))
            columns = [(None, None, old) if c is column else (c, u, old) for c, u, old in columns]
            column = None
        elif column is not None:
            seen[column.key] = title
            if word and unit not in column.units:
                allowed = " or ".join(column.units) or "no unit"
                problems.append(Problem(row, title, f"“{word}” is no unit for it; write {allowed}"))
                column = None
        columns.append((column, unit, title))
    for key in NEEDED:
        if key not in {column.key for column, _, _ in columns if column}:
            title = next(column.title for column in COLUMNS if column.key == key)
            if key not in seen:
                problems.append(Problem(row, "", f"there is no column “{title}”; add it"))
    return columns


def _instead(title):
    """Say what to write in place of a heading that nobody knows."""
    words = bare_word(re.sub(r"[(\[].*", "", title))
    near = get_close_matches(words, _HEADINGS, n=1)
    if near:
        return f"if you mean “{_HEADINGS[near[0]].title}”, write that"
    return "what fits no other column can stand under “note”"


def _records(lines, start, parting, width, problems):
    """Yield the rows below the headings that have as many cells; note those that have not."""
    place, number = start + 1, start + 1
    while place < len(lines):
        number += 1
        cells, used, broken = _one_record(lines, place, parting, width)
        place += used
        bare = [tidy(cell) for cell in cells]
        if broken:
            problems.append(Problem(number, "", "a quotation mark is not closed; close it"))
        elif not any(bare) or bare[0].startswith("#"):
            continue
        elif len(cells) != width:
            words = f"there are {len(cells)} cells, and {width} headings"
            if parting == ",":
                words += "; is a comma in a number? Write 16.5, or put it in quotes: “16,5”"
            else:
                words += "; each row has one cell for each heading, empty or not"
            problems.append(Problem(number, "", words))
        else:
            yield number, bare


def _one_record(lines, place, parting, width):
    """Read one row, which may have several lines in quotes; say how many, and if it is broken."""
    near = [line + "\n" for line in lines[place : place + _MOST_NOTE_LINES + 1]]
    reader = csv.reader(near, delimiter=parting, strict=True)
    try:
        cells = next(reader)
    except csv.Error:
        return [], 1, True
    if reader.line_num > 1:
        inside = [line for cell in cells for line in cell.split("\n")[1:]]
        swallowed = any(line.count(parting) >= max(1, width - 2) for line in inside)
        if swallowed or reader.line_num > _MOST_NOTE_LINES:
            return [], 1, True
    return cells, reader.line_num, False


# ---- cells --------------------------------------------------------------------------------------


def _commas(rows, columns, parting):
    """Tell for each column whether its decimals stand after a comma."""
    return [
        comma_column((cells[place] for _, cells in rows), comma_file=parting != ",")
        if column and column.row
        else None
        for place, (column, _, _) in enumerate(columns)
    ]


def _one_try(number, cells, columns, commas, problems, warnings):
    """Make a try of a row; None where something in it cannot be read."""
    values, wrong = {}, []
    for cell, (column, unit, title), comma in zip(cells, columns, commas, strict=True):
        if column is None or not cell:
            continue
        try:
            values[column.key] = _read_cell(cell, column, unit, comma)
        except CellError as error:
            wrong.append(Problem(number, title, f"“{_short(cell)}” {error}"))
        if words := _looks_odd(column, cell, values):
            warnings.append(Problem(number, title, f"“{_short(cell)}” {words}"))
    titles = {column.key: title for column, _, title in columns if column}
    failed = {problem.column for problem in wrong}
    for key in NEEDED:
        if key in titles and key not in values and titles[key] not in failed:
            words = {"time": "the time in seconds", "ended": f"{AN_EMBER} or {GAVE_UP}"}[key]
            wrong.append(Problem(number, titles[key], f"is empty; write {words}"))
    if not wrong and set(NEEDED) <= set(values):
        try:
            return TimedTry(**values)
        except InputError as refusal:
            wrong.append(Problem(number, "", str(refusal)))
    problems += wrong
    return None


def _looks_odd(column, cell, values):
    """Say what is odd about a cell that was read."""
    if column.key == "learner":
        return learner_warning(cell)
    if column.usual and column.key in values:
        low, high = column.usual
        if not low <= values[column.key] <= high:
            return "was read, and is unusual; is its unit that of the heading?"
    return ""


def _read_cell(cell, column, unit, comma):
    if column.key in WORDS:
        if cell[:1] in ("=", "+", "-", "@"):
            raise CellError("is taken for a formula by spreadsheets; begin with a letter")
        return cell
    if column.key == "ended":
        if ended := _ENDED.get(bare_word(cell)):
            return ended
        raise CellError(f"is neither; write {AN_EMBER} or {GAVE_UP}")
    return read_number(cell, column, unit=unit, comma=comma)


def _short(cell, most=40):
    return cell if len(cell) <= most else cell[: most - 1] + "…"
