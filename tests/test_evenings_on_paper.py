"""A club's own log beside the handbook: pocket card, paper computer, stopwatch sheet and list."""

import html
import re
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from evening_logs import HEAD, NOTED, evening
from oracles.chart_reader import Reader
from test_paths import GRADE, grade

from fireheat.answers.evenings_chart import evenings_chart
from fireheat.answers.next_try import EVENING_DRAWS, after_evenings
from fireheat.cli import main
from fireheat.figures.explorer import ODD_EVENINGS
from fireheat.figures.next_try import place_words, strange_words
from fireheat.kit.kit import Try
from fireheat.pages import sheet_list, writing
from fireheat.pages.chart_sheet import chart_sheet
from fireheat.pages.page_list import evenings_told, page_list
from fireheat.pages.pocket_card import pocket_card
from fireheat.pages.sheet import sheet_page
from fireheat.pages.stopwatch import stopwatch_sheet
from fireheat.pages.writing import write_pages
from fireheat.spread import spread
from fireheat.trials.foretold import LATEST, Fires, Foretold
from fireheat.trials.our_fire import our_fire
from fireheat.trials.reading import read_bytes
from fireheat.words import band_words, number_words, percent_words

KITS = 40
OWN = {"pocket-card": pocket_card, "stopwatch": stopwatch_sheet, "chart": chart_sheet}


class Never(Fires):
    """Fires of which not one ever makes an ember."""

    later = 2 * LATEST

    def foretold(self, state):
        ember = np.minimum(super().foretold(state).ember + self.later, LATEST)
        return Foretold(ember, ember)


class Hardly(Never):
    """Fires 16 times as slow: few kits have an ember as soon as the chart goes."""

    later = np.log(16.0)


def fire_of(log):
    return our_fire(read_bytes(log).tries, draws=600)


@pytest.fixture(autouse=True)
def short_list(monkeypatch):
    """A list without sheets, which take seconds to make."""
    monkeypatch.setattr("fireheat.pages.page_list.sheets", dict)


@pytest.fixture(scope="module")
def fire():
    return fire_of(evening())


@pytest.fixture(scope="module")
def late():
    """A fire whose embers come strangely late, and whose log tells how much wears off."""
    return fire_of(evening(times=10.0, depths=True))


def told(part):
    """Read the words of a page."""
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", part)).replace("\xa0", " ").split())


def kits(count):
    """Draw kits all over the chart, none of them by the library's own draws."""
    numbers = np.random.default_rng(15)
    return [
        {
            key: float(np.exp(numbers.uniform(np.log(low), np.log(high))))
            for key, (low, high) in {
                "force": (25, 150),
                "speed": (0.4, 2.2),
                "friction": (0.15, 0.6),
                "diameter": (0.008, 0.022),
                "burn_in_depth": (0.002, 0.008),
            }.items()
        }
        for _ in range(count)
    ]


# ---- pocket card and stopwatch sheet -------------------------------------------------------------


def test_the_pocket_card_has_handbook_and_evenings_of_three_kits_side_by_side(fire, late):
    named = {0.011: "11 mm (7/16 in)", 0.016: "16 mm (5/8 in)", 0.022: "22 mm (7/8 in)"}
    for one in (fire, late):
        card = told(pocket_card(one).body)
        for wide, name in named.items():
            state = Try().changed(diameter=wide)
            assert f"{name} {band_words(spread(state).all)} {band_words(one.band(state))}" in card
        assert "Handbook Your evenings" in card
        assert "Your log: 8 tries, 7 embers." in card
        assert "By the handbook, from the first stroke on, nine tries of ten." in card
        assert ("Out of the ordinary" in card) == bool(one.strange)


def test_where_evenings_are_strange_sheets_say_what_panels_say_of_them(late):
    found = after_evenings(late, Try())
    assert "how long they all took" in strange_words(found)
    assert f"{strange_words(found)} {place_words(found)}" in told(pocket_card(late).body)
    assert ODD_EVENINGS.strip() in told(chart_sheet(late).more[-1])


def test_the_stopwatch_sheet_proposes_the_try_that_our_evenings_know_least_of(fire):
    worth = after_evenings(fire, Try()).worth
    proposed = f"Worth trying next: {1000 * worth.value('diameter'):g} mm"
    assert proposed in told(stopwatch_sheet(fire).body)
    assert "Worth" not in told(stopwatch_sheet().body)


# ---- paper computer ------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["fire", "late"])
def test_a_ruler_on_the_written_page_reads_what_our_evenings_make_most_likely(name, request):
    fire = request.getfixturevalue(name)
    sheet, close = chart_sheet(fire), evenings_chart(fire).accuracy
    reader, off = Reader(sheet.body + sheet.more[-1]), []
    assert len(reader.depths) == (0 if name == "late" else 5)
    for values in kits(KITS):
        watts = reader.watts(*(values[key] for key in ("force", "speed", "friction")))
        likely = fire.band(Try().changed(**values)).likely
        if 3.1 < watts < 39 and 9 < likely < 110:
            read = reader.ember(watts, values["diameter"], values["burn_in_depth"])
            off.append(abs(float(read) / likely - 1))
    assert len(off) > KITS / 4
    assert np.quantile(off, 0.95) < close.most + 0.015 < 0.065
    assert max(off) < close.worst + 0.03
    words = told(sheet.more[-1])
    for share in (close.most, close.ladder_most):
        assert percent_words(np.ceil(100 * share) / 100) in words
    for factor in (close.least_factor, close.most_factor):
        assert number_words(factor) in words


def test_the_ruler_that_is_drawn_goes_through_the_kit_to_its_ember_or_over_the_top(fire, late):
    kit = {key: Try().values()[key] for key in ("diameter", "burn_in_depth")}
    for one, over in ((fire, False), (late, True)):
        page = chart_sheet(one).more[-1]
        reader = Reader(page)
        drawn = re.search(r'd="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)"[^>]*dasharray', page).groups()
        start, end = np.reshape([*map(float, drawn)], (2, 2))
        scale = reader.ticks["ember", "s"]
        assert start == pytest.approx(reader.point("power", 10.5, "W"), abs=0.05)
        meets = start + (end - start) * (reader.crossing(*kit.values())[0] - start[0]) / (
            end[0] - start[0]
        )
        assert meets == pytest.approx(reader.crossing(*kit.values()), abs=0.05)
        assert (0 < scale[-1, 2] - end[1] < 4) == over  # mm
        assert (end[0] == pytest.approx(scale[0, 1])) != over
        assert ("The try of page 2: over the top" in told(page)) == over
        assert ("ember at about" in told(page)) != over
        assert "Over the top? Later than 2 min, or never." in told(page)


def test_cells_beside_a_rung_say_the_band_of_kits_whose_ember_is_likely_there(fire):
    page = chart_sheet(fire).more[-1]
    cells = re.findall(r'x="([\d.]+)" y="([\d.]+)" font-size="3.0"[^>]*>([^<]+)<', page)
    rungs = {time: y for time, _, y in Reader(page).ticks["ember", "s"]}
    heads = re.findall(r'x="([\d.]+)" [^>]*>(\d+) mm<', page)
    assert [(float(x), int(wide)) for x, wide in heads] == [(137.65, 8), (156.95, 16), (176.25, 22)]
    force = np.geomspace(8.0, 300.0, 24)
    for column, wide in enumerate((0.008, 0.016, 0.022)):
        bands = [fire.band(Try().changed(force=press, diameter=wide)) for press in force]
        low, likely, high = np.transpose(bands)
        for rung in (20.0, 60.0):
            (words,) = (
                words
                for x, y, words in cells
                if abs(float(y) - rungs[rung]) < 2 and abs(float(x) - 137.65 - 19.3 * column) < 1
            )
            first, last = re.findall(r"[\d.]+½?", words)
            last = float(last.replace("½", ".5")) * (60 if "min" in words else 1)
            wanted = [np.interp(-rung, -likely, end) for end in (low, high)]
            assert (float(first), last) == pytest.approx(wanted, rel=0.12)


def test_thicknesses_in_inches_stand_among_those_in_millimetres(late):
    page = chart_sheet(late).more[-1]
    ticks = Reader(page).ticks
    metric = ticks["net", "mm"]
    (line,) = re.findall(r'd="M([^"]+L[^"]+L[^"]+)"', page)
    assert [[*map(float, one.split())] for one in line.split("L")] == metric[:, 1:].tolist()
    for value, x, y in ticks["net", "in"]:
        here = [np.interp(value, metric[:, 0], metric[:, at]) for at in (1, 2)]
        assert (x, y) == pytest.approx(here, abs=2e-3)


def test_slower_evenings_move_the_net_and_those_that_never_end_with_an_ember_have_none(fire, late):
    kit = {"power": 25.0, "diameter": 0.012, "depth": 0.004}
    assert evenings_chart(late).ember(**kit) > 1.5 * evenings_chart(fire).ember(**kit)
    for kind in (Never, Hardly):
        sheet = chart_sheet(replace(fire, fires=kind(**vars(fire.fires))))
        assert len(sheet.more) == len(chart_sheet().more)
        assert "Your evenings are too slow for a net of their own." in sheet.lead


# ---- the folder ----------------------------------------------------------------------------------


def test_without_a_log_nothing_is_said_of_evenings_and_with_one_just_three_sheets_differ(
    fire, monkeypatch
):
    plain = {key: make() for key, make in OWN.items()} | {"kit": None}
    monkeypatch.setattr(sheet_list, "_sheets", lambda: plain)
    own = sheet_list.sheets(fire)
    assert list(own) == list(plain)
    assert {key for key in plain if plain[key] != own[key]} == {*OWN}
    assert not any("evenings" in told(sheet_page(plain[key])) for key in OWN)
    assert all("evenings" in told(sheet_page(own[key])) for key in OWN if key != "stopwatch")
    assert "evenings" not in told(page_list({}))


def test_what_the_list_says_of_a_log_can_be_read_by_a_twelve_year_old():
    assert grade(evenings_told("From ours.csv: 8 tries, 7 embers")) <= GRADE


@pytest.fixture
def written(monkeypatch, tmp_path):
    """A short page in the place of all, the fires it was asked with, and a log of a club's own."""
    fires = []
    monkeypatch.setattr(writing, "all_pages", lambda fire: fires.append(fire) or {"a.html": "a"})
    log = tmp_path / "secret place" / "ours & us.csv"
    log.parent.mkdir()
    log.write_bytes(evening() + b"L90,11,sixty,,40,ember,\n")
    return SimpleNamespace(fires=fires, log=log, folder=tmp_path / "mine")


def test_the_command_reads_a_log_tells_what_it_could_not_read_and_never_changes_it(written, capsys):
    before = written.log.read_bytes(), written.log.stat().st_mtime_ns
    assert main(["pages", str(written.folder), "--no-pdf", "--log", str(written.log)]) == 0
    said, wrong = capsys.readouterr()
    assert wrong == ""
    assert "From ours & us.csv: 8 tries, 7 embers; 1 row not read." in said
    assert "Row 10, “downward force (N)”: “sixty”" in said
    assert (written.log.read_bytes(), written.log.stat().st_mtime_ns) == before
    (fire,) = written.fires
    assert (len(fire.tries), len(fire.weights)) == (8, EVENING_DRAWS)
    listed = told((written.folder / "index.html").read_text(encoding="utf-8"))
    assert "From ours & us.csv: 8 tries, 7 embers; 1 row not read." in listed
    assert "secret" not in listed
    write_pages(written.folder, pdf=False)
    assert written.fires[1:] == [None]
    assert "csv" not in told((written.folder / "index.html").read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (HEAD.encode(), "there is no try in it yet"),
        (HEAD.encode() + b"L90,11,sixty,,40,ember,\n", "Row 2, “downward force (N)”: “sixty”"),
        (b"PK\x03\x04", "save it as CSV there"),
        (None, "cannot read"),
    ],
)
def test_a_log_of_which_no_try_can_be_read_is_refused_and_nothing_is_written(
    written, capsys, text, words
):
    written.log.unlink() if text is None else written.log.write_bytes(text)
    assert main(["pages", str(written.folder), "--no-pdf", "--log", str(written.log)]) == 1
    wrong = capsys.readouterr().err
    assert wrong.startswith("fireheat: cannot use that log: ")
    assert words in wrong
    assert not written.folder.exists()


def test_no_sheet_tells_who_tried_or_what_was_noted(fire):
    for key, make in OWN.items():
        assert re.findall(NOTED, sheet_page(make(fire))) == [], key
