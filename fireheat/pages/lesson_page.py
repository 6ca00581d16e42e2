"""A notebook as one file of HTML: read on any screen, and printed, without a network or Python."""

import ast
import html
import json
import re
from collections.abc import Mapping
from functools import cache
from typing import Any

from ..figures.explorer import WAYS_OUT
from ..figures.keeping import ENOUGH
from ..lessons import prediction
from ..quantities import InputError, choose
from ..shipped import START, shipped_cells, shipped_titles, stated_minutes
from ..words import FLOOR_NOTE
from .kernel import kernel_script
from .lane import beside, color_rules, lane_look, lane_script
from .lesson_cards import carded
from .lesson_parts import Answers, asked, checked, explorer, for_notebook
from .lesson_pictures import picture_script, pictured, stands_still
from .lesson_still import NOTEBOOK, SCREEN, pieces
from .lesson_text import heading_place, prose

_NOTEBOOK = ".ipynb"
_GUIDE = "teacher-guide"
_DETAILS = re.compile(r"<details><summary>(.*?)</summary>\n(.*?)</details>", re.DOTALL)
_HEADING = re.compile(r"^#+ (.+)$", re.MULTILINE)
_STEP = re.compile(r"^(?=\*\*\d+\. )", re.MULTILINE)
_WAKING = re.compile(r"^\*The panels wake up by themselves\..*\*$\n?", re.MULTILINE)
_ALONE = "This page needs no network and no Python."
_STILL = " Its pictures stand still. They move in the notebook: the same page on a laptop."
_WALL = (
    " What a plan shows on the wall moves in the notebooks. Its links here lead to still pictures."
)
# Pictures that tell what a prediction of their page asks, above.
_TELLING = ("Catchers", "PressAndSpeed")
_HOT = ("HeatView",)
_ASKING = ("Predict", "SelfCheck", "WhatIf")
_CAUTION = "the whole list"
_PLACE_OF_STILL = "<!-- still -->"
_SAID = {"ways_out": WAYS_OUT, "floor_note": FLOOR_NOTE, "enough": ENOUGH}


def lesson_names() -> tuple[str, ...]:
    """Name all lessons, in their order, the front page first.

    Examples
    --------
    >>> lesson_names()[:2]
    ('index', '00-start-here')
    """
    return tuple(name.removesuffix(_NOTEBOOK) for name in shipped_titles())


def lesson_page(name: str) -> str:
    """Spell a notebook as one file of HTML that needs nothing else.

    Links lead to the other lessons beside it, each ``NAME.html``.

    Parameters
    ----------
    name : str
        The notebook, without its ending: one of :func:`lesson_names`.

    Returns
    -------
    str
        The file.

    Raises
    ------
    InputError
        If there is no such notebook.

    Examples
    --------
    >>> lesson_page("05-press-and-speed").count("<h1")
    1
    """
    choose("lesson", name, lesson_names())
    body = _front() if f"{name}{_NOTEBOOK}" == START else _Lesson(name).body()
    alive = 'class="explorer"' in body
    look = f"{color_rules()}{beside('lesson.css')}{lane_look() if alive else ''}"
    still = f'<p class="onscreen">{_alone(name, body)}</p>'
    title = html.escape(shipped_titles()[f"{name}{_NOTEBOOK}"])
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{title}</title><style>{look}</style></head>\n<body>{_top(name)}"
        f"<main>{body.replace(_PLACE_OF_STILL, still)}</main>\n"
        f"{_script(body) if name != lesson_names()[0] else ''}</body></html>\n"
    )


def _alone(name, body):
    """Say what a file does without a notebook."""
    cards, explorers = (body.count(f'class="{look}"') for look in ("card", "explorer"))
    moving = ["explorer"] if explorers > cards else []
    moving += [f"card{'s' * (cards > 1)}"] if cards else []
    verb = "move" if len(moving) > 1 or cards > 1 else "moves"
    alive = f" The {' and the '.join(moving)} {verb} here, too." if moving else ""
    return f"{_ALONE}{_STILL if '<figure' in body else ''}{alive}{_WALL if name == _GUIDE else ''}"


def _script(body):
    """Collect what the page needs: the explorer and cards, pictures, and what any lesson does."""
    parts = []
    if 'class="explorer"' in body:
        said = f"const SAID = {json.dumps(_SAID, ensure_ascii=False)};\n"
        parts += [kernel_script(), "\n", lane_script(), said]
        parts += [beside("card.js")] if 'class="card"' in body else []
        parts += [beside("explorer.js")]
    parts += [picture_script()] if "<img" in body else []
    return f"<script>{''.join([*parts, beside('lesson.js')])}</script>"


def _top(name):
    names = list(lesson_names())
    at = names.index(name)
    if not at:
        return ""
    units = '<span class="units" role="group" aria-label="Units" hidden></span>'
    links = [(names[0], "All pages")]
    links += [(names[at - 1], "Page before")] if at > 1 else []
    links += [(names[at + 1], "Next page")] if at < len(names) - 1 else []
    told = "".join(f'<a href="{file}.html">{words}</a>' for file, words in links)
    return f'<nav class="top" aria-label="Pages and units">{told}{units}</nav>\n'


def _front():
    """List all lessons: what shows or moves in the notebook has no place on a page of links."""
    first = "".join(shipped_cells(START)[0]["source"]).split("\n\n")
    kept = [part for part in first if part.startswith("# ") or _CAUTION in part]
    rows = "".join(f"<li>{_listed(name)}</li>" for name in lesson_names()[1:])
    return f'{prose(chr(10).join([kept[0], "", *kept[1:]]), _place)}<ul class="pages">{rows}</ul>'


def _listed(name):
    title = html.escape(shipped_titles()[f"{name}{_NOTEBOOK}"])
    number = "" if name == _GUIDE else f"{name[:2]} "
    try:
        time = f" <small>{stated_minutes(f'{name}{_NOTEBOOK}')} minutes</small>"
    except InputError:  # it is for looking things up
        time = ""
    return f'<a href="{name}.html">{number}{title}</a>{time}'


# ---- where a link leads --------------------------------------------------------------------------


@cache
def _outline(name: str) -> tuple[tuple[str, ...], tuple[tuple[frozenset[str], str], ...]]:
    """Name the headings of a notebook, and for each panel the words of its cell and its heading."""
    headings, panels = [], []
    for cell in shipped_cells(f"{name}{_NOTEBOOK}"):
        source = "".join(cell["source"])
        if cell["cell_type"] == "markdown":
            headings += [heading_place(words) for words in _HEADING.findall(source)]
        elif cell["outputs"]:
            panels.append((frozenset(re.split(r"\W+", source)), headings[-1]))
    return tuple(headings), tuple(panels)


def _place(name: str, place: str) -> str:
    """Find the heading that a link leads to: its own, or that above a panel; none on the list."""
    if f"{name}{_NOTEBOOK}" == START:
        return ""
    headings, panels = _outline(name)
    word = place.removeprefix("present-")
    if place in headings:
        return place
    return next((above for words, above in panels if word in words), word)


# ---- cells ---------------------------------------------------------------------------------------


class _Lesson:
    """One notebook, cell by cell."""

    def __init__(self, name: str):
        self.name, self.answers, self.heading = name, Answers(), ""
        self.moves = name == _GUIDE  # whether what stands above moves here, too

    def body(self) -> str:
        made = [self.cell(cell) for cell in shipped_cells(f"{self.name}{_NOTEBOOK}")]
        made.insert(1, _PLACE_OF_STILL)
        return "".join([*made, self.answers.page()])

    def cell(self, cell: Mapping[str, Any]) -> str:
        if cell["cell_type"] == "markdown":
            return self.words("".join(cell["source"]))
        return self.code(cell)

    def find(self, name: str, place: str) -> str:
        return _place(name or self.name, place)

    def words(self, text: str) -> str:
        """Turn words into HTML, fold what they fold, and what is for the notebook alone."""
        text, made, at = _WAKING.sub("", text), [], 0
        for fold in _DETAILS.finditer(text):
            made += self._open(text[at : fold.start()], fold)
            at = fold.end()
        return "".join([*made, *self._open(text[at:])])

    def _open(self, text, fold=None):
        """Turn words into HTML, and what is folded below; that belongs to their last piece."""
        self.heading = (_HEADING.findall(text) or [self.heading])[-1]
        parts = pieces(text, moves=self.moves)
        for place, words in parts:
            told = prose(words, self.find)
            if place == NOTEBOOK:
                inside = fold if words is parts[-1].text else None
                fold = None if inside else fold
                told = for_notebook(told + (self._folded(inside) if inside else ""))
            asks = fold and words is parts[-1].text  # on paper, too, what is answered there
            yield f'<div class="onscreen">{told}</div>' if place == SCREEN and not asks else told
        if fold:
            yield self.answers.fold(fold[1], prose(fold[2], self.find), under=self.heading)

    def _folded(self, fold):
        return f"<details><summary>{fold[1]}</summary>{prose(fold[2], self.find)}</details>"

    def code(self, cell: Mapping[str, Any]) -> str:
        """Show what came of code; the code itself is folded where the notebook folds it."""
        source, outputs = "".join(cell["source"]), cell["outputs"]
        hidden = cell["metadata"].get("jupyter", {}).get("source_hidden", False)
        told = f"<pre><code>{html.escape(source)}</code></pre>"
        if not hidden:
            return told + "".join(map(self._printed, outputs))
        if not outputs:
            return ""  # it only gets something ready
        shown = "".join(self._came(one, source) for one in outputs)
        if all(one["output_type"] == "stream" for one in outputs):  # a panel, asked by code
            return _code("The code, and what it prints", told + shown)
        if source.split("(")[0].split()[-1] in _ASKING:
            return shown  # code that only asks says nothing more
        return shown + _code("The code", told)

    @staticmethod
    def _printed(output):
        text = "".join(output.get("text") or output["data"]["text/plain"])
        return f'<pre class="said">{html.escape(text.strip())}</pre>'

    def _came(self, output, source):
        if output["output_type"] == "stream":
            return self._printed(output)
        panel, call = _made(source)
        then = _then(call) if panel == "Predict" else ""
        self.moves = self.name == _GUIDE or panel == "Explorer" or bool(then)
        if panel == "Predict":
            return asked(_word(call), self.answers, then=then)
        if panel == "SelfCheck":
            return "".join(checked(key.value, self.answers) for key in call.args)
        data = output["data"]
        if "text/markdown" in data:
            return self._told("".join(data["text/markdown"]), by_steps=panel == "Stepper")
        sentence = "".join(data["text/plain"])
        return self._seen(panel, call, data.get("image/png"), sentence)

    def _seen(self, panel, call, png, sentence):
        if panel == "WhatIf":
            return carded(_word(call), pictured("".join(png), sentence))
        if panel == "Explorer":
            return explorer(pictured("".join(png), sentence), {})
        note = f'<span class="note">{stands_still(panel)}</span>'
        if png is None:
            return f"<p>{html.escape(sentence)} {note}</p>"
        look = ' class="telling"' if panel in _TELLING else ""
        look += ' data-colors="heat"' if panel in _HOT else ""
        return pictured("".join(png), sentence, note=note, look=look)

    def _told(self, text, *, by_steps):
        if not by_steps:
            return self.words(text)
        each = (
            f"<div>{prose(step, self.find)}</div>" for step in _STEP.split(text) if step.strip()
        )
        return f'<div class="steps">{"".join(each)}</div>'


def _made(source):
    """Read which panel a cell shows: its name, and the call that made it."""
    lines = ast.parse(source).body
    named = {
        line.targets[0].id: line.value
        for line in lines
        if isinstance(line, ast.Assign) and isinstance(line.targets[0], ast.Name)
    }
    shown: Any = lines[-1]
    call = named.get(getattr(shown.value, "id", ""), shown.value)
    return call.func.id, call


def _code(summary, told):
    return f'<details class="code"><summary>{summary}</summary>{told}</details>'


def _word(call):
    return call.args[0].value


def _then(call):
    """Return the explorer that moves once a prediction is made; nothing if something else does."""
    then = next((word.value for word in call.keywords if word.arg == "then"), None)
    if getattr(getattr(then, "func", None), "id", "") != "Explorer":
        return ""
    row = prediction(_word(call))
    kept = row.before is not None
    return explorer("", row.panel_before if kept else {}, row.panel_after)
