"""Sizes of a kit, for who wants to make one."""

import html
from dataclasses import replace

import ipywidgets as widgets

from ..answers.making import size_rows, size_words
from ..figures.making import MakingPicture, Makings
from ..kit.making import Carved, sizes
from .base import Panel, cells, tiles, unbroken, unfolding
from .controls import Slider
from .units import GivenUnits

_CAUTIONS = (
    "Only under your club's knife rules, with an adult in charge, and never with tired hands.",
    "Only wood that a leader knows: some is poisonous, and so is painted, glued or treated wood.",
    "A cracked spindle or a block worn thin is not used: your hand is where a broken end goes.",
)
_SAFETY = "00-start-here.ipynb#Before-anything-burns"


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
            ("", "Spindle, thick", self._words("spindle"), "hold it against a ruler"),
            ("", "Hole, wide", self._words("hole"), "the spindle bores it itself"),
            ("", "Notch, at the edge", self._words("mouth"), "an eighth of the circle"),
        )
        return tiles(rows, answer, before)

    def draw(self, answer, before):
        """Draw the parts with their dimension lines."""
        sketch = self.sketch(MakingPicture)
        return sketch, sketch.update(self._makings(answer), before and self._makings(before))

    def _makings(self, carved):
        return Makings(carved, size_words(carved, self.system))

    def _words(self, key):
        return lambda carved: size_words(carved, self.system)[key]

    def _table(self, carved):
        made = "".join(
            f"<tr><th>{part}</th><td>{name}</td><td>{words}</td></tr>"
            for part, name, words in size_rows(carved, self.system)
        )
        return (
            '<table class="fh-making"><caption>What clubs usually cut: common practice, no source'
            f"</caption>{made}</table>"
        )
