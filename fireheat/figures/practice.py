"""Small pictures for practice: taps on a line of time, and the beats of a track."""

import math

import numpy as np

from ..person.beat import Beat
from . import style
from .sketch import UNIT, Frame, Scale, Sketch

_WIDTH, _HEIGHT = 800, 112
_LEFT, _RIGHT, _LINE = 24, 776, 66
_LEAST = 10.0  # seconds that the line shows at least
_LONG = 240.0  # seconds up to which there is room for a mark each twenty


class TapLine(Sketch):
    """Each tap as a stroke on a line of time; a long gap shows a missed one."""

    def __init__(self):
        super().__init__(_WIDTH, _HEIGHT)
        self.frame = Frame(self, (_LEFT, _LINE - 34, _RIGHT, _LINE))

    def update(self, taps: np.ndarray, missed: int) -> str:
        """Move to new taps and return the sentence that says what is shown."""
        self.clear()
        taps = np.asarray(taps, dtype=float)
        taps = taps - taps[:1].sum()
        last = max(_LEAST, taps[-1] if len(taps) else 0.0)
        self.frame.rescale(Scale(0.0, last))
        across, fill = self.frame.across, self.frame.fill
        fill("line of time", _LEFT, _LINE, _RIGHT, _LINE + 1, style.INK)
        apart = 5 if last < 40 else 20 * math.ceil(last / _LONG)
        for second in range(0, int(last) + 1, apart):
            x = across(second)
            fill(f"{second} s", x, _LINE, x + 1, _LINE + 8, style.INK)
            self.write(f"{second} s", x, _LINE + 20, align="center")
        for number, x in enumerate(across(taps)):
            fill(f"tap {number}", x - 1, _LINE - 34, x + 2, _LINE, style.INK)
        self._mark_gaps(taps)
        return _taps_words(len(taps), missed)

    def _mark_gaps(self, taps):
        gaps = np.diff(taps)
        if len(gaps) < 2:
            return
        for start in taps[:-1][gaps >= 1.5 * np.median(gaps)]:
            x = self.frame.across(start + np.median(gaps))
            self.write("missed?", x, _LINE - 46, color=style.EMBER, align="center")


def _taps_words(count, missed):
    if count == 0:
        return "No taps yet"
    words = "1 tap" if count == 1 else f"{count} taps"
    if not missed:
        return words
    return f"{words}, {missed} {'pass' if missed == 1 else 'passes'} perhaps missed"


class BeatLine(Sketch):
    """The first beats of a track, as tall as they are loud."""

    def __init__(self):
        super().__init__(_WIDTH, _HEIGHT)
        box = _LEFT, _LINE - 58, _RIGHT, _LINE
        self.frame = Frame(self, box, Scale(0.0, _LEAST), UNIT)

    def update(self, beat: Beat, strokes_per_minute: float) -> str:
        """Move to a new track and return the sentence that says what is shown."""
        self.clear()
        across, fill = self.frame.across, self.frame.fill
        fill("line of time", _LEFT, _LINE, _RIGHT, _LINE + 1, style.INK)
        for number, (time, loud) in enumerate(self._beats(beat)):
            color, x = style.EDGE if number < beat.count_in else style.INK, across(time)
            fill(f"beat {number}", x, self.frame.down(loud), x + 4, _LINE, color)
        gap = beat.times[1] if len(beat.times) > 1 else _LEAST
        self.write("counting in", _LEFT, _LINE + 16, color=style.QUIET)
        start = max(across(beat.count_in * gap), _LEFT + 128)
        if start < _RIGHT - 200:
            self.write("one beat, one pass of the bow …", start, _LINE + 16)
        last, bowed = len(beat.samples) / beat.sample_rate, len(beat.times) - beat.count_in
        return (
            f"A beat for {strokes_per_minute:.0f} strokes a minute, {last:.0f} s long: "
            f"{beat.count_in} to count in, growing from soft, then {bowed}"
        )

    def _beats(self, beat):
        """Time and loudness of the beats that the line has room for."""
        ring = round(0.03 * beat.sample_rate)
        for time in beat.times[beat.times < _LEAST]:
            start = round(time * beat.sample_rate)
            yield time, float(np.abs(beat.samples[start : start + ring]).max())
