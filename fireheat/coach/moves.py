"""Single changes that this learner can make, each with the time that it saves, the best first.

The arm sets the speed. Who gives all the speed the arm has at this press, gets slower when the new
press or spindle asks for more pull, and quicker when it asks for less. Who holds back keeps the
beat while the arm allows it. What goes past a limit is refused, with the number of the limit.

Times are compared on the same draws (:mod:`fireheat.spread`), likely ones are marched. Nobody knows
how the depth for an ember goes with the diameter; it is drawn as in
:func:`fireheat.spread.compare`, from the diameter there is now.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, NamedTuple

import numpy as np

from ..bands import Band
from ..cases import case
from ..constants import constant
from ..data import table
from ..ember.ignition import enough_dust
from ..kit.strength import bending_strength, spindle_stress
from ..quantities import InputError, check_whole, quantity
from ..spread import FEWEST_DRAWS, drawn_case, even_shares
from ..unknowns import unknown
from ..words import number_words
from .learner import Learner

_SWEPT = ("diameter", "force", "speed", "moisture")
_SAME = 0.01  # of a size: nearer than that it is the same
_ENDS = (0.05, 0.95)


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
    """

    key: str
    name: str
    how: str
    then: Learner
    ember: Band
    saved: Band
    ratio: Band
    in_time: bool


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
    tied : tuple of str
        Keys of moves that cannot be told from the best, itself among them if there are any.
    asides : tuple of Aside
        What changes no time, and helps otherwise.
    refused : tuple of Refused
        What passes a limit, or costs time.
    """

    learner: Learner
    now: Band
    in_time: bool
    moves: tuple[Move, ...]
    tied: tuple[str, ...]
    asides: tuple[Aside, ...]
    refused: tuple[Refused, ...]


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
    (['thinner', 'firmer', 'grease', 'drier'], ['beat', 'lighter', 'slower'])
    """
    if not isinstance(learner, Learner):
        raise InputError(f"learner is {learner!r}; allowed: Learner(...)")
    draws = check_whole("draws", draws, least=FEWEST_DRAWS)
    now = learner.within_arm()
    offered = {key: offer(now) for key, offer in _OFFERS.items()}
    thens = {key: then for key, then in offered.items() if isinstance(then, Learner)}
    seen = _Seen([now, *thens.values()], draws)
    moves, asides, refused = [], [], []
    for key, then in offered.items():
        if not isinstance(then, Learner):
            refused.append(_refused(key, then))
    for place, (key, then) in enumerate(thens.items(), start=1):
        judged = _judged(key, now, then, seen, place)
        {Move: moves, Aside: asides, Refused: refused}[type(judged)].append(judged)
    in_time = _in_time(now, seen.likely[0])
    asides += [Aside(key, _name(key), _row(key)["idle"], in_time) for key in ("rest", "catcher")]
    moves.sort(key=lambda move: move.ember.likely)
    places = {key: place for place, key in enumerate(thens, start=1)}
    tied = _tied(seen, [places[move.key] for move in moves], [move.key for move in moves])
    order = list(table("moves")["moves"])
    return Advice(
        learner=now,
        now=seen.ember(0),
        in_time=in_time,
        moves=tuple(moves),
        tied=tied,
        asides=tuple(sorted(asides, key=lambda one: order.index(one.key))),
        refused=tuple(sorted(refused, key=lambda one: order.index(one.key))),
    )


# ---- what is offered: the learner then, or why not ----------------------------------------------


class _No(NamedTuple):
    """A refusal: which words, and what stands in their places."""

    reason: str
    values: Mapping[str, Any]


def bowing_then(now: Learner, then: Learner) -> Learner:
    """Let the arm say how quick a learner bows after a change of kit or press.

    Parameters
    ----------
    now, then : Learner
        Before the change, and after it with the speed of before.

    Returns
    -------
    Learner
        After it: at all the arm gives if it gave all before, else no quicker than now.

    Examples
    --------
    >>> now = Learner()
    >>> round(bowing_then(now, now.changed(force=66.0)).state.effort.speed, 2)
    0.95
    """
    most = then.most_speed
    return then.changed(speed=most if now.at_limit else min(now.state.effort.speed, most))


def _thinner(now):
    kit = now.state.kit
    sizes = [size for size in constant("move_sizes") if size < (1 - _SAME) * kit.diameter]
    least = constant("thinnest_spindle")
    if not sizes:
        return _No("last", {})
    size = max(sizes)
    values = {"diameter_then": size, "diameter_least": least}
    if size < least:
        return _No("thin", values)
    most = quantity("burn_in_depth").high
    if kit.dust_mass is None and _depth_then(kit, size) > most:
        return _No("deep", values | {"burn_in_depth_most": most})
    then = bowing_then(now, _turned_thinner(now, size))
    if not _strong_enough(then):
        return _No("weak", values)
    keeps = enough_dust(then.state.kit)
    if keeps.times_least.likely < 1:
        dust = {"dust_mass_then": then.state.kit.dust, "dust_mass_least": keeps.mass_least.likely}
        return _No("dust", values | dust)
    return then


def _turned_thinner(now, size):
    """Give a learner a thinner spindle; its cord runs on the thinner stick, too."""
    kit, narrower = now.state.kit, size / now.state.kit.diameter
    changes = {"diameter": size}
    if kit.cord_radius is not None:
        changes["cord_radius"] = kit.cord_radius * narrower
    if kit.dust_mass is None:
        changes["burn_in_depth"] = _depth_then(kit, size)
    return now.changed(**changes)


def _depth_then(kit, size):
    return kit.burn_in_depth * (size / kit.diameter) ** -_exponent().likely


def _exponent():
    return unknown("depth_exponent").band


def _strong_enough(learner):
    kit = learner.state.kit
    stress = spindle_stress(
        learner.pull,
        force=learner.state.effort.force,
        diameter=kit.diameter,
        spindle_length=kit.spindle_length,
        specific_gravity=kit.specific_gravity,
    )
    return constant("spindle_safety") * stress <= bending_strength(kit.specific_gravity)


def _beat(now):
    speed = (1 + constant("move_step")) * now.state.effort.speed
    if speed > now.most_speed:
        return _No(
            "arm",
            {"strokes_then": now.strokes_at(speed), "strokes_most": now.strokes_at(now.most_speed)},
        )
    return now.changed(speed=speed)


def _firmer(now):
    then = _pressing(now, 1 + constant("move_step"))
    if then.most_speed > 0:
        return bowing_then(now, then)
    values = {"pull_then": then.pull, "pull_most": now.arm.pull_max}
    if now.slip_pull is not None and then.pull > now.slip_pull:
        return _No("slip", values | {"pull_slip": now.slip_pull})
    return _No("stall", values)


def _lighter(now):
    if not now.at_limit:
        return _No("spare", {})
    return bowing_then(now, _pressing(now, 1 - constant("move_step")))


def _pressing(now, times):
    return now.changed(force=times * now.state.effort.force)


def _grease(now):
    if now.state.kit.block_friction <= constant("greased_block"):
        return _No("done", {})
    return bowing_then(now, now.changed(block_friction=constant("greased_block")))


def _drier(now):
    least = constant("indoor_moisture")
    if now.state.kit.moisture <= least + _SAME / 2:
        return _No("done", {"moisture_least": least})
    return now.changed(moisture=least)


def _slower(now):
    return now.changed(speed=(1 - constant("move_step")) * now.state.effort.speed)


_OFFERS = {
    "thinner": _thinner,
    "beat": _beat,
    "firmer": _firmer,
    "lighter": _lighter,
    "grease": _grease,
    "drier": _drier,
    "slower": _slower,
}


# ---- times on the same draws --------------------------------------------------------------------


class _Seen:
    """Embers of several learners: likely, and in the same draws."""

    def __init__(self, learners, draws):
        shares = even_shares(draws)
        even = shares | {"luck": np.full(draws, 0.5)}
        self.luck = unknown("luck").at(shares["luck"])
        self.likely = _marched([learner.state for learner in learners])
        first = learners[0].state.kit
        self.drawn = np.array([_drawn(learner, first, even) for learner in learners])

    def ember(self, place):
        return _about(self.drawn[place] * self.luck, self.likely[place])

    def ratio(self, place, over=0):
        one, other = (over, self.drawn[over]), (place, self.drawn[place])
        likely = _over(self.likely[one[0]], self.likely[other[0]])
        return _about(_over(one[1], other[1]), likely)

    def saved(self, place):
        likely = _less(self.likely[0], self.likely[place])
        return _about(_less(self.drawn[0], self.drawn[place]), likely)


def _marched(states):
    """March all likely embers at once, where that can be."""
    first = states[0].kit
    keys = (*_SWEPT, *(() if first.dust_mass is not None else ("burn_in_depth",)))
    if first.cord_radius is not None:
        return np.array([case(state).ember for state in states])
    swept = {key: np.array([state.value(key) for state in states]) for key in keys}
    return case(states[0], swept=swept).ember


def _drawn(learner, first, shares):
    """Draw the embers of one; how the depth went from the first kit's to this one's is drawn."""
    state = learner.state
    made = drawn_case(state, shares, measured=learner.measured)
    if first.dust_mass is None and state.kit.diameter != first.diameter:
        low, likely, high = _exponent()
        off = low + (high - low) * shares["depth_exponent"] - likely
        deeper = (state.kit.diameter / first.diameter) ** -off
        names = ("depth", "dry_energy", "water_energy")
        made = replace(made, **{name: getattr(made, name) * deeper for name in names})
    return made.quick()[1]


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
    return Band(float(low), float(likely), float(high)).about_likely().each(float)


# ---- what becomes of an offer -------------------------------------------------------------------


def _judged(key, now, then, seen, place):
    """Say whether a change saves time, helps otherwise, or costs."""
    before, after = seen.likely[0], seen.likely[place]
    in_time, values = _in_time(then, after), _values(now, then) | {"later": after - before}
    if key == "slower":
        return _slowed(values, in_time, _in_time(now, before))
    saves = after < (1 - constant("no_saving")) * before
    if saves:
        how = _filled(_row(key)["how"], values)
        return Move(
            *(key, _name(key), how, then, seen.ember(place), seen.saved(place)),
            *(seen.ratio(place), in_time),
        )
    if "idle" in _row(key):
        return Aside(key, _name(key), _filled(_row(key)["idle"], values), in_time)
    costs = after > (1 + constant("no_saving")) * before
    reason = "same" if not costs else "cost" if np.isfinite(after) else "gone"
    return Refused(key, _name(key), _filled(_row("costs")[reason], values))


def _slowed(values, in_time, already):
    """Say what a slower beat is good for: only for an arm that is spent too soon."""
    reason = "spare" if already else "lasts" if in_time else "short"
    words = _filled(_row("slower")[reason], values)
    name = _name("slower")
    return (
        Aside("slower", name, words, True) if reason == "lasts" else Refused("slower", name, words)
    )


def _in_time(learner, ember):
    return bool(ember <= min(learner.hold, constant("longest_bowing")))


def _tied(seen, places, keys):
    """Name the moves whose times cannot be told from the best one's, on the same draws."""
    tied = []
    for place, key in zip(places, keys, strict=True):
        low, _, high = seen.ratio(place, over=places[0])
        if low <= 1 <= high:
            tied.append(key)
    return tuple(tied) if len(tied) > 1 else ()


# ---- words --------------------------------------------------------------------------------------


def _row(key):
    return table("moves")["moves"][key]


def _name(key):
    return _row(key)["name"]


def _refused(key, no):
    return Refused(key, _name(key), _filled(_row(key)[no.reason], no.values))


def _values(now, then):
    """Return what a text may tell of before and after."""
    pairs = {
        "diameter": [one.state.kit.diameter for one in (now, then)],
        "force": [one.state.effort.force for one in (now, then)],
        "moisture": [one.state.kit.moisture for one in (now, then)],
        "pull": [one.pull for one in (now, then)],
        "strokes": [one.strokes_per_minute for one in (now, then)],
    }
    return {
        f"{key}_{when}": v
        for key, two in pairs.items()
        for when, v in zip(("now", "then"), two, strict=True)
    }


def _filled(text, values):
    """Put numbers into a text; quantities stay for the reader's units."""
    spelled = {}
    for name, value in values.items():
        key = name.rpartition("_")[0]
        if key == "strokes":
            spelled[name] = f"{value:.0f}"
        elif key in ("diameter", "force", "moisture", "pull", "dust_mass", "burn_in_depth"):
            about = "" if quantity(key).steps else "~"
            spelled[name] = f"{{{key}:{about}{value:.9f}}}"
        else:
            spelled[name] = number_words(value) if np.isfinite(value) else ""
    return text.format(**spelled)
