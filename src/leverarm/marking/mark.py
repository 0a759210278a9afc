"""Marking what came back: every answer is worked out again from the code and the class key.

    result = mark_folder("came_back/week_3", class_key, assignment=week3)
    result.marks, result.items, result.turns, result.skipped

A file is data from a stranger: it is bounded, read as text, and either marked or
listed with a reason.  A verdict in a file is not looked for.  One file is held in
memory at a time.
"""

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from leverarm import exercises
from leverarm.marking.answers import read_answers
from leverarm.marking.assignment import (
    ASSIGNMENT_END,
    MOST_BYTES,
    Assignment,
    Slip,
    moment,
    read_assignment,
)
from leverarm.marking.codes import number_key, proof, read_class_key, read_code, shown_code
from leverarm.marking.intake import Missing, Skipped, came_back
from leverarm.marking.plaintext import Unfit, counted
from leverarm.marking.results import (
    ClassResult,
    FileShare,
    Mark,
    Tally,
    small_class_words,
    tidy_notes,
)
from leverarm.marking.work import checked, given_text
from leverarm.quantities import Refusal
from leverarm.tables import visible

STRANGE = "to a problem that is not in this assignment"
BEYOND = "beyond the tries that count"
UNREAD = "that cannot be read"
# Working out what a student typed takes under a millisecond for a number, up to fifteen for a formula made to be slow.
# Each file has that much for itself, so that no other file can use it up; all files of one code have FILES_WORTH as much.
MOST_WORKED, MOST_FORMULAS, FORMULAS_EACH, FILES_WORTH = 2_000, 200, 5, 5
CUT = "not worked out"
OTHER = "with other numbers than this code has: another version of the workbook, or the file was changed"


@dataclass(frozen=True, slots=True)
class Checked:
    """An answer that counts, its problem made again and its verdict."""

    answer: object
    problem: object
    verdict: object


@dataclass(frozen=True, slots=True)
class MarkedFile:
    """One file of a student, marked alone: its name, whether it came late, item name -> Checked after Checked, notes."""

    name: str
    date: str | None
    late: bool
    work: dict
    notes: tuple

    @property
    def right(self):
        """The items it has right."""
        return {name for name, checks in self.work.items() if _any_right(checks)}

    @property
    def rank(self):
        """In time before late, then the one with most right, then the one with most answers."""
        tries = sum(map(len, self.work.values()))
        return self.late, -len(self.right), -tries, self.name


@dataclass(frozen=True)
class Student:
    """One student's marked work: the slip, item name -> Checked after Checked, the row of the mark sheet."""

    slip: Slip
    work: dict
    mark: Mark


def mark_folder(
    folder, class_key, *, assignment=None, codes=None, received="files", each=None, progress=None
):
    """Mark a folder or a zip file of answer files; returns a ClassResult.

    class_key   the text of the instructor's key
    assignment  an Assignment; None takes the only assignment file in the folder, which must be one you put there
    codes       the codes given out; None accepts every code
    received    when the files came: "files" for the date of each, a date for all, or a dict code -> date
    each        called with every Student as it is marked; progress  called with (done, of how many)
    """
    key, folder = read_class_key(class_key), Path(folder)
    assignment = assignment if isinstance(assignment, Assignment) else _lying_there(folder)
    known = None if codes is None else {read_code(code) for code in codes}
    arrival = _arrival(received)
    with came_back(folder) as (files, skipped):
        by_code, more = _by_code(files, assignment, key, known)
        marks, tally, gone = _mark_all(
            by_code, assignment, key, arrival, each, progress or (lambda done, of: None)
        )
    skipped = sorted([*skipped, *more, *gone], key=lambda one: one.file)
    there = {mark.code for mark in marks}
    marks += [_nothing(code, assignment) for code in sorted((known or set()) - there)]
    return ClassResult(
        assignment,
        tuple(sorted(marks, key=lambda mark: mark.code)),
        *tally.rows(),
        tuple(Skipped(visible(one.file), one.reason) for one in skipped),
        _class_notes(tally, skipped, marks),
    )


def _lying_there(folder):
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


def _by_code(files, assignment, key, known):
    """code -> files of this assignment, the shortest first, and the files left out with their reasons."""
    kept, skipped = {}, []
    for came in files:
        try:
            found = read_answers(came.read())
            _belongs(found, assignment, key, known)
        except (Unfit, Missing) as why:
            if not came.name.endswith(ASSIGNMENT_END):
                skipped.append(Skipped(came.name, str(why)))
        else:
            kept.setdefault(found.code, []).append((len(found.answers), came))
    in_order = {
        code: [came for _, came in sorted(some, key=lambda one: (one[0], one[1].name))]
        for code, some in kept.items()
    }
    return in_order, skipped


def _belongs(found, assignment, key, known):
    """Unfit where an answer file is not for this assignment, not from this class, or made with another slip."""
    if " ".join(found.assignment.split()).casefold() != assignment.name.casefold():
        raise Unfit(f"for another assignment: {visible(found.assignment, 40) or 'without a name'}")
    if known is not None and found.code not in known:
        raise Unfit(f"code {found.code} is not on your list")
    if found.proof != proof(number_key(key, found.code, assignment.name)):
        raise Unfit(f"code {found.code}: made with the number key of another slip or another class")


def _mark_all(by_code, assignment, key, arrival, each, progress):
    """(marks, tally, files that went away meanwhile), one student in memory at a time."""
    marks, gone, tally = (
        [],
        [],
        Tally(
            assignment, {item.kind: exercises.kind_named(item.kind) for item in assignment.items}
        ),
    )
    for done, (code, files) in enumerate(sorted(by_code.items())):
        progress(done, len(by_code))
        slip = Slip(code, number_key(key, code, assignment.name), assignment)
        student, left_out = mark_student(slip, files, arrival)
        gone += left_out
        if student is None:
            continue
        tally.add(student.work)
        marks.append(student.mark)
        if each:
            each(student)
    progress(len(by_code), len(by_code))
    return marks, tally, gone


def mark_student(slip, files, arrival=lambda came, code: None):
    """(the Student of one code, files left out), from all files that came back under it.

    Every file is marked alone, as if it were the only one, and the best answer to a problem
    counts.  So no file can lower what another one is worth, however long or late it is.
    Tries are limited in each file: a student who starts over can use them again
    (desk.CANNOT says so), a forger can use up nobody's.
    """
    budget, marked, gone = _Budget(slip), [], []
    for came in files:
        try:
            found = read_answers(came.read())
            if (found.code, found.proof) != (slip.code, proof(slip.key)):
                raise Unfit("it is another file now")
        except (Unfit, Missing) as why:
            gone.append(Skipped(came.name, f"changed while it was being marked: {why}"))
        else:
            marked.append(_mark_file(slip, came.name, found, budget, arrival(came, slip.code)))
    return (_joined(slip, sorted(marked, key=lambda one: one.rank)) if marked else None), gone


def _joined(slip, marked):
    """The Student of the marked files of one code, the file that leads first.

    A later file adds the problems that only it has right, and answers where there was none.
    """
    work = {item.name: [] for item in slip.assignment.items}
    source = dict.fromkeys(work)
    for one in marked:
        for name, checks in one.work.items():
            better = _any_right(checks) and not _any_right(work[name])
            if better or (checks and not work[name]):
                work[name], source[name] = checks, one
    right = {name: int(_any_right(checks)) if checks else None for name, checks in work.items()}
    shares = tuple(
        FileShare(
            visible(one.name),
            sum(source[name] is one for name, good in right.items() if good),
            one.date or "",
            one.late,
            tidy_notes(one.notes),
        )
        for one in marked
    )
    giving = [one for one, share in zip(marked, shares) if share.right] or [
        one for one in marked if one in source.values()
    ]
    notes = [note for one in giving or marked for note in one.notes]
    if len(marked) > 1:
        notes.append(f"{len(marked)} files came: the best answer to each problem counts")
    score, tries = sum(filter(None, right.values())), sum(map(len, work.values()))
    late = _late(slip, giving or marked)
    mark = Mark(slip.code, score, len(right), tries, late, right, tidy_notes(notes), shares)
    return Student(slip, work, mark)


def _any_right(checks):
    return any(one.verdict.right for one in checks)


class _Budget:
    """What may be worked out for one code: a count, not a clock, so a file gets the same mark on every computer.

    Each file has its own bound.  All files of a code have a larger one together; the shortest file comes
    first, so that long files made to be slow leave what a person can type untouched.  An answer that
    stands in several files is worked out once.
    """

    def __init__(self, slip):
        self.formulas = {item.name for item in slip.assignment.items if asks_formula(item)}
        self.most = MOST_WORKED, max(MOST_FORMULAS, FORMULAS_EACH * len(self.formulas))
        self.left = [FILES_WORTH * most for most in self.most]
        self.known = {}

    def affordable(self, answers):
        """The answers of one file that are worked out, first tries first."""
        kept, seen = [], 0
        for answer in sorted(answers, key=lambda one: one.number):
            formula = answer.item in self.formulas
            seen += formula
            if len(kept) < self.most[0] and (not formula or seen <= self.most[1]):
                if self._paid((answer.item, answer.number, answer.typed), formula):
                    kept.append(answer)
        return kept

    def _paid(self, key, formula):
        """Whether an answer is known already or can be afforded."""
        if key in self.known:
            return True
        if not self.left[0] or (formula and not self.left[1]):
            return False
        self.left[0] -= 1
        self.left[1] -= formula
        self.known[key] = None
        return True


def _mark_file(slip, name, found, budget, date):
    """The MarkedFile of one answer file; its first answer to a try is the one that counts."""
    first, clash = {}, 0
    for answer in found.answers:
        kept = first.setdefault((answer.item, answer.number), answer)
        clash += kept.typed != answer.typed
    work, odd, usable = {item.name: [] for item in slip.assignment.items}, Counter(), []
    for answer in first.values():
        why = (
            STRANGE
            if answer.item not in work
            else BEYOND
            if not slip.assignment.counts(answer.number)
            else ""
        )
        odd[why] += 1
        if not why:
            usable.append(answer)
    kept = budget.affordable(usable)
    items = {item.name: item for item in slip.assignment.items}
    for answer in kept:
        why, checked_ = _one(slip, items[answer.item], answer, budget.known)
        odd[why] += 1
        if checked_:
            work[answer.item].append(checked_)
    notes = [f"{counted(number, 'answer')} {why}" for why, number in sorted(odd.items()) if why]
    if clash:
        notes.insert(0, f"{counted(clash, 'try', 'tries')} answered twice: the first counts")
    if len(kept) < len(usable):
        notes.insert(
            0,
            f"{len(usable) - len(kept)} of {len(usable)} answers {CUT}: at most {budget.most[0]} of one file, "
            f"{budget.most[1]} of them formulas, first tries first. No one types so many: look at this file",
        )
    late = bool(date and slip.assignment.due and date > slip.assignment.due)
    return MarkedFile(name, date, late, work, (*notes, *found.notes))


def asks_formula(item):
    """Whether the answer of an item is a formula."""
    return exercises.kind_named(item.kind).style == "symbol"


def _one(slip, item, answer, known):
    """(what is odd about an answer or "", Checked or None where it does not count)."""
    key = (answer.item, answer.number, answer.typed)
    try:
        problem, verdict = known[key] = known[key] or checked(slip, item, answer)
    except Exception as why:
        return f"that could not be checked ({type(why).__name__})", None
    if not verdict.counts:
        return UNREAD, None
    differs = answer.given and answer.given != given_text(problem)
    return (OTHER if differs else ""), Checked(answer, problem, verdict)


# When it came ------------------------------------------------------------------------------


def _arrival(received):
    """A function of (file, code) that gives the date it came, as text, or None."""
    if received == "files":
        return lambda came, code: came.received and f"{came.received:%Y-%m-%d %H:%M}"
    if isinstance(received, dict):
        told = {read_code(code): moment(date, "received") for code, date in received.items()}
        return lambda came, code: told.get(code)
    date = moment(received, "received") or None
    return lambda came, code: date


def _late(slip, marked):
    """ "late", "part late" where only some files came after the due date, "in time", or "" where it cannot be told."""
    late = [one.late for one in marked if one.date]
    if not slip.assignment.due or not late:
        return ""
    return "late" if all(late) else "part late" if any(late) else "in time"


def _nothing(code, assignment):
    """The row of a student who handed in nothing."""
    return Mark(
        code,
        None,
        len(assignment.items),
        0,
        "",
        {item.name: None for item in assignment.items},
        ("nothing handed in",),
    )


def _class_notes(tally, skipped, marks):
    """What the instructor is told about the class as a whole."""
    left = f"{counted(len(skipped), 'file')} left out, listed with the reason." if skipped else ""
    return tuple(filter(None, (small_class_words(tally.students), left, _cut_words(marks))))


def _cut_words(marks, most=10):
    """Whose files were cut short, or ""."""
    codes = [
        shown_code(mark.code)
        for mark in marks
        if any(CUT in note for one in mark.files for note in one.notes)
    ]
    more = f" and {len(codes) - most} more" if len(codes) > most else ""
    return (
        f"Only a part was worked out of what came back under {', '.join(codes[:most])}{more}: far more answers than anyone types. "
        "The notes say how many."
        if codes
        else ""
    )
