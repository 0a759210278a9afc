"""What a student has at hand: given quantities, results of the rules, simple sums of both.

From these the search takes a wrong quantity for a place.
"""

from collections.abc import Callable, Iterator, Mapping
from itertools import combinations

from leverarm.exercises.changes import Context
from leverarm.exercises.expressions.tree import (
    Letter,
    Named,
    Num,
    Tree,
    letters_in,
    negative,
    product,
    total,
    walk,
)
from leverarm.exercises.method import Method, resolve
from leverarm.exercises.rules import RULES, Rule

_SIDES = ({"front", "rear"}, {"left", "right"})
GIVEN, ON_THE_WAY, FAMILY, SUM, HALF = 1.0, 1.0, 0.4, 0.3, 0.15
NEAR_RESULT, RESULT, FAR_RESULT, FEW_LETTERS = 0.7, 0.5, 0.3, 2
MOST_AT_HAND = 18
MANY = 4  # letters of one kind, from which sums of two count less

Values = Callable[[Tree], tuple[float, ...]]


def context_of(
    method: Method, shown: Callable[[Tree], Tree], values: Values, metric: bool
) -> Context:
    """What the changes of a method may draw on.

    shown   writes an expression in the numbers that a statement shows
    values  what an expression comes to at several problems
    metric  whether every unit of the problem is metric
    """
    results = dict(_results(method, shown))
    kinds = {name: method.letters[name].kind for name in method.given}
    kinds |= {name: RULES[name].kind for name in results if name not in kinds}
    on_the_way = {t.name for t in walk(method.tree) if isinstance(t, Named)}
    kinds |= {name: RULES[name].kind for name in on_the_way}
    pool: dict[str, list[tuple[Tree, float]]] = {}
    seen: set[tuple[str, ...]] = set()
    for kind, tree, share in (
        *((kinds[name], Letter(name), GIVEN) for name in method.given),
        *(
            (kinds[name], tree, ON_THE_WAY if name in on_the_way else _at_hand(tree))
            for name, tree in results.items()
        ),
        *_sums(kinds, method.given),
    ):
        at = values(tree)
        key = _told_apart(kind, at)
        if key not in seen and at[0] == at[0]:
            seen.add(key)
            pool.setdefault(kind, []).append((tree, share))
    return Context(
        kinds,
        {
            kind: tuple(sorted(found, key=lambda one: -one[1])[:MOST_AT_HAND])
            for kind, found in pool.items()
        },
        _other_axle(method, results),
        method.rule.kind,
        metric,
    )


def _told_apart(kind: str, values: tuple[float, ...]) -> tuple[str, ...]:
    """What two quantities share that are the same."""
    return (kind, *(f"{value:.9g}" for value in values))


def _at_hand(tree: Tree) -> float:
    """How near at hand a result is: that of two numbers nearer than that of five."""
    letters = len(letters_in(tree))
    return NEAR_RESULT if letters <= FEW_LETTERS else RESULT if letters <= MANY else FAR_RESULT


def _results(method: Method, shown: Callable[[Tree], Tree]) -> Iterator[tuple[str, Tree]]:
    """Every result of the rules that follows from what is given."""
    for rule in RULES.values():
        if rule.name not in method.given and not rule.raw:
            try:
                tree = resolve(rule.name, method.given)
            except KeyError:
                continue
            yield rule.name, shown(tree)


def _sums(kinds: Mapping[str, str], given: tuple[str, ...]) -> Iterator[tuple[str, Tree, float]]:
    """Sums, differences and halves of given quantities of one kind."""
    for kind in ("length", "weight"):
        letters = [Letter(name) for name in given if kinds[name] == kind]
        share = SUM if len(letters) <= MANY else SUM / 3
        for one, other in combinations(letters, 2):
            yield kind, total(one, other), share
            yield kind, total(one, negative(other)), share / 2
            yield kind, total(other, negative(one)), share / 2
        if len(letters) > 2:
            yield kind, total(*letters), SUM
        for family in _families(letters):
            yield kind, total(*family), FAMILY
            yield kind, product((total(*family),), (Num(len(family)),)), FAMILY / 2
        for one in letters:
            yield kind, product((one,), (Num(2),)), HALF
            yield kind, product((Num(2), one)), HALF


def _families(letters: list[Letter]) -> list[list[Letter]]:
    """Three letters or more that differ by their number alone: the arms of three pieces."""
    found: dict[str, list[Letter]] = {}
    for letter in letters:
        found.setdefault(letter.name.rstrip("0123456789"), []).append(letter)
    return [family for family in found.values() if len(family) > 2]


def _other_axle(method: Method, results: Mapping[str, Tree]) -> dict[str, Tree]:
    """For each result on the way, the same quantity at the other axle."""
    found = {}
    for name in (t.name for t in walk(method.tree) if isinstance(t, Named)):
        for other, tree in results.items():
            if _facing(RULES[name], RULES[other]):
                found[name] = tree
    return found


def _facing(rule: Rule, other: Rule) -> bool:
    return (other.args, other.kind) == (rule.args, rule.kind) and {
        other.principle,
        rule.principle,
    } in _SIDES
