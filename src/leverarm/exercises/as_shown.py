"""Expressions in the numbers as a statement shows them.

The formulas of the package compute in base units; a student computes with the numbers on the
page, in pounds, inches or square centimeters.  Here an expression is written for these numbers,
with a factor only where the units really need one.  So a wrong turn that mixes units, such as a
distance added to a weight, gives the number that the student got, in either unit system.
"""

import math
import re
from collections.abc import Mapping

from leverarm.exercises import rules
from leverarm.exercises.expressions.tree import (
    Call,
    Letter,
    Named,
    Neg,
    Num,
    Power,
    Prod,
    Sum,
    Tree,
    negative,
    product,
    total,
)
from leverarm.exercises.method import Method
from leverarm.exercises.rules import RULES
from leverarm.quantities import KG_PER_LB, KINDS, KPA_PER_PSI, G

# Results of these in any unit are the same multiple of their arguments.
_IN_PROPORTION = {rules.mean, rules.scatter, rules.mean_uncertainty, rules.span}
_NOT_METRIC = {"lb", "lbf", "in", "ft", "psi"}
_CONSTANTS = (float(G), 1000.0, float(KG_PER_LB), float(KPA_PER_PSI))


def unit_size(kind: str, unit: str) -> float:
    """How many base units a unit is."""
    return KINDS[kind].units[unit]


class AsShown:
    """How the letters of a method are shown in a unit system."""

    def __init__(self, method: Method, system: str) -> None:
        self.system, self.raw = system, method.rule.raw
        units = {name: letter.unit(system) for name, letter in method.letters.items()}
        self.sizes: Mapping[str, float] = {
            name: unit_size(letter.kind, units[name]) for name, letter in method.letters.items()
        }
        all_units = " ".join((*units.values(), method.rule.unit_in(system)))
        self.metric = not _NOT_METRIC.intersection(re.findall("[a-z]+", all_units))

    def of(self, tree: Tree, kind: str = "", unit: str = "") -> Tree:
        """A tree for numbers as shown; a result of a kind comes out in this unit."""
        if self.raw:
            return tree
        size, shown = self._parted(tree)
        return in_units(size / unit_size(kind, unit), shown) if kind else in_units(size, shown)

    def named(self, tree: Named) -> Tree:
        """A result of the rules, in the unit in which it is shown."""
        return tree if self.raw else self._parted(tree)[1]

    def result(self, name: str) -> float:
        """The size of the unit in which a result of the rules is shown."""
        rule = RULES[name]
        return unit_size(rule.kind, rule.unit_in(self.system))

    def _parted(self, tree: Tree) -> tuple[float, Tree]:
        """A tree in base units as a number times a tree in numbers as shown."""
        if isinstance(tree, Letter):
            return self.sizes[tree.name], tree
        if isinstance(tree, Named):
            size, inner = self._parted(tree.of)
            own = self.result(tree.name)
            return own, Named(tree.name, in_units(size / own, inner))
        if isinstance(tree, Neg):
            size, inner = self._parted(tree.of)
            return size, negative(inner)
        if isinstance(tree, Prod):
            over, under = map(self._all_parted, (tree.over, tree.under))
            size = math.prod(s for s, _ in over) / math.prod(s for s, _ in under)
            return size, product([t for _, t in over], [t for _, t in under])
        if isinstance(tree, Power):
            size, inner = self._parted(tree.base)
            return size ** float(tree.exponent), Power(inner, tree.exponent)
        if isinstance(tree, Sum):
            return self._sum(tree)
        if isinstance(tree, Call):
            parts = self._all_parted(tree.args)
            if tree.function in _IN_PROPORTION:
                return parts[0][0], Call(tree.function, tuple(part for _, part in parts))
            return 1.0, Call(tree.function, tuple(in_units(*part) for part in parts))
        return 1.0, tree

    def _all_parted(self, trees: tuple[Tree, ...]) -> list[tuple[float, Tree]]:
        return [self._parted(tree) for tree in trees]

    def _sum(self, tree: Sum) -> tuple[float, Tree]:
        """A whole number stands beside ratios, a decimal beside lengths or weights."""
        parts = self._all_parted(tree.terms)
        numbers = [t for t in tree.terms if isinstance(t, Num)]
        plain = any(float(number.value).is_integer() for number in numbers)
        sizes = [size for size, term in parts if not isinstance(term, Num)]
        size = 1.0 if plain or not sizes else sizes[0]
        return size, total(*(in_units(own / size, term) for own, term in parts))


def in_units(factor: float, tree: Tree) -> Tree:
    """A number times a tree, as one would write it; constants of units are drawn together."""
    if isinstance(tree, Neg):
        return negative(in_units(factor, tree.of))
    if isinstance(tree, Num):
        return Num(_tidy(factor * float(tree.value))) if abs(factor - 1) > 1e-9 else tree
    if abs(factor - 1) < 1e-9:
        return tree
    over, under = (tree.over, tree.under) if isinstance(tree, Prod) else ((tree,), ())
    factor *= math.prod(map(_constant, over)) / math.prod(map(_constant, under))
    over = tuple(part for part in over if _constant(part) == 1)
    under = tuple(part for part in under if _constant(part) == 1)
    tens = math.log10(factor / G)
    if abs(tens - round(tens)) < 1e-9:
        over, factor = (*over, Num(float(G))), 10.0 ** round(tens)
    if abs(1 / factor - round(1 / factor)) < 1e-9 / factor and factor < 0.9:
        return product(over, (*under, Num(round(1 / factor))))
    if abs(factor - 1) < 1e-9:
        return product(over, under)
    return product((*over, Num(_tidy(factor))), under)


def _constant(tree: Tree) -> float:
    """The number of a constant of units; 1 for anything else."""
    number = float(tree.value) if isinstance(tree, Num) else 1.0
    return number if number in _CONSTANTS else 1.0


def _tidy(number: float) -> int | float:
    near = round(number)
    return near if near and abs(number - near) < 1e-9 * abs(number) else float(f"{number:.12g}")
