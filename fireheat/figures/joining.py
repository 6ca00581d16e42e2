"""How much later a thicker spindle is: one curve between two straight lines, both in even steps."""

from typing import Any

import numpy as np

from ..answers.joining import Joined
from ..words import number_words, percent_words
from . import style
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 430
_BOX = 104, 16, 590, 350  # left, top, right, bottom, in pixels
WIDER = np.geomspace(0.5, 2.0, 33)  # thickness of a spindle, over this one's
_TIMES = Scale(1 / 18, 18.0, factors=True)
_TICKS = "1/16", "1/4", "1", "4", "16"
_GAP = 25  # between the names of lines, in pixels


class FactorCurve(Sketch):
    """Time against thickness, both as factors, with the two ends that the curve lies between."""

    def __init__(self) -> None:
        super().__init__(_WIDTH, _HEIGHT)
        self.frame = Frame(self, _BOX, Scale(WIDER[0], WIDER[-1], factors=True), _TIMES)
        with style.look():
            axes = self.frame.draw_axes()
            axes.set_xticks((0.5, 1, 2), ("1/2", "1", "2"))
            axes.set_yticks((1 / 16, 1 / 4, 1, 4, 16), _TICKS)
            axes.tick_params(which="minor", length=0)
            for axis in (axes.xaxis, axes.yaxis):
                axis.set_minor_formatter("")
            axes.grid(color=style.RULE, linewidth=0.8)
            axes.set_axisbelow(True)
            axes.set_xlabel("thickness of a spindle, beside yours", labelpad=4)
            axes.set_ylabel("time to the ember, beside yours", labelpad=4)
            for name, power, how in (("all into dust", 2, ":"), ("all soaks in", 4, "--")):
                ends = WIDER[[0, -1]]
                look: Any = {"color": style.QUIET, "ls": how, "lw": 2, "label": name}
                self.add(axes.plot(ends, ends**power, **look)[0])
            before: Any = {"color": style.INK, "ls": (0, (4, 3)), "lw": 2, "label": "before"}
            self.before = self.add(axes.plot([], [], **before)[0])
            self.curve = self.add(axes.plot([], [], color=style.EMBER, label="your kit")[0])
            mark: Any = {"mec": style.PAPER, "mew": 2, "ms": 15, "ls": "", "color": style.EMBER}
            self.dot = self.add(
                axes.plot([2], [4], "o", label="twice as thick", clip_on=False, **mark)[0]
            )

    def update(self, now: Joined, before: Joined | None) -> str:
        """Move the curve and return the sentence that says what is shown.

        Parameters
        ----------
        now, before : Joined
            The kit now, and the one before if there is one.

        Returns
        -------
        str
            The sentence.
        """
        self.clear()
        self.curve.set_data(now.wider, now.later)
        self.dot.set_data([2.0], [now.twice])
        self.before.set_visible(before is not None)
        if before is not None:
            self.before.set_data(before.wider, before.later)
        right, top, low = _BOX[2] + 16, *(float(self.frame.down(factor)) for factor in (16.0, 4.0))
        self.write("× 16: all soaks in", right, top)
        self.write("× 4: all into dust", right, low)
        y = np.clip(float(self.frame.down(now.twice)), top + _GAP, low - _GAP)
        self.write(f"× {number_words(now.twice)}: your kit", right, y, color=style.EMBER)
        return self.sentence(now, before)

    @staticmethod
    def sentence(now: Joined, before: Joined | None) -> str:
        """Say in words what the picture shows."""
        words = (
            f"A spindle twice as thick takes {number_words(now.twice)} times as long: between 4,"
            f" where all heat goes into dust, and 16, where all soaks in. Here"
            f" {percent_words(now.soaked)} soaks in."
        )
        if before is not None:
            words += f" Before: {number_words(before.twice)} times."
        return words
