"""With which power time goes by what was set: our interval beside the physics' own, row by row."""

from typing import Any

import numpy as np
from matplotlib.patches import Polygon

from ..answers.fitted import DEPTH, Fitted
from ..bands import Band
from ..words import number_words
from . import style
from .lane import page
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 440
_LEFT, _RIGHT, _TOP, _STEP, _AXIS = 150, 770, 44, 86, 396
_MOST = 4
_ENDS = Scale(-4.0, 5.0)
_HALF, _DOT = 9, 5
_DASH: Any = (0, (4, 2.5))
NAMES = {"diameter": "thickness", "force": "press", "speed": "bow speed", "depth": "depth worn"}
_WRONG = {"left out": "failed tries left out", "as embers": "failed tries as embers"}


class PowerBars(Sketch):
    """For each cause a pale bar of physics, a blue one of ours, and marks of two wrong ways."""

    def __init__(self):
        super().__init__(_WIDTH, _HEIGHT)
        with style.look():
            self.frame = Frame(self, (_LEFT, _TOP, _RIGHT, _AXIS), _ENDS)
            axes = page(self)
            x = float(self.frame.across(0.0))
            axes.plot([x, x], [_TOP - 8, _AXIS], color=style.EDGE, lw=1.2)
            axes.plot([_LEFT, _RIGHT], [_AXIS, _AXIS], color=style.EDGE, lw=1.2)
            pale: Any = {"fc": style.EMBER_PALE, "ec": style.EMBER_BAND, "ls": _DASH, "lw": 1.2}
            self._pale = [self._shape(f"physics {row}", **pale) for row in range(_MOST)]
            blue: Any = {"fc": style.YOURS_PALE, "ec": style.YOURS, "lw": 2}
            self._ours = [self._shape(f"ours {row}", **blue) for row in range(_MOST)]

    def _shape(self, name, **look):
        return self.add(page(self).add_patch(Polygon(np.zeros((3, 2)), label=name, **look)))

    def update(self, now: Fitted, before: Fitted | None = None) -> str:
        """Move everything and return the sentence that says what is shown."""
        self.clear()
        for part in (*self._pale, *self._ours):
            part.set_visible(False)
        self.write("← less time, less depth", _LEFT, 16, color=style.QUIET)
        self.write("more time, more depth →", _RIGHT, 16, color=style.QUIET, align="right")
        for power in range(-4, 6):
            words = f"−{-power}" if power < 0 else f"{power}"
            self.write(words, float(self.frame.across(power)), _AXIS + 18, align="center")
        self.write("power", _LEFT - 20, _AXIS + 18, align="right", color=style.QUIET)
        if now.found is None:
            middle = (_LEFT + _RIGHT) / 2
            self.write("these tries cannot tell yet", middle, _TOP + 120, align="center", halo=True)
        rows = [*now.found.powers.items()] if now.found else []
        for row, (cause, one) in enumerate(rows):
            wrong = {way: found[cause] for way, found in now.wrong.items() if cause in found}
            self._row(row, NAMES[cause], one.physics, one.interval, wrong)
        if now.depth:
            ours = Band(*(-end for end in reversed([*now.depth.interval])))
            self._row(len(rows), NAMES["depth"], Band(DEPTH[0], np.nan, DEPTH[1]), ours, {})
        return self.sentence(now, before)

    def _row(self, row, name, physics, ours, wrong):
        y = _TOP + _STEP * row + 18
        self.write(name, _LEFT - 12, y + 12, align="right")
        for part, band, down in ((self._pale[row], physics, y), (self._ours[row], ours, y + 24)):
            low, high = (float(self.frame.across(_inside(end))) for end in band.ends)
            corners = [(low, down - _HALF), (high, down - _HALF), (high, down + _HALF)]
            part.set_xy([*corners, (low, down + _HALF)])
            part.set_visible(True)
        self._dot(f"likely {row}", physics.likely, y, style.EMBER)
        self._dot(f"found {row}", ours.likely, y + 24, style.YOURS)
        if row == 0:
            self._beside("physics", physics, y)
            self._beside("our tries", ours, y + 24)
        for at, (way, power) in enumerate(wrong.items()):
            x, down = float(self.frame.across(_inside(power))), y + 44 + 19 * at
            self.frame.fill(f"{way} {row}", x - 1.5, down - 6, x + 1.5, down + 6, style.INK)
            if row == 0:
                self.write(_WRONG[way], x - 12, down, align="right", color=style.QUIET, halo=True)

    def _dot(self, name, power, y, color):
        if not _ENDS.low <= power <= _ENDS.high:  # nobody knows it, or it lies beyond
            return
        x = float(self.frame.across(power))
        self.frame.fill(name, x - 2.5, y - _HALF - 3, x + 2.5, y + _HALF + 3, color)

    def _beside(self, words, band, y):
        left, right = (float(self.frame.across(_inside(end))) for end in band.ends)
        wide = self.width(words)
        if right + 10 + wide < _RIGHT:
            self.write(words, right + 10, y)
        elif left - 10 - wide > _LEFT:
            self.write(words, left - 10, y, align="right", halo=True)
        else:
            self.write(words, left + 8, y, halo=True)

    @staticmethod
    def sentence(now: Fitted, before: Fitted | None = None) -> str:
        """Say in words what the picture shows."""
        words = _found(now) if now.found else f"{now.reason} {now.measure_next}"
        if now.depth:
            low, high = now.depth.interval.ends
            words += (
                f" Depth worn, by thickness: {_ends((-high, -low))}; 0 is the same depth, −2 the"
            )
            words += " same grams."
        if before is not None:
            words += f" Before: {before.question}, {before.verdict}."
        return words


def _found(now):
    parts = [
        f"{NAMES[cause]} {_ends(power.interval.ends)}, physics {_ends(power.physics.ends)}"
        for cause, power in now.found.powers.items()
    ]
    named = " and ".join(NAMES[cause] for cause in now.found.disagree)
    verdict = f"Our tries disagree on {named}." if named else "They have room in common."
    return f"Powers of time. {'; '.join(parts)}. {verdict}"


def _ends(ends) -> str:
    """Spell a range of powers; one end may be beyond all bounds."""
    low, high = ends
    if np.isinf(low) and np.isinf(high):
        return "anything"
    if np.isinf(low):
        return f"{_power_words(high)} or less"
    return f"{_power_words(low)} or more" if np.isinf(high) else _both(low, high)


def _both(low, high):
    return f"{_power_words(low)} to {_power_words(high)}"


def _power_words(power):
    rounded = round(float(power), 1) or 0.0
    return f"−{number_words(-rounded)}" if rounded < 0 else number_words(rounded)


def _inside(power):
    return min(max(power, _ENDS.low), _ENDS.high)
