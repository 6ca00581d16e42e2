"""Where the watts come from: the tip ring by ring."""

from typing import NamedTuple

from ..answers.rings import cut
from ..everyday import hung_mass, like_power, suns
from ..figures.rings import SHOWN, RingPicture, Tip
from ..quantities import US, from_si, quantity, to_si, unit_text
from ..words import number_words
from .base import bar, cells, tiles
from .controls import Choice, Slider
from .trying import Trying

_TURNS = "turns a minute, on average"
CONTACTS = {"uniform_wear": "worn in", "uniform_pressure": "fresh and flat"}


class Seen(NamedTuple):
    """The tip, and what its picture shows of it."""

    shown: str
    tip: Tip


class Rings(Trying):
    """The tip cut into rings: who presses, who holds back, who makes the heat.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start.
    units : str
        ``"metric"`` or ``"us"``.
    """

    question = "Where on the tip is the heat made?"
    view = ("shown", "count")

    tried = "diameter", "force", "friction", "speed", "contact"
    banded = False

    def make_controls(self):
        """Make the controls, by name."""
        return {
            "diameter": Slider("diameter", self._try.kit.diameter),
            "force": Slider("force", self._try.effort.force),
            "friction": Slider("friction", self._try.kit.friction),
            "speed": Slider("speed", self._try.effort.speed),
            "contact": Choice("Spindle tip", CONTACTS, self._try.kit.contact),
            "shown": Choice("Picture shows", SHOWN),
            "count": Choice("Rings", {4: "4", 8: "8", 16: "16"}, 8),
        }

    def lay_out(self, controls):
        """Stand the choices above the sliders."""
        choose = bar(*(controls[key].widget for key in ("contact", "shown", "count")))
        controls["count"].widget.add_class("fh-short")
        return [choose, cells(controls, *self.tried[:4])]

    def answer(self, state):
        """Make the one pure call."""
        name = {"uniform_wear": "worn-in tip", "uniform_pressure": "fresh flat tip"}[
            state["contact"]
        ]
        return Seen(state["shown"], Tip(cut(self.now(state), count=state["count"]), name))

    def draw(self, answer, before):
        """Draw the disc and its bars."""
        sketch = self.sketch(RingPicture, self.system)
        words = sketch.update(answer.tip, before.tip if before else None, answer.shown)
        return sketch, words

    def results(self, answer, before):
        """Spell torque, turning speed, watts and flux."""
        now = answer.tip.rings
        rows = (
            ("", "Torque", lambda r: self._spell("torque", r.torque.sum()), self._hung(now)),
            ("", "Turns at", lambda r: self._spell("turning_speed", r.turning_speed), _TURNS),
            ("fh-ember", "Heat made", lambda r: f"{number_words(r.power.sum())} W", _like(now)),
            ("", "Heat per area", lambda r: self._spell("flux", r.mean_flux), _suns(now)),
        )
        return tiles(rows, now, before.tip.rings if before else None)

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
