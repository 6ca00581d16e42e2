"""Watts measured two ways: by the bow's pull, and by how soon the wood smokes.

The pull tells what cold wood gives at the full pace; the cord may creep a little besides. The time
of first smoke tells what hot wood gave, friction and all, as well as the numbers of the wood are
known. Where the two differ by more than both may be off, hot wood grips otherwise than cold, or
one of the readings slipped.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri

from ..bands import Band
from ..cases import case
from ..constants import constant
from ..kit.bowing import bow_speed
from ..kit.kit import Try
from ..person.measuring import (
    CONFIDENCE,
    NINE_OF_TEN,
    Measured,
    Propagated,
    propagated,
    pulled_friction,
    pulled_power,
    simulated,
    tip_pull,
)
from ..quantities import InputError, check_ordinary, default, quantity
from ..spread import drawn_case, even_shares
from ..unknowns import unknown

_DRAWS = 512
_ENDS = 0.05, 0.95
_LITTLE = 0.01  # of the likely watts: a low end of nothing is taken as so much, where ratios count
_STRAIGHT = float(np.sqrt(3))  # limits of a rectangle over its standard deviation
_OF_TAPE = float(ndtri((1 + CONFIDENCE) / 2))


@dataclass(frozen=True, kw_only=True)
class Pulling:
    """What was read while a bow was pulled through a scale, and how the bow moves in earnest.

    Attributes
    ----------
    scale_pull : float
        What the scale showed. [N]
    pull_limit : float
        How far off the scale may be. [N]
    steady : bool
        Whether the bow was pulled slowly and steadily; scales show peaks.
    force : float
        Downward force, weighed. [N]
    diameter : float
        Of the spindle, where tip and cord are. [m]
    block_friction : float
        Friction coefficient in the bearing block. [1]
    block_radius : float
        Radius of the contact in the bearing block. [m]
    strokes_per_minute : float
        Single passes a minute. [1/min]
    stroke_length : float
        How far the cord runs in one pass. [m]

    Raises
    ------
    InputError
        If a value is not what an ordinary kit or person has.

    Examples
    --------
    >>> round(Pulling(steady=False).readings["pull"].error, 1)
    1.7
    """

    scale_pull: float = default("scale_pull")
    pull_limit: float = default("pull_limit")
    steady: bool = True
    force: float = default("force")
    diameter: float = default("diameter")
    block_friction: float = default("block_friction")
    block_radius: float = default("block_radius")
    strokes_per_minute: float = default("strokes_per_minute")
    stroke_length: float = default("stroke_length")

    def __post_init__(self):
        check_ordinary(**{key: value for key, value in vars(self).items() if key != "steady"})
        for key in ("scale_pull", "force", "strokes_per_minute"):
            if not getattr(self, key):
                row = quantity(key)
                raise InputError(f"{row.name} is 0; allowed: above 0, or nothing was measured")

    @property
    def readings(self) -> Mapping[str, Measured]:
        """What was read, each with its standard uncertainty, by name of a formula's argument."""
        wander = constant("pull_steady" if self.steady else "pull_jerky") * self.scale_pull
        scale = np.hypot(wander / NINE_OF_TEN, self.pull_limit / _STRAIGHT)
        wheel, tape = unknown("diameter").measured[1] - 1, default("stroke_length_error")
        return {
            "pull": Measured(self.scale_pull, float(scale)),
            "force": _off(self.force, unknown("force").measured[1] - 1),
            "cord_radius": _off(self.diameter / 2, wheel),
            "block_friction": _off(self.block_friction, constant("pull_block_friction")),
            "block_radius": _off(self.block_radius, constant("pull_block_radius")),
            "strokes_per_minute": Measured(
                self.strokes_per_minute, constant("count_limit") / _STRAIGHT
            ),
            "stroke_length": Measured(self.stroke_length, tape / _OF_TAPE),
        }


def _off(value, share):
    """Return a value of which nine of ten readings are no further off than a share."""
    return Measured(value, value * share / NINE_OF_TEN)


@dataclass(frozen=True, kw_only=True)
class Gauges:
    """What the readings say.

    Attributes
    ----------
    power : Propagated
        Heat made at the tip, from the pull. [W]
    band : Band of float
        The same, with nine of ten draws inside, and a cord that creeps. [W]
    block : float
        Heat made in the bearing block. [W]
    friction : Propagated
        Friction coefficient of a worn-in tip that asks for such a pull. [1]
    grip : Propagated
        Pull at the tip over downward force. [1]
    speed : Propagated
        Bow speed. [m/s]
    hot_power : Band of float or None
        Heat made at the tip, from the time of first smoke, if that was timed. [W]
    hotter : Band of float or None
        The second gauge over the first. [1]
    both : Measured or None
        Heat made at the tip by hot wood, from both gauges. [W]
    """

    power: Propagated
    band: Band[float]
    block: float
    friction: Propagated
    grip: Propagated
    speed: Propagated
    hot_power: Band[float] | None = None
    hotter: Band[float] | None = None
    both: Measured | None = None

    @property
    def verdict(self) -> str:
        """How the gauges agree: ``"alone"``, ``"agree"``, ``"less"``, ``"more"`` or ``"apart"``.

        Less or more than cold wood, as far as hot wood may; or further apart than that.
        """
        if self.hotter is None:
            return "alone"
        low, likely, high = self.hotter
        if low <= 1 <= high:
            return "agree"
        hot = unknown("hot_friction").band
        if high < hot.low or low > hot.high:
            return "apart"
        return "less" if likely < 1 else "more"


def watts(pulling: Pulling, *, state: Try | None = None, smoke_time: float | None = None) -> Gauges:
    """Work out what the readings of a bow's pull say, and of first smoke if that was timed.

    Parameters
    ----------
    pulling : Pulling
        What was read.
    state : Try, optional
        Whose wood and air first smoke was timed with; an ordinary one if left out.
    smoke_time : float, optional
        When it smoked. [s]

    Returns
    -------
    Gauges
        What they say.

    Raises
    ------
    InputError
        If the time is not positive.

    References
    ----------
    .. [1] :func:`fireheat.person.measuring.pulled_power`, :func:`smoke_power`.

    Examples
    --------
    >>> found = watts(Pulling())
    >>> round(found.power.value, 1), round(found.power.error, 1), found.verdict
    (10.5, 1.3, 'alone')
    """
    read, creep = pulling.readings, unknown("creep").band
    cord = Measured(1.0, (creep.high - creep.low) / 2 / NINE_OF_TEN)
    power = propagated(_power, **read, creep=cord)
    drawn = _power(
        **simulated(read, count=_DRAWS), creep=unknown("creep").at(even_shares(_DRAWS)["creep"])
    )
    low, high = np.quantile(drawn, _ENDS).tolist()
    turning = {key: one for key, one in read.items() if not key.startswith("stroke")}
    rate = {key: one for key, one in read.items() if key.startswith("stroke")}
    speed = propagated(_speed, **rate)
    alone = Gauges(
        power=power,
        band=Band(min(low, power.value), power.value, max(high, power.value)),
        block=pulling.scale_pull * speed.value - power.value,
        friction=propagated(pulled_friction, **turning),
        grip=propagated(_grip, **turning),
        speed=speed,
    )
    if smoke_time is None:
        return alone
    place = (state or Try()).changed(diameter=pulling.diameter)
    smoke = smoke_power(place, smoke_time=smoke_time)
    hotter = _over(smoke, alone.band) if power.value else None
    return Gauges(
        **vars(alone) | {"hot_power": smoke, "hotter": hotter, "both": _both(alone, smoke)}
    )


def smoke_power(state: Try, *, smoke_time: float) -> Band[float]:
    r"""Heat made at the tip, from the time of first smoke.

    .. math:: P = \frac{T_{smoke} - T_{air}}{Z(t_1)}

    Parameters
    ----------
    state : Try
        Spindle, wood and air; its friction, force and speed do not matter.
    smoke_time : float
        When a steady thread of smoke was seen. [s]

    Returns
    -------
    Band of float
        Likely watts, and the ends between which nine of ten draws lie of all that is not known of
        wood, smoke and luck. [W]

    Raises
    ------
    InputError
        If the time is not positive.

    Notes
    -----
    The sooner, the more: in thick wood, watts go with one over the root of the time. It reads the
    average until first smoke of all that makes the heat, hot friction and creeping cord with it.

    References
    ----------
    .. [1] :func:`fireheat.heat.warming.warm_up`, turned round: no search is needed.

    Examples
    --------
    The ordinary kit makes 10.5 W, and likely smokes after 13.1 s:

    >>> [round(power, 1) for power in smoke_power(Try(), smoke_time=13.08)]
    [7.9, 10.5, 18.9]
    """
    check_ordinary(smoke_time=smoke_time)
    shares = even_shares(_DRAWS)
    made = drawn_case(state, shares, guessed=["moisture"], measured={"diameter": None})
    # What a spindle wears is not asked here, so its draws are free for how well smoke is seen.
    seen = (1 + constant("smoke_seen")) ** (ndtri(shares["wear"]) / NINE_OF_TEN)
    drawn = made.smoke_rise / made.contact.impedance(smoke_time * seen / made.luck)
    as_set = case(state)
    likely = float(as_set.smoke_rise / as_set.contact.impedance(smoke_time))
    low, high = np.quantile(drawn, _ENDS).tolist()
    return Band(min(low, likely), likely, max(high, likely))


def in_my_kit(pulling: Pulling, found: Gauges) -> dict[str, Measured]:
    """Tell what goes into :class:`fireheat.my_kit.MyKit`, by name.

    Where first smoke was timed, it is what both gauges together say of hot wood.

    Examples
    --------
    >>> sorted(in_my_kit(Pulling(), watts(Pulling())))
    ['diameter', 'force', 'grip', 'speed']
    """
    read = pulling.readings
    radius = read["cord_radius"]
    mine = {
        "diameter": Measured(2 * radius.value, 2 * radius.error),
        "force": read["force"],
        "speed": Measured(found.speed.value, found.speed.error),
    }
    if found.both is None:
        return mine | {"grip": Measured(found.grip.value, found.grip.error)}
    pace = pulling.force * found.speed.value
    return mine | {"hot_grip": Measured(found.both.value / pace, found.both.error / pace)}


# ---- formulas of all that was read --------------------------------------------------------------


def _speed(strokes_per_minute, stroke_length):
    return bow_speed(stroke_length, strokes_per_minute=strokes_per_minute)


def _power(strokes_per_minute, stroke_length, creep, **turning):
    speed = _speed(strokes_per_minute, stroke_length) * creep
    return pulled_power(speed=speed, **turning)


def _grip(**turning):
    return tip_pull(**turning) / turning["force"]


# ---- two gauges together ------------------------------------------------------------------------


def _over(one, other):
    """Return one band over another that errs by itself, each side's ratios in quadrature."""
    likely = one.likely / other.likely
    below, above = (
        float(np.hypot(np.log(mine / one.likely), np.log(theirs / other.likely)))
        for mine, theirs in zip(_ends(one), _ends(other)[::-1], strict=True)
    )
    return Band(likely * math.exp(-below), likely, likely * math.exp(above))


def _both(alone, smoke):
    """Weigh both gauges by how sure they are of hot wood: a mean of logarithms.

    Where they differ by more than they should, the mean is as much less sure (Birge's ratio).
    """
    if not alone.power.value:
        return Measured(smoke.likely, smoke.likely * _half(smoke))
    hot = _half(unknown("hot_friction").band)
    errors = np.array([np.hypot(_half(alone.band), hot), _half(smoke)])
    places = np.log([alone.power.value, smoke.likely])
    weights = errors**-2 / np.sum(errors**-2)
    apart = abs(float(places[0] - places[1])) / float(np.hypot(*errors))
    error = float(np.sum(errors**-2) ** -0.5) * max(1.0, apart)
    value = float(np.exp(weights @ places))
    return Measured(value, value * error)


def _half(band):
    """Tell the standard uncertainty of a logarithm, by the band of nine of ten."""
    low, high = _ends(band)
    return float(np.log(high / low)) / 2 / NINE_OF_TEN


def _ends(band):
    """Return the ends of a band of watts of which ratios are taken."""
    return max(band.low, _LITTLE * band.likely), band.high
