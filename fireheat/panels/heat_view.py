"""Heat in spindle and board, moment by moment; two kits side by side."""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from ..answers.heat_view import first_smoke, heat_so_far, kit_heat
from ..bands import Band
from ..estimates import times
from ..figures.heat_view import HeatSection, Moment
from ..heat.volumes import HeatRun
from ..kit.kit import Air, Effort, Kit, Try
from ..quantities import METRIC, default, quantity
from ..words import NEVER, band_words, likely_words, number_words, shares_words, time_words
from .base import Panel, Slider, cells, tiles
from .play_slider import PlaySlider


class Watched(NamedTuple):
    """A kit, its run, the moment looked at, and first smoke: in the run, and as estimated."""

    kit: Kit
    run: HeatRun
    at: int
    heat: Mapping[str, float]
    first: float
    smoke: Band

    @property
    def seconds(self) -> float:
        """Time bowed, in seconds."""
        return self.run.time[self.at]

    @property
    def contact_rise(self) -> float:
        """How much hotter than the air the contact is, in kelvin."""
        return self.run.contact_mean[self.at]


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
        self._try = Try(kit, effort, air)
        keys = ("diameter", "force", "speed")
        self._duration = quantity("elapsed").slider[1]
        # A kit is run once and then only shown: its sliders answer when they are let go.
        controls = {"elapsed": PlaySlider("elapsed")} | {
            key: Slider(key, self._try.value(key), continuous=False) for key in keys
        }
        super().__init__(controls, [cells(controls, *controls)], units)

    def answer(self, state):
        """Make the one pure call."""
        tried = self._try.changed(**{key: state[key] for key in ("diameter", "force", "speed")})
        run = kit_heat(tried, duration=self._duration)
        at = int(np.argmin(np.abs(run.time - state["elapsed"])))
        first = first_smoke(run, rise=default("temperature_smoke") - tried.air.temperature)
        heat = heat_so_far(tried, time=run.time[at])
        return Watched(tried.kit, run, at, heat, first, times(tried).smoke)

    def _moment(self, answer):
        rest = {
            "heat": answer.heat,
            "ambient": self._try.air.temperature,
            "char": default("temperature_char"),
        }
        thick = quantity("diameter").text(answer.kit.diameter, self.system)
        title = f"{thick} spindle, {number_words(answer.run.power)} W"
        return Moment(answer.run, answer.at, radius=answer.kit.radius, title=title, **rest)

    def draw(self, answer, before):
        """Draw the cut now, and the one before beside it."""
        sketch = self.sketch(HeatSection, self.system)
        words = sketch.update(self._moment(answer), self._moment(before) if before else None)
        return sketch, words

    def results(self, answer, before):
        """Spell time, contact temperature, smoke and the share in dust."""
        rows = (
            ("", "Time bowing", lambda a: f"{a.seconds:.0f} s", ""),
            ("fh-ember", "Contact", self._contact, "where the woods rub"),
            ("", "First smoke", self._smoke, self._smoke_note(answer)),
            ("", "Into dust and water", self._dust, "of all the heat made so far"),
        )
        return tiles(rows, answer, before)

    def _contact(self, answer):
        row = quantity("temperature_ambient")
        return row.text(self._try.air.temperature + answer.contact_rise, self.system)

    def _smoke(self, answer):
        """Spell first smoke; that a run ends too early to see it does not make it never."""
        if _late(answer):
            return f"after {time_words(self._duration)}"
        return time_words(answer.first)

    def _smoke_note(self, answer):
        band = f"estimate {band_words(answer.smoke)}"
        return f"{likely_words(answer.smoke.likely)}; {band}" if _late(answer) else band

    def _dust(self, answer):
        heat = self._moment(answer).heat
        return shares_words(heat)["dust_and_water"] if any(heat.values()) else "no heat"


def _late(answer):
    """Tell whether smoke may come, but not while the run lasts."""
    return np.isinf(answer.first) and band_words(answer.smoke) != NEVER
