"""A time slider that can also play."""

import ipywidgets as widgets

from .base import Slider

_INTERVAL = 120  # ms between two steps


class PlaySlider(Slider):
    """A slider in whole units with buttons below it that let it run, one unit at a time.

    Playing goes on from where the slider stands; moving the slider by any other way pauses it.

    Parameters
    ----------
    key : str
        The quantity.
    value : float, optional
        Where it starts; the table's default if left out. [SI]
    name : str, optional
        What it is called, where the table's name would not tell it from another.
    """

    def __init__(self, key: str, value: float | None = None, *, name: str | None = None):
        super().__init__(key, value, name=name)
        last = int(self.row.slider[1])
        self.play = widgets.Play(min=1, max=last, interval=_INTERVAL, show_repeat=False)
        self.play.value = round(self.value)
        self.box.children = [*self.box.children, self.play]
        self._playing = False
        self.play.observe(self._played, names="value")
        self.widget.observe(self._follow, names="value")

    def _played(self, change):
        if not self.play.playing and change["new"] != self.play.min:
            # A step that was under way when something else moved the slider comes too late.
            self.play.value = round(self.value)
        elif round(self.value) != change["new"]:
            self._playing = True
            self.value = float(change["new"])
            self._playing = False

    def _follow(self, _):
        if not self._playing:
            self.play.playing = False
            self.play.value = round(self.value)
