"""A figure whose still part is drawn once, so that moving the rest costs a few milliseconds."""

import struct
import zlib
from typing import Any, NamedTuple

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_hex, to_rgb
from matplotlib.figure import Figure
from matplotlib.patches import Patch, Polygon

from . import style
from .letters import Align, halo_width, lettering, stamp
from .painted import PaintedBlock
from .patterns import stroke
from .style import DPI, look

_BEFORE = {"left": 0.0, "center": 0.5, "right": 1.0}  # how much of a text is left of its place
_KEPT = 3  # scales whose still part is kept: this window's, the big one's, and the one before
_HALO = 2.5  # pixels of paper round letters that lie on something
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


class Scale(NamedTuple):
    """One side of a frame: what stands at its ends, and whether steps are even or factors are."""

    low: float
    high: float
    factors: bool = False

    def share(self, value):
        """How far along values stand, from 0 to 1."""
        if self.factors:
            return np.log(value / self.low) / np.log(self.high / self.low)
        return (value - self.low) / (self.high - self.low)

    def value(self, share):
        """Tell what stands so far along; the inverse of :meth:`share`."""
        if self.factors:
            return self.low * (self.high / self.low) ** share
        return self.low + share * (self.high - self.low)


UNIT = Scale(0.0, 1.0)


class Frame:
    """A rectangle of a picture with a scale along each side: from values to pixels, and back.

    Parameters
    ----------
    sketch : Sketch
        The picture.
    box : tuple of float
        Left, top, right and bottom, in pixels from the top left.
    x, y : Scale, optional
        What is shown along it and up it; pixels where left out.
    """

    def __init__(self, sketch: "Sketch", box, x: Scale | None = None, y: Scale | None = None):
        sketch.frames.append(self)
        self.sketch, self.box = sketch, box
        self.axes: Any = None
        self.left, self.top, self.right, self.bottom = box
        self.x, self.y = x or Scale(self.left, self.right), y or Scale(self.bottom, self.top)

    def draw_axes(self) -> Any:
        """Give the frame matplotlib's axes, with its own scales along them."""
        width, height = self.sketch.size
        corner = self.left / width, 1 - self.bottom / height
        size = (self.right - self.left) / width, (self.bottom - self.top) / height
        self.axes = self.sketch.figure.add_axes((*corner, *size))
        for way, scale in (("x", self.x), ("y", self.y)):
            kind = "log" if scale.factors else "linear"
            self.axes.set(**{f"{way}scale": kind, f"{way}lim": scale[:2]})
        return self.axes

    def rescale(self, x: Scale | None = None, y: Scale | None = None) -> None:
        """Show something else along it or up it."""
        self.x, self.y = x or self.x, y or self.y
        if self.axes is not None:
            self.axes.set(xlim=self.x[:2], ylim=self.y[:2])

    def across(self, x):
        """Place of values along it, in pixels from the picture's left."""
        return self.left + self.x.share(x) * (self.right - self.left)

    def down(self, y):
        """Place of values up it, in pixels from the picture's top."""
        return self.bottom - self.y.share(y) * (self.bottom - self.top)

    def values(self, across, down):
        """Tell what stands at pixels; the inverse of :meth:`across` and :meth:`down`.

        Where there are axes, matplotlib says it, and not what this frame was given.
        """
        across, down = np.asarray(across, float), np.asarray(down, float)
        if self.axes is not None:
            points = np.column_stack([across, self.sketch.size[1] - down])
            return self.axes.transData.inverted().transform(points).T
        along = (across - self.left) / (self.right - self.left)
        up = (self.bottom - down) / (self.bottom - self.top)
        return self.x.value(along), self.y.value(up)

    def fill(self, name, left, top, right, bottom, color, cover=None):
        """Fill a moving rectangle that stands for a value here; all in pixels but its name."""
        self.sketch.fill(left, top, right, bottom, color, name=name, frame=self, cover=cover)


class Drawn(NamedTuple):
    """Something with a name in a picture, read back from its artist or its pixels.

    Attributes
    ----------
    frame : Frame
        Where it stands.
    x, y : ndarray
        Its points; for a filled box its left and right, its bottom and top. [as shown]
    color : str or ndarray
        Its colour; of pasted pixels their colours, or the values that these stand for.
    """

    frame: Frame
    x: np.ndarray
    y: np.ndarray
    color: Any


class Word(NamedTuple):
    """A text on a picture: where its left end, middle or right end is, and its size, in pixels."""

    text: str
    x: float
    y: float
    align: Align
    width: float
    height: float

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom, in pixels."""
        left, half = self.x - _BEFORE[self.align] * self.width, self.height / 2
        return left, self.y - half, left + self.width, self.y + half


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
        self.size = round(width), round(height)
        with look():
            self.figure = Figure(figsize=(width / DPI, height / DPI), dpi=DPI)
        self.canvas: FigureCanvasAgg = FigureCanvasAgg(self.figure)
        self.frames: list[Frame] = []
        self.whole = Frame(self, (0, 0, width, height))
        self.moving: list = []
        self.letters: list[tuple] = []
        self.blocks: list[PaintedBlock] = []
        self._stills: dict[float, tuple[FigureCanvasAgg, Any]] = {}

    def add(self, artist):
        """Count an artist among those that move, and return it."""
        artist.set_animated(True)
        self.moving.append(artist)
        return artist

    def write(self, text, x, y, *, color=None, size=14, align="left", weight="normal", halo=False):
        """Write a moving text: x and y in pixels from the top left, y at its middle.

        A halo of paper lifts it off what it lies on.

        Setting type is the slowest part of drawing, so each text is set once and then stamped.
        """
        around = style.PAPER if halo else ""
        self.letters.append((text, x, y, color or style.INK, weight, around, size, align))

    def write_free(self, text, spots, *, must=True, **look):
        """Write a moving text at the first spot, x, y and align, where no other text stands.

        Where all are taken, it stands at the last, if it must be written.
        """
        taken = [word.box for word in self.written()]
        for x, y, align in spots:
            self.write(text, x, y, align=align, **look)
            box = self.written()[-1].box
            if all(_apart(box, other) for other in taken):
                return
            self.letters.pop()
        if must:
            x, y, align = spots[-1]
            self.write(text, x, y, align=align, **look)

    def count(self, number, x, y, *, color=None, size=14):
        """Write a moving number, its right end at x, stamped digit by digit.

        Numbers are seldom the same twice, but digits are.
        """
        digit = _DIGIT * size * DPI / 72
        for char in reversed(number):
            width = digit if char.isdigit() else digit / 2
            self.write(char, x - width / 2, y, color=color, size=size, align="center")
            x -= width

    def fill(self, left, top, right, bottom, color, *, name="", frame=None, cover=None):
        """Fill a moving rectangle, in pixels from the top left; or a pattern in it."""
        box, rgb = (left, top, right, bottom), np.array(to_rgb(color)) * 255
        self.blocks.append(PaintedBlock(box, rgb, name, frame or self.whole, cover))

    def line(self, start, end, color, *, thick=1.3, name="", frame=None):
        """Draw a moving straight line between two places, across and down in pixels."""
        (left, right), (top, bottom) = (sorted(ends) for ends in zip(start, end, strict=True))
        corner, room = (np.floor(left - thick), np.floor(top - thick)), 2 * thick + 1
        box = *corner, np.ceil(right + room), np.ceil(bottom + room)
        cover = stroke(np.subtract(start, corner), np.subtract(end, corner), thick)
        rgb = np.array(to_rgb(color)) * 255
        self.blocks.append(PaintedBlock(box, rgb, name, frame or self.whole, cover))

    def width(self, text, *, size=14, weight="normal"):
        """How many pixels a text is wide."""
        return lettering(text, style.INK, size, "left", weight, 1.0).shape[1]

    def paste(self, pixels, left, top, *, name="", frame=None, per=1, under=False):
        """Lay moving pixels down, red, green, blue of 0 to 255, from a corner at the top left.

        There are ``per`` of them to a pixel of the picture each way. Those that lie ``under`` the
        artists are painted first, so that lines can be drawn over them.
        """
        height, width, _ = pixels.shape
        box = left, top, left + width / per, top + height / per
        self.blocks.append(PaintedBlock(box, pixels, name, frame or self.whole, under=under))

    def clear(self):
        """Take off all that was written and filled."""
        self.letters.clear()
        self.blocks.clear()

    def png(self, scale: float = 1.0) -> bytes:
        """Draw and return the picture as PNG, at so many dots to a CSS pixel.

        All is set anew at each scale, so letters and lines are as crisp large as they are small.
        """
        scale = round(float(scale), 3)
        self._measure(scale)
        try:
            canvas, still = self._kept_still(scale)
            canvas.restore_region(still)
            pixels = np.asarray(canvas.buffer_rgba())
            for block in self.blocks:
                if block.under:
                    block.paint(pixels, scale)
            renderer = canvas.get_renderer()
            for artist in self.moving:
                if artist.get_visible():
                    artist.draw(renderer)
        finally:
            self._measure(1.0)  # so that places are read back in CSS pixels
        for block in self.blocks:
            if not block.under:
                block.paint(pixels, scale)
        for letters, left, top in self._stamps(scale):
            stamp(pixels, letters, left, top)
        return png_bytes(pixels)

    def _measure(self, scale):
        """Have matplotlib reckon in whole pixels of a scale."""
        if self.figure.dpi != DPI * scale:
            self.figure.dpi = DPI * scale
            pixels = np.round(np.array(self.size) * scale) + 1e-6  # it cuts off what is over
            self.figure.set_size_inches(*pixels / (DPI * scale))

    def _kept_still(self, scale):
        """Canvas and still part for a scale: drawn once, kept for the last few scales."""
        found = self._stills.pop(scale, None)
        if found is None:
            canvas = self.canvas if scale == 1 else FigureCanvasAgg(self.figure)
            with look():
                canvas.draw()
            found = canvas, canvas.copy_from_bbox(self.figure.bbox)
        self._stills[scale] = found
        for old in list(self._stills)[:-_KEPT]:
            del self._stills[old]
        return found

    def _stamps(self, scale=1.0):
        """Each text's drawn letters, and the corner where they go, kept inside the picture."""
        size = [round(scale * side) for side in self.size]
        for text, x, y, color, weight, halo, points, align in self.letters:
            how = align if "\n" in text else "left"  # of one line all are the same: set it once
            letters = lettering(text, color, points, how, weight, scale, halo)
            height, width, _ = letters.shape
            around = halo_width(halo, scale)
            start = round(scale * x - _BEFORE[align] * (width - 2 * around)) - around
            left = start, size[0] - width
            top = round(scale * y - height / 2), size[1] - height
            yield letters, *(int(np.clip(at, 0, max(0, most))) for at, most in (left, top))

    # ---- read back ------------------------------------------------------------------------------

    def drawn(self) -> dict[str, Drawn]:
        """Say what moves in the picture as it is now, by name: artists and painted boxes.

        It is read back from them, and nothing that ``update`` was given is looked at, so that a
        picture can be held to its numbers.
        """
        return dict((*self._read_artists(), *self._read_blocks()))

    def _read_artists(self):
        frames = {frame.axes: frame for frame in self.frames}
        for artist in self.moving:
            if artist.get_visible():
                frame, (points, color) = frames[artist.axes], _points(artist)
                across, up = artist.get_transform().transform(points).T
                x, y = frame.values(across, self.size[1] - up)
                yield artist.get_label(), Drawn(frame, x, y, to_hex(color))

    def _read_blocks(self):
        for block in self.blocks:
            rows, columns = block.place(1.0, self.size)
            frame, color = block.frame, block.color
            x, y = frame.values((columns.start, columns.stop), (rows.stop, rows.start))
            flat = to_hex((*color / 255,)) if color.ndim == 1 else color
            yield block.name, Drawn(frame, x, y, flat)

    def written(self) -> list[Word]:
        """Say what is written, and where it is stamped."""
        words = []
        for (text, *_, halo, _, align), (ink, left, top) in zip(
            self.letters, self._stamps(), strict=True
        ):
            height, width, _ = ink.shape
            around = halo_width(halo, 1.0)
            width -= 2 * around
            place = left + around + _BEFORE[align] * width, top + height / 2
            words.append(Word(text, *place, align, width, height))
        return words


def _apart(one, other):
    """Whether two boxes leave each other alone; letters do not fill the height of theirs."""
    (left, top, right, bottom), (start, high, end, low) = one, other
    return right < start or end < left or bottom < high + 4 or low < top + 4


def band_patch(color: str, label: str) -> Polygon:
    """Make a band between two curves, pale; its corners come later."""
    return Polygon(np.zeros((3, 2)), color=color, alpha=0.22, lw=0, label=label)


def band_corners(x: np.ndarray, low: np.ndarray, high: np.ndarray) -> np.ndarray:
    """Corners of a band: along its low end and back along its high one."""
    return np.column_stack([np.r_[x, x[::-1]], np.r_[low, high[::-1]]])


def _points(artist):
    """Corners of a line or a patch, which ends where it began, and its colour."""
    color = artist.get_facecolor()[:3] if isinstance(artist, Patch) else artist.get_color()
    return artist.get_path().vertices, color
