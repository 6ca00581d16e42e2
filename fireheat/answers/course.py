"""What becomes of one kit, second by second: how hot its contact is, how much dust lies there."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ..cases import Case, case
from ..constants import constant
from ..ember.ember import heap_mass
from ..estimates import Estimate, estimated
from ..heat.warming import warm_up
from ..kit.kit import Try
from ..quantities import InputError, check_single
from ..spread import Spread, spread
from ..words import TOO_LONG
from .heat_view import WINDOW, heat_so_far

_MOMENTS = 121  # each of two ways of spacing
_LATE = "an ember would take more than an hour"


@dataclass(frozen=True, eq=False)  # it is the same only as itself: most of it are arrays
class Course:
    """What becomes of one kit, second by second, all being as it is set.

    Attributes
    ----------
    state : Try
        The try; its effort is steady from the start.
    found : Estimate
        Its floor, and when it smokes and glows, with the band of its wood.
    times : ndarray, shape (n,)
        Moments from zero to the end: the likely ember, or when nobody looks on any more. They
        stand closest where most happens; between two of them all goes about evenly. [s]
    temperature : ndarray, shape (n,)
        How hot the contact is. [K]
    dust : ndarray, shape (n,)
        Dust that lies in the heap. [kg]
    brown, smoke, ember : float
        Likely times at which the tip is brown, smokes steadily, and has its ember; infinite if
        never, or not within an hour. [s]
    never : str or None
        Why there is never an ember; None if there is one.
    spread : Spread
        Both bands of its times.
    """

    state: Try
    found: Estimate
    times: np.ndarray
    temperature: np.ndarray
    dust: np.ndarray
    brown: float
    smoke: float
    ember: float
    never: str | None
    spread: Spread

    @property
    def end(self) -> float:
        """When it ends: at the ember, or when nobody looks on any more. [s]."""
        return float(self.times[-1])

    def temperature_at(self, time: float) -> float:
        """How hot the contact is at a time, or was at the end. [K]."""
        return float(np.interp(time, self.times, self.temperature))

    def dust_at(self, time: float) -> float:
        """How much dust lies in the heap at a time, or lay at the end. [kg]."""
        return float(np.interp(time, self.times, self.dust))


def course(
    state: Try, *, measured: Mapping[str, float] | None = None, duration: float = WINDOW
) -> Course:
    """Follow one kit from cold wood to its ember; the same kit is followed only once.

    Parameters
    ----------
    state : Try
        The try.
    measured : mapping, optional
        How well what is set was measured, as :func:`fireheat.spread.spread` takes it.
    duration : float, optional
        How long to look on where no ember comes. [s]

    Returns
    -------
    Course
        Its temperature and its dust, moment by moment, and its milestones.

    Raises
    ------
    InputError
        If the state is no try, what was measured is not set, or there is no time to look on.

    Notes
    -----
    The contact warms as if it did not wear until it is as hot as the dust that leaves, and stays
    so: from then on what the wood does not soak up makes dust. Wood that is rubbed off before, pale
    and cool, is left out, as it is in the estimate.

    References
    ----------
    .. [1] As :func:`fireheat.estimates.estimate`, from :attr:`fireheat.heat.contact.Contact` and
       :meth:`fireheat.heat.wearing.Path.made_by`.

    Examples
    --------
    >>> kit = course(Try())
    >>> [round(time) for time in (kit.brown, kit.smoke, kit.ember)]
    [6, 13, 56]
    >>> print(f"{kit.temperature_at(6.0):.0f} K; {1e6 * kit.dust_at(40.0):.0f} mg of dust")
    470 K; 85 mg of dust
    """
    if not isinstance(state, Try):
        raise InputError(f"state is {state!r}; allowed: a Try")
    known = tuple(sorted(dict(measured or {}).items()))
    return _followed(state, known, *check_single(duration=duration))


@lru_cache(maxsize=12)
def _followed(state, measured, duration):
    found = estimated(state)
    ember = found.ember.likely
    glows = ember < TOO_LONG
    likely = case(state)
    brown = warm_up(
        likely.contact,
        power=likely.power,
        rise=max(constant("temperature_brown") - state.air.temperature, 0.0),
    )
    milestones = [_seen(time) for time in (brown, found.smoke.likely, ember)]
    times = _moments(ember if glows else duration, milestones)
    warmed = likely.power * likely.contact.impedance(times)
    rise = np.minimum(np.maximum.accumulate(warmed), likely.rise)
    return Course(
        state=state,
        found=found,
        times=times,
        temperature=state.air.temperature + rise,
        dust=heap_mass(state.kit.dust) * _dust_shares(state, likely, times),
        brown=milestones[0],
        smoke=milestones[1],
        ember=milestones[2],
        never=None if glows else found.never or _LATE,
        spread=spread(state, measured=dict(measured), found=found),
    )


def _seen(time):
    return float(time) if time < TOO_LONG else float("inf")


def _moments(end, milestones):
    """Choose moments dense at the start, where it warms fast, and none too far apart later."""
    even = np.linspace(0.0, 1.0, _MOMENTS)
    chosen = np.concatenate([end * even, end * even**2, milestones])
    return np.unique(chosen[chosen <= end])


def _dust_shares(state, likely: Case, times):
    """Return the share of an ember's dust that has left by each moment."""
    path = likely.followed(0)[1]
    if path:
        return path.made_by(times)
    leaves = warm_up(likely.contact, power=likely.power, rise=likely.rise)
    hot, shares = times > leaves, np.zeros_like(times)
    if np.any(hot):  # and never enough of it
        heat = heat_so_far(state, time=times[hot])["dust_and_water"]
        shares[hot] = np.maximum.accumulate(np.clip(heat / likely.energy, 0.0, 1.0))
    return shares
