"""The environment in `.venv`: what state it is in, and how it becomes ready.

A note inside it, `.venv/setup.json`, says how far a set-up got: "begun" before anything else,
"updating" while packages are added to it, "done" after everything else. So the next start knows
whether there is nothing to do, something to add, or an environment to make again.

An environment is never removed before its replacement is finished. It waits beside, as
`.venv.old`, and comes back if the replacement fails, without internet for one. What is to be
removed is first renamed to `.venv.gone`, so that a start that is killed while it removes leaves
no half environment under the name of a whole one.
"""

import contextlib
import hashlib
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

from . import checks, wheels
from .lock import only_one
from .places import CONSTRAINTS, LAB_SETTINGS, LOCK, PYPROJECT, REQUIREMENTS, ROOT, VENV, python_in
from .steps import child_settings, install_command, progress, run_step, show
from .words import Refusal, launcher, say

NOTE = "setup.json"
LOG = "setup.log"
PROBE = "import sys; print('%d.%d' % sys.version_info[:2])"
# The workbook's own package must be the one in this folder, not where the folder was before.
# Matplotlib keeps its notes in the environment, not in the person's home.
IMPORTS = (
    "import os, sys; os.environ['MPLCONFIGDIR'] = os.path.join(sys.prefix, 'lab', 'matplotlib'); "
    "import pathlib, leverarm, jupyterlab.labapp, ipywidgets, numpy, matplotlib, "
    "sympy, nbval, xdist, "
    "pytest; sys.exit(not pathlib.Path(leverarm.__file__).resolve().is_relative_to(sys.argv[1]))"
)


def needs(files: list[Path] | None = None) -> str:
    """A fingerprint of what must be installed. Line ends do not count."""
    settings = sorted(LAB_SETTINGS.rglob("default_setting_overrides.json"))
    digest = hashlib.sha256()
    for path in files or [REQUIREMENTS, PYPROJECT, CONSTRAINTS, *settings]:
        digest.update(path.name.encode() + b"\0" + path.read_bytes().replace(b"\r\n", b"\n"))
    return digest.hexdigest()


def output_of(command: list[str]) -> str | None:
    """What a short command prints; nothing if it does not run or fails."""
    try:
        done = subprocess.run(
            command, capture_output=True, text=True, timeout=120, env=child_settings(), cwd=ROOT
        )
    except (OSError, subprocess.SubprocessError):
        return None
    return done.stdout.strip() if done.returncode == 0 else None


def version_of(python: Path) -> str | None:
    """The version ("3.12") of a Python that runs; nothing if it does not."""
    return output_of([str(python), "-c", PROBE])


def works(venv: Path) -> bool:
    """Whether everything the workbook opens with can be imported, from this folder."""
    return output_of([str(python_in(venv)), "-c", IMPORTS, str(ROOT)]) is not None


def state(
    note: dict[str, Any], exists: bool, version: str | None, needed: str, root: Path = ROOT
) -> str:
    """What `.venv` is, from its note, its Python's version and what is needed now.

    none: there is none. foreign: somebody else made it. broken: a set-up stopped midway, or its
    Python is gone. moved: it was made in another folder. stale: something is missing. ready.
    """
    if not exists:
        return "none"
    if not note:
        return "foreign"
    known = (note.get("state"), note.get("python")) == ("done", version) and note.get("root")
    if version is None or not known:
        return "foreign" if note.get("adopted") else "broken"
    if note["root"] != str(root):
        return "moved"
    return "ready" if note.get("needs") == needed else "stale"


def read_note(venv: Path) -> dict[str, Any]:
    """The note in an environment; a spoiled one is a note all the same."""
    spoiled = {"state": "spoiled"} if (venv / NOTE).exists() else {}
    return wheels.read_json(venv / NOTE) or spoiled


def write_note(venv: Path, **changes: Any) -> None:
    """Change the note; what it held before, stays."""
    wheels.write_atomically(venv / NOTE, read_note(venv) | changes)


def look(venv: Path = VENV, root: Path = ROOT) -> tuple[str, str | None]:
    """The state of `.venv` now, and the version of its Python."""
    version = version_of(python_in(venv))
    return state(read_note(venv), os.path.lexists(venv), version, needs(), root), version


# --- taking away, and bringing back ---


def old_of(venv: Path) -> Path:
    """Where an environment waits until its replacement is finished."""
    return venv.with_name(f"{venv.name}.old")


def new_of(venv: Path) -> Path:
    """Where an environment gets its note, before it takes its name."""
    return venv.with_name(f"{venv.name}.new")


def leftovers(venv: Path) -> list[Path]:
    """What starts that were killed left beside the environment."""
    found = [old_of(venv), new_of(venv), *venv.parent.glob(f"{venv.name}.gone-*")]
    return [path for path in found if os.path.lexists(path)]


def discard(folder: Path) -> None:
    """Remove an environment, or as much of it as can go now; the next start does the rest."""
    gone = folder.with_name(f"{VENV.name}.gone-{time.time_ns()}")
    _rename(folder, gone)
    shutil.rmtree(gone, ignore_errors=True)


def _rename(folder: Path, goal: Path) -> None:
    """Rename an environment; on Windows that fails while a program in it runs."""
    try:
        os.replace(folder, goal)
    except OSError as error:
        raise Refusal(
            f"The folder {folder} could not be renamed ({error.strerror}): "
            "close every open workbook "
            "and every program that uses it, then start again."
        ) from None


def tidy(venv: Path) -> None:
    """Finish what a killed start left: bring the old environment back, remove the rest."""
    old = old_of(venv)
    if os.path.lexists(old) and not os.path.lexists(venv):
        _rename(old, venv)
    for folder in leftovers(venv):
        if folder != old:
            shutil.rmtree(folder, ignore_errors=True)
    if os.path.lexists(old) and look(venv)[0] in ("ready", "stale"):
        discard(old)


# --- making ready ---


def not_from_inside(venv: Path) -> None:
    """This start does not run on the very Python it must replace."""
    if Path(sys.prefix).resolve() == venv.resolve():
        raise Refusal(
            "The Python in .venv cannot make .venv again: "
            f"start with the one of your system, {launcher()}."
        )


def _make(venv: Path) -> None:
    """Make the environment, with a note in it from the first moment that it is not finished."""
    checks.room(venv.parent)
    new = new_of(venv)
    new.mkdir()
    write_note(new, state="begun")
    os.replace(new, venv)
    say("  1 of 3  Making a Python environment in .venv")
    run_step([sys.executable, "-m", "venv", venv], venv / LOG)


def _fill(venv: Path, folder: Path | None) -> None:
    """Install and try the packages, then note that all is done."""
    if not folder:
        checks.secure_python()
    python = python_in(venv)
    where = f"from {folder}" if folder else "from the internet"
    say(f"  2 of 3  Installing the packages {where} (the long part: one to ten minutes)")
    run_step(install_command(python, folder), venv / LOG, progress)
    show("")
    say("  3 of 3  Trying them out")
    run_step([python, "-c", IMPORTS, ROOT], venv / LOG)
    write_note(venv, state="done", needs=needs(), root=str(ROOT), python=version_of(python))


def _replace(venv: Path, folder: Path | None) -> None:
    """Make the environment anew; the one that was there comes back if that fails."""
    not_from_inside(venv)
    old = old_of(venv)
    if os.path.lexists(venv):
        say("  .venv is half made or does not run here: making it again")
        discard(venv) if os.path.lexists(old) else _rename(venv, old)
    try:
        _make(venv)
        _fill(venv, folder)
    except BaseException:
        if os.path.lexists(old):
            with contextlib.suppress(Refusal):
                if os.path.lexists(venv):
                    discard(venv)
                _rename(old, venv)
        raise
    if os.path.lexists(old):
        discard(old)


def _update(venv: Path, folder: Path | None) -> None:
    """Add to an environment what it lacks. If a step fails by itself, nothing was changed."""
    before = read_note(venv)
    write_note(venv, state="updating")
    try:
        _fill(venv, folder)
    except Refusal:
        wheels.write_atomically(venv / NOTE, before)
        raise


def _adopt(venv: Path, version: str | None) -> None:
    """Use an environment that somebody else made, if it works; it is never removed."""
    if version is None or tuple(map(int, version.split("."))) < (3, 11):
        raise Refusal(
            f"The folder {venv} was not made by this start and holds no working Python "
            "3.11 or newer: "
            "rename or delete it, then start again."
        )
    say("  1 of 3  Using the Python environment that is in .venv already")
    write_note(venv, state="begun", adopted=True)


def relocate(venv: Path, root: Path = ROOT) -> None:
    """Mend the paths in an environment whose folder was renamed or copied; no internet is needed.

    They stand in the first lines of its commands, in the list of folders Python looks in, and in
    its own settings.
    """
    note = read_note(venv)
    was, now = (os.fsencode(os.path.join(path, "")) for path in (note["root"], root))
    lists = venv.glob("[Ll]ib*/**/site-packages/*.pth")
    for path in [*python_in(venv).parent.iterdir(), *lists, venv / "pyvenv.cfg"]:
        if path.is_file() and not path.is_symlink():
            data = path.read_bytes()
            if was in data and b"\0" not in data:  # a program is left alone: it is not used
                path.write_bytes(data.replace(was, now))
    write_note(venv, **({"root": str(root)} if works(venv) else {"state": "moved in vain"}))


def _set_up(venv: Path, found: str, version: str | None, folder: Path | None) -> None:
    """Do what the state asks for.

    What works already is used, even if it cannot be brought up to date.
    """
    try:
        if found == "foreign":
            _adopt(venv, version)
            _update(venv, folder)
        elif found == "stale":
            say("  1 of 3  The Python environment in .venv is there; the workbook asks for more")
            _update(venv, folder)
        else:
            _replace(venv, folder)
    except Refusal as refusal:
        if works(venv):
            say(f"{refusal} Until then the workbook runs with the packages that are there.")
        elif found == "stale":
            _replace(venv, folder)
        else:
            raise


def _check_wheels(found: str, version: str | None, folder: Path | None) -> None:
    """The folder of wheels is whole and fits the Python that they are for."""
    if folder:
        keeps_python = found in ("foreign", "stale") and version
        wheels.check(folder, version if keeps_python else ".".join(map(str, sys.version_info[:2])))


def ready(folder: Path | None = None, venv: Path = VENV) -> Path:
    """Make `.venv` ready if it is not; return its Python."""
    checks.writable(ROOT)
    if look(venv)[0] == "ready" and not leftovers(venv):
        return python_in(venv)
    checks.fit_python()
    checks.short_path(ROOT)
    with only_one(LOCK):
        tidy(venv)
        found, version = look(venv)  # again: another start may have finished it just now
        if found == "moved":
            say("The workbook's folder was renamed, moved or copied: mending the paths in .venv")
            relocate(venv)
            found, version = look(venv)
        if found != "ready":
            _check_wheels(found, version, folder)
            say(f"Setting up the workbook in {ROOT}")
            _set_up(venv, found, version, folder)
            say("Ready.")
    return python_in(venv)
