"""The front page: four doors, and the units of all pages. It asks nothing and tells nothing."""

import html
from pathlib import Path

import anywidget
import ipywidgets as widgets
import traitlets

from ..figures.front import scene, upright
from ..paths import Door, doors
from ..quantities import METRIC, US
from .base import Kept, Voice
from .units import GivenUnits, UnitSwitch, followed

_HERE = Path(__file__).parent
_ASKED = "Thicker? Faster? Harder? Four ways to find out."
_NOT_A_PERMIT = "<b>Not a permit.</b> Local fire rules and your leader come first."
_ALSO = {
    "Safety list": "00-start-here.ipynb#Before-anything-burns",
    "My kit": "01-rubbing-makes-heat.ipynb#My-kit",
    "For teachers": "teacher-guide.ipynb",
}
_SIZES = {METRIC: "millimetres and newtons", US: "inches and pounds"}


class Doors(anywidget.AnyWidget):
    """The board with its doors, as words and links."""

    _esm = _HERE / "front.js"
    _css = _HERE / "front.css"
    words = traitlets.Unicode("").tag(sync=True)


class Front(Kept):
    """Four doors over one board, and the choice of units for all pages.

    Parameters
    ----------
    units : str or Units, optional
        ``"metric"``, ``"us"`` or a choice to follow; if left out, the one for all pages.

    Raises
    ------
    InputError
        If there are no such units.
    """

    def __init__(self, units: GivenUnits = None):
        self.holder = followed(units)
        self.units = UnitSwitch(self.holder, ("mm, N", "inches, lb"))
        self.doors = Doors(words=_doors_html())
        self.voice = Voice()
        asked = widgets.HTML(f'<div class="fh-question">{_ASKED}</div>')
        head = widgets.HBox([asked, self.units])
        head.add_class("fh-head")
        self.doors.add_class("fh-doors-box")
        super().__init__([head, self.doors, widgets.HTML(_foot_html()), self.voice])
        self.add_class("fireheat")
        self.add_class("fh-front")
        self.holder.follow(self)
        self.units_moved()

    def units_moved(self) -> None:
        """Say which units were chosen."""
        self.voice.text = f"Sizes are in {_SIZES[self.holder.system]}, here and on every page."

    def sentence(self) -> str:
        """Say what the doors are."""
        said = [f"{one.words}: {one.time}." for one in doors().values()]
        return " ".join([*said, self.voice.text])


def _doors_html() -> str:
    parts = [_door_html(number, one) for number, one in enumerate(doors().values())]
    return f'<ul class="fh-doors">{"".join(parts)}</ul>'


def _door_html(number: int, one: Door) -> str:
    return (
        f"<li>{scene(number)}{upright(number)}"
        f'<div class="fh-door"><a href="{one.link}">{html.escape(one.words)}</a>'
        f"<p>{html.escape(one.about)}</p><small>{html.escape(one.time)}</small></div></li>"
    )


def _foot_html() -> str:
    links = "".join(f'<a href="{link}">{words}</a>' for words, link in _ALSO.items())
    return f'<div class="fh-front-foot"><span>{_NOT_A_PERMIT}</span><span>{links}</span></div>'
