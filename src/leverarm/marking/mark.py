"""Marking what came back: every answer is worked out again from the code and the class key.

    result = mark_folder("came_back/week_3", class_key, assignment=week3)
    result.marks, result.items, result.mistakes, result.skipped

A file is data from a stranger: it is bounded, read as text, and either marked or listed with a
reason.  A verdict in a file is not looked for.  One student is held in memory at a time.
"""

import os
import sys
from collections.abc import Callable, Collection, Iterable, Mapping
from contextlib import ExitStack, closing
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

from leverarm.marking.answer_file import AnswerFile, is_of, read_answers, same_name
from leverarm.marking.assignment import (
    ASSIGNMENT_END,
    MOST_BYTES,
    Assignment,
    Ticket,
    Unfit,
    read_assignment,
)
from leverarm.marking.checked import ItemMarks
from leverarm.marking.codes import number_key, proof, read_class_key, read_code, shown_code
from leverarm.marking.collect import (
    Missing,
    Skipped,
    SubmittedFile,
    arrival_of,
    collected_files,
    loose_files,
)
from leverarm.marking.mixed_up import SeenFile, mixed_up, twins
from leverarm.marking.paper_answers import PaperList
from leverarm.marking.part import MarkedPart, Task
from leverarm.marking.results import ClassResult, StudentRow, small_class_words, tidy_notes
from leverarm.marking.student import CUT, Returned, Student
from leverarm.quantities import Refusal, how_many
from leverarm.tables import visible

MOST_CODES_NAMED = 10
UNMARKED = "what came could not be marked: see the files left out"
# Fewer codes are marked before another process has started.
FEWEST_FOR_PROCESSES = 200
MOST_PROCESSES = 8  # each takes about 100 MB


def processors() -> int:
    """How many processes this computer can mark in at once: one a processor, at most eight."""
    if sys.platform in ("emscripten", "wasi"):
        return 1
    try:
        own = len(os.sched_getaffinity(0))
    except (AttributeError, OSError):  # not on macOS and Windows
        own = os.cpu_count() or 1
    return min(MOST_PROCESSES, own)


def _nothing_more(student: Student) -> None:
    """What is done with a marked student where nothing was asked for."""


def mark_folder(
    folder: Path | str,
    class_key: str,
    *,
    assignment: Assignment | None = None,
    codes: Collection[str] | None = None,
    received: str | Mapping[str, str] = "files",
    elsewhere: Path | None = None,
    paper: PaperList | None = None,
    each: Callable[[Student], object] = _nothing_more,
    progress: Callable[[int, int], object] = lambda done, of: None,
    processes: int = 1,
) -> ClassResult:
    """Mark a folder or a zip file of answer files.

    class_key   the text of the instructor's key
    assignment  None takes the only assignment file in the folder, put there by you
    codes       the codes given out; None accepts every code
    received    when they came: "files" for the date of each, a date, "" for none, or by code
    elsewhere, paper    a folder where files may have been dropped by mistake; answers on paper
    each, progress, processes   called with every Student marked; with (how many, of how many);
                and how many mark at once, which changes no mark: see marking.processes
    """
    key, folder = read_class_key(class_key), Path(folder)
    assignment = assignment or _assignment_in(folder)
    known = None if codes is None else set(map(read_code, codes))
    with ExitStack() as stack:
        files, skipped, extra = _collected(folder, assignment, key, elsewhere, paper, stack)
        by_code, mixed, copies = _by_code(files, skipped, assignment, key, known)
        names = sorted(by_code)
        came = [_returned(one, by_code[one], assignment, key, mixed, copies) for one in names]
        task = Task(assignment, arrival_of(received), each)
        whole = _marked(task, came, progress, processes)
    marks, skipped = _with_taken_over(whole), skipped + whole.skipped
    for code in (known or set()) - {one.code for one in marks}:
        marks.append(_nothing_from(code, assignment, code in by_code, mixed.get(code, [])))
    return ClassResult(
        assignment,
        tuple(sorted(marks, key=lambda mark: mark.code)),
        *whole.tally.rows(),
        _listed(skipped),
        _class_notes(whole.tally.students, skipped, marks, extra),
    )


def _marked(
    task: Task,
    came: list[Returned],
    progress: Callable[[int, int], object],
    processes: int,
) -> MarkedPart:
    """All students marked, in this process or, where there are many, in several."""
    whole = MarkedPart(task.assignment)
    if processes > 1 and len(came) >= FEWEST_FOR_PROCESSES:
        # A browser's Python cannot even import what starts processes.
        from leverarm.marking.processes import parts_in_processes

        with closing(parts_in_processes(task, came, processes)) as parts:
            for part in parts:
                progress(whole.codes, len(came))
                whole.join(part)
    else:
        for one in came:
            progress(whole.codes, len(came))
            whole.add(task, one)
    progress(len(came), len(came))
    return whole


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


def _returned(
    code: str,
    files: list[SubmittedFile],
    assignment: Assignment,
    key: str,
    mixed: Mapping[str, list[str]],
    copies: Mapping[str, str],
) -> Returned:
    """What came back under a code, with all that another process needs to mark it."""
    ticket = Ticket(code, number_key(key, code, assignment.name), assignment)
    names = [visible(one.name) for one in files]
    own = {name: copies[name] for name in names if name in copies}
    return Returned(ticket, tuple(files), tuple(mixed.get(code, ())), own)


def _refuse_foreign(
    found: AnswerFile, assignment: Assignment, key: str, known: set[str] | None
) -> None:
    """Unfit where an answer file is of another assignment, another class or another ticket."""
    if not same_name(found.assignment, assignment.name):
        name = visible(found.assignment, 40) or "without a name"
        raise Unfit(f"for another assignment: {name}")
    if known is not None and found.code not in known:
        raise Unfit(f"code {shown_code(found.code)} is not on your list")
    if found.proof != proof(number_key(key, found.code, assignment.name)):
        raise Unfit(
            f"code {shown_code(found.code)}: made with the number key of another ticket or "
            "another class"
        )


# The class ---------------------------------------------------------------------------------


def _with_taken_over(whole: MarkedPart) -> list[StudentRow]:
    """The rows, with notes on both where wrong answers are right with a classmate's numbers."""
    rows = {row.code: row for row in whole.marks}
    for code, other, count in whole.taken_over.found(whole.tally.students):
        files = " or ".join(one.file for one in rows[code].files) or "the paper"
        what = f"{how_many(count, 'wrong answer')} in {files} of {shown_code(code)}"
        for one, owner in ((code, shown_code(other)), (other, "this code")):
            said = f"{what} would be right with the numbers of {owner}"
            notes = tidy_notes([*rows[one].notes, said])
            rows[one] = replace(rows[one], notes=notes)
    return list(rows.values())


def _nothing_from(
    code: str, assignment: Assignment, came: bool, remarks: Iterable[str]
) -> StudentRow:
    """The row of a student of whom nothing was marked, whether something came or not."""
    notes = tidy_notes([UNMARKED if came else "nothing handed in", *remarks])
    items = ItemMarks(assignment.names, [None] * len(assignment.items))
    return StudentRow(code, None, len(items), 0, "", items, notes)


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
