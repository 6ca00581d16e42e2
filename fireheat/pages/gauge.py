"""The life-size gauge: spindles, notches and a stroke ruler, true to size on either paper."""

from ..figures.gauge import (
    PIECES,
    check_lengths,
    notch_shapes,
    spindle_circles,
    stroke_piece,
)
from ..quantities import METRIC, US
from .sheet import Sheet

_CARVING = ("Knives only", "Ask a leader", "Spindle cracks?")


def gauge_sheet() -> Sheet:
    """Make the sheet to lay a spindle, a board and a bow on.

    Examples
    --------
    >>> gauge_sheet().body.count("data-spindle")
    18
    """
    return Sheet(
        "gauge",
        "Is my spindle as thick as I think?",
        f"<h2>First measure these two lines</h2>{check_lengths()}"
        "<p>Not right? Print again at 100 % (“actual size”), not “fit to page”.</p>"
        "<h2>Stand the spindle’s end on a circle</h2>"
        "<p>Which circle does it just hide? Turn it: few spindles are quite round.</p>"
        f"{spindle_circles(METRIC)}{spindle_circles(US)}"
        "<h2>Hole and notch, seen from above</h2>"
        "<p>The spindle bores the hole. The notch, an eighth of the circle, goes in to its"
        f" middle.</p>{notch_shapes()}",
        lead="All on this sheet is at its true size.",
        more=(
            "<h2>A ruler for strokes</h2>"
            "<p>Cut out the pieces. Glue them end to end, so that the numbers go on. One stroke is"
            " how far the cord runs past the spindle, one way: lay the ruler along the bow.</p>"
            + "".join(map(stroke_piece, range(PIECES))),
        ),
        cautions=_CARVING,
        source="What is usual is common practice, no source.",
        css=".body svg{margin:2mm 0}",
        use="Lay a spindle, a notch or a bow on it, and read how large it is.",
    )
