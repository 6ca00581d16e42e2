"""Heat in spindle and board, moment by moment; two kits side by side."""

from typing import NamedTuple

import numpy as np

from ..answers.heat_view import NO_EMBER, NO_SMOKE, WINDOW, Story, still, story
from ..figures.heat_view import HeatSection, Moment
from ..quantities import default, quantity
from ..texts import wear_words
from ..words import TOO_LONG, band_words, number_words, shares_words, time_words
from .base import bar, button, cells, tiles
from .controls import Slider
from .play_slider import PlaySlider
from .trying import Trying
from .two_bands import EMBER, SMOKE, against_words, wood_note

_SLOW, _QUICK = 0.24, 1.0  # s of bowing a step of play: before first smoke, and after


class Watched(NamedTuple):
    """What becomes of a try, and the time looked at, in seconds."""

    story: Story
    time: float


class HeatView(Trying):
    """A cut through spindle and board that warms as the time slider moves or plays.

    It plays slowly until first smoke, and holds there and at the ember.

    Parameters
    ----------
    kit, effort, air : optional
        Where it starts.
    units : str
        ``"metric"`` or ``"us"``.
    """

    question = "Where does the heat go?"
    view = ("elapsed",)

    tried = "diameter", "force", "speed"

    def make_controls(self):
        """Make the controls, by name."""
        # A kit is run once and then only shown: its sliders answer when they are let go.
        elapsed = PlaySlider("elapsed", 0.0, forward=self._forward)
        controls = {"elapsed": elapsed} | {
            key: Slider(key, self._try.value(key), continuous=False) for key in self.tried
        }
        self.to_smoke = button("To first smoke", lambda: self._jump(0))
        self.to_ember = button("To ember", lambda: self._jump(1))
        *rest, play = elapsed.box.children
        elapsed.box.children = [*rest, bar(play, self.to_smoke, self.to_ember)]
        return controls

    def lay_out(self, controls):
        """Stand the controls."""
        return [cells(controls, *controls)]

    def _story(self, state=None):
        state = self.state if state is None else state
        return story(self.now(state), measured=self.known(state))

    def _forward(self, time):
        """Step on as it plays; hold at first smoke, and at the ember."""
        marks = self._story().milestones
        ahead = [mark for mark in marks if mark > time]
        step = _QUICK if marks and time >= marks[0] else _SLOW
        if ahead and time + step >= ahead[0]:
            return ahead[0], True
        return time + step, False

    def _jump(self, which):
        marks = self._story().milestones
        if which < len(marks):
            self.set(elapsed=marks[which])

    def answer(self, state):
        """Tell what becomes of the try, and look at it at the time chosen."""
        return Watched(self._story(state), state["elapsed"])

    def _moment(self, answer):
        told, time = answer
        state, found = told.state, told.found
        thick = quantity("diameter").text(state.kit.diameter, self.system)
        return Moment(
            run=still(told.run, time=time),
            time=time,
            contact=state.air.temperature + told.contact_rise(time),
            radius=state.kit.radius,
            ambient=state.air.temperature,
            smoke=found.smoke.likely,
            ember=found.ember.likely,
            window=WINDOW,
            title=f"{thick} spindle, {number_words(found.power)} W",
            heat=told.heat(time),
        )

    def draw(self, answer, before):
        """Draw the cut now, and the one before beside it; its buttons lead where it can go."""
        sketch = self.sketch(HeatSection, self.system)
        words = sketch.update(self._moment(answer), self._moment(before) if before else None)
        for which, jump in enumerate((self.to_smoke, self.to_ember)):
            jump.disabled = which >= len(answer.story.milestones)
        return sketch, f"{words} {_ending(answer.story)}"

    def results(self, answer, before):
        """Spell first smoke, ember, contact temperature and the share in dust."""
        found = answer.story.found
        now = "where the woods rub, now"
        change = against_words(before and before.story.state, answer.story.state)
        rows = (
            ("fh-smoke", SMOKE, lambda a: band_words(a.story.spread.smoke_all),
             f"{wood_note(found.smoke)}{_late(found.smoke.likely)}"),
            ("fh-ember", EMBER, lambda a: band_words(a.story.spread.all),
             f"{change}{_ember_note(answer.story)}{_late(found.ember.likely)}"),
            ("", "Contact", self._contact, now),
            ("", "Into dust and water", _dust, "of all the heat made so far"),
        )  # fmt: skip
        return f'{tiles(rows, answer, before)}<div class="fh-note">{self._cool(answer)}</div>'

    def _contact(self, answer):
        kelvin = answer.story.state.air.temperature + answer.story.contact_rise(answer.time)
        return quantity("temperature_ambient").text(kelvin, self.system)

    def _cool(self, answer):
        """Say from which wear on the dust stays cool."""
        most, state = answer.story.allowance, answer.story.state
        length = quantity("stroke_length").text(default("stroke_length"), self.system)
        words = (
            f"Cool dust: a pair that wears off more than {wear_words(most.wear, self.system)} can "
            "never char, however you bow. Its heat leaves with brown dust."
        )
        if not np.isfinite(most.strokes):
            return words
        depth = quantity("burn_in_depth").text(most.depth, self.system)
        force = quantity("force").text(state.effort.force, self.system)
        return (
            f"{words} Here, with {force}: {depth} gone in fewer than "
            f"{number_words(most.strokes)} strokes of {length}."
        )


def _ember_note(told):
    if told.ending == NO_EMBER:
        return f"most likely it {NO_EMBER}"
    return f"most likely it {NO_SMOKE}" if told.ending == NO_SMOKE else wood_note(told.found.ember)


def _late(likely):
    """Say that a milestone lies beyond what is watched."""
    return f"; after the picture's {time_words(WINDOW)}" if WINDOW < likely < TOO_LONG else ""


def _ending(told):
    """Say which of three endings is the likely one, and with which times."""
    smoke, ember = told.spread.smoke_all, told.spread.all
    if told.ending == NO_SMOKE:
        return f"Most likely it {NO_SMOKE}, and so never glows: {_why(told)}."
    if told.ending == NO_EMBER:
        return f"Most likely it {NO_EMBER}: {_why(told)}."
    return (
        f"Estimates, with all we do not know: first smoke {band_words(smoke)}, "
        f"ember {band_words(ember)}."
    )


def _why(told):
    why = told.found.never or "it would take more than an hour"
    return why.replace(": it smokes, but", ", but")


def _dust(answer):
    heat = answer.story.heat(answer.time)
    return shares_words(heat)["dust_and_water"] if any(heat.values()) else "no heat yet"
