"""The kit at work: it bows by the clock, and its tip goes from wood to smoke to glow."""

import html
import math
from dataclasses import replace
from functools import cache
from typing import NamedTuple

import ipywidgets as widgets

from ..answers.course import Course, course
from ..everyday import hung_mass
from ..figures import style
from ..figures.kit_at_work import KitMoment, KitPicture, kit_sentence, live
from ..figures.kit_picture import look_icon
from ..figures.kit_script import BROWN, GLOWING, LOOKS, PALE, SMOKING, KitScript, kit_script
from ..figures.style import LIGHT
from ..kit.kit import Try
from ..kit.making import sizes
from ..quantities import US, quantity
from ..words import NEVER, band_words
from .base import button, cells
from .controls import Slider
from .stage import Stage
from .trying import Trying

_PAUSE, _GO_ON = ("Pause", "pause"), ("Go on", "play")  # words and symbol
_CAUTION = "Knees and knuckles stay clear of the spindle."
_KEYS = (
    '<div class="fh-hints" aria-hidden="true"><kbd>Space</kbd> hold &ensp; <kbd>R</kbd> again</div>'
)
_SAFETY = "00-start-here.ipynb#Before-anything-burns"
_GUESS = "00-start-here.ipynb#Predict:-how-many-watts?"


class AtWork(NamedTuple):
    """A kit, what becomes of it, and what its drawing does by the clock."""

    course: Course
    script: KitScript


class KitAtWork(Trying):
    """The kit, drawn to scale and alive, with words for its five parts.

    It bows at once, in true seconds. A slider that is moved begins a new try from cold wood; one
    that was paused stays so.

    Parameters
    ----------
    kit, effort, air : optional
        Where it starts.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    question = "This is the kit. Move something."
    tried = "diameter", "force", "speed"

    def make_controls(self):
        """Make the controls, by name."""
        self.scene, self._played = Stage(running=True), None
        self.pause_button = button("", self.pause)
        self.again_button = button("Start again", self.start_again)
        self.again_button.icon = "rotate-left"
        names = {"diameter": "spindle, how thick", "force": "press down"}
        made = {key: Slider(key, self._try.value(key), name=names.get(key)) for key in self.tried}
        # Of usual spindles none is half of another, and so none tells what the page asks next.
        usual, row = sizes()["spindle_thickness"], made["diameter"].row
        made["diameter"].row = replace(row, slider=(usual.low, usual.high))
        return made

    def lay_out(self, controls):
        """Stand the controls."""
        return [cells(controls, *controls)]

    def follow(self):
        """Follow what the browser tells of clock and theme."""
        self._clock_moved()
        self.scene.observe(self._clock_moved, names=("running", "ended"))
        self.scene.observe(self._theme_told, names="theme")

    def _stage(self, layout):
        """Put the live drawing in the picture's place, and its buttons beside the question."""
        stage = super()._stage(layout)
        head = stage.children[0]
        asked, units = head.children
        head.children = [asked, self.pause_button, self.again_button, units]
        self.again_button.add_class("fh-key-reset")
        self.scene.add_class("fh-shot")
        tools = self._take_buttons(stage)
        parts = [self.scene if part is self.shot else part for part in stage.children]
        foot = widgets.HTML(
            f"<p>Estimates for dry wood. <b>{_CAUTION}</b></p>{_KEYS}"
            f'<a href="{_SAFETY}">All safety points</a>'
            f'<a class="fh-main" href="{_GUESS}">Now guess something →</a>'
        )
        foot.add_class("fh-kit-foot")
        stage.children = [*parts, tools, foot]
        stage.add_class("fh-kit")
        return stage

    @staticmethod
    def _take_buttons(stage):
        """Take the row of buttons out of its column: there is room below the picture."""
        for column in stage.children:
            for part in getattr(column, "children", ()):
                if "fh-buttons" in part._dom_classes:
                    column.children = [other for other in column.children if other is not part]
                    return part
        raise LookupError("a panel has a row of buttons")

    def row_of_buttons(self):
        """Leave reset out: there is a button to start again."""
        return [one for one in super().row_of_buttons() if one is not self.reset_button]

    # ---- the clock -------------------------------------------------------------------------------

    def pause(self) -> None:
        """Hold the clock, or let it go on."""
        if not self.scene.ended:
            self.scene.running = not self.scene.running

    def start_again(self) -> None:
        """Begin anew with cold wood."""
        self.scene.start_again()

    def _clock_moved(self, _=None):
        held = not self.scene.running and not self.scene.ended
        self.pause_button.description, self.pause_button.icon = _GO_ON if held else _PAUSE
        self.pause_button.disabled = self.scene.ended

    def _theme_told(self, change):
        self.voice.theme = change["new"]

    def _look_changed(self, change):
        """Draw the looks of the tip anew, too."""
        if self._look[0] != self.voice.theme:
            self.show_answer()

    # ---- what it shows ---------------------------------------------------------------------------

    def answer(self, state):
        """Follow the kit from cold wood to its ember."""
        found = course(self.now(state), measured=self.known(state))
        return AtWork(found, kit_script(found))

    def results(self, answer, before):
        """Say what is now, and when each look of the tip begins."""
        cue = answer.script.cue(0.0)
        with style.theme(self.voice.theme):
            looks = [self._look_row(look, answer, before) for look in range(len(LOOKS))]
        return (
            '<div class="fh-kit-now"><span class="fh-what">Right now</span>'
            f'<b data-says="0" data-look="{PALE}">{cue.says}</b>'
            "<small>after <span data-clock>0 s</span> of bowing</small>"
            f'<small class="fh-kit-next" data-note="0">{html.escape(cue.note)}</small></div>'
            f'<ol class="fh-looks" data-looks="0" data-now="{PALE}">{"".join(looks)}</ol>'
        )

    def _look_row(self, look, answer, before):
        then = "" if before is None else f"before: {_when(look, before.course)}"
        return (
            f"<li>{look_icon(_ordinary(), look)}<b>{LOOKS[look]}</b>"
            f'<span>{_when(look, answer.course)}</span><span class="fh-before">{then}</span></li>'
        )

    def _paint(self):
        """Leave the kept picture for whoever asks for it: a reader sees the live one."""
        self._look = self.voice.theme, self.voice.scale
        with style.theme(self.voice.theme):
            self.sketched, words = self.draw(*self._shown)
        self.shot.value = f'<img alt="{html.escape(words)}">'
        return words

    @property
    def png(self) -> bytes:
        """The picture that a notebook keeps: light, one dot a pixel, whatever is on the screen."""
        self.catch_up()
        now, then = self._shown
        with style.theme(LIGHT):
            sketch = self.sketch(KitPicture)
            sketch.update(self._moment(now), then and self._moment(then))
            return sketch.png(1.0)

    def draw(self, answer, before):
        """Draw the kit, and set what it does by the clock."""
        sketch = self.sketch(KitPicture)
        now, then = self._moment(answer), before and self._moment(before)
        self.scene.show(live(now, then), [answer.script])
        if answer.course is not self._played:
            if self._played is not None:
                self.scene.start_again(running=self.scene.running or self.scene.ended)
            self._played = answer.course
        return sketch, kit_sentence(now, then)

    def _moment(self, answer):
        tried, spread = answer.course.state, answer.course.spread
        force, speed = tried.effort.force, tried.effort.speed
        return KitMoment(
            script=answer.script,
            speed=speed,
            thick=quantity("diameter").text(tried.kit.diameter, self.system),
            press=quantity("force").text(force, self.system),
            like=_bag(force, self.system),
            pace=quantity("speed").text(speed, self.system),
            smoke=spread.smoke_all,
            ember=spread.all,
        )


@cache
def _ordinary():
    return kit_script(course(Try()))


def _when(look, found):
    """Say when a look of the tip begins: first smoke and glow with all we do not know.

    Nobody knows better when it turns brown, and a lone time might come after the first smoke's.
    """
    if look == SMOKING:
        return band_words(found.spread.smoke_all)
    if look == GLOWING:
        return band_words(found.spread.all)
    if look == BROWN:
        reached = math.isfinite(min(found.brown, found.spread.smoke_all.low))
        return "before smoke" if reached else NEVER
    return "0 s"


def _bag(force, system):
    """Say what weighs as much; pounds of press say it already."""
    if system == US:
        return "a bag this heavy"
    mass = hung_mass(force, 1.0)
    return f"a {mass:.0f} kg bag" if mass >= 1.95 else f"a {mass:.1f} kg bag"
