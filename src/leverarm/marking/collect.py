"""The files that students handed in, opened with care: a folder, or a school system's zip file.

Nothing is unpacked to the disk, no link is followed, nothing is read beyond its
bound.  Every file is either handed on as bytes or listed with the reason why not.
"""

import os
import stat
import zipfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import IO, TypeAlias

from leverarm.marking.answer_file import MOST_BYTES
from leverarm.marking.assignment import due_moment
from leverarm.marking.codes import read_code
from leverarm.quantities import Refusal

MOST_FILES = 20_000
MOST_DEPTH = 8
MOST_TOTAL = 400_000_000
MOST_RATIO = 200
MOST_ZIP_LIST = 20_000
TOO_MANY = f"more than {MOST_FILES:,} files: mark them in two goes"
TOO_LARGE = f"larger than {MOST_BYTES // 10**6} MB, not read"
LINK = "a link to another place, not followed"
INSIDE = "a zip file inside: unpack it and mark its folder"
HIDDEN = "a hidden file of a computer, not an answer file"
SPECIAL = "not a plain file, not opened"
_PLAIN = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)


@dataclass(frozen=True, slots=True)
class SubmittedFile:
    """A file that a student handed in: its name, a way to read its bytes, when it arrived."""

    name: str
    read: Callable[[], bytes]
    received: datetime | None


@dataclass(frozen=True, slots=True)
class Skipped:
    """A file that was not marked, and why."""

    file: str
    reason: str


Found: TypeAlias = tuple[list[SubmittedFile], list[Skipped]]


# A file and its code to the date the file came, as text, or None.
Arrival: TypeAlias = Callable[[SubmittedFile, str], str | None]


class Missing(ValueError):
    """A file that can no longer be read; the reason in plain words."""


@contextmanager
def collected_files(place: Path | str) -> Iterator[Found]:
    """(files, skipped) of a folder or a zip file, in the order of their names; or a Refusal.

    A zip file that lies in the folder itself is opened too; one deeper down, or in a zip, is not.
    """
    place = Path(place)
    if place.is_dir():
        with ExitStack() as stack:
            yield _ordered(_with_packs(place, _in_folder(place), stack))
    elif place.is_file() and zipfile.is_zipfile(place):
        with _opened(place) as pack:
            yield _ordered(_in_zip(pack, _listed(pack)))
    else:
        raise Refusal(
            "place of the answer files",
            place.name,
            "a folder or a zip file",
            "check the name; a zip file that is damaged must be fetched again",
        )


def _ordered(found: Found) -> Found:
    files, skipped = found
    files.sort(key=lambda file: file.name)
    skipped.sort(key=lambda one: (one.file, one.reason))
    return found


# A folder ----------------------------------------------------------------------------------


def _in_folder(top: Path) -> Found:
    files: list[SubmittedFile] = []
    skipped: list[Skipped] = []
    for path in _walk(top, skipped):
        name = path.relative_to(top).as_posix()
        reason = _unfit_path(path) or (TOO_MANY if len(files) >= MOST_FILES else "")
        if reason:
            skipped.append(Skipped(name, reason))
        else:
            # The path as text: a Path keeps a kilobyte, and there may be thousands.
            files.append(SubmittedFile(name, partial(_read_path, str(path)), _changed_at(path)))
    return files, skipped


def _with_packs(top: Path, found: Found, stack: ExitStack) -> Found:
    """What was found in a folder, and what is in the zip files that lie in it."""
    files, skipped = found
    packs = [one for one in skipped if one.reason == INSIDE and "/" not in one.file]
    for one in packs:
        skipped.remove(one)
        try:
            pack = stack.enter_context(_opened(top / one.file))
            inner, left = _in_zip(pack, _listed(pack))
        except Refusal as why:
            skipped.append(Skipped(one.file, str(why)))
            continue
        files += [
            SubmittedFile(f"{one.file}/{each.name}", each.read, each.received)
            for each in inner[: max(0, MOST_FILES - len(files))]
        ]
        skipped += [Skipped(f"{one.file}/{each.file}", each.reason) for each in left]
    return files, skipped


def _changed_at(path: Path) -> datetime | None:
    """When a file was last written, or None where its date is none."""
    try:
        return datetime.fromtimestamp(int(path.lstat().st_mtime))
    except (OSError, OverflowError, ValueError):
        return None


def _walk(top: Path, skipped: list[Skipped], depth: int = 0) -> Iterator[Path]:
    """Every file below a folder, no link followed, at most so deep."""
    try:
        entries = sorted(os.scandir(top), key=lambda entry: entry.name)
    except OSError:
        skipped.append(Skipped(top.name, "a folder that cannot be opened"))
        return
    for entry in entries:
        if not entry.is_dir(follow_symlinks=False):
            yield Path(entry.path)
        elif entry.name.startswith("."):
            skipped.append(Skipped(entry.name, HIDDEN))
        elif depth < MOST_DEPTH:
            yield from _walk(Path(entry.path), skipped, depth + 1)
        else:
            skipped.append(Skipped(entry.name, f"folders more than {MOST_DEPTH} deep, not opened"))


def _unfit_path(path: Path) -> str:
    """Why a file of a folder is not read, or ""."""
    try:
        found = path.lstat()
    except OSError:
        return "cannot be opened"
    if stat.S_ISLNK(found.st_mode):
        return LINK
    if not stat.S_ISREG(found.st_mode):
        return SPECIAL
    return _unfit(path.name, found.st_size)


def _unfit(name: str, size: int) -> str:
    """Why a file of this name and size is not read, or ""."""
    if name.startswith(".") or name in ("Thumbs.db", "desktop.ini"):
        return HIDDEN
    if name.lower().endswith(".zip"):
        return INSIDE
    return TOO_LARGE if size > MOST_BYTES else ""


def _read_path(path: str) -> bytes:
    """The bytes of a plain file, never more than the bound; it is looked at again once open."""
    flags = (
        os.O_RDONLY
        | getattr(os, "O_BINARY", 0)
        | getattr(os, "O_NOFOLLOW", 0)
        | getattr(os, "O_NONBLOCK", 0)
    )
    try:
        handle = os.open(path, flags)
    except OSError:
        raise Missing("cannot be opened") from None
    with os.fdopen(handle, "rb") as file:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise Missing(SPECIAL)
        return _bounded(file)


def _bounded(file: IO[bytes]) -> bytes:
    try:
        data = file.read(MOST_BYTES + 1)
    except Exception:  # a damaged zip raises whatever its packing raises
        raise Missing("damaged, cannot be read") from None
    if len(data) > MOST_BYTES:
        raise Missing(TOO_LARGE)
    return data


def carried(file: SubmittedFile) -> SubmittedFile:
    """A file with its bytes in it, for a process that opens none itself."""
    try:
        return replace(file, read=partial(bytes, file.read()))
    except Missing as why:
        return replace(file, read=partial(_missing, str(why)))


def _missing(why: str) -> bytes:
    raise Missing(why)


def loose_files(
    top: Path, own: str, ours: Callable[[bytes], bool], stack: ExitStack
) -> list[SubmittedFile]:
    """What lies elsewhere below a folder and is ours; what is not is somebody else's to list.

    own     the folder below it that is read whole anyway
    """
    if not top.is_dir():
        return []
    files, _ = stack.enter_context(collected_files(top))
    kept = []
    for file in files:
        if not file.name.startswith(f"{own}/"):
            try:
                data = file.read()
            except Missing:
                continue
            if ours(data):
                kept.append(SubmittedFile(f"{top.name}/{file.name}", file.read, file.received))
    return kept


# A zip file --------------------------------------------------------------------------------


def _opened(place: Path) -> zipfile.ZipFile:
    try:
        return zipfile.ZipFile(place)
    except Exception as why:  # a damaged table of contents raises many things
        raise Refusal(
            "zip file", place.name, "a zip file that can be opened", "fetch it again"
        ) from why


def _listed(pack: zipfile.ZipFile) -> list[zipfile.ZipInfo]:
    """The table of contents, or a Refusal where it is far too long."""
    listed = pack.infolist()
    if len(listed) > MOST_ZIP_LIST:
        raise Refusal(
            "zip file",
            f"{len(listed)} entries",
            f"up to {MOST_ZIP_LIST} entries",
            "check that this is the right file",
        )
    return [info for info in listed if not info.is_dir()]


def _in_zip(pack: zipfile.ZipFile, listed: list[zipfile.ZipInfo]) -> Found:
    files: list[SubmittedFile] = []
    skipped: list[Skipped] = []
    total, seen = 0, set()
    for info in listed:
        reason = _unfit_member(info) or (TOO_MANY if len(files) >= MOST_FILES else "")
        if not reason and info.filename in seen:
            reason = "the same name twice in one zip file: only the first is read"
        if not reason and total + info.file_size > MOST_TOTAL:
            reason = f"the files before it unpack to {MOST_TOTAL // 10**6} MB, no more is read"
        if reason:
            skipped.append(Skipped(info.filename, reason))
            continue
        total += info.file_size
        seen.add(info.filename)
        files.append(
            SubmittedFile(info.filename, partial(_read_member, pack, info), _packed_at(info))
        )
    return files, skipped


def _unfit_member(info: zipfile.ZipInfo) -> str:
    """Why a file of a zip is not read, or ""."""
    parts = info.filename.replace("\\", "/").split("/")
    if stat.S_ISLNK(info.external_attr >> 16):
        return LINK
    if "__MACOSX" in parts:
        return HIDDEN
    if len(parts) > MOST_DEPTH + 1:
        return f"folders more than {MOST_DEPTH} deep, not opened"
    if info.flag_bits & 1:
        return "locked with a password, not opened"
    if info.compress_type not in _PLAIN:
        return "packed in an unusual way, not opened"
    if info.file_size > MOST_RATIO * max(info.compress_size, 1):
        return f"unpacks to more than {MOST_RATIO} times its size, not opened"
    return _unfit(parts[-1], info.file_size)


def _packed_at(info: zipfile.ZipInfo) -> datetime | None:
    """When a file was packed, or None where its date is none."""
    try:
        return datetime(*info.date_time)
    except ValueError:
        return None


def _read_member(pack: zipfile.ZipFile, info: zipfile.ZipInfo) -> bytes:
    try:
        file = pack.open(info)
    except Exception:
        raise Missing("damaged, cannot be read") from None
    with file:
        return _bounded(file)


# When it came ------------------------------------------------------------------------------


def arrival_of(received: str | Mapping[str, str]) -> Arrival:
    """What tells when a file came; functions of this module, for they go to other processes too."""
    if received == "files":
        return _own_date
    if isinstance(received, Mapping):
        dates = {read_code(code): due_moment(date, "received") for code, date in received.items()}
        return partial(_date_of_code, dates)
    return partial(_one_date, due_moment(received, "received") or None)


def _own_date(file: SubmittedFile, code: str) -> str | None:
    return f"{file.received:%Y-%m-%d %H:%M}" if file.received else None


def _date_of_code(dates: Mapping[str, str], file: SubmittedFile, code: str) -> str | None:
    return dates.get(code)


def _one_date(date: str | None, file: SubmittedFile, code: str) -> str | None:
    return date
