"""Live panels: a control moves, one pure call answers, words and picture follow. No physics."""

from .explorer import Explorer
from .heat_view import HeatView
from .questions import Predict, SelfCheck, WhatIf
from .ramp import Ramp
from .rings import Rings, WattLadder
from .stepper import Stepper
from .woods import Weather, WoodsSideBySide

__all__ = [
    "Explorer",
    "HeatView",
    "Predict",
    "Ramp",
    "Rings",
    "SelfCheck",
    "Stepper",
    "WattLadder",
    "Weather",
    "WhatIf",
    "WoodsSideBySide",
]
