"""One set-up at a time: a lock that the system lets go of when its program ends in any way."""

import contextlib
import importlib
import os
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from .words import Refusal


@contextlib.contextmanager
def only_one(lock: Path) -> Iterator[None]:
    """Hold the lock; refuse if another program holds it, since two set-ups would spoil each other.

    The file itself stays: it means nothing, and taking it away would let a third program in.
    """
    with open(lock, "a+b") as handle:
        if not _taken(handle):
            raise Refusal(
                "Another start is setting this folder up at the moment: "
                "wait until it is finished, then start again."
            )
        yield


def _taken(handle: IO[bytes]) -> bool:
    """Take the lock; false if another program has it.

    A disk that knows no locks lets everyone in.
    """
    try:
        if os.name == "nt":
            locks = importlib.import_module("msvcrt")  # on Windows alone
            locks.locking(handle.fileno(), locks.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    except OSError:
        return True
    return True
