"""A class server for tests and benchmarks: set up by the commands of lessons/class_server.md, taken
away by them.

CLASS_SERVER names the place, such as /srv/leverarm-trial. Where it does not exist it is made from
nothing
(minutes, internet); where it does, its environment is taken as it is. Accounts of the system
are made, so root must ask for it. All their names begin with `lvtest-`.
"""

import contextlib
import os
import pwd
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

import requests

sys.path.insert(0, str(Path(__file__).resolve().parent / "browser"))
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "src"))

from lab import PICTURES, WAIT_MS, Lab

from classserver.place import Place

ROOT = Path(__file__).resolve().parents[1]
PAGE = ROOT / "lessons" / "class_server.md"
CALLED, TEACHER = "lvtest-", "lvtest-desk"
# Where sudo looks for programs; a Python of root's own is no use to students.
PLAIN = {"PATH": "/usr/sbin:/usr/bin:/sbin:/bin", "LANG": "C.UTF-8", "HOME": "/root"}
# While things are fetched, what the machine says about its network holds as well.
FETCHING = {
    name: text
    for name, text in os.environ.items()
    if not name.startswith(("PYTHON", "JUPYTER", "VIRTUAL_ENV"))
} | PLAIN
MARK = "\n# --- for this trial\n"
SHOWN = (
    'c.Spawner.args += ["--LabApp.expose_app_in_browser=True"]'  # so that a test can drive the page
)
SLOW = "2. Make the environment"


def commands(heading):
    """The lines to type under a heading of the page."""
    part = PAGE.read_text("utf-8").split(f"\n## {heading}\n")[1].split("\n## ")[0]
    return [line.strip() for line in part.splitlines() if re.match(r" {4,}\S", line)]


def why_not():
    """Why no class server can be tried here, or nothing."""
    if not os.environ.get("CLASS_SERVER"):
        return "it makes accounts on this machine: CLASS_SERVER=/srv/leverarm-trial asks for it"
    if not sys.platform.startswith("linux") or os.geteuid() != 0:
        return "only root on Linux can make accounts"
    lacking = [
        name
        for name in ("useradd", "chpasswd", "npm", "node")
        if not shutil.which(name, path=PLAIN["PATH"])
    ]
    return f"this machine has no {lacking[0]}" if lacking else None


def free_ports(count):
    """The first of so many ports in a row that nobody uses."""
    for first in range(18_000, 30_000, 10):
        with contextlib.suppress(OSError), contextlib.ExitStack() as probes:
            for port in range(first, first + count):
                probes.enter_context(socket.socket()).bind(("127.0.0.1", port))
            return first
    raise RuntimeError("no free ports")


@dataclass
class School:
    """A class server that runs, and the people of it: name -> password."""

    place: Place
    students: int
    kept: bool
    people: dict = field(default_factory=dict)
    process: object = None
    url: str = ""
    took: float = 0.0

    def type(self, lines, cwd=ROOT, patience=1200):
        """Type lines of the page: the place and the accounts are ours, `sudo` is what root already
        is.
        """
        text = "\n".join(lines).replace("/srv/leverarm", str(self.place.root))
        text = text.replace("students 24", f"students {self.students} --called {CALLED}").replace(
            "instructor teacher", f"instructor {TEACHER}"
        )
        told = subprocess.run(
            ["bash", "-euc", 'sudo() { "$@"; }\n' + text],
            cwd=cwd,
            env=FETCHING,
            text=True,
            capture_output=True,
            timeout=patience,
        )
        assert told.returncode == 0, f"{text}\n{told.stdout[-2000:]}{told.stderr[-2000:]}"
        return told.stdout

    def make(self):
        """Steps 1 to 3 of the page."""
        self.type(commands("1. Lay out the place"))
        if not (self.place.workbook / ".venv/bin/jupyterhub").exists():
            self.type(commands(SLOW))
        self.type(commands("3. Make the accounts"))
        lines = (self.place.hub / "passwords.csv").read_text().splitlines()
        self.people = dict(line.split(",") for line in lines if line.startswith(CALLED))

    def start(self, more=""):
        """Step 4, on ports nobody uses; the settings are edited as a person would, with `more` at
        their end.
        """
        port, settings = free_ports(3), self.place.config
        told = settings.read_text("utf-8").split(MARK)[0]
        settings.write_text(
            re.sub(r"(?m)^PORT = \d+", f"PORT = {port}", told) + MARK + more + "\n", "utf-8"
        )
        (line,) = commands("4. Try it")
        command = line.replace("/srv/leverarm", str(self.place.root)).removeprefix("sudo ").split()
        begun = time.perf_counter()
        with open(self.place.hub / "hub.log", "w") as log:
            self.process = subprocess.Popen(
                command,
                env=PLAIN,
                stdout=log,
                stderr=log,
                stdin=subprocess.DEVNULL,
                start_new_session=True,
            )
        self.url = f"http://127.0.0.1:{port}"
        self._wait()
        self.took = time.perf_counter() - begun

    def _wait(self, patience=90):
        end = time.monotonic() + patience
        while time.monotonic() < end and self.process.poll() is None:
            with contextlib.suppress(requests.RequestException):
                if requests.get(f"{self.url}/hub/health", timeout=5).ok:
                    return
            time.sleep(0.1)
        raise RuntimeError("the hub did not start:\n" + self.log()[-3000:])

    def log(self):
        return (self.place.hub / "hub.log").read_text("utf-8", "replace")

    def stop(self):
        """Ctrl-C in the hub's terminal; then nothing of ours may run any more."""
        if self.process and self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
            with contextlib.suppress(subprocess.TimeoutExpired):
                self.process.wait(60)
        if self.process and self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)
        for pid in self.running():
            with contextlib.suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)

    def running(self, *names):
        """The processes of these accounts, or of all of ours: number -> name."""
        uids = {pwd.getpwnam(name).pw_uid: name for name in names or self.people if _exists(name)}
        found = {
            pid: uids.get(owner(pid))
            for pid in map(int, filter(str.isdecimal, os.listdir("/proc")))
        }
        return {pid: name for pid, name in found.items() if name}

    def take_away(self):
        """The page's own last commands: accounts always, the place only if it was made for this
        run.
        """
        *accounts, whole = commands("Take it away")
        try:
            if self.place.hub.is_dir():
                self.type(accounts)
        finally:
            for name in [
                person.pw_name for person in pwd.getpwall() if person.pw_name.startswith(CALLED)
            ]:
                subprocess.run(["userdel", "--remove", "--force", name], capture_output=True)
        if not self.kept:
            return self.type([whole])
        for folder in (
            self.place.hub,
            self.place.trays,
            self.place.board,
            self.place.root / "left",
        ):
            if folder.is_dir():
                subprocess.run(["find", folder, "-mindepth", "1", "-delete"], check=True)
        self.place.config.unlink(missing_ok=True)

    # As one of the people

    def notebooks(self, name):
        """The folder an account works in."""
        return Path(pwd.getpwnam(name).pw_dir, "workbook", "notebooks")

    def run_as(self, name, code, *words, python=None):
        """Run Python as this account, with its groups and nothing of root's."""
        person = pwd.getpwnam(name)
        return subprocess.run(
            [python or self.place.workbook / ".venv/bin/python", "-c", code, *map(str, words)],
            text=True,
            capture_output=True,
            timeout=120,
            user=person.pw_uid,
            group=person.pw_gid,
            extra_groups=os.getgrouplist(name, person.pw_gid),
            cwd=person.pw_dir,
            env={"PATH": PLAIN["PATH"], "HOME": person.pw_dir, "USER": name},
        )

    def sign_in(self, name, password=None):
        """A signed-in session with the hub, by its own form."""
        session = requests.Session()
        session.get(f"{self.url}/hub/login", timeout=30)
        told = session.post(
            f"{self.url}/hub/login",
            timeout=60,
            allow_redirects=False,
            params={"_xsrf": xsrf(session, "/hub/")},
            data={
                "username": name,
                "password": self.people[name] if password is None else password,
            },
        )
        session.signed_in = told.status_code == 302
        return session

    def ask(self, session, method, path, **more):
        """A request as the page in the browser makes it, with its token against forgery."""
        scope = "/hub/" if path.startswith("/hub/") else "/".join(path.split("/")[:3]) + "/"
        if token := xsrf(session, scope):
            more["headers"] = {"X-XSRFToken": token, "Referer": f"{self.url}{scope}"} | more.get(
                "headers", {}
            )
        return session.request(method, self.url + path, timeout=120, **more)

    def open_server(self, session, name, patience=180):
        """Start this person's server and wait until it answers them."""
        self.ask(session, "POST", f"/hub/api/users/{name}/server")
        end = time.monotonic() + patience
        while time.monotonic() < end:
            told = session.get(
                f"{self.url}/user/{name}/lab", timeout=60
            )  # by way of the hub, which lets its owner in
            if told.ok and told.url.startswith(f"{self.url}/user/{name}/lab"):
                return
            time.sleep(0.1)
        raise RuntimeError(f"no server for {name}:\n{self.log()[-3000:]}")

    def lab(self, browser, name):
        """The JupyterLab of one person in a real browser, signed in by the hub's own form."""
        context = browser.new_context()
        context.set_default_timeout(WAIT_MS)
        page = context.new_page()
        page.goto(f"{self.url}/hub/login")
        PICTURES.mkdir(parents=True, exist_ok=True)
        page.screenshot(path=str(PICTURES / "class_server_sign_in.png"))
        page.get_by_label("Username").fill(name)
        page.get_by_label("Password").fill(self.people[name])
        page.get_by_role("button", name="Sign in").click()
        page.wait_for_url(f"{self.url}/user/{name}/lab**")
        state = context.storage_state()
        context.close()
        return Lab(
            None,
            SignedIn(browser, state),
            self.notebooks(name).parent,
            f"{self.url}/user/{name}/",
            "",
        )


class SignedIn:
    """A browser in which one person has signed in."""

    def __init__(self, browser, state):
        self.browser, self.state = browser, state

    def new_context(self, **options):
        return self.browser.new_context(storage_state=self.state, **options)


def xsrf(session, path):
    """The token against forgery that holds for a path."""
    return next(
        (
            cookie.value
            for cookie in session.cookies
            if cookie.name == "_xsrf" and cookie.path == path
        ),
        "",
    )


def owner(pid):
    """The account number a process runs as; nothing if it is gone."""
    with contextlib.suppress(OSError):
        return os.stat(f"/proc/{pid}").st_uid


def _exists(name):
    with contextlib.suppress(KeyError):
        return bool(pwd.getpwnam(name))
    return False


@contextlib.contextmanager
def school(students, more=""):
    """A class server from the first command to the last."""
    root = Path(os.environ["CLASS_SERVER"])
    made = School(Place(root), students, kept=root.exists())
    try:
        made.make()
        made.start(more)
        yield made
    finally:
        made.stop()
        made.take_away()
