"""Cards to cut out: what-ifs to argue about, pairs of kits to bet on; answers on another sheet."""

import html

from ..answers.race import LEFT, MINE, SAME, Pairing, contest, pairings, starters
from ..figures.blank_axes import blank_plank
from ..figures.tag import tag
from ..lessons import card
from ..quantities import quantity
from ..texts import both_told, both_units
from ..words import band_words, factor_words
from .lesson_tasks import card_answer, cards_dealt
from .sheet import Sheet, with_strong
from .worksheet import lessons_with_worksheets

_LAST = 180.0  # s, the end of the plank to bet on
_BOX = '<span class="box"></span>'
_LATER = "For whoever leads. Hand it out after the bets, not with them."


def what_if_cards() -> tuple[tuple[str, str], ...]:
    """List all what-if cards, each with the lesson that deals it.

    Examples
    --------
    >>> len(what_if_cards())
    7
    """
    lessons = lessons_with_worksheets()
    return tuple((lesson, key) for lesson in lessons for key in cards_dealt(lesson))


def cards_sheet() -> Sheet:
    """Make the cards: what-ifs on the first page, pairs of kits on the second.

    Examples
    --------
    >>> cards_sheet().body.count("<svg"), cards_sheet().more[0].count("<svg")
    (8, 16)
    """
    dealt = [_what_if_card(at, key) for at, (_, key) in enumerate(what_if_cards(), start=1)]
    bets = [_bet(at, pairing) for at, pairing in enumerate(pairings().values(), start=1)]
    own = (
        "<h2>Your own card</h2><p>Who is stuck, and with what kit?</p>"
        f"{_line() * 2}<p>What may be changed? What is the goal?</p>{_line()}"
    )
    return Sheet(
        "cards",
        "Cards to cut out: what if, and bet",
        _tags([*dealt, own]),
        more=(_tags(bets),),
        cautions=("Fire is",),
        source="Pairs: all else is as usual.",
        use="Cut them out and deal them. Each group guesses first.",
    )


def cards_answers() -> Sheet:
    """Make the answers to the cards.

    Examples
    --------
    >>> cards_answers().body.count("<li>"), cards_answers().body.count("<tr>")
    (7, 8)
    """
    told = "".join(
        f"<li><b>{_plain(card(key).title)}.</b> {_answer(lesson, key)}</li>"
        for lesson, key in what_if_cards()
    )
    rows = "".join(
        f"<tr><td>{at}</td>{_ran(pairing)}</tr>"
        for at, pairing in enumerate(pairings().values(), start=1)
        if pairing.key != MINE
    )
    heads = ("", "Pair", "First, likely", "Embers, this wood", "The quicker takes")
    return Sheet(
        "cards-answers",
        "Answers to the cards",
        f'<div class="told"><h2>What if?</h2><ol>{told}</ol>'
        f"<h2>Which glows first?</h2><table><thead><tr>{''.join(map(_head, heads))}</tr>"
        f"</thead><tbody>{rows}</tbody></table><p>The eighth card has your own kit: race it in"
        " the notebook. Nine of ten pairs lie in the last column’s range, both with the same"
        " wood and luck.</p></div>",
        lead=_LATER,
        cautions=("Knives only", "Ask a leader"),
        source="Otterbrook Trail Club and its learners are invented.",
        use="For whoever deals. Keep it till all have guessed.",
    )


def _tags(cards):
    held = "".join(f'<div class="tag">{tag()}<div>{words}</div></div>' for words in cards)
    return f'<div class="tags">{held}</div>'


def _line():
    return '<span class="line"></span>'


def _head(words):
    return f"<th>{words}</th>"


def _capital(words):
    return words[0].upper() + words[1:]


def _plain(words):
    return html.escape(words, quote=False)


def _what_if_card(number, key):
    told = both_told(lambda system: card(key, system).story)
    task = both_told(lambda system: card(key, system).task)
    title = _plain(card(key).title)
    return f"<h2>{number}. {title}</h2><p>{_plain(told)}</p><p><b>{_plain(task)}</b></p>"


def _answer(lesson, key):
    words = card_answer(lesson, key)
    return with_strong(_capital(words))


def _bet(number, pairing: Pairing):
    """Spell a pair to bet on: what each side has, boxes to tick, a line for how much."""
    sides = [one.name for one in starters(pairing.key)]
    if pairing.key != MINE:
        values = (both_units(pairing.quantity, value) for value in (pairing.left, pairing.right))
        of = quantity(pairing.quantity).name
        sides = [f"{side}: {of} {value}" for side, value in zip(sides, values, strict=True)]
    boxes = "".join(f"<li>{_BOX}{side}</li>" for side in (*sides, "both at once"))
    return (
        f"<h2>{number}. {_plain(_capital(pairing.words))}</h2><p>{pairing.ask}</p>"
        f"<ul>{boxes}</ul><p>How much sooner? Set two flags. Off the plank? Write it.</p>"
        f"{blank_plank(_LAST)}"
    )


def _ran(pairing):
    """Spell how a pair ran."""
    ran = contest(*starters(pairing.key))
    names = [one.name for one in ran.starters]
    first = "the same" if ran.first == SAME else names[ran.first != LEFT]
    times = "<br>".join(
        f"{name}: {band_words(one.spread.wood)}"
        for name, one in zip(names, ran.courses, strict=True)
    )
    cells = (_plain(_capital(pairing.words)), f"<b>{first}</b>", times, factor_words(ran.ratio))
    return "".join(f"<td>{words}</td>" for words in cells)
