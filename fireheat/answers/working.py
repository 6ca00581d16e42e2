r"""How do we know? The working behind each result of the explorer, down to its sources.

A result is one of five: the ember, first smoke, the floor, enough dust, and heat made. Behind each
stand its equations with the values of now put in, the numbers from outside that it hangs on, what
is left out, and whose word the answer hangs on. Equations and numbers are those listed in
``data/working.toml``, which ``tests/tools/find_constants.py`` writes: it moves every number of
every table and looks what moves. What is left out is listed in ``data/left_out.toml``.

Whose word: each number that may lie between two ends is put to its low end and to its high end,
all else in its middle, and the result changes by a factor f. The spread of all of them together is
about the sum of their squares, as for errors that know nothing of one another; so the numbers of
one status have a share of

.. math:: \sum_\mathrm{status} \ln^2 f \, \Big/ \sum_\mathrm{all} \ln^2 f

Numbers without ends are taken as exact and have none. A time beyond an hour counts as an hour.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from ..constants import constants
from ..data import table
from ..ember.ember import heap_mass
from ..ember.ignition import enough_dust
from ..estimates import Estimate
from ..kit.kit import Try
from ..kit.wood import wood, woods
from ..quantities import choose, quantity
from ..spread import Spread, drawn_case, even_shares
from ..unknowns import unknown, unknowns
from ..words import TOO_LONG
from .working_lines import Line, least_dust, lines

RESULTS = ("ember", "smoke", "floor", "dust", "heat")
_ENDS = (0.05, 0.95)  # shares of all cases below the two ends of a row of spread.toml


@dataclass(frozen=True, kw_only=True)
class Row:
    """A number from outside.

    Attributes
    ----------
    key, name : str
        Where it stands, such as ``"constants.water_density"``, and the words a reader sees.
    value : object
        The number, a list where its source prints several; its two ends for what nobody knows.
    unit : str
        Its unit, in ASCII; ``"factor"`` or ``"added"`` for what nobody knows.
    source, status : str
        Where it comes from.
    ends : tuple of float
        The result with this number at its low and at its high end, all else in its middle; empty
        if it has none. [SI]
    """

    key: str
    name: str
    value: Any
    unit: str
    source: str
    status: str
    ends: tuple[float, ...] = ()


class LeftOut(NamedTuple):
    """What the model leaves out, and what would be different with it.

    Attributes
    ----------
    what, truth, size : str
        What it is; where the truth lies from what is said, such as ``"later"``; and by how much.
    """

    what: str
    truth: str
    size: str


@dataclass(frozen=True, kw_only=True)
class Working:
    """The chain behind one result.

    Attributes
    ----------
    which : str
        One of ``RESULTS``.
    number : float
        What is likely: seconds, watts, or how many times the least dust. [SI]
    band : tuple of float
        Its two ends with all we do not know; of dust, with what is not known of a heap. [SI]
    lines : tuple of Line
        From what is set to the result.
    rows : tuple of Row
        All numbers from outside that it hangs on; those that move it most stand first.
    shares : mapping of str to float
        Status to its share of the answer's spread; empty where nothing spreads. [1]
    left_out : tuple of LeftOut
        What is left out.
    """

    which: str
    number: float
    band: tuple[float, float]
    lines: tuple[Line, ...]
    rows: tuple[Row, ...]
    shares: Mapping[str, float]
    left_out: tuple[LeftOut, ...]


def working(
    which: str,
    state: Try,
    *,
    found: Estimate,
    spread: Spread,
    measured: Mapping[str, float | None] = {},
) -> Working:
    """Tell how one result of the explorer comes about.

    Parameters
    ----------
    which : str
        One of ``RESULTS``.
    state : Try
        The try.
    found : Estimate
        What :func:`fireheat.estimates.estimate` says of it.
    spread : Spread
        What :func:`fireheat.spread.spread` says of it.
    measured : mapping of str to float or None, optional
        As in :func:`fireheat.spread.spread`, which had the same. [SI]

    Returns
    -------
    Working
        The chain.

    Raises
    ------
    InputError
        If there is no such result.

    References
    ----------
    .. [1] The squares of independent errors add up: JCGM 100, Evaluation of measurement data, 2008,
       section 5.1. (from memory)

    Examples
    --------
    >>> from fireheat.estimates import estimate
    >>> from fireheat.spread import spread
    >>> found = estimate()
    >>> made = working("heat", Try(), found=found, spread=spread(Try(), found=found))
    >>> [line.result.value for line in made.lines], made.shares
    ([10.5], {'assumption': 1.0})
    """
    choose("result", which, RESULTS)
    swings = _swings(which, state, measured)
    keys = dict.fromkeys([*_listed(which, state, spread), *swings])
    rows = [_row(key, swings.get(key, ())) for key in keys]
    return Working(
        which=which,
        number=float(results(state, found=found, spread=spread)[which][0]),
        band=_band(which, state, spread),
        lines=lines(which, state, found=found),
        rows=tuple(sorted(rows, key=lambda row: -_swing(row.ends))),
        shares=_shares(rows),
        left_out=tuple(
            LeftOut(entry["what"], entry["truth"], entry["size"])
            for entry in table("left_out").values()
            if which in entry["results"]
        ),
    )


def results(state: Try, *, found: Estimate, spread: Spread) -> dict[str, tuple[float, ...]]:
    """Return every number that a result shows: the likely one first, then its bands.

    Where something never comes, the watts that it would take are what is shown.

    Parameters
    ----------
    state : Try
        The try.
    found : Estimate
        What :func:`fireheat.estimates.estimate` says of it.
    spread : Spread
        What :func:`fireheat.spread.spread` says of it.

    Returns
    -------
    dict of str to tuple of float
        By result; times in seconds, dust in kilograms and times the least, heat in watts. [SI]

    Examples
    --------
    >>> from fireheat.estimates import estimate
    >>> from fireheat.spread import spread
    >>> found = estimate()
    >>> shown = results(Try(), found=found, spread=spread(Try(), found=found))
    >>> [round(shown[which][0], 1) for which in RESULTS]
    [56.3, 13.1, 22.3, 6.1, 10.5]
    """
    keep, nothing = enough_dust(state.kit), (0.0, 0.0, 0.0)
    cold, smokeless = np.isinf(found.ember.likely), np.isinf(found.smoke.likely)
    ember, smoke = (*spread.wood, *spread.all), (*spread.smoke_wood, *spread.smoke_all)
    return {
        "ember": (found.ember.likely, *ember, *(found.least_power if cold else nothing)),
        "smoke": (found.smoke.likely, *smoke, *(found.least_smoke_power if smokeless else nothing)),
        "floor": (found.bound, *spread.bound),
        "dust": (keep.times_least.likely, *keep.times_least, state.kit.dust, *keep.mass_least),
        "heat": (found.power, *spread.power),
    }


def choices(state: Try, *, spread: Spread) -> dict[str, str]:
    """Return what of a try decides which numbers matter.

    Parameters
    ----------
    state : Try
        The try.
    spread : Spread
        What :func:`fireheat.spread.spread` says of it.

    Returns
    -------
    dict of str to str
        Wood and tip; whether dust is given in ``"depth"`` or ``"mass"``; whether ember and smoke
        come at the low end of all we do not know, and with wood that soaks up little.

    Examples
    --------
    >>> from fireheat.spread import spread
    >>> choices(Try(), spread=spread(Try()))["ember"]
    'comes'
    """
    kit, words = state.kit, ("never", "comes")
    return {
        "wood": wood(kit.wood).key,
        "contact": kit.contact,
        "dust": "depth" if kit.dust_mass is None else "mass",
        "ember": words[bool(np.isfinite(spread.all.low))],
        "ember_of_wood": words[bool(np.isfinite(spread.wood.low))],
        "smoke": words[bool(np.isfinite(spread.smoke_all.low))],
        "smoke_of_wood": words[bool(np.isfinite(spread.smoke_wood.low))],
    }


# ---- numbers from outside -----------------------------------------------------------------------


def _listed(which, state, spread):
    """List the rows of the table that matter for this try.

    Woods were tried of one continent; the try's own stands where one of those would.
    """
    made = choices(state, spread=spread)
    found = table("working")["rows"][which]
    listed = [key for key, only in found.items() if only.items() <= made.items()]
    own, first = f"woods.{made['wood']}", next((key for key in found if key[:6] == "woods."), None)
    if first and own not in found and made["wood"] in woods():
        listed.insert(sum(key in listed for key in list(found)[: list(found).index(first)]), own)
    return listed


def _row(key: str, ends: tuple[float, ...]) -> Row:
    """Look a number up where it stands."""
    place, _, name = key.partition(".")
    row: Any
    if place == "spread":
        row = unknown(name)
        words, value, unit = row.name, row.band.ends, row.kind
    elif place == "woods":
        row = wood(name)
        words, value, unit = f"specific gravity of {row.name}", row.specific_gravity, "1"
    elif place == "quantities":
        row = quantity(name)
        words, value, unit = row.name, row.default, name
    else:
        row = constants()[name]
        words, value, unit = row.name, row.value, row.unit
    return Row(
        key=key,
        name=words,
        value=value,
        unit=unit,
        source=row.source,
        status=row.status,
        ends=ends,
    )


def _shares(rows):
    """Share out the squares of all swings by status."""
    squares: dict[str, float] = {}
    for row in rows:
        if row.ends:
            squares[row.status] = squares.get(row.status, 0.0) + _swing(row.ends) ** 2
    whole = sum(squares.values())
    return {key: part / whole for key, part in squares.items() if part} if whole else {}


def _band(which, state, spread):
    if which == "dust":
        return enough_dust(state.kit).times_least.ends
    bands = {"ember": spread.all, "smoke": spread.smoke_all, "floor": spread.bound}
    return bands.get(which, spread.power).ends


def _swing(ends):
    """Logarithm of the factor between two ends."""
    return float(abs(np.log(ends[1] / ends[0]))) if ends else 0.0


def _swings(which, state, measured):
    """Return the result with each uncertain number at its two ends, by row."""
    return _dust_swings(state) if which == "dust" else _drawn_swings(which, state, measured)


def _drawn_swings(which, state, measured):
    keys = list(unknowns())
    shares = {key: np.full(2 * len(keys), 0.5) for key in even_shares(1)}
    for turn, key in enumerate(keys):
        shares[key][2 * turn : 2 * turn + 2] = _ENDS
    made = drawn_case(state, shares, measured=measured)
    found = np.minimum(_RESULT[which](made), np.inf if which == "heat" else TOO_LONG)
    ends = zip(keys, np.reshape(found, (-1, 2)).tolist(), strict=True)
    return {f"spread.{key}": tuple(pair) for key, pair in ends if pair[0] != pair[1]}


_RESULT = {
    "ember": lambda made: made.quick()[1],
    "smoke": lambda made: made.quick()[0],
    "floor": lambda made: made.bound,
    "heat": lambda made: made.power,
}


def _dust_swings(state):
    """Return how many times the least dust a heap is, each number with a range at its two ends."""
    mass, found = heap_mass(state.kit.dust), {}
    for key in table("working")["rows"]["dust"]:
        place, _, name = key.partition(".")
        row = constants()[name] if place == "ember" else None
        if row is not None and row.low != row.high:
            found[key] = tuple(mass / least_dust({name: end}) for end in (row.low, row.high))
    return found
