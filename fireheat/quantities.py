"""Every quantity once: its name, symbol, unit, display units, allowed range, default and source.

The table itself is ``data/quantities.toml``. Sliders, axis labels, error messages and docstrings
all read from it, so that they cannot come to disagree. Inside the library every number is SI;
conversions to what a reader sees come from :mod:`scipy.constants`, none is typed in.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, TypeAlias

import numpy as np

from .constants import constants
from .data import table
from .words import inch_words

METRIC, US = "metric", "us"

# What formulas take and give: a float, or an array that broadcasts. Any, because a float in gives a
# float out and an array an array, which types can say only by writing each signature twice.
Numbers: TypeAlias = Any


class InputError(ValueError):
    """A quantity that cannot be: the message says which, its value, and what is allowed."""


@cache
def _units() -> Mapping[str, tuple[float, float]]:
    """Scale and offset to SI of every unit shown on screen: ``si = shown * scale + offset``."""
    from scipy import constants as c

    zero_fahrenheit = float(c.convert_temperature(0.0, "Fahrenheit", "Kelvin"))
    return {
        "mm": (c.milli, 0.0),
        "cm": (c.centi, 0.0),
        "in": (c.inch, 0.0),
        "ft": (c.foot, 0.0),
        "g": (c.gram, 0.0),
        "kgf": (c.kilogram_force, 0.0),
        "lbf": (c.lbf, 0.0),
        "lb": (c.lb, 0.0),
        "mm/s": (c.milli, 0.0),
        "ft/s": (c.foot, 0.0),
        "ft/s^2": (c.foot, 0.0),
        "kW/m^2": (c.kilo, 0.0),
        "W/in^2": (1 / c.inch**2, 0.0),
        "MJ/m^2": (c.mega, 0.0),
        "kJ/in^2": (c.kilo / c.inch**2, 0.0),
        "%": (c.centi, 0.0),
        "degC": (1.0, c.zero_Celsius),
        "degF": (c.degree_Fahrenheit, zero_fahrenheit),
        "K rise in degC": (1.0, 0.0),
        "K rise in degF": (c.degree_Fahrenheit, 0.0),
        "min": (c.minute, 0.0),
        "deg": (c.degree, 0.0),
        "rpm": (2 * math.pi / c.minute, 0.0),
        "N mm": (c.milli, 0.0),
        "kPa": (c.kilo, 0.0),
        "psi": (c.psi, 0.0),
        "lbf in": (c.lbf * c.inch, 0.0),
    }


@cache
def _conversion(unit: str) -> tuple[float, float]:
    """Scale and offset of one unit; a unit that nobody knows is a slip in the code."""
    if unit in _units():
        return _units()[unit]
    if unit in {row.unit for row in quantities().values()}:
        return 1.0, 0.0
    raise KeyError(f"no unit {unit!r} in the table")


def to_si(value: Numbers, unit: str) -> Numbers:
    """Convert a shown number to SI.

    Parameters
    ----------
    value : float or ndarray
        The number in ``unit``. [any]
    unit : str
        A unit of the table, such as ``"in"``; an SI unit is returned as it is.

    Returns
    -------
    float or ndarray
        The same amount in SI. [SI]

    References
    ----------
    .. [1] scipy.constants, from CODATA and the US customary definitions.

    Examples
    --------
    >>> to_si(0.5, "in")
    0.0127
    """
    scale, offset = _conversion(unit)
    return value * scale + offset


def from_si(value: Numbers, unit: str) -> Numbers:
    """Convert an SI number to the unit shown; the inverse of :func:`to_si`.

    Parameters
    ----------
    value : float or ndarray
        The number in SI. [SI]
    unit : str
        A unit of the table; an SI unit is returned as it is.

    Returns
    -------
    float or ndarray
        The same amount in ``unit``. [any]

    References
    ----------
    .. [1] scipy.constants, from CODATA and the US customary definitions.

    Examples
    --------
    >>> round(from_si(60.0, "lbf"), 2)
    13.49
    """
    scale, offset = _conversion(unit)
    return (value - offset) / scale


_PRINTED = {
    "1": "",
    "1/min": "",
    "kgf": "kg",  # as a luggage scale has it
    "lbf": "lb",
    "lbf in": "lb in",
    "degC": "°C",
    "degF": "°F",
    "K rise in degC": "°C",
    "K rise in degF": "°F",
    "deg": "°",
}


def unit_text(unit: str) -> str:
    """Spell a unit as a reader sees it: ``"degC"`` becomes ``"°C"``, a plain number nothing."""
    return _PRINTED.get(unit, unit.replace("^2", "²").replace("^3", "³"))


@dataclass(frozen=True)
class Quantity:
    """One row of the table.

    Attributes
    ----------
    key, name, symbol : str
        The argument name used in code, the words a reader sees, and the letter in equations.
    unit, metric, us : str
        SI unit (ASCII), and the units shown to metric and to US customary readers.
    sign : str
        ``"positive"``, ``"non-negative"`` or ``"any"``: what a formula can take.
    most : float
        Largest value a formula can take (1 for a fraction).
    low, high : float
        What an ordinary kit, person or day can have; outside it is taken for a slip.
    default : float or None
        The value used when nobody says otherwise.
    slider : tuple of float
        Ends of the slider, SI.
    ends : tuple of str
        Words at the ends of the slider, if it has any.
    steps : mapping
        Step of the slider in each system's unit.
    parts : int
        Parts to the inch in which a US reader measures it; none where it is told in decimals.
    source, status : str
        Where default and range come from; ``published``, ``common practice``, ``assumption``
        or ``memory``.
    """

    key: str
    name: str
    symbol: str
    unit: str
    metric: str
    us: str
    sign: str
    most: float
    low: float
    high: float
    default: float | None
    slider: tuple[float, float]
    ends: tuple[str, ...]
    steps: Mapping[str, float]
    parts: int
    source: str
    status: str

    def shown_unit(self, system: str = METRIC) -> str:
        """Name the unit shown to a reader of this system."""
        return self.us if system == US else self.metric

    def shown(self, value: Numbers, system: str = METRIC) -> Numbers:
        """Convert an SI value to the number a reader of this system sees."""
        return from_si(value, self.shown_unit(system))

    def si(self, value: Numbers, system: str = METRIC) -> Numbers:
        """Convert the number a reader of this system sees to SI."""
        return to_si(value, self.shown_unit(system))

    def label(self, system: str = METRIC) -> str:
        """Name with unit, for a slider or an axis."""
        unit = unit_text(self.shown_unit(system))
        name = self.name[0].upper() + self.name[1:]
        return f"{name} ({unit})" if unit else name

    def digits(self, system: str = METRIC) -> int:
        """Decimals that the slider's step can tell apart."""
        step = self.steps.get(system)
        return 1 if step is None else max(0, -math.floor(math.log10(step) + 1e-9))

    def text(self, value: float, system: str = METRIC) -> str:
        """Spell a value with its unit, to the slider's digits."""
        unit = unit_text(self.shown_unit(system))
        number = f"{self.shown(value, system):z.{self.digits(system)}f}"
        if self.in_parts(system):
            number = inch_words(self.shown(value, system), self.parts)
        return f"{number}{unit}" if unit == "°" else f"{number} {unit}".rstrip()

    def in_parts(self, system: str = METRIC) -> bool:
        """Tell whether a reader of this system sees fractions of an inch."""
        return system == US and self.parts > 0

    def allowed(self) -> str:
        """Words for what a formula can take."""
        words = {"positive": "above 0", "non-negative": "0 or more", "any": "any finite number"}
        text = words[self.sign]
        if math.isfinite(self.most):
            text += f", up to {self.most:g}"
        return text + (f" {self.unit}" if self.unit != "1" else "")


# What a row that points at another row takes from there, and must not say for itself.
_FROM_ROW = ("default", "range", "slider", "ends", "step", "source", "status")
_FROM_CONSTANT = ("default", "source", "status")


@cache
def quantities() -> Mapping[str, Quantity]:
    """Return the whole table, by key."""
    entries = table("quantities")
    return {key: read_row(key, entries) for key in entries}


def read_row(key: str, entries: Mapping[str, Mapping[str, Any]]) -> Quantity:
    """Read one row of a table, with what it takes from another row or from a constant.

    Raises
    ------
    KeyError
        If what it points at is not there, itself points at another row, or is said twice.
    """
    entry = _taken(key, "same_as", _FROM_ROW, entries[key], entries)
    entry = _taken(key, "constant", _FROM_CONSTANT, entry, _as_entries())
    unit = entry["unit"]
    low, high = entry.get("range", (-math.inf, math.inf))
    metric = entry.get("metric", unit)
    steps = dict(entry.get("step", {}))
    parts = 0
    if isinstance(steps.get(US), str):  # a mark of a rule, such as "1/32"
        parts = int(steps[US].partition("/")[2] or 1)
        steps[US] = 1 / parts
    return Quantity(
        key=key,
        name=entry["name"],
        symbol=entry["symbol"],
        unit=unit,
        metric=metric,
        us=entry.get("us", metric),
        sign=entry["sign"],
        most=entry.get("most", math.inf),
        low=low,
        high=high,
        default=entry.get("default"),
        slider=tuple(entry.get("slider", (low, high))),
        ends=tuple(entry.get("ends", ())),
        steps=steps,
        parts=parts,
        source=entry["source"],
        status=entry["status"],
    )


@cache
def _as_entries() -> Mapping[str, Mapping[str, Any]]:
    """Constants, spelled as rows of this table."""
    return {
        key: {"default": row.value, "source": row.source, "status": row.status}
        for key, row in constants().items()
    }


def _taken(
    key: str,
    pointer: str,
    fields: tuple[str, ...],
    entry: Mapping[str, Any],
    known: Mapping[str, Mapping[str, Any]],
) -> Mapping[str, Any]:
    """Add to a row what it takes from the one its pointer names."""
    if pointer not in entry:
        return entry
    other = known.get(entry[pointer])
    if other is None or "same_as" in other:
        raise KeyError(f"{key}: {pointer} = {entry[pointer]!r} names no row with values of its own")
    if twice := [field for field in fields if field in entry]:
        raise KeyError(f"{key} says itself what it takes from {entry[pointer]}: {twice}")
    wanted = (*fields, "constant") if pointer == "same_as" else fields
    return {**{field: other[field] for field in wanted if field in other}, **entry}


def quantity(key: str) -> Quantity:
    """Look up one quantity by its key."""
    return quantities()[key]


def default(key: str) -> float:
    """Return the default of a quantity, SI."""
    value = quantity(key).default
    if value is None:
        raise KeyError(f"{key} has no default in the table")
    return value


def _numbers(row: Quantity, value):
    """Turn a value into a float or an array of floats, or say why it cannot be."""
    # Adding nothing makes 0.0 of -0.0, whose inverse would be minus infinity.
    if type(value) is float:  # most are, and NumPy takes ten times as long to find out
        return value + 0.0
    try:
        array = np.asarray(value)
    except ValueError:  # a list of lists that are not equally long
        array = np.asarray(None)
    if array.dtype.kind not in "iuf" or isinstance(value, np.ma.MaskedArray):
        unit = "" if row.unit == "1" else f" in {row.unit}"
        raise InputError(
            f"{row.name} must be a number{unit}, not {value!r}; allowed: {row.allowed()}"
        )
    array = array.astype(float) + 0.0
    return float(array) if array.ndim == 0 else array


def _refuse(row: Quantity, bad, allowed: str, hint: str = "") -> None:
    unit = "" if row.unit == "1" else f" {row.unit}"
    raise InputError(f"{row.name} is {bad:g}{unit}; allowed: {allowed}.{hint}")


def choose(name: str, value: Any, allowed: Iterable[str]) -> str:
    """Check that a word is one of those allowed, and return it.

    Parameters
    ----------
    name : str
        What is chosen.
    value : object
        What was given for it.
    allowed : iterable of str
        The words, in the order they are told.

    Raises
    ------
    InputError
        If it is none of them.

    Examples
    --------
    >>> choose("law", "cubic", ("hill", "linear"))
    Traceback (most recent call last):
    ...
    fireheat.quantities.InputError: law is 'cubic'; allowed: hill, linear
    """
    words = list(allowed)
    if not (isinstance(value, str) and value in words):
        raise InputError(f"{name} is {value!r}; allowed: {', '.join(words)}")
    return value


def check_whole(name: str, value: Any, *, least: int) -> int:
    """Check that a count is a whole number.

    Parameters
    ----------
    name : str
        What is counted.
    value : object
        What was given for it.
    least : int
        The fewest there can be.

    Raises
    ------
    InputError
        If it is no whole number, or less.

    Examples
    --------
    >>> check_whole("number of rings", 2.5, least=1)
    Traceback (most recent call last):
    ...
    fireheat.quantities.InputError: number of rings is 2.5; allowed: a whole number, 1 or more
    """
    whole = isinstance(value, int | np.integer) and not isinstance(value, bool)
    if not (whole and value >= least):
        raise InputError(f"{name} is {value!r}; allowed: a whole number, {least} or more")
    return int(value)


def plain(value: Numbers) -> Numbers:
    """Turn a NumPy number into a plain float, so that notebooks print it plainly; leave arrays.

    Examples
    --------
    >>> plain(np.float64(2.5))
    2.5
    """
    return value if np.ndim(value) else float(value)


def store_floats(made: object) -> None:
    """Store the checked numbers of a frozen dataclass as floats: an array has no hash.

    Arrays of one or more axes, words and other objects stay as they are.
    """
    for name, value in vars(made).items():
        if isinstance(value, int | float | np.number | np.ndarray):
            object.__setattr__(made, name, plain(value))


def check(**values: Any) -> Any:
    """Check what a formula is given: numbers, finite, of the right sign.

    Parameters
    ----------
    **values : float or ndarray
        Keyed by the quantity's name in the table. [SI]

    Returns
    -------
    float, ndarray or list of these
        The values as floats or float arrays, in the order given. [SI]

    Raises
    ------
    InputError
        If a value is not a number, not finite, or outside what the formula can take.

    Examples
    --------
    >>> check(force=60, radius=0.0065)
    [60.0, 0.0065]
    """
    checked = []
    for key, value in values.items():
        row = quantity(key)
        number = _numbers(row, value)
        inside = (abs(number) < math.inf) & (number <= row.most)
        if row.sign != "any":
            inside = inside & ((number > 0) if row.sign == "positive" else (number >= 0))
        if inside is not True and not np.all(inside):
            _refuse(row, np.extract(~np.asarray(inside), number)[0], row.allowed())
        checked.append(number)
    return checked[0] if len(checked) == 1 else checked


def check_single(**values: Any) -> list[float]:
    """Check as :func:`check` does, and that each value is one number.

    Parameters
    ----------
    **values : float
        Keyed by the quantity's name in the table. [SI]

    Returns
    -------
    list of float
        The values, in the order given. [SI]

    Raises
    ------
    InputError
        If a value is not one finite number of the right sign.

    Examples
    --------
    >>> check_single(force=[60.0, 70.0])
    Traceback (most recent call last):
    ...
    fireheat.quantities.InputError: downward force must be one number, not [60.0, 70.0]; \
allowed: 0 or more N
    """
    checked = []
    for key, value in values.items():
        number = check(**{key: value})
        if not isinstance(number, float):
            row = quantity(key)
            raise InputError(
                f"{row.name} must be one number, not {value!r}; allowed: {row.allowed()}"
            )
        checked.append(number)
    return checked


def check_or_infinite(key: str, value: Numbers) -> Numbers:
    """Check what may be infinite as well, such as the time of what never comes.

    Parameters
    ----------
    key : str
        The quantity's name in the table.
    value : float or ndarray
        The quantity. [SI]

    Returns
    -------
    float or ndarray
        The value as a float or float array. [SI]

    Raises
    ------
    InputError
        If a value is neither infinite nor what :func:`check` lets through.

    Examples
    --------
    >>> check_or_infinite("time", [1, math.inf])
    array([ 1., inf])
    """
    number = _numbers(quantity(key), value)
    check(**{key: np.extract(np.not_equal(number, math.inf), number)})
    return number


def check_kelvin(key: str, value: Numbers, low: float, high: float = math.inf) -> Numbers:
    """Check a temperature against a range of its own, so that degrees Celsius are caught.

    Parameters
    ----------
    key : str
        The quantity's name in the table.
    value : float or ndarray
        The temperature. [K]
    low, high : float
        The range. [K]

    Returns
    -------
    float or ndarray
        The temperature as a float or float array. [K]

    Raises
    ------
    InputError
        If a value is not a finite number in the range.

    Examples
    --------
    >>> check_kelvin("temperature", 20.0, 233.15)
    Traceback (most recent call last):
    ...
    fireheat.quantities.InputError: temperature is 20 K; allowed: 233.15 K or more. \
Temperatures are in kelvin: 20 °C is 293.15 K.
    """
    number = check(**{key: value})
    hair = 1e-9  # 273.15 - 40 is a rounding below 233.15
    bad = np.extract((number < low - hair) | (number > high + hair), number)
    if bad.size:
        allowed = f"{low:g} to {high:g} K" if math.isfinite(high) else f"{low:g} K or more"
        raise InputError(
            f"{quantity(key).name} is {bad[0]:g} K; allowed: {allowed}."
            " Temperatures are in kelvin: 20 °C is 293.15 K."
        )
    return number


def check_ordinary(**values: Any) -> None:
    """Check that single values are what an ordinary kit, person or day can have.

    Stricter than :func:`check`: it catches a diameter in inches passed as metres, or a humidity
    of 50 meant as a percentage.

    Parameters
    ----------
    **values : float
        Keyed by the quantity's name in the table. [SI]

    Raises
    ------
    InputError
        If a value is not one finite number inside the table's range.

    Examples
    --------
    >>> check_ordinary(relative_humidity=50)
    Traceback (most recent call last):
    ...
    fireheat.quantities.InputError: relative humidity is 50; allowed: 0 to 0.99 (0 % to 99 %). \
Did you mean 50 %, which is 0.5?
    """
    for key, value in values.items():
        row = quantity(key)
        number = _numbers(row, value)
        if not isinstance(number, float):
            raise InputError(
                f"{row.name} must be one number, not {value!r}; allowed: {_ordinary(row)}"
            )
        if not (math.isfinite(number) and row.low <= number <= row.high):
            _refuse(row, number, _ordinary(row), _slip(row, number))


def _ordinary(row: Quantity) -> str:
    """Words for the ordinary range, in SI and in both display units where they differ."""
    spell = "{:.3g} {}".format
    unit = "" if row.unit == "1" else f" {row.unit}"
    shown = [
        f"{spell(from_si(row.low, u), unit_text(u))} to {spell(from_si(row.high, u), unit_text(u))}"
        for u in dict.fromkeys((row.metric, row.us))
        if u != row.unit
    ]
    return f"{row.low:g} to {row.high:g}{unit}" + (f" ({'; '.join(shown)})" if shown else "")


def _slip(row: Quantity, number: float) -> str:
    """Guess the units a reader may have had in mind: those that make the number ordinary."""
    si = "" if row.unit == "1" else f" {row.unit}"
    meant = [
        f"{number:g} {unit_text(unit)}, which is {to_si(number, unit):.4g}{si}"
        for unit in dict.fromkeys((row.metric, row.us))
        if unit != row.unit and row.low <= to_si(number, unit) <= row.high
    ]
    return f" Did you mean {', or '.join(meant)}?" if meant else ""
