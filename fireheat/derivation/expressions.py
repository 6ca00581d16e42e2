"""Every result that a model repeats in NumPy, by name."""

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from sympy import Expr

from .arm import derived_arm_speed, derived_best_pull_fraction
from .bound import derived_bound, derived_power, derived_torque
from .thick import derived_smoke, derived_surface_rise
from .tip import derived_dome_coefficient, derived_wear_limit
from .two_stage import (
    derived_area_exponent,
    derived_area_exponent_with_depth,
    derived_conducted_share,
    derived_dust_ratio,
)


@cache
def expressions() -> Mapping[str, Expr]:
    """Return every result that a NumPy model repeats, by name; letters as in ``SYMBOLS``."""
    return MappingProxyType(
        {
            "torque_uniform_pressure": derived_torque("uniform_pressure"),
            "torque_uniform_wear": derived_torque("uniform_wear"),
            "dome_coefficient": derived_dome_coefficient(),
            "wear_limit": derived_wear_limit(),
            "power": derived_power(cord_at_tip=False),
            "bound": derived_bound(),
            "surface_rise": derived_surface_rise(),
            "smoke": derived_smoke(),
            "conducted_share": derived_conducted_share(),
            "dust_ratio": derived_dust_ratio(),
            "area_exponent": derived_area_exponent(),
            "area_exponent_with_depth": derived_area_exponent_with_depth(),
            "arm_speed_hill": derived_arm_speed("hill"),
            "arm_speed_linear": derived_arm_speed("linear"),
            "best_pull_fraction": derived_best_pull_fraction("hill"),
        }
    )
