"""The stopwatch sheet: the columns of a log of tries, to fill in beside the fire."""

import html

from ..answers.next_try import after_evenings
from ..kit.kit import Try
from ..texts import both_units
from ..trials.columns import AN_EMBER, COLUMNS, GAVE_UP, NEEDED
from ..trials.our_fire import OurFire
from .sheet import Sheet

_TRIES, _TURNS = 7, 12
_US = {"in": "inches", "lbf": "pounds"}
_WRITTEN = {"ended": f"{AN_EMBER} or {GAVE_UP}", "learner": "a code, such as L01"}


def stopwatch_sheet(fire: OurFire | None = None) -> Sheet:
    """Make the sheet on which tries are noted as the log wants them.

    Parameters
    ----------
    fire : OurFire, optional
        What a club's own evenings tell, where it has any: it proposes a try.

    Examples
    --------
    >>> "spindle diameter (mm)" in stopwatch_sheet().body
    True
    """
    tries = "".join(f"<th>{number}</th>" for number in range(1, _TRIES + 1))
    rows = "".join(map(_row, COLUMNS))
    turns = "".join(f"<span>{number}</span>" for number in range(1, _TURNS + 1))
    return Sheet(
        "stopwatch",
        "Our tries: what was set, what came",
        "<h2>Running order: who, with which kit? Draw it before the first try.</h2>"
        f'<div class="turns">{turns}</div>'
        f'<table class="log"><thead><tr><th>Try</th>{tries}</tr></thead><tbody>{rows}</tbody>'
        '</table><p class="note">Other units than those in brackets? Strike them out, and write'
        f" yours.{_worth(fire) if fire else ''}</p>",
        lead="One column a try. No names, only codes. Fill in what you have; a star: always.",
        cautions=("Water and a way", "Never leave an ember", "All must be cold"),
        source="Headings are those of the log, line by line.",
        use="Write down each try, to type it into the log at home.",
    )


def _worth(fire):
    """Propose the try of which a club's own evenings know least."""
    worth = after_evenings(fire, Try()).worth
    told = ", ".join(both_units(key, worth.value(key)) for key in ("diameter", "force"))
    return f" <b>Worth trying next: {told}.</b>"


def _row(column):
    note = f"<small>{_hint(column)}</small>" if _hint(column) else ""
    star = " *" if column.key in NEEDED else ""
    return f"<tr><th>{html.escape(column.title)}{star}{note}</th>{'<td></td>' * _TRIES}</tr>"


def _hint(column):
    """Tell what may be written: words, or another unit that the log reads."""
    if column.key in _WRITTEN:
        return _WRITTEN[column.key]
    others = [unit for unit in column.units[1:] if unit in _US]
    return f"or in {_US[others[0]]}" if others else ""
