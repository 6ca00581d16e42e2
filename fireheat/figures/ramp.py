"""A block on a ramp, and the friction coefficient its angles give."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from matplotlib.patches import Polygon

from ..person.measuring import Measured
from . import style
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 262
_FOOT, _LENGTH = (24.0, 226.0), 262.0  # foot of the ramp in pixels from the top left; its length
_LEFT, _RIGHT, _LINE = 330, 780, 132  # the line of friction coefficients
_MOST = 0.8  # its right end; its left end is zero
_BLOCK = np.array([(0.42, 0.0), (0.66, 0.0), (0.66, 0.14), (0.42, 0.14)]) * _LENGTH


def _turned(points, angle):
    """Turn points about the ramp's foot; up is up."""
    sine, cosine = np.sin(angle), np.cos(angle)
    x, y = np.asarray(points, float).T
    return np.column_stack([_FOOT[0] + x * cosine - y * sine, _FOOT[1] - x * sine - y * cosine])


class RampPicture(Sketch):
    """The ramp at its mean angle, and each reading, mean and band on a line of friction.

    Parameters
    ----------
    known : mapping
        Name of a published friction coefficient to its value.
    """

    def __init__(self, known: Mapping[str, float]):
        super().__init__(_WIDTH, _HEIGHT)
        self.known = dict(known)
        self.friction = Frame(self, (_LEFT, _LINE - 40, _RIGHT, _LINE), Scale(0.0, _MOST))
        with style.look():
            axes = Frame(self, (0, 0, _WIDTH, _HEIGHT)).draw_axes()
            axes.axis("off")
            ground = (_FOOT[0], _FOOT[0] + _LENGTH + 16), (_FOOT[1], _FOOT[1])
            axes.plot(*ground, color=style.EDGE, lw=2)
            ink: Any = {"color": style.INK}
            self.board = self.add(axes.plot([], [], lw=7, label="ramp", **ink)[0])
            block = Polygon(np.zeros((4, 2)), fc=style.WOOD_MID, ec=style.INK, label="block")
            self.block = self.add(axes.add_patch(block))
            self.bow = self.add(axes.plot([], [], lw=1.5, label="angle", **ink)[0])

    def update(self, angles: Sequence[float], mean: Measured, friction: Measured) -> str:
        """Move to new readings and return the sentence that says what is shown."""
        self.clear()
        angle = mean.value
        self.board.set_data(*_turned([(0, -4), (_LENGTH, -4)], angle).T)
        self.block.set_xy(_turned(_BLOCK, angle))
        arc = np.linspace(0, angle, 30)
        self.bow.set_data(_FOOT[0] + 78 * np.cos(arc), _FOOT[1] - 78 * np.sin(arc))
        self.write(f"{np.degrees(angle):.1f}°", _FOOT[0] + 56, _FOOT[1] + 18)
        self._line()
        self._marks(np.tan(angles), friction)
        return self.sentence(len(angles), mean, friction)

    def _across(self, value):
        """Place on the line, in pixels; what is off it stands at its end."""
        return self.friction.across(np.clip(value, 0.0, _MOST))

    def _line(self):
        fill = self.friction.fill
        fill("line of friction", _LEFT, _LINE - 1, _RIGHT, _LINE + 1, style.INK)
        for value in np.arange(0, _MOST + 0.01, 0.2):
            x = self._across(value)
            fill(f"{value:.1f}", x - 1, _LINE, x + 1, _LINE + 7, style.INK)
            self.write(f"{value:.1f}", x, _LINE + 20, align="center")
        self.write("friction", _LEFT - 10, _LINE + 46)
        for row, (name, value) in enumerate(self.known.items()):
            x, y = self._across(value), _LINE + 70 + 24 * row
            fill(name, x - 1, _LINE + 2, x + 1, y, style.EDGE)
            # The first name stands to the left, since lines of the others go down on the right.
            at, align = (x + 6, "left") if row else (x - 6, "right")
            self.write(f"{name} {value:g}", at, y, color=style.QUIET, align=align)

    def _marks(self, readings, friction):
        fill = self.friction.fill
        for number, x in enumerate(self._across(readings)):
            fill(f"reading {number}", x - 1, _LINE - 40, x + 1, _LINE - 22, style.YOURS)
        low, middle, high = self._across(
            (friction.band.ends[0], friction.value, friction.band.ends[1])
        )
        fill("yours, ±", low, _LINE - 16, max(high, low + 1), _LINE - 4, style.YOURS)
        fill("yours", middle - 2, _LINE - 20, middle + 2, _LINE, style.INK)
        self.write("each reading", middle, _LINE - 54, color=style.QUIET, align="center")
        words = f"yours: {friction.value:.2f} ± {friction.error:.2f}"
        look: Any = {"color": style.YOURS, "weight": "bold", "size": 17}
        self.write(words, middle, _LINE - 84, align="center", **look)

    def sentence(self, count: int, mean: Measured, friction: Measured) -> str:
        """Say in words what the picture shows."""
        readings = "1 reading" if count == 1 else f"{count} readings"
        return (
            f"{readings}: {np.degrees(mean.value):.1f}° ± {np.degrees(mean.error):.1f}°, so the "
            f"friction coefficient is {friction.value:.2f} ± {friction.error:.2f}."
        )
