"""The kit as shapes: one description, from which the live picture and the kept one are drawn.

Places are in drawing units from the middle of the spindle's foot, y down. Spindle, hole, notch,
board and heap are to one scale; spindle and bow are drawn shorter than they are.
"""

import re
from typing import NamedTuple, TypeAlias

import numpy as np
from scipy.constants import milli

from ..quantities import default

# A colour: a token of the style, or a place from 0, cold, to 1, hot on its ramp of heat.
Ink: TypeAlias = str | float | None

PER_METRE = 2.7 / milli  # drawing units to a metre of what is to scale
PER_NEWTON = 0.6  # of the arrow that presses
TRAVEL = 62.0  # how far the bow goes to each side
EDGE, GROUND = 14.0, 66.0  # the board's front edge, and where the heap lies
TOP = -226.0  # the spindle's upper end
CORDS = {"left": (-120.0, -262.0, -122.0), "right": (-98.0, 286.0, -118.0)}  # from, to: x and y
WISPS = 3
_TIP, _ROUND = -6.7, 15.3  # lowest point of the spindle, and how high its rounding is
_HOT, _CHARRED = 58.0, 66.0  # how far up the tip is coloured and charred
_CIRCLE = 0.5523  # of a radius: a Bezier curve's handles that make a quarter of a circle
_STEPS = 14  # of what fades out
# Of light, from the outside in: share of its radius, place on the ramp of heat, how dense.
_LIGHT = tuple((1 - i / 12, 0.78 + 0.22 * max(0, i - 4) / 7, 0.06 + 0.034 * i) for i in range(12))
# Of the round spindle, from side to side in radii: from, to, and how dark.
_SHADES = ((-1.0, -0.72, 0.55), (-0.72, -0.5, 0.25), (0.42, 0.7, 0.35), (0.7, 1.0, 0.75))


class Shape(NamedTuple):
    """One outline of the kit.

    Attributes
    ----------
    part : str
        What it belongs to; all that moves or changes colour together has one name.
    path : str
        Its outline in SVG's letters M, L, C, Q and Z, absolute.
    fill, stroke : str, float or None
        Its colours.
    width : float
        Of its line.
    opacity : float
        From 0 to 1.
    dash : tuple of float
        Lengths of its dashes and gaps; an unbroken line if empty.
    """

    part: str
    path: str
    fill: Ink = None
    stroke: Ink = None
    width: float = 0.0
    opacity: float = 1.0
    dash: tuple[float, ...] = ()


def steps(path: str) -> list[tuple[str, list[float]]]:
    """Take an outline apart into its letters, each with its numbers.

    Examples
    --------
    >>> steps("M0 1 L2 3Z")
    [('M', [0.0, 1.0]), ('L', [2.0, 3.0]), ('Z', [])]
    """
    return [
        (letter, [float(number) for number in re.findall(r"-?[\d.]+", numbers)])
        for letter, numbers in re.findall(r"([MLCQZ])([^MLCQZ]*)", path)
    ]


def polyline(*points: tuple[float, float]) -> str:
    """Outline straight lines from point to point.

    Examples
    --------
    >>> polyline((0, 1), (2, 3))
    'M0.00 1.00 L2.00 3.00'
    """
    return "M" + " L".join(f"{x:.2f} {y:.2f}" for x, y in points)


def ellipse(x: float, y: float, wide: float, high: float) -> str:
    """Outline an ellipse by its middle and its two half axes, in four curves.

    Examples
    --------
    >>> [letter for letter, _ in steps(ellipse(0, 0, 2, 1))]
    ['M', 'C', 'C', 'C', 'C', 'Z']
    """
    way, rise = _CIRCLE * wide, _CIRCLE * high
    corners = [
        (x + wide, y + rise, x + way, y + high, x, y + high),
        (x - way, y + high, x - wide, y + rise, x - wide, y),
        (x - wide, y - rise, x - way, y - high, x, y - high),
        (x + way, y - high, x + wide, y - rise, x + wide, y),
    ]
    curves = "".join("C" + " ".join(f"{at:.2f}" for at in corner) for corner in corners)
    return f"M{x + wide:.2f} {y:.2f}{curves}Z"


def _glow(part, x, y, wide, high, most=1.0):
    """Let light fade out from a middle, each ring on all those round it."""
    for share, heat, opacity in _LIGHT:
        path = ellipse(x, y, share * wide, share * high)
        yield Shape(part, path, heat, opacity=round(most * opacity, 3))


def _half(radius, y):
    """Half the spindle's width at a height: full, and round at its foot."""
    below = np.clip((np.asarray(y) - _TIP + _ROUND) / _ROUND, 0, 1)
    return radius * np.sqrt(1 - below**2)


def _slice(radius, above, below):
    """Cut a piece of the spindle from one height to another: straight, then round."""
    y = np.append(above, np.linspace(max(above, _TIP - _ROUND), below, 7))
    half = _half(radius, y)
    return polyline(*zip(half, y, strict=True), *zip(-half[::-1], y[::-1], strict=True)) + "Z"


def _fading(part, radius, high, fill, most):
    """Colour the spindle's foot, less and less the higher up.

    Each piece lies on all those before it, so that no seams are seen.
    """
    under = 0.0
    for i, above in enumerate(np.linspace(_TIP - high, _TIP, _STEPS, endpoint=False)):
        shade = most * ((i + 1) / _STEPS)
        opacity = round(1 - (1 - shade) / (1 - under), 3)
        yield Shape(part, _slice(radius, above, _TIP), fill, opacity=opacity)
        under = shade


def _board(base):
    yield Shape("ground", ellipse(8, base + 12, 292, 15), "INK", opacity=0.1)
    yield Shape("board", f"M-232 -46 L252 -46 L284 {EDGE} L-268 {EDGE}Z", "WOOD")
    for y, left, right in ((-34, -238, 246), (-20, -246, 258), (-6, -254, 268), (5, -262, 276)):
        path = f"M{left} {y} C{left + 140} {y - 4} {right - 190} {y + 4} {right} {y - 1}"
        yield Shape("board", path, None, "WOOD_MID", 1.1, 0.7)
    path = f"M-268 {EDGE} L284 {EDGE} L284 {base:.1f} L-268 {base:.1f}Z"
    yield Shape("front", path, "WOOD_MID")
    yield Shape("front", f"M-268 {EDGE} L284 {EDGE}", None, "WOOD", 2)
    for y in np.linspace(EDGE, base, 5)[1:-1]:
        path = f"M-262 {y:.1f} C-120 {y + 3:.1f} 90 {y - 3:.1f} 280 {y + 1:.1f}"
        yield Shape("front", path, None, "WOOD_DARK", 1.1, 0.45)


def _old_hole(base):
    """Draw a hole that was used up before, with its notch."""
    yield Shape("old", f"M-150 -14 L-139 {EDGE} L-161 {EDGE}Z", "CHAR")
    path = f"M-139 {EDGE} L-161 {EDGE} L-158 {base:.1f} L-142 {base:.1f}Z"
    yield Shape("old", path, "CHAR")
    yield Shape("old", ellipse(-150, -18, 22, 8.5), "CHAR")
    yield Shape("old", ellipse(-150, -16.5, 17, 5.5), "SPINDLE", opacity=0.5)


def notch_half(radius: float) -> float:
    """Half the notch's width at the board's edge, in drawing units, from the spindle's."""
    return radius * 1.02


def _hole(radius, base):
    half, shallow = notch_half(radius), 0.4 * radius
    yield Shape("hole", ellipse(0, -16, 1.36 * radius, shallow + 3), "CHAR", opacity=0.85)
    yield Shape("hole", ellipse(0, -16, 1.22 * radius, shallow + 1.4), "CHAR")
    path = f"M{-0.28 * half:.2f} -12 L{0.28 * half:.2f} -12 L{half:.2f} {EDGE} L{-half:.2f} {EDGE}Z"
    yield Shape("notch", path, "CHAR")
    low = 0.82 * half
    path = f"M{-half:.2f} {EDGE} L{half:.2f} {EDGE} L{low:.2f} {base:.1f} L{-low:.2f} {base:.1f}Z"
    yield Shape("notch", path, "CHAR")


def _catcher():
    path = "M-96 60 Q-70 53 0 54 Q74 52 104 61 Q80 75 0 74 Q-78 75 -96 60Z"
    yield Shape("catcher", path, "WOOD_MID")
    yield Shape("catcher", path, "CHAR", opacity=0.4)
    yield Shape("catcher", "M-90 61 Q0 68 98 62", None, "CHAR", 1.4, 0.5)


def _heap():
    """Draw a heap one unit in radius at the ground; it is drawn larger as it grows."""
    path = "M-1.15 0 Q-0.55 -0.35 -0.2 -0.92 Q0 -1.06 0.2 -0.92 Q0.55 -0.35 1.15 0 Q0 0.14 -1.15 0Z"
    yield Shape("heap", path, "SPINDLE")
    yield Shape("heap", path, "CHAR", opacity=0.62)
    grains = np.random.default_rng(7).uniform(size=(26, 3))
    for across, up, size in grains:
        y = -0.82 * up
        x = (2 * across - 1) * 0.85 * (1 - up) ** 1.3
        token = "SPINDLE" if size < 0.7 else "WOOD_MID"
        yield Shape("heap", ellipse(x, y, 0.02 + 0.03 * size, 0.02 + 0.03 * size), token)


def _spindle(radius):
    yield Shape("spindle", _slice(radius, TOP + 22, _TIP), "WOOD", "WOOD_DARK", 1.6)
    top = f"M{-radius:.2f} {TOP + 22} L-7.6 {TOP} L7.6 {TOP} L{radius:.2f} {TOP + 22}Z"
    yield Shape("spindle", top, "WOOD", "WOOD_DARK", 1.6)
    for left, right, opacity in _SHADES:
        ends = ((left, TOP + 22), (right, TOP + 22), (right, -22.0), (left, -22.0))
        path = polyline(*((share * radius, y) for share, y in ends))
        yield Shape("spindle", path + "Z", "WOOD_MID", opacity=opacity)
    for share in (-0.45, 0.12, 0.55):
        path = f"M{share * radius:.2f} {TOP + 24} L{share * radius:.2f} -20"
        yield Shape("spindle", path, None, "WOOD_DARK", 1, 0.45)
    yield from _fading("tip", radius, _HOT, "HEAT", 0.62)
    yield from _fading("char", radius, _CHARRED, "CHAR", 0.98)
    yield from _glow("glow", 0, -11.4, 1.1 * radius, 0.48 * radius)


def _corded(part, path):
    yield Shape(part, path, None, "CHAR", 6.4)
    yield Shape(part, path, None, "WOOD", 3.4)


def _bow():
    path = "M-262 -124 C-150 -196 140 -194 262 -132 L300 -114"
    yield Shape("bow", path, None, "WOOD_DARK", 15)
    path = "M-262 -126 C-150 -199 140 -197 262 -135 L298 -117"
    yield Shape("bow", path, None, "WOOD_MID", 7, 0.75)


def _cord(radius):
    """Lead the cord from the bow's one end once round the spindle to the other."""
    for part, (y, end, low) in CORDS.items():
        x = radius if end > 0 else -radius
        yield from _corded(part, f"M0 0 L{end - x:.2f} {low - y:.2f}")
    left, right = CORDS["left"][0], CORDS["right"][0]
    r = radius
    yield from _corded("turn", f"M{-r:.2f} {left} Q0 {left + 10} {r:.2f} {left + 4}")
    yield from _corded("turn", f"M{-r:.2f} {left + 12} Q0 {right} {r:.2f} {right}")
    path = f"M{1 - r:.2f} -176 Q0 -170 {r - 1:.2f} -176"
    yield Shape("mark", path, None, "WOOD_DARK", 5, 0.8, (5, 7))


def _block():
    y = TOP + 14
    path = (
        f"M-66 {y - 22} Q-70 {y - 54} -40 {y - 60} Q0 {y - 68} 42 {y - 60} "
        f"Q72 {y - 53} 66 {y - 22} Q62 {y - 10} 40 {y - 8} L-42 {y - 8} Q-62 {y - 10} -66 {y - 22}Z"
    )
    yield Shape("block", path, "WOOD_MID", "WOOD_DARK", 1.6)
    for path in (
        f"M-52 {y - 46} Q0 {y - 54} 54 {y - 45}",
        f"M-58 {y - 32} Q0 {y - 39} 60 {y - 31}",
    ):
        yield Shape("block", path, None, "WOOD_DARK", 1.2, 0.7)
    yield Shape("block", ellipse(0, y - 9, 12, 4), "CHAR")


def _smoke():
    for i, (x, lean, width) in enumerate(((11, 29, 10.0), (-13, -10, 8.5), (22, 38, 7.0))):
        path = (
            f"M{x} 26 C{x + 21} 0 {x - 19} -30 {x + 15} -66 C{x + 49} -102 {x - 7} -116 {lean} -154"
        )
        yield Shape(f"smoke-{i + 1}", path, None, "SMOKE", width, 0.45)


def _press(force):
    """Draw the press of a hand as an arrow: the longer, the harder."""
    foot = TOP - 56.0
    tail, head = foot - PER_NEWTON * force, min(18.0, 0.7 * PER_NEWTON * force)
    if force > 0:
        yield Shape("press", f"M0 {tail:.2f} L0 {foot - head / 2:.2f}", None, "INK", 8)
        path = (
            f"M{-0.72 * head:.2f} {foot - head:.2f} L0 {foot} L{0.72 * head:.2f} {foot - head:.2f}Z"
        )
        yield Shape("press", path, "INK")


def kit_shapes(diameter: float, *, force: float) -> list[Shape]:
    """Describe a kit, its parts in the order in which they are drawn.

    Parameters
    ----------
    diameter : float
        How thick the spindle is. [m]
    force : float
        How hard it is pressed. [N]

    Returns
    -------
    list of Shape
        What is still, and what moves: ``"bow"``, ``"left"``, ``"right"`` and ``"mark"`` with the
        bow, ``"heap"``, ``"tip"``, ``"char"``, ``"glow"`` and ``"smoke-1"`` to ``"smoke-3"`` with
        the time.

    Examples
    --------
    >>> {shape.part for shape in kit_shapes(0.016, force=60.0)} >= {"bow", "tip", "heap"}
    True
    """
    radius = PER_METRE * diameter / 2
    base = EDGE + PER_METRE * default("board_thickness")
    parts = (
        _board(base), _old_hole(base), _hole(radius, base), _catcher(),
        _glow("halo", 0, 48, 110, 58, 0.34), _heap(), _glow("heart", 0, -0.42, 0.85, 0.56),
        _bow(), _spindle(radius), _cord(radius), _block(), _smoke(), _press(force),
    )  # fmt: skip
    return [shape for part in parts for shape in part]


def before_shapes(diameter: float, *, force: float) -> list[Shape]:
    """Outline the spindle and the press that there were before, empty and dashed.

    Examples
    --------
    >>> [shape.part for shape in before_shapes(0.016, force=60.0)]
    ['before', 'before']
    """
    radius, foot = PER_METRE * diameter / 2, TOP - 56.0
    tail = foot - PER_NEWTON * force
    corners = ((-radius, -22.0), (-radius, TOP + 22), (radius, TOP + 22), (radius, -22.0))
    return [
        Shape("before", path, None, "INK", 1.8, 1.0, (6.0, 4.0))
        for path in (
            polyline(*corners),
            f"{polyline((-9, foot), (-9, tail), (9, tail), (9, foot))}Z",
        )
    ]


def pivots(diameter: float) -> dict[str, tuple[float, float]]:
    """Where parts that grow or stretch are held, by name.

    Examples
    --------
    >>> pivots(0.016)["heap"]
    (0.0, 66.0)
    """
    radius = PER_METRE * diameter / 2
    return {
        "heap": (0.0, GROUND),
        "left": (-radius, CORDS["left"][0]),
        "right": (radius, CORDS["right"][0]),
    }
