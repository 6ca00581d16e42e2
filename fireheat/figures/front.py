"""The board of the front page: four holes, from one nobody has used to one with an ember.

It is decoration, and says nothing that words do not say. Colours are names of the style sheet
beside the panel, so it follows the theme of the page.
"""

SCENE = 300, 220  # drawing units of one door's scene; the board runs on from scene to scene
ROWS = 96, 140  # of one hole, where the board stands upright
BURNT = (0.0, 0.45, 0.78, 1.0)  # how far the wood round each hole is burnt
HEAPS = (0.0, 13.0, 19.0, 25.0)  # half the width of the dust under each
_TOP, _EDGE, _FOOT = 150, 184, 218  # heights of the board's back and front edges, and of its foot
_MIDDLE = 100


def scene(number: int) -> str:
    """Draw one door's piece of the board, with what stands on it, as SVG.

    Examples
    --------
    >>> scene(0).startswith('<svg class="fh-scene"')
    True
    """
    hole = _hole(number, _MIDDLE, _TOP + 16)
    return _svg("fh-scene", SCENE, [_board(), hole, _THINGS[number]])


def upright(number: int) -> str:
    """Draw one hole of the board that stands upright, its notch to the right, as SVG.

    Examples
    --------
    >>> 'class="fh-glow"' in upright(3)
    True
    """
    wide, high = ROWS
    board = _path("fh-wood", f"M0 0H{wide - 38}V{high}H0Z")
    side = _path("fh-wood-mid", f"M{wide - 38} 0H{wide - 8}V{high}H{wide - 38}Z")
    turned = _moved(wide - 56, high / 2, -90, _hole(number, 0, 0))
    return _svg("fh-upright", ROWS, [board, side, turned])


def _svg(kind, size, parts):
    return (
        f'<svg class="{kind}" viewBox="0 0 {size[0]} {size[1]}" aria-hidden="true" '
        f'preserveAspectRatio="xMidYMid slice" focusable="false">{"".join(parts)}</svg>'
    )


def _path(kind, way):
    return f'<path class="{kind}" d="{way}"/>'


def _round(kind, x, y, wide, high=None):
    high = wide if high is None else high
    return f'<ellipse class="{kind}" cx="{x:.4g}" cy="{y:.4g}" rx="{wide:.4g}" ry="{high:.4g}"/>'


def _moved(x, y, degrees, inside):
    return f'<g transform="translate({x} {y}) rotate({degrees})">{inside}</g>'


def _board():
    third = SCENE[0] // 3
    grain = [
        _path("fh-grain", f"M0 {y}C{third} {y - bend} {2 * third} {y + bend} {SCENE[0]} {y}")
        for y, bend in ((159, 4), (168, -3), (177, 4), (195, 3), (206, -3))
    ]
    back = _path("fh-wood", f"M-1 {_TOP}H{SCENE[0] + 1}V{_EDGE}H-1Z")
    front = _path("fh-wood-mid", f"M-1 {_EDGE}H{SCENE[0] + 1}V{_FOOT}H-1Z")
    return "".join([back, front, *grain])


def _hole(number, x, y):
    """Draw a hole with its notch, and the dust and the glow that came of it."""
    right = f"M{x - 6} {y + 4}H{x + 6}L{x + 15} {y + 18}L{x + 12} {y + 52}"
    notch = f"{right}H{x - 12}L{x - 15} {y + 18}Z"
    parts = [
        _round("fh-rim", x, y, 26, 9),
        _round("fh-pit", x, y + 1.5, 20, 6),
        _path("fh-pit", notch),
        _heap(HEAPS[number], x, y + 54),
        _ember(x, y + 45) if number == len(HEAPS) - 1 else "",
    ]
    style = f"--burnt:{BURNT[number]:.0%}"
    return f'<g class="fh-hole" style="{style}">{"".join(parts)}</g>'


def _heap(half, x, y):
    if not half:
        return ""
    top, side = y - 0.9 * half, 0.4 * half
    left = f"M{x - half} {y}Q{x - side:.4g} {top + 4:.4g} {x} {top:.4g}"
    crumbs = [
        _round("fh-crumb", x + half * at, y - 1 - half * up, size)
        for at, up, size in ((-0.7, 0.05, 1.2), (-0.3, 0.3, 0.9), (0.1, 0.1, 1.4), (0.5, 0.2, 1))
    ]
    outline = f"{left}Q{x + side:.4g} {top + 4:.4g} {x + half} {y}Z"
    return _path("fh-dust", outline) + "".join(crumbs)


def _ember(x, y):
    halo = [_round("fh-halo", x, y, wide, 0.6 * wide) for wide in (44, 33, 24)]
    kinds = (("fh-ember-dot", 13), ("fh-glow", 9), ("fh-core", 4))
    return "".join([*halo, *(_round(kind, x, y, wide, 0.7 * wide) for kind, wide in kinds)])


def _people():
    wall = (
        _path("fh-sheet", "M43 22H175V102H43Z")
        + _path("fh-line-wood", "M55 38h18M55 88h108")
        + _path("fh-band", "M83 44h50v14h-50ZM63 66h16v14h-16Z")
        + _path("fh-pale", "M79 69h18v8h-18ZM133 47h28v8h-28Z")
    )
    people = [
        _round("fh-ink", x, _TOP - 3.2 * size, size)
        + _path("fh-ink", f"M{x - 15} {_TOP}q1 -19 15 -19t15 19Z")
        for x, size in ((40, 9.4), (72, 10.1), (110, 9.4), (146, 10.4), (178, 9.0))
    ]
    return "".join([wall, *people])


def _bowing():
    x = _MIDDLE
    foot = f"V162Q{x} 174 {x - 13} 162Z"
    cord = f"M{x - 70} 75L{x - 13} 78Q{x} 84 {x + 13} 80M{x - 13} 88Q{x} 94 {x + 13} 89"
    cord += f"L{x + 102} 68"
    brown = [_path("fh-brown", f"M{x - 13} {y}H{x + 13}{foot}") for y in range(104, 160, 8)]
    return "".join(
        [
            _path("fh-spindle", f"M{x - 13} 6l7 -6h12l7 6{foot}"),
            _path("fh-lit", f"M{x - 9} 8h8V150h-8Z"),
            *brown,
            _path("fh-bow", f"M{x - 70} 74C{x - 40} 40 {x + 70} 38 {x + 104} 66"),
            _path("fh-over", f"M{x - 12} 36h24v30h-24Z"),
            _path("fh-cord-edge", cord),
            _path("fh-cord", cord),
        ]
    )


def _cards():
    tag, hole = "M-30 0V-86L-18 -100H18L30 -86V0Z", _round("fh-sheet fh-fine", 0, -86, 5)
    written = (
        _path("fh-line-ink", "M-18 -64H18M-18 -52H8")
        + _path("fh-line-wood", "M-20 -18H20")
        + _path("fh-band", "M-16 -35h18v11h-18Z")
        + _path("fh-line-yours", "M10 -42V-18")
    )
    blank = _path("fh-tag", tag) + hole
    dealt = ((66, -13, blank), (148, 15, blank), (108, 3, blank + written))
    return "".join(_moved(x, 152, turn, card) for x, turn, card in dealt)


def _watch():
    ticks = [_moved(0, 0, 30 * i, _path("fh-line-ink", "M0 -34v7")) for i in range(12)]
    watch = [
        _path("fh-ink", "M-7 -58h14v16h-14Z"),
        _round("fh-sheet", 0, 0, 42),
        *ticks,
        _path("fh-band", "M0 0V-30A30 30 0 0 1 26 15Z"),
        _path("fh-line-ink", "M0 0L26 15"),
    ]
    smoke = f"M{_MIDDLE + 2} 158c20 -30 -24 -54 4 -86s-20 -36 4 -64"
    return _path("fh-smoke", smoke) + _moved(190, 96, 0, "".join(watch))


_THINGS = (_people(), _bowing(), _cards(), _watch())
