"""Whether two formulas are the same: by exact fractions at fixed points, by sympy where both are small.

Two different formulas of degree d agree at a random point with probability below
d over the number of values to choose from; with a million values a letter, four
points and the degree bounded, a wrong "same" is out of the question.  Roots that
are no fractions are compared to fifty decimal places instead.

>>> from leverarm.exercises.grammar import read
>>> one, other = (read(t, ["W", "a", "L"])[0] for t in ("W(1+a/L)", "(W L + W a)/L"))
>>> same(one, other, points(["W", "a", "L"]))
Same(same=True, how='exactly, in fractions, at 4 points')
"""

from dataclasses import dataclass
from decimal import Context, Decimal, DivisionByZero, InvalidOperation, Overflow
from fractions import Fraction
from functools import lru_cache

from leverarm.exercises.draw import Stream
from leverarm.exercises.evaluate import exactly
from leverarm.exercises.trees import Call, Letter, Named, Neg, Num, Power, Prod, Sum, children, walk

POINTS = 4
VALUES = 10**6
MOST_DEGREE = 40
MOST_NODES, SMALL_DEGREE = 40, 16  # up to here sympy is asked too
ROUNDED = 0.005
_DECIMAL = Context(
    prec=60, Emax=10**6, Emin=-(10**6), traps=[InvalidOperation, DivisionByZero, Overflow]
)
_ALIKE = Decimal(10) ** -50


class TooBig(ValueError):
    """A formula of too high a degree."""


@dataclass(frozen=True)
class Same:
    """Whether two formulas are the same, and how that was found."""

    same: bool
    how: str


def points(letters):
    """The fixed points for some letters: dicts of fractions, all above zero."""
    return _points(tuple(letters))


@lru_cache(maxsize=256)
def _points(letters):
    streams = [Stream("points", number) for number in range(POINTS)]
    return tuple(
        {name: Fraction(1 + stream.below(VALUES), 1009) for name in letters} for stream in streams
    )


def degree(tree):
    """A bound on the degree of a tree's numerator and denominator.

    >>> from leverarm.exercises.grammar import read
    >>> degree(read("(W a)^3/L", ["W", "a", "L"])[0])
    7
    """
    if isinstance(tree, Letter):
        return 1
    below = [degree(child) for child in children(tree)]
    if isinstance(tree, Power):
        return below[0] * max(1, round(abs(float(tree.exponent))))
    return sum(below) if isinstance(tree, (Sum, Prod)) else max(below, default=0)


def profile(tree, at_points):
    """The values of a tree at points: fractions, or decimals where a root is none; None where it has no value."""
    if degree(tree) > MOST_DEGREE:
        raise TooBig("That formula multiplies too many letters together. Write it more simply.")
    return tuple(_value(tree, at) for at in at_points)


def _value(tree, at):
    try:
        return exactly(tree, at)
    except ZeroDivisionError:
        return None
    except ArithmeticError:
        return _decimal(tree, at)


def _decimal(tree, at):
    """The value to sixty digits, or None."""
    try:
        return _digits(tree, at)
    except (ArithmeticError, ValueError):
        return None


def _digits(tree, at):
    if isinstance(tree, Num):
        return _quotient(
            Fraction(repr(tree.value)) if isinstance(tree.value, float) else Fraction(tree.value)
        )
    if isinstance(tree, Letter):
        return _quotient(at[tree.name])
    parts = [_digits(child, at) for child in children(tree)]
    if isinstance(tree, Named):
        return parts[0]
    if isinstance(tree, Neg):
        return -parts[0]
    if isinstance(tree, Sum):
        return _joined(parts, _DECIMAL.add)
    if isinstance(tree, Prod):
        top = _joined(parts[: len(tree.over)], _DECIMAL.multiply)
        return (
            _DECIMAL.divide(top, _joined(parts[len(tree.over) :], _DECIMAL.multiply))
            if tree.under
            else top
        )
    if isinstance(tree, Power):
        return _DECIMAL.power(parts[0], _quotient(Fraction(tree.exponent)))
    raise ArithmeticError("no decimal value")


def _joined(parts, operation):
    result = parts[0]
    for part in parts[1:]:
        result = operation(result, part)
    return result


def _quotient(fraction):
    return _DECIMAL.divide(Decimal(fraction.numerator), Decimal(fraction.denominator))


def alike(one, other):
    """Whether two profiles agree wherever both have a value, and they do somewhere."""
    both = [(x, y) for x, y in zip(one, other) if x is not None and y is not None]
    return bool(both) and all(_equal(x, y) for x, y in both)


def nearly(one, other):
    """Whether two profiles differ by no more than a number rounded to three digits."""
    both = [(x, y) for x, y in zip(one, other) if x is not None and y is not None]
    return bool(both) and all(abs(float(x) - float(y)) <= ROUNDED * abs(float(y)) for x, y in both)


def _equal(x, y):
    if isinstance(x, Fraction) and isinstance(y, Fraction):
        return x == y
    x, y = (_quotient(v) if isinstance(v, Fraction) else v for v in (x, y))
    return abs(x - y) <= _ALIKE * max(abs(x), abs(y))


def compared(left, right):
    """Whether two profiles are of the same formula."""
    exact = all(isinstance(v, Fraction) for v in (*left, *right) if v is not None)
    return Same(
        alike(left, right),
        f"{'exactly, in fractions,' if exact else 'to fifty decimal places'} at {len(left)} points",
    )


def asked_again(found, one, other):
    """What was found, with sympy's second opinion where both formulas are small."""
    if not (_small(one) and _small(other)):
        return found
    agreed = _sympy_says(one, other) == found.same
    return Same(found.same, f"{found.how}; sympy {'finds the same' if agreed else 'cannot tell'}")


def same(one, other, at_points, second_opinion=False):
    """Whether two trees are the same formula; second_opinion asks sympy too where both are small."""
    found = compared(profile(one, at_points), profile(other, at_points))
    return asked_again(found, one, other) if second_opinion else found


def _small(tree):
    return (
        sum(1 for _ in walk(tree)) <= MOST_NODES
        and degree(tree) <= SMALL_DEGREE
        and not any(isinstance(t, Call) for t in walk(tree))
    )


def _sympy_says(one, other):
    """Whether sympy multiplies the difference out to zero over one denominator."""
    from sympy import expand, fraction, together

    return expand(fraction(together(as_sympy(one) - as_sympy(other)))[0]) == 0


def as_sympy(tree):
    """A tree as a sympy expression, built node by node; no text is handed over."""
    from sympy import Add, Mul, Pow, Rational, Symbol

    if isinstance(tree, Num):
        number = (
            Fraction(repr(tree.value)) if isinstance(tree.value, float) else Fraction(tree.value)
        )
        return Rational(number.numerator, number.denominator)
    if isinstance(tree, Letter):
        return Symbol(tree.name, positive=True)
    parts = [as_sympy(child) for child in children(tree)]
    if isinstance(tree, Neg):
        return -parts[0]
    if isinstance(tree, Sum):
        return Add(*parts)
    if isinstance(tree, Prod):
        return Mul(*parts[: len(tree.over)]) / Mul(*parts[len(tree.over) :])
    if isinstance(tree, Power):
        exponent = Fraction(tree.exponent)
        return Pow(parts[0], Rational(exponent.numerator, exponent.denominator))
    return parts[0]
