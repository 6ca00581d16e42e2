"""Every sheet: sound, readable, with its cautions; in a browser, as paper has it, nothing cut."""

import re
from html.parser import HTMLParser

import numpy as np
import pytest
from evening_logs import evening
from lab import find_browser
from pypdfium2 import PdfDocument
from scipy.ndimage import find_objects, label
from test_paths import GRADE, grade
from test_sheets import number, said

from fireheat.pages.printing import print_pdf
from fireheat.pages.sheet import sheet_page
from fireheat.pages.sheet_list import sheets
from fireheat.shipped import shipped_cautions
from fireheat.trials.our_fire import our_fire
from fireheat.trials.reading import read_bytes

MM = 96 / 25.4  # CSS pixels
VOID = {"meta", "br", "hr", "img", "input", "path", "circle", "rect", "line", "use"}
# What is wrong with what is shown, as lines to read.
WRONG = """() => {
    const wrong = [], name = one => `${one.tagName} ${one.textContent.trim().slice(0, 40)}`;
    const box = one => one.getBoundingClientRect();
    const within = (inner, outer) => inner.left > outer.left - 1 && inner.right < outer.right + 1
        && inner.top > outer.top - 1 && inner.bottom < outer.bottom + 1;
    for (const page of document.querySelectorAll('.page')) {
        const body = page.querySelector('.body'), foot = box(page.querySelector('footer'));
        if (foot.bottom > box(page).bottom + 1) wrong.push('the foot runs off its page');
        for (const one of body.querySelectorAll('*')) {
            if (!one.getClientRects().length) continue;
            const lines = one.closest('.lines'); // those that find no room stand beside it, hidden
            if (one === lines && ![...one.children].some(line => within(box(line), box(one))))
                wrong.push('no line to write on');
            if (lines && box(one).left >= box(lines).right - 1) continue;
            if (!within(box(one), box(page))) wrong.push(`off its page: ${name(one)}`);
            if (box(one).bottom > foot.top) wrong.push(`into the foot: ${name(one)}`);
            if (one instanceof SVGElement) continue;
            if (one.clientHeight && one.scrollHeight > one.clientHeight + 2)
                wrong.push(`higher than its box: ${name(one)}`);
            if (one !== lines && one.clientWidth && one.scrollWidth > one.clientWidth + 2)
                wrong.push(`wider than its box: ${name(one)}`);
        }
        for (const svg of page.querySelectorAll('svg')) {
            const words = [...svg.querySelectorAll('text')], boxes = words.map(box);
            words.forEach((word, i) => {
                if (!within(boxes[i], box(svg))) wrong.push(`cut: ${name(word)}`);
                for (let j = 0; j < i; j++) {
                    const [a, b] = [boxes[i], boxes[j]];
                    const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
                    const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
                    if (across > 1 && down > 0.3 * Math.min(a.height, b.height))
                        wrong.push(`on one another: ${name(word)}, ${name(words[j])}`);
                }
            });
        }
        const walker = document.createTreeWalker(page, NodeFilter.SHOW_TEXT);
        while (walker.nextNode()) {
            const one = walker.currentNode.parentElement, size = getComputedStyle(one).fontSize;
            const { a, b } = one.getScreenCTM?.() ?? { a: 1, b: 0 };
            if (walker.currentNode.textContent.trim() && parseFloat(size) * Math.hypot(a, b) < 11.3)
                wrong.push(`smaller than 3 mm: ${name(one)}`);
        }
    }
    return wrong;
}"""


DOTS, DARK = 200 / 25.4, 150  # to a millimetre of print; grey of what is ink
EDGE = 5  # mm that a printer cannot reach


def inked(pdf):
    """Print a PDF as greys, from 0 to 255: each page has ink, and none where no printer reaches."""
    printed = []
    for page in PdfDocument(pdf):
        dots = page.render(scale=25.4 * DOTS / 72, grayscale=True).to_numpy()
        dots = dots.reshape(dots.shape[:2])
        off = round(EDGE * DOTS)
        assert dots[off:-off, off:-off].min() < DARK
        dots[off:-off, off:-off], held = 255, dots[off:-off, off:-off].copy()
        assert dots.min() == 255
        dots[off:-off, off:-off] = held
        printed.append(dots)
    return printed


def runs(row):
    """Lengths of what is dark in a row of dots."""
    ends = np.flatnonzero(np.diff(np.r_[False, row, False]))
    return ends[1::2] - ends[::2]


def shapes(page):
    """Whatever hangs together in ink: where, and how wide and high in millimetres."""
    for at in find_objects(label(page < 250)[0]):
        yield at, tuple((one.stop - one.start) / DOTS for one in at[::-1])


class Nesting(HTMLParser):
    """Parts of a page: what was opened and not closed, headings, words of the foot."""

    def __init__(self, page):
        super().__init__()
        self.open, self.wrong, self.levels = [], [], []
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        self.levels += [int(tag[1])] if re.fullmatch(r"h\d", tag) else []
        self.open += [] if tag in VOID else [tag]

    def handle_startendtag(self, tag, attrs):
        pass

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)


@pytest.fixture(scope="module")
def made():
    """Every sheet, by key, and those that a log changes; here only, since that takes seconds."""
    fire = our_fire(read_bytes(evening(times=12.0)).tries, draws=600)  # strange, so more is said
    own = {key: sheet for key, sheet in sheets(fire).items() if sheet is not sheets()[key]}
    return {**sheets(), **{f"{key} with a log": sheet for key, sheet in own.items()}}


@pytest.fixture(scope="module")
def pages(made):
    return {key: sheet_page(sheet) for key, sheet in made.items()}


@pytest.fixture(scope="module")
def paper(browser):
    """A page that shows what print shows."""
    page = browser.new_page(viewport={"width": int(190 * MM), "height": int(251 * MM)})
    page.emulate_media(media="print")
    yield page
    page.close()


def test_a_sheet_is_one_sound_page_that_needs_nothing_else(pages):
    for key, page in pages.items():
        parts = Nesting(page)
        assert (parts.open, parts.wrong) == ([], []), key
        assert parts.levels.count(1) == 1, key
        assert parts.levels[0] == 1, key
        assert max(np.diff(parts.levels), default=0) <= 1, key
        assert re.findall(r"https?:|<script|<link|<img|src=|url\(|@import", page) == [], key
        assert page.startswith('<!doctype html>\n<html lang="en">')
        for svg in re.findall(r"<svg[^>]*>", page):
            assert re.search(r'role="img" aria-label="[^"]+"|aria-hidden="true"', svg), key


def test_each_page_of_a_sheet_has_cautions_and_what_the_numbers_are_at_its_foot(made, pages):
    above = " ".join(shipped_cautions()[""]).replace("**", "")
    lines = [line for group in shipped_cautions().values() for line in group]
    for key, sheet in made.items():
        feet = re.findall(r"<footer>.*?</footer>", pages[key])
        assert len(feet) == 1 + len(sheet.more), key
        for foot in map(said, feet):
            assert foot.startswith(above), key
            assert "estimates, no promise" in foot, key
            assert sum(line in foot for line in lines) == len(sheet.cautions), key
            assert "The whole list is on the sheet" in foot or not sheet.cautions, key


def test_a_twelve_year_old_can_read_a_sheet(pages):
    grades = {key: grade(said(page)) for key, page in pages.items()}
    assert {key: found for key, found in grades.items() if found > GRADE} == {}


def test_nothing_is_cut_or_small_or_lies_on_something_else(paper, made):
    for key, sheet in made.items():
        paper.set_content(sheet_page(sheet))
        assert {key: paper.evaluate(WRONG)} == {key: []}
        for page in paper.locator(".page").all():  # both papers hold as much between their margins
            box = page.bounding_box()
            assert box["width"] / MM == pytest.approx(186, abs=0.1)
            assert box["height"] / MM == pytest.approx(250, abs=0.1)


def test_gauges_have_their_true_size_on_paper(paper, made):
    paper.set_content(sheet_page(made["gauge"]))
    for name, size in (
        ('[data-spindle="16 mm"]', 16),
        ('[data-spindle="1 in"]', 25.4),
        ('[data-length="100 mm"]', 100),
        ('[data-length="4 in"]', 101.6),
    ):
        wide = "one => one.getBBox().width * one.getScreenCTM().a"
        # A browser rounds a picture's height to 1/64 px, and fits its width to that.
        assert paper.locator(name).evaluate(wide) / MM == pytest.approx(size, rel=5e-4)


@pytest.mark.parametrize(("key", "size"), [("A4", (595, 842)), ("letter", (612, 792))])
def test_a_pdf_has_a_page_a_page_its_fonts_and_no_pictures_of_words(
    playwright, made, tmp_path, key, size
):
    page = tmp_path / "gauge sheet.html"
    page.write_text(sheet_page(made["gauge"]), encoding="utf-8")
    (pdf,) = print_pdf([page], key, browser=find_browser(playwright))
    printed = pdf.read_bytes()
    boxes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", printed)
    assert [tuple(round(float(n)) for n in box) for box in boxes] == [size] * 2
    assert printed.count(b"/FontFile") == len(re.findall(rb"/Type /FontDescriptor", printed)) > 0
    assert printed.count(b"/ToUnicode") > 0  # its words can be marked and read aloud
    assert b"/StructTreeRoot" in printed  # and in their order, with headings and tables
    assert b"/Subtype /Image" not in printed
    first, _ = inked(printed)
    lengths = [run for row in first < DARK for run in runs(row)]
    for size in (100, 101.6):  # between the ends' ticks, whose own width is 0.3 mm
        assert min(abs(one / DOTS - 0.3 - size) for one in lengths) < 0.3
    discs = [np.mean(size) - 0.2 for _, size in shapes(first) if np.ptp(size) < 0.3 < min(size) - 8]
    named = re.findall(r'data-spindle="([^"]+)"', made["gauge"].body)
    assert sorted(discs) == pytest.approx(sorted(map(number, named)), abs=0.3)
    # Paper, board, hole and ink are told apart by a printer that has no colours.
    levels = np.bincount(first.ravel(), minlength=256)
    shades = np.flatnonzero(levels > 0.003 * first.size)
    groups = np.split(shades, np.flatnonzero(np.diff(shades) > 30) + 1)
    assert len(groups) == 4
    assert max(map(np.ptp, groups)) < 10


@pytest.mark.parametrize("key", ["court-poster", "cards", "worksheet-03"])
def test_full_sheets_keep_off_the_paper_s_edge_and_print_without_grounds(paper, made, key):
    paper.set_content(sheet_page(made[key], "letter"))
    first, *more = inked(paper.pdf(prefer_css_page_size=True))
    assert len(more) == len(made[key].more)
    if key == "court-poster":  # helped, no matter, harmed: full, empty, hatched
        boxes = [at for at, size in shapes(first) if size == pytest.approx((7.7, 4.3), abs=0.4)]
        inside = [first[at][5:-5, 5:-5] for at in sorted(boxes, key=lambda at: at[1].start)]
        helped, no_matter, harmed = (np.mean(box) for box in inside)
        assert helped + 40 < harmed < no_matter - 30
        assert [np.ptp(box) > 60 for box in inside] == [False, False, True]
    if key == "worksheet-03":
        ruled = np.flatnonzero([max(runs(row), default=0) > 130 * DOTS for row in first < DARK])
        gaps = np.diff(ruled[np.r_[True, np.diff(ruled) > 2]]) / DOTS
        assert len(gaps) >= 4  # two and two to write on, and the rule above the foot
        assert min(gaps[:-1]) > 7
