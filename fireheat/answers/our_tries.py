r"""A club's own tries by the clock: how many have no ember yet, and what physics expects of them.

A try that was given up after 90 s tells that its ember would have come later. So the share without
an ember falls, at each ember, by one of those that were still bowing then:

.. math:: S(t) = \prod_{t_i \le t} \left(1 - \frac{d_i}{n_i}\right)
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..kit.kit import Try
from ..quantities import InputError, check, choose
from ..spread import Spread, spread
from ..trials.columns import TimedTry

ALL = "all"
SPLITS = (ALL, "diameter", "force", "speed")
_MOST_SETTINGS = 3  # with more of them, tries are parted in two halves
_SETTINGS = ("diameter", "force", "speed", "friction", "moisture")


@dataclass(frozen=True, eq=False)
class Survival:
    """The share of tries without an ember yet: it falls at each ember, and is level between.

    Attributes
    ----------
    times : ndarray, shape (n,)
        When there were embers, rising. [s]
    shares : ndarray, shape (n,)
        What is left after each. [1]
    last : float
        Until when anybody bowed. [s]
    given_up : ndarray, shape (m,)
        When tries were given up, rising. [s]
    """

    times: np.ndarray
    shares: np.ndarray
    last: float
    given_up: np.ndarray

    def at(self, time: float | np.ndarray) -> np.ndarray:
        """Tell the share at any time. [1].

        Examples
        --------
        >>> float(survival([30, 60], observed=[True, True]).at(45.0))
        0.5
        """
        return np.r_[1.0, self.shares][np.searchsorted(self.times, time, side="right")]

    @property
    def middle(self) -> float:
        """When half of all have an ember; infinite if the tries do not tell. [s]."""
        half = np.nonzero(self.shares <= 0.5 + 1e-12)[0]
        return float(self.times[half[0]]) if len(half) else np.inf


def survival(times: Sequence[float], *, observed: Sequence[bool]) -> Survival:
    """Tell the share of tries without an ember, where some were given up.

    Parameters
    ----------
    times : sequence of numbers
        When the ember was there, or the try was given up, in seconds.
    observed : sequence of bool
        Whether there was an ember.

    Returns
    -------
    Survival
        The share.

    Raises
    ------
    InputError
        If there is no try, or not as many answers as times.

    References
    ----------
    .. [1] Kaplan & Meier, J. Am. Stat. Assoc. 53 (1958) 457, equation 2b. (from memory)

    Examples
    --------
    Who gave up after 40 s is no longer there to be counted at 60 s:

    >>> survival([20, 40, 60, 90], observed=[True, False, True, True]).shares
    array([0.75 , 0.375, 0.   ])
    """
    seconds = np.atleast_1d(check(elapsed=list(times)))
    seen = np.asarray(observed, bool)
    if seconds.ndim != 1 or not len(seconds) or seen.shape != seconds.shape:
        raise InputError(
            f"times is {times!r}, observed {observed!r}; allowed: as many, one or more"
        )
    embers, each = np.unique(seconds[seen], return_counts=True)
    bowing = np.array([np.sum(seconds >= time) for time in embers], float)
    return Survival(
        times=embers,
        shares=np.cumprod(1 - each / bowing) if len(embers) else np.zeros(0),
        last=float(seconds.max()),
        given_up=np.sort(seconds[~seen]),
    )


@dataclass(frozen=True, eq=False)
class Group:
    """Tries that were set alike, or nearly so.

    Attributes
    ----------
    low, high : float
        Between which they were set; both zero if all tries are one group. [SI]
    tries : int
        How many.
    survival : Survival
        By the clock.
    middle : Try
        The middle of their settings.
    expected : Spread
        What physics says of that one.
    """

    low: float
    high: float
    tries: int
    survival: Survival
    middle: Try
    expected: Spread

    @property
    def embers(self) -> int:
        """How many ended with an ember."""
        return self.tries - len(self.survival.given_up)


@dataclass(frozen=True, eq=False)
class SplitTries:
    """Tries in groups.

    Attributes
    ----------
    by : str
        One of ``SPLITS``.
    groups : tuple of Group
        From the lowest setting to the highest.
    whole : Group or None
        All of them as one, if there are any.
    left_out : int
        Tries for which nobody wrote the setting down.
    """

    by: str
    groups: tuple[Group, ...]
    whole: Group | None
    left_out: int


def our_tries(tries: Sequence[TimedTry], *, by: str = ALL) -> SplitTries:
    """Part tries by a setting, and put what physics expects beside each part.

    Parameters
    ----------
    tries : sequence of TimedTry
        The tries.
    by : str, optional
        One of ``SPLITS``.

    Returns
    -------
    SplitTries
        A group for each of up to three settings; where there are more, two halves.

    Raises
    ------
    InputError
        If there is no such setting, or something is no try.

    Examples
    --------
    >>> thick = [TimedTry(time=90.0, ended="ember", diameter=0.022)] * 2
    >>> thin = [TimedTry(time=30.0, ended="gave up", diameter=0.011)]
    >>> [(group.high, group.embers) for group in our_tries(thick + thin, by="diameter").groups]
    [(0.011, 0), (0.022, 2)]
    """
    choose("by", by, SPLITS)
    listed = isinstance(tries, Sequence) and all(isinstance(one, TimedTry) for one in tries)
    if not listed:
        raise InputError(f"tries is {tries!r}; allowed: a list of TimedTry(...)")
    known = list(tries)
    if by != ALL:
        known = sorted((one for one in tries if getattr(one, by)), key=lambda one: getattr(one, by))
    whole = _group(known, 0.0, 0.0) if known else None
    if by == ALL:
        return SplitTries(by, (whole,) if whole else (), whole, 0)
    values = [getattr(one, by) for one in known]
    groups = tuple(_group([*part], getattr(part[0], by), getattr(part[-1], by))
                   for part in _parts(known, values))  # fmt: skip
    return SplitTries(by, groups, whole, len(tries) - len(known))


def _parts(known, values):
    """Part tries by their values: each value a part, or two halves that share no value."""
    if len(set(values)) <= _MOST_SETTINGS:
        return [[one for one, its in zip(known, values, strict=True) if its == value]
                for value in sorted(set(values))]  # fmt: skip
    # Halves as even as they can be, cut where one value ends.
    cuts = [cut for cut in range(1, len(values)) if values[cut] > values[cut - 1]]
    cut = min(cuts, key=lambda cut: abs(cut - len(values) / 2))
    return [known[:cut], known[cut:]]


def _group(tries, low, high):
    middle = Try()
    for key in _SETTINGS:
        told = [getattr(one, key) for one in tries if getattr(one, key)]
        if told:
            middle = middle.changed(**{key: float(np.exp(np.mean(np.log(told))))})
    found = survival([one.time for one in tries], observed=[one.observed for one in tries])
    return Group(low, high, len(tries), found, middle, spread(middle))
