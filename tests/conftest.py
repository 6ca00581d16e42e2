"""What all tests share."""

import sys
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import settings

# A busy machine is slow, not wrong: timings are for the benchmarks.
settings.register_profile("fireheat", deadline=None)
settings.load_profile("fireheat")

# Files of ten seconds and more of work, whatever their number of tests; those of most first.
LONG = (
    "browser/test_notebooks",
    "test_walk",
    "browser/test_second_evening",
    "browser/test_panels",
    "browser/test_frame",
    "test_panels",
    "test_drawn",
    "browser/test_present",
    "browser/test_lab",
    "test_every_panel",
    "test_pressing",
    "test_catcher_panels",
    "test_catcher",
    "test_estimate",
    "test_repository",
    "test_wearing",
    "test_heat_view",
    "test_killed_copies",
)

# Run by hand, not by pytest: maintainers' tools and timings.
collect_ignore = ["tools", "benchmarks"]


def pytest_collection_modifyitems(items):
    """Put long files first, or the last of them would keep one worker busy while others idle.

    Of those not named, those that drive a browser come first, then those of many tests. The order
    is kept with ``--no-loadscope-reorder``, or pytest-xdist would count tests alone.
    """
    tests = Counter(item.path for item in items)
    here = Path(__file__).parent
    places = {here / f"{name}.py": place for place, name in enumerate(LONG)}

    def later(item):
        place = places.get(item.path, len(LONG))
        return place, item.path.parent.name != "browser", -tests[item.path]

    items.sort(key=later)


@pytest.fixture(autouse=True)
def metric_again():
    """Leave no units chosen for the next test."""
    yield
    if holders := sys.modules.get("fireheat.panels.units"):
        holders.chosen_units.choose("metric")


@pytest.fixture(scope="session")
def repository(pytestconfig):
    """Top folder of the clone."""
    return pytestconfig.rootpath
