"""A worked example of a problem: letters introduced, then steps, each with a number to find.

The steps to the answer are those of the worked solution, so a route is told once: in
`data/ways.toml`, or by the rule.  What an example does with the answer after that, a further
step or a check, stands in `data/worked.toml`.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from leverarm.data import Entry, OnDemand, toml_file
from leverarm.exercises.expressions.grammar import Unreadable, read_formula, spellings
from leverarm.exercises.expressions.tree import compiled, formula_text, value_at
from leverarm.exercises.number_reader import (
    Reading,
    printed_unit,
    read_number,
    significant,
    without_end_zeros,
)
from leverarm.exercises.numbers import NumberKind
from leverarm.exercises.problem import Problem, SolutionLine
from leverarm.exercises.rules import PRINCIPLES
from leverarm.exercises.tolerance import USUAL
from leverarm.exercises.typeset import plain_letters
from leverarm.quantities import KINDS, SYSTEMS, to_unit, unit_of

# A letter, what it stands for, and its value with its unit; "" where it has none.
Known: TypeAlias = tuple[str, str, str]
# Whether an answer is right, and what to say of it.
Reply: TypeAlias = tuple[bool, str]


@dataclass(frozen=True)
class WorkedStep:
    """One step of a worked example.

    letter, name        what is worked out, as a letter and in words
    principle, why      a key of PRINCIPLES, and the reason in a sentence
    balance             the equations it is solved from, in letters
    letters, numbers    how, in letters and in numbers
    result              what comes out, with its unit
    value, kind, unit   the same as a number, with its kind of quantity; None where it is no number
    check               what must come out again: a letter, or ""
    """

    letter: str
    name: str
    principle: str
    why: str
    letters: str
    numbers: str
    result: str
    value: float | None = None
    kind: str = ""
    unit: str = ""
    balance: tuple[str, ...] = ()
    check: str = ""


@dataclass(frozen=True)
class FurtherStep:
    """A step after the answer, as the data tell it; formula in the letters as printed."""

    letter: str
    name: str
    kind: str
    formula: str
    principle: str
    why: str
    check: str


def read_further(entry: Entry) -> dict[str, tuple[FurtherStep, ...]]:
    """Steps after the answer by the name of the problem."""
    found = {}
    for row in entry.rows("after"):
        steps = []
        for one in row.rows("step", named_by="letter"):
            steps.append(
                FurtherStep(
                    one.text("letter"),
                    one.text("name"),
                    one.one_of("kind", KINDS),
                    one.text("formula"),
                    one.one_of("principle", PRINCIPLES),
                    one.text("why"),
                    one.text("check", ""),
                )
            )
            one.done()
        found[row.text("name")] = tuple(steps)
        row.done()
    entry.done()
    return found


FURTHER = OnDemand(lambda: read_further(toml_file("worked")))


def known_letters(problem: Problem) -> tuple[Known, ...]:
    """The letters of a problem before anything is worked out, with what stands for each."""
    if isinstance(problem.source, NumberKind):
        letters = problem.source.method.letters
        words = {letters[name].shown: letters[name].words for name in problem.source.given}
        return tuple((shown, words[shown], value) for shown, value in problem.given.items())
    return tuple((letter, words, "") for letter, words in problem.given.items())


def worked_steps(problem: Problem) -> tuple[WorkedStep, ...]:
    """The steps of a problem: its worked solution, then what its example does with the answer."""
    steps: list[WorkedStep] = []
    equations: list[SolutionLine] = []
    for line in problem.solution:
        if line.equation:
            equations.append(line)
        else:
            steps.append(_of_line(line, equations))
            equations = []
    if problem.kind in FURTHER and isinstance(problem.source, NumberKind):
        steps += _after(problem, problem.source, steps)
    return tuple(steps)


def _of_line(line: SolutionLine, equations: Sequence[SolutionLine]) -> WorkedStep:
    """A line as a step, with the equations it is solved from and their reasons."""
    letters = line.letters or ("" if line.kind or line.mark != " = " else line.result)
    return WorkedStep(
        line.left,
        line.name,
        line.principle,
        " ".join(one.words for one in (*equations, line)),
        letters,
        line.numbers,
        _with_dot(line.result),
        line.claim if line.kind else None,
        line.kind,
        line.unit,
        tuple(f"{one.left} = {one.letters}" for one in equations),
    )


def _after(
    problem: Problem, kind: NumberKind, before: Sequence[WorkedStep]
) -> Iterator[WorkedStep]:
    """The steps after the answer with the numbers of a problem, in the units it tells them in."""
    letters = {kind.method.letters[name].shown: name for name in kind.given}
    at = {shown: problem.drawn.shown[name] for shown, name in letters.items()}
    numbers = {shown: value.split(" ")[0] for shown, value in problem.given.items()}
    for step in before:
        if step.value is not None:
            at[step.letter], numbers[step.letter] = step.value, without_end_zeros(step.value)
    for one in FURTHER[problem.kind]:
        (tree,) = read_formula(one.formula, spellings({letter: letter for letter in at}))
        value, unit = value_at(compiled(tree), at), unit_of(one.kind, problem.system)
        yield WorkedStep(
            one.letter,
            one.name,
            one.principle,
            one.why,
            formula_text(tree),
            formula_text(tree, numbers),
            _with_dot(f"{significant(value)} {printed_unit(unit)}".strip()),
            value,
            one.kind,
            unit,
            check=one.check,
        )
        at[one.letter], numbers[one.letter] = value, without_end_zeros(value)


def _with_dot(result: str) -> str:
    """A result with a dot between the units of a moment."""
    number, _, unit = result.partition(" ")
    return f"{number} {unit.replace(' ', '·')}" if unit in ("lb in", "kg m") else result


def blanks_at(stage: int, count: int) -> int:
    """How many of the last steps are the reader's own at a stage, counted from 0.

    There are as many stages as steps: none, one, two and so on; at the last stage every step.

    >>> [blanks_at(stage, 4) for stage in range(4)], [blanks_at(stage, 1) for stage in range(1)]
    ([0, 1, 2, 4], [1])
    """
    return stage if stage < count - 1 else count


def reply_to_step(
    steps: tuple[WorkedStep, ...], at: int, typed: str, known: tuple[Known, ...]
) -> Reply:
    """Whether the number typed for a step is right, and what to say of it."""
    step = steps[at]
    try:
        got = read_number(typed, step.kind, step.unit, near=_base(step))
    except Unreadable as sentence:
        return False, str(sentence)
    assert step.value is not None
    numbers = [to_unit(value, step.kind, step.unit) for value in got.values]
    if any(_near(number, step.value) for number in numbers):
        unit = "" if got.unit_typed or not step.unit else f" Read as {got.shown}."
        return True, f"That is it.{unit}"
    if len(numbers) > 1:
        return False, f"{typed.strip()} can mean {got.shown}. Type it without the comma."
    number = numbers[0]
    return False, f"{got.shown}: {plain_letters(_what_it_is(steps, at, got, number, known))}"


def _near(number: float, value: float) -> bool:
    return abs(number - value) <= USUAL * max(abs(value), 1e-9)


def _what_it_is(
    steps: tuple[WorkedStep, ...], at: int, got: Reading, number: float, known: tuple[Known, ...]
) -> str:
    """What a wrong number is, as far as the example's own numbers tell."""
    step = steps[at]
    value = step.value or 0.0
    if _near(number, -value):
        return "the size is right. Is it a gain or a loss?"
    for letter, words, shown in known:
        if shown and _is_known(number, shown, step):
            return f"that is {letter}, {words}, which was given."
    for other in steps:
        if other.value is not None and other.kind == step.kind and _near(number, other.value):
            return f"that is {other.letter}, {other.name}. This step asks for {step.letter}."
    if not got.unit_typed:
        for system in SYSTEMS:
            if _near(number, to_unit(_base(step), step.kind, unit_of(step.kind, system))):
                return (
                    f"that is right in {printed_unit(unit_of(step.kind, system))}. "
                    "Write the unit with it."
                )
    if any(_near(number, value * power) for power in (0.1, 10.0, 100.0, 0.01, 1000.0)):
        return "the digits are right, and the decimal point is not."
    return f"not yet. Put the numbers into {step.letter} = {step.letters or step.numbers}."


def _base(step: WorkedStep) -> float:
    return (step.value or 0.0) * KINDS[step.kind].units[step.unit]


def _is_known(number: float, shown: str, step: WorkedStep) -> bool:
    """Whether a number is a given one of the same kind."""
    try:
        given = read_number(shown.replace(",", ""), step.kind, step.unit)
    except Unreadable:
        return False
    return _near(number, to_unit(given.values[0], step.kind, step.unit))
