"""Contact temperature while somebody bows: the whole climb, and a few strokes of it close up."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.patches import Rectangle

from ..answers.warmth import ContactHeat
from ..quantities import METRIC, default, quantity, unit_text
from ..words import band_words, moment_words, time_words
from . import style
from .marks import BEFORE_LINE, before_dot, now_dot
from .sketch import Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 440
_CLIMB = 58, 52, 438, 380  # left, top, right, bottom of each frame, in pixels from the top left
_SPEED = 520, 40, 786, 150
_CLOSE = 520, 208, 786, 380
_STROKES, _CLOSEST, _WIDEST = 3, 1.5, 6.0  # strokes close up; least and most seconds of them
_NAMED = 150  # pixels that the name of a line asks for
_DOTS = 5000  # points drawn along a curve: some ten a pixel
_AIR = "temperature_ambient"  # its unit switch serves any temperature


@dataclass(frozen=True)
class Bowed:
    """A contact under a rhythm, and the air it started at.

    Attributes
    ----------
    contact : ContactHeat
        The contact.
    ambient : float
        Temperature of the air. [K]
    """

    contact: ContactHeat
    ambient: float

    @property
    def end(self) -> float:
        """Where the curve ends: at first smoke, or with the record, in seconds."""
        last = self.contact.heat.history.duration
        return float(min(self.contact.first_smoke.likely, last))


class Ripple(Sketch):
    """Temperature against time, speed and temperature close up; a rhythm of before in dashes.

    Parameters
    ----------
    duration : float
        Seconds along the left picture.
    system : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(self, duration: float, system: str = METRIC):
        super().__init__(_WIDTH, _HEIGHT)
        self.duration, self.system = duration, system
        self.top = quantity(_AIR).shown(default("temperature_smoke") + 50, system)
        climb = Frame(self, _CLIMB, Scale(0, duration), Scale(0, self.top))
        self.places = climb, Frame(self, _SPEED), Frame(self, _CLOSE)
        with style.look():
            self._still_part()
            self._moving_part()

    def _still_part(self):
        self.climb, self.speed, self.close = (frame.draw_axes() for frame in self.places)
        smoke = quantity(_AIR).shown(default("temperature_smoke"), self.system)
        self.climb.axhline(smoke, color=style.SMOKE, lw=1.5, ls=(0, (4, 2)))
        self.climb.set(xticks=np.linspace(0, self.duration, 4))
        self.climb.set_xlabel("seconds of bowing", labelpad=2)
        warmth = unit_text(quantity(_AIR).shown_unit(self.system))
        self._title(8, 16, f"Contact temperature, {warmth}")
        for axes in (self.speed, self.close):
            axes.set(xticks=[], yticks=[])
        unit = unit_text(quantity("speed").shown_unit(self.system))
        self._title(_SPEED[0], 16, f"Close up: bow speed, {unit}")
        self._title(_CLOSE[0], 188, f"Contact temperature, {warmth}")

    def _title(self, x, y, words, **how):
        """Write what stays, x and y in pixels from the top left."""
        self.figure.text(x / _WIDTH, 1 - y / _HEIGHT, words, va="center", **how)

    def _moving_part(self):
        add = self.add
        shade: Any = {"fc": style.SMOKE, "alpha": 0.22, "lw": 0, "label": "close up"}
        self.window = add(self.climb.add_patch(Rectangle((0, 0), 1, self.top, **shade)))
        dots: Any = {"color": style.INK, "ls": BEFORE_LINE, "lw": 1.8}
        here: Any = {"color": style.INK, "lw": 2.5}
        frames = (("climb", self.climb), ("speed", self.speed), ("temperature", self.close))
        self.lines_before = [
            add(axes.plot([], [], label=f"before {name}", **dots)[0]) for name, axes in frames
        ]
        self.lines = [add(axes.plot([], [], label=name, **here)[0]) for name, axes in frames]
        self.mark = add(self.climb.plot([], [], **now_dot(style.INK))[0])
        self.mark.set_label("smokes")

    def update(self, here: Bowed, before: Bowed | None) -> str:
        """Move to new numbers and return the sentence that says what is shown."""
        self.clear()
        shown = [here] if before is None else [here, before]
        start, end = self._window(shown)
        self.window.set_bounds(start, 0, end - start, self.top)
        for frame, up in zip(self.places[1:], self._ranges(shown, start, end), strict=True):
            frame.rescale(Scale(start, end), up)
        self._close_ticks(start, end)
        self._name_smoke(shown)
        for line in self.lines_before:
            line.set_visible(before is not None)
        self._lay(here, self.lines, (start, end))
        smokes = here.contact.first_smoke.likely <= self.duration
        self.mark.set_visible(bool(smokes))
        self.mark.set_data([here.end], [self._smoke()])
        if before is not None:
            self._lay(before, self.lines_before, (start, end))
            self._name_before(before)
        self._rests(here.contact.rhythm)
        return self.sentence(here, before)

    def _name_smoke(self, shown):
        """Name the line of first smoke, on the side where no curve comes up to it."""
        frame, early = self.places[0], min(bowed.end for bowed in shown)
        y = float(frame.down(self._smoke())) - 16
        if frame.across(early) < frame.left + _NAMED:
            self.write("first smoke", frame.right - 4, y, color=style.SMOKE, align="right")
        else:
            self.write("first smoke", frame.left + 8, y, color=style.SMOKE)

    def _smoke(self):
        return quantity(_AIR).shown(default("temperature_smoke"), self.system)

    def _name_before(self, bowed):
        """Mark where the curve of before ends, and say what it is."""
        time, _, warm = self._curve(bowed, 0.0, self.duration)
        frame = self.places[0]
        x, y = float(frame.across(time[-1])), float(frame.down(warm[-1]))
        if bowed.contact.first_smoke.likely <= self.duration:
            y = float(frame.down(self._smoke()))
            before_dot(frame, "before smokes", x, y)
        low = frame.bottom - 12
        spots = [(x + 12, y - 16, "left"), (x - 8, y - 24, "right"), (x - 8, y + 30, "right")]
        self.write_free("before", [(at, min(up, low), how) for at, up, how in spots])

    def _rests(self, rhythm):
        """Show by a row of bars when the bow moves and when it rests, all along the time axis."""
        if not rhythm.pause:
            return
        frame, turn = self.places[0], rhythm.bout + rhythm.pause
        top, bottom = frame.top - 16, frame.top - 9
        for number in range(int(np.ceil(self.duration / turn))):
            start = number * turn
            ends = frame.across(np.minimum((start, start + rhythm.bout), self.duration))
            frame.fill(f"bowing, bout {number}", ends[0], top, ends[1], bottom, style.EDGE)
        if rhythm.bout >= self.duration:
            words = f"first rest after {rhythm.bout:g}\N{NO-BREAK SPACE}s"
            self.write(words, frame.right - 4, frame.bottom - 16, color=style.QUIET, align="right")
        else:
            self.write("bowing, resting", frame.right, 16, color=style.QUIET, align="right")

    # ---- curves ---------------------------------------------------------------------------------

    def _window(self, shown):
        """Seconds shown close up: some strokes that end before any of the curves does."""
        end = min(self.duration, *(bowed.end for bowed in shown))
        strokes = _STROKES * max(bowed.contact.rhythm.stroke_time for bowed in shown)
        return max(0.0, end - float(np.clip(strokes, _CLOSEST, _WIDEST))), end

    def _curve(self, bowed, start, end):
        """Time, speed and temperature between two moments, as a reader sees them."""
        heat = bowed.contact.heat
        time = heat.history.time
        inside = (time >= start) & (time <= min(end, bowed.end))
        every = slice(None, None, max(1, int(inside.sum()) // _DOTS))
        warm = quantity(_AIR).shown(bowed.ambient + heat.rise[inside][every], self.system)
        speed = quantity("speed").shown(heat.history.speed[inside][every], self.system)
        return time[inside][every], speed, warm

    def _ranges(self, shown, start, end):
        curves = [self._curve(bowed, start, end) for bowed in shown]
        fastest = max(speed.max() for _, speed, _ in curves)
        low = min(warm.min() for *_, warm in curves)
        high = max(warm.max() for *_, warm in curves)
        room = max(0.08 * (high - low), 2.0)
        return Scale(0.0, 1.1 * float(fastest) or 1.0), Scale(float(low - room), float(high + room))

    def _lay(self, bowed, lines, window):
        time, _, warm = self._curve(bowed, 0.0, self.duration)
        lines[0].set_data(np.append(0.0, time), np.append(self._ambient(bowed), warm))
        time, speed, warm = self._curve(bowed, *window)
        lines[1].set_data(time, speed)
        lines[2].set_data(time, warm)

    def _ambient(self, bowed):
        return quantity(_AIR).shown(bowed.ambient, self.system)

    # ---- words ----------------------------------------------------------------------------------

    def _close_ticks(self, start, end):
        names = ("speed", 2), ("temperature", 4)
        for frame, (name, steps) in zip(self.places[1:], names, strict=True):
            left, (low, high, _) = frame.left, frame.y
            step = _round_step((high - low) / steps)
            for value in np.arange(np.ceil(low / step), high / step) * step:
                y = frame.down(value)
                frame.fill(f"{name} {value:g}", left - 5, y, left, y + 1, style.INK)
                self.write(f"{value:zg}", left - 9, y, align="right")
        left, _, right, bottom = _CLOSE
        self.write(f"{start:.1f}\N{NO-BREAK SPACE}s", left, bottom + 16)
        self.write(f"{end:.1f}\N{NO-BREAK SPACE}s", right, bottom + 16, align="right")
        words = "grey strip" if end - start < self.duration / 3 else ""
        self.write(words, (left + right) / 2, bottom + 16, color=style.QUIET, align="center")

    def sentence(self, here: Bowed, before: Bowed | None) -> str:
        """Say in words what the picture shows."""
        words = self._say(here)
        return f"{words}." if before is None else f"{words}. Before: {self._say(before)}."

    def _say(self, bowed):
        contact, rhythm = bowed.contact, bowed.contact.rhythm
        swing, unit = swing_words(contact.swing, self.system)
        moves = "swings" if rhythm.pause else "ripples"
        rests = f", {rhythm.pause:g} s rest after every {rhythm.bout:g} s" if rhythm.pause else ""
        return (
            f"{quantity('stroke_length').text(rhythm.stroke_length, self.system)} strokes, "
            f"{rhythm.strokes_per_minute:.0f} a minute{rests}, "
            f"{quantity('speed').text(rhythm.average, self.system)} on average: contact {moves} by "
            f"{swing} {unit} and first smokes {smoke_words(contact)}"
        )


def swing_words(swing: float, system: str) -> tuple[str, str]:
    """Spell a difference of temperatures: number and unit."""
    unit = unit_text(quantity(_AIR).shown_unit(system))
    zero, there = (quantity(_AIR).shown(at, system) for at in (300.0, 300.0 + swing))
    return f"{there - zero:.0f}", unit


def smoke_words(contact: ContactHeat) -> str:
    """Say when the contact first smokes: likely moment and band."""
    low, likely, high = contact.first_smoke
    last = contact.heat.history.duration
    if not np.isfinite(likely):
        return f"not within {time_words(float(last))}"
    late = f"{time_words(low)} to over {time_words(float(last))}"
    return f"after {moment_words(likely)} ({late if np.isinf(high) else band_words((low, high))})"


def _round_step(value):
    """Round up to the next of 1, 2, 5 times a power of ten."""
    power = 10.0 ** np.floor(np.log10(value))
    return float(next(step * power for step in (1, 2, 5, 10) if step * power >= value * 0.999))
