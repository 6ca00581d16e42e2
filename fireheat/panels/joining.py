"""Between a factor of four and a factor of sixteen: the curve that joins them, kit by kit."""

from ..answers.joining import Joined, joined
from ..figures.joining import WIDER, FactorCurve
from ..quantities import default, quantity
from ..words import moment_words, number_words, percent_words
from .base import cells, tiles
from .controls import Slider
from .trying import Trying


class JoiningCurve(Trying):
    """How much later a spindle twice as thick is, were heat only to soak straight in.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start.
    units : str
        ``"metric"`` or ``"us"``.
    """

    question = "Twice as thick: how much later?"

    tried = "diameter", "force", "speed", "burn_in_depth"
    banded = False

    def make_controls(self):
        """Make the controls, by name."""
        return {key: Slider(key, self._try.value(key)) for key in self.tried}

    def lay_out(self, controls):
        """Stand the controls."""
        return [cells(controls, *self.tried)]

    def answer(self, state):
        """Make the one pure call."""
        return joined(self.now(state), wider=WIDER)

    def draw(self, answer, before):
        """Draw the curve between its two ends."""
        sketch = self.sketch(FactorCurve)
        return sketch, sketch.update(answer, before)

    def results(self, answer, before):
        """Spell the factor, the share that soaks in, and the two times of this simple picture."""
        hot = quantity("temperature_char").text(default("temperature_char"), self.system)
        rows = (
            ("fh-ember", "Twice as thick takes", _twice, "more than 4, less than 16"),
            ("", "Soaks into the wood", lambda one: percent_words(one.soaked), "of all the heat"),
            (
                "",
                "Hot enough after",
                lambda one: moment_words(one.hot),
                f"as glowing dust, {hot}",
            ),
            (
                "",
                "Ember after",
                lambda one: moment_words(one.ember),
                "if nothing leaked or wore off",
            ),
        )
        return tiles(rows, answer, before)


def _twice(one: Joined) -> str:
    return f"{number_words(one.twice)} times"
