"""One readable rule that tells some learners from all others: one threshold, or two at most."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ..constants import constant
from ..data import table
from ..quantities import METRIC
from ..texts import in_units
from ..words import percent_words
from .population import Learners

_PLACES = (np.arange(12) + 0.5) / 12  # where thresholds are tried, as shares of all learners
_TOPS = 40
_TELLS = 0.5  # of one who is named, and so is who should be; nought is what a coin does
_WORTH = 0.03  # by so much a second threshold must be better


@dataclass(frozen=True)
class Threshold:
    """Those above, or below, a value of a quantity.

    Attributes
    ----------
    quantity : str
        A row of ``data/rules.toml``.
    above : bool
        Whether they are above.
    value : float
        The value. [SI]

    Examples
    --------
    >>> Threshold("force", True, 95.0).words()
    'who press with more than 95 N'
    """

    quantity: str
    above: bool
    value: float

    def words(self, system: str = METRIC) -> str:
        """Say who they are, after "those"."""
        said = table("rules")[self.quantity]["more" if self.above else "less"]
        said = said.replace("VALUE", f"{self.value:.6g}")
        return in_units(said.replace("PERCENT", percent_words(self.value)), system)

    def holds(self, facts: Mapping[str, np.ndarray]) -> np.ndarray:
        """Tell of whom it holds."""
        values = facts[self.quantity]
        return values > self.value if self.above else values < self.value


@dataclass(frozen=True)
class Rule:
    """Whom something happens to, as far as one or two thresholds tell.

    Attributes
    ----------
    parts : tuple of Threshold
        All must hold. None at all, and ``everybody`` says whether it is all or none.
    right : float
        Share of all learners of whom it is right. [1]
    found : float
        Share of those it should name whom it names. [1]
    everybody : bool
        What it says of all learners, if it has no parts.
    """

    parts: tuple[Threshold, ...]
    right: float
    found: float
    everybody: bool = False

    @property
    def words(self) -> str:
        """Say it in metric units."""
        return self.told()

    def told(self, system: str = METRIC) -> str:
        """Say it to a reader of these units."""
        if self.parts:
            return "those " + " and ".join(part.words(system) for part in self.parts)
        if self.everybody:
            return "nearly everybody"
        few = self.right >= constant("rule_right")
        return "hardly anybody" if few else "some, and no one thing tells whom"

    def names(self, learners: Learners) -> np.ndarray:
        """Tell whom it names."""
        facts = seen_of(learners)
        named = np.full(len(learners), bool(self.parts) or self.everybody)
        for part in self.parts:
            named &= part.holds(facts)
        return named


def seen_of(learners: Learners) -> dict[str, np.ndarray]:
    """Return what a coach can see of learners, by row of ``data/rules.toml``.

    Parameters
    ----------
    learners : Learners
        The learners.

    Returns
    -------
    dict of str to ndarray
        One number for each learner. [SI]

    Examples
    --------
    >>> from fireheat.coach.population import invented_learners
    >>> seen = seen_of(invented_learners("ten_to_twelve", count=3))
    >>> len(seen["pull_share"])
    3
    """
    worked_out = {
        "strokes_per_minute": 60 * learners.speed / learners.stroke_length,
        "pull_share": learners.pull / learners.pull_max,
        "speed_share": learners.speed / learners.speed_limit,
        "slip_share": learners.pull / learners.slip_pull,
        "spent": np.where(learners.in_time, learners.ember / learners.hold, np.inf),
    }
    return {
        key: worked_out[key] if key in worked_out else getattr(learners, key)
        for key in table("rules")
    }


def rule_for(who: np.ndarray, learners: Learners) -> Rule:
    """Find the rule that best tells some learners from the others.

    Parameters
    ----------
    who : ndarray of bool
        Those to name. [1]
    learners : Learners
        All.

    Returns
    -------
    Rule
        Of all rules that are right for enough of all learners, that which names as many of these
        and as few of the others as can be; none, if that hardly tells them apart.

    Notes
    -----
    Two thresholds only where they are clearly better than one. Where hardly any are to be named, or
    hardly any are not, it says so.

    References
    ----------
    .. [1] Youden, Index for rating diagnostic tests, Cancer 3 (1950) 32. (from memory)

    Examples
    --------
    >>> from fireheat.coach.population import invented_learners
    >>> learners = invented_learners("ten_to_twelve", count=200)
    >>> rule_for(learners.force > 60.0, learners).words
    'those who press with more than 60 N'
    """
    share = float(np.mean(who))
    if share > 1 - constant("advice_matters"):
        return Rule((), share, 1.0, everybody=True)
    nobody = Rule((), 1 - share, 0.0)
    if share < constant("rule_few"):
        return nobody
    parts, named = _thresholds(seen_of(learners))
    who = np.asarray(who, dtype=bool)
    those, count = _packed(who), len(who)
    alone, right, found = _scores(named, those, count)
    tops = np.argsort(-alone)[:_TOPS]  # with which all are tried together
    best = tops[0]
    both = _scores(named[tops][:, None] & named, those, count)
    first, second = np.unravel_index(int(np.argmax(both[0])), both[0].shape)
    pair = both[0][first, second] > alone[best] + _WORTH
    merit, right, found = (
        float(score[first, second] if pair else score[best])
        for score in (both if pair else (alone, right, found))
    )
    if merit < _TELLS:
        return nobody
    chosen = sorted({tops[first], second}) if pair else [best]  # in the order of the table
    return Rule(tuple(parts[place] for place in chosen), right, found)


def _thresholds(facts):
    """List all thresholds that are tried, and of whom each holds."""
    parts = []
    for key, row in table("rules").items():
        ordered = np.sort(facts[key][np.isfinite(facts[key])])
        values = ordered[(_PLACES * len(ordered)).astype(int)] if len(ordered) else ordered
        for value in np.unique(np.round(values / row["step"])) * row["step"]:
            parts += [Threshold(key, above, float(value)) for above in (True, False)]
    return parts, _packed(np.array([part.holds(facts) for part in parts]))


def _packed(truths):
    """Pack truths, along the last axis, into whole numbers of 64 bits: quick to join and count."""
    short = [(0, 0)] * (truths.ndim - 1) + [(0, -truths.shape[-1] % 64)]
    return np.packbits(np.pad(truths, short), axis=-1).view(np.uint64)


def _scores(named, those, count):
    """Score who is named of so many: merit, share of all it is right of, share that it finds."""
    many = int(np.bitwise_count(those).sum())
    hit = np.bitwise_count(named & those).sum(axis=-1)
    wrong = np.bitwise_count(named).sum(axis=-1) - hit
    right, found = (hit + count - many - wrong) / count, hit / many
    merit = found - wrong / (count - many)
    return np.where(right >= constant("rule_right"), merit, right - 2), right, found
