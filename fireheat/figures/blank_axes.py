"""Empty axes to sketch on, in millimetres: labelled as a page's own picture, in both units."""

import html
import math
from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from scipy.constants import minute

from ..quantities import METRIC, US, Quantity, quantity, unit_text
from ..words import inch_words, time_words
from . import style
from .gauge import in_millimetres
from .kit_picture import attributes

BLANK_WIDTH, BLANK_HEIGHT = 90.0, 57.0  # mm
_LEFT, _RIGHT, _TOP, _BOTTOM = 15.0, 79.0, 9.5, 46.0
_LETTERS, _TICK, _PLANK, _NOTCH = 3.2, 1.2, 3.2, 1.3
_CAPITAL = 0.73 * _LETTERS
_ROOM = 5.0  # mm above a plank, for flags
_MOST = 6  # marks on an axis
_EVERY = 30.0  # s from notch to notch
_STEPS = (1.0, 2.0, 2.5, 5.0)
_TIMES = ("time", "elapsed")


class Mark(NamedTuple):
    """A mark on an axis: how far along it stands, from 0 to 1, and what is written there."""

    along: float
    words: str


class BlankAxis(NamedTuple):
    """One axis.

    Attributes
    ----------
    label : str
        What it shows, with its units.
    marks, us_marks : tuple of Mark
        Its marks; on the other side those of readers of inches and pounds, where they differ.
    plank : bool
        Whether it is time to come, on a plank with notches.
    """

    label: str
    marks: tuple[Mark, ...]
    us_marks: tuple[Mark, ...] = ()
    plank: bool = False


def blank_axis(row: Mapping[str, Any], *, beside: str) -> BlankAxis:
    """Read an axis of ``data/worksheets.toml``.

    Parameters
    ----------
    row : mapping
        The row.
    beside : str
        Where the marks of the other units stand, in words.

    Examples
    --------
    >>> force = blank_axis({"quantity": "force", "high": 150.0}, beside="at the top")
    >>> force.label, [mark.words for mark in force.marks]
    ('Downward force (N; lb at the top)', ['0', '50', '100', '150'])
    """
    name = row.get("name", "")
    if "marks" in row:
        marks = row["marks"]
        even = (Mark((at + 0.5) / len(marks), words) for at, words in enumerate(marks))
        return BlankAxis(_capital(name), tuple(even))
    shown, low, high = quantity(row["quantity"]), row.get("low", 0.0), row["high"]
    name = _capital(name or shown.name)
    if shown.key in _TIMES:
        return BlankAxis(name, tuple(_notches(high)), plank=True)
    metric, us = (unit_text(shown.shown_unit(system)) for system in (METRIC, US))
    if metric == us:
        return BlankAxis(f"{name} ({metric})", tuple(_marks(shown, low, high, METRIC)))
    here, there = (tuple(_marks(shown, low, high, system)) for system in (METRIC, US))
    return BlankAxis(f"{name} ({metric}; {us} {beside})", here, there)


def blank_axes(across: BlankAxis, up: BlankAxis) -> str:
    """Draw empty axes.

    Parameters
    ----------
    across, up : BlankAxis
        The two.

    Returns
    -------
    str
        SVG.

    Examples
    --------
    >>> line = BlankAxis("Anything", (Mark(0.5, "half"),))
    >>> blank_axes(line, line).count("half")
    2
    """
    parts = [
        _path(f"M{_LEFT} {_TOP}V{_BOTTOM}H{_RIGHT}", width=0.5),
        _path(f"M{_LEFT} {_TOP}H{_RIGHT}V{_BOTTOM}", width=0.15),
        _text(up.label, 0.5, _CAPITAL + 0.5),
        _text(across.label, _RIGHT, BLANK_HEIGHT - 0.8, "end"),
        *_across(across),
        *_up(up),
    ]
    told = f"Empty axes to sketch on. Across: {across.label}. Up: {up.label}."
    return in_millimetres(BLANK_WIDTH, BLANK_HEIGHT, parts, told)


def blank_plank(high: float) -> str:
    """Draw an empty plank of time, to set flags on.

    Parameters
    ----------
    high : float
        How long it is. [s]

    Examples
    --------
    >>> blank_plank(120.0).count("<path")
    5
    """
    foot = BLANK_HEIGHT - _BOTTOM + _ROOM
    parts = "".join(_across(BlankAxis("", tuple(_notches(high)), plank=True)))
    moved = f'<g transform="translate({3 - _LEFT} {_ROOM - _BOTTOM})">{parts}</g>'
    told = f"An empty plank of time, from zero to {time_words(high)}."
    return in_millimetres(_RIGHT - _LEFT + 10, foot - 3, [moved], told)


def _across(axis):
    low = _BOTTOM + (_PLANK if axis.plank else _TICK)
    if axis.plank:
        box = attributes(x=_LEFT, y=_BOTTOM, width=_RIGHT - _LEFT, height=_PLANK)
        yield f'<rect {box} fill="{style.WOOD}" stroke="{style.INK}" stroke-width="0.25"/>'
    for along, words in axis.marks:
        x = _LEFT + along * (_RIGHT - _LEFT)
        notch = f"M{x - _NOTCH:.3f} {_BOTTOM}h{2 * _NOTCH}l{-_NOTCH} {1.7 * _NOTCH:.3f}Z"
        tick = f"M{x:.3f} {_BOTTOM}v{_TICK}"
        yield _path(notch, fill=style.INK) if axis.plank else _path(tick)
        if words:
            yield _text(words, x, low + _CAPITAL + 1, "middle")
    for along, words in axis.us_marks:
        x = _LEFT + along * (_RIGHT - _LEFT)
        yield _path(f"M{x:.3f} {_TOP}v{-_TICK}")
        yield _text(words, x, _TOP - _TICK - 0.8, "middle")


def _up(axis):
    for x, side, anchor, marks in (
        (_LEFT, -1, "end", axis.marks),
        (_RIGHT, 1, "start", axis.us_marks),
    ):
        for along, words in marks:
            y = _BOTTOM - along * (_BOTTOM - _TOP)
            yield _path(f"M{x} {y:.3f}h{side * _TICK}")
            yield _text(words, x + side * (_TICK + 0.8), y + _CAPITAL / 2, anchor)


def _marks(shown: Quantity, low, high, system) -> Iterator[Mark]:
    """Mark round numbers of a reader's unit."""
    first, last = (float(shown.shown(value, system)) for value in (low, high))
    step = _step(last - first, halves=shown.in_parts(system))
    for count in range(math.ceil(first / step - 1e-9), math.floor(last / step + 1e-9) + 1):
        value = count * step
        words = inch_words(value, shown.parts) if shown.in_parts(system) else f"{value:g}"
        yield Mark((value - first) / (last - first), words)


def _step(reach, *, halves):
    """Choose the smallest round step that has few enough marks; of inches, halves of halves."""
    tens = 10.0 ** math.floor(math.log10(reach) - 1)
    rounds = (step * tens * ten for ten in (1, 10, 100) for step in _STEPS)
    steps = (2.0**power for power in range(-5, 6)) if halves else rounds
    return next(step for step in steps if reach / step < _MOST)


def _notches(high):
    for count in range(int(high / _EVERY) + 1):
        at = count * _EVERY
        told = count % 2 == 0 or high <= 2 * minute  # else there is no room
        yield Mark(at / high, (time_words(at) if at else "0") if told else "")


def _capital(words):
    return words[0].upper() + words[1:]


def _path(d, fill="none", width=0.25):
    line = attributes(fill=fill, stroke=style.INK, stroke_width=width, stroke_linejoin="round")
    return f'<path d="{d}" {line}/>'


def _text(words, x, y, anchor="start"):
    place = attributes(x=f"{x:.3f}", y=f"{y:.3f}", text_anchor=anchor, font_size=_LETTERS)
    return f"<text {place}>{html.escape(words)}</text>"
