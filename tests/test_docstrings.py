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

import pytest
from numpydoc.docscrape import ClassDoc, FunctionDoc

import fireheat
from fireheat.kit import bowing
from fireheat.quantities import quantities

# Not models: the command, pictures, controls, pages, sheets and the files these read.
OUTSIDE = {"__main__", "cli", "data", "figures", "jupyter", "launch", "pages", "panels", "putting"}
# These read tables, spell words or do algebra: what they take is not one quantity of the table.
READERS = {"constants", "derivation", "everyday", "lessons", "quantities", "texts", "words"}

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
