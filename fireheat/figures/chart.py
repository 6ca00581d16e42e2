"""The paper computer as SVG whose unit is the millimetre: scales, net and ladder of the chart."""

from dataclasses import dataclass

import numpy as np

from ..answers.chart import (
    DIAMETERS,
    LADDER_DEPTHS,
    LADDER_TIMES,
    AlignmentChart,
    RulerNet,
    RulerScale,
    chart_layout,
)
from ..answers.evenings_chart import EveningsChart
from ..kit.kit import Try
from ..quantities import US, quantity, to_si, unit_text
from ..words import band_words
from . import style
from .chart_ink import INK_CAPITAL, INK_LETTER, ink_beside, ink_path, ink_stroke, ink_text
from .chart_ticks import CHART_SIDES
from .gauge import in_millimetres
from .kit_picture import attributes

WIDE = 186  # mm
_LEFT, _RIGHT = 24.0, 174.0  # mm: where scales of the first part begin and end
_ROWS = {"force": 6.0, "speed": 26.0, "friction": 56.0}  # mm from the top
_WATTS, _EMBER = 14.0, 116.0  # mm from the left: the two scales of the second part
_TOP, _HIGH = 18.0, 140.0  # mm: where those begin, and how long they are
_LADDER, _RUNG = 128.0, 19.3  # mm: where the ladder begins, and how wide it is
_OVER = 0.02  # by how much of its height a ruler is drawn on over the chart's top
_LETTER = (1.9, 2.7)  # mm: so near, across and down, numbers touch
_PLANK, _WALL = 2.6, 1.6  # mm
_CELL = 4.1  # mm
_WORD, _SMALL = 3.6, 3.0  # mm: sizes of letters
_LONG, _SHORT, _GAP = 2.2, 1.2, 0.7  # mm
_BY = {"burn_in_depth": "wear-off", "diameter": "thickness"}
# Solid and dashed edges, for letters on a dark ground do not survive every printer.
_LOOKS = {  # name and width of its sample, ground, edge, its width and dashes
    "wood": (("your wood", 19), style.PAPER, style.EMBER_BAND, 0.6, None),
    "all": (("all we do not know", 34), style.EMBER_PALE, style.EMBER_BAND, 0.3, "0.9 0.6"),
    "ours": (("your evenings", 26), style.YOURS_PALE, style.YOURS, 0.6, None),
}


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
        ink_path(_run(lines["blank"]), width=0.4, data_scale="blank", color=style.EDGE),
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
            ink_text(name, 0, y, size=INK_LETTER if quiet else _WORD, bold=not quiet, quiet=quiet)
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
        *_example(chart, example, columns),
        *_wall(columns["bound"], chart.scales["bound"]),
        *_plank(columns["ember"]),
        *_net(chart),
        *_floor_line(chart, columns["floor_marks"]),
    ]
    for key in ("power", "bound", "ember"):
        parts += _upright_scale(key, chart.scales[key], columns[key])
    parts += [
        *_heads(columns, ("power", "bound", "ember")),
        *_floor_words(columns["floor_marks"], chart.floor_marks),
        *_net_words(chart),
        *_rungs(
            chart, "burn_in_depth", LADDER_DEPTHS, {"all": chart.all_band, "wood": chart.wood_band}
        ),
    ]
    told = (
        "Upright lines. A ruler from the watts through a net of thickness and wear-off shows the"
        " ember's time; one through the thickness marked for the floor shows the floor. Beside"
        " the ember's line a ladder says how sure each time is."
    )
    return in_millimetres(WIDE, _TOP + _HIGH + 11, parts, told)


def our_ember_chart(chart: EveningsChart, example: Try, power: float) -> str:
    """Draw the same for our own evenings: watts and net give the ember, with its ladder.

    Parameters
    ----------
    chart : EveningsChart
        The chart.
    example : Try
        For which a ruler is drawn, dashed.
    power : float
        What the first part says of it. [W]

    Returns
    -------
    str
        SVG, marked as that of :func:`ember_chart`; where one wear-off stands for all, thicknesses
        are ticks of the scale ``net``.
    """
    columns, values = _columns(), example.values()
    start = chart.scales["power"].place(power)
    across, high = chart.net_point(values["diameter"], values["burn_in_depth"])
    rise = (high - start) / across
    far = min(1.0, (1 + _OVER - start) / rise) if rise > 0 else 1.0
    parts = [
        _ruler(_on_paper(0.0, start), _on_paper(far, start + far * rise)),
        *_plank(columns["ember"]),
        *(_net(chart) if len(chart.depths) > 1 else _net_line_alone(chart)),
    ]
    for key in ("power", "ember"):
        parts += _upright_scale(key, chart.scales[key], columns[key])
    parts += [
        *_heads(columns, ("power", "ember")),
        *_net_words(chart),
        *_rungs(chart, "diameter", chart.thicknesses, {"ours": chart.band}),
    ]
    told = (
        "Upright lines. A ruler from the watts through your thickness shows what your evenings make"
        " most likely. Beside the ember's line a ladder says how sure each time is."
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
    yield ink_path(_run(_Line(*map(line.at, ends))), width=0.4)
    for side in CHART_SIDES[key]:
        for value, told in side.marks():
            x, y = line.at(scale.place(to_si(value, side.unit)))
            yield _tick(key, side, value, x, y, f"v{side.way * (_LONG if told else _SHORT)}")
            if told:
                below = INK_CAPITAL * INK_LETTER if side.way > 0 else 0
                y += side.way * (_LONG + _GAP) + below
                yield ink_text(f"{value:g}", x, y, "middle")
        if unit := unit_text(side.unit):
            yield ink_text(unit, _RIGHT + 5.5, line.start[1] + 3.4 * side.way + 1.2, size=_WORD)


def _upright_scale(key, scale: RulerScale, line):
    run = _Line(line.at(scale.start), line.at(scale.end))
    yield ink_path(_run(run), width=0.9 if key == "bound" else 0.5)
    (side,) = CHART_SIDES[key]
    ember = key == "ember"
    shown = {"color": style.EMBER, "bold": True} if ember else {}
    out = _PLANK if ember else _LONG
    for value, told in side.marks():
        x, y = line.at(scale.place(value))
        yield _tick(key, side, value, x, y, f"h{side.way * (out if told else _SHORT)}")
        if told:
            yield ink_beside(f"{value:g}", x + side.way * (out + _GAP), y, side.way, **shown)


def _tick(key, side, value, x, y, stroke):
    named = {"data_scale": key, "data_unit": side.unit, "data_value": f"{value:.6g}"}
    return ink_path(f"M{x:.3f} {y:.3f}{stroke}", **named)


# ---- floor, net, ladder --------------------------------------------------------------------------


def _wall(line, scale):
    """Draw the floor's line as a wall: hatched where nobody gets."""
    (x, bottom), (_, top) = line.at(scale.start), line.at(scale.end)
    strokes = (f"M{x} {y:.2f}l{_WALL} {-_WALL}" for y in np.arange(top + _WALL, bottom + 0.01, 1.2))
    yield ink_path("".join(strokes), width=0.15)


def _plank(line):
    (x, bottom), (_, top) = line.start, line.end
    box = attributes(x=x, y=top, width=_PLANK, height=bottom - top)
    yield f"<rect {box} {ink_stroke(fill=style.WOOD, color=style.WOOD_DARK)}/>"


def _floor_line(chart, line):
    marks = chart.floor_marks
    yield ink_path(_run(_Line(line.at(marks[0]), line.at(marks[-1]))), width=0.5)
    yield from _thicknesses(
        "floor_marks", lambda wide: line.at(float(np.interp(wide, DIAMETERS, marks)))
    )


def _net_line_alone(chart):
    """Draw the net where one wear-off stands for all: a line of thicknesses."""
    run = "L".join("{:.3f} {:.3f}".format(*_on_paper(*point)) for point in chart.net[:, 0])
    yield ink_path(f"M{run}", width=0.5)
    yield from _thicknesses("net", lambda wide: _on_paper(*chart.net_point(wide, chart.depths[0])))


def _thicknesses(key, at):
    """Mark thicknesses on a line, in millimetres on its left and in inches on its right."""
    for side in CHART_SIDES["diameter"]:
        for value, told in side.marks():
            x, y = at(to_si(value, side.unit))
            yield _tick(key, side, value, x, y, f"h{side.way * (_LONG - 0.6 * (not told))}")
            if told:
                away = x + side.way * (_LONG + _GAP)
                yield ink_beside(side.words(value), away, y, side.way)


def _net(chart: RulerNet):
    metric, inches = CHART_SIDES["diameter"]
    for i, diameter in enumerate(chart.diameters):
        told = round(1000 * diameter) in metric.told
        yield _net_line("diameter", diameter, chart.net[i], 0.3 if told else 0.15)
        if told:
            x, y = _on_paper(*chart.net[i, 0])
            yield ink_beside(f"{1000 * diameter:.0f}", x - _GAP, y + 1, -1)
    above = [_on_paper(*point) for point in chart.net[-1]]
    for j, depth in enumerate(chart.depths):
        yield _net_line("burn_in_depth", depth, chart.net[:, j], 0.3)
        if j in _roomy(above):
            x, y = above[j]
            yield ink_text(f"{1000 * depth:.0f}", x + 0.4, y - 1.3, "middle")
    for value, told in inches.marks():
        if to_si(value, "in") <= chart.diameters[-1] * 1.02:
            x, y = _on_paper(*chart.net_point(to_si(value, "in"), chart.depths[-1]))
            yield _tick("net", inches, value, x, y, f"h{_LONG if told else _SHORT}")
            if told:
                yield ink_beside(inches.words(value), x + _LONG + _GAP, y, 1)
    side = CHART_SIDES["burn_in_depth"][1]
    for value, _ in side.marks():
        x, y = _on_paper(*chart.net_point(chart.diameters[0], to_si(value, "in")))
        yield ink_path(f"M{x:.3f} {y:.3f}l1.2 1.6")
        yield ink_beside(side.words(value), x + 1.6, y + 2.4, 1)


def _roomy(points):
    """Tell which of five points find room for a number, the ends first."""
    kept: list[int] = []
    for j in (0, 4, 2, 1, 3):
        near = (np.abs(np.subtract(points[j], points[other])) < _LETTER for other in kept)
        if not any(map(all, near)):
            kept.append(j)
    return kept


def _net_line(key, value, points, width):
    run = "L".join("{:.3f} {:.3f}".format(*_on_paper(*point)) for point in points)
    return ink_path(f"M{run}", width=width, data_net=key, data_value=f"{1000 * value:g}")


def _heads(columns, keys):
    top = _TOP - 5.5
    for key, name, unit, color in (
        ("power", "Watts", "", None),
        ("bound", "Floor", "seconds", None),
        ("ember", "Ember", "seconds", style.EMBER),
    ):
        if key in keys:
            x = columns[key].start[0]
            yield ink_text(name, x, top - 3.8, "middle", bold=True, color=color, size=_WORD)
            yield ink_text(unit, x, top, "middle", quiet=True)


def _floor_words(line, marks):
    x, y = line.at(marks[-1])
    yield ink_text("Thickness", x + 3, y - 6.6, "middle", bold=True)
    yield ink_text("for the floor", x + 3, y - 3, "middle")
    yield from _units_below(*line.at(marks[0]))


def _units_below(x, y):
    for words, away in (("mm", -5), ("in", 5)):
        yield ink_text(words, x + away, y + 6, "middle", quiet=True)


def _net_words(chart):
    x, y = _on_paper(*chart.net[-1, -1])
    if len(chart.depths) > 1:
        yield ink_text("Thickness and wear-off", x - 4, y - 9.2, "middle", bold=True)
        yield ink_text("mm left, on top; in right, below", x - 4, y - 5.4, "middle", quiet=True)
    else:
        yield ink_text("Thickness", x, y - 5.4, "middle", bold=True)
        yield from _units_below(*_on_paper(*chart.net[0, 0]))


def _rungs(chart, key, heads, bands):
    """Stand the bands beside the ember's line, a column a head, one below the other."""
    top, line = _TOP - 5.5, _columns()["ember"]
    yield ink_text(f"How sure? By {_BY[key]}", _LADDER, top - 7.6, bold=True)
    for column, head in enumerate(heads):
        x = _LADDER + (column + 0.5) * _RUNG
        for row, words in enumerate(_both(key, head)):
            yield ink_text(words, x, top + 3.6 * (row - 1), "middle", quiet=row > 0)
        for row, time in enumerate(LADDER_TIMES):
            _, y = line.at(chart.scales["ember"].place(time))
            for place, (look, band) in enumerate(bands.items()):
                ends = band.low[column, row], band.high[column, row]
                words = band_words(ends).replace(" to ", "–")
                yield from _cell(x, y - (place + 0.5 * (len(bands) < 2)) * _CELL, words, look)
    x = _LADDER + 0.5
    for look in reversed(bands):
        words, wide = _LOOKS[look][0]
        yield from _cell(x + wide / 2, _TOP + _HIGH + 6.5, words, look, wide=wide)
        x += wide + 3.5


def _both(key, value):
    row = quantity(key)
    return f"{row.shown(value):g} mm", row.text(value, US)


def _cell(x, y, words, look, *, wide=_RUNG - 1):
    _, fill, color, width, dash = _LOOKS[look]
    box = attributes(x=f"{x - wide / 2:.3f}", y=f"{y:.3f}", width=wide, height=_CELL)
    yield f"<rect {box} {ink_stroke(fill, color, width, dash)}/>"
    yield ink_text(words, x, y + 3.1, "middle", size=_SMALL)


# ---- example, and how things are spelled ---------------------------------------------------------


def _example(chart, example, columns):
    """Lay the two rulers of an example."""
    numbers = _numbers(example)
    power = chart.watts(**{key: numbers[key] for key in _ROWS})
    size = {"power": power, "diameter": numbers["diameter"]}
    start = columns["power"].at(chart.scales["power"].place(power))
    ember = chart.ember(**size, depth=numbers["burn_in_depth"])
    yield _ruler(start, columns["ember"].at(chart.scales["ember"].place(ember)))
    yield _ruler(start, columns["bound"].at(chart.scales["bound"].place(chart.floor(**size))))


def _ruler(start, end):
    return ink_path(_run(_Line(start, end)), width=0.35, color=style.YOURS, dash="2 1.2")


def _run(line):
    return "M{:.3f} {:.3f}L{:.3f} {:.3f}".format(*line.start, *line.end)
