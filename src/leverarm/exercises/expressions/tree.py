"""Expressions as small trees, taken from the code that computes the formulas.

The formulas of the package are plain arithmetic, so they also run on trees:
``statics.front_gain`` called with letters returns the tree of W (1 + a/L).  The
answer, the worked solution and the listed mistakes all come from one tree, and no
formula is typed a second time.

>>> from leverarm import statics
>>> gain = traced(statics.front_gain, Letter("W"), Letter("a"), Letter("L"))
>>> letters_in(gain)
('W', 'a', 'L')
>>> formula_text(gain)
'W × (1 + a/L)'
>>> compiled(gain)({"W": 110, "a": 1.2, "L": 1.6})
192.5
"""

import math
import operator
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, TypeAlias

from leverarm.numerals import Numeric

Constant: TypeAlias = int | float | Fraction
# A compiled tree: from numbers by letter to its value.
Compute: TypeAlias = Callable[[Mapping[str, float]], float]


class Tree:
    """A node; arithmetic on nodes builds bigger ones."""

    __slots__ = ()

    def __add__(self, other: "Tree | Constant") -> "Tree":
        return total(self, node(other))

    def __radd__(self, other: "Tree | Constant") -> "Tree":
        return total(node(other), self)

    def __sub__(self, other: "Tree | Constant") -> "Tree":
        return total(self, negative(node(other)))

    def __rsub__(self, other: "Tree | Constant") -> "Tree":
        return total(node(other), negative(self))

    def __mul__(self, other: "Tree | Constant") -> "Tree":
        return product((self, node(other)))

    def __rmul__(self, other: "Tree | Constant") -> "Tree":
        return product((node(other), self))

    def __truediv__(self, other: "Tree | Constant") -> "Tree":
        return product((self,), (node(other),))

    def __rtruediv__(self, other: "Tree | Constant") -> "Tree":
        return product((node(other),), (self,))

    def __pow__(self, exponent: Constant) -> "Tree":
        if not isinstance(exponent, (int, float, Fraction)):
            raise TypeError("an exponent is a number")
        exponent = float(exponent) if isinstance(exponent, float) else exponent
        return self if exponent == 1 else Power(self, exponent)

    def __neg__(self) -> "Tree":
        return negative(self)

    def __pos__(self) -> "Tree":
        return self


@dataclass(frozen=True, slots=True)
class Num(Tree):
    """A constant."""

    value: Constant


@dataclass(frozen=True, slots=True)
class Letter(Tree):
    """A given quantity, by name."""

    name: str


@dataclass(frozen=True, slots=True)
class Named(Tree):
    """An intermediate result with its own name; its value is that of ``of``."""

    name: str
    of: Tree


@dataclass(frozen=True, slots=True)
class Neg(Tree):
    """Minus a node."""

    of: Tree


@dataclass(frozen=True, slots=True)
class Sum(Tree):
    """Two terms or more; a subtracted term is a Neg."""

    terms: tuple[Tree, ...]


@dataclass(frozen=True, slots=True)
class Prod(Tree):
    """Factors over factors."""

    over: tuple[Tree, ...]
    under: tuple[Tree, ...] = ()


@dataclass(frozen=True, slots=True)
class Power(Tree):
    """A base to a numeric exponent; exponent one half is a square root."""

    base: Tree
    exponent: Constant


@dataclass(frozen=True, slots=True)
class Rounded(Tree):
    """A node cut to so many significant digits: what early rounding does."""

    of: Tree
    digits: int


@dataclass(frozen=True, slots=True)
class Call(Tree):
    """A formula that is not plain arithmetic (an angle, say), called on its arguments as it is."""

    function: Callable[..., Any]
    args: tuple[Tree, ...]


ONE, ZERO = Num(1), Num(0)

# --- build ----------------------------------------------------------------------------------


def node(value: Tree | Constant) -> Tree:
    """A number as a node; a node as it is."""
    if isinstance(value, Tree):
        return value
    return Num(float(value) if isinstance(value, float) else value)


def total(*terms: Tree) -> Tree:
    """The sum of nodes, flat, without zeros and without terms that cancel as they are."""
    flat: list[Tree] = []
    for term in terms:
        for part in term.terms if isinstance(term, Sum) else (term,):
            if isinstance(part, Num) and not part.value:
                continue
            at = _opposite(part, flat)
            if at is None:
                flat.append(part)
            else:
                del flat[at]
    return Sum(tuple(flat)) if len(flat) > 1 else flat[0] if flat else ZERO


def _opposite(part: Tree, terms: Sequence[Tree]) -> int | None:
    """Where minus a node stands among terms, if it does."""
    kind = type(part)
    if kind is Neg or kind is Num:
        other = negative(part)
        kind = type(other)
        for at, term in enumerate(terms):
            if type(term) is kind and term == other:
                return at
        return None
    for at, term in enumerate(terms):
        if type(term) is Neg and term.of == part:
            return at
    return None


def negative(tree: Tree) -> Tree:
    """Minus a node; two minus signs cancel."""
    if isinstance(tree, Neg):
        return tree.of
    if isinstance(tree, Num):
        return Num(-tree.value)
    return Neg(tree)


def _is(tree: Tree, number: int) -> bool:
    return type(tree) is Num and tree.value == number


def product(over: Sequence[Tree], under: Sequence[Tree] = ()) -> Tree:
    """The product of ``over`` divided by ``under``, flat, its sign in front, without ones."""
    tops: list[Tree] = []
    bottoms: list[Tree] = []
    minus = False
    for factors, here, there in ((over, tops, bottoms), (under, bottoms, tops)):
        for factor in factors:
            if isinstance(factor, Neg):
                factor, minus = factor.of, not minus
            if isinstance(factor, Prod):
                here.extend([part for part in factor.over if not _is(part, 1)])
                there.extend(factor.under)
                continue
            if isinstance(factor, Num) and factor.value < 0:
                factor, minus = Num(-factor.value), not minus
            if not _is(factor, 1):
                here.append(factor)
    if any(_is(factor, 0) for factor in tops):
        return ZERO
    made: Tree = ONE
    if len(tops) == 1 and not bottoms:
        made = tops[0]
    elif tops or bottoms:
        made = Prod(tuple(tops) or (ONE,), tuple(bottoms))
    return negative(made) if minus else made


def traced(function: Callable[..., Any], *args: Tree) -> Tree:
    """The tree of a formula of the package; a formula that does not run on trees becomes a Call."""
    try:
        return node(function(*args))
    except (TypeError, AttributeError):
        return Call(function, tuple(args))


# --- walk and rebuild -----------------------------------------------------------------------


def children(tree: Tree) -> tuple[Tree, ...]:
    """The nodes directly under a node."""
    if isinstance(tree, (Named, Neg, Rounded)):
        return (tree.of,)
    if isinstance(tree, Sum):
        return tree.terms
    if isinstance(tree, Prod):
        return tree.over + tree.under
    if isinstance(tree, Power):
        return (tree.base,)
    return tree.args if isinstance(tree, Call) else ()


def rebuilt(tree: Tree, parts: Sequence[Tree]) -> Tree:
    """The same kind of node over other children."""
    if isinstance(tree, Named):
        return Named(tree.name, parts[0])
    if isinstance(tree, Neg):
        return negative(parts[0])
    if isinstance(tree, Rounded):
        return Rounded(parts[0], tree.digits)
    if isinstance(tree, Sum):
        return total(*parts)
    if isinstance(tree, Prod):
        return product(parts[: len(tree.over)], parts[len(tree.over) :])
    if isinstance(tree, Power):
        return Power(parts[0], tree.exponent)
    return Call(tree.function, tuple(parts)) if isinstance(tree, Call) else tree


def walk(tree: Tree) -> Iterator[Tree]:
    """A node and all below it."""
    yield tree
    for child in children(tree):
        yield from walk(child)


def letters_in(tree: Tree) -> tuple[str, ...]:
    """The names of the given quantities a tree uses, in order of appearance."""
    return tuple(dict.fromkeys(t.name for t in walk(tree) if isinstance(t, Letter)))


def replaced(tree: Tree, named: Mapping[str, Tree]) -> Tree:
    """The tree with other nodes for some of its letters."""
    if isinstance(tree, Letter):
        return named.get(tree.name, tree)
    parts = children(tree)
    return rebuilt(tree, [replaced(part, named) for part in parts]) if parts else tree


def written_out(tree: Tree) -> Tree:
    """The tree with every intermediate result replaced by what it is made of."""
    if isinstance(tree, Named):
        return written_out(tree.of)
    parts = children(tree)
    return rebuilt(tree, [written_out(part) for part in parts]) if parts else tree


# --- print ----------------------------------------------------------------------------------

_TIGHTNESS: dict[type, int] = {Sum: 1, Neg: 1, Prod: 2, Power: 3}


def formula_text(tree: Tree, names: Mapping[str, str] | None = None) -> str:
    """The tree as a line that a reader can follow and that our own grammar can read back.

    names   name -> what to print for it: a letter, or a number for a worked line
    """
    names = names or {}
    if isinstance(tree, (Letter, Named)):
        return names.get(tree.name, tree.name)
    if isinstance(tree, Num):
        return _constant_text(tree.value)
    if isinstance(tree, Neg):
        return "−" + _in_brackets_if_loose(tree.of, 2, names)
    if isinstance(tree, Sum):
        return _in_brackets_if_loose(tree.terms[0], 1, names) + "".join(
            f" − {_in_brackets_if_loose(negative(term), 2, names)}"
            if _is_subtracted(term)
            else f" + {_in_brackets_if_loose(term, 2, names)}"
            for term in tree.terms[1:]
        )
    if isinstance(tree, Prod):
        return _product_text(tree, names)
    if isinstance(tree, Power):
        if tree.exponent == 0.5:
            return f"sqrt({formula_text(tree.base, names)})"
        return f"{_in_brackets_if_loose(tree.base, 4, names)}^{_constant_text(tree.exponent)}"
    if isinstance(tree, Rounded):
        return formula_text(tree.of, names)
    assert isinstance(tree, Call)
    args = [formula_text(arg, names) for arg in tree.args]
    say = getattr(tree.function, "say", None)
    return say(*args) if say else f"{tree.function.__name__}({', '.join(args)})"


def _product_text(tree: Prod, names: Mapping[str, str]) -> str:
    top = " × ".join(
        _in_brackets_if_loose(factor, 3 if at else 2, names) for at, factor in enumerate(tree.over)
    )
    bottom = " × ".join(_in_brackets_if_loose(factor, 3, names) for factor in tree.under)
    return top + (f"/({bottom})" if len(tree.under) > 1 else f"/{bottom}" if bottom else "")


def _is_subtracted(tree: Tree) -> bool:
    return isinstance(tree, Neg) or (isinstance(tree, Num) and tree.value < 0)


def _in_brackets_if_loose(tree: Tree, tightness: int, names: Mapping[str, str]) -> str:
    """A part, in brackets where it binds more loosely than its surroundings.

    A minus never stands bare behind another sign.
    """
    inside = tree.of if isinstance(tree, Rounded) else tree
    text = formula_text(inside, names)
    binds = 2 if isinstance(inside, Num) and "/" in text else _TIGHTNESS.get(type(inside), 4)
    loose = binds < tightness or (tightness > 1 and text.startswith(("−", "-")))
    if isinstance(inside, Named) and any(mark in text for mark in " /^"):
        loose = tightness > 1
    return f"({text})" if loose else text


def _constant_text(number: Constant) -> str:
    """A constant in print: 1/3 as a fraction, 9.80665 as it is, with a true minus."""
    shown = f"{number:.10g}" if isinstance(number, float) else str(number)
    return shown.replace("-", "−")


# --- compute --------------------------------------------------------------------------------


def compiled(tree: Tree) -> Compute:
    """The tree as a fast function of a dict of floats."""
    if isinstance(tree, Num):
        constant = float(tree.value)
        return lambda at: constant
    if isinstance(tree, Letter):
        return operator.itemgetter(tree.name)
    if isinstance(tree, Named):
        return compiled(tree.of)
    inner = [compiled(child) for child in children(tree)]
    if isinstance(tree, Sum):
        return _folded(inner, operator.add)
    if isinstance(tree, Prod):
        top = _folded(inner[: len(tree.over)], operator.mul)
        if not tree.under:
            return top
        return _folded([top, _folded(inner[len(tree.over) :], operator.mul)], operator.truediv)
    if isinstance(tree, Call):
        call = tree.function
        return lambda at: call(*[f(at) for f in inner])
    (of,) = inner
    if isinstance(tree, Neg):
        return lambda at: -of(at)
    if isinstance(tree, Power):
        exponent = float(tree.exponent)
        return lambda at: of(at) ** exponent
    assert isinstance(tree, Rounded)
    digits = tree.digits
    return lambda at: float(f"{of(at):.{digits}g}")


def _folded(functions: Sequence[Compute], operation: Callable[[float, float], float]) -> Compute:
    """One function for several, joined two at a time by an operation."""

    def join(f: Compute, g: Compute) -> Compute:
        return lambda at: operation(f(at), g(at))

    joined = functions[0]
    for function in functions[1:]:
        joined = join(joined, function)
    return joined


def value_at(function: Compute, numbers: Mapping[str, float]) -> float:
    """A compiled tree's value; NaN where it has none, as for a division by zero."""
    try:
        number = function(numbers)
    except (ZeroDivisionError, OverflowError, ValueError):
        return math.nan
    return number if isinstance(number, (float, int)) else math.nan


def printed_as(say: Callable[..., str]) -> Callable[..., Callable[..., Numeric]]:
    """A definition that is no plain arithmetic, with the way it is printed from its arguments."""

    def mark(function: Callable[..., Numeric]) -> Callable[..., Numeric]:
        function.say = say  # type: ignore[attr-defined]  # read where a Call is printed
        return function

    return mark


def over_100(name: str) -> Callable[..., str]:
    """How a function of a slope in percent is printed."""
    return lambda percent: (
        f"{name}(({percent})/100)" if " " in percent else f"{name}({percent}/100)"
    )
