"""Two kits that race: how they stand, and their lanes, empty until hands are counted."""

from dataclasses import replace
from typing import Any

import numpy as np
from matplotlib.patches import Polygon

from ..answers.race import LEFT, SAME, Contest, Starter
from ..words import NEVER, band_words, factor_words, ratio_words, time_words
from . import style
from .kit_picture import Placed, live_picture
from .kit_script import LOOKS, PALE, Cue, KitScript, kit_script
from .kit_still import KitArtists
from .lane import Lane, Plank, SpindleEnd, page
from .sketch import Frame, Scale, Sketch

RACE_WIDTH, KITS, LANES = 800, 200, 188  # of the picture, and its two halves' heights, in pixels
LANE_START, LANE_FINISH = 178, 752  # left and right end of the plank
LANE_ROWS, LANE_HALF = (38, 116), 19  # middles of the lanes, and half of what is veiled of one
_PLANK = 144  # where the plank begins
_NAMES, _ENDS, _MILLIMETRE = 118, 146, 1.6  # where names end, spindles stand, and their scale
_UP = 26  # from the middle of a lane to the words above it
_KIT, _FOOT, _SCALE = (240, 560), 166, 0.416  # where the kits stand
_UNTOLD = 120.0  # s: where the plank ends as long as nobody is told how long it takes
_BEYOND = 1.15  # times the likely times the plank reaches at least
_NAMED = "left", "right"
_TINY, _LITTLE = 0.05, 0.87  # between these, a part of the time is a plain fraction
_OF_WOOD = "friction", "moisture", "specific_gravity", "axial_factor"
_STATES = "is a warm stick", "turns brown", "smokes", "glows"


# ---- the kits -----------------------------------------------------------------------------------


def resting(one: Starter) -> KitScript:
    """Write the script of a kit that has not begun: it holds nothing of what comes of it."""
    nothing = np.zeros(1)
    return KitScript(
        diameter=one.state.kit.diameter,
        force=one.state.effort.force,
        stroke=np.inf,
        travel=0.0,
        times=nothing,
        temperature=nothing + one.state.air.temperature,
        heap=nothing,
        cues=(Cue(0.0, PALE, "", ""),),
        name=one.name,
    )


def racing(found: Contest) -> list[KitScript]:
    """Write the scripts of both kits of a race."""
    made = []
    for one, way in zip(found.starters, found.courses, strict=True):
        script = kit_script(way, name=one.name, stroke_length=one.stroke_length)
        first = script.cues[0]._replace(says="Warm stick")
        made.append(replace(script, cues=(first, *script.cues[1:])))
    return made


def _placed(scripts):
    return [Placed(script, x, _FOOT, _SCALE) for script, x in zip(scripts, _KIT, strict=True)]


def live_race(scripts: list[KitScript], told: str) -> str:
    """Spell the live picture of both kits, in the colours of the theme drawn in now."""
    return live_picture(_placed(scripts), (RACE_WIDTH, KITS), told=told)


# ---- the lanes ----------------------------------------------------------------------------------


class RaceLanes(Sketch):
    """Both bands of two kits as a finish, above one plank.

    Parameters
    ----------
    top : float
        Room left above, in pixels.
    """

    def __init__(self, top: float = 0.0):
        super().__init__(RACE_WIDTH, LANES + top)
        self.rows = [top + row for row in LANE_ROWS]
        with style.look():
            self.plank = Plank(self, LANE_START, top + 8, LANE_FINISH, top + _PLANK)
            dotted: Any = {"facecolor": "none", "edgecolor": style.EDGE, "ls": ":", "lw": 1.8}
            veil: Any = {"facecolor": style.PAPER, "lw": 0, "alpha": 0.5}
            ink: Any = {"color": style.INK, "lw": 4, "solid_capstyle": "butt", "label": "now"}
            self.empty = self._boxes("empty", **dotted)
            self.lanes = [Lane(self.plank, name) for name in _NAMED]
            self.veils = self._boxes("to come", **veil)
            scale = 1000 * _MILLIMETRE
            self.ends = [SpindleEnd(self, f"{name}, spindle", scale) for name in _NAMED]
            self.now = self.add(page(self).plot([], [], **ink)[0])

    def _boxes(self, what, **look):
        """Make a box as high as a lane for each; where it begins is told later."""
        add = page(self).add_patch
        return [
            self.add(add(Polygon(_corners(LANE_START, y), label=f"{name}, {what}", **look)))
            for name, y in zip(_NAMED, self.rows, strict=True)
        ]

    def update(
        self,
        pair: tuple[Starter, Starter],
        found: Contest | None = None,
        *,
        time: float | None = None,
        veiled: bool = True,
        notes: tuple[str, str] = ("", ""),
    ) -> str:
        """Show the lanes, and say in words what they show.

        Parameters
        ----------
        pair : tuple of Starter
            Who starts, left and right.
        found : Contest, optional
            What comes of it; as long as hands are counted nobody is told.
        time : float, optional
            The clock; over, if left out. [s]
        veiled : bool, optional
            Whether what lies after the clock is at half strength.
        notes : tuple of str, optional
            What differs, in words.
        """
        self.clear()
        for one, end, y in zip(pair, self.ends, self.rows, strict=True):
            end.show(_ENDS, y, one.state.kit.diameter)
            self.write(one.name, _NAMES, y, align="right", weight="bold")
        for part in (*self.empty, *self.veils, self.now):
            part.set_visible(False)
        if found is None:
            return self._wait(pair, notes)
        time = found.end if time is None else min(time, found.end)
        spreads = [way.spread for way in found.courses]
        self.plank.fit(*_times(spreads))
        for lane, spread, y in zip(self.lanes, spreads, self.rows, strict=True):
            lane.show(spread, y)
        if veiled and time < found.end:
            self._veil(time)
        self._tell(found, time)
        self.lanes[0].name_range(self.rows[0])
        return race_words(found, time=time)

    def _wait(self, pair, notes):
        self.plank.fit([_UNTOLD])
        for lane, box in zip(self.lanes, self.empty, strict=True):
            lane.hide()
            box.set_visible(True)
        middle = (LANE_START + LANE_FINISH) / 2
        words = "empty until all hands are counted"
        self.write(words, middle, self.rows[0], color=style.QUIET, align="center")
        return waiting(pair, notes)

    def _veil(self, time):
        here = self.plank.across(time)
        for veil, y in zip(self.veils, self.rows, strict=True):
            veil.set_xy(_corners(here, y, RACE_WIDTH))
            veil.set_visible(True)
        up = [end for y in self.rows for end in (y - LANE_HALF - 3, y + LANE_HALF + 3, np.nan)]
        self.now.set_data([here] * len(up), up)
        self.now.set_visible(True)

    def _tell(self, found, time):
        """Write above each lane when it glowed, or what its bars are."""
        for way, y in zip(found.courses, self.rows, strict=True):
            spread = way.spread
            self._name_wall(spread, y)
            if not self.plank.holds(spread.all.low):
                place = self.plank.across(spread.bound.likely) + 14
                self.write(f"no ember: {NEVER}", place, y, weight="bold", halo=True)
            elif time >= way.ember:
                self._tell_ember(way, spread, y - _UP)
            else:
                self._name_bars(spread, y - _UP)

    def _name_wall(self, spread, y):
        words = "too soon"
        if self.plank.across(spread.bound.likely) - LANE_START > self.width(words) + 12:
            self.write(words, LANE_START + 8, y, halo=True)

    def _tell_ember(self, way, spread, y):
        words, known = f"glowed at {time_words(way.ember)}", f"could be {band_words(spread.all)}"
        wide = self.width(words, weight="bold") + 12
        place = min(self.plank.across(way.ember) - 12, RACE_WIDTH - wide - self.width(known))
        self.write(words, place, y, color=style.EMBER, weight="bold")
        self.write(known, place + wide, y, color=style.QUIET)

    def _name_bars(self, spread, y):
        across = self.plank.across
        words, known = "your wood", "all we do not know"
        half, room = self.width(words) / 2, self.width(known)
        middle = max((across(spread.wood.low) + across(spread.wood.high)) / 2, LANE_START + half)
        middle = min(middle, LANE_FINISH - half)
        self.write(words, middle, y, align="center")
        beside = max(across(spread.all.high) - room, middle + half + 14)
        if beside + room > LANE_FINISH:
            beside = LANE_FINISH - room
        if beside < middle + half + 14:  # no room after it: before it
            beside = min(middle - half - 14 - room, across(spread.all.low))
        self.write(known, beside, y, color=style.QUIET)


def _corners(left, y, right=LANE_FINISH):
    up, down = y - LANE_HALF, y + LANE_HALF
    return np.array([(left, up), (right, up), (right, down), (left, down)])


def _times(spreads):
    """Choose which times have to stand on the plank, and which should."""
    quick = min(spreads, key=lambda spread: spread.wood.likely)
    must = [spread.bound.likely for spread in spreads]
    must += [_BEYOND * spread.wood.likely for spread in spreads]
    return must, [quick.all.high]


class RacePicture(RaceLanes):
    """A race as a notebook keeps it: both kits and the clock above their lanes."""

    def __init__(self) -> None:
        super().__init__(KITS)
        ends = Scale(0, RACE_WIDTH), Scale(KITS + LANES, 0)
        self.pixels = Frame(self, (0, 0, RACE_WIDTH, KITS + LANES), *ends)
        self.pixels.draw_axes().axis("off")
        self.kits = [KitArtists(self, self.pixels, f"{name}, ") for name in _NAMED]

    def update(
        self,
        pair: tuple[Starter, Starter],
        found: Contest | None = None,
        *,
        time: float | None = None,
        veiled: bool = True,
        notes: tuple[str, str] = ("", ""),
    ) -> str:
        """Show kits and lanes; see :meth:`RaceLanes.update`."""
        said = super().update(pair, found, time=time, veiled=veiled, notes=notes)
        scripts = [resting(one) for one in pair] if found is None else racing(found)
        clock = found.end if found and time is None else time or 0.0
        places = ("left", 8), ("right", RACE_WIDTH - 8)
        sides = zip(self.kits, _placed(scripts), pair, notes, places, strict=True)
        for artists, kit, one, note, (align, x) in sides:
            artists.update(kit, clock)
            cue = kit.script.cue(clock)
            self.write(note, x, 42, align=align, color=style.QUIET)
            self.write(one.name, x, 20, size=16, align=align, weight="bold")
            color = style.EMBER if LOOKS[cue.look] == "glow" else style.INK
            self.write(cue.says, x, 66, size=14, align=align, weight="bold", color=color)
        self.write(f"{int(clock)} s", RACE_WIDTH / 2, 28, size=28, align="center", weight="bold")
        return said


# ---- words --------------------------------------------------------------------------------------


def waiting(pair: tuple[Starter, Starter], notes: tuple[str, str] = ("", "")) -> str:
    """Say who starts, and nothing of what comes of it.

    Examples
    --------
    >>> from fireheat.answers.race import starters
    >>> waiting(starters("thickness"), ("22 mm", "11 mm"))
    'Thick, 22 mm, against Thin, 11 mm. The lanes are empty until all hands are counted.'
    """
    left, right = (
        f"{one.name}, {note}" if note else one.name for one, note in zip(pair, notes, strict=True)
    )
    comma = "," if notes[0] else ""
    return f"{left}{comma} against {right}. The lanes are empty until all hands are counted."


def race_words(found: Contest, *, time: float | None = None) -> str:
    """Say what came of a race so far, or of all of it.

    Parameters
    ----------
    found : Contest
        The race.
    time : float, optional
        The clock; its end if left out. [s]

    Examples
    --------
    >>> from fireheat.answers.race import contest, starters
    >>> race_words(contest(*starters("press")), time=20.0)
    'After 20 s: Light press turns brown, Hard press smokes.'
    >>> race_words(contest(*starters("strokes")))
    'A tie: both glow after 56 s. Same wood and same grip on both sides: nothing here is quicker.'
    """
    if time is not None and time < found.end:
        states = [
            f"{one.name} {_state(way, time)}"
            for one, way in zip(found.starters, found.courses, strict=True)
        ]
        return f"After {int(time)} s: {', '.join(states)}."
    if found.first == SAME:
        return _tied(found)
    turn = 1 if found.first == LEFT else -1
    (one, other), (quick, slow) = found.starters[::turn], found.courses[::turn]
    words = f"{one.name} glows first, after {time_words(quick.ember)}; {other.name} "
    if slow.never:
        words += f"most likely never: {slow.never}."
    else:
        words += f"after {time_words(slow.ember)}."
    return f"{words} {_known(found, one, other)}".strip()


def _known(found, one, other):
    """Say how well their ratio is known."""
    if found.ratio.high == 0:
        return ""
    words = f"{_alike(found)}: {one.name} takes {_part(found.ratio)}"
    if found.courses[0].never or found.courses[1].never:
        return f"{words}, where {other.name} glows at all."
    doubt = ""
    if one.state.kit.diameter != other.state.kit.diameter:
        doubt = " Nobody knows if both must wear off as much; that doubt is in it."
    return f"{words}. That is known better than either time.{doubt}"


def _alike(found):
    """Say what neither side is ahead by: not what they race in."""
    left, right = (one.state for one in found.starters)
    if any(left.value(key) != right.value(key) for key in _OF_WOOD):
        return "All else is the same on both sides"
    return "Same wood and same grip on both sides"


def _part(ratio):
    """Spell in plain fractions what part of the time the quicker takes."""
    if ratio.high >= _LITTLE:
        return factor_words(ratio)
    most = ratio_words(ratio.high)
    if ratio.low < _TINY:
        return f"at most {most}"
    least, last = (ratio_words(end, short=True) for end in ratio.ends)
    return f"about {most}" if least == last else f"{least} to {most}"


def _tied(found):
    ways = found.courses
    if ways[0].never:
        return (
            f"Called off after {time_words(found.end)}: most likely neither ever glows. "
            f"{found.starters[0].name}: {ways[0].never}. {found.starters[1].name}: {ways[1].never}."
        )
    return (
        f"A tie: both glow after {time_words(ways[0].ember)}. "
        f"{_alike(found)}: nothing here is quicker."
    )


def _state(way, time):
    past = [when for when in (way.brown, way.smoke, way.ember) if when <= time]
    return _STATES[len(past)]
