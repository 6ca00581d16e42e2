"""The next try on the plank: the handbook's band, and below it what our evenings leave of it."""

from typing import Any

import numpy as np
from matplotlib.patches import Polygon

from ..answers.next_try import NextTry
from ..words import band_words, time_words
from . import style
from .fitted import NAMES
from .lane import Plank, page
from .sketch import Sketch

_WIDTH, _HEIGHT = 800, 330
_LEFT, _RIGHT, _GROUND, _POINT = 150, 770, 286, 12
_ROWS = {"handbook": 66, "evenings": 146, "before": 216}
_HALF = 17
_NOTABLE, _HAIR = 6, 1e-9  # of ten; and what a share may lose by rounding
_DASH: Any = (0, (4, 2.5))
_STRANGE = {**NAMES, "level": "how long they all took", "moisture": "moisture"}


class NextTryBars(Sketch):
    """Two bars, one below the other, and an empty one for what was before."""

    def __init__(self):
        super().__init__(_WIDTH, _HEIGHT)
        with style.look():
            self.plank = Plank(self, _LEFT, 8, _RIGHT, _GROUND)
            pale: Any = {"fc": style.EMBER_PALE, "ec": style.EMBER_BAND, "ls": _DASH, "lw": 1.2}
            blue: Any = {"fc": style.YOURS_PALE, "ec": style.YOURS, "lw": 2}
            empty: Any = {"fc": style.PAPER, "ec": style.INK, "ls": _DASH, "lw": 1.8}
            looks = {"handbook": pale, "evenings": blue, "before": empty}
            self._bars = {name: self._shape(name, **look) for name, look in looks.items()}

    def _shape(self, name, **look):
        return self.add(page(self).add_patch(Polygon(np.zeros((3, 2)), label=name, **look)))

    def update(
        self, now: NextTry, before: NextTry | None = None, *, whose: str = "these evenings"
    ) -> str:
        """Move everything and return the sentence that says what is shown.

        Parameters
        ----------
        now, before : NextTry
            What to expect now, and before if that was kept.
        whose : str, optional
            What the tries' bar is called.
        """
        self.clear()
        bands = {"handbook": now.handbook, "evenings": now.evenings}
        bands |= {"before": before.evenings} if before else {}
        must = [now.evenings.high, now.handbook.likely, *(band.low for band in bands.values())]
        self.plank.fit(must, [now.handbook.high])
        for name, bar in self._bars.items():
            bar.set_visible(name in bands)
        for name, band in bands.items():
            self._show(name, band, _ROWS[name], whose if name == "evenings" else name)
        words = f"{_named(now)} Handbook: {band_words(now.handbook)}. {place_words(now)}"
        return words + (f" Before: {band_words(before.evenings)}." if before else "")

    def _show(self, name, band, y, words):
        self.write(words, _LEFT - 12, y, align="right")
        if not self.plank.holds(band.low):
            self._bars[name].set_visible(False)
            self.write(f"no ember before {band_words(band)}", _LEFT + 12, y)
            return
        left, right = (self.plank.across(end) for end in band.ends)
        tip = [] if self.plank.holds(band.high) else [(right + _POINT, y)]
        corners = [(left, y - _HALF), (right, y - _HALF), *tip, (right, y + _HALF)]
        self._bars[name].set_xy([*corners, (left, y + _HALF)])
        if tip:
            self.write(f"to {time_words(band.high)}", _RIGHT, y + _HALF + 15, align="right")
        if self.plank.holds(band.likely) and name != "before":
            x = self.plank.across(band.likely)
            self.fill(x - 2.5, y - 22, x + 2.5, y + 22, style.EMBER, name=f"{name}, likely")


def _named(now):
    count = "1 try" if now.tries == 1 else f"{now.tries} tries"
    return f"After {count} of ours, the next one: {band_words(now.evenings)}."


def place_words(now: NextTry) -> str:
    """Say where our fire stands among those that the handbook expects, of ten.

    Parameters
    ----------
    now : NextTry
        What to expect.

    Returns
    -------
    str
        A sentence; where ours is neither slow nor quick, it says so.

    Examples
    --------
    >>> from fireheat.answers.next_try import TimedTry, Try, next_try
    >>> place_words(next_try(Try(), [TimedTry(time=300.0, ended="ember")] * 4))
    'Our fire is slower than 9 of 10 fires that the handbook expects.'
    """
    for word, share in (("slower", now.slower_than), ("quicker", 1 - now.slower_than)):
        if (tenths := int(10 * share + _HAIR)) >= _NOTABLE:
            return f"Our fire is {word} than {tenths} of 10 fires that the handbook expects."
    return "Our fire is much like those that the handbook expects."


def strange_words(now: NextTry) -> str:
    """Say what about our tries is out of the ordinary, and what to do about it.

    Examples
    --------
    >>> from fireheat.answers.next_try import TimedTry, Try, next_try
    >>> strange_words(next_try(Try(), [TimedTry(time=900.0, ended="ember")] * 6))[:62]
    'Out of the ordinary for this physics: how long they all took. '
    """
    if not now.strange:
        return "Nothing about them is out of the ordinary for this physics."
    named = " and ".join(_STRANGE[key] for key in now.strange)
    return (
        f"Out of the ordinary for this physics: {named}. Look at the log, then doubt the physics."
    )
