"""Taking up what students put in their trays: plain files only, each once, with the time the server
saw it.
"""

import os
import stat
from pathlib import Path

from launch.words import Refusal, say

from .place import Place

END = ".answers.txt"
MOST_BYTES = 1_000_000
MOST_FILES = 50  # of one student


def take(
    place: Place, goal: Path | str, begins: str = ""
) -> tuple[list[str], list[tuple[str, str]]]:
    """Copy the answer files of all trays into a folder; return (names copied, [(name, reason)])."""
    goal = Path(goal)
    if not goal.is_dir():
        raise Refusal(
            f"There is no folder {goal}: name the one in came_back that the desk made "
            "for the assignment."
        )
    taken: list[str] = []
    left: list[tuple[str, str]] = []
    for tray in sorted(
        path for path in place.trays.iterdir() if path.is_dir() and not path.is_symlink()
    ):
        for name in _answer_files(tray, begins):
            data, when, reason = read(tray / name)
            if reason:
                left.append((f"{tray.name}/{name}", reason))
            elif put := _put(goal, f"{tray.name} {name}", data, when):
                taken.append(put)
    return taken, left


def _answer_files(tray: Path, begins: str) -> list[str]:
    """The names of answer files in a tray, the first so many."""
    try:
        found = sorted(os.listdir(tray))
    except OSError:
        return []
    return [
        name
        for name in found
        if name.startswith(begins) and END.removesuffix(".txt") in name and not name.startswith(".")
    ][:MOST_FILES]


def read(path: Path) -> tuple[bytes, float, str]:
    """(bytes, time, reason): a plain file's bytes and when it last came or changed, or why it is
    left.

    No link is followed and nothing waits: the tray is a student's. The time is the one the
    system keeps by itself, which a student cannot set.
    """
    try:
        handle = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
    except OSError as why:
        return b"", 0, f"cannot be opened ({why.strerror})"
    seen = os.fstat(handle)
    if not stat.S_ISREG(seen.st_mode) or seen.st_size > MOST_BYTES:
        os.close(handle)
        return b"", 0, "not a plain file of at most 1 MB"
    with os.fdopen(handle, "rb") as file:
        return file.read(MOST_BYTES), seen.st_ctime, ""


def _put(goal: Path, name: str, data: bytes, when: float) -> str | None:
    """Write a file under the first name that is free; nothing if these bytes are there already.

    Its name, or nothing.
    """
    for at in range(1, 1000):
        path = goal / (name if at == 1 else f"{name.removesuffix('.txt')} ({at}).txt")
        if not path.exists():
            path.write_bytes(data)
            os.utime(path, (when, when))
            return path.name
        if path.read_bytes() == data:
            return None
    return None


def report(taken: list[str], left: list[tuple[str, str]]) -> None:
    """Say what was taken."""
    say(f"{len(taken)} new answer files taken." if taken else "Nothing new in the trays.")
    for name, reason in left:
        say(f"  left: {name!r}: {reason}")
