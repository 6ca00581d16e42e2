"""JupyterLab in a real headless browser, for tests that look at what a reader sees.

The fixture ``lab`` is one server and one browser for all tests; ``lab.open(name)`` opens a notebook
in a fresh page and runs it, ``lab.turn_to(name)`` does so in the page there is, which is much
quicker; see ``tests/tools/lab.py``.
"""

import os
from pathlib import Path

import pytest
from lab import Lab, find_browser
from playwright.sync_api import sync_playwright

HERE = Path(__file__).parent


def pytest_collection_modifyitems(items):
    """Mark every test of this folder as one that needs a browser."""
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def playwright():
    """Playwright, with a browser to drive; without one, tests are skipped, but not in CI."""
    with sync_playwright() as driver:
        if find_browser(driver) is None:
            reason = "no Chromium-like browser found; name one in FIREHEAT_BROWSER"
            pytest.fail(reason) if os.environ.get("CI") else pytest.skip(reason)
        yield driver


@pytest.fixture(scope="session")
def lab(playwright, tmp_path_factory):
    """JupyterLab on a copy of the notebooks, in a folder with a space in its name."""
    lab = Lab(tmp_path_factory.mktemp("lab") / "my notebooks", playwright)
    yield lab
    lab.close()
