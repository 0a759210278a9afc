"""Paper sheets as an instructor types them in: a CSV list with a row a sheet.

The list has the columns code, round, form, and 1, 2, 3 and so on for the letters.  A cell that is
empty, or holds two letters, is a blank; so is one that holds no letter of its question, which a
note names, and the rest of its row is kept.  All letters of a sheet may stand in one cell.  A row
without any letter is a sheet that did not come.
"""

import re
from collections.abc import Iterable

from leverarm.concept_check.questions import FORMS, form, how_many_questions
from leverarm.concept_check.sheet import CheckSlip, HandedIn
from leverarm.marking.codes import is_code, read_code, shown_code
from leverarm.quantities import Refusal
from leverarm.tables import csv_bytes, read_list

COLUMNS = ("code", "round", "form")
# A round as it is typed, without spaces and points; the letters are what a 1 is mistaken for.
_ROUND_WORDS = {"1": 1, "i": 1, "l": 1, "before": 1, "2": 2, "ii": 2, "after": 2}


def paper_list(slips: Iterable[CheckSlip]) -> bytes:
    """The list to type paper answers into: a row a slip, its letters empty."""
    numbers = list(range(1, how_many_questions() + 1))
    rows = [[shown_code(one.code), one.round, one.form, *[""] * len(numbers)] for one in slips]
    return csv_bytes([[*COLUMNS, *numbers], *rows])


def read_paper_answers(data: bytes, file: str) -> tuple[list[HandedIn], tuple[str, ...]]:
    """(sheets, remarks) of such a list; a row that cannot be used is left out with its reason."""
    head, *rows = read_list(data, file)
    names = [cell.strip().lower() for cell in head]
    wanted = [*COLUMNS, *map(str, range(1, how_many_questions() + 1))]
    first = 2
    if is_code(head[0]):  # rows were pasted without their head
        names, rows, first = wanted, [head, *rows], 1
    missing = [name for name in wanted if name not in names]
    if missing:
        raise Refusal(
            "list of paper answers",
            f"no column {missing[0]}",
            f"the columns {', '.join(COLUMNS)} and 1 to {how_many_questions()}",
            "type into the list that the desk wrote",
        )
    sheets, remarks = [], []
    for at, row in enumerate(rows, first):
        cells = {name: cell.strip() for name, cell in zip(names, row)}
        try:
            one = _sheet(cells, f"{file}, row {at}")
        except Refusal as why:
            remarks.append(f"row {at}: {why}")
            continue
        if one is not None and one.notes and not one.answered:
            remarks.append(f"row {at}: none of its letters can be read; {one.notes[0]}")
        elif one is not None:
            sheets.append(one)
    return sheets, tuple(remarks)


def _sheet(cells: dict[str, str], file: str) -> HandedIn | None:
    """The sheet of a row, None where it holds no letter, or a Refusal."""
    marked = _in_cells([cells.get(str(at), "") for at in range(1, how_many_questions() + 1)])
    if not any(marked):
        return None
    code, (round_, name) = read_code(cells["code"]), _round_and_form(cells)
    letters, notes = "", []
    for question, typed in zip(form(name, "lb"), marked):
        bare = re.sub(r"[\s,/+&().:;-]", "", typed).upper()
        if not set(bare) <= set(question.letters) or len(bare) > 2:
            notes.append(
                f"question {question.number}, “{typed[:12]}” is not one letter of "
                f"{question.letters}: it counts as a blank, and the rest of the sheet is kept; "
                "look at the sheet and type that letter again"
            )
            bare = ""
        letters += bare if len(bare) == 1 else "-"
    return HandedIn(file, code, round_, name, letters, notes=tuple(notes))


def _in_cells(marked: list[str]) -> list[str]:
    """A cell a question; all letters that stand in the first cell alone, - for a blank, are dealt.

    >>> count = how_many_questions()
    >>> _in_cells(["cd-a" + "b" * (count - 4), *[""] * (count - 1)])[:4]
    ['c', 'd', '-', 'a']
    """
    together = re.sub(r"[\s,/;]", "", marked[0])
    return list(together) if len(together) == len(marked) and not any(marked[1:]) else marked


def _round_and_form(cells: dict[str, str]) -> tuple[int, str]:
    """The round and the form of a row, also where one stands in the other's column."""
    typed = {
        name: re.sub(rf"{name}|[\s.]", "", cells.get(name, "").lower())
        for name in ("round", "form")
    }
    if typed["round"].upper() in FORMS and typed["form"] in _ROUND_WORDS:
        typed = {"round": typed["form"], "form": typed["round"]}
    if typed["round"] not in _ROUND_WORDS:
        raise Refusal(
            "round", cells.get("round"), "1 or 2", "type 1 for before the lessons, 2 for after"
        )
    if typed["form"].upper() not in FORMS:
        given, allowed = cells.get("form"), " or ".join(FORMS)
        raise Refusal("form", given, allowed, "look at the head of the sheet")
    return _ROUND_WORDS[typed["round"]], typed["form"].upper()
