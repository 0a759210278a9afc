"""A student's side of an assignment: where they are, the next numbers, every check kept at once.

    found = files_beside(folder)        tickets and assignments that lie beside a notebook
    work = Homework(ticket, folder)       takes up where the answer file left off
    work.problem("front_gain")          the problem with the numbers of the next try
    work.check("front_gain", "190 kg")  Verdict; written to the answer file before it is shown
    add_file(data, folder)              a ticket, an assignment or saved answers brought along

Other windows may work on the same file: whoever checks first has the try.
"""

import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Self, TypeAlias

from leverarm import __version__, exercises
from leverarm.exercises import Problem, Verdict
from leverarm.files import write_whole
from leverarm.marking import codes
from leverarm.marking.answer_file import (
    MOST_GIVEN,
    MOST_TYPED,
    Answer,
    AnswerLines,
    header,
    line,
    read_answers,
    read_line,
)
from leverarm.marking.assignment import (
    ANSWERS_END,
    ASSIGNMENT_END,
    MOST_BYTES,
    TICKET_END,
    Assignment,
    Item,
    Ticket,
    Unfit,
    file_text,
    read_assignment,
    read_ticket,
)
from leverarm.quantities import Refusal, how_many

MADE_WITH = f"leverarm {__version__}"
# A wrong answer to a problem with its own numbers.
WrongTry: TypeAlias = tuple[Problem, str]


@dataclass(frozen=True)
class FilesBeside:
    """Tickets and assignments in a folder, and remarks about files that could not be used."""

    tickets: tuple[Ticket, ...]
    assignments: tuple[Assignment, ...]
    notes: tuple[str, ...]


def files_beside(folder: Path | str) -> FilesBeside:
    """The tickets and assignments beside a notebook."""
    tickets: dict[str, Ticket] = {}
    assignments: dict[str, Assignment] = {}
    notes = []
    for path in sorted(Path(folder).glob("*.txt")):
        try:
            if any(end in path.name.lower() for end in (".ticket", ".slip")):
                ticket = read_ticket(_start_of(path))
                tickets[ticket.stem] = ticket
            elif ".assignment" in path.name.lower():
                found = read_assignment(_start_of(path))
                assignments[found.name] = found
        except (Unfit, Refusal, OSError) as why:
            notes.append(f"{path.name}: {why}")
    for ticket in tickets.values():
        assignments.setdefault(ticket.assignment.name, ticket.assignment)
    return FilesBeside(tuple(tickets.values()), tuple(assignments.values()), tuple(notes))


def _start_of(path: Path) -> bytes:
    """The bytes of a file, one more than may be at most, so that a longer one is noticed."""
    with open(path, "rb") as file:
        return file.read(MOST_BYTES + 1)


def write_ticket(ticket: Ticket, folder: Path | str) -> Path:
    """Write a typed ticket as a file beside the notebook, so that it is typed once."""
    path = Path(folder) / (ticket.stem + TICKET_END)
    if not path.exists():
        write_whole(path, file_text(ticket).encode())
    return path


def given_text(problem: Problem) -> str:
    """The numbers of a problem on one line, as an answer file keeps them: without commas."""
    told = "; ".join(f"{name} {value}" for name, value in problem.given.items())
    return re.sub(r"(?<=\d),(?=\d{3})", "", told)[:MOST_GIVEN]


def problem_for(ticket: Ticket, item: Item, number: int) -> Problem:
    """The problem of one try: the same for the student, on paper and when it is marked."""
    told = ticket.assignment
    seed = codes.seed(ticket.key, item.name, number)
    return _made(item.kind, seed, told.system or None, told.edition, item.step)


@lru_cache(maxsize=32)  # a try is shown, checked and written down: one problem, one solution
def _made(kind: str, seed: object, system: str | None, edition: int, step: str) -> Problem:
    return exercises.make(kind, seed, system, edition, step)


def verdict_on(
    ticket: Ticket,
    item: Item,
    number: int,
    typed: str,
    before: WrongTry | None = None,
    sympy: bool = False,
) -> tuple[Problem, Verdict]:
    """The problem of a try and the Verdict on it, under the rules of the assignment.

    Without sympy's second opinion a right answer takes a fifth of a millisecond, a wrong one two.

    before  the try before, with its own numbers, if it was wrong: where both are wrong, one wrong
            turn that gives both says more than each number alone
    """
    problem = problem_for(ticket, item, number)
    found = exercises.check(problem, typed, ticket.assignment.tolerance / 100, sympy=sympy)
    return problem, exercises.check_again(problem, typed, found, [before]) if before else found


def checked(
    ticket: Ticket, item: Item, answer: Answer, before: WrongTry | None = None
) -> tuple[Problem, Verdict]:
    """(problem, verdict) of an answer, worked out again from the number key.

    A verdict in a file is never read.  before: the try before, if it was wrong.
    """
    return verdict_on(ticket, item, answer.number, answer.typed, before)


@dataclass(frozen=True)
class Standing:
    """How far one item is: tries used, whether one was right, whether another try counts."""

    item: Item
    tries: int
    right: bool
    open: bool


class Homework:
    """One ticket being worked on.

    ticket, folder    whose, and where the answer file lies
    path            the answer file
    """

    def __init__(self, ticket: Ticket, folder: Path | str = ".") -> None:
        self.ticket, self.folder = ticket, Path(folder)
        self.path = self.folder / (ticket.stem + ANSWERS_END)
        head = header(ticket.assignment.name, ticket.code, codes.proof(ticket.key), MADE_WITH)
        self._file = AnswerLines(self.path, head)
        self._seen: dict[str, dict[int, Answer]] = {}
        self._verdicts: dict[tuple[str, int, str, str], Verdict] = {}
        self._cases: dict[tuple[str, int, str], str] = {}  # of each answer, whatever came before
        self.refresh()

    @property
    def items(self) -> tuple[Item, ...]:
        """The items of the assignment, in order."""
        return self.ticket.assignment.items

    def refresh(self) -> Self:
        """Take in what other windows wrote."""
        self._file.refresh()
        self._read()
        return self

    def _read(self) -> None:
        """The first answer to each try; it is the one that counts."""
        self._seen = {item.name: {} for item in self.items}
        for answer in _answers_in(self._file.lines):
            if answer.item in self._seen:
                self._seen[answer.item].setdefault(answer.number, answer)

    def item(self, name: str) -> Item:
        """The item of a name, or a Refusal."""
        found = next((item for item in self.items if item.name == name), None)
        if found is None:
            raise Refusal(
                "item",
                name,
                " or ".join(item.name for item in self.items),
                "use one of these names",
            )
        return found

    def answers(self, name: str) -> dict[int, Answer]:
        """The answers given to an item so far, by the number of their try."""
        return dict(sorted(self._seen[self.item(name).name].items()))

    def number(self, name: str) -> int:
        """The number of the next try: the first one that has no answer."""
        seen = self._seen[self.item(name).name]
        return next(n for n in range(1, len(seen) + 2) if n not in seen)

    def problem(self, name: str, number: int | None = None) -> Problem:
        """The problem of an item with the numbers of its next try, or of a try already made."""
        return problem_for(self.ticket, self.item(name), number or self.number(name))

    def verdict(self, name: str, number: int) -> Verdict:
        """The Verdict on an answer already given."""
        answer, before = self.answers(name)[number], self._wrong_before(name, number)
        key = (name, number, answer.typed, before[1] if before else "")
        if key not in self._verdicts:
            found = checked(self.ticket, self.item(name), answer, before)[1]
            self._verdicts[key], self._cases[name, number, answer.typed] = found, found.case
        return self._verdicts[key]

    def _wrong_before(self, name: str, number: int) -> WrongTry | None:
        """The problem and the answer of the try before, if there was one and it was wrong."""
        last = self.answers(name).get(number - 1)
        if last is None:
            return None
        key = (name, number - 1, last.typed)
        if key not in self._cases:
            self._cases[key] = checked(self.ticket, self.item(name), last)[1].case
        return (self.problem(name, number - 1), last.typed) if self._cases[key] == "wrong" else None

    def stuck_at(self, name: str, number: int) -> int | None:
        """The step at which the answer before a try stopped fitting, where hints belong."""
        before = number - 1
        return self.verdict(name, before).step if before in self.answers(name) else None

    def standing(self, name: str) -> Standing:
        """How far an item is."""
        seen = [n for n in self.answers(name) if self.ticket.assignment.counts(n)]
        return Standing(
            self.item(name),
            len(seen),
            any(self.verdict(name, n).right for n in seen),
            self.ticket.assignment.counts(self.number(name)),
        )

    def first_open(self) -> Item:
        """The first item that is not right and has a try left, or else the first of all."""
        standings = [self.standing(item.name) for item in self.items]
        return next((one.item for one in standings if one.open and not one.right), self.items[0])

    def check(
        self,
        name: str,
        typed: str,
        *,
        hints: int = 0,
        seconds: float = 0,
        number: int | None = None,
    ) -> Verdict:
        """The Verdict on a typed answer; an answer that could be read is kept at once.

        number  the try that was on the screen; another window may have answered it meanwhile,
                then this answer is kept as well and the first one counts
        """
        item, number = self.item(name), number or self.number(name)
        if not isinstance(typed, str) or len(typed) > MOST_TYPED:
            raise Refusal(
                "answer", typed, f"up to {MOST_TYPED} characters", "type the answer alone"
            )
        before = self._wrong_before(name, number)
        problem, found = verdict_on(self.ticket, item, number, typed, before, sympy=True)
        if found.counts:
            answer = Answer(
                item.name, number, given_text(problem), typed, found.reading, hints, int(seconds)
            )
            self._file.add(line(answer))
            self._read()
        return found

    def was_first(self, name: str, number: int, typed: str) -> bool:
        """Whether the answer that counts for this try is this one, not one from another window."""
        return self.answers(name)[number].typed == typed


# A file that a student brings --------------------------------------------------------------


def _add_ticket(data: bytes, folder: Path) -> str:
    ticket = read_ticket(data)
    write_whole(folder / (ticket.stem + TICKET_END), file_text(ticket).encode())
    return (
        f"The ticket for {ticket.assignment.name}, code {codes.shown_code(ticket.code)}, is here."
    )


def _add_assignment(data: bytes, folder: Path) -> str:
    one = read_assignment(data)
    write_whole(folder / (one.stem + ASSIGNMENT_END), file_text(one).encode())
    return f"The assignment {one.name} is here. Type the code and the number key from your ticket."


def _add_answers(data: bytes, folder: Path) -> str:
    file = read_answers(data)
    name = f"{codes.assignment_name(file.assignment).replace(' ', '_')}-{file.code}{ANSWERS_END}"
    head = header(file.assignment, file.code, file.proof, file.made_with)
    kept = AnswerLines(folder / name, head)
    there: dict[tuple[str, int], str] = {}
    for one in _answers_in(kept.lines):
        there.setdefault((one.item, one.number), one.typed)
    second = sum(there.get((one.item, one.number), one.typed) != one.typed for one in file.answers)
    for new in map(line, file.answers):
        if new not in kept.lines:
            kept.add(new)
    count = len(file.answers)
    what = f"{how_many(count, 'answer')} {'is' if count == 1 else 'are'}"
    words = (
        f"{what} added for {file.assignment}, code {codes.shown_code(file.code)}. "
        "Open the ticket to go on."
    )
    if second:
        words += (
            f" {second} of them {'is' if second == 1 else 'are'} to a try "
            "that has an answer here already. "
            "Hand in the file you brought as well: for each problem the better answer counts."
        )
    return words


def _answers_in(lines: list[str]) -> list[Answer]:
    """The answers in the lines of a file; what is no answer is passed over."""
    found = []
    for text in lines:
        with suppress(Unfit):
            found.append(read_line(text))
    return found


def add_file(data: bytes, folder: Path | str = ".") -> str:
    """Keep a file that a student brings beside the notebook; the sentence that says which it was.

    What is in a file decides what it is, never its name.  Answers are added to those that are
    there; none is lost.  Raises Refusal for any other file.
    """
    readers: tuple[Callable[[bytes, Path], str], ...] = (_add_ticket, _add_assignment, _add_answers)
    for add in readers:
        try:
            return add(data, Path(folder))
        except Unfit as why:
            last = why
    raise Refusal(
        "file",
        "this file",
        "a ticket, an assignment or an answer file of this workbook",
        f"choose another one ({last})",
    )
