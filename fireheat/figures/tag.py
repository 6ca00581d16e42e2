"""A tag on a cord, to be cut out: the outline of a card, in millimetres."""

from . import style
from .gauge import in_millimetres
from .kit_picture import attributes

TAG_WIDTH, TAG_HEIGHT = 93.0, 53.0  # mm
_EDGE, _CORNER, _EYELET = 0.5, 9.0, 1.5
_HOLE = (6.8, 6.8)  # where the eyelet is
_CORD = "M{0} {1}c-2 -1.2 -4.2 -2.4 -6.4 -2.6M{0} {1}c-0.8 -2.2 -2.4 -4.4 -4 -6.2"


def tag() -> str:
    """Draw the outline of a tag with its eyelet, dashed: where to cut.

    Examples
    --------
    >>> tag().count("<path"), tag().count("<circle")
    (2, 1)
    """
    x, y = _HOLE
    right, low = TAG_WIDTH - _EDGE, TAG_HEIGHT - _EDGE
    outline = f"M{_CORNER} {_EDGE}H{right}V{low}H{_EDGE}V{_CORNER}Z"
    lines = attributes(fill="none", stroke=style.INK, stroke_width=0.3)
    ring = attributes(cx=x, cy=y, r=_EYELET)
    parts = [
        f'<path d="{outline}" {lines} stroke-dasharray="2 1.2"/>',
        f"<circle {ring} {lines}/>",
        f'<path d="{_CORD.format(x, y)}" {lines}/>',
    ]
    return in_millimetres(TAG_WIDTH, TAG_HEIGHT, parts, "A tag on a cord. Cut along the dashes.")
