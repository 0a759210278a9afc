"""Numeric problems: drawing numbers that keep mistakes clear of the right answer, and the check."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from leverarm.exercises import solution
from leverarm.exercises.difficulty import (
    ORDINARY,
    STEPS,
    can_be_retold,
    round_step,
)
from leverarm.exercises.evidence import DIGITS_OF_SURETY, Typed, typed_number
from leverarm.exercises.expressions import grammar
from leverarm.exercises.expressions.grammar import Unreadable
from leverarm.exercises.expressions.tree import Tree, compiled, formula_text, letters_in, value_at
from leverarm.exercises.feedback import explained, explained_together, wrong_number
from leverarm.exercises.letters import LETTERS, Quantity, scene
from leverarm.exercises.method import Method, method_for
from leverarm.exercises.mistakes import MistakeGroup, listed_mistakes
from leverarm.exercises.number_reader import (
    Reading,
    in_unit,
    read_number,
    significant,
    two_numbers,
)
from leverarm.exercises.problem import (
    EDITION,
    Mistake,
    Problem,
    ProblemKind,
    SolutionLine,
    Verdict,
    unclear,
    unread,
)
from leverarm.exercises.random_numbers import RandomStream
from leverarm.exercises.tolerance import USUAL, Tolerance, tolerance_for, two_figures
from leverarm.quantities import Refusal, from_unit, to_unit, unit_named

MOST_DRAWS = 400
TOO_NEAR = 0.03  # how near a listed mistake may come to the right answer
# Where the lever upside down, the load in the middle or plain doubling give the right answer.
BLIND_SPOTS, SPOT = (0.5, 0.618034, 1.0), 0.03
MANY_DIGITS = 6


@dataclass(frozen=True)
class Numbers:
    """What was drawn.

    shown, values   numbers by letter as shown and as computed with
    right       the right answer
    edition     the edition of the bank they were drawn by, which says how near is right
    """

    shown: dict[str, float]
    values: dict[str, float]
    right: float
    edition: int = EDITION


@dataclass(frozen=True, eq=False)
class NumberKind(ProblemKind):
    """A kind of numeric problem: data, and the rule that is asked.

    asked       the rule whose result is asked
    given       letters whose numbers stand in the statement
    hidden      letters drawn behind given readings
    statement   text with {letters}, {machine} and {thing}
    sign        "change": a gain is positive, a loss negative, and the sign is part of the answer;
                "size": the statement says which way, so either sign is right; "plain": positive
    low, high   what a real machine allows for the answer, in the base unit
    system      "kg" or "lb" where only one makes sense
    ranges      (letter, low, high) where the usual range of a letter does not suit
    caution     a sentence to show with it
    step        how hard its problems are, one of STEPS
    twist       the kind that makes its hard problems, where it has one of its own
    not_needed  a sentence with a number that the answer does not need, for the others
    retold      lengths told in another unit of the same system
    """

    asked: str
    given: tuple[str, ...]
    statement: str
    hidden: tuple[str, ...] = ()
    sign: str = "plain"
    low: float = 1e-9
    high: float = 1e9
    system: str = ""
    ranges: tuple[tuple[str, float, float], ...] = ()
    caution: str = ""
    step: str = ORDINARY
    twist: "NumberKind | None" = None
    not_needed: str = ""
    retold: tuple[str, ...] = ()
    style = "number"
    steps = STEPS

    @cached_property
    def method(self) -> Method:
        """How the answer follows from what is given."""
        return method_for(self.asked, self.given, self.hidden, self.ranges, self.retold)

    @cached_property
    def by_step(self) -> "dict[str, NumberKind]":
        """The kind at each step."""
        letters = self.method.letters
        lengths = [name for name in self.given if name in LETTERS and can_be_retold(letters[name])]
        # A problem that is about units as it stands is not told in more of them.
        mixed = any(letters[name].lb_unit or letters[name].kg_unit for name in self.given)
        retold = () if mixed or self.method.rule.raw else tuple(lengths[:1])
        told = f"{self.not_needed} {self.statement}".strip()
        harder = self.twist or replace(self, statement=told, retold=retold)
        steps = {"easy": replace(self, step="easy"), "hard": replace(harder, step="hard")}
        return steps | {self.step: self}

    @cached_property
    def listed_mistakes(self) -> tuple[MistakeGroup, ...]:
        """The groups with a listed mistake."""
        return listed_mistakes(self.method)

    # Making a problem

    def at_step(self, step: str) -> "NumberKind":
        """The kind at a step."""
        return self.by_step[step]

    def made(self, seed: object, system: str | None, edition: int) -> Problem:
        """The problem of a seed, with the numbers that an edition of the bank gives it."""
        units = self.numbers_of(seed, "units")
        system = self.system or system or units.one_of(("kg", "kg", "lb"))
        step = () if self.step == ORDINARY else (self.step,)
        for redraws in range(MOST_DRAWS):
            stream = self.numbers_of(seed, system, redraws, *step)
            numbers = self._draw(stream, system, edition)
            if self._fits(numbers) and not self._crowded(numbers, system):
                return self._problem(stream, seed, system, numbers, redraws)
        raise Refusal(
            "seed", seed, "a seed that leaves room between right and wrong", "take another seed"
        )

    def _draw(self, stream: RandomStream, system: str, edition: int) -> Numbers:
        letters = self.method.letters
        draw = _round if self.step == "easy" else Quantity.draw
        shown = {name: draw(letters[name], stream, system) for name in self.method.drawn}
        at = {name: letters[name].base(number, system) for name, number in shown.items()}
        for name, compute in self.method.derived.items():
            shown[name] = letters[name].snapped(value_at(compute, at), system)
        values = shown
        if not self.method.rule.raw:
            values = {name: letters[name].base(number, system) for name, number in shown.items()}
        return Numbers(shown, values, value_at(self.method.answer, values), edition)

    def _fits(self, numbers: Numbers) -> bool:
        """Whether a real machine allows this answer, and no lever stands at a blind spot."""
        at = numbers.values
        ratio = at["a"] / at["L"] if "a" in at and "L" in at else 0.0
        return (
            self.low <= abs(numbers.right) <= self.high
            and (self.sign != "plain" or numbers.right > 0)
            and all(abs(ratio - spot) > SPOT for spot in BLIND_SPOTS)
        )

    def _crowded(self, numbers: Numbers, system: str) -> bool:
        """Whether a wrong number comes too near to the right answer."""
        right = numbers.right
        wrong = [value_at(group.compute, numbers.values) for group in self.listed_mistakes]
        if any(abs(number - right) < TOO_NEAR * abs(right) for number in wrong):
            return True
        figures = self.method.rule.figures
        if numbers.edition == 1 or not figures:
            return False
        near = self.nearness(numbers, system)
        if figures == "mean":
            # One raw reading is not the mean, so none may pass for it.
            return any(near.accepts(numbers.values[name], right) for name in self.given)
        unit = self.method.rule.unit_in(system)
        asked, *others = (to_unit(one, self.method.rule.kind, unit) for one in (right, *wrong))
        return any(near.accepts(float(f"{number:.2g}"), asked) for number in others)

    def nearness(self, numbers: Numbers, system: str, told: float | None = None) -> Tolerance:
        """How near is right for these numbers; told: the usual share where it is set."""
        first = self.method.letters[self.given[0]]
        step = first.step(system)
        if not self.method.rule.raw:
            step = from_unit(step, first.kind, first.unit(system))
        if numbers.edition == 1 and self.method.rule.figures == "mean":
            return Tolerance("usual", (told or USUAL) * abs(numbers.right))
        return tolerance_for(self.method, numbers.values, numbers.right, step, told)

    def _problem(
        self, stream: RandomStream, seed: object, system: str, numbers: Numbers, redraws: int
    ) -> Problem:
        rule, letters = self.method.rule, self.method.letters
        unit = rule.unit_in(system)
        given = {name: letters[name].printed(numbers.shown[name], system) for name in self.given}
        scenery = scene(stream)
        if "{Wd}" in self.statement and "Wd" not in given:
            given_too = {"Wd": LETTERS["Wd"].printed(LETTERS["Wd"].draw(stream, system), system)}
        else:
            given_too = {}
        statement = self.statement.format(**scenery, **given, **given_too)
        near = self.nearness(numbers, system)
        return self.problem(
            seed,
            system,
            f"{statement} {near.said} {self.caution}".strip(),
            given={letters[name].shown: text for name, text in given.items()},
            unit=unit,
            answer=numbers.right if rule.raw else to_unit(numbers.right, rule.kind, unit),
            redraws=redraws,
            step=self.step,
            drawn=numbers,
        )

    # Checking an answer

    def check(
        self, problem: Problem, typed: str, tolerance: float | None = None, sympy: bool = True
    ) -> Verdict:
        """The Verdict on what was typed: a number with its unit, or an expression that gives it."""
        kind = self.method.rule.kind
        within = self.nearness(problem.drawn, problem.system, tolerance)
        if ends := two_numbers(typed):
            return self._check_two(problem, typed, ends, within)
        try:
            right = problem.drawn.right
            near = from_unit(right, kind, problem.unit) if self.method.rule.raw else right
            got = read_number(typed, kind, problem.unit, self.sign == "change", near)
        except Unreadable as sentence:
            return self._check_expression(problem, typed, sentence, within)
        if len(got.values) > 1:
            return unclear(
                got.shown,
                f"{typed.strip()} can mean {got.shown}. "
                "Type it without the comma, or with a decimal point.",
            )
        return self._judge(problem, got, within)

    def _check_two(
        self, problem: Problem, typed: str, ends: tuple[str, str], within: Tolerance
    ) -> Verdict:
        """Two numbers where one is asked: asked back, unless their difference is the answer."""
        working = self._check_expression(problem, typed, Unreadable(""), within)
        if working.right:
            return working
        sentence = f"{ends[0]} and {ends[1]} are two numbers. Type the one that you mean."
        return unclear(" or ".join(ends), sentence)

    def _check_expression(
        self, problem: Problem, typed: str, sentence: Unreadable, within: Tolerance
    ) -> Verdict:
        """What is not a number may still be an expression: 110*(1+1.2/1.65), or W(1+a/L)."""
        printed = {self.method.letters[name].shown: name for name in self.given}
        for told in self.method.given_numbers(problem).values():
            typed = typed.replace(told, told.replace(",", ""))  # 1,234 is given, and no 1.234
        trees, unit = _expressions(typed, grammar.spellings(printed), self.method.rule.kind)
        if len(trees) != 1:
            return unread(sentence)
        number = value_at(compiled(trees[0]), problem.drawn.values)
        if number != number or abs(number) > 1e12:
            return unread(sentence)
        rule = self.method.rule
        if not letters_in(trees[0]):
            if unit:
                number = to_unit(from_unit(number, rule.kind, unit), rule.kind, problem.unit)
            return self._judge(problem, read_number(repr(number), rule.kind, problem.unit), within)
        right = abs(number - problem.drawn.right) <= within.room
        shown = formula_text(trees[0], {name: letter for letter, name in printed.items()})
        next_step = (
            "That formula is right. Now put the numbers in."
            if right
            else "Type the number that it gives."
        )
        return unclear(shown, f"Read as the formula {shown}. {next_step}")

    def _judge(self, problem: Problem, got: Reading, within: Tolerance) -> Verdict:
        """Right, or wrong with its suspects."""
        rule = self.method.rule
        in_asked = to_unit(got.values[0], rule.kind, problem.unit)
        number = in_asked if rule.raw else got.values[0]
        if self._is_right(problem, got, within):
            finding, remarks = f"{got.shown}: that is it.", tuple(self._remarks(problem, got))
            return Verdict(True, got.shown, case="right", finding=finding, remarks=remarks)
        if within.sort == "mean":
            readings = [problem.drawn.values[name] for name in self.given]
            short = tuple(_short_of_a_mean(readings, problem.drawn.right, number, within.room))
        elif got.digits < DIGITS_OF_SURETY:
            short = tuple(_cut_short(problem.answer, in_asked, got.digits, within.sort))
        else:
            short = ()
        if short and within.sort == "mean":
            return wrong_number(self.method, problem, got.shown, short)
        return explained(self.method, problem, got.shown, self.as_typed(in_asked, got), short)

    def check_again(
        self, problem: Problem, typed: str, alone: Verdict, before: Sequence[tuple[Problem, str]]
    ) -> Verdict:
        """The Verdict on a wrong number with wrong tries before it, each with its own numbers."""
        tries = []
        for at, text in (*before, (problem, typed)):
            got = self._read_alone(at, text)
            if got is None or (at.source, at.system) != (self, problem.system):
                return alone
            number = to_unit(got.values[0], self.method.rule.kind, at.unit)
            tries.append((at, got.shown, self.as_typed(number, got)))
        return replace(explained_together(self.method, problem, tries, alone), step=alone.step)

    def as_typed(self, number: float, got: Reading) -> Typed:
        """A number in the unit asked, with what its digits say."""
        asked = 2 if self.method.rule.figures == "uncertainty" else 3
        return typed_number(number, got.digits, self.sign == "size", got.end_zeros, asked)

    def _read_alone(self, problem: Problem, typed: str) -> Reading | None:
        """A typed number, where it can be read in one way."""
        kind, right = self.method.rule.kind, problem.drawn.right
        near = from_unit(right, kind, problem.unit) if self.method.rule.raw else right
        try:
            got = read_number(typed, kind, problem.unit, self.sign == "change", near)
        except Unreadable:
            return None
        return got if len(got.values) == 1 else None

    def _is_right(self, problem: Problem, got: Reading, within: Tolerance) -> bool:
        """Whether a reading is right; its figures count in the unit it was typed in."""
        rule, right = self.method.rule, problem.drawn.right
        number = got.values[0]
        if rule.raw:
            number = to_unit(number, rule.kind, problem.unit)
        if self.sign == "size":
            # The statement says which way, so either sign is right.
            number, right = abs(number), abs(right)
        if within.accepts(number, right):
            return True
        factor = got.numbers[0] / got.values[0] if got.values[0] else 1.0
        return within.sort == "uncertainty" and two_figures(got.numbers[0], right * factor)

    def _remarks(self, problem: Problem, got: Reading) -> Iterator[str]:
        """What is worth saying about a right answer."""
        kind = self.method.rule.kind
        if got.unit_typed and got.unit != problem.unit:
            asked = in_unit(from_unit(problem.answer, kind, problem.unit), kind, problem.unit)
            yield f"In {problem.unit or 'plain numbers'}, as asked, it is {asked}."
        if got.direction == "loss" and self.sign == "change":
            yield "A loss counts negative here, and that is how it was read."
        if self.sign == "size" and got.values[0] * problem.drawn.right < 0:
            yield "The question says which way, so the size is enough."
        if got.digits >= MANY_DIGITS:
            yield (
                "So many digits claim more than the data support: "
                f"{significant(problem.answer, 3)} is enough."
            )

    def hints(self, problem: Problem, step: int | None = None) -> tuple[str, ...]:
        """Four hints, one rung at a time."""
        return solution.hints_in_numbers(self.method, problem, step)

    def solution(self, problem: Problem) -> tuple[SolutionLine, ...]:
        """The worked solution."""
        return solution.solution_in_numbers(self.method, problem)


def _round(letter: Quantity, stream: RandomStream, system: str) -> float:
    """A round number of a letter's range, in the unit of the system."""
    unit = letter.unit(system)
    low, high = (to_unit(end, letter.kind, unit) for end in (letter.low, letter.high))
    return stream.on_grid(low, high, round_step(low, high, letter.step(system)))


def _cut_short(right: float, number: float, digits: int, sort: str) -> Iterator[Mistake]:
    """The Mistake of giving the right number with fewer digits than asked for, if it is that."""
    enough = 2 if sort == "uncertainty" else 3
    if not _zeros_typed(number, digits) and any(
        math.isclose(float(f"{right:.{n}g}"), number) for n in range(1, enough)
    ):
        words = {2: "two", 3: "three"}[enough]
        yield Mistake(
            "cut short",
            f"the right number rounded to fewer than {words} digits",
            f"The data carry {words} digits. How many should the answer carry?",
        )


def _zeros_typed(number: float, digits: int) -> bool:
    """Whether a number was typed with zeros behind its decimals: 2.00 is no 2."""
    if not number:
        return False
    shortest = len(f"{abs(number):.12e}".partition("e")[0].replace(".", "").rstrip("0"))
    before_point = math.floor(math.log10(abs(number))) + 1
    return digits > max(shortest, before_point)


def _short_of_a_mean(
    readings: Iterable[float], right: float, number: float, room: float
) -> Iterator[Mistake]:
    """What stands for a mean and is none: one reading, or the mean as coarse as the scale."""
    if any(abs(number - one) <= room for one in readings):
        yield Mistake("one reading", "one of the readings", "Do the other readings count too?")
    step = 10 * room
    if abs(number - round(right / step) * step) <= room:
        yield Mistake(
            "cut short",
            "the mean rounded to a step of the scale",
            "Several readings tell more than one does. With how many decimals?",
        )


def _expressions(
    typed: str, letters: dict[str, str], kind: str
) -> tuple[tuple[Tree, ...], str | None]:
    """The readings of a typed expression, none where there are none, and the unit at its end."""
    if len(typed) > grammar.MOST_TYPED:
        return (), ""
    body = typed.rsplit("=", 1)[-1].strip()
    head, _, last = body.rpartition(" ")
    unit = unit_named(last, kind) if head else None
    for text, with_unit in ([(head, unit)] if unit else []) + [(body, None)]:
        try:
            return grammar.read_formula(text, letters), with_unit
        except Unreadable:
            continue
    return (), None
