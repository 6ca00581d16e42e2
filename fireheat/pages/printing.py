"""PDFs of pages, made by a browser that is on the machine already; nothing is fetched."""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Iterator
from pathlib import Path

from .sheet import page_rule

CHOICE = "FIREHEAT_BROWSER"  # in the environment: the path of a browser to use
BROWSERS = (
    "chromium-headless-shell",  # the same without its window, a tenth less work
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "msedge",
    "microsoft-edge",
    "microsoft-edge-stable",
)
_APPLICATIONS = ("Google Chrome", "Chromium", "Microsoft Edge")  # of macOS
_PROGRAMS = (  # of Windows, each below any of the folders that hold programs
    "Google/Chrome/Application/chrome.exe",
    "Microsoft/Edge/Application/msedge.exe",
    "Chromium/Application/chrome.exe",
)
_PROGRAM_FOLDERS = ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA")
_FLAGS = (
    "--headless",
    "--disable-gpu",
    "--no-first-run",
    "--disable-extensions",
    "--disable-background-networking",
    "--host-resolver-rules=MAP * ~NOTFOUND",  # it may look nothing up
    "--no-pdf-header-footer",
    "--print-to-pdf-no-header",  # the same, to older ones
)
_LONGEST = 120  # s


class PrintingError(RuntimeError):
    """No PDF was made: there is no browser, or it did not print."""


def installed_browser() -> str:
    """Find a browser that can print without a window.

    Returns
    -------
    str
        Its path: what the environment names in ``FIREHEAT_BROWSER``, else the first that is there.

    Raises
    ------
    PrintingError
        If there is none.
    """
    if named := os.environ.get(CHOICE):
        return named
    for name in BROWSERS:
        if found := shutil.which(name):
            return found
    for place in _usual_places(sys.platform):
        if place.is_file():
            return str(place)
    raise PrintingError(
        "no browser was found that makes PDFs (Chromium, Chrome or Edge); name one in"
        f" {CHOICE}, or open the pages in any browser and print them from there"
    )


def print_pdf(pages: Iterable[Path], paper: str, browser: str = "") -> list[Path]:
    """Print pages, each as a PDF beside it.

    Parameters
    ----------
    pages : iterable of Path
        Files of HTML that need no others.
    paper : str
        ``"A4"`` or ``"letter"``.
    browser : str, optional
        The path of one; left out, one is looked for.

    Returns
    -------
    list of Path
        The PDFs, named as the pages and the paper.

    Raises
    ------
    InputError
        If there is no such paper.
    PrintingError
        If there is no browser, or it does not print.
    """
    rule, browser = page_rule(paper), browser or installed_browser()
    return [_print(browser, Path(page), paper, f"<style>{rule}</style></head>") for page in pages]


def pdf_beside(page: Path, paper: str) -> Path:
    """Name the PDF of a page on a paper.

    Examples
    --------
    >>> pdf_beside(Path("kit.html"), "A4").name
    'kit-A4.pdf'
    """
    return page.with_name(f"{page.stem}-{paper}.pdf")


def _print(browser, page, paper, rule):
    target, text = pdf_beside(page, paper), page.read_text(encoding="utf-8")
    target.unlink(missing_ok=True)  # what lay there is no sign that this was printed
    # Beside the page: some browsers may read and write below a reader's own folder only.
    with tempfile.TemporaryDirectory(
        prefix="printing-", dir=page.resolve().parent, ignore_cleanup_errors=True
    ) as folder:
        copy = Path(folder) / page.name
        copy.write_text(text.replace("</head>", rule, 1), encoding="utf-8")
        said = _run([browser, *_flags(folder), f"--print-to-pdf={target.resolve()}", copy.as_uri()])
    if not target.is_file():
        raise PrintingError(f"{browser} did not print {page.name}: {said}")
    return target


def _flags(folder):
    root = hasattr(os, "geteuid") and os.geteuid() == 0  # no browser has a sandbox for root
    own = f"--user-data-dir={Path(folder) / 'browser'}"
    return [*_FLAGS, own, *(["--no-sandbox"] if root else [])]


def _run(command):
    """Run a browser, and return the last that it said."""
    try:
        ended = subprocess.run(command, capture_output=True, timeout=_LONGEST, check=False)
    except (OSError, subprocess.TimeoutExpired) as refusal:
        return str(refusal)
    return " ".join(ended.stderr.decode(errors="replace").split("\n")[-2:]).strip()


def _usual_places(platform: str) -> Iterator[Path]:
    """Name the places where browsers are, on systems whose search path does not have them."""
    if platform == "darwin":
        for folder in (Path("/Applications"), Path.home() / "Applications"):
            for name in _APPLICATIONS:
                yield folder / f"{name}.app" / "Contents" / "MacOS" / name
    if platform == "win32":
        for name in _PROGRAM_FOLDERS:
            if programs := os.environ.get(name):
                yield from (Path(programs) / program for program in _PROGRAMS)
