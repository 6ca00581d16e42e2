"""Sizes of a kit, for who wants to make one."""

import html
from dataclasses import replace
from itertools import groupby

from ..figures.making import MakingPicture, Makings
from ..kit.making import Carved, Size, sizes
from ..quantities import METRIC, US, from_si, quantity
from ..words import inch_words
from .base import Panel, cells
from .controls import Slider
from .units import GivenUnits

_CAUTIONS = (
    "Only under your club's knife rules, with an adult in charge, and never with tired hands.",
    "Only wood that a leader knows: some is poisonous, and so is painted, glued or treated wood.",
    "A cracked spindle or a block worn thin is firewood: your hand is where a broken end goes.",
)
_SAFETY = "00-start-here.ipynb#Before-anything-burns"
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
        super().__init__(controls, [cells(controls, *controls)], units)

    def answer(self, state):
        """Tell what follows from the spindle's thickness."""
        return Carved(state["diameter"])

    def results(self, answer, before):
        """List all sizes as a table, with cautions for whoever takes up a knife."""
        then = "" if before is None else f"before: {self._thick(before)}"
        rows = [("spindle", "this one", f"{self._thick(answer)} thick", then)]
        rows += [(one.part, one.name, _usual(one, self.system), "") for one in sizes().values()]
        rows.append(("hole", "width", f"as the spindle, {self._thick(answer)}", ""))
        rows.append(("notch", "width at the edge", _length(answer.notch_mouth, self.system), ""))
        order = list(dict.fromkeys(part for part, *_ in rows))
        rows.sort(key=lambda row: order.index(row[0]))
        lines = "".join(f"<li>{html.escape(words)}</li>" for words in _CAUTIONS)
        return (
            '<div class="fh-making"><table><caption>Common practice; no source</caption>'
            f'{_table(rows)}</table><div class="fh-making-first"><b>Before you carve</b>'
            f'<ul>{lines}</ul><a href="{_SAFETY}">All safety points</a></div></div>'
        )

    def draw(self, answer, before):
        """Draw the parts with their dimension lines."""
        sketch = self.sketch(MakingPicture)
        return sketch, sketch.update(self._makings(answer), before and self._makings(before))

    def _thick(self, carved):
        return quantity("diameter").text(carved.diameter, self.system)

    def _makings(self, carved):
        words = {key: _usual(one, self.system) for key, one in sizes().items()}
        words |= {
            "spindle": self._thick(carved),
            "hole": self._thick(carved),
            "mouth": _length(carved.notch_mouth, self.system),
        }
        return Makings(carved, words)


def _table(rows):
    made = []
    for part, of_part in groupby(rows, key=lambda row: row[0]):
        for i, (_, name, words, then) in enumerate(list(of_part)):
            head = f'<th scope="rowgroup">{part if not i else ""}</th>'
            note = f' <span class="fh-before">{then}</span>' if then else ""
            made.append(f"<tr>{head}<td>{name}</td><td>{words}{note}</td></tr>")
    return "".join(made)


def _usual(one: Size, system: str) -> str:
    """Spell what is usual: from, to, unit."""
    if one.unit == "1":
        return f"about 1/{1 / one.value:.0f}"
    low, high = (_number(end, system, one.high) for end in (one.low, one.high))
    return f"{low} to {high} {_unit(system)}"


def _length(length, system):
    return f"{_number(length, system, length)} {_unit(system)}"


def _unit(system):
    return "mm" if system == METRIC else "in"


def _number(length, system, largest):
    if system == US:
        parts = next(parts for least, parts in _PARTS if largest >= least)
        return inch_words(from_si(length, "in"), parts)
    return f"{from_si(length, 'mm'):.0f}"
