"""What a leader saw of a try that failed, what is likely to be wrong, and what to try next.

Each cause is planted in invented learners (:mod:`fireheat.coach.planted`). A cause is likely where
the signs that were ticked are the signs that such learners show, and it is weighed by Bayes' rule;
before anybody looks all causes count alike. A leader misses some signs, and sees some that are not
there. Of a few signs, and of a few causes, the model knows nothing: there the craft's experience
stands, as words, and no share is told.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

import numpy as np

from ..data import table
from ..quantities import InputError, choose
from .learner import Learner
from .planted import planted

MODEL, PRACTICE = "model", "common practice"
_HARDLY = 0.05  # a sign that so few show does not speak for a cause
_TELLING = 20.0  # how much a quantity that was measured counts for or against its cause
_MEASURED = {"density": "specific_gravity"}  # other names of what was measured


class Observation(NamedTuple):
    """Something that can be seen of a try.

    Attributes
    ----------
    key, name : str
        Its name in code, and the words a leader ticks.
    known_by : str
        ``"model"`` where it follows from the invented learner, else ``"common practice"``.
    never_with : tuple of str
        What cannot be of one and the same try, by key.
    """

    key: str
    name: str
    known_by: str
    never_with: tuple[str, ...]


class Cause(NamedTuple):
    """Something that may be wrong.

    Attributes
    ----------
    key, name : str
        Its name in code, and the words a leader reads.
    known_by : str
        ``"model"`` where it can be planted in invented learners, else ``"common practice"``.
    why : str
        What it does.
    next_step : str
        The one thing to try.
    look : str
        What shows that it is this.
    """

    key: str
    name: str
    known_by: str
    why: str
    next_step: str
    look: str


class LikelyCause(NamedTuple):
    """A cause, as likely as what was seen makes it.

    Attributes
    ----------
    cause : Cause
        The cause.
    known_by : str
        ``"model"`` where a ticked sign that the model knows speaks for it; else
        ``"common practice"``.
    share : float or None
        Of invented tries that look like this, how many have it; none where the model cannot say.
        [1]
    weight : float
        What it is ordered by, the craft's words taken as numbers. [1]
    """

    cause: Cause
    known_by: str
    share: float | None
    weight: float


@dataclass(frozen=True)
class Diagnosis:
    """What is likely to be wrong.

    Attributes
    ----------
    seen : tuple of str
        What was ticked, by key, in the table's order.
    causes : tuple of LikelyCause
        All causes, the likeliest first; none if nothing was ticked, or if there is a clash.
    clash : tuple of str
        Two that were ticked and cannot be of one try, by key.
    unexplained : tuple of str
        What was ticked, and neither of the first two causes shows, by key.
    """

    seen: tuple[str, ...]
    causes: tuple[LikelyCause, ...]
    clash: tuple[str, ...]
    unexplained: tuple[str, ...]

    @property
    def first_two(self) -> tuple[LikelyCause, ...]:
        """The two likeliest causes; none if nothing can be said."""
        return self.causes[:2]

    @property
    def next_step(self) -> str:
        """The one thing to try next; empty if nothing can be said."""
        return self.causes[0].cause.next_step if self.causes else ""

    @property
    def tell_apart(self) -> str:
        """What would tell the first two causes apart; empty if nothing can be said."""
        return " ".join(
            f"{one.cause.name.capitalize()}? {one.cause.look}" for one in self.first_two
        )


@cache
def observations() -> Mapping[str, Observation]:
    """Return what can be seen of a try, by key.

    References
    ----------
    .. [1] ``data/seen.toml``; ours.

    Examples
    --------
    >>> observations()["steam"].name
    'steam or hissing'
    """
    rows = table("seen")["observations"]
    return {
        key: Observation(key, row["name"], row["known_by"], tuple(row.get("never_with", ())))
        for key, row in rows.items()
    }


@cache
def causes() -> Mapping[str, Cause]:
    """Return what may be wrong, by key.

    References
    ----------
    .. [1] ``data/seen.toml``; common practice, no source.

    Examples
    --------
    >>> causes()["leaning"].known_by, causes()["wet_wood"].known_by
    ('common practice', 'model')
    """
    by_model = _planted().causes
    return {
        key: Cause(
            key=key,
            name=row["name"],
            known_by=MODEL if key in by_model else PRACTICE,
            why=row["why"],
            next_step=row["next"],
            look=row["look"],
        )
        for key, row in table("seen")["causes"].items()
    }


def likely_causes(seen: Collection[str], *, learner: Learner | None = None) -> Diagnosis:
    r"""Order what may be wrong by what was seen of a try that failed.

    .. math:: P(c \mid x) \propto \frac{1}{n_c} \sum_{i \in c} \prod_s p(x_s \mid y_{is})

    Parameters
    ----------
    seen : collection of str
        What was seen, by key of :func:`observations`.
    learner : Learner, optional
        Whose try it was: what was measured of it speaks for or against causes.

    Returns
    -------
    Diagnosis
        Causes in order, with the next step and what tells the first two apart.

    Raises
    ------
    InputError
        If something cannot be seen, or the learner is something else.

    Notes
    -----
    The sum goes over invented learners i with cause c planted, the product over signs s, whether
    ticked or not; p has the shares of signs that leaders miss, or see where they are not. One thing
    is wrong at a time: where two are, both stand high, and neither shows all that was ticked.

    References
    ----------
    .. [1] Bayes' rule, naive where only the craft knows what shows a sign; ranges and shares of
       ``data/seen.toml`` are assumptions.

    Examples
    --------
    >>> found = likely_causes(["smoke_only", "steam"])
    >>> first, second = found.first_two
    >>> first.cause.name, first.known_by, found.next_step
    ('wood too wet', 'model', 'Take a dry spindle and board: dead wood that stood off the ground.')
    >>> likely_causes(["walks"]).causes[0].share is None
    True
    """
    ticked = _ticked(seen)
    if not isinstance(learner, Learner | None):
        raise InputError(f"learner is {learner!r}; allowed: a Learner")
    clash = _clash(ticked)
    if clash or not ticked:
        return Diagnosis(ticked, (), clash, ())
    weights = {
        key: likely * _measured_weight(key, learner) for key, likely in _likelihoods(ticked).items()
    }
    whole, shown = sum(weights.values()), _frequencies()
    ordered = sorted(weights, key=lambda key: -weights[key])
    made = tuple(_likely(key, weights[key] / whole, ticked) for key in ordered)
    told = [shown[one.cause.key] for one in made[:2]]
    odd = tuple(key for key in ticked if all(signs[key] < _HARDLY for signs in told))
    return Diagnosis(ticked, made, (), odd)


def _ticked(seen):
    if not isinstance(seen, list | tuple | set | frozenset):
        raise InputError(f"what was seen is {seen!r}; allowed: a list of names")
    for key in seen:
        choose("what was seen", key, observations())
    return tuple(key for key in observations() if key in seen)


def _clash(ticked):
    """Return the first two that cannot be of one try."""
    for key in ticked:
        for other in observations()[key].never_with:
            if other in ticked:
                return key, other
    return ()


def _likely(key, weight, ticked):
    cause, signs = causes()[key], _frequencies()[key]
    speaks = any(observations()[one].known_by == MODEL and signs[one] >= _HARDLY for one in ticked)
    known_by = MODEL if cause.known_by == MODEL and speaks else PRACTICE
    return LikelyCause(cause, known_by, weight if known_by == MODEL else None, weight)


# ---- how often a cause shows a sign -------------------------------------------------------------


@cache
def _planted():
    """Invented learners, drawn once."""
    return planted()


@cache
def _frequencies():
    """How often each cause shows each sign, by cause and sign; from the model where it can."""
    made = _planted()
    found = {key: {sign: _by_craft(key, sign) for sign in observations()} for key in causes()}
    for place, key in enumerate(made.causes):
        shares = made.seen[made.cause == place].mean(axis=0)
        found[key] |= dict(zip(made.signs, map(float, shares), strict=True))
    return found


def _by_craft(key, sign):
    """How often a cause shows a sign of which only the craft knows: its words as numbers."""
    row, looks = table("seen")["causes"][key], table("seen")["leader"]
    for word in ("often", "sometimes"):
        if sign in row.get(word, ()):
            return looks[word]
    return looks["seldom"]


def _likelihoods(ticked):
    """How often a try with each cause would be ticked so, by a leader who may err."""
    made, shown = _planted(), _frequencies()
    there, not_there = _ticks(ticked)
    yes, no = (np.array([one[sign] for sign in made.signs]) for one in (there, not_there))
    tries = np.where(made.seen, yes, no).prod(axis=1)
    by_model = np.bincount(made.cause, tries) / np.bincount(made.cause)
    likely = dict.fromkeys(shown, 1.0) | dict(zip(made.causes, map(float, by_model), strict=True))
    for key, craft in shown.items():
        for sign, often in craft.items():
            if key not in made.causes or sign not in made.signs:
                likely[key] *= often * there[sign] + (1 - often) * not_there[sign]
    return likely


def _ticks(ticked):
    """How often each sign would be marked as it was: if it was there, and if it was not."""
    looks = table("seen")["leader"]
    there, not_there = {}, {}
    for sign in observations():
        missed = looks["missed_plain" if sign in looks["plain"] else "missed"]
        there[sign] = 1 - missed if sign in ticked else missed
        not_there[sign] = looks["wrong"] if sign in ticked else 1 - looks["wrong"]
    return there, not_there


def _measured_weight(key, learner):
    """How much what was measured speaks for a cause, or against it."""
    weight, rows = 1.0, table("seen")
    for name in learner.measured if learner is not None else ():
        quantity = _MEASURED.get(name, name)
        ends = rows["planted"].get(key, {}).get(quantity)
        if ends is None:
            continue
        value = learner.state.value(quantity)
        (low, high), (least, most) = ends, rows["sound"][quantity]
        if low <= value <= high:
            weight *= _TELLING
        elif least <= value <= most:
            weight /= _TELLING
    return weight
