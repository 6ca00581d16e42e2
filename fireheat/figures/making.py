"""The parts of a kit with their sizes, for who wants to make one: all to one scale but the bow."""

import html
from collections.abc import Mapping
from typing import NamedTuple

from scipy.constants import milli

from ..kit.making import Carved, sizes
from . import style
from .kit_picture import attributes, shape_svg
from .kit_shapes import Shape, ellipse, polyline
from .kit_still import KitArtists
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 440
_PER_METRE = 1.35 / milli  # pixels to a metre of all but bow and cord
_PER_BOW = 0.3 / milli
_SPINDLE = (62.0, 60.0)  # its middle, and its top
_BOARD = (282.0, 76.0)  # its left end, and the far edge of what is seen from above
_SIDE = 200.0  # top of the board seen from the side
_HOLE = 0.125  # m from the board's left end to the middle of its hole
_BLOCK = (282.0, 318.0)  # left and top
_BOW = (570.0, 340.0)  # its left end
_TICK, _OFF, _THIN = 6.0, 16.0, 1.2
_LETTERS, _CAPITAL = 15.5, 0.73  # size of letters on paper, and of a capital to it
_EDGE, _FAR, _ROUND, _SOCKET = 10.0, 528.0, 16.0, 9.0


class Makings(NamedTuple):
    """What the picture is to show.

    Attributes
    ----------
    carved : Carved
        What follows from the spindle's thickness.
    words : mapping
        Words for each size, by its row in ``data/making.toml``, and for ``"spindle"``, ``"hole"``
        and ``"mouth"``, which follow from the thickness.
    """

    carved: Carved
    words: Mapping[str, str]


def _long(key):
    return _PER_METRE * sizes()[key].value


def _box(left, top, right, bottom):
    return polyline((left, top), (right, top), (right, bottom), (left, bottom)) + "Z"


def _measure(part, start, end):
    """Draw a dimension line from one place to another, with a tick across each end."""
    across = (0, _TICK) if start[1] == end[1] else (_TICK, 0)
    ticks = [
        polyline((at - across[0], down - across[1]), (at + across[0], down + across[1]))
        for at, down in (start, end)
    ]
    path = " ".join([polyline(start, end), *ticks])
    return Shape(part, path, None, "INK", _THIN)


class SizeWord(NamedTuple):
    """A word beside the parts, in pixels from the top left; ``y`` is at its middle.

    Attributes
    ----------
    text : str
        What it says.
    x, y : float
        Where.
    align : str
        ``"left"`` or ``"right"``.
    look : str
        ``"bold"``, ``"quiet"``, or nothing.
    """

    text: str
    x: float
    y: float
    align: str = "left"
    look: str = ""


class Parts:
    """All parts with their dimension lines, as shapes and words in pixels from the top left.

    Parameters
    ----------
    makings : Makings
        What is to be shown.
    before : Makings, optional
        Of these an empty dashed outline of the spindle is left.
    """

    def __init__(self, makings: Makings, before: Makings | None = None):
        self.shapes: list[Shape] = []
        self.words: list[SizeWord] = []
        carved, words = makings
        self._spindle(carved, words)
        self._board(words)
        self._hole(carved, words)
        self._block(words)
        self._bow(words)
        then = ""
        if before:
            left, top, right, bottom = self._spindle_box(before.carved)
            shape = Shape(
                "before", _box(left, top, right, bottom), None, "INK", 1.6, 1.0, (6.0, 4.0)
            )
            self.shapes.append(shape)
            then = f" Before: {before.words['spindle']} thick."
        self.told = (
            f"Parts of a kit with their sizes, for a spindle {words['spindle']} thick: the hole is "
            "as wide, and its notch is an eighth of the circle. Usual sizes, no source; all "
            f"of them stand in the table.{then}"
        )

    def _write(self, *told, **look):
        self.words.append(SizeWord(*told, **look))

    def _size(self, key, start, end, text, x, y, align="left"):
        """Measure something, and write its size aside."""
        self.shapes.append(_measure(f"size of {key}", start, end))
        self._write(text, x, y, align)

    def _beside(self, key, x, top, low, text):
        """Measure something upright, and write its size at the right."""
        self._size(key, (x, top), (x, low), text, x + 10, (top + low) / 2)

    def _name(self, text, x, y):
        self._write(text, x, y, look="bold")

    def _part(self, name, path, fill, *, edge="WOOD_DARK"):
        self.shapes.append(Shape(name, path, fill, edge, 1.6))

    @staticmethod
    def _spindle_box(carved):
        half, (x, top) = _PER_METRE * carved.diameter / 2, _SPINDLE
        return x - half, top + _long("spindle_point"), x + half, top + _long("spindle_length")

    def _spindle(self, carved, words):
        left, shoulder, right, bottom = self._spindle_box(carved)
        (x, top), low = _SPINDLE, bottom - 0.35 * (right - left)
        path = (
            f"{polyline((x, top), (right, shoulder), (right, low))} "
            f"Q{right:.2f} {bottom:.2f} {x:.2f} {bottom:.2f} "
            f"Q{left:.2f} {bottom:.2f} {left:.2f} {low:.2f} L{left:.2f} {shoulder:.2f}Z"
        )
        self._part("spindle", path, "WOOD")
        self._name("spindle", _EDGE, 18)
        out, far = right + _OFF, left - _OFF
        self._beside("spindle_point", out, top, shoulder, words["spindle_point"])
        long = f"{words['spindle_length']} long"
        self._size("spindle_length", (far, top), (far, bottom), long, out, (top + bottom) / 2)
        low, thick = bottom + _OFF, f"{words['spindle']} thick"
        self._size("spindle", (left, low), (right, low), thick, _EDGE, low + 22)

    def _board(self, words):
        left, far = _BOARD
        right, near = left + _long("board_length"), far + _long("board_width")
        base = _SIDE + _long("board_thickness")
        self._name("fireboard, from above", left, 18)
        self._part("board", _box(left, far, right, near), "WOOD")
        self._part("side", _box(left, _SIDE, right, base), "WOOD_MID")
        self._write("from its edge", right, _SIDE - 14, "right", "quiet")
        high, out = far - _OFF, right + _OFF
        self._size(
            "board_length",
            (left, high),
            (right, high),
            words["board_length"],
            right,
            high - 16,
            "right",
        )
        self._beside("board_width", out, far, near, words["board_width"])
        self._beside("board_thickness", out, _SIDE, base, words["board_thickness"])

    def _hole(self, carved, words):
        left, far = _BOARD
        near, base = far + _long("board_width"), _SIDE + _long("board_thickness")
        x, y = left + _PER_METRE * _HOLE, near - _PER_METRE * carved.notch_depth
        radius, half = _PER_METRE * carved.hole / 2, _PER_METRE * carved.notch_mouth / 2
        self._part("hole", ellipse(x, y, radius, radius), "SPINDLE", edge="CHAR")
        wedge = polyline((x, y), (x + half, near), (x - half, near)) + "Z"
        self._part("notch", wedge, "CHAR", edge=None)
        self._part("open notch", _box(x - half, _SIDE, x + half, base), "CHAR", edge=None)
        out = x - radius - 10
        ends, wide = ((out, y - radius), (out, y + radius)), f"hole {words['hole']}"
        self._size("hole", *ends, wide, out - 12, y, "right")
        low = near + _OFF
        wide = f"notch {words['mouth']}"
        self._size("mouth", (x - half, low), (x + half, low), wide, x + half + 12, low)

    def _block(self, words):
        left, top = _BLOCK
        right, base = left + _long("block_length"), top + _long("block_thickness")
        inner, outer, low = left + _ROUND, right - _ROUND, top + _ROUND
        path = (
            f"{polyline((left, base), (left, low))} Q{left:.2f} {top} {inner:.2f} {top} "
            f"L{outer:.2f} {top} Q{right:.2f} {top} {right:.2f} {low} L{right:.2f} {base:.2f}Z"
        )
        self._part("block", path, "WOOD_MID")
        x, deep = (left + right) / 2, _long("socket_depth")
        start, end = x - _SOCKET, x + _SOCKET
        socket = f"M{start:.2f} {base:.2f} Q{x:.2f} {base - 2 * deep:.2f} {end:.2f} {base:.2f}Z"
        self._part("socket", socket, "CHAR", edge=None)
        self._name("bearing block", left, top - 54)
        high, out = top - _OFF, right + _OFF
        self._size(
            "block_length", (left, high), (right, high), words["block_length"], left, high - 16
        )
        self._beside("block_thickness", out, top, base, words["block_thickness"])
        at, deeply = end + 12, f"socket {words['socket_depth']} deep"
        self._size("socket_depth", (at, base - deep), (at, base), deeply, left, base + 20)

    def _bow(self, words):
        left, y = _BOW
        right = left + _PER_BOW * sizes()["bow_length"].value
        inner, outer, high, low = left + 54, right - 54, y - 46, y + _OFF
        path = f"M{left} {y} C{inner:.2f} {high} {outer:.2f} {high} {right:.2f} {y}"
        self.shapes.append(Shape("bow", path, None, "WOOD_DARK", 9))
        self.shapes.append(Shape("cord", polyline((left, y), (right, y)), None, "CHAR", 2.4))
        self._name("bow and cord, smaller", _FAR, _BLOCK[1] - 54)
        self._size("bow_length", (left, low), (right, low), words["bow_length"], _FAR, low + 20)
        self._write(f"cord {words['cord_over']} longer", _FAR, low + 44)


class MakingPicture(Sketch):
    """Spindle, fireboard, bearing block and bow, each with its dimension lines."""

    def __init__(self):
        super().__init__(_WIDTH, _HEIGHT)
        self.pixels = Frame(self, (0, 0, _WIDTH, _HEIGHT), Scale(0, _WIDTH), Scale(_HEIGHT, 0))
        self.pixels.draw_axes().axis("off")
        self.parts = KitArtists(self, self.pixels)

    def update(self, makings: Makings, before: Makings | None = None) -> str:
        """Draw all parts, and say what the picture shows."""
        self.clear()
        self.parts.hide()
        parts = Parts(makings, before)
        for shape in parts.shapes:
            self.parts.line(shape)
        for word in parts.words:
            color = style.QUIET if word.look == "quiet" else style.INK
            weight = "bold" if word.look == "bold" else "normal"
            self.write(word.text, word.x, word.y, align=word.align, color=color, weight=weight)
        return parts.told


def making_svg(makings: Makings, width: float) -> str:
    """Spell the same picture as SVG, so many millimetres wide on paper.

    Parameters
    ----------
    makings : Makings
        What is to be shown.
    width : float
        How wide. [mm]

    Returns
    -------
    str
        SVG.

    Examples
    --------
    >>> from fireheat.answers.making import size_words
    >>> made = making_svg(Makings(Carved(0.016), size_words(Carved(0.016))), 186)
    >>> made.split(" role")[0]
    '<svg width="186mm" height="102.3mm" viewBox="0 0 800 440"'
    """
    parts, height = Parts(makings), width * _HEIGHT / _WIDTH
    size = attributes(width=f"{width:g}mm", height=f"{height:g}mm")
    frame = attributes(viewBox=f"0 0 {_WIDTH} {_HEIGHT}", role="img", aria_label=parts.told)
    drawn = "".join([*map(shape_svg, parts.shapes), *map(_word, parts.words)])
    return f"<svg {size} {frame}>{drawn}</svg>"


def _word(word):
    told = attributes(
        x=f"{word.x:.1f}",
        y=f"{word.y + _CAPITAL * _LETTERS / 2:.1f}",
        font_size=_LETTERS,
        text_anchor="end" if word.align == "right" else None,
        font_weight="bold" if word.look == "bold" else None,
    )
    return f"<text {told}>{html.escape(word.text)}</text>"
