"""The frame of every sheet: one file of HTML that any browser prints, on A4 and on Letter.

A sheet is one or more pages of 186 × 250 mm, which both papers hold. Its foot has the cautions, in
the words of the notebooks, and where its numbers come from.
"""

import html
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from ..figures.style import LIGHT, TOKENS
from ..quantities import InputError, choose
from ..shipped import shipped_cautions
from ..texts import unbroken

WIDTH, HEIGHT = 186, 250  # mm of paper that a page of a sheet may fill
PAPERS = {"A4": "210mm 297mm", "letter": "8.5in 11in"}  # ISO 216; ANSI/ASME Y14.1, from memory
_USUAL = ("Fire is allowed here", "Water and a way", "Never leave an ember")
_WHOLE_LIST = "The whole list is on the sheet “Before anything burns”."
_PROMISE = "Times are estimates, no promise."
_HOW = "To print: Ctrl and P, or ⌘ and P. A4 or Letter, at 100 %."
_INVENTED = "Otterbrook Trail Club and its learners are invented."
_STRONG = re.compile(r"\*\*(.+?)\*\*")
_SAID = re.compile(r">[^<]+<")


@dataclass(frozen=True)
class Sheet:
    """One sheet of paper, or a few that belong together.

    Attributes
    ----------
    key : str
        The name of its file, without what kind it is.
    title : str
        What it is, in plain words: its one first heading.
    body : str
        Its first page, below the title, as HTML; headings in it are of the second level.
    lead : str
        A sentence or two under the title, as HTML.
    more : tuple of str
        Further pages, as HTML, each on paper of its own with the title and the foot again.
    cautions : tuple of str
        Which lines of the list before anything burns stand in the foot, by their first words.
    source : str
        Where its numbers come from, as HTML.
    css : str
        Rules of its own.
    use : str
        What it is for: one line of plain words, for the list of all pages.
    """

    key: str
    title: str
    body: str
    lead: str = ""
    more: tuple[str, ...] = ()
    cautions: tuple[str, ...] = _USUAL
    source: str = ""
    css: str = ""
    use: str = ""


def sheet_page(sheet: Sheet, paper: str = "") -> str:
    """Spell a sheet as one file of HTML that needs nothing else.

    Parameters
    ----------
    sheet : Sheet
        The sheet.
    paper : str, optional
        ``"A4"`` or ``"letter"``; left out, it is what the printer has.

    Returns
    -------
    str
        The file.

    Raises
    ------
    InputError
        If there is no such paper, or the list before anything burns has no such line.

    Examples
    --------
    >>> sheet_page(Sheet("one", "One", "<p>Words.</p>")).count("<h1>")
    1
    """
    colors = ";".join(f"--{name.lower()}:{color}" for name, color in TOKENS[LIGHT].items())
    bodies = (sheet.body, *sheet.more)
    pages = "".join(_page(sheet, at, body) for at, body in enumerate(bodies))
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width">'
        f"<title>{html.escape(sheet.title)}</title>"
        f"<style>:root{{{colors}}}{_css()}{sheet.css}{page_rule(paper)}</style></head>"
        f'<body><p class="screen">{_HOW}</p><main>{pages}</main></body></html>\n'
    )


def page_rule(paper: str) -> str:
    """Spell the rule that has a browser print on this paper; none for no paper.

    Raises
    ------
    InputError
        If there is no such paper.

    Examples
    --------
    >>> page_rule("A4")
    '@page{size:210mm 297mm}'
    """
    return f"@page{{size:{PAPERS[choose('paper', paper, PAPERS)]}}}" if paper else ""


def caution_lines(beginnings: tuple[str, ...]) -> tuple[str, ...]:
    """Find lines of the list that stands before anything burns by their first words, as HTML.

    Raises
    ------
    InputError
        If no line begins so.

    Examples
    --------
    >>> caution_lines(("Knives",))
    ('Knives only under your club&#x27;s knife rules, and never with tired hands.',)
    """
    lines = [line for group in shipped_cautions().values() for line in group]
    found = []
    for words in beginnings:
        those = [line for line in lines if line.startswith(words)]
        if len(those) != 1:
            raise InputError(f"the list before anything burns has no one line {words!r}")
        found.append(with_strong(those[0]))
    return tuple(found)


def with_strong(text: str) -> str:
    """Spell plain words as HTML; those between two stars are strong.

    Examples
    --------
    >>> with_strong("Wet it, **then** look.")
    'Wet it, <b>then</b> look.'
    """
    return _STRONG.sub(r"<b>\1</b>", html.escape(text))


@cache
def _css():
    return (Path(__file__).parent / "sheet.css").read_text(encoding="utf-8")


def _page(sheet, at, body):
    title = html.escape(sheet.title)
    head = f'<p class="again">{title}</p>' if at else f"<h1>{title}</h1>"
    lead = f'<p class="lead">{sheet.lead}</p>' if sheet.lead and not at else ""
    number = f"Page {at + 1} of {len(sheet.more) + 1}. " if sheet.more else ""
    return (
        f'<section class="page"><header>{head}{lead}</header>'
        f'<div class="body">{_held(body)}</div>{_foot(sheet, number)}</section>'
    )


def _held(body):
    """Hold numbers and their units together in the words, not in what drawings are named by."""
    return _SAID.sub(lambda found: unbroken(found.group()), body)


def _foot(sheet, number):
    above = " ".join(map(with_strong, shipped_cautions()[""]))
    lines = [*caution_lines(sheet.cautions), _WHOLE_LIST] if sheet.cautions else []
    invented = _INVENTED if "Otterbrook" in "".join((sheet.body, *sheet.more)) else ""
    told = " ".join(filter(None, (sheet.source, _PROMISE, invented)))
    return (
        f'<footer><p>{above}</p><p>{" ".join(lines)}</p><p class="note">{number}{told}</p></footer>'
    )
