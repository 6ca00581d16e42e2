"""The notebooks in a hall: one section a screen, large, live, turned by a presenter's keys."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import NOTEBOOK, WORKSPACE

from fireheat.shipped import shipped_titles

PAGE = "03-what-moves-the-time"
HANDLE, VOICE, PANEL = ".fh-hall-panel .noUi-handle", ".fh-hall-panel .fh-voice", ".fh-hall-panel"
LEAST = 20  # px: read from the back of a hall
SIZES = ((1280, 720), (1920, 1080))
FEW = 5  # screens: prose, an explorer, a question
STILL = 400  # milliseconds: a picture is asked for anew, once its size holds still
BOTH = (".fh-hall", ".fh-shown")

# What is wrong on a screen: letters too small, words outside it, boxes that scroll, and parts of
# JupyterLab that have nothing to do there. Words that are only spoken are not on the screen.
FAULTS = """least => {
    const found = [];
    const seen = node => node.checkVisibility({ visibilityProperty: true })
        && !node.closest('.fh-heard, .fh-foot, mjx-assistive-mml');
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let text; (text = texts.nextNode()); ) {
        const words = text.data.trim(), node = text.parentElement;
        if (!words || !seen(node)) continue;
        const range = document.createRange();
        range.selectNodeContents(text);
        const { width, left, top, right, bottom } = range.getBoundingClientRect();
        const size = parseFloat(getComputedStyle(node).fontSize);
        if (width && size < least) found.push(`${size} px: ${words}`);
        if (width && (left < -1 || top < -1 || right > innerWidth + 1 || bottom > innerHeight + 1))
            found.push(`outside: ${words}`);
    }
    const scrolls = (how, long, wide) => /auto|scroll/.test(how) && long > wide + 1;
    for (const node of document.querySelectorAll('html, body, .fh-shown *')) {
        const { overflowX, overflowY } = getComputedStyle(node);
        if (node.clientHeight && seen(node)
            && (scrolls(overflowY, node.scrollHeight, node.clientHeight)
                || scrolls(overflowX, node.scrollWidth, node.clientWidth)))
            found.push(`scrolls: ${node.className}`);
    }
    const machinery = '.jp-Toolbar, .jp-SideBar, .lm-MenuBar, .lm-TabBar, #jp-bottom-panel, '
        + '.cm-editor, .jp-InputPrompt, .jp-OutputPrompt, .jp-Placeholder, .jp-Collapser';
    for (const part of document.querySelectorAll(machinery))
        if (seen(part) && part.getBoundingClientRect().height) found.push(part.className);
    return found;
}"""


@pytest.fixture(scope="module")
def hall(lab):
    """A page in the hall, at the panel that the address names."""
    page = lab.new_page()
    page.goto(
        lab.address(f"lab/{WORKSPACE}/tree/{PAGE}.ipynb", f"&reset&present={PAGE}&panel=explorer")
    )
    lab.wait_for_kernel()
    lab.wait_until_awake()
    page.locator(PANEL).wait_for(timeout=20_000)
    yield page
    page.set_viewport_size({"width": 1280, "height": 720})
    page.keyboard.press("Escape")


def stands(page):
    """Where the show stands: number of the screen, how many there are, and the heading."""
    number, many = page.locator(".fh-hall-count").inner_text().split(" of ")
    return int(number), int(many), page.locator(".fh-hall-title").text_content()


def test_an_address_opens_a_panel_in_the_hall_and_it_is_alive(hall):
    assert hall.locator(f"{PANEL} .fh-shot img").count() == 1
    said = hall.locator(VOICE).first.text_content()
    hall.locator(HANDLE).first.focus()
    hall.keyboard.press("ArrowRight")
    hall.locator(VOICE).first.filter(has_not_text=said).wait_for(state="attached")
    number = stands(hall)[0]
    hall.keyboard.press("PageDown")  # a remote's key, even while a slider has the focus
    assert stands(hall)[0] == number + 1


def test_screens_turn_by_the_keys_of_a_remote_and_by_arrows(hall):
    hall.keyboard.press("Home")
    number, many, title = stands(hall)
    assert number == 1
    assert many > 8
    assert title == hall.locator(".jp-Notebook h1").text_content().rstrip("¶")
    keys = {"PageUp": 1, "PageDown": 2, "ArrowRight": 3, "ArrowLeft": 2, "End": many}
    for key, at in keys.items():
        hall.keyboard.press(key)
        assert stands(hall)[0] == at
    assert hall.locator(".fh-hall-pages button").count() == len(shipped_titles())
    cells = f"() => {NOTEBOOK}.content.widgets.length"
    before = hall.evaluate(cells)
    for key in ("d", "d", "x", "a", "b"):  # with these JupyterLab would delete, cut and add cells
        hall.keyboard.press(key)
    assert hall.evaluate(cells) == before


@pytest.mark.parametrize("size", SIZES)
def test_screens_fit_the_wall_with_large_letters_and_no_machinery(hall, size):
    hall.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
    hall.keyboard.press("Home")
    faults = {}
    many = stands(hall)[1] if size == SIZES[0] else FEW
    for number in range(1, many + 1):
        if hall.locator(PANEL).count():
            hall.wait_for_timeout(STILL)
        found = hall.evaluate(FAULTS, LEAST)
        if found:
            faults[number, stands(hall)[2]] = found
        if number < many:
            hall.keyboard.press("PageDown")
    assert faults == {}


def test_a_prediction_leads_on_to_what_came_of_it_and_back(hall):
    hall.keyboard.press("Home")
    while not hall.locator(".fh-hall-question input[type=radio]").count():
        hall.keyboard.press("PageDown")
    number, many, _ = stands(hall)
    hall.locator(".fh-hall-question input[type=radio]").first.check()
    hall.locator(".fh-hall-question button", has_text="This is my prediction").click()
    hall.locator(f"{PANEL}.fh-reveal").wait_for(timeout=20_000)
    assert stands(hall)[:2] == (number + 1, many + 1)
    hall.wait_for_timeout(STILL)
    assert hall.evaluate(FAULTS, LEAST) == []
    hall.keyboard.press("PageUp")
    assert hall.locator(".fh-hall-question input[type=radio]").first.is_disabled()


def test_what_is_folded_unfolds_by_a_key_and_stays_on_the_screen(hall):
    hall.keyboard.press("Home")
    folded = hall.locator(".jp-Notebook details").first
    while not folded.locator("summary").is_visible():
        hall.keyboard.press("PageDown")
    inside = folded.locator(":scope > :not(summary)").first
    assert not inside.is_visible()
    hall.keyboard.press("Enter")
    inside.wait_for()
    assert hall.evaluate(FAULTS, LEAST) == []


def test_axe_finds_nothing_serious(hall):
    hall.keyboard.press("End")
    found = serious(hall, BOTH[:1])
    hall.evaluate(f"{NOTEBOOK}.setFragment('#present-explorer')")  # as a link in a notebook does
    hall.locator(PANEL).wait_for()
    assert found + serious(hall, BOTH) == []


def serious(page, parts):
    """Return what axe-core finds in the hall that keeps someone out, as lines to read."""
    found = Axe().run(page, context={"include": [[part] for part in parts]}).response
    assert len(found["passes"]) > 3  # it really looked
    return [
        f"{each['id']}: {node['html'][:120]}"
        for each in found["violations"]
        if each["impact"] in ("serious", "critical")
        for node in each["nodes"]
    ]


def test_escape_leads_to_the_same_place_in_the_ordinary_view_and_p_there_back(hall):
    hall.set_viewport_size({"width": 1280, "height": 720})
    hall.evaluate(f"{NOTEBOOK}.setFragment('#present-explorer')")
    hall.locator(PANEL).wait_for()
    number = stands(hall)[0]
    hall.keyboard.press("Escape")
    assert hall.locator(".fh-hall, .fh-big, .fh-part").count() == 0
    assert hall.locator(".jp-NotebookPanel-toolbar").is_visible()
    cell = f"{NOTEBOOK}.content.activeCell"
    assert "explorer" in hall.evaluate(f"() => {cell}.model.sharedModel.getSource()")
    assert hall.evaluate(f"() => {cell}.node.getBoundingClientRect().top") < 720
    hall.keyboard.press("p")
    hall.locator(".fh-hall-count").wait_for(timeout=20_000)
    assert stands(hall)[0] == number
