"""How large the parts of a kit are cut: common practice, row by row, and what follows from it."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from ..bands import Band
from ..data import table
from ..quantities import check_ordinary, default


@dataclass(frozen=True, kw_only=True)
class Size:
    """One size of a part: a row of ``data/making.toml``.

    Attributes
    ----------
    part, name : str
        Of what, and which of its sizes.
    low, high : float
        What is usual. [SI]
    value : float
        What is drawn. [SI]
    unit, source, status : str
        Its unit, and where it comes from.
    """

    part: str
    name: str
    low: float
    high: float
    value: float
    unit: str
    source: str
    status: str

    @property
    def band(self) -> Band[float]:
        """What is usual, and what is drawn."""
        return Band(self.low, self.value, self.high)


@cache
def sizes() -> Mapping[str, Size]:
    """Return every size that is usual, by key.

    Examples
    --------
    >>> sizes()["notch_share"].value
    0.125
    """
    made = {}
    for key, row in table("making").items():
        others = {name: value for name, value in row.items() if name != "quantity"}
        value = default(row["quantity"]) if "quantity" in row else row["value"]
        made[key] = Size(**others | {"value": value})
    return made


@dataclass(frozen=True)
class Carved:
    """What follows from a spindle's thickness, where all else is as it is drawn.

    Attributes
    ----------
    diameter : float
        How thick the spindle is. [m]

    Examples
    --------
    >>> carved = Carved(0.016)
    >>> [round(1000 * length) for length in (carved.hole, carved.notch_depth, carved.notch_mouth)]
    [16, 14, 12]
    """

    diameter: float

    def __post_init__(self):
        check_ordinary(diameter=self.diameter)

    @property
    def hole(self) -> float:
        """How wide the hole is: as wide as the spindle, which bores it. [m]."""
        return self.diameter

    @property
    def notch_depth(self) -> float:
        """How far the notch reaches in from the board's edge: to the middle of the hole. [m]."""
        return self.diameter / 2 + sizes()["hole_rim"].value

    @property
    def notch_mouth(self) -> float:
        """How wide the notch is at the board's edge. [m]."""
        half = np.pi * sizes()["notch_share"].value
        return float(2 * self.notch_depth * np.tan(half))
