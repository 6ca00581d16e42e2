"""A bow pulled through a scale, and the watts that it tells: at the tip, in the block, how sure."""

from collections.abc import Iterable
from typing import Any

import numpy as np
from matplotlib.patches import FancyBboxPatch, Polygon

from ..answers.watts import Gauges, Pulling
from ..bands import Band
from ..quantities import METRIC, quantity
from ..words import number_words, range_words
from . import style
from .lane import page
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 436
_MIDDLE, _TOP, _TIP, _CORD = 250, 84, 196, 138  # of the spindle, and where the cord runs
_PER_METRE = 1700.0  # pixels: the spindle is drawn to scale
_HAND, _LONGEST = 618, 160  # where the pull's arrow begins, and how long it may be, in pixels
_HARDEST, _HEAVIEST = 50.0, 200.0  # newtons of the longest arrows
_LEFT, _RIGHT, _AXIS = 172, 764, 396  # the scale of watts
_ARM, _PULL, _SMOKE = 276, 322, 364  # its rows
_ENDS = (10.0, 20.0, 40.0, 80.0, 160.0, 400.0, 1000.0, 2000.0, 5000.0)  # watts at its right end
_STEPS = 4
_DASH: Any = (0, (4, 2.5))
_BAR, _PALE = 14, 10  # half heights


def watts_end(watts: Iterable[float]) -> float:
    """Choose the right end of the scale of watts; it moves in few steps.

    Parameters
    ----------
    watts : iterable of float
        What should stand on it. [W]

    Returns
    -------
    float
        The end; what is beyond the last stands there. [W]

    References
    ----------
    .. [1] Round numbers; no source.

    Examples
    --------
    >>> watts_end([13.5, 11.8]), watts_end([1e6])
    (20.0, 5000.0)
    """
    most = max(watts)
    return next((end for end in _ENDS if end >= most), _ENDS[-1])


class WattsPicture(Sketch):
    """Bow, cord, scale and block with their forces, and two gauges of the watts on one scale."""

    def __init__(self):
        super().__init__(_WIDTH, _HEIGHT)
        self.frame = Frame(self, (_LEFT, _ARM - 24, _RIGHT, _AXIS), Scale(0.0, _ENDS[0]))
        with style.look():
            self._draw_still(page(self))
            self._draw_moving(page(self))

    def _draw_still(self, axes):
        ground: Any = {"color": style.EDGE, "lw": 1.5}
        axes.plot([90, 410], [_TIP + 26] * 2, **ground)
        round_: Any = {"solid_capstyle": "round"}
        along = np.linspace(-1, 1, 60)
        bow = _CORD - 62 * (1 - along**2)
        axes.plot(275 + 205 * along, bow, color=style.WOOD_DARK, lw=9, zorder=0, **round_)
        for left, right in ((70, _MIDDLE), (_MIDDLE, 480)):
            axes.plot([left, right], [_CORD, _CORD], color=style.INK, lw=2.2)
        axes.add_patch(_box(140, _TIP + 4, 220, 22, style.WOOD_MID, style.WOOD_DARK))
        axes.plot([480, 508], [_CORD, _CORD], color=style.EDGE, lw=3.5, **round_)
        axes.plot([596, _HAND - 6], [_CORD, _CORD], color=style.EDGE, lw=3.5, **round_)
        axes.add_patch(_box(508, _CORD - 24, 88, 48, style.PAPER, style.EDGE, corner=6))
        axes.plot([_LEFT, _RIGHT], [_AXIS, _AXIS], color=style.EDGE, lw=1.2)

    def _draw_moving(self, axes):
        self._shapes: dict[str, Any] = {}
        wood: Any = {"fc": style.SPINDLE, "ec": style.WOOD_DARK, "lw": 1.2}
        yours: Any = {"fc": style.YOURS, "ec": style.YOURS, "lw": 0}
        pale: Any = {"fc": style.EMBER_PALE, "ec": style.EMBER_BAND, "ls": _DASH, "lw": 1.2}
        grey: Any = {"fc": style.PAPER, "ec": style.INK, "ls": _DASH, "lw": 1.6}
        looks = {
            "block": {"fc": style.WOOD_MID, "ec": style.WOOD_DARK, "lw": 1.2},
            "spindle": wood,
            "pull": yours,
            "force": yours,
            "before": grey,
            "by the pull": pale,
            "by first smoke": pale,
        }
        tip = {"fc": style.EMBER_BAND, "ec": style.EMBER, "lw": 1.2}
        self._shapes["tip"] = self.add(axes.add_patch(Polygon(_NONE, label="tip", **tip)))
        for name, look in looks.items():
            self._shapes[name] = self.add(axes.add_patch(Polygon(_NONE, label=name, **look)))
        ring: Any = {"marker": "o", "ls": "", "ms": 15, "mec": style.PAPER, "mew": 2.2}
        for name in ("by the pull, likely", "by first smoke, likely"):
            dot = axes.plot([], [], color=style.EMBER, label=name, **ring)[0]
            self._shapes[name] = self.add(dot)
        turns: Any = {"color": style.INK, "lw": 2.2, "label": "cord round the spindle"}
        self._shapes["cord"] = self.add(axes.plot([], [], **turns)[0])

    def update(
        self,
        pulling: Pulling,
        found: Gauges,
        before: Gauges | None = None,
        system: str = METRIC,
    ) -> str:
        """Move to new readings and return the sentence that says what is shown."""
        self.clear()
        self._kit(pulling)
        self._forces(pulling, system)
        self._watts(found, before)
        return self.sentence(pulling, found, before, system)

    def _kit(self, pulling):
        half, top = _PER_METRE * pulling.diameter / 2, _PER_METRE * pulling.block_radius
        left, right = _MIDDLE - half, _MIDDLE + half
        point = [(_MIDDLE - top, _TOP), (_MIDDLE + top, _TOP), (right, _TOP + 14), (right, _TIP)]
        self._shapes["spindle"].set_xy([*point, (left, _TIP), (left, _TOP + 14)])
        self._shapes["block"].set_xy(_rectangle(_MIDDLE - 44, _TOP - 22, _MIDDLE + 44, _TOP + 4))
        self._shapes["tip"].set_xy(_rectangle(left - 3, _TIP - 1, right + 3, _TIP + 9))
        zigzag = np.array([(left, 0), (right, -7), (left, -7), (right, 0)])
        self._shapes["cord"].set_data(zigzag[:, 0], _CORD + 3.5 + zigzag[:, 1])

    def _forces(self, pulling, system):
        row = quantity("scale_pull")
        length = 26 + (_LONGEST - 26) * min(pulling.scale_pull / _HARDEST, 1.0)
        self._shapes["pull"].set_xy(_arrow((_HAND, _CORD), (length, 0)))
        self.write(row.text(pulling.scale_pull, system), 552, _CORD, align="center")
        self.write("luggage scale", 552, _CORD - 40, color=style.QUIET, align="center")
        words = f"{quantity('pull').text(pulling.scale_pull, system)} pull"
        self.write(words, _HAND, _CORD + 30, color=style.YOURS, weight="bold")
        press = 14 + 30 * min(pulling.force / _HEAVIEST, 1.0)
        self._shapes["force"].set_xy(_arrow((_MIDDLE, _TOP - 26 - press), (0, press)))
        down = quantity("force").text(pulling.force, system)
        self.write(f"{down} down", _MIDDLE + 20, _TOP - 50, color=style.YOURS, weight="bold")
        self.write("bearing block", _MIDDLE - 54, _TOP - 9, color=style.QUIET, align="right")
        self.write("tip", _MIDDLE - 118, _TIP - 12, color=style.QUIET)

    def _watts(self, found, before):
        tip, arm = found.power.value, found.power.value + found.block
        bands = [band for band in (found.band, found.hot_power) if band]
        if before is not None:
            bands.append(before.band)
        end = watts_end([arm, *(band.high for band in bands)])
        self.frame.rescale(x=Scale(0.0, end))
        self._axis(end)
        fill, across = self.frame.fill, self._across
        fill("tip's watts", _LEFT, _ARM - _BAR, across(tip), _ARM + _BAR, style.EMBER_BAND)
        fill("block's watts", across(tip), _ARM - _BAR, across(arm), _ARM + _BAR, style.EDGE)
        self._share_words(found, across(tip), across(arm))
        self._row("your arm gives", _ARM)
        self._row("by the pull", _PULL)
        self._row("by first smoke", _SMOKE)
        self._gauge("by the pull", found.band, _PULL)
        self._gauge("by first smoke", found.hot_power, _SMOKE)
        if found.hot_power is None:
            self.write("not timed", _LEFT + 8, _SMOKE, color=style.QUIET)
        shape = self._shapes["before"]
        shape.set_visible(before is not None)
        if before is not None:
            low, high = map(self._across, before.band.ends)
            shape.set_xy(_rectangle(low, _PULL - _BAR - 3, high, _PULL + _BAR + 3))

    def _share_words(self, found, tip, arm):
        """Write the watts of the tip in their bar, and of the block behind it."""
        words = f"tip {watt_words(found.power.value)}"
        if tip - _LEFT > self.width(words) + 12:
            self.write(words, _LEFT + 8, _ARM, color=style.color("CHAR"))
            words = f"block {watt_words(found.block)}"
        else:
            words += f", block {watt_words(found.block)}"
        self.write(words, arm + 8, _ARM)

    def _row(self, words, y):
        self.write(words, _LEFT - 10, y, align="right")

    def _gauge(self, name, band: Band | None, y):
        bar, dot = self._shapes[name], self._shapes[f"{name}, likely"]
        for part in (bar, dot):
            part.set_visible(band is not None)
        if band is not None:
            low, likely, high = map(self._across, band)
            bar.set_xy(_rectangle(low, y - _PALE, high, y + _PALE))
            dot.set_data([likely], [y])

    def _axis(self, end):
        for number in range(_STEPS + 1):
            watts = end * number / _STEPS
            x = self.frame.across(watts)
            self.frame.fill(f"{watts:g} W", x - 1, _AXIS, x + 1, _AXIS + 7, style.EDGE)
            words = f"{watts:g} W" if number else "0"
            self.write(words, x, _AXIS + 22, align="center")

    def _across(self, watts):
        """Place on the scale, in pixels; what is beyond it stands at its end."""
        return float(self.frame.across(min(watts, self.frame.x.high)))

    def sentence(
        self, pulling: Pulling, found: Gauges, before: Gauges | None = None, system: str = METRIC
    ) -> str:
        """Say in words what the picture shows."""
        force = quantity("force").text(pulling.force, system)
        pull = quantity("scale_pull").text(pulling.scale_pull, system)
        words = f"The scale shows {pull} while {force} press down: "
        if found.power.value:
            words += (
                f"{range_words(found.band)} W at the tip, most likely"
                f" {watt_words(found.power.value)}, and {watt_words(found.block)} more in the"
                " bearing block."
            )
        else:
            words += "the bearing block alone would take all that pull."
        if found.hot_power is not None:
            words += f" First smoke tells {range_words(found.hot_power)} W."
            words += f" {VERDICTS[found.verdict]}".rstrip()
        if before is not None:
            words += f" Before: {range_words(before.band)} W."
        return words


VERDICTS = {
    "alone": "",
    "agree": "The two gauges agree.",
    "less": "Hot wood made fewer watts than the cold pull tells: it may grip less, or the cord"
    " creeps.",
    "more": "Hot wood made more watts than the cold pull tells: it may grip better.",
    "apart": "The two gauges are further apart than hot wood explains: measure both again.",
}
_NONE = np.zeros((3, 2))


def watt_words(power: float) -> str:
    """Spell watts so that those of tip and block add up to those of the arm.

    Examples
    --------
    >>> watt_words(10.5), watt_words(3.0), watt_words(123.4)
    ('10.5 W', '3.0 W', '120 W')
    """
    return f"{power:.1f} W" if power < 100 else f"{number_words(power)} W"


def _rectangle(left, top, right, bottom):
    return [(left, top), (right, top), (right, bottom), (left, bottom)]


def _arrow(start, along):
    """Corners of an arrow from a place, so long and that way, in pixels."""
    start, along = np.array(start, float), np.array(along, float)
    length = np.hypot(*along)
    ahead = along / length
    side = np.array([-ahead[1], ahead[0]])
    neck = max(length - 16, 0.0)
    steps = [(0, 4), (neck, 4), (neck, 11), (length, 0), (neck, -11), (neck, -4), (0, -4)]
    return [start + ahead * far + side * out for far, out in steps]


def _box(left, top, width, height, color, edge, *, corner=3):
    """Make a box with round corners that stays."""
    return FancyBboxPatch(
        (left + corner, top + corner),
        width - 2 * corner,
        height - 2 * corner,
        boxstyle=f"round,pad={corner}",
        fc=color,
        ec=edge,
        lw=1.2,
    )
