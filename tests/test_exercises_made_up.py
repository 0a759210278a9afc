"""Wrong turns that somebody makes up out of what is given: every one of them, once more from a
table of exponents, and which of them come out in the unit asked for.
"""

import math
from collections import Counter
from itertools import combinations, permutations

import pytest

from leverarm.exercises.change_classes import CLASSES
from leverarm.exercises.changes import Context
from leverarm.exercises.dimensions import MADE_OF
from leverarm.exercises.expressions.tree import Letter, compiled, product, value_at
from leverarm.exercises.made_up import made_up

SIZES = {"W": 3.7, "V": 1.1, "F": 8.3, "a": 1.9, "b": 0.7, "L": 2.3}
KINDS = {name: "weight" if name in "WVF" else "length" for name in SIZES}


def turns(letters, asked):
    pool = {}
    for name in letters:
        pool.setdefault(KINDS[name], []).append((Letter(name), 1.0))
    kinds = {name: KINDS[name] for name in letters}
    return list(made_up(Context(kinds, pool, {}, asked, True)))


def power_of(tree, kind):
    """The power of a quantity's unit that an expression grows by; None where by none."""
    found = []
    for stretch in (2.0, 3.0):
        at = {
            name: size * (stretch if KINDS[name] == kind else 1.0) for name, size in SIZES.items()
        }
        one, other = (value_at(compiled(tree), numbers) for numbers in (SIZES, at))
        found.append(math.log(abs(other / one)) / math.log(stretch))
    return round(found[0], 6) if found[0] == pytest.approx(found[1], abs=1e-9) else None


def unit_of(tree):
    return power_of(tree, "weight"), power_of(tree, "length")


def worth(found):
    return Counter(f"{value_at(compiled(one.tree), SIZES):.9g}" for one in found)


@pytest.mark.parametrize("asked", ["weight", "length", "moment", "share", "number", "area"])
@pytest.mark.parametrize("letters", ["Wa", "WVa", "WaL", "WVaL", "WVFabL"])
def test_what_comes_out_in_the_unit_asked_is_made_more_often(letters, asked):
    """Of two put together, what fits is certain; what mixes units counts less than half."""
    for one in turns(letters, asked):
        if one.name != "two put together":
            continue
        fits = unit_of(one.parts[0]) == MADE_OF[asked]
        whole = asked != "share" or one.tree != one.parts[0]
        assert (one.share == 1.0) is (fits and whole), one
        assert 0 < one.share <= 1 and (fits or one.share <= 0.5), one


@pytest.mark.parametrize("asked", ["weight", "length", "moment", "pressure"])
@pytest.mark.parametrize("letters", ["WaL", "WVa", "WVaL"])
def test_two_over_a_third_are_likelier_in_the_unit_asked(letters, asked):
    """One half or more where it fits, a tenth where units are mixed."""
    likeliest = {}
    for one in turns(letters, asked):
        key = f"{value_at(compiled(one.tree), SIZES):.9g}"
        likeliest[key] = max(one.share, likeliest.get(key, 0.0))
    for one, other, third in permutations(letters, 3):
        tree = product((Letter(one), Letter(other)), (Letter(third),))
        share = likeliest[f"{value_at(compiled(tree), SIZES):.9g}"]
        assert share >= 0.5 if unit_of(tree) == MADE_OF[asked] else share == 0.1, tree


def test_a_percentage_is_asked_with_and_without_its_hundred():
    made = turns("Wa", "share")
    fits = [one for one in turns("WV", "share") if one.name == "two put together"]
    whole = [one for one in fits if one.share == 1.0]
    assert len(whole) == 2 and len([one for one in fits if one.share == 0.3]) >= 2
    for one in whole:
        per = value_at(compiled(one.tree), SIZES) / value_at(compiled(one.parts[0]), SIZES)
        assert per == pytest.approx(100)
    mixed = [one for one in made if one.name == "two put together"]
    assert mixed and all(one.tree == one.parts[0] for one in mixed)


def of_all(sizes):
    """All multiplied and all added, three multiplied, one over two, over a square, and squared."""
    found = [math.prod(sizes), sum(sizes)]
    if len(sizes) <= 4:
        for three in combinations(sizes, 3):
            found.append(math.prod(three))
            found += [one * one / math.prod(three) for one in three]
        for one, other in permutations(sizes, 2):
            found += [one / other**2, one**2 / other]
            found += [third * one / other**2 for third in sizes if third not in (one, other)]
    return Counter(f"{one:.9g}" for one in found)


@pytest.mark.parametrize("letters", ["WaL", "WVaL", "WVaLb"])
def test_all_of_the_letters_are_put_together_each_way(letters):
    """Whatever their units: the numbers are worked here one by one."""
    expected = of_all([SIZES[name] for name in letters])
    made = worth(one for one in turns(letters, "pressure") if one.name == "made up")
    assert not expected - made


@pytest.mark.parametrize("letter", ["W", "L"])
def test_the_one_number_given_is_squared_halved_and_turned_into_other_units(letter):
    size = SIZES[letter]
    known = (2, 3, 10, 12, 100, 1000, 9.80665, 1 / 0.45359237, 2.54, 0.3048, math.pi, 3.6, 60)
    expected = [size * one for one in known] + [size / one for one in known]
    expected += [size**2, size**0.5]
    made = worth(turns(letter, "pressure"))
    assert all(made[f"{one:.9g}"] for one in expected)


@pytest.mark.parametrize("asked", ["weight", "moment"])
def test_levers_are_taken_of_every_pair_of_arms(asked):
    """W over and under each ratio of two lengths, and with one added to it or less it."""
    made = worth(one for one in turns("WabL", asked) if one.name == "made up")
    w = SIZES["W"]
    for one, other in permutations((SIZES["a"], SIZES["b"], SIZES["L"]), 2):
        ratio = one / other
        levers = [w * ratio, w * (1 + ratio), w * (1 - ratio), w / (1 + ratio)]
        levers += [w * one / (other + one), w * one / (other - one)]
        for lever in levers if asked == "weight" else [w * ratio]:
            assert made[f"{lever:.9g}"], (one, other, lever)


def test_no_class_of_wrong_turns_is_commoner_than_a_wrong_quantity():
    """Judgments of practice without a source: a number taken from the wrong place leads them."""
    most = CLASSES["wrong quantity"].part
    assert all(0 <= one.part <= most < 0.2 for one in CLASSES.values())
