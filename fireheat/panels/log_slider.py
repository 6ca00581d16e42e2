"""A slider whose steps multiply, for what spans thousands."""

import math

import ipywidgets as widgets

from .controls import Slider

_STEP = 0.02  # of a power of ten: some 5 % each


class LogSlider(Slider):
    """A slider for one quantity of the table, with even factors along it.

    Parameters
    ----------
    key : str
        The quantity.
    value : float
        Where it starts. [SI]
    ends : tuple of float
        From where to where. [SI]
    """

    def __init__(self, key: str, value: float, ends: tuple[float, float]):
        super().__init__(key, value)
        self.ends = ends
        self.widget = widgets.FloatLogSlider(step=_STEP, readout_format=".2g")
        self.widget.observe(self._moved, names="value")
        self.box.children = [self.widget, *self.box.children[1:]]

    def _moved(self, change):
        # A readout that is left by the Tab key sends its rounded text back: that is no move.
        was = self.row.shown(self._si, self._system)
        if not self._moving and f"{change['new']:.2g}" != f"{was:.2g}":
            self._si = self.row.si(change["new"], self._system)

    def show_in(self, system: str) -> None:
        """Show name, ends and value in a system's units; the value itself stays."""
        self._system = system
        shown = self.row.shown(self._si, system)
        low, high = (math.log10(self.row.shown(end, system)) for end in self.ends)
        # Whole steps from the value, since the browser's slider stops nowhere else.
        place = math.log10(shown)
        frame = {
            "description": self.row.label(system),
            "min": place - _STEP * max(0, math.floor((place - low) / _STEP)),
            "max": place + _STEP * max(0, math.floor((high - place) / _STEP)),
            "value": shown,
        }
        self._frame(frame)
