"""The coach's pocket card: look, beat, first smoke, and what was seen with one thing to try."""

from dataclasses import replace

from ..answers.next_try import after_evenings
from ..coach.learner import Learner
from ..coach.pace import pace
from ..coach.seen import likely_causes, observations
from ..coach.smoke_now import after_smoke
from ..data import table
from ..figures.next_try import place_words, strange_words
from ..kit.kit import Try
from ..texts import both_units
from ..trials.our_fire import OurFire
from ..words import band_words, time_words, tries_words
from .sheet import Sheet, caution_lines

_SMOKES = (10.0, 15.0, 20.0, 30.0, 45.0)  # s: when first smoke is seen
_STROKES = (0.40, 0.50, 0.60)  # m
_THICKNESSES = (0.011, 0.016, 0.022)  # m: half of a thick one, an ordinary one, a thick one
_BEFORE = ("Fire is", "Water and", "Hair, cords", "Knees and", "Spindle cracks?")
_AFTER = "Never leave an ember"
_FIRST = 6  # signs beside the beats; the others stand below
_LOOKS, _SAYS = ("nothing", "slower", "catcher"), ("nothing", "firmer", "rest")
_WHEN = {
    "early": "Before that time",
    "soon": "In that time",
    "spent": "The arm fades",
    "late": "That time is over",
}


def pocket_card(fire: OurFire | None = None) -> Sheet:
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
        f"<h2>Before the first stroke</h2>{_list(caution_lines(_BEFORE))}"
        f"{_evenings(fire) if fire else _look_and_say()}",
        f"{_short_look_and_beats() if fire else _beats()}"
        f"<h2>What was seen? Try one thing</h2>{_tried(signs[:_FIRST])}",
        _smoke_now("By the handbook, from" if fire else "From"),
        f"<h2>What was seen? (more)</h2>{_tried(signs[_FIRST:])}<p><b>After.</b> {after}</p>",
    )
    quarters = "".join(f'<div class="quarter">{part}</div>' for part in parts)
    return Sheet(
        "pocket-card",
        "A pocket card for the coach",
        f'<div class="card cut">{quarters}</div>',
        lead="Cut along the dashes. Fold along the lines: right half behind, then lower half.",
        cautions=("Never in a tent",),
        source="Reckoned for an ordinary kit and invented learners; looks: common practice.",
        use="For a leader’s pocket: what to look for, what to say, what to try.",
    )


def _quoted(words):
    return f"“{words}”"


def _list(lines):
    return f"<ul>{''.join(f'<li>{line}</li>' for line in lines)}</ul>"


def _look_and_say():
    return f"<h2>Look for</h2>{_list(_told('look', _LOOKS))}<h2>Say</h2>{_list(_sayings())}"


def _short_look_and_beats():
    """Spell in less room what gives way to a club's own evenings."""
    beats = ", ".join(f"{beat} at {stroke}" for stroke, beat in map(_beat, _STROKES))
    return (
        f"<p><b>Look for</b> {'; '.join(one.rstrip('.') for one in _told('look', _LOOKS))}.</p>"
        f"<p><b>Beat that an ordinary arm can hold</b>, in strokes a minute: {beats}.</p>"
    )


def _told(key, rows):
    return [table("coach_cards")[row][key] for row in rows]


def _sayings():
    return [_quoted(words) for words in _told("say", _SAYS)]


def _evenings(fire):
    """Spell the handbook's bands and those of a club's own evenings, and which tries these are."""
    found = {wide: after_evenings(fire, Try().changed(diameter=wide)) for wide in _THICKNESSES}
    rows = "".join(
        f"<tr><td>{both_units('diameter', wide)}</td><td>{band_words(one.handbook)}</td>"
        f"<td>{band_words(one.evenings)}</td></tr>"
        for wide, one in found.items()
    )
    one = next(iter(found.values()))
    counted = tries_words(one.tries, sum(one.observed for one in fire.tries))
    odd = f" <b>{strange_words(one)}</b> {place_words(one)}" if one.strange else ""
    say = "" if odd else f"<p><b>Say</b> {' '.join(_sayings())}</p>"  # there is room for one
    kit = Try().values()
    at = " and ".join(both_units(key, kit[key]) for key in ("force", "speed"))
    return (
        f"{say}<table><tr><th>Ember, by thickness</th><th>Handbook</th>"
        f"<th>Your evenings</th></tr>{rows}</table>"
        f"<p>Nine tries of ten, at {at}. Your log: {counted}.{odd}</p>"
    )


def _beats():
    """Spell the beats that an ordinary arm can hold until the likely ember, by stroke."""
    rows = "".join(
        f"<tr><td>{stroke}</td><td>{beat}</td></tr>" for stroke, beat in map(_beat, _STROKES)
    )
    return (
        "<h2>Beat that an ordinary arm can hold</h2>"
        f"<table><tr><th>Stroke</th><th>Strokes a minute</th></tr>{rows}</table>"
    )


def _beat(length):
    learner = replace(Learner(), stroke_length=length)
    held = pace(learner)
    ends = (f"{learner.strokes_at(speed):.0f}" for speed in (held.low, held.high) if speed)
    return both_units("stroke_length", length), " to ".join(ends)


def _smoke_now(start):
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
        f'<p class="note">{start} the first stroke on, nine tries of ten.</p>'
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
