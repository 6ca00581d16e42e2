"""The lane of one try, and times in words, for pages that reckon by the kernel."""

import json
from functools import cache
from importlib.resources import files

from ..figures.lane import FAR, PLANKS
from ..figures.style import DARK, LIGHT, TOKENS
from ..words import TOO_LONG


@cache
def lane_script() -> str:
    """Write the script that spells times and draws a lane; it stands after the kernel's.

    Returns
    -------
    str
        A plain script: ``draw_lane`` makes SVG of an estimate, ``band_words`` and the like
        are named as in :mod:`fireheat.words`.

    Examples
    --------
    >>> "const draw_lane" in lane_script()
    True
    """
    told = {"planks": list(PLANKS.items()), "far": FAR, "too_long": TOO_LONG}
    return f"const LANE = {json.dumps(told)};\n{beside('words.js')}{beside('lane.js')}"


def lane_look() -> str:
    """Return the rules of style of a lane.

    Examples
    --------
    >>> lane_look().splitlines()[1].split()[0]
    '.lane'
    """
    return beside("lane.css")


def color_rules() -> str:
    """Spell the colours of both themes as rules; paper is printed on in the light one.

    Examples
    --------
    >>> color_rules()[:23]
    ':root{--paper:#FFFFFF;-'
    """
    light, dark = (
        ";".join(f"--{name.lower()}:{color}" for name, color in TOKENS[theme].items())
        for theme in (LIGHT, DARK)
    )
    return f":root{{{light}}}@media screen and (prefers-color-scheme:dark){{:root{{{dark}}}}}"


def beside(name: str) -> str:
    """Read a file of this folder.

    Raises
    ------
    FileNotFoundError
        If there is none of this name.

    Examples
    --------
    >>> beside("lane.css")[:2]
    '/*'
    """
    return (files(__package__) / name).read_text(encoding="utf-8")
