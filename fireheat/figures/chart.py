"""The paper computer as SVG whose unit is the millimetre: scales, net and ladder of the chart."""

import html
from dataclasses import dataclass
from functools import partial

import numpy as np

from ..answers.chart import (
    DEPTHS,
    DIAMETERS,
    LADDER_DEPTHS,
    LADDER_TIMES,
    AlignmentChart,
    RulerScale,
    chart_layout,
)
from ..kit.kit import Try
from ..quantities import US, quantity, to_si, unit_text
from ..words import band_words
from . import style
from .chart_ticks import CHART_SIDES
from .gauge import in_millimetres
from .kit_picture import attributes

WIDE = 186  # mm
_LEFT, _RIGHT = 24.0, 174.0  # mm: where scales of the first part begin and end
_ROWS = {"force": 6.0, "speed": 26.0, "friction": 56.0}  # mm from the top
_WATTS, _EMBER = 14.0, 116.0  # mm from the left: the two scales of the second part
_TOP, _HIGH = 18.0, 140.0  # mm: where those begin, and how long they are
_LADDER, _RUNG = 128.0, 19.3  # mm: where the ladder begins, and how wide it is
_PLANK, _WALL = 2.6, 1.6  # mm
_CELL = 4.1  # mm
_WORD, _NUMBER, _SMALL = 3.6, 3.2, 3.0  # mm: sizes of letters
_LONG, _SHORT, _GAP = 2.2, 1.2, 0.7  # mm
_CAPITAL = 0.73  # of a size of letters


@dataclass(frozen=True)
class _Line:
    """Where a scale runs on paper, in millimetres."""

    start: tuple[float, float]
    end: tuple[float, float]

    def at(self, share):
        return tuple((1 - share) * a + share * b for a, b in zip(self.start, self.end, strict=True))


def watts_chart(chart: AlignmentChart, example: Try) -> str:
    """Draw the first part: press, speed and grip give watts.

    Parameters
    ----------
    chart : AlignmentChart
        The chart.
    example : Try
        For which a ruler is drawn, dashed.

    Returns
    -------
    str
        SVG. Ticks have their scale, unit and value in ``data-scale``, ``data-unit`` and
        ``data-value``.

    Examples
    --------
    >>> from fireheat.answers.chart import alignment_chart
    >>> watts_chart(alignment_chart(), Try()).count('data-scale="friction"')
    71
    """
    lines, numbers = _rows(), _numbers(example)
    blank = chart.blank(force=numbers["force"], speed=numbers["speed"])
    parts = [
        _ruler(
            lines["force"].at(chart.scales["force"].place(numbers["force"])),
            lines["speed"].at(chart.scales["speed"].place(numbers["speed"])),
        ),
        _ruler(
            lines["blank"].at(blank),
            lines["friction"].at(chart.scales["friction"].place(numbers["friction"])),
        ),
        _path(_run(lines["blank"]), width=0.4, data_scale="blank", color=style.EDGE),
    ]
    names = {
        "force": "Press",
        "blank": "(no numbers)",
        "speed": "Bow speed",
        "product": "Watts",
        "friction": "Grip",
    }
    for key, name in names.items():
        y = lines[key].start[1] + 1.2
        quiet = key == "blank"
        parts.append(
            _text(name, 0, y, size=_NUMBER if quiet else _WORD, bold=not quiet, quiet=quiet)
        )
        if key in CHART_SIDES:
            parts += _level_scale(key, chart.scales[key], lines[key])
    told = (
        "Five level lines. A ruler from press to bow speed crosses a line without numbers; from"
        " there to grip it crosses the watts."
    )
    return in_millimetres(WIDE, _ROWS["friction"] + 6.5, parts, told)


def ember_chart(chart: AlignmentChart, example: Try) -> str:
    """Draw the second part: watts, thickness and wear-off give ember and floor, with the ladder.

    Parameters
    ----------
    chart : AlignmentChart
        The chart.
    example : Try
        For which rulers are drawn, dashed.

    Returns
    -------
    str
        SVG. Ticks have their scale, unit and value in ``data-scale``, ``data-unit`` and
        ``data-value``; lines of the net have theirs in ``data-net`` and ``data-value``.

    Examples
    --------
    >>> from fireheat.answers.chart import alignment_chart
    >>> ember_chart(alignment_chart(), Try()).count("data-net")
    20
    """
    columns = _columns()
    parts = [
        *_wall(columns["bound"], chart.scales["bound"]),
        *_plank(columns["ember"]),
        *_net(chart),
        *_floor_line(chart, columns["floor_marks"]),
        *_example(chart, example, columns),
    ]
    for key in ("power", "bound", "ember"):
        parts += _upright_scale(key, chart.scales[key], columns[key])
    parts += [*_headings(columns, chart), *_rungs(chart, columns["ember"])]
    told = (
        "Upright lines. A ruler from the watts through a net of thickness and wear-off shows the"
        " ember's time; one through the thickness marked for the floor shows the floor. Beside"
        " the ember's line a ladder says how sure each time is."
    )
    return in_millimetres(WIDE, _TOP + _HIGH + 11, parts, told)


def ruler_slip(chart: AlignmentChart, slip: float) -> float:
    """Tell how far off the ember is at most if the ruler misses a crossing of the net.

    Parameters
    ----------
    chart : AlignmentChart
        The chart.
    slip : float
        How far up or down it lies beside the crossing. [mm]

    Returns
    -------
    float
        Share of the ember's time, at its worst within the scale. [1]

    Examples
    --------
    >>> from fireheat.answers.chart import alignment_chart
    >>> round(ruler_slip(alignment_chart(), 0.5), 2)
    0.05
    """
    scale = chart.scales["ember"]
    moved = scale.place(LADDER_TIMES) + slip / _HIGH / np.min(chart.net[..., 0])
    return float(np.max(scale.value(moved) / LADDER_TIMES - 1))


# ---- where lines run -----------------------------------------------------------------------------


def _rows():
    layout = chart_layout()
    rows = dict(_ROWS)
    rows["blank"] = rows["force"] + layout["blank"] * (rows["speed"] - rows["force"])
    rows["product"] = rows["blank"] + layout["product"] * (rows["friction"] - rows["blank"])
    return {key: _Line((_LEFT, y), (_RIGHT, y)) for key, y in rows.items()}


def _columns():
    layout = chart_layout()
    places = {"power": 0.0, "ember": 1.0} | {key: layout[key] for key in ("bound", "floor_marks")}
    return {key: _Line(_on_paper(x, 0.0), _on_paper(x, 1.0)) for key, x in places.items()}


def _on_paper(across, high):
    """Put a point of the second part, in shares, on the paper."""
    return _WATTS + (_EMBER - _WATTS) * across, _TOP + _HIGH * (1 - high)


def _numbers(example):
    values = example.values()
    return {key: values[key] for key in (*_ROWS, "diameter", "burn_in_depth")}


# ---- scales --------------------------------------------------------------------------------------


def _level_scale(key, scale: RulerScale, line):
    first, last = (CHART_SIDES[key][0].marks()[end][0] for end in (0, -1))
    ends = (scale.place(to_si(value, CHART_SIDES[key][0].unit)) for value in (first, last))
    yield _path(_run(_Line(*map(line.at, ends))), width=0.4)
    for side in CHART_SIDES[key]:
        for value, told in side.marks():
            x, y = line.at(scale.place(to_si(value, side.unit)))
            yield _tick(key, side, value, x, y, f"v{side.way * (_LONG if told else _SHORT)}")
            if told:
                below = _CAPITAL * _NUMBER if side.way > 0 else 0
                y += side.way * (_LONG + _GAP) + below
                yield _text(f"{value:g}", x, y, "middle")
        if unit := unit_text(side.unit):
            yield _text(unit, _RIGHT + 5.5, line.start[1] + 3.4 * side.way + 1.2, size=_WORD)


def _upright_scale(key, scale: RulerScale, line):
    run = _Line(line.at(scale.start), line.at(scale.end))
    yield _path(_run(run), width=0.9 if key == "bound" else 0.5)
    (side,) = CHART_SIDES[key]
    ember = key == "ember"
    shown = {"color": style.EMBER, "bold": True} if ember else {}
    out = _PLANK if ember else _LONG
    for value, told in side.marks():
        x, y = line.at(scale.place(value))
        yield _tick(key, side, value, x, y, f"h{side.way * (out if told else _SHORT)}")
        if told:
            yield _beside(f"{value:g}", x + side.way * (out + _GAP), y, side.way, **shown)


def _tick(key, side, value, x, y, stroke):
    named = {"data_scale": key, "data_unit": side.unit, "data_value": f"{value:.6g}"}
    return _path(f"M{x:.3f} {y:.3f}{stroke}", **named)


# ---- floor, net, ladder --------------------------------------------------------------------------


def _wall(line, scale):
    """Draw the floor's line as a wall: hatched where nobody gets."""
    (x, bottom), (_, top) = line.at(scale.start), line.at(scale.end)
    strokes = (f"M{x} {y:.2f}l{_WALL} {-_WALL}" for y in np.arange(top + _WALL, bottom + 0.01, 1.2))
    yield _path("".join(strokes), width=0.15)


def _plank(line):
    (x, bottom), (_, top) = line.start, line.end
    box = attributes(x=x, y=top, width=_PLANK, height=bottom - top)
    yield f"<rect {box} {_stroke(fill=style.WOOD, color=style.WOOD_DARK)}/>"


def _floor_line(chart, line):
    marks = chart.floor_marks
    ends = _Line(line.at(marks[0]), line.at(marks[-1]))
    yield _path(_run(ends), width=0.5)
    for side in CHART_SIDES["diameter"]:
        for value, told in side.marks():
            place = np.interp(to_si(value, side.unit), DIAMETERS, marks)
            x, y = line.at(float(place))
            yield _tick(
                "floor_marks", side, value, x, y, f"h{side.way * (_LONG - 0.6 * (not told))}"
            )
            if told:
                away = x + side.way * (_LONG + _GAP)
                yield _beside(side.words(value), away, y, side.way)


def _net(chart):
    metric, inches = CHART_SIDES["diameter"]
    for i, diameter in enumerate(DIAMETERS):
        told = round(1000 * diameter) in metric.told
        yield _net_line("diameter", diameter, chart.net[i], 0.3 if told else 0.15)
        if told:
            x, y = _on_paper(*chart.net[i, 0])
            yield _beside(f"{1000 * diameter:.0f}", x - _GAP, y + 1, -1)
    for j, depth in enumerate(DEPTHS):
        yield _net_line("burn_in_depth", depth, chart.net[:, j], 0.3)
        x, y = _on_paper(*chart.net[-1, j])
        yield _text(f"{1000 * depth:.0f}", x - 0.2, y - 0.9, "middle")
    for value, told in inches.marks():
        if to_si(value, "in") <= DIAMETERS[-1] * 1.02:
            x, y = _on_paper(*chart.net_point(to_si(value, "in"), DEPTHS[-1]))
            yield _tick("net", inches, value, x, y, f"h{_LONG if told else _SHORT}")
            if told:
                yield _beside(inches.words(value), x + _LONG + _GAP, y, 1)
    side = CHART_SIDES["burn_in_depth"][1]
    for value, _ in side.marks():
        x, y = _on_paper(*chart.net_point(DIAMETERS[0], to_si(value, "in")))
        yield _path(f"M{x:.3f} {y:.3f}l1.2 1.6")
        yield _beside(side.words(value), x + 1.6, y + 2.4, 1)


def _net_line(key, value, points, width):
    run = "L".join("{:.3f} {:.3f}".format(*_on_paper(*point)) for point in points)
    return _path(f"M{run}", width=width, data_net=key, data_value=f"{1000 * value:g}")


def _headings(columns, chart):
    top = _TOP - 5.5
    write = partial(_text, anchor="middle", size=_NUMBER)
    for key, name, unit, color in (
        ("power", "Watts", "", None),
        ("bound", "Floor", "seconds", None),
        ("ember", "Ember", "seconds", style.EMBER),
    ):
        x = columns[key].start[0]
        yield write(name, x, top - 3.8, bold=True, color=color, size=_WORD)
        yield write(unit, x, top, quiet=True)
    x, y = columns["floor_marks"].at(chart.floor_marks[-1])
    yield write("Thickness", x + 3, y - 6.6, bold=True)
    yield write("for the floor", x + 3, y - 3)
    _, low = columns["floor_marks"].at(chart.floor_marks[0])
    yield write("mm", x - 5, low + 6, quiet=True)
    yield write("in", x + 5, low + 6, quiet=True)
    x, y = _on_paper(*chart.net[-1, -1])
    yield write("Thickness and wear-off", x - 4, y - 9.2, bold=True)
    yield write("mm left, on top; in right, below", x - 4, y - 5.4, quiet=True)


def _rungs(chart, line):
    top = _TOP - 5.5
    yield _text("How sure? By wear-off", _LADDER, top - 7.6, bold=True)
    for column, depth in enumerate(LADDER_DEPTHS):
        x = _LADDER + (column + 0.5) * _RUNG
        for row, words in enumerate(_both(depth)):
            yield _text(words, x, top + 3.6 * (row - 1), "middle", quiet=row > 0)
        for row, time in enumerate(LADDER_TIMES):
            _, y = line.at(chart.scales["ember"].place(time))
            for band, place in ((chart.all_band, 0), (chart.wood_band, -1)):
                ends = band.low[column, row], band.high[column, row]
                words = band_words(ends).replace(" to ", "–")
                yield from _cell(x, y + place * _CELL, words, dashed=place == 0)
    y = _TOP + _HIGH + 6.5
    for column, words in enumerate(("your wood", "all we do not know")):
        yield from _cell(
            _LADDER + 10 + column * 30, y, words, dashed=column > 0, wide=19 + 15 * column
        )


def _both(depth):
    row = quantity("burn_in_depth")
    return f"{row.shown(depth):g} mm", row.text(depth, US)


def _cell(x, y, words, *, dashed, wide=None):
    wide = wide or _RUNG - 1
    # solid and dashed edges, for letters on a dark ground do not survive every printer
    look = (style.EMBER_PALE, 0.3, "0.9 0.6") if dashed else (style.PAPER, 0.6, None)
    box = attributes(x=f"{x - wide / 2:.3f}", y=f"{y:.3f}", width=wide, height=_CELL)
    yield f"<rect {box} {_stroke(look[0], style.EMBER_BAND, *look[1:])}/>"
    yield _text(words, x, y + 3.1, "middle", size=_SMALL)


# ---- example, and how things are spelled ---------------------------------------------------------


def _example(chart, example, columns):
    """Lay the two rulers of an example."""
    numbers = _numbers(example)
    power = chart.watts(**{key: numbers[key] for key in _ROWS})
    size = {"power": power, "diameter": numbers["diameter"]}
    start = columns["power"].at(chart.scales["power"].place(power))
    ember = chart.ember(**size, depth=numbers["burn_in_depth"])
    floor = chart.floor(**size)
    yield _ruler(start, columns["ember"].at(chart.scales["ember"].place(ember)))
    yield _ruler(start, columns["bound"].at(chart.scales["bound"].place(floor)))


def _ruler(start, end):
    path = "M{:.3f} {:.3f}L{:.3f} {:.3f}".format(*start, *end)
    return _path(path, width=0.35, color=style.YOURS, dash="2 1.2")


def _run(line):
    return "M{:.3f} {:.3f}L{:.3f} {:.3f}".format(*line.start, *line.end)


def _path(path, *, fill="none", color=None, width=0.2, dash=None, **named):
    return f"<path {attributes(d=path, **named)} {_stroke(fill, color, width, dash)}/>"


def _stroke(fill="none", color=None, width=0.2, dash=None):
    look = {"stroke": color or style.INK, "stroke_width": width, "stroke_dasharray": dash}
    return attributes(fill=fill, **look)


def _beside(words, x, y, way, **look):
    """Write right or left of a point, in the middle of its height."""
    size = look.pop("size", _NUMBER)
    anchor = "start" if way > 0 else "end"
    return _text(words, x, y + _CAPITAL * size / 2, anchor, size=size, **look)


def _text(words, x, y, anchor="start", *, size=_NUMBER, bold=False, quiet=False, color=None):
    color = color or (style.QUIET if quiet else None)
    told = attributes(
        x=f"{x:.3f}",
        y=f"{y:.3f}",
        font_size=size,
        text_anchor=anchor,
        font_weight="bold" if bold else None,
        style=f"fill:{color}" if color else None,
    )
    return f"<text {told}>{html.escape(words)}</text>"
