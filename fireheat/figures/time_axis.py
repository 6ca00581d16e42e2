"""The axis of times that pictures share: even factors, and a strip "never" at its end."""

from dataclasses import dataclass

import numpy as np

from ..words import NEVER, TOO_LONG
from . import style
from .sketch import Scale

LAST = 8400.0  # where the axis ends, in seconds; from TOO_LONG up is the strip
_STRIP = (TOO_LONG * LAST) ** 0.5


@dataclass(frozen=True)
class TimeAxis:
    """A logarithmic axis of times.

    Attributes
    ----------
    first : float
        Where it begins. [s]
    ticks : tuple of int
        Times that are named on it. [s]
    """

    first: float
    ticks: tuple[int, ...]

    def place(self, seconds):
        """Put times beyond either end where a reader still sees them."""
        return np.where(np.asarray(seconds) < TOO_LONG, np.maximum(seconds, self.first), _STRIP)

    @property
    def scale(self) -> Scale:
        """The scale along it."""
        return Scale(self.first, LAST, factors=True)

    def dress(self, axes, way: str) -> None:
        """Name the times and the strip along "x" or "y" of matplotlib's axes."""
        names = [f"{tick} s" if tick < 60 else f"{tick // 60} min" for tick in self.ticks]
        axis = getattr(axes, f"{way}axis")
        axis.set_ticks((*self.ticks, _STRIP), [*names, NEVER])
        axis.set_tick_params(which="minor", length=0)
        axis.set_minor_formatter("")
        span = axes.axvspan if way == "x" else axes.axhspan
        span(TOO_LONG, LAST, color=style.SHADE, linewidth=0)
