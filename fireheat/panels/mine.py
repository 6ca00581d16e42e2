"""My kit in a session: what panels put into it, and what takes it out again.

There is one, :data:`my_kit`, because a reader has one kit and several panels measure it. It holds a
frozen :class:`fireheat.my_kit.MyKit` and lives as long as the kernel. Who asks for it has it kept
on this computer, for other pages and other days; then all that is measured joins it. It knows no
names. ``my_kit.clear()`` empties it; tests do so before each panel.
"""

import html
import math
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any, Protocol
from weakref import WeakSet

import ipywidgets as widgets

from ..answers.worth import doubts, narrowing, next_words
from ..kept import forget_kept, read_kept, write_kept
from ..kit.kit import Try
from ..my_kit import MyKit, shown_as
from ..person.measuring import Measured
from ..quantities import METRIC, InputError, quantity, unit_text
from ..words import inch_words, ratio_words
from .base import BELOW, bar, button, unbroken

BADGE = "◆ measured"
EMPTY_KIT = "Nothing is in my kit yet: measure something first, on page 01, 06 or 07."
_TAKE, _OFF = "Use my kit", "Take my kit off"
KEPT = "my_kit"  # the name it is kept under
_DUST = ("burn_in_depth", "dust_mass")
_GRIP = {"grip": "bow pull", "hot_grip": "watts at first smoke"}
_PLAINLY = {"specific_gravity": "dry wood beside water"}  # as it is asked for where it is weighed
_FEW = 2  # readings that stand in one line of a laptop
_FINEST = 64  # parts of an inch by which it is told how far off a reading on a rule may be


class KitFollower(Protocol):
    """What shows all that is in my kit."""

    def kit_moved(self) -> None:
        """Show my kit as it is now, or as soon as somebody looks."""


class Holder:
    """What was measured so far: in this session, or, where a reader asked for it, kept.

    What is kept stands in one place only, this computer's, so that all pages have the same.
    """

    def __init__(self):
        self._own = MyKit()
        self._followers: WeakSet[KitFollower] = WeakSet()

    def follow(self, follower: KitFollower) -> None:
        """Tell something of each other reading from now on, as long as it is there."""
        self._followers.add(follower)

    def _tell(self):
        for follower in list(self._followers):
            follower.kit_moved()

    @property
    def kept(self) -> MyKit:
        """What was kept on this computer; nothing, if nobody asked for it."""
        return MyKit.read(read_kept(KEPT))

    @property
    def kit(self) -> MyKit:
        """All readings: what was kept, and over it what was measured in this session only."""
        return self.kept.put(**self._own.readings)

    def put(self, **readings: Measured) -> None:
        """Add readings; the newest of those that tell the same stands."""
        self._own = self._own.put(**readings)
        if self.kept:
            self.keep()
        self._tell()

    def remove(self, name: str) -> None:
        """Forget one reading, kept or not."""
        kept, left = bool(self.kept), self.kit.without(name)
        if kept and self._write(left):
            left = MyKit()
        self._own = left
        self._tell()

    def keep(self) -> bool:
        """Keep it on this computer, now and as it grows; tell whether that worked."""
        done = self._write(self.kit)
        if done:
            self._own = MyKit()
        return done

    @staticmethod
    def _write(kit):
        """Keep a kit; an empty one is none."""
        return write_kept(KEPT, kit.numbers) if kit else forget_kept(KEPT)

    def stop_keeping(self) -> bool:
        """Keep it no longer; this session still has it. Tell whether that worked."""
        self._own = self.kit
        return forget_kept(KEPT)

    def clear(self) -> None:
        """Forget all of it, here and on this computer."""
        self._own = MyKit()
        forget_kept(KEPT)
        self._tell()


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
    if row.in_parts(system) and round(_FINEST * error):
        off = inch_words(error, _FINEST)
        return f"{reading_name(key)} {inch_words(value, row.parts)} ± {off} {unit_text(unit)}"
    digits = max(row.digits(system), _digits(error))
    words = f"{reading_name(key)} {value:.{digits}f} ± {error:.{digits}f} {unit_text(unit)}"
    return words.rstrip()


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
        """Put it in, and say so; what no ordinary kit can have is refused in words."""
        readings = self._readings()
        try:
            MyKit().put(**readings).state(Try())
        except InputError as error:
            self._say(f"That is not put in: {error} Measure it again.")
            return
        my_kit.put(**readings)
        inside = reading_words(MyKit(**readings), self._system())
        others = len(my_kit.kit.without(*readings).readings)
        more = f", and {others} more reading{'s' * (others > 1)}" if others else ""
        where = "In my kit now, kept on this computer" if my_kit.kept else "In my kit now"
        self._say(f"{where}: {inside}{more}." if readings else "There is nothing to put in yet.")

    def _say(self, words):
        self.said.value = f'<span role="status">{unbroken(html.escape(words))}</span>'


class TakeMyKit(widgets.VBox):
    """A button that puts my kit into a panel and takes it off again, and a line on what that did.

    Parameters
    ----------
    panel : Trying
        See :class:`fireheat.panels.trying.Trying`.
    """

    def __init__(self, panel: Any):
        self._panel = panel
        self._stood: dict[str, Any] = {}
        self._told: tuple[str, MyKit] | None = None  # in which units, and of which kit
        self.taken = MyKit()
        self.button = button(_TAKE, self.turn)
        self.said = widgets.HTML()
        self.said.add_class("fh-note")
        super().__init__([self.said])
        self.add_class(BELOW)
        self.add_class("fh-kit-said")
        self._say("")

    def turn(self) -> None:
        """Put it in, or take it off."""
        if self.taken:
            stood = self._stood
            self.drop()
            self._panel.set(**stood)
            return self._say("My kit is off again.")
        kit = self._fitting(my_kit.kit)
        if not my_kit.kit:
            return self._say(EMPTY_KIT)
        if not kit:
            return self._say(f"Nothing of my kit plays a part here. {self._left_out()}".strip())
        try:
            self._take(kit)
        except InputError as error:
            self.drop()
            self._panel.refresh()
            return self._say(f"My kit does not fit here: {error}")
        return self.tell()

    def _fitting(self, kit):
        """Leave out what plays no part in the panel; what has another slider there goes to it."""
        mine = kit.without(*(key for key in kit.readings if not self._panel.uses(key)))
        control = self._panel.control
        if mine.dust_mass and "burn_in_depth" in control and "dust_mass" not in control:
            depth = mine.state(self._panel.now()).value("burn_in_depth")
            share = mine.dust_mass.error / mine.dust_mass.value if mine.dust_mass.value else 0.0
            mine = mine.put(burn_in_depth=Measured(depth, share * depth))
        return mine

    def _take(self, kit):
        values = self._values(kit, self._panel.state)
        self._stood = {key: self._panel.control[key].value for key in values}
        self.taken, self.button.description = kit, _OFF
        self._panel.set(**values)

    def drop(self) -> None:
        """Take it off, and leave the sliders where they are."""
        self.taken, self._stood, self._told = MyKit(), {}, None
        self.button.description = _TAKE
        self._say("")

    @contextmanager
    def as_it_was(self, taken: MyKit) -> Iterator[None]:
        """Let another kit be in for as long as something else is answered."""
        now, self.taken = self.taken, taken
        try:
            yield
        finally:
            self.taken = now

    def _values(self, kit, state):
        """Values of controls, by name, that show the kit."""
        made, control = kit.state(self._panel.bare(state)), self._panel.control
        values: dict[str, Any] = {
            key: made.kit.wood if key == "wood" else made.value(key)
            for key in kit.keys
            if key in control
        }
        dust = [key for key in _DUST if key in values]
        if dust and "dust" in control:  # either in millimetres or in grams
            values["dust"] = dust[0]
        return values

    def tell(self) -> None:
        """Say what is mine as it stands now, in the units shown, unless that is said already."""
        if self.taken:
            now = self._panel.system, self.standing(self._panel.state)
            if now != self._told:
                self._told = now
                self._say(*self._did(*now))

    def _did(self, system, standing):
        """Say what is mine, what of it plays no part here, and what it did to the band."""
        if not standing:
            return ("The sliders were moved: nothing here is measured any more.",)
        where = ", kept on this computer" * bool(my_kit.kept)
        did = narrowing_words(narrowing(self._panel.now(), standing)) if self._panel.banded else ""
        words = f"{reading_words(standing, system)}. {self._left_out()}"
        if len(standing.readings) <= _FEW:
            return (f"{BADGE}{where}: {words}{did}".strip(),)
        return f"{BADGE}{where}: {len(standing.readings)} readings. {did}".strip(), words.strip()

    def _left_out(self):
        """Name what of my kit plays no part here."""
        left = [reading_name(key) for key in my_kit.kit.readings if not self._panel.uses(key)]
        return f"Left out here: {', '.join(left)}. " if left else ""

    def say_worth(self) -> None:
        """Say what would be worth measuring next."""
        self._told = None
        standing = self.standing(self._panel.state)
        self._say(next_words(doubts(self._panel.now(), standing)))

    def _say(self, words, more=""):
        """Say something in one line; what is more is unfolded from it."""
        said, unfolded = unbroken(html.escape(words)), unbroken(html.escape(more))
        if more:
            said = f"<details><summary>{said}</summary>{unfolded}</details>"
        self.said.value = f'<span role="status">{said}</span>'
        self.layout.display = None if words else "none"

    def standing(self, state: Mapping[str, Any]) -> MyKit:
        """Tell what of it stands in a state: who moves a slider by hand has not measured that."""
        if not self.taken:
            return self.taken
        values = self._values(self.taken, state)
        moved = {key for key, value in values.items() if state[key] != value}
        if "dust" in moved:
            moved |= set(_DUST)
        return self.taken.without(*(key for key in self.taken.readings if shown_as(key) in moved))

    def unseen(self, state: Mapping[str, Any]) -> MyKit:
        """Tell what of it stands without a slider that shows it."""
        standing = self.standing(state)
        seen = [key for key in standing.readings if shown_as(key) in self._panel.control]
        return standing.without(*seen)

    def badges(self, words: Mapping[str, str], state: Mapping[str, Any]) -> dict[str, str]:
        """Put the badge before the words under the controls that show what was measured."""
        mine = self.standing(state).keys
        return {key: _badged(text) if key in mine else text for key, text in words.items()}


def _badged(text):
    """Put the badge before words, which are then seen only where there is room for them."""
    badge = f'<b class="fh-mine">{BADGE}</b>'
    return f'{badge} <span class="fh-besides">{text}</span>' if text else badge


def reading_name(key: str) -> str:
    """Tell what a reading is called.

    Examples
    --------
    >>> reading_name("grip"), reading_name("diameter")
    ('bow pull', 'spindle diameter')
    """
    return (_GRIP | _PLAINLY).get(key) or quantity(key).name


def narrowing_words(ratio: float) -> str:
    """Say what measuring did to the range of times.

    Examples
    --------
    >>> narrowing_words(0.66)
    'Had you guessed these, the range of times would be longer. It is two thirds as long now.'
    >>> narrowing_words(0.98)
    'The range of times is hardly shorter than if you had guessed these.'
    """
    if ratio >= 0.87:  # from where fractions end
        return "The range of times is hardly shorter than if you had guessed these."
    part = ratio_words(ratio, short=True).removesuffix(" of")
    return f"Had you guessed these, the range of times would be longer. It is {part} as long now."
