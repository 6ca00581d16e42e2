"""How hard is too hard: one arm, one kit, and the force in between."""

from dataclasses import replace
from functools import cache
from math import isnan
from typing import Any

import ipywidgets as widgets

from ..arm import LAWS, arms
from ..bowing import cord_slip_pull, tip_share
from ..figures.press_curve import PressCurve
from ..kit import Air, Kit
from ..pressing import valley
from ..quantities import METRIC, default, quantity
from ..words import NEVER, band_words, number_words, time_words
from .base import Choice, Panel, Slider, cells, tiles

_LAW_WORDS = {"hill": "a curve (Hill)", "linear": "a straight line"}


class PressAndSpeed(Panel):
    """An arm that slows as it is loaded: where the watts peak, and what it can keep up.

    Parameters
    ----------
    kit, air : optional
        What it is tried on.
    arm : str
        One of the example arms, which are assumptions.
    units : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(
        self,
        kit: Kit | None = None,
        air: Air | None = None,
        *,
        arm: str = "teenager",
        units: str = METRIC,
    ):
        self._kit, self._air = kit or Kit(), air or Air()
        self._curve = cache(PressCurve)
        controls: dict[str, Any] = {
            "arm": Choice("Whose arm", {key: row.name for key, row in arms().items()}, arm),
            "law": Choice("Arm slows along", {law: _LAW_WORDS[law] for law in LAWS}),
            "force": Slider("force_tried"),
            "diameter": Slider("diameter", self._kit.diameter),
            "block_friction": Slider("block_friction", self._kit.block_friction),
            "slack_tension": Slider("slack_tension"),
        }
        choose = widgets.HBox([controls[key].widget for key in ("arm", "law")])
        choose.add_class("fh-bar")
        sliders = cells(controls, "force", "diameter", "block_friction", "slack_tension")
        super().__init__(controls, [choose, sliders], units)

    def answer(self, state):
        """Make the one pure call."""
        kit = replace(
            self._kit, radius=state["diameter"] / 2, block_friction=state["block_friction"]
        )
        arm = replace(arms()[state["arm"]], law=state["law"])
        slips = float(
            cord_slip_pull(state["slack_tension"], default("cord_friction"), default("wrap_angle"))
        )
        limit = "the cord slips" if slips < arm.pull_max else "the arm stalls"
        return kit, valley(kit, arm, self._air, state["force"], slips), slips, limit

    def draw(self, answer, pinned):
        """Draw the three lanes."""
        sketch = self._curve(self.system)
        words = sketch.update(answer[1], pinned[1] if pinned else None)
        return sketch.png(), words

    def results(self, answer, pinned):
        """Spell the ember, what is left of the speed, the watts, and the hold time."""
        speed = quantity("speed")
        rows = (
            ("fh-ember", "Ember, estimate", lambda a: band_words(*a[1].now.ember[[0, 2]]), ""),
            ("", "Bow speed left", lambda a: speed.text(a[1].now.speed, self.system), ""),
            ("", "Heat at the tip", lambda a: f"{number_words(a[1].now.power)} W", ""),
            ("", "Arm is spent after", lambda a: time_words(a[1].now.hold), _kept(answer[1].now)),
        )
        return tiles(rows, answer, pinned)

    def effects(self, answer):
        """Say which way to go, and what reaches the tip."""
        kit, found, slips, limit = answer
        row = quantity("force_tried")
        stall = row.text(found.stall, self.system)
        pull = quantity("pull")
        most = f"{pull.shown(slips, self.system):.0f} {pull.shown_unit(self.system)}"
        return {
            "force": f"{_which_way(found)}; {limit} at {stall}",
            "diameter": "thicker: the same pull, more wood to heat",
            "block_friction": f"{tip_share(kit):.0%} of the arm's watts reach the tip",
            "slack_tension": f"the cord slips at a pull of {most}",
        }


def _kept(now):
    """Say whether the ember comes while the arm can still go on."""
    inside = [bool(kept) for kept in now.inside]
    if all(inside):
        return "the ember comes inside it"
    return "the ember may come inside it" if any(inside) else "the ember comes too late"


def _which_way(found):
    """Say what a tenth more or a tenth less force would do."""
    if isnan(found.firmer):
        return f"still {NEVER}: press less"
    if abs(found.firmer - 1) < 0.01 and abs(found.softer - 1) < 0.01:
        return "as good as it gets: a tenth either way changes nothing"
    better = min(found.firmer, found.softer)
    if better > 0.99:
        return "about the best place: either way is later"
    way = "more" if found.firmer <= found.softer else "less"
    return f"a tenth {way}: sooner by {1 - better:.0%}"
