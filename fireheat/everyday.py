"""Familiar powers to stand beside the watts at a spindle's tip (``data/everyday.toml``)."""

import math
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def _table() -> Mapping[str, Any]:
    text = (files("fireheat") / "data" / "everyday.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def like_power(power: float) -> str:
    """Name a familiar thing of about this power.

    Parameters
    ----------
    power : float
        Power to compare. [W]

    Returns
    -------
    str
        The thing and its watts.

    Examples
    --------
    >>> like_power(10.5)
    'like a bright LED lamp (9 W)'
    """
    if power <= 0:
        return "no rubbing, no heat"
    row = min(_table()["power"], key=lambda row: abs(math.log(row["watts"] / power)))
    return f"like {row['name']} ({row['watts']:g} W)"


def suns(flux: float) -> float:
    """Count how many noon suns give this heat flux.

    Parameters
    ----------
    flux : float
        Heat flux. [W/m^2]

    Returns
    -------
    float
        The number. [1]

    Examples
    --------
    >>> suns(79_000.0)
    79.0
    """
    return flux / _table()["sun"]["watts_per_area"]
