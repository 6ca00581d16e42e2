"""Real processes that copy notebooks, killed at any moment: nothing is lost, nothing is torn.

``FIREHEAT_KILLS=300 python -m pytest tests/test_killed_copies.py`` kills more than CI does. Each
number of a test is a seed: the same number makes the same folder and the same moment.
"""

import json
import os
import random
import signal
import subprocess
import sys
import time
from dataclasses import dataclass

import pytest

from fireheat.putting import RECORD, put_files
from fireheat.shipped import shipped_notebooks

KILLS = int(os.environ.get("FIREHEAT_KILLS", "24"))
KILLED = 9

# The command, which kills itself as it is about to touch a file for the n-th time; 0: never;
# -1: the system kills it as a file grows too long.
COMMAND = """
import os, signal, sys
from fireheat.cli import main
folder, moment, touched = sys.argv[1], int(sys.argv[2]), 0
def count(event, what):
    global touched
    writes = event == "open" and isinstance(what[1], str) and "w" in what[1]
    if writes or event in ("os.mkdir", "os.rename", "os.remove"):
        touched += 1
        if touched == moment:
            os.kill(os.getpid(), 9)
sys.addaudithook(count)
if moment == -1:
    signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
sys.exit(main(["learn", folder, "--copy-only"]))
"""


def version(number, content, *, changes):
    """Bytes of a file as another version of the library would ship it."""
    if not changes:
        return content
    if not content.startswith(b"{"):
        return content + b" of version %d" % number
    notebook = json.loads(content)
    notebook["cells"][-1]["source"] = [f"version = {number}"]
    return json.dumps(notebook).encode()


def run_again(content):
    """Bytes of a notebook after the reader ran and saved it."""
    notebook = json.loads(content)
    for cell in notebook["cells"]:
        if cell["cell_type"] == "code":
            cell["execution_count"] = 77
    return json.dumps(notebook).encode()


def fresh(name):
    """Name of the copy beside a file of the reader's."""
    stem, dot, ending = name.rpartition(".")
    return f"{stem}.new{dot}{ending}"


@dataclass
class Reader:
    """A reader's folder: what must stay in it, and what each version must put there."""

    folder: object
    theirs: dict
    older: dict
    now: dict
    next: dict
    later: object

    def content(self):
        """Every file that is there, without drafts and the record."""
        paths = [path for path in self.folder.rglob("*") if path.is_file()]
        names = {path.relative_to(self.folder).as_posix(): path for path in paths}
        ours = {name for name in names if name == RECORD or name.endswith(".part")}
        return {name: names[name].read_bytes() for name in names.keys() - ours}

    def drafts(self):
        return list(self.folder.rglob(".*.part"))

    def left_to_do(self):
        """How many files the present version has yet to put there."""
        there = self.content()
        return sum(there.get(name) != content for name, content in self.now.items())

    def hold_whole_files_and_all_of_the_readers(self):
        there = self.content()
        assert {name: there.get(name) for name in self.theirs} == self.theirs
        for name in there.keys() - self.theirs.keys():
            assert there[name] in (self.older.get(name), self.now.get(name)), f"{name} is torn"
        if (self.folder / RECORD).exists():
            json.loads((self.folder / RECORD).read_bytes())

    def be_made_whole(self, *, rerun):
        """The next version, with or without a rerun of this one, finds everything as it should."""
        beside = {name: fresh(name) for name in self.theirs if fresh(name) in self.now}
        if rerun:
            assert put_files(shipped_notebooks(), self.folder).beside == beside
            assert self.content() == self.theirs | self.now
            assert self.drafts() == []
        assert put_files(self.later, self.folder).beside == beside
        assert self.content() == self.theirs | self.next
        assert self.drafts() == []


def reader(tmp_path, choose):
    """Make a folder that an older version filled and in which a reader has been at work."""
    before, later, folder = (tmp_path / name for name in ("before", "later", "my fire café"))
    held = Reader(folder, {}, {}, {}, {}, later)
    shipped = {
        path.relative_to(shipped_notebooks()).as_posix(): path.read_bytes()
        for path in sorted(shipped_notebooks().rglob("*.*"))
        if path.is_file() and ".ipynb_checkpoints" not in path.parts
    }
    for name, content in shipped.items():
        old = version(1, content, changes=choose.random() < 0.7)
        new = version(3, content, changes=True)
        for source, put in ((before, old), (later, new)):
            (source / name).parent.mkdir(parents=True, exist_ok=True)
            (source / name).write_bytes(put)
        held.older[name], held.now[name], held.next[name] = old, content, new
    if choose.random() < 0.25:  # the first time
        return held
    for name in held.now:
        if choose.random() < 0.2:
            held.theirs[name] = b"mine before you came: " + name.encode()
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_bytes(held.theirs[name])
    put_files(before, folder)
    for name in [*held.theirs]:
        for each in (held.older, held.now, held.next):
            each[fresh(name)] = each.pop(name)
    for name in [name for name in held.now if name in shipped]:
        deed = choose.choice(["none", "none", "ran", "changed", "deleted"])
        if deed == "deleted":
            (folder / name).unlink()
        elif deed == "changed":
            held.theirs[name] = version(9, held.older.pop(name), changes=True)
            for each in (held.now, held.next):
                each[fresh(name)] = each.pop(name)
            (folder / name).write_bytes(held.theirs[name])
        elif deed == "ran" and name.endswith(".ipynb"):
            ran = run_again(held.older[name])
            if held.older[name] == held.now[name]:  # of today, and so left as it is
                held.now[name] = ran
            held.older[name] = ran
            (folder / name).write_bytes(ran)
    held.theirs["my own notes.ipynb"] = b"what I saw today"
    (folder / "my own notes.ipynb").write_bytes(b"what I saw today")
    held.hold_whole_files_and_all_of_the_readers()
    return held


def start(folder, moment=0, **how):
    command = [sys.executable, "-c", COMMAND, str(folder), str(moment)]
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "text": True}
    return subprocess.Popen(command, **pipes, **how)


def touches(held, *, again):
    """How often the command surely touches a file: four times for each; the record is kept once."""
    return 1 + 4 * (held.left_to_do() + (not again))


def end(*started):
    return [(each.communicate()[1], abs(each.returncode)) for each in started]


@pytest.mark.parametrize("seed", range(KILLS))
def test_a_copy_that_kills_itself_as_it_touches_a_file(tmp_path, seed):
    choose = random.Random(seed)
    held = reader(tmp_path, choose)
    for again in choose.choice([[False], [False], [False, True]]):  # killed again as it mends
        moment = choose.randint(1, touches(held, again=again))
        assert end(start(held.folder, moment)) == [("", KILLED)]
        held.hold_whole_files_and_all_of_the_readers()
    held.be_made_whole(rerun=choose.random() < 0.5)


@pytest.mark.parametrize("seed", range(KILLS // 3))
def test_a_copy_killed_from_outside_at_any_moment(tmp_path, seed):
    choose = random.Random(1000 + seed)
    held = reader(tmp_path, choose)
    record = held.folder / RECORD
    before = record.read_bytes() if record.exists() else None
    copy = start(held.folder)
    while copy.poll() is None and (record.read_bytes() if record.exists() else None) == before:
        time.sleep(0.001)
    time.sleep(choose.uniform(0, 0.02))
    copy.kill()
    assert end(copy)[0] in [("", KILLED), ("", 0)]
    held.hold_whole_files_and_all_of_the_readers()
    held.be_made_whole(rerun=choose.random() < 0.5)


@pytest.mark.parametrize("seed", range(KILLS // 3))
def test_two_copies_at_once_and_one_of_them_killed(tmp_path, seed):
    choose = random.Random(2000 + seed)
    held = reader(tmp_path, choose)
    killed, other = (start(held.folder, moment) for moment in (choose.randint(1, 30), 0))
    assert end(killed)[0] in [("", KILLED), ("", 0)]
    assert end(other) == [("", 0)]
    held.hold_whole_files_and_all_of_the_readers()
    assert held.left_to_do() == 0
    held.be_made_whole(rerun=choose.random() < 0.5)


def short_of_room(held, choose, *, killed):
    """Start a copy for which no file can grow beyond a length at random, shorter than the longest.

    As on a full disk, but the system can also be told to kill whoever tries: in mid-file.
    """
    import resource  # not on Windows

    there = held.content()
    new = [len(content) for name, content in held.now.items() if there.get(name) != content]
    room = choose.randrange(max(new))

    def fill():
        resource.setrlimit(resource.RLIMIT_FSIZE, (room, resource.RLIM_INFINITY))

    return end(start(held.folder, "-1" if killed else "0", preexec_fn=fill))


@pytest.mark.parametrize("seed", range(KILLS // 3))
def test_a_copy_killed_in_the_middle_of_a_file(tmp_path, seed):
    choose = random.Random(3000 + seed)
    held = reader(tmp_path, choose)
    assert short_of_room(held, choose, killed=True) == [("", signal.SIGXFSZ)]
    held.hold_whole_files_and_all_of_the_readers()
    held.be_made_whole(rerun=choose.random() < 0.5)


@pytest.mark.parametrize("seed", range(KILLS // 6))
def test_a_disk_too_full_for_a_file_ends_in_one_line_and_room_mends_it(tmp_path, seed):
    choose = random.Random(4000 + seed)
    held = reader(tmp_path, choose)
    ((said, code),) = short_of_room(held, choose, killed=False)
    assert code == 1
    assert said.startswith("fireheat: cannot put notebooks there:")
    assert said.count("\n") == 1
    assert held.drafts() == []
    held.hold_whole_files_and_all_of_the_readers()
    held.be_made_whole(rerun=choose.random() < 0.5)
