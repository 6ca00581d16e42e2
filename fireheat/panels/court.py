"""The court of advice: hands first, then what one saying does to each of a hundred learners."""

import html
from collections.abc import Mapping
from functools import partial
from pathlib import Path
from typing import Any

import anywidget
import ipywidgets as widgets
import traitlets

from ..answers.court import Hearing, hearing
from ..coach.learner import Learner
from ..coach.population import populations
from ..coach.sayings import sayings
from ..coach.verdicts import DEPENDS, HARMS, HELPS, NO_MATTER, OUTCOMES
from ..figures.court import CourtDots, findings
from ..kit.kit import Try
from ..my_kit import MyKit
from .base import Kept, Panel, bar, button, tiles, unbroken
from .controls import Choice
from .mine import BADGE, EMPTY_KIT, my_kit, reading_words
from .questions import Hands
from .units import GivenUnits

_HERE = Path(__file__).parent
_VOTES = *OUTCOMES, DEPENDS
_LEGEND = (
    '<span><i class="fh-helped"></i> helped <i class="fh-same"></i> no matter '
    '<i class="fh-harmed"></i> harmed, of 100</span>'
)
_FEW_READINGS = 2  # that are named one by one
_CURRENT = ' aria-current="true"'
_SHUT = "no vote yet"
_VERDICT_NOTES = "all three groups agree", "it turns with the group"


class Docket(anywidget.AnyWidget):
    """All sayings in rows, to choose one; what came of it stands on those already voted on."""

    _esm = _HERE / "court.js"
    _css = _HERE / "court.css"
    rows = traitlets.List(traitlets.Dict()).tag(sync=True)
    chosen = traitlets.Unicode("").tag(sync=True)


class _Bench(Panel):
    """One saying, its ballot and a hundred learners; or all sayings in rows."""

    def __init__(self, saying: str, population: str, units: GivenUnits = None):
        self.votes: dict[str, str] = {}  # by saying: nothing is answered without one
        self.hands_of: dict[str, dict[str, int]] = {}
        self.taken = MyKit()
        self.ballot, self.found, self.docket = widgets.VBox(), widgets.HTML(), Docket()
        self.count = button("Count the votes", self.count_votes)
        self.again = button("Vote again", self.vote_again)
        self.following = button("Next saying", self.call_next)
        self.all = button("All sayings", self.show_all)
        self.mine = button("Use my kit", self.turn_mine)
        self.mine_said, self.untold = widgets.HTML(), widgets.HTML(_untold_words())
        self.legend = widgets.HTML(_LEGEND)
        heard = {key: row.words for key, row in sayings().items() if row.change}
        groups = {key: row.name for key, row in populations().items()}
        controls = {
            "saying": Choice("Saying", heard, saying),
            "population": Choice("Learners", groups, population),
        }
        super().__init__(controls, [], units)
        self._lay_out()
        self._open_ballot()
        self.show_answer()
        self.docket.observe(self._chosen, names="chosen")

    def _lay_out(self):
        head, face, shot, side, _, foot = self.stage.children
        self.head = head.children[0]
        group = bar(self.control["population"].widget)
        keys = bar(self.again, self.following, self.all, self.mine, self.legend)
        for part in (self.keep_button, self.drop_button, self.reset_button):
            for kind in part._dom_classes:
                part.remove_class(kind)
        foot.children = [self.voice]
        side.children = [group, self.ballot, self.found, self.mine_said]
        classes = {
            "fh-ask fh-of-4": self.ballot,
            "fh-found": self.found,
            "fh-note": self.mine_said,
            "fh-count": self.count,
            "fh-court-keys": keys,
            "fh-docket": self.docket,
            "fh-legend": self.legend,
            "fh-note fh-untold": self.untold,
        }
        for kinds, part in classes.items():
            for kind in kinds.split():
                part.add_class(kind)
        self.stage.children = [head, face, shot, side, self.docket, self.untold, keys, foot]
        self.stage.add_class("fh-court")

    # ---- what the base asks ---------------------------------------------------------------------

    def answer(self, state: Mapping[str, Any]) -> Hearing | None:
        """Hear the saying, once somebody has voted on it."""
        if state["saying"] not in self.votes:
            return None
        return hearing(state["saying"], state["population"], learner=self._learner())

    def results(self, answer, before) -> str:
        """Spell the verdict and the shares."""
        if answer is None:
            return ""
        rows = [
            ("", "The verdict", lambda _: answer.overall, _VERDICT_NOTES[answer.overall == DEPENDS])
        ]
        for kind, what, look in (
            (HELPS, "Helped", "fh-ember"),
            (NO_MATTER, "No matter", ""),
            (HARMS, "Harmed", ""),
        ):
            note = _give_or_take(answer.verdict.shares[kind])
            if kind == NO_MATTER and answer.neither:
                note += f"; {answer.neither} of them have no ember either way"
            rows.append((look, what, partial(_of_hundred, kind), note))
        return tiles(rows, answer)

    def draw(self, answer, before):
        """Place the hundred."""
        sketch = self.sketch(CourtDots)
        return sketch, sketch.update(answer)

    def show_answer(self) -> None:
        """Show what is asked, or what came of it."""
        super().show_answer()
        if self.ballot.children:  # all is laid out
            self._show_sides()

    # ---- the vote -------------------------------------------------------------------------------

    @property
    def saying(self) -> str:
        """The saying before the court."""
        return self.control["saying"].value

    @property
    def given(self) -> str | None:
        """What was chosen, or else what most hands are up for."""
        return self.vote.value or self.hands.most()

    def _open_ballot(self):
        """Ask the next group: nothing is chosen, and no hand is up."""
        self.vote = widgets.RadioButtons(options=list(_VOTES), value=None)
        self.hands = Hands(list(_VOTES))
        for widget in (self.vote, *self.hands.boxes.values()):
            widget.observe(self._may_count, names="value")
        words = f"{html.escape(self._asked)}"
        heard = widgets.HTML(f'<div class="fh-question fh-heard">{words}</div>')
        meant = widgets.HTML(unbroken(html.escape(f"{_meant(sayings()[self.saying])}.")))
        meant.add_class("fh-meant")
        self.ballot.children = [heard, self.vote, self.hands, self.count, meant]
        self._ballot_of = self.saying
        self._may_count()

    @property
    def _asked(self):
        """The saying as it is asked about."""
        return f"“{sayings()[self.saying].words}” Does it help?"

    def _may_count(self, _=None):
        self.count.disabled = not self.given

    def count_votes(self) -> None:
        """Hear the saying, if anybody has voted."""
        if self.given:
            self.votes[self.saying] = self.given
            self.hands_of[self.saying] = {vote: n for vote, n in self.hands.counts.items() if n}
            self.refresh()

    def vote_again(self) -> None:
        """Shut the saying again, and ask the next group."""
        self.votes.pop(self.saying, None)
        self._open_ballot()
        self.refresh()

    def call_next(self) -> None:
        """Call the next saying that nobody has voted on; after the last, the next of all."""
        keys = [key for _, key in self.control["saying"].widget.options]
        at = keys.index(self.saying) + 1
        around = keys[at:] + keys[:at]
        self.set(saying=next((key for key in around if key not in self.votes), around[0]))

    # ---- all sayings ----------------------------------------------------------------------------

    def show_all(self) -> None:
        """Show all sayings in rows, or go back to the one."""
        self._list(not self.listed)

    def _list(self, listed):
        (self.stage.add_class if listed else self.stage.remove_class)("fh-court-all")
        self.show_answer()

    @property
    def listed(self) -> bool:
        """Whether all sayings are shown."""
        return "fh-court-all" in self.stage._dom_classes

    def _chosen(self, change):
        if change["new"] in sayings():
            self._list(False)
            self.set(saying=change["new"])
        self.docket.chosen = ""

    # ---- my kit ---------------------------------------------------------------------------------

    def turn_mine(self) -> None:
        """Ask about the learner of my kit, too, or no more."""
        self.taken = MyKit() if self.taken else my_kit.kit
        self.refresh()
        if not self.taken and not my_kit.kit:
            self._say_mine(EMPTY_KIT)

    def _learner(self):
        if not self.taken:
            return None
        return Learner(state=self.taken.state(Try()), measured=self.taken.measured)

    def _kit_words(self):
        count = len(self.taken.readings)
        few = count <= _FEW_READINGS
        return f"{BADGE}: {reading_words(self.taken, self.system) if few else f'{count} readings'}."

    def _say_mine(self, words):
        self.mine_said.value = f'<span role="status">{unbroken(html.escape(words))}</span>'

    # ---- words and buttons ----------------------------------------------------------------------

    def _show_sides(self):
        """Show the saying, its ballot or what came of it, and the buttons that do something now."""
        if self.saying != self._ballot_of:
            self._open_ballot()
        answer, _ = self._shown
        group = populations()[self.control["population"].value].name
        asked = f"All sayings, for {group}" if self.listed else self._asked
        self.head.value = f'<div class="fh-question">{html.escape(asked)}</div>'
        _show(self.ballot, answer is None)
        _show(self.found, answer is not None)
        self.found.value = "" if answer is None else unbroken(self._found_words(answer))
        _show(self.again, answer is not None and not self.listed)
        _show(self.following, not self.listed)
        self.all.description = "Back to the saying" if self.listed else "All sayings"
        self.mine.description = "Take my kit off" if self.taken else "Use my kit"
        _show(self.mine, not self.listed)
        _show(self.legend, self.listed)
        self._say_mine(self._kit_words() if self.taken and answer is None else "")
        keys = [key for _, key in self.control["saying"].widget.options]
        self.docket.rows = [self._row(key) for key in keys] if self.listed else []

    def _found_words(self, answer):
        """Spell what stands beside the dots."""
        hands = ", ".join(f"{n} {vote}" for vote, n in self.hands_of[self.saying].items())
        paragraphs = [f'<span class="fh-said">You said: <b>{self.votes[self.saying]}</b></span>']
        if hands:
            paragraphs[0] += f" · hands: {hands}"
        paragraphs += [
            f"<b>{what}:</b> {html.escape(words)}"
            for what, words in findings(answer, self.system).items()
        ]
        groups = "".join(
            f"<li{_CURRENT * (key == answer.population.key)}>"
            f"{html.escape(row.name)}: <b>{answer.says[key]}</b></li>"
            for key, row in populations().items()
        )
        row = answer.saying
        if self.taken and answer.own is None:
            paragraphs.append("<b>My kit:</b> it plays no part here.")
        small = "; ".join(words for words in (_meant(row), row.source, row.note) if words)
        kit = f" {self._kit_words()}" if self.taken else ""
        paragraphs.append(f"<small>{html.escape(f'{small}.{kit}')}</small>")
        return f"<ul>{groups}</ul><p>{'</p><p>'.join(paragraphs)}</p>"

    def _row(self, key):
        """Tell the browser of one saying; numbers only where somebody has voted."""
        row = {"key": key, "words": sayings()[key].words, "now": key == self.saying}
        if key not in self.votes:
            return row | {"counts": [], "says": _SHUT, "heard": ""}
        answer = hearing(key, self.control["population"].value)
        counts = answer.counts
        heard = f": helped {counts[HELPS]}, no matter {counts[NO_MATTER]}, harmed {counts[HARMS]}."
        return row | {"counts": [*counts.values()], "says": answer.verdict.told, "heard": heard}


def _meant(saying):
    return f"Meant for: {saying.aimed}"


def _untold_words():
    """Name the sayings that are not before the court, and why."""
    rows = [row for row in sayings().values() if row.change is None]
    told = "; ".join(f"“{row.words}” ({row.untold})" for row in rows)
    return unbroken(html.escape(f"Not before this court: {told}."))


def _show(part, shown):
    part.layout.display = None if shown else "none"


def _of_hundred(kind, answer):
    """Spell how many of the hundred are of a kind."""
    return f"{answer.counts[kind]} of 100"


def _give_or_take(band):
    """Spell the margin of a share in learners of a hundred."""
    off = 100 * max(band.high - band.likely, band.likely - band.low)
    return f"give or take {max(1, round(off))}"


class Court(Kept):
    """Advice before the court: hands first, then what it does to each of a hundred learners.

    Who voted for what is counted, and shown nowhere but here. A saying opens once somebody has
    voted on it; all sayings stand in rows, those that are open with what came of them.

    Parameters
    ----------
    saying : str
        Which is called first, a row of ``data/sayings.toml``.
    population : str
        Who follows it, a row of ``data/populations.toml``.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.

    Raises
    ------
    InputError
        If there is no such saying or population, or there are no such units.
    """

    def __init__(
        self,
        saying: str = "press_harder",
        population: str = "ten_to_twelve",
        *,
        units: GivenUnits = None,
    ):
        self.bench = _Bench(saying, population, units)
        super().__init__([self.bench])

    @property
    def png(self) -> bytes:
        """The hundred, as they stand."""
        return self.bench.png

    def sentence(self) -> str:
        """Say what is shown."""
        return self.bench.sentence()

    def set(self, **values: Any) -> str:
        """Choose a saying or a population, and return the new sentence."""
        return self.bench.set(**values)

    def commit(self, given: str) -> str:
        """Vote on the saying that stands, and return what came of it."""
        self.bench.vote.value = given
        self.bench.count_votes()
        return self.sentence()
