"""What marking gives: one row a student, one row a problem, one row a wrong turn, and what was left out."""

import re
from dataclasses import dataclass
from statistics import median

from leverarm.marking.assignment import Assignment, Item
from leverarm.tables import visible

FEW = 5
RE_TEACH, GO_ON = 0.35, 0.70
USUAL_ANSWERS = "100 to 200"
MOST_NOTES = 12
VERBS = {"choice": "chose", "body": "drew"}
_NUMBER = re.compile(r"(?<![A-Za-z\d])\d(?:[\d.,\u202f]*\d)?")


@dataclass(frozen=True)
class FileShare:
    """What one file gave to a student's mark: problems right because of it, the date it came, late or not, notes.

    right   0 for a file that changed nothing: a copy, an earlier state, or somebody's forgery
    """

    file: str
    right: int
    came: str
    late: bool
    notes: tuple


@dataclass(frozen=True)
class Mark:
    """A student's row: code, problems right, out of how many, tries used, late or not, each problem, notes.

    score   None where nothing was handed in
    items   item name -> 1 right, 0 not yet, None not answered
    files   FileShare after FileShare: every file that came under this code, and what it gave
    """

    code: str
    score: int | None
    out_of: int
    tries: int
    late: str
    items: dict
    notes: tuple
    files: tuple = ()


@dataclass(frozen=True)
class ItemRow:
    """A problem's row.  Shares are None where fewer than five answered.

    answered, omitted   students who answered it, who handed in and did not
    right, first        of those who answered: right in the end, right at the first try
    facility, first_share   the same as shares from 0 to 1
    tries               median number of tries
    turns               TurnRow after TurnRow, the most frequent first
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
    turns: tuple
    advice: str


@dataclass(frozen=True)
class TurnRow:
    """A wrong turn at a problem: how many students' answers fit it alone, how many fit it among others.

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
    def students(self):
        """Students whose number fits this turn at all."""
        return self.sure + self.maybe

    @property
    def words(self):
        """The row as a sentence."""
        every = "could" if self.maybe == self.students else f"{self.maybe} of them could"
        others = f" ({every} also be another turn)" if self.maybe else ""
        return f"{self.students} of {self.answered} {self.verb} {self.what}{others}"


@dataclass(frozen=True)
class ClassResult:
    """A marked assignment: .marks (Mark), .items (ItemRow), .turns (TurnRow), .skipped (Skipped), .notes (sentences)."""

    assignment: Assignment
    marks: tuple
    items: tuple
    turns: tuple
    skipped: tuple
    notes: tuple

    @property
    def handed_in(self):
        """How many students handed something in."""
        return sum(mark.score is not None for mark in self.marks)


class Tally:
    """Counts over the class, one student at a time; grows with the problems, not with the class."""

    def __init__(self, assignment, kinds):
        self.assignment, self.kinds, self.students = assignment, kinds, 0
        self._counts = {item.name: _Counts() for item in assignment.items}

    def add(self, student):
        """Take in one marked student: item name -> Checked after Checked."""
        self.students += 1
        for name, checks in student.items():
            if checks:
                self._counts[name].add(checks)

    def rows(self):
        """(items, turns): turns over all problems, the most frequent first."""
        items = tuple(self._row(item, self._counts[item.name]) for item in self.assignment.items)
        turns = sorted(
            (turn for row in items for turn in row.turns),
            key=lambda turn: (-turn.students, -turn.sure),
        )
        return items, tuple(turns)

    def _row(self, item, counts):
        kind = self.kinds[item.kind]
        few = self.students < FEW or counts.answered < FEW
        turns = () if few else counts.turns(item, kind)
        shares = (
            (None,) * 5
            if few
            else (
                counts.right,
                counts.first,
                counts.right / counts.answered,
                counts.first / counts.answered,
                float(median(counts.tries)),
            )
        )
        return ItemRow(
            item,
            kind.title,
            kind.lesson,
            counts.answered,
            self.students - counts.answered,
            *shares,
            turns,
            advice(shares[3], kind),
        )


class _Counts:
    """Counts for one problem."""

    def __init__(self):
        self.answered = self.right = self.first = 0
        self.tries, self.found = [], {}

    def add(self, checks):
        self.answered += 1
        self.right += any(one.verdict.right for one in checks)
        self.first += checks[0].verdict.right
        self.tries.append(len(checks))
        for key, (sure, what, ask) in _turns_of(checks).items():
            counted = self.found.setdefault(key, [0, 0, what, ask])
            counted[0 if sure else 1] += 1
            counted[2] = counted[2] if counted[2] == what else key[1] or counted[2]

    def turns(self, item, kind):
        verb = VERBS.get(kind.style, "gave")
        rows = (
            TurnRow(verb, item, kind.title, kind.lesson, what, ask, sure, maybe, self.answered)
            for sure, maybe, what, ask in self.found.values()
        )
        return tuple(sorted(rows, key=lambda row: (-row.students, -row.sure, row.what)))


def without_numbers(words):
    """Words about one student's number, fit for a class: a number that differs from student to student is left open.

    >>> without_numbers("what comes out without the factor (1 + 1.2/1.65)")
    'what comes out without the factor (\u2026 + \u2026/\u2026)'
    """
    return _NUMBER.sub("\u2026", words)


def _turns_of(checks):
    """The wrong turns of one student at one problem: key -> (ever the only one that fits, what, ask)."""
    found = {}
    for one in checks:
        for suspect in one.verdict.suspects:
            key, what = _told(one.problem, suspect)
            found[key] = (
                found.get(key, (False,))[0] or len(one.verdict.suspects) == 1,
                what,
                suspect.ask,
            )
    return found


def _told(problem, suspect):
    """(key, words) of a wrong turn: an option goes by its name, for its words may name another machine each time."""
    if problem.style == "choice":
        return (suspect.name, ""), suspect.what.removeprefix("the thought that ")
    return (suspect.name, without_numbers(suspect.what)), suspect.what


def advice(first_share, kind):
    """What a share of right first tries says to do next (the bounds used in peer instruction)."""
    if first_share is None:
        return f"fewer than {FEW} answers: no figures"
    if first_share < RE_TEACH:
        return f"re-teach lesson {kind.lesson:02d}: {kind.title}"
    return "discuss in pairs, then ask again" if first_share <= GO_ON else "go on"


def small_class_words(students):
    """How much the figures of a class of this size can say."""
    if students < FEW:
        return (
            f"{students} handed in. Under {FEW} students no class figures are shown: "
            "they would point at persons."
        )
    return (
        f"{students} handed in. Judging a problem by its figures usually takes {USUAL_ANSWERS} answers. "
        "Use these to choose what to talk about, and draw no conclusion about a single problem."
    )


def tidy_notes(notes):
    """Notes as short visible sentences, not too many."""
    shown = tuple(visible(note) for note in dict.fromkeys(notes))
    return (
        shown
        if len(shown) <= MOST_NOTES
        else (*shown[:MOST_NOTES], f"and {len(shown) - MOST_NOTES} more")
    )
