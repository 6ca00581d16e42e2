"""What stands in a cell of a log: numbers with commas or points, units, minutes, fractions.

Whoever keeps a log in a spreadsheet gets what it makes of it. A cell that could be read in two ways
is not guessed at.
"""

import re
from collections.abc import Iterable
from fractions import Fraction

from ..quantities import from_si, quantity, to_si
from .columns import UNITS, Column

_SPELLED = {word: unit for unit, words in UNITS.items() for word in words}
_NUMBER = re.compile(r"(\d+)(?:([.,])(\d+))?([eE][+-]?\d{1,2})?|([.,])(\d+)")
LEARNER_CODE = r"[A-Za-z]{0,2}[-_ ]?\d{1,3}"  # how a learner is called in a log
_FRACTION = re.compile(r"(?:(\d{1,3})[ -])?(\d{1,2})/(\d{1,2})")
_CLOCK = re.compile(r"(\d{1,3}):([0-5]\d)(?:[.,]0+)?")
_SHARE = 0.005  # less water than half a per cent no wood has outdoors
_SPACES = re.compile(r"[\s\u00a0\u202f\u2009]+")


class CellError(ValueError):
    """A cell that cannot be read; its words say what to write instead."""


def spelled_unit(word: str) -> str | None:
    """Return the unit that a word means; None if nobody knows it.

    Examples
    --------
    >>> spelled_unit("Inches"), spelled_unit("stone")
    ('in', None)
    """
    return _SPELLED.get(word.strip().strip(".").lower())


def tidy(text: str) -> str:
    r"""Take away what spreadsheets add around a cell: spaces of all kinds, a leading apostrophe.

    Examples
    --------
    >>> tidy(" '16\u00a0mm ")
    '16 mm'
    """
    return _SPACES.sub(" ", text).strip().removeprefix("'").strip()


def comma_column(texts: Iterable[str], *, comma_file: bool) -> bool | None:
    """Tell whether a column writes its decimals after a comma.

    Parameters
    ----------
    texts : iterable of str
        Its cells.
    comma_file : bool
        Whether the file's cells are parted by something else than commas, as where commas stand
        in numbers.

    Returns
    -------
    bool or None
        None if it cannot be told, or cells of both kinds stand in it.

    Examples
    --------
    >>> comma_column(["16,5", "1,250"], comma_file=True), comma_column(["16.5"], comma_file=False)
    (True, False)
    """
    found = {sign for text in texts if (sign := _sure_sign(text))}
    if len(found) == 1:
        return found == {","}
    return None if found or comma_file else False


def _sure_sign(text):
    """Return the sign before decimals, where it cannot part thousands."""
    number, _ = _parted(tidy(text))
    match = _NUMBER.fullmatch(number)
    if not match:
        return ""
    whole, sign, decimals, _, bare, _ = match.groups()
    if bare or (sign and (len(decimals) != 3 or whole == "0" or len(whole) > 3)):
        return bare or sign
    return ""


def _parted(text):
    """Part a number from the unit after it."""
    match = re.fullmatch(r"([\d.,:/ -]*?\d(?:[eE][+-]?\d{1,2})?)\s*([^\d.,:/]*)", text)
    return (match[1].strip(), match[2].strip()) if match else (text, "")


def read_number(text: str, column: Column, *, unit: str | None, comma: bool | None) -> float:
    """Read the number in a cell.

    Parameters
    ----------
    text : str
        The cell.
    column : Column
        Which it stands in.
    unit : str or None
        The unit that the heading names.
    comma : bool or None
        As :func:`comma_column` says.

    Returns
    -------
    float
        The number. [SI]

    Raises
    ------
    CellError
        If it cannot be read, or in two ways, or is beyond what an ordinary try can have.

    References
    ----------
    .. [1] How spreadsheets export cells: observed.

    Examples
    --------
    >>> from fireheat.trials.columns import COLUMNS
    >>> diameter, time = COLUMNS[3], COLUMNS[13]
    >>> read_number("5/8", diameter, unit="in", comma=None)
    0.015875
    >>> read_number("16,5 mm", diameter, unit=None, comma=True)
    0.0165
    >>> read_number("1:15", time, unit="s", comma=None)
    75.0
    """
    text = tidy(text)
    if text[:1] in ("=", "+", "@"):
        raise CellError("is a formula; write the number that it shows")
    if (clock := _CLOCK.fullmatch(text)) and "min" in column.units:
        return _ordinary(60.0 * int(clock[1]) + int(clock[2]), column, unit)
    number, word = _parted(text)
    own = spelled_unit(word) if word else unit
    if word and own not in column.units:
        allowed = " or ".join(column.units) or "a number alone"
        raise CellError(f"has a unit that does not go here; write {allowed}")
    if own is None and column.units:
        raise CellError(f"has no unit; put it into the heading, such as “{column.title}”")
    value = _plain_number(number, own, comma)
    return _ordinary(to_si(value, own) if own else value, column, own)


def _plain_number(number, unit, comma):
    """Read digits with their sign for decimals; in inches, a fraction."""
    if (parts := _FRACTION.fullmatch(number)) and unit == "in" and int(parts[3]):
        return float(int(parts[1] or 0) + Fraction(int(parts[2]), int(parts[3])))
    match = _NUMBER.fullmatch(number)
    if not match:
        raise CellError("is no number; write digits only, such as 16 or 16.5, or leave it empty")
    _, sign, _, _, bare, _ = match.groups()
    sign = sign or bare
    if sign and not _sure_sign(number) and comma is not (sign == ","):
        one, other = number.replace(sign, "."), number.replace(sign, "")
        raise CellError(f"could be {float(one):g} or {other}; write {float(one):g} or {other}")
    return float(number.replace(",", "."))


def _ordinary(value, column, unit):
    """Refuse what no ordinary try has, and guess what was meant."""
    row = quantity(column.row)
    if unit == "%" and 0 < value < _SHARE:
        raise CellError(f"is a share; write it in per cent: {100 * from_si(value, unit):g}")
    hair = 1e-9 * abs(value)  # 2 mm by way of inches
    if row.low - hair <= value <= row.high + hair:
        return value
    shown = unit or (column.units[0] if column.units else "")
    low, high = (from_si(end, shown) if shown else end for end in (row.low, row.high))
    ends = " to ".join(f"{float(f'{end:.3g}'):g}" for end in (low, high))
    words = f"is beyond what a try can have; write {ends} {shown}".rstrip()
    number = from_si(value, shown) if shown else value
    meant = [u for u in column.units if u != shown and row.low <= to_si(number, u) <= row.high]
    if meant:
        words += f", or did you mean {' or '.join(f'{number:g} {u}' for u in meant)}?"
    raise CellError(words)


def spell_number(value: float, *, unit: str, comma: bool) -> str:
    """Write a number so that it is read back as it was, and in one way only.

    Parameters
    ----------
    value : float
        The number. [SI]
    unit : str
        The unit of the column; none if empty.
    comma : bool
        Whether decimals stand after a comma.

    Returns
    -------
    str
        The cell.

    References
    ----------
    .. [1] :func:`read_number` reads it back.

    Examples
    --------
    >>> spell_number(0.0165, unit="mm", comma=False), spell_number(0.012345, unit="mm", comma=True)
    ('16.5', '12,3450')
    """
    text = f"{from_si(value, unit) if unit else value:.8f}".rstrip("0").rstrip(".")
    whole, point, decimals = text.partition(".")
    if point and len(decimals) == 3 and whole != "0":
        decimals += "0"
    return whole + ("," if comma else ".") * bool(point) + decimals


def learner_warning(code: str) -> str:
    """Say what is wrong with how a learner is called; nothing if it is a code.

    Examples
    --------
    >>> learner_warning("L07"), learner_warning("Alex")
    ('', 'looks like a name; learners are minors, so write a code such as L01')
    """
    if not code or re.fullmatch(LEARNER_CODE, code):
        return ""
    return "looks like a name; learners are minors, so write a code such as L01"


def bare_word(text: str) -> str:
    """Take case, spaces, hyphens and underscores away, in which people differ.

    Examples
    --------
    >>> bare_word("Gave-up ")
    'gaveup'
    """
    return re.sub(r"[\s_-]+", "", text).lower()
