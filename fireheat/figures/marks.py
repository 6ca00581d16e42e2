"""Marks that mean the same in every picture: now is filled, before is an empty dashed outline."""

from typing import Any

from . import style
from .patterns import disc, outline
from .sketch import Frame

_DOT = 17.0  # size of a dot of before, in pixels
BEFORE_LINE = (0, (2.2, 1.6))  # dashes of a curve of before, in its own thickness


def now_dot(color: str) -> dict[str, Any]:
    """Say how matplotlib draws the dot of now: filled, with a ring of paper.

    Parameters
    ----------
    color : str
        What it is filled with.

    Examples
    --------
    >>> now_dot("#000000")["marker"]
    'o'
    """
    ring = {"mec": style.PAPER, "mew": 2.5, "ms": 14, "clip_on": False, "label": "now"}
    return {"color": color, "marker": "o", "ls": "", **ring}


def likely_dot(frame: Frame, name: str, across: float, down: float, size: float = 11.0) -> None:
    """Draw the dot of a likely time on its bar, with a ring of paper.

    Parameters
    ----------
    frame : Frame
        Where it stands.
    name : str
        What it is called.
    across, down, size : float
        Its middle, and how wide it is without its ring. [pixels]

    Examples
    --------
    >>> from fireheat.figures.sketch import Sketch
    >>> sketch = Sketch(100, 80)
    >>> likely_dot(sketch.whole, "likely", 50, 40)
    >>> sorted(sketch.drawn())
    ['likely', 'ring of likely']
    """
    for what, half, color in (
        (f"ring of {name}", size / 2 + 2, style.PAPER),
        (name, size / 2, style.EMBER),
    ):
        box = across - half, down - half, across + half, down + half
        frame.fill(what, *box, color, disc())


def before_dot(frame: Frame, name: str, across: float, down: float) -> None:
    """Draw the empty dashed circle of before.

    Parameters
    ----------
    frame : Frame
        Where it stands.
    name : str
        What it is called.
    across, down : float
        Its middle. [pixels]

    Examples
    --------
    >>> from fireheat.figures.sketch import Sketch
    >>> sketch = Sketch(100, 80)
    >>> before_dot(sketch.whole, "before", 50, 40)
    >>> sorted(sketch.drawn())
    ['before']
    """
    box = across - _DOT / 2, down - _DOT / 2, across + _DOT / 2, down + _DOT / 2
    frame.fill(name, *box, style.INK, disc(ring=2.4, dashes=7))


def before_box(
    frame: Frame, name: str, left: float, top: float, right: float, bottom: float
) -> None:
    """Draw the empty dashed outline of a bar of before.

    Parameters
    ----------
    frame : Frame
        Where it stands.
    name : str
        What it is called.
    left, top, right, bottom : float
        Its corners; it is made wide enough to be seen. [pixels]

    Examples
    --------
    >>> from fireheat.figures.sketch import Sketch
    >>> sketch = Sketch(100, 80)
    >>> before_box(sketch.whole, "before", 10, 20, 60, 40)
    >>> sorted(sketch.drawn())
    ['before']
    """
    right = max(right, left + 6)
    frame.fill(name, left, top, right, bottom, style.INK, outline(1.8, 5, 3))
