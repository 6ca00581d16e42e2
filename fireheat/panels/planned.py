"""How many tries tell a change from luck, and in which order to make them."""

import html

import ipywidgets as widgets

from ..answers.pairs import CHANGES
from ..answers.planned import TOO_MANY, order_of, planned
from ..figures.pairs import PairLanes
from ..kit.kit import Try
from ..words import band_words, factor_words
from .base import BELOW, Panel, bar, cells, tiles, unfolding
from .controls import Choice, Slider
from .units import GivenUnits

_START = {"diameter": 0.022, "force": None}
_PATIENCE = {60.0: "1 min", 120.0: "2 min", 180.0: "3 min", 300.0: "5 min"}
_LEARNERS = {2: "2", 3: "3", 4: "4", 6: "6"}


class PlanTries(Panel):
    """What physics expects of a change, how many tries a side show it, and a running order by lot.

    Parameters
    ----------
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "How many tries beat luck?"

    def __init__(self, units: GivenUnits = None):
        names = {key: words for key, (words, *_) in CHANGES.items()}
        choices = {
            "change": Choice("The other side is", names),
            "give_up": Choice("Give up after", _PATIENCE, 120.0),
            "learners": Choice("Learners", _LEARNERS, 4),
        }
        controls = choices | {key: Slider(key, value) for key, value in _START.items()}
        self.order = widgets.HTML()
        self.order.add_class(BELOW)
        box = widgets.VBox([self.order])
        layout = [
            bar(*(one.widget for one in choices.values())),
            cells(controls, *_START),
            bar(unfolding("Running order, to copy", box)),
            box,
        ]
        super().__init__(controls, layout, units)

    def answer(self, state):
        """Plan the tries."""
        now = Try().changed(**{key: state[key] for key in _START})
        return planned(now, change=state["change"], give_up=state["give_up"])

    def draw(self, answer, before):
        """Draw both times and their ratio, and write the running order."""
        self._write_order(answer)
        sketch = self.sketch(PairLanes)
        words = sketch.update(answer.pairs, before.pairs if before else None)
        told = f"To tell it from luck: {_tries(answer)} tries a side."
        return sketch, f"{told} {words}"

    def _write_order(self, answer):
        state = self.state
        now = Try().changed(**{key: state[key] for key in _START})
        codes = [f"L{number:02}" for number in range(1, state["learners"] + 1)]
        turns = order_of(now, answer, learners=codes, system=self.system)
        lines = [f"<li>{one.learner}: {html.escape(one.setting)}</li>" for one in turns]
        words = "By lot, so that neither practice nor tired arms look like physics."
        if not lines:
            words = "No order: these two sides nobody can tell apart. Choose others."
        self.order.value = f'{words}<ol class="fh-order">{"".join(lines)}</ol>'

    def results(self, answer, before):
        """Spell how many tries, what to expect, and how many embers."""
        rows = (
            ("fh-yours", "Tries a side", _tries, _most(answer)),
            ("fh-ember", "Physics expects", _expects, "the other side's time, beside the one's"),
            ("", "Embers in all", _embers, "the rest is given up: that counts too"),
            ("", "The one side", lambda one: band_words(one.pairs.one.all), "all we do not know"),
        )
        return tiles(rows, answer, before)

    def effects(self, answer):
        """Say what patience does."""
        return {"give_up": "more patience, fewer tries"}


def _tries(answer):
    return TOO_MANY if answer.plan is None else f"{answer.plan.tries_a_side}"


def _most(answer):
    if answer.plan is None:
        return "one side hardly ever glows, or both are alike: choose other sides, or wait longer"
    both = answer.plan, answer.most
    most = TOO_MANY if answer.most is None else f"{max(one.tries_a_side for one in both)}"
    return f"up to {most}, if the change is as small as it may be; 4 evenings of 5 then show it"


def _expects(answer):
    return factor_words(answer.pairs.ratio)


def _embers(answer):
    return "–" if answer.plan is None else f"about {sum(answer.plan.embers):.0f}"
