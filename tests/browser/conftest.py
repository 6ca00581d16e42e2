"""JupyterLab in a real headless browser, for tests that look at what a reader sees.

The fixture ``lab`` is one server and one browser for all tests; ``lab.open(name)`` opens a notebook
in a fresh page and runs it, ``lab.turn_to(name)`` does so in the page there is, which is much
quicker; see ``tests/tools/lab.py``. ``bare(esm, css, state)`` shows one widget alone, without
JupyterLab and quicker still; see ``tests/tools/bare.py``.
"""

import os
from functools import partial
from pathlib import Path

import pytest
from bare import show_bare
from lab import Lab, find_browser, launch
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
def browser(playwright):
    """One Chromium for all tests of a worker."""
    browser = launch(playwright)
    yield browser
    browser.close()


@pytest.fixture(scope="session")
def lab(browser, tmp_path_factory):
    """JupyterLab on a copy of the notebooks, in a folder with a space in its name."""
    lab = Lab(tmp_path_factory.mktemp("lab") / "my notebooks", browser=browser)
    yield lab
    lab.close()


@pytest.fixture
def bare(browser):
    """Show a widget alone: ``bare(esm, css, state)`` returns the page; an error in it fails."""
    wrong = []
    page = browser.new_page(viewport={"width": 1280, "height": 720})
    page.set_default_timeout(20_000)
    page.on("pageerror", lambda error: wrong.append(error))
    yield partial(show_bare, page)
    page.close()
    assert wrong == []
