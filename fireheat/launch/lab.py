"""Start JupyterLab with the settings that the notebooks need."""

import json
import os
import sys
import tempfile
from contextlib import suppress
from pathlib import Path
from typing import Any

from ..shipped import START, shipped_code, shipped_titles

WORKSPACE = "fireheat"
HALL = "fireheat-hall"  # a workspace: no tab of another evening stands behind the screen
PRESENT = "FIREHEAT_PRESENT"  # environment: the notebook that pages open on, large
SETTINGS = Path(__file__).parents[1] / "jupyter"
EXTENSIONS = SETTINGS / "labextensions"


def open_lab(
    folder: Path,
    *,
    browser: bool,
    port: int | None,
    extra: list[str],
    present: str | None = None,
) -> int:
    """Run JupyterLab in this process until the reader stops it.

    Parameters
    ----------
    folder : Path
        Where the notebooks are.
    browser : bool
        Whether to open the reader's browser.
    port : int or None
        Port to listen on; JupyterLab's choice if none.
    extra : list of str
        More words for JupyterLab.
    present : str, optional
        Notebook to show in a hall, as soon as the page opens.

    Returns
    -------
    int
        Zero: it was stopped.
    """
    # jsonschema would build grammars of web addresses in all alphabets, a third of the time that
    # the server takes to start; it does without, and nothing here asks for them.
    sys.modules.setdefault("rfc3987_syntax", None)  # type: ignore[arg-type]
    from jupyterlab.labapp import main as run_lab

    theirs = os.environ.get("JUPYTER_CONFIG_PATH")
    paths = [str(SETTINGS), *([theirs] if theirs else [])]
    os.environ["JUPYTER_CONFIG_PATH"] = os.pathsep.join(paths)
    os.environ[PRESENT] = present or ""
    lend_folders()
    fold_side_bars(HALL if present else WORKSPACE, anew=present is not None)
    run_lab(lab_options(folder, browser=browser, port=port, present=present) + extra)
    return 0


def page_settings() -> dict[str, Any]:
    """Return what our scripts in the page are told by the server.

    Returns
    -------
    dict
        Code and title of each notebook of ours, and the notebook to begin with in a hall.
    """
    titles = [*shipped_titles().items()]  # a list: the order of an object's keys is lost on the way
    settings: dict[str, Any] = {"fireheatCode": shipped_code(), "fireheatTitles": titles}
    present = os.environ.get(PRESENT)
    return {**settings, "fireheatPresent": present} if present else settings


def lend_folders() -> None:
    """Lend Jupyter a passing folder for each of its own that the reader's home cannot hold."""
    from jupyter_core.paths import jupyter_config_dir, jupyter_data_dir, jupyter_runtime_dir

    own = {
        "JUPYTER_CONFIG_DIR": jupyter_config_dir,
        "JUPYTER_DATA_DIR": jupyter_data_dir,
        "JUPYTER_RUNTIME_DIR": jupyter_runtime_dir,
    }
    for variable, place in own.items():
        folder = Path(place())
        settings = variable == "JUPYTER_CONFIG_DIR" and folder.is_dir()  # to be read all the same
        with suppress(OSError):
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if not settings and not os.access(folder, os.W_OK):
            os.environ[variable] = tempfile.mkdtemp(prefix="fireheat-")


def fold_side_bars(workspace: str = WORKSPACE, *, anew: bool = False) -> None:
    """Give a reader's first visit no side bars: panels need the width, and readers nothing there.

    Later visits find the layout as the reader left it; the menu *View* brings bars back.

    Parameters
    ----------
    workspace : str, optional
        The layout's name.
    anew : bool, optional
        Whether to lay it out anew at each visit.
    """
    from jupyterlab.commands import get_workspaces_dir
    from jupyterlab_server.workspaces_handler import WorkspacesManager

    manager = WorkspacesManager(get_workspaces_dir())
    with suppress(OSError, ValueError, LookupError, TypeError):  # damaged: made anew
        if manager.load(workspace)["data"] and not anew:
            return
    side = {"collapsed": True, "visible": False, "widgets": [], "current": None}
    layout = {"left": side, "right": side, "main": {"dock": None}}
    data = {"layout-restorer:data": layout}
    with suppress(OSError):  # panels also fit beside the bar
        manager.save(workspace, json.dumps({"data": data, "metadata": {"id": workspace}}))


def lab_options(
    folder: Path, *, browser: bool = True, port: int | None = None, present: str | None = None
) -> list[str]:
    """List the words that JupyterLab is started with.

    Parameters
    ----------
    folder : Path
        Where the notebooks are.
    browser : bool, optional
        Whether to open the reader's browser.
    port : int, optional
        Port to listen on; JupyterLab's choice if left out.
    present : str, optional
        Notebook to begin with, in a workspace for halls.

    Returns
    -------
    list of str
        Options of ``jupyter lab``.
    """
    workspace = HALL if present else WORKSPACE
    options = [
        f"--ServerApp.root_dir={folder}",
        "--Application.log_level=ERROR",  # the address is printed all the same
        # A workspace of our own: tabs left open elsewhere do not come back here.
        f"--LabApp.default_url=/lab/workspaces/{workspace}/tree/{present or START}",
    ]
    if not browser:
        options.append("--no-browser")
    if port is not None:
        options += [f"--ServerApp.port={port}", "--ServerApp.port_retries=0"]
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        options.append("--allow-root")
    return options
