"""Thin sheets: how much heat a catcher takes as its thickness changes."""

from functools import lru_cache

from ..ember.catchers import catcher, catchers
from ..ember.draw import catcher_sheet, joules_by_thickness
from ..ember.ember import Ember
from ..figures.thickness import ALONG, SheetCurve
from ..words import (
    below_words,
    number_words,
    range_words,
    signed_range_words,
    signed_words,
    whole_range_words,
    whole_words,
)
from .base import Panel, bar, cells, tiles
from .catchers import ground_choice, names
from .controls import Choice, Slider
from .log_slider import LogSlider
from .units import GivenUnits

_SHEETS = ("aluminium_foil", "steel", "leather")
_ENDS = 1e-6, 3e-3  # thinnest and thickest sheet of the slider, in metres


@lru_cache(maxsize=64)
def _curves(ground, crust):
    """Follow all sheets from thin to thick; remembered, for the slider of one sheet's thickness."""
    ember = Ember(crust=crust)
    return {
        key: joules_by_thickness(key, thickness=ALONG, ground=ground, ember=ember)
        for key in _SHEETS
    }


class SheetThickness(Panel):
    """One sheet made thicker and thinner, beside others of the same thickness.

    Parameters
    ----------
    sheet, ground : str
        Where the choices start.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "Do thinner sheets take less?"

    def __init__(
        self, sheet: str = "aluminium_foil", ground: str = "dry soil", *, units: GivenUnits = None
    ):
        start = catcher(sheet).thickness
        controls = {
            "sheet": Choice("Sheet", names(_SHEETS), sheet),
            "ground": ground_choice(ground),
            "catcher_thickness": LogSlider("catcher_thickness", start, _ENDS),
            "crust": Slider("crust"),
        }
        choices, sliders = (
            bar(controls["sheet"].widget, controls["ground"].widget),
            list(controls)[2:],
        )
        super().__init__(controls, [choices, cells(controls, *sliders)], units)

    def answer(self, state):
        """Lay the ember on the sheet at this thickness."""
        ember = Ember(crust=state["crust"])
        return catcher_sheet(
            state["sheet"],
            thickness=state["catcher_thickness"],
            ground=state["ground"],
            ember=ember,
        )

    def draw(self, answer, before):
        """Draw the curves and the dot."""
        sketch = self.sketch(SheetCurve, self.system)
        words = sketch.update(answer, before, _curves(answer.ground, answer.ember.crust))
        return sketch, words

    def results(self, answer, before):
        """Spell the heat with the sheet, without it, and what the sheet does."""
        name, does = catchers()[answer.key].name, "robs" if answer.added.likely >= 0 else "saves"
        drawn, bare = map(range_words, (answer.draw.joules.ends, answer.bare.ends))
        added = signed_range_words(answer.added.ends)
        rows = (
            ("", "First minute", _sheet_joules, f"{name}, exactly this thick; band {drawn} J"),
            ("", "With no sheet", _bare, f"{_alone(answer)}; band {bare} J"),
            ("fh-ember", "The sheet itself", _added, f"{does}; band {added} J"),
            ("", "Of what the ember makes", _sheet_made, _sheet_made_band(answer)),
        )
        return tiles(rows, answer, before)


def _sheet_joules(sheet):
    return f"{number_words(sheet.draw.joules.likely)} J"


def _bare(sheet):
    return f"{number_words(sheet.bare.likely)} J"


def _alone(sheet):
    return f"over {below_words(sheet.ground)}{'' if sheet.boiled is None else ' that stays wet'}"


def _added(sheet):
    return f"{signed_words(sheet.added.likely)} J"


def _sheet_made(sheet):
    return whole_words(sheet.draw.share_of_made.likely)


def _sheet_made_band(sheet):
    words = f"band {whole_range_words(sheet.draw.share_of_made.ends)}"
    return f"{words}; more than it has" if _sheet_made(sheet).endswith("times") else words
