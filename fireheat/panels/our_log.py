"""The log of timed tries that all panels of a page look at: the demo log at once, or a club's own.

There is one, :data:`our_log`, because a club has one log and several panels ask it. Nothing here
writes into it: a try is added by the stopwatch, where somebody asks for it.
"""

import html
from collections.abc import Callable
from functools import cache
from pathlib import Path
from weakref import WeakSet

import ipywidgets as widgets

from ..quantities import InputError
from ..trials.columns import TimedTry
from ..trials.log import demo_log
from ..trials.reading import Log, LogError, read_bytes, read_log
from .base import Panel, bar, button, unbroken

DEMO = "the demo log (invented)"
OWN = "our-tries.csv"  # what a new log is called, beside the notebook


class LogFollower(Panel):
    """A panel that shows a log: anew at once if a reader looks on, and else once somebody asks."""

    _stale = False

    def log_moved(self) -> None:
        """Ask the log there is now."""
        self._before_seen, self._stale = None, True
        if self.voice.views:
            self.catch_up()

    def catch_up(self) -> None:
        """Show the log and the units there are now."""
        if self._stale:
            self._stale = False
            self.refresh()
        super().catch_up()


class LogHolder:
    """A log that was read, what it is called, and all that shows it."""

    def __init__(self):
        self._followers: WeakSet[LogFollower] = WeakSet()
        self._log: Log | None = None
        self.name = DEMO

    @property
    def log(self) -> Log:
        """The log; that of the invented evening, until another is read."""
        return _demo() if self._log is None else self._log

    @property
    def own(self) -> tuple[TimedTry, ...]:
        """Tries of a log of the reader's own; none while the invented evening is shown."""
        return () if self._log is None else tuple(self._log.tries)

    def words(self) -> str:
        """Say which log it is and how much of it was read."""
        return self.log.words(self.name)

    def follow(self, follower: LogFollower) -> None:
        """Tell something of each other log from now on, as long as it is there."""
        self._followers.add(follower)

    def read(self, path: str) -> None:
        """Read a file.

        Raises
        ------
        InputError
            If it is no log, or none of its tries can be read; the one before stays.
        """
        self._take(read_log(path), Path(path).name)

    def hand_over(self, name: str, data: bytes) -> None:
        """Take a file that was handed over in the browser.

        Raises
        ------
        InputError
            If it is no log, or none of its tries can be read; the one before stays.
        """
        self._take(read_bytes(data), name)

    def clear(self) -> None:
        """Go back to the demo log."""
        self._take(None, DEMO)

    def _take(self, log, name):
        if log is not None and log.problems and not log.tries:
            raise LogError(" ".join(log.lines()))
        self._log, self.name = log, name
        for follower in list(self._followers):
            follower.log_moved()


@cache
def _demo():
    return read_log(demo_log())


our_log = LogHolder()


class WhichLog(widgets.VBox):
    """Choose a log by its place or by handing it over; its problems stand below, by row and column.

    Parameters
    ----------
    done : callable
        Called after each choice, whether it worked or not.
    """

    def __init__(self, done: Callable[[], object] = lambda: None):
        self._done = done
        self.path = widgets.Text(value=OWN, description="Our log, a file", continuous_update=False)
        self.upload = widgets.FileUpload(accept=".csv,.txt,.tsv", description="Or hand it over")
        self.said = widgets.HTML()
        self.said.add_class("fh-note")
        buttons = bar(button("Read it", self.read), self.upload, button("Demo log", self.demo))
        super().__init__([self.path, buttons, self.said])
        self.add_class("fh-which-log")
        self.upload.observe(lambda _: self._uploaded(), names="value")
        self.say()

    def read(self) -> None:
        """Read the file whose place was written."""
        self._try(lambda: our_log.read(self.path.value))

    def demo(self) -> None:
        """Go back to the demo log."""
        self._try(our_log.clear)

    def _uploaded(self):
        if self.upload.value:
            (one,) = self.upload.value[-1:]
            self._try(lambda: our_log.hand_over(str(one["name"]), bytes(one["content"])))

    def _try(self, act):
        try:
            act()
        except (LogError, InputError) as error:
            why = str(error).rstrip(".")
            self.said.value = html.escape(f"Not read: {why}. The tries shown are those of before.")
        else:
            self.say()
        self._done()

    def say(self) -> None:
        """Say which log is shown, and what in it could not be read."""
        lines = [f"{our_log.words()}.", *map(unbroken, our_log.log.lines())]
        self.said.value = "<br>".join(map(html.escape, lines))
