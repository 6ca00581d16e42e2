"""The panels of woods and weather, driven as a reader drives them."""

import numpy as np
import pytest
from reading import painted, shown

from fireheat import Air, Kit
from fireheat.answers.weather import stores
from fireheat.answers.woods import woods_of
from fireheat.estimates import times
from fireheat.figures import style
from fireheat.figures.woods import beside_words
from fireheat.kit.kit import Try
from fireheat.kit.wood import REGIONS, woods
from fireheat.panels import Weather, WoodsSideBySide
from fireheat.panels.two_bands import wood_note
from fireheat.spread import compare, spread
from fireheat.words import NEVER, band_words, factor_words, time_words

DAMP = Air(temperature=283.15, relative_humidity=0.85)


@pytest.fixture
def pile():
    return WoodsSideBySide()


@pytest.fixture
def weather():
    return Weather(air=DAMP)


def test_the_chosen_wood_is_in_the_tiles_the_sentence_and_marked_in_the_picture(pile):
    rows = {}
    for key in ("western_redcedar", "northern_red_oak"):
        pile.set(wood=key)
        now = times(Try(Kit(wood=key)))
        band = band_words(now.ember)
        assert woods()[key].name in shown(pile)
        assert band in shown(pile)
        assert time_words(now.bound) in shown(pile)
        assert pile.sentence().startswith(
            f"{woods()[key].name}: floor {time_words(now.bound)}; ember, "
        )
        assert f"estimate {band}." in pile.sentence()
        rows[key] = painted(pile, style.SHADE)[:, 0]
    assert rows["northern_red_oak"].min() > rows["western_redcedar"].max()
    assert len(rows["western_redcedar"]) > 100


def test_first_and_last_wood_are_named(pile):
    likely = [times(Try(Kit(wood=row.key))).ember.likely for row in woods_of("north_america")]
    assert f"northern white-cedar first, {time_words(min(likely))}" in pile.sentence()
    assert f"northern red oak last, {time_words(max(likely))}" in pile.sentence()


@pytest.mark.parametrize(
    ("key", "value"), [("diameter", 0.02), ("force", 90.0), ("speed", 1.5), ("moisture", 0.2)]
)
def test_each_slider_moves_the_woods(pile, key, value):
    before = pile.sentence(), pile.png
    pile.set(**{key: value})
    assert pile.sentence() != before[0]
    assert pile.png != before[1]
    pile.reset()
    assert (pile.sentence(), pile.png) == before


def test_a_bow_that_hardly_moves_says_never_for_every_wood(pile):
    words = pile.set(force=10.0, speed=0.2, diameter=0.032)
    assert NEVER in words
    assert shown(pile).count(NEVER) >= 2


def test_the_wood_before_stays_to_be_compared_with(pile):
    def marks():
        return [name for name in pile.sketched.drawn() if name.endswith(", before")]

    assert not marks()
    pile.keep_before()
    words = pile.set(wood="white_ash")
    assert "Before: western redcedar, estimate" in words
    assert marks() == ["western redcedar, before"]  # the others stand where they stood
    pile.set(moisture=0.12)
    assert len(marks()) == len(woods_of("north_america"))
    pile.set(moisture=0.09, region="europe", wood="european_ash")  # one row less than before
    assert marks() == []
    pile.set(region="north_america", wood="white_ash")
    change = compare(Try(), Try().changed(wood="white_ash"), draws=128)
    assert f"against before: {factor_words(change)}" in shown(pile)
    pile.drop_before()
    assert not marks()


@pytest.mark.parametrize("seed", range(3))
def test_the_woods_tiles_and_sentence_agree_with_the_library(pile, seed):
    random = np.random.default_rng(seed)
    state = {"force": random.uniform(40, 120), "diameter": random.uniform(0.01, 0.02)}
    key, region = random.choice(list(woods())), random.choice(list(REGIONS))
    said = pile.set(wood=key, region=region, **state)
    one = Try().changed(wood=key, **state)
    wide, row = spread(one, draws=128), woods()[key]
    assert f"Ember, estimate {band_words(wide.all)}" in shown(pile)
    assert wood_note(times(one).ember) in shown(pile)
    assert f"With all we do not know: {row.name} {band_words(wide.all)}." in said
    ends = sorted({*woods_of(region), row}, key=lambda row: (row.specific_gravity, row.name))
    latest = "Latest: " in shown(pile)
    other = (ends[-1] if latest else ends[0]).key
    change = compare(one, one.changed(wood=other), draws=96)
    ratio = pile.answer(pile.state).ratios.at(-1 if latest else 0)
    assert list(ratio) == pytest.approx(list(change), rel=5e-3)
    beside = beside_words(ratio, times(one.changed(wood=other)).ember.likely)
    assert f"{woods()[other].name} {beside} its time, if {row.name} takes 1" in shown(pile)


@pytest.mark.parametrize("seed", range(2))
def test_the_weather_s_ratio_and_outer_bands_agree_with_the_library(weather, seed):
    random = np.random.default_rng(seed)
    state = {"relative_humidity": random.uniform(0.4, 0.85), "warming": random.uniform(5, 20)}
    said = weather.set(**state)
    outdoors, rack = weather.answer(weather.state).stores
    air = Air(temperature=DAMP.temperature, relative_humidity=state["relative_humidity"])
    tries = [Try(air=air).changed(moisture=store.moisture) for store in (outdoors, rack)]
    for one, store in zip(tries, (outdoors, rack), strict=True):
        wide = spread(one, draws=128).all
        assert list(store.all) == pytest.approx(list(wide), rel=5e-3)
        assert band_words(store.all) in shown(weather)
    assert list(rack.ratio) == pytest.approx(list(compare(*tries, draws=128)), rel=5e-3)
    assert f"against outdoors: {factor_words(rack.ratio)}; " in shown(weather)
    assert (
        f"{band_words(rack.all)} from the rack; against outdoors that is {factor_words(rack.ratio)}"
        in said
    )


def test_the_weather_panel_says_what_the_model_says(weather):
    words = weather.set(relative_humidity=0.7, temperature_ambient=278.15, warming=12.0)
    air = Air(temperature=278.15, relative_humidity=0.7)
    for store in stores(Try(air=air), warming=12.0):
        band = band_words(store.ember)
        assert f"{store.moisture * 100:.0f} %" in words
        assert f"{store.relative_humidity * 100:.0f} % humidity" in words
        assert band in words
        assert band in shown(weather)


def test_a_wetter_day_shows_more_water(weather):
    def water():
        return np.ptp(weather.sketched.drawn()["outdoors, water"].x)

    wet = water()
    weather.set(relative_humidity=0.3)
    assert water() < 0.8 * wet


def test_the_units_switch_reaches_the_air(weather):
    assert "10 °C" in weather.sentence()
    weather.units.value = "us"
    assert "50 °F" in weather.sentence()
    assert "°C" not in shown(weather) + weather.sentence()
    label = weather.control["warming"].widget.description
    assert label == "Rack warmer than outdoors by (°F)"
    assert weather.control["warming"].widget.value == pytest.approx(27.0)


def test_every_corner_of_the_weather_sliders_answers(weather):
    for temperature in (263.15, 313.15):
        for humidity in (0.1, 0.95):
            for warming in (0.0, 20.0):
                words = weather.set(
                    temperature_ambient=temperature, relative_humidity=humidity, warming=warming
                )
                assert "nan" not in words


def test_a_pinned_day_stays_to_be_compared_with(weather):
    weather.keep_before()
    assert "Before: outdoors 18 %" in weather.set(relative_humidity=0.4)
    assert {"outdoors before", "rack before"} <= set(weather.sketched.drawn())
