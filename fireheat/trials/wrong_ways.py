"""What goes wrong where tries that were given up are left out, or are counted as embers.

Both look like honest work. Simulated evenings with a known truth say which way each errs: slow
settings are given up most, so both make the slow ones quicker than they are.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..quantities import InputError, default
from .evenings import invented_evenings
from .fit import CensoredFit, TooFewTriesError, censored_fit
from .likelihood import carries, tops

WAYS = ("as given up", "left out", "as embers")


def three_ways(
    times: Sequence[float], *, observed: Sequence[bool], design: Mapping[str, Sequence[float]]
) -> dict[str, CensoredFit | None]:
    """Fit the same tries in three ways: rightly, without those given up, and as if all had embers.

    Parameters
    ----------
    times, observed, design
        As in :func:`fireheat.trials.fit.censored_fit`.

    Returns
    -------
    dict of str to CensoredFit or None
        By one of ``WAYS``; None where the tries left cannot carry a fit.

    Raises
    ------
    TooFewTriesError
        If the tries cannot carry the right fit.
    InputError
        If a time is not above zero, or a column not as long as the others.

    Examples
    --------
    >>> found = three_ways(
    ...     [22, 31, 26, 95, 80, 120],
    ...     observed=[True, True, True, True, True, False],
    ...     design={"diameter": np.log([10, 10, 10, 20, 20, 20])},
    ... )
    >>> {way: round(fit.coefficients["diameter"], 2) for way, fit in found.items()}
    {'as given up': 1.94, 'left out': 1.74, 'as embers': 1.89}
    """
    right = censored_fit(times, observed=observed, design=design)
    kept = np.asarray(observed, bool)
    columns = {name: np.asarray(column) for name, column in design.items()}
    left = {name: column[kept] for name, column in columns.items()}
    seconds = np.asarray(times)
    return {
        WAYS[0]: right,
        WAYS[1]: _fit_or_none(seconds[kept], np.ones(kept.sum(), bool), left),
        WAYS[2]: _fit_or_none(seconds, np.ones_like(kept), columns),
    }


def _fit_or_none(times, observed, design):
    try:
        return censored_fit(times, observed=observed, design=design)
    except TooFewTriesError:
        return None


@dataclass(frozen=True, kw_only=True)
class Erring:
    """How far a way of fitting is off on average.

    Attributes
    ----------
    exponents : dict of str to float
        What it finds, less the truth, by cause. [1]
    time_ratio : float
        Middle time that it finds, over the true one. [1]
    scatter_ratio : float
        Scatter that it finds, over the true one. [1]
    """

    exponents: dict[str, float]
    time_ratio: float
    scatter_ratio: float


def which_way_errs(
    design: Mapping[str, Sequence[float]],
    *,
    exponents: Mapping[str, float],
    time: float,
    scatter: float = default("scatter"),
    give_up: float = default("give_up"),
    count: int = 400,
    seed: int = 0,
) -> dict[str, Erring]:
    """Fit evenings with a known truth in three ways, and tell how far each is off.

    Parameters
    ----------
    design : mapping of str to sequence of numbers
        Logarithms of how many times the ordinary value each try had, by cause.
    exponents : mapping of str to numbers
        The truth, by cause.
    time : float
        Middle time of a try with all as ordinary. [s]
    scatter : float, optional
        Scatter of ln time. [1]
    give_up : float, optional
        Patience. [s]
    count : int, optional
        How many evenings.
    seed : int, optional
        Of luck.

    Returns
    -------
    dict of str to Erring
        By one of ``WAYS``.

    Raises
    ------
    InputError
        If a number cannot be, or no evening has embers enough.

    References
    ----------
    .. [1] :func:`fireheat.trials.evenings.invented_evenings`.

    Examples
    --------
    >>> halves = {"diameter": np.log([0.7, 1.4] * 8)}
    >>> found = which_way_errs(halves, exponents={"diameter": 2.0}, time=60.0, give_up=120.0)
    >>> {way: round(one.exponents["diameter"], 1) for way, one in found.items()}
    {'as given up': 0.0, 'left out': -0.4, 'as embers': -0.2}
    """
    evenings = invented_evenings(
        design,
        exponents=exponents,
        time=time,
        scatter=scatter,
        give_up=give_up,
        count=count,
        seed=seed,
    )
    kept = carries(evenings)
    if not np.any(kept):
        raise InputError(
            f"time is {time!r} s, scatter {scatter!r}, patience {give_up!r} s and count {count!r}:"
            " no evening has embers enough; allowed: more patience, or more evenings"
        )
    sets = evenings.picked(kept)
    found = tops(sets)
    ways = (
        (found.coefficients, found.scale),
        _line(sets, sets.observed),
        _line(sets, np.ones_like(sets.observed)),
    )
    truth = np.array([np.log(float(time)), *(float(exponents[name]) for name in design)])
    return {
        way: _erring(coefficients - truth, scale, list(design), float(scatter))
        for way, (coefficients, scale) in zip(WAYS, ways, strict=True)
    }


def _line(sets, kept):
    """Fit an ordinary line through those kept, as if there had been no others."""
    columns, times = sets.columns * kept[..., None], sets.times * kept
    beta = np.einsum("sji,si->sj", np.linalg.pinv(columns), times)
    left = times - np.einsum("sij,sj->si", columns, beta)
    return beta, np.sqrt(np.sum(left**2, axis=-1) / kept.sum(axis=-1))


def _erring(off, scale, names, scatter):
    intercept, *others = np.mean(off, axis=0).tolist()
    return Erring(
        exponents=dict(zip(names, others, strict=True)),
        time_ratio=float(np.exp(intercept)),
        scatter_ratio=float(np.mean(scale) / scatter),
    )
