"""The command never loses a reader's work, and starts JupyterLab where it says."""

import contextlib
import errno
import json
import os
import re
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import nbformat
import pytest
from jupyter_core.paths import jupyter_config_dir, jupyter_data_dir, jupyter_runtime_dir

from fireheat import cli
from fireheat.launch.lab import (
    EXTENSIONS,
    HALL,
    PRESENT,
    WORKSPACE,
    fold_side_bars,
    lab_options,
    lend_folders,
    page_settings,
)
from fireheat.launch.notebooks import named_notebook
from fireheat.putting import RECORD, put_files
from fireheat.shipped import START, shipped_code, shipped_notebooks

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
    done = put_files(source, folder)
    assert done.written == [NAME]
    assert (folder / NAME).read_bytes() == (source / NAME).read_bytes()
    assert sorted(path.name for path in folder.iterdir()) == [RECORD, NAME]


def test_a_second_time_changes_nothing(source, folder):
    put_files(source, folder)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    done = put_files(source, folder)
    assert done.written == []
    assert done.beside == {}
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_a_notebook_the_reader_changed_is_kept_and_a_fresh_copy_put_beside_it(source, folder):
    put_files(source, folder)
    theirs = notebook("1 + 1", "my_own_idea = 2")
    (folder / NAME).write_bytes(theirs)
    done = put_files(source, folder)
    assert (folder / NAME).read_bytes() == theirs
    assert (folder / "00-start-here.new.ipynb").read_bytes() == (source / NAME).read_bytes()
    assert f"You changed {NAME}" in done.text("Notebooks")
    assert "00-start-here.new.ipynb" in done.text("Notebooks")


def test_a_notebook_that_was_there_before_us_is_kept(source, folder):
    folder.mkdir()
    (folder / NAME).write_bytes(b"not even a notebook")
    assert put_files(source, folder).beside == {NAME: "00-start-here.new.ipynb"}
    assert (folder / NAME).read_bytes() == b"not even a notebook"


def test_a_changed_fresh_copy_is_kept_too(source, folder):
    folder.mkdir()
    for number, name in enumerate((NAME, "00-start-here.new.ipynb")):
        (folder / name).write_bytes(notebook(f"mine = {number}"))
    assert put_files(source, folder).beside == {NAME: "00-start-here.new-2.ipynb"}
    for number, name in enumerate((NAME, "00-start-here.new.ipynb")):
        assert (folder / name).read_bytes() == notebook(f"mine = {number}")


def test_an_untouched_notebook_is_brought_up_to_date(source, folder):
    put_files(source, folder)
    (source / NAME).write_bytes(notebook("1 + 2"))
    done = put_files(source, folder)
    assert done.written == [NAME]
    assert done.beside == {}
    assert (folder / NAME).read_bytes() == notebook("1 + 2")


def test_an_untouched_fresh_copy_is_brought_up_to_date(source, folder):
    put_files(source, folder)
    (folder / NAME).write_bytes(notebook("mine"))
    put_files(source, folder)
    (source / NAME).write_bytes(notebook("1 + 2"))
    assert put_files(source, folder).beside == {NAME: "00-start-here.new.ipynb"}
    assert (folder / "00-start-here.new.ipynb").read_bytes() == notebook("1 + 2")
    assert (folder / NAME).read_bytes() == notebook("mine")


def test_a_notebook_that_was_only_run_is_left_alone(source, folder):
    put_files(source, folder)
    (folder / NAME).write_bytes(notebook("1 + 1", count=7))
    done = put_files(source, folder)
    assert (done.written, done.beside) == ([], {})
    assert (folder / NAME).read_bytes() == notebook("1 + 1", count=7)


def test_new_outputs_reach_an_untouched_notebook(source, folder):
    put_files(source, folder)
    (source / NAME).write_bytes(notebook("1 + 1", count=1))
    assert put_files(source, folder).written == [NAME]
    assert (folder / NAME).read_bytes() == notebook("1 + 1", count=1)


def test_a_folder_in_the_way_is_kept(source, folder):
    (folder / NAME).mkdir(parents=True)
    assert put_files(source, folder).beside == {NAME: "00-start-here.new.ipynb"}
    assert (folder / NAME).is_dir()


def test_a_notebook_that_was_only_run_is_brought_up_to_date_by_the_next_version(source, folder):
    put_files(source, folder)
    (folder / NAME).write_bytes(notebook("1 + 1", count=7, version=2))
    (source / NAME).write_bytes(notebook("1 + 2"))
    done = put_files(source, folder)
    assert (done.written, done.beside) == ([NAME], {})
    assert (folder / NAME).read_bytes() == notebook("1 + 2")


def test_a_notebook_run_and_changed_is_kept_when_the_next_version_comes(source, folder):
    put_files(source, folder)
    theirs = notebook("1 + 1", "mine = 3", count=7)
    (folder / NAME).write_bytes(theirs)
    (source / NAME).write_bytes(notebook("1 + 2"))
    assert put_files(source, folder).beside == {NAME: "00-start-here.new.ipynb"}
    assert (folder / NAME).read_bytes() == theirs


def test_a_run_notebook_with_no_record_beside_it_counts_as_ours_from_then_on(source, folder):
    folder.mkdir()
    (folder / NAME).write_bytes(notebook("1 + 1", count=7))
    put_files(source, folder)
    (source / NAME).write_bytes(notebook("1 + 2"))
    assert put_files(source, folder).beside == {}
    assert (folder / NAME).read_bytes() == notebook("1 + 2")


class Killed(BaseException):
    """As if the power went."""


@pytest.mark.parametrize("files", [0, 1, 2])
@pytest.mark.parametrize("second_version_cut", [False, True])
def test_after_a_cut_off_copy_the_next_version_blames_nobody(
    source, folder, monkeypatch, files, second_version_cut
):
    (source / "01-next.ipynb").write_bytes(notebook("2 + 2"))
    if second_version_cut:
        put_files(source, folder)
        (source / NAME).write_bytes(notebook("1 + 3"))
        (source / "01-next.ipynb").write_bytes(notebook("2 + 3"))
    replace, replaced = os.replace, []

    def power_cut(draft, path):
        if path.suffix == ".ipynb":
            replaced.append(path)
            if len(replaced) > files:
                raise Killed
        replace(draft, path)

    with monkeypatch.context() as patch, contextlib.suppress(Killed):
        patch.setattr(os, "replace", power_cut)
        put_files(source, folder)
    for name in (NAME, "01-next.ipynb"):
        (source / name).write_bytes(notebook("3 + 3"))
    assert put_files(source, folder).beside == {}
    assert (folder / NAME).read_bytes() == notebook("3 + 3")


def test_starts_at_the_same_moment_do_not_fail_each_other_and_the_record_is_whole(
    source, folder, tmp_path
):
    for number in range(20):
        (source / f"{number:02}.ipynb").write_bytes(notebook(f"{number} + 1"))
    go = tmp_path / "go"
    start = (
        "import sys, time; from pathlib import Path\n"
        "from fireheat.putting import put_files\n"
        "source, folder, go = map(Path, sys.argv[1:])\n"
        "(go.parent / f'ready-{time.time_ns()}').touch()\n"
        "while not go.exists(): time.sleep(0.001)\n"
        "for _ in range(10): put_files(source, folder)\n"
    )
    command = [sys.executable, "-c", start, str(source), str(folder), str(go)]
    started = [subprocess.Popen(command, stderr=subprocess.PIPE, text=True) for _ in range(4)]
    while len(list(tmp_path.glob("ready-*"))) < len(started):
        time.sleep(0.01)
    go.touch()
    assert [(each.communicate()[1], each.returncode) for each in started] == [("", 0)] * 4
    assert list(folder.glob(".*.part")) == []
    for path in source.glob("*.ipynb"):
        path.write_bytes(notebook("changed"))
    assert put_files(source, folder).beside == {}


def test_a_file_that_another_start_has_just_put_there_is_no_failure(source, folder, monkeypatch):
    def locked(draft, path):  # as Windows does while the other still holds the file
        path.write_bytes(draft.read_bytes())
        raise PermissionError("in use")

    monkeypatch.setattr(os, "replace", locked)
    put_files(source, folder)
    assert (folder / NAME).read_bytes() == notebook("1 + 1")


def test_drafts_that_a_killed_start_left_are_gone_after_the_next(source, folder, monkeypatch):
    (source / "images").mkdir()
    (source / "images" / "tip.png").write_bytes(b"a picture")
    put_files(source, folder)
    (folder / NAME).write_bytes(notebook("mine"))
    for path in source.rglob("*.*"):
        path.write_bytes(notebook("1 + 2"))
    left = []

    def killed(draft, path):
        left.append(draft)
        draft.with_name(f"{draft.name}.kept").write_bytes(draft.read_bytes())
        replace(draft, path)

    replace = os.replace
    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", killed)
        put_files(source, folder)
    assert {path.parent.name for path in left} == {folder.name, "images"}
    for draft in left:
        draft.with_name(f"{draft.name}.kept").replace(draft)
    done = put_files(source, folder)
    assert done.written == []
    assert [draft for draft in left if draft.exists()] == []


def test_a_draft_that_another_start_cleared_away_is_written_again(source, folder, monkeypatch):
    replace, swept = os.replace, []

    def sweep_first(draft, path):
        if path.name not in swept:
            swept.append(path.name)
            draft.unlink()
        replace(draft, path)

    monkeypatch.setattr(os, "replace", sweep_first)
    assert put_files(source, folder).written == [NAME]
    assert swept == [RECORD, NAME]
    assert (folder / NAME).read_bytes() == notebook("1 + 1")


def test_drafts_that_are_always_cleared_away_end_in_an_error(source, folder, monkeypatch):
    replace = os.replace

    def sweep_first(draft, path):
        draft.unlink()
        replace(draft, path)

    monkeypatch.setattr(os, "replace", sweep_first)
    with pytest.raises(FileNotFoundError):
        put_files(source, folder)


def read_only(monkeypatch):
    """Let nothing be written; taking away the right would not hold for root."""

    def refuse(path, *_, **__):
        raise OSError(errno.EROFS, "Read-only file system", str(path))

    for name in ("write_bytes", "write_text"):
        monkeypatch.setattr(Path, name, refuse)


@pytest.mark.parametrize("with_record", [True, False])
def test_a_whole_folder_that_cannot_be_written_opens(source, folder, monkeypatch, with_record):
    put_files(source, folder)
    if not with_record:
        (folder / RECORD).unlink()
    with monkeypatch.context() as patch:
        read_only(patch)
        done = put_files(source, folder)
    assert (done.written, done.beside) == ([], {})


def test_a_folder_that_lacks_a_notebook_and_cannot_be_written_is_refused(
    source, folder, monkeypatch
):
    put_files(source, folder)
    (folder / NAME).unlink()
    read_only(monkeypatch)
    with pytest.raises(OSError, match="Read-only"):
        put_files(source, folder)


@pytest.mark.parametrize("record", ["", "[]", '{"put": 3}', '{"put": {"00-start-here.ipynb": 1}}'])
def test_a_spoilt_record_makes_every_file_the_readers(source, folder, record):
    put_files(source, folder)
    (folder / RECORD).write_text(record)
    (source / NAME).write_bytes(notebook("1 + 2"))
    assert put_files(source, folder).beside == {NAME: "00-start-here.new.ipynb"}
    assert (folder / NAME).read_bytes() == notebook("1 + 1")


def test_a_write_that_fails_leaves_the_old_file_whole(source, folder, monkeypatch):
    put_files(source, folder)
    (source / NAME).write_bytes(notebook("1 + 2"))

    def full_disk(*_):
        raise OSError("no space left")

    monkeypatch.setattr(os, "replace", full_disk)
    with pytest.raises(OSError, match="no space"):
        put_files(source, folder)
    assert (folder / NAME).read_bytes() == notebook("1 + 1")
    assert [path.name for path in folder.iterdir() if path.name.endswith(".part")] == []


def test_the_code_that_may_run_by_itself_is_that_of_every_shipped_notebook():
    code = shipped_code()
    assert sorted(code) == sorted(path.name for path in shipped_notebooks().glob("*.ipynb"))
    for name, sources in code.items():
        cells = nbformat.read(shipped_notebooks() / name, as_version=4).cells
        assert sources == [cell.source for cell in cells if cell.cell_type == "code"]


@pytest.mark.parametrize("name", ["fireheat-wake", "fireheat-present"])
def test_our_scripts_in_the_page_are_where_the_server_looks(name):
    package = EXTENSIONS / name / "package.json"
    told = json.loads(package.read_text(encoding="utf-8"))
    assert told["name"] == name
    script = package.parent / told["jupyterlab"]["_build"]["load"]
    words = script.read_text(encoding="utf-8")
    assert f"_JUPYTERLAB['{name}']" in words
    assert f"id: '{name}:plugin'" in words
    for sheet in re.findall(r"'(\w+\.css)'", words):
        assert (script.parent / sheet).is_file()


def test_the_page_is_told_the_title_of_every_shipped_notebook_and_where_to_begin(monkeypatch):
    monkeypatch.delenv(PRESENT, raising=False)
    told = page_settings()
    first, *others = (name for name, _ in told["fireheatTitles"])
    assert first == START
    assert sorted(others) == others
    assert {first, *others} == {*shipped_code()}
    for name, title in told["fireheatTitles"]:
        first = nbformat.read(shipped_notebooks() / name, as_version=4).cells[0].source
        assert first.startswith(f"# {title}\n")
    assert "fireheatPresent" not in told
    monkeypatch.setenv(PRESENT, NAME)
    assert page_settings()["fireheatPresent"] == NAME


def run(*words, cwd, timeout=None, **environment):
    """Run the command as a reader would."""
    return subprocess.run(
        [sys.executable, "-m", "fireheat", *words],
        cwd=cwd,
        capture_output=True,
        text=True,
        timeout=timeout,
        env={**os.environ, **environment},
    )


def at_home(folder):
    """Environment in which Jupyter keeps its own things in a folder."""
    kept = ("CONFIG", "DATA", "RUNTIME")
    return {**os.environ, **{f"JUPYTER_{word}_DIR": str(folder / word) for word in kept}}


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


@pytest.mark.parametrize("name", ["~nobody-of-that-name", "loop/notebooks"])
def test_a_folder_that_leads_nowhere_is_said_in_one_line(tmp_path, name):
    (tmp_path / "loop").symlink_to("loop")
    done = run("learn", name, "--copy-only", cwd=tmp_path)
    assert done.returncode == 1
    assert done.stderr.startswith("fireheat: cannot put notebooks there:")
    assert done.stderr.count("\n") == 1


def test_a_folder_lost_under_our_feet_is_said_in_one_line(tmp_path):
    lost = tmp_path / "lost"
    lost.mkdir()
    start = "import os, sys; os.rmdir(os.getcwd()); from fireheat.cli import main; sys.exit(main())"
    done = subprocess.run(
        [sys.executable, "-c", start, "learn", "--copy-only"],
        cwd=lost,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 1
    assert done.stderr.startswith("fireheat: cannot put notebooks there:")
    assert done.stderr.count("\n") == 1


@pytest.mark.parametrize("odd", ["fifo", "folder", "link to itself"])
def test_a_record_that_is_no_file_ends_in_words_and_not_in_waiting(tmp_path, odd):
    make = {
        "fifo": os.mkfifo,
        "folder": Path.mkdir,
        "link to itself": lambda path: path.symlink_to(path.name),
    }
    make[odd](tmp_path / RECORD)
    done = run("learn", "--copy-only", cwd=tmp_path, timeout=60)
    assert done.returncode == (1 if odd == "folder" else 0)
    assert done.stderr.count("\n") == done.returncode


@pytest.mark.parametrize("extra", [[], ["--no-browser"]])
def test_words_that_nobody_reads_stop_nothing(tmp_path, extra):
    start = (
        "import sys, jupyterlab.labapp as app; from fireheat.cli import main\n"
        "app.main = lambda words: None\n"
        "sys.exit(main())"
    )
    command = [sys.executable, "-c", start, "learn", *(extra or ["--copy-only"])]
    quiet, loud = os.pipe()
    os.close(quiet)  # as in: fireheat learn | head -0
    done = subprocess.run(
        command, cwd=tmp_path, stdout=loud, stderr=subprocess.PIPE, env=at_home(tmp_path)
    )
    os.close(loud)
    assert (done.returncode, done.stderr) == (0, b"")
    assert (tmp_path / NAME).is_file()


def test_stopping_it_while_it_starts_ends_without_an_outcry(tmp_path, monkeypatch, capsys):
    def stopped(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(cli, "_prepare", stopped)
    assert cli.main(["learn", str(tmp_path)]) == 130
    assert capsys.readouterr().err == ""


def test_a_jupyterlab_that_cannot_start_says_so_in_one_line(tmp_path, monkeypatch, capsys):
    def refuse(_):
        raise OSError(errno.EROFS, "Read-only file system", "runtime")

    monkeypatch.setattr("jupyterlab.labapp.main", refuse)
    monkeypatch.setattr(cli, "_prepare", lambda folder: folder)
    for name, value in at_home(tmp_path).items():
        monkeypatch.setenv(name, value)
    assert cli.main(["learn", str(tmp_path)]) == 1
    said = capsys.readouterr().err
    assert said.startswith("fireheat: JupyterLab cannot start:")
    assert said.count("\n") == 1


@pytest.mark.parametrize("port", ["0", "-1", "65536", "70000", "eight"])
def test_a_port_that_cannot_be_is_refused_in_one_clear_line(tmp_path, port):
    done = run("learn", f"--port={port}", "--copy-only", cwd=tmp_path)
    assert done.returncode == 2
    assert "argument --port: a port is a number from 1 to 65535" in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_folder_name_that_the_terminal_cannot_show_stops_nothing(tmp_path):
    done = run("learn", "火 kit", "--copy-only", cwd=tmp_path, PYTHONIOENCODING="ascii")
    assert (done.returncode, done.stderr) == (0, "")
    assert "? kit" in done.stdout
    assert (tmp_path / "火 kit" / NAME).is_file()


def test_help_tells_a_newcomer_what_to_type_and_what_to_mind(tmp_path):
    for words in ([], ["--help"]):
        said = run(*words, cwd=tmp_path)
        assert said.returncode == 0
        assert "fireheat learn" in said.stdout
        assert "fireheat present" in said.stdout
        assert "adult" in said.stdout
    assert "never overwritten" in run("learn", "--help", cwd=tmp_path).stdout


def test_an_unknown_word_is_refused(tmp_path):
    assert run("burn", cwd=tmp_path).returncode == 2
    assert run("learn", "--prot", "1", cwd=tmp_path).returncode == 2


def test_jupyterlab_starts_in_the_folder_on_the_front_page(tmp_path):
    options = lab_options(tmp_path / "a b", browser=False, port=8123)
    assert f"--ServerApp.root_dir={tmp_path / 'a b'}" in options
    assert any(option.endswith(f"/tree/{START}") for option in options)
    assert "--no-browser" in options
    assert "--ServerApp.port=8123" in options


def test_root_is_allowed_only_when_we_are_root(tmp_path, monkeypatch):
    for user in (0, 1000):
        monkeypatch.setattr(os, "geteuid", lambda user=user: user, raising=False)
        assert ("--allow-root" in lab_options(tmp_path)) == (user == 0)
    monkeypatch.delattr(os, "geteuid")  # as on Windows
    assert "--allow-root" not in lab_options(tmp_path)


@pytest.mark.parametrize("word", ["03", "03-what", "03-what-moves-the-time.ipynb"])
def test_a_notebook_is_named_whole_or_as_it_begins(word):
    assert named_notebook(word) == "03-what-moves-the-time.ipynb"


@pytest.mark.parametrize("word", ["", "0", "what", "99"])
def test_a_name_of_no_notebook_or_of_several_is_refused_with_those_there_are(word, tmp_path):
    done = run("present", ".", word, cwd=tmp_path)
    assert done.returncode == 2
    assert NAME in done.stderr.splitlines()[-1]
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(("words", "name"), [([], START), (["05"], "05-press-and-speed.ipynb")])
def test_presenting_begins_with_the_notebook_that_was_asked_for(
    words, name, tmp_path, workspaces, monkeypatch
):
    seen = {}
    monkeypatch.setattr("jupyterlab.labapp.main", lambda words: seen.update(words=words))
    monkeypatch.setenv("JUPYTER_CONFIG_PATH", "")
    monkeypatch.setenv(PRESENT, "another")
    fold_side_bars(HALL)
    (path,) = workspaces.iterdir()
    path.write_text('{"data": {"tabs": "of last week"}, "metadata": {"id": "fireheat-hall"}}')
    assert cli.main(["present", str(tmp_path / "hall"), *words]) == 0
    assert (tmp_path / "hall" / name).is_file()
    assert any(word.endswith(f"/workspaces/{HALL}/tree/{name}") for word in seen["words"])
    assert page_settings()["fireheatPresent"] == name
    assert list(layouts(workspaces)[HALL]) == ["layout-restorer:data"]
    assert cli.main(["learn", str(tmp_path / "hall")]) == 0
    assert "fireheatPresent" not in page_settings()


def test_one_word_alone_is_a_notebook_of_ours_or_else_a_folder(tmp_path, monkeypatch):
    seen = []
    monkeypatch.setattr(cli, "_prepare", lambda folder: folder)
    monkeypatch.setattr(
        cli, "open_lab", lambda folder, **how: seen.append((folder, how["present"]))
    )
    monkeypatch.chdir(tmp_path)
    cli.main(["present", "03"])
    (tmp_path / "03").mkdir()
    cli.main(["present", "03"])
    cli.main(["present", "hall"])
    third = "03-what-moves-the-time.ipynb"
    assert seen == [(tmp_path, third), (tmp_path / "03", START), (tmp_path / "hall", START)]


@pytest.fixture
def workspaces(tmp_path, monkeypatch):
    """Folder where JupyterLab keeps layouts."""
    monkeypatch.setenv("JUPYTERLAB_WORKSPACES_DIR", str(tmp_path / "workspaces"))
    return tmp_path / "workspaces"


def layouts(workspaces):
    """Each layout kept there, by its name."""
    kept = [json.loads(path.read_bytes()) for path in sorted(workspaces.iterdir())]
    return {layout["metadata"]["id"].strip("/"): layout["data"] for layout in kept}


def test_the_side_bars_are_away_once_and_the_readers_layout_is_kept_after_that(workspaces):
    fold_side_bars()
    layout = layouts(workspaces)[WORKSPACE]["layout-restorer:data"]
    assert [(layout[at]["collapsed"], layout[at]["visible"]) for at in ("left", "right")] == [
        (True, False)
    ] * 2
    (path,) = workspaces.iterdir()
    path.write_text('{"data": {"layout-restorer:data": {}}, "metadata": {"id": "/fireheat"}}')
    fold_side_bars()
    assert layouts(workspaces) == {WORKSPACE: {"layout-restorer:data": {}}}


@pytest.mark.parametrize("damaged", [b"", b'{"data": {', b'{"data": {}}', b"[]", b"\xff"])
def test_a_damaged_layout_of_another_page_changes_nothing(workspaces, damaged):
    workspaces.mkdir()
    other = workspaces / "default-37a8.jupyterlab-workspace"
    other.write_bytes(damaged)
    fold_side_bars()
    assert other.read_bytes() == damaged
    other.unlink()
    assert layouts(workspaces)[WORKSPACE]["layout-restorer:data"]["left"]["collapsed"]


@pytest.mark.parametrize("damaged", [b"", b'{"data": {', b'{"data": {}}', b"[]", b"\xff"])
def test_a_damaged_layout_of_our_own_is_made_anew(workspaces, damaged):
    fold_side_bars()
    (path,) = workspaces.iterdir()
    path.write_bytes(damaged)
    fold_side_bars()
    assert layouts(workspaces)[WORKSPACE]["layout-restorer:data"]["left"]["collapsed"]


def test_a_home_that_cannot_be_written_does_not_stop_the_start(workspaces):
    workspaces.write_text("a file where the folder should be")
    fold_side_bars()
    assert workspaces.read_text() == "a file where the folder should be"


@pytest.fixture
def home(tmp_path, monkeypatch):
    """Home folder of a reader, with nothing in it; whatever Jupyter is lent is given back."""
    for word in ("CONFIG", "DATA", "RUNTIME"):
        monkeypatch.setenv(f"JUPYTER_{word}_DIR", "")
    for word in ("HOME", "USERPROFILE", "APPDATA"):
        monkeypatch.setenv(word, str(tmp_path / "home"))
    for word in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_RUNTIME_DIR"):
        monkeypatch.delenv(word, raising=False)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    return tmp_path / "home"


def test_a_home_that_can_hold_nothing_is_lent_folders_that_can(home):
    home.write_text("a file where the home should be")
    lend_folders()
    places = [jupyter_config_dir(), jupyter_data_dir(), jupyter_runtime_dir()]
    assert [place for place in places if not os.access(place, os.W_OK)] == []
    assert [place for place in places if Path(place).is_relative_to(home)] == []


def test_a_home_as_usual_is_lent_nothing(home):
    lend_folders()
    places = [jupyter_config_dir(), jupyter_data_dir(), jupyter_runtime_dir()]
    assert [place for place in places if not Path(place).is_relative_to(home)] == []


def test_settings_of_a_reader_that_cannot_be_written_are_read_all_the_same(home, monkeypatch):
    (home / ".jupyter").mkdir(parents=True)
    can = os.access
    monkeypatch.setattr(
        os, "access", lambda path, how: home not in Path(path).parents and can(path, how)
    )
    lend_folders()
    assert Path(jupyter_config_dir()).is_relative_to(home)
    assert not Path(jupyter_data_dir()).is_relative_to(home)


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
    for path in (repository / "fireheat" / "jupyter").rglob("*"):
        if path.is_file() and "__pycache__" not in path.parts:
            assert path.relative_to(repository).as_posix() in inside
    assert "fireheat/jupyter/jupyter_server_config.py" in inside
    assert "fireheat/jupyter/labconfig/default_setting_overrides.json" in inside
    assert any(re.fullmatch(r"fireheat-.*dist-info/licenses/LICENSE", name) for name in inside)
    assert not any(name.startswith("tests/") for name in inside)
