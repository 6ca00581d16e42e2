"""What was seen of a try that failed: what is likely to be wrong, and the one thing to try next."""

import html

import ipywidgets as widgets

from ..answers.seen import looked
from ..coach.seen import observations
from ..figures.seen import CauseDiscs, before_words
from .base import Panel, cells
from .ticks import Tick
from .units import GivenUnits

_CAUTION = (
    "A failed try is hot: do not touch tip, hole or dust. Wet the heap before you look close. "
    "Your leader and local rules come first."
)


class WhatWasSeen(Panel):
    """Signs to tick, the likely causes in order, the next thing to try, and what tells two apart.

    Parameters
    ----------
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "No ember: what did you see?"

    def __init__(self, units: GivenUnits = None):
        controls = {key: Tick(one.name) for key, one in observations().items()}
        caution = widgets.HTML(f'<div class="fh-hot">{_CAUTION}</div>')
        super().__init__(controls, [cells(controls, *controls), caution], units)
        self.add_class("fh-ticks")

    def answer(self, state):
        """Weigh the causes by what was ticked."""
        return looked([key for key, ticked in state.items() if ticked])

    def draw(self, answer, before):
        """Draw the causes."""
        sketch = self.sketch(CauseDiscs)
        return sketch, sketch.update(answer, before)

    def results(self, answer, before):
        """Spell the one thing to try next, why, and what tells the first two causes apart."""
        found, then = answer.found, f"before: {before_words(before)}" if before else ""
        why = found.causes[0].cause.why if found.causes else ""
        step = html.escape(found.next_step or answer.word)
        doubt = f". {html.escape(answer.word)}" if found.causes and answer.word else ""
        apart = "".join(
            f"<span><b>{place}&ensp;{one.cause.name}?</b> {one.cause.look}</span>"
            for place, one in enumerate(found.first_two, start=1)
        )
        return (
            f'<div class="fh-advice"><span>One thing to try next{doubt}</span><b>{step}</b>'
            f'<small>{why}</small><span class="fh-before">{then}</span></div>'
            f'<div class="fh-apart">{apart}</div>'
        )
