"""The heat of a try, from cold wood to ember: where it is how hot, and what it has become by then.

The picture is a run of :func:`fireheat.heat.volumes.drill`, whose faces stay where they are. Its
milestones, and where the heat has gone, are those of the estimate, wear and all.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from functools import cached_property, lru_cache
from typing import Any, NamedTuple

import numpy as np

from ..cases import case
from ..constants import constant
from ..estimates import Estimate, contacts, explained, times
from ..heat.volumes import HeatRun, drill
from ..heat.wear_course import wearing_heat
from ..kit.kit import Try
from ..kit.tip import wear_limit
from ..quantities import Numbers, check, default, plain
from ..spread import Spread, spread
from ..words import TOO_LONG

WINDOW = 120.0  # s: how long the heat is followed
_AT_ONCE = 1e-6  # s: at zero itself nothing has a share


def kit_heat(state: Try, *, duration: float = WINDOW) -> HeatRun:
    """Follow the heat of a try through spindle and board; the same try is run only once.

    Parameters
    ----------
    state : Try
        The try; its effort is steady from the start.
    duration : float, optional
        How long to bow. [s]

    Returns
    -------
    HeatRun
        Temperatures and heat at 120 moments, evenly spaced.

    Raises
    ------
    InputError
        If the duration is not positive, or the tip wider than this picture's board, 40 mm in
        radius.

    Notes
    -----
    Wood and temperatures are those of :func:`fireheat.estimates.estimate`, but here the faces stay
    where they are: nothing is worn off, so the heat reaches a little further. How much of it is
    where is told by :func:`heat_so_far`.

    References
    ----------
    .. [1] :func:`fireheat.heat.volumes.drill` over :func:`fireheat.estimates.contacts`.

    Examples
    --------
    >>> run = kit_heat(Try(), duration=20.0)
    >>> print(f"{run.contact_mean[-1]:.0f} K above the air")
    306 K above the air
    """
    return _run(state, check(duration=duration))


@lru_cache(maxsize=12)
def _run(state, duration):
    """Run a try; what is remembered has been checked, since a list cannot be looked up."""
    return drill(
        np.linspace(0, duration, 121)[1:],
        contact=replace(contacts(state).likely, film=state.air.film),
        power=state.power,
        board_thickness=default("board_thickness"),
        board_radius=constant("board_half_width"),
        board_film=default("film"),
        rise_char=default("temperature_char") - state.air.temperature,
    )


def still(run: HeatRun, *, time: float) -> HeatRun:
    """Stop a run at one time, between two of its moments if need be.

    Parameters
    ----------
    run : HeatRun
        The run.
    time : float
        When to look; at zero all is as cold as the air. [s]

    Returns
    -------
    HeatRun
        With this one moment; the last, if the run is over by then.

    Raises
    ------
    InputError
        If the time is negative.

    Notes
    -----
    Between two moments all goes evenly with the square root of time, as heat soaks in.

    References
    ----------
    .. [1] Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, sect. 2.9. (from memory)

    Examples
    --------
    >>> run = kit_heat(Try(), duration=20.0)
    >>> [round(float(still(run, time=time).contact_mean[0])) for time in (0.0, 0.5, 20.0, 99.0)]
    [0, 53, 306, 306]
    """
    time = min(check(elapsed=time), float(run.time[-1]))
    after = int(np.searchsorted(run.time, time))
    start = np.sqrt(run.time[after - 1]) if after else 0.0
    share = (np.sqrt(time) - start) / (np.sqrt(run.time[after]) - start)
    made: dict[str, Any] = {}
    for row in fields(run):
        values = getattr(run, row.name)
        if row.name in _HISTORIES:
            first = values[after - 1] if after else np.zeros_like(values[0])
            made[row.name] = (first + share * (values[after] - first))[np.newaxis]
    return replace(run, **made | {"time": np.array([time])})


_HISTORIES = ("rise", "contact_rise", "contact_mean", "power_in", "dust", "stored", "lost")


def heat_so_far(state: Try, *, time: Numbers) -> dict[str, Numbers]:
    """Where the heat of a try has gone, as the estimate has it: wear and all.

    Parameters
    ----------
    state : Try
        The try; its effort is steady from the start.
    time : float or ndarray
        When to look. [s]

    Returns
    -------
    dict of str to float or ndarray
        Heat in ``"dust_and_water"``, in ``"spindle"`` and ``"board"``, and given to ``"air"``; at
        the ember what :func:`fireheat.estimates.estimate` says. [J]

    Raises
    ------
    InputError
        If a time is negative.

    References
    ----------
    .. [1] :func:`fireheat.heat.wear_course.wearing_heat`.

    Examples
    --------
    >>> {part: round(joules) for part, joules in heat_so_far(Try(), time=20.0).items()}
    {'dust_and_water': 0, 'spindle': 109, 'board': 95, 'air': 6}
    """
    time, likely = check(time=time), case(state)
    soon = np.maximum(time, _AT_ONCE)
    spindle, board, air = wearing_heat(likely.contact, **likely.march, time=soon)
    dust = np.maximum(likely.power * soon - spindle - board - air, 0.0)
    parts = {"dust_and_water": dust, "spindle": spindle, "board": board, "air": air}
    begun = np.asarray(time) > 0
    return {part: plain(joules * begun) for part, joules in parts.items()}


class Allowance(NamedTuple):
    """How much a pair may wear, if its dust is ever to char.

    Attributes
    ----------
    wear : float
        Wood worn off for a force and a way slid. [m^3/(N m)]
    depth : float
        Worn off for one ember. [m]
    strokes : float
        In how many strokes of ordinary length that much wear takes off the depth.
    """

    wear: float
    depth: float
    strokes: float


def allowance(state: Try) -> Allowance:
    """Tell from which wear on a pair makes cool dust and never chars.

    Parameters
    ----------
    state : Try
        The try.

    Returns
    -------
    Allowance
        In cubic metres for a newton and a metre, whatever force, speed and diameter; and in
        strokes, for this kit and effort: infinite where nothing rubs.

    Notes
    -----
    A pair that wears off the depth of one ember before the bound, :func:`energy_bound
    <fireheat.estimates.energy_bound>`, has had no time to make it hot, even without a leak.

    References
    ----------
    .. [1] :func:`fireheat.kit.tip.wear_limit`.

    Examples
    --------
    >>> ordinary = allowance(Try())
    >>> print(f"{1e9 * ordinary.wear:.1f} mm³, {ordinary.strokes:.0f} strokes")
    1.2 mm³, 45 strokes
    """
    likely = case(state)
    volume = likely.depth * np.pi * likely.radius**2
    wear = wear_limit(
        state.kit.friction,
        rise=likely.rise,
        volumetric_heat_capacity=likely.energy / (likely.rise * volume),
    )
    speed = state.effort.speed
    strokes = likely.bound * speed / default("stroke_length") if speed else np.inf
    return Allowance(float(wear), state.value("burn_in_depth"), float(strokes))


NO_SMOKE, NO_EMBER, GLOWS = "never smokes", "smokes, and never an ember", "smokes, then glows"


@dataclass(frozen=True)
class Story:
    """What becomes of a try: one of three endings, and how its heat gets there.

    Attributes
    ----------
    state : Try
        The try.
    found : Estimate
        When it smokes and glows, with the band of its wood.
    spread : Spread
        The same, with the bands of all we do not know.
    """

    state: Try
    found: Estimate
    spread: Spread

    @property
    def ending(self) -> str:
        """Say which of the three endings is the likely one."""
        if self.found.smoke.likely >= TOO_LONG:
            return NO_SMOKE
        return NO_EMBER if self.found.ember.likely >= TOO_LONG else GLOWS

    @property
    def milestones(self) -> tuple[float, ...]:
        """Likely times of first smoke and ember, as far as they come while it is watched. [s]."""
        likely = (self.found.smoke.likely, self.found.ember.likely)
        return tuple(time for time in likely if time <= WINDOW)

    @cached_property
    def run(self) -> HeatRun:
        """Its heat, moment by moment."""
        return kit_heat(self.state)

    @cached_property
    def allowance(self) -> Allowance:
        """How much its pair may wear."""
        return allowance(self.state)

    @cached_property
    def _heat(self):
        return heat_so_far(self.state, time=self._times)

    @cached_property
    def _times(self):
        return np.union1d(np.append(0.0, self.run.time), self.milestones)

    def heat(self, time: float) -> Mapping[str, float]:
        """Where its heat has gone by a time: dust with its water, spindle, board, air. [J]."""
        return {
            part: float(np.interp(time, self._times, joules)) for part, joules in self._heat.items()
        }

    def contact_rise(self, time: float) -> float:
        """How much hotter than the air the contact is: never more than dust that leaves. [K]."""
        likely = case(self.state)
        warmed = likely.power * likely.contact.impedance(time) if time else 0.0
        return float(min(warmed, likely.rise))


def story(state: Try, *, measured: Mapping[str, float | None] = {}) -> Story:
    """Tell what becomes of a try; the same try is told only once.

    Parameters
    ----------
    state : Try
        The try.
    measured : mapping, optional
        How well what is set was measured, as :func:`fireheat.spread.spread` takes it.

    Returns
    -------
    Story
        Its ending, its milestones, its heat.

    References
    ----------
    .. [1] :func:`fireheat.estimates.estimate` and :func:`fireheat.spread.spread`.

    Examples
    --------
    >>> story(Try()).ending
    'smokes, then glows'
    """
    return _story(state, tuple(sorted(measured.items())))


@lru_cache(maxsize=12)
def _story(state, measured):
    """Tell the story; a mapping cannot be looked up."""
    found = times(state)
    wide = spread(state, found=found, measured=dict(measured))
    return Story(state, explained(state, found=found), wide)
