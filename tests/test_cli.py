"""The command never loses a reader's work, and starts JupyterLab where it says."""

import json
import os
import re
import subprocess
import sys
import zipfile

import pytest

from fireheat import cli
from fireheat.launch.lab import lab_options
from fireheat.launch.notebooks import RECORD, put_notebooks, shipped_notebooks

NAME = "00-start-here.ipynb"


def notebook(*sources, count=None, version=1):
    """Bytes of a small notebook; ``count`` tells one that has been run."""
    common = {"cell_type": "code", "metadata": {}, "outputs": [], "execution_count": count}
    cells = [{**common, "source": [source]} for source in sources]
    return json.dumps({"cells": cells, "metadata": {"version": version}}).encode()


@pytest.fixture
def source(tmp_path):
    """Folder of what the library ships."""
    folder = tmp_path / "shipped"
    folder.mkdir()
    (folder / NAME).write_bytes(notebook("1 + 1"))
    (folder / ".hidden").write_bytes(b"")
    return folder


@pytest.fixture
def folder(tmp_path):
    """Folder of the reader: its name has a space and a letter beyond ASCII."""
    return tmp_path / "my fire café"


def test_notebooks_are_put_into_an_empty_folder(source, folder):
    done = put_notebooks(source, folder)
    assert done.written == [NAME]
    assert (folder / NAME).read_bytes() == (source / NAME).read_bytes()
    assert sorted(path.name for path in folder.iterdir()) == [RECORD, NAME]


def test_a_second_time_changes_nothing(source, folder):
    put_notebooks(source, folder)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    done = put_notebooks(source, folder)
    assert done.written == []
    assert done.beside == {}
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_a_notebook_the_reader_changed_is_kept_and_a_fresh_copy_put_beside_it(source, folder):
    put_notebooks(source, folder)
    theirs = notebook("1 + 1", "my_own_idea = 2")
    (folder / NAME).write_bytes(theirs)
    done = put_notebooks(source, folder)
    assert (folder / NAME).read_bytes() == theirs
    assert (folder / "00-start-here.new.ipynb").read_bytes() == (source / NAME).read_bytes()
    assert f"You changed {NAME}" in done.text()
    assert "00-start-here.new.ipynb" in done.text()


def test_a_notebook_that_was_there_before_us_is_kept(source, folder):
    folder.mkdir()
    (folder / NAME).write_bytes(b"not even a notebook")
    assert put_notebooks(source, folder).beside == {NAME: "00-start-here.new.ipynb"}
    assert (folder / NAME).read_bytes() == b"not even a notebook"


def test_a_changed_fresh_copy_is_kept_too(source, folder):
    folder.mkdir()
    for number, name in enumerate((NAME, "00-start-here.new.ipynb")):
        (folder / name).write_bytes(notebook(f"mine = {number}"))
    assert put_notebooks(source, folder).beside == {NAME: "00-start-here.new-2.ipynb"}
    for number, name in enumerate((NAME, "00-start-here.new.ipynb")):
        assert (folder / name).read_bytes() == notebook(f"mine = {number}")


def test_an_untouched_notebook_is_brought_up_to_date(source, folder):
    put_notebooks(source, folder)
    (source / NAME).write_bytes(notebook("1 + 2"))
    done = put_notebooks(source, folder)
    assert done.written == [NAME]
    assert done.beside == {}
    assert (folder / NAME).read_bytes() == notebook("1 + 2")


def test_an_untouched_fresh_copy_is_brought_up_to_date(source, folder):
    put_notebooks(source, folder)
    (folder / NAME).write_bytes(notebook("mine"))
    put_notebooks(source, folder)
    (source / NAME).write_bytes(notebook("1 + 2"))
    assert put_notebooks(source, folder).beside == {NAME: "00-start-here.new.ipynb"}
    assert (folder / "00-start-here.new.ipynb").read_bytes() == notebook("1 + 2")
    assert (folder / NAME).read_bytes() == notebook("mine")


def test_a_notebook_that_was_only_run_is_left_alone(source, folder):
    put_notebooks(source, folder)
    (folder / NAME).write_bytes(notebook("1 + 1", count=7))
    done = put_notebooks(source, folder)
    assert (done.written, done.beside) == ([], {})
    assert (folder / NAME).read_bytes() == notebook("1 + 1", count=7)


def test_new_outputs_reach_an_untouched_notebook(source, folder):
    put_notebooks(source, folder)
    (source / NAME).write_bytes(notebook("1 + 1", count=1))
    assert put_notebooks(source, folder).written == [NAME]
    assert (folder / NAME).read_bytes() == notebook("1 + 1", count=1)


def test_a_folder_in_the_way_is_kept(source, folder):
    (folder / NAME).mkdir(parents=True)
    assert put_notebooks(source, folder).beside == {NAME: "00-start-here.new.ipynb"}
    assert (folder / NAME).is_dir()


def test_a_notebook_that_was_run_and_is_now_out_of_date_is_kept(source, folder):
    put_notebooks(source, folder)
    (folder / NAME).write_bytes(notebook("1 + 1", count=7))
    (source / NAME).write_bytes(notebook("1 + 2"))
    assert put_notebooks(source, folder).beside == {NAME: "00-start-here.new.ipynb"}
    assert (folder / NAME).read_bytes() == notebook("1 + 1", count=7)


@pytest.mark.parametrize("record", ["", "[]", '{"put": 3}', '{"put": {"00-start-here.ipynb": 1}}'])
def test_a_spoilt_record_makes_every_file_the_readers(source, folder, record):
    put_notebooks(source, folder)
    (folder / RECORD).write_text(record)
    (source / NAME).write_bytes(notebook("1 + 2"))
    assert put_notebooks(source, folder).beside == {NAME: "00-start-here.new.ipynb"}
    assert (folder / NAME).read_bytes() == notebook("1 + 1")


def test_a_write_that_fails_leaves_the_old_file_whole(source, folder, monkeypatch):
    put_notebooks(source, folder)
    (source / NAME).write_bytes(notebook("1 + 2"))

    def full_disk(*_):
        raise OSError("no space left")

    monkeypatch.setattr(os, "replace", full_disk)
    with pytest.raises(OSError, match="no space"):
        put_notebooks(source, folder)
    assert (folder / NAME).read_bytes() == notebook("1 + 1")
    assert [path.name for path in folder.iterdir() if path.name.endswith(".part")] == []


def run(*words, cwd):
    """Run the command as a reader would."""
    return subprocess.run(
        [sys.executable, "-m", "fireheat", *words], cwd=cwd, capture_output=True, text=True
    )


def test_learn_puts_every_shipped_notebook_here_when_no_folder_is_named(tmp_path):
    done = run("learn", "--copy-only", cwd=tmp_path)
    assert done.returncode == 0
    shipped = {path.name for path in shipped_notebooks().glob("*.ipynb")}
    assert NAME in shipped
    assert {path.name for path in tmp_path.glob("*.ipynb")} == shipped
    assert str(tmp_path) in done.stdout


def test_in_a_clone_its_own_notebooks_are_used_in_place(repository):
    before = sorted(repository.iterdir())
    done = run("learn", "--copy-only", cwd=repository)
    assert done.stdout.strip().endswith(str(repository / "notebooks"))
    assert sorted(repository.iterdir()) == before
    assert not (repository / "notebooks" / RECORD).exists()


def test_a_folder_that_cannot_be_made_is_said_plainly(tmp_path):
    (tmp_path / "file").write_text("in the way")
    done = run("learn", "file", "--copy-only", cwd=tmp_path)
    assert done.returncode == 1
    assert done.stderr.startswith("fireheat: cannot put notebooks there:")


def test_help_tells_a_newcomer_what_to_type_and_what_to_mind(tmp_path):
    for words in ([], ["--help"]):
        said = run(*words, cwd=tmp_path)
        assert said.returncode == 0
        assert "fireheat learn" in said.stdout
        assert "adult" in said.stdout
    assert "never overwritten" in run("learn", "--help", cwd=tmp_path).stdout


def test_an_unknown_word_is_refused(tmp_path):
    assert run("burn", cwd=tmp_path).returncode == 2
    assert run("learn", "--prot", "1", cwd=tmp_path).returncode == 2


def test_jupyterlab_starts_in_the_folder_on_the_first_notebook(tmp_path):
    options = lab_options(tmp_path / "a b", browser=False, port=8123)
    assert f"--ServerApp.root_dir={tmp_path / 'a b'}" in options
    assert any(option.endswith(f"/tree/{NAME}") for option in options)
    assert "--no-browser" in options
    assert "--ServerApp.port=8123" in options


def test_root_is_allowed_only_when_we_are_root(tmp_path, monkeypatch):
    for user in (0, 1000):
        monkeypatch.setattr(os, "geteuid", lambda user=user: user, raising=False)
        assert ("--allow-root" in lab_options(tmp_path)) == (user == 0)
    monkeypatch.delattr(os, "geteuid")  # as on Windows
    assert "--allow-root" not in lab_options(tmp_path)


def test_words_after_two_dashes_go_to_jupyterlab_and_the_readers_settings_stay(monkeypatch):
    seen = {}
    monkeypatch.setattr("jupyterlab.labapp.main", lambda words: seen.update(words=words))
    monkeypatch.setattr(cli, "_prepare", lambda folder: folder)
    monkeypatch.setenv("JUPYTER_CONFIG_PATH", "theirs")
    assert cli.main(["learn", "--no-browser", "--", "--ServerApp.ip=0.0.0.0"]) == 0
    assert seen["words"][-1] == "--ServerApp.ip=0.0.0.0"
    ours, theirs = os.environ["JUPYTER_CONFIG_PATH"].split(os.pathsep)
    assert theirs == "theirs"
    assert os.listdir(ours) >= ["jupyter_server_config.py", "labconfig"]


def test_the_wheel_carries_the_notebooks_the_tables_and_the_settings(repository, tmp_path):
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)],
        cwd=repository,
        check=True,
        capture_output=True,
    )
    (wheel,) = tmp_path.glob("*.whl")
    inside = set(zipfile.ZipFile(wheel).namelist())
    for folder, ending in (("notebooks", "ipynb"), ("fireheat", "py"), ("fireheat/data", "toml")):
        for path in (repository / folder).glob(f"*.{ending}"):
            home = "fireheat/notebooks" if folder == "notebooks" else folder
            assert f"{home}/{path.name}" in inside
    assert "fireheat/jupyter/jupyter_server_config.py" in inside
    assert "fireheat/jupyter/labconfig/default_setting_overrides.json" in inside
    assert any(re.fullmatch(r"fireheat-.*dist-info/licenses/LICENSE", name) for name in inside)
    assert not any(name.startswith("tests/") for name in inside)
