r"""Where the heat of a wearing contact is, moment by moment.

What a body gains is what its face conducts into it, less what its ground wood takes along. The
rod's heat H leaks at one pace wherever it is, since its film is the same all along:

.. math:: \frac{dH}{dt} = p - C A \, \Delta T \, w - \frac{2 h}{r C} H
"""

from typing import NamedTuple

import numpy as np
from numpy.polynomial import Polynomial
from scipy.interpolate import CubicSpline

from ..quantities import InputError, Numbers, check, check_single, plain
from .contact import Contact
from .warming import least_power, warm_up
from .wearing import Path, wearing, worn_path

_NODES, _WEIGHTS = (column / 2 for column in np.polynomial.legendre.leggauss(24))
_NODES = _NODES + 0.5
_AMPLE = 1.01  # of the least power, as in the march
_MORE = 1.02  # than is worn off by the last moment, so that the course does not end before


class WearHeat(NamedTuple):
    """Where the heat has gone, dust and its water aside.

    Attributes
    ----------
    spindle, board : float or ndarray
        Heat stored in each. [J]
    air : float or ndarray
        Heat given to the air by the spindle's side. [J]
    """

    spindle: float | np.ndarray
    board: float | np.ndarray
    air: float | np.ndarray


def wearing_heat(
    contact: Contact,
    *,
    power: float,
    rise: float,
    energy: float,
    depth: float,
    spindle_share: float = 0.5,
    time: Numbers | None = None,
    path: Path | None = None,
) -> WearHeat:
    r"""Heat in spindle, board and air of one contact, at the ember or at any time.

    Parameters
    ----------
    contact, power, rise, energy, depth, spindle_share
        As in :func:`fireheat.heat.wearing.wearing`; single numbers.
    time : float or ndarray, optional
        When to look, before the ember or after it, if wear goes on; at the ember if left out. [s]
    path : Path, optional
        What :func:`fireheat.heat.wearing.wearing_with_path` says of it, if it is known already.

    Returns
    -------
    WearHeat
        The three, for each time; what is left of all the heat made is in dust and its water. [J]

    Raises
    ------
    InputError
        If a value is not one number (but for the time) or out of its range, the contact is
        something else, or the time is left out where there is no ember.

    Notes
    -----
    Good to half a per cent of all the heat. A contact that hardly reaches the rise, or not at all,
    is taken as one that does not wear.

    References
    ----------
    .. [1] Conservation of energy over the path that :func:`fireheat.heat.wearing.wearing` follows.

    Examples
    --------
    >>> from fireheat.heat.material import Material
    >>> spindle, board = Material(0.12, 0.22, 6e5), Material(0.12, 0.12, 6e5)
    >>> kit = Contact(radius=0.0065, length=0.15, film=10.0, spindle=spindle, board=board)
    >>> try_ = {"power": 10.0, "rise": 280.0, "energy": 130.0, "depth": 0.004}
    >>> heat = wearing_heat(kit, **try_)
    >>> round(sum(heat)) + 130 == round(10.0 * wearing(kit, **try_).ember)
    True
    """
    power, rise, energy, depth, share = check_single(
        power=power, rise=rise, energy=energy, burn_in_depth=depth, spindle_share=spindle_share
    )
    tried = {"power": power, "rise": rise, "energy": energy, "depth": depth, "spindle_share": share}
    if time is not None and not (power and np.size(time)):
        return WearHeat(*(plain(np.zeros_like(check(time=time))) for _ in range(3)))
    if time is not None:
        path = None  # it ends with the ember
    elif not path and power > _AMPLE * least_power(
        contact, rise=rise, depth=depth, spindle_share=share
    ):
        path = worn_path(contact, **tried)
    if path:  # which ends with the ember: no need to march twice
        ember = max(path.reached + path.since[-1] ** 2, energy / power)
    else:
        ember = wearing(contact, **tried).ember
        if time is None and np.isinf(ember):
            raise InputError(
                f"power is {power!r} W, which makes no ember; allowed: more, or a time"
            )
    time = check(time=ember if time is None else time)
    last = np.max(time)
    many = 1.0 if last <= ember else _MORE * power * last / energy  # embers by then, at most
    tried |= {"energy": many * energy, "depth": many * depth}
    hole = {"rise": rise, "depth": many * depth, "spindle_share": share}
    if not path and power <= _AMPLE * least_power(contact, **hole):
        return _without_wear(contact, power, rise, time)
    path = path or worn_path(contact, **tried)
    capacity = contact.spindle.volumetric_heat_capacity
    worn = rise * np.pi * contact.radius**2 * many * depth * share * capacity
    spindle, air = _rod_heat(path, power, worn, np.asarray(time))
    made = path.made_by(time)
    # Where dust takes next to all, the march's error is more than what is left: none has less
    # than nothing, and together they have no more than that.
    left = np.maximum(power * time - many * energy * made, 0.0)
    spindle = np.clip(spindle, 0.0, left)
    air = np.clip(air, 0.0, left - spindle)
    return WearHeat(plain(spindle), plain(left - spindle - air), plain(air))


def _without_wear(contact, power, rise, time):
    """Tell where the heat is if the faces stay."""
    hot = warm_up(contact, power=power, rise=rise)
    parts = [
        contact.soaked(when, smoke=min(hot, when), power=power) for when in np.ravel(time).tolist()
    ]
    return WearHeat(*(plain(np.reshape(part, np.shape(time))) for part in zip(*parts, strict=True)))


def _rod_heat(path: Path, power, worn, time):
    """Tell what the rod holds, and what it gave to the air, by each time."""
    share = Polynomial(path.shares[:, 0])
    conducted = CubicSpline(path.since, path.conducted[:, 0])
    made = CubicSpline(path.since, path.made)
    first = np.sqrt(np.minimum(time, path.reached) / path.reached)[..., np.newaxis]
    then = np.sqrt(np.maximum(time - path.reached, 0.0))[..., np.newaxis]
    before, since = first * _NODES, then * _NODES
    gain = np.concatenate(
        [
            2 * path.reached * power * share(before) * before * first * _WEIGHTS,
            (2 * since * conducted(since) - worn * made(since, 1)) * then * _WEIGHTS,
        ],
        axis=-1,
    )
    when = np.concatenate([path.reached * before**2, path.reached + since**2], axis=-1)
    stored = np.sum(gain * np.exp(-path.leaking * (time[..., np.newaxis] - when)), axis=-1)
    return stored, np.sum(gain, axis=-1) - stored
