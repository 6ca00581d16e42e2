"""The bar that shows where heat has gone, the same in every picture."""

from collections.abc import Mapping

from ..words import percent_words
from . import style

_PARTS = {
    "dust": ("dust", style.DUST),
    "dust_and_water": ("dust and water", style.DUST),
    "water": ("water", style.WATER),
    "spindle": ("spindle", style.SOAKED),
    "board": ("board", style.SOAKED_TOO),
    "air": ("air", style.LEAKED),
}


def heat_bar(sketch, heat: Mapping[str, float], frame: tuple[float, float, float, float]) -> None:
    """Fill a bar with each part's share of the heat; parts too thin to name go unnamed.

    Parameters
    ----------
    sketch : Sketch
        Where to draw.
    heat : mapping
        Heat in dust, water, spindle, board and air, or some of these. [J]
    frame : tuple of float
        Left, top, right and bottom, in pixels from the top left.
    """
    left, top, right, bottom = frame
    whole, place = sum(heat.values()) or 1.0, left
    for key, (label, color) in _PARTS.items():
        share = heat.get(key, 0.0) / whole
        end = place + share * (right - left)
        if end - place > 2:
            sketch.fill(place, top, end - 2, bottom, color)
        if end - place > 11 * len(label) + 6:
            ink = style.PAPER if color == style.SOAKED else style.INK
            text, middle = f"{label}\n{percent_words(share)}", (place + end) / 2
            sketch.write(text, middle, (top + bottom) / 2, color=ink, align="center")
        place = end


def heat_words(heat: Mapping[str, float]) -> str:
    """Say where the heat has gone, largest part first.

    Examples
    --------
    >>> heat_words({"dust": 30.0, "spindle": 50.0, "board": 20.0})
    'spindle 50 %, dust 30 %, board 20 %'
    """
    whole = sum(heat.values()) or 1.0
    parts = sorted(heat.items(), key=lambda part: -part[1])
    return ", ".join(
        f"{_PARTS[key][0]} {percent_words(value / whole)}" for key, value in parts if value > 0
    )
