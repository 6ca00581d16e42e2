"""How many tries it takes to see a change: what physics expects of it, and what luck hides."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..kit.kit import Try
from ..quantities import METRIC, US, InputError, check_ordinary, choose, default, quantity
from ..trials.plan import MOST_A_SIDE, Plan, Turn, plan, running_order
from .pairs import CHANGES, Pairs, paired

TOO_MANY = f"over {MOST_A_SIDE}"  # tries a side, in words


@dataclass(frozen=True, eq=False)
class Planned:
    """Tries for one change.

    Attributes
    ----------
    pairs : Pairs
        What physics expects of it.
    plan : Plan or None
        Tries for the likely ratio; None where no number that a club makes is enough.
    most : Plan or None
        Tries for the end of the ratio's band that is hardest to see.
    """

    pairs: Pairs
    plan: Plan | None
    most: Plan | None


def planned(state: Try, *, change: str, give_up: float = default("give_up")) -> Planned:
    """Plan tries for a change.

    Parameters
    ----------
    state : Try
        The one side.
    change : str
        A key of ``CHANGES``: what is otherwise on the other.
    give_up : float, optional
        Patience. [s]

    Returns
    -------
    Planned
        What to expect, and how many tries a side show it.

    Raises
    ------
    InputError
        If there is no such change, or patience is none.

    References
    ----------
    .. [1] :func:`fireheat.answers.pairs.paired`, :func:`fireheat.trials.plan.plan`.

    Examples
    --------
    >>> found = planned(Try().changed(diameter=0.022), change="thinner")
    >>> found.plan.tries_a_side < 8
    True
    """
    check_ordinary(give_up=give_up)
    found = paired(state, change=change)
    quick = min(found.one.wood.likely, found.other.wood.likely)
    hard = min((found.ratio.low, found.ratio.high), key=lambda end: abs(np.log(max(end, 1e-9))))
    return Planned(
        pairs=found,
        plan=_plan(found.ratio.likely, quick, give_up),
        most=_plan(hard, quick, give_up),
    )


def _plan(ratio, quick, give_up):
    """Plan for a ratio, the slow over the quick; None where it cannot be told."""
    if not (0 < quick < np.inf):
        return None
    slow = max(ratio, 1 / ratio) if ratio > 0 else np.inf
    low, high = quantity("ratio").low, quantity("ratio").high
    try:
        return plan(float(np.clip(slow, low, high)), time=float(quick), give_up=give_up)
    except InputError:
        return None


def order_of(
    state: Try, found: Planned, *, learners: Sequence[str], system: str = METRIC
) -> tuple[Turn, ...]:
    """Make the running order of planned tries, by lot.

    Parameters
    ----------
    state : Try
        The one side.
    found : Planned
        The plan.
    learners : sequence of str
        Their codes.
    system : str, optional
        ``"metric"`` or ``"us"``.

    Returns
    -------
    tuple of Turn
        The order; none, where nothing can be told.

    Raises
    ------
    InputError
        If there is no learner, or there are no such units.

    Examples
    --------
    >>> state = Try().changed(diameter=0.022)
    >>> order = order_of(state, planned(state, change="thinner"), learners=("L01", "L02"))
    >>> sorted({turn.setting for turn in order})
    ['11.0 mm', '22.0 mm']
    """
    choose("units", system, (METRIC, US))
    if found.plan is None:
        return ()
    _, key, factor = next(one for one in CHANGES.values() if one[0] == found.pairs.change)
    row = quantity(key)
    sides = [row.text(state.value(key) * times, system) for times in (1.0, factor)]
    return running_order(sides, rounds=found.plan.tries_a_side, learners=learners)
