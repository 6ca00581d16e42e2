"""Break pictures on purpose, and tell which faults the test of what is drawn does not see.

    python tests/tools/break_figures.py [SEED]

Eleven chosen faults, then forty drawn by chance from everything in ``fireheat/figures`` that moves
an artist, paints a box, pastes pixels or writes letters: an argument 1.1 times as large, low,
likely and high exchanged, 12 pixels aside, another number in a text, or the call left out. Each is
put into a copy of the library, and ``tests/test_drawn.py`` is run on it. In place of a fault that
changes no pixel of any picture there, or with which a figure cannot be drawn at all, another is
drawn: nobody could see the one, and nobody could miss the other.
"""

import ast
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from pathlib import Path
from typing import NamedTuple

HOME = Path(__file__).parents[2]
# What the test reads stands here and in the folder above.
FOUND = os.environ | {"PYTHONPATH": os.pathsep.join(map(str, Path(__file__).parents[:2]))}
COUNT, AT_MOST_UNSEEN = 40, 1
MOVES = {"set_data", "set_xdata", "set_ydata", "set_offsets", "set_verts", "set_xy", "set_bounds"}
MOVES |= {"set_radius"}
PLACED = {
    "fill": (1, 5),
    "paste": (1, 3),
    "write": (1, 3),
    "count": (1, 3),
    "line": (0, 2),
}  # which are pixels
NEXT = {"low": "likely", "likely": "high", "high": "low"}

CHOSEN = (  # what it is, a line of the figures, and the line in its place
    (
        "explorer: likely is the high end",
        "self.likely.set_data(self._seconds(sweep.wood.likely), up)",
        "self.likely.set_data(self._seconds(sweep.wood.high), up)",
    ),
    (
        "lane: the dot is at the high end",
        'self._move("likely", [found.wood.likely], [y])',
        'self._move("likely", [found.wood.high], [y])',
    ),
    (
        "lane: your wood is all we do not know",
        'self._bar("wood", found.wood, y, _WOOD)',
        'self._bar("wood", found.all, y, _WOOD)',
    ),
    (
        "explorer: the floor is the high end of its range",
        "floor = self._seconds(sweep.bound.likely)",
        "floor = self._seconds(sweep.bound.high)",
    ),
    (
        "explorer: bands end at likely",
        "low, _, high = map(self._seconds, getattr(sweep, name))",
        "low, high, _ = map(self._seconds, getattr(sweep, name))",
    ),
    (
        "explorer: the lane stands at a wrong value",
        "self.now.show(now.spread, at)",
        "self.now.show(now.spread, at + 12)",
    ),
    ("press: the arm's watts", '"power": (x, pressing.power)', '"power": (x, pressing.arm_power)'),
    (
        "press: the arm is spent before the last ember",
        "here.sweep.hold < here.sweep.ember.likely",
        "here.sweep.hold < here.sweep.ember.high",
    ),
    (
        "woods: dots at the high end",
        "likely = float(pile.embers.likely[at])",
        "likely = float(pile.embers.high[at])",
    ),
    (
        "weather: moisture halved",
        "set_data(100 * now.humidity, 100 * now.moisture)",
        "set_data(100 * now.humidity, 50 * now.moisture)",
    ),
    (
        "strokes: close-up not scaled",
        "zip(self.places[1:], self._ranges(shown, start, end), strict=True)",
        "zip(self.places[1:], [Scale(0.0, 1.0)] * 2, strict=True)",
    ),
)


class Fault(NamedTuple):
    what: str
    file: Path
    source: bytes
    start: int
    end: int
    new: str

    @property
    def broken(self):
        return self.source[: self.start] + self.new.encode() + self.source[self.end :]

    def __str__(self):
        line, old = self.source[: self.start].count(b"\n") + 1, self.source[self.start : self.end]
        old, new = (" ".join(text.split()) for text in (old.decode(), self.new))
        return f"{self.file.name}:{line} {self.what}: {old[:60]}  ->  {new[:60]}"


def figures():
    return sorted((HOME / "fireheat" / "figures").rglob("*.py"))


def chosen():
    for what, old, new in CHOSEN:
        places = [file for file in figures() if old in file.read_text()]
        if len(places) != 1 or places[0].read_text().count(old) != 1:
            sys.exit(f"not found once: {old}")
        source = places[0].read_bytes()
        start = source.index(old.encode())
        yield Fault(what, places[0], source, start, start + len(old.encode()), new)


def every_fault():
    """List all that can be done to each call; the text of a call decides what it can be."""
    return [
        fault
        for file in figures()
        for function in ast.walk(ast.parse(file.read_text()))
        if isinstance(function, ast.FunctionDef)
        for call in ast.walk(function)
        if isinstance(call, ast.Call) and (name_of(call) in MOVES or name_of(call) in PLACED)
        for fault in faults(Span(file), function, call)
    ]


def name_of(call):
    return getattr(call.func, "attr", getattr(call.func, "id", ""))


def faults(span, function, call):
    name, pixels = name_of(call), call.args
    known = {node.id for node in ast.walk(function) if isinstance(node, ast.Name)}
    if name in PLACED:
        first, last = PLACED[name]
        if name == "fill" and not names_a_box(call):
            first, last = 0, 4
        pixels = call.args[first:last]
    for arg in pixels:
        yield span.fault("1.1 times", arg, scaled(span, arg))
        if name in PLACED and not isinstance(arg, ast.Starred):
            yield span.fault("12 pixels aside", arg, f"({span.text(arg)}) + 12")
    for arg in call.args:
        for node in ast.walk(arg):
            if isinstance(node, ast.Subscript) and isinstance(node.slice, ast.Constant):
                if node.slice.value in (0, 1, 2):
                    yield span.fault("another end", node.slice, str((node.slice.value + 1) % 3))
            elif isinstance(node, ast.Name) and NEXT.get(node.id) in known:
                yield span.fault("another end", node, NEXT[node.id])
    if name in ("write", "count") and re.search(r"[{\d]|^[a-z]", span.text(call.args[0])):
        digit = "__import__('re').sub(r'\\d', lambda d: str(9 - int(d[0])), %s, count=1)"
        yield span.fault("another number", call.args[0], digit % span.text(call.args[0]))
    yield span.fault("left out", call, "None")


def names_a_box(call):
    """Whether the first argument of a ``fill`` is a name, as it is on a frame."""
    return len(call.args) >= 6 or any(isinstance(arg, ast.Starred) for arg in call.args[1:])


def scaled(span, arg):
    if isinstance(arg, ast.Starred):
        return f"*(1.1 * __import__('numpy').asarray({span.text(arg.value)}))"
    if isinstance(arg, ast.List | ast.Tuple):
        return f"[1.1 * each for each in {span.text(arg)}]"
    return f"1.1 * ({span.text(arg)})"


class Span:
    """Where the text of a node is in its file."""

    def __init__(self, file):
        self.file, self.source = file, file.read_bytes()
        lines = self.source.splitlines(keepends=True)
        self.starts = [sum(map(len, lines[:number])) for number in range(len(lines))]

    def ends(self, node):
        first = self.starts[node.lineno - 1] + node.col_offset
        return first, self.starts[node.end_lineno - 1] + node.end_col_offset

    def text(self, node):
        first, last = self.ends(node)
        return self.source[first:last].decode()

    def fault(self, what, node, new):
        return Fault(what, self.file, self.source, *self.ends(node), new)


def outcome(fault, folder, before):
    """Run the test on a copy of the library with the fault in it: first the rows of its file."""
    path = folder / fault.file.relative_to(HOME)
    kinds = re.findall(r"^class (\w+)\(Sketch\)", fault.source.decode(), flags=re.M)
    path.write_bytes(fault.broken)
    try:
        found = run(folder, " or ".join(kinds)) or (run(folder, "") if kinds else "")
        return found or ("no change" if pictures(folder) == before else "NOT SEEN")
    finally:
        path.write_bytes(fault.source)


def run(folder, which):
    """Say whether the test sees something, or a figure gives up; nothing if all is well."""
    command = [sys.executable, "-m", "pytest", "-q", "-x", "--tb=short", "-p", "no:cacheprovider"]
    command += ["test_drawn.py", "-k", which]
    done = subprocess.run(command, cwd=folder, env=FOUND, capture_output=True, text=True)
    if done.returncode not in (0, 1):
        sys.exit(done.stdout + done.stderr)
    if done.returncode == 0:
        return ""
    deepest = re.findall(r"^(\S+\.py):\d+: in", done.stdout, flags=re.M)[-1]
    return "gives up" if "figures" in deepest else "seen"


PICTURES = """
import zlib, test_drawn as t
from fireheat.figures.sketch import Sketch
png = Sketch.png
Sketch.png = lambda self, *scale: t.DRAWING.append(self) or png(self, *scale)
for row in t.ROWS.values():
    for case in row.cases:
        print(zlib.crc32(t.show(row.panel, case).panel.png))
"""


def pictures(folder):
    """Check sums of every picture that the test looks at."""
    command = [sys.executable, "-c", PICTURES]
    return subprocess.run(command, cwd=folder, env=FOUND, capture_output=True, text=True).stdout


def main(seed=1):
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        shutil.copytree(HOME / "fireheat", folder / "fireheat")
        shutil.copy(HOME / "tests" / "test_drawn.py", folder)
        first, drawn = list(chosen()), every_fault()
        random.Random(seed).shuffle(drawn)
        if run(folder, ""):
            sys.exit("the test fails with no fault put in")
        before, tally = pictures(folder), Counter()
        for fault in (*first, *drawn):
            found = outcome(fault, folder, before)
            print(f"{found:<10}", fault, flush=True)
            tally[found] += 1
            if tally["seen"] + tally["NOT SEEN"] == len(CHOSEN) + COUNT:
                break
    print(", ".join(f"{count} {found}" for found, count in tally.items()), f"of {len(drawn)}")
    return tally["NOT SEEN"] > AT_MOST_UNSEEN


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
