"""Ticks of the paper computer: which numbers stand on which side of which scale, in which unit."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from ..answers.chart import LADDER_TIMES
from ..words import inch_words


class ChartTicks(NamedTuple):
    """What stands on one side of a scale: the numbers told, and short ticks between them.

    Attributes
    ----------
    unit : str
        Of all its numbers.
    told : tuple of float
        Those that are written.
    between : tuple of tuple of float
        First, last and step of runs of ticks.
    way : int
        -1 for up or to the left, 1 for down or to the right.
    parts : int
        To the inch, where a rule has such; none where numbers are decimals.
    """

    unit: str
    told: tuple[float, ...]
    between: tuple[tuple[float, float, float], ...]
    way: int = -1
    parts: int = 0

    def marks(self) -> list[tuple[float, bool]]:
        """List the ticks once each, and whether their number is told."""
        values = set(self.told)
        for first, last, step in self.between:
            values |= {round(value, 6) for value in np.arange(first, last + step / 2, step)}
        return [(float(value), value in self.told) for value in sorted(values)]

    def words(self, value: float) -> str:
        """Spell the number of a tick."""
        return inch_words(value, self.parts) if self.parts else f"{value:g}"


CHART_SIDES: Mapping[str, tuple[ChartTicks, ...]] = MappingProxyType(
    {
        "force": (
            ChartTicks(
                "N", (20, 25, 30, 40, 50, 60, 80, 100, 120, 160), ((20, 100, 2), (100, 160, 5))
            ),
            ChartTicks(
                "lbf", (5, 6, 8, 10, 12, 15, 20, 25, 30, 35), ((4.5, 15, 0.5), (15, 35, 1)), 1
            ),
        ),
        "speed": (
            ChartTicks(
                "m/s",
                (0.3, 0.4, 0.5, 0.6, 0.8, 1.0, 1.2, 1.5, 2.0, 2.4),
                ((0.3, 1.0, 0.02), (1.0, 2.4, 0.05)),
            ),
            ChartTicks("ft/s", (1, 1.5, 2, 2.5, 3, 4, 5, 6, 7), ((1, 3, 0.1), (3, 7.8, 0.2)), 1),
        ),
        "friction": (
            ChartTicks(
                "1", (0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.8), ((0.1, 0.8, 0.01),), 1
            ),
        ),
        "product": (
            ChartTicks(
                "W",
                (1, 1.5, 2, 3, 4, 5, 6, 8, 10, 15, 20, 30, 40),
                ((1, 2, 0.1), (2, 5, 0.2), (5, 10, 0.5), (10, 20, 1), (20, 40, 2)),
                1,
            ),
        ),
        "power": (
            ChartTicks(
                "W",
                (3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40),
                ((3, 5, 0.1), (5, 10, 0.2), (10, 20, 0.5), (20, 40, 1)),
            ),
        ),
        "bound": (
            ChartTicks(
                "s",
                (2, 3, 4, 6, 8, 10, 15, 20, 30, 40, 60, 90),
                ((2, 4, 0.2), (4, 10, 0.5), (10, 20, 1), (20, 40, 2), (40, 90, 5)),
            ),
        ),
        "ember": (
            ChartTicks("s", tuple(LADDER_TIMES), ((8, 20, 0.5), (20, 60, 1), (60, 120, 2)), 1),
        ),
        "diameter": (
            ChartTicks("mm", (8, 10, 12, 14, 16, 18, 20, 22), ((8, 22, 1),)),
            ChartTicks("in", (3 / 8, 1 / 2, 5 / 8, 3 / 4, 7 / 8), ((5 / 16, 7 / 8, 1 / 16),), 1, 8),
        ),
        "burn_in_depth": (
            ChartTicks("mm", (2, 3, 4, 6, 8), ()),
            ChartTicks("in", (1 / 8, 3 / 16, 1 / 4, 5 / 16), (), 1, 16),
        ),
    }
)
