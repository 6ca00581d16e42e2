"""My kit as a list: what was measured, what each reading did, and whether it is kept."""

import html
from typing import Any, NamedTuple

import ipywidgets as widgets

from ..answers.worth import Doubt, doubted, doubts, each_worth
from ..bands import Band
from ..figures.worth import DoubtBars
from ..kept import kept_folder
from ..kit.kit import Air, Effort, Kit, Try
from ..my_kit import CARE, MyKit
from ..person.measuring import Measured, scale_force, well_measured
from ..quantities import InputError
from ..words import band_words, ratio_words
from .base import Panel, bar, button, cells, tiles, unbroken
from .controls import Choice, Slider
from .mine import KEPT, PutIntoMyKit, my_kit, reading_name, reading_words
from .units import GivenUnits

_SCALE = ("reading", "rest")
# What is measured, in words, and the sliders that it is read on.
_READINGS: dict[str, tuple[str, tuple[str, ...]]] = {
    "diameter": ("spindle diameter, with a ruler", ("diameter",)),
    "burn_in_depth": ("burn-in depth, with a ruler", ("burn_in_depth",)),
    "dust_mass": ("dust of one ember, on a kitchen scale", ("dust_mass",)),
    "force": ("downward force, with a bathroom scale", _SCALE),
    "moisture": ("moisture, by weighing and drying", ("moisture",)),
}
_PLAIN = 0.87  # from where fractions end


class Table(NamedTuple):
    """My kit, what each reading did, who makes the doubt, and the ember's time.

    The time is with my kit, with one reading more, and with all of it guessed. [s] What does not
    go together is listed, and counts as guessed.
    """

    kit: MyKit
    trouble: str
    worth: dict[str, float]
    doubts: tuple[Doubt, ...]
    ember: Band[float]
    more: Band[float]
    guessed: Band[float]


class MyKitTable(Panel):
    """All that is in my kit, with room for what rulers and scales read.

    Parameters
    ----------
    kit, effort, air : optional
        The try into which my kit is put; an ordinary one if left out.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "What have we measured?"

    def __init__(
        self,
        kit: Kit | None = None,
        effort: Effort | None = None,
        air: Air | None = None,
        *,
        units: GivenUnits = None,
    ):
        self._try = Try(kit, effort, air)
        keys = [key for _, its in _READINGS.values() for key in its]
        mine, _ = self._counted()
        start = mine.state(self._try).values()  # what is measured already is not lost by one press
        sliders = {key: Slider(key, start.get(key)) for key in keys}
        names = {key: words for key, (words, _) in _READINGS.items()}
        controls: dict[str, Any] = {
            "what": Choice("We measured", names),
            "care": Choice("How well", CARE),
            **sliders,
        }
        controls["care"].widget.add_class("fh-short")
        self.put = PutIntoMyKit(lambda: self.readings(self.state), lambda: self.system)
        self.inside = widgets.Dropdown(description="In my kit")
        self.out_button = button("Take it out", self.take_out)
        self.keep_kit_button = button("", self.turn_keeping)
        self.clear_button = button("Empty my kit", self.clear)
        self.where = widgets.HTML()
        self.where.add_class("fh-note")
        layout = [
            bar(controls["what"].widget, controls["care"].widget),
            cells(controls, *sliders),
            self.put,
            bar(self.inside, self.out_button, self.clear_button),
            bar(self.keep_kit_button),
            self.where,
        ]
        super().__init__(controls, layout, units)
        self.put.put_button.on_click(lambda _: self.catch_up())
        # What was measured on another page, by another kernel, is seen as somebody looks.
        self.voice.counted = True
        self.voice.observe(lambda _: self.catch_up(), names="looks")
        my_kit.follow(self)
        controls["what"].widget.observe(lambda _: self._follow_what(), names="value")
        self._follow_what()

    def _follow_what(self):
        """Show the sliders of what was measured."""
        for what, (_, keys) in _READINGS.items():
            for key in keys:
                shown = what == self.control["what"].value
                self.control[key].box.layout.display = None if shown else "none"

    def kit_moved(self) -> None:
        """Show my kit as it is now: at once if it is on screen, and else once somebody asks."""
        if self.voice.views:
            self.catch_up()

    def catch_up(self) -> None:
        """Show my kit, and the units that are chosen, if it shows others."""
        super().catch_up()
        if self._shown[0].kit != my_kit.kit:
            self.refresh()

    # ---- buttons --------------------------------------------------------------------------------

    def readings(self, state) -> dict[str, Measured]:
        """Tell what is on the sliders, and how far off it may be."""
        what = state["what"]
        if what == "force":
            value = float(scale_force(state["reading"], rest=min(state[key] for key in _SCALE)))
        else:
            value = state[what]
        found = well_measured(what, value)
        return {what: Measured(found.value, state["care"] * found.error)}

    def take_out(self) -> None:
        """Forget the reading that is chosen."""
        if self.inside.value is not None:
            my_kit.remove(self.inside.value)
            self.refresh()

    def clear(self) -> None:
        """Forget all that was measured, here and on this computer."""
        my_kit.clear()
        self.put.said.value = ""
        self.refresh()

    def turn_keeping(self) -> None:
        """Keep my kit on this computer, or keep it no longer."""
        done = my_kit.stop_keeping() if my_kit.kept else my_kit.keep()
        self.refresh()
        if not done:
            self._tell_where("This computer does not let us.")

    def _tell_where(self, words):
        self.where.value = f'<span role="status">{html.escape(words)}</span>'

    # ---- the answer -----------------------------------------------------------------------------

    def _counted(self):
        """Return what counts of my kit, and what is the matter if that is nothing."""
        try:
            my_kit.kit.state(self._try)
        except InputError as error:  # such as a bow's pull that no friction explains
            return MyKit(), f"This cannot all be so, and is not counted: {error}"
        return my_kit.kit, ""

    def answer(self, state):
        """Count the doubts of what is in my kit."""
        kit, trouble = self._counted()
        now, more = kit.state(self._try), kit.put(**self.readings(state))
        return Table(
            my_kit.kit,
            trouble,
            each_worth(now, kit),
            doubts(now, kit),
            doubted(now, kit),
            doubted(more.state(self._try), more),
            doubted(now, MyKit()),
        )

    def draw(self, answer, before):
        """Draw who makes the doubt."""
        sketch = self.sketch(DoubtBars)
        inside = ", ".join(map(reading_name, answer.kit.readings)) or "nothing yet"
        words = f"In my kit: {inside}. {sketch.update(answer.doubts)}"
        if before is not None:
            words += f" Before: an ember in {band_words(before.ember)}."
        return sketch, words

    def results(self, answer, before):
        """Spell the ember's time as it is known, as it was guessed, and what each reading did."""
        rows = (
            (
                "",
                "Had you guessed",
                lambda one: band_words(one.guessed),
                "nothing measured",
            ),
            ("fh-ember", "With my kit", lambda one: band_words(one.ember), "the ember, estimate"),
            ("", "With this, too", lambda one: band_words(one.more), "once you put it in"),
        )
        self._offer_readings(answer.kit)
        return tiles(rows, answer, before) + self._list(answer)

    def _list(self, answer):
        lines = [self._line(answer, key) for key in answer.kit.readings]
        lines += [html.escape(answer.trouble)] if answer.trouble else []
        lines = lines or ["Nothing yet. Measure something, and put it into your kit."]
        return f'<ul class="fh-list">{"".join(f"<li>{line}</li>" for line in lines)}</ul>'

    def _line(self, answer, key):
        words, share = html.escape(self._words(answer.kit, key)), answer.worth.get(key)
        did = "" if share is None else f": {_worth_words(share)}"
        return f'<b class="fh-mine">◆</b> {words}{did}'

    def _words(self, kit, key):
        return reading_words(MyKit(**{key: kit.readings[key]}), self.system)

    def _offer_readings(self, kit):
        """List what can be taken out, and say whether it is kept, and where."""
        rows = [(self._words(kit, key), key) for key in kit.readings]
        if rows != list(self.inside.options):
            chosen = self.inside.value
            self.inside.options = rows
            self.inside.value = chosen if chosen in kit.readings else next(iter(kit.readings), None)
        for part in (self.inside, self.out_button):
            part.disabled = not rows
        kept = bool(my_kit.kept)
        self.keep_kit_button.disabled = not rows
        self.keep_kit_button.description = (
            "Stop keeping it on this computer" if kept else "Keep my kit on this computer"
        )
        place = kept_folder() / f"{KEPT}.json"
        self._tell_where(
            f"Kept in {place}: numbers only, no names. All pages can use it."
            if kept
            else "Kept nowhere: it is gone when this page stops."
        )

    def effects(self, answer):
        """Say how far off the reading may be."""
        words = dict.fromkeys(self.control, "")
        what = self.state["what"]
        reading = reading_words(MyKit(**self.readings(self.state)), self.system)
        words[_READINGS[what][1][-1]] = unbroken(reading)
        return words


def _worth_words(share):
    """Say what one reading did to the range of times."""
    if share >= _PLAIN:
        return "hardly changes the range"
    part = ratio_words(share, short=True).removesuffix(" of")
    return f"the range is {part} as long with it"
