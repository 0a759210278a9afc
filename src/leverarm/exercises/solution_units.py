"""The units of a worked solution: those of the statement wherever its steps allow."""

from typing import Any

from leverarm.exercises.expressions.tree import (
    Named,
    Num,
    Prod,
    Tree,
    children,
    compiled,
    letters_in,
    product,
    rebuilt,
    value_at,
)
from leverarm.exercises.method import Method
from leverarm.exercises.number_reader import without_end_zeros
from leverarm.exercises.problem import Problem
from leverarm.exercises.rules import RULES, Rule
from leverarm.quantities import KINDS, G, to_unit, unit_of


class SolutionUnits:
    """The units a solution is worked in.

    They are those of the statement if the formulas allow it, else those of the system, else the
    base units.  In pounds a load is a force and needs no g: then the formulas are tried without.

    steps       the method's steps, as they are worked in these units
    used        names of the given letters that the method uses
    at          name -> number in these units, results on the way included
    letters, numbers    name -> how it is printed, as a letter and as a number
    """

    def __init__(self, method: Method, problem: Problem) -> None:
        self.method, self.problem, self.system = method, problem, problem.system
        self.base, self.used = problem.drawn.values, letters_in(method.tree)
        self.steps = method.steps
        without_g: tuple[Named, ...] = tuple(_without_g(step) for step in method.steps)
        for self.choice, self.steps in (
            ("statement", method.steps),
            ("system", method.steps),
            ("statement", without_g),
            ("system", without_g),
            ("base", method.steps),
        ):
            self.at = {name: self._number(name) for name in self.used}
            if method.rule.raw or self.choice == "base" or self._hold():
                break
        self.at |= {step.name: value_at(compiled(step), self.at) for step in self.steps}
        given = method.given_numbers(problem)
        self.numbers = {
            name: without_end_zeros(self.at[name]) if self.is_converted(name) else given[name]
            for name in self.used
        }
        self.numbers |= {step.name: without_end_zeros(self.at[step.name]) for step in self.steps}
        self.letters = method.printed_letters()

    def unit(self, name: str) -> str:
        """The unit that a given letter is worked in."""
        letter = self.method.letters[name]
        if self.choice == "statement":
            return letter.unit(self.system)
        if self.choice == "system":
            return unit_of(letter.kind, self.system)
        return KINDS[letter.kind].base

    def unit_of_result(self, rule: Rule) -> str:
        """The unit that a result is worked out in."""
        if self.choice == "base":
            return KINDS[rule.kind].base
        if self.choice == "statement":
            return rule.unit_in(self.system)
        return unit_of(rule.kind, self.system)

    def is_converted(self, name: str) -> bool:
        """Whether a given number must be converted into another unit first."""
        return self.method.letters[name].unit(self.system) != self.unit(name)

    def _number(self, name: str) -> float:
        """A given number in the unit it is worked in."""
        if self.choice == "statement":
            return self.problem.drawn.shown[name]
        return to_unit(self.base[name], self.method.letters[name].kind, self.unit(name))

    def _hold(self) -> bool:
        """Whether every step gives in these units what the method gives in base units."""
        return all(map(self._holds, self.method.steps, self.steps))

    def _holds(self, step: Named, here: Named) -> bool:
        rule, shown = RULES[step.name], value_at(compiled(here), self.at)
        right = to_unit(value_at(compiled(step), self.base), rule.kind, self.unit_of_result(rule))
        return abs(right - shown) <= 1e-9 * abs(shown)


def _without_g(tree: Tree) -> Any:
    """The tree with no g above and no thousand below: on a square inch a pound makes one psi."""
    parts = children(tree)
    tree = rebuilt(tree, [_without_g(part) for part in parts]) if parts else tree
    if not isinstance(tree, Prod):
        return tree
    over = [one for one in tree.over if not (isinstance(one, Num) and one.value == G)]
    under = [one for one in tree.under if not (isinstance(one, Num) and one.value == 1000)]
    both = len(over) < len(tree.over) and len(under) < len(tree.under)
    return product(over, under) if both else tree
