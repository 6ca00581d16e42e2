"""What-if cards: a story, a few things to move, and a goal. Nothing is stored, nobody is graded."""

import html
import time
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import ipywidgets as widgets

from ..answers.cards import Level, Verdict, judge
from ..answers.questions import STROKES, try_of
from ..figures.cards import CardLanes, Tried
from ..lessons import Card, card, setting_words, stands
from ..my_kit import shown_as
from ..quantities import quantity
from ..spread import Spread, spread
from ..words import FLOOR_NOTE, band_words, floor_words, time_words
from .base import cells, tiles, unbroken
from .controls import Slider
from .questions import note_words
from .trying import Trying
from .two_bands import wood_note
from .units import GivenUnits
from .woods import wood_choice

_RESTED = 2.0  # after so long in one place something counts as tried [s]
_REMEMBERED = 64  # states that need not be worked out again
_KEPT = 8  # more tries than a picture has room for
# What is named as locked, in this order.
_TOLD = (
    *("diameter", "force", "speed", "friction", "burn_in_depth", "wood", "moisture"),
    "temperature_ambient",
)


@dataclass(frozen=True)
class _Seen:
    """A card as it is set: what a stopwatch might see, and how the task stands."""

    moved: Mapping[str, Any]
    found: Spread
    verdict: Verdict


class WhatIf(Trying):
    """A what-if card: a story, what it leaves free, its goal in the picture, and the tries so far.

    Parameters
    ----------
    key : str
        The card, see :mod:`fireheat.lessons`.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    def __init__(self, key: str, *, units: GivenUnits = None):
        self.key, self.rules, self.question = key, card(key).rules, card(key).title
        self.tries: list[dict[str, Any]] = []
        self.ways: set[tuple[str, ...]] = set()
        self._seen: dict[tuple, _Seen] = {}
        self._moved_at = time.monotonic()
        super().__init__(units=units)
        self.add_class("fh-card")

    def make_controls(self):
        """Make what the card leaves free."""
        return {key: self._control(key) for key in self.rules.free}

    def lay_out(self, controls):
        """Stand what is free above what is locked, and room to write why."""
        self.locked, self.why = widgets.HTML(), widgets.Textarea(description="Why it works")
        self.locked.add_class("fh-locked")
        self.why.placeholder = "because… (kept nowhere: read it to the others)"
        self.why.add_class("fh-because")
        return [cells(controls, *controls), self.locked, self.why]

    def bare(self, state):
        """Return the try of the story, with what was moved."""
        return try_of(self.rules.settings(state))

    def uses(self, key):
        """Leave alone what the card locks."""
        return shown_as(key) in self.control

    @property
    def card(self) -> Card:
        """The card, in the units shown now."""
        return card(self.key, self.system)

    def _control(self, key):
        start = self.rules.at_start(key)
        return wood_choice(start) if key == "wood" else Slider(key, start)

    def answer(self, state):
        """Make the one pure call; what was tried before is not worked out again."""
        known = self.known(state)
        key = (*state.items(), *known.items())
        if key not in self._seen:
            found = spread(self.now(state), measured=known)
            verdict = judge(self.rules, state, found)
            self._seen[key] = _Seen(state, found, verdict)
            if len(self._seen) > _REMEMBERED:
                del self._seen[next(iter(self._seen))]
        return self._seen[key]

    # ---- words ----------------------------------------------------------------------------------

    def results(self, answer, before):
        """Spell the story, how the task stands, and what a stopwatch might see."""
        now, then = answer.found, before.found if before else None
        rows = (
            (
                "fh-ember",
                "Ember, estimate",
                lambda found: band_words(found.all),
                wood_note(now.wood),
            ),
            ("fh-floor", "Floor", lambda found: floor_words(found.bound.likely), FLOOR_NOTE),
        )
        self.locked.value = unbroken(f"<b>Locked:</b> {', '.join(self._locked())}.")
        standing = self.standing(answer)
        kind = {True: "fh-met", False: "fh-missed"}[answer.verdict.level.met]
        kind = "fh-untried" if answer.verdict.level == Level.UNTRIED else kind
        return (
            f'<div class="fh-story"><span class="fh-told">{html.escape(self.card.story)}</span> '
            f"<b>{html.escape(self.card.task)}</b></div>"
            f'<div class="fh-judged">{tiles(rows, now, then)}'
            f'<div class="fh-verdict {kind}"><b>{f"{standing.mark} {standing.opening}".strip()}</b>'
            f"<small>{standing.more}</small></div></div>"
        )

    def standing(self, answer):
        """Say how the task stands."""
        return stands(
            self.card,
            answer.verdict,
            answer.moved,
            found=answer.found,
            ways=self.ways,
            system=self.system,
        )

    def _locked(self):
        state = try_of(self.rules.settings(self.state))
        free = {*self.rules.free, *({"speed"} if set(STROKES) & set(self.rules.free) else ())}
        for key in _TOLD:
            if key in free:
                continue
            value = state.kit.wood if key == "wood" else state.value(key)
            words = setting_words(key, value, self.system)
            yield words if key == "wood" else f"{quantity(key).name} {words}"

    def effects(self, answer):
        """Say how fast the strokes are, under them."""
        if not set(STROKES) <= set(self.control):
            return {}
        speed = try_of(self.rules.settings(answer.moved)).effort.speed
        return {STROKES[1]: f"bow speed {setting_words('speed', speed, self.system)}"}

    # ---- picture --------------------------------------------------------------------------------

    def draw(self, answer, before):
        """Draw the start, the tries so far, what was before, and now, below the goal."""
        if answer.verdict.level.met:
            self.ways.add(answer.verdict.changed)
        sketch = self.sketch(CardLanes)
        shown = [("start", self._start())]
        room = sketch.rows - 2 - (before is not None)
        numbered = list(enumerate(self.tries, start=1))[-room:]
        shown += [(f"try {number}", self.answer(moved)) for number, moved in numbered]
        shown += [("before", before)] if before else []
        rows = [self._row(name, seen) for name, seen in (*shown, ("now", answer))]
        goal = f"ember before {time_words(self.rules.below)}"
        words = sketch.update(
            rows, below=self.rules.below, words=goal, met=answer.verdict.level.met
        )
        then = f" Before: ember {band_words(before.found.all)}." if before else ""
        return sketch, f"{self.standing(answer)} {words}{then}"

    def _start(self):
        return self.answer({key: control.start for key, control in self.control.items()})

    def _row(self, name, seen):
        changed = seen.verdict.changed or self.rules.free[:1]
        keys = [key for key in STROKES if set(STROKES) <= set(self.control)] or changed[:2]
        return Tried(name, note_words(seen.moved, keys, self.system), seen.found)

    # ---- the ledger -----------------------------------------------------------------------------

    def _control_moved(self, change):
        """Answer a control that moved; where all stood for a while before, that was a try."""
        if not self._held:
            now, moved = time.monotonic(), self.state != self._stood
            if moved and now - self._moved_at > _RESTED:
                self.remember(self._stood)
            self._moved_at = now if moved else self._moved_at
        super()._control_moved(change)

    def remember(self, state: Mapping[str, Any]) -> None:
        """Put a state into the ledger of tries, unless it is the start or stands there already."""
        if self.rules.changed(state) and dict(state) not in self.tries:
            self.tries = [*self.tries, dict(state)][-_KEPT:]

    def reset(self) -> None:
        """Start again: everything where it started, no tries, no ways found."""
        self.tries, self.ways = [], set()
        super().reset()

    def sentence(self) -> str:
        """Say the card and what the panel shows."""
        return f"What if, {self.card.title}: {super().sentence()}"
