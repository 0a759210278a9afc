"""The record as a file: read with every fault named, added to whole or not at all, never overwritten."""

import glob
from dataclasses import dataclass
from pathlib import Path

from leverarm.files import explain_os_error_briefly, file_lock, write_whole
from leverarm.quantities import Refusal
from leverarm.tables import Format, as_it_was, decoded, format_of, number_cell, rows_of
from leverarm.weighing.record import COLUMNS, Row, checked, current

MOST_BYTES = 5_000_000
NEEDED = ("date", "machine", "wheelbase", "state", "front", "rear", "unit")


@dataclass(frozen=True)
class Problem:
    """What could not be read: line and column as a spreadsheet counts them, and one sentence."""

    line: int
    column: str
    sentence: str

    def __str__(self):
        return f"line {self.line}, column {self.column}: {self.sentence}"


@dataclass(frozen=True)
class Record:
    """What a record file holds.

    rows        every Row that could be read, in the order of the file
    problems    every Problem; its row is not among ``rows``
    remarks     what was read but is worth a look
    """

    rows: tuple = ()
    problems: tuple = ()
    remarks: tuple = ()

    @property
    def current(self):
        """The rows that count: corrections in place of what they correct."""
        return current(self.rows)


@dataclass(frozen=True)
class Saved:
    """Where a row went: ``beside`` is True where the record itself was held open."""

    path: Path
    beside: bool
    message: str


def read_record(path):
    """A Record from a file, and from what waits beside it.  A file that is not there is an empty record."""
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
    return Record(rows, tuple(p for part in parts for p in part.problems), tuple(remarks))


def _without_twins(parts):
    """The rows of a record and of what waits beside it; one that has reached the record already counts once."""
    first, *others = [part.rows for part in parts] or [()]
    return first + tuple(one for rows in others for one in rows if one not in first)


def _corrections(rows):
    """A remark for each reading that a later row corrects."""
    last = {one.key: one for one in rows}
    return [
        f"{one.date}, {one.state}, repeat {one.repeat}: corrected by a later row."
        for one in rows
        if last[one.key] is not one
    ]


def _bytes(path):
    """The bytes of a file, or a Refusal that names it."""
    try:
        if path.stat().st_size > MOST_BYTES:
            raise Refusal(
                "record",
                path.name,
                f"a file up to {MOST_BYTES // 10**6} MB",
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


def _parsed(data, where=""):
    """A Record from the bytes of one file."""
    text, encoding = decoded(data)
    form = format_of(text, encoding)
    lines, broken_row = rows_of(text, form.delimiter)
    broken = ()
    if broken_row:
        what = f"this and what follows is no table ({broken_row.reason}); check its quotes"
        broken = (Problem(broken_row.line, "whole line", what),)
    if not lines:
        return Record(problems=broken)
    (_, header), *body = lines
    names = _names(header)
    missing = [name for name in NEEDED if name not in names]
    if missing:
        return Record(
            problems=(
                Problem(
                    lines[0][0],
                    "header",
                    f"the columns {', '.join(missing)} are missing; "
                    f"the first line must name {', '.join(COLUMNS)}",
                ),
            )
        )
    read = [_row(number, cells, names, form) for number, cells in body]
    remarks = tuple(
        f"{where}the column {name or 'without a name'} is kept and not read."
        for name in names
        if name not in COLUMNS
    )
    if encoding == "cp1252":
        remarks += (f"{where}the file is not in UTF-8; it was read as Windows-1252.",)
    return Record(
        tuple(r for r in read if isinstance(r, Row)),
        broken + tuple(p for r in read if not isinstance(r, Row) for p in r),
        remarks,
    )


def _row(line, cells, names, form):
    """A Row, or the Problems of this line, every cell's at once."""
    if any(cell.strip() for cell in cells[len(names) :]):
        return [
            Problem(
                line,
                "whole line",
                f"{len(cells)} cells where the header has {len(names)}; a comma inside a cell "
                "needs quotes, or semicolons between the cells",
            )
        ]
    told = {name: cell.strip() for name, cell in zip(names, cells) if name in COLUMNS}
    unclear = {
        axle
        for axle in ("front", "rear")
        if told.get(axle) and number_cell(told[axle], form) is None
    }
    for axle in {"front", "rear"} - unclear:
        told[axle] = number_cell(told[axle], form) if told.get(axle) else None
    told.update({name: as_it_was(told.get(name, "")) for name in ("machine", "state", "note")})
    made, refusals = checked(told)
    problems = [
        Problem(
            line,
            column,
            f'"{told[column]}" could be two numbers, or none; type the reading alone'
            if column in unclear
            else str(refusals[column]),
        )
        for column in COLUMNS
        if column in unclear | refusals.keys()
    ]
    return problems or made


def waiting(path):
    """The files beside a record that hold rows for it, in order."""
    return sorted(path.parent.glob(f"{glob.escape(path.stem)}.waiting-*.csv"))


def append(path, *rows):
    """Add rows to a record file: a Saved that says where they went.

    What is in the file stays as it is, byte for byte; the new file takes its place in one step or not at all.
    Where a spreadsheet holds the file, the rows go into a file beside it, and join it at the next chance.
    """
    path = Path(path)
    with file_lock(path):
        return _append(path, rows)


def _append(path, rows):
    old = _bytes(path) if path.exists() else b""
    _refuse_another_table(path, old)
    held = [one for one in waiting(path) if not _parsed(_bytes(one)).problems]
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


def _refuse_another_table(path, old):
    """A file with another header is somebody else's: it is left alone."""
    if any(problem.column == "header" for problem in _parsed(old).problems):
        raise Refusal(
            "record",
            path.name,
            f"a file whose first line names {', '.join(COLUMNS)}",
            "give another file name",
        )


def _with_rows(old, rows):
    """The bytes of a file with rows after what it holds, in its own encoding, columns and marks."""
    text, encoding = decoded(old)
    form = format_of(text, encoding) if text.strip() else Format()
    if not text.strip():
        return (form.line(COLUMNS) + _table(rows, COLUMNS, form)).encode(form.encoding)
    added = "" if text.endswith(("\n", "\r")) else form.newline
    return old + (
        added + _table(rows, _names(rows_of(text, form.delimiter)[0][0][1]), form)
    ).encode(form.encoding)


def _table(rows, header, form):
    return "".join(form.line([one.cells(form).get(name, "") for name in header]) for one in rows)


def _names(header):
    """Column names as this module knows them, whatever their case and spacing."""
    return [" ".join(cell.split()).casefold() for cell in header]


def _is_held(path):
    """True where a spreadsheet has left its mark that it has the file open."""
    return any((path.parent / mark).exists() for mark in (f".~lock.{path.name}#", f"~${path.name}"))


def _beside(path, rows, why):
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


def _not_kept(path, error):
    """The Refusal for rows that no file took; the record is as it was, and so is what was typed."""
    return Refusal(
        "record",
        path.name,
        "a folder that can be written to",
        f"the rows are not kept yet: {explain_os_error_briefly(error)}, then save again, or name another record file",
    )
