"""A log of tries: nothing is misread in silence, and no row is ever lost.

``FIREHEAT_MANGLED=5000`` reads so many damaged files, ``FIREHEAT_KILLS=200`` kills the writer so
often.
"""

import errno
import os
import random
import signal
import subprocess
import sys
import time

import make_demo_log
import pytest
from mangled import COLUMNS, mangled

from fireheat import InputError
from fireheat.trials import log as writing
from fireheat.trials.columns import TimedTry, fit_columns
from fireheat.trials.exponents import CAUSES, club_exponents, depth_power
from fireheat.trials.log import add_try, demo_log, log_text, new_log
from fireheat.trials.reading import LogError, read_bytes, read_log

MANGLED = int(os.environ.get("FIREHEAT_MANGLED", "300"))
KILLS = int(os.environ.get("FIREHEAT_KILLS", "4"))
ONE = TimedTry(time=75.0, ended="ember", diameter=0.016, force=60.0, learner="L01", note="windy")


# ---- reading -------------------------------------------------------------------------------------


def unlike(one, other, unread=()):
    """The first column in which two tries differ, but for those not read; none if alike."""
    for key in (column.key for column in COLUMNS if column.key not in unread):
        a, b = getattr(one, key), getattr(other, key)
        if isinstance(a, float) and isinstance(b, float):
            alike = abs(a - b) <= 1e-6 * abs(b)
        elif isinstance(a, str) and isinstance(b, str):
            alike = a.split() == b.split()
        else:
            alike = a == b
        if not alike:
            return key
    return ""


def fault(seed):
    """What is wrong with how a damaged file is read; None if it is well."""
    data, tries, what, harm, spoil = mangled(seed)
    try:
        log = read_bytes(data)
    except LogError:
        refused = what == "refused" or spoil not in ("plain", "spreadsheet_hint", "unclosed")
        return None if refused else f"{harm}, {spoil}: refused"
    there = {column.key for column, _ in log.layout.columns if column}
    unread = {column.key for column in COLUMNS} - there
    if unread and log.tries and not (log.problems or log.warnings):
        return f"{harm}, {spoil}: {unread} not read, in silence"
    left = list(tries)
    for one in log.tries:
        like = [other for other in left if not unlike(one, other, unread)]
        if not like and spoil == "bits":
            continue  # a letter turned into another letter is no fault of the reader
        if not like and spoil == "cut" and one is log.tries[-1] and log.warnings:
            continue  # its last cell may be cut short; it is pointed out
        if not like:
            return f"{harm}, {spoil}: misread {[unlike(one, o, unread) for o in left]}"
        left.remove(like[0])
    if left and not log.problems and spoil not in ("cut", "bits"):
        return f"{harm}, {spoil}: lost {len(left)}"
    sure = what is None and spoil in ("plain", "spreadsheet_hint")
    if sure and any("could be" not in str(problem) for problem in log.problems):
        return f"{harm}, {spoil}: {log.problems[0]}"
    return None


def test_damaged_files_are_read_as_they_were_or_refused():
    start = time.perf_counter()
    faults = {seed: found for seed in range(MANGLED) if (found := fault(seed))}
    assert faults == {}
    assert time.perf_counter() - start < 0.2 * MANGLED  # none hangs


def test_many_more_rows_are_read_than_refused():
    """So the test above is none of an empty hand."""
    sound = [mangled(seed) for seed in range(200)]
    sound = [
        (data, tries) for data, tries, what, *_, spoil in sound if (what, spoil) == (None, "plain")
    ]
    read = sum(len(read_bytes(data).tries) for data, _ in sound)
    assert len(sound) > 8
    assert read > 0.9 * sum(len(tries) for _, tries in sound)


HEAD = (
    "learner;spindle diameter (mm);downward force (lb);moisture (%);first smoke (s);"
    "time (s);ended with\n"
)


@pytest.mark.parametrize(
    ("row", "column", "words"),
    [
        ("L01;160;13;9;12;75;ember", "diameter", "write 2 to 100 mm"),
        ("L01;0.63;13;9;12;75;ember", "diameter", "did you mean 0.63 cm or 0.63 in?"),
        ("L01;16 kg;13;9;12;75;ember", "diameter", "write mm or cm or in"),
        ("L01;1.250;13;9;12;75;ember", "diameter", "could be 1.25 or 1250"),
        ("L01;=A2;13;9;12;75;ember", "diameter", "write the number that it shows"),
        ("L01;sixteen;13;9;12;75;ember", "diameter", "write digits only"),
        ("L01;16;13;0.09;12;75;ember", "moisture", "in per cent: 9"),
        ("L01;16;13;9;12;;ember", "time", "write the time in seconds"),
        ("L01;16;13;9;2;2;ember", "time", "write 5 to 1800 s"),
        ("L01;16;13;9;12;75;", "ended", "write ember or gave up"),
        ("L01;16;13;9;12;75;smoke", "ended", "write ember or gave up"),
        ("L01;16;13;9;80;75;ember", "", "later than the time"),
        ("L01;16;13;9;12;75", "", "6 cells, and 7 headings"),
    ],
)
def test_a_cell_that_cannot_be_read_is_told_by_row_and_column_with_what_to_write(
    row, column, words
):
    log = read_bytes((HEAD + "L02;16;13;9;12;75;ember\n" + row + "\n").encode())
    assert len(log.tries) == 1  # the good row is used
    (problem,) = log.problems
    assert problem.row == 3
    assert column in problem.column
    assert words in str(problem)


def test_all_problems_are_told_at_once():
    log = read_bytes((HEAD + "L01;x;13;9;12;75;maybe\nL02;16;y;9;12;75;ember\n").encode())
    assert [(p.row, p.column.split(" (")[0]) for p in log.problems] == [
        (2, "spindle diameter"),
        (2, "ended with"),
        (3, "downward force"),
    ]


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("16,5", 0.0165),
        ("5/8 in", 0.015875),
        ("0.63 in", 0.016002),
        ("1,6 cm", 0.016),
        ("'16", 0.016),
    ],
)
def test_a_number_is_read_as_people_write_it(text, value):
    log = read_bytes((HEAD + f"L01;{text};13;9;12;1:15;Ember\n").encode("utf-8-sig"))
    assert log.problems == ()
    assert log.tries[0].diameter == pytest.approx(value)
    assert log.tries[0].force == pytest.approx(57.8267, abs=1e-3)
    assert log.tries[0].time == 75.0


def test_a_comma_that_splits_a_number_is_pointed_out():
    log = read_bytes(b"diameter (mm),time (s),ended with\n16,5,75,ember\n")
    assert log.tries == ()
    assert "is a comma in a number?" in str(log.problems[0])


def test_a_heading_that_nobody_knows_is_told_with_what_to_write_instead():
    log = read_bytes(b"spindel diameter (mm),colour,time (s),ended with\n16,red,75,ember\n")
    near, far = map(str, log.warnings)
    assert "if you mean “spindle diameter (mm)”, write that" in near
    assert "can stand under “note”" in far
    assert len(log.tries) == 1


@pytest.mark.parametrize("column", ["diameter (mm)", "force"])
def test_a_heading_that_stands_twice_or_has_no_unit_is_not_guessed_at(column):
    log = read_bytes(f"diameter (mm),{column},time (s),ended with\n16,17,75,ember\n".encode())
    assert len(log.problems) == 1
    assert [one.diameter for one in log.tries] == ([None] if "mm" in column else [])


def test_a_name_and_a_value_out_of_the_usual_get_a_warning_and_are_read():
    log = read_bytes((HEAD + "Robin;16;90;9;12;75;ember\nL02;16;13;9;12;75;ember").encode())
    assert len(log.tries) == 2
    assert log.problems == ()
    told = [str(one) for one in log.warnings]
    assert [row.split(",")[0] for row in told] == ["Row 2", "Row 2", "Row 3: is the last"]
    assert "a name" in told[0]
    assert told[1].endswith("is unusual; is its unit that of the heading?")
    assert "all of the file" in told[2]


def test_what_is_no_log_is_refused_in_words(tmp_path):
    for data, words in [
        (b"", "empty"),
        (b"PK\x03\x04rest", "save it as CSV"),
        (bytes(range(256)), "no text file"),
        (b"some words\nmore", "no row of headings"),
        (b"x" * 20_000, "too long"),
        (b"time (s),ended with\n" * 200_000, "too large"),
    ]:
        with pytest.raises(LogError, match=words):
            read_bytes(data)
    with pytest.raises(LogError, match="cannot read"):
        read_log(tmp_path / "none.csv")


# ---- the invented evening ------------------------------------------------------------------------


def test_the_invented_evening_is_what_its_script_makes_and_says_that_it_is_invented():
    text = demo_log().read_text(encoding="utf-8")
    assert text == log_text(make_demo_log.evening(), make_demo_log.ABOUT)
    log = read_log(demo_log())
    assert log.problems == log.warnings == ()
    assert "INVENTED" in text
    assert {one.note for one in log.tries} == {"invented"}


def test_from_the_invented_evening_come_the_numbers_that_it_was_made_with():
    tries = read_log(demo_log()).tries
    given, left_out = fit_columns(tries, ("diameter", "force", "speed"))
    found = club_exponents(**given)
    assert left_out == 0
    assert set(found.powers) < set(CAUSES)
    for cause, power in found.powers.items():
        assert power.interval.low < make_demo_log.POWERS[cause] < power.interval.high
        assert power.agrees
    worn = [one for one in tries if one.burn_in_depth]
    power = depth_power([o.diameter for o in worn], worn=[o.burn_in_depth for o in worn])
    assert power.interval.low < make_demo_log.DEPTH_POWER < power.interval.high
    assert 3 <= sum(not one.observed for one in tries) < 8


# ---- writing -------------------------------------------------------------------------------------


def test_a_try_is_added_in_the_way_of_the_file_and_the_rest_stays_to_the_byte(tmp_path):
    for seed in range(60):
        data, tries, what, *_, spoil = mangled(seed)
        if (what, spoil) != (None, "plain"):
            continue
        path = tmp_path / f"{seed}.csv"
        path.write_bytes(data)
        before = read_log(path).tries
        add_try(path, tries[0])
        assert path.read_bytes().startswith(data)
        after = read_log(path)
        assert after.tries[:-1] == before
        assert unlike(after.tries[-1], tries[0]) == ""


def test_reading_leaves_a_file_as_it_was(tmp_path):
    path = new_log(tmp_path / "tries.csv")
    path.chmod(0o444)
    before = path.read_bytes(), path.stat().st_mtime_ns
    read_log(path)
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before
    assert new_log(path).read_bytes() == before[0]  # one that is there stays


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"learner": "Robin"}, "looks like a name"),
        ({"note": "=1+1"}, "formula"),
        ({"diameter": 16.0}, "Did you mean 16 mm"),
        ({"time": 1.0}, "5 to 1800 s"),
        ({"smoke_time": 80.0}, "later"),
        ({"ended": "maybe"}, "ember, gave up"),
    ],
)
def test_a_try_that_cannot_be_is_not_written(tmp_path, change, words):
    path = new_log(tmp_path / "tries.csv")
    before = path.read_bytes()
    with pytest.raises(InputError, match=words):
        add_try(path, TimedTry(**vars(ONE) | change))
    assert path.read_bytes() == before


def test_a_log_without_the_column_says_so(tmp_path):
    path = tmp_path / "tries.csv"
    path.write_text("time (s),ended with\n75,ember\n", encoding="utf-8")
    with pytest.raises(LogError, match="no column for learner, spindle diameter"):
        add_try(path, ONE)


@pytest.mark.parametrize("step", ["fsync", "replace"])
@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EACCES])
def test_a_full_disk_or_a_locked_folder_loses_nothing(tmp_path, monkeypatch, step, code):
    path = add_try(tmp_path / "tries.csv", ONE)
    before = path.read_bytes()

    def fails(*_):
        raise OSError(code, os.strerror(code))

    with monkeypatch.context() as patch:
        patch.setattr(writing.os, step, fails)
        with pytest.raises(LogError, match="as it was"):
            add_try(path, ONE)
    assert path.read_bytes() == before
    assert not list(tmp_path.glob("*.part"))
    assert not list(tmp_path.glob(".*.part"))


def test_a_folder_that_takes_no_files_or_is_not_there_is_told_in_words(tmp_path, monkeypatch):
    with pytest.raises(LogError, match="cannot write"):
        add_try(tmp_path / "none" / "tries.csv", ONE)
    path = add_try(tmp_path / "tries.csv", ONE)
    before = path.read_bytes()
    # The tests may run as somebody who may write everywhere.
    monkeypatch.setattr(writing.os, "access", lambda *_: False)
    with pytest.raises(LogError, match="takes no files"):
        add_try(path, ONE)
    assert path.read_bytes() == before


WRITER = """
import sys
from fireheat.trials.columns import TimedTry
from fireheat.trials.log import add_try
path, who, count = sys.argv[1:]
print("ready", flush=True)
for number in range(int(count)):
    add_try(path, TimedTry(time=20.0 + number, ended="ember", learner=who))
    print(number, flush=True)
"""


def writer(path, who, count):
    command = [sys.executable, "-c", WRITER, str(path), who, str(count)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def test_two_writers_at_once_lose_no_row_of_each_other(tmp_path):
    path = tmp_path / "tries.csv"
    both = [writer(path, who, 8) for who in ("L01", "L02")]
    for one in both:
        one.communicate(timeout=60)
        assert one.returncode == 0
    log = read_log(path)
    assert log.problems == ()
    for who in ("L01", "L02"):
        assert [o.time for o in log.tries if o.learner == who] == [20.0 + n for n in range(8)]


def test_a_writer_that_is_killed_at_any_moment_loses_no_row_that_it_wrote(tmp_path):
    path, dice, told = add_try(tmp_path / "tries.csv", ONE), random.Random(4), 1
    for _ in range(KILLS):
        one = writer(path, "L02", 10_000)
        rows = [one.stdout.readline() for _ in range(dice.randint(1, 3))][1:]
        time.sleep(dice.uniform(0.0, 0.03))
        one.send_signal(signal.SIGKILL if hasattr(signal, "SIGKILL") else signal.SIGTERM)
        rows += one.stdout.read().split()  # `communicate` would miss what is held in it
        one.communicate(timeout=60)
        log = read_log(path)
        assert log.problems == ()
        assert log.tries[0].learner == "L01"
        assert told + len(rows) <= len(log.tries) <= told + len(rows) + 1
        told = len(log.tries)
    assert told > 2
    assert len(list(tmp_path.glob(".*.part"))) <= 1  # the next writer takes it away
    add_try(path, ONE)
    assert not list(tmp_path.glob(".*.part"))
