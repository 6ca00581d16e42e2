"""The reader's first minute: one command, and the front page is there and runs, and leads on."""

import re

import nbformat
import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import NOTEBOOK, OPEN

from fireheat.shipped import START

FRONT = ".fh-front"


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


def test_the_command_opens_the_front_page_and_it_wakes_without_error(lab, launched):
    assert launched.locator(".jp-NotebookPanel:visible h1").count() == 1
    lab.wait_until_awake()
    assert lab.shows(START)
    assert launched.locator(f"{FRONT} .fh-door a").count() == 4
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


# How the front page lies on a screen: where each door stands, whether boards meet, what sticks out.
LAID = """front => {
    const box = e => e.getBoundingClientRect(), at = box(front);
    const room = front.closest('.jp-Notebook');
    const seen = e => e.checkVisibility() && box(e).width > 1;
    const boards = [...front.querySelectorAll('svg')].filter(seen).map(box);
    const gap = (a, b) => Math.min(Math.abs(b.left - a.right), Math.abs(b.top - a.bottom));
    const words = [...front.querySelectorAll('a, p, small, button, b, .fh-question')].filter(seen);
    return {
        rows: new Set(boards.map(each => Math.round(each.top))).size,
        gap: Math.max(...boards.slice(1).map((each, i) => gap(boards[i], each))),
        out: words.filter(e => box(e).left < at.left - 1 || box(e).right > at.right + 1
            || box(e).bottom > at.bottom + 1).map(e => e.textContent),
        sideways: room.scrollWidth - room.clientWidth,
        least: Math.min(...words.map(e => parseFloat(getComputedStyle(e).fontSize))),
        end: Math.max(...words.map(e => box(e).bottom)),
    };
}"""


def test_the_front_page_is_seen_whole_with_one_board_on_every_screen(lab, launched):
    lab.wait_until_awake()
    front = launched.locator(FRONT)
    try:
        for width, height, rows in ((1366, 768, 1), (820, 1180, 4), (390, 844, 4)):
            launched.set_viewport_size({"width": width, "height": height})
            launched.wait_for_timeout(300)
            laid = front.evaluate(LAID)
            assert (laid["rows"], laid["out"], laid["sideways"]) == (rows, [], 0), width
            assert laid["gap"] < 1, width
            assert laid["least"] >= 14, width
            if height < 1000 and width > 1000:
                assert laid["end"] <= height, "doors and caution are in the first view"
        launched.set_viewport_size({"width": 1280, "height": 720})
        front.locator("> .fh-show").press("Enter")
        launched.wait_for_timeout(300)
        laid = front.evaluate(LAID)
        assert (laid["rows"], laid["out"]) == (1, [])
        assert laid["least"] >= 20
        assert laid["end"] <= 720
        assert front.get_by_role("button", name="inches, lb").is_visible()
        found = Axe().run(launched, context={"include": [[FRONT]]}).response
        assert len(found["passes"]) > 3
        assert [each["id"] for each in found["violations"]] == []
        launched.keyboard.press("Escape")
    finally:
        launched.set_viewport_size({"width": 1280, "height": 720})


def test_each_door_leads_to_its_path_by_the_keyboard(lab, launched):
    lab.wait_until_awake()
    links = launched.locator(f"{FRONT} .fh-door a")
    links.first.focus()
    for link in links.all():
        assert link.evaluate("link => link === document.activeElement")
        heading = link.get_attribute("href").removeprefix("#").replace("-", " ")
        launched.keyboard.press("Enter")
        path = launched.locator(".jp-RenderedMarkdown h2", has_text=heading)
        lab.wait_for(
            "heading => [...document.querySelectorAll('.jp-RenderedMarkdown h2')].some(each =>"
            f" each.textContent.startsWith('{heading}')"
            " && each.getBoundingClientRect().top > 0"
            " && each.getBoundingClientRect().top < innerHeight - 100"
            " && each.closest('.jp-Cell').contains(document.activeElement))"  # Tab leads on
        )
        assert path.count() == 1
        link.focus()
        launched.keyboard.press("Tab")


def test_no_request_leaves_the_machine(lab, launched):
    assert len(lab.requests) > 10
    assert lab.strangers() == []


def test_one_link_puts_the_race_on_the_wall_and_the_stops_of_a_path_follow_each_other(
    lab, launched
):
    lab.wait_until_awake()
    page, count = launched, launched.locator(".fh-hall-count")
    page.get_by_role("link", name="Race two kits on the wall").press("Enter")
    race = page.locator(".fh-hall-panel", has_text="Which glows first")
    race.wait_for()
    assert count.inner_text().split(" of ")[1].isdigit()
    page.keyboard.press("Escape")
    assert lab.shows("03-what-moves-the-time.ipynb")
    page.evaluate(OPEN, START)
    page.get_by_role("link", name="The safety list").press("Enter")
    lab.wait_for(f"() => {NOTEBOOK}.context.path === '00-start-here.ipynb'")
    lab.wait_until_awake()  # and panels above the list have grown
    place = page.get_by_role("heading", name="Before anything burns").bounding_box()
    assert 50 < place["y"] < 200
    page.evaluate(OPEN, START)
    page.get_by_role("link", name="The race", exact=True).press("Enter")
    race.wait_for()
    assert count.inner_text() == "stop 2 of 5"
    page.keyboard.press("PageUp")
    kit = page.locator(".fh-shown .fh-kit")
    kit.wait_for()
    assert count.inner_text() == "stop 1 of 5"
    assert lab.shows("00-start-here.ipynb")
    page.keyboard.press("r")
    kit.locator(".fh-live-runs").wait_for()
    page.keyboard.press("Space")  # holds it, with the focus nowhere
    kit.locator(".fh-live:not(.fh-live-runs)").wait_for()
    page.keyboard.press("Escape")  # back to the path
    page.get_by_role("link", name="The race", exact=True).wait_for()
    lab.wait_for(f"() => {NOTEBOOK}.content.node.contains(document.activeElement)")
    assert lab.shows(START)
    page.keyboard.press("p")  # and from there to the wall, and to the next page
    page.locator(".fh-hall-title", has_text="Show a group").wait_for()
    page.keyboard.press("n")
    page.locator(".fh-hall-title", has_text="Why does one kit").wait_for()
    assert lab.shows("00-start-here.ipynb")
    page.keyboard.press("Escape")


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
