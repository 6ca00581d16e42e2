"""Two kits that race: what becomes of each, which has its ember first, and by which factor."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

import numpy as np

from ..bands import Band
from ..data import table
from ..kit.kit import Try
from ..my_kit import MyKit
from ..quantities import InputError, check_single, choose, default
from ..spread import compare
from .course import Course, course

LEFT, RIGHT, SAME = "left", "right", "same"
MINE = "mine"  # the row in which my kit runs
_STROKE = "stroke_length"
_FRAME = 1 / 60  # s: sooner than that nobody sees who is first


class Pairing(NamedTuple):
    """Two kits that differ in one quantity.

    Attributes
    ----------
    key : str
        Its name in the table.
    words, ask : str
        How it is listed, and the question it asks.
    quantity : str
        What differs; empty where my kit races the ordinary one.
    left, right : float
        Where its sliders start; NaN where there are none. [SI]
    less, more : str
        What the kit with less of it is called, and the one with more.
    """

    key: str
    words: str
    ask: str
    quantity: str
    left: float
    right: float
    less: str
    more: str


@cache
def pairings() -> Mapping[str, Pairing]:
    """Return all pairings, by key.

    Examples
    --------
    >>> pairings()["strokes"].words
    'long strokes and short ones'
    """
    nothing = {"quantity": "", "left": float("nan"), "right": float("nan")}
    return {key: Pairing(key=key, **(nothing | row)) for key, row in table("races").items()}


@dataclass(frozen=True, kw_only=True)
class Starter:
    """One of two kits that race.

    Attributes
    ----------
    name : str
        What it is called.
    state : Try
        Kit, effort and air.
    stroke_length : float
        How far its bow goes in one pass: seen, and in no equation. [m]
    measured : mapping of str to float
        How well what is set was measured, as :func:`fireheat.spread.spread` takes it. [SI]
    """

    name: str
    state: Try
    stroke_length: float
    measured: Mapping[str, float]


def starters(
    key: str, *, left: float | None = None, right: float | None = None, kit: MyKit | None = None
) -> tuple[Starter, Starter]:
    """Line two kits up.

    Parameters
    ----------
    key : str
        A row of ``data/races.toml``.
    left, right : float, optional
        What differs, on either side; as in the table if left out. [SI]
    kit : MyKit, optional
        Whose kit runs on the right, where my kit does; one in which nothing was measured if left
        out.

    Returns
    -------
    tuple of Starter
        Left and right.

    Raises
    ------
    InputError
        If there is no such row, or a kit cannot have such a value.

    References
    ----------
    .. [1] All but what differs is as usual, see :class:`fireheat.kit.kit.Try`.

    Examples
    --------
    >>> [one.name for one in starters("thickness", left=0.016, right=0.02)]
    ['Thin', 'Thick']
    >>> [one.name for one in starters("thickness", left=0.016, right=0.016)]
    ['Left', 'Right']
    """
    pairing = pairings()[choose("race", key, pairings())]
    if key == MINE:
        mine = MyKit() if kit is None else kit
        return _starter(pairing.less, Try()), _starter(
            pairing.more, mine.state(Try()), measured=mine.measured
        )
    one, other = (
        check_single(**{pairing.quantity: usual if value is None else value})[0]
        for usual, value in ((pairing.left, left), (pairing.right, right))
    )
    less, more = ("Left", "Right") if one == other else (pairing.less, pairing.more)
    first, second = (less, more) if one <= other else (more, less)
    return _differing(pairing.quantity, one, first), _differing(pairing.quantity, other, second)


def _starter(name, state, *, stroke=None, measured: Mapping[str, float] = {}):
    stroke = default(_STROKE) if stroke is None else stroke
    return Starter(name=name, state=state, stroke_length=stroke, measured=measured)


def _differing(quantity, value, name):
    if quantity == _STROKE:
        return _starter(name, Try(), stroke=value)
    return _starter(name, Try().changed(**{quantity: value}))


@dataclass(frozen=True, eq=False)
class Contest:
    """Two kits that start together.

    Attributes
    ----------
    starters : tuple of Starter
        Left and right.
    courses : tuple of Course
        What becomes of each. A kit that never has an ember is followed until the race ends.
    ratio : Band of float
        Time of the quicker over that of the slower, with the same unknowns in both: low and high
        hold nine of ten. [1]
    """

    starters: tuple[Starter, Starter]
    courses: tuple[Course, Course]
    ratio: Band[float]

    @property
    def first(self) -> str:
        """Which of them likely has its ember first: left, right, or the same."""
        left, right = (one.ember for one in self.courses)
        if left == right or abs(left - right) <= _FRAME:
            return SAME
        return LEFT if left < right else RIGHT

    @property
    def end(self) -> float:
        """When it is over: at the last ember, or with none when nobody looks on any more. [s]."""
        return max(one.end for one in self.courses)


def contest(left: Starter, right: Starter) -> Contest:
    """Let two kits race.

    Parameters
    ----------
    left, right : Starter
        The two.

    Returns
    -------
    Contest
        The course of each, and the band of their ratio.

    Raises
    ------
    InputError
        If one of them is something else.

    Notes
    -----
    Who likely never has an ember bows on until the other has one; without any the race is called
    off after two minutes.

    References
    ----------
    .. [1] :func:`fireheat.answers.course.course` and :func:`fireheat.spread.compare`.

    Examples
    --------
    >>> ran = contest(*starters("thickness"))
    >>> ran.first, [round(one.ember) for one in ran.courses]
    ('right', [182, 18])
    >>> [round(factor, 2) for factor in ran.ratio]
    [0.0, 0.15, 0.25]
    """
    for name, one in (("left", left), ("right", right)):
        if not isinstance(one, Starter):
            raise InputError(f"{name} is {one!r}; allowed: a Starter")
    pair = left, right
    ways = [course(one.state, measured=one.measured) for one in pair]
    embers = [way.ember for way in ways]
    if sum(map(np.isfinite, embers)) == 1:  # the other goes on until that one glows
        end = min(embers)
        ways = [
            way
            if np.isfinite(way.ember)
            else course(one.state, measured=one.measured, duration=end)
            for one, way in zip(pair, ways, strict=True)
        ]
    return Contest(pair, (ways[0], ways[1]), _ratio(pair, ways))


def _ratio(pair, ways):
    """Draw the quicker's time over the slower's."""
    if ways[0].ember > ways[1].ember:
        pair, ways = pair[::-1], ways[::-1]
    quick, slow = pair
    known = dict(quick.measured.items() & slow.measured.items())
    return compare(slow.state, quick.state, measured=known, found=(ways[1].found, ways[0].found))
