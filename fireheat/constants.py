"""Physical constants, each once, with its unit, source and status (``data/constants.toml``)."""

from collections.abc import Mapping
from typing import Any

from .data import table


def constants() -> Mapping[str, Mapping[str, Any]]:
    """Return the whole table: value, unit, source and status by key."""
    return table("constants")


def constant(key: str) -> Any:
    """Return the value of one constant; a list where the source prints a polynomial.

    Examples
    --------
    >>> constant("water_boiling_point")
    373.15
    """
    return constants()[key]["value"]
