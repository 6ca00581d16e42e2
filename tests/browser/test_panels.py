"""Panels in a real browser: by keyboard, by name, in both themes, on a small screen."""

import re
from pathlib import Path

import nbformat
import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import NOTEBOOK

import fireheat.panels
from fireheat.words import inch_words

HANDLE, VOICE = ".noUi-handle", ".fh-voice"
ACROSS = 'select[aria-label="Picture across"]'
TIMEOUT = 40_000  # milliseconds
CELLS = (
    "from fireheat.panels import Explorer, HeatView, Predict, SelfCheck, Stepper, WhatIf\n"
    "from fireheat.derivation.bound import bound_steps",
    "Explorer()",
    "Predict('half_diameter', then=Explorer())",
    "SelfCheck('why_four')",
    "WhatIf('heavy_spindle')",
    "Stepper(bound_steps())",
    "HeatView()",
)
EXPLORER, PREDICT, CHECK, CARD, STEPPER, HEAT = range(6)


@pytest.fixture(scope="module")
def notebook(lab):
    """Write a notebook with one panel of each kind."""
    new = nbformat.v4
    made = new.new_notebook(metadata={"kernelspec": {"name": "python3", "display_name": ""}})
    made.cells = [new.new_code_cell(source) for source in CELLS]
    nbformat.write(made, lab.folder / "panels.ipynb")
    return "panels.ipynb"


# A hand in a panel, by key, pointer or focus, leaves a mark on its cell.
MARK_TOUCHED = f"""() => {{
    for (const kind of ['keydown', 'pointerdown', 'focusin'])
        {NOTEBOOK}.node.addEventListener(kind, event => {{
            const cell = event.target.closest('.jp-Cell');
            if (cell) cell.dataset.touched = kind;
        }}, true);
}}"""
RUN_TOUCHED = f"""async () => {{
    const {{ content, sessionContext }} = {NOTEBOOK};
    const touched = content.widgets.filter(cell => cell.node.dataset.touched);
    for (const cell of touched) await cell.constructor.execute(cell, sessionContext);
    touched.forEach(cell => delete cell.node.dataset.touched);
    return touched.length;
}}"""


@pytest.fixture
def page(lab, notebook):
    """The notebook with every panel as new, in a page and a kernel that may have been used.

    A panel that no hand has been in since it was made is as new.
    """
    if lab.shows(notebook):
        lab.page.keyboard.press("Escape")
        lab.page.evaluate(RUN_TOUCHED)
    else:
        lab.turn_to(notebook)
        lab.page.evaluate(MARK_TOUCHED)
    return ready(lab, lab.page)


def ready(lab, page):
    """Wait until the controls have the names that are given to them a moment later."""
    page.set_default_timeout(TIMEOUT)
    lab.wait_for(
        f"""() => {{
            const handles = [...document.querySelectorAll('{HANDLE}')];
            return handles.length && handles.every(handle => handle.ariaLabel);
        }}"""
    )
    lab.settle()
    return page


def panel(page, number):
    found = page.locator(".jp-OutputArea-output .fireheat:not(.fireheat .fireheat)").nth(number)
    found.scroll_into_view_if_needed()
    return found


def said(panel):
    """Return the spoken line, which never tears a number from its unit, with ordinary spaces."""
    return panel.locator(VOICE).first.inner_text().replace("\xa0", " ")


def unfold(panel):
    """Show what is folded away below a panel."""
    panel.get_by_role("button", name="More").press("Enter")
    panel.locator(ACROSS).wait_for()


def wait_for_other(panel, words):
    """Wait until the spoken line has changed, and return it."""
    panel.locator(VOICE).first.filter(has_not_text=words).wait_for()
    return said(panel)


def focused(page):
    return page.evaluate("document.activeElement.getAttribute('aria-label')")


def test_an_arrow_key_moves_numbers_picture_and_spoken_line(lab, page):
    explorer = panel(page, EXPLORER)
    image, tiles = explorer.locator("img"), explorer.locator(".fh-tiles")
    words, pixels, numbers = said(explorer), image.get_attribute("src"), tiles.inner_text()
    explorer.locator(HANDLE).first.focus()
    page.keyboard.press("ArrowRight")
    now = wait_for_other(explorer, words)
    assert "16.5 mm" in now
    assert image.get_attribute("alt") == now
    assert image.get_attribute("src") != pixels
    assert tiles.inner_text() != numbers
    assert explorer.locator(VOICE).first.get_attribute("aria-live") == "polite"
    assert lab.errors() == []


def test_the_tab_key_goes_from_slider_to_slider(page):
    explorer = panel(page, EXPLORER)
    explorer.locator(HANDLE).first.focus()
    names = []
    for _ in range(8):
        names.append(focused(page))
        page.keyboard.press("Tab")
    assert list(dict.fromkeys(names)) == [
        "Spindle diameter (mm)",
        "Downward force (N)",
        "Friction coefficient",
        "Bow speed (m/s)",
    ]


@pytest.mark.parametrize(
    ("control", "keys", "words"),
    [
        (f"{HANDLE} >> nth=0", "ArrowUp", "16.5 mm"),
        (f"{HANDLE} >> nth=0", "ArrowDown", "15.5 mm"),
        (f"{HANDLE} >> nth=0", "End", "32.0 mm"),
        (ACROSS, "ArrowDown ArrowDown", "at downward force 60 N"),
        (ACROSS, "b", "at bow speed 1.00 m/s"),
    ],
)
def test_plain_keys_go_to_the_control_and_not_to_the_notebook(lab, page, control, keys, words):
    explorer, cells = panel(page, EXPLORER), len(lab.code_cells())
    unfold(explorer)
    explorer.locator(control).focus()
    for key in keys.split():
        page.keyboard.press(key)
    explorer.locator(VOICE).filter(has_text=words).wait_for()
    assert explorer.locator(control).evaluate("e => e === document.activeElement")
    assert len(lab.code_cells()) == cells


def test_tabbing_through_moves_nothing_even_where_numbers_are_rounded(page):
    explorer = panel(page, EXPLORER)
    words = said(explorer)
    explorer.get_by_role("button", name="inches").press("Enter")
    wait_for_other(explorer, words)
    explorer.locator(HANDLE).first.focus()
    for _ in range(9):
        page.keyboard.press("Tab")
    page.wait_for_timeout(1000)
    inches = said(explorer)
    explorer.get_by_role("button", name="mm", exact=True).press("Enter")
    assert wait_for_other(explorer, inches) == words


@pytest.mark.parametrize("role", ["slider", "combobox", "button", "radio", "spinbutton"])
def test_every_control_has_a_name(page, role):
    page.locator(".fireheat button", has_text="More").first.press("Enter")
    page.locator(".fireheat select").nth(2).wait_for()
    page.wait_for_timeout(500)
    controls = page.locator(".fireheat").get_by_role(role)
    named = page.locator(".fireheat").get_by_role(role, name=re.compile(r"\w"))
    assert controls.count() == named.count()
    if role in ("slider", "combobox", "button", "radio"):
        assert controls.count() > 3


def test_names_of_sliders_are_the_words_beside_them(page):
    for cell in panel(page, EXPLORER).locator(".fh-cell:visible .widget-slider").all():
        words = cell.locator(".widget-label").inner_text()
        unit = cell.locator(".widget-readout").get_attribute("data-unit")
        whole = f"{words} ({unit})" if unit else words
        assert cell.locator(HANDLE).get_attribute("aria-label") == whole


# Another page that is open: what it hears of units, and how it tells of its own.
LISTEN = """() => {
    window.others = new BroadcastChannel('fireheat-units');
    window.heard = [];
    window.others.onmessage = ({ data }) => window.heard.push(data);
}"""
TELL = "() => window.others.postMessage(['metric', window.heard.at(-1)[1] + 1])"


def test_units_chosen_on_one_panel_change_all_and_other_pages_and_back(lab, page):
    page.evaluate(LISTEN)
    explorer, card = panel(page, EXPLORER), panel(page, CARD)
    words = said(explorer)
    choice = explorer.get_by_role("group", name="Sizes in")
    choice.get_by_role("button", name="inches").press("Enter")
    assert "5/8 in" in wait_for_other(explorer, words)
    card.get_by_text("7/8 in").first.wait_for()
    panel(page, PREDICT).get_by_text("A broom handle is 7/8 in thick").wait_for()
    lab.settle()
    (chosen,) = {tuple(one) for one in page.evaluate("window.heard")}
    assert chosen[0] == "us"
    cell = explorer.locator(".widget-slider").first
    assert cell.locator(".widget-label").inner_text() == "Spindle diameter"
    assert cell.locator(".widget-readout").get_attribute("data-unit") == "in"
    assert cell.locator(HANDLE).get_attribute("aria-label") == "Spindle diameter (in)"
    assert cell.locator(".widget-readout").inner_text() == "5/8"
    force = explorer.locator(".widget-readout").nth(1)
    assert (force.inner_text(), force.get_attribute("data-unit")) == ("13", "lb")
    page.evaluate(TELL)
    wait_for_other(explorer, "5/8 in")
    assert said(explorer) == words
    card.get_by_text("22 mm").first.wait_for()
    lab.settle()
    assert cell.locator(".widget-readout").inner_text() == "16.0"


@pytest.mark.parametrize(("typed", "shown"), [("1 1/4", "1 1/4"), ("0.51", "1/2")])
def test_a_fraction_of_an_inch_is_typed_and_slid_as_it_is_read(lab, page, typed, shown):
    explorer = panel(page, EXPLORER)
    explorer.get_by_role("button", name="inches").press("Enter")
    explorer.locator(VOICE).filter(has_text="5/8").wait_for()
    readout = explorer.locator(".widget-readout").first
    readout.fill(typed)
    readout.press("Tab")
    explorer.locator(VOICE).filter(has_text=f"{shown} in".replace(" ", "\xa0")).wait_for()
    lab.settle()
    assert readout.inner_text() == shown
    explorer.locator(HANDLE).first.press("ArrowLeft")
    wait_for_other(explorer, f"{shown}\xa0in")
    lab.settle()
    assert readout.inner_text() == {"1 1/4": "1 7/32", "1/2": "15/32"}[shown]
    explorer.get_by_role("button", name="mm", exact=True).press("Enter")
    wait_for_other(explorer, "/32")


def test_the_browser_spells_and_reads_every_mark_as_the_kernel_does(bare):
    script = (Path(fireheat.panels.__file__).parent / "panel.js").read_text(encoding="utf-8")
    marks = [(n / parts, parts) for parts in (1, 4, 32, 64) for n in range(3 * parts)]
    told = bare("export default { render() {} }").evaluate(
        """async ([script, marks]) => {
            const file = new Blob([script], { type: "text/javascript" });
            const { spelled, plainNumber } = await import(URL.createObjectURL(file));
            return marks.map(([inches, parts]) => {
                const words = spelled(inches, parts);
                return [words, Number(plainNumber(words))];
            });
        }""",
        [f"{script}\nexport {{ spelled, plainNumber }};", marks],
    )
    assert told == [[inch_words(*mark), mark[0]] for mark in marks]


def test_a_pinned_state_is_shown_beside_the_state_now(page):
    explorer = panel(page, EXPLORER)
    band = re.search(r"estimate (.*?) \(", said(explorer)).group(1)
    explorer.get_by_role("button", name="Keep this as").press("Enter")
    explorer.locator(".fh-has-before").wait_for()
    explorer.locator(HANDLE).first.focus()
    page.keyboard.press("ArrowRight")
    explorer.locator(VOICE).filter(has_text="16.5 mm").wait_for()
    assert f"Before: estimate {band}" in said(explorer)
    tiles = explorer.locator(".fh-tiles").inner_text().replace("\xa0", " ")
    assert f"before: {band}" in tiles
    explorer.get_by_role("button", name="Take “before” off").press("Enter")
    explorer.locator(".fh-has-before").wait_for(state="detached")


def test_a_prediction_is_made_by_keyboard_and_then_answered(page):
    predict = panel(page, PREDICT)
    assert predict.locator("img").count() == 0
    commit = predict.get_by_role("button", name="This is my prediction")
    assert commit.is_disabled()
    predict.get_by_role("radio").first.focus()
    page.keyboard.press("ArrowDown")  # the second option, "a quarter of the time"
    commit.and_(page.locator(":enabled")).wait_for()
    assert said(predict) == "not tried yet"
    for _ in predict.get_by_role("spinbutton").all():
        page.keyboard.press("Tab")  # past the places to count hands in
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    predict.locator("img").wait_for()
    assert said(predict) == "As you said: a quarter of the time."
    assert predict.get_by_role("radio").first.is_disabled()


def test_a_self_check_answers_by_keyboard(page):
    check = panel(page, CHECK)
    check.get_by_role("radio").first.focus()
    page.keyboard.press("Space")
    assert wait_for_other(check, "not tried yet").startswith("Not yet, because")


def test_a_derivation_steps_on_by_keyboard(page):
    stepper = panel(page, STEPPER)
    words = said(stepper)
    stepper.get_by_role("button", name="Next step").press("Enter")
    assert wait_for_other(stepper, words).startswith("Step 2 of")


def look_at_half_a_minute(page, heat):
    """Move the time to 30 s, and wait until the panel says so."""
    readout = heat.locator(".widget-readout").first
    readout.click()
    page.keyboard.press("Control+a")
    page.keyboard.type("30")
    page.keyboard.press("Enter")
    heat.locator(VOICE).filter(has_text="after 30 s").wait_for()


def test_time_plays_from_where_the_slider_stands_and_pauses_by_keyboard(page):
    heat = panel(page, HEAT)
    assert "after 0 s" in said(heat)  # it starts cold
    look_at_half_a_minute(page, heat)
    heat.get_by_role("button", name="Play").press("Enter")
    heat.locator(VOICE).filter(has_text=re.compile(r"after 3[2-9]\ss")).wait_for()
    heat.get_by_role("button", name="Pause").press("Enter")
    page.wait_for_timeout(700)
    paused = said(heat)
    page.wait_for_timeout(700)
    assert said(heat) == paused
    heat.get_by_role("button", name="Back to the start").press("Enter")
    heat.locator(VOICE).filter(has_text="after 0 s").wait_for()


def test_reset_while_time_plays_leads_home_and_stops_it(page):
    heat = panel(page, HEAT)
    for _ in range(3):
        look_at_half_a_minute(page, heat)
        heat.get_by_role("button", name="Play").press("Enter")
        heat.locator(VOICE).filter(has_text=re.compile(r"after 3[4-9]\ss")).wait_for()
        heat.get_by_role("button", name="Reset").press("Enter")
        page.wait_for_timeout(1200)
        assert "after 0 s" in said(heat)


def test_the_name_of_the_play_button_goes_with_its_icon(page):
    heat = panel(page, HEAT)
    heat.locator(HANDLE).first.focus()
    page.keyboard.press("End")
    page.keyboard.press("ArrowLeft")
    heat.locator(VOICE).filter(has_text="after 119 s").wait_for()
    heat.get_by_role("button", name="Play").press("Enter")
    heat.locator(VOICE).filter(has_text="after 120 s").wait_for()
    page.wait_for_timeout(600)
    assert heat.locator(".widget-play .fa-play").count() == 1
    assert heat.get_by_role("button", name="Play").count() == 1


@pytest.mark.parametrize("leave", ["Tab", "Enter"])
def test_a_number_typed_into_a_readout_counts_when_it_is_left(page, leave):
    explorer = panel(page, EXPLORER)
    readout = explorer.locator(".widget-readout").first
    readout.click()
    page.keyboard.press("Control+a")
    page.keyboard.type("20")
    page.keyboard.press(leave)
    explorer.locator(VOICE).filter(has_text="20.0 mm").wait_for()
    assert readout.inner_text() == "20.0"


def test_no_panel_asks_anything_of_another_machine(lab, page):
    panel(page, CARD).locator(HANDLE).first.press("ArrowLeft")
    page.wait_for_timeout(500)
    assert lab.strangers() == []


INSIDE = """panels => panels.flatMap(panel => {
    const box = panel.getBoundingClientRect();
    const parts = [...panel.querySelectorAll('button, select, input, img, label, .noUi-target, b')];
    return parts.map(part => [part, part.getBoundingClientRect()])
        .filter(([_, at]) => at.width && (at.left < box.left - 1 || at.right > box.right + 1))
        .map(([part, _]) => part.outerHTML.slice(0, 90));
})"""


SIDEWAYS = """all => all.filter(e => e.scrollWidth > e.clientWidth + 1)
    .map(e => `${e.scrollWidth} in ${e.clientWidth}: ${e.className} ${e.textContent.slice(0, 90)}`)
"""


@pytest.mark.parametrize("width", [900, 1280])
def test_no_panel_is_wider_than_a_small_screen(page, width):
    page.set_viewport_size({"width": width, "height": 720})
    page.wait_for_timeout(500)
    try:
        panels = page.locator(".fireheat")
        assert panels.evaluate_all(INSIDE) == []
        outputs = page.locator(".jp-OutputArea-output:has(.fireheat), .fireheat")
        assert outputs.evaluate_all(SIDEWAYS) == []
        rights = panels.evaluate_all("all => all.map(e => e.getBoundingClientRect().right)")
        assert max(rights) <= width
    finally:
        page.set_viewport_size({"width": 1280, "height": 720})


def serious(page):
    """Return what axe-core finds in panels that keeps someone out, as lines to read."""
    page.locator(".fireheat button", has_text="More").first.press("Enter")
    page.wait_for_timeout(700)
    found = Axe().run(page, ".fireheat").response
    assert len(found["passes"]) > 10  # it really looked
    assert {"color-contrast", "aria-input-field-name"} <= {rule["id"] for rule in found["passes"]}
    return [
        f"{rule['id']}: {node['html'][:120]}"
        for rule in found["violations"]
        if rule["impact"] in ("serious", "critical")
        for node in rule["nodes"]
    ]


def test_axe_finds_nothing_serious_in_the_light_theme(page):
    assert serious(page) == []


@pytest.fixture
def dark(page):
    """The same page in JupyterLab's dark theme."""
    theme = "window.jupyterapp.commands.execute('apputils:change-theme', {{theme: '{}'}})"
    page.evaluate(theme.format("JupyterLab Dark"))
    page.locator("body[data-jp-theme-light=false]").wait_for(state="attached")
    page.wait_for_timeout(500)
    yield page
    page.evaluate(theme.format("JupyterLab Light"))
    page.locator("body[data-jp-theme-light=true]").wait_for(state="attached")


def test_axe_finds_nothing_serious_in_the_dark_theme(dark):
    assert serious(dark) == []


# A picture of its own for the dark, not the light one turned round.
CORNER_IS_DARK = """async image => {
    await image.decode();
    const canvas = Object.assign(document.createElement('canvas'), { width: 1, height: 1 });
    const pen = canvas.getContext('2d');
    pen.drawImage(image, 0, 0);
    return Math.max(...pen.getImageData(0, 0, 1, 1).data.slice(0, 3)) < 50;
}"""


def brightness(page, selector, what):
    color = page.locator(selector).first.evaluate(f"e => getComputedStyle(e).{what}")
    return sum(int(part) for part in re.findall(r"\d+", color)[:3]) / (3 * 255)


def test_the_dark_theme_has_light_letters_and_a_dark_picture(dark):
    assert brightness(dark, ".fh-tile b", "color") > 0.5
    assert brightness(dark, ".jp-NotebookPanel", "backgroundColor") < 0.2
    picture = dark.locator(".fireheat img").first
    assert picture.evaluate("e => getComputedStyle(e).filter") == "none"
    dark.wait_for_function(CORNER_IS_DARK, arg=picture.element_handle())
