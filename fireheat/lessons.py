"""Questions and what-if cards: their words from ``data/lessons.toml``, their answers computed.

A prediction's right answer is never written down: it is the option nearest to what the model
gives for the change that the question describes. Nor has an explanation a number typed in.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from .answers.pressing import press
from .answers.questions import Compared, Rules, as_compared, compared, try_of
from .answers.rings import cut
from .answers.warmth import Rhythm, contact_heat
from .answers.weather import stores
from .bands import Band
from .data import table
from .ember.catchers import AIR_GAP, catchers
from .ember.draw import joules_by_thickness
from .ember.ember import Ember
from .estimates import times
from .everyday import like_power
from .kit.bowing import friction_power
from .kit.kit import Try
from .kit.wood import density, energy_parts
from .person.arm import arms
from .quantities import InputError, choose, default
from .words import number_words, percent_words, ratio_words, time_words

_TIMES = ("bound", "ember", "smoke", "power", "flux")  # measures that every try has
TIMED = ("bound", "ember", "smoke", "first_smoke")  # measures that are a time

# How the number of a measure is spelled.
_SPELLED: Mapping[str, Callable[[float], str]] = {
    **dict.fromkeys(TIMED, time_words),
    **dict.fromkeys(("power", "pressed_power"), lambda watts: f"{number_words(watts)} W"),
    **dict.fromkeys(("swing", "dust_rise", "char_rise"), lambda rise: f"{number_words(rise)} °C"),
    **dict.fromkeys(("dust_share", "rim_share", "water_share", "stored"), percent_words),
    "joules": lambda heat: f"{number_words(heat)} J",
}


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
        What can be chosen, and what is then left of what was before [1]; empty where a number is
        asked for.
    unit : str
        What a number is counted in; empty where there are options.
    within : float
        A number is right up to this many times too large or small. [1]
    before, after : mapping or None
        Settings of the two. [SI]
    panel_before, panel_after : mapping
        What a panel that opens then is set to, by its controls. [SI]
    """

    key: str
    text: str
    measure: str
    options: Mapping[str, float]
    unit: str
    within: float
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


# ---- what is asked about ------------------------------------------------------------------------


def measured(measure: str, state: Try, **changed: Any) -> float:
    """Return one number that questions ask about.

    Parameters
    ----------
    measure : str
        ``"bound"``, ``"ember"`` or ``"smoke"`` (likely values, s), ``"power"`` (W),
        ``"dust_share"``, the part of all heat that an ember's dust and its water have had,
        ``"water_share"``, the water's part of that, ``"rim_share"``, the part of the heat that is
        made beyond half the tip's radius, ``"stored"``, the moisture of wood ``kept`` outdoors or
        on a warm rack, ``"pressed_power"``, the watts that a teenager's arm makes at a force (W),
        ``"dust_rise"``, how hot dust could be that wears off so fast, and ``"char_rise"``, how hot
        charring is, above the air (K), of a way of bowing, ``"swing"`` (K) and ``"first_smoke"``
        (likely value, s), or, of an ember that lies on a ``catcher`` over a ``ground``,
        ``"joules"`` drawn from it in the first minute.
    state : Try
        The try.
    **changed : float or str
        Quantities to use instead, SI; also the words ``wood``, ``catcher``, ``ground`` and ``kept``
        where they count.

    Returns
    -------
    float
        The number.

    Raises
    ------
    InputError
        If there is no such measure, or a quantity cannot be.

    Examples
    --------
    >>> measured("power", Try())
    10.5
    """
    choose("measure", measure, (*_TIMES, *MEASURES))
    if measure in MEASURES:
        return float(MEASURES[measure](state, **changed))
    value = getattr(times(state.changed(**changed)), measure)
    return float(value.likely if isinstance(value, Band) else value)


def _rim_share(state, **_):
    """Part of the heat beyond half the radius; the same at any force, friction and speed."""
    inner, outer = cut(state, count=2).power
    return outer / (inner + outer)


def _stored(state, kept, temperature_ambient=None, relative_humidity=None):
    """Moisture of wood kept in a place."""
    given = {"temperature": temperature_ambient, "relative_humidity": relative_humidity}
    air = replace(state.air, **{key: value for key, value in given.items() if value is not None})
    outdoors, rack = stores(Try(state.kit, state.effort, air), warming=default("warming"))
    return {"outdoors": outdoors, "rack": rack}[kept].moisture


def _energy(state, **changed):
    kit, air = state.kit.changed(**changed), state.air
    return energy_parts(
        kit.burn_in_depth,
        density=density(kit.specific_gravity),
        moisture=kit.moisture,
        temperature_ambient=air.temperature,
        temperature_char=default("temperature_char"),
    )


def _water_share(state, **changed):
    parts = _energy(state, **changed)
    return parts.water / parts.total


def _char_rise(state, **_):
    return default("temperature_char") - state.air.temperature


def _dust_rise(state, wear, **changed):
    """Rise of dust that takes all heat along: heat made, over what so much wood takes a kelvin."""
    now = state.changed(**changed)
    rubbed = friction_power(
        now.effort.force, friction=1.0, speed=now.effort.speed, contact=now.kit.contact
    )
    layer = now.kit.burn_in_depth * _char_rise(now)
    return now.power / (wear * rubbed * _energy(now).total / layer)


def _pressed_power(state, force, **_):
    return press(state.kit, arm=arms()["teenager"], air=state.air, force=force).power


def _dust_share(state, **changed):
    found = times(state.changed(**changed))
    return found.bound / found.ember.likely


def _joules(_, catcher, ground=AIR_GAP, crust=0.0, catcher_thickness=None):
    """Joules asked of an ordinary ember in its first minute."""
    thickness = catchers()[catcher].thickness if catcher_thickness is None else catcher_thickness
    ember = Ember(crust=crust)
    return joules_by_thickness(catcher, thickness=thickness, ground=ground, ember=ember)


_RHYTHM = ("stroke_length", "strokes_per_minute", "bout", "pause")


def _stroked(state, **changed):
    """Follow the contact; of all that can change, only force and the way of bowing count here."""
    rhythm = Rhythm(**{key: changed[key] for key in _RHYTHM if key in changed})
    return contact_heat(
        state.kit,
        rhythm=rhythm,
        air=state.air,
        force=changed.get("force", state.effort.force),
    )


# What is no field of the times; some heed only what they name.
MEASURES: Mapping[str, Callable[..., float]] = {
    "rim_share": _rim_share,
    "water_share": _water_share,
    "stored": _stored,
    "char_rise": _char_rise,
    "dust_rise": _dust_rise,
    "pressed_power": _pressed_power,
    "dust_share": _dust_share,
    "swing": lambda state, **changed: _stroked(state, **changed).swing,
    "first_smoke": lambda state, **changed: _stroked(state, **changed).first_smoke.likely,
    "joules": _joules,
}


def change_ratio(
    measure: str, change: Mapping[str, float], start: Mapping[str, float] | None = None
) -> float:
    """Return how a number changes when quantities of an ordinary kit are multiplied.

    Parameters
    ----------
    measure : str
        See :func:`measured`.
    change : mapping
        Quantity to the factor on it.
    start : mapping, optional
        Quantity to its value before, where that is not the ordinary one. [SI]

    Returns
    -------
    float
        New over old. [1]

    Examples
    --------
    >>> change_ratio("bound", {"diameter": 0.5})
    0.25
    """
    state = Try()
    now = dict(start or {})
    now |= {key: state.value(key) for key in change if key not in now}
    changed = now | {key: now[key] * factor for key, factor in change.items()}
    return measured(measure, state, **changed) / measured(measure, state, **now)


# ---- predictions --------------------------------------------------------------------------------


def prediction(key: str) -> Prediction:
    """Read a prediction; nothing is worked out yet.

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
        text=entry["question"],
        measure=entry["measure"],
        options=dict(entry.get("options", ())),
        unit=entry.get("unit", ""),
        within=entry.get("within", 1.0),
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


@cache
def worked_out(key: str) -> Answer:
    """Work out what a prediction asks about, which option is right, and why.

    Parameters
    ----------
    key : str
        The prediction.

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
    asked, entry = prediction(key), _entry("predict", key)
    tries = _tries(asked)
    before, after = _both(asked, tries)
    ratio = after / before if before else math.nan
    right = min(
        asked.options, key=lambda text: abs(math.log(asked.options[text] / ratio)), default=""
    )
    spelled = _SPELLED[asked.measure]
    words = {
        "number": number_words(after if asked.unit else ratio),
        "percent": percent_words(ratio) if before else "",
        "words": ratio_words(ratio) if before else "",
        "before": spelled(before),
        "after": spelled(after),
        "like": like_power(after),
    }
    found = entry["found"].format(**words)
    words |= {"found": found} | _facts(entry.get("facts", {}))
    known = ""
    if tries and asked.measure == "ember":
        known = known_words(tries.ratio)
        words |= {"same_depth": times_words(tries.same_depth)}
        words |= {"same_grams": times_words(tries.same_grams)}
    return Answer(before, after, right, found, entry["explain"].format(**words), tries, known)


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
    after = _settled(asked.measure, asked.after)
    if asked.before is None:  # of a share, the whole was before; else there is nothing
        return float(asked.measure.endswith("_share")), after
    return _settled(asked.measure, asked.before), after


def _settled(measure, settings):
    if measure in _TIMES:
        return measured(measure, try_of(settings))
    return measured(measure, Try(), **settings)


def _facts(rows):
    """Work out and spell what an explanation needs besides."""
    spelled = {}
    for name, row in rows.items():
        settings = {key: value for key, value in row.items() if key != "measure"}
        spelled[name] = _SPELLED[row["measure"]](_settled(row["measure"], settings))
    return spelled


def times_words(ratio: float) -> str:
    """Spell a ratio of two times by its number.

    Parameters
    ----------
    ratio : float
        New over old. [1]

    Returns
    -------
    str
        Such as ``"3.6 times"``.

    Examples
    --------
    >>> times_words(0.146), times_words(3.57)
    ('0.15 times', '3.6 times')
    """
    return f"{number_words(ratio)} times"


def known_words(ratio: Band) -> str:
    """Say what is known of the ratio of two embers' times, all that we do not know in it.

    Parameters
    ----------
    ratio : Band of float
        Time of the ember after over that before. [1]

    Returns
    -------
    str
        Such as ``"0.19 to 0.38 of the time"``.

    Examples
    --------
    >>> known_words(Band(0.19, 0.33, 0.382)), known_words(Band(2.77, 3.57, math.inf))
    ('0.19 to 0.38 of the time', '2.8 times the time, or never an ember')
    >>> known_words(Band(0.0, 0.146, 0.255)), known_words(Band(1.0, 1.0, 1.0))
    ('at most 0.26 of the time, and some kits have an ember that had none', 'the same time')
    """
    low, _, high = ratio
    first, last = number_words(low), number_words(high) if high < math.inf else ""
    if low == 0:
        return f"at most {last} of the time, and some kits have an ember that had none"
    if not last:
        return f"{first} times the time, or never an ember"
    if first == last == "1":
        return "the same time"
    return f"{first} to {last} {'of' if high <= 1 else 'times'} the time"


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
    return asked.options[str(given)] * answer.before


def spelled(measure: str, value: float) -> str:
    """Spell the number of a measure with its unit.

    Parameters
    ----------
    measure : str
        See :func:`measured`.
    value : float
        The number. [SI]

    Returns
    -------
    str
        The words.

    Examples
    --------
    >>> spelled("power", 10.5), spelled("stored", 0.07)
    ('10 W', '7 %')
    """
    return _SPELLED[measure](value)


# ---- self-checks and cards ----------------------------------------------------------------------


def self_check(key: str) -> Question:
    """Read a self-check question.

    Examples
    --------
    >>> sum(option.right for option in self_check("stroke_length").options)
    1
    """
    entry = _entry("check", key)
    options = tuple(
        Option(row["text"], row["reply"], row.get("right", False)) for row in entry["options"]
    )
    return Question(key, entry["question"], options)


def card(key: str) -> Card:
    """Read a what-if card.

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
    words = {name: entry[name] for name in ("title", "story", "task", "hint")}
    replies = {**table("lessons")["reply"], **entry.get("replies", {})}
    return Card(key=key, **words, rules=rules, ways=entry.get("ways", 1), replies=replies)
