"""Every dependency has a lower bound, and the oldest set is made of nothing else."""

import tomllib

import dependencies
import pytest
from packaging.requirements import Requirement


def needs(repository):
    told = tomllib.loads((repository / "pyproject.toml").read_text(encoding="utf-8"))
    return dependencies.allowed(told["project"])


def test_the_oldest_set_pins_every_need_to_a_version_that_is_allowed(repository):
    for line in needs(repository):
        need, pinned = Requirement(line), Requirement(dependencies.oldest(line))
        (pin,) = pinned.specifier
        assert (pinned.name, pin.operator) == (need.name, "==")
        assert need.specifier.contains(pin.version, prereleases=True), line


def test_the_library_and_its_tests_are_both_in_the_set(repository):
    assert {"numpy", "pytest"} <= {Requirement(line).name for line in needs(repository)}


def test_a_need_without_a_lower_bound_is_refused():
    assert dependencies.oldest("sympy>=1.14,<1.15") == "sympy==1.14"
    for line in ("sympy", "sympy<1.15"):
        with pytest.raises(ValueError, match="not enough values"):
            dependencies.oldest(line)
