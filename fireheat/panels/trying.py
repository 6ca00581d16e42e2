"""The base of panels that show a try: where its sliders start, and my kit in it by one button."""

from abc import abstractmethod
from collections.abc import Mapping
from typing import Any

import ipywidgets as widgets

from ..kit.kit import Air, Effort, Kit, Try
from ..my_kit import MyKit
from .base import Panel
from .controls import Control
from .mine import TakeMyKit
from .units import GivenUnits


class Trying(Panel):
    """A panel that shows a try, and takes my kit.

    What of my kit has a slider here moves it, and what has none goes into the try itself. A panel
    answers for :meth:`now`, and, where it has a band, with what is :meth:`known`.

    Parameters
    ----------
    kit, effort, air : optional
        Where the sliders start; what has no slider stays so.
    units : str or Units, optional
        ``"metric"`` or ``"us"`` for this panel alone; those chosen for all, if left out.
    """

    tried: tuple[str, ...] = ()  # controls that are quantities of the try
    left_out: tuple[str, ...] = ()  # readings that it makes itself, or has no use for
    banded = True  # whether it shows how far all we do not know reaches

    def __init__(
        self,
        kit: Kit | None = None,
        effort: Effort | None = None,
        air: Air | None = None,
        *,
        units: GivenUnits = None,
    ):
        self._try = Try(kit, effort, air)
        self._mine_before = MyKit()
        self.mine = TakeMyKit(self)
        controls = self.make_controls()
        super().__init__(controls, [self.mine, *self.lay_out(controls)], units)
        self.follow()

    @abstractmethod
    def make_controls(self) -> dict[str, Any]:
        """Make the controls, by name."""

    @abstractmethod
    def lay_out(self, controls: Mapping[str, Any]) -> list[widgets.Widget]:
        """Stand the controls."""

    def follow(self) -> None:
        """Let what goes together follow, once all controls stand."""

    # ---- the try --------------------------------------------------------------------------------

    def bare(self, state: Mapping[str, Any]) -> Try:
        """Return the try as the sliders have it."""
        return self._try.changed(**{key: state[key] for key in self.tried})

    def now(self, state: Mapping[str, Any] | None = None) -> Try:
        """Return the try as it is shown now, or in a state: what of my kit has no slider in it."""
        state = self.state if state is None else state
        return self.mine.unseen(state).state(self.bare(state))

    def known(self, state: Mapping[str, Any]) -> dict[str, float]:
        """Tell how well that was measured of it, for :func:`fireheat.spread.spread`."""
        return self.mine.standing(state).measured

    def uses(self, key: str) -> bool:
        """Tell whether a reading plays a part here."""
        return key not in self.left_out

    # ---- what the base asks ---------------------------------------------------------------------

    def row_of_buttons(self) -> list[widgets.Widget]:
        """Let my kit stand beside the other buttons."""
        return [self.mine.button, *super().row_of_buttons()]

    def under(self, answer: Any) -> Mapping[str, str]:
        """Put the badge under what was measured."""
        words = {key: "" for key, one in self.control.items() if isinstance(one, Control)}
        return self.mine.badges(words | dict(super().under(answer)), self.state)

    def show_answer(self) -> None:
        """Show the answer, and what of my kit stands in it."""
        super().show_answer()
        self.mine.tell()

    def keep_before(self) -> None:
        """Keep the state with what of my kit stood in it."""
        self._mine_before = self.mine.taken
        super().keep_before()

    def _answer_before(self, state):
        with self.mine.as_it_was(self._mine_before):
            return super()._answer_before(state)

    def reset(self) -> None:
        """Put every control back to where it started; my kit is off."""
        self.mine.drop()
        super().reset()
