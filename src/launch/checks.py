"""What must be true before a set-up begins.

Each check refuses with one sentence, or says nothing.
"""

import importlib
import importlib.util
import os
import shutil
import socket
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from .words import Refusal

NEEDED_MB = 800  # .venv is about 400 MB; the rest is room for the downloads and for what grows
LONGEST_INSIDE = 170  # letters in the longest path below the project folder
WINDOWS_LIMIT = 259  # letters in a path, where long paths are switched off


def fit_python(
    implementation: str = sys.implementation.name, find: Callable = importlib.util.find_spec
) -> None:
    """This Python is the common one and can make an environment."""
    if implementation != "cpython":
        raise Refusal(
            f"This workbook is for the standard Python (CPython), and this is {implementation}: "
            "install Python from python.org, then start again with it."
        )
    missing = [name for name in ("venv", "ensurepip") if find(name) is None]
    if missing:
        raise Refusal(
            f"This Python lacks its module {missing[0]}, which makes the environment: on Debian or "
            "Ubuntu run 'sudo apt install python3-venv', elsewhere install Python from python.org, "
            "then start again."
        )


def secure_python(find: Callable = importlib.util.find_spec) -> None:
    """This Python can fetch packages: a home-built one may lack `ssl`."""
    if find("ssl") is None:
        raise Refusal(
            "This Python lacks its module ssl, so it cannot fetch packages: "
            "install Python from python.org, or set up without the internet with --wheels FOLDER."
        )


def writable(folder: Path) -> None:
    """Files can be made in the folder. Asking for permission bits is not enough on Windows."""
    try:
        with tempfile.TemporaryFile(dir=folder):
            pass
    except OSError as error:
        raise Refusal(
            f"The folder {folder} cannot be written to ({error.strerror}): "
            "copy the whole workbook to a folder of your own, then start there."
        ) from None


def room(folder: Path, needed_mb: int = NEEDED_MB, usage: Callable = shutil.disk_usage) -> None:
    """The disk has room for the environment."""
    free_mb = usage(folder).free // 1_000_000
    if free_mb < needed_mb:
        raise Refusal(
            f"The set-up needs about {needed_mb} MB of free disk, and {folder} has {free_mb} MB: "
            "make room or copy the workbook to another disk, then start again."
        )


def _long_paths_on() -> bool:
    """Whether this Windows allows paths longer than 259 letters."""
    registry = importlib.import_module("winreg")  # on Windows alone
    place = r"SYSTEM\CurrentControlSet\Control\FileSystem"
    try:
        with registry.OpenKey(registry.HKEY_LOCAL_MACHINE, place) as key:
            return registry.QueryValueEx(key, "LongPathsEnabled")[0] == 1
    except OSError:
        return False


def short_path(
    folder: Path | str,
    os_name: str = os.name,
    long_paths_on: Callable[[], bool] = _long_paths_on,
) -> None:
    """The longest file of the environment still has a name that Windows can open."""
    most = WINDOWS_LIMIT - LONGEST_INSIDE
    if os_name == "nt" and len(str(folder)) > most and not long_paths_on():
        raise Refusal(
            f"The path {folder} has {len(str(folder))} letters, and on this Windows the workbook "
            f"can have at most {most}: move the folder to a shorter path such as C:\\leverarm."
        )


def port_number(text: str) -> int:
    """A port as typed.

    >>> port_number("8890")
    8890
    """
    if not (text.isascii() and text.isdigit() and 1024 <= int(text[:9]) <= 65535):
        raise Refusal(
            f"--port takes a whole number from 1024 to 65535, not {text!r}: "
            "give another one, or leave --port out and a free one is found.",
            code=2,
        )
    return int(text)


def port_free(port: int) -> None:
    """Nobody listens on this port."""
    with socket.socket() as probe:
        if os.name != "nt":  # there it means the opposite: share a port that is in use
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OSError:
            raise Refusal(
                f"Port {port} is taken by another program (perhaps a workbook still open): "
                "choose another with --port, or leave --port out and a free one is found."
            ) from None
