r"""What makes embers soon or late, by timed tries of which some were given up.

A try that was given up after 90 s is not missing: its ember would have come later. The fit

.. math:: \ln t = b_0 + \sum_j b_j x_j + \sigma \varepsilon

takes it as that. Its intervals are those between which the likelihood has not fallen too far, and
are made for classes of eight to some dozens of tries (:mod:`fireheat.trials.likelihood`).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

import numpy as np

from ..quantities import InputError, check_ordinary, choose, default, quantities
from .likelihood import (
    DISTRIBUTIONS,
    FEWEST_FREE,
    Sets,
    carries,
    coefficient_ends,
    scale_ends,
    tops,
)

_OWN_NAMES = ("intercept", "scale")
_COLLINEAR = 1e-4  # what is left of a column, as a share, when all others told what they can
_EXACT = 1e-6  # of ln time: a stopwatch and a hand never agree so well


class TooFewTriesError(InputError):
    """Tries that cannot carry a fit.

    Attributes
    ----------
    reason : str
        Why not.
    measure_next : str
        What to measure, so that they can.
    """

    def __init__(self, reason: str, measure_next: str):
        super().__init__(f"{reason} {measure_next}")
        self.reason, self.measure_next = reason, measure_next


@dataclass(frozen=True, kw_only=True)
class CensoredFit:
    """What the tries tell.

    Attributes
    ----------
    intercept : float
        Of ln time, where all columns are zero. [SI]
    coefficients : mapping of str to float
        By column: what one more of it adds to ln time. [SI]
    scale : float
        Scatter of ln time: a standard deviation, if lognormal. [1]
    intervals : mapping of str to tuple of float
        Low and high end, by column, and of ``"intercept"`` and ``"scale"``. [SI]
    level : float
        Share of such intervals that hold the truth. [1]
    log_likelihood : float
        Of ln time; that of time is less by the sum of ln t over embers. [1]
    tries, embers : int
        How many.
    distribution : str
        ``"lognormal"`` or ``"weibull"``.
    """

    intercept: float
    coefficients: Mapping[str, float]
    scale: float
    intervals: Mapping[str, tuple[float, float]]
    level: float
    log_likelihood: float
    tries: int
    embers: int
    distribution: str


def censored_fit(
    times: Sequence[float],
    *,
    observed: Sequence[bool],
    design: Mapping[str, Any],
    distribution: str = "lognormal",
    level: float = default("level"),
) -> CensoredFit:
    """Fit ln time to causes, where some tries were given up.

    Parameters
    ----------
    times : sequence of numbers
        When the ember was there, or the try was given up, in seconds.
    observed : sequence of bool
        Whether there was an ember; a try without one was given up.
    design : mapping of str to sequence of numbers, or a data frame
        A column for each cause, without one of ones; for exponents, logarithms.
    distribution : str, optional
        ``"lognormal"`` or ``"weibull"``.
    level : float, optional
        Share of the intervals that hold the truth. [1]

    Returns
    -------
    CensoredFit
        Coefficients and scatter, with intervals.

    Raises
    ------
    TooFewTriesError
        If the tries cannot carry the fit; it says why, and what to measure next.
    InputError
        If a time is not above zero, a column not as long as the others, or not of numbers.

    Notes
    -----
    Of simulated evenings of 8 to 24 tries, up to 40 % given up, 93 to 97 % of nominal 95 %
    intervals held the truth; of intervals by standard errors 70 to 93 %.

    References
    ----------
    .. [1] Lawless, Statistical Models and Methods for Lifetime Data, 2nd ed., 2003, chapter 6.
       (from memory)

    Examples
    --------
    Three thin spindles and three thick ones; one was given up after two minutes:

    >>> fit = censored_fit(
    ...     [22, 31, 26, 95, 80, 120],
    ...     observed=[True, True, True, True, True, False],
    ...     design={"diameter": np.log([10, 10, 10, 20, 20, 20])},
    ... )
    >>> round(fit.coefficients["diameter"], 2), fit.embers
    (1.94, 5)
    >>> [round(end, 1) for end in fit.intervals["diameter"]]
    [1.2, 2.9]
    """
    choose("distribution", distribution, DISTRIBUTIONS)
    check_ordinary(level=level)
    level = float(level)
    columns = _columns(design)
    seconds = _numbers("times", times)
    if seconds.size and not np.all(seconds > 0):
        raise InputError(f"times has {seconds.min():g} s; allowed: above 0 s")
    seen = _booleans(observed)
    for name, values in {"observed": seen, **columns}.items():
        if len(values) != len(seconds):
            raise InputError(
                f"{name} has {len(values)} values and times {len(seconds)}; allowed: as many"
            )
    matrix = np.stack([np.ones(len(seconds)), *columns.values()], axis=-1)
    sets = Sets(np.log(seconds)[None], seen[None], matrix[None], distribution)
    _refuse_too_few(sets, list(columns))
    return _fitted(sets, list(columns), level)


def _fitted(sets, names, level):
    found = tops(sets)
    intercept, *coefficients = found.coefficients[0].tolist()
    ends = coefficient_ends(sets, found, level=level)[0].tolist()
    (scatter,) = scale_ends(sets, found, level=level).tolist()
    intervals = dict(zip(("intercept", *names), map(tuple, ends), strict=True))
    return CensoredFit(
        intercept=intercept,
        coefficients=MappingProxyType(dict(zip(names, coefficients, strict=True))),
        scale=float(found.scale[0]),
        intervals=MappingProxyType(intervals | {"scale": tuple(scatter)}),
        level=level,
        log_likelihood=float(found.height[0]),
        tries=sets.times.shape[-1],
        embers=int(sets.observed.sum()),
        distribution=sets.distribution,
    )


# ---- when tries cannot carry it -----------------------------------------------------------------


def _refuse_too_few(sets, names):
    """Say why tries cannot carry the fit, and what to measure next, if they cannot."""
    embers = sets.columns[0][sets.observed[0], 1:]
    needed = len(names) + 1 + FEWEST_FREE
    if (short := needed - len(embers)) > 0:
        many = "is 1 ember" if len(embers) == 1 else f"are {len(embers)} embers"
        causes = f"{len(names)} cause{'s' * (len(names) != 1)}"
        raise TooFewTriesError(
            f"There {many}, and to tell {causes} from luck takes at least {needed}.",
            f"Time at least {short} more tries that end with an ember, or ask for fewer causes.",
        )
    for name, values in zip(names, embers.T, strict=True):
        if np.ptp(values) <= _COLLINEAR * np.abs(values).max(initial=1e-300):
            word = _word(name)
            raise TooFewTriesError(
                f"All embers came with one and the same {word}, so nobody can tell what it does.",
                f"Time some tries with another {word}, until they end with embers, too.",
            )
    for name, others in _told_by_others(embers, names):
        raise TooFewTriesError(
            f"{_word(name).capitalize()} always changed along with {others}, so nobody can tell"
            " which of them it was.",
            f"Time some tries in which only {_word(name)} is another.",
        )
    if not carries(sets)[0] or _leftover(sets) < _EXACT:
        raise TooFewTriesError(
            "The times of all embers follow a formula exactly, as no stopwatch would have them.",
            "Write down times as they were read, and repeat each kind of try.",
        )


def _told_by_others(embers, names):
    """Yield a column that others tell, and their names."""
    spread = embers - embers.mean(axis=0)
    spread = spread / np.sqrt(np.mean(spread**2, axis=0))
    for place, name in enumerate(names):
        others = np.delete(spread, place, axis=1)
        weights = np.linalg.pinv(others, rcond=_COLLINEAR) @ spread[:, place]
        left = spread[:, place] - others @ weights
        if others.size and np.sqrt(np.mean(left**2)) < _COLLINEAR:
            told = [
                n for n, w in zip(np.delete(names, place), weights, strict=True) if abs(w) > 0.1
            ]
            yield name, " and ".join(map(_word, told))


def _leftover(sets):
    """Tell how far embers lie off the best line through them."""
    kept = sets.observed[0]
    columns, times = sets.columns[0][kept], sets.times[0][kept]
    return np.sqrt(np.mean((times - columns @ np.linalg.pinv(columns) @ times) ** 2))


def _word(name):
    """Name a column as a reader knows it."""
    row = quantities().get(name)
    return row.name if row else name


# ---- what was handed over -----------------------------------------------------------------------


def _columns(design):
    """Take the columns of a mapping or of a data frame."""
    if not callable(getattr(design, "items", None)):
        raise InputError(f"design is {design!r}; allowed: columns of numbers by name")
    columns = {name: _numbers(f"column {name!r} of the design", c) for name, c in design.items()}
    for name in columns:
        if not isinstance(name, str) or name in _OWN_NAMES:
            raise InputError(
                f"design has a column {name!r}; allowed: words other than {', '.join(_OWN_NAMES)}"
            )
    return columns


def _numbers(name, values):
    """Turn a sequence into finite floats."""
    array = _array(name, values)
    if array.dtype.kind not in "iuf" or not np.all(np.isfinite(array)):
        raise InputError(f"{name} is {values!r}; allowed: finite numbers, one a try")
    return array.astype(float)


def _booleans(observed):
    """Turn a sequence of yes and no, or of 1 and 0, into booleans."""
    array = _array("observed", observed)
    if array.dtype.kind not in "biuf" or not np.all((array == 0) | (array == 1)):
        raise InputError(f"observed is {observed!r}; allowed: True or False, one a try")
    return array.astype(bool)


def _array(name, values):
    try:
        array = np.asarray(values)
    except ValueError:  # lists that are not equally long
        array = np.asarray(None)
    if array.ndim != 1 or isinstance(values, np.ma.MaskedArray):
        raise InputError(f"{name} is {values!r}; allowed: a sequence, one value a try")
    return array if array.size else array.astype(float)
