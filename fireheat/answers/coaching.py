"""What one learner should change first: the advice, the beat to hold, and a card to take along.

Advice ranks by time alone. A coach asks first whether the ember comes before the arm is spent: a
change that gets it there goes before one that saves more and does not.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import isfinite
from typing import Any, NamedTuple

from ..bands import Band
from ..coach.learner import Learner
from ..coach.moves import Advice, Aside, Move, advice
from ..coach.pace import Pace, pace
from ..data import table
from ..estimates import quick_times
from ..person.arm import arms
from ..quantities import METRIC, InputError, choose
from ..texts import in_units
from ..trials.columns import TimedTry
from ..words import TOO_LONG, band_words, saved_words, time_words
from .next_try import NextTry, next_try
from .questions import STROKES, try_of

MOST_SHOWN = 3  # changes beside now: more would make the letters of a picture too small


class TwoBands(NamedTuple):
    """What a stopwatch might see of one try.

    Attributes
    ----------
    wood, all : Band of float
        Time of the ember, with wood like this and with all we do not know. [s]
    """

    wood: Band[float]
    all: Band[float]


@dataclass(frozen=True)
class Coaching:
    """What to tell one learner.

    Attributes
    ----------
    advice : Advice
        All that could be changed, ranked by time.
    first : Move, Aside or None
        The one thing to change; None where nothing helps.
    moves : tuple of Move
        What saves time, in the order to try it.
    tied : tuple of Move
        Those that cannot be told from the first.
    now : TwoBands
        What a stopwatch might see now.
    thens : tuple of TwoBands
        The same after each of the first moves.
    beat : Pace
        At which the ember comes before the arm is spent, once the first thing is changed.
    strokes_per_minute : float or None
        The beat to hold then; None where none will do. [1/min]
    ours : NextTry or None
        What a reader's own evenings say of the try as it is now, where there are any.
    """

    advice: Advice
    first: Move | Aside | None
    moves: tuple[Move, ...]
    tied: tuple[Move, ...]
    now: TwoBands
    thens: tuple[TwoBands, ...]
    beat: Pace
    strokes_per_minute: float | None
    ours: NextTry | None = None

    @property
    def learner(self) -> Learner:
        """The learner, bowing no quicker than the arm can."""
        return self.advice.learner

    @property
    def then(self) -> Learner:
        """The learner, once the first thing is changed."""
        return self.first.then if isinstance(self.first, Move) else self.learner

    @property
    def ember(self) -> Band[float]:
        """Time of a try, once the first thing is changed. [s]."""
        return self.first.ember if isinstance(self.first, Move) else self.advice.now

    # ---- words ------------------------------------------------------------------------------

    @property
    def name(self) -> str:
        """What the one thing to change is called."""
        name = self._row["name"] if self.first is None else self.first.name
        return name[0].upper() + name[1:]

    def how(self, system: str = METRIC) -> str:
        """Say what to do, in a sentence or two.

        Examples
        --------
        >>> coaching(Learner()).how()
        'Take a thinner spindle: 14 mm in place of 16 mm.'
        """
        if self.first is None:
            beats = "" if self.advice.in_time else f" {self.beats(system).rstrip('.')}."
            return f"{self._row['how']}{beats}"
        return in_units(self.first.how if isinstance(self.first, Move) else self.first.why, system)

    @property
    def ties(self) -> str:
        """What is as good as the first change, as far as anybody can tell."""
        if not self.tied:
            return ""
        return f"As good, as far as we can tell: {' or '.join(move.name for move in self.tied)}."

    def beats(self, system: str = METRIC) -> str:
        """Say which beats will do, or why none does.

        Examples
        --------
        >>> coaching(Learner()).beats()
        '50 to 118 strokes a minute will do'
        """
        if self.beat.low is None or self.beat.high is None:
            return in_units(self.beat.why, system)
        low, high = (self.then.strokes_at(end) for end in (self.beat.low, self.beat.high))
        beats = f"{low:.0f}" if round(low) == round(high) else f"{low:.0f} to {high:.0f}"
        return f"{beats} strokes a minute will do"

    def card(self, code: str, system: str = METRIC) -> tuple[str, ...]:
        """Write the lines of this learner's card: a code, never a name.

        Examples
        --------
        >>> coaching(Learner()).card("L07")[1]
        'Change one thing. Take a thinner spindle: 14 mm in place of 16 mm.'
        """
        sooner = f", {saved_words(self.first.saved)}" if isinstance(self.first, Move) else ""
        held = self.strokes_per_minute
        beat = self.beats(system) if held is None else f"{held:.0f} strokes a minute."
        return (
            f"Card for {code}",
            f"Change one thing. {self.how(system)}",
            f"Hold this beat: {beat}",
            f"Look for: {self._row['look']}",
            f"Say: “{self._row['say']}”",
            f"Expect an ember in {band_words(self.ember)}{sooner}.",
            f"Before the first stroke: the safety list. {_arm_words(self.then.hold)}",
        )

    @property
    def _row(self):
        alone = "nothing" if self.advice.in_time else "stuck"
        return table("coach_cards")[self.first.key if self.first else alone]


def coaching(learner: Learner, *, evenings: Sequence[TimedTry] = ()) -> Coaching:
    """Tell what one learner should change first, and which beat to hold then.

    Parameters
    ----------
    learner : Learner
        The learner.
    evenings : sequence of TimedTry, optional
        Tries of a reader's own log.

    Returns
    -------
    Coaching
        What to tell.

    Raises
    ------
    InputError
        If that is no learner, or the tries are none.

    References
    ----------
    .. [1] :func:`fireheat.coach.moves.advice` and :func:`fireheat.coach.pace.pace`.

    Examples
    --------
    >>> found = coaching(Learner())
    >>> found.first.name, round(found.strokes_per_minute)
    ('a thinner spindle', 118)
    """
    if not isinstance(learner, Learner):
        raise InputError(f"learner is {learner!r}; allowed: Learner(...)")
    found = _coaching(learner)
    if not evenings:
        return found
    state, measured = found.learner.state, learner.measured
    return replace(found, ours=next_try(state, evenings, measured=measured))


@lru_cache(maxsize=64)
def _coaching(learner):
    """Tell it once for each learner."""
    found = advice(learner)
    moves = tuple(sorted(found.moves, key=lambda move: not move.in_time))
    first = _first(found, moves)
    then = first.then if isinstance(first, Move) else found.learner
    beat = pace(then)
    return Coaching(
        advice=found,
        first=first,
        moves=moves,
        tied=_tied(found, first),
        now=_seen(found.learner, found.now),
        thens=tuple(_seen(move.then, move.ember) for move in moves[:MOST_SHOWN]),
        beat=beat,
        strokes_per_minute=_held(then, beat),
    )


def _first(found, moves):
    """Choose what gets the ember there before the arm is spent; else what saves most."""
    if moves and moves[0].in_time:
        return moves[0]
    if not found.in_time:
        lasting = [aside for aside in found.asides if aside.in_time]
        if lasting:
            return lasting[0]
    return moves[0] if moves else None


def _tied(found, first):
    if not isinstance(first, Move) or first.key not in found.tied:
        return ()
    alike = (move for move in found.moves if move.key in found.tied and move is not first)
    return tuple(move for move in alike if move.in_time == first.in_time)


def _seen(learner, ember):
    """Return both bands of a try about its marched time; the wood's by the march's quick shadow."""
    low, quick, high = quick_times(learner.state).ember
    near = ember.likely / quick if isfinite(quick) and isfinite(ember.likely) else 1.0
    return TwoBands(Band(low * near, ember.likely, high * near).about_likely(), ember)


def _held(learner, beat):
    """Return the learner's own beat, or the nearest one that the arm can keep up."""
    if beat.low is None or beat.high is None:
        return None
    return learner.strokes_at(min(max(learner.state.effort.speed, beat.low), beat.high))


class Changed(NamedTuple):
    """What single changes leave of one learner's time.

    Attributes
    ----------
    before, after : float
        The ember now, and once the first thing is changed. [s]
    ratio : Band of float
        New time over old, once the first thing is changed. [1]
    left : mapping
        By each change, its time over the time now; one where it is not to be had. [1]
    """

    before: float
    after: float
    ratio: Band[float]
    left: Mapping[str, float]


def changed_by(settings: Mapping[str, Any]) -> Changed:
    """Tell what single changes leave of the time of a learner of a story.

    Parameters
    ----------
    settings : mapping
        As :func:`fireheat.answers.questions.try_of` takes them, with strokes, and ``"arm"``, one of
        the example arms. [SI]

    Returns
    -------
    Changed
        For each change.

    Raises
    ------
    InputError
        If a value cannot be.

    Examples
    --------
    >>> strokes = {"stroke_length": 0.5, "strokes_per_minute": 80.0}
    >>> found = changed_by(strokes | {"arm": "ten_year_old"})
    >>> round(found.left["thinner"], 2), found.left["rest"]
    (0.64, 1.0)
    """
    if not isinstance(settings, Mapping) or not {"arm", *STROKES} <= {*settings}:
        raise InputError(f"settings is {settings!r}; allowed: with an arm, and strokes")
    given = dict(settings)
    arm, stroke = arms()[choose("arm", given.pop("arm"), tuple(arms()))], given["stroke_length"]
    found = coaching(Learner(state=try_of(given), arm=arm, stroke_length=stroke))
    left = {move.key: move.ratio.likely for move in found.moves}
    same = {key: 1.0 for key in table("moves")["moves"] if key not in left}
    ratio = found.first.ratio if isinstance(found.first, Move) else Band(1.0, 1.0, 1.0)
    return Changed(found.advice.now.likely, found.ember.likely, ratio, left | same)


def _arm_words(hold):
    if hold >= TOO_LONG:
        return "Rest when tired."
    return f"This arm is spent after {time_words(hold)}: rest before that."
