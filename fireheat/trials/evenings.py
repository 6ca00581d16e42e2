"""Invented evenings of timed tries from a stated truth: what plans and tests are tried out on."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..quantities import InputError, check_single, check_whole, choose
from .likelihood import DISTRIBUTIONS, Sets

_MOST_SETS = 100_000


def invented_evenings(
    design: Mapping[str, Any],
    *,
    exponents: Mapping[str, float],
    time: float,
    scatter: float,
    give_up: float | None = None,
    count: int = 1000,
    seed: int = 0,
    distribution: str = "lognormal",
) -> Sets:
    r"""Let luck time the same tries over and over, where the truth is known.

    .. math:: \ln t = \ln t_0 + \sum_j b_j x_j + \sigma \varepsilon

    Parameters
    ----------
    design : mapping of str to array
        A column for each cause: logarithms of how many times the ordinary value each try had; of
        shape (tries,), or (sets, tries) where evenings differ.
    exponents : mapping of str to numbers
        The truth, by column.
    time : float
        Middle time of a try with all columns zero. [s]
    scatter : float
        Scatter of ln time. [1]
    give_up : float, optional
        Patience: so long a try lasts at most; without end if left out. [s]
    count : int, optional
        How many evenings.
    seed : int, optional
        Of luck.
    distribution : str, optional
        ``"lognormal"`` or ``"weibull"``.

    Returns
    -------
    Sets
        The evenings.

    Raises
    ------
    InputError
        If a truth is missing, or a number cannot be.

    References
    ----------
    .. [1] The model of :func:`fireheat.trials.fit.censored_fit`.

    Examples
    --------
    >>> thick = np.log([1.0, 1.0, 2.0, 2.0])
    >>> evening = invented_evenings(
    ...     {"diameter": thick}, exponents={"diameter": 2.0}, time=30.0, scatter=0.3, count=1
    ... )
    >>> np.exp(evening.times).round()
    array([[ 31.,  29., 145., 124.]])
    """
    choose("distribution", distribution, DISTRIBUTIONS)
    time, scatter = check_single(time=time, scatter=scatter)
    patience = np.inf if give_up is None else check_single(give_up=give_up)[0]
    count = check_whole("count", count, least=1)
    seed = check_whole("seed", seed, least=0)
    if count > _MOST_SETS:
        raise InputError(f"count is {count}; allowed: up to {_MOST_SETS}")
    columns, weights = _columns(design, exponents)
    if time <= 0:
        raise InputError(f"time is {time:g} s; allowed: above 0 s")
    columns = np.broadcast_to(columns, (count, *columns.shape[-2:]))
    shape, dice = columns.shape[:-1], np.random.default_rng(seed)
    luck = dice.standard_normal(shape)
    if distribution == "weibull":
        luck = np.log(dice.standard_exponential(shape))
    times = np.log(time) + columns[..., 1:] @ weights + scatter * luck
    observed = times <= np.log(patience)
    return Sets(np.minimum(times, np.log(patience)), observed, columns, distribution)


def _columns(design, exponents):
    """Put a column of ones before the causes, and their truth in the same order."""
    for name, given in {"design": design, "exponents": exponents}.items():
        if not isinstance(given, Mapping) or not given:
            raise InputError(f"{name} is {given!r}; allowed: one or more columns by name")
    if set(design) != set(exponents):
        raise InputError(
            f"design has {sorted(map(str, design))}, exponents {sorted(map(str, exponents))};"
            " allowed: the same"
        )
    try:
        causes = np.stack([np.asarray(column, float) for column in design.values()], axis=-1)
        weights = np.array([float(exponents[name]) for name in design])
    except (TypeError, ValueError):
        causes = weights = np.array(np.nan)
    if causes.ndim not in (2, 3) or not (np.isfinite(causes).all() and np.isfinite(weights).all()):
        raise InputError(f"design is {design!r}, exponents {exponents!r}; allowed: finite numbers")
    return np.concatenate([np.ones((*causes.shape[:-1], 1)), causes], axis=-1), weights
