"""What an ember lands on: all catchers side by side."""

from collections.abc import Iterable

from ..ember.catchers import catchers, grounds
from ..ember.draw import draws
from ..ember.ember import Ember
from ..ember.scorch import scorch_time
from ..figures.catchers import CatcherRows, Laid
from ..quantities import METRIC
from ..words import (
    NEVER,
    band_words,
    below_words,
    number_words,
    range_words,
    time_words,
    whole_range_words,
    whole_words,
)
from .base import Choice, Panel, Slider, bar, cells, tiles


def names(keys: Iterable[str] | None = None) -> dict[str, str]:
    """Return what a reader calls these catchers, or all, by key."""
    return {key: catchers()[key].name for key in (keys or catchers())}


def ground_choice(start: str | None) -> Choice:
    """Let the reader choose what lies below."""
    return Choice("Ground below", {ground: ground for ground in grounds()}, start)


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
        controls = {
            "catcher": Choice("Ember lands on", names(), catcher),
            "ground": ground_choice(ground),
            "mass": Slider("mass", Ember().mass, name="dust in the ember"),
            "crust": Slider("crust"),
        }
        layout = [
            bar(controls["catcher"].widget, controls["ground"].widget),
            cells(controls, "mass", "crust"),
        ]
        super().__init__(controls, layout, units)

    def answer(self, state):
        """Lay the ember on every catcher."""
        chosen, ground = state["catcher"], state["ground"]
        ember = Ember.of_mass(state["mass"], crust=state["crust"])
        when = scorch_time(chosen, ground=ground, ember=ember)
        return Laid(draws(ground=ground, ember=ember), chosen, ground, ember, when)

    def draw(self, answer, before):
        """Draw a row for each catcher."""
        sketch = self.sketch(CatcherRows)
        return sketch, sketch.update(answer, before)

    def results(self, answer, before):
        """Spell the chosen catcher's watts, joules and shares."""
        where = f"{answer.name} over {below_words(answer.ground)}"
        joules, watts = map(range_words, (answer.draw.joules.ends, answer.draw.watts.ends))
        glowing = f"after a minute, if the underside is to keep glowing; band {watts} W"
        rows = (
            ("", "First minute", _joules, f"{where}; band {joules} J"),
            ("", "Takes", _watts, glowing),
            ("fh-ember", "Of what the ember makes", _made, _face(answer)),
            ("", "Far side scorches", _scorch, _beds(answer)),
        )
        return tiles(rows, answer, before)

    def effects(self, answer):
        """Say what each slider does."""
        return {
            "mass": "more dust makes more heat, yet rests on little more ground",
            "crust": "a bed of dead dust keeps the glow off whatever lies below",
        }


def _joules(laid):
    return f"{number_words(laid.draw.joules.likely)} J"


def _watts(laid):
    return f"{number_words(laid.draw.watts.likely)} W"


def _made(laid):
    return whole_words(laid.draw.share_of_made.likely)


def _face(laid):
    band = whole_range_words(laid.draw.share_of_made.ends)
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
    return NEVER if time_words(least) == NEVER else band_words((least, laid.scorch.most))
