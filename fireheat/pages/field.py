"""The field page: one file for a phone without network. Explorer, stopwatch, tries, my kit."""

import json
import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from ..answers.next_try import after_evenings
from ..figures.explorer import WAYS_OUT, evenings_words
from ..figures.keeping import ENOUGH
from ..figures.next_try import place_words, strange_words
from ..figures.style import DARK, LIGHT, TOKENS
from ..kit.kit import Try
from ..my_kit import CARE
from ..person.measuring import NINE_OF_TEN
from ..quantities import METRIC, US, quantity, to_si, unit_text
from ..shipped import shipped_cautions
from ..trials.cells import LEARNER_CODE, learner_warning
from ..trials.columns import AN_EMBER, COLUMNS, GAVE_UP
from ..trials.log import log_text
from ..trials.our_fire import OurFire
from ..words import FLOOR_NOTE, tries_words
from .kernel import evenings_for_kernel, kernel_script
from .lane import beside, lane_look, lane_script
from .sheet import caution_lines, with_strong
from .tight import tight_script, tight_style

_MAIN = ("diameter", "force", "friction", "strokes_per_minute", "stroke_length")
_MORE = ("moisture", "burn_in_depth")
_PARTS = ("kept", "move", "time", "tries", "shown")
_HOT = "Never leave an ember"


@lru_cache(maxsize=2)
def field_page(fire: OurFire | None = None) -> str:
    """Write the whole page, for a phone that has no network.

    Parameters
    ----------
    fire : OurFire, optional
        What a club's own evenings tell, where it has any.

    Returns
    -------
    str
        One file of HTML that asks for nothing else.

    Examples
    --------
    >>> field_page().count("<h1")
    1
    """
    ours = None if fire is None else _evenings(fire)
    told = f"const FIELD = {_spelled(_told() | (ours or {}))};"
    acts = "\n".join(beside(f"field_{part}.js") for part in _PARTS)
    by_hand = f'{lane_script()}\n{told}\n(() => {{\n"use strict";\n{acts}}})();'
    look = tight_style(f"{beside('field.css')}{lane_look()}")
    parts = {
        "css": f"{_colors(look)}{look}",
        "estimate": "handbook" if ours else "estimate",
        "floor_note": FLOOR_NOTE,
        "cautions": _cautions(),
        "hot": caution_lines((_HOT,))[0],
        "script": f"{kernel_script()}\n{tight_script(by_hand)}",
    }
    places = re.compile("|".join(f"{{{name}}}" for name in parts))
    page = beside("field.html").replace(">\n<", "><")
    return places.sub(lambda found: parts[found[0][1:-1]], page)


def _spelled(told):
    """Spell a table as JavaScript, its keys bare, and whole numbers without decimals."""
    text = json.dumps(told, ensure_ascii=False)
    return re.sub(r"(\d)\.0(?=[],}])", r"\1", re.sub(r'"([a-z_]+)": ', r"\1: ", text))


def _told() -> dict[str, Any]:
    """Collect words and tables of the library that the page shows."""
    return {
        "main": _MAIN,
        "more": _MORE,
        "enough": ENOUGH,
        "ways_out": WAYS_OUT,
        "head": log_text(()),
        "columns": {column.key: _column(column) for column in COLUMNS},
        "ended": [AN_EMBER, GAVE_UP],
        "code": f"^(?:{LEARNER_CODE})$",
        "no_name": learner_warning("a name"),
        "care": list(CARE.items()),
        "of_ten": NINE_OF_TEN,
    }


def _evenings(fire):
    """Collect what a club's own tries tell, and the words that say it."""
    found = after_evenings(fire, Try())
    counted = tries_words(len(fire.tries), sum(one.observed for one in fire.tries))
    return {
        "ours": evenings_for_kernel(fire),
        "ours_words": evenings_words(found).partition(":")[0],
        "ours_note": f"Your evenings: {counted}, by the log this page was made with. "
        f"{place_words(found)} {strange_words(found)}",
    }


def _column(column) -> Mapping[str, Any]:
    """Tell what a column is called, its unit in a log, and how a reader of either units has it."""
    told: dict[str, Any] = {"heading": column.heading}
    if not column.row:
        return told
    row, own = quantity(column.row), column.units
    units = {METRIC: row.metric, US: row.us, "log": own[0]} if own else {METRIC: "1"}
    shown = {name: [unit_text(unit), to_si(1.0, unit)] for name, unit in units.items()}
    same = [name for name in shown if name != METRIC and shown[name] == shown[METRIC]]
    rest = {"parts": row.parts} if row.parts else {}
    told |= {"range": [row.low, row.high], **rest}
    return told | {name: pair for name, pair in shown.items() if name not in same}


def _colors(look):
    """Spell the colours that are looked up, of both themes; the light one is printed."""
    light, dark = (
        ";".join(
            f"--{name.lower()}:{color}"
            for name, color in TOKENS[theme].items()
            if f"var(--{name.lower()})" in look
        )
        for theme in (LIGHT, DARK)
    )
    return f":root{{{light}}}@media screen and (prefers-color-scheme:dark){{:root{{{dark}}}}}"


def _cautions():
    """Spell the whole list that stands before anything burns."""
    spelled = []
    for name, lines in shipped_cautions().items():
        if name:
            items = "".join(f"<li>{with_strong(line)}</li>" for line in lines)
            spelled.append(f"<h2>{name}</h2><ul>{items}</ul>")
        else:
            spelled += [f"<p>{with_strong(line)}</p>" for line in lines]
    return "\n".join(spelled)
