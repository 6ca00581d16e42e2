"""The words of a notebook as HTML: tables, links to the files beside, equations as MathML."""

import html
import re
from collections.abc import Callable
from functools import cache
from typing import Any

import mistune
from latex2mathml.converter import convert
from mistune.plugins.table import table

_EQUATION = r"\$\$(?P<shown>[^$]+)\$\$|\$(?P<said>[^$\n]+)\$"
_APART = re.compile(r"\\qquad")
_SPACE_NAME = ' xmlns="http://www.w3.org/1998/Math/MathML"'
_TAG = re.compile(r"<[^>]+>")
_NOTEBOOK = re.compile(r"(?P<name>[\w-]+)\.ipynb(?:#(?P<place>.+))?|#(?P<own>.+)")

Find = Callable[[str, str], str]


def prose(text: str, find: Find) -> str:
    r"""Turn the words of a notebook into HTML.

    Parameters
    ----------
    text : str
        In Markdown, with equations between dollars.
    find : callable
        Returns the heading at which a place of a notebook stands, from the notebook's name (empty
        for the same one) and what follows the ``#`` of a link.

    Returns
    -------
    str
        As HTML.

    Examples
    --------
    >>> prose("See [it](01-a.ipynb#present-Race).", lambda name, place: "A-race")
    '<p>See <a href="01-a.html#A-race">it</a>.</p>\n'
    """
    state: Any = mistune.BlockState()
    state.env["find"] = find
    made, _ = _reader().parse(text, state)
    return str(made)


def math(latex: str, *, shown: bool = False) -> str:
    r"""Spell an equation as MathML; equations that stand side by side are apart, to wrap.

    Parameters
    ----------
    latex : str
        The equation.
    shown : bool
        Whether it stands on a line of its own.

    Returns
    -------
    str
        One ``<math>`` for each.

    Examples
    --------
    >>> math("x = 1").count("<math"), math(r"x = 1 \qquad y = 2").count("<math")
    (1, 2)
    """
    display = "block" if shown else "inline"
    made = (convert(part, display=display) for part in equations(latex))
    parts = [part.replace(_SPACE_NAME, "") for part in made]  # HTML knows what math is
    return f'<span class="shown">{" ".join(parts)}</span>' if shown else "".join(parts)


def equations(latex: str) -> list[str]:
    r"""Take apart what stands side by side between two pairs of dollars.

    Examples
    --------
    >>> equations(r"x = 1 \qquad y = 2")
    ['x = 1', 'y = 2']
    """
    return [part.strip() for part in _APART.split(latex) if part.strip()]


def heading_place(words: str) -> str:
    """Name a heading as a link to it does.

    Parameters
    ----------
    words : str
        The heading, with tags or without.

    Examples
    --------
    >>> heading_place("What <em>if</em>?")
    'What-if?'
    """
    return html.unescape(_TAG.sub("", words)).strip().replace(" ", "-")


def _same(_name, place):
    return place


class _Words(mistune.HTMLRenderer):
    """HTML with headings that have names, and links to the files beside."""

    def __init__(self):
        super().__init__(escape=False)
        self.find: Find = _same

    def __call__(self, tokens, state):
        self.find = state.env.get("find", self.find)
        return super().__call__(tokens, state)

    def heading(self, text, level, **_attrs):
        place = html.escape(heading_place(text))
        return f'<h{level} id="{place}">{text}</h{level}>\n'

    def link(self, text: str, url: str, title: str | None = None) -> str:
        hint = f' title="{html.escape(title)}"' if title else ""
        return f'<a href="{html.escape(self._beside(html.unescape(url)))}"{hint}>{text}</a>'

    def _beside(self, url):
        link = _NOTEBOOK.fullmatch(url)
        if not link:
            return url
        name, place = link["name"] or "", link["place"] or link["own"]
        file = f"{name}.html" if name else ""
        found = self.find(name, place) if place else ""
        return f"{file}#{found}" if found else file

    def table(self, text):
        look = ' class="letters"' if ">in the code<" in text else ""
        return f'<div class="wide"><table{look}>{text}</table></div>\n'

    def shown_math(self, text):
        return math(text, shown=True)

    def said_math(self, text):
        return math(text)


def _equation(_inline, found, state):
    kind = "shown" if found["shown"] else "said"
    state.append_token({"type": f"{kind}_math", "raw": found[kind]})
    return found.end()


def _with_equations(reader):
    reader.inline.register("equation", _EQUATION, _equation, before="link")


@cache
def _reader():
    return mistune.Markdown(renderer=_Words(), plugins=[table, _with_equations])
