"""A box to tick for what was so."""

import ipywidgets as widgets

from ..quantities import InputError
from .controls import Choice, Control


class _Box(widgets.Checkbox):
    """A box to tick that tells what it can be, as other choices do."""

    options = (("no", False), ("yes", True))


class Tick(Choice):
    """A choice of yes or no, shown as a box to tick.

    Parameters
    ----------
    label : str
        What is so if it is ticked.
    value : bool, optional
        Whether it starts ticked.

    Raises
    ------
    InputError
        If it cannot start so.
    """

    def __init__(self, label: str, value: bool = False):
        self.start = value
        Control.__init__(self, _Box(description=label, indent=False))
        self.value = value

    def offer(self, key: object) -> None:
        """Refuse what only counts as yes or no."""
        if not isinstance(key, bool):
            raise InputError(f"{self.widget.description} cannot be {key!r}; allowed: True, False")
