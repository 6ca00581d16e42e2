"""The tables, as they are written; read a number by :mod:`fireheat.constants`, not here."""

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
    >>> table("woods")["western_redcedar"]["latin"]
    'Thuja plicata'
    """
    return tomllib.loads((files(__name__) / f"{name}.toml").read_text(encoding="utf-8"))
