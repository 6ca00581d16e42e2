"""The watts at the tip beside familiar things."""

from typing import NamedTuple

from ..everyday import familiar_powers, like_power
from ..figures.ladder import Ladder
from ..person.limits import kit_pull
from ..words import number_words, percent_words
from .base import cells, tiles
from .controls import Slider
from .trying import Trying


class Watts(NamedTuple):
    """Watts at the tip, and those that the arm gives for them."""

    tip: float
    arm: float


class WattLadder(Trying):
    """The watts at the tip beside familiar things, and what the arm has to give for them.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start.
    units : str
        ``"metric"`` or ``"us"``.
    """

    question = "What else makes so many watts?"

    tried = "force", "speed", "friction", "block_friction"
    banded = False

    def make_controls(self):
        """Make the controls, by name."""
        return {
            "force": Slider("force", self._try.effort.force),
            "speed": Slider("speed", self._try.effort.speed),
            "friction": Slider("friction", self._try.kit.friction),
            "block_friction": Slider("block_friction", self._try.kit.block_friction),
        }

    def lay_out(self, controls):
        """Stand the controls."""
        return [cells(controls, *controls)]

    def answer(self, state):
        """Work out the watts at the tip and those the arm gives."""
        tried = self.now(state)
        pull = kit_pull(tried.kit, force=tried.effort.force)
        return Watts(tried.power, pull * tried.effort.speed)

    def draw(self, answer, before):
        """Mark the watts on the ladder."""
        sketch = self.sketch(Ladder, familiar_powers())
        return sketch, sketch.update(answer.tip, before.tip if before else None)

    def results(self, answer, before):
        """Spell the watts at the tip, those of the arm, and the share between them."""
        rows = (
            (
                "fh-ember",
                "Heat at the tip",
                lambda a: f"{number_words(a.tip)} W",
                like_power(answer.tip),
            ),
            ("", "Your arm gives", lambda a: f"{number_words(a.arm)} W", "pull times speed"),
            ("", "Reaches the tip", _share, "the rest warms the bearing block"),
        )
        return tiles(rows, answer, before)

    def effects(self, answer):
        """Say what each slider does to the watts."""
        twice = "twice this: twice the watts"
        return {
            "force": f"{twice}, and twice the pull",
            "speed": f"{twice}, at the same pull",
            "friction": f"{twice} at the tip",
            "block_friction": "less of this: same watts at the tip, less from you",
        }


def _share(answer):
    return percent_words(answer.tip / answer.arm) if answer.arm else "nothing moves"
