"""The bar that shows where heat has gone, the same in every picture."""

from collections.abc import Mapping

from ..words import shares_words
from . import style
from .sketch import Frame

_PARTS = {  # in the order in which they always stand: how each is called, its colour
    "dust": ("dust", "EMBER_BAND"),
    "dust_and_water": ("dust and water", "EMBER_BAND"),
    "water": ("water", "SHADE"),
    "spindle": ("spindle", "SPINDLE"),
    "board": ("board", "BOARD"),
    "air": ("air", "PAPER"),
}


def heat_bar(heat: Mapping[str, float], frame: Frame) -> None:
    """Fill a bar with each part's share of the heat; parts too thin to name go unnamed.

    Parameters
    ----------
    heat : mapping
        Heat in dust, water, spindle, board and air, or some of these. [J]
    frame : Frame
        Where to draw; from 0 to 1 along it.
    """
    left, top, right, bottom = frame.box
    whole, place, words = sum(heat.values()) or 1.0, left, shares_words(heat)
    for key, (label, token) in _PARTS.items():
        share = heat.get(key, 0.0) / whole
        end = place + share * (right - left)
        if end - place > 2:
            frame.fill(f"heat in {label}", place, top, end - 2, bottom, style.color(token))
        if end - place > 11 * len(label) + 6:
            ink = style.PAPER if token == "SPINDLE" else style.INK
            text, middle = f"{label}\n{words[key]}", (place + end) / 2
            frame.sketch.write(text, middle, (top + bottom) / 2, color=ink, align="center")
        place = end


def heat_words(heat: Mapping[str, float]) -> str:
    """Say where the heat has gone, in the order of the bar; parts that round to nothing go unsaid.

    Examples
    --------
    >>> heat_words({"spindle": 50.0, "board": 20.0, "dust": 30.0})
    'dust 30 %, spindle 50 %, board 20 %'
    """
    shares = {key: words for key, words in shares_words(heat).items() if words != "0 %"}
    return ", ".join(
        f"{label} {shares[key]}" for key, (label, _) in _PARTS.items() if key in shares
    )


def where_words(opening: str, heat: Mapping[str, float]) -> str:
    """Say in a sentence where the heat has gone, or that there is none.

    Examples
    --------
    >>> where_words("Heat is in", {"dust": 30.0, "spindle": 50.0, "board": 20.0})
    'Heat is in: dust 30 %, spindle 50 %, board 20 %.'
    """
    return f"{opening}: {heat_words(heat)}." if any(heat.values()) else "No heat is made."
