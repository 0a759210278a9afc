"""What the gate hands out: a Finding, and the Proposal that would settle it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from leverarm.weighing.day import WeighDay
from leverarm.weighing.plausible import DayRow
from leverarm.weighing.readings import MOST_NOTE, Weighing


@dataclass(frozen=True)
class Proposal:
    """What would settle a finding, if the person takes it.

    words       what it does
    rows        corrected rows, to be added after those of the day
    joined      (a piece's name, what it is written as elsewhere)
    unchanged   True where it says that fuel, operator and mower stayed the same
    """

    words: str
    rows: tuple[Weighing, ...] = ()
    joined: tuple[str, str] | None = None
    unchanged: bool | None = None


@dataclass(frozen=True)
class Finding:
    """One thing that looks wrong.

    key         what is kept in WeighDay.accepted when the person says that it is so; other
                readings make another key
    row         number of the row, from 1 in the order they were written; None for the day
    cause       "swapped", "unit", "digits", "reversed", "repeats", "set-ups", "names" ...
    brief       row and likely cause alone, where the sentence says more than that
    answers     what a person may answer: take the proposal, or say that it is so
    """

    key: str
    row: int | None
    sentence: str
    cause: str
    proposal: Proposal | None = None
    brief: str = ""
    answers: tuple[str, str] = ("Correct it", "It is so")


def key_of(cause: str, about: str) -> str:
    """What is kept when a person says that something is so; it stands in a list parted by ";"."""
    return f"{cause}: {about}".replace(";", ",")


def reading_of(row: Weighing) -> str:
    """A row by what it says, for a key: no comma between thousands, as files are written."""
    shown = f"{row.front or '-'} / {row.rear or '-'}".replace(",", "")
    return f"{row.setup_name} #{row.repeat} {shown}"


def day_rows(day: WeighDay) -> list[DayRow]:
    """The rows that count, with their place in the day."""
    counting = {id(row) for row in day.current}
    return [
        DayRow(number, row.key[0], row)
        for number, row in enumerate(day.rows, 1)
        if id(row) in counting
    ]


def noted(row: Weighing, cause: str) -> Weighing:
    """A corrected row that says why it is there."""
    note = ", ".join(part for part in (row.note, f"corrected: {cause}") if part)
    return replace(row, note=note[-MOST_NOTE:])
