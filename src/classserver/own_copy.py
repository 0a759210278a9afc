"""A student's own copy of the notebooks: made at the first start, renewed when the workbook is, nothing of theirs lost.

A small note says which edition of each notebook was given. While the workbook's notebook is
that edition, the student's file is left alone. When there is a newer one, it takes the old
one's place; a file the student has changed is kept beside it under another name. Files
that are not notebooks of the workbook (answers, readings) are never touched.
"""

import hashlib
import json
import os
import time
from pathlib import Path

NOTE = ".given.json"
FOR_INSTRUCTORS = ("instructor_desk.ipynb",)


def mark_of(data):
    """A fingerprint of some bytes."""
    return hashlib.sha256(data).hexdigest()


def bring(workbook, own, desk=False, today=None):
    """Bring the copy in `own` up to date; return the names of the notebooks that were put there."""
    own, today = Path(own), today or time.strftime("%Y-%m-%d")
    folder = own / "notebooks"
    folder.mkdir(parents=True, exist_ok=True)
    own.chmod(0o700)
    given, brought = _read(own / NOTE), []
    for source in sorted(Path(workbook, "notebooks").glob("*.ipynb")):
        if desk or source.name not in FOR_INSTRUCTORS:
            data = source.read_bytes()
            if _put(folder / source.name, data, given.get(source.name), today):
                brought.append(source.name)
            given[source.name] = mark_of(data)
    _write(own / NOTE, json.dumps(given, indent=1).encode())
    return brought


def _put(path, data, last, today):
    """Put one notebook in its place if it is missing or there is a newer one; whether it was put."""
    there = path.read_bytes() if path.is_file() else None
    if there is not None and mark_of(data) in (last, mark_of(there)):
        return False
    if there is not None and mark_of(there) != last:
        os.rename(path, _free(path, today))
    _write(path, data)
    return True


def _free(path, today):
    """A name beside a notebook for the one it takes the place of."""
    tries = (
        path.with_name(f"{path.stem}, kept {today}{more}{path.suffix}")
        for more in ("", *(f" ({n})" for n in range(2, 1000)))
    )
    return next(one for one in tries if not os.path.lexists(one))


def _read(path):
    """The note, or an empty one if there is none or it is spoilt."""
    try:
        told = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return told if isinstance(told, dict) else {}


def _write(path, data):
    """Write a file whole or not at all."""
    new = path.with_name(f".new-{path.name}")
    new.write_bytes(data)
    os.replace(new, path)


def link(own, name, goal):
    """A link in the student's folder; whatever else has that name is left alone."""
    path = Path(own, name)
    if path.is_symlink() and os.readlink(path) != str(goal):
        path.unlink()
    if not os.path.lexists(path):
        path.symlink_to(goal)
