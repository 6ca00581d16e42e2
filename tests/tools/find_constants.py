"""Find which numbers of the tables each result of the explorer hangs on; write data/working.toml.

    nice -n 15 python tests/tools/find_constants.py

Nobody types the list. Every number of the tables is moved by about a hundredth, row by row, the
library is loaded anew with it, and the explorer's results are asked again over many kits: a row
stands in the list of a result if the result or its band moves. Loaded anew, because many numbers
are read once, when a module is imported or first asked: so nothing old can be left anywhere.
A row that only matters now and then stands there with the choice that makes it matter: a wood, a
tip, dust in millimetres or grams, an ember that comes. What the shadow of the march was fitted to
is no constant: its coefficients follow from the rest.

The equations stand in the table, too, as LaTeX, so that a panel shows them without sympy. Some
minutes. Run it again when a test says so: when the model reads another number, or an equation has
moved.
"""

import importlib
import inspect
import re
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from pathlib import Path

import numpy as np
from sympy import Eq, Function, Symbol, latex, pi, solve
from sympy.parsing.sympy_parser import parse_expr

TABLE = Path(__file__).parents[2] / "fireheat" / "data" / "working.toml"
TABLES = ("constants", "ember", "everyday", "catchers", "quantities", "woods", "spread")
NUMBERS = ("value", "low", "likely", "high", "default", "specific_gravity", "air_dry_density")
BY = (1.01, 0.991, 1.013, 0.987)  # unlike, so that no two moves make up for each other
STEP = 0.01  # of the way from low to high, where there is nothing to multiply
MOVES = 1e-6  # of a result, for a hundredth of a number: less than any digit that a reader sees
STATES, SEED = 14 * 3, 1  # so many woods with each tip, with dust in millimetres and in grams
SELDOM, SELDOM_SEED = 2 * STATES, 3  # more settings, for what moves a few draws of a band only
SET = ("diameter", "force", "friction", "speed", "moisture", "temperature_ambient")
FEWEST = 2  # settings in which a row moves a result, to say by which choices
WEAK = ("force", "speed")  # oftener low than high, so that some embers never come
WORDS = "what the results hang on moved: run python tests/tools/find_constants.py"


# ---- the library with other numbers -------------------------------------------------------------


def rows() -> dict[str, dict[str, object]]:
    """Return every row that holds numbers of a table, its numbers by name."""
    from fireheat.data import table

    return {f"{name}.{key}": row for name in TABLES for key, row in _rows(table(name))}


def _rows(entries, before="") -> Iterator[tuple[str, dict]]:
    for key, entry in entries.items():
        if isinstance(entry, Mapping):
            numbers = {name: entry[name] for name in NUMBERS if name in entry}
            if numbers:
                yield before + key, numbers
            else:
                yield from _rows(entry, f"{before}{key}.")


def elsewhere(numbers: Mapping[str, object]) -> dict[str, object]:
    """Move the numbers of one row a little, each by another factor."""
    span = numbers.get("high", 1.0), numbers.get("low", 0.0)
    moved = {}
    for turn, (name, value) in enumerate(numbers.items()):
        flat = np.ravel(np.asarray(value, dtype=float))
        factor = np.resize(np.roll(BY, turn), flat.shape)
        if not isinstance(span[0], list):
            flat = np.where(flat == 0, STEP * (turn + 1) * (span[0] - span[1]), flat * factor)
        else:
            flat = flat * factor
        moved[name] = np.reshape(flat, np.shape(value)).tolist()
    return moved


@contextmanager
def library(changed: Mapping[str, Mapping[str, object]]):
    """Load the library anew with some rows of its tables changed; yields what imports from it."""
    kept = _taken_out()
    try:
        data = importlib.import_module("fireheat.data")
        read = data.table
        data.table = cache(lambda name: _with(read(name), name, changed))
        yield importlib.import_module
    finally:
        _taken_out()
        sys.modules.update(kept)


def _taken_out():
    names = [name for name in sys.modules if name.split(".")[0] == "fireheat"]
    return {name: sys.modules.pop(name) for name in names}


def _with(entries, before, changed):
    """Copy a table with rows changed."""
    return {
        key: _with(entry, f"{before}.{key}", changed) | changed.get(f"{before}.{key}", {})
        if isinstance(entry, Mapping)
        else entry
        for key, entry in entries.items()
    }


# ---- kits, and what the explorer says of them ----------------------------------------------------


def states(count: int = STATES, seed: int = SEED) -> list[dict[str, object]]:
    """Return settings as a reader may make them: sliders anywhere, woods and tips in turn.

    Woods of one continent are enough: each goes into the model by its density alone.
    """
    from fireheat.kit.bowing import TORQUE_COEFFICIENTS
    from fireheat.kit.wood import woods
    from fireheat.quantities import quantity

    dice, tips = np.random.default_rng(seed), list(TORQUE_COEFFICIENTS)
    names = [row.key for row in woods().values() if "north_america" in row.regions]
    made = []
    for turn in range(count):
        dust = ("burn_in_depth", "dust_mass")[turn // len(names) % 2]
        one: dict[str, object] = {}
        for key in (*SET, dust):
            low, high = quantity(key).slider
            share = dice.random() ** (2 if key in WEAK else 1)
            one[key] = float(low + (high - low) * share)
        wood = names[turn % len(names)]
        made.append(one | {"wood": wood, "contact": tips[turn % len(tips)]})
    return made


def results(load, settings: Mapping[str, object]):
    """Return what a library makes of one setting: each result with its band, and the choices."""
    working, spreads = load("fireheat.answers.working"), load("fireheat.spread")
    state = load("fireheat.kit.kit").Try().changed(**settings)
    found = load("fireheat.estimates").times(state)
    spread = spreads.spread(state, found=found)
    if not np.all(np.isfinite((found.ember.likely, found.smoke.likely))):  # then watts are shown
        found = load("fireheat.estimates").explained(state, found=found)
    shown = working.results(state, found=found, spread=spread)
    return shown, working.choices(state, spread=spread)


def all_results(load, some):
    """Return results of many settings: by result an array, one row a setting, and all choices."""
    found, choices = zip(*(results(load, one) for one in some), strict=True)
    return {which: np.array([one[which] for one in found]) for which in found[0]}, choices


def moved(now: Mapping, then: Mapping) -> dict[str, np.ndarray]:
    """Tell for each result in which settings it is another than before."""
    return {which: np.any(_apart(values, then[which]), axis=-1) for which, values in now.items()}


def _apart(one, other):
    with np.errstate(invalid="ignore"):
        return ~((one == other) | (np.abs(one - other) <= MOVES * np.abs(other)))


# ---- which rows, and when ------------------------------------------------------------------------


def moving(names, some):
    """Return for each row and result in which settings the row moves it; and the choices."""
    known = rows()
    with library({}) as load:
        then, choices = all_results(load, some)
    found = {}
    for name in names:
        with library({name: elsewhere(known[name])}) as load:
            found[name] = moved(all_results(load, some)[0], then)
    return found, choices


def still(names, some):
    """Tell for each result where anything moves when all these rows move at once."""
    with library({}) as load:
        then, _ = all_results(load, some)
    return _moved_by(names, some, then)


def _moved_by(names, some, then):
    known = rows()
    with library({name: elsewhere(known[name]) for name in names}) as load:
        return moved(all_results(load, some)[0], then)


def missed(hangs, some) -> set[tuple[str, str]]:
    """Look again in other settings: results, with rows that move them there but are not listed."""
    found: set[tuple[str, str]] = set()
    for one in some:
        with library({}) as load:
            then, (choices,) = all_results(load, [one])
        for which, names in hangs.items():
            listed = {name for name, only in names.items() if only.items() <= choices.items()}
            idle = rows().keys() - listed - {name for at, name in found if at == which}
            found |= {(which, name) for name in _movers(which, sorted(idle), one, then)}
    # Where a number counts, so does how far it may be off.
    spreads = {(which, name.replace("quantities.", "spread.")) for which, name in found}
    return found | {(which, name) for which, name in spreads if name in rows()}


def _movers(which, names, one, then):
    """Halve a list of rows until each that moves a result is left alone."""
    if not _moved_by(names, [one], then)[which][0]:
        return []
    if len(names) == 1:
        return names
    halves = names[: len(names) // 2], names[len(names) // 2 :]
    return [name for half in halves for name in _movers(which, half, one, then)]


def condition(which, when, choices) -> tuple[dict[str, str], bool]:
    """Say by which choices a row matters to a result, and whether it then always does.

    As few as will do; none, where none tell exactly. That another result comes is no reason.
    """
    keys = [
        key for key in choices[0] if not key.startswith(("ember", "smoke")) or key.startswith(which)
    ]
    alike = {
        key: values.pop()
        for key in keys
        if len(values := {one[key] for one, so in zip(choices, when, strict=True) if so}) == 1
    }

    def tells(only):
        return np.array_equal([only.items() <= one.items() for one in choices], when)

    if not tells(alike) or np.sum(when) < FEWEST:  # once is chance
        return {}, tells({})
    for key in reversed(list(alike)):
        fewer = {name: value for name, value in alike.items() if name != key}
        if tells(fewer):
            alike = fewer
    return alike, True


# ---- equations -----------------------------------------------------------------------------------


@cache
def equations() -> dict[str, object]:
    """Return the equations of the working, by name; derived ones where there are such."""
    from fireheat.derivation.bound import derived_power
    from fireheat.derivation.symbols import C, E, F, P, R, mu, r, same, t, v

    letters = {name: Symbol(spelled) for name, spelled in LETTERS.items()}
    letters |= {"C": C, "E": E, "F": F, "P": P, "R": R, "mu": mu, "r": r, "t": t, "v": v}

    def equal(left, right):
        sides = (parse_expr(side, dict(letters), evaluate=False) for side in (left, right))
        return same(*sides)

    warming = "c_w*(T_b - T_0) + h_fg + h_s"
    return {
        "power": same(P, derived_power()),
        "power_by_cord": same(P, derived_power(cord_at_tip=False)),
        "energy": equal("E", f"rho_0*d_b*(c_0*(T_d - T_0) + M*({warming}))"),
        "floor": same(t, solve(Eq(P * t, E * pi * r**2), t)[0]),
        "smoke": equal("Z", "(T_s - T_0)/P"),
        "curve": same(Function("Z")(t), letters["Z"]),
        "least_smoke": equal("P_l", "(T_s - T_0)/Z_oo"),
        "least": equal("P_l", "(T_d - T_0)*(Z_oo**-1 + 3*pi**2/8*k_e*r*(a - 1))"),
        "ember": equal("t", "(Q_d + Q_w + Q_s + Q_b + Q_a)/P"),
        "dust": equal("m_d", "rho_0*d_b*pi*r**2"),
        "heap": equal("m", "s*m_d"),
        "size": equal("r_c", "r_l*sqrt(delta_c/delta_l)*T/T_l*exp(E_a/(2*R_g)*(T**-1 - T_l**-1))"),
        "least_dust": equal("m_c", "2*pi*rho_b*r_c**3/3"),
        "times": equal("n", "m/m_c"),
    }


# Letters of the working that sympy is told how to print; the rest are those of the derivations.
LETTERS = {
    name: name
    for name in (
        *("T_0", "T_s", "T_d", "T_b", "T_l", "T", "rho_0", "rho_b", "d_b", "c_0", "c_w", "M"),
        *("h_fg", "h_s", "Z", "P_l", "k_e", "a", "Q_d", "Q_w", "Q_s", "Q_b", "Q_a", "m_d", "m"),
        *("s", "m_c", "r_c", "r_l", "delta_c", "delta_l", "E_a", "R_g", "n"),
    )
} | {"Z_oo": r"Z_{\infty}"}
# Whose docstrings tell the equations in full; a module speaks by its opening words.
_WOOD = ("conductivity", "conductivity_along", "heat_capacity", "volumetric_heat_capacity")
_SOAKING = (
    "heat.contact:Contact.steady",
    "heat.contact:side_film",
    *(f"kit.wood:{name}" for name in _WOOD),
)
FULL = {
    "ember": ("heat.wearing", "heat.hole:hole_draw", "heat.contact", *_SOAKING),
    "smoke": ("heat.contact", *_SOAKING),
    "floor": (
        "estimates:energy_bound",
        *(f"kit.wood:{name}" for name in ("energy_parts", "heat_capacity", "density")),
        "kit.moisture:heat_of_sorption",
    ),
    "dust": (
        "ember.ember:heap_mass",
        "ember.ignition:heap_radius",
        "ember.ignition:critical_size",
        "ember.ignition:hot_spot_critical_parameter",
    ),
    "heat": tuple(
        f"kit.bowing:{name}" for name in ("friction_torque", "friction_power", "dome_coefficient")
    ),
}


def in_full(where: str) -> list[tuple[str, str]]:
    """Return the equations of a docstring, the first under its opening line."""
    module, _, name = where.partition(":")
    found = importlib.import_module(f"fireheat.{module}")
    for part in name.split(".") if name else ():
        found = getattr(found, part)
    title, told = found.__doc__.splitlines()[0], math_of(found.__doc__)
    title = re.sub(r" *\[[^]]*\]\.$", "", title)  # a unit
    return [(title if turn == 0 else "", one) for turn, one in enumerate(told)]


def math_of(doc: str) -> list[str]:
    """Return the LaTeX of each equation in a docstring."""
    found = []
    for block in re.findall(
        r"^\.\. math::(.*\n(?:[ ]+.*\n|\n)*)", inspect.cleandoc(doc) + "\n", re.M
    ):
        told = " ".join(block.split())
        found.append(rf"\begin{{aligned}} {told} \end{{aligned}}" if r"\\" in told else told)
    return found


# ---- the table -----------------------------------------------------------------------------------

HEAD = """\
# What each result of the explorer hangs on. Written by tests/tools/find_constants.py, and by
# nothing else: run that again when a test says that the model reads another number, or an equation
# has moved.
#   equations   of the working, as LaTeX
#   letters     how a letter of theirs is printed
#   full        by result: a title, and an equation of the docstring with that title
#   rows        by result: each number of the tables that moves it or its band, with the choices
#               that make it matter: wood, contact, dust in depth or mass, ember and smoke that come
#               at the low end of all we do not know, or with wood that soaks up little
"""


def told() -> dict[str, dict]:
    """Return all of the table but its rows."""
    made = equations()
    symbols = {one.name: one for equation in made.values() for one in equation.free_symbols}
    names = {spelled: name for name, spelled in LETTERS.items()}
    return {
        "equations": {name: latex(equation, order="none") for name, equation in made.items()},
        "letters": {names.get(name, name): latex(one) for name, one in sorted(symbols.items())},
        "full": {
            which: [list(one) for where in places for one in in_full(where)]
            for which, places in FULL.items()
        },
    }


def listed(found, choices) -> dict[str, dict[str, dict[str, str]]]:
    """Return by result the rows that move it, each with the choices that make it matter."""
    return {
        which: {
            name: condition(which, when[which], choices)[0]
            for name, when in found.items()
            if np.any(when[which])
        }
        for which in next(iter(found.values()))
    }


def written(parts: Mapping[str, Mapping], hangs: Mapping[str, Mapping]) -> str:
    """Spell the table."""
    lines = [HEAD]
    for part in ("equations", "letters"):
        lines += [f"[{part}]", *(f"{key} = '{value}'" for key, value in parts[part].items()), ""]
    lines += ["[full]"]
    for which, told in parts["full"].items():
        lines += [f"{which} = [", *(f"    [\"{title}\", '{one}']," for title, one in told), "]"]
    for which, names in hangs.items():
        lines += ["", f"[rows.{which}]"]
        for name, only in names.items():
            words = ", ".join(f'{key} = "{value}"' for key, value in only.items())
            lines += [f'"{name}" = {{ {words} }}' if words else f'"{name}" = {{}}']
    return "\n".join(lines) + "\n"


def main():
    names, some = list(rows()), states()
    # A whole table that moves nothing needs no second look.
    asleep = [
        name
        for table in TABLES
        for group in [[name for name in names if name.partition(".")[0] == table]]
        if table in ("everyday", "catchers")
        and not any(np.any(when) for when in still(group, some).values())
        for name in group
    ]
    found, choices = moving([name for name in names if name not in asleep], some)
    hangs = listed(found, choices)
    for which, name in missed(hangs, states(SELDOM, SELDOM_SEED)):
        hangs[which][name] = {}
        print(f"{which}: {name} seldom")
    hangs = {
        which: {name: only[name] for name in names if name in only} for which, only in hangs.items()
    }
    TABLE.write_text(written(told(), hangs), encoding="utf-8")
    for which in next(iter(found.values())):
        for name, when in found.items():
            if np.any(when[which]) and not condition(which, when[which], choices)[1]:
                print(f"{which}: {name} only in {np.sum(when[which])} of {len(some)} settings")


if __name__ == "__main__":
    main()
