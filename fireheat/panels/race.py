"""Two kits race by the clock; their lanes stay empty until all hands are counted."""

import html
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import anywidget
import ipywidgets as widgets

from ..answers.race import MINE, Contest, Starter, contest, pairings, starters
from ..figures import race as figure
from ..figures import style
from ..figures.style import LIGHT
from ..quantities import quantity
from .base import Kept, Panel, bar, button, cells, unbroken
from .controls import Choice, Slider
from .mine import BADGE, EMPTY_KIT, my_kit, reading_words
from .questions import Hands
from .stage import QUICKEST, SLOWEST, Stage
from .units import GivenUnits

_SIDES = "left", "right"
_TIE = "a tie"
_ON = "The race is on."
_REAL, _TWICE = "real seconds", "twice as quick as real"


_HERE = Path(__file__).parent


class RaceKeys(anywidget.AnyWidget):
    """Keys of a race, and words that tell them."""

    _esm = _HERE / "race.js"
    _css = _HERE / "race.css"


class _Track(Panel):
    """Who races, the kits that bow, and the lanes under them."""

    question = "Which glows first?"

    def __init__(self, kits: str, units: GivenUnits = None):
        self.live, self.veil, self.beside = Stage(), widgets.HTML(), widgets.HTML()
        self.told: Contest | None = None  # what comes of it, once all hands are counted
        self.pair: tuple[Starter, Starter] = starters(kits, kit=my_kit.kit)
        self.asked, self.asking = widgets.VBox(), widgets.Box()
        self.go = button("Go!", self.press_go)
        self.again = button("Again", self.run_again)
        self.over = button("To the end", self.run_out)
        self.anew = button("New bets", self.ask_again)
        self.twice = widgets.ToggleButton(description="Twice as quick")
        self.mine, self.told_keys = widgets.HTML(), RaceKeys()
        choice = Choice("Who races", {key: row.words for key, row in pairings().items()}, kits)
        sliders = {
            f"{side}_{row.quantity}": Slider(
                row.quantity, getattr(row, side), name=f"{side}: {quantity(row.quantity).name}"
            )
            for row in pairings().values()
            for side in _SIDES
            if row.quantity
        }
        super().__init__({"kits": choice, **sliders}, [], units)
        for name in sliders:
            self.control[name].box.add_class(f"fh-race-{name.partition('_')[0]}")
        self._lay_out()
        self.twice.observe(self._paced, names="value")
        self.live.observe(self._clock_told, names=("at", "running", "ended"))
        self.live.observe(self._show_live, names="theme")

    def _lay_out(self):
        """Stand the kits over their lanes, and what is asked between them."""
        head, _, shot, _, _, foot = self.stage.children
        self.head = head.children[0]
        setup = cells(self.control, *self.control)
        setup.children = [*setup.children, self.mine]
        parts = {
            "fh-race-kits": widgets.Box([self.live, self.beside]),
            "fh-race-asking": self.asking,
            "fh-race-lanes": widgets.Box([shot, self.veil]),
            "fh-race-keys": bar(
                self.go, self.again, self.twice, self.over, self.anew, self.told_keys
            ),
            "fh-below": setup,
        }
        classes = {
            **parts,
            "fh-beside": self.beside,
            "fh-over": self.veil,
            "fh-keys-told": self.told_keys,
            "fh-go": self.go,
            "fh-key-space": self.go,  # keys press these two
            "fh-key-reset": self.again,
            "fh-ask fh-of-3": self.asked,
        }
        foot.children = [self.voice]
        for part in (self.keep_button, self.drop_button, self.reset_button):
            for kind in part._dom_classes:
                part.remove_class(kind)
        for kinds, part in classes.items():
            for kind in kinds.split():
                part.add_class(kind)
        self.asking.children = [self.asked, foot]
        self.stage.children = [head, *parts.values()]
        self.stage.add_class("fh-race")
        self.show_answer()

    # ---- what the base asks ---------------------------------------------------------------------

    def answer(self, state: Mapping[str, Any]) -> tuple[Starter, Starter]:
        """Line up who races; others than before are asked about anew."""
        row = pairings()[state["kits"]]
        ends = {side: state[f"{side}_{row.quantity}"] for side in _SIDES if row.quantity}
        pair = starters(row.key, **ends, kit=my_kit.kit)
        if pair != self.pair or not self.asked.children:
            self.pair = pair
            self._ask()
        return pair

    def results(self, answer, before) -> str:
        """Nothing stands above the kits."""
        return ""

    def draw(self, answer, before):
        """Draw the lanes; what lies after the clock is veiled by the browser."""
        sketch, live = self.sketch(figure.RaceLanes), self.live
        told = sketch.update(answer, self.told, time=self._now, veiled=False, notes=self.notes)
        self.veil.value = _veil(sketch.plank.end, hidden=self.told is None or live.ended)
        return sketch, f"{_ON} {self._bets()}".strip() if self.told and live.running else told

    def show_answer(self) -> None:
        """Show the lanes, and words beside the kits."""
        super().show_answer()
        if self.asking.children:  # all is laid out
            self._show_sides()

    @property
    def png(self) -> bytes:
        """The picture that a notebook keeps: both kits and their lanes."""
        self.catch_up()
        with style.theme(LIGHT):
            sketch = self.sketch(figure.RacePicture)
            sketch.update(self.pair, self.told, time=self._now, notes=self.notes)
            return sketch.png(1.0)

    # ---- the bets -------------------------------------------------------------------------------

    def _ask(self):
        """Ask who glows first: nobody has bet, and nobody is told."""
        self.told = None
        left, right = (one.name for one in self.pair)
        options = [left, _TIE, right]
        self.bet = widgets.RadioButtons(options=options, value=None)
        self.hands = Hands(options)
        for widget in (self.bet, *self.hands.boxes.values()):
            widget.observe(self._may_go, names="value")
        heard = widgets.HTML(
            f'<div class="fh-question fh-heard">{html.escape(self._question)}</div>'
        )
        self.asked.children = [heard, self.bet, self.hands]
        with self.live.hold_sync():
            self.live.start_again(running=False)
            self._show_live()

    @property
    def _question(self):
        return pairings()[self.control["kits"].value].ask

    def _may_go(self, _=None):
        self.go.disabled = self.told is None and not self.given

    @property
    def given(self) -> str | None:
        """What is bet on: what was chosen, or else what most hands are up for."""
        return self.bet.value or self.hands.most()

    def _bets(self):
        """Say how many bet on what."""
        counts = {name: count for name, count in self.hands.counts.items() if count}
        if not counts:
            return f"The bet: {self.given}."
        return f"Hands: {', '.join(f'{count} for {name}' for name, count in counts.items())}."

    # ---- the clock ------------------------------------------------------------------------------

    def press_go(self) -> None:
        """Let them go; hold a race that runs, go on with one that is held."""
        if self.told is None:
            if self.given:
                self.told = contest(*self.pair)
                self._show_live()
                self.live.start_again()
        elif self.live.ended:
            self.run_again()
        else:
            self.live.running = not self.live.running

    def run_again(self) -> None:
        """Run the same race from the start."""
        if self.told is not None:
            self.live.start_again()

    def run_out(self) -> None:
        """Go to the end, and tell what came of it."""
        if self.told is not None:
            self.live.look_at(self.told.end)
            self.live.ended = True

    def ask_again(self) -> None:
        """Ask the next group about the same kits."""
        self._ask()
        self.show_answer()

    def _paced(self, _):
        self.live.pace = QUICKEST if self.twice.value else SLOWEST
        self._show_sides()

    def _clock_told(self, _):
        if not self._held:
            self.show_answer()

    def _show_live(self, _=None):
        with style.theme(self.live.theme):
            scripts = self._scripts()
            self.live.show(
                figure.live_race(scripts, figure.waiting(self.pair, self.notes)), scripts
            )

    @property
    def _now(self):
        """The clock; what the browser said of it before the race was over may come after. [s]."""
        return self.told.end if self.told and self.live.ended else self.live.at

    def _scripts(self):
        """Write what the kits do: nothing, as long as nobody is told what comes of it."""
        if self.told is None:
            return [figure.resting(one) for one in self.pair]
        return figure.racing(self.told)

    # ---- words and buttons ----------------------------------------------------------------------

    def _show_sides(self):
        """Show names, bets and states beside the kits, and the buttons that do something now."""
        key, told, live = self.control["kits"].value, self.told is not None, self.live
        self.head.value = f'<div class="fh-question">{html.escape(self._question)}</div>'
        counts = [*self.hands.counts.values()]
        names = zip(self.notes, self.pair, self._scripts(), counts[::2], strict=True)
        sides = [
            _side(number, one.name, note, script.cue(self._now), count * told)
            for number, (note, one, script, count) in enumerate(names)
        ]
        pace = f"<span>{_TWICE if self.twice.value else _REAL}</span>"
        clock = f'<div class="fh-clock"><b data-clock>{int(self._now)} s</b>{pace}</div>'
        self.beside.value = unbroken(clock.join(sides))
        self.go.description = (
            "Go!" if not told else "Hold" if live.running else "Again" if live.ended else "Go on"
        )
        _show(self.asked, not told)
        _show(self.again, told and not live.ended)
        _show(self.over, told and not live.ended)
        _show(self.anew, told and not live.running)
        (self.asking.add_class if told else self.asking.remove_class)("fh-race-told")
        for name, control in self.control.items():
            _show(control.box, name == "kits" or name.endswith(f"_{pairings()[key].quantity}"))
        self.mine.value = self._mine_words() if key == MINE else ""
        self._may_go()

    @property
    def notes(self) -> tuple[str, str]:
        """What differs, in words, for both sides."""
        key = pairings()[self.control["kits"].value].quantity
        if not key:
            return "as usual", BADGE if my_kit.kit else "nothing measured yet"
        left, right = (
            quantity(key).text(self.control[f"{side}_{key}"].value, self.system).replace(".0 ", " ")
            for side in _SIDES
        )
        return left, right

    def _mine_words(self):
        kit = my_kit.kit
        words = f"{BADGE}: {reading_words(kit, self.system)}." if kit else EMPTY_KIT
        return f'<span role="status">{unbroken(html.escape(words))}</span>'


def _show(part, shown):
    part.layout.display = None if shown else "none"


def _side(number, name, note, cue, count):
    """Spell what stands beside one kit."""
    hands = f"{count} hand{'s' * (count != 1)}" if count else ""
    return (
        f'<div class="fh-side-words"><b>{html.escape(name)}</b><span>{html.escape(note)}</span>'
        f'<strong data-says="{number}" data-look="{cue.look}">{cue.says}</strong>'
        f"<em>{hands}</em></div>"
    )


def _veil(end, *, hidden):
    """Spell the veil over what lies after now, placed by shares of the lanes' picture."""
    rows = [row + way * figure.LANE_HALF for row in figure.LANE_ROWS for way in (-1, 1)]
    places = {
        "start": figure.LANE_START / figure.RACE_WIDTH,
        "long": (figure.LANE_FINISH - figure.LANE_START) / figure.RACE_WIDTH,
        **{f"edge-{i}": f"{100 * y / figure.LANES:.2f}%" for i, y in enumerate(rows)},
    }
    spelled = "".join(f"--fh-{name}:{value};" for name, value in places.items())
    share = f'data-share-of="{end:g}"{" hidden" * hidden}'
    return f'<div class="fh-veil" {share} style="{spelled}"><i></i></div>'


class Race(Kept):
    """Two kits side by side in real time: hands first, then the clock, then what is known of it.

    Who bets on what is counted, and shown nowhere but here. Then the kits bow until the last of
    them glows; who likely never does bows until the other has.

    Parameters
    ----------
    kits : str
        Who races, a row of ``data/races.toml``.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.

    Raises
    ------
    InputError
        If there is no such race, or there are no such units.
    """

    def __init__(self, kits: str = "thickness", *, units: GivenUnits = None):
        self.track = _Track(kits, units)
        super().__init__([self.track])

    @property
    def png(self) -> bytes:
        """Both kits and their lanes, as they stand."""
        return self.track.png

    def sentence(self) -> str:
        """Say how the race stands."""
        return self.track.sentence()

    def set(self, **values: Any) -> str:
        """Move controls as a reader would, by SI value, and return the new sentence."""
        return self.track.set(**values)

    def commit(self, given: str) -> str:
        """Bet on one by name, or on ``"a tie"``, run the race out, and return what came of it."""
        self.track.bet.value = given
        self.track.press_go()
        self.track.run_out()
        return self.sentence()
