"""The small base of every panel: controls with names, one pure call, words and a picture.

A panel is a class with three methods: ``answer`` makes the one pure call, ``results`` spells the
big numbers, ``draw`` moves the picture. Everything else is here: unit switch, what was before,
reset, the spoken status line, and what is kept in a notebook that is only being read.
"""

import base64
import html
from abc import ABCMeta, abstractmethod
from collections.abc import Callable, Hashable, Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias

import anywidget
import ipywidgets as widgets
import traitlets

from ..figures import style
from ..figures.style import DARK, LIGHT
from ..quantities import InputError
from ..texts import unbroken
from ..words import NEVER, TOO_LONG, floor_words
from .controls import Control
from .units import GivenUnits, UnitSwitch, followed

if TYPE_CHECKING:
    from ..figures.sketch import Sketch

# A big result: CSS class, what it is, how to spell it from an answer, and a note.
Tile: TypeAlias = tuple[str, str, Callable[[Any], str], str]

_HERE = Path(__file__).parent
ROW = "fh-row"  # the class of a row of buttons below picture and controls, all in one
BELOW = "fh-rest"  # the class of what stands below both columns, or is folded away there
_FEW = 4  # controls that leave room for buttons under them
_PARTS = 6  # of a stage
_LEAST_SCALE, _MOST_SCALE = 0.25, 6.0
# One transparent pixel: what stands where nobody looks on yet.
_EMPTY = "data:image/gif;base64,R0lGODlhAQABAAAAACH5BAEKAAEALAAAAAABAAEAAAICTAEAOw=="


class Voice(anywidget.AnyWidget):
    """A line under the picture that is spoken as it changes, names controls, and says the theme."""

    _esm = _HERE / "panel.js"
    _css = _HERE / "panel.css"
    text = traitlets.Unicode("").tag(sync=True)
    shown = traitlets.Unicode("").tag(sync=True)  # the same, no number torn from its unit
    views = traitlets.Int(0).tag(sync=True)  # on how many places of the screen it stands
    # Where it matters, the browser tells how often somebody came to look.
    counted = traitlets.Bool(False).tag(sync=True)
    looks = traitlets.Int(0).tag(sync=True)
    # Told by the browser: its theme, and how many dots it has for each of a picture's pixels.
    theme = traitlets.Enum((LIGHT, DARK), LIGHT).tag(sync=True)
    scale = traitlets.Float(1.0, min=_LEAST_SCALE, max=_MOST_SCALE).tag(sync=True)

    @traitlets.observe("text")
    def _hold_together(self, change):
        self.shown = unbroken(change["new"])


def picture(png: bytes, words: str, size: tuple[int, int]) -> str:
    """Spell a picture of so many CSS pixels, or its empty place, with its text alternative."""
    data, (width, height) = base64.b64encode(png).decode("ascii"), size
    source = f"data:image/png;base64,{data}" if png else _EMPTY
    return f'<img width="{width}" height="{height}" alt="{html.escape(words)}" src="{source}">'


def _inside(control, parts):
    """Tell whether a control stands somewhere in boxes of widgets."""
    for part in parts:
        own = part is getattr(control, "box", None) or part is control.widget
        if own or _inside(control, getattr(part, "children", ())):
            return True
    return False


def cells(controls: Mapping[str, Control], *keys: str) -> widgets.Box:
    """Stand controls side by side, as many as fit."""
    box = widgets.Box([controls[key].box for key in keys])
    box.add_class("fh-cells")
    return box


def bar(*parts: widgets.Widget) -> widgets.HBox:
    """Stand choices and buttons in one line."""
    box = widgets.HBox(parts)
    box.add_class("fh-bar")
    return box


def unfolding(words: str, box: widgets.Box) -> widgets.ToggleButton:
    """Fold a box away, and make the button that unfolds it, below picture and controls."""
    more = widgets.ToggleButton(description=words)
    box.add_class(BELOW)
    more.add_class("fh-more")

    def follow(_=None):
        box.layout.display = None if more.value else "none"

    more.observe(follow, names="value")
    follow()
    return more


def tiles(rows: Iterable[Tile], now: Any, then: Any = None) -> str:
    """Lay the big results out side by side.

    Parameters
    ----------
    rows : iterable of Tile
        The results, in the order they stand.
    now, then : object
        The answer now, and the one before if it was kept.
    """
    made = []
    for kind, what, spell, note in rows:
        # Its place is kept, so that nothing jumps as it comes and goes.
        before = "" if then is None else f"before: {spell(then)}"
        made.append(
            f'<div class="fh-tile {kind}"><span class="fh-what">{what}</span>'
            f'<b>{spell(now)}</b><small>{note}</small><span class="fh-before">{before}</span></div>'
        )
    return f'<div class="fh-tiles">{"".join(made)}</div>'


def floor_note(bound: float, without: str) -> str:
    """Spell the floor as a note, or what is the matter where there is none.

    Examples
    --------
    >>> floor_note(12.0, "no rubbing, no heat")
    'floor: 12 s'
    >>> floor_note(5000.0, "no rubbing, no heat")
    'even the floor is over an hour'
    """
    floor = floor_words(bound)
    if floor == NEVER:
        return without
    return f"floor: {floor}" if bound < TOO_LONG else f"even the floor is {floor}"


def button(words: str, action: Callable[[], object]) -> widgets.Button:
    """Make a button that calls ``action`` with nothing."""
    made = widgets.Button(description=words)
    made.on_click(lambda _: action())
    return made


def keep(sentence: str, png: bytes | None, view: Mapping) -> tuple[dict, dict]:
    """Bundle what a notebook keeps: the live view, and a picture and a sentence for readers."""
    data = {"text/plain": sentence, **view}
    if png is None:
        return data, {}
    data["image/png"] = base64.b64encode(png).decode("ascii")
    return data, {"image/png": {"alt": sentence}}


class _Abstract(ABCMeta, traitlets.MetaHasTraits):
    """Widgets with methods that each must have of its own."""


class Kept(widgets.VBox, metaclass=_Abstract):
    """A box of widgets that leaves a sentence, and a picture if it has one, in the notebook."""

    @property
    def png(self) -> bytes | None:
        """The picture that a notebook keeps, if there is one."""
        return None

    @abstractmethod
    def sentence(self) -> str:
        """Say what is shown now."""

    def __repr__(self):
        return self.sentence()

    def __str__(self):
        return self.sentence()

    def _repr_mimebundle_(self, **kwargs):
        view = super()._repr_mimebundle_(**kwargs)
        view.pop("text/plain")
        return keep(self.sentence(), self.png, view)


class Panel(Kept):
    """Controls, big results, one picture, a spoken line.

    Parameters
    ----------
    controls : mapping
        :class:`fireheat.panels.controls.Slider` or
        :class:`fireheat.panels.controls.Choice` by name; the state is their values
        under these names.
    layout : list of widget
        How the controls stand, beside the picture; what is folded away stands below both.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.

    Raises
    ------
    InputError
        If there are no such units.
    """

    question = ""  # the one that the panel answers, if no heading asks it
    view: tuple[str, ...] = ()  # controls that choose how things are shown, not what is shown

    def __init__(self, controls: Mapping[str, Any], layout: list, units: GivenUnits = None):
        self.holder = followed(units)
        self.system = self.holder.system  # the units shown now
        self.control, self._held, self._watched = dict(controls), False, False
        self.before: dict[str, Any] | None = None
        self._before_seen: tuple | None = None
        self._sketches: dict[tuple, Any] = {}
        self.face, self.shot, self.voice = widgets.HTML(), widgets.HTML(), Voice()
        self.units = UnitSwitch(self.holder)
        self.keep_button = button("Keep this as “before”", self.keep_before)
        self.drop_button = button("Take “before” off", self.drop_before)
        self.drop_button.layout.display = "none"
        self.reset_button = button("Reset", self.reset)
        self.stage = self._stage(layout)
        super().__init__([self.stage])
        self.add_class("fireheat")
        self.voice.observe(self._look_changed, names=("theme", "scale"))
        self.voice.observe(self._come_into_view, names="views")
        for control in self.control.values():
            control.show_in(self.system)
            control.widget.observe(self._control_moved, names="value")
        self.refresh()
        self.holder.follow(self)

    def _stage(self, layout):
        """Lay out all that is seen; the style sheet says what stands beside what."""
        buttons = bar(*self.row_of_buttons())
        asked = widgets.HTML(f'<div class="fh-question">{html.escape(self.question)}</div>')
        below = [part for part in layout if BELOW in part._dom_classes]
        side = [part for part in layout if part not in below]
        # Under the shorter of the two columns, so that all is seen at once.
        few = sum(_inside(control, side) for control in self.control.values()) <= _FEW
        for row in layout:
            if ROW in row._dom_classes:  # it takes these in
                row.children += buttons.children
                buttons, few = row, True
                side.remove(row)
                below.insert(0, row)
        parts = {
            "fh-head": widgets.HBox([asked, self.units]),
            "fh-face": self.face,
            "fh-shot": self.shot,
            "fh-side": widgets.VBox([*side, buttons] if few and buttons not in below else side),
            "fh-below": widgets.VBox(below),
            "fh-foot": widgets.VBox([self.voice] if few else [self.voice, buttons]),
            "fh-buttons": buttons,
            "fh-key-keep": self.keep_button,  # keys press these three
            "fh-key-drop": self.drop_button,
            "fh-key-reset": self.reset_button,
        }
        for kind, part in parts.items():
            part.add_class(kind)
        stage = widgets.Box([*parts.values()][:_PARTS])
        stage.add_class("fh-stage")
        return stage

    # What each panel says for itself -----------------------------------------------------------

    @abstractmethod
    def answer(self, state: Mapping[str, Any]) -> Any:
        """Make the one pure call."""

    @abstractmethod
    def results(self, answer, before) -> str:
        """Spell the big results as HTML."""

    @abstractmethod
    def draw(self, answer, before) -> tuple["Sketch", str]:
        """Move the picture; return its sketch with the sentence that says what it shows."""

    def effects(self, answer) -> Mapping[str, str]:
        """Words to stand under controls, by name of control."""
        return {}

    def under(self, answer) -> Mapping[str, str]:
        """All words that stand under controls, by name of control."""
        return self.effects(answer)

    def row_of_buttons(self) -> list[widgets.Widget]:
        """Buttons of the panel, in the order they stand."""
        return [self.keep_button, self.drop_button, self.reset_button]

    # What all panels share -----------------------------------------------------------------------

    @property
    def state(self) -> dict[str, Any]:
        """Value of every control, SI."""
        return {key: control.value for key, control in self.control.items()}

    def set(self, **values) -> str:
        """Move controls as a reader would, by SI value, and return the new sentence.

        Raises
        ------
        InputError
            If there is no such control, or a value is out of range; nothing has moved then.
        """
        unknown = sorted(set(values) - set(self.control))
        if unknown:
            raise InputError(f"no control {unknown}; there are {sorted(self.control)}")
        stood = self.state
        try:
            self._move(values)
        except Exception:
            self._move(stood)
            raise
        return self.sentence()

    def _move(self, values):
        """Move controls, and answer once all of them stand."""
        self._held = True
        try:
            for key, value in values.items():
                self.control[key].value = value
        finally:
            self._held = False
        self.refresh()

    def sketch(self, make: Callable[..., Any], *how: Hashable) -> Any:
        """Return the picture that ``make`` makes, made once for all that it is told and a theme."""
        key = make, how, style.theme_now()
        if key not in self._sketches:
            self._sketches[key] = make(*how)
        return self._sketches[key]

    def sentence(self) -> str:
        """Say what the panel shows now."""
        self.catch_up()
        return self.voice.text

    def refresh(self) -> None:
        """Answer the state as it is now."""
        if self._held:
            return
        self._turn_to_units()
        state = self.state
        self._shown = self.answer(state), self._answer_before(state)
        self.show_answer()
        self._stood = state

    def show_answer(self) -> None:
        """Draw and spell the answer that there is; units, and nothing else, may have changed."""
        answer, before = self._shown
        words = self._paint()
        self.face.value = unbroken(self.results(answer, before))
        self.voice.text = words
        for key, text in self.under(answer).items():
            self.control[key].effect.value = unbroken(text)

    def _paint(self):
        """Draw what is shown in the look that the browser asked for, and return its sentence.

        Painting takes as long as all the rest, so there is none until somebody looks on.
        """
        self._look = theme, scale = self.voice.theme, self.voice.scale
        with style.theme(theme):
            self.sketched, words = self.draw(*self._shown)
            self._painted = self.sketched.png(scale) if self._watched else b""
        self.shot.value = picture(self._painted, words, self.sketched.size)
        return words

    def watch(self) -> None:
        """Paint what is shown, and whatever will be: somebody looks on."""
        if not self._watched:
            self._watched = True
            self._paint()

    def _repr_mimebundle_(self, **kwargs):
        self.watch()
        return super()._repr_mimebundle_(**kwargs)

    def _look_changed(self, _):
        """Paint anew, without answering anew; once, where theme and scale change together."""
        if self._watched and self._look != (self.voice.theme, self.voice.scale):
            self._paint()
        self.watch()

    @property
    def png(self) -> bytes:
        """The picture that a notebook keeps: light, one dot a pixel, whatever is on the screen."""
        self.catch_up()
        if self._painted and self._look == (LIGHT, 1.0):
            return self._painted
        with style.theme(LIGHT):
            return self.draw(*self._shown)[0].png(1.0)

    def _control_moved(self, _):
        """Answer a control that moved; where that cannot be, all goes back to where it stood."""
        try:
            self.refresh()
        except InputError:
            self._move(self._stood)
            raise

    def _answer_before(self, state):
        """Answer the state before, under the view chosen now; once for each view."""
        if self.before is None:
            return None
        view = {key: state[key] for key in self.view}
        if self._before_seen is None or self._before_seen[0] != view:
            self._before_seen = view, self.answer({**self.before, **view})
        return self._before_seen[1]

    def keep_before(self) -> None:
        """Keep the state as it is now as "before", to compare with."""
        self.before, self._before_seen = self.state, None
        self._offer(self.drop_button, self.keep_button)
        self.stage.add_class("fh-has-before")
        self.refresh()

    def drop_before(self) -> None:
        """Forget the state before."""
        self.before = None
        self._offer(self.keep_button, self.drop_button)
        self.stage.remove_class("fh-has-before")
        self.refresh()

    @staticmethod
    def _offer(one, other):
        """Show one button in the place of the other."""
        one.layout.display, other.layout.display = None, "none"

    def reset(self) -> None:
        """Put every control back to where it started."""
        self.set(**{key: control.start for key, control in self.control.items()})

    # ---- units ----------------------------------------------------------------------------------

    def units_moved(self) -> None:
        """Show other units: now, if a reader looks on, and else once somebody asks."""
        if self.voice.views or self.units.pressed:
            self.catch_up()

    def catch_up(self) -> None:
        """Show the units that are chosen, if it shows others."""
        if self._turn_to_units():
            self.show_answer()

    def _turn_to_units(self):
        """Turn the controls to the units that are chosen, and tell whether they showed others."""
        if self.system == self.holder.system:
            return False
        self.system, held, self._held = self.holder.system, self._held, True
        for control in self.control.values():
            control.show_in(self.system)
        self._held = held
        return True

    def _come_into_view(self, _):
        if self.voice.views:
            self.catch_up()
            self.watch()
