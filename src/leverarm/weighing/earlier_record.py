"""Records of the earlier format, read and never written: one table for machines and days.

Each machine and day in it becomes a WeighDay of its own.
"""

from __future__ import annotations

from pathlib import Path

from leverarm.quantities import Refusal
from leverarm.tables import as_it_was, decoded, delimiter_of
from leverarm.weighing.day import WeighDay, weigh_day
from leverarm.weighing.day_text import (
    DayFile,
    FileFault,
    corrections,
    read_lines,
    row_of,
    too_wide,
    wrong_encoding,
)
from leverarm.weighing.facts import machine
from leverarm.weighing.readings import digits


def is_earlier(data: bytes) -> bool:
    """True for a file whose first line names the columns of the earlier format."""
    text, _ = decoded(data)
    first = next((line for line in text.splitlines() if line.strip()), "")
    heads = {cell.strip().strip('"').casefold() for cell in first.split(delimiter_of(first))}
    return {"date", "machine", "front"} <= heads


_NEEDED = ("date", "machine", "wheelbase", "state", "front", "rear", "unit")
_KNOWN = {*_NEEDED, "repeat", "note"}


def earlier_days(data: bytes, path: Path) -> DayFile:
    """Machines and days of one table, each a WeighDay of its own.

    Two wheelbases under one name and date are a fault, since one of them is wrong.
    """
    form, lines, faults = read_lines(data, path.name)
    (first, header), *body = lines
    names = [" ".join(cell.split()).casefold() for cell in header]
    missing = [one for one in _NEEDED if one not in names]
    if missing:
        what = f"the columns {', '.join(missing)} are missing"
        return DayFile(path, (), (FileFault(path.name, first, "header", what),))
    days: dict[tuple[str, str], WeighDay] = {}
    for number, cells in body:
        if wide := too_wide(path.name, number, names, cells):
            faults += wide
            continue
        given = dict.fromkeys(names, "") | dict(zip(names, (cell.strip() for cell in cells)))
        try:
            told = machine(as_it_was(given["machine"]), given["wheelbase"])
            day = weigh_day(told, given["date"], system="lb" if given["unit"] == "lb" else "kg")
            row = row_of({**given, "set-up": given["state"]}, form, None)
        except Refusal as refusal:
            faults.append(FileFault(path.name, number, f"column {refusal.field}", str(refusal)))
            continue
        known = days.setdefault((day.date, told.key), day)
        if abs(known.machine.wheelbase_m - told.wheelbase_m) > 1e-9:
            what = (
                f"{given['wheelbase']} was given; {digits(known.machine.wheelbase_m)} m stands in "
                "an earlier line for the same machine and day; correct the wrong one"
            )
            faults.append(FileFault(path.name, number, "column wheelbase", what))
            continue
        days[day.date, told.key] = known.with_rows(row)
    odd = [f"The column {one} is kept and not read." for one in names if one not in _KNOWN]
    fixed = [f"{day.name}: {one}" for day in days.values() for one in corrections(day.rows)]
    remarks = (*odd, *wrong_encoding(form), *fixed)
    return DayFile(path, tuple(days.values()), tuple(faults), remarks)
