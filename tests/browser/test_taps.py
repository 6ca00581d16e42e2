"""Measuring in a real browser: taps, by keyboard too, the practice beat, and a kit that is kept."""

import nbformat
import pytest

from fireheat.panels.practice import TapPad

GAP = 250  # ms between taps: 240 strokes a minute
COUNT = 12


@pytest.fixture(scope="module")
def notebook(lab):
    """Write a notebook with a tap counter, a beat and my kit."""
    return write(lab, "practice.ipynb", "TapCounter()", "PracticeBeat()", "MyKitTable()")


def write(lab, name, *calls):
    """Write a notebook of panels."""
    new = nbformat.v4
    made = new.new_notebook(metadata={"kernelspec": {"name": "python3", "display_name": ""}})
    made.cells = [new.new_code_cell(f"from fireheat.panels import *\n{call}") for call in calls]
    nbformat.write(made, lab.folder / name)
    return name


@pytest.fixture
def practice(lab, notebook):
    """The notebook with counter and beat made anew, in a page that may have been used."""
    page = lab.anew(notebook)
    assert lab.errors() == []
    return page


def counted(page):
    """Ends of the strokes a minute, as the panel says them once the taps have paused."""
    line = page.locator(".fh-voice", has_text="strokes a minute, bow speed")
    line.wait_for()
    words = line.inner_text()
    low, _, high = words.partition(": ")[2].partition(" strokes")[0].split(" ")
    return words, float(low), float(high)


def tap(page, press):
    for _ in range(COUNT):
        press()
        page.wait_for_timeout(GAP)


@pytest.mark.parametrize("key", ["Space", "Enter"])
def test_taps_by_keyboard_give_the_rate_at_which_they_were_made(practice, key):
    pad = practice.locator(".fh-pad")
    pad.focus()
    # The browser's own clock says when the keys came; a busy machine makes the gaps longer.
    practice.evaluate(
        "() => { const taps = (window.taps = []);"
        " window.addEventListener('keydown', e => taps.push(e.timeStamp), true); }"
    )
    tap(practice, lambda: practice.keyboard.press(key))
    words, low, high = counted(practice)
    times = practice.evaluate("() => window.taps")
    rate = 60_000 * (len(times) - 1) / (times[-1] - times[0])
    assert words.startswith(f"{COUNT} taps")
    assert low <= rate <= high
    assert 60 < rate < 60_000 / GAP + 10
    assert pad.evaluate("e => document.activeElement === e")  # JupyterLab took no key for itself


def test_a_click_is_one_tap_and_not_two_and_reset_takes_all_away(bare):
    script = TapPad()
    page = bare(script._esm, state=script.get_state())
    pad = page.locator(".fh-pad")
    tap(page, pad.click)
    assert f"{COUNT} taps" in pad.inner_text()
    page.wait_for_function("() => window.sent.length")
    assert [len(one["value"]) for one in page.evaluate("() => window.sent")] == [COUNT]
    page.evaluate("() => window.kernel.set({ value: [] })")
    assert "space bar" in pad.inner_text()


def test_the_result_is_spoken_once_and_the_pad_has_a_name(practice):
    pad = practice.get_by_role("button", name="Tap at each pass of the bow")
    assert pad.count() == 1
    voice = practice.locator(".fh-voice", has_text="No taps yet")
    assert voice.get_attribute("aria-live") == "polite"


def test_the_beat_can_be_played_and_is_a_minute_long(lab, practice):
    player = practice.locator("audio")
    assert player.get_attribute("aria-label").startswith("Practice beat, 120 strokes a minute")
    practice.wait_for_function("() => document.querySelector('audio').readyState >= 1")
    assert player.evaluate("e => e.duration") == pytest.approx(60.0, abs=0.1)
    assert player.evaluate("e => e.paused")  # nothing sounds before it is asked for
    assert lab.strangers() == []


def test_a_kit_kept_on_one_page_is_taken_on_another(lab, practice):
    practice.set_default_timeout(20_000)
    table = practice.locator(".fireheat", has_text="What have we measured?").last
    table.locator(".noUi-handle:visible").press("ArrowRight")
    table.get_by_text("16.5 ± 0.3 mm").first.wait_for(state="attached")
    table.get_by_role("button", name="Put into my kit").click()
    table.get_by_role("button", name="Keep my kit on this computer").click()  # once it is enabled
    table.get_by_text("numbers only, no names").wait_for()
    page = lab.turn_to(write(lab, "other.ipynb", "Rings()"))  # which has a kernel of its own
    page.get_by_role("button", name="Use my kit").click()
    page.get_by_text("◆ measured, kept on this computer: spindle diameter 16.5").wait_for()
    assert page.locator(".widget-readout").first.inner_text() == "16.5"
    (lab.home / "kept" / "my_kit.json").unlink()
