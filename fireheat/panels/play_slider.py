"""A time slider that can also play."""

from collections.abc import Callable
from dataclasses import replace

import ipywidgets as widgets

from .controls import Slider

_INTERVAL = 120  # ms between two steps
_STEPS = 100_000  # more than anybody waits for

# From one time to the next, and whether to hold there.
Forward = Callable[[float], tuple[float, bool]]


class PlaySlider(Slider):
    """A slider with buttons below it that let it run.

    Playing goes on from where the slider stands, from the start again if that is the end; moving
    the slider by any other way pauses it.

    Parameters
    ----------
    key : str
        The quantity.
    value : float, optional
        Where it starts; the table's default if left out. [SI]
    name : str, optional
        What it is called, where the table's name would not tell it from another.
    first : float, optional
        Its lower end, if not the table's. [SI]
    forward : callable, optional
        Tells, from a time, the next one and whether to hold there; one unit on, if left out.
    """

    def __init__(
        self,
        key: str,
        value: float | None = None,
        *,
        name: str | None = None,
        first: float | None = None,
        forward: Forward | None = None,
    ):
        super().__init__(key, value, name=name)
        low, self.last = self.row.slider
        self.first = low if first is None else first
        self.row = replace(self.row, slider=(self.first, self.last))
        self.forward = forward or (lambda time: (time + 1.0, False))
        # The browser only counts: where a step leads is told here.
        self.play = widgets.Play(min=0, max=_STEPS, interval=_INTERVAL, show_repeat=False)
        self.box.children = [*self.box.children, self.play]
        self._playing = False
        self._rest()
        self.play.observe(self._played, names="value")
        self.widget.observe(self._follow, names="value")

    def _rest(self):
        """Count from one where the stop button leads back to the start, else from zero."""
        self.play.playing = False
        self.play.value = int(self.value > self.first)

    def _played(self, change):
        if change["new"] == self.play.min:  # stopped
            if self.value != self.first:
                self._go(self.first)
        elif self.play.playing:
            # One that was under way when something else moved the slider comes too late.
            time, hold = self.forward(self.first if self.value >= self.last else self.value)
            self._go(min(time, self.last))
            if hold or time >= self.last:
                self.play.playing = False

    def _go(self, time):
        self._playing = True
        self.value = time
        self._playing = False

    def _follow(self, _):
        if not self._playing:
            self._rest()
