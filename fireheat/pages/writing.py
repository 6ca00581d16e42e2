"""Put into a folder all that leaves the laptop: field page, lessons, sheets, and their list."""

import hashlib
import re
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from ..answers.next_try import EVENING_DRAWS
from ..putting import DRAFT, Put, put_files
from ..trials.our_fire import OurFire, our_fire
from ..trials.reading import LogError, read_log
from .field import field_page
from .lesson_page import lesson_names, lesson_page
from .page_list import FIELD, evenings_told, file_size, lesson_place, page_list, sheet_place
from .printing import PrintingError, installed_browser, pdf_beside, print_pdf
from .sheet import PAPERS, sheet_page
from .sheet_list import sheets

_LIST = "index.html"
_DRAFTS = ".pages-"
_PRINTED = re.compile(rb"D:\d{14}")  # when a browser printed a PDF
_NO_DAY = b"D:20000101000000"
_NODE = re.compile(rb"node\d{8}")  # parts of a PDF, which a browser counts from where it likes


@dataclass(frozen=True)
class Pages:
    """What was put into a folder.

    Attributes
    ----------
    put : Put
        Where, which files are new, and which a reader had changed.
    sizes : mapping of str to int
        How long each file is, in bytes, by its place in the folder.
    no_pdf : str
        Why sheets lack PDFs; empty if none does, or none was asked for.
    log : tuple of str
        Which log was taken, and what in it could not be read; empty if none was given.
    """

    put: Put
    sizes: Mapping[str, int]
    no_pdf: str = ""
    log: tuple[str, ...] = ()

    def text(self) -> str:
        """Say it in words: what there is, how large, and how it gets onto a phone."""
        first = self.put.beside.get(_LIST, _LIST)
        lines = [
            self.put.text(f"{len(self.sizes)} files, {self._size('')},"),
            f"  {first} names them all: open it first",
            f"  {FIELD} is for a phone, {self._size(FIELD)}",
            f"  lessons/ are for any screen, {self._size('lessons')}",
            f"  sheets/ are for paper, {self._size('sheets')}",
            f"Onto a phone: send {FIELD} by cable, by share or through a shared folder, and open it"
            " there in a browser.",
        ]
        if self.no_pdf:
            lines.append(f"Not every sheet is a PDF: {self.no_pdf}")
        lines += self.log
        return "\n".join(lines)

    def _size(self, start):
        size = sum(size for place, size in self.sizes.items() if place.startswith(start))
        return file_size(size).replace("\xa0", " ")


def all_pages(fire: OurFire | None = None) -> dict[str, str]:
    """Spell every page and sheet that is named in the list.

    Parameters
    ----------
    fire : OurFire, optional
        What a club's own evenings tell, where it has any.

    Returns
    -------
    dict of str to str
        Files of HTML that need nothing else, by their places in the folder.

    Examples
    --------
    >>> "sheets/kit.html" in all_pages()
    True
    """
    return {
        FIELD: field_page(fire),
        **{lesson_place(name): lesson_page(name) for name in lesson_names()},
        **{sheet_place(key): sheet_page(sheet) for key, sheet in sheets(fire).items()},
    }


def write_pages(folder: Path, *, pdf: bool = True, log: Path | None = None) -> Pages:
    """Put all pages into a folder, losing nothing that a reader has written there.

    All is made aside first, then put file by file, each whole; see
    :func:`fireheat.putting.put_files`. A sheet that has not changed is not printed again.

    Parameters
    ----------
    folder : Path
        Where to put them; made if it is not there.
    pdf : bool
        Whether to print each sheet, on A4 and on Letter, by a browser of this computer.
    log : Path, optional
        A club's own log. Its evenings then stand beside the handbook; of the file only its name
        does. It is read, and never changed.

    Returns
    -------
    Pages
        What was put there.

    Raises
    ------
    OSError
        If the folder cannot be made or written.
    LogError
        If not one try of the log can be read; nothing is written then.
    """
    fire, told, problems = _evenings(log) if log else (None, "", [])
    folder.mkdir(parents=True, exist_ok=True)
    with _aside(folder) as draft:
        for place, text in all_pages(fire).items():
            page = draft / place
            page.parent.mkdir(exist_ok=True)
            page.write_bytes(text.encode())
        no_pdf = _print_sheets(draft, folder) if pdf else ""
        files = sorted(path for path in draft.rglob("*") if path.is_file())
        sizes = {path.relative_to(draft).as_posix(): path.stat().st_size for path in files}
        listed = page_list(sizes, told).encode()
        (draft / _LIST).write_bytes(listed)
        put, sizes = put_files(draft, folder), {_LIST: len(listed), **sizes}
        return Pages(put, sizes, no_pdf, (told, *problems) if told else ())


def _evenings(path: Path) -> tuple[OurFire, str, list[str]]:
    """Let a log tell about our fire; say which it was, and what in it could not be read."""
    log = read_log(path)
    if not log.tries:
        raise LogError("\n".join(log.lines()) or "there is no try in it yet")
    fire = our_fire(log.tries, draws=EVENING_DRAWS)
    return fire, evenings_told(log.words(path.name)), log.lines()


@contextmanager
def _aside(folder: Path) -> Iterator[Path]:
    """Make a folder to write in, after clearing away what a killed start has left.

    It is inside the reader's own, because some browsers may write nowhere else.
    """
    for left in folder.glob(f"{_DRAFTS}*{DRAFT}"):
        shutil.rmtree(left, ignore_errors=True)
    with tempfile.TemporaryDirectory(prefix=_DRAFTS, suffix=DRAFT, dir=folder) as draft:
        yield Path(draft)


def _print_sheets(draft: Path, folder: Path) -> str:
    """Make PDFs of all sheets; return why not, where there is nothing to print with."""
    try:
        for place in sorted(path.relative_to(draft) for path in draft.glob(sheet_place("*"))):
            for paper in PAPERS:
                _print_sheet(draft, folder, place, paper)
    except PrintingError as refusal:
        return str(refusal)
    return ""


def _print_sheet(draft, folder, place, paper):
    """Print a sheet, or take what was printed of the very same page before."""
    page, before = draft / place, pdf_beside(folder / place, paper)
    mark = b"%%fireheat %s\n" % hashlib.sha256(page.read_bytes()).hexdigest().encode()
    if before.is_file() and before.read_bytes().endswith(mark):
        shutil.copyfile(before, pdf_beside(page, paper))
        return
    (made,) = print_pdf([page], paper, installed_browser())
    # The same page is the same file, whenever it is printed.
    text = _PRINTED.sub(_NO_DAY, made.read_bytes())
    counted = {name: b"node%08d" % at for at, name in enumerate(sorted({*_NODE.findall(text)}))}
    made.write_bytes(_NODE.sub(lambda name: counted[name[0]], text) + b"\n" + mark)
