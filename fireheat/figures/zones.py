"""Where a field passes a temperature, and where it is hotter, as lines and shapes."""

from typing import Any

import numpy as np
from contourpy import FillType, LineType, contour_generator
from matplotlib.path import Path


class Zones:
    """A field of temperatures on a grid, to be cut at levels.

    Parameters
    ----------
    across, up : ndarray
        Places of columns and rows, as they are to be drawn.
    kelvin : ndarray
        Temperature of each, row by column. [K]
    solid : ndarray of bool
        Where there is a body at all.

    Examples
    --------
    >>> grid = np.arange(4.0)
    >>> field = Zones(grid, grid, 100.0 * np.ones((4, 1)) * grid, np.ones((4, 4), bool))
    >>> field.line(150.0)[:, 0].tolist(), field.line(500.0)
    ([1.5, 1.5, 1.5, 1.5], None)
    """

    def __init__(self, across: np.ndarray, up: np.ndarray, kelvin: np.ndarray, solid: np.ndarray):
        how: Any = {"line_type": LineType.Separate, "fill_type": FillType.OuterCode}
        self._cut = contour_generator(across, up, np.ma.masked_array(kelvin, ~solid), **how)

    def line(self, level: float) -> np.ndarray | None:
        """Points along which the field passes a level; pieces are parted by not-a-numbers."""
        pieces: Any = self._cut.lines(level)
        parted = [part for piece in pieces for part in (piece, [(np.nan, np.nan)])]
        return np.concatenate(parted[:-1]) if parted else None

    def above(self, level: float) -> Path | None:
        """Outline of what is hotter than a level."""
        found: Any = self._cut.filled(level, np.inf)
        points, codes = found
        return Path(np.concatenate(points), np.concatenate(codes)) if points else None
