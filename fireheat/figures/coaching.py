"""One learner's try as it is, and what single changes make of it: lanes above one plank."""

from textwrap import fill
from typing import Any

from ..answers.coaching import MOST_SHOWN, Coaching
from ..coach.moves import Move
from ..words import TOO_LONG, band_words, saved_words, time_words
from . import style
from .explorer import evenings_words
from .lane import Flag, Lane, Plank, page
from .sketch import Sketch

_WIDTH, _HEIGHT = 800, 434
_LEFT, _RIGHT, _FOOT = 166, 770, 378  # of the plank, in pixels
_TOP, _STEP, _FLAG = 82, 80, 22  # of the rows, and of the flag
_NAME = 13  # letters that stand beside a lane
_TALL = 21  # half height of the mark at which an arm is spent, in pixels


class CoachLanes(Sketch):
    """Now as an outline, the first changes as lanes below it, and where the arm is spent."""

    rows = MOST_SHOWN + 1

    def __init__(self) -> None:
        super().__init__(_WIDTH, _HEIGHT)
        with style.look():
            self.plank = Plank(self, _LEFT, 20, _RIGHT, _FOOT)
            self.flag = Flag(self.plank, "arm")
            self.outlines = {
                name: Lane(self.plank, name, outline=True) for name in ("now", "before")
            }
            self.lanes = [Lane(self.plank, f"change {row}") for row in range(MOST_SHOWN)]
            spent: Any = {"color": style.YOURS, "lw": 4, "solid_capstyle": "butt"}
            self.spent = [
                self.add(page(self).plot([], [], label=f"change {row}, arm", **spent)[0])
                for row in range(MOST_SHOWN)
            ]

    def update(self, found: Coaching, before: Coaching | None = None) -> str:
        """Show what to change, and what was shown before; say it in words.

        Parameters
        ----------
        found : Coaching
            What to tell.
        before : Coaching, optional
            What was told before: how the try was then.

        Returns
        -------
        str
            The sentence.
        """
        self.clear()
        outlines = {"now": found.now} | ({"before": before.now} if before else {})
        room = self.rows - len(outlines)
        seen = found.thens[:room]
        times = [each.wood.likely for each in (*outlines.values(), *seen)]
        ends = [each.all.high for each in (*outlines.values(), *seen)]
        hold = found.learner.hold
        self.plank.fit(times, [*ends, *times, 1.1 * hold])
        self._hoist(hold)
        for lane in (*self.outlines.values(), *self.lanes):
            lane.hide()
        for line in self.spent:
            line.set_visible(False)
        for row, (name, each) in enumerate(outlines.items()):
            self.outlines[name].show(each, self._y(row))  # type: ignore[arg-type]  # bands will do
            self._name(name, each, row)
        for place, each in enumerate(seen):
            self._change(place, len(outlines) + place, found, each)
        return self.sentence(found, before)

    @staticmethod
    def _y(row):
        return _TOP + _STEP * row

    def _hoist(self, hold):
        """Say when the arm is spent, as it bows now."""
        self.flag.hide()
        if self.plank.holds(hold):
            self.flag.show(hold, f"arm spent: {time_words(hold)}", _FLAG)
        else:
            words = f"after {time_words(hold)}" if hold < TOO_LONG else "not in this time"
            self.write(f"arm spent: {words}", _RIGHT, _FLAG, color=style.YOURS, align="right")

    def _name(self, name, seen, row):
        """Name a row; of one with nothing on the plank, say when."""
        self.write(fill(name, _NAME), _LEFT - 12, self._y(row), align="right")
        if not self.plank.holds(seen.all.low):
            low = seen.all.low
            words = "never" if low >= TOO_LONG else f"from {time_words(low)}"
            self.write(words, _RIGHT - 8, self._y(row), align="right")

    def _change(self, place, row, found, seen):
        """Show one change: its lane, how much sooner it is, and when the arm is spent then."""
        move, y = found.moves[place], self._y(row)
        self.lanes[place].show(seen, y, wall=False)  # type: ignore[arg-type]  # bands will do
        self._name(move.name, seen, row)
        x = self.plank.across(min(seen.all.low, self.plank.end))
        words = saved_words(move.saved)
        left = min(x, _RIGHT - self.width(words))
        self.write(words, left, y - 31, color=style.EMBER, halo=True)
        hold = move.then.hold
        if self.plank.holds(hold):
            at = self.plank.across(hold)
            self.spent[place].set_data([at, at], [y - _TALL, y + _TALL])
            self.spent[place].set_visible(True)

    @staticmethod
    def sentence(found: Coaching, before: Coaching | None) -> str:
        """Say in words what the picture shows."""
        first, others = found.first, [move.name for move in found.moves if move is not found.first]
        words = f"Change this first: {found.name.lower()}"
        words += f", {saved_words(first.saved)}." if isinstance(first, Move) else "."
        words += f" Next: {', '.join(others)}." if others else ""
        hold = found.learner.hold
        spent = f"; the arm is spent after {time_words(hold)}" if hold < TOO_LONG else ""
        words += f" Now: ember {band_words(found.advice.now)}{spent}."
        words += f" {evenings_words(found.ours).capitalize()}." if found.ours else ""
        if before is not None:
            words += f" Before: {before.name.lower()}, {band_words(before.advice.now)}."
        return words
