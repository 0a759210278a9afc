"""The text of a weigh day's file: a header block and a table; what each line of it means.

A header block of ``key,value`` lines, an empty line, and one row a weighing.  Every
fault is named by line and column.  ``lessons/weigh_day_record.md`` describes the format.
"""

from __future__ import annotations

import codecs
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from leverarm.quantities import Refusal
from leverarm.tables import (
    Format,
    as_it_was,
    decoded,
    defused,
    format_of,
    number_cell,
    rows_of,
)
from leverarm.weighing.day import WeighDay
from leverarm.weighing.day_header import (
    FORMAT,
    FORMAT_KEY,
    FileFault,
    header_day,
    header_lines,
    is_known,
)
from leverarm.weighing.readings import (
    AxleReading,
    Weighing,
    axle_reading,
    pieces,
    scale_unit,
    weighing,
    wheel_readings,
)
from leverarm.weighing.scales import AXLES

DAY_COLUMNS = (
    "set-up",
    "repeat",
    "front",
    "front left",
    "front right",
    "rear",
    "rear left",
    "rear right",
    "unit",
    "note",
)


_NEEDED = ("set-up", "unit")


@dataclass(frozen=True)
class DayFile:
    """What one file holds: its WeighDays, what could not be read, what is worth a look.

    days        one; several in a file of the earlier format; none where the header is broken
    """

    path: Path
    days: tuple[WeighDay, ...] = ()
    faults: tuple[FileFault, ...] = ()
    remarks: tuple[str, ...] = ()

    @property
    def day(self) -> WeighDay:
        """The one WeighDay; a Refusal where a line cannot be read, or there are several."""
        if self.faults:
            more = len(self.faults) - 1
            raise Refusal(
                "weigh day",
                self.path.name,
                "a file in which every line can be read",
                f"correct {self.faults[0]}" + (f" ({more} more)" if more else ""),
            )
        if len(self.days) != 1:
            raise Refusal(
                "weigh day",
                f"{len(self.days)} machines and days in {self.path.name}",
                "a file of one machine and one day",
                "choose one of them in the list",
            )
        return self.days[0]


def read_lines(
    data: bytes, name: str
) -> tuple[Format, list[tuple[int, list[str]]], list[FileFault]]:
    """(how a file writes its cells, its lines with their numbers, where its table breaks off)."""
    text, encoding = decoded(data)
    form = format_of(text, encoding)
    lines, broken = rows_of(text, form.delimiter)
    if not broken:
        return form, lines, []
    what = f"this and what follows is no table ({broken.reason}); check its quotes"
    return form, lines, [FileFault(name, broken.line, "whole line", what)]


def too_wide(name: str, number: int, names: Sequence[str], cells: Sequence[str]) -> list[FileFault]:
    """The fault of a line with more cells than the header: a comma in a cell moves all after it."""
    if not any(cell.strip() for cell in cells[len(names) :]):
        return []
    what = (
        f"{len(cells)} cells where the header has {len(names)}; a comma inside a cell "
        "needs quotes, or semicolons between the cells"
    )
    return [FileFault(name, number, "whole line", what)]


def parsed_day(data: bytes, path: Path) -> DayFile:
    """A DayFile from the bytes of a file."""
    form, lines, faults = read_lines(data, path.name)
    told, table = _parted(lines)
    if told.get(FORMAT_KEY, (0, ""))[1] != FORMAT:
        what = f'the first line must be "{FORMAT_KEY},{FORMAT}"; this is no weigh day'
        faults.append(FileFault(path.name, lines[0][0] if lines else 1, "header", what))
        return DayFile(path, (), tuple(faults))
    day, wrong = header_day(told, path.name)
    faults += wrong
    remarks = [f'"{key}" is kept and not read.' for key in told if not is_known(key)]
    rows, wrong, more = _table(table, form, path.name, day)
    days = () if day is None else (day.with_rows(*rows),)
    return DayFile(
        path, days, (*faults, *wrong), (*remarks, *more, *wrong_encoding(form), *corrections(rows))
    )


def _parted(
    lines: list[tuple[int, list[str]]],
) -> tuple[dict[str, tuple[int, str]], list[tuple[int, list[str]]]]:
    """({key: (line, value)} of the header block, the lines of the table with its header)."""
    told: dict[str, tuple[int, str]] = {}
    for i, (number, cells) in enumerate(lines):
        key = _name(cells[0])
        if key in DAY_COLUMNS:
            return told, lines[i:]
        told.setdefault(key, (number, as_it_was(cells[1].strip()) if len(cells) > 1 else ""))
    return told, []


def _table(
    lines: list[tuple[int, list[str]]], form: Format, name: str, day: WeighDay | None
) -> tuple[list[Weighing], list[FileFault], tuple[str, ...]]:
    """(rows, faults, remarks) of the table."""
    if not lines:
        return [], [], ()
    (first, header), *body = lines
    names = [_name(cell) for cell in header]
    missing = [one for one in _NEEDED if one not in names]
    if missing:
        what = f"the columns {', '.join(missing)} are missing"
        return [], [FileFault(name, first, "header", what)], ()
    rows, faults = [], []
    step = day.scales.step_kg if day else None
    for number, cells in body:
        if wide := too_wide(name, number, names, cells):
            faults += wide
            continue
        given = dict(zip(names, (cell.strip() for cell in cells)))
        try:
            rows.append(row_of(given, form, step))
        except Refusal as refusal:
            faults.append(FileFault(name, number, f"column {refusal.field}", str(refusal)))
    odd = tuple(
        f"The column {one or 'without a name'} is kept and not read."
        for one in names
        if one not in DAY_COLUMNS
    )
    return rows, faults, odd


def row_of(given: Mapping[str, str], form: Format, step_kg: float | None) -> Weighing:
    """The Weighing of one line."""
    unit, axles = scale_unit(given.get("unit", "")), {}
    for axle in AXLES:
        whole = _cell(given.get(axle, ""), form, axle)
        sides = [
            axle_reading(_cell(given.get(f"{axle} {side}", ""), form, axle), unit, axle)
            for side in ("left", "right")
        ]
        wheels = wheel_readings(sides[0], sides[1], axle)
        if wheels and whole not in ("", None):
            raise Refusal(
                axle,
                f"{whole}, and its wheels too",
                "the axle's reading, or its left and right wheel",
                "leave one of them empty",
            )
        axles[axle] = wheels or axle_reading(whole, unit, axle, step_kg)
    return weighing(
        pieces(as_it_was(given.get("set-up", ""))),
        axles["front"],
        axles["rear"],
        unit,
        given.get("repeat", "") or 1,
        as_it_was(given.get("note", "")),
    )


def _cell(text: str, form: Format, axle: str) -> str | float:
    """A cell with decimal comma as its number; any other text is left to the reader of the box."""
    if form.decimal != "," or not text.strip() or "/" in text or "+" in text[1:]:
        return text
    number = number_cell(text, form)
    if number is None:
        raise Refusal(
            axle,
            text,
            "one number, and this could be two",
            "type the reading without a mark between thousands",
        )
    return number


def corrections(rows: Sequence[Weighing]) -> list[str]:
    """A remark for each reading that a later row corrects."""
    last = {one.key: one for one in rows}
    return [
        f"{one.setup_name}, repeat {one.repeat}: corrected by a later row."
        for one in rows
        if last[one.key] is not one
    ]


def wrong_encoding(form: Format) -> list[str]:
    """A remark for a file that is not in UTF-8."""
    if form.encoding != "cp1252":
        return []
    return ["The file is not in UTF-8; it was read as Windows-1252."]


def remarks_on(day: WeighDay, file: DayFile) -> tuple[str, ...]:
    """The remarks of a file that concern one of its days; another day's corrections do not."""
    others = tuple(f"{one.name}: " for one in file.days if one.name != day.name)
    return tuple(one for one in file.remarks if not one.startswith(others))


def _name(cell: str) -> str:
    """A key or column name, whatever its case and spacing; "setup" and "state" are the set-up."""
    name = " ".join(cell.split()).casefold()
    return "set-up" if name in ("setup", "set up", "state") else name


def row_cells(row: Weighing, form: Format) -> dict[str, str]:
    """The cells of a row by column."""

    def of(axle: str, one: AxleReading | None) -> dict[str, str]:
        if one is None:
            return {}
        return {
            axle: form.number(one.total),
            f"{axle} left": form.number(one.left),
            f"{axle} right": form.number(one.right),
        }

    return {
        "set-up": defused(row.setup_name),
        "repeat": str(row.repeat),
        **of("front", row.front),
        **of("rear", row.rear),
        "unit": row.unit,
        "note": defused(row.note),
    }


def day_bytes(day: WeighDay) -> bytes:
    """A whole file: header block, empty line, table."""
    form = Format()
    head = "".join(form.line((key, defused(value))) for key, value in header_lines(day))
    return (
        head + form.newline + form.line(DAY_COLUMNS) + _lines(day.rows, DAY_COLUMNS, form)
    ).encode(form.encoding)


def _lines(rows: Iterable[Weighing], names: Sequence[str], form: Format) -> str:
    return "".join(
        form.line([row_cells(one, form).get(name, "") for name in names]) for one in rows
    )


def with_rows(old: bytes, day: WeighDay, rows: Iterable[Weighing]) -> bytes:
    """The bytes of a file with rows after what it holds, in its own encoding, columns and marks."""
    if not old.strip():
        return day_bytes(replace(day, rows=tuple(rows)))
    text, encoding = decoded(old)
    form = format_of(text, encoding)
    _, table = _parted(rows_of(text, form.delimiter)[0])
    added = "" if text.endswith(("\n", "\r")) else form.newline
    if not table:
        added += form.newline + form.line(DAY_COLUMNS)
    names = [_name(cell) for cell in table[0][1]] if table else list(DAY_COLUMNS)
    return old + (added + _lines(rows, names, form)).encode(form.encoding)


def with_header(old: bytes, day: WeighDay) -> bytes:
    """The bytes of a file with another header block; lines it does not know and its table stay."""
    text, encoding = decoded(old)
    form = format_of(text, encoding)
    told, table = _parted(rows_of(text, form.delimiter)[0])
    kept = [(key, value) for key, (_, value) in told.items() if not is_known(key)]
    head = "".join(form.line((key, defused(value))) for key, value in [*header_lines(day), *kept])
    rows = list(io.StringIO(text, newline=""))[table[0][0] - 1 :] if table else []
    encoding = "utf-8-sig" if old.startswith(codecs.BOM_UTF8) else form.encoding
    whole = head + form.newline + "".join(rows)
    try:
        return whole.encode(encoding)
    except UnicodeEncodeError:  # a name with letters that the old encoding has not
        return whole.encode(Format().encoding)
