"""The panels of woods and weather, driven as a reader drives them."""

import pytest
from reading import painted, shown

from fireheat import Air, Kit
from fireheat.answers.weather import stores
from fireheat.estimates import times
from fireheat.figures import style
from fireheat.kit.kit import Try
from fireheat.kit.wood import woods
from fireheat.panels import Weather, WoodsSideBySide
from fireheat.words import NEVER, band_words, time_words

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
        rows[key] = painted(pile, style.EMBER_BAND)[:, 0]
    assert rows["northern_red_oak"].min() > rows["western_redcedar"].max()
    assert len(rows["western_redcedar"]) > 100


def test_first_and_last_wood_are_named(pile):
    likely = [times(Try(Kit(wood=key))).ember.likely for key in woods()]
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


def test_a_pinned_wood_stays_to_be_compared_with(pile):
    assert not len(painted(pile, style.INK))
    pile.keep_before()
    words = pile.set(wood="white_ash")
    assert "Before: western redcedar, estimate" in words
    assert len(painted(pile, style.INK)) > 200
    pile.drop_before()
    assert not len(painted(pile, style.INK))


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
    dry = len(painted(weather, style.SMOKE))
    weather.set(relative_humidity=0.3)
    assert len(painted(weather, style.SMOKE)) < dry


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
    assert len(painted(weather, style.INK)) > 50
