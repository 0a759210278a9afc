"""`src/start.py` and `src/launch`: decisions before anything is installed, and refusals."""

import io
import json
import os
import re
import shutil
import socket
import subprocess
import sys
import time
import tomllib
from collections import namedtuple
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "src"))

import start
from launch import (
    checks,
    commands,
    environment,
    lab,
    lock,
    newest,
    places,
    steps,
    wheels,
    words,
)
from launch.words import Ended, Refusal

ROOT = Path(__file__).parents[1]
START = ROOT / "src" / "start.py"

Disk = namedtuple("Disk", "total used free")
OLD = ["2.7", "3.5", "3.6", "3.7", "3.8", "3.9", "3.10"]
DONE = {"state": "done", "root": str(ROOT), "python": "3.12", "needs": "abc"}


def run(*words, env=None, python=sys.executable):
    """Run start.py as a person would, from another folder."""
    return subprocess.run(
        [python, str(START), *words],
        capture_output=True,
        text=True,
        cwd=os.sep,
        timeout=60,
        env=os.environ | (env or {}),
        encoding="utf-8",
    )


def one_sentence(text):
    """One line with one full stop at its end (points inside names and numbers do not count)."""
    return "\n" not in text.strip() and len(re.findall(r"[.!?](?= |$)", text.strip())) == 1


# --- the Python it is started with ---


@pytest.mark.parametrize("version", [(2, 7, 18), (3, 6, 15), (3, 10, 13)])
def test_an_old_python_is_refused_with_both_versions_named(version):
    sentence = start.too_old(version)
    assert "3.11" in sentence and "{}.{}".format(*version) in sentence and one_sentence(sentence)


@pytest.mark.parametrize("version", [(3, 11, 0), (3, 14, 1), (4, 0, 0)])
def test_a_new_python_is_let_in(version):
    assert start.too_old(version) is None


def test_the_package_asks_for_the_same_python():
    told = tomllib.loads(places.PYPROJECT.read_text("utf-8"))["project"]["requires-python"]
    assert told == ">={}.{}".format(*start.OLDEST)


def test_package_and_metadata_tell_one_version():
    told = tomllib.loads(places.PYPROJECT.read_text("utf-8"))["project"]["version"]
    assert f'__version__ = "{told}"' in (places.SRC / "leverarm/__init__.py").read_text("utf-8")


def old_pythons():
    """Old Pythons that run on this machine."""
    names = [shutil.which(f"python{version}") for version in OLD]
    managed = Path.home() / ".pyenv" / "versions"
    found = [str(path) for version in OLD for path in managed.glob(f"{version}.*/bin/python")]
    return [name for name in (*filter(None, names), *found) if "shims" not in name]


def test_old_pythons_on_this_machine_print_the_sentence_and_no_traceback():
    found = old_pythons()
    if not found:
        pytest.skip("no old Python on this machine")
    for python in found:
        told = run("test", python=python)
        assert told.returncode == 1 and told.stderr.startswith("This workbook needs Python 3.11")


def test_the_front_door_keeps_to_old_words():
    """No f-string, annotation or walrus: an old Python must be able to read the whole file."""
    text = START.read_text("ascii")
    assert not re.search(r"\bf\"|\bf'|->|:=|\bnonlocal\b|\basync\b", text)


# --- refusals before anything is touched: what is wrong, and what to do ---


def nothing(name):
    return None


REFUSALS = {
    "another implementation": (lambda tmp: checks.fit_python("pypy"), "pypy.*python.org"),
    "no venv": (
        lambda tmp: checks.fit_python("cpython", nothing),
        "venv.*apt install python3-venv",
    ),
    "no ensurepip": (
        lambda tmp: checks.fit_python("cpython", lambda name: name == "venv" or None),
        "ensurepip",
    ),
    "no ssl": (lambda tmp: checks.secure_python(nothing), "ssl.*--wheels"),
    "folder not there": (lambda tmp: checks.writable(tmp / "none"), "cannot be written to.*copy"),
    "disk full": (
        lambda tmp: checks.room(tmp, 900, lambda _: Disk(1, 1, 120_000_000)),
        "900 MB.*120 MB.*make room",
    ),
    "long path on Windows": (
        lambda tmp: checks.short_path("C:\\" + "x" * 90, "nt", lambda: False),
        "93 letters.*at most 89",
    ),
    "port in letters": (lambda tmp: checks.port_number("eight"), "1024 to 65535.*'eight'"),
    "port too small": (lambda tmp: checks.port_number("80"), "1024 to 65535.*'80'"),
    "port too large": (lambda tmp: checks.port_number("65536"), "1024 to 65535"),
    "port with a sign": (lambda tmp: checks.port_number("-8888"), "1024 to 65535"),
    "port in other digits": (
        lambda tmp: checks.port_number("\u0668\u0668\u0668\u0668"),
        "1024 to 65535",
    ),
    "port endless": (lambda tmp: checks.port_number("9" * 5000), "1024 to 65535"),
    "unknown option": (lambda tmp: commands.read_options(["--prot", "9"]), "--prot"),
    "option without value": (lambda tmp: commands.read_options(["--port"]), "--port"),
    "shortened option": (lambda tmp: commands.read_options(["--no-b"]), "--no-b"),
    "unknown command": (lambda tmp: commands.read_options(["tset"]), "tset"),
    "no folder for wheels": (lambda tmp: commands.gather_wheels(None, []), "wheels FOLDER"),
    "two folders for wheels": (
        lambda tmp: commands.gather_wheels(None, ["a", "b"]),
        "wheels FOLDER",
    ),
    "wheels into a file": (lambda tmp: wheels.begin(file_in(tmp)), "is a file"),
    "wheels among other files": (lambda tmp: wheels.begin(file_in(tmp).parent), "already holds"),
    "no such folder of wheels": (
        lambda tmp: wheels.check(tmp / "none", "3.12"),
        "no folder.*wheels",
    ),
    "not a folder of wheels": (lambda tmp: wheels.check(tmp, "3.12"), "not a finished folder"),
    "unfinished wheels": (lambda tmp: wheels.check(begun(tmp), "3.12"), "not a finished folder"),
    "wheels for another Python": (
        lambda tmp: wheels.check(made(tmp), "3.11"),
        "for Python 3.12.*3.11",
    ),
    "wheels for another system": (
        lambda tmp: wheels.check(made(tmp), "3.12", "Moon x1"),
        "Moon x1",
    ),
    "a wheel is missing": (
        lambda tmp: wheels.check(made(tmp, lose=True), "3.12"),
        "lacks 1 of its 2",
    ),
    "a wheel is cut short": (
        lambda tmp: wheels.check(made(tmp, cut=True), "3.12"),
        "lacks 1 of its 2.*b.whl",
    ),
    "another one's .venv does not run": (
        lambda tmp: environment._adopt(tmp, None),
        "rename or delete",
    ),
    "another one's .venv is old": (
        lambda tmp: environment._adopt(tmp, "3.9"),
        "3.11.*rename or delete",
    ),
    "a start from inside .venv": (
        lambda tmp: environment.not_from_inside(Path(sys.prefix)),
        "start with the one of your",
    ),
    "a .venv that stays": (
        lambda tmp: environment.discard(tmp / "none"),
        "could not be renamed.*close every",
    ),
}


def file_in(folder):
    """A file in a folder."""
    (folder / "letter.txt").write_text("Dear")
    return folder / "letter.txt"


def begun(folder):
    """A folder of wheels that was never finished."""
    wheels.begin(folder / "wheels")
    return folder / "wheels"


def made(folder, lose=False, cut=False):
    """A finished folder of two wheels, perhaps damaged since."""
    inside = begun(folder)
    (inside / "a.whl").write_bytes(b"12345")
    (inside / "b.whl").write_bytes(b"123")
    wheels.finish(inside, "3.12")
    if lose:
        (inside / "a.whl").unlink()
    if cut:
        (inside / "b.whl").write_bytes(b"12")
    return inside


@pytest.mark.parametrize("case", REFUSALS)
def test_refusals(case, tmp_path):
    act, told = REFUSALS[case]
    with pytest.raises(Refusal, match=told) as caught:
        act(tmp_path)
    assert one_sentence(str(caught.value)) and caught.value.code in (1, 2)


def test_a_port_in_use_is_refused_and_a_free_one_is_not():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(Refusal, match=f"Port {port} is taken.*--port"):
            checks.port_free(port)
    checks.port_free(port)


def test_what_is_fit_passes_without_a_word(tmp_path):
    checks.fit_python()
    checks.secure_python()
    checks.writable(tmp_path)
    checks.room(tmp_path, 1)
    checks.short_path("C:\\" + "x" * 86, "nt", lambda: False)
    checks.short_path("C:\\" + "x" * 200, "nt", lambda: True)
    checks.short_path("/" + "x" * 200, "posix")
    assert checks.port_number("1024") == 1024 and checks.port_number("65535") == 65535
    assert list(tmp_path.iterdir()) == []


def test_a_read_only_folder_is_refused(tmp_path, monkeypatch):
    def refuse(**_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(checks.tempfile, "TemporaryFile", refuse)
    with pytest.raises(Refusal, match=r"cannot be written to \(Permission denied\): copy"):
        checks.writable(tmp_path)


# --- what pip's trouble means ---

TROUBLES = [
    (
        "ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device",
        "disk is full",
    ),
    (
        "Failed to establish a new connection: [Errno -3] Temporary failure in name resolution",
        "internet",
    ),
    ("NewConnectionError(...): Failed: [Errno 11001] getaddrinfo failed", "internet"),
    ("pip._vendor.urllib3.exceptions.ReadTimeoutError: Read timed out.", "internet"),
    (
        "Max retries exceeded ... SSLError(SSLCertVerificationError(1, 'CERTIFICATE_VERIFY_FAILED",
        "filter",
    ),
    (
        (
            "[WinError 32] The process cannot access the file because it is being used by "
            "another process"
        ),
        "in use",
    ),
    ("OSError: [Errno 30] Read-only file system: '/x'", "of your own"),
    ("OSError: [Errno 13] Permission denied: '/x'", "of your own"),
]


@pytest.mark.parametrize("output, told", TROUBLES)
def test_troubles_are_told_in_words(output, told):
    sentence = steps.failure("Collecting x\n" + output, "setup.log")
    assert told in sentence and one_sentence(sentence)


def test_an_unknown_trouble_quotes_the_error_and_names_the_log():
    sentence = steps.failure("Collecting x\nERROR: odd thing\nnote: more\n", "setup.log")
    assert "ERROR: odd thing" in sentence and "setup.log" in sentence
    assert "no message" in steps.failure("", "setup.log")


def test_a_step_logs_what_it_prints_and_refuses_when_it_fails(tmp_path):
    log, seen = tmp_path / "setup.log", []
    steps.run_step([sys.executable, "-c", "print('fine')"], log, seen.append)
    assert log.read_text() == "fine\n" and seen == ["fine\n"]
    with pytest.raises(Refusal, match="disk is full"):
        steps.run_step([sys.executable, "-c", "raise SystemExit('No space left on device')"], log)
    assert log.read_text() == "fine\nNo space left on device\n"


def test_an_interrupted_step_leaves_no_child_behind(tmp_path):
    def interrupt(line):
        raise KeyboardInterrupt

    code = "import os, time; print(os.getpid(), flush=True); time.sleep(60)"
    begin = time.monotonic()
    with pytest.raises(KeyboardInterrupt):
        steps.run_step([sys.executable, "-c", code], tmp_path / "log", interrupt)
    assert time.monotonic() - begin < 30


def test_children_are_kept_to_the_environment():
    env = steps.child_settings({"PYTHONPATH": "x", "PIP_TARGET": "y", "PIP_USER": "1", "LANG": "C"})
    assert (
        env["LANG"] == "C"
        and env["PIP_USER"] == "0"
        and not {"PYTHONPATH", "PIP_TARGET"} & set(env)
    )


# --- the state of .venv ---

STATES = [
    ({}, False, None, "none"),
    ({}, True, "3.12", "foreign"),
    ({}, True, None, "foreign"),
    ({"state": "begun"}, True, "3.12", "broken"),
    ({"state": "begun", "adopted": True}, True, "3.12", "foreign"),
    ({"state": "spoiled"}, True, "3.12", "broken"),
    (DONE | {"state": "updating"}, True, "3.12", "broken"),
    (DONE, True, "3.12", "ready"),
    (DONE | {"adopted": True}, True, "3.12", "ready"),
    (DONE, True, None, "broken"),
    (DONE, True, "3.13", "broken"),
    (DONE | {"adopted": True}, True, "3.13", "foreign"),
    (DONE | {"root": "/elsewhere"}, True, "3.12", "moved"),
    (DONE | {"root": "/elsewhere", "adopted": True}, True, "3.12", "moved"),
    (DONE | {"root": "/elsewhere", "needs": "older"}, True, "3.12", "moved"),
    (DONE | {"root": ""}, True, "3.12", "broken"),
    (DONE | {"needs": "older"}, True, "3.12", "stale"),
]


@pytest.mark.parametrize("note, exists, version, expected", STATES)
def test_states(note, exists, version, expected):
    assert environment.state(note, exists, version, "abc", ROOT) == expected


def test_a_spoiled_note_is_a_broken_set_up_and_no_note_is_not_ours(tmp_path):
    assert environment.look(tmp_path / "none")[0] == "none"
    assert environment.look(tmp_path)[0] == "foreign"
    (tmp_path / environment.NOTE).write_text('{"state": "do')
    assert environment.look(tmp_path)[0] == "broken"


def test_that_another_made_it_is_never_forgotten(tmp_path):
    environment._adopt(tmp_path, "3.12")
    environment.write_note(tmp_path, state="done")
    assert environment.read_note(tmp_path) == {"state": "done", "adopted": True}


def test_the_fingerprint_follows_contents_but_not_line_ends(tmp_path):
    file = tmp_path / "requirements.txt"
    prints = []
    for content in (b"a\nb\n", b"a\r\nb\r\n", b"a\nc\n"):
        file.write_bytes(content)
        prints.append(environment.needs([file]))
    assert prints[0] == prints[1] != prints[2]


def test_a_note_is_written_whole_or_not_at_all(tmp_path, monkeypatch):
    note = tmp_path / "setup.json"
    wheels.write_atomically(note, {"state": "begun"})
    monkeypatch.setattr(wheels.os, "replace", lambda *_: (_ for _ in ()).throw(OSError(28, "full")))
    with pytest.raises(OSError):
        wheels.write_atomically(note, {"state": "done"})
    assert wheels.read_json(note) == {"state": "begun"}


def test_two_set_ups_at_once_are_one_too_many(tmp_path):
    path = tmp_path / "lock"
    with (
        lock.only_one(path),
        pytest.raises(Refusal, match=r"Another start.*wait"),
        lock.only_one(path),
    ):
        pass
    with lock.only_one(path):
        pass


def test_a_lock_dies_with_its_program(tmp_path):
    """Killed, so that it could tidy up nothing: the file is there, and the lock is free."""
    code = (
        f"import sys, time, pathlib; sys.path.insert(0, {str(ROOT / 'src')!r})\n"
        "from launch.lock import only_one\n"
        "with only_one(pathlib.Path(sys.argv[1])): print('held', flush=True); time.sleep(60)"
    )
    path = tmp_path / "lock"
    with subprocess.Popen(
        [sys.executable, "-c", code, str(path)], stdout=subprocess.PIPE, text=True
    ) as holder:
        assert holder.stdout.readline() == "held\n"
        with pytest.raises(Refusal, match="Another start"), lock.only_one(path):
            pass
        holder.kill()
    assert path.exists()
    with lock.only_one(path):
        pass


class Recorder:
    """Stands in for the slow steps of a set-up, and can fail at one of them."""

    def __init__(self, fail_at=None):
        self.ran, self.fail_at = [], fail_at

    def __call__(self, command, log, on_line=None):
        step = "venv" if "venv" in map(str, command) else "pip" if "pip" in command else "try"
        self.ran.append(step)
        if step == self.fail_at:
            raise KeyboardInterrupt


HERE = "{}.{}".format(*sys.version_info)


@pytest.fixture
def project(tmp_path, monkeypatch):
    """The `.venv` of a project in which a set-up runs all its steps but the slow ones."""
    real = environment.look
    monkeypatch.setattr(environment, "ROOT", tmp_path)
    monkeypatch.setattr(environment, "LOCK", tmp_path / ".setup.lock")
    monkeypatch.setattr(environment, "version_of", lambda python: HERE)
    monkeypatch.setattr(environment, "look", lambda venv: real(venv, tmp_path))
    monkeypatch.setattr(environment, "works", lambda venv: False)
    monkeypatch.setattr(checks, "room", lambda folder: None)
    return tmp_path / ".venv"


def set_up(monkeypatch, venv, fail_at=None):
    """One start; the slow steps it ran."""
    recorder = Recorder(fail_at)
    monkeypatch.setattr(environment, "run_step", recorder)
    try:
        environment.ready(venv=venv)
    except KeyboardInterrupt:
        recorder.ran.append("interrupted")
    return recorder.ran


def test_a_second_start_installs_nothing(project, monkeypatch):
    assert set_up(monkeypatch, project) == ["venv", "pip", "try"]
    assert set_up(monkeypatch, project) == []


@pytest.mark.parametrize("step", ["venv", "pip", "try"])
def test_an_interrupted_set_up_is_made_again_by_the_next_start(project, monkeypatch, step):
    assert set_up(monkeypatch, project, fail_at=step)[-1] == "interrupted"
    assert environment.look(project)[0] == "broken"
    (project / "leftover").touch()
    assert set_up(monkeypatch, project) == ["venv", "pip", "try"]
    assert environment.look(project)[0] == "ready" and not (project / "leftover").exists()


def test_another_ones_environment_is_filled_and_never_removed(project, monkeypatch):
    project.mkdir()
    (project / "theirs").touch()
    assert set_up(monkeypatch, project, fail_at="pip") == ["pip", "interrupted"]
    assert set_up(monkeypatch, project) == ["pip", "try"]
    assert (project / "theirs").exists() and environment.look(project)[0] == "ready"


def test_what_is_newly_asked_for_is_added_without_starting_over(project, monkeypatch):
    set_up(monkeypatch, project)
    environment.write_note(project, needs="older")
    assert set_up(monkeypatch, project) == ["pip", "try"]


def test_what_was_added_to_and_runs_no_more_is_made_again(project, monkeypatch):
    """The try-out fails after the first `pip`, and not after the second."""
    set_up(monkeypatch, project)
    environment.write_note(project, needs="older")
    ran = []

    def step(command, log, on_line=None):
        ran.append("venv" if "venv" in command else "pip" if "pip" in command else "try")
        if ran == ["pip", "try"]:
            raise Refusal("The packages do not fit.")

    monkeypatch.setattr(environment, "run_step", step)
    environment.ready(venv=project)
    assert ran == ["pip", "try", "venv", "pip", "try"] and environment.look(project)[0] == "ready"


def test_paths_are_mended_in_text_and_only_below_the_old_folder(tmp_path, monkeypatch):
    venv = tmp_path / ".venv"
    scripts = environment.python_in(venv).parent
    lists = venv / "lib" / "python3.12" / "site-packages"
    scripts.mkdir(parents=True)
    lists.mkdir(parents=True)
    old, new = (os.path.join(os.sep, "a", name) for name in ("old", "new place"))
    text = "#!{0}{1}.venv{1}bin{1}python\n# {0}er{1}x and x{0}\n"
    for path in (scripts / "tool", lists / "leverarm.pth", venv / "pyvenv.cfg"):
        path.write_text(text.format(old, os.sep))
    (scripts / "tool.exe").write_bytes(b"MZ\0" + os.fsencode(old + os.sep))
    environment.write_note(venv, **DONE | {"root": old})
    monkeypatch.setattr(environment, "works", lambda venv: True)
    environment.relocate(venv, Path(new))
    first, second = text.format(old, os.sep).splitlines()
    for path in (scripts / "tool", lists / "leverarm.pth", venv / "pyvenv.cfg"):
        assert path.read_text().splitlines() == [first.replace(old, new), second]
    assert old in (scripts / "tool.exe").read_bytes().decode("latin-1")
    assert environment.read_note(venv) == DONE | {"root": new}


# --- commands, settings, paths ---


@pytest.mark.parametrize(
    "typed, expected",
    [
        ([], ([], "open", [])),
        (["test"], ([], "test", [])),
        (["--wheels", "w", "setup"], (["--wheels", "w"], "setup", [])),
        (["test", "-k", "wheels", "--port"], ([], "test", ["-k", "wheels", "--port"])),
        (["--wheels", "test", "test", "-q"], (["--wheels", "test"], "test", ["-q"])),
        (["--port", "8890"], (["--port", "8890"], "open", [])),
        (["wheels", "my wheels"], ([], "wheels", ["my wheels"])),
        (["--wheels", "wheels"], (["--wheels", "wheels"], "open", [])),
    ],
)
def test_words_are_told_apart(typed, expected):
    assert commands.split(typed) == expected


def test_lab_answers_this_machine_alone_and_opens_the_first_page():
    command = lab.lab_command("py", system="win32", as_root=False)
    assert command[:3] == ["py", "-m", "jupyterlab"]
    assert "--ServerApp.ip=127.0.0.1" in command
    assert "--LabApp.default_url=/lab/tree/notebooks/00_start_here.ipynb" in command
    assert not any(
        "token" in word.lower() or ("root=" in word and "dir" not in word) for word in command
    )
    assert "--allow-root" not in command and not any("port" in word for word in command)


@pytest.mark.parametrize(
    "given, expected",
    [
        ({"port": 8890}, "--ServerApp.port=8890"),
        ({"port": 8890}, "--ServerApp.port_retries=0"),
        ({"browser": False}, "--ServerApp.open_browser=False"),
        ({"system": "linux"}, "--ServerApp.use_redirect_file=False"),
        ({"system": "darwin"}, "--ServerApp.use_redirect_file=True"),
        ({"as_root": True}, "--allow-root"),
    ],
)
def test_lab_options(given, expected):
    assert expected in lab.lab_command("py", **given)


def test_lab_reads_and_writes_nothing_of_the_users(tmp_path):
    theirs = {
        "JUPYTER_CONFIG_DIR": "/x/.jupyter",
        "JUPYTER_TOKEN": "x",
        "JUPYTERLAB_DIR": "/y",
        "PATH": "/p",
    }
    env = lab.lab_settings(theirs, tmp_path)
    assert env["JUPYTER_CONFIG_PATH"] == str(places.LAB_SETTINGS)
    assert not {"JUPYTER_TOKEN", "JUPYTERLAB_DIR"} & set(env)
    assert all(Path(env[name]).is_relative_to(tmp_path) for name in lab.FOLDERS)
    assert env["PATH"].endswith(os.pathsep + "/p")
    lab.make_folders(tmp_path)
    assert all(Path(env[name]).is_dir() for name in lab.FOLDERS)


def test_everything_a_start_writes_lies_in_the_project():
    assert places.VENV == ROOT / ".venv" and places.lab_home().is_relative_to(places.VENV)
    ignored = (ROOT / ".gitignore").read_text("utf-8").split()
    assert {".venv/", ".venv.*/", ".setup.lock"} <= set(ignored)


@pytest.mark.parametrize(
    "os_name, python, typed",
    [
        ("nt", "Scripts/python.exe", "py src\\start.py"),
        ("posix", "bin/python", "python3 src/start.py"),
    ],
)
def test_names_on_each_system(os_name, python, typed):
    assert places.python_in("v", os_name).as_posix() == f"v/{python}"
    assert words.launcher(os_name) == typed


def test_an_offline_install_names_the_folder_and_nothing_else():
    command = list(map(str, steps.install_command("py", Path("my wheels"))))
    assert "--no-index" in command and command[command.index("--find-links") + 1] == "my wheels"
    assert "--no-index" not in steps.install_command("py")


def test_wheels_hold_all_that_an_offline_install_asks_for():
    asked = wheels.wanted()
    names = {re.match(r"[\w-]+", line)[0] for line in asked}
    assert names >= {"jupyterlab", "ipywidgets", "numpy", "matplotlib", "sympy", "nbval", "pytest"}
    assert names >= {"hatchling", "editables"} and not any(line.startswith("-") for line in asked)


def test_a_whole_folder_of_wheels_passes_and_can_be_made_again(tmp_path):
    folder = made(tmp_path)
    wheels.check(folder, "3.12")
    wheels.begin(folder)
    assert [path.name for path in folder.iterdir()] == [wheels.CONTENTS]


def test_contents_from_strangers_cannot_point_outside(tmp_path):
    folder = made(tmp_path)
    (tmp_path / "outside.whl").write_bytes(b"12345")
    told = json.loads((folder / wheels.CONTENTS).read_text()) | {"wheels": {"../outside.whl": 5}}
    (folder / wheels.CONTENTS).write_text(json.dumps(told))
    with pytest.raises(Refusal, match="lacks 1 of its 1"):
        wheels.check(folder, "3.12")


def test_requirements_and_package_ask_for_the_same_ranges():
    lines = places.REQUIREMENTS.read_text("utf-8").splitlines()
    own = tomllib.loads(places.PYPROJECT.read_text("utf-8"))["project"]["dependencies"]
    assert lines[0] == "-e ./src" and set(own) <= set(lines)


# --- handing over ---


@pytest.mark.parametrize("code", [0, 1, 5])
def test_the_exit_code_of_the_tests_is_ours(code):
    child = [sys.executable, "-c", f"raise SystemExit({code})"]
    assert lab.hand_over(child, dict(os.environ)) == code


@pytest.mark.parametrize("kind", [KeyboardInterrupt, Ended])
def test_an_interrupt_ends_the_child_too(monkeypatch, kind):
    class Child:
        def __init__(self, *_, **__):
            self.told = []

        def wait(self, patience=None):
            if patience is None:
                raise kind
            return 0 if self.told or kind is KeyboardInterrupt else 1

        def terminate(self):
            self.told.append("terminate")

    monkeypatch.setattr(lab.subprocess, "Popen", Child)
    assert lab.hand_over(["x"], {}) == 0


# --- as a person sees it ---


def test_help_names_every_command_and_option():
    told = run("--help")
    assert told.returncode == 0
    for word in (
        "test",
        "setup",
        "wheels FOLDER",
        "site FOLDER",
        "--no-browser",
        "--port",
        "--wheels",
    ):
        assert word in told.stdout


@pytest.mark.parametrize(
    "typed",
    [["--prot"], ["tset"], ["--port", "x"], ["wheels"], ["site"], ["open", "x"], ["setup", "x"]],
)
def test_a_slip_on_the_command_line_gets_one_sentence_and_exit_2(typed):
    told = run(*typed)
    assert told.returncode == 2 and told.stdout == "" and one_sentence(told.stderr)


def test_a_console_that_knows_only_ascii_is_no_obstacle():
    console = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    words.say("Setting up \u00dcbung \u65e5", console)
    assert console.buffer.getvalue().strip() == rb"Setting up \xdcbung \u65e5"


def test_a_start_without_a_console_is_silent(monkeypatch):
    monkeypatch.setattr(sys, "stdout", None)
    words.say("nobody hears this")
    steps.show("nor this")


def interrupted(told, own):
    raise KeyboardInterrupt


def full(told, own):
    raise OSError(28, "No space left on device")


def read_only(told, own):
    raise OSError(30, "Read-only file system")


@pytest.mark.parametrize(
    "act, code, said",
    [
        (interrupted, 130, "Stopped before it was finished"),
        (full, 1, "the disk is full"),
        (read_only, 1, "folder of your own"),
    ],
)
def test_what_stops_a_command_is_said_in_one_sentence(monkeypatch, capsys, act, code, said):
    monkeypatch.setitem(commands.COMMANDS, "test", act)
    monkeypatch.setattr(commands.signal, "signal", lambda *_: None)
    assert commands.main(["test"]) == code
    told = capsys.readouterr().err
    assert said in told and one_sentence(told)


# --- the releases a set-up takes ---


def named(requirement):
    """The name in a line of requirements, as an index writes it."""
    return re.sub(r"[-_.]+", "-", re.match(r"[A-Za-z0-9._-]+", requirement)[0]).lower()


def test_every_package_asked_for_has_a_release_that_was_tried():
    tried = newest.releases(places.CONSTRAINTS.read_text("utf-8"))
    project = tomllib.loads(places.PYPROJECT.read_text("utf-8"))["project"]
    extras = project["optional-dependencies"]
    lines = [line for line in places.REQUIREMENTS.read_text("utf-8").splitlines() if line[0] != "-"]
    asked = [*lines, *project["dependencies"], *(extras[e] for e in newest.EXTRAS.split(","))]
    flat = [one for part in asked for one in ([part] if isinstance(part, str) else part)]
    assert {named(one) for one in flat} <= tried.keys()


def test_the_releases_that_were_tried_bind_no_python_that_was_not():
    text = places.CONSTRAINTS.read_text("utf-8")
    assert newest.constraints(newest.releases(text)) == text


def test_a_set_up_takes_the_releases_that_were_tried():
    command = [str(word) for word in steps.install_command(Path("python"))]
    assert command[command.index("-c") + 1] == str(places.CONSTRAINTS)
    assert environment.needs([places.CONSTRAINTS]) != environment.needs([places.REQUIREMENTS])


def test_trying_the_packages_out_writes_nothing_in_the_home_of_the_person(tmp_path):
    home = {"HOME": str(tmp_path), "USERPROFILE": str(tmp_path), "XDG_CONFIG_HOME": ""}
    kept = {key: text for key, text in os.environ.items() if key != "MPLCONFIGDIR"}
    subprocess.run(
        [sys.executable, "-c", environment.IMPORTS, str(ROOT)], env=kept | home, check=False
    )
    assert list(tmp_path.rglob("*")) == []
