"""What a lesson asks: its predictions, what-ifs and cards, and the answers it folds away."""

import re
from functools import cache

from ..lessons import card
from ..quantities import InputError
from ..shipped import shipped_cells

_NOTEBOOK = ".ipynb"
_WHAT_IFS = ("## What if?", "## Argue")
_PREDICTING = "## Predict"
_ASKED = re.compile(r"\bPredict\(\s*\"(\w+)\"")
_CHECKED = re.compile(r"\bSelfCheck\((.*?)\)", re.DOTALL)
_DEALT = re.compile(r"\bWhatIf\(\s*\"(\w+)\"")
_ITEM = re.compile(r"^(\d)\. (.+)$", re.MULTILINE)
_FOLDED = re.compile(r"<details><summary>(?:Answers|One answer)(.*?)</details>", re.DOTALL)


@cache
def asked_first(lesson: str) -> tuple[tuple[str, str], ...]:
    """List what a lesson asks before it shows: each a kind, and a key of ``data/lessons.toml``.

    Parameters
    ----------
    lesson : str
        A notebook's name, without its ending.

    Raises
    ------
    InputError
        If there is no such notebook.

    Examples
    --------
    >>> asked_first("02-time-to-ember")
    (('predict', 'twice_force'),)
    """
    found, heading = [], ""
    for kind, source in _cells(lesson):
        if kind == "markdown" and source.startswith("## "):
            heading = source
        if kind == "code":
            found += [("predict", key) for key in _ASKED.findall(source)]
            if heading.startswith(_PREDICTING):  # an order to find, asked as a choice
                for keys in _CHECKED.findall(source):
                    found += [("check", key) for key in re.findall(r"\"(\w+)\"", keys)]
    return tuple(found)


@cache
def cards_dealt(lesson: str) -> tuple[str, ...]:
    """List the what-if cards of a lesson, by key.

    Raises
    ------
    InputError
        If there is no such notebook.

    Examples
    --------
    >>> cards_dealt("06-strokes")
    ('alder_at_the_elbow',)
    """
    return tuple(key for _, source in _cells(lesson) for key in _DEALT.findall(source))


def what_if(lesson: str, number: int) -> tuple[str, str]:
    """Find an item of a lesson's what-ifs, and its answer.

    Parameters
    ----------
    lesson : str
        A notebook's name, without its ending.
    number : int
        Which item, from one on.

    Returns
    -------
    tuple of str
        Question and answer, as the notebook has them.

    Raises
    ------
    InputError
        If there is no such notebook or item.

    Examples
    --------
    >>> what_if("05-press-and-speed", 1)[1].partition(";")[0]
    'About 80 N (18 lb)'
    """
    questions = next(
        (text for _, text in _cells(lesson) if text.startswith(_WHAT_IFS)), ""
    ).partition("<details>")[0]
    asked, answers = (dict(_ITEM.findall(text)) for text in (questions, _folded(lesson)))
    if str(number) not in asked or str(number) not in answers:
        raise InputError(f"what-if of {lesson} is {number!r}; allowed: {', '.join(asked)}")
    return asked[str(number)], answers[str(number)]


def card_answer(lesson: str, key: str) -> str:
    """Find what a lesson's answers say of a card: by its title, or as of the goal to reach.

    Raises
    ------
    InputError
        If there is no such notebook, or the card is not dealt there.

    Examples
    --------
    >>> card_answer("06-strokes", "alder_at_the_elbow").startswith("At 40 cm")
    True
    """
    if key not in cards_dealt(lesson):
        raise InputError(f"card is {key!r}; allowed: {', '.join(cards_dealt(lesson))}")
    named = re.search(rf"^- \*\*{re.escape(card(key).title)}:\*\* (.+)$", _folded(lesson), re.M)
    return named.group(1) if named else what_if(lesson, 2)[1]


@cache
def _cells(lesson):
    cells = shipped_cells(f"{lesson}{_NOTEBOOK}")
    return tuple((cell["cell_type"], "".join(cell["source"])) for cell in cells)


def _folded(lesson):
    """Return the answers below the what-ifs; other answers may be folded above them."""
    texts = [text for kind, text in _cells(lesson) if kind == "markdown"]
    starts = [at for at, text in enumerate(texts) if text.startswith(_WHAT_IFS)]
    later = (_FOLDED.search(text) for at in starts for text in texts[at:])
    return next((found.group(1) for found in later if found), "")
