"""Sizes of a kit in words: what is usual, and what follows from the spindle's thickness."""

from collections.abc import Mapping
from itertools import groupby
from operator import itemgetter

from ..kit.making import Carved, Size, sizes
from ..quantities import METRIC, US, choose, from_si
from ..texts import in_units
from ..words import inch_words

_PARTS = ((0.2, 1), (0.1, 2), (0.04, 4), (0.02, 8), (0.0, 16))  # from so many metres on, of an inch
_part = itemgetter(0)  # of a row


def size_words(carved: Carved, system: str = METRIC) -> Mapping[str, str]:
    """Spell every size of a kit: its key, or ``"spindle"``, ``"hole"``, ``"mouth"``, and its words.

    Parameters
    ----------
    carved : Carved
        What follows from the spindle's thickness.
    system : str
        ``"metric"`` or ``"us"``.

    Returns
    -------
    mapping of str to str
        The words.

    Raises
    ------
    InputError
        If there are no such units.

    Examples
    --------
    >>> words = size_words(Carved(0.016))
    >>> words["bow_length"], words["notch_share"], words["spindle"], words["mouth"]
    ('500 to 750 mm', 'about 1/8', '16 mm', '12 mm')
    """
    choose("units", system, (METRIC, US))
    usual = {key: _usual(one, system) for key, one in sizes().items()}
    thick = in_units(f"{{diameter:{carved.diameter:.9f}}}", system)
    mouth = f"{_number(carved.notch_mouth, system)} {_unit(system)}"
    return usual | {"spindle": thick, "hole": thick, "mouth": mouth}


def size_rows(carved: Carved, system: str = METRIC) -> list[tuple[str, str, str]]:
    """List every size of a kit, part by part: the part where it is new, the size, its words.

    Parameters
    ----------
    carved : Carved
        What follows from the spindle's thickness.
    system : str
        ``"metric"`` or ``"us"``.

    Returns
    -------
    list of tuple
        The rows.

    Examples
    --------
    >>> size_rows(Carved(0.016))[:2]
    [('spindle', 'thickness', '12 to 20 mm'), ('', 'length', '130 to 250 mm')]
    """
    words = size_words(carved, system)
    rows = [(one.part, one.name, words[key]) for key, one in sizes().items()]
    rows.append(("hole", "width", f"as the spindle, {words['hole']}"))
    rows.append(("notch", "width at the edge", words["mouth"]))
    order = list(dict.fromkeys(part for part, *_ in rows))
    rows.sort(key=lambda row: order.index(_part(row)))
    return [
        ("" if place else part, name, told)
        for part, of_part in groupby(rows, _part)
        for place, (_, name, told) in enumerate(of_part)
    ]


def _usual(one: Size, system: str) -> str:
    """Spell what is usual: from, to, unit."""
    if one.unit == "1":
        return f"about 1/{1 / one.value:.0f}" if one.value < 1 else f"{one.value}"
    low, high = (_number(end, system, one.high) for end in (one.low, one.high))
    return f"{low} to {high} {_unit(system)}"


def _unit(system):
    return "mm" if system == METRIC else "in"


def _number(length, system, largest=0.0):
    """Spell a length, as exactly as the largest of its kind is read."""
    if system == US:
        parts = next(parts for least, parts in _PARTS if largest >= least)
        return inch_words(from_si(length, "in"), parts)
    return f"{from_si(length, 'mm'):.0f}"
