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
from leverarm.marking.plaintext import Unfit, counted, visible
from leverarm.marking.results import ClassResult, Mark, Tally, small_class_words, tidy_notes
from leverarm.marking.work import checked, given_text
from leverarm.quantities import Refusal

STRANGE = "to a problem that is not in this assignment"
BEYOND = "beyond the tries that count"
UNREAD = "that cannot be read"
# Working out what a student typed takes under a millisecond for a number, up to fifteen for a formula made to be slow.
MOST_WORKED, MOST_FORMULAS, FORMULAS_EACH = 2_000, 200, 5
CUT = "not worked out"
OTHER = "with other numbers than this code has: another version of the workbook, or the file was changed"


@dataclass(frozen=True, slots=True)
class Checked:
    """An answer that counts, its problem made again and its verdict."""

    answer: object
    problem: object
    verdict: object


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
    marks += [_nothing(code, assignment) for code in sorted((known or set()) - set(by_code))]
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
    """code -> files of this assignment, and the files left out with their reasons."""
    kept, skipped = {}, []
    for came in files:
        try:
            found = read_answers(came.read())
            _belongs(found, assignment, key, known)
        except (Unfit, Missing) as why:
            if not came.name.endswith(ASSIGNMENT_END):
                skipped.append(Skipped(came.name, str(why)))
        else:
            kept.setdefault(found.code, []).append(came)
    return kept, skipped


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
        try:
            student = mark_student(
                Slip(code, number_key(key, code, assignment.name), assignment), files, arrival
            )
        except (Unfit, Missing) as why:
            gone.append(Skipped(files[0].name, f"changed while it was being marked: {why}"))
            continue
        tally.add(student.work)
        marks.append(student.mark)
        if each:
            each(student)
    progress(len(by_code), len(by_code))
    return marks, tally, gone


def mark_student(slip, files, arrival=lambda came, code: None):
    """The Student of one code, from all files that came back under it."""
    answers, notes = _united([(came.name, read_answers(came.read())) for came in files])
    answers, cut = _affordable(slip.assignment, answers)
    work, more = _checked(slip, answers)
    right = {
        name: None if not checks else int(any(one.verdict.right for one in checks))
        for name, checks in work.items()
    }
    mark = Mark(
        slip.code,
        sum(filter(None, right.values())),
        len(right),
        sum(map(len, work.values())),
        _late(slip, [arrival(came, slip.code) for came in files]),
        right,
        tidy_notes([*cut, *notes, *more]),
    )
    return Student(slip, work, mark)


def _united(named):
    """(answers, notes): the file with the most answers leads, others add the tries it does not have."""
    named = sorted(named, key=lambda pair: (-len(pair[1].answers), pair[0]))
    notes = [note for _, found in named for note in found.notes]
    kept, clash = {}, 0
    for place, (_, found) in enumerate(named):
        for answer in found.answers:
            first = kept.setdefault((answer.item, answer.number), answer)
            clash += first.typed != answer.typed
    if len(named) > 1:
        notes.append(f"{len(named)} files put together")
    if clash:
        notes.append(f"{counted(clash, 'try', 'tries')} answered twice: the first counts")
    return list(kept.values()), notes


def _affordable(assignment, answers):
    """(the answers that are worked out, in the order of their tries; a note where that is not all of them).

    A count, not a clock: the same file gets the same mark on every machine.
    """
    formulas = {item.name for item in assignment.items if _asks_formula(item)}
    most, kept, seen = max(MOST_FORMULAS, FORMULAS_EACH * len(formulas)), [], 0
    for answer in sorted(answers, key=lambda one: one.number):
        seen += answer.item in formulas
        if len(kept) < MOST_WORKED and (answer.item not in formulas or seen <= most):
            kept.append(answer)
    if len(kept) == len(answers):
        return kept, []
    return kept, [
        f"{len(answers) - len(kept)} of {len(answers)} answers {CUT}: at most {MOST_WORKED} of one student, {most} of them "
        "formulas, first tries first. No one types so many: look at this file"
    ]


def _asks_formula(item):
    """Whether the answer of an item is a formula."""
    return exercises.kind_named(item.kind).style == "symbol"


def _checked(slip, answers):
    """(item name -> Checked after Checked in the order they come, notes)."""
    items = {item.name: item for item in slip.assignment.items}
    work, odd = {name: [] for name in items}, Counter()
    for answer in answers:
        why, found = _one(slip, items.get(answer.item), answer)
        odd[why] += 1
        if found:
            work[answer.item].append(found)
    return work, [
        f"{counted(number, 'answer')} {why}" for why, number in sorted(odd.items()) if why
    ]


def _one(slip, item, answer):
    """(what is odd about an answer or "", Checked or None where it does not count)."""
    if item is None:
        return STRANGE, None
    if not slip.assignment.counts(answer.number):
        return BEYOND, None
    try:
        problem, verdict = checked(slip, item, answer)
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


def _late(slip, dates):
    """ "late", "part late" where only some files came after the due date, "in time", or "" where it cannot be told."""
    due, dates = slip.assignment.due, [date for date in dates if date]
    if not due or not dates:
        return ""
    late = [date > due for date in dates]
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
    left = f"{counted(len(skipped), 'file')} left out, listed with the reason." if skipped else ""
    return tuple(filter(None, (small_class_words(tally.students), left, _cut_words(marks))))


def _cut_words(marks, most=10):
    """Whose files were cut short, or ""."""
    codes = [shown_code(mark.code) for mark in marks if any(CUT in note for note in mark.notes)]
    more = f" and {len(codes) - most} more" if len(codes) > most else ""
    return (
        f"Only a part was worked out of what came back under {', '.join(codes[:most])}{more}: far more answers than anyone types. "
        "The notes in marks.csv say how many."
        if codes
        else ""
    )
