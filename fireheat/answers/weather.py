"""Weather in the wood: how moist it settles outdoors and on a warm rack, and what that costs."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from ..bands import Band
from ..estimates import times
from ..kit.kit import Try
from ..kit.moisture import equilibrium_moisture, warmed_humidity
from ..kit.wood import density, energy_parts
from ..quantities import check, default
from ..spread import ratios, spread


@dataclass(frozen=True)
class Store:
    """Wood that has long been kept in one air, and what an ember from it takes, bowed outdoors.

    Attributes
    ----------
    temperature : float
        Temperature of the air where it is kept. [K]
    relative_humidity : float
        Relative humidity there. [1]
    moisture : float
        Moisture that it settles at: water over dry wood. [1]
    bound : float
        No ember sooner than this. [s]
    ember : Band of float
        Estimate, with the band of the wood alone. [s]
    all : Band of float
        Estimate, with all we do not know. [s]
    ratio : Band of float
        Time of the ember over that of the wood kept outdoors, all else alike. [1]
    wood, water : float
        Heat that one ember's dust takes, and what its water takes. [J]
    """

    temperature: float
    relative_humidity: float
    moisture: float
    bound: float
    ember: Band[float]
    all: Band[float]
    ratio: Band[float]
    wood: float
    water: float

    @property
    def water_share(self) -> float:
        """Part of the dust's heat that only boils water."""
        return self.water / (self.wood + self.water)


class Stores(NamedTuple):
    """The same wood kept in two places.

    Attributes
    ----------
    outdoors, rack : Store
        Kept outdoors, and on a rack where the same air is warmer.
    """

    outdoors: Store
    rack: Store


def stores(state: Try, *, warming: float, measured: Mapping[str, float | None] = {}) -> Stores:
    """Compare wood kept outdoors with wood kept on a rack in the same air, warmed.

    Parameters
    ----------
    state : Try
        The try; its kit's moisture is replaced by what the wood settles at, and its air is that
        outdoors, where the bowing is done too.
    warming : float
        How much warmer it is at the rack. [K]
    measured : mapping, optional
        How well what is set was measured, as :func:`fireheat.spread.spread` takes it.

    Returns
    -------
    Stores
        Outdoors, and on the rack.

    Raises
    ------
    InputError
        If the wood would settle wetter than 25 %, or the air is out of range.

    Notes
    -----
    For wood that has had its time: days for a thin stick, weeks for a board (common practice, no
    source). Rain is left out: it puts water into wood that no air can. So is the breath of people
    and the steam of kettles, which make the air at a rack moister than this.

    References
    ----------
    .. [1] :func:`fireheat.kit.moisture.equilibrium_moisture` in the air of :func:`warmed_humidity`.

    Examples
    --------
    >>> from fireheat import Air
    >>> outdoors, rack = stores(Try(air=Air(temperature=283.15)), warming=15.0)
    >>> outdoors.moisture > rack.moisture
    True
    """
    kit, air, warming = state.kit, state.air, check(warming=warming)
    temperature = air.temperature + np.array([0.0, warming])
    humidity = warmed_humidity(
        air.temperature, relative_humidity=air.relative_humidity, warming=np.array([0.0, warming])
    )
    moisture = equilibrium_moisture(temperature, relative_humidity=humidity)
    found = times(state, moisture=moisture)
    swept = {"moisture": moisture}
    wide = spread(state, swept=swept, draws=128, found=found, measured=measured)
    change = ratios(state, swept=swept, against=0, found=found)
    parts = energy_parts(
        kit.burn_in_depth,
        density=density(kit.specific_gravity),
        moisture=moisture,
        temperature_ambient=air.temperature,
        temperature_char=default("temperature_char"),
    )
    area = np.pi * kit.radius**2
    return Stores(
        *(
            Store(
                temperature=float(temperature[at]),
                relative_humidity=float(humidity[at]),
                moisture=float(moisture[at]),
                bound=now.bound,
                ember=now.ember,
                all=wide.all.at(at),
                ratio=change.at(at),
                wood=float(parts.wood * area),
                water=float(parts.water[at] * area),
            )
            for at, now in enumerate(map(found.at, (0, 1)))
        )
    )
