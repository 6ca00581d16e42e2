"""Measuring what a person really does, each reading with its error.

- *Taps*: press a key at each pass of the bow for ten to fifteen seconds. The mean interval gives
  the strokes a minute, and the scatter of the intervals how well it is known.
- *Bow speed*: strokes a minute times the length of a stroke, both with their uncertainty.
- *Downward force*: a bathroom scale under the board, read twice.
- *Friction*: lay one wood on a board of the other and tilt. On a slope of angle a, gravity pulls a
  block down the slope with ``m g sin a`` and presses it on with ``m g cos a``; friction just holds
  it where the first over the second, ``tan a``, is the friction coefficient. The mass drops out.
  The angle at which a resting block starts is that of *static* friction; the angle at which a
  tapped block goes on sliding, neither faster nor slower, is that of *kinetic* friction, the one
  that makes the heat.
- *How heavy the wood is*: a kitchen scale and a ruler tell mass and volume of a piece. Less the
  water in it, and over the mass of as much water, that is its specific gravity.
- *Watts*: a luggage scale between hand and bow, pulled slowly and steadily, shows the pull that
  turns the spindle. Less what the bearing block takes, and times the bow's speed, it is the heat
  made at the tip, whatever the friction and the shape of the tip.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from scipy import constants, special

from ..bands import Band
from ..constants import constant
from ..kit.bowing import bow_speed, friction_torque
from ..kit.wood import specific_gravity_of
from ..quantities import InputError, Numbers, check, check_whole, default, plain
from ..unknowns import unknown

CONFIDENCE = 0.95
NINE_OF_TEN = float(special.ndtri(0.95))  # standard uncertainties on either side that hold so many
_ROOTS = np.sqrt([829, 367, 601, 1097, 61, 773, 541, 41, 1039, 31])  # of primes, as draws have
_FEWEST = 3  # two taps give one interval, and one interval says nothing of its own scatter


def tap_rate(tap_times: Numbers) -> Band:
    r"""Strokes a minute from taps, with its uncertainty.

    .. math:: N = \frac{60}{\bar d}, \qquad
              \bar d \pm t_{0.975} \frac{s}{\sqrt{n}}

    with the n intervals d between taps, their mean, their standard deviation s, and Student's t
    for n - 1 degrees of freedom.

    Parameters
    ----------
    tap_times : ndarray, shape (n + 1,)
        When each pass was tapped, in order. [s]

    Returns
    -------
    Band of float
        Strokes a minute; the interval's ends are those of the mean interval, turned round. [1/min]

    Raises
    ------
    InputError
        If there are fewer than three taps, or they are not in order.

    Notes
    -----
    Takes each interval to scatter on its own. Taps that are late now and then on a steady beat
    scatter less than this says, so it errs on the careful side. A missed tap makes an interval
    twice as long: see :func:`missed_taps`.

    References
    ----------
    .. [1] Confidence interval of a mean: NIST/SEMATECH e-Handbook of Statistical Methods, section
       1.3.5.2. (from memory)

    Examples
    --------
    >>> tap_rate([0.0, 0.5, 1.0, 1.5]).likely
    120.0
    >>> reading = tap_rate([0.0, 0.45, 1.0, 1.5, 2.05, 2.5])
    >>> round(reading.likely), round(reading.low), round(reading.high)
    (120, 107, 137)
    """
    gaps = _checked_gaps(tap_times)
    mean, error = np.mean(gaps), np.std(gaps, ddof=1) / np.sqrt(len(gaps))
    reach = special.stdtrit(len(gaps) - 1, (1 + CONFIDENCE) / 2) * error
    ends = np.array([mean, mean + reach, max(mean - reach, 0.0)])
    with np.errstate(divide="ignore"):  # scatter so wild that no count is too high
        likely, low, high = (constants.minute / ends).tolist()
    return Band(low, likely, high)


def _checked_gaps(tap_times):
    """Intervals between taps, checked."""
    gaps = np.diff(np.atleast_1d(check(tap_times=tap_times)))
    if gaps.ndim > 1 or len(gaps) < _FEWEST - 1:
        raise InputError(f"taps: {np.size(tap_times)} is too few; allowed: {_FEWEST} or more")
    if np.any(gaps <= 0):
        at = np.argmax(gaps <= 0)
        raise InputError(
            f"times of the taps: tap {at + 2} is {gaps[at]:g} s after the one before;"
            " allowed: above 0 s"
        )
    return gaps


def missed_taps(tap_times: Numbers) -> int:
    """How many passes went by without a tap, as far as the intervals tell.

    Parameters
    ----------
    tap_times : ndarray, shape (n,)
        When each pass was tapped, in order. [s]

    Returns
    -------
    int
        Missed taps: an interval about twice the usual one hides one. [1]

    Raises
    ------
    InputError
        If there are fewer than three taps, or they are not in order.

    References
    ----------
    .. [1] A count against the median interval; no source.

    Examples
    --------
    >>> missed_taps([0.0, 0.5, 1.0, 2.0, 2.5])
    1
    """
    gaps = _checked_gaps(tap_times)
    return int(np.sum(np.maximum(np.round(gaps / np.median(gaps)) - 1, 0)))


def tapped_speed(
    strokes: Band, *, stroke_length: float, stroke_length_error: float | None = None
) -> Band:
    r"""Bow speed from tapped strokes and a measured stroke length.

    .. math:: v = \frac{L N}{60}, \qquad
              \left(\frac{u_v}{v}\right)^2 = \left(\frac{u_L}{L}\right)^2
              + \left(\frac{u_N}{N}\right)^2

    Parameters
    ----------
    strokes : Band
        Strokes a minute, from :func:`tap_rate`. [1/min]
    stroke_length : float
        How far the cord runs in one pass. [m]
    stroke_length_error : float, optional
        How far off that may be, 95 times in 100. [m]

    Returns
    -------
    Band of float
        Bow speed; each end of the interval from its own side's uncertainties. [m/s]

    Raises
    ------
    InputError
        If there are no strokes, their interval does not hold them, the length is not positive, or
        its error is negative.

    References
    ----------
    .. [1] Law of propagation of uncertainty: JCGM 100:2008 (GUM), eq. 12. (from memory)

    Examples
    --------
    >>> tapped = Band(114.0, 120.0, 126.0)
    >>> speed = tapped_speed(tapped, stroke_length=0.5, stroke_length_error=0.03)
    >>> round(speed.likely, 3), round(speed.low, 3), round(speed.high, 3)
    (1.0, 0.922, 1.078)
    """
    error = default("stroke_length_error") if stroke_length_error is None else stroke_length_error
    speed = bow_speed(stroke_length, strokes_per_minute=strokes.likely)
    if not 0 <= strokes.low <= strokes.likely <= strokes.high or strokes.likely == 0:
        raise InputError(
            f"strokes a minute is {strokes.likely:g}, between {strokes.low:g} and {strokes.high:g};"
            " allowed: above 0, between ends of 0 or more"
        )
    length_part = check(stroke_length_error=error) / stroke_length
    below, above = (
        float(np.hypot(length_part, end / strokes.likely - 1))
        for end in (strokes.low, strokes.high)
    )
    return Band(max(speed * (1 - below), 0.0), speed, speed * (1 + above))


def scale_force(reading: Numbers, *, rest: Numbers) -> Numbers:
    r"""Downward force from a bathroom scale under the board.

    .. math:: F = (m_1 - m_0) g

    Parameters
    ----------
    reading : float or ndarray
        What the scale shows while somebody presses and bows. [kg]
    rest : float or ndarray
        What it shows with board, spindle and the foot that holds them, nobody pressing. [kg]

    Returns
    -------
    float or ndarray
        Force on the spindle. [N]

    Raises
    ------
    InputError
        If it shows less while pressing than before: then something else has changed.

    Notes
    -----
    The subtraction takes off the board, and whatever of the foot's weight rests on the scale. A
    foot that leans in as the hand presses is counted as force, and is the usual error.

    References
    ----------
    .. [1] Standard gravity, 9.80665 m/s^2: scipy.constants.g.

    Examples
    --------
    >>> round(scale_force(14.1, rest=8.0), 1)
    59.8
    """
    reading, rest = check(reading=reading, rest=rest)
    for pressing, before in np.broadcast(reading, rest):
        if pressing < before:
            raise InputError(
                f"scale reading while pressing is {pressing:g} kg; allowed: {before:g} kg, that"
                " before pressing, or more"
            )
    return (reading - rest) * constants.g


@dataclass(frozen=True)
class Measured:
    """A measured value with its standard uncertainty.

    Attributes
    ----------
    value : float or ndarray
        The best guess. [SI]
    error : float or ndarray
        Standard uncertainty: in about two cases out of three the true value is this near. [SI]
    """

    value: float
    error: float

    @property
    def band(self):
        """Value less and plus its uncertainty."""
        return Band(self.value - self.error, self.value, self.value + self.error)


def standard(interval: Band) -> Measured:
    """Return the value in an interval that holds it 95 times in 100, with its uncertainty.

    Parameters
    ----------
    interval : Band
        Such as of :func:`tapped_speed`. [SI]

    Returns
    -------
    Measured
        The likely value, and half the interval over what makes it hold so many. [SI]

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 6.2: expanded uncertainty. (from memory)

    Examples
    --------
    >>> round(standard(Band(0.922, 1.0, 1.078)).error, 3)
    0.04
    """
    reach = 2 * float(special.ndtri((1 + CONFIDENCE) / 2))
    return Measured(interval.likely, (interval.high - interval.low) / reach)


def well_measured(key: str, value: float) -> Measured:
    """Return a reading of what a reader sets, as far off as a good measurement is.

    Parameters
    ----------
    key : str
        A row of ``data/spread.toml`` that a reader sets.
    value : float
        What was read. [SI]

    Returns
    -------
    Measured
        The reading, of which nine of ten are no further off than the table says. [SI]

    Raises
    ------
    InputError
        If the table has no such row, a reader does not measure it, or it cannot be so.

    References
    ----------
    .. [1] ``data/spread.toml``; each row tells its own source.

    Examples
    --------
    >>> round(well_measured("diameter", 0.016).error, 5)
    0.00029
    """
    row = unknown(key)
    if not row.measured:
        raise InputError(f"{row.name} is not what a reader measures; allowed: what a reader sets")
    value, off = check(**{key: value}), row.measured[1] - row.neutral
    return Measured(value, off * (value if row.kind == "factor" else 1.0) / NINE_OF_TEN)


def mean_angle(angle: Numbers, *, angle_limit: float = 0.0) -> Measured:
    r"""Mean of several readings of an angle, with its standard uncertainty.

    .. math:: u^2 = \frac{1}{n (n - 1)} \sum (a_i - \bar a)^2 + \frac{\Delta^2}{3}

    Parameters
    ----------
    angle : float or ndarray
        The readings, one or more. [rad]
    angle_limit : float, optional
        How far a reading of the scale may be off, either way. [rad]

    Returns
    -------
    Measured
        Mean, and uncertainty from the scatter and from the scale. [rad]

    Raises
    ------
    InputError
        If there is no reading, or a reading or the limit is out of its range.

    Notes
    -----
    One reading cannot show how far readings scatter: only the scale's part is left, and the
    uncertainty comes out too small. Even of five, the scatter is known to a third only. More
    readings shrink the first part; no number of them shrinks the second.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.2 (mean of repeated observations), 4.3.7 (limits: a rectangular
       distribution) and 5.1.2 (adding up). (from memory)

    Examples
    --------
    >>> degree = np.pi / 180
    >>> readings = np.array([18.0, 19.5, 17.5, 18.5, 19.0]) * degree
    >>> found = mean_angle(readings, angle_limit=0.5 * degree)
    >>> round(found.value / degree, 2), round(found.error / degree, 2)
    (18.5, 0.46)
    """
    angle, angle_limit = check(angle=angle, angle_limit=angle_limit)
    angle = np.ravel(angle)
    if not angle.size:
        raise InputError("ramp angle: no readings; allowed: 1 or more")
    scatter = angle.var(ddof=1) / angle.size if angle.size > 1 else 0.0
    return Measured(float(angle.mean()), float(np.sqrt(scatter + angle_limit**2 / 3)))


def ramp_friction(angle: Numbers, *, angle_error: Numbers = 0.0) -> Measured:
    r"""Friction coefficient from the angle of a ramp, with its standard uncertainty.

    .. math:: \mu = \tan a, \qquad u(\mu) = \frac{u(a)}{\cos^2 a}

    Parameters
    ----------
    angle : float or ndarray
        Angle between ramp and level ground. [rad]
    angle_error : float or ndarray, optional
        Standard uncertainty of the angle. [rad]

    Returns
    -------
    Measured
        Friction coefficient and its uncertainty. [1]

    Raises
    ------
    InputError
        If the angle is negative or not below a right angle, or the uncertainty is negative.

    Notes
    -----
    Measured cold, dry and flat. Under a spindle the wood is hot, chars and turns to dust, and may
    grip better or worse: a starting value, not the last word.

    References
    ----------
    .. [1] Forces on an inclined plane; any mechanics textbook.
    .. [2] JCGM 100:2008 (GUM), 5.1.2: law of propagation of uncertainty. (from memory)

    Examples
    --------
    >>> degree = np.pi / 180
    >>> found = ramp_friction(18.5 * degree, angle_error=0.5 * degree)
    >>> round(found.value, 3), round(found.error, 3)
    (0.335, 0.01)
    """
    angle, angle_error = check(angle=angle, angle_error=angle_error)
    slope, error = np.tan(angle), angle_error / np.cos(angle) ** 2
    return Measured(plain(slope), plain(error))


# ---- how heavy the wood is ---------------------------------------------------------------------


def weighed_gravity(
    piece_mass: Numbers,
    *,
    piece_length: Numbers,
    piece_width: Numbers,
    piece_thickness: Numbers = None,
    moisture: Numbers,
    scale_limit: Numbers = 0.0,
    ruler_limit: Numbers = 0.0,
    moisture_error: Numbers = 0.0,
) -> Measured:
    r"""Specific gravity of a piece of wood that was weighed and measured, with its uncertainty.

    .. math::

        G = \frac{m}{\rho_w V (1 + M)}, \qquad
        \left( \frac{u_G}{G} \right)^2 = \frac{\Delta_m^2}{3 m^2}
        + \sum_i \frac{n_i^2 \Delta_l^2}{3 l_i^2} + \left( \frac{u_M}{1 + M} \right)^2 + s^2

    with the volume V of a block of three sides, or of a round stick, whose width counts twice
    (n = 2).

    Parameters
    ----------
    piece_mass : float or ndarray
        What a kitchen scale shows. [kg]
    piece_length : float or ndarray
        Along the piece. [m]
    piece_width : float or ndarray
        Across it: one side of a block, the diameter of a stick. [m]
    piece_thickness : float or ndarray, optional
        The third side of a block; a round stick if left out. [m]
    moisture : float or ndarray
        Mass of water over oven-dry mass. [1]
    scale_limit : float or ndarray, optional
        How far the scale may be off, either way. [kg]
    ruler_limit : float or ndarray, optional
        How far each length may be off, either way. [m]
    moisture_error : float or ndarray, optional
        Standard uncertainty of the moisture. [1]

    Returns
    -------
    Measured
        Specific gravity of the wood that will be rubbed, if it is cut from this piece. [1]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    A stick that tapers, bark and cracks are not seen. One end of a stick is not as heavy as the
    other: s says how far, and stays however well the piece is weighed. Spindle and board of two
    woods want two weighings.

    References
    ----------
    .. [1] USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, ch. 4: specific
       gravity and density. (from memory)
    .. [2] JCGM 100:2008 (GUM), 4.3.7 and 5.1.2. (from memory)

    Examples
    --------
    >>> found = weighed_gravity(
    ...     0.1, piece_length=0.25, piece_width=0.05, piece_thickness=0.02, moisture=0.0
    ... )
    >>> round(found.value, 3), round(found.error, 3)
    (0.4, 0.02)
    """
    piece_mass, moisture = check(piece_mass=piece_mass, moisture=moisture)
    sides = check(piece_length=piece_length, piece_width=piece_width)
    limits = check(scale_limit=scale_limit, ruler_limit=ruler_limit, moisture_error=moisture_error)
    length, width = sides
    if piece_thickness is None:
        volume, of_ruler = np.pi / 4 * length * width**2, [1 / length, 2 / width]
    else:
        thick = check(piece_thickness=piece_thickness)
        volume, of_ruler = length * width * thick, [1 / length, 1 / width, 1 / thick]
    gravity = specific_gravity_of(piece_mass / volume, moisture=moisture)
    scale, ruler, damp = limits
    within = [scale / piece_mass, *(ruler * part for part in of_ruler)]
    parts = [constant("same_stick_scatter"), damp / (1 + moisture)]
    share = np.sqrt(sum(part**2 for part in parts) + sum(part**2 for part in within) / 3)
    return Measured(plain(gravity), plain(gravity * share))


# ---- the bow's pull -----------------------------------------------------------------------------


def tip_pull(
    pull: Numbers,
    *,
    force: Numbers,
    cord_radius: Numbers,
    block_friction: Numbers = default("block_friction"),
    block_radius: Numbers = default("block_radius"),
    block_contact: str = "uniform_pressure",
) -> Numbers:
    r"""Part of the bow's pull that turns the tip, and so makes heat there.

    .. math:: B_{tip} = B - C_b \mu_b F r_b / R

    Parameters
    ----------
    pull : float or ndarray
        Pull on the bow while it moves steadily. [N]
    force : float or ndarray
        Downward force meanwhile. [N]
    cord_radius : float or ndarray
        Radius where the cord wraps. [m]
    block_friction : float or ndarray, optional
        Friction coefficient in the bearing block. [1]
    block_radius : float or ndarray, optional
        Radius of the contact in the bearing block. [m]
    block_contact : str, optional
        How the pressure is spread there, see :func:`fireheat.kit.bowing.torque_coefficient`.

    Returns
    -------
    float or ndarray
        Pull; none where the bearing block alone would take all of it. [N]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Neither the friction nor the shape of the tip is asked for. What else drags on the bow is
    counted as the tip's: a cord that rubs on itself, a knee that touches the spindle.

    References
    ----------
    .. [1] :func:`fireheat.kit.bowing.bow_pull`, turned round.

    Examples
    --------
    >>> round(tip_pull(13.5, force=60.0, cord_radius=0.008), 6)
    10.5
    """
    pull, cord_radius = check(pull=pull, cord_radius=cord_radius)
    block = friction_torque(
        check(force=force),
        friction=check(block_friction=block_friction),
        radius=check(block_radius=block_radius),
        contact=block_contact,
    )
    return plain(np.maximum(pull - block / cord_radius, 0.0))


def pulled_power(
    pull: Numbers,
    *,
    speed: Numbers,
    force: Numbers,
    cord_radius: Numbers,
    block_friction: Numbers = default("block_friction"),
    block_radius: Numbers = default("block_radius"),
) -> Numbers:
    r"""Heat made at the tip, from the bow's pull and its speed.

    .. math:: P = (B - C_b \mu_b F r_b / R) \, v

    Parameters
    ----------
    pull : float or ndarray
        Pull on the bow while it moves steadily. [N]
    speed : float or ndarray
        Average speed of the cord, both ways counted. [m/s]
    force : float or ndarray
        Downward force meanwhile. [N]
    cord_radius : float or ndarray
        Radius where the cord wraps. [m]
    block_friction : float or ndarray, optional
        Friction coefficient in the bearing block. [1]
    block_radius : float or ndarray, optional
        Radius of the contact in the bearing block. [m]

    Returns
    -------
    float or ndarray
        Power. [W]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Where the pull is read in a few slow strokes the wood is cold, and hot wood may grip better or
    worse. A cord that creeps turns the tip more slowly than it runs.

    References
    ----------
    .. [1] Power is force times speed; :func:`tip_pull`.

    Examples
    --------
    >>> round(pulled_power(13.5, speed=1.0, force=60.0, cord_radius=0.008), 6)
    10.5
    """
    turning = tip_pull(
        pull,
        force=force,
        cord_radius=cord_radius,
        block_friction=block_friction,
        block_radius=block_radius,
    )
    return turning * check(speed=speed)


def pulled_friction(
    pull: Numbers,
    *,
    force: Numbers,
    cord_radius: Numbers,
    radius: Numbers = None,
    contact: str = "uniform_wear",
    block_friction: Numbers = default("block_friction"),
    block_radius: Numbers = default("block_radius"),
) -> Numbers:
    r"""Friction coefficient at the tip that the bow's pull tells of.

    .. math:: \mu = \frac{B_{tip} R}{C F r}

    Parameters
    ----------
    pull : float or ndarray
        Pull on the bow while it moves steadily. [N]
    force : float or ndarray
        Downward force meanwhile. [N]
    cord_radius : float or ndarray
        Radius where the cord wraps. [m]
    radius : float or ndarray, optional
        Radius of the tip; the cord's if left out. [m]
    contact : str, optional
        How the pressure is spread at the tip, see
        :func:`fireheat.kit.bowing.torque_coefficient`.
    block_friction : float or ndarray, optional
        Friction coefficient in the bearing block. [1]
    block_radius : float or ndarray, optional
        Radius of the contact in the bearing block. [m]

    Returns
    -------
    float or ndarray
        Friction coefficient; infinite where nobody presses. [1]

    Raises
    ------
    InputError
        If a value is out of its range.

    References
    ----------
    .. [1] :func:`fireheat.kit.bowing.bow_pull`, turned round.

    Examples
    --------
    >>> round(pulled_friction(13.5, force=60.0, cord_radius=0.008), 6)
    0.35
    """
    turning = tip_pull(
        pull,
        force=force,
        cord_radius=cord_radius,
        block_friction=block_friction,
        block_radius=block_radius,
    )
    arm = check(radius=cord_radius if radius is None else radius)
    one = friction_torque(force, friction=1.0, radius=arm, contact=contact)
    with np.errstate(divide="ignore", invalid="ignore"):
        return plain(np.divide(turning * check(cord_radius=cord_radius), one))


# ---- errors handed on ---------------------------------------------------------------------------


@dataclass(frozen=True)
class Propagated(Measured):
    """A value worked out from measured ones, with what each of them adds to its uncertainty.

    Attributes
    ----------
    parts : mapping of str to float
        Share of the variance from each, by name. [1]
    """

    parts: Mapping[str, float]


_STEP = 1e-3  # of the uncertainty, so that the formula is as good as straight


def propagated(formula: Callable[..., float], **given: Measured) -> Propagated:
    r"""Work out a formula from measured values, and its standard uncertainty from theirs.

    .. math:: u^2(y) = \sum_i \left( \frac{\partial y}{\partial x_i} u(x_i) \right)^2

    Parameters
    ----------
    formula : callable
        Takes the values by name.
    **given : Measured
        The values, which err independently of one another. [SI]

    Returns
    -------
    Propagated
        The result. [SI]

    Raises
    ------
    InputError
        If the formula does not take such values.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.1.2, equation 10, the slopes taken by small steps as in 5.1.3,
       note 2. (from memory)

    Examples
    --------
    >>> box = propagated(lambda a, b: a * b, a=Measured(2.0, 0.06), b=Measured(5.0, 0.2))
    >>> box.value, round(box.error, 3), {key: round(part, 2) for key, part in box.parts.items()}
    (10.0, 0.5, {'a': 0.36, 'b': 0.64})
    """
    values = {key: one.value for key, one in given.items()}
    part = {}
    for key, one in given.items():
        step = _STEP * one.error
        ends = (formula(**values | {key: one.value + side * step}) for side in (1, -1))
        up, down = ends
        part[key] = ((up - down) / (2 * _STEP)) ** 2
    variance = sum(part.values())
    shares = {key: size / variance if variance else 0.0 for key, size in part.items()}
    return Propagated(float(formula(**values)), float(np.sqrt(variance)), shares)


def simulated(given: Mapping[str, Measured], *, count: int = 512) -> dict[str, np.ndarray]:
    """Draw what measured values may truly be, many times over, evenly.

    Parameters
    ----------
    given : mapping of str to Measured
        The values, positive all of them, which err independently of one another. [SI]
    count : int, optional
        How many draws.

    Returns
    -------
    dict of str to ndarray
        Draws of each, a normal curve about its value; none goes below a thousandth of it. [SI]

    Raises
    ------
    InputError
        If there are more values than there are rows to draw from, or the count is no whole number.

    References
    ----------
    .. [1] JCGM 101:2008, 6.4.7: propagation of distributions. (from memory)
    .. [2] Additive recurrences, as in :mod:`fireheat.spread`.

    Examples
    --------
    >>> draws = simulated({"pull": Measured(13.5, 0.5), "speed": Measured(1.0, 0.05)})
    >>> [round(float(np.std(draws[key])), 3) for key in draws]
    [0.5, 0.05]
    """
    check_whole("count of draws", count, least=1)
    if len(given) > len(_ROOTS):
        raise InputError(f"values to draw are {len(given)}; allowed: up to {len(_ROOTS)}")
    number, draws = np.arange(1, count + 1), {}
    for (key, one), root in zip(given.items(), _ROOTS, strict=False):
        place = special.ndtri((0.5 + number * root) % 1)
        draws[key] = np.maximum(one.value + one.error * place, 1e-3 * one.value)
    return draws
