"""The watch of the minute after first smoke, in a bare page: what is pressed, and what is told."""

import pytest

from fireheat.panels.smoke_now import SmokeClock

NOW = "Date.now = () => window.at"


@pytest.fixture
def watch(bare):
    """A watch whose wall clock is the test's."""
    clock = SmokeClock(least=0.5, most=600.0, typed=20.0, shown=30.0, beat=120.0)
    page = bare(clock._esm, clock._css, clock.get_state())
    page.evaluate(f"window.at = 1_000_000; {NOW}")
    return page


def seen(page):
    """The time shown, and the keys that can be pressed."""
    keys = page.locator(".fh-smoke-key:visible").all_inner_texts()
    return page.get_by_role("timer").inner_text(), keys


def later(page, seconds):
    """Let so many seconds pass, and the watch look at its clock."""
    words = page.get_by_role("timer").inner_text()
    page.evaluate(f"window.at += {1000 * seconds}")
    page.wait_for_function(
        "words => document.querySelector('[role=timer]').textContent !== words", arg=words
    )


def test_first_stroke_then_smoke_count_from_the_first_stroke(watch):
    assert seen(watch) == ("0:30", ["First stroke", "Smoke!"])
    watch.get_by_role("button", name="First stroke").press("Enter")
    later(watch, 12.4)
    assert seen(watch) == ("0:12", ["Smoke!", "Stop"])
    assert watch.evaluate("window.sent.every(one => !one.smoke)")
    focused = watch.evaluate("document.activeElement.textContent")
    assert focused == "Smoke!"  # the key pressed is gone, and the next one is under the hand
    watch.keyboard.press("Space")
    assert watch.evaluate("[window.model.get('smoke'), window.model.get('elapsed')]") == [12.4] * 2
    later(watch, 4)
    assert watch.evaluate("window.model.get('elapsed')") == 12.4  # not at each second
    later(watch, 4)
    assert watch.evaluate("window.model.get('elapsed')") == 20.4
    later(watch, 1)
    watch.keyboard.press("Enter")
    assert watch.evaluate("[window.model.get('start'), window.model.get('elapsed')]") == [0, 21.4]
    assert seen(watch)[1] == ["First stroke", "Smoke!"]


def test_smoke_alone_counts_on_from_what_was_typed(watch):
    watch.get_by_role("button", name="Smoke!").click()
    assert watch.evaluate("[window.model.get('smoke'), window.model.get('elapsed')]") == [20] * 2
    assert seen(watch)[1] == ["Stop"]
    later(watch, 7)
    assert seen(watch)[0] == "0:27"
    assert watch.evaluate("window.model.get('elapsed')") == 27


def test_a_watch_that_was_forgotten_stops(watch):
    watch.get_by_role("button", name="Smoke!").click()
    later(watch, 4000)
    watch.get_by_role("button", name="First stroke").wait_for()
    assert watch.evaluate("[window.model.get('start'), window.model.get('elapsed')]") == [0, 600]


def test_the_beat_is_heard_only_when_it_is_asked_for_and_at_its_own_gaps(watch):
    watch.evaluate(
        """() => {
        const start = OscillatorNode.prototype.start;
        window.rings = [];
        OscillatorNode.prototype.start = function (at) {
            window.rings.push(at);
            start.call(this, at);
        };
        }"""
    )
    key = watch.get_by_role("button", name="Hear the beat: 120 a minute")
    key.click()
    watch.wait_for_function("window.rings.length >= 3")
    gaps = watch.evaluate("window.rings.slice(1).map((at, place) => at - window.rings[place])")
    assert gaps == pytest.approx([0.5] * len(gaps), abs=1e-6)
    watch.get_by_role("button", name="Stop the beat: 120 a minute").click()
    key.wait_for()
    watch.evaluate("window.kernel.set({ beat: 0 })")
    assert watch.locator(".fh-smoke-beat").is_hidden()
