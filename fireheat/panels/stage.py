"""A live drawing of one or two kits that bow by the clock, in the browser and in true seconds."""

from collections.abc import Iterable
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from ..figures.kit_script import COLD, HOT, KitScript, ramp
from ..figures.style import DARK, LIGHT

_HERE = Path(__file__).parent
SLOWEST, QUICKEST = 1, 2


class Stage(anywidget.AnyWidget):
    """A drawing that moves: the kernel says what happens when, the browser shows it.

    Only parts of the drawing with names are moved; nothing is built anew. The clock runs in true
    seconds, at ``pace`` 2 twice as fast; it holds while nobody can see the drawing. The browser
    tells it back in ``at`` as a stage begins, as it is stopped, and at the end, not each frame.

    Marked elements of the panel round it get words, too: the attribute ``data-clock`` gets seconds,
    ``data-says="0"`` and ``data-note="0"`` what is said of kit 0, and on ``data-looks="0"`` the
    attribute ``data-now`` names the look of its tip, from 0, pale, to 3, glowing. On
    ``data-share-of="90"`` the property ``--fh-share`` of CSS tells how much of 90 seconds has gone,
    from 0 to 1.

    Attributes
    ----------
    svg : str
        The drawing, from :func:`fireheat.figures.kit_picture.live_picture`.
    courses : list of dict
        What each kit does, from :meth:`fireheat.figures.kit_script.KitScript.plain`.
    heat : list
        Both ends of the ramp of heat in kelvin, then its colours.
    running : bool
        Whether the clock runs. Set ``at`` while it does not, and the drawing stands there.
    at : float
        The clock. [s]
    take : int
        How often the clock was set: :meth:`start_again` and :meth:`look_at` count on.
    pace : int
        1, or 2 for twice as fast.
    ended : bool
        Whether the last of the kits has come to its end; the clock has stopped there.
    theme : str
        The browser's, told by it.
    """

    _esm = _HERE / "stage.js"
    _css = _HERE / "stage.css"
    svg = traitlets.Unicode("").tag(sync=True)
    courses = traitlets.List(traitlets.Dict()).tag(sync=True)
    heat: Any = traitlets.List().tag(sync=True)
    running = traitlets.Bool(False).tag(sync=True)
    at = traitlets.Float(0.0, min=0.0).tag(sync=True)
    take = traitlets.Int(0).tag(sync=True)
    pace = traitlets.Int(SLOWEST, min=SLOWEST, max=QUICKEST).tag(sync=True)
    ended = traitlets.Bool(False).tag(sync=True)
    theme = traitlets.Enum((LIGHT, DARK), LIGHT).tag(sync=True)

    def show(self, svg: str, scripts: Iterable[KitScript]) -> None:
        """Show a drawing and what its kits do, in the colours of the theme drawn in now."""
        with self.hold_sync():
            self.svg, self.heat = svg, [COLD, HOT, *ramp()]
            self.courses = [script.plain() for script in scripts]

    def start_again(self, *, running: bool = True) -> None:
        """Set the clock back to zero, and let it run or not."""
        self._set_clock(0.0, running)

    def look_at(self, time: float) -> None:
        """Hold the clock at a time. [s]."""
        self._set_clock(float(time), False)

    def _set_clock(self, time, running):
        with self.hold_sync():
            self.at, self.ended, self.running = time, False, running
            self.take += 1  # the browser's clock may stand elsewhere by now than it told last
