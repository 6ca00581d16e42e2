"""What an ember lands on: all catchers side by side."""

from collections.abc import Iterable

from ..ember.catchers import catchers, grounds
from ..ember.draw import draws
from ..ember.ember import Ember
from ..ember.lasting import lastings
from ..ember.scorch import scorch_time
from ..figures.catchers import CatcherRows, Laid, keeping_words
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
from .base import Panel, bar, cells, tiles
from .controls import Choice, Slider
from .units import GivenUnits

_SHOWN = {"heat": "heat it takes", "time": "how long an ember keeps"}


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
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "Which catcher takes least?"
    view = ("shown",)

    def __init__(
        self, catcher: str = "leather", ground: str = "dry soil", *, units: GivenUnits = None
    ):
        controls = {
            "catcher": Choice("Ember lands on", names(), catcher),
            "ground": ground_choice(ground),
            "shown": Choice("Picture shows", _SHOWN),
            "mass": Slider("mass", Ember().mass, name="dust in the ember"),
            "crust": Slider("crust"),
        }
        choices = bar(*(controls[key].widget for key in ("catcher", "ground", "shown")))
        super().__init__(controls, [choices, cells(controls, "mass", "crust")], units)

    def answer(self, state):
        """Lay the ember on every catcher; ask of no more than is shown how long it keeps."""
        chosen, ground = state["catcher"], state["ground"]
        ember = Ember.of_mass(state["mass"], crust=state["crust"])
        rows = catchers() if state["shown"] == "time" else {chosen: catchers()[chosen]}
        return Laid(
            draws(ground=ground, ember=ember),
            chosen,
            ground,
            ember,
            scorch_time(chosen, ground=ground, ember=ember),
            lastings(rows, ground=ground, ember=ember),
        )

    def draw(self, answer, before):
        """Draw a row for each catcher."""
        sketch = self.sketch(CatcherRows, self.state["shown"])
        return sketch, sketch.update(answer, before)

    def results(self, answer, before):
        """Spell the chosen catcher's joules and shares, how long it keeps, and when it scorches."""
        where = f"{answer.name} over {below_words(answer.ground)}"
        joules, watts = map(range_words, (answer.draw.joules.ends, answer.draw.watts.ends))
        then = f"then {_watts(answer)} ({watts} W) to keep its underside glowing"
        keeps = answer.keeps[answer.chosen]
        rough = f"rough: {band_words(keeps.alone)}"
        rows = (
            ("", "First minute", _joules, f"{where}; band {joules} J; {then}"),
            ("fh-ember", "Of what the ember makes", _made, _face(answer)),
            ("", "Left alone, it keeps", _alone, f"{rough}; fed, {keeping_words(keeps)}"),
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


def _alone(laid):
    return time_words(laid.keeps[laid.chosen].alone.likely)


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
