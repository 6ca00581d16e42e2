"""One learner who follows a saying, worked out one number after the other.

A plain loop beside :func:`fireheat.coach.sayings.following_all`: no arrays, the speed at which arm,
pull and friction agree found by bracketing, and the times from :func:`fireheat.estimates.times`.
"""

from scipy.optimize import brentq

from fireheat import Try
from fireheat.estimates import times
from fireheat.kit.wood import my_wood

# What each saying asks for, by hand: a change of the learner's numbers, and of the wished speed.
FALL = (0.4 / 0.65) ** (1 / 4)  # of friction, for each metre a second more
ASKS = {
    "press_harder": ({"force": lambda x: 1.25 * x}, None),
    "whole_weight": ({"force": lambda x: min(1.6 * x, 500.0)}, None),
    "press_lighter": ({"force": lambda x: 0.8 * x}, None),
    "bow_faster": ({}, 1.25),
    "flat_out": ({}, float("inf")),
    "steady": ({}, 0.8),
    "longer_same_beat": ({"stroke_length": lambda x: 1.25 * x}, 1.25),
    "longer_same_speed": ({"stroke_length": lambda x: 1.25 * x}, 1.0),
    "short_quick": ({"stroke_length": lambda x: 0.5 * x}, 1.0),
    "rest_between": ({"bowing_share": lambda x: 0.77 * x}, None),
    "thinner_spindle": ({"diameter": lambda x: max(0.8 * x, 0.008)}, None),
    "thicker_spindle": ({"diameter": lambda x: 1.25 * x}, None),
    "harder_wood": ({"specific_gravity": lambda x: min(1.3 * x, 0.7)}, None),
    "softer_wood": ({"specific_gravity": lambda x: max(0.85 * x, 0.3)}, None),
    "drier_wood": ({"moisture": lambda x: min(x, 0.07)}, None),
    "grease_block": ({"block_friction": lambda x: min(x, 0.08)}, None),
    "roughen_tip": ({"friction": lambda x: 1.25 * x}, None),
    "tighten_cord": ({"slip_pull": lambda x: 1.5 * x}, None),
    "hot_day": ({"temperature_ambient": lambda x: x + 10}, None),
}


def pull(one):
    """Pull of the bow: half the friction's torque at the tip, two thirds of it in the block."""
    tip = one["friction"] * one["diameter"] / 2 / 2
    return (
        one["force"]
        * (tip + 2 / 3 * one["block_friction"] * one["block_radius"])
        / (one["diameter"] / 2)
    )


def fastest(one):
    """Hill's law at that pull, and what a hand that gains 20 m/s each second can turn round."""
    x = min(pull(one) / one["pull_max"], 1.0)
    arm = one["speed_max"] * one["curvature"] * (1 - x) / (x + one["curvature"])
    return min(arm, (20.0 * one["stroke_length"]) ** 0.5 / 2)


def follow(saying, now):
    """Return the numbers of a learner, as a dictionary, once they follow a saying."""
    changes, wish = ASKS[saying]
    then = now | {key: change(now[key]) for key, change in changes.items()}
    then["burn_in_depth"] = now["burn_in_depth"] * now["diameter"] / then["diameter"]
    then["cord_radius"] = then["diameter"] / 2
    share = now["speed"] / fastest(now)

    def at(speed):
        return then | {
            "speed": speed,
            "friction": then["friction"] * FALL ** (speed - now["speed"]),
        }

    def too_fast(speed):
        limit = fastest(at(speed))
        allowed = share * limit if wish is None else min(wish * now["speed"], limit * max(share, 1))
        return speed - allowed

    return at(brentq(too_fast, 0.0, 10.0, xtol=1e-12))


def as_try(one):
    """Make the try of such a learner; a cord that slips and a bow at rest make no heat."""
    return Try().changed(
        wood=my_wood(one["specific_gravity"]),
        speed=one["speed"] * one["bowing_share"],
        **{
            key: one[key]
            for key in (
                *("diameter", "burn_in_depth", "friction", "moisture", "temperature_ambient"),
                *("force", "block_friction", "block_radius"),
            )
        },
    )


def outcome(one):
    """Tell the time of the ember, and whether it comes before arm and patience are spent."""
    if pull(one) > one["slip_pull"]:
        return float("inf"), False
    ember = float(times(as_try(one)).ember.likely)
    above = pull(one) * one["speed"] * one["bowing_share"] - one["critical_power"]
    hold = min(one["work_above"] / above if above > 0 else float("inf"), 300.0)
    return ember, ember <= hold


def judged_by_hand(before, after):
    """Say what a saying did, from both outcomes."""
    (first, in_time), (second, still) = before, after
    if still and not in_time:
        return "helps"
    if in_time and not still:
        return "harms"
    if not in_time:
        return "no matter"
    return "helps" if second < first / 1.05 else "harms" if second > 1.05 * first else "no matter"
