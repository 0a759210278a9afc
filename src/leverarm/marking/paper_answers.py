"""Answers that were written on paper, typed in by code: a CSV list that the instructor keeps.

The list has a row a code and a column a problem, in the order of the paper: code, 1, 2, 3 and so
on.  An empty cell is no answer.  It lies in keep_to_yourself, where no student's file comes, for
what stands in it counts as handed in under its code.  Paper has the numbers of the first try.
"""

from collections.abc import Collection, Iterator, Mapping
from functools import partial
from pathlib import Path

from leverarm.exercises import Problem
from leverarm.files import write_whole
from leverarm.marking.answer_file import MOST_TYPED, Answer, header, line
from leverarm.marking.assignment import Assignment, Item, Ticket
from leverarm.marking.codes import number_key, proof, read_code, shown_code
from leverarm.marking.collect import Found, Skipped, SubmittedFile
from leverarm.marking.homework import MADE_WITH, given_text, problem_for, verdict_on
from leverarm.quantities import Refusal
from leverarm.tables import csv_bytes, read_list

LIST = "list of paper answers"
END = "_paper_answers.csv"


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
        others = [
            [cells.get(name, "") for name in self._columns]
            for _, cells in self._rows()
            if _code_or_none(cells.get("code", "")) != wanted
        ]
        own = [shown_code(wanted), *(kept.get(at, "") for at in range(1, most + 1))]
        rows = sorted([*others, *([own] if kept else [])])
        self.path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(self.path, csv_bytes([self._columns, *rows]))

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
        names = [cell.strip().lower() for cell in head]
        if names[:1] != ["code"]:
            raise Refusal(
                LIST, f"a first column {head[0]}", "the columns code, 1, 2, 3", "name them so"
            )
        for at, row in enumerate(rows, 2):
            yield at, {name: cell.strip() for name, cell in zip(names, row, strict=False)}

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
                code = self._known(cells.get("code", ""))
            except Refusal as why:
                skipped.append(Skipped(name, str(why)))
                continue
            ticket = self._ticket(class_key, code)
            files.append(SubmittedFile(name, partial(_as_file, ticket, answers), None))
        return files, skipped

    def not_read(self, class_key: str, code: str) -> dict[int, str]:
        """Place of a problem -> what is kept there and cannot be read, so that it is no answer."""
        ticket = self._ticket(class_key, self._known(code))
        found = {}
        for at, text in sorted(self.typed(code).items()):
            item = self.assignment.items[at - 1]
            typed = _as_typed(problem_for(ticket, item, 1), text)
            if not verdict_on(ticket, item, 1, typed)[1].counts:
                found[at] = text
        return found

    def _ticket(self, class_key: str, code: str) -> Ticket:
        return Ticket(code, number_key(class_key, code, self.assignment.name), self.assignment)


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
