"""Every panel on a laptop, on a narrow screen and filling the window of a hall: boxes measured."""

import re

import nbformat
import pytest
from axe_playwright_python.sync_playwright import Axe

from fireheat import panels
from fireheat.panels.base import Voice

START = {
    "Predict": "'half_diameter', then=PlanTries()",
    "SelfCheck": "'why_four'",
    "Stepper": "bound_steps()",
    "WhatIf": "'heavy_spindle'",
}
ROOTS = ".jp-OutputArea-output .fireheat:not(.fireheat .fireheat)"
VISIBLE = 647  # pixels of a notebook that a laptop's 768 leave to be seen

# What is wrong with a panel as it is shown, as lines to read. What is only spoken has one pixel.
MEASURE = """(root, { least, result, handle, window }) => {
    const box = e => e.getBoundingClientRect();
    const seen = [...root.querySelectorAll('*')].filter(e =>
        e.checkVisibility({ visibilityProperty: true }) && box(e).width > 1 && box(e).height > 1
        && !e.closest('.fh-heard, .fh-big .fh-foot, audio, mjx-assistive-mml'));
    // Results that find no room in a hall are left out as a whole row.
    const row = e => e.closest('.fh-big .fh-tiles');
    const shown = seen.filter(e => !row(e) || box(e).top < box(row(e)).bottom - 1);
    const name = e => `${e.tagName}.${e.className} ${e.textContent.trim().slice(0, 40)}`;
    const words = shown.filter(e =>
        [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()));
    const at = box(root), wrong = [];
    // Letters of a drawing shrink and grow with it.
    const scale = e => e.ownerSVGElement ? e.getScreenCTM().a : 1;
    const size = e => scale(e) * parseFloat(getComputedStyle(e).fontSize);
    for (const e of words) {
        const { left, right, top, bottom } = box(e);
        if (!e.closest('mjx-container') && size(e) < least) wrong.push(`${size(e)} px: ${name(e)}`);
        const across = left < at.left - 1 || right > at.right + 1;
        if (across || top < at.top - 1 || bottom > at.bottom + 1)
            wrong.push(`sticks out: ${name(e)}`);
    }
    const plain = e => !e.matches('.fh-tiles, textarea, select, input');
    for (const e of [root, ...shown].filter(plain)) {
        const flow = getComputedStyle(e);
        const cut = flow.overflowX !== 'visible' && e.scrollWidth > e.clientWidth + 1
            || flow.overflowY !== 'visible' && e.scrollHeight > e.clientHeight + 1;
        if (cut && e.clientWidth) wrong.push(`cut or scrolled: ${name(e)}`);
    }
    for (const e of shown.filter(e => e.matches('.fh-tile b')))
        if (size(e) < result) wrong.push(`a result of ${size(e)} px: ${name(e)}`);
    for (const e of shown.filter(e => e.matches('.noUi-handle')))
        if (box(e).width < handle - 0.1) wrong.push(`a handle of ${box(e).width} px`);
    const pen = new OffscreenCanvas(1, 1).getContext('2d');
    for (const e of shown.filter(e => e.matches('select'))) {
        const flow = getComputedStyle(e), arrow = flow.appearance === 'none' ? 0 : 20;
        pen.font = flow.font;
        // Where a wood comes from, or what measures it, may be left to the open list.
        const first = [...e.options].map(one => one.text.split(/\\s·\\s|,\\s/)[0]);
        const wide = Math.max(...first.map(words => pen.measureText(words).width));
        const room = e.clientWidth - parseFloat(flow.paddingLeft) - parseFloat(flow.paddingRight);
        if (wide > room - arrow)
            wrong.push(`cut by ${wide - room + arrow} px: choices of ${name(e)}`);
    }
    const image = root.querySelector('.fh-shot img');
    if (window && image) {
        const [wide, high] = ['width', 'height'].map(side => Number(image.getAttribute(side)));
        const letters = 14 * 4 / 3 * Math.min(box(image).width / wide, box(image).height / high);
        if (letters < least) wrong.push(`letters of ${letters.toFixed(1)} px in the picture`);
    }
    // Letters of the question and key hints above each other; a line of letters has its own box.
    const lines = e => {
        const range = document.createRange();
        range.selectNodeContents(e);
        return [...range.getClientRects()];
    };
    const meet = (a, b) => a.left < b.right + 8 && b.left < a.right + 8
        && a.top < b.bottom && b.top < a.bottom;
    const hints = shown.filter(e => e.matches('.fh-hints > span'));
    for (const e of shown.filter(e => e.matches('.fh-question, .fh-tile, .fh-race-keys *')))
        if (lines(e).some(line => hints.some(hint => meet(line, box(hint)))))
            wrong.push(`under the keys: ${name(e)}`);
    if (window && (at.width !== innerWidth || at.height !== innerHeight || at.left || at.top))
        wrong.push(`fills ${at.width} x ${at.height}`);
    return wrong;
}"""

# From the top of a panel to the end of results, picture and controls that are not folded away.
TOGETHER = """root => Math.max(
    ...[...root.querySelectorAll('.fh-face, .fh-shot, .fh-side .fh-cell, select')]
    .filter(e => e.checkVisibility() && !e.closest('.fh-below'))
    .map(e => e.getBoundingClientRect().bottom)) - root.getBoundingClientRect().top"""

# Six readings in my kit, and my kit in every panel that takes it; and off again.
TURN = "for one in shown: isinstance(one, Trying) and one.mine.turn()"
MEASURED = (
    "diameter=0.0175, friction=0.33, burn_in_depth=0.0028, force=64.0, speed=0.93, moisture=0.13"
)
TAKE = f"""
my_kit.put(**{{key: well_measured(key, value) for key, value in dict({MEASURED}).items()}})
{TURN}"""
TAKE_OFF = f"{TURN}\nmy_kit.clear()"

# Once round and a bit: how often Tab is pressed to come past all that can be used in a panel.
ROUND = """root => 3 + [...root.querySelectorAll(
    'button, input, select, textarea, audio, a[href], summary, [tabindex], [contenteditable]')]
    .filter(e => e.checkVisibility({ visibilityProperty: true }))
    .reduce((sum, e) => sum + (e.matches('audio') ? 6 : 1), 0)"""


@pytest.fixture(scope="module")
def page(lab):
    new = nbformat.v4
    made = new.new_notebook(metadata={"kernelspec": {"name": "python3", "display_name": ""}})
    first = """
from fireheat.derivation.bound import bound_steps
from fireheat.panels import *
from fireheat.panels.mine import my_kit
from fireheat.panels.trying import Trying
from fireheat.person.measuring import well_measured
shown = []"""
    calls = [f"shown.append({name}({START.get(name, '')})); shown[-1]" for name in panels.__all__]
    made.cells = [new.new_code_cell(source) for source in (first, *calls)]
    nbformat.write(made, lab.folder / "every.ipynb")
    page = lab.turn_to("every.ipynb")
    size = page.viewport_size
    page.evaluate("window.jupyterapp.commands.execute('application:toggle-left-area')")
    yield page
    page.evaluate("window.jupyterapp.commands.execute('application:toggle-left-area')")
    page.set_viewport_size(size)


def resize(page, width, height):
    page.set_viewport_size({"width": width, "height": height})
    page.wait_for_timeout(800)


def every(page):
    """Each panel with its name, scrolled to."""
    roots = page.locator(ROOTS)
    assert roots.count() == len(panels.__all__)
    for number, name in enumerate(panels.__all__):
        roots.nth(number).scroll_into_view_if_needed()
        yield name, roots.nth(number)


def unfit(page, width):
    """Tell what does not fit on a screen so wide: on a laptop, what belongs together, too."""
    wrong = []
    least = {"least": 14, "result": 31, "handle": 26, "window": False}
    resize(page, width, 768)
    for name, root in every(page):
        wrong += [f"{width} {name}: {one}" for one in root.evaluate(MEASURE, least)]
        if width == 1366 and root.locator(".fh-shot").count():
            end = root.evaluate(TOGETHER)
            wrong += [f"{name} ends at {end:.0f}"] if end > VISIBLE else []
    return wrong


@pytest.mark.parametrize("width", [1366, 820])
def test_every_panel_fits_a_laptop_and_a_narrow_screen(page, width):
    assert not unfit(page, width)


def test_with_my_kit_taken_all_still_fits_a_laptop_and_what_is_mine_is_one_line(page, lab):
    lab.execute(TAKE)
    wrong = unfit(page, 1366)
    lines = page.locator(".fh-below .fh-note summary:visible")
    heights = [line.bounding_box()["height"] for line in lines.all()]
    lab.execute(TAKE_OFF)
    assert not wrong
    assert len(heights) >= 15
    assert max(heights) < 2 * min(heights)


@pytest.mark.parametrize(("width", "height"), [(1280, 720), (1920, 1080)])
def test_every_panel_fills_a_hall(page, width, height):
    resize(page, width, height)
    wrong, pressed = [], set()
    least = {"least": 20, "result": 48, "handle": 39, "window": True}
    for name, root in every(page):
        root.locator("> .fh-show").focus()
        place = root.evaluate("root => root.getBoundingClientRect().top")
        page.keyboard.press("Enter")
        page.wait_for_timeout(150)
        wrong += [f"{name}: {one}" for one in root.evaluate(MEASURE, least)]
        for asked in root.locator(".fh-also.widget-toggle-button").all():
            asked.press("Enter")
            root.locator(".fh-cell .fh-effect:visible", has_text=re.compile(r"\w")).first.wait_for()
            wrong += [f"{name}, asked: {one}" for one in root.evaluate(MEASURE, least)]
            asked.press("Enter")
            pressed.add(name)
        for kit in root.locator("button.fh-also", has_text="Use my kit").all():
            kit.press("Enter")
            root.locator(".fh-kit-said:visible", has_text="Nothing is in my kit").wait_for()
            wrong += [f"{name}, with my kit: {one}" for one in root.evaluate(MEASURE, least)]
            pressed.add("my kit")
        for _ in range(root.evaluate(ROUND)):  # Tab stays inside
            page.keyboard.press("Tab")
        if not root.evaluate("root => root.contains(document.activeElement)"):
            wrong.append(f"{name}: the Tab key leads out")
        for player in root.locator("audio").all():  # its own buttons tell no page of their keys
            player.focus()
            page.keyboard.press("Tab")
        page.keyboard.press("Escape")
        if "fh-big" in root.get_attribute("class"):
            wrong.append(f"{name}: does not leave")
        if abs(root.evaluate("root => root.getBoundingClientRect().top") - place) > 2:
            wrong.append(f"{name}: the page has moved")
    assert not wrong, wrong
    assert pressed == {"Explorer", "my kit"}


# A panel in a page that scrolls, as a notebook does, with something above it.
LOW = """<div id="page" style="height: 500px; overflow: auto"><div id="above" style="height: 400px">
</div><div id="cell"><div class="fireheat jupyter-widgets" style="height: 300px">{}</div></div>
<div style="height: 2000px"></div></div>"""
SCROLL = "([top, anchor]) => { page.scrollTop = top; page.style.overflowAnchor = anchor; }"
GROW = """by => new Promise(done => {
    above.style.height = `${above.offsetHeight + by}px`;
    requestAnimationFrame(() => requestAnimationFrame(done));
})"""
TOP = "document.querySelector('.fireheat').getBoundingClientRect().top"


@pytest.mark.parametrize("anchor", ["auto", "none"])  # browsers differ in that
def test_a_panel_comes_back_to_its_place_although_others_above_it_grew(bare, anchor):
    voice = Voice()
    page = bare(voice._esm, voice._css, voice.get_state(), LOW)
    for scrolled, by in [(0, 400), (250, 900), (700, -150), (700, 0)]:
        page.evaluate(SCROLL, [scrolled, anchor])
        place = page.evaluate(TOP)
        page.evaluate("document.querySelector('.fh-show').click()")
        assert page.evaluate(TOP) == 0
        page.evaluate(GROW, by)
        page.keyboard.press("Escape")
        assert page.evaluate(TOP) == place
        page.evaluate(GROW, 0)  # some frames later, too
        assert page.evaluate(TOP) == place
    page.evaluate("document.querySelector('.fh-show').click(), widget.style.minHeight = '3000px'")
    assert page.evaluate("widget.getBoundingClientRect().top") > 0, "nobody can scroll up to it"


def test_keys_show_a_panel_big_move_its_sliders_and_lead_back(page):
    root = page.locator(ROOTS).nth(panels.__all__.index("WattLadder"))
    root.scroll_into_view_if_needed()
    handles = root.locator(".noUi-handle")
    handles.first.focus()
    page.keyboard.press("f")
    image, words = root.locator(".fh-shot img"), root.locator(".fh-voice").first.inner_text()
    assert "fh-big" in root.get_attribute("class")
    page.wait_for_function(
        "image => image.naturalWidth >= 0.98 * image.getBoundingClientRect().width",
        arg=image.element_handle(),
    )
    page.keyboard.press("ArrowDown")
    assert handles.nth(1).evaluate("e => e === document.activeElement")
    page.keyboard.press("ArrowRight")
    root.locator(".fh-voice").first.filter(has_not_text=words).wait_for(state="attached")
    page.keyboard.press("b")
    root.locator(".fh-has-before").wait_for()
    page.keyboard.press("b")
    root.locator(".fh-has-before").wait_for(state="detached")
    page.keyboard.press("r")
    root.locator(".fh-voice").first.filter(has_text=words).wait_for(state="attached")
    page.keyboard.press("Escape")
    assert "fh-big" not in root.get_attribute("class")
    assert handles.nth(1).evaluate("e => e === document.activeElement")


def test_a_panel_in_a_prediction_tells_its_keys_and_what_is_unfolded_comes_into_view(page):
    resize(page, 1280, 560)
    root = page.locator(ROOTS).nth(panels.__all__.index("Predict"))
    root.get_by_role("radio").first.check()
    root.get_by_role("button", name="This is my prediction").click()
    root.get_by_role("button", name="Move it yourself").click()
    root.locator(".noUi-handle").first.focus()
    page.keyboard.press("f")
    keys = root.locator("> .fh-hints").inner_text().split()
    assert {"which", "move", "before", "reset", "back"} <= set(keys)
    page.keyboard.press("Escape")
    root.get_by_role("button", name="Running order").press("Enter")
    seen = "e => e.children.length && e.getBoundingClientRect().bottom <= innerHeight"
    page.wait_for_function(seen, arg=root.locator(".fh-order").element_handle())


def test_the_kit_bows_at_once_hears_its_keys_and_keeps_nobody_out(page):
    resize(page, 1366, 768)
    root = page.locator(ROOTS).nth(panels.__all__.index("KitAtWork"))
    root.scroll_into_view_if_needed()
    clock = root.locator("[data-clock]")
    seen = "root => parseInt(root.querySelector('[data-clock]').textContent) > 1"
    page.wait_for_function(seen, arg=root.element_handle())
    press = root.locator(".noUi-handle").nth(1)
    press.press("Space")
    root.get_by_role("button", name="Go on").wait_for()
    press.press("ArrowRight")
    root.locator(".fh-kit-word", has_text="65 N").wait_for()
    zero = clock.and_(page.locator(":text-is('0 s')"))
    zero.wait_for()  # a new try, and it is held as the one before was
    root.get_by_role("button", name="Go on").press("Enter")
    zero.wait_for(state="detached")
    root.get_by_role("button", name="Pause").wait_for()
    found = Axe().run(page, ".fh-kit").response
    assert {"button-name", "svg-img-alt"} <= {rule["id"] for rule in found["passes"]}
    assert [rule["id"] for rule in found["violations"] if rule["impact"] != "minor"] == []


@pytest.mark.parametrize(
    ("typed", "leave", "shown"),
    [("0,2", "Enter", "0.20"), (",3", "Tab", "0.30"), ("0.25", "Tab", "0.25")],
)
def test_a_decimal_comma_is_a_decimal_point(page, typed, leave, shown):
    root = page.locator(ROOTS).nth(panels.__all__.index("WattLadder"))
    readout = root.locator(".widget-readout").nth(3)
    readout.click()
    page.keyboard.press("Control+a")
    page.keyboard.type(typed)
    page.keyboard.press(leave)
    page.wait_for_function(
        "([part, words]) => part.textContent === words", arg=[readout.element_handle(), shown]
    )


def test_a_stepper_keeps_its_height_and_hears_a_presenters_keys(page):
    root = page.locator(ROOTS).nth(panels.__all__.index("Stepper"))
    root.scroll_into_view_if_needed()
    following, place = root.locator(".fh-key-next"), []
    following.focus()
    for number, key in enumerate(["PageDown", "ArrowRight"] * 9, start=2):
        page.keyboard.press(key)
        root.locator(".fh-voice").filter(has_text=f"Step {number} of").wait_for()
        place.append((root.bounding_box()["height"], following.bounding_box()["x"]))
        assert root.locator(".fh-step").evaluate("e => e.scrollHeight <= e.clientHeight + 1")
    assert len(set(place)) == 1
    page.keyboard.press("PageUp")
    root.locator(".fh-voice").filter(has_text="Step 18 of").wait_for()
