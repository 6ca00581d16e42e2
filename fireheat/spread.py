r"""All we do not know about a try, drawn many times over: what a stopwatch might see.

Each draw moves every row of ``data/spread.toml`` to a value of its own, and asks the shadow
of the march (:mod:`fireheat.heat.shadow`), which errs by less than so many draws do. Draws are no
dice: number i of row j lies above a share of

.. math:: u_{ij} = \left( \tfrac{1}{2} + i \sqrt{p_j} \right) \bmod 1

of all cases, p_j a prime, and :meth:`fireheat.unknowns.Unknown.at` says which value that is. Three
lines of script remake them anywhere. They fill the space evenly, and the same draw is the same
wood, friction and luck for every try; so tries are compared on the same draws.

What a reader sets is taken as true, unless it is named as guessed or measured. How heavy the piece
of wood is that was chosen is drawn, and less widely if it was weighed. A gauge reads the
watts, or the pull that makes them, and so stands for several unknowns at once (``GAUGES``).
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, NamedTuple

import numpy as np

from .bands import Band
from .cases import Case, case
from .estimates import Times, times
from .kit.kit import Try
from .quantities import InputError, Numbers, check_whole, choose, default, plain, quantity
from .unknowns import Unknown, unknown, unknowns

# One for each row of the table, in its order, and one for the luck of the other of two tries.
# Searched for among the primes below 1300: no two rows go together in 256 or 512 draws, and the
# ends of several kits' bands come out as from ten thousands of random draws.
_PRIMES = (
    *(829, 367, 601, 1097, 61, 773, 541, 41, 1039, 31, 29, 211),
    *(191, 1021, 11, 521, 857, 7, 137, 1231, 151, 859, 3),
)
# What one reading tells at once, besides the friction, whose draws are then of its own error.
GAUGES = {
    "pull": ("force", "tip_shape"),  # read cold and slow
    "power": ("force", "speed", "hot_friction", "tip_shape", "creep"),
}
_WEIGHED = ("density",)  # what a reader does not set, and may measure
_EXPONENT, _OTHER_LUCK = "depth_exponent", "luck of the other"
_LOW, _HIGH = 0.05, 0.95
FEWEST_DRAWS = 20  # so that one lies below the low end
_BELOW = 1 - 1e-9  # of the most that a formula takes, so that rounding does not step over it
DRAW_RULES: Mapping[str, Any] = MappingProxyType(
    {"primes": _PRIMES, "ends": (_LOW, _HIGH), "below": _BELOW, "other": _OTHER_LUCK}
)
"""How draws are made, for a copy in another language."""


class Outcomes(NamedTuple):
    """What came of tries, one beside the other.

    Attributes
    ----------
    power : ndarray
        Heat made at the tip. [W]
    bound, smoke, ember : ndarray
        Least time from energy alone, first steady smoke and ember; infinite if never. [s]
    """

    power: np.ndarray
    bound: np.ndarray
    smoke: np.ndarray
    ember: np.ndarray


@dataclass(frozen=True, kw_only=True)
class Spread:
    """Two nested bands of one try, or of many at once: of its wood, and of all we do not know.

    Low and high are the ends between which nine of ten draws lie, never counting as later than
    any time; likely is the march with all as it is set.

    Attributes
    ----------
    wood, all : Band of float or ndarray
        Time of the ember. [s]
    smoke_wood, smoke_all : Band of float or ndarray
        Time of first steady smoke. [s]
    bound : Band of float or ndarray
        Least time from energy alone, of all we do not know. [s]
    power : Band of float or ndarray
        Heat made at the tip, of all we do not know. [W]
    never, never_smokes : float or ndarray
        Share of draws without an ember, and without smoke. [1]
    """

    wood: Band
    all: Band
    smoke_wood: Band
    smoke_all: Band
    bound: Band
    power: Band
    never: Numbers
    never_smokes: Numbers


def settable(state: Try) -> tuple[str, ...]:
    """Name what a reader sets of a try, and may mark as guessed or measured.

    Parameters
    ----------
    state : Try
        The try; one given in grams has a mass of dust, another a burn-in depth.

    Returns
    -------
    tuple of str
        Rows of ``data/spread.toml``.

    Examples
    --------
    >>> settable(Try())
    ('friction', 'force', 'speed', 'burn_in_depth', 'diameter', 'moisture')
    """
    return _settable(_checked("state", state), {})


def spread(
    state: Try,
    *,
    swept: Mapping[str, Numbers] = {},
    guessed: Collection[str] = (),
    measured: Mapping[str, float | None] = {},
    draws: int = 256,
    found: Times | None = None,
) -> Spread:
    """Draw all we do not know about a try, and tell how far its times may lie apart.

    Parameters
    ----------
    state : Try
        The try.
    swept : mapping of str to float or ndarray, optional
        Quantities to use instead, as in :func:`fireheat.cases.case`; each value is a try of its
        own, all else as it is set. [SI]
    guessed : collection of str, optional
        Which of :func:`settable` nobody measured.
    measured : mapping of str to float or None, optional
        Which were measured, ``density`` too, and how well: nine of ten such measurements lie no
        further off than this share of the value, either way; as the table says if None. One of
        ``GAUGES`` says that the try's friction is what the bow's pull, or the watts, ask for. [SI]
    draws : int, optional
        How many; their cost is in proportion.
    found : Times, optional
        What :func:`fireheat.estimates.times` says of the try, where that is known already: its
        march takes longer than all draws.

    Returns
    -------
    Spread
        Bands; of arrays, where quantities were swept.

    Raises
    ------
    InputError
        If a quantity is not one that a reader sets or is named twice, a share is not below one,
        or there are too few draws.

    Notes
    -----
    The wide band is of single tries: luck is in it. 256 draws put the ember's ends mostly within
    3 % of where 2048 do; beyond five minutes, where some draws hardly manage, within 15 %. They put
    the early end of first smoke a tenth too late.

    References
    ----------
    .. [1] Additive recurrences: Kuipers & Niederreiter, Uniform Distribution of Sequences, 1974.
       (from memory)

    Examples
    --------
    >>> ordinary = spread(Try())
    >>> [round(time) for time in ordinary.wood], [round(time) for time in ordinary.all]
    ([41, 56, 98], [25, 56, 247])
    >>> measured = dict.fromkeys(settable(Try()))
    >>> spread(Try(), guessed=settable(Try())).all.high > spread(Try(), measured=measured).all.high
    True
    """
    state = _checked("state", state)
    drawn = _shares(check_whole("draws", draws, least=FEWEST_DRAWS), axes=_axes(swept))
    made = _outcomes(state, _off(state, drawn, guessed, measured, swept), swept)
    own = times(state, **swept) if found is None else found
    return Spread(
        wood=own.ember,
        all=_band(made.ember, own.ember.likely),
        smoke_wood=own.smoke,
        smoke_all=_band(made.smoke, own.smoke.likely),
        bound=_band(made.bound, own.bound),
        power=_band(made.power, own.power),
        never=plain(np.mean(np.isinf(made.ember), axis=0)),
        never_smokes=plain(np.mean(np.isinf(made.smoke), axis=0)),
    )


def tries(
    state: Try,
    count: int,
    *,
    first: int = 1,
    guessed: Collection[str] = (),
    measured: Mapping[str, float | None] = {},
) -> Outcomes:
    """Return single tries, each by somebody else with such a kit: other wood, grip and luck.

    Parameters
    ----------
    state : Try
        The try.
    count : int
        How many.
    first : int, optional
        Which draw to begin with: another, and other people try. In draw 0 each unknown has its
        middle value.
    guessed, measured : optional
        As in :func:`spread`.

    Returns
    -------
    Outcomes
        Arrays of so many.

    Raises
    ------
    InputError
        As :func:`spread`, or if a number is not a whole one.

    Examples
    --------
    >>> tries(Try(), 10).ember.round()
    array([ 54.,  50.,  85., 117.,  69.,  26.,  58.,  85.,  53.,  33.])
    """
    drawn = _shares(
        check_whole("count", count, least=1), first=check_whole("first", first, least=0)
    )
    return _outcomes(_checked("state", state), _off(state, drawn, guessed, measured))


def compare(
    one: Try,
    other: Try,
    *,
    guessed: Collection[str] = (),
    measured: Mapping[str, float | None] = {},
    luck: bool = False,
    draws: int = 256,
    found: tuple[Times, Times] | None = None,
) -> Band:
    """Draw by which factor the ember of another try is later, with the same unknowns in both.

    Parameters
    ----------
    one, other : Try
        The two.
    guessed, measured : optional
        As in :func:`spread`; what is drawn is off by the same on both sides.
    luck : bool, optional
        Whether each has a luck of its own, as a stopwatch would see; else the ratio is of what
        luck evens out.
    draws : int, optional
        How many; their cost is in proportion.
    found : tuple of Times, optional
        What :func:`fireheat.estimates.times` says of the two, where that is known already: nothing
        is marched again then. What another depth would change of it comes from the march's shadow.

    Returns
    -------
    Band of float
        Time of the other over time of the one. Where one never has an ember the ratio is infinite
        or zero, and one where neither has.

    Raises
    ------
    InputError
        As :func:`spread`.

    Notes
    -----
    Does a thinner spindle need the same depth, or the same grams? Nobody knows. So where diameters
    differ and both kits are given by their depth, the depth of each is taken to hold at the
    ordinary diameter, and to go with ``diameter**-p``, p drawn evenly from 0 (the same depth) to 2
    (the same grams); the likely ratio has p = 1. Kits given in grams keep their grams.

    References
    ----------
    .. [1] Common random numbers: Law & Kelton, Simulation Modeling and Analysis, 3rd ed., 2000,
       chapter 11. (from memory)

    Examples
    --------
    A quarter more force:

    >>> ratio = compare(Try(), Try().changed(force=75.0))
    >>> [round(number, 2) for number in ratio]
    [0.52, 0.68, 0.72]
    """
    drawn = _pairs(one, other, guessed, measured, luck, draws)
    return _band(_ratio(*drawn), plain(_ratio(*_likely(one, other, found))))


def pairs(
    one: Try,
    other: Try,
    *,
    measured: Mapping[str, float | None] = {},
    luck: bool = False,
    draws: int = 256,
) -> tuple[np.ndarray, np.ndarray]:
    """Draw the embers of two tries in pairs: the same wood, friction and all else on both sides.

    Parameters
    ----------
    one, other : Try
        The two.
    measured, luck, draws : optional
        As in :func:`compare`, whose ratios are those of these pairs.

    Returns
    -------
    one, other : ndarray
        Times of the embers, pair by pair; infinite if never. [s]

    Raises
    ------
    InputError
        As :func:`spread`.

    Examples
    --------
    >>> one, other = pairs(Try(), Try().changed(force=75.0))
    >>> bool(np.all(other < one))
    True
    """
    return _pairs(one, other, (), measured, luck, draws)


def _pairs(one, other, guessed, measured, luck, draws):
    """Return the embers of both tries in all draws."""
    one, other = _checked("one", one), _checked("other", other)
    shares = _shares(check_whole("draws", draws, least=FEWEST_DRAWS))
    drawn = []
    for state, own_luck in ((one, "luck"), (other, _OTHER_LUCK)):
        own = shares | {"luck": shares[own_luck] if luck else np.full_like(shares["luck"], 0.5)}
        off = _off(state, own, guessed, measured)
        if _depth_in_doubt(one, other):
            off = _doubted_depth(state.kit.diameter, own, off)
        drawn.append(_outcomes(state, off).ember)
    one_drawn, other_drawn = drawn
    return one_drawn, other_drawn


def _doubted_depth(diameter, shares, off):
    """Let the depth hold at the ordinary diameter, and go with a power that nobody knows."""
    wider, ends = diameter / default("diameter"), unknown(_EXPONENT).band
    exponent = ends.low + (ends.high - ends.low) * shares[_EXPONENT]  # even, no heap between
    return off | {"burn_in_depth": off.get("burn_in_depth", 1.0) * wider**-exponent}


def _likely(one, other, found):
    """Return the embers of both tries as they are likely."""
    in_doubt = _depth_in_doubt(one, other)
    for state, known in zip((one, other), found or (None, None), strict=True):
        off = {}
        if in_doubt:
            wider = state.kit.diameter / default("diameter")
            off = {"burn_in_depth": wider ** -unknown(_EXPONENT).band.likely}
        if known is None:
            yield case(state, off=off).ember
        else:
            yield known.ember.likely * (_deeper(state, off) if off else 1.0)


def _deeper(state, off):
    """Tell by which factor an ember is later that is so far off, by the march's shadow."""
    (_, as_set), (_, then) = case(state).quick(), case(state, off=off).quick()
    return then / as_set if np.isfinite(as_set) else 1.0  # never is never, at any depth


def _depth_in_doubt(one, other):
    """Tell whether nobody knows how depth goes from the one diameter to the other."""
    in_depth = one.kit.dust_mass is None and other.kit.dust_mass is None
    return in_depth and one.kit.diameter != other.kit.diameter


def _ratio(one, other):
    """Tell the time of the other over time of the one; none if neither ever."""
    with np.errstate(invalid="ignore"):
        return np.where(np.isinf(one) & np.isinf(other), 1.0, other / one)


def ratios(
    state: Try,
    *,
    swept: Mapping[str, Numbers],
    against: int,
    draws: int = 128,
    found: Times | None = None,
) -> Band:
    """Draw by which factor the ember of each of many tries is later than that of one of them.

    Parameters
    ----------
    state : Try
        The try.
    swept : mapping of str to ndarray
        As in :func:`spread`; along one axis. [SI]
    against : int
        Which of them all are compared with.
    draws : int, optional
        How many; their cost is in proportion.
    found : Times, optional
        What :func:`fireheat.estimates.times` says of them, where that is known already.

    Returns
    -------
    Band of ndarray
        Time of each over time of the one, without luck, all else the same on both sides; infinite
        or zero where one never has an ember, and one where neither has. [1]

    Raises
    ------
    InputError
        As :func:`spread`, or if what is swept is not along one axis, or there is no such one.

    Notes
    -----
    As :func:`compare`, but many at once and by the depth that is set, so not for diameters.

    References
    ----------
    .. [1] As :func:`compare`.

    Examples
    --------
    Lighter wood, the ordinary, and heavier:

    >>> swept = {"specific_gravity": np.array([0.25, 0.32, 0.40])}
    >>> [values.round(2).tolist() for values in ratios(Try(), swept=swept, against=1)]
    [[0.57, 1.0, 1.36], [0.68, 1.0, 1.46], [0.72, 1.0, 1.86]]
    """
    state, count = _checked("state", state), check_whole("draws", draws, least=FEWEST_DRAWS)
    against = check_whole("against", against, least=0)
    if _axes(swept) != 1:
        raise InputError(f"swept is {swept!r}; allowed: values of quantities along one axis")
    many = np.broadcast(*swept.values()).size
    if against >= many:
        raise InputError(f"against is {against!r}; allowed: 0 to {many - 1}")
    shares = _shares(count, axes=1)
    shares["luck"] = np.full_like(shares["luck"], 0.5)
    ember = _outcomes(state, _off(state, shares, (), {}, swept), swept).ember
    likely = times(state, **swept).ember.likely if found is None else found.ember.likely
    return _band(_ratio(ember[:, [against]], ember), plain(_ratio(likely[against], likely)))


def drawn_case(
    state: Try,
    shares: Mapping[str, np.ndarray],
    *,
    swept: Mapping[str, Numbers] = {},
    guessed: Collection[str] = (),
    measured: Mapping[str, float | None] = {},
    depth_in_doubt: bool = False,
) -> Case:
    """Turn a try into cases, one for each set of shares of all that is not known.

    Parameters
    ----------
    state : Try
        The try.
    shares : mapping
        For each row of ``data/spread.toml``, the share of all cases that lies below, between 0 and
        1, as of :func:`even_shares`.
    swept : mapping of str to float or ndarray, optional
        Quantities to use instead, as in :func:`fireheat.cases.case`; beside the shares. [SI]
    guessed, measured : optional
        As in :func:`spread`.
    depth_in_doubt : bool, optional
        Whether the depth is taken to hold at the ordinary diameter, and to go with another one as
        in :func:`compare`: where tries of several diameters are to have the same unknowns.

    Returns
    -------
    Case
        Of arrays as long as the shares.

    Raises
    ------
    InputError
        As :func:`spread`.

    References
    ----------
    .. [1] :func:`fireheat.cases.case`, and the sources in ``data/spread.toml``.

    Examples
    --------
    >>> drawn_case(Try(), even_shares(3)).power.round(1)
    array([10.4, 12.3,  8.7])
    """
    off = _off(_checked("state", state), shares, guessed, measured, swept)
    if depth_in_doubt and state.kit.dust_mass is None:
        off = _doubted_depth(_value(state, "diameter", swept), shares, off)
    return case(state, swept=swept, off=off)


def even_shares(count: int) -> dict[str, np.ndarray]:
    """Return the shares of so many draws, for :func:`drawn_case`.

    Parameters
    ----------
    count : int
        How many.

    Returns
    -------
    dict of str to ndarray
        By row of ``data/spread.toml``. [1]

    Raises
    ------
    InputError
        If that is no whole number.

    Examples
    --------
    >>> even_shares(2)["luck"].round(3).tolist()
    [0.5, 0.809]
    """
    return _shares(check_whole("count", count, least=1))


# ---- one call of the model ----------------------------------------------------------------------


def _outcomes(state, off, swept: Mapping[str, Numbers] = {}):
    """Ask the shadow of the march for all draws at once."""
    made = case(state, swept=swept, off=off)
    return Outcomes(made.power, made.bound, *made.quick())


# ---- how far off each draw is -------------------------------------------------------------------


def _shares(count, *, first=0, axes=0):
    """Return, for each row of the table, shares of all cases that lie below draws."""
    number = np.arange(first, first + count).reshape(-1, *(1,) * axes)
    keys = (*unknowns(), _OTHER_LUCK)
    return {
        key: (0.5 + number * np.sqrt(prime)) % 1 for key, prime in zip(keys, _PRIMES, strict=True)
    }


def _off(state, shares, guessed, measured, swept: Mapping[str, Numbers] = {}):
    """Return how far off each row of the table is in draws, for :func:`fireheat.cases.case`."""
    known = _known(state, guessed, measured, swept)
    told = {key for gauge in GAUGES if gauge in measured for key in GAUGES[gauge]}
    off = {}
    for key, row in unknowns().items():
        if key not in (_EXPONENT, *told) and (row.group != "set" or key in known):
            off[key] = row.at(shares[key], known.get(key))
            if row.kind == "added":
                off[key] = _possible(key, _value(state, key, swept), off[key])
    return off


def _known(state, guessed, measured, swept):
    """Return the bands of what a reader says is not known exactly."""
    allowed = _settable(state, swept)
    listed = isinstance(guessed, Collection) and not isinstance(guessed, str | np.ndarray)
    if not (listed and isinstance(measured, Mapping)):
        raise InputError(
            f"guessed is {guessed!r} and measured {measured!r}; allowed: a list of names, and a"
            " dictionary of names and shares"
        )
    for name in guessed:
        choose("what is guessed", name, allowed)
    for name in measured:
        choose("what is measured", name, (*allowed, *_WEIGHED, *GAUGES))
    read = _unrolled(measured)
    if both := set(guessed) & set(read):
        raise InputError(f"{sorted(both)} guessed and measured; allowed: one of the two")
    bands = {
        key: _measured(state, unknown(key), off, swept)
        for key, off in measured.items()
        if key not in GAUGES
    }
    for gauge in set(GAUGES) & set(measured):
        if measured[gauge] is None:
            raise InputError(f"{gauge} is measured to a share of None; allowed: 0 to below 1")
        bands["friction"] = _measured(state, unknown("friction"), measured[gauge], swept)
    return bands | {key: unknown(key).band for key in guessed}


def _unrolled(measured):
    """List what was read; twice the same is refused."""
    read = [key for key in measured if key not in GAUGES]
    for gauge in GAUGES:
        if gauge in measured:
            read += ["friction", *GAUGES[gauge]]
    if twice := {key for key in read if read.count(key) > 1}:
        raise InputError(f"{sorted(twice)} measured twice; allowed: once, by itself or by a gauge")
    return read


def _settable(state, swept):
    """Name the rows that a reader sets: either depth or mass of the dust."""
    in_grams = "dust_mass" in swept or (
        state.kit.dust_mass is not None and "burn_in_depth" not in swept
    )
    other = "burn_in_depth" if in_grams else "dust_mass"
    return tuple(key for key, row in unknowns().items() if row.group == "set" and key != other)


def _measured(state, row: Unknown, off, swept):
    """Return the band of what was measured to so large a share of its value."""
    if off is None:
        low, high = row.measured
        return Band(low, row.neutral, high)
    if not (isinstance(off, int | float) and 0 <= off < 1):
        raise InputError(
            f"{row.name} is measured to a share of {off!r}; allowed: 0 to below 1, or None"
        )
    if row.kind == "factor":
        return Band(1 / (1 + off), 1.0, 1 + off)
    error = off * _value(state, row.key, swept)
    return Band(-error, 0.0, error)


def _value(state, key, swept):
    """Return what is set, or stands in the table of quantities."""
    values = state.values() | swept
    return np.asarray(values[key]) if key in values else default(key)


def _possible(key, value, added):
    """Keep what is added within what a formula can take: no wood has less than no water."""
    return np.clip(value + added, 0.0, _BELOW * quantity(key).most) - value


# ---- checks and bands ---------------------------------------------------------------------------


def _checked(name, state):
    if not isinstance(state, Try):
        raise InputError(f"{name} is {state!r}; allowed: a Try")
    return state


def _axes(swept):
    return np.broadcast(*swept.values()).ndim if swept else 0


def _band(values, likely) -> Band:
    """Return the ends of nine of ten draws, about the likely value."""
    ordered = np.sort(values, axis=0)
    ends = Band(_end(ordered, _LOW), likely, _end(ordered, _HIGH))
    return ends.about_likely().each(plain)


def _end(ordered, share):
    """Return the value below which a share of ordered draws lies, between two of them by ratio.

    So the ends of a ratio turned over are the ends turned over.
    """
    place = share * len(ordered) - 0.5
    below = int(place)
    part = place - below
    low, high = ordered[below], ordered[below + 1]
    with np.errstate(invalid="ignore"):
        between = low ** (1 - part) * high**part
    return np.where(np.isnan(between), low if part < 0.5 else high, between)
