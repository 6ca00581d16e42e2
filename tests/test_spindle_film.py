"""What the air takes from a hot rod that turns, against a printed correlation.

Nu = 0.11 [(Re^2/2 + Gr) Pr]^0.35 for a horizontal cylinder turning in still air: Kreith, Principles
of Heat Transfer; Incropera and others, Fundamentals of Heat and Mass Transfer, tell of the same
experiments (from memory). Air at 85 degC, midway between skin and air: Incropera, table A.4 (from
memory). A spindle stands upright; turning does most of it, so the way it lies matters little.
"""

import pytest
from scipy.constants import Stefan_Boltzmann, g

from fireheat.constants import constant_band
from fireheat.quantities import default
from fireheat.unknowns import unknown

AIR, SKIN = 293.15, 423.15  # K; a skin some 130 K above the air, near the tip of a working spindle
VISCOSITY, CONDUCTIVITY, PRANDTL = 21.6e-6, 0.0305, 0.70  # m^2/s, W/(m K), 1


def turning_film(*, diameter, speed):
    """Convection by the correlation, with radiation of charred or dark wood."""
    reynolds = speed * diameter / VISCOSITY
    grashof = g * (SKIN - AIR) * diameter**3 / (VISCOSITY**2 * (SKIN + AIR) / 2)
    nusselt = 0.11 * ((reynolds**2 / 2 + grashof) * PRANDTL) ** 0.35
    sky = (SKIN**2 + AIR**2) * (SKIN + AIR)
    radiation = constant_band("ember_emissivity").likely * Stefan_Boltzmann * sky
    return nusselt * CONDUCTIVITY / diameter + radiation


def test_the_ordinary_spindle_loses_heat_as_the_correlation_says():
    found = turning_film(diameter=default("diameter"), speed=default("speed"))
    assert default("spindle_film") == pytest.approx(found, rel=0.05)


def test_a_slow_thick_spindle_loses_a_fifth_less():
    assert turning_film(diameter=0.022, speed=0.5) == pytest.approx(20.0, rel=0.05)


@pytest.mark.parametrize(("diameter", "speed"), [(0.032, 0.2), (0.016, 2.5), (0.008, 2.0)])
def test_the_range_holds_spindles_thick_and_slow_or_thin_and_quick(diameter, speed):
    low, _, high = (default("spindle_film") * end for end in unknown("film").band)
    assert low <= turning_film(diameter=diameter, speed=speed) <= high
