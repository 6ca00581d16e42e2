"""Live panels: a control moves, one pure call answers, words and picture follow. No physics."""

from .explorer import Explorer
from .heat_view import HeatView
from .questions import Predict, SelfCheck, WhatIf
from .stepper import Stepper

__all__ = ["Explorer", "HeatView", "Predict", "SelfCheck", "Stepper", "WhatIf"]
