"""The tip from below, shaded by its heat, beside a bar for each ring that adds up to the whole."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from matplotlib.patches import Circle

from ..answers.rings import Cut
from ..quantities import METRIC, US, quantity, unit_text
from ..words import number_words, percent_words
from . import style
from .marks import BEFORE_LINE
from .patterns import dashes
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 426
_DISC = 8, 34, 328, 354  # left, top, right, bottom of the square that holds the tip, in pixels
_SPANS = (0.009, 0.013, 0.02, 0.036)  # how wide that square may be, in metres
_BARS = {METRIC: ((0.005, "5 mm"), (0.01, "10 mm")), US: ((0.00635, "1/4 in"), (0.0127, "1/2 in"))}
_MOST = 16  # rings
_KEY = 8, 376, 328, 390  # the colour key
_CHART = 404, 44, 652, 354  # left, top, right, bottom of the bars
_TOTAL = 668, 708  # left and right of the bar in which they are piled up
_FLUX = 1.0, 1000.0  # ends of the colour key, in kW/m^2 or W/in^2
SHOWN = {
    "torque": "torque",
    "force": "force carried",
    "power": "heat made",
    "flux": "heat per area",
    "pressure": "pressure",
}
_PILED = ("torque", "force", "power")  # what adds up over rings; the others are levels


@dataclass(frozen=True)
class Tip:
    """A tip cut into rings, and what it is called.

    Attributes
    ----------
    rings : Cut
        The rings.
    name : str
        Such as ``"worn-in tip"``.
    """

    rings: Cut
    name: str

    def values(self, shown: str, system: str):
        """Values of the rings as a reader sees them, and their total or mean."""
        rings, row = self.rings, quantity(shown)
        values = getattr(rings, shown)
        whole = values.sum() if shown in _PILED else np.average(values, weights=rings.area)
        return row.shown(values, system), float(row.shown(whole, system))


def _unit(shown, system):
    return unit_text(quantity(shown).shown_unit(system))


def _round_top(value):
    """Next of 1, 1.5, 2, 3, 5, 7 times a power of ten, with room above the value for letters."""
    value = value * 1.12 or 1.0
    power = 10.0 ** np.floor(np.log10(value))
    return next(step * power for step in (1, 1.5, 2, 3, 5, 7, 10) if step * power >= value)


def _share(part):
    """Per cent, with little not called nothing."""
    return "under 1 %" if 0 < part < 0.005 else percent_words(part)


class RingPicture(Sketch):
    """The disc and the bars.

    Parameters
    ----------
    system : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, system: str = METRIC):
        super().__init__(_WIDTH, _HEIGHT)
        self.system = system
        left, top, right, bottom = _KEY
        shades = style.HEAT[np.linspace(0, 255, right - left).astype(int)]
        self.shades = np.repeat(shades[np.newaxis], bottom - top, axis=0)
        self.disc = Frame(self, _DISC, Scale(-1, 1), Scale(-1, 1))
        self.key = Frame(self, _KEY, Scale(*_FLUX, factors=True))
        self.chart = Frame(self, _CHART)
        with style.look():
            self._moving_part()

    def _moving_part(self):
        axes = self.disc.draw_axes()
        axes.set_axis_off()
        circle: Any = {"xy": (0, 0), "radius": 1, "clip_on": False}
        edge: Any = {"ec": style.PAPER, "lw": 1, **circle}
        names = [f"disc, ring {number}" for number in range(_MOST)]
        circles = [Circle(label=name, **edge) for name in names]
        self.rings = [self.add(axes.add_patch(ring)) for ring in circles[::-1]][::-1]
        rim: Any = {"fill": False, "ec": style.INK, "lw": 2, **circle}
        self.rim = self.add(axes.add_patch(Circle(label="rim", **rim)))
        rim |= {"ls": BEFORE_LINE, "label": "rim before"}
        self.rim_before = self.add(axes.add_patch(Circle(**rim)))
        turn: Any = {"color": style.INK, "clip_on": False, "lw": 2.5}
        self.turn = self.add(axes.plot([], [], label="turning", **turn)[0])
        head: Any = {"marker": (3, 0, 0), "ms": 11, "label": "turning, head", **turn}
        self.head = self.add(axes.plot([], [], **head)[0])

    def update(self, here: Tip, before: Tip | None, shown: str) -> str:
        """Move to new numbers and return the sentence that says what is shown."""
        self.clear()
        self._disc(here, before)
        self._colour_key()
        values, whole = here.values(shown, self.system)
        then = before.values(shown, self.system) if before else None
        tops = [whole, values.max(), *([then[1], then[0].max()] if then else [])]
        self._frame(shown, _round_top(max(tops)))
        draw = self._pile if shown in _PILED else self._levels
        draw(values, whole, self._colours(here))
        if then:
            self._keep(*then, piled=shown in _PILED)
        return self.sentence(here, before, shown)

    # ---- the disc -----------------------------------------------------------------------------

    def _colours(self, tip):
        low, high = np.log10(_FLUX)
        with np.errstate(divide="ignore"):
            flux = np.log10(tip.values("flux", self.system)[0])
        share = np.clip((flux - low) / (high - low), 0, 1)
        return style.HEAT[(share * 255).astype(int)]

    def _disc(self, here, before):
        """Draw rings one on another, the widest first, so large that the tip fills the square."""
        edges = [self._wide(edge) for edge in here.rings.edges]
        widest = max(here.rings.edges[-1], before.rings.edges[-1] if before else 0.0)
        span = next((span for span in _SPANS if 2 * widest <= 0.94 * span), _SPANS[-1])
        half = self._wide(span / 2)
        self.disc.rescale(Scale(-half, half), Scale(-half, half))
        colours = self._colours(here) / 255
        for number, ring in enumerate(self.rings):
            ring.set_visible(number < len(colours))
            if number < len(colours):
                ring.set(radius=edges[number + 1], facecolor=colours[number])
        self.rim.set_radius(edges[-1])
        self.rim_before.set_visible(before is not None)
        if before is not None:
            self.rim_before.set_radius(self._wide(before.rings.edges[-1]))
        self._turning(edges[-1] + 0.03 * half)
        self.write("the tip from below", (_DISC[0] + _DISC[2]) / 2, 14, align="center")
        self._length_bar(span)

    def _wide(self, metres):
        """Measure a length in the unit along the disc."""
        return float(quantity("diameter").shown(metres, self.system))

    def _turning(self, radius):
        """Lay an arrow round the rim, the way the tip turns."""
        turn = np.radians(np.linspace(75, 35, 20))
        self.turn.set_data(radius * np.cos(turn), radius * np.sin(turn))
        self.head.set_data([radius * np.cos(turn[-1])], [radius * np.sin(turn[-1])])
        self.head.set_marker((3, 0, np.degrees(turn[-1]) + 180))

    def _length_bar(self, span):
        """Say by a bar in the corner how long things are."""
        length, words = _BARS[self.system][span > _SPANS[1]]
        x, y = _DISC[0] + 2, _DISC[3] - 4
        end = x + length / span * (_DISC[2] - _DISC[0])
        self.disc.fill(words, x, y - 1, end, y + 2, style.INK)
        self.write(words, x, y - 14)

    def _colour_key(self):
        left, top, right, bottom = _KEY
        self.paste(self.shades, left, top, name="key", frame=self.key)
        low, high = np.log10(_FLUX)
        for power in range(int(low), int(high) + 1):
            at = self.key.across(10.0**power)
            self.write(f"{10**power:g}", at, bottom + 14, align="center")
        self.write(f"heat per area, {_unit('flux', self.system)}", right + 36, bottom + 14)

    # ---- the bars -------------------------------------------------------------------------------

    def _frame(self, shown, top_value):
        left, _, right, bottom = _CHART
        self.chart.rescale(y=Scale(0.0, top_value))
        for value in (0.0, top_value / 2, top_value):
            y, words = self.chart.down(value), number_words(value)
            end = _TOTAL[1] if shown in _PILED else right
            color = style.INK if value == 0 else style.RULE
            self.chart.fill(words, left - 6, y, end, y + 1, color)
            self.write(words, left - 10, y, align="right")
        so_far = ", added up ring by ring" if shown in _PILED else ", on each ring"
        title = f"{SHOWN[shown]} in {_unit(shown, self.system)}{so_far}"
        self.write(title[0].upper() + title[1:], left, 14)
        self.write("middle", left, bottom + 16)
        self.write("rim", right, bottom + 16, align="right")

    def _columns(self, count):
        left, _, right, _ = _CHART
        edges = np.linspace(left, right, count + 1)
        return list(pairwise(edges))

    def _pile(self, values, whole, colours):
        """Let each ring's bar start where the last one ended."""
        bottom, base, written = _CHART[3], 0.0, (0.0, _HEIGHT)
        columns = self._columns(len(values))
        for number, (left, right) in enumerate(columns):
            value, colour = values[number], colours[number] / 255
            low, high = self.chart.down(base), self.chart.down(base + value)
            self.chart.fill(f"below ring {number}", left, low, right - 1, bottom, style.RULE)
            self._block(f"ring {number}", left, high, right - 1, low, colour)
            self._block(f"total, ring {number}", _TOTAL[0], high, _TOTAL[1], low, colour)
            if len(values) <= 8 and value / (whole or 1) > 0.005:
                share, end = percent_words(value / whole), right - 2  # the next bar is higher
                if end - self.width(share) > written[0] or high < written[1] - 20:
                    self.write(share, end, high - 11, align="right")
                    written = end, high
            base += value
        middle = sum(_TOTAL) / 2
        self.write("total", middle, bottom + 16, align="center")
        self.write(number_words(whole), middle, self.chart.down(whole) - 11, align="center")

    def _levels(self, values, whole, colours):
        """Let each ring's bar stand on the ground; mark the mean over the tip's area."""
        bottom = _CHART[3]
        for number, (left, right) in enumerate(self._columns(len(values))):
            top, colour = self.chart.down(values[number]), colours[number] / 255
            self._block(f"ring {number}", left, top, right - 1, bottom, colour)
        y = self.chart.down(whole)
        self.chart.fill("mean", _CHART[0], y - 1, _TOTAL[0], y + 1, style.INK)
        self.write(f"mean\n{number_words(whole)}", _TOTAL[0] + 4, y)

    def _block(self, name, left, top, right, bottom, colour):
        """Fill a bar, edged so that the palest can be seen."""
        edge = 1 if bottom - top > 5 else 0
        if edge:
            self.chart.fill(f"edge of {name}", left, top, right, bottom, style.INK)
        ends = left + edge, top + edge, right - edge, bottom - edge
        self.chart.fill(name, *ends, colour)

    def _keep(self, values, whole, *, piled):
        """Mark the rings of before by dashes at the height of their bars."""
        heights = np.cumsum(values) if piled else values
        for number, (left, right) in enumerate(self._columns(len(values))):
            self._dashes(f"before, ring {number}", left, right, heights[number])
        if piled:
            self._dashes("before, total", _TOTAL[0] - 6, _TOTAL[1] + 6, whole)
        y = self.chart.down(whole if piled else values[-1])
        x = _TOTAL[1] + 12 if piled else _CHART[2] + 6
        self.write_free("before", [(x, y + up, "left") for up in (0, 24, -24, 48, -48)])

    def _dashes(self, name, left, right, value):
        y = self.chart.down(value)
        self.chart.fill(name, left, y - 1.5, right, y + 1.5, style.INK, dashes(5, 3))

    # ---- words ----------------------------------------------------------------------------------

    def sentence(self, here: Tip, before: Tip | None, shown: str) -> str:
        """Say in words what the picture shows."""
        words = self._say(here, shown)
        return words if before is None else f"{words} Before: {self._say(before, shown)}"

    def _say(self, tip, shown):
        unit = _unit(shown, self.system)
        values, whole = tip.values(shown, self.system)
        name = f"{tip.name[0].upper()}{tip.name[1:]} in {len(values)} rings"
        if shown not in _PILED:
            ends = [number_words(value) for value in (values[0], values[-1])]
            if ends[0] == ends[1]:
                return f"{name}: {SHOWN[shown]} is {ends[0]} {unit} on every ring."
            return (
                f"{name}: {SHOWN[shown]} goes from {ends[0]} {unit} in the middle to {ends[1]} "
                f"{unit} at the rim, {number_words(whole)} {unit} on average."
            )
        if not whole:
            return f"{name}: no {SHOWN[shown]}."
        first, last = (_share(value / whole) for value in (values[0], values[-1]))
        return (
            f"{name}: {SHOWN[shown]} {number_words(whole)} {unit} altogether, of which the "
            f"innermost ring has {first} and the outermost {last}."
        )
