"""Questions and what-if cards: their words from ``data/lessons.toml``, their answers computed.

A prediction's right answer is never written down: it is the option nearest to what the model
gives for the change that the question describes. Nor has an explanation a number typed in.
"""

import math
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, NamedTuple

from .answers.cards import Level, Rules, Verdict, heap, hold
from .answers.coaching import Changed, changed_by
from .answers.questions import STROKES, Compared, as_compared, asked_of, compared, try_of
from .answers.questions import change_ratio as change_ratio  # pages ask for these here
from .answers.questions import measured as measured
from .data import table
from .everyday import like_power
from .kit.wood import wood
from .quantities import METRIC, InputError, quantity, unit_text
from .spread import Spread
from .texts import in_units
from .words import NEVER, factor_words, number_words, percent_words, ratio_words, time_words

FIRST = "first_change"  # a measure: the ember, once a learner has changed the best thing
TIMED = ("bound", "ember", "smoke", "first_smoke", FIRST)  # measures that are a time

# How the number of a measure is spelled; a rise in temperature in the reader's degrees.
RISES = ("swing", "dust_rise", "char_rise")
_SPELLED: Mapping[str, Callable[[float], str]] = {
    **dict.fromkeys(TIMED, time_words),
    **dict.fromkeys(("power", "pressed_power"), lambda watts: f"{number_words(watts)} W"),
    **dict.fromkeys(("dust_share", "rim_share", "water_share", "stored"), percent_words),
    **dict.fromkeys(("helped_share", "unmoved_share", "harmed_share"), percent_words),
    "joules": lambda heat: f"{number_words(heat)} J",
    "tries_needed": lambda tries: f"{tries:.0f} a side",
    "thick_factor": lambda factor: f"{factor:.1f} times",
}


_WHOLE = "all of it", "it is"  # what a picture calls the two, where the whole was before


@dataclass(frozen=True)
class Option:
    """One answer of a self-check that a reader can choose.

    Attributes
    ----------
    text, reply : str
        The answer, and what is said to a reader who chose it.
    right : bool
        Whether it is the right one.
    """

    text: str
    reply: str
    right: bool


@dataclass(frozen=True)
class Question:
    """A self-check: a question with its options, exactly one of them right.

    Attributes
    ----------
    key, text : str
        Its name in the table, and the question.
    options : tuple of Option
        What can be answered.
    """

    key: str
    text: str
    options: tuple[Option, ...]


@dataclass(frozen=True)
class Prediction:
    """A question to commit to: with options, or with a number to give. It holds no answer.

    Attributes
    ----------
    key, text : str
        Its name in the table, and the question.
    measure : str
        What is asked about, see :func:`measured`.
    options : mapping
        What can be chosen, and what is then left of what was before [1], or which change of a
        learner it is; empty where a number is asked for.
    unit : str
        What a number is counted in; empty where there are options.
    within : float
        A number is right up to this many times too large or small. [1]
    names : tuple of str
        What a picture calls the two.
    before, after : mapping or None
        Settings of the two. [SI]
    panel_before, panel_after : mapping
        What a panel that opens then is set to, by its controls. [SI]
    """

    key: str
    text: str
    measure: str
    options: Mapping[str, float | str]
    unit: str
    within: float
    names: tuple[str, str]
    before: Mapping[str, Any] | None
    after: Mapping[str, Any]
    panel_before: Mapping[str, Any]
    panel_after: Mapping[str, Any]


@dataclass(frozen=True)
class Answer:
    """What the model gives for a prediction.

    Attributes
    ----------
    before, after : float
        The measure before and after. Where nothing is before, that is the whole of a share, and
        else nothing. [SI]
    right : str
        The option nearest to it; empty where a number was asked for.
    found : str
        What was found, spelled.
    explain : str
        Why.
    tries : Compared or None
        Both tries, where the measure is a time that lanes can show.
    known : str
        What is known of the ratio of two embers' times; empty for other measures.
    """

    before: float
    after: float
    right: str
    found: str
    explain: str
    tries: Compared | None
    known: str


@dataclass(frozen=True)
class Card:
    """A what-if card: a story, what to reach, and the rules.

    Attributes
    ----------
    key, title, story, task, hint : str
        Its name in the table, and its words.
    rules : Rules
        Where it starts, what may be moved, and what to reach.
    ways : int
        How many ways the task asks for. [1]
    replies : mapping
        What is said of a rule that is broken, by its name; with places for what was found.
    """

    key: str
    title: str
    story: str
    task: str
    hint: str
    rules: Rules
    ways: int
    replies: Mapping[str, str]


def _entry(kind: str, key: str) -> Mapping[str, Any]:
    try:
        return table("lessons")[kind][key]
    except (KeyError, TypeError):  # a list is no key
        raise InputError(f"no {kind} {key!r}; there are {sorted(table('lessons')[kind])}") from None


# ---- predictions --------------------------------------------------------------------------------


def prediction(key: str, system: str = METRIC) -> Prediction:
    """Read a prediction; nothing is worked out yet.

    Parameters
    ----------
    key : str
        The prediction.
    system : str
        ``"metric"`` or ``"us"``.

    Raises
    ------
    InputError
        If there is no such prediction.

    Examples
    --------
    >>> list(prediction("half_diameter").options)[1]
    'a quarter of the time'
    """
    entry = _entry("predict", key)
    before, after, panel = entry.get("before"), entry.get("after", {}), entry.get("panel", {})
    both, depths = panel.get("both", {}), _depths(entry)
    return Prediction(
        key=key,
        text=in_units(entry["question"], system),
        measure=entry["measure"],
        options=dict(entry.get("options", ())),
        unit=entry.get("unit", ""),
        within=entry.get("within", 1.0),
        names=tuple(entry.get("names", _WHOLE if before is None else ("before", "after"))),
        before=before,
        after=after,
        panel_before={**(before or {}), **depths[0], **both, **panel.get("before", {})},
        panel_after={**after, **depths[1], **both, **panel.get("after", {})},
    )


def _depths(entry):
    """Tell the burn-in depths of both tries, where they are not as set."""
    if entry["measure"] != "ember" or "diameter" not in entry["after"]:
        return {}, {}
    pair = try_of(entry["before"]), try_of(entry["after"])
    return tuple(
        {"burn_in_depth": as_compared(one, other).kit.burn_in_depth}
        for one, other in (pair, pair[::-1])
    )


def worked_out(key: str, system: str = METRIC) -> Answer:
    """Work out what a prediction asks about, which option is right, and why.

    Parameters
    ----------
    key : str
        The prediction.
    system : str
        ``"metric"`` or ``"us"``.

    Returns
    -------
    Answer
        All of it.

    Raises
    ------
    InputError
        If there is no such prediction.

    Examples
    --------
    >>> worked_out("half_diameter").right
    'a quarter of the time'
    """
    return _told(prediction(key, system).key, system)


@cache
def _worked_out(key):
    """Work out both tries and the measure before and after, whatever units they are told in."""
    asked = prediction(key)
    tries = _tries(asked)
    return tries, *_both(asked, tries)


@cache
def _told(key, system):
    asked, entry = prediction(key), _entry("predict", key)
    tries, before, after = _worked_out(key)
    ratio = after / before if before else math.nan
    left = _left(asked)
    right = min(left, key=lambda text: abs(math.log(left[text] / ratio)), default="")
    words = {
        "number": number_words(after if asked.unit else ratio),
        "percent": percent_words(ratio) if before else "",
        "words": ratio_words(ratio) if before else "",
        "before": spelled(asked.measure, before, system),
        "after": spelled(asked.measure, after, system),
        "like": like_power(after),
        "right": right,
    }
    found = in_units(entry["found"], system, **words)
    words |= {"found": found} | _facts(entry.get("facts", {}), system)
    if tries:
        words |= {"same_depth": ratio_words(tries.same_depth)}
        words |= {"same_grams": ratio_words(tries.same_grams)}
    known = factor_words(tries.ratio) if tries and asked.measure == "ember" else ""
    known = factor_words(_changed(asked).ratio) if asked.measure == FIRST else known
    explain = in_units(entry["explain"], system, **words)
    return Answer(before, after, right, found, explain, tries, known)


def _left(asked):
    """Tell what each option leaves of what was before."""
    if asked.measure != FIRST:
        return asked.options
    return {text: _changed(asked).left[key] for text, key in asked.options.items()}


def _changed(asked) -> Changed:
    return changed_by(asked.before)


def _tries(asked):
    """Work out both tries, where lanes can show them."""
    if asked.before is None or asked.measure not in ("ember", "bound"):
        return None
    return compared(try_of(asked.before), try_of(asked.after), as_set=asked.measure == "bound")


def _both(asked, tries):
    """Work out the measure before and after."""
    if tries and asked.measure == "ember":
        before = tries.before.wood.likely
        return before, before * tries.ratio.likely
    if asked.measure == FIRST:
        return _changed(asked).before, _changed(asked).after
    after = asked_of(asked.measure, asked.after)
    if asked.before is None:  # of a share, the whole was before; else there is nothing
        return float(asked.measure.endswith("_share")), after
    return asked_of(asked.measure, asked.before), after


def _facts(rows, system):
    """Work out and spell what an explanation needs besides."""
    words = {}
    for name, row in rows.items():
        settings = {key: value for key, value in row.items() if key != "measure"}
        words[name] = spelled(row["measure"], asked_of(row["measure"], settings), system)
    return words


def headline(asked: Prediction, answer: Answer, given: str | float) -> str:
    """Say what was found, beside what somebody said.

    Parameters
    ----------
    asked, answer : Prediction, Answer
        The question and its answer.
    given : str or float
        The option chosen, or the number.

    Returns
    -------
    str
        One sentence.

    Examples
    --------
    >>> key = "half_diameter"
    >>> headline(prediction(key), worked_out(key), "half the time")
    'Sooner than you said: a quarter of the time.'
    """
    said, found = said_value(asked, answer, given), answer.found
    if given == answer.right:
        return f"As you said: {found}."
    if asked.unit and said > 0 and abs(math.log(said / answer.after)) <= math.log(asked.within):
        return f"As you said, near enough: {found}."
    less, more = ("Sooner", "Later") if asked.measure in TIMED else ("Less", "More")
    return f"{less if answer.after < said else more} than you said: {found}."


def said_value(asked: Prediction, answer: Answer, given: str | float) -> float:
    """Return what somebody said, in what is measured. [SI].

    Parameters
    ----------
    asked, answer : Prediction, Answer
        The question and its answer.
    given : str or float
        The option chosen, or the number.

    Returns
    -------
    float
        The value; of an option, what it leaves of what was before. [SI]

    Examples
    --------
    >>> key = "dust_share"
    >>> said_value(prediction(key), worked_out(key), "about a tenth of it")
    0.1
    """
    if asked.unit:
        return float(given)
    return _left(asked)[str(given)] * answer.before


def spelled(measure: str, value: float, system: str = METRIC) -> str:
    """Spell the number of a measure with its unit.

    Parameters
    ----------
    measure : str
        See :func:`measured`.
    value : float
        The number. [SI]
    system : str
        ``"metric"`` or ``"us"``.

    Returns
    -------
    str
        The words.

    Examples
    --------
    >>> spelled("power", 10.5), spelled("stored", 0.07), spelled("swing", 10.0, "us")
    ('10 W', '7 %', '18 °F')
    """
    if measure in RISES:
        row = quantity("warming")
        return f"{number_words(row.shown(value, system))} {unit_text(row.shown_unit(system))}"
    return _SPELLED[measure](value)


# ---- self-checks and cards ----------------------------------------------------------------------


def self_check(key: str, system: str = METRIC) -> Question:
    """Read a self-check question.

    Parameters
    ----------
    key : str
        The question.
    system : str
        ``"metric"`` or ``"us"``.

    Raises
    ------
    InputError
        If there is no such question.

    Examples
    --------
    >>> sum(option.right for option in self_check("stroke_length").options)
    1
    """
    entry = _entry("check", key)
    options = tuple(
        Option(row["text"], in_units(row["reply"], system), row.get("right", False))
        for row in entry["options"]
    )
    return Question(key, in_units(entry["question"], system), options)


def card(key: str, system: str = METRIC) -> Card:
    """Read a what-if card.

    Parameters
    ----------
    key : str
        The card.
    system : str
        ``"metric"`` or ``"us"``.

    Raises
    ------
    InputError
        If there is no such card.

    Examples
    --------
    >>> card("heavy_spindle").rules.free
    ('diameter', 'force', 'speed')
    """
    entry = _entry("card", key)
    rules = Rules(
        start=entry["start"],
        free=tuple(entry["free"]),
        below=entry["below"],
        change_at_most=entry["change_at_most"],
        at_least=entry.get("at_least", {}),
        at_most=entry.get("at_most", {}),
        arm=tuple(entry["arm"]),
    )
    names = ("title", "story", "task", "hint")
    words = {name: in_units(entry[name], system) for name in names}
    replies = {**table("lessons")["reply"], **entry.get("replies", {})}
    return Card(key=key, **words, rules=rules, ways=entry.get("ways", 1), replies=replies)


# ---- how a card stands --------------------------------------------------------------------------


class Standing(NamedTuple):
    """How a card's task stands, in words.

    Attributes
    ----------
    mark : str
        A tick, a cross, a sign of about, or nothing.
    opening, more : str
        The sentence that says it, and what there is to say besides.
    """

    mark: str
    opening: str
    more: str

    def __str__(self):
        return " ".join(part for part in self if part)


def stands(
    task: Card,
    verdict: Verdict,
    moved: Mapping[str, Any],
    *,
    found: Spread,
    ways: Collection[tuple[str, ...]] = (),
    system: str = METRIC,
) -> Standing:
    """Say how a card's task stands.

    Parameters
    ----------
    task : Card
        The card.
    verdict : Verdict
        How it stands.
    moved : mapping
        Where what is free stands. [SI]
    found : Spread
        What a stopwatch might see.
    ways : collection of tuple of str
        Ways by which the goal has been met, each what was changed for it.
    system : str
        ``"metric"`` or ``"us"``.

    Returns
    -------
    Standing
        In words.

    Examples
    --------
    >>> from fireheat.answers.cards import judge
    >>> from fireheat.spread import spread
    >>> task, moved = card("heavy_spindle"), {"diameter": 0.006}
    >>> found = spread(try_of(task.rules.settings(moved)))
    >>> verdict = judge(task.rules, moved, found)
    >>> stands(task, verdict, moved, found=found).opening.partition(":")[0]
    'Quick, but no ember keeps'
    """
    goal, slow = time_words(task.rules.below), time_words(found.wood.high)
    if verdict.level == Level.UNTRIED:
        return Standing("", "Not tried yet.", f"The goal: an ember under {goal}.")
    if verdict.level == Level.REFUSED:
        places = _places(task, verdict, moved, found, system)
        return Standing("✘", in_units(task.replies[verdict.broken], system, **places), "")
    if verdict.level == Level.LATE:
        return Standing("✘", f"Not yet, because {_too_late(found.wood, goal)}.", task.hint)
    if verdict.level == Level.LIKELY:
        words = f"the likely ember is before the flag, but with this wood it may take {slow}."
        if slow in (goal, NEVER):
            words = "the likely ember is before the flag, but the bar of this wood is not quite."
        return Standing("≈", f"Likely, but not sure: {words}", task.hint)
    return _met(task, verdict, found, goal, slow, ways)


def _met(task, verdict, found, goal, slow, ways):
    end = f"just under {goal}" if slow == goal else slow
    opening = f"Goal met with this wood: {end} at the slow end."
    more = "Part of the pale bar is past the flag: what we do not know can still spoil it."
    if verdict.level == Level.ALL:
        opening = f"Goal met, come what may: {time_words(found.all.high)} at the very latest."
        more = "Even the pale bar ends before the flag."
    names = sorted(" and ".join(_name(key) for key in way) for way in ways)
    if task.ways > 1 and len(names) == 1:
        more += f" That is one way, by {names[0]}. The task asks for two."
    if task.ways > 1 and len(names) > 1:
        more += f" Both ways are found: by {names[0]}, and by {names[1]}."
    return Standing("✔", opening, more)


def _name(key):
    return "another wood" if key == "wood" else quantity(key).name


def _too_late(band, goal):
    """Say why the goal is missed, also where an end reads just like it."""
    likely = time_words(band.likely)
    if likely == NEVER:
        return f"most likely there is never an ember, and it has to come under {goal}"
    if likely == goal:
        return f"even the likely ember is not quite under {goal}"
    return f"the ember most likely takes {likely}, and it has to come under {goal}"


def _places(task, verdict, moved, found, system):
    """Spell what a reply may have a place for."""
    settings = task.rules.settings(moved)
    state = try_of(settings)
    texts = {key: setting_words(key, value, system) for key, value in settings.items()}
    speed, force = state.effort.speed, state.effort.force
    strokes = [texts.get(key, "") for key in STROKES]
    return texts | {
        "force": setting_words("force", force, system),
        "speed": setting_words("speed", speed, system),
        "stroke": strokes[0],
        "strokes": strokes[1],
        "slow": time_words(found.wood.high),
        "hold": time_words(hold(task.rules, state)),
        "dust": f"{number_words(1000 * heap(state.kit))} g",
        "count": len(verdict.changed),
        "allowed": task.rules.change_at_most,
    }


def setting_words(key: str, value: Any, system: str = METRIC) -> str:
    """Spell where something stands: a quantity with its unit, a wood by its name.

    Parameters
    ----------
    key : str
        A quantity, or ``"wood"``.
    value : float or str
        Its value. [SI]
    system : str
        ``"metric"`` or ``"us"``.

    Returns
    -------
    str
        The words.

    Examples
    --------
    >>> setting_words("force", 60.0), setting_words("wood", "northern_red_oak")
    ('60 N', 'northern red oak')
    """
    return wood(value).name if key == "wood" else quantity(key).text(value, system)
