"""Patterns for boxes of a picture, so that no box is told from another by its colour alone.

A pattern says how much of each pixel it covers, from 0 to 1; it is asked for so many rows and
columns at so many dots to a pixel, and is as crisp at each scale.
"""

from collections.abc import Callable
from typing import TypeAlias

import numpy as np

Cover: TypeAlias = Callable[[int, int, float], np.ndarray]  # of rows, columns, dots to a pixel


def _places(height, width, scale):
    """How far down and across pixels' middles are from the box's corner, in CSS pixels."""
    down, across = np.indices((height, width), np.float32)
    return (down + 0.5) / scale, (across + 0.5) / scale


def _soft(inside, scale):
    """Cover by how far inside an edge a pixel is, in CSS pixels: half where the edge goes through.

    Half a dot softens it.
    """
    return np.clip(inside * scale + 0.5, 0, 1)


def outline(thick: float = 1.5, dash: float = 0.0, gap: float = 4.0) -> Cover:
    """Draw the edge of a box and leave it empty.

    Parameters
    ----------
    thick : float, optional
        Thickness of the line. [pixels]
    dash, gap : float, optional
        Length of its dashes and of what is left out between them; no dashes for 0. [pixels]

    Examples
    --------
    >>> outline(1.0)(3, 4, 1.0).sum(axis=1).tolist()
    [4.0, 2.0, 4.0]
    """

    def cover(height, width, scale):
        down, across = _places(height, width, scale)
        tall, wide = height / scale, width / scale
        beside, above = np.minimum(across, wide - across), np.minimum(down, tall - down)
        line = _soft(thick - np.minimum(beside, above), scale)
        if not dash:
            return line
        # Along each side dashes are laid out from its middle, so that both ends look alike.
        along = np.where(above <= beside, across - wide / 2, down - tall / 2)
        return line * ((along + dash / 2) % (dash + gap) < dash)

    return cover


def dashes(dash: float = 5.0, gap: float = 3.0) -> Cover:
    """Break a bar that lies along the picture into dashes, from its middle.

    Parameters
    ----------
    dash, gap : float, optional
        Length of each, and what is left out between them. [pixels]

    Examples
    --------
    >>> dashes(2, 1)(1, 8, 1.0).tolist()
    [[1.0, 1.0, 0.0, 1.0, 1.0, 0.0, 1.0, 1.0]]
    """

    def cover(height, width, scale):
        along = _places(height, width, scale)[1] - width / scale / 2
        return ((along + dash / 2) % (dash + gap) < dash).astype(np.float32)

    return cover


def waves(apart: float = 9.0, length: float = 14.0, thick: float = 1.6) -> Cover:
    """Draw rows of waves, for water.

    Parameters
    ----------
    apart, length : float, optional
        From one row to the next, and from crest to crest. [pixels]
    thick : float, optional
        Thickness of the line. [pixels]

    Examples
    --------
    >>> pattern = waves()(18, 28, 1.0)
    >>> bool(0.1 < pattern.mean() < 0.5)
    True
    """

    def cover(height, width, scale):
        down, across = _places(height, width, scale)
        turn = 2 * np.pi * across / length
        off = (down - apart / 2 - 1.8 * np.sin(turn) + apart / 2) % apart - apart / 2
        steep = np.hypot(1, 1.8 * 2 * np.pi / length * np.cos(turn))
        return _soft(thick / 2 - np.abs(off) / steep, scale)

    return cover


def hatching(apart: float = 7.0, thick: float = 1.6) -> Cover:
    """Draw slanted lines.

    Parameters
    ----------
    apart, thick : float, optional
        From one line to the next, and thickness of each. [pixels]

    Examples
    --------
    >>> pattern = hatching()(30, 30, 1.0)
    >>> bool(0.15 < pattern.mean() < 0.35)
    True
    """

    def cover(height, width, scale):
        down, across = _places(height, width, scale)
        off = ((down + across) / np.sqrt(2)) % apart - apart / 2
        return _soft(thick / 2 - np.abs(off), scale)

    return cover


def disc(ring: float = 0.0, dashes: int = 0) -> Cover:
    """Fill the circle or ellipse that fits into a box, or draw a ring as thick as asked.

    Parameters
    ----------
    ring : float, optional
        Thickness of the ring; filled for 0. [pixels]
    dashes : int, optional
        How many pieces the ring is broken into. [1]

    Examples
    --------
    >>> float(disc()(100, 100, 1.0).mean().round(2))  # pi / 4
    0.79
    """

    def cover(height, width, scale):
        down, across = _places(height, width, scale)
        half = np.array([height, width]) / scale / 2
        out = np.hypot((down - half[0]) / half[0], (across - half[1]) / half[1])
        inside = (1 - out) * half.min()
        full = _soft(inside, scale)
        if not ring:
            return full
        around = np.arctan2(down - half[0], across - half[1]) * dashes / (2 * np.pi)
        return (full - _soft(inside - ring, scale)) * ((around % 1 < 0.62) if dashes else 1)

    return cover


def stroke(start: tuple[float, float], end: tuple[float, float], thick: float) -> Cover:
    """Draw a straight line; its ends are across and down from the box's corner.

    Examples
    --------
    >>> stroke((0.0, 5.0), (10.0, 5.0), 2.0)(10, 10, 1.0).sum(axis=1).tolist()[3:7]
    [0.0, 10.0, 10.0, 0.0]
    """

    def cover(height, width, scale):
        down, across = _places(height, width, scale)
        (x, y), way = start, np.subtract(end, start)
        share = ((across - x) * way[0] + (down - y) * way[1]) / max(float(way @ way), 1e-9)
        share = np.clip(share, 0, 1)
        off = np.hypot(across - x - share * way[0], down - y - share * way[1])
        return _soft(thick / 2 - off, scale)

    return cover


def cross(thick: float = 2.0) -> Cover:
    """Draw both diagonals of a box.

    Parameters
    ----------
    thick : float, optional
        Thickness of the strokes. [pixels]

    Examples
    --------
    >>> cross(1.0)(3, 3, 1.0).round().tolist()
    [[1.0, 0.0, 1.0], [0.0, 1.0, 0.0], [1.0, 0.0, 1.0]]
    """

    def cover(height, width, scale):
        inner = thick / 2
        corners = inner, width / scale - inner
        top, bottom = inner, height / scale - inner
        falls = stroke((corners[0], top), (corners[1], bottom), thick)
        rises = stroke((corners[0], bottom), (corners[1], top), thick)
        return np.maximum(falls(height, width, scale), rises(height, width, scale))

    return cover
