"""The coach's pocket card: look, beat, first smoke, and what was seen with one thing to try."""

from dataclasses import replace

from ..coach.learner import Learner
from ..coach.pace import pace
from ..coach.seen import likely_causes, observations
from ..coach.smoke_now import after_smoke
from ..data import table
from ..texts import both_units
from ..trials.our_fire import OurFire
from ..words import band_words, time_words
from .sheet import Sheet, caution_lines

_SMOKES = (10.0, 15.0, 20.0, 30.0, 45.0)  # s: when first smoke is seen
_STROKES = (0.40, 0.50, 0.60)  # m
_BEFORE = ("Fire is", "Water and", "Hair, cords", "Knees and")
_AFTER = "Never leave an ember"
_FIRST = 6  # signs beside the beats; the others stand below
_LOOKS, _SAYS = ("nothing", "slower", "catcher"), ("nothing", "firmer", "rest")
_WHEN = {
    "early": "Before that time",
    "soon": "In that time",
    "spent": "The arm fades",
    "late": "That time is over",
}


def pocket_card(fire: OurFire | None = None) -> Sheet:  # noqa: ARG001
    """Make the card that a coach folds to a quarter.

    Parameters
    ----------
    fire : OurFire, optional
        What a club's own evenings tell, where it has any.

    Examples
    --------
    >>> "bow stalls" in pocket_card().body
    True
    """
    signs, (after,) = list(observations()), caution_lines((_AFTER,))
    parts = (
        _front(),
        f"{_beats()}<h2>What was seen? Try one thing</h2>{_tried(signs[:_FIRST])}",
        _smoke_now(),
        f"<h2>What was seen? (more)</h2>{_tried(signs[_FIRST:])}<p><b>After.</b> {after}</p>",
    )
    quarters = "".join(f'<div class="quarter">{part}</div>' for part in parts)
    return Sheet(
        "pocket-card",
        "A pocket card for the coach",
        f'<div class="card cut">{quarters}</div>',
        lead="Cut along the dashes. Fold the right half behind, then the lower half behind.",
        cautions=("Spindle cracks?",),
        source="Reckoned for an ordinary kit and invented learners; looks: common practice.",
        use="For a leader’s pocket: what to look for, what to say, what to try.",
    )


def _quoted(words):
    return f"“{words}”"


def _list(lines):
    return f"<ul>{''.join(f'<li>{line}</li>' for line in lines)}</ul>"


def _front():
    """Spell what is true before the first stroke, what to look for and what to say."""
    cards = table("coach_cards")
    return (
        f"<h2>Before the first stroke</h2>{_list(caution_lines(_BEFORE))}"
        f"<h2>Look for</h2>{_list(cards[key]['look'] for key in _LOOKS)}"
        f"<h2>Say</h2>{_list(_quoted(cards[key]['say']) for key in _SAYS)}"
    )


def _beats():
    """Spell the beats that an ordinary arm can hold until the likely ember, by stroke."""
    rows = "".join(_beat(length) for length in _STROKES)
    return (
        "<h2>Beat that an ordinary arm can hold</h2>"
        f"<table><tr><th>Stroke</th><th>Strokes a minute</th></tr>{rows}</table>"
    )


def _beat(length):
    learner = replace(Learner(), stroke_length=length)
    held = pace(learner)
    ends = (f"{learner.strokes_at(speed):.0f}" for speed in (held.low, held.high) if speed)
    return f"<tr><td>{both_units('stroke_length', length)}</td><td>{' to '.join(ends)}</td></tr>"


def _smoke_now():
    """Spell when the ember may come after first smoke, and what to say meanwhile."""
    learner, words = Learner(), table("moves")["smoke_now"]
    rows = "".join(
        f"<tr><td>{time_words(smoke)}</td><td>{band_words(_window(learner, smoke))}</td></tr>"
        for smoke in _SMOKES
    )
    said = "".join(
        f"<dt>{when}</dt><dd>{_quoted(words[kind]['say'])} "
        f"<span>Not: {_quoted(words[kind]['not_say'])}</span></dd>"
        for kind, when in _WHEN.items()
    )
    return (
        "<h2>It smokes! What now?</h2><table><tr><th>First smoke after</th>"
        f"<th>Ember likely after</th></tr>{rows}</table>"
        '<p class="note">From the first stroke on, nine tries of ten.</p>'
        f"<dl>{said}</dl>"
    )


def _window(learner, smoke):
    return after_smoke(learner, smoke_time=smoke, elapsed=smoke).window


def _tried(signs):
    """Spell for each sign alone the likeliest cause, and the one thing to try."""
    rows = ""
    for sign in signs:
        cause = likely_causes([sign]).causes[0].cause
        name = observations()[sign].name
        rows += f"<dt>{name} <span>· {cause.name}?</span></dt><dd>{cause.next_step}</dd>"
    return f"<dl>{rows}</dl>"
