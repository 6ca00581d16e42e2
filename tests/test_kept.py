"""What a reader asked to keep stays whole, whatever happens; and nothing else is written."""

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from fireheat import kept
from fireheat.kept import forget_kept, kept_folder, read_kept, write_kept
from fireheat.quantities import InputError


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    folder = tmp_path / "not yet" / "there"
    monkeypatch.setenv("FIREHEAT_HOME", str(folder))
    return folder


def test_what_is_kept_comes_back_and_can_be_forgotten(home):
    assert read_kept("units") == {}
    assert write_kept("units", {"system": "us", "lengths": [1, 2.5], "word": "Übung \ud800"})
    assert read_kept("units") == {"system": "us", "lengths": [1, 2.5], "word": "Übung \ud800"}
    assert write_kept("units", {"system": "metric"})
    assert read_kept("units") == {"system": "metric"}
    assert [path.name for path in home.iterdir()] == ["units.json"]
    assert forget_kept("units")
    assert forget_kept("units")
    assert read_kept("units") == {}


def test_reading_and_forgetting_write_nothing(home):
    read_kept("units")
    forget_kept("units")
    assert not home.exists()


def test_without_a_folder_named_it_is_where_this_computer_keeps_settings(monkeypatch, tmp_path):
    monkeypatch.delenv("FIREHEAT_HOME")
    for name in ("HOME", "APPDATA", "LOCALAPPDATA", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))
    assert kept_folder().name == "fireheat"
    if sys.platform == "linux":
        assert kept_folder() == tmp_path / "XDG_CONFIG_HOME" / "fireheat"


@pytest.mark.parametrize("damage", ["", "{", "[1]", "\udc00", "null", "[" * 100_000])
def test_a_damaged_file_counts_as_none_and_is_not_written_over(home, damage):
    write_kept("units", {"system": "us"})
    (home / "units.json").write_bytes(damage.encode("utf-8", "surrogatepass"))
    assert read_kept("units") == {}
    assert write_kept("units", {"system": "metric"})
    assert read_kept("units") == {"system": "metric"}
    assert (home / "units.damaged").read_bytes() == damage.encode("utf-8", "surrogatepass")


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_write_that_fails_half_way_leaves_what_was_there(home, monkeypatch, step):
    write_kept("units", {"system": "us"})

    def fail(*_):
        raise OSError("the disk is full")

    monkeypatch.setattr(kept.os, step, fail)
    assert not write_kept("units", {"system": "metric"})
    assert read_kept("units") == {"system": "us"}
    assert [path.name for path in home.iterdir()] == ["units.json"]


def test_a_file_in_the_place_of_the_folder_stops_nobody(home):
    home.parent.mkdir()
    home.write_text("not a folder")
    assert not write_kept("units", {"system": "us"})
    assert read_kept("units") == {}
    assert home.read_text() == "not a folder"


def test_a_folder_that_may_only_be_read_stops_nobody(home, monkeypatch):
    write_kept("units", {"system": "us"})

    def refuse(*_, **__):
        raise PermissionError("who runs tests as root may write everywhere, so it is said here")

    monkeypatch.setattr(kept.tempfile, "mkstemp", refuse)
    monkeypatch.setattr(kept.Path, "unlink", refuse)
    assert not write_kept("units", {"system": "metric"})
    assert not forget_kept("units")
    assert read_kept("units") == {"system": "us"}


def test_whoever_reads_while_two_write_finds_one_of_the_two_whole(home):
    words = {"one": "a" * 50_000, "two": "b" * 50_000}
    writer = "import sys; from fireheat.kept import write_kept\n"
    writer += "for _ in range(60): write_kept('units', {'word': sys.argv[1]})"
    writers = [subprocess.Popen([sys.executable, "-c", writer, word]) for word in words.values()]
    seen = set()
    while any(each.poll() is None for each in writers):
        if (home / "units.json").exists():
            seen.add(json.loads((home / "units.json").read_text())["word"])
    assert [each.returncode for each in writers] == [0, 0]
    assert seen <= set(words.values())
    assert [path.name for path in home.iterdir()] == ["units.json"]


@pytest.mark.parametrize("name", ["", "../units", "a b", "units.json", "é", None, 3])
def test_a_name_that_could_lead_elsewhere_is_refused(name):
    for call in (read_kept, forget_kept, lambda name: write_kept(name, {})):
        with pytest.raises(InputError, match="plain word"):
            call(name)


@pytest.mark.parametrize("value", [float("nan"), object(), {1j: 2}, b"bytes"])
def test_what_no_file_can_hold_is_refused_and_nothing_is_lost(value):
    write_kept("units", {"system": "us"})
    with pytest.raises(InputError, match="JSON"):
        write_kept("units", {"system": value})
    assert read_kept("units") == {"system": "us"}


def test_tests_keep_nothing_in_the_home_of_who_runs_them(monkeypatch):
    monkeypatch.undo()
    assert os.environ["FIREHEAT_HOME"].startswith(str(Path(tempfile.gettempdir()) / "fireheat-"))
