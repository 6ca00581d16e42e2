"""The four doors of the front page, the path behind each, and lesson plans: stops with minutes.

Their words stand in ``data/paths.toml``, those of the plans in ``data/guide.toml``. A whole page
bears its own title and takes the minutes that it states, a what-if card bears its own title:
neither is written down again.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from itertools import accumulate, pairwise
from types import MappingProxyType
from typing import Any

from .data import table
from .lessons import card
from .quantities import choose
from .shipped import shipped_titles, stated_minutes


@dataclass(frozen=True)
class Stop:
    """One thing to open on a path, and what to do there.

    Attributes
    ----------
    words : str
        What it is called.
    link : str
        What opens it: a notebook, a place on it, or one of its panels in the hall; empty where
        nothing is opened.
    minutes : int
        How long it takes. [min]
    do : str
        What to say, or what to do, in a line or two.
    ask : str
        Which question of the answer key is put there; empty if none.
    """

    words: str
    link: str
    minutes: int
    do: str
    ask: str = ""


@dataclass(frozen=True)
class Door:
    """A way into the notebooks, for one kind of reader.

    Attributes
    ----------
    key, words : str
        Its name in the table, and the words of its link.
    heading : str
        What stands over its path on the front page.
    about, time : str
        What is behind it, and how long that takes.
    columns : tuple of str
        Heads of its table: what is opened, and what is done there.
    stops : tuple of Stop
        Its path.
    """

    key: str
    words: str
    heading: str
    about: str
    time: str
    columns: tuple[str, str]
    stops: tuple[Stop, ...]

    @property
    def minutes(self) -> int:
        """Minutes of the whole path."""
        return sum(stop.minutes for stop in self.stops)

    @property
    def link(self) -> str:
        """What leads to its path on the front page."""
        return "#" + self.heading.replace(" ", "-")

    def __str__(self):
        lines = [f"{self.heading}: {self.minutes} minutes in all."]
        lines += [f"{stop.minutes} min. {stop.words}. {stop.do}" for stop in self.stops]
        return "\n".join(lines)

    __repr__ = __str__

    def _repr_markdown_(self):
        rows = [(str(s.minutes), f"[{s.words}]({s.link})", s.do) for s in self.stops]
        return _as_table(("Minutes", *self.columns), rows)


@dataclass(frozen=True)
class LessonPlan:
    """A lesson, minute by minute: what is on the wall, what is said or done, what is asked.

    Attributes
    ----------
    key : str
        Its name in the table.
    stops : tuple of Stop
        What comes after what.
    """

    key: str
    stops: tuple[Stop, ...]

    @property
    def minutes(self) -> int:
        """Minutes of the whole lesson."""
        return sum(stop.minutes for stop in self.stops)

    def rows(self) -> list[tuple[str, str, str]]:
        """Return from which minute to which, what is opened, and what is done, for each stop."""
        ends = list(accumulate((stop.minutes for stop in self.stops), initial=0))
        return [
            (f"{start}–{end}", _opened(stop), " ".join([stop.do, *_asked(stop)]))
            for stop, (start, end) in zip(self.stops, pairwise(ends), strict=True)
        ]

    def __str__(self):
        lines = [f"{self.minutes} minutes in all."]
        rows = zip(self.rows(), self.stops, strict=True)
        lines += [f"{when} min. {stop.words}. {do}" for (when, _, do), stop in rows]
        return "\n".join(lines)

    __repr__ = __str__

    def _repr_markdown_(self):
        return _as_table(("Minute", "On the wall", "Say or do"), self.rows())


def _as_table(heads, rows):
    lines = [heads, ("---:", ":---", ":---"), *rows]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def _opened(stop):
    return f"[{stop.words}]({stop.link})" if stop.link else stop.words


def _asked(stop):
    """Name the question that is put at a stop by its number in the answer key."""
    return [f"*Question {1 + [*table('guide')['question']].index(stop.ask)}.*"] if stop.ask else []


@cache
def doors() -> Mapping[str, Door]:
    """Return the doors by name, in the order they stand in.

    Examples
    --------
    >>> list(doors())
    ['show', 'alone', 'cards', 'outside']
    """
    return MappingProxyType({key: _door(key, row) for key, row in table("paths").items()})


def door(key: str) -> Door:
    """Return one door by name.

    Parameters
    ----------
    key : str
        Its name in the table.

    Returns
    -------
    Door
        With its path; in a notebook it is shown as a table with links.

    Raises
    ------
    InputError
        If there is no such door.

    Examples
    --------
    >>> door("show").minutes
    20
    """
    return doors()[choose("door", key, doors())]


def lesson_plan(key: str) -> LessonPlan:
    """Return a lesson plan by name.

    Parameters
    ----------
    key : str
        Its name in the table.

    Returns
    -------
    LessonPlan
        In a notebook it is shown as a table with links.

    Raises
    ------
    InputError
        If there is no such plan.

    Examples
    --------
    >>> lesson_plan("demonstration").stops == door("show").stops
    True
    >>> lesson_plan("lesson").minutes
    45
    """
    plans = table("guide")["plan"]
    row = plans[choose("plan", key, plans)]
    stops = door(row["door"]).stops if "door" in row else tuple(map(_stop, row["stops"]))
    return LessonPlan(key, stops)


def _door(key: str, row: Mapping[str, Any]) -> Door:
    stops = tuple(_stop(each) for each in row["stops"])
    minutes = [stop.minutes for stop in stops]
    numbers = {
        "minutes": sum(minutes),
        "shortest": min(minutes),
        "longest": max(minutes),
        "stops": len(stops),
    }
    said = {name: row[name].format(**numbers) for name in ("heading", "about", "time")}
    return Door(key, row["words"], columns=(row["shown"], row["asked"]), stops=stops, **said)


def _stop(row: Mapping[str, Any]) -> Stop:
    ask = row.get("ask", "")
    if "page" not in row:
        return Stop(row["words"], "", row["minutes"], row["do"], ask)
    name = f"{row['page']}.ipynb"
    panel = row.get("panel", row.get("card"))
    words = row.get("words") or (card(row["card"]).title if "card" in row else _whole(name))
    place = f"present-{panel}" if panel else row.get("place")
    link = f"{name}#{place}" if place else name
    return Stop(words, link, row.get("minutes") or stated_minutes(name), row["do"], ask)


def _whole(name: str) -> str:
    """Name a page by its number and title."""
    return f"{name[:2]} {shipped_titles()[name]}"
