"""Paper sheets as an instructor types them in: a CSV list with a row a sheet.

The list has the columns code, round, form, and 1, 2, 3 and so on for the letters.  A cell that is
empty, or holds two letters, is a blank.  A row without any letter is a sheet that did not come.
"""

from collections.abc import Iterable

from leverarm.concept_check.questions import FORMS, form, how_many_questions
from leverarm.concept_check.sheet import ROUNDS, CheckSlip, HandedIn
from leverarm.marking.codes import read_code, shown_code
from leverarm.quantities import Refusal
from leverarm.tables import csv_bytes, read_list

COLUMNS = ("code", "round", "form")


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
    missing = [name for name in wanted if name not in names]
    if missing:
        raise Refusal(
            "list of paper answers",
            f"no column {missing[0]}",
            f"the columns {', '.join(COLUMNS)} and 1 to {how_many_questions()}",
            "type into the list that the desk wrote",
        )
    sheets, remarks = [], []
    for at, row in enumerate(rows, 2):
        cells = {name: cell.strip() for name, cell in zip(names, row)}
        try:
            one = _sheet(cells, f"{file}, row {at}")
        except Refusal as why:
            remarks.append(f"row {at}: {why}")
            continue
        if one is not None:
            sheets.append(one)
    return sheets, tuple(remarks)


def _sheet(cells: dict[str, str], file: str) -> HandedIn | None:
    """The sheet of a row, None where it holds no letter, or a Refusal."""
    marked = [cells.get(str(at), "").upper() for at in range(1, how_many_questions() + 1)]
    if not any(marked):
        return None
    code, round_, name = (
        read_code(cells["code"]),
        cells.get("round", ""),
        cells.get("form", "").upper(),
    )
    if round_ not in map(str, ROUNDS):
        raise Refusal("round", round_, "1 or 2", "type 1 for before the lessons, 2 for after")
    if name not in FORMS:
        raise Refusal("form", name, " or ".join(FORMS), "look at the head of the sheet")
    letters = ""
    for question, typed in zip(form(name, "lb"), marked):
        strange = set(typed) - set(question.letters) - set(" ,/+&-")
        if strange:
            raise Refusal(
                f"question {question.number}", typed, f"one of {question.letters}", "type it again"
            )
        letters += typed if len(typed) == 1 and typed in question.letters else "-"
    return HandedIn(file, code, int(round_), name, letters)
