"""Units, chosen once: all that a reader sees follows one choice, on every page that is open.

There is one for all, :data:`chosen_units`. It is kept on this computer, and read again as a kernel
starts. Whoever wants other units for one panel alone gives it some: it then follows these.
"""

import time
from pathlib import Path
from typing import Protocol, TypeAlias
from weakref import WeakSet

import anywidget
import ipywidgets as widgets
import traitlets

from ..kept import read_kept, write_kept
from ..quantities import METRIC, US, choose

SYSTEMS = (METRIC, US)
_KEPT = "units"


class Follower(Protocol):
    """What shows units."""

    def units_moved(self) -> None:
        """Show other units, now or as soon as somebody looks."""


class Units:
    """A choice of units, and all that follows it.

    Parameters
    ----------
    system : str
        ``"metric"`` or ``"us"``.

    Raises
    ------
    InputError
        If there are no such units.
    """

    def __init__(self, system: str = METRIC):
        self._system = choose("units", system, SYSTEMS)
        self._followers: WeakSet[Follower] = WeakSet()

    @property
    def system(self) -> str:
        """The units chosen."""
        return self._system

    def follow(self, follower: Follower) -> None:
        """Tell something of each other choice from now on, as long as it is there."""
        self._followers.add(follower)

    def choose(self, system: str) -> None:
        """Choose units.

        Raises
        ------
        InputError
            If there are no such units.
        """
        if choose("units", system, SYSTEMS) != self.system:
            self._system = system
            for follower in list(self._followers):
                follower.units_moved()


class _Link(anywidget.AnyWidget):
    """Ties kernels together in the browser: each hears what units were chosen in another."""

    _esm = Path(__file__).parent / "units.js"
    # The units, and when they were chosen, in s: what was chosen last counts.
    said = traitlets.Tuple(traitlets.Enum(SYSTEMS), traitlets.Float()).tag(sync=True)


class ChosenUnits(Units):
    """The units that all follow, kept on this computer, the same on all pages that are open."""

    def __init__(self):
        super().__init__()
        self._at, self._read = 0.0, False  # when they were chosen; whether what is kept was read
        self._link: _Link | None = None

    @property
    def system(self) -> str:
        """The units chosen; before that, those kept from another evening."""
        if not self._read:
            kept = read_kept(_KEPT).get("system")
            self._system, self._read = kept if kept in SYSTEMS else METRIC, True
        return self._system

    def follow(self, follower: Follower) -> None:
        """Tell something of each other choice from now on, whatever page it is made on."""
        super().follow(follower)
        if self._link is None:
            self._link = _Link(said=(self.system, self._at))
            self._link.observe(self._heard, names="said")

    def choose(self, system: str) -> None:
        """Choose units for all, and keep the choice.

        Raises
        ------
        InputError
            If there are no such units.
        """
        if choose("units", system, SYSTEMS) != self.system:
            write_kept(_KEPT, {"system": system})
            self._take(system, max(time.time(), self._at + 1e-3))

    def _heard(self, change):
        system, at = change["new"]
        if at > self._at:
            self._take(system, at)

    def _take(self, system, at):
        self._at = at
        if self._link is not None:
            self._link.said = system, at
        super().choose(system)


chosen_units = ChosenUnits()

# What a panel is given: units of its own, or none, to follow those that are chosen for all.
GivenUnits: TypeAlias = str | Units | None


def followed(given: GivenUnits = None) -> Units:
    """Return the choice that something follows.

    Parameters
    ----------
    given : str or Units, optional
        Units for it alone; those chosen for all, if left out.

    Raises
    ------
    InputError
        If there are no such units.

    Examples
    --------
    >>> followed("us").system, followed() is chosen_units
    ('us', True)
    """
    if given is None:
        return chosen_units
    return given if isinstance(given, Units) else Units(given)


class UnitSwitch(widgets.ToggleButtons):
    """Two buttons that choose the units of all that follows.

    Parameters
    ----------
    holder : Units
        The choice.
    names : tuple of str
        What is on the buttons.
    """

    def __init__(self, holder: Units, names: tuple[str, str] = ("mm", "inches")):
        options = list(zip(names, SYSTEMS, strict=True))
        super().__init__(options=options, value=holder.system, description="Sizes in")
        self.holder, self.pressed = holder, False
        self.add_class("fh-units")
        self.observe(self._pressed, names="value")
        holder.follow(self)

    def _pressed(self, change):
        self.pressed = True
        try:
            self.holder.choose(change["new"])
        finally:
            self.pressed = False

    def units_moved(self) -> None:
        """Press the button of the units that were chosen elsewhere."""
        self.value = self.holder.system
