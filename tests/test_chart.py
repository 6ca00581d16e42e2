"""The paper computer, read from the written file with a straight edge.

Set FIREHEAT_KITS=1500 to read so many kits; as a rule it is a few.
"""

import html
import os
import re
from fractions import Fraction
from functools import cache

import numpy as np
import pytest
from oracles.chart_reader import LEVEL, SI, Reader

from fireheat.answers.chart import alignment_chart, chart_accuracy
from fireheat.bands import Band
from fireheat.cases import case
from fireheat.kit.kit import Kit, Try
from fireheat.pages.chart_sheet import chart_sheet
from fireheat.pages.sheet import sheet_page
from fireheat.quantities import InputError
from fireheat.spread import spread
from fireheat.words import band_words, percent_words, time_words

KITS = int(os.environ.get("FIREHEAT_KITS", "60"))
RANGES = {  # what the sheet says that it is for
    "force": (20.1, 155.0),
    "speed": (0.31, 2.3),
    "friction": (0.1, 0.8),
    "diameter": (0.008, 0.022),
    "burn_in_depth": (0.002, 0.008),
}
WATTS, EMBER = (3.05, 39.5), (8.6, 112.0)  # s; a twentieth inside the ends of the scales


@cache
def page():
    return sheet_page(chart_sheet())


@cache
def reader():
    return Reader(page())


def kits(count, seed=20):
    """Draw kits all over the chart, none of them by the library's own draws."""
    numbers = np.random.default_rng(seed)
    return {
        key: numbers.uniform(low, high, count)
        if key == "diameter"
        else np.exp(numbers.uniform(np.log(low), np.log(high), count))
        for key, (low, high) in RANGES.items()
    }


def on_the_chart(count):
    drawn = kits(4 * count + 40)
    found = case(Try(), swept=drawn)
    ember = found.ember
    on = (found.power > WATTS[0]) & (found.power < WATTS[1])
    on &= (ember > EMBER[0]) & (ember < EMBER[1])
    chosen = np.flatnonzero(on)[:count]
    assert len(chosen) == count
    return {key: values[chosen] for key, values in drawn.items()}, {
        "power": found.power[chosen],
        "ember": ember[chosen],
        "bound": found.bound[chosen],
    }


def told(part):
    """Read the words of a page."""
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", part)).replace("\xa0", " ").split())


# ---- a ruler on the written file -----------------------------------------------------------------


@pytest.mark.parametrize("us", [False, True])
def test_of_twenty_kits_read_by_ruler_nineteen_come_within_a_twentieth_of_the_estimate(us):
    drawn, found = on_the_chart(KITS)
    watts = reader().watts(*(drawn[key] for key in ("force", "speed", "friction")), us=us)
    assert watts == pytest.approx(found["power"], rel=0.01)
    ember = reader().ember(watts, drawn["diameter"], drawn["burn_in_depth"])
    off = np.abs(ember / found["ember"] - 1)
    most, worst = np.quantile(off, 0.95), off.max()
    print(f"{KITS} kits: median {np.median(off):.3f}, 95 % within {most:.3f}, worst {worst:.3f}")
    assert np.mean(off < 0.05) >= 0.95
    stated = chart_accuracy()
    assert most < stated.most + 0.005
    assert worst < stated.worst + 0.02
    floor = reader().floor(watts, drawn["diameter"], us=us)  # by eye between sixteenths of an inch
    assert floor * drawn["burn_in_depth"] / 0.004 == pytest.approx(found["bound"], rel=0.02)


def test_a_kit_that_never_has_an_ember_is_read_as_late_or_never():
    drawn = kits(800, seed=21)
    found = case(Try(), swept=drawn)
    late = (found.power > WATTS[0]) & (found.power < WATTS[1]) & ~(found.quick()[1] < 140)
    assert late.sum() > 40
    watts, diameter, depth = (
        values[late] for values in (found.power, drawn["diameter"], drawn["burn_in_depth"])
    )
    assert np.all(reader().ember(watts, diameter, depth) > 110)


def test_each_crossing_of_the_net_is_where_marched_embers_put_it():
    diameter, depth, watts = (
        grid.ravel()
        for grid in np.meshgrid(
            reader().diameters, reader().depths, [4.0, 9.0, 20.0], indexing="ij"
        )
    )
    force = 2 * watts / 0.35  # a worn-in tip, at 1 m/s
    found = case(
        Try(),
        swept={
            "force": force,
            "diameter": diameter,
            "burn_in_depth": depth,
            "speed": np.ones_like(force),
            "friction": np.full_like(force, 0.35),
        },
    ).ember
    read = reader().ember(watts, diameter, depth)
    on = (found > 9) & (found < 115)
    crossings = on.reshape(len(reader().diameters), len(reader().depths), 3).any(axis=-1)
    assert crossings.mean() > 0.9
    assert read[on] == pytest.approx(found[on], rel=0.06)
    assert reader().net == pytest.approx(np.swapaxes(reader().other_way, 0, 1))


# ---- what is drawn -------------------------------------------------------------------------------


@pytest.mark.parametrize("scale", ["force", "speed", "friction", "product", "power", "bound"])
def test_ticks_in_both_units_stand_where_logarithms_put_them(scale):
    ticks = np.vstack([rows for (key, _), rows in reader().ticks.items() if key == scale])
    along = ticks[:, 1] if np.ptp(ticks[:, 1]) else ticks[:, 2]
    line = np.polyfit(np.log(ticks[:, 0]), along, 1)
    assert along == pytest.approx(np.polyval(line, np.log(ticks[:, 0])), abs=2e-3)


def test_ticks_of_the_ember_follow_one_bend():
    ticks = reader().ticks["ember", "s"]
    bent = np.polyfit(np.log(ticks[:, 0]), ticks[:, 2], 2)
    assert ticks[:, 2] == pytest.approx(np.polyval(bent, np.log(ticks[:, 0])), abs=2e-3)


def test_thickness_in_inches_stands_among_that_in_millimetres():
    for scale in ("floor_marks", "net"):
        metric = (
            reader().net[:, -1] if scale == "net" else reader().ticks["floor_marks", "mm"][:, 1:]
        )
        for value, x, y in reader().ticks[scale, "in"]:
            if value <= reader().diameters[-1]:
                here = [np.interp(value, reader().diameters, metric[:, at]) for at in (0, 1)]
                assert (x, y) == pytest.approx(here, abs=2e-3)


def test_each_number_stands_beside_what_it_names():
    named = [
        (value / SI[unit], x, y, key in LEVEL)
        for (key, unit), ticks in reader().ticks.items()
        for value, x, y in ticks
    ]
    corners = [
        *zip(reader().diameters * 1e3, reader().net[:, 0], strict=True),
        *zip(reader().depths * 1e3, reader().net[-1], strict=True),
        *((part / 16, reader().crossing(0.008, part / 16 * 0.0254)) for part in (2, 3, 4, 5)),
    ]
    labels = re.findall(
        r'<text x="([\d.]+)" y="([\d.]+)" font-size="3.2" text-anchor="\w+"[^>]*>([\d./]+)<', page()
    )
    assert len(labels) > 100
    for x, y, words in labels:
        number, across, down = float(Fraction(words)), float(x), float(y) - 0.365 * 3.2
        beside = any(
            abs(number - value) < 1e-4
            and (abs(across - at) < 0.01 if level else abs(down - high) < 0.01)
            and abs(across - at) + abs(down - high) < 6
            for value, at, high, level in named
        )
        near = any(
            abs(number - value) < 1e-4 and np.hypot(across - at, down - high) < 3.6
            for value, (at, high) in corners
        )
        assert beside or near, (words, x, y)


# ---- what is said --------------------------------------------------------------------------------


def test_the_ladder_says_the_bands_of_the_ordinary_kit_at_its_rung():
    """The ordinary spindle, pressed so that its ember is likely at a rung's time."""
    chart, words = alignment_chart(), told(page())
    force = np.geomspace(15, 250, 400)
    likely = case(Try(), swept={"force": force}).quick()[1]
    for rung in (20.0, 30.0, 45.0, 60.0):
        pressed = float(np.interp(-rung, -likely, force))
        drawn = spread(Try().changed(force=pressed))
        row = int(np.flatnonzero(np.isclose(chart.wood_band.likely[1], rung))[0])
        for band, found, close in (
            (chart.wood_band, drawn.wood, 0.12),
            (chart.all_band, drawn.all, 0.25),
        ):
            ladder = Band(band.low[1, row], rung, band.high[1, row])
            assert (ladder.low, ladder.high) == pytest.approx((found.low, found.high), rel=close)
            assert band_words(ladder).replace(" to ", "–") in words


def test_the_sheet_states_how_good_it_is_and_its_example_is_the_estimate_s():
    words, good = told(page()), chart_accuracy()
    for share in (good.most, good.worst, good.floor_worst, good.wood_most, good.all_most):
        assert percent_words(np.ceil(100 * share) / 100) in words
    assert f"{good.kits:,} made-up kits" in words
    ordinary = case(Try())
    for time in (float(ordinary.ember), float(ordinary.bound)):
        assert words.count(time_words(time)) >= 2  # by ruler, and by the full sum
    assert f"{ordinary.power:.3g} watts" in words
    assert "4 mm (5/32 in) of wear-off" in words


def test_a_heavier_wood_s_chart_says_later_and_a_strange_wood_is_refused():
    light, heavy = (alignment_chart(name) for name in ("western_redcedar", "northern_red_oak"))
    kit = {"power": 12.0, "diameter": 0.012, "depth": 0.003}
    assert heavy.ember(**kit) > 1.3 * light.ember(**kit)
    found = case(
        Try(Kit(wood="northern_red_oak")),
        swept={"diameter": 0.012, "burn_in_depth": 0.003, "force": 24.0 / 0.35},
    )
    assert heavy.ember(**kit) == pytest.approx(float(found.ember), rel=0.05)
    with pytest.raises(InputError):
        alignment_chart("cheese")


def test_what_no_ruler_reads_is_refused():
    with pytest.raises(InputError):
        alignment_chart().ember(power=-1.0, diameter=0.016, depth=0.004)
    with pytest.raises(InputError):
        alignment_chart().watts(force=60.0, speed=1.0, friction=float("nan"))
    with pytest.raises(InputError):
        chart_accuracy(count=0)
