"""How hard is too hard: one arm, one kit, and the force in between."""

from dataclasses import replace
from typing import Any, NamedTuple

from ..answers.pressing import Valley, valley
from ..figures.pressing import NO_HOLD, NOT_KNOWN, PressCurve, hold_words, watts_axis
from ..kit.bowing import cord_slip_pull
from ..kit.kit import Air, Effort, Kit
from ..person.arm import LAWS, ExampleArm, arms
from ..person.limits import tip_share
from ..quantities import default, quantity
from ..words import TOO_LONG, band_words, number_words, percent_words
from .base import bar, cells, floor_note, tiles, unfolding
from .controls import Choice, Slider
from .trying import Trying
from .two_bands import EMBER, with_outer, wood_note
from .units import GivenUnits

_LAW_WORDS = {"hill": "a curve (Hill)", "linear": "a straight line"}
_KINDS = {"likely": "a middling one", "weak": "a weak one", "strong": "a strong one"}
_SAME = 0.005  # of the watts: less is no difference


class Pressed(NamedTuple):
    """A kit, a kind of arm, and what one arm of that kind does with the kit."""

    kit: Kit
    example: ExampleArm
    valley: Valley


class PressAndSpeed(Trying):
    """An arm that slows as it is loaded: where the watts peak, and what it can keep up.

    Parameters
    ----------
    kit, effort, air : optional
        What it is tried on; force and speed are the arm's.
    arm : str
        One of the example arms, which are assumptions.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "How hard is too hard?"

    tried = "diameter", "block_friction", "block_radius"
    left_out = ("speed",)  # the arm makes it

    def __init__(
        self,
        kit: Kit | None = None,
        effort: Effort | None = None,
        air: Air | None = None,
        *,
        arm: str = "ten_year_old",
        units: GivenUnits = None,
    ):
        self._arm = arm
        super().__init__(kit, effort, air, units=units)

    def make_controls(self):
        """Make the controls, by name."""
        controls: dict[str, Any] = {
            "arm": Choice("Whose arm", {key: row.name for key, row in arms().items()}, self._arm),
            "kind": Choice("Of that kind", _KINDS),
            "force": Slider("force_tried"),
            "diameter": Slider("diameter", self._try.kit.diameter),
            "block_friction": Slider("block_friction", self._try.kit.block_friction),
            "block_radius": Slider("block_radius", self._try.kit.block_radius),
            # As tight as it goes: then the arm is the limit, and a looser cord shows the other.
            "slack_tension": Slider("slack_tension", quantity("slack_tension").slider[1]),
            "law": Choice("Arm slows along", {law: _LAW_WORDS[law] for law in LAWS}),
        }
        return controls

    def lay_out(self, controls):
        """Stand four controls, the rest folded away."""
        keys = list(controls)
        main, rest = cells(controls, *keys[:4]), cells(controls, *keys[4:])
        self.more = unfolding("More: block, cord, law", rest)
        return [main, bar(self.more), rest]

    def answer(self, state):
        """Make the one pure call."""
        tried = self.now(state)
        example = arms()[state["arm"]]
        arm = example if state["kind"] == "likely" else getattr(example, state["kind"])
        slips = float(
            cord_slip_pull(
                state["slack_tension"],
                cord_friction=default("cord_friction"),
                wrap_angle=default("wrap_angle"),
            )
        )
        arm = replace(arm, law=state["law"])
        found = valley(
            tried.kit,
            arm=arm,
            air=tried.air,
            force=state["force"],
            slip_pull=slips,
            measured=self.known(state),
        )
        return Pressed(tried.kit, example, found)

    def draw(self, answer, before):
        """Draw the three lanes, the watts as large as fits."""
        found, then = answer.valley, before.valley if before else None
        most = max(float(each.sweep.power.max()) for each in (found, then) if each)
        sketch = self.sketch(PressCurve, self.system, watts_axis(most))
        words = with_outer(sketch.update(found, then), found.all, but=" but the arm")
        return sketch, words

    def results(self, answer, before):
        """Spell the ember, what is left of the speed, the watts, and the hold time."""
        found = answer.valley
        rows = (
            (
                "fh-ember",
                EMBER,
                lambda a: band_words(a.valley.all),
                f"{wood_note(found.now.ember)}; {_floor(found.now)}",
            ),
            ("", "Bow speed left", self._speed, _stopped(found)),
            ("", "Heat at the tip", _heat, _given(found.now)),
            ("", "Arm is spent after", lambda a: hold_words(a.valley), _kept(found)),
        )
        return tiles(rows, answer, before)

    def _speed(self, answer):
        """Spell the bow's speed; where the cord slips the bow runs on, who knows how fast."""
        now, slips = answer.valley.now, answer.valley.slips
        return "–" if slips and now.speed == 0 else quantity("speed").text(now.speed, self.system)

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


def _floor(now):
    if now.speed == 0:
        return "the spindle stands still"
    return floor_note(now.bound, "no pressing, no heat")


def _stopped(found):
    """Say what is the matter, where the spindle stands still."""
    if found.now.speed > 0:
        return ""
    return "the cord slides on the spindle" if found.slips else "the arm stalls"


def _heat(answer):
    return f"{number_words(answer.valley.now.power)} W"


def _given(now):
    return f"the arm gives {number_words(now.arm_power)} W" if now.speed > 0 else ""


def _kept(found):
    """Say whether the ember comes while the arm can still go on."""
    hold, now = hold_words(found), found.now
    inside = [there and time < TOO_LONG for there, time in zip(now.inside, now.ember, strict=True)]
    if hold == NO_HOLD:
        return "nothing turns: press less"
    if now.ember.low >= TOO_LONG:
        return "but there is never an ember"
    if hold == NOT_KNOWN:
        return "pulling this hard tires, even so slowly"
    if all(inside):
        return "the ember comes before that"
    return "the ember may come before that" if any(inside) else "the ember comes too late"


def _which_way(found):
    """Say what a tenth more force does to the bow and to the watts, and so which way to go."""
    now, firmer = found.now, found.firmer
    stops = "the cord slips" if found.slips else "the arm stalls"
    if now.power == 0 < now.speed:
        return "the spindle turns, but nothing rubs: press more"
    if now.speed == 0:
        return f"{stops}: press less{', or tighten it' if found.slips else ''}"
    if firmer.speed == 0:
        return f"a tenth more, and {stops}: stay below"
    gain = firmer.power / now.power - 1
    slower = f"a tenth more slows the bow by {percent_words(1 - firmer.speed / now.speed)}"
    if abs(gain) < _SAME:
        return f"{slower}: no gain left, you are at the top"
    return f"{slower}: {'worth it, more watts' if gain > 0 else 'too hard, ease off'}"
