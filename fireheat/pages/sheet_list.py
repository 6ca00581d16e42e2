"""All sheets, in the order in which they are listed."""

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from ..shipped import shipped_cautions
from ..trials.our_fire import OurFire
from .cards import cards_answers, cards_sheet
from .chart_sheet import chart_sheet
from .court import court_poster, court_vote
from .gauge import gauge_sheet
from .making import kit_sheet
from .pocket_card import pocket_card
from .sheet import Sheet, with_strong
from .stopwatch import stopwatch_sheet
from .worksheet import lessons_with_worksheets, worksheet, worksheet_answers


def sheets(fire: OurFire | None = None) -> Mapping[str, Sheet]:
    """Make every sheet, by key.

    Parameters
    ----------
    fire : OurFire, optional
        What a club's own evenings tell, where it has any.
    """
    if fire is None:
        return _sheets()
    own = (pocket_card(fire), stopwatch_sheet(fire), chart_sheet(fire))
    return MappingProxyType({**_sheets(), **{one.key: one for one in own}})


@cache
def _sheets():
    """Make all of them for nobody in particular, once: it takes seconds."""
    made = (
        cautions_sheet(),
        gauge_sheet(),
        kit_sheet(),
        pocket_card(),
        stopwatch_sheet(),
        chart_sheet(),
        *map(worksheet, lessons_with_worksheets()),
        worksheet_answers(),
        cards_sheet(),
        cards_answers(),
        court_vote(),
        court_poster(),
    )
    return MappingProxyType({one.key: one for one in made})


def cautions_sheet() -> Sheet:
    """Make the sheet with the whole list that stands before anything burns.

    Examples
    --------
    >>> cautions_sheet().title
    'Before anything burns'
    """
    groups = "".join(
        f"<h2>{name}</h2><ul>{''.join(map(_to_tick, lines))}</ul>"
        for name, lines in shipped_cautions().items()
        if name
    )
    return Sheet(
        "before-anything-burns",
        "Before anything burns",
        groups,
        lead="Read out and tick each line. If one is not true today, nothing burns today.",
        cautions=(),
        css=".body{font-size:12.5pt}.body ul{padding:0;list-style:none}"
        ".body li{display:flex;margin-bottom:2mm}.body .box{flex:none;margin-top:.9mm}",
        use="The whole safety list. Read it out before the first stroke.",
    )


def _to_tick(line):
    return f'<li><span class="box"></span><span>{with_strong(line)}</span></li>'
