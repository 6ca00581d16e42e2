"""Scripts and styles of a page without what only those who change them need.

A name is made short where it surely is a variable. A script that tells what others know of it has
the names of its properties made short as well.
"""

import re
from collections import Counter
from collections.abc import Collection
from itertools import count, product
from string import ascii_letters

_CODE = re.compile(
    r"(?P<comment>//[^\n]*|/\*.*?\*/)"
    r"""|(?P<string>"(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*')"""
    r"|(?P<number>\.?\d[\w.]*)|(?P<word>[A-Za-z_$][\w$]*)|(?P<space>\s+)|(?P<sign>\?\.|\.\.\.|\+\+|--|.)",
    re.DOTALL,
)
_PATTERN = re.compile(r"/(?:\\.|\[(?:\\.|[^\]\\])*\]|[^/\\\[\n])+/[a-z]*")
_BEFORE_PATTERN = set("(,=:[!&|?{};+") | {"return", "=>"}
_OPEN, _CLOSE = tuple("([{"), tuple(")]}")
_DECLARE = ("const", "let", "function")
_BEFORE_BLOCK = {"", ")", "=>", "else", "do", "try", "finally", ";", "{", "}"}
_BEFORE_NAME = ("(", "[", "{", ",", ":", "...")  # in a pattern
_PROPERTY, _BOTH, _VARIABLE = "property", "both", "variable"
_LANGUAGE = ("do", "if", "in", "of", "for", "let", "new", "try", "var")
_WORD, _PLACE = re.compile(r"[A-Za-z_]\w*"), re.compile(r"\{(\w+)\}")
# What the language calls by these names, in scripts that do without a page.
_BUILT_INS = """
    abs Array asin asinh at atan atan2 break catch cbrt clear const continue cos cosh default
    delete do else entries every exp expm1 false fill filter findIndex flatMap Float64Array
    floor for forEach from fromEntries function get has hypot if in includes Infinity isFinite
    isNaN JSON keys length let log log10 log1p Map map Math max maximumSignificantDigits min
    NaN new null Number Object of PI pow push reduce reduceRight replace return roundingMode
    set shift sin sinh size slice some sort sqrt stringify tan tanh this throw toLocaleString
    true trunc try typeof undefined values var while
"""
_BUILT_IN = frozenset(_BUILT_INS.split())


def tight_script(script: str, *, known: Collection[str] | None = None) -> str:
    r"""Write a script without comments and room, its variables short.

    Parameters
    ----------
    script : str
        Plain statements, each ended by its semicolon or brace; functions in an object have a
        colon after their name.
    known : collection of str, optional
        Names of properties that others know, if they know no more: then all others are made short,
        too, each alike wherever it stands, but for those that a string says.

    Returns
    -------
    str
        A script that does the same. If nobody tells what is known, names of properties stay, since
        the browser, tables and what was kept on a phone know them.

    Examples
    --------
    >>> tight_script('const wide = 2; // twice\nalert(`${wide} m`, wide.length);')
    'const a=2;alert(`${a} m`,a.length);'
    >>> tight_script('const kit = { wide: 0.5, long: 2 }; reckon(kit.wide);', known=["reckon"])
    'const a={b:.5,c:2};reckon(a.b);'
    """
    tokens = list(_tokens(script))
    words = Counter(text for kind, text in tokens if kind == "word")
    own = set() if known is None else {*words} - {*known} - _BUILT_IN - _said(tokens)
    roles = _roles(tokens)
    told = list(zip(tokens, roles, strict=True))
    used = Counter(text for (_, text), role in told if role == _VARIABLE)
    both = Counter(text for (_, text), role in told if role == _BOTH)
    worth = {text for text in used if used[text] * (len(text) - 2) > 3 * both[text]}
    variables = (_declared(tokens, roles) - own) & worth
    taken = {text for (_, text), role in told if role and text not in own | variables}
    names = (name for name in _short_names() if name not in {*taken, *_LANGUAGE})
    often = Counter(
        {text: (words if text in own else used)[text] for text in words if text in own | variables}
    )
    short = dict(zip((text for text, _ in often.most_common()), names, strict=False))
    return _joined(
        (kind, _shortened(kind, text, short if text in own or role != _PROPERTY else {}, role, own))
        for (kind, text), role in told
    )


def tight_style(style: str) -> str:
    """Write rules of style without comments and room.

    Examples
    --------
    >>> tight_style("/* wide */ a { color: red; margin: 0 1px; } ")
    'a{color:red;margin:0 1px}'
    """
    bare = re.sub(r"\s+", " ", re.sub(r"/\*.*?\*/", "", style, flags=re.DOTALL))
    return re.sub(r"\s*([{};,]|:(?= ))\s*", r"\1", bare).replace(";}", "}").strip()


def _tokens(script):
    """Part a script; a string with places comes in parts, and what stands in them between."""
    inside: list[int] = []  # for each open place, how many braces are open in it
    at, last = 0, ""
    while at < len(script):
        if script[at] == "`" or (inside and not inside[-1] and script[at] == "}"):
            if script[at] == "}":
                inside.pop()
            end = at + 1
            while script[end] != "`" and script[end : end + 2] != "${":
                end += 2 if script[end] == "\\" else 1
            end += 1 if script[end] == "`" else 2
            if script[end - 1] == "{":
                inside.append(0)
            yield "text", script[at:end]
            at, last = end, "`"
            continue
        found = _CODE.match(script, at)
        assert found is not None  # it takes any letter
        kind, text = found.lastgroup, found.group()
        if text == "/" and (last in _BEFORE_PATTERN or not last):
            found = _PATTERN.match(script, at)
            assert found is not None  # a slash here begins one
            kind, text = "pattern", found.group()
        if inside and text in "{}":
            inside[-1] += 1 if text == "{" else -1
        at += len(text)
        if kind in ("comment", "space"):
            continue
        yield kind, text
        last = "=>" if text == ">" and last == "=" else text


def _said(tokens):
    """Find strings of one word, and words in braces: by these, things may be looked up."""
    strings = [text[1:-1] for kind, text in tokens if kind == "string"]
    whole = {text for text in strings if _WORD.fullmatch(text)}
    return whole | {word for text in strings for word in _PLACE.findall(text)}


def _shortened(kind, text, short, role, own):
    if kind == "number":
        return re.sub(r"^0(?=\.\d)", "", text)
    if role == _BOTH and text in short and text not in own:
        return f"{text}:{short[text]}"
    return short.get(text, text) if kind == "word" else text


def _roles(tokens):
    """Tell of each name whether it names a property, a variable, or both at once."""
    objects: list[bool] = []  # of each open bracket, whether it is that of an object or a pattern
    texts = ["", *(text for _, text in tokens), ""]
    roles = []
    for at, (kind, text) in enumerate(tokens, start=1):
        before, after, role = texts[at - 1], texts[at + 1], ""
        if kind == "text":
            objects = objects[: -1 if text.startswith("}") else None]
            objects += [False] if text.endswith("${") else []
        elif text in _OPEN:
            block = before in _BEFORE_BLOCK or texts[at - 2 : at] == ["=", ">"]
            objects.append(text == "{" and not block)
        elif text in _CLOSE:
            objects.pop()
        elif kind == "word":
            named = bool(objects) and objects[-1] and before in ("{", ",")
            property_ = before in (".", "?.") or (named and after == ":")
            role = (
                _PROPERTY
                if property_
                else _BOTH
                if named and after in (",", "}", "=")
                else _VARIABLE
            )
        roles.append(role)
    return roles


def _declared(tokens, roles):
    """Find names that are declared."""
    opened: list[int] = []
    declared = set()
    texts = ["", *(text for _, text in tokens), "", "", ""]
    declaring = -1  # how deep the declaration is that is read now
    for at, (kind, text) in enumerate(tokens, start=1):
        if kind == "text":
            opened = opened[: -1 if text.startswith("}") else None]
            opened += [at] if text.endswith("${") else []
        elif text in _OPEN:
            opened.append(at)
        elif text in _CLOSE:
            start = opened.pop()
            if texts[start - 1] in _DECLARE or _takes(texts, start, at):
                declared |= _named(texts, roles, start, at)
        elif kind == "word":
            listed = declaring == len(opened) and texts[at - 1] == ","
            if (
                texts[at - 1] in _DECLARE
                or (listed and texts[at + 1] in ("=", ",", ";"))
                or _arrow(texts, at)
            ):
                declared.add(text)
        if text in ("const", "let"):
            declaring = len(opened)
        elif text == ";" and declaring == len(opened):
            declaring = -1
    return declared


def _arrow(texts, at):
    return texts[at + 1 : at + 3] == ["=", ">"]


def _takes(texts, start, end):
    """Tell whether what stands between brackets are the parameters of a function."""
    return texts[end] == ")" and (
        _arrow(texts, end) or "function" in texts[max(start - 2, 0) : start]
    )


def _named(texts, roles, start, end):
    """Find the names in a pattern, or a list of parameters."""
    found, aside = set(), 0  # how many brackets are open in what stands for what is left out
    for at in range(start + 1, end):
        if texts[at] in _OPEN and (aside or texts[at - 1] not in _BEFORE_NAME):
            aside += 1
        elif texts[at] in _CLOSE and aside:
            aside -= 1
        elif roles[at - 1] in (_BOTH, _VARIABLE) and not aside and texts[at - 1] in _BEFORE_NAME:
            found.add(texts[at])
    return found


def _joined(tokens):
    """Put tokens together, with room only where two would be read as one."""
    parts: list[str] = []
    last, constants = "", [False]  # whether a depth's statement names constants
    for kind, text in tokens:
        if text == "const" and last == ";" and constants[-1]:  # one more of them
            parts[-1] = last = ","
            continue
        if (last in (";", "}") and text not in (";", "=")) or text == "const":
            constants[-1] = text == "const"
        if text in _OPEN or text.endswith("${"):
            constants.append(False)
        if text in _CLOSE or (kind == "text" and text.startswith("}")):
            constants.pop()
            if last == "," or last + text == ";}":
                parts.pop()
        if _runs_together(last, text):
            parts.append(" ")
        parts.append(text)
        last = text
    return "".join(parts)


def _runs_together(before, after):
    last, first = before[-1:], after[:1]
    in_word = re.compile(r"[\w$]").match
    return bool(in_word(last) and in_word(first)) or (last == first and first in ("+", "-"))


def _short_names():
    for length in count(1):
        yield from map("".join, product(ascii_letters, repeat=length))
