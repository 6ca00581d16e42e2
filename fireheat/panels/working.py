"""How do we know? The working behind one result, unfolded under a panel."""

import html
from collections.abc import Callable, Mapping
from typing import Any

import ipywidgets as widgets
import numpy as np

from ..answers.working import Row, Working
from ..answers.working_lines import Line, Valued
from ..data import table
from ..quantities import METRIC, quantities, quantity, unit_text
from ..texts import in_units
from ..words import (
    NEVER,
    band_words,
    floor_words,
    inch_words,
    number_words,
    part_words,
    range_words,
    shares_words,
    signed_range_words,
    time_words,
)
from .base import unbroken, unfolding

_RESULTS = {
    "Ember": "ember",
    "First smoke": "smoke",
    "Floor": "floor",
    "Enough dust": "dust",
    "Heat made": "heat",
}
_PARTS = {"How it is made": "made", "Numbers from outside": "rows", "What is left out": "left_out"}
# Whose word it is, as said of a value and as a heading of the shares.
_WORD = {
    "published": "published",
    "common practice": "common practice",
    "assumption": "assumed",
    "memory": "from memory",
}
_VALUES = {
    "assumption": "values we assumed",
    "memory": "values told from memory",
    "common practice": "common practice",
    "published": "published values",
}
_FIGURES = 3  # of a value put in: enough for a reader's own calculator to agree with the result


class TheWorking(widgets.VBox):
    """Where a number comes from: a choice of result, a choice of what to tell, and the page.

    Attributes
    ----------
    button : ToggleButton
        Folds and unfolds it; to stand among a panel's buttons.
    """

    def __init__(self):
        self.which = widgets.ToggleButtons(options=_RESULTS, description="Where from?")
        self.part = widgets.ToggleButtons(options=_PARTS, description="Tell me")
        self.page = widgets.HTMLMath()
        self._ask: Callable[[str], Working] | None = None
        self._system = METRIC
        super().__init__([self.which, self.part, self.page])
        self.add_class("fh-working")
        self.button = unfolding("The working", self)
        for control in (self.button, self.which, self.part):
            control.observe(self._moved, names="value")

    def show(self, ask: Callable[[str], Working], system: str = METRIC) -> None:
        """Take what tells the working of a result; it is asked only while it is unfolded."""
        self._ask, self._system = ask, system
        self._moved()

    def _moved(self, _=None):
        if self.button.value and self._ask is not None:
            made = self._ask(self.which.value)
            self.page.value = unbroken(page_words(made, self.part.value, self._system))


def page_words(made: Working, part: str = "made", system: str = METRIC) -> str:
    """Spell one part of the working of a result as HTML.

    Parameters
    ----------
    made : Working
        The working.
    part : str
        ``"made"``, ``"rows"`` or ``"left_out"``.
    system : str
        ``"metric"`` or ``"us"``.
    """
    spell = {"made": _made, "rows": _rows, "left_out": _left_out}[part]
    return f"<h3>{_title(made)}</h3><p>{_band(made)}</p>{spell(made, system)}"


# ---- how it is made --------------------------------------------------------------------------


def _title(made):
    shown = result_words(made.which, made.number)
    return f"Why {shown}?" if shown == NEVER else f"Where does {shown} come from?"


def _band(made):
    ends = _ends_words(made.which, made.band)
    if made.which == "dust":
        return f"With what is not known of a heap: {ends} the least. Above 1 it stays hot."
    return f"With all we do not know: {ends}."


def _ends_words(which, ends):
    """Spell two ends of a result."""
    low, high = sorted(ends)
    if which == "dust":
        return f"{range_words((low, high))} times"
    return f"{range_words((low, high))} W" if which == "heat" else band_words((low, high))


def result_words(which: str, number: float) -> str:
    """Spell a result as its tile does.

    Examples
    --------
    >>> result_words("ember", 55.7), result_words("heat", 10.51), result_words("dust", 8.8)
    ('56 s', '11 W', '8.8 times the least dust')
    """
    if which == "heat":
        return f"{number_words(number)} W"
    if which == "dust":
        return f"{number_words(number)} times the least dust"
    return floor_words(number) if which == "floor" else time_words(number)


def _made(made, system):
    lines = "".join(_line(line, system) for line in made.lines)
    full = "".join(
        f"<p>{html.escape(title)}</p>{_display(latex)}"
        for title, latex in table("working")["full"][made.which]
    )
    return (
        f"<p>{_STORIES[made.which](_Told(made, system))}</p>{lines}{_whose(made)}"
        f"<details><summary>The equations in full</summary>{full}</details>"
    )


def _puts(lines):
    for line in lines:
        yield from (*line.values, line.result)


def _line(line: Line, system: str) -> str:
    """Spell an equation, what is put in, and what comes out."""
    values = "".join(_put(put, system) for put in line.values)
    out = _put(line.result, system, "fh-out")
    equation = _display(table("working")["equations"][line.equation])
    return f'{equation}<table class="fh-puts">{values}{out}</table>'


def _put(put: Valued, system: str, kind: str = "") -> str:
    letter = table("working")["letters"][put.symbol]
    return (
        f'<tr class="{kind}"><td>${letter}$</td><td>{html.escape(put.name)}</td>'
        f"<td>{value_words(put.value, put.unit, system)}</td></tr>"
    )


def _display(latex):
    return f'<div class="fh-equation">$${html.escape(latex)}$$</div>'


def value_words(value: Any, unit: str, system: str = METRIC) -> str:
    """Spell a value with its unit, in the reader's units.

    Parameters
    ----------
    value : float or list of float
        The value. [SI]
    unit : str
        A quantity of the table, which says how it is shown, or a unit.
    system : str
        ``"metric"`` or ``"us"``.

    Examples
    --------
    >>> value_words(0.016, "diameter"), value_words(0.016, "diameter", "us")
    ('16 mm', '0.63 in')
    >>> value_words(623.15, "K"), value_words([103.1, 3.867], "J/(kg K), J/(kg K^2)")
    ('623 K', '103; 3.87 J/(kg K), J/(kg K²)')
    """
    if unit in quantities():
        row = quantity(unit)
        value, unit = row.shown(value, system), row.shown_unit(system)
        if row.in_parts(system) and np.ndim(value) == 0 and (value * row.parts).is_integer():
            return f"{inch_words(value, row.parts)} {unit_text(unit)}"
    numbers = "; ".join(_figures(number) for number in np.ravel(value).tolist())
    return f"{numbers} {unit_text(unit)}".rstrip()


def _figures(number):
    spelled = number_words(abs(number), figures=_FIGURES)
    return f"−{spelled}" if number < 0 else spelled


# ---- in words first ----------------------------------------------------------------------------


class _Told:
    """The values put in, by letter, and how they are said."""

    def __init__(self, made: Working, system: str):
        self.made, self.system = made, system
        self.puts = {put.symbol: put for put in _puts(made.lines)}

    def __contains__(self, letter):
        return letter in self.puts

    def said(self, *letters):
        """Spell values with their units."""
        puts = (self.puts[letter] for letter in letters)
        return [value_words(put.value, put.unit, self.system) for put in puts]


_HEAT = (
    "Rubbing makes heat, as cold hands know. Press harder, bow quicker, or find a pair of woods"
    " that rubs more, and there is more of it. The number in front is for the tip: its rim goes as"
    " fast as the cord, its middle hardly moves."
)


def _floor_story(told):
    watts, cold, hot = told.said("P", "T_0", "T_d")
    return (
        f"The dust of one ember must be warmed from {cold} to {hot}, and its water boiled away. A"
        f" watt is a joule a second, and rubbing makes {watts}. So even if no heat at all were"
        " lost, it would take this long: no sooner, if friction alone heats that much dust that"
        " hot, at these watts."
    )


def _smoke_story(told):
    watts, cold, hot = told.said("P", "T_0", "T_s")
    if "P_l" in told:
        return (
            f"To smoke, the tip must get from {cold} to {hot}. But the hotter it is, the more heat"
            f" runs off into wood and air: in the end {told.said('P_l')[0]}, and rubbing makes only"
            f" {watts}."
        )
    rise = value_words(told.puts["Z"].value, "warming", told.system)
    return (
        f"To smoke, the tip must get from {cold} to {hot}. With {watts}, each watt has to warm it"
        f" by {rise}. A tip warms quickly at first, then ever slower, as heat runs off into the"
        " wood: the curve Z says when it is that warm."
    )


def _ember_story(told):
    (watts,) = told.said("P")
    if "P_l" in told:
        return (
            f"Hot wood carries {told.said('P_l')[0]} away, and rubbing makes {watts}. Nothing worth"
            " the name is left to make hot dust with."
        )
    time, (dust,) = told.made.number, told.said("Q_d")
    joules = _figures(time * told.puts["P"].value)
    return (
        f"A watt is a joule a second: in {time_words(time)}, {watts} make {joules} J. All of it"
        f" must be somewhere. The hot dust took {dust}, its water some more, and the rest soaked"
        " into spindle, board and air. How much soaks away is found by following the heat from"
        " moment to moment, while the tip warms, smokes, and wears into wood already warm."
    )


def _dust_story(told):
    heap, least = told.said("m", "m_c")
    return (
        "Hot dust makes a little heat of its own. In a big heap it cannot get out, and the heap"
        " glows; a small one loses it through its skin. How big is big enough is reckoned from one"
        f" layer of dust that was tried on a hot plate: {least}, and here are {heap}. Very rough."
    )


_STORIES: Mapping[str, Callable[[_Told], str]] = {
    "heat": lambda _: _HEAT,
    "floor": _floor_story,
    "smoke": _smoke_story,
    "ember": _ember_story,
    "dust": _dust_story,
}


def _whose(made):
    """Say whose word the answer hangs on, and which number moves it most."""
    if not made.shares:
        return "<p>No number that we are unsure of would change this.</p>"
    ours = part_words(sum(made.shares.get(key, 0.0) for key in ("assumption", "memory")))
    spelled = shares_words(made.shares)
    shares = ", ".join(
        f"{spelled[key]} {words}" for key, words in _VALUES.items() if key in spelled
    )
    most, *_ = made.rows
    return (
        f'<p class="fh-whose"><b>Whose word is it?</b> Of how far this may be off, {ours} hangs on'
        f" numbers that we assumed or tell from memory ({shares}). Nothing moves it more than"
        f" “{html.escape(most.name)}”: {_ends_words(made.which, most.ends)} from its one end to its"
        " other.</p>"
    )


# ---- numbers from outside, and what is left out ------------------------------------------------


def _rows(made, system):
    lines = "".join(_row(made.which, row, system) for row in made.rows)
    return (
        "<p>Every number from outside that this result or its band hangs on, found by moving each"
        " number of our tables a little. Those that may move it most stand first.</p>"
        "<table><tr><th>number</th><th>value</th><th>the result, if low or high</th>"
        f"<th>whose word</th><th>source</th></tr>{lines}</table>"
    )


def _row(which, row: Row, system):
    ends = _ends_words(which, row.ends) if row.ends else ""
    return (
        f"<tr><td>{html.escape(row.name)}</td><td>{_row_value(row, system)}</td><td>{ends}</td>"
        f"<td>{_WORD[row.status]}</td><td>{html.escape(row.source)}</td></tr>"
    )


def _row_value(row: Row, system):
    if row.unit == "factor":
        return f"{range_words(row.value)} times"
    if row.unit == "added":
        unit = unit_text(quantity(row.key.partition(".")[2]).unit)
        return f"{signed_range_words(row.value)} {unit}".rstrip()
    unit = {"K": "temperature", "m": "thickness"}.get(row.unit, row.unit)
    return value_words(row.value, unit, system)


def _left_out(made, system):
    lines = "".join(
        f"<tr><td>{html.escape(in_units(one.what, system))}</td><td>{_TRUTH[one.truth]}</td>"
        f"<td>{html.escape(in_units(one.size, system))}</td></tr>"
        for one in made.left_out
    )
    return (
        "<table><tr><th>what is left out</th><th>a real try</th><th>by how much</th></tr>"
        f"{lines}</table>"
    )


_TRUTH = {
    "sooner": "comes sooner",
    "later": "comes later",
    "either": "may be sooner or later",
    "more watts": "makes more watts",
    "more dust": "needs more dust",
    "less dust": "needs less dust",
}
