"""A notebook that was run and saved opens again alive, unmarked, at the top, with no hand moved."""

import json
import shutil
import subprocess
import sys

import nbformat
import pytest
from jupyterlab_server.workspaces_handler import WorkspacesManager
from lab import NOTEBOOK, POLLING, Lab
from refresh_notebooks import WIDGET

START = "00-start-here.ipynb"
LIVE = "01-rubbing-makes-heat.ipynb"  # with a slider and a picture before any question is answered
OWN = "Our club tried this on Tuesday."
HANDLE, VOICE = ".noUi-handle", ".fh-voice"
WAYS = ("keyboard", "autosave", "tool")


def write_own_words(page, notebook=NOTEBOOK):
    """Add a cell of words at the end, as a reader does."""
    page.evaluate(
        f"""() => {{
            const model = {notebook}.content.model.sharedModel;
            model.insertCell(model.cells.length, {{cell_type: 'markdown', source: '{OWN}'}});
        }}"""
    )


def is_marked(page):
    """Tell whether the notebook on screen counts as changed and not saved."""
    marked = page.evaluate(f"() => {NOTEBOOK}.context.model.dirty")
    assert (page.locator(".lm-TabBar-tab.lm-mod-current.jp-mod-dirty").count() > 0) == marked
    return marked


def save_by_hand(lab, name, way):
    """Open a notebook, write own words into it, and save it."""
    page = lab.turn_to(name)
    write_own_words(page)
    assert is_marked(page)
    if way == "autosave":
        page.evaluate("window.jupyterapp.commands.execute('docmanager:toggle-autosave')")
        wait_until_saved(page)
    else:
        save(page)


def save(page):
    page.keyboard.press("Control+s")
    wait_until_saved(page)


def wait_until_saved(page):
    page.wait_for_function(f"() => !{NOTEBOOK}.context.model.dirty", polling=POLLING)


def start_tool(path):
    """Write own words into a notebook, and start a program that runs and saves it."""
    notebook = nbformat.read(path, as_version=4)
    notebook.cells.append(nbformat.v4.new_markdown_cell(OWN))
    nbformat.write(notebook, path)
    tool = "from nbclient.cli import main; main()"
    return subprocess.Popen([sys.executable, "-c", tool, "--inplace", str(path)])


@pytest.fixture(scope="module")
def second_evening(playwright, tmp_path_factory):
    """JupyterLab started anew on notebooks that were run and saved, each in its own way."""
    lab = Lab(tmp_path_factory.mktemp("evening") / "notebooks", playwright)
    try:
        settings = lab.home / "settings" / "@jupyterlab" / "docmanager-extension"
        settings.mkdir(parents=True)
        (settings / "plugin.jupyterlab-settings").write_text('{"autosaveInterval": 1}')
        for way in WAYS:
            shutil.copy(lab.folder / LIVE, lab.folder / f"{way}.ipynb")
        tool = start_tool(lab.folder / "tool.ipynb")
        for way in ("keyboard", "autosave"):
            save_by_hand(lab, f"{way}.ipynb", way)
        assert tool.wait() == 0
        shutil.rmtree(lab.home / "settings")  # with "save by itself", turned on above
        lab.restart()
        yield lab
    finally:
        lab.close()


def views(path):
    """Count views of live widgets stored in a notebook."""
    return path.read_text(encoding="utf-8").count(WIDGET)


def assert_alive(page):
    """Move the first slider, and see its panel answer; no panel is dead."""
    notebook = page.locator(".jp-Notebook:visible")
    assert "Error displaying widget" not in notebook.inner_text()
    panel = notebook.locator(".fireheat", has=page.locator(HANDLE)).first
    said = panel.locator(VOICE).first.inner_text()
    panel.locator(HANDLE).first.focus()
    page.keyboard.press("ArrowRight")
    panel.locator(VOICE).first.filter(has_not_text=said).wait_for()


@pytest.mark.parametrize("way", WAYS)
def test_a_notebook_saved_on_the_first_evening_opens_alive_on_the_second(second_evening, way):
    lab, name = second_evening, f"{way}.ipynb"
    assert views(lab.folder / name) > 0  # and these are dead
    page = lab.turn_to(name)  # the first of them at its address
    assert not is_marked(page)
    assert page.evaluate(f"() => {NOTEBOOK}.content.outerNode.scrollTop") == 0
    assert page.locator(".jp-Notebook h1").is_visible()
    assert page.locator(".jp-Notebook", has_text=OWN).count() == 1
    assert lab.errors() == []
    assert_alive(page)


def test_a_page_loaded_anew_on_a_kernel_that_still_runs_wakes_too(second_evening):
    page = second_evening.turn_to("keyboard.ipynb")
    page.reload()
    second_evening.wait_for_kernel()
    second_evening.wait_until_awake()
    assert not is_marked(page)
    assert_alive(page)


def write(path, *sources):
    """Write a notebook of code cells; each seems to have been run and said "old"."""
    new = nbformat.v4
    notebook = new.new_notebook(metadata={"kernelspec": {"name": "python3", "display_name": ""}})
    old = [new.new_output("display_data", data={"text/html": "<b>old</b>"})]
    notebook.cells = [new.new_code_cell(source, outputs=old) for source in sources]
    nbformat.write(notebook, path)


TRACE = "from pathlib import Path\nPath('ran.txt').touch()"


@pytest.fixture
def ran(second_evening):
    """File that the code of a notebook makes, when it is run."""
    path = second_evening.folder / "ran.txt"
    path.unlink(missing_ok=True)
    yield path
    path.unlink(missing_ok=True)


def test_a_notebook_of_a_stranger_does_not_run_by_itself_even_under_our_name(second_evening, ran):
    lab = second_evening
    for name in ("theirs.ipynb", START):
        write(lab.folder / name, TRACE)
        lab.turn_to(name, run=False)
        lab.settle()
        assert not lab.wakes()
        assert not ran.exists()


def test_code_that_the_reader_changed_runs_by_itself_once_run_and_saved_and_passes_a_mistake(
    second_evening, ran
):
    lab = second_evening
    write(lab.folder / START, "1 / 0", TRACE)
    page = lab.turn_to(START)
    save(page)
    lab.turn_to(START)
    assert lab.wakes()
    assert lab.errors() == ["ZeroDivisionError: division by zero"]
    assert ran.exists()  # the cell below the mistake


@pytest.mark.parametrize(("width", "collapsed"), [(820, True), (1280, False)])
def test_the_list_of_files_makes_room_on_a_narrow_screen_alone(second_evening, width, collapsed):
    page = second_evening.page
    page.evaluate("window.jupyterapp.shell.expandLeft()")
    page.set_viewport_size({"width": width, "height": 720})
    try:
        second_evening.turn_to(START)
        assert page.evaluate("window.jupyterapp.shell.leftCollapsed") == collapsed
    finally:
        page.set_viewport_size({"width": 1280, "height": 720})


def test_a_notebook_of_the_readers_own_does_not_run_by_itself(second_evening, ran):
    lab = second_evening
    write(lab.folder / "mine.ipynb", TRACE)
    page = lab.turn_to("mine.ipynb")
    save(page)
    ran.unlink()
    lab.turn_to("mine.ipynb", run=False)
    lab.settle()
    assert not lab.wakes()
    assert not ran.exists()


def left_open(lab, *names):
    """Write the layout of an evening that ended with these notebooks in tabs, the first in view."""
    ids = [f"notebook:{name}" for name in names]
    tabs = {"type": "tab-area", "currentIndex": 0, "widgets": ids}
    data = {f"notebook:{name}": {"data": {"path": name, "factory": "Notebook"}} for name in names}
    data["layout-restorer:data"] = {"main": {"dock": tabs, "current": ids[0]}}
    whole = {"data": data, "metadata": {"id": "tabs"}}
    WorkspacesManager(str(lab.home / "workspaces")).save("tabs", json.dumps(whole))


def test_a_page_in_a_hidden_tab_waits_and_words_written_meanwhile_stay_marked(second_evening):
    lab = second_evening
    write(lab.folder / "mine.ipynb", "1 + 1")
    left_open(lab, "mine.ipynb", "tool.ipynb", "08-holding-the-ember.ipynb")
    page = lab.new_page()
    page.goto(lab.address("lab/workspaces/tabs/tree/mine.ipynb"))
    lab.wait_for_kernel()
    lab.wait_for(
        """() => {
            const all = [...window.jupyterapp.shell.widgets('main')];
            window.hidden = all.find(widget => widget.context?.path === 'tool.ipynb');
            return all.every(widget => widget.sessionContext?.session?.kernel?.status === 'idle');
        }"""
    )
    page.wait_for_timeout(1500)  # for what must not come, from a kernel that is not asked
    assert page.evaluate("() => window.hidden.node.dataset.fireheat") == "waking"
    first = "[...window.hidden.content.model.cells].find(cell => cell.type === 'code')"
    assert page.evaluate(f"() => {first}.executionState") == "idle"
    stands = page.evaluate("() => JSON.stringify(window.hidden.content.model.toJSON())")
    assert "image/png" in stands
    assert WIDGET not in stands  # the picture is seen while the page sleeps, and no error
    waiting = "[...window.jupyterapp.shell.widgets('main')].filter(widget => !widget.isVisible)"
    assert page.evaluate(f"() => {waiting}.map(w => w.context.model.dirty)") == [False, False]
    page.evaluate("window.jupyterapp.shell.activateById(window.hidden.id)")
    write_own_words(page, "window.hidden")
    lab.wait_until_awake()
    assert is_marked(page)
    assert_alive(page)
