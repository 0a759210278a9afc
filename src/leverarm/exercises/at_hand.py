"""What a student has at hand: given quantities, results of the rules, simple sums of both.

From these the search takes a wrong quantity for a place, or a product or a quotient that
somebody made up.
"""

from collections.abc import Callable, Iterator, Mapping
from itertools import combinations, permutations

from leverarm.exercises.changes import Context, Turn
from leverarm.exercises.expressions.tree import (
    Letter,
    Named,
    Num,
    Tree,
    children,
    negative,
    product,
    total,
    walk,
)
from leverarm.exercises.method import Method, resolve
from leverarm.exercises.rules import RULES, Rule

# How a kind of quantity is made of weight and length; a force counts as a weight.
MADE_OF = {
    "weight": (1, 0),
    "force": (1, 0),
    "length": (0, 1),
    "moment": (1, 1),
    "area": (0, 2),
    "pressure": (1, -2),
    "number": (0, 0),
    "share": (0, 0),
    "angle": (0, 0),
}
_SIDES = ({"front", "rear"}, {"left", "right"})
GIVEN, ON_THE_WAY, RESULT, SUM, HALF = 1.0, 1.0, 0.5, 0.3, 0.15
MOST_AT_HAND = 14
MANY = 4  # letters of one kind, from which sums of two count less

Values = Callable[[Tree], tuple[float, ...]]


def context_of(method: Method, shown: Callable[[Tree], Tree], values: Values) -> Context:
    """What the changes of a method may draw on.

    shown   writes an expression in the numbers that a statement shows
    values  what an expression comes to at several problems
    """
    results = dict(_results(method, shown))
    kinds = {name: method.letters[name].kind for name in method.given}
    kinds |= {name: RULES[name].kind for name in results if name not in kinds}
    on_the_way = {t.name for t in walk(method.tree) if isinstance(t, Named)}
    kinds |= {name: RULES[name].kind for name in on_the_way}
    pool: dict[str, list[tuple[Tree, float]]] = {}
    seen: set[tuple[str, tuple[float, ...]]] = {(method.rule.kind, values(shown(method.tree)))}
    for kind, tree, share in (
        *((kinds[name], Letter(name), GIVEN) for name in method.given),
        *(
            (kinds[name], tree, ON_THE_WAY if name in on_the_way else RESULT)
            for name, tree in results.items()
        ),
        *_sums(kinds, method.given),
    ):
        at = values(tree)
        if (kind, at) not in seen and at[0] == at[0]:
            seen.add((kind, at))
            pool.setdefault(kind, []).append((tree, share))
    return Context(
        kinds,
        {
            kind: tuple(sorted(found, key=lambda one: -one[1])[:MOST_AT_HAND])
            for kind, found in pool.items()
        },
        _other_axle(method, results),
        method.rule.kind,
    )


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
        for one in letters:
            yield kind, product((one,), (Num(2),)), HALF
            yield kind, product((Num(2), one)), HALF


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


def made_of(tree: Tree, kinds: Mapping[str, str]) -> tuple[int, int] | None:
    """How an expression is made of weight and length: a letter or a sum of like ones."""
    if isinstance(tree, (Letter, Named)):
        return MADE_OF[kinds[tree.name]]
    return next((found for part in children(tree) if (found := made_of(part, kinds))), None)


def made_up(context: Context, given: tuple[str, ...]) -> Iterator[Turn]:
    """Products, quotients and sums of two or three quantities, and levers of any of them.

    Most come out in the unit asked for; a few mix units.
    """
    asked = MADE_OF[context.asked]
    atoms = [
        (tree, MADE_OF[kind], share)
        for kind, quantities in context.pool.items()
        for tree, share in quantities
        if kind != "moment" and (share >= SUM or isinstance(tree, Letter))
    ]
    letters = [atom for atom in atoms if isinstance(atom[0], Letter)]
    percent = context.asked == "share"
    for tree, share, likely in (*_of_two(letters, asked), *_levers(atoms, letters, asked)):
        if percent and likely:
            yield Turn("made up", product((Num(100), tree)), share, (tree,))
            yield Turn("made up", tree, 0.3 * share, (tree,))
        else:
            yield Turn("made up", tree, share, (tree,))


Atom = tuple[Tree, tuple[int, int], float]
_Made = tuple[Tree, float, bool]


def _of_two(letters: list[Atom], asked: tuple[int, int]) -> Iterator[_Made]:
    for (one, m, _), (other, n, _) in combinations(letters, 2):
        both = (m[0] + n[0], m[1] + n[1])
        yield product((one, other)), 1.0 if both == asked else 0.4, both == asked
        fits = m == n == asked
        yield total(one, other), 1.0 if fits else 0.5, fits
    for (one, m, _), (other, n, _) in permutations(letters, 2):
        ratio = (m[0] - n[0], m[1] - n[1])
        yield product((one,), (other,)), 1.0 if ratio == asked else 0.3, ratio == asked
        fits = m == n == asked
        yield total(one, negative(other)), 1.0 if fits else 0.15, fits


def _levers(atoms: list[Atom], letters: list[Atom], asked: tuple[int, int]) -> Iterator[_Made]:
    """A quantity times a ratio of two others, as it stands and with one added or subtracted."""
    one = Num(1)
    lone = [(one, (0, 0), 1.0)] if asked == (0, 0) else []
    for tree, m, share in (*atoms, *lone):
        for (top, n, _), (bottom, o, _) in permutations(letters, 2):
            fits = (m[0] + n[0] - o[0], m[1] + n[1] - o[1]) == asked
            if n == o and m == asked:
                yield product((tree, top), (bottom,)), share, True
                yield product((tree, total(one, product((top,), (bottom,))))), share, True
                less = total(one, negative(product((top,), (bottom,))))
                yield product((tree, less)), 0.7 * share, True
                yield product((tree, top), (total(bottom, top),)), share, True
                yield product((tree, top), (total(bottom, negative(top)),)), 0.4 * share, True
                wider = total(one, product((top,), (bottom,)))
                yield product((tree,), (wider,)), 0.5 * share, True
            elif fits and tree != bottom:
                yield product((tree, top), (bottom,)), 0.5 * share, True
            elif isinstance(tree, Letter) and len(letters) <= MANY and tree not in (top, bottom):
                yield product((tree, top), (bottom,)), 0.1, False
