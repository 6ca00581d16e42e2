"""Taps and the practice beat in a real browser: times are taken there, by keyboard too."""

import nbformat
import pytest

from fireheat.panels.practice import TapPad

GAP = 250  # ms between taps: 240 strokes a minute
COUNT = 12


@pytest.fixture(scope="module")
def notebook(lab):
    """Write a notebook with a tap counter and a beat."""
    new = nbformat.v4
    made = new.new_notebook(metadata={"kernelspec": {"name": "python3", "display_name": ""}})
    made.cells = [
        new.new_code_cell("from fireheat.panels import PracticeBeat, TapCounter"),
        new.new_code_cell("counter = TapCounter()\ncounter"),
        new.new_code_cell("PracticeBeat()"),
    ]
    nbformat.write(made, lab.folder / "practice.ipynb")
    return "practice.ipynb"


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
