"""One ember on two catchers, cut open."""

from functools import cache, lru_cache
from typing import NamedTuple

import numpy as np

from ..ember.catchers import catchers
from ..ember.draw import draw, draw_history
from ..ember.ember import Ember
from ..ember.scorch import solve_catcher
from ..figures.under_ember import Under, UnderEmber
from ..quantities import METRIC, quantity
from ..words import below_words, number_words, range_words
from .base import Choice, Panel, Slider, bar, cells, tiles
from .catchers import ground_choice, names
from .play_slider import PlaySlider


@lru_cache(maxsize=32)
def _run(key, ground, crust):
    """Follow two minutes under an ember; a few runs are remembered, for the time slider."""
    times = np.linspace(0, quantity("elapsed").slider[1], 121)[1:]
    ember = Ember(crust=crust)
    run = solve_catcher(key, time=times, ground=ground, ember=ember)
    return (
        run,
        ember,
        draw(key, ground=ground, ember=ember),
        draw_history(key, time=times, ground=ground, ember=ember),
    )


class Pair(NamedTuple):
    """What lies under the same ember on two catchers."""

    left: Under
    right: Under


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
            "left": Choice("Left", names(), left),
            "right": Choice("Right", names(), right),
            "ground": ground_choice(ground),
            "elapsed": PlaySlider("elapsed", 60.0, name="time since it was set down"),
            # The heat is followed anew for another bed: that takes a moment.
            "crust": Slider("crust", continuous=False),
        }
        choices = bar(*(controls[key].widget for key in ("left", "right", "ground")))
        super().__init__(controls, [choices, cells(controls, "elapsed", "crust")], units)

    def answer(self, state):
        """Look at both runs at this moment."""
        return Pair(*(self._under(state, state[side]) for side in Pair._fields))

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
        rows = [("", "Since it was set down", _seconds, f"over {below_words(answer.left.ground)}")]
        for side in Pair._fields:
            under = getattr(answer, side)
            name, band = under.catcher.name, range_words(under.joules_band)
            rows.append(("", f"Into {name}", _drawn(side), f"and below, so far; band {band} J"))
        even = f"meanwhile, if it smoulders evenly; band {range_words(answer.left.made.ends)} J"
        rows.append(("fh-ember", "Ember made", _own, even))
        return tiles(rows, answer, pinned)


def _seconds(pair):
    return f"{pair.left.seconds:.0f} s"


def _drawn(side):
    return lambda pair: f"{number_words(getattr(pair, side).joules)} J"


def _own(pair):
    return f"{number_words(pair.left.made.likely)} J"
