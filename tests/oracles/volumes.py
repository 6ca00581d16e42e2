"""When the dust of a finite-volume run has had an ember's energy."""

import math

import numpy as np
from scipy import interpolate

from fireheat.quantities import check


def ember_time(run, *, energy):
    """Time at which the dust has carried away the energy an ember needs.

    Parameters
    ----------
    run : HeatRun
        A run that goes on long enough, with a contact held at charring.
    energy : float
        Energy that must have gone into dust. [J]

    Returns
    -------
    float
        Time from the start; infinite if the run ends before. [s]

    Raises
    ------
    InputError
        If the energy is negative.

    References
    ----------
    .. [1] Energy balance of the contact.

    Examples
    --------
    >>> from fireheat.heat.material import Material
    >>> from fireheat.heat.mesh import Block, Source
    >>> from fireheat.heat.volumes import solve
    >>> wall = Block("wall", Material(0.1, 0.1, 5e5), radius=0.01, thickness=0.1)
    >>> source = Source(radius=0.01, power=20.0, rise_char=300.0)
    >>> run = solve([wall], source=source, time=np.arange(1.0, 60.0))
    >>> 0.8 < run.smoke < 1.0 < ember_time(run, energy=200.0) < 60.0
    True
    """
    energy = check(energy=energy)
    if energy <= 0:
        return run.smoke
    if not energy <= run.dust[-1]:
        return math.inf
    after = run.time > run.smoke
    time = np.concatenate([[run.smoke], run.time[after]])
    dust = np.concatenate([[0.0], run.dust[after]])
    return float(interpolate.PchipInterpolator(time, dust).solve(energy, extrapolate=False)[0])
