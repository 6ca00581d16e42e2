"""PDFs of pages, made by a browser that is on the machine already; nothing is fetched."""

import os
import shutil
import subprocess
import sys
import tempfile
import time
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
    "--use-mock-keychain",  # else macOS may ask a reader for a password, and so may Linux
    "--password-store=basic",
    "--host-resolver-rules=MAP * ~NOTFOUND",  # it may look nothing up
    "--no-pdf-header-footer",
    "--print-to-pdf-no-header",  # the same, to older ones
)
_LONGEST, _GRACE, _TICK = 120, 3, 0.2  # s
_END = b"%%EOF"  # of a PDF that is written to its end: ISO 32000-1, 7.5.5, from memory


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
        told = [*_flags(folder), f"--print-to-pdf={target.resolve()}", copy.as_uri()]
        said = _run([browser, *told], target, Path(folder) / "said")
    if not _whole(target):
        target.unlink(missing_ok=True)  # half a page is none
        raise PrintingError(f"{browser} did not print {page.name}: {said}")
    return target


def _flags(folder):
    root = hasattr(os, "geteuid") and os.geteuid() == 0  # no browser has a sandbox for root
    own = f"--user-data-dir={Path(folder) / 'browser'}"
    return [*_FLAGS, own, *(["--no-sandbox"] if root else [])]


def _run(command, target, log):
    """Run a browser until it ends or has printed, and return the last that it said.

    Some print and stay: Chrome does on macOS while its window is open. What it says goes to a file,
    since helpers that outlive it hold a pipe open.
    """
    with log.open("wb") as said:
        try:
            browser = subprocess.Popen(
                command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=said
            )
        except OSError as refusal:
            return str(refusal)
        last = time.monotonic() + _LONGEST
        while not (_ended(browser, _TICK) or _whole(target)) and time.monotonic() < last:
            pass
        if not _ended(browser, _GRACE if _whole(target) else 0):
            browser.kill()
            browser.wait()
    words = log.read_text(encoding="utf-8", errors="replace")
    return " ".join(words.split("\n")[-2:]).strip() or f"nothing came within {_LONGEST} s"


def _ended(browser, seconds):
    """Tell whether a browser ends within some time."""
    try:
        browser.wait(seconds)
    except subprocess.TimeoutExpired:
        return False
    return True


def _whole(target):
    """Tell whether a PDF is there, to its end."""
    return target.is_file() and target.read_bytes()[-16:].rstrip().endswith(_END)


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
