"""All woods of the table side by side, for one kit, effort and day."""

from dataclasses import dataclass

import numpy as np

from .constants import constant
from .kit import Air, Effort, Kit
from .milestones import times
from .wood import Wood, wood, woods


@dataclass(frozen=True)
class Woodpile:
    """The woods in order, soonest ember first, and the chosen one.

    Attributes
    ----------
    woods : tuple of Wood
        The woods; the lighter, the sooner.
    bounds : ndarray, shape (n,)
        Energy bound of each wood. [s]
    embers : ndarray, shape (3, n)
        Low end, likely value and high end of each wood's ember. [s]
    chosen : int
        Place of the kit's wood.
    boards : ndarray, shape (2,)
        Likely time to the ember with a light and with a heavy board of the chosen wood. [s]
    """

    woods: tuple[Wood, ...]
    bounds: np.ndarray
    embers: np.ndarray
    chosen: int
    boards: np.ndarray

    @property
    def bound(self) -> float:
        """Energy bound of the chosen wood, in s."""
        return float(self.bounds[self.chosen])

    @property
    def ember(self) -> np.ndarray:
        """Low end, likely value and high end of the chosen wood's ember, in s."""
        return self.embers[:, self.chosen]


def woodpile(kit: Kit, effort: Effort, air: Air) -> Woodpile:
    """Time every wood of the table on the same kit, effort and day.

    Parameters
    ----------
    kit : Kit
        The kit; its wood is the chosen one.
    effort : Effort
        The effort.
    air : Air
        The air.

    Returns
    -------
    Woodpile
        All woods, and how far boards of the chosen one differ.

    Notes
    -----
    Woods differ here by specific gravity alone, so two of the same specific gravity tie. Friction,
    charring and how a wood grinds to dust differ too, and are taken as the same. One board differs
    from the next: light and heavy are one standard deviation, about a tenth, from the average.

    References
    ----------
    .. [1] USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190, 2010, table 5-3; its text
       on how far specific gravity varies. (from memory)

    Examples
    --------
    >>> pile = woodpile(Kit(wood="northern_red_oak"), Effort(), Air())
    >>> pile.woods[0].name, pile.woods[pile.chosen].name
    ('northern white-cedar', 'northern red oak')
    """
    ordered = tuple(sorted(woods().values(), key=lambda row: row.specific_gravity))
    chosen, scatter = wood(kit.wood), constant("board_scatter")
    boards = chosen.specific_gravity * np.array([1 - scatter, 1 + scatter])
    gravities = np.append([row.specific_gravity for row in ordered], boards)
    found, count = times(kit, effort, air, specific_gravity=gravities), len(ordered)
    return Woodpile(
        woods=ordered,
        bounds=np.asarray(found.bound)[:count],
        embers=found.ember[:, :count],
        chosen=ordered.index(chosen),
        boards=found.ember[1, count:],
    )
