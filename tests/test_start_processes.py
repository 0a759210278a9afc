"""Starts as a person's computer sees them: real processes, killed, renamed, without internet.

The project is a small one with the real `start.py`. Its packages come from a build back end in its
own folder, which can be told to be slow, or to fail as a network does; so nothing is fetched.
"""

import json
import os
import shutil
import signal
import subprocess
import sys
import sysconfig
import time
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "src"))

from launch import environment

ROOT = Path(__file__).parents[1]

BACKEND = """
import os, pathlib, time, zipfile
HERE = pathlib.Path(__file__).parent
def build_editable(folder, settings=None, metadata=None):
    (HERE / "asked").open("a").write("x")
    while (HERE / "slow").exists():
        time.sleep(0.05)
    if (HERE / "offline").exists():
        raise OSError("Failed to establish a new connection: Network is unreachable")
    name = "leverarm-0.1-py3-none-any.whl"
    with zipfile.ZipFile(pathlib.Path(folder, name), "w") as wheel:
        wheel.writestr("leverarm.pth", str(HERE))
        wheel.writestr("leverarm-0.1.dist-info/METADATA",
            "Metadata-Version: 2.1\\n"
            "Name: leverarm\\nVersion: 0.1\\n")
        wheel.writestr("leverarm-0.1.dist-info/WHEEL",
            "Wheel-Version: 1.0\\n"
            "Root-Is-Purelib: true\\nTag: py3-none-any\\n")
        wheel.writestr("leverarm-0.1.dist-info/RECORD", "")
    return name
def build_wheel(folder, settings=None, metadata=None):
    raise OSError("not asked for")
"""
PYPROJECT = """
[build-system]
requires = []
build-backend = "backend"
backend-path = ["."]
[project]
name = "leverarm"
version = "0.1"
"""
MODULES = ("leverarm", "jupyterlab", "ipywidgets", "numpy", "matplotlib", "sympy", "nbval", "xdist")
# Most of what `venv` needs is time for pip: here it is the pip of the environment of the tests.
QUICK_VENV = """
import pathlib, shutil, subprocess, sys
venv, made, folder = map(pathlib.Path, sys.argv[1:])
subprocess.run([sys.executable, "-m", "venv", "--without-pip", venv], check=True)
for part in (made / folder).glob("pip*"):
    try:
        (venv / folder / part.name).symlink_to(part, target_is_directory=True)
    except OSError:  # Windows lets few people make links
        shutil.copytree(part, venv / folder / part.name)
"""
VENV_STEP = '[sys.executable, "-m", "venv", venv]'
TESTS = "import leverarm, sys; print('tests ran on', leverarm.__file__)"


class Project:
    """A folder with the real start and small packages."""

    def __init__(self, root):
        self.root, self.src, self.venv = root, root / "src", root / ".venv"

    def make(self):
        """Write the project."""
        shutil.copytree(ROOT / "src" / "launch", self.src / "launch")
        self.quick_venv()
        shutil.copy(ROOT / "src" / "start.py", self.src)
        (self.root / "requirements.txt").write_text("-e ./src\n")
        (self.src / "constraints.txt").write_text("")
        (self.src / "pyproject.toml").write_text(PYPROJECT)
        (self.src / "backend.py").write_text(BACKEND)
        for name in MODULES:
            (self.src / name).mkdir()
            (self.src / name / "__init__.py").touch()
        (self.src / "jupyterlab" / "labapp.py").touch()
        (self.src / "pytest.py").write_text(TESTS)
        return self

    def quick_venv(self):
        """Let the step that makes `.venv` take pip from here, where there is one."""
        packages = Path(sysconfig.get_path("purelib"))
        if not (packages / "pip").exists():
            return
        there = sys.prefix, str(packages.relative_to(sys.prefix))
        (self.src / "quick_venv.py").write_text(QUICK_VENV)
        code = self.src / "launch" / "environment.py"
        quick = f'[sys.executable, ROOT / "src" / "quick_venv.py", venv, *{there!r}]'
        text = code.read_text("utf-8")
        assert text.count(VENV_STEP) == 1
        code.write_text(text.replace(VENV_STEP, quick), "utf-8")

    def set(self, name, on=True):
        """Switch the back end's slowness, or its network."""
        (self.src / name).touch() if on else (self.src / name).unlink(missing_ok=True)

    def ask_for_more(self):
        """Change what is needed, as a newer workbook does."""
        with (self.src / "pyproject.toml").open("a") as file:
            file.write("# newer\n")

    def asked(self):
        """How often pip came to the back end."""
        path = self.src / "asked"
        return len(path.read_text()) if path.exists() else 0

    def begin(self):
        return subprocess.Popen(
            [sys.executable, str(self.src / "start.py"), "test"],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )

    def start(self):
        """One start to its end; its exit code and all it said."""
        process = self.begin()
        said, _ = process.communicate(timeout=120)
        return process.returncode, said

    def start_killed(self, when):
        """A start that is killed at once when something is so."""
        process, end = self.begin(), time.monotonic() + 60
        while not when() and time.monotonic() < end:
            time.sleep(0.01)
        assert when(), process.communicate()
        process.send_signal(signal.SIGKILL if os.name != "nt" else signal.SIGTERM)
        process.communicate()

    def ran(self):
        """A start ends with the tests run on the package of this folder."""
        code, said = self.start()
        assert code == 0 and f"tests ran on {self.src / 'leverarm'}" in said, said
        return said

    def beside(self):
        """What lies beside `.venv` under a name like it."""
        return [path.name for path in self.root.glob(".venv.*")]

    def who_is_there(self):
        """The programs that still run from this folder (Linux)."""
        lines = [p.read_bytes() for p in Path("/proc").glob("[0-9]*/cmdline") if p.exists()]
        return [line for line in lines if os.fsencode(self.venv) in line]


@pytest.fixture(scope="module")
def finished(tmp_path_factory):
    """A project that is set up."""
    project = Project(tmp_path_factory.mktemp("made") / "first").make()
    assert "Ready." in project.ran()
    return project


@pytest.fixture
def copied(finished, tmp_path):
    """A copy of it under another path; its first start mends that, and asks pip for nothing."""
    return copy_of(finished, tmp_path / "work")


def copy_of(finished, root):
    shutil.copytree(finished.root, root, symlinks=True)
    project = Project(root)
    project.set("asked", False)
    return project


@pytest.fixture(scope="module")
def kept(finished, tmp_path_factory):
    """A copy that has mended its path, and its files as they were then."""
    folder = tmp_path_factory.mktemp("settled")
    project = copy_of(finished, folder / "work")
    (project.root / ".venv.mine").mkdir()  # a backup of the person's own
    project.ran()
    assert project.asked() == 0 and project.beside() == [".venv.mine"], "it is left alone"
    (project.root / ".venv.mine").rmdir()
    shutil.copytree(project.root, folder / "kept", symlinks=True)
    return project, folder / "kept"


@pytest.fixture
def settled(kept):
    """The mended copy as it was at first, under the same path."""
    project, files = kept
    shutil.rmtree(project.root)
    shutil.copytree(files, project.root, symlinks=True)
    return project


def test_a_copy_and_a_renamed_folder_run_without_internet_and_nothing_is_made_again(copied):
    project = copied
    project.set("offline")
    (project.venv / "mark").touch()
    assert "renamed, moved or copied" in project.ran()
    project.root.rename(project.root.with_name("re named"))
    renamed = Project(project.root.with_name("re named"))
    assert "renamed, moved or copied" in renamed.ran()
    assert "Setting up" not in renamed.ran()
    assert (renamed.venv / "mark").exists() and renamed.asked() == 0 and renamed.beside() == []


def test_what_is_newly_asked_for_and_cannot_be_fetched_takes_nothing_away(settled):
    project = settled
    project.ask_for_more()
    project.set("offline")
    for _ in range(2):
        said = project.ran()
        assert "internet" in said and "the packages that are there" in said
    project.set("offline", False)
    assert "the packages that are there" not in project.ran()
    assert "Setting up" not in project.ran() and project.asked() == 3


def test_a_start_killed_while_it_adds_packages_leaves_a_workbook_that_opens(settled):
    project = settled
    project.ask_for_more()
    project.set("slow")
    project.start_killed(lambda: project.asked() == 1)
    project.set("slow", False)
    project.set("offline")
    assert "the packages that are there" in project.ran()
    assert project.beside() == []


def test_an_environment_whose_python_is_gone_stays_until_there_is_another(settled):
    project = settled
    note = project.venv / environment.NOTE
    note.write_text(json.dumps(json.loads(note.read_text()) | {"python": "3.9"}))
    (project.venv / "mark").touch()
    (next(project.venv.glob("[Ll]ib*/**/leverarm.pth"))).write_text("/nowhere\n")
    project.set("offline")
    code, said = project.start()
    assert code == 1 and "internet" in said and (project.venv / "mark").exists(), said
    assert project.beside() == []
    project.set("offline", False)
    project.set("slow")
    project.start_killed(lambda: project.asked() == 2)  # while the other one is being made
    assert (project.root / ".venv.old" / "mark").exists()
    project.set("slow", False)
    project.ran()
    assert not (project.venv / "mark").exists() and project.beside() == []


def test_a_first_start_killed_and_started_again_at_once_comes_to_its_end(tmp_path):
    """Killed as the environment is made, and as pip installs: nobody is left to write into it.

    A start before it was killed before it noted anything: an empty `.venv.new`, a folder half
    removed, an old environment that waits.
    """
    project = Project(tmp_path / "first").make()
    for name in (".venv.new", ".venv.gone-1/lib", ".venv.old"):
        (project.root / name).mkdir(parents=True)
    (project.root / ".venv.old" / environment.NOTE).write_text('{"state": "begun"}')
    project.start_killed(lambda: (project.venv / "pyvenv.cfg").exists())
    project.set("slow")
    project.start_killed(lambda: project.asked() == 1)
    if sys.platform.startswith("linux"):
        end = time.monotonic() + 10
        while project.who_is_there() and time.monotonic() < end:
            time.sleep(0.05)
        assert project.who_is_there() == []
    project.set("slow", False)
    assert "Ready." in project.ran()
    assert project.beside() == [] and "Setting up" not in project.ran()


SOME_FAIL = """
import sys; print("FAILED tests/test_a.py::test_b - assert 1 == 2"); sys.exit(1)
"""


def test_the_newest_packages_are_tried_apart_and_noted_only_where_all_tests_pass(settled):
    project = settled
    constraints = project.src / "constraints.txt"
    constraints.write_text("six==1.17.0\n")
    (project.venv / "mark").touch()
    passing = (project.src / "pytest.py").read_text()

    def newest(*words):
        done = subprocess.run(
            [sys.executable, str(project.src / "start.py"), "newest", *words],
            capture_output=True,
            text=True,
            timeout=120,
        )
        return done.returncode, done.stdout + done.stderr

    code, said = newest("all")
    assert code == 2 and "knows 'keep' alone" in said
    (project.src / "pytest.py").write_text(SOME_FAIL)
    code, said = newest("keep")
    assert code == 1 and "six 1.17.0 -> not asked for" in said and "test_a.py::test_b" in said, said
    assert constraints.read_text() == "six==1.17.0\n"
    (project.src / "pytest.py").write_text(passing)
    assert newest()[0] == 0 and constraints.read_text() == "six==1.17.0\n"
    assert newest("keep")[0] == 0 and "six" not in constraints.read_text()
    assert (project.venv / "mark").exists() and project.beside() == []
