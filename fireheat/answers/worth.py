r"""What would be worth measuring next: who makes how much of the doubt about the ember's time.

Of all that is not known each group's *total* index is the share of the variance of ln t that would
be left if all else were known, and so counts what it does together with others (Homma & Saltelli):

.. math:: S_i = \frac{\mathrm{E}[(f(A) - f(A^{(i)}_B))^2]}{2 \, \mathrm{Var} f}

with f at draws A, and at the same draws with only the group i from other draws B (Jansen). A time
that is never counts as an hour, so that it has a place among the others: nobody bows that long.
What a reader sets and did not measure is taken as guessed here.
"""

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from ..bands import Band
from ..estimates import times
from ..kit.kit import Try
from ..my_kit import MyKit
from ..quantities import check_whole
from ..spread import GAUGES, drawn_case, settable, spread
from ..unknowns import unknown, unknowns
from ..words import TOO_LONG

_DRAWS = 1024
_MATTERS = 0.05  # less than half of one of ten parts is not worth a measurement
_SEED = 1963  # of NumPy's generator; the numbers are the same each time
WOOD, OPEN, LUCK = "wood", "open", "luck"


class Doubt(NamedTuple):
    """One group of unknowns, and its share of the doubt.

    Attributes
    ----------
    key : str
        What a reader sets, or ``"wood"``, ``"open"`` or ``"luck"``; ``"pull"`` or ``"power"`` where
        that was measured.
    share : float
        Total index: share of the variance of ln t. Shares add up to a little more than one. [1]
    state : str
        ``"guessed"``, ``"measured"``, or ``"unknown"`` to anybody.
    """

    key: str
    share: float
    state: str


def total_indices(
    answer: Callable[[np.ndarray], np.ndarray], groups: Mapping[str, list[int]], *, draws: int
) -> dict[str, float]:
    """Tell the total Sobol index of groups of inputs, each input even between 0 and 1.

    Parameters
    ----------
    answer : callable
        Takes an array of inputs by draws, and gives back one number for each draw.
    groups : mapping of str to list of int
        Which inputs belong together; every input belongs to one group.
    draws : int
        How many; the answer is asked for that many times one more than there are groups.

    Returns
    -------
    dict of str to float
        Index of each group; zero where nothing varies. [1]

    Raises
    ------
    InputError
        If the number of draws is no whole number.

    References
    ----------
    .. [1] Jansen, Analysis of variance designs for model output, Computer Physics Communications
       117 (1999) 35; Homma & Saltelli, Reliability Engineering and System Safety 52 (1996) 1.
       (both from memory)

    Examples
    --------
    A sum of two, one three times as steep: nine tenths are its own.

    >>> def line(x):
    ...     return 3 * x[0] + x[1]
    >>> found = total_indices(line, {"steep": [0], "flat": [1]}, draws=4096)
    >>> {key: round(share, 2) for key, share in found.items()}
    {'steep': 0.9, 'flat': 0.1}
    """
    check_whole("number of draws", draws, least=1)
    inputs = sum(map(len, groups.values()))
    one, other = np.random.default_rng(_SEED).random((2, inputs, draws))
    mixed = []
    for members in groups.values():
        changed = one.copy()
        changed[members] = other[members]
        mixed.append(changed)
    found = answer(np.concatenate([one, *mixed], axis=1)).reshape(-1, draws)
    variance = float(np.var(found))  # of all: each is a draw of its own
    shares = np.mean((found[1:] - found[0]) ** 2, axis=1) / (2 * variance or 1.0)
    return dict(zip(groups, shares.tolist(), strict=True))


def doubts(state: Try, mine: MyKit | None = None) -> tuple[Doubt, ...]:
    """Tell who makes how much of the doubt about the ember of a try, the greatest first.

    Parameters
    ----------
    state : Try
        The try, my kit in it if there is one.
    mine : MyKit, optional
        What was measured; all that a reader sets is a guess if left out.

    Returns
    -------
    tuple of Doubt
        All of them; with shares of nothing where no ember ever comes, or nothing varies.

    Examples
    --------
    >>> [one.key for one in doubts(Try())[:3]]
    ['open', 'friction', 'force']
    """
    return _doubts(state, tuple(sorted((mine or MyKit()).measured.items())))


@lru_cache(maxsize=64)
def _doubts(state, measured):
    measured = dict(measured)
    guessed = _guessed(state, measured)
    groups = _groups(guessed, measured)
    rows = list(unknowns())

    def answer(shares):
        made = drawn_case(
            state, dict(zip(rows, shares, strict=True)), guessed=guessed, measured=measured
        )
        return np.log(np.minimum(made.quick()[1], TOO_LONG))

    places = {key: [rows.index(row) for row in members] for key, members in groups.items()}
    rest = [place for place in range(len(rows)) if not any(place in p for p in places.values())]
    found = total_indices(answer, places | {"": rest}, draws=_DRAWS)
    kinds = dict.fromkeys(guessed, "guessed") | dict.fromkeys(measured, "measured")
    made = [Doubt(key, found[key], kinds.get(key, "unknown")) for key in groups]
    return tuple(sorted(made, key=lambda one: -one.share))


def _groups(guessed, measured):
    """Name the rows of each group. A gauge's own error is drawn where the friction's is."""
    groups = {key: [key] for key in guessed}
    groups |= {key: ["friction" if key in GAUGES else key] for key in measured}
    for row in unknowns().values():
        if row.group != "set" and row.key not in measured:
            groups.setdefault(row.group, []).append(row.key)
    return groups


def doubted(state: Try, mine: MyKit) -> Band:
    """Tell when the ember of a try comes, where all that was not measured is a guess.

    Parameters
    ----------
    state : Try
        The try with my kit in it.
    mine : MyKit
        What was measured.

    Returns
    -------
    Band of float
        Of all we do not know. [s]

    Examples
    --------
    >>> [round(time) for time in doubted(Try(), MyKit())]
    [16, 56, 1024]
    """
    measured = mine.measured
    guessed = _guessed(state, measured)
    return spread(state, guessed=guessed, measured=measured, found=_likely(state)).all


@lru_cache(maxsize=8)  # a list of readings asks for the same try over and over
def _likely(state):
    return times(state)


def each_worth(state: Try, mine: MyKit) -> dict[str, float]:
    """Tell what each reading did to the ember's time, all guessed that was not measured.

    Parameters
    ----------
    state : Try
        The try with my kit in it.
    mine : MyKit
        What was measured.

    Returns
    -------
    dict of str to float
        By reading: how long the band of all we do not know is, over that without this reading, in
        seconds, never counting as an hour; one where there is no band. [1]

    Examples
    --------
    >>> from fireheat.person.measuring import Measured
    >>> mine = MyKit(friction=Measured(0.35, 0.01), diameter=Measured(0.016, 0.0003))
    >>> {key: round(share, 1) for key, share in each_worth(mine.state(Try()), mine).items()}
    {'friction': 0.4, 'diameter': 0.9}
    """
    now = _length(doubted(state, mine))
    without = {key: _length(doubted(state, mine.without(key))) for key in mine.readings}
    return {key: now / then if then else 1.0 for key, then in without.items()}


def _length(band):
    """Tell how long a band of times is, never counting as an hour. [s]."""
    return float(np.ptp(np.minimum(band.ends, TOO_LONG)))


def _guessed(state, measured):
    """List what a reader sets, and neither measured nor told by a gauge."""
    told = {key for gauge in GAUGES if gauge in measured for key in ("friction", *GAUGES[gauge])}
    return [key for key in settable(state) if key not in told | set(measured)]


def parts_words(share: float) -> str:
    """Spell a share of the doubt in parts of ten.

    Examples
    --------
    >>> parts_words(0.36), parts_words(0.03), parts_words(0.97)
    ('4 of 10 parts', 'less than 1 of 10 parts', 'nearly all')
    """
    tenths = round(10 * share)
    if tenths < 1:
        return "less than 1 of 10 parts"
    return f"{tenths} of 10 parts" if tenths < 10 else "nearly all"


def next_words(found: tuple[Doubt, ...]) -> str:
    """Say what would be worth measuring next, and what that would be good for.

    Examples
    --------
    >>> next_words(doubts(Try()))
    'Of what you can measure, friction matters most: it makes 4 of 10 parts of the doubt. Measure \
it on a ramp (page 01).'
    """
    left = [one for one in found if one.state == "guessed"]
    if not any(one.share for one in found):
        return "As it is set no ember comes, whatever you measure: change something first."
    if not left:
        return "All is measured. What is left are the wood, luck, and what nobody knows."
    best = unknown(left[0].key)
    if left[0].share < _MATTERS:
        return "What you could still measure hardly matters: the rest is what nobody knows."
    return (
        f"Of what you can measure{' still' * (len(left) < len(_settable(found)))}, {best.name}"
        f" matters most: it makes {parts_words(left[0].share)} of the doubt. Measure it {best.how}."
    )


def _settable(found):
    """List those that a reader sets, measured or not."""
    return [one for one in found if one.state != "unknown"]


def narrowing(state: Try, mine: MyKit) -> float:
    """Tell how long the band of all we do not know is with my kit, over that with guesses for it.

    Parameters
    ----------
    state : Try
        The try with my kit in it.
    mine : MyKit
        What was measured.

    Returns
    -------
    float
        Ratio of lengths in seconds, never counting as an hour; one where there is no band. [1]

    Examples
    --------
    >>> from fireheat.person.measuring import Measured
    >>> mine = MyKit(friction=Measured(0.35, 0.01), burn_in_depth=Measured(0.005, 0.0004))
    >>> narrowing(Try(), mine) < 0.7
    True
    """
    measured = mine.measured
    guessed = set(settable(state)) - set(_guessed(state, measured))
    now, then = (
        _length(spread(state, **known).all)
        for known in ({"measured": measured}, {"guessed": guessed})
    )
    return now / then if then else 1.0
