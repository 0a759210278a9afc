"""Files written whole, and what went wrong with one, in a sentence.

A reader finds the old file or the new one, never half of each.  A file is written
beside its place, forced to the disk and moved into place in one step (POSIX rename,
also on Windows).  A later write removes what a killed program left behind.
"""

import errno
import os
import re
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

TRIES = 5
PATIENCE_S, STALE_S = 3.0, 10.0
LEFT_S = 600.0  # older than this, a half-written file has nobody who finishes it
WINDOWS_LIMIT = 259  # letters in a path, where long paths are switched off
_LEFT = re.compile(r"\.new-[a-z0-9_]{8}")
_KEPT_BY_WINDOWS = re.compile(
    r"(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[0-9¹²³]) *(\..*)?", re.I
)
_NOT_ON_WINDOWS = re.compile(r'[<>:"|?*\x00-\x1f]')
_FULL = {errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)}
_CLOSED = {errno.EROFS, errno.EACCES, errno.EPERM}


def write_whole(path: str | os.PathLike[str], data: bytes) -> None:
    """Write bytes as a file, all or nothing.

    Raises OSError with this file's name where the folder does not take it.
    """
    path, name = Path(path), None
    try:
        _fit(path)
        _sweep(path.parent)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=".new-")
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        _with_rights(name, path)
        _moved(name, path)
    except BaseException as why:
        if name:
            with suppress(OSError):
                os.unlink(name)
        if isinstance(why, OSError) and why.errno:
            # OSError picks the subclass that belongs to the number.
            raise OSError(why.errno, why.strerror, str(path)) from why
        raise
    _folder_to_disk(path.parent)


def _fit(path: Path) -> None:
    """OSError for a name that this system would take for something else."""
    if reason := unfit_name(path.name):
        raise OSError(errno.EINVAL, reason)


def unfit_name(name: str, system: str = os.name) -> str:
    """Why no file can have this name, or "".

    Windows keeps names of devices, and reads a colon as a hidden part of a file.

    >>> unfit_name("con.csv", "nt"), unfit_name("console.csv", "nt"), unfit_name("con.csv", "posix")
    ('Windows keeps this name for itself', '', '')
    """
    if system != "nt":
        return ""
    if _KEPT_BY_WINDOWS.fullmatch(name):
        return "Windows keeps this name for itself"
    if found := _NOT_ON_WINDOWS.search(name):
        sign = found[0] if found[0].isprintable() else "control character"
        return f"Windows allows no {sign} in a name"
    return (
        "Windows drops a point or space at the end of a name" if name.endswith((".", " ")) else ""
    )


def _sweep(folder: Path) -> None:
    """Remove files that a killed program left half-written; nobody counts on them."""
    with suppress(OSError):
        for entry in abandoned_files(folder):
            if entry.is_file(follow_symlinks=False):
                os.unlink(entry.path)


def abandoned_files(folder: str | os.PathLike[str]) -> Iterator[os.DirEntry[str]]:
    """Half-written files in a folder, too old to have a living writer, even if the clock moved."""
    with os.scandir(folder) as entries:
        for entry in entries:
            if _LEFT.fullmatch(entry.name) and abs(time.time() - entry.stat().st_mtime) > LEFT_S:
                yield entry


def _with_rights(name: str, path: Path) -> None:
    """Give the new file the rights of the old one, or of any new file: a temporary is private."""
    mask = os.umask(0)
    os.umask(mask)
    with suppress(OSError):
        os.chmod(name, path.stat().st_mode if path.exists() else 0o666 & ~mask)


def _moved(name: str, path: Path) -> None:
    """Move into place; while another program holds the file open (Windows), try again briefly."""
    for left in reversed(range(TRIES)):
        try:
            return os.replace(name, path)
        except PermissionError:
            if not left:
                raise
            time.sleep(0.05)


def _folder_to_disk(folder: Path) -> None:
    """Force the folder's entry to the disk, where the system knows how."""
    with suppress(OSError, AttributeError):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@contextmanager
def file_lock(path: Path) -> Iterator[None]:
    """Let only this program write the file, by a lock file beside it.

    A lock whose owner is dead or too slow is removed.
    """
    lock = path.with_name(f".{path.name}.lock")
    mine = _locked(lock)
    try:
        yield
    finally:
        if mine:
            with suppress(OSError):
                lock.unlink()


def _locked(lock: Path) -> bool:
    """True once the lock file is ours; False where we must write without it."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        try:
            os.close(os.open(lock, os.O_CREAT | os.O_EXCL | os.O_WRONLY))
            return True
        except FileExistsError:
            _drop_if_stale(lock)
            time.sleep(0.01)
        except OSError:
            return False
    return False


def _drop_if_stale(lock: Path) -> None:
    """Remove a lock whose owner was killed."""
    with suppress(OSError):
        if abs(time.time() - lock.stat().st_mtime) > STALE_S:
            lock.unlink()


def explain_os_error(why: OSError, system: str = os.name) -> str:
    """An OSError as one plain sentence: which file, what is wrong, what to do.

    >>> explain_os_error(OSError(errno.ENOSPC, "No space left on device", "class/marks.csv"))
    'marks.csv: the disk is full; make room, then do it again. What was there is unchanged.'
    """
    name = re.split(r"[/\\]", os.fsdecode(why.filename or "") or "This file")[-1]
    return (
        f"{name}: {explain_os_error_briefly(why, system)}, then do it again. "
        "What was there is unchanged."
    )


def explain_os_error_briefly(why: OSError, system: str = os.name) -> str:
    """What an OSError means and what to do, as a part of a sentence.

    >>> explain_os_error_briefly(OSError(errno.ENOSPC, "No space left on device"))
    'the disk is full; make room'
    """
    if why.errno in _FULL:
        return "the disk is full; make room"
    if why.errno in _CLOSED:
        return (
            "its folder takes no files, or another program holds it; "
            "choose a folder of your own, or close that program"
        )
    if (
        why.errno == errno.ENOENT
        and system == "nt"
        and len(os.fsdecode(why.filename or "")) > WINDOWS_LIMIT
    ):
        return (
            f"its path is longer than the {WINDOWS_LIMIT} letters this Windows takes; "
            "move the workbook to a shorter path"
        )
    if why.errno in (errno.ENOENT, errno.ENOTDIR):
        return "there is no such file or folder; check the name"
    return f"the system said: {why.strerror or why}; see to that, or choose another name or folder"
