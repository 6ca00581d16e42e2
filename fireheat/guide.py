"""The answer key of the teacher's guide: what to expect, what is said instead, and why.

Its words stand in ``data/guide.toml``, in the order of the questions' numbers. No number is written
there: each is worked out anew, by the same calls as the pages that show it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from .answers.questions import Compared, asked_of, compared, try_of
from .data import table
from .everyday import like_power
from .kit.kit import Try
from .lessons import spelled, worked_out
from .quantities import METRIC, US, quantity
from .spread import spread
from .words import band_words, factor_words, ratio_words


class WrongAnswer(NamedTuple):
    """What somebody may say, and what to make of it.

    Attributes
    ----------
    said, belief, reply : str
        The answer, the belief behind it, and what to say or ask then.
    """

    said: str
    belief: str
    reply: str


class KeyEntry(NamedTuple):
    """One question of the lesson plans with its answers.

    Attributes
    ----------
    key, text, expect : str
        Its name in the table, the question, and the answer to expect.
    wrong : tuple of WrongAnswer
        Others that are often heard.
    """

    key: str
    text: str
    expect: str
    wrong: tuple[WrongAnswer, ...]


@dataclass(frozen=True)
class AnswerKey:
    """All questions of the lesson plans with their answers; a notebook shows it folded.

    Attributes
    ----------
    entries : tuple of KeyEntry
        In the order of their numbers.
    """

    entries: tuple[KeyEntry, ...]

    def __str__(self):
        return "\n".join(
            f"{number}. {entry.text} {entry.expect}" for number, entry in enumerate(self.entries, 1)
        )

    __repr__ = __str__

    def _repr_markdown_(self):
        told = [_told(number, entry) for number, entry in enumerate(self.entries, 1)]
        summary = "<summary>Open this when hands have been counted.</summary>"
        return "\n\n".join([f"<details>{summary}", *told, "</details>"])


def answer_key() -> AnswerKey:
    """Work out the answers to all questions of the lesson plans.

    Returns
    -------
    AnswerKey
        With each question's number, answer, and what is often said instead.

    References
    ----------
    .. [1] Beliefs behind wrong answers: common practice, no source; nobody has counted them.

    Examples
    --------
    >>> answer_key().entries[3].expect[:23]
    'It takes the same time.'
    """
    rows = table("guide")["question"]
    return AnswerKey(tuple(_entry(key, row) for key, row in rows.items()))


def _entry(key, row):
    facts = {name: _fact(fact) for name, fact in row.get("facts", {}).items()}
    wrong = tuple(WrongAnswer(*words) for words in row["wrong"])
    return KeyEntry(key, row["text"], row["expect"].format(**facts), wrong)


def _told(number, entry):
    said = [f"- “{each.said}” *{each.belief}* {each.reply}" for each in entry.wrong]
    return "\n".join([f"**{number}. {entry.text}**", "", entry.expect, "", *said])


def _fact(row: Mapping[str, Any]) -> str:
    """Work out and spell one number of an answer."""
    return next(spell(row) for kind, spell in _FACTS.items() if kind in row)


def _number(row):
    settings = {key: value for key, value in row.items() if key != "measure"}
    return spelled(row["measure"], asked_of(row["measure"], settings))


def _ratio(row):
    return factor_words(_pair(row).ratio)


def _part(row):
    return ratio_words(getattr(_pair(row), f"same_{row['part']}"))


def _pair(row) -> Compared:
    one, other = row["ratio"]
    return compared(try_of(one), try_of(other))


def _band(row):
    found = spread(Try())
    return band_words({"smoke": found.smoke_all, "ember": found.all}[row["band"]])


def _both_units(row):
    metric, us = (quantity(row["quantity"]).text(row["value"], system) for system in (METRIC, US))
    return f"{metric} ({us})"


# Kinds of numbers, by the word that a row has; what a ratio is a part of comes before the ratio.
_FACTS: Mapping[str, Callable[[Mapping[str, Any]], str]] = {
    "predict": lambda row: worked_out(row["predict"]).found,
    "measure": _number,
    "like": lambda row: like_power(asked_of(row["like"], {})),
    "part": _part,
    "ratio": _ratio,
    "band": _band,
    "quantity": _both_units,
}
