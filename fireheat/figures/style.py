"""One look for every picture: sizes, and a palette in which a hue means one thing everywhere.

Colours are from Okabe and Ito's palette for colour-blind readers ("Color Universal Design",
2008); no picture relies on colour alone.
"""

from contextlib import AbstractContextManager
from typing import Any

import numpy as np
from matplotlib import colormaps, rc_context

DUST = "#E69F00"
SOAKED = "#0072B2"
SOAKED_TOO = "#3D93C8"
LEAKED = "#56B4E9"
WATER = "#009E73"
BOUND = "#333333"
EMBER = "#D55E00"
EMBER_TEXT = "#C24E00"  # the same hue, dark enough for letters
EMBER_BAND = "#F2CBB0"  # the same hue, half sure
SMOKE = "#8A8A8A"
SMOKE_TEXT = "#666666"
PINNED = "#9A4F82"
INK = "#222222"
FAINT = "#DDDDDD"
PAPER = "#FFFFFF"

# Heat and hotness: pale is little, dark is much. Even steps look even, in grey too.
HEAT = colormaps["inferno"](np.linspace(0.99, 0.1, 256))[:, :3] * 255
HEAT.flags.writeable = False

DPI = 96  # one CSS pixel a dot, so that 14 pt is 14 pt on the screen
_RC: Any = {
    "font.family": "DejaVu Sans",
    "font.size": 14,
    "axes.titlesize": 15,
    "axes.labelsize": 14,
    "xtick.labelsize": 14,
    "ytick.labelsize": 14,
    "axes.edgecolor": INK,
    "axes.labelcolor": INK,
    "text.color": INK,
    "xtick.color": INK,
    "ytick.color": INK,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.linewidth": 1.0,
    "figure.facecolor": PAPER,
    "axes.facecolor": PAPER,
    "lines.linewidth": 3.0,
    "lines.solid_capstyle": "round",
}


def look() -> AbstractContextManager[None]:
    """Return a context in which figures are made and drawn in the project's look."""
    return rc_context(_RC)
