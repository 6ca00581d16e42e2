"""What a piece of wood weighs: how heavy it is beside water, what weighs alike, what that does."""

from dataclasses import dataclass
from functools import cache

from ..bands import Band
from ..estimates import times
from ..kit.kit import Try
from ..kit.wood import Wood, my_wood
from ..person.measuring import NINE_OF_TEN, Measured, weighed_gravity
from ..quantities import Numbers, default, quantity
from ..spread import compare
from ..unknowns import unknown
from .woods import woods_of

_ALIKE = 3  # so many woods are named


@dataclass(frozen=True)
class Weighing:
    """A piece that was weighed and measured.

    Attributes
    ----------
    reading : Measured
        Specific gravity of its wood, dry. [1]
    afloat : float
        Part of it that lies under water where it floats; above one it sinks. [1]
    verdict : str
        ``"wood"``, or why it is none: ``"light"`` or ``"heavy"``.
    alike : tuple of Wood
        Woods of the table that weigh as much, as far as the reading tells; the nearest first.
    ratio : Band of float or None
        Time of its ember over that of the ordinary kit's wood, all else alike; None where it is
        no wood. [1]
    """

    reading: Measured
    afloat: float
    verdict: str
    alike: tuple[Wood, ...]
    ratio: Band[float] | None


def weigh(
    piece_mass: float,
    *,
    piece_length: float,
    piece_width: float,
    piece_thickness: float | None = None,
    moisture: float,
    scale_limit: float = default("scale_limit"),
    ruler_limit: float = default("ruler_limit"),
) -> Weighing:
    """Tell how heavy the wood of a piece is, and what that does to an ember.

    Parameters
    ----------
    piece_mass : float
        What a kitchen scale shows. [kg]
    piece_length, piece_width : float
        Along it; and across it, the diameter of a stick. [m]
    piece_thickness : float, optional
        The third side of a block; a round stick if left out. [m]
    moisture : float
        Mass of water over oven-dry mass; as well known as a guess from the weather. [1]
    scale_limit : float, optional
        How far the scale may be off, either way. [kg]
    ruler_limit : float, optional
        How far each length may be off, either way. [m]

    Returns
    -------
    Weighing
        What comes of it.

    Raises
    ------
    InputError
        If a value is out of its range.

    References
    ----------
    .. [1] :func:`fireheat.person.measuring.weighed_gravity`; Archimedes, On Floating Bodies.

    Examples
    --------
    >>> found = weigh(0.0155, piece_length=0.2, piece_width=0.016, moisture=0.09)
    >>> round(found.reading.value, 2), round(found.afloat, 2), [row.name for row in found.alike]
    (0.35, 0.39, ['white willow', 'eastern white pine', 'Norway spruce'])
    """
    reading = weighed_gravity(
        piece_mass,
        piece_length=piece_length,
        piece_width=piece_width,
        piece_thickness=piece_thickness,
        moisture=moisture,
        scale_limit=scale_limit,
        ruler_limit=ruler_limit,
        moisture_error=unknown("moisture").band.high / NINE_OF_TEN,
    )
    verdict, ratio = _verdict(reading.value), None
    if verdict == "wood":
        mine = Try().changed(wood=my_wood(reading.value))
        ratio = compare(Try(), mine, draws=128, found=(_ordinary(), times(mine)))
    return Weighing(
        reading=reading,
        afloat=reading.value * (1 + moisture),
        verdict=verdict,
        alike=_alike(reading),
        ratio=ratio,
    )


@cache
def _ordinary():
    return times(Try())


def _verdict(gravity: Numbers) -> str:
    row = quantity("specific_gravity")
    return "light" if gravity < row.low else "heavy" if gravity > row.high else "wood"


def _alike(reading):
    """List the woods within the reading's uncertainty, the nearest first."""

    def away(row):
        return abs(row.specific_gravity - reading.value)

    near = sorted(woods_of(), key=away)[:_ALIKE]
    return tuple(row for row in near if away(row) <= reading.error)
