"""The tip of a kit cut into rings: what each carries, takes and makes."""

from dataclasses import dataclass

import numpy as np

from ..kit.kit import Try
from ..kit.tip import force_within, torque_within, turning_speed
from ..quantities import check_whole


@dataclass(frozen=True)
class Cut:
    """A tip cut into rings, from the axis out.

    Attributes
    ----------
    edges : ndarray, shape (n + 1,)
        Where it is cut: distances from the axis, from zero to the radius. [m]
    force : ndarray, shape (n,)
        Force each ring carries. [N]
    torque : ndarray, shape (n,)
        Torque each ring takes. [N m]
    turning_speed : float
        How fast all of them turn. [rad/s]
    """

    edges: np.ndarray
    force: np.ndarray
    torque: np.ndarray
    turning_speed: float

    @property
    def area(self):
        """Area of each ring, in square metres."""
        return np.pi * np.diff(self.edges**2)

    @property
    def power(self):
        """Heat each ring makes, in watts."""
        return self.torque * self.turning_speed

    @property
    def pressure(self):
        """Mean pressure on each ring, in pascals."""
        return self.force / self.area

    @property
    def flux(self):
        """Mean heat flux of each ring, in watts per square metre."""
        return self.power / self.area

    @property
    def mean_flux(self):
        """Heat flux of the whole tip, in watts per square metre."""
        return self.power.sum() / self.area.sum()


def cut(state: Try, *, count: int = 8) -> Cut:
    """Cut the tip of a kit into rings of equal width.

    Parameters
    ----------
    state : Try
        The try.
    count : int, optional
        How many rings.

    Returns
    -------
    Cut
        What each ring carries, takes and makes; exact, however few the rings.

    Raises
    ------
    InputError
        If there is not at least one ring.

    References
    ----------
    .. [1] Differences of :func:`force_within` and :func:`torque_within`.

    Examples
    --------
    >>> rings = cut(Try(), count=4)
    >>> [round(float(share), 4) for share in rings.torque / rings.torque.sum()]
    [0.0625, 0.1875, 0.3125, 0.4375]
    """
    count = check_whole("number of rings", count, least=1)
    kit, effort = state.kit, state.effort
    edges = np.linspace(0.0, kit.radius, count + 1)
    law = {"contact": kit.contact}
    return Cut(
        edges=edges,
        force=np.diff(force_within(edges, force=effort.force, radius=kit.radius, **law)),
        torque=np.diff(
            torque_within(
                edges, force=effort.force, friction=kit.friction, radius=kit.radius, **law
            )
        ),
        turning_speed=turning_speed(effort.speed, cord_radius=kit.cord_radius or kit.radius),
    )
