"""Names to codes, from the instructor's own list, only on the instructor's computer.

The list is a CSV file with one row a student: one column holds codes, the others
whatever the instructor keeps (a name, a group).  Comma, semicolon or tab, with or
without a byte order mark, all are read.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from leverarm.marking.codes import read_code
from leverarm.quantities import Refusal, how_many
from leverarm.tables import read_list


@dataclass(frozen=True)
class Roster:
    """An instructor's list.

    columns     the names of the columns other than the code
    rows        code -> the cells of those columns
    twice       codes that stand twice
    without     how many rows have no code
    """

    columns: tuple[str, ...]
    rows: dict[str, tuple[str, ...]]
    twice: tuple[str, ...]
    without: int


def _code(cell: str) -> str | None:
    """The code in a cell, or None."""
    try:
        return read_code(cell.strip().lstrip("'"))
    except Refusal:
        return None


def read_roster(data: bytes) -> Roster:
    """The Roster in a CSV file; the column with the most codes is the one that holds them."""
    rows = read_list(data, "list of names")
    width = max(map(len, rows))
    rows = [row + [""] * (width - len(row)) for row in rows]
    column = max(range(width), key=lambda at: sum(_code(row[at]) is not None for row in rows))
    found = [
        (_code(row[column]), tuple(cell.strip() for at, cell in enumerate(row) if at != column))
        for row in rows
    ]
    if not any(code for code, _ in found):
        raise Refusal(
            "list of names",
            "a list without codes",
            "one row a student, with the code in one column",
            "write each student's code beside the name",
        )
    head = (
        found.pop(0)[1]
        if found[0][0] is None
        else tuple(f"column {at + 1}" for at in range(width - 1))
    )
    kept: dict[str, tuple[str, ...]] = {}
    twice = []
    for code, cells in found:
        if code in kept:
            twice.append(code)
        elif code:
            kept[code] = cells
    return Roster(head, kept, tuple(twice), sum(code is None for code, _ in found))


def joined(rows: list[list[str]], roster: Roster) -> Iterator[list[str]]:
    """The rows of a mark sheet, head first, with the roster's columns before them."""
    yield [*roster.columns, *rows[0]]
    for row in rows[1:]:
        yield [*roster.rows.get(row[0], ("",) * len(roster.columns)), *row]


def remarks(rows: list[list[str]], roster: Roster) -> tuple[str, ...]:
    """What did not match, in sentences."""
    marked = {row[0] for row in rows[1:]}
    counts = (
        (len(marked - set(roster.rows)), "code", "of the mark sheet not in your list of names"),
        (len(set(roster.rows) - marked), "code", "of your list not in the mark sheet"),
        (len(roster.twice), "code", "twice in your list: the first row counts"),
        (roster.without, "row", "of your list without a code"),
    )
    return tuple(f"{how_many(number, thing)} {words}." for number, thing, words in counts if number)
