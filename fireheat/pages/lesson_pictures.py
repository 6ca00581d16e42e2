"""Stored pictures of a lesson, each with its sentence; on a dark page a script paints them anew."""

import html
import json

from ..data import table
from ..figures import style
from .lane import beside

_EVERY = 17  # of the 256 shades of heat, one in so many is told
_LIKE_HEAT = ("WOOD_MID", "WOOD_DARK", "SPINDLE", "BOARD")  # too near to shades of heat


def pictured(png: str, sentence: str, *, note: str = "", look: str = "") -> str:
    """Show a stored picture with its stored sentence, which a screen reader says once.

    Parameters
    ----------
    png : str
        The picture, in base 64.
    sentence : str
        What it shows.
    note : str
        A line below, as HTML.
    look : str
        Attributes of the figure, as HTML.

    Examples
    --------
    >>> pictured("", "Two lanes.").count("Two lanes.")
    2
    """
    words = html.escape(sentence)
    return (
        f'<figure{look}><div class="wide"><img alt="{words}" src="data:image/png;base64,'
        f'{"".join(png.split())}"></div><figcaption><span aria-hidden="true">{words}</span>{note}'
        "</figcaption></figure>\n"
    )


def stands_still(panel: str) -> str:
    """Say in a line what a panel is, and where it moves.

    Raises
    ------
    KeyError
        If nothing is said of such a panel.

    Examples
    --------
    >>> stands_still("Race").startswith("Here")
    True
    """
    return f"Here it stands still: {table('still_panels')[panel]} It moves in the notebook."


def picture_script() -> str:
    """Write the script that paints pictures anew for a dark page, and shows them larger.

    Returns
    -------
    str
        A plain script. It goes by the colours of :mod:`fireheat.figures.style`, each with its
        fellow of the dark theme.

    Examples
    --------
    >>> "#1F2326" in picture_script()
    True
    """
    light, dark = (style.TOKENS[theme] for theme in (style.LIGHT, style.DARK))
    colors = {name: (light[name], dark[name]) for name in light}
    hot = list(zip(_shades(style.LIGHT), _shades(style.DARK), strict=True))
    beside_hot = [pair for name, pair in colors.items() if name not in _LIKE_HEAT]
    told = json.dumps({"": list(colors.values()), "heat": [*beside_hot, *hot]})
    return f"const PICTURE_COLORS = {told};\n{beside('picture.js')}"


def _shades(theme):
    with style.theme(theme):
        shades = style.heat()[::_EVERY].round().astype(int).tolist()
    return [f"#{red:02x}{green:02x}{blue:02x}" for red, green, blue in shades]
