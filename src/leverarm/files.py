"""Files written whole: the old one or the new one, never half of each.

A file is written beside itself, forced to the disk and moved into place in one
step (POSIX rename, also on Windows).
"""

import os
import tempfile
import time
from contextlib import suppress
from pathlib import Path

TRIES = 5


def write_whole(path, data):
    """Write bytes as a file, all or nothing; OSError where the folder does not take it."""
    path = Path(path)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=".new-")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        _with_rights(name, path)
        _moved(name, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(name)
        raise
    _folder_to_disk(path.parent)


def _with_rights(name, path):
    """Give the new file the rights of the old one, or of any other new file: a temporary one is private."""
    mask = os.umask(0)
    os.umask(mask)
    with suppress(OSError):
        os.chmod(name, path.stat().st_mode if path.exists() else 0o666 & ~mask)


def _moved(name, path):
    """Move into place; where another program holds the file open (Windows), try again for a moment."""
    for left in reversed(range(TRIES)):
        try:
            return os.replace(name, path)
        except PermissionError:
            if not left:
                raise
            time.sleep(0.05)


def _folder_to_disk(folder):
    """Force the folder's entry to the disk, where the system knows how."""
    with suppress(OSError, AttributeError):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
