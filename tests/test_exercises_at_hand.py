"""What a student has at hand, worked once more from the given numbers alone, and how near it is.

How near is a judgment of practice without a source; it is typed here, so that nobody moves one
without saying so.
"""

import random
from itertools import combinations

import pytest

from leverarm import exercises
from leverarm.exercises.at_hand import context_of
from leverarm.exercises.expressions.tree import compiled, letters_in, value_at, written_out

METHODS = {name: kind.method for name, kind in exercises.BANK.items() if hasattr(kind, "method")}


def sums(sizes, names):
    """{number: how near}: sums, differences, halves and doubles of numbers of one kind."""
    few = len(sizes) <= 4
    found = {}

    def put(number, near):
        found.setdefault(f"{number:.9g}", near)

    for one, other in combinations(sizes, 2):
        put(one + other, 0.3 if few else 0.1)
        put(one - other, 0.15 if few else 0.05)
        put(other - one, 0.15 if few else 0.05)
    if len(sizes) > 2:
        put(sum(sizes), 0.3)
    families = {}
    for name, size in zip(names, sizes):
        families.setdefault(name.rstrip("0123456789"), []).append(size)
    for family in families.values():
        if len(family) > 2:
            put(sum(family), 0.4)
            put(sum(family) / len(family), 0.2)
    for one in sizes:
        put(one / 2, 0.15)
        put(2 * one, 0.15)
    return found


@pytest.mark.parametrize("name", METHODS)
def test_sums_and_halves_of_what_is_given_are_at_hand(name):
    method, rng = METHODS[name], random.Random(name)
    at = {letter: rng.uniform(1, 9) for letter in method.given}

    def values(tree):
        return (value_at(compiled(tree), at),)

    context = context_of(method, lambda tree: tree, values, True)
    for kind in ("length", "weight"):
        pool = {f"{values(tree)[0]:.9g}": (tree, near) for tree, near in context.pool.get(kind, ())}
        names = [one for one in method.given if method.letters[one].kind == kind]
        given = {f"{at[one]:.9g}" for one in names}
        expected = sums([at[one] for one in names], names)
        least = min((near for _, near in pool.values()), default=0.0)
        assert given <= {number for number, (_, near) in pool.items() if near == 1.0}
        for number, near in expected.items():
            if number in pool and type(pool[number][0]).__name__ not in ("Letter", "Named"):
                assert pool[number][1] in (near, 0.7, 0.5, 0.3, 1.0), (number, pool[number])
            assert number in pool or (len(pool) == 18 and near <= least), number
        nears = [near for _, near in context.pool.get(kind, ())]
        assert nears == sorted(nears, reverse=True) and len(nears) <= 18
        for number, (tree, near) in pool.items():
            if number not in expected and number not in given:
                few = len(letters_in(written_out(tree)))
                assert near in ((1.0, 0.7) if few <= 2 else (1.0, 0.5) if few <= 4 else (1.0, 0.3))
