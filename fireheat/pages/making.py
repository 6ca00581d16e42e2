"""The kit with its sizes: picture and table, a page for either ruler."""

from ..answers.making import size_rows, size_words
from ..figures.making import Makings, making_svg
from ..kit.making import Carved
from ..quantities import METRIC, US, default
from .sheet import WIDTH, Sheet

_CARVING = ("Knives only", "Ask a leader", "Spindle cracks?")


def kit_sheet() -> Sheet:
    """Make the sheet with the parts of a kit and their sizes, in millimetres and in inches.

    Examples
    --------
    >>> "12 to 20 mm" in kit_sheet().body, "1/2 to 3/4 in" in kit_sheet().more[0]
    (True, True)
    """
    metric, us = map(_page, (METRIC, US))
    return Sheet(
        "kit",
        "How large are the parts of a kit?",
        metric,
        lead="This page has millimetres; the second has inches.",
        more=(us,),
        cautions=_CARVING,
        source="Sizes are what clubs usually cut: common practice, no source.",
        use="What to cut, and how large, part by part.",
    )


def _page(system):
    carved = Carved(default("diameter"))
    picture = making_svg(Makings(carved, size_words(carved, system)), WIDTH)
    rows = size_rows(carved, system)
    (half,) = (at for at, (part, *_) in enumerate(rows) if part == "bearing block")
    tables = "".join(map(_table, (rows[:half], rows[half:])))
    return f'{picture}<div class="columns sizes">{tables}</div>'


def _table(rows):
    told = "".join(
        f"<tr>{f'<th>{part}</th>' if part else '<td></td>'}<td>{name}</td><td>{words}</td></tr>"
        for part, name, words in rows
    )
    head = "<thead><tr><th>Part</th><th>Which size</th><th>Usual</th></tr></thead>"
    return f"<div><table>{head}<tbody>{told}</tbody></table></div>"
