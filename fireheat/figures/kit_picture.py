"""Drawn kits as a live picture, SVG whose parts have names, and as artists of a kept one."""

import html
from collections import Counter
from collections.abc import Container, Iterable, Sequence
from itertools import groupby
from typing import Any, NamedTuple

from .kit_script import KitScript, ink
from .kit_shapes import Shape, before_shapes, kit_shapes


class Placed(NamedTuple):
    """A kit somewhere in a picture.

    Attributes
    ----------
    script : KitScript
        What it is, and what it does.
    x, y : float
        Where the middle of the spindle's foot stands, in pixels from the top left.
    scale : float
        Pixels to a drawing unit.
    before : KitScript, optional
        What it was before, of which an empty dashed outline is left.
    """

    script: KitScript
    x: float
    y: float
    scale: float
    before: KitScript | None = None

    def at(self, x: float, y: float) -> tuple[float, float]:
        """Turn a place on the kit into one in the picture."""
        return self.x + self.scale * x, self.y + self.scale * y


def placed_shapes(kit: Placed) -> list[tuple[str, Shape]]:
    """List a kit's shapes, each with a name: its part, and its number where there are several."""
    script, then = kit.script, kit.before
    shapes = kit_shapes(script.diameter, force=script.force)
    if then is not None:
        shapes += before_shapes(then.diameter, force=then.force)
    of_part = Counter(shape.part for shape in shapes)
    seen: Counter[str] = Counter()
    named = []
    for shape in shapes:
        seen[shape.part] += 1
        number = f" {seen[shape.part]}" if of_part[shape.part] > 1 else ""
        named.append((shape.part + number, shape))
    return named


class Letters(NamedTuple):
    """Words beside a kit, in pixels from the top left; ``y`` is where they stand on.

    Attributes
    ----------
    text : str
        The words.
    x, y : float
        Where.
    anchor : str
        ``"start"``, ``"middle"`` or ``"end"``.
    note : bool
        Quiet and smaller.
    """

    text: str
    x: float
    y: float
    anchor: str = "start"
    note: bool = False


class Leader(NamedTuple):
    """A thin line from words to an open dot on what they name, in pixels from the top left."""

    start: tuple[float, float]
    end: tuple[float, float]


def attributes(**given: Any) -> str:
    """Spell attributes of SVG; those that are None are left out.

    Examples
    --------
    >>> attributes(fill="none", stroke_width=2, opacity=None)
    'fill="none" stroke-width="2"'
    """
    return " ".join(
        f'{name.replace("_", "-")}="{html.escape(str(value))}"'
        for name, value in given.items()
        if value is not None
    )


def shape_svg(shape: Shape) -> str:
    """Spell a shape as SVG, in the colours of the theme drawn in now.

    Parameters
    ----------
    shape : Shape
        The shape.

    Returns
    -------
    str
        SVG.

    Examples
    --------
    >>> shape_svg(Shape("board", "M0 0 L9 0", None, "INK", 1.2))[:34]
    '<path d="M0 0 L9 0" fill="none" st'
    """
    # The colour of the tip is that of its group, so that one change colours all of it.
    fill = None if shape.fill == "HEAT" else ink(shape.fill)
    line = {}
    if shape.stroke is not None:
        line = {
            "stroke": ink(shape.stroke),
            "stroke_width": shape.width,
            "stroke_linecap": None if shape.dash else "round",
            "stroke_linejoin": "round",
            "stroke_dasharray": " ".join(map(str, shape.dash)) or None,
        }
    dim = None if shape.opacity == 1 else shape.opacity
    return f"<path {attributes(d=shape.path, fill=fill, opacity=dim, **line)}/>"


def kit_group(
    kit: Placed,
    number: int | None = None,
    *,
    time: float = 0.0,
    still: bool = False,
    parts: Container[str] | None = None,
) -> str:
    """Spell one kit, or parts of it, as a group of SVG; with a number its parts are named."""
    pose = kit.script.pose(time, still=still)
    shapes = [shape for _, shape in placed_shapes(kit)]
    groups = [
        f"<g {attributes(data_part=name, **pose.get(part, {}))}>{_shapes(of_part)}</g>"
        for part, of_part in groupby(shapes, key=lambda shape: shape.part)
        for name in (None if number is None else part,)
        if parts is None or part in parts
    ]
    where = f"translate({kit.x} {kit.y}) scale({kit.scale})"
    return f"<g {attributes(data_kit=number, transform=where)}>{''.join(groups)}</g>"


def _shapes(shapes):
    return "".join(map(shape_svg, shapes))


def _letters(words: Letters) -> str:
    kind = "fh-kit-note" if words.note else "fh-kit-word"
    told = attributes(x=words.x, y=words.y, text_anchor=words.anchor, **{"class": kind})
    return f"<text {told}>{html.escape(words.text)}</text>"


def _leader(one: Leader) -> str:
    (x, y), (across, down) = one.start, one.end
    return (
        f'<path class="fh-kit-leader" d="M{x} {y} L{across:.1f} {down:.1f}"/>'
        f'<circle class="fh-kit-dot" cx="{across:.1f}" cy="{down:.1f}" r="3.4"/>'
    )


def live_picture(
    kits: Sequence[Placed],
    size: tuple[int, int],
    *,
    words: Iterable[Letters] = (),
    leaders: Iterable[Leader] = (),
    lines: Iterable[Shape] = (),
    told: str = "",
    time: float = 0.0,
) -> str:
    """Spell a live picture of one or more kits, in the colours of the theme drawn in now.

    Parameters
    ----------
    kits : sequence of Placed
        The kits; the first is number 0.
    size : tuple of int
        Width and height in pixels.
    words, leaders, lines : iterable, optional
        What stands beside them.
    told : str, optional
        Its text alternative.
    time : float, optional
        The clock as it begins. [s]

    Returns
    -------
    str
        SVG for :class:`fireheat.panels.stage.Stage`.
    """
    width, height = size
    parts = [kit_group(kit, number, time=time) for number, kit in enumerate(kits)]
    parts += map(shape_svg, lines)
    parts += map(_leader, leaders)
    parts += map(_letters, words)
    frame = attributes(viewBox=f"0 0 {width} {height}", role="img", aria_label=told)
    return f"<svg {frame}>{''.join(parts)}</svg>"


_SEEN = ("board", "front", "hole", "notch", "spindle", "tip", "char", "glow", "smoke-1", "smoke-2")
_CROP = "-38 -66 76 76"


def look_icon(script: KitScript, look: int) -> str:
    """Cut the tip of a kit out of its drawing, as it is when a look of it begins.

    Parameters
    ----------
    script : KitScript
        A kit that comes to all looks.
    look : int
        Place among :data:`fireheat.figures.kit_script.LOOKS`.

    Returns
    -------
    str
        SVG for a round frame, in the colours of the theme drawn in now.
    """
    (time,) = (cue.time for cue in script.cues if cue.look == look)
    pose = script.pose(time, still=True)
    parts = [part for part in _SEEN if float(pose.get(part, {}).get("opacity", 1))]
    tip = kit_group(Placed(script, 0, 0, 1), time=time, still=True, parts=parts)
    return f'<svg viewBox="{_CROP}" aria-hidden="true">{tip}</svg>'
