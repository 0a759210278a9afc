"""What marking gives: a row for each student, problem and mistake, and what was left out.

The sheets are CSV files in UTF-8 with commas, one row a student, a problem, a mistake, a file.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from typing import Any

from leverarm.exercises import ProblemKind
from leverarm.files import write_whole
from leverarm.marking.assignment import Assignment, Item
from leverarm.marking.checked import CheckedAnswer, ItemMarks, MistakeName, Work, class_words
from leverarm.marking.collect import Skipped
from leverarm.marking.teaching import FEW, FirstAnswers, Teaching
from leverarm.tables import csv_bytes, visible

RE_TEACH, GO_ON = 0.35, 0.70
USUAL_ANSWERS = "100 to 200"
MOST_NOTES = 12
VERBS = {"choice": "chose", "body": "drew"}


@dataclass(frozen=True, slots=True)
class FileShare:
    """What one file gave to a student's mark: problems right, when it came, late or not, notes.

    right   0 for a file that changed nothing: a copy, an earlier state, or somebody's forgery
    """

    file: str
    right: int
    came: str
    late: bool
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StudentRow:
    """A student's row.

    score   problems right; None where nothing was handed in
    tries   how many were used
    late    "in time", "late", "part late", or "" where it cannot be told
    items   the ItemMarks
    files   FileShare after FileShare: every file that came under this code, and what it gave
    standing    of each problem, as the progress file keeps it: "20-1"
    """

    code: str
    score: int | None
    out_of: int
    tries: int
    late: str
    items: ItemMarks
    notes: tuple[str, ...]
    files: tuple[FileShare, ...] = ()
    standing: str = ""


@dataclass(frozen=True)
class ItemRow:
    """A problem's row.  Shares are None where fewer than five answered.

    answered, omitted   students who answered it, who handed in and did not
    right, first        of those who answered: right in the end, right at the first try
    facility, first_share   the same as shares from 0 to 1
    tries               median number of tries
    mistakes            MistakeRow after MistakeRow, the most frequent first
    advice              go on, discuss, or re-teach
    """

    item: Item
    title: str
    lesson: int
    answered: int
    omitted: int
    right: int | None
    first: int | None
    facility: float | None
    first_share: float | None
    tries: float | None
    mistakes: tuple["MistakeRow", ...]
    unexplained: int
    advice: str


@dataclass(frozen=True)
class MistakeRow:
    """A mistake at a problem: how many students' answers fit it alone, how many fit others too.

    verb    "gave" a number or a formula, "chose" an option, "drew" a free body
    """

    verb: str
    item: Item
    title: str
    lesson: int
    what: str
    ask: str
    sure: int
    maybe: int
    answered: int

    @property
    def students(self) -> int:
        """Students whose answer fits this mistake at all."""
        return self.sure + self.maybe

    @property
    def words(self) -> str:
        """The row as a sentence."""
        every = "could" if self.maybe == self.students else f"{self.maybe} of them could"
        others = f" ({every} also be another slip)" if self.maybe else ""
        return f"{self.students} of {self.answered} {self.verb} {self.what}{others}"


@dataclass(frozen=True)
class ClassResult:
    """A marked assignment.

    marks       a Mark for every code
    items       an ItemRow for every problem
    mistakes    a MistakeRow for every mistake, the most frequent first
    teaching    what to teach tomorrow
    skipped     a Skipped for every file that was left out
    notes       sentences about the class
    """

    assignment: Assignment
    marks: tuple[StudentRow, ...]
    items: tuple[ItemRow, ...]
    mistakes: tuple[MistakeRow, ...]
    teaching: Teaching
    skipped: tuple[Skipped, ...]
    notes: tuple[str, ...]

    @property
    def handed_in(self) -> int:
        """How many students handed something in."""
        return sum(mark.score is not None for mark in self.marks)


class Tally:
    """Counts over the class, one student at a time; grows with the problems, not with the class."""

    def __init__(self, assignment: Assignment) -> None:
        self.assignment, self.students = assignment, 0
        self._first = FirstAnswers(assignment)
        self._counts = {item.name: _Counts() for item in assignment.items}

    def add(self, code: str, work: Work) -> None:
        """Count one marked student."""
        self.students += 1
        self._first.add(code, work)
        for name, checks in work.items():
            if checks:
                self._counts[name].add(checks)

    def join(self, later: "Tally") -> None:
        """Count the students of another tally, as if they came after these."""
        self.students += later.students
        self._first.join(later._first)
        for name, counts in later._counts.items():
            self._counts[name].join(counts)

    def rows(self) -> tuple[tuple[ItemRow, ...], tuple[MistakeRow, ...], Teaching]:
        """(items, mistakes, what to teach): mistakes of all problems, the most frequent first."""
        teaching = self._first.teaching()
        items = tuple(
            self._row(item, self._counts[item.name], teaching.unexplained.get(item.name, 0))
            for item in self.assignment.items
        )
        mistakes = sorted(
            (one for row in items for one in row.mistakes),
            key=lambda one: (-one.students, -one.sure),
        )
        return items, tuple(mistakes), teaching

    def _row(self, item: Item, counts: "_Counts", unexplained: int) -> ItemRow:
        kind = item.in_bank
        few = self.students < FEW or counts.answered < FEW
        first_share = None if few else counts.first / counts.answered
        return ItemRow(
            item,
            kind.title,
            kind.lesson,
            counts.answered,
            self.students - counts.answered,
            None if few else counts.right,
            None if few else counts.first,
            None if few else counts.right / counts.answered,
            first_share,
            None if few else float(median(counts.tries)),
            counts.mistakes(item),
            unexplained,
            advice(first_share, kind),
        )


class _Counts:
    """Counts for one problem."""

    def __init__(self) -> None:
        self.answered = self.right = self.first = 0
        self.tries: list[int] = []
        self.found: dict[MistakeName, _Count] = {}

    def add(self, checks: list[CheckedAnswer]) -> None:
        self.answered += 1
        self.right += any(one.verdict.right for one in checks)
        self.first += checks[0].verdict.right
        self.tries.append(len(checks))
        for key, seen in _mistakes_of(checks).items():
            self._count(key, _Count(seen.what, seen.ask, int(seen.sure), int(not seen.sure)))

    def join(self, later: "_Counts") -> None:
        self.answered += later.answered
        self.right += later.right
        self.first += later.first
        self.tries += later.tries
        for key, count in later.found.items():
            self._count(key, count)

    def _count(self, key: MistakeName, seen: "_Count") -> None:
        count = self.found.setdefault(key, _Count(seen.what, seen.ask))
        count.sure += seen.sure
        count.maybe += seen.maybe
        # Words that differ from student to student are told without their numbers.
        count.what = count.what if count.what == seen.what else key[1] or count.what

    def mistakes(self, item: Item) -> tuple[MistakeRow, ...]:
        kind = item.in_bank
        verb = VERBS.get(kind.style, "gave")
        rows = (
            MistakeRow(
                verb,
                item,
                kind.title,
                kind.lesson,
                one.what,
                one.ask,
                one.sure,
                one.maybe,
                self.answered,
            )
            for one in self.found.values()
        )
        return tuple(sorted(rows, key=lambda row: (-row.students, -row.sure, row.what)))


@dataclass
class _Count:
    """How many students made a mistake: for sure, or perhaps."""

    what: str
    ask: str
    sure: int = 0
    maybe: int = 0


@dataclass
class _Seen:
    """A mistake of one student: whether it was ever the only one that fits."""

    sure: bool
    what: str
    ask: str


def _mistakes_of(checks: list[CheckedAnswer]) -> dict[MistakeName, _Seen]:
    """The mistakes of one student at one problem."""
    found: dict[MistakeName, _Seen] = {}
    for one in checks:
        for mistake in one.verdict.suspects:
            key, what = class_words(one.problem, mistake)
            before = key in found and found[key].sure
            found[key] = _Seen(before or len(one.verdict.suspects) == 1, what, mistake.question)
    return found


def advice(first_share: float | None, kind: ProblemKind) -> str:
    """What a share of right first tries says to do next (the bounds used in peer instruction)."""
    if first_share is None:
        return f"fewer than {FEW} answers: no figures"
    if first_share < RE_TEACH:
        return f"re-teach lesson {kind.lesson:02d}: {kind.title}"
    return "discuss in pairs, then ask again" if first_share <= GO_ON else "go on"


def small_class_words(students: int) -> str:
    """How much the figures of a class of this size can say."""
    if students < FEW:
        return (
            f"{students} handed in. Under {FEW} students no figures of a problem are "
            "shown, because they would point at single students. Slips are counted."
        )
    return (
        f"{students} handed in. Judging a problem by its figures usually takes {USUAL_ANSWERS} "
        "answers. Use these figures to choose what to talk about, and draw no conclusion about a "
        "single problem."
    )


def tidy_notes(notes: Iterable[str]) -> tuple[str, ...]:
    """Notes as short visible sentences, not too many."""
    shown = tuple(visible(note) for note in dict.fromkeys(notes))
    return (
        shown
        if len(shown) <= MOST_NOTES
        else (*shown[:MOST_NOTES], f"and {len(shown) - MOST_NOTES} more")
    )


# As CSV files -----------------------------------------------------------------------------


def marks_rows(result: ClassResult) -> Iterator[list[Any]]:
    """One row a student; for each problem 1 is right, 0 not yet, empty not answered."""
    items = [item.name for item in result.assignment.items]
    yield ["code", "score", "out_of", "tries", "late", *items, "notes"]
    for mark in result.marks:
        yield [
            mark.code,
            mark.score,
            mark.out_of,
            mark.tries,
            mark.late,
            *(mark.items[name] for name in items),
            "; ".join(mark.notes),
        ]


def items_rows(result: ClassResult) -> Iterator[list[Any]]:
    """One row a problem."""
    yield [
        "problem",
        "item",
        "title",
        "lesson",
        "answered",
        "omitted",
        "right_first_try",
        "right_in_the_end",
        "share_first_try",
        "facility",
        "median_tries",
        "slips",
        "unexplained",
        "advice",
    ]
    for at, row in enumerate(result.items, 1):
        mistakes = ", ".join(one.words for one in row.mistakes[:3])
        yield [
            at,
            row.item.name,
            row.title,
            row.lesson,
            row.answered,
            row.omitted,
            row.first,
            row.right,
            _share(row.first_share),
            _share(row.facility),
            row.tries,
            mistakes,
            row.unexplained,
            row.advice,
        ]


def _share(share: float | None) -> str | None:
    return None if share is None else f"{share:.3f}"


def mistakes_rows(result: ClassResult) -> Iterator[list[Any]]:
    """One row a mistake, the most frequent first."""
    yield [
        "item",
        "title",
        "lesson",
        "slip",
        "students",
        "of_them_perhaps_another",
        "answered",
        "question_to_ask",
    ]
    for row in result.mistakes:
        yield [
            row.item.name,
            row.title,
            row.lesson,
            row.what,
            row.students,
            row.maybe,
            row.answered,
            row.ask,
        ]


def teaching_rows(result: ClassResult) -> Iterator[list[Any]]:
    """One row a student of each slip to teach."""
    yield ["slip", "code"]
    for slip in result.teaching.slips:
        yield from ([slip.does, code] for code in slip.codes)


def unexplained_rows(result: ClassResult) -> Iterator[list[Any]]:
    """One row an unexplained first answer, with what gives several of them where that is known."""
    yield ["item", "title", "code", "typed", "gives_several"]
    names = [item.name for item in result.assignment.items]
    for one in result.teaching.left_over:
        for code, typed, _ in one.answers:
            shared = one.shared.what if one.shared else ""
            yield [names[one.at - 1], one.title, code, typed, shared]


def skipped_rows(result: ClassResult) -> Iterator[list[Any]]:
    """One row a file that was not marked."""
    yield ["file", "reason"]
    yield from ([one.file, one.reason] for one in result.skipped)


def files_rows(result: ClassResult) -> Iterator[list[Any]]:
    """One row a file, for every code under which more than one came."""
    yield ["code", "file", "problems_right_from_it", "came", "late", "notes"]
    for mark in result.marks:
        for one in mark.files if len(mark.files) > 1 else ():
            late = "late" if one.late else ""
            yield [mark.code, one.file, one.right, one.came, late, ", ".join(one.notes)]


SHEETS: dict[str, Callable[[ClassResult], Iterator[list[Any]]]] = {
    "marks.csv": marks_rows,
    "items.csv": items_rows,
    "slips.csv": mistakes_rows,
    "slips_by_code.csv": teaching_rows,
    "unexplained.csv": unexplained_rows,
    "several_files.csv": files_rows,
    "left_out.csv": skipped_rows,
}


def write_sheets(result: ClassResult, folder: Path) -> None:
    """Write the sheets into a folder."""
    for name, rows in SHEETS.items():
        write_whole(folder / name, csv_bytes(rows(result)))
