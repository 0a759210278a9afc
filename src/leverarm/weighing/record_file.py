"""The record as a file: every fault in it is named, and rows are added whole or not at all.

Nothing in the file is ever overwritten.
"""

import glob
import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from leverarm.files import explain_os_error_briefly, file_lock, write_whole
from leverarm.quantities import Refusal
from leverarm.tables import Format, as_it_was, decoded, format_of, number_cell, rows_of
from leverarm.weighing.record import COLUMNS, RecordRow, checked_row, current

MOST_RECORD_BYTES = 5_000_000
_NEEDED = ("date", "machine", "wheelbase", "state", "front", "rear", "unit")


@dataclass(frozen=True)
class RecordFault:
    """What could not be read: line and column as a spreadsheet counts them, and one sentence."""

    line: int
    column: str
    sentence: str

    def __str__(self) -> str:
        return f"line {self.line}, column {self.column}: {self.sentence}"


@dataclass(frozen=True)
class Record:
    """What a record file holds.

    rows        every RecordRow that could be read, in the order of the file
    faults      every RecordFault; its row is not among ``rows``
    remarks     what was read but is worth a look
    """

    rows: tuple[RecordRow, ...] = ()
    faults: tuple[RecordFault, ...] = ()
    remarks: tuple[str, ...] = ()

    @property
    def current(self) -> tuple[RecordRow, ...]:
        """The rows that count: corrections in place of what they correct."""
        return current(self.rows)


@dataclass(frozen=True)
class Saved:
    """Where a row went: ``beside`` is True where the record itself was held open."""

    path: Path
    beside: bool
    message: str


def read_record(path: str | os.PathLike[str]) -> Record:
    """A Record from a file, and from what waits beside it.

    A file that is not there is an empty record.
    """
    path = Path(path)
    beside = waiting(path)
    parts = [
        _parsed(_bytes(one), "" if one == path else f"{one.name}, ")
        for one in (path, *beside)
        if one.exists()
    ]
    rows = _without_twins(parts)
    remarks = [remark for part in parts for remark in part.remarks] + _corrections(rows)
    remarks += [f"{one.name} holds rows that wait until {path.name} is closed." for one in beside]
    return Record(rows, tuple(one for part in parts for one in part.faults), tuple(remarks))


def _without_twins(parts: list[Record]) -> tuple[RecordRow, ...]:
    """The rows of a record and of what waits beside it; a row that is in both counts once."""
    if not parts:
        return ()
    first = parts[0].rows
    return first + tuple(one for part in parts[1:] for one in part.rows if one not in first)


def _corrections(rows: Iterable[RecordRow]) -> list[str]:
    """A remark for each reading that a later row corrects."""
    last = {one.key: one for one in rows}
    return [
        f"{one.date}, {one.state}, repeat {one.repeat}: corrected by a later row."
        for one in rows
        if last[one.key] is not one
    ]


def _bytes(path: Path) -> bytes:
    """The bytes of a file, or a Refusal that names it."""
    try:
        if path.stat().st_size > MOST_RECORD_BYTES:
            raise Refusal(
                "record",
                path.name,
                f"a file up to {MOST_RECORD_BYTES // 10**6} MB",
                "check that this is a weigh-day record",
            )
        return path.read_bytes()
    except OSError as error:
        raise Refusal(
            "record",
            path.name,
            "a file that can be read",
            f"check its place and permissions ({error.strerror})",
        ) from None


def _parsed(data: bytes, where: str = "") -> Record:
    """A Record from the bytes of one file."""
    text, encoding = decoded(data)
    form = format_of(text, encoding)
    lines, broken_row = rows_of(text, form.delimiter)
    broken: tuple[RecordFault, ...] = ()
    if broken_row:
        what = f"this and what follows is no table ({broken_row.reason}); check its quotes"
        broken = (RecordFault(broken_row.line, "whole line", what),)
    if not lines:
        return Record(faults=broken)
    (_, header), *body = lines
    names = _names(header)
    missing = [name for name in _NEEDED if name not in names]
    if missing:
        return Record(
            faults=(
                RecordFault(
                    lines[0][0],
                    "header",
                    f"the columns {', '.join(missing)} are missing; "
                    f"the first line must name {', '.join(COLUMNS)}",
                ),
            )
        )
    rows, faults = [], list(broken)
    for number, cells in body:
        made, wrong = _row(number, cells, names, form)
        rows += [made] if made else []
        faults += wrong
    remarks = tuple(
        f"{where}the column {name or 'without a name'} is kept and not read."
        for name in names
        if name not in COLUMNS
    )
    if encoding == "cp1252":
        remarks += (f"{where}the file is not in UTF-8; it was read as Windows-1252.",)
    return Record(tuple(rows), tuple(faults), remarks)


def _row(
    line: int, cells: list[str], names: Sequence[str], form: Format
) -> tuple[RecordRow | None, list[RecordFault]]:
    """The RecordRow of a line, or the faults of all its cells."""
    if any(cell.strip() for cell in cells[len(names) :]):
        what = (
            f"{len(cells)} cells where the header has {len(names)}; a comma inside a cell "
            "needs quotes, or semicolons between the cells"
        )
        return None, [RecordFault(line, "whole line", what)]
    given: dict[str, Any] = {
        name: cell.strip() for name, cell in zip(names, cells) if name in COLUMNS
    }
    unclear = {
        axle
        for axle in ("front", "rear")
        if given.get(axle) and number_cell(given[axle], form) is None
    }
    for axle in {"front", "rear"} - unclear:
        given[axle] = number_cell(given[axle], form) if given.get(axle) else None
    given.update({name: as_it_was(given.get(name, "")) for name in ("machine", "state", "note")})
    made, refusals = checked_row(given)
    faults = [
        RecordFault(
            line,
            column,
            f'"{given[column]}" could be two numbers, or none; type the reading alone'
            if column in unclear
            else str(refusals[column]),
        )
        for column in COLUMNS
        if column in unclear | refusals.keys()
    ]
    return (None, faults) if faults else (made, [])


def waiting(path: Path) -> list[Path]:
    """The files beside a record that hold rows for it, in order."""
    return sorted(path.parent.glob(f"{glob.escape(path.stem)}.waiting-*.csv"))


def append_rows(path: str | os.PathLike[str], *rows: RecordRow) -> Saved:
    """Add rows to a record file: a Saved that says where they went.

    What is in the file stays as it is, byte for byte; the new file takes its place in one step or
    not at all.  Where a spreadsheet holds the file, the rows go into a file beside it, and join
    it at the next chance.
    """
    path = Path(path)
    with file_lock(path):
        return _append(path, rows)


def _append(path: Path, rows: tuple[RecordRow, ...]) -> Saved:
    old = _bytes(path) if path.exists() else b""
    _refuse_another_table(path, old)
    held = [one for one in waiting(path) if not _parsed(_bytes(one)).faults]
    there = _parsed(old).rows
    before = [r for one in held for r in _parsed(_bytes(one)).rows if r not in there]
    try:
        if _is_held(path):
            raise PermissionError
        write_whole(path, _with_rows(old, [*before, *rows]))
    except (PermissionError, UnicodeEncodeError) as error:
        return _beside(
            path,
            rows,
            "cannot hold every letter of it"
            if isinstance(error, UnicodeEncodeError)
            else "is held open by another program",
        )
    except OSError as error:
        raise _not_kept(path, error) from error
    for one in held:
        one.unlink()
    return Saved(path, False, f"{len(rows)} row{'s' * (len(rows) != 1)} added to {path.name}.")


def _refuse_another_table(path: Path, old: bytes) -> None:
    """A file with another header is somebody else's: it is left alone."""
    if any(fault.column == "header" for fault in _parsed(old).faults):
        raise Refusal(
            "record",
            path.name,
            f"a file whose first line names {', '.join(COLUMNS)}",
            "give another file name",
        )


def _with_rows(old: bytes, rows: Iterable[RecordRow]) -> bytes:
    """The bytes of a file with rows after what it holds, in its own encoding, columns and marks."""
    text, encoding = decoded(old)
    form = format_of(text, encoding) if text.strip() else Format()
    if not text.strip():
        return (form.line(COLUMNS) + _table(rows, COLUMNS, form)).encode(form.encoding)
    added = "" if text.endswith(("\n", "\r")) else form.newline
    return old + (
        added + _table(rows, _names(rows_of(text, form.delimiter)[0][0][1]), form)
    ).encode(form.encoding)


def _table(rows: Iterable[RecordRow], header: Sequence[str], form: Format) -> str:
    return "".join(form.line([one.cells(form).get(name, "") for name in header]) for one in rows)


def _names(header: Sequence[str]) -> list[str]:
    """Column names as this module knows them, whatever their case and spacing."""
    return [" ".join(cell.split()).casefold() for cell in header]


def _is_held(path: Path) -> bool:
    """True where a spreadsheet has left its mark that it has the file open."""
    return any((path.parent / mark).exists() for mark in (f".~lock.{path.name}#", f"~${path.name}"))


def _beside(path: Path, rows: tuple[RecordRow, ...], why: str) -> Saved:
    """Rows in a new file beside a record that cannot take them now."""
    number = 1 + max(
        (int(one.stem.rsplit("-", 1)[1]) for one in waiting(path) if one.stem[-1].isdigit()),
        default=0,
    )
    beside = path.with_name(f"{path.stem}.waiting-{number}.csv")
    try:
        write_whole(beside, _with_rows(b"", rows))
    except OSError as error:
        raise _not_kept(path, error) from error
    return Saved(
        beside,
        True,
        f"{path.name} {why}, so the reading went into {beside.name} beside it. "
        "Close the spreadsheet; the next row you save brings both together.",
    )


def _not_kept(path: Path, error: OSError) -> Refusal:
    """The Refusal for rows that no file took; the record and what was typed are unchanged."""
    return Refusal(
        "record",
        path.name,
        "a folder that can be written to",
        f"the rows are not kept yet: {explain_os_error_briefly(error)}, then save again, "
        "or name another record file",
    )
