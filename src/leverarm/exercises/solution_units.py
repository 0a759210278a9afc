"""The units of a worked solution: those of the statement wherever its steps allow."""

from collections.abc import Sequence
from dataclasses import replace

from leverarm.exercises.expressions.tree import (
    Num,
    Prod,
    Tree,
    children,
    compiled,
    product,
    rebuilt,
    value_at,
)
from leverarm.exercises.method import Method
from leverarm.exercises.number_reader import without_end_zeros
from leverarm.exercises.problem import Problem
from leverarm.exercises.rules import RULES
from leverarm.exercises.ways import CONSTANTS, CONSTANTS_SHOWN, PlannedStep, steps_to, used_letters
from leverarm.quantities import KINDS, G, to_unit, unit_of


class SolutionUnits:
    """The units a solution is worked in.

    They are those of the statement if the formulas allow it, else those of the system, else the
    base units.  In pounds a load is a force and needs no g: then the formulas are tried without.

    steps       the steps to the answer, as they are worked in these units
    used        names of the given letters that the steps use
    at          name -> number in these units, results on the way included
    letters, numbers    name -> how it is printed, as a letter and as a number
    """

    def __init__(self, method: Method, problem: Problem) -> None:
        self.method, self.problem, self.system = method, problem, problem.system
        planned = steps_to(method, problem.lesson, problem.system)
        self.used = used_letters(planned, method.given)
        in_base = self._in_base(planned)
        without_g = tuple(replace(step, tree=_without_g(step.tree)) for step in planned)
        for self.choice, self.steps in (
            ("statement", planned),
            ("system", planned),
            ("statement", without_g),
            ("system", without_g),
            ("base", planned),
        ):
            self.at = CONSTANTS | {name: self._number(name) for name in self.used}
            _worked_out(self.steps, self.at)
            if method.rule.raw or self.choice == "base" or self._hold(in_base):
                break
        given = method.given_numbers(problem)
        results = {step.name: step.shown for step in self.steps if not step.sides}
        self.numbers = CONSTANTS_SHOWN | {
            name: without_end_zeros(self.at[name]) if self.is_converted(name) else given[name]
            for name in self.used
        }
        self.numbers |= {
            # From a ratio near 1 the next line may take the 1 away: two digits more.
            step.name: without_end_zeros(self.at[step.name], 7 if _is_ratio(step) else 5)
            for step in self.steps
            if not step.sides
        }
        self.letters = method.printed_letters() | results

    def unit(self, name: str) -> str:
        """The unit that a given letter is worked in."""
        letter = self.method.letters[name]
        if self.choice == "statement":
            return letter.unit(self.system)
        if self.choice == "system":
            return unit_of(letter.kind, self.system)
        return KINDS[letter.kind].base

    def unit_of_result(self, step: PlannedStep) -> str:
        """The unit that a step's result is worked out in."""
        if self.choice == "base":
            return KINDS[step.kind].base
        if self.choice == "statement" and step.name in RULES:
            return RULES[step.name].unit_in(self.system)
        return unit_of(step.kind, self.system)

    def is_converted(self, name: str) -> bool:
        """Whether a given number must be converted into another unit first."""
        return self.method.letters[name].unit(self.system) != self.unit(name)

    def _number(self, name: str) -> float:
        """A given number in the unit it is worked in."""
        if self.choice == "statement":
            return self.problem.drawn.shown[name]
        return to_unit(
            self.problem.drawn.values[name], self.method.letters[name].kind, self.unit(name)
        )

    def _in_base(self, steps: Sequence[PlannedStep]) -> dict[str, float]:
        """Every result in base units: those of rules as the method computes them."""
        at = CONSTANTS | dict(self.problem.drawn.values)
        computed = {step.name: value_at(compiled(step), at) for step in self.method.steps}
        for step in steps:
            if not step.sides:
                at[step.name] = computed.get(step.name) or value_at(compiled(step.tree), at)
        return at

    def _hold(self, in_base: dict[str, float]) -> bool:
        """Whether every step gives in these units what it gives in base units."""
        return all(
            abs(
                to_unit(in_base[step.name], step.kind, self.unit_of_result(step))
                - self.at[step.name]
            )
            <= 1e-9 * abs(self.at[step.name])
            for step in self.steps
            if not step.sides
        )


def _is_ratio(step: PlannedStep) -> bool:
    """Whether a step works out a plain number on the way that is no result of a rule."""
    return step.kind == "number" and step.name not in RULES


def _worked_out(steps: Sequence[PlannedStep], at: dict[str, float]) -> None:
    """Work out every step from the numbers before it."""
    for step in steps:
        if not step.sides:
            at[step.name] = value_at(compiled(step.tree), at)


def _without_g(tree: Tree) -> Tree:
    """The tree with no g above and no thousand below: on a square inch a pound makes one psi."""
    parts = children(tree)
    tree = rebuilt(tree, [_without_g(part) for part in parts]) if parts else tree
    if not isinstance(tree, Prod):
        return tree
    over = [one for one in tree.over if not (isinstance(one, Num) and one.value == G)]
    under = [one for one in tree.under if not (isinstance(one, Num) and one.value == 1000)]
    both = len(over) < len(tree.over) and len(under) < len(tree.under)
    return product(over, under) if both else tree
