"""Fit the march's quick shadow, and write fireheat/data/shadow.toml. The only command that does.

    python tests/tools/fit_shadow.py

Kits are drawn evenly over the whole of the sliders, woods from light to heavy, all that nobody
knows, in millimetres and in grams; and, so that no corner is left to chance, evenly over the range
of the bare numbers themselves. Other kits, thrown with dice, say how far the shadow errs. Half a
minute. Run it again when a test says so: when the march, a slider, a wood or ``spread.toml`` has
moved.
"""

from datetime import timedelta
from pathlib import Path

import numpy as np
from scipy.stats import qmc

from fireheat.cases import Case, case
from fireheat.data import table
from fireheat.heat import shadow
from fireheat.heat.contact import Contact
from fireheat.heat.material import Material
from fireheat.heat.warming import least_power, warm_up
from fireheat.heat.wearing import wearing
from fireheat.kit.kit import Try
from fireheat.kit.wood import woods
from fireheat.quantities import quantity
from fireheat.unknowns import unknowns

TABLE = Path(__file__).parents[2] / "fireheat" / "data" / "shadow.toml"
SWEPT = ("diameter", "force", "friction", "speed", "moisture", "temperature_ambient")
RANGE = {
    "ember": {
        "spare": (0.0099, 0.996),
        "floor": (0.006, 0.988),
        "fourier": (0.001, 16.0),
        "chi": (0.52, 0.981),
        "spindle_share": (0.0, 1.0),
        "ratio": (0.2, 0.85),
        "biot": (0.05, 2.1),
        "depth": (0.005, 16.0),
    },
    "smoke": {"spare": (0.02, 0.9999), "ratio": (0.2, 0.85), "biot": (0.04, 2.2)},
}
WEIGHTS = {
    "ember": {
        "spare": 0.175,
        "floor": 0.175,
        "fourier": 0.175,
        "chi": 0.325,
        "spindle_share": 0.325,
        "ratio": 0.4,
        "biot": 0.325,
    },
    "smoke": {"spare": 0.1, "ratio": 0.1875, "biot": 0.125},
}
DRAWN, CORNERS, HELD_OUT = 2**14, 2**12, 6000
WATCHED = 48  # kits whose times are kept, by which a test sees that something moved
TEN_MINUTES = timedelta(minutes=10).total_seconds()
WORDS = "the march or what it is fed moved: run python tests/tools/fit_shadow.py"


# ---- kits -----------------------------------------------------------------------------------


def dimensions():
    """Return how many shares one kit takes."""
    return len(SWEPT) + 1 + len(unknowns())


def drawn(shares):
    """Make a case of all kits whose shares are given, one a row: woods in turn, half in grams.

    Woods of one continent are enough: they differ by density alone, and those are light and heavy.
    """
    some, made = [row.key for row in woods().values() if "north_america" in row.regions], []
    for turn, part in enumerate(np.array_split(shares, 2 * len(some))):
        dust = ("burn_in_depth", "dust_mass")[turn % 2]
        made.append(_one_wood(some[turn // 2], dust, part.T))
    return joined(made)


def _one_wood(wood, dust, shares):
    """Make cases of one wood, its dust in millimetres or in grams."""
    other = {"burn_in_depth": "dust_mass", "dust_mass": "burn_in_depth"}[dust]
    swept, off, left = {}, {}, iter(shares)
    for key in (*SWEPT, dust):
        low, high = quantity(key).slider
        swept[key] = low + (high - low) * next(left)
    for key, row in unknowns().items():
        share = next(left)
        if key not in (other, "depth_exponent"):
            off[key] = row.at(np.clip(share, 1e-3, 1 - 1e-3))
    off["spindle_share"] = np.clip(off["spindle_share"], -0.5, 0.5)
    off["moisture"] = np.clip(swept["moisture"] + off["moisture"], 0, 0.2499) - swept["moisture"]
    return case(Try().changed(wood=wood), swept=swept, off=off)


def joined(cases):
    """Put cases side by side."""

    def along(*path):
        values = []
        for one in cases:
            value = one
            for name in path:
                value = getattr(value, name)
            values.append(np.broadcast_to(value, np.shape(one.power)))
        return np.concatenate(values)

    spindle, board = (
        Material(
            along("contact", body, "conductivity_radial"),
            along("contact", body, "conductivity_axial"),
            along("contact", body, "volumetric_heat_capacity"),
        )
        for body in ("spindle", "board")
    )
    contact = Contact(
        radius=along("contact", "radius"),
        length=along("contact", "length"),
        film=along("contact", "film"),
        spindle=spindle,
        board=board,
    )
    names = [name for name in Case.__dataclass_fields__ if name != "contact"]
    return Case(**{name: along(name) for name in names}, contact=contact)


def corners(shares):
    """Make kits evenly over the bare numbers themselves; what is not bare about them is any."""
    ends = RANGE["ember"]

    def between(name, share, even=True):
        low, high = ends[name]
        return low + (high - low) * share if even else low * (high / low) ** share

    biot, ratio, split, chi, deep, spare = shares.T
    radius, along, capacity, rise = 0.008, 0.25, 6e5, 330.0
    across = between("ratio", ratio) * along
    depth = between("depth", deep, even=False) * radius
    contact = _plain_contact(radius, along, across, capacity, between("biot", biot))
    share, energy = between("spindle_share", split), capacity * rise * depth * np.pi * radius**2
    least = least_power(contact, rise=rise, depth=depth, spindle_share=share)
    return contact, {
        "power": least / (1 - between("spare", spare, even=False)),
        "rise": np.full(len(shares), rise),
        "energy": energy / between("chi", chi),
        "depth": depth,
        "spindle_share": share,
    }


def _plain_contact(radius, along, across, capacity, biot):
    return Contact(
        radius=radius,
        length=1.0,
        film=biot * along / radius,
        spindle=Material(across, along, capacity),
        board=Material(np.sqrt(across * along), across, capacity),
    )


def smoking(shares):
    """Make kits evenly over the bare numbers of first smoke."""
    ends = {key: np.array(value) for key, value in RANGE["smoke"].items()}
    spare, ratio, biot = shares.T
    radius, along, capacity, rise = 0.008, 0.25, 6e5, 255.0
    across = (ends["ratio"][0] + np.ptp(ends["ratio"]) * ratio) * along
    biot = (ends["biot"][0] + np.ptp(ends["biot"]) * biot) * 1.0
    contact = _plain_contact(radius, along, across, capacity, biot)
    spare = ends["spare"][0] * (ends["spare"][1] / ends["spare"][0]) ** spare
    power = rise / contact.steady / (1 - spare)
    return contact, {"power": power, "rise": np.full(len(shares), rise)}


# ---- the march, and the fit -----------------------------------------------------------------


def marched(contact, numbers, shape):
    """Follow kits side by side, some hundreds at once, and return the times of their embers."""
    contact, numbers, _ = shadow.side_by_side(contact, *numbers.values())
    times = np.empty(shape)
    for start in range(0, shape[0], 256):
        some = np.arange(start, min(start + 256, shape[0]))
        part, (power, rise, energy, depth, share) = shadow.some_of(some, contact, numbers)
        times[some] = wearing(
            part, power=power, rise=rise, energy=energy, depth=depth, spindle_share=share
        ).ember
    return times


def ember_parts(contact, numbers):
    """Times of the ember by the march and by the closed curve, and the bare numbers."""
    contact, flat, shape = shadow.side_by_side(contact, *numbers.values())
    _, rise, _, depth, share = flat
    least = least_power(contact, rise=rise, depth=depth, spindle_share=share)
    closed, groups = shadow._ember_groups(contact, least, *flat)
    return marched(contact, numbers, shape), closed, groups


def fitted(which, times, closed, groups, weigh):
    """Fit the polynomial to what the march says over what the curve says."""
    inside = np.isfinite(times) & held_by(RANGE[which], groups)
    groups = {name: values[inside] for name, values in groups.items()}
    wanted = np.log(times[inside] / closed[inside])
    terms = shadow._products(groups, RANGE[which], WEIGHTS[which]).T
    early = times[inside] < TEN_MINUTES
    given = np.where(early, 1.0, 0.4) * weigh[inside]
    weight = given
    for _ in range(4):  # the worst weigh more each time
        known = np.linalg.lstsq(terms * weight[:, np.newaxis], wanted * weight, rcond=1e-12)[0]
        worse = np.abs(terms @ known - wanted) / np.where(early, 0.006, 0.03)
        weight = given * np.sqrt(1 + worse**1.5)
    return known, int(np.sum(inside))


def held_by(ends, groups):
    """Tell which kits have all their bare numbers within range."""
    within = [(low <= groups[key]) & (groups[key] <= high) for key, (low, high) in ends.items()]
    return np.all(within, axis=0)


def errors(found, times):
    """Say how far a shadow errs, in per cent: half of the kits, 99 %, the worst, and later ones."""
    both = np.isfinite(times) & ~np.isnan(found)
    off, early = 100 * np.abs(found[both] / times[both] - 1), times[both] < TEN_MINUTES
    return {
        "half_within": float(np.quantile(off[early], 0.5)),
        "ninety_nine_within": float(np.quantile(off[early], 0.99)),
        "worst": float(np.max(off[early])),
        "after_ten_minutes_ninety_nine_within": float(np.quantile(off[~early], 0.99)),
        "after_ten_minutes_worst": float(np.max(off[~early])),
    }


def held_out(seed, count):
    """Throw kits with dice, such as no fit has seen."""
    return drawn(np.random.default_rng(seed).random((count, dimensions())))


def watched():
    """Return power and times of a few kits: if these move, the shadow is no longer the march's."""
    some = held_out(7, WATCHED)
    return {"power": some.power, "smoke": some.smoke, "ember": some.ember}


# ---- all together ---------------------------------------------------------------------------


def even(count, size):
    """Return shares that fill a space evenly, the same each time."""
    return qmc.Sobol(size, scramble=False).random(2 * count)[count:]


def fit_ember():
    """Fit the ember's shadow to drawn kits and to corners."""
    some = drawn(even(DRAWN, dimensions()))
    many = [ember_parts(some.contact, some.march), ember_parts(*corners(even(CORNERS, 6)))]
    weigh = [np.full(part[0].shape, weight) for part, weight in zip(many, (1.0, 0.4), strict=True)]
    groups = {name: np.concatenate([part[2][name] for part in many]) for name in RANGE["ember"]}
    times, closed = (np.concatenate([part[place] for part in many]) for place in (0, 1))
    return fitted("ember", times, closed, groups, np.concatenate(weigh))


def fit_smoke():
    """Fit the shadow of first smoke."""
    contact, numbers = smoking(even(2**11, 3))
    times = warm_up(contact, **numbers)
    closed, groups = shadow._smoke_groups(contact, *numbers.values(), contact.steady)
    return fitted("smoke", times, closed, groups, np.ones(times.shape))


def written(which, known, count, found=None):
    """Spell one part of the table."""

    def listed(values):
        return "[" + ", ".join(f"{value:.7g}" for value in values) + "]"

    lines = [f"\n[{which}]", f"kits = {count}"]
    lines += [f"{key} = {value:.3g}" for key, value in (found or {}).items()]
    lines += ["coefficients = ["]
    known = [f"{value:.7g}" for value in known]
    lines += ["    " + ", ".join(known[at : at + 8]) + "," for at in range(0, len(known), 8)]
    lines += ["]", f"\n[{which}.range]"]
    lines += [f"{key} = {listed(ends)}" for key, ends in RANGE[which].items()]
    lines += [f"\n[{which}.weights]"] + [f"{k} = {w}" for k, w in WEIGHTS[which].items()]
    return "\n".join(lines) + "\n"


HEAD = """\
# The polynomials of heat/shadow.py. Written by tests/tools/fit_shadow.py, and by nothing else:
# run that again when the march, a slider, a wood or a row of spread.toml has moved.
#   kits           how many kits the polynomial was fitted to
#   half_within .. how far kits that no fit has seen err against the march, in per cent;
#                  the first three for times under ten minutes
#   range          of each bare number, outside which there is no shadow
#   weights        the powers of a term, each times its weight, add up to one at most
#   watched        power (W), first smoke and ember (s) of a few kits; a test is red if they move
"""


def main():
    fits = {"ember": fit_ember(), "smoke": fit_smoke()}
    text = HEAD + "".join(written(which, *fit) for which, fit in fits.items())
    TABLE.write_text(text, encoding="utf-8")  # so that the shadow can be held against the march
    table.cache_clear()
    some = held_out(2, HELD_OUT)
    contact, numbers, shape = shadow.side_by_side(some.contact, *some.march.values())
    found = shadow._ember(contact, *numbers)
    times = marched(contact, dict(zip(some.march, numbers, strict=True)), shape)
    found_smoke = shadow._smoke(contact, some.power, some.smoke_rise)
    smoke = warm_up(contact, power=some.power, rise=some.smoke_rise)
    off = {"ember": errors(found, times), "smoke": errors(found_smoke, smoke)}
    text = HEAD + "".join(written(which, *fit, off[which]) for which, fit in fits.items())
    kept = {
        key: "[" + ", ".join(f"{value:.5g}" for value in values) + "]"
        for key, values in watched().items()
    }
    text += "\n[watched]\n" + "".join(f"{key} = {values}\n" for key, values in kept.items())
    TABLE.write_text(text, encoding="utf-8")
    able = np.isfinite(times)
    print(off, f"refused: {np.mean(np.isnan(found[able])):.2%} of kits with an ember")


if __name__ == "__main__":
    main()
