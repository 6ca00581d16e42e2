"""One look for every picture: sizes, and colours by meaning, light and dark.

A colour is asked for by what it means (``style.EMBER``), at the moment of drawing, since the theme
is set around each build and each draw: ``with style.theme("dark"): ...``. So no colour may be kept
in a constant, a default argument or a table of a module.

Two hues carry meaning, orange for the ember and blue for what a person set; the rest is material,
grey or ink. There is no green, and no picture relies on colour alone.
"""

from collections.abc import Iterator, Mapping
from contextlib import AbstractContextManager, contextmanager
from contextvars import ContextVar
from functools import cache
from types import MappingProxyType
from typing import Any

import numpy as np
from matplotlib import rc_context
from matplotlib.colors import to_rgb

LIGHT, DARK = "light", "dark"

# Name: what it means, light, dark.
_MEANINGS = {
    "PAPER": ("ground", "#FFFFFF", "#16181A"),
    "SHADE": ("a quiet ground: what cannot be, the chosen row", "#F5F1EA", "#202326"),
    "INK": ("words, the floor, before, now", "#1F2326", "#F1EEE8"),
    "QUIET": ("notes", "#555A5E", "#B9BCBE"),
    "EDGE": ("tracks, boxes, quiet lines", "#7A756C", "#9A9D9F"),
    "RULE": ("hairlines that mean nothing", "#D6CFC3", "#3C4145"),
    "EMBER": ("an ember: letters and the likely dot", "#B83A06", "#FF9B57"),
    "EMBER_BAND": ("your wood; heat in the dust", "#E37420", "#F0792B"),
    "EMBER_PALE": ("all we do not know; with an edge", "#FADCC3", "#5A3117"),
    "YOURS": ("set, measured, guessed or aimed at", "#0A5C9E", "#7CC0F5"),
    "YOURS_PALE": ("its field", "#DCEAF6", "#173246"),
    "SMOKE": ("smoke", "#686F76", "#A9B0B6"),
    "WOOD": ("wood", "#E6CFA6", "#B59A70"),
    "WOOD_MID": ("the shaded side of wood", "#C39A62", "#8F7148"),
    "WOOD_DARK": ("edges of wood", "#80592F", "#C79F6B"),
    "SPINDLE": ("the spindle, that soaks up heat", "#8A5A33", "#A8754A"),
    "BOARD": ("the fireboard, that soaks up heat", "#C39A62", "#D6B27D"),
    "CHAR": ("burnt", "#2A211C", "#0C0A09"),
}
TOKENS: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        name: MappingProxyType({key: row[at] for key, row in _MEANINGS.items()})
        for at, name in enumerate((LIGHT, DARK), start=1)
    }
)

# Heat from cold to hot: how far along each colour stands. Cold looks like wood, hot glows; on white
# lightness falls and rises again, so lines at 50, 100 and 200 degrees go with every picture.
_HEAT_PLACES = (0, 0.10, 0.26, 0.45, 0.62, 0.78, 0.90, 1)
_HEAT = {
    LIGHT: "#EADDC2 #E4CDA2 #D39A6A #B8432F #A3160F #E2500F #FF9A1F #FFF0A6",
    DARK: "#4A4034 #57483A #7A4433 #A52F22 #CF2A14 #F0641A #FFA531 #FFF3B0",
}

DPI = 96  # one CSS pixel a dot, so that 14 pt is 14 pt on the screen
FONT = "DejaVu Sans"  # comes with matplotlib
_THEME: ContextVar[str] = ContextVar("theme", default=LIGHT)


@contextmanager
def theme(name: str) -> Iterator[None]:
    """Build and draw in one theme's colours, ``"light"`` or ``"dark"``.

    Raises
    ------
    KeyError
        If there is no such theme.

    Examples
    --------
    >>> with theme("dark"):
    ...     color("PAPER")
    '#16181A'
    """
    if name not in TOKENS:
        raise KeyError(f"no theme {name!r}; there are {sorted(TOKENS)}")
    before = _THEME.set(name)
    try:
        yield
    finally:
        _THEME.reset(before)


def theme_now() -> str:
    """Name the theme that is drawn in now.

    Examples
    --------
    >>> theme_now()
    'light'
    """
    return _THEME.get()


def color(token: str) -> str:
    """Look a colour up by what it means, in the theme that is drawn in now.

    Examples
    --------
    >>> color("PAPER")
    '#FFFFFF'
    """
    return TOKENS[_THEME.get()][token]


def rgb(token: str) -> np.ndarray:
    """Look a colour up as red, green and blue up to 255, as pixels have it.

    Examples
    --------
    >>> [int(part) for part in rgb("PAPER")]
    [255, 255, 255]
    """
    return np.array(to_rgb(color(token))) * 255


def heat() -> np.ndarray:
    """Look up the colours of heat, cold first, in 256 steps of red, green, blue up to 255.

    Examples
    --------
    >>> heat().shape
    (256, 3)
    """
    return _heat(_THEME.get())


@cache
def _heat(name):
    stops = np.array([to_rgb(stop) for stop in _HEAT[name].split()]) * 255
    along = np.linspace(0, 1, 256)
    shades = np.column_stack([np.interp(along, _HEAT_PLACES, part) for part in stops.T])
    shades.flags.writeable = False
    return shades


def __getattr__(name: str) -> Any:
    if name == "HEAT":
        return heat()
    try:
        return color(name)
    except KeyError:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}") from None


def look() -> AbstractContextManager[None]:
    """Return a context in which figures are made and drawn in the project's look."""
    ink, paper = color("INK"), color("PAPER")
    look: Any = {
        "font.family": FONT,
        "font.size": 14,
        "axes.titlesize": 15,
        "axes.labelsize": 14,
        "xtick.labelsize": 14,
        "ytick.labelsize": 14,
        "axes.edgecolor": color("EDGE"),
        "axes.labelcolor": ink,
        "text.color": ink,
        "xtick.color": color("EDGE"),
        "xtick.labelcolor": ink,
        "ytick.color": color("EDGE"),
        "ytick.labelcolor": ink,
        "grid.color": color("RULE"),
        "axes.spines.top": False,
        "axes.spines.right": False,
        "axes.linewidth": 1.0,
        "axes.unicode_minus": True,
        "figure.facecolor": paper,
        "axes.facecolor": paper,
        "lines.linewidth": 3.0,
        "lines.solid_capstyle": "round",
    }
    return rc_context(look)
