"""What is worth measuring next: who makes how much of the doubt, and room for a ruler's reading."""

from typing import Any, NamedTuple

from ..answers.worth import Doubt, doubted, doubts, parts_words
from ..bands import Band
from ..figures.worth import DoubtBars, doubt_name
from ..kit.kit import Air, Effort, Kit, Try
from ..my_kit import MyKit
from ..person.measuring import Measured, well_measured
from ..unknowns import unknown
from ..words import band_words
from .base import Panel, bar, button, cells, tiles
from .controls import Choice, Slider
from .mine import PutIntoMyKit, my_kit, reading_words
from .units import GivenUnits

_NOTHING = "nothing"
_READINGS = {
    _NOTHING: "nothing new",
    "diameter": "spindle diameter, with a ruler",
    "burn_in_depth": "burn-in depth, with a ruler",
    "dust_mass": "dust of one ember, on a kitchen scale",
    "moisture": "moisture, by weighing and drying",
    "force": "downward force, with a bathroom scale",
}


class Worth(NamedTuple):
    """My kit with what is on the slider, who makes the doubt that is left, and the ember's time."""

    kit: MyKit
    doubts: tuple[Doubt, ...]
    ember: Band[float]


class MeasureNext(Panel):
    """Parts of the doubt about the ember's time, my kit counted, and what to measure next.

    Parameters
    ----------
    kit, effort, air : optional
        The try into which my kit is put; an ordinary one if left out.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "What is worth measuring next?"

    def __init__(
        self,
        kit: Kit | None = None,
        effort: Effort | None = None,
        air: Air | None = None,
        *,
        units: GivenUnits = None,
    ):
        self._try = Try(kit, effort, air)
        sliders = {key: Slider(key, self._try.value(key)) for key in _READINGS if key != _NOTHING}
        controls: dict[str, Any] = {"reading": Choice("I measured", _READINGS), **sliders}
        self.mine = PutIntoMyKit(self._readings, lambda: self.system)
        self.clear_button = button("Empty my kit", self.clear)
        layout = [bar(controls["reading"].widget), cells(controls, *sliders), self.mine]
        super().__init__(controls, [*layout, bar(self.clear_button)], units)
        self.mine.put_button.on_click(lambda _: self.refresh())
        controls["reading"].widget.observe(lambda _: self._follow_reading(), names="value")
        self._follow_reading()

    def _follow_reading(self):
        """Show the slider of what was measured."""
        for key in _READINGS:
            if key != _NOTHING:
                shown = key == self.control["reading"].value
                self.control[key].box.layout.display = None if shown else "none"

    def clear(self) -> None:
        """Forget all that was measured in this session."""
        my_kit.clear()
        self.mine.said.value = ""
        self.refresh()

    def _readings(self, state=None) -> dict[str, Measured]:
        state = self.state if state is None else state
        key = state["reading"]
        return {} if key == _NOTHING else {key: well_measured(key, state[key])}

    def answer(self, state):
        """Count the doubts, as if what is on the slider were in my kit already."""
        kit = my_kit.kit.put(**self._readings(state))
        now = kit.state(self._try)
        return Worth(kit, doubts(now, kit), doubted(now, kit))

    def draw(self, answer, before):
        """Draw the bars."""
        sketch = self.sketch(DoubtBars)
        words = sketch.update(answer.doubts)
        if before is not None:
            words += f" Before: an ember after {band_words(before.ember)}."
        return sketch, words

    def results(self, answer, before):
        """Spell what to measure next, the ember's time, and what is in my kit."""
        rows = (
            ("", "Worth measuring next", _next, _next_note(answer)),
            (
                "fh-ember",
                "Ember, estimate",
                lambda worth: band_words(worth.ember),
                "where all that was not measured is a guess",
            ),
        )
        inside = reading_words(answer.kit, self.system)
        line = f"In my kit, with this: {inside}." if inside else "In my kit: nothing yet."
        return tiles(rows, answer, before) + f'<div class="fh-note">{line}</div>'


def _first(answer):
    """Return the greatest doubt that a reader can still take away."""
    left = [one for one in answer.doubts if one.state == "guessed" and one.share]
    return left[0] if left else None


def _next(answer):
    first = _first(answer)
    return "nothing" if first is None else doubt_name(first.key)


def _next_note(answer):
    first = _first(answer)
    if not any(one.share for one in answer.doubts):
        return "as it is set no ember comes, whatever you measure: change something first"
    if first is None:
        return "what is left nobody can measure"
    return f"makes {parts_words(first.share)} of the doubt; measure it {unknown(first.key).how}"
