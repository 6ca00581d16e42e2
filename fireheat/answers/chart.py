"""A paper computer: scales so placed that a ruler laid across them tells floor and ember.

The first part multiplies: press and speed, then grip, give watts. In the second a ruler from the
watts through the crossing of thickness and wear-off shows when the ember is there. That works
because, for one wood, thickness and wear-off, the logarithm of the ember's time is nearly a
straight line over the logarithm of the watts, once long times are drawn closer together by one
bend, the same for all. Each such line is a point between the two scales.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from scipy.constants import milli
from scipy.optimize import minimize_scalar

from ..bands import Band
from ..cases import case
from ..kit.bowing import friction_power
from ..kit.kit import Kit, Try
from ..kit.wood import Wood
from ..quantities import Numbers, check, check_whole, default, plain
from ..spread import even_shares, spread

DIAMETERS = np.arange(8, 23) * milli  # m: lines of the net
DEPTHS = np.array([2, 3, 4, 6, 8]) * milli  # m
LADDER_TIMES = np.array([8.0, 10.0, 15.0, 20.0, 30.0, 45.0, 60.0, 90.0, 120.0])  # s
LADDER_DEPTHS = DEPTHS[[0, 2, 4]]
_FORCE, _SPEED, _FRICTION = (20.0, 160.0), (0.3, 2.4), (0.1, 0.8)  # each eightfold: equal scales
_POWER, _EMBER, _FLOOR = (3.0, 40.0), (8.0, 120.0), (2.0, 90.0)
_MIDDLE = 30.0  # s: about which long times are drawn closer together
_FITTED = 10  # watts at which each line is fitted
_THICKNESSES = DIAMETERS[1::3]  # of the kits of which a ladder's rung is the middle one
_BLANK, _WATTS_AT, _FLOOR_AT, _MARKS_AT = 0.5, 0.45, 0.86, 0.6  # shares of the way across
_ORDINARY = Kit().wood
_CLOSE = 0.05  # off the estimate


@dataclass(frozen=True)
class RulerScale:
    """A straight scale: where along itself a value stands.

    Attributes
    ----------
    key : str
        The quantity.
    low, high : float
        Its ends. [SI]
    start, end : float
        Where they stand, in shares of the chart's width or height. [1]
    bend : float
        By how much large values stand closer together than their logarithms. [1]
    """

    key: str
    low: float
    high: float
    start: float = 0.0
    end: float = 1.0
    bend: float = 0.0

    def place(self, value: Numbers) -> Numbers:
        """Tell where a value stands, as a share."""
        first, last = self._ends()
        share = (self._bent(value) - first) / (last - first)
        return self.start + share * (self.end - self.start)

    def value(self, place: Numbers) -> Numbers:
        """Tell which value stands at a place; beyond where the scale turns round, infinity."""
        first, last = self._ends()
        bent = first + (np.asarray(place) - self.start) / (self.end - self.start) * (last - first)
        if not self.bend:
            return plain(_MIDDLE * np.exp(bent))
        inside = 1 + 4 * self.bend * bent
        root = np.sqrt(np.maximum(inside, 0.0))
        return plain(np.where(inside > 0, _MIDDLE * np.exp((root - 1) / (2 * self.bend)), np.inf))

    def line(self, value: np.ndarray, watts: np.ndarray) -> tuple[np.ndarray, ...]:
        """Fit bent value = height - slope ln(watts), by squares of the error in ln(value).

        Returns slope, height, and what is left of ln(value). Many lines stand along other axes.
        """
        number, watts = np.log(value / _MIDDLE), np.log(watts)
        steep = 1 + 2 * self.bend * number
        weight = steep**-2 / (steep**-2).sum(-1, keepdims=True)
        bent = self._bent(value)
        x, y = (values - (weight * values).sum(-1, keepdims=True) for values in (watts, bent))
        slope = -(weight * x * y).sum(-1) / (weight * x * x).sum(-1)
        height = (weight * (bent + slope[..., None] * watts)).sum(-1)
        return slope, height, (bent + slope[..., None] * watts - height[..., None]) / steep

    def watts(self, value: Numbers, slope: np.ndarray, height: np.ndarray) -> np.ndarray:
        """Tell at which watts such a line has a value. [W]."""
        return np.exp((height - self._bent(value)) / slope)

    def points(self, slope: np.ndarray, height: np.ndarray, power: "RulerScale") -> np.ndarray:
        """Find where all rulers of such a line meet: how far across and how high, in shares."""
        first, last = self._ends()
        across = 1 / (1 + slope * np.log(power.high / power.low) / (last - first))
        # here the ruler from the lower end of the watts
        late = (height - slope * np.log(power.low) - first) / (last - first)
        return np.stack([across, across * late], axis=-1)

    def _ends(self):
        return self._bent(self.low), self._bent(self.high)

    def _bent(self, value):
        """Take the logarithm about the middle, large ones drawn closer together."""
        number = np.log(np.asarray(value) / _MIDDLE)
        return number * (1 + self.bend * number)


@dataclass(frozen=True, eq=False)
class RulerNet:
    """Watts, a net of thickness and wear-off, and the ember's time: three crossed by one ruler.

    Attributes
    ----------
    scales : mapping of str to RulerScale
        At least ``power`` and ``ember``.
    net : ndarray, shape (n, m, 2)
        How far across and how high each thickness crosses each wear-off, in shares. [1]
    diameters : ndarray, shape (n,)
        Thicknesses of its lines. [m]
    depths : ndarray, shape (m,)
        Its wear-offs. One alone stands for all. [m]
    """

    scales: Mapping[str, RulerScale]
    net: np.ndarray
    diameters: np.ndarray
    depths: np.ndarray

    def net_point(self, diameter: Numbers, depth: Numbers) -> np.ndarray:
        """Tell how far across and how high a thickness crosses a wear-off, in shares.

        Between lines of the net the point is put as an eye does: by shares of the space.
        """
        (i, below, down), (j, beside, right) = (
            _between(value, lines)
            for value, lines in ((diameter, self.diameters), (depth, self.depths))
        )
        first, second = (
            (1 - right) * self.net[row, j] + right * self.net[row, beside] for row in (i, below)
        )
        return np.moveaxis((1 - down) * first + down * second, -1, 0)

    def ember(self, *, power: Numbers, diameter: Numbers, depth: Numbers) -> Numbers:
        """Read the ember, with a ruler from the watts through thickness and wear-off. [s].

        What lies beyond the scale's end is later than that, or never.
        """
        power, diameter, depth = check(power=power, diameter=diameter, burn_in_depth=depth)
        across, high = self.net_point(diameter, depth)
        start = self.scales["power"].place(power)
        return self.scales["ember"].value(start + (high - start) / across)


@dataclass(frozen=True, eq=False)
class AlignmentChart(RulerNet):
    """Where scales, net and marks stand, and what the ladder says.

    Scales are ``force``, ``speed``, ``friction`` and ``product`` of the first part, ``power``,
    ``bound`` and ``ember`` of the second.

    Attributes
    ----------
    wood : str or Wood
        Of spindle and board.
    floor_marks : ndarray, shape (15,)
        How high each thickness stands on the floor's line, for the ordinary wear-off. [1]
    wood_band, all_band : Band of ndarray, shape (3, 9)
        The ember's bands at a likely time, by wear-off and likely time. [s]
    """

    wood: str | Wood
    floor_marks: np.ndarray
    wood_band: Band
    all_band: Band

    def blank(self, *, force: Numbers, speed: Numbers) -> Numbers:
        """Tell where a ruler from press to speed crosses the line without numbers, as a share."""
        force, speed = check(force=force, speed=speed)
        press, bow = self.scales["force"].place(force), self.scales["speed"].place(speed)
        return (1 - _BLANK) * press + _BLANK * bow

    def watts(self, *, force: Numbers, speed: Numbers, friction: Numbers) -> Numbers:
        """Read the watts, with a ruler laid twice across the first part. [W]."""
        start, friction = self.blank(force=force, speed=speed), check(friction=friction)
        place = start + _WATTS_AT * (self.scales["friction"].place(friction) - start)
        return self.scales["product"].value(place)

    def floor(self, *, power: Numbers, diameter: Numbers) -> Numbers:
        """Read the floor for the ordinary wear-off, with a ruler through the thickness. [s]."""
        power, diameter = check(power=power, diameter=diameter)
        start = self.scales["power"].place(power)
        mark = np.interp(diameter, DIAMETERS, self.floor_marks)
        return self.scales["bound"].value(start + (mark - start) * _FLOOR_AT / _MARKS_AT)


@dataclass(frozen=True)
class ChartAccuracy:
    """How close a ruler comes to the estimate, over many kits.

    Attributes
    ----------
    kits : int
        How many.
    close : float
        Share of them whose ember is read to within a twentieth. [1]
    most, worst : float
        How far off the ember is at 95 of 100 kits, and at the worst. [1]
    floor_worst : float
        How far off the floor is at the worst. [1]
    wood_most, all_most : float
        How far off the ladder's ends are at 95 of 100 kits that have both. [1]
    """

    kits: int
    close: float
    most: float
    worst: float
    floor_worst: float
    wood_most: float
    all_most: float


def alignment_chart(wood: str | Wood = _ORDINARY) -> AlignmentChart:
    """Fit the chart of one wood.

    Parameters
    ----------
    wood : str or Wood, optional
        A name from :func:`fireheat.kit.wood.woods`, or a wood of its own.

    Returns
    -------
    AlignmentChart
        Where all stands.

    Raises
    ------
    InputError
        If there is no such wood.

    References
    ----------
    .. [1] :attr:`fireheat.cases.Case.ember`; nets of alignment charts: M. d'Ocagne, Traite de
       nomographie, 1899. (from memory)

    Examples
    --------
    >>> alignment_chart().net.shape
    (15, 5, 2)
    """
    return _chart(Try(Kit(wood=wood)))


@cache
def _chart(state):
    slopes, heights, bend = _lines(state)
    scales = _scales(bend)
    return AlignmentChart(
        wood=state.kit.wood,
        scales=scales,
        net=scales["ember"].points(slopes, heights, scales["power"]),
        diameters=DIAMETERS,
        depths=DEPTHS,
        floor_marks=_floor_marks(state, scales),
        **_ladder(state, slopes, heights, bend),
    )


def chart_layout() -> Mapping[str, float]:
    """Tell where the lines stand across each part, as shares.

    Examples
    --------
    >>> chart_layout()["blank"]
    0.5
    """
    return {
        "blank": _BLANK,  # of the way from press to speed
        "product": _WATTS_AT,  # of the way from the blank line to grip
        "bound": _FLOOR_AT,  # of the way from watts to ember
        "floor_marks": _MARKS_AT,
    }


def chart_accuracy(wood: str | Wood = _ORDINARY, count: int = 1500) -> ChartAccuracy:
    """Read the chart for many kits and compare with the march, and its ladder with the draws.

    Parameters
    ----------
    wood : str or Wood, optional
        As in :func:`alignment_chart`.
    count : int, optional
        How many kits.

    Returns
    -------
    ChartAccuracy
        How far off it is.

    Raises
    ------
    InputError
        If there is no such wood, or that is no whole number above zero.

    Examples
    --------
    >>> chart_accuracy(count=20).close
    1.0
    """
    return _accuracy(Try(Kit(wood=wood)), check_whole("count", count, least=1))


@cache
def _accuracy(state, count):
    chart = _chart(state)
    kits = _some(chart_kits(state.kit.wood, count), count)
    found = case(state, swept=kits)
    power = chart.watts(**{key: kits[key] for key in ("force", "speed", "friction")})
    size = {"power": power, "diameter": kits["diameter"]}
    read = chart.ember(**size, depth=kits["burn_in_depth"])
    floor = chart.floor(**size) * kits["burn_in_depth"] / default("burn_in_depth")
    off = np.abs(read / found.ember - 1)
    few = _some(kits, 200)  # draws are dear
    drawn = spread(state, swept=few)
    ladder = (chart.wood_band, chart.all_band)
    return ChartAccuracy(
        kits=count,
        close=float(np.mean(off < _CLOSE)),
        most=float(np.quantile(off, 0.95)),
        worst=float(np.max(off)),
        floor_worst=float(np.max(np.abs(floor / found.bound - 1))),
        **{
            name: _ladder_off(band, told, read[: len(few["force"])], few["burn_in_depth"])
            for name, band, told in zip(
                ("wood_most", "all_most"), ladder, (drawn.wood, drawn.all), strict=True
            )
        },
    )


def chart_kits(wood: str | Wood = _ORDINARY, count: int = 1500) -> Mapping[str, np.ndarray]:
    """Draw kits all over the chart, evenly, whose watts and ember stand on its scales.

    Parameters
    ----------
    wood : str or Wood, optional
        As in :func:`alignment_chart`.
    count : int, optional
        How many at least.

    Returns
    -------
    mapping of str to ndarray
        By quantity. [SI]

    Raises
    ------
    InputError
        If there is no such wood, or that is no whole number above zero.

    Examples
    --------
    >>> sorted(chart_kits(count=10))
    ['burn_in_depth', 'diameter', 'force', 'friction', 'speed']
    """
    shares = even_shares(6 * check_whole("count", count, least=1))
    drawn = {
        key: RulerScale(key, *ends).value(share)
        for key, ends, share in zip(
            ("force", "speed", "friction", "diameter", "burn_in_depth"),
            (_FORCE, _SPEED, _FRICTION, DIAMETERS[[0, -1]], DEPTHS[[0, -1]]),
            shares.values(),
            strict=False,
        )
    }
    found = case(Try(Kit(wood=wood)), swept=drawn)
    on = _within(found.power, _POWER) & _within(found.quick()[1], _EMBER)
    return {key: values[on] for key, values in drawn.items()}


# ---- where all stands ---------------------------------------------------------------------------


def _scales(bend):
    """Place the scales. On the first part all follow from press and speed being equally long."""
    watts = _watts(_FORCE[0], _SPEED[0], _FRICTION[0]), _watts(_FORCE[1], _SPEED[1], _FRICTION[1])
    long = (1 - _WATTS_AT) * _BLANK / _WATTS_AT  # so that watts multiply
    grip = (1 - long) / 2, (1 + long) / 2
    ends = _WATTS_AT * grip[0], (1 - _WATTS_AT) + _WATTS_AT * grip[1]
    part = _MARKS_AT / _FLOOR_AT
    steep = (1 - part) / part * np.log(_FLOOR[1] / _FLOOR[0]) / np.log(_POWER[1] / _POWER[0])
    scales = (
        ("force", RulerScale("force", *_FORCE)),
        ("speed", RulerScale("speed", *_SPEED)),
        ("friction", RulerScale("friction", *_FRICTION, *grip)),
        ("product", RulerScale("power", *watts, *ends)),
        ("power", RulerScale("power", *_POWER)),
        ("bound", RulerScale("time", *_FLOOR, 0.0, steep)),
        ("ember", _ember_scale(bend)),
    )
    return dict(scales)


def _watts(force, speed, friction):
    return friction_power(force, friction=friction, speed=speed)


def _floor_marks(state, scales):
    """Stand the thicknesses so that a ruler from watts to floor holds their product."""
    power = scales["power"].low
    floor = case(state, swept=_kits(power, DIAMETERS, default("burn_in_depth"))).bound
    part = _MARKS_AT / _FLOOR_AT
    return (1 - part) * scales["power"].place(power) + part * scales["bound"].place(floor)


def _kits(power, diameter, depth):
    """Make kits of so many watts: by the force alone, for the watts are all that counts."""
    force = power / _watts(1.0, default("speed"), default("friction"))
    kits = {"force": force, "diameter": diameter, "burn_in_depth": depth}
    ordinary = {key: default(key) for key in ("speed", "friction")}
    return kits | ordinary


# ---- the straight lines -------------------------------------------------------------------------


def _lines(state):
    """Fit bent time = height - slope ln(watts) for each crossing, with the one best bend."""
    diameter, depth = np.meshgrid(DIAMETERS, DEPTHS, indexing="ij")
    power = _power_of(state, np.geomspace(*_EMBER, _FITTED), diameter, depth)
    kits = _kits(power, diameter[..., None], depth[..., None])
    ember = case(state, swept=kits).ember
    best = minimize_scalar(
        lambda bend: np.mean(_ember_scale(bend).line(ember, power)[2] ** 2),
        bounds=(-0.2, -0.001),  # at -0.24 the scale turns round within its length
        method="bounded",
    )
    return *_ember_scale(best.x).line(ember, power)[:2], best.x


def _ember_scale(bend):
    return RulerScale("time", *_EMBER, bend=bend)


def _power_of(state, wanted, diameter, depth):
    """Find the watts with which each kit has its ember at about a wanted time."""
    power = np.geomspace(0.5, 400.0, 80)
    kits = _kits(power, diameter[..., None], depth[..., None])
    _, found = case(state, swept=kits).quick()
    found = np.log(np.minimum(found, 1e6)).reshape(-1, len(power))  # never is later than any
    ask = np.log(wanted)
    rows = [np.interp(ask, row[::-1], np.log(power)[::-1]) for row in found]
    return np.exp(np.reshape(rows, (*diameter.shape, len(ask))))


# ---- the ladder ---------------------------------------------------------------------------------


def _ladder(state, slopes, heights, bend) -> dict[str, Any]:
    """Draw the bands of kits with each likely time, and take the middle one over thicknesses."""
    rows = np.searchsorted(DIAMETERS, _THICKNESSES)
    columns = np.searchsorted(DEPTHS, LADDER_DEPTHS)
    at = np.ix_(rows, columns)
    lines = slopes[at][..., None], heights[at][..., None]
    power = _ember_scale(bend).watts(LADDER_TIMES, *lines)
    swept = _kits(power, _THICKNESSES[:, None, None], LADDER_DEPTHS[:, None])
    drawn, on = spread(state, swept=swept), _within(power, _POWER)
    return {"wood_band": _middle(drawn.wood, on), "all_band": _middle(drawn.all, on)}


def _middle(band, on):
    """Take the middle of those kits whose watts stand on the scale; of all, where none's do."""
    on = on | ~on.any(axis=0)
    ends = (
        np.nanmedian(np.where(on, end / band.likely, np.nan), axis=0) * LADDER_TIMES
        for end in (band.low, band.high)
    )
    low, high = ends
    return Band(low, np.broadcast_to(LADDER_TIMES, low.shape), high)


def _ladder_off(band, told, time, depth):
    """Tell how far off the ladder is: between its rungs by the logarithm of time, and of depth."""
    off = []
    for end in ("low", "high"):
        columns = [np.interp(np.log(time), np.log(LADDER_TIMES), row) for row in getattr(band, end)]
        place = np.interp(depth, LADDER_DEPTHS, np.arange(len(columns)))
        left = np.minimum(place.astype(int), len(columns) - 2)
        every = np.arange(len(time))
        lower, upper = (np.array(columns)[left + more, every] for more in (0, 1))
        with np.errstate(invalid="ignore"):  # an end that never comes
            ladder = lower + (place - left) * (upper - lower)
            share = np.abs(ladder / getattr(told, end) - 1)
        off.append(share[np.isfinite(share)])
    return float(np.quantile(np.concatenate(off), 0.95))


def _between(value, lines):
    """Tell between which two lines a value stands, and by which share of the space."""
    place = np.interp(value, lines, np.arange(len(lines)))
    first = np.minimum(place.astype(int), max(len(lines) - 2, 0))
    return first, np.minimum(first + 1, len(lines) - 1), (place - first)[..., None]


def _within(values, ends):
    return (values >= ends[0]) & (values <= ends[1])


def _some(kits, count):
    return {key: values[:count] for key, values in kits.items()}
