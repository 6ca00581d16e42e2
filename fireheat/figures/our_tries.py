"""How many tries have no ember yet, in steps over the plank, and the physics' bands below them."""

from typing import Any

import numpy as np

from ..answers.our_tries import ALL, Group, SplitTries
from ..quantities import METRIC, quantity, unit_text
from ..words import NEVER, band_words, time_words
from . import style
from .lane import Lane, Plank, page
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 470
_LEFT, _RIGHT, _TOP, _FOOT = 160, 770, 34, 224  # of the steps, in pixels
_LANES, _APART, _GROUND = 268, 54, 426  # the first lane, one below the other, the plank
_MOST = 3
_STYLES: tuple[Any, ...] = ("-", (0, (6, 3)), (0, (1.5, 2)))
_TICK = 7  # half a tick, in pixels


def group_words(group: Group, by: str, system: str = METRIC) -> str:
    """Name a group by its setting.

    Examples
    --------
    >>> from fireheat.answers.our_tries import our_tries
    >>> from fireheat.trials.columns import TimedTry
    >>> thin = [TimedTry(time=30.0, ended="ember", diameter=0.011)]
    >>> group_words(our_tries(thin, by="diameter").groups[0], "diameter")
    '11 mm'
    """
    if by == ALL:
        return "all tries"
    row = quantity(by)
    low, high = (row.text(end, system).replace(".0 ", " ") for end in (group.low, group.high))
    unit = unit_text(row.shown_unit(system))
    return low if low == high else f"{low.removesuffix(unit).rstrip()} to {high}"


class TriesPicture(Sketch):
    """Steps for up to three groups, a tick where one gave up, and a lane for each."""

    def __init__(self):
        super().__init__(_WIDTH, _HEIGHT)
        with style.look():
            self.plank = Plank(self, _LEFT, 8, _RIGHT, _GROUND)
            self.frame = Frame(
                self, (_LEFT, _TOP, _RIGHT, _FOOT), Scale(0.0, 1.0), Scale(0.0, 10.0)
            )
            page(self).plot([_LEFT, _LEFT, _RIGHT], [_TOP, _FOOT, _FOOT], color=style.EDGE, lw=1)
            self._lanes = [Lane(self.plank, f"lane {row}") for row in range(_MOST)]
            look: Any = {"color": style.YOURS, "solid_capstyle": "butt"}
            self._steps = [self._line(f"steps {row}", lw=2.6, ls=_STYLES[row], **look)
                           for row in range(_MOST)]  # fmt: skip
            self._ticks = [self._line(f"gave up {row}", lw=2.2, **look) for row in range(_MOST)]

    def _line(self, name, **look):
        return self.add(page(self).plot([], [], label=name, **look)[0])

    def update(
        self, now: SplitTries, system: str = METRIC, before: SplitTries | None = None
    ) -> str:
        """Move everything and return the sentence that says what is shown."""
        self.clear()
        for part in (*self._lanes, *self._steps, *self._ticks):
            part.hide() if isinstance(part, Lane) else part.set_data([], [])
        groups = now.groups[:_MOST]
        self.plank.fit(
            [group.survival.last for group in groups] or [60.0],
            [group.expected.wood.likely for group in groups],
        )
        self.frame.rescale(x=Scale(0.0, self.plank.end))
        self.write("tries without an ember yet", _LEFT, 14, color=style.QUIET)
        for tenths in (0, 5, 10):
            words = "10 of 10" if tenths == 10 else f"{tenths}"
            self.write(words, _LEFT - 12, float(self.frame.down(tenths)), align="right")
        for row, group in enumerate(groups):
            self._show(row, group, group_words(group, now.by, system))
        self._name_steps(groups, now.by, system)
        self._lanes[0].name_range(_LANES)
        return self.sentence(now, system, before)

    def _show(self, row, group, words):
        found = group.survival
        times = np.r_[0.0, found.times, found.last]
        shares = 10 * np.r_[1.0, found.shares]
        across = np.repeat(self.frame.across(times), 2)[1:-1]
        down = np.repeat(self.frame.down(shares), 2)
        self._steps[row].set_data(across, down)
        x = self.frame.across(found.given_up)
        y = self.frame.down(10 * found.at(found.given_up))
        gap = np.full_like(x, np.nan)
        ends = np.column_stack([y - _TICK, y + _TICK, gap]).ravel()
        self._ticks[row].set_data(np.column_stack([x, x, gap]).ravel(), ends)
        y = _LANES + _APART * row
        self._lanes[row].show(group.expected, y)
        self.write(words, _LEFT - 12, y, align="right")

    def _name_steps(self, groups, by, system):
        """Name each line at its end, where neither a line nor another name is."""
        down = sorted(groups, key=lambda one: -one.survival.at(one.survival.last))
        for group in down:
            found, words = group.survival, group_words(group, by, system)
            wide, ups = (
                self.width(words),
                (14, 33, -14, -33) if group is down[-1] else (-14, -33, -52),
            )
            x = float(self.frame.across(found.last))
            y = min(float(self.frame.down(10 * found.at(found.last))), _FOOT - 10)
            spots = [(x + 12, y + 19 * up, "left") for up in (0, -1, 1, -2, 2)]
            spots += [(x - back, y + up, "right") for up in ups for back in (12, 60, 110)]
            free = [spot for spot in spots if self._free(*spot, wide)]
            self.write_free(words, free or spots[-1:], color=style.YOURS, halo=True)

    def _free(self, x, y, align, wide):
        """Tell whether words so wide would stand on paper alone."""
        left = x if align == "left" else x - wide
        box = np.array([left - 4, y - 9, left + wide + 4, y + 9])
        if box[2] > _WIDTH or box[3] > _FOOT:
            return False
        for line in self._steps:
            path = np.column_stack(line.get_data())
            if len(path):
                low, high = np.minimum(path[:-1], path[1:]), np.maximum(path[:-1], path[1:])
                if np.any(np.all((low < box[2:]) & (high > box[:2]), axis=1)):
                    return False
        return True

    @staticmethod
    def sentence(now: SplitTries, system: str = METRIC, before: SplitTries | None = None) -> str:
        """Say in words what the picture shows."""
        said = [_group_sentence(one, now.by, system) for one in now.groups]
        words = " ".join(said) or "Not one try says how it was set: write that down, too."
        if before is not None:
            named = [group_words(one, before.by, system) for one in before.groups]
            words += f" Before: {', '.join(named) or 'no tries'}."
        return words


def _group_sentence(group, by, system):
    name = group_words(group, by, system)
    name = "All tries" if by == ALL else name
    embers = "an ember" if group.embers == 1 else f"{group.embers} embers"
    middle = time_words(group.survival.middle)
    half = "fewer than half glow" if middle == NEVER else f"half glow by {middle}"
    expected = band_words(group.expected.all)
    return f"{name}: {group.tries} timed, {embers}, {half}; physics {expected}."
