"""Texts of the tables with places for quantities: each reader has them in their own units."""

import re
from collections.abc import Callable
from difflib import SequenceMatcher
from functools import cache
from typing import Any

from scipy import constants as c

from .quantities import METRIC, US, choose, quantities, quantity, unit_text
from .words import number_words

_PLACE = re.compile(r"\{(\w+):(~?)([-\d.]+)\}")
# A number stays with its unit; all else is taken word by word.
_MEASURED = re.compile(r"\d[\d.,/]*(?: \d/\d+)?[ \xa0]°?[^\W\d][\w/²³]*|\w+|\W")


def in_units(text: str, system: str = METRIC, **words: Any) -> str:
    """Fill the places of a text: a quantity's as a reader measures it, others with words.

    ``{diameter:0.022}`` is a quantity of the table, in SI; ``{temperature:~623.15}`` is one told
    to two figures. ``{found}`` is a word that is given.

    Parameters
    ----------
    text : str
        The text.
    system : str
        ``"metric"`` or ``"us"``.
    **words : str or float
        What stands in the other places.

    Returns
    -------
    str
        The text, filled.

    Raises
    ------
    InputError
        If there are no such units.

    Examples
    --------
    >>> in_units("A broom handle, {diameter:0.022}: {time}.", "us", time="90 s")
    'A broom handle, 7/8 in: 90 s.'
    >>> in_units("some {temperature:~873.15}"), in_units("some {temperature:~873.15}", "us")
    ('some 600 °C', 'some 1,100 °F')
    """
    choose("units", system, (METRIC, US))
    return _PLACE.sub(lambda place: _said(system, *place.groups()), text).format(**words)


def _said(system, key, about, value):
    row, si = quantity(key), float(value)
    if about:
        return f"{number_words(row.shown(si, system))} {unit_text(row.shown_unit(system))}"
    return re.sub(r"\.0+(?= )", "", row.text(si, system))


def both_units(key: str, value: float) -> str:
    r"""Spell a quantity for readers of either unit system.

    Parameters
    ----------
    key : str
        The quantity, a row of the table.
    value : float
        How much. [SI]

    Returns
    -------
    str
        Such as ``"16 mm (5/8 in)"``, held together.

    Examples
    --------
    >>> both_units("diameter", 0.016).replace("\xa0", " ")
    '16 mm (5/8 in)'
    """
    metric, us = (in_units(f"{{{key}:{value:.9f}}}", system) for system in (METRIC, US))
    return (metric if metric == us else f"{metric} ({us})").replace(" ", "\xa0")


def wear_words(wear: float, system: str = METRIC) -> str:
    """Spell how much a pair of woods wears off, for each unit of force and of way rubbed.

    Parameters
    ----------
    wear : float
        Volume worn off for each unit of rubbing. [m^3/J]
    system : str
        ``"metric"`` or ``"us"``.

    Returns
    -------
    str
        The words.

    Examples
    --------
    >>> wear_words(2.4e-9)
    '2.4 mm³ for each newton pressed and metre rubbed'
    >>> wear_words(2.4e-9, "us")
    '0.2 cubic inches for every thousand pounds pressed and foot rubbed'
    """
    if system == US:
        number = number_words(1000 * wear * c.lbf * c.foot / c.inch**3)
        return f"{number} cubic inches for every thousand pounds pressed and foot rubbed"
    return f"{number_words(wear / c.milli**3)} mm³ for each newton pressed and metre rubbed"


def both_told(spell: Callable[[str], str]) -> str:
    r"""Spell words for readers of either unit system at once: the second unit in brackets.

    Parameters
    ----------
    spell : callable
        Returns the words for ``"metric"`` or ``"us"``.

    Returns
    -------
    str
        The metric words, with what the others read instead behind each place.

    Examples
    --------
    >>> both_told(lambda system: in_units("Press with {force:60}.", system)).replace("\xa0", " ")
    'Press with 60 N (13 lb).'
    """
    metric, us = (_MEASURED.findall(spell(system)) for system in (METRIC, US))
    told = ""
    for kind, i, j, k, m in SequenceMatcher(None, metric, us, autojunk=False).get_opcodes():
        here, there = "".join(metric[i:j]), "".join(us[k:m])
        told += here if kind == "equal" else f"{_held(here)} ({_held(there)})"
    return told


def _held(words):
    return words.replace(" ", "\xa0")


def unbroken(words: str) -> str:
    """Hold numbers and their units together by no-break spaces, so that no line ends in between.

    Parameters
    ----------
    words : str
        Words, or HTML.

    Returns
    -------
    str
        The same, held together.

    Examples
    --------
    >>> unbroken("in 9 min").split(" ")[0]
    'in'
    """
    return _measures().sub(lambda found: found.group().replace(" ", "\xa0"), words)


@cache
def _measures():
    """Compile what a number with its unit looks like, for all units of the table."""
    rows = quantities().values()
    units = {unit_text(unit) for row in rows for unit in (row.unit, row.metric, row.us)} - {""}
    one = "|".join(re.escape(unit) for unit in sorted(units, key=len, reverse=True))
    return re.compile(rf"(?<=[\d½]) (?:{one})(?![\w/])|(?<=\d) (?=\d+/\d)| ± ")
