"""How the paper computer's lines and words are spelled, as SVG whose unit is the millimetre."""

import html
from typing import Any

from . import style
from .kit_picture import attributes

INK_LETTER = 3.2  # mm
INK_CAPITAL = 0.73  # of a size of letters
# Paper round a letter, so that no line that it lies on strikes it out; none inside a box.
_HALO = {
    "stroke": style.PAPER,
    "stroke_width": 0.7,
    "stroke_linejoin": "round",
    "paint_order": "stroke",
}


def ink_path(
    path: str,
    *,
    fill: str = "none",
    color: str | None = None,
    width: float = 0.2,
    dash: str | None = None,
    **named: str,
) -> str:
    """Draw a path; names of its data are told in it."""
    return f"<path {attributes(d=path, **named)} {ink_stroke(fill, color, width, dash)}/>"


def ink_stroke(
    fill: str = "none", color: str | None = None, width: float = 0.2, dash: str | None = None
) -> str:
    """Spell how a shape is filled and edged."""
    look = {"stroke": color or style.INK, "stroke_width": width, "stroke_dasharray": dash}
    return attributes(fill=fill, **look)


def ink_beside(words: str, x: float, y: float, way: int, **look: Any) -> str:
    """Write right or left of a point, in the middle of its height."""
    size = look.pop("size", INK_LETTER)
    anchor = "start" if way > 0 else "end"
    return ink_text(words, x, y + INK_CAPITAL * size / 2, anchor, size=size, **look)


def ink_text(
    words: str,
    x: float,
    y: float,
    anchor: str = "start",
    *,
    size: float = INK_LETTER,
    bold: bool = False,
    quiet: bool = False,
    color: str | None = None,
) -> str:
    """Write words from a point on."""
    color = color or (style.QUIET if quiet else None)
    told = attributes(
        x=f"{x:.3f}",
        y=f"{y:.3f}",
        font_size=size,
        text_anchor=anchor,
        font_weight="bold" if bold else None,
        style=f"fill:{color}" if color else None,
        **(_HALO if size >= INK_LETTER else {}),
    )
    return f"<text {told}>{html.escape(words)}</text>"
