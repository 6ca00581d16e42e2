"""Physical constants, each once, with its unit, source and status (``data/constants.toml``)."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def constants() -> Mapping[str, Mapping[str, Any]]:
    """Return the whole table: value, unit, source and status by key."""
    text = (files("fireheat") / "data" / "constants.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def constant(key: str) -> Any:
    """Return the value of one constant; a list where the source prints a polynomial.

    Examples
    --------
    >>> constant("water_boiling_point")
    373.15
    """
    return constants()[key]["value"]
