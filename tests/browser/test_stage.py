"""A kit that bows in a real browser: each part is where the library says, and holds when asked."""

import re
from itertools import pairwise

import pytest

from fireheat import panels

CLOCK = "() => document.querySelector('[data-clock]').textContent"
POSE = """() => Object.fromEntries([...document.querySelectorAll('[data-part]')].map(part => [
    part.dataset.part,
    Object.fromEntries([...part.attributes].map(one => [one.name, one.value])),
]))"""
SPACE = """() => document.querySelector('.fh-live')
    .dispatchEvent(new KeyboardEvent('keydown', { key: ' ', bubbles: true }))"""
PLACED = """margin => {
    document.querySelector('.fireheat').style.marginTop = margin;
    return new Promise(done => new IntersectionObserver(done).observe(document.body));
}"""
HIDE = """hidden => {
    Object.defineProperty(document, 'hidden', { value: hidden, configurable: true });
    document.dispatchEvent(new Event('visibilitychange'));
}"""
# How long the script takes for a frame while kits bow, and how far apart frames come.
FRAMES = """count => new Promise(done => {
    const real = requestAnimationFrame, spent = [];
    window.requestAnimationFrame = act => real(now => {
        const start = performance.now();
        act(now);
        spent.push(performance.now() - start);
        if (spent.length === count) {
            window.requestAnimationFrame = real;
            done(spent.sort((one, other) => one - other));
        }
    });
})"""
STEP = 20  # ms: a frame and a little


@pytest.fixture(scope="module")
def kit():
    return panels.KitAtWork()


@pytest.fixture
def show(bare, kit):
    """Show the kit with what stands beside it, the clock being the test's."""

    def shown(clock=True, running=False):
        around = f'<div class="fireheat">{kit.face.value}{{}}</div>'
        start = kit.scene.get_state() | {"running": False}
        page = bare(kit.scene._esm, kit.scene._css, start, around)
        if clock:
            page.clock.install()
            page = bare(kit.scene._esm, kit.scene._css, start, around)
            page.clock.pause_at("2030-01-01")
        page.evaluate("running => kernel.set({ running })", running)
        return page

    return shown


def numbers(words):
    return [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?", str(words))]


def test_at_frozen_times_every_part_stands_as_in_the_kept_picture(show, kit):
    page, script = show(clock=False), kit._shown[0].script
    cues = [cue.time for cue in script.cues]
    for take, time in enumerate((0.0, 3.3, cues[1], cues[2] + 0.4, 41.7, script.end), start=9):
        page.evaluate("all => kernel.set(all)", {"at": time, "take": take})
        page.wait_for_function(f"() => ({CLOCK})() === '{int(time)} s'")
        drawn = page.evaluate(POSE)
        for part, meant in script.pose(time).items():
            for name, value in meant.items():
                if name == "fill":
                    assert drawn[part][name] == value, (time, part)
                else:
                    seen, wanted = numbers(drawn[part][name]), numbers(value)
                    assert seen == pytest.approx(wanted, abs=0.011), (time, part, name)


def test_a_stroke_takes_its_true_time_and_the_bow_is_slow_at_its_turns(show, kit):
    page, stroke = show(running=True), 1000 * kit._shown[0].script.stroke
    assert stroke == pytest.approx(500.0)  # half a metre at a metre a second
    page.clock.run_for(STEP)
    places = []
    for _ in range(10):
        page.clock.run_for(stroke / 5)
        places += numbers(page.evaluate(POSE)["bow"]["transform"])[:1]
    first, again = places[:5], places[5:]
    assert first == pytest.approx([-one for one in again], abs=16)  # to, and fro
    assert max(places) == pytest.approx(62, abs=3)
    ways = [abs(here - there) for here, there in pairwise(places)]
    assert max(ways) > 2.5 * min(ways)


def test_it_holds_in_a_hidden_tab_out_of_sight_and_by_the_space_bar(show):
    page = show(running=True)
    page.clock.run_for(3_100)
    assert page.evaluate(CLOCK) == "3 s"
    page.evaluate(HIDE, True)
    page.clock.run_for(20_000)
    assert page.evaluate(CLOCK) == "3 s"
    page.evaluate(HIDE, False)
    page.clock.run_for(1_000)
    assert page.evaluate(CLOCK) == "4 s"
    page.evaluate(PLACED, "3000px")
    page.clock.run_for(9_000)
    assert page.evaluate(CLOCK) == "4 s"
    page.evaluate(PLACED, "")
    page.clock.run_for(STEP)
    page.evaluate(SPACE)
    stood = page.evaluate(CLOCK)
    page.clock.run_for(9_000)
    assert page.evaluate(CLOCK) == stood
    assert page.evaluate("() => sent.at(-1)")["running"] is False
    page.evaluate(SPACE)
    page.clock.run_for(1_100)
    assert page.evaluate(CLOCK) != stood


def test_with_less_motion_nothing_moves_but_words_and_looks_change(show, kit):
    page = show()
    page.emulate_media(reduced_motion="reduce")
    page.evaluate("() => kernel.set({ running: true })")
    smokes = kit._shown[0].script.cues[2].time
    page.clock.run_for(1000 * smokes + 500)
    before = page.evaluate(POSE)
    page.clock.run_for(4_130)  # no whole number of strokes
    after, seen = page.evaluate(POSE), page.evaluate(CLOCK)
    assert after == before
    assert seen == f"{int(smokes + 4.5)} s"
    assert page.evaluate("() => document.querySelector('[data-looks]').dataset.now") == "2"
    assert [numbers(after[f"smoke-{i}"]["opacity"]) for i in (1, 2, 3)] == [[1.0], [0.0], [0.0]]
    page.clock.run_for(70_000)
    assert page.evaluate("() => document.getAnimations().length") == 0  # nor does the glow breathe


def test_another_kit_is_taken_over_without_building_anew_and_starts_where_it_is_told(show, kit):
    page = show(running=True)
    page.clock.run_for(8_000)
    page.evaluate("() => { window.stood = document.querySelector('[data-part=spindle]'); }")
    thicker = panels.KitAtWork()
    thicker.set(diameter=0.020)
    state = {"svg": thicker.scene.svg, "courses": thicker.scene.courses}
    page.evaluate("all => kernel.set(all)", state | {"at": 0.0, "take": 99})
    page.clock.run_for(STEP)
    assert page.evaluate("() => stood.isConnected")
    assert page.evaluate(CLOCK) == "0 s"
    wide = page.evaluate("() => stood.getBBox().width")
    assert wide == pytest.approx(2.7 * 20, abs=0.1)
    page.clock.run_for(2_000)
    assert page.evaluate(CLOCK) == "2 s"


def test_what_begins_is_spoken_once_and_the_clock_is_not(show, kit):
    page = show(running=True)
    assert page.evaluate("() => document.querySelector('[role=status]').textContent") == ""
    for _ in range(8):
        page.clock.run_for(1_000)
    assert page.evaluate("() => document.querySelector('[role=status]').textContent") == (
        "It turns brown, after 6 s. Hot, and not hot enough. Keep going."
    )
    assert [list(told) for told in page.evaluate("() => sent")] == [["at"]]


def test_a_frame_is_quick(show, capsys):
    page = show(clock=False, running=True)
    spent = page.evaluate(FRAMES, 60)
    with capsys.disabled():
        print(f"\na kit's frame: {spent[30]:.1f} ms, the slowest of sixty {spent[-1]:.1f} ms")
    assert spent[30] <= 16


def test_with_colours_of_the_reader_s_own_the_drawing_keeps_its_own_on_paper(show):
    page = show(clock=False)
    page.emulate_media(forced_colors="active")
    style = "() => getComputedStyle(document.querySelector('.fh-live-picture'))"
    assert page.evaluate(f"{style}.forcedColorAdjust") == "none"
    assert page.evaluate(f"{style}.backgroundColor") == "rgb(255, 255, 255)"
