r"""Likelihood of timed tries of which some were given up, climbed by Newton's steps.

The logarithm of a try's time is :math:`y = X \beta + \sigma \varepsilon`. In Olsen's form, with
:math:`\theta = 1/\sigma` and :math:`\alpha = \beta/\sigma`, the log-likelihood

.. math:: \ell = m \ln \theta + \sum_{embers} \ln f(z) + \sum_{given\ up} \ln S(z),
   \qquad z = \theta y - X \alpha

has one top and no other hollow or hill. So Newton's steps find it from anywhere. A coefficient
that is held at :math:`\beta_j = c` only takes a column away,
:math:`z = \theta (y - c x_j) - X_{-j} \alpha_{-j}`, and its top is found in the same way.

All is for many sets of tries at once, since a plan tries out thousands of evenings: ``times`` holds
logarithms, shape (sets, tries), ``columns`` a column of ones and the causes, shape
(sets, tries, columns).

References
----------
.. [1] Olsen, Note on the uniqueness of the maximum likelihood estimator for the Tobit model,
   Econometrica 46 (1978) 1211. (from memory)
.. [2] Burridge, A note on maximum likelihood estimation for regression models using grouped data,
   J. R. Statist. Soc. B 43 (1981) 41. (from memory)
"""

from typing import NamedTuple

import numpy as np
from scipy import special, stats

DISTRIBUTIONS = ("lognormal", "weibull")
_STEPS, _HALVINGS = 100, 40
_DONE = 1e-12  # of the log-likelihood that a further step would win
_FIRM = 1e-10  # added to the bend, as a share of it, where one try alone bends it
_FAR = 10.0  # standard deviations
_ROOTS = 60
_NEAR = 1e-5  # of the cut, where the next step, which squares it, is the last


class Tops(NamedTuple):
    """Tops of the likelihood of many sets of tries.

    Attributes
    ----------
    coefficients : array, shape (sets, columns)
        Of ln time.
    scale : array, shape (sets,)
        Scatter of ln time.
    height : array, shape (sets,)
        Log-likelihood of ln time.
    errors : array, shape (sets, columns)
        Standard errors of the coefficients, from the bend of the top.
    """

    coefficients: np.ndarray
    scale: np.ndarray
    height: np.ndarray
    errors: np.ndarray


class Sets(NamedTuple):
    """Sets of tries, and what scatters them.

    Attributes
    ----------
    times : array, shape (sets, tries)
        Logarithms.
    observed : array of bool, shape (sets, tries)
        Whether it was an ember.
    columns : array, shape (sets, tries, columns)
        A column of ones, and the causes.
    distribution : str
        ``"lognormal"`` or ``"weibull"``.
    """

    times: np.ndarray
    observed: np.ndarray
    columns: np.ndarray
    distribution: str

    def picked(self, which: np.ndarray) -> "Sets":
        """Return some of the sets, by number or by yes and no."""
        parts = self.times[which], self.observed[which], self.columns[which]
        return Sets(*parts, distribution=self.distribution)


def tops(sets: Sets) -> Tops:
    """Find the top of the likelihood of each set; its embers must carry the fit.

    Parameters
    ----------
    sets : Sets
        The tries.

    Returns
    -------
    Tops
        Where they are.
    """
    rows = np.concatenate([sets.times[..., None], -sets.columns], axis=-1)
    found, height, bend = _climb(rows, sets, _start(sets), scaled=True)
    theta = found[:, 0]
    beta = found[:, 1:] / theta[:, None]
    # From theta and alpha to beta: d beta = (d alpha - beta d theta) / theta.
    turn = np.concatenate([-beta[..., None], np.eye(beta.shape[1]) + 0 * beta[..., None]], axis=-1)
    spread = turn @ np.linalg.inv(bend) @ np.swapaxes(turn, -1, -2)
    errors = np.sqrt(np.diagonal(spread, axis1=-2, axis2=-1)) / theta[:, None]
    return Tops(beta, 1 / theta, height, errors)


def carries(sets: Sets) -> np.ndarray:
    """Tell which sets have embers enough for a fit, and some degrees of freedom to tell its error.

    Parameters
    ----------
    sets : Sets
        The tries.

    Returns
    -------
    array of bool, shape (sets,)
        Whether they have.
    """
    rows = np.concatenate([sets.columns, sets.times[..., None]], axis=-1)
    size = np.sqrt(np.mean(rows**2, axis=-2, keepdims=True)) + np.finfo(float).tiny
    rows = np.where(sets.observed[..., None], rows / size, 0.0)
    least = np.linalg.svd(rows, compute_uv=False)[..., -1] if rows.size else np.zeros(len(rows))
    return (least > _SPREAD) & (freedom(sets) >= FEWEST_FREE)


_SPREAD = 1e-5  # least part of embers that a column must have for itself
FEWEST_FREE = 2  # with one embers' ends would lie twelve standard errors off


def freedom(sets: Sets) -> np.ndarray:
    """Count embers beyond the coefficients that they tell.

    Parameters
    ----------
    sets : Sets
        The tries.

    Returns
    -------
    array of int, shape (sets,)
        Degrees of freedom.
    """
    return sets.observed.sum(axis=-1) - sets.columns.shape[-1]


def coefficient_ends(sets: Sets, found: Tops, *, level: float) -> np.ndarray:
    """Find the ends of the interval of every coefficient, where the likelihood has fallen so far.

    Parameters
    ----------
    sets : Sets
        The tries.
    found : Tops
        Their tops.
    level : number
        Share of such intervals that hold the truth.

    Returns
    -------
    array, shape (sets, columns, 2)
        Low and high ends.
    """
    count = sets.columns.shape[-1]
    cut = np.sqrt(fall_allowed(sets, level))
    ends = np.empty((*found.coefficients.shape, 2))
    for place in range(count):
        for side, sign in enumerate((-1.0, 1.0)):
            ends[:, place, side] = _end(sets, found, place, sign, cut)
    return ends


def fall_allowed(sets: Sets, level: float) -> np.ndarray:
    r"""Tell how far twice the log-likelihood may fall from its top within an interval.

    .. math:: h \ln \left( 1 + \frac{F_{1, h-p}}{h - p} \right), \qquad h = \frac{m + n}{2}

    Parameters
    ----------
    sets : Sets
        The tries: n, of which m ended with an ember, told by p coefficients.
    level : number
        Share of such intervals that hold the truth.

    Returns
    -------
    array, shape (sets,)
        The fall.

    Notes
    -----
    Exact for an ordinary regression, where no try was given up. One that was counts half: it says
    something, and less than an ember. Simulated evenings say so too
    (``tests/benchmarks/censored_fit.py``): with all tries counted in full too few intervals hold
    the truth, with embers only too many.

    References
    ----------
    .. [1] The likelihood ratio and Student's t: Kendall & Stuart, The Advanced Theory of
       Statistics, vol. 2, chapter 24. (from memory)
    """
    tries, columns = sets.columns.shape[-2:]
    half = (sets.observed.sum(axis=-1) + tries) / 2
    return half * np.log1p(stats.f.ppf(level, 1, half - columns) / (half - columns))


def _end(sets, found, place, sign, cut):
    """Follow the likelihood with one coefficient held, away from its top, to the cut."""
    top, away = found.coefficients[:, place], cut * found.errors[:, place]
    free = np.delete(found.coefficients, place, axis=-1)
    start = np.concatenate([np.ones((len(top), 1)), free], axis=-1) / found.scale[:, None]
    todo = np.arange(len(top))
    for _ in range(_ROOTS):
        part = sets.picked(todo)
        column, others = part.columns[..., place], np.delete(part.columns, place, axis=-1)
        held = (top + sign * away)[todo, None]
        rows = np.concatenate([(part.times - held * column)[..., None], -others], axis=-1)
        start, height, _ = _climb(rows, part, start, scaled=True)
        fall = np.sqrt(np.maximum(2 * (found.height[todo] - height), 0.0))
        slope = _parts(np.einsum("sij,sj->si", rows, start), part.observed, part.distribution)[1]
        pull = sign * start[:, 0] * np.einsum("si,si->s", slope, column)
        steep = pull / np.maximum(fall, np.finfo(float).tiny)
        step = (cut[todo] - fall) / np.where(steep > 0, steep, np.inf)
        away[todo] = np.clip(away[todo] + step, away[todo] / 4, 4 * away[todo])
        more = np.abs(fall - cut[todo]) > _NEAR * cut[todo]
        todo, start = todo[more], start[more]
        if not todo.size:
            break
    return top + sign * away


def scale_ends(sets: Sets, found: Tops, *, level: float) -> np.ndarray:
    r"""Find the ends of the scatter, by the likelihood less what the coefficients took from it.

    .. math:: \ell_{adj} = \ell_p - \tfrac12 \ln \det (-\partial^2 \ell / \partial \beta^2)

    Parameters
    ----------
    sets : Sets
        The tries.
    found : Tops
        Their tops.
    level : number
        Share of such intervals that hold the truth.

    Returns
    -------
    array, shape (sets, 2)
        Low and high ends.

    Notes
    -----
    For an ordinary regression without tries that were given up it is that of the leftover scatter
    with its own degrees of freedom. Each try that was given up blurs the scatter more than this
    likelihood knows; where all were, the cut would lie half as far again. That share was found on
    simulated evenings (``tests/benchmarks/censored_fit.py``).

    References
    ----------
    .. [1] Cox & Reid, Parameter orthogonality and approximate conditional inference,
       J. R. Statist. Soc. B 49 (1987) 1. (from memory)
    """
    given_up = 1 - sets.observed.mean(axis=-1)
    cut = np.sqrt(stats.chi2.ppf(level, 1) * (1 + given_up / 2))
    free = np.maximum(freedom(sets), 1.0)
    center = np.log(found.scale) + 0.5 * np.log(sets.observed.sum(axis=-1) / free)
    hair = 1e-3
    for _ in range(30):  # Newton on differences: it is smooth, and nearly a parabola
        low, middle, high = (_adjusted(sets, found, center + d) for d in (-hair, 0.0, hair))
        slope, bend = (high - low) / (2 * hair), (high - 2 * middle + low) / hair**2
        step = np.clip(np.where(bend < 0, -slope / bend, 0.3 * np.sign(slope)), -0.5, 0.5)
        center = center + step
        if np.all(np.abs(step) < 1e-5):
            break
    top = _adjusted(sets, found, center)
    width = cut / np.sqrt(np.maximum(-bend, 0.1))
    ends = [_scale_end(sets, found, center, top, sign * width, cut) for sign in (-1.0, 1.0)]
    return np.exp(np.stack(ends, axis=-1))


def _scale_end(sets, found, center, top, away, cut):
    """Step to where the adjusted likelihood has fallen to the cut, by secants of its root."""

    def short(distance):
        fall = np.maximum(2 * (top - _adjusted(sets, found, center + distance)), 0.0)
        return np.sqrt(fall) - cut

    before, was = np.zeros_like(away), -cut + np.zeros_like(away)
    for _ in range(_ROOTS):
        now = short(away)
        if np.all(np.abs(now) < 1e-7):
            break
        change = now - was
        safe = np.abs(change) > np.finfo(float).tiny
        step = np.where(safe, -now * (away - before) / np.where(safe, change, 1.0), 0.0)
        before, was = away, now
        away = away + np.clip(step, -np.abs(away), np.abs(away))
    return center + away


def _adjusted(sets, found, log_scale):
    """Tell the adjusted likelihood where the scatter is held."""
    theta = np.exp(-log_scale)[:, None]
    start = found.coefficients * theta
    held = theta * sets.times
    _, height, bend = _climb(-sets.columns, sets, start, held=held, scaled=False)
    embers = sets.observed.sum(axis=-1)
    _, size = np.linalg.slogdet(bend)
    count = sets.columns.shape[-1]
    return height + (embers - count) * np.log(theta[:, 0]) - 0.5 * size


def _start(sets):
    """Begin with a line through all times, as if all had been embers."""
    beta = np.einsum("sji,si->sj", np.linalg.pinv(sets.columns), sets.times)
    left = sets.times - np.einsum("sij,sj->si", sets.columns, beta)
    scale = np.sqrt(np.mean(left**2, axis=-1)) + 1e-3
    return np.concatenate([np.ones((len(beta), 1)), beta], axis=-1) / scale[:, None]


def _climb(rows, sets, start, *, scaled, held=0.0):
    """Climb to the top by Newton's steps, each cut short until it leads upward.

    ``scaled`` says that the first parameter is theta, whose logarithm counts once an ember.
    Gives the parameters, the height, and how the top is bent.
    """
    embers = sets.observed.sum(axis=-1) * float(scaled)

    def height(place):
        z = held + np.einsum("sij,sj->si", rows, place)
        value, slope, bend = _parts(z, sets.observed, sets.distribution)
        total = value.sum(axis=-1)
        if scaled:
            total = total + embers * np.log(place[:, 0])
        return np.where(np.isfinite(total), total, -np.inf), slope, bend

    if scaled:  # from nearer to nowhere, where one try alone would say where the top is
        far = np.abs(np.einsum("sij,sj->si", rows, start)).max(axis=-1)
        start = start * np.minimum(1.0, _FAR / np.maximum(far, _FAR))[:, None]
    place = start
    now, slope, bend = height(place)
    for _ in range(_STEPS):
        uphill = np.einsum("sij,si->sj", rows, slope)
        bent = np.einsum("sij,si,sik->sjk", rows, -bend, rows)
        if scaled:
            uphill[:, 0] += embers / place[:, 0]
            bent[:, 0, 0] += embers / place[:, 0] ** 2
        firm = bent + _FIRM * np.eye(bent.shape[-1]) * bent
        step = np.linalg.solve(firm, uphill[..., None])[..., 0]
        if np.all(np.einsum("sj,sj->s", uphill, step) < _DONE * (1 + np.abs(now))):
            return place + step, now, bent
        share = np.ones(len(place))
        if scaled:  # theta stays above zero
            share = np.minimum(share, 0.9 / np.maximum(-step[:, 0] / place[:, 0], 0.9))
        for _ in range(_HALVINGS):
            then, slope, bend = height(place + share[:, None] * step)
            worse = then < now - _DONE * (1 + np.abs(now))
            if not np.any(worse):
                break
            share = np.where(worse, share / 2, share)
        place, now = place + share[:, None] * step, then
    return place, now, bent


def _parts(z, observed, distribution):
    """Tell the log-likelihood of each try and its first two derivatives by z."""
    if distribution == "weibull":
        grown = np.exp(np.minimum(z, 500.0))
        return np.where(observed, z, 0.0) - grown, observed - grown, -grown
    kept = special.log_ndtr(-z)
    bell = -0.5 * z * z - 0.5 * np.log(2 * np.pi)
    hazard = np.exp(bell - kept)
    value = np.where(observed, bell, kept)
    return value, np.where(observed, -z, -hazard), np.where(observed, -1.0, -hazard * (hazard - z))
