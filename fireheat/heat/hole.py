"""What a hole does to the heat that a disc on its bottom draws."""

from ..constants import constant
from ..quantities import Numbers, check

_HOLE_DRAW = constant("hole_draw")


def hole_draw(depth: Numbers, *, radius: Numbers) -> Numbers:
    r"""How much more steady heat a warm disc draws on the bottom of a hole than on top.

    .. math:: 1 + \frac{a \, x}{x + b}, \qquad x = \frac{X}{r}

    Parameters
    ----------
    depth : float or ndarray
        Depth of the hole; its walls lose nothing. [m]
    radius : float or ndarray
        Radius of disc and hole. [m]

    Returns
    -------
    float or ndarray
        Heat drawn over that of the same disc on top, at the same mean temperature. [1]

    Raises
    ------
    InputError
        If the depth is negative, or the radius not positive.

    Notes
    -----
    A fit, within half a per cent up to a hole five times as deep as it is wide, to finite volumes
    with an evenly heated disc (``tests/oracles/hole.py``).

    References
    ----------
    .. [1] Our own finite volumes; we know of no closed form.

    Examples
    --------
    >>> import numpy as np
    >>> hole_draw(np.array([0.0, 0.002, 0.0065]), radius=0.0065).round(2)
    array([1.  , 1.09, 1.17])
    """
    depth, radius = check(depth=depth, radius=radius)
    most, half = _HOLE_DRAW
    return 1 + most * depth / (depth + half * radius)
