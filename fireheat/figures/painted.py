"""Boxes of a picture that are painted in one go: filled, patterned, or pixels as they are."""

from typing import Any, NamedTuple

import numpy as np

from .patterns import Cover


class PaintedBlock(NamedTuple):
    """What is painted in one go: where, its colour or pixels, what it stands for, in what pattern.

    It lies over the artists, or under them.
    """

    box: tuple[float, float, float, float]
    color: np.ndarray
    name: str
    frame: Any
    cover: Cover | None = None
    under: bool = False

    def place(self, scale, size):
        """Rows and columns of pixels that it takes; what is there at all takes one at least."""
        return tuple(
            slice(max(0, min(first, most)), max(0, min(last, most)))
            for (first, last), most in zip(self._ends(scale), size[::-1], strict=True)
        )

    def _ends(self, scale):
        """First and last of its rows and columns, wherever the picture ends."""
        left, top, right, bottom = self.box
        return _pixels(top, bottom, scale), _pixels(left, right, scale)

    def paint(self, pixels, scale):
        """Lay it down."""
        rows, columns = self.place(scale, pixels.shape[1::-1])
        under = pixels[rows, columns, :3]
        if not under.size:
            return
        (top, bottom), (left, right) = self._ends(scale)
        height, width = bottom - top, right - left
        seen = (
            slice(rows.start - top, rows.stop - top),
            slice(columns.start - left, columns.stop - left),
        )
        if self.cover is not None:
            cover = self.cover(height, width, scale)[seen][..., np.newaxis]
            under[:] = under + (self.color - under) * cover
        elif self.color.ndim == 1:
            under[:] = self.color
        else:
            same = self.color.shape[:2] == (height, width)
            under[:] = (self.color if same else _resized(self.color, height, width))[seen]


def _resized(pixels, height, width):
    """Blend pixels to another size, each with the next."""
    pixels = np.asarray(pixels, np.float32)
    for axis, size in enumerate((height, width)):
        had = pixels.shape[axis]
        at = np.clip((np.arange(size) + 0.5) * had / size - 0.5, 0, had - 1)
        before = np.minimum(at.astype(int), max(0, had - 2))
        share = (at - before).reshape(-1, *[1] * (2 - axis)).astype(np.float32)
        first, second = (pixels.take(np.minimum(before + i, had - 1), axis) for i in (0, 1))
        pixels = first + (second - first) * share
    return pixels


def _pixels(start, end, scale):
    """First pixel and the one after the last."""
    first, last = round(start * scale), round(end * scale)
    return first, last + (first == last and round(start) < round(end))
