"""All sayings in a real browser: rows that are chosen by keys, bars as long as their counts."""

import pytest

from fireheat.panels import Court
from fireheat.panels.court import Docket

AROUND = """<div class="fireheat"><div class="fh-stage fh-court fh-court-all">
    <div class="fh-ask"><input type="radio"></div>
    <div class="fh-court-keys"><button>Vote again</button></div>
    <div class="fh-docket">{}</div></div></div>"""
WORDS = "() => [...document.querySelectorAll('.fh-docket li')].map(row => row.textContent)"
FOCUS = "() => document.activeElement.dataset.key ?? document.activeElement.textContent"
SETTLED = "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"
LENGTHS = """() => [...document.querySelectorAll('.fh-parts > span:not([hidden])')]
    .map(part => part.getBoundingClientRect().width / part.parentElement.clientWidth)"""


@pytest.fixture(scope="module")
def rows():
    """The rows of a court that has heard one saying."""
    court = Court()
    court.commit("depends")
    court.bench.show_all()
    return court.bench.docket.rows


@pytest.fixture
def docket(bare, rows):
    page = bare(Docket._esm, Docket._css, {"rows": rows, "chosen": ""}, AROUND)
    page.evaluate(SETTLED)
    return page


def test_a_row_that_nobody_has_voted_on_shows_no_number_and_the_others_all(docket, rows):
    heard, *shut = docket.evaluate(WORDS)
    for kind, count in zip(("helped", "no matter", "harmed"), rows[0]["counts"], strict=True):
        assert f"{kind} {count}" in heard
    assert len(shut) >= 15
    assert all("no vote yet" in words for words in shut)
    assert not any(character.isdigit() for words in shut for character in words)
    for length, count in zip(docket.evaluate(LENGTHS), rows[0]["counts"], strict=True):
        assert length == pytest.approx(count / 100, abs=0.01)


def test_arrows_go_from_row_to_row_and_a_row_that_is_pressed_is_called(docket, rows):
    keys = [row["key"] for row in rows]
    docket.locator(".fh-docket button").first.focus()
    for key, at in (("ArrowDown", 1), ("ArrowDown", 2), ("ArrowUp", 1)):
        docket.keyboard.press(key)
        assert docket.evaluate(FOCUS) == keys[at]
    docket.evaluate("rows => kernel.set({ rows: rows.slice(1) })", rows)
    assert docket.evaluate(FOCUS) == keys[1]  # what is drawn anew is still under the fingers
    docket.keyboard.press("ArrowUp")
    assert docket.evaluate(FOCUS) == keys[-1]
    docket.keyboard.press("Enter")
    assert docket.evaluate("sent") == [{"chosen": keys[-1]}]


def test_keys_are_heard_when_what_had_the_focus_is_gone(docket):
    docket.locator("input").focus()
    docket.evaluate("kernel.set({ rows: [] })")
    docket.evaluate("document.querySelector('.fh-ask').style.display = 'none'")
    docket.evaluate(SETTLED)
    assert docket.evaluate(FOCUS) == "Vote again"
