"""Docstrings say what the code does: names, units, sources and examples.

A wrong unit in a label is this field's standard slip, so each unit is compared with the one table
of quantities.
"""

import dataclasses
import importlib
import inspect
import pkgutil
import re

import pytest
from numpydoc.docscrape import ClassDoc, FunctionDoc

import fireheat
from fireheat.quantities import quantities

# Not models: the command, pictures, controls, sheets and the files these read.
OUTSIDE = {"__main__", "cli", "data", "figures", "jupyter", "launch", "panels"}
# These read tables, spell words or do algebra: what they take is not one quantity of the table.
READERS = {"constants", "everyday", "lessons", "quantities", "relation", "words"}

NUMBER = re.compile(r"^(?!.*\bbool\b).*\b(float|ndarray)\b")
UNIT = re.compile(r"\[([^\[\]]+)\]$")


def public_things():
    """Every public function and class defined in a model module, with the module's name."""
    for module in pkgutil.iter_modules(fireheat.__path__):
        if module.name not in OUTSIDE:
            home = importlib.import_module(f"fireheat.{module.name}")
            for name, thing in vars(home).items():
                known = inspect.isfunction(inspect.unwrap(thing)) or inspect.isclass(thing)
                own = known and thing.__module__ == home.__name__
                if own and not name.startswith("_"):
                    yield pytest.param(module.name, thing, id=f"{module.name}.{name}")


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
