"""Gauges at their true size, as SVG whose unit is the millimetre: to lay a spindle or a bow on."""

import html
from collections.abc import Iterable

from scipy.constants import inch, milli

from ..answers.making import size_words
from ..kit.making import Carved, sizes
from ..quantities import METRIC, US, default
from ..texts import both_units
from ..words import inch_words
from . import style
from .kit_picture import attributes

MILLIMETRES = (10, 11, 12.5, 14, 16, 18, 20, 22, 25)  # spindles that metric readers find
SIXTEENTHS = (6, 7, 8, 9, 10, 11, 12, 14, 16)  # of an inch, those of readers of inches
NOTCHED = (0.0125, 0.016, 0.019)  # m: spindles whose notch is drawn
STROKE_PIECE = 180  # mm of the stroke ruler that fit across both papers
PIECES = 5  # of it
TAB = 6  # mm at its end, for glue
_WIDE = STROKE_PIECE + TAB
_LINE, _WORD, _NOTE, _ASIDE = 0.2, 3.6, 3.2, 2.0  # mm
_CAPITAL = 0.73 * _WORD
_INCH = inch / milli


def in_millimetres(width: float, height: float, parts: Iterable[str], told: str) -> str:
    """Spell a drawing whose unit is the millimetre, which a browser prints at its true size.

    Parameters
    ----------
    width, height : float
        How large it is. [mm]
    parts : iterable of str
        What is drawn, as SVG.
    told : str
        Its text alternative.

    Returns
    -------
    str
        SVG.

    Examples
    --------
    >>> in_millimetres(20, 10, (), "Nothing.").split(" role")[0]
    '<svg width="20mm" height="10mm" viewBox="0 0 20 10"'
    """
    size = attributes(width=f"{width:g}mm", height=f"{height:g}mm")
    frame = attributes(viewBox=f"0 0 {width:g} {height:g}", role="img", aria_label=told)
    return f"<svg {size} {frame}>{''.join(parts)}</svg>"


def spindle_circles(system: str) -> str:
    """Draw a row of circles, each as wide as a spindle, with what a thickness is like.

    Parameters
    ----------
    system : str
        ``"metric"`` or ``"us"``.

    Returns
    -------
    str
        SVG. Each circle has the name of its spindle in ``data-spindle``.

    Examples
    --------
    >>> 'data-spindle="5/8 in"' in spindle_circles("us")
    True
    """
    wide = [_INCH * part / 16 for part in SIXTEENTHS] if system == US else list(MILLIMETRES)
    space = (_WIDE - sum(wide) - 2 * _ASIDE) / (len(wide) - 1)
    middle, x, parts, ends = wide[-1] / 2 + 1, _ASIDE, [], []
    for diameter in wide:
        across, name = x + diameter / 2, _spindle(diameter, system)
        ring = attributes(cx=f"{across:.3f}", cy=middle, r=f"{diameter / 2:.4f}")
        parts += [
            f'<circle data-spindle="{name}" {ring} {_stroke(fill=style.WOOD)}/>',
            _path(f"M{across - 1:.3f} {middle}h2M{across:.3f} {middle - 1}v2"),
            _text(name, across, 2 * middle + 4.5, "middle"),
        ]
        ends.append((x, x + diameter))
        x += diameter + space
    return in_millimetres(
        *(_WIDE, 2 * middle + 15),
        [*parts, *_thumbs(wide, ends, 2 * middle + 9)],
        f"Circles as wide as spindles, from {_spindle(wide[0], system)} to "
        f"{_spindle(wide[-1], system)}.",
    )


def _thumbs(wide, ends, y):
    """Bracket the circles by what they are like: thin, usual, thick."""
    usual = sizes()["spindle_thickness"].band
    inside = [usual.low <= diameter * milli <= usual.high for diameter in wide]
    first, after = inside.index(True), len(inside) - inside[::-1].index(True)
    for words, among in (
        ("like a little finger", ends[:first]),
        ("usual: about as thick as your thumb", ends[first:after]),
        ("like a broom handle", ends[after:]),
    ):
        (left, _), (_, right) = among[0], among[-1]
        yield _path(f"M{left:.3f} {y - 1.5}v1.5H{right:.3f}v-1.5")
        yield _text(words, (left + right) / 2, y + 4, "middle", _NOTE)


def _spindle(diameter, system):
    return f"{inch_words(diameter / _INCH, 16)} in" if system == US else f"{diameter:g} mm"


def notch_shapes() -> str:
    """Draw hole and notch of a few spindles from above, at the board's edge.

    Examples
    --------
    >>> notch_shapes().count("data-hole")
    3
    """
    each, edge = _WIDE / len(NOTCHED), 29.0
    parts = []
    for place, diameter in enumerate(NOTCHED):
        parts += _notch(Carved(diameter), each * (place + 0.5), edge, each / 2 - 4)
    told = "Hole and notch of three spindles from above: an eighth of the circle, cut at the edge."
    return in_millimetres(_WIDE, edge + 12, parts, told)


def _notch(carved, x, edge, half_board):
    half, radius = carved.notch_mouth / milli / 2, carved.hole / milli / 2
    left, right, y = x - half_board, x + half_board, edge - carved.notch_depth / milli
    ring = attributes(cx=f"{x:.3f}", cy=f"{y:.3f}", r=f"{radius:.4f}")
    mouth = "{} ({})".format(*(size_words(carved, system)["mouth"] for system in (METRIC, US)))
    wedge = f"M{x - half:.3f} {edge}L{x:.3f} {y:.3f}L{x + half:.3f} {edge}"
    return (
        _path(f"M{left:.3f} {edge}V1H{right:.3f}V{edge}Z", fill=style.WOOD),
        f'<circle data-hole="{carved.hole / milli:g}" {ring} {_stroke(fill=style.WOOD_MID)}/>',
        _path(wedge, fill=style.PAPER),
        _path(f"M{x - half:.3f} {edge}H{x + half:.3f}", color=style.PAPER, width=2 * _LINE),
        _text(f"hole {both_units('diameter', carved.hole)}", x, edge + 5, "middle"),
        _text(f"notch {mouth} at the edge", x, edge + 9.5, "middle", _NOTE),
    )


def check_lengths() -> str:
    """Draw a length of 100 mm and one of 4 in, to be measured after printing.

    Examples
    --------
    >>> check_lengths().count("data-length")
    2
    """
    parts = []
    for y, length, words in ((3, 100.0, "100 mm"), (10, 4 * _INCH, "4 in")):
        ends = f"M0.3 {y - 2}v4M0.3 {y}h{length:.4f}m0 -2v4"
        parts += [
            _path(ends, width=0.3, data_length=words),
            _text(f"This line is {words} long.", length + 4, y + 1.2),
        ]
    return in_millimetres(_WIDE, 13, parts, "Two lines to measure: 100 mm and 4 in long.")


def stroke_piece(piece: int) -> str:
    """Draw one piece of the stroke ruler: centimetres above, inches below, a tab for glue.

    Parameters
    ----------
    piece : int
        Its place, from 0 on.

    Returns
    -------
    str
        SVG.

    Examples
    --------
    >>> ">18<" in stroke_piece(1), ">50<" in stroke_piece(2)
    (True, True)
    """
    start, high, low = piece * STROKE_PIECE, 0.3, 24.3
    end, usual = start + STROKE_PIECE, default("stroke_length") / milli - start
    eighths = range(-int(-8 * start // _INCH), int(8 * end / _INCH) + 1)
    scales = (
        ([(mark - start, mark, 10) for mark in range(start, end + 1)], high, 1),
        ([(mark * _INCH / 8 - start, mark, 8) for mark in eighths], low, -1),
    )
    middle, down = STROKE_PIECE / 2, (high + low) / 2
    parts = [_path(f"M0 {high}H{STROKE_PIECE}V{low}H0Z")]
    for marks, y, way in scales:
        parts += _scale(marks, y, way)
    if piece < PIECES - 1:
        across = STROKE_PIECE + 4.2
        glue = _text(f"glue {piece + 2} here", across, down, "middle", _NOTE)
        parts += [
            _path(f"M{STROKE_PIECE} {high}H{_WIDE}V{low}H{STROKE_PIECE}"),
            f'<g transform="rotate(-90 {across} {down})">{glue}</g>',
        ]
    if 0 <= usual < STROKE_PIECE:
        words = f"an ordinary stroke: {both_units('stroke_length', default('stroke_length'))}"
        parts += [
            _path(f"M{usual:.3f} {down - 1.8}l-1.5 2.4h3Z", fill=style.INK),
            _text(words, usual - 3, down + 1.2, "end", _NOTE),
        ]
    else:
        parts.append(_text("centimetres above, inches below", middle, down + 1.2, "middle", _NOTE))
    told = f"Stroke ruler, piece {piece + 1} of {PIECES}, {start // 10} to {end // 10} cm."
    return in_millimetres(_WIDE, low + 2, parts, told)


def _scale(marks, y, way):
    """Draw one edge of a ruler: ticks from the edge inwards, numbers at whole ones."""
    yield _path("".join(f"M{x:.3f} {y}v{way * _tick(mark, whole)}" for x, mark, whole in marks))
    line = y + way * 6.4 + (_CAPITAL if way > 0 else 0)
    whole = [(x, mark // parts) for x, mark, parts in marks if mark % parts == 0]
    for x, number in whole:
        first, last = x < 2, x > STROKE_PIECE - 2
        anchor = "start" if first else "end" if last else "middle"
        yield _text(f"{number}", x + 0.7 * (first - last), line, anchor)


def _tick(mark, whole):
    return 5.0 if mark % whole == 0 else 3.5 if 2 * mark % whole == 0 else 2.0


def _stroke(*, fill="none", color=None, width=_LINE):
    return attributes(fill=fill, stroke=color or style.INK, stroke_width=width)


def _path(path, *, data_length=None, **look):
    return f"<path {attributes(d=path, data_length=data_length)} {_stroke(**look)}/>"


def _text(words, x, y, anchor="start", size=_WORD):
    told = attributes(x=f"{x:.3f}", y=f"{y:.3f}", font_size=size, text_anchor=anchor)
    return f"<text {told}>{html.escape(words)}</text>"
