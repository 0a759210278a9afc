"""What to teach tomorrow: the wrong first answers of a class, added up by the idea behind them.

Every wrong first answer is counted once: under a misconception, under a single slip, or as
unexplained, so that the parts add up.  An answer that fits two slips counts under the one that
more answers fit alone.  What no student's number alone explains is looked at together, for one
expression that gives several students' different numbers.

Counts grow with the problems and slips, hardly with the class; of each problem only the first
MOST_COMPARED unexplained answers are kept.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from leverarm.exercises import Mistake, Problem, make, shared_causes
from leverarm.exercises.together import typed_as
from leverarm.marking.assignment import Assignment
from leverarm.marking.checked import CheckedAnswer, MistakeName, Work, class_words, shown_answer
from leverarm.marking.misconceptions import Misconception, board_numbers, misconception_of
from leverarm.quantities import how_many

MOST_SLIPS, MOST_EXAMPLES, MOST_COMPARED = 3, 2, 40
FEW = 5  # with fewer students, figures would point at persons
MANY_DIGITS = 4  # with fewer, a number says little about where it came from
VERBS = {"choice": "choose:", "body": "draw"}
# A misconception, or a slip that stands alone: (place of its problem, its name).
_Idea: TypeAlias = Misconception | tuple[int, MistakeName]
COUNTED = {1: "One slip", 2: "Two slips", 3: "Three slips"}


@dataclass(frozen=True, slots=True)
class Example:
    """An answer as it was typed: whose, what its reply found, and what was right."""

    code: str
    typed: str
    finding: str
    right: str


@dataclass(frozen=True)
class TaughtSlip:
    """A slip of several students, perhaps in several problems.

    does            what they do, as a heading
    codes           who, in order
    where           (place of the problem, wrong first answers) after another
    examples        two of them, by different students where there are two
    ask, answer     a question for the board, and what to hear; answer is "" where it depends
    again           a fresh problem to ask anew
    """

    does: str
    codes: tuple[str, ...]
    where: tuple[tuple[int, int], ...]
    examples: tuple[Example, ...]
    ask: str
    answer: str
    again: Problem

    @property
    def answers(self) -> int:
        """Wrong first answers that it made."""
        return sum(number for _, number in self.where)


@dataclass(frozen=True)
class LeftOver:
    """Answers to one problem without a known cause.

    at, title   the place of the problem and what it asks
    shared      the wrong turn that gives all of them, each from its own numbers; None for none
    answers     (code, typed, whether it has digits enough to tell) after another
    """

    at: int
    title: str
    shared: Mistake | None
    answers: tuple[tuple[str, str, bool], ...]


@dataclass(frozen=True)
class Teaching:
    """What to teach tomorrow.

    students    who handed in
    first, wrong    first answers, and those of them that are wrong
    slips       the slips to teach, the most frequent first
    others      wrong first answers under other slips
    left_over   what is unexplained, answers that share a cause first
    unexplained item name -> first answers without a known cause
    """

    students: int = 0
    first: int = 0
    wrong: int = 0
    slips: tuple[TaughtSlip, ...] = ()
    others: int = 0
    left_over: tuple[LeftOver, ...] = ()
    unexplained: Mapping[str, int] = field(default_factory=dict)

    @property
    def small(self) -> bool:
        """Whether figures of a problem would point at persons."""
        return self.students < FEW

    @property
    def left(self) -> int:
        """Wrong first answers without a known cause."""
        return sum(self.unexplained.values())

    @property
    def decision(self) -> tuple[str, str]:
        """The first sentence of the page, and how the rest adds up."""
        if not self.first:
            return "Nothing to read came back yet.", ""
        if not self.wrong:
            return f"No wrong first answer among {self.first}.", ""
        wrong = how_many(self.wrong, "wrong first answer")
        if self.slips:
            taught = sum(slip.answers for slip in self.slips)
            first = f"{COUNTED[len(self.slips)]} made {taught} of {wrong}."
        else:
            first = f"No slip was made by two students. {wrong} came in."
        parts = [
            f"{number} {'is' if number == 1 else 'are'} {what}"
            for number, what in ((self.others, "under other slips"), (self.left, "unexplained"))
            if number
        ]
        return first, f"{', '.join(parts)}." if parts else ""


class _Made:
    """Wrong first answers to one problem that fit the same slips."""

    def __init__(self, at: int, verb: str, words: str, name: MistakeName, ask: str) -> None:
        self.at, self.verb, self.words, self.ask = at, verb, words, ask
        self._plain = name[1] or words
        self.codes: list[str] = []
        self.examples: list[Example] = []

    def add(self, code: str, one: CheckedAnswer, words: str) -> None:
        self.codes.append(code)
        self._say(words)
        if len(self.examples) < MOST_EXAMPLES:
            found = one.verdict.finding
            right = shown_answer(one.problem)
            self.examples.append(Example(code, one.answer.typed, found, right))

    def join(self, later: "_Made") -> None:
        self.codes += later.codes
        self._say(later.words)
        self.examples = [*self.examples, *later.examples][:MOST_EXAMPLES]

    def _say(self, words: str) -> None:
        """Words that differ from student to student are told without their numbers."""
        self.words = words if words == self.words else self._plain


class FirstAnswers:
    """The wrong first answers of a class, one student at a time."""

    def __init__(self, assignment: Assignment) -> None:
        self.assignment = assignment
        self.students = self.first = self.wrong = 0
        # (place of the problem, ideas that fit) -> the answers
        self._made: dict[tuple[int, tuple[_Idea, ...]], _Made] = {}
        self._unexplained: Counter[str] = Counter()
        # What it takes to make the problem again, and what was typed.
        self._kept: defaultdict[int, list[tuple[str, object, str, str]]] = defaultdict(list)

    def add(self, code: str, work: Work) -> None:
        """Count one marked student."""
        self.students += 1
        for at, item in enumerate(self.assignment.items, 1):
            for one in work[item.name][:1]:
                self.first += 1
                if not one.verdict.right:
                    self.wrong += 1
                    self._count(code, at, item.name, one)

    def _count(self, code: str, at: int, name: str, one: CheckedAnswer) -> None:
        suspects = one.verdict.suspects
        if not suspects:
            self._unexplained[name] += 1
            if len(self._kept[at]) < MOST_COMPARED:
                problem = one.problem
                self._kept[at].append((code, problem.seed, problem.system, one.answer.typed))
            return
        named, words = class_words(one.problem, suspects[0])
        ideas = tuple(dict.fromkeys(_idea(at, one.problem, mistake) for mistake in suspects))
        made = self._made.get((at, ideas))
        if made is None:
            verb = VERBS.get(one.problem.style, "give")
            made = self._made[at, ideas] = _Made(at, verb, words, named, suspects[0].question)
        made.add(code, one, words)

    def join(self, later: "FirstAnswers") -> None:
        """Count the students of another, as if they came after these."""
        self.students += later.students
        self.first += later.first
        self.wrong += later.wrong
        self._unexplained += later._unexplained
        for at, kept in later._kept.items():
            self._kept[at] = [*self._kept[at], *kept][:MOST_COMPARED]
        for key, made in later._made.items():
            if key in self._made:
                self._made[key].join(made)
            else:
                self._made[key] = made

    def teaching(self) -> Teaching:
        """What to teach."""
        found = sorted(
            (self._slip(key, made) for key, made in self._ideas().items()),
            key=lambda slip: (-slip.answers, -len(slip.codes), slip.does),
        )
        fewest = 1 if self.students < FEW else 2
        taught = [slip for slip in found if len(slip.codes) >= fewest][:MOST_SLIPS]
        others = sum(slip.answers for slip in found) - sum(slip.answers for slip in taught)
        left = sorted(self._left_over(), key=lambda one: (one.shared is None, one.at))
        return Teaching(
            *(self.students, self.first, self.wrong, tuple(taught), others, tuple(left)),
            dict(self._unexplained),
        )

    def _ideas(self) -> dict[_Idea, list[_Made]]:
        """The idea behind each group of answers -> groups: a misconception, or a single slip."""
        alone: Counter[_Idea] = Counter()
        for (_, ideas), made in self._made.items():
            if len(ideas) == 1:
                alone[ideas[0]] += len(made.codes)
        found: defaultdict[_Idea, list[_Made]] = defaultdict(list)
        for (_, ideas), made in self._made.items():
            # Of two that tie, the likelier one stands first.
            found[max(ideas, key=lambda idea: alone[idea])].append(made)
        return found

    def _slip(self, idea: _Idea, groups: list[_Made]) -> TaughtSlip:
        where: Counter[int] = Counter()
        for made in groups:
            where[made.at] += len(made.codes)
        most = max(groups, key=lambda made: len(made.codes))
        item = self.assignment.items[most.at - 1]
        words = f"They {most.verb} {most.words.rstrip('.')}."
        ask, answer = most.ask, ""
        if isinstance(idea, Misconception):
            words, numbers = idea.does, board_numbers(self.assignment.system or None)
            if idea.fits(item.in_bank.lesson):
                ask, answer = idea.ask.format(**numbers), idea.answer.format(**numbers)
        return TaughtSlip(
            words,
            tuple(sorted({code for made in groups for code in made.codes})),
            tuple(sorted(where.items())),
            _two_of(groups),
            *(ask, answer),
            make(
                item.kind,
                f"teach tomorrow|{self.assignment.name}|{words}",
                self.assignment.system or None,
                step=item.step,
            ),
        )

    def _left_over(self) -> Iterator[LeftOver]:
        """The unexplained answers of each problem: those that share a cause, then the others."""
        for at, kept in sorted(self._kept.items()):
            item = self.assignment.items[at - 1]
            title, edition = item.in_bank.title, self.assignment.edition
            others = []
            for system in sorted({system for _, _, system, _ in kept}):
                rows = [
                    (code, typed, make(item.kind, seed, system, edition, item.step))
                    for code, seed, own, typed in kept
                    if own == system
                ]
                causes = shared_causes([(problem, typed) for _, typed, problem in rows])
                for cause in causes:
                    some = tuple((*rows[place][:2], True) for place in cause.of)
                    yield LeftOver(at, title, cause.mistake, some)
                taken = {place for cause in causes for place in cause.of}
                others += [row for place, row in enumerate(rows) if place not in taken]
            if others:
                yield LeftOver(
                    at,
                    title,
                    None,
                    tuple((code, typed, _tells(p, typed)) for code, typed, p in others),
                )


def _idea(at: int, problem: Problem, mistake: Mistake) -> _Idea:
    """The misconception that a mistake is one of, or the mistake at this problem alone."""
    name, _ = class_words(problem, mistake)
    return misconception_of(problem, mistake) or (at, name)


def _two_of(groups: list[_Made]) -> tuple[Example, ...]:
    """Two examples, by different students and from different problems where there are such."""
    rows = sorted(groups, key=lambda made: -len(made.codes))
    order = [
        made.examples[turn]
        for turn in range(MOST_EXAMPLES)
        for made in rows
        if turn < len(made.examples)
    ]
    first = order[0]
    others = sorted(order[1:], key=lambda one: one.code == first.code)
    return (first, *others[: MOST_EXAMPLES - 1])


def _tells(problem: Problem, typed: str) -> bool:
    """Whether a number was typed with digits enough to tell where it came from."""
    found = typed_as(problem, typed)
    return found is None or found.digits >= MANY_DIGITS
