"""My kit in a session: what panels put into it, and what takes it out again.

There is one, :data:`my_kit`, because a reader has one kit and several panels measure it. It holds a
frozen :class:`fireheat.my_kit.MyKit` and lives as long as the kernel: nothing is written anywhere,
and it knows no names. ``my_kit.clear()`` empties it; tests do so before each panel.
"""

import html
import math
from collections.abc import Callable, Mapping
from typing import Any

import ipywidgets as widgets

from ..answers.worth import doubts, narrowing, next_words
from ..kit.kit import Try
from ..my_kit import MyKit
from ..person.measuring import Measured
from ..quantities import METRIC, InputError, quantity, unit_text
from ..words import ratio_words
from .base import bar, button, unbroken

BADGE = "◆ measured"
_EMPTY = "Nothing is in my kit yet: measure something on page 01 or 06 first."
_IN, _OFF = "My kit: put it in", "My kit: take it off"
_GRIP = {"grip": "bow pull", "hot_grip": "watts at first smoke"}


class Holder:
    """What was measured so far in this session.

    Attributes
    ----------
    kit : MyKit
        The readings.
    """

    def __init__(self):
        self.kit = MyKit()

    def put(self, **readings: Measured) -> None:
        """Add readings; the newest of those that tell the same stands."""
        self.kit = self.kit.put(**readings)

    def clear(self) -> None:
        """Forget all of it."""
        self.kit = MyKit()


my_kit = Holder()


def reading_words(kit: MyKit, system: str = METRIC) -> str:
    """Spell what was measured, each with its standard uncertainty.

    Examples
    --------
    >>> reading_words(MyKit(friction=Measured(0.33, 0.012), diameter=Measured(0.016, 0.0003)))
    'friction coefficient 0.33 ± 0.01, spindle diameter 16.0 ± 0.3 mm'
    """
    return ", ".join(_one_words(key, one, system) for key, one in kit.readings.items())


def _one_words(key, one, system):
    if key in _GRIP:
        return f"{_GRIP[key]} ± {100 * one.error / one.value:.0f} %" if one.value else _GRIP[key]
    row = quantity(key)
    unit = row.shown_unit(system)
    value = row.shown(one.value, system)
    error = row.shown(one.value + one.error, system) - value
    digits = max(row.digits(system), _digits(error))
    return f"{row.name} {value:.{digits}f} ± {error:.{digits}f} {unit_text(unit)}".rstrip()


def _digits(error):
    """Tell how many decimals show an error by one figure."""
    return -math.floor(math.log10(error)) if error > 0 else 0


class PutIntoMyKit(widgets.VBox):
    """A button that puts what a panel measured into my kit, and a line that says what is in it.

    Parameters
    ----------
    readings : callable
        Gives the readings by name as they are now; none where there is nothing to put.
    system : callable
        Gives the unit system shown now.
    """

    def __init__(self, readings: Callable[[], Mapping[str, Measured]], system: Callable[[], str]):
        self._readings, self._system = readings, system
        self.put_button = button("Put into my kit", self.put)
        self.said = widgets.HTML()
        self.said.add_class("fh-note")
        super().__init__([bar(self.put_button), self.said])

    def put(self) -> None:
        """Put it in, and say so."""
        readings = self._readings()
        my_kit.put(**readings)
        inside = reading_words(my_kit.kit, self._system())
        words = f"In my kit now: {inside}." if readings else "There is nothing to put in yet."
        self.said.value = f'<span role="status">{unbroken(html.escape(words))}</span>'


class TakeMyKit(widgets.VBox):
    """A button that puts my kit into a panel's sliders and takes it off again, and what that did.

    Parameters
    ----------
    panel : Panel
        With ``control``, ``state``, ``system`` and ``set``.
    try_now : callable
        Gives the try that the panel shows now, or in a state.
    """

    def __init__(self, panel: Any, try_now: Callable[..., Try]):
        self._panel, self._try = panel, try_now
        self._stood: dict[str, Any] = {}
        self.taken = MyKit()
        self.button = button(_IN, self.turn)
        self.worth_button = button("What is worth measuring next?", self.say_worth)
        self.said = widgets.HTML()
        self.said.add_class("fh-note")
        self.buttons = self.button, self.worth_button
        super().__init__([bar(*self.buttons), self.said])

    def turn(self) -> None:
        """Put it in, or take it off."""
        if self.taken:
            stood = self._stood
            self.drop()
            self._panel.set(**stood)
            self._say("My kit is off again.")
        elif not my_kit.kit:
            self._say(_EMPTY)
        else:
            try:
                self._take(my_kit.kit)
            except InputError as error:
                self.drop()
                self._say(f"My kit does not fit here: {error}")

    def _take(self, kit):
        values = self._values(kit)
        self._stood = {key: self._panel.control[key].value for key in values}
        self.taken, self.button.description = kit, _OFF
        self._panel.set(**values)
        self._say(self._did())

    def drop(self) -> None:
        """Take it off, and leave the sliders where they are."""
        self.taken, self._stood = MyKit(), {}
        self.button.description, self.said.value = _IN, ""

    def _values(self, kit, state=None):
        """Values of controls, by name, that show the kit; what a task holds is left alone."""
        now = self._try() if state is None else self._try(state)
        made, held = kit.state(now), getattr(self._panel, "fixed", ())
        keys = [key for key in kit.keys if key in self._panel.control and key not in held]
        values: dict[str, Any] = {key: made.value(key) for key in keys}
        for key in {"burn_in_depth", "dust_mass"} & set(values):
            if "dust" in self._panel.control:
                values["dust"] = key
        return values

    def _did(self):
        kit, mine = self.taken, reading_words(self.taken, self._panel.system)
        return f"{BADGE}: {mine}. {narrowing_words(narrowing(self._try(), kit))}"

    def say_worth(self) -> None:
        """Say what would be worth measuring next."""
        self._say(next_words(doubts(self._try(), self.standing(self._panel.state))))

    def _say(self, words):
        self.said.value = f'<span role="status">{unbroken(html.escape(words))}</span>'

    def standing(self, state: Mapping[str, Any]) -> MyKit:
        """Tell what of it stands in a state: who moves a slider by hand has not measured that."""
        if not self.taken:
            return self.taken
        values = self._values(self.taken, state)
        here = {key for key, value in values.items() if state[key] == value}
        gone = [key for key in self.taken.readings if _shown_as(key) not in here]
        return self.taken.without(*gone)

    def badges(self, words: Mapping[str, str], state: Mapping[str, Any]) -> dict[str, str]:
        """Put the badge before the words under the controls that show what was measured."""
        mine = self.standing(state).keys
        return {
            key: f'<b class="fh-mine">{BADGE}</b> {text}'.rstrip() if key in mine else text
            for key, text in words.items()
        }


def _shown_as(key):
    """Name the slider on which a reading shows."""
    return "friction" if key in _GRIP else key


def narrowing_words(ratio: float) -> str:
    """Say what measuring did to the pale band.

    Examples
    --------
    >>> narrowing_words(0.66)
    'Were these guesses, the pale band would be longer: it is two thirds as long now.'
    >>> narrowing_words(0.98)
    'The pale band is hardly shorter than it would be if these were guesses.'
    """
    if ratio >= 0.87:  # from where fractions end
        return "The pale band is hardly shorter than it would be if these were guesses."
    part = ratio_words(ratio, short=True).removesuffix(" of")
    return f"Were these guesses, the pale band would be longer: it is {part} as long now."
