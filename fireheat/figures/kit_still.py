"""Drawn kits in a kept picture: each shape of the live one as an artist."""

import re
from typing import Any

from matplotlib.patches import PathPatch
from matplotlib.path import Path
from matplotlib.transforms import Affine2D

from .kit_picture import Placed, placed_shapes
from .kit_script import ink
from .kit_shapes import Shape, steps
from .sketch import Frame, Sketch
from .style import DPI

_CODES = {
    "M": Path.MOVETO,
    "L": Path.LINETO,
    "Q": Path.CURVE3,
    "C": Path.CURVE4,
    "Z": Path.CLOSEPOLY,
}
_POINTS = 72 / DPI  # of a pixel


def traced(path: str) -> Path:
    """Turn an outline in SVG's letters into matplotlib's.

    Examples
    --------
    >>> [[float(at) for at in corner] for corner in traced("M0 1 L2 3").vertices]
    [[0.0, 1.0], [2.0, 3.0]]
    """
    corners: list[tuple[float, float]] = []
    codes: list[Any] = []
    start = (0.0, 0.0)
    for letter, numbers in steps(path):
        points = list(zip(numbers[::2], numbers[1::2], strict=True)) or [start]
        start = points[0] if letter == "M" else start
        corners += points
        codes += [_CODES[letter]] * len(points)
    return Path(corners, codes)


def placing(transform: str) -> Affine2D:
    """Turn SVG's "translate(x y) scale(x y)" into matplotlib's transform.

    Examples
    --------
    >>> [float(at) for at in placing("translate(3 4) scale(2)").transform((1, 1))]
    [5.0, 6.0]
    """
    made = Affine2D()
    for name, numbers in reversed(re.findall(r"(\w+)\(([^)]*)\)", transform)):
        values = [float(number) for number in numbers.split()]
        if name == "scale":
            made.scale(values[0], values[-1])
        else:
            made.translate(*values)
    return made


class KitArtists:
    """Artists of one kit, made once and changed: a name is its part, and its number if of several.

    Parameters
    ----------
    sketch : Sketch
        The picture.
    frame : Frame
        Its pixels, as axes.
    name : str, optional
        Put before the names of its parts, where there is another kit.
    """

    def __init__(self, sketch: Sketch, frame: Frame, name: str = ""):
        self._sketch, self._axes, self._name = sketch, frame.axes, name
        self._artists: dict[str, PathPatch] = {}

    def update(self, kit: Placed, time: float) -> None:
        """Show a kit as it stands at a time."""
        pose = kit.script.pose(time, still=True)
        whole = Affine2D().scale(kit.scale).translate(kit.x, kit.y)
        self.hide()
        for name, shape in placed_shapes(kit):
            of_part = pose.get(shape.part, {})
            self._show(name, shape, whole, kit.scale, of_part)

    def hide(self) -> None:
        """Hide all that is drawn; what is shown next is seen again."""
        for artist in self._artists.values():
            artist.set_visible(False)

    def line(self, shape: Shape) -> None:
        """Show a line beside the kit, in pixels."""
        self._show(shape.part, shape, Affine2D(), 1.0, {})

    def _show(self, name, shape, whole, scale, of_part):
        """Show a shape as its part is posed; a part that is quite clear is not drawn."""
        artist = self._artists.get(name) or self._make(name)
        where = placing(of_part.get("transform", "")) + whole
        dim = float(of_part.get("opacity", 1.0)) * shape.opacity
        artist.set_path(where.transform_path(traced(shape.path)))
        looks: dict[str, Any] = {
            "facecolor": ink(shape.fill, of_part.get("fill", "")),
            "edgecolor": ink(shape.stroke),
            "linewidth": shape.width * scale * _POINTS,
            "alpha": dim,
            "visible": dim > 0,
        }
        if shape.dash:
            looks["linestyle"] = (0, [length / shape.width for length in shape.dash])
        artist.set(**looks)

    def _make(self, name):
        artist = PathPatch(
            Path([(0, 0)]), label=self._name + name, capstyle="round", joinstyle="round"
        )
        self._axes.add_patch(artist)
        self._artists[name] = self._sketch.add(artist)
        return artist
