"""The simplest way to write an expression: one fraction, what cancels canceled.

>>> from leverarm.exercises.expressions.grammar import read_formula
>>> formula_text(simplest(read_formula("W/(1 + a/L)", ["W", "a", "L"])[0]))
'W × L/(L + a)'
"""

import math
import re
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from leverarm.exercises.expressions.tree import (
    Call,
    Letter,
    Neg,
    Num,
    Power,
    Prod,
    Rounded,
    Sum,
    Tree,
    children,
    formula_text,
    product,
    rebuilt,
    total,
    walk,
    written_out,
)

MOST_TERMS, MOST_POWER = 24, 4
_DECIMALS = re.compile(r"\d*\.\d{4,}")
# A monomial is the exponents of the atoms; a polynomial maps monomials to coefficients.
Monomial: TypeAlias = tuple[int, ...]
Polynomial: TypeAlias = dict[Monomial, Fraction]
# A polynomial that can be compared, and several of them that are multiplied.
SumOf: TypeAlias = tuple[tuple[Monomial, Fraction], ...]
Sums: TypeAlias = tuple[SumOf, ...]


class _TooLong(ValueError):
    """An expression that would not get simpler this way."""


@dataclass(frozen=True)
class _Fraction:
    """A number times powers of atoms times sums, over sums."""

    number: Fraction
    powers: Monomial
    over: Sums = ()
    under: Sums = ()


def simplest(tree: Tree) -> Tree:
    """The shortest of an expression as it stands, with simpler parts, and as one fraction."""
    tree = _decimal(written_out(tree))
    if any(isinstance(t, Rounded) for t in walk(tree)):
        return tree
    found = [tree]
    if parts := children(tree):
        found.append(_without_roots(rebuilt(tree, [simplest(part) for part in parts])))
    for one in tuple(found):
        with suppress(_TooLong, ZeroDivisionError, OverflowError):
            found.append(_Fractions(one).whole)
    return min(found, key=_length)


def _without_roots(tree: Tree) -> Tree:
    """A power of a power as one, squares out of a root, decimals multiplied; letters are positive.

    >>> formula_text(_without_roots(Power(Prod((Num(2), Power(Letter("u"), 2))), 0.5)))
    'sqrt(2) × u'
    """
    if isinstance(tree, Prod):
        over = list(tree.over)
        under = [part for part in tree.under if not _taken(part, over)]
        return product(_multiplied_up(over), _multiplied_up(under))
    if not isinstance(tree, Power):
        return tree
    base, exponent = tree.base, float(tree.exponent)
    if isinstance(base, Power):
        return _raised_to(base.base, float(base.exponent) * exponent)
    if isinstance(base, Num):
        return _raised_to(base, exponent)
    if exponent.is_integer() and isinstance(base, Prod):
        over, under = (
            [_without_roots(Power(p, int(exponent))) for p in parts]
            for parts in (base.over, base.under)
        )
        return product(over, under)
    if exponent == 0.5 and isinstance(base, Prod):
        roots = [_rooted(part) for part in base.over]
        left = [part for part, root in zip(base.over, roots) if root is None]
        squares = [root for root in roots if root is not None]
        if squares and (left or base.under):
            return product((Power(product(left, base.under), tree.exponent), *squares))
    return tree


def _taken(part: Tree, parts: list[Tree]) -> bool:
    """Take a part out of a list; whether it was there."""
    if part in parts:
        parts.remove(part)
        return True
    return False


def _raised_to(base: Tree, exponent: float) -> Tree:
    if exponent == 1:
        return base
    if isinstance(base, Num) and exponent == 2:
        return Num(base.value**2)
    return Power(base, int(exponent) if exponent.is_integer() else exponent)


def _rooted(tree: Tree) -> Tree | None:
    """The root of a square; None for anything else."""
    if isinstance(tree, Power) and tree.exponent == 2:
        return tree.base
    if isinstance(tree, Num) and tree.value > 0:
        root = math.sqrt(tree.value)
        return Num(int(root)) if root.is_integer() else None
    return None


def _multiplied_up(parts: Sequence[Tree]) -> list[Tree]:
    """Factors with their decimals drawn together: 1.732 × 1.732 is 3."""
    numbers = [part for part in parts if isinstance(part, Num)]
    decimals = [float(part.value) for part in numbers if float(part.value) % 1]
    if len(decimals) < 2:
        return list(parts)
    number = math.prod(float(part.value) for part in numbers)
    near = round(number)
    whole = near and abs(number - near) < 1e-9 * near
    others = [part for part in parts if not isinstance(part, Num)]
    return [*others, Num(near if whole else number)]


def _decimal(tree: Tree) -> Tree:
    """A tree with its decimals as decimals: 9.80665, not 196133/20000."""
    if isinstance(tree, Num) and isinstance(tree.value, Fraction):
        left = tree.value.denominator
        for prime in (2, 5):
            while left % prime == 0:
                left //= prime
        return Num(float(tree.value)) if left == 1 and tree.value.denominator > 2 else tree
    parts = children(tree)
    return rebuilt(tree, [_decimal(part) for part in parts]) if parts else tree


def fraction_of(tree: Tree) -> Tree:
    """An expression as one fraction; as it stands where that gets too long."""
    try:
        return _Fractions(written_out(tree)).whole
    except (_TooLong, ZeroDivisionError, OverflowError):
        return tree


def multiplied_out(tree: Tree) -> Tree:
    """An expression with its products of sums multiplied out, as one does without brackets."""
    parts = [multiplied_out(part) for part in children(tree)]
    tree = rebuilt(tree, parts) if parts else tree
    if isinstance(tree, Prod):
        for factor in tree.over:
            if isinstance(factor, Sum):
                at = tree.over.index(factor)
                rest = tree.over[:at] + tree.over[at + 1 :]
                return total(
                    *(multiplied_out(product((*rest, term), tree.under)) for term in factor.terms)
                )
    return tree


def _length(tree: Tree) -> int:
    """How long an expression is to read, with decimals cut.

    A fraction below a fraction line and a square of a root count as longer.
    """
    below = (part for t in walk(tree) if isinstance(t, Prod) for part in t.under)
    nested = any(isinstance(t, Prod) and t.under for part in below for t in walk(part))
    powers = (t for t in walk(tree) if isinstance(t, Power) and isinstance(t.base, Power))
    text = _DECIMALS.sub("0.000", formula_text(tree))
    return len(text) + 4 * nested + 6 * sum(1 for _ in powers)


class _Fractions:
    """One expression as a fraction of polynomials in its letters."""

    def __init__(self, tree: Tree) -> None:
        self.atoms: list[Tree] = []
        self._collect(tree)
        self.none: Monomial = (0,) * len(self.atoms)
        self.whole = self._built(self._of(tree))

    def _collect(self, tree: Tree) -> None:
        """The atoms in the order they appear: letters, and parts that are no plain arithmetic."""
        if isinstance(tree, (Letter, Call)) or (isinstance(tree, Power) and not _whole(tree)):
            if tree not in self.atoms:
                self.atoms.append(tree)
        else:
            for child in children(tree):
                self._collect(child)

    def _of(self, tree: Tree) -> _Fraction:
        if tree in self.atoms:
            at = self.atoms.index(tree)
            return _Fraction(Fraction(1), (*self.none[:at], 1, *self.none[at + 1 :]))
        if isinstance(tree, Num):
            return _Fraction(_exact(tree), self.none)
        if isinstance(tree, Neg):
            return self._times(_Fraction(Fraction(-1), self.none), self._of(tree.of))
        if isinstance(tree, Power):
            return self._raised(self._of(tree.base), int(tree.exponent))
        if isinstance(tree, Prod):
            found = _Fraction(Fraction(1), self.none)
            for part in tree.over:
                found = self._times(found, self._of(part))
            for part in tree.under:
                found = self._times(found, self._raised(self._of(part), -1))
            return found
        assert isinstance(tree, Sum)
        return self._sum([self._of(term) for term in tree.terms])

    def _times(self, one: _Fraction, other: _Fraction) -> _Fraction:
        over, under = [*one.over, *other.over], [*one.under, *other.under]
        for part in list(over):
            if part in under:
                over.remove(part)
                under.remove(part)
        if not one.number or not other.number:
            return _Fraction(Fraction(0), self.none)
        powers = tuple(map(sum, zip(one.powers, other.powers)))
        return _Fraction(one.number * other.number, powers, tuple(over), tuple(under))

    def _raised(self, one: _Fraction, exponent: int) -> _Fraction:
        if abs(exponent) > MOST_POWER:
            raise _TooLong
        number, powers = one.number**exponent, tuple(n * exponent for n in one.powers)
        over, under = (one.over, one.under) if exponent > 0 else (one.under, one.over)
        return _Fraction(number, powers, over * abs(exponent), under * abs(exponent))

    def _sum(self, terms: list[_Fraction]) -> _Fraction:
        """Terms over their common denominator, what all share taken out, what divides canceled."""
        terms = [term for term in terms if term.number]
        if not terms:
            return _Fraction(Fraction(0), self.none)
        shared = _common([term.over for term in terms])
        under = _every([term.under for term in terms])
        powers = tuple(map(min, zip(*(term.powers for term in terms))))
        numerator: Polynomial = {}
        for term in terms:
            left = {tuple(n - m for n, m in zip(term.powers, powers)): term.number}
            for part in (*_without(term.over, shared), *_without(under, term.under)):
                left = _multiplied(left, dict(part))
            for monomial, number in left.items():
                numerator[monomial] = numerator.get(monomial, Fraction(0)) + number
        numerator = {monomial: number for monomial, number in numerator.items() if number}
        if not numerator:
            return _Fraction(Fraction(0), self.none)
        return self._canceled(numerator, powers, shared, under)

    def _canceled(
        self,
        numerator: Polynomial,
        powers: Monomial,
        shared: Sums,
        under: Sums,
    ) -> _Fraction:
        least = tuple(map(min, zip(*numerator)))
        numerator = {
            tuple(n - m for n, m in zip(monomial, least)): number
            for monomial, number in numerator.items()
        }
        left = list(under)
        for part in under:
            if divided := _divided(numerator, dict(part)):
                numerator = divided
                left.remove(part)
        content = _content(numerator)
        numerator = {monomial: number / content for monomial, number in numerator.items()}
        over = shared
        if len(numerator) > 1:
            part = tuple(numerator.items())
            same = next((one for one in left if dict(one) == numerator), None)
            if same is not None:
                left.remove(same)
            else:
                over = (*shared, part)
            more = self.none
        else:
            (more,) = numerator
        return _Fraction(
            content, tuple(map(sum, zip(powers, least, more))), tuple(over), tuple(left)
        )

    def _built(self, found: _Fraction) -> Tree:
        if not found.number:
            return Num(0)
        tops: list[Tree] = [Num(abs(found.number.numerator))]
        bottoms: list[Tree] = [Num(found.number.denominator)]
        for atom, power in zip(self.atoms, found.powers):
            if power:
                (tops if power > 0 else bottoms).append(_power(atom, abs(power)))
        tops += [self._polynomial(part) for part in found.over]
        bottoms += [self._polynomial(part) for part in found.under]
        tree = product(tops, bottoms)
        return Neg(tree) if found.number < 0 else tree

    def _polynomial(self, part: SumOf) -> Tree:
        ordered = sorted(part, key=lambda term: term[1] < 0)
        return total(*(self._built(_Fraction(number, powers)) for powers, number in ordered))


def _whole(tree: Power) -> bool:
    return Fraction(tree.exponent).denominator == 1


def _power(atom: Tree, exponent: int) -> Tree:
    return atom if exponent == 1 else Power(atom, exponent)


def _exact(tree: Num) -> Fraction:
    """A constant as a fraction; one with many decimals is left where it stands."""
    value = tree.value
    number = Fraction(repr(float(value))) if isinstance(value, float) else Fraction(value)
    if number.denominator > 10:
        raise _TooLong
    return number


def _common(lists: Sequence[Sums]) -> Sums:
    """What stands in every one of several lists."""
    found = lists[0]
    for other in lists[1:]:
        found = _without(found, _without(found, other))
    return found


def _every(lists: Sequence[Sums]) -> Sums:
    """The shortest list that holds each of several lists."""
    found: Sums = ()
    for other in lists:
        found += _without(other, found)
    return found


def _without(parts: Sums, taken: Sums) -> Sums:
    """A list without the parts of another."""
    left, found = list(taken), []
    for part in parts:
        if part in left:
            left.remove(part)
        else:
            found.append(part)
    return tuple(found)


def _multiplied(one: Polynomial, other: Polynomial) -> Polynomial:
    found: Polynomial = {}
    for m, x in one.items():
        for n, y in other.items():
            monomial = tuple(map(sum, zip(m, n)))
            found[monomial] = found.get(monomial, Fraction(0)) + x * y
    if len(found) > MOST_TERMS:
        raise _TooLong
    return found


def _divided(numerator: Polynomial, by: Polynomial) -> Polynomial | None:
    """The exact quotient of two polynomials, or None."""
    lead = max(by)
    left: Polynomial = dict(numerator)
    found: Polynomial = {}
    while left:
        top = max(left)
        step = tuple(n - m for n, m in zip(top, lead))
        if min(step) < 0 or len(found) > MOST_TERMS:
            return None
        number = found[step] = left[top] / by[lead]
        for monomial, other in by.items():
            at = tuple(map(sum, zip(step, monomial)))
            rest = left.pop(at, Fraction(0)) - number * other
            if rest:
                left[at] = rest
    return found


def _content(numerator: Polynomial) -> Fraction:
    """The number that all terms share, with the sign of the first."""
    numbers = list(numerator.values())
    content = Fraction(
        math.gcd(*(number.numerator for number in numbers)),
        math.lcm(*(number.denominator for number in numbers)),
    )
    return -content if all(number < 0 for number in numbers) else content
