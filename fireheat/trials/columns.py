"""The columns of a log of timed tries: what each is called, in which units, and what a try holds.

A log is plain text that any spreadsheet opens: one line of headings with their units, one line a
try. What is not known stays empty; only the time and how the try ended must be there.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Any

from ..quantities import InputError, check_ordinary, quantity

AN_EMBER, GAVE_UP = "ember", "gave up"
# How people write the units of the table.
UNITS = {
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "in": ("in", "inch", "inches", '"', "″", "''"),
    "ft": ("ft", "foot", "feet"),
    "N": ("n", "newton", "newtons"),
    "lbf": ("lb", "lbs", "lbf", "pound", "pounds"),
    "kgf": ("kg", "kgf", "kilo", "kilos"),
    "g": ("g", "gram", "grams"),
    "%": ("%", "percent", "per cent"),
    "s": ("s", "sec", "secs", "second", "seconds"),
    "min": ("min", "mins", "minute", "minutes"),
}
_LENGTHS, _LONGER = ("mm", "cm", "in"), ("cm", "mm", "m", "in", "ft")
_FORCES, _TIMES = ("N", "lbf", "kgf"), ("s", "min")


@dataclass(frozen=True)
class Column:
    """One column of a log.

    Attributes
    ----------
    key : str
        The field of a :class:`TimedTry`.
    heading : str
        What a new log calls it, without its unit.
    units : tuple of str
        Units it may have, that of a new log first; none for words and plain numbers.
    row : str
        The quantity whose ordinary range its numbers lie in; empty for words.
    usual : tuple of float
        Between which most tries lie; beyond, one is read and pointed out. [SI]
    others : tuple of str
        What else people call it.
    """

    key: str
    heading: str
    units: tuple[str, ...] = ()
    row: str = ""
    usual: tuple[float, ...] = ()
    others: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """Heading with its unit, as a new log has it."""
        return f"{self.heading} ({self.units[0]})" if self.units else self.heading


COLUMNS = (
    Column("date", "date", others=("day", "evening")),
    Column("learner", "learner", others=("code", "who")),
    Column("wood", "wood"),
    Column(
        *("diameter", "spindle diameter", _LENGTHS, "diameter", (0.006, 0.032)),
        ("diameter", "spindle"),
    ),
    Column(
        *("force", "downward force", _FORCES, "force", (20.0, 200.0)),
        ("force", "press", "pressing"),
    ),
    Column("pull", "bow pull", _FORCES, "pull", (3.0, 100.0), ("pull",)),
    Column("stroke_length", "stroke length", _LONGER, "stroke_length", (0.1, 1.2)),
    Column(
        *("strokes_per_minute", "strokes a minute", (), "strokes_per_minute", (30.0, 300.0)),
        ("strokes per minute", "strokes/min"),
    ),
    Column("friction", "friction", (), "friction", (0.1, 0.8), ("friction coefficient",)),
    Column("moisture", "moisture", ("%",), "moisture", (0.03, 0.2), ("wood moisture",)),
    Column(
        *("burn_in_depth", "depth worn", _LENGTHS, "burn_in_depth", (0.001, 0.012)),
        ("burn-in depth", "depth"),
    ),
    Column("dust_mass", "dust", ("g",), "dust_mass", (5e-5, 2e-3), ("mass of dust", "dust mass")),
    Column("smoke_time", "first smoke", _TIMES, "smoke_time", (2.0, 150.0), ("smoke",)),
    Column("time", "time", _TIMES, "give_up", (8.0, 400.0), ("ember time", "seconds")),
    Column("ended", "ended with", others=("end", "result", "outcome")),
    Column("note", "note", others=("notes", "remark", "remarks")),
)
NEEDED = ("time", "ended")
WORDS = ("date", "learner", "wood", "note")


@dataclass(frozen=True, kw_only=True)
class TimedTry:
    """One try as it was timed; what nobody measured is None.

    Attributes
    ----------
    time : float
        When the ember was there, or the try was given up. [s]
    ended : str
        ``"ember"`` or ``"gave up"``.
    diameter : float or None
        Of the spindle. [m]
    force : float or None
        Downward force. [N]
    pull : float or None
        Of the bow. [N]
    stroke_length : float or None
        Of one pass. [m]
    strokes_per_minute : float or None
        There and back are two. [1/min]
    friction : float or None
        On a ramp. [1]
    moisture : float or None
        Of the wood. [1]
    burn_in_depth : float or None
        How much shorter spindle and board got, together. [m]
    dust_mass : float or None
        Dry dust. [kg]
    smoke_time : float or None
        First steady smoke. [s]
    date, learner, wood, note : str
        As they were written. A learner is a code, such as L01.

    Raises
    ------
    InputError
        If a number is not what an ordinary try can have, or a word could be taken for a formula.

    Examples
    --------
    >>> one = TimedTry(time=75.0, ended="ember", stroke_length=0.5, strokes_per_minute=120.0)
    >>> one.speed, one.observed
    (1.0, True)
    """

    time: float
    ended: str
    diameter: float | None = None
    force: float | None = None
    pull: float | None = None
    stroke_length: float | None = None
    strokes_per_minute: float | None = None
    friction: float | None = None
    moisture: float | None = None
    burn_in_depth: float | None = None
    dust_mass: float | None = None
    smoke_time: float | None = None
    date: str = ""
    learner: str = ""
    wood: str = ""
    note: str = ""

    def __post_init__(self):
        if not isinstance(self.ended, str) or self.ended not in (AN_EMBER, GAVE_UP):
            raise InputError(f"ended is {self.ended!r}; allowed: {AN_EMBER}, {GAVE_UP}")
        for column in COLUMNS:
            value = getattr(self, column.key)
            if column.row and (value is not None or column.key in NEEDED):
                _check_number(column, value)
                object.__setattr__(self, column.key, float(value))
            elif column.key in WORDS:
                _check_word(column.key, value)
        hair = 1e-6 * self.time  # a third of a minute, to nine digits
        if self.smoke_time is not None and self.smoke_time > self.time + hair:
            raise InputError(
                f"first smoke after {self.smoke_time:g} s is later than the time {self.time:g} s;"
                " allowed: smoke before the end of the try"
            )

    @property
    def observed(self) -> bool:
        """Whether it ended with an ember."""
        return self.ended == AN_EMBER

    @property
    def speed(self) -> float | None:
        """Average speed of the cord, if strokes were counted and measured. [m/s]."""
        if self.stroke_length is None or self.strokes_per_minute is None:
            return None
        return self.stroke_length * self.strokes_per_minute / 60


def _check_number(column, value):
    if isinstance(value, bool):
        raise InputError(f"{column.key} is {value!r}; allowed: a number")
    try:
        check_ordinary(**{column.row: value})
    except InputError as refusal:
        if column.row == column.key:
            raise
        raise InputError(str(refusal).replace(quantity(column.row).name, column.heading)) from None


def _check_word(key, value):
    if not isinstance(value, str) or re.search(r"[\x00-\x08\x0b\x0c\x0e-\x1f]", value):
        raise InputError(f"{key} is {value!r}; allowed: words")
    if value.lstrip()[:1] in ("=", "+", "-", "@", "#") and value.strip():
        raise InputError(
            f"{key} is {value!r}; allowed: words that begin with a letter or a digit, because"
            " spreadsheets take this for a formula"
        )


def fit_columns(tries: Sequence[TimedTry], causes: Sequence[str]) -> tuple[dict[str, Any], int]:
    """Take from tries what a fit of these causes needs.

    Parameters
    ----------
    tries : sequence of TimedTry
        The tries.
    causes : sequence of str
        Fields of a try, or ``"speed"``.

    Returns
    -------
    given : dict
        ``times``, ``observed`` and ``settings``, as
        :func:`fireheat.trials.exponents.club_exponents` takes them.
    left_out : int
        How many tries lack one of the causes.

    Raises
    ------
    InputError
        If there is no such field.

    Examples
    --------
    >>> tries = (TimedTry(time=30, ended="ember", force=60), TimedTry(time=90, ended="gave up"))
    >>> fit_columns(tries, ("force",))
    ({'times': [30.0], 'observed': [True], 'settings': {'force': [60.0]}}, 1)
    """
    known = {row.name for row in fields(TimedTry)} | {"speed"}
    if strange := [cause for cause in causes if cause not in known]:
        raise InputError(f"a try has no {strange}; allowed: {', '.join(sorted(known))}")
    kept = [one for one in tries if all(getattr(one, cause) is not None for cause in causes)]
    given = {
        "times": [one.time for one in kept],
        "observed": [one.observed for one in kept],
        "settings": {cause: [getattr(one, cause) for one in kept] for cause in causes},
    }
    return given, len(tries) - len(kept)
