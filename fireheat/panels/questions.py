"""Predict, then see; and questions that answer back. Nothing is stored, nobody is graded."""

import html

import ipywidgets as widgets
import numpy as np

from ..bands import Band
from ..lessons import Question, card, prediction, self_check
from ..quantities import METRIC, InputError
from ..words import NEVER, time_words
from .base import Kept, Voice, button, unbroken
from .explorer import Explorer

_TO_DO = "not tried yet"


class _Asked(widgets.VBox):
    """One question with its options and the line that answers."""

    def __init__(self, question: Question, tail: list):
        self.question = question
        self.options = {option.text: option for option in question.options}
        if question.number is None:
            self.radio = widgets.RadioButtons(options=list(self.options), value=None)
        else:
            label = f"Your number ({question.number.unit})"
            self.radio = widgets.BoundedFloatText(value=0.0, min=0.0, max=1e6, description=label)
        self.voice = Voice(text=_TO_DO)
        words = unbroken(html.escape(question.text))
        asked = widgets.HTML(f'<div class="fh-question">{words}</div>')
        super().__init__([asked, self.radio, *tail, self.voice])
        self.add_class("fh-ask")

    def say(self, right: bool, words: str) -> None:
        """Answer, and show by more than colour whether it was right."""
        self.add_class("fh-yes" if right else "fh-no")
        self.remove_class("fh-no" if right else "fh-yes")
        self.voice.text = words


class Predict(Kept):
    """A prediction to commit to before a panel shows the answer.

    Parameters
    ----------
    key : str
        The prediction, see :mod:`fireheat.lessons`.
    then : widget, optional
        What appears once the prediction stands.

    Raises
    ------
    InputError
        If there is no such prediction, or what comes then is no widget.
    """

    def __init__(self, key: str, then: widgets.Widget | None = None):
        if not isinstance(then, widgets.Widget | None):
            raise InputError(f"what comes then is {then!r}; allowed: a panel or another widget")
        self._commit = button("This is my prediction", self._committed)
        self._commit.disabled = True
        self.asked = _Asked(prediction(key), [self._commit])
        self.asked.radio.observe(self._chosen, names="value")
        self._then = then
        super().__init__([self.asked])
        self.add_class("fireheat")

    def _chosen(self, change):
        self._commit.disabled = not change["new"]

    def _committed(self):
        if self.asked.radio.disabled or not self.asked.radio.value:
            return  # a prediction is made once, and only by choosing
        judge = _judge_choice if self.asked.question.number is None else _judge_number
        self.asked.say(*judge(self.asked.question, self.asked.radio.value))
        self.asked.radio.disabled = self._commit.disabled = True
        if self._then is not None:
            self.children = [self.asked, self._then]

    def commit(self, given: str | float) -> str:
        """Choose an option or give a number, and commit to it; return the answer."""
        self.asked.radio.value = given
        self._committed()
        return self.asked.voice.text

    def sentence(self) -> str:
        """Say the question and how it stands."""
        return f"Predict: {self.asked.question.text} [{self.asked.voice.text}]"


def _judge_choice(question, given):
    """Compare a chosen option with the right one; return whether it is right, and the reply."""
    right = next(option for option in question.options if option.right)
    if given == right.text:
        opening = f"Yes: {question.found}." if question.found else "Yes."
    else:
        found = f" (worked out: {question.found})" if question.found else ""
        opening = f"You said “{given}”. It is “{right.text}”{found}."
    return given == right.text, f"{opening} {right.reply}"


def _judge_number(question, given):
    """Compare a given number with the computed one; close is right."""
    number = question.number
    close = number.value / number.within <= given <= number.value * number.within
    which = "low" if given < number.value else "high"
    plain = np.format_float_positional(given, precision=6, fractional=False, trim="-")
    said = f"{plain} {number.unit}"
    opening = "Yes, close enough" if close else f"You said {said}, which is too {which}"
    return close, f"{opening}: it is {question.found}. {number.because}"


class SelfCheck(Kept):
    """Questions that say "not tried yet", "not yet, because…" or "yes"; they never raise.

    Parameters
    ----------
    *keys : str
        The questions, see :mod:`fireheat.lessons`.
    """

    def __init__(self, *keys: str):
        self.asked = [_Asked(self_check(key), []) for key in keys]
        for asked in self.asked:
            asked.radio.observe(lambda _, asked=asked: _reply(asked), names="value")
        super().__init__(list(self.asked))
        self.add_class("fireheat")

    def sentence(self) -> str:
        """Say how the answers stand."""
        states = [asked.voice.text for asked in self.asked]
        count = "1 question" if len(states) == 1 else f"{len(states)} questions"
        return f"Self-check, {count}: " + "; ".join(states)


def _reply(asked):
    option = asked.options[asked.radio.value]
    opening = "Yes:" if option.right else "Not yet, because"
    asked.say(option.right, f"{opening} {option.reply}")


class WhatIf(Explorer):
    """A what-if card: the explorer with a story, a start, and something to reach.

    Parameters
    ----------
    key : str
        The card, see :mod:`fireheat.lessons`.
    units : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, key: str, *, units: str = METRIC):
        self.card = card(key)
        self.fixed = self.card.fixed
        super().__init__(units=units)
        for name, value in self.card.start.items():
            self.control[name].start = value
        self.reset()
        self.more.value = not self.folded.isdisjoint(self.card.start)
        for name in self.fixed:
            self.control[name].widget.disabled = True

    def results(self, answer, before):
        """Put the story, and how the task stands, above the results."""
        return (
            f'<div class="fh-question">{self.card.title}</div>'
            f'<div class="fh-story">{self.card.story}<br><b>{self.card.task}</b>'
            f"<br><i>{self.stands(answer)}</i></div>{super().results(answer, before)}"
        )

    def draw(self, answer, before):
        """Draw the picture; how the task stands is spoken first, in the line above the sliders."""
        sketch, words = super().draw(answer, before)
        return sketch, f"{self.stands(answer)} {words}"

    def stands(self, answer) -> str:
        """Say how the task stands: not tried yet, not yet and why, or yes."""
        moved = {key for key, control in self.control.items() if control.value != control.start}
        if not moved - {*self.view, *self.fixed}:
            return f"{_TO_DO.capitalize()}."
        value = getattr(answer.now, self.card.measure)
        slow = value.high if isinstance(value, Band) else value
        if slow < self.card.below:
            return f"✔ Yes: {_in_time(slow, self.card.below)}. Now defend how you got there."
        late = _too_late(slow, self.card.below)
        return f"✘ Not yet, because {late}. Hint: {self.card.hint}"

    def sentence(self) -> str:
        """Say the card and what the panel shows."""
        return f"What if, {self.card.title}: {super().sentence()}"


def _in_time(slow, below):
    """Say how late the slow end is; where it reads like the goal, that it is under it."""
    end = time_words(slow)
    return f"{'just under ' if end == time_words(below) else ''}{end} at the slow end"


def _too_late(slow, below):
    """Say why the goal is missed, also where the slow end reads just like it."""
    end, goal = time_words(slow), time_words(below)
    if end == NEVER:
        return f"at the slow end there is never an ember, and it has to come in under {goal}"
    if end == goal:
        return f"the slow end is not quite under {goal}"
    return f"the slow end is {end}, and it has to be under {goal}"
