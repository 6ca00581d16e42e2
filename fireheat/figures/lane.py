"""Time on a plank, and what one kit's time is on it: a lane of floor, bars and dot.

Time runs left to right along one plank, from zero and in even steps, with burnt notches. Above it
each kit has a lane: a wall (the floor), a pale dashed bar (all we do not know), a solid bar (your
wood) and a dot (likely). Things are told apart by shape first, and by colour second.
"""

from collections.abc import Iterable
from typing import Any

import numpy as np
from matplotlib.patches import Circle, PathPatch, Polygon
from matplotlib.path import Path

from ..bands import Band
from ..spread import Spread
from ..words import TOO_LONG, time_words
from . import style
from .letters import lettering
from .sketch import Frame, Scale, Sketch

# Where a plank ends, and how far apart its notches are. [s]
PLANKS = {
    **{15.0: 5.0, 30.0: 5.0, 60.0: 10.0, 120.0: 30.0, 180.0: 30.0, 240.0: 30.0, 300.0: 60.0},
    **{600.0: 120.0, 1200.0: 240.0, 1800.0: 300.0, TOO_LONG: 600.0},
}
FAR = 3.0  # times what must be seen: so far a plank reaches for what would be good to see
_WOOD, _PALE, _CLEAR, _DOT, _POINT = 17, 11, 4, 9, 14  # half heights, gap, radius, point in pixels
_THICK, _NAMED_APART = 16, 58  # of a plank, and least between names on it, in pixels
_HEM, _TAIL = 9, 8  # of a flag: bare cloth before and behind its words, and how deep it is cut
_LETTERS = 14  # pt, as a sketch writes
_DASH: Any = (0, (4, 2.5))
_RANGE = "too soon ends about here"


def page(sketch: Sketch) -> Any:
    """Return matplotlib's axes over a whole picture, in pixels from its top left."""
    if sketch.whole.axes is None:
        sketch.whole.draw_axes().set_axis_off()
    return sketch.whole.axes


def plank_end(must: Iterable[float], may: Iterable[float] = ()) -> float:
    """Choose where a plank ends, so that times stand on it. It moves in few steps.

    Parameters
    ----------
    must : iterable of float
        Times that have to stand on it; those that are never are left out. [s]
    may : iterable of float, optional
        Times that should, if the others do not shrink too much. [s]

    Returns
    -------
    float
        Its end. [s]

    Examples
    --------
    >>> plank_end([98.0]), plank_end([98.0], [247.0]), plank_end([98.0], [2000.0])
    (120.0, 300.0, 120.0)
    """
    need = max((time for time in must if time < TOO_LONG), default=0.0)
    wish = max((time for time in may if time <= FAR * need), default=0.0)
    return next(end for end in PLANKS if end >= min(max(need, wish), TOO_LONG))


class Plank:
    """The axis of time: a plank, with a notch burnt into it at every so many seconds.

    Parameters
    ----------
    sketch : Sketch
        The picture.
    left, top, right, bottom : float
        Where lanes and flags may stand, in pixels; the plank lies below, and takes 44 more.

    Attributes
    ----------
    frame : Frame
        Seconds along it, pixels from the picture's top up it.
    """

    def __init__(self, sketch: Sketch, left: float, top: float, right: float, bottom: float):
        self.sketch, self.end = sketch, 0.0
        self.frame = Frame(sketch, (left, top, right, bottom), Scale(0.0, 60.0))
        self.axes = self.frame.draw_axes()
        self.axes.set_axis_off()
        self._still()
        notch: Any = {"color": style.CHAR, "ms": 10, "clip_on": False, "label": "notches"}
        self._notches = sketch.add(page(sketch).plot([], [], "v", ls="", mec="none", **notch)[0])

    def _still(self):
        left, right, low = self.frame.left, self.frame.right, self.frame.bottom
        board = [(left, low), (right, low), (right, low + _THICK), (left, low + _THICK)]
        page(self.sketch).add_patch(Polygon(board, color=style.WOOD, lw=0))
        under = [(left, low + _THICK - 4), (right, low + _THICK - 4), *board[2:]]
        page(self.sketch).add_patch(Polygon(under, color=style.WOOD_MID, lw=0))
        for number in range(9):  # grain
            start = left + (right - left) * ((0.37 * number + 0.06) % 0.86)
            ends, height = [start, start + 0.12 * (right - left)], low + 4 + 3 * (number % 3)
            page(self.sketch).plot(ends, [height] * 2, color=style.WOOD_MID, lw=0.8)

    def fit(self, must: Iterable[float], may: Iterable[float] = ()) -> None:
        """Choose the end as :func:`plank_end` does, burn the notches and name them.

        Called at each update, before anything is placed.
        """
        self.end = plank_end(must, may)
        self.frame.rescale(x=Scale(0.0, self.end))
        times = np.arange(0.0, self.end + 1.0, PLANKS[self.end])
        places, low = self.frame.across(times), self.frame.bottom
        self._notches.set_data(places, np.full(len(times), low + 4.5))
        every = 1 if np.diff(places)[0] > _NAMED_APART else 2  # the end is always named
        for time, place in zip(times[::every], places[::every], strict=True):
            self.sketch.write(
                _notch_words(time), place, low + _THICK + 16, color=style.QUIET, align="center"
            )

    def across(self, seconds: float) -> float:
        """Place of a time in pixels from the left; what is beyond the end is put at the end."""
        return float(self.frame.across(min(seconds, self.end)))

    def holds(self, seconds: float) -> bool:
        """Tell whether a time stands on the plank."""
        return seconds <= self.end and seconds < TOO_LONG


def _notch_words(seconds):
    """Name a notch; whole and half minutes are minutes, so that all on a plank read alike."""
    if seconds < 30 or seconds % 30:
        return f"{seconds:.0f} s" if seconds else "0"
    halves = {0.0: "", 0.5: "½"}[seconds / 60 % 1]
    return "30 s" if seconds == 30 else f"{seconds // 60:.0f}{halves} min"


class Lane:
    """One kit's time: wall, pale bar, solid bar and dot; or, as *before*, empty outlines.

    Parameters
    ----------
    plank : Plank
        Above which it stands.
    name : str
        Put before the names of its parts, as they are read back.
    outline : bool, optional
        Whether it shows what was before.
    """

    def __init__(self, plank: Plank, name: str, *, outline: bool = False):
        self.plank, self.name, self.outline = plank, name, outline
        add = self._before if outline else self._now
        self._parts: dict[str, Any] = {}
        add()
        self.hide()

    def _now(self):
        paper: Any = {"facecolor": style.PAPER, "edgecolor": style.PAPER, "lw": 0}
        for what in ("wall", "all", "wood"):
            self._patch(f"paper round {what}", **paper)
        self._patch("wall", facecolor=style.PAPER, edgecolor=style.INK, lw=0, hatch="///")
        dashed: Any = {"edgecolor": style.EMBER_BAND, "ls": _DASH, "lw": 1.2}
        self._patch("all", facecolor=style.EMBER_PALE, **dashed)
        self._patch("wood", facecolor=style.EMBER_BAND, lw=0)
        self._line("floor's range", color=style.INK, lw=1.5, solid_capstyle="butt")
        self._line("floor", color=style.INK, lw=4, solid_capstyle="butt")
        ring: Any = {"mec": style.PAPER, "mew": 2.2}
        self._line("likely", marker="o", ms=1.5 * _DOT + 2.2, color=style.EMBER, **ring)

    def _before(self):
        dots: Any = {"ls": (0, (1, 1.5)), "lw": 1.8}
        self._line("all", color=style.INK, **dots)
        self._patch("wood", facecolor=style.PAPER, edgecolor=style.INK, lw=1.8, ls=_DASH)
        ring: Any = {"mec": style.INK, "mew": 1.8}
        self._line("likely", marker="o", ms=1.5 * _DOT, color=style.PAPER, **ring)

    def _patch(self, what, **look):
        patch = Polygon(np.zeros((3, 2)), label=f"{self.name}, {what}", clip_on=False, **look)
        self._parts[what] = self.plank.sketch.add(self.plank.axes.add_patch(patch))

    def _line(self, what, **look):
        label: Any = {"label": f"{self.name}, {what}", "clip_on": False}
        line = self.plank.axes.plot([], [], **label, **look)[0]
        self._parts[what] = self.plank.sketch.add(line)

    def hide(self) -> None:
        """Show nothing."""
        for part in self._parts.values():
            part.set_visible(False)

    def show(self, found: Spread, y: float, *, wall: bool = True) -> None:
        """Show the bands of one try at a height, in pixels; what is never has no bar and no dot.

        Where changes are compared, the floor's wall may be left away.
        """
        self.hide()
        self._bar("all", found.all, y, _PALE)
        self._bar("wood", found.wood, y, _WOOD)
        if self.plank.holds(found.wood.likely):
            self._move("likely", [found.wood.likely], [y])
        if wall and not self.outline:
            self._wall(found.bound, y)
        self._end_words(found, y)

    def _bar(self, what, band, y, half):
        if not self.plank.holds(band.low):
            return
        if what == "all" and self.outline:
            self._move(what, [band.low, min(band.high, self.plank.end)], [y, y])
            return
        self._move(what, *self._corners(band.low, band.high, y, half))
        if not self.outline:
            gap = self._seconds(_CLEAR)
            edges = self._corners(band.low - gap, band.high + gap, y, half + _CLEAR)
            self._move(f"paper round {what}", *edges)

    def _corners(self, low, high, y, half):
        """Corners of a bar; one that runs off the plank ends in a point."""
        end, tip = self.plank.end, []
        if not self.plank.holds(high):
            high, tip = end, [(end + self._seconds(_POINT), y)]
        across = [low, high, *(x for x, _ in tip), high, low]
        return across, [y - half, y - half, *(up for _, up in tip), y + half, y + half]

    def _wall(self, bound: Band, y):
        floor, (low, high) = bound.likely, (min(end, self.plank.end) for end in bound.ends)
        edge, gap = min(floor, self.plank.end), self._seconds(_CLEAR)
        up, down, foot = y - _WOOD, y + _WOOD, y + _WOOD + 5
        self._move("paper round wall", [0, edge + gap, edge + gap, 0], _rise(y, _WOOD + _CLEAR))
        self._move("wall", [0, edge, edge, 0], [up, up, down, down])
        if self.plank.holds(floor):
            self._move("floor", [floor, floor], [up, down])
            self._move("floor's range", [low, low, low, high, high, high],
                       [foot - 4, foot + 4, foot, foot, foot + 4, foot - 4])  # fmt: skip

    def _move(self, what, x, y):
        part = self._parts[what]
        if isinstance(part, Polygon):
            part.set_xy(np.column_stack([x, y]))
        else:
            part.set_data(x, y)
        part.set_visible(True)

    def name_range(self, y: float, pole: float = 0.0) -> None:
        """Say what the bracket under the wall is, if no other words are there: call this last.

        Nor where the pole of a flag, in pixels from the left, would go through them.
        """
        bracket, sketch = self._parts["floor's range"], self.plank.sketch
        place = self.plank.across(max(bracket.get_xdata(), default=0.0)) + 10
        wide = sketch.width(_RANGE)
        crossed = place - 4 < pole < place + wide + 4
        if bracket.get_visible() and not crossed and place + wide < sketch.size[0]:
            spots = [(place, y + _WOOD + 10, "left")]
            sketch.write_free(_RANGE, spots, must=False, color=style.QUIET, halo=True)

    def _seconds(self, pixels):
        return pixels * self.plank.end / (self.plank.frame.right - self.plank.frame.left)

    def _end_words(self, found, y):
        """Write at the points of bars that run off the plank at what time they end."""
        for band in (found.all, found.wood):
            if self.plank.holds(band.low) and not self.plank.holds(band.high):
                words, right = f"to {time_words(band.high)}", self.plank.frame.right
                self.plank.sketch.write(words, right, y + _WOOD + 13, align="right")
                return


def _rise(y, half):
    return [y - half, y - half, y + half, y + half]


class Flag:
    """A flag on a pole: a time that somebody guesses or aims at.

    Parameters
    ----------
    plank : Plank
        In which the pole stands.
    name : str
        How it is read back.
    """

    def __init__(self, plank: Plank, name: str):
        self.plank, sketch, axes = plank, plank.sketch, page(plank.sketch)
        pole: Any = {"color": style.YOURS, "lw": 3, "solid_capstyle": "butt"}
        self._pole = sketch.add(axes.plot([], [], label=f"{name}, pole", **pole)[0])
        cloth = Polygon(np.zeros((3, 2)), color=style.YOURS, lw=0, label=f"{name}, flag")
        self._cloth = sketch.add(axes.add_patch(cloth))
        self.hide()

    def hide(self) -> None:
        """Show nothing."""
        self._pole.set_visible(False)
        self._cloth.set_visible(False)

    def show(self, seconds: float, words: str, y: float, *, top: float | None = None) -> None:
        """Hoist it at a time, with words on it at a height, in pixels.

        It flies to the side where there is room; a time beyond the plank's end stands at the end.
        It is as wide as its words are.
        """
        x, sketch = self.plank.across(seconds), self.plank.sketch
        written = lettering(words, style.PAPER, _LETTERS, "left", "normal", 1.0)
        width = float(written.shape[1]) + 2 * _HEM + _TAIL
        way = 1 if x + width < sketch.size[0] else -1
        top = y - 14 if top is None else top
        self._pole.set_data([x, x], [top, self.plank.frame.bottom])
        across = x + way * np.array([0, width, width - _TAIL, width, 0])
        self._cloth.set_xy(np.column_stack([across, y + np.array([-14, -14, 0, 14, 14])]))
        self._pole.set_visible(True)
        self._cloth.set_visible(True)
        sketch.write(
            words, x + way * _HEM, y, color=style.PAPER, align="left" if way > 0 else "right"
        )


class SpindleEnd:
    """The end of a spindle with its rings, to one scale in a picture: it moves.

    Parameters
    ----------
    sketch : Sketch
        The picture.
    name : str
        How it is read back.
    scale : float
        Pixels for each metre.
    """

    def __init__(self, sketch: Sketch, name: str, scale: float):
        self.scale, axes = scale, page(sketch)
        self._disc = sketch.add(axes.add_patch(_disc((0.0, 0.0), 1.0, label=name)))
        self._rings = sketch.add(axes.add_patch(_rings((0.0, 0.0), 1.0, label=f"{name}, rings")))
        self.hide()

    def hide(self) -> None:
        """Show nothing."""
        self._disc.set_visible(False)
        self._rings.set_visible(False)

    def show(self, x: float, y: float, diameter: float) -> None:
        """Show it at a place, in pixels, so thick. [m]."""
        radius = self.scale * diameter / 2
        self._disc.set(center=(x, y), radius=radius, visible=True)
        self._rings.set(path=_ring_path((x, y), radius), visible=True)


def still_spindle(sketch: Sketch, x: float, y: float, *, diameter: float, scale: float) -> None:
    """Draw the end of a spindle that stays, at a place in pixels, so thick [m], to scale."""
    for part in (_disc, _rings):
        page(sketch).add_patch(part((x, y), scale * diameter / 2))


def _disc(center, radius, *, label=""):
    look: Any = {"facecolor": style.WOOD, "edgecolor": style.SPINDLE, "lw": 1.5}
    return Circle(center, radius, label=label, **look)


def _rings(center, radius, *, label=""):
    look: Any = {"facecolor": "none", "edgecolor": style.CHAR, "lw": 0.5, "alpha": 0.7}
    return PathPatch(_ring_path(center, radius), label=label, **look)


def _ring_path(center, radius):
    return Path.make_compound_path(*(Path.circle(center, share * radius) for share in _RINGS))


_RINGS = (0.72, 0.46, 0.1)  # how far out they are
