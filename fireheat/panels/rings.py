"""Where the watts come from: the tip ring by ring, and the watts beside familiar things."""

from dataclasses import replace
from functools import cache
from typing import Any

import ipywidgets as widgets

from ..bowing import kit_pull
from ..everyday import familiar_powers, hung_mass, like_power, suns
from ..figures.ladder import Ladder
from ..figures.rings import SHOWN, RingPicture, Tip
from ..kit import Effort, Kit, kit_power
from ..quantities import METRIC, US, from_si, quantity, to_si, unit_text
from ..rings import cut
from ..words import number_words, percent_words
from .base import Choice, Panel, Slider, cells, tiles

_CONTACTS = {"uniform_wear": "worn in", "uniform_pressure": "fresh and flat"}


class Rings(Panel):
    """The tip cut into rings: who presses, who holds back, who makes the heat.

    Parameters
    ----------
    kit, effort : optional
        Where the sliders start.
    units : str
        ``"metric"`` or ``"us"``.
    """

    view = ("shown", "count")

    def __init__(
        self, kit: Kit | None = None, effort: Effort | None = None, *, units: str = METRIC
    ):
        self._kit, effort = kit or Kit(), effort or Effort()
        self._sketch = cache(RingPicture)
        controls: dict[str, Any] = {
            "diameter": Slider("diameter", self._kit.diameter),
            "force": Slider("force", effort.force),
            "friction": Slider("friction", self._kit.friction),
            "speed": Slider("speed", effort.speed),
            "contact": Choice("Spindle tip", _CONTACTS, self._kit.contact),
            "shown": Choice("Picture shows", SHOWN),
            "count": Choice("Rings", {4: "4", 8: "8", 16: "16"}, 8),
        }
        choose = widgets.HBox([controls[key].widget for key in ("contact", "shown", "count")])
        controls["count"].widget.add_class("fh-short")
        choose.add_class("fh-bar")
        super().__init__(controls, [choose, cells(controls, *list(controls)[:4])], units)

    def answer(self, state):
        """Make the one pure call."""
        kit = replace(
            self._kit,
            radius=state["diameter"] / 2,
            friction=state["friction"],
            contact=state["contact"],
        )
        effort = Effort(force=state["force"], speed=state["speed"])
        name = {"uniform_wear": "worn-in tip", "uniform_pressure": "fresh flat tip"}[kit.contact]
        return state["shown"], Tip(cut(kit, effort, state["count"]), name)

    def draw(self, answer, pinned):
        """Draw the disc and its bars."""
        sketch = self._sketch(self.system)
        shown, tip = answer
        words = sketch.update(tip, pinned[1] if pinned else None, shown)
        return sketch.png(), words

    def results(self, answer, pinned):
        """Spell torque, turning speed, watts and flux."""
        now = answer[1].rings
        rows = (
            ("", "Torque", lambda r: self._spell("torque", r.torque.sum()), self._hung(now)),
            ("", "Turns at", lambda r: self._spell("turning_speed", r.turning_speed), "on average"),
            ("fh-ember", "Heat made", lambda r: f"{number_words(r.power.sum())} W", _like(now)),
            ("", "Heat per area", lambda r: self._spell("flux", r.mean_flux), _suns(now)),
        )
        return tiles(rows, now, pinned[1].rings if pinned else None)

    def _spell(self, key, value):
        row = quantity(key)
        shown = row.shown(value, self.system)
        return f"{number_words(shown)} {unit_text(row.shown_unit(self.system))}"

    def _hung(self, rings):
        """Compare the torque with a mass hung on a short arm."""
        arm, unit = ("in", "lb") if self.system == US else ("cm", "kg")
        mass = from_si(hung_mass(float(rings.torque.sum()), to_si(1.0, arm)), unit)
        return f"like {number_words(mass)} {unit} hung on an arm of 1 {arm}"

    def effects(self, answer):
        """Say what each slider does to the watts, and to what it shows."""
        return {
            "diameter": "twice this: twice the torque, half the turns, same watts",
            "force": "twice this: twice the torque and the watts",
            "friction": "twice this: twice the torque and the watts",
            "speed": "twice this: twice the turns and the watts",
        }


def _like(rings):
    return like_power(float(rings.power.sum()))


def _suns(rings):
    return f"{number_words(suns(rings.mean_flux))} noon suns, on a small spot"


class WattLadder(Panel):
    """The watts at the tip beside familiar things, and what the arm has to give for them.

    Parameters
    ----------
    kit, effort : optional
        Where the sliders start.
    units : str
        ``"metric"`` or ``"us"``.
    """

    def __init__(
        self, kit: Kit | None = None, effort: Effort | None = None, *, units: str = METRIC
    ):
        self._kit, effort = kit or Kit(), effort or Effort()
        self._sketch = Ladder(familiar_powers())
        controls = {
            "force": Slider("force", effort.force),
            "speed": Slider("speed", effort.speed),
            "friction": Slider("friction", self._kit.friction),
            "block_friction": Slider("block_friction", self._kit.block_friction),
        }
        super().__init__(controls, [cells(controls, *controls)], units)

    def answer(self, state):
        """Work out the watts at the tip and those the arm gives."""
        kit = replace(self._kit, friction=state["friction"], block_friction=state["block_friction"])
        effort = Effort(force=state["force"], speed=state["speed"])
        return kit_power(kit, effort), kit_pull(kit, effort.force) * effort.speed

    def draw(self, answer, pinned):
        """Mark the watts on the ladder."""
        words = self._sketch.update(answer[0], pinned[0] if pinned else None)
        return self._sketch.png(), words

    def results(self, answer, pinned):
        """Spell the watts at the tip, those of the arm, and the share between them."""
        rows = (
            (
                "fh-ember",
                "Heat at the tip",
                lambda a: f"{number_words(a[0])} W",
                like_power(answer[0]),
            ),
            ("", "Your arm gives", lambda a: f"{number_words(a[1])} W", "pull times speed"),
            ("", "Reaches the tip", _share, "the rest warms the bearing block"),
        )
        return tiles(rows, answer, pinned)

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
    tip, arm = answer
    return percent_words(tip / arm) if arm else "nothing moves"
