"""Running one step of the set-up: its output goes to a log, its failure becomes a sentence."""

import os
import re
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from .places import CONSTRAINTS, REQUIREMENTS, ROOT
from .words import Refusal, fitting

TETHERED = Path(__file__).with_name("tethered.py")
# settings that would send packages or imports to another place, or compile anew each time
UNWANTED = (
    "PYTHONHOME",
    "PYTHONPATH",
    "PYTHONSTARTUP",
    "PYTHONDONTWRITEBYTECODE",
    "PIP_TARGET",
    "PIP_PREFIX",
    "PIP_ROOT",
    "__PYVENV_LAUNCHER__",
)
MEANINGS = (  # what pip prints, and what it means; the first that fits is said
    (
        r"No space left on device|not enough space on the disk|Disk quota exceeded",
        "the disk is full: make room",
    ),
    (
        r"CERTIFICATE_VERIFY_FAILED|SSLError",
        "the connection could not be trusted (a school or company filter may stand in between): "
        "ask the person who looks after the network, or use a folder of wheels with "
        "--wheels FOLDER",
    ),
    (
        r"NewConnectionError|NameResolutionError|name resolution|getaddrinfo failed"
        r"|Connection refused|Network is unreachable|ConnectTimeout|ReadTimeout|timed out"
        r"|ProxyError|ConnectionReset"
        r"|Max retries exceeded|RemoteDisconnected|IncompleteRead",
        "the packages could not be fetched from the internet: check the connection, "
        "or use a folder of wheels with --wheels FOLDER",
    ),
    (
        r"No matching distribution found|ResolutionImpossible",
        "one of the package releases this workbook was tried with cannot be had here: read "
        "README.md, 'By hand instead', for a set-up with other releases",
    ),
    (
        r"being used by another process|WinError 32|WinError 5\b",
        "a file is in use: close every open workbook and every program that uses .venv",
    ),
    (
        r"Permission denied|Read-only file system",
        "a file could not be written: copy the workbook to a folder of your own",
    ),
)


def child_settings(env: Mapping[str, str] = os.environ) -> dict[str, str]:
    """The environment variables for a child Python that must use `.venv` and nothing else."""
    kept = {name: value for name, value in env.items() if name not in UNWANTED}
    return kept | {
        "PYTHONNOUSERSITE": "1",
        "PIP_USER": "0",
        "PIP_REQUIRE_VIRTUALENV": "0",
        "PIP_DISABLE_PIP_VERSION_CHECK": "1",
        "PIP_NO_INPUT": "1",
        "PIP_RETRIES": "2",
    }


def meaning_of(output: str) -> str | None:
    """What a failed step's output means, in words; nothing if it is not known."""
    return next((meaning for sign, meaning in MEANINGS if re.search(sign, output)), None)


def failure(output: str, log: Path) -> str:
    """The sentence for a step that failed with this output."""
    lines = [line.strip() for line in output.splitlines() if line.strip()]
    errors = [line for line in lines if line.startswith("ERROR")] or lines or ["no message"]
    return unfinished(
        meaning_of(output) or f"a step failed with '{errors[-1][:200]}': read {log} and see to that"
    )


def unfinished(what: str) -> str:
    """The sentence for work that stopped midway: why, and that it can be taken up again."""
    return f"This could not be finished, since {what}; then run the same command again."


def run_step(
    command: list[Any], log: Path, on_line: Callable[[str], None] = lambda line: None
) -> None:
    """Run a command with its output going to the log; refuse if it fails.

    It ends with us, however we end (see `tethered`).
    """
    child = subprocess.Popen(
        [sys.executable, "-I", "-S", str(TETHERED), *map(str, command)],
        cwd=ROOT,
        env=child_settings(),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        errors="replace",
        start_new_session=True,  # a group of its own, to be ended as one
    )
    try:
        output = _follow(child, log, on_line)
        code = child.wait()
    finally:
        if child.stdin:
            child.stdin.close()
        if child.poll() is None:  # we were interrupted: leave nobody behind
            child.wait()
    if code:
        raise Refusal(failure(output, log))


def _follow(child: "subprocess.Popen[str]", log: Path, on_line: Callable[[str], None]) -> str:
    """Copy what a child prints to the log as it comes; return all of it."""
    seen = []
    assert child.stdout  # a pipe, asked for above
    with open(log, "a", encoding="utf-8") as record:
        for line in child.stdout:
            seen.append(line)
            record.write(line)
            on_line(line)
    return "".join(seen)


def show(text: str) -> None:
    """Show what is going on in one changing line: on a screen only, not in a file."""
    if sys.stdout is not None and sys.stdout.isatty():
        shown = fitting(text[:60], sys.stdout)
        sys.stdout.write(f"\r          {shown:<60}" if text else "\r" + " " * 70 + "\r")
        sys.stdout.flush()


def progress(line: str) -> None:
    """Show which package pip is busy with."""
    found = re.match(r"\s*(Collecting|Downloading|Building|Installing) (.+)", line)
    if found:
        show(f"{found[1].lower()} {found[2]}")


def pip(python: Path, *words: Any) -> list[Any]:
    """The command for pip in an environment."""
    return [python, "-m", "pip", *words, "--progress-bar", "off", "--no-color"]


def source(folder: Path | None) -> list[Any]:
    """Where pip takes packages from: the internet, or a folder of wheels alone."""
    return ["--no-index", "--find-links", folder] if folder else []


def install_command(python: Path, folder: Path | None = None) -> list[Any]:
    """Install what is missing, each package in the release that was tried. Modules are compiled
    when they are first used: most never are, and a first start takes little more than half the
    work and a quarter less disk.
    """
    return pip(
        python, "install", "--no-compile", *source(folder), "-c", CONSTRAINTS, "-r", REQUIREMENTS
    )
