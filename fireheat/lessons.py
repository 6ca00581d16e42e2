"""Questions and what-if cards: their words from ``data/lessons.toml``, their answers computed.

A prediction's right answer is never written down: it is the option nearest to what the model
gives for the change that the question describes.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from .answers.pressing import press
from .answers.rings import cut
from .answers.warmth import Rhythm, contact_heat
from .answers.weather import stores
from .bands import Band
from .data import table
from .ember.catchers import AIR_GAP, catchers
from .ember.draw import joules_by_thickness
from .ember.ember import Ember
from .estimates import times
from .kit.kit import Air, Try
from .person.arm import arms
from .quantities import InputError, Numbers, choose, default
from .words import number_words, percent_words

_TIMES = ("bound", "ember", "smoke", "power", "flux")  # measures that every try has


@dataclass(frozen=True)
class Option:
    """One answer a reader can choose.

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
class Number:
    """A number to predict.

    Attributes
    ----------
    unit : str
        What it is counted in.
    value : float
        What the model gives, in that unit.
    within : float
        A prediction is right up to this many times too large or too small. [1]
    because : str
        What is said to the reader afterwards.
    """

    unit: str
    value: float
    within: float
    because: str


@dataclass(frozen=True)
class Question:
    """A question with its options, exactly one of them right, or with a number to give.

    Attributes
    ----------
    key, text : str
        Its name in the table, and the question.
    options : tuple of Option
        What can be answered; none where a number is asked for.
    found : str
        What the model found, for a prediction; empty for a self-check, and where the right option
        says as much.
    number : Number or None
        The number asked for, if it is one.
    """

    key: str
    text: str
    options: tuple[Option, ...]
    found: str = ""
    number: Number | None = None


@dataclass(frozen=True)
class Card:
    """A what-if card: a story, where its sliders start, which stay, and what to reach.

    Attributes
    ----------
    key, title, story, task, hint : str
        Its name in the table, and its words.
    start : mapping
        Quantity to its value at the start. [SI]
    fixed : tuple of str
        Controls that the story leaves alone.
    measure : str
        What is judged: ``"ember"`` or ``"bound"``.
    below : float
        What it has to come under, at the high end of its band. [s]
    """

    key: str
    title: str
    story: str
    task: str
    hint: str
    start: Mapping[str, Any]
    fixed: tuple[str, ...]
    measure: str
    below: float


def _entry(kind: str, key: str) -> Mapping[str, Any]:
    try:
        return table("lessons")[kind][key]
    except (KeyError, TypeError):  # a list is no key
        raise InputError(f"no {kind} {key!r}; there are {sorted(table('lessons')[kind])}") from None


def measured(measure: str, state: Try, **changed: Numbers) -> float:
    """Return one number that questions ask about.

    Parameters
    ----------
    measure : str
        ``"bound"``, ``"ember"`` or ``"smoke"`` (likely values, s), ``"power"`` (W),
        ``"dust_share"``, the part of all heat that an ember's dust and its water have had,
        ``"rim_share"``, the part of the heat that is made beyond half the tip's radius,
        ``"rack_share"``, the moisture of wood kept on a warm rack over that of wood outdoors,
        ``"pressed_power"``, the watts that a teenager's arm makes at a force (W), of a way of
        bowing, ``"swing"`` (K) and ``"first_smoke"`` (likely value, s), or, of an ember that lies
        on a ``catcher`` over a ``ground``, ``"joules"`` drawn from it in the first minute.
    state : Try
        The try.
    **changed : float or str
        Quantities to use instead, SI; for joules also the words ``catcher`` and ``ground``.

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
    value = getattr(times(state, **changed), measure)
    return float(value.likely if isinstance(value, Band) else value)


def _rim_share(state, **_):
    """Part of the heat beyond half the radius; the same at any force, friction and speed."""
    inner, outer = cut(state, count=2).power
    return outer / (inner + outer)


def _rack_share(state, **_):
    outdoors, rack = stores(state, warming=default("warming"))
    return rack.moisture / outdoors.moisture


def _pressed_power(state, force, **_):
    return press(state.kit, arm=arms()["teenager"], air=state.air, force=force).power


def _dust_share(state, **changed):
    found = times(state, **changed)
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
    "rack_share": _rack_share,
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


def prediction(key: str) -> Question:
    """Read a prediction and work out which of its options is right.

    Examples
    --------
    >>> [option.text for option in prediction("half_diameter").options if option.right]
    ['a quarter of the time']
    """
    entry = _entry("predict", key)
    value = _computed(entry)
    found = _found(entry, value)
    if "within" in entry:
        number = Number(entry["unit"], value, entry["within"], entry["because"])
        return Question(key, entry["question"], (), found, number)
    gaps = [abs(math.log(offered / value)) for _, offered in entry["options"]]
    nearest = gaps.index(min(gaps))
    options = tuple(
        Option(text, entry["because"], at == nearest)
        for at, (text, _) in enumerate(entry["options"])
    )
    says_more = found != _found(entry, entry["options"][nearest][1])
    return Question(key, entry["question"], options, found if says_more else "")


def _computed(entry):
    """Work out the number that a prediction asks about."""
    measure, start = entry["measure"], entry.get("start", {})
    if "change" in entry:
        return change_ratio(measure, entry["change"], start)
    state = Try(air=Air(**entry.get("air", {})))
    against = measured(measure, state, **entry["against"]) if "against" in entry else 1.0
    return measured(measure, state, **start) / against


def _found(entry, value):
    """Spell a number as this prediction spells what was worked out."""
    words = entry.get("found", "{number} times as long")
    return words.format(number=number_words(value), percent=percent_words(value))


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
    >>> card("heavy_spindle").measure
    'ember'
    """
    entry = _entry("card", key)
    words = {name: entry[name] for name in ("title", "story", "task", "hint")}
    goal = entry["goal"]
    return Card(
        key=key,
        **words,
        start=entry["start"],
        fixed=tuple(entry["fixed"]),
        measure=goal["measure"],
        below=goal["below"],
    )
