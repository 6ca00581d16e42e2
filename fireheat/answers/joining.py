"""What twice the spindle does, were heat only to soak straight in: between a factor of 4 and 16."""

from dataclasses import dataclass

import numpy as np

from ..cases import case
from ..heat.two_stage import area_exponent, two_stage
from ..kit.kit import Try
from ..quantities import Numbers, check


@dataclass(frozen=True)
class Joined:
    """One kit on the closed curve, and thicker and thinner ones that make as many watts.

    Attributes
    ----------
    power : float
        Heat made at the tip. [W]
    flux : float
        The same over the tip's area. [W/m^2]
    hot, ember : float
        When the contact is as hot as dust must be, and when there is enough of it. [s]
    soaked : float
        Share of all heat that soaks into the wood. [1]
    twice : float
        By which factor a spindle twice as thick is later. [1]
    exponent : float
        Power of the contact's area with which time grows here. [1]
    wider : ndarray, shape (n,)
        Diameters over this one's. [1]
    later : ndarray, shape (n,)
        Time of their embers over this one's. [1]
    """

    power: float
    flux: float
    hot: float
    ember: float
    soaked: float
    twice: float
    exponent: float
    wider: np.ndarray
    later: np.ndarray


def joined(state: Try, *, wider: np.ndarray) -> Joined:
    """Put a kit on the curve that joins "all into dust" and "all soaks in".

    Parameters
    ----------
    state : Try
        The try. Leaks to the air, heat that fans out sideways and wear are left out.
    wider : ndarray, shape (n,)
        Diameters to compare with, over this one's. [1]

    Returns
    -------
    Joined
        Its times, and what another thickness does at the same watts and burn-in depth.

    Raises
    ------
    InputError
        If no heat is made, or what to compare with is not a positive number.

    References
    ----------
    .. [1] :func:`fireheat.heat.two_stage.two_stage`.

    Examples
    --------
    >>> found = joined(Try(), wider=np.array([0.5, 1.0, 2.0]))
    >>> bool(4 < found.twice < 16)
    True
    """
    wider = check(wider=wider)
    one = case(state)
    area = float(np.pi * one.radius**2)
    flux = float(one.power) / area
    wood: dict[str, Numbers] = {
        "energy_per_area": float(one.energy) / area,
        "effusivity": float(
            one.contact.spindle.effusivity_axial + one.contact.board.effusivity_axial
        ),
        "rise": float(one.rise),
    }
    hot, ember = two_stage(flux, **wood)

    def later(wider):
        """How much later; without heat all would soak in, which is a factor of sixteen for two."""
        return two_stage(flux / wider**2, **wood)[1] / ember if np.isfinite(ember) else wider**4

    return Joined(
        power=float(one.power),
        flux=flux,
        hot=hot,
        ember=ember,
        soaked=1 - wood["energy_per_area"] / (flux * ember) if np.isfinite(ember) else 1.0,
        twice=later(2.0),
        exponent=area_exponent(flux, **wood),
        wider=wider,
        later=later(wider),
    )
