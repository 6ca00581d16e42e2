"""Invented learners in whom one thing is wrong, and what a leader would see of their tries.

A learner in whom nothing is wrong is drawn from ``sound`` of ``data/seen.toml``, with all that
nobody knows (:mod:`fireheat.unknowns`); the ember comes, and keeps. Then one cause is planted in
the same learner, and those are kept whose try now fails. Signs follow from the model: smoke, dust
and ember from the march's shadow, the bow from the arm, the heap and the catcher from the ember.
"""

from typing import NamedTuple

import numpy as np

from ..bands import Band
from ..cases import case
from ..data import table
from ..ember.catchers import catcher
from ..ember.ember import dust_mass, heap_mass
from ..ember.ignition import will_it_keep
from ..ember.lasting import lastings
from ..heat.shadow import quick_smoke
from ..kit.bowing import bow_pull
from ..kit.kit import Kit, Try
from ..kit.wood import density
from ..person.arm import arm_speed, hold_time
from ..quantities import check_whole, choose, default
from ..unknowns import unknown, unknowns

_NOT_DRAWN = ("depth_exponent",)  # compares two diameters, of which there is one here
_SWEPT = (
    *("diameter", "force", "friction", "moisture", "specific_gravity", "burn_in_depth"),
    "temperature_ambient",
)
_NO_RANGE = "catchers", "ground", "source", "status"
_BY_PULL = "slips_at", "press_for"
_OFTEN_ENOUGH = 0.05, 0.95  # nine of ten: what lies beyond is nobody's ordinary bad luck
_POOL = 3  # so many drawn for each that is wanted: more than half of them are sound


class Planted(NamedTuple):
    """What would be seen of invented learners.

    Attributes
    ----------
    causes : tuple of str
        What was planted, by key; in this order.
    signs : tuple of str
        What can be seen and follows from the model, by key; in this order.
    cause : ndarray of int, shape (n,)
        Which of the causes each learner has. [1]
    seen : ndarray of bool, shape (n, signs)
        What is seen of each. [1]
    """

    causes: tuple[str, ...]
    signs: tuple[str, ...]
    cause: np.ndarray
    seen: np.ndarray


def planted(count: int = 200, *, seed: int = 0) -> Planted:
    """Draw sound learners, plant each cause in them, and tell what would be seen.

    Parameters
    ----------
    count : int, optional
        How many sound learners; each cause is planted in all of them, and kept where it counts.
    seed : int, optional
        Where the draws begin.

    Returns
    -------
    Planted
        Of those whose try fails by what was planted.

    Raises
    ------
    InputError
        If a number is not a whole one.

    Notes
    -----
    One thing is wrong at a time. Ranges are assumptions; each cause counts as much as another.

    References
    ----------
    .. [1] ``data/seen.toml``; :meth:`fireheat.cases.Case.quick`,
       :func:`fireheat.ember.ignition.will_it_keep`, :func:`fireheat.ember.lasting.lastings`.

    Examples
    --------
    >>> made = planted(40)
    >>> steam = made.signs.index("steam")
    >>> for cause in ("wet_wood", "heavy_wood"):
    ...     print(round(float(made.seen[made.cause == made.causes.index(cause), steam].mean())))
    1
    0
    """
    rng = np.random.default_rng(check_whole("seed", seed, least=0))
    count = check_whole("count", count, least=1)
    rows = table("seen")
    sound = _drawn(rows["sound"], _POOL * count, rng)
    good = np.flatnonzero(_try_of(sound).works)[:count]
    sound = {key: values[good] for key, values in sound.items()}
    keys = tuple(rows["planted"])
    with_it = [_with(sound, row, rng) for row in rows["planted"].values()]
    made = _try_of({key: np.concatenate([one[key] for one in with_it]) for key in sound})
    cause = np.repeat(np.arange(len(keys)), len(good))
    fails = ~made.works & np.any(made.seen, axis=1)
    return Planted(keys, signs(), cause[fails], made.seen[fails])


def signs() -> tuple[str, ...]:
    """Name what can be seen and follows from the model.

    Examples
    --------
    >>> signs()[0]
    'no_smoke'
    """
    rows = table("seen")["observations"]
    return tuple(key for key, row in rows.items() if row["known_by"] == "model")


# ---- learners -----------------------------------------------------------------------------------


def _drawn(ranges, count, rng):
    """Draw each quantity evenly between its ends, and the share of luck in all that is unknown."""
    made = {key: rng.uniform(*ends, count) for key, ends in ranges.items() if key not in _NO_RANGE}
    made["lands on"] = _landing(ranges["catchers"], ranges["ground"], count, rng)
    for key in ("heap", "catcher", *_off_keys()):
        made[f"luck {key}"] = rng.uniform(*_OFTEN_ENOUGH, count)
    return made


def _with(sound, row, rng):
    """Return the same learners with one cause planted in them."""
    count, made = len(sound["force"]), dict(sound)
    for key, ends in row.items():
        if key not in (*_NO_RANGE, *_BY_PULL):
            made[choose("planted quantity", key, sound)] = rng.uniform(*ends, count)
    if "slips_at" in row:
        made["slip_pull"] = _pull(made) * rng.uniform(*row["slips_at"], count)
    if "press_for" in row:
        wanted = made["pull_max"] * rng.uniform(*row["press_for"], count)
        made["force"] = wanted * made["force"] / _pull(made)
    if "catchers" in row:
        ground = row.get("ground", table("seen")["sound"]["ground"])
        made["lands on"] = _landing(row["catchers"], ground, count, rng)
    return made


def _off_keys():
    return [
        key
        for key, row in unknowns().items()
        if row.group in ("wood", "open", "luck") and key not in _NOT_DRAWN
    ]


def _landing(catchers, ground, count, rng):
    """Draw what embers fall on: seconds that one keeps there, at the low end, likely and high."""
    rows = lastings({key: catcher(key) for key in catchers}, ground=ground)
    ends = np.array([rows[key].alone for key in catchers])
    return ends[rng.integers(len(ends), size=count)]


# ---- their tries --------------------------------------------------------------------------------


class _Seen(NamedTuple):
    works: np.ndarray
    seen: np.ndarray


def _pull(now):
    return bow_pull(
        now["force"],
        friction=now["friction"],
        radius=now["diameter"] / 2,
        block_friction=now["block_friction"],
        block_radius=default("block_radius"),
    )


def _try_of(now) -> _Seen:
    """Bow for all of them, and look."""
    marks = table("seen")["marks"]
    bow = _bowed(now, marks)
    hot = _heated(now, bow, marks)
    works = hot["ember"] & hot["keeps"]
    dark, turning = hot["dark"], bow["power"] > marks["turns"]
    there = {
        "no_smoke": ~hot["smoke"],
        "smoke_only": hot["smoke"] & ~hot["ember"] & (bow["time"] >= marks["late"]),
        "pale_dust": ~dark & turning,
        "little_dust": dark & (hot["heap"] < marks["little"]),
        "dust_out": dark & ~hot["ember"],
        "dies": hot["ember"] & ~hot["keeps"],
        "slow": bow["slow"],
        "stalls": bow["stalls"],
        "stands": bow["slips"],
        "easy": (bow["pull"] < marks["easy"]) & ~bow["slips"],
        "top_hot": (bow["top share"] > marks["top_share"]) & turning,
        "steam": (hot["water"] > marks["water_share"]) & turning,
    }
    return _Seen(works, np.column_stack([there[key] for key in signs()]))


def _bowed(now, marks):
    """Tell how the bow goes: its speed, and how long the arm heats the wood."""
    pull = _pull(now)
    speed = np.minimum(
        now["speed"], arm_speed(pull, pull_max=now["pull_max"], speed_max=now["speed_max"])
    )
    slips = pull > now["slip_pull"]
    arm = {key: now[key] for key in ("critical_power", "work_above")}
    hold = hold_time(pull * speed, **arm)
    fades = (hold < np.minimum(now["bowing_time"], marks["early"])) & ~slips
    tip = bow_pull(1.0, friction=now["friction"], radius=now["diameter"] / 2)
    turned = np.where(slips, 0.0, speed)
    stalls = (speed < marks["stalls"]) & ~slips
    return {
        "pull": pull,
        "turned": turned,
        "slips": slips,
        "stalls": stalls,
        "slow": ((speed < marks["slow"]) | fades) & ~stalls & ~slips,
        "time": np.minimum(now["bowing_time"], hold),
        "power": tip * now["force"] * turned,
        "top share": 1 - tip * now["force"] / pull,
    }


def _heated(now, bow, marks):
    """Tell what becomes of wood and dust in the time there is."""
    off = {key: unknowns()[key].at(now[f"luck {key}"]) for key in _off_keys()}
    swept = {key: now[key] for key in _SWEPT} | {"speed": bow["turned"]}
    one = case(Try(), swept=swept, off=off)
    smoke, ember = one.quick()
    hot = quick_smoke(one.contact, power=one.power, rise=one.rise) * one.luck
    time = bow["time"]
    dark = (hot <= time) & (smoke <= time)
    with np.errstate(invalid="ignore", divide="ignore"):
        worn = np.where(dark, (time - hot) / np.maximum(ember - hot, 1e-9), 0.0)
    worn = np.clip(worn, 0.0, marks["worn_most"])
    dust = dust_mass(
        now["burn_in_depth"],
        radius=now["diameter"] / 2,
        density=density(now["specific_gravity"]),
    )
    heap = worn * heap_mass(dust, heap_share=now["heap_share"])
    least = will_it_keep(heap_mass(Kit().dust)).mass_least
    lasts = now["lands on"]
    factor = unknown("luck")  # any factor: its curve, with other ends
    return {
        "smoke": smoke <= time,
        "dark": dark,
        "heap": heap,
        "ember": (ember <= time) & (heap > factor.at(now["luck heap"], least)),
        "keeps": factor.at(now["luck catcher"], Band(*lasts.T)) >= marks["keeps"],
        "water": one.water_energy / one.energy,
    }
