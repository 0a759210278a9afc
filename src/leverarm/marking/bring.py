"""A file a student brings along: an assignment, a slip, or an answer file saved on an earlier day.

    bring(data, folder)     keeps it beside the notebook under its own name and says what it was

What is in a file decides what it is, never its name. Answers are added to those that are there; none is lost.
"""

from contextlib import suppress
from pathlib import Path

from leverarm.files import write_whole
from leverarm.marking.answers import TITLE, header, line, read_answers, read_line
from leverarm.marking.assignment import (
    ANSWERS_END,
    ASSIGNMENT_END,
    SLIP_END,
    read_assignment,
    read_slip,
    text,
)
from leverarm.marking.codes import assignment_name, shown_code
from leverarm.marking.keep import LineFile
from leverarm.marking.plaintext import Unfit, record
from leverarm.quantities import Refusal


def _slip(data, folder):
    slip = read_slip(data)
    write_whole(folder / (slip.stem + SLIP_END), text(slip).encode())
    return f"The slip for {slip.assignment.name}, code {shown_code(slip.code)}, is here."


def _assignment(data, folder):
    one = read_assignment(data)
    write_whole(folder / (one.stem + ASSIGNMENT_END), text(one).encode())
    return f"The assignment {one.name} is here. Type the code and the number key from your slip."


def _answers(data, folder):
    file = read_answers(data)
    name = f"{assignment_name(file.assignment).replace(' ', '_')}-{file.code}{ANSWERS_END}"
    kept = LineFile(
        folder / name,
        header(file.assignment, file.code, file.proof, file.made_with),
        lambda first: TITLE in first,
    )
    there = {(one.item, one.number): one.typed for one in _answers_in(kept.lines)}
    second = sum(there.get((one.item, one.number), one.typed) != one.typed for one in file.answers)
    for one in map(line, file.answers):
        if one not in kept.lines:
            kept.add(one)
    count = len(file.answers)
    what = "1 answer is" if count == 1 else f"{count} answers are"
    words = f"{what} taken up for {file.assignment}, code {shown_code(file.code)}. Open the slip to go on."
    if second:
        words += (
            f" {second} of them {'is' if second == 1 else 'are'} to a try that has an answer here already. "
            "Hand in the file you brought as well: for each problem the better answer counts."
        )
    return words


def _answers_in(lines):
    """The answers in the lines of a file, the first one to a try last, so that it is the one that stays."""
    for one in reversed(lines):
        with suppress(Unfit):
            yield read_line(record(one))


def bring(data, folder="."):
    """Keep a file of one of the three kinds; the sentence that says which it was, or a Refusal."""
    for read in (_slip, _assignment, _answers):
        try:
            return read(data, Path(folder))
        except Unfit as why:
            last = why
    raise Refusal(
        "file",
        "this file",
        "a slip, an assignment or an answer file of this workbook",
        f"choose another one ({last})",
    )
