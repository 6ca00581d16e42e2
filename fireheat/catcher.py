"""What an ember falls on, and how much of its heat that takes.

A catcher takes heat in four ways: at the first touch it must be warmed; what is thin and
conducts well carries heat off sideways; what is thin lets heat through to the ground; and what
is damp must be boiled dry. :func:`draw` puts watts and joules on all four at once, with a band
from the ranges of the table ``data/catchers.toml``; :func:`solve_catcher` does the same with the
finite-volume solver and returns the whole field for a picture.

The ember is *held* at its glowing temperature. So the watts are what a catcher ASKS for to keep
the ember's underside glowing, not what a weak ember can give: where it asks for more than the
ember makes, the underside goes dark. A crust of dead dust under the glow (``Ember.crust``) is
what lets a well-fed heap live even on a greedy catcher.

Water is counted as heat capacity: what it takes to warm and boil it, shared out evenly over the
rise to glowing. For thick damp bodies :func:`boiling_front` has the exact answer, and the tests
say how far off sharing out is.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cache, cached_property, lru_cache

import numpy as np
from scipy import optimize, special

from .conduction import contact_temperature
from .constants import constant
from .data import table
from .ember import Ember, critical_parameter, ember_range, ember_value
from .heatmap import Block, Grid, Material, Source, solve
from .layered import disc_draw, radial_fin_conductance, through_conductance
from .quantities import InputError, check, check_ordinary

__all__ = [
    "Catcher",
    "Draw",
    "Ember",
    "Scorch",
    "Sheet",
    "boiling_front",
    "catcher",
    "catchers",
    "critical_parameter",
    "draw",
    "draw_history",
    "draws",
    "grounds",
    "joules_by_thickness",
    "radial_fin_conductance",
    "scorch_time",
    "sheet",
    "solve_catcher",
    "through_conductance",
    "touch_temperature",
]

AIR_GAP = "air gap"
PROPERTIES = ("conductivity", "density", "heat_capacity", "thickness", "water_content")
LOW, LIKELY, HIGH = range(3)
EMBER, GRID = Ember(), Grid()


# ---- the table ----------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class Catcher:
    """Something an ember may fall on.

    Attributes
    ----------
    name : str
        What a reader calls it.
    conductivity : float
        Thermal conductivity, while hot on the ember's side. [W/(m K)]
    density : float
        Dry mass over volume. [kg/m^3]
    heat_capacity : float
        Heat capacity of the dry part. [J/(kg K)]
    thickness : float
        Thickness. [m]
    water_content : float
        Water in a volume. [kg/m^3]
    temperature_scorch : float or None
        Where its far face browns and weakens; none for metal, earth and stone. [K]
    ranges : mapping of str to (low, high)
        How far each property may be off, for the bands; none is taken as exact.

    Raises
    ------
    InputError
        If a property cannot be, or lies outside its own range.

    Examples
    --------
    >>> slate = Catcher(name="roof slate", conductivity=2.2, density=2400.0,
    ...                 heat_capacity=1000.0, thickness=0.005,
    ...                 ranges={"thickness": (0.004, 0.008)})
    >>> print(f"{draw(slate).watts_now:.0f} W")
    24 W
    """

    name: str
    conductivity: float
    density: float
    heat_capacity: float
    thickness: float
    water_content: float = 0.0
    temperature_scorch: float | None = None
    ranges: Mapping[str, tuple[float, float]] = field(default_factory=dict)

    def __post_init__(self):
        for key in PROPERTIES:
            check_ordinary(**{_row(key): getattr(self, key)})
        if self.temperature_scorch is not None:
            check_ordinary(temperature_scorch=self.temperature_scorch)
        for key, (low, high) in self.ranges.items():
            self._check_range(key, low, high)

    def _check_range(self, key, low, high):
        value = getattr(self, key) if key in (*PROPERTIES, "temperature_scorch") else None
        if value is None:
            raise InputError(f"{self.name} has no {key} to give a range for")
        check(**{key: [low, high]})
        if not low <= value <= high:
            raise InputError(
                f"{self.name}: {key} is {value:g}, outside its own range {low:g} to {high:g}"
            )

    def spread(self, key: str) -> tuple[float, float, float]:
        """Low, likely and high of one property."""
        value = getattr(self, key)
        low, high = self.ranges.get(key, (value, value))
        return low, value, high


def _row(key):
    """Key of the property in the table of quantities that holds its ordinary range."""
    return f"catcher_{key}" if key != "water_content" else key


@cache
def catchers() -> Mapping[str, Catcher]:
    """Return the table of catchers, by key."""
    return {key: _catcher(dict(row)) for key, row in table("catchers")["catchers"].items()}


def _catcher(row):
    name = row.pop("name")
    values = {key: entry["value"] for key, entry in row.items()}
    ranges = {key: (entry["low"], entry["high"]) for key, entry in row.items()}
    return Catcher(name=name, ranges=ranges, **values)


def catcher(key: str) -> Catcher:
    """Look up one catcher by its key.

    Parameters
    ----------
    key : str
        A key of :func:`catchers`.

    Returns
    -------
    Catcher
        The row of the table.

    Raises
    ------
    InputError
        If the table has no such catcher; the message lists those it has.

    References
    ----------
    .. [1] ``data/catchers.toml``, a source on every value.

    Examples
    --------
    >>> catcher("leather").thickness
    0.002
    """
    try:
        return catchers()[key]
    except (KeyError, TypeError):
        raise InputError(f"catcher is {key!r}; allowed: {', '.join(catchers())}") from None


def grounds() -> tuple[str, ...]:
    """Name what may lie under a sheet: an air gap first."""
    return AIR_GAP, *table("catchers")["grounds"]


def _ground(name, tier):
    """Conductivity and heat capacity of the ground; none for the air gap."""
    if name == AIR_GAP:
        return 0.0, 0.0
    try:
        row = table("catchers")["grounds"][name]
    except (KeyError, TypeError):
        raise InputError(f"ground is {name!r}; allowed: {', '.join(grounds())}") from None
    end = ("low", "value", "high")[tier]
    return row["conductivity"][end], row["volumetric_heat_capacity"][end]


# ---- heat drawn ---------------------------------------------------------------------------------


@dataclass(frozen=True)
class Draw:
    """Heat that a catcher asks of an ember that is to stay at its glowing temperature.

    Attributes
    ----------
    watts_now : float
        Drawn at the end of the first minute. [W]
    joules_first_minute : float
        Drawn in the first minute. [J]
    watts_band, joules_band : tuple of float
        Low and high, from the ranges of the catcher, the ground and the film. [W], [J]
    joules_made, joules_lost : float
        What the ember makes meanwhile, and what its open face loses. [J]
    joules_made_band : tuple of float
        Low and high of what it makes, from the ranges of burning time and heat. [J]
    """

    watts_now: float
    joules_first_minute: float
    watts_band: tuple[float, float]
    joules_band: tuple[float, float]
    joules_made: float
    joules_lost: float
    joules_made_band: tuple[float, float]

    @property
    def share_of_made(self) -> float:
        """The joules over what the ember makes meanwhile; above one it cannot be met. [1]."""
        return self.joules_first_minute / self.joules_made

    @property
    def share_of_made_band(self) -> tuple[float, float]:
        """Low and high, over the ranges of both. [1]."""
        (low, high), (poor, rich) = self.joules_band, self.joules_made_band
        return low / rich, high / poor

    @property
    def share_of_face(self) -> float:
        """The joules over what the ember loses from its open face meanwhile. [1]."""
        return self.joules_first_minute / self.joules_lost

    def watts_range(self, watts: float) -> tuple[float, float]:
        """Least and most of the watts at another moment, as far off as after a minute. [W]."""
        low, high = self.watts_band
        return watts * low / self.watts_now, watts * high / self.watts_now

    def joules_range(self, joules: float) -> tuple[float, float]:
        """Least and most of the joules up to another moment, as far off as in a minute. [J]."""
        (low, high), likely = self.joules_band, self.joules_first_minute
        return joules * low / likely, joules * high / likely


def _wet_capacity(capacity, water, ember):
    """Heat capacity of a volume, with warming and boiling its water shared over the rise."""
    warming = constant("water_heat_capacity") * (
        constant("water_boiling_point") - ember.temperature_ambient
    )
    return capacity + water * (warming + constant("water_latent_heat")) / ember.rise


def _stack(one, ground, ember, tier, film, thickness, holding=None):
    """Arguments of :func:`disc_draw` for one catcher at one end of its ranges.

    What holds heat or leads it away below may stand at an end of its own: it draws more from the
    ember, but keeps the far face cool for longer.
    """
    holding = tier if holding is None else holding
    dry = one.spread("density")[holding] * one.spread("heat_capacity")[holding]
    below, below_capacity = _ground(ground, holding)
    return {
        "thickness": one.spread("thickness")[thickness],
        "conductivity": one.spread("conductivity")[tier],
        "volumetric_heat_capacity": _wet_capacity(dry, one.spread("water_content")[holding], ember),
        "film": film,
        "film_below": film if ground == AIR_GAP else 0.0,
        "ground_conductivity": below,
        "ground_heat_capacity": below_capacity,
        "crust_resistance": ember.crust / (ember_range("dust_conductivity")[tier] * ember.area),
    }


# Likely; then the least and the most, each with the thinnest and the thickest sheet, since
# thicker may be either.
_CORNERS = ((LIKELY, LIKELY), (LOW, LOW), (LOW, HIGH), (HIGH, LOW), (HIGH, HIGH))


def _corners(rows, ground, ember):
    """Arguments of :func:`disc_draw`, catcher by corner."""
    low, _, high = ember_range("film")
    films = (min(low, ember.film), ember.film, max(high, ember.film))
    stacks = [
        [_stack(one, ground, ember, tier, films[tier], thick) for tier, thick in _CORNERS]
        for one in rows
    ]
    return {
        key: np.array([[stack[key] for stack in line] for line in stacks]) for key in stacks[0][0]
    }


def draws(rows=None, ground=AIR_GAP, ember=EMBER):
    """Heat drawn from an ember by many catchers at once.

    Parameters
    ----------
    rows : mapping of str to Catcher, optional
        The catchers; the whole table if not given.
    ground : str, optional
        What lies below, one of :func:`grounds`.
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
    .. [1] :func:`fireheat.layered.disc_draw`.

    Examples
    --------
    >>> table = draws(ground="wet soil")
    >>> table["aluminium_foil"].joules_first_minute > table["leather"].joules_first_minute
    True
    """
    rows = catchers() if rows is None else rows
    now, drawn, _ = disc_draw(
        ember_value("first_minute"),
        radius=ember.radius,
        **_corners(list(rows.values()), ground, ember),
    )
    return {
        key: _draw(ember.rise * watts, ember.rise * joules, ember)
        for key, watts, joules in zip(rows, now, drawn, strict=True)
    }


def _draw(watts, joules, ember):
    """Put numbers from all corners, the likely one first, beside what the ember makes and loses."""
    minute = ember_value("first_minute")
    poor, made, rich = ember.joules_made(minute)
    return Draw(
        watts_now=float(watts[0]),
        joules_first_minute=float(joules[0]),
        watts_band=(float(watts.min()), float(watts.max())),
        joules_band=(float(joules.min()), float(joules.max())),
        joules_made=made,
        joules_lost=minute * ember.face_loss,
        joules_made_band=(poor, rich),
    )


def draw(catcher, ground=AIR_GAP, ember=EMBER):
    """Heat drawn from an ember by what it rests on.

    Parameters
    ----------
    catcher : Catcher or str
        The catcher, or its key in the table.
    ground : str, optional
        What lies below, one of :func:`grounds`: an air gap, dry or wet soil, stone, board.
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
    .. [1] :func:`fireheat.layered.disc_draw`.

    Examples
    --------
    >>> foil = draw("aluminium_foil")
    >>> print(f"{foil.watts_now:.1f} W: {foil.share_of_made:.0%} of what the ember makes")
    10.5 W: 340% of what the ember makes
    """
    return draws({"this": _find(catcher)}, ground, ember)["this"]


def _find(one):
    return one if isinstance(one, Catcher) else catcher(one)


def draw_history(catcher, time, ground=AIR_GAP, ember=EMBER):
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
    .. [1] :func:`fireheat.layered.disc_draw`.

    Examples
    --------
    The first second costs many times the watts of the last:

    >>> watts, joules = draw_history("stone", [1.0, 60.0])
    >>> print(f"{watts[0]:.0f} W, {watts[1]:.0f} W")
    85 W, 34 W
    """
    now, drawn, _ = _likely(_find(catcher), time, ground, ember)
    return ember.rise * now, ember.rise * drawn


def _likely(one, time, ground, ember, tier=LIKELY, thickness=LIKELY, holding=LIKELY):
    stack = _stack(one, ground, ember, tier, ember.film, thickness, holding)
    return disc_draw(time, radius=ember.radius, **stack)


def joules_by_thickness(catcher, thickness, ground=AIR_GAP, ember=EMBER):
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
    .. [1] :func:`fireheat.layered.disc_draw`.

    Examples
    --------
    >>> joules_by_thickness("aluminium_foil", [16e-6, 4e-6, 1e-9]).round()
    array([636., 260.,  30.])
    """
    stack = _stack(_find(catcher), ground, ember, LIKELY, ember.film, LIKELY)
    stack["thickness"] = thickness
    _, joules, _ = disc_draw(ember_value("first_minute"), radius=ember.radius, **stack)
    return ember.rise * joules


@dataclass(frozen=True)
class Sheet:
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
    bare : float
        What the ember would ask in the first minute with no sheet at all. [J]
    bare_band : tuple of float
        Least and most of that. [J]
    added_band : tuple of float
        How much the sheet adds: least and most, over the same ground and air. [J]
    boiled : Draw or None
        What bare ground asks that boils dry; none if it is dry.
    """

    key: str
    thickness: float
    ground: str
    ember: Ember
    draw: Draw
    bare: float
    bare_band: tuple[float, float]
    added_band: tuple[float, float]
    boiled: Draw | None

    @property
    def added(self) -> float:
        """What the sheet adds to the heat asked; negative if it saves some. [J]."""
        return self.draw.joules_first_minute - self.bare


# Thin enough not to be there, of what conducts poorly: the thickness by itself, and as the
# thinnest that a catcher can have, whose band stands for that of no sheet.
_NO_SHEET, _NOTHING, _NEXT_TO_NOTHING = "leather", 1e-9, 1e-6


def sheet(key, thickness, ground=AIR_GAP, ember=EMBER):
    """Heat drawn by a sheet of some thickness, and how much of that is the sheet's own doing.

    Parameters
    ----------
    key : str
        A key of :func:`catchers`; only its thickness is changed, and taken as exact.
    thickness : float
        Thickness. [m]
    ground : str, optional
        What lies below.
    ember : Ember, optional
        The ember.

    Returns
    -------
    Sheet
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
    .. [1] :func:`fireheat.layered.disc_draw`.

    Examples
    --------
    Thin foil robs on dry soil; thick leather saves on wet:

    >>> sheet("aluminium_foil", 16e-6, "dry soil").added > 0
    True
    >>> sheet("leather", 0.003, "wet soil").added < 0
    True
    """
    thin = replace(catcher(_NO_SHEET), thickness=_NEXT_TO_NOTHING, ranges={})
    drawn = draws({**_this_thick(catcher(key), thickness), "none": thin}, ground, ember)
    bare_band = drawn["none"].joules_band
    added = [
        with_it - without
        for end in ("least", "most")
        for with_it, without in zip(drawn[end].joules_band, bare_band, strict=True)
    ]
    return Sheet(
        key=key,
        thickness=thickness,
        ground=ground,
        ember=ember,
        draw=drawn["sheet"],
        bare=float(joules_by_thickness(_NO_SHEET, _NOTHING, ground, ember)),
        bare_band=bare_band,
        added_band=(min(added), max(added)),
        boiled=draw("wet_soil", ground, ember) if ground == "wet soil" else None,
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


def touch_temperature(catcher, ember=EMBER):
    """Temperature that the ember's underside takes at the first touch.

    Parameters
    ----------
    catcher : Catcher or str
        The catcher, or its key in the table.
    ember : Ember, optional
        The ember; its dust as loose and dry as the table says.

    Returns
    -------
    float
        Absolute temperature of the touching faces. [K]

    Raises
    ------
    InputError
        If the catcher is unknown.

    Notes
    -----
    Dust is so poor a conductor that its face cools on anything at all; the glow lives above, where
    air reaches it. This holds for a moment, before sheets are warmed through.

    References
    ----------
    .. [1] :func:`fireheat.conduction.contact_temperature`.

    Examples
    --------
    >>> from scipy.constants import convert_temperature
    >>> for key in ("aluminium_foil", "leather", "thick_bark"):
    ...     print(f"{convert_temperature(touch_temperature(key), 'Kelvin', 'Celsius'):.0f} °C")
    24 °C
    178 °C
    254 °C
    """
    one = _find(catcher)
    dust = ember_value("bulk_density") * ember_value("dust_heat_capacity")
    wet = _wet_capacity(one.density * one.heat_capacity, one.water_content, ember)
    return contact_temperature(
        np.sqrt(ember_value("dust_conductivity") * dust),
        ember.temperature,
        np.sqrt(one.conductivity * wet),
        ember.temperature_ambient,
    )


# ---- the whole field ----------------------------------------------------------------------------


def solve_catcher(catcher, time, ground=AIR_GAP, ember=EMBER, *, sheet_radius=0.06, grid=GRID):
    """Solve the heat under an ember by finite volumes, for the picture and as a check.

    Parameters
    ----------
    catcher : Catcher or str
        The catcher, or its key in the table.
    time : float or ndarray
        When to look, in rising order. [s]
    ground : str, optional
        What lies below.
    ember : Ember, optional
        The ember, held at its temperature.
    sheet_radius : float, optional
        Radius of sheet and ground, which end there. [m]
    grid : Grid, optional
        How finely to divide.

    Returns
    -------
    HeatRun
        With blocks "ground" (unless air), "catcher" and, with a crust, "dead dust". Watts drawn
        are ``power_in``, joules ``power * time - dust``.

    Raises
    ------
    InputError
        If a name is unknown, or the sheet smaller than the ember.

    Notes
    -----
    With a crust its dust is warmed too, which :func:`draw` leaves out.

    References
    ----------
    .. [1] :func:`fireheat.heatmap.solve`.

    Examples
    --------
    >>> run = solve_catcher("leather", 60.0)
    >>> print(f"{run.power_in[0]:.1f} W, by the quick way {draw('leather').watts_now:.1f} W")
    1.9 W, by the quick way 1.9 W
    """
    stack = _blocks(_find(catcher), ground, ember, sheet_radius)
    return solve(stack, _held(ember, stack), time, grid=grid)


def _held(ember, stack):
    """Hold the top of the stack at the ember's temperature."""
    power = ember_value("drawing_power")
    return Source(ember.radius, power, len(stack) - 1, ember.rise, "pointwise")


def _blocks(one, ground, ember, radius, tier=LIKELY, thickness=LIKELY, holding=LIKELY):
    """Bodies from the ground up."""
    sheet = _stack(one, ground, ember, tier, ember.film, thickness, holding)
    material = _even(sheet["conductivity"], sheet["volumetric_heat_capacity"])
    blocks = [Block("catcher", material, radius, sheet["thickness"], ember.film)]
    if ground != AIR_GAP:
        material = _even(sheet["ground_conductivity"], sheet["ground_heat_capacity"])
        blocks.insert(0, Block("ground", material, radius, radius))
    if ember.crust:
        capacity = np.prod(
            [ember_range(k)[holding] for k in ("bulk_density", "dust_heat_capacity")]
        )
        material = _even(ember_range("dust_conductivity")[tier], float(capacity))
        blocks.append(Block("dead dust", material, ember.radius, ember.crust, ember.film))
    return tuple(blocks)


def _even(conductivity, capacity):
    """Make a material that conducts alike across and along."""
    return Material(conductivity, conductivity, capacity)


# ---- moving the ember in time -------------------------------------------------------------------

_SCORCH_TIMES = np.geomspace(0.01, 3600.0, 60)
# Sheet and ground end this many radii of the ember out. The grid is coarse, since panels wait for
# it, but of those as quick the one that errs early throughout; how much, scorch_time says.
_WIDE = 12.0
_SCORCH_GRID = Grid(finest=0.02, finest_radial=0.1, growth=0.4, steps=1)


@dataclass(frozen=True)
class Scorch:
    """How long a catcher can carry an ember; each time is found when it is asked for.

    Attributes
    ----------
    catcher : Catcher
        The catcher.
    ground : str
        What lies below.
    ember : Ember
        The ember.
    """

    catcher: Catcher
    ground: str
    ember: Ember

    @cached_property
    def least(self) -> float:
        """Thin, conducting, light and dry, on ground that takes little, scorching early. [s]."""
        return self._time(HIGH, LOW, self.ember.crust)

    @cached_property
    def likely(self) -> float:
        """All of it likely, with half the dust of the table unless the ember has some. [s]."""
        return self._time(LIKELY, LIKELY, self.ember.crust or self._deep_crust / 2)

    @cached_property
    def most(self) -> float:
        """All the other ends, on all the dust. [s]."""
        return self._time(LOW, HIGH, self._deep_crust)

    @property
    def _deep_crust(self):
        return max(self.ember.crust, ember_range("crust")[2])

    def _time(self, tier, holding, crust):
        if self.catcher.temperature_scorch is None:
            return np.inf
        return _scorch(self.catcher, self.ground, replace(self.ember, crust=crust), tier, holding)


def scorch_time(catcher, ground=AIR_GAP, ember=EMBER):
    """How long a catcher can carry an ember before its far face scorches.

    Parameters
    ----------
    catcher : Catcher or str
        The catcher, or its key in the table.
    ground : str, optional
        What lies below.
    ember : Ember, optional
        The ember.

    Returns
    -------
    Scorch
        Its ``least``, ``likely`` and ``most`` time; infinite where it never does. [s]

    Raises
    ------
    InputError
        If a name is unknown.

    Notes
    -----
    Least has the glow right on it, unless the ember has a crust; :class:`Scorch` says what else
    each of the three stands for. Up to an hour; the ember is out long before.

    With the glow right on it the time is that of :func:`fireheat.layered.disc_draw`: from 4 %
    early to 0.3 % late beside the solver, refined. With a crust the solver itself gives it, on a
    grid coarse enough for a panel that errs EARLY: over all catchers that scorch, all grounds and
    0.2 to 2 mm of dust by 2 % at the middle, by less than 9 % in all but a few, and by up to 25 %
    where the far face only just gets there; within 0.002 of the ember's rise of that it may name a
    late time where the answer is never.

    What errs late: dust and catcher start cold. Dust that falls as hot as charring saves a second
    on 1 mm and some five on 2 mm.

    References
    ----------
    .. [1] :func:`fireheat.layered.disc_draw`, far face on the axis.
    .. [2] :func:`fireheat.heatmap.solve`, where there is a crust.

    Examples
    --------
    >>> leather = scorch_time("leather")
    >>> leather.least < 10 < leather.likely
    True
    """
    _ground(ground, LIKELY)  # refuse an unknown one now, not when a time is asked for
    return Scorch(_find(catcher), ground, ember)


def _scorch(one, ground, ember, tier, holding):
    """When the far face reaches a scorching temperature."""
    goal = one.spread("temperature_scorch")[holding] - ember.temperature_ambient
    if ember.crust:
        stack = _blocks(one, ground, ember, _WIDE * ember.radius, tier, holding, holding)
        return _scorch_under_dust(stack, _held(ember, stack), goal)
    far = _likely(one, _SCORCH_TIMES, ground, ember, tier, holding, holding)[2]
    return _when(ember.rise * far, goal)


@lru_cache(maxsize=256)
def _scorch_under_dust(stack, source, goal):
    """When it does under dead dust, solved; remembered, since a slider may leave one as it was."""
    return _when(_far_rise(solve(stack, source, _SCORCH_TIMES, grid=_SCORCH_GRID), stack), goal)


def _when(rise, goal):
    """Time at which a history over the scorching times first reaches its goal."""
    reached = np.flatnonzero(rise >= goal)
    if not reached.size:
        return float("inf")
    at = max(int(reached[0]), 1)
    part = slice(at - 1, at + 1)
    return float(np.exp(np.interp(goal, rise[part], np.log(_SCORCH_TIMES[part]))))


def _far_rise(run, stack):
    """Rise of the catcher's far face on the axis, under dead dust: what flows in flows out. [K]."""
    *below, sheet, dust = stack
    row = int(np.abs(run.axial_edges + sheet.thickness + dust.thickness).argmin())
    # On the axis itself: an even curve through the two inmost rings.
    inner, outer = run.radial[:2] ** 2
    rise = (outer * run.rise[:, :, 0] - inner * run.rise[:, :, 1]) / (outer - inner)
    up = sheet.material.conductivity_axial / (run.axial[row] - run.axial_edges[row])
    if not below:
        return up * rise[:, row] / (up + sheet.film)
    down = below[0].material.conductivity_axial / (run.axial_edges[row] - run.axial[row - 1])
    return (up * rise[:, row] + down * rise[:, row - 1]) / (up + down)


# ---- boiling a thick damp body dry --------------------------------------------------------------


def boiling_front(catcher, time, ember=EMBER):
    r"""How deep a thick damp body is boiled dry, and how greedily it draws: exact.

    .. math:: x = 2 \lambda \sqrt{\alpha t}, \quad
        \frac{e^{-\lambda^2}}{\mathrm{erf} \lambda} (T_g - T_b)
        - \frac{e^{-\lambda^2}}{\mathrm{erfc} \lambda} (T_b - T_0)
        = \frac{\sqrt\pi \lambda w L}{C}

    Parameters
    ----------
    catcher : Catcher or str
        The catcher, or its key in the table; it must hold water.
    time : float or ndarray
        Time since the ember was set down. [s]
    ember : Ember, optional
        The ember.

    Returns
    -------
    tuple of float or ndarray
        Depth boiled dry [m], and the effusivity that draws as much. [J/(m^2 K s^0.5)]

    Raises
    ------
    InputError
        If the catcher holds no water, or the ember is no hotter than boiling water.

    Notes
    -----
    Heat straight down, conductivity and the dry heat capacity the same on both sides of the front,
    liquid water's warming counted at the front too. Steam is taken to leave without more ado.

    References
    ----------
    .. [1] Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, section 11.2: Neumann's
       solution. (from memory)

    Examples
    --------
    >>> depth, effusivity = boiling_front("wet_soil", 60.0)
    >>> print(f"{1000 * depth:.0f} mm")
    6 mm
    """
    one, time = _find(catcher), check(time=time)
    boiling = constant("water_boiling_point")
    if not one.water_content > 0 or not ember.temperature > boiling:
        raise InputError(f"{one.name} holds no water, or the ember does not boil it: no front")
    capacity = one.density * one.heat_capacity
    warm = constant("water_heat_capacity") * (boiling - ember.temperature_ambient)
    latent = one.water_content * (constant("water_latent_heat") + warm) / capacity
    hot, cool = ember.temperature - boiling, boiling - ember.temperature_ambient

    def balance(place):
        flux = np.exp(-(place**2)) * hot / special.erf(place) - cool / special.erfcx(place)
        return flux - np.sqrt(np.pi) * place * latent

    place = optimize.brentq(balance, 1e-6, 20.0)
    reach = 2 * np.sqrt(one.conductivity / capacity * time)
    own = np.sqrt(one.conductivity * capacity)
    return place * reach, float(own * hot / special.erf(place) / ember.rise)
