"""Familiar powers to stand beside the watts at a spindle's tip (``data/everyday.toml``)."""

import math
from collections.abc import Mapping

from scipy.constants import g

from .constants import constant, constants_under


def like_power(power: float) -> str:
    """Name a familiar thing of about this power.

    Parameters
    ----------
    power : float
        Power to compare. [W]

    Returns
    -------
    str
        The thing and its watts; beyond either end of the list, that it is less or more.

    Examples
    --------
    >>> like_power(10.5)
    'like a bright LED lamp (9 W)'
    """
    if power <= 0:
        return "no rubbing, no heat"
    watts, name = min(familiar_powers(), key=lambda pair: abs(math.log(pair[0] / power)))
    how = "less than" if watts > 2 * power else "more than" if power > 2 * watts else "like"
    return f"{how} {name} ({watts:g} W)"


def familiar_powers() -> tuple[tuple[float, str], ...]:
    """Return every familiar power: watts and name, smallest first.

    Examples
    --------
    >>> familiar_powers()[0]
    (0.5, 'a small pocket torch')
    """
    return tuple(sorted((row.value, row.name) for row in constants_under("power").values()))


def known_friction() -> Mapping[str, float]:
    """Return published friction coefficients of wood on wood, by name.

    Examples
    --------
    >>> known_friction()["chestnut sliding"]
    0.33
    """
    return {row.name: row.value for row in constants_under("friction").values()}


def hung_mass(torque: float, arm: float) -> float:
    """Work out the mass that makes a torque, hung on a level arm.

    Parameters
    ----------
    torque : float
        Torque. [N m]
    arm : float
        How far from the axis it hangs. [m]

    Returns
    -------
    float
        Its mass. [kg]

    Examples
    --------
    >>> round(hung_mass(0.06825, 0.01), 2)
    0.7
    """
    return torque / (g * arm)


def suns(flux: float) -> float:
    """Count how many noon suns give this heat flux.

    Parameters
    ----------
    flux : float
        Heat flux. [W/m^2]

    Returns
    -------
    float
        The number. [1]

    Examples
    --------
    >>> suns(79_000.0)
    79.0
    """
    return flux / constant("sun")
