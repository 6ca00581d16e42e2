"""What an ember lands on: all catchers side by side, what is under them, and thin sheets."""

from dataclasses import replace
from functools import cache, lru_cache

import ipywidgets as widgets
import numpy as np

from ..catcher import (
    catchers,
    draw,
    draws,
    grounds,
    joules_by_thickness,
    scorch_time,
    solve_catcher,
)
from ..ember import Ember
from ..figures.catcher_rows import CatcherRows, Laid
from ..figures.sheet_curve import Sheet, SheetCurve
from ..figures.under_ember import Under, UnderEmber
from ..quantities import METRIC, quantity
from ..words import NEVER, band_words, below_words, number_words, share_words, time_words
from .base import Choice, Panel, Slider, cells, tiles
from .log_slider import LogSlider

_SHEETS = ("aluminium_foil", "steel", "leather")
_ENDS = 1e-6, 3e-3  # thinnest and thickest sheet of the slider, in metres
_NOTHING = 1e-9  # a sheet so thin that it is not there, in metres


def _names(keys=None):
    return {key: catchers()[key].name for key in (keys or catchers())}


def _ground_choice(start):
    return Choice("Ground below", {ground: ground for ground in grounds()}, start)


def _choices(controls, *keys):
    """Stand choices in one line above the sliders."""
    bar = widgets.HBox([controls[key].widget for key in keys])
    bar.add_class("fh-bar")
    return bar


class Catchers(Panel):
    """Every catcher of the table under the same ember, the chosen one in big numbers.

    Parameters
    ----------
    catcher, ground : str
        Where the choices start.
    units : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, catcher: str = "leather", ground: str = "dry soil", *, units: str = METRIC):
        self._sketch = CatcherRows()
        controls = {
            "catcher": Choice("Ember lands on", _names(), catcher),
            "ground": _ground_choice(ground),
            "mass": Slider("mass", name="dust in the ember"),
            "crust": Slider("crust"),
        }
        layout = [_choices(controls, "catcher", "ground"), cells(controls, "mass", "crust")]
        super().__init__(controls, layout, units)

    def answer(self, state):
        """Lay the ember on every catcher."""
        chosen, ground = state["catcher"], state["ground"]
        ember = Ember.of_mass(state["mass"], crust=state["crust"])
        scorch = scorch_time(chosen, ground, ember)
        return Laid(draws(ground=ground, ember=ember), chosen, ground, ember, scorch)

    def draw(self, answer, pinned):
        """Draw a row for each catcher."""
        words = self._sketch.update(answer, pinned)
        return self._sketch.png(), words

    def results(self, answer, pinned):
        """Spell the chosen catcher's watts, joules and shares."""
        rows = (
            ("", "First minute", _joules, f"{answer.name} over {below_words(answer.ground)}"),
            ("", "Asks for", _watts, "after a minute, to keep the underside glowing"),
            ("fh-ember", "Of what the ember makes", _made, _face(answer)),
            ("", "Far side scorches", _scorch, "from bare touch to a bed of dead dust"),
        )
        return tiles(rows, answer, pinned)

    def effects(self, answer):
        """Say what each slider does."""
        return {
            "mass": "more dust makes more heat, yet rests on little more ground",
            "crust": "a bed of dead dust keeps the glow off whatever lies below",
        }


def _joules(laid):
    return f"{number_words(laid.draw.joules_first_minute)} J"


def _watts(laid):
    return f"{number_words(laid.draw.watts_now)} W"


def _made(laid):
    return share_words(laid.draw.share_of_made)


def _face(laid):
    low, high = (share_words(share) for share in laid.draw.share_of_made_band)
    face = share_words(laid.draw.share_of_face)
    return f"band {low} to {high}; {face} of its open face's loss".replace("times of", "times")


def _scorch(laid):
    least, _, most = laid.scorch
    return NEVER if time_words(least) == NEVER else band_words(least, most)


@lru_cache(maxsize=32)
def _run(key, ground, crust):
    """Follow two minutes under an ember; a few runs are remembered, for the time slider."""
    times = np.linspace(0, quantity("elapsed").slider[1], 121)[1:]
    ember = Ember(crust=crust)
    return solve_catcher(key, times, ground, ember), ember


class UnderTheEmber(Panel):
    """Two catchers side by side, cut open, warming as the time slider moves or plays.

    Parameters
    ----------
    left, right, ground : str
        Where the choices start.
    units : str
        ``"metric"`` or ``"us"``.
    """

    view = ("elapsed",)

    def __init__(
        self,
        left: str = "aluminium_foil",
        right: str = "leather",
        ground: str = "dry soil",
        *,
        units: str = METRIC,
    ):
        self._sketch = cache(UnderEmber)
        controls = {
            "left": Choice("Left", _names(), left),
            "right": Choice("Right", _names(), right),
            "ground": _ground_choice(ground),
            "elapsed": Slider("elapsed", 60.0, name="time since it was set down"),
            # The heat is followed anew for another bed: that takes a moment.
            "crust": Slider("crust", continuous=False),
        }
        last = int(quantity("elapsed").slider[1])
        self.play = widgets.Play(min=1, max=last, step=1, interval=120, show_repeat=False)
        self.play.observe(self._played, names="value")
        controls["elapsed"].box.children = [*controls["elapsed"].box.children, self.play]
        choices = _choices(controls, "left", "right", "ground")
        super().__init__(controls, [choices, cells(controls, "elapsed", "crust")], units)

    def _played(self, change):
        self.set(elapsed=float(change["new"]))

    def answer(self, state):
        """Look at both runs at this moment."""
        return [self._under(state, state[side]) for side in ("left", "right")]

    def _under(self, state, key):
        run, ember = _run(key, state["ground"], state["crust"])
        at = int(np.argmin(np.abs(run.time - state["elapsed"])))
        return Under(run, at, catchers()[key], ember, state["ground"])

    def draw(self, answer, pinned):
        """Draw both cuts."""
        sketch = self._sketch(self.system)
        words = sketch.update(answer)
        if pinned is not None:
            words += f" Pinned: {sketch.sentence(pinned)}"
        return sketch.png(), words

    def results(self, answer, pinned):
        """Spell what both have drawn by now."""
        rows = [("", "Since it was set down", _seconds, f"over {below_words(answer[0].ground)}")]
        for side in (0, 1):
            name = answer[side].catcher.name
            rows.append(("", f"Into {name}", _drawn(side), "and below, so far"))
        rows.append(("fh-ember", "Ember made", _own, "in the same time, if it burns evenly"))
        return tiles(rows, answer, pinned)


def _seconds(pair):
    return f"{pair[0].run.time[pair[0].at]:.0f} s"


def _drawn(side):
    return lambda pair: f"{number_words(pair[side].joules)} J"


def _own(pair):
    under = pair[0]
    return f"{number_words(under.ember.power * under.run.time[under.at])} J"


class SheetThickness(Panel):
    """One sheet made thicker and thinner, beside others of the same thickness.

    Parameters
    ----------
    sheet, ground : str
        Where the choices start.
    units : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(
        self, sheet: str = "aluminium_foil", ground: str = "dry soil", *, units: str = METRIC
    ):
        self._sketch = cache(SheetCurve)
        self._along = np.geomspace(1e-7, 3e-3, 28)
        self._curves = lru_cache(maxsize=64)(self._curves_of)
        start = catchers()[sheet].thickness
        controls = {
            "sheet": Choice("Sheet", _names(_SHEETS), sheet),
            "ground": _ground_choice(ground),
            "catcher_thickness": LogSlider("catcher_thickness", start, _ENDS),
            "crust": Slider("crust"),
        }
        choices, sliders = _choices(controls, "sheet", "ground"), list(controls)[2:]
        super().__init__(controls, [choices, cells(controls, *sliders)], units)

    def _curves_of(self, ground, crust):
        ember = Ember(crust=crust)
        curves = {key: joules_by_thickness(key, self._along, ground, ember) for key in _SHEETS}
        return curves, float(joules_by_thickness(_SHEETS[0], _NOTHING, ground, ember))

    def answer(self, state):
        """Lay the ember on the sheet at this thickness."""
        key, ground, thickness = state["sheet"], state["ground"], state["catcher_thickness"]
        curves, bare = self._curves(ground, state["crust"])
        one = catchers()[key]
        ranges = {name: ends for name, ends in one.ranges.items() if name != "thickness"}
        one = replace(one, thickness=thickness, ranges=ranges)
        drawn = draw(one, ground, Ember(crust=state["crust"]))
        return Sheet(key, thickness, drawn, bare, self._along, curves, ground)

    def draw(self, answer, pinned):
        """Draw the curves and the dot."""
        sketch = self._sketch(self.system)
        words = sketch.update(answer, pinned)
        return sketch.png(), words

    def results(self, answer, pinned):
        """Spell the heat with the sheet, without it, and what the sheet does."""
        does = "robs more than no sheet" if answer.added >= 0 else "saves, against no sheet"
        rows = (
            ("", "First minute", _sheet_joules, f"{catchers()[answer.key].name}, this thick"),
            ("", "With no sheet", _bare, f"the ember on {below_words(answer.ground)} alone"),
            ("fh-ember", "The sheet itself", _added, does),
            ("", "Of what the ember makes", _sheet_made, "above 1: more than it has"),
        )
        return tiles(rows, answer, pinned)


def _sheet_joules(sheet):
    return f"{number_words(sheet.draw.joules_first_minute)} J"


def _bare(sheet):
    return f"{number_words(sheet.bare)} J"


def _added(sheet):
    sign = "+" if sheet.added >= 0 else "−"
    return f"{sign}{number_words(abs(sheet.added))} J"


def _sheet_made(sheet):
    return share_words(sheet.draw.share_of_made)
