"""The front page's panel: four holes from unused to glowing, links in words, units for all."""

import re
from pathlib import Path

import pytest
from test_paths import headings, opened

from fireheat.figures import style
from fireheat.figures.front import BURNT, HEAPS, scene, upright
from fireheat.panels import Explorer, Front
from fireheat.panels import front as panel
from fireheat.panels.units import chosen_units
from fireheat.paths import doors
from fireheat.quantities import METRIC, US
from fireheat.shipped import START

FOUR = range(4)
SHEET = Path(panel.__file__).with_name("front.css").read_text(encoding="utf-8")


@pytest.fixture
def front():
    yield Front()
    chosen_units.choose(METRIC)


def links(front):
    return dict(re.findall(r'<a href="([^"]+)">([^<]+)</a>', front.doors.words + foot(front)))


def foot(front):
    return next(part.value for part in front.children if "front-foot" in getattr(part, "value", ""))


def test_each_door_says_what_is_behind_it_how_long_it_takes_and_leads_there(front):
    for one in doors().values():
        assert links(front)[one.link] == one.words
        assert one.link.removeprefix("#") in headings(START)
        for said in (one.about, one.time):
            assert said in front.doors.words
        assert f"{one.words}: {one.time}." in front.sentence()


def test_list_kit_and_guide_are_a_quiet_link_away_and_it_is_no_permit(front):
    others = {link: words for link, words in links(front).items() if not link.startswith("#")}
    assert list(others.values()) == ["Safety list", "My kit", "For teachers"]
    assert all(opened(link) for link in others)
    assert "Not a permit.</b> Local fire rules and your leader come first." in foot(front)


@pytest.mark.parametrize("draw", [scene, upright])
def test_four_holes_go_from_unused_to_glowing_and_are_decoration(draw):
    drawn = [draw(number) for number in FOUR]
    burnt = [int(re.search(r"--burnt:(\d+)%", one).group(1)) for one in drawn]
    assert burnt == sorted(set(burnt)) == [round(100 * share) for share in BURNT]
    assert (burnt[0], burnt[-1]) == (0, 100)
    assert ["fh-dust" in one for one in drawn] == [half > 0 for half in HEAPS]
    assert sorted(HEAPS) == list(HEAPS)
    assert ["fh-glow" in one for one in drawn] == [False, False, False, True]
    for one in drawn:
        assert 'aria-hidden="true"' in one
        assert "<text" not in one
        assert one.count("fh-wood-mid") == 1


def test_the_board_runs_on_from_door_to_door():
    kinds = r'<path class="(fh-wood|fh-wood-mid|fh-grain)" d="([^"]+)"/>'
    (board,) = {tuple(re.findall(kinds, scene(number))) for number in FOUR}
    grain = [re.findall(r"-?[\d.]+", way) for kind, way in board if kind == "fh-grain"]
    assert [line[1] for line in grain] == [line[-1] for line in grain]


def test_every_part_that_is_drawn_has_a_colour_and_tokens_are_those_of_all_pictures():
    drawn = {kind for number in FOUR for svg in (scene(number), upright(number))
             for kind in " ".join(re.findall(r'class="([^"]+)"', svg)).split()}  # fmt: skip
    assert {kind for kind in drawn if f".{kind}" not in SHEET} <= {"fh-hole"}
    themes = re.findall(r"fh-front \{ (--fh-wood.*) \}", SHEET)
    for line, theme in zip(themes, style.TOKENS, strict=True):
        for name, value in re.findall(r"--fh-([\w-]+): (#\w+);", line):
            assert style.TOKENS[theme][name.upper().replace("-", "_")].lower() == value


def test_units_chosen_here_are_those_of_other_panels_and_are_said(front):
    explorer = Explorer()
    assert "millimetres and newtons" in front.voice.text
    front.units.value = US
    assert "inches and pounds" in front.voice.text
    assert "5/8 in" in explorer.sentence()
    chosen_units.choose(METRIC)
    assert front.units.value == METRIC
    assert "millimetres and newtons" in front.sentence()


def test_it_asks_for_no_guess(front):
    assert not front.children[0].children[0].value.endswith("?</div>")
    assert "<input" not in front.doors.words
