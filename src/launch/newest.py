"""The command `newest`: try the newest releases of every package, and say what broke.

`src/constraints.txt` names the release of each package that the tests ran on; a set-up takes
exactly these. `requirements.txt` and `pyproject.toml` say which others are allowed. This command
makes an environment of its own from the newest that are allowed, runs the tests in it, and leaves
the workbook's own environment as it is.
"""

import argparse
import re
import shutil
import subprocess
import sys
from pathlib import Path

from . import checks, environment, lab, wheels
from .places import CONSTRAINTS, REQUIREMENTS, ROOT, SRC, VENV, python_in
from .steps import pip, progress, run_step, show
from .words import Refusal, complain, launcher, say

NEWEST = VENV / "newest"
LOG = VENV / "newest.log"
EXTRAS = "browser,dev,server"
LAST_TRIED = (3, 13)  # on a later Python the ranges of requirements.txt decide alone
HEAD = """\
# The releases that the tests ran on, on Python 3.11 to {0}.{1}; a set-up takes these.
# On a later Python the ranges of requirements.txt decide alone.
# Made by `{2} newest keep`; do not edit by hand.
"""


def releases(text: str) -> dict[str, str]:
    """The release of each package, from lines as `pip freeze` or a file of constraints has them.

    >>> releases("# made\\nnumpy==2.4.6; python_version < '3.14'\\n-e ./src\\nsix==1.17.0\\n")
    {'numpy': '2.4.6', 'six': '1.17.0'}
    """
    found = re.findall(r"^([A-Za-z0-9._-]+)==([^\s;]+)", text, re.MULTILINE)
    return {re.sub(r"[-_.]+", "-", name).lower(): release for name, release in found}


def changed(before: dict[str, str], now: dict[str, str]) -> list[str]:
    """What is new, in words; a package that is asked for no longer, too.

    >>> changed({"numpy": "2.4.6", "six": "1.17.0"}, {"numpy": "2.5.0", "rich": "15.0.0"})
    ['numpy 2.4.6 -> 2.5.0', 'rich, not there before -> 15.0.0', 'six 1.17.0 -> not asked for']
    """
    names = sorted(name for name in before | now if before.get(name) != now.get(name))
    return [
        f"{name}{' ' + before[name] if name in before else ', not there before'}"
        f" -> {now.get(name, 'not asked for')}"
        for name in names
    ]


def constraints(found: dict[str, str], last: tuple[int, int] = LAST_TRIED) -> str:
    """The file of constraints for these releases.

    >>> print(constraints({"numpy": "2.4.6"}).splitlines()[-1])
    numpy==2.4.6; python_version < "3.14"
    """
    until = f'python_version < "{last[0]}.{last[1] + 1}"'
    lines = [f"{name}=={release}; {until}\n" for name, release in sorted(found.items())]
    return HEAD.format(*last, launcher("posix")) + "".join(lines)


def broken(output: str) -> list[str]:
    """The tests that failed, from what pytest printed.

    >>> broken("..F\\nFAILED tests/test_a.py::test_b - assert 1 == 2\\n1 failed")
    ['tests/test_a.py::test_b']
    """
    return re.findall(r"^(?:FAILED|ERROR) (\S+)", output, re.MULTILINE)


def _make() -> Path:
    """An environment with the newest that is allowed; its Python."""
    checks.room(VENV.parent)
    shutil.rmtree(NEWEST, ignore_errors=True)
    LOG.unlink(missing_ok=True)
    say(f"  1 of 2  Installing the newest packages in {NEWEST} (the long part)")
    run_step([sys.executable, "-m", "venv", NEWEST], LOG)
    python = python_in(NEWEST)
    newest = ("install", "--no-compile", "--upgrade")
    run_step(pip(python, *newest, "-r", REQUIREMENTS), LOG, progress)
    run_step(pip(python, *newest, "-e", f"{SRC}[{EXTRAS}]"), LOG, progress)
    show("")
    return python


def _tested(python: Path, options: list[str]) -> tuple[int, str]:
    """Run the tests in that environment; pytest's exit code and all it printed."""
    lab.make_folders(NEWEST)
    done = subprocess.run(
        [str(python), "-m", "pytest", *options],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        errors="replace",
        env=lab.lab_settings(venv=NEWEST),
        cwd=ROOT,
    )
    with LOG.open("a", encoding="utf-8") as record:
        record.write(done.stdout)
    return done.returncode, done.stdout


def try_newest(options: argparse.Namespace, words: list[str], how: list[str]) -> int:
    """Try the newest packages; with the word `keep`, note them where all tests pass."""
    if words not in ([], ["keep"]):
        raise Refusal(f"The command newest knows 'keep' alone: {launcher()} newest keep.", 2)
    checks.secure_python()
    if not VENV.is_dir():
        raise Refusal(f"The workbook is not set up here yet: run {launcher()} setup first.")
    python = _make()
    freeze = [str(python), "-m", "pip", "freeze", "--exclude", "leverarm"]
    found = releases(environment.output_of(freeze) or "")
    new = changed(releases(CONSTRAINTS.read_text("utf-8")), found)
    for line in new or ["Nothing is newer than what src/constraints.txt names."]:
        say(f"          {line}")
    say("  2 of 2  Running the tests with them (some minutes)")
    code, output = _tested(python, how)
    if code:
        for name in broken(output):
            say(f"          {name}")
        complain(
            f"With the newest packages {len(broken(output)) or 'some'} tests do not pass: "
            f"read {LOG}, mend the cause or narrow the range in requirements.txt, and until then "
            "the set-up keeps to src/constraints.txt."
        )
        return 1
    if words:
        wheels.write_whole(CONSTRAINTS, constraints(found))
        say(f"All tests pass with the newest packages, and {CONSTRAINTS} names them now.")
    else:
        say(f"All tests pass with the newest packages; '{launcher()} newest keep' notes them.")
    return 0
