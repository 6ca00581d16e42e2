"""The bar that shows where heat has gone, the same in every picture."""

from collections.abc import Mapping

import numpy as np

from ..words import shares_words
from . import style
from .patterns import outline, waves
from .sketch import Frame

_PARTS = {  # in the order in which they always stand
    "dust": "dust",
    "dust_and_water": "dust and water",
    "water": "water",
    "spindle": "spindle",
    "board": "board",
    "air": "air",
}
_FILLS = {
    "dust": "EMBER_BAND",
    "dust_and_water": "EMBER_BAND",
    "spindle": "SPINDLE",
    "board": "BOARD",
}
ABOVE = 36  # pixels that words and their leaders take above the bar
_GAP = 12  # pixels between two words


def heat_bar(heat: Mapping[str, float], frame: Frame) -> None:
    """Fill a bar with each part's share of the heat, with its name and share above it.

    Where a part is thinner than its word, a leader goes down to it. Water is waves, air an empty
    box, so that the bar can be read in grey, too.

    Parameters
    ----------
    heat : mapping
        Heat in dust, water, spindle, board and air, or some of these. [J]
    frame : Frame
        Where the bar stands; there must be ``ABOVE`` pixels free above it.
    """
    left, top, right, bottom = frame.box
    whole, place, shares = sum(heat.values()) or 1.0, left, shares_words(heat)
    named = []
    for key, label in _PARTS.items():
        end = place + heat.get(key, 0.0) / whole * (right - left)
        if end - place > 2:
            name, box = f"heat in {label}", (place, top, end - 2, bottom)
            if key in _FILLS:
                frame.fill(name, *box, style.color(_FILLS[key]))
            else:
                frame.fill(f"edge of {name}", *box, style.EDGE, outline())
            if key == "water":
                frame.fill(name, *box, style.QUIET, waves())
            named.append((f"{label} {shares[key]}", place, end - 2))
        place = end
    _name(frame, named)


def _name(frame, named):
    """Write names above their parts, pushed apart where they would overlap."""
    sketch = frame.sketch
    wide = [sketch.width(text) for text, *_ in named]
    middles = [(start + end) / 2 for _, start, end in named]
    at = _apart(middles, wide, sketch.size[0])
    for (text, start, end), x, width, middle in zip(named, at, wide, middles, strict=True):
        sketch.write(text, x, frame.top - ABOVE + 10, align="center")
        if x < start or x > end or end - start < width / 2:
            foot = float(np.clip(middle, x - width / 2 + 4, x + width / 2 - 4))
            tops = (foot, frame.top - ABOVE + 22), (middle, frame.top - 2)
            sketch.line(*tops, style.EDGE, name=f"to {text}")


def _apart(middles, wide, most):
    """Push words apart, each no further than it must, and keep them in the picture."""
    at = list(middles)
    for i, width in enumerate(wide):
        least = width / 2 + 2 if i == 0 else at[i - 1] + (wide[i - 1] + width) / 2 + _GAP
        at[i] = max(at[i], least)
    over = most - 2
    for i in range(len(at) - 1, -1, -1):
        at[i] = min(at[i], over - wide[i] / 2)
        over = at[i] - wide[i] / 2 - _GAP
    return at


def heat_words(heat: Mapping[str, float]) -> str:
    """Say where the heat has gone, in the order of the bar; parts that round to nothing go unsaid.

    Examples
    --------
    >>> heat_words({"spindle": 50.0, "board": 20.0, "dust": 30.0})
    'dust 30 %, spindle 50 %, board 20 %'
    """
    shares = {key: words for key, words in shares_words(heat).items() if words != "0 %"}
    return ", ".join(f"{label} {shares[key]}" for key, label in _PARTS.items() if key in shares)


def where_words(opening: str, heat: Mapping[str, float]) -> str:
    """Say in a sentence where the heat has gone, or that there is none.

    Examples
    --------
    >>> where_words("Heat is in", {"dust": 30.0, "spindle": 50.0, "board": 20.0})
    'Heat is in: dust 30 %, spindle 50 %, board 20 %.'
    """
    return f"{opening}: {heat_words(heat)}." if any(heat.values()) else "No heat is made."
