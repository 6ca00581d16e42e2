"""The time explorer: thickness, force, friction and speed move the time to an ember."""

from functools import lru_cache
from math import isclose

import ipywidgets as widgets

from ..answers.explorer import Outlook, changes, outlook, ratio, ten_tries
from ..answers.working import working
from ..everyday import like_power, suns
from ..figures.explorer import TimeField, evenings_words
from ..figures.keeping import ENOUGH
from ..kit.bowing import bow_speed
from ..kit.kit import Air, Effort, Kit
from ..quantities import default, quantity
from ..spread import Outcomes
from ..words import (
    FLOOR_NOTE,
    TOO_LONG,
    band_words,
    factor_words,
    floor_words,
    likely_words,
    number_words,
)
from .base import ROW, bar, button, cells, tiles, unfolding
from .controls import Choice, Slider
from .our_log import LogFollower, our_log
from .rings import CONTACTS
from .trying import Trying
from .units import GivenUnits
from .woods import wood_choice
from .working import TheWorking

_TIPS = CONTACTS | {"domed": "worn, slightly domed"}
_STROKES = ("stroke_length", "strokes_per_minute")
_DUST = ("burn_in_depth", "dust_mass")  # for one ember: as one of these
_SWEPT = ("diameter", "force", "friction", "speed", *_DUST, "moisture")
_KEPT = ("diameter", "force", "friction", "speed", "moisture", "temperature_ambient")
_MOVED = "moved"
_TICK = 500  # ms between two tries


class Explorer(LogFollower, Trying):
    """Sliders of the time relation, with both bands, the floor and where the heat goes.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start.
    across : str
        The quantity upright in the picture, or ``"moved"``: the one that was moved last.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "How soon is there an ember?"
    view = ("across",)

    def __init__(
        self,
        kit: Kit | None = None,
        effort: Effort | None = None,
        air: Air | None = None,
        *,
        across: str = _MOVED,
        units: GivenUnits = None,
    ):
        self._across = across
        super().__init__(kit, effort, air, units=units)

    def follow(self):
        """Let speed follow strokes, dust follow dust, and the picture follow its buttons."""
        self.control["by_strokes"].widget.observe(self._follow_strokes, names="value")
        self.control["dust"].widget.observe(self._follow_dust, names="value")
        self.twice.observe(lambda _: self.refresh(), names="value")
        self.play.observe(self._played, names="value")
        self._follow_strokes()
        self._follow_dust()
        our_log.follow(self)

    def lay_out(self, controls):
        """Stand four sliders, the rest folded away, and all buttons in one row."""
        main = cells(controls, "diameter", "force", "friction", "speed")
        folded = [key for key in controls if key not in _SWEPT[:4]]
        self.folded, rest = set(folded), cells(controls, *folded)
        self.more = unfolding("More: dust, wood, air, strokes", rest)
        self.twice = widgets.ToggleButton(description="What would twice do?")
        self.ten = button("Show me ten tries", self.show_tries)
        self.worth_button = button("What is worth measuring next?", self.mine.say_worth)
        self.play = widgets.Play(min=0, max=10, interval=_TICK)
        self.play.layout.display = "none"  # the button starts it
        self.working = TheWorking()
        show = (self.twice, self.ten, self.more, self.working.button, self.worth_button)
        asked = bar(*show, self.play)
        asked.add_class(ROW)
        for shown_big in (self.twice, self.ten, self.mine.button):
            shown_big.add_class("fh-also")
        return [main, asked, rest, self.working]

    def make_controls(self):
        """Make the controls, by name."""
        self._moved, self._turn, self._tried = _SWEPT[0], -1, 0
        start, stroke = self._try.value, default("stroke_length")
        kit = self._try.kit
        upright = {key: quantity(key).name for key in _SWEPT if key != "dust_mass"}
        return {
            "diameter": Slider("diameter", start("diameter")),
            "force": Slider("force", start("force")),
            "friction": Slider("friction", start("friction")),
            "speed": Slider("speed", start("speed")),
            "dust": Choice(
                "Dust for one ember given as",
                {"burn_in_depth": "depth worn off", "dust_mass": "grams"},
                "burn_in_depth" if kit.dust_mass is None else "dust_mass",
            ),
            "burn_in_depth": Slider("burn_in_depth", start("burn_in_depth")),
            "dust_mass": Slider("dust_mass", start("dust_mass")),
            "wood": wood_choice(kit.wood),
            "moisture": Slider("moisture", start("moisture")),
            "contact": Choice("Spindle tip", _TIPS, kit.contact),
            "temperature_ambient": Slider("temperature_ambient", start("temperature_ambient")),
            "by_strokes": Choice("Set bow speed as", {False: "one speed", True: "strokes"}),
            "stroke_length": Slider("stroke_length", stroke),
            "strokes_per_minute": Slider("strokes_per_minute", 60 * start("speed") / stroke),
            "across": Choice(
                "Picture across", {_MOVED: "the slider moved last", **upright}, self._across
            ),
        }

    # ---- controls that go together --------------------------------------------------------------

    def _follow_strokes(self, _=None):
        """Leave only one way to set the speed open: by itself or by its strokes."""
        by_strokes = self.control["by_strokes"].value
        idle = {"speed"} if by_strokes else set(_STROKES)
        for key in ("speed", *_STROKES):
            self.control[key].widget.disabled = key in idle

    def _follow_dust(self, _=None):
        """Show only one way to set the dust: as a depth or in grams."""
        for key in _DUST:
            shown = key == self.control["dust"].value
            self.control[key].box.layout.display = None if shown else "none"

    def refresh(self):
        """Answer the state as it is now; what follows from it stands on its slider, too."""
        if self._held:
            return
        self._held = True
        try:
            self._carry_over()
        finally:
            self._held = False
        super().refresh()

    def show_answer(self):
        """Draw and spell the answer, and the working of it."""
        super().show_answer()
        self.working.show(self._working, self.system)

    def _working(self, which):
        """Tell how one result of now comes about."""
        seen = self._shown[0]
        return working(
            which, seen.state, found=seen.now, spread=seen.spread, measured=seen.measured
        )

    def _carry_over(self):
        """Put the speed that strokes make, and the dust that is not set, on their sliders."""
        state = self.state
        if state["by_strokes"]:
            self.control["speed"].value = float(bow_speed(**{key: state[key] for key in _STROKES}))
        stood = getattr(self, "_stood", state)
        moved = [key for key in _SWEPT if self.state[key] != stood[key]]
        if moved:
            self._moved = moved[0]
        if state != stood:
            self._forget_tries()
        idle = next(key for key in _DUST if key != state["dust"])
        if idle in moved and not isclose(state[idle], self.now().value(idle)):
            self.control["dust"].value, idle = idle, state["dust"]  # it was set, so it is kept
        follows, row = self.now().value(idle), quantity(idle)
        if row.low <= follows <= row.high:
            self.control[idle].value = follows

    def reset(self):
        """Put every control back to where it started, and the picture, too; my kit is off."""
        super().reset()
        self._moved = _SWEPT[0]
        self.refresh()

    # ---- the answer -----------------------------------------------------------------------------

    def bare(self, state):
        """Return the try as the sliders have it, its dust as a depth or in grams."""
        keys = (*_KEPT, "wood", "contact", state["dust"])
        return self._try.changed(**{key: state[key] for key in keys})

    def answer(self, state):
        """Make the one pure call."""
        upright = self._moved if state["across"] == _MOVED else state["across"]
        if upright in _DUST:
            upright = state["dust"]
        known = tuple(sorted(self.known(state).items()))
        return _outlook(self.now(state), upright, known, our_log.own)

    def draw(self, answer, before):
        """Draw the field, the lane now and the one before, and single tries if they are wanted."""
        sketch = self.sketch(_time_field, answer.across, self.system)
        then = None if before is None else before.upright(answer.across)
        change = None if before is None else ratio(before, answer)
        return sketch, sketch.update(answer, then, change, self._tries(answer))

    def results(self, answer, before):
        """Spell the two bands, smoke, floor, dust and watts, each with the one before below."""
        rows = (
            (
                "fh-ember",
                "Ember, estimate",
                lambda seen: band_words(seen.spread.all),
                _ember_note(answer, before),
            ),
            (
                "fh-smoke",
                "First smoke, estimate",
                lambda seen: band_words(seen.spread.smoke_all),
                likely_words(answer.spread.smoke_wood.likely),
            ),
            ("fh-floor", "Floor", lambda seen: floor_words(seen.now.bound), _floor_note(answer)),
            ("fh-dust", "Enough dust?", _enough, self._dust_note(answer)),
            ("fh-watts", "Heat made", _watts, self._heat_note(answer)),
        )
        return tiles(rows, answer, before)

    def _dust_note(self, answer):
        row = quantity("dust_mass")
        worn, heap = (row.text(mass, self.system) for mass in (answer.state.kit.dust, answer.dust))
        if answer.now.never:
            return "cool and brown; how much wear lets dust char: see page 04"
        if answer.enough.times_least.likely < 1:
            return f"{heap} in the heap may not keep itself hot: see page 08"
        return f"{worn} worn off, {heap} in the heap"

    def _heat_note(self, answer):
        now = answer.now
        if now.power > answer.arm_power:
            return f"no arm gives {number_words(now.power)} W: see page 05"
        return f"{like_power(now.power)}; {number_words(suns(now.flux))} noon suns at the tip"

    def effects(self, answer):
        """Say what twice of each would do, once that is asked."""
        words = dict.fromkeys(self.control, "")
        if self.twice.value:
            words["stroke_length"] = "at the same bow speed, changes nothing"
            words["strokes_per_minute"] = "bow speed is stroke length times strokes"
            for key, change in changes(answer.state, measured=answer.measured).items():
                words[key] = f"Twice this: {_change_words(change)}"
        return words

    # ---- single tries ---------------------------------------------------------------------------

    def show_tries(self):
        """Let ten other people try, one after another."""
        self._turn += 1
        self.play.value = self._tried = 0
        self.play.playing = True
        self.refresh()

    def _played(self, change):
        self._turn = max(self._turn, 0)
        self._tried = change["new"]
        self.refresh()

    def _forget_tries(self):
        self._tried, self.play.playing = 0, False

    def _tries(self, answer: Outlook) -> Outcomes | None:
        """Those that were shown so far of the ten."""
        if not self._tried:
            return None
        found = ten_tries(answer.state, self._turn, measured=answer.measured)
        return Outcomes(*(times[: self._tried] for times in found))


@lru_cache(maxsize=8)
def _outlook(state, across, measured, evenings):
    """Work a state out once: units, single tries and what twice would do leave it as it is."""
    return outlook(state, across=across, measured=dict(measured), evenings=evenings)


def _time_field(across, system):
    return TimeField(quantity(across), system)


def _ember_note(answer, before):
    lead = "" if before is None else f"against before: {factor_words(ratio(before, answer))}<br>"
    if answer.ours:
        lead += f'<span class="fh-ours">{evenings_words(answer.ours)}</span><br>'
    found = answer.spread.wood
    if answer.now.never:
        return f"{lead}most likely never: {answer.now.never}"
    likely = likely_words(found.likely)
    return f"{lead}with wood like yours {band_words(found)}; {likely}"


def _floor_note(answer):
    return f"{FLOOR_NOTE}; {band_words(answer.spread.bound)} with all we do not know"


def _enough(seen):
    return "no hot dust" if seen.now.never else ENOUGH[seen.enough.verdict]


def _watts(seen):
    return f"{number_words(seen.now.power)} W"


def _change_words(change):
    if not change.comes_now and not change.comes_then:
        return f"still most likely {band_words((TOO_LONG, TOO_LONG))}"
    if change.comes_now and not change.comes_then:
        return "most likely never"
    if not change.comes_now:
        return "most likely an ember at last"
    return factor_words(change.ember)
