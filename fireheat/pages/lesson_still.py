"""What a lesson tells to do with panels that stand still in a file: kept for the notebook.

A notebook speaks of what moves in it. In a file only explorers and cards move, so what asks for
more is folded away as a task for the notebook, and what would make no sense there is left out.
"""

import re
from typing import NamedTuple

_SENTENCE = re.compile(r"(?<=[.?!:”)])\s+(?=[A-Z*\"“(`])")
# Words of notebooks, as patterns; each stands in one at least, or it would do nothing unseen.
LEFT_OUT = (
    r"[^.:?!\n]*(?:\(?\*\*Shift\*\* and \*\*Enter\*\*|run the cell again)[^.:?!\n]*[.:?!]+"
    r"(?: which letter [^?]*\?)?",
    r"The tile \*[^*]+\* shows it\.",
    r"Press play: [^.]*\.",
    r"In the panel of all [^.]*\.",
    r"Look at the heat bar [^?]*\?",
    r", the tile \*[^*]+\*",
    r" Find a kit near either end:",
    r" \(or an arrow key\)",
    r", a moment ago, on this computer",
    r", and what damp wood would do to it",
    r": look how long the bars are, then read the last sentence",
    r" More pairs stand under .*? people\.",
    r" \(\*More\*: [^)]*\)",
    r" Keep the gentle one as “before”\.",
    r" Press \*\*What is worth [^*]*\*\*",
    r" Reading this on the screen already\? .*? Esc leads back\.",
)
CONTROLS = (  # of panels that stand still
    r"\*(?:More|What is set\?|Our own log|The card\* holds)\*?",
    r"in the panel",
    r"this page stops",
    r"[Tt]ype (?:both|in)",
    r"compare the best force",
    r"Now put others on trial",
    r"Switch the tip",
)
NOT_HERE = (  # even where the panel moves
    r"Show me ten tries",
    r"The bar under the picture",
    r"\bmy kit\b",
)
_LEFT_OUT, _CONTROL, _ONLY_THERE = (
    re.compile("|".join(words)) for words in (LEFT_OUT, CONTROLS, NOT_HERE)
)
_ASKS = re.compile(r"^\*\*(?:Task|Try it)\.\*\*|\*\*Move it yourself\*\*|\b[Pp]ress \*\*")
_IN_THE_AIR = re.compile(r"without fire|in the air\.")
_ITEM = re.compile(
    r"^(\d\. \*\*(?:Move one (?:slider|thing)|Reach a goal))\.\*\*(?! .*\bcard\b)", re.M
)
_STEPS = "**Next step**"  # they come one by one in a file, too
_HAZARD = re.compile(r" (\([^()]*\bStop\.\))$")
_LISTED = re.compile(r"(?:\d+\.|-) ")

HERE, SCREEN, NOTEBOOK = "here", "screen", "notebook"


class Piece(NamedTuple):
    """Words of a lesson, and where they make sense.

    Attributes
    ----------
    place : str
        ``"here"``, ``"screen"`` if they ask to move what moves in the file, or ``"notebook"``.
    text : str
        The words, in Markdown.
    """

    place: str
    text: str


def pieces(text: str, *, moves: bool) -> list[Piece]:
    r"""Part words into what holds in a file, and what is for the notebook alone.

    Parameters
    ----------
    text : str
        Words of a notebook, in Markdown.
    moves : bool
        Whether the panel above them moves in the file, too.

    Returns
    -------
    list of Piece
        In their order; neighbours of one kind are together.

    Examples
    --------
    >>> told = "It is hot. Press **Go!** now.\n\nThen rest."
    >>> [piece.place for piece in pieces(told, moves=False)]
    ['here', 'notebook', 'here']
    """
    text = _ITEM.sub(r"\1, in the notebook.**", _LEFT_OUT.sub("", text))
    found: list[Piece] = []
    for block in re.split(r"\n{2,}", text):
        for piece in _parted(block, found[-1] if found else Piece(HERE, ""), moves=moves):
            if found and found[-1].place == piece.place:
                piece = Piece(piece.place, f"{found.pop().text}\n\n{piece.text}")
            found.append(piece)
    return found


def _parted(block, last, *, moves):
    """Cut a block at the first sentence that asks for what the file has not."""
    if last.place == NOTEBOOK and last.text.endswith(":") and _LISTED.match(block):
        return [Piece(NOTEBOOK, block)]
    if block.startswith(("#", "|", "$$", "- ", "1. ")):
        return [Piece(HERE, block)]
    block, *hazard = _HAZARD.split(block)[:2]
    sentences = _SENTENCE.split(block)
    moves = moves or _STEPS in block
    asks = [at for at, words in enumerate(sentences) if _asks(words, block, moves=moves)]
    at = asks[0] if asks else len(sentences)
    place = SCREEN if moves and _ASKS.match(block) else HERE
    cut = [Piece(place, " ".join(sentences[:at])), Piece(NOTEBOOK, " ".join(sentences[at:]))]
    cut += [Piece(HERE, words) for words in hazard]
    return [piece for piece in cut if piece.text.strip()]


def _asks(words, block, *, moves):
    if _ONLY_THERE.search(words):
        return True
    if moves or (_ASKS.search(words) and _IN_THE_AIR.search(block)):
        return False
    return bool(_ASKS.search(words) or _CONTROL.search(words))
