"""A part of a class, marked: what one process gives to another."""

from collections.abc import Callable
from dataclasses import dataclass

from leverarm.marking.assignment import Assignment
from leverarm.marking.collect import Arrival, Skipped
from leverarm.marking.results import StudentRow, Tally
from leverarm.marking.student import Returned, Student, student_of
from leverarm.marking.taken_over import TakenOver


@dataclass(frozen=True)
class Task:
    """What is to be done with everyone: the assignment, when files came, what follows marking."""

    assignment: Assignment
    arrival: Arrival
    each: Callable[[Student], object]


class MarkedPart:
    """Students marked one after another.

    codes       how many codes were looked at
    marks       a StudentRow for each of them that could be marked
    skipped     files that could not
    tally       the counts over them
    taken_over  their numbers, to be compared with each other
    """

    def __init__(self, assignment: Assignment) -> None:
        self.codes = 0
        self.marks: list[StudentRow] = []
        self.skipped: list[Skipped] = []
        self.tally = Tally(assignment)
        self.taken_over = TakenOver()

    def add(self, task: Task, came: Returned) -> None:
        """Mark what came back under one more code."""
        self.codes += 1
        if student := student_of(came, self.skipped, task.arrival):
            self.tally.add(came.ticket.code, student.work)
            self.taken_over.add(came.ticket.code, student.work)
            self.marks.append(student.mark)
            task.each(student)

    def leave_out(self, came: Returned, reason: str) -> None:
        """List what came back under one more code as not marked."""
        self.codes += 1
        self.skipped += [Skipped(file.name, reason) for file in came.files]

    def join(self, later: "MarkedPart") -> None:
        """Add the students of another part, which come after these."""
        self.codes += later.codes
        self.marks += later.marks
        self.skipped += later.skipped
        self.tally.join(later.tally)
        self.taken_over.join(later.taken_over)
