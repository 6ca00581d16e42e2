"""A hundred learners as dots: how a saying changes the time of each; the harmed are crosses."""

from typing import Any

import numpy as np

from ..answers.court import HUNDRED, SLIGHT, Hearing
from ..coach.sayings import KEEPING
from ..coach.verdicts import HARMS, HELPS, NO_MATTER
from ..trials.plan import MOST_A_SIDE
from ..words import factor_words
from . import style
from .lane import page
from .patterns import cross, disc
from .sketch import Sketch

_WIDTH, _HEIGHT = 600, 336
_TOP, _GROUND = 46, 252  # dots stand between, in pixels
# Five places side by side: no ember without it; sooner; as good as the same; later; none with it.
_EDGES = np.array([(4, 92), (108, 256), (256, 344), (344, 492), (508, 596)], float)
_SPECK = 0.45  # of that for who has no ember either way
_SIZE = 148 / 12  # of a mark with its room, in pixels
_ROWS = 16  # of marks that find room one on the other
_NAMES = 284  # height of the words below the ground, in pixels
_NEARLY_ALL = 0.98  # of all who have an ember both times
_KIT = 322  # height of the mark of my kit, in pixels
# How far the scale reaches: times as long at its end, and what is written at both.
_REACHES: dict[float, tuple[str, str]] = {
    1.25: ("a fifth\nless time", "a quarter\nmore time"),
    1.5: ("a third\nless time", "half more\ntime"),
    2.0: ("half\nthe time", "twice\nthe time"),
    4.0: ("a quarter\nof the time", "4 times\nthe time"),
    10.0: ("a tenth\nor less", "10 times\nor more"),
}
_COMES = "an ember\nat last", "the same,\nor no ember", "no ember\nany more"
_KEEPS = "keeps\nfor good", "about\nthe same", "goes out\nat once"
_MARKS: dict[str, tuple[str, Any, str]] = {  # what it did, its mark's colour and shape, its word
    HELPS: ("EMBER_BAND", disc(), "helped"),
    NO_MATTER: ("EDGE", disc(ring=2.0), "no matter"),
    HARMS: ("INK", cross(2.6), "harmed"),
}


class CourtDots(Sketch):
    """A mark for each of a hundred learners, over the time with the advice over that without."""

    def __init__(self) -> None:
        super().__init__(_WIDTH, _HEIGHT)
        with style.look():
            left, right = _EDGES[2]
            sides, ends = [left, right, right, left], [_GROUND, _GROUND, _TOP - 8, _TOP - 8]
            page(self).fill(sides, ends, color=style.SHADE, lw=0)
            for left, right in (_EDGES[0], (_EDGES[1, 0], _EDGES[3, 1]), _EDGES[4]):
                page(self).plot([left, right], [_GROUND + 3] * 2, color=style.INK, lw=2)

    def update(self, hearing: Hearing | None) -> str:
        """Place everybody and return the sentence that says what is shown.

        Parameters
        ----------
        hearing : Hearing or None
            What came of it; none before somebody has voted.

        Returns
        -------
        str
            The sentence.
        """
        self.clear()
        if hearing is None:
            return self._wait()
        reach = reach_of(hearing.effect)
        self._name_places(hearing, reach)
        self._place(hearing, reach)
        self._count(hearing)
        if hearing.own is not None:
            self._mark(hearing.own, reach)
        return self.sentence(hearing)

    # ---- before anybody has voted ---------------------------------------------------------------

    def _wait(self):
        wide, (columns, size) = _WIDTH / 2, (25, 14.0)
        for number in range(HUNDRED):
            row, column = divmod(number, columns)
            x = wide + (column - (columns - 1) / 2) * size
            self._dot(f"learner {number}", x, _GROUND - (row + 0.5) * size, size, "EDGE", disc())
        self.write("sooner", 182, _NAMES, align="center")
        self.write("the same", wide, _NAMES, align="center")
        self.write("later", 418, _NAMES, align="center")
        self.write("A hundred learners. Vote first!", wide, 150, align="center", weight="bold")
        return WAITING

    # ---- what came of it ------------------------------------------------------------------------

    def _name_places(self, hearing, reach):
        keeping = hearing.saying.measure == KEEPING
        first, same, last = _KEEPS if keeping else _COMES
        less, more = _REACHES[reach][:: -1 if keeping else 1]
        for words, x, align, color in (
            (first, 48, "center", style.QUIET),
            (less, 108, "left", style.INK),
            (same, 300, "center", style.QUIET),
            (more, 492, "right", style.INK),
            (last, 552, "center", style.QUIET),
        ):
            self.write(words, x, _NAMES, align=align, color=color)

    def _place(self, hearing, reach):
        """Stack marks on the ground, each over its place."""
        places = zip(stacked(hearing.effect, reach), hearing.kinds, strict=True)
        for number, ((x, y), kind) in enumerate(places):
            token, shape, _ = _MARKS[kind]
            room = _SIZE * (_SPECK if np.isnan(hearing.effect[number]) else 1)
            self._dot(f"learner {number}", x, y, room, token, shape)

    def _dot(self, name, x, y, size, token, shape):
        half = size / 2 - 0.75
        box = x - half, y - half, x + half, y + half
        self.fill(*box, style.color(token), name=name, cover=shape)

    def _count(self, hearing):
        for kind, x in zip(_MARKS, (122, 300, 478), strict=True):
            token, shape, word = _MARKS[kind]
            words = f"{hearing.counts[kind]} {word}"
            start = x - (self.width(words, weight="bold") + 20) / 2
            self._dot(f"sign of {kind}", start + 7, 18, 15, token, shape)
            self.write(words, start + 20, 18, weight="bold")

    def _mark(self, own, reach):
        """Mark where my kit stands: a bar from low to high, a diamond over what is likely."""
        low, likely, high = _across(np.array([*own], float), reach)
        self.fill(low, _KIT - 2, max(high, low + 2), _KIT + 2, style.YOURS, name="my kit, band")
        self.write("◆", likely, _KIT, color=style.YOURS, align="center", halo=True)
        after = max(high, likely + 8) + 8
        words = "my kit"
        room = after + self.width(words) <= _WIDTH
        x, align = (after, "left") if room else (min(low, likely - 8) - 8, "right")
        self.write(words, x, _KIT, color=style.YOURS, align=align, weight="bold")

    @staticmethod
    def sentence(hearing: Hearing) -> str:
        """Say in words what the picture shows."""
        counts, effect = hearing.counts, hearing.effect
        words = (
            f"“{hearing.saying.words}” A hundred of {hearing.population.name}: "
            f"{counts[HELPS]} helped, {counts[NO_MATTER]} no matter, {counts[HARMS]} harmed."
        )
        for count, what in (
            (np.sum(effect == 0), "an ember at last"),
            (np.sum(np.isinf(effect)), "no ember any more"),
            (hearing.neither, "none either way"),
        ):
            words += f" {count} ha{'s' if count == 1 else 've'} {what}." if count else ""
        return f"{words} The verdict of all groups: {hearing.overall}."


WAITING = "A hundred learners wait. Nothing is told before somebody has voted."


def reaches() -> tuple[float, ...]:
    """List how far scales may reach.

    Returns
    -------
    tuple of float
        Times as long at their ends. [1]

    Examples
    --------
    >>> reaches()
    (1.25, 1.5, 2.0, 4.0, 10.0)
    """
    return tuple(_REACHES)


def _across(ratio, reach):
    """Find where ratios stand, in pixels; those without an ember in the middle of their place."""
    ends = np.log([1 / reach, 1 / SLIGHT, SLIGHT, reach])
    with np.errstate(divide="ignore"):
        across = np.interp(np.log(ratio), ends, [_EDGES[1, 0], *_EDGES[2], _EDGES[3, 1]])
    lost = np.select([ratio == 0, np.isinf(ratio)], [_EDGES[0].mean(), _EDGES[4].mean()], across)
    return np.where(np.isnan(ratio), _EDGES[2].mean(), lost)


def stacked(effect: np.ndarray, reach: float) -> np.ndarray:
    """Stack marks on the ground: over its place on the scale, or anywhere in a place without one.

    Where more stand over one place than find room one on the other, some move aside, none past
    another.

    Parameters
    ----------
    effect : ndarray, shape (n,)
        Time with the advice over the time without; 0 where there is an ember at last, infinite
        where there is none any more, NaN where there is none either way. [1]
    reach : float
        One of :func:`reaches`. [1]

    Returns
    -------
    ndarray, shape (n, 2)
        Middles of the marks, across and down. [pixels]

    Examples
    --------
    >>> places = stacked(np.array([0.5, 0.5, 2.0]), 2.0)
    >>> (places[0] - places[1]).round(2).tolist()
    [0.0, 12.33]
    """
    with np.errstate(invalid="ignore"):
        lost = [effect == 0, effect < 1 / SLIGHT, np.isinf(effect), effect > SLIGHT]
    zones, places = np.select(lost, [0, 1, 4, 3], 2), np.zeros((len(effect), 2))
    for zone, (left, right) in enumerate(_EDGES):
        here = np.flatnonzero(zones == zone)
        count = int((right - left) / _SIZE + 0.01)
        if zone in (1, 3):
            here = here[np.argsort(effect[here], kind="stable")]
            own = ((_across(effect[here], reach) - left) // _SIZE).astype(int)
            stacks = _beside(np.bincount(np.clip(own, 0, count - 1), minlength=count))
            columns = np.repeat(np.arange(count), stacks)
            levels = np.concatenate([np.arange(stack) for stack in stacks])
        else:
            levels, columns = np.divmod(np.arange(len(here)), count)
        places[here, 0] = left + (columns + 0.5) * _SIZE
        places[here, 1] = _GROUND - (levels + 0.5) * _SIZE
    return places


def _beside(stacks):
    """Lower stacks that are too high, by marks that move to the nearest with room."""
    for at in np.flatnonzero(stacks > _ROWS):
        while stacks[at] > _ROWS:
            room = np.flatnonzero(stacks < _ROWS)
            stacks[room[np.abs(room - at).argmin()]] += 1
            stacks[at] -= 1
    return stacks


def reach_of(effects: np.ndarray) -> float:
    """Choose how far the scale reaches, so that nearly all find their place on it.

    Parameters
    ----------
    effects : ndarray
        Times with the advice over times without, of whoever is to be shown. [1]

    Returns
    -------
    float
        One of :func:`reaches`. [1]

    Examples
    --------
    >>> reach_of(np.array([0.0, 0.7, 1.2])), reach_of(np.array([np.inf])), reach_of(np.ones(3) / 90)
    (1.5, 1.25, 10.0)
    """
    there = effects[np.isfinite(effects) & (effects > 0)]
    far = np.abs(np.log(there))
    held = (reach for reach in _REACHES if np.mean(far <= np.log(reach)) >= _NEARLY_ALL)
    return next(held, max(_REACHES)) if far.size else min(_REACHES)


def findings(hearing: Hearing, system: str) -> dict[str, str]:
    """Say what stands beside the picture: whom it harms, what shows it, and my kit.

    Parameters
    ----------
    hearing : Hearing
        What came of it.
    system : str
        ``"metric"`` or ``"us"``.

    Returns
    -------
    dict of str to str
        Heading to words.
    """
    rule, tries = hearing.verdict.rule, hearing.verdict.tries
    right = f" Right for {round(100 * rule.right)} of 100." if rule.parts else ""
    words = {"Harmed": f"{rule.told(system)}.{right}"}
    if hearing.saying.measure == KEEPING:
        words["With a stopwatch"] = "time how long embers keep, not how soon they come."
    elif tries is None:
        words["With a stopwatch"] = f"not even {MOST_A_SIDE} timed tries a side would show it."
    else:
        words["With a stopwatch"] = f"{tries} timed tries a side would show it."
    if hearing.own is not None:
        words["My kit"] = f"{factor_words(hearing.own)}."
    return words
