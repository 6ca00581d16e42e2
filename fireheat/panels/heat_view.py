"""Heat in spindle and board, moment by moment; two kits side by side."""

from dataclasses import replace
from functools import cache

import numpy as np

from ..figures.heat_section import HeatSection, Moment
from ..kit import Air, Effort, Kit
from ..kit_heat import kit_heat
from ..milestones import times
from ..quantities import METRIC, default, quantity
from ..words import NEVER, band_words, likely_words, number_words, shares_words, time_words
from .base import Panel, Slider, cells, tiles
from .play_slider import PlaySlider


class HeatView(Panel):
    """A cut through spindle and board that warms as the time slider moves or plays.

    Parameters
    ----------
    kit, effort, air : optional
        Where it starts.
    units : str
        ``"metric"`` or ``"us"``.
    """

    view = ("elapsed",)

    def __init__(
        self,
        kit: Kit | None = None,
        effort: Effort | None = None,
        air: Air | None = None,
        *,
        units: str = METRIC,
    ):
        self._kit, self._air = kit or Kit(), air or Air()
        effort = effort or Effort()
        self._section = cache(HeatSection)
        self._duration = quantity("elapsed").slider[1]
        # A kit is run once and then only shown: its sliders answer when they are let go.
        controls = {
            "elapsed": PlaySlider("elapsed"),
            "diameter": Slider("diameter", self._kit.diameter, continuous=False),
            "force": Slider("force", effort.force, continuous=False),
            "speed": Slider("speed", effort.speed, continuous=False),
        }
        super().__init__(controls, [cells(controls, *controls)], units)

    def answer(self, state):
        """Make the one pure call."""
        kit = replace(self._kit, radius=state["diameter"] / 2)
        effort = Effort(force=state["force"], speed=state["speed"])
        run = kit_heat(kit, effort, self._air, self._duration)
        at = int(np.argmin(np.abs(run.time - state["elapsed"])))
        return kit, run, at, times(kit, effort, self._air).smoke

    def _moment(self, answer):
        kit, run, at, _ = answer
        ends = {"ambient": self._air.temperature, "char": default("temperature_char")}
        thick = quantity("diameter").text(kit.diameter, self.system)
        title = f"{thick} spindle, {number_words(run.power)} W"
        return Moment(run, at, radius=kit.radius, title=title, **ends)

    def draw(self, answer, pinned):
        """Draw the cut now, and the pinned one beside it."""
        sketch = self._section(self.system)
        words = sketch.update(self._moment(answer), self._moment(pinned) if pinned else None)
        return sketch.png(), words

    def results(self, answer, pinned):
        """Spell time, contact temperature, smoke and the share in dust."""
        rows = (
            ("", "Time bowing", lambda a: f"{a[1].time[a[2]]:.0f} s", ""),
            ("fh-ember", "Contact", self._contact, "where the woods rub"),
            ("", "First smoke", self._smoke, self._smoke_note(answer)),
            ("", "Into dust and water", self._dust, "of all the heat made so far"),
        )
        return tiles(rows, answer, pinned)

    def _contact(self, answer):
        row = quantity("temperature_ambient")
        return row.text(self._air.temperature + answer[1].contact_mean[answer[2]], self.system)

    def _smoke(self, answer):
        """Spell first smoke; that a run ends too early to see it does not make it never."""
        if _late(answer):
            return f"after {time_words(self._duration)}"
        return time_words(answer[1].smoke)

    def _smoke_note(self, answer):
        low, likely, high = answer[3]
        band = f"estimate {band_words(low, high)}"
        return f"{likely_words(likely)}; {band}" if _late(answer) else band

    def _dust(self, answer):
        heat = self._moment(answer).heat
        return shares_words(heat)["dust_and_water"] if any(heat.values()) else "no heat"


def _late(answer):
    """Tell whether smoke may come, but not while the run lasts."""
    _, run, _, (low, _, high) = answer
    return np.isinf(run.smoke) and band_words(low, high) != NEVER
