"""Put the notebooks where the reader wants them, losing nothing that the reader has written."""

import hashlib
import json
import os
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

RECORD = ".fireheat.json"
PACKAGE = Path(__file__).parents[1]


def shipped_notebooks() -> Path:
    """Return the folder of the notebooks that came with the library: in a wheel, or a clone."""
    inside = PACKAGE / "notebooks"
    return inside if inside.is_dir() else PACKAGE.parent / "notebooks"


@dataclass(frozen=True)
class Put:
    """What putting the notebooks somewhere did.

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

    def text(self) -> str:
        """Say it in words."""
        lines = [f"Notebooks are in {self.folder}"]
        for name, copy in self.beside.items():
            lines.append(f"You changed {name}: it is kept as it is. A fresh copy is {copy}")
        return "\n".join(lines)


def put_notebooks(source: Path, folder: Path) -> Put:
    """Copy the notebooks into a folder, losing nothing that a reader has written there.

    A file there is replaced only if it is, byte for byte, what an earlier call put there; the
    sums of those are kept in a small file. A notebook whose cells are those of ours has only
    been run: it is left alone. Anything else is the reader's own, and ours goes beside it.

    Parameters
    ----------
    source : Path
        Folder with the notebooks.
    folder : Path
        Where to put them; made if it is not there.

    Returns
    -------
    Put
        What was done.

    Raises
    ------
    OSError
        If the folder cannot be made or written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    known = _read_record(folder)
    done = Put(folder)
    for name in _names(source):
        ours = (source / name).read_bytes()
        copy = next(copy for copy in _copies(name) if not _is_readers(folder, copy, ours, known))
        if _is_untouched(folder / copy, known.get(copy)) and not _holds(folder / copy, ours):
            _write(folder / copy, ours)
            known[copy] = _sum(ours)
            done.written.append(copy)
        if copy != name:
            done.beside[name] = copy
    _write(folder / RECORD, json.dumps({"put": known}, indent=1).encode())
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


def _is_readers(folder: Path, name: str, ours: bytes, known: dict[str, str]) -> bool:
    path = folder / name
    return not (_is_untouched(path, known.get(name)) or (path.is_file() and _is_run(path, ours)))


def _is_untouched(path: Path, put: str | None) -> bool:
    """Tell whether nothing is there, or just what was put there."""
    if path.is_file():
        return _sum(path.read_bytes()) == put
    return not (path.exists() or path.is_symlink())


def _holds(path: Path, ours: bytes) -> bool:
    return path.is_file() and path.read_bytes() == ours


def _is_run(path: Path, ours: bytes) -> bool:
    """Tell whether a file is ours, at most run since."""
    theirs = path.read_bytes()
    return theirs == ours or (path.suffix == ".ipynb" and _cells(theirs) == _cells(ours))


def _cells(notebook: bytes):
    """Everything a reader can write in a notebook: not outputs, counts and bookkeeping."""
    try:
        cells = json.loads(notebook)["cells"]
        return [(c["cell_type"], "".join(c["source"]), c.get("attachments")) for c in cells]
    except (ValueError, KeyError, TypeError):
        return notebook


def _sum(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _read_record(folder: Path) -> dict[str, str]:
    """Read what was put there before; nothing, if that cannot be told."""
    try:
        put = json.loads((folder / RECORD).read_bytes())["put"]
        return {str(name): str(sum_) for name, sum_ in put.items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}


def _write(path: Path, content: bytes) -> None:
    """Write a file whole or not at all."""
    path.parent.mkdir(parents=True, exist_ok=True)
    draft = path.with_name(f".{path.name}.part")
    try:
        draft.write_bytes(content)
        os.replace(draft, path)
    finally:
        draft.unlink(missing_ok=True)
