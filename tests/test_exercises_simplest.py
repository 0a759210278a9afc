"""Expressions written more simply: worth the same, no longer to read, and by hand in a table."""

import random
from fractions import Fraction

import pytest

from leverarm import exercises
from leverarm.exercises.as_shown import in_units
from leverarm.exercises.expressions.grammar import read_formula
from leverarm.exercises.expressions.simplest import (
    _divided,
    fraction_of,
    multiplied_out,
    simplest,
)
from leverarm.exercises.expressions.tree import (
    Letter,
    Named,
    Num,
    Power,
    Rounded,
    compiled,
    formula_text,
    product,
    total,
    value_at,
)

LETTERS = ("W", "a", "L", "V", "b")


def read(text):
    return read_formula(text, LETTERS)[0]


@pytest.mark.parametrize(
    "typed, simple",
    [
        ("W/(1 + a/L)", "W × L/(L + a)"),
        ("W*a/W", "a"),
        ("(W*a + W*L)/L", "W × (a + L)/L"),
        ("a/(b/L)", "a × L/b"),
        ("W - W", "0"),
        ("a*a/a^2", "1"),
        ("2*W/4", "W/2"),
        ("W*0.5*2", "W"),
        ("sqrt(W^2)", "W"),
        ("(W + V)*(a + L)/(W + V)", "a + L"),
        ("1.25*W", "1.25 × W"),
        ("0.2*W", "0.2 × W"),
        ("0.1*W + 0.1*V", "(W + V)/10"),
        ("0.3*W/0.3", "W"),
        ("W*3^2", "9 × W"),
    ],
)
def test_written_by_hand(typed, simple):
    found = formula_text(simplest(read(typed)))
    assert value_at(compiled(read(typed)), AT) == pytest.approx(
        value_at(compiled(read(back(simple))), AT)
    )
    assert len(found) <= len(simple), (found, simple)


AT = {"W": 3.7, "a": 1.9, "L": 2.3, "V": 1.1, "b": 0.7}


def back(text):
    """A printed formula as it would be typed."""
    return text.replace("×", "*").replace("−", "-")


def grown(rng, depth):
    """An expression by dice."""
    if depth == 0 or rng.random() < 0.2:
        return rng.choice([Letter(rng.choice(LETTERS)), Num(rng.choice([1, 2, 3, 10]))])
    one, other = grown(rng, depth - 1), grown(rng, depth - 1)
    way = rng.randrange(5)
    if way == 0:
        return total(one, other)
    if way == 1:
        return total(one, product((Num(-1), other)))
    if way == 2:
        return product((one, other))
    return product((one,), (other,)) if way == 3 else Power(one, rng.choice([2, 0.5]))


@pytest.mark.parametrize("seed", range(40))
def test_simpler_is_worth_the_same_and_no_longer(seed):
    tree = grown(random.Random(seed), 3)
    at = {name: 1.3 * size for name, size in AT.items()}
    for simpler in (simplest, fraction_of, multiplied_out):
        made = simpler(tree)
        for numbers in (AT, at):
            before, after = value_at(compiled(tree), numbers), value_at(compiled(made), numbers)
            assert before != before or after == pytest.approx(before), formula_text(made)
    cut = len(formula_text(simplest(tree)))
    assert cut <= len(formula_text(tree)) + 2


@pytest.mark.parametrize(
    "value, shown",
    [
        ("9.80665", "9.80665"), ("0.25", "1/4"), ("0.2", "0.2"), ("0.125", "1/8"),
        ("1/3", "1/3"), ("1/2", "1/2"), ("2/7", "2/7"), ("1/6", "1/6"), ("1/12", "1/12"),
        ("5/2", "5/2"), ("7/3", "7/3"), ("1/15", "1/15"),
    ],
)  # fmt: skip
def test_a_number_that_ends_is_written_with_a_point_where_that_is_no_longer(value, shown):
    """Tenths and their like end; thirds and sevenths do not.  The shorter of two is taken."""
    assert formula_text(simplest(Num(Fraction(value)))) == shown


def test_an_early_rounded_expression_stays_as_it_is():
    tree = product((Rounded(read("a/L"), 2), Letter("W")), (Letter("W"),))
    assert simplest(tree) == tree


def test_results_on_the_way_are_written_out_first():
    ratio = Named("ratio", read("a/L"))
    assert formula_text(simplest(product((ratio, Letter("L"))))) == "a"


@pytest.mark.parametrize("terms, divides", [(25, True), (26, False)])
def test_a_quotient_has_up_to_so_many_terms(terms, divides):
    """(x^n - 1)/(x - 1) is a sum of n terms."""
    found = _divided({(terms,): 1, (0,): -1}, {(1,): 1, (0,): -1})
    assert (found is not None) is divides
    assert found is None or found == {(n,): 1 for n in range(terms)}


@pytest.mark.parametrize("seed", range(30))
def test_a_unit_s_factor_is_drawn_together_and_loses_nothing(seed):
    """Another factor in front of it: the product is worth what both are, whatever stands where."""
    rng = random.Random(seed)
    numbers = [Num(x) for x in (0.25, 0.5, 2, 3, 9.80665, 0.45359237, Fraction(1, 3))]
    over = [Letter("W"), *rng.choices(numbers, k=rng.randint(0, 2))]
    under = [Letter("a"), *rng.choices(numbers, k=rng.randint(0, 2))]
    for tree in (product(over, under), product((Letter("W"),), under), total(read("W"), read("V"))):
        for factor in (0.0254, 1 / 0.0254, 9.80665, 1 / 9.80665, 100.0, 0.001, 1.0, 1 / 3):
            made = in_units(factor, tree)
            assert value_at(compiled(made), AT) == pytest.approx(
                factor * value_at(compiled(tree), AT), rel=2e-6
            ), (factor, formula_text(tree), formula_text(made))


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("kind, gain", [("front_at_a_multiple", 1), ("rear_at_a_multiple", 0)])
def test_the_last_line_at_a_multiple_is_a_fraction_of_the_weight_alone(kind, gain, seed):
    """A weight at m wheelbases ahead: W(1 + m) on the front, -W m on the rear."""
    problem = exercises.make(kind, seed, "kg")
    part = gain + problem.drawn if gain else -problem.drawn
    by_hand = product((Num(part.numerator), Letter("W")), (Num(part.denominator),))
    assert problem.source.solution(problem)[-1].result == formula_text(by_hand)
