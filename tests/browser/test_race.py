"""A race in a real browser: what moves is what the course says, by the clock and by the keys."""

import re

import nbformat
import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from matplotlib.colors import to_rgb

from fireheat import panels
from fireheat.ember.ignition import heap_radius
from fireheat.figures import style

SCALE = 2.7e3  # drawing units to a metre of the heap
COLD, WARM = 293.15, 310.0  # K: where the ramp of heat begins, and how long it is
PARTS = """() => [...document.querySelectorAll('[data-kit]')].map(kit => {
    const of = (part, name) => kit.querySelector(`[data-part="${part}"]`).getAttribute(name);
    return {
        tip: of('tip', 'fill'), heap: of('heap', 'transform'), glow: Number(of('glow', 'opacity')),
        says: document.querySelector(`[data-says="${kit.dataset.kit}"]`).textContent,
    };
})"""
CLOCK = "() => document.querySelector('[data-clock]').textContent.replaceAll('\\u00a0', ' ')"
SHARE = "() => document.querySelector('[data-share-of]').style.getPropertyValue('--fh-share')"


def begun(**diameters):
    """A race that has begun, and what the library says of it."""
    race = panels.Race()
    race.set(**diameters)
    race.track.bet.value = "a tie"
    race.track.press_go()
    return race.track


def show(bare, track, **state):
    """Show the kits, and what stands beside them, without JupyterLab."""
    live = track.live
    around = f'<div class="fireheat">{track.beside.value}{track.veil.value}{{}}</div>'
    return bare(live._esm, live._css, live.get_state() | state, around)


@pytest.mark.parametrize("motion", ["no-preference", "reduce"])
def test_at_frozen_times_tips_heaps_and_clock_are_those_of_the_course(bare, motion):
    race = begun()
    page = show(bare, race, running=False)
    page.emulate_media(reduced_motion=motion)
    ramp = style.heat() / 255
    for take, time in enumerate((0.0, 2.0, 12.5, 60.0, race.told.end), start=9):
        page.evaluate("all => kernel.set(all)", {"at": time, "take": take})
        page.wait_for_function(f"() => ({CLOCK})() === '{int(time)} s'")
        for seen, way in zip(page.evaluate(PARTS), race.told.courses, strict=True):
            past = [when for when in (0.0, way.brown, way.smoke, way.ember) if when <= time]
            at = past[-1] if motion == "reduce" else time  # then it goes in steps
            kelvin, dust = (np.interp(at, way.times, of) for of in (way.temperature, way.dust))
            place = np.clip((kelvin - COLD) / WARM, 0, 1) * (len(ramp) - 1)
            assert to_rgb(seen["tip"]) == pytest.approx(ramp[int(place)], abs=0.02)
            size = float(re.search(r"scale\(([\d.]+)\)", seen["heap"])[1])
            assert size == pytest.approx(SCALE * heap_radius(dust) if dust else 0.0, abs=0.02)
            says = ("Warm stick", "It turns brown", "It smokes", "It glows")[len(past) - 1]
            assert (seen["says"], seen["glow"]) == (says, float(len(past) == 4))
        share = float(page.evaluate(SHARE))
        assert share == pytest.approx(time / race.sketched.plank.end, abs=1e-4)


@pytest.mark.parametrize("pace", [1, 2])
def test_a_race_ends_at_the_likely_time_within_a_frame(bare, pace):
    race = begun(left_diameter=0.013)
    show(bare, race, running=False).clock.install()
    page = show(bare, race, running=False, pace=pace)
    page.clock.pause_at("2030-01-01")
    page.evaluate("() => kernel.set({ running: true })")
    page.clock.run_for(18_500 / pace)
    assert page.evaluate(CLOCK) == "18 s"
    seen, told = page.evaluate(PARTS), page.evaluate("() => sent.at(-1)")
    assert [one["says"] for one in seen] == ["It smokes", "It glows"]
    assert told["at"] == pytest.approx(race.told.courses[1].ember, abs=0.02 * pace)
    page.evaluate("() => kernel.set({ running: false })")
    page.clock.run_for(5_000)
    assert page.evaluate(CLOCK) == "18 s"
    page.evaluate("() => kernel.set({ running: true })")
    left = 1000 * (race.told.end - 18.5) / pace
    page.clock.run_for(left - 60)
    assert not page.evaluate("() => model.get('ended')")
    page.clock.run_for(120)
    assert page.evaluate("() => model.get('ended')")
    assert page.evaluate("() => model.get('at')") == race.told.end


# ---- in JupyterLab ------------------------------------------------------------------------------

OUTSIDE = """root => [...root.querySelectorAll('img, svg, button, .fh-voice, .fh-beside b')]
    .filter(e => e.checkVisibility({ visibilityProperty: true }))
    .filter(e => {
        const [one, all] = [e, root].map(part => part.getBoundingClientRect());
        return one.width && (one.left < all.left - 1 || one.right > all.right + 1
            || one.top < all.top - 1 || one.bottom > all.bottom + 1);
    }).map(e => `${e.tagName} ${e.className} ${e.textContent.slice(0, 30)}`)"""
BOW = "root => root.querySelector('[data-part=bow]').getAttribute('transform')"


@pytest.fixture
def shown(lab):
    """A race in JupyterLab."""
    new = nbformat.v4
    made = new.new_notebook(metadata={"kernelspec": {"name": "python3", "display_name": ""}})
    made.cells = [new.new_code_cell("from fireheat.panels import Race\nRace()")]
    nbformat.write(made, lab.folder / "race.ipynb")
    page = lab.turn_to("race.ipynb")
    size = page.viewport_size
    page.set_default_timeout(20_000)
    yield page.locator(".fireheat:has(.fh-race)")
    page.emulate_media(reduced_motion="no-preference")
    page.set_viewport_size(size)
    page.set_default_timeout(120_000)


def test_a_race_is_run_by_keys_alone_told_in_words_and_fits_a_hall(lab, shown):
    page, spoken = shown.page, shown.locator(".fh-live [role=status]")
    page.set_viewport_size({"width": 1280, "height": 720})
    shown.get_by_role("radio", name="Thick").focus()
    page.keyboard.press("f")
    shown.get_by_label("Who races").wait_for()  # others can race in a hall, too
    thin = shown.locator(".fh-race-right .noUi-handle:visible")
    for key, size in (("ArrowLeft", "10.5 mm"), ("ArrowRight", "11 mm")):
        thin.press(key)
        shown.locator(".fh-side-words", has_text=size).wait_for()
    shown.get_by_role("radio", name="Thick").focus()
    page.keyboard.press("Space")  # nobody has bet yet
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    shown.locator(".fh-go:enabled").wait_for()
    assert shown.evaluate(CLOCK) == "0 s"
    page.keyboard.press("Space")
    spoken.filter(has_text="Thin: It turns brown, after 1 s.").wait_for(state="attached")
    page.keyboard.press("Space")
    shown.get_by_role("button", name="Go on").wait_for()
    held = shown.evaluate(CLOCK)
    shown.locator(".fh-voice", has_text=f"After {held}: Thick is a warm stick").wait_for()
    page.keyboard.press("r")
    shown.get_by_role("button", name="Hold").wait_for()
    shown.get_by_role("button", name="To the end").press("Enter")
    told = shown.locator(".fh-voice", has_text="Thin glows first, after 18 s; Thick after 3 min.")
    told.wait_for()
    lab.settle()
    assert shown.evaluate(OUTSIDE) == []
    assert told.bounding_box()["height"] > 20
    serious = [
        f"{rule['id']}: {node['html'][:120]}"
        for rule in Axe().run(page, ".fireheat").response["violations"]
        if rule["impact"] in ("serious", "critical")
        for node in rule["nodes"]
    ]
    assert serious == []
    page.keyboard.press("Escape")
    for width, height in ((1366, 768), (820, 768)):
        page.set_viewport_size({"width": width, "height": height})
        lab.settle()
        assert shown.evaluate(OUTSIDE) == []
        assert shown.evaluate("root => root.scrollWidth <= root.clientWidth + 1")
    page.emulate_media(reduced_motion="reduce")
    shown.get_by_role("button", name="Again").press("Enter")
    spoken.filter(has_text="Thin: It smokes, after 3 s.").wait_for(state="attached")
    assert shown.evaluate(BOW) == "translate(0.00 0)"
    shown.get_by_role("button", name="To the end").press("Enter")
    shown.get_by_role("button", name="New bets").press("Enter")
    shown.locator(".fh-go:disabled").wait_for()
    shown.get_by_label("hands up for Thin").press_sequentially("4")
    shown.locator(".fh-go:enabled").wait_for()  # with the field not left
    assert spoken.text_content() == ""  # the next group hears nothing of the race before
    assert lab.errors() == []
