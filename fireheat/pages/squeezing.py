"""A script made small: no comments, no room between words, and short names for its own ones."""

import re
from collections import Counter
from collections.abc import Collection, Iterator
from itertools import count, product
from string import ascii_letters

_TOKEN = re.compile(
    r"""(?P<comment>//[^\n]*)|(?P<string>"(?:\\.|[^"\\])*")"""
    r"""|(?P<number>\.?\d[\w.]*(?:(?<=e)[-+]\d+)?)|(?P<word>[A-Za-z_$][\w$]*)|(?P<space>\s+)|(?P<sign>\+\+|--|.)"""
)
_WORD = re.compile(r"[A-Za-z_]\w*")
# What the language and the browser call by these names.
_LANGUAGE = """
    abs Array asin asinh at atan atan2 break cbrt clear const continue cos cosh default delete
    do else entries every exp expm1 fill filter findIndex flatMap Float64Array floor for
    forEach from fromEntries get has hypot if in includes Infinity isFinite isNaN JSON keys
    length let log log10 log1p Map map Math max maximumSignificantDigits min NaN new null
    Number Object of PI pow push reduce reduceRight replace return set shift sin sinh size
    slice some sort sqrt stringify tan tanh toLocaleString trunc undefined values
"""
LANGUAGE = frozenset(_LANGUAGE.split())


def squeezed(script: str, *, kept: Collection[str]) -> str:
    r"""Write a script with as few letters as will do.

    Parameters
    ----------
    script : str
        In plain statements, each ended by its semicolon or brace, and with strings in double quotes
        only: no pattern between slashes, no string with places.
    kept : collection of str
        Names that others know, which stay as they are.

    Returns
    -------
    str
        One line that does the same. A name stands for the same thing wherever it stands, be it a
        variable's or a property's, so all of one name are renamed alike.

    Examples
    --------
    >>> squeezed('const wide = 2; // twice\nconst area = wide * wide;', kept=["area"])
    'const a=2,area=a*a;'
    """
    tokens = [
        (match.lastgroup, match.group())
        for match in _TOKEN.finditer(script)
        if match.lastgroup not in ("comment", "space")
    ]
    words = Counter(text for kind, text in tokens if kind == "word")
    said = {word for kind, text in tokens if kind == "string" for word in _WORD.findall(text)}
    theirs = LANGUAGE | set(kept) | said
    names = (name for name in _short_names() if name not in theirs)
    own = [word for word, _ in words.most_common() if word not in theirs]
    renamed = dict(zip(own, names, strict=False))
    return _joined(
        renamed.get(text, text) if kind == "word" else re.sub(r"^0(?=\.\d)", "", text)
        for kind, text in tokens
    )


def _joined(tokens):
    """Put tokens together, with room only where two would be read as one."""
    parts: list[str] = []
    last, constants = "", [False]  # whether a depth's statement names constants
    for token in tokens:
        if token == "const" and last == ";" and constants[-1]:  # one more of them
            parts[-1] = last = ","
            continue
        if last == ";" or token == "const":
            constants[-1] = token == "const"
        if token in "([{":
            constants.append(False)
        elif token in ")]}":
            constants.pop()
            if last == "," or last + token == ";}":
                parts.pop()
        parts.append(f" {token}" if _runs_together(last, token) else token)
        last = token
    return "".join(parts)


def _short_names() -> Iterator[str]:
    """Name one letter after another, then pairs of them, and so on."""
    for length in count(1):
        yield from map("".join, product(ascii_letters, repeat=length))


def _runs_together(before, after):
    """Tell whether two tokens would be read as one."""
    last, first = before[-1:], after[:1]
    in_word = re.compile(r"[\w$]").match
    return bool(in_word(last) and in_word(first)) or (last == first and first in ("+", "-"))
