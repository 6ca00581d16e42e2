r"""Powers with which times go by diameter, force, speed and friction: our own beside physics.

Where time goes as a power of a quantity, :math:`t \propto x^n`, n is the slope of ln t over ln x.
From energy alone force, speed and friction have -1, and the diameter has :math:`2 - p`, where the
depth of one ember's dust falls as :math:`D^{-p}`: 2 if each spindle needs the same depth, none if
the same grams. Where wood soaks up nearly all, the two are -2 and 4. A real kit lies between, or
beyond where it hardly manages (:func:`fireheat.heat.two_stage.area_exponent_with_depth` tells how).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from scipy import stats

from ..bands import Band
from ..kit.kit import Try
from ..quantities import InputError, check, check_ordinary, choose, default, quantity
from ..spread import compare
from .fit import CensoredFit, TooFewTriesError, censored_fit

CAUSES = ("diameter", "force", "speed", "friction")
_APART = 1.1  # settings nearer than this factor tell nothing of a power
_FEWEST_PIECES = 4


@dataclass(frozen=True, kw_only=True)
class Exponent:
    """One power, as tries have it and as physics has it.

    Attributes
    ----------
    cause : str
        The quantity.
    found : float
        By our tries. [1]
    interval : Band of float
        Its interval about what was found. [1]
    physics : Band of float
        Of all we do not know. [1]
    factor : float
        How far apart the lowest and the highest setting were. [1]
    """

    cause: str
    found: float
    interval: Band
    physics: Band
    factor: float

    @property
    def agrees(self) -> bool:
        """Whether the two ranges have a part in common."""
        return self.interval.low <= self.physics.high and self.physics.low <= self.interval.high

    @property
    def tells(self) -> bool:
        """Whether the interval is narrower than what physics leaves open."""
        return self.interval.high - self.interval.low <= self.physics.high - self.physics.low


@dataclass(frozen=True, kw_only=True)
class Exponents:
    """Powers of all causes that tries were set to.

    Attributes
    ----------
    powers : mapping of str to Exponent
        By cause.
    middle : Try
        What physics was asked of: the middle of all settings.
    fit : CensoredFit
        The fit, over logarithms of how many times the middle each setting was.
    """

    powers: Mapping[str, Exponent]
    middle: Try
    fit: CensoredFit

    @property
    def disagree(self) -> tuple[str, ...]:
        """Causes for which tries and physics have nothing in common."""
        return tuple(cause for cause, power in self.powers.items() if not power.agrees)


def club_exponents(
    times: Sequence[float],
    *,
    observed: Sequence[bool],
    settings: Mapping[str, Sequence[float]],
    state: Try | None = None,
    distribution: str = "lognormal",
    level: float = default("level"),
) -> Exponents:
    """Fit powers of what tries were set to, and ask physics for its own at the middle of them.

    Parameters
    ----------
    times : sequence of numbers
        When the ember was there, or the try was given up, in seconds.
    observed : sequence of bool
        Whether there was an ember.
    settings : mapping of str to sequence of numbers
        What each try was set to, by quantity of ``CAUSES``, in SI.
    state : Try, optional
        All that was not changed; an ordinary try if left out.
    distribution : str, optional
        As in :func:`fireheat.trials.fit.censored_fit`.
    level : float, optional
        Share of the intervals that hold the truth. [1]

    Returns
    -------
    Exponents
        The powers.

    Raises
    ------
    TooFewTriesError
        If the tries cannot carry the fit; it says why, and what to measure next.
    InputError
        If a setting is not one of those, or not above zero.

    References
    ----------
    .. [1] :func:`fireheat.trials.fit.censored_fit`; :func:`physics_exponent`.

    Examples
    --------
    >>> found = club_exponents(
    ...     [22, 31, 26, 95, 80, 120],
    ...     observed=[True, True, True, True, True, False],
    ...     settings={"diameter": [0.01, 0.01, 0.01, 0.02, 0.02, 0.02]},
    ... )
    >>> power = found.powers["diameter"]
    >>> round(power.found, 1), [round(end, 1) for end in power.physics], power.agrees
    (1.9, [1.7, 2.5, 4.9], True)
    """
    state = Try() if state is None else state
    if not isinstance(settings, Mapping) or not settings:
        raise InputError(f"settings is {settings!r}; allowed: columns of numbers by quantity")
    columns = {
        choose("settings", name, CAUSES): np.atleast_1d(check(**{name: list(column)}))
        for name, column in settings.items()
    }
    if zero := [name for name, column in columns.items() if not np.all(column > 0)]:
        raise InputError(f"{quantity(zero[0]).name} has a setting of 0; allowed: above 0")
    middle = {name: float(np.exp(np.mean(np.log(c)))) for name, c in columns.items()}
    design = {name: np.log(column / middle[name]) for name, column in columns.items()}
    fit = censored_fit(
        times, observed=observed, design=design, distribution=distribution, level=level
    )
    state = state.changed(**middle)
    powers = {name: _beside(fit, name, columns[name], state) for name in columns}
    return Exponents(powers=MappingProxyType(powers), middle=state, fit=fit)


def _beside(fit, name, column, state):
    """Put the power found beside that of physics."""
    low, high = fit.intervals[name]
    found, factor = fit.coefficients[name], float(column.max() / column.min())
    if factor < _APART:
        word = quantity(name).name
        raise TooFewTriesError(
            f"All tries had nearly the same {word}, too near to tell what it does.",
            f"Time some tries with a {word} that is a quarter more or less.",
        )
    return Exponent(
        cause=name,
        found=found,
        interval=Band(low, found, high),
        physics=physics_exponent(name, state=state, ratio=factor),
        factor=factor,
    )


def physics_exponent(cause: str, *, state: Try, ratio: float = 1.25) -> Band:
    r"""Tell with which power time goes by a quantity, of all we do not know.

    .. math:: n = \frac{\ln (t_2 / t_1)}{\ln (x_2 / x_1)}

    Parameters
    ----------
    cause : str
        One of ``CAUSES``.
    state : Try
        The middle of the two.
    ratio : float, optional
        How many times the one the other is. [1]

    Returns
    -------
    Band of float
        The power; infinite where one of the two never has an ember. [1]

    Raises
    ------
    InputError
        If there is no such cause, or the two are not apart, or beyond what a kit can have.

    References
    ----------
    .. [1] :func:`fireheat.spread.compare`, with the same unknowns on both sides.

    Examples
    --------
    >>> [round(power, 1) for power in physics_exponent("force", state=Try())]
    [-3.6, -1.8, -1.5]
    """
    choose("cause", cause, CAUSES)
    if not isinstance(state, Try):
        raise InputError(f"state is {state!r}; allowed: a Try")
    check_ordinary(ratio=ratio)
    ratio = float(ratio)
    if ratio < _APART:
        raise InputError(f"ratio of the two is {ratio:g}; allowed: {_APART:g} or more")
    middle = state.value(cause)
    less, more = (state.changed(**{cause: middle * ratio**share}) for share in (-0.5, 0.5))
    # A time that is never has no logarithm: its power is infinite, on the side that it lies.
    with np.errstate(divide="ignore"):
        powers = [float(np.log(later) / np.log(ratio)) for later in compare(less, more)]
    return Band(*powers)


@dataclass(frozen=True, kw_only=True)
class DepthPower:
    """How the depth worn for one ember falls with the diameter.

    Attributes
    ----------
    found : float
        The power p of ``diameter**-p``: 0 is the same depth, 2 the same grams. [1]
    interval : Band of float
        Its interval about what was found. [1]
    embers : int
        How many were weighed or measured.
    """

    found: float
    interval: Band
    embers: int


def depth_power(
    diameters: Sequence[float],
    *,
    worn: Sequence[float],
    measured: str = "burn_in_depth",
    level: float = default("level"),
) -> DepthPower:
    r"""Tell from what was worn off for embers whether each spindle needs the same depth or grams.

    .. math:: \ln d = a - p \ln D, \qquad \ln m = b + (2 - p) \ln D

    Parameters
    ----------
    diameters : sequence of numbers
        Of the spindle, for each ember, in metres.
    worn : sequence of numbers
        What was worn off for each.
    measured : str, optional
        ``"burn_in_depth"``, if that is how much shorter spindle and board got, together, in metres;
        ``"dust_mass"``, if it is dry dust in kilograms.
    level : float, optional
        Share of the intervals that hold the truth. [1]

    Returns
    -------
    DepthPower
        The power, with its interval.

    Raises
    ------
    TooFewTriesError
        If there are fewer than four embers, or all of one diameter.
    InputError
        If it is neither depth nor mass, or a value is not above zero.

    Notes
    -----
    Only of tries that ended with an ember: of others nobody knows what they would have needed.

    References
    ----------
    .. [1] Student's interval of the slope of a line: any textbook of statistics.

    Examples
    --------
    The thick spindle wore half as deep, the thin one took half the grams:

    >>> found = depth_power([0.01, 0.01, 0.02, 0.02], worn=[0.0052, 0.0048, 0.0027, 0.0023])
    >>> [round(power, 1) for power in found.interval]
    [0.4, 1.0, 1.6]
    """
    check_ordinary(level=level)
    choose("measured", measured, ("burn_in_depth", "dust_mass"))
    wide, pieces = _pieces("diameter", diameters), _pieces(measured, worn)
    if len(wide) != len(pieces):
        raise InputError(f"diameters has {len(wide)} values, worn {len(pieces)}; allowed: as many")
    if len(wide) < _FEWEST_PIECES:
        raise TooFewTriesError(
            f"There are {len(wide)} embers of which the worn wood was measured; it takes at least"
            f" {_FEWEST_PIECES}.",
            "Measure spindle and board before and after each try that ends with an ember.",
        )
    if wide.max() < _APART * wide.min():
        raise TooFewTriesError(
            "All embers came with spindles of nearly the same diameter.",
            "Measure some embers of a spindle that is half as thick.",
        )
    line = stats.linregress(np.log(wide), np.log(pieces))
    found = (2.0 if measured == "dust_mass" else 0.0) - line.slope
    reach = stats.t.ppf((1 + float(level)) / 2, len(wide) - 2) * line.stderr
    return DepthPower(
        found=float(found),
        interval=Band(float(found - reach), float(found), float(found + reach)),
        embers=len(wide),
    )


def _pieces(key, values):
    """Check what was measured of each ember."""
    numbers = np.atleast_1d(check(**{key: values}))
    if numbers.ndim != 1 or not np.all(numbers > 0):
        raise InputError(f"{quantity(key).name} is {values!r}; allowed: one value above 0 an ember")
    return numbers
