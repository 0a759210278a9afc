"""A student's side of an assignment: where they are, the next numbers, and every check kept at once.

    home = find(folder)                 slips and assignments that lie in a folder
    work = Homework(slip, folder)       takes up where the answer file left off
    work.problem("front_gain")          the problem with the numbers of the next try
    work.check("front_gain", "190 kg")  Verdict; written to the answer file before it is shown

Other windows may work on the same file: whoever checks first has the try.
"""

from dataclasses import dataclass
from pathlib import Path

from leverarm import __version__, exercises
from leverarm.marking import answers as paper
from leverarm.marking import codes
from leverarm.marking.assignment import (
    ANSWERS_END,
    ASSIGNMENT_END,
    MOST_BYTES,
    SLIP_END,
    read_assignment,
    read_slip,
    text,
)
from leverarm.marking.keep import LineFile, write_whole
from leverarm.marking.plaintext import Unfit, record
from leverarm.quantities import Refusal

MADE_WITH = f"leverarm {__version__}"


@dataclass(frozen=True)
class Found:
    """What lies in a folder: slips and assignments by file, and remarks about files that could not be used."""

    slips: tuple
    assignments: tuple
    notes: tuple


def find(folder):
    """The slips and assignments beside a notebook."""
    slips, given, notes = [], [], []
    for path in sorted(Path(folder).glob("*.txt")):
        for end, reader, into in (
            (SLIP_END, read_slip, slips),
            (ASSIGNMENT_END, read_assignment, given),
        ):
            if end.removesuffix(".txt") in path.name.lower():
                try:
                    into.append(reader(_small(path)))
                except (Unfit, Refusal, OSError) as why:
                    notes.append(f"{path.name}: {why}")
    given += [
        slip.assignment for slip in slips if slip.assignment.name not in {one.name for one in given}
    ]
    unique = {one.name: one for one in given}
    return Found(
        tuple({slip.stem: slip for slip in slips}.values()), tuple(unique.values()), tuple(notes)
    )


def _small(path):
    """The bytes of a file that is no bigger than it may be."""
    with open(path, "rb") as file:
        return file.read(MOST_BYTES + 1)


def keep_slip(slip, folder):
    """Write a typed slip as a file beside the notebook, so that it is typed once."""
    path = Path(folder) / (slip.stem + SLIP_END)
    if not path.exists():
        write_whole(path, text(slip).encode())
    return path


def given_text(problem):
    """The numbers of a problem on one line, as an answer file keeps them."""
    return "; ".join(f"{name} {value}" for name, value in (problem.given or {}).items())[
        : paper.MOST_GIVEN
    ]


def problem_for(slip, item, number):
    """The problem of one try: the same for the student, on paper and when it is marked."""
    return exercises.make(
        item.kind, codes.seed(slip.key, item.name, number), system=slip.assignment.system or None
    )


def verdict_on(slip, problem, typed, sympy=False):
    """The Verdict under the rules of the assignment; without sympy's second opinion it takes well under a millisecond."""
    return exercises.check(problem, typed, slip.assignment.tolerance / 100, sympy=sympy)


def checked(slip, item, answer):
    """(problem, verdict) of an answer worked out again from the number key; a verdict in a file is never read."""
    problem = problem_for(slip, item, answer.number)
    return problem, verdict_on(slip, problem, answer.typed)


@dataclass(frozen=True)
class Standing:
    """How far one item is: tries used, whether one of them was right, whether another try counts."""

    item: object
    tries: int
    right: bool
    open: bool


class Homework:
    """One slip being worked on.

    slip, folder    whose, and where the answer file lies
    path            the answer file
    """

    def __init__(self, slip, folder="."):
        self.slip, self.folder = slip, Path(folder)
        self.path = self.folder / (slip.stem + ANSWERS_END)
        head = paper.header(slip.assignment.name, slip.code, codes.proof(slip.key), MADE_WITH)
        self._file = LineFile(self.path, head, lambda line: paper.TITLE in line)
        self._seen, self._right = {}, {}
        self.refresh()

    @property
    def items(self):
        """The items of the assignment, in order."""
        return self.slip.assignment.items

    def refresh(self):
        """Take in what other windows wrote."""
        self._file.refresh()
        self._read()
        return self

    def _read(self):
        """The first answer to each try; it is the one that counts."""
        self._seen = {item.name: {} for item in self.items}
        for line in self._file.lines:
            try:
                answer = paper.read_line(record(line))
            except Unfit:
                continue
            if answer.item in self._seen:
                self._seen[answer.item].setdefault(answer.number, answer)

    def item(self, name):
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

    def answers(self, name):
        """The answers given to an item so far, by the number of their try."""
        return dict(sorted(self._seen[self.item(name).name].items()))

    def number(self, name):
        """The number of the next try: the first one that has no answer."""
        seen = self._seen[self.item(name).name]
        return next(n for n in range(1, len(seen) + 2) if n not in seen)

    def problem(self, name, number=None):
        """The problem of an item with the numbers of its next try, or of a try already made."""
        return problem_for(self.slip, self.item(name), number or self.number(name))

    def verdict(self, name, number):
        """The Verdict on an answer already given."""
        answer = self.answers(name)[number]
        key = (name, number, answer.typed)
        if key not in self._right:
            self._right[key] = checked(self.slip, self.item(name), answer)[1]
        return self._right[key]

    def standing(self, name):
        """How far an item is."""
        seen = [n for n in self.answers(name) if self.slip.assignment.counts(n)]
        return Standing(
            self.item(name),
            len(seen),
            any(self.verdict(name, n).right for n in seen),
            self.slip.assignment.counts(self.number(name)),
        )

    def first_open(self):
        """The first item that is not right and has a try left; the first of all where there is none."""
        standings = [self.standing(item.name) for item in self.items]
        return next((one.item for one in standings if one.open and not one.right), self.items[0])

    def check(self, name, typed, *, hints=0, seconds=0, number=None):
        """The Verdict on a typed answer to the try shown; an answer that could be read is kept at once.

        number  the try that was on the screen; another window may have answered it meanwhile,
                then this answer is kept as well and the first one counts
        """
        item, number = self.item(name), number or self.number(name)
        if not isinstance(typed, str) or len(typed) > paper.MOST_TYPED:
            raise Refusal(
                "answer", typed, f"up to {paper.MOST_TYPED} characters", "type the answer alone"
            )
        problem = self.problem(name, number)
        found = verdict_on(self.slip, problem, typed, sympy=True)
        if found.counts:
            answer = paper.Answer(
                item.name, number, given_text(problem), typed, found.reading, hints, int(seconds)
            )
            self._file.add(paper.line(answer))
            self._read()
        return found

    def was_first(self, name, number, typed):
        """Whether the answer that counts for this try is this one, not one from another window."""
        return self.answers(name)[number].typed == typed
