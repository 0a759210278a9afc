"""An invented class and an invented ticket, to look at before there are real ones."""

import random
from collections.abc import Iterator
from pathlib import Path

from leverarm.exercises import Problem
from leverarm.files import write_whole
from leverarm.marking.answer_file import Answer, header, line
from leverarm.marking.assignment import ANSWERS_END, Assignment, Item, Ticket
from leverarm.marking.codes import DEMO_KEY, number_key, proof, with_check
from leverarm.marking.desk import Desk
from leverarm.marking.homework import MADE_WITH, given_text, problem_for
from leverarm.quantities import system_shown

NOTE = "This class is invented. Its answers were drawn by chance, and no student ever gave them."
# Each kind of the trial, with the share of invented students who are right at the first try.
TRIAL = {
    "front_gain": 0.4,
    "rear_change": 0.3,
    "total_change": 0.85,
    "where_double": 0.6,
    "front_share_after": 0.5,
    "formula_front_gain": 0.55,
}


def practice_ticket() -> Ticket:
    """A ticket for trying out the homework page, under a key that everybody knows."""
    work = Assignment("Practice", TRIAL, system=system_shown())
    code = with_check("K7MPTD")
    return Ticket(code, number_key(DEMO_KEY, code, work.name), work)


def right_text(problem: Problem) -> str:
    """A right answer as a student would type it."""
    if problem.style == "number":
        return f"{problem.answer:.4g} {problem.unit}"
    return str(problem.answer)


def wrong_text(problem: Problem, rng: random.Random) -> str:
    """A wrong answer as a student types it: the hung weight, a lost sign, a doubling, an option."""
    if problem.style == "choice":
        return rng.choice([letter for letter, _ in problem.options if letter != problem.answer])
    if problem.style != "number":
        return next(iter(problem.given), "?")
    hung = problem.given.get("W", "").partition(" ")[0]
    return rng.choice([hung, hung, f"{-problem.answer:.4g}", f"{2 * problem.answer:.4g}"]) or "1"


def invented_class(folder: Path | str, students: int = 24) -> Desk:
    """A Desk with a class key, codes, an assignment handed out, and most answer files come back."""
    desk, rng = Desk(folder), random.Random(7)
    desk.start(students)
    desk.write_assignment(
        Assignment("Trial", TRIAL, system=system_shown(), due="2031-03-14 17:00", tries=3)
    )
    trial = desk.assignment("Trial")
    for ticket in desk.tickets(trial)[: students - 2]:
        rows = [row for item in trial.items for row in _rows(ticket, item, rng)]
        head = header(trial.name, ticket.code, proof(ticket.key), MADE_WITH)
        write_whole(
            desk.came_back_folder(trial) / (ticket.stem + ANSWERS_END),
            ("\n".join([head, *rows]) + "\n").encode(),
        )
    (desk.came_back_folder(trial) / "holiday.txt").write_text("This is no answer file.\n")
    return desk


def _rows(ticket: Ticket, item: Item, rng: random.Random) -> Iterator[str]:
    """One invented student at one problem: wrong for a while, then right, or given up."""
    for number in range(1, 4):
        problem = problem_for(ticket, item, number)
        good = rng.random() < TRIAL[item.kind] + 0.25 * (number - 1)
        typed = right_text(problem) if good else wrong_text(problem, rng)
        yield line(
            Answer(
                item.name,
                number,
                given_text(problem),
                typed,
                typed,
                rng.randrange(3),
                rng.randrange(20, 240),
            )
        )
        if good or rng.random() < 0.2:
            return
