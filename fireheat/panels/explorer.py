"""The time explorer: radius, force, friction and speed move the time to an ember."""

from math import isnan
from typing import Any

from ..answers.explorer import outlook
from ..everyday import like_power, suns
from ..figures.explorer import Curve, Spot, TimeCurve
from ..kit.bowing import bow_speed
from ..kit.kit import Air, Effort, Kit, Try
from ..quantities import METRIC, default, quantity, unit_text
from ..words import NEVER, band_words, likely_words, number_words, ratio_words
from .base import Choice, Panel, Slider, bar, cells, least, tiles, unfolding
from .rings import CONTACTS
from .woods import wood_choice

_TIPS = CONTACTS | {"domed": "worn, slightly domed"}
_STROKES = ("stroke_length", "strokes_per_minute")
_ACROSS = ("diameter", "force", "friction", "speed", "burn_in_depth", "moisture")
_CHANGED = (*_ACROSS, "temperature_ambient", "wood", "contact")


class Explorer(Panel):
    """Sliders of the time relation, with the bound, the estimates and where the heat goes.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start.
    across : str
        The quantity along the picture.
    units : str
        ``"metric"`` or ``"us"``.
    """

    view = ("across",)
    fixed: tuple[str, ...] = ()  # controls that a task leaves alone

    def __init__(
        self,
        kit: Kit | None = None,
        effort: Effort | None = None,
        air: Air | None = None,
        *,
        across: str = "diameter",
        units: str = METRIC,
    ):
        self._try = Try(kit, effort, air)
        start = self._try.value
        stroke = default("stroke_length")
        controls: dict[str, Any] = {
            "diameter": Slider("diameter", start("diameter")),
            "force": Slider("force", start("force")),
            "friction": Slider("friction", start("friction")),
            "speed": Slider("speed", start("speed")),
            "stroke_length": Slider("stroke_length", stroke),
            "strokes_per_minute": Slider("strokes_per_minute", 60 * start("speed") / stroke),
            "across": Choice(
                "Picture across", {key: quantity(key).name for key in _ACROSS}, across
            ),
            "by_strokes": Choice("Set bow speed as", {False: "one speed", True: "strokes"}),
            "wood": wood_choice(self._try.kit.wood),
            "contact": Choice("Spindle tip", _TIPS, self._try.kit.contact),
            "burn_in_depth": Slider("burn_in_depth", start("burn_in_depth")),
            "moisture": Slider("moisture", start("moisture")),
            "temperature_ambient": Slider("temperature_ambient", start("temperature_ambient")),
        }
        main = cells(controls, "diameter", "force", "friction", "speed")
        folded = [*list(controls)[4:6], *list(controls)[7:]]
        self.folded, rest = set(folded), cells(controls, *folded)
        self.more = unfolding("More: wood, air, strokes", rest)
        super().__init__(controls, [main, bar(controls["across"].widget, self.more), rest], units)
        controls["by_strokes"].widget.observe(self._follow_strokes, names="value")
        self._follow_strokes()

    def _follow_strokes(self, _=None):
        """Leave only one way to set the speed open: by itself or by its strokes."""
        by_strokes = self.control["by_strokes"].value
        idle = {"speed"} if by_strokes else set(_STROKES)
        for key in ("speed", *_STROKES):
            self.control[key].widget.disabled = key in idle or key in self.fixed

    def refresh(self):
        """Answer the state as it is now; the speed that strokes make stands on its slider, too."""
        by_strokes = self.control["by_strokes"].value
        if by_strokes and not self._held:
            self._held = True
            try:
                speed = bow_speed(**{key: self.control[key].value for key in _STROKES})
                self.control["speed"].value = float(speed)
            finally:
                self._held = False
        super().refresh()

    def answer(self, state):
        """Make the one pure call."""
        changed = {key: state[key] for key in _CHANGED}
        return outlook(self._try.changed(**changed), across=state["across"])

    def draw(self, answer, before):
        """Draw the curve, the state now and the one before."""
        sketch = self.sketch(_time_curve, answer.across, self.system)
        ghost = (None, None) if before is None else (_spot(before), _curve(before))
        return sketch, sketch.update(_curve(answer), _spot(answer), *ghost)

    def results(self, answer, before):
        """Spell the floor, smoke, ember and watts, each with the one before below."""
        now, then = answer.now, before.now if before else None
        likely = likely_words(now.ember.likely)
        rows = (
            ("fh-ember", "Ember, estimate", lambda e: band_words(e.ember), likely),
            ("", "First smoke, estimate", lambda e: band_words(e.smoke), ""),
            (
                "fh-floor",
                "Energy floor",
                lambda e: least(e.bound),
                "not an estimate: heat for the dust alone",
            ),
            ("", "Heat made", lambda e: f"{number_words(e.power)} W", self._heat_note(now)),
        )
        return tiles(rows, now, then)

    def _heat_note(self, now):
        row = quantity("flux")
        flux = number_words(row.shown(now.flux, self.system))
        unit, sun = unit_text(row.shown_unit(self.system)), number_words(suns(now.flux))
        return f"{like_power(now.power)}<br>{flux} {unit} at the tip: {sun} noon suns"

    def effects(self, answer):
        """Say what halving or doubling would do, under each slider."""
        return {key: _effect(*ratios) for key, ratios in answer.ratios.items()} | {
            "stroke_length": "at the same bow speed, changes nothing",
            "strokes_per_minute": "bow speed is stroke length times strokes",
        }


def _time_curve(across, system):
    return TimeCurve(quantity(across), system)


def _curve(answer):
    sweep = answer.sweep
    return Curve(answer.values, sweep.bound, sweep.smoke, sweep.ember)


def _spot(answer):
    now = answer.now
    return Spot(answer.here, now.bound, now.ember, now.heat)


def _effect(factor, ember, bound):
    tried = "Half this" if factor < 1 else "Twice this"
    if isnan(bound):
        return f"{tried}: still {NEVER}"
    if isnan(ember):
        return f"{tried}: estimate still {NEVER} (floor: {ratio_words(bound, short=True)})"
    if ember == 0:
        return f"{tried}: an ember at last (floor: {ratio_words(bound, short=True)})"
    return f"{tried}: {ratio_words(ember)} (floor: {ratio_words(bound, short=True)})"
