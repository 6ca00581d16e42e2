"""What-if cards of a lesson: the story, what it leaves free, and how the task stands."""

import dataclasses
import html
import json
from collections.abc import Mapping
from typing import Any

from ..answers.questions import STROKES
from ..lessons import card
from ..quantities import METRIC, US, default
from ..texts import in_units
from .lesson_parts import explorer, in_both

_BROKEN = ("change", "reach", "turn", "hold", "dust")
# What a reply may say of a try; the page puts in what was found.
_PLACES = (
    *("force", "speed", "diameter", "friction", "moisture", "burn_in_depth"),
    *("stroke", "strokes", "slow", "hold", "dust", "count", "allowed"),
)


def carded(key: str, picture: str) -> str:
    """Deal a what-if card: its story, and its sliders where scripts run, else its picture.

    Parameters
    ----------
    key : str
        The card.
    picture : str
        What stands there without a script, as HTML.

    Raises
    ------
    InputError
        If there is no such card.

    Examples
    --------
    >>> carded("tired_arms", "").count("Tired arms")  # in either system of units
    2
    """
    rules = card(key).rules
    moving = explorer(picture, rules.start, free=rules.free, goal=rules.below)
    judged = html.escape(json.dumps(_judging(key), ensure_ascii=False))
    return (
        f'<section class="card" data-card="{judged}">{in_both(_told, key)}'
        f'<p class="verdict" aria-live="polite"></p>{moving}</section>\n'
    )


def _told(key, system):
    row = card(key, system)
    title, story, task, hint = (
        html.escape(words, quote=False) for words in (row.title, row.story, row.task, row.hint)
    )
    return (
        f"<h3>{title}</h3><p>{story}</p><p><b>{task}</b></p>"
        f'<details class="hint"><summary>A hint</summary><p>{hint}</p></details>'
    )


def _judging(key: str) -> dict[str, Any]:
    """Collect what the page needs to say how a task stands."""
    row = card(key)
    rules = row.rules
    arm = dataclasses.asdict(rules.person)
    told = {system: _words(key, system) for system in (METRIC, US)}
    return {
        **{name: getattr(rules, name) for name in ("free", "below", "change_at_most")},
        **{name: dict(getattr(rules, name)) for name in ("at_least", "at_most")},
        "arm": arm,
        "strokes": set(STROKES) <= {*rules.start, *rules.free},
        "acceleration": default("acceleration"),
        "ways": row.ways,
        "words": told,
    }


def _words(key: str, system: str) -> Mapping[str, Any]:
    row, rules = card(key, system), card(key).rules
    places = {place: f"{{{place}}}" for place in _PLACES}
    broken = {*_BROKEN, *rules.at_least, *rules.at_most}
    replies = {why: in_units(row.replies[why], system, **places) for why in sorted(broken)}
    return {"hint": row.hint, "replies": replies}
