"""What every style of problem has in common: Problem, SolutionLine, Mistake, Verdict."""

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, ClassVar

from leverarm.exercises.difficulty import ORDINARY, allowed_step
from leverarm.exercises.expressions.tree import Tree
from leverarm.exercises.random_numbers import RandomStream
from leverarm.exercises.rules import PRINCIPLES

# The edition of the bank.  The same kind and seed keep their numbers and their bounds within one;
# 2: no raw reading passes for the mean, an uncertainty may have two digits.
# 3: a question told in one system's units is asked in the other's where these are chosen.
EDITION = ONE_SYSTEM = 3


@dataclass(frozen=True)
class SolutionLine:
    """One line of a worked solution.

    principle   a key of PRINCIPLES: the one that this line uses
    words       why, in a sentence
    left        what is worked out
    letters     how, in letters
    numbers     how, in numbers; the whole of it for an equation
    result      the number with its unit
    tree, at, claim     the expression, its numbers, and the value that the line claims for it
    mark        what stands between the parts
    name, kind, unit    what is worked out in words, its kind of quantity, the unit of the result
    makes       what later lines call the result, "" for an equation or a formula
    equation    whether it is an equation that the next line is solved from: left = letters
    """

    principle: str
    words: str
    left: str
    letters: str = ""
    numbers: str = ""
    result: str = ""
    tree: Tree | None = None
    at: dict[str, float] | None = None
    claim: float = 0.0
    mark: str = " = "
    name: str = ""
    kind: str = ""
    unit: str = ""
    makes: str = ""
    equation: bool = False

    @property
    def tag(self) -> str:
        """The principle as printed."""
        return PRINCIPLES[self.principle]

    @property
    def text(self) -> str:
        """The line as printed."""
        if self.equation:
            return "; ".join(filter(None, (f"{self.left} = {self.letters}", self.numbers)))
        parts = (self.left, self.letters, self.numbers, self.result)
        return self.mark.join(part for part in dict.fromkeys(parts) if part)


@dataclass(frozen=True)
class Mistake:
    """A wrong step: listed in the bank, a single change of the right method, or a wrong option.

    name        a listed mistake has the name of its row, any other the name of its class
    what        what the answer is, in words; {0}, {1} stand for parts of the expression
    question    the question that helps
    tree        the expression that the mistake leads to, where there is one
    rank        0 for a listed mistake, 1 for one that was searched for
    parts       the expressions that stand in what
    """

    name: str
    what: str
    question: str
    tree: Tree | None = None
    rank: int = 0
    parts: tuple[Tree, ...] = ()


@dataclass(frozen=True)
class Verdict:
    """What a check found.

    right       whether the answer is right
    reading     the answer as it was read
    suspects    every Mistake that leads to it, the more common first
    message     what to say, in three parts: goal, finding, question
    case        "right", "wrong", "unclear" (two readings, or a formula where a number is asked),
                "unread" (nothing that could be read)
    remarks     what is worth saying about a right answer: another unit, too many digits
    step        for a wrong number, the line of the worked solution at which it stops fitting
    """

    right: bool
    reading: str
    suspects: tuple[Mistake, ...] = ()
    case: str = "wrong"
    goal: str = ""
    finding: str = ""
    question: str = ""
    remarks: tuple[str, ...] = ()
    step: int | None = None

    @property
    def message(self) -> str:
        """The reply as one text."""
        return " ".join(filter(None, (self.goal, self.finding, *self.remarks, self.question)))

    @property
    def counts(self) -> bool:
        """Whether this was a try; what could not be read, or has two readings, does not count."""
        return self.case in ("right", "wrong")


def unread(sentence: object) -> Verdict:
    """The Verdict on text that is not an answer."""
    return Verdict(False, "", case="unread", finding=str(sentence))


def unclear(reading: str, sentence: str) -> Verdict:
    """The Verdict on text that has two readings."""
    return Verdict(False, reading, case="unclear", finding=sentence)


@dataclass(frozen=True, eq=False)
class ProblemKind(ABC):
    """A kind of problem in the bank: NumberKind, FormulaKind, ChoiceKind or FreeBodyKind.

    stream      the name its numbers are drawn by, where the kind had another name before
    instead     the kind that asks the same in another unit system, by that system
    """

    name: str
    lesson: int
    title: str
    stream: str = field(default="", kw_only=True)
    instead: Mapping[str, str] = field(default_factory=dict, kw_only=True)
    style: ClassVar[str]
    steps: ClassVar[tuple[str, ...]] = (ORDINARY,)

    def make(
        self,
        seed: object,
        system: str | None = None,
        edition: int = EDITION,
        step: str = ORDINARY,
    ) -> "Problem":
        """The problem of a seed in an edition of the bank, at a step of difficulty."""
        return self.at_step(allowed_step(step, self.name, self.steps)).made(seed, system, edition)

    def at_step(self, step: str) -> "ProblemKind":
        """The kind that makes problems as hard as that."""
        return self

    @abstractmethod
    def made(self, seed: object, system: str | None, edition: int) -> "Problem":
        """The problem of a seed, at the step that this kind has."""

    def numbers_of(self, seed: object, *more: object) -> RandomStream:
        """What a seed decides for this kind."""
        return RandomStream(self.stream or self.name, seed, *more)

    def problem(self, seed: object, system: str, statement: str, **more: Any) -> "Problem":
        """A problem of this kind; whatever else it has by name."""
        return Problem(
            *(self.name, self.lesson, self.title, self.style, seed, system, statement),
            **{"given": {}, "unit": "", "source": self, **more},
        )

    @abstractmethod
    def check(
        self, problem: "Problem", typed: Any, tolerance: float | None = None, sympy: bool = True
    ) -> Verdict:
        """The Verdict on what was typed."""

    @abstractmethod
    def hints(self, problem: "Problem", step: int | None = None) -> tuple[str, ...]:
        """Four hints, one rung at a time."""

    @abstractmethod
    def solution(self, problem: "Problem") -> tuple[SolutionLine, ...]:
        """The worked solution."""


@dataclass(frozen=True)
class Problem:
    """A problem with its own numbers.

    kind, lesson, title     the kind it was made from
    style       "number", "symbol", "choice" or "body"
    seed, system    what it was made with; system is "kg" or "lb"
    statement   the text to show
    given       letter -> number with unit, as they stand in the text
    unit        the unit asked for, "" where there is none
    answer      the right answer: a number in that unit, a formula, the letter of an option, or
                the lines of a free body
    options     for a choice: (letter, text) pairs; for a free body: what can be chosen
    redraws     how many drawn sets of numbers were put back
    step        how hard it is: "easy", "ordinary" or "hard"
    source      the ProblemKind it was made from
    drawn       what the seed decided, kept for the check: the Numbers, the multiple of a formula,
                the options in their order
    """

    kind: str
    lesson: int
    title: str
    style: str
    seed: object
    system: str
    statement: str
    given: dict[str, str]
    unit: str
    answer: Any
    options: tuple[tuple[str, Any], ...] = ()
    redraws: int = 0
    step: str = ORDINARY
    source: ProblemKind = field(kw_only=True, repr=False, compare=False)
    drawn: Any = field(default=None, repr=False, compare=False)

    @cached_property
    def hints(self) -> tuple[str, ...]:
        """Four hints, one rung at a time: a question, a picture, the step, the step worked."""
        return self.hints_at(None)

    def hints_at(self, step: int | None) -> tuple[str, ...]:
        """The four hints at the step of a Verdict; None where nothing was typed yet."""
        return self.source.hints(self, step)

    @cached_property
    def solution(self) -> tuple[SolutionLine, ...]:
        """The worked solution with this problem's own numbers, worked out once."""
        return self.source.solution(self)
