"""The reader's first minute: one command, and the first notebook is there and runs."""

import re

import nbformat
import pytest
from lab import NOTEBOOK


@pytest.fixture(scope="module")
def small_notebook(lab):
    """Write a notebook with a slider that writes down what it is moved to."""
    new = nbformat.v4
    notebook = new.new_notebook(metadata={"kernelspec": {"name": "python3", "display_name": ""}})
    notebook.cells = [
        new.new_code_cell("import ipywidgets as widgets\nimport sys"),
        new.new_code_cell(
            "force = widgets.IntSlider(description='Force')\n"
            "said = widgets.HTML('not moved')\n"
            "force.observe(lambda move: setattr(said, 'value', f'now {move.new} N'), 'value')\n"
            "widgets.VBox([force, said])"
        ),
        new.new_code_cell("print('careful', file=sys.stderr)\n1 / 0"),
    ]
    path = lab.folder / "small.ipynb"
    nbformat.write(notebook, path)
    return path.name


@pytest.fixture
def launched(lab):
    """The page at the address that the command prints and the reader's browser is sent to."""
    address = lab.printed_address.partition("?")[0]
    if lab.page is None or not lab.page.url.startswith(address):
        lab.new_page().goto(lab.printed_address)
        lab.wait_for_kernel()
    return lab.page


def test_the_command_opens_the_first_notebook_and_it_wakes_without_error(lab, launched):
    assert launched.locator(".jp-NotebookPanel:visible h1").count() == 1
    lab.wait_until_awake()
    assert all(cell["execution_count"] for cell in lab.code_cells())
    assert lab.errors() == []


def test_the_command_prints_the_address_and_little_else(lab):
    said = lab.log.read_text(encoding="utf-8")
    assert lab.printed_address in said
    start = said.splitlines()[:12]
    assert [line for line in start if re.match(r"\[[DIW] ", line)] == []


def test_the_first_view_asks_nothing_of_the_reader_and_saves_nothing_unasked(launched):
    autosave = "window.jupyterapp.commands.isToggled('docmanager:toggle-autosave')"
    assert launched.evaluate(autosave) is False
    launched.wait_for_timeout(1500)  # the news prompt, where it is on, comes late
    assert launched.locator(".jp-Dialog, .jp-Notification-Toast, .Toastify__toast").count() == 0


def test_bars_and_kernel_talk_are_out_of_the_way(launched):
    launched.wait_for_timeout(500)
    away = "#jp-left-stack, .jp-SideBar, #jp-bottom-panel, .jp-cell-toolbar, .jp-KernelName"
    away += ", .jp-Notebook-ExecutionIndicator, .jp-DebuggerBugButton"
    assert launched.locator(away).locator("visible=true").count() == 0
    assert launched.locator(".jp-NotebookPanel-toolbar", has_text="Present").is_visible()


def test_folded_code_leaves_no_number_and_no_line_of_itself(lab, launched):
    lab.wait_until_awake()
    folded = launched.locator(".jp-CodeCell", has=launched.locator(".jp-InputPlaceholder"))
    assert folded.count() > 2
    machinery = folded.locator(".jp-InputPrompt, .jp-OutputPrompt, .jp-PlaceholderText, .cm-editor")
    assert machinery.locator("visible=true").count() == 0


def test_no_request_leaves_the_machine(lab, launched):
    lab.wait_until_awake()
    assert len(lab.requests) > 10
    assert lab.strangers() == []


def test_a_slider_moved_by_keyboard_is_heard_by_the_kernel(lab, small_notebook):
    page = lab.anew(small_notebook)
    page.locator(".noUi-handle").focus()
    page.keyboard.press("ArrowRight")
    page.locator(".widget-html", has_text="now 1 N").wait_for()


def test_printed_lines_break_between_words_only(lab, small_notebook):
    page = lab.anew(small_notebook)
    page.evaluate(f"{NOTEBOOK}.node.dataset.fireheat = 'awake'")  # as if it were one of ours
    style = "node => [getComputedStyle(node).wordBreak, getComputedStyle(node).overflowWrap]"
    printed = page.locator(".jp-RenderedText pre", has_text="careful").first
    assert printed.evaluate(style) == ["normal", "normal"]


def test_errors_and_warnings_in_a_notebook_are_seen_by_these_tests(lab, small_notebook):
    lab.anew(small_notebook)
    assert lab.errors() == ["ZeroDivisionError: division by zero", "careful\n"]


def test_the_kernel_socket_sends_small_messages_at_once(lab, small_notebook):
    lab.anew(small_notebook)
    assert lab.sockets()
    assert all(lab.sockets())
