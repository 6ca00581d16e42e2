"""Put files where the reader wants them, losing nothing that the reader has written."""

import hashlib
import json
import os
import secrets
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

RECORD = ".fireheat.json"
DRAFT = ".fireheat.part"


@dataclass(frozen=True)
class Put:
    """What putting files somewhere did.

    Attributes
    ----------
    folder : Path
        Where they are.
    written : list of str
        Files new there, or brought up to date.
    beside : dict
        For each file a reader had changed, the name of the fresh copy beside it.
    """

    folder: Path
    written: list[str] = field(default_factory=list)
    beside: dict[str, str] = field(default_factory=dict)

    def text(self, what: str) -> str:
        """Say in words where they are, and what was kept."""
        lines = [f"{what} are in {self.folder}"]
        for name, copy in self.beside.items():
            lines.append(f"You changed {name}: it is kept as it is. A fresh copy is {copy}")
        return "\n".join(lines)


def put_files(source: Path, folder: Path) -> Put:
    """Copy all files of a folder into another, losing nothing that a reader has written there.

    A file there is replaced only if an earlier call put it there, and it was at most run since.
    What was put is kept as sums in a small file: of each whole file, and of what a reader can
    write in it. Anything else is the reader's own, and ours goes beside it.

    Parameters
    ----------
    source : Path
        Folder with the files, notebooks or others.
    folder : Path
        Where to put them; made if it is not there.

    Returns
    -------
    Put
        What was done.

    Raises
    ------
    OSError
        If the folder cannot be made, or lacks something and cannot be written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    _clear_drafts({(folder / name).parent for name in _names(source)} | {folder})
    known = _read_record(folder)
    done, stale = Put(folder), {}
    for name in _names(source):
        ours = (source / name).read_bytes()
        copy = next(c for c in _copies(name) if not _is_readers(folder / c, ours, known.get(c, [])))
        if _is_stale(folder / copy, ours, known.get(copy, [])):
            stale[copy] = ours
        if copy != name:
            done.beside[name] = copy
        known[copy] = sorted({*known.get(copy, []), *_sums(ours)})
    # Before the files, and with the sums of older ones: wherever a copy is cut off, each file
    # that then lies there is known.
    _keep_record(folder, known, needed=bool(stale))
    for copy, ours in stale.items():
        _write(folder / copy, ours)
        done.written.append(copy)
    return done


def _names(source: Path) -> list[str]:
    """Files to put, with forward slashes; a folder's hidden files are not ours to give."""
    paths = (path.relative_to(source) for path in source.rglob("*") if path.is_file())
    return sorted(p.as_posix() for p in paths if not any(part[0] == "." for part in p.parts))


def _copies(name: str) -> Iterator[str]:
    """Names for a file: its own, then those for a fresh copy beside it."""
    stem, suffix = os.path.splitext(name)
    yield name
    yield f"{stem}.new{suffix}"
    for number in count(2):
        yield f"{stem}.new-{number}{suffix}"


def _is_readers(path: Path, ours: bytes, put: list[str]) -> bool:
    """Tell whether a reader has written what is there: it is neither ours nor once was."""
    if path.is_file():
        return {*_sums(path.read_bytes())}.isdisjoint({*put, *_sums(ours)})
    return path.exists() or path.is_symlink()


def _is_stale(path: Path, ours: bytes, put: list[str]) -> bool:
    """Tell whether ours must be put there; a notebook of today that was only run is left alone."""
    if not path.is_file():
        return True
    (whole, written), (our_whole, our_written) = _sums(path.read_bytes()), _sums(ours)
    return written != our_written or (whole != our_whole and whole in put)


def _sums(content: bytes) -> tuple[str, str]:
    """Return the sums of a whole file, and of what a reader can write in it."""
    return _sum(content), _sum(_written(content))


def _written(content: bytes) -> bytes:
    """Everything a reader can write in a notebook: not outputs, counts and bookkeeping."""
    try:
        cells = json.loads(content)["cells"]
        own = [(c["cell_type"], "".join(c["source"]), c.get("attachments")) for c in cells]
    except (ValueError, KeyError, TypeError):
        return content  # not a notebook
    return json.dumps(own).encode()


def _sum(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _read_record(folder: Path) -> dict[str, list[str]]:
    """Read the sums of what was put there before; none, if that cannot be told."""
    if not (folder / RECORD).is_file():  # reading a pipe would wait for ever
        return {}
    try:
        put = json.loads((folder / RECORD).read_bytes())["put"]
        return {name: [str(sum_) for sum_ in sums] for name, sums in put.items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}


def _keep_record(folder: Path, known: dict[str, list[str]], *, needed: bool) -> None:
    if known == _read_record(folder):
        return
    try:
        _write(folder / RECORD, json.dumps({"put": known}, indent=1).encode())
    except OSError:
        if needed:
            raise


def _clear_drafts(folders: Iterable[Path]) -> None:
    """Clear away what killed starts have left; a start that still runs writes its own anew."""
    for folder in folders:
        for draft in folder.glob(f".*{DRAFT}"):
            with suppress(OSError):
                draft.unlink()


def _write(path: Path, content: bytes, *, tries: int = 20) -> None:
    """Write a file whole or not at all; another start may be writing the same one just now."""
    path.parent.mkdir(parents=True, exist_ok=True)
    draft = path.with_name(f".{path.name}.{secrets.token_hex(4)}{DRAFT}")
    try:
        draft.write_bytes(content)
        os.replace(draft, path)
    except FileNotFoundError:  # another start took it for a draft that was left
        if tries <= 1:
            raise
        _write(path, content, tries=tries - 1)
    except PermissionError:  # Windows: the other start has it open
        if not path.is_file() or path.read_bytes() != content:
            raise
    finally:
        with suppress(OSError):
            draft.unlink()
