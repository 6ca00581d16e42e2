"""Measure a friction coefficient with a ramp and a protractor, error bar included.

Lay one wood on a board of the other and tilt. On a slope of angle a, gravity pulls a block down
the slope with ``m g sin a`` and presses it on with ``m g cos a``; friction just holds it where
the first over the second, ``tan a``, is the friction coefficient. The mass drops out. The angle at
which a resting block starts is that of *static* friction; the angle at which a tapped block goes
on sliding, neither faster nor slower, is that of *kinetic* friction, the one that makes the heat.
"""

from dataclasses import dataclass

import numpy as np

from .quantities import InputError, check


@dataclass(frozen=True)
class Measured:
    """A measured value with its standard uncertainty.

    Attributes
    ----------
    value : float or ndarray
        The best guess. [SI]
    error : float or ndarray
        Standard uncertainty: in about two cases out of three the true value is this near. [SI]
    """

    value: float
    error: float

    @property
    def ends(self):
        """Value less and plus its uncertainty."""
        return self.value - self.error, self.value + self.error


def mean_angle(angle, angle_limit=0.0):
    r"""Mean of several readings of an angle, with its standard uncertainty.

    .. math:: u^2 = \frac{1}{n (n - 1)} \sum (a_i - \bar a)^2 + \frac{\Delta^2}{3}

    Parameters
    ----------
    angle : float or ndarray
        The readings, one or more. [rad]
    angle_limit : float, optional
        How far a reading of the scale may be off, either way. [rad]

    Returns
    -------
    Measured
        Mean, and uncertainty from the scatter and from the scale. [rad]

    Raises
    ------
    InputError
        If there is no reading, or a reading or the limit is out of its range.

    Notes
    -----
    One reading cannot show how far readings scatter: only the scale's part is left, and the
    uncertainty comes out too small. Even of five, the scatter is known to a third only. More
    readings shrink the first part; no number of them shrinks the second.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.2 (mean of repeated observations), 4.3.7 (limits: a rectangular
       distribution) and 5.1.2 (adding up). (from memory)

    Examples
    --------
    >>> degree = np.pi / 180
    >>> found = mean_angle(np.array([18.0, 19.5, 17.5, 18.5, 19.0]) * degree, 0.5 * degree)
    >>> round(found.value / degree, 2), round(found.error / degree, 2)
    (18.5, 0.46)
    """
    angle, angle_limit = check(angle=angle, angle_limit=angle_limit)
    angle = np.ravel(angle)
    if not angle.size:
        raise InputError("ramp angle: no readings; allowed: 1 or more")
    scatter = angle.var(ddof=1) / angle.size if angle.size > 1 else 0.0
    return Measured(float(angle.mean()), float(np.sqrt(scatter + angle_limit**2 / 3)))


def ramp_friction(angle, angle_error=0.0):
    r"""Friction coefficient from the angle of a ramp, with its standard uncertainty.

    .. math:: \mu = \tan a, \qquad u(\mu) = \frac{u(a)}{\cos^2 a}

    Parameters
    ----------
    angle : float or ndarray
        Angle between ramp and level ground. [rad]
    angle_error : float or ndarray, optional
        Standard uncertainty of the angle. [rad]

    Returns
    -------
    Measured
        Friction coefficient and its uncertainty. [1]

    Raises
    ------
    InputError
        If the angle is negative or not below a right angle, or the uncertainty is negative.

    Notes
    -----
    Measured cold, dry and flat. Under a spindle the wood is hot, chars and turns to dust, and may
    grip better or worse: a starting value, not the last word.

    References
    ----------
    .. [1] Forces on an inclined plane; any mechanics textbook.
    .. [2] JCGM 100:2008 (GUM), 5.1.2: law of propagation of uncertainty. (from memory)

    Examples
    --------
    >>> degree = np.pi / 180
    >>> found = ramp_friction(18.5 * degree, 0.5 * degree)
    >>> round(found.value, 3), round(found.error, 3)
    (0.335, 0.01)
    """
    angle, angle_error = check(angle=angle, angle_error=angle_error)
    slope, error = np.tan(angle), angle_error / np.cos(angle) ** 2
    plain = (lambda x: x) if np.ndim(slope + error) else float
    return Measured(plain(slope), plain(error))
