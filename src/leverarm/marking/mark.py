"""Marking what came back: every answer is worked out again from the code and the class key.

    result = mark_folder("came_back/week_3", class_key, assignment=week3)
    result.marks, result.items, result.mistakes, result.skipped

A file is data from a stranger: it is bounded, read as text, and either marked or listed with a
reason.  A verdict in a file is not looked for.  One student is held in memory at a time.

Every file is marked alone, as if it were the only one, and the best answer to a problem counts.
So no file can lower what another one is worth, however long or late it is.  Tries are limited in
each file: a student who starts over can use them again (desk.CANNOT says so), and a forger can
use up nobody's.
"""

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping
from contextlib import ExitStack
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path
from typing import TypeVar

from leverarm.marking.answer_file import Answer, AnswerFile, is_of, read_answers, same_name
from leverarm.marking.assignment import (
    ASSIGNMENT_END,
    MOST_BYTES,
    Assignment,
    Item,
    Ticket,
    Unfit,
    read_assignment,
)
from leverarm.marking.budget import Budget
from leverarm.marking.checked import CheckedAnswer, ItemMarks, Work
from leverarm.marking.codes import number_key, proof, read_class_key, read_code, shown_code
from leverarm.marking.collect import (
    Arrival,
    Missing,
    Skipped,
    SubmittedFile,
    arrival_of,
    collected_files,
    loose_files,
)
from leverarm.marking.homework import checked, given_text
from leverarm.marking.mixed_up import SeenFile, mixed_up, twins
from leverarm.marking.paper_answers import PaperList
from leverarm.marking.results import (
    ClassResult,
    FileShare,
    StudentRow,
    Tally,
    small_class_words,
    tidy_notes,
)
from leverarm.quantities import Refusal, how_many
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
MOST_CODES_NAMED = 10
_One = TypeVar("_One")


@dataclass(frozen=True)
class Student:
    """One student's marked work: the ticket, the answers that count, the row of the mark sheet."""

    ticket: Ticket
    work: Work
    mark: StudentRow


def mark_folder(
    folder: Path | str,
    class_key: str,
    *,
    assignment: Assignment | None = None,
    codes: Collection[str] | None = None,
    received: str | Mapping[str, str] = "files",
    elsewhere: Path | None = None,
    paper: PaperList | None = None,
    each: Callable[[Student], object] = lambda student: None,
    progress: Callable[[int, int], object] = lambda done, of: None,
) -> ClassResult:
    """Mark a folder or a zip file of answer files.

    class_key   the text of the instructor's key
    assignment  None takes the only assignment file in the folder, put there by you
    codes       the codes given out; None accepts every code
    received    when they came: "files" for the date of each, a date, "" for none, or by code
    elsewhere, paper    a folder where files may have been dropped by mistake; answers on paper
    each, progress  called with every Student marked; with (how many, of how many)
    """
    key, folder = read_class_key(class_key), Path(folder)
    assignment = assignment or _assignment_in(folder)
    known = None if codes is None else set(map(read_code, codes))
    arrival, tally, marks = arrival_of(received), Tally(assignment), list[StudentRow]()
    with ExitStack() as stack:
        files, skipped, extra = _collected(folder, assignment, key, elsewhere, paper, stack)
        by_code, mixed, copies = _by_code(files, skipped, assignment, key, known)
        for code, some in _counted(sorted(by_code.items()), progress):
            ticket = Ticket(code, number_key(key, code, assignment.name), assignment)
            if student := _student(ticket, some, skipped, arrival):
                student = _with_remarks(student, mixed.get(code, []), copies)
                tally.add(code, student.work)
                marks.append(student.mark)
                each(student)
    for code in (known or set()) - {one.code for one in marks}:
        marks.append(_nothing_from(code, assignment, mixed.get(code, [])))
    return ClassResult(
        assignment,
        tuple(sorted(marks, key=lambda mark: mark.code)),
        *tally.rows(),
        _listed(skipped),
        _class_notes(tally.students, skipped, marks, extra),
    )


def _counted(things: list[_One], progress: Callable[[int, int], object]) -> Iterator[_One]:
    """Things one after another, each told to a progress bar before it."""
    for done, one in enumerate(things):
        progress(done, len(things))
        yield one
    progress(len(things), len(things))


def _collected(
    folder: Path,
    assignment: Assignment,
    key: str,
    elsewhere: Path | None,
    paper: PaperList | None,
    stack: ExitStack,
) -> tuple[list[SubmittedFile], list[Skipped], list[str]]:
    """Files, what was skipped, and the names of what came by another way than the folder."""
    files, skipped = stack.enter_context(collected_files(folder))
    loose: list[SubmittedFile] = []
    if elsewhere:
        own = folder.name if folder.parent == elsewhere else "."
        loose = loose_files(elsewhere, own, lambda data: is_of(data, assignment.name), stack)
    sheets, unread = paper.files(key) if paper else ([], [])
    names = [file.name for file in (*loose, *sheets)]
    return [*files, *loose, *sheets], [*skipped, *unread], names


def _listed(skipped: list[Skipped]) -> tuple[Skipped, ...]:
    """The files left out, in the order of their names, which are made fit to be shown."""
    in_order = sorted(skipped, key=lambda one: one.file)
    return tuple(Skipped(visible(one.file), one.reason) for one in in_order)


def _assignment_in(folder: Path) -> Assignment:
    """The one assignment file in a folder, or a Refusal."""
    found = [
        path
        for path in folder.glob("*" + ASSIGNMENT_END)
        if path.is_file() and not path.is_symlink()
    ]
    if len(found) != 1:
        raise Refusal(
            "assignment",
            f"{len(found)} assignment files in the folder",
            "one",
            "say which assignment is to be marked",
        )
    with open(found[0], "rb") as file:
        return read_assignment(file.read(MOST_BYTES + 1))


def _by_code(
    files: list[SubmittedFile],
    skipped: list[Skipped],
    assignment: Assignment,
    key: str,
    known: set[str] | None,
) -> tuple[dict[str, list[SubmittedFile]], dict[str, list[str]], dict[str, str]]:
    """code -> files of this assignment, the shortest first; the others are skipped.

    With it notes by code about files that were mixed up, and by file name about copies.
    """
    seen: list[SeenFile] = []
    kept: dict[str, list[tuple[int, str, SubmittedFile]]] = {}
    for file in files:
        try:
            data = file.read()
            found = read_answers(data)
            if same_name(found.assignment, assignment.name):
                seen.append(SeenFile(file.name, found.code, found.proof, sha256(data).digest()))
            _refuse_foreign(found, assignment, key, known)
        except (Unfit, Missing) as why:
            if not file.name.endswith(ASSIGNMENT_END):
                skipped.append(Skipped(file.name, str(why)))
        else:
            kept.setdefault(found.code, []).append((len(found.answers), file.name, file))
    in_order = {
        code: [file for _, _, file in sorted(some, key=lambda one: one[:2])]
        for code, some in kept.items()
    }
    proofs = {
        code: proof(number_key(key, code, assignment.name)) for code in {*kept, *(known or ())}
    }
    return in_order, mixed_up(seen, proofs), twins(seen)


def _refuse_foreign(
    found: AnswerFile, assignment: Assignment, key: str, known: set[str] | None
) -> None:
    """Unfit where an answer file is of another assignment, another class or another ticket."""
    if not same_name(found.assignment, assignment.name):
        name = visible(found.assignment, 40) or "without a name"
        raise Unfit(f"for another assignment: {name}")
    if known is not None and found.code not in known:
        raise Unfit(f"code {found.code} is not on your list")
    if found.proof != proof(number_key(key, found.code, assignment.name)):
        raise Unfit(
            f"code {found.code}: made with the number key of another ticket or another class"
        )


# One student -------------------------------------------------------------------------------


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


def _student(
    ticket: Ticket, files: list[SubmittedFile], skipped: list[Skipped], arrival: Arrival
) -> Student | None:
    """The Student of all files that came back under one code; None where none is left to read."""
    budget, marked = Budget(ticket), []
    for file in files:
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
    return _best_of(ticket, sorted(marked, key=lambda one: one.rank)) if marked else None


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
    )
    return Student(ticket, work, mark)


def _with_remarks(student: Student, remarks: list[str], copies: Mapping[str, str]) -> Student:
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
    for answer in kept:
        why, checks = _checked(ticket, items[answer.item], answer, budget)
        odd[why] += 1
        work[answer.item] += checks
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
    ticket: Ticket, item: Item, answer: Answer, budget: Budget
) -> tuple[str, list[CheckedAnswer]]:
    """(what is odd about an answer or "", the answer in a list, or nothing if it is no answer)."""
    key = (answer.item, answer.number, answer.typed)
    if key not in budget.verdicts:
        try:
            budget.verdicts[key] = checked(ticket, item, answer)
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


# The class ---------------------------------------------------------------------------------


def _nothing_from(code: str, assignment: Assignment, remarks: list[str]) -> StudentRow:
    """The row of a student who handed in nothing."""
    items = ItemMarks(assignment.names, [None] * len(assignment.items))
    return StudentRow(
        code, None, len(items), 0, "", items, tidy_notes(["nothing handed in", *remarks])
    )


def _class_notes(
    students: int, left_out: list[Skipped], marks: list[StudentRow], extra: list[str]
) -> tuple[str, ...]:
    """What the instructor is told about the class as a whole."""
    notes = [small_class_words(students)]
    if left_out:
        notes.append(f"{how_many(len(left_out), 'file')} left out, listed with the reason.")
    loose = [visible(name) for name in extra if "/" in name]
    if loose:
        more = len(loose) - MOST_CODES_NAMED
        notes.append(
            f"{how_many(len(loose), 'file')} of this assignment lay outside its folder and counted:"
            f" {', '.join(loose[:MOST_CODES_NAMED])}{f' and {more} more' if more > 0 else ''}."
        )
    if len(extra) > len(loose):
        notes.append(f"{how_many(len(extra) - len(loose), 'paper')} typed in by code counted.")
    cut = [
        shown_code(mark.code)
        for mark in marks
        if any(CUT in note for one in mark.files for note in one.notes)
    ]
    if cut:
        more = len(cut) - MOST_CODES_NAMED
        notes.append(
            "Only a part was worked out of what came back under "
            f"{', '.join(cut[:MOST_CODES_NAMED])}{f' and {more} more' if more > 0 else ''}: "
            "far more answers than anyone types. The notes say how many."
        )
    return tuple(notes)
