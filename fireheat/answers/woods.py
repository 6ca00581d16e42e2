"""Woods side by side, those of one region or all, for one kit, effort and day."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ..bands import Band
from ..constants import constant
from ..estimates import Times, times
from ..kit.kit import Try
from ..kit.wood import REGIONS, Wood, wood, woods
from ..person.measuring import NINE_OF_TEN
from ..quantities import choose
from ..spread import Spread, ratios, spread


@dataclass(frozen=True)
class Woodpile:
    """The woods in order, soonest ember first, and the chosen one.

    Attributes
    ----------
    state : Try
        The try; its kit's wood is the chosen one.
    woods : tuple of Wood
        The woods; the lighter, the sooner.
    bounds : ndarray, shape (n,)
        Floor of each wood. [s]
    embers : Band of ndarray, shape (n,)
        Estimate of each wood's ember. [s]
    chosen : int
        Place of the kit's wood.
    boards : Band of float
        Likely time to the ember with a light, an average and a heavy board of the chosen wood; if
        it was weighed, with wood as light and as heavy as it may be. [s]
    ratios : Band of ndarray, shape (n,)
        Time of each wood's ember over that of the chosen one, all else alike. [1]
    spread : Spread
        Both bands of the chosen wood.
    """

    state: Try
    woods: tuple[Wood, ...]
    bounds: np.ndarray
    embers: Band
    chosen: int
    boards: Band[float]
    ratios: Band
    spread: Spread

    @property
    def wood(self) -> Wood:
        """The chosen wood."""
        return self.woods[self.chosen]

    @property
    def bound(self) -> float:
        """Floor of the chosen wood, in s."""
        return float(self.bounds[self.chosen])

    @property
    def ember(self) -> Band[float]:
        """Estimate of the chosen wood's ember. [s]."""
        return self.embers.at(self.chosen)


def woods_of(region: str = "") -> tuple[Wood, ...]:
    """List the woods that grow in a region, light ones first.

    Parameters
    ----------
    region : str, optional
        A key of :data:`fireheat.kit.wood.REGIONS`; all woods if left out.

    Returns
    -------
    tuple of Wood
        The woods.

    Raises
    ------
    InputError
        If there is no such region.

    Examples
    --------
    >>> [row.name for row in woods_of("africa")]
    ['obeche (ayous)', 'eastern cottonwood', 'radiata pine']
    """
    choose("region", region, ("", *REGIONS))
    return _by_weight(row for row in woods().values() if not region or region in row.regions)


def _by_weight(some):
    return tuple(sorted(some, key=lambda row: (row.specific_gravity, row.name)))


def woodpile(
    state: Try, *, region: str = "", measured: Mapping[str, float | None] = {}
) -> Woodpile:
    """Time the woods of a region in the same try, and the chosen one among them.

    Parameters
    ----------
    state : Try
        The try; its kit's wood is the chosen one, wherever it grows.
    region : str, optional
        A key of :data:`fireheat.kit.wood.REGIONS`; all woods if left out.
    measured : mapping, optional
        How well what is set was measured, as :func:`fireheat.spread.spread` takes it.

    Returns
    -------
    Woodpile
        The woods, and how far boards of the chosen one differ.

    Raises
    ------
    InputError
        If there is no such region.

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
    >>> from fireheat import Kit
    >>> pile = woodpile(Try(Kit(wood="northern_red_oak")), region="north_america")
    >>> pile.woods[0].name, pile.wood.name
    ('northern white-cedar', 'northern red oak')
    """
    chosen, scatter = wood(state.kit.wood), constant("board_scatter")
    if weighed := measured.get("density"):
        scatter = weighed / NINE_OF_TEN
    ordered = _by_weight({*woods_of(region), chosen})
    boards = chosen.specific_gravity * np.array([1 - scatter, 1, 1 + scatter])
    gravities = np.append([row.specific_gravity for row in ordered], boards)
    found, count = times(state, specific_gravity=gravities), len(ordered)
    place = ordered.index(chosen)
    return Woodpile(
        state=state,
        woods=ordered,
        bounds=np.asarray(found.bound)[:count],
        embers=found.ember.each(lambda times: times[:count]),
        chosen=place,
        boards=Band(*found.ember.likely[count:].tolist()),
        ratios=ratios(
            state,
            swept={"specific_gravity": gravities[:count]},
            against=place,
            draws=96,
            found=_first(found, count),
        ),
        spread=spread(state, draws=128, found=found.at(place), measured=measured),
    )


def _first(found, count):
    """Take the first of many tries."""
    return Times(
        found.power,
        found.flux,
        found.bound[:count],
        *(band.each(lambda times: times[:count]) for band in (found.smoke, found.ember)),
    )
