"""How hard is too hard: one arm, one kit, and the force in between."""

from dataclasses import replace
from functools import cache
from math import isinf
from typing import Any

import ipywidgets as widgets

from ..arm import LAWS, arms
from ..bowing import cord_slip_pull, tip_share
from ..figures.press_curve import PressCurve, watts_axis
from ..kit import Air, Kit
from ..pressing import valley
from ..quantities import METRIC, default, quantity
from ..words import NEVER, band_words, number_words, percent_words, time_words
from .base import Choice, Panel, Slider, cells, tiles

_LAW_WORDS = {"hill": "a curve (Hill)", "linear": "a straight line"}
_KINDS = {"likely": "a middling one", "weak": "a weak one", "strong": "a strong one"}
_SAME = 0.005  # of the watts: less is no difference


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
            "kind": Choice("Of that kind", _KINDS),
            "force": Slider("force_tried"),
            "diameter": Slider("diameter", self._kit.diameter),
            "block_friction": Slider("block_friction", self._kit.block_friction),
            "block_radius": Slider("block_radius", self._kit.block_radius),
            "slack_tension": Slider("slack_tension"),
            "law": Choice("Arm slows along", {law: _LAW_WORDS[law] for law in LAWS}),
        }
        self.more = widgets.ToggleButton(description="More: block, cord, law")
        main, self._fold = (
            cells(controls, *list(controls)[:4]),
            cells(controls, *list(controls)[4:]),
        )
        self._fold.layout.display = "none"
        self.more.observe(self._unfold, names="value")
        bar = widgets.HBox([self.more])
        bar.add_class("fh-bar")
        super().__init__(controls, [main, bar, self._fold], units)

    def _unfold(self, change):
        self._fold.layout.display = None if change["new"] else "none"

    def answer(self, state):
        """Make the one pure call."""
        kit = replace(
            self._kit,
            radius=state["diameter"] / 2,
            block_friction=state["block_friction"],
            block_radius=state["block_radius"],
        )
        example = arms()[state["arm"]]
        arm = example if state["kind"] == "likely" else getattr(example, state["kind"])
        slips = float(
            cord_slip_pull(state["slack_tension"], default("cord_friction"), default("wrap_angle"))
        )
        arm = replace(arm, law=state["law"])
        return kit, example, valley(kit, arm, self._air, state["force"], slips)

    def draw(self, answer, pinned):
        """Draw the three lanes, the watts as large as fits."""
        found = [each[-1] for each in (answer, pinned) if each]
        most = max(float(each.sweep.power.max()) for each in found)
        sketch = self._curve(self.system, watts_axis(most))
        words = sketch.update(found[0], found[1] if pinned else None)
        return sketch.png(), words

    def results(self, answer, pinned):
        """Spell the ember, what is left of the speed, the watts, and the hold time."""
        speed, now = quantity("speed"), answer[-1].now
        rows = (
            ("fh-ember", "Ember, estimate", _band, _floor(now)),
            ("", "Bow speed left", lambda a: speed.text(a[-1].now.speed, self.system), ""),
            (
                "",
                "Heat at the tip",
                lambda a: f"{number_words(a[-1].now.power)} W",
                f"the arm gives {number_words(now.arm_power)} W",
            ),
            ("", "Arm is spent after", _hold, _kept(now)),
        )
        return tiles(rows, answer, pinned)

    def effects(self, answer):
        """Say which way to go, what reaches the tip, what stops the bow, and what is assumed."""
        kit, example, found = answer
        stall = quantity("force_tried").text(found.stall, self.system)
        share = f"{percent_words(tip_share(kit))} of the arm's watts reach the tip"
        return {
            "arm": _ends("pull_max", example, self.system),
            "kind": _ends("speed_max", example, self.system),
            "force": _which_way(found),
            "diameter": "thicker: more wood to heat, at much the same pull",
            "block_friction": share,
            "block_radius": f"a finer point rubs on a shorter arm: {share.partition(' of')[0]}",
            "slack_tension": f"the cord slips at {stall} of force"
            if found.slips
            else f"tight enough: the arm stalls first, at {stall}",
            "law": "muscle alone is curved; whole people come near the line",
        }


def _ends(key, example, system):
    """Say from what to what one number of this kind of arm goes, and that it is assumed."""
    row = quantity(key)
    low, high = (getattr(arm, key) for arm in (example.weak, example.strong))
    first = row.text(low, system).partition(" ")[0]
    return f"{row.name} {first} to {row.text(high, system)}: assumed"


def _band(answer):
    return band_words(*answer[-1].now.ember[[0, 2]])


def _floor(now):
    floor = time_words(now.bound)
    return "the bow stands still" if floor == NEVER else f"energy floor: never under {floor}"


def _hold(answer):
    time = time_words(answer[-1].now.hold)
    return "no end seen" if time == NEVER else time


def _kept(now):
    """Say whether the ember comes while the arm can still go on."""
    if isinf(now.ember[0]):
        return "but there is never an ember"
    if all(now.inside):
        return "the ember comes before that"
    return "the ember may come before that" if any(now.inside) else "the ember comes too late"


def _which_way(found):
    """Say what a tenth more force does to the bow and to the watts, and so which way to go."""
    now, firmer = found.now, found.firmer
    stops = "the cord slips" if found.slips else "the arm stalls"
    if now.speed == 0:
        return f"{stops}: press less"
    if firmer.speed == 0:
        return f"a tenth more, and {stops}: stay below"
    gain = firmer.power / now.power - 1
    slower = f"a tenth more slows the bow by {percent_words(1 - firmer.speed / now.speed)}"
    if abs(gain) < _SAME:
        return f"{slower}: no gain left, you are at the top"
    return f"{slower}: {'worth it, more watts' if gain > 0 else 'too hard, ease off'}"
