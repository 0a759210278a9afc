"""Each person's own copy of what the workbook gives them: made at the first start, renewed with
the workbook, nothing of theirs lost.

It is a copy, not a link: a Jupyter server answers no request for a page or a picture through a
link that leads out of its folder. A small note says which edition of each file was given. While
the workbook's file is that edition, the person's file is left alone. When there is a newer one, it
takes the old one's place; a file the person has changed is kept beside it under another name.
A file the workbook no longer gives goes away if nobody changed it. Files that are not the
workbook's (answers, readings) are never touched.
"""

import hashlib
import json
import os
import time
from pathlib import Path

from launch.student_files import GIVEN, student_files

NOTE = ".given.json"


def fingerprint(data: bytes) -> str:
    """The same for the same bytes, and for no others."""
    return hashlib.sha256(data).hexdigest()


def given_files(workbook: Path, desk: bool) -> list[Path]:
    """The files of the workbook that a student is given; at the desk, all of these folders."""
    if not desk:
        return [path for part in GIVEN for path in student_files(part, workbook / part)]
    found = [path for part in GIVEN for path in sorted((workbook / part).rglob("[!.]*"))]
    return [path for path in found if path.is_file()]


def update_copy(
    workbook: Path, own: Path, desk: bool = False, today: str | None = None
) -> list[str]:
    """Bring the copy in `own` up to date; return the names of the files that were written."""
    today = today or time.strftime("%Y-%m-%d")
    own.mkdir(parents=True, exist_ok=True)
    own.chmod(0o700)
    before, now, written = _read_note(own), {}, []
    for source in given_files(workbook, desk):
        name, data = source.relative_to(workbook).as_posix(), source.read_bytes()
        if _renew(own, name, data, before.get(name), today):
            written.append(name)
        now[name] = fingerprint(data)
    for name in before.keys() - now.keys():
        _withdraw(own / name, before[name])
    _write(own / NOTE, json.dumps(now, indent=1).encode())
    return written


def _renew(own: Path, name: str, data: bytes, last: str | None, today: str) -> bool:
    """Write one file if it is missing or there is a newer one; whether it was written."""
    path, folder = own / name, own / Path(name).parts[0]
    if folder.is_symlink():  # an earlier set-up linked to the workbook's own folder
        folder.unlink()
    path.parent.mkdir(parents=True, exist_ok=True)
    there = path.read_bytes() if path.is_file() else None
    if there is not None and fingerprint(data) in (last, fingerprint(there)):
        return False
    if there is not None and fingerprint(there) != last:
        os.rename(path, _free_name(path, today))
    _write(path, data)
    return True


def _withdraw(path: Path, last: str) -> None:
    """Take away a file that is no longer given, if it is still as it was given."""
    if path.is_file() and not path.is_symlink() and fingerprint(path.read_bytes()) == last:
        path.unlink()


def _free_name(path: Path, today: str) -> Path:
    """A name beside a file for the one it takes the place of."""
    tries = (
        path.with_name(f"{path.stem}, kept {today}{more}{path.suffix}")
        for more in ("", *(f" ({n})" for n in range(2, 1000)))
    )
    return next(one for one in tries if not os.path.lexists(one))


def _read_note(own: Path) -> dict[str, str]:
    """The note, or an empty one if there is none or it is spoiled; its owner can write it."""
    try:
        note = json.loads((own / NOTE).read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    if not isinstance(note, dict):
        return {}
    # Before there were three folders, the note named notebooks alone.
    whole = {name if "/" in name else f"notebooks/{name}": mark for name, mark in note.items()}
    return {name: mark for name, mark in whole.items() if name.split("/")[0] in GIVEN}


def _write(path: Path, data: bytes) -> None:
    """Write a file whole or not at all."""
    new = path.with_name(f".new-{path.name}")
    new.write_bytes(data)
    os.replace(new, path)


def link(own: Path, name: str, goal: Path) -> None:
    """A link in the person's folder; whatever else has that name is left alone."""
    path = own / name
    if path.is_symlink() and os.readlink(path) != str(goal):
        path.unlink()
    if not os.path.lexists(path):
        path.symlink_to(goal)
