"""Docstrings say what the code does: names, units, sources, examples and types.

A wrong unit in a label is this field's standard slip, so each unit is compared with the one table
of quantities.
"""

import contextlib
import dataclasses
import importlib
import inspect
import pkgutil
import re
from pathlib import Path

import numpy as np
import pytest
from numpydoc.docscrape import ClassDoc, FunctionDoc

import fireheat
from fireheat import Air, Arm, Kit, estimates
from fireheat.answers.pressing import press, valley
from fireheat.answers.weather import stores
from fireheat.heat.contact import Contact
from fireheat.heat.material import Material
from fireheat.kit import bowing
from fireheat.kit.kit import Try
from fireheat.kit.wood import energy_parts, hot_properties
from fireheat.quantities import default, quantities

# Not models: the command, pictures, controls, sheets and the files these read.
OUTSIDE = {"__main__", "cli", "data", "figures", "jupyter", "launch", "panels"}
# These read tables, spell words or do algebra: what they take is not one quantity of the table.
READERS = {"constants", "derivation", "everyday", "lessons", "quantities", "words"}

ORACLES = Path(__file__).parent / "oracles"

NUMBER = re.compile(r"^(?!.*\bbool\b).*\b(float|ndarray)\b")
UNIT = re.compile(r"\[([^\[\]]+)\]$")


def modules():
    """Every module of a model, in whatever room, and the oracles; with the room's name."""
    for module in pkgutil.walk_packages(fireheat.__path__, "fireheat."):
        room = module.name.split(".")[1]
        if room not in OUTSIDE and not module.ispkg:
            yield room, importlib.import_module(module.name)
    for module in pkgutil.iter_modules([str(ORACLES)]):
        yield "oracles", importlib.import_module(f"oracles.{module.name}")


def public_things():
    """Every public function and class defined in such a module, with the room's name."""
    for room, home in modules():
        for name, thing in vars(home).items():
            known = inspect.isfunction(inspect.unwrap(thing)) or inspect.isclass(thing)
            own = known and thing.__module__ == home.__name__
            if own and not name.startswith("_"):
                place = home.__name__.removeprefix("fireheat.")
                yield pytest.param(room, thing, id=f"{place}.{name}")


def documented(entries):
    """Split numpydoc entries by name: ``low, high : float`` is two."""
    return {
        name.lstrip("*"): (entry.type, " ".join(entry.desc))
        for entry in entries
        for name in entry.name.split(", ")
    }


def argument_names(function):
    return [name for name in inspect.signature(function).parameters if name not in ("self", "cls")]


def complaints_about_units(entries, *, strict):
    found = []
    table = quantities()
    for name, (kind, text) in entries.items():
        unit = UNIT.search(text)
        if not NUMBER.search(kind):
            continue  # a word, a count or an object
        if unit is None:
            found.append(f"{name}: no unit in brackets at the end of {text!r}")
        elif name in table and unit[1] != table[name].unit:
            found.append(f"{name}: [{unit[1]}], but the table says [{table[name].unit}]")
        elif strict and name not in table and unit[1] != "SI":
            found.append(f"{name}: not in the table of quantities")
    return found


def complaints_about_function(function, home):
    doc = FunctionDoc(inspect.unwrap(function))
    given, said = argument_names(function), documented(doc["Parameters"])
    found = [] if any(doc["Summary"]) else ["no docstring"]
    if said or (home not in READERS and set(given) & set(quantities())):
        found += [] if list(said) == given else [f"documents {list(said)}, takes {given}"]
    if home in READERS:
        return found
    found += complaints_about_units(said, strict=True)
    if any(NUMBER.search(kind) for kind, _ in said.values()):
        found += [f"no {part}" for part in ("Returns", "References", "Examples") if not doc[part]]
        returned = {
            entry.name or "result": (entry.type, " ".join(entry.desc)) for entry in doc["Returns"]
        }
        found += complaints_about_units(returned, strict=False)
    return found


def complaints_about_class(cls, home):
    doc = ClassDoc(cls)
    found = [] if any(doc["Summary"]) else ["no docstring"]
    if not dataclasses.is_dataclass(cls):
        return found
    own = inspect.get_annotations(cls)
    fields = [f.name for f in dataclasses.fields(cls) if f.name in own and f.name[0] != "_"]
    said = documented(doc["Attributes"] or doc["Parameters"])
    said = {name: entry for name, entry in said.items() if not is_property(cls, name)}
    found += [] if list(said) == fields else [f"documents {list(said)}, holds {fields}"]
    return found if home in READERS else found + complaints_about_units(said, strict=False)


def is_property(cls, name):
    return isinstance(inspect.getattr_static(cls, name, None), property)


@pytest.mark.parametrize(("home", "thing"), list(public_things()))
def test_the_docstring_agrees_with_the_code_and_the_table(home, thing):
    judge = complaints_about_class if inspect.isclass(thing) else complaints_about_function
    assert judge(thing, home) == []


def flawed(force, radius):
    """Press.

    Parameters
    ----------
    force : float
        How hard. [lbf]
    radius : float
        How wide.
    width : float
        Not there. [m]

    Returns
    -------
    float
        Something.
    """


def test_a_flawed_docstring_is_seen():
    assert complaints_about_function(flawed, "bowing") == [
        "documents ['force', 'radius', 'width'], takes ['force', 'radius']",
        "force: [lbf], but the table says [N]",
        "radius: no unit in brackets at the end of 'How wide.'",
        "width: not in the table of quantities",
        "no References",
        "no Examples",
        "result: no unit in brackets at the end of 'Something.'",
    ]


# ---- where a docstring points to ----------------------------------------------------------------

ROLE = re.compile(r":(?:attr|class|data|func|meth|mod):`~?([\w.]+)`")


def leads_somewhere(target, home):
    """Whether a name is one of the module's own, of a class of its own, or something in full."""
    if any(has(place, target) for place in (home, *filter(inspect.isclass, vars(home).values()))):
        return True
    parts = target.split(".")
    for end in range(len(parts), 0, -1):
        with contextlib.suppress(ImportError):
            return has(importlib.import_module(".".join(parts[:end])), ".".join(parts[end:]))
    return False


def has(thing, path):
    for name in filter(None, path.split(".")):
        if inspect.isclass(thing) and name in inspect.get_annotations(thing):
            return True  # a field without a default
        if not hasattr(thing, name):
            return False
        thing = getattr(thing, name)
    return True


def all_modules():
    for module in pkgutil.walk_packages(fireheat.__path__, "fireheat."):
        if module.name != "fireheat.__main__" and not module.name.startswith("fireheat.jupyter"):
            yield pytest.param(importlib.import_module(module.name), id=module.name)
    for module in pkgutil.iter_modules([str(ORACLES)]):
        name = f"oracles.{module.name}"
        yield pytest.param(importlib.import_module(name), id=name)


@pytest.mark.parametrize("home", list(all_modules()))
def test_what_a_docstring_points_to_is_there(home):
    targets = ROLE.findall(inspect.getsource(home))
    assert [target for target in targets if not leads_somewhere(target, home)] == []


@pytest.mark.parametrize(
    ("target", "there"),
    [
        ("fireheat.kit.bowing.bow_pull", True),
        ("bow_pull", True),
        ("scipy.constants", True),
        ("fireheat.kit.kit.Try.changed", True),
        ("fireheat.kit.kit.Try.kit", True),
        ("cord_pull", False),
        ("fireheat.bowing.bow_pull", False),
        ("fireheat.kit.kit.Try.bent", False),
    ],
)
def test_a_pointer_to_nowhere_is_seen(target, there):
    assert leads_somewhere(target, bowing) is there


# ---- formulas: what they take, and what they give back -----------------------------------------

# An ordinary value of each argument that the table has no default for.
ORDINARY = {
    "arm": Arm(),
    "board_conductivity": 0.12,
    "board_volumetric_heat_capacity": 6e5,
    "biot": 1.0,
    "catcher": "leather",
    "conductivity": 0.12,
    "contact": Contact(
        radius=0.0065,
        length=0.15,
        film=10.0,
        spindle=Material(0.12, 0.22, 6e5),
        board=Material(0.12, 0.12, 6e5),
    ),
    "cord_radius": 0.008,
    "crust_resistance": 0.01,
    "density": 320.0,
    "depth": 0.001,
    "diffusivity": 2e-7,
    "distance": 0.004,
    "effusivity": 700.0,
    "effusivity_1": 300.0,
    "effusivity_2": 24000.0,
    "energy": 130.0,
    "energy_per_area": 1e6,
    "eps": 4.0,
    "excess": 10.0,
    "faces": 2.0,
    "film_below": 10.0,
    "fluid_rise": 280.0,
    "flux": 5e4,
    "ground_conductivity": 0.3,
    "ground_volumetric_heat_capacity": 1.3e6,
    "heat_capacity": 1500.0,
    "heat_capacity_per_area": 1000.0,
    "impedance": lambda time: 10 * np.sqrt(time),
    "kit": Kit(),
    "power": 20.0,
    "pull": 20.0,
    "reading": 18.0,
    "rest": 8.0,
    "rise": 280.0,
    "shape": "sphere",
    "soaking": 2.1e5,
    "speed_recession": 1e-4,
    "spindle_conductivity": 0.22,
    "spindle_volumetric_heat_capacity": 6e5,
    "surface_rise": 280.0,
    "temperature": 300.0,
    "temperature_1": 873.15,
    "temperature_2": 293.15,
    "temperature_ignition": 663.15,
    "thermal_inertia": 4.6e5,
    "thickness": 0.01,
    "time": 60.0,
    "volumetric_heat_capacity": 6e5,
}


def formulas():
    """Every public function whose docstring promises a float or an array."""
    for case in public_things():
        home, thing = case.values
        if home not in READERS and inspect.isfunction(inspect.unwrap(thing)):
            returned = FunctionDoc(inspect.unwrap(thing))["Returns"]
            if any("float or ndarray" in entry.type for entry in returned):
                yield pytest.param(thing, id=case.id)


FORMULAS = list(formulas())


def places(formula):
    """Arguments that may be arrays, by what the docstring says."""
    said = documented(FunctionDoc(inspect.unwrap(formula))["Parameters"])
    return [name for name, (kind, _) in said.items() if "ndarray" in kind]


def ordinary(formula):
    """Ordinary values of these, and of what the formula cannot do without."""
    given = inspect.signature(formula).parameters.values()
    needed = [one.name for one in given if one.default is one.empty]
    return {
        name: ORDINARY[name] if name in ORDINARY else default(name)
        for name in dict.fromkeys(needed + places(formula))
    }


def parts(result):
    return result if isinstance(result, tuple) else (result,)


def test_the_formulas_are_found():
    names = {case.id for case in FORMULAS}
    assert len(names) > 60
    known = {"heat.march.march", "heat.contact.side_film", "kit.moisture.saturation_pressure"}
    assert known | {"estimates.energy_bound", "oracles.conduction.depth_rise"} <= names


@pytest.mark.parametrize("formula", FORMULAS)
def test_only_the_first_number_of_a_formula_may_come_without_its_name(formula):
    first, *rest = inspect.signature(formula).parameters.values()
    assert first.kind == first.POSITIONAL_OR_KEYWORD
    assert {one.kind for one in rest} <= {first.KEYWORD_ONLY}


@pytest.mark.parametrize("formula", FORMULAS)
@pytest.mark.parametrize("number", [float, np.float64, np.array])
def test_a_formula_gives_floats_for_floats(formula, number):
    given = ordinary(formula)
    given = {k: number(v) if isinstance(v, float) else v for k, v in given.items()}
    assert {type(part) for part in parts(formula(**given))} == {float}


@pytest.mark.parametrize("formula", FORMULAS)
def test_a_formula_gives_arrays_for_arrays_in_any_of_its_places(formula):
    given = ordinary(formula)
    alone = parts(formula(**given))
    assert places(formula)
    for key in places(formula):
        found = parts(formula(**given | {key: [given[key]] * 2}))
        assert any(np.shape(part) == (2,) for part in found), key  # not all hang on each place
        for part, one in zip(found, alone, strict=True):
            np.testing.assert_allclose(part, np.broadcast_to(one, np.shape(part)), rtol=1e-8)


@pytest.mark.parametrize(
    "answer",
    [
        lambda: estimates.times(Try()),
        lambda: estimates.times(Try(), diameter=np.array([0.01, 0.02])).at(0),
        lambda: estimates.estimate(),
        lambda: press(Kit(), arm=Arm(), force=60.0),
        lambda: valley(Kit(), arm=Arm(), air=Air(), force=60.0, slip_pull=50.0).now,
        lambda: stores(Try(), warming=10.0)[0],
        lambda: hot_properties(0.32, moisture=0.09, temperature=433.15),
        lambda: energy_parts(
            0.004, density=320.0, moisture=0.1, temperature_ambient=290.0, temperature_char=570.0
        ),
    ],
)
def test_the_answer_to_one_try_is_in_plain_numbers(answer):
    values = [*vars(answer()).values()]
    values += [part for value in values if isinstance(value, tuple) for part in value]
    values += [part for value in values if isinstance(value, dict) for part in value.values()]
    assert not [value for value in values if isinstance(value, np.generic | np.ndarray)]
    assert [value for value in values if isinstance(value, float)]
