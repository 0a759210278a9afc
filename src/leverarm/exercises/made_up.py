"""Expressions that somebody made up: the right letters put together in another way.

Products, quotients, sums and levers of two or three quantities.  Most come out in the unit asked
for; a few mix units, as the numbers on the page allow.
"""

import math
from collections.abc import Iterator
from itertools import combinations, permutations

from leverarm.exercises.at_hand import MANY, SUM
from leverarm.exercises.changes import Context, Turn
from leverarm.exercises.dimensions import MADE_OF
from leverarm.exercises.expressions.tree import (
    Letter,
    Num,
    Power,
    Tree,
    negative,
    product,
    total,
)
from leverarm.quantities import KG_PER_LB, KPA_PER_PSI, G


def made_up(context: Context) -> Iterator[Turn]:
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
    for name, made in (
        ("two put together", _of_two(letters, asked)),
        ("made up", _with_results(atoms, asked)),
        ("made up", _levers(atoms, letters, asked)),
    ):
        for tree, share, likely in made:
            if percent and likely:
                yield Turn(name, product((Num(100), tree)), share, (tree,))
                yield Turn(name, tree, 0.3 * share, (tree,))
            else:
                yield Turn(name, tree, share, (tree,))
    for tree, share in (*_times_a_number(letters, percent), *_of_all(letters)):
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


def _with_results(atoms: list[Atom], asked: tuple[int, int]) -> Iterator[_Made]:
    """A letter or a result over another, added to it, or less it, where the unit fits."""
    for (one, m, share), (other, n, likely) in permutations(atoms, 2):
        if isinstance(one, Letter) and isinstance(other, Letter):
            continue
        if m == n and asked == (0, 0):
            yield product((one,), (other,)), share * likely, True
        elif m == n == asked and isinstance(one, Letter) and likely > SUM:
            yield total(one, other), 0.5 * share * likely, True
            yield total(one, negative(other)), 0.5 * share * likely, True


# Numbers that people turn units with, and parts of a right angle; each also the other way around.
_KNOWN = (
    *(float(G), 1 / float(KG_PER_LB), 4.4482216, 2.54, 12.0, 10.0, 100.0, 1000.0, 2.0, 3.0),
    *(16.0, 60.0, 144.0, 3.6, 0.9, 0.45, 25.4, 0.3048, float(KPA_PER_PSI), math.pi),
    *(math.sqrt(2), math.sqrt(3), math.radians(1)),
)


def _times_a_number(letters: list[Atom], percent: bool) -> Iterator[tuple[Tree, float]]:
    """The one given number times or over a number that somebody remembers, squared, its root."""
    for tree, (_, length), _ in letters:
        if percent:
            yield product((Num(100),), (tree,)), 0.2
        if length and len(letters) <= MANY:
            yield product((tree, Num(math.pi)), (Num(4),)), 0.1
    if len(letters) != 1:
        return
    ((letter, *_),) = letters
    for number in _KNOWN:
        yield product((letter, Num(number))), 0.5
        yield product((letter,), (Num(number),)), 0.5
    yield Power(letter, 2), 0.5
    yield Power(letter, 0.5), 0.5


def _of_all(letters: list[Atom]) -> Iterator[tuple[Tree, float]]:
    """All of the letters, or three of them, multiplied or added, whatever their units."""
    trees = [tree for tree, *_ in letters]
    if len(trees) < 3:
        return
    yield product(trees), 0.5
    yield total(*trees), 0.5
    if len(trees) > MANY:
        return
    for three in combinations(trees, 3):
        yield product(three), 0.3
        for one in three:
            others = [tree for tree in three if tree != one]
            yield product((one,), others), 0.1
    for one, other in permutations(trees, 2):
        yield product((one,), (Power(other, 2),)), 0.2
        yield product((Power(one, 2),), (other,)), 0.2
        for third in trees:
            if third not in (one, other):
                yield product((third, one), (Power(other, 2),)), 0.1


def _levers(atoms: list[Atom], letters: list[Atom], asked: tuple[int, int]) -> Iterator[_Made]:
    """A quantity times a ratio of two others, as it stands and with one added or subtracted."""
    one = Num(1)
    lone = [(one, (0, 0), 1.0)] if asked == (0, 0) else []
    for (tree, m, _), (plain, n, _) in permutations(letters, 2):
        if m == asked and n == (0, 0):
            for sign in (one, Num(-1)):
                yield product((tree, total(plain, sign))), 1.0, True
                yield product((tree,), (total(plain, sign),)), 1.0, True
                yield product((tree, total(one, product((sign,), (plain,))))), 1.0, True
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
