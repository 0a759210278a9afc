"""What many expressions come to at sets of numbers, where parts that they share count once."""

import math
import operator
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from typing import TypeAlias

from leverarm.exercises.expressions.tree import (
    Call,
    Letter,
    Named,
    Neg,
    Num,
    Power,
    Prod,
    Rounded,
    Sum,
    Tree,
    children,
)

Numbers: TypeAlias = Mapping[str, float]
# The value of a node as a function of the values of its parts.
FromParts: TypeAlias = Callable[[Sequence[float]], float]


class Values:
    """What expressions come to at several sets of numbers, NaN at all where one has no value."""

    def __init__(self, numbers: Sequence[Numbers]) -> None:
        self._at = {name: tuple(at[name] for at in numbers) for name in numbers[0]}
        self._count = len(numbers)
        self._nothing = (math.nan,) * self._count
        self._known: dict[int, tuple[Tree, tuple[float, ...]]] = {}

    def __call__(self, tree: Tree) -> tuple[float, ...]:
        known = self._known.get(id(tree))
        if known is not None:
            return known[1]
        try:
            values = self._of(tree)
        except (ArithmeticError, ValueError, TypeError):
            values = self._nothing
        self._known[id(tree)] = tree, values  # the tree too, so that its id stays its own
        return values

    def _of(self, tree: Tree) -> tuple[float, ...]:
        if isinstance(tree, Letter):
            return self._at[tree.name]
        if isinstance(tree, Num):
            return (float(tree.value),) * self._count
        return tuple(map(from_parts(tree), zip(*map(self, children(tree)))))


class Together:
    """Many expressions as one function of a set of numbers, NaN for each that has no value.

    A part that several of them hold as one object is worked out once.  A constant that people
    round in their own way (g) can be given with what they take for it.
    """

    def __init__(self, trees: Sequence[Tree], constant: float, rounded: float) -> None:
        nodes: dict[int, Tree] = {}
        for tree in trees:
            _collect(tree, nodes)
        leaves = [node for node in nodes.values() if not children(node)]
        inner = [node for node in nodes.values() if children(node)]
        places = {id(node): at for at, node in enumerate(leaves + inner)}
        self._leaves = tuple(map(_leaf, leaves))
        # Of each step: what it does, and the places of what it does it to.
        self._steps = tuple(
            (from_parts(node), tuple(places[id(part)] for part in children(node))) for node in inner
        )
        self._wanted = tuple(places[id(tree)] for tree in trees)
        self._rounded = rounded
        self._constants = tuple(at for at, leaf in enumerate(self._leaves) if leaf == constant)
        touched = set(self._constants)
        for at, (_, parts) in enumerate(self._steps, len(leaves)):
            if not touched.isdisjoint(parts):
                touched.add(at)
        self._again = tuple(sorted(touched.difference(self._constants)))
        self.with_constant = tuple(at for at, place in enumerate(self._wanted) if place in touched)

    def __call__(self, numbers: Numbers) -> tuple[list[float], list[float]]:
        """What each comes to, and what those with_constant come to with the constant rounded."""
        values = [numbers[leaf] if isinstance(leaf, str) else leaf for leaf in self._leaves]
        for function, parts in self._steps:
            values.append(_tried(function, [values[at] for at in parts]))
        found = [values[at] for at in self._wanted]
        for at in self._constants:
            values[at] = self._rounded
        for at in self._again:
            function, parts = self._steps[at - len(self._leaves)]
            values[at] = _tried(function, [values[part] for part in parts])
        return found, [values[self._wanted[at]] for at in self.with_constant]


def _collect(tree: Tree, nodes: dict[int, Tree]) -> None:
    """Every node once, behind its parts."""
    if id(tree) not in nodes:
        for part in children(tree):
            _collect(part, nodes)
        nodes[id(tree)] = tree


def _leaf(tree: Tree) -> str | float:
    """The name of a letter, or a number."""
    if isinstance(tree, Letter):
        return tree.name
    assert isinstance(tree, Num)
    return float(tree.value)


def _tried(function: FromParts, parts: Sequence[float]) -> float:
    try:
        return function(parts)
    except (ArithmeticError, ValueError, TypeError):
        return math.nan


def from_parts(tree: Tree) -> FromParts:
    """The value of a node as a function of the values of its parts."""
    if isinstance(tree, Prod):
        return _product(len(tree.over))
    if isinstance(tree, Sum):
        return sum
    if isinstance(tree, Neg):
        return _minus
    if isinstance(tree, Named):
        return _first
    if isinstance(tree, Power):
        return _power(float(tree.exponent))
    if isinstance(tree, Rounded):
        return _rounded(tree.digits)
    assert isinstance(tree, Call)
    return _called(tree.function)


_first: FromParts = operator.itemgetter(0)


def _minus(parts: Sequence[float]) -> float:
    return -parts[0]


# Held once for all nodes that do the same, since a search keeps thousands.
@cache
def _product(over: int) -> FromParts:
    return lambda parts: math.prod(parts[:over]) / math.prod(parts[over:])


@cache
def _power(exponent: float) -> FromParts:
    return lambda parts: _real(parts[0] ** exponent)


@cache
def _rounded(digits: int) -> FromParts:
    return lambda parts: float(f"{parts[0]:.{digits}g}")


@cache
def _called(function: Callable[..., object]) -> FromParts:
    return lambda parts: _real(function(*parts))


def _real(number: object) -> float:
    return number if isinstance(number, (int, float)) else math.nan
