"""Sheets for paper: one frame, cautions at the foot, true sizes, the log's columns, PDFs."""

import html
import re
import subprocess
import sys
import time
import xml.etree.ElementTree as ET
from fractions import Fraction
from types import SimpleNamespace

import numpy as np
import pytest

from fireheat.coach.learner import Learner
from fireheat.coach.pace import pace
from fireheat.coach.seen import causes, observations
from fireheat.coach.smoke_now import after_smoke
from fireheat.data import table
from fireheat.figures import gauge
from fireheat.kit.making import Carved, sizes
from fireheat.pages import printing
from fireheat.pages.gauge import gauge_sheet
from fireheat.pages.making import kit_sheet
from fireheat.pages.pocket_card import pocket_card
from fireheat.pages.printing import PrintingError, installed_browser, print_pdf
from fireheat.pages.sheet import Sheet, sheet_page
from fireheat.pages.sheet_list import cautions_sheet
from fireheat.pages.stopwatch import stopwatch_sheet
from fireheat.quantities import InputError
from fireheat.shipped import shipped_cautions
from fireheat.trials.columns import COLUMNS
from fireheat.words import time_words

INCH = 25.4  # mm


def said(words):
    """Spell a page as it reads: a part of its own is a sentence of its own."""
    words = re.sub(r"<style>.*?</style>|<title>.*?</title>", "", words, flags=re.S)
    words = re.sub(r"</(h\d|p|li|t[hdr]|d[td]|text|div)>", ". ", words)
    words = html.unescape(re.sub(r"<[^>]+>", " ", words)).replace("\xa0", " ")
    return re.sub(r"(?<=[.?!:”])[ .]+(?=\.)", "", " ".join(words.split()))


def drawings(words):
    return [ET.fromstring(svg) for svg in re.findall(r"<svg.*?</svg>", words, re.S)]


def number(words):
    """Read "5/8 in" or "12.5 mm" as millimetres."""
    value, unit = words.split()
    return float(Fraction(value)) * {"mm": 1.0, "in": INCH}[unit]


# ---- the frame -----------------------------------------------------------------------------------


def test_the_sheet_that_others_name_has_the_whole_list():
    words = said(sheet_page(cautions_sheet()))
    for group in shipped_cautions().values():
        assert all(line.replace("**", "") in words for line in group)


def test_cautions_are_the_list_of_page_00_group_by_group():
    told = shipped_cautions()
    assert list(told) == ["", "Before", "While bowing", "After"]
    assert [len(lines) for lines in told.values()] == [1, 7, 5, 2]


def test_an_invented_club_is_said_to_be_invented_where_it_shows():
    shown = Sheet("one", "One", "<p>Otterbrook Trail Club meets.</p>")
    assert "are invented." in sheet_page(shown)
    assert "invented" not in sheet_page(Sheet("one", "One", "<p>Words.</p>"))


@pytest.mark.parametrize(
    ("sheet", "paper"),
    [
        (Sheet("one", "One", ""), "A3"),
        (Sheet("one", "One", "", cautions=("No such line",)), ""),
        (Sheet("one", "One", "", cautions=("",)), ""),
    ],
)
def test_a_strange_paper_or_caution_is_refused(sheet, paper):
    with pytest.raises(InputError):
        sheet_page(sheet, paper)


# ---- the gauge -----------------------------------------------------------------------------------


def test_the_unit_of_each_drawing_of_the_gauge_is_the_millimetre():
    sheet = gauge_sheet()
    for svg in drawings(sheet.body + sheet.more[0]):
        wide, high = svg.get("width"), svg.get("height")
        assert svg.get("viewBox") == f"0 0 {wide.removesuffix('mm')} {high.removesuffix('mm')}"
        assert (float(wide[:-2]), wide[-2:], high[-2:]) == (186, "mm", "mm")


def test_circles_are_as_wide_as_they_are_called():
    circles = re.findall(
        r'data-spindle="([^"]+)" cx="[\d.]+" cy="[\d.]+" r="([\d.]+)"', gauge_sheet().body
    )
    named = [number(name) for name, _ in circles]
    assert named[:9] == [10, 11, 12.5, 14, 16, 18, 20, 22, 25]
    assert named[9:] == pytest.approx([INCH * n / 16 for n in (6, 7, 8, 9, 10, 11, 12, 14, 16)])
    assert [2 * float(radius) for _, radius in circles] == pytest.approx(named, abs=1e-3)


def test_lines_to_measure_are_as_long_as_they_say():
    lines = re.findall(
        r'd="M[\d.]+ [\d.]+v4M0.3 [\d.]+h([\d.]+)m0 -2v4" data-length="([^"]+)"',
        gauge.check_lengths(),
    )
    assert [float(length) for length, _ in lines] == [100.0, 101.6]
    assert [number(name) for _, name in lines] == [100.0, 101.6]


def test_notches_are_an_eighth_of_the_circle_from_the_hole_s_middle_to_the_edge():
    (svg,) = drawings(gauge.notch_shapes())
    holes = [one for one in svg.iter("circle")]
    wedges = [one.get("d") for one in svg.iter("path") if "L" in one.get("d")]
    rim = 1000 * sizes()["hole_rim"].value
    for hole, wedge in zip(holes, wedges, strict=True):
        left, tip, right = (np.array(at.split(), float) for at in re.split("[ML]", wedge)[1:])
        assert tip == pytest.approx([float(hole.get("cx")), float(hole.get("cy"))])
        one, other = left - tip, right - tip
        angle = np.degrees(np.arccos(one @ other / np.linalg.norm(one) / np.linalg.norm(other)))
        assert angle == pytest.approx(360 / 8, abs=0.02)
        diameter = float(hole.get("data-hole"))
        assert 2 * float(hole.get("r")) == pytest.approx(diameter)
        assert left[1] - tip[1] == pytest.approx(diameter / 2 + rim, abs=2e-3)


def test_the_pieces_of_the_stroke_ruler_go_on_where_the_one_before_ends():
    starts = []
    for piece in range(gauge.PIECES):
        (svg,) = drawings(gauge.stroke_piece(piece))
        texts = [
            (float(t.get("x")), float(t.get("y")), t) for t in svg.iter("text") if t.text.isdigit()
        ]
        above = min(y for _, y, _ in texts)
        for unit, row in ((10, True), (INCH, False)):
            for x, _, text in (one for one in texts if (one[1] == above) is row):
                shift = {"start": 0.7, "end": -0.7, "middle": 0}[text.get("text-anchor")]
                at = 180 * piece + x - shift
                assert at == pytest.approx(unit * int(text.text), abs=2e-3)
        starts.append(next(int(text.text) for _, y, text in texts if y == above))
        ticks = next(p.get("d") for p in svg.iter("path") if p.get("d").count("v") > 150)
        assert [float(x) for x in re.findall(r"M([\d.]+) ", ticks)] == list(range(181))
    assert starts == [0, 18, 36, 54, 72]


def test_the_ordinary_stroke_is_marked_where_it_ends():
    marked = [
        re.search(r'd="M([\d.]+) [\d.]+l-1.5 2.4h3Z', gauge.stroke_piece(n))
        for n in range(gauge.PIECES)
    ]
    assert [180 * n + float(found.group(1)) for n, found in enumerate(marked) if found] == [500.0]
    assert "ordinary stroke: 50 cm (20 in)" in gauge.stroke_piece(2).replace("\xa0", " ")


# ---- kit, stopwatch, pocket card -----------------------------------------------------------------


def test_the_kit_has_every_size_once_in_the_units_of_its_page():
    sheet = kit_sheet()
    metric, us = said(sheet.body), said(sheet.more[0])
    for row in table("making").values():
        assert row["name"] in metric
        assert row["name"] in us
        if row["unit"] == "m":
            assert f"{1000 * row['low']:.0f} to {1000 * row['high']:.0f} mm" in metric
    assert "width. as the spindle, 16 mm." in metric
    mouth = 1000 * Carved(0.016).notch_mouth
    assert f"width at the edge. {mouth:.0f} mm." in metric
    assert re.findall(r"\d (?:in|ft)\b", metric) == []
    assert re.findall(r"\d [cm]m\b", us) == []


def test_the_stopwatch_sheet_has_the_log_s_headings_in_the_log_s_order():
    heads = re.findall(
        r"<tr><th>([^<]*?)(?: \*)?(?:<small>.*?</small>)?</th><td>", stopwatch_sheet().body
    )
    assert heads == [column.title for column in COLUMNS]


def test_the_pocket_card_has_one_thing_to_try_for_each_sign():
    tried = re.findall(
        r"<dt>([^<]+) <span>· ([^<]+)\?</span></dt><dd>([^<]+)</dd>", pocket_card().body
    )
    assert [sign for sign, *_ in tried] == [one.name for one in observations().values()]
    steps = {one.name: one.next_step for one in causes().values()}
    assert all(steps[name] == step for _, name, step in tried)
    assert dict((sign, name) for sign, name, _ in tried)["bow runs, spindle stands"] == "cord slips"


def test_beats_and_windows_of_the_pocket_card_are_the_coach_s():
    rows = re.findall(
        r"<tr><td>([^<]+)</td><td>([^<]+)</td></tr>",
        pocket_card().body.replace("\xa0", " "),
    )
    beats, windows = rows[:3], rows[3:]
    held = pace(Learner())
    for stroke, beat in beats:
        speeds = [int(n) * int(stroke.split()[0]) / 100 / 60 for n in beat.split(" to ")]
        assert speeds == pytest.approx([held.low, held.high], rel=0.02)
    for smoke, window in windows:
        at = float(smoke.removesuffix(" s"))
        found = after_smoke(Learner(), smoke_time=at, elapsed=at).window
        assert window.split(" to ")[-1] == time_words(found.high)
        assert window.startswith(time_words(found.low).split(" ")[0])


# ---- PDFs ----------------------------------------------------------------------------------------


@pytest.fixture
def no_browser(monkeypatch):
    monkeypatch.delenv(printing.CHOICE, raising=False)
    monkeypatch.setattr(printing, "shutil", SimpleNamespace(which=lambda name: None))
    return monkeypatch


def test_where_there_is_no_browser_it_says_so_and_what_else_to_do(no_browser):
    no_browser.setattr(printing, "_usual_places", lambda platform: [])
    with pytest.raises(PrintingError, match=r"no browser.*FIREHEAT_BROWSER.*any browser"):
        installed_browser()


STAYING = """#!{}
import sys, time
(target,) = (one.partition("=")[2] for one in sys.argv if one.startswith("--print-to-pdf="))
open(target, "wb").write({!r})
time.sleep(60)
"""


@pytest.mark.parametrize(("printed", "whole"), [(b"%PDF %%EOF", True), (b"%PDF", False)])
def test_a_browser_that_stays_is_ended_once_it_has_printed(tmp_path, monkeypatch, printed, whole):
    for name, seconds in (("_GRACE", 0.05), ("_TICK", 0.02), ("_LONGEST", 30 if whole else 0.3)):
        monkeypatch.setattr(printing, name, seconds)
    page, browser = tmp_path / "one.html", tmp_path / "browser"
    page.write_text("<head></head>", encoding="utf-8")
    browser.write_text(STAYING.format(sys.executable, printed), encoding="utf-8")
    browser.chmod(0o755)
    started, start, began = [], subprocess.Popen, time.monotonic()

    def remembered(*told, **kept):
        started.append(start(*told, **kept))
        return started[-1]

    monkeypatch.setattr(subprocess, "Popen", remembered)
    if whole:
        assert print_pdf([page], "A4", str(browser)) == [tmp_path / "one-A4.pdf"]
    else:
        with pytest.raises(PrintingError, match="nothing came within"):
            print_pdf([page], "A4", str(browser))
    (ran,) = started
    assert ran.returncode is not None
    assert time.monotonic() - began < 20
    assert (tmp_path / "one-A4.pdf").exists() is whole


@pytest.mark.parametrize(
    ("platform", "place"),
    [
        ("darwin", "Applications/Google Chrome.app/Contents/MacOS/Google Chrome"),
        ("darwin", "Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge"),
        ("win32", "Google/Chrome/Application/chrome.exe"),
        ("win32", "Microsoft/Edge/Application/msedge.exe"),
    ],
)
def test_a_browser_is_found_where_these_systems_have_it(no_browser, tmp_path, platform, place):
    there = tmp_path / place
    there.parent.mkdir(parents=True)
    there.touch()
    no_browser.setenv("HOME", str(tmp_path))
    no_browser.setenv("PROGRAMFILES", str(tmp_path))
    no_browser.setattr(printing, "sys", SimpleNamespace(platform=platform))
    assert installed_browser() == str(there)


def test_the_browser_that_is_named_is_taken_and_one_that_does_not_print_is_told(
    no_browser, tmp_path
):
    no_browser.setenv(printing.CHOICE, sys.executable)
    assert installed_browser() == sys.executable
    page, stale = tmp_path / "one.html", tmp_path / "one-A4.pdf"
    page.write_text(sheet_page(Sheet("one", "One", "")), encoding="utf-8")
    stale.write_bytes(b"%PDF of yesterday")
    with pytest.raises(PrintingError, match=r"did not print one\.html: .*python -h"):
        print_pdf([page], "A4")
    assert [path.name for path in tmp_path.iterdir()] == ["one.html"]
    with pytest.raises(PrintingError, match="did not print"):
        print_pdf([page], "letter", browser=str(tmp_path / "none"))
    with pytest.raises(InputError):
        print_pdf([page], "A3")
