"""Answers that were written on paper, typed in by code: a CSV list that the instructor keeps.

The list has a row a code and a column a problem, in the order of the paper: code, 1, 2, 3 and so
on.  An empty cell is no answer.  One that cannot be read is named, and the rest of its row counts.
A list without its head is read in that order.  The list lies in keep_to_yourself, where no
student's file comes, for what stands in it counts as handed in under its code.  Paper has the
numbers of the first try.
"""

from collections.abc import Collection, Iterator, Mapping
from functools import partial
from pathlib import Path

from leverarm.exercises import Problem
from leverarm.files import write_whole
from leverarm.marking.answer_file import MOST_TYPED, Answer, header, line
from leverarm.marking.assignment import Assignment, Item, Ticket
from leverarm.marking.codes import is_code, number_key, proof, read_code, shown_code
from leverarm.marking.collect import Found, Skipped, SubmittedFile
from leverarm.marking.homework import MADE_WITH, given_text, problem_for, verdict_on
from leverarm.quantities import Refusal
from leverarm.tables import csv_bytes, read_list, visible

LIST = "list of paper answers"
END = "_paper_answers.csv"
_MORE = "cells beyond the head"


class PaperList:
    """The list of one assignment.

    path        where it lies;  assignment, codes   whose problems, and the codes given out
    """

    def __init__(self, path: Path, assignment: Assignment, codes: Collection[str]) -> None:
        self.path, self.assignment, self.codes = path, assignment, codes

    @property
    def _columns(self) -> list[str]:
        return ["code", *map(str, range(1, len(self.assignment.items) + 1))]

    def typed(self, code: str) -> dict[int, str]:
        """Place of a problem -> what was typed for it under a code."""
        wanted, found = self._known(code), dict[int, str]()
        for _, cells in self._rows():
            if _code_or_none(cells.get("code", "")) == wanted:
                found |= _answers(cells, len(self.assignment.items))
        return found

    def enter(self, code: str, answers: Mapping[int, str]) -> None:
        """Keep what stands on the paper of a code; an empty text takes an answer back.

        answers     place of the problem, from 1 -> as written
        """
        wanted, most = self._known(code), len(self.assignment.items)
        for at, text in answers.items():
            if not 1 <= at <= most:
                raise Refusal("problem", at, f"1 to {most}", "look at the number on the paper")
            if len(text) > MOST_TYPED:
                raise Refusal(
                    f"answer {at}", text, f"up to {MOST_TYPED} characters", "type it shorter"
                )
        kept = {at: text for at, text in (self.typed(code) | dict(answers)).items() if text.strip()}
        there = [cells for _, cells in self._rows()]
        # Columns of the instructor's own stay, at the end.
        columns = list(dict.fromkeys([*self._columns, *(name for row in there for name in row)]))
        mine = [row for row in there if _code_or_none(row.get("code", "")) == wanted]
        own = {name: cell for row in mine for name, cell in row.items() if cell}
        own |= {"code": shown_code(wanted)}
        own |= {str(at): kept.get(at, "") for at in range(1, most + 1)}
        rows = [row for row in there if row not in mine] + ([own] if kept else [])
        made = sorted([row.get(name, "") for name in columns] for row in rows)
        self.path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(self.path, csv_bytes([columns, *made]))

    def _known(self, code: str) -> str:
        found = read_code(code)
        if found not in self.codes:
            raise Refusal(
                "code", shown_code(found), "a code of this class", "look at the paper again"
            )
        return found

    def _rows(self) -> Iterator[tuple[int, dict[str, str]]]:
        """(line, cells by column) of the list as it lies there."""
        if not self.path.is_file():
            return
        head, *rows = read_list(self.path.read_bytes(), LIST)
        names, first = [cell.strip().lower() for cell in head], 2
        if is_code(head[0]):  # rows were pasted without their head
            names, rows, first = self._columns, [head, *rows], 1
        if names[:1] != ["code"]:
            raise Refusal(
                LIST, f"a first column {head[0]}", "the columns code, 1, 2, 3", "name them so"
            )
        for at, row in enumerate(rows, first):
            cells = {name: cell.strip() for name, cell in zip(names, row, strict=False)}
            more = [cell for cell in row[len(names) :] if cell.strip()]
            yield at, cells | ({_MORE: " ".join(more)} if more else {})

    def files(self, class_key: str) -> Found:
        """Each row as a file that was handed in, and the rows that cannot be used with a reason."""
        files: list[SubmittedFile] = []
        skipped: list[Skipped] = []
        for at, cells in self._rows():
            name = f"{self.path.name}, row {at}"
            answers = _answers(cells, len(self.assignment.items))
            if not answers:
                continue
            try:
                _refuse_more(cells)
                code = self._known(cells.get("code", ""))
            except Refusal as why:
                skipped.append(Skipped(name, str(why)))
                continue
            ticket = self._ticket(class_key, code)
            skipped += [
                Skipped(
                    name,
                    f"answer {at}, “{visible(text, 40)}”, cannot be read and is no answer; "
                    "the rest of the row counts: look at the paper and type it again",
                )
                for at, text in self._unread(ticket, answers).items()
            ]
            files.append(SubmittedFile(name, partial(_as_file, ticket, answers), None))
        return files, skipped

    def not_read(self, class_key: str, code: str) -> dict[int, str]:
        """Place of a problem -> what is kept there and cannot be read, so that it is no answer."""
        return self._unread(self._ticket(class_key, self._known(code)), self.typed(code))

    def _unread(self, ticket: Ticket, answers: Mapping[int, str]) -> dict[int, str]:
        found = {}
        for at, text in sorted(answers.items()):
            item = self.assignment.items[at - 1]
            typed = _as_typed(problem_for(ticket, item, 1), text)
            if not verdict_on(ticket, item, 1, typed)[1].counts:
                found[at] = text
        return found

    def _ticket(self, class_key: str, code: str) -> Ticket:
        return Ticket(code, number_key(class_key, code, self.assignment.name), self.assignment)


def _refuse_more(cells: Mapping[str, str]) -> None:
    """Refuse a row with more cells than the head: which answer is whose is not known."""
    if _MORE in cells:
        raise Refusal(
            "row",
            f"more cells than the head has, at the end {visible(cells[_MORE], 40)}",
            "a cell for the code and one for each problem",
            "a decimal comma may have cut a number: type a point, or put it in quotes",
        )


def _code_or_none(text: str) -> str | None:
    try:
        return read_code(text)
    except Refusal:
        return None


def _answers(cells: Mapping[str, str], most: int) -> dict[int, str]:
    return {at: cells[str(at)] for at in range(1, most + 1) if cells.get(str(at))}


def _as_file(ticket: Ticket, answers: Mapping[int, str]) -> bytes:
    """The answer file that a student would have handed in."""
    items = ticket.assignment.items
    rows = [_line(ticket, items[at - 1], text) for at, text in sorted(answers.items())]
    head = header(ticket.assignment.name, ticket.code, proof(ticket.key), MADE_WITH)
    return ("\n".join([head, *rows]) + "\n").encode()


def _line(ticket: Ticket, item: Item, text: str) -> str:
    problem = problem_for(ticket, item, 1)
    typed = _as_typed(problem, text)
    return line(Answer(item.name, 1, given_text(problem), typed, typed))


def _as_typed(problem: Problem, text: str) -> str:
    """What a student would have typed: a cell has one line, a free body one line a force."""
    if problem.style == "body":
        text = "\n".join(part.strip() for part in text.replace(";", ",").split(","))
    return text[:MOST_TYPED]
