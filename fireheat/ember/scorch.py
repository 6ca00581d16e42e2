"""The field under an ember, and when a catcher's far side scorches, by the finite-volume solver."""

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from ..constants import constant, constant_band
from ..heat.layered import disc_draw
from ..heat.material import Material
from ..heat.mesh import Block, Grid, Source
from ..heat.volumes import HeatRun, solve
from ..quantities import Numbers
from .catchers import (
    AIR_GAP,
    HIGH,
    LIKELY,
    LIKELY_ENDS,
    LOW,
    Catcher,
    Ends,
    as_catcher,
    ground_row,
)
from .draw import layers
from .ember import Ember

# ---- the whole field ----------------------------------------------------------------------------


def solve_catcher(
    catcher: Catcher | str,
    *,
    time: Numbers,
    ground: str = AIR_GAP,
    ember: Ember = Ember(),
    sheet_radius: float = 0.06,
    grid: Grid = Grid(),
) -> HeatRun:
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
    With a crust its dust is warmed too, which :func:`fireheat.ember.draw.draw` leaves out.

    References
    ----------
    .. [1] :func:`fireheat.heat.volumes.solve`.

    Examples
    --------
    >>> from fireheat.ember.draw import draw
    >>> run = solve_catcher("leather", time=60.0)
    >>> print(f"{run.power_in[0]:.1f} W, by the quick way {draw('leather').watts.likely:.1f} W")
    1.9 W, by the quick way 1.9 W
    """
    stack = _blocks(as_catcher(catcher), ground, ember, sheet_radius)
    return solve(stack, source=_glow_on(stack, ember), time=time, grid=grid)


def _glow_on(stack, ember):
    """Hold the top of the stack at the ember's temperature."""
    power = constant("drawing_power")
    return Source(ember.radius, power, len(stack) - 1, ember.rise, "pointwise")


def _blocks(one, ground, ember, radius, ends=LIKELY_ENDS):
    """Bodies from the ground up."""
    sheet = layers(one, ground=ground, ember=ember, ends=ends)
    material = _alike_all_ways(sheet["conductivity"], sheet["volumetric_heat_capacity"])
    blocks = [Block("catcher", material, radius, sheet["thickness"], ember.film)]
    if ground != AIR_GAP:
        material = _alike_all_ways(
            sheet["ground_conductivity"], sheet["ground_volumetric_heat_capacity"]
        )
        blocks.insert(0, Block("ground", material, radius, radius))
    if ember.crust:
        capacity = np.prod(
            [constant_band(k)[ends.holding] for k in ("bulk_density", "dust_heat_capacity")]
        )
        material = _alike_all_ways(
            constant_band("dust_conductivity")[ends.leading], float(capacity)
        )
        blocks.append(Block("dead dust", material, ember.radius, ember.crust, ember.film))
    return tuple(blocks)


def _alike_all_ways(conductivity, capacity):
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
        return self._scorching(Ends(HIGH, LOW, LOW), self.ember.crust)

    @cached_property
    def likely(self) -> float:
        """All of it likely, with half the dust of the table unless the ember has some. [s]."""
        return self._scorching(LIKELY_ENDS, self.ember.crust or self._deep_crust / 2)

    @cached_property
    def most(self) -> float:
        """All the other ends, on all the dust. [s]."""
        return self._scorching(Ends(LOW, HIGH, HIGH), self._deep_crust)

    @property
    def _deep_crust(self):
        return max(self.ember.crust, constant_band("crust")[2])

    def _scorching(self, ends, crust):
        if self.catcher.temperature_scorch is None:
            return np.inf
        return _scorch_at(ends, self.catcher, self.ground, replace(self.ember, crust=crust))


def scorch_time(catcher: Catcher | str, *, ground: str = AIR_GAP, ember: Ember = Ember()) -> Scorch:
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

    With the glow right on it the time is that of :func:`fireheat.heat.layered.disc_draw`: from 4 %
    early to 0.3 % late beside the solver, refined. With a crust the solver itself gives it, on a
    grid coarse enough for a panel that errs EARLY: over all catchers that scorch, all grounds and
    0.2 to 2 mm of dust by 2 % at the middle, by less than 9 % in all but a few, and by up to 25 %
    where the far face only just gets there; within 0.002 of the ember's rise of that it may name a
    late time where the answer is never.

    What errs late: dust and catcher start cold. Dust that falls as hot as charring saves a second
    on 1 mm and some five on 2 mm.

    References
    ----------
    .. [1] :func:`fireheat.heat.layered.disc_draw`, far face on the axis.
    .. [2] :func:`fireheat.heat.volumes.solve`, where there is a crust.

    Examples
    --------
    >>> leather = scorch_time("leather")
    >>> leather.least < 10 < leather.likely
    True
    """
    ground_row(ground, LIKELY)  # refuse an unknown one now, not when a time is asked for
    return Scorch(as_catcher(catcher), ground, ember)


def _scorch_at(ends, one, ground, ember):
    """When the far face reaches a scorching temperature."""
    goal = one.spread("temperature_scorch")[ends.holding] - ember.temperature_ambient
    if ember.crust:
        stack = _blocks(one, ground, ember, _WIDE * ember.radius, ends)
        return _scorch_under_dust(stack, _glow_on(stack, ember), goal)
    stack = layers(one, ground=ground, ember=ember, ends=ends)
    far = disc_draw(_SCORCH_TIMES, radius=ember.radius, **stack)[2]
    return _first_time(ember.rise * far, goal)


@lru_cache(maxsize=256)
def _scorch_under_dust(stack, source, goal):
    """When it does under dead dust, solved; remembered, since a slider may leave one as it was."""
    run = solve(stack, source=source, time=_SCORCH_TIMES, grid=_SCORCH_GRID)
    return _first_time(_far_rise(run, stack), goal)


def _first_time(rise, goal):
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
