"""Outcomes as a stopwatch would see them: dice instead of even draws, another engine for the heat.

A kit as somebody sets it is off from the truth by what the table of the unknown says. Here the
truth is thrown with dice, turned into watts and wood by its own lines, and followed by
:func:`oracles.horn.horn`; a luck of its own comes last. What the march leaves out is not thrown:
the other engine is the outcome that it may err from.
"""

import numpy as np
from oracles.horn import Bodies, horn

from fireheat.data import table
from fireheat.kit.kit import Try

NINETEEN_IN_TWENTY = 1.6448536269514722  # standard deviations
SET = ("friction", "force", "speed", "burn_in_depth", "diameter", "moisture")
WOODS = ("western_redcedar", "northern_white_cedar", "american_basswood")


def thrown(dice, count, *, guessed=(), measured=()):
    """Values of each row of the table, by name; what a reader sets and nobody doubts is not off."""
    values = {}
    for key, row in table("spread").items():
        factor = row["kind"] == "factor"
        neutral = 1.0 if factor else 0.0
        ends = row["low"], row["likely"], row["high"]
        if row["group"] == "set":
            ends = (neutral,) * 3
            if key in guessed:
                ends = row["low"], neutral, row["high"]
            elif key in measured:
                ends = row["measured"][0], neutral, row["measured"][1]
        low, middle, high = np.log(ends) if factor else ends
        place = dice.standard_normal(count) / NINETEEN_IN_TWENTY
        value = middle + np.where(place < 0, middle - low, high - middle) * place
        values[key] = np.exp(value) if factor else value
    return values


def outcomes(states, count, *, seed, guessed=(), measured=()):
    """Times of the ember for so many tries of each state: an array with a row for each."""
    dice = np.random.default_rng(seed)
    off = thrown(dice, (len(states), count), guessed=guessed, measured=measured)
    return followed(states, off)[1] * off["luck"]


def followed(states, off):
    """First smoke and ember of each state, so far off, before luck: two arrays."""
    now = {key: np.array([[state.values()[key]] for state in states]) for key in Try().values()}
    fields = {
        "cord": [[state.kit.cord_radius or state.kit.radius] for state in states],
        "film": [[state.air.film] for state in states],
    }
    fields = {key: np.array(value) for key, value in fields.items()}
    radius = now["diameter"] * off["diameter"] / 2
    power = now["force"] * off["force"] * now["friction"] * off["friction"]
    power = power * off["hot_friction"] * now["speed"] * off["speed"] * off["creep"]
    power = power * off["tip_shape"] / 2 * radius / (fields["cord"] * off["diameter"])
    smoke = 273.15 + 275 + off["temperature_smoke"]
    made = Bodies(
        power=power,
        radius=radius * np.sqrt(off["area"]),
        depth=now["burn_in_depth"] * off["burn_in_depth"] / off["area"],
        spindle_share=np.clip(0.5 + off["spindle_share"], 0.0, 1.0),
        film=fields["film"] * off["film"],
        specific_gravity=now["specific_gravity"] * off["density"],
        moisture=np.clip(now["moisture"] + off["moisture"], 0.0, 0.2499),
        conducting=off["conductivity"],
        axial_factor=now["axial_factor"] * off["grain"],
        energy=off["energy"],
        ambient=now["temperature_ambient"],
        smoke=smoke,
        char=np.maximum(273.15 + 350 + off["temperature_char"], smoke),
    )
    flat = Bodies(*(np.broadcast_to(value, power.shape).ravel() for value in made))
    return [times.reshape(power.shape) for times in horn(flat)]


def kits(count, *, seed):
    """Tries as clubs set them, thrown evenly by ratio from ordinary ranges; no arm like another."""
    dice = np.random.default_rng(seed)

    def between(low, high):
        return low * (high / low) ** dice.random()

    return [
        Try().changed(
            diameter=between(0.010, 0.020),
            force=between(45, 100),
            speed=between(0.8, 1.4),
            friction=between(0.28, 0.45),
            burn_in_depth=between(0.0025, 0.006),
            moisture=between(0.06, 0.13),
            wood=str(
                dice.choice(["western_redcedar", "northern_white_cedar", "american_basswood"])
            ),
            temperature_ambient=between(273.15, 303.15),
        )
        for _ in range(count)
    ]


def coverage(bands, found):
    """Share of outcomes of each state between the ends of its band; at an end counts as inside."""
    low, high = (np.array([[band[end]] for band in bands]) for end in (0, 2))
    return np.mean((low <= found) & (found <= high), axis=1)
