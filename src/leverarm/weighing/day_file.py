"""Weigh days in a folder: one file a machine and day, so that each can be handed on as it is.

Nothing in a file is ever overwritten: rows are added, whole or not at all.
"""

from __future__ import annotations

import glob
import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from leverarm.files import explain_os_error_briefly, file_lock, write_whole
from leverarm.quantities import Refusal, how_many
from leverarm.weighing.day import WeighDay
from leverarm.weighing.day_text import DayFile, day_bytes, parsed_day, with_header, with_rows
from leverarm.weighing.earlier_record import earlier_days, is_earlier
from leverarm.weighing.readings import Weighing

FOLDER = "weigh_days"

# A record of the earlier format beside the folder: read with it, never written.
EARLIER = "weigh_day_record.csv"

MOST_FILE_BYTES = 5_000_000

MOST_FILES = 2000
# A sentence names so many days, and counts the rest.
MOST_NAMED = 6


@dataclass(frozen=True)
class Saved:
    """Where rows went: ``beside`` is True where the file itself was held open."""

    path: Path
    beside: bool
    message: str


def files_at(place: str | os.PathLike[str] = FOLDER) -> tuple[DayFile, ...]:
    """The files of a folder and of an earlier record beside it; or one file, where it is named.

    A machine and day that stands in the folder and in the earlier record is the folder's, also
    where the earlier record is the one that is named.
    """
    place = Path(place)
    if place.suffix.casefold() != ".csv":
        earlier = place.with_name(EARLIER)
        files = _without_copies(read_folder(place))
        return _gone_on_with(earlier, files) if earlier.exists() else files
    if not place.exists() and not waiting(place):
        return ()
    if not _is_earlier_file(place):
        return (read_day_file(place),)
    old = {day.name for day in read_day_file(place).days}
    files = _without_copies(read_folder(place.with_name(FOLDER)))
    return _gone_on_with(place, tuple(one for one in files if old & {day.name for day in one.days}))


def _gone_on_with(earlier: Path, files: tuple[DayFile, ...]) -> tuple[DayFile, ...]:
    """Files of today, and from an earlier record the days that none of them goes on with."""
    known = {(day.machine.key, day.date) for file in files for day in file.days}
    old = read_day_file(earlier)
    left = tuple(day for day in old.days if (day.machine.key, day.date) not in known)
    return (*files, replace(old, days=left))


def _is_earlier_file(path: Path) -> bool:
    """True for a file of the earlier format, which is read and never written."""
    return path.exists() and is_earlier(_bytes(path))


def _without_copies(files: Sequence[DayFile]) -> tuple[DayFile, ...]:
    """The files, where a copy that holds no row of its own is left out and says so.

    A folder that is kept in step between computers makes such copies, under another name.
    """
    named = {file.path.name: file.days[0] for file in files if len(file.days) == 1}
    left = []
    for file in files:
        day = file.days[0] if len(file.days) == 1 else None
        own = named.get(day.file_name) if day else None
        if day and own and day is not own and day == replace(own, rows=own.rows[: len(day.rows)]):
            said = f"{file.path.name} is a copy of {day.file_name} and is not read."
            left.append(replace(file, days=(), remarks=(said,)))
        else:
            left.append(file)
    return tuple(left)


def one_day(
    files: Sequence[DayFile], machine: str | None = None, date: str | None = None
) -> WeighDay:
    """The one WeighDay that was asked for; a Refusal where there is none, or more than one.

    machine, date   may be left out where the files hold only one
    A file with a line that cannot be read is refused: what is made without it would hide that.
    """
    wanted = None if machine is None else " ".join(machine.split()).casefold()
    fitting = [
        (file, day)
        for file in files
        for day in file.days
        if wanted in (None, day.machine.key) and date in (None, day.date)
    ]
    broken = [file for file in files if file.faults and not file.days]
    if len(fitting) == 1 and not (machine is date is None and broken):
        file, day = fitting[0]
        _ = file.faults and file.day  # raises, with the fault named
        return day
    if not fitting and broken:
        _ = broken[0].day
    if not any(file.days for file in files):
        raise no_readings()
    if not fitting:
        asked = ", ".join(filter(None, (machine, date)))
        held = "; ".join(day.name for day in days_of(files))
        raise Refusal("machine and day", asked, held, "choose one that was weighed")
    names = [day.name for _, day in fitting]
    if len(set(names)) < len(names):
        raise Refusal(
            "machine and day",
            " and ".join(file.path.name for file, day in fitting if names.count(day.name) > 1),
            "one file for a machine and day, and these differ",
            "bring their rows together in one, and move the other away",
        )
    raise Unchosen(names)


class Unchosen(Refusal):
    """The Refusal where several days fit and none was chosen, in words a person would say."""

    def __init__(self, names: Sequence[str]) -> None:
        super().__init__("machine and day", f"{len(names)}", "one of them", "choose one")
        self._names = tuple(names)
        named, more = "; ".join(names[:MOST_NAMED]), len(names) - MOST_NAMED
        rest = f"; and {more} more" if more > 0 else ""
        self.args = (
            f"Choose the machine and day: {len(names)} are kept here, and they are never averaged "
            f"({named}{rest}).",
        )

    def __reduce__(self) -> tuple[type, tuple[object, ...]]:
        return type(self), (self._names,)


def no_readings(place: str | os.PathLike[str] = FOLDER) -> Refusal:
    """The Refusal for a place that holds no reading yet."""
    return Refusal(
        Path(place).name,
        "no readings",
        "readings of one machine on one day",
        "weigh the machine and write the readings down first",
    )


def read_folder(folder: str | os.PathLike[str] = FOLDER) -> tuple[DayFile, ...]:
    """Every weigh day of a folder, in order of file name; a folder that is not there holds none."""
    found = sorted(Path(folder).glob("*.csv")) if Path(folder).is_dir() else []
    found = [one for one in found if ".waiting-" not in one.name]
    if len(found) > MOST_FILES:
        raise Refusal(
            "folder",
            f"{len(found)} files",
            f"up to {MOST_FILES} weigh days",
            "move old ones into another folder",
        )
    return tuple(map(read_day_file, found))


def days_of(files: Iterable[DayFile]) -> tuple[WeighDay, ...]:
    """Every WeighDay of the files: machines by name, the latest day of each first."""
    days = [day for file in files for day in file.days]
    latest = sorted(days, key=lambda day: day.date, reverse=True)
    return tuple(sorted(latest, key=lambda day: day.machine.key))


def machines_of(days: Iterable[WeighDay]) -> tuple[WeighDay, ...]:
    """The latest WeighDay of each machine, by name: what a new day may begin from."""
    latest: dict[str, WeighDay] = {}
    for day in days:
        known = latest.setdefault(day.machine.key, day)
        latest[day.machine.key] = max(known, day, key=lambda one: one.date)
    return tuple(latest[key] for key in sorted(latest))


def read_day_file(path: str | os.PathLike[str]) -> DayFile:
    """A DayFile of this format or the earlier one, with what waits beside it."""
    path = Path(path)
    made = _parsed(path)
    for beside in waiting(path):
        extra = _parsed(beside)
        made = DayFile(
            path,
            _joined(made.days, extra.days),
            made.faults + extra.faults,
            (*made.remarks, f"{beside.name} holds rows that wait until {path.name} is closed."),
        )
    return made


def _parsed(path: Path) -> DayFile:
    """A DayFile of either format."""
    data = _bytes(path)
    return earlier_days(data, path) if is_earlier(data) else parsed_day(data, path)


def _joined(days: tuple[WeighDay, ...], extra: tuple[WeighDay, ...]) -> tuple[WeighDay, ...]:
    """Days with the rows that wait beside them; a row that is in both counts once."""
    if len(days) != 1 or len(extra) != 1:
        return days or extra
    (day,), (more,) = days, extra
    return (day.with_rows(*(row for row in more.rows if row not in day.rows)),)


def save_header(day: WeighDay, folder: str | os.PathLike[str] = FOLDER) -> Saved:
    """Begin the file of a machine and day, or write its header block anew.

    Its rows stay, and so do lines and columns that this workbook does not know.
    """
    path = _path_of(day, folder)
    with file_lock(path):
        there = parsed_day(_bytes(path), path) if path.exists() else DayFile(path)
        _refuse_another(there, day)
        _ = there.faults and there.day  # raises, with the fault named
        data = with_header(_bytes(path), day) if path.exists() else day_bytes(day)
        return _write(path, data, f"{path.name} is written.")


def add_rows(day: WeighDay, *rows: Weighing, folder: str | os.PathLike[str] = FOLDER) -> Saved:
    """Add rows to the file of a machine and day: a Saved that says where they went.

    What is in the file stays as it is, byte for byte.  Where a spreadsheet holds the file, the
    rows go into a file beside it, and join it at the next chance.  A row that is already there
    is refused, so that pressing twice writes once.
    """
    path = _path_of(day, folder)
    with file_lock(path):
        old = _bytes(path) if path.exists() else b""
        old = old if old.strip() else b""
        there = parsed_day(old, path) if old else DayFile(path)
        _refuse_another(there, day)
        held = [one for one in waiting(path) if not parsed_day(_bytes(one), one).faults]
        known = [row for one in there.days for row in one.rows]
        waited = [r for one in held for d in parsed_day(_bytes(one), one).days for r in d.rows]
        before = [row for row in waited if row not in known]
        known += before
        _refuse_twice(rows, known, path)
        count = how_many(len(rows), "row")
        try:
            if _is_held(path):
                raise PermissionError
            # Rows of the earlier format come along once.
            carried = [] if old else [row for row in day.rows if row not in rows]
            write_whole(path, with_rows(old, day, [*carried, *before, *rows]))
        except (PermissionError, UnicodeEncodeError) as error:
            why = (
                "cannot hold every letter of it"
                if isinstance(error, UnicodeEncodeError)
                else "is held open by another program"
            )
            return _beside(path, day, rows, why)
        except OSError as error:
            raise _not_kept(path, error) from error
        for one in held:
            one.unlink()
        return Saved(path, False, f"{count} added to {path.name}.")


def _path_of(day: WeighDay, folder: str | os.PathLike[str]) -> Path:
    """The file of a day: in its folder, or the one that is named; an invented one has none.

    A day of an earlier record goes on in a file of its own, in the folder beside it.
    """
    if day.invented:
        raise Refusal(
            "readings",
            "invented ones",
            "readings of a machine that was weighed",
            "weigh a machine, or try the demo without saving",
        )
    folder = Path(folder)
    if folder.suffix.casefold() == ".csv":
        if not folder.exists():
            raise Refusal(
                "folder", folder.name, "a folder for weigh days", f"name a folder, such as {FOLDER}"
            )
        if not _is_earlier_file(folder):
            return folder
        folder = folder.with_name(FOLDER)
    try:
        folder.mkdir(exist_ok=True)
    except OSError as error:
        raise _not_kept(folder, error) from error
    return folder / day.file_name


def _refuse_another(there: DayFile, day: WeighDay) -> None:
    """Two names may make one file name; a stranger's file may have it too: both are left alone."""
    if any(fault.column == "header" for fault in there.faults) or any(
        one.machine.key != day.machine.key or one.date != day.date for one in there.days
    ):
        raise Refusal(
            "weigh day",
            there.path.name,
            f"the file of {day.name}, and this one holds something else",
            "give the machine another name, or move that file away",
        )


def _refuse_twice(rows: Iterable[Weighing], known: Sequence[Weighing], path: Path) -> None:
    """A row that is already there is not written again."""
    for row in rows:
        if row in known:
            raise Refusal(
                "readings",
                f"{row.setup_name}, repeat {row.repeat}",
                "a reading that is not in the file yet",
                f"it is already written as row {known.index(row) + 1} of {path.name}",
            )


def waiting(path: Path) -> list[Path]:
    """The files beside a weigh day that hold rows for it, in order."""
    return sorted(path.parent.glob(f"{glob.escape(path.stem)}.waiting-*.csv"))


def _is_held(path: Path) -> bool:
    """True where a spreadsheet has left its mark that it has the file open."""
    return any((path.parent / mark).exists() for mark in (f".~lock.{path.name}#", f"~${path.name}"))


def _beside(path: Path, day: WeighDay, rows: tuple[Weighing, ...], why: str) -> Saved:
    """Rows in a new file beside one that cannot take them now."""
    taken = [one.stem.rsplit("-", 1)[1] for one in waiting(path)]
    number = 1 + max((int(one) for one in taken if one.isdigit()), default=0)
    beside = path.with_name(f"{path.stem}.waiting-{number}.csv")
    message = (
        f"{path.name} {why}, so the reading went into {beside.name} beside it. "
        "Close the spreadsheet; the next row you save brings both together."
    )
    return replace(_write(beside, day_bytes(replace(day, rows=rows)), message), beside=True)


def _write(path: Path, data: bytes, message: str) -> Saved:
    try:
        write_whole(path, data)
    except OSError as error:
        raise _not_kept(path, error) from error
    return Saved(path, False, message)


def _not_kept(path: Path, error: OSError) -> Refusal:
    """The Refusal for rows that no file took; what was typed is unchanged."""
    return Refusal(
        "weigh day",
        path.name,
        "a folder that can be written to",
        f"the rows are not kept yet: {explain_os_error_briefly(error)}, then save again",
    )


def _bytes(path: Path) -> bytes:
    """The bytes of a file, or a Refusal that names it."""
    try:
        if path.stat().st_size > MOST_FILE_BYTES:
            raise Refusal(
                "weigh day",
                path.name,
                f"a file up to {MOST_FILE_BYTES // 10**6} MB",
                "check that this is a weigh day",
            )
        return path.read_bytes()
    except OSError as error:
        raise Refusal(
            "weigh day",
            path.name,
            "a file that can be read",
            f"check its place and permissions ({error.strerror})",
        ) from None
