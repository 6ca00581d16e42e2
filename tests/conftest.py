"""What all tests share."""

import os
import sys
import tempfile
from collections import Counter

import pytest
from hypothesis import settings

# A busy machine is slow, not wrong: timings are for the benchmarks.
settings.register_profile("fireheat", deadline=None)
settings.load_profile("fireheat")

# Files that move many panels: half a minute and more each, whatever their number of tests.
PANELS = {"test_walk", "test_panels", "test_every_panel", "test_pressing", "test_drawn"}

# Run by hand, not by pytest: maintainers' tools and timings.
collect_ignore = ["tools", "benchmarks"]


def pytest_configure(config):
    """Keep things in a folder that is thrown away, and read none that somebody kept here."""
    folder = tempfile.TemporaryDirectory(prefix="fireheat-", ignore_cleanup_errors=True)
    config.add_cleanup(folder.cleanup)
    os.environ["FIREHEAT_HOME"] = folder.name


def pytest_collection_modifyitems(items):
    """Put long files first, or the last of them would keep one worker busy while others idle.

    Those that drive a browser are the longest by far, and those that move panels come next; of
    the rest, those of many tests. The order is kept with ``--no-loadscope-reorder``, or
    pytest-xdist would count tests alone.
    """
    tests = Counter(item.path for item in items)

    def later(item):
        long = [item.path.parent.name == "browser", item.path.stem in PANELS]
        return [not one for one in long], -tests[item.path]

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
