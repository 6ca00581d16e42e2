"""A derivation shown one step at a time, for projecting and talking over."""

import html
from collections.abc import Sequence
from typing import TYPE_CHECKING

import ipywidgets as widgets

from ..quantities import InputError
from .base import Kept, Voice, bar, button
from .units import GivenUnits, followed

if TYPE_CHECKING:
    from ..derivation.symbols import Step


class Stepper(Kept):
    """Show the steps of a derivation one at a time.

    Parameters
    ----------
    steps : sequence of Step
        What to show, in order.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this one alone; those chosen for all, if left out.

    Raises
    ------
    InputError
        If these are no steps, or there are no such units.
    """

    def __init__(self, steps: "Sequence[Step]", *, units: GivenUnits = None):
        from ..derivation.symbols import Step  # late: sympy takes a second to load

        if not (isinstance(steps, Sequence) and all(isinstance(step, Step) for step in steps)):
            raise InputError(f"steps are {steps!r}; allowed: a sequence of Step(...)")
        self.steps, self.at = tuple(steps), 0
        self.page, self.voice, self.dots = widgets.HTMLMath(), Voice(), widgets.HTML()
        self.page.add_class("fh-step")
        self.dots.add_class("fh-dots")
        self._back = button("Back", lambda: self.go(self.at - 1))
        self._next = button("Next step", lambda: self.go(self.at + 1))
        self._back.add_class("fh-key-back")  # the browser presses them for a presenter's keys
        self._next.add_class("fh-key-next")
        again = button("Start again", lambda: self.go(0))
        # On top, where a step of any height leaves them under the pointer.
        super().__init__([bar(self._back, self._next, again, self.dots), self.voice, self.page])
        self.add_class("fireheat")
        self.add_class("fh-steps")
        self.holder = followed(units)
        self.go(0)
        self.holder.follow(self)

    def units_moved(self) -> None:
        """Say the step in other units."""
        self.go(self.at)

    def _told(self, step):
        return step.told(self.holder.system)

    def go(self, number: int) -> str:
        """Turn to a step, counted from 0, and return its sentence."""
        self.at = min(max(number, 0), len(self.steps) - 1)
        step = self.steps[self.at]
        self.page.value = (
            f"<h3>{html.escape(step.title)}</h3><p>{html.escape(self._told(step))}</p>"
            f'<div class="fh-equation">$${html.escape(step.latex)}$$</div>'
        )
        marks = (
            "now" if place == self.at else "seen" if place < self.at else ""
            for place in range(len(self.steps))
        )
        self.dots.value = "".join(f'<i class="fh-{mark}"></i>' for mark in marks)
        self.voice.text = f"Step {self.at + 1} of {len(self.steps)}: {step.title}"
        self._back.disabled = self.at == 0
        self._next.disabled = self.at == len(self.steps) - 1
        return self.sentence()

    def sentence(self) -> str:
        """Say which step is shown and what it says."""
        return f"{self.voice.text}. {self._told(self.steps[self.at])}"

    def _repr_mimebundle_(self, **kwargs):
        """Leave every step in the notebook, for readers where no kernel runs."""
        data, kept = super()._repr_mimebundle_(**kwargs)
        written = (
            f"**{number}. {step.title}.** {self._told(step)}\n\n$${step.latex}$$"
            for number, step in enumerate(self.steps, start=1)
        )
        return data | {"text/markdown": "\n\n".join(written)}, kept
