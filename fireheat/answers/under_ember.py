"""What lies under an ember on a catcher: how hot it is, and what has gone into it by now."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ..bands import Band
from ..ember.catchers import Catcher, catcher, catchers, grounds
from ..ember.draw import Draw, draw, draw_history
from ..ember.ember import Ember
from ..ember.scorch import solve_catcher
from ..heat.volumes import HeatRun
from ..quantities import check, choose, quantity


@dataclass(frozen=True)
class Under:
    """What lies under the ember at one moment of one run.

    Attributes
    ----------
    run : HeatRun
        The run.
    at : int
        Which of its moments.
    catcher : Catcher
        What the ember lies on.
    ember : Ember
        The ember.
    ground : str
        What lies below.
    draw : Draw
        What the catcher takes in the first minute, with bands.
    watts, joules : float
        What it takes at this moment [W], and has taken so far. [J]
    """

    run: HeatRun
    at: int
    catcher: Catcher
    ember: Ember
    ground: str
    draw: Draw
    watts: float
    joules: float

    @property
    def seconds(self) -> float:
        """Time since the ember was set down. [s]."""
        return float(self.run.time[self.at])

    @property
    def watts_band(self) -> Band[float]:
        """Least and most, as far off as after a first minute. [W]."""
        return self.draw.watts_then(self.watts)

    @property
    def joules_band(self) -> Band[float]:
        """Least and most, as far off as in a first minute. [J]."""
        return self.draw.joules_then(self.joules)

    @property
    def made(self) -> Band[float]:
        """What the ember made so far, if it burns evenly: least, likely, most. [J]."""
        return self.ember.joules_made(self.seconds)

    @property
    def away(self) -> float:
        """Where the catcher's top is told: twice the ember's radius from the middle. [m]."""
        return 2 * self.ember.radius

    @property
    def beside(self) -> float:
        """Temperature of the catcher's top there. [K]."""
        run = self.run
        row = int(np.searchsorted(run.axial, -self.ember.crust)) - 1
        rise = float(np.interp(self.away, run.radial, run.rise[self.at, row]))
        return self.ember.temperature_ambient + rise


@lru_cache(maxsize=32)
def _run(key, ground, crust):
    """Follow two minutes under an ember; a few runs are remembered, for the time slider."""
    times = np.linspace(0, quantity("elapsed").slider[1], 121)[1:]
    ember = Ember(crust=crust)
    run = solve_catcher(key, time=times, ground=ground, ember=ember)
    return (
        run,
        ember,
        draw(key, ground=ground, ember=ember),
        draw_history(key, time=times, ground=ground, ember=ember),
    )


def under_ember(key: str, *, ground: str, crust: float, elapsed: float) -> Under:
    """Look under an ordinary ember on a catcher, some time after it was set down.

    Parameters
    ----------
    key, ground : str
        The catcher, and what lies below it.
    crust : float
        Thickness of the dead dust below the glow. [m]
    elapsed : float
        Time since it was set down; the nearest whole second of two minutes is shown. [s]

    Returns
    -------
    Under
        What lies under it.

    Raises
    ------
    InputError
        If there is no such catcher or ground, or the crust cannot be.

    References
    ----------
    .. [1] :func:`fireheat.ember.scorch.solve_catcher`; :func:`fireheat.ember.draw.draw_history`.

    Examples
    --------
    >>> under_ember("leather", ground="dry soil", crust=0.0, elapsed=60.2).seconds
    60.0
    """
    choose("catcher", key, catchers())
    choose("ground", ground, grounds())
    crust, elapsed = check(crust=crust, elapsed=elapsed)
    run, ember, minute, history = _run(key, ground, crust)
    at = int(np.argmin(np.abs(run.time - elapsed)))
    watts, joules = (float(values[at]) for values in history)
    return Under(run, at, catcher(key), ember, ground, minute, watts, joules)
