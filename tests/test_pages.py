"""All that leaves the laptop is made from this tree, whole, alone and listed; no work is lost."""

import errno
import multiprocessing
import os
import re
import sys
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path
from types import SimpleNamespace

import pytest
from evening_logs import NOTED, evening
from test_paths import GRADE, grade

from fireheat.cli import main
from fireheat.pages import writing
from fireheat.pages.field import field_page
from fireheat.pages.lesson_page import lesson_names
from fireheat.pages.page_list import page_list
from fireheat.pages.printing import PrintingError
from fireheat.pages.sheet_list import sheets
from fireheat.pages.writing import all_pages, write_pages
from fireheat.putting import RECORD
from fireheat.trials.our_fire import our_fire
from fireheat.trials.reading import read_bytes

MOST = {"index": 30_000, "field": 80_000, "lessons": 700_000, "sheets": 150_000}  # bytes
SMALL = {"field.html": "a field", "lessons/00-a.html": "a lesson", "sheets/kit.html": "a kit"}
KILLED_AT = (2, 7, 12, 15, 17)  # moments at which the writer touches a file
KILLED = 9
ASKING = re.compile(
    r"https?:(?!//www\.w3\.org/2000/svg)|\bfetch\(|XMLHttpRequest|WebSocket|EventSource"
    r"|sendBeacon|\bimport\b"
)


class Page(HTMLParser):
    """What a page is made of: its parts, words that are seen, styles and scripts."""

    def __init__(self, text):
        super().__init__()
        self.parts, self.told, self.inside = [], {}, "title"
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.parts.append((tag, dict(attrs)))
        self.inside = tag

    def handle_endtag(self, tag):
        self.inside = "" if tag in ("style", "script", "title") else self.inside

    def handle_data(self, data):
        self.told[self.inside] = self.told.get(self.inside, "") + data

    def of(self, tag):
        return [attrs for name, attrs in self.parts if name == tag]

    def all(self, *names):
        return [attrs[name] for _, attrs in self.parts for name in names if name in attrs]


@pytest.fixture(scope="module")
def pages():
    return all_pages()


@pytest.fixture(scope="module")
def read(pages):
    """Every page, the list too, in its parts."""
    return {place: Page(text) for place, text in {**pages, "index.html": page_list({})}.items()}


@pytest.fixture(scope="module")
def made(pages, tmp_path_factory):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(writing, "all_pages", lambda _: pages)
        return write_pages(tmp_path_factory.mktemp("my fire café"), pdf=False)


@pytest.fixture
def small(monkeypatch, tmp_path):
    """Three short pages in the place of all, and a folder of the reader's."""
    pages = dict(SMALL)
    monkeypatch.setattr(writing, "all_pages", lambda _: pages)
    return SimpleNamespace(pages=pages, folder=tmp_path / "mine")


@pytest.fixture
def printed(monkeypatch):
    """A browser that prints at once, never twice alike: the time, and where it counts from."""
    done = []

    def print_pdf(pages, paper, browser):
        (page,) = pages
        target = page.with_name(f"{page.stem}-{paper}.pdf")
        nodes = b" ".join(b"(node%08d)" % (len(done) + at) for at in (98, 99, 100))
        target.write_bytes(b"%%PDF (D:%014d) " % len(done) + nodes + page.read_bytes())
        done.append(target.name)
        return [target]

    monkeypatch.setattr(writing, "print_pdf", print_pdf)
    monkeypatch.setattr(writing, "installed_browser", lambda: "a browser")
    return done


def there(folder):
    """Every file in a folder, but for the record of what was put there."""
    files = (path for path in folder.rglob("*") if path.is_file() and path.name != RECORD)
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


# ---- what is made --------------------------------------------------------------------------------


def test_every_page_is_in_the_folder_as_it_was_spelled_and_nothing_else_is(made, pages):
    content = there(made.put.folder)
    assert content.keys() - pages.keys() == {"index.html"}
    assert all(content[place] == text.encode() for place, text in pages.items())
    lessons = {f"lessons/{name}.html" for name in lesson_names()}
    assert pages.keys() == {"field.html", *lessons, *(f"sheets/{key}.html" for key in sheets())}
    assert made.sizes == {place: len(held) for place, held in content.items()}


def test_the_list_names_every_file_with_its_size_and_what_it_is_for(made, pages):
    words = (made.put.folder / "index.html").read_text(encoding="utf-8")
    named = re.findall(r'<a href="([^"]+)">[^<]+</a> <small>(\d+)\xa0kB</small>', words)
    assert Counter(place for place, _ in named) == Counter([*pages])
    assert all(int(size) == round(made.sizes[place] / 1000) for place, size in named)
    assert [key for key, sheet in sheets().items() if not sheet.use] == []


def test_the_lines_of_the_list_can_be_read_by_a_twelve_year_old():
    words = re.sub(r"<style>.*?</style>|<title>.*?</title>", "", page_list({}), flags=re.DOTALL)
    words = re.sub(r"</(h\d|p|a)>", ". ", words)
    assert grade(re.sub(r"[.?!:][ .]+", ". ", re.sub(r"<[^>]+>", "", words))) <= GRADE


@pytest.mark.parametrize("kind", MOST)
def test_no_page_is_larger_than_it_may_be(made, kind):
    sizes = {place: size for place, size in made.sizes.items() if place.startswith(kind)}
    assert sizes
    assert {place: size for place, size in sizes.items() if size > MOST[kind]} == {}


def from_elsewhere(page):
    """Find all that a page would ask other machines or files for."""
    yield from (link for link in page.all("href", "xlink:href") if re.match(r"[\w+]+:|//", link))
    asked = page.all("src", "srcset", "action", "formaction", "data", "poster", "background")
    yield from (link for link in asked if not link.startswith("data:"))
    yield from {tag for tag, _ in page.parts} & {"link", "iframe", "object", "embed", "base"}
    yield from re.findall(r"@import|url\((?!data:|#)", page.told.get("style", ""))
    yield from re.findall(r"url\((?!#)", "".join(page.all("style")))
    yield from ASKING.findall(page.told.get("script", ""))


def test_no_page_asks_for_anything_from_elsewhere(read):
    found = {place: [*from_elsewhere(page)] for place, page in read.items()}
    assert {place: those for place, those in found.items() if those} == {}
    assert not read["index.html"].of("script")


@pytest.mark.parametrize(
    "part",
    [
        '<a href="https://a.b">it</a>',
        '<img src="a.png">',
        "<style>p{background:url(a)}</style>",
        "<script>fetch('a')</script>",
        '<p style="background:url(a)">',
        '<link rel="icon">',
    ],
)
def test_what_a_page_would_ask_for_is_found(part):
    assert len([*from_elsewhere(Page(f"<style></style>{part}"))]) == 1


def test_links_of_all_pages_lead_to_pages_and_places_that_are_there(read):
    for place, page in read.items():
        for link in page.all("href"):
            name, _, heading = link.partition("#")
            target = os.path.normpath(Path(place).parent / name) if name else place
            assert target in read, (place, link)
            assert not heading or heading in read[target].all("id"), (place, link)


def lacks(page):
    """Name what every page must have, and this one has not."""
    meta = {one.get("name"): one.get("content") for one in page.of("meta")}
    pictures = [one for one in page.of("svg") if one.get("aria-hidden") != "true"]
    has = {
        "language": page.of("html") == [{"lang": "en"}],
        "title": page.told["title"].strip(),
        "one first heading": len(page.of("h1")) == 1,
        "viewport": meta.get("viewport", "").startswith("width=device-width"),
        "words for pictures": all(one.get("alt") for one in page.of("img")),
        "words for drawings": all(one.get("aria-label") for one in pictures),
        "ids of one place": len(page.all("id")) == len({*page.all("id")}),
    }
    return [name for name, held in has.items() if not held]


def test_every_page_has_a_language_a_title_one_first_heading_and_words_for_its_pictures(read):
    found = {place: lacks(page) for place, page in read.items()}
    assert {place: those for place, those in found.items() if those} == {}


def test_a_field_page_made_with_a_log_tells_neither_who_tried_nor_what_was_noted(pages):
    page = field_page(our_fire(read_bytes(evening()).tries, draws=200))
    assert page != pages["field.html"]
    assert re.findall(NOTED, page) == []


# ---- nothing of a reader's is lost ---------------------------------------------------------------


def test_a_second_time_changes_nothing_and_a_newer_page_takes_the_place_of_ours(small):
    write_pages(small.folder, pdf=False)
    before = there(small.folder)
    assert write_pages(small.folder, pdf=False).put.written == []
    assert there(small.folder) == before
    small.pages["field.html"] = "a newer field"  # as long a name, another length: the list, too
    assert write_pages(small.folder, pdf=False).put.written == ["field.html"]
    assert there(small.folder)["field.html"] == b"a newer field"


@pytest.mark.parametrize("first", [True, False])
def test_a_page_of_the_reader_s_is_kept_and_they_are_told(small, first):
    if not first:
        write_pages(small.folder, pdf=False)
    small.folder.mkdir(exist_ok=True)
    for name in ("index.html", "field.html"):
        (small.folder / name).write_bytes(b"mine")
    words = write_pages(small.folder, pdf=False).text()
    content = there(small.folder)
    assert content["index.html"] == content["field.html"] == b"mine"
    assert content["field.new.html"] == b"a field"
    assert "You changed field.html: it is kept as it is. A fresh copy is field.new.html" in words
    assert "index.new.html names them all" in words


def test_what_lies_beside_the_pages_is_left_alone(small):
    own = small.folder / ".pages-of-mine" / "sheets"
    own.mkdir(parents=True)
    (own / "kit.html").write_bytes(b"mine")
    write_pages(small.folder, pdf=False)
    assert (own / "kit.html").read_bytes() == b"mine"


def _killed(folder, moment):
    """Write pages, and be killed as a file is touched for the so-manieth time."""
    touched = []

    def count(event, what):
        writes = event == "open" and "w" in str(what[1])
        if writes or event in ("os.mkdir", "os.rename", "os.remove", "os.rmdir"):
            touched.append(event)
            if len(touched) == moment:
                os.kill(os.getpid(), KILLED)

    sys.addaudithook(count)
    write_pages(folder, pdf=False)


@pytest.mark.parametrize("moment", KILLED_AT)
def test_a_writer_that_is_killed_leaves_whole_files_and_the_next_one_mends_it(small, moment):
    older = {**SMALL, "field.html": "an older field"}
    small.pages.update(older)
    write_pages(small.folder, pdf=False)
    before = there(small.folder)
    (small.folder / "sheets" / "kit.html").write_bytes(b"mine")
    small.pages.update(SMALL)
    writer = multiprocessing.get_context("fork").Process(
        target=_killed, args=(small.folder, moment)
    )
    writer.start()
    writer.join()
    assert writer.exitcode == -KILLED
    left = {place: text for place, text in there(small.folder).items() if ".part" not in place}
    assert left.pop("sheets/kit.html") == b"mine"
    whole = {place: [text.encode(), before[place]] for place, text in SMALL.items()}
    whole["sheets/kit.new.html"] = [b"a kit"]
    assert all(text in whole[place] for place, text in left.items() if place != "index.html")
    assert write_pages(small.folder, pdf=False).put.beside == {
        "sheets/kit.html": "sheets/kit.new.html"
    }
    content = there(small.folder)
    assert content.keys() == {*SMALL, "index.html", "sheets/kit.new.html"}
    assert content["field.html"] == b"a field"
    assert [path.name for path in small.folder.glob(".*")] == [RECORD]


# ---- PDFs ----------------------------------------------------------------------------------------


def test_each_sheet_is_printed_on_both_papers_once_and_listed(small, printed):
    write_pages(small.folder)
    pdfs = ["kit-A4.pdf", "kit-letter.pdf"]
    assert printed == pdfs
    before = there(small.folder)
    assert write_pages(small.folder).put.written == []
    assert printed == pdfs  # the page is the same
    listed = before["index.html"].decode()
    assert [listed.count(f'"sheets/{name}"') for name in pdfs] == [1, 1]
    small.pages["sheets/kit.html"] = "a newer kit"
    assert {f"sheets/{name}" for name in pdfs} < {*write_pages(small.folder).put.written}
    assert printed == pdfs * 2


def test_the_same_sheet_is_the_same_pdf_whenever_it_is_printed(small, printed, tmp_path):
    write_pages(small.folder)
    write_pages(tmp_path / "again")
    assert len(printed) == 4
    assert there(small.folder) == there(tmp_path / "again")


def test_a_pdf_of_the_reader_s_is_kept(small, printed):
    (small.folder / "sheets").mkdir(parents=True)
    (small.folder / "sheets" / "kit-A4.pdf").write_bytes(b"mine")
    done = write_pages(small.folder)
    assert done.put.beside == {"sheets/kit-A4.pdf": "sheets/kit-A4.new.pdf"}
    assert there(small.folder)["sheets/kit-A4.pdf"] == b"mine"


def test_where_no_browser_prints_all_pages_are_there_and_it_is_said(small, monkeypatch):
    def none():
        raise PrintingError("no browser was found; print from any browser")

    monkeypatch.setattr(writing, "installed_browser", none)
    done = write_pages(small.folder)
    assert there(small.folder).keys() == {*SMALL, "index.html"}
    assert "no browser was found; print from any browser" in done.text()
    assert "no browser" not in write_pages(small.folder, pdf=False).text()


# ---- the command ---------------------------------------------------------------------------------


def test_the_command_says_what_it_wrote_how_large_and_how_it_gets_onto_a_phone(small, capsys):
    assert main(["pages", str(small.folder), "--no-pdf"]) == 0
    said, wrong = capsys.readouterr()
    assert wrong == ""
    size = (small.folder / "index.html").stat().st_size + sum(map(len, SMALL.values()))
    assert f"4 files, {round(size / 1000)} kB, are in {small.folder}" in said
    assert all(name in said for name in ("field.html", "lessons/", "sheets/", "index.html"))
    assert re.search(r"phone.*cable.*share.*shared folder", said)
    assert len(said.splitlines()) < 10


@pytest.mark.parametrize("refusal", ["a file in its way", "read-only"])
def test_a_folder_that_cannot_be_written_is_refused_in_one_line(
    small, capsys, monkeypatch, refusal
):
    if refusal == "read-only":
        write_pages(small.folder, pdf=False)

        def refuse(*_, **__):  # taking away the right would not hold for root
            raise OSError(errno.EROFS, "Read-only file system", str(small.folder))

        monkeypatch.setattr(writing.tempfile, "TemporaryDirectory", refuse)
    else:
        small.folder.write_text("in the way", encoding="utf-8")
    before = there(small.folder)
    assert main(["pages", str(small.folder), "--no-pdf"]) == 1
    wrong = capsys.readouterr().err
    assert wrong.startswith("fireheat: cannot write pages there:")
    assert str(small.folder) in wrong
    assert wrong.count("\n") == 1
    assert there(small.folder) == before


def test_the_command_needs_a_folder(capsys):
    with pytest.raises(SystemExit):
        main(["pages"])
    assert "FOLDER" in capsys.readouterr().err
