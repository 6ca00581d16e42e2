"""Sizes of a kit, for who wants to make one."""

import html
from dataclasses import replace
from itertools import groupby
from operator import itemgetter

import ipywidgets as widgets

from ..figures.making import MakingPicture, Makings
from ..kit.making import Carved, Size, sizes
from ..quantities import METRIC, US, from_si, quantity
from ..words import inch_words
from .base import Panel, cells, tiles, unbroken, unfolding
from .controls import Slider
from .units import GivenUnits

_CAUTIONS = (
    "Only under your club's knife rules, with an adult in charge, and never with tired hands.",
    "Only wood that a leader knows: some is poisonous, and so is painted, glued or treated wood.",
    "A cracked spindle or a block worn thin is not used: your hand is where a broken end goes.",
)
_SAFETY = "00-start-here.ipynb#Before-anything-burns"
_part = itemgetter(0)  # of a row of the table
_PARTS = ((0.1, 4), (0.02, 8), (0.0, 16))  # from so many metres on, parts of an inch that do


class KitToMake(Panel):
    """Spindle, board, notch, block, bow and cord with their usual sizes; cautions beside them.

    Parameters
    ----------
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "How large are the parts?"

    def __init__(self, *, units: GivenUnits = None):
        usual = sizes()["spindle_thickness"]
        thick = Slider("diameter", name="spindle, how thick")
        thick.row = replace(thick.row, slider=(usual.low, usual.high))
        controls = {"diameter": thick}
        lines = "".join(f"<li>{html.escape(words)}</li>" for words in _CAUTIONS)
        first = widgets.HTML(
            f'<div class="fh-making-first"><b>Before you carve</b><ul>{lines}</ul>'
            f'<a href="{_SAFETY}">All safety points</a></div>'
        )
        self.list = widgets.HTML()
        told = widgets.VBox([self.list])
        more = unfolding("All sizes as a table", told)
        super().__init__(controls, [cells(controls, *controls), first, more, told], units)

    def answer(self, state):
        """Tell what follows from the spindle's thickness."""
        return Carved(state["diameter"])

    def results(self, answer, before):
        """Spell what follows from the thickness, and list all sizes."""
        self.list.value = unbroken(self._table(answer))
        rows = (
            ("", "Spindle, thick", self._thick, "hold it against a ruler"),
            ("", "Hole, wide", self._thick, "the spindle bores it itself"),
            ("", "Notch, at the edge", self._mouth, "an eighth of the circle"),
        )
        return tiles(rows, answer, before)

    def draw(self, answer, before):
        """Draw the parts with their dimension lines."""
        sketch = self.sketch(MakingPicture)
        return sketch, sketch.update(self._makings(answer), before and self._makings(before))

    def _makings(self, carved):
        words = {key: _usual(one, self.system) for key, one in sizes().items()}
        thick = self._thick(carved)
        return Makings(
            carved, words | {"spindle": thick, "hole": thick, "mouth": self._mouth(carved)}
        )

    def _thick(self, carved):
        return quantity("diameter").text(carved.diameter, self.system)

    def _mouth(self, carved):
        return f"{_number(carved.notch_mouth, self.system)} {_unit(self.system)}"

    def _table(self, carved):
        rows = [(one.part, one.name, _usual(one, self.system)) for one in sizes().values()]
        rows.append(("hole", "width", f"as the spindle, {self._thick(carved)}"))
        rows.append(("notch", "width at the edge", self._mouth(carved)))
        order = list(dict.fromkeys(part for part, *_ in rows))
        rows.sort(key=lambda row: order.index(_part(row)))
        made = ""
        for part, of_part in groupby(rows, _part):
            for i, (_, name, words) in enumerate(of_part):
                head = f"<th>{'' if i else part}</th>"
                made += f"<tr>{head}<td>{name}</td><td>{words}</td></tr>"
        return (
            '<table class="fh-making"><caption>What clubs usually cut: common practice, no source'
            f"</caption>{made}</table>"
        )


def _usual(one: Size, system: str) -> str:
    """Spell what is usual: from, to, unit."""
    if one.unit == "1":
        return f"about 1/{1 / one.value:.0f}" if one.value < 1 else f"{one.value}"
    low, high = (_number(end, system, one.high) for end in (one.low, one.high))
    return f"{low} to {high} {_unit(system)}"


def _unit(system):
    return "mm" if system == METRIC else "in"


def _number(length, system, largest=0.0):
    """Spell a length, as exactly as the largest of its kind is read."""
    if system == US:
        parts = next(parts for least, parts in _PARTS if largest >= least)
        return inch_words(from_si(length, "in"), parts)
    return f"{from_si(length, 'mm'):.0f}"
