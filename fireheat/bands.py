"""Low, likely, high: what an estimate says, and how sure it is."""

from collections.abc import Callable
from typing import Any, Generic, NamedTuple, TypeVar

import numpy as np

Value = TypeVar("Value")


class Band(NamedTuple, Generic[Value]):
    """An estimate's low end, likely value and high end.

    Attributes
    ----------
    low, likely, high : object
        Numbers, arrays of one shape, or anything else that is known at three places. Low is the
        end that comes first in its own numbers; where all three say "never" they are equal.

    Examples
    --------
    >>> smoke = Band(2.9, 5.9, 15.5)
    >>> smoke.likely, smoke.ends
    (5.9, (2.9, 15.5))
    """

    low: Value
    likely: Value
    high: Value

    @property
    def ends(self) -> tuple[Value, Value]:
        """Low and high."""
        return self.low, self.high

    def each(self, change: Callable[[Value], Any]) -> "Band[Any]":
        """Change all three alike.

        Examples
        --------
        >>> Band(1.0, 2.0, 3.0).each(lambda value: 10 * value)
        Band(low=10.0, likely=20.0, high=30.0)
        """
        return Band(*map(change, self))

    def about_likely(self) -> "Band[Any]":
        """Widen where an end has passed the likely value: what is most likely can be.

        Ends and likely value may come from two solvers, or from draws and one answer; where the
        ends are nearer together than those err, or most draws agree on another answer, an end
        passes it.

        Examples
        --------
        >>> [float(end) for end in Band(6.512, 6.510, 6.522).about_likely()]
        [6.51, 6.51, 6.522]
        """
        low, likely, high = (np.asarray(values) for values in self)
        return Band(np.minimum(low, likely)[()], self.likely, np.maximum(high, likely)[()])

    def at(self, index) -> "Band[Any]":
        """Pick one from bands of many at once, along the last axis.

        Examples
        --------
        >>> Band(*np.array([[1.0, 2.0], [3.0, 4.0], [5.0, 6.0]])).at(1)
        Band(low=2.0, likely=4.0, high=6.0)
        """
        return self.each(lambda values: np.asarray(values)[..., index].tolist())
