"""The value of a tree: fast in floats, or exactly in fractions.

>>> from leverarm import statics
>>> from leverarm.exercises.trees import traced
>>> gain = traced(statics.front_gain, Letter("W"), Letter("a"), Letter("L"))
>>> closure(gain)({"W": 110, "a": 1.2, "L": 1.6})
192.5
"""

import math
import operator
from fractions import Fraction

from leverarm.exercises.trees import Letter, Named, Neg, Num, Power, Prod, Rounded, Sum, children


def closure(tree):
    """The tree as a fast function of a dict of floats."""
    if isinstance(tree, Num):
        value = float(tree.value)
        return lambda at: value
    if isinstance(tree, Letter):
        return operator.itemgetter(tree.name)
    inner = [closure(child) for child in children(tree)]
    if isinstance(tree, Named):
        return inner[0]
    if isinstance(tree, Neg):
        return lambda at, f=inner[0]: -f(at)
    if isinstance(tree, Sum):
        return _folded(inner, operator.add)
    if isinstance(tree, Prod):
        count = len(tree.over)
        top = _folded(inner[:count], operator.mul)
        return (
            top
            if count == len(inner)
            else _folded([top, _folded(inner[count:], operator.mul)], operator.truediv)
        )
    if isinstance(tree, Power):
        return lambda at, f=inner[0], e=float(tree.exponent): f(at) ** e
    if isinstance(tree, Rounded):
        return lambda at, f=inner[0], d=tree.digits: float(f"{f(at):.{d}g}")
    return lambda at, call=tree.function: call(*[f(at) for f in inner])


def _folded(functions, operation):
    """One function for a row of them, joined by + or × two at a time."""
    joined = functions[0]
    for more in functions[1:]:
        joined = (lambda f, g: lambda at: operation(f(at), g(at)))(joined, more)
    return joined


def value(function, at):
    """A closure's value at numbers; NaN where it has none (division by zero, root of a negative number)."""
    try:
        number = function(at)
    except (ZeroDivisionError, OverflowError, ValueError):
        return math.nan
    return number if isinstance(number, (float, int)) else math.nan


def exactly(tree, at):
    """The value of a tree in fractions, no rounding at all; raises ArithmeticError where that cannot be.

    >>> from leverarm.exercises.trees import traced
    >>> exactly(traced(lambda a, L: 1 + a / L, Letter("a"), Letter("L")), {"a": Fraction(1), "L": Fraction(3)})
    Fraction(4, 3)
    """
    if isinstance(tree, Num):
        return Fraction(repr(tree.value)) if isinstance(tree.value, float) else Fraction(tree.value)
    if isinstance(tree, Letter):
        return at[tree.name]
    parts = [exactly(child, at) for child in children(tree)]
    if isinstance(tree, Named):
        return parts[0]
    if isinstance(tree, Neg):
        return -parts[0]
    if isinstance(tree, Sum):
        return sum(parts)
    if isinstance(tree, Prod):
        return math.prod(parts[: len(tree.over)]) / math.prod(
            parts[len(tree.over) :], start=Fraction(1)
        )
    if isinstance(tree, Power) and Fraction(tree.exponent).denominator == 1:
        return parts[0] ** int(tree.exponent)
    if isinstance(tree, Power) and tree.exponent == 0.5:
        return _root(parts[0])
    raise ArithmeticError("not a rational expression")


def _root(square):
    """The root of a fraction that is a perfect square; ArithmeticError for any other."""
    if square >= 0:
        over, under = math.isqrt(square.numerator), math.isqrt(square.denominator)
        if over * over == square.numerator and under * under == square.denominator:
            return Fraction(over, under)
    raise ArithmeticError("no fraction")
