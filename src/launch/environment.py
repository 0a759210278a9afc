"""The environment in `.venv`: what state it is in, and how it becomes ready.

A note inside it, `.venv/setup.json`, says how far a set-up got: it is written as "begun"
before anything else and as "done" after everything else. So the next start knows at once
whether there is nothing to do, something to add, or half a set-up to make again.
"""

import contextlib
import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

from . import checks, wheels
from .places import LAB_SETTINGS, LOCK, PYPROJECT, REQUIREMENTS, ROOT, VENV, python_in
from .steps import child_settings, install_command, progress, run_step, show
from .words import Refusal, launcher, say

NOTE = "setup.json"
LOG = "setup.log"
PROBE = "import sys; print('%d.%d' % sys.version_info[:2])"
IMPORTS = "import leverarm, jupyterlab.labapp, ipywidgets, numpy, matplotlib, sympy, nbval, pytest"


def needs(files=None):
    """A fingerprint of what must be installed. Line ends do not count."""
    settings = sorted(LAB_SETTINGS.rglob("default_setting_overrides.json"))
    digest = hashlib.sha256()
    for path in files or [REQUIREMENTS, PYPROJECT, *settings]:
        digest.update(path.name.encode() + b"\0" + path.read_bytes().replace(b"\r\n", b"\n"))
    return digest.hexdigest()


def version_of(python):
    """The version ("3.12") of a Python that runs; nothing if it does not."""
    try:
        told = subprocess.run(
            [str(python), "-c", PROBE],
            capture_output=True,
            text=True,
            timeout=60,
            env=child_settings(),
        )
    except (OSError, subprocess.SubprocessError):
        return None
    return told.stdout.strip() if told.returncode == 0 else None


def state(note, exists, version, needed, root=ROOT):
    """What `.venv` is, from its note, its Python's version and what is needed now.

    none: there is none. foreign: somebody else made it. half: a set-up stopped midway, or the
    folder was moved, or its Python is gone. stale: something is missing. ready.
    """
    if not exists:
        return "none"
    if not note:
        return "foreign"
    here = ("done", str(root), version)
    if version is None or (note.get("state"), note.get("root"), note.get("python")) != here:
        return "foreign" if note.get("adopted") else "half"
    return "ready" if note.get("needs") == needed else "stale"


def _read(venv):
    """The note in an environment; a spoilt one is a note all the same."""
    spoilt = {"state": "spoilt"} if (venv / NOTE).exists() else {}
    return wheels.read_json(venv / NOTE) or spoilt


def _note(venv, **told):
    """Write the note; that somebody else made the environment is never forgotten."""
    adopted = {"adopted": True} if _read(venv).get("adopted") else {}
    wheels.write_atomically(venv / NOTE, adopted | told)


def look(venv=VENV, root=ROOT):
    """The state of `.venv` now, and the version of its Python."""
    version = version_of(python_in(venv))
    return state(_read(venv), os.path.lexists(venv), version, needs(), root), version


@contextlib.contextmanager
def only_one(lock):
    """Two set-ups at once would spoil each other: the second one is refused.

    The system lets go of the lock when the program ends, however it ends.
    """
    with open(lock, "a+b") as handle:
        if not _lock(handle):
            raise Refusal(
                "Another start is setting this folder up at the moment: "
                "wait until it is finished, then start again."
            )
        try:
            yield
        finally:
            if os.name != "nt":  # Windows cannot remove an open file; git ignores it
                lock.unlink(missing_ok=True)


def _lock(handle):
    """Take the lock; false if another program has it. A disk that knows no locks is let pass."""
    try:
        if os.name == "nt":
            import msvcrt

            msvcrt.locking(handle.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    except OSError:
        return True
    return True


def not_from_inside(venv):
    """This start does not run on the very Python it must take away."""
    if Path(sys.prefix).resolve() == venv.resolve():
        raise Refusal(
            "The Python in .venv cannot make .venv again: "
            f"start with the one of your system, {launcher()}."
        )


def remove(venv):
    """Take away an environment that cannot be finished, to make it again."""
    try:
        shutil.rmtree(venv)
    except OSError as error:
        raise Refusal(
            f"The half-made folder {venv} could not be removed ({error.strerror}): close every open "
            "workbook and every program that uses it, or delete it by hand, then start again."
        ) from None


def _make(venv):
    """Make the environment, with a note that it is not finished."""
    checks.room(venv.parent)
    venv.mkdir()
    _note(venv, state="begun")
    say("  1 of 3  Making a Python environment in .venv")
    run_step([sys.executable, "-m", "venv", venv], venv / LOG)


def _adopt(venv, version):
    """Use an environment that somebody else made, if it works; it is never removed."""
    if version is None or tuple(map(int, version.split("."))) < (3, 11):
        raise Refusal(
            f"The folder {venv} was not made by this start and holds no working Python 3.11 or newer: "
            "rename or delete it, then start again."
        )
    say("  1 of 3  Using the Python environment that is in .venv already")
    wheels.write_atomically(venv / NOTE, {"state": "begun", "adopted": True})


def _prepare(venv, found, version):
    """Bring `.venv` to where packages can be installed into it."""
    if found == "half":
        say("  .venv is half made or was made elsewhere: making it again")
        remove(venv)
    if found in ("none", "half"):
        _make(venv)
    elif found == "foreign":
        _adopt(venv, version)
    else:
        say("  1 of 3  The Python environment in .venv is there; the workbook asks for more")
        _note(venv, state="begun")


def _fill(venv, folder):
    """Install and try the packages, then note that all is done."""
    python = python_in(venv)
    where = f"from {folder}" if folder else "from the internet"
    say(f"  2 of 3  Installing the packages {where} (the long part: one to ten minutes)")
    run_step(install_command(python, folder), venv / LOG, progress)
    show("")
    say("  3 of 3  Trying them out")
    run_step([python, "-c", IMPORTS], venv / LOG)
    _note(venv, state="done", needs=needs(), root=str(ROOT), python=version_of(python))


def _set_up(venv, found, version, folder):
    """Check what can be checked before anything is touched, then do it."""
    fresh = found in ("none", "half")
    if fresh:
        not_from_inside(venv)
    if folder:
        wheels.check(folder, "%d.%d" % sys.version_info[:2] if fresh else version)
    else:
        checks.secure_python()
    say(f"Setting up the workbook in {ROOT}")
    _prepare(venv, found, version)
    _fill(venv, folder)
    say("Ready.")


def ready(folder=None, venv=VENV):
    """Make `.venv` ready if it is not; return its Python."""
    checks.writable(ROOT)
    if look(venv)[0] == "ready":
        return python_in(venv)
    checks.fit_python()
    checks.short_path(ROOT)
    with only_one(LOCK):
        found, version = look(venv)  # again: another start may have finished it just now
        if found != "ready":
            _set_up(venv, found, version, folder)
    return python_in(venv)
