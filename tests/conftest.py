"""What all tests share."""

import pytest
from hypothesis import settings

# A busy machine is slow, not wrong: timings are for the benchmarks.
settings.register_profile("fireheat", deadline=None)
settings.load_profile("fireheat")

# Run by hand, not by pytest: maintainers' tools and timings.
collect_ignore = ["tools", "benchmarks"]


@pytest.fixture(scope="session")
def repository(pytestconfig):
    """Top folder of the clone."""
    return pytestconfig.rootpath
