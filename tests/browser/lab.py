"""A JupyterLab in a real browser, for tests: start it, open a notebook, run it, see what went
wrong.

def test_something(lab):
    with lab.open("notebooks/02_the_tractor.ipynb") as sheet:
        sheet.run_all()
        assert sheet.errors() == []
        sheet.page.get_by_role("slider").first.press("ArrowRight")
        sheet.picture("after_the_key")
"""

import contextlib
import json
import os
import shutil
import socket
import subprocess
import sys
import time
import uuid
from dataclasses import dataclass, field
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2] / "src"))

from launch.lab import lab_command, lab_settings, make_folders, trust_notebooks
from launch.places import lab_home

ROOT = Path(__file__).parents[2]

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
PICTURES = Path(
    os.environ.get("LAB_PICTURES", "/tmp/lab_pictures" if os.name != "nt" else "lab_pictures")
)
WAIT_MS = 60_000

CURRENT = "window.jupyterapp.shell.currentWidget"
IS_READY = f"() => !!(window.jupyterapp && {CURRENT} && {CURRENT}.sessionContext)"
WATCH = f"""async () => {{
  const context = {CURRENT}.sessionContext;
  await context.ready; await {CURRENT}.context.ready; await context.session.kernel.info;
  window.kernelErrors = window.kernelErrors || [];
  context.iopubMessage.connect((_, message) => {{
    if (message.header.msg_type === 'error')
      window.kernelErrors.push(message.content.ename + ': ' + message.content.evalue);
  }});
}}"""
# As a reader does: take the page in hand, go down to its end and back, so that all of it is drawn.
READ_DOWN = f"""async () => {{
  const node = {CURRENT}.node, sheet = node.querySelector('.jp-WindowedPanel-outer');
  const wait = (ms) => new Promise((done) => setTimeout(done, ms));
  await wait(300);
  node.dispatchEvent(new WheelEvent('wheel', {{bubbles: true}}));
  for (let y = 0; sheet && y <= sheet.scrollHeight; y += sheet.clientHeight / 2) {{
    sheet.scrollTop = y;
    await wait(60);
  }}
  if (sheet) sheet.scrollTop = 0;
}}"""
ASK = f"""async (code) => {{
  const told = {CURRENT}.sessionContext.session.kernel.requestExecute({{code, silent: false,
      store_history: false}});
  let text = ''; told.onIOPub = (message) => {{ text += message.content.text || ''; }};
  await told.done; return text.trim();
}}"""
CELLS = f"""() => {CURRENT}.content.widgets.map(cell => [cell.model.type,
    cell.model.sharedModel.getSource()])"""
SHUT_DOWN = """() => Promise.all([...window.jupyterapp.shell.widgets('main')].map(one =>
    one.sessionContext && one.sessionContext.shutdown()))"""
CELL_ERRORS = f"""() => {CURRENT}.content.widgets.flatMap((cell, at) =>
  (cell.model.sharedModel.outputs || []).filter(output => output.output_type === 'error')
    .map(output => `cell ${{at}}: ${{output.ename}}: ${{output.evalue}}`))"""


def find_browser():
    """The browser on this machine, or nothing."""
    return next(filter(None, map(shutil.which, BROWSERS)), None)


def free_port():
    """A port nobody uses at the moment."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def copy_of_workbook(folder):
    """A copy of what a person opens, so that no test writes into the project."""
    for name in ("notebooks", "lessons", "figures"):
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns(".*"))
    (folder / "notebooks").mkdir(exist_ok=True)
    return folder


def as_start_does(home):
    """The environment JupyterLab gets from `start.py`, with its own folders in `home`."""
    make_folders(home)
    return lab_settings(venv=home)


def as_plain_jupyter(home):
    """The environment of somebody who types `jupyter lab`, in a fresh home folder."""
    home.mkdir(parents=True, exist_ok=True)
    kept = {name: text for name, text in os.environ.items() if not name.startswith("JUPYTER")}
    places = {
        "HOME": home,
        "USERPROFILE": home,
        "APPDATA": home / "app",
        "IPYTHONDIR": home / "ipython",
    }
    return (
        kept
        | {name: str(path) for name, path in places.items()}
        | {"JUPYTER_RUNTIME_DIR": str(lab_home(home) / "runtime")}
    )


def write_notebook(path, *cells):
    """A notebook of code cells, for a test of its own."""
    made = [
        {
            "cell_type": "code",
            "id": f"c{at}",
            "metadata": {},
            "source": text,
            "outputs": [],
            "execution_count": None,
        }
        for at, text in enumerate(cells)
    ]
    kernel = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
    table = {"cells": made, "metadata": kernel, "nbformat": 4, "nbformat_minor": 5}
    path.write_text(json.dumps(table), "utf-8")


@dataclass
class Sheet:
    """One notebook, open in the browser with its kernel ready."""

    page: object
    console_errors: list = field(default_factory=list)

    def run_all(self):
        """Run every cell and wait until the last one is done."""
        self.page.evaluate("() => window.jupyterapp.commands.execute('notebook:run-all-cells')")
        self.page.wait_for_function(
            f"() => {CURRENT}.sessionContext.session.kernel.status === 'idle'"
        )
        self.read_down()

    def read_down(self):
        """Go down to the end of the page and back, so that all of it is drawn."""
        self.page.evaluate(READ_DOWN)

    def settled(self):
        """Wait until every cell has run and the page has had time to show it."""
        self.page.wait_for_function(
            f"() => {CURRENT}.sessionContext.session.kernel.status === 'idle'"
        )
        self.page.wait_for_timeout(1500)

    def ask(self, code):
        """What the notebook's Python prints when it is asked something, beside its cells."""
        return self.page.evaluate(ASK, code)

    def follow(self, link, path):
        """Click a link to another page of the workbook; wait until it stands in front, and a
        notebook's kernel is ready.
        """
        link.click()
        self.page.wait_for_function(
            f"(path) => {CURRENT}.context && {CURRENT}.context.path === path", arg=path
        )
        if path.endswith(".ipynb"):
            self.page.wait_for_function(IS_READY)
            self.page.evaluate(WATCH)

    def cells(self):
        """Kind and source of every cell, as they are now."""
        return self.page.evaluate(CELLS)

    def errors(self):
        """What went wrong: in cells, in controls' callbacks (kernel), in the page itself."""
        cell = self.page.evaluate(CELL_ERRORS)
        kernel = [f"kernel: {text}" for text in self.page.evaluate("() => window.kernelErrors")]
        return (
            cell
            + [each for each in kernel if not any(each[8:] in told for told in cell)]
            + self.console_errors
        )

    def picture(self, name, **options):
        """A screenshot to look at; where it lies is returned."""
        PICTURES.mkdir(parents=True, exist_ok=True)
        path = PICTURES / f"{name}.png"
        self.page.screenshot(path=str(path), **options)
        return path

    def watch(self):
        """Wait until the notebook's Python is awake, and collect what it complains of."""
        self.page.wait_for_function(IS_READY)
        self.page.evaluate(WATCH)

    def only_notebook(self):
        """Hide the side panels, so that the notebook has the whole window."""
        self.page.evaluate(
            "() => { const s = window.jupyterapp.shell; s.collapseLeft(); s.collapseRight(); }"
        )


@dataclass
class Lab:
    """A running JupyterLab and the browser that looks at it."""

    process: object
    browser: object
    root: Path
    url: str
    token: str

    @contextlib.contextmanager
    def open(self, notebook, width=1280, height=900, dark=False, scale=1, wait=True):
        """Open a notebook in a fresh browser profile and workspace; wait until it is ready, unless
        told not to.
        """
        context = self.browser.new_context(
            viewport={"width": width, "height": height},
            device_scale_factor=scale,
            color_scheme="dark" if dark else "light",
        )
        context.set_default_timeout(WAIT_MS)
        sheet = Sheet(context.new_page())
        self._listen(sheet)
        space = uuid.uuid4().hex[:8]
        sheet.page.goto(
            f"{self.url}lab/workspaces/{space}/tree/{notebook}?reset&token={self.token}"
        )
        if wait:
            sheet.watch()
        try:
            yield sheet
        finally:
            self._close(sheet)
            context.close()

    def _listen(self, sheet):
        """Collect what the page complains about."""

        def hear(message):
            if message.type == "error":
                sheet.console_errors.append(f"console: {message.text}")

        sheet.page.on("console", hear)
        sheet.page.on("pageerror", lambda error: sheet.console_errors.append(f"page: {error}"))

    def _close(self, sheet):
        """End the kernels of this window's notebooks, so that the next test starts on an idle
        machine.
        """
        with contextlib.suppress(Exception):
            sheet.page.evaluate(SHUT_DOWN)

    def stop(self):
        """End JupyterLab."""
        self.process.terminate()
        with contextlib.suppress(subprocess.TimeoutExpired):
            self.process.wait(15)
        if self.process.poll() is None:
            self.process.kill()


def start_lab(browser, root, env, *options, python=sys.executable, patience=60):
    """Start JupyterLab on `root` and wait until it answers."""
    trust_notebooks(python, env, root / "notebooks")
    command = lab_command(python, free_port(), browser=False, root=root)
    log = Path(env["JUPYTER_RUNTIME_DIR"], "server.log")
    log.parent.mkdir(parents=True, exist_ok=True)
    with open(log, "w") as record:
        process = subprocess.Popen(
            [*command, "--LabApp.expose_app_in_browser=True", *options],
            cwd=root,
            env=env,
            stdout=record,
            stderr=subprocess.STDOUT,
            stdin=subprocess.DEVNULL,
        )
    told = _server_note(log, process, patience)
    return Lab(process, browser, root, told["url"], told["token"])


def _server_note(log, process, patience):
    """What the server wrote about itself, once it listens."""
    end = time.monotonic() + patience
    while time.monotonic() < end and process.poll() is None:
        with contextlib.suppress(OSError, ValueError):  # not there yet, or half written
            return json.loads(log.with_name(f"jpserver-{process.pid}.json").read_text("utf-8"))
        time.sleep(0.1)
    process.kill()
    raise RuntimeError("JupyterLab did not start:\n" + log.read_text("utf-8", "replace")[-3000:])
