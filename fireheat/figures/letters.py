"""Letters of a picture: each text is set once, kept, and then stamped."""

from functools import lru_cache
from typing import Literal

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.patheffects import withStroke

from .style import DPI, FONT

Align = Literal["left", "center", "right"]

_PITCH, _CAPITAL, _HANG = 1.18, 0.73, 0.26  # of the font, to its size: lines, capitals, g and y
_HALO = 3.0  # pixels of paper around letters that lie on something


@lru_cache(maxsize=1024)
def lettering(
    text: str, color: str, size: float, align: Align, weight: str, scale: float, halo: str = ""
) -> np.ndarray:
    """Draw a text once: red, green, blue, opacity, as high as its lines.

    The middle of its height is the middle of its capitals, so that words in a row stand on one
    line, whether or not some letter of theirs hangs down.

    Parameters
    ----------
    text : str
        One line, or several.
    color, halo : str
        Colour of the letters, and of what is around them, if anything.
    size : float
        Of the font. [pt]
    align : str
        How lines stand to each other: ``"left"``, ``"center"`` or ``"right"``.
    weight : str
        ``"normal"`` or ``"bold"``.
    scale : float
        Dots to a CSS pixel. [1]

    Returns
    -------
    ndarray, shape (rows, columns, 4)
        Red, green, blue of 0 to 255, and opacity of 0 to 1. [1]

    Examples
    --------
    >>> lettering("air", "#000000", 14, "left", "normal", 2.0).shape[0]
    48
    """
    pixels, lines = size * DPI * scale / 72, text.split("\n")
    pitch, half = round(_PITCH * pixels), int(np.ceil((_CAPITAL / 2 + _HANG) * pixels))
    height = 2 * half + (len(lines) - 1) * pitch
    renderer, figure = _sheet(height, scale)
    renderer.clear()
    across = {"left": 0.02, "center": 0.5, "right": 0.98}[align]
    ends = []
    for number, line in enumerate(lines):
        down = half + number * pitch + round(_CAPITAL / 2 * pixels)
        label = figure.text(across, 1 - down / height, line, color=color, size=size)
        label.set(family=FONT, ha=align, va="baseline", weight=weight)
        if halo:
            wide = 2 * _HALO * 72 / DPI
            label.set_path_effects([withStroke(linewidth=wide, foreground=halo)])
        label.draw(renderer)
        ends.append(label.get_window_extent(renderer))
        label.remove()
    drawn = np.asarray(renderer.buffer_rgba())
    left, right = min(end.x0 for end in ends), max(end.x1 for end in ends)
    if halo:  # letters with one are drawn as outlines, and not as wide as letters are told to be
        inked = np.flatnonzero(drawn[..., 3].any(axis=0))
        left, right = inked[0], inked[-1] + 1
    cut = drawn[:, max(0, int(left)) : int(np.ceil(right))].astype(np.float32)
    cut[..., 3] /= 255
    return cut


@lru_cache(maxsize=16)
def _sheet(height, scale):
    """Return what letters of some height are drawn on: made once, it is wiped for each text.

    To make a sheet, in a look of its own, takes longer than the letters on it.
    """
    figure = Figure(figsize=(8, (height + 1e-6) / (DPI * scale)), dpi=DPI * scale)
    return FigureCanvasAgg(figure).get_renderer(), figure


def halo_width(halo: str, scale: float) -> int:
    """Say how far a halo reaches beyond its letters.

    Parameters
    ----------
    halo : str
        Its colour; empty where there is none.
    scale : float
        Dots to a CSS pixel. [1]

    Returns
    -------
    int
        How far. [dots]

    Examples
    --------
    >>> halo_width("#FFFFFF", 2.0), halo_width("", 2.0)
    (6, 0)
    """
    return round(_HALO * scale) if halo else 0


def stamp(pixels: np.ndarray, letters: np.ndarray, left: int, top: int) -> None:
    """Lay drawn letters over pixels, in place.

    Parameters
    ----------
    pixels : ndarray of uint8
        The picture.
    letters : ndarray
        Of :func:`lettering`.
    left, top : int
        Where their corner goes. [dots]

    Examples
    --------
    >>> paper = np.full((30, 60, 4), 255, np.uint8)
    >>> stamp(paper, lettering("air", "#000000", 14, "left", "normal", 1.0), 5, 2)
    >>> bool(paper.min() < 20)
    True
    """
    height, width, _ = letters.shape
    under = pixels[top : top + height, left : left + width, :3]
    letters = letters[: under.shape[0], : under.shape[1]]  # longer than the picture is wide: cut
    ink, opacity = letters[..., :3], letters[..., 3:]
    under[:] = under + (ink - under) * opacity
