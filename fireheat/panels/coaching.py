"""What this learner should change first: a ranked plan, the beat to hold, a card to take along."""

import html

import ipywidgets as widgets

from ..answers.coaching import coaching
from ..coach.moves import Move
from ..figures.coaching import CoachLanes
from ..figures.explorer import evenings_words
from ..texts import in_units
from ..words import TOO_LONG, band_words, saved_range, time_words
from .base import ROW, bar, cells, tiles, unfolding
from .learner import OneLearner
from .our_log import LogFollower, our_log

_MAIN = "diameter", "force", "strokes_per_minute", "stroke_length", "arm"
_CODES = [f"L{number:02}" for number in range(1, 31)]


class CoachPlan(LogFollower, OneLearner):
    """One learner's changes, the best first, each with the time that it saves.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start; what has no slider stays so.
    arm : str
        One of the example arms, which are assumptions.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "What should change first?"

    def follow(self):
        """Show what the reader's own evenings say, too."""
        our_log.follow(self)

    def lay_out(self, controls):
        """Stand what a leader sees first, all else folded away, and the card."""
        more = cells(controls, *(key for key in controls if key not in _MAIN))
        self.against, self.card = widgets.HTML(), widgets.HTML()
        self.code = widgets.Dropdown(options=_CODES, description="Card for")
        self.code.observe(lambda _: self._write_card(self._shown[0]), names="value")
        others, card = widgets.VBox([self.against]), widgets.VBox([bar(self.code), self.card])
        buttons = bar(
            unfolding("More: wood, block, cord", more),
            unfolding("Why not others?", others),
            unfolding("The card", card),
        )
        buttons.add_class(ROW)
        return [cells(controls, *_MAIN), buttons, more, others, card]

    def answer(self, state):
        """Make the one pure call."""
        return coaching(self.learner(state), evenings=our_log.own)

    def draw(self, answer, before):
        """Draw now and the first changes; write the card, and what is not offered."""
        sketch = self.sketch(CoachLanes)
        self._write_against(answer)
        self._write_card(answer)
        return sketch, sketch.update(answer, before)

    def results(self, answer, before):
        """Spell the one thing to change, what it saves, the ember now, and the beat to hold."""
        first, how = answer.name, answer.how(self.system)
        rows = (
            ("fh-yours", "Sooner by", _sooner, _most_likely(answer)),
            ("fh-ember", "Ember now", lambda one: band_words(one.advice.now), _in_time(answer)),
            ("", "Beat to hold", _beat, answer.beats(self.system)),
        )
        tied = answer.ties
        note = f'<div class="fh-note">{html.escape(tied)}</div>' if tied else ""
        return (
            f'<div class="fh-first"><b>{first}</b><small>{html.escape(how)}</small></div>'
            f"{tiles(rows, answer, before)}{note}"
        )

    def _write_against(self, answer):
        """Say what is not offered, and why; and what helps otherwise."""
        advice = answer.advice
        parts = (("Not now", advice.refused), ("Good, but no time saved", advice.asides))
        told = (
            f"<h3>{heading}</h3><dl>{''.join(self._why(one) for one in rows)}</dl>"
            for heading, rows in parts
            if rows
        )
        self.against.value = f'<div class="fh-reasons">{"".join(told)}</div>'

    def _why(self, one):
        why = html.escape(in_units(one.why, self.system))
        return f"<dt><b>{html.escape(one.name)}</b></dt><dd>{why}</dd>"

    def _write_card(self, answer):
        """Write the card as plain text, to be copied."""
        lines = answer.card(self.code.value, self.system)
        text = html.escape("\n".join(lines))
        self.card.value = (
            f'<textarea class="fh-copy" readonly rows="{len(lines) + 1}" '
            f'aria-label="This learner’s card, to copy">{text}</textarea>'
        )

    def effects(self, answer):
        """Say under the controls what they come to."""
        return self.spoken_learner(self.learner(self.state))


def _sooner(answer):
    first = answer.first
    if not isinstance(first, Move):
        return "–"
    low, likely, high = first.saved
    return "an ember at last" if likely >= TOO_LONG else saved_range(low, high)


def _most_likely(answer):
    if not isinstance(answer.first, Move):
        return "it saves no time" if answer.first else ""
    likely = answer.first.saved.likely
    if likely >= TOO_LONG:
        return "now there is most likely none"
    return f"most likely about {time_words(likely)}; same wood, same luck"


def _in_time(answer):
    """Say whether it comes before the arm is spent, now and after the first change."""
    hold = answer.learner.hold
    spent = f"the arm is spent after {time_words(hold)}" if hold < TOO_LONG else "the arm lasts"
    then = f"; after the change {band_words(answer.ember)}" if answer.first else ""
    ours = f'<span class="fh-ours">{evenings_words(answer.ours)}</span><br>' if answer.ours else ""
    return f"{ours}{spent}{then}"


def _beat(answer):
    held = answer.strokes_per_minute
    return "none" if held is None else f"{held:.0f} a minute"
