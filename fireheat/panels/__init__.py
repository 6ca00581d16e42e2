"""Live panels: a control moves, one pure call answers, words and picture follow. No physics."""

from .explorer import Explorer
from .heat_view import HeatView
from .questions import Predict, SelfCheck, WhatIf
from .ramp import Ramp
from .rings import Rings, WattLadder
from .stepper import Stepper
from .strokes import PracticeBeat, Strokes, TapCounter, Warmth
from .woods import Weather, WoodsSideBySide

__all__ = [
    "Explorer",
    "HeatView",
    "PracticeBeat",
    "Predict",
    "Ramp",
    "Rings",
    "SelfCheck",
    "Stepper",
    "Strokes",
    "TapCounter",
    "Warmth",
    "WattLadder",
    "Weather",
    "WhatIf",
    "WoodsSideBySide",
]
