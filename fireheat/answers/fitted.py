"""What our tries say of the physics: powers beside powers, and what two wrong ways would have said.

Where the tries cannot tell, it says why, and what to measure next.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ..quantities import InputError, choose
from ..trials.columns import TimedTry, fit_columns
from ..trials.exponents import DepthPower, Exponents, club_exponents, depth_power
from ..trials.fit import TooFewTriesError
from ..trials.wrong_ways import three_ways

# What is fitted at once, by a word for it.
QUESTIONS: Mapping[str, tuple[str, ...]] = {
    "thickness and press": ("diameter", "force"),
    "thickness": ("diameter",),
    "press": ("force",),
    "bow speed": ("speed",),
    "all three": ("diameter", "force", "speed"),
}
DEPTH = -2.0, 0.0  # powers of the depth worn: the same grams for each spindle, the same depth
_NOTHING = "Not one try says how it was set.", "Write that down, too: thickness, press, strokes."


@dataclass(frozen=True, eq=False)
class Fitted:
    """What a fit found, or why there is none.

    Attributes
    ----------
    question : str
        One of ``QUESTIONS``.
    found : Exponents or None
        Powers, with their intervals, beside those of physics.
    wrong : dict of str to dict
        By a wrong way: the power of each cause; empty where it finds none.
    depth : DepthPower or None
        How the depth worn falls with the diameter.
    reason, measure_next : str
        Why there is no fit, and what to do.
    tries, left_out : int
        How many were fitted, and how many lack a setting.
    """

    question: str
    found: Exponents | None
    wrong: dict[str, dict[str, float]]
    depth: DepthPower | None
    reason: str
    measure_next: str
    tries: int
    left_out: int

    @property
    def verdict(self) -> str:
        """In a word: whether tries and physics disagree.

        Examples
        --------
        >>> fitted([], question="press").verdict
        'too few tries'
        """
        if self.found is None:
            return "too few tries"
        if self.found.disagree:
            return "yes"
        told = any(power.tells for power in self.found.powers.values())
        return "no" if told else "cannot tell yet"


def fitted(tries: Sequence[TimedTry], *, question: str = "thickness and press") -> Fitted:
    """Ask tries for powers, rightly and in two wrong ways.

    Parameters
    ----------
    tries : sequence of TimedTry
        The tries.
    question : str, optional
        One of ``QUESTIONS``.

    Returns
    -------
    Fitted
        What they say.

    Raises
    ------
    InputError
        If there is no such question, or something is no try.

    Examples
    --------
    >>> from fireheat.trials.log import demo_log
    >>> from fireheat.trials.reading import read_log
    >>> found = fitted(read_log(demo_log()).tries)
    >>> found.verdict, round(found.found.powers["force"].found, 1)
    ('no', -1.7)
    """
    causes = QUESTIONS[choose("question", question, tuple(QUESTIONS))]
    if not (isinstance(tries, Sequence) and all(isinstance(one, TimedTry) for one in tries)):
        raise InputError(f"tries is {tries!r}; allowed: a list of TimedTry(...)")
    return _fitted(tuple(tries), question, causes)


@lru_cache(maxsize=8)  # a reader goes to and fro between questions to one log
def _fitted(tries, question, causes):
    given, left_out = fit_columns(tries, causes)
    found, wrong, reason, following = None, {}, "", ""
    try:
        if not given["times"]:
            raise TooFewTriesError(*_NOTHING)
        found = club_exponents(**given)
        wrong = _wrong(given)
    except TooFewTriesError as refusal:
        reason, following = refusal.reason, refusal.measure_next
    except InputError:
        reason = "Their settings lie beyond what the physics of this kit can say."
        following = "Look again at the units in the log."
    tried = len(tries) - left_out
    return Fitted(question, found, wrong, _depth(tries), reason, following, tried, left_out)


def _wrong(given):
    """Fit without those given up, and as if all had embers."""
    design = {name: np.log(column) for name, column in given["settings"].items()}
    ways = three_ways(given["times"], observed=given["observed"], design=design)
    return {way: dict(fit.coefficients) if fit else {} for way, fit in [*ways.items()][1:]}


def _depth(tries):
    worn = [one for one in tries if one.observed and one.burn_in_depth and one.diameter]
    try:
        return depth_power([o.diameter for o in worn], worn=[o.burn_in_depth for o in worn])
    except InputError:
        return None
