"""One ember on two catchers, cut open."""

from typing import NamedTuple

from ..answers.under_ember import Under, under_ember
from ..figures.under_ember import UnderEmber
from ..words import below_words, number_words, range_words
from .base import Panel, bar, cells, tiles
from .catchers import ground_choice, names
from .controls import Choice, Slider
from .play_slider import PlaySlider
from .units import GivenUnits


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
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "What goes on under an ember?"
    view = ("elapsed",)

    def __init__(
        self,
        left: str = "aluminium_foil",
        right: str = "leather",
        ground: str = "dry soil",
        *,
        units: GivenUnits = None,
    ):
        controls = {
            "left": Choice("Left", names(), left),
            "right": Choice("Right", names(), right),
            "ground": ground_choice(ground),
            "elapsed": PlaySlider("elapsed", 60.0, first=1.0, name="time since it was set down"),
            # The heat is followed anew for another bed: that takes a moment.
            "crust": Slider("crust", continuous=False),
        }
        choices = bar(*(controls[key].widget for key in ("left", "right", "ground")))
        super().__init__(controls, [choices, cells(controls, "elapsed", "crust")], units)

    def answer(self, state):
        """Look at both runs at this moment."""
        where = {key: state[key] for key in ("ground", "crust", "elapsed")}
        return Pair(*(under_ember(state[side], **where) for side in Pair._fields))

    def draw(self, answer, before):
        """Draw both cuts."""
        sketch = self.sketch(UnderEmber, self.system)
        words = sketch.update(answer)
        if before is not None:
            words += f" Before: {sketch.sentence(before)}"
        return sketch, words

    def results(self, answer, before):
        """Spell what both have drawn by now."""
        rows = [("", "Since it was set down", _seconds, f"over {below_words(answer.left.ground)}")]
        for side in Pair._fields:
            under = getattr(answer, side)
            name, band = under.catcher.name, range_words(under.joules_band)
            rows.append(("", f"Into {name}", _drawn(side), f"and below, so far; band {band} J"))
        even = f"meanwhile, if it smoulders evenly; band {range_words(answer.left.made.ends)} J"
        rows.append(("fh-ember", "Ember made", _own, even))
        return tiles(rows, answer, before)


def _seconds(pair):
    return f"{pair.left.seconds:.0f} s"


def _drawn(side):
    return lambda pair: f"{number_words(getattr(pair, side).joules)} J"


def _own(pair):
    return f"{number_words(pair.left.made.likely)} J"
