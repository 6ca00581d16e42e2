"""What an ember lands on: all catchers side by side, what is under them, and thin sheets."""

from functools import cache, lru_cache

import ipywidgets as widgets
import numpy as np

from ..catcher import (
    catchers,
    draw,
    draw_history,
    draws,
    grounds,
    joules_by_thickness,
    scorch_time,
    sheet,
    solve_catcher,
)
from ..ember import Ember
from ..figures.catcher_rows import CatcherRows, Laid
from ..figures.sheet_curve import ALONG, SheetCurve
from ..figures.under_ember import Under, UnderEmber
from ..quantities import METRIC, quantity
from ..words import (
    NEVER,
    band_words,
    below_words,
    number_words,
    range_words,
    signed_range_words,
    signed_words,
    time_words,
    whole_range_words,
    whole_words,
)
from .base import Choice, Panel, Slider, cells, tiles
from .log_slider import LogSlider
from .play_slider import PlaySlider

_SHEETS = ("aluminium_foil", "steel", "leather")
_ENDS = 1e-6, 3e-3  # thinnest and thickest sheet of the slider, in metres


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
        when = scorch_time(chosen, ground, ember)
        return Laid(draws(ground=ground, ember=ember), chosen, ground, ember, when)

    def draw(self, answer, pinned):
        """Draw a row for each catcher."""
        words = self._sketch.update(answer, pinned)
        return self._sketch.png(), words

    def results(self, answer, pinned):
        """Spell the chosen catcher's watts, joules and shares."""
        where = f"{answer.name} over {below_words(answer.ground)}"
        joules, watts = map(range_words, (answer.draw.joules_band, answer.draw.watts_band))
        glowing = f"after a minute, if the underside is to keep glowing; band {watts} W"
        rows = (
            ("", "First minute", _joules, f"{where}; band {joules} J"),
            ("", "Takes", _watts, glowing),
            ("fh-ember", "Of what the ember makes", _made, _face(answer)),
            ("", "Far side scorches", _scorch, _beds(answer)),
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
    return whole_words(laid.draw.share_of_made)


def _face(laid):
    band = whole_range_words(laid.draw.share_of_made_band)
    face = whole_words(laid.draw.share_of_face)
    return f"band {band}; {face} of its open face's loss".replace("times of", "times")


def _beds(laid):
    if catchers()[laid.chosen].temperature_scorch is None:
        return "metal, soil and stone do not"
    if laid.ember.crust:
        return "from thin, on this bed of dead dust, to thick, on this or a deeper one"
    return "from thin and touching bare to thick, on a bed of dead dust"


def _scorch(laid):
    least = laid.scorch.least
    return NEVER if time_words(least) == NEVER else band_words(least, laid.scorch.most)


@lru_cache(maxsize=32)
def _run(key, ground, crust):
    """Follow two minutes under an ember; a few runs are remembered, for the time slider."""
    times = np.linspace(0, quantity("elapsed").slider[1], 121)[1:]
    ember = Ember(crust=crust)
    run = solve_catcher(key, times, ground, ember)
    return run, ember, draw(key, ground, ember), draw_history(key, times, ground, ember)


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
            "elapsed": PlaySlider("elapsed", 60.0, name="time since it was set down"),
            # The heat is followed anew for another bed: that takes a moment.
            "crust": Slider("crust", continuous=False),
        }
        choices = _choices(controls, "left", "right", "ground")
        super().__init__(controls, [choices, cells(controls, "elapsed", "crust")], units)

    def answer(self, state):
        """Look at both runs at this moment."""
        return [self._under(state, state[side]) for side in ("left", "right")]

    def _under(self, state, key):
        run, ember, minute, history = _run(key, state["ground"], state["crust"])
        at = int(np.argmin(np.abs(run.time - state["elapsed"])))
        watts, joules = (float(values[at]) for values in history)
        return Under(run, at, catchers()[key], ember, state["ground"], minute, watts, joules)

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
            name, band = answer[side].catcher.name, range_words(answer[side].joules_band)
            rows.append(("", f"Into {name}", _drawn(side), f"and below, so far; band {band} J"))
        least, _, most = answer[0].made
        even = f"meanwhile, if it smoulders evenly; band {range_words((least, most))} J"
        rows.append(("fh-ember", "Ember made", _own, even))
        return tiles(rows, answer, pinned)


def _seconds(pair):
    return f"{pair[0].run.time[pair[0].at]:.0f} s"


def _drawn(side):
    return lambda pair: f"{number_words(pair[side].joules)} J"


def _own(pair):
    return f"{number_words(pair[0].made[1])} J"


@lru_cache(maxsize=64)
def _curves(ground, crust):
    """Follow all sheets from thin to thick; remembered, for the slider of one sheet's thickness."""
    ember = Ember(crust=crust)
    return {key: joules_by_thickness(key, ALONG, ground, ember) for key in _SHEETS}


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
        start = catchers()[sheet].thickness
        controls = {
            "sheet": Choice("Sheet", _names(_SHEETS), sheet),
            "ground": _ground_choice(ground),
            "catcher_thickness": LogSlider("catcher_thickness", start, _ENDS),
            "crust": Slider("crust"),
        }
        choices, sliders = _choices(controls, "sheet", "ground"), list(controls)[2:]
        super().__init__(controls, [choices, cells(controls, *sliders)], units)

    def answer(self, state):
        """Lay the ember on the sheet at this thickness."""
        ember = Ember(crust=state["crust"])
        return sheet(state["sheet"], state["catcher_thickness"], state["ground"], ember)

    def draw(self, answer, pinned):
        """Draw the curves and the dot."""
        sketch = self._sketch(self.system)
        words = sketch.update(answer, pinned, _curves(answer.ground, answer.ember.crust))
        return sketch.png(), words

    def results(self, answer, pinned):
        """Spell the heat with the sheet, without it, and what the sheet does."""
        name, does = catchers()[answer.key].name, "robs" if answer.added >= 0 else "saves"
        drawn, bare = map(range_words, (answer.draw.joules_band, answer.bare_band))
        added = signed_range_words(answer.added_band)
        rows = (
            ("", "First minute", _sheet_joules, f"{name}, exactly this thick; band {drawn} J"),
            ("", "With no sheet", _bare, f"{_alone(answer)}; band {bare} J"),
            ("fh-ember", "The sheet itself", _added, f"{does}; band {added} J"),
            ("", "Of what the ember makes", _sheet_made, _sheet_made_band(answer)),
        )
        return tiles(rows, answer, pinned)


def _sheet_joules(sheet):
    return f"{number_words(sheet.draw.joules_first_minute)} J"


def _bare(sheet):
    return f"{number_words(sheet.bare)} J"


def _alone(sheet):
    return f"over {below_words(sheet.ground)}{'' if sheet.boiled is None else ' that stays wet'}"


def _added(sheet):
    return f"{signed_words(sheet.added)} J"


def _sheet_made(sheet):
    return whole_words(sheet.draw.share_of_made)


def _sheet_made_band(sheet):
    words = f"band {whole_range_words(sheet.draw.share_of_made_band)}"
    return f"{words}; more than it has" if _sheet_made(sheet).endswith("times") else words
