"""Live panels: a control moves, one pure call answers, words and picture follow. No physics."""

from ..guide import answer_key as answer_key
from ..paths import door as door  # pages show these in the same breath as panels
from ..paths import lesson_plan as lesson_plan
from .cards import WhatIf
from .catchers import Catchers
from .coaching import CoachPlan
from .court import Court
from .explorer import Explorer
from .fitted import FitTries
from .front import Front
from .heat_view import HeatView
from .joining import JoiningCurve
from .keeping import WillItKeep
from .kit_at_work import KitAtWork
from .kit_table import MyKitTable
from .ladder import WattLadder
from .making import KitToMake
from .next_try import NextEmber
from .our_tries import OurTries
from .pairs import SameWorlds
from .planned import PlanTries
from .practice import PracticeBeat, TapCounter
from .pressing import PressAndSpeed
from .questions import Predict, SelfCheck
from .race import Race
from .ramp import Ramp
from .rings import Rings
from .seen import WhatWasSeen
from .smoke_now import SmokeNow
from .stepper import Stepper
from .stopwatch import Stopwatch
from .stroke_map import Strokes
from .thickness import SheetThickness
from .under_ember import UnderTheEmber
from .warmth import Warmth
from .watts import MeasureWatts
from .weather import Weather
from .weighing import WeighMyWood
from .woods import WoodsSideBySide
from .worth import MeasureNext

__all__ = [
    "Catchers",
    "CoachPlan",
    "Court",
    "Explorer",
    "FitTries",
    "Front",
    "HeatView",
    "JoiningCurve",
    "KitAtWork",
    "KitToMake",
    "MeasureNext",
    "MeasureWatts",
    "MyKitTable",
    "NextEmber",
    "OurTries",
    "PlanTries",
    "PracticeBeat",
    "Predict",
    "PressAndSpeed",
    "Race",
    "Ramp",
    "Rings",
    "SameWorlds",
    "SelfCheck",
    "SheetThickness",
    "SmokeNow",
    "Stepper",
    "Stopwatch",
    "Strokes",
    "TapCounter",
    "UnderTheEmber",
    "Warmth",
    "WattLadder",
    "Weather",
    "WeighMyWood",
    "WhatIf",
    "WhatWasSeen",
    "WillItKeep",
    "WoodsSideBySide",
]
