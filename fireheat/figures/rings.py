"""The tip from below, shaded by its heat, beside a bar for each ring that adds up to the whole."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from matplotlib.colors import to_rgb

from ..answers.rings import Cut
from ..quantities import METRIC, quantity, unit_text
from ..words import number_words, percent_words
from . import style
from .field import read_key
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 336
_DISC = 8, 30, 240  # left, top and size of the square that holds the widest tip, in pixels
_KEY = 16, 290, 232, 302  # the colour key
_CHART = 366, 40, 686, 280  # left, top, right, bottom of the bars
_TOTAL = 708, 748  # left and right of the bar in which they are piled up
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
        size = _DISC[2]
        middle = np.arange(size) - (size - 1) / 2
        self.from_axis = np.hypot(middle, middle[:, np.newaxis])
        self.turned = np.arctan2(middle[:, np.newaxis], middle)
        self.scale = (size - 4) / quantity("diameter").slider[1]  # pixels a metre
        left, top, right, bottom = _KEY
        shades = style.HEAT[np.linspace(0, 255, right - left).astype(int)]
        self.shades = np.repeat(shades[np.newaxis], bottom - top, axis=0)
        half = quantity("diameter").shown(size / 2 / self.scale, system)
        box = (_DISC[0], _DISC[1], _DISC[0] + size, _DISC[1] + size)
        self.disc = Frame(self, box, Scale(-half, half), Scale(-half, half))
        self.key = Frame(self, _KEY, Scale(*_FLUX, factors=True))
        self.chart = Frame(self, _CHART)

    def update(self, here: Tip, pinned: Tip | None, shown: str) -> str:
        """Move to new numbers and return the sentence that says what is shown."""
        self.clear()
        self._disc(here, pinned)
        self._colour_key()
        values, whole = here.values(shown, self.system)
        then = pinned.values(shown, self.system) if pinned else None
        tops = [whole, values.max(), *([then[1], then[0].max()] if then else [])]
        self._frame(shown, _round_top(max(tops)))
        draw = self._pile if shown in _PILED else self._levels
        draw(values, whole, self._colours(here))
        if then:
            self._pin(*then, piled=shown in _PILED)
        return self.sentence(here, pinned, shown)

    # ---- the disc -----------------------------------------------------------------------------

    def _colours(self, tip):
        low, high = np.log10(_FLUX)
        with np.errstate(divide="ignore"):
            flux = np.log10(tip.values("flux", self.system)[0])
        share = np.clip((flux - low) / (high - low), 0, 1)
        return style.HEAT[(share * 255).astype(int)]

    def _disc(self, here, pinned):
        edges = here.rings.edges * self.scale
        out, width = self.from_axis, edges[1] - edges[0]
        ring = np.minimum((out / width).astype(int), len(edges) - 2)
        pixels = self._colours(here)[ring]
        gap = np.abs(out - width * np.round(out / width))
        line = np.clip(1.2 - gap, 0, 0.7)[..., np.newaxis]
        pixels = pixels * (1 - line) + style.rgb("PAPER") * line
        self._circle(pixels, edges[-1], style.INK, inside_only=True)
        if pinned:
            dashes = np.sin(self.turned * 24) > -0.2
            self._circle(pixels, pinned.rings.edges[-1] * self.scale, style.EDGE, dashes)
        left, top, size = _DISC
        self.paste(pixels, left, top, name="disc", frame=self.disc)
        self.write("the tip from below", left + size / 2, 14, align="center")

    def _circle(self, pixels, radius, color, where=True, *, inside_only=False):
        """Draw a circle; leave only paper outside it if asked."""
        if inside_only:
            paper = np.clip(self.from_axis - radius + 0.5, 0, 1)[..., np.newaxis]
            pixels[:] = pixels * (1 - paper) + style.rgb("PAPER") * paper
        cover = np.clip(1.6 - np.abs(self.from_axis - radius), 0, 1) * where
        ink = np.array(to_rgb(color)) * 255
        pixels[:] = pixels + (ink - pixels) * cover[..., np.newaxis]

    def _colour_key(self):
        left, top, right, bottom = _KEY
        self.paste(self.shades, left, top, name="key", frame=self.key)
        low, high = np.log10(_FLUX)
        for power in range(int(low), int(high) + 1):
            at = self.key.across(10.0**power)
            self.write(f"{10**power:g}", at, bottom + 14, align="center")
        self.write(_unit("flux", self.system), right + 10, (top + bottom) / 2)

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
        bottom, base = _CHART[3], 0.0
        columns = self._columns(len(values))
        for number, (left, right) in enumerate(columns):
            value, colour = values[number], colours[number] / 255
            low, high = self.chart.down(base), self.chart.down(base + value)
            self.chart.fill(f"below ring {number}", left, low, right - 1, bottom, style.RULE)
            self._block(f"ring {number}", left, high, right - 1, low, colour)
            self._block(f"total, ring {number}", _TOTAL[0], high, _TOTAL[1], low, colour)
            if len(values) <= 8 and value / (whole or 1) > 0.005:
                share = percent_words(value / whole)
                self.write(share, right - 4, high - 11, align="right")  # the next bar is higher
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

    def _pin(self, values, whole, *, piled):
        """Mark the pinned rings by lines at the height of their bars."""
        heights = np.cumsum(values) if piled else values
        fill, color = self.chart.fill, style.INK
        for number, (left, right) in enumerate(self._columns(len(values))):
            y = self.chart.down(heights[number])
            fill(f"pinned ring {number}", left, y - 1.5, right, y + 1.5, color)
        if piled:
            y = self.chart.down(whole)
            fill("pinned total", _TOTAL[0] - 6, y - 1.5, _TOTAL[1] + 6, y + 1.5, color)
        self.write("◆", _TOTAL[1] + 10 if piled else _CHART[2] + 4, y, color=style.INK)

    def drawn(self):
        """Say what is drawn, and the heat per area that the disc's colours stand for."""
        found = super().drawn()
        share = read_key(found["disc"].color, self.shades[0])
        found["disc, flux"] = found["disc"]._replace(color=self.key.x.value(share))
        return found

    # ---- words ----------------------------------------------------------------------------------

    def sentence(self, here: Tip, pinned: Tip | None, shown: str) -> str:
        """Say in words what the picture shows."""
        words = self._say(here, shown)
        return words if pinned is None else f"{words} Before: {self._say(pinned, shown)}"

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
