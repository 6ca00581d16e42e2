"""Tries that fail by one planted cause, one learner after the other: another way to the same.

Nothing of :mod:`fireheat.coach.planted` is used, and none of its numbers: ranges are other ones,
all unknowns are drawn to their far ends, times are marched and not read off the shadow, each leader
has an eye of their own, and the signs of a learner are worked out one by one.
"""

from functools import cache

import numpy as np

from fireheat.cases import case
from fireheat.ember.ignition import will_it_keep
from fireheat.ember.lasting import lasting
from fireheat.heat.warming import warm_up
from fireheat.kit.kit import Try
from fireheat.kit.wood import density
from fireheat.unknowns import unknowns

SOUND = {
    "diameter": (0.011, 0.018),
    "force": (40.0, 80.0),
    "friction": (0.28, 0.5),
    "speed": (0.85, 1.35),
    "moisture": (0.06, 0.13),
    "specific_gravity": (0.26, 0.42),
    "burn_in_depth": (0.0025, 0.0055),
    "temperature_ambient": (273.0, 303.0),
    "block": (0.04, 0.2),
    "caught": (0.45, 0.85),
    "pull_max": (55.0, 140.0),
    "speed_max": (1.5, 2.6),
    "critical_power": (8.0, 22.0),
    "work_above": (400.0, 1800.0),
    "slip": (32.0, 100.0),
    "stop": (90.0, 130.0),
}
WRONG = {
    "light_press": {"force": (15.0, 37.0)},
    "slow_bow": {"speed": (0.3, 0.72)},
    "polished_tip": {"friction": (0.1, 0.23)},
    "wet_wood": {"moisture": (0.16, 0.245)},
    "thick_spindle": {"diameter": (0.021, 0.031)},
    "heavy_wood": {"specific_gravity": (0.52, 0.75)},
    "thin_spindle": {"diameter": (0.0045, 0.008)},
    "notch": {"caught": (0.03, 0.18)},
    "stopped": {"stop": (12.0, 55.0)},
    "spent_arm": {"critical_power": (2.0, 5.0), "work_above": (80.0, 300.0)},
    "slipping_cord": {"slip": (5.0, 12.0)},
    "dry_block": {"block": (0.35, 0.8)},
    "hard_press": {"force": (200.0, 500.0), "slip": (250.0, 400.0), "pull_max": (45.0, 90.0)},
    "cold_catcher": {"on": (("steel", "stone", "heavy_foil"), "board")},
    "damp_ground": {"on": (("dead_leaf", "papery_bark", "card"), "wet soil")},
}
GOOD = ("thick_bark", "wood_chip", "dead_leaf"), "air gap"
CRAFT = {  # what only the craft knows: as the table's words have it
    "polished_tip": {"shiny": 0.7},
    "light_press": {"shiny": 0.3},
    "slipping_cord": {"shiny": 0.3},
    "dry_block": {"shiny": 0.3},
    "thin_spindle": {"walks": 0.3},
}
SELDOM = 0.03


def failed(count, *, seed=0):
    """At most so many tries of each cause: what was seen of learners who but for it had an ember.

    Seven times as many learners are drawn: few fail by water alone.
    """
    rng, drawn = np.random.default_rng(seed), 7 * count
    sound = {key: rng.uniform(*ends, drawn) for key, ends in SOUND.items()}
    sound["on"] = np.array([_landing(*GOOD, rng) for _ in range(drawn)])
    off = {
        key: row.at(rng.uniform(0.02, 0.98, drawn))
        for key, row in unknowns().items()
        if row.group in ("wood", "open", "luck") and key != "depth_exponent"
    }
    least = will_it_keep(2e-4).mass_least
    off["least"] = np.exp(rng.uniform(np.log(least.low), np.log(least.high) - 0.5, drawn))
    good = np.array([works for works, _ in _signs(sound, off, rng)])
    sound, off = ({key: values[good] for key, values in each.items()} for each in (sound, off))
    return {cause: _failed_by(cause, sound, off, rng)[:count] for cause in WRONG}


def _failed_by(cause, sound, off, rng):
    changed = dict(sound)
    for key, ends in WRONG[cause].items():
        many = len(sound[key])
        fresh = [_landing(*ends, rng) for _ in range(many)] if key == "on" else None
        changed[key] = np.array(fresh or rng.uniform(*ends, many))
    tries = _signs(changed, off, rng)
    return [seen | _by_craft(cause, rng) for works, seen in tries if not works and seen]


def _landing(catchers, ground, rng):
    """Seconds an ember keeps on one of some catchers: near its likely time, or sooner."""
    low, likely, _ = _keeps(str(rng.choice(catchers)), ground)
    return float(np.exp(rng.uniform(0.8 * np.log(likely) + 0.2 * np.log(low), np.log(likely))))


@cache
def _keeps(catcher, ground):
    return lasting(catcher, ground=ground).alone


def _by_craft(cause, rng):
    return {
        sign for sign in ("shiny", "walks") if rng.random() < CRAFT.get(cause, {}).get(sign, SELDOM)
    }


def _signs(now, off, rng):
    """Whether each try works, and what is seen of it."""
    off, least = {key: off[key] for key in off if key != "least"}, off["least"]
    tip = 0.5 * now["friction"] * now["force"]
    top = 2 / 3 * now["block"] * now["force"] * 0.004 / (now["diameter"] / 2)
    share = (tip + top) / now["pull_max"]
    can = np.maximum(0.0, now["speed_max"] * 0.25 * (1 - share) / (share + 0.25))
    speed = np.minimum(now["speed"], can)
    slips = tip + top > now["slip"]
    turned = np.where(slips, 0.0, speed)
    names = ("diameter", "force", "friction", "moisture", "specific_gravity", "burn_in_depth")
    swept = {key: now[key] for key in (*names, "temperature_ambient")}
    one = case(Try(), swept=swept | {"speed": turned}, off=off)
    times = one.smoke, warm_up(one.contact, power=one.power, rise=one.rise) * one.luck, one.ember
    wet = one.water_energy / (one.water_energy + one.dry_energy)
    worn_off = density(now["specific_gravity"]) * now["burn_in_depth"] * now["diameter"] ** 2
    worn_off *= np.pi / 4
    eye = rng.uniform(0.9, 1.1, (6, len(tip)))
    return [
        _looked_at(
            *(each[i] for each in times),
            hold=_hold(
                (tip[i] + top[i]) * speed[i], now["critical_power"][i], now["work_above"][i]
            ),
            stop=now["stop"][i],
            speed=speed[i],
            slips=slips[i],
            pull=tip[i] + top[i],
            top=top[i] / (tip[i] + top[i]),
            turned=tip[i] * turned[i],
            wet=wet[i],
            dust=worn_off[i] * now["caught"][i],
            least=least[i],
            lasts=now["on"][i],
            eye=eye[:, i],
        )
        for i in range(len(tip))
    ]


def _hold(power, steady, store):
    return store / (power - steady) if power > steady else np.inf


def _looked_at(
    smoke, hot, ember, *, hold, stop, speed, slips, pull, top, turned, wet, dust, **more
):
    """Whether one try works, and what is seen of it."""
    least, lasts, eye = more["least"], more["lasts"], more["eye"]
    time, seen = min(hold, stop), set()
    dark = max(hot, smoke) <= time
    made = 0.0
    if dark:
        made = dust * min(1.5, (time - hot) / (ember - hot) if np.isfinite(ember) else 0.0)
    glows = ember <= time and made > least
    if smoke > time:
        seen.add("no_smoke")
    elif not glows and time >= 90:
        seen.add("smoke_only")
    if turned > 1 and not dark:
        seen.add("pale_dust")
    if dark and made < 0.09e-3 * eye[0]:
        seen.add("little_dust")
    if dark and not glows:
        seen.add("dust_out")
    if glows and lasts < 60:
        seen.add("dies")
    if slips:
        seen.add("stands")
    elif speed < 0.2 * eye[1]:
        seen.add("stalls")
    elif speed < 0.7 * eye[2] or hold < min(stop, 60):
        seen.add("slow")
    if pull < 8 * eye[3] and not slips:
        seen.add("easy")
    if top > 0.45 * eye[4] and turned > 1:
        seen.add("top_hot")
    if wet > 0.42 * eye[5] and turned > 1:
        seen.add("steam")
    return glows and lasts >= 60, seen
