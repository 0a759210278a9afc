"""Whether two formulas are the same: by exact fractions at fixed points, and by sympy.

Two different formulas of degree d agree at a random point with probability below
d over the number of values to choose from.  With a million values a letter, four
points and a bounded degree, a wrong "same" is out of the question.  Roots that
are not fractions are compared to fifty decimal places instead.

>>> from leverarm.exercises.expressions.grammar import read_formula
>>> one, other = (read_formula(t, ["W", "a", "L"])[0] for t in ("W(1+a/L)", "(W L + W a)/L"))
>>> at = points(("W", "a", "L"))
>>> equivalent(profile(one, at), profile(other, at))
Comparison(same=True, how='exactly, in fractions, at 4 points')
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Context, Decimal, DivisionByZero, InvalidOperation, Overflow
from fractions import Fraction
from functools import lru_cache
from typing import Any, TypeAlias

from leverarm.exercises.expressions.tree import (
    Call,
    Constant,
    Letter,
    Named,
    Neg,
    Num,
    Power,
    Prod,
    Sum,
    Tree,
    children,
    walk,
)
from leverarm.exercises.random_numbers import RandomStream

POINTS = 4
VALUES = 10**6
MOST_DEGREE = 40
MOST_NODES, SMALL_DEGREE = 40, 16  # up to here sympy is asked too
ROUNDED = 0.005
_DECIMAL = Context(
    prec=60, Emax=10**6, Emin=-(10**6), traps=[InvalidOperation, DivisionByZero, Overflow]
)
_AGREE = Decimal(10) ** -50

LetterValues: TypeAlias = Mapping[str, Fraction]
# The values of a formula at the points: exact, to sixty digits, or None where it has no value.
Profile: TypeAlias = tuple[Fraction | Decimal | None, ...]


class TooBig(ValueError):
    """A formula of too high a degree."""


@dataclass(frozen=True)
class Comparison:
    """Whether two formulas are the same, and how that was found."""

    same: bool
    how: str


@lru_cache(maxsize=256)
def points(letters: tuple[str, ...]) -> tuple[LetterValues, ...]:
    """The fixed points for some letters: dicts of fractions, all above zero."""
    streams = [RandomStream("points", number) for number in range(POINTS)]
    return tuple(
        {name: Fraction(1 + stream.below(VALUES), 1009) for name in letters} for stream in streams
    )


def degree(tree: Tree) -> int:
    """A bound on the degree of a tree's numerator and denominator.

    >>> from leverarm.exercises.expressions.grammar import read_formula
    >>> degree(read_formula("(W a)^3/L", ["W", "a", "L"])[0])
    7
    """
    if isinstance(tree, Letter):
        return 1
    below = [degree(child) for child in children(tree)]
    if isinstance(tree, Power):
        return below[0] * max(1, round(abs(float(tree.exponent))))
    return sum(below) if isinstance(tree, (Sum, Prod)) else max(below, default=0)


def profile(tree: Tree, at_points: Sequence[LetterValues]) -> Profile:
    """The values of a tree at points.  Raises TooBig."""
    if degree(tree) > MOST_DEGREE:
        raise TooBig("That formula multiplies too many letters together. Write it more simply.")
    return tuple(_value(tree, at) for at in at_points)


def _value(tree: Tree, at: LetterValues) -> Fraction | Decimal | None:
    try:
        return exact_value(tree, at)
    except ZeroDivisionError:
        return None
    except ArithmeticError:
        pass
    try:
        return _decimal_value(tree, at)
    except (ArithmeticError, ValueError):
        return None


def exact_value(tree: Tree, at: LetterValues) -> Fraction:
    """The value of a tree in fractions, without rounding.  Raises ArithmeticError.

    >>> from leverarm.exercises.expressions.tree import traced
    >>> ratio = traced(lambda a, L: 1 + a / L, Letter("a"), Letter("L"))
    >>> exact_value(ratio, {"a": Fraction(1), "L": Fraction(3)})
    Fraction(4, 3)
    """
    if isinstance(tree, Num):
        return _fraction(tree.value)
    if isinstance(tree, Letter):
        return at[tree.name]
    if isinstance(tree, Named):
        return exact_value(tree.of, at)
    if isinstance(tree, Neg):
        return -exact_value(tree.of, at)
    if isinstance(tree, Sum):
        return sum((exact_value(term, at) for term in tree.terms), start=Fraction(0))
    if isinstance(tree, Prod):
        over, under = (
            math.prod((exact_value(factor, at) for factor in factors), start=Fraction(1))
            for factors in (tree.over, tree.under)
        )
        return over / under
    if isinstance(tree, Power) and Fraction(tree.exponent).denominator == 1:
        return exact_value(tree.base, at) ** int(tree.exponent)
    if isinstance(tree, Power) and tree.exponent == 0.5:
        return _exact_root(exact_value(tree.base, at))
    raise ArithmeticError("not a rational expression")


def _fraction(constant: Constant) -> Fraction:
    """A constant as the fraction that its digits say: 0.1 is one tenth."""
    return Fraction(repr(constant)) if isinstance(constant, float) else Fraction(constant)


def _exact_root(square: Fraction) -> Fraction:
    """The root of a fraction that is a perfect square; ArithmeticError for any other."""
    if square >= 0:
        over, under = math.isqrt(square.numerator), math.isqrt(square.denominator)
        if over * over == square.numerator and under * under == square.denominator:
            return Fraction(over, under)
    raise ArithmeticError("the root is not a fraction")


def _decimal_value(tree: Tree, at: LetterValues) -> Decimal:
    """The value to sixty digits; raises ArithmeticError where there is none."""
    if isinstance(tree, Num):
        return _decimal(_fraction(tree.value))
    if isinstance(tree, Letter):
        return _decimal(at[tree.name])
    if isinstance(tree, Named):
        return _decimal_value(tree.of, at)
    if isinstance(tree, Neg):
        # A plain minus would round to Decimal's usual 28 digits.
        return _DECIMAL.minus(_decimal_value(tree.of, at))
    parts = [_decimal_value(child, at) for child in children(tree)]
    if isinstance(tree, Sum):
        return _folded(parts, _DECIMAL.add)
    if isinstance(tree, Prod):
        top = _folded(parts[: len(tree.over)], _DECIMAL.multiply)
        if not tree.under:
            return top
        return _DECIMAL.divide(top, _folded(parts[len(tree.over) :], _DECIMAL.multiply))
    if isinstance(tree, Power):
        return _DECIMAL.power(_decimal_value(tree.base, at), _decimal(Fraction(tree.exponent)))
    raise ArithmeticError("no decimal value")


def _folded(parts: Sequence[Decimal], operation: Callable[[Decimal, Decimal], Decimal]) -> Decimal:
    result = parts[0]
    for part in parts[1:]:
        result = operation(result, part)
    return result


def _decimal(number: Fraction | Decimal) -> Decimal:
    if isinstance(number, Decimal):
        return number
    return _DECIMAL.divide(Decimal(number.numerator), Decimal(number.denominator))


def _pairs(one: Profile, other: Profile) -> Iterator[tuple[Fraction | Decimal, Fraction | Decimal]]:
    """The values of two profiles where both have one."""
    return ((x, y) for x, y in zip(one, other) if x is not None and y is not None)


def agree(one: Profile, other: Profile) -> bool:
    """Whether two profiles are equal wherever both have a value, and they have one somewhere."""
    pairs = list(_pairs(one, other))
    return bool(pairs) and all(_equal(x, y) for x, y in pairs)


def nearly_agree(one: Profile, other: Profile) -> bool:
    """Whether two profiles differ by no more than a number rounded to three digits."""
    pairs = list(_pairs(one, other))
    return bool(pairs) and all(
        abs(float(x) - float(y)) <= ROUNDED * abs(float(y)) for x, y in pairs
    )


def _equal(x: Fraction | Decimal, y: Fraction | Decimal) -> bool:
    if isinstance(x, Fraction) and isinstance(y, Fraction):
        return x == y
    one, other = _decimal(x), _decimal(y)
    return abs(one - other) <= _AGREE * max(abs(one), abs(other))


def equivalent(one: Profile, other: Profile) -> Comparison:
    """Whether two profiles belong to the same formula."""
    exact = all(isinstance(value, Fraction) for value in (*one, *other) if value is not None)
    how = "exactly, in fractions," if exact else "to fifty decimal places"
    return Comparison(agree(one, other), f"{how} at {len(one)} points")


def with_second_opinion(found: Comparison, one: Tree, other: Tree) -> Comparison:
    """A comparison with sympy's opinion added where both formulas are small."""
    if not (_small(one) and _small(other)):
        return found
    from sympy import expand, fraction, together

    difference = fraction(together(as_sympy(one) - as_sympy(other)))[0]
    agreed = (expand(difference) == 0) == found.same
    return Comparison(
        found.same, f"{found.how}; sympy {'finds the same' if agreed else 'cannot tell'}"
    )


def _small(tree: Tree) -> bool:
    return (
        sum(1 for _ in walk(tree)) <= MOST_NODES
        and degree(tree) <= SMALL_DEGREE
        and not any(isinstance(t, Call) for t in walk(tree))
    )


def as_sympy(tree: Tree) -> Any:
    """A tree as a sympy expression, built node by node; no text is handed over."""
    from sympy import Add, Mul, Pow, Rational, Symbol

    if isinstance(tree, Num):
        number = _fraction(tree.value)
        return Rational(number.numerator, number.denominator)
    if isinstance(tree, Letter):
        return Symbol(tree.name, positive=True)
    if isinstance(tree, Neg):
        return -as_sympy(tree.of)
    parts = [as_sympy(child) for child in children(tree)]
    if isinstance(tree, Sum):
        return Add(*parts)
    if isinstance(tree, Prod):
        return Mul(*parts[: len(tree.over)]) / Mul(*parts[len(tree.over) :])
    if isinstance(tree, Power):
        exponent = Fraction(tree.exponent)
        return Pow(*parts, Rational(exponent.numerator, exponent.denominator))
    raise TypeError(f"sympy is not asked about a {type(tree).__name__}")
