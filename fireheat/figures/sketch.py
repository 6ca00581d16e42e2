"""A figure whose still part is drawn once, so that moving the rest costs a few milliseconds."""

import struct
import zlib
from functools import lru_cache
from typing import Literal

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure

from .style import DPI, INK, look

Align = Literal["left", "center", "right"]

_DIGIT = 0.636  # width of every digit of the font, to its size; comma, point and space have half


def png_bytes(pixels: np.ndarray) -> bytes:
    """Encode pixels as PNG, unfiltered and lightly compressed.

    A picture here is shown once and thrown away. Leaving out PNG's row filters, which no image
    library lets us do, makes this two to three times as fast on flat drawings.

    Parameters
    ----------
    pixels : ndarray of uint8, shape (height, width, 3 or more)
        Red, green, blue; a fourth layer is left out. [1]

    Returns
    -------
    bytes
        The file. [1]

    References
    ----------
    .. [1] W3C, Portable Network Graphics (PNG) Specification, chunks IHDR, IDAT, IEND.

    Examples
    --------
    >>> png_bytes(np.zeros((2, 3, 3), np.uint8))[1:4]
    b'PNG'
    """
    height, width, _ = pixels.shape
    rows = np.zeros((height, 1 + 3 * width), np.uint8)  # each row starts with its filter: 0, none
    for i in range(3):
        rows[:, 1 + i :: 3] = pixels[..., i]
    chunks = (
        (b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)),
        (b"IDAT", zlib.compress(rows.data, 1)),
        (b"IEND", b""),
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        for kind, data in chunks
    )


@lru_cache(maxsize=512)
def _lettering(text: str, color: str, size: float, align: Align) -> np.ndarray:
    """Draw a text once: red, green, blue, opacity, cut to its ink's line box."""
    with look():
        figure = Figure(figsize=(8, 2), dpi=DPI, facecolor="none")
        canvas = FigureCanvasAgg(figure)
        label = figure.text(0.02, 0.5, text, color=color, size=size, va="center", linespacing=1.05)
        label.set_multialignment(align)
        canvas.draw()
        box = label.get_window_extent()
    pixels = np.asarray(canvas.buffer_rgba())
    top = pixels.shape[0] - int(np.ceil(box.y1))
    bottom = pixels.shape[0] - int(np.floor(box.y0))
    cut = pixels[top:bottom, int(box.x0) : int(np.ceil(box.x1))].astype(np.float32)
    cut[..., 3] /= 255
    return cut


class Sketch:
    """A reused figure: axes and ticks are drawn once and kept, moving artists on top of them.

    Parameters
    ----------
    width, height : float
        Size in CSS pixels.

    Attributes
    ----------
    figure : matplotlib.figure.Figure
        Where subclasses put their axes.
    moving : list of matplotlib.artist.Artist
        What is drawn anew each time, in this order.
    """

    def __init__(self, width: float, height: float):
        with look():
            self.figure = Figure(figsize=(width / DPI, height / DPI), dpi=DPI)
        self.canvas = FigureCanvasAgg(self.figure)
        self.moving: list = []
        self.letters: list[tuple] = []
        self.blocks: list[tuple] = []
        self._still = None

    def add(self, artist):
        """Count an artist among those that move, and return it."""
        artist.set_animated(True)
        self.moving.append(artist)
        return artist

    def write(self, text, x, y, *, color=INK, size=14, align="left"):
        """Write a moving text: x and y in pixels from the top left, y at its middle.

        Setting type is the slowest part of drawing, so each text is set once and then stamped.
        """
        self.letters.append((text, x, y, color, size, align))

    def count(self, number, x, y, *, color=INK, size=14):
        """Write a moving number, its right end at x, stamped digit by digit.

        Numbers are seldom the same twice, but digits are.
        """
        digit = _DIGIT * size * DPI / 72
        for char in reversed(number):
            # Letters are set by their ink, and a comma's ink is low.
            width, low = (digit, 0) if char.isdigit() else (digit / 2, 0.55 * size)
            self.write(char, x - width / 2, y + low, color=color, size=size, align="center")
            x -= width

    def fill(self, left, top, right, bottom, color):
        """Fill a moving rectangle, in pixels from the top left."""
        box = slice(round(top), round(bottom)), slice(round(left), round(right))
        self.blocks.append((box, np.array(to_rgb(color)) * 255))

    def paste(self, pixels, left, top):
        """Lay moving pixels down, red, green, blue of 0 to 255, from a corner at the top left."""
        height, width, _ = pixels.shape
        self.blocks.append(((slice(top, top + height), slice(left, left + width)), pixels))

    def clear(self):
        """Take off all that was written and filled."""
        self.letters.clear()
        self.blocks.clear()

    def png(self) -> bytes:
        """Draw and return the picture as PNG."""
        if self._still is None:
            with look():
                self.canvas.draw()
            self._still = self.canvas.copy_from_bbox(self.figure.bbox)
        self.canvas.restore_region(self._still)
        for artist in self.moving:
            if artist.get_visible():
                self.figure.draw_artist(artist)
        pixels = np.asarray(self.canvas.buffer_rgba())
        for box, color in self.blocks:
            pixels[(*box, slice(3))] = color
        for text, x, y, color, size, align in self.letters:
            _stamp(pixels, _lettering(text, color, size, align), x, y, align)
        return png_bytes(pixels)


def _stamp(pixels, letters, x, y, align):
    """Lay drawn letters over pixels, kept inside the picture."""
    height, width, _ = letters.shape
    left = x - {"left": 0, "center": width / 2, "right": width}[align]
    left = int(np.clip(round(left), 0, max(0, pixels.shape[1] - width)))
    top = int(np.clip(round(y - height / 2), 0, max(0, pixels.shape[0] - height)))
    under = pixels[top : top + height, left : left + width, :3]
    letters = letters[: under.shape[0], : under.shape[1]]  # longer than the picture is wide: cut
    ink, opacity = letters[..., :3], letters[..., 3:]
    under[:] = under + (ink - under) * opacity
