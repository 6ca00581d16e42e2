"""Live panels: a control moves, one pure call answers, words and picture follow. No physics."""

from .catchers import Catchers, SheetThickness, UnderTheEmber
from .explorer import Explorer
from .heat_view import HeatView
from .keep import WillItKeep
from .press import PressAndSpeed
from .questions import Predict, SelfCheck, WhatIf
from .ramp import Ramp
from .rings import Rings, WattLadder
from .stepper import Stepper
from .strokes import PracticeBeat, Strokes, TapCounter, Warmth
from .woods import Weather, WoodsSideBySide

__all__ = [
    "Catchers",
    "Explorer",
    "HeatView",
    "PracticeBeat",
    "Predict",
    "PressAndSpeed",
    "Ramp",
    "Rings",
    "SelfCheck",
    "SheetThickness",
    "Stepper",
    "Strokes",
    "TapCounter",
    "UnderTheEmber",
    "Warmth",
    "WattLadder",
    "Weather",
    "WhatIf",
    "WillItKeep",
    "WoodsSideBySide",
]
