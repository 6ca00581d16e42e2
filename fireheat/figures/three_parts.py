"""Whom a saying helps, and whom it harms: bars of three parts that grey print tells apart."""

from collections.abc import Iterator, Mapping

import numpy as np

from ..coach.verdicts import HARMS, HELPS, NO_MATTER, OUTCOMES
from . import style
from .gauge import in_millimetres
from .kit_picture import attributes

BAR_WIDTH, BAR_HEIGHT, KEY_WIDTH = 25.5, 4.6, 8.0  # mm
_EDGE, _GAP, _LETTERS = 0.3, 1.5, 3.4
_ROOM = 5.5  # mm that a number wants
_CAPITAL = 0.73 * _LETTERS
_TOLD = {HELPS: "helped", NO_MATTER: "no matter", HARMS: "harmed"}


def three_part_bar(shares: Mapping[str, float], counts: Mapping[str, int]) -> str:
    """Draw a bar: helped is full, no matter is empty, harmed is hatched.

    Parameters
    ----------
    shares : mapping of str to float
        Share of each kind, adding to one. [1]
    counts : mapping of str to int
        How many of a hundred: what is written, where there is room. [1]

    Returns
    -------
    str
        SVG. Each part has its kind in ``data-part``.

    Examples
    --------
    >>> shares = {"helps": 0.5, "no matter": 0.5, "harms": 0.0}
    >>> bar = three_part_bar(shares, {kind: int(100 * share) for kind, share in shares.items()})
    >>> bar.count("data-part"), ">50<" in bar
    (2, True)
    """
    wide, left = BAR_WIDTH - 2 * _EDGE, _EDGE
    parts: list[str] = []
    for kind in OUTCOMES:
        right = left + wide * shares[kind]
        if shares[kind]:
            parts += _part(kind, left, right)
            if right - left >= _ROOM:
                parts.append(_number(counts[kind], (left + right) / 2, kind == HARMS))
        left = right
    told = ", ".join(f"{counts[kind]} {_TOLD[kind]}" for kind in OUTCOMES)
    return in_millimetres(BAR_WIDTH, BAR_HEIGHT, parts, f"Of 100: {told}.")


def part_key(kind: str) -> str:
    """Draw what a part of a bar looks like.

    Examples
    --------
    >>> part_key("harms").count("data-part")
    1
    """
    parts = _part(kind, _EDGE, KEY_WIDTH - _EDGE)
    return in_millimetres(KEY_WIDTH, BAR_HEIGHT, parts, f"This part: {_TOLD[kind]}.")


def _part(kind, left, right) -> Iterator[str]:
    low = BAR_HEIGHT - _EDGE
    fill = style.EMBER_BAND if kind == HELPS else style.PAPER
    place = attributes(
        x=f"{left:.4f}", y=_EDGE, width=f"{right - left:.4f}", height=f"{low - _EDGE:.4f}"
    )
    line = attributes(stroke=style.INK, stroke_width=0.3)
    yield f'<rect data-part="{kind}" {place} fill="{fill}" {line}/>'
    if kind == HARMS:
        yield f'<path d="{_hatch(left, right, _EDGE, low)}" fill="none" {line}/>'


def _hatch(left, right, top, low):
    """Rule lines that rise to the right, cut at the part's edges."""
    high = low - top
    starts = np.arange(left - high + _GAP / 2, right, _GAP)
    ends = np.minimum(starts + high, right)
    begins = np.maximum(starts, left)
    return "".join(
        f"M{begin:.2f} {low - begin + start:.2f}L{end:.2f} {low - end + start:.2f}"
        for start, begin, end in zip(starts, begins, ends, strict=True)
    )


def _number(count, across, hatched):
    y = BAR_HEIGHT / 2 + _CAPITAL / 2
    place = attributes(x=f"{across:.3f}", y=f"{y:.3f}", text_anchor="middle", font_size=_LETTERS)
    halo = attributes(stroke=style.PAPER, stroke_width=1.2, paint_order="stroke") if hatched else ""
    return f'<text {place} font-weight="bold" {halo}>{count}</text>'
