"""The listed slips as a kind of problem meets them.

A listed slip counts in every problem whose given letters lead to its formula.  Slips that lead to
the same formula are kept together, since no number can tell them apart.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from leverarm.exercises.expressions.tree import Compute, Tree, compiled, value_at
from leverarm.exercises.listed_mistakes import LISTED_MISTAKES
from leverarm.exercises.method import Method, in_given_letters
from leverarm.exercises.problem import Mistake
from leverarm.exercises.random_numbers import RandomStream

PROBES = 3


@dataclass(frozen=True)
class MistakeGroup:
    """Mistakes that lead to the same formula, the likeliest first, with that formula compiled.

    systems     the unit systems in which one of them can happen
    """

    mistakes: tuple[Mistake, ...]
    tree: Tree
    compute: Compute
    systems: frozenset[str]


@cache
def listed_mistakes(method: Method) -> tuple[MistakeGroup, ...]:
    """The listed mistakes of a method, those that lead to the same formula together."""
    probes = probes_of(method)
    groups: defaultdict[tuple[float, ...], list[Mistake]] = defaultdict(list)
    systems: defaultdict[tuple[float, ...], set[str]] = defaultdict(set)
    right = _key(method.answer, probes)
    for slip in LISTED_MISTAKES.get(method.asked, ()):
        try:
            tree = in_given_letters(slip.tree, method.given)
        except KeyError:
            continue
        key = _key(compiled(tree), probes)
        if key == right:
            raise slip.same_as_right()
        if not any(number != number for number in key):
            groups[key].append(Mistake(slip.name, slip.what, slip.question, tree))
            systems[key].update(slip.systems)
    return tuple(_group(groups[key], frozenset(systems[key])) for key in groups)


def _group(mistakes: list[Mistake], systems: frozenset[str]) -> MistakeGroup:
    tree = mistakes[0].tree
    assert tree is not None
    return MistakeGroup(tuple(mistakes), tree, compiled(tree), systems)


def probes_of(method: Method) -> list[dict[str, float]]:
    """Made-up numbers, in base units, at which formulas are told apart."""
    return [_probe(method, number) for number in range(PROBES)]


def _probe(method: Method, number: int) -> dict[str, float]:
    """Made-up numbers for the given letters, within their ranges, to tell formulas apart."""
    stream = RandomStream("probe", method.rule.stream or method.asked, *method.given, number)
    drawn = {
        name: method.letters[name].low * (1 + stream.below(10**6) / 4e6)
        or stream.below(10**6) / 1e6
        for name in method.drawn
    }
    return drawn | {
        name: value_at(function, drawn) * (1 + stream.below(10**6) / 1e8)
        for name, function in method.derived.items()
    }


def _key(function: Compute, probes: Iterable[Mapping[str, float]]) -> tuple[float, ...]:
    """A row of numbers that two ways of computing the same thing share."""
    return tuple(float(f"{value_at(function, at):.9g}") for at in probes)
