"""The list that names every page and sheet, with its size and what it is for."""

import html
import re
from collections.abc import Mapping
from pathlib import Path

from ..quantities import InputError
from ..shipped import START, shipped_cautions, shipped_titles, stated_minutes
from .lane import beside, color_rules
from .lesson_page import lesson_names
from .printing import pdf_beside
from .sheet import with_strong
from .sheet_list import sheets

FIELD = "field.html"
_TITLE = "What can we take to the fire circle?"
_FIRST = "Keep all files in this folder together. None of them needs a network."
_PHONE = "Move one slider and see the time. Time a try. Keep your tries on the phone."
_SEND = (
    "To get it onto a phone, send it by cable, by the share button or through a shared folder. It"
    " is one file. Does nothing move? Then it is only a preview: open it in the phone’s browser."
)
_LESSONS = (
    "The notebooks, to read on any screen or to print. Guess first: the answers come after. The"
    " explorer and the cards move in them, too."
)
_ALL_LESSONS = "A list of all lessons."
_PAPER = (
    "Print at 100 %, not “fit to page”. A sheet opens in any browser and fits both A4 and Letter."
)
_EVENINGS = (
    "Your evenings stand beside the handbook on the field page, the pocket card and, unless they"
    " are too slow for it, the paper computer. The stopwatch sheet says what to try next. The"
    " lessons stay as they are."
)
_PAPERS = {"A4": "A4", "letter": "Letter"}


def page_list(sizes: Mapping[str, int], evenings: str = "") -> str:
    """Spell the list as one file of HTML, which needs no script.

    Parameters
    ----------
    sizes : mapping of str to int
        How long each file is, in bytes, by its place in the folder. A PDF that is not among them
        is not named.
    evenings : str, optional
        Which log the pages were made with, as :func:`evenings_told` has it.

    Returns
    -------
    str
        The file.

    Examples
    --------
    >>> "field.html" in page_list({})
    True
    """
    lessons = "".join(_lesson(name, sizes) for name in lesson_names())
    papers = "".join(_sheet(sheet, sizes) for sheet in sheets().values())
    cautions = " ".join(map(with_strong, shipped_cautions()[""]))
    told = f"<p>{html.escape(evenings)}</p>" if evenings else ""
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta name="color-scheme" content="light dark">'
        f"<title>{_TITLE}</title><style>{color_rules()}{beside('page_list.css')}</style></head>\n"
        f'<body><main><h1>{_TITLE}</h1><div class="plank"></div>'
        f'<p>{_FIRST}</p><p class="care">{cautions}</p>{told}\n'
        f"<h2>On a phone</h2><ul>{_item(FIELD, 'The field page', _PHONE, sizes)}</ul>"
        f"<p>{_SEND}</p>\n"
        f"<h2>On any screen</h2><p>{_LESSONS}</p><ul>{lessons}</ul>\n"
        f"<h2>On paper</h2><p>{_PAPER}</p><ul>{papers}</ul>\n"
        "</main></body></html>\n"
    )


def evenings_told(log: str) -> str:
    """Say where a club's own evenings stand, and from which log they are.

    Examples
    --------
    >>> evenings_told("From ours.csv: 24 tries, 19 embers").partition(" From ")[2]
    'ours.csv: 24 tries, 19 embers.'
    """
    return f"{_EVENINGS} {log}."


def file_size(size: int) -> str:
    r"""Say how large a file is.

    Examples
    --------
    >>> file_size(91234), file_size(3_456_789)
    ('91\xa0kB', '3.5\xa0MB')
    """
    return f"{size / 1e6:.1f}\xa0MB" if size >= 1e6 else f"{max(1, round(size / 1e3))}\xa0kB"


def lesson_place(name: str) -> str:
    """Tell where in the folder a lesson is.

    Examples
    --------
    >>> lesson_place("06-strokes")
    'lessons/06-strokes.html'
    """
    return f"lessons/{name}.html"


def sheet_place(key: str) -> str:
    """Tell where in the folder a sheet is.

    Examples
    --------
    >>> sheet_place("kit")
    'sheets/kit.html'
    """
    return f"sheets/{key}.html"


def _lesson(name, sizes):
    notebook = f"{name}.ipynb"
    number = f"{name[:2]} " if name[:2].isdecimal() else ""
    use = _ALL_LESSONS if notebook == START else _minutes(notebook)
    return _item(lesson_place(name), f"{number}{shipped_titles()[notebook]}", use, sizes)


def _minutes(notebook):
    try:
        return f"{stated_minutes(notebook)} minutes"
    except InputError:  # it is for looking things up
        return ""


def _sheet(sheet, sizes):
    place = sheet_place(sheet.key)
    made = {pdf_beside(Path(place), paper).as_posix(): name for paper, name in _PAPERS.items()}
    number = re.fullmatch(r"worksheet-(\d+)", sheet.key)  # a lesson has the same title
    title = f"Worksheet {number[1]}: {sheet.title}" if number else sheet.title
    links = [
        _link(pdf, f"PDF on {name}", sizes, f"PDF on {name}: {title}")
        for pdf, name in made.items()
        if pdf in sizes
    ]
    return _item(place, title, sheet.use, sizes, "".join(f"<span>{link}</span>" for link in links))


def _item(place, title, use, sizes, links=""):
    said = "".join(f"<p>{words}</p>" for words in (html.escape(use), links) if words)
    return f"<li>{_link(place, title, sizes)}{said}</li>"


def _link(place, title, sizes, label=""):
    size = f" <small>{file_size(sizes[place])}</small>" if place in sizes else ""
    spoken = f' aria-label="{html.escape(label)}"' if label else ""
    return f'<a href="{place}"{spoken}>{html.escape(title)}</a>{size}'
