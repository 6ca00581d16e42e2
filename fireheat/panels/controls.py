"""What a reader moves: sliders for quantities, choices among words."""

import html
import math
from collections.abc import Hashable, Mapping
from dataclasses import replace
from typing import Any

import ipywidgets as widgets

from ..quantities import METRIC, InputError, check_ordinary, quantity

_PARTS = "fh-parts-"  # and how many an inch has: a class that the browser reads
_SLACK = 1e-6  # of a step: what rounding may leave


class Control:
    """What moves one thing: a widget, and under it a place for words on what that does."""

    def __init__(self, widget: Any):
        self.widget, self.effect = widget, widgets.HTML()
        self.effect.add_class("fh-effect")
        self.box = widgets.VBox([self.widget, *self._ends(), self.effect])
        self.box.add_class("fh-cell")

    def _ends(self):
        """Widgets that stand right under the control."""
        return []


class Slider(Control):
    """A slider for one quantity of the table, holding its value in SI.

    Parameters
    ----------
    key : str
        The quantity.
    value : float, optional
        Where it starts; the table's default if left out. [SI]
    continuous : bool, optional
        Answer while it moves; if not, when it is let go.
    name : str, optional
        What it is called, where the table's name would not tell it from another.

    Raises
    ------
    InputError
        If it cannot start there.
    """

    def __init__(
        self,
        key: str,
        value: float | None = None,
        *,
        continuous: bool = True,
        name: str | None = None,
    ):
        row = quantity(key)
        self.row = replace(row, name=name or row.name)
        start = row.default if value is None else value
        if start is None:
            raise KeyError(f"{key} has no default: give the slider a value")
        check_ordinary(**{key: start})
        self.start = self._si = float(start)
        super().__init__(widgets.FloatSlider(readout=True, continuous_update=continuous))
        self._system, self._moving = METRIC, False
        self.widget.observe(self._moved, names="value")

    def _ends(self):
        """Words for what lies at both ends."""
        if not self.row.ends:
            return []
        words = widgets.HTML("".join(f"<span>{html.escape(end)}</span>" for end in self.row.ends))
        words.add_class("fh-ends")
        return [words]

    def _moved(self, change):
        if self._moving:
            return
        new = self.row.si(self._marked(change["new"]), self._system)
        # A readout that is left by the Tab key sends its rounded text back: that is no move.
        moved = self.row.text(new, self._system) != self.row.text(self._si, self._system)
        if moved:
            self._si = new
        stops = (change["new"] - self.widget.min) / self.widget.step
        between = abs(stops - round(stops)) > _SLACK  # as a number typed in may be
        if between and (moved or self.row.in_parts(self._system)):
            self.show_in(self._system)

    def _marked(self, shown):
        """Move a shown number to the nearest mark of a rule: what is read is what is reckoned."""
        if not self.row.in_parts(self._system):
            return shown
        return math.floor(shown * self.row.parts + 0.5) / self.row.parts

    @property
    def value(self) -> float:
        """Value in SI."""
        return self._si

    @value.setter
    def value(self, si: float):
        check_ordinary(**{self.row.key: si})
        self._si = float(si)
        self.show_in(self._system)

    def show_in(self, system: str) -> None:
        """Show name, ends, step and value in a system's units; the value itself stays."""
        row, self._system = self.row, system
        step, digits = row.steps[system], row.digits(system)
        low, high = sorted(row.shown(end, system) for end in row.slider)
        shown = self._marked(row.shown(self._si, system))
        # The browser's slider stops only at whole steps from its lower end, and shows the stop.
        below = max(0, math.floor((shown - low) / step + _SLACK))
        above = max(0, math.floor((high - shown) / step + _SLACK))
        frame = {
            "description": row.label(system),
            "min": shown - below * step,
            "max": shown + above * step,
            "step": step,
            "readout_format": f".{digits}f",
            "value": shown,
            "_dom_classes": self._classes(system),
        }
        self._frame(frame)

    def _classes(self, system):
        """Tell the browser how many parts an inch has, if the number is to stand in fractions."""
        others = [name for name in self.widget._dom_classes if not name.startswith(_PARTS)]
        return (*others, *([f"{_PARTS}{self.row.parts}"] if self.row.in_parts(system) else []))

    def _frame(self, frame):
        """Change the slider's ends, words and value.

        The browser answers a value that it is told with its own rounding of it, or with what it had
        to squeeze in between old ends; late, that answer would undo what came after. So it is told
        first not to answer, and last to answer again.
        """
        widget, continuous = self.widget, self.widget.continuous_update
        changed = {name: new for name, new in frame.items() if getattr(widget, name) != new}
        if not changed:
            return
        self._moving, widget.continuous_update = True, False
        with widget.hold_sync(), widget.hold_trait_notifications():
            for name, new in changed.items():
                setattr(widget, name, new)
        widget.continuous_update, self._moving = continuous, False


class Choice(Control):
    """A choice among words.

    Parameters
    ----------
    label : str
        What is chosen.
    options : mapping
        Words shown, by value.
    value : optional
        Where it starts; the first option if left out.
    """

    def __init__(self, label: str, options: Mapping[Any, str], value=None):
        self.start = next(iter(options)) if value is None else value
        pairs = [(words, key) for key, words in options.items()]
        super().__init__(widgets.Dropdown(options=pairs, description=label))
        self.value = self.start

    @property
    def value(self):
        """The option chosen."""
        return self.widget.value

    @value.setter
    def value(self, key):
        self.offer(key)
        values = [value for _, value in self.widget.options]
        if not isinstance(key, Hashable) or key not in values:  # an array is equal to nothing
            raise InputError(f"{self.widget.description} cannot be {key!r}; allowed: {values}")
        self.widget.value = key

    def offer(self, key: Any) -> None:
        """Make an option of what is about to be chosen, where that is no matter of names."""

    def show_in(self, system: str) -> None:
        """Words have no units."""
