"""A learner's worksheet for each lesson, and the answers to all of them on sheets of their own."""

import html
import re

from ..data import table
from ..figures.blank_axes import blank_axes, blank_axis
from ..lessons import card, prediction, self_check, worked_out
from ..quantities import choose
from ..shipped import shipped_titles
from ..texts import both_told
from ..trials.columns import COLUMNS
from .lesson_tasks import asked_first, card_answer, what_if
from .sheet import Sheet, with_strong

_LETTERS = "ABCDEFGH"
_TRIES = 3
_LINE = '<span class="line"></span>'
_LINES = 8 * _LINE  # more than there is room for
_LEARNER, _CLUB = re.compile(r"\bL\d\d\b"), "Otterbrook"
_INVENTED = "Learners such as L07 are invented."
_TRY, _TIMED = "Now try it, three times", "Now time three tries"
_TRIED = ("What I changed", "From, to", "What came", "As I thought?")
_PAGES_OF_ANSWERS = (("00", "01", "02"), ("03", "04", "05"), ("06", "07"), ("08", "09", "10"))


def lessons_with_worksheets() -> tuple[str, ...]:
    """Name the lessons that have a worksheet, in their order.

    Examples
    --------
    >>> len(lessons_with_worksheets())
    11
    """
    return tuple(table("worksheets"))


def worksheet(lesson: str) -> Sheet:
    """Make a lesson's worksheet: guess, sketch, try, explain. Nothing on it tells an answer.

    Parameters
    ----------
    lesson : str
        A notebook's name, without its ending.

    Returns
    -------
    Sheet
        One page.

    Raises
    ------
    InputError
        If no such lesson has a worksheet.

    Examples
    --------
    >>> worksheet("05-press-and-speed").title
    'How hard is too hard?'
    """
    row = table("worksheets")[choose("lesson", lesson, lessons_with_worksheets())]
    axes = (
        blank_axis(row["across"], beside="at the top"),
        blank_axis(row["up"], beside="at the right"),
    )
    further, _ = _what_if(lesson, row["what_if"])
    timed = "log" in row
    told, tried = (_of_the_log(row["log"]), _TIMED) if timed else (_TRIED, _TRY)
    heads = "".join(f"<th>{words}</th>" for words in told)
    rows = f"<tr>{'<td></td>' * len(told)}</tr>" * _TRIES
    body = (
        "<div><h2>1. Guess first. Tick what you think.</h2>"
        f"{''.join(map(_ask, asked_first(lesson)))}</div>"
        '<div class="beside"><div><h2>2. Sketch what you expect</h2>'
        f"{blank_axes(*axes)}</div><div><h2>3. {tried}</h2>"
        f'<table class="tries"><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>'
        '</div></div><div class="write"><h2>4. Explain it to a friend</h2><div class="lines">'
        f'<p class="because">It comes out so because {_LINE}</p>{_LINES}</div></div>'
        f'<div class="write"><h2>5. What if?</h2>{further}<div class="lines">{_LINES}</div></div>'
    )
    number = lesson[:2]
    learner = _LEARNER.search(body) and _CLUB not in body
    return Sheet(
        f"worksheet-{number}",
        shipped_titles()[f"{lesson}.ipynb"],
        f'<div class="worksheet">{body}</div>',
        lead=f'Worksheet for page {number}. My code (no name): <span class="mine"></span>',
        source=_INVENTED if learner else "",
        use=f"Worksheet for page {number}: guess, sketch, three tries.",
    )


def worksheet_answers() -> Sheet:
    """Make the answers to all worksheets, for whoever leads.

    Examples
    --------
    >>> len(worksheet_answers().more)
    3
    """
    titles = shipped_titles()
    by_number = {lesson[:2]: lesson for lesson in lessons_with_worksheets()}
    pages = tuple(
        "".join(_answers(by_number[one], titles[f"{by_number[one]}.ipynb"]) for one in together)
        for together in _PAGES_OF_ANSWERS
    )
    first, *more = (f'<div class="told">{page}</div>' for page in pages)
    return Sheet(
        "worksheet-answers",
        "Answers to the worksheets",
        first,
        lead="For whoever leads. Hand it out after the guesses, not with them.",
        more=tuple(more),
        source="All arms and learners in it are invented. Worked out anew as the sheet was made.",
        use="For whoever leads. Hand them out after the guesses.",
    )


# ---- what is asked ------------------------------------------------------------------------------


def _of_the_log(keys: list[str]) -> list[str]:
    """Spell columns of the log, for a lesson whose tries are timed."""
    return [column.title for column in COLUMNS if column.key in keys]


def _ask(asked: tuple[str, str]) -> str:
    kind, key = asked
    if kind == "check":
        return _choices(
            both_told(lambda system: self_check(key, system).text),
            [option.text for option in self_check(key).options],
        )
    row, text = prediction(key), both_told(lambda system: prediction(key, system).text)
    if row.options:
        return _choices(text, list(row.options))
    return (
        f'<div class="ask"><p>{_plain(text)}</p><p>My number: <span class="mine"></span>'
        f" {html.escape(row.unit)}</p></div>"
    )


def _choices(text: str, options: list[str]) -> str:
    boxes = "".join(f'<li><span class="box"></span>{_plain(option)}</li>' for option in options)
    long = " long" if max(map(len, options)) > 60 else ""
    return f'<div class="ask"><p>{_plain(text)}</p><ul class="choices{long}">{boxes}</ul></div>'


def _what_if(lesson: str, of: int | str) -> tuple[str, str]:
    """Spell a what-if and its answer."""
    if isinstance(of, int):
        question, answer = what_if(lesson, of)
        return f"<p>{_marked(question)}</p>", _marked(answer)
    if of in table("lessons")["card"]:
        told = both_told(lambda system: f"{card(of, system).story} **{card(of, system).task}**")
        return f"<p>{_marked(told)}</p>", _marked(_sentence(card_answer(lesson, of)))
    right = next(option for option in self_check(of).options if option.right)
    question = both_told(lambda system: self_check(of, system).text)
    return (
        f"<p>{_plain(question)}</p>",
        f"<b>{_plain(right.text)}</b> {_plain(_sentence(right.reply))}",
    )


# ---- what is answered ---------------------------------------------------------------------------


def _answers(lesson: str, title: str) -> str:
    told = "".join(f"<p>{_answer(*asked)}</p>" for asked in asked_first(lesson))
    _, further = _what_if(lesson, table("worksheets")[lesson]["what_if"])
    return f"<h2>{lesson[:2]} {_plain(title)}</h2>{told}<p><b>What if?</b> {further}</p>"


def _answer(kind: str, key: str) -> str:
    if kind == "check":
        chosen = next(option for option in self_check(key).options if option.right)
        return f"<b>{_plain(chosen.text)}</b> {_plain(_sentence(chosen.reply))}"
    row, found = prediction(key), both_told(lambda system: worked_out(key, system).found)
    right = worked_out(key).right
    lead = f"{_opening(row.text)} <b>{_plain(right or found)}.</b>"
    more = [found] if right and found.removeprefix("about ") != right else []
    known = worked_out(key).known
    more += [f"with all we do not know: {known}"] if known not in ("", right) else []
    explained = both_told(lambda system: worked_out(key, system).explain)
    return " ".join([lead, *(f"{_plain(_sentence(part))}." for part in more), _plain(explained)])


def _opening(question: str) -> str:
    """Return the sentence that asks, which the answer ends."""
    asks = re.findall(r"[^.?!…]+[?…]", question)
    return _plain(asks[-1].strip())


def _sentence(words: str) -> str:
    return words[0].upper() + words[1:]


def _plain(words: str) -> str:
    return html.escape(words, quote=False)


def _marked(words: str) -> str:
    """Spell words in which a star on either side means emphasis, two of them strong."""
    return re.sub(r"\*(.+?)\*", r"<i>\1</i>", with_strong(words))
