"""Every number taken from outside, each once: value, range, unit, source and status.

The rows stand in ``data/``: ``constants.toml``, ``ember.toml``, ``everyday.toml``, ``moves.toml``
and ``catchers.toml``. A row's key is its name in its file; where a file groups its rows, the names
of the groups come before, with dots between: ``"catchers.leather.thickness"``.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from .bands import Band
from .data import table

_TABLES = ("constants", "ember", "everyday", "catchers", "moves")


@dataclass(frozen=True, kw_only=True)
class Constant:
    """One row.

    Attributes
    ----------
    value : object
        The likely value, a list where the source prints several numbers.
    low, high : object
        How far such things span; the value itself where the table gives no range.
    unit, source, status : str
        Its unit, in ASCII; where it comes from; ``published``, ``common practice``,
        ``assumption`` or ``memory``.
    name : str
        What a reader calls it, if a reader meets it.
    """

    value: Any
    low: Any
    high: Any
    unit: str
    source: str
    status: str
    name: str = ""

    @property
    def band(self) -> Band[Any]:
        """Low, likely and high."""
        return Band(self.low, self.value, self.high)


@cache
def constants() -> Mapping[str, Constant]:
    """Return every row of every table, by key."""
    found: dict[str, Constant] = {}
    for name in _TABLES:
        for key, row in _rows(table(name)):
            if key in found:
                raise KeyError(f"{key} stands in two tables")
            found[key] = row
    return found


def _rows(entries: Mapping[str, Any], before: str = "") -> Iterator[tuple[str, Constant]]:
    for name, entry in entries.items():
        if not isinstance(entry, Mapping):
            continue
        if "value" in entry:
            alone = {"low": entry["value"], "high": entry["value"]}
            yield before + name, Constant(**{**alone, **entry})
        else:
            yield from _rows(entry, f"{before}{name}.")


def constants_under(group: str) -> Mapping[str, Constant]:
    """Return the rows of one group, by the rest of their keys.

    Examples
    --------
    >>> list(constants_under("grounds.board"))
    ['conductivity', 'volumetric_heat_capacity']
    """
    start = f"{group}."
    return {k.removeprefix(start): row for k, row in constants().items() if k.startswith(start)}


def constant(key: str) -> Any:
    """Return the value of one row; a list where its source prints several numbers.

    Examples
    --------
    >>> constant("water_boiling_point")
    373.15
    """
    return constants()[key].value


def constant_band(key: str) -> Band[Any]:
    """Return low, likely and high of one row.

    Examples
    --------
    >>> constant_band("catchers.leather.thickness")
    Band(low=0.001, likely=0.002, high=0.0035)
    """
    return constants()[key].band
