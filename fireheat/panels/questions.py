"""Predict, then see; and questions that answer back. Nothing is stored, nobody is graded."""

import html
from typing import Any

import ipywidgets as widgets

from ..answers.questions import try_of
from ..figures.questions import GuessBars, GuessLanes, Shown
from ..lessons import (
    FIRST,
    RISES,
    Answer,
    Prediction,
    headline,
    prediction,
    said_value,
    self_check,
    setting_words,
    spelled,
    worked_out,
)
from ..quantities import InputError, quantity, unit_text
from .base import Kept, Panel, Voice, bar, button, tiles, unbroken
from .units import GivenUnits, Units, followed

_TO_DO = "not tried yet"
_MOST_HANDS = 999
# Units along plain bars, and how many of them one SI unit is.
_AXES: dict[str, tuple[str, float]] = {
    **dict.fromkeys(("power", "pressed_power"), ("W", 1.0)),
    **dict.fromkeys(("dust_share", "rim_share", "stored"), ("%", 100.0)),
    **dict.fromkeys(("helped_share", "harmed_share"), ("%", 100.0)),
    **{"joules": ("J", 1.0), "first_smoke": ("s", 1.0), FIRST: ("s", 1.0)},
    **dict.fromkeys(("tries_needed", "thick_factor"), ("", 1.0)),
}


def _rise(system):
    """Tell the degrees of a rise, and how many of them one kelvin is."""
    row = quantity("warming")
    return unit_text(row.shown_unit(system)), float(row.shown(1.0, system))


class _Asked(widgets.VBox):
    """One question with what can be answered, and the line that answers."""

    def __init__(self, text: str, answers: Any, tail: list):
        self.radio, self.voice, self.question = answers, Voice(text=_TO_DO), widgets.HTML()
        self.ask(text)
        super().__init__([self.question, self.radio, *tail, self.voice])
        self.add_class("fh-ask")

    def ask(self, text: str) -> None:
        """Put the question into words."""
        self.question.value = f'<div class="fh-question">{unbroken(html.escape(text))}</div>'

    def say(self, right: bool | None, words: str) -> None:
        """Answer; where somebody learns by it, show by more than colour whether it was right."""
        for kind, meant in (("fh-yes", True), ("fh-no", False)):
            (self.add_class if right is meant else self.remove_class)(kind)
        self.voice.text = words


class Hands(widgets.HBox):
    """Boxes to count raised hands in, one below each option; what is counted is kept nowhere."""

    def __init__(self, options: list[str]):
        self.boxes = {text: self._box(text) for text in options}
        super().__init__(list(self.boxes.values()))
        self.add_class("fh-hands")

    @staticmethod
    def _box(text):
        hidden = f'<span class="fh-heard"> for {html.escape(text)}</span>'
        return widgets.BoundedIntText(
            value=0,
            min=0,
            max=_MOST_HANDS,
            description=f"hands up{hidden}",
            description_allow_html=True,
            continuous_update=True,  # Space may follow at once, with the field not left
        )

    @property
    def counts(self) -> dict[str, int]:
        """Hands by option."""
        return {text: box.value for text, box in self.boxes.items()}

    def most(self) -> str | None:
        """Return the option with most hands, if one hand is up."""
        counts = self.counts
        return max(counts, key=lambda text: counts[text]) if any(counts.values()) else None

    def empty(self) -> None:
        """Take all hands down."""
        for box in self.boxes.values():
            box.value = 0

    def lock(self, locked: bool) -> None:
        """Let nobody count, or let them again."""
        for box in self.boxes.values():
            box.disabled = locked


class _Reveal(Panel):
    """What came of a guess: the picture, what was found, and why."""

    question = "You guessed. Here it is."

    def __init__(self, asked: Prediction, given: str | float, units: Units):
        self.asked, self.given, self.why = asked, given, widgets.HTML()
        super().__init__({}, [self.why], units)
        self.units.layout.display = "none"  # the panels of the page have it
        for part in (self.keep_button, self.drop_button, self.reset_button):
            part.layout.display = "none"  # nothing moves here, and no key has anything to press
            for kind in part._dom_classes:
                part.remove_class(kind)
        self.add_class("fh-reveal")

    @property
    def found(self) -> Answer:
        """What was worked out, in the units shown now."""
        return worked_out(self.asked.key, self.system)

    def answer(self, state):
        """Nothing moves here: it is worked out already."""
        return self.found

    def show_answer(self):
        """Draw and spell the answer, and say why."""
        self._shown = self.found, None
        paragraphs = html.escape(self.found.explain).split("\n\n")
        why = "".join(f"<p>{unbroken(words)}</p>" for words in paragraphs)
        self.why.value = f'<div class="fh-why">{why}</div>'
        super().show_answer()

    def results(self, answer, before):
        """Spell what was found, and what was said."""
        said = html.escape(self.said)
        known = f"with all we do not know: {answer.known}" if answer.known else ""
        rows = (
            ("fh-ember", "It is", lambda found: html.escape(found.found), known),
            ("fh-yours", "You said", lambda _: said, self.within),
        )
        return tiles(rows, answer)

    @property
    def said(self) -> str:
        """What was said, in words."""
        if not self.asked.unit:
            return str(self.given)
        return f"{self.given:,.10g} {self.asked.unit}"

    @property
    def within(self) -> str:
        """Whether a guess lies within what nobody knows."""
        if not self.found.known or self.found.tries is None:
            return ""
        low, _, high = self.found.tries.ratio
        guess = self.asked.options[str(self.given)]
        return "that lies within what nobody knows" if low <= guess <= high else ""

    def draw(self, answer, before):
        """Draw before, after, the guess and the gap."""
        guess = said_value(self.asked, answer, self.given)
        if answer.tries is not None:
            sketch = self.sketch(GuessLanes, self.asked.measure == "bound")
            pair = self._pair(answer.tries)
            return sketch, sketch.update(*pair, guess=guess, found=answer.after)
        measure = self.asked.measure
        rises = measure in RISES
        unit, per_si = _rise(self.system) if rises else _AXES[measure]
        sketch = self.sketch(GuessBars, unit, per_si)
        values = answer.before, answer.after, guess
        words = [spelled(measure, value, self.system) for value in values]
        share = self.asked.before is None and answer.before > 0
        names = self.asked.names
        said = sketch.update(
            answer.before, answer.after, guess=guess, words=words, names=names, share=share
        )
        return sketch, said

    def _pair(self, tries):
        settings = self.asked.before or {}, self.asked.after
        one, other = (try_of(each).kit.diameter for each in settings)
        spreads = tries.before, tries.after
        for each, own, found in zip(settings, (one, other), spreads, strict=True):
            note = note_words(each, [*each], self.system)
            yield Shown(found, None if one == other else own, note)


def note_words(settings: Any, keys: Any, system: str) -> str:
    """Spell briefly what differs, to stand beside a lane.

    Parameters
    ----------
    settings : mapping
        Values by name. [SI]
    keys : iterable of str
        Which of them.
    system : str
        ``"metric"`` or ``"us"``.

    Returns
    -------
    str
        Such as ``"22 mm"`` or ``"40 cm × 150"``.

    Examples
    --------
    >>> note_words({"stroke_length": 0.4, "strokes_per_minute": 150.0},
    ...            ("stroke_length", "strokes_per_minute"), "metric")
    '40 cm × 150'
    """
    words = [setting_words(key, settings[key], system) for key in keys]
    if "wood" in keys:  # the kind tells enough: there is little room
        return words[list(keys).index("wood")].rpartition(" ")[2].rpartition("-")[2]
    return (" × " if "strokes_per_minute" in keys else ", ").join(words)


class Predict(Kept):
    """A prediction to commit to before anything shows the answer; a group may raise hands.

    Parameters
    ----------
    key : str
        The prediction, see :mod:`fireheat.lessons`.
    then : widget, optional
        What can be moved once the prediction stands. A panel opens with what was before kept, and
        with the change made.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.

    Raises
    ------
    InputError
        If there is no such prediction, or there are no such units, or what comes then is no widget.
    """

    def __init__(self, key: str, then: widgets.Widget | None = None, *, units: GivenUnits = None):
        if not isinstance(then, widgets.Widget | None):
            raise InputError(f"what comes then is {then!r}; allowed: a panel or another widget")
        self.holder, self._then = followed(units), then
        self.asks = prediction(key, self.holder.system)
        self.reveal: _Reveal | None = None
        self._commit = button("This is my prediction", self._committed)
        self._again = button("Ask again", self.ask_again)
        self._move = button("Move it yourself", self.move_it)
        self._commit.disabled = True
        self.hands = Hands(list(self.asks.options))
        answers = _answers(self.asks)
        tail = [self.hands, self._commit] if self.asks.options else [self._commit]
        self.asked = _Asked(self.asks.text, answers, tail)
        self.asked.add_class(f"fh-of-{len(self.asks.options)}")
        for widget in (answers, *self.hands.boxes.values()):
            widget.observe(self._chosen, names="value")
        super().__init__([self.asked])
        self.add_class("fireheat")
        self.holder.follow(self)

    def units_moved(self) -> None:
        """Ask, and answer, in other units."""
        self.asks = prediction(self.asks.key, self.holder.system)
        self.asked.ask(self.asks.text)
        if self.reveal is not None:
            self._say_headline(self.reveal.given)

    def _say_headline(self, given):
        found = worked_out(self.asks.key, self.holder.system)
        self.asked.say(None, headline(self.asks, found, given))

    @property
    def png(self) -> bytes | None:
        """The picture that a notebook keeps, once there is one."""
        return None if self.reveal is None else self.reveal.png

    def _chosen(self, _=None):
        self._commit.disabled = self.reveal is not None or not self._given()

    def _given(self):
        """Return what is answered: what was chosen, or else what most hands are up for."""
        return self.asked.radio.value or self.hands.most()

    def _committed(self):
        given = self._given()
        if self.reveal is not None or not given:
            return  # a prediction is made once, and only by answering
        self.reveal = _Reveal(self.asks, given, self.holder)
        self._lock(True)
        self._say_headline(given)
        buttons = [self._again] if self._then is None else [self._again, self._move]
        self.children = [self.asked, self.reveal, bar(*buttons)]

    def _lock(self, locked):
        self.asked.radio.disabled = locked
        self.hands.lock(locked)
        shown = not locked or self.hands.most() is not None  # what was counted stays to be seen
        self.hands.layout.display = None if shown else "none"
        self._commit.layout.display = "none" if locked else None
        self._chosen()

    def ask_again(self) -> None:
        """Open the question again for the next group, with no hands up and nothing chosen."""
        self.reveal = None
        self.asked.radio.value = None if self.asks.options else 0.0
        self.hands.empty()
        self._lock(False)
        self.asked.say(None, _TO_DO)
        self.children = [self.asked]

    def move_it(self) -> None:
        """Open the panel that comes then: what was before is kept, and the change is made."""
        if self._then is None or self.reveal is None or self._then in self.children:
            return
        if isinstance(self._then, Panel):
            self._set_then(self._then)
        self.children = [*self.children, self._then]

    def _set_then(self, panel):
        before, after = (
            {key: value for key, value in side.items() if key in panel.control}
            for side in (self.asks.panel_before, self.asks.panel_after)
        )
        if self.asks.before is not None:
            panel.set(**before)
        if self.asks.before is not None and after:
            panel.keep_before()
        panel.set(**after)

    def commit(self, given: str | float) -> str:
        """Choose an option or give a number, and commit to it; return the answer and why."""
        self.asked.radio.value = given
        self._committed()
        return self.told()

    def told(self) -> str:
        """Say all that was answered."""
        if self.reveal is None:
            return self.asked.voice.text
        self.reveal.catch_up()
        found = self.reveal.found
        known = f" With all we do not know: {found.known}." if found.known else ""
        return f"{self.asked.voice.text} {' '.join(found.explain.split())}{known}"

    def sentence(self) -> str:
        """Say the question and how it stands."""
        return f"Predict: {self.asks.text} [{self.told()}]"


def _answers(asks):
    """Make what is answered with: options, or a box for a number."""
    if asks.options:
        return widgets.RadioButtons(options=list(asks.options), value=None)
    label = f"Your number ({asks.unit})"
    return widgets.BoundedFloatText(value=0.0, min=0.0, max=1e6, description=label)


class SelfCheck(Kept):
    """Questions that say "not tried yet", "not yet, because…" or "yes"; they never raise.

    Parameters
    ----------
    *keys : str
        The questions, see :mod:`fireheat.lessons`.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for these alone; those chosen for all, if left out.

    Raises
    ------
    InputError
        If there is no such question, or there are no such units.
    """

    def __init__(self, *keys: str, units: GivenUnits = None):
        self.holder = followed(units)
        self.asked = [_Checked(key, self.holder.system) for key in keys]
        super().__init__(list(self.asked))
        self.add_class("fireheat")
        self.holder.follow(self)

    def units_moved(self) -> None:
        """Ask, and answer, in other units."""
        for asked in self.asked:
            asked.tell(self.holder.system)

    def sentence(self) -> str:
        """Say how the answers stand."""
        states = [asked.voice.text for asked in self.asked]
        count = "1 question" if len(states) == 1 else f"{len(states)} questions"
        return f"Self-check, {count}: " + "; ".join(states)


class _Checked(_Asked):
    """A question that answers whatever is chosen."""

    def __init__(self, key: str, system: str):
        question = self_check(key, system)
        self.key, options = key, [option.text for option in question.options]
        super().__init__(question.text, widgets.RadioButtons(options=options, value=None), [])
        self.tell(system)
        self.radio.observe(lambda _: self._reply(), names="value")

    def tell(self, system: str) -> None:
        """Ask, and answer, in some units."""
        question = self_check(self.key, system)
        self.replies = {option.text: option for option in question.options}
        self.ask(question.text)
        self._reply()

    def _reply(self):
        option = self.replies.get(self.radio.value)
        if option is not None:
            opening = "Yes:" if option.right else "Not yet, because"
            self.say(option.right, f"{opening} {option.reply}")
