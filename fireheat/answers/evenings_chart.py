"""The paper computer for our own evenings: the same scales, and a net that our tries have moved.

One factor beside the handbook's time would not do: how far our evenings lie from it goes with the
kit. But what they make most likely is nearly a straight line over the watts, too, so it has a net
of its own. Where tries tell how much wears off, that net is one line of thicknesses.
"""

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from ..bands import Band
from ..cases import case
from ..kit.kit import Try
from ..quantities import InputError, Numbers, check, default
from ..trials.our_fire import OurFire
from .chart import DEPTHS, DIAMETERS, LADDER_TIMES, RulerNet, alignment_chart, chart_kits

_DRAWS = 250  # that stand for all where lines are fitted
_WATTS = np.geomspace(1.5, 80.0, 10)
_NEAR, _FAR = (6.0, 150.0), (2.0, 600.0)  # s: where lines are fitted, and if too few are there
_FEWEST = 3  # watts, of a line
_KITS, _FEWEST_KITS = 100, 10  # tried out, and that a chart must hold
_ROWS, _DEEP = (0, 4, 8, 14), (0, 2, 4)  # lines of the net that are fitted; parabolas join them
_COLUMNS = (0, 8, 14)  # lines of the net for which the ladder stands


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
            with np.errstate(invalid="ignore"):  # an end that never comes
                return np.exp(one + (place - left) * (other - one))

        return self.band.each(read)

    @cached_property
    def accuracy(self) -> EveningsAccuracy:
        """How close a ruler comes to the band that our fire has for each of many kits."""
        return _accuracy(self)


def evenings_chart(fire: OurFire) -> EveningsChart | None:
    """Fit the chart of our own evenings.

    Parameters
    ----------
    fire : OurFire
        Our fire.

    Returns
    -------
    EveningsChart or None
        The chart; none where ours is so slow that hardly a kit stands on it.

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
    chart = _chart(fire)
    return chart if chart and np.sum(_read(chart)[2]) >= _FEWEST_KITS else None


@lru_cache(maxsize=4)
def _chart(fire):
    few = fire.picked(min(_DRAWS, len(fire.weights)))
    scales = alignment_chart().scales
    asked = {fire.theirs(_try(depth=depth)) for depth in DEPTHS}
    depths = DEPTHS if len(asked) > 1 else np.array([default("burn_in_depth")])
    deep = list(_DEEP) if len(depths) > 1 else [0]
    fitted, at = depths[deep], np.ix_(_COLUMNS, deep)
    lines = [
        [_line(few, wide, deep, scales["ember"]) for deep in fitted]
        for wide in DIAMETERS[list(_ROWS)]
    ]
    if np.isnan(lines).any():
        return None
    rows = _joined(np.array(lines), DIAMETERS[list(_ROWS)], DIAMETERS)
    net = np.swapaxes(_joined(np.swapaxes(rows, 0, 1), fitted, depths), 0, 1)
    slopes, heights = np.moveaxis(net, -1, 0)
    return EveningsChart(
        scales=scales,
        net=scales["ember"].points(slopes, heights, scales["power"]),
        diameters=DIAMETERS,
        depths=depths,
        fire=fire,
        thicknesses=DIAMETERS[list(_COLUMNS)],
        band=_ladder(few, scales, fitted, slopes[at], heights[at]),
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


def _joined(values, lines, every):
    """Lay parabolas over logarithms, along the first axis; one line alone stands for all."""
    power = min(len(lines) - 1, 2)
    curves = np.polyfit(np.log(lines), values.reshape(len(lines), -1), power)
    return (np.vander(np.log(every), power + 1) @ curves).reshape(len(every), *values.shape[1:])


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


def _accuracy(chart):
    kits, read, on = _read(chart)
    states = [
        Try().changed(**{key: float(values[at]) for key, values in kits.items()})
        for at in np.flatnonzero(on)
    ]
    told = Band(*np.transpose([chart.fire.band(state) for state in states]))
    kits, read = {key: values[on] for key, values in kits.items()}, read[on]
    ladder = chart.ladder(time=read, diameter=kits["diameter"])
    pairs = zip(ladder.ends, told.ends, strict=True)
    with np.errstate(invalid="ignore"):  # an end that never comes
        ends = np.abs([one / other - 1 for one, other in pairs])
    off = np.abs(read / told.likely - 1)
    factors = told.likely / case(Try(), swept=kits).quick()[1]
    factors = factors[np.isfinite(factors)]
    return EveningsAccuracy(
        kits=len(read),
        most=float(np.quantile(off, 0.95)),
        worst=float(off.max()),
        ladder_most=float(np.quantile(ends[np.isfinite(ends)], 0.95)),
        least_factor=float(np.quantile(factors, 0.05)),
        most_factor=float(np.quantile(factors, 0.95)),
    )


def _read(chart):
    """Lay the ruler for kits all over the chart; tell which of them stand on its scale."""
    kits = {key: values[:_KITS] for key, values in chart_kits(count=_KITS).items()}
    size = {"diameter": kits["diameter"], "depth": kits["burn_in_depth"]}
    read = np.asarray(chart.ember(power=case(Try(), swept=kits).power, **size))
    scale = chart.scales["ember"]
    return kits, read, (read > scale.low) & (read < scale.high)
