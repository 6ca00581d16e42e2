"""Questions, cards and pictures of a lesson, standing still: what is answered is folded away.

On a screen an answer is folded under its question. On paper it stands on a page of its own, at the
end, with the answer's number; so each is spelled twice, and one of the two is not shown.
"""

import html
import json
from collections.abc import Callable, Mapping
from typing import Any

from ..kit.bowing import bow_speed
from ..lessons import prediction, self_check, worked_out
from ..quantities import METRIC, US

_LETTERS = "ABCDEFGH"
_OPEN = "Open this when you have chosen."
_COMMIT = "That is my guess"
_STROKES = ("stroke_length", "strokes_per_minute")
_MOVED = (
    *("diameter", "force", "friction", "speed", "burn_in_depth", "moisture", "wood", *_STROKES),
    "temperature_ambient",
)
_MOVE_IT = "Move it yourself"


def _where(number, asked=""):
    return f'<p class="paper">{asked} Answer {number} stands at the end.</p>\n'


class Answers:
    """What is folded on a page, in order, to be printed at its end."""

    def __init__(self) -> None:
        self._told: list[str] = []

    def fold(self, summary: str, answer: str, *, under: str = "", besides: str = "") -> str:
        """Fold an answer to what stands under a heading; what is besides is for a screen alone."""
        asks = summary if summary.endswith("?") else ""
        number = self.later(": ".join(filter(None, (under, asks))) or summary, answer)
        return (
            f'<details class="answer"><summary>{summary}</summary>{answer}{besides}</details>'
            f"{_where(number, asks)}"
        )

    def later(self, summary: str, answer: str) -> int:
        """Keep an answer for the last page alone, and return its number."""
        number = len(self._told) + 1
        self._told.append(f"<h3>Answer {number} · {summary}</h3>{answer}")
        return number

    def page(self) -> str:
        """Return the last page, for paper alone; nothing where nothing was folded."""
        if not self._told:
            return ""
        return f'<section class="answers"><h2>Answers</h2>{"".join(self._told)}</section>'


def for_notebook(words: str) -> str:
    """Fold away what only the notebook can do.

    Parameters
    ----------
    words : str
        The words, as HTML.

    Examples
    --------
    >>> for_notebook("<p>Press it.</p>").count("<details")
    1
    """
    return f'<details class="notebook"><summary>In the notebook</summary>{words}</details>'


def asked(key: str, answers: Answers, *, then: str = "") -> str:
    """Ask a prediction: choices, or room for a number, to commit to, and the folded answer.

    Parameters
    ----------
    key : str
        The prediction.
    answers : Answers
        Where its answer goes, too.
    then : str
        What moves once the answer is open, as HTML.

    Raises
    ------
    InputError
        If there is no such prediction.

    Examples
    --------
    >>> told = Answers()
    >>> asked("twice_force", told).count("<li>"), told.page().count("<h3>")
    (4, 1)
    """
    words = in_both(lambda key, system: _text(prediction(key, system).text), key, "span")
    move = f'<details class="move"><summary>{_MOVE_IT}</summary>{then}</details>' if then else ""
    folded = answers.fold(_OPEN, in_both(_answer, key), under=words, besides=move)
    commit = (
        f'<p class="commit"><button type="button" hidden>{_COMMIT}</button>'
        '<span role="status"></span></p>'
    )
    return f'<section class="ask guess">{in_both(_question, key)}{commit}{folded}</section>\n'


def _question(key, system):
    row = prediction(key, system)
    choices = "".join(
        f'<li><label><input type="radio" name="{key}" value="{at}">{_text(option)}</label></li>'
        for at, option in enumerate(row.options)
    )
    given = f'<ol class="choices">{choices}</ol>' if choices else _blank(row.unit)
    return f'<fieldset><legend class="question">{_text(row.text)}</legend>{given}</fieldset>'


def _blank(unit):
    number = '<input inputmode="decimal" autocomplete="off" size="7">'
    return f'<p class="blank"><label>Your number: {number}</label> {_text(unit)}</p>'


def _answer(key, system):
    row, found = prediction(key, system), worked_out(key, system)
    letter = f"{_LETTERS[list(row.options).index(found.right)]}: " if found.right else ""
    lead = f"{letter}{found.right or found.found}."
    more = [found.found] if found.right and found.found != found.right else []
    more += [f"With all we do not know: {found.known}"] if found.known else []
    told = " ".join(f"{part[0].upper()}{part[1:]}." for part in more)
    explained = " ".join(found.explain.split())
    return f"<p><b>{_text(lead)}</b> {_text(told)}</p><p>{_text(explained)}</p>"


def checked(key: str, answers: Answers) -> str:
    """Ask a question of a self-check; each option opens to its reply.

    Raises
    ------
    InputError
        If there is no such question.

    Examples
    --------
    >>> checked("why_four", Answers()).count("<details")
    3
    """
    number = answers.later(in_both(_asks, key, "span"), in_both(_right, key))
    return f'<section class="ask">{in_both(_check, key)}{_where(number)}</section>\n'


def _asks(key, system):
    return _text(self_check(key, system).text)


def _check(key, system):
    options = "".join(
        f'<details class="option"><summary>{_text(option.text)}</summary>'
        f"<p>{_reply(option)}</p></details>"
        for option in self_check(key, system).options
    )
    return f'<p class="question">{_asks(key, system)}</p>{options}'


def _right(key, system):
    (right,) = (option for option in self_check(key, system).options if option.right)
    return f"<p><b>{_text(right.text)}</b></p><p>{_reply(right)}</p>"


def _reply(option):
    opening = "Yes:" if option.right else "Not yet, because"
    return f"{opening} {_text(option.reply)}"


def explorer(
    fallback: str,
    before: Mapping[str, Any],
    after: Mapping[str, Any] = {},
    **card: Any,
) -> str:
    """Make room for an explorer that moves, where scripts run.

    Parameters
    ----------
    fallback : str
        What stands there without them, as HTML.
    before, after : mapping
        Where its sliders start, and what is changed then; with a change the start is kept as
        "before". [SI]
    **card : object
        What a card leaves ``free``, and the ``goal`` that its ember has to come under.

    Examples
    --------
    >>> explorer("", {"force": 60.0}, {"force": 120.0}).count("120")
    1
    """
    sides = [
        {key: value for key, value in _with_speed(side).items() if key in _MOVED}
        for side in (before, after)
    ]
    told = html.escape(json.dumps({"before": sides[0], "after": sides[1], **card}))
    return f'<div class="explorer" data-start="{told}">{fallback}</div>\n'


def _with_speed(side):
    """Add the speed that strokes make."""
    if not all(key in side for key in _STROKES):
        return side
    return {**side, "speed": float(bow_speed(**{key: side[key] for key in _STROKES}))}


def in_both(spell: Callable[..., str], key: str, tag: str = "div") -> str:
    """Spell something in both systems of units; once, if they read alike.

    Parameters
    ----------
    spell : callable
        Returns HTML for a key and ``"metric"`` or ``"us"``.
    key : str
        What to spell.
    tag : str
        What holds each.

    Examples
    --------
    >>> in_both(lambda key, system: key, "same")
    'same'
    """
    metric, us = (spell(key, system) for system in (METRIC, US))
    if metric == us:
        return metric
    return f'<{tag} class="metric">{metric}</{tag}><{tag} class="us">{us}</{tag}>'


def _text(words):
    return html.escape(words, quote=False)
