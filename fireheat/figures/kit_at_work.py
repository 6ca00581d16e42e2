"""The kit at work: its five words, what a hand sets, and its tip as time goes on."""

from typing import NamedTuple

from ..bands import Band
from ..words import band_words
from . import style
from .kit_picture import Leader, Letters, Placed, live_picture
from .kit_script import GLOWING, KitScript
from .kit_shapes import PER_METRE, Shape, notch_half
from .kit_still import KitArtists
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 664, 446
_X, _Y, _SCALE = 322.0, 336.0, 0.84
PER_SPEED = 50.0  # pixels of the bow's arrow to a metre a second
_ARROW = (580.0, 172.0)  # middle of the bow's arrow
_HEAD = 9.0
# Words of the kit: what it is, what it does, where they stand, where their leader starts.
_NAMES = (
    ("bearing block", "presses, stays still", (406, 84), "start", (400, 79)),
    ("bow and cord", "turn the spindle", (6, 122), "start", (92, 148)),
    ("spindle", "", (406, 285), "start", (400, 279)),
    ("fireboard", "", (138, 412), "end", (144, 407)),
    ("notch", "hot dust falls in here", (452, 412), "start", (446, 407)),
)
_UNDER = 19  # from a word to the note under it


class KitMoment(NamedTuple):
    """What the picture is to show.

    Attributes
    ----------
    script : KitScript
        The kit, and what it does by the clock.
    speed : float
        Of the bow. [m/s]
    thick, press, like, pace : str
        Words for the spindle's thickness, for the press, for what weighs as much, and for the
        bow's speed.
    smoke, ember : Band of float
        When it first smokes and when it glows, with all we do not know. [s]
    """

    script: KitScript
    speed: float
    thick: str
    press: str
    like: str
    pace: str
    smoke: Band[float]
    ember: Band[float]

    def words(self) -> str:
        """Say which kit it is, and when what comes of it."""
        return (
            f"{self.thick} spindle, {self.press}, bow at {self.pace}: "
            f"first smoke {band_words(self.smoke)}, glow {band_words(self.ember)}"
        )


def kit_sentence(moment: KitMoment, before: KitMoment | None) -> str:
    """Say what the picture shows, and what a kit before did."""
    then = f" Before: {before.words()}." if before else ""
    return (
        "A kit at work, its spindle, hole, notch and heap drawn to one scale. "
        f"Estimates, with all we do not know: {moment.words()}.{then}"
    )


def named(script: KitScript) -> dict[str, tuple[float, float]]:
    """Places on the kit that its five words lead to, in pixels: each lies on what it names."""
    kit, radius = _placed(script), PER_METRE * script.diameter / 2
    return {
        "bearing block": kit.at(58.0, -243.0),
        "bow and cord": kit.at(-124.0, -121.0),
        "spindle": kit.at(0.6 * radius, -86.0),
        "fireboard": kit.at(-190.0, 34.0),
        "notch": kit.at(0.5 * notch_half(radius), 32.0),
    }


def _placed(script, before=None):
    return Placed(script, _X, _Y, _SCALE, before)


def _leaders(script):
    ends = named(script)
    return [Leader(start, ends[word]) for word, *_, start in _NAMES]


def _letters(moment):
    """All words of the picture; those beside the press stand at its foot, however long it is."""
    yield Letters(moment.press, _X + 24, 38)
    yield Letters(moment.like, _X + 24, 38 + _UNDER, note=True)
    yield Letters(moment.pace, _ARROW[0], _ARROW[1] - 14, "middle")
    for word, note, (x, y), anchor, _ in _NAMES:
        yield Letters(word, x, y, anchor)
        if note:
            yield Letters(note, x, y + _UNDER, anchor, note=True)


def bow_arrow(speed: float) -> Shape:
    """Outline the arrow of the bow's speed, to both sides: the longer, the faster."""
    (x, y), half = _ARROW, PER_SPEED * speed / 2
    left, right, head = x - half, x + half, min(_HEAD, half)
    return Shape(
        "pace",
        f"M{left:.2f} {y} L{right:.2f} {y} "
        f"M{left + head:.2f} {y - 7} L{left:.2f} {y} L{left + head:.2f} {y + 7} "
        f"M{right - head:.2f} {y - 7} L{right:.2f} {y} L{right - head:.2f} {y + 7}",
        None,
        "INK",
        2.2,
    )


def live(moment: KitMoment, before: KitMoment | None = None) -> str:
    """Spell the live picture, in the colours of the theme drawn in now."""
    then = before.script if before else None
    return live_picture(
        [_placed(moment.script, then)],
        (_WIDTH, _HEIGHT),
        words=_letters(moment),
        leaders=_leaders(moment.script),
        lines=[bow_arrow(moment.speed)],
        told=kit_sentence(moment, before),
    )


class KitPicture(Sketch):
    """The kit as a notebook keeps it: shortly before it glows, or as it is at its end."""

    def __init__(self):
        super().__init__(_WIDTH, _HEIGHT)
        ends = Scale(0, _WIDTH), Scale(_HEIGHT, 0)
        self.pixels = Frame(self, (0, 0, _WIDTH, _HEIGHT), *ends)
        axes = self.pixels.draw_axes()
        axes.axis("off")
        self.kit = KitArtists(self, self.pixels)
        self.leaders, self.dots = {}, {}

    def update(self, moment: KitMoment, before: KitMoment | None = None) -> str:
        """Move everything, and say what it shows."""
        self.clear()
        script = moment.script
        then = before.script if before else None
        self.kit.update(_placed(script, then), kept_time(script))
        self.kit.line(bow_arrow(moment.speed))
        ends = named(script)
        for word, *_, start in _NAMES:
            self._lead(word, start, ends[word])
        for one in _letters(moment):
            look = {"color": style.QUIET} if one.note else {"weight": "bold"}
            align = {"start": "left", "middle": "center", "end": "right"}[one.anchor]
            self.write(one.text, one.x, one.y - 6, align=align, **look)
        return kit_sentence(moment, before)

    def _lead(self, word, start, end):
        """Lead from a word to an open dot on what it names; lines made later lie on top."""
        if word not in self.leaders:
            axes = self.pixels.axes
            (line,) = axes.plot([], [], color=style.INK, lw=1.1, label=f"to {word}")
            ring = {"mfc": style.PAPER, "mec": style.INK, "mew": 1.2, "color": style.INK}
            (dot,) = axes.plot([], [], "o", ms=5.2, label=f"on {word}", **ring)
            self.leaders[word], self.dots[word] = self.add(line), self.add(dot)
        self.leaders[word].set_data(*zip(start, end, strict=True))
        self.dots[word].set_data([end[0]], [end[1]])


def kept_time(script: KitScript) -> float:
    """Tell at which time a kept picture shows it: shortly before it glows, or at its end. [s]."""
    last = script.cues[-1]
    return float(
        last.time - (last.time - script.cues[-2].time) / 4 if last.look == GLOWING else script.end
    )
