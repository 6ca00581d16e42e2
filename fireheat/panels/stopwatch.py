"""A stopwatch for three patrols: what is pressed is kept, and goes into the log where asked."""

import math
from datetime import datetime
from pathlib import Path
from typing import Any

import anywidget
import ipywidgets as widgets
import traitlets

from ..quantities import InputError, quantity, unit_text
from ..trials.columns import TimedTry
from ..trials.log import add_try
from .base import Kept, Voice
from .our_log import OWN, our_log
from .units import GivenUnits, UnitSwitch, followed

_HERE = Path(__file__).parent
PATROLS = 3
_LAST = 4e12  # ms: no moment of a try lies beyond, in the year 2096
_LEARNERS = [f"L{number:02}" for number in range(1, 31)]
# What of a try is set before it starts, and what its number is called where it has no unit.
_SET = {"diameter": "", "force": "", "strokes_per_minute": "strokes a minute", "stroke_length": ""}
_CAUTION = (
    "<b>A try that failed is hot, too.</b> Wet heap, tip and board until all is cold; never pack"
    " them warm. Outdoors only, on bare ground, an adult in charge, water in reach."
)


class Watches(anywidget.AnyWidget):
    """The watches in the browser, which keep what was pressed there."""

    _esm = _HERE / "stopwatch.js"
    _css = _HERE / "stopwatch.css"
    state = traitlets.Dict().tag(sync=True)  # of all watches, moments in ms of the wall clock
    learners = traitlets.List(_LEARNERS).tag(sync=True)
    fields: Any = traitlets.List().tag(sync=True)
    caution = traitlets.Unicode(_CAUTION).tag(sync=True)


class Stopwatch(Kept):
    """Start, smoke, ember, gave up: for three patrols at once, each by buttons or by keys.

    Parameters
    ----------
    units : str or Units, optional
        ``"metric"``, ``"us"`` or a choice to follow; if left out, the one for all pages.

    Raises
    ------
    InputError
        If there are no such units.
    """

    def __init__(self, units: GivenUnits = None):
        self.holder = followed(units)
        self.units = UnitSwitch(self.holder)
        self.watches, self.voice = Watches(), Voice()
        self.path = widgets.Text(value=OWN, description="Our log, a file", continuous_update=False)
        self._added: set[tuple[int, Any]] = set()
        self.watches.on_msg(lambda _, content, __: self._hear(content))
        asked = widgets.HTML('<div class="fh-question">How long does your try take?</div>')
        head = widgets.HBox([asked, self.units])
        head.add_class("fh-head")
        self.voice.add_class("fh-heard")
        super().__init__([head, self.watches, self.path, self.voice])
        self.add_class("fireheat")
        self.add_class("fh-stopwatch")
        self.holder.follow(self)
        self.units_moved()

    def units_moved(self) -> None:
        """Ask for what is set in the units that are chosen."""
        self.watches.fields = [self._field(key, short) for key, short in _SET.items()]
        self.voice.text = self.sentence()

    def _field(self, key, short):
        """Tell the browser what a number is called, and how much of SI one of its unit is."""
        row, system = quantity(key), self.holder.system
        return {
            "key": key,
            "label": row.label(system),
            "unit": unit_text(row.shown_unit(system)) if not short else "",
            "short": short,
            "per": row.si(1.0, system),
            "step": "any",
        }

    def sentence(self) -> str:
        """Say what the panel is for."""
        return (
            "Three watches, one for each patrol: start, smoke, ember, gave up. A try that was given"
            " up counts too, and goes into the log like the others."
        )

    # ---- into the log ---------------------------------------------------------------------------

    def _hear(self, content):
        """Answer a watch that asks for its try to be written down."""
        one = content.get("add") if isinstance(content, dict) else None
        if not isinstance(one, dict) or one.get("lane") not in range(PATROLS):
            return
        done, words = self.add(one)
        told = {"lane": one["lane"], "start": one.get("start"), "done": done, "words": words}
        self.watches.send(told)
        self.voice.text = words

    def add(self, one: dict[str, Any]) -> tuple[bool, str]:
        """Write a finished try into the log, once; tell whether that worked, and say so.

        Parameters
        ----------
        one : dict
            The fields of a try, in SI, beside ``lane`` and ``start``, by which it is known again.
        """
        stamp = one["lane"], one.get("start")
        if stamp in self._added:
            return True, "It is in the log already."
        try:
            if not one.get("learner"):
                raise InputError("Choose whose try it was, by code, and ask again.")
            add_try(self.path.value, _timed(one))
        except (InputError, TypeError) as error:
            return False, f"Not written: {error}"
        self._added.add(stamp)
        try:
            our_log.read(self.path.value)
        except InputError as error:
            return True, f"Written into {self.path.value}; but reading it: {error}"
        count = len(our_log.log.tries)
        return True, f"Written into {self.path.value}: {count} {'try' if count == 1 else 'tries'}."


def _timed(one):
    """Make a try of what the browser told."""
    if one["learner"] not in _LEARNERS:
        raise InputError(f"learner is {one['learner']!r}; allowed: a code")
    keys = (*_SET, "time", "ended", "smoke_time", "learner")
    given = {key: one[key] for key in keys if one.get(key) is not None}
    numbers = {key: value for key, value in given.items() if not isinstance(value, str)}
    if wrong := [key for key, value in numbers.items() if not math.isfinite(value)]:
        raise InputError(f"{wrong[0]} is no number")
    return TimedTry(date=_day(one.get("start")), **given)


def _day(start):
    """Spell the day on which a try began, by its moment in ms and by this computer's clock."""
    known = isinstance(start, int | float) and 0 < start < _LAST
    return datetime.fromtimestamp(start / 1000).date().isoformat() if known else ""
