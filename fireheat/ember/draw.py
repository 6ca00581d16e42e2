"""How much of an ember's heat a catcher takes.

A catcher takes heat in four ways: at the first touch it must be warmed; what is thin and
conducts well carries heat off sideways; what is thin lets heat through to the ground; and what
is damp must be boiled dry. :func:`draw` puts watts and joules on all four at once, with a band
from the ranges of the table.

The ember is *held* at its glowing temperature. So the watts are what a catcher ASKS for to keep
the ember's underside glowing, not what a weak ember can give: where it asks for more than the
ember makes, the underside goes dark. A crust of dead dust under the glow (``Ember.crust``) is
what lets a well-fed heap live even on a greedy catcher.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from operator import truediv

import numpy as np

from ..bands import Band
from ..constants import constant, constant_band
from ..heat.layered import disc_draw
from ..quantities import Numbers
from .catchers import (
    AIR_GAP,
    HIGH,
    LIKELY_ENDS,
    LOW,
    PROPERTIES,
    Catcher,
    Ends,
    as_catcher,
    catcher,
    catchers,
    ground_row,
    wet_capacity,
)
from .ember import Ember


@dataclass(frozen=True)
class Draw:
    """Heat that a catcher asks of an ember that is to stay at its glowing temperature.

    Attributes
    ----------
    watts : Band of float
        Drawn at the end of the first minute, over the ranges of catcher, ground and film. [W]
    joules : Band of float
        Drawn in the first minute. [J]
    made : Band of float
        What the ember makes meanwhile, over the ranges of burning time and heat. [J]
    joules_lost : float
        What its open face loses meanwhile. [J]
    """

    watts: Band[float]
    joules: Band[float]
    made: Band[float]
    joules_lost: float

    @property
    def share_of_made(self) -> Band[float]:
        """The joules over what the ember makes meanwhile; above one it cannot be met. [1]."""
        return Band(*map(truediv, self.joules, reversed(self.made)))

    @property
    def share_of_face(self) -> float:
        """The joules over what the ember loses from its open face meanwhile. [1]."""
        return self.joules.likely / self.joules_lost

    def watts_then(self, watts: float) -> Band[float]:
        """Band of the watts at another moment, as far off as after a minute. [W]."""
        return self.watts.each(lambda end: watts * end / self.watts.likely)

    def joules_then(self, joules: float) -> Band[float]:
        """Band of the joules up to another moment, as far off as in a minute. [J]."""
        return self.joules.each(lambda end: joules * end / self.joules.likely)


def layers(
    one: Catcher, *, ground: str, ember: Ember, ends: Ends = LIKELY_ENDS, film: float | None = None
) -> dict[str, Numbers]:
    """Arguments of :func:`fireheat.heat.layered.disc_draw` for one catcher under an ember.

    Parameters
    ----------
    one : Catcher
        The catcher.
    ground : str
        What lies below.
    ember : Ember
        The ember.
    ends : Ends, optional
        At which ends of its ranges the catcher is taken; all likely if left out.
    film : float, optional
        Surface heat transfer coefficient, if not the ember's. [W/(m^2 K)]

    Returns
    -------
    dict of str to float
        All but the time and the radius. [SI]

    Raises
    ------
    InputError
        If the ground is unknown.

    References
    ----------
    .. [1] ``data/catchers.toml``, a source on every value.

    Examples
    --------
    >>> leather = layers(catcher("leather"), ground="air gap", ember=Ember())
    >>> leather["thickness"], leather["film"] == leather["film_below"]
    (0.002, True)
    """
    film = ember.film if film is None else film
    dry = one.spread("density")[ends.holding] * one.spread("heat_capacity")[ends.holding]
    below, below_capacity = ground_row(ground, ends.holding)
    dust = constant_band("dust_conductivity")[ends.leading]
    return {
        "thickness": one.spread("thickness")[ends.thickness],
        "conductivity": one.spread("conductivity")[ends.leading],
        "volumetric_heat_capacity": wet_capacity(
            dry, one.spread("water_content")[ends.holding], ember
        ),
        "film": film,
        "film_below": film if ground == AIR_GAP else 0.0,
        "ground_conductivity": below,
        "ground_volumetric_heat_capacity": below_capacity,
        "crust_resistance": ember.crust / (dust * ember.area),
    }


# Likely; then the least and the most, each with the thinnest and the thickest sheet, since
# thicker may be either.
_CORNERS = (LIKELY_ENDS, *(Ends(e, thickness, e) for e in (LOW, HIGH) for thickness in (LOW, HIGH)))


def _corners(rows, ground, ember):
    """Arguments of :func:`disc_draw`, catcher by corner."""
    low, _, high = constant_band("film")
    films = (min(low, ember.film), ember.film, max(high, ember.film))
    stacks = [
        [
            layers(one, ground=ground, ember=ember, ends=ends, film=films[ends.leading])
            for ends in _CORNERS
        ]
        for one in rows
    ]
    return {
        key: np.array([[stack[key] for stack in line] for line in stacks]) for key in stacks[0][0]
    }


def draws(
    rows: Mapping[str, Catcher] | None = None, *, ground: str = AIR_GAP, ember: Ember = Ember()
) -> dict[str, Draw]:
    """Heat drawn from an ember by many catchers at once.

    Parameters
    ----------
    rows : mapping of str to Catcher, optional
        The catchers; the whole table if not given.
    ground : str, optional
        What lies below, one of :func:`fireheat.ember.catchers.grounds`.
    ember : Ember, optional
        The ember.

    Returns
    -------
    dict of str to Draw
        In the order of the rows.

    Raises
    ------
    InputError
        If the ground is unknown.

    References
    ----------
    .. [1] :func:`fireheat.heat.layered.disc_draw`.

    Examples
    --------
    >>> table = draws(ground="wet soil")
    >>> table["aluminium_foil"].joules.likely > table["leather"].joules.likely
    True
    """
    rows = catchers() if rows is None else rows
    now, drawn, _ = disc_draw(
        constant("first_minute"),
        radius=ember.radius,
        **_corners(list(rows.values()), ground, ember),
    )
    return {
        key: _draw_of(ember.rise * watts, ember.rise * joules, ember)
        for key, watts, joules in zip(rows, now, drawn, strict=True)
    }


def _draw_of(watts, joules, ember):
    """Put numbers from all corners, the likely one first, beside what the ember makes and loses."""
    minute = constant("first_minute")
    return Draw(
        watts=_over_corners(watts),
        joules=_over_corners(joules),
        made=ember.joules_made(minute),
        joules_lost=minute * ember.face_loss,
    )


def _over_corners(values):
    """Least, likely and most of what all corners say, the likely one first."""
    return Band(*map(float, (values.min(), values[0], values.max())))


def draw(catcher: Catcher | str, *, ground: str = AIR_GAP, ember: Ember = Ember()) -> Draw:
    """Heat drawn from an ember by what it rests on.

    Parameters
    ----------
    catcher : Catcher or str
        The catcher, or its key in the table.
    ground : str, optional
        What lies below, one of :func:`fireheat.ember.catchers.grounds`: an air gap, dry or wet
        soil, stone, board.
    ember : Ember, optional
        The ember.

    Returns
    -------
    Draw
        Watts, joules, and shares of what the ember makes and loses, each with a band.

    Raises
    ------
    InputError
        If the catcher or the ground is unknown.

    Notes
    -----
    Errs high: the ember is held at its glowing temperature and touches everywhere. Real dust
    touches in grains, and goes dark below. Left out: catchers that char or smoulder themselves.

    References
    ----------
    .. [1] :func:`fireheat.heat.layered.disc_draw`.

    Examples
    --------
    >>> foil = draw("aluminium_foil")
    >>> print(f"{foil.watts.likely:.1f} W: {foil.share_of_made.likely:.0%} of what the ember makes")
    10.5 W: 321% of what the ember makes
    """
    return draws({"this": as_catcher(catcher)}, ground=ground, ember=ember)["this"]


def draw_history(
    catcher: Catcher | str, *, time: Numbers, ground: str = AIR_GAP, ember: Ember = Ember()
) -> tuple[Numbers, ...]:
    """Watts and joules drawn over time, with likely properties.

    Parameters
    ----------
    catcher : Catcher or str
        The catcher, or its key in the table.
    time : float or ndarray
        Time since the ember was set down; above zero. [s]
    ground : str, optional
        What lies below.
    ember : Ember, optional
        The ember.

    Returns
    -------
    tuple of float or ndarray
        Watts at those times [W], and joules up to them. [J]

    Raises
    ------
    InputError
        If a time is not above zero, or catcher or ground is unknown.

    References
    ----------
    .. [1] :func:`fireheat.heat.layered.disc_draw`.

    Examples
    --------
    The first second costs many times the watts of the last:

    >>> watts, joules = draw_history("stone", time=[1.0, 60.0])
    >>> print(f"{watts[0]:.0f} W, {watts[1]:.0f} W")
    85 W, 34 W
    """
    stack = layers(as_catcher(catcher), ground=ground, ember=ember)
    now, drawn, _ = disc_draw(time, radius=ember.radius, **stack)
    return ember.rise * now, ember.rise * drawn


def joules_by_thickness(
    catcher: Catcher | str, *, thickness: Numbers, ground: str = AIR_GAP, ember: Ember = Ember()
) -> Numbers:
    """Joules drawn in the first minute by sheets of other thickness.

    Parameters
    ----------
    catcher : Catcher or str
        The catcher, or its key in the table; only its thickness is changed.
    thickness : float or ndarray
        Thickness. [m]
    ground : str, optional
        What lies below.
    ember : Ember, optional
        The ember.

    Returns
    -------
    float or ndarray
        Heat drawn. [J]

    Raises
    ------
    InputError
        If a thickness is not positive.

    Notes
    -----
    Why thin metal still robs: it spreads heat over a disc as wide as 1/m = sqrt(k d/(2 h)), far
    wider than the ember, and that shrinks only with the square root of thickness. When it does
    not: as the thickness goes to nothing so does the spreading, and the ember feels what lies
    below, air or ground, as if the sheet were not there.

    References
    ----------
    .. [1] :func:`fireheat.heat.layered.disc_draw`.

    Examples
    --------
    >>> joules_by_thickness("aluminium_foil", thickness=[16e-6, 4e-6, 1e-9]).round()
    array([636., 260.,  30.])
    """
    stack = layers(as_catcher(catcher), ground=ground, ember=ember) | {"thickness": thickness}
    _, joules, _ = disc_draw(constant("first_minute"), radius=ember.radius, **stack)
    return ember.rise * joules


@dataclass(frozen=True)
class CatcherSheet:
    """A catcher made into a sheet of some thickness, beside no sheet at all.

    Attributes
    ----------
    key : str
        The catcher.
    thickness : float
        Its thickness. [m]
    ground : str
        What lies below.
    ember : Ember
        The ember.
    draw : Draw
        What it asks.
    bare : Band of float
        What the ember would ask in the first minute with no sheet at all. [J]
    added : Band of float
        How much the sheet adds, over the same ground and air; negative if it saves some. [J]
    boiled : Draw or None
        What bare ground asks that boils dry; none if it is dry.
    """

    key: str
    thickness: float
    ground: str
    ember: Ember
    draw: Draw
    bare: Band[float]
    added: Band[float]
    boiled: Draw | None


# Thin enough not to be there, of what conducts poorly: the thickness by itself, and as the
# thinnest that a catcher can have, whose band stands for that of no sheet.
_NO_SHEET, _NOTHING, _NEXT_TO_NOTHING = "leather", 1e-9, 1e-6


def catcher_sheet(
    key: str, *, thickness: float, ground: str = AIR_GAP, ember: Ember = Ember()
) -> CatcherSheet:
    """Heat drawn by a sheet of some thickness, and how much of that is the sheet's own doing.

    Parameters
    ----------
    key : str
        A key of :func:`fireheat.ember.catchers.catchers`; only its thickness is changed, and taken
        as exact.
    thickness : float
        Thickness. [m]
    ground : str, optional
        What lies below.
    ember : Ember, optional
        The ember.

    Returns
    -------
    CatcherSheet
        What it draws, what is drawn without it, and the difference, each with a band.

    Raises
    ------
    InputError
        If catcher or ground is unknown, or no catcher is as thick as that.

    Notes
    -----
    The band of the difference holds the ground and the air fast while the sheet comes and goes:
    it runs over the least and the most greedy sheet, each at both ends of what lies around. The
    band without a sheet is that of 1 um of leather: up to 8 % high over an air gap, 2 % low on
    soil or stone.

    References
    ----------
    .. [1] :func:`fireheat.heat.layered.disc_draw`.

    Examples
    --------
    Thin foil robs on dry soil; thick leather saves on wet:

    >>> catcher_sheet("aluminium_foil", thickness=16e-6, ground="dry soil").added.likely > 0
    True
    >>> catcher_sheet("leather", thickness=0.003, ground="wet soil").added.likely < 0
    True
    """
    thin = replace(catcher(_NO_SHEET), thickness=_NEXT_TO_NOTHING, ranges={})
    drawn = draws(
        {**_this_thick(catcher(key), thickness), "none": thin}, ground=ground, ember=ember
    )
    bare, made = drawn["none"].joules, drawn["sheet"]
    likely = float(joules_by_thickness(_NO_SHEET, thickness=_NOTHING, ground=ground, ember=ember))
    own = made.joules.likely - likely
    # With the likely one: where a sheet does next to nothing, those of 1 um may lie beside it.
    added = [own] + [
        with_it - without
        for end in ("least", "most")
        for with_it, without in zip(drawn[end].joules.ends, bare.ends, strict=True)
    ]
    return CatcherSheet(
        key=key,
        thickness=thickness,
        ground=ground,
        ember=ember,
        draw=made,
        bare=Band(bare.low, likely, bare.high),
        added=Band(min(added), own, max(added)),
        boiled=draw("wet_soil", ground=ground, ember=ember) if ground == "wet soil" else None,
    )


def _this_thick(one, thickness):
    """Make a sheet this thick; and the least and the most greedy, known but for the ground."""
    ranges = {name: ends for name, ends in one.ranges.items() if name != "thickness"}
    made = replace(one, thickness=thickness, ranges=ranges)
    least, most = (
        replace(made, ranges={}, **{name: made.spread(name)[end] for name in PROPERTIES})
        for end in (LOW, HIGH)
    )
    return {"sheet": made, "least": least, "most": most}
