"""The paper computer for our own evenings: the same scales, and a net that our tries have moved.

One factor beside the handbook's time would not do: how far our evenings lie from it goes with the
kit. But what they make most likely is nearly a straight line over the watts, too, so it has a net
of its own. Where tries tell how much wears off, that net is one line of thicknesses.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ..bands import Band
from ..cases import case
from ..kit.kit import Try
from ..quantities import InputError, Numbers, check, check_whole, default
from ..trials.our_fire import OurFire
from .chart import DEPTHS, DIAMETERS, LADDER_TIMES, RulerNet, alignment_chart, chart_kits

_DRAWS = 250  # that stand for all where lines are fitted
_WATTS = np.geomspace(1.5, 80.0, 12)
_NEAR, _FAR = (6.0, 150.0), (2.0, 600.0)  # s: where lines are fitted, and if too few are there
_FEWEST = 3  # watts, of a line
_FITTED = (0, 2, 5, 8, 11, 14)  # lines of the net; a parabola goes through what they come to
_COLUMNS = (0, 8, 14)  # lines of the net for which the ladder stands


@dataclass(frozen=True, eq=False)
class EveningsChart(RulerNet):
    """Our evenings' most likely time by ruler, and how sure it is.

    Its net has one wear-off where our tries tell how much wears off.

    Attributes
    ----------
    fire : OurFire
        Our fire.
    thicknesses : ndarray, shape (3,)
        For which the ladder stands. [m]
    band : Band of ndarray, shape (3, 9)
        Our evenings' band at a likely time, by thickness and likely time. [s]
    """

    fire: OurFire
    thicknesses: np.ndarray
    band: Band

    def ladder(self, *, time: Numbers, diameter: Numbers) -> Band:
        """Read the ladder, between its rungs and columns by shares of a logarithm. [s]."""
        time, diameter = check(time=time, diameter=diameter)
        place = np.interp(diameter, self.thicknesses, np.arange(len(self.thicknesses)))
        left = np.minimum(place.astype(int), len(self.thicknesses) - 2)

        def read(end):
            rows = [np.interp(np.log(time), np.log(LADDER_TIMES), np.log(row)) for row in end]
            one, other = (np.choose(left + more, rows) for more in (0, 1))
            return np.exp(one + (place - left) * (other - one))

        return self.band.each(read)


@dataclass(frozen=True)
class EveningsAccuracy:
    """How close a ruler comes to our evenings, over many kits, and how far those lie apart.

    Attributes
    ----------
    kits : int
        How many.
    most, worst : float
        How far off the likely time is at 95 of 100 kits, and at the worst. [1]
    ladder_most : float
        How far off ends of the band are at 95 of 100. [1]
    least_factor, most_factor : float
        Between which lies, for 9 of 10 kits, our evenings' time over the handbook's. [1]
    """

    kits: int
    most: float
    worst: float
    ladder_most: float
    least_factor: float
    most_factor: float


def evenings_chart(fire: OurFire) -> EveningsChart | None:
    """Fit the chart of our own evenings.

    Parameters
    ----------
    fire : OurFire
        Our fire.

    Returns
    -------
    EveningsChart or None
        The chart; none where ours is so slow that its lines cannot be told.

    Raises
    ------
    InputError
        If that is no fire.

    Examples
    --------
    >>> from fireheat.trials.our_fire import TimedTry, our_fire
    >>> chart = evenings_chart(our_fire([TimedTry(time=90.0, ended="ember")] * 4, draws=1000))
    >>> round(chart.ember(power=10.5, diameter=0.016, depth=0.004), -1)
    90.0
    """
    if not isinstance(fire, OurFire):
        raise InputError(f"fire is {fire!r}; allowed: an OurFire")
    return _chart(fire)


@lru_cache(maxsize=2)
def _chart(fire):
    few = fire.picked(min(_DRAWS, len(fire.weights)))
    scales = alignment_chart(fire.fires.start.kit.wood).scales
    asked = {fire.theirs(_try(depth=depth)) for depth in DEPTHS}
    depths = DEPTHS if len(asked) > 1 else np.array([default("burn_in_depth")])
    fitted = DIAMETERS[list(_FITTED)]
    lines = np.array(
        [[_line(few, wide, deep, scales["ember"]) for deep in depths] for wide in fitted]
    )
    if np.isnan(lines).any():
        return None
    curves = np.polyfit(np.log(fitted), lines.reshape(len(fitted), -1), 2)
    every = np.vander(np.log(DIAMETERS), 3) @ curves
    slopes, heights = np.moveaxis(every.reshape(len(DIAMETERS), len(depths), 2), -1, 0)
    columns = list(_COLUMNS)
    return EveningsChart(
        scales=scales,
        net=scales["ember"].points(slopes, heights, scales["power"]),
        diameters=DIAMETERS,
        depths=depths,
        fire=fire,
        thicknesses=DIAMETERS[columns],
        band=_ladder(few, scales, depths, slopes[columns], heights[columns]),
    )


def _try(power=10.0, diameter=default("diameter"), depth=default("burn_in_depth")):
    """Make a kit of so many watts: by its press alone, for the watts are all that counts."""
    ordinary = Try()
    force = ordinary.effort.force * power / float(case(ordinary).power)
    values = {"force": force, "diameter": diameter, "burn_in_depth": depth}
    return ordinary.changed(**{key: float(value) for key, value in values.items()})


def _line(few, diameter, depth, scale):
    """Fit the line of one crossing; NaN where too few times are finite."""
    likely = np.array([few.band(_try(watts, diameter, depth)).likely for watts in _WATTS])
    for low, high in (_NEAR, _FAR):
        on = (likely > low) & (likely < high)
        if on.sum() >= _FEWEST:
            return scale.line(likely[on], _WATTS[on])[:2]
    return np.nan, np.nan


def _ladder(few, scales, depths, slopes, heights):
    """Take the band at each rung, as a share of its likely time: the middle one over wear-offs."""
    watts = scales["power"]
    power = scales["ember"].watts(LADDER_TIMES, slopes[..., None], heights[..., None])
    power = np.clip(power, watts.low, watts.high)
    thick, deep = DIAMETERS[list(_COLUMNS)][:, None, None], depths[:, None]
    kits = zip(*map(np.ravel, np.broadcast_arrays(power, thick, deep)), strict=True)
    bands = np.reshape([few.band(_try(*kit)) for kit in kits], (*power.shape, 3))
    shares = np.median(bands / bands[..., 1:2], axis=1)
    return Band(*np.moveaxis(shares * LADDER_TIMES[:, None], -1, 0))


def evenings_accuracy(chart: EveningsChart, count: int = 100) -> EveningsAccuracy:
    """Read the chart for many kits, and compare with the band that our fire has for each.

    Parameters
    ----------
    chart : EveningsChart
        The chart.
    count : int, optional
        How many kits at most.

    Returns
    -------
    EveningsAccuracy
        How far off it is.

    Raises
    ------
    InputError
        If that is no chart, or no whole number above zero.
    """
    if not isinstance(chart, EveningsChart):
        raise InputError(f"chart is {chart!r}; allowed: an EveningsChart")
    return _accuracy(chart, check_whole("count", count, least=1))


@lru_cache(maxsize=2)
def _accuracy(chart, count):
    kits = {key: values[:count] for key, values in chart_kits(count=count).items()}
    found = case(Try(), swept=kits)
    size = {"diameter": kits["diameter"], "depth": kits["burn_in_depth"]}
    read = np.asarray(chart.ember(power=found.power, **size))
    states = [
        Try().changed(**{key: float(kits[key][at]) for key in kits}) for at in range(len(read))
    ]
    told = Band(*np.transpose([chart.fire.band(state) for state in states]))
    scale = chart.scales["ember"]
    on = (read > scale.low) & (read < scale.high) & np.isfinite(told.likely)
    off = np.abs(read[on] / told.likely[on] - 1)
    ladder = chart.ladder(time=read[on], diameter=kits["diameter"][on])
    with np.errstate(invalid="ignore"):  # an end that never comes
        ends = np.abs(
            [one / other[on] - 1 for one, other in zip(ladder.ends, told.ends, strict=True)]
        )
    factors = (told.likely / found.quick()[1])[on]
    return EveningsAccuracy(
        kits=int(on.sum()),
        most=float(np.quantile(off, 0.95)),
        worst=float(off.max()),
        ladder_most=float(np.quantile(ends[np.isfinite(ends)], 0.95)),
        least_factor=float(np.quantile(factors, 0.05)),
        most_factor=float(np.quantile(factors, 0.95)),
    )
