"""JupyterLab as ``fireheat learn`` starts it, looked at by a real headless browser.

Used by the browser tests, and by the maintainers' tools beside this file.
"""

import json
import os
import re
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path
from urllib.parse import quote, urlsplit

from fireheat.pages.printing import BROWSERS, CHOICE

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
HERE = ("127.0.0.1", "localhost")

WORKSPACE = "workspaces/test"  # with the side bar unfolded

POLLING = 100  # ms

# The notebook on screen, as JupyterLab holds it.
NOTEBOOK = "window.jupyterapp.shell.currentWidget"

# Closes all notebooks, and asks nobody whether to save them.
CLOSE_ALL = """() => {
    for (const widget of [...window.jupyterapp.shell.widgets('main')]) {
        if (widget.context) widget.context.model.dirty = false;
        widget.dispose();
    }
}"""
OPEN = "async path => { await window.jupyterapp.commands.execute('docmanager:open', { path }); }"


def find_browser(playwright):
    """Return the path of a Chromium-like browser, or None."""
    named = os.environ.get(CHOICE)
    if named:
        return named
    found = next(filter(None, map(shutil.which, BROWSERS)), None)
    own = playwright.chromium.executable_path
    return found or (own if Path(own).is_file() else None)


def launch(playwright):
    """Start a browser that shows no window."""
    return playwright.chromium.launch(
        executable_path=find_browser(playwright), args=FLAGS, headless=True
    )


# Read by the server: has each kernel socket, once open, say whether it sends at once.
WATCH_SOCKETS = """
import socket
from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection
connect = ZMQChannelsWebsocketConnection.connect
def say_and_connect(self):
    tcp = self.websocket_handler.ws_connection.stream.socket
    quick = tcp.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)
    print("kernel socket sends at once:", bool(quick), flush=True)
    return connect(self)
ZMQChannelsWebsocketConnection.connect = say_and_connect
"""


class Lab:
    """A JupyterLab server on a folder of notebooks, and a browser page that shows it.

    The browser is one of its own, or one that others use, too.
    """

    word = "learn"  # of the command

    def __init__(
        self, folder, playwright=None, *, browser=None, width=1280, height=720, dark=False
    ):
        self.folder = Path(folder)
        self.requests = []  # every address the browser asked for
        self.home = Path(tempfile.mkdtemp(prefix="fireheat-lab-"))
        self._settings(dark)
        self.port = _free_port()
        self.page = None
        self._start()
        self.own = None if browser else launch(playwright)
        self.browser = browser or self.own
        self.context = self.browser.new_context(viewport={"width": width, "height": height})
        self._wait_for_server()

    # ---- server ----

    def _settings(self, dark):
        (self.home / "config").mkdir()
        watch = self.home / "config" / "jupyter_server_config.py"
        watch.write_text(WATCH_SOCKETS, encoding="utf-8")
        if dark:
            themes = self.home / "settings" / "@jupyterlab" / "apputils-extension"
            themes.mkdir(parents=True)
            text = json.dumps({"theme": "JupyterLab Dark"})
            (themes / "themes.jupyterlab-settings").write_text(text, encoding="utf-8")

    def _start(self):
        own = {
            "JUPYTER_CONFIG_DIR": self.home / "config",
            "JUPYTER_DATA_DIR": self.home / "data",
            "JUPYTER_RUNTIME_DIR": self.home / "runtime",
            "JUPYTERLAB_SETTINGS_DIR": self.home / "settings",
            "JUPYTERLAB_WORKSPACES_DIR": self.home / "workspaces",
            "FIREHEAT_HOME": self.home / "kept",
        }
        inherited = {name: value for name, value in os.environ.items() if name != "JUPYTER_TOKEN"}
        command = [sys.executable, "-m", "fireheat", self.word, str(self.folder)]
        command += ["--no-browser", f"--port={self.port}", "--", "--expose-app-in-browser"]
        self.log = self.home / "lab.log"
        with self.log.open("wb") as log:
            self.server = subprocess.Popen(
                command,
                env={**inherited, **{name: str(value) for name, value in own.items()}},
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=subprocess.STDOUT,
            )

    def address(self, path, query=""):
        return f"http://127.0.0.1:{self.port}/{path}?token={self.token}{query}"

    def _ask(self, path, method="GET"):
        direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))
        headers = {"Authorization": f"token {self.token}"}
        request = urllib.request.Request(self.address(path), method=method, headers=headers)
        with direct.open(request, timeout=20) as answer:
            return json.loads(answer.read() or "null")

    def _wait_for_server(self, seconds=60):
        """Wait for the address that the command prints, and keep the token in it."""
        for _ in range(seconds * 4):
            said = self.log.read_text(encoding="utf-8")
            printed = re.search(r"http://127\.0\.0\.1:\d+/\S+token=(\w+)", said)
            if printed:
                self.printed_address, self.token = printed.group(), printed.group(1)
                if self._answers():
                    return
            if self.server.poll() is not None:
                break
            time.sleep(0.25)
        raise RuntimeError(f"JupyterLab did not start:\n{said}")

    def _answers(self):
        """See whether the server answers: on a busy machine it prints its address a bit before."""
        try:
            self._ask("api/status")
        except OSError:
            return False
        return True

    def restart(self):
        """Stop the server and every kernel, and start it anew: the next evening."""
        if self.page is not None:
            self.page.close()
            self.page = None
        self._stop()
        self._start()
        self._wait_for_server()

    def close(self):
        (self.own or self.context).close()
        self._stop()
        shutil.rmtree(self.home, ignore_errors=True)

    def _stop(self):
        self.server.terminate()
        try:
            self.server.wait(20)
        except subprocess.TimeoutExpired:
            self.server.kill()
            self.server.wait()

    # ---- page ----

    def new_page(self):
        """Return a fresh page, with no kernel left over; it notes every address asked for."""
        if self.page is not None:
            self.page.close()
        self._end_kernels()
        self.page = self.context.new_page()
        self.page.set_default_timeout(120_000)
        self.page.on("request", lambda request: self.requests.append(request.url))
        return self.page

    def _end_kernels(self):
        for session in self._ask("api/sessions"):
            self._ask(f"api/sessions/{session['id']}", "DELETE")

    def open(self, name, *, run=True):
        """Open a notebook in a fresh page, see that all its cells are run, and return the page.

        Notebooks of ours run by themselves; of others, ``run`` says whether to run all cells.
        """
        page = self.new_page()
        page.goto(self.address(f"lab/{WORKSPACE}/tree/{quote(name)}", "&reset"))
        self._see_opened(run)
        return page

    def turn_to(self, name, *, run=True):
        """Open a notebook as ``open`` does, but in the page there is, in place of all in it.

        File and kernel are as fresh as there; only JupyterLab is not loaded anew, which takes
        longer than all the rest. What was not saved is lost.
        """
        if self.page is None or f"/{WORKSPACE}/" not in self.page.url:
            return self.open(name, run=run)
        self.page.evaluate(CLOSE_ALL)
        self._end_kernels()
        self.page.evaluate(OPEN, name)
        self._see_opened(run)
        return self.page

    def shows(self, name):
        """Tell whether a notebook is on screen."""
        shown = f"() => window.jupyterapp && {NOTEBOOK}?.context?.path"
        return self.page is not None and self.page.evaluate(shown) == name

    def anew(self, name):
        """Return the page with a notebook run anew, in a kernel that may have been used."""
        if not self.shows(name):
            return self.turn_to(name)
        self.page.keyboard.press("Escape")
        self.run_all()
        return self.page

    def _see_opened(self, run):
        self.wait_for_kernel()
        if self.wakes():
            self.wait_until_awake()
        elif run:
            self.run_all()

    def wakes(self):
        """Tell whether the notebook on screen runs by itself."""
        return self.page.evaluate(f"() => 'fireheat' in {NOTEBOOK}.node.dataset")

    def wait_until_awake(self):
        """Wait until the notebook on screen has run by itself."""
        self.wait_for(f"() => {NOTEBOOK}.node.dataset.fireheat === 'awake'")
        self.settle()

    def wait_for_kernel(self):
        """Wait until the notebook on screen can talk to its kernel.

        A cell run before the kernel's socket is up is silently dropped.
        """
        self.wait_for(
            f"""() => {{
                const panel = window.jupyterapp && {NOTEBOOK};
                const kernel = panel?.sessionContext?.session?.kernel;
                return panel?.content?.model?.cells?.length > 0
                    && kernel?.connectionStatus === 'connected' && kernel?.status === 'idle';
            }}"""
        )

    def wait_for(self, holds):
        """Wait until a script gives true, asking now and then.

        Left alone, Playwright asks at every frame, and so keeps the browser painting frames while
        kernel and server have the work.
        """
        self.page.wait_for_function(holds, polling=POLLING)

    def settle(self):
        """Wait until browser and kernel have answered each other and nothing on screen moves.

        The kernel takes messages in turn: when it has answered ours, it has answered all that the
        browser said before. Then the page must look the same again, twice, after some frames.
        """
        self.page.evaluate(
            f"""async () => {{
                const {{ content, sessionContext }} = {NOTEBOOK};
                // Words, heights, where handles stand, and how pictures end, with their check sums:
                // to spell out all pictures each time takes longer than all else.
                const all = kind => [...content.node.querySelectorAll(kind)];
                const seen = () => [
                    content.node.textContent, content.node.scrollHeight,
                    ...all('.noUi-origin').map(part => part.style.transform),
                    ...all('img').map(part => part.getAttribute('src') ?? '')
                        .map(source => source.length + source.slice(-40)),
                ].join();
                for (let before, same = 0; same < 2; ) {{
                    before = seen();
                    await new Promise(done => setTimeout(() => requestAnimationFrame(done), 80));
                    await sessionContext.session.kernel.requestExecute({{
                        code: '', silent: true, store_history: false
                    }}).done;
                    same = seen() === before ? same + 1 : 0;
                }}
            }}"""
        )

    def execute(self, code):
        """Have the kernel of the notebook on screen do something, and wait until all shows it."""
        self.page.evaluate(
            f"""code => {NOTEBOOK}.sessionContext.session.kernel.requestExecute({{
                code, store_history: false
            }}).done.then(reply => {{
                if (reply.content.status !== 'ok') throw new Error(reply.content.evalue);
            }})""",
            code,
        )
        self.settle()

    def run_all(self, tries=3):
        """Run all cells from the first, and see that each was run."""
        for _ in range(tries):
            self.page.evaluate(
                """async () => {
                    const commands = window.jupyterapp.commands;
                    await commands.execute('notebook:clear-all-cell-outputs');
                    await commands.execute('notebook:run-all-cells');
                }"""
            )
            cells = self.code_cells()
            if all(cell["execution_count"] for cell in cells) or self.errors():
                self.settle()
                return
        raise RuntimeError(f"cells were not run: {cells}")

    def code_cells(self):
        """Return the code cells of the notebook on screen with their live outputs."""
        cells = self.page.evaluate(f"() => {NOTEBOOK}.content.model.toJSON().cells")
        return [c for c in cells if c["cell_type"] == "code" and "".join(c["source"]).strip()]

    def errors(self):
        """Return errors, and anything on stderr, in the outputs of the notebook on screen."""
        outputs = [output for cell in self.code_cells() for output in cell["outputs"]]
        failed = [f"{o['ename']}: {o['evalue']}" for o in outputs if o["output_type"] == "error"]
        return failed + ["".join(o["text"]) for o in outputs if o.get("name") == "stderr"]

    def screenshot(self, path):
        """Save what is on screen."""
        self.page.screenshot(path=str(path))

    def sockets(self):
        """Return, for each kernel socket opened so far, whether it sends small messages at once."""
        said = self.log.read_text(encoding="utf-8").splitlines()
        return [s.endswith("True") for s in said if s.startswith("kernel socket sends at once")]

    def strangers(self):
        """Return every address asked for that is not on this machine."""
        return [url for url in self.requests if not _is_local(url)]


def _is_local(url):
    parts = urlsplit(url)
    return parts.scheme in ("data", "blob", "about") or parts.hostname in HERE


def _free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]
