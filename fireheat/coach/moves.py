"""Single changes that this learner can make, each with the time that it saves, the best first.

What can be changed, and how quick the arm then bows, says :mod:`fireheat.coach.offers`. Times are
compared on the same draws (:mod:`fireheat.spread`), likely ones are marched. Nobody knows how the
depth for an ember goes with the diameter; it is drawn as in :func:`fireheat.spread.compare`, from
the diameter there is now.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, NamedTuple

import numpy as np

from ..bands import Band
from ..cases import case
from ..constants import constant
from ..data import table
from ..quantities import InputError, check_whole, quantities, quantity
from ..spread import FEWEST_DRAWS, drawn_case, even_shares
from ..unknowns import unknown
from ..words import number_words
from .learner import Learner
from .offers import Barred, offers

_SWEPT = ("diameter", "force", "speed", "moisture")
_ENDS = (0.05, 0.95)
_NOW = "now"
_HAIR = 1e-6  # of a ratio, by which the draws of equal watts may differ


class Move(NamedTuple):
    """One change that saves time.

    Attributes
    ----------
    key, name : str
        Its row of ``data/moves.toml``, and what it is called.
    how : str
        What to do, for :func:`fireheat.texts.in_units`.
    then : Learner
        The learner after the change, at the speed that the arm then gives.
    ember : Band of float
        Time of a try then, luck included. [s]
    saved : Band of float
        Time saved, on the same draws. [s]
    ratio : Band of float
        Time then over time now, on the same draws. [1]
    in_time : bool
        Whether the likely ember comes before the arm is spent.
    rank : int
        Its place, the best being 1; moves that cannot be told from the first of them share it.
    """

    key: str
    name: str
    how: str
    then: Learner
    ember: Band
    saved: Band
    ratio: Band
    in_time: bool
    rank: int = 1


class Aside(NamedTuple):
    """One change that saves no time, and is good for something else.

    Attributes
    ----------
    key, name : str
        As of a :class:`Move`.
    why : str
        What it is good for, for :func:`fireheat.texts.in_units`.
    in_time : bool
        Whether with it the likely ember comes before the arm is spent.
    """

    key: str
    name: str
    why: str
    in_time: bool


class Refused(NamedTuple):
    """One change that this learner should not make.

    Attributes
    ----------
    key, name : str
        As of a :class:`Move`.
    why : str
        Which limit it passes, with its number, for :func:`fireheat.texts.in_units`.
    """

    key: str
    name: str
    why: str


@dataclass(frozen=True)
class Advice:
    """What one learner could change.

    Attributes
    ----------
    learner : Learner
        The learner, bowing no quicker than the arm can.
    now : Band of float
        Time of a try as it is, luck included. [s]
    in_time : bool
        Whether the likely ember comes before the arm is spent.
    moves : tuple of Move
        What saves time, the best first.
    asides : tuple of Aside
        What changes no time, and helps otherwise.
    refused : tuple of Refused
        What passes a limit, or costs time.
    """

    learner: Learner
    now: Band
    in_time: bool
    moves: tuple[Move, ...]
    asides: tuple[Aside, ...]
    refused: tuple[Refused, ...]

    @property
    def tied(self) -> tuple[str, ...]:
        """Keys of moves that cannot be told from the best, itself among them; empty if none."""
        first = tuple(move.key for move in self.moves if move.rank == 1)
        return first if len(first) > 1 else ()


def advice(learner: Learner, *, draws: int = 128) -> Advice:
    """Rank the single changes that a learner can make by the time they save.

    Parameters
    ----------
    learner : Learner
        The learner; one who is said to bow quicker than the arm can is taken at the arm's speed.
    draws : int, optional
        How many draws of all we do not know.

    Returns
    -------
    Advice
        Moves, what else helps, and what is refused.

    Raises
    ------
    InputError
        If that is no learner, or there are too few draws.

    References
    ----------
    .. [1] :func:`fireheat.estimates.times` for likely times, and the same draws on both sides as in
       :func:`fireheat.spread.compare`.

    Examples
    --------
    >>> found = advice(Learner())
    >>> [move.key for move in found.moves], [one.key for one in found.refused]
    (['thinner', 'grease', 'drier', 'firmer'], ['beat', 'lighter', 'slower'])
    """
    if not isinstance(learner, Learner):
        raise InputError(f"learner is {learner!r}; allowed: Learner(...)")
    draws = check_whole("draws", draws, least=FEWEST_DRAWS)
    now = learner.within_arm()
    offered = offers(now)
    thens = {key: then for key, then in offered.items() if isinstance(then, Learner)}
    seen = _Seen({_NOW: now, **thens}, draws)
    in_time = _in_time(now, seen.likely[_NOW])
    if in_time:  # who needs no more than a step is not sent further
        thens.pop("thinnest", None)
    judged: list[Move | Aside | Refused] = [
        Refused(key, _name(key), _barred(key, no))
        for key, no in offered.items()
        if isinstance(no, Barred)
    ]
    judged += [_judged(key, now, then, seen) for key, then in thens.items()]
    judged = [one for one in judged if one.key != "thinnest" or isinstance(one, Move)]
    judged += [Aside(key, _name(key), _row(key)["idle"], in_time) for key in ("rest", "catcher")]
    judged.sort(key=lambda one: list(table("moves")["moves"]).index(one.key))
    return Advice(
        learner=now,
        now=seen.ember(_NOW),
        in_time=in_time,
        moves=_ranked([one for one in judged if isinstance(one, Move)], seen),
        asides=tuple(one for one in judged if isinstance(one, Aside)),
        refused=tuple(one for one in judged if isinstance(one, Refused)),
    )


# ---- times on the same draws --------------------------------------------------------------------


class _Seen:
    """Embers of a learner now, and after each change: likely, and in the same draws."""

    def __init__(self, learners, draws):
        shares, now = even_shares(draws), learners[_NOW].state.kit
        even = shares | {"luck": np.full(draws, 0.5)}
        likely = _marched([learner.state for learner in learners.values()])
        self.luck = unknown("luck").at(shares["luck"])
        self.likely = dict(zip(learners, likely, strict=True))
        self.drawn = {key: _drawn(learner, now, even) for key, learner in learners.items()}

    def ember(self, key):
        return _about(self.drawn[key] * self.luck, self.likely[key])

    def ratio(self, key):
        pairs = (self.drawn[_NOW], self.drawn[key]), (self.likely[_NOW], self.likely[key])
        return _about(*(_over(*pair) for pair in pairs))

    def saved(self, key):
        pairs = (self.drawn[_NOW], self.drawn[key]), (self.likely[_NOW], self.likely[key])
        return _about(*(_less(*pair) for pair in pairs))

    def told_apart(self, one, other):
        """Tell whether one of two changes is the better in nine of ten draws that tell them."""
        ratios = _over(self.drawn[one], self.drawn[other])
        tells = np.isfinite(self.drawn[one]) | np.isfinite(self.drawn[other])
        if not tells.any():
            return False
        low, high = np.quantile(ratios[tells], _ENDS, method="inverted_cdf")
        return not low <= 1 + _HAIR or not high >= 1 - _HAIR


def _marched(states):
    """March all likely embers at once, where that can be."""
    first = states[0].kit
    if first.cord_radius is not None:  # which is not swept
        return [case(state).ember for state in states]
    keys = _SWEPT if first.dust_mass is not None else (*_SWEPT, "burn_in_depth")
    swept = {key: np.array([state.value(key) for state in states]) for key in keys}
    return case(states[0], swept=swept).ember


def _drawn(learner, first, shares):
    """Draw the embers of one; how the depth went from the first kit's to this one's is drawn."""
    kit, made = learner.state.kit, drawn_case(learner.state, shares, measured=learner.measured)
    if first.dust_mass is None and kit.diameter != first.diameter:
        low, likely, high = unknown("depth_exponent").band
        off = low + (high - low) * shares["depth_exponent"] - likely
        deeper = (kit.diameter / first.diameter) ** -off
        names = ("depth", "dry_energy", "water_energy")
        made = replace(made, **{name: getattr(made, name) * deeper for name in names})
    _, ember = made.quick()
    return ember


def _over(one, other):
    """Tell the other's time over the one's; one where neither ever has an ember."""
    with np.errstate(invalid="ignore"):
        return np.where(np.isinf(one) & np.isinf(other), 1.0, other / one)


def _less(one, other):
    """Tell by how much the other is sooner; nothing where neither ever has an ember."""
    with np.errstate(invalid="ignore"):
        return np.where(np.isinf(one) & np.isinf(other), 0.0, one - other)


def _about(values, likely):
    low, high = np.quantile(values, _ENDS, method="inverted_cdf")
    return Band(low, likely, high).about_likely().each(float)


# ---- what becomes of an offer -------------------------------------------------------------------


def _judged(key, now, then, seen):
    """Say whether a change saves time, helps otherwise, or costs."""
    before, after = seen.likely[_NOW], seen.likely[key]
    in_time, words = _in_time(then, after), _values(now, then)
    if np.isfinite(before) and np.isfinite(after):
        words["later"] = after - before
    if key == "slower":
        return _slowed(words, in_time, now, before)
    if after < (1 - constant("no_saving")) * before:
        how = _filled(_row(key)["how"], words)
        bands = seen.ember(key), seen.saved(key), seen.ratio(key)
        return Move(key, _name(key), how, then, *bands, in_time)
    if "idle" in _row(key) and np.isfinite(before):
        return Aside(key, _name(key), _filled(_row(key)["idle"], words), in_time)
    why = _filled(table("moves")["refusals"][_fault(before, after)], words)
    return Refused(key, _name(key), why)


def _fault(before, after):
    """Say what is wrong with a change that saves no time."""
    if not np.isfinite(after):
        return "gone" if np.isfinite(before) else "never"
    return "cost" if after > (1 + constant("no_saving")) * before else "same"


def _slowed(words, in_time, now, before):
    """Say what a slower beat is good for: only for an arm that is spent too soon."""
    if _in_time(now, before):
        reason = "spare"
    elif not np.isfinite(before):
        reason = "never"
    elif now.hold >= before:
        reason = "long"
    else:
        reason = "lasts" if in_time else "short"
    said = "slower", _name("slower"), _filled(_row("slower")[reason], words)
    return Aside(*said, True) if reason == "lasts" else Refused(*said)


def _in_time(learner, ember):
    return bool(ember <= min(learner.hold, constant("longest_bowing")))


def _ranked(moves, seen):
    """Put the best first; a move that cannot be told from the first of a place shares it."""
    ranked, first = [], None
    for place, move in enumerate(sorted(moves, key=lambda move: move.ember.likely), start=1):
        if first is None or seen.told_apart(first.key, move.key):
            first = move._replace(rank=place)
        ranked.append(move._replace(rank=first.rank))
    return tuple(ranked)


# ---- words --------------------------------------------------------------------------------------


def _row(key):
    return table("moves")["moves"][key]


def _name(key):
    return _row(key)["name"]


def _barred(key, no):
    reasons = table("moves")["refusals"] | _row(key)
    return _filled(reasons[no.reason], no.values)


def _values(now, then):
    """Return what a text may tell of before and after."""
    values: dict[str, Any] = {}
    for when, one in ((_NOW, now), ("then", then)):
        values |= {
            f"{key}_{when}": one.state.value(key) for key in ("diameter", "force", "moisture")
        }
        values |= {f"pull_{when}": one.pull, f"strokes_{when}": one.strokes_per_minute}
    return values


def _filled(text: str, values: Mapping[str, Any]) -> str:
    """Put numbers into a text; quantities stay for the reader's units."""
    spelled = {name: _spelled(name, value) for name, value in values.items() if value is not None}
    return text.format(**spelled)


def _spelled(name, value):
    key, _, _ = name.rpartition("_")
    if key in quantities():
        return f"{{{key}:{'' if quantity(key).steps else '~'}{value:.9f}}}"
    return number_words(value) if name == "later" else f"{value:.0f}"
