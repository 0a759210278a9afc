"""One student: every file that came back under a code marked alone, and the best of them.

    student = student_of(Returned(ticket, files), skipped, arrival)
    student.ticket, student.work, student.mark

The best answer to each problem counts.  So no file can lower what another one is worth, however
long or late it is.  Tries are limited in each file: a student who starts over can use them again
(desk.CANNOT says so), and a forger can use up nobody's.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from leverarm.exercises import Problem, Verdict
from leverarm.marking.answer_file import Answer, AnswerFile, read_answers
from leverarm.marking.assignment import Item, Ticket, Unfit
from leverarm.marking.checked import CheckedAnswer, ItemMarks, Work
from leverarm.marking.codes import proof
from leverarm.marking.collect import Arrival, Missing, Skipped, SubmittedFile
from leverarm.marking.homework import WrongTry, checked, given_text
from leverarm.marking.progress import standing_of
from leverarm.marking.results import FileShare, StudentRow, tidy_notes
from leverarm.quantities import how_many
from leverarm.tables import visible

STRANGE = "to a problem that is not in this assignment"
STRIPPED = "without the numbers of their problem: the file was changed"
BEYOND = "beyond the tries that count"
UNREAD = "that cannot be read"
CUT = "not worked out"
OTHER = (
    "with other numbers than this code has: another version of the workbook, "
    "or the file was changed"
)

# Working out what a student typed takes under a millisecond for a number, up to fifteen for a
# formula made to be slow.  Each file has that much for itself, so that no other file can use it
# up; all files of one code together have FILES_WORTH times as much.
MOST_WORKED, MOST_FORMULAS, FORMULAS_EACH, FILES_WORTH = 2_000, 200, 5, 5


class Budget:
    """What may be worked out for one code.

    It is a count, not a clock, so a file gets the same mark on every computer.  Each file has its
    own bound.  All files of a code have a larger one together; the shortest file comes first, so
    that long files made to be slow leave what a person can type untouched.  An answer that stands
    in several files is worked out once.
    """

    def __init__(self, ticket: Ticket) -> None:
        self.formulas = {item.name for item in ticket.assignment.items if asks_formula(item)}
        self.most = MOST_WORKED
        self.most_formulas = max(MOST_FORMULAS, FORMULAS_EACH * len(self.formulas))
        self._left, self._formulas_left = (
            FILES_WORTH * self.most,
            FILES_WORTH * self.most_formulas,
        )
        self._paid: set[tuple[str, int, str]] = set()
        self.verdicts: dict[tuple[str, int, str, str], tuple[Problem, Verdict]] = {}

    def affordable(self, answers: list[Answer]) -> list[Answer]:
        """The answers of one file that are worked out, first tries first."""
        kept: list[Answer] = []
        formulas = 0
        for answer in sorted(answers, key=lambda one: one.number):
            formula = answer.item in self.formulas
            formulas += formula
            fits = len(kept) < self.most and not (formula and formulas > self.most_formulas)
            if fits and self._pay((answer.item, answer.number, answer.typed), formula):
                kept.append(answer)
        return kept

    def _pay(self, key: tuple[str, int, str], formula: bool) -> bool:
        """Whether an answer is known already or can be afforded."""
        if key in self._paid:
            return True
        if not self._left or (formula and not self._formulas_left):
            return False
        self._left -= 1
        self._formulas_left -= formula
        self._paid.add(key)
        return True


def asks_formula(item: Item) -> bool:
    """Whether the answer of an item is a formula."""
    return item.in_bank.style == "symbol"


@dataclass(frozen=True)
class Student:
    """One student's marked work: the ticket, the answers that count, the row of the mark sheet.

    for_student     the notes that go back: none about a classmate's file or code
    """

    ticket: Ticket
    work: Work
    mark: StudentRow
    for_student: tuple[str, ...] = ()


@dataclass(frozen=True)
class Returned:
    """What came back under one code.

    files       the shortest first
    remarks     about files that were mixed up
    copies      file name -> what it is a copy of
    """

    ticket: Ticket
    files: tuple[SubmittedFile, ...]
    remarks: tuple[str, ...] = ()
    copies: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class _MarkedFile:
    """One file of a student, marked alone."""

    name: str
    came: str | None
    late: bool
    work: Work
    notes: tuple[str, ...]

    @property
    def rank(self) -> tuple[bool, int, int, str]:
        """In time before late, then the one with most right, then the one with most answers."""
        right = sum(map(_any_right, self.work.values()))
        return self.late, -right, -sum(map(len, self.work.values())), self.name


def _any_right(checks: list[CheckedAnswer]) -> bool:
    return any(one.verdict.right for one in checks)


def student_of(came: Returned, skipped: list[Skipped], arrival: Arrival) -> Student | None:
    """The Student of all files that came back under one code; None where none is left to read."""
    ticket, marked = came.ticket, []
    budget = Budget(ticket)
    for file in came.files:
        try:
            found = read_answers(file.read())
            if (found.code, found.proof) != (ticket.code, proof(ticket.key)):
                raise Unfit("it is another file now")
        except (Unfit, Missing) as why:
            skipped.append(Skipped(file.name, f"changed while it was being marked: {why}"))
        else:
            marked.append(
                _marked_file(ticket, file.name, found, budget, arrival(file, ticket.code))
            )
    if not marked:
        return None
    student = _best_of(ticket, sorted(marked, key=lambda one: one.rank))
    return _with_remarks(student, came.remarks, came.copies)


def _best_of(ticket: Ticket, marked: list[_MarkedFile]) -> Student:
    """The Student of the marked files of one code, the file that leads first.

    The others add the problems that only they have right, and answers where there was none.
    """
    work: Work = {item.name: [] for item in ticket.assignment.items}
    source: dict[str, _MarkedFile] = {}
    for one in marked:
        for name, checks in one.work.items():
            better = _any_right(checks) and not _any_right(work[name])
            if better or (checks and not work[name]):
                work[name], source[name] = checks, one
    items = {name: int(_any_right(checks)) if checks else None for name, checks in work.items()}
    shares = tuple(
        FileShare(
            visible(one.name),
            sum(bool(right) and source[name] is one for name, right in items.items()),
            one.came or "",
            one.late,
            tidy_notes(one.notes),
        )
        for one in marked
    )
    # What the mark rests on; a file that adds nothing says nothing about the student.
    used = [one for one, share in zip(marked, shares) if share.right]
    used = used or [one for one in marked if any(one is other for other in source.values())]
    used = used or marked
    notes = [note for one in used for note in one.notes]
    if len(marked) > 1:
        notes.append(f"{len(marked)} files came: the best answer to each problem counts")
    mark = StudentRow(
        ticket.code,
        sum(filter(None, items.values())),
        len(items),
        sum(map(len, work.values())),
        _late(ticket, used),
        ItemMarks(ticket.assignment.names, items.values()),
        tidy_notes(notes),
        shares,
        standing_of(work),
    )
    return Student(ticket, work, mark, mark.notes)


def _with_remarks(student: Student, remarks: tuple[str, ...], copies: Mapping[str, str]) -> Student:
    """A Student with remarks about files that were mixed up, beside each file what it copies."""
    shares = tuple(
        replace(
            share, notes=(*share.notes, *([copies[share.file]] if share.file in copies else []))
        )
        for share in student.mark.files
    )
    notes = tidy_notes([*student.mark.notes, *remarks])
    return replace(student, mark=replace(student.mark, notes=notes, files=shares))


def _marked_file(
    ticket: Ticket, name: str, found: AnswerFile, budget: Budget, came: str | None
) -> _MarkedFile:
    """One answer file, marked alone; its first answer to a try is the one that counts."""
    first: dict[tuple[str, int], Answer] = {}
    twice = 0
    for answer in found.answers:
        twice += first.setdefault((answer.item, answer.number), answer).typed != answer.typed
    items = {item.name: item for item in ticket.assignment.items}
    work: Work = {name: [] for name in items}
    odd: Counter[str] = Counter()
    usable = []
    for answer in first.values():
        if answer.item not in items:
            odd[STRANGE] += 1
        elif not ticket.assignment.counts(answer.number):
            odd[BEYOND] += 1
        else:
            usable.append(answer)
    kept = budget.affordable(usable)
    wrong: dict[tuple[str, int], WrongTry] = {}
    for answer in kept:  # first tries first, so that the try before is known
        before = wrong.get((answer.item, answer.number - 1))
        why, checks = _checked(ticket, items[answer.item], answer, before, budget)
        odd[why] += 1
        for one in checks:
            work[answer.item].append(one)
            if one.verdict.case == "wrong":
                wrong[answer.item, answer.number] = one.problem, answer.typed
    notes = [f"{how_many(number, 'answer')} {why}" for why, number in sorted(odd.items()) if why]
    if twice:
        notes.insert(0, f"{how_many(twice, 'try', 'tries')} answered twice: the first counts")
    if len(kept) < len(usable):
        notes.insert(
            0,
            f"{len(usable) - len(kept)} of {len(usable)} answers {CUT}: at most {budget.most} of "
            f"one file, {budget.most_formulas} of them formulas, first tries first. "
            "No one types so many: look at this file",
        )
    late = bool(came and ticket.assignment.due and came > ticket.assignment.due)
    return _MarkedFile(name, came, late, work, (*notes, *found.notes))


def _checked(
    ticket: Ticket, item: Item, answer: Answer, before: WrongTry | None, budget: Budget
) -> tuple[str, list[CheckedAnswer]]:
    """(what is odd about an answer or "", the answer in a list, or nothing if it is no answer)."""
    key = (answer.item, answer.number, answer.typed, before[1] if before else "")
    if key not in budget.verdicts:
        try:
            budget.verdicts[key] = checked(ticket, item, answer, before)
        except Exception as why:
            return f"that could not be checked ({type(why).__name__})", []
    problem, verdict = budget.verdicts[key]
    if not verdict.counts:
        return UNREAD, []
    told = given_text(problem)
    odd = "" if answer.given == told else OTHER if answer.given else STRIPPED
    return odd, [CheckedAnswer(answer, problem, verdict)]


def _late(ticket: Ticket, used: list[_MarkedFile]) -> str:
    """ "late", "part late" where only some files came after the due date, "in time", or ""."""
    late = [one.late for one in used if one.came]
    if not ticket.assignment.due or not late:
        return ""
    return "late" if all(late) else "part late" if any(late) else "in time"
