"""Tables of values, each with its unit, range, source and status."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def table(name: str) -> Mapping[str, Any]:
    """Read one of the tables in this folder; each is read only once.

    Examples
    --------
    >>> table("everyday")["sun"]["name"]
    'noon sun'
    """
    return tomllib.loads((files(__name__) / f"{name}.toml").read_text(encoding="utf-8"))
