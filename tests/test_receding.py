"""What wear saves, in one dimension: rubbing faces eat into wood already warm.

Both bodies in coordinates that move with their faces. From when the dust leaves on, the faces stand
at its temperature, and what they do not conduct away wears them, in equal parts. Wood arrives at a
face with the heat it has soaked up, which need not be paid again. A check on
:mod:`fireheat.heat.wearing` that shares no formula with it after that time.
"""

import numpy as np
import pytest
from oracles.conduction import depth_rise
from oracles.wood import energy_per_area
from scipy.linalg import solve_banded
from scipy.optimize import newton

from fireheat import Air, Effort, Kit
from fireheat.heat.two_stage import two_stage
from fireheat.kit.bowing import friction_power
from fireheat.kit.wood import hot_properties, wood
from fireheat.quantities import default

_STEP = 0.02  # s
_EDGES = 0.06 * np.expm1(4 * np.linspace(0, 1, 301)) / np.expm1(4)  # depths below the face, in m
_DEPTHS, _SIZES = (_EDGES[1:] + _EDGES[:-1]) / 2, np.diff(_EDGES)


class Body:
    """One body, from first smoke on; its wood comes toward the face at the speed of wear."""

    def __init__(self, conductivity, capacity, flux, time, rise):
        self.capacity, self.rise = capacity, rise
        self.inner = conductivity / np.diff(_DEPTHS)
        self.face = conductivity / _DEPTHS[0]
        self.kelvin = depth_rise(
            flux,
            time=time,
            depth=_DEPTHS,
            conductivity=conductivity,
            diffusivity=conductivity / capacity,
        )

    def step(self, wear):
        """Return the temperatures a step later, backward in time, central in space."""
        held, moved = self.capacity * _SIZES / _STEP, self.capacity * wear / 2
        bands = np.zeros((3, _SIZES.size))
        bands[0, 1:] = -self.inner - moved
        bands[2, :-1] = -self.inner + moved
        bands[1] = held
        bands[1, :-1] += self.inner - moved
        bands[1, 1:] += self.inner + moved
        bands[1, 0] += self.face
        right = held * self.kelvin
        right[0] += (self.face - 2 * moved) * self.rise
        return solve_banded((1, 1), bands, right)

    def conducted(self, kelvin):
        """Heat that goes from the face into the body. [W/m^2]."""
        return self.face * (self.rise - kelvin[0])


def ember(kit, effort, wears):
    """Return the ember's time by :func:`two_stage` and by marching, with or without wear."""
    kind, air = wood(kit.wood), Air()
    char = default("temperature_char")
    rise = char - air.temperature
    hot = hot_properties(
        kind.specific_gravity, moisture=kit.moisture, temperature=(air.temperature + char) / 2
    )
    power = friction_power(
        effort.force, friction=kit.friction, speed=effort.speed, contact=kit.contact
    )
    flux = power / (np.pi * kit.radius**2)
    temperatures = {"temperature_ambient": air.temperature, "temperature_char": char}
    energy = energy_per_area(
        kit.burn_in_depth, density=hot.density, moisture=kit.moisture, **temperatures
    )
    total = hot.effusivity + hot.effusivity_along
    smoke, known = two_stage(flux, energy_per_area=energy, effusivity=total, rise=rise)

    capacity = hot.volumetric_heat_capacity
    bodies = [
        Body(conductivity, capacity, flux * share / total, smoke, rise)
        for conductivity, share in (
            (hot.conductivity_along, hot.effusivity_along),
            (hot.conductivity, hot.effusivity),
        )
    ]
    time, worn, speed = float(smoke), 0.0, 0.0
    price = energy / kit.burn_in_depth - (capacity * rise if wears else 0.0)

    def spare(speed):  # the speed of wear and what is conducted hang on each other
        after = [body.step(speed / 2 if wears else 0.0) for body in bodies]
        taken = sum(body.conducted(now) for body, now in zip(bodies, after, strict=True))
        return flux - taken - speed * price

    while worn < kit.burn_in_depth:
        speed = newton(spare, speed, x1=speed + 0.01 * flux / price, rtol=1e-7)
        for body in bodies:
            body.kelvin = body.step(speed / 2 if wears else 0.0)
        time, worn = time + _STEP, worn + speed * _STEP
    return float(known), time - (worn - kit.burn_in_depth) / speed


STATES = [
    (Kit(), Effort()),
    (Kit(), Effort(force=80.0, speed=1.2)),
    (Kit(), Effort(force=45.0, speed=0.9)),
    (Kit(burn_in_depth=0.002), Effort()),
    (Kit(burn_in_depth=0.008), Effort()),
]


@pytest.mark.parametrize(("kit", "effort"), STATES)
def test_with_faces_that_stay_it_is_the_two_stage_curve(kit, effort):
    known, marched = ember(kit, effort, wears=False)
    assert marched == pytest.approx(known, rel=0.005)


@pytest.mark.parametrize(("kit", "effort"), STATES)
def test_wear_brings_an_ember_more_than_a_quarter_sooner(kit, effort):
    # Nearly all that dust takes, its wood holds already, a fortieth less: hardly more can be saved.
    known, marched = ember(kit, effort, wears=True)
    assert 0.25 < 1 - marched / known < 0.31
